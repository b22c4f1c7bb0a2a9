"""One plant in all its variants, as arrays: what it asks of soil and light, week by week."""

from dataclasses import dataclass
from functools import lru_cache
from typing import Generic, TypeVar

import numpy as np
import numpy.typing as npt

from kb.mixture import kernels
from kb.mixture.ground.fixed import fixed_by
from kb.mixture.ground.root_draw import Asking, taken_alone
from kb.mixture.ground.roots import COMPILED, Deepening, annual_growth, root_length
from kb.mixture.ground.share import FIXER_DRAW, Supply
from kb.mixture.profile import Estimate, Profile
from kb.mixture.season import FloatArray, seasons_of
from kb.mixture.sharing.sizes import height_factors, light_height, outline, root_depths, root_factors
from kb.mixture.site import Site
from kb.mixture.uncertainty import COLUMN, EDGE_OF_INTERVAL, Later, factors, moves, shifted
from kb.mixture.weeks.as_grown import growth_by_week, leaf_by_week

Thing = TypeVar("Thing")
KEPT = 64
"""So many plants' traits, years and stands are kept, 0.4 MB each with draws: another soil asks for them."""
LEAST_LIGHT_RANGE = 0.05
"""Light of a full crop is at least this much above that of none."""


@dataclass(frozen=True, slots=True, eq=False)
class Variants:
    """A plant's arrays; rows as in `uncertainty`. Demands are those of a full stand of it.

    ``activity``, ``leaf_area`` (rows, weeks); ``roots`` (rows, layers, weeks or 1); ``water_course`` and
    ``nitrate_course`` (rows, weeks), asked over all depths, in the units of `share`; ``hunger`` (rows,) the
    nitrate that a unit of roots asks in a week of full growth, g/m2;
    ``sole_water``, ``sole_nitrate`` (rows,) what that stand gets on open ground; ``height``, ``base``
    (rows,) m; ``nitrogen`` (rows,) g/m2 a season, and ``fixed`` from the air by one that fixes;
    ``leaf_height`` (rows,) m, where it gets its light beneath a tree.
    """

    profile: Profile
    d50: FloatArray
    activity: FloatArray
    leaf_area: FloatArray
    height: FloatArray
    base: FloatArray
    extinction: FloatArray
    crop_zero: FloatArray
    crop_full: FloatArray
    survive: FloatArray
    nitrogen: FloatArray
    fixed: FloatArray
    roots: FloatArray
    water_course: FloatArray
    nitrate_course: FloatArray
    hunger: FloatArray
    sole_water: FloatArray
    sole_nitrate: FloatArray
    fixer: npt.NDArray[np.bool_]
    leaf_height: FloatArray

    @property
    def water(self) -> Asking:
        """What it asks of water."""
        return Asking(self.water_course, self.roots)

    @property
    def nitrate(self) -> Asking:
        """What it asks of the soil's nitrate."""
        return Asking(self.nitrate_course, self.roots, self.hunger)


@dataclass(frozen=True, slots=True, eq=False)
class Traits:
    """What a plant brings with it wherever it grows, (rows,) each: a full stand of it, m and g/m2.

    ``from_soil`` is the share of its nitrogen that it takes from the soil, ``root_length`` the length of its
    roots in those of a full stand of most herbs. Rows may be one plant's
    variants, or many plants by their likely values.
    """

    d50: FloatArray
    d95: FloatArray
    leaf_area_index: FloatArray
    height: FloatArray
    base: FloatArray
    extinction: FloatArray
    crop_zero: FloatArray
    crop_full: FloatArray
    survive: FloatArray
    nitrogen: FloatArray
    fixed: FloatArray
    water_use: FloatArray
    from_soil: FloatArray
    root_length: FloatArray
    fixer: npt.NDArray[np.bool_]
    leaf_height: FloatArray


@dataclass(frozen=True, slots=True, eq=False)
class Courses:
    """A plant's year at a site: ``activity`` and ``leaf`` (rows, weeks), depth of roots reached by weeks.

    ``depth`` is (rows, weeks) for annuals, (rows, 1) for what stays.
    """

    activity: FloatArray
    leaf: FloatArray
    depth: FloatArray


@dataclass(frozen=True, slots=True, eq=False)
class FullStand:
    """Traits and courses put together: all that is asked but for the soil, which only cuts the ``roots``.

    ``leaf_area``, ``water_course``, ``nitrate_course`` (rows, weeks), ``hunger`` (rows,), as in `Variants`.
    """

    traits: Traits
    year: Courses
    leaf_area: FloatArray
    water_course: FloatArray
    nitrate_course: FloatArray
    hunger: FloatArray
    roots: Deepening


