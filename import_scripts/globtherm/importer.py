"""Freezing tolerance of leaves and shoots (LT50, ct50) of single species: limits of what the plant bears.

Buds and wood outlive the leaf: of olives in midwinter half of the leaves died at -12, of the buds at -13,
of the shoots at -18 degrees (Antognozzi et al. 1994, which the base holds). So a plant lives at least as
far down as its leaves do: a ceiling of its hardiness, never the winter that it bears.
"""

from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from pathlib import Path

from import_scripts.base import PublishedFile, Row, Statement, draft, refuse, unmatched
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
    how_read="rows of the species on the target list (GlobalTherm_upload_02_11_17.csv of "
    "Mapleia/EIYL_Notebook, commit c571d5de)",
    credit="Bennett et al. (2018), GlobTherm",
)
EXTRACT = "GlobTherm_target_rows.csv"
TABLE = "GlobalTherm_upload_02_11_17.csv"
"""The table that the extract was taken from, in the repository that the source names."""
UNPRINTED = (
    "not the limit of the whole plant; the part is not printed: leaves or shoots, as such studies test"
)
MEANS = {
    "LT50": f"half of the tissue killed; {UNPRINTED}",
    "ct50": f"ct50 is not explained where the table was read; {UNPRINTED}",
}
"""What a reader must know of a limit, by its printed metric."""


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
        columns = ("Genus", "Species", "N.1", "tmin", "min_metric", "REF_min")
        yield from csv_rows(locate(folder, EXTRACT), columns, name=("Genus", "Species"))

    def convert(self, row: Row, names: PlantNames) -> Sequence[Statement]:
        limit = number(row["tmin"])
        plant = names.match(row.name)
        if plant is None:
            return [unmatched(row)]
        if limit is None:
            return []
        metric, tested = row["min_metric"], number(row["N.1"])
        if metric not in MEANS:
            return [refuse(row, f"the metric '{metric}' of tmin is not known", "look it up in the article")]
        return [
            draft(
                row,
                plant,
                "hardiness",
                high=limit,
                kind="ceiling",
                conditions={
                    "study": row["REF_min"],
                    "method": metric,
                    "part": "leaf or shoot",
                }
                | ({"n": str(int(tested))} if tested is not None else {}),
                verbatim=row["tmin"],
                source=GLOBTHERM.key,
                locator=f"{TABLE}, {row.name}, columns tmin, min_metric, N.1",
                basis="read-in-transcription",
                note=MEANS[metric],
            )
        ]


IMPORTER = GlobthermImporter()
