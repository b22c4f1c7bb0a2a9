"""Plants of the shade in more light than they bear: woodland herbs and ginseng in the open.

Leaves built for shade bleach and scorch in full sun. What a plant bears is known of few as a share of light.
Of the others a class says in what light they are found among others, in summer under leafy trees: that is no
limit, and many grow in the open where the ground stays moist, so that it asks for shade and forbids nothing.

It is told at the week of a plant's season in which the sun stands highest: under trees a week of leaf. What
has died down by midsummer is judged by the end of its spring.
"""

from collections.abc import Sequence

import numpy as np
import numpy.typing as npt

from kb.mixture.judging.crowd import Crowd
from kb.mixture.light.sun import declination
from kb.mixture.limits import HOLDS_BACK, Limit
from kb.mixture.profile import Profile
from kb.mixture.season import WEEKS, FloatArray
from kb.mixture.sharing.asked_beneath import light_through
from kb.mixture.sharing.felt import Spot, light_left, rows_of
from kb.mixture.sharing.place import Place
from kb.mixture.sharing.variants import Variants

FAR_BEYOND = 2.0
"""In so many times the light that it is known to bear a plant does poorly, in less it is held back
(judgement: ginseng, that does best in a third, dies in the open; Proctor and Palmer 2016)."""
_MID_WEEK_DAYS = 7.0 * np.arange(WEEKS) + 4.0


def high_sun_week(activity: FloatArray, latitude: float) -> int | None:
    """The week (0-51) of its season ``activity`` (52,) in which the sun stands highest; None if none."""
    awake = np.flatnonzero(activity > 0)
    if not awake.size:
        return None
    off = np.abs(np.radians(latitude) - declination(_MID_WEEK_DAYS[awake]))
    return int(awake[np.argmin(off)])


def strongest_light(plants: Sequence[Variants], spot: Spot) -> tuple[float | None, ...]:
    """Share of open light at each plant's leaf at that week, by the likely values; None where none asks."""
    if not any(plant.profile.most_light is not None for plant in plants):
        return (None,) * len(plants)
    latitude = spot.place.site.latitude
    left = light_left(plants, rows_of(0, again=[False] * len(plants)), spot)
    found: list[float | None] = []
    for plant, light in zip(plants, left, strict=True):
        week = high_sun_week(plant.activity[0], latitude) if plant.profile.most_light is not None else None
        found.append(None if week is None else float(light[0, week]))
    return tuple(found)


def too_bright(profile: Profile, light: float | None) -> Limit | None:
    """What so much light (share of open light at its week of the highest sun) holds against a plant."""
    bears = profile.most_light
    if bears is None or light is None or light <= bears.high:
        return None
    name, most, here = profile.name, in_fives(bears.low), in_fives(light)
    text = (
        f"{name} bears up to about {most} % of full light; here it stands in about {here} %, where its "
        "leaves scorch."
    )
    if bears.found:
        text = (
            f"{name} is a plant of the shade, found where at most about {most} % of full light comes in "
            f"summer; here it stands in about {here} %, and may bleach or scorch if the ground dries."
        )
    return Limit(
        kind="light",
        of=profile.id,
        text=text,
        records=bears.records,
        ceiling="workable" if bears.found or light <= FAR_BEYOND * bears.low else "poor",
        lift=f"{name} stands in the shade of a tree, a hedge or a cloth",
        thin=bears.found,
    )


def bright_steps(plants: Crowd, place: Place) -> npt.NDArray[np.intp]:
    """How far the light beneath a tree holds each of a list (n,), as steps of `ORDER`."""
    steps = np.full(len(plants.profiles), HOLDS_BACK["good"], dtype=np.intp)
    open_light = place.site.open_light
    for i, profile in enumerate(plants.profiles):
        if profile.most_light is None:
            continue
        week = high_sun_week(plants.rows.activity[i], place.site.latitude)
        if week is not None:
            through = light_through(plants.rows.leaf_height[i : i + 1], place)
            limit = too_bright(profile, float(through[0, week]) * open_light)
            steps[i] = HOLDS_BACK["good" if limit is None else limit.ceiling]
    return steps


def in_fives(share: float) -> int:
    """A share in words, in steps of 5."""
    return 5 * round(20 * share)
