"""The journal of a store: a line for every change and no line for what did not happen."""

from pathlib import Path

import pytest

from kb.errors import StoreFault
from kb.stores.journal import Entry, Journal


def append(journal: Journal, before: str, after: str) -> Entry:
    """Write an invented line."""
    return journal.append(
        who="curator-a", action="added", plant="inventa-prima", things=(f"record.{after}",), why="A reason.",
        before=f"base-{before}", after=f"base-{after}",
    )  # fmt: skip


@pytest.fixture
def journal(tmp_path: Path) -> Journal:
    return Journal(tmp_path)


def test_lines_come_back_as_they_were_written(journal: Journal) -> None:
    """Numbered from one, oldest first."""
    written = (append(journal, "a", "b"), append(journal, "b", "c"))

    assert written == journal.entries(lambda _plant: "base-c")
    assert [1, 2] == [entry.seq for entry in written]
    assert () == Journal(Path("nowhere")).entries(lambda _plant: "")


def test_a_line_whose_writer_died_before_the_change_does_not_count(journal: Journal) -> None:
    """The file still has the hash from before: readers pass the line over, the next writer marks it void."""
    first = append(journal, "a", "b")
    append(journal, "b", "c")

    assert (first,) == journal.entries(lambda _plant: "base-b")
    left = journal.unfinished(lambda _plant: "base-b")
    assert left is not None
    journal.void(left.seq)
    assert None is journal.unfinished(lambda _plant: "base-b")
    third = append(journal, "b", "d")
    assert (first, third) == journal.entries(lambda _plant: "base-d")
    assert 3 == third.seq


def test_a_change_of_the_base_unsettles_nothing(journal: Journal) -> None:
    """The hash of the base's file is another part of the revision; a hand-edited file is no dead writer."""
    entry = append(journal, "a", "b")

    for now in ("upgraded-b", "base-edited-by-hand"):
        assert None is journal.unfinished(lambda _plant, now=now: now)  # type: ignore[misc]
        assert (entry,) == journal.entries(lambda _plant, now=now: now)  # type: ignore[misc]


def test_half_a_line_is_no_line_and_spoils_none(journal: Journal, tmp_path: Path) -> None:
    """What was cut off is passed over; the next line begins on a line of its own."""
    first = append(journal, "a", "b")
    path = tmp_path / ".curation" / "journal.jsonl"
    path.write_bytes(path.read_bytes() + b'{"seq": 2, "at": "2026')

    second = append(journal, "b", "c")

    assert (first, second) == journal.entries(lambda _plant: "base-c")


@pytest.mark.parametrize("letter", ["\x85", "\u2028", "\u2029", "\x1c", "\x0b"])
def test_a_line_ends_at_its_line_feed_alone(tmp_path: Path, letter: str) -> None:
    """Unicode knows more line ends; one of them in a reason once hid the entry from every reader."""
    journal = Journal(tmp_path)
    written = journal.append(
        who="curator-a", action="added", plant="p", things=("record.p",),
        why=f"one{letter}two", before="none-none", after="none-1",
    )  # fmt: skip

    assert (written,) == Journal(tmp_path).entries(lambda _: "none-1")


@pytest.mark.parametrize(
    "line", ["5", "[]", "null", '{"seq": 1}', '{"void": "x"}', '{"seq": 2, "source": 5}', '"half a word"']
)
def test_a_line_that_is_none_of_a_journal_is_told(journal: Journal, tmp_path: Path, line: str) -> None:
    """What a hand or a disk put there is neither passed over unseen nor our fault: its number, what to do."""
    append(journal, "a", "b")
    path = tmp_path / ".curation" / "journal.jsonl"
    path.write_text(f"{path.read_text()}{line}\n")

    with pytest.raises(StoreFault, match="line 2 is none of a journal; take it out"):
        journal.entries(lambda _plant: "base-b")
