"""A table of records brought in: sound rows become records, bad ones are told, nothing is half-written."""

from dataclasses import replace
from decimal import Decimal
from pathlib import Path

import pytest

from import_scripts.exchange.bring import Wishes, bring_csv
from kb.errors import BadFile, BadParameter, StoreFault
from kb.model import CommonName, Name
from kb.repository import FilesRepository, MemoryRepository
from tests.import_scripts.brought import DAY, ROW, brought, table, told
from tests.kb.invented import PLANT, RECORD, SOURCE, other

ID = "inventa-exemplaris.mature-height.invented-book"


@pytest.fixture
def store() -> MemoryRepository:
    plant = replace(PLANT, synonyms=(Name("Inventa altera", None, None),))
    return MemoryRepository((plant,), (SOURCE,))


@pytest.fixture
def file(tmp_path: Path) -> Path:
    return tmp_path / "mine.csv"


def records(store: MemoryRepository) -> dict[str, object]:
    return {record.id: record for record in store.snapshot().plants[PLANT.id].records}


def test_a_sound_row_becomes_a_proposed_record(store: MemoryRepository, file: Path) -> None:
    """With an id of its own, the day, and all that the row says."""
    report = brought(file, table({}), store)

    record = next(r for r in store.snapshot().plants[PLANT.id].records if r.id == ID)
    assert [ID] == report.added
    assert (Decimal("4.5"), "proposed", DAY, (("age", "10 years"),), "p. 7") == (
        record.likely,
        record.standing,
        record.entered_on,
        record.conditions,
        record.locator,
    )


def test_the_same_file_twice_changes_nothing(store: MemoryRepository, file: Path) -> None:
    """A second time every row is on file."""
    brought(file, table({}, {"locator": "p. 8"}), store)
    before = store.snapshot()

    report = brought(file, table({}, {"locator": "p. 8"}), store)

    assert (2, [], False) == (report.unchanged, report.added, report.kept)
    assert before is store.snapshot()


@pytest.mark.parametrize("delimiter", [",", ";", "\t"])
@pytest.mark.parametrize("encoding", ["utf-8", "utf-8-sig", "utf-16"])
def test_delimiter_and_unicode_mark_are_seen(
    store: MemoryRepository, file: Path, delimiter: str, encoding: str
) -> None:
    """Whatever a spreadsheet writes when it writes Unicode; columns in any order."""
    row = dict(reversed(ROW.items()))
    report = brought(file, table(row, delimiter=delimiter).encode(encoding), store)

    assert [ID] == report.added


BAD_CELLS = [
    ({"likely": "45 cm"}, "column likely: '45 cm' holds more than a number"),
    ({"likely": "4,5"}, "may mean decimals or thousands"),
    ({"likely": "1,200"}, "may mean decimals or thousands"),
    ({"likely": "Jan-02"}, "a spreadsheet makes one of a range such as 1-2"),
    ({"likely": "2-Jan"}, "a spreadsheet makes one of a range such as 1-2"),
    ({"likely": "01.02.2026"}, "a spreadsheet makes one of a range such as 1-2"),
    ({"verbatim": "Jan-02"}, "column verbatim: 'Jan-02' is a date"),
    ({"likely": "1-2"}, "is a range; write its lower end in low"),
    ({"likely": "high"}, "is no number"),
    ({"likely": ""}, "so are likely and high"),
    ({"likely": "45", "verbatim": "45 cm"}, "column unit: the source prints '45 cm', the unit here is m"),
    ({"unit": ""}, "column unit: is empty; write the unit of the value (m)"),
    ({"unit": "kg/ha"}, "column unit: 'kg/ha' is no unit of mature-height"),
    ({"unit": "degC"}, "column unit: 'degC' is no unit of mature-height"),
    ({"likely": "450"}, "A value of mature-height outside 0.005 to 130.0 m is impossible"),
    ({"plant": "Inventa exemplarus"}, "no plant goes by the name 'Inventa exemplarus' here"),
    ({"trait": "heigth"}, "'heigth' is no trait"),
    (
        {"trait": "growth-form", "likely": "", "unit": "", "concept": "bush"},
        "'bush' is no value of growth-form",
    ),
    ({"concept": "tree"}, "mature-height is a number"),
    ({"number_kind": "average"}, "column number_kind: 'average' is not known; write one of single, mean"),
    ({"basis": "internet"}, "column basis"),
    ({"locator": ""}, "column locator: is empty"),
    ({"conditions": "ten years"}, "write key=value"),
    ({"source": "no-book"}, "'no-book' is not on file and has no citation and no licence"),
    (
        {"source": "my-book", "citation": "own", "licence": "x"},
        "'my-book' breaks a rule: Give the citation once",
    ),
    ({"source": "../../evil", "citation": "x", "licence": "x"}, "'../../evil' is no key"),
    (
        {"source": "my-book", "citation": "x", "licence": "x", "licence_iri": "a b"},
        "licence_iri 'a b' is no address",
    ),
    (
        {
            "record": f"{ID}.a/../b",
            "standing": "proposed",
            "entered_by": "me",
            "entered_on": "2026-11-26",
        },
        "is no id",
    ),
    ({"citation": "Another book"}, "'invented-book' is on file with another citation"),
    ({"standing": "accepted"}, "'accepted' is decided, not brought in"),
    ({"entered_on": "26/11/2026"}, "column entered_on"),
    ({"entered_on": "2036-11-26"}, "was entered on 2036-11-26, which lies ahead"),
    ({"record": "inventa-exemplaris.rooting-depth.invented-book.9"}, "is no id of such a record"),
    ({"scientific_name": "Inventa altera", "plant": ""}, ""),
    ({"verbatim": 30_000 * "x"}, "column verbatim: has 30,000 characters"),
]


