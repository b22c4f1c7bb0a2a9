"""An import reads everything before it writes anything, and a second one changes no byte."""

from collections.abc import Callable
from datetime import date
from pathlib import Path

import pytest

from import_scripts.registry import importers
from import_scripts.run import run
from kb.errors import SourceFault, StoreFault
from kb.repository import FilesRepository, MemoryRepository

DAY, NEXT = date(2026, 11, 25), date(2026, 12, 24)
TABLES = {
    "fao56_table11.csv": "Crop,Lini,Ldev,Lmid,Llate,Total,Plant Date,Region\n"
    "potato,30,35,50,30,145,apr,europe\n",
    "fao56_table12.csv": "Crop,Kcmini,Kcmmid,Kcmend,hmax\npotato,0.5,1.15,0.75,0.6\n",
    "fao56_table22.csv": "Crop,Zrmax1,Zrmax2,pbase\npotato,0.4,0.6,0.35\nmoon crop,1,2,0.5\n",
}
"""Three cited rows of FAO-56 (tables 11, 12, 22) and an invented one."""


def contents(folder: Path) -> dict[str, bytes]:
    return {str(path.relative_to(folder)): path.read_bytes() for path in sorted(folder.rglob("*.ttl"))}


@pytest.fixture
def small(tmp_path: Path) -> Path:
    """A store in files with one plant (identity as shipped), nothing else."""
    folder = tmp_path / "store"
    (tmp_path / "taxa").mkdir()
    (tmp_path / "taxa" / "taxa.csv").write_text(
        "plant,scientific_name,authority,rank,parent,according_to,groups,common_names\n"
        "solanum-tuberosum,Solanum tuberosum,L.,species,,taxa,annual-vegetable,en:potato\n"
    )
    (tmp_path / "taxa" / "synonyms.csv").write_text(
        "plant,name,authority,according_to\nsolanum-tuberosum,Solanum inventum,,taxa\n"
    )
    run(importers()["taxa"], tmp_path / "taxa", FilesRepository(None, folder), DAY)
    return folder


def test_a_second_run_changes_no_byte(small: Path, written: Callable[..., Path]) -> None:
    """Importing the same tables on another day leaves every file as it is."""
    tables = written(TABLES)
    first = run(importers()["fao56"], tables, FilesRepository(None, small), DAY)
    before = contents(small)

    second = run(importers()["fao56"], tables, FilesRepository(None, small), NEXT)

    assert 7 == len(first.added) == second.unchanged
    assert [] == second.plants_written == second.sources_written == second.added
    assert before == contents(small)


def test_a_source_that_nothing_cites_is_not_brought_back(small: Path, written: Callable[..., Path]) -> None:
    """Three tables are described; of one whose only crop is not held here nothing is written."""
    tables = written({**TABLES, "fao56_table22.csv": "Crop,Zrmax1,Zrmax2,pbase\nmoon crop,1,2,0.5\n"})
    store = FilesRepository(None, small)

    report = run(importers()["fao56"], tables, store, DAY)

    cited = {record.source for plant in store.snapshot().plants.values() for record in plant.records}
    assert cited == set(report.sources_written) == {"fao56-t11", "fao56-t12"}


def test_the_report_names_each_row_that_became_nothing(small: Path, written: Callable[..., Path]) -> None:
    """Rows read, records added, and the row of an unknown crop with its line and what to do."""
    report = run(importers()["fao56"], written(TABLES), FilesRepository(None, small), DAY)

    assert 4 == report.rows
    (stray,) = report.unmatched
    assert ("fao56_table22.csv", 3, "moon crop") == (stray.file, stray.row, stray.name)
    assert "mapping.csv" in stray.mend
    assert report.as_dict()["added"] == 7
    assert report.lines()[0].startswith("fao56: 4 rows read; 7 records added")


def test_a_broken_table_leaves_the_store_as_it_was(small: Path, written: Callable[..., Path]) -> None:
    """The last of three tables is cut short: nothing of the other two is written."""
    before = contents(small)
    tables = written(TABLES | {"fao56_table22.csv": "Crop,Zrmax1,Zrmax2,pbase\npotato,0.4\n"})

    with pytest.raises(SourceFault, match="line 2 has 2 of 4 cells"):
        run(importers()["fao56"], tables, FilesRepository(None, small), DAY)

    assert before == contents(small)


