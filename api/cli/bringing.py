"""``traitbed import csv FILE`` and ``traitbed import dwca FILE``: what people bring themselves."""

from collections.abc import Mapping
from pathlib import Path
from typing import Any

import click

from api.cli.asking import print_json
from api.cli.targets import writable_repository, write_whole
from kb.letters import visible

BAD_ROWS = 2
OWN_FILES: Mapping[str, str] = {
    "csv": "a table of records, as 'traitbed export csv' writes it",
    "dwca": "a Darwin Core Archive (zip), ours or another's",
}
"""What is brought in from a file of one's own -> what it is."""
OPTIONS: list[click.Parameter] = [
    click.Option(["--keep-good"], is_flag=True, help="csv, dwca: keep the good rows where others are bad."),
    click.Option(
        ["--unmatched"], metavar="FILE", help="csv, dwca: write the names that match nothing to FILE."
    ),
    click.Option(["--decisions"], metavar="FILE", help="csv, dwca: that file, filled in."),
    click.Option(
        ["--decimal"], type=click.Choice(["point", "comma"]), help="csv, dwca: how decimals are written."
    ),
    click.Option(["--encoding"], metavar="NAME", help="csv: the encoding where it is not UTF-8 or UTF-16."),
    click.Option(
        ["--source-key", "source"], metavar="KEY", help="dwca of others: the key under which it is cited."
    ),
    click.Option(["--add-plants"], is_flag=True, help="dwca of ours: add plants that are not here."),
]


def given_here(options: Mapping[str, Any]) -> list[str]:
    """Which of the options above were given, as they are written."""
    names = {"source": "source_key"}
    return ["--" + names.get(name, name).replace("_", "-") for name, value in options.items() if value]


def bring(
    kind: str, path: str | None, store: str | None, *, as_json: bool, unmatched: str | None, **options: Any
) -> int:
    """Bring a file in and tell what became of each row; exit code 2 where rows were bad and nothing kept."""
    from datetime import UTC, datetime  # noqa: PLC0415

    from import_scripts.exchange.bring import Wishes, bring_archive, bring_csv  # noqa: PLC0415
    from import_scripts.exchange.matching import undecided_csv  # noqa: PLC0415

    if path is None:
        msg = f"Name the file: 'traitbed import {kind} FILE' brings in {OWN_FILES[kind]}."
        raise click.UsageError(msg)
    decisions = options["decisions"]
    if unmatched is not None and Path(unmatched).resolve() in {
        Path(given).resolve() for given in (path, decisions) if given
    }:
        msg = f"--unmatched '{unmatched}' is the file that is read; it would be lost, so name another."
        raise click.UsageError(msg)
    wishes = Wishes(
        keep_good=options["keep_good"],
        decisions=Path(decisions) if decisions else None,
        encoding=options["encoding"],
        comma=options["decimal"] == "comma",
        source=options["source"],
        add_plants=options["add_plants"],
    )
    read = bring_csv if kind == "csv" else bring_archive
    repository = writable_repository(store)
    report, undecided = read(Path(path), repository, datetime.now(UTC).date(), wishes)
    if unmatched is not None:
        write_whole(Path(unmatched), (undecided_csv(undecided).encode(),), option="--unmatched")
        click.echo(f"Wrote {unmatched}: {len(undecided)} names to decide on.", err=True)
    if as_json:
        print_json({**report.as_dict(), "undecided": [one.as_dict() for one in undecided]})
    else:
        for line in report.lines():
            click.echo(visible(line))
    return BAD_ROWS if report.faulty and not wishes.keep_good else 0
