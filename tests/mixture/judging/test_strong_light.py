"""Plants of the shade in more light than they bear."""

from dataclasses import replace

import numpy as np
import pytest

from kb.mixture.answers.pair import judge_pair
from kb.mixture.bodies.growth import tree_at
from kb.mixture.judging.strong_light import high_sun_week, too_bright
from kb.mixture.lists.under import Ring, plants_under
from kb.mixture.profile import Profile, Span
from kb.mixture.results import PairAnswer
from kb.mixture.site import REFERENCE_SITE, Arrangement, Site
from tests.mixture.base import shipped

GINSENG = "panax-quinquefolius"
LETTUCE = "lactuca-sativa"
WOODLAND = ("galium-odoratum", "asarum-europaeum", "oxalis-acetosella", "polygonatum-multiflorum")
SHADE = Span(0.5, 0.7, "cited", ("record:shade",), thin=True, found=True)


def in_bed(plant: str, site: Site = REFERENCE_SITE) -> PairAnswer:
    return judge_pair(shipped(plant), shipped(LETTUCE), site, Arrangement("bed"), draws=0)


def told(plant: str, answer: PairAnswer) -> list[str]:
    """What is asked for the sake of a plant's shade."""
    return [c.text for c in answer.conditions if c.kind == "light" and "in the shade" in c.text]


def test_ginseng_in_the_open_is_poor_and_says_why() -> None:
    """Its root does best in 35.6 % of the light (Proctor and Palmer 2016); without shade it dies.

    "A lack of shade will result in leaf necrosis in a few days" (Washington State University, Clark County,
    Ginseng, chapter 6).
    """
    answer = in_bed(GINSENG)

    assert answer.verdict == "poor"
    assert answer.limiting is not None
    assert answer.limiting.kind == "light"
    assert "35 %" in answer.limiting.text
    assert told(GINSENG, answer)


@pytest.mark.parametrize("plant", WOODLAND)
def test_woodland_herbs_in_the_open_ask_for_shade_and_no_more(plant: str) -> None:
    """Light classes 1 to 3 tell where plants are found (Ellenberg et al. 2001), not what they bear."""
    answer = in_bed(plant)

    assert answer.verdict in {"workable", "poor"}
    assert told(plant, answer)
    assert shipped(plant).most_light is not None
    assert too_bright(shipped(plant), 1.0).ceiling == "workable"  # type: ignore[union-attr]


@pytest.mark.parametrize("plant", [GINSENG, *WOODLAND])
def test_ground_in_shade_asks_for_no_more(plant: str) -> None:
    """Where the place itself has 30 % of the light, as ginseng growers give it by cloth, nothing is asked."""
    shady = replace(REFERENCE_SITE, open_light=0.3)

    assert not told(plant, in_bed(plant, shady))


@pytest.mark.parametrize("plant", [LETTUCE, "spinacia-oleracea", "fragaria-vesca", "eranthis-hyemalis"])
def test_leafy_crops_half_shade_and_flowers_of_bare_woods_bear_the_sun(plant: str) -> None:
    """Grown in full sun (common practice); winter aconite has died down when the leaves of trees are out."""
    assert shipped(plant).most_light is None


def test_no_tree_or_shrub_is_bound_by_the_class_of_its_young() -> None:
    """PLANTATT (2004): light values of canopy trees are of saplings. Beech has 3 and stands in the sun."""
    assert shipped("fagus-sylvatica").most_light is None


def test_the_shade_of_a_tree_meets_it_and_is_praised() -> None:
    """Woodruff is a plant of beech woods (*Galio odorati-Fagetum*): beneath beech nothing is asked."""
    near, mid = Arrangement("under", distance_m=3.0), Arrangement("under", distance_m=6.0)
    answer = judge_pair(shipped("acer-platanoides"), shipped(GINSENG), REFERENCE_SITE, mid, draws=0)
    beech = judge_pair(shipped("fagus-sylvatica"), shipped("galium-odoratum"), REFERENCE_SITE, near, draws=0)
    said = [reason.text for reason in answer.reasons if reason.kind == "light"]

    assert not told(GINSENG, answer)
    assert not told("galium-odoratum", beech)
    assert any("suits American ginseng" in text and "too much" in text for text in said)


def test_more_light_never_lifts_what_light_holds() -> None:
    """The steps go one way; what is known of a plant's bearing is told harder than where it is found."""
    found, known = (replace(shipped(LETTUCE), most_light=s) for s in (SHADE, replace(SHADE, found=False)))
    order = {None: 3, "workable": 2, "poor": 1}

    def steps(profile: Profile) -> list[int]:
        limits = [too_bright(profile, light) for light in np.linspace(0.05, 1.2, 60)]
        return [order[None if limit is None else limit.ceiling] for limit in limits]

    assert steps(found) == sorted(steps(found), reverse=True)
    assert steps(known) == sorted(steps(known), reverse=True)
    assert (min(steps(found)), min(steps(known))) == (2, 1)


def test_the_week_of_the_highest_sun_is_that_of_the_plants_own_season() -> None:
    """Solstices: week 25 in the north, 51 in the south; of a plant of spring the end of its spring."""
    all_year = np.ones(52)
    spring = np.zeros(52)
    spring[10:18] = 1.0

    assert high_sun_week(all_year, 51.0) in {24, 25}
    assert high_sun_week(all_year, -35.0) in {50, 51}
    assert high_sun_week(spring, 51.0) == 17
    assert high_sun_week(np.zeros(52), 51.0) is None


def test_a_list_beneath_a_tree_is_held_as_each_pair_is() -> None:
    """At the sunny edge of an apple the screening says of each what the answer says of the pair."""
    apple = shipped("malus-domestica")
    others = [shipped(plant) for plant in (GINSENG, *WOODLAND, LETTUCE)]
    ring = Ring("outside", 1.2, 2.0)
    (answer,) = plants_under(
        apple, tree_at(apple, None), others, REFERENCE_SITE, rings=(ring,), sides=("S",), limit=9, draws=0
    )

    held = {row.b: row.verdict for row, _ in answer.plants}
    assert held[GINSENG] == "poor"
    assert all(held[plant] in {"workable", "poor", "avoid"} for plant in WOODLAND)
