"""Imports run one way: import_scripts → kb ← api; the computation stands alone."""

import ast
from graphlib import TopologicalSorter
from pathlib import Path

import pytest

ROOT = Path(__file__).parents[1]
ROOMS = ("kb", "api", "import_scripts")
FORBIDDEN = {
    "kb": {"api", "import_scripts", "flask", "requests", "requests_cache", "click", "rich", "waitress"},
    "import_scripts": {"api", "flask", "click", "rich"},
    "api": {"import_scripts", "requests", "requests_cache", "pyoxigraph"},
}
"""Which top-level packages no module of a room may import."""

MOST_LINES = 400
ROOMS_OF_MIXTURE = (
    "trials", "weeks", "light", "compiled", "ground", "bodies", "enemies", "sharing", "judging", "follow",
    "answers", "lists",
)  # fmt: skip
"""Rooms of the computation, each importing only from those before it."""


def modules() -> list[Path]:
    """Give every module of the three rooms."""
    return sorted(path for room in ROOMS for path in (ROOT / room).rglob("*.py"))


def imports_of(path: Path) -> list[tuple[str, int, bool]]:
    """Give (module, line, inside a function) of every import statement."""
    tree = ast.parse(path.read_text(encoding="utf-8"))
    inside = {
        id(node)
        for function in ast.walk(tree)
        if isinstance(function, ast.FunctionDef | ast.AsyncFunctionDef)
        for node in ast.walk(function)
    }
    found = []
    for node in ast.walk(tree):
        if isinstance(node, ast.Import):
            found += [(alias.name, node.lineno, id(node) in inside) for alias in node.names]
        elif isinstance(node, ast.ImportFrom):
            assert node.level == 0, f"{path}:{node.lineno} relative import"
            found.append((node.module or "", node.lineno, id(node) in inside))
    return found


def test_there_is_something_to_check() -> None:
    """The walk below sees the modules of every room."""
    assert {room for path in modules() for room in ROOMS if path.is_relative_to(ROOT / room)} == set(ROOMS)


@pytest.mark.parametrize("path", modules(), ids=lambda path: path.relative_to(ROOT).as_posix())
def test_imports_run_one_way(path: Path) -> None:
    """No room imports from a room above it, nor a library that is not its business."""
    room = path.relative_to(ROOT).parts[0]
    in_cli = path.is_relative_to(ROOT / "api" / "cli")
    for module, line, lazily in imports_of(path):
        top = module.partition(".")[0]
        if top == "import_scripts" and in_cli:
            assert lazily, f"{path}:{line} imports import_scripts when loaded; do it inside the command"
            continue
        assert top not in FORBIDDEN[room], f"{path}:{line} imports {module}"


def test_no_module_is_longer_than_agreed() -> None:
    """Nothing is read whole that goes on for longer (DEVELOPERS.md, house rules)."""
    every = [*modules(), *(ROOT / "tests").rglob("*.py")]
    lines = {path: path.read_text(encoding="utf-8").count("\n") for path in every}

    assert {} == {path.relative_to(ROOT).as_posix(): n for path, n in lines.items() if n > MOST_LINES}


def test_no_modules_import_each_other_in_a_circle() -> None:
    """Of any two modules one can be read without the other; imports inside functions count too."""
    names = {".".join(path.relative_to(ROOT).with_suffix("").parts): path for path in modules()}
    ties: dict[str, set[str]] = {}
    for name, path in names.items():
        for node in ast.walk(ast.parse(path.read_text(encoding="utf-8"))):
            if isinstance(node, ast.ImportFrom):
                parts = {f"{node.module}.{alias.name}" for alias in node.names} | {node.module or ""}
                ties.setdefault(name, set()).update(parts & names.keys())

    assert 500 < sum(map(len, ties.values()))
    TopologicalSorter(ties).prepare()  # raises CycleError, which names the circle


def test_rooms_of_the_computation_import_only_from_those_before_them() -> None:
    """The rooms stand in one order, and what all speak of, at the top, imports none of them."""
    home = ROOT / "kb" / "mixture"
    at = {room: place for place, room in enumerate(ROOMS_OF_MIXTURE, start=1)}

    assert set(at) == {path.name for path in home.iterdir() if (path / "__init__.py").exists()}
    for path in sorted(home.rglob("*.py")):
        own = at.get(path.relative_to(home).parts[0], 0)
        for module, line, _ in imports_of(path):
            parts = module.split(".")
            if parts[:2] == ["kb", "mixture"] and len(parts) > 2:
                assert at.get(parts[2], 0) <= own, f"{path}:{line} imports {module}"


def test_rooms_of_the_knowledge_base_import_each_other_in_no_circle() -> None:
    """Of any two rooms of kb one can be read without the other."""
    home = ROOT / "kb"
    rooms = {path.name for path in home.iterdir() if (path / "__init__.py").exists()}
    ties: dict[str, set[str]] = {
        room: {
            parts[1]
            for path in (home / room).rglob("*.py")
            for module, *_ in imports_of(path)
            if (parts := module.split("."))[0] == "kb" and len(parts) > 2 and parts[1] in rooms - {room}
        }
        for room in rooms
    }

    assert len(rooms) > 10
    TopologicalSorter(ties).prepare()


@pytest.mark.parametrize(
    "path",
    [path for path in modules() if path.is_relative_to(ROOT / "kb" / "mixture")],
    ids=lambda path: path.name,
)
def test_the_computation_stands_alone(path: Path) -> None:
    """kb.mixture knows no RDF, no files, no HTTP and nothing else of the knowledge base."""
    for module, line, _ in imports_of(path):
        top = module.partition(".")[0]
        assert top not in {"rdflib", "pyoxigraph", "pyshacl", "pathlib", "os", "io"}, (
            f"{path}:{line} {module}"
        )
        assert top != "kb" or module.startswith("kb.mixture"), f"{path}:{line} imports {module}"


@pytest.mark.parametrize("path", sorted((ROOT / "api").rglob("*.py")), ids=lambda path: path.name)
def test_http_knows_no_query_text(path: Path) -> None:
    """SPARQL lives in .rq files; no module of the interface holds a query."""
    text = path.read_text(encoding="utf-8")

    assert "SELECT ?" not in text
    assert "PREFIX tb:" not in text


def test_top_level_holds_only_what_is_agreed() -> None:
    """The top level of the checkout is fixed."""
    agreed = {
        "README.md", "DEVELOPERS.md", "pyproject.toml", "CHANGELOG.md", "LICENSE", "Makefile",
        "kb", "shapes", "api", "import_scripts", "tests",
    }  # fmt: skip
    made = {"build", "dist"}

    there = {path.name for path in ROOT.iterdir() if not path.name.startswith(".")}

    assert agreed | made >= {name for name in there if not name.endswith(".egg-info")}
