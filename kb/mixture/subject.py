"""One plant made ready to be judged: turned into arrays once, for all questions at one site."""

from dataclasses import dataclass
from functools import lru_cache

from kb.mixture.place import Place, as_it_stands, open_soil, root_size
from kb.mixture.profile import Profile
from kb.mixture.share import Supply
from kb.mixture.site import Site, Tree
from kb.mixture.uncertainty import DRAWS
from kb.mixture.variants import Variants, cleared, plant_variants, size_at

KEPT = 16
"""So many plants asked for last are kept ready, some 2 MB each: the next question is often of one of them."""


@dataclass(frozen=True, slots=True, eq=False)
class Subject:
    """One plant ready to be judged: its likely values in fine layers, all variants in coarse ones.

    Without draws there are no variants, and ``rows`` is ``likely``.
    """

    profile: Profile
    likely: Variants
    rows: Variants
    draws: int
    age_years: float | None = None


def prepare_tree(
    profile: Profile, tree: Tree, site: Site, given: frozenset[str], *, draws: int = DRAWS
) -> Subject:
    """A tree as it stands at this site, in all its variants."""
    standing, size = as_it_stands(profile, tree), root_size(profile, tree)
    fine, coarse = (open_soil(site, fine=grid, irrigated="irrigated" in given) for grid in (True, False))
    likely = plant_variants(standing, site, fine, draws=0, root_size=size)
    rows = plant_variants(standing, site, coarse, draws=draws, root_size=size)
    return Subject(standing, likely, rows, draws, tree.planted_years)


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
    soils = (place.fine.open, place.coarse.open)
    make = (
        _prepared if draws else _prepared.__wrapped__
    )  # a long list without draws would only push out others
    return make(profile, place.site, soils, sow_week, clear_week, age_years, draws)


@lru_cache(maxsize=KEPT)
def _prepared(
    profile: Profile,
    site: Site,
    soils: tuple[Supply, Supply],
    sow_week: float | None,
    clear_week: float | None,
    age_years: float | None,
    draws: int,
) -> Subject:
    size = size_at(profile, age_years)
    sow_week = sow_week if profile.annual else None
    fine, coarse = soils
    likely = plant_variants(profile, site, fine, draws=0, sow_week=sow_week, size=size)
    rows = likely
    if draws:
        rows = plant_variants(profile, site, coarse, draws=draws, sow_week=sow_week, size=size)
    if clear_week is not None and profile.annual:
        likely = cleared(likely, fine, clear_week)
        rows = cleared(rows, coarse, clear_week) if draws else likely
    return Subject(profile, likely, rows, draws, age_years)
