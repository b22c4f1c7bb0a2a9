"""What a curator or gardener adds beside records: observations, withdrawals, reviews of cautions.

All are things that happened (activities): none is edited or deleted, a later one takes an earlier back.
"""

from dataclasses import dataclass
from datetime import date
from decimal import Decimal
from typing import Literal

from kb.ids import PlantId, TraitId
from kb.namespaces import iri

Quality = Literal["measured", "estimated"]
Verdict = Literal["retire", "keep"]
OWN_FROM = 1001
"""Numbers of what is laid over the base begin here, so that a later base never takes the same id."""


@dataclass(frozen=True, slots=True)
class Observation:
    """One thing seen or measured by an observer on a plant of their own.

    ``low``/``likely``/``high`` are in the trait's unit (a window: weeks); ``verbatim`` is what was said.
    ``place`` is coarse on purpose: it must not lead to anyone's door. ``age_years`` counts from planting.
    """

    id: str
    plant: PlantId
    trait: TraitId
    low: Decimal | None
    likely: Decimal | None
    high: Decimal | None
    concepts: tuple[str, ...]
    verbatim: str
    observer: str
    observed_on: date
    place: str
    age_years: Decimal | None
    stock: str | None
    procedure: str
    quality: Quality
    quality_note: str | None
    entered_on: date

    @property
    def iri(self) -> str:
        return iri("observation", self.id)

    @property
    def year(self) -> int:
        return self.observed_on.year


@dataclass(frozen=True, slots=True)
class Withdrawal:
    """Takes back an observation, or an earlier withdrawal (``observation.…`` or ``withdrawal.…``)."""

    id: str
    plant: PlantId
    withdraws: str
    decided_by: str
    decided_on: date
    why: str

    @property
    def iri(self) -> str:
        return iri("withdrawal", self.id)


@dataclass(frozen=True, slots=True)
class Review:
    """One reviewer's verdict on one caution. Two different reviewers retire it, never its author."""

    id: str
    plant: PlantId
    caution: str
    verdict: Verdict
    decided_by: str
    decided_on: date
    why: str

    @property
    def iri(self) -> str:
        return iri("review", self.id)


REVIEWERS_TO_RETIRE = 2


def number_of(name: str) -> int:
    """The number at the end of an id, 0 where there is none (``….observer.1002`` -> 1002)."""
    ending = name.rpartition(".")[2]
    return int(ending) if ending.isdigit() else 0


def in_force(
    observations: tuple[Observation, ...], withdrawals: tuple[Withdrawal, ...]
) -> tuple[Observation, ...]:
    """The observations that nobody has taken back; a withdrawal taken back itself does not count."""
    taken: set[str] = set()
    for withdrawal in sorted(withdrawals, key=lambda one: number_of(one.id), reverse=True):
        if f"withdrawal.{withdrawal.id}" not in taken:
            taken.add(withdrawal.withdraws)
    return tuple(one for one in observations if f"observation.{one.id}" not in taken)


def retiring(caution: str, author: str, reviews: tuple[Review, ...]) -> tuple[str, ...]:
    """The reviewers whose last word on a caution is to retire it; its author's word does not count."""
    last: dict[str, Verdict] = {}
    for review in sorted(reviews, key=lambda one: number_of(one.id)):
        if review.caution == caution and review.decided_by != author:
            last[review.decided_by] = review.verdict
    return tuple(sorted(who for who, verdict in last.items() if verdict == "retire"))


def is_retired(caution: str, author: str, reviews: tuple[Review, ...]) -> bool:
    return len(retiring(caution, author, reviews)) >= REVIEWERS_TO_RETIRE
