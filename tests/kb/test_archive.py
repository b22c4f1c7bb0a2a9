"""The Darwin Core Archive, read by others' libraries: python-dwca-reader, and metapype for the EML."""

import csv
import io
import zipfile
from collections import Counter
from pathlib import Path

import pytest
from dwca.read import DwCAReader
from metapype.eml import validate
from metapype.model import metapype_io

from kb.exchange import archive_layout as layout
from kb.exchange.archive import archive_pieces, eml_xml
from kb.exchange.archive_readme import OWN
from kb.namespaces import BASE
from kb.repository import MemoryRepository, open_repository
from kb.snapshot import Snapshot
from tests.kb.invented import CAUTION, DECISION, PLANT, RECORD, SOURCE


@pytest.fixture
def snapshot() -> Snapshot:
    return MemoryRepository((PLANT,), (SOURCE,)).snapshot()


@pytest.fixture
def archive(snapshot: Snapshot, tmp_path: Path) -> Path:
    path = tmp_path / "archive.zip"
    path.write_bytes(b"".join(archive_pieces(snapshot)))
    return path


def test_python_dwca_reader_reads_it(archive: Path) -> None:
    """Core, extensions and metadata are found by a reader that knows only the text guide."""
    with DwCAReader(archive) as read:
        plant = read.get_corerow_by_id(PLANT.iri)
        kinds = Counter(row.rowtype for row in plant.extensions)
        fact = next(row.data for row in plant.extensions if row.rowtype == layout.RECORDS.row_type)

    assert "Inventa exemplaris" == plant.data[f"{layout.DWC}scientificName"]
    assert {
        layout.RECORDS.row_type: 1,
        layout.REFERENCES.row_type: 1,
        layout.CAUTIONS.row_type: 1,
        layout.DECISIONS.row_type: 1,
    } == dict(kinds)
    assert (RECORD.iri, "rooting depth (deepest found)", "1.2-1.8", "m") == tuple(
        fact[layout.DWC + name]
        for name in ("measurementID", "measurementType", "measurementValue", "measurementUnit")
    )
    assert (
        "http://purl.obolibrary.org/obo/TO_0000519" == fact["http://www.w3.org/2004/02/skos/core#exactMatch"]
    )
    assert (RECORD.verbatim, RECORD.locator, RECORD.basis, SOURCE.key) == tuple(
        fact[BASE + name] for name in ("verbatim", "locator", "basis", "sourceKey")
    )


def test_the_metadata_is_valid_eml(snapshot: Snapshot) -> None:
    """By metapype, the validator of the Environmental Data Initiative for EML 2.2."""
    faults: list[object] = []
    validate.tree(metapype_io.from_xml(eml_xml(snapshot).decode()), faults)

    assert [] == faults


def test_the_metadata_names_rights_version_and_credits(snapshot: Snapshot) -> None:
    """Who reads only eml.xml knows whom to credit."""
    text = eml_xml(snapshot).decode()

    assert f"Data set version {snapshot.version}" in text
    assert f"{SOURCE.key}: An invented handbook. Licence: {SOURCE.licence}. Tier A." in text
    assert "<intellectualRights>" in text


def test_the_readme_explains_what_is_there(archive: Path) -> None:
    """Every file, every column of our own, every trait; and that silence is not safety."""
    with zipfile.ZipFile(archive) as files:
        text = " ".join(files.read("README.txt").decode().split())
        names = set(files.namelist())

    assert {"README.txt", "meta.xml", "eml.xml"} | {
        one.file for one in (layout.TAXA, *layout.EXTENSIONS)
    } == names
    assert [] == [name for name in names - {"README.txt"} if name not in text]
    own = {
        c.name for one in (layout.TAXA, *layout.EXTENSIONS) for c in one.columns if c.term == BASE + c.name
    }
    assert own == set(OWN)
    assert "No caution on record is not the same as safe" in text
    assert "rooting depth (deepest found) (rooting-depth):" in text


def test_warnings_and_decisions_are_not_lost(archive: Path) -> None:
    """A caution and a decision are whole in their tables."""
    with zipfile.ZipFile(archive) as files:
        caution = next(csv.DictReader(io.StringIO(files.read("caution.csv").decode())))
        decision = next(csv.DictReader(io.StringIO(files.read("decision.csv").decode())))

    assert (CAUTION.id, CAUTION.text, CAUTION.place) == (
        caution["caution"],
        caution["text"],
        caution["place"],
    )
    assert (DECISION.id, DECISION.why, RECORD.id, "preferred") == (
        decision["decision"],
        decision["why"],
        decision["record"],
        decision["role"],
    )


def test_the_same_data_gives_the_same_bytes(snapshot: Snapshot) -> None:
    """So that an entity tag means what it says."""
    assert b"".join(archive_pieces(snapshot)) == b"".join(archive_pieces(snapshot))


def test_no_column_of_the_shipped_archive_is_without_use() -> None:
    """Over the whole base every column holds something somewhere, save what no source states so far."""
    so_far = {"measurementorfact.csv likelyWeek", "emission.csv note"}
    snapshot = open_repository(None).snapshot()
    unused = set()
    with zipfile.ZipFile(io.BytesIO(b"".join(archive_pieces(snapshot)))) as files:
        for one in (layout.TAXA, *layout.EXTENSIONS):
            rows = list(csv.DictReader(io.StringIO(files.read(one.file).decode())))
            unused |= {f"{one.file} {c.name}" for c in one.columns if not any(row[c.name] for row in rows)}

    own = ("observation.csv", "withdrawal.csv", "review.csv", "search.csv")  # none is shipped so far
    assert (
        set()
        == {name for name in unused if not name.endswith("revises") and not name.startswith(own)} - so_far
    )
