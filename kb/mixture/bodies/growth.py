"""How large a plant is at an age, and what a measured tree will become.

Size (height and crown alike, but of palms and grafted trees) follows a Chapman-Richards curve:
(1 - e^-k(t + planted))^p of the final size, t years after planting. Its figures are our judgement, all in
`CURVES`. They put an orchard tree at 0.40 of its final crown in year 3 (the example of `trade` section 1) and
at 0.8 in year 10. A grafted tree is set out as a maiden (`MAIDEN_M`), and a palm has its whole width of
leaves before it has a stem (`PALM_CROWN`). Of some pioneers of the tropics it is on record what height they
gain in a year; they keep to that.

All kinds gain much the same height a year while young, so one that ends taller takes longer in
proportion, and evergreens take longer still: both are checked on heights at an age of 30 kinds of trees in
city tree surveys, yield tables and plantations (`tests/reference/height_at_age.csv`). Bearing shade goes
with no slower pace there. What single kinds do beyond that is doubt (`PACE_LOG_SD`). Of shrubs, and of yew
and box, no such heights were found: their pace is judgement.
"""

from dataclasses import dataclass, replace
from math import exp, log

import numpy as np

from kb.mixture.counting import so_many
from kb.mixture.profile import Profile
from kb.mixture.site import Stand, Tree


@dataclass(frozen=True, slots=True)
class Curve:
    """``pace`` per year, ``power`` (above 1: slow at first), ``planted`` age at planting, years.

    The pace holds up to a final height of ``up_to_m``; None: at any.
    """

    pace: float
    power: float
    planted: float
    up_to_m: float | None = None


CURVES: dict[str, Curve] = {
    "tree": Curve(0.17, 1.3, 1.0, 5.0),
    "shrub": Curve(0.40, 1.2, 1.0, 2.0),
    "subshrub": Curve(0.80, 1.2, 0.5),
    "cane": Curve(1.20, 1.2, 0.5),
    "climber-woody": Curve(0.40, 1.2, 1.0),
    "climber-herbaceous": Curve(1.50, 1.0, 0.3),
    "fern": Curve(0.80, 1.0, 0.3),
    "graminoid": Curve(1.50, 1.0, 0.3),
    "herb": Curve(1.50, 1.0, 0.3),
}
"""Judgement, all of it; that of trees is checked. Nine tenths of the final size after about: tree 14 years
(5 m; 47 at 16 m), shrub 5 (2 m; 18 at 6 m), woody climber 5, subshrub 2 to 3, cane 2, fern 3, others less."""

PALM_CROWN = Curve(0.4, 1.2, 0.5)
"""The width of a palm's leaves: nine tenths of it after six years, whatever the stem (common practice:
coconut and date palms stand as tufts of full leaves for 3 to 6 years; the pace is judgement)."""
MAIDEN_M, MAIDEN_SHARE = 1.2, 0.6
"""Height at which a grafted tree is set out, m, and at most as a share of a dwarf's final height: maidens of
1 to 1.8 m, whips of one season from the bud (orchard practice; the figures are judgement)."""
PLANTED_M = 0.45
"""Height (m) at which a tree is set out whose yearly gain is on record: that of any other on its curve."""
EVERGREEN_PACE = 0.63
"""Evergreen trees and shrubs of lands with a winter grow at so many times the pace of others: fitted to
loquat, olive, holm oak, pine and holly (`tests/reference/height_at_age.csv`). Those of the tropics do not."""
PACE_LOG_SD = 0.3
"""Doubt of a height that is known by age alone: what is left between those kinds and the curve."""
YOUNG_BASE_SHARE = 0.4
"""A crown begins no higher than this share of the tree's height: judgement."""
LOW_BASE_SHARE = 0.05
"""The same where the lowest branches are still there: as on a shrub (judgement)."""
BRANCHED_YEARS, CLEARED_YEARS = 15.0, 30.0
"""A tree that stands free keeps its lowest branches so long after planting, and has lost them so long after,
unless it keeps them for good (judgement)."""
KEEPS_BRANCHES, LOSES_BRANCHES = 0.07, 0.35
"""Shares of open light lived on: a tree that lives on the first (tolerant of shade) keeps its lowest branches
alive in its own shade, one that wants the second (intolerant) loses them, those between lose part of them,
evenly by the classes of tolerance, each about twice the last (`LEAF_AREA_BY_SHADE`)."""
EVERGREEN_KEEPS, EVERGREEN_LOSES = 0.20, 0.40
"""The same for evergreens, that catch light in winter too: the middle class; what pines and palms want."""
SPARSE_LEAF = 0.4
"""A young crown is also thinner: leaf area per crown area from 0.4 of its final value, rising
with size. Judgement."""


