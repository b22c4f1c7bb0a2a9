"""Life forms (Drevojan 2023), heights (Lososova 2023) and indicator values (Tichy 2023) of Europe."""

from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from decimal import Decimal
from functools import cache
from pathlib import Path

from import_scripts.base import PublishedFile, Row, Statement, draft, refuse, unmatched
from import_scripts.decided import of_decision
from import_scripts.names import Decision, PlantNames, decisions
from import_scripts.quantities import MISSING, number
from import_scripts.tables import csv_rows, locate
from kb.model import PlantId, Source, SourceKey
from kb.names import fold


def _source(key: str, citation: str, identifier: str, licence: str, how_read: str) -> Source:
    return Source(
        key=SourceKey(key),
        citation=citation,
        identifier=identifier,
        year="2023",
        licence=licence,
        licence_iri=None,
        tier="B",
        how_read=how_read,
        credit=f"{citation.split(' (', maxsplit=1)[0]} (2023), www.floraveg.eu",
    )


_CITE = "to be cited as Database of the European Flora and Vegetation; no licence text seen"
LIFE = _source(
    "floraveg-lifeform",
    "Dřevojan, P., Čeplová, N., Štěpánková, P., Axmanová, I. (2023) Life form. www.FloraVeg.EU",
    "https://floraveg.eu",
    _CITE,
    "the whole table (Life_form_Dfevojan_2023.xlsx of FELLOW-flora/fellow-traits, commit b207f99f)",
)
HEIGHT = _source(
    "floraveg-height",
    "Lososová, Z., Axmanová, I., Chytrý, M., Midolo, G., et al. (2023) Seed dispersal distance classes and "
    "dispersal modes for the European flora. Global Ecology and Biogeography 32:1485-1494, version 2; column "
    "Plant height (m), which the portal describes as a mean over data sets and floras, LEDA, Flora d'Italia, "
    "the key to the flora of the Czech Republic and baseflor first (Axmanová, I., Plant height, "
    "www.FloraVeg.EU)",
    "https://doi.org/10.1111/geb.13712",
    _CITE,
    "the whole table (Lososova_et_al_2023_Dispersal_version2_2024-06-14.xlsx of FELLOW-flora/fellow-traits, "
    "commit b207f99f)",
)
TICHY = _source(
    "tichy-indicators",
    "Tichý, L., Axmanová, I., Dengler, J., et al. (2023) Ellenberg-type indicator values for European "
    "vascular "
    "plant species. Journal of Vegetation Science 34:e13168",
    "https://doi.org/10.1111/jvs.13168",
    "CC BY 4.0 as remembered, not seen",
    "a partial transcription (traitA_floraveg.csv of FELLOW-flora/fellow-traits, commit b207f99f; rows of "
    "one species each)",
)
FILES = ("Life_form_target_rows.csv", "Lososova2023_target_rows.csv", "Tichy2023_partial_target_rows.csv")
LIFE_FORMS = ("Phanerophyte", "Chamaephyte", "Hemicryptophyte", "Geophyte", "Hydrophyte", "Therophyte")
GROWTH_FORMS = {
    "Tree": "tree",
    "Shrub": "shrub",
    "Woody liana": "climber-woody",
    "Semi-shrub": "subshrub",
    "Dwarf shrub": "subshrub",
    "Herbaceous liana": "climber-herbaceous",
}
BAMBOOS = frozenset({"Phyllostachys", "Pseudosasa"})
"""Woody grasses: the portal has no form for them and sets the shrub."""
SHOOTS = frozenset({"Cucurbita"})
"""Vines whose printed height is the length of the shoots, never how high the plant stands."""
PRINTED = "original_taxa_Tichy2022"
TABLE = "traitA_floraveg.csv"
"""The table that the partial transcription was taken from, in the repository that the source names."""
INDICATORS = {
    "Ellenberg.Light_Tichy2022": "light-indicator-1-9",
    "Ellenberg.Moisture_Tichy2022": "moisture-indicator-1-12",
    "Ellenberg.Reaction_Tichy2022": "reaction-indicator-1-9",
    "Ellenberg.Nutrients_Tichy2022": "nutrient-indicator-1-9",
}
KNOWN_WRONG = {
    "Calluna vulgaris": "12.387 m averages a height in cm in",
    "Helichrysum italicum": "10.036 m averages a height in cm in",
    "Cucurbita pepo": "5.7 m is the length of the shoots, not a height",
}


@cache
def _mapping() -> dict[str, tuple[Decision, ...]]:
    return decisions(__package__)


