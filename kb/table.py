"""From adopted values to the profile the computation works on, gaps filled and labelled.

A gap is filled by an interval from the root form, the genus or the growth form; its origin says
so, and the computation never lets it make a verdict better.
"""

from collections.abc import Mapping
from dataclasses import replace

from kb.adopt import FEEDS, ONE_SEASON
from kb.adoption.intervals import ADVICE_BEYOND, interval_of_middle, is_find, tells_what_is_best
from kb.mixture.bodies.manner import RUNNING_FORMS
from kb.mixture.bodies.pieces import RUNNING
from kb.mixture.bodies.spread import ARCHES, KEEP_PLACE, OF_FORM, TRAVELLERS
from kb.mixture.ground.fixed import FROM_AIR
from kb.mixture.limits import records_of
from kb.mixture.profile import Activity, Choice, Estimate, HeatSum, Profile, Span
from kb.model import Adopted, Plant, Record, TraitId
from kb.profiles import defaults
from kb.profiles.genus import GenusFacts, genus_of
from kb.profiles.known_values import KnownValues, Values, end_of, origin_of, scaled, week_of
from kb.profiles.root_depths import d50_of, d95_of
from kb.profiles.shade_plants import most_light
from kb.profiles.stand_ins import extinction, leaf_area, light_to_crop, light_to_live, moved_out, usual_ph
from kb.profiles.trailing import BLADES_ABOVE, trailing_height
from kb.profiles.winters import winters_of
from kb.profiles.yearly_course import activity_of, one_season, sowings_of
from kb.statements.kin_exceptions import apart_from

FIRST_YEAR_DOUBT = (0.7, 1.4)
"""Ends of the height of a crop of one printed figure, as multiples of it: as for vines along the ground."""
COVERS = frozenset({"nitrogen-fixer", "ground-cover"})
"""Groups of plants that serve the ground; what is of no other is grown for that (common practice)."""
ORCHARD = "fruit-tree"
"""The group of trees that are picked from the ground below them; what a wood bears is gathered as it lies."""


