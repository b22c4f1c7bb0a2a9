"""Accounts: only hashes are kept, tokens are shown once, handles are never given twice."""

import json
import stat
from pathlib import Path

import pytest
from werkzeug.security import check_password_hash

from api.accounts import Accounts
from api.signing import WINDOW_S, Throttle
from kb.errors import BadParameter, StoreFault

PASSWORD = "an invented phrase of words"  # noqa: S105 - of accounts that live for one test


@pytest.fixture
def accounts(tmp_path: Path) -> Accounts:
    made = Accounts(tmp_path)
    made.add("curator-b", "reviewer")
    return made


def test_nothing_that_is_kept_opens_the_door(accounts: Accounts, tmp_path: Path) -> None:
    """Neither the password nor the token stands in any file; the files are their owner's alone."""
    accounts.set_password("curator-b", PASSWORD)
    token = accounts.new_token("curator-b")
    accounts.secret()

    texts = [path.read_text() for path in tmp_path.rglob("*") if path.is_file()]
    row = json.loads((tmp_path / ".curation" / "accounts.json").read_text())[0]
    assert not [
        text for text in texts if PASSWORD in text or token in text or token.partition(".")[2] in text
    ]
    assert row["password"].startswith("scrypt:")
    for name in ("accounts.json", "session.key"):
        mode = stat.S_IMODE((tmp_path / ".curation" / name).stat().st_mode)
        assert 0o600 == mode, name
    assert 0o700 == stat.S_IMODE((tmp_path / ".curation").stat().st_mode)


def test_the_right_secret_opens_and_no_other(accounts: Accounts) -> None:
    """By password or token; a new token ends the old one."""
    accounts.set_password("curator-b", PASSWORD)
    first = accounts.new_token("curator-b")
    second = accounts.new_token("curator-b")

    assert "curator-b" == getattr(accounts.by_password("curator-b", PASSWORD), "handle", None)
    assert "curator-b" == getattr(accounts.by_token(second), "handle", None)
    assert [None, None, None, None] == [
        accounts.by_token(first),
        accounts.by_token("curator-b."),
        accounts.by_password("curator-b", ""),
        accounts.by_password("curator-b", PASSWORD.upper()),
    ]


@pytest.mark.parametrize("handle", ["", "A", "ä-name", "x" * 33, "two words", "../curator-b", "9lives"])
def test_a_handle_is_plain(accounts: Accounts, handle: str) -> None:
    """Small letters, digits, hyphens."""
    with pytest.raises(BadParameter, match="handle"):
        accounts.add(handle, "author")


def test_an_unknown_handle_costs_the_work_of_a_known_one(
    accounts: Accounts, monkeypatch: pytest.MonkeyPatch
) -> None:
    """One scrypt check each, so that time does not tell which handles there are."""
    accounts.set_password("curator-b", PASSWORD)
    checked: list[str] = []

    def check(kept: str, password: str) -> bool:
        checked.append(kept.partition("$")[0])
        return check_password_hash(kept, password)

    monkeypatch.setattr("api.accounts.check_password_hash", check)

    assert [None, None] == [accounts.by_password(handle, "wrong") for handle in ("curator-b", "nobody")]
    assert 2 == len(checked)
    assert checked[0] == checked[1]
    assert checked[0].startswith("scrypt:")


def test_roles_and_passwords_are_checked(accounts: Accounts) -> None:
    """Unknown roles, short passwords and those that hold the handle are refused."""
    for word in ("short", "x" * 201, "curator-b likes words"):
        with pytest.raises(BadParameter, match="password"):
            accounts.set_password("curator-b", word)
    with pytest.raises(BadParameter, match="role"):
        accounts.add("curator-c", "owner")
    with pytest.raises(BadParameter, match="no account"):
        accounts.set_password("curator-c", PASSWORD)


def test_a_closed_account_keeps_its_handle(accounts: Accounts) -> None:
    """What it wrote stays signed with it, so nobody else may take it."""
    accounts.set_password("curator-b", PASSWORD)
    accounts.close("curator-b")

    assert accounts.by_password("curator-b", PASSWORD) is None
    with pytest.raises(BadParameter, match="taken"):
        accounts.add("curator-b", "author")


def test_a_broken_file_lets_nobody_in(accounts: Accounts, tmp_path: Path) -> None:
    """It is reported, never read as 'no accounts'."""
    (tmp_path / ".curation" / "accounts.json").write_text("{")

    with pytest.raises(StoreFault, match=r"accounts\.json"):
        accounts.all()


def test_the_throttle_counts_by_handle_and_by_address() -> None:
    """Five tries of a handle from an address, twenty of an address, forty of a handle; then time heals."""
    throttle = Throttle()
    for number in range(20):
        throttle.fail(f"handle{number}", "192.0.2.1", float(number))
    for number in range(40):
        throttle.fail("curator-b", f"198.51.100.{number}", 100.0)

    assert throttle.wait_s("fresh", "192.0.2.1", 30.0) > 0
    assert throttle.wait_s("curator-b", "203.0.113.1", 101.0) > 0
    assert 0 == throttle.wait_s("fresh", "203.0.113.1", 101.0)
    assert 0 == throttle.wait_s("curator-b", "203.0.113.1", 101.0 + WINDOW_S)


@pytest.mark.parametrize(
    "rows", ['[{"handle": "curator-b"}]', '[{"handle": "x", "owner": true}]', "[3]", "3"]
)
def test_a_file_of_another_shape_lets_nobody_in(accounts: Accounts, tmp_path: Path, rows: str) -> None:
    """Whatever JSON it is."""
    (tmp_path / ".curation" / "accounts.json").write_text(rows)

    with pytest.raises(StoreFault, match=r"accounts\.json"):
        accounts.all()


def test_a_key_that_is_cut_short_signs_nothing(accounts: Accounts, tmp_path: Path) -> None:
    """With an empty key anyone could make a session."""
    accounts.secret()
    (tmp_path / ".curation" / "session.key").write_text("")

    with pytest.raises(StoreFault, match="cut short"):
        accounts.secret()


@pytest.mark.parametrize("password", ["aaaaaaaaaaaa", "abababababab", "an invented \udcff phrase"])
def test_a_password_is_no_row_of_one_letter(accounts: Accounts, password: str) -> None:
    """Five different letters at the least, and text."""
    with pytest.raises(BadParameter, match="password"):
        accounts.set_password("curator-b", password)
