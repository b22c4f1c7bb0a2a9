"""A very long list of plants as one index of float32, and the likely score of each beside one plant.

The score is that of a pair in a bed before limits and gifts, in the layers of the draws: each plant's
loss by the shared draw of water and nitrate (`computation-notes` 4, the division included), by the
shared light, and by shared enemies of kin, joined as K and eased by what the two gain together.
`sweep` finds the best without reckoning all.
"""

from dataclasses import dataclass, fields

import numpy as np
import numpy.typing as npt

from kb.mixture.ground.roots import DRAW_EDGES_M, SHAPE, annual_growth, growing_profile
from kb.mixture.ground.share import (
    Supply,
    alone,
    captured_light,
    loss_of,
    relative_uptake,
    relief_of,
    uptake,
    uptake_by_roots,
)
from kb.mixture.lists.screening import LIKE_STRESS
from kb.mixture.profile import Profile
from kb.mixture.relatedness import ENEMY_WEIGHT, SHARED_ENEMIES
from kb.mixture.season import WEEKS, FloatArray
from kb.mixture.sharing.variants import Variants
from kb.mixture.stress import near_limit, with_benefits

Float32 = npt.NDArray[np.float32]
IntArray = npt.NDArray[np.int64]

LAYER_GROUPS = np.array([0, 3, 7, 10, 15])
"""Ends of the groups of layers: 12, 30, 60 and 220 cm."""
WEEK_GROUPS = np.arange(0, WEEKS + 1, 4)
LEVELS = 32
AMOUNT_STEPS = 65535
HUNGERS = 2
"""Steps of what a unit of roots asks of nitrate. Every query makes a table of each; with eight of them no
fewer plants had to be reckoned in full (257 to 458 of 5,000)."""
SHAPE_COLUMNS = (
    "d50", "power", "water", "nitrate", "height", "base", "extinction", "crop_zero", "crop_full", "hunger"
)  # fmt: skip


@dataclass(frozen=True, slots=True, eq=False)
class Plants:
    """Many plants by their likely values, one row each.

    ``activity``, ``leaf`` (n, weeks), leaf area index; ``shape`` (n, 10) as `SHAPE_COLUMNS`: m, -,
    water and nitrate asked per unit of activity, m, m, -, shares of light, nitrate that a unit of roots asks;
    ``kin`` (n, 3) numbers of
    species, genus and family, the last -1 where not known; the others (n,).
    """

    activity: Float32
    leaf: Float32
    shape: Float32
    kin: npt.NDArray[np.int32]
    fixer: npt.NDArray[np.bool_]
    known: npt.NDArray[np.bool_]
    annual: npt.NDArray[np.bool_]

    def __len__(self) -> int:
        return len(self.activity)

    def only(self, chosen: slice | IntArray) -> "Plants":
        """Some of them."""
        return Plants(*(getattr(self, field.name)[chosen] for field in fields(self)))


def plants_of(profiles: list[Profile], variants: list[Variants]) -> Plants:
    """The likely values of real plants, made ready with no draws."""
    names: dict[str, int] = {}

    def number(name: str | None) -> int:
        return -1 if name is None else names.setdefault(name, len(names))

    kin = [
        (number("species " + p.id.partition(".")[0]), number("genus " + p.genus), number(p.family.value))
        for p in profiles
    ]
    return Plants(
        activity=np.array([v.activity[0] for v in variants], dtype=np.float32),
        leaf=np.array([v.leaf_area[0] for v in variants], dtype=np.float32),
        shape=np.array([_shape(p, v) for p, v in zip(profiles, variants, strict=True)], dtype=np.float32),
        kin=np.array(kin, dtype=np.int32),
        fixer=np.array([v.fixer[0] for v in variants]),
        known=np.array([p.root_d95_m.known and p.activity.known for p in profiles]),
        annual=np.array([p.annual for p in profiles]),
    )


def _shape(profile: Profile, plant: Variants) -> tuple[float, ...]:
    """By `SHAPE_COLUMNS`; demands are read back from the plant's own arrays."""
    active = float(plant.activity[0].sum()) or 1.0
    d95 = profile.root_d95_m.likely * float(plant.d50[0]) / profile.root_d50_m.likely
    return (
        float(plant.d50[0]),
        SHAPE / float(np.log(max(d95 / float(plant.d50[0]), 1.25))),
        float(plant.water_course[0].sum()) / active,
        float(plant.nitrate_course[0].sum()) / active,
        float(plant.height[0]),
        float(plant.base[0]),
        float(plant.extinction[0]),
        float(plant.crop_zero[0]),
        float(plant.crop_full[0]),
        float(plant.hunger[0]),
    )