def size_share(
    age_years: float, *, growth_form: str, final_height_m: float | None = None, evergreen: bool = False
) -> float:
    """Share (0-1) of its final height and crown that a plant has reached, years after planting.

    ``final_height_m`` slows a tree that ends taller than an orchard tree and a shrub taller than a man;
    ``evergreen`` one of these two that keeps its leaves where there is a winter.
    """
    if not age_years >= 0:
        raise ValueError(f"age in years must be 0 or more, not {age_years:g}")
    curve = _curve(growth_form)
    return _on_curve(curve, _pace(curve, final_height_m, evergreen), age_years + curve.planted)


def share_grown(profile: Profile, age_years: float, form: str = "tree") -> float:
    """Share of its final size that a plant of this profile has reached; ``form`` where none is known."""
    if not age_years >= 0:
        raise ValueError(f"age in years must be 0 or more, not {age_years:g}")
    curve = _curve(profile.growth_form.value or form)
    pace = _pace_of(profile, curve)
    return _on_curve(curve, pace, age_years + _set_out(profile, curve, pace))


def height_grown(profile: Profile, age_years: float) -> float:
    """Share of its final height: as `share_grown`, but of a grafted tree, which begins as a maiden."""
    curve = _curve(_form(profile))
    return _on_curve(curve, _pace_of(profile, curve), age_years + _head_start(profile, curve))


def crown_grown(profile: Profile, age_years: float) -> float:
    """Share of its final crown width: as `share_grown`, but of a palm."""
    if profile.palm:
        return _on_curve(PALM_CROWN, PALM_CROWN.pace, age_years + PALM_CROWN.planted)
    return share_grown(profile, age_years)


def _head_start(profile: Profile, curve: Curve) -> float:
    """Years of growth, on its curve, that stand behind its height when it is planted."""
    final_m, pace = profile.height_m.likely, _pace_of(profile, curve)
    if profile.grafted:
        return max(curve.planted, _years_at(min(MAIDEN_M / final_m, MAIDEN_SHARE), curve, pace))
    return _set_out(profile, curve, pace)


def _set_out(profile: Profile, curve: Curve, pace: float) -> float:
    """Years of growth behind a young plant that is set out."""
    if profile.height_gain_m is None or curve.up_to_m is None:
        return curve.planted
    return min(curve.planted, _years_at(min(1.0, PLANTED_M / profile.height_m.likely), curve, pace))


def tree_at(profile: Profile, age_years: float | None) -> Tree:
    """The tree of this profile, years after planting; None means full-grown."""
    share = 1.0 if age_years is None else crown_grown(profile, age_years)
    height = profile.height_m.likely * (1.0 if age_years is None else height_grown(profile, age_years))
    return Tree(
        height_m=height,
        crown_radius_m=profile.crown_width_m.likely / 2 * share,
        crown_base_m=usual_base(profile, height, age_years),
        leaf_area_index=profile.leaf_area_index.likely * _leaf_share(share),
        planted_years=age_years,
        by_age=age_years is not None,
        roots_80_m=_most_roots_m(profile, height),
        ends_m=_ends_m(profile, height, age_years),
    )


