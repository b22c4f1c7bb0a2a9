"""Parameters of the site, of how plants stand together, of the tree above and of what follows."""

from api.param_kinds import (
    ANYWHERE,
    AUDIENCES,
    EVERY,
    FOLLOW,
    GIVEN,
    GIVEN_LATER,
    MATCHING,
    SIDE_BY_SIDE,
    SIDES,
    STANDS,
    TEXTURES,
    TOGETHER,
    UNDER,
    Parameter,
    asked_by,
)
from api.site_values import FrostDate, Months, Named
from api.values import (
    Country,
    Moisture,
    Names,
    Number,
    OneOf,
    Text,
    Whole,
    Years,
)

_TWO = asked_by("pair", "candidates")
_PAIR = asked_by("pair")
_JUDGE = asked_by("judge")
_TREE = MATCHING | _JUDGE
_SITE = (
    Parameter(
        "latitude",
        "site",
        Number(-90, 90, "degrees, south negative"),
        "degrees; south is negative",
        ANYWHERE,
        acts_in=EVERY,
    ),
    Parameter(
        "last_frost",
        "site",
        FrostDate(),
        "mean date of the last spring frost, e.g. '10 May'; never: none; every-month: no month is free",
        ANYWHERE,
        acts_in=EVERY,
    ),
    Parameter(
        "first_frost",
        "site",
        FrostDate(),
        "mean date of the first autumn frost, or the same words",
        ANYWHERE,
        acts_in=EVERY,
    ),
    Parameter(
        "frost_sd_days",
        "site",
        Number(0, 60, "days"),
        "how far the frost dates of single years lie from the mean (standard deviation), days",
        ANYWHERE,
        acts_in=EVERY,
    ),
    Parameter(
        "winter_min_c",
        "site",
        Number(-70, 30, "degrees C"),
        "lowest temperature of a usual winter (mean of the years), degrees C",
        ANYWHERE,
    ),
    Parameter(
        "wet_months",
        "site",
        Months(),
        "months of rain, 1-12, comma-separated: nine tenths of the year's rain; between the tropics they "
        "begin the season",
        ANYWHERE,
        acts_in=EVERY,
    ),
    Parameter(
        "soil_depth_m", "site", Number(0.05, 5, "m", above=True), "depth that roots can use, m", ANYWHERE
    ),
    Parameter(
        "soil_texture",
        "site",
        Named(TEXTURES, "CLASS"),
        f"texture class of the soil (USDA): {', '.join(TEXTURES)}",
        ANYWHERE,
    ),
    Parameter("soil_ph", "site", Number(3, 10, "pH"), "pH of the soil", ANYWHERE, acts_in=EVERY),
    Parameter("moisture", "site", Moisture(), "1-12, or dry, ordinary, moist, wet", ANYWHERE, acts_in=EVERY),
    Parameter(
        "open_light",
        "site",
        Number(0, 1, "share of open sky", above=True),
        "share of open-sky light before the planting itself",
        ANYWHERE,
    ),
    Parameter(
        "place",
        "site",
        Country(),
        "ISO 3166 code, for laws among the cautions",
        ANYWHERE | {"plant"},
        acts_in=EVERY,
    ),
    Parameter(
        "audience",
        "site",
        OneOf(AUDIENCES),
        "who will be near the plants; orders the cautions",
        ANYWHERE | {"plant"},
        acts_in=EVERY,
    ),
    Parameter(
        "history",
        "site",
        Names(),
        "pests and diseases known to be in this ground, by name or id",
        ANYWHERE,
        acts_in=EVERY,
    ),
    Parameter(
        "observed_at",
        "site",
        Text("PLACE"),
        "a place where you observed plants of your own: they are taken as they grow there",
        MATCHING | {"plant"},
        acts_in=EVERY,
    ),
)
_SETTING = (
    Parameter(
        "setting",
        "setting",
        OneOf(("bed", "hedge", "under", "follow")),
        "in one bed, in one row of hedge, B under the tree A, or B on the ground after A",
        _PAIR,
        acts_in=EVERY,
    ),
    Parameter(
        "setting",
        "setting",
        OneOf(("bed", "hedge", "under"), later=("follow",)),
        "in one bed, in one row of hedge, or B under the tree A",
        asked_by("candidates"),
    ),
    Parameter(
        "setting",
        "setting",
        OneOf(("bed", "hedge"), later=("follow",), instead=(("under", "name the tree above (tree)"),)),
        "all in one bed, or in one row of hedge; under a tree, name the tree",
        _JUDGE,
    ),
    Parameter(
        "distance_m",
        "setting",
        Number(0, 1000, "m", above=True),
        "distance of B from the trunk, m",
        _TWO,
        acts_in=UNDER,
    ),
    Parameter("side", "setting", OneOf(SIDES), "side of the tree", MATCHING, acts_in=UNDER),
    Parameter(
        "share_a",
        "setting",
        Number(0.001, 1, "share of the ground"),
        "share of the ground, or of the row, that A has",
        _TWO,
        acts_in=SIDE_BY_SIDE,
    ),
    Parameter(
        "share_b",
        "setting",
        Number(0.001, 1, "share of the ground"),
        "share of the ground, or of the row, that B has",
        _TWO,
    ),
    Parameter(
        "spacing_a_m",
        "setting",
        Number(0, 20, "m", above=True),
        "distance between plants of A, m, instead of its share",
        _TWO,
        acts_in=frozenset({"bed"}),
    ),
    Parameter(
        "spacing_b_m",
        "setting",
        Number(0, 20, "m", above=True),
        "distance between plants of B, m, instead of its share",
        _PAIR,
        acts_in=TOGETHER - {"hedge"},
    ),
    Parameter(
        "sow_week_a",
        "setting",
        Whole(1, 53),
        "ISO week in which A is sown or set",
        _TWO,
        acts_in=SIDE_BY_SIDE | FOLLOW,
    ),
    Parameter(
        "sow_week_b", "setting", Whole(1, 53), "ISO week in which B is sown or set", _PAIR, acts_in=EVERY
    ),
    Parameter(
        "age_a_years",
        "setting",
        Number(0, 200, "years"),
        "age of A, years since planting; where B follows it, how long it stood",
        _TWO,
        acts_in=SIDE_BY_SIDE | FOLLOW,
    ),
    Parameter("age_b_years", "setting", Number(0, 200, "years"), "age of B, years since planting", _PAIR),
    Parameter(
        "given",
        "setting",
        Names(GIVEN, later=GIVEN_LATER),
        f"what you will provide: {', '.join(GIVEN)}",
        MATCHING,
        acts_in=EVERY,
    ),
    Parameter(
        "given",
        "setting",
        Names(GIVEN, later=GIVEN_LATER),
        f"what you will provide: {', '.join(GIVEN)}",
        _JUDGE,
        ticked=True,
    ),
)
_FOLLOW = (
    Parameter(
        "clear_week_a",
        "setting",
        Whole(1, 53),
        "ISO week in which A is cleared, where B follows it",
        _PAIR,
        acts_in=FOLLOW,
    ),
    Parameter(
        "gap_weeks",
        "setting",
        Number(0, 52, "weeks"),
        "weeks from clearing A to the start of B",
        _PAIR,
        acts_in=FOLLOW,
    ),
    Parameter(
        "gap_years",
        "setting",
        Number(0, 50, "years", above=True),
        "years from A to B, instead of weeks",
        _PAIR,
        acts_in=FOLLOW,
    ),
    Parameter(
        "use_a",
        "setting",
        OneOf(("harvested", "dug-in", "mown", "left")),
        "what becomes of A",
        _PAIR,
        acts_in=FOLLOW,
    ),
)
_EACH = tuple(
    Parameter(
        name,
        "subject" if name == "plant" else "each",
        read,
        words,
        _JUDGE,
        many=True,
        aligned=True,
        required=_JUDGE if name == "plant" else frozenset(),
    )
    for name, read, words in (
        ("plant", Text("NAME"), "a plant of the planting, by any of its names; once for each kind"),
        ("share", Number(0.001, 1, "share of the ground"), "share of the ground, or of the row, that it has"),
        ("spacing_m", Number(0, 20, "m", above=True), "distance between its plants, m, instead of share"),
        ("sow_week", Whole(1, 53), "ISO week in which it is sown or set"),
        ("clear_week", Whole(1, 53), "ISO week at whose beginning it is cleared"),
        ("plant_age_years", Number(0, 200, "years"), "its age, years since planting"),
        ("distance_m", Number(0, 1000, "m", above=True), "its distance from the trunk of the tree, m"),
        ("side", OneOf(SIDES), "the side of the tree on which it stands"),
    )
)
"""What is said of each plant of a planting, in the order of the plants."""
_OVERHEAD = (Parameter("tree", "tree", Text("NAME"), "the tree that the planting stands under", _JUDGE),)
_TREES = (
    Parameter(
        "height_m",
        "tree",
        Number(0.3, 60, "m"),
        "height of the tree, or the height at which a hedge is kept, m",
        _TREE,
        acts_in=UNDER | {"hedge"},
    ),
    Parameter("crown_radius_m", "tree", Number(0.2, 25, "m"), "radius of its crown, m", _TREE, acts_in=UNDER),
    Parameter(
        "crown_base_m", "tree", Number(0, 50, "m"), "height of the lowest leaves, m", _TREE, acts_in=UNDER
    ),
    Parameter(
        "age_years",
        "tree",
        Number(0, 200, "years"),
        "years since the tree was planted",
        _TREE,
        acts_in=UNDER,
    ),
    Parameter(
        "leaf_area_index",
        "tree",
        Number(0, 12, "m2/m2", above=True),
        "leaf area over ground area of its crown",
        _TREE,
        acts_in=UNDER,
    ),
    Parameter("stand", "tree", OneOf(STANDS), "alone, in a row, or in a closed stand", _TREE, acts_in=UNDER),
    Parameter(
        "stock",
        "tree",
        Text("STOCK"),
        "the stock that the tree stands on, e.g. MM106; its size then comes from the stock's records",
        _TREE,
        acts_in=UNDER,
    ),
    Parameter(
        "years",
        "tree",
        Years(),
        "look ahead: years from now, comma-separated",
        asked_by("under"),
        acts_in=UNDER,
    ),
)
PLANTING = (*_SITE, *_SETTING, *_FOLLOW, *_EACH, *_OVERHEAD, *_TREES)
"""The parameters that say where, when and how plants stand, in the order in which help lists them."""
