"""The fields of everything that can be written; the command line, JSON bodies and pages share them."""

from collections.abc import Mapping
from dataclasses import dataclass
from typing import Literal

FormKind = Literal["record", "caution", "decision", "review", "observation", "undo"]
MAX_FIELD = 2000
MAX_PARTS = 50
ROLES = ("preferred", "accepted", "outweighed", "rejected", "superseded")


@dataclass(frozen=True, slots=True)
class Field:
    """One field. ``many`` is a list: of ``key=value`` texts, or of record ids.

    ``number``: its name says the unit, so that JSON may give it as a bare number too.
    """

    name: str
    help: str
    required: bool = False
    many: bool = False
    number: bool = False
    metavar: str = "TEXT"

    @property
    def option(self) -> str:
        return "--" + self.name.replace("_", "-")


_PLANT = Field("plant", "the plant, by any of its names", required=True, metavar="NAME")
_TRAIT = Field("trait", "the trait's id, such as crown-width", required=True, metavar="TRAIT")
_WHY = Field("why", "the reason, for those who come after (10 letters or more)", required=True)
_VALUE = Field(
    "value",
    "the value with its unit: '3 m', '45-60 cm', 'week 14 to 20'",
    required=True,
    metavar="VALUE",
)
_SOURCED = (
    Field("source", "key of the source it was read in", metavar="KEY"),
    Field("locator", "where in it: page, table, row"),
    Field("verbatim", "the words or figures as printed"),
    Field("name_as_printed", "the plant's name as printed"),
    Field("source_citation", "a source that is not on file yet: its full citation"),
    Field("source_licence", "that source's terms of use, in words"),
    Field("source_identifier", "that source's DOI or address"),
    Field("source_year", "that source's year", number=True, metavar="YEAR"),
    Field("source_tier", "A: first-hand work or official list; B: other", metavar="A|B"),
)
_BASIS = Field(
    "basis",
    "read-in-source, read-in-transcription, read-in-excerpt, second-hand, common-practice, recalled, derived",
    required=True,
    metavar="BASIS",
)

_CAUTION_HELP = "toxic, food-use, lookalike, skin, allergen, thorn, livestock, invasive or prohibited"

FORMS: Mapping[FormKind, tuple[Field, ...]] = {
    "record": (
        _PLANT,
        _TRAIT,
        _VALUE,
        _BASIS,
        _WHY,
        Field("number_kind", "single, mean, median, range, maximum, floor, ceiling ...", metavar="KIND"),
        *_SOURCED,
        Field("condition", "a circumstance as key=value, such as stock=M9", many=True, metavar="KEY=VALUE"),
        Field("note", "a note"),
        Field("revises", "the record that this one corrects; it stays on file", metavar="ID"),
    ),
    "caution": (
        _PLANT,
        Field(
            "caution",
            _CAUTION_HELP,
            required=True,
            metavar="KIND",
        ),
        Field("text", "the warning, as a person should read it", required=True),
        _BASIS,
        _WHY,
        *_SOURCED,
        Field("part", "which part of the plant"),
        Field("agent", "what does the harm"),
        Field("group", "who is at risk"),
        Field("place", "where a law holds"),
        Field("as_of", "as of which date a law holds", metavar="DATE"),
        Field("lookalike", "what it is mistaken for"),
    ),
    "decision": (
        _PLANT,
        _TRAIT,
        _WHY,
        *(Field(role, f"a record that is {role}", many=True, metavar="ID") for role in ROLES),
    ),
    "review": (
        _PLANT,
        Field("caution", "the caution's id", required=True, metavar="ID"),
        Field("verdict", "retire or keep", required=True, metavar="VERDICT"),
        _WHY,
    ),
    "observation": (
        _PLANT,
        _TRAIT,
        _VALUE,
        Field("place", "where, coarsely: a region or a name of your own", required=True, metavar="PLACE"),
        Field("observed_on", "the day, such as 2026-07-01", required=True, metavar="DATE"),
        Field("procedure", "how it was measured or judged", required=True),
        Field("quality", "measured or estimated (counts half)", metavar="WORD"),
        Field("age_years", "years since planting or sowing", number=True, metavar="YEARS"),
        Field("stock", "the rootstock", metavar="STOCK"),
        Field("quality_note", "what may be wrong with the figure"),
    ),
    "undo": (
        Field("undo", "what to take back, such as decision.…", required=True, metavar="ID"),
        _WHY,
    ),
}
