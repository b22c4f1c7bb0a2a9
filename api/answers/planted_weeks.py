"""The weeks in which crops are set: those that were said, and what is taken where none was, in words."""

from collections.abc import Sequence
from dataclasses import replace

from api.answers.standing import long_year_notes, of_year
from api.questions import JudgeQuestion, SettingAsked
from kb.mixture.altered import altered
from kb.mixture.profile import Profile
from kb.mixture.season import driven_by_rain
from kb.mixture.sharing.first_season import sown_this_year
from kb.mixture.site import Site
from kb.mixture.weeks.set_along import rains_always, set_in, week_along
from kb.mixture.weeks.year_crop import as_year_crop, of_one_year, renewed

Meant = tuple[Profile, tuple[str, ...]]
"""A plant as it is meant, with what is said of that."""


def set_this_year(profile: Profile, sow_week: int | None, clear_week: int | None = None) -> Meant:
    """The plant as it is meant where a week of setting or clearing is named, with what is said of that."""
    begins_anew = renewed(profile)
    if sow_week is None and clear_week is None:
        return profile, (_begins_anew(profile),) if begins_anew else ()
    if not of_one_year(profile, cleared=clear_week is not None):
        return profile, ()
    told = f"{profile.name} is judged as a crop of one season, since a week is named for it"
    without = "its season begins as it usually does" if begins_anew else "it stands for years"
    return as_year_crop(profile), (f"{told}; asked without, {without}.",)


def first_seasons(
    a: Profile, b: Profile, asked: SettingAsked, site: Site
) -> tuple[Meant, Meant, SettingAsked]:
    """Two in a bed, with a lasting one that is sown in a named week as it is in its first season.

    Its week is in its profile then, so it is taken out of what is ``asked``, and its age is 0.
    """
    if asked.setting != "bed":
        return (a, ()), (b, ()), asked
    first_a = _first_season(a, asked.sow_week_a, asked.age_a_years, site)
    first_b = _first_season(b, asked.sow_week_b, asked.age_b_years, site)
    if first_a is not None:
        asked = replace(asked, sow_week_a=None, age_a_years=0.0)
    if first_b is not None:
        asked = replace(asked, sow_week_b=None, age_b_years=0.0)
    return first_a or (a, ()), first_b or (b, ()), asked


def _first_season(profile: Profile, week: int | None, age: float | None, site: Site) -> Meant | None:
    reckoned = of_year(week)
    sown = None if reckoned is None or age else sown_this_year(profile, site, reckoned)
    if sown is None:
        return None
    note = (
        f"{profile.name} lasts for years: it is judged in its first season, sown in week {week}. How it "
        "does once it stands is another question: leave out the week, or say its age."
    )
    return sown, (note, *long_year_notes(week))


def planted_together(
    a: Profile, b: Profile, asked: SettingAsked, site: Site
) -> tuple[SettingAsked, tuple[str, ...]]:
    """The weeks of two in a bed, with that of the one taken for the other where `week_along` says so."""
    if asked.setting != "bed":
        return asked, ()
    said, ages = (asked.sow_week_a, asked.sow_week_b), (asked.age_a_years, asked.age_b_years)
    (week_a, week_b), notes = along((a, b), said, ages, site)
    return altered(asked, sow_week_a=week_a, sow_week_b=week_b), notes


def listed_together(
    a: Profile, others: Sequence[Profile], asked: SettingAsked, site: Site
) -> tuple[SettingAsked, tuple[Profile, ...], tuple[str, ...]]:
    """The same for a plant and a list of others, each of which stands with it alone."""
    said = (asked.sow_week_a, asked.sow_week_b)
    week = next((week for week in said if week is not None), None)
    if asked.setting != "bed" or week is None or not driven_by_rain(site):
        return asked, tuple(others), ()
    week_a, week_b = said
    if week_a is None and asked.age_a_years is None:
        week_a = week_along(a, said, site)
    if week_b is None and asked.age_b_years is None:
        others = [set_in(one, week, site) if renewed(one) else one for one in others]
        week_b = week if rains_always(site) else None
    if (week_a, week_b) == said:
        return asked, tuple(others), ()
    note = f"Rain is taken to fall all year: what is sown or set without a week of its own is in week {week}."
    return replace(asked, sow_week_a=week_a, sow_week_b=week_b), tuple(others), (note,)


def bed_together(
    profiles: Sequence[Profile], asked: JudgeQuestion, site: Site
) -> tuple[JudgeQuestion, tuple[str, ...]]:
    """The same for a whole planting in a bed."""
    if asked.setting != "bed" or asked.tree is not None:
        return asked, ()
    said, ages = [one.sow_week for one in asked.plants], [one.age_years for one in asked.plants]
    weeks, notes = along(profiles, said, ages, site)
    plants = (replace(one, sow_week=week) for one, week in zip(asked.plants, weeks, strict=True))
    return replace(asked, plants=tuple(plants)), notes


def along(
    profiles: Sequence[Profile], said: Sequence[int | None], ages: Sequence[float | None], site: Site
) -> tuple[tuple[int | None, ...], tuple[str, ...]]:
    """The weeks of plants in one bed, those not said taken from the others, with what is said of that.

    What is of an age stands there already.
    """
    weeks: list[int | None] = []
    notes: list[str] = []
    for profile, week, age in zip(profiles, said, ages, strict=True):
        taken = week_along(profile, said, site) if week is None and age is None else None
        if taken is not None:
            notes.append(
                f"When {profile.name} is set was not said: it is taken to be set along with its company, in "
                f"week {taken}."
            )
        weeks.append(week if taken is None else taken)
    return tuple(weeks), tuple(dict.fromkeys(notes))


def _begins_anew(profile: Profile) -> str:
    cover = profile.cover_days
    days = (
        "" if cover is None else f", and covers the ground about {10 * round(cover.likely / 10)} days later"
    )
    return (
        f"{profile.name} is taken as the crop that is planted or cut to the ground each year: its leaf grows "
        f"from nothing when its season begins{days}. A week that is named for it chooses when."
    )
