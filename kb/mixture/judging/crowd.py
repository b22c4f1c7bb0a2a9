"""Many plants at once, by their likely values: one row of the same arrays for each.

What a plant brings with it, and its year at a place, are kept from question to question; another depth
of soil or another tree asks for them again.
"""

from collections.abc import Sequence
from dataclasses import dataclass, fields, replace
from functools import cached_property, lru_cache
from typing import Any, TypeVar

import numpy as np

from kb.mixture.ground.share import Supply
from kb.mixture.judging.conflicts import own_limits
from kb.mixture.limits import Limit, Meeting, Party
from kb.mixture.profile import Profile
from kb.mixture.season import WEEKS, FloatArray, seasons_of
from kb.mixture.sharing.sizes import size_at
from kb.mixture.sharing.variants import Courses, Same, Traits, Variants, courses_at, grown, traits_of
from kb.mixture.site import Site

KEPT = 4096
"""Plants whose traits, and years at a place, are kept, 1 and 2 kB each."""
CROWDS_KEPT = 4
"""Whole lists at a site kept ready, some 5 MB each for 700 plants: the next tree asks for the same."""


@dataclass(frozen=True, slots=True)
class Grown:
    """When and how old: the sowing week of annuals, the age of those that last."""

    sow_week: float | None = None
    age_years: float | None = None


AS_USUAL = Grown()


class Crowd:
    """Plants of a site in one set of arrays: ``rows`` has one row for each of ``profiles``."""

    def __init__(self, profiles: tuple[Profile, ...], rows: Variants) -> None:
        self.profiles, self.rows = profiles, rows
        self._held: dict[Meeting, tuple[tuple[Limit, ...], ...]] = {}
        self._alone: dict[int, Variants] = {}

    def one(self, place: int) -> Variants:
        """One plant by itself."""
        if place not in self._alone:
            self._alone[place] = self.only([place]).rows
        return self._alone[place]

    def only(self, chosen: Sequence[int]) -> "Crowd":
        """Some of them, in this order."""
        arrays = {name: array[chosen] for name, array in _arrays(self.rows)}
        first = self.profiles[chosen[0]] if chosen else self.rows.profile
        return Crowd(tuple(self.profiles[i] for i in chosen), replace(self.rows, profile=first, **arrays))

    @cached_property
    def parties(self) -> tuple[Party, ...]:
        """As the limits see them, each in a bed of its own."""
        rows = self.rows
        sizes = zip(rows.height.tolist(), rows.d50.tolist(), rows.activity, strict=True)
        return tuple(
            Party(profile=profile, height_m=height, d50_m=d50, local=1.0, activity=activity)
            for profile, (height, d50, activity) in zip(self.profiles, sizes, strict=True)
        )

    def held_by_place(self, meeting: Meeting) -> tuple[tuple[Limit, ...], ...]:
        """What the place itself holds against each of them: the dark left out.

        Distances from a trunk do not come into it.
        """
        anywhere = replace(meeting, nearest_m=None, farthest_m=None, edge_m=None, at_m=None)
        if anywhere not in self._held:
            self._held[anywhere] = tuple(tuple(own_limits(party, anywhere, 0.0)) for party in self.parties)
        return self._held[anywhere]


def crowd_at(site: Site, supply: Supply, profiles: Sequence[Profile]) -> Crowd:
    """The plants as they grow at this site."""
    return _kept_crowd(site, supply, tuple(Same(profile) for profile in profiles))


@lru_cache(maxsize=CROWDS_KEPT)
def _kept_crowd(site: Site, supply: Supply, plants: tuple[Same[Profile], ...]) -> Crowd:
    profiles = tuple(plant.thing for plant in plants)
    found: dict[str, Any] = {}
    for annual in (True, False):
        kind = [i for i, profile in enumerate(profiles) if profile.annual == annual]
        if not kind:
            continue
        rows = rows_at(site, supply, [profiles[i] for i in kind])
        for name, array in _arrays(rows):
            told = _week_by_week(array) if name == "roots" else array
            whole = found.setdefault(name, np.empty((len(profiles), *told.shape[1:]), dtype=told.dtype))
            whole[kind] = told
    return Crowd(profiles, Variants(profile=profiles[0], **found))


def rows_at(site: Site, supply: Supply, profiles: Sequence[Profile], how: Grown = AS_USUAL) -> Variants:
    """One row for each plant; all of them annuals, or none. Its profile is the first's."""
    traits = [traits_at(profile, how) for profile in profiles]
    years = [year_at(profile, site, how) for profile in profiles]
    return grown(profiles[0], _stacked(Traits, traits), _stacked(Courses, years), site.soil_depth_m, supply)


def traits_at(profile: Profile, how: Grown = AS_USUAL) -> Traits:
    """What a plant brings with it, one row."""
    return _kept_traits(Same(profile), how.age_years)


def year_at(profile: Profile, site: Site, how: Grown = AS_USUAL) -> Courses:
    """A plant's year at a site, one row; a sowing week moves annuals alone."""
    return _kept_year(Same(profile), seasons_of(site), how.sow_week if profile.annual else None)


@lru_cache(maxsize=KEPT)
def _kept_traits(plant: Same[Profile], age_years: float | None) -> Traits:
    size = size_at(plant.thing, age_years)
    return traits_of(plant.thing, draws=0, size=size)


@lru_cache(maxsize=KEPT)
def _kept_year(plant: Same[Profile], seasons: Site, sow_week: float | None) -> Courses:
    return courses_at(plant.thing, seasons, sow_week, draws=0)


Rows = TypeVar("Rows", Traits, Courses)


def _stacked(kind: type[Rows], each: Sequence[Rows]) -> Rows:
    """One row of each."""
    return kind(*(np.concatenate([getattr(one, field.name) for one in each]) for field in fields(kind)))


def _arrays(rows: Variants) -> list[tuple[str, Any]]:
    """The arrays of a set of rows by name; its profile is none of them."""
    every = [(field.name, getattr(rows, field.name)) for field in fields(Variants)]
    return [(name, value) for name, value in every if isinstance(value, np.ndarray)]


def _week_by_week(roots: FloatArray) -> FloatArray:
    """Roots that stay as they are, told week by week as those that grow."""
    return np.broadcast_to(roots, (*roots.shape[:2], WEEKS))
