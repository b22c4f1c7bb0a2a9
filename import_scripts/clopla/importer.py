"""Life cycle, woodiness, organ of clonal growth and lateral spread of Central European plants."""

from collections.abc import Iterator, Sequence
from dataclasses import dataclass, replace
from decimal import Decimal
from functools import cache
from pathlib import Path

from import_scripts.base import PublishedFile, Row, Statement, draft, refuse, unmatched
from import_scripts.decided import of_decision
from import_scripts.names import Decision, PlantNames, binomial, decisions
from import_scripts.quantities import number
from import_scripts.tables import csv_rows, locate
from kb.model import PlantId, Source, SourceKey
from kb.names import fold

CLOPLA = Source(
    key=SourceKey("clopla"),
    citation="Klimešová, J., Danihelka, J., Chrtek, J., de Bello, F., Herben, T. (2017) CLO-PLA: a "
    "database of "
    "clonal and bud-bank traits of the Central European flora. Ecology 98:1179",
    identifier="https://doi.org/10.1002/ecy.1745",
    year="2017",
    licence="no copyright restrictions, freely available for scientific use, to be cited",
    licence_iri=None,
    tier="B",
    how_read="whole data file (CLO-PLA-traits.txt of FELLOW-flora/fellow-traits, commit b207f99f)",
    credit="Klimešová et al. (2017), CLO-PLA",
)
FILE = PublishedFile(
    "CLO-PLA-traits.txt",
    "https://raw.githubusercontent.com/FELLOW-flora/fellow-traits/"
    "b207f99f52248afae83a90a6671afd48d7cd08b6/data/raw-data/traits/CLO-PLA/CLO-PLA-traits.txt",
    "38cba47cb9e813d8394f0595d61d462a8649028c75d97cc4c8c08ddd72f832b1",
)
COLUMNS = (
    "Species_name",
    "woody",
    "annual",
    "perennialnonclonal",
    "polycarpic",
    "clonal",
    "Primaryroot",
    "finalCGO",
    "spread",
    "Rsprouter",
)
ORGANS = {
    "1": ("stolon", "horizontal stem, above the ground (table 1 of the set): a runner"),
    "9": ("rhizome", "epigeogenous rhizome"),
    "10": ("rhizome", "hypogeogenous rhizome"),
    "12": ("tuber", "stem tuber"),
    "13": ("bulb", "bulb"),
    "15": ("suckering", "root sprouting"),
    "16": ("tuber", "root tuber"),
}
STORES = {"9": "rhizome", "10": "rhizome", "12": "tuber", "13": "bulb", "16": "tuber"}
"""Organs of clonal growth that the set's table 1 says are stores set off from the plant: rhizome (stores
in the shoot), stem tuber (a part of the shoot), bulb (leaf), root tuber (root)."""
NO_OATS = "oats and Italian ryegrass are tufted grasses that die within a year or two, without any rhizome"
KNOWN_WRONG = {
    "Avena sativa L.": ("clonal", NO_OATS),
    "Lolium multiflorum Lam.": ("clonal", NO_OATS),
    "Vicia sativa agg.": ("polycarpic", "common vetch is an annual: it does not flower in several years"),
    "Chenopodium bonus-henricus L.": ("annual", "Good King Henry lives for many years"),
}
"""Marks of life history that every other set and flora contradicts: the row's life cycle, organ and reach of
clonal growth rest on them and are refused; its first root stands."""
SHORTER = "where two life spans were reported the set gives the shorter"


@cache
def _mapping() -> dict[str, tuple[Decision, ...]]:
    return decisions(__package__)


@dataclass(frozen=True)
class CloplaImporter:
    """The importer ``clopla``. Reads ``CLO-PLA-traits.txt``: tabs, Windows-1250, quoted names."""

    key: str = "clopla"
    title: str = "life cycle, woodiness, organ and reach of clonal growth (CLO-PLA)"
    files: tuple[PublishedFile, ...] = (FILE,)
    carried: Path | None = None

    def sources(self, folder: Path) -> tuple[Source, ...]:  # noqa: ARG002
        return (CLOPLA,)

    def rows(self, folder: Path) -> Iterator[Row]:
        path = locate(folder, FILE.name)
        for row in csv_rows(path, COLUMNS, name="Species_name", encoding="cp1250", delimiter="\t"):
            yield replace(row, name=row.name.strip('" '))

    def convert(self, row: Row, names: PlantNames) -> Sequence[Statement]:
        plant = names.match(binomial(row.name))
        if plant is not None:
            return _said(row, plant)
        decided = _mapping().get(fold(row.name))
        if decided is None:
            return [unmatched(row)]
        return [
            of_decision(one, statement) for one in decided if one.plant for statement in _said(row, one.plant)
        ]


def _said(row: Row, plant: PlantId) -> list[Statement]:
    mark, reason = KNOWN_WRONG.get(row.name.strip(), ("", ""))
    if mark and row[mark] in {"1", "1.0"}:
        return [*_primary_root(row, plant), refuse(row, f"is marked {mark}: {reason}", "leave it out")]
    return [*_life(row, plant), *_primary_root(row, plant), *_clonal(row, plant), *_stays(row, plant)]


