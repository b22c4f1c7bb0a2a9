"""Where the light comes from: the sun's path and the overcast sky, as directions with weights.

Plain formulas (the almanac's declination, spherical trigonometry for the rest), so that nothing
heavy is imported to answer a question; tests hold them against pvlib's full solar position
algorithm. Solar time is used throughout: noon is when the sun crosses the meridian.
"""

from dataclasses import dataclass
from functools import lru_cache

import numpy as np
import numpy.typing as npt

from kb.mixture.rains import MONTH_DAYS
from kb.mixture.season import FloatArray

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

_OBLIQUITY = np.radians(23.439)
_J2000_TO_DAY_1 = 1 - 0.375 - 0.19
"""Day 1 at noon is 2000 January 1.5 in a leap year; 0.375 days later in the mean of the four years
of the cycle, and 0.19 more by 2025, since a calendar year is 0.0078 days longer than the sun's."""
_SEASONAL_LATITUDE = 51.0
_STEP_HOURS = 0.5
_SKY_BANDS, _SKY_SECTORS = 8, 16


def declination(day_of_year: npt.ArrayLike) -> FloatArray:
    """Declination of the sun, radians, at noon of a day of the year, the mean of a leap cycle.

    The low-precision formula of the Astronomical Almanac (mean longitude, mean anomaly, equation
    of the centre), its day count set to the middle of the years 2020-2030. A single year is up to
    0.2 degrees off, because a day of the year slides by up to half a day in the leap cycle.
    Spencer's series, often used for this, lags by a day in autumn now (0.4 degrees).
    """
    days = np.asarray(day_of_year, dtype=float) - _J2000_TO_DAY_1
    anomaly = np.radians(357.528 + 0.9856003 * days)
    longitude = np.radians(280.460 + 0.9856474 * days + 1.915 * np.sin(anomaly) + 0.020 * np.sin(2 * anomaly))
    angle: FloatArray = np.arcsin(np.sin(_OBLIQUITY) * np.sin(longitude))
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
