"""Which plant a row is about: its id, its accepted name, a listed synonym, or what a person decided.

Likeness of spelling decides nothing; it only fills the column ``nearest`` of the file of undecided names.
"""

import csv
import io
from collections.abc import Iterable, Mapping
from dataclasses import dataclass, field
from pathlib import Path
from typing import Any

from import_scripts.names import PlantNames
from import_scripts.tables import read_bytes
from kb.errors import BadFile, BadParameter, ParameterFault
from kb.exchange.authored import authored_names
from kb.exchange.cells import joined, shortened
from kb.exchange.table_reading import decoded, delimiter_of, lines_of
from kb.model import Plant, PlantId
from kb.names import NameIndex, fold

COLUMNS = ("kind", "label", "means", "rows", "nearest")
LEFT_OUT = "-"
"""What a person writes under ``means`` for a name that is to be left out."""

DECIDE = "write what it means into the file that --unmatched FILE makes"
NAME_MEND = f"mend the name, or {DECIDE}"
COMMON_MEND = f"write the plant's id or scientific name, or {DECIDE}"


@dataclass(slots=True)
class Undecided:
    """A taxon name, or the name of a measurement, that matches nothing here; how many rows use it."""

    kind: str
    label: str
    rows: int = 0
    nearest: tuple[str, ...] = ()

    def as_dict(self) -> dict[str, Any]:
        return {"kind": self.kind, "label": self.label, "rows": self.rows, "nearest": list(self.nearest)}


@dataclass(frozen=True)
class Decided:
    """What people wrote into the file of undecided names: (kind, folded label) -> id, or ``-``."""

    means: Mapping[tuple[str, str], str] = field(default_factory=dict)

    def of(self, kind: str, label: str) -> str | None:
        return self.means.get((kind, fold(label)))


def read_decided(path: Path) -> Decided:
    """The decisions in a file; an empty ``means`` decides nothing. Raises BadFile, SourceFault."""
    text = decoded(read_bytes(path), path.name).text
    rows = iter(lines_of(text, path.name, delimiter_of(text.split("\n", 1)[0].rstrip("\r"), "means")))
    header = next(rows, None)
    columns = [cell.strip() for cell in header.cells] if header else []
    missing = [name for name in COLUMNS[:3] if name not in columns]
    if missing:
        raise BadFile(
            path.name, 1, f"lacks the column {', '.join(missing)}; take the file that --unmatched wrote."
        )
    means: dict[tuple[str, str], str] = {}
    for row in rows:
        cells = dict(zip(columns, row.cells, strict=False))
        kind, label, meant = (cells.get(name, "").strip() for name in COLUMNS[:3])
        if kind not in {"taxon", "measurement"}:
            raise BadFile(
                path.name, row.number, f"kind '{shortened(kind)}' is neither taxon nor measurement."
            )
        if meant and means.setdefault((kind, fold(label)), meant) != meant:
            raise BadFile(path.name, row.number, f"decides '{label}' twice, differently; keep one.")
    return Decided(means)


def undecided_csv(undecided: Iterable[Undecided]) -> str:
    """The file to be filled in: write an id under ``means``, or ``-`` to leave the name out."""
    text = io.StringIO(newline="")
    writer = csv.writer(text)
    writer.writerow(COLUMNS)
    for one in undecided:
        writer.writerow((one.kind, one.label, "", one.rows, joined(one.nearest)))
    return text.getvalue()


class Matcher:
    """Finds the plant of each row, and remembers what it could not find."""

    def __init__(self, plants: Iterable[Plant], index: NameIndex, decided: Decided) -> None:
        plants = tuple(plants)
        self.names = PlantNames.of(plants)
        self._authored = authored_names(plants)
        for (kind, label), meant in decided.means.items():
            if kind == "taxon" and meant != LEFT_OUT and PlantId(meant) not in self.names.ids:
                detail = f"'{label}' is decided to mean '{shortened(meant)}', which is no plant id here."
                raise BadParameter((ParameterFault("decisions", detail),))
        self.index = index
        self.decided = decided
        self.undecided: dict[tuple[str, str], Undecided] = {}

    def plant(self, label: str) -> PlantId | str | None:
        """The plant that a label means; ``-`` where a person left it out; None where nobody knows."""
        label = label.strip()
        if PlantId(label) in self.names.ids:
            return PlantId(label)
        meant = self.decided.of("taxon", label)
        if meant is not None:
            return meant
        found = self._named(label) if fold(label) else None
        if found is None:
            self.miss("taxon", label, self._offered(label))
        return found

    def why_none(self, label: str) -> tuple[str, str]:
        """Why a label that ``plant`` could not place means no plant, and what to do about it.

        A common or ambiguous name is told apart from an unknown one: who goes by it is said, none is chosen.
        """
        known = self.index.meanings(label)
        if known:
            *others, last = (str(one) for one in known)
            meant = f"{', '.join(others)} or {last}" if others else last
            return (
                f"'{shortened(label)}' is no scientific name of one plant here; it can mean {meant}",
                COMMON_MEND,
            )
        nearest = self.index.nearest(label)
        near = f" (nearest names: {', '.join(nearest)})" if nearest else ""
        return f"no plant goes by the name '{shortened(label)}' here{near}", NAME_MEND

    def _offered(self, label: str) -> tuple[str, ...]:
        """Botanical names for the file of undecided names: of those who go by the label, else near ones."""
        return tuple(one.accepted for one in self.index.meanings(label)) or self.index.nearest(label)

    def _named(self, label: str) -> PlantId | None:
        """The one plant of that accepted name or synonym, with its author or without."""
        authored = self._authored.get(fold(label), frozenset())
        return self.names.match(label) or (next(iter(authored)) if len(authored) == 1 else None)

    def miss(self, kind: str, label: str, nearest: tuple[str, ...] = ()) -> None:
        """Note that a name means nothing here."""
        one = self.undecided.setdefault((kind, label), Undecided(kind, label, nearest=nearest))
        one.rows += 1
