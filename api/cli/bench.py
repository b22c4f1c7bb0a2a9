"""Commands that write: add, decide, observe, undo; and a plant's history."""

from collections.abc import Iterable, Mapping
from typing import TYPE_CHECKING, Any

import click

from api.cli.asking import JSON_OPTION, STORE_OPTION, print_json, question_command
from api.cli.known import value_words
from api.cli.output import Answer, cautions, full_name, heading, item, paragraph, short_id
from api.fields import FORMS, FormKind
from kb.errors import BadParameter, ParameterFault
from kb.mixture.counting import so_many

if TYPE_CHECKING:
    from kb.bench.drafts import Curator
    from kb.repository import Repository

CHANGES_SHOWN = 6
BY_OPTION = click.Option(
    ["--by"], metavar="HANDLE", envvar="TRAITBED_BY", required=True, help="Who writes (or TRAITBED_BY)."
)
REVISION_OPTION = click.Option(
    ["--revision"],
    metavar="REVISION",
    help="The plant's revision that you read ('traitbed history'); refused if it changed since.",
)
WRITING = (BY_OPTION, REVISION_OPTION, JSON_OPTION, STORE_OPTION)


def writable(store: str | None) -> "Repository":
    """The store to write to, made if it is not there. Raises StoreFault for the shipped base."""
    from kb.errors import StoreFault  # noqa: PLC0415
    from kb.repository import open_repository  # noqa: PLC0415

    repository = open_repository(store, create=True)
    if not repository.writable:
        detail = "is read-only; name a folder of your own with --store FOLDER (it is made if it is not there)"
        raise StoreFault(repository.name, detail)
    return repository


def curator_of(repository: "Repository", handle: str) -> "Curator":
    """Who writes: an account where the store has accounts, else whoever owns the folder."""
    from api.accounts import Accounts, handle_of  # noqa: PLC0415
    from kb.bench.drafts import Curator, fault  # noqa: PLC0415

    accounts = Accounts(repository.own_folder) if repository.own_folder else None
    if accounts is None or not accounts.all():
        return Curator(handle_of(handle), "reviewer", known=False)
    account = accounts.get(handle)
    if account is None:
        known = ", ".join(one.handle for one in accounts.all() if not one.closed)
        raise fault("by", f"'{handle[:40]}' has no account in this store; there is {known}")
    return account.curator


def _write(
    kind: FormKind, given: Mapping[str, Any], *, by: str, revision: str | None, store: str | None
) -> Answer:
    from datetime import UTC, datetime  # noqa: PLC0415

    from api.bench import done_dict, perform, read_fields  # noqa: PLC0415
    from kb.curation import Bench  # noqa: PLC0415

    try:
        fields = read_fields(kind, given)
        repository = writable(store)
        bench = Bench(repository, curator_of(repository, by), datetime.now(UTC).date())
        done = perform(kind, fields, bench, revision)
    except BadParameter as bad:
        names = {"source": "--source", "trait": "TRAIT", "handle": "--by"}
        raise BadParameter(
            tuple(ParameterFault(names.get(f.parameter, f.parameter), f.detail) for f in bad.faults)
        ) from None
    return done_dict(repository.snapshot(), kind, done)


def show_done(answer: Answer) -> None:
    """What was written, and the values in use that it changed."""
    for thing in answer["added"]:
        paragraph(f"Written: {short_id(thing)}")
    for change in answer["changes"]:
        item(change_words(change))
    if not answer["changes"]:
        paragraph("No value in use changed.")
    for here in answer["local"]:
        stock = f" on {here['stock']}" if here["stock"] else ""
        item(f"{here['trait']} at {here['place']}{stock}: {value_words(here)} ({here['rule']})")
    for note in answer["notes"]:
        paragraph(f"{note}.")
    paragraph(f"Revision {answer['revision']}. History: traitbed history {answer['plant']}")


def change_words(change: Answer) -> str:
    """A value in use before and after, and why it moved where one's own observations moved it."""
    before, after = value_words(change["before"]), value_words(change["after"])
    bent = (change["after"] or {}).get("bent")
    told = ""
    if bent:
        years = so_many(bent["site_years"], "site-year", form=".3g")
        told = f"; your observations: {years}, weight {bent['weight']:.2g}"
    if before == after:
        sure = [(change[end] or {}).get("confidence") for end in ("before", "after")]
        how = f"sureness {sure[0]} -> {sure[1]}" if sure[0] != sure[1] else "another rule"
        return (
            f"{change['trait']}: {after} as before; {how} ({(change['after'] or {}).get('rule', 'no value')})"
        )
    return f"{change['trait']}: {before} -> {after}{told}"


