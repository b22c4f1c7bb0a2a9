"""A published table is read strictly: whatever is not as expected is named with its line."""

from collections.abc import Callable
from pathlib import Path

import pytest

from import_scripts.tables import csv_rows, locate, read_text
from kb.errors import SourceFault

Written = Callable[..., Path]


def rows(folder: Path, **options: str) -> list[tuple[int, str]]:
    found = csv_rows(folder / "t.csv", ("plant", "depth"), name="plant", **options)
    return [(row.number, row.name) for row in found]


def test_rows_keep_their_line_and_their_name(written: Written) -> None:
    """A row knows its line in the file and the name as printed (invented rows)."""
    folder = written({"t.csv": "plant,depth\ncarrot,0.5\n\nonion,0.3\n"})

    assert [(2, "carrot"), (4, "onion")] == rows(folder)


@pytest.mark.parametrize("ends", ["\n", "\r\n", "\r"])
def test_line_ends_of_all_systems_are_read(written: Written, ends: str) -> None:
    """Files with the line ends of other systems give the same rows (the leaf file of Zanne 2014 has CR)."""
    folder = written({"t.csv": ends.join(["plant,depth", "carrot,0.5", "onion,0.3"])})

    assert ["carrot", "onion"] == [name for _, name in rows(folder)]


@pytest.mark.parametrize(
    ("text", "said"),
    [
        ("plant,deep\ncarrot,1\n", "line 1 lacks the column depth"),
        ("plant,depth\ncarrot,1\nonion\n", "line 3 has 1 of 2 cells"),
        ("plant,depth\ncarrot,1\nonion,1,2\n", "line 3 has 3 of 2 cells"),
        ('plant,depth\ncarrot,"1\n', "cannot be read as a table"),
        ("plant,depth\n", "holds no rows"),
        ("", "holds no rows"),
        ("plant,depth\ncarrot,\x00\n", "zero bytes"),
    ],
)
def test_a_table_that_is_not_as_expected_is_named(written: Written, text: str, said: str) -> None:
    """Missing columns, a cut file, an open quotation mark, nothing at all: each says what and where."""
    folder = written({"t.csv": text})

    with pytest.raises(SourceFault, match=said):
        rows(folder)


def test_a_wrong_encoding_is_named_with_its_line(written: Written) -> None:
    """A file saved in another encoding is a fault on a line, never text with strange letters."""
    folder = written({"t.csv": "plant,depth\ncarrot,1\nsauge à fleurs,1\n"}, encoding="latin-1")

    with pytest.raises(SourceFault, match="line 3 is not utf-8"):
        rows(folder)


def test_a_file_that_is_not_there_is_named(tmp_path: Path) -> None:
    """A folder without the file says which file it should hold."""
    with pytest.raises(SourceFault, match=r"t\.csv: is not in"):
        locate(tmp_path, "t.csv")


def test_a_cell_out_of_all_proportion_is_refused(written: Written) -> None:
    """A cell of a megabyte is no cell of a trait table."""
    folder = written({"t.csv": f"plant,depth\ncarrot,{'1' * 1_000_000}\n"})

    with pytest.raises(SourceFault, match="line 2 cannot be read"):
        rows(folder)


def test_a_folder_in_place_of_a_file_is_named(tmp_path: Path) -> None:
    """What cannot be opened is a fault with the reason, not a traceback."""
    (tmp_path / "t.csv").mkdir()

    with pytest.raises(SourceFault, match="cannot be read"):
        read_text(tmp_path / "t.csv")
