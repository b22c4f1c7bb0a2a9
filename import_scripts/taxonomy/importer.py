"""The family of a plant by its genus, in the circumscription of the Angiosperm Phylogeny Website."""

from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from pathlib import Path

from import_scripts.base import PublishedFile, Row, Statement, draft, unmatched
from import_scripts.names import PlantNames
from import_scripts.tables import csv_rows, locate
from kb.model import Source, SourceKey

SOURCE = Source(
    key=SourceKey("taxonlookup"),
    citation="Pennell, M.W., FitzJohn, R.G., Cornwell, W.K. (2016) A simple approach for maximizing "
    "the overlap "
    "of phylogenetic and comparative data. Methods in Ecology and Evolution 7:751-758; table "
    "plant_lookup.csv "
    "of taxonlookup 1.1.5",
    identifier="https://doi.org/10.1111/2041-210X.12517",
    year="2016",
    licence="MIT",
    licence_iri="https://spdx.org/licenses/MIT",
    tier="A",
    how_read="rows of the genera on the target list (plant_lookup.csv of "
    "traitecoevo/taxonlookup, commit 38e0ef64)",
    credit="Pennell, FitzJohn and Cornwell (2016), taxonlookup",
)
FILE = PublishedFile(
    "plant_lookup.csv",
    "https://raw.githubusercontent.com/traitecoevo/taxonlookup/"
    "38e0ef646cc90991f781d40629c71322ad35c159/plant_lookup.csv",
)
EXTRACT = "plant_lookup_target_genera.csv"
COLUMNS = ("genus", "family", "apweb.family")


@dataclass(frozen=True)
class TaxonomyImporter:
    """The importer ``taxonomy``: one family record per plant of each genus."""

    key: str = "taxonomy"
    title: str = "family by genus (APG, Angiosperm Phylogeny Website)"
    files: tuple[PublishedFile, ...] = (FILE,)
    carried: Path | None = None

    def sources(self, folder: Path) -> tuple[Source, ...]:  # noqa: ARG002
        return (SOURCE,)

    def rows(self, folder: Path) -> Iterator[Row]:
        name = EXTRACT if (folder / EXTRACT).is_file() else FILE.name
        yield from csv_rows(locate(folder, name), COLUMNS, name="genus")

    def convert(self, row: Row, names: PlantNames) -> Sequence[Statement]:
        plants = [plant for plant in names.genus(row.name) if "." not in plant]
        if not plants:
            return [unmatched(row)]
        return [
            draft(
                row,
                plant,
                "family",
                concepts=[row["apweb.family"]],
                kind="membership",
                conditions={"scope": "genus"},
                verbatim=row["apweb.family"],
                source=SOURCE.key,
                locator=f"plant_lookup.csv, genus {row.name}, column apweb.family",
            )
            for plant in plants
        ]


IMPORTER = TaxonomyImporter()
