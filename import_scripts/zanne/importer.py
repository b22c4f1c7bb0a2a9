"""Leaf habit, woodiness and exposure to freezing by species."""

from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass
from functools import cache
from pathlib import Path

from import_scripts.base import PublishedFile, Row, Statement, draft, refuse, unmatched
from import_scripts.decided import of_decision
from import_scripts.names import Decision, PlantNames, decisions
from import_scripts.tables import csv_rows, locate
from kb.model import PlantId, Source, SourceKey
from kb.names import fold

ZANNE = Source(
    key=SourceKey("zanne2014"),
    citation="Zanne, A.E., Tank, D.C., Cornwell, W.K., et al. (2014) Three keys to the radiation of "
    "angiosperms into "
    "freezing environments. Nature 506:89-92; data, Dryad",
    identifier="https://doi.org/10.5061/dryad.63q27",
    year="2014",
    licence="CC0 1.0 as stated by others, not seen",
    licence_iri=None,
    tier="B",
    how_read="leaf habit: whole data file; woodiness and exposure to freezing: rows of target species "
    "(ejedwards/reanalysis_zanne2014, commit a47247f7)",
    credit="Zanne et al. (2014)",
)
LEAF_FILE = PublishedFile(
    "GlobalLeafPhenologyDatabase.csv",
    "https://raw.githubusercontent.com/ejedwards/reanalysis_zanne2014/"
    "a47247f7bab8191b91e62e52ba86428a8a941e28/dryad/GlobalLeafPhenologyDatabase.csv",
    "de0c3dc1dc2d43dec133dcc4063499feb55bbe726d20b5d0688f79387dd6bc06",
)
WOOD_FILE = PublishedFile(
    "GlobalWoodinessDatabase.csv",
    "https://raw.githubusercontent.com/ejedwards/reanalysis_zanne2014/"
    "a47247f7bab8191b91e62e52ba86428a8a941e28/dryad/GlobalWoodinessDatabase.csv",
)
FROST_FILE = PublishedFile(
    "MinimumFreezingExposure.csv",
    "https://raw.githubusercontent.com/ejedwards/reanalysis_zanne2014/"
    "a47247f7bab8191b91e62e52ba86428a8a941e28/dryad/MinimumFreezingExposure.csv",
)
WOOD_EXTRACT = "Woodiness_target_rows.csv"
FROST_EXTRACT = "MinimumFreezingExposure_target_rows.csv"
LEAF = {"EV": ("evergreen",), "D": ("deciduous",), "D_EV": ("deciduous", "evergreen")}
WOOD = {"W": ("woody",), "H": ("not-woody",)}
FROST = {"FreezingExposed": ("exposed",), "FreezingUnexposed": ("not-exposed",)}


@dataclass(frozen=True, slots=True)
class Table:
    """One of the three tables: the column read, the trait it tells of, what its values mean."""

    file: PublishedFile
    column: str
    trait: str
    values: Mapping[str, tuple[str, ...]]
    note: str | None = None


TABLES = (
    Table(LEAF_FILE, "Phenology", "leaf-retention", LEAF),
    Table(WOOD_FILE, "woodiness", "woodiness", WOOD),
    Table(
        FROST_FILE,
        "Freeze.tmin.lo",
        "freezing-exposure",
        FROST,
        "a class of the climate of its range, not of what the plant bears",
    ),
)
KNOWN_WRONG = {
    ("Tamus communis", "Phenology"): "is called evergreen; black bryony dies down to its tuber every autumn",
}


@cache
def _mapping() -> dict[str, tuple[Decision, ...]]:
    return decisions(__package__)


@dataclass(frozen=True)
class ZanneImporter:
    """The importer ``zanne``; the leaf file ends its lines with carriage returns."""

    key: str = "zanne"
    title: str = "evergreen or deciduous, woody or not, lives where it freezes or not (Zanne 2014)"
    files: tuple[PublishedFile, ...] = (LEAF_FILE, WOOD_FILE, FROST_FILE)
    carried: Path | None = None

    def sources(self, folder: Path) -> tuple[Source, ...]:  # noqa: ARG002
        return (ZANNE,)

    def rows(self, folder: Path) -> Iterator[Row]:
        yield from csv_rows(locate(folder, LEAF_FILE.name), ("Binomial", "Phenology"), name="Binomial")
        name = WOOD_EXTRACT if (folder / WOOD_EXTRACT).is_file() else WOOD_FILE.name
        yield from csv_rows(locate(folder, name), ("gs", "woodiness"), name="gs")
        name = FROST_EXTRACT if (folder / FROST_EXTRACT).is_file() else FROST_FILE.name
        yield from csv_rows(locate(folder, name), ("species", "Freeze.tmin.lo"), name="species")

    def convert(self, row: Row, names: PlantNames) -> Sequence[Statement]:
        plant = names.match(row.name)
        if plant is None:
            decided = _mapping().get(fold(row.name))
            if not decided or decided[0].plant is None:
                return [unmatched(row)]
            return [of_decision(decided[0], one) for one in _said(row, decided[0].plant)]
        return _said(row, plant)


def _said(row: Row, plant: PlantId) -> list[Statement]:
    table = next(one for one in TABLES if one.column in row.values)
    wrong = KNOWN_WRONG.get((row.name, table.column))
    if wrong:
        return [refuse(row, wrong, "leave it out")]
    concepts = table.values.get(row[table.column])
    if concepts is None:
        return [refuse(row, f"{table.column} is '{row[table.column]}'", "both occur: nothing to mend")]
    return [
        draft(
            row,
            plant,
            table.trait,
            concepts=concepts,
            kind="membership",
            verbatim=row[table.column],
            source=ZANNE.key,
            locator=f"{table.file.name}, {row.name}, {table.column}",
            note=table.note,
        )
    ]


IMPORTER = ZanneImporter()
