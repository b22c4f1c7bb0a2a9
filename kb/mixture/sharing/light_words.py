"""Light that a plant goes without, in words: by its neighbours, by the place itself, or by both."""

import numpy as np

from kb.mixture.counting import listed
from kb.mixture.sharing.variants import Variants

WORTH_SAYING = 0.05
"""Losses below this are not worth a word."""
NOT_ENOUGH = 0.5
"""Light for less than this share of the crop is not enough to crop."""


def percent(share: float) -> str:
    """A share in words, rounded to 5: 'about 35 %'."""
    rounded = 5 * round(share * 20)
    if rounded <= 0:
        return "hardly any"
    return "nearly all" if rounded >= 100 else f"about {rounded} %"


def light_lost(plant: Variants, lost: float, doers: list[str], what: str, open_light: float) -> str:
    """What light costs a plant, ``lost`` (0-1) of its crop or growth (``what``), and whose doing it is.

    ``doers`` are the names of those that shade it, ``open_light`` the share of it that reaches the place.
    """
    name, place = plant.profile.name, lost_by_place(plant, open_light)
    if place < WORTH_SAYING:
        if lost > NOT_ENOUGH:
            return f"In the shade of {listed(doers)} there is not enough light to crop {name}."
        return f"Shade of {listed(doers)} costs {name} {percent(lost)} of its {what}."
    alone = lost - place < WORTH_SAYING
    cause = f"The light of this place, {percent(open_light)} of that in the open"
    if lost > NOT_ENOUGH:
        whole = cause if alone else f"{cause}, in the shade of {listed(doers)}"
        return f"{whole}, is not enough to crop {name}."
    if alone:
        take = "takes" if len(doers) == 1 else "take"
        return f"{cause}, costs {name} {percent(lost)} of its {what}; {listed(doers)} {take} hardly any more."
    return f"{cause}, and the shade of {listed(doers)} cost {name} {percent(lost)} of its {what}."


def lost_by_place(plant: Variants, open_light: float) -> float:
    """Share (0-1) of its crop that it would lose here in a bed of its own (`trade` 4.4)."""
    zero, full = float(plant.crop_zero[0]), float(plant.crop_full[0])
    return 1 - float(np.clip((open_light - zero) / (full - zero), 0.0, 1.0)) if open_light < 1 else 0.0