def _ends_m(profile: Profile, height_m: float, age_years: float | None) -> float | None:
    """The height (m) that a tree of this height and age ends at: on its course, not above its kind."""
    if age_years is None:
        return None
    return min(height_m / height_grown(profile, age_years), max(height_m, profile.height_m.high))


def _most_roots_m(profile: Profile, height_m: float) -> float | None:
    """The radius of most roots of a tree of this height: as on record, less where it is not grown up.

    Roots of palms start from one bole and reach no farther as the stem lengthens.
    """
    grown = profile.root_spread_80_m
    return None if grown is None else grown.likely * min(1.0, height_m / profile.height_m.likely)


def usual_base(profile: Profile, height_m: float, age_years: float | None, stand: Stand = "lone") -> float:
    """Height (m) of the lowest leaves that is usual for the kind at this height, age and stand.

    In a closed stand, on a stem (fruit trees) and where a base is on record: that of the grown
    tree, or the highest share of a young one. A tree that stands free has leaves near the ground for as
    long as its lowest branches live: for good where it bears its own shade, else till it is old enough, and
    the less of it is bare the more shade it bears.
    """
    usual = profile.crown_base_m.likely
    free = stand != "closed" and _form(profile) == "tree"
    if not free or profile.on_a_stem.value == "yes" or profile.crown_base_m.known:
        return min(usual, YOUNG_BASE_SHARE * height_m)
    cleared = 1.0 if age_years is None else (age_years - BRANCHED_YEARS) / (CLEARED_YEARS - BRANCHED_YEARS)
    share = LOW_BASE_SHARE + (YOUNG_BASE_SHARE - LOW_BASE_SHARE) * min(1.0, max(0.0, cleared))
    low, lost = LOW_BASE_SHARE * height_m, min(usual, share * height_m)
    return lost if lost <= low else low + (lost - low) * _branches_lost(profile)


def tree_from_measure(
    profile: Profile,
    *,
    height_m: float | None = None,
    crown_radius_m: float | None = None,
    crown_base_m: float | None = None,
    leaf_area_index: float | None = None,
    age_years: float | None = None,
    stand: Stand = "lone",
) -> tuple[Tree, tuple[str, ...]]:
    """A tree from whatever was measured, and in words what had to be assumed for the rest.

    What is missing is taken from the kind: the crown in proportion to the height (or the other way
    round), the base and the leaf as they are at that size. With neither height nor crown the
    tree is that of `tree_at`. Raises ValueError where the measures cannot belong to one tree.
    """
    usual = tree_at(profile, age_years)
    height, radius, assumed = _outline(usual, profile, height_m, crown_radius_m)
    notes = list(assumed)
    if crown_base_m is None:
        crown_base_m = usual_base(profile, height, age_years, stand)
        notes.append(f"lowest leaves at {crown_base_m:.1f} m: {_why_so_low(profile, height, crown_base_m)}.")
    if leaf_area_index is None:
        leaf_area_index = usual.leaf_area_index
        notes.append(f"leaf area index {leaf_area_index:.1f}: {_whose_leaf(profile)}.")
    if age_years is None:
        notes.append("age not given: taken as established.")
    by_age = usual.by_age and height_m is None and crown_radius_m is None
    roots_m = _most_roots_m(profile, height)
    ends_m = usual.ends_m if height == usual.height_m else _ends_m(profile, height, age_years)
    tree = Tree(height, radius, crown_base_m, leaf_area_index, stand, age_years, by_age, roots_m, ends_m)
    _refuse_impossible(tree)
    return tree, tuple(notes)


def _whose_leaf(profile: Profile) -> str:
    """What the usual leaf area rests on: its own records, the shade that it bears itself, or its form."""
    if profile.leaf_area_index.known:
        return "what is on record for the kind, at this size"
    form = profile.growth_form.value or "plant"
    alike = "that bear as much shade themselves" if profile.leaf_area_index.records else "in general"
    return f"not on record for {profile.name}, usual for {form}s {alike}"


