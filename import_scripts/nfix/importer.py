"""Whether a species is known to fix nitrogen, how it supports itself, and whether it is woody."""

from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from pathlib import Path

from import_scripts.base import PublishedFile, Row, Statement, draft, refuse, unmatched
from import_scripts.names import PlantNames
from import_scripts.quantities import MISSING
from import_scripts.tables import csv_rows, locate
from kb.model import PlantId, Source, SourceKey

WERNER = Source(
    key=SourceKey("werner-nfix"),
    citation="Werner, G.D.A., Cornwell, W.K., Sprent, J.I., Kattge, J., Kiers, E.T. (2014) A single "
    "evolutionary "
    "innovation drives the deep evolution of symbiotic N2-fixation in angiosperms. Nature "
    "Communications 5:4087",
    identifier="https://doi.org/10.1038/ncomms5087",
    year="2014",
    licence="MIT (repository traitecoevo/growthform); data set CC0 as remembered, not seen",
    licence_iri="https://spdx.org/licenses/MIT",
    tier="A",
    how_read="whole data file (traitecoevo/growthform, commit 6a245a72)",
    credit="Werner et al. (2014)",
)
TASESKI = Source(
    key=SourceKey("taseski-growthform"),
    citation="Taseski, G.M., Beloe, C.J., Gallagher, R.V., Chan, J.Y., Dalrymple, R.L., Cornwell, W.K. "
    "(2019) A "
    "global growth-form database for 143,616 vascular plant species. Ecology 100:e02614; read in the table "
    "growth_form.csv of traitecoevo/growthform, whose column woodiness is that of Zanne, A.E., Tank, D.C., "
    "Cornwell, W.K., et al. (2014) Three keys to the radiation of angiosperms into freezing environments. "
    "Nature 506:89-92",
    identifier="https://doi.org/10.1002/ecy.2614",
    year="2019",
    licence="MIT (repository traitecoevo/growthform)",
    licence_iri="https://spdx.org/licenses/MIT",
    tier="A",
    how_read="rows of the species on the target list (traitecoevo/growthform, commit 6a245a72)",
    credit="Taseski et al. (2019); woodiness: Zanne et al. (2014)",
)
_BASE = "https://raw.githubusercontent.com/traitecoevo/growthform/6a245a72ee48d658c255fce6a25f662156ad07e3/"
WERNER_FILE = PublishedFile(
    "Werner_NFix.csv",
    _BASE + "database_assembly_information/data_with_sources/Werner_NFix.csv",
    "62d24095dab71e967b5b587b8889cddbe1189c811dab1e21bb7c3e504d3a70e2",
)
TASESKI_FILE = PublishedFile("growth_form.csv", _BASE + "growth_form.csv")
TASESKI_EXTRACT = "Taseski_growth_form_target_rows.csv"
GRASSLIKE = frozenset(
    {
        "Avena",
        "Cyperus",
        "Dactylis",
        "Festuca",
        "Hordeum",
        "Lolium",
        "Luzula",
        "Oryza",
        "Panicum",
        "Phleum",
        "Phyllostachys",
        "Poa",
        "Pseudosasa",
        "Saccharum",
        "Secale",
        "Sorghum",
        "Triticum",
        "Typha",
        "Zea",
        "Cenchrus",
        "Dryopteris",
        "Matteuccia",
        "Polystichum",
    }
)
"""Grasses, sedges, rushes and ferns: "herbaceous" is true of them but names no growth form here."""
ARCHING = frozenset({"Rubus"})
"""Genera of arching canes that climb by no organ, whatever the table marks."""


@dataclass(frozen=True)
class NfixImporter:
    """The importer ``nfix``: Werner's column ``Data_fixing``, Taseski's support.

    The column ``woodiness`` of the same table is Zanne's (2014), which the importer ``zanne`` reads: it only
    tells herbs from shrubs here.
    """

    key: str = "nfix"
    title: str = "nitrogen fixation by species (Werner 2014); support (Taseski 2019)"
    files: tuple[PublishedFile, ...] = (WERNER_FILE, TASESKI_FILE)
    carried: Path | None = None

    def sources(self, folder: Path) -> tuple[Source, ...]:  # noqa: ARG002
        return (WERNER, TASESKI)

    def rows(self, folder: Path) -> Iterator[Row]:
        yield from csv_rows(
            locate(folder, WERNER_FILE.name), ("Species", "Data_fixing", "Source", "Source2"), name="Species"
        )
        extract = TASESKI_EXTRACT if (folder / TASESKI_EXTRACT).is_file() else TASESKI_FILE.name
        yield from csv_rows(locate(folder, extract), ("sp", "support", "woodiness"), name="sp")

    def convert(self, row: Row, names: PlantNames) -> Sequence[Statement]:
        plant = names.match(row.name)
        if plant is None:
            return [unmatched(row)]
        return _fixing(row, plant) if "Data_fixing" in row.values else _form(row, plant)


def _fixing(row: Row, plant: PlantId) -> list[Statement]:
    printed = row["Data_fixing"]
    if printed not in {"Yes", "No"}:
        return [refuse(row, f"Data_fixing is '{printed}', neither Yes nor No", "look the species up")]
    authority = " / ".join(text for text in (row["Source"], row["Source2"]) if text not in MISSING)
    return [
        draft(
            row,
            plant,
            "nitrogen-fixation",
            concepts=["fixes" if printed == "Yes" else "does-not-fix"],
            kind="membership",
            conditions={"from": authority},
            verbatim=printed,
            source=WERNER.key,
            locator=f"Werner_NFix.csv, Species {row.name}, column Data_fixing",
        )
    ]


def _form(row: Row, plant: PlantId) -> list[Statement]:
    support, woodiness = row["support"], row["woodiness"]
    if support == "C" and row.name.split()[0] in ARCHING:
        return [refuse(row, "is marked as a climber and has canes that arch by themselves", "leave it out")]
    found: list[Statement] = []
    locator = f"growth_form.csv, sp {row.name}"
    form = {
        ("C", "W"): "climber-woody",
        ("C", "H"): "climber-herbaceous",
        ("F", "H"): "herb" if row.name.split()[0] not in GRASSLIKE else None,
    }.get((support, woodiness))
    if form:
        found.append(
            draft(
                row,
                plant,
                "growth-form",
                concepts=[form],
                kind="membership",
                verbatim=f"support {support}, woodiness {woodiness}",
                source=TASESKI.key,
                locator=f"{locator}, columns support, woodiness (the latter of Zanne et al. 2014)",
            )
        )
    if support == "F":
        found.append(
            draft(
                row,
                plant,
                "support-mode",
                concepts=["none"],
                kind="membership",
                verbatim=support,
                source=TASESKI.key,
                locator=f"{locator}, column support",
                note="F means free standing",
            )
        )
    return found


IMPORTER = NfixImporter()
