"""Where the light comes from: the sun's path and the overcast sky, as directions with weights.

Plain formulas (Spencer 1971 for the declination, spherical trigonometry for the rest), so that
nothing heavy is imported to answer a question; tests hold them against pvlib's full solar position
algorithm. Solar time is used throughout: noon is when the sun crosses the meridian.
"""

from dataclasses import dataclass
from functools import lru_cache

import numpy as np
import numpy.typing as npt

from kb.mixture.season import MONTH_DAYS, YEAR_DAYS, FloatArray

MONTHS = 12
MID_MONTH_DAYS: FloatArray = np.cumsum([0, *MONTH_DAYS[:-1]]) + 15.0
"""Day of year of the 15th of each month."""

HORIZON_DEG = 12.0
"""Sun and sky lower than this count neither above nor below the tree: in a garden, houses, hedges
and far trees hide them (`trade` 4.4; `computation-notes` 1.8)."""

DIFFUSE_SHARE: FloatArray = np.array([0.72, 0.66, 0.60, 0.55, 0.53, 0.53, 0.53, 0.55, 0.57, 0.62, 0.70, 0.74])
"""Share of light that comes from the sky rather than the sun, January to December, north.

Our judgement for a cool cloudy place; it stands around the 0.55 of `trade` 4.4 in the growing
season and is larger in winter. A dry place has about 0.35. It matters at a crown's edge and little
beneath (`computation-notes` 1.10)."""

_SEASONAL_LATITUDE = 51.0
_STEP_HOURS = 0.5
_SKY_BANDS, _SKY_SECTORS = 8, 16


def declination(day_of_year: npt.ArrayLike) -> FloatArray:
    """Declination of the sun, radians, by day of year (Spencer 1971)."""
    g = 2 * np.pi * (np.asarray(day_of_year, dtype=float) - 1) / YEAR_DAYS
    angle: FloatArray = (
        0.006918
        - 0.399912 * np.cos(g)
        + 0.070257 * np.sin(g)
        - 0.006758 * np.cos(2 * g)
        + 0.000907 * np.sin(2 * g)
        - 0.002697 * np.cos(3 * g)
        + 0.001480 * np.sin(3 * g)
    )
    return angle


def sun_position(
    latitude: npt.ArrayLike, day_of_year: npt.ArrayLike, solar_hour: npt.ArrayLike
) -> tuple[FloatArray, FloatArray]:
    """Altitude and azimuth of the sun, radians; azimuth clockwise from north in [0, 2 pi).

    ``latitude`` in degrees, south negative; ``solar_hour`` 0-24, noon 12. The arrays broadcast.
    """
    east, north, up = _sun_direction(latitude, day_of_year, solar_hour)
    return np.arcsin(np.clip(up, -1.0, 1.0)), np.arctan2(east, north) % (2 * np.pi)


def _sun_direction(
    latitude: npt.ArrayLike, day_of_year: npt.ArrayLike, solar_hour: npt.ArrayLike
) -> tuple[FloatArray, FloatArray, FloatArray]:
    phi = np.radians(np.asarray(latitude, dtype=float))
    delta = declination(day_of_year)
    hour_angle = np.radians(15.0 * (np.asarray(solar_hour, dtype=float) - 12.0))
    east = -np.cos(delta) * np.sin(hour_angle)
    north = np.sin(delta) * np.cos(phi) - np.cos(delta) * np.sin(phi) * np.cos(hour_angle)
    up = np.sin(phi) * np.sin(delta) + np.cos(phi) * np.cos(delta) * np.cos(hour_angle)
    return east, north + 0 * east, up


@dataclass(frozen=True, slots=True, eq=False)
class Sky:
    """Directions of light at a latitude. ``sun_weight`` and ``sky_weight`` are shares of open light.

    ``sun`` (S, 3) and ``sky`` (D, 3) are unit vectors east, north, up towards the light;
    ``sun_month`` (S,) is the month (0-11) of each sun; ``sun_weight`` (S,) sums to the beam share of
    its month, ``sky_weight`` (D,) to 1; ``diffuse`` (12,) is the sky's share, 1 in a month in
    which the sun never clears the horizon.
    """

    sun: FloatArray
    sun_month: npt.NDArray[np.intp]
    sun_weight: FloatArray
    sky: FloatArray
    sky_weight: FloatArray
    diffuse: FloatArray


@lru_cache(maxsize=64)
def sky_at(latitude: float) -> Sky:
    """Sun positions of the 15th of every month in half-hour steps, and the standard overcast sky."""
    hours = np.arange(_STEP_HOURS / 2, 24, _STEP_HOURS)
    east, north, up = _sun_direction(latitude, MID_MONTH_DAYS[:, None], hours[None, :])
    month, step = np.nonzero(up > np.sin(np.radians(HORIZON_DEG)))
    sun = np.stack([east[month, step], north[month, step], up[month, step]], axis=1)
    beam = sun[:, 2] * np.exp(-0.25 / sun[:, 2])
    beam_of_month = np.bincount(month, weights=beam, minlength=MONTHS)
    diffuse = np.where(beam_of_month > 0, _diffuse_share(latitude), 1.0)
    sky, sky_weight = _overcast_sky()
    weight = (1 - diffuse[month]) * beam / beam_of_month[month]
    answer = Sky(sun, month, weight, sky, sky_weight, diffuse)
    for array in (sun, month, weight, sky, sky_weight, diffuse):
        array.setflags(write=False)
    return answer


def _diffuse_share(latitude: float) -> FloatArray:
    """Diffuse share by month: turned by half a year in the south, flat at the equator."""
    months = np.roll(DIFFUSE_SHARE, MONTHS // 2) if latitude < 0 else DIFFUSE_SHARE
    swing = min(1.0, abs(latitude) / _SEASONAL_LATITUDE)
    share: FloatArray = months.mean() + (months - months.mean()) * swing
    return share


def _overcast_sky() -> tuple[FloatArray, FloatArray]:
    """Directions over the sky above the horizon; radiance (1 + 2 sin h)/3 on level ground.

    Gauss-Legendre in sin h, even steps in azimuth placed symmetrically about all four quarters.
    """
    lowest = np.sin(np.radians(HORIZON_DEG))
    nodes, node_weights = np.polynomial.legendre.leggauss(_SKY_BANDS)
    up = lowest + (nodes + 1) / 2 * (1 - lowest)
    azimuth = (np.arange(_SKY_SECTORS) + 0.5) * 2 * np.pi / _SKY_SECTORS
    level = np.sqrt(1 - up**2)
    sky = np.stack(
        [
            (level[:, None] * np.sin(azimuth)).ravel(),
            (level[:, None] * np.cos(azimuth)).ravel(),
            np.repeat(up, _SKY_SECTORS),
        ],
        axis=1,
    )
    weight = np.repeat(node_weights * up * (1 + 2 * up) / 3, _SKY_SECTORS)
    return sky, weight / weight.sum()
