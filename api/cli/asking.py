"""A command for a question: its options from the one table of parameters, its answer printed."""

from collections.abc import Callable, Iterable
from typing import TYPE_CHECKING, Any

import click

from api.cli.faults import POSITIONAL
from api.param_kinds import Parameter, QuestionKind
from api.params import parameters_of

if TYPE_CHECKING:
    from api.questions import Question

Show = Callable[[dict[str, Any]], None]
GROUPS = {
    "subject": "About",
    "search": "Search",
    "site": "Site (none given: the reference site, 51° N, deep loam, open)",
    "setting": "Setting",
    "each": "Of each plant, once for each in their order, - for none",
    "tree": "The tree",
    "listing": "Listing",
    "export": "Export",
}
STORE_OPTION = click.Option(
    ["--store"],
    metavar="FOLDER",
    help="A store of your own over the shipped base (or TRAITBED_STORE).",
)
JSON_OPTION = click.Option(["--json", "as_json"], is_flag=True, help="Print the answer as JSON.")


class QuestionCommand(click.Command):
    """A command that asks one question; its help groups the options as the table does."""

    def __init__(self, question: QuestionKind, **keywords: Any) -> None:
        super().__init__(**keywords)
        self.question = question

    def format_options(self, ctx: click.Context, formatter: click.HelpFormatter) -> None:
        table = parameters_of(self.question)
        sections: dict[str, list[tuple[str, str]]] = {}
        for option in self.get_params(ctx):
            record = option.get_help_record(ctx)
            if record is None or option.name is None:
                continue
            known = table.get(option.name)
            title = GROUPS[known.group] if known else "Output and store"
            sections.setdefault(title, []).append(record)
        for title, rows in sections.items():
            with formatter.section(title):
                formatter.write_dl(rows)


def options_of(kind: QuestionKind, arguments: Iterable[str]) -> list[click.Parameter]:
    """The options of a question, but for what is given by place."""
    taken = set(arguments)
    return [_option(p) for p in parameters_of(kind).values() if p.name not in taken]


def _option(parameter: Parameter) -> click.Option:
    """An option of the table; given twice it is refused by the parser with all other faults."""
    return click.Option(
        [parameter.option, parameter.name],
        multiple=True,
        metavar=parameter.read.metavar,
        help=parameter.help,
    )


def question_command(
    kind: QuestionKind,
    name: str,
    *,
    arguments: tuple[str, ...],
    show: Show,
    help_text: str,
    optional: bool = False,
) -> QuestionCommand:
    """The command ``name`` that asks ``kind``; ``arguments`` are given by place, not by option."""

    def callback(*, as_json: bool, store: str | None, **given: Any) -> None:
        ask_and_show(kind, items_of(given), as_json=as_json, store=store, show=show)

    places = [
        click.Argument([argument], metavar=POSITIONAL[argument], required=not optional)
        for argument in arguments
    ]
    return QuestionCommand(
        question=kind,
        name=name,
        params=[*places, *options_of(kind, arguments), JSON_OPTION, STORE_OPTION],
        callback=callback,
        help=help_text,
    )


def items_of(given: dict[str, Any]) -> list[tuple[str, str]]:
    """Names and texts, as they would stand in an address."""
    return [
        (name, text)
        for name, value in given.items()
        if value is not None
        for text in ((value,) if isinstance(value, str) else value)
    ]


def ask_and_show(
    kind: QuestionKind,
    items: list[tuple[str, str]],
    *,
    as_json: bool,
    store: str | None,
    show: Show,
) -> None:
    """Parse, open the store, answer, print. Parsing comes first: a bad question needs no store."""
    from api.asking import ask  # noqa: PLC0415 - loaded when a question is really asked
    from api.parsing import parse  # noqa: PLC0415

    answer_and_show(ask(parse(kind, items)), as_json=as_json, store=store, show=show)


def answer_and_show(question: "Question", *, as_json: bool, store: str | None, show: Show) -> None:
    """Open the store, answer, print."""
    from api.answers.answering import answer  # noqa: PLC0415
    from kb.repository import open_repository  # noqa: PLC0415

    snapshot = open_repository(store).snapshot()
    warn_of_faults(len(snapshot.faults))
    answered = answer(snapshot, question)
    if as_json:
        print_json(answered)
    else:
        show(answered)


def print_json(answered: Any) -> None:
    """The answer for a script, the same as over HTTP."""
    import orjson  # noqa: PLC0415

    options = orjson.OPT_INDENT_2 | orjson.OPT_APPEND_NEWLINE
    click.echo(orjson.dumps(answered, option=options).decode(), nl=False)


def warn_of_faults(count: int) -> None:
    """Say on stderr that the store is not whole; the answer stands on the rest."""
    if count:
        files = "1 file or part of one was" if count == 1 else f"{count} files or parts of files were"
        click.echo(f"traitbed: {files} left out as broken; 'traitbed check' says which.", err=True)
