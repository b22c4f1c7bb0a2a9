"""The conditions cell of the compiled facts: ``key=value`` parts and free remarks."""

import re

KEYS = {
    "name": "name",
    "place": "place",
    "event": "event",
    "years": "years",
    "year": "years",
    "n": "n",
    "cultivar": "cultivar",
    "season": "season",
    "rootstock": "stock",
    "scion": "scion",
    "part": "part",
    "model": "model",
    "shade": "shade",
    "net": "net",
    "yield": "yield",
    "fresh market yield": "fresh-market-yield",
    "yield per acre": "yield-per-acre",
}
SPREAD = "low and high"
"""Says what the two numbers beside a mean date are; they are kept as the condition ``days``."""
METHODS = (
    "minirhizotron",
    "rhizotron",
    "excavat",
    "trench",
    "profile wall",
    "core",
    "auger",
    "monolith",
    "lysimeter",
    "tube",
    "isotope",
    "tracer",
    "resistivity",
)
_SPAN = r"(?:\d+(?:\.\d+)?|one|two|three)(?: to \d+| ?- ?\d+)?[ -](?:day|week|month|year)s?"
_AGED = rf"(?:(?:nearly|at least|up to|about) )?{_SPAN}"
AGE = re.compile(
    rf"\b(?:(?P<old>{_AGED})[ -]old\b|(?P<about>(?:up to|about) {_SPAN})\b|at (?P<at>{_SPAN})\b"
    rf"|(?:^|; ?)(?P<alone>{_SPAN})(?=;|$))"
)


def parsed(cell: str) -> dict[str, str]:
    """The cell as conditions; what is no ``key=value`` of ours is kept together as ``detail``."""
    found: dict[str, str] = {}
    free: list[str] = []
    for part in cell.split(";"):
        text = part.strip()
        head, equals, value = text.partition("=")
        key = KEYS.get(head.strip()) if equals else None
        if key and key not in found:
            found[key] = value.strip()
        elif text and head.strip() != SPREAD:
            free.append(text)
    if free:
        found["detail"] = "; ".join(free)
    return found


def method_of(cell: str) -> str | None:
    """The method of digging or watching roots that the remarks name, if any.

    It stands at the start of a word (no core in *Dioscorea*), but a rhizotube is a tube.
    """
    lowered = cell.lower()
    named = [method for method in METHODS if re.search(rf"\b(?:rhizo)?{method}", lowered)]
    return {"excavat": "excavation"}.get(named[0], named[0]) if named else None


def age_of(cell: str) -> str | None:
    """The age of the plants as printed in the remarks ("nearly 2 months old", "up to 3 years"), if any."""
    found = AGE.search(cell)
    return None if found is None else next(text for text in found.groups() if text)


def beside_age(detail: str, age: str) -> str:
    """What the remarks tell beside the age: a part that says the age and nothing else is told as the age."""
    parts = re.split(r"(; |, )", detail)
    kept = ""
    for place in range(0, len(parts), 2):
        if parts[place] in {age, f"{age} old", f"at {age}"}:
            continue
        kept += (parts[place - 1] if kept else "") + parts[place]
    return kept
