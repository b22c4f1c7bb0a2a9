"""A table of records, one a row: our own export, or one that a person filled in with its columns."""

from collections.abc import Iterator, Mapping
from dataclasses import dataclass, field
from decimal import Decimal
from typing import Any

from import_scripts.base import Draft
from import_scripts.exchange.gathered import Brought, Gathered, NewRecord, Place
from import_scripts.exchange.matching import LEFT_OUT, Matcher
from import_scripts.exchange.numbers import contradiction, is_month, number, to_unit_of
from import_scripts.exchange.sources import source_of
from kb.errors import BadFile
from kb.exchange.cells import BadCell, hints_of, parted, shortened, value_of
from kb.exchange.record_table import RECORD_COLUMNS
from kb.exchange.table_reading import LONGEST_CELL, delimiter_of, lines_of
from kb.model import PlantId, Record, Source, SourceKey, Trait
from kb.namespaces import iri, local
from kb.vocabulary_store import Vocabulary

NEEDED = ("trait", "number_kind", "verbatim", "name_as_printed", "source", "locator", "basis")
OTHER_NAMES = {"source_key": "source", "license": "licence", "license_iri": "licence_iri"}
ENDS = ("low", "likely", "high")
PLAIN = ("number_kind", "conditions", "verbatim", "name_as_printed", "locator", "basis", "note")
"""Columns that are read by the type of the field of that name."""


@dataclass(slots=True)
class Reading:
    """What reading a table needs: the vocabulary, the sources on file, who means what, how decimals look."""

    vocabulary: Vocabulary
    sources: Mapping[SourceKey, Source]
    matcher: Matcher
    comma: bool = False
    converted: dict[tuple[str, str], int] = field(default_factory=dict)


def read_records(text: str, file: str, reading: Reading, gathered: Gathered, report: Brought) -> None:
    """Read every row into ``gathered``; rows that cannot be read go to the report with what to mend.

    Raises BadFile where the table as a whole cannot be read: its columns, or a quotation mark left open.
    """
    for place, cells in _rows(text, file, report):
        report.rows += 1
        _one_row(place, cells, reading, gathered, report)
    report.notices += [
        f"{rows} values given in {unit} were turned into {into}"
        for (unit, into), rows in reading.converted.items()
    ]


def _rows(text: str, file: str, report: Brought) -> Iterator[tuple[Place, dict[str, str]]]:
    first = text.lstrip().split("\n", 1)[0].rstrip("\r")
    rows = lines_of(text, file, delimiter_of(first, "trait"))
    header = next(rows, None)
    if header is None:
        raise BadFile(file, None, "is empty; bring a table with a header line.")
    columns = [OTHER_NAMES.get(cell.strip(), cell.strip()) for cell in header.cells]
    _check_columns(columns, file)
    named = columns.index("plant" if "plant" in columns else "scientific_name")
    for row in rows:
        whole = len(row.cells) == len(columns)
        place = Place(file, row.number, shortened(row.cells[named] if whole else row.cells[0]))
        if not whole:
            report.rows += 1
            report.refused.append(
                place.refused(
                    f"has {len(row.cells)} of {len(columns)} cells",
                    "give it as many as the header, and quote cells that hold the delimiter",
                )
            )
            continue
        yield place, {column: cell.strip() for column, cell in zip(columns, row.cells, strict=True)}


def _check_columns(columns: list[str], file: str) -> None:
    missing = [name for name in NEEDED if name not in columns]
    if not {"plant", "scientific_name"} & set(columns):
        missing.insert(0, "plant (or scientific_name)")
    if missing:
        raise BadFile(
            file, 1, f"lacks the column {', '.join(missing)}; 'traitbed export csv' shows them all."
        )
    twice = sorted({name for name in columns if columns.count(name) > 1})
    if twice:
        raise BadFile(file, 1, f"has the column {', '.join(twice)} twice; keep one of each.")
    unknown = [name for name in columns if name not in RECORD_COLUMNS]
    if unknown:
        named = ", ".join(f"'{shortened(name)}'" for name in unknown)
        raise BadFile(
            file,
            1,
            f"has the column {named}, which means nothing here; take it out or name it one of "
            f"{', '.join(RECORD_COLUMNS)}.",
        )


