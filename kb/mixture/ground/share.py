"""One allocation of water, nitrate and light for a pair and for a whole planting.

Plants 1..n ask in each layer and week. Nothing here knows of pairs: a pair is n = 2. For roots, plants are
the first axis and layers and weeks the last; between them may stand more (draws of doubt, other plants).

Of water each gets its demand times f = min(1, supply/sum of demands) (`computation-notes` 4): the pull of the
leaves shares it out, hardly the length of the roots (Hamblin and Tennant 1987, Aust. J. Agric. Res. 38:
513-527, abstract: cereals with five to ten times the roots of grain legumes took up no more).

Nitrate goes another way than by that formula, under which all lose alike of what they want, however little
that is: beside a hungry crop the modest one would starve, which has more than enough in a stand of its own,
and the hungry one thrive. Found is the contrary: where nitrogen is short those win that live on less of it
(Tilman and Wedin 1991, Ecology 72: 1038-1049, abstract), and of barley, rape and pea barley took most of the
soil's and the hungrier rape less (Andersen et al. 2004, Plant Soil 266: 273-287, abstract). In a layer all
roots meet one solution; what rivals get goes by the length of their roots, at one inflow per length (Hodge et
al. 1999, Plant Cell Environ. 22: 811-820, abstract). So every length of root takes alike, no plant more than
its demand of the week, and what the sated leave goes to the others (as in a published model of trees and
crops: van Noordwijk and Lusiana 1999, Agroforest. Syst. 43: 217-242).

Demand for water is in units of what a short full cover asks (Kc x activity), so a week's supply is
(1 - omega)/omega of it. Nitrate is in g/m2. Phosphorus and potassium do not move through the soil,
so roots meet for them far less: 0.3 of the loss for nitrate is the usual guess; it is not judged.
"""

from dataclasses import dataclass
from functools import lru_cache
from itertools import accumulate

import numpy as np

from kb.mixture.ground.water import MEAN_TEMPERATURE, TEMPERATURE_SWING, WARMEST_DAY, scarcity_by_week
from kb.mixture.season import DAYS_PER_WEEK, HALF_YEAR_DAYS, WEEKS, YEAR_DAYS, FloatArray
from kb.mixture.site import REFERENCE_SITE, Site

SUPPLY_DEPTH_M = 0.25
"""Half of the water, and the nitrate, falls off with depth by e in this many metres (judgement)."""
SUPPLY_REACH_M = 1.2
"""The other half of the water is even down to here, or to the soil's bottom (judgement)."""
NITRATE_G_M2_YEAR = 14.0
"""What an ordinary garden soil lets go in a year (judgement)."""
NITRATE_Q10 = 2.0
"""Soil life works twice as fast for 10 degrees more: usual in soil models, from memory."""
FIXER_DRAW = 0.35
"""A plant that fixes nitrogen takes this share of its demand from the soil (judgement)."""
INTERCEPTION = 0.2
"""Share of the supply that a crown in full leaf keeps from the ground beneath it (judgement)."""
IRRIGATED_SCARCITY = 1 / 3
"""With irrigation no week is scarcer than this: two full covers get what they ask (judgement)."""
FED_TIMES = 2.0
"""Ground that is fed lets go so many times as much nitrate, 28 g/m2: what hungry crops take up (judgement,
after the nitrogen demands of the German fertiliser ordinance of 2017, annex 4: up to 30 g/m2)."""
IRRIGATED, FED = "irrigated", "fed"
CARE = frozenset({IRRIGATED, FED})
"""Words by which a gardener says that the ground gets more than it has."""
_TINY = 1e-300


@dataclass(frozen=True, slots=True, eq=False)
class Supply:
    """What the ground gives: ``water`` and ``nitrate`` (layers, weeks); ``scarcity`` (weeks,).

    ``unfed`` is the nitrate of the same ground where it is fed, else None: against a stand on that ground
    nobody goes without.
    """

    edges: FloatArray
    water: FloatArray
    nitrate: FloatArray
    scarcity: FloatArray
    unfed: FloatArray | None = None

    def drawn_down(self, left: FloatArray) -> "Supply":
        """The same ground with so much of its water left (0-1) by week."""
        return Supply(self.edges, self.water * left, self.nitrate, self.scarcity, self.unfed)


