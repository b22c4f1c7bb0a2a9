"""Reading what a curator hands in: who said it, where it stands, and that nothing needed is missing."""

import re
from collections.abc import Iterator
from dataclasses import fields, is_dataclass
from decimal import Decimal
from typing import Any

from kb.bench.drafts import CautionDraft, RecordDraft, fault
from kb.errors import UnknownRecord, UnknownSource
from kb.letters import holds_control
from kb.model import CITED, Basis, Plant, Source, SourceKey
from kb.namespaces import BASE
from kb.snapshot import Snapshot
from kb.stores.files import PLAIN

LONGEST_TEXT = 2000
LONGEST_LABEL = 200
"""Letters, as many as one parameter of a question may have (``api.values.MAX_TEXT``)."""
FORMULA = re.compile(r"[=@]|[+-].*(?:[a-z]\(|[!|])", re.IGNORECASE | re.DOTALL)
"""After a sign, a formula that does harm calls a function, another sheet or a program."""
YEARS = re.compile(r"[0-9]{1,4}(\.[0-9]{1,6})?")
"""A plain figure, as values are; ``Decimal`` alone takes 1_0 and the digits of other scripts too."""
OWN_KNOWLEDGE = Source(
    key=SourceKey("own-knowledge"),
    citation="Common practice, or recalled from memory, by whoever entered the record; no work was read.",
    identifier=None,
    year=None,
    licence="as the owner of this store decides",
    licence_iri=None,
    tier="B",
    how_read="nothing was read; entered from practice or memory",
    credit="The curator who entered the record",
)
"""The source of what nobody read anywhere; it comes into a store with the first such record."""


def provenance(
    snapshot: Snapshot, draft: RecordDraft | CautionDraft, basis: Basis, said: str
) -> tuple[SourceKey, str, str, str]:
    """Source, locator, printed words and printed name; a cited basis needs all of them."""
    cited = basis in CITED
    wanted = {
        "source": draft.source,
        "locator": draft.locator,
        "verbatim": draft.verbatim,
        "name_as_printed": draft.name_as_printed,
    }
    missing = [name for name, given in wanted.items() if not (given or "").strip()]
    if cited and missing:
        raise fault(missing[0], f"is missing; a statement that is {basis} names it")
    key = SourceKey((draft.source or OWN_KNOWLEDGE.key).strip())
    new = draft.new_source or (OWN_KNOWLEDGE if key == OWN_KNOWLEDGE.key else None)
    if draft.new_source is not None and draft.new_source.key != key:
        raise fault("source", f"'{key}' is not the source that is described ({draft.new_source.key})")
    if draft.new_source is not None and PLAIN.fullmatch(key) is None:
        raise fault("source", f"'{key[:60]}' is no key: write lower-case letters and digits joined by -")
    there = snapshot.sources
    if draft.new_source is not None and key in there and there[key] != draft.new_source:
        raise fault("source", f"'{key}' is described already, in other words; name it without describing it")
    if key not in there and new is None:
        raise UnknownSource(key, tuple(k for k in there if key.split("-")[0] in k)[:5])
    plant = snapshot.plants[snapshot.resolve(draft.plant)]
    return (
        key,
        text_of("locator", draft.locator or "none: not from a work"),
        text_of("verbatim", draft.verbatim or said),
        text_of("name_as_printed", draft.name_as_printed or plant.scientific_name),
    )


def revision_name(plant: Plant, revises: str, name: str, own_from: int) -> str:
    """The name of a record that revises another of the same plant, trait and source."""
    earlier = next((record for record in plant.records if record.id == revises), None)
    if earlier is None:
        raise UnknownRecord(revises)
    later = [record.id for record in plant.records if record.revises == revises]
    if later:
        raise fault("revises", f"{revises} is revised by {', '.join(later)} already; revise that one")
    if not revises.startswith(f"{name}.") and revises != name:
        raise fault(
            "revises", f"{revises} is of another trait or source; a revision corrects the same statement"
        )
    stem, _, number = revises.rpartition(".r")
    stem, last = (stem, int(number)) if stem and number.isdigit() else (revises, 1)
    return f"{stem}.r{max(last + 1, own_from)}"


def text_of(parameter: str, given: str) -> str:
    """A text as it was written, without spaces round it. Raises BadParameter."""
    text = given.strip()
    if not text:
        raise fault(parameter, "is empty; give a text or leave it out")
    if len(text) > LONGEST_TEXT:
        raise fault(parameter, f"is longer than {LONGEST_TEXT} letters")
    if (wrong := unsafe(text)) is not None:
        raise fault(parameter, wrong)
    return text


def label_of(parameter: str, given: str) -> str:
    """A text by which a thing is asked for again: on one line, and short enough to be asked for."""
    text = text_of(parameter, given)
    if "\n" in text:
        raise fault(parameter, "runs over several lines; write it on one")
    if len(text) > LONGEST_LABEL:
        raise fault(parameter, f"is longer than {LONGEST_LABEL} letters; write a shorter one")
    return text


def unsafe(text: str) -> str | None:
    """What a text must not hold, since it is shown on terminals and pages and handed out in tables.

    Refused are control characters (a terminal obeys some), line and paragraph separators, marks that turn
    the direction of writing (what is shown would not be what is kept), halves of characters, and what a
    spreadsheet program would take for a formula. Figures with a sign, such as ``-25 (30)``, are none.
    """
    if holds_control(text):
        return "holds a control character; take it out"
    if FORMULA.match(text.strip()):
        return "begins like a formula of a spreadsheet; put a word or a quotation mark before it"
    return None


def texts_of(thing: Any) -> Iterator[str]:
    """Every text in a statement, in its lists and pairs too."""
    if isinstance(thing, str):
        yield thing
    elif is_dataclass(thing):
        for part in fields(thing):
            yield from texts_of(getattr(thing, part.name))
    elif isinstance(thing, tuple):
        for part in thing:
            yield from texts_of(part)


def conditions_of(given: tuple[tuple[str, str], ...]) -> tuple[tuple[str, str], ...]:
    return tuple(sorted((text_of("conditions", key), text_of("conditions", value)) for key, value in given))


def record_name_of(given: str) -> str:
    return given.removeprefix(BASE).removeprefix("record.")


def age_of(given: str | None) -> Decimal | None:
    if given is None:
        return None
    age = Decimal(given.strip()) if YEARS.fullmatch(given.strip()) else None
    if age is None or age > 2000:
        raise fault("age_years", f"'{given[:20]}' is no age in years from 0 to 2000, such as 8 or 2.5")
    return age
