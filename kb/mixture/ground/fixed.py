"""How much nitrogen a plant takes from the air, and what of it others get when it is cut or turned in."""

from kb.mixture.profile import KNOWN, Estimate, Profile
from kb.mixture.site import Use

FROM_AIR = 0.7
"""Share of what a fixer holds that came from the air (0.6-0.9, `trade` 4.7, from memory): where what it fixes
is not on record."""
LEFT_OF_HELD: dict[Use, tuple[float, float]] = {
    "harvested": (0.02, 0.15),
    "dug-in": (0.9, 1.0),
    "mown": (0.8, 1.0),
    "left": (0.6, 0.9),
}
"""Share of the nitrogen held by a plant that stays on the ground. Harvested: field peas left
3 kg/ha in tops and 26 with roots of roughly 180 held (`trade` 4.7: abstract on south-west
Australia); the others are judgement."""
NEXT_SEASON = (0.3, 0.5)
"""Of what is left, this much reaches what grows there in the next season (`trade` 4.7, from memory)."""


def fixed_by(profile: Profile) -> Estimate:
    """What a full stand fixes in a year or its one season, g/m2: as on record, else of what it takes up."""
    if profile.nitrogen_fixed_g_m2 is not None:
        return profile.nitrogen_fixed_g_m2
    held = profile.nitrogen_demand_g_m2
    low, likely, high = (FROM_AIR * value for value in (held.low, held.likely, held.high))
    return Estimate(low, likely, high, held.origin, held.records)


def stand_in(profile: Profile) -> str:
    """Words that nothing on record tells how much it fixes; none where something does."""
    if fixed_by(profile).origin in KNOWN:
        return ""
    return f"; how much {profile.name} fixes is not on record, a usual amount stands for it"
