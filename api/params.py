"""The one table of parameters: HTTP parsing, command-line options and the OpenAPI check read it.

A parameter is called ``soil_depth_m`` over HTTP and ``--soil-depth-m`` on the command line. Each
question serves only the parameters that act on its answer; any other is refused with what is
accepted, never taken and ignored (``api.parsing``).
"""

from api.param_kinds import EXPORT_FORMS, GROUPS, INCLUDE, WORK_KINDS, Parameter, QuestionKind, asked_by
from api.params_planting import PLANTING
from api.values import (
    Names,
    OneOf,
    Text,
    TraitFilter,
    Whole,
    YesNo,
)

_SUBJECT = (
    Parameter(
        "a",
        "subject",
        Text("A"),
        "the first plant (in setting under: the tree)",
        asked_by("pair"),
        required=asked_by("pair"),
    ),
    Parameter("b", "subject", Text("B"), "the second plant", asked_by("pair"), required=asked_by("pair")),
    Parameter(
        "plant",
        "subject",
        Text("NAME"),
        "a plant: its id, scientific name, synonym or common name",
        asked_by("plant", "records", "history", "candidates", "under"),
        required=asked_by("plant", "records", "history", "candidates", "under"),
    ),
    Parameter(
        "record",
        "subject",
        Text("IRI"),
        "a record, caution or decision: its IRI or the id at its end",
        asked_by("record"),
        required=asked_by("record"),
    ),
    Parameter(
        "record",
        "subject",
        Text("IRI"),
        "only what happened to this record, caution, decision or observation",
        asked_by("history"),
    ),
    Parameter(
        "source", "subject", Text("KEY"), "a source key", asked_by("source"), required=asked_by("source")
    ),
)
_SEARCH = (
    Parameter("q", "search", Text("WORDS"), "words that the id or a name must hold", asked_by("plants")),
    Parameter(
        "trait",
        "search",
        TraitFilter(),
        "ID=VALUE; a number asks for a value that may be so, LOW..HIGH for one in between",
        asked_by("plants"),
        many=True,
    ),
    Parameter("trait", "search", Text("ID"), "one trait only, e.g. rooting-depth", asked_by("records")),
    Parameter(
        "trait",
        "subject",
        Text("ID"),
        "a trait id, e.g. rooting-depth",
        asked_by("trait"),
        required=asked_by("trait"),
    ),
    Parameter("family", "search", Text("FAMILY"), "a plant family, e.g. Rosaceae", asked_by("plants")),
)
_LISTING = (
    Parameter(
        "limit", "listing", Whole(1, 500), "at most so many on one page", asked_by("plants", "candidates")
    ),
    Parameter(
        "limit",
        "listing",
        Whole(1, 500),
        "at most so many plants in one place (ring, side, year)",
        asked_by("under"),
    ),
    Parameter(
        "after", "listing", Text("TOKEN"), "the 'next' of the page before", asked_by("plants", "candidates")
    ),
    Parameter(
        "include",
        "listing",
        Names(INCLUDE),
        "cautions-only: plants with nothing but cautions; flowers: plants grown for their flowers and not to "
        "eat; stocks: trees on named stocks beside their species; unknowns: plants judged on stand-ins "
        "alone; weeds: plants that come by themselves and nobody sows",
        asked_by("candidates", "under"),
    ),
    Parameter(
        "group",
        "listing",
        Names(GROUPS),
        "only plants of these planting groups",
        asked_by("candidates", "under"),
        ticked=True,
    ),
    Parameter(
        "exclude",
        "listing",
        Names(),
        "plants to leave out, by any of their names",
        asked_by("candidates", "under"),
    ),
)
_WORKLIST = (
    Parameter(
        "kind",
        "search",
        OneOf(WORK_KINDS),
        f"only tasks of one kind: {', '.join(WORK_KINDS)}",
        asked_by("worklist"),
    ),
    Parameter(
        "partners",
        "search",
        Whole(1, 20),
        "with how many others each plant is tried; more is slower and steadier",
        asked_by("worklist"),
    ),
    Parameter("limit", "listing", Whole(1, 500), "at most so many on one page", asked_by("worklist")),
    Parameter("after", "listing", Text("TOKEN"), "the 'next' of the page before", asked_by("worklist")),
)
_EXPORT = (
    Parameter(
        "format",
        "export",
        OneOf(EXPORT_FORMS),
        "csv: records as a table; dwca: a Darwin Core Archive; jsonld, turtle: linked data",
        asked_by("export"),
        required=asked_by("export"),
    ),
    Parameter("adopted", "export", YesNo(), "adopted values instead of records (csv)", asked_by("export")),
)
PARAMETERS: tuple[Parameter, ...] = (
    *_SUBJECT,
    *_SEARCH,
    *PLANTING,
    *_LISTING,
    *_EXPORT,
    *_WORKLIST,
)


def parameters_of(question: QuestionKind) -> dict[str, Parameter]:
    """The parameters that a question uses, by name, in the order of the table."""
    return {p.name: p for p in PARAMETERS if question in p.questions}
