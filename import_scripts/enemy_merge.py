"""Drafts of host statements and of lists into enemies and emissions, by the rules of `merge`."""

from collections.abc import Callable, Iterable, Sequence
from dataclasses import dataclass, replace
from datetime import date
from typing import TypeVar

from import_scripts.base import EmissionDraft, HostDraft
from import_scripts.merge import Merged, merge_parts, once
from kb.statements.enemy_model import Emission, EmissionStatement, Enemy, HostStatement

Statement = TypeVar("Statement", HostStatement, EmissionStatement)


@dataclass(frozen=True, slots=True)
class MergedEnemy:
    """An enemy after a merge, and what happened to its statements."""

    enemy: Enemy
    statements: Merged[HostStatement]


@dataclass(frozen=True, slots=True)
class MergedEmission:
    """An emission after a merge, and what happened to its statements."""

    emission: Emission
    statements: Merged[EmissionStatement]


def _maker(
    kind: Callable[..., Statement], by: str, on: date
) -> Callable[[HostDraft | EmissionDraft, str, str | None], Statement]:
    """What makes a statement of a draft under a name, revising another or none."""

    def made(draft: HostDraft | EmissionDraft, name: str, revises: str | None) -> Statement:
        told = {field: getattr(draft, field) for field in type(draft).__slots__}
        return kind(id=name, standing="proposed", entered_by=by, entered_on=on, revises=revises, **told)

    return made


def merge_enemy(
    known: Enemy | None, named: Enemy, drafts: Iterable[HostDraft], *, importer: str, on: date
) -> MergedEnemy:
    """The enemy as now named, with an importer's drafts merged in; nothing on file is edited or lost."""
    by = f"importer {importer}"

    merged = merge_parts(
        known.statements if known else (),
        once(drafts),
        read=HostDraft.of,
        own=lambda kept: kept.entered_by == by,
        head=lambda d: f"{d.plant}.enemy.{d.enemy}.{d.source}",
        place=lambda d: (d.plant, d.source, d.locator, d.name_as_printed, d.role),
        make=_maker(HostStatement, by, on),
    )
    return MergedEnemy(replace(named, statements=merged.parts), merged)


def merge_emission(
    known: Emission | None, named: Emission, drafts: Sequence[EmissionDraft], *, importer: str, on: date
) -> MergedEmission:
    """The emission as now named, with an importer's drafts merged in."""
    by = f"importer {importer}"

    merged = merge_parts(
        known.statements if known else (),
        once(drafts),
        read=EmissionDraft.of,
        own=lambda kept: kept.entered_by == by,
        head=lambda d: f"{d.plant}.{named.record_head}.{d.source}",
        place=lambda d: (d.plant, d.source, d.locator, d.name_as_printed),
        make=_maker(EmissionStatement, by, on),
    )
    return MergedEmission(replace(named, statements=merged.parts), merged)
