"""Darwin Core Archives brought in: our own whole, those of others where taxon and trait are certain."""

import csv
import io
import zipfile
from collections.abc import Callable
from dataclasses import replace
from decimal import Decimal
from pathlib import Path

import pytest

from import_scripts.exchange.bring import Wishes, bring_archive
from kb.errors import BadFile, BadParameter
from kb.exchange.archive import archive_pieces
from kb.model import Name
from kb.repository import MemoryRepository
from tests.import_scripts.brought import DAY, brought, told
from tests.kb.invented import PLANT, RECORD, SOURCE

FACTS = "http://rs.tdwg.org/dwc/terms/MeasurementOrFact"
META = """<?xml version="1.0" encoding="UTF-8"?>
<archive xmlns="http://rs.tdwg.org/dwc/text/" metadata="eml.xml">
  <core encoding="UTF-8" fieldsTerminatedBy="\\t" linesTerminatedBy="\\n" fieldsEnclosedBy=""
        ignoreHeaderLines="1" rowType="http://rs.tdwg.org/dwc/terms/Taxon">
    <files><location>taxon.txt</location></files>
    <id index="0"/>
    <field index="1" term="http://rs.tdwg.org/dwc/terms/scientificName"/>
  </core>
  <extension encoding="UTF-8" fieldsTerminatedBy="\\t" linesTerminatedBy="\\n" fieldsEnclosedBy=""
        ignoreHeaderLines="1" rowType="http://rs.tdwg.org/dwc/terms/MeasurementOrFact">
    <files><location>facts.txt</location></files>
    <coreid index="0"/>
    <field index="1" term="http://rs.tdwg.org/dwc/terms/measurementType"/>
    <field index="2" term="http://rs.tdwg.org/dwc/terms/measurementValue"/>
    <field index="3" term="http://rs.tdwg.org/dwc/terms/measurementUnit"/>
    <field index="4" term="http://rs.tdwg.org/dwc/iri/measurementType"/>
    <field term="http://rs.tdwg.org/dwc/terms/measurementMethod" default="trench"/>
  </extension>
</archive>
"""
EML = """<?xml version="1.0"?>
<eml:eml xmlns:eml="https://eml.ecoinformatics.org/eml-2.2.0"><dataset><title>An invented survey</title>
<creator><organizationName>The invented institute</organizationName></creator><pubDate>1999-05-01</pubDate>
<intellectualRights><para>CC0, because it is invented</para></intellectualRights></dataset></eml:eml>
"""
DEPTH = "http://purl.obolibrary.org/obo/TO_0000519"
"""Rooting depth in the Plant Trait Ontology: stated as the same as our trait in the vocabulary."""
TAXA = "id\tname\n1\tInventa exemplaris\n2\tInventa altera\n3\tInventa exemplarus\n"

Packed = Callable[..., Path]


@pytest.fixture
def packed(tmp_path: Path) -> Packed:
    """Pack an archive of others from these facts (or other parts) and give its path."""

    def pack(facts: str, **parts: str) -> Path:
        path = tmp_path / "survey.zip"
        header = "id\ttype\tvalue\tunit\tiri\n"
        whole = {"meta.xml": META, "eml.xml": EML, "taxon.txt": TAXA, "facts.txt": header + facts}
        whole |= {name.replace("_", "."): text for name, text in parts.items()}
        with zipfile.ZipFile(path, "w") as archive:
            for name, text in whole.items():
                archive.writestr(name, text)
        return path

    return pack


@pytest.fixture
def store() -> MemoryRepository:
    plant = replace(PLANT, records=(), decisions=(), synonyms=(Name("Inventa altera", None, None),))
    return MemoryRepository((plant,), (SOURCE,))


