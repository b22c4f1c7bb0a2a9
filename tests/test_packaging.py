"""The wheel carries the command and all data files, and works away from the checkout."""

import os
import shutil
import subprocess
import sys
import zipfile
from pathlib import Path

import pytest

ROOT = Path(__file__).parents[1]
ROOMS = ("kb", "api", "import_scripts", "shapes")
DATA = {".ttl", ".rq", ".html", ".css", ".js", ".json", ".csv"}


@pytest.fixture(scope="module")
def wheel(tmp_path_factory: pytest.TempPathFactory) -> Path:
    """Build the wheel from a copy of the tracked files, so that nothing else can slip in."""
    copy = tmp_path_factory.mktemp("copy")
    tracked = subprocess.run(
        ["git", "ls-files", "-z"], cwd=ROOT, capture_output=True, text=True, check=True
    ).stdout.split("\0")
    for name in filter(None, tracked):
        if (ROOT / name).is_file():
            (copy / name).parent.mkdir(parents=True, exist_ok=True)
            shutil.copyfile(ROOT / name, copy / name)
    out = tmp_path_factory.mktemp("wheel")
    subprocess.run(
        [
            sys.executable,
            "-m",
            "pip",
            "wheel",
            "-q",
            "--no-deps",
            "--no-build-isolation",
            "-w",
            str(out),
            ".",
        ],
        cwd=copy,
        check=True,
        capture_output=True,
    )
    return next(out.glob("*.whl"))


def test_every_data_file_of_the_rooms_is_in_the_wheel(wheel: Path) -> None:
    """Turtle, queries, pages and tables come along; tests stay out."""
    packed = set(zipfile.ZipFile(wheel).namelist())
    tracked = subprocess.run(
        ["git", "ls-files", "-z", *ROOMS], cwd=ROOT, capture_output=True, text=True, check=True
    ).stdout.split("\0")
    wanted = {name for name in tracked if Path(name).suffix in DATA and (ROOT / name).is_file()}

    assert len(wanted) > 1000
    assert set() == wanted - packed
    assert not [name for name in packed if name.startswith("tests/")]


def test_the_installed_wheel_answers(wheel: Path, tmp_path: Path) -> None:
    """Unpacked elsewhere, the command answers a pair from its own data files."""
    subprocess.run(
        [sys.executable, "-m", "pip", "install", "-q", "--no-deps", "--target", str(tmp_path), str(wheel)],
        check=True,
        capture_output=True,
    )
    script = "import sys; sys.path.insert(0, sys.argv.pop(1)); from api.cli.main import main; main()"
    environment = {key: value for key, value in os.environ.items() if key != "TRAITBED_STORE"}

    done = subprocess.run(
        [sys.executable, "-P", "-c", script, str(tmp_path), "pair", "carrot", "onion"],
        cwd=tmp_path,
        env=environment,
        capture_output=True,
        text=True,
        check=False,
    )

    assert (0, "") == (done.returncode, done.stderr)
    assert "Cautions" in done.stdout.splitlines()[1]
