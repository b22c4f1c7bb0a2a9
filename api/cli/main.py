"""The command ``traitbed``: commands are loaded one by one, so that help and errors come at once.

Exit codes: 0 answered (whatever the verdict), 2 a bad question or bad input, 1 our fault.
"""

import errno
import os
import sys
from collections.abc import Mapping
from importlib import import_module
from types import TracebackType
from typing import Any

import click

from api.cli.faults import one_line
from kb.errors import KnowledgeBaseError

DEBUG_VARIABLE = "TRAITBED_DEBUG"
BAD_QUESTION = 2
OUR_FAULT = 1
INTERRUPTED = 130
NO_ROOM = frozenset({errno.ENOSPC, errno.EDQUOT, errno.EFBIG, errno.EIO})
"""Why a system does not take what is printed. Faults of a store say so themselves (``StoreFault``)."""

COMMANDS: Mapping[str, tuple[str, str]] = {
    "under": ("api.cli.judged", "What fits under or near this tree?"),
    "pair": ("api.cli.judged", "Do these two fit, together or one after the other?"),
    "candidates": ("api.cli.judged", "What goes well with this plant?"),
    "judge": ("api.cli.planting", "Does a whole planting fit together?"),
    "plants": ("api.cli.known", "Find plants by name, family or trait."),
    "plant": ("api.cli.known", "One plant: cautions, names, values in use."),
    "records": ("api.cli.known", "A plant's records with their sources; or one record."),
    "match": ("api.cli.matching", "Which plants of a list of yours are known here?"),
    "sources": ("api.cli.known", "Where the facts come from, with licences."),
    "traits": ("api.cli.known", "What the traits mean."),
    "add": ("api.cli.bench", "Add a record or a caution to your store."),
    "decide": ("api.cli.bench", "Choose between records; review a caution."),
    "observe": ("api.cli.bench", "Log what you saw on a plant of your own."),
    "history": ("api.cli.bench", "What happened to a plant's records, and why."),
    "undo": ("api.cli.bench", "Take something back; nothing is deleted."),
    "account": ("api.cli.accounts", "Who may write to your store over HTTP."),
    "check": ("api.cli.upkeep", "Is a knowledge base sound?"),
    "import": ("api.cli.upkeep", "Bring records in from a source."),
    "export": ("api.cli.upkeep", "Hand the data out: tables, an archive, linked data."),
    "outcomes": ("api.cli.outcomes", "How well does the model meet measured outcomes?"),
    "changes": ("api.cli.changes", "What changed since an older version?"),
    "worklist": ("api.cli.worklist", "What should be looked up next, and why?"),
    "serve": ("api.cli.serving", "Run the service for browsers and scripts."),
}
"""Command -> where it is, and its line in the help; in the order of the help."""


class Commands(click.Group):
    """A group that imports a command only when it is called."""

    def list_commands(self, ctx: click.Context) -> list[str]:  # noqa: ARG002 - click's signature
        return list(COMMANDS)

    def get_command(self, ctx: click.Context, cmd_name: str) -> click.Command | None:  # noqa: ARG002
        if cmd_name not in COMMANDS:
            return None
        module = import_module(COMMANDS[cmd_name][0])
        command: click.Command = module.COMMANDS[cmd_name]
        return command

    def resolve_command(
        self, ctx: click.Context, args: list[str]
    ) -> tuple[str | None, click.Command | None, list[str]]:
        if args and args[0] not in COMMANDS and not args[0].startswith("-"):
            from api.nearest import nearest  # noqa: PLC0415 - only where something went wrong

            hint = nearest(args[0], COMMANDS, count=1)
            meant = f" Did you mean '{hint[0]}'?" if hint else ""
            raise click.UsageError(f"There is no command '{args[0]}'.{meant} See 'traitbed --help'.", ctx)
        return super().resolve_command(ctx, args)

    def format_commands(self, ctx: click.Context, formatter: click.HelpFormatter) -> None:  # noqa: ARG002
        with formatter.section("Commands"):
            formatter.write_dl([(name, line) for name, (_, line) in COMMANDS.items()])


def _print_version(ctx: click.Context, _param: click.Parameter, wanted: bool) -> None:
    if not wanted or ctx.resilient_parsing:
        return
    from importlib.metadata import version  # noqa: PLC0415

    click.echo(f"traitbed {version('traitbed')}")
    ctx.exit()


