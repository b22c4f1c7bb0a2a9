"""A lasting plant that is grown as a crop of one season: set in a named week, lifted or cleared with it.

Cassava and pigeon pea outlive their harvest, Jerusalem artichokes and bunching onions come again; where a
week is named in which they are set or cleared, they are the crop of that season (common practice). So they
are judged as annuals are: grown from nothing, gone at the end, without roots that last or a winter to stand.
"""

from dataclasses import replace
from functools import lru_cache

from kb.mixture.profile import Activity, Estimate, Profile
from kb.mixture.season import DAYS_PER_WEEK, REFERENCE_START_DAY, WEEKS, YEAR_DAYS

RISES, FALLS = 0.35, 0.15
"""Shares of its season in which a crop that else is green all year grows up and ripens (judgement)."""


CUT_WHOLE = frozenset({"graminoid"})
"""Growth forms of crops that are cut to the stubble, leaf and all (common practice of grasses and cane)."""


def leaf_renewed(form: str | None, dug: Estimate, cover: Estimate | None, cycle: Estimate | None) -> bool:
    """Whether the harvest of a lasting crop takes its leaf, so that it grows from nothing each time.

    It is lifted (cassava) or a grass cut to the stubble (cane), days to full ``cover`` and its ``cycle`` are
    on record, as crop tables print them, and it is harvested after about a year or less.
    """
    if cover is None or cycle is None or cycle.low > YEAR_DAYS:
        return False
    return dug.likely > 0 or form in CUT_WHOLE


def renewed(profile: Profile) -> bool:
    """Whether a crop is judged by its stages: no season of it is on record, and `leaf_renewed`."""
    if profile.activity.known or profile.activity.evergreen:
        return False
    form = profile.growth_form.value
    return leaf_renewed(form, profile.dug_depth_m, profile.cover_days, profile.cycle_days)


def of_one_year(profile: Profile, *, cleared: bool = False) -> bool:
    """Whether a lasting plant can be meant as a crop of the season in which it is set.

    Its harvest lifts it (taken so of food crops of tubers where nobody says) or takes all its leaf, or frost
    kills it and it is ripe within a year of planting, or it is a herb of which is said when it is
    ``cleared``. Unknown life cycles and trees are not asked.
    """
    if profile.annual or profile.life_cycle.value != "perennial" or profile.growth_form.value == "tree":
        return False
    lifted = profile.dug_depth_m.likely > 0 and not profile.woody
    days = profile.cycle_days
    ripe = profile.tender.value == "yes" and days is not None and days.likely < YEAR_DAYS
    return lifted or ripe or renewed(profile) or (cleared and not profile.woody)


@lru_cache(maxsize=256)
def as_year_crop(profile: Profile) -> Profile:
    """The plant as a crop of one season, its leaf out while it grows; see `of_one_year`."""
    course = _course(profile)
    return replace(
        profile,
        life_cycle=replace(profile.life_cycle, value="annual"),
        activity=course,
        leaf=replace(course, origin=profile.leaf.origin, records=profile.leaf.records),
    )


def _course(profile: Profile) -> Activity:
    """Its season, no longer than its cycle from planting to harvest where that is on record."""
    own = profile.activity
    if own.evergreen:
        start = REFERENCE_START_DAY / DAYS_PER_WEEK + 1
        length = WEEKS - 1.0
        corners = [length * RISES, length * (1 - FALLS), length]
    else:
        start = own.start
        corners = [(corner - start) % WEEKS for corner in (own.full, own.decline, own.end)]
        length = corners[-1]
    days = profile.cycle_days
    share = min(1.0, days.likely / DAYS_PER_WEEK / length) if days is not None and length > 0 else 1.0
    full, decline, end = ((start + share * corner - 1) % WEEKS + 1 for corner in corners)
    return replace(own, start=start, full=full, decline=decline, end=end, evergreen=False)
