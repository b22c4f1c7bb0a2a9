"""Leaf area of crops and how it stops light, beside what was measured of stands and of crops grown together.

`leaf_area_courses.csv`: leaf area index by day of the year, of single treatments of field trials, from the
data files of trials of the repository DSSAT/dssat-csm-data (`LAID`, cut leaf). What is compared with trials
of two crops are means over partial land equivalent ratios compiled by Paut et al. 2024
(10.1038/s41597-023-02831-7) and Rosenstock et al. 2024 (10.1038/s41597-024-03805-z); the compilation itself
is not shipped.
"""

import csv
from dataclasses import replace
from itertools import groupby
from pathlib import Path
from statistics import fmean, median

import numpy as np
import pytest

from kb.adoption.leaf import FULL_LEAF_OF_GREATEST
from kb.mixture.ground.share import captured_light
from kb.mixture.judging.crowd import rows_at
from kb.mixture.profile import Profile
from kb.mixture.sharing.place import open_soil
from kb.mixture.site import Site
from kb.mixture.weeks.as_grown import leaf_by_week
from kb.profiles.defaults import FORMS
from tests.mixture.base import base, shipped

ROWS = tuple(
    csv.DictReader((Path(__file__).parent / "leaf_area_courses.csv").read_text(encoding="utf-8").splitlines())
)
WARM = replace(Site(), latitude=35.0)
"""Between the tropics and the reference site, so that all of these crops are in leaf together."""
# Low crop, tall crop and number of study-pairs of each in which both partial ratios were compiled.
SOWN_BESIDES = (
    ("arachis-hypogaea", "zea-mays", 5), ("cyamopsis-tetragonoloba", "cenchrus-americanus", 1),
    ("vigna-radiata", "cenchrus-americanus", 1), ("chlorophytum-borivilianum", "zea-mays", 1),
    ("cicer-arietinum", "zea-mays", 1), ("ipomoea-batatas", "zea-mays", 1), ("vigna-mungo", "zea-mays", 2),
    ("vigna-unguiculata", "zea-mays", 4),
)  # fmt: skip
SOWN_INSTEAD = (
    ("arachis-hypogaea", "cenchrus-americanus", 1), ("arachis-hypogaea", "zea-mays", 3),
    ("capsicum-annuum", "zea-mays", 1), ("tagetes-minuta", "zea-mays", 1), ("vigna-mungo", "zea-mays", 1),
    ("vigna-unguiculata", "zea-mays", 7),
)  # fmt: skip


def in_full_leaf(course: list[tuple[float, float]]) -> float:
    """Mean leaf area over the days with at least half of the greatest, as a share of the greatest."""
    days, leaf = np.array(course).T
    daily = np.interp(np.arange(days[0], days[-1] + 1), days, leaf)
    return float(daily[daily >= daily.max() / 2].mean() / daily.max())


def test_the_greatest_leaf_of_a_season_is_a_fourth_above_what_stands_through_full_leaf() -> None:
    """Courses of 13 crops in the trials named above: each crop once, its mean over treatments."""
    crops: dict[str, list[float]] = {}
    for (plant, _, _), rows in groupby(ROWS, lambda row: (row["plant"], row["file"], row["treatment"])):
        course = [(float(row["day"]), float(row["leaf_area_index"])) for row in rows]
        crops.setdefault(plant, []).append(in_full_leaf(course))
    each = {plant: fmean(found) for plant, found in crops.items()}

    assert 13 == len(each)
    assert float(FULL_LEAF_OF_GREATEST) == pytest.approx(fmean(each.values()), abs=0.02)
    assert all(0.74 <= share <= 0.91 for share in each.values()), each


def test_the_course_carries_as_much_leaf_through_its_season_as_crops_in_trials_did() -> None:
    """Mean leaf of the season over the greatest, of the trials that measured both its rise and its fall.

    Crops sown in spring; those of autumn rest for months. The weeks at the best are fewer in the trials than
    the level weeks of the course, whose level is four fifths of the best: sums are compared.
    """
    trials: dict[str, list[float]] = {}
    for (plant, _, _), rows in groupby(ROWS, lambda row: (row["plant"], row["file"], row["treatment"])):
        days, leaf = np.array([(float(row["day"]), float(row["leaf_area_index"])) for row in rows]).T
        if max(leaf[0], leaf[-1]) < leaf.max() / 2:
            daily = np.interp(np.arange(days[0], days[-1] + 1), days, leaf)
            trials.setdefault(plant, []).append(float(daily.mean() / daily.max()))
    sown_in_spring = sorted(set(trials) - {"triticum-aestivum", "brassica-napus.subsp-napus"})
    courses = [leaf_by_week(shipped(plant), Site()) for plant in sown_in_spring]
    here = [float(leaf[leaf > 0].mean()) * float(FULL_LEAF_OF_GREATEST) for leaf in courses]

    assert 5 <= len(here)
    assert fmean(here) == pytest.approx(fmean(fmean(trials[plant]) for plant in sown_in_spring), abs=0.08)


