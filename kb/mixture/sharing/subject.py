"""One plant made ready to be judged: turned into arrays once, for all questions at one site."""

from dataclasses import dataclass
from functools import lru_cache

from kb.mixture.ground.share import CARE, Supply
from kb.mixture.profile import Profile
from kb.mixture.sharing.clearing import cleared
from kb.mixture.sharing.place import Place, cut_to, open_soil
from kb.mixture.sharing.sizes import size_at
from kb.mixture.sharing.standing_tree import as_it_stands, as_standing, root_size
from kb.mixture.sharing.variants import Same, Variants, plant_variants
from kb.mixture.site import Site, Tree
from kb.mixture.uncertainty import DRAWS
from kb.mixture.weeks.as_grown import as_sown

KEPT, KEPT_LIKELY, KEPT_TREES = 16, 128, 16
"""So many plants asked for last are kept ready, with draws (some 2 MB each) and by their likely values
(0.1 MB each): the next question is often of one of them."""


@dataclass(frozen=True, slots=True, eq=False)
class Subject:
    """One plant ready to be judged: its likely values in fine layers, all variants in coarse ones.

    Without draws there are no variants, and ``rows`` is ``likely``. ``profile`` is of the size that it has
    here, ``kind`` as on record, the same object whatever its size: what no size moves is kept by that.
    """

    profile: Profile
    likely: Variants
    rows: Variants
    draws: int
    age_years: float | None
    kind: Profile


def prepare_tree(
    profile: Profile, tree: Tree, site: Site, given: frozenset[str], *, draws: int = DRAWS
) -> Subject:
    """A tree as it stands at this site, in all its variants."""
    standing, likely = _tree_likely(Same(profile), tree, site, given & CARE)
    coarse, size = open_soil(site, fine=False, given=given), root_size(profile, tree)
    rows = as_standing(standing, profile, site, coarse, draws=draws, root_size=size)
    return Subject(standing, likely, rows, draws, tree.planted_years, profile)


def prepare_likely_tree(profile: Profile, tree: Tree, site: Site, given: frozenset[str]) -> Subject:
    """The same without draws, for what is judged by its likely values alone."""
    standing, likely = _tree_likely(Same(profile), tree, site, given & CARE)
    return Subject(standing, likely, likely, 0, tree.planted_years, profile)


@lru_cache(maxsize=KEPT_TREES)
def _tree_likely(
    own: Same[Profile], tree: Tree, site: Site, care: frozenset[str]
) -> tuple[Profile, Variants]:
    """A tree as it stands, and by its likely values: it is asked for again, at another place beneath it."""
    standing, size = as_it_stands(own.thing, tree), root_size(own.thing, tree)
    soil = open_soil(site, fine=True, given=care)
    return standing, as_standing(standing, own.thing, site, soil, draws=0, root_size=size)


def prepare(
    profile: Profile,
    place: Place,
    *,
    sow_week: float | None = None,
    clear_week: float | None = None,
    age_years: float | None = None,
    draws: int = DRAWS,
) -> Subject:
    """A plant as it grows at this place's site, in all its variants.

    A sowing week moves annuals alone, so that one question can be asked of a whole list; the same
    holds for the week in which they are cleared.
    """
    profile = as_sown(cut_to(profile, place.kept_m), place.site, sow_week)
    standing = (place.site, sow_week if profile.annual else None, age_years)
    likely = _likely(profile, place.fine.open, *standing)
    rows = _drawn(profile, place.coarse.open, *standing, draws) if draws else likely
    if clear_week is not None and profile.annual:
        likely = cleared(likely, place.fine.open, clear_week)
        rows = cleared(rows, place.coarse.open, clear_week) if draws else likely
    return Subject(profile, likely, rows, draws, age_years, profile)


def prepare_likely(
    profile: Profile,
    site: Site,
    given: frozenset[str],
    *,
    sow_week: float | None,
    age_years: float | None,
) -> Subject:
    """`prepare` without draws, for what grows at a site, wherever it stands there."""
    profile = as_sown(profile, site, sow_week)
    week = sow_week if profile.annual else None
    likely = _likely(profile, open_soil(site, fine=True, given=given), site, week, age_years)
    return Subject(profile, likely, likely, 0, age_years, profile)


@lru_cache(maxsize=KEPT_LIKELY)
def _likely(
    profile: Profile, fine: Supply, site: Site, sow_week: float | None, age_years: float | None
) -> Variants:
    size = size_at(profile, age_years)
    return plant_variants(profile, site, fine, draws=0, sow_week=sow_week, size=size)


@lru_cache(maxsize=KEPT)
def _drawn(
    profile: Profile, coarse: Supply, site: Site, sow_week: float | None, age_years: float | None, draws: int
) -> Variants:
    size = size_at(profile, age_years)
    return plant_variants(profile, site, coarse, draws=draws, sow_week=sow_week, size=size)