def test_a_certain_measurement_becomes_a_record(store: MemoryRepository, packed: Packed) -> None:
    """Accepted name or listed synonym, and the address of a trait: with the archive as its source."""
    path = packed(f"1\troot depth\t120\tcm\t{DEPTH}\n2\troot depth\t0.3-1.2\tm\t{DEPTH}\n")

    report = bring_archive(path, store, DAY, Wishes(source="survey"))[0]

    assert [] == told(report)
    records = store.snapshot().plants[PLANT.id].records
    assert [
        (None, Decimal("1.2"), None, "single", "120 cm", "Inventa exemplaris", "facts.txt, line 2"),
        (Decimal("0.3"), None, Decimal("1.2"), "range", "0.3-1.2 m", "Inventa altera", "facts.txt, line 3"),
    ] == [(r.low, r.likely, r.high, r.number_kind, r.verbatim, r.name_as_printed, r.locator) for r in records]
    assert (("method", "trench"),) == records[0].conditions
    source = store.snapshot().sources["survey"]  # type: ignore[index]
    assert "The invented institute. 1999-05-01. An invented survey" == source.citation
    assert ("CC0, because it is invented", "B") == (source.licence, source.tier)


def test_a_name_with_its_author_is_the_name(packed: Packed) -> None:
    """As on record, or as the archive gives the author in a column of its own."""
    store = MemoryRepository((replace(PLANT, authority="Test.", records=(), decisions=()),), (SOURCE,))
    authorship = "http://rs.tdwg.org/dwc/terms/scientificNameAuthorship"
    meta = META.replace('<id index="0"/>', f'<id index="0"/><field index="2" term="{authorship}"/>')
    taxa = "id\tname\tby\n1\tInventa exemplaris Test.\t\n2\tInventa exemplaris L. ex Me\tL. ex Me\n"
    facts = f"1\tx\t1.2\tm\t{DEPTH}\n2\tx\t1.4\tm\t{DEPTH}\n"

    path = packed(facts, meta_xml=meta, taxon_txt=taxa)
    report, undecided = bring_archive(path, store, DAY, Wishes(source="survey"))

    assert ([], (), 2) == (told(report), undecided, len(report.added))


def test_spelling_alone_matches_nothing(store: MemoryRepository, packed: Packed, tmp_path: Path) -> None:
    """A name one letter off, and a measurement known by its words only, wait for a person."""
    path = packed(f"3\troot depth\t1.2\tm\t{DEPTH}\n1\troot depth\t0.5\tm\t\n")
    report, undecided = bring_archive(path, store, DAY, Wishes(source="survey"))

    names = [(one.kind, one.label) for one in undecided]
    assert [("taxon", "Inventa exemplarus"), ("measurement", "root depth")] == names
    assert ("Inventa exemplaris",) == undecided[0].nearest
    assert (2, False) == (len(report.unmatched), report.kept)

    decisions = tmp_path / "decided.csv"
    decisions.write_text(
        "kind,label,means,rows,nearest\n"
        "taxon,Inventa exemplarus,-,1,\nmeasurement,root depth,rooting-depth,1,\n"
    )
    second = bring_archive(path, store, DAY, Wishes(source="survey", decisions=decisions))[0]

    assert ([], 1, True) == (told(second), len(second.added), second.kept)


@pytest.mark.parametrize(
    ("fact", "said"),
    [
        (f"1\tx\t1,2\tm\t{DEPTH}", "may mean decimals or thousands"),
        (f"1\tx\t1.2\t\t{DEPTH}", "has no measurementUnit"),
        (f"1\tx\t1.2\tkg/ha\t{DEPTH}", "is no unit of rooting-depth"),
        (f"1\tx\tJan-02\tm\t{DEPTH}", "a spreadsheet makes one of a range"),
        (f"1\tx\tdeep\tm\t{DEPTH}", "is no number"),
        (f"1\tx\t\\N\tm\t{DEPTH}", "is empty"),
        (f"1\tx\t500\tm\t{DEPTH}", "is impossible"),
        (f"9\tx\t1\tm\t{DEPTH}", "is no taxon of the core"),
    ],
)
def test_a_bad_measurement_is_told(store: MemoryRepository, packed: Packed, fact: str, said: str) -> None:
    """With its line; nothing is written."""
    report = bring_archive(packed(fact + "\n"), store, DAY, Wishes(source="survey"))[0]

    assert said in told(report)[0]
    assert not report.kept