@pytest.mark.parametrize(("cells", "said"), BAD_CELLS)
def test_a_bad_cell_is_told_and_nothing_is_written(
    store: MemoryRepository, file: Path, cells: dict[str, str], said: str
) -> None:
    """Row, column, what is wrong, how to mend it; the good row beside it waits too."""
    before = records(store)

    report = brought(file, table({}, cells), store)

    if not said:
        assert [] == told(report)
        return
    assert said in told(report)[0]
    assert told(report)[0].startswith("3: ")
    assert not report.kept
    assert before == records(store)


def test_a_common_name_is_told_with_all_who_go_by_it(file: Path) -> None:
    """As for "bean", which lists use of several kinds (common practice): none is chosen or called unknown."""
    named = [replace(plant, common_names=(CommonName("bean", "en"),)) for plant in (PLANT, other("altera"))]
    store = MemoryRepository(named, (SOURCE,))

    report = brought(file, table({"plant": "", "scientific_name": "bean"}), store)

    said = "'bean' is no scientific name of one plant here; it can mean Inventa altera or Inventa exemplaris"
    assert said in told(report)[0]
    assert not report.kept


def test_good_rows_are_kept_only_when_asked(store: MemoryRepository, file: Path) -> None:
    """Then the bad ones alone are left out, and told all the same."""
    report = brought(file, table({}, {"likely": "45 cm"}), store, keep_good=True)

    assert ([ID], 1) == (report.added, len(report.refused))
    assert ID in records(store)


def test_a_unit_in_its_column_is_turned_and_told(store: MemoryRepository, file: Path) -> None:
    """450 cm is 4.5 m, exactly; the printed words stay and the report says what was done."""
    report = brought(file, table({"likely": "450", "unit": "cm", "verbatim": "450 cm"}), store)

    record = next(r for r in store.snapshot().plants[PLANT.id].records if r.id == ID)
    assert (Decimal("4.5"), "450 cm") == (record.likely, record.verbatim)
    assert ["1 values given in cm were turned into m"] == report.notices


def test_decimal_commas_are_read_when_said(store: MemoryRepository, file: Path) -> None:
    """For a whole file; a point in it is then the odd one out."""
    report = brought(file, table({"likely": "4,5"}, {"likely": "4.6"}), store, comma=True, keep_good=True)

    assert [ID] == report.added
    assert "decimal point in a file of decimal commas" in told(report)[0]


def test_a_new_source_comes_with_citation_and_licence(store: MemoryRepository, file: Path) -> None:
    """What is not said is the cautious reading: single facts, credited by the citation."""
    row = {
        "source": "my-book",
        "citation": "My invented book, 1902",
        "licence": "not stated",
        "identifier": "x:1",
    }
    brought(file, table(row), store)

    source = store.snapshot().sources["my-book"]  # type: ignore[index]
    assert ("My invented book, 1902", "not stated", "x:1", "B", "My invented book, 1902") == (
        source.citation,
        source.licence,
        source.identifier,
        source.tier,
        source.credit,
    )


def test_the_interface_may_call_the_source_by_its_key(store: MemoryRepository, file: Path) -> None:
    """``source_key`` and ``license`` are read as ``source`` and ``licence``."""
    text = table({}).replace(",source,", ",source_key,", 1)

    assert [ID] == brought(file, text, store).added


@pytest.mark.parametrize(
    "column", ["plant", "trait", "verbatim", "source", "locator", "basis", "number_kind"]
)
def test_a_missing_column_is_named(store: MemoryRepository, file: Path, column: str) -> None:
    """Line 1, the column, and where to see them all."""
    with pytest.raises(BadFile, match=f"line 1: lacks the column {column}"):
        brought(file, table({}, without=column), store)