class _Row:
    """The cells of one row; a cell that cannot be read is noted with its column and its mend."""

    def __init__(self, place: Place, cells: Mapping[str, str], report: Brought) -> None:
        self.place = place
        self.cells = cells
        self.report = report
        self.sound = True

    def __getitem__(self, column: str) -> str:
        return self.cells.get(column, "")

    def wrong(self, column: str, fault: BadCell, *, unmatched: bool = False) -> None:
        self.sound = False
        told = self.report.unmatched if unmatched else self.report.refused
        told.append(self.place.refused(f"column {column}: {fault}", fault.mend, unmatched=unmatched))

    def read(self, column: str, hint: Any) -> Any:
        try:
            return value_of(self[column], hint)
        except BadCell as fault:
            self.wrong(column, fault)
            return None


def _one_row(
    place: Place, cells: Mapping[str, str], reading: Reading, gathered: Gathered, report: Brought
) -> None:
    row = _Row(place, cells, report)
    for column, cell in cells.items():
        if len(cell) > LONGEST_CELL:
            row.wrong(
                column, BadCell(f"has {len(cell):,} characters", f"shorten it to {LONGEST_CELL:,} at most")
            )
    if not row.sound:
        return
    plant = _plant(row, reading)
    if plant == LEFT_OUT:
        report.notices.append(f"{place.file}, line {place.line}, '{place.name}': left out, as decided")
        return
    trait = _trait(row, reading)
    values: dict[str, Any] = {name: row.read(name, hints_of(Record)[name]) for name in PLAIN}
    ends, concepts = _value(row, trait, reading) if trait else ((None, None, None), ())
    source = _source(row, reading, gathered)
    if not row.sound or plant is None or trait is None or source is None:
        return
    draft = Draft(
        plant=PlantId(plant),
        trait=trait.id,
        low=ends[0],
        likely=ends[1],
        high=ends[2],
        concepts=tuple(sorted(set(concepts))),
        source=source.key,
        **{**values, "conditions": tuple(sorted(set(values["conditions"])))},
    )
    _place_record(row, draft, gathered)
    if row.sound:
        gathered.sources[source.key] = source


def _plant(row: _Row, reading: Reading) -> str | None:
    """The plant of a row: both of its names must mean the same one."""
    column = "plant" if row["plant"] else "scientific_name"
    label = row[column]
    if not label:
        row.wrong(column, BadCell("is empty", "name the plant by its id or scientific name"))
        return None
    plant = reading.matcher.plant(label)
    if plant is None:
        row.wrong(column, BadCell(*reading.matcher.why_none(label)), unmatched=True)
        return None
    if column == "plant" and row["scientific_name"]:
        other = reading.matcher.names.match(row["scientific_name"])
        if other is not None and other != plant:
            row.wrong(
                "scientific_name",
                BadCell(
                    f"'{shortened(row['scientific_name'])}' is {other}, not {plant}", "mend one of the two"
                ),
            )
    return plant


def _trait(row: _Row, reading: Reading) -> Trait | None:
    for trait in reading.vocabulary.traits.values():
        if row["trait"] == trait.id:
            return trait
    row.wrong(
        "trait", BadCell(f"'{shortened(row['trait'])}' is no trait", "'traitbed traits' lists their ids")
    )
    return None


