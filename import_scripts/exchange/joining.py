"""New statements joined to the plant or enemy that they are about, with an id for those that have none."""

import re
from collections.abc import Sequence
from dataclasses import dataclass, field, replace
from datetime import date

from import_scripts.base import Draft
from import_scripts.exchange.gathered import NewRecord, Place, Statement
from import_scripts.merge import merge_parts, once
from kb.model import Caution, Decision, Plant, Record, canonical
from kb.namespaces import BASE
from kb.statements.curation_model import Observation, Review, Withdrawal
from kb.statements.search_model import Search

ENTERED_BY = "importer csv"
REVISION = re.compile(r"\.r(\d+)$")


@dataclass(slots=True)
class Joined:
    """A plant with what is new; ``places`` say where each new part (``record.<id>`` ...) was read."""

    plant: Plant
    added: list[str] = field(default_factory=list)
    changed: list[tuple[str, str]] = field(default_factory=list)
    unchanged: int = 0
    places: dict[str, Place] = field(default_factory=dict)


def joined(
    plant: Plant,
    said: Sequence[tuple[Place, Statement]],
    drafts: Sequence[tuple[Place, NewRecord]],
    on: date,
) -> Joined:
    """The plant with statements that have an id, and drafts that get one. Nothing on file is touched."""
    result = Joined(plant, places={one.iri.removeprefix(BASE): place for place, one in said})
    parts = [one for _, one in said]
    result.added = [one.id for one in parts]
    records = (*plant.records, *(one for one in parts if isinstance(one, Record)))
    records = _with_revisions(records, [pair for pair in drafts if pair[1].revises], on, result)
    records = _with_drafts(records, [pair for pair in drafts if not pair[1].revises], on, result)
    whole = replace(
        plant,
        records=records,
        cautions=(*plant.cautions, *(one for one in parts if isinstance(one, Caution))),
        decisions=(*plant.decisions, *(one for one in parts if isinstance(one, Decision))),
        observations=(*plant.observations, *(one for one in parts if isinstance(one, Observation))),
        withdrawals=(*plant.withdrawals, *(one for one in parts if isinstance(one, Withdrawal))),
        reviews=(*plant.reviews, *(one for one in parts if isinstance(one, Review))),
        searches=(*plant.searches, *(one for one in parts if isinstance(one, Search))),
    )
    result.plant = canonical(whole)
    return result


def _record(new: NewRecord, name: str, on: date, revises: str | None) -> Record:
    return Record(
        id=name,
        standing="proposed",
        entered_by=new.entered_by or ENTERED_BY,
        entered_on=new.entered_on or on,
        revises=revises,
        **{field: getattr(new.draft, field) for field in Draft.__slots__},
    )


def _with_revisions(
    records: tuple[Record, ...], revising: Sequence[tuple[Place, NewRecord]], on: date, result: Joined
) -> tuple[Record, ...]:
    """The records with those that say which one they revise: ``.r2``, ``.r3`` ... of it."""
    for place, new in revising:
        if any(Draft.of(one) == new.draft and one.revises == new.revises for one in records):
            result.unchanged += 1
            continue
        base = REVISION.sub("", new.revises or "")
        taken = [
            int(found[1]) for one in records if (found := REVISION.search(one.id)) and one.id.startswith(base)
        ]
        name = f"{base}.r{max(taken, default=1) + 1}"
        records = (*records, _record(new, name, on, new.revises))
        result.changed.append((new.revises or "", name))
        result.places[f"record.{name}"] = place
    return records


def _with_drafts(
    records: tuple[Record, ...], drafts: Sequence[tuple[Place, NewRecord]], on: date, result: Joined
) -> tuple[Record, ...]:
    """The records with what is not among them; the same words read as another value are a revision."""
    if not drafts:
        return records
    entries = {new.draft: (place, new) for place, new in drafts}

    def made(draft: Draft, name: str, revises: str | None) -> Record:
        place, new = entries[draft]
        result.places[f"record.{name}"] = place
        return _record(new, name, on, revises)

    merged = merge_parts(
        records,
        once(entries),
        read=Draft.of,
        own=lambda _: True,
        head=lambda d: f"{d.plant}.{d.trait}.{d.source}",
        place=lambda d: (d.trait, d.source, d.locator, d.name_as_printed, str(d.conditions), d.verbatim),
        make=made,
    )
    result.added += merged.added
    result.changed += merged.changed
    result.unchanged += merged.unchanged + len(drafts) - len(entries)
    return merged.parts
