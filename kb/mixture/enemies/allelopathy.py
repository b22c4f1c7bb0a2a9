"""What a plant gives off that may harm its neighbours, graded by the evidence (`trade` 4.9).

The lists of plants near walnuts are observations of gardeners and advisers that copy one another:
grade D. They decide nothing by themselves; but a plant that several independent lists, or a field trial,
report as harmed is not set into the ground where the roots of the emitter are thickest. Pots and single
lists say "try one first"; extracts in dishes decide nothing, and neither, side by side, does what an
emitter leaves in the ground for the next crop.
"""

from collections.abc import Mapping
from dataclasses import dataclass, field, replace
from typing import Literal

from kb.mixture.deeds import at_least_m
from kb.mixture.profile import Profile
from kb.mixture.results import Verdict

Grade = Literal["A", "B", "C", "D"]
ActsThrough = Literal["living", "residues"]

EVIDENCE: dict[Grade, float] = {"A": 1.0, "B": 0.6, "C": 0.2, "D": 0.1}
"""Weight of field, pot, laboratory and list evidence (`trade` 4.9)."""
MEASURED: frozenset[Grade] = frozenset({"A", "B"})
STRONGEST = 3
"""Emitters and sensitivities are rated 0 to this."""
NEAR, EDGE, BEYOND = 1.0, 1.5, 2.0
"""Crown radii: full effect within the first, half to the second, none beyond the third (`trade` 4.9)."""
SEVERAL_LISTS = 2
WHERE: dict[Grade, str] = {
    "A": "measured in the field",
    "B": "seen in pots",
    "C": "seen only with extracts in dishes",
    "D": "listed",
}
"""The grades in plain words."""
DOUBT: dict[Grade, str] = {
    "B": "trials in pots, not in the field",
    "D": "lists of observations that copy one another, not on trials",
}
BY_OTHERS = "a field trial on other plants, not on this one"


@dataclass(frozen=True, slots=True)
class Evidence:
    """What is on record for one plant near one emitter.

    ``sensitive`` and ``tolerant`` are the numbers of sources that list it so; ``grade`` the best
    grade of those that count; ``records`` all of them; ``pots`` how many of the sensitive were seen in
    pots, which is no report from the field. Grade C stands for laboratory evidence alone.
    """

    sensitive: int
    tolerant: int
    grade: Grade
    records: tuple[str, ...] = ()
    pots: int = 0

    @property
    def laboratory(self) -> bool:
        """Whether nothing but extracts in dishes stands behind it: that decides nothing."""
        return self.grade == "C"

    @property
    def reported(self) -> bool:
        """Whether harm in the field is reported well enough to act on: several lists, or a field trial."""
        if self.tolerant or self.laboratory or self.sensitive == 0:
            return False
        return self.grade == "A" or self.sensitive - self.pots >= SEVERAL_LISTS

    @property
    def sensitivity(self) -> int:
        """0 to 3: 3 by several lists or a field trial, 2 by less, 1 where sources disagree (judgement)."""
        if self.sensitive == 0:
            return 0
        if self.tolerant:
            return 1
        return 3 if self.reported else 2


@dataclass(frozen=True, slots=True)
class EmissionFinding:
    """What an emitter does to one neighbour. ``value`` is A, 0-1; ``ceiling`` None where nothing holds.

    ``doubt`` says what a ceiling rests on, where that is less than a field trial of the plant itself.
    """

    emitter: str
    affected: str
    value: float
    text: str
    records: tuple[str, ...]
    ceiling: Verdict | None = None
    lift: str | None = None
    doubt: str | None = None
    decides: bool = True
    """Whether it counts at all: laboratory evidence does not."""
    apart_m: float | None = None
    """How far apart lifts it; None where that is told in crown radii, or nothing holds."""

    @property
    def hard(self) -> bool:
        return self.ceiling == "avoid"


@dataclass(frozen=True, slots=True)
class Emitter:
    """A plant that gives something off in one way: what, how much (0-3), and the evidence by plant.

    ``reach_m`` is how far harm is reported, (usual, farthest) in metres; without it a crown radius or two
    stands in. ``others`` is what a source tells of plants that it does not name.
    """

    plant: str
    substance: str
    strength: int
    evidence: Mapping[str, Evidence] = field(default_factory=dict)
    acts_through: ActsThrough = "living"
    reach_m: tuple[float, float] | None = None
    others: Evidence | None = None

    def on(self, plant: str) -> Evidence | None:
        """What is on record for a plant, its own word before that of its species."""
        return self.evidence.get(plant) or self.evidence.get(plant.partition(".")[0])

    @property
    def proven(self) -> bool:
        """Whether more than extracts in dishes shows that it gives anything off."""
        return not self.evidence or any(not one.laboratory for one in self.evidence.values())


def nearness(crown_radii: float) -> float:
    """How much of the effect reaches so many crown radii from the trunk, 1 to 0; never rises."""
    if crown_radii <= NEAR:
        return 1.0
    if crown_radii <= EDGE:
        return 0.5
    return max(0.0, 0.5 * (BEYOND - crown_radii) / (BEYOND - EDGE))