def grow(tree: Tree, profile: Profile, years: float) -> Tree:
    """The tree after more years: along its kind's curve, never smaller than it is.

    With its age known it keeps its own final size (a dwarfing stock stays small). Without, it is
    put on the curve where its height is, and grows to the size usual for its kind; a tree already
    that tall stays as it is.
    """
    if not years >= 0:
        raise ValueError(f"years to grow must be 0 or more, not {years:g}")
    taller, wider, (thin, dense) = _times(tree, profile, years)
    height, age = tree.height_m * taller, tree.planted_years
    was, will_be = (
        usual_base(profile, high, None if age is None else age + more, tree.stand)
        for high, more in ((tree.height_m, 0.0), (height, years))
    )
    base = tree.crown_base_m
    if was < will_be:
        base = max(base, min(profile.crown_base_m.likely, base * will_be / was))
    leaf = tree.leaf_area_index * _leaf_share(dense) / _leaf_share(thin)
    densest = max(profile.leaf_area_index.likely, tree.leaf_area_index)
    return replace(
        tree,
        height_m=height,
        crown_radius_m=tree.crown_radius_m * wider,
        crown_base_m=base,
        leaf_area_index=min(leaf, densest),
        planted_years=None if age is None else age + years,
        roots_80_m=_most_roots_m(profile, height),
    )


def _outline(
    usual: Tree, profile: Profile, height_m: float | None, crown_radius_m: float | None
) -> tuple[float, float, tuple[str, ...]]:
    """Height, crown radius, and what of them was assumed."""
    wide = usual.crown_radius_m / usual.height_m
    if height_m is not None and crown_radius_m is not None:
        return height_m, crown_radius_m, ()
    if height_m is not None:
        radius, how = height_m * wide, "in the proportion usual for the kind"
        if profile.palm:
            radius, how = _palm_radius(profile, height_m), "as wide as palms of that height have grown"
        return height_m, radius, (f"crown radius {radius:.1f} m: from its height, {how}.",)
    if crown_radius_m is not None:
        height = crown_radius_m / wide
        note = f"height {height:.1f} m: from its crown, in the proportion usual for the kind."
        return height, crown_radius_m, (note,)
    years = usual.planted_years
    age = "full-grown" if years is None else f"{so_many(years, 'year')} after planting"
    taken = f"taken as {age}"
    if usual.by_age:
        taken = f"by age alone ({age}); measure it, since trees of one age differ by half and more"
    note = f"height {usual.height_m:.1f} m and crown radius {usual.crown_radius_m:.1f} m: {taken}."
    return usual.height_m, usual.crown_radius_m, (note,)


def _palm_radius(profile: Profile, height_m: float) -> float:
    """Crown radius (m) of a palm so high: it widens with its years, not with its stem."""
    curve = _curve(_form(profile))
    grown = _years_at(min(1.0, height_m / profile.height_m.likely), curve, _pace_of(profile, curve))
    return profile.crown_width_m.likely / 2 * _on_curve(PALM_CROWN, PALM_CROWN.pace, grown)


def _curve(growth_form: str) -> Curve:
    if growth_form not in CURVES:
        raise ValueError(f"no growth curve for '{growth_form}'; known forms: {', '.join(CURVES)}")
    return CURVES[growth_form]


def _pace(curve: Curve, final_height_m: float | None, evergreen: bool, *, dwarf: bool = False) -> float:
    """Pace per year: for the height that it ends at, and slower again where it is evergreen.

    ``dwarf``: a stock ends a tree's growth and does not slow its beginning.
    """
    if curve.up_to_m is None:
        return curve.pace
    tall = 1.0 if final_height_m is None else curve.up_to_m / final_height_m
    return curve.pace * (tall if dwarf else min(1.0, tall)) * (EVERGREEN_PACE if evergreen else 1.0)


