"""``traitbed match FILE``: which plants of a list of one's own are known here."""

import sys
from pathlib import Path
from typing import Any

import click

from api.cli import output
from api.cli.asking import JSON_OPTION, STORE_OPTION, print_json, warn_of_faults
from kb.errors import SourceFault

LARGEST_LIST = 20_000_000
"""Bytes."""


def _bytes(path: str) -> bytes:
    """The list: a file, or what is sent on (``-``). Raises SourceFault."""
    try:
        if path == "-":
            raw = sys.stdin.buffer.read(LARGEST_LIST + 1)
        else:
            with Path(path).open("rb") as file:
                raw = file.read(LARGEST_LIST + 1)
    except OSError as fault:
        raise SourceFault(path, f"cannot be read: {fault.strerror}") from None
    if len(raw) > LARGEST_LIST:
        raise SourceFault(path, f"is larger than {LARGEST_LIST // 1_000_000} MB; no list of plants is.")
    return raw


def _match(*, path: str, column: str | None, encoding: str | None, as_json: bool, store: str | None) -> None:
    from api.answers.lists import list_answer  # noqa: PLC0415
    from kb.exchange.plant_list import read_list  # noqa: PLC0415
    from kb.repository import open_repository  # noqa: PLC0415

    raw = _bytes(path)
    snapshot = open_repository(store).snapshot()
    warn_of_faults(len(snapshot.faults))
    shown = "the list" if path == "-" else Path(path).name
    answered = list_answer(
        snapshot, read_list(raw, shown, snapshot, column=column, encoding=encoding), column=column
    )
    if as_json:
        print_json(answered)
    else:
        _show(answered)


def _show(answer: Any) -> None:
    told = answer["counts"]
    output.heading(
        f"{told['matched']} matched, {told['ambiguous']} ambiguous, {told['unknown']} unknown; names read "
        f"from {', '.join(answer['question']['columns'])}"
    )
    if answer["cautions"]:
        output.cautions(answer, whole_for="")
    for outcome, title in (("unknown", "Not known here"), ("ambiguous", "May mean several plants")):
        rows = [row for row in answer["rows"] if row["outcome"] == outcome]
        if rows:
            output.heading(title)
        for row in rows:
            offered = [output.full_name(answer, one) for one in row["choices"]] or row["nearest"]
            label = "choose one of" if row["choices"] else "nearest names"
            output.item(
                f"row {row['row']}: {row['written']}"
                + (f" ({label}: {', '.join(offered)})" if offered else "")
            )
    matched = [row for row in answer["rows"] if row["outcome"] == "matched"]
    if matched:
        output.heading("Matched")
        output.table(
            (("row", "right"), ("written", "left"), ("plant", "whole")),
            [(str(row["row"]), row["written"], row["plant"]) for row in matched],
        )
    output.notes(answer["notes"])


COMMANDS: dict[str, click.Command] = {
    "match": click.Command(
        "match",
        callback=_match,
        params=[
            click.Argument(["path"], metavar="FILE"),
            click.Option(
                ["--column"], metavar="NAME", help="The column of the names: its heading, or its number."
            ),
            click.Option(["--encoding"], metavar="NAME", help="Its encoding, where it is not Unicode."),
            JSON_OPTION,
            STORE_OPTION,
        ],
        help="Which plants of a list of yours are known here? FILE is a table or one name a line (- reads "
        "what is sent on); any order of columns, with headings or without.\n\n"
        "Each row is matched, ambiguous (with the choices) or unknown (with the nearest names). Nothing is "
        "guessed and nothing is kept. A list has at most 50,000 rows.",
    )
}
