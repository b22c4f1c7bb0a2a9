"""Cautions from poison centres, food-safety agencies, toxic-plant lists and laws (our compilation)."""

import re
from collections.abc import Iterator, Sequence
from dataclasses import dataclass, field, replace
from importlib.resources import files
from pathlib import Path
from typing import get_args

from import_scripts.base import CautionDraft, PublishedFile, Row, Statement, refuse, unmatched
from import_scripts.names import PlantNames
from import_scripts.published_facts.citations import NO_YEAR, basis_of, key_of, rows_by_key, source_of
from import_scripts.published_facts.importer import COLUMNS
from import_scripts.tables import csv_rows, locate
from kb.model import CautionKind, Source, SourceKey

KINDS: dict[str, CautionKind] = {f"caution-{kind}": kind for kind in get_args(CautionKind)}
OPENINGS: dict[CautionKind, str] = {
    "toxic": "Poisonous or harmful",
    "food-use": "As food",
    "lookalike": "Has been taken for, or is taken for",
    "skin": "Harms skin",
    "allergen": "Allergen",
    "thorn": "Can wound",
    "livestock": "Harms animals",
    "invasive": "Listed as invasive",
    "prohibited": "Restricted by law",
}
GRADES = {
    "3 of 3 stars": "highest of three grades",
    "2 of 3 stars": "second of three grades",
    "1 of 3 stars": "lowest of three grades",
}
NUMBERS = {"minimum": "from {low}", "maximum": "up to {high}", "range": "{low} to {high}"}
KEYS = ("part", "agent", "group", "place", "date", "legal", "name")


GROUPS: dict[str, tuple[str | None, str | None]] = {
    "deadly": (None, "The look-alike is deadly"),
    "poisonous": (None, "The look-alike is poisonous"),
    "severe": (None, "The look-alike poisons severely"),
    "sunlight": ("people whose skin gets sunlight after contact", None),
    "EU 14 allergens": ("people with this allergy", "On the European list of 14 food allergens"),
    "liver": (None, "Harms the liver"),
    "PA": (None, None),
    "bulb plants": (None, None),
}
"""What the compilation wrote under ``group`` that is no group of people or animals, and what it says:
(who is affected, a sentence of its own)."""
NOT_SAID = {"not stated", "not stated here"}
CALMING = re.compile(
    r"\b(?:not of concern|no concern|needs? no treatment|(?:low|little|no) risk|non-?toxic"
    r"|not (?:particularly |very )?(?:toxic|poisonous|dangerous)|harmless|safe to eat"
    r"|no case reports?|no (?:severe|serious|fatal)[a-z ]* cases?|removed from [a-z ]*ban)\b",
    re.IGNORECASE,
)
"""Words that reassure. A caution warns: the clause that holds one (up to the next comma, semicolon or
bracket) is left out of its text, its part and its note, and a statement that is nothing else is refused.
The printed words stay in ``verbatim``. A clause that only bounds the harmful part ("all parts except
...") stays: without it the caution would say more than its source."""
BUT_ONLY = re.compile(r"\bonly (?=in large)", re.IGNORECASE)
"""A "toxic only in large quantities" warns with its other words: the "only" is left out."""
CLAUSES = re.compile(r"[^;,()]+|\([^()]*\)|[;,]")