@dataclass(frozen=True, slots=True, eq=False)
class Ground:
    """The bed: supply of water and nitrate (2, layers, weeks), soil depth m, open light, shares (2,)."""

    supply: FloatArray
    soil_depth_m: float
    open_light: float
    shares: FloatArray

    @classmethod
    def of(
        cls, supply: Supply, soil_depth_m: float, open_light: float, shares: tuple[float, float]
    ) -> "Ground":
        return cls(np.stack([supply.water, supply.nitrate]), soil_depth_m, open_light, np.array(shares))


def demands(plants: Plants, soil_depth_m: float) -> FloatArray:
    """What full stands ask, (n, 2, layers, weeks), from the float32 of the index in float64."""
    shape = plants.shape.astype(np.float64)
    activity = plants.activity.astype(np.float64)
    growth = np.ones_like(activity)
    for i in np.flatnonzero(plants.annual):
        growth[i] = annual_growth(activity[i])
    d50, power = shape[:, 0], shape[:, 1]
    roots = growing_profile(
        d50, d50 * np.exp(SHAPE / power), growth, soil_depth_m=soil_depth_m, edges=DRAW_EDGES_M
    )
    asked: FloatArray = shape[:, 2:4, None, None] * activity[:, None, None, :] * roots[:, None]
    return asked


def shared_enemies(plants: Plants, a: Plants) -> Float32:
    """0.7 e by kinship with the one plant of ``a``, (n,); the few kin excepted from it are not told apart."""
    steps = {kin: ENEMY_WEIGHT * share for kin, share in SHARED_ENEMIES.items()}
    _, genus, family = a.kin[0]
    unknown = (plants.kin[:, 2] < 0) | (family < 0)
    same = np.where(plants.kin[:, 2] == family, steps["family"], steps["none"])
    found = np.where(unknown, steps["unknown"], same)
    return np.where(plants.kin[:, 1] == genus, steps["genus"], found).astype(np.float32)


def stress(plants: Plants, a: Plants, ground: Ground) -> FloatArray:
    """K' (n,) of every plant beside the one plant of ``a``: plain numpy, the reference of the sweep.

    Like with like stands in the middle, as in `screening`.
    """
    both = _relative(plants, a, ground)
    light = _light_losses(plants, a, ground)
    shared = shared_enemies(plants, a).astype(np.float64)
    roots = loss_of(both)
    each = near_limit(roots, light, shared[:, None] / ENEMY_WEIGHT)
    relief = np.where(plants.known & a.known[0], relief_of(both), 0.0)
    found = with_benefits(each.max(axis=1), relief)
    return np.where(plants.kin[:, 0] == a.kin[0, 0], LIKE_STRESS, found)


def _relative(plants: Plants, a: Plants, ground: Ground) -> FloatArray:
    """The lesser of water and nitrate got, over a stand of its own: of a and of each plant, (n, 2)."""
    theirs, own = demands(plants, ground.soil_depth_m), demands(a, ground.soil_depth_m)[0]
    hunger = np.stack(np.broadcast_arrays(a.shape[0, 9], plants.shape[:, 9])).astype(np.float64)
    by_good = []
    for good in range(2):
        supply = ground.supply[good]
        asked = np.stack(
            np.broadcast_arrays(ground.shares[0] * own[good], ground.shares[1] * theirs[:, good])
        )
        sole = np.stack(
            np.broadcast_arrays(alone(own[good], supply), alone(theirs[:, good], supply)), axis=-1
        )
        taken = uptake_by_roots(asked, hunger, supply) if good else uptake(asked, supply)
        by_good.append(relative_uptake(taken.T, sole, ground.shares))
    water, nitrate = by_good
    fixer = np.stack(np.broadcast_arrays(a.fixer[0], plants.fixer), axis=-1)
    relative: FloatArray = np.minimum(water, np.where(fixer, np.maximum(water, 1.0), nitrate))
    return relative


def _light_losses(plants: Plants, a: Plants, ground: Ground) -> FloatArray:
    """Losses of crop by light, (n, 2)."""

    def both(name: str) -> FloatArray:
        one, other = getattr(a, name)[0], getattr(plants, name)
        return np.stack(np.broadcast_arrays(one, other), axis=1).astype(np.float64)

    shape = both("shape")
    left = captured_light(both("leaf"), shape[..., 4], shape[..., 5], shape[..., 6], ground.shares)
    zero, full = shape[..., 7, None], shape[..., 8, None]
    enough = np.clip((left * ground.open_light - zero) / (full - zero), 0.0, 1.0)
    activity = both("activity")
    season = activity.sum(axis=2)
    worth = (activity * enough).sum(axis=2) / np.where(season > 0, season, 1.0)
    return np.where(season > 0, 1 - worth, 1.0)


