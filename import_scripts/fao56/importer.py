"""FAO-56 tables 11, 12 and 22: stages and cycle, crop coefficient and height, rooting depth and p."""

import re
from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from datetime import date, timedelta
from decimal import Decimal
from functools import cache
from pathlib import Path

from import_scripts.base import Draft, PublishedFile, Row, Statement, draft, refuse, unmatched
from import_scripts.fao56.citation import FILE, SOURCES
from import_scripts.names import Decision, PlantNames, decisions
from import_scripts.quantities import MONTHS, YEAR, number, week_of_date
from import_scripts.tables import csv_rows, locate, read_text, rows_of_text
from kb.errors import SourceFault
from kb.model import PlantId, Source
from kb.names import fold

COLUMNS = {
    11: ("Crop", "Lini", "Ldev", "Lmid", "Llate", "Total", "Plant Date", "Region"),
    12: ("Crop", "Kcmini", "Kcmmid", "Kcmend", "hmax"),
    22: ("Crop", "Zrmax1", "Zrmax2", "pbase"),
}
KNOWN_WRONG = {
    (12, "castorbean ricinus", "hmax"): "0.3 m is the height of no castor bean; the table is wrong here"
}
TEMPERATE = frozenset(
    {
        "europe",
        "continental climate",
        "continental climates",
        "high latitudes",
        "mid latitudes wine",
        "35-45 degrees latitude",
        "idaho usa",
        "utah usa",
        "central usa",
        "europe mediterranean",
        "mediterranean europe",
    }
)
"""Printed regions whose planting months can be read as weeks of a temperate year (ours)."""
PERENNIAL = frozenset(
    {
        "asparagus",
        "artichoke",
        "hops",
        "grapes",
        "citrus",
        "olives",
        "pistachios",
        "walnuts",
        "deciduous orchard",
    }
    | {"alfalfa total season", "alfalfa first cutting cycle", "alfalfa other cutting cycles"}
    | {"wetlands cattails bulrush", "banana second year", "cassava year 2", "sugarcane ratoon"}
)
"""Labels whose stages start from leafing or cutting: no days from sowing to full cover."""
OF_A_CUT = re.compile(r"cutting cycles?$")
"""Labels whose days are of one cut of a sward that goes on: a cycle, never the season of the plant."""
RANGE = (
    "the smaller value is for irrigation scheduling, the larger for rain-fed crops and for soils without "
    "layers that hold roots back (footnote 1 of the table)"
)
"""What the ends of a depth in table 22 are for. The transcription lacks the footnote: read in quotations."""


@cache
def _mapping() -> dict[str, tuple[Decision, ...]]:
    return decisions(__package__)


@dataclass(frozen=True)
class Fao56Importer:
    """The importer ``fao56``. Reads ``fao56_table11.csv`` ..., or the transcription ``tables.py``."""

    key: str = "fao56"
    title: str = "FAO-56 tables 11, 12, 22: crop stages, coefficients, heights, rooting depths"
    files: tuple[PublishedFile, ...] = (FILE,)
    carried: Path | None = None

    def sources(self, folder: Path) -> tuple[Source, ...]:  # noqa: ARG002
        return tuple(SOURCES.values())

    def rows(self, folder: Path) -> Iterator[Row]:
        if (folder.is_file() and folder.suffix == ".py") or (folder / FILE.name).is_file():
            yield from _transcription(locate(folder, FILE.name))
            return
        for table, columns in COLUMNS.items():
            yield from csv_rows(locate(folder, f"fao56_table{table}.csv"), columns, name="Crop")

    def convert(self, row: Row, names: PlantNames) -> Sequence[Statement]:  # noqa: ARG002
        decided = _mapping().get(fold(row.name))
        if decided is None:
            return [*_wrong_before_mapping(row), unmatched(row)]
        return [statement for one in decided if one.plant for statement in _statements(row, one, one.plant)]


