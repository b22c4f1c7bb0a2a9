"""From adopted values to the profile the computation works on, gaps filled and labelled.

A gap is filled by an interval from the root form, the genus or the growth form; its origin says
so, and the computation never lets it make a verdict better.
"""

import math
import statistics
from collections import Counter
from collections.abc import Mapping
from dataclasses import dataclass

from kb import defaults
from kb.adoption.agreement import CAUTIOUS_ORDER
from kb.adoption.intervals import interval_of_middle
from kb.flowering import flowering
from kb.mixture.profile import Activity, Choice, Driver, Estimate, Origin, Profile, Span
from kb.model import Adopted, Basis, Plant, PlantId, Record, TraitId

ORIGIN_OF_BASIS: Mapping[Basis, Origin] = {
    "common-practice": "common-practice",
    "recalled": "recalled",
}
ORIGINS_BEST_FIRST: tuple[Origin, ...] = ("cited", "common-practice", "recalled")

Values = Mapping[TraitId, Adopted]

TRAILS_BELOW = 0.35
"""A vine recorded as a crop lower than this share of its length is grown along the ground."""


@dataclass(frozen=True, slots=True)
class GenusFacts:
    """What is on record in each genus, so that a plant without it can borrow, and say so.

    ``depths`` are effective rooting depths (m), ``spreads`` the classes of spread.
    """

    depths: Mapping[str, tuple[tuple[PlantId, float], ...]]
    spreads: Mapping[str, tuple[tuple[PlantId, str], ...]]

    @classmethod
    def of(cls, adopted: Mapping[PlantId, Values]) -> "GenusFacts":
        depths: dict[str, list[tuple[PlantId, float]]] = {}
        spreads: dict[str, list[tuple[PlantId, str]]] = {}
        for plant_id, values in adopted.items():
            depth = values.get(TraitId("effective-rooting-depth"))
            if depth is not None and depth.likely is not None and depth.inherited_from is None:
                depths.setdefault(genus_of(plant_id), []).append((plant_id, depth.likely))
            spread = values.get(TraitId("spread"))
            if spread is not None and spread.concepts and spread.inherited_from is None:
                spreads.setdefault(genus_of(plant_id), []).append((plant_id, spread.concepts[0]))
        return cls(
            {genus: tuple(found) for genus, found in depths.items()},
            {genus: tuple(found) for genus, found in spreads.items()},
        )

    def median_depth(self, plant_id: PlantId) -> float | None:
        """Median over the other plants of the genus; None where there is none."""
        others = [d for other, d in self.depths.get(genus_of(plant_id), ()) if other != plant_id]
        return statistics.median(others) if others else None

    def usual_spread(self, plant_id: PlantId) -> str | None:
        """The class that most other plants of the genus have, the worse of equals; None without any."""
        others = Counter(s for other, s in self.spreads.get(genus_of(plant_id), ()) if other != plant_id)
        order = CAUTIOUS_ORDER["spread"]
        return max(others, key=lambda spread: (others[spread], order.index(spread)), default=None)


def genus_of(plant_id: PlantId) -> str:
    return plant_id.partition("-")[0]


def origin_of(adopted: Adopted, records: Mapping[str, Record]) -> Origin:
    """The best origin among the records that counted."""
    found = {ORIGIN_OF_BASIS.get(records[w.record].basis, "cited") for w in adopted.weighed if w.weight > 0}
    return next((origin for origin in ORIGINS_BEST_FIRST if origin in found), "cited")


