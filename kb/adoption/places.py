"""Places whose calendars name no weeks of the reference site: between the tropics, and lands of the monsoon.

There rain and not warmth opens the season: sesame is sown in August in Kerala, black gram in June in India.
Moved whole to 51 degrees north such weeks are of a season that nobody grows. How many days a crop takes is
another trait (`cycle-length`), and counts wherever it was seen.
"""

import re

from kb.model import Record, TraitId

SEASONS = frozenset({TraitId("growth-window"), TraitId("leaf-window"), TraitId("harvest-window")})
WHOLE_YEAR_WEEKS = 50.0
"""A window as long as this is all year round and names no weeks that a place could move (judgement)."""
OF_THE_RAINS = "not counted: the calendar of a place between the tropics or of the monsoon"

LANDS = frozenset({
    "bangladesh", "belize", "benin", "bhutan", "bolivia", "brazil", "brunei", "burkina faso", "burundi",
    "cambodia", "cameroon", "chad", "colombia", "costa rica", "cuba", "côte d'ivoire", "dominican republic",
    "ecuador", "el salvador", "eritrea", "ethiopia", "fiji", "gabon", "gambia", "ghana", "guam",
    "guatemala", "guinea", "guyana", "haiti", "hawaii", "honduras", "india", "indonesia", "ivory coast",
    "jamaica", "kenya", "laos", "liberia", "madagascar", "malawi", "malaysia", "maldives", "mali",
    "martinique", "mauritius", "mozambique", "myanmar", "nepal", "new guinea", "nicaragua", "niger",
    "nigeria", "panama", "papua new guinea", "peru", "philippines", "puerto rico", "rwanda", "réunion",
    "samoa", "senegal", "sierra leone", "singapore", "somalia", "south-east asia", "sri lanka", "sudan",
    "suriname", "tanzania", "thailand", "togo", "uganda", "vanuatu", "venezuela", "vietnam", "west africa",
    "yemen", "zambia", "zimbabwe",
})  # fmt: skip
"""Countries and states that lie wholly or for the most part between 23.4 degrees south and north, and the
lands of the South Asian monsoon beyond (geography)."""
REGIONS = frozenset({
    "andhra pradesh", "assam", "bihar", "gujarat", "java", "karnataka", "kerala", "luzon", "madhya pradesh",
    "maharashtra", "meghalaya", "odisha", "punjab", "queensland", "rajasthan", "sumatra", "tamil nadu",
    "telangana", "uttar pradesh", "west bengal", "yucatán",
})  # fmt: skip
"""Regions that are printed without their country."""
PARTS = re.compile(r",|;|\band\b|\(|\)")


def of_the_rains(record: Record) -> bool:
    """Whether the record is a season of weeks from a place whose calendar follows the rains."""
    place = record.condition("place")
    if place is None or record.trait not in SEASONS or record.low is None:
        return False
    if record.high is not None and float(record.high) - float(record.low) >= WHOLE_YEAR_WEEKS:
        return False
    return any(part.strip().lower() in LANDS | REGIONS for part in PARTS.split(place))
