"""Every file of a knowledge-base folder read and judged; what is broken is named, the rest goes on."""

import re
from collections.abc import Callable, Iterator
from dataclasses import dataclass, field
from importlib.resources import files
from pathlib import Path

import pyoxigraph
from pyoxigraph import Quad, RdfFormat, Store

from kb.errors import BadFile
from kb.model import PlantId, SourceKey
from kb.namespaces import BASE, TCS, iri
from kb.soundness.cross_checks import ask
from kb.soundness.enemy_checks import check_enemies
from kb.soundness.findings import Finding, Note, Report, finding_of, local_name
from kb.soundness.mini_graph import RDF_TYPE, MiniGraph, Term, term_of
from kb.soundness.shape_checks import judge
from kb.soundness.shape_library import compiled_shapes, vocabulary_graph
from kb.stores.files import PLANTS, SOURCES, TEMPORARY, plant_path, read_text, source_path
from kb.text.turtle_reading import parse_plant, parse_source
from kb.vocabulary_store import load_vocabulary

SUBJECT = re.compile(r"(?:tb:(?P<short>[^\s;,]+)|<(?P<long>[^>]+)>)")
COUNTED = {
    "plants": TCS.TaxonConcept,
    "records": f"{BASE}TraitRecord",
    "cautions": f"{BASE}Caution",
    "decisions": f"{BASE}Decision",
    "observations": f"{BASE}Observation",
    "searches": f"{BASE}Search",
    "sources": f"{BASE}Source",
}


@dataclass(slots=True)
class Reading:
    """What the files of a folder held, where each subject stands, and what could not be read."""

    folder: Path
    graph: MiniGraph
    known: MiniGraph
    store: Store = field(default_factory=Store)
    places: dict[str, tuple[str, int | None]] = field(default_factory=dict)
    findings: list[Finding] = field(default_factory=list)

    def fault(self, fault: BadFile, shape: str) -> None:
        self.findings.append(
            Finding("violation", fault.file, None, None, fault.detail, shape, line=fault.line)
        )

    def finding(self, subject: str, message: str, shape: str) -> None:
        file, line = self.places.get(subject, (None, None))
        self.findings.append(Finding("violation", file, local_name(subject), None, message, shape, line=line))


def validate_folder(folder: Path) -> Report:
    """Check a folder laid out like the shipped base (``plants/``, ``sources/``).

    A folder of one's own is laid over the shipped base, so its records may name the base's plants
    and sources. Broken files are findings with file and line; all others are judged all the same.
    """
    base = Path(str(files("kb")))
    known = MiniGraph(context=vocabulary_graph())
    reading = Reading(folder, MiniGraph(context=known), known)
    if not (folder / PLANTS).is_dir() and not (folder / SOURCES).is_dir():
        message = f"holds neither {PLANTS}/ nor {SOURCES}/, so there is nothing to check; name another folder"
        reading.findings.append(Finding("violation", folder.name, None, None, message, "folder"))
    for room in (SOURCES, PLANTS):
        for path in _files(reading, room):
            _read(reading, path, room)
    if folder.resolve() != base.resolve():
        _know_base(reading, base)
    for breach in judge(reading.graph, compiled_shapes(load_vocabulary())):
        file, line = reading.places.get(breach.culprit.value, (None, None))
        reading.findings.append(finding_of(breach, file=file, line=line))
    notes = _ask_across(reading)
    _read_strictly(reading)
    enemies, enemy_counts = check_enemies(
        folder, plants=_known(reading, "plant"), sources=_known(reading, "source"), known=reading.graph
    )
    reading.findings += enemies
    findings = sorted(
        dict.fromkeys(reading.findings),
        key=lambda f: (f.file or "", f.line or 0, f.subject or "", f.path or "", f.message),
    )
    counts = {name: sum(1 for _ in reading.graph.of_class(str(kind))) for name, kind in COUNTED.items()}
    return Report(tuple(findings), notes, {**counts, **enemy_counts})


def _known(reading: Reading, kind: str) -> Callable[[str], bool]:
    """Whether a plant or source of an id is here or in the shipped base."""
    wanted = str(TCS.TaxonConcept) if kind == "plant" else f"{BASE}Source"
    there = {term.value for graph in (reading.graph, reading.known) for term in graph.of_class(wanted)}
    return lambda name: iri(kind, name) in there


def _files(reading: Reading, room: str) -> Iterator[Path]:
    """The Turtle files of one room; anything else that lies there is pointed out."""
    for path in sorted((reading.folder / room).rglob("*")):
        if path.is_dir() or path.name.startswith(".") or path.name.endswith(TEMPORARY):
            continue
        if path.suffix == ".ttl":
            yield path
        else:
            shown = path.relative_to(reading.folder).as_posix()
            message = "is not read, because its name does not end in .ttl; rename it or take it away"
            reading.findings.append(Finding("warning", shown, None, None, message, "folder"))


