"""What each plant of a set gets: light by month, and of each root layer, beside what it asks for."""

from collections.abc import Sequence
from dataclasses import dataclass

import numpy as np

from kb.mixture.judging.bonds import Ground
from kb.mixture.results import LayerGot
from kb.mixture.season import MONTH_WEIGHTS, FloatArray
from kb.mixture.sharing.asked_beneath import water_asked
from kb.mixture.sharing.felt import light_left, rows_of
from kb.mixture.sharing.variants import Variants

BANDS_M = (0.0, 0.15, 0.30, 0.60)
"""Tops of the root layers that are told; the last goes on downwards (`trade` 5.1)."""


@dataclass(frozen=True, slots=True, eq=False)
class Shares:
    """Of a whole set: ``light`` (n, 12), NaN in months without growth; water by plant and layer.

    ``asked`` and ``taken`` (n, 4) are summed over the year and over all ground; ``pressed`` (n, n) is
    what each goes without in proportion to what the others ask in the same layers and weeks.
    """

    light: FloatArray
    asked: FloatArray
    taken: FloatArray
    pressed: FloatArray

    def layers(self, plant: int) -> tuple[LayerGot, ...]:
        """The layers of one plant."""
        whole, everyone = float(self.asked[plant].sum()), self.taken.sum(axis=0)
        found = []
        for band, top in enumerate(BANDS_M):
            asked, taken = float(self.asked[plant, band]), float(self.taken[plant, band])
            found.append(
                LayerGot(
                    from_m=top,
                    to_m=BANDS_M[band + 1] if band + 1 < len(BANDS_M) else None,
                    wants=asked / whole if whole > 0 else 0.0,
                    gets=taken / asked if asked > 0 else None,
                    of_taken=taken / float(everyone[band]) if everyone[band] > 0 else 0.0,
                )
            )
        return tuple(found)

    def draw_by_layer(self) -> FloatArray:
        """Share of all the draw of the set in each layer (4,)."""
        asked = self.asked.sum(axis=0)
        share: FloatArray = asked / max(float(asked.sum()), 1e-300)
        return share


def shares_of(plants: Sequence[Variants], grounds: Sequence[Ground]) -> Shares:
    """What each gets by its likely values; a tree's light is that on open ground."""
    count = len(plants)
    shape = (count, len(BANDS_M))
    light = np.full((count, MONTH_WEIGHTS.shape[0]), np.nan)
    asked, taken, pressed = np.zeros(shape), np.zeros(shape), np.zeros((count, count))
    for ground in grounds:
        here, members = [plants[i] for i in ground.members], list(ground.members)
        left = light_left(here, rows_of(0, again=[False] * len(here)), ground.spot)
        for plant, weekly, i in zip(here, left, members, strict=True):
            light[i] = _by_month(weekly[0], plant.activity[0])
        supply = ground.spot.place.fine.here
        asking, _ = water_asked(here, ground.spot.place)
        demand = np.stack([a.demand(slice(1), s)[0] for s, a in zip(ground.spot.shares, asking, strict=True)])
        total = demand.sum(axis=0)
        met = np.minimum(1.0, supply.water / np.where(total > 0, total, 1.0))
        bands = _bands(supply.edges)
        asked[members] += demand.sum(axis=2) @ bands
        taken[members] += (demand * met).sum(axis=2) @ bands
        short = (1 - met) / np.where(total > 0, total, 1.0)
        pressed[np.ix_(members, members)] += np.einsum("izw,zw,jzw->ij", demand, short, demand, optimize=True)
    np.fill_diagonal(pressed, 0.0)
    return Shares(light, asked, taken, pressed)


def _by_month(weekly: FloatArray, activity: FloatArray) -> FloatArray:
    """Mean of a weekly share in the weeks in which the plant grows; NaN in months without any."""
    grows = MONTH_WEIGHTS @ activity
    lit = MONTH_WEIGHTS @ (activity * weekly)
    by_month: FloatArray = np.where(grows > 1e-6, lit / np.where(grows > 1e-6, grows, 1.0), np.nan)
    return by_month


def _bands(edges: FloatArray) -> FloatArray:
    """How much of each fine layer lies in each band (layers, bands); all of it in one or the other."""
    tops = np.array(BANDS_M)
    ends = np.append(tops[1:], np.inf)
    above, below = edges[:-1, None], edges[1:, None]
    inside = np.maximum(0.0, np.minimum(below, ends) - np.maximum(above, tops))
    share: FloatArray = inside / (below - above)
    return share