def show_history(answer: Answer) -> None:
    heading(f"History of {full_name(answer, answer['plant'])}")
    cautions(answer)
    heading("What happened")
    for event in answer["events"]:
        things = event["things"]
        named = ", ".join(short_id(thing) for thing in things[:3])
        more = f" and {len(things) - 3} more" if len(things) > 3 else ""
        why = f": {event['why']}" if event["why"] else ""
        item(f"{event['at']}, {event['who']} {event['action']} {named}{more}{why}")
        for change in event["changes"][:CHANGES_SHOWN]:
            paragraph(change_words(change), indent=2)
        if len(event["changes"]) > CHANGES_SHOWN:
            paragraph(f"and {len(event['changes']) - CHANGES_SHOWN} more values in use", indent=2)
    if not answer["events"]:
        paragraph("Nothing on record.")
    paragraph(f"Revision {answer['revision']}." if answer["revision"] else "This store is read-only.")


def _options(forms: Iterable[FormKind], arguments: Iterable[str]) -> list[click.Parameter]:
    taken = set(arguments)
    found: dict[str, click.Parameter] = {}
    for form in forms:
        for field in FORMS[form]:
            if field.name not in taken and field.name not in found:
                found[field.name] = click.Option(
                    [field.option, field.name],
                    multiple=field.many,
                    metavar=field.metavar,
                    help=f"{field.help}.",
                )
    return list(found.values())


def _given(values: Mapping[str, Any]) -> dict[str, Any]:
    return {name: list(v) if isinstance(v, tuple) else v for name, v in values.items() if v not in (None, ())}


def _command(
    name: str, help_text: str, forms: tuple[FormKind, ...], arguments: tuple[tuple[str, bool], ...]
) -> click.Command:
    """A command that fills in one of some forms: the second where ``--caution`` is given."""

    def callback(*, by: str, revision: str | None, as_json: bool, store: str | None, **values: Any) -> None:
        given = _given(values)
        kind = forms[1] if len(forms) > 1 and "caution" in given else forms[0]
        answer = _write(kind, given, by=by, revision=revision, store=store)
        if as_json:
            print_json(answer)
        else:
            show_done(answer)

    metavars = {"plant": "NAME", "undo": "ID"}
    places = [
        click.Argument([argument], metavar=metavars.get(argument, argument.upper()), required=needed)
        for argument, needed in arguments
    ]
    options = _options(forms, [argument for argument, _ in arguments])
    return click.Command(name, callback=callback, params=[*places, *options, *WRITING], help=help_text)


COMMANDS: dict[str, click.Command] = {
    "add": _command(
        "add",
        "Add a record, or with --caution a warning; with --revises correct a record, which stays on file.\n\n"
        "\b\nTry: traitbed add apple crown-width '12 ft' --basis common-practice \\\n"
        "       --why 'As pruned here for years.' --by curator --store mine",
        ("record", "caution"),
        (("plant", True), ("trait", False), ("value", False)),
    ),
    "decide": _command(
        "decide",
        "Choose between records, or with --caution say whether a warning should stand.\n\n"
        "A caution is retired by two different reviewers, never by its author.",
        ("decision", "review"),
        (("plant", True), ("trait", False)),
    ),
    "observe": _command(
        "observe",
        "Log what you saw on a plant of your own: it bends the estimate for its place first, the kind's a "
        "little. 'traitbed undo' withdraws it.\n\n"
        "\b\nTry: traitbed observe apple crown-width '4 m' --place home --age-years 8 \\\n"
        "       --stock M9 --procedure 'tape across the crown' \\\n"
        "       --observed-on 2026-07-01 --by curator --store mine",
        ("observation",),
        (("plant", True), ("trait", True), ("value", True)),
    ),
    "undo": _command(
        "undo",
        "Take something back by a further decision or a withdrawal; nothing is ever deleted.",
        ("undo",),
        (("undo", True),),
    ),
    "history": question_command(
        "history",
        "history",
        arguments=("plant",),
        show=show_history,
        help_text="What happened to a plant's records: who, when, why, and what it did to the values.",
    ),
}
