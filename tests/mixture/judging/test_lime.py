"""Ground rich in lime: who fails on it, by what is on record, and how that is told.

Outside sources: Tang et al. (1995), The growth of Lupinus species on alkaline soils: L. angustifolius and
L. albus grew poorly there, with iron chlorosis; White & Robson (1989), doi 10.1071/AR9890075: lupins cannot
get iron from calcareous soils; LTZ Augustenberg: blue lupin at pH 5 to 6.8; LfL Bavaria: white to 6.8.
"""

from dataclasses import replace

import pytest

from kb.mixture.answers.pair import judge_pair
from kb.mixture.profile import Span
from kb.mixture.results import PairAnswer
from kb.mixture.site import REFERENCE_SITE, Arrangement
from tests.mixture.meetings import LOW, bed
from tests.mixture.profiles import lasting
from tests.mixture.real import shipped

PLANTS = {plant.id: plant for plant in shipped()[0]}
OTHER = replace(LOW, soil_ph=Span(5.0, 8.5, "cited", ("record:low.soil-reaction",)))


def with_oats(plant: str, soil_ph: float) -> PairAnswer:
    site = replace(REFERENCE_SITE, soil_ph=soil_ph)
    halves = Arrangement(share_a=0.5, share_b=0.5)
    return judge_pair(PLANTS[plant], PLANTS["avena-sativa"], site, halves, book=shipped()[1], draws=0)


@pytest.mark.parametrize("lupin", ["lupinus-angustifolius", "lupinus-albus"])
def test_lupins_fail_on_chalk_for_want_of_iron(lupin: str) -> None:
    """Tang et al. 1995; White & Robson 1989; on neutral ground nothing of it (LTZ: up to pH 6.8)."""
    chalk, neutral = with_oats(lupin, 8.0), with_oats(lupin, 6.5)

    assert chalk.verdict in {"avoid", "poor"}
    assert {"lime", "iron", "chlorosis"} <= set(chalk.saying.replace("(", " ").replace(")", " ").split())
    assert "good" == neutral.verdict
    assert "chlorosis" not in neutral.saying


def test_yellow_leaves_are_told_of_lime_alone() -> None:
    """Not of acid ground, of ground without lime, of ground hardly beyond, or of a usual range (judged)."""
    plant = lasting("calcifuge", soil_ph=Span(4.5, 6.0, "cited", ("record:calcifuge.soil-reaction",)))
    guessed = replace(plant, soil_ph=Span(4.5, 6.0, "assumed"))

    def told(one: object, soil_ph: float) -> bool:
        answer = bed(one, OTHER, site=replace(REFERENCE_SITE, soil_ph=soil_ph))  # type: ignore[arg-type]
        return any("chlorosis" in found.text for found in answer.reasons)

    assert [True, False, False] == [told(plant, ph) for ph in (8.0, 7.0, 3.8)]
    assert not told(guessed, 8.0)
    assert not told(replace(plant, soil_ph=Span(4.5, 7.4, "cited", ("record:calcifuge.soil-reaction",))), 7.6)


@pytest.mark.parametrize(
    ("plant", "acid", "limy"),
    [
        ("camellia-sinensis", "good", "not good"),
        ("manihot-esculenta", "good", "good"),
        ("eruca-vesicaria", "not good", "good"),
    ],
)
def test_plants_whose_ph_was_on_no_record_are_held_to_it(plant: str, acid: str, limy: str) -> None:
    """At pH 5.0 and at 7.8: who is told that the ground does not suit it.

    Tea wants pH 4.5 to 5.6 (extension bulletins, from memory); cassava is grown on soils from pH 4 to 8 and
    more (root crop handbooks, from memory); rocket stands on limed ground.
    """
    found = {}
    for word, ph in (("acid", 5.0), ("limy", 7.8)):
        site = replace(REFERENCE_SITE, soil_ph=ph)
        asked = Arrangement(share_a=0.5, share_b=0.5)
        answer = judge_pair(PLANTS[plant], OTHER, site, asked, draws=0)
        told = [one for one in answer.reasons if one.kind == "ph"]
        found[word] = "not good" if told else "good"

    assert {"acid": acid, "limy": limy} == found
