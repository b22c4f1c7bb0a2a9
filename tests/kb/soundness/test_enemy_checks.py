"""The check of a folder names what is wrong with its enemies, with file and how to mend it."""

import re
from collections.abc import Callable
from pathlib import Path

import pytest

from kb.text.enemy_turtle import enemy_to_turtle
from kb.validate import validate_folder
from tests.kb.text.test_enemy_turtle import blight, invented

DATA = Path(__file__).parents[2] / "data"
EXAMPLES = sorted(
    path
    for kind in ("host", "enemy", "emission", "listing")
    for path in (DATA / "invalid").glob(f"{kind}-*.ttl")
)
SOUND = invented(
    id="malus-domestica.enemy.invented-blight.niab-canker",
    plant="malus-domestica",
    source="niab-canker",
)


@pytest.fixture
def folder(tmp_path: Path) -> Callable[..., Path]:
    """Write a folder of one's own with one invented enemy in it."""

    def write(text: str, name: str = "invented-blight.ttl") -> Path:
        (tmp_path / "plants").mkdir()
        (tmp_path / "enemies").mkdir()
        (tmp_path / "enemies" / name).write_text(text, encoding="utf-8")
        return tmp_path

    return write


def test_a_sound_enemy_on_the_shipped_plants_is_counted(folder: Callable[..., Path]) -> None:
    """A statement on a shipped plant by a shipped source needs nothing mended."""
    report = validate_folder(folder(enemy_to_turtle(blight(SOUND))))

    assert report.violations == ()
    assert (report.counts["enemies"], report.counts["host statements"]) == (1, 1)


@pytest.mark.parametrize(
    ("change", "word"),
    [
        (
            {"plant": "inventia-plana", "id": "inventia-plana.enemy.invented-blight.niab-canker"},
            "no plant 'inventia-plana'",
        ),
        ({"source": "nobody", "id": "malus-domestica.enemy.invented-blight.nobody"}, "no source 'nobody'"),
        (
            {"id": "malus-domestica.rot.niab-canker"},
            "name it record.malus-domestica.enemy.invented-blight.niab-canker",
        ),
    ],
)
def test_what_points_nowhere_is_named(folder: Callable[..., Path], change: dict[str, str], word: str) -> None:
    """An unknown plant or source, or a name of another form, is named with how to mend it."""
    said = invented(**{"id": SOUND.id, "plant": SOUND.plant, "source": SOUND.source, **change})
    found = validate_folder(folder(enemy_to_turtle(blight(said)))).violations

    assert [f.file for f in found] == ["enemies/invented-blight.ttl"]
    assert word in found[0].message


def test_a_file_of_the_wrong_name_is_named(folder: Callable[..., Path]) -> None:
    """An enemy lies in the file of its id."""
    found = validate_folder(folder(enemy_to_turtle(blight(SOUND)), "other.ttl")).violations

    assert "belongs into enemies/invented-blight.ttl" in found[0].message


def test_a_broken_file_is_named_by_line(folder: Callable[..., Path]) -> None:
    """A syntax fault names the line; the check goes on."""
    found = validate_folder(folder("PREFIX tb: <https://w3id.org/traitbed/>\n\ntb:enemy.x a [")).violations

    assert [(f.file, f.line) for f in found] == [("enemies/invented-blight.ttl", 3)]


def as_folder(tmp_path: Path, *examples: Path) -> Path:
    """A folder with the invented plant and source and the enemies of these examples."""
    world = (DATA / "valid" / "world.ttl").read_text(encoding="utf-8")
    head, plant, source = re.split(r"(?m)^(?=tb:plant|tb:source)", world)
    for name, text in (("plants/inventa/exemplaris", plant), ("sources/invented-book", source)):
        path = tmp_path / f"{name}.ttl"
        path.parent.mkdir(parents=True)
        path.write_text(head + text, encoding="utf-8")
    (tmp_path / "enemies").mkdir()
    for example in examples:
        text = example.read_text(encoding="utf-8")
        found = re.search(r"(?m)^tb:(?:enemy|emission)[.](\S+)", text)
        assert found is not None
        (tmp_path / "enemies" / f"{found[1]}.ttl").write_text(text, encoding="utf-8")
    return tmp_path


@pytest.mark.parametrize("example", EXAMPLES, ids=lambda path: path.stem)
def test_the_check_finds_whatever_the_shapes_find(example: Path, tmp_path: Path) -> None:
    """Each example that breaks a shape is a violation of the folder too, in its file."""
    found = validate_folder(as_folder(tmp_path, example)).violations

    assert found
    assert all((one.file or "").startswith("enemies/") for one in found)


def test_the_check_and_the_shapes_pass_what_is_sound(tmp_path: Path) -> None:
    """The sound examples, which every shape passes, are sound for the folder; each is counted."""
    valid = [DATA / "valid" / "host-statement.ttl", DATA / "valid" / "emission-statement.ttl"]
    report = validate_folder(as_folder(tmp_path, *valid))

    assert () == report.violations
    assert (1, 1) == (report.counts["host statements"], report.counts["emission statements"])