def build_profile(plant: Plant, adopted: Values, records: Mapping[str, Record], genus: GenusFacts) -> Profile:
    """The profile of one plant from its adopted values (inherited ones included).

    ``records`` holds every record that an adopted value may rest on, by id.
    """
    values = KnownValues(adopted, records)
    form = values.choice("growth-form", None, "form")
    known_form = form.value or defaults.UNKNOWN_FORM
    default = defaults.FORMS[known_form]
    trailing = trailing_height(values, genus.grown_low.height(plant.id))
    cycle = values.choice("life-cycle", "perennial" if known_form != "herb" else None, "form")
    height = trailing or _in_first_year(values, cycle) or _height(values, plant, form, genus, default)
    root_form = values.choice("root-form", default.root_form, "form")
    d95 = d95_of(values, plant.id, root_form, genus)
    crown = _crown_width(values, height, default)
    dug = _dug_depth(values, plant)
    reaction = None if cycle.known and cycle.value in ONE_SEASON else values.maybe("reaction-indicator-1-9")
    leaf = activity_of(values, ("leaf-window", "growth-window"), known_form, dug)
    crop_zero, crop_full = light_to_crop(values, leaf)
    warmth, grows = (values.span(f"warmth-to-{deed}", (0.0, 0.0)) for deed in ("crop", "grow"))
    fixed = values.maybe("nitrogen-fixed")
    return Profile(
        id=plant.id,
        name=plant.common_name or plant.scientific_name,
        scientific_name=plant.scientific_name,
        genus=genus_of(plant.id),
        family=values.choice("family"),
        kin_exceptions=apart_from(plant.id),
        growth_form=form,
        life_cycle=cycle,
        root_form=root_form,
        root_d50_m=d50_of(values, d95, root_form),
        root_d95_m=d95,
        root_spread_80_m=values.maybe("root-spread-80"),
        root_length_km_m2=values.maybe("root-length"),
        height_m=height,
        height_gain_m=values.maybe("height-gain"),
        crown_width_m=crown,
        crown_base_m=_crown_base(values, height, BLADES_ABOVE if trailing else default.base_share),
        leaf_area_index=leaf_area(values, known_form, default.leaf_area_index),
        extinction=extinction(values, default.extinction),
        activity=activity_of(values, ("growth-window", "leaf-window"), known_form, dug),
        leaf=leaf,
        light_to_survive=_light_to_survive(values, cycle, crop_zero),
        light_to_crop_zero=crop_zero,
        light_to_crop_full=crop_full,
        most_light=most_light(values, known_form, cycle, leaf),
        nitrogen_fixing=_yes_no(values.choice("nitrogen-fixation", None), "fixes"),
        fixing_partner=values.choice("fixing-partner", None),
        nitrogen_demand_g_m2=_nitrogen_taken_up(values, fixed, known_form),
        nitrogen_fixed_g_m2=fixed,
        water_use=values.estimate("water-use", defaults.WATER_USE_KC),
        soil_ph=_reaction(values, reaction),
        moisture=_moisture(values, cycle),
        spread=values.choice("spread", _usual_spread(values, plant, genus, cycle), "genus"),
        travels_by=_travels_by(values, plant, genus),
        raising=values.choice("raising"),
        stores_in=values.choice("storage-organ"),
        winters=winters_of(values, plant),
        support_mode=_support(values, known_form, trailing),
        reach_m=None if trailing is not None else values.maybe("reach"),
        dug_depth_m=dug,
        cover_days=values.maybe("days-to-full-cover"),
        cycle_days=values.maybe("cycle-length"),
        sole_spacing_m=values.estimate("sole-spacing", _usual_spacing(values, form, crown), "form"),
        tender=_yes_no(values.choice("tender", None), "frost-tender"),
        grown_height_m=values.grown_height(),
        hardiness_c=values.maybe("hardiness"),
        flowers=values.flowers(),
        sowings=sowings_of(values, known_form) if cycle.value in ONE_SEASON else (),
        reaction_class=reaction,
        on_a_stem=_on_a_stem(plant, known_form),
        warmth_c=warmth if warmth.known else None,
        warmth_grows_c=grows if grows.known else None,
        heat_to_harvest=_heat_to_harvest(values),
        temperate_climate=_yes_no(values.choice("temperate-climate"), "listed"),
        tropical_climate=_yes_no(values.choice("tropical-climate"), "listed"),
        ripe_seed=_yes_no(values.choice("grown-for-seed"), "ripe-seed"),
        picked=Choice("yes", "cited") if ORCHARD in plant.groups else Choice(None, "assumed"),
        covers=_covers(plant),
    )


def _heat_to_harvest(values: KnownValues) -> HeatSum | None:
    """Its sum of warmth, where all that is on record of it is told from one base."""
    degree_days = values.maybe("heat-to-harvest")
    bases = {record.condition("base") for record in values.counted("heat-to-harvest")}
    base = bases.pop() if len(bases) == 1 else None
    return None if degree_days is None or base is None else HeatSum(float(base), degree_days)


def _height(
    values: KnownValues, plant: Plant, form: Choice, genus: GenusFacts, default: defaults.FormDefaults
) -> Estimate:
    """The height on record, else the usual one of its genus and growth form, else of the form alone."""
    median = genus.median_height(plant.id, form.value)
    if median is None:
        return values.estimate("mature-height", default.height_m, "form")
    low, high = interval_of_middle(median, defaults.GENUS_HEIGHT_LOG_SD)
    return values.estimate("mature-height", (low, median, high), "genus")


