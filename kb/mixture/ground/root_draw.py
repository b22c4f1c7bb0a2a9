"""What plants take from the ground by their roots: a stand by itself, and several together.

A plant asks in a layer and week for its course of that week times its roots in that layer; asked so, no
array of rows by layers by weeks need be made of each good. Two plants go through a compiled loop where one
is loaded (``kernels.ready``); the plain way beside it is the same sum, and the tests hold the two together.
"""

from collections.abc import Sequence
from dataclasses import dataclass

import numpy as np
import numpy.typing as npt

from kb.mixture import kernels
from kb.mixture.ground.share import alone, sharing, uptake, uptake_by_roots
from kb.mixture.season import FloatArray

IntArray = npt.NDArray[np.intp]
COMPILED = "roots"


@dataclass(frozen=True, slots=True, eq=False)
class Asking:
    """One plant's rows: ``course`` (rows, weeks) it asks, ``roots`` (rows, layers, weeks or 1) sharing it.

    ``hunger`` (rows,) is what a unit of its roots asks; None of what is not shared out by roots (`share`).
    """

    course: FloatArray
    roots: FloatArray
    hunger: FloatArray | None = None

    def demand(self, rows: IntArray | slice = slice(None), share: float = 1.0) -> FloatArray:
        """What these rows ask on a share of the ground (rows, layers, weeks)."""
        asked: FloatArray = (share * self.course[rows])[:, None, :] * self.roots[rows]
        return asked


def taken_alone(asking: Asking, supply: FloatArray) -> FloatArray:
    """What a full stand gets (rows,) of a supply (layers, weeks)."""
    loop = kernels.ready(COMPILED)
    if loop is None:
        return alone(asking.demand(), supply)
    found: FloatArray = loop.one(asking.course, asking.roots, np.arange(len(asking.course)), 1.0, supply)
    return found


def taken_together(
    plants: Sequence[Asking], rows: Sequence[IntArray], shares: Sequence[float], supply: FloatArray
) -> FloatArray:
    """What each gets (rows, n) where all stand on shares of one ground: by roots, if they tell hunger."""
    loop = kernels.ready(COMPILED) if len(plants) == 2 else None
    hungers = [p.hunger[r] for p, r in zip(plants, rows, strict=True) if p.hunger is not None]
    by_roots = len(hungers) == len(plants)
    if loop is None:
        asked = np.stack([p.demand(r, s) for p, r, s in zip(plants, rows, shares, strict=True)])
        return (uptake_by_roots(asked, np.stack(hungers), supply) if by_roots else uptake(asked, supply)).T
    (one, other), (its, others), (share, rest) = plants, rows, shares
    asking = (one.course, one.roots, its, share), (other.course, other.roots, others, rest)
    found: FloatArray = (
        loop.two_by_roots(*asking[0], hungers[0], *asking[1], hungers[1], supply)
        if by_roots
        else loop.two(*asking[0], *asking[1], supply)
    )
    return found


def wanted_alike(plants: Sequence[Asking], shares: Sequence[float], scarcity: FloatArray) -> float:
    """`share.sharing` of two by their likely values, the first rows, on shares of the ground."""
    loop = kernels.ready(COMPILED)
    (one, other), (share, rest) = plants, shares
    if loop is None:
        return sharing((one.demand(share=share)[0], other.demand(share=rest)[0]), scarcity)
    asked = (one.course[0], one.roots[0], share, other.course[0], other.roots[0], rest)
    return float(loop.alike(*asked, scarcity))


def taken_on_share(asking: Asking, rows: IntArray, share: float, supply: FloatArray) -> FloatArray:
    """What one plant gets (rows,) on a share of the ground with nobody else on it."""
    loop = kernels.ready(COMPILED)
    if loop is None:
        return alone(asking.demand(rows, share), supply)
    found: FloatArray = loop.one(asking.course, asking.roots, rows, share, supply)
    return found