@dataclass(frozen=True)
class FloravegImporter:
    """The importer ``floraveg``: three tables of one portal, three sources."""

    key: str = "floraveg"
    title: str = "European flora: life and growth form, mean height, light, moisture, reaction, nutrients"
    files: tuple[PublishedFile, ...] = tuple(PublishedFile(name) for name in FILES)
    carried: Path | None = None

    def sources(self, folder: Path) -> tuple[Source, ...]:  # noqa: ARG002
        return (LIFE, HEIGHT, TICHY)

    def rows(self, folder: Path) -> Iterator[Row]:
        life, height, indicators = FILES
        wanted = ("SeqID", "FloraVeg.Taxon", *LIFE_FORMS, *GROWTH_FORMS)
        yield from csv_rows(locate(folder, life), wanted, name="FloraVeg.Taxon")
        yield from csv_rows(locate(folder, height), ("SeqID", "Taxon", "Plant height (m)"), name="Taxon")
        yield from csv_rows(locate(folder, indicators), ("accepted_taxa", PRINTED, *INDICATORS), name=PRINTED)

    def convert(self, row: Row, names: PlantNames) -> Sequence[Statement]:
        plant = names.match(row.name)
        if PRINTED in row.values:
            decided = _mapping().get(fold(row.name))
            return (
                _indicators(row, decided[0].plant, names=None) if decided else _indicators(row, plant, names)
            )
        said = _height if "Plant height (m)" in row.values else _life_form
        if plant is not None:
            return said(row, plant)
        decided = _mapping().get(fold(row.name))
        if not decided or decided[0].plant is None:
            return [unmatched(row)]
        return [of_decision(decided[0], one) for one in said(row, decided[0].plant)]


def _set(row: Row, column: str) -> bool:
    return row[column] in {"1", "1.0"}


def _life_form(row: Row, plant: PlantId) -> list[Statement]:
    forms = [column.lower() for column in LIFE_FORMS if _set(row, column)]
    growth = sorted({form for column, form in GROWTH_FORMS.items() if _set(row, column)})
    printed = ", ".join(column for column in (*LIFE_FORMS, *GROWTH_FORMS) if _set(row, column))
    cycle = None
    if forms == ["therophyte"]:
        cycle = "annual"
    elif forms and set(forms) <= {"phanerophyte", "chamaephyte", "geophyte"}:
        cycle = "perennial"
    bamboo = bool(growth) and row.name.split()[0] in BAMBOOS
    stated = (
        ("life-form", forms),
        ("growth-form", [] if bamboo else growth),
        ("life-cycle", [cycle] if cycle else []),
    )
    found: list[Statement] = []
    if bamboo:
        found.append(refuse(row, "is set as a shrub and is a bamboo, a woody grass", "leave it out"))
    found += [
        draft(
            row,
            plant,
            trait,
            concepts=concepts,
            kind="membership",
            verbatim=printed,
            source=LIFE.key,
            locator=f"Life form, SeqID {row['SeqID']}",
            note="follows from the definition of the printed life form" if trait == "life-cycle" else None,
        )
        for trait, concepts in stated
        if concepts
    ]
    return found


def _height(row: Row, plant: PlantId) -> list[Statement]:
    printed = row["Plant height (m)"]
    if printed in MISSING:
        return []
    if row.name in KNOWN_WRONG:
        return [refuse(row, KNOWN_WRONG[row.name], "leave it out")]
    limit = number(printed[1:].replace(",", ".")) if printed[:1] in "<>" else None
    value = number(printed) if limit is None else None
    if value is None and limit is None:
        return [refuse(row, f"the height '{printed}' is no number", "look it up")]
    low: Decimal | None = limit if printed.startswith(">") else None
    high: Decimal | None = limit if printed.startswith("<") else None
    shoots = row.name.split()[0] in SHOOTS
    note = "mean over floras of fully grown plants in the wild" if value is not None else None
    if shoots:
        note = f"{note}; the length of the shoots of a vine" if note else "the length of the shoots of a vine"
    return [
        draft(
            row,
            plant,
            "reach" if shoots else "mature-height",
            low=low,
            likely=value,
            high=high,
            kind="mean" if value is not None else "floor" if low is not None else "ceiling",
            conditions={"as": "fully grown in the wild"},
            verbatim=printed,
            source=HEIGHT.key,
            locator=f"sheet Final, SeqID {row['SeqID']}, Plant height (m)",
            note=note,
        )
    ]


def _indicators(row: Row, plant: PlantId | None, names: PlantNames | None) -> list[Statement]:
    """The classes of a row; ``names`` None where a decision says which plant the row is about."""
    filed = row["accepted_taxa"]
    if " " not in row.name:
        return [refuse(row, "is named by the genus only", "leave it out")]
    if names is not None and _misfiled(row.name, filed, plant, names):
        return [
            refuse(row, f"is printed as {row.name} and filed under {filed}", "decide which plant is meant")
        ]
    if plant is None:
        return [unmatched(row)]
    found: list[Statement] = []
    for column, trait in INDICATORS.items():
        value = number(row[column])
        if value is not None:
            found.append(
                draft(
                    row,
                    plant,
                    trait,
                    likely=value,
                    kind="class",
                    verbatim=row[column],
                    source=TICHY.key,
                    locator=f"{TABLE}, {PRINTED} {row.name}, {column}",
                    basis="read-in-transcription",
                )
            )
    return found


def _misfiled(printed: str, filed: str, plant: PlantId | None, names: PlantNames) -> bool:
    """Whether a row is printed under one plant and filed under another.

    Rows repeated under the genus or under a subspecies of the printed species are not misfiled.
    """
    repeated = filed == printed.split(maxsplit=1)[0] or filed.startswith(f"{printed} ")
    return printed != filed and not repeated and names.match(filed) != plant


IMPORTER = FloravegImporter()
