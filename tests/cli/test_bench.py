"""The bench on the command line: readable, one-line refusals with exit code 2, the same JSON as over HTTP."""

import io
import json
from pathlib import Path

import pytest

from tests.api.benching import PASSWORD
from tests.api.invented import HERB_ID
from tests.cli.conftest import Command

RECORD = (
    "mature-height", "40 cm", "--basis", "read-in-source", "--source", "invented", "--locator", "p. 9",
    "--verbatim", "40 cm", "--name-as-printed", "Inventa", "--why", "Entered from an invented book.",
)  # fmt: skip
SEEN = (
    "mature-height", "45 cm", "--place", "home", "--observed-on", "2026-07-01", "--procedure", "ruler",
)  # fmt: skip


@pytest.fixture
def own(tmp_path: Path) -> tuple[str, ...]:
    """Give the options that every write takes."""
    return ("--by", "curator-a", "--store", str(tmp_path / "own"))


def added(text: str) -> str:
    """Give the local IRI of what a write added."""
    (thing,) = json.loads(text)["added"]
    return str(thing).rpartition("/")[2]


def test_add_says_what_was_written_and_what_it_changed(traitbed: Command, own: tuple[str, ...]) -> None:
    """The new record, the value before and after, the revision."""
    said = traitbed("add", HERB_ID, "reach", *RECORD[1:], *own)

    assert (0, "") == (said.code, said.err)
    assert f"Written: {HERB_ID}.reach.invented.1001" in said.out
    assert "reach: not known -> 0.4" in said.out
    assert "Revision " in said.out
    assert max(map(len, said.out.splitlines())) <= 80


def test_observe_shows_the_place_and_the_weight_and_undo_takes_it_back(
    traitbed: Command, own: tuple[str, ...]
) -> None:
    """Estimate for the place, weight 0.2 of one site-year; afterwards the plant is as before."""
    before = traitbed("plant", HERB_ID, "--json", "--store", own[-1]) if Path(own[-1]).exists() else None
    said = traitbed("observe", HERB_ID, *SEEN, *own)
    shown = traitbed("plant", HERB_ID, "--store", own[-1])
    undone = traitbed(
        "undo",
        f"observation.{HERB_ID}.mature-height.curator-a.1001",
        "--why",
        "Measured the wrong one.",
        *own,
    )

    assert before is None
    assert 0 == said.code, said.err
    assert "mature-height at home" in said.out
    assert "weight 0.2 against the records" in " ".join(said.out.split())
    assert "mature-height at home" in shown.out
    assert "no longer counts" in undone.out
    assert "at home" not in traitbed("plant", HERB_ID, "--store", own[-1]).out


def test_history_tells_both_in_order(traitbed: Command, own: tuple[str, ...]) -> None:
    """Who, what, why, and the value before and after; as JSON it is the answer of HTTP."""
    seen = added(traitbed("observe", HERB_ID, *SEEN, *own, "--json").out)
    traitbed("undo", seen, "--why", "Measured the wrong one.", *own)

    said = traitbed("history", HERB_ID, "--store", own[-1])
    one = json.loads(traitbed("history", HERB_ID, "--record", seen, "--json", "--store", own[-1]).out)

    assert said.out.index("curator-a observed") < said.out.index("curator-a took back")
    assert "Measured the wrong one." in said.out
    assert ["observed", "took back"] == [event["action"] for event in one["events"]]
    assert one["revision"] in said.out.replace("\n", "")


def test_decide_chooses_and_a_second_decision_outweighs(traitbed: Command, own: tuple[str, ...]) -> None:
    """With --json for scripts."""
    record = added(traitbed("add", HERB_ID, *RECORD, *own, "--json").out)

    said = traitbed(
        "decide", HERB_ID, "mature-height", "--preferred", record, "--why", "The only one measured.", *own
    )

    assert 0 == said.code, said.err
    answer = json.loads(traitbed("records", HERB_ID, "--json", "--store", own[-1]).out)
    assert record in [w["record"].rpartition("/")[2] for w in answer["decisions"][-1]["weighed"]]


