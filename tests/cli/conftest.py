"""The command over an invented planting kept in a folder."""

from collections.abc import Callable
from dataclasses import dataclass
from pathlib import Path

import pytest

from api.cli.main import run
from kb.repository import FilesRepository
from tests.api.invented import PLANTS, SOURCE

Command = Callable[..., "Said"]


@dataclass(frozen=True)
class Said:
    """What a command printed and how it ended."""

    code: int
    out: str
    err: str


@pytest.fixture(scope="session")
def base(tmp_path_factory: pytest.TempPathFactory) -> Path:
    """A folder with the invented planting and nothing else."""
    folder = tmp_path_factory.mktemp("invented-base")
    repository = FilesRepository(None, folder)
    repository.put_source(SOURCE)
    for plant in PLANTS:
        repository.put_plant(plant)
    return folder


@pytest.fixture
def traitbed(base: Path, monkeypatch: pytest.MonkeyPatch, capfd: pytest.CaptureFixture[str]) -> Command:
    """Run a command against the invented planting alone, as if it were the shipped base."""
    monkeypatch.setattr("kb.repository.shipped_base", lambda: base)
    monkeypatch.delenv("TRAITBED_STORE", raising=False)

    def command(*arguments: str) -> Said:
        capfd.readouterr()
        code = run([str(argument) for argument in arguments])
        said = capfd.readouterr()
        return Said(code, said.out, said.err)

    return command