def emission(
    emitter: Profile,
    affected: Profile,
    crown_radii: float,
    evidence: Evidence | None,
    *,
    given_off: Emitter,
    crown_radius_m: float | None = None,
) -> EmissionFinding | None:
    """What an emitter does to a neighbour so many of its crown radii from its trunk (0: in one bed).

    ``crown_radius_m`` turns the lifting distance into metres where it is known. None where there is
    nothing to say: no word on this plant, and the emission is known from dishes or acts once dug in.
    """
    if given_off.acts_through == "residues":
        return None if evidence is None else _residues(emitter, affected, evidence, given_off)
    if evidence is None and not given_off.proven:
        return None
    head = f"{emitter.name} gives off {given_off.substance}"
    weighed, doubt = evidence, None
    said: list[str] = []
    unnamed = None if affected.woody else given_off.others  # such trials sow herbs
    if unnamed is not None and (evidence is None or evidence.laboratory):
        # What was seen on plants that are not named counts no more than a single list that names this one.
        weighed = replace(unnamed, sensitive=1, grade="D")
        said, doubt = [_by_others(affected, unnamed)], BY_OTHERS
    if weighed is None:
        text = f"{head}; how {affected.name} does near it is not on record."
        return EmissionFinding(emitter.id, affected.id, 0.0, text, (), decides=False)
    if evidence is not None:
        said.append(_reported(affected, evidence))
    reach = _reach(given_off, crown_radius_m)
    ceiling = _ceiling(weighed, crown_radii, reach)
    apart_m = None if ceiling is None or crown_radius_m is None else at_least_m(reach * crown_radius_m)
    strength = given_off.strength * weighed.sensitivity / STRONGEST**2
    return EmissionFinding(
        emitter=emitter.id,
        affected=affected.id,
        value=strength * EVIDENCE[weighed.grade] * nearness(crown_radii),
        text=f"{head}; {'; '.join(said)}.",
        records=weighed.records,
        ceiling=ceiling,
        lift=None if ceiling is None else _lift(emitter, affected, reach, apart_m, given_off),
        apart_m=apart_m,
        doubt=doubt or DOUBT.get(weighed.grade),
        decides=not weighed.laboratory,
    )


def _reach(given_off: Emitter, crown_radius_m: float | None) -> float:
    """How many crown radii harm in the field is reported to reach."""
    if given_off.reach_m is None or crown_radius_m is None:
        return BEYOND
    return max(BEYOND, given_off.reach_m[0] / crown_radius_m)


def _ceiling(evidence: Evidence, crown_radii: float, zone: float) -> Verdict | None:
    """``zone`` is how many crown radii harm in the field is reported to reach."""
    far = crown_radii >= (zone if evidence.reported else BEYOND)
    if evidence.laboratory or evidence.sensitivity < 2 or far:
        return None
    return "avoid" if evidence.reported and crown_radii < EDGE else "workable"


def _reported(affected: Profile, evidence: Evidence) -> str:
    grade, where = evidence.grade, WHERE[evidence.grade]
    if evidence.laboratory:
        if evidence.sensitive:
            return f"harm to {affected.name} was {where} (evidence grade C): that decides nothing"
        return f"extracts in dishes did not harm {affected.name} (evidence grade C): that decides nothing"
    if evidence.sensitive == 0:
        if grade in MEASURED:
            return f"no harm to {affected.name} was {where} (evidence grade {grade})"
        return f"{affected.name} is on a list of plants that bear it; such lists are weak evidence"
    if evidence.tolerant:
        who = "sources" if grade in MEASURED else "lists"
        return f"{who} disagree on {affected.name}: try one first"
    if grade in MEASURED:
        said = f"harm to {affected.name} was {where} (evidence grade {grade})"
    else:
        lists = "one list" if evidence.sensitive == 1 else f"{evidence.sensitive} lists"
        said = f"harm to {affected.name} is reported by {lists} (evidence grade D, observation only)"
    return said if evidence.reported else f"{said}: try one first"


def _by_others(affected: Profile, evidence: Evidence) -> str:
    return (
        f"how {affected.name} does beside it is not on record, but harm to several other plants that its "
        f"source does not name was {WHERE[evidence.grade]} (evidence grade {evidence.grade}): try one first"
    )


def _residues(emitter: Profile, affected: Profile, evidence: Evidence, given_off: Emitter) -> EmissionFinding:
    """What is known of the crop that follows; side by side it is said and decides nothing."""
    text = (
        f"Where {emitter.name} stood before ({given_off.substance}), {_reported(affected, evidence)}. That "
        "is about what comes after it; side by side it decides nothing."
    )
    return EmissionFinding(emitter.id, affected.id, 0.0, text, evidence.records, decides=False)


def _lift(emitter: Profile, affected: Profile, zone: float, apart_m: float | None, given_off: Emitter) -> str:
    apart = f"{zone:.2g} crown radii" if apart_m is None else f"{apart_m:g} m"
    if given_off.reach_m is None:
        return f"{affected.name} stands {apart} or more from {emitter.name}"
    least, most = given_off.reach_m
    if least == most:
        return f"{affected.name} stands {apart} or more from {emitter.name} (harm is reported to {most:g} m)"
    return (
        f"{affected.name} stands {apart} or more from the trunk (harm is reported to {least:g} m from grown "
        f"trees, at most {most:g} m)"
    )
