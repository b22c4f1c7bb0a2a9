"""Whatever is typed: one line on stderr and exit code 2, never a traceback, never a screen full."""

from pathlib import Path

import pytest

from api.cli.faults import in_options
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
        ("changes", ""),
        ("changes", LONG),
        ("changes", "no-such-folder"),
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


@pytest.mark.parametrize(
    ("arguments", "said"),
    [
        (("plant", "inventa-arborea\u202e"), "NAME holds control characters"),
        (("plants", "%"), "WORDS '%' holds no letter or figure"),
        (("plants", "a", "--trait", "mature-height=tall"), "'tall' is not a number."),
        (("judge", "inventa-arborea", "-"), "NAME number 2 is '-'; name a plant."),
        (
            ("pair", "a", "b", "--soil-depth-m", "0.6m"),
            "'0.6m' is not a number: give more than 0.05, up to 5 (m).",
        ),
        (("export", "csv", "--out", "."), "is a folder; name a file with --out"),
        (("serve", "--host", "nobody.invalid"), "choose another with --host"),
        (("serve", "--host", "192.0.2.1"), "choose another with --host"),
        (("add", "a", "hardiness", "-20 C", "--by", "curator-a"), "stands behind all options and names"),
        (("import", "csv", "a.csv", "--unmatched", "./a.csv"), "is the file that is read; it would be lost"),
    ],
)
def test_what_cannot_be_meant_says_how_to_mend_it(
    traitbed: Command, arguments: tuple[str, ...], said: str
) -> None:
    """RFC 2606 and 5737 keep those hosts free; nothing that was typed is left out of account."""
    answer = traitbed(*arguments)

    assert 2 == answer.code
    assert said in answer.err


def test_what_was_typed_is_not_reworded() -> None:
    """Options are named as they are typed; a quoted value, such as a condition, stays as it is."""
    told = in_options("'stock=x' is none; give a tree's soil_depth_m, or setting=bed, as the plan's")

    assert "'stock=x' is none; give a tree's --soil-depth-m, or --setting bed, as the plan's" == told


def test_fields_of_a_plan_keep_their_names(traitbed: Command, tmp_path: Path) -> None:
    """A plan is JSON on the command line too: there is no field --spacing-m."""
    (tmp_path / "plan.json").write_text('{"plants": ["inventa-arborea"]}')

    said = traitbed("judge", "--plan", str(tmp_path / "plan.json")).err

    assert "/plants/0 of the plan must be an object with plant, share, spacing_m, sow_week" in said


def test_a_plan_is_read_no_further_than_it_can_be_one(traitbed: Command) -> None:
    """A device without end, or a film, taken for a plan: refused before it fills the memory."""
    said = traitbed("judge", "--plan", "/dev/zero")

    assert 2 == said.code
    assert "more than 65536 bytes" in said.err
