"""An archive that others made: its measurements become records where taxon and trait are certain.

A taxon is certain by its accepted name or a synonym listed here; a measurement by an address that is one
of our traits or stated as the same (``skos:exactMatch``). All else a person decides in a file.
"""

import re
from collections.abc import Mapping
from dataclasses import dataclass
from decimal import Decimal
from xml.etree.ElementTree import Element

from import_scripts.base import Draft
from import_scripts.exchange.archive_meta import Archive, ArchiveRow, local_name, rows_of, xml
from import_scripts.exchange.archive_zip import StrangeZip
from import_scripts.exchange.gathered import Brought, Gathered, NewRecord, Place
from import_scripts.exchange.matching import DECIDE, LEFT_OUT, Matcher
from import_scripts.exchange.numbers import SPAN, number, to_unit_of
from kb.errors import BadFile
from kb.exchange.archive_layout import DWC, DWCIRI, RECORDS
from kb.exchange.authored import without_author
from kb.exchange.cells import BadCell, parted, shortened
from kb.model import NumberKind, PlantId, Source, SourceKey, Trait, TraitId
from kb.namespaces import iri
from kb.vocabulary_store import Vocabulary

OBIS = "http://rs.iobis.org/obis/terms/"
TYPE_IDS = (f"{DWCIRI}measurementType", f"{OBIS}measurementTypeID")
UNIT_IDS = (f"{DWCIRI}measurementUnit", f"{OBIS}measurementUnitID")
FACTS = (RECORDS.row_type, f"{OBIS}ExtendedMeasurementOrFact")
CONDITIONS = {
    f"{DWC}measurementMethod": "method",
    f"{DWC}measurementDeterminedBy": "study",
    f"{DWC}measurementDeterminedDate": "date",
    f"{DWC}measurementAccuracy": "accuracy",
}
FLOOR = re.compile(r"(?:>=?|≥)\s*(.+)")
CEILING = re.compile(r"(?:<=?|≤)\s*(.+)")
Ends = tuple[Decimal | None, Decimal | None, Decimal | None]


