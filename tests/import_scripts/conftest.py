"""A small invented store for the importers, and the facts of a few cited rows."""

from collections.abc import Callable
from dataclasses import replace
from pathlib import Path

import pytest

from import_scripts.base import Importer, Statement
from import_scripts.names import PlantNames
from import_scripts.registry import importers
from kb.model import Plant
from kb.repository import MemoryRepository, open_repository


@pytest.fixture(scope="session")
def shipped_plants() -> tuple[Plant, ...]:
    """The identities of the shipped plants, without their records."""
    snapshot = open_repository(None).snapshot()
    return tuple(replace(plant, records=(), cautions=(), decisions=()) for plant in snapshot.plants.values())


@pytest.fixture(scope="session")
def names(shipped_plants: tuple[Plant, ...]) -> PlantNames:
    return PlantNames.of(shipped_plants)


@pytest.fixture
def store(shipped_plants: tuple[Plant, ...]) -> MemoryRepository:
    """A store in memory with all plants and their sources, and no record."""
    return MemoryRepository(shipped_plants, tuple(open_repository(None).snapshot().sources.values()))


@pytest.fixture
def written(tmp_path: Path) -> Callable[..., Path]:
    """Write small files and give their folder: ``written({"table.csv": "a,b"})``."""

    def write(files: dict[str, str], encoding: str = "utf-8") -> Path:
        for name, text in files.items():
            path = tmp_path / name
            path.parent.mkdir(parents=True, exist_ok=True)
            path.write_bytes(text.encode(encoding))
        return tmp_path

    return write


@pytest.fixture
def stated(names: PlantNames) -> Callable[[str, Path], list[Statement]]:
    """All statements that an importer makes of the files in a folder."""

    def convert(key: str, folder: Path) -> list[Statement]:
        importer: Importer = importers()[key]
        return [statement for row in importer.rows(folder) for statement in importer.convert(row, names)]

    return convert