def _life(row: Row, plant: PlantId) -> list[Statement]:
    """Woodiness only where it is marked, or where the plant dies within the year.

    The set's definition leaves small shrubs (heather, thyme) out of ``woody``: a 0 does not say "not woody".
    """
    marks = {column for column in ("woody", "annual", "polycarpic", "clonal") if row[column] in {"1", "1.0"}}
    cycle = "annual" if marks == {"annual"} else "perennial" if marks and "annual" not in marks else None
    wood = "woody" if "woody" in marks else "not-woody" if marks == {"annual"} else None
    stated = (("woodiness", wood), ("life-cycle", cycle))
    return [
        draft(
            row,
            plant,
            trait,
            concepts=[concept],
            kind="membership",
            verbatim=f"marked: {', '.join(_marked(row))}",
            source=CLOPLA.key,
            locator=f"CLO-PLA-traits.txt, {row.name}, columns woody and following",
            note=_follows(concept, marks),
        )
        for trait, concept in stated
        if concept
    ]


def _marked(row: Row) -> list[str]:
    """All the marks of life history that a row has, as the columns stand."""
    columns = ("woody", "annual", "perennialnonclonal", "polycarpic", "clonal")
    return [column for column in columns if row[column] in {"1", "1.0"}]


def _follows(concept: str, marks: set[str]) -> str | None:
    """What a reader must know of a concept that is not itself the printed mark."""
    if concept == "annual":
        return SHORTER
    if concept == "perennial" and marks == {"woody"}:
        return "follows from the printed mark: wood lasts for years"
    return "follows from the printed mark: it dies within the year" if concept == "not-woody" else None


def _primary_root(row: Row, plant: PlantId) -> list[Statement]:
    """Whether the first root stays the only one; told of herbs, and of shrubs where it was seen."""
    if row["Primaryroot"] not in {"1", "1.0"}:
        return []
    return [
        draft(
            row,
            plant,
            "root-form",
            concepts=["primary-root"],
            kind="membership",
            verbatim=row["Primaryroot"],
            source=CLOPLA.key,
            locator=f"CLO-PLA-traits.txt, {row.name}, Primaryroot",
            note="the primary root is present in the adult plant",
        )
    ]


def _clonal(row: Row, plant: PlantId) -> list[Statement]:
    found: list[Statement] = []
    code = row["finalCGO"].removesuffix(".0")
    if code in ORGANS:
        concept, words = ORGANS[code]
        found.append(
            draft(
                row,
                plant,
                "root-form",
                concepts=[concept],
                kind="membership",
                verbatim=code,
                source=CLOPLA.key,
                locator=f"CLO-PLA-traits.txt, {row.name}, finalCGO",
                note=f"organ of clonal growth: {words}",
            )
        )
        if code in STORES:
            found.append(
                draft(
                    row,
                    plant,
                    "storage-organ",
                    concepts=[STORES[code]],
                    kind="membership",
                    verbatim=code,
                    source=CLOPLA.key,
                    locator=f"CLO-PLA-traits.txt, {row.name}, finalCGO",
                    note=f"organ of clonal growth: {words}; that it stores is by table 1 of the set",
                )
            )
    elif code:
        found.append(refuse(row, f"code {code} of the clonal organ is not explained", "leave it out"))
    reach = number(row["spread"])
    if reach is not None:
        found.append(
            draft(
                row,
                plant,
                "spread",
                concepts=[_spread(reach)],
                kind="membership",
                conditions={"cm": row["spread"]},
                verbatim=row["spread"],
                source=CLOPLA.key,
                locator=f"CLO-PLA-traits.txt, {row.name}, spread",
                note="cm from parent to offspring shoot, mean of class middles; classed by our rule",
            )
        )
    return found


def _stays(row: Row, plant: PlantId) -> list[Statement]:
    """A herb that the set knows as without clonal growth takes no ground but by seed.

    Told of annuals, and of perennials on their first root, where no organ of clonal growth and no sprouting
    of the roots is on record; never of woody plants, whose stems may layer (ivy is marked 0 too).
    """
    marked = {column for column in COLUMNS if row[column] in {"1", "1.0"}}
    herb = "annual" in marked or marked >= {"perennialnonclonal", "Primaryroot"}
    if not herb or marked & {"woody", "clonal", "Rsprouter"} or row["finalCGO"] or row["spread"]:
        return []
    column = "annual" if "annual" in marked else "perennialnonclonal"
    return [
        draft(
            row,
            plant,
            "spread",
            concepts=["clump"],
            kind="membership",
            verbatim=f"{column} 1, clonal 0, Rsprouter 0",
            source=CLOPLA.key,
            locator=f"CLO-PLA-traits.txt, {row.name}, {column}, clonal, finalCGO and Rsprouter",
            note="no clonal growth and no sprouting from roots: stays where it stands, but for its seed; "
            "classed by our rule",
        )
    ]


def _spread(reach_cm: Decimal) -> str:
    """Our classes: under 1 cm a clump, up to 25 cm slow, else runs.

    The set's classes are under 1, 1-25 and over 25 cm a year, entered as 0.5, 13 and 50: a 13 may be
    the crown of an asparagus that creeps by a hand's breadth, and is no runner.
    """
    if reach_cm < 1:
        return "clump"
    return "slow" if reach_cm <= 25 else "runs"


IMPORTER = CloplaImporter()
