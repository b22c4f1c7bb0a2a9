"""Invented plants and sites for tests of the computation. None of them exists; no number is a record.

Root depths, seasons and light are shaped on kinds of plant, so that the answers mean something to a
reader; the names say that they are invented.
"""

from dataclasses import fields, replace
from typing import Any, get_args

from hypothesis import strategies as st

from kb.mixture.profile import Activity, Choice, Estimate, Origin, Profile, Span
from kb.mixture.site import Site, Texture, Tree

FORMS = ("tree", "shrub", "subshrub", "cane", "herb", "graminoid", "climber-woody", "climber-herbaceous")


def about(likely: float, origin: Origin = "cited", *, times: float = 1.25, record: str = "") -> Estimate:
    """An estimate with its 10-90 % interval a factor either way."""
    return Estimate(likely / times, likely, likely * times, origin, (record,) if record else ())


def chosen(value: str | None, record: str = "", origin: Origin = "cited") -> Choice:
    return Choice(value, "assumed" if value is None else origin, (record,) if record else ())


def season(start: float, full: float, decline: float, end: float, **changes: Any) -> Activity:
    return replace(Activity(start, full, decline, end, False, 2.0, "cited"), **changes)


EVERGREEN = Activity(1, 1, 53, 53, True, 0.0, "cited")


def invented(plant_id: str, **changes: Any) -> Profile:
    """A middling invented annual herb; ``changes`` replaces fields. Its records are named after it."""
    middling = Profile(
        id=plant_id,
        name=plant_id.replace("-", " "),
        scientific_name=f"Inventia {plant_id}",
        genus=plant_id.partition("-")[0] + "-genus",
        family=chosen(f"{plant_id.capitalize()}aceae", f"record:{plant_id}.family"),
        growth_form=chosen("herb", f"record:{plant_id}.growth-form"),
        life_cycle=chosen("annual", f"record:{plant_id}.life-cycle"),
        root_form=chosen(None),
        root_d50_m=about(0.20, record=f"record:{plant_id}.root-depth-50"),
        root_d95_m=about(0.80, record=f"record:{plant_id}.effective-rooting-depth"),
        height_m=about(0.5, record=f"record:{plant_id}.mature-height"),
        crown_width_m=about(0.4),
        crown_base_m=Estimate(0, 0, 0, "form"),
        leaf_area_index=about(3.0, record=f"record:{plant_id}.leaf-area-index"),
        extinction=about(0.6, "form"),
        activity=season(16, 24, 34, 39, records=(f"record:{plant_id}.growth-window",)),
        leaf=season(16, 24, 34, 39),
        light_to_survive=about(0.05, record=f"record:{plant_id}.light-to-survive"),
        light_to_crop_zero=about(0.08),
        light_to_crop_full=about(0.7, record=f"record:{plant_id}.light-to-crop"),
        nitrogen_fixing=chosen("no", f"record:{plant_id}.nitrogen-fixation"),
        fixing_partner=chosen(None),
        nitrogen_demand_g_m2=about(12),
        water_use=about(1.0, times=1.1),
        soil_ph=Span(6.0, 7.5, "cited", (f"record:{plant_id}.soil-reaction",)),
        moisture=Span(4.0, 6.0, "cited", (f"record:{plant_id}.moisture",)),
        spread=chosen("clump", f"record:{plant_id}.spread"),
        support_mode=chosen("none"),
        reach_m=None,
        dug_depth_m=Estimate(0, 0, 0, "cited", (f"record:{plant_id}.harvest-disturbance",)),
        cover_days=about(55),
        sole_spacing_m=about(0.3),
        tender=chosen("no"),
    )
    return _with_records(replace(middling, **changes))


def _with_records(profile: Profile) -> Profile:
    """A record of an invented name for every value that is said to be on record and has none."""
    for field in fields(profile):
        value = getattr(profile, field.name)
        if isinstance(value, Estimate | Span | Choice | Activity) and value.known and not value.records:
            named = replace(value, records=(f"record:{profile.id}.{field.name}",))
            profile = replace(profile, **{field.name: named})
    return profile


def lasting(plant_id: str, **changes: Any) -> Profile:
    """An invented perennial herb."""
    plain: dict[str, Any] = {"life_cycle": chosen("perennial"), "cover_days": None}
    return invented(plant_id, **(plain | changes))