class _Values:
    """The adopted values of one plant as estimates, spans and choices."""

    def __init__(self, adopted: Values, records: Mapping[str, Record]) -> None:
        self.adopted = adopted
        self._records = records

    def origin(self, value: Adopted) -> Origin:
        return origin_of(value, self._records)

    def estimate(
        self, trait: str, fallback: tuple[float, float, float], origin: Origin = "assumed"
    ) -> Estimate:
        value = self.adopted.get(TraitId(trait))
        if value is None or value.likely is None:
            return Estimate(*fallback, origin)
        low = value.low if value.low is not None else value.likely * 0.8
        high = value.high if value.high is not None else value.likely * 1.25
        return Estimate(low, value.likely, high, self.origin(value), value.records)

    def maybe(self, trait: str) -> Estimate | None:
        value = self.adopted.get(TraitId(trait))
        return None if value is None or value.likely is None else self.estimate(trait, (0, 0, 0))

    def end(self, trait: str, *, upper: bool, fallback: tuple[float, float, float], doubt: float) -> Estimate:
        """One end of a printed range as an estimate with its own doubt (absolute)."""
        value = self.adopted.get(TraitId(trait))
        end = None if value is None else value.high if upper else value.low
        if value is None or end is None:
            return Estimate(*fallback, "assumed")
        return Estimate(max(0.0, end - doubt), end, end + doubt, self.origin(value), value.records)

    def span(self, trait: str, fallback: tuple[float, float]) -> Span:
        value = self.adopted.get(TraitId(trait))
        if value is None or value.low is None or value.high is None:
            return Span(*fallback, "assumed")
        return Span(value.low, value.high, self.origin(value), value.records)

    def inner_corners(self, window: Adopted) -> tuple[float, float]:
        """The weeks of full growth and of its decline: as recorded, else a usual part of the window."""
        counted = [self._records[w.record] for w in window.weighed if w.weight > 0]
        if len(counted) == 1:
            full, decline = (counted[0].condition(key) for key in ("full", "decline"))
            if full is not None and decline is not None:
                return float(full), _week(_end_of(float(decline)))
        low, finish = window.low or 1.0, _end_of(window.high or 53.0)
        length = (finish - low) % 52
        rise, fall = (0.25, 0.2) if length < 40 else (0.15, 0.12)
        return _week(low + rise * length), _week(finish - fall * length)

    def managed_height(self) -> Estimate | None:
        """The lowest height (m) recorded of the crop under management, None without such a record."""
        managed = self._managed()
        if not managed:
            return None
        lowest = min(managed, key=lambda record: record.likely or 0)
        likely = float(lowest.likely or 0)
        return Estimate(likely * 0.7, likely, likely * 1.4, "cited", (lowest.iri,))

    def grown_height(self) -> Estimate | None:
        """The mean height (m) recorded of the crop under management, None without such a record."""
        managed = self._managed()
        if not managed:
            return None
        heights = [float(record.likely or 0) for record in managed]
        iris = tuple(record.iri for record in managed)
        return Estimate(min(heights), statistics.fmean(heights), max(heights), "cited", iris)

    def _managed(self) -> list[Record]:
        value = self.adopted.get(TraitId("mature-height"))
        records = [self._records[w.record] for w in value.weighed] if value is not None else []
        return [r for r in records if (r.condition("as") or "").startswith("managed") and r.likely]

    def flowers(self) -> Activity | None:
        window = self.adopted.get(TraitId("flowering-window"))
        return flowering(self.adopted, "form" if window is None else self.origin(window))

    def choice(self, trait: str, fallback: str | None = None, origin: Origin = "assumed") -> Choice:
        value = self.adopted.get(TraitId(trait))
        if value is None or not value.concepts:
            return Choice(fallback, origin)
        return Choice(value.concepts[0], self.origin(value), value.records)


def build_profile(plant: Plant, adopted: Values, records: Mapping[str, Record], genus: GenusFacts) -> Profile:
    """The profile of one plant from its adopted values (inherited ones included).

    ``records`` holds every record that an adopted value may rest on, by id.
    """
    values = _Values(adopted, records)
    form = values.choice("growth-form", None, "form")
    known_form = form.value or defaults.UNKNOWN_FORM
    default = defaults.FORMS[known_form]
    trailing = _trailing_height(values, known_form)
    height = trailing or values.estimate("mature-height", default.height_m, "form")
    root_form = values.choice("root-form", default.root_form, "form")
    d95 = _d95(values, plant.id, root_form, genus)
    crown = _crown_width(values, height, default)
    leaf = _activity(values, ("leaf-window", "growth-window"), known_form)
    cycle = values.choice("life-cycle", "perennial" if known_form != "herb" else None, "form")
    crop_zero = values.end("light-to-crop", upper=False, fallback=defaults.LIGHT_TO_CROP_ZERO, doubt=0.03)
    return Profile(
        id=plant.id,
        name=plant.common_name or plant.scientific_name,
        scientific_name=plant.scientific_name,
        genus=genus_of(plant.id),
        family=values.choice("family"),
        growth_form=form,
        life_cycle=cycle,
        root_form=root_form,
        root_d50_m=_d50(values, d95, root_form),
        root_d95_m=d95,
        height_m=height,
        crown_width_m=crown,
        crown_base_m=_crown_base(values, height, default),
        leaf_area_index=values.estimate("leaf-area-index", default.leaf_area_index, "form"),
        extinction=Estimate(
            default.extinction * (1 - defaults.EXTINCTION_SHARE),
            default.extinction,
            default.extinction * (1 + defaults.EXTINCTION_SHARE),
            "form",
        ),
        activity=_activity(values, ("growth-window", "leaf-window"), known_form),
        leaf=leaf,
        light_to_survive=_light_to_survive(values, cycle, crop_zero),
        light_to_crop_zero=crop_zero,
        light_to_crop_full=values.end(
            "light-to-crop", upper=True, fallback=defaults.LIGHT_TO_CROP_FULL, doubt=0.12
        ),
        nitrogen_fixing=_yes_no(values.choice("nitrogen-fixation", None), "fixes"),
        fixing_partner=values.choice("fixing-partner", None),
        nitrogen_demand_g_m2=values.estimate("nitrogen-uptake", defaults.NITROGEN_DEMAND_G_M2),
        water_use=values.estimate("water-use", defaults.WATER_USE_KC),
        soil_ph=values.span("soil-reaction", defaults.SOIL_PH),
        moisture=values.span("moisture", defaults.MOISTURE),
        spread=values.choice("spread", genus.usual_spread(plant.id), "genus"),
        support_mode=_support(values, known_form, trailing),
        reach_m=None if trailing is not None else values.maybe("reach"),
        dug_depth_m=values.estimate("harvest-disturbance", (0.0, 0.0, 0.0)),
        cover_days=values.maybe("days-to-full-cover"),
        sole_spacing_m=values.estimate("sole-spacing", _scaled(crown, defaults.SPACING_TO_CROWN), "form"),
        tender=_yes_no(values.choice("tender", None), "frost-tender"),
        grown_height_m=values.grown_height(),
        hardiness_c=values.maybe("hardiness"),
        flowers=values.flowers(),
    )