def _nitrogen_taken_up(values: KnownValues, fixed: Estimate | None, form: str) -> Estimate:
    """What it takes up on record, else what holds what it fixes, else what wood or most crops take up."""
    herb = form in defaults.HERBS or form == "fern"
    usual = defaults.NITROGEN_DEMAND_G_M2 if herb else defaults.WOODY_NITROGEN_G_M2
    return values.estimate("nitrogen-uptake", usual if fixed is None else scaled(fixed, 1 / FROM_AIR))


def _usual_spacing(values: KnownValues, form: Choice, crown: Estimate) -> tuple[float, float, float]:
    """Of a herb of one season what its family is sown at, of others what the width of a plant asks."""
    if not one_season(values) or form.value not in defaults.HERBS:
        return scaled(crown, defaults.SPACING_TO_CROWN)
    usual = defaults.SPACING_OF_FAMILY_M.get(
        values.choice("family").value or "", defaults.SPACING_OF_ONE_SEASON_M
    )
    low, likely, high = defaults.SPACING_DOUBT
    return usual * low, usual * likely, usual * high


def _in_first_year(values: KnownValues, cycle: Choice) -> Estimate | None:
    """The height of a biennial that is grown for its first season, as crop tables print it; None for others.

    Floras measure it in flower, in its second year.
    """
    grown = values.grown_height() if cycle.value == "biennial" else None
    if grown is None:
        return None
    return replace(grown, low=grown.low * FIRST_YEAR_DOUBT[0], high=grown.high * FIRST_YEAR_DOUBT[1])


def build_window(value: Adopted, records: Mapping[str, Record]) -> Activity | None:
    """A yearly window, moved whole with the spring; None where one of its ends is not on record."""
    if value.low is None or value.high is None:
        return None
    end = week_of(end_of(value.high))
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


def _dug_depth(values: KnownValues, plant: Plant) -> Estimate:
    """How deep its harvest digs; of a food crop that keeps its store in tubers or storage roots, theirs.

    Of bulbs, rhizomes and tap roots leaves or buds may be the crop as well, and of a fruit its fruit: those
    that no source tells of stay undug.
    """
    organs = values.named("storage-organ") | values.named("root-form")
    depths = [depth for organ, depth in defaults.DUG_FOR_ORGAN_M.items() if organ in organs]
    groups = set(plant.groups)
    if not depths or not groups & defaults.FOOD_GROUPS or groups & defaults.FRUIT_GROUPS:
        return values.estimate("harvest-disturbance", (0.0, 0.0, 0.0))
    return values.estimate("harvest-disturbance", max(depths), "form")


def _light_to_survive(values: KnownValues, cycle: Choice, crop_zero: Estimate) -> Estimate:
    """The light a plant lives on; for a crop sown for one season, the light below which it fails.

    Indicator classes say where wild plants hold their own over generations. A crop that only has to
    live one season is not bound by them (`trade` 4.4: listed light class and garden need differ).
    """
    survive = light_to_live(values)
    if cycle.value in ONE_SEASON and survive.likely > crop_zero.likely:
        return crop_zero
    return survive


def _moisture(values: KnownValues, cycle: Choice) -> Span:
    """The range of moisture that a plant bears; for a crop of one season not only where it grows wild.

    Classes of an indicator scale say where wild plants hold their own. A crop that is sown for a season is
    not bound by them, as with light: where nothing else is on record it is taken to bear usual garden ground
    as well, which stands in and says so.
    """
    usual = defaults.MOISTURE
    span = values.span("moisture", usual)
    one_season = cycle.known and cycle.value in ONE_SEASON
    if not one_season or not values.rests_on("moisture", _is_indicator_of_moisture):
        return span
    return replace(span, low=min(span.low, usual[0]), high=max(span.high, usual[1]), origin="assumed")