def woody(plant_id: str, form: str = "tree", height_m: float = 4.5, **changes: Any) -> Profile:
    """An invented woody plant, leaf from week 15 to 46."""
    leafy = season(15, 21, 40, 46, records=(f"record:{plant_id}.leaf-window",))
    plain: dict[str, Any] = {
        "growth_form": chosen(form),
        "life_cycle": chosen("perennial"),
        "root_d50_m": about(0.25, record=f"record:{plant_id}.root-depth-50"),
        "root_d95_m": about(1.10, record=f"record:{plant_id}.effective-rooting-depth"),
        "height_m": about(height_m, record=f"record:{plant_id}.mature-height"),
        "crown_width_m": about(height_m),
        "crown_base_m": about(0.22 * height_m),
        "leaf_area_index": about(2.5),
        "activity": leafy,
        "leaf": leafy,
        "cover_days": None,
        "nitrogen_demand_g_m2": about(6.5),
    }
    return invented(plant_id, **(plain | changes))


TAPROOT = invented("taproot", root_d50_m=about(0.28), root_d95_m=about(1.1), height_m=about(0.35))
BULB = invented(
    "bulb",
    root_d50_m=about(0.10),
    root_d95_m=about(0.32),
    height_m=about(0.4),
    leaf_area_index=about(2.0),
    activity=season(12, 22, 29, 33),
    leaf=season(12, 22, 29, 33),
)
TALL_GRASS = invented(
    "tallgrass",
    growth_form=chosen("graminoid"),
    height_m=about(2.0),
    extinction=about(0.45, "form"),
    activity=season(19, 27, 34, 39),
    cover_days=about(70),
)
CLIMBER = invented(
    "climber",
    family=chosen("Fabaceae"),
    growth_form=chosen("climber-herbaceous"),
    support_mode=chosen("twiner"),
    reach_m=about(2.3),
    height_m=about(2.3),
    nitrogen_fixing=chosen("yes", "record:climber.nitrogen-fixation"),
    activity=season(21, 28, 36, 41),
    cover_days=about(50),
)
SPRING_BULB = lasting(
    "springbulb",
    root_d50_m=about(0.09),
    root_d95_m=about(0.28),
    height_m=about(0.3),
    activity=season(5, 11, 20, 25),
    leaf=season(5, 11, 20, 25),
    light_to_survive=about(0.02),
    light_to_crop_zero=about(0.01),
    light_to_crop_full=about(0.15),
    spread=chosen("runs", "record:springbulb.spread"),
)
SMALL_TREE = woody("smalltree")
COVER = lasting("cover", height_m=about(0.2), activity=season(9, 16, 42, 48), nitrogen_fixing=chosen("yes"))

SMALL_TREE_HERE = Tree(height_m=4.5, crown_radius_m=2.25, crown_base_m=1.0, leaf_area_index=2.5)


@st.composite
def estimates(draw: st.DrawFn, low: float, high: float) -> Estimate:
    """Any estimate whose likely value lies in a range; its interval up to a factor 4 either way."""
    likely = draw(st.floats(low, high))
    down, up = draw(st.floats(1, 4)), draw(st.floats(1, 4))
    origin = draw(st.sampled_from(["cited", "recalled", "genus", "form", "assumed"]))
    return Estimate(likely / down, likely, likely * up, origin)


@st.composite
def spans(draw: st.DrawFn, low: float, high: float) -> Span:
    ends = sorted((draw(st.floats(low, high)), draw(st.floats(low, high))))
    return Span(ends[0], ends[1], draw(st.sampled_from(["cited", "assumed"])))


@st.composite
def activities(draw: st.DrawFn) -> Activity:
    """Any season, wrapping or not; evergreen in some."""
    if draw(st.integers(0, 4)) == 0:
        return EVERGREEN
    start = draw(st.floats(1, 52.9))
    steps = [draw(st.floats(0.1, 15)) for _ in range(3)]
    corners = [start]
    for step in steps:
        corners.append((corners[-1] + step - 1) % 52 + 1)
    return season(*corners, doubt_weeks=draw(st.floats(0, 6)))