def plant_variants(
    profile: Profile,
    site: Site,
    supply: Supply,
    *,
    draws: int,
    sow_week: float | None = None,
    size: float = 1.0,
) -> Variants:
    """A plant at this site in all its variants; ``size`` (0-1) is how far it has grown up."""
    whole = kept_stand(Same(profile), seasons_of(site), sow_week, draws, size, Same(supply.edges))
    return on_ground(profile, whole, site.soil_depth_m, supply)


class Same(Generic[Thing]):
    """A profile or an array as a key by which it is itself, not like another: quick, where it is large."""

    __slots__ = ("thing",)

    def __init__(self, thing: Thing) -> None:
        self.thing = thing

    def __hash__(self) -> int:
        return id(self.thing)

    def __eq__(self, other: object) -> bool:
        return isinstance(other, Same) and self.thing is other.thing


@lru_cache(maxsize=KEPT)
def kept_stand(
    own: Same[Profile],
    seasons: Site,
    sow_week: float | None,
    draws: int,
    size: float,
    edges: Same[FloatArray],
) -> FullStand:
    """`full_stand` of a plant in all its variants, kept by the profile itself and what moves seasons."""
    traits, year = _kept_traits(own, draws, size), _kept_courses(own, seasons, sow_week, draws)
    return _stand_of(traits, year, _kept_depths(own, draws, size, edges).by_weeks(year.depth))


@lru_cache(maxsize=KEPT)
def _kept_traits(own: Same[Profile], draws: int, size: float) -> Traits:
    return traits_of(own.thing, draws=draws, size=size)


@lru_cache(maxsize=KEPT)
def _kept_depths(own: Same[Profile], draws: int, size: float, edges: Same[FloatArray]) -> Deepening:
    """Its roots at full depth; another week of sowing moves but the weeks in which they reach it."""
    traits = _kept_traits(own, draws, size)
    return Deepening.of(traits.d50, traits.d95, np.ones((len(traits.d50), 1)), edges.thing)


@lru_cache(maxsize=KEPT)
def _kept_courses(own: Same[Profile], seasons: Site, sow_week: float | None, draws: int) -> Courses:
    return courses_at(own.thing, seasons, sow_week, draws=draws)


def traits_of(profile: Profile, *, draws: int, size: float) -> Traits:
    """What a plant brings with it, in all its variants, at a size (0-1)."""
    z = moves(draws, again=not profile.root_d95_m.known)
    d50, d95 = root_depths(profile, root_factors(profile, z, draws), size)
    zero, full = _crop_light(profile, z)
    height, base = outline(profile, height_factors(profile, z), size)
    fixer = profile.nitrogen_fixing.value == "yes"
    return Traits(
        d50=d50,
        d95=d95,
        leaf_area_index=size * _moved(profile.leaf_area_index, z, "leaf-area-index"),
        height=height,
        base=base,
        extinction=_moved(profile.extinction, z, "extinction"),
        crop_zero=zero,
        crop_full=full,
        survive=shifted(profile.light_to_survive, z[:, COLUMN["light-to-crop"]]),
        nitrogen=_moved(profile.nitrogen_demand_g_m2, z, "nitrogen-uptake"),
        fixed=_moved(fixed_by(profile), z, "nitrogen-uptake"),
        water_use=_moved(profile.water_use, z, "water-use"),
        from_soil=np.full(len(z), FIXER_DRAW if fixer else 1.0),
        root_length=_moved(root_length(profile), z, "root-length"),
        fixer=np.full(len(z), fixer),
        leaf_height=np.full(len(z), light_height(float(height[0]))),
    )


def courses_at(profile: Profile, site: Site, sow_week: float | None, *, draws: int) -> Courses:
    """A plant's year at this site in all its variants."""
    later, leafs_later = _later(Same(profile), draws)
    growth = growth_by_week(profile, site, sow_week=sow_week)
    leaf = leaf_by_week(profile, site, sow_week=sow_week)
    depth = later.of(_depth_in(Same(growth))) if profile.annual else np.ones((later.rows, 1))
    return Courses(later.of(growth), leafs_later.of(leaf), depth)


@lru_cache(maxsize=KEPT)
def _later(own: Same[Profile], draws: int) -> tuple[Later, Later]:
    """How much later each row's growth and leaf are; an evergreen has no dates to be wrong about.

    The same in every year and for every week of sowing, so that it is kept.
    """
    profile = own.thing
    z = moves(draws, again=not profile.root_d95_m.known)
    still, moved = np.zeros(len(z)), z[:, COLUMN["growth-window"]] * profile.activity.doubt_weeks
    weeks = moved / EDGE_OF_INTERVAL
    by_growth = Later.by(still if profile.activity.evergreen else weeks)
    return by_growth, Later.by(still) if profile.leaf.evergreen else by_growth


@lru_cache(maxsize=KEPT)
def _depth_in(course: Same[FloatArray]) -> FloatArray:
    """How deep an annual's roots reach by weeks of a course: asked for in layers of either kind."""
    return annual_growth(course.thing)