def test_a_value_changed_upstream_is_reported_and_revises(small: Path, written: Callable[..., Path]) -> None:
    """The record on file stays; a revision with the new value is added and named in the report."""
    run(importers()["fao56"], written(TABLES), FilesRepository(None, small), DAY)
    changed = TABLES | {"fao56_table22.csv": "Crop,Zrmax1,Zrmax2,pbase\npotato,0.4,0.7,0.35\n"}

    report = run(importers()["fao56"], written(changed), FilesRepository(None, small), NEXT)

    old = "solanum-tuberosum.effective-rooting-depth.fao56-t22"
    assert [(old, f"{old}.r2")] == report.changed
    assert any(line.startswith(f"changed: {old} stays") for line in report.lines())
    records = {r.id: r for r in FilesRepository(None, small).snapshot().plants["solanum-tuberosum"].records}  # type: ignore[index]
    assert (DAY, NEXT) == (records[old].entered_on, records[f"{old}.r2"].entered_on)


def test_a_store_with_a_broken_file_is_not_written_over(small: Path, written: Callable[..., Path]) -> None:
    """An import would replace what it cannot read: it stops and names the file."""
    (small / "plants" / "solanum" / "tuberosum.ttl").write_text("this is no Turtle")

    with pytest.raises(StoreFault, match="Mend it first"):
        run(importers()["fao56"], written(TABLES), FilesRepository(None, small), DAY)

    assert "this is no Turtle" == (small / "plants" / "solanum" / "tuberosum.ttl").read_text()


def test_a_plant_that_is_not_in_the_store_is_reported(written: Callable[..., Path]) -> None:
    """Importers never make plants: in an empty store each row says to run taxa first."""
    report = run(importers()["fao56"], written(TABLES), MemoryRepository(), DAY)

    assert [] == report.added
    assert any("run the importer taxa first" in stray.mend for stray in report.unmatched)


def test_a_path_that_is_not_there_is_named(store: MemoryRepository, tmp_path: Path) -> None:
    """A wrong folder is a fault in words."""
    with pytest.raises(SourceFault, match="there is no 'nowhere'"):
        run(importers()["fao56"], tmp_path / "nowhere", store, DAY)


def test_taxa_keep_the_records_of_a_plant(small: Path, written: Callable[..., Path], tmp_path: Path) -> None:
    """A corrected name changes the identity of a plant and none of its records."""
    run(importers()["fao56"], written(TABLES), FilesRepository(None, small), DAY)
    table = tmp_path / "taxa" / "taxa.csv"
    table.write_text(table.read_text().replace("en:potato", "en:potato;en:spud"))

    run(importers()["taxa"], tmp_path / "taxa", FilesRepository(None, small), NEXT)

    plant = FilesRepository(None, small).snapshot().plants["solanum-tuberosum"]  # type: ignore[index]
    assert ["potato", "spud"] == [name.name for name in plant.common_names]
    assert 7 == len(plant.records)


@pytest.mark.parametrize(
    ("taxa", "said"),
    [
        ("x-y,X y,,species,,taxa,herb,en:x\nx-y,X y,,species,,taxa,herb,en:x\n", "stands twice"),
        ("a-b,A b,,species,,taxa,herb,en:a\n", "names x-y, which taxa.csv lacks"),
    ],
)
def test_taxa_that_contradict_themselves_are_refused(
    written: Callable[..., Path], taxa: str, said: str
) -> None:
    """A plant listed twice, or a synonym of a plant that is not listed, stops the import (invented)."""
    folder = written(
        {
            "taxa.csv": "plant,scientific_name,authority,rank,parent,according_to,groups,common_names\n"
            + taxa,
            "synonyms.csv": "plant,name,authority,according_to\nx-y,X z,,taxa\n",
        }
    )

    with pytest.raises(SourceFault, match=said):
        run(importers()["taxa"], folder, MemoryRepository(), DAY)


def test_a_group_that_is_no_planting_group_is_refused(written: Callable[..., Path]) -> None:
    """A misspelt planting group is a refused row with its line."""
    folder = written(
        {
            "taxa.csv": "plant,scientific_name,authority,rank,parent,according_to,groups,common_names\n"
            "x-y,X y,,species,,taxa,hurb,en:x\n",
            "synonyms.csv": "plant,name,authority,according_to\nx-y,X z,,taxa\n",
        }
    )

    report = run(importers()["taxa"], folder, MemoryRepository(), DAY)

    assert "'hurb' is no planting group" == report.refused[0].reason
