"""What the computation needs to know of one plant, each value with where it came from."""

from dataclasses import dataclass, field
from typing import Literal

Origin = Literal["cited", "common-practice", "recalled", "genus", "form", "assumed"]
"""Where a value came from, best first. ``genus`` and ``form`` are intervals that stand in for a
missing record; ``assumed`` is a stated default. The last three never make a verdict better."""

KNOWN: tuple[Origin, ...] = ("cited", "common-practice", "recalled")


@dataclass(frozen=True, slots=True)
class Estimate:
    """A number with its 10-90 % interval. Unit: in the name of the field that holds it."""

    low: float
    likely: float
    high: float
    origin: Origin
    records: tuple[str, ...] = ()

    @property
    def known(self) -> bool:
        return self.origin in KNOWN


@dataclass(frozen=True, slots=True)
class Span:
    """A tolerated range (e.g. of soil pH), low to high; not an interval of doubt."""

    low: float
    high: float
    origin: Origin
    records: tuple[str, ...] = ()
    thin: bool = False
    """Whether little is on record for it: one study, or a class of a scale."""
    best: tuple[float, float] | None = None
    """Where it is said to do best, if nothing but that is on record; the range is moved out from it."""
    found: bool = False
    """Whether it rests only on where a plant does best or is found, which is no limit of what it bears."""

    @property
    def known(self) -> bool:
        return self.origin in KNOWN


@dataclass(frozen=True, slots=True)
class Choice:
    """A named value (a family, a form, ``yes``/``no``); ``value`` is None where nothing is known."""

    value: str | None
    origin: Origin
    records: tuple[str, ...] = ()

    @property
    def known(self) -> bool:
        return self.value is not None and self.origin in KNOWN


@dataclass(frozen=True, slots=True)
class HeatSum:
    """Degree days above ``base_c`` (degrees C) from planting to the first ripe harvest."""

    base_c: float
    degree_days: Estimate


Driver = Literal["spring-heat", "chill", "autumn-frost", "day-length", "fixed", "cycle", "dry-season"]


@dataclass(frozen=True, slots=True)
class Activity:
    """The yearly course of growth at the reference site: four corners in weeks [1, 53), cyclic.

    Rises from ``start`` to ``full``, holds to ``decline``, falls to ``end``. An evergreen has
    ``evergreen`` set and is active all year (corners 1, 1, 53, 53, ignored).
    ``doubt_weeks`` is the 10-90 % half-width of the dates. ``most_days`` holds what frost ends to so many
    days from start to end, however long a site is free of frost; None: to no end. ``buds`` marks wood that
    drops its leaves: short days and its winter hold it back too (`season.MOST_MOVED_DAYS`).
    """

    start: float
    full: float
    decline: float
    end: float
    evergreen: bool
    doubt_weeks: float
    origin: Origin
    records: tuple[str, ...] = ()
    start_driver: Driver = "spring-heat"
    end_driver: Driver = "autumn-frost"
    most_days: float | None = None
    buds: bool = False

    @property
    def known(self) -> bool:
        return self.origin in KNOWN


@dataclass(frozen=True, slots=True)
class Sown:
    """The year of a crop from another time of sowing than its usual one."""

    activity: Activity
    leaf: Activity