@st.composite
def profiles(draw: st.DrawFn, plant_id: str = "any") -> Profile:
    """Any legal plant, extreme ones too."""
    form = draw(st.sampled_from(FORMS))
    d95 = draw(estimates(0.05, 8.0))
    ratio = draw(st.floats(1.6, 8))
    height = draw(estimates(0.05, 40))
    base = height.likely * draw(st.floats(0, 0.8))
    zero = draw(st.floats(0, 0.3))
    full = draw(st.floats(zero + 0.1, 1.0))
    course = draw(activities())
    return invented(
        plant_id,
        family=chosen(draw(st.sampled_from([None, "Oneaceae", "Otheraceae", "Juglandaceae"]))),
        growth_form=chosen(form),
        life_cycle=chosen(draw(st.sampled_from(["annual", "biennial", "perennial"]))),
        root_form=chosen(draw(st.sampled_from([None, "rhizome", "tap", "spreading"]))),
        root_d95_m=d95,
        root_d50_m=replace(d95, low=d95.low / ratio, likely=d95.likely / ratio, high=d95.high / ratio),
        height_m=height,
        crown_width_m=draw(estimates(0.05, 25)),
        crown_base_m=Estimate(base / 2, base, base * 1.1, "form"),
        leaf_area_index=draw(estimates(0.1, 9)),
        extinction=draw(estimates(0.3, 0.9)),
        activity=course,
        leaf=course,
        light_to_survive=draw(estimates(0.01, 0.5)),
        light_to_crop_zero=Estimate(max(0, zero - 0.03), zero, zero + 0.03, "cited"),
        light_to_crop_full=Estimate(full * 0.9, full, min(1.0, full * 1.1), "cited"),
        nitrogen_fixing=chosen(draw(st.sampled_from([None, "yes", "no"]))),
        nitrogen_demand_g_m2=draw(estimates(0.5, 40)),
        water_use=draw(estimates(0.3, 1.4)),
        soil_ph=draw(spans(3.5, 9)),
        moisture=draw(spans(1, 12)),
        spread=chosen(draw(st.sampled_from([None, "clump", "slow", "runs", "invades"]))),
        support_mode=chosen(draw(st.sampled_from([None, "none", "twiner", "tendril"]))),
        reach_m=draw(st.none() | estimates(0.5, 15)),
        dug_depth_m=about(draw(st.sampled_from([0.001, 0.1, 0.2, 0.3]))),
        cover_days=draw(st.none() | estimates(10, 150)),
        tender=chosen(draw(st.sampled_from([None, "yes", "no"]))),
        hardiness_c=draw(st.none() | st.floats(-50, 10).map(_bearing)),
        flowers=draw(st.none() | activities()),
    )


def _bearing(degrees: float) -> Estimate:
    return Estimate(degrees - 4, degrees, degrees + 4, "recalled", ("record:any.hardiness",))


@st.composite
def sites(draw: st.DrawFn) -> Site:
    """Any place with the reference site's frosts, turned by half a year in the south."""
    latitude = draw(st.floats(-66, 66))
    turned = 182.5 if latitude < 0 else 0.0
    return Site(
        latitude=latitude,
        last_frost_day=(130 + turned - 1) % 365 + 1,
        first_frost_day=(288 + turned - 1) % 365 + 1,
        frost_sd_days=draw(st.floats(0, 30)),
        winter_min_c=draw(st.none() | st.floats(-50, 0)),
        wet_months=draw(st.sampled_from([(), (6, 7, 8), (1, 2, 11, 12), tuple(range(1, 13))])),
        soil_depth_m=draw(st.floats(0.05, 3)),
        soil_texture=draw(st.sampled_from(get_args(Texture))),
        soil_ph=draw(st.none() | st.floats(3.5, 9)),
        moisture=draw(st.floats(1, 12)),
        open_light=draw(st.floats(0.05, 1)),
    )


@st.composite
def trees(draw: st.DrawFn) -> Tree:
    """Any tree that can stand."""
    height = draw(st.floats(0.3, 40))
    return Tree(
        height_m=height,
        crown_radius_m=draw(st.floats(0.1, 12)),
        crown_base_m=height * draw(st.floats(0, 0.9)),
        leaf_area_index=draw(st.floats(0.1, 8)),
        stand=draw(st.sampled_from(["lone", "row", "closed"])),
        planted_years=draw(st.none() | st.floats(0, 80)),
    )
