"""Rooting, size and season of many sources, compiled for this project and carried here."""

from collections.abc import Iterator, Sequence
from dataclasses import dataclass, field, replace
from functools import cache
from importlib.resources import files
from pathlib import Path

from import_scripts.base import PublishedFile, Row, Statement, draft, refuse, unmatched
from import_scripts.names import Decision, PlantNames, decisions
from import_scripts.published_facts.citations import basis_of, key_of, rows_by_key, source_of
from import_scripts.published_facts.conditions import age_of, beside_age, method_of, parsed
from import_scripts.published_facts.conversion import YOUNG_NOTE, NotARecord, trait_of, value_of
from import_scripts.published_facts.mending import impossible, mended
from import_scripts.published_facts.stocks import VIGOUR, plants_on, vigour_of
from import_scripts.tables import csv_rows, locate
from kb.model import PlantId, Source, SourceKey
from kb.names import fold

PARTS = ("rooting_herbaceous", "rooting_woody", "size_and_season")
COLUMNS = (
    "scientific_name",
    "trait",
    "low",
    "high",
    "value",
    "unit",
    "number_kind",
    "conditions",
    "verbatim",
    "source_key",
    "locator",
    "seen",
    "confidence_note",
)
ELSEWHERE = frozenset({SourceKey("fao56-t22")})
"""Sources that another importer reads whole: their facts would come in twice."""
EXTREMES = "earliest and latest of years"
"""So our table says where a row has three or four years: their ends are no percentiles."""
LEGAL_CLASS = "legal soil-sampling depth"
GROUP_WORDS = (
    "group row",
    "genus mean",
    "genus statement",
    "statement on the genus",
    "genus only",
    "one height for the group",
    "pulses together",
    "cereals together",
    "average of three species",
    "mean over seven crops",
    "not split by species",
    "one printed row for two crops",
)
"""Words of the compilation that one figure or word is said of several plants."""
SIZES = frozenset({"mature-height", "crown-width"})


@cache
def _mapping() -> dict[str, tuple[Decision, ...]]:
    return decisions(__package__)


@dataclass(frozen=True)
class PublishedFactsImporter:
    """The importer ``published-facts``: one record per fact that a trait of ours can hold."""

    key: str = "published-facts"
    title: str = "rooting, size and season from 180 papers, handbooks and tables (our compilation)"
    files: tuple[PublishedFile, ...] = tuple(PublishedFile(f"{part}/facts.csv") for part in PARTS)
    _sources: dict[SourceKey, Row] = field(default_factory=dict, repr=False)

    @property
    def carried(self) -> Path:
        return Path(str(files(__package__))) / "data"

    def sources(self, folder: Path) -> tuple[Source, ...]:
        cited = {
            key_of(row["source_key"])
            for part in PARTS
            for row in csv_rows(locate(folder / part, "facts.csv"), COLUMNS, name="scientific_name")
        }
        listed = {key: row for part in PARTS for key, row in rows_by_key(folder / part).items()}
        return tuple(source_of(key, listed[key]) for key in sorted(cited - ELSEWHERE) if key in listed)

    def rows(self, folder: Path) -> Iterator[Row]:
        self._sources.clear()
        for part in PARTS:
            self._sources.update(rows_by_key(folder / part))
        for part in PARTS:
            for row in csv_rows(locate(folder / part, "facts.csv"), COLUMNS, name="scientific_name"):
                yield mended(replace(row, file=f"{part}/facts.csv"))

    def convert(self, row: Row, names: PlantNames) -> Sequence[Statement]:
        conditions = parsed(row["conditions"])
        printed = conditions.pop("name", row["scientific_name"])
        plant = _plant(row, printed, names)
        if plant is None:
            return [unmatched(row)]
        wrong = impossible(row)
        if wrong is not None:
            return [refuse(row, wrong, "nothing to mend", name=printed)]
        if key_of(row["source_key"]) in ELSEWHERE:
            return [
                refuse(row, "this table is read whole by the importer fao56", "nothing to mend", name=printed)
            ]
        if "cultivar" in conditions and row["trait"] in SIZES:
            return [
                refuse(
                    row, "is about a cultivar, not the species", "add the cultivar to the taxa", name=printed
                )
            ]
        on_stock = plants_on(row["scientific_name"], conditions.get("stock"))
        if row["trait"] == VIGOUR and not on_stock:
            return [
                refuse(row, "is about a stock that has no plant here", "add it to the taxa", name=printed)
            ]
        meant = on_stock if row["trait"] == VIGOUR else (plant, *on_stock)
        return [self._record(row, one, printed, dict(conditions)) for one in meant]

    def _record(self, row: Row, plant: PlantId, printed: str, conditions: dict[str, str]) -> Statement:
        try:
            trait = trait_of(row)
            value = vigour_of(row) if trait == VIGOUR else value_of(row, trait)
        except NotARecord as fault:
            return refuse(row, str(fault), "nothing to mend unless the vocabulary grows", name=printed)
        remarks = row["conditions"]
        method, age = method_of(remarks), age_of(remarks)
        if method and trait in {"rooting-depth", "effective-rooting-depth", "root-depth-50", "root-spread"}:
            conditions["method"] = method
        if age:
            conditions["age"] = age
            if "detail" in conditions:
                conditions["detail"] = beside_age(conditions["detail"], age)
        if row["confidence_note"].startswith(LEGAL_CLASS):
            conditions["kind"] = "legal-class"
        if any(words in remarks + row["confidence_note"] for words in GROUP_WORDS):
            conditions["scope"] = "group"
        if row["unit"] == "day of year" and row["low"] and row["high"]:
            few = EXTREMES in remarks
            conditions["days"] = f"{row['low']}-{row['high']}" + (
                ", earliest and latest" if few else " in 10-90 % of years"
            )
        if trait == "cycle-length":
            conditions["from"] = "planting to harvest"
        told = row["confidence_note"].split("; ")
        if value.note == YOUNG_NOTE:
            told = [text for text in told if text != "young plants"]
        note = "; ".join(text for text in (value.note, *told) if text)
        return draft(
            row,
            plant,
            trait,
            low=value.low,
            likely=value.likely,
            high=value.high,
            concepts=value.concepts,
            kind=value.kind,
            conditions=conditions,
            verbatim=row["verbatim"],
            name=printed,
            source=key_of(row["source_key"]),
            locator=row["locator"],
            basis=basis_of(row, self._sources),
            note=note or None,
        )


def _plant(row: Row, printed: str, names: PlantNames) -> PlantId | None:
    """The crop decided for this printed name, else the plant of the species name in the fact."""
    decided = _mapping().get(fold(f"{row['scientific_name']} | {printed}"))
    return decided[0].plant if decided else names.match(row["scientific_name"])


IMPORTER = PublishedFactsImporter()