def _transcription(path: Path) -> Iterator[Row]:
    """The tables inside the text of the transcription; its code is never run."""
    text = read_text(path)
    for table, columns in COLUMNS.items():
        _, found, rest = text.partition(f'table{table}data = """')
        body, closed, _ = rest.partition('"""')
        if not found or not closed:
            raise SourceFault(path.name, f"holds no table {table}; this is another file or another version")
        lines = [
            ",".join(cell.strip() for cell in line.split(",")) for line in body.splitlines() if line.strip()
        ]
        yield from rows_of_text(
            "\n".join([",".join(columns), *lines]), columns, file=f"fao56_table{table}.csv", name="Crop"
        )


def _table(row: Row) -> int:
    return int(row.file.removeprefix("fao56_table").removesuffix(".csv"))


def _wrong_before_mapping(row: Row) -> list[Statement]:
    return [
        refuse(row, reason, "leave it out")
        for (table, label, _), reason in KNOWN_WRONG.items()
        if table == _table(row) and label == row.name
    ]


def _statements(row: Row, one: Decision, plant: PlantId) -> list[Statement]:
    table = _table(row)
    if table == 22:
        return [*_rooting(row, one, plant)]
    return _water_and_height(row, one, plant) if table == 12 else _stages(row, one, plant)


BENEATH = "ground cover"
"""What some orchards of table 12 have beneath them: their coefficient is of trees and cover together."""


YEAR_OF_CROP = re.compile(r"(?:year (?P<number>[12])|(?P<word>first|second) year)$")
"""Labels of crops of several years, cassava and banana: the year of the crop that the row is of."""
CANOPY = re.compile(r"(?P<share>\d+%(?: to \d+%)?) (?:ground coverage by )?canopy$")
"""Labels of orchards by how much of the ground their crowns cover: the lower ones are of smaller trees."""


def _base(row: Row, one: Decision) -> dict[str, str]:
    """What the label says beside the crop's name: the plants it covers, the year of the crop, the canopy."""
    year, canopy = YEAR_OF_CROP.search(row.name), CANOPY.search(row.name)
    which = year and (year["word"] or {"1": "first", "2": "second"}[year["number"]])
    return (
        {"scope": one.scope}
        | ({"age": f"{which} year"} if which else {})
        | ({"stand": f"{canopy['share']} of the ground covered"} if canopy else {})
    )


def _locator(row: Row) -> str:
    return f"Table {_table(row)}, row {row.number - 1}, '{row.name}'"


def _rooting(row: Row, one: Decision, plant: PlantId) -> list[Draft]:
    low, high, p = number(row["Zrmax1"]), number(row["Zrmax2"]), number(row["pbase"])
    source = SOURCES[22].key
    return [
        draft(
            row,
            plant,
            "effective-rooting-depth",
            low=low,
            high=high,
            kind="range",
            conditions=_base(row, one) | {"method": "handbook"},
            verbatim=f"{row['Zrmax1']}-{row['Zrmax2']}",
            source=source,
            locator=_locator(row),
            basis="read-in-transcription",
            note=_ends(one, low, high),
        ),
        draft(
            row,
            plant,
            "depletion-fraction",
            likely=p,
            kind="single",
            conditions=_base(row, one),
            verbatim=row["pbase"],
            source=source,
            locator=_locator(row),
            basis="read-in-transcription",
            note=one.note or None,
        ),
    ]


def _ends(one: Decision, low: Decimal | None, high: Decimal | None) -> str | None:
    """What the ends of a printed range are for, beside the note of the mapping."""
    return "; ".join(filter(None, (one.note, RANGE if low != high else ""))) or None


