"""Writes the identity part of plant files from our own compilation of taxa."""

from collections.abc import Iterator, Sequence
from dataclasses import dataclass, field
from importlib.resources import files
from pathlib import Path

from import_scripts.base import Identity, PublishedFile, Row, Statement, refuse
from import_scripts.biflora.citation import BIFLORA
from import_scripts.names import PlantNames
from import_scripts.tables import csv_rows, locate
from kb.errors import SourceFault
from kb.model import CommonName, Name, PlantId, Source, SourceKey

TAXA = Source(
    key=SourceKey("taxa"),
    citation="Taxa and names compiled for this project (import_scripts/taxa)",
    identifier=None,
    year="2026",
    licence="that of the project",
    licence_iri=None,
    tier="A",
    how_read="compiled here from the names that the imported data sets print",
    credit="Names compiled for this project",
)
COLUMNS = (
    "plant",
    "scientific_name",
    "authority",
    "rank",
    "parent",
    "according_to",
    "groups",
    "common_names",
)
SYNONYM_COLUMNS = ("plant", "name", "authority", "according_to")
GROUPS = frozenset(
    {
        "annual-vegetable",
        "perennial-vegetable",
        "herb",
        "bulb",
        "fruit-tree",
        "nut-tree",
        "berry-shrub",
        "nitrogen-fixer",
        "ground-cover",
        "climber",
        "hedge-plant",
        "field-crop",
        "flower",
        "tropical-crop",
        "timber-tree",
        "weed",
    }
)


@dataclass(frozen=True)
class TaxaImporter:
    """The importer ``taxa``: one identity per row."""

    key: str = "taxa"
    title: str = "names, ranks and planting groups of all plants (our own compilation)"
    files: tuple[PublishedFile, ...] = (PublishedFile("taxa.csv"), PublishedFile("synonyms.csv"))
    _synonyms: dict[str, list[Name]] = field(default_factory=dict, repr=False)

    @property
    def carried(self) -> Path:
        return Path(str(files(__package__)))

    def sources(self, folder: Path) -> tuple[Source, ...]:  # noqa: ARG002
        return (TAXA, BIFLORA)

    def rows(self, folder: Path) -> Iterator[Row]:
        self._synonyms.clear()
        for row in csv_rows(locate(folder, "synonyms.csv"), SYNONYM_COLUMNS, name="name"):
            name = Name(row["name"], row["authority"] or None, row["according_to"] or None)
            self._synonyms.setdefault(row["plant"], []).append(name)
        known = set()
        for row in csv_rows(locate(folder, "taxa.csv"), COLUMNS, name="scientific_name"):
            if row["plant"] in known:
                raise SourceFault(row.file, f"line {row.number}: {row['plant']} stands twice; keep one")
            known.add(row["plant"])
            yield row
        strays = sorted(set(self._synonyms) - known)
        if strays:
            raise SourceFault("synonyms.csv", f"names {strays[0]}, which taxa.csv lacks; add it there")

    def convert(self, row: Row, names: PlantNames) -> Sequence[Statement]:  # noqa: ARG002
        groups = tuple(row["groups"].split(";"))
        strange = sorted(set(groups) - GROUPS)
        if strange:
            return [
                refuse(row, f"'{strange[0]}' is no planting group", "use one of the groups in importer.py")
            ]
        return [
            Identity(
                id=PlantId(row["plant"]),
                scientific_name=row["scientific_name"],
                authority=row["authority"] or None,
                rank=row["rank"],
                according_to=SourceKey(row["according_to"]),
                parent=PlantId(row["parent"]) if row["parent"] else None,
                groups=groups,
                synonyms=tuple(self._synonyms.get(row["plant"], ())),
                common_names=tuple(_common(text) for text in row["common_names"].split(";") if text),
            )
        ]


def _common(text: str) -> CommonName:
    lang, _, name = text.partition(":")
    return CommonName(name, lang)


IMPORTER = TaxaImporter()
