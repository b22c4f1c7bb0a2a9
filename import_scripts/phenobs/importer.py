"""First leaf of herbs in botanical gardens, and when the first of it fades: medians over gardens and years.

The protocol notes the first day on which senescence was *seen on at least one plant*; its peak and its end
are stages of their own, and the published table prints neither. An onset is no end: most herbs yellow a
first leaf after their flower and stand green until the frost. So the window has a start alone, and the
onset, before which the leaf is not over, stands beside it (``senescence-from``).
"""

from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from decimal import Decimal
from pathlib import Path
from statistics import median

from import_scripts.base import PublishedFile, Row, Statement, draft, refuse, unmatched
from import_scripts.names import PlantNames
from import_scripts.quantities import number, week_of_day
from import_scripts.tables import csv_rows, locate, read_text
from kb.model import Source, SourceKey

PHENOBS = Source(
    key=SourceKey("phenobs"),
    citation="Nordt, B., Hensen, I., Bucher, S.F., et al. (2021) The PhenObs initiative: a "
    "standardised protocol for "
    "monitoring phenological responses to climate change using herbaceous plant species in botanical "
    "gardens. "
    "Functional Ecology 35:821-834; leaf unfolding and senescence 2019-2024",
    identifier="https://doi.org/10.1111/1365-2435.13747",
    year="2021",
    licence="CC BY 4.0 as listed by others, not seen; medians are shipped, not rows",
    licence_iri=None,
    tier="B",
    how_read="rows of the species on the target list (LeafUnfolding_Senescence_GSL_PhenObs2019_2024.csv of "
    "aliciavaldes1501/PhenObs_Cluster1, commit 2f2d752c); the paper describes the method and holds no rows",
    credit="Nordt et al. (2021), PhenObs",
)
FILE = PublishedFile(
    "LeafUnfolding_Senescence_GSL_PhenObs2019_2024.csv",
    "https://raw.githubusercontent.com/aliciavaldes1501/PhenObs_Cluster1/"
    "2f2d752c25d6bd27bdf5987458e2873c500f9d37/data/raw/slopes_20251128/"
    "LeafUnfolding_Senescence_GSL_PhenObs2019_2024.csv",
)
EXTRACT = "LeafUnfolding_Senescence_GSL_target_rows.csv"
COLUMNS = ("Species", "Botanic_Garden", "Year", "LeafUnf", "SenOn")
FEWEST = 5
"""Fewer garden-years than this make no median."""
WINTER_DAY = 32
GARDENS = {"Tuebingen": "Tübingen", "Xixon": "Gijón"}
"""Garden as the table spells it -> its usual name."""
EVERGREEN = frozenset(
    {
        "Arctostaphylos uva-ursi",
        "Calluna vulgaris",
        "Dryas octopetala",
        "Gaultheria shallon",
        "Lavandula angustifolia",
        "Salvia officinalis",
        "Thymus pulegioides",
        "Vaccinium oxycoccos",
        "Vaccinium vitis-idaea",
        "Vinca minor",
    }
)
"""In leaf all year by every other source: unfolding and senescence of single leaves are no season."""


@dataclass(frozen=True)
class PhenobsImporter:
    """The importer ``phenobs``: one row per species, the garden-years put together."""

    key: str = "phenobs"
    title: str = "leaf unfolding and senescence of herbs in gardens (PhenObs 2019-2024)"
    files: tuple[PublishedFile, ...] = (FILE,)
    carried: Path | None = None

    def sources(self, folder: Path) -> tuple[Source, ...]:  # noqa: ARG002
        return (PHENOBS,)

    def rows(self, folder: Path) -> Iterator[Row]:
        name = EXTRACT if folder.is_dir() and (folder / EXTRACT).is_file() else FILE.name
        path = locate(folder, name)
        first = read_text(path).partition("\n")[0]
        delimiter = ";" if first.count(";") > first.count(",") else ","
        species: dict[str, list[Row]] = {}
        for row in csv_rows(path, COLUMNS, name="Species", delimiter=delimiter):
            species.setdefault(row.name, []).append(row)
        for printed, members in species.items():
            yield Row(members[0].file, members[0].number, printed, _together(members))

    def convert(self, row: Row, names: PlantNames) -> Sequence[Statement]:
        plant = names.match(row.name)
        if plant is None:
            return [unmatched(row)]
        if row.name in EVERGREEN:
            return [refuse(row, "is evergreen: its single leaves make no leaf season", "leave it out")]
        unfolding, senescence = number(row["LeafUnf"]), number(row["SenOn"])
        if unfolding is None or int(row["n"]) < FEWEST:
            return [refuse(row, f"only {row['n']} garden-years", "wait for more years")]
        note = "medians computed here over gardens and years"
        if senescence is not None:
            note += (
                "; senescence-from is the week of its onset, first seen on at least one plant: a floor of "
                "the end, which the table does not print"
            )
        if row["early"] != "0":
            note += f"; onsets of senescence left out that come before the unfolding: {row['early']}"
        if unfolding < WINTER_DAY:
            note += (
                "; leaves unfold in winter: they come up or stay green then, or were first seen at the first "
                "visit of the year"
            )
        return [
            draft(
                row,
                plant,
                "leaf-window",
                low=week_of_day(unfolding),
                kind="median",
                conditions={
                    "n": row["n"],
                    "n-senescence": row["n_sen"],
                    "gardens": row["gardens"],
                    "place": row["place"],
                    "years": row["years"],
                    "event": "leaf unfolding",
                }
                | ({"senescence-from": str(week_of_day(senescence))} if senescence is not None else {}),
                verbatim=f"median LeafUnf {row['LeafUnf']} (n {row['n']}), SenOn {row['SenOn'] or '-'}",
                source=PHENOBS.key,
                locator=f"rows of Species {row.name}, LeafUnf and SenOn",
                note=note,
            )
        ]


def _together(members: Sequence[Row]) -> dict[str, str]:
    """Medians over the garden-years of one species; rows that senesce before unfolding give no end."""
    starts: list[Decimal] = []
    ends: list[Decimal] = []
    early = 0
    for row in members:
        start, end = number(row["LeafUnf"]), number(row["SenOn"])
        if start is not None:
            starts.append(start)
        if end is not None and start is not None and end < start:
            early += 1
        elif end is not None:
            ends.append(end)
    years = sorted({row["Year"] for row in members})
    gardens = sorted({row["Botanic_Garden"] for row in members})
    return {
        "LeafUnf": str(median(starts)) if starts else "",
        "SenOn": str(median(ends)) if len(ends) >= FEWEST else "",
        "n": str(len(starts)),
        "n_sen": str(len(ends)),
        "early": str(early),
        "gardens": str(len(gardens)),
        "place": f"botanical gardens of {', '.join(GARDENS.get(name, name) for name in gardens)}",
        "years": f"{years[0]}-{years[-1]}",
    }


IMPORTER = PhenobsImporter()