@dataclass(slots=True)
class ForeignReader:
    """Reads the measurements of one archive into ``gathered``; bad rows go to the report."""

    vocabulary: Vocabulary
    matcher: Matcher
    source: Source
    gathered: Gathered
    report: Brought
    comma: bool = False

    def read(self, archive: StrangeZip, described: Archive) -> None:
        """Every measurement of a taxon; tables that hold none are named in the report."""
        core = described.tables[0]
        names = {
            row.taxon: (row[f"{DWC}scientificName"], row[f"{DWC}scientificNameAuthorship"])
            for row in rows_of(archive, described, core, nulls=True)
        }
        self.gathered.sources[self.source.key] = self.source
        for table in described.tables[1:]:
            if table.row_type in FACTS:
                for row in rows_of(archive, described, table, nulls=True):
                    self.report.rows += 1
                    self._one(row, names)
            else:
                self.report.notices.append(
                    f"the table of {table.row_type} was not read: it holds no measurements"
                )

    def _one(self, row: ArchiveRow, names: Mapping[str, tuple[str, str]]) -> None:
        name, author = names.get(row.taxon, ("", ""))
        place = Place(row.file, row.line, shortened(name or row.taxon))
        if not name:
            self._refuse(place, f"'{shortened(row.taxon)}' is no taxon of the core", "mend its id")
            return
        plant, trait = self.matcher.plant(without_author(name, author)), self._trait(row)
        if LEFT_OUT in {plant, trait}:
            self.report.notices.append(f"{row.file}, line {row.line}, '{place.name}': left out, as decided")
            return
        if plant is None or trait is None:
            told = (
                self.matcher.why_none(without_author(name, author))
                if plant is None
                else (f"the measurement '{self._label(row)}' means nothing here", DECIDE)
            )
            self.report.unmatched.append(place.refused(*told, unmatched=True))
            return
        known = self.vocabulary.traits.get(TraitId(trait))
        if known is None or plant not in self.matcher.names.ids:
            self._refuse(
                place, f"the decision '{plant if known else trait}' is no id here", "mend the decision"
            )
            return
        try:
            draft = self._draft(row, PlantId(plant), known, name)
        except BadCell as fault:
            self._refuse(place, f"measurementValue: {fault}", fault.mend)
            return
        self.gathered.drafts.append((place, NewRecord(draft, "importer dwca")))

    def _refuse(self, place: Place, reason: str, mend: str) -> None:
        self.report.refused.append(place.refused(reason, mend))

    def _label(self, row: ArchiveRow) -> str:
        return row[f"{DWC}measurementType"] or next((row[term] for term in TYPE_IDS if row[term]), "")

    def _trait(self, row: ArchiveRow) -> str | None:
        """The trait of a row: by its address, else by what a person decided of its name."""
        addresses = {row[term] for term in (*TYPE_IDS, f"{DWC}measurementType")} - {""}
        for trait in self.vocabulary.traits.values():
            same = {iri("trait", trait.id), *(one for kind, one in trait.matches if kind == "exactMatch")}
            if addresses & same:
                return trait.id
        label = self._label(row)
        decided = self.matcher.decided.of("measurement", label)
        if decided is None:
            self.matcher.miss("measurement", label)
        return decided

    def _draft(self, row: ArchiveRow, plant: PlantId, trait: Trait, name: str) -> Draft:
        printed, given = row[f"{DWC}measurementValue"], row[f"{DWC}measurementUnit"]
        ends, concepts, kind = self._value(printed, row, trait)
        conditions = {key: row[term] for term, key in CONDITIONS.items() if row[term]}
        where = row[f"{DWC}measurementID"]
        return Draft(
            plant=plant,
            trait=trait.id,
            low=ends[0],
            likely=ends[1],
            high=ends[2],
            concepts=concepts,
            number_kind=kind,
            conditions=tuple(sorted(conditions.items())),
            verbatim=f"{printed} {given}".strip(),
            name_as_printed=name,
            source=self.source.key,
            locator=f"{row.file}, {where}" if where else f"{row.file}, line {row.line}",
            basis="read-in-source",
            note=row[f"{DWC}measurementRemarks"] or None,
        )

    def _value(self, printed: str, row: ArchiveRow, trait: Trait) -> tuple[Ends, tuple[str, ...], NumberKind]:
        if not printed:
            raise BadCell("is empty", "fill it in")
        if trait.kind == "window":
            raise BadCell(
                f"{trait.id} needs a first and a last week", "bring it as a table of records (import csv)"
            )
        if trait.kind == "concept":
            return (None, None, None), self._concepts(printed, trait), "membership"
        unit = next((row[term] for term in (*UNIT_IDS, f"{DWC}measurementUnit") if row[term]), "")
        if not unit and trait.unit_label:
            raise BadCell("has no measurementUnit", f"give its unit, such as {trait.unit_label}")
        ends, kind = self._ends(printed, trait)
        turned = [None if value is None else to_unit_of(trait, value, unit) for value in ends]
        return (turned[0], turned[1], turned[2]), (), kind

    def _ends(self, printed: str, trait: Trait) -> tuple[Ends, NumberKind]:
        if floor := FLOOR.fullmatch(printed):
            return (number(floor[1], comma=self.comma), None, None), "floor"
        if ceiling := CEILING.fullmatch(printed):
            return (None, None, number(ceiling[1], comma=self.comma)), "ceiling"
        if SPAN.fullmatch(printed):
            low, high = re.findall(
                r"(?<!\d)[+-]?\d+(?:[.,]\d+)?", re.sub(r"(?<=\d)\s*(?:-|–|—|to|\.\.)\s*", " ", printed)
            )
            return (number(low, comma=self.comma), None, number(high, comma=self.comma)), "range"
        kind: NumberKind = "class" if trait.unit_label == "class" else "single"
        return (None, number(printed, comma=self.comma), None), kind

    def _concepts(self, printed: str, trait: Trait) -> tuple[str, ...]:
        known = self.vocabulary.concepts.get(trait.scheme or "", {})
        by_address = {iri(trait.scheme or "", one.id): one.id for one in known.values()}
        by_address |= {
            at: one.id for one in known.values() for kind, at in one.matches if kind == "exactMatch"
        }
        found = []
        for word in parted(printed):
            concept = by_address.get(word) or (word if word in known else None)
            if concept is None:
                raise BadCell(f"'{shortened(word)}' is no value of {trait.id}", "use a value of its scheme")
            found.append(concept)
        return tuple(sorted(set(found)))


def source_of_archive(
    archive: StrangeZip, described: Archive, key: str, known: Mapping[SourceKey, Source]
) -> Source:
    """The source that the archive is: one on file of that key, else described by its own metadata.

    Raises BadFile where neither says what to cite.
    """
    on_file = known.get(SourceKey(key))
    if on_file is not None:
        return on_file
    if described.metadata is None:
        raise BadFile(
            archive.file,
            None,
            f"has no metadata to cite, and source '{key}' is not on file; add the source first.",
        )
    said = _metadata(xml(archive.read(described.metadata), described.metadata))
    if not said["title"]:
        raise BadFile(described.metadata, None, f"has no title to cite, and source '{key}' is not on file.")
    citation = said["citation"] or ". ".join(
        part for part in (said["creator"], said["date"], said["title"]) if part
    )
    return Source(
        key=SourceKey(key),
        citation=citation,
        identifier=None,
        year=said["date"][:4] or None,
        licence=said["rights"] or "not stated",
        licence_iri=None,
        tier="B",
        how_read=f"the Darwin Core Archive {archive.file}",
        credit=citation,
    )


def _metadata(root: Element) -> dict[str, str]:
    """Title, creators, date, rights and citation of an EML document, as plain text."""

    def texts(name: str, within: Element) -> list[str]:
        return [" ".join("".join(one.itertext()).split()) for one in within.iter() if local_name(one) == name]

    creators = [one for one in root.iter() if local_name(one) == "creator"]
    who = []
    for one in creators:
        parts = [*texts("givenName", one), *texts("surName", one)] or texts("organizationName", one)
        who.append(" ".join(parts))
    return {
        "title": next(iter(texts("title", root)), ""),
        "creator": ", ".join(name for name in who if name),
        "date": next(iter(texts("pubDate", root)), ""),
        "rights": next(iter(texts("intellectualRights", root)), ""),
        "citation": next(iter(texts("citation", root)), ""),
    }
