"""Rooting depth, leaf habit, growth form of Mediterranean plants. Heights are not read (wrong units)."""

from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from pathlib import Path

from import_scripts.base import PublishedFile, Row, Statement, draft, refuse, unmatched
from import_scripts.names import PlantNames
from import_scripts.quantities import number
from import_scripts.tables import csv_rows, locate
from kb.model import NumberKind, PlantId, Source, SourceKey

BROT = Source(
    key=SourceKey("brot2"),
    citation="Tavşanoğlu, Ç., Pausas, J.G. (2018) A functional trait database for Mediterranean Basin "
    "plants. "
    "Scientific Data 5:180135. Each record names the study that it quotes",
    identifier="https://doi.org/10.1038/sdata.2018.135",
    year="2018",
    licence="CC BY 4.0 as remembered, not seen",
    licence_iri=None,
    tier="B",
    how_read="rows of the species on the target list (BROT2_dat.csv in "
    "erolafr/Quantitative-Tutorials-2022, commit dbb4234d)",
    credit="Tavşanoğlu and Pausas (2018), BROT 2.0",
)
EXTRACT = "BROT2_dat_target_rows.csv"
COLUMNS = ("ID", "Taxon", "Trait", "Data", "Units", "DataType", "Method", "SourceID", "Comments")
SMALL_PLANTS = frozenset({"NavarroCano2017b", "Cartagena2017", "Crevillent2017"})
"""Studies of young or small plants (0.06-0.3 m): their depths are floors."""
GREATEST = "maximum rooting depth"
"""So a comment of the set calls the depth of a row: the greatest of the plants that were dug."""
GENUS = "genus property"
"""So a comment of the set calls what the study says of a genus and not of each of its species."""
SAID_OF_GENUS = "said of the genus, as the set's comment has it"
LEAF = {
    "winter deciduous": "deciduous",
    "evergreen": "evergreen",
    "winter semi-deciduous": "semi-evergreen",
}
FORMS: dict[str, tuple[str, str | None]] = {
    "perennial forb": ("herb", "perennial"),
    "tree": ("tree", "perennial"),
    "large shrub": ("shrub", "perennial"),
    "shrub": ("shrub", "perennial"),
    "subshrub": ("subshrub", "perennial"),
    "annual forb": ("herb", "annual"),
    "geophyte": ("herb", "perennial"),
    "variable forb": ("herb", None),
    "perennial graminoid": ("graminoid", "perennial"),
    "annual graminoid": ("graminoid", "annual"),
    "liana": ("climber-woody", "perennial"),
}
LASTS = "follows from the definition of the printed growth form"
CLIMBING_FORBS = frozenset(
    {
        "Dioscorea communis",
        "Galium aparine",
        "Lathyrus latifolius",
        "Lathyrus pratensis",
        "Vicia cracca",
        "Vicia sativa",
        "Vicia villosa",
    }
)
"""Herbs of the set that climb: of climbers its forms know lianas alone, which are woody."""
CLIMBS = "climbs, which the set's forms do not tell of herbs"


@dataclass(frozen=True)
class BrotImporter:
    """The importer ``brot``. Subspecies match nothing; heights in the set are partly cm."""

    key: str = "brot"
    title: str = "Mediterranean plants: rooting depth, leaf habit, growth form (BROT 2.0)"
    files: tuple[PublishedFile, ...] = (PublishedFile(EXTRACT),)
    carried: Path | None = None

    def sources(self, folder: Path) -> tuple[Source, ...]:  # noqa: ARG002
        return (BROT,)

    def rows(self, folder: Path) -> Iterator[Row]:
        for row in csv_rows(locate(folder, EXTRACT), COLUMNS, name="Taxon"):
            if row["Trait"] in {"RootDepth", "LeafPhenology", "GrowthForm"}:
                yield row

    def convert(self, row: Row, names: PlantNames) -> Sequence[Statement]:
        plant = names.match(row.name)
        if plant is None:
            return [unmatched(row)]
        if row["Trait"] == "RootDepth":
            return [_depth(row, plant)]
        if row["Trait"] == "LeafPhenology":
            return _concept(row, plant, "leaf-retention", LEAF.get(row["Data"]))
        form, cycle = FORMS.get(row["Data"], (None, None))
        note = None if cycle and cycle in row["Data"] else LASTS
        lasting = _concept(row, plant, "life-cycle", cycle, note) if cycle else []
        if row.name in CLIMBING_FORBS:
            return [refuse(row, CLIMBS, "take the growth form elsewhere"), *lasting]
        return [*_concept(row, plant, "growth-form", form), *lasting]


def _depth(row: Row, plant: PlantId) -> Statement:
    depth = number(row["Data"])
    if depth is None or row["Units"] != "m":
        return refuse(row, f"'{row['Data']} {row['Units']}' is no depth in m", "look the study up")
    small = row["SourceID"] in SMALL_PLANTS
    kind: NumberKind = "maximum" if GREATEST in row["Comments"] else "single"
    return draft(
        row,
        plant,
        "rooting-depth",
        low=depth if small else None,
        likely=None if small else depth,
        kind="floor" if small else kind,
        conditions={
            "study": row["SourceID"],
            "method": f"unspecified ({row['Method']})",
            "remark": row["Comments"],
        },
        verbatim=row["Data"],
        source=BROT.key,
        locator=f"BROT2_dat, ID {row['ID']}, RootDepth",
        basis="read-in-transcription",
        note="young or small plants: grown ones reach at least this" if small else None,
    )


def _concept(
    row: Row, plant: PlantId, trait: str, concept: str | None, note: str | None = None
) -> list[Statement]:
    if concept is None:
        return [
            refuse(row, f"{row['Trait']} '{row['Data']}' has no value in our scheme", "extend the scheme")
        ]
    return [
        draft(
            row,
            plant,
            trait,
            concepts=[concept],
            kind="membership",
            conditions={"study": row["SourceID"], "scope": "group" if GENUS in row["Comments"] else ""},
            verbatim=row["Data"],
            source=BROT.key,
            locator=f"BROT2_dat, ID {row['ID']}, {row['Trait']}",
            basis="read-in-transcription",
            note=SAID_OF_GENUS if GENUS in row["Comments"] else note,
        )
    ]


IMPORTER = BrotImporter()