def _reaction(values: KnownValues, reaction_class: Estimate | None) -> Span:
    """The pH that a plant bears, with what it rests on: advice and finds are no limits.

    They were moved out once, each by what it is (`kb/adoption/intervals.py`), and give way to where the plant
    itself is found; the usual garden range moves out no end that a record closes.
    """
    span = values.span("soil-reaction", usual_ph(reaction_class))
    if not span.known:
        return span
    if values.rests_on("soil-reaction", tells_what_is_best):
        low, high = round(span.low + ADVICE_BEYOND, 6), round(span.high - ADVICE_BEYOND, 6)
        advised = replace(span, best=(low, high), found=True)
        return moved_out(advised, reaction_class, of_a_group=values.rests_on("soil-reaction", _of_a_group))
    found = values.rests_on("soil-reaction", lambda one: tells_what_is_best(one) or is_find(one))
    return moved_out(replace(span, found=found), reaction_class, of_a_group=False)


def _of_a_group(record: Record) -> bool:
    return record.condition("scope") == "group"


def _is_indicator_of_moisture(record: Record) -> bool:
    return record.trait in FEEDS[TraitId("moisture")]


def _usual_spread(values: KnownValues, plant: Plant, genus: GenusFacts, cycle: Choice) -> str | None:
    """How the plants of its genus spread, where its own records do not rule that out.

    What lives for one season from seed leaves no runners behind, and a tap root, a bulb or a corm alone
    does not travel (common practice).
    """
    form = values.choice("growth-form").value
    usual = genus.usual_spread(plant.id, form)
    if usual not in RUNNING:
        return usual
    roots = values.named("root-form")
    stays = bool(roots & KEEP_PLACE) and not roots & RUNNING_FORMS
    return None if stays or (cycle.known and cycle.value in ONE_SEASON) else usual


def _travels_by(values: KnownValues, plant: Plant, genus: GenusFacts) -> Choice:
    """The organ by which it comes up elsewhere: its own, else that of its genus, else as woody plants do.

    Root form and storage organ name it; the adopted root form first, else the one that needs most care.
    """
    roots = values.choice("root-form")
    if roots.value in TRAVELLERS:
        return roots
    named = values.named("root-form") | values.named("storage-organ")
    own = next((organ for organ in TRAVELLERS if organ in named), None)
    if own is not None:
        return Choice(own, "cited", records_of(roots.records, values.choice("storage-organ").records))
    form, holds = values.choice("growth-form").value, values.choice("support-mode")
    if form == "cane" and holds.value == "scrambler":
        return Choice(ARCHES, "form", holds.records)
    return Choice(genus.usual_organ(plant.id, form) or OF_FORM.get(form or ""), "genus")


def _yes_no(choice: Choice, yes: str) -> Choice:
    if choice.value is None:
        return choice
    return Choice("yes" if choice.value == yes else "no", choice.origin, choice.records)


def _support(values: KnownValues, form: str, trailing: Estimate | None) -> Choice:
    """How the plant climbs; none where it is grown along the ground, whatever it holds on with."""
    if not form.startswith("climber"):
        return values.choice("support-mode", "none", "form")
    if trailing is not None:
        return Choice("none", "cited" if trailing.known else "genus", trailing.records)
    return values.choice("support-mode", "twiner", "form")


def _crown_width(values: KnownValues, height: Estimate, default: defaults.FormDefaults) -> Estimate:
    return values.estimate("crown-width", defaults.crown_of(height.likely, default), "form")


def _covers(plant: Plant) -> Choice:
    """Whether it is grown for the ground alone: a green manure, a living mulch."""
    groups = set(plant.groups)
    return Choice("yes", "common-practice") if groups and groups <= COVERS else Choice(None, "assumed")


def _on_a_stem(plant: Plant, form: str) -> Choice:
    orchard = form == "tree" and defaults.ORCHARD_GROUP in plant.groups
    return Choice("yes", "common-practice") if orchard else Choice(None, "assumed")


def _crown_base(values: KnownValues, height: Estimate, share: float) -> Estimate:
    base = height.likely * share
    known = values.maybe("crown-base")
    if known is not None and known.likely < height.likely:
        return known
    return Estimate(base * 0.5, base, base * 1.5, "form")