@pytest.mark.parametrize(
    ("arguments", "told"),
    [
        (("add", HERB_ID, "mature-height", "40 kg", *RECORD[2:]), "no length"),
        (("add", HERB_ID, *RECORD[:-2]), "--why is missing"),
        (
            ("add", HERB_ID, "mature-height", "--basis", "recalled", "--why", "Long known here."),
            "VALUE is missing",
        ),
        (
            ("add", HERB_ID, "mature-height", "4 m", "--basis", "read-in-source", "--why", "Long known."),
            "--source is missing",
        ),
        (("add", "no such plant", *RECORD), "No plant is called"),
        (("add", HERB_ID, *RECORD, "--revision", "old-one"), "changed since revision old-one"),
        (("observe", HERB_ID, *SEEN[:2], "--place", "51.50123 N", *SEEN[4:]), "must not lead to a door"),
        (("observe", HERB_ID, *SEEN[:4], "--observed-on", "2999-01-01", *SEEN[6:]), "lies ahead"),
        (("undo", "record.no.such.thing", "--why", "It is not there."), "There is no record"),
        (("undo", "anything", "--why", "It is not there."), "There is no record"),
        (("decide", HERB_ID, "mature-height", "--why", "For no reason."), "at least one record"),
    ],
)
def test_a_refusal_is_one_line_and_exit_2(
    traitbed: Command, own: tuple[str, ...], arguments: tuple[str, ...], told: str
) -> None:
    """It says what is wrong; nothing is written."""
    said = traitbed(*arguments, *own)

    assert (2, "") == (said.code, said.out), said.out
    assert 1 == len(said.err.splitlines())
    assert told in said.err
    assert not (Path(own[-1]) / "plants").exists()


def test_the_shipped_base_takes_no_write(traitbed: Command) -> None:
    """Without a store of one's own the command says how to name one."""
    said = traitbed("observe", HERB_ID, *SEEN, "--by", "curator-a")

    assert 2 == said.code
    assert "--store FOLDER" in said.err


def test_accounts_are_made_listed_and_bind_the_command_line(
    traitbed: Command, own: tuple[str, ...], monkeypatch: pytest.MonkeyPatch
) -> None:
    """Once there are accounts, only they write, each within its role."""
    monkeypatch.setattr("sys.stdin", io.StringIO(f"{PASSWORD}\n"))
    store = own[2:]
    made = traitbed("account", "add", "curator-b", "--role", "reviewer", *store)
    token = traitbed("account", "add", "curator-a", "--role", "author", "--token", *store)
    monkeypatch.setattr("sys.stdin", io.StringIO("short\n"))
    short = traitbed("account", "add", "curator-c", "--role", "author", *store)
    listed = json.loads(traitbed("account", "list", "--json", *store).out)["accounts"]

    assert (0, 0, 2) == (made.code, token.code, short.code)
    assert "curator-a." in token.out
    assert [("curator-b", True, False), ("curator-a", False, True)] == [
        (a["handle"], a["password"], a["token"]) for a in listed
    ]
    stranger = traitbed("observe", HERB_ID, *SEEN, "--by", "curator-c", *store)
    author = traitbed("decide", HERB_ID, "mature-height", "--preferred", "x", "--why", "For no reason.", *own)
    assert (2, 2) == (stranger.code, author.code)
    assert "no account" in stranger.err
    assert "takes the role reviewer" in author.err
    assert 0 == traitbed("observe", HERB_ID, *SEEN, *own).code


def test_two_reviewers_retire_a_caution(traitbed: Command, own: tuple[str, ...]) -> None:
    """One alone does not; its author never."""
    store = own[2:]
    for handle in ("curator-a", "curator-b", "curator-c"):
        traitbed("account", "add", handle, "--role", "reviewer", "--token", *store)
    warning = added(
        traitbed(
            "add",
            HERB_ID,
            "--caution",
            "skin",
            "--text",
            "The invented sap burns the skin.",
            *RECORD[2:],
            *own,
            "--json",
        ).out
    )
    review = (
        "decide",
        HERB_ID,
        "--caution",
        warning,
        "--verdict",
        "retire",
        "--why",
        "It was another plant.",
    )

    said = [traitbed(*review, "--by", who, *store) for who in ("curator-a", "curator-b", "curator-c")]

    assert [2, 0, 0] == [one.code for one in said]
    assert "own caution" in said[0].err
    assert "still shown" in said[1].out
    assert "is retired" in said[2].out
    assert "sap burns" not in traitbed("plant", HERB_ID, *store).out
