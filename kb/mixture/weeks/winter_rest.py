"""Evergreen herbs and grasses in weeks too cold to grow in: they keep their leaf, and hardly grow.

Growth asks for water and nitrogen; leaf shades. `trade` 4.5 gives an evergreen 0.9 to 1 of its activity all
year, which is right of its leaf and, where the winter is cold, not of its growth. Grass of the United Kingdom
begins to grow at a mean of 5 degrees C in spring and ends at 8 in the lesser light of autumn (Broad and Hough
1993, Grass and Forage Science 48: 26-37, abstract). Wood is left as it is: of conifers FAO-56 (table 12) has
the same crop coefficient, 1.0, all year.
"""

from functools import lru_cache

import numpy as np

from kb.mixture.season import FloatArray, seasons_of
from kb.mixture.site import Site
from kb.mixture.weeks.warmth import warmth_by_week

SPRING_C, AUTUMN_C = 5.0, 8.0
"""Mean temperatures, degrees C, at which growth begins in spring and ends in autumn."""
EITHER_SIDE_C = 1.0
"""From so much colder to so much warmer than these growth goes from none of it to all (judgement)."""
AT_REST = 0.1
"""What stays of its activity in weeks too cold to grow in: it drinks a little, and is there in every week
(judgement)."""


def awake_by_week(site: Site) -> FloatArray:
    """Share (0.1-1) of an evergreen herb's growth that the cold leaves in each of the 52 weeks.

    By latitude and frosts, which make the seasons (`season.seasons_of`), not by how cold the nights are.
    """
    return _awake(seasons_of(site))


@lru_cache(maxsize=64)
def _awake(seasons: Site) -> FloatArray:
    warmth = warmth_by_week(seasons)
    rises = np.roll(warmth, -1) > np.roll(warmth, 1)
    begins = np.where(rises, SPRING_C, AUTUMN_C) - EITHER_SIDE_C
    share = np.clip((warmth - begins) / (2 * EITHER_SIDE_C), 0.0, 1.0)
    awake: FloatArray = AT_REST + (1 - AT_REST) * share
    awake.setflags(write=False)
    return awake
