"""A plant list of a user's own: which of its names are known here. Nothing is stored, nothing guessed.

A name counts only where it equals an id, an accepted name (with or without its author), a listed synonym
or a common name. The column of the names is the one whose heading says so, else the only one that holds
known names; what is read from which column is part of the answer.
"""

import csv
import re
from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from typing import Literal

from kb.errors import BadFile, BadParameter, ParameterFault
from kb.exchange.authored import authored_names
from kb.exchange.cells import shortened
from kb.exchange.table_reading import DELIMITERS, LONGEST_CELL, Line, decoded, lines_of
from kb.mixture.counting import listed, so_many
from kb.model import PlantId
from kb.names import fold
from kb.snapshot import Snapshot

Outcome = Literal["matched", "ambiguous", "unknown"]
BOTANICAL = frozenset(
    {
        "accepted name",
        "botanical",
        "botanical name",
        "latin",
        "latin name",
        "scientific name",
        "scientificname",
        "species",
        "taxon",
    }
)
COMMON = frozenset(
    {"common", "common name", "commonname", "english", "english name", "vernacular name", "vernacularname"}
)
EITHER = frozenset({"plant", "plants", "name", "plant name", "crop", "crops", "plant id"})
EPITHETS = frozenset({"species", "epithet", "specific epithet", "specificepithet"})
LONGEST_NAME = 200
MOST_ROWS = 50_000
"""Rows of one list; a list of so many different unknown names takes some two seconds to read."""
MOST_HELPED = 100
"""Unknown names of one list that are shown with the nearest ones (some 15 ms each)."""
SAMPLE = 20_000
"""Characters that the delimiter is judged by."""
MOST_TWICE = 5
"""Plants, and rows of one plant, that are told where a list names a plant again."""
NUMBER = re.compile(r"[+-]?\d+([.,]\d+)*")
"""A count or a measure as lists write it, with a point or a comma."""


@dataclass(frozen=True, slots=True)
class Row:
    """One row: what stood there, what it means here, and why it does not where it does not.

    ``choices`` are the plants that an ambiguous name can mean; ``nearest`` are names spelt like an unknown
    one, for a person to look at.
    """

    line: int
    written: str
    outcome: Outcome
    plant: PlantId | None = None
    choices: tuple[PlantId, ...] = ()
    nearest: tuple[str, ...] = ()
    why: str | None = None


@dataclass(frozen=True, slots=True)
class PlantList:
    """A list as it was read: its rows, the columns that hold names, and what a person should know."""

    rows: tuple[Row, ...]
    columns: tuple[str, ...]
    encoding: str
    delimiter: str | None
    notes: tuple[str, ...]

    def of(self, outcome: Outcome) -> tuple[Row, ...]:
        return tuple(row for row in self.rows if row.outcome == outcome)


@dataclass(frozen=True, slots=True)
class _Columns:
    """Which columns hold names: botanical first, and the second half of a split one."""

    names: tuple[int, ...]
    epithet: int | None
    labels: tuple[str, ...]
    headed: bool


class _Names:
    """What a name means here; each is looked up once."""

    def __init__(self, snapshot: Snapshot) -> None:
        self._index = snapshot.names
        self._authored = authored_names(snapshot.plants.values())
        self._near: dict[str, tuple[str, ...]] = {}
        self._unhelped = 0
        self._found: dict[str, tuple[PlantId, ...]] = {}

    def of(self, name: str) -> tuple[PlantId, ...]:
        """The plants that a name can mean; none where it is unknown."""
        if name not in self._found:
            self._found[name] = self._look_up(name)
        return self._found[name]

    def _look_up(self, name: str) -> tuple[PlantId, ...]:
        if not fold(name) or len(name) > LONGEST_NAME:
            return ()
        return self._index.named(name) or tuple(sorted(self._authored.get(fold(name), frozenset())))

    def nearest(self, name: str) -> tuple[str, ...]:
        """Names spelt alike, for the first ``MOST_HELPED`` that are asked for: the search is slow."""
        if name not in self._near and len(self._near) < MOST_HELPED:
            self._near[name] = self._index.nearest(name[:LONGEST_NAME])
        self._unhelped += name not in self._near
        return self._near.get(name, ())

    @property
    def unhelped(self) -> int:
        """How many rows of unknown names are shown without the nearest ones."""
        return self._unhelped


