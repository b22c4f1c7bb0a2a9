"""From checked parameters to the site of a question, with what no single parameter can show.

Dates that leave no summer, frost where there is none, winters warmer than their frosts: such answers
contradict each other and are refused, with what to give instead.
"""

from functools import lru_cache
from typing import cast

from api.parsing import Given
from api.questions import SiteAsked
from api.site_values import EVERY_MONTH, NO_FROST
from api.values import month_day
from kb.errors import BadParameter, ParameterFault
from kb.mixture.site import REFERENCE_SITE, Audience, Site, Texture

MIDSUMMER_NORTH = 172
MIDSUMMER_SOUTH = 355
"""Days of the year of the solstices (21 June, 21 December)."""
WINTER_NORTH, WINTER_SOUTH, WINTER_DAYS = 335, 152, 90
"""Winter as meteorologists count it: three months from 1 December in the north, from 1 June in the south."""

SITE_NAMES = (
    "latitude",
    "last_frost",
    "first_frost",
    "frost_sd_days",
    "winter_min_c",
    "wet_months",
    "soil_depth_m",
    "soil_texture",
    "soil_ph",
    "moisture",
    "open_light",
    "place",
    "audience",
    "history",
)


def _or(value: float | None, default: float) -> float:
    return default if value is None else value


def ask_site(given: Given) -> SiteAsked:
    """The site; raises BadParameter where what was said of it cannot all be true.

    Without frost dates those of the reference site stand in, half a year on in the south; between
    the tropics there are none.
    """
    said = tuple(name for name in SITE_NAMES if name in given)
    base = REFERENCE_SITE
    latitude = _or(given.number("latitude"), base.latitude)
    last, first, every_month = _frosts(given, latitude)
    site = Site(
        latitude=latitude,
        last_frost_day=last,
        first_frost_day=first,
        frost_sd_days=_or(given.number("frost_sd_days"), base.frost_sd_days),
        frost_every_month=every_month,
        winter_min_c=given.number("winter_min_c"),
        wet_months=given.wholes("wet_months"),
        soil_depth_m=_or(given.number("soil_depth_m"), base.soil_depth_m),
        soil_texture=cast("Texture", (given.text("soil_texture") or base.soil_texture).replace("-", " ")),
        soil_ph=given.number("soil_ph"),
        moisture=_or(given.number("moisture"), base.moisture),
        open_light=_or(given.number("open_light"), base.open_light),
        place=given.text("place"),
        audience=cast("Audience", given.text("audience") or base.audience),
    )
    _refuse_contradictions(given, site)
    return SiteAsked(_same(site), said, given.text("observed_at"), given.names("history"))


@lru_cache(maxsize=64)
def _same(site: Site) -> Site:
    """One object for equal sites, none of which has rules yet: what is kept by it is found sooner."""
    return site


def _frosts(given: Given, latitude: float) -> tuple[float | None, float | None, bool]:
    """Last and first frost day, and whether frost comes in every month."""
    from kb.mixture.season import reference_frost_days  # noqa: PLC0415 - loads numpy

    words = {name: given.text(name) for name in ("last_frost", "first_frost") if name in given}
    said = {word for word in words.values() if word in {NO_FROST, EVERY_MONTH}}
    if said:
        if len(set(words.values())) > 1:
            culprit = next(name for name, word in words.items() if word in said)
            detail = (
                f"says '{words[culprit]}' and the other frost date something else; give one of them alone."
            )
            raise BadParameter((ParameterFault(culprit, detail),))
        if said == {NO_FROST}:
            return None, None, False
        middle = float(_midsummer(latitude))
        return middle, middle, True
    assumed_last, assumed_first = reference_frost_days(latitude)
    last = given.whole("last_frost") or assumed_last
    first = given.whole("first_frost") or assumed_first
    _refuse_no_summer(latitude, last, first, "last_frost" if "last_frost" in given else "first_frost")
    return last, first, False


def _midsummer(latitude: float) -> int:
    return MIDSUMMER_SOUTH if latitude < 0 else MIDSUMMER_NORTH


def _refuse_no_summer(latitude: float, last: float | None, first: float | None, culprit: str) -> None:
    """Raises BadParameter where the frost-free time leaves out midsummer, or one date is missing."""
    if last is None and first is None:
        return
    if last is None or first is None:
        missing = "last_frost" if last is None else "first_frost"
        detail = "is missing: between the tropics give both frost dates, or none where there is no frost."
        raise BadParameter((ParameterFault(missing, detail),))
    middle = _midsummer(latitude)
    if not (middle - last) % 365 < (first - last) % 365:
        detail = (
            f"the frost-free time from {month_day(last)} to {month_day(first)} leaves out midsummer "
            f"({month_day(middle)} at latitude {latitude:g}); check both frost dates, or say "
            f"{EVERY_MONTH} where no month is free of frost."
        )
        raise BadParameter((ParameterFault(culprit, detail),))
    winter = WINTER_SOUTH if latitude < 0 else WINTER_NORTH
    if (winter - last) % 365 + WINTER_DAYS <= (first - last) % 365:
        detail = (
            f"frosts from {month_day(first)} to {month_day(last)} lie wholly outside winter "
            f"({month_day(winter)} to {month_day(winter + WINTER_DAYS - 1)} at latitude {latitude:g}); check "
            f"both frost dates, or say {NO_FROST} where there is no frost."
        )
        raise BadParameter((ParameterFault(culprit, detail),))


def _refuse_contradictions(given: Given, site: Site) -> None:
    """Raises BadParameter where frost, winter and latitude cannot all be true."""
    from kb.mixture.season import TROPIC  # noqa: PLC0415 - loads numpy

    winter = site.winter_min_c
    dated = "last_frost" in given and site.frosty
    faults = []
    if abs(site.latitude) < TROPIC and dated and winter is None:
        detail = (
            f"names a frost at latitude {site.latitude:g}, where it comes to high ground alone: give "
            "winter_min_c (below 0) too, or leave the frost dates out."
        )
        faults.append(ParameterFault("last_frost", detail))
    if winter is not None and winter > 0 and site.frosty:
        detail = (
            "is above 0, so that frost would be rare, yet frost dates are "
            f"{'given' if dated else 'assumed at this latitude'}: say last_frost={NO_FROST} for a place "
            "without frost, or give a lower temperature."
        )
        faults.append(ParameterFault("winter_min_c", detail))
    if winter is not None and winter < 0 and not site.frosty:
        detail = (
            f"is below 0, yet the place is taken as free of frost ({_why_free(given)}): give frost dates."
        )
        faults.append(ParameterFault("winter_min_c", detail))
    if "frost_sd_days" in given and (not site.frosty or site.frost_every_month):
        detail = "acts only where there are frost dates; leave it out."
        faults.append(ParameterFault("frost_sd_days", detail))
    if faults:
        raise BadParameter(tuple(faults))


def _why_free(given: Given) -> str:
    return f"last_frost={NO_FROST}" if "last_frost" in given else "it lies between the tropics"
