"""Commands that keep the knowledge base: check, import, export."""

import os
import sys
from pathlib import Path
from typing import Any

import click

from api.cli.asking import JSON_OPTION, STORE_OPTION, print_json, warn_of_faults
from api.cli.bringing import OPTIONS, OWN_FILES, bring, given_here
from api.cli.targets import writable_repository, write_whole
from kb.errors import StoreFault, UnknownSource
from kb.letters import visible

UNSOUND = 2


def _check(*, folder: str | None, coverage: bool, as_json: bool, store: str | None) -> int:
    if folder is not None and store is not None:
        msg = "Name the folder once: as FOLDER, or as the store."
        raise click.UsageError(msg)
    from kb.repository import STORE_VARIABLE, named_folder, shipped_base  # noqa: PLC0415
    from kb.validate import validate_folder  # noqa: PLC0415

    given = folder if folder is not None else store
    named = given if given is not None else os.environ.get(STORE_VARIABLE) or None
    place = shipped_base() if named is None else named_folder(named)
    if not place.is_dir():
        raise StoreFault(str(named), "is no folder; name one that holds plants/ and sources/")
    if coverage:
        return _coverage(place if folder is not None else None, store, as_json=as_json)
    report = validate_folder(place)
    if as_json:
        print_json(report.as_dict())
    else:
        for line in report.lines():
            click.echo(visible(line))
    return 0 if report.sound else UNSOUND


def _coverage(alone: Path | None, store: str | None, *, as_json: bool) -> int:
    """How much is known of what, beside the targets. Not to reach a target is no fault.

    A folder is counted ``alone``, as it is checked; a store lies over the shipped base, as it is asked.
    """
    from kb.gaps.coverage_report import coverage_of  # noqa: PLC0415
    from kb.repository import FilesRepository, open_repository  # noqa: PLC0415

    repository = open_repository(store) if alone is None else FilesRepository(None, alone)
    snapshot = repository.snapshot()
    warn_of_faults(len(snapshot.faults))
    found = coverage_of(snapshot)
    if as_json:
        print_json(found.as_dict())
    else:
        for line in found.lines():
            click.echo(visible(line))
    return 0


def _import(
    *,
    key: str | None,
    path: str | None,
    cache: str | None,
    accept_changed: bool,
    as_json: bool,
    store: str | None,
    **own: Any,
) -> int:
    from datetime import UTC, datetime  # noqa: PLC0415

    from import_scripts.registry import importers  # noqa: PLC0415
    from import_scripts.run import run  # noqa: PLC0415

    if key is not None and key in OWN_FILES:
        unused = [name for name, value in (("--cache", cache), ("--accept-changed", accept_changed)) if value]
        _refuse_unused(key, unused)
        return bring(key, path, store, as_json=as_json, **own)
    known = importers()
    if key is None:
        msg = f"Name a source: {', '.join(known)}; or bring a file of your own: {', '.join(OWN_FILES)}."
        raise click.UsageError(msg)
    if key not in known:
        raise UnknownSource(key, (*OWN_FILES, *known))
    _refuse_unused(key, given_here(own))
    repository = writable_repository(store)
    click.echo(f"Importing {key}: {known[key].title} ...", err=True)
    report = run(
        known[key],
        Path(path) if path else None,
        repository,
        datetime.now(UTC).date(),
        cache=Path(cache) if cache else None,
        accept_changed=accept_changed,
    )
    if as_json:
        print_json(report.as_dict())
    else:
        for line in report.lines():
            click.echo(visible(line))
    return 0


def _refuse_unused(key: str, options: list[str]) -> None:
    if options:
        msg = f"{', '.join(options)} does nothing for {key}; leave it out."
        raise click.UsageError(msg)


def _export(*, form: str, adopted: bool, out: str | None, store: str | None) -> None:
    from api.answers.exports import EXPORTS, export_pieces  # noqa: PLC0415
    from kb.repository import open_repository  # noqa: PLC0415

    if form not in EXPORTS:
        msg = f"There is no export '{form}'; there are {', '.join(EXPORTS)}."
        raise click.UsageError(msg)
    if adopted and form != "csv":
        msg = f"--adopted has no place in {form}: adopted values are computed from the records; export csv."
        raise click.UsageError(msg)
    if out is None and EXPORTS[form].packed and sys.stdout.isatty():
        msg = "An archive is no text; name a file with --out, or send it on."
        raise click.UsageError(msg)

    snapshot = open_repository(store).snapshot()
    warn_of_faults(len(snapshot.faults))
    pieces = export_pieces(snapshot, form, adopted=adopted)
    if out is None:
        sys.stdout.flush()
        for piece in pieces:
            sys.stdout.buffer.write(piece)
        sys.stdout.buffer.flush()
    else:
        write_whole(Path(out), pieces)
        click.echo(f"Wrote {out}.", err=True)


def _command(name: str, callback: Any, params: list[click.Parameter], help_text: str) -> click.Command:
    return click.Command(name, callback=callback, params=params, help=help_text)


COMMANDS: dict[str, click.Command] = {
    "check": _command(
        "check",
        _check,
        [
            click.Argument(["folder"], required=False, metavar="[FOLDER]"),
            click.Option(
                ["--coverage"],
                is_flag=True,
                help="Count how much is known instead: trait by group and basis, beside the targets.",
            ),
            JSON_OPTION,
            STORE_OPTION,
        ],
        "Is the knowledge base sound? Every file is read and every record held against its shape.\n\n"
        "FOLDER is a folder with plants/ and sources/, checked and counted by itself; without it the store "
        "is. Exit code 0 where it is sound, 2 where something must be mended.",
    ),
    "import": _command(
        "import",
        _import,
        [
            click.Argument(["key"], required=False, metavar="SOURCE"),
            click.Argument(["path"], required=False, metavar="[PATH]"),
            click.Option(["--cache"], metavar="FOLDER", help="Where fetched files are kept."),
            click.Option(
                ["--accept-changed"],
                is_flag=True,
                help="Take a published file although it is not the one the importer was written for.",
            ),
            *OPTIONS,
            JSON_OPTION,
            STORE_OPTION,
        ],
        "Bring records in from a source. PATH is the folder or file that holds its data; without it "
        "what the project carries is read, else the published address.\n\n"
        "'import csv FILE' brings in a table of records as 'export csv' writes it, 'import dwca FILE' a "
        "Darwin Core Archive. Where a row is bad nothing is written, unless the good ones are asked for.\n\n"
        "The report says what was added, changed, unchanged and refused, and why. Importing twice "
        "changes nothing.",
    ),
    "export": _command(
        "export",
        _export,
        [
            click.Argument(["form"], metavar="FORMAT"),
            click.Option(["--adopted"], is_flag=True, help="The values in use instead of the records."),
            click.Option(["--out"], metavar="FILE", help="Write to a file (whole or not at all)."),
            STORE_OPTION,
        ],
        "Hand the data out, with sources, licences and lines of credit.\n\n"
        "csv: one record a row. dwca: a Darwin Core Archive (zip) with names, records, cautions, decisions, "
        "enemies and a README. jsonld, turtle: linked data, with the vocabulary.",
    ),
}
