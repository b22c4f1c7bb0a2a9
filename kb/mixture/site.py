"""Where and how the plants stand: the site, the setting of a pair, the tree they stand under."""

from collections.abc import Hashable, Mapping
from dataclasses import dataclass, field, fields
from operator import attrgetter
from typing import Literal

Side = Literal["N", "E", "S", "W"]
Setting = Literal["bed", "hedge", "under"]
Stand = Literal["lone", "row", "closed"]
Use = Literal["harvested", "dug-in", "mown", "left"]
"""What becomes of a crop that another follows."""
Audience = Literal["household", "school", "public", "livestock"]
Texture = Literal[
    "sand",
    "loamy sand",
    "sandy loam",
    "loam",
    "silt loam",
    "silt",
    "sandy clay loam",
    "clay loam",
    "silty clay loam",
    "sandy clay",
    "silty clay",
    "clay",
]
"""The 12 texture classes of the USDA soil survey."""


@dataclass(frozen=True, slots=True)
class SiteRule:
    """What holds at a site for one plant: a law, a hazard to those who are near, an enemy in the ground.

    ``text`` says it, ``lift`` what would lift it (None: nothing does), ``elsewhere`` that this is other
    ground; ``records`` are IRIs.
    """

    kind: Literal["law", "site", "enemies"]
    text: str
    records: tuple[str, ...]
    ceiling: Literal["avoid", "poor", "workable"]
    lift: str | None = None
    elsewhere: bool = False


@dataclass(frozen=True, slots=True)
class Site:
    """One place. Latitude degrees (south negative); frost dates as day of year 1-365; depths m.

    The defaults are the reference site: 51 deg N, cool oceanic (mean last frost 10 May, first
    frost 15 October, SD 10 days, `trade` worked example), deep ordinary loam, open ground.
    Frost days are the real dates of the place, None where there is no frost; ``frost_sd_days`` is
    their spread between years. ``frost_every_month`` marks a place that is never free of frost: its
    two dates then meet at midsummer. ``winter_min_c`` is the mean of the lowest temperatures of its
    winters, None where nobody said. ``wet_months`` (1-12) are its months of rain, empty where rain
    falls all year. ``moisture`` is on the 1-12 scale. ``place`` is an ISO 3166 code or None.
    ``rules`` are what law, who is near, or the ground holds against single plants there, by plant;
    two sites that differ in them alone are equal, since soil, light and season are.
    """

    latitude: float = 51.0
    last_frost_day: float | None = 130.0
    first_frost_day: float | None = 288.0
    frost_sd_days: float = 10.0
    frost_every_month: bool = False
    winter_min_c: float | None = None
    wet_months: tuple[int, ...] = ()
    soil_depth_m: float = 2.2
    soil_texture: Texture = "loam"
    soil_ph: float | None = None
    moisture: float = 5.0
    open_light: float = 1.0
    place: str | None = None
    audience: Audience = "household"
    rules: Mapping[str, tuple[SiteRule, ...]] = field(default_factory=dict, compare=False)

    def __hash__(self) -> int:
        """By what differs most: a key of many questions, whose fifteen values would take long each time."""
        return hash((self.latitude, self.soil_depth_m, self.last_frost_day))

    @property
    def frosty(self) -> bool:
        """Whether frost comes there in most years."""
        return self.last_frost_day is not None or self.frost_every_month

    @property
    def southern(self) -> bool:
        return self.latitude < 0


REFERENCE_SITE = Site()
_ABOVE_GROUND = attrgetter(*(one.name for one in fields(Site) if one.name not in {"soil_depth_m", "rules"}))
_NO_RULES: Mapping[str, tuple[SiteRule, ...]] = {}


def above_ground(site: Site) -> tuple[Hashable, ...]:
    """All that a site is but for the depth of its soil, as a key; its rules are told by `rules_of`."""
    found: tuple[Hashable, ...] = _ABOVE_GROUND(site)
    return found


def rules_of(site: Site) -> Mapping[str, tuple[SiteRule, ...]]:
    """The rules of a site, the same object wherever there are none."""
    return site.rules or _NO_RULES


@dataclass(frozen=True, slots=True)
class Tree:
    """A tree as it stands this year: dome crown, widest at its base. Lengths m.

    ``planted_years`` is its age; None where only its size was given (then: established). ``by_age`` where
    its size is told by that age alone, and nothing of it was measured. ``roots_80_m`` is the radius of four
    fifths of its roots, where that is on record for its kind; ``ends_m`` the height that it will end at,
    where its age is known.
    """

    height_m: float
    crown_radius_m: float
    crown_base_m: float
    leaf_area_index: float
    stand: Stand = "lone"
    planted_years: float | None = None
    by_age: bool = False
    roots_80_m: float | None = None
    ends_m: float | None = None


@dataclass(frozen=True, slots=True)
class Arrangement:
    """How the two plants of a pair share the ground.

    ``share_a``/``share_b`` are shares of the ground, in setting ``hedge`` of the row (their sum may
    exceed 1); a hedge is kept no higher than ``kept_m`` (None: as they grow). In setting ``under``
    plant a is the tree, ``tree`` its size now, ``distance_m`` from its trunk and ``side`` where b
    stands; ``at_trunk`` where b climbs the trunk by its roots and no distance was said. ``sow_week_*`` move
    the start of an annual. ``given`` names what the gardener will provide (frame, barrier, mown, mulch,
    irrigated, fed, clean-ground, pruned, careful-lifting).
    """

    setting: Setting = "bed"
    share_a: float | None = None
    share_b: float | None = None
    distance_m: float | None = None
    side: Side | None = None
    tree: Tree | None = None
    sow_week_a: float | None = None
    sow_week_b: float | None = None
    age_a_years: float | None = None
    age_b_years: float | None = None
    kept_m: float | None = None
    given: frozenset[str] = frozenset()
    at_trunk: bool = False