@dataclass(frozen=True)
class CautionsImporter:
    """The importer ``cautions``: one caution per row; nothing is averaged or left out."""

    key: str = "cautions"
    title: str = "poison, look-alikes, allergens, livestock, invasive and prohibited plants (our compilation)"
    files: tuple[PublishedFile, ...] = (PublishedFile("cautions.csv"), PublishedFile("sources.csv"))
    _sources: dict[SourceKey, Row] = field(default_factory=dict, repr=False)

    @property
    def carried(self) -> Path:
        return Path(str(files(__package__))) / "data" / "cautions"

    def sources(self, folder: Path) -> tuple[Source, ...]:
        rows = csv_rows(locate(folder, "cautions.csv"), COLUMNS, name="scientific_name")
        cited = {key_of(row["source_key"]) for row in rows}
        listed = rows_by_key(folder)
        return tuple(source_of(key, listed[key]) for key in sorted(cited) if key in listed)

    def rows(self, folder: Path) -> Iterator[Row]:
        self._sources.clear()
        self._sources.update(rows_by_key(folder))
        yield from csv_rows(locate(folder, "cautions.csv"), COLUMNS, name="scientific_name")

    def convert(self, row: Row, names: PlantNames) -> Sequence[Statement]:
        plant = names.match(row["scientific_name"])
        if plant is None:
            return [unmatched(row)]
        kind = KINDS.get(row["trait"])
        if kind is None:
            return [
                refuse(row, f"'{row['trait']}' is no kind of caution", "use one of the kinds in the model")
            ]
        row = _warning_only(row)
        if not row["value"]:
            return [
                refuse(row, "reassures and warns of nothing", "nothing to mend: only warnings are cautions")
            ]
        found = _sorted_out(_conditions(row["conditions"]))
        basis = basis_of(row, self._sources)
        year = self._sources[key_of(row["source_key"])]["year"]
        return [
            CautionDraft(
                plant=plant,
                kind=kind,
                text=_text(row, kind, found),
                part=found.get("part"),
                agent=found.get("agent"),
                group=found.get("group"),
                place=found.get("place"),
                as_of=found.get("date") or (year if year not in NO_YEAR else _undated(kind)),
                lookalike=row["value"] if kind == "lookalike" else None,
                verbatim=row["verbatim"],
                name_as_printed=found.get("name", row["scientific_name"]),
                source=key_of(row["source_key"]),
                locator=row["locator"],
                basis=basis,
            )
        ]


def _warning_only(row: Row) -> Row:
    """The row without what reassures (see ``CALMING``); a cell with none of it stays as it is."""
    conditions = ";".join(
        f"part={_without_calm(part.strip()[5:])}" if part.strip().startswith("part=") else part
        for part in row["conditions"].split(";")
    )
    told = {name: _without_calm(row[name]) for name in ("value", "confidence_note")}
    return replace(row, values={**row.values, **told, "conditions": conditions})


def _without_calm(text: str) -> str:
    text = BUT_ONLY.sub("", text)
    if not CALMING.search(text):
        return text
    pieces = CLAUSES.findall(text)
    kept = "".join("" if CALMING.search(piece) else piece for piece in pieces)
    return re.sub(r"\s*([;,])(?:\s*[;,])*", r"\1", kept).strip(" ;,")


def _undated(kind: CautionKind) -> str | None:
    """Law holds for its date: where the source prints none, that is said."""
    return "date not printed" if kind in {"prohibited", "invasive"} else None


def _conditions(cell: str) -> dict[str, str]:
    found: dict[str, str] = {}
    for part in cell.split(";"):
        head, equals, value = part.strip().partition("=")
        if equals and head in KEYS and value:
            found[head] = f"{found[head]}; {value}" if head in found else value
        elif part.strip():
            found["remark"] = f"{found['remark']}; {part.strip()}" if "remark" in found else part.strip()
    return found


def _sorted_out(found: dict[str, str]) -> dict[str, str]:
    """The conditions with gaps left out, and with groups that are none said as a sentence."""
    found = {key: value for key, value in found.items() if value.lower() not in NOT_SAID}
    group = found.pop("group", None)
    affected, said = GROUPS.get(group, (group, None)) if group else (None, None)
    if affected:
        found["group"] = affected
    if said:
        found["remark"] = f"{found['remark']}. {said}" if "remark" in found else said
    return found


def _text(row: Row, kind: CautionKind, found: dict[str, str]) -> str:
    """The caution in one or two plain sentences, from the cells of the row only."""
    said = row["value"]
    for printed, words in GRADES.items():
        said = said.replace(printed, words)
    amount = _amount(row)
    sentence = f"{OPENINGS[kind]}: {said}{f', {amount}' if amount else ''}."
    law = f" Legal text: {found['legal']}." if "legal" in found else ""
    remark = f" {found['remark'][0].upper()}{found['remark'][1:]}." if "remark" in found else ""
    note = f" Note of the compiler: {row['confidence_note']}." if row["confidence_note"] else ""
    return f"{sentence}{remark}{law}{note}"


def _amount(row: Row) -> str:
    low, high, unit = row["low"], row["high"], row["unit"]
    if not low and not high:
        return ""
    pattern = NUMBERS.get(row["number_kind"], "{low}" if not high or low == high else "{low} to {high}")
    if "{low}" in pattern and not low:
        pattern = "{high}"
    if "{high}" in pattern and not high:
        pattern = "{low}"
    return f"{pattern.format(low=low, high=high)} {unit}".strip()


IMPORTER = CautionsImporter()
