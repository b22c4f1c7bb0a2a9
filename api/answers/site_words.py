"""Notes on what was assumed of a site, and on its water."""

from api.questions import SiteAsked
from kb.mixture.ground.water import scarcity_spread
from kb.mixture.season import MONTH_WEIGHTS, driven_by_rain
from kb.mixture.weeks.winter import winter_c

MONTHS = (
    "January", "February", "March", "April", "May", "June",
    "July", "August", "September", "October", "November", "December",
)  # fmt: skip
NO_RAINS_NOTE = (
    "Between the tropics the rains make the season, and which months are wet was not said: rain is taken to "
    "fall all year, and all growth that waits for it to start together; wet_months says it."
)
RAINS_NOTE = "Between the tropics growth is taken to start with the longest run of the wet months given."
FROST_NOTE = (
    "Frost dates were not both given: those of the reference site stand in, moved by four days for a degree "
    "of latitude, and by half a year south of the equator. They are rough: height and the sea count as much."
)


def site_notes(asked: SiteAsked) -> list[str]:
    """What was assumed of the site, where that matters."""
    if not asked.given:
        return ["No site was given: the reference site stands in (see the question)."]
    return [*_climate_notes(asked), _water_note(asked)]


def _climate_notes(asked: SiteAsked) -> list[str]:
    """What stands in for frost dates, rains and winters that were not said."""
    site, notes = asked.site, []
    said = {"last_frost", "first_frost"} & set(asked.given)
    if "latitude" in asked.given and len(said) < 2 and site.frosty and not site.frost_every_month:
        notes.append(FROST_NOTE)
    if driven_by_rain(site):
        notes.append(RAINS_NOTE if site.wet_months else NO_RAINS_NOTE)
    coldest, guess = winter_c(site)
    if guess and coldest is not None:
        notes.append(
            f"How cold its winters get was not said: about {coldest:.0f} °C is a rough guess from "
            "latitude and frost dates, and inland far too mild; winter_min_c says it."
        )
    return notes


def _water_note(asked: SiteAsked) -> str:
    """Which month is scarcest of water, in a mean year and in the driest of five."""
    spread = scarcity_spread(asked.site)
    mean, dry = (MONTH_WEIGHTS @ course for course in (spread.mean, spread.dry_year))
    month = int(mean.argmax())
    return (
        f"Water is scarcest in {MONTHS[month]}: {mean[month]:.2f} on a scale from 0 to 1, and "
        f"{dry[month]:.2f} in the driest year of five (a soil-water balance over sampled years of rain in "
        "the reference climate, moved to this latitude)."
    )
