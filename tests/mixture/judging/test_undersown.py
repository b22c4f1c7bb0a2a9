"""Lasting herbs sown into a crop in a named week: in their first season, from nothing.

Expectations: common practice of undersowing clover and grass in spring cereals (handbooks of leys);
Theunissen et al. 1995, Entomol. Exp. Appl. 74: 7-16, sow clover under vegetables in the same season.
"""

from dataclasses import replace

import pytest

from kb.mixture.answers.pair import judge_pair
from kb.mixture.season import reference_frost_days
from kb.mixture.sharing.first_season import sown_this_year
from kb.mixture.site import REFERENCE_SITE, Arrangement, Site
from kb.mixture.weeks.as_grown import growth_by_week
from tests.mixture.profiles import chosen, invented, season
from tests.mixture.real import shipped

PLANTS = {plant.id: plant for plant in shipped()[0]}
CLOVER = PLANTS["trifolium-repens"]
last, first = reference_frost_days(-45.0)
SOUTH = Site(latitude=-45.0, last_frost_day=last, first_frost_day=first)


@pytest.mark.parametrize("week", [14, 16, 20, 28])
def test_it_does_not_grow_before_it_is_sown(week: int) -> None:
    """By definition: nothing before its week, and less in the weeks after it than a clover that stands."""
    sown = sown_this_year(CLOVER, REFERENCE_SITE, week)

    assert sown is not None
    grows, stands = (growth_by_week(one, REFERENCE_SITE) for one in (sown, CLOVER))
    assert 0.0 == grows[: week - 1].sum()
    assert (grows[week - 1 : week + 3] < stands[week - 1 : week + 3]).all()
    assert grows[week + 8] > 0


@pytest.mark.parametrize("week", [2, 40, 46, 50])
def test_nothing_is_sown_in_winter_or_too_late_to_stand_it(week: int) -> None:
    """Clovers are sown from spring to the middle of August (common practice)."""
    assert sown_this_year(CLOVER, REFERENCE_SITE, week) is None


def test_the_south_is_the_north_half_a_year_on() -> None:
    """By symmetry: week 42 there is week 16 here."""
    sown = sown_this_year(CLOVER, SOUTH, 42)

    assert sown is not None
    grows = growth_by_week(sown, SOUTH)
    assert grows[41] > 0 == grows[39]


@pytest.mark.parametrize("changes", [{"growth_form": chosen("tree")}, {"root_form": chosen("bulb")}])
def test_trees_and_bulbs_are_not_sown(changes: dict[str, object]) -> None:
    """They are planted for the years to come (common practice)."""
    standing = invented("lasting-herb", activity=season(14, 20, 36, 42), life_cycle=chosen("perennial"))

    assert sown_this_year(standing, REFERENCE_SITE, 16) is not None
    assert sown_this_year(replace(standing, **changes), REFERENCE_SITE, 16) is None  # type: ignore[arg-type]


def test_clover_under_barley_takes_less_than_one_that_stands() -> None:
    """Undersown it stays low and takes little of the corn's water; a standing sward takes more."""
    barley, how = PLANTS["hordeum-vulgare"], Arrangement(share_a=0.9, share_b=0.4, sow_week_a=12)
    sown = sown_this_year(CLOVER, REFERENCE_SITE, 16)
    assert sown is not None
    young = judge_pair(barley, sown, REFERENCE_SITE, replace(how, age_b_years=0.0), draws=0)
    stands = judge_pair(barley, CLOVER, REFERENCE_SITE, how, draws=0)

    assert young.loss[barley.id].roots < stands.loss[barley.id].roots
    assert young.verdict in {"good", "workable"}