def test_an_unknown_column_is_not_dropped_unseen(store: MemoryRepository, file: Path) -> None:
    """What would not be read is refused."""
    with pytest.raises(BadFile, match="has the column 'colour', which means nothing here"):
        brought(file, table({"colour": "red"}), store)


def test_a_row_of_too_few_cells_is_one_bad_row(store: MemoryRepository, file: Path) -> None:
    """The others are not shifted by it."""
    text = table({}) + "inventa-exemplaris,mature-height\r\n"

    report = brought(file, text, store, keep_good=True)

    assert [ID] == report.added
    assert "3: has 2 of 14 cells" in told(report)[0]


def test_a_wrong_encoding_is_refused_with_what_to_do(store: MemoryRepository, file: Path) -> None:
    """Windows-1252 may be said, never guessed, where records are kept."""
    text = table({"note": "é"}).encode("windows-1252")
    with pytest.raises(BadFile, match="line 2: is not UTF-8; save it as UTF-8, or name its encoding"):
        brought(file, text, store)

    assert [ID] == brought(file, text, store, encoding="windows-1252").added


def test_a_cell_of_ten_megabytes_is_refused(store: MemoryRepository, file: Path) -> None:
    """Before it can be taken for a value."""
    with pytest.raises(BadFile, match="more than 131,072 characters"):
        brought(file, table({"verbatim": 10_000_000 * "x"}), store)


def test_an_id_twice_is_told(store: MemoryRepository, file: Path) -> None:
    """The second row, with the line of the first."""
    row = {"record": ID, "standing": "proposed", "entered_by": "me", "entered_on": "2026-11-26"}
    report = brought(file, table(row, {**row, "likely": "5"}), store)

    assert "stands in line 2 too" in told(report)[0]


def test_what_is_on_file_is_not_edited(store: MemoryRepository, file: Path) -> None:
    """The id of a record with another value is refused; a row that revises it becomes a revision."""
    row = {
        "trait": "rooting-depth",
        "low": "1.2",
        "likely": "",
        "high": "1.9",
        "verbatim": RECORD.verbatim,
        "locator": RECORD.locator,
        "number_kind": "range",
    }
    entry = {"record": RECORD.iri, "standing": "proposed", "entered_by": "me", "entered_on": "2026-11-26"}

    refused = brought(file, table({**row, **entry}), store)
    revised = brought(file, table({**row, "revises": RECORD.id}), store)

    assert "is on file with other content (high," in told(refused)[0]
    assert [(RECORD.id, f"{RECORD.id}.r2")] == revised.changed
    assert RECORD in store.snapshot().plants[PLANT.id].records


def test_a_decided_name_is_read_as_decided(store: MemoryRepository, file: Path, tmp_path: Path) -> None:
    """The file of undecided names, filled in by a person, is obeyed; ``-`` leaves a name out."""
    file.write_text(table({"plant": "Moonwort"}, {"plant": "Sunwort", "locator": "p. 9"}), encoding="utf-8")
    undecided = bring_csv(file, store, DAY, Wishes())[1]
    decisions = tmp_path / "decided.csv"
    decisions.write_text(
        "kind,label,means,rows,nearest\n"
        f"taxon,{undecided[0].label},{PLANT.id},1,\ntaxon,{undecided[1].label},-,1,\n",
        encoding="utf-8",
    )

    report = bring_csv(file, store, DAY, Wishes(decisions=decisions))[0]

    assert ([ID], []) == (report.added, told(report))
    assert ["mine.csv, line 3, 'Sunwort': left out, as decided"] == report.notices


def test_a_decision_for_a_plant_that_is_not_here_is_told(
    store: MemoryRepository, file: Path, tmp_path: Path
) -> None:
    """Before any row is read."""
    decisions = tmp_path / "decided.csv"
    decisions.write_text("kind,label,means\ntaxon,Moonwort,no-plant\n", encoding="utf-8")
    with pytest.raises(BadParameter, match="which is no plant id here"):
        brought(file, table({}), store, decisions=decisions)


def test_a_full_disk_leaves_every_file_whole(
    tmp_path: Path, file: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    """A write that fails leaves what was there; the same file brought again completes it."""
    store = FilesRepository(None, tmp_path / "store")
    store.put_source(SOURCE)
    store.put_plant(PLANT)
    before = {p.name: p.read_bytes() for p in (tmp_path / "store").rglob("*.ttl")}

    def full(*_: object) -> None:
        raise OSError(28, "No space left on device")

    with monkeypatch.context() as patched:
        patched.setattr("kb.stores.files.os.fsync", full)
        with pytest.raises(StoreFault, match="took 0 of 1 plants, then failed"):
            brought(file, table({}), store)

    assert before == {p.name: p.read_bytes() for p in (tmp_path / "store").rglob("*.ttl")}
    assert [ID] == brought(file, table({}), store).added
