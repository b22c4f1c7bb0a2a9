"""How large a plant is at an age, and what a measured tree will become.

Size (height and crown alike) follows a Chapman-Richards curve: (1 - e^-k(t + planted))^p of the
final size, t years after planting. Only the form of the curve is from forestry; its figures are
our judgement, all in `CURVES`. They put an orchard tree at 0.40 of its final crown in year 3 (the
example of `trade` section 1) and at 0.8 in year 10. A tree that ends taller than an orchard tree
takes longer: its pace falls with the square root of its final height; so slowed, the curve stays
within 0.1 of planted trees of known age (McPherson et al. 2016; see the tests).
"""

from dataclasses import dataclass, replace

import numpy as np

from kb.mixture.counting import so_many
from kb.mixture.profile import Profile
from kb.mixture.site import Stand, Tree


@dataclass(frozen=True, slots=True)
class Curve:
    """``pace`` per year, ``power`` (above 1: slow at first), ``planted`` age at planting, years."""

    pace: float
    power: float
    planted: float


CURVES: dict[str, Curve] = {
    "tree": Curve(0.17, 1.3, 1.0),
    "shrub": Curve(0.40, 1.2, 1.0),
    "subshrub": Curve(0.80, 1.2, 0.5),
    "cane": Curve(1.20, 1.2, 0.5),
    "climber-woody": Curve(0.40, 1.2, 1.0),
    "climber-herbaceous": Curve(1.50, 1.0, 0.3),
    "fern": Curve(0.80, 1.0, 0.3),
    "graminoid": Curve(1.50, 1.0, 0.3),
    "herb": Curve(1.50, 1.0, 0.3),
}
"""Judgement, all of it. Nine tenths of the final size after about: tree 14 years (5 m; 24 at 16 m),
shrub and woody climber 5, subshrub 2 to 3, cane 2, fern 3, others under 2."""

ORCHARD_HEIGHT_M = 5.0
"""Final height at which the pace of ``tree`` holds; lower trees are not quicker than that."""
YOUNG_BASE_SHARE = 0.4
"""A young crown begins no higher than this share of the tree's height: judgement."""
SPARSE_LEAF = 0.4
"""A young crown is also thinner: leaf area per crown area from 0.4 of its final value, rising
with size. Judgement."""


def size_share(age_years: float, *, growth_form: str, final_height_m: float | None = None) -> float:
    """Share (0-1) of its final height and crown that a plant has reached, years after planting.

    ``final_height_m`` slows a tree that ends taller than an orchard tree.
    """
    if not age_years >= 0:
        raise ValueError(f"age in years must be 0 or more, not {age_years:g}")
    return _share_on_curve(age_years + _curve(growth_form).planted, growth_form, final_height_m)


def tree_at(profile: Profile, age_years: float | None) -> Tree:
    """The tree of this profile, years after planting; None means full-grown."""
    share = 1.0 if age_years is None else _share(profile, age_years)
    height = profile.height_m.likely * share
    return Tree(
        height_m=height,
        crown_radius_m=profile.crown_width_m.likely / 2 * share,
        crown_base_m=min(profile.crown_base_m.likely, YOUNG_BASE_SHARE * height),
        leaf_area_index=profile.leaf_area_index.likely * _leaf_share(share),
        planted_years=age_years,
    )


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
    height, radius, assumed = _outline(usual, height_m, crown_radius_m)
    notes = list(assumed)
    if crown_base_m is None:
        crown_base_m = min(profile.crown_base_m.likely, YOUNG_BASE_SHARE * height)
        notes.append(f"lowest leaves at {crown_base_m:.1f} m: usual for the kind at this height.")
    if leaf_area_index is None:
        leaf_area_index = usual.leaf_area_index
        notes.append(f"leaf area index {leaf_area_index:.1f}: {_whose_leaf(profile)}.")
    if age_years is None:
        notes.append("age not given: taken as established.")
    tree = Tree(height, radius, crown_base_m, leaf_area_index, stand, age_years)
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
    grown = _years_grown(tree, profile)
    now, later = (
        _share_on_curve(at, _form(profile), profile.height_m.likely) for at in (grown, grown + years)
    )
    times = later / now
    height, usual_base = tree.height_m * times, profile.crown_base_m.likely
    base = tree.crown_base_m
    if base < usual_base:
        base = min(usual_base, base * times)
    leaf = tree.leaf_area_index * _leaf_share(later) / _leaf_share(now)
    densest = max(profile.leaf_area_index.likely, tree.leaf_area_index)
    return replace(
        tree,
        height_m=height,
        crown_radius_m=tree.crown_radius_m * times,
        crown_base_m=base,
        leaf_area_index=min(leaf, densest),
        planted_years=None if tree.planted_years is None else tree.planted_years + years,
    )


def _outline(
    usual: Tree, height_m: float | None, crown_radius_m: float | None
) -> tuple[float, float, tuple[str, ...]]:
    """Height, crown radius, and what of them was assumed."""
    wide = usual.crown_radius_m / usual.height_m
    if height_m is not None and crown_radius_m is not None:
        return height_m, crown_radius_m, ()
    if height_m is not None:
        radius = height_m * wide
        note = f"crown radius {radius:.1f} m: from its height, in the proportion usual for the kind."
        return height_m, radius, (note,)
    if crown_radius_m is not None:
        height = crown_radius_m / wide
        note = f"height {height:.1f} m: from its crown, in the proportion usual for the kind."
        return height, crown_radius_m, (note,)
    years = usual.planted_years
    age = "full-grown" if years is None else f"{so_many(years, 'year')} after planting"
    note = f"height {usual.height_m:.1f} m and crown radius {usual.crown_radius_m:.1f} m: taken as {age}."
    return usual.height_m, usual.crown_radius_m, (note,)


def _curve(growth_form: str) -> Curve:
    if growth_form not in CURVES:
        raise ValueError(f"no growth curve for '{growth_form}'; known forms: {', '.join(CURVES)}")
    return CURVES[growth_form]


def _pace(growth_form: str, final_height_m: float | None) -> float:
    pace = _curve(growth_form).pace
    if growth_form != "tree" or final_height_m is None:
        return pace
    return pace * min(1.0, float(np.sqrt(ORCHARD_HEIGHT_M / final_height_m)))


def _share_on_curve(years: float, growth_form: str, final_height_m: float | None) -> float:
    """Share reached after ``years`` of growth, those in the nursery counted."""
    grown = 1 - np.exp(-_pace(growth_form, final_height_m) * years)
    return float(grown ** _curve(growth_form).power)


def _form(profile: Profile) -> str:
    """The growth form; a tree where none is known, since what is grown here stands over others."""
    return profile.growth_form.value or "tree"


def _share(profile: Profile, age_years: float) -> float:
    return size_share(age_years, growth_form=_form(profile), final_height_m=profile.height_m.likely)


def _years_grown(tree: Tree, profile: Profile) -> float:
    """Years of growth behind a tree, nursery included: by its age, else by its height."""
    curve = _curve(_form(profile))
    if tree.planted_years is not None:
        return tree.planted_years + curve.planted
    reached = min(1.0, tree.height_m / profile.height_m.likely)
    missing = 1 - reached ** (1 / curve.power)
    if missing <= 0:
        return float("inf")
    return float(-np.log(missing)) / _pace(_form(profile), profile.height_m.likely)


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