def full_stand(traits: Traits, year: Courses, edges: FloatArray) -> FullStand:
    """Traits and courses put together: what the rows ask on any ground that is parted at these edges (m)."""
    return _stand_of(traits, year, Deepening.of(traits.d50, traits.d95, year.depth, edges))


def _stand_of(traits: Traits, year: Courses, roots: Deepening) -> FullStand:
    water, nitrate, hunger = _courses_asked(traits, year.activity)
    leaf_area = traits.leaf_area_index[:, None] * year.leaf
    return FullStand(traits, year, leaf_area, water, nitrate, hunger, roots)


def grown(profile: Profile, traits: Traits, year: Courses, soil_depth_m: float, supply: Supply) -> Variants:
    """Traits and courses put together on this ground."""
    return on_ground(profile, full_stand(traits, year, supply.edges), soil_depth_m, supply)


def on_ground(profile: Profile, stand: FullStand, soil_depth_m: float, supply: Supply) -> Variants:
    """What the rows of a stand ask on this ground, and get in stands of their own.

    ``profile`` is that of the rows; of many plants' rows it is the first's.
    """
    traits = stand.traits
    return as_rows(
        profile,
        stand,
        (traits.d50, traits.height, traits.base, stand.leaf_area, *_rooted(stand, soil_depth_m, supply)),
        traits.leaf_height,
    )


def as_rows(
    profile: Profile, stand: FullStand, size: tuple[FloatArray, ...], leaf_height: FloatArray
) -> Variants:
    """The rows of a stand with what its size and ground make of them.

    ``size``: D50, height, base of the leaves, leaf area, roots, and what a stand gets by itself of water and
    of nitrate.
    """
    traits = stand.traits
    d50, height, base, leaf_area, roots, sole_water, sole_nitrate = size
    return Variants(
        profile=profile,
        d50=d50,
        activity=stand.year.activity,
        leaf_area=leaf_area,
        height=height,
        base=base,
        extinction=traits.extinction,
        crop_zero=traits.crop_zero,
        crop_full=traits.crop_full,
        survive=traits.survive,
        nitrogen=traits.nitrogen,
        fixed=traits.fixed,
        roots=roots,
        water_course=stand.water_course,
        nitrate_course=stand.nitrate_course,
        hunger=stand.hunger,
        sole_water=sole_water,
        sole_nitrate=sole_nitrate,
        fixer=traits.fixer,
        leaf_height=leaf_height,
    )


def _rooted(
    stand: FullStand, soil_depth_m: float, supply: Supply
) -> tuple[FloatArray, FloatArray, FloatArray]:
    """Roots of a stand in a soil, and what it gets there of water and of nitrate by itself.

    All in one compiled loop where that is loaded.
    """
    loop = kernels.ready(COMPILED)
    if loop is not None:
        own, open_end = stand.roots, bool(soil_depth_m >= stand.roots.edges[-1])
        asked = (stand.water_course, stand.nitrate_course, supply.water, supply.nitrate)
        found: tuple[FloatArray, FloatArray, FloatArray] = loop.standing(
            own.cut(soil_depth_m), own.deeper, open_end, *asked
        )
        return found
    roots = stand.roots.in_soil(soil_depth_m)
    asking = (Asking(stand.water_course, roots), Asking(stand.nitrate_course, roots))
    return roots, taken_alone(asking[0], supply.water), taken_alone(asking[1], supply.nitrate)


def _moved(estimate: Estimate, z: FloatArray, trait: str) -> FloatArray:
    """A positive value in every row."""
    return estimate.likely * factors(estimate, z[:, COLUMN[trait]])


def _courses_asked(traits: Traits, activity: FloatArray) -> tuple[FloatArray, FloatArray, FloatArray]:
    """What a full stand asks of water and of the soil's nitrate, week by week, and a unit of its roots."""
    season = activity.sum(axis=1)
    water: FloatArray = traits.water_use[:, None] * activity
    in_a_week = traits.from_soil * traits.nitrogen / np.where(season > 0, season, 1.0)
    return water, in_a_week[:, None] * activity, in_a_week / traits.root_length


def _crop_light(profile: Profile, z: FloatArray) -> tuple[FloatArray, FloatArray]:
    """Light of no crop and of a full one in every row.

    Where either stands in for a missing record, a plant crops nothing in light that is known not to keep it:
    trials of the light of a full crop say nothing of that of none.
    """
    column = z[:, COLUMN["light-to-crop"]]
    zero = shifted(profile.light_to_crop_zero, column)
    on_record = profile.light_to_crop_zero.known and profile.light_to_crop_full.known
    if profile.light_to_survive.known and not on_record:
        zero = np.maximum(zero, shifted(profile.light_to_survive, column))
    full = shifted(profile.light_to_crop_full, column)
    return zero, np.maximum(full, zero + LEAST_LIGHT_RANGE)
