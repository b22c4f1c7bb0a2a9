"""Drafts into a plant: what is new, what stands already, what its source now states otherwise.

Ids are ``plant.trait.source``, with ``.1``, ``.2`` ... where one source has several. A draft
that equals a record on file is that record, whatever its number, so a row added in the middle of
a table moves no id. A draft at the same place of the same source as a record that no draft equals
is a change upstream: the record stays and a revision of it (``.r2``, ``.r3`` ...) is added.
"""

import re
from collections import Counter
from collections.abc import Callable, Iterable, Sequence
from dataclasses import dataclass, replace
from datetime import date
from typing import Generic, TypeVar

from import_scripts.base import CautionDraft, Draft, EmissionDraft, HostDraft
from kb.model import Caution, Plant, Record
from kb.statements.enemy_model import EmissionStatement, HostStatement

Kept = TypeVar("Kept", Record, Caution, HostStatement, EmissionStatement)
Drafted = TypeVar("Drafted", Draft, CautionDraft, HostDraft, EmissionDraft)
REVISION = re.compile(r"\.r(\d+)$")


@dataclass(frozen=True, slots=True)
class Merged(Generic[Kept]):
    """The parts of one kind of one plant after a merge, and what happened to them."""

    parts: tuple[Kept, ...]
    added: tuple[str, ...]
    changed: tuple[tuple[str, str], ...]
    unchanged: int
    absent: tuple[str, ...]


@dataclass(frozen=True, slots=True)
class MergedPlant:
    """A plant after a merge, and what happened to its records and cautions."""

    plant: Plant
    records: Merged[Record]
    cautions: Merged[Caution]


def merge(plant: Plant, drafts: Iterable[Draft | CautionDraft], *, importer: str, on: date) -> MergedPlant:
    """The plant with an importer's drafts merged in; nothing that is on file is edited or removed.

    Only records that this importer entered are compared; those of other sources, decisions and
    cautions pass through untouched.
    """
    by = f"importer {importer}"
    record_drafts = once(draft for draft in drafts if isinstance(draft, Draft))
    caution_drafts = once(draft for draft in drafts if isinstance(draft, CautionDraft))

    def record(draft: Draft, name: str, revises: str | None) -> Record:
        return Record(
            id=name,
            standing="proposed",
            entered_by=by,
            entered_on=on,
            revises=revises,
            **{field: getattr(draft, field) for field in Draft.__slots__},
        )

    def caution(draft: CautionDraft, name: str, revises: str | None) -> Caution:  # noqa: ARG001
        return Caution(
            id=name,
            standing="proposed",
            entered_by=by,
            entered_on=on,
            **{field: getattr(draft, field) for field in CautionDraft.__slots__},
        )

    records = merge_parts(
        plant.records,
        record_drafts,
        read=Draft.of,
        own=lambda kept: kept.entered_by == by,
        head=lambda d: f"{d.plant}.{d.trait}.{d.source}",
        place=lambda d: (d.trait, d.source, d.locator, d.name_as_printed),
        make=record,
    )
    cautions = merge_parts(
        plant.cautions,
        caution_drafts,
        read=CautionDraft.of,
        own=lambda kept: kept.entered_by == by,
        head=lambda d: f"{d.plant}.{d.kind}.{d.source}",
        place=lambda d: (d.kind, d.source, d.locator, d.name_as_printed),
        make=caution,
    )
    merged = replace(plant, records=records.parts, cautions=cautions.parts)
    return MergedPlant(merged, records, cautions)


def once(drafts: Iterable[Drafted]) -> tuple[Drafted, ...]:
    """Each draft once: a row that a source prints twice is one statement."""
    return tuple(dict.fromkeys(drafts))


def merge_parts(
    kept: Sequence[Kept],
    drafts: Sequence[Drafted],
    *,
    read: Callable[[Kept], Drafted],
    own: Callable[[Kept], bool],
    head: Callable[[Drafted], str],
    place: Callable[[Drafted], tuple[str, ...]],
    make: Callable[[Drafted, str, str | None], Kept],
) -> Merged[Kept]:
    """The parts of one kind with drafts merged in: see the head of this module."""
    taken = {part.id for part in kept}
    newest = {_base(part.id)[0]: part for part in sorted(kept, key=lambda part: _base(part.id)[1])}
    current = {id_: part for id_, part in newest.items() if own(part)}
    by_content: dict[Drafted, list[str]] = {}
    for id_, part in current.items():
        by_content.setdefault(read(part), []).append(id_)
    waiting: list[Drafted] = []
    unchanged = 0
    for drafted in drafts:
        if by_content.get(drafted):
            current.pop(by_content[drafted].pop(0))
            unchanged += 1
        else:
            waiting.append(drafted)
    parts, added, changed = list(kept), [], []
    several = Counter(head(drafted) for drafted in waiting)
    for drafted in waiting:
        old = next((id_ for id_, part in current.items() if place(read(part)) == place(drafted)), None)
        if old is None:
            name = _free(head(drafted), taken, several=several[head(drafted)] > 1)
            parts.append(make(drafted, name, None))
            added.append(name)
        else:
            previous = current.pop(old)
            name = f"{old}.r{_base(previous.id)[1] + 1}"
            parts.append(make(drafted, name, previous.id))
            changed.append((previous.id, name))
        taken.add(name)
    absent = tuple(sorted(part.id for part in current.values()))
    return Merged(tuple(parts), tuple(added), tuple(changed), unchanged, absent)


def _base(name: str) -> tuple[str, int]:
    """The id without its revision, and the number of the revision (1 for the first)."""
    found = REVISION.search(name)
    return (name[: found.start()], int(found[1])) if found else (name, 1)


def _free(head: str, taken: set[str], *, several: bool) -> str:
    """``head`` for the only record of its kind; ``head.1``, ``head.2`` ... where there are several."""
    if not several and head not in taken and f"{head}.1" not in taken:
        return head
    number = 2 if head in taken else 1
    while f"{head}.{number}" in taken:
        number += 1
    return f"{head}.{number}"
