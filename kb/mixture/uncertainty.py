"""Draws of doubt: how far an answer may move with what is not well known.

Every draw moves the traits of both plants by the same standard-normal numbers, so that two like
plants stay alike in every draw. The numbers are fixed (one seed) and balanced: each comes with its
opposite. Rows of every array: first the likely values, then the draws, then each trait alone one
standard deviation up and down; for a root depth that stands in for a missing record, then the draws
again with that depth moved only as far as a recorded one. For two systems that are most alike at
their likely depths, wide doubt alone would read as good news.
"""

from dataclasses import dataclass
from functools import lru_cache
from typing import TypeVar

import numpy as np
import numpy.typing as npt

from kb.mixture.profile import Estimate, Origin
from kb.mixture.season import WEEKS, FloatArray

Number = TypeVar("Number", float, FloatArray)
MOVED = (
    "effective-rooting-depth",
    "mature-height",
    "leaf-area-index",
    "growth-window",
    "light-to-crop",
    "water-use",
    "nitrogen-uptake",
    "extinction",
    "root-length",
)
"""What is moved, in the order of the columns; ids of traits, but for extinction."""
COLUMN = {trait: column for column, trait in enumerate(MOVED)}
CHECKABLE = MOVED[:-2]
"""Those that a reader could settle; few can measure extinction or the length of roots: none is asked for."""
DRAWN_TOGETHER = 8
"""So many columns are drawn at once; each further one after them, so that it leaves their numbers alone."""

SEED = 20
DRAWS = 60
EDGE_OF_INTERVAL = 1.2816
"""Standard deviations from the middle to the end of a 10-90 % interval of a normal."""

LEAST_LOG_SD: dict[Origin, float] = {"genus": 0.89, "form": 0.7, "assumed": 0.7}
"""Log-SD of a root depth known only by genus or root form (`trade` section 0): never less."""
RECORDED_LOG_SD = float(np.log(1.25)) / EDGE_OF_INTERVAL
"""Log-SD of a root depth that is on record: a 10-90 % interval of a quarter either way."""
LEAST_FACTOR = 0.05
"""A moved value keeps at least this share of the likely one; and at most 20 times it."""


@lru_cache(maxsize=8)
def standard_normals(draws: int) -> FloatArray:
    """(draws, traits) fixed numbers, each with its opposite."""
    drawn, rows = np.random.default_rng(SEED), (draws + 1) // 2
    blocks = (DRAWN_TOGETHER, len(MOVED) - DRAWN_TOGETHER)
    half = np.concatenate([drawn.standard_normal((rows, columns)) for columns in blocks], axis=1)
    both = np.concatenate([half, -half])[:draws]
    both.setflags(write=False)
    return both


@lru_cache(maxsize=8)
def moves(draws: int, *, again: bool = False) -> FloatArray:
    """(1 + draws + 2 traits, traits) in standard deviations: likely, drawn, one at a time.

    With ``again`` the draws follow once more. With no draws there is the likely row alone.
    """
    if draws == 0:
        return np.zeros((1, len(MOVED)))
    single = np.zeros((2 * len(CHECKABLE), len(MOVED)))
    for column in range(len(CHECKABLE)):
        single[2 * column, column], single[2 * column + 1, column] = 1.0, -1.0
    drawn = standard_normals(draws)
    blocks = [np.zeros((1, len(MOVED))), drawn, single]
    rows = np.concatenate([*blocks, drawn] if again else blocks)
    rows.setflags(write=False)
    return rows


def first_again(draws: int) -> int:
    """The row at which the draws begin once more."""
    return 1 + draws + 2 * len(CHECKABLE)


def depth_factors(estimate: Estimate, z: FloatArray, draws: int) -> FloatArray:
    """`factors` of a root depth: wide where it stands in, and as if recorded in the rows that come again."""
    least = LEAST_LOG_SD.get(estimate.origin, 0.0)
    moved = factors(estimate, z, least=least)
    repeated = slice(first_again(draws), None)
    moved[repeated] = factors(estimate, z[repeated], most=RECORDED_LOG_SD)
    return moved