@pytest.mark.parametrize(
    ("value", "expected"),
    [
        (">= 0.6", (Decimal("0.6"), None, None, "floor")),
        ("<0.3", (None, None, Decimal("0.3"), "ceiling")),
        ("0.3 – 1.2", (Decimal("0.3"), None, Decimal("1.2"), "range")),
        ("0.9", (None, Decimal("0.9"), None, "single")),
    ],
)
def test_one_value_is_read_by_one_parser(
    store: MemoryRepository, packed: Packed, value: str, expected: tuple[object, ...]
) -> None:
    """Floors, ceilings, ranges and single numbers in one cell."""
    bring_archive(packed(f"1\tx\t{value}\tm\t{DEPTH}\n"), store, DAY, Wishes(source="survey"))

    (record,) = store.snapshot().plants[PLANT.id].records
    assert expected == (record.low, record.likely, record.high, record.number_kind)


def test_an_archive_of_others_needs_a_key(store: MemoryRepository, packed: Packed) -> None:
    """What it is cited as cannot be guessed."""
    with pytest.raises(BadParameter, match="the key under which"):
        bring_archive(packed(""), store, DAY, Wishes())


@pytest.mark.parametrize(
    ("parts", "said"),
    [
        ({"meta_xml": "<archive"}, "line 1: is no XML"),
        ({"meta_xml": '<!DOCTYPE a [<!ENTITY x "y">]><archive>&x;</archive>'}, "declares a document type"),
        (
            {"meta_xml": '<!DOCTYPE a SYSTEM "file:///etc/passwd"><archive/>'},
            "declares a document type",
        ),
        ({"meta_xml": "<table/>"}, "begins with <table>"),
        ({"meta_xml": "<archive/>"}, "exactly one core"),
        ({"meta_xml": META.replace("facts.txt", "../facts.txt")}, "which is not in the archive"),
        ({"meta_xml": META.replace("facts.txt", "http://example.org/facts.txt")}, "nothing is fetched"),
        ({"meta_xml": META.replace('index="0"', 'index="-1"')}, "write a whole number"),
        ({"meta_xml": META.replace('encoding="UTF-8" fields', 'encoding="moon" fields')}, "no such encoding"),
        ({"eml_xml": '<!DOCTYPE a [<!ENTITY x "y">]><a>&x;</a>'}, "declares a document type"),
        ({"eml_xml": "<a/>"}, "has no title to cite"),
    ],
)
def test_a_description_that_cannot_be_followed_is_refused(
    store: MemoryRepository, packed: Packed, parts: dict[str, str], said: str
) -> None:
    """DTDs, entities, addresses, places outside, tables that are not there."""
    with pytest.raises(BadFile) as fault:
        bring_archive(packed("", **parts), store, DAY, Wishes(source="survey"))

    assert said in str(fault.value)


def test_a_zip_without_description_is_refused(store: MemoryRepository, tmp_path: Path) -> None:
    """It may be anything."""
    path = tmp_path / "x.zip"
    with zipfile.ZipFile(path, "w") as archive:
        archive.writestr("taxon.txt", TAXA)

    with pytest.raises(BadFile, match="holds 0 files"):
        bring_archive(path, store, DAY, Wishes())


def edited(path: Path, file: str, change: Callable[[dict[str, str]], None]) -> Path:
    """Change the first row of one table of an archive of ours."""
    with zipfile.ZipFile(path) as archive:
        parts = {name: archive.read(name) for name in archive.namelist()}
    rows = list(csv.DictReader(io.StringIO(parts[file].decode())))
    change(rows[0])
    text = io.StringIO(newline="")
    writer = csv.DictWriter(text, list(rows[0]), lineterminator="\n")
    writer.writeheader()
    writer.writerows(rows)
    parts[file] = text.getvalue().encode()
    with zipfile.ZipFile(path, "w") as archive:
        for name, data in parts.items():
            archive.writestr(name, data)
    return path


