"""What a plant gives off that may harm its neighbours, graded by the evidence (`trade` 4.9).

The lists of plants near walnuts are observations of gardeners and advisers that copy one another:
grade D. They decide nothing by themselves; but a plant that several independent lists, or one field
or pot trial, report as harmed is not set into the ground where the roots of the emitter are thickest.
"""

from dataclasses import dataclass, field
from typing import Literal

from kb.mixture.profile import Profile
from kb.mixture.results import Verdict

Grade = Literal["A", "B", "C", "D"]

EVIDENCE: dict[Grade, float] = {"A": 1.0, "B": 0.6, "C": 0.2, "D": 0.1}
"""Weight of field, pot, laboratory and list evidence (`trade` 4.9)."""
MEASURED: frozenset[Grade] = frozenset({"A", "B"})
STRONGEST = 3
"""Emitters and sensitivities are rated 0 to this."""
NEAR, EDGE, BEYOND = 1.0, 1.5, 2.0
"""Crown radii: full effect within the first, half to the second, none beyond the third (`trade` 4.9)."""
ZONE_M = (18, 24)
"""The reported toxic zone round black walnut reaches 15-18 m on average, at most 24 m (`trade` 4.9)."""
SEVERAL_LISTS = 2


@dataclass(frozen=True, slots=True)
class Evidence:
    """What is on record for one plant near one emitter.

    ``sensitive`` and ``tolerant`` are the numbers of sources that list it so; ``grade`` the best
    grade of those that count; ``records`` all of them.
    """

    sensitive: int
    tolerant: int
    grade: Grade
    records: tuple[str, ...] = ()

    @property
    def reported(self) -> bool:
        """Whether harm in the field is reported well enough to act on: several lists, or a trial."""
        measured = self.grade in MEASURED and self.sensitive > 0
        return self.tolerant == 0 and (measured or self.sensitive >= SEVERAL_LISTS)

    @property
    def sensitivity(self) -> int:
        """0 to 3: 3 where several say so, 2 where one does, 1 where sources disagree (judgement)."""
        if self.sensitive == 0:
            return 0
        if self.tolerant:
            return 1
        return 3 if self.reported else 2


@dataclass(frozen=True, slots=True)
class EmissionFinding:
    """What an emitter does to one neighbour. ``value`` is A, 0-1; ``ceiling`` None where nothing holds."""

    emitter: str
    affected: str
    value: float
    text: str
    records: tuple[str, ...]
    ceiling: Verdict | None = None
    lift: str | None = None
    measured: bool = False
    """Whether a field or pot trial stands behind it, and not lists alone."""

    @property
    def hard(self) -> bool:
        return self.ceiling == "avoid"


@dataclass(frozen=True, slots=True)
class Emitter:
    """A plant that gives something off: what, how much (0-3), and the evidence by plant."""

    plant: str
    substance: str
    strength: int
    evidence: dict[str, Evidence] = field(default_factory=dict)

    def on(self, plant: str) -> Evidence | None:
        """What is on record for a plant, its own word before that of its species."""
        return self.evidence.get(plant) or self.evidence.get(plant.partition(".")[0])


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
) -> EmissionFinding:
    """What an emitter does to a neighbour so many of its crown radii from its trunk (0: in one bed).

    ``crown_radius_m`` turns the lifting distance into metres where it is known.
    """
    head = f"{emitter.name} gives off {given_off.substance}"
    if evidence is None:
        text = f"{head}; how {affected.name} does near it is not on record."
        return EmissionFinding(emitter.id, affected.id, 0.0, text, ())
    if evidence.sensitive == 0:
        text = f"{head}; {affected.name} is on a list of plants that bear it; such lists are weak evidence."
        return EmissionFinding(emitter.id, affected.id, 0.0, text, evidence.records)
    strength = given_off.strength * evidence.sensitivity / STRONGEST**2
    value = strength * EVIDENCE[evidence.grade] * nearness(crown_radii)
    zone = BEYOND if crown_radius_m is None else max(BEYOND, ZONE_M[0] / crown_radius_m)
    ceiling = _ceiling(evidence, crown_radii, zone)
    return EmissionFinding(
        emitter=emitter.id,
        affected=affected.id,
        value=value,
        text=f"{head}; {_reported(affected, evidence)}.",
        records=evidence.records,
        ceiling=ceiling,
        lift=_lift(affected, zone, crown_radius_m) if ceiling is not None else None,
        measured=evidence.grade in MEASURED,
    )


def _ceiling(evidence: Evidence, crown_radii: float, zone: float) -> Verdict | None:
    """``zone`` is how many crown radii harm in the field is reported to reach."""
    if evidence.sensitivity < 2 or crown_radii >= (zone if evidence.reported else BEYOND):
        return None
    return "avoid" if evidence.reported and crown_radii < EDGE else "workable"


def _reported(affected: Profile, evidence: Evidence) -> str:
    if evidence.tolerant:
        return f"lists disagree on {affected.name}: try one first"
    lists = "one list" if evidence.sensitive == 1 else f"{evidence.sensitive} lists"
    if evidence.grade in MEASURED:
        return f"harm to {affected.name} was measured (evidence grade {evidence.grade})"
    said = (
        f"harm to {affected.name} is reported by {lists} (evidence grade {evidence.grade}, observation only)"
    )
    return said if evidence.reported else f"{said}: try one first"


def _lift(affected: Profile, zone: float, crown_radius_m: float | None) -> str:
    least, most = ZONE_M
    apart = f"{zone:.2g} crown radii" if crown_radius_m is None else f"{zone * crown_radius_m:.2g} m"
    return (
        f"{affected.name} stands {apart} or more from the trunk (harm is reported to {least} m from grown "
        f"trees, at most {most} m)"
    )
