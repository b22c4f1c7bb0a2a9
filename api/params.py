"""The one table of parameters: HTTP parsing, command-line options and the OpenAPI check read it.

A parameter is called ``soil_depth_m`` over HTTP and ``--soil-depth-m`` on the command line. Each
question serves only the parameters that act on its answer; any other is refused with what is
accepted, never taken and ignored (``api.parsing``).
"""

from collections.abc import Mapping
from dataclasses import dataclass
from typing import Literal

from api.site_values import FrostDate, Months, Named
from api.values import (
    Country,
    Moisture,
    Names,
    Number,
    OneOf,
    Reader,
    Text,
    TraitFilter,
    Whole,
    Years,
    YesNo,
)

QuestionKind = Literal[
    "home",
    "health",
    "plants",
    "plant",
    "records",
    "record",
    "history",
    "pair",
    "candidates",
    "under",
    "judge",
    "sources",
    "source",
    "traits",
    "trait",
    "export",
    "worklist",
]
Group = Literal["subject", "search", "site", "setting", "each", "tree", "listing", "export"]

GIVEN = ("frame", "barrier", "mown", "mulch", "irrigated", "pruned", "careful-lifting", "clean-ground")
GIVEN_LATER: tuple[str, ...] = ()
"""What a gardener can say will be provided (``interface.md``), and what no rule asks about yet."""
AUDIENCES = ("household", "school", "public", "livestock")
TEXTURES = (
    "sand",
    "loamy-sand",
    "sandy-loam",
    "loam",
    "silt-loam",
    "silt",
    "sandy-clay-loam",
    "clay-loam",
    "silty-clay-loam",
    "sandy-clay",
    "silty-clay",
    "clay",
)
SIDES = ("N", "E", "S", "W")
STANDS = ("lone", "row", "closed")
INCLUDE = ("cautions-only", "flowers", "stocks", "unknowns")
GROUPS = (
    "annual-vegetable",
    "berry-shrub",
    "bulb",
    "climber",
    "field-crop",
    "flower",
    "fruit-tree",
    "ground-cover",
    "hedge-plant",
    "herb",
    "nitrogen-fixer",
    "nut-tree",
    "perennial-vegetable",
    "timber-tree",
    "tropical-crop",
)
"""The planting groups of the vocabulary (a test holds the two equal)."""

WORK_KINDS = ("verdicts", "contradictions", "floors", "copies", "impossible", "missing", "names")
"""The kinds of tasks of the worklist (a test holds them equal to the knowledge base's)."""

NOT_YET: Mapping[str, str] = {
    "clear_week_b": "nothing follows the second plant; clear_week_a says when the first is cleared",
}
"""Parameters that the interface names but no question uses so far, and what to do instead."""


BLANK_IS_UNSAID: frozenset[QuestionKind] = frozenset({"judge"})
"""Questions whose form has fields that may stay empty: an empty one is not said."""


@dataclass(frozen=True, slots=True)
class Parameter:
    """One parameter: its HTTP name, how it is read, and the questions that use it.

    ``many`` lets it be given several times; ``aligned`` once for each plant of a planting, in their
    order, blank or ``-`` for none. ``ticked`` is a list that the pages ask for with tick
    boxes: a browser sends one name per box ticked, and nothing where none is. ``under_only`` and
    ``bed_only`` say that it acts only in that setting; one plant after another (setting ``follow``)
    takes only what says ``in_follow`` or ``follow_only``. ``required`` names the questions that cannot
    do without it.
    """

    name: str
    group: Group
    read: Reader
    help: str
    questions: frozenset[QuestionKind]
    many: bool = False
    aligned: bool = False
    ticked: bool = False
    under_only: bool = False
    bed_only: bool = False
    in_follow: bool = False
    follow_only: bool = False
    required: frozenset[QuestionKind] = frozenset()

    @property
    def option(self) -> str:
        return "--" + self.name.replace("_", "-")


