"""The command as a process: serving, ports, unforeseen errors, closed pipes."""

import json
import os
import re
import socket
import subprocess
import sys
from pathlib import Path
from urllib.error import HTTPError
from urllib.request import Request, urlopen

import pytest

from api.cli.main import run

COMMAND = [sys.executable, "-c", "from api.cli.main import main; main()"]
HEAVY = {"numba", "scipy", "pandas", "pvlib"}
BROKEN = [sys.executable, "-c", "import api.cli.main as m; m.run = lambda _: 1 / 0; m.main()"]


def test_serve_prints_its_address_and_answers_there(base: Path) -> None:
    """Port 0 takes a free port; the printed address answers in JSON and as a page.

    What is too long for the server itself is told as a problem too (RFC 9457; statuses of RFC 9110 and 6585).
    """
    process = subprocess.Popen(
        [*COMMAND, "serve", "--port", "0", "--store", str(base)],
        stdout=subprocess.PIPE,
        stderr=subprocess.DEVNULL,
        text=True,
    )
    try:
        assert process.stdout is not None
        found = re.search(r"http://127\.0\.0\.1:\d+/", process.stdout.readline())
        assert found is not None
        address = found[0]
        with urlopen(f"{address}health", timeout=10) as response:  # noqa: S310 - loopback
            assert "ok" == json.load(response)["status"]
        page = Request(f"{address}plants/inventa-arborea", headers={"Accept": "text/html"})  # noqa: S310
        with urlopen(page, timeout=10) as response:  # noqa: S310
            assert "trial tree" in response.read().decode()
        for status, asked in ((431, f"{address}plants?q={40_000 * 'x'}"), (413, f"{address}judgements")):
            body = 70_000 * b" " if status == 413 else None
            with pytest.raises(HTTPError) as told:
                urlopen(Request(asked, data=body), timeout=10)  # noqa: S310 - loopback
            assert (status, "application/problem+json") == (
                told.value.code,
                told.value.headers["Content-Type"],
            )
            assert status == json.load(told.value)["status"]
    finally:
        process.terminate()
        process.communicate(timeout=10)


def test_a_port_in_use_is_one_line(
    base: Path, monkeypatch: pytest.MonkeyPatch, capsys: pytest.CaptureFixture[str]
) -> None:
    """Which port, and how to choose another; exit code 2."""
    monkeypatch.setattr("kb.repository.shipped_base", lambda: base)
    monkeypatch.delenv("TRAITBED_STORE", raising=False)
    with socket.socket() as taken:
        taken.bind(("127.0.0.1", 0))
        taken.listen()
        port = taken.getsockname()[1]

        code = run(["serve", "--port", str(port)])

    said = capsys.readouterr()
    assert 2 == code
    assert 1 == len(said.err.splitlines())
    assert f"port {port}" in said.err
    assert "--port" in said.err


def test_an_unforeseen_error_is_one_line_and_exit_1() -> None:
    """Our own fault shows no traceback unless it is asked for."""
    quiet = subprocess.run(BROKEN, capture_output=True, text=True, check=False)
    loud = subprocess.run(
        BROKEN, capture_output=True, text=True, check=False, env={**os.environ, "TRAITBED_DEBUG": "1"}
    )

    assert (1, 1) == (quiet.returncode, loud.returncode)
    assert 1 == len(quiet.stderr.splitlines())
    assert "--debug" in quiet.stderr
    assert "Traceback" in loud.stderr


def test_a_reader_that_has_seen_enough_is_no_error(base: Path) -> None:
    """``traitbed export csv | head -1`` ends quietly."""
    process = subprocess.Popen(
        [*COMMAND, "export", "csv", "--store", str(base)],
        stdout=subprocess.PIPE,
        stderr=subprocess.PIPE,
    )
    assert process.stdout is not None
    process.stdout.close()
    _, err = process.communicate(timeout=20)

    assert b"Traceback" not in err
    assert b"our fault" not in err


def test_output_survives_a_terminal_without_unicode(base: Path) -> None:
    """A terminal that knows ASCII only gets a stand-in for a letter, not an error."""
    said = subprocess.run(
        [*COMMAND, "traits", "--store", str(base)],
        capture_output=True,
        text=True,
        check=False,
        env={**os.environ, "PYTHONIOENCODING": "ascii"},
    )

    assert 0 == said.returncode
    assert "mature-height" in said.stdout


@pytest.mark.parametrize("question", [["pair", "trial herb", "trial tree"], ["candidates", "trial herb"]])
def test_no_single_question_waits_for_a_compiler(base: Path, question: list[str]) -> None:
    """The compiled loops are for long lists: asking one thing loads neither numba nor scipy."""
    arguments = [*question, "--store", str(base), "--json"]
    code = (
        f"import sys; from api.cli.main import run; run({arguments}); "
        f"sys.exit(sorted(set(sys.modules) & {HEAVY}) or 0)"
    )
    done = subprocess.run([sys.executable, "-c", code], capture_output=True, text=True, check=False)

    assert (0, "") == (done.returncode, done.stderr)


@pytest.mark.parametrize(
    ("words", "code", "said"),
    [
        ("plants trial --store {} | head -c 5", 0, ""),
        ("plant inventa-arborea --store {} > /dev/full", 2, "cannot be printed (No space left on device)"),
        ("plant inventa-arborea --store {} >&-", 0, ""),
        ("plant nobody --store {} >&-", 2, "No plant is called"),
        ("plant nobody --store {} 2> /dev/full", 2, ""),
        ("judge --plan - --store {} <&-", 2, "is not JSON"),
        ("match - --store {} <&-", 2, "holds no names"),
    ],
)
def test_a_stream_that_ends_is_not_our_fault(base: Path, words: str, code: int, said: str) -> None:
    """POSIX: a reader may leave, a device may be full, a stream may be closed; never exit code 1."""
    command = " ".join(f"'{part}'" for part in COMMAND)
    script = f"{command} {words.format(base)}; exit ${{PIPESTATUS[0]}}"

    done = subprocess.run(["bash", "-c", script], capture_output=True, text=True, check=False, timeout=60)

    assert code == done.returncode
    assert said in done.stderr
    assert len(done.stderr.splitlines()) == (1 if said else 0)