def build_window(value: Adopted, records: Mapping[str, Record]) -> Activity | None:
    """A yearly window, moved whole with the spring; None where one of its ends is not on record."""
    if value.low is None or value.high is None:
        return None
    end = _week(_end_of(value.high))
    return Activity(
        value.low,
        value.low,
        end,
        end,
        False,
        defaults.KNOWN_DATES_DOUBT_WEEKS,
        origin_of(value, records),
        value.records,
    )


def _light_to_survive(values: _Values, cycle: Choice, crop_zero: Estimate) -> Estimate:
    """The light a plant lives on; for a crop sown for one season, the light below which it fails.

    Indicator classes say where wild plants hold their own over generations. A crop that only has to
    live one season is not bound by them (`trade` 4.4: listed light class and garden need differ).
    """
    survive = values.estimate("light-to-survive", defaults.LIGHT_TO_SURVIVE)
    if cycle.value in {"annual", "biennial"} and survive.likely > crop_zero.likely:
        return crop_zero
    return survive


def _yes_no(choice: Choice, yes: str) -> Choice:
    if choice.value is None:
        return choice
    return Choice("yes" if choice.value == yes else "no", choice.origin, choice.records)


def _scaled(estimate: Estimate, factor: float) -> tuple[float, float, float]:
    return (estimate.low * factor, estimate.likely * factor, estimate.high * factor)


def _support(values: _Values, form: str, trailing: Estimate | None) -> Choice:
    """How the plant climbs; none where it is grown along the ground, whatever it holds on with."""
    if not form.startswith("climber"):
        return values.choice("support-mode", "none", "form")
    if trailing is not None:
        return Choice("none", "cited", trailing.records)
    return values.choice("support-mode", "twiner", "form")


def _trailing_height(values: _Values, form: str) -> Estimate | None:
    """The height of a vine that is grown along the ground (squash, melon); None where it climbs.

    A flora gives the length of such a vine. A crop table that gives a small part of it as the height
    of the managed crop says that it trails.
    """
    reach = values.maybe("reach") or values.maybe("mature-height")
    managed = values.managed_height()
    if form != "climber-herbaceous" or reach is None or managed is None:
        return None
    return managed if managed.likely < TRAILS_BELOW * reach.likely else None


def _d95(values: _Values, plant_id: PlantId, root_form: Choice, genus: GenusFacts) -> Estimate:
    """Depth above which 95 % of the roots lie: effective depth, else from the deepest, genus, form."""
    effective = values.maybe("effective-rooting-depth")
    deepest = values.maybe("rooting-depth")
    reached = None
    if deepest is not None:
        reached = Estimate(*_scaled(deepest, defaults.DEEPEST_TO_D95), deepest.origin, deepest.records)
    if effective is not None and reached is not None and effective.origin == reached.origin:
        return _pooled(effective, reached)
    known = effective or reached
    if known is not None:
        return known
    median = genus.median_depth(plant_id)
    if median is not None:
        low, high = interval_of_middle(median, defaults.GENUS_LOG_SD)
        return _above_floor(values, Estimate(low, median, high, "genus"))
    _, depth = defaults.ROOT_FORM_DEPTHS_M[root_form.value or "fibrous-shallow"]
    low, high = interval_of_middle(depth, defaults.ROOT_FORM_LOG_SD)
    return _above_floor(values, Estimate(low, depth, high, "form"))


