"""What the computation answers: verdicts that already hold their reasons and evidence."""

from dataclasses import dataclass, field
from typing import Literal

Verdict = Literal["good", "workable", "poor", "avoid", "like"]
ORDER: tuple[Verdict, ...] = ("avoid", "poor", "workable", "good")
"""Verdicts from worst to best; ``like`` (like with like) stands outside the order."""

Kind = Literal[
    "roots",
    "light",
    "season",
    "family",
    "enemies",
    "nitrogen",
    "water",
    "ph",
    "hardiness",
    "support",
    "spread",
    "allelopathy",
    "digging",
    "cover",
    "flowers",
    "law",
    "site",
]


@dataclass(frozen=True, slots=True)
class Reason:
    """One thing said, with the records it rests on (IRIs)."""

    kind: Kind
    text: str
    records: tuple[str, ...] = ()


@dataclass(frozen=True, slots=True)
class Condition:
    """Something that would change the verdict, and to what. ``met`` is None where not said."""

    kind: Kind
    text: str
    given: str | None
    met: bool | None
    verdict_if_met: Verdict
    verdict_if_unmet: Verdict


@dataclass(frozen=True, slots=True)
class Limiting:
    """The one thing that holds the pair back most, and the plant that feels it."""

    kind: Kind
    of: str
    text: str
    records: tuple[str, ...] = ()


@dataclass(frozen=True, slots=True)
class Loss:
    """Share of what a plant would get in a stand of its own that it does not get here, 0-1."""

    roots: float
    light: float
    enemies: float
    all: float


@dataclass(frozen=True, slots=True)
class NitrogenGift:
    """Nitrogen that one plant gives the other: g/m2 of ground, low to high, and when."""

    giver: str
    taker: str
    g_per_m2: tuple[float, float]
    when: str


@dataclass(frozen=True, slots=True)
class Score:
    """100 (1 - K'), for sorting only; never shown without its interval."""

    likely: float
    low: float
    high: float


@dataclass(frozen=True, slots=True)
class Sureness:
    """How often the draws gave the same word; the trait whose checking would change it most.

    ``by_rule`` says that a rule holds the verdict where it is, which no draw moves; ``thin`` that little
    is on record of what the rule rests on. ``others`` are the other words that draws give, the commonest
    first; ``commonest`` is the share of draws that gave that one.
    """

    word: Literal["sure", "fairly sure", "unsure"]
    share_of_draws: float
    deciding_trait: str | None
    of: str | None
    by_rule: bool = False
    thin: bool = False
    others: tuple[Verdict, ...] = ()
    commonest: float = 0.0


@dataclass(frozen=True, slots=True)
class PairAnswer:
    """The answer on two plants. ``loss`` is keyed by plant id (``id`` and ``id#2`` for a twin)."""

    a: str
    b: str
    verdict: Verdict
    conditions: tuple[Condition, ...]
    limiting: Limiting | None
    sharing: float
    loss: dict[str, Loss]
    suppressed: str | None
    suppressed_note: str
    benefits: tuple[Reason, ...]
    nitrogen: NitrogenGift | None
    score: Score
    sureness: Sureness
    reasons: tuple[Reason, ...]
    notes: tuple[str, ...] = field(default=())
    saying: str = ""
    """The answer in at most five plain sentences (verdict, limit, benefit, condition, sureness)."""
    best: Reason | None = None
    """The best of a good or workable pair: what one brings the other, or why nothing much is lost."""
    fuller: tuple[float, Verdict] | None = None
    """From which larger share of the ground for each the word is lower, where that was asked."""


@dataclass(frozen=True, slots=True)
class LayerGot:
    """One root layer of one plant, by water over the year; ``to_m`` is None for the deepest.

    ``wants`` is the share of its whole draw that it asks for here, ``gets`` the share of that it finds
    (None where it asks for nothing), ``of_taken`` its share of all that is taken from this layer.
    """

    from_m: float
    to_m: float | None
    wants: float
    gets: float | None
    of_taken: float


