"""The questions, frozen, with every default visible.

Plants are still names here; the snapshot resolves them when the question is answered.
``api.asking`` makes them from parameters.
"""

from dataclasses import dataclass
from typing import Literal

from api.param_kinds import SettingName
from api.site_values import EVERY_MONTH, NO_FROST
from api.values import month_day
from kb.mixture.site import REFERENCE_SITE, Audience, Side, Site, Stand, Use

REFERENCE_NAME = "reference site"
REFERENCE_WORDS = "51° N, cool oceanic, ordinary deep loam, open"
DIGITS = 3
"""To how many digits the scarcity of water is told, by month."""


@dataclass(frozen=True, slots=True)
class SiteAsked:
    """The site as understood, and the parameters that were really given.

    ``history`` are names of enemies known to be in the ground, resolved when the question is answered.
    """

    site: Site = REFERENCE_SITE
    given: tuple[str, ...] = ()
    observed_at: str | None = None
    history: tuple[str, ...] = ()

    def _frost(self, day: float | None) -> str | None:
        """A frost date as it is written; None where nobody said and none is assumed."""
        if self.site.frost_every_month:
            return EVERY_MONTH
        if day is None:
            return NO_FROST if {"last_frost", "first_frost"} & set(self.given) else None
        return month_day(day)

    def as_dict(self) -> dict[str, object]:
        """The site as understood, every default visible, and how scarce its water is by month."""
        from kb.mixture.ground.water import scarcity_by_month  # noqa: PLC0415 - loads numpy
        from kb.mixture.weeks.winter import winter_c  # noqa: PLC0415

        site = self.site
        return {
            "name": "site as given" if self.given else REFERENCE_NAME,
            "description": None if self.given else REFERENCE_WORDS,
            "latitude": site.latitude,
            "last_frost": self._frost(site.last_frost_day),
            "first_frost": self._frost(site.first_frost_day),
            "frost_sd_days": site.frost_sd_days if site.frosty and not site.frost_every_month else None,
            "winter_min_c": winter_c(site)[0],
            "wet_months": list(site.wet_months),
            "soil_depth_m": site.soil_depth_m,
            "soil_texture": site.soil_texture.replace(" ", "-"),
            "soil_ph": site.soil_ph,
            "moisture": site.moisture,
            "open_light": site.open_light,
            "place": site.place,
            "audience": site.audience,
            "history": list(self.history),
            "observed_at": self.observed_at,
            "scarcity_by_month": {
                name: list(course) for name, course in scarcity_by_month(site, DIGITS).items()
            },
            "given": list(self.given),
        }


@dataclass(frozen=True, slots=True)
class TreeAsked:
    """What was said of the tree; None is taken from its records and said so in the notes."""

    height_m: float | None = None
    crown_radius_m: float | None = None
    crown_base_m: float | None = None
    age_years: float | None = None
    leaf_area_index: float | None = None
    stand: Stand | None = None
    stock: str | None = None


@dataclass(frozen=True, slots=True)
class FollowAsked:
    """How B comes after A."""

    clear_week_a: int | None = None
    gap_weeks: float | None = None
    gap_years: float | None = None
    use_a: Use | None = None


@dataclass(frozen=True, slots=True)
class SettingAsked:
    """How the plants share the ground, as it was said; see ``api.params`` for units and ranges."""

    setting: SettingName = "bed"
    distance_m: float | None = None
    side: Side | None = None
    share_a: float | None = None
    share_b: float | None = None
    spacing_a_m: float | None = None
    spacing_b_m: float | None = None
    sow_week_a: int | None = None
    sow_week_b: int | None = None
    age_a_years: float | None = None
    age_b_years: float | None = None
    given: tuple[str, ...] = ()
    tree: TreeAsked = TreeAsked()
    follow: FollowAsked = FollowAsked()


@dataclass(frozen=True, slots=True)
class Page:
    """A part of a list: at most ``limit`` entries after the token ``after``."""

    limit: int
    after: str | None = None


@dataclass(frozen=True, slots=True)
class Leaving:
    """Which plants a ranked list leaves out or takes in."""

    include: tuple[str, ...] = ()
    exclude: tuple[str, ...] = ()
    group: tuple[str, ...] = ()


@dataclass(frozen=True, slots=True)
class PlantsQuestion:
    words: str | None
    traits: tuple[str, ...]
    family: str | None
    page: Page


@dataclass(frozen=True, slots=True)
class PlantQuestion:
    plant: str
    place: str | None
    audience: Audience
    observed_at: str | None = None


@dataclass(frozen=True, slots=True)
class RecordsQuestion:
    plant: str
    trait: str | None


@dataclass(frozen=True, slots=True)
class RecordQuestion:
    record: str


@dataclass(frozen=True, slots=True)
class HistoryQuestion:
    """What happened to a plant, or to one record, decision or observation of it."""

    plant: str
    record: str | None


@dataclass(frozen=True, slots=True)
class PairQuestion:
    a: str
    b: str
    site: SiteAsked
    setting: SettingAsked


@dataclass(frozen=True, slots=True)
class CandidatesQuestion:
    plant: str
    site: SiteAsked
    setting: SettingAsked
    leaving: Leaving
    page: Page


@dataclass(frozen=True, slots=True)
class UnderQuestion:
    tree: str
    site: SiteAsked
    measure: TreeAsked
    side: Side | None
    years: tuple[int, ...]
    given: tuple[str, ...]
    leaving: Leaving
    limit: int


@dataclass(frozen=True, slots=True)
class PlacedAsked:
    """One plant of a planting, as it was said; see ``api.params`` for units and ranges."""

    plant: str
    share: float | None = None
    spacing_m: float | None = None
    sow_week: int | None = None
    clear_week: int | None = None
    age_years: float | None = None
    distance_m: float | None = None
    side: Side | None = None


@dataclass(frozen=True, slots=True)
class JudgeQuestion:
    """A whole planting. ``plan`` where it came as a plan: faults then name the place in it.

    ``kept_m`` is the height at which a hedge is kept. Under a ``tree``, ``setting`` says nothing.
    """

    plants: tuple[PlacedAsked, ...]
    tree: str | None
    measure: TreeAsked
    site: SiteAsked
    given: tuple[str, ...]
    setting: Literal["bed", "hedge"] = "bed"
    kept_m: float | None = None
    plan: bool = False
    dataset_version: str | None = None


@dataclass(frozen=True, slots=True)
class SourcesQuestion:
    """All sources, or one."""

    source: str | None = None


@dataclass(frozen=True, slots=True)
class TraitsQuestion:
    """All traits, or one."""

    trait: str | None = None


@dataclass(frozen=True, slots=True)
class ExportQuestion:
    """The whole data set in one form; ``adopted`` (csv only) asks for the values in use."""

    form: str
    adopted: bool


@dataclass(frozen=True, slots=True)
class WorklistQuestion:
    """What to look up next; ``partners`` is how many others each plant is tried with."""

    kind: str | None
    partners: int
    page: Page


Question = (
    PlantsQuestion
    | PlantQuestion
    | RecordsQuestion
    | RecordQuestion
    | HistoryQuestion
    | PairQuestion
    | CandidatesQuestion
    | UnderQuestion
    | JudgeQuestion
    | SourcesQuestion
    | TraitsQuestion
    | ExportQuestion
    | WorklistQuestion
)