@dataclass(frozen=True, slots=True)
class Profile:
    """One plant as the computation sees it. Lengths m, shares 0-1, nitrogen g/m2, weeks ISO.

    ``growth_form``: tree, shrub, subshrub, cane, herb, graminoid, climber-woody,
    climber-herbaceous, fern. ``life_cycle`` as grown here: annual, biennial, perennial.
    ``light_to_crop``: low is the share of open light where a crop is not worth it, high where
    about 90 % of the open yield is reached. ``spread``: clump, slow, runs, invades.
    ``support_mode``: none, twiner, tendril, scrambler, root-clinger. ``dug_depth_m``: how deep
    harvest digs each year (0 where nothing is dug). ``cover_days``: days from sowing to full cover.
    """

    id: str
    name: str
    scientific_name: str
    genus: str
    family: Choice
    growth_form: Choice
    life_cycle: Choice
    root_form: Choice
    root_d50_m: Estimate
    root_d95_m: Estimate
    height_m: Estimate
    crown_width_m: Estimate
    crown_base_m: Estimate
    leaf_area_index: Estimate
    extinction: Estimate
    activity: Activity
    leaf: Activity
    light_to_survive: Estimate
    light_to_crop_zero: Estimate
    light_to_crop_full: Estimate
    nitrogen_fixing: Choice
    fixing_partner: Choice
    nitrogen_demand_g_m2: Estimate
    water_use: Estimate
    soil_ph: Span
    moisture: Span
    spread: Choice
    support_mode: Choice
    reach_m: Estimate | None
    dug_depth_m: Estimate
    cover_days: Estimate | None
    sole_spacing_m: Estimate
    tender: Choice
    """``yes`` where frost kills it, ``no`` where it does not."""
    nitrogen_fixed_g_m2: Estimate | None = None
    """Nitrogen that a full stand takes from the air in a year or its one season; None where not on record."""
    grown_height_m: Estimate | None = None
    """Its height as a managed crop, where a crop table prints one; a flora's may be of a wild plant."""
    hardiness_c: Estimate | None = None
    """Lowest winter temperature that it bears at rest, degrees C; None where not on record."""
    flowers: Activity | None = None
    """Weeks in flower (start to end), None where not on record."""
    travels_by: Choice = Choice(None, "assumed")
    """Organ by which it comes up elsewhere: stolon, rhizome, suckering, tuber, bulb; None where unknown."""
    raising: Choice = field(default_factory=lambda: Choice(None, "assumed"))
    """``planted-out`` where it is commonly raised in a seed bed or pots, ``in-place`` where it is not."""
    stores_in: Choice = Choice(None, "assumed")
    """Organ below ground in which it keeps its store: tuber, corm, bulb, rhizome, storage-root."""
    winters: Choice = Choice(None, "assumed")
    """Winters of where it lives or is grown: cold, mild, none (a crop of the tropics); None where not on
    record. Says nothing of how cold a winter it bears."""
    sowings: tuple[Sown, ...] = ()
    """Its year from further times of sowing; ``activity`` and ``leaf`` are of the usual one (`as_sown`)."""
    reaction_class: Estimate | None = None
    """Class of soil reaction where it is found, 1 very acid to 9 rich in lime; no pH. None where it is not on
    record, and for crops of one season, which a wild plant's class does not bind."""
    cycle_days: Estimate | None = None
    """Days from sowing or setting to harvest, or to ripeness; None where not on record."""
    warmth_c: Span | None = None
    """Mean temperatures of the months in which it does well as a crop, degrees C; None where unknown."""
    warmth_grows_c: Span | None = None
    """Temperatures of its season outside which it is not grown as a crop, degrees C; None where unknown."""
    heat_to_harvest: HeatSum | None = None
    """The warmth that it takes to its first ripe harvest; None where not on record."""
    temperate_climate: Choice = Choice(None, "assumed")
    """``yes`` where it is on record for temperate climates, ``no`` where only for others; None: not said."""
    tropical_climate: Choice = Choice(None, "assumed")
    """The same of tropical climates (no month below 18 degrees C)."""
    ripe_seed: Choice = Choice(None, "assumed")
    """``yes`` where it is on record that its ripe, dry seed is what it is grown for."""
    picked: Choice = Choice(None, "assumed")
    """``yes`` where it is listed as a fruit tree; None where it is not."""
    covers: Choice = Choice(None, "assumed")
    """``yes`` where it is listed to cover or feed the ground, for no crop of its own; None where it is not.
    It covers the ground from spring on too, and may flower as it likes: undersown subterranean clover
    (Theunissen et al. 1995, Entomol. Exp. Appl. 74: 7-16), crimson clover, vetch."""
    kept_m: float | None = None
    """Shears keep it no higher than this, m; None where it stands as it grows."""
    on_a_stem: Choice = Choice(None, "assumed")
    """``yes`` where it is raised on a clear stem, as trees grown for their fruit are (common practice)."""

    most_light: Span | None = None
    """The share of open light in the weeks of the highest sun from which it may, and does, suffer; None where
    it is not known to. ``found`` where that tells only in what light it is found."""
    height_gain_m: Estimate | None = None
    """Height (m) that it gains in a year while it grows fastest; None where it is not on record."""
    root_spread_80_m: Estimate | None = None
    """Radius that holds four fifths of its roots when grown; None where it is not on record."""
    root_length_km_m2: Estimate | None = None
    """Length of all roots beneath a square metre of a full stand, km; None where it is not on record."""
    kin_exceptions: tuple[tuple[str, str], ...] = ()
    """Species of its kin of which a published statement says that they do well together, each with why."""

    @property
    def of_the_tropics(self) -> bool:
        """Whether it is listed as a crop of the tropics."""
        return self.winters.value == "none"

    @property
    def grafted(self) -> bool:
        """Whether it stands on a named stock."""
        return ".on-" in self.id

    @property
    def palm(self) -> bool:
        """Whether it is a tree palm: one tuft of leaves, at its full width before there is a stem."""
        return self.family.value == "Arecaceae" and self.growth_form.value == "tree"

    def __hash__(self) -> int:
        """By the id: a key of many questions, whose hundred values would be gone through each time."""
        return hash(self.id)

    @property
    def root_records(self) -> tuple[str, ...]:
        """What is on record of where its roots are, and how long."""
        known = (self.root_d95_m, self.root_d50_m, self.root_spread_80_m, self.root_length_km_m2)
        return tuple(record for one in known if one is not None for record in one.records)

    @property
    def woody(self) -> bool:
        return self.growth_form.value in {"tree", "shrub", "subshrub", "cane", "climber-woody"}

    @property
    def annual(self) -> bool:
        """Grown for one season from seed or set (biennials lifted in their first year too)."""
        return self.life_cycle.value in {"annual", "biennial"}
