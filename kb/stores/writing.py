"""One change of one plant: from what stands on file to what is written, under the store's lock."""

import hashlib
from collections.abc import Callable, Iterable
from dataclasses import dataclass, field, replace
from typing import Any

from kb.errors import BadFile, BadParameter, BadRecord, ParameterFault, Refused, StaleWrite, UnknownPlant
from kb.model import Plant, PlantId, Source, canonical
from kb.stores.journal import Entry
from kb.turtle import plant_from_turtle, plant_to_turtle
from kb.validate import validate_plants, validate_source
from kb.vocabulary_store import load_vocabulary

NO_FILE = "none"
HASH_LETTERS = 16


@dataclass(frozen=True, slots=True)
class Edit:
    """A change that a curator wants: how the plant as it stands becomes the new one, who and why.

    ``make`` is called with the plant as it stands on file, while nobody else can write.
    """

    action: str
    who: str
    why: str
    make: Callable[[Plant], Plant]
    source: Source | None = None


@dataclass(frozen=True, slots=True)
class Change:
    """What was written: the plant before and after, its new revision and its line in the journal."""

    before: Plant
    after: Plant
    revision: str
    entry: Entry
    things: tuple[str, ...] = field(default=())


def hashed(text: bytes | None) -> str:
    return NO_FILE if text is None else hashlib.sha256(text).hexdigest()[:HASH_LETTERS]


def revision_of(base: bytes | None, own: bytes | None) -> str:
    """The revision of a plant: a hash of the base's file and one of the store's own file."""
    return f"{hashed(base)}-{hashed(own)}"


def things_of(plant: Plant) -> set[str]:
    """The local IRIs of all parts of a plant."""
    return {f"{kind}.{part.id}" for kind in KINDS for part in getattr(plant, f"{kind}s")}


def added(before: Plant, after: Plant) -> tuple[str, ...]:
    """What a change adds. Raises AssertionError where it would lose or alter a part: none ever may."""
    lost = things_of(before) - things_of(after)
    altered = [
        part.id
        for kind in (f"{kind}s" for kind in KINDS)
        for part in getattr(before, kind)
        if part not in getattr(after, kind) and part.id in {other.id for other in getattr(after, kind)}
    ]
    if lost or altered:
        raise AssertionError(f"a change would lose {sorted(lost)} or alter {altered}")
    return tuple(sorted(things_of(after) - things_of(before)))


KINDS = ("record", "caution", "decision", "observation", "withdrawal", "review")


def with_told(plant: Plant, standing: Plant | None, told: set[str]) -> Plant:
    """The plant with those parts that stand on file and that the journal tells of.

    Whoever replaces a whole plant (an import) read it before; what the bench wrote meanwhile stays.
    """
    if standing is None or not told:
        return plant
    parts: dict[str, Any] = {}
    for kind in KINDS:
        there = {part.id for part in getattr(plant, f"{kind}s")}
        more = tuple(
            part
            for part in getattr(standing, f"{kind}s")
            if part.id not in there and f"{kind}.{part.id}" in told
        )
        parts[f"{kind}s"] = (*getattr(plant, f"{kind}s"), *more)
    return replace(plant, **parts)


UNKNOWN_REVISION = (
    "the journal knows no such revision of it (a file was changed without the bench, or it never was one)"
)


def refuse_stale(
    plant: PlantId,
    revisions: tuple[str, str],
    journal: tuple[Entry, ...],
    texts: tuple[str, str],
    wanted: tuple[str, ...],
) -> None:
    """Raise StaleWrite where the plant is not at the revision that was read.

    ``revisions`` are the one expected and the one on file; ``texts`` what stands and what was wanted.
    """
    expected, current = revisions
    if expected == current:
        return
    own = [entry for entry in journal if entry.plant == plant]
    seen = next((n for n, entry in enumerate(own) if entry.after == expected), None)
    first = next((n for n, entry in enumerate(own) if entry.before == expected), None)
    start = seen + 1 if seen is not None else first
    since = (UNKNOWN_REVISION,) if start is None else tuple(entry.words() for entry in own[start:])
    raise StaleWrite(plant, expected, current, since, *texts, wanted)


def there(plant: Plant | None, plant_id: PlantId) -> Plant:
    if plant is None:
        raise UnknownPlant(plant_id)
    return plant


def acceptable(plant: Plant, sources: Iterable[Source], plants: Iterable[PlantId]) -> Plant:
    """The plant once it is sound; what a curator wanted and cannot have is Refused."""
    try:
        return sound(plant, sources, plants)
    except BadRecord as fault:
        raise Refused(fault.record, fault.path, fault.detail) from None


def not_there(source: Source | None, sources: Iterable[Source]) -> Source | None:
    """The source that comes with a change, unless it stands on file already.

    Asked under the lock: another writer may have brought one of the same key since the change was made up.
    Raises BadParameter where that one is described in other words; it is never written over.
    """
    if source is None:
        return None
    there = next((one for one in sources if one.key == source.key), None)
    if there is not None and there != source:
        detail = f"'{source.key}' is described already, in other words; name it without describing it"
        raise BadParameter((ParameterFault("source", detail),))
    return source if there is None else None


def acceptable_source(source: Source) -> Source:
    """A source that comes into the store with a record, held against its shape. Raises Refused."""
    for finding in validate_source(source, load_vocabulary()):
        if finding.severity == "violation":
            raise Refused(finding.subject or source.key, finding.path, finding.message)
    return source


def sound(plant: Plant, sources: Iterable[Source], plants: Iterable[PlantId]) -> Plant:
    """The plant as its file will give it back, once it keeps every rule of the knowledge base.

    Raises BadRecord where a shape or check is broken (which record, which property, how to mend it),
    BadFile where a value would not survive its file.
    """
    broken = [
        finding
        for finding in validate_plants((plant,), load_vocabulary(), sources, known_plants=plants)
        if finding.severity == "violation"
    ]
    if broken:
        first, more = broken[0], len(broken) - 1
        further = f" ({more} more to mend in the same plant)" if more else ""
        raise BadRecord(first.subject or plant.id, first.path, f"{first.message}{further}")
    read = plant_from_turtle(plant_to_turtle(plant), f"{plant.id}.ttl")
    if read != canonical(plant):
        raise BadFile(f"{plant.id}.ttl", None, "would not read back as it was written; nothing was kept")
    return read