def on_record(field: str, *, sown: bool) -> dict[str, list[float]]:
    """What is cited of herbs and of grasses; of those alone that are sown for a season with ``sown``."""
    kinds: dict[str, list[float]] = {"graminoid": [], "herb": []}
    for plant in base().profiles():
        value, form = (
            getattr(plant, field),
            (plant.growth_form.value or "").replace("climber-herbaceous", "herb"),
        )
        if value.origin == "cited" and form in kinds and not (sown and plant.life_cycle.value == "perennial"):
            kinds[form].append(value.likely)
    return kinds


@pytest.mark.parametrize("form", ["graminoid", "herb"])
def test_the_stand_ins_of_leaf_area_are_the_middles_of_the_crops_on_record(form: str) -> None:
    """The trials that the records name: grasses carry more than herbs, and each kind lies at its stand-in."""
    kinds = on_record("leaf_area_index", sown=True)
    low, usual, high = FORMS[form].leaf_area_index

    assert 4 <= len(kinds[form])
    assert usual == pytest.approx(median(kinds[form]), abs=0.3)
    assert median(kinds["herb"]) < median(kinds["graminoid"])
    assert fmean(low <= value <= high for value in kinds[form]) >= 0.8


def test_leaves_of_grasses_stop_less_light_than_those_of_herbs() -> None:
    """Zhang et al. 2014 (10.1007/s11707-014-0446-7): cropland 0.62, grassland 0.50 (grass with herbs).

    The crops on record stand on either side of the same step: upright grasses, then flat leaves (`trade` 4.4:
    0.4 to 0.8). Onions, upright too, are with the grasses.
    """
    kinds = on_record("extinction", sown=False)

    assert 0.62 == FORMS["herb"].extinction == FORMS["climber-herbaceous"].extinction
    assert median(kinds["herb"]) == pytest.approx(FORMS["herb"].extinction, abs=0.05)
    assert median(kinds["graminoid"]) == pytest.approx(FORMS["graminoid"].extinction, abs=0.05)
    assert max(kinds["graminoid"]) < 0.5 < median(kinds["herb"])
    assert shipped("allium-cepa").extinction.likely < 0.5


def light_lost(low: Profile, tall: Profile, shares: tuple[float, float]) -> float:
    """Share of its crop that the low one loses to shade, as in a pair of a bed."""
    both = [rows_at(WARM, open_soil(WARM, fine=False, given=frozenset()), [plant]) for plant in (low, tall)]

    def stacked(field: str) -> np.ndarray:
        return np.stack([getattr(rows, field) for rows in both], axis=1)

    light = captured_light(
        stacked("leaf_area"), stacked("height"), stacked("base"), stacked("extinction"), np.array(shares)
    )[0, 0]
    own = both[0]
    enough = np.clip((light - own.crop_zero) / (own.crop_full - own.crop_zero), 0.0, 1.0)
    return 1 - float((enough * own.activity[0]).sum() / own.activity[0].sum())


def losses(pairs: tuple[tuple[str, str, int], ...], shares: tuple[float, float]) -> list[float]:
    return [
        loss
        for low, tall, studies in pairs
        for loss in [light_lost(shipped(low), shipped(tall), shares)] * studies
    ]


def test_a_low_crop_sown_besides_a_full_stand_of_a_tall_one_loses_about_as_much_as_in_trials() -> None:
    """16 study-pairs, additive designs: of its yield alone the low crop kept 0.59 (middle 0.44).

    Stands of such trials are often thinner than well-fed ones: two of cowpea lost nothing.
    """
    lost = losses(SOWN_BESIDES, (1.0, 1.0))

    assert 16 == len(lost)
    assert 0.41 < fmean(lost) < 0.70
    assert median(lost) == pytest.approx(0.56, abs=0.12)


def test_a_low_crop_in_rows_of_its_own_loses_little() -> None:
    """14 study-pairs, replacement designs: on half of the ground or so it gave 0.63 of its yield alone.

    So it lost none of its half (the middle of the pairs gave 0.60): room beside a neighbour is worth as much
    as the shade costs.
    """
    lost = losses(SOWN_INSTEAD, (0.5, 0.5))

    assert 14 == len(lost)
    assert fmean(lost) < 0.15
