"""How deep the soil of a site is, against the root that is dug and the roots that hold and feed a plant."""

from math import ceil

from kb.mixture.bodies.pieces import DUG_M
from kb.mixture.limits import Limit
from kb.mixture.profile import Profile
from kb.mixture.results import Verdict

NEEDED_SHARE = 0.5
"""Share of its usual rooting depth (95 % of the roots) below which a plant is cramped (judgement)."""
SHORT_SHARE = 0.5
"""Under this share of what it needs it does poorly (judgement)."""
ENOUGH_TREE_M, ENOUGH_WOODY_M, ENOUGH_HERB_M = 1.0, 0.6, 0.45
"""Soil that is enough for any tree, other woody plant or herb, however deep it would root elsewhere:
roofs and tubs are filled 0.6-1 m for trees, 0.45-0.6 m for shrubs, 0.2-0.45 m for crops (common practice)."""

DEEPER = "the soil is made deep enough for what stands in it, as in a raised bed"
"""One deed for all of them: soil that is deep enough for the deepest is so for the others."""


def depth_limits(profile: Profile, soil_depth_m: float) -> tuple[Limit, ...]:
    """What shallow soil holds against one plant: the root to be dug first, else its rooting as a whole."""
    limit = _root_too_long(profile, soil_depth_m) or _shallow(profile, soil_depth_m)
    return () if limit is None else (limit,)


def needed_m(profile: Profile) -> float:
    """Depth of soil (m) below which its roots are cramped."""
    tree = profile.growth_form.value == "tree"
    enough = ENOUGH_TREE_M if tree else ENOUGH_WOODY_M if profile.woody else ENOUGH_HERB_M
    return min(NEEDED_SHARE * profile.root_d95_m.likely, enough)


def _root_too_long(profile: Profile, soil_depth_m: float) -> Limit | None:
    """A crop that is dug from deeper than the soil goes forks and stays short."""
    dug = profile.dug_depth_m
    if dug.likely < DUG_M or dug.likely <= soil_depth_m:
        return None
    text = (
        f"{profile.name} is dug from {_cm(dug.likely)} cm, and the soil here is {_cm(soil_depth_m)} cm deep"
    )
    return Limit(
        kind="roots",
        of=profile.id,
        text=f"{text[0].upper()}{text[1:]}: what is dug stays short.",
        records=dug.records,
        ceiling="poor",
        lift=DEEPER,
        check=not dug.known,
    )


def _shallow(profile: Profile, soil_depth_m: float) -> Limit | None:
    """Far less soil than it usually roots through: it dries out first, and a tree is blown over."""
    need, roots = needed_m(profile), profile.root_d95_m
    if soil_depth_m >= need:
        return None
    ceiling: Verdict = "poor" if soil_depth_m < SHORT_SHARE * need else "workable"
    about = "" if roots.known else ", as far as can be told from its kind"
    text = f"{profile.name} roots about {_cm(roots.likely)} cm deep{about}, and wants {_enough_cm(need)} cm"
    return Limit(
        kind="roots",
        of=profile.id,
        text=f"{text[0].upper()}{text[1:]} or more; the soil here is {_cm(soil_depth_m)} cm deep.",
        records=roots.records,
        ceiling=ceiling,
        lift=DEEPER,
        check=not roots.known,
        thin=roots.origin == "recalled",
    )


def _cm(depth_m: float) -> int:
    return round(100 * depth_m)


def _enough_cm(depth_m: float) -> int:
    """A depth as it is said to whoever fills a bed: up to the next 5 cm."""
    return 5 * ceil(round(20 * depth_m, 6))
