"""A crop that is cleared before its season ends: what it would have asked for later it does not ask for."""

from dataclasses import replace

import numpy as np

from kb.mixture.ground.root_draw import Asking, taken_alone
from kb.mixture.ground.share import Supply
from kb.mixture.season import WEEKS, FloatArray
from kb.mixture.sharing.variants import Variants


def cleared(plant: Variants, supply: Supply, week: float) -> Variants:
    """The same plant cleared at the beginning of a week of its season ([1, 53)), in every row.

    What it would have asked for later it does not ask for; a week after its end changes nothing.
    """
    left = _weeks_before(plant.activity[0], week)
    water, nitrate = plant.water_course * left, plant.nitrate_course * left
    season = plant.activity.sum(axis=1)
    grown = (plant.activity * left).sum(axis=1) / np.where(season > 0, season, 1.0)
    return replace(
        plant,
        activity=plant.activity * left,
        leaf_area=plant.leaf_area * left,
        water_course=water,
        nitrate_course=nitrate,
        sole_water=taken_alone(Asking(water, plant.roots), supply.water),
        sole_nitrate=taken_alone(Asking(nitrate, plant.roots), supply.nitrate),
        nitrogen=plant.nitrogen * grown,
        fixed=plant.fixed * grown,
    )


def _weeks_before(course: FloatArray, week: float) -> FloatArray:
    """1 in the weeks up to ``week``, 0 from then to the middle of the idle time (52,)."""
    active = course > 0
    starts = np.flatnonzero(active & ~np.roll(active, 1))
    if not starts.size:
        return np.ones_like(course)
    since = (np.arange(WEEKS) - starts[0]) % WEEKS
    grows = int(since[active].max()) + 1
    stops = (int(week) - 1 - starts[0]) % WEEKS
    kept: FloatArray = np.where((since >= stops) & (since < (grows + WEEKS) / 2), 0.0, 1.0)
    return kept