def _value(
    row: _Row, trait: Trait, reading: Reading
) -> tuple[tuple[Decimal | None, Decimal | None, Decimal | None], tuple[str, ...]]:
    """The ends in the unit of the trait, and the concepts; what does not belong to the trait is wrong."""
    if trait.kind == "concept":
        for column in (*ENDS, "unit"):
            if row[column]:
                row.wrong(column, BadCell(f"{trait.id} is no number", "leave it empty and fill in concept"))
        return (None, None, None), _concepts(row, trait, reading)
    if row["concept"]:
        row.wrong(
            "concept", BadCell(f"{trait.id} is a number", "leave it empty and fill in low, likely or high")
        )
    if trait.kind == "number" and is_month(row["verbatim"]):
        fault = f"'{shortened(row['verbatim'])}' is a date; a spreadsheet makes one of a range such as 1-2"
        row.wrong("verbatim", BadCell(fault, "set the column to text and write what the source prints"))
    found = [_end(row, column, trait, reading) for column in ENDS]
    if row.sound and found == [None, None, None]:
        row.wrong("low", BadCell("is empty, and so are likely and high", "fill in what the source states"))
    return (found[0], found[1], found[2]), ()


def _concepts(row: _Row, trait: Trait, reading: Reading) -> tuple[str, ...]:
    known = reading.vocabulary.concepts.get(trait.scheme or "", {})
    words = parted(row["concept"])
    if not words:
        row.wrong("concept", BadCell("is empty", f"write a value of {trait.id}, with | between several"))
    for word in words:
        if word not in known:
            listed = ", ".join(known) if len(known) <= 20 else f"'traitbed traits' lists those of {trait.id}"
            row.wrong("concept", BadCell(f"'{shortened(word)}' is no value of {trait.id}", f"use {listed}"))
    return words


def _end(row: _Row, column: str, trait: Trait, reading: Reading) -> Decimal | None:
    try:
        value = number(row[column], comma=reading.comma)
    except BadCell as fault:
        row.wrong(column, fault)
        return None
    if value is None:
        return None
    try:
        turned = to_unit_of(trait, value, row["unit"])
    except BadCell as fault:
        if row.sound:
            row.wrong("unit", fault)
        return None
    printed = contradiction(row["verbatim"], value, row["unit"])
    if printed is not None:
        said = f"the source prints '{shortened(row['verbatim'])}', the unit here is {row['unit']}"
        row.wrong("unit", BadCell(said, f"write {printed} under unit, or the value in {row['unit']}"))
    if row["unit"] not in {trait.unit_label, trait.unit}:
        key = (row["unit"], trait.unit_label or "")
        reading.converted[key] = reading.converted.get(key, 0) + 1
    return turned


def _source(row: _Row, reading: Reading, gathered: Gathered) -> Source | None:
    try:
        return source_of(row["source"], row.cells, {**reading.sources, **gathered.sources})
    except BadCell as fault:
        row.wrong("source", fault)
        return None


def _place_record(row: _Row, draft: Draft, gathered: Gathered) -> None:
    """Keep the record with the id that the row gives it, or as a new one that gets an id."""
    hints = hints_of(Record)
    revises = local("record", row["revises"]) or None
    by = row["entered_by"] or None
    on = row.read("entered_on", hints["entered_on"]) if row["entered_on"] else None
    if not row["record"]:
        if row["standing"] not in {"", "proposed"}:
            fault = BadCell(f"'{shortened(row['standing'])}' is decided, not brought in", "leave it empty")
            row.wrong("standing", fault)
        if row.sound:
            gathered.drafts.append((row.place, NewRecord(draft, by, on, revises)))
        return
    name = local("record", row["record"])
    head = f"{draft.plant}.{draft.trait}.{draft.source}"
    if name != head and not name.startswith(f"{head}."):
        fault = BadCell(
            f"'{shortened(row['record'])}' is no id of such a record", f"write {iri('record', head)}"
        )
        row.wrong("record", BadCell(str(fault), f"{fault.mend} (with .1, .2 ...), or leave it empty"))
    standing = row.read("standing", hints["standing"])
    by = row.read("entered_by", str)
    on = row.read("entered_on", hints["entered_on"])
    if row.sound:
        said = {field: getattr(draft, field) for field in Draft.__slots__}
        record = Record(id=name, standing=standing, revises=revises, entered_by=by, entered_on=on, **said)
        gathered.statements.append((row.place, record))
