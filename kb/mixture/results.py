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
    """How often the draws gave the same word; the trait whose checking would change it most."""

    word: Literal["sure", "fairly sure", "unsure"]
    share_of_draws: float
    deciding_trait: str | None
    of: str | None


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