@dataclass(frozen=True, slots=True, eq=False)
class Index:
    """Plants with what the bound needs, at one site.

    ``codes`` (n, 2, groups): the least density of demand for water, and of roots, in each group of cells,
    rounded down to one of ``levels`` (2, m); ``steps`` (n,): what a unit of roots asks of nitrate, rounded
    down to one of ``hungers``; ``amounts`` (n, groups): its demand for water there, in
    ``scale`` (n,), rounded down; ``whole`` (n,): that of all groups; ``per_water`` (n,): nitrate asked per
    unit of water; ``soles`` (n, 2); ``seasons`` (n, 2), the first active week and the one after the last,
    the first alone where there is none.
    """

    plants: Plants
    codes: npt.NDArray[np.uint8]
    amounts: npt.NDArray[np.uint16]
    scale: Float32
    whole: Float32
    per_water: Float32
    soles: Float32
    seasons: npt.NDArray[np.uint8]
    levels: FloatArray
    steps: npt.NDArray[np.uint8]
    hungers: FloatArray

    @property
    def nbytes(self) -> int:
        """Bytes of the whole index."""
        own = sum(getattr(self, f.name).nbytes for f in fields(self) if f.name != "plants")
        return int(own + sum(getattr(self.plants, f.name).nbytes for f in fields(self.plants)))


def index_of(plants: Plants, ground: Ground, *, at_once: int = 1000) -> Index:
    """The index of plants on this ground (shares of the ground belong to the question)."""
    thickness = np.diff(DRAW_EDGES_M)
    least, amounts, soles = [], [], []
    for start in range(0, len(plants), at_once):
        asked = demands(plants.only(slice(start, start + at_once)), ground.soil_depth_m)
        density = asked / thickness[:, None]
        density[:, 1] *= _per_unit(plants.shape[start : start + at_once, 9])[:, None, None]
        least.append(by_group(density, np.minimum))
        amounts.append(by_group(asked[:, 0], np.add))
        soles.append(np.stack([alone(asked[:, good], ground.supply[good]) for good in range(2)], axis=1))
    density, amount = np.concatenate(least), np.concatenate(amounts)
    most = density.max(axis=(0, 2), initial=0.0)
    levels = np.outer(np.where(most > 0, most, 1.0), (np.arange(LEVELS) / LEVELS) ** 2)
    codes = np.stack(
        [np.searchsorted(levels[good], density[:, good], side="right") - 1 for good in range(2)], axis=1
    )
    hungers = _hungers(plants.shape[:, 9])
    scale = np.maximum(amount.max(axis=1), np.finfo(np.float32).tiny) / AMOUNT_STEPS
    water = plants.shape[:, 2]
    return Index(
        plants=plants,
        codes=codes.astype(np.uint8),
        amounts=np.floor(amount / scale[:, None].astype(np.float32)).clip(0, AMOUNT_STEPS).astype(np.uint16),
        scale=scale.astype(np.float32),
        whole=amount.sum(axis=1).astype(np.float32),
        per_water=np.where(water > 0, plants.shape[:, 3] / np.where(water > 0, water, 1), 0.0).astype(
            np.float32
        ),
        soles=np.concatenate(soles).astype(np.float32),
        seasons=_seasons(plants.activity),
        levels=levels,
        steps=np.maximum(np.searchsorted(hungers, plants.shape[:, 9], side="right") - 1, 0).astype(np.uint8),
        hungers=hungers,
    )


def _per_unit(hunger: Float32) -> FloatArray:
    """Roots to a demand of 1; none where nothing is asked."""
    asks = hunger.astype(np.float64)
    return np.divide(1.0, asks, out=np.zeros_like(asks), where=asks > 0)


def _hungers(hunger: Float32) -> FloatArray:
    """Steps from the least to the most that a unit of roots asks, (`HUNGERS`,)."""
    asks = hunger[hunger > 0].astype(np.float64)
    if not asks.size:
        return np.ones(HUNGERS)
    return np.geomspace(asks.min(), asks.max() * (1 + 1e-9), HUNGERS, endpoint=False) * (1 - 1e-9)


def _seasons(activity: Float32) -> npt.NDArray[np.uint8]:
    """The first active week and the one after the last, (n, 2); 0 and 1 where there is none."""
    active = activity > 0
    ends = np.where(active.any(axis=1), active.shape[1] - active[:, ::-1].argmax(axis=1), 1)
    return np.stack([active.argmax(axis=1), ends], axis=1).astype(np.uint8)


def by_group(cells: FloatArray, joined: np.ufunc) -> FloatArray:
    """(..., layers, weeks) joined within groups of cells: (..., groups)."""
    deep = joined.reduceat(cells, LAYER_GROUPS[:-1], axis=-2)
    found: FloatArray = joined.reduceat(deep, WEEK_GROUPS[:-1], axis=-1)
    return found.reshape(*found.shape[:-2], -1)