def factors(
    estimate: Estimate, z: FloatArray, *, least: float = 0.0, most: float = float("inf")
) -> FloatArray:
    """What a positive value is multiplied by when moved z standard deviations, each way its own."""
    if not z.any():
        return np.ones_like(z)  # the likely values alone: nothing is moved
    up = min(most, max(least, _log_sd(estimate.likely, estimate.high)))
    down = min(most, max(least, _log_sd(estimate.low, estimate.likely)))
    moved: FloatArray = np.exp(np.where(z > 0, z * up, z * down))
    return np.clip(moved, LEAST_FACTOR, 1 / LEAST_FACTOR)


def shifted(estimate: Estimate, z: FloatArray) -> FloatArray:
    """A share (0-1) moved z standard deviations, each way its own."""
    if not z.any():
        return np.full(z.shape, min(1.0, max(0.0, estimate.likely)))
    up = (estimate.high - estimate.likely) / EDGE_OF_INTERVAL
    down = (estimate.likely - estimate.low) / EDGE_OF_INTERVAL
    moved: FloatArray = estimate.likely + np.where(z > 0, z * up, z * down)
    return np.clip(moved, 0.0, 1.0)


@dataclass(frozen=True, slots=True, eq=False)
class Later:
    """Rows of which each comes some weeks later in the year, straight between weeks.

    Which weeks of a course each mixes, and the part of either, (n, 52) each; ``mixed`` is None where no row
    moves. It hangs on no course, so that those of every week of sowing share it.
    """

    rows: int
    mixed: tuple[npt.NDArray[np.intp], FloatArray, npt.NDArray[np.intp], FloatArray] | None

    @classmethod
    def by(cls, weeks: FloatArray) -> "Later":
        """By so many ``weeks`` (n,) each."""
        if not weeks.any():
            return cls(weeks.size, None)
        at = np.arange(WEEKS) - weeks[:, None]
        before = np.floor(at).astype(np.intp)
        part = at - before
        return cls(weeks.size, (before % WEEKS, 1 - part, (before + 1) % WEEKS, part))

    def of(self, weekly: FloatArray) -> FloatArray:
        """A yearly course (52,), moved in each row (n, 52)."""
        if self.mixed is None:
            return np.tile(weekly, (self.rows, 1)) if self.rows > 1 else weekly[None].copy()
        before, rest, after, part = self.mixed
        moved: FloatArray = weekly.take(before)
        moved *= rest
        moved += weekly.take(after) * part
        return moved


def rolled(weekly: FloatArray, weeks: FloatArray) -> FloatArray:
    """A yearly course (52,) moved later by each of ``weeks`` (n,): (n, 52), straight between weeks."""
    return Later.by(weeks).of(weekly)


def percentile(values: FloatArray, share: float) -> float:
    """The percentile (0-100) of a few values (n,), straight between neighbours.

    As ``numpy.percentile`` to the last bit, and twenty times as fast for the sixty draws of a pair.
    """
    ordered = np.sort(values)
    below, part = _rank(ordered.size, share)
    return _between(float(ordered[below]), float(ordered[min(below + 1, ordered.size - 1)]), part)


def percentiles(rows: FloatArray, *shares: float) -> tuple[FloatArray, ...]:
    """`percentile` of every column of ``rows`` (n, columns), which are put in order once for all shares."""
    ordered = np.sort(rows, axis=0)
    ranks = [_rank(len(ordered), share) for share in shares]
    return tuple(
        _between(ordered[below], ordered[min(below + 1, len(ordered) - 1)], part) for below, part in ranks
    )


def _rank(count: int, share: float) -> tuple[int, float]:
    """The place of a percentile among ``count`` in order: that below it, and the part of the way on."""
    place = share / 100 * (count - 1)
    return int(place), place - int(place)


def _between(low: Number, high: Number, part: float) -> Number:
    return low + (high - low) * part if part < 0.5 else high - (high - low) * (1 - part)


def _log_sd(low: float, high: float) -> float:
    if not 0 < low < high:
        return 0.0
    return float(np.log(high / low)) / EDGE_OF_INTERVAL
