"""The command that keeps the accounts of a store: who may write over HTTP."""

import contextlib
import sys
from typing import Any

import click

from api.cli.asking import JSON_OPTION, STORE_OPTION, print_json
from api.cli.bench import writable
from kb.errors import StoreFault

ROLES = "author (adds, observes) or reviewer (decides too)"


def _accounts(store: str | None) -> Any:
    from api.accounts import Accounts  # noqa: PLC0415
    from kb.repository import shipped_base  # noqa: PLC0415

    folder = writable(store).own_folder
    if folder is None or folder.resolve() == shipped_base().resolve():
        raise StoreFault(
            "the shipped base", "keeps no accounts; name a folder of your own with --store FOLDER"
        )
    return Accounts(folder)


def _password(handle: str) -> str:
    """A password from a pipe (one line), or asked for twice."""
    if sys.stdin.isatty():
        entered: str = click.prompt(f"Password for {handle}", hide_input=True, confirmation_prompt=True)
        return entered
    return sys.stdin.readline().rstrip("\n")


def _add(*, handle: str, role: str, token: bool, store: str | None) -> None:
    accounts = _accounts(store)
    accounts.add(handle, role)
    with contextlib.ExitStack() as unless_done:
        unless_done.callback(accounts.drop_new, handle)
        _credential(accounts, handle, token=token)
        unless_done.pop_all()
    click.echo(f"Account {handle} made: {role}.")


def _credential(accounts: Any, handle: str, *, token: bool) -> None:
    if token:
        given = accounts.new_token(handle)
        click.echo(f"Token (shown once, keep it safe): {given}")
    else:
        accounts.set_password(handle, _password(handle))


def _renew(*, handle: str, token: bool, store: str | None) -> None:
    _credential(_accounts(store), handle, token=token)
    click.echo(f"Account {handle}: {'new token' if token else 'new password'}; earlier sessions have ended.")


def _close(*, handle: str, store: str | None) -> None:
    _accounts(store).close(handle)
    click.echo(f"Account {handle} closed. What it wrote stays; the handle is not given again.")


def _list(*, as_json: bool, store: str | None) -> None:
    rows = [
        {
            "handle": one.handle,
            "role": one.role,
            "made_on": one.made_on,
            "password": one.password is not None,
            "token": one.token is not None,
            "closed": one.closed,
        }
        for one in _accounts(store).all()
    ]
    if as_json:
        print_json({"accounts": rows})
        return
    for row in rows:
        ways = [way for way in ("password", "token") if row[way]]
        state = "closed" if row["closed"] else " and ".join(ways) or "no password or token"
        click.echo(f"{row['handle']}: {row['role']}, made on {row['made_on']}, {state}")
    if not rows:
        click.echo("No account: nobody can write over HTTP. Make one with 'traitbed account add HANDLE'.")


HANDLE = click.Argument(["handle"], metavar="HANDLE")
TOKEN = click.Option(["--token"], is_flag=True, help="A token for scripts instead of a password; shown once.")

COMMANDS: dict[str, click.Command] = {
    "account": click.Group(
        "account",
        help="Accounts of your store: without one nobody writes over HTTP. A password is asked for, or read "
        "from a pipe.",
        commands={
            "add": click.Command(
                "add",
                callback=_add,
                params=[
                    HANDLE,
                    click.Option(["--role"], required=True, metavar="ROLE", help=f"{ROLES}."),
                    TOKEN,
                    STORE_OPTION,
                ],
                help="Make an account.",
            ),
            "renew": click.Command(
                "renew", callback=_renew, params=[HANDLE, TOKEN, STORE_OPTION], help="New password or token."
            ),
            "close": click.Command(
                "close", callback=_close, params=[HANDLE, STORE_OPTION], help="End an account."
            ),
            "list": click.Command(
                "list", callback=_list, params=[JSON_OPTION, STORE_OPTION], help="Who has an account."
            ),
        },
    )
}