@click.command(
    cls=Commands,
    help=(
        "Which edible plants fit together, and why: cited plant traits and what follows from them."
        "\n\n\b\n"
        "Try:  traitbed under apple --height-m 6 --latitude 51\n"
        "      traitbed pair carrot onion"
    ),
    context_settings={"help_option_names": ["-h", "--help"], "max_content_width": 80},
    epilog=(
        "A plant is named by its id, scientific name, synonym or common name. Each command takes "
        "--help, and most take --json for scripts. Exit codes: 0 answered, 2 bad question or input, "
        "1 our fault. TRAITBED_STORE names a store where --store does not; TRAITBED_DEBUG=1 does "
        "what --debug does."
    ),
)
@click.option(
    "--version",
    is_flag=True,
    is_eager=True,
    expose_value=False,
    callback=_print_version,
    help="Print the version and stop.",
)
@click.option("--debug", is_flag=True, help="Show the traceback of an unexpected error.")
def cli(*, debug: bool) -> None:
    if debug:
        os.environ[DEBUG_VARIABLE] = "1"


def run(arguments: list[str]) -> int:
    """Run one command and give its exit code; without one, help. What nobody foresaw is raised."""
    for argument in arguments:
        if any("\ud800" <= letter <= "\udfff" for letter in argument):
            return _refused(f"'{ascii(argument)[1:-1][:80]}' is not UTF-8; write it in UTF-8.")
    try:
        code: Any = cli.main(args=arguments or ["--help"], prog_name="traitbed", standalone_mode=False)
        sys.stdout.flush()
    except click.exceptions.Exit as stop:
        return stop.exit_code
    except (click.exceptions.Abort, KeyboardInterrupt):
        _refused("stopped.")
        return INTERRUPTED
    except (click.ClickException, KnowledgeBaseError) as fault:
        return _refused(one_line(fault))
    except (SystemExit, OSError) as stop:
        return _unread(stop)
    return code if isinstance(code, int) else 0


def _unread(stop: SystemExit | OSError) -> int:
    """The exit code where the answer was not taken. Raises what is our fault."""
    if isinstance(stop, OSError) and stop.errno in NO_ROOM:
        _turned_off(1)
        return _refused(f"the answer cannot be printed ({stop.strerror}); make room or send it elsewhere.")
    if not isinstance(stop, SystemExit | BrokenPipeError):
        raise stop
    # Whoever read our output has seen enough (``traitbed plants a | head``): no command of ours exits by
    # itself, click does so where a pipe breaks.
    _turned_off(1)
    return 0


def _refused(said: str) -> int:
    """One line on stderr, if it takes one; the exit code."""
    try:
        click.echo(f"traitbed: {said}", err=True)
    except OSError:
        _turned_off(2)
    return BAD_QUESTION


def _turned_off(stream: int) -> None:
    """Send the rest of a stream (1 output, 2 errors) nowhere, so that the end of the process is quiet."""
    os.dup2(os.open(os.devnull, os.O_WRONLY), stream)


def _opened() -> None:
    """A stream that the caller closed (``>&-``) is read as empty or printed nowhere."""
    for name, mode in (("stdin", "r"), ("stdout", "w"), ("stderr", "w")):
        if getattr(sys, name) is None:
            setattr(sys, name, open(os.devnull, mode, encoding="utf-8"))  # noqa: SIM115, PTH123 - for good


def _unforeseen(kind: type[BaseException], error: BaseException, trace: TracebackType | None) -> None:
    """One line instead of a traceback, unless it was asked for; Python then exits with 1."""
    if os.environ.get(DEBUG_VARIABLE) == "1":
        sys.__excepthook__(kind, error, trace)
        return
    said = " ".join(str(error).split())[:200]
    message = f"traitbed: our fault: {kind.__name__}: {said} (traitbed --debug ... shows where)"
    print(message, file=sys.stderr)  # noqa: T201 - nothing may fail here


def main() -> None:
    """The console script."""
    sys.excepthook = _unforeseen
    _opened()
    for stream in (sys.stdout, sys.stderr):
        if hasattr(stream, "reconfigure"):
            stream.reconfigure(errors="replace")
    sys.exit(run(sys.argv[1:]))