def under_leaf(leaf_by_week: FloatArray) -> FloatArray:
    """The part of the rain that a crown lets through to the ground beneath it."""
    return 1 - INTERCEPTION * leaf_by_week


def supply_at(site: Site, edges: FloatArray, *, care: frozenset[str] = frozenset()) -> Supply:
    """Water and nitrate by layer and week at a site, within its soil depth; ``care`` of `CARE`."""
    scarcity = scarcity_by_week(site)
    if IRRIGATED in care:
        scarcity = np.minimum(scarcity, IRRIGATED_SCARCITY)
    reach = min(SUPPLY_REACH_M, site.soil_depth_m)
    near = _falling(edges, site.soil_depth_m)
    within = np.minimum(edges, reach)
    even = (within[1:] - within[:-1]) / reach
    water = (0.5 * near + 0.5 * even)[:, None] * ((1 - scarcity) / scarcity)
    nitrate = NITRATE_G_M2_YEAR * near[:, None] * _release_by_week(site.latitude)
    if FED in care:
        return Supply(edges, water, FED_TIMES * nitrate, scarcity, unfed=nitrate)
    return Supply(edges, water, nitrate, scarcity)


def uptake(demands: FloatArray, supply: FloatArray) -> FloatArray:
    """What each plant gets over layers and weeks: (n, ...) from demands (n, ..., layers, weeks)."""
    # The sum becomes f in place: this is the sweep that every draw of every pair goes through.
    met: FloatArray = demands.sum(axis=0)
    np.maximum(met, _TINY, out=met)
    np.divide(supply, met, out=met)
    np.minimum(met, 1.0, out=met)
    return np.stack([np.einsum("...zw,...zw->...", asked, met) for asked in demands])


def uptake_by_roots(demands: FloatArray, hunger: FloatArray, supply: FloatArray) -> FloatArray:
    """What each plant gets (n, ...) where every length of root takes alike, up to what its plant asks.

    ``demands`` (n, ..., layers, weeks); ``hunger`` (n, ...) is what a unit of a plant's roots asks, so that
    a demand over it is the roots that are there. The least hungry are sated first: in turn each gets what it
    asks, or its roots' part of what is left.
    """
    order = np.argsort(hunger, axis=0, kind="stable")
    first = order.reshape(len(order), -1)
    if (first == first[:, :1]).all():  # in all rows alike, as in most: nothing need be sorted
        asked = [demands[i] for i in first[:, 0]]
    else:
        asked = list(np.take_along_axis(demands, order[..., None, None], axis=0))
    sorted_hunger = np.take_along_axis(hunger, order, axis=0)
    per_root = np.divide(1.0, sorted_hunger, out=np.zeros_like(sorted_hunger), where=sorted_hunger > 0)
    # The sums are made in place: this is the sweep that every draw of every pair goes through.
    roots = [own * per[..., None, None] for own, per in zip(asked, per_root, strict=True)]
    there = list(accumulate(reversed(roots), np.add))[::-1]
    left, found = np.array(np.broadcast_to(supply, demands.shape[1:])), np.empty(hunger.shape)
    for step, own in enumerate(asked[:-1]):
        got = roots[step]
        got *= left
        got /= np.maximum(there[step], _TINY, out=there[step])
        np.minimum(got, own, out=got)
        left -= got
        found[step] = got.sum(axis=(-2, -1))
    np.maximum(left, 0.0, out=left)
    found[-1] = np.minimum(left, asked[-1], out=left).sum(axis=(-2, -1))
    taken = np.empty_like(found)
    np.put_along_axis(taken, order, found, axis=0)
    return taken


def alone(full_demand: FloatArray, supply: FloatArray) -> FloatArray:
    """What a stand of one plant gets: (...) from its demand (..., layers, weeks)."""
    taken: FloatArray = np.minimum(full_demand, supply).sum(axis=(-2, -1))
    return taken


