"""Rooting depths of the full root-trait data base, study by study, and fixing partners by genus.

Field rows are single depths with study, method and place; of one-year-old plants, and where a water table
held the roots up, they are floors. Pots are floors: in open ground the root goes at least so deep.
Identical pot rows of one study are one statement. Rows are matched by the name that the set resolved and
keep the name that it was given, with what it gives below the species.
"""

import io
import zipfile
from collections import defaultdict
from collections.abc import Iterator, Sequence
from dataclasses import dataclass, replace
from pathlib import Path

from import_scripts.base import PublishedFile, Row, Statement, draft, refuse, unmatched
from import_scripts.groot.citation import EXTRACT, FILE, GENERA, GROOT, NODDB
from import_scripts.names import PlantNames
from import_scripts.quantities import number
from import_scripts.tables import LARGEST_FILE, csv_rows, decode, locate, rows_of_text
from kb.errors import SourceFault
from kb.model import PlantId, Source

COLUMNS = (
    "GRooTID",
    "source",
    "referencesAbbreviated",
    "references",
    "referencesDataset",
    "genus",
    "species",
    "infraspecific",
    "genusTNRS",
    "speciesTNRS",
    "nitrogenFixationNodDB",
    "measurementProvenance",
    "measurementTreatments",
    "measurementMethod",
    "ageStand",
    "locationID",
    "location",
    "soilTexture",
    "traitName",
    "traitValue",
)
GENUS_COLUMNS = ("familyTNRS", "genusTNRS", "nitrogenFixationNodDB")
KNOWN_WRONG = {
    "7704": "0.007 m is no rooting depth of Vaccinium myrtillus (one tundra study, entered twice)",
    "7719": "0.007 m is no rooting depth of Vaccinium myrtillus (one tundra study, entered twice)",
    "7702": "0.046 m is no rooting depth of Solidago virgaurea (same tundra study)",
    "5933": "the trees of Germon et al. 2016 are hybrids (Juglans regia × nigra), and the tubes end at 4.7 m",
    "7059": "the Prunus communis of Howard 1925 is the plum, not the almond that the name was resolved to",
}
UNPUBLISHED = {
    "TRY_Catford_Jane": "is one unpublished, shallow-sampled plot",
    "TRY_Chapin_F. Stuart III": "is unpublished, without place or method; of the plants that stand in "
    "Chapin et al. 1996 too it has the same depth again",
}
YOUNG = 1
"""``ageStand`` in years of plants too young to have rooted as deep as the species does: depths are floors."""
WET_GROUND = {
    "Elliott 1924": "dug to show that corn roots end at the water level of a peat soil",
    "Follett et al 1974": "dug in sand above a water table that sank",
    "Oosterbaan and Nabuurs 1991": "dug in wet ground, by its groundwater class",
}
"""Studies of roots that a water table held up, as their titles say: drained ground is rooted deeper."""
ENDED = "ended"
"""Told of pot rows of a study all of whose plants rooted equally deep: the depth is the container's."""
TREATMENTS = "measurementTreatments"
"""What was done to the plants (water kept from them, fertiliser); no matter where the pot ends the roots."""
TUNDRA = ("tundra", "arctic", "lapland", "kamasjaure", "abisko", "toolik", "alaska")
PARTNERS = {"Rhizobia": "rhizobia", "Frankia": "frankia", "Nostocaceae": "cyanobacteria"}


@dataclass(frozen=True)
class GrootImporter:
    """The importer ``groot``. Reads the extract of target rows, or the published zip."""

    key: str = "groot"
    title: str = "rooting depths study by study (GRooT); fixing partner by genus (NodDB)"
    files: tuple[PublishedFile, ...] = (FILE,)
    carried: Path | None = None

    def sources(self, folder: Path) -> tuple[Source, ...]:  # noqa: ARG002
        return (GROOT, NODDB)

    def rows(self, folder: Path) -> Iterator[Row]:
        if (folder / EXTRACT).is_file():
            rows = csv_rows(folder / EXTRACT, COLUMNS, name=("genusTNRS", "speciesTNRS"))
            yield from _pots_together(rows)
            yield from csv_rows(locate(folder, GENERA), GENUS_COLUMNS, name="genusTNRS")
            return
        every = list(_unzipped(locate(folder, FILE.name)))
        yield from _pots_together(iter([row for row in every if row["traitName"] == "Rooting_depth"]))
        seen = set()
        for row in every:
            if row["genusTNRS"] not in seen and row["nitrogenFixationNodDB"]:
                seen.add(row["genusTNRS"])
                values = {column: row.values.get(column, "") for column in GENUS_COLUMNS}
                yield replace(row, name=row["genusTNRS"], values=values)

    def convert(self, row: Row, names: PlantNames) -> Sequence[Statement]:
        if "traitValue" not in row.values:
            return _partner(row, names)
        plant = names.match(row.name)
        if plant is None:
            return [unmatched(row)]
        return [_depth(row, plant)]


def _unzipped(path: Path) -> Iterator[Row]:
    """The rows of the one table in the published zip. Raises SourceFault where it is not that."""
    try:
        with zipfile.ZipFile(path) as archive:
            tables = [info for info in archive.infolist() if info.filename.lower().endswith(".csv")]
            tables = [info for info in tables if not info.filename.startswith("__MACOSX")]
            if len(tables) != 1 or tables[0].file_size > LARGEST_FILE:
                raise SourceFault(path.name, "must hold one table of at most 120 MB; this is another file")
            raw = archive.read(tables[0])
    except (zipfile.BadZipFile, OSError) as fault:
        raise SourceFault(path.name, f"cannot be opened as a zip ({fault}); fetch it again") from None
    text = decode(raw, tables[0].filename, "utf-8")
    yield from rows_of_text(
        io.StringIO(text, newline=None).read(),
        COLUMNS,
        file=tables[0].filename,
        name=("genusTNRS", "speciesTNRS"),
    )