def read_list(
    raw: bytes,
    file: str,
    snapshot: Snapshot,
    *,
    column: str | None = None,
    encoding: str | None = None,
    most: int = MOST_ROWS,
) -> PlantList:
    """Match a list. ``column`` names the column of the names, by heading or number from 1.

    Raises BadFile where it is no text or has more than ``most`` rows, BadParameter where nobody can tell
    which column holds the names.
    """
    read = decoded(raw, file, encoding, lenient=True)
    delimiter = delimiter_of(read.text)
    lines = _lines(read.text, file, delimiter)
    if not lines:
        raise BadFile(file, None, "holds no names; write one plant a line.")
    if len(lines) > most:
        way = "use 'traitbed match' for longer lists" if most < MOST_ROWS else "split it into shorter lists"
        raise BadFile(file, None, f"has {len(lines)} rows, {most} are the most here; {way}.")
    names = _Names(snapshot)
    columns = _columns(lines, names, column)
    body = lines[1:] if columns.headed else lines
    rows = tuple(row for line in body if (row := _row(line, columns, names)) is not None)
    notes = []
    if read.likely:
        notes.append(
            f"Read as {read.encoding}, for it is not UTF-8; if letters look wrong, save it as UTF-8."
        )
    empty = len(body) - len(rows)
    if empty:
        notes.append(
            f"{so_many(empty, 'row')} {'holds' if empty == 1 else 'hold'} nothing where the names stand."
        )
    notes += _named_twice(rows, snapshot)
    if names.unhelped:
        notes.append(f"Nearest names are shown for the first {MOST_HELPED} unknown names only.")
    return PlantList(rows, columns.labels, read.encoding, delimiter, tuple(notes))


def _named_twice(rows: Sequence[Row], snapshot: Snapshot) -> list[str]:
    """Plants that several rows mean, the first few by their rows; nobody says whether that is a mistake."""
    places: dict[PlantId, list[str]] = {}
    for row in rows:
        if row.plant is not None:
            places.setdefault(row.plant, []).append(str(row.line))
    found = [
        f"rows {listed(lines)} ({snapshot.plants[plant].scientific_name})"
        for plant, lines in places.items()
        if 1 < len(lines) <= MOST_TWICE
    ]
    if not found:
        return []
    more = f"; {len(found) - MOST_TWICE} more" if len(found) > MOST_TWICE else ""
    return [f"One plant stands in several rows: {'; '.join(found[:MOST_TWICE])}{more}."]


def delimiter_of(text: str) -> str | None:
    """What stands between the cells, by the standard library's sniffer; None for one name a line."""
    try:
        found = csv.Sniffer().sniff(text[:SAMPLE], DELIMITERS).delimiter
    except csv.Error:
        return None
    filled = [line for line in text[:SAMPLE].splitlines() if line.strip()]
    return found if sum(found in line for line in filled) > len(filled) / 2 else None


def _lines(text: str, file: str, delimiter: str | None) -> list[Line]:
    if delimiter is None:
        return [
            Line(number, (line.strip(),))
            for number, line in enumerate(text.splitlines(), start=1)
            if line.strip()
        ]
    return list(lines_of(text, file, delimiter))


def _columns(lines: Sequence[Line], names: _Names, column: str | None) -> _Columns:
    heads = [fold(cell) for cell in lines[0].cells]
    if column is not None:
        return _named(lines, names, column, heads)
    if "genus" in heads and EPITHETS & set(heads):
        epithet = next(place for place, head in enumerate(heads) if head in EPITHETS)
        others = tuple(place for place, head in enumerate(heads) if head in COMMON)
        return _headed(lines[0], (heads.index("genus"), *others), epithet)
    found = [place for place, head in enumerate(heads) if head in BOTANICAL]
    found += [place for place, head in enumerate(heads) if head in COMMON | EITHER]
    if found:
        return _headed(lines[0], tuple(found), None)
    return _guessless(lines, names)


def _headed(header: Line, places: tuple[int, ...], epithet: int | None) -> _Columns:
    shown = places if epithet is None else (*places[:1], epithet, *places[1:])
    return _Columns(places, epithet, tuple(header.cells[place].strip() for place in shown), headed=True)


