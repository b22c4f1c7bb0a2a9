"""What the law of a place, people or animals near by, and the ground ask of single plants.

A law makes a conflict where it holds at the place that was named; a warning from memory that names the
place makes the plant poor until its authority has been asked. Children, the public and animals close a
gate on what could hurt them. The gate knows only what is on record: it never says that a plant is safe.
"""

from dataclasses import dataclass, replace
from typing import Literal

from api.answers.cautions import LAW_KINDS
from api.answers.ground_history import ground_rules
from api.places import holds_in, named_in
from kb.mixture.site import Audience, Site, SiteRule
from kb.model import Caution
from kb.snapshot import Snapshot

PICKED = ("berry", "berries", "fruit", "pod", "flower", "bulb", "whole plant", "all")
"""Parts that a child picks and puts in the mouth; a warning that names no part counts with them."""
NEAR: dict[Audience, str] = {
    "household": "",
    "school": "children",
    "public": "people who pass",
    "livestock": "animals",
}


@dataclass(frozen=True, slots=True)
class Gate:
    """The best verdict that a caution leaves before an audience, and what lifts it."""

    ceiling: Literal["avoid", "poor", "workable"]
    lift: str


_WAYS = Gate("workable", "{name} stands away from paths and play, and allergies have been asked about")
_ARM = Gate("workable", "{name} stands an arm's length from paths and seats")
_FENCE = Gate("avoid", "{name} is fenced off from the animals")
GATES: dict[Audience, dict[str, Gate]] = {
    "household": {},
    "school": {
        "picked": Gate("avoid", "{name} stands out of the children's reach"),
        "toxic": Gate("workable", "an adult sees to it that nobody eats of its {part}"),
        "skin": _WAYS,
        "thorn": _WAYS,
        "allergen": _WAYS,
    },
    "public": {
        "picked": Gate("poor", "{name} is signed and out of reach of the path"),
        "toxic": Gate("workable", "{name} is signed: nobody is to eat of its {part}"),
        "skin": _ARM,
        "thorn": _ARM,
    },
    "livestock": {"livestock": _FENCE, "toxic": _FENCE},
}
"""By audience and kind of caution; ``picked`` is poison in a part that is picked (our judgement)."""
GATED = {
    "toxic": "poisonous",
    "skin": "skin",
    "thorn": "thorns",
    "allergen": "allergy",
    "livestock": "animals",
}
"""What a gate is about, in a word."""
HARDEST = ("avoid", "poor", "workable")
GATE_NOTE = (
    "The stricter gate for {who} knows only what is on record here. It cannot know allergies of single "
    "{who}, plants that stand near by, or what nobody has recorded: no caution is not the same as safe."
)


def with_rules(snapshot: Snapshot, site: Site, history: tuple[str, ...] = ()) -> Site:
    """The site with what law, audience and the enemies known in its ground ask of each plant there.

    Raises BadParameter where an enemy is unknown.
    """
    asked = site.place is not None or site.audience != "household"
    rules = _rules(snapshot, site.place, site.audience) if asked else {}
    for plant, held in ground_rules(snapshot, history).items():
        rules[plant] = (*rules.get(plant, ()), *held)
    return replace(site, rules=rules) if rules or asked else site


def gate_notes(site: Site) -> list[str]:
    """What a gate for others cannot know."""
    return [] if site.audience == "household" else [GATE_NOTE.format(who=NEAR[site.audience])]


def _rules(snapshot: Snapshot, place: str | None, audience: Audience) -> dict[str, tuple[SiteRule, ...]]:
    found = {}
    for plant_id, plant in snapshot.plants.items():
        name = plant.common_name or plant.scientific_name
        held = snapshot.cautions(plant_id)
        laws = [] if place is None else [_law(snapshot, caution, name, place) for caution in held]
        gates = [_gate(caution, name, audience) for caution in held]
        rules = tuple(merged for told in (laws, gates) if (merged := _merged(told)) is not None)
        if rules:
            found[str(plant_id)] = rules
    return found


def _merged(rules: list[SiteRule | None]) -> SiteRule | None:
    """The rules of one kind for a plant as one: the hardest speaks, all records and ways out stand."""
    told = sorted((rule for rule in rules if rule is not None), key=lambda r: HARDEST.index(r.ceiling))
    if not told:
        return None
    lifts = dict.fromkeys(rule.lift for rule in told if rule.lift is not None)
    # What says the same of fewer parts of it is in what says more.
    ways = [one for one in lifts if not any(other.startswith((f"{one} ", f"{one},")) for other in lifts)]
    records = tuple(dict.fromkeys(record for rule in told for record in rule.records))
    return replace(told[0], records=records, lift=", and ".join(ways) or None)


def _law(snapshot: Snapshot, caution: Caution, name: str, place: str) -> SiteRule | None:
    """The rule of a caution at a place; None where the places it names are others, or too vague."""
    held = {code for code in named_in(caution.place or "") if holds_in(code, place)}
    if caution.kind not in LAW_KINDS or not held:
        return None
    source = snapshot.sources.get(caution.source)
    word = "restricted by law" if caution.kind == "prohibited" else "listed as invasive"
    date = caution.as_of or "no date printed"
    since = f"since {date}" if date[:4].isdigit() and "memory" not in date else date
    said_by = source.citation if source else caution.source
    text = f"{name} is {word} in {caution.place}, {since} (source: {said_by})."
    part = all(code != place and code.startswith(f"{place}-") for code in held)
    asked = "the authority of the place has been asked and allows it"
    lift = f"the planting stands outside {caution.place}, or {asked}" if part else asked
    recalled = caution.basis == "recalled"
    return SiteRule("law", text, (caution.iri,), "poor" if recalled else "avoid", lift)


def _gate(caution: Caution, name: str, audience: Audience) -> SiteRule | None:
    """What keeps a plant from those who are near; None where this caution does not touch them."""
    part = caution.part or "parts"
    picked = caution.part is None or any(word in caution.part for word in PICKED)
    kind = "picked" if caution.kind == "toxic" and picked else caution.kind
    gate = GATES[audience].get(kind) or (GATES[audience].get("toxic") if kind == "picked" else None)
    if gate is None:
        return None
    lift = gate.lift.format(name=name, part=part)
    told = caution.text.partition(" Note of the compiler:")[0].rstrip(".")
    text = f"A caution on {name} ({GATED[caution.kind]}) matters to {NEAR[audience]}: {told}."
    return SiteRule("site", text, (caution.iri,), gate.ceiling, lift)
