"""The answer to 'which plants': by words, by family, by the adopted value of a trait."""

from dataclasses import dataclass, replace

from api.answers.cautions import Reader, names_of, plant_cautions
from api.answers.knowledge import Answer
from api.nearest import nearest
from api.paging import digest, part_of
from api.questions import PlantsQuestion
from api.values import plain_number
from kb.errors import BadParameter, ParameterFault
from kb.model import Adopted, PlantId, Trait, TraitId
from kb.names import fold
from kb.snapshot import Snapshot

FAMILY = TraitId("family")
SUMMARY = (
    FAMILY,
    TraitId("growth-form"),
    TraitId("life-cycle"),
    TraitId("mature-height"),
    TraitId("effective-rooting-depth"),
    TraitId("light-to-survive"),
    TraitId("nitrogen-fixation"),
)
"""The traits shown of each plant in a list."""


@dataclass(frozen=True, slots=True)
class Wanted:
    """One filter: a concept, or an interval of numbers or weeks (``ends`` inclusive)."""

    trait: Trait
    concept: str | None = None
    low: float | None = None
    high: float | None = None
    between: bool = False

    def fits(self, adopted: Adopted | None) -> bool:
        """An unknown value fits nothing."""
        if adopted is None:
            return False
        if self.trait.kind == "concept":
            return self.concept in adopted.concepts
        low = adopted.low if adopted.low is not None else adopted.likely
        high = adopted.high if adopted.high is not None else adopted.likely
        if self.trait.kind == "window":
            return low is not None and high is not None and self._weeks_meet(low, high)
        if self.between:
            likely = adopted.likely if adopted.likely is not None else low
            return likely is not None and self._holds(likely)
        return (low is None or low <= (self.low or 0.0)) and (high is None or (self.low or 0.0) <= high)

    def _holds(self, value: float) -> bool:
        return (self.low is None or self.low <= value) and (self.high is None or value <= self.high)

    def _weeks_meet(self, start: float, end: float) -> bool:
        """Whether the weeks asked for share one with a window that may wrap round the year."""
        first = 1.0 if self.low is None else self.low
        last = 53.0 if self.high is None else self.high
        mine = ((first, last),) if first <= last else ((first, 53.0), (1.0, last))
        theirs = ((start, end),) if start <= end else ((start, 53.0), (1.0, end))
        return any(a <= d and c <= b for a, b in mine for c, d in theirs)


def _wanted(snapshot: Snapshot, text: str) -> Wanted:
    name, _, value = text.partition("=")
    traits = snapshot.vocabulary.traits
    trait = traits.get(TraitId(name))
    if trait is None:
        hint = nearest(name, traits)
        meant = f"; nearest: {', '.join(hint)}" if hint else "; see the list of traits"
        raise ValueError(f"there is no trait '{name}'{meant}.")
    if trait.kind == "concept":
        return Wanted(trait, concept=_concept(snapshot, trait, value))
    low, dots, high = value.partition("..")
    if not dots:
        number = plain_number(value)
        return Wanted(trait, low=number, high=number)
    if not (low or high):
        raise ValueError(f"'{value}' has no end; write LOW..HIGH, LOW.. or ..HIGH.")
    ends = plain_number(low) if low else None, plain_number(high) if high else None
    if trait.kind == "number" and ends[0] is not None and ends[1] is not None and ends[0] > ends[1]:
        raise ValueError(f"'{value}' runs backwards; write the lower number first.")
    return Wanted(trait, low=ends[0], high=ends[1], between=True)


def _concept(snapshot: Snapshot, trait: Trait, value: str) -> str:
    known = snapshot.vocabulary.concepts.get(trait.scheme or "", {})
    by_fold = {name.casefold(): name for name in known}
    found = by_fold.get(value.casefold())
    if found is None:
        hint = nearest(value, known) or (tuple(known) if len(known) <= 15 else ())
        meant = (
            f"; nearest: {', '.join(hint)}" if hint else f"; there are such as {', '.join(sorted(known)[:3])}"
        )
        raise ValueError(f"'{value}' is no value of {trait.id}{meant}.")
    return found


def _filters(snapshot: Snapshot, question: PlantsQuestion) -> list[Wanted]:
    faults: list[ParameterFault] = []
    wanted: list[Wanted] = []
    asked = [("trait", text) for text in question.traits]
    if question.family is not None:
        asked.append(("family", f"family={question.family}"))
    for parameter, text in asked:
        try:
            wanted.append(_wanted(snapshot, text))
        except ValueError as fault:
            faults.append(ParameterFault(parameter, f"{str(fault).rstrip('.')}."))
    if faults:
        raise BadParameter(tuple(faults))
    return wanted


def found_plants(snapshot: Snapshot, question: PlantsQuestion) -> list[PlantId]:
    """The ids of all plants that answer, in order. Raises BadParameter for unknown traits or values."""
    wanted = _filters(snapshot, question)
    if question.words and not fold(question.words):
        detail = f"'{question.words}' holds no letter or figure; give the beginning of a word of the name."
        raise BadParameter((ParameterFault("q", detail),))
    ids = snapshot.names.search(question.words) if question.words else tuple(snapshot.plants)
    return [
        plant_id
        for plant_id in ids
        if all(want.fits(snapshot.adopted(plant_id).get(want.trait.id)) for want in wanted)
    ]


def plant_row(snapshot: Snapshot, plant_id: PlantId) -> Answer:
    """One plant in a list: names, cautions, and the values most asked for."""
    plant = snapshot.plants[plant_id]
    adopted = snapshot.adopted(plant_id)
    values: Answer = {}
    for trait_id in SUMMARY:
        value = adopted.get(trait_id)
        if value is None:
            values[trait_id] = None
        elif value.concepts:
            values[trait_id] = ", ".join(value.concepts)
        else:
            values[trait_id] = {"low": value.low, "likely": value.likely, "high": value.high}
    return {
        "id": plant_id,
        "scientific_name": plant.scientific_name,
        "common_name": plant.common_name,
        "rank": plant.rank,
        "cautions": plant_cautions(snapshot, plant_id, Reader()),
        "traits": values,
        "known_traits": len(adopted),
    }


def plants_answer(snapshot: Snapshot, question: PlantsQuestion) -> Answer:
    """The plants that answer the words and filters, by id, a page at a time."""
    ids = found_plants(snapshot, question)
    without_page = replace(question, page=replace(question.page, after=None, limit=0))
    bound = digest(snapshot.version, repr(without_page))
    part = part_of(ids, limit=question.page.limit, after=question.page.after, bound=bound)
    rows = [plant_row(snapshot, plant_id) for plant_id in part.entries]
    return {
        "question": {
            "kind": "plants",
            "q": question.words,
            "trait": list(question.traits),
            "family": question.family,
            "limit": question.page.limit,
            "after": question.page.after,
        },
        "dataset_version": snapshot.version,
        "cautions": [],
        "names": {plant_id: names_of(snapshot.plants[plant_id]) for plant_id in part.entries},
        "total": len(ids),
        "plants": rows,
        "next": part.next,
        "reasons": [],
        "notes": _notes(snapshot, question, len(ids)),
    }


def _notes(snapshot: Snapshot, question: PlantsQuestion, found: int) -> list[str]:
    notes = []
    if question.traits or question.family:
        notes.append("A plant without a value for a trait asked for is left out: unknown fits nothing.")
    if not found and question.words:
        near = snapshot.names.nearest(question.words)
        if near:
            notes.append(f"Nearest names: {', '.join(near)}.")
    return notes
