"""Whatever is typed: one line on stderr and exit code 2, never a traceback, never a screen full."""

from pathlib import Path

import pytest

from kb.letters import visible
from tests.cli.conftest import Command

LONG = "x" * 100_000


@pytest.mark.parametrize(
    "arguments",
    [
        ("plant", "apple", "--store", ""),
        ("plant", "apple", "--store", LONG),
        ("plant", "apple", "--store", "/dev/null"),
        ("check", ""),
        ("check", LONG),
        ("check", "--store", ""),
        ("check", "/dev/null"),
        ("outcomes", LONG),
        ("plants", LONG),
        ("pair", LONG, "onion"),
        ("under", "apple", "--height-m", LONG),
        (LONG,),
        ("plants", "\udcff"),
        ("plants", "--json", "\udcff"),
        ("plant", "a\x1b[2Jb"),
        ("plant", "a\u202eb"),
    ],
    ids=lambda given: " ".join(given)[:30].encode("ascii", "replace").decode(),
)
def test_an_odd_argument_is_one_short_line(traitbed: Command, arguments: tuple[str, ...]) -> None:
    """No name is guessed at for an empty one; nothing of it is obeyed by the terminal."""
    said = traitbed(*arguments)

    assert (2, "") == (said.code, said.out)
    assert 1 == len(said.err.splitlines())
    assert len(said.err) < 1000
    assert visible(said.err) == said.err


def test_an_empty_store_is_not_this_folder(
    traitbed: Command, tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    """A variable that was not set in a script would otherwise write a store wherever it runs."""
    monkeypatch.chdir(tmp_path)
    said = traitbed("account", "add", "curator-a", "--role", "author", "--token", "--store", "")

    assert 2 == said.code
    assert [] == list(tmp_path.iterdir())


def test_what_a_terminal_would_obey_is_shown() -> None:
    """ECMA-48 control functions and Unicode's marks of direction; other letters stay as they are."""
    assert r"a\x1b[2J\x9b\u202e" == visible("a\x1b[2J\x9b\u202e")
    assert "né\u00a0日本\n½" == visible("né\u00a0日本\n½")