def _named(lines: Sequence[Line], names: _Names, column: str, heads: list[str]) -> _Columns:
    """The column that the user names."""
    width = max(len(line.cells) for line in lines)
    if column.isascii() and column.isdigit():
        place = int(column) - 1
        if not 0 <= place < width:
            raise _bad_column(f"the list has {width} columns; number them from 1.")
        headed = place < len(heads) and (
            heads[place] in BOTANICAL | COMMON | EITHER
            or (not names.of(lines[0].cells[place].strip()) and _over_numbers(lines))
        )
        return _Columns((place,), None, (f"column {column}",), headed=headed)
    if fold(column) not in heads:
        shown = ", ".join(cell.strip() for cell in lines[0].cells)
        raise _bad_column(
            f"no heading is '{shortened(column)}'; the first row reads: {shortened(shown, 200)}."
        )
    return _headed(lines[0], (heads.index(fold(column)),), None)


def _guessless(lines: Sequence[Line], names: _Names) -> _Columns:
    """The only column that holds names known here; its first row is a name like the others, or a heading."""
    width = max(len(line.cells) for line in lines)
    if width == 1:
        return _Columns((0,), None, ("column 1",), headed=False)
    holding = [
        place
        for place in range(width)
        if any(names.of(line.cells[place].strip()) for line in lines if place < len(line.cells))
    ]
    if len(holding) == 1:
        place = holding[0]
        first = lines[0].cells[place].strip() if place < len(lines[0].cells) else ""
        if not names.of(first) and _over_numbers(lines):
            return _headed(lines[0], (place,), None)
        return _Columns((place,), None, (f"column {place + 1}",), headed=False)
    which = ", ".join(str(place + 1) for place in holding)
    raise _bad_column(
        f"columns {which} hold names of plants, and no heading says which is meant; name it by its number."
        if holding
        else "no column holds a name known here, and no heading says where names stand; name it by number."
    )


def _over_numbers(lines: Sequence[Line]) -> bool:
    """Whether the first row is one of headings: in some column it has words over nothing but numbers."""
    for place, head in enumerate(lines[0].cells):
        below = [line.cells[place].strip() for line in lines[1:] if place < len(line.cells)]
        filled = [cell for cell in below if cell]
        worded = head.strip() and not NUMBER.fullmatch(head.strip())
        if worded and filled and all(NUMBER.fullmatch(cell) for cell in filled):
            return True
    return False


def _bad_column(detail: str) -> BadParameter:
    return BadParameter((ParameterFault("column", detail),))


def _row(line: Line, columns: _Columns, names: _Names) -> Row | None:
    """One row matched; None where it holds no name."""
    cells = [line.cells[place].strip() if place < len(line.cells) else "" for place in columns.names]
    if columns.epithet is not None:
        second = line.cells[columns.epithet].strip() if columns.epithet < len(line.cells) else ""
        cells[0] = f"{cells[0]} {second}".strip()
    given = [cell for cell in cells if cell]
    if not given:
        return None
    written = shortened(" / ".join(given), LONGEST_CELL if len(given) == 1 else LONGEST_NAME)[:LONGEST_NAME]
    meant = {cell: names.of(cell) for cell in given}
    known = [set(plants) for plants in meant.values() if plants]
    if not known:
        return Row(line.number, written, "unknown", nearest=names.nearest(given[0]), why=_why(given[0]))
    common = set.intersection(*known)
    if not meant[given[0]]:
        why = f"'{shortened(given[0])}' is not known here; the other name means these."
        return Row(line.number, written, "ambiguous", choices=tuple(sorted(set.union(*known))), why=why)
    if len(common) == 1:
        return Row(line.number, written, "matched", next(iter(common)))
    why = "The names of this row mean different plants." if not common else "The name means several plants."
    choices = tuple(sorted(common or set.union(*known)))
    return Row(line.number, written, "ambiguous", choices=choices, why=why)


def _why(name: str) -> str:
    if len(name) > LONGEST_NAME:
        return f"has {len(name):,} characters; no name is that long."
    return "No plant goes by that name here."


def counts(read: PlantList) -> Mapping[Outcome, int]:
    """How many rows came out how."""
    outcomes: tuple[Outcome, ...] = ("matched", "ambiguous", "unknown")
    return {outcome: len(read.of(outcome)) for outcome in outcomes}