def _water_and_height(row: Row, one: Decision, plant: PlantId) -> list[Statement]:
    found: list[Statement] = []
    middle, height = number(row["Kcmmid"]), number(row["hmax"])
    source = SOURCES[12].key
    if middle is not None:
        found.append(
            draft(
                row,
                plant,
                "water-use",
                likely=middle,
                kind="single",
                conditions=_base(row, one)
                | {"stage": "mid", "ini": row["Kcmini"], "end": row["Kcmend"]}
                | ({"beneath": BENEATH} if f"active {BENEATH}" in row.name else {}),
                verbatim=f"{row['Kcmini']} {row['Kcmmid']} {row['Kcmend']}",
                source=source,
                locator=_locator(row),
                basis="read-in-transcription",
                note=one.note or None,
            )
        )
    wrong = KNOWN_WRONG.get((12, row.name, "hmax"))
    if wrong:
        found.append(refuse(row, wrong, "leave it out"))
    elif height is not None:
        found.append(
            draft(
                row,
                plant,
                "mature-height",
                likely=height,
                kind="single",
                conditions=_base(row, one) | {"as": "managed crop"},
                verbatim=row["hmax"],
                source=source,
                locator=_locator(row),
                basis="read-in-transcription",
                note=one.note or None,
            )
        )
    return found


def _stages(row: Row, one: Decision, plant: PlantId) -> list[Statement]:
    days = [number(row[column]) for column in COLUMNS[11][1:6]]
    ini, dev, mid, late, total = days
    if total is None or ini is None or dev is None or mid is None or late is None:
        return [refuse(row, "prints no total of days", "leave it out; the season is bounded by frost")]
    printed = f"{row['Lini']}+{row['Ldev']}+{row['Lmid']}+{row['Llate']} = {row['Total']}"
    note = one.note or None
    if ini + dev + mid + late != total:
        flag = f"the printed stages add up to {ini + dev + mid + late}, not to the printed total"
        note = f"{note}; {flag}" if note else flag
    base = _base(row, one)
    if "age" in base:  # the days of a cassava of one year are what the traits ask for: no narrow situation
        base["year-of-crop"] = base.pop("age")
    conditions = base | {"planted": row["Plant Date"], "region": row["Region"]}

    def make(trait: str, text: str, days: Decimal) -> Draft:
        return draft(
            row,
            plant,
            trait,
            kind="single",
            conditions=conditions,
            verbatim=text,
            source=SOURCES[11].key,
            locator=_locator(row),
            basis="read-in-transcription",
            note=note,
            likely=days,
        )

    found: list[Statement] = [make("cycle-length", printed, total)]
    if row.name not in PERENNIAL:
        found.append(make("days-to-full-cover", printed, ini + dev))
    if OF_A_CUT.search(row.name):
        found.append(refuse(row, "its days are of one cut of several: no season", "keep the cycle alone"))
    elif row["Region"] in TEMPERATE and total < 365:
        found += [
            _window(row, plant, start, total, conditions, note) for start in _planting(row["Plant Date"])
        ]
    return found


def _planting(printed: str) -> list[date]:
    """Days of planting for the printed months: the middle of one, the turn between two neighbours.

    Months that do not adjoin are separate dates, not the ends of a window.
    """
    months = [MONTHS.index(word[:3]) + 1 for word in printed.split() if word[:3] in MONTHS]
    if len(months) == 2 and months[1] == months[0] + 1:
        return [date(YEAR, months[1], 1)]
    return [date(YEAR, month, 15) for month in months]


def _window(
    row: Row, plant: PlantId, start: date, total: Decimal, conditions: dict[str, str], note: str | None
) -> Draft:
    end = start + timedelta(days=int(total))
    rule = "weeks computed here from the printed planting month and total of days"
    return draft(
        row,
        plant,
        "growth-window",
        low=week_of_date(start.month, start.day),
        high=week_of_date(end.month, end.day),
        kind="single",
        conditions=conditions,
        verbatim=f"{row['Plant Date']}, {row['Total']} days, {row['Region']}",
        source=SOURCES[11].key,
        locator=_locator(row),
        basis="read-in-transcription",
        note=f"{note}; {rule}" if note else rule,
    )


IMPORTER = Fao56Importer()
