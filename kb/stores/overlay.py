"""A user's folder laid over the base: reading both, and what of a plant is the user's own."""

import re
from dataclasses import replace
from pathlib import Path

from kb.errors import BadFile, StoreFault
from kb.model import Plant, PlantId, Source, SourceKey, canonical
from kb.stores.files import PLANTS, SOURCES, plant_path, read_text, turtle_files, write_durably
from kb.text.turtle_reading import ParsedPlant, parse_plant, parse_source

ReadBefore = dict[Path, tuple[tuple[int, int, int], ParsedPlant]]
"""Files with what told them apart when they were parsed (inode, size, time of change)."""


def replace_text(path: Path, text: str) -> bool:
    if path.is_file() and path.read_bytes() == text.encode():
        return False
    write_durably(path, text)
    return True


def begin_with(path: Path, text: str) -> None:
    """Write the first of two files that belong together. Raises StoreFault; then nothing was changed."""
    try:
        replace_text(path, text)
    except StoreFault as fault:
        reason = fault.detail.removesuffix("; nothing was changed")
        raise StoreFault(fault.store, f"{reason}; nothing was changed") from None


def named_in(folder: Path, key: SourceKey | str) -> bool:
    """Whether any plant's file of a folder names this source."""
    name = re.compile(rf"source\.{re.escape(key)}(?![\w.-]*\w)".encode())
    return any(name.search(path.read_bytes()) for path in turtle_files(folder, PLANTS))


def load_sources(folder: Path, sources: dict[SourceKey, Source], faults: list[BadFile]) -> None:
    for path in turtle_files(folder, SOURCES):
        shown = path.relative_to(folder).as_posix()
        try:
            source = parse_source(read_text(path, shown), shown)
        except BadFile as fault:
            faults.append(fault)
        else:
            sources[source.key] = source


def load_plants(
    folder: Path, plants: dict[PlantId, Plant], faults: list[BadFile], read: ReadBefore | None = None
) -> None:
    """All plants of a folder, laid over those that are there; files in ``read`` are parsed once only."""
    for path in turtle_files(folder, PLANTS):
        load_plant(path, path.relative_to(folder).as_posix(), plants, faults, read)


def load_plant(
    path: Path,
    shown: str,
    plants: dict[PlantId, Plant],
    faults: list[BadFile],
    read: ReadBefore | None = None,
) -> None:
    try:
        parsed = _parsed(path, shown, read)
    except BadFile as fault:
        faults.append(fault)
        return
    faults += parsed.faults
    if parsed.plant is not None:
        known = plants.get(parsed.plant.id)
        plants[parsed.plant.id] = parsed.plant if known is None else laid_over(known, parsed.plant)


def _parsed(path: Path, shown: str, read: ReadBefore | None) -> ParsedPlant:
    """One file as it stands; a file that did not change since it was parsed is not parsed again."""
    if read is None or not path.is_file():
        return parse_plant(read_text(path, shown), shown)
    status = path.stat()
    stamp = (status.st_ino, status.st_size, status.st_mtime_ns)
    before = read.get(path)
    if before is None or before[0] != stamp:
        read[path] = before = (stamp, parse_plant(read_text(path, shown), shown))
    return before[1]


def laid_over(base: Plant, own: Plant) -> Plant:
    """The base's plant with the parts of the user's own file joined to it."""
    return canonical(
        replace(
            base,
            records=tuple({r.id: r for r in (*base.records, *own.records)}.values()),
            cautions=tuple({c.id: c for c in (*base.cautions, *own.cautions)}.values()),
            decisions=tuple({d.id: d for d in (*base.decisions, *own.decisions)}.values()),
            observations=tuple({o.id: o for o in (*base.observations, *own.observations)}.values()),
            withdrawals=tuple({w.id: w for w in (*base.withdrawals, *own.withdrawals)}.values()),
            reviews=tuple({r.id: r for r in (*base.reviews, *own.reviews)}.values()),
            searches=tuple({s.id: s for s in (*base.searches, *own.searches)}.values()),
        )
    )


def beyond_base(plant: Plant, folder: Path) -> Plant:
    """The plant without the parts that the base in ``folder`` holds already."""
    path = plant_path(folder, plant.id)
    if not path.is_file():
        return plant
    base = parse_plant(read_text(path, path.name), path.name).plant
    if base is None:
        return plant
    return replace(
        plant,
        records=tuple(r for r in plant.records if r not in base.records),
        cautions=tuple(c for c in plant.cautions if c not in base.cautions),
        decisions=tuple(d for d in plant.decisions if d not in base.decisions),
        observations=tuple(seen for seen in plant.observations if seen not in base.observations),
        withdrawals=tuple(act for act in plant.withdrawals if act not in base.withdrawals),
        reviews=tuple(act for act in plant.reviews if act not in base.reviews),
        searches=tuple(search for search in plant.searches if search not in base.searches),
    )