def relative_uptake(taken: FloatArray, sole: FloatArray, shares: FloatArray) -> FloatArray:
    """c: uptake over what the same share of a stand of its own gets; 1 where that is nothing."""
    own = shares * sole
    relative: FloatArray = np.where(own > 0, taken / np.where(own > 0, own, 1.0), 1.0)
    return relative


def loss_of(relative: FloatArray) -> FloatArray:
    """r: the share of its own stand's uptake that a plant goes without."""
    loss: FloatArray = np.maximum(0.0, 1 - relative)
    return loss


def relief_of(relative: FloatArray) -> FloatArray:
    """What the plants gain together: mean of c above 1, 0 where there is no gain. Plants last."""
    relief: FloatArray = np.maximum(0.0, relative.sum(axis=-1) / relative.shape[-1] - 1)
    return relief


def sharing(uses: tuple[FloatArray, FloatArray], scarcity: FloatArray) -> float:
    """How far two want the same, at the same depth, in the same weeks, 0-1: for display only.

    ``uses`` are two demands (layers, weeks). It saturates, ignores supply and is 1 for like with
    like, where nothing is lost, so no verdict rests on it (`computation-notes` 1.4).
    """
    one, other = uses
    least = min(float((one * scarcity).sum()), float((other * scarcity).sum()))
    if least <= 0:
        return 0.0
    return min(1.0, float((np.minimum(one, other) * scarcity).sum()) / least)


def captured_light(
    leaf_areas: FloatArray,
    heights: FloatArray,
    bases: FloatArray,
    extinctions: FloatArray,
    shares: FloatArray,
) -> FloatArray:
    """`near_tree.bed_light` for many variants of a planting at once: (..., n, weeks).

    ``leaf_areas`` (..., n, weeks); ``heights``, ``bases``, ``extinctions`` (..., n); ``shares`` (n,).
    A test holds the two equal; this one exists because a bed is judged in thousands of draws.
    """
    own = extinctions[..., None] * leaf_areas
    ground = own * shares[:, None]
    edges = np.sort(np.concatenate([heights, bases], axis=-1), axis=-1)[..., ::-1]
    light = np.ones(ground.shape[:-2] + ground.shape[-1:])
    seen = np.zeros_like(own)
    for step in range(edges.shape[-1] - 1):
        top, low = edges[..., step, None], edges[..., step + 1, None]
        inside = (heights >= top) & (bases <= low)
        part = np.where(inside, (top - low) / (heights - bases), 0.0)
        if not part.any():
            continue  # no leaf in this layer of any variant: two bases at the ground, or a gap
        layer = np.einsum("...nw,...n->...w", ground, part)
        seen += (light * _mean_left(layer))[..., None, :] * part[..., None]
        light = light * np.exp(-layer)
    relative: FloatArray = np.minimum(seen / _mean_left(own), 1.0)
    return relative


def _mean_left(depth: FloatArray) -> FloatArray:
    safe = np.where(depth > 0, depth, 1.0)
    mean: FloatArray = np.where(depth > 0, -np.expm1(-safe) / safe, 1.0)
    return mean


def _falling(edges: FloatArray, soil_depth_m: float) -> FloatArray:
    """Shares by layer of what falls off as exp(-z/25 cm), within the soil; they sum to 1."""
    left = np.exp(-np.minimum(edges, soil_depth_m) / SUPPLY_DEPTH_M)
    if soil_depth_m >= edges[-1]:
        left[-1] = 0.0
    shares: FloatArray = (left[:-1] - left[1:]) / (1 - left[-1])
    return shares


@lru_cache(maxsize=64)
def _release_by_week(latitude: float) -> FloatArray:
    """Share of the year's nitrate let go in each week, by the soil's warmth at this latitude."""
    days = (np.arange(WEEKS) + 0.5) * DAYS_PER_WEEK
    warmest = WARMEST_DAY + (HALF_YEAR_DAYS if latitude < 0 else 0.0)
    swing = TEMPERATURE_SWING * abs(latitude) / REFERENCE_SITE.latitude
    warmth = MEAN_TEMPERATURE + swing * np.cos(2 * np.pi * (days - warmest) / YEAR_DAYS)
    pace = NITRATE_Q10 ** (warmth / 10)
    release: FloatArray = pace / pace.sum()
    release.setflags(write=False)
    return release
