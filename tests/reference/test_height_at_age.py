"""Heights of trees and shrubs at an age, on record outside this project, beside the curve of growth.

`height_at_age.csv`: city trees measured (their ages count from setting out as standards 2.5 to 4 m tall, so
``add_years`` makes them four years older than whips), yield tables, fitted forest curves, and the height at
20 years of the plant characteristics of the United States government.
"""

import csv
from functools import cache
from math import exp, log
from pathlib import Path
from statistics import fmean, pstdev

import pytest

from kb.mixture.bodies.growth import PACE_LOG_SD, share_grown
from kb.mixture.profile import Profile
from kb.repository import open_repository

ROWS = tuple(
    csv.DictReader((Path(__file__).parent / "height_at_age.csv").read_text(encoding="utf-8").splitlines())
)
SLOW = ("ilex-aquifolium", "quercus-robur", "fagus-sylvatica", "quercus-ilex")


@cache
def profiles() -> dict[str, Profile]:
    return {profile.id: profile for profile in open_repository().snapshot().profiles()}


def off(row: dict[str, str]) -> float:
    """Natural logarithm of the height on the curve over that on record."""
    plant = profiles()[row["plant"]]
    final = plant.height_m.likely
    recorded = float(row["height_m"]) if row["height_m"] else float(row["share_of_final"]) * final
    age = float(row["age_years"]) + float(row["add_years"])
    return log(final * share_grown(plant, age) / recorded)


def test_the_heights_are_of_many_kinds_slow_and_quick():
    """Each names where it stands; holly, oak, beech and holm oak are among them."""
    assert 30 <= len({row["plant"] for row in ROWS})
    assert set(SLOW) <= {row["plant"] for row in ROWS}
    assert all(row["source"] and row["locator"] for row in ROWS)


def test_the_curve_is_off_neither_way_and_by_no_more_than_is_told():
    """Over all kinds (each once): no bias beyond a tenth, spread within the doubt that answers use."""
    by_plant: dict[str, list[float]] = {}
    for row in ROWS:
        by_plant.setdefault(row["plant"], []).append(off(row))
    each = [fmean(found) for found in by_plant.values()]

    assert abs(fmean(each)) < 0.1
    assert pstdev(each) < PACE_LOG_SD


@pytest.mark.parametrize("plant", sorted({row["plant"] for row in ROWS}))
def test_each_kind_lies_near_its_records(plant):
    """Within two standard deviations of the doubt, as the mean over its records."""
    found = fmean(off(row) for row in ROWS if row["plant"] == plant)

    assert exp(-2 * PACE_LOG_SD) < exp(found) < exp(2 * PACE_LOG_SD)


@pytest.mark.parametrize("evergreen", [False, True])
def test_evergreens_and_others_are_both_met(evergreen):
    """Neither group is off by more than a seventh in the mean (the same records)."""
    found = [off(row) for row in ROWS if profiles()[row["plant"]].leaf.evergreen is evergreen]

    assert abs(fmean(found)) < 0.15
