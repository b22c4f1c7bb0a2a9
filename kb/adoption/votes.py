"""Votes: records with the weight they carry and the study they belong to."""

import math
import statistics
from collections.abc import Iterable, Sequence
from dataclasses import dataclass

from kb.model import CITED, Confidence, Plant, Record, Sowing, Weighed

Z90 = 1.2815515655446004
"""Half the width of a 10-90 % interval in standard deviations."""

METHOD_WEIGHTS = (
    (("excavat", "trench", "profile wall", "monolith"), 1.0),
    (("core", "rhizotron", "auger", "washing"), 0.7),
    (("isotope", "resistivity", "tracer", "unspecified"), 0.3),
)
"""Weight of a root measurement by the method named (`data` section 2, our judgement)."""

KIND_WEIGHTS = {"class": 0.3, "expert": 0.5, "model-limit": 0.1}
"""Weight by the kind of number where no method is named; 0.6 (a handbook value) otherwise."""

OWN_ROOTED = ("seedling", "standard", "own root", "wild")
SITUATION_KEYS = ("detail", "age", "soil", "management", "note")
NARROW_SITUATIONS = ("dwarf", "drip", "young", "seedling age", "1 year", "first year", "pot")

COLDEST_PLACE = "coldest place of its range"
"""Condition ``as`` of a lowest temperature that is of a map and not of a plant."""
LIMIT_KINDS = frozenset({"floor", "minimum", "ceiling"})
GROWN_HERE = "grown here"
"""The rule for how a plant is grown: records that say so (condition ``as``) decide; a flora, which
says how it lives wild, counts only where there is none."""
SOWN_GROUPS = frozenset({"annual-vegetable", "field-crop"})
WOODY_FORMS = frozenset({"tree", "shrub", "subshrub", "cane", "climber-woody", "woody"})


@dataclass(frozen=True, slots=True)
class Vote:
    """One record that counts. ``tier`` 0 cited, 1 common practice, 2 recalled, 3 told of where it lives.

    Lower is better: a record of the coldest place where a plant is found does not say what it bears
    elsewhere, so it counts only where nothing else is on record.
    """

    record: Record
    study: str
    weight: float
    tier: int
    woody: bool
    tree: bool = False
    sown: bool = False
    """Whether it is a crop that is sown or set each year, by its groups."""

    @classmethod
    def of(cls, record: Record, plant: Plant, forms: frozenset[str]) -> "Vote":
        """The vote of a record of a plant; ``forms`` are those of `forms_of`."""
        tier = 0 if record.basis in CITED or record.basis == "derived" else 1
        return cls(
            record,
            study_of(record),
            weight_of(record) * situation_factor(record, plant),
            3 if record.condition("as") == COLDEST_PLACE else 2 if record.basis == "recalled" else tier,
            bool(forms & WOODY_FORMS),
            "tree" in forms,
            bool(SOWN_GROUPS.intersection(plant.groups)),
        )

    @property
    def names_a_value(self) -> bool:
        """Whether it says what the value is, and not only a limit to it."""
        record = self.record
        return bool(record.concepts) or record.number_kind not in LIMIT_KINDS or record.likely is not None

    @property
    def point(self) -> float | None:
        """The middle of what was printed (geometric for a range); None for a floor or ceiling."""
        record = self.record
        if record.number_kind in LIMIT_KINDS:
            return float(record.likely) if record.likely is not None else None
        if record.likely is not None:
            return float(record.likely)
        if record.low is not None and record.high is not None:
            low, high = float(record.low), float(record.high)
            return math.sqrt(low * high) if low > 0 else (low + high) / 2
        return None


@dataclass(frozen=True, slots=True)
class Outcome:
    """What a rule made of the votes."""

    low: float | None
    likely: float | None
    high: float | None
    confidence: Confidence
    rule: str
    weighed: tuple[Weighed, ...]
    concepts: tuple[str, ...] = ()
    sowings: tuple[Sowing, ...] = ()


def study_of(record: Record) -> str:
    """What has one vote: the study named, else the source (its authority where it joins several)."""
    named = record.condition("study") or record.condition("authority")
    return f"{record.source}: {named}" if named else str(record.source)


def weight_of(record: Record) -> float:
    """How much one record counts, 0-1: by method, scope and kind of number."""
    if record.basis in {"common-practice", "recalled"}:
        return 0.2
    method = (record.condition("method") or "").lower()
    if record.condition("kind") == "legal-class":
        return 0.3
    if method:
        for words, weight in METHOD_WEIGHTS:
            if any(word in method for word in words):
                return weight
    weight = KIND_WEIGHTS.get(record.number_kind, 0.6)
    return weight / 2 if record.condition("scope") == "group" else weight


def situation_factor(record: Record, plant: Plant) -> float:
    """How far a record's own situation speaks for this plant at large, 0-1.

    A tree on a dwarfing stock, a first-year plant or a drip-watered row is not the species: such a
    record counts a third there, and in full for the plant that is defined by it.
    """
    if plant.rank not in {"species", "genus"}:
        return 1.0
    stock = (record.condition("stock") or "").lower()
    if stock and not any(word in stock for word in OWN_ROOTED):
        return 1 / 3
    said = " ".join(value for key, value in record.conditions if key in SITUATION_KEYS).lower()
    return 1 / 3 if any(word in said for word in NARROW_SITUATIONS) else 1.0


def forms_of(plant: Plant) -> frozenset[str]:
    """What any record calls the plant: a tree, a shrub, woody (sizes are read differently).

    How it is grown, where that is on record, decides of its form (coffee, a small tree kept as a shrub).
    """
    forms = [record for record in plant.records if record.trait == "growth-form"]
    grown = [record for record in forms if record.condition("as") == GROWN_HERE]
    wood = [record for record in plant.records if record.trait == "woodiness"]
    return frozenset(concept for record in (grown or forms) + wood for concept in record.concepts)


def by_study(votes: Iterable[Vote]) -> dict[str, list[Vote]]:
    studies: dict[str, list[Vote]] = {}
    for vote in votes:
        studies.setdefault(vote.study, []).append(vote)
    return studies


def confidence_of(study_values: Sequence[float]) -> Confidence:
    """High, medium, low or contested, from one positive value per independent study."""
    if len(study_values) < 2:
        return "low"
    ratio = max(study_values) / min(study_values) if min(study_values) > 0 else math.inf
    if ratio > 3:
        return "contested"
    return "high" if len(study_values) >= 3 and ratio < 1.5 else "medium"


def weighted_median(values: Sequence[tuple[float, float]]) -> float:
    """The value at which half the weight is reached; ``values`` are (value, weight)."""
    ordered = sorted(values)
    half = sum(weight for _, weight in ordered) / 2
    reached = 0.0
    for position, (value, weight) in enumerate(ordered):
        reached += weight
        if math.isclose(reached, half) and position + 1 < len(ordered):
            return (value + ordered[position + 1][0]) / 2
        if reached > half:
            return value
    return ordered[-1][0]


def geometric_mean(values: Sequence[float]) -> float:
    return statistics.geometric_mean(values)


def shared_weight(votes: Sequence[Vote], words: str) -> tuple[Weighed, ...]:
    """Each vote's part of its study's one vote: records of one study divide it."""
    counts = {study: len(members) for study, members in by_study(votes).items()}
    return tuple(
        Weighed(
            vote.record.id,
            round(vote.weight / counts[vote.study], 3),
            words
            if counts[vote.study] == 1
            else f"{words}; one of {counts[vote.study]} records of one study",
        )
        for vote in votes
    )