def _for(*questions: QuestionKind) -> frozenset[QuestionKind]:
    return frozenset(questions)


_MATCHING = _for("pair", "candidates", "under")
_TWO = _for("pair", "candidates")
_PAIR = _for("pair")
_JUDGE = _for("judge")
_ANYWHERE = _MATCHING | _JUDGE
_TREE = _MATCHING | _JUDGE

_SUBJECT = (
    Parameter(
        "a", "subject", Text("A"), "the first plant (in setting under: the tree)", _PAIR, required=_PAIR
    ),
    Parameter("b", "subject", Text("B"), "the second plant", _PAIR, required=_PAIR),
    Parameter(
        "plant",
        "subject",
        Text("NAME"),
        "a plant: its id, scientific name, synonym or common name",
        _for("plant", "records", "history", "candidates", "under"),
        required=_for("plant", "records", "history", "candidates", "under"),
    ),
    Parameter(
        "record",
        "subject",
        Text("IRI"),
        "a record, caution or decision: its IRI or the id at its end",
        _for("record"),
        required=_for("record"),
    ),
    Parameter(
        "record",
        "subject",
        Text("IRI"),
        "only what happened to this record, caution, decision or observation",
        _for("history"),
    ),
    Parameter("source", "subject", Text("KEY"), "a source key", _for("source"), required=_for("source")),
)
_SEARCH = (
    Parameter("q", "search", Text("WORDS"), "words that the id or a name must hold", _for("plants")),
    Parameter(
        "trait",
        "search",
        TraitFilter(),
        "ID=VALUE; a number asks for a value that may be so, LOW..HIGH for one in between",
        _for("plants"),
        many=True,
    ),
    Parameter("trait", "search", Text("ID"), "one trait only, e.g. rooting-depth", _for("records")),
    Parameter(
        "trait",
        "subject",
        Text("ID"),
        "a trait id, e.g. rooting-depth",
        _for("trait"),
        required=_for("trait"),
    ),
    Parameter("family", "search", Text("FAMILY"), "a plant family, e.g. Rosaceae", _for("plants")),
)
_SITE = (
    Parameter(
        "latitude",
        "site",
        Number(-90, 90, "degrees, south negative"),
        "degrees; south is negative",
        _ANYWHERE,
        in_follow=True,
    ),
    Parameter(
        "last_frost",
        "site",
        FrostDate(),
        "mean date of the last spring frost, e.g. '10 May'; never: none; every-month: no month is free",
        _ANYWHERE,
        in_follow=True,
    ),
    Parameter(
        "first_frost",
        "site",
        FrostDate(),
        "mean date of the first autumn frost, or the same words",
        _ANYWHERE,
        in_follow=True,
    ),
    Parameter(
        "frost_sd_days",
        "site",
        Number(0, 60, "days"),
        "how far the frost dates of single years lie from the mean (standard deviation), days",
        _ANYWHERE,
        in_follow=True,
    ),
    Parameter(
        "winter_min_c",
        "site",
        Number(-70, 30, "degrees C"),
        "lowest temperature of a usual winter (mean of the years), degrees C",
        _ANYWHERE,
    ),
    Parameter(
        "wet_months",
        "site",
        Months(),
        "months of rain, 1-12, comma-separated: nine tenths of the year's rain; between the tropics they "
        "begin the season",
        _ANYWHERE,
        in_follow=True,
    ),
    Parameter(
        "soil_depth_m", "site", Number(0.05, 5, "m", above=True), "depth that roots can use, m", _ANYWHERE
    ),
    Parameter(
        "soil_texture",
        "site",
        Named(TEXTURES, "CLASS"),
        f"texture class of the soil (USDA): {', '.join(TEXTURES)}",
        _ANYWHERE,
    ),
    Parameter("soil_ph", "site", Number(3, 10, "pH"), "pH of the soil", _ANYWHERE),
    Parameter("moisture", "site", Moisture(), "1-12, or dry, ordinary, moist, wet", _ANYWHERE),
    Parameter(
        "open_light",
        "site",
        Number(0, 1, "share of open sky", above=True),
        "share of open-sky light before the planting itself",
        _ANYWHERE,
    ),
    Parameter(
        "place",
        "site",
        Country(),
        "ISO 3166 code, for laws among the cautions",
        _ANYWHERE | {"plant"},
        in_follow=True,
    ),
    Parameter(
        "audience",
        "site",
        OneOf(AUDIENCES),
        "who will be near the plants; orders the cautions",
        _ANYWHERE | {"plant"},
        in_follow=True,
    ),
    Parameter(
        "observed_at",
        "site",
        Text("PLACE"),
        "a place where you observed plants of your own: they are taken as they grow there",
        _MATCHING | {"plant"},
        in_follow=True,
    ),
)
_SETTING = (
    Parameter(
        "setting",
        "setting",
        OneOf(("bed", "under", "follow"), later=("hedge",)),
        "in one bed, B under the tree A, or B on the ground after A",
        _PAIR,
        in_follow=True,
    ),
    Parameter(
        "setting",
        "setting",
        OneOf(("bed", "under"), later=("hedge", "follow")),
        "in one bed, or B under the tree A",
        _for("candidates"),
    ),
    Parameter(
        "distance_m",
        "setting",
        Number(0, 1000, "m", above=True),
        "distance of B from the trunk, m",
        _TWO,
        under_only=True,
    ),
    Parameter("side", "setting", OneOf(SIDES), "side of the tree", _MATCHING, under_only=True),
    Parameter(
        "share_a",
        "setting",
        Number(0.001, 1, "share of the ground"),
        "share of the ground that A has",
        _TWO,
        bed_only=True,
    ),
    Parameter(
        "share_b",
        "setting",
        Number(0.001, 1, "share of the ground"),
        "share of the ground that B has",
        _TWO,
    ),
    Parameter(
        "spacing_a_m",
        "setting",
        Number(0, 20, "m", above=True),
        "distance between plants of A, m, instead of its share",
        _TWO,
        bed_only=True,
    ),
    Parameter(
        "spacing_b_m",
        "setting",
        Number(0, 20, "m", above=True),
        "distance between plants of B, m, instead of its share",
        _PAIR,
    ),
    Parameter(
        "sow_week_a",
        "setting",
        Whole(1, 53),
        "ISO week in which A is sown or set",
        _TWO,
        bed_only=True,
        in_follow=True,
    ),
    Parameter(
        "sow_week_b", "setting", Whole(1, 53), "ISO week in which B is sown or set", _PAIR, in_follow=True
    ),
    Parameter(
        "age_a_years",
        "setting",
        Number(0, 200, "years"),
        "age of A, years since planting",
        _TWO,
        bed_only=True,
    ),
    Parameter("age_b_years", "setting", Number(0, 200, "years"), "age of B, years since planting", _PAIR),
    Parameter(
        "given",
        "setting",
        Names(GIVEN, later=GIVEN_LATER),
        f"what you will provide: {', '.join(GIVEN)}",
        _MATCHING,
        in_follow=True,
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
        follow_only=True,
    ),
    Parameter(
        "gap_weeks",
        "setting",
        Number(0, 52, "weeks"),
        "weeks from clearing A to the start of B",
        _PAIR,
        follow_only=True,
    ),
    Parameter(
        "gap_years",
        "setting",
        Number(0, 50, "years", above=True),
        "years from A to B, instead of weeks",
        _PAIR,
        follow_only=True,
    ),
    Parameter(
        "use_a",
        "setting",
        OneOf(("harvested", "dug-in", "mown", "left")),
        "what becomes of A",
        _PAIR,
        follow_only=True,
    ),
    Parameter(
        "history",
        "setting",
        Names(),
        "pests and diseases known to be in this ground, by name or id",
        _PAIR,
        follow_only=True,
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
        ("share", Number(0.001, 1, "share of the ground"), "share of the ground that it has"),
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
    Parameter("height_m", "tree", Number(0.3, 60, "m"), "height of the tree, m", _TREE, under_only=True),
    Parameter(
        "crown_radius_m", "tree", Number(0.2, 25, "m"), "radius of its crown, m", _TREE, under_only=True
    ),
    Parameter(
        "crown_base_m", "tree", Number(0, 50, "m"), "height of the lowest leaves, m", _TREE, under_only=True
    ),
    Parameter(
        "age_years",
        "tree",
        Number(0, 200, "years"),
        "years since the tree was planted",
        _TREE,
        under_only=True,
    ),
    Parameter(
        "leaf_area_index",
        "tree",
        Number(0, 12, "m2/m2", above=True),
        "leaf area over ground area of its crown",
        _TREE,
        under_only=True,
    ),
    Parameter(
        "stand", "tree", OneOf(STANDS), "alone, in a row, or in a closed stand", _TREE, under_only=True
    ),
    Parameter(
        "stock",
        "tree",
        Text("STOCK"),
        "the stock that the tree stands on, e.g. MM106; its size then comes from the stock's records",
        _TREE,
        under_only=True,
    ),
    Parameter(
        "years",
        "tree",
        Years(),
        "look ahead: years from now, comma-separated",
        _for("under"),
        under_only=True,
    ),
)
_LISTING = (
    Parameter("limit", "listing", Whole(1, 500), "at most so many on one page", _for("plants", "candidates")),
    Parameter(
        "limit",
        "listing",
        Whole(1, 500),
        "at most so many plants in one place (ring, side, year)",
        _for("under"),
    ),
    Parameter(
        "after", "listing", Text("TOKEN"), "the 'next' of the page before", _for("plants", "candidates")
    ),
    Parameter(
        "include",
        "listing",
        Names(INCLUDE),
        "cautions-only: plants with nothing but cautions; flowers: plants grown for their flowers and not to "
        "eat; stocks: trees on named stocks beside their species; unknowns: plants judged on stand-ins alone",
        _for("candidates", "under"),
    ),
    Parameter(
        "group",
        "listing",
        Names(GROUPS),
        "only plants of these planting groups",
        _for("candidates", "under"),
        ticked=True,
    ),
    Parameter(
        "exclude",
        "listing",
        Names(),
        "plants to leave out, by any of their names",
        _for("candidates", "under"),
    ),
)
EXPORT_FORMS = ("csv", "dwca", "jsonld", "turtle")
_WORKLIST = (
    Parameter(
        "kind",
        "search",
        OneOf(WORK_KINDS),
        f"only tasks of one kind: {', '.join(WORK_KINDS)}",
        _for("worklist"),
    ),
    Parameter(
        "partners",
        "search",
        Whole(1, 20),
        "with how many others each plant is tried; more is slower and steadier",
        _for("worklist"),
    ),
    Parameter("limit", "listing", Whole(1, 500), "at most so many on one page", _for("worklist")),
    Parameter("after", "listing", Text("TOKEN"), "the 'next' of the page before", _for("worklist")),
)
_EXPORT = (
    Parameter(
        "format",
        "export",
        OneOf(EXPORT_FORMS),
        "csv: records as a table; dwca: a Darwin Core Archive; jsonld, turtle: linked data",
        _for("export"),
        required=_for("export"),
    ),
    Parameter("adopted", "export", YesNo(), "adopted values instead of records (csv)", _for("export")),
)

PARAMETERS: tuple[Parameter, ...] = (
    *_SUBJECT,
    *_SEARCH,
    *_SITE,
    *_SETTING,
    *_FOLLOW,
    *_EACH,
    *_OVERHEAD,
    *_TREES,
    *_LISTING,
    *_EXPORT,
    *_WORKLIST,
)


def parameters_of(question: QuestionKind) -> dict[str, Parameter]:
    """The parameters that a question uses, by name, in the order of the table."""
    return {p.name: p for p in PARAMETERS if question in p.questions}