@dataclass(frozen=True, slots=True)
class MemberAnswer:
    """What becomes of one kind of plant in a planting.

    ``name`` tells it from another of its kind (id, then ``#2``). ``light`` by month, as a share of open
    light, None in months without growth; ``weeks``, ``flowers`` and ``harvest`` spans of weeks (first,
    last), the latter two empty where they are not on record. ``verdict`` is the word of its own K' under
    the limits that are about it;
    ``squeezed`` where what the others take of roots and light alone makes it poor or worse; ``why`` is
    what tells most.
    """

    name: str
    plant: str
    share: float
    overhead: bool
    verdict: Verdict
    loss: Loss
    light: tuple[float | None, ...]
    layers: tuple[LayerGot, ...]
    height_m: float
    base_m: float
    weeks: tuple[tuple[int, int], ...]
    flowers: tuple[tuple[int, int], ...]
    harvest: tuple[tuple[int, int], ...]
    squeezed: bool
    why: Limiting | None


@dataclass(frozen=True, slots=True)
class Doer:
    """Who does a job in a planting, with the evidence; ``origin`` as in `profile.Origin`."""

    plant: str
    text: str
    origin: str
    records: tuple[str, ...] = ()


@dataclass(frozen=True, slots=True)
class Job:
    """A job in a planting and those who do it; nobody where ``by`` is empty."""

    job: str
    kind: Kind
    by: tuple[Doer, ...]


@dataclass(frozen=True, slots=True)
class Gap:
    """What is missing in a planting; ``weeks`` are spans (first, last), 1-52, where it is of a time."""

    kind: Kind
    text: str
    weeks: tuple[tuple[int, int], ...] = ()
    unknown: tuple[str, ...] = ()
    """Plants of which it is not on record, so that the gap may be none."""


@dataclass(frozen=True, slots=True)
class Conflict:
    """What holds a planting down, and what lifts it; ``lifted`` where that is provided."""

    kind: Kind
    of: str
    text: str
    ceiling: Verdict
    lift: str | None
    given: str | None
    lifted: bool
    records: tuple[str, ...] = ()


@dataclass(frozen=True, slots=True)
class PairInSet:
    """Two of a planting as they would do without the others, on the same shares."""

    a: str
    b: str
    verdict: Verdict
    score: float
    text: str


@dataclass(frozen=True, slots=True)
class Measures:
    """What describes a planting and judges nothing (`trade` 5.1); shares 0-1, weeks of the year.

    ``root_draw`` by layer (0-15, 15-30, 30-60 cm, deeper) and its ``evenness`` (-sum p ln p / ln 4);
    ``covered`` the share of the growing weeks with half the ground under leaf; ``families`` their
    effective number (1/sum p2); ``diversity`` Rao's Q over root depth, season, height and family, and
    the most it could be for so many plants.
    """

    root_draw: tuple[float, ...]
    evenness: float
    covered: float
    growing_weeks: int
    bloom_weeks: int
    weeks_in_flower: int
    weeks_of_harvest: int
    families: float
    diversity: float
    diversity_most: float


@dataclass(frozen=True, slots=True)
class PlantingAnswer:
    """The answer on a whole planting; members in the order of their ids, a tree first.

    ``kept`` is sum s_i (1 - K_i), what the ground keeps of stands of their own: no yield. ``ground``
    is the sum of the shares; above 1 plants stand over each other.
    """

    verdict: Verdict
    saying: str
    ground: float
    kept: float
    members: tuple[MemberAnswer, ...]
    limiting: Limiting | None
    conflicts: tuple[Conflict, ...]
    conditions: tuple[Condition, ...]
    jobs: tuple[Job, ...]
    gaps: tuple[Gap, ...]
    nitrogen: tuple[NitrogenGift, ...]
    benefits: tuple[Reason, ...]
    reasons: tuple[Reason, ...]
    pairs: tuple[PairInSet, ...]
    worst_pair: PairInSet | None
    measures: Measures
    score: Score
    sureness: Sureness
    notes: tuple[str, ...]
