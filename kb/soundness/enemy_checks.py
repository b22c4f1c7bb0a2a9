"""The check of a folder's enemies and emissions: what cannot be read, stands wrong, or points nowhere.

What reading a file finds comes first; the shapes (``shapes/enemy.ttl``) are held against every file too, and
what they alone find is added, so that no part is judged by one of them only.
"""

from collections import Counter
from collections.abc import Callable, Iterator
from pathlib import Path

import pyoxigraph
from pyoxigraph import RdfFormat

from kb.errors import BadFile, StoreFault
from kb.soundness.findings import Finding, finding_of, local_name
from kb.soundness.mini_graph import MiniGraph, term_of
from kb.soundness.shape_checks import judge
from kb.soundness.shape_library import compiled_shapes
from kb.statements.enemy_model import Emission, EmissionStatement, Enemy, HostStatement
from kb.stores.enemy_files import ENEMIES, enemy_path
from kb.stores.files import read_text, turtle_files
from kb.text.enemy_turtle import parse_enemies
from kb.vocabulary_store import load_vocabulary

Known = Callable[[str], bool]


def check_enemies(
    folder: Path, *, plants: Known, sources: Known, known: MiniGraph
) -> tuple[tuple[Finding, ...], dict[str, int]]:
    """Findings on the enemies of a folder, and how many enemies and statements it holds.

    ``plants`` and ``sources`` say whether an id or key is known; ``known`` holds them, with the vocabulary,
    for the shapes. A folder without the room counts nothing.
    """
    graph, files = MiniGraph(context=known), dict[str, str]()
    findings: list[Finding] = []
    counts = {"enemies": 0, "host statements": 0, "emission statements": 0}
    ids: Counter[str] = Counter()
    for path in turtle_files(folder, ENEMIES):
        shown = path.relative_to(folder).as_posix()
        try:
            text = read_text(path, shown)
            parsed = parse_enemies(text, shown)
        except BadFile as fault:
            findings.append(_fault(fault))
            continue
        _add(graph, files, text, shown)
        findings += map(_fault, parsed.faults)
        thing = parsed.enemy or parsed.emission
        if thing is None:
            continue
        counts["enemies"] += parsed.enemy is not None
        counts["host statements" if parsed.enemy else "emission statements"] += len(thing.statements)
        ids.update(said.id for said in thing.statements)
        findings += _of_one(thing, path, folder, plants, sources)
    findings += [
        Finding("violation", None, f"record.{name}", None, "stands in two files; keep it in one", "one-file")
        for name, times in ids.items()
        if times > 1
    ]
    findings += _by_shapes(graph, files, findings)
    return tuple(findings), counts if (folder / ENEMIES).is_dir() else {}


def _add(graph: MiniGraph, files: dict[str, str], text: str, shown: str) -> None:
    """The triples of one file, and where their subjects stand. What is no Turtle was named by reading it."""
    try:
        quads = list(pyoxigraph.parse(text.encode(), format=RdfFormat.TURTLE))
    except SyntaxError:
        return
    graph.add_quads(quads)
    files.update({term_of(quad.subject).value: shown for quad in quads})


def _by_shapes(graph: MiniGraph, files: dict[str, str], findings: list[Finding]) -> list[Finding]:
    """What the shapes find in subjects of which reading found nothing."""
    blamed = [(found.file, f"{found.subject or ''} {found.message}") for found in findings]
    extra = []
    for breach in judge(graph, compiled_shapes(load_vocabulary())):
        file, name = files.get(breach.culprit.value), local_name(breach.culprit.value)
        if not any(file == place and name in words for place, words in blamed):
            extra.append(finding_of(breach, file=file))
    return extra


def _fault(fault: BadFile) -> Finding:
    return Finding("violation", fault.file, None, None, fault.detail, "loading", line=fault.line)


def _of_one(
    thing: Enemy | Emission, path: Path, folder: Path, plants: Known, sources: Known
) -> Iterator[Finding]:
    shown = path.relative_to(folder).as_posix()

    def wrong(subject: str, property_: str | None, message: str, shape: str) -> Finding:
        return Finding("violation", shown, subject, property_, message, shape)

    due = _due(folder, thing)
    if due is not None and due != path:
        place = due.relative_to(folder).as_posix()
        yield wrong(thing.id, None, f"belongs into {place}; move it there", "file-name")
    if isinstance(thing, Emission) and not plants(thing.emitter):
        yield wrong(thing.id, "tb:emitter", f"there is no plant '{thing.emitter}'; mend the id", "plant")
    for said in thing.statements:
        name, head = f"record.{said.id}", _head(said, thing)
        if said.id != head and not said.id.startswith(f"{head}."):
            yield wrong(name, None, f"name it record.{head}, with .1, .2 ... where there are several", "name")
        if not plants(said.plant):
            yield wrong(name, "tb:aboutTaxon", f"there is no plant '{said.plant}'; mend the id", "plant")
        if not sources(said.source):
            message = f"there is no source '{said.source}'; add it or mend the key"
            yield wrong(name, "prov:wasQuotedFrom", message, "source")


def _due(folder: Path, thing: Enemy | Emission) -> Path | None:
    """The file it belongs into; None where its id is none (the shapes say so)."""
    try:
        return enemy_path(folder, thing.id)
    except StoreFault:
        return None


def _head(said: HostStatement | EmissionStatement, thing: Enemy | Emission) -> str:
    """What the id of a statement begins with."""
    about = thing.record_head if isinstance(thing, Emission) else f"enemy.{thing.id}"
    return f"{said.plant}.{about}.{said.source}"