@pytest.fixture
def ours(tmp_path: Path) -> Path:
    """An archive of the invented plant, as we export it."""
    path = tmp_path / "ours.zip"
    snapshot = MemoryRepository((PLANT,), (SOURCE,)).snapshot()
    path.write_bytes(b"".join(archive_pieces(snapshot)))
    return path


@pytest.mark.parametrize(
    ("file", "cells", "said"),
    [
        (
            "measurementorfact.csv",
            {"minValue": "0.1"},
            "measurementValue says '1.2-1.8', its columns '0.1-1.8'",
        ),
        (
            "measurementorfact.csv",
            {"measurementUnit": "cm"},
            "measurementUnit 'cm' is not that of rooting-depth",
        ),
        ("measurementorfact.csv", {"minValue": "1,2"}, "may mean decimals or thousands"),
        ("measurementorfact.csv", {"startWeek": "12"}, "which rooting-depth does not use"),
        ("measurementorfact.csv", {"sourceKey": "no-book"}, "is not in reference.csv"),
        (
            "measurementorfact.csv",
            {"taxonID": "https://w3id.org/traitbed/plant.x-y"},
            "is no plant of the archive",
        ),
        ("measurementorfact.csv", {"enteredOn": "25.11.2026"}, "column enteredOn"),
        ("measurementorfact.csv", {"basis": "seen"}, "column basis: 'seen' is not known"),
        ("taxon.csv", {"taxonID": "https://w3id.org/traitbed/plant.x/../../y"}, "is no id of a plant"),
        ("taxon.csv", {"scientificName": ""}, "tcs:nameString"),
        ("reference.csv", {"sourceKey": "../../evil"}, "'../../evil' is no key"),
        ("reference.csv", {"license": "a b"}, "licence_iri 'a b' is no address"),
        ("decision.csv", {"taxonID": "https://w3id.org/traitbed/plant.x-y"}, "is no plant of the archive"),
        ("decision.csv", {"decision": "a b"}, "'a b' is no id"),
        ("caution.csv", {"cautionKind": "danger"}, "column cautionKind"),
        ("decision.csv", {"role": "best"}, "is not known"),
        (
            "decision.csv",
            {"record": "inventa-exemplaris.rooting-depth.other"},
            "Name with prov:entity the one record that was weighed",
        ),
    ],
)
def test_an_edited_archive_of_ours_is_held_to_its_own_rules(
    ours: Path, file: str, cells: dict[str, str], said: str
) -> None:
    """Each bad row is told with its table and line; nothing is written."""
    store = MemoryRepository()

    report = bring_archive(
        edited(ours, file, lambda row: row.update(cells)), store, DAY, Wishes(add_plants=True)
    )[0]

    assert any(said in text for text in told(report)), told(report)
    assert not store.snapshot().plants


def test_plants_are_added_only_when_asked(ours: Path) -> None:
    """A store that does not hold them says so and keeps nothing."""
    store = MemoryRepository()

    report = bring_archive(ours, store, DAY, Wishes())[0]

    assert ["2: is no plant of this store; add it with --add-plants"] == told(report)
    assert not store.snapshot().plants


def test_a_source_of_other_words_takes_its_records_along(ours: Path) -> None:
    """A record is never credited to a work that it was not read in."""
    store = MemoryRepository(
        (replace(PLANT, records=(), decisions=()),), (replace(SOURCE, citation="Another"),)
    )

    report = bring_archive(ours, store, DAY, Wishes(keep_good=True))[0]

    assert "source 'invented-book' is on file with other words" in told(report)[0]
    assert RECORD not in store.snapshot().plants[PLANT.id].records


@pytest.mark.parametrize("wishes", [{"source": "x"}, {"comma": True}])
def test_a_wish_that_does_nothing_is_refused(ours: Path, wishes: dict[str, object]) -> None:
    """Our own archives say all that themselves."""
    with pytest.raises(BadParameter, match="does nothing for an archive of our own"):
        brought(ours, ours.read_bytes(), MemoryRepository(), **wishes)