def _pots_together(rows: Iterator[Row]) -> Iterator[Row]:
    """Field rows as they are; pot rows of one species, study and value as the first of them."""
    pots: dict[tuple[str, str, str], list[Row]] = {}
    depths: defaultdict[str, set[str]] = defaultdict(set)
    for row in rows:
        if row["measurementProvenance"] == "potted":
            pots.setdefault((row.name, row["referencesAbbreviated"], row["traitValue"]), []).append(row)
            depths[row["referencesAbbreviated"]].add(row["traitValue"])
        else:
            yield row
    for members in pots.values():
        first = members[0]
        ids = f"{first['GRooTID']}-{members[-1]['GRooTID']}" if len(members) > 1 else first["GRooTID"]
        told = {"rows": str(len(members)) if len(members) > 1 else "", TREATMENTS: _treatments(members)}
        if len(members) > 1 and len(depths[first["referencesAbbreviated"]]) == 1:
            told[ENDED] = "all plants of the study root to this depth"
            told[TREATMENTS] = ""
        yield replace(first, values={**first.values, "GRooTID": ids, **told})


def _treatments(members: Sequence[Row]) -> str:
    """The printed treatments of rows of one depth, each once."""
    return " / ".join(dict.fromkeys(filter(None, (row[TREATMENTS] for row in members))))


def _depth(row: Row, plant: PlantId) -> Statement:
    depth = number(row["traitValue"])
    if row["GRooTID"] in KNOWN_WRONG:
        return refuse(row, KNOWN_WRONG[row["GRooTID"]], "leave it out")
    if row["source"] in UNPUBLISHED:
        return refuse(row, f"GRooTID {row['GRooTID']} {UNPUBLISHED[row['source']]}", "leave it out")
    if depth is None or depth <= 0:
        return refuse(row, f"traitValue '{row['traitValue']}' is no depth", "look the study up")
    study = " ".join(row["referencesAbbreviated"].split())
    printed = " ".join(filter(None, (row["genus"], row["species"], row["infraspecific"])))
    conditions = {
        "study": study,
        "method": row["measurementMethod"] or "unspecified",
        "place": " ".join(row["location"].split()),
        "site": " ".join(row["locationID"].split()),
        "soil": row["soilTexture"],
        "age": row["ageStand"],
        "treatment": " ".join(row[TREATMENTS].split()),
        "part": row["infraspecific"] and f"infraspecific name {row['infraspecific']}",
    }
    where = f"GRooT full version, GRooTID {row['GRooTID']}, Rooting_depth"
    reference = " ".join(row["references"].replace("\x96", "-").split())
    if (row["genus"], row["species"]) != (row["genusTNRS"], row["speciesTNRS"]):
        reference = f"the set resolves the name to {row['genusTNRS']} {row['speciesTNRS']}. {reference}"
    if row["measurementProvenance"] == "potted":
        conditions |= {"method": "pot", "rows": row.values.get("rows", "")}
        ended = f", and {row[ENDED]}: it is that of the pot" if ENDED in row.values else ""
        note = f"measured in a pot{ended}; in open ground at least so deep. {reference}"
        return draft(
            row,
            plant,
            "rooting-depth",
            low=depth,
            kind="floor",
            conditions=conditions,
            verbatim=row["traitValue"],
            source=GROOT.key,
            name=printed,
            locator=where,
            basis="read-in-transcription",
            note=note,
        )
    told = f"{row['location']} {row['references']} {row['referencesDataset']}".lower()
    if any(word in told for word in TUNDRA):
        conditions["climate"] = "tundra"
    told_least = ""
    if study in WET_GROUND:
        told_least = f"{WET_GROUND[study]}: in drained ground at least so deep. "
    elif number(row["ageStand"]) == YOUNG:
        told_least = "one-year-old plants: grown ones reach at least this. "
    return draft(
        row,
        plant,
        "rooting-depth",
        low=depth if told_least else None,
        likely=None if told_least else depth,
        kind="floor" if told_least else "single",
        conditions=conditions,
        verbatim=row["traitValue"],
        name=printed,
        source=GROOT.key,
        locator=where,
        basis="read-in-transcription",
        note=f"{told_least}{reference}",
    )


def _partner(row: Row, names: PlantNames) -> list[Statement]:
    plants = [plant for plant in names.genus(row.name) if "." not in plant]
    printed = row["nitrogenFixationNodDB"]
    if not plants:
        return [unmatched(row)]
    partner = PARTNERS.get(printed.removeprefix("likely_"))
    if printed.startswith("unlikely") or partner is None:
        return [refuse(row, f"the label '{printed}' names no partner", "take it from a study of the genus")]
    return [
        draft(
            row,
            plant,
            "fixing-partner",
            concepts=[partner],
            kind="membership",
            conditions={"scope": "genus"},
            verbatim=printed,
            source=NODDB.key,
            locator=f"GRooT, column nitrogenFixationNodDB, genus {row.name}",
            basis="read-in-transcription",
            note="printed as likely" if printed.startswith("likely") else None,
        )
        for plant in plants
    ]


IMPORTER = GrootImporter()