def _read(reading: Reading, path: Path, room: str) -> None:
    shown = path.relative_to(reading.folder).as_posix()
    try:
        text = read_text(path, shown)
        quads = _parse(text, shown)
    except BadFile as fault:
        reading.fault(fault, "file")
        return
    lines = _lines(text)
    here: set[str] = set()
    for quad in quads:
        subject = term_of(quad.subject).value
        if subject not in here:
            here.add(subject)
            _place(reading, subject, shown, lines.get(subject))
    reading.graph.add_quads(quads)
    reading.store.extend(quads)
    _check_place(reading, here, path, room)


def _parse(text: str, shown: str) -> list[Quad]:
    try:
        return list(pyoxigraph.parse(text.encode(), format=RdfFormat.TURTLE))
    except SyntaxError as fault:
        detail = f"is not Turtle: {fault.msg}. Nothing of this file was read; mend that line."
        raise BadFile(shown, fault.lineno, detail) from None


def _lines(text: str) -> dict[str, int]:
    """The line on which each subject begins."""
    found: dict[str, int] = {}
    for number, line in enumerate(text.splitlines(), start=1):
        match = SUBJECT.match(line)
        if match is not None:
            found.setdefault(BASE + match["short"] if match["short"] else match["long"], number)
    return found


def _place(reading: Reading, subject: str, shown: str, line: int | None) -> None:
    """Note where a subject stands; one that stands in two files would be read from one only."""
    other = reading.places.get(subject)
    if other is None:
        reading.places[subject] = (shown, line)
        return
    message = f"is described in {other[0]} too; keep it in one file"
    reading.findings.append(Finding("violation", shown, local_name(subject), None, message, "one-file", line))


def _check_place(reading: Reading, subjects: set[str], path: Path, room: str) -> None:
    """Whether a plant or source lies in the file that its name asks for."""
    kind = "plant" if room == PLANTS else "source"
    head = iri(kind, "")
    for subject in sorted(subjects):
        if not subject.startswith(head):
            continue
        name = subject.removeprefix(head)
        folder = reading.folder
        due = plant_path(folder, PlantId(name)) if kind == "plant" else source_path(folder, SourceKey(name))
        if due != path:
            place = due.relative_to(folder).as_posix()
            message = f"belongs into {place}; move it there, or it would be written twice"
            reading.finding(subject, message, "file-name")


def _know_base(reading: Reading, base: Path) -> None:
    """Let the shipped base's plants, sources and records of the same plants be known."""
    for path in (base / SOURCES).glob("*.ttl"):
        _know(reading, iri("source", path.stem), f"{BASE}Source")
    for path in (base / PLANTS).glob("*/*.ttl"):
        genus, rest = path.parent.name, path.stem
        _know(reading, iri("plant", genus if rest == genus else f"{genus}-{rest}"), str(TCS.TaxonConcept))
    head = iri("plant", "")
    for subject in [place for place in reading.places if place.startswith(head)]:
        path = plant_path(base, PlantId(subject.removeprefix(head)))
        if path.is_file():
            quads = _parse(path.read_text(encoding="utf-8"), path.name)
            reading.known.add_quads(quads)
            reading.store.extend(quads)


def _know(reading: Reading, subject: str, kind: str) -> None:
    reading.known.add(Term("iri", subject), RDF_TYPE, Term("iri", kind))


def _ask_across(reading: Reading) -> tuple[Note, ...]:
    """The rules that join records, and the news for curators."""
    for query, rows in ask(reading.store, "checks"):
        for row in rows:
            if row.subject in reading.places or row.subject == BASE:
                message = f"{query.mend} ({local_name(row.detail)})"
                reading.finding(row.subject, message, f"checks/{query.name}")
    return tuple(
        Note(
            query.name,
            query.question,
            tuple((local_name(row.subject), local_name(row.detail)) for row in rows),
        )
        for query, rows in ask(reading.store, "reports")
    )


def _read_strictly(reading: Reading) -> None:
    """Whatever loading would leave out is a finding, unless a shape has named its cause already."""
    blamed: dict[str | None, set[str | None]] = {}
    for finding in reading.findings:
        if finding.severity == "violation":
            blamed.setdefault(finding.file, set()).add(finding.subject)
    for room in (SOURCES, PLANTS):
        for path in sorted((reading.folder / room).rglob("*.ttl")):
            shown = path.relative_to(reading.folder).as_posix()
            named = blamed.get(shown, set())
            if None in named:  # the file as a whole could not be read
                continue
            for fault in _loading_faults(path.read_text(encoding="utf-8"), shown, room):
                if not any(subject is not None and subject in fault.detail for subject in named):
                    reading.fault(fault, "loading")


def _loading_faults(text: str, shown: str, room: str) -> tuple[BadFile, ...]:
    if room == PLANTS:
        return parse_plant(text, shown).faults
    try:
        parse_source(text, shown)
    except BadFile as fault:
        return (fault,)
    return ()