def _pace_of(profile: Profile, curve: Curve) -> float:
    gain = profile.height_gain_m
    if gain is not None and curve.up_to_m is not None:
        # Steepest after ln(power)/pace years, where the curve rises by so many times its pace a year.
        steepest = float((1 - 1 / curve.power) ** (curve.power - 1))
        return gain.likely / (steepest * profile.height_m.likely)
    return _pace(curve, profile.height_m.likely, _slow_evergreen(profile), dwarf=profile.grafted)


def _slow_evergreen(profile: Profile) -> bool:
    return profile.leaf.evergreen and not profile.of_the_tropics


def _on_curve(curve: Curve, pace: float, years: float) -> float:
    """Share reached after ``years`` of growth, those in the nursery counted."""
    share: float = (1 - exp(-pace * years)) ** curve.power
    return share


def _branches_lost(profile: Profile) -> float:
    """How far (0-1) its lowest branches have died in the shade of its own crown, once it is old enough."""
    lives_on = profile.light_to_survive
    if not lives_on.known:
        return 1.0
    keeps, loses = KEEPS_BRANCHES, LOSES_BRANCHES
    if profile.leaf.evergreen:
        keeps, loses = EVERGREEN_KEEPS, EVERGREEN_LOSES
    return min(1.0, max(0.0, log(lives_on.likely / keeps) / log(loses / keeps)))


def _why_so_low(profile: Profile, height_m: float, base_m: float) -> str:
    """What the usual height of the lowest leaves rests on."""
    if base_m < min(profile.crown_base_m.likely, YOUNG_BASE_SHARE * height_m):
        return "a tree that stands free keeps its lower branches; measure them where they were cut off"
    return "usual for the kind at this height"


def _form(profile: Profile) -> str:
    """The growth form; a tree where none is known, since what is grown here stands over others."""
    return profile.growth_form.value or "tree"


def _times(tree: Tree, profile: Profile, years: float) -> tuple[float, float, tuple[float, float]]:
    """By how many times height and crown grow in so many years, and the shares of its crown now and then."""
    curve, age = _curve(_form(profile)), tree.planted_years
    if age is not None:
        now, later = (crown_grown(profile, at) for at in (age, age + years))
        return height_grown(profile, age + years) / height_grown(profile, age), later / now, (now, later)
    pace = _pace_of(profile, curve)
    grown = _years_at(min(1.0, tree.height_m / profile.height_m.likely), curve, pace)
    short, tall = (_on_curve(curve, pace, at) for at in (grown, grown + years))
    now, later = short, tall
    if profile.palm:
        now, later = (_on_curve(PALM_CROWN, PALM_CROWN.pace, at) for at in (grown, grown + years))
    return tall / short, later / now, (now, later)


def _years_at(reached: float, curve: Curve, pace: float) -> float:
    """Years of growth, those in the nursery counted, after which a share of the final size is reached."""
    missing = 1 - reached ** (1 / curve.power)
    return float("inf") if missing <= 0 else float(-np.log(missing)) / pace


def _leaf_share(share: float) -> float:
    return SPARSE_LEAF + (1 - SPARSE_LEAF) * share


def _refuse_impossible(tree: Tree) -> None:
    for what, value in (
        ("height", tree.height_m),
        ("crown radius", tree.crown_radius_m),
        ("leaf area index", tree.leaf_area_index),
    ):
        if not (np.isfinite(value) and value > 0):
            raise ValueError(f"the tree's {what} must be above 0, not {value:g}")
    if not 0 <= tree.crown_base_m < tree.height_m:
        raise ValueError(
            f"the crown base ({tree.crown_base_m:g} m) must lie between the ground and the top of the "
            f"tree ({tree.height_m:g} m): give a lower base or a taller tree"
        )
