"""Freezing tolerance of leaves and shoots: temperature at which half of the tissue is killed."""

from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from pathlib import Path

from import_scripts.base import PublishedFile, Row, Statement, draft, unmatched
from import_scripts.names import PlantNames
from import_scripts.quantities import number
from import_scripts.tables import csv_rows, locate
from kb.model import Source, SourceKey

GLOBTHERM = Source(
    key=SourceKey("globtherm"),
    citation="Bennett, J.M., Calosi, P., Clusella-Trullas, S., et al. (2018) GlobTherm, a global "
    "database on thermal "
    "tolerances for aquatic and terrestrial organisms. Scientific Data 5:180022",
    identifier="https://doi.org/10.5061/dryad.1cv08",
    year="2018",
    licence="CC0 1.0 as remembered, not seen",
    licence_iri=None,
    tier="B",
    how_read="rows of the species on the target list (Mapleia/EIYL_Notebook, commit c571d5de)",
    credit="Bennett et al. (2018), GlobTherm",
)
EXTRACT = "GlobTherm_target_rows.csv"


@dataclass(frozen=True)
class GlobthermImporter:
    """The importer ``globtherm``: lower limits only, marked as of tissue."""

    key: str = "globtherm"
    title: str = "freezing tolerance of leaves and shoots (GlobTherm)"
    files: tuple[PublishedFile, ...] = (PublishedFile(EXTRACT),)
    carried: Path | None = None

    def sources(self, folder: Path) -> tuple[Source, ...]:  # noqa: ARG002
        return (GLOBTHERM,)

    def rows(self, folder: Path) -> Iterator[Row]:
        columns = ("Genus", "Species", "tmin", "min_metric", "REF_min")
        yield from csv_rows(locate(folder, EXTRACT), columns, name=("Genus", "Species"))

    def convert(self, row: Row, names: PlantNames) -> Sequence[Statement]:
        limit = number(row["tmin"])
        plant = names.match(row.name)
        if plant is None:
            return [unmatched(row)]
        if limit is None:
            return []
        return [
            draft(
                row,
                plant,
                "hardiness",
                likely=limit,
                kind="single",
                conditions={
                    "study": row["REF_min"],
                    "method": f"{row['min_metric']} of leaf or shoot tissue",
                    "part": "leaf or shoot",
                },
                verbatim=row["tmin"],
                source=GLOBTHERM.key,
                locator=f"GlobalTherm, {row.name}, tmin",
                basis="read-in-transcription",
                note="half of the tissue killed; not the limit of the whole plant",
            )
        ]


IMPORTER = GlobthermImporter()