def _pooled(effective: Estimate, reached: Estimate) -> Estimate:
    """The depth of 95 % of the roots from a handbook depth and from roots that were dug for.

    The one is how deep watering pays, the other what was found: the truth lies between, nearer what
    was found (weights 0.6 and 1, `data` section 2), and the interval spans both.
    """
    weight = defaults.HANDBOOK_WEIGHT
    middle = (weight * math.log(effective.likely) + math.log(reached.likely)) / (weight + 1)
    return Estimate(
        min(effective.low, reached.low),
        math.exp(middle),
        max(effective.high, reached.high),
        effective.origin,
        (*effective.records, *reached.records),
    )


def _above_floor(values: _Values, estimate: Estimate) -> Estimate:
    """An interval lifted above what a pot or core has shown at least."""
    floor = max(
        (
            value.low
            for trait in ("effective-rooting-depth", "rooting-depth")
            if (value := values.adopted.get(TraitId(trait))) is not None and value.low is not None
        ),
        default=0.0,
    )
    if estimate.low >= floor:
        return estimate
    likely = max(estimate.likely, floor * 1.2)
    return Estimate(floor, likely, max(estimate.high, likely * 1.5), estimate.origin)


def _d50(values: _Values, d95: Estimate, root_form: Choice) -> Estimate:
    """Depth above which half the roots lie, kept between D95/8 and D95/1.6 (`trade` 3.4).

    A middle depth from practice or memory was recalled together with a depth of its own; beside a
    cited one that differs it would bend the profile, so the usual share of the root form stands in.
    """
    known = values.maybe("root-depth-50")
    if known is not None and known.origin != "cited" and d95.origin == "cited":
        known = None
    share = defaults.HALF_SHARE.get(root_form.value or "", 0.25)
    if known is not None:
        likely = min(max(known.likely, d95.likely / 8), d95.likely / 1.6)
        return Estimate(min(known.low, likely), likely, max(known.high, likely), known.origin, known.records)
    likely = d95.likely * share
    low, high = interval_of_middle(likely, math.hypot(defaults.HALF_LOG_SD, 0.2))
    return Estimate(low, likely, high, d95.origin if d95.known else "form", d95.records)


def _crown_width(values: _Values, height: Estimate, default: defaults.FormDefaults) -> Estimate:
    return values.estimate("crown-width", defaults.crown_of(height.likely, default), "form")


def _crown_base(values: _Values, height: Estimate, default: defaults.FormDefaults) -> Estimate:
    base = height.likely * default.base_share
    known = values.maybe("crown-base")
    if known is not None and known.likely < height.likely:
        return known
    return Estimate(base * 0.5, base, base * 1.5, "form")


def _activity(values: _Values, traits: tuple[str, ...], form: str) -> Activity:
    """The yearly course from the first window that is known, else from the growth form."""
    retention = values.choice("leaf-retention")
    evergreen = retention.value == "evergreen"
    start, full, decline, end = defaults.FORMS[form].weeks
    for trait in traits:
        window = values.adopted.get(TraitId(trait))
        if window is None or window.low is None or window.high is None:
            continue
        full_at, decline_at = values.inner_corners(window)
        return Activity(
            window.low,
            full_at,
            decline_at,
            _week(_end_of(window.high)),
            evergreen,
            defaults.KNOWN_DATES_DOUBT_WEEKS,
            values.origin(window),
            window.records,
            *_drivers(values, form),
        )
    if evergreen:
        known = values.adopted[TraitId("leaf-retention")]
        return Activity(1, 1, 53, 53, True, 0.0, values.origin(known), known.records)
    return Activity(
        start, full, decline, end, False, defaults.DATES_DOUBT_WEEKS, "form", (), *_drivers(values, form)
    )


def _drivers(values: _Values, form: str) -> tuple[Driver, Driver]:
    """What moves the start and the end of growth: heat, chill and frost, or day length for bulbs."""
    tender = values.choice("tender").value == "frost-tender"
    bulb = values.choice("root-form").value == "bulb"
    if bulb and form == "herb":
        return "spring-heat", "day-length"
    if _needs_chill(values, form):
        return "chill", "autumn-frost"
    return "spring-heat", "autumn-frost" if tender or form != "herb" else "fixed"


def _needs_chill(values: _Values, form: str) -> bool:
    """Whether its buds need a winter: a woody plant that drops its leaves and bears hard frost."""
    hardiness = values.maybe("hardiness")
    bare = values.choice("leaf-retention").value == "deciduous"
    hard = hardiness is not None and hardiness.likely <= defaults.CHILL_BELOW_C
    return form in {"tree", "shrub", "cane", "climber-woody"} and bare and hard


def _end_of(week: float) -> float:
    """The moment a window ends: a whole week counts to its end, a fraction is a date already."""
    return week + 1 if abs(week - round(week)) < 1e-6 else week


def _week(week: float) -> float:
    return (week - 1) % 52 + 1
