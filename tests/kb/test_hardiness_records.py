"""The lowest temperature on record where a plant grows is not taken for what it bears.

USDA PLANTS, Characteristics, defines "Temperature, Minimum (°F)" as the lowest temperature recorded in the
plant's historical range. For plants that frost kills, and for annuals whose seed outlives the winter, it says
nothing of the plant; found by the second random sample (tests/reference/random_sample_2.csv).
"""

import pytest

from kb.model import PlantId, TraitId
from kb.repository import open_repository
from kb.snapshot import Snapshot

LIGHT_FROST_C = -2.0
"""The coldest that a plant called frost-tender may bear: potato is on record with -1 (judgement)."""
RANGE_ONLY = "usda-plants-characteristics"
WINTERING = {"melilotus-officinalis"}
"""Called annual among other things, and sown to stand through a winter: its rosette bears it."""


@pytest.fixture(scope="module")
def shipped() -> Snapshot:
    return open_repository(None).snapshot()


def test_no_plant_that_frost_kills_bears_hard_frost(shipped: Snapshot) -> None:
    """Mango, cassava, gliricidia: 17 °F is printed for the area where they grow."""
    tender = [profile for profile in shipped.profiles() if profile.tender.value == "yes"]
    hard = [p.id for p in tender if p.hardiness_c is not None and p.hardiness_c.likely < LIGHT_FROST_C]

    assert [] == hard
    assert {"mangifera-indica", "manihot-esculenta", "zea-mays", "solanum-lycopersicum"} <= {
        profile.id for profile in tender
    }


def test_maize_and_tomato_are_no_hardier_than_frost(shipped: Snapshot) -> None:
    """Killed by frost by common practice; the seed's survival in cold countries does not count."""
    for name in ("zea-mays", "solanum-lycopersicum", "phaseolus-vulgaris", "cucurbita-pepo"):
        profile = shipped.profile(PlantId(name))

        assert "yes" == profile.tender.value
        assert profile.hardiness_c is None or profile.hardiness_c.likely >= 0


def test_the_range_of_an_annual_is_no_hardiness(shipped: Snapshot) -> None:
    """No plant that the same pages call an annual, and that is grown as one, keeps a value of its range."""
    kept = []
    for plant in shipped.plants.values():
        printed = {
            concept
            for record in plant.records
            if record.trait == "life-cycle" and record.source == RANGE_ONLY
            for concept in record.concepts
        }
        adopted = shipped.adopted(plant.id).get(TraitId("hardiness"))
        if adopted is None or "annual" not in printed or plant.id in WINTERING:
            continue
        if shipped.profile(plant.id).annual:
            kept += [one.record for one in adopted.weighed if one.weight > 0 and RANGE_ONLY in one.record]

    assert [] == kept
