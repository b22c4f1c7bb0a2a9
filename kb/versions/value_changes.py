"""How the value in use of one trait differs between two versions, and which records made it differ.

What counts as noise is judgement, all of it here. A number is told in steps of a quarter of its
interval (never finer than two figures); a difference below one step is noise. The ends of a range
that a plant bears, or that sources only limit, go in steps of a tenth of it; weeks by whole weeks, and
one week is noise. An interval that grew or shrank by half is a change of its own. A named value has
no noise.
"""

import math
from collections.abc import Iterable, Mapping
from dataclasses import dataclass, fields
from typing import Literal

from kb.adoption.votes import study_of
from kb.model import Adopted, Confidence, Decision, Plant, Record, Trait
from kb.statements.curation_model import Observation, in_force

Kind = Literal["new", "gone", "moved", "wider", "narrower", "same", "noise"]
CauseKind = Literal[
    "added",
    "more-of-study",
    "counts-now",
    "corrected",
    "set-aside",
    "removed",
    "decided",
    "observed",
    "inherited",
    "own-now",
]
QUARTER, TENTH = 0.25, 0.1
FIGURES = 2
REACH = 1.5
"""An interval so many times as wide, or as narrow, is told."""
WEEKS_OF_NOISE = 1.0
WEEKS_OF_YEAR = 52.0
ENTRY = frozenset({"entered_by", "entered_on", "standing"})
"""What of a record is about its entry and says nothing of the plant."""
RULE_OF_RANGE = "tolerated-range"


@dataclass(frozen=True, slots=True)
class Cause:
    """Why a value changed: records of one kind of event; ``studies`` are their independent studies.

    ``why`` is how a record that was set aside counts now (None where its scale is no longer read), the
    curator's reason of a decision, or the plant that the value is, or was, taken from.
    """

    kind: CauseKind
    records: tuple[str, ...] = ()
    studies: tuple[str, ...] = ()
    sources: tuple[str, ...] = ()
    why: str | None = None


@dataclass(frozen=True, slots=True)
class ValueChange:
    """The value in use of one trait before and after; None where there was, or is, none.

    ``confidence`` is (before, after) where the word changed.
    """

    trait: Trait
    kind: Kind
    before: Adopted | None
    after: Adopted | None
    confidence: tuple[Confidence, Confidence] | None
    causes: tuple[Cause, ...]

    @property
    def counted_only(self) -> bool:
        """Whether it is within noise: to be counted, not listed."""
        return self.kind == "noise" and self.confidence is None


def value_change(
    trait: Trait, before: Adopted | None, after: Adopted | None, plants: tuple[Plant, Plant]
) -> ValueChange | None:
    """The change of one value, None where nothing of it changed. ``plants`` are (old, new)."""
    if before is None and after is None:
        return None
    if before is not None and after is not None:
        same = _said(before) == _said(after)
        word = None if before.confidence == after.confidence else (before.confidence, after.confidence)
        if same and word is None:
            return None
        kind: Kind = "same" if same else _kind(trait, before, after, step_of(trait, before, after) or 0.0)
    else:
        word, kind = None, "new" if before is None else "gone"
    return ValueChange(trait, kind, before, after, word, _causes(trait, before, after, plants))


def step_of(trait: Trait, *held: Adopted) -> float | None:
    """How fine these values may be told, by the least sure of them; None for a named value."""
    if trait.kind != "number":
        return 1.0 if trait.kind == "window" else None
    share = TENTH if _by_ends(trait, held) else QUARTER
    widths = [v.high - v.low for v in held if v.low is not None and v.high is not None and v.high > v.low]
    largest = max((abs(n) for v in held for n in _numbers(v)), default=0.0)
    figures = 10 ** (math.floor(math.log10(largest)) - FIGURES + 1) if largest > 0 else 0.0
    return max(figures, _round_step(share * max(widths)) if widths else 0.0) or None


def _round_step(step: float) -> float:
    """The largest of 1, 2, 5 times a power of ten that is not above."""
    power = 10.0 ** math.floor(math.log10(step))
    return next((times * power for times in (5, 2) if times * power <= step * (1 + 1e-9)), power)


def _by_ends(trait: Trait, held: Iterable[Adopted]) -> bool:
    """Whether the ends are what is said, and no interval of doubt round a middle."""
    return trait.adoption == RULE_OF_RANGE or any(value.likely is None for value in held)


def _said(value: Adopted) -> tuple[object, ...]:
    return value.low, value.likely, value.high, value.concepts


def _numbers(value: Adopted) -> list[float]:
    return [number for number in (value.low, value.likely, value.high) if number is not None]


def _kind(trait: Trait, before: Adopted, after: Adopted, least: float) -> Kind:
    if trait.kind == "concept":
        return "moved" if before.concepts != after.concepts else "noise"
    if trait.kind == "window":
        return "moved" if _weeks_apart(before, after) else "noise"
    if _by_ends(trait, (before, after)):
        ends = ((before.low, after.low), (before.high, after.high))
        return "moved" if any(_apart(one, other, least) for one, other in ends) else "noise"
    if _apart(before.likely, after.likely, least):
        return "moved"
    widths = [_width(before), _width(after)]
    if widths[1] >= REACH * widths[0] and widths[1] > least:
        return "wider"
    return "narrower" if widths[0] >= REACH * widths[1] and widths[0] > least else "noise"


def _apart(one: float | None, other: float | None, step: float) -> bool:
    if one is None or other is None:
        return one is not other
    return abs(one - other) >= step * (1 - 1e-9) and one != other


def _width(value: Adopted) -> float:
    return 0.0 if value.low is None or value.high is None else value.high - value.low


def _weeks_apart(before: Adopted, after: Adopted) -> bool:
    for one, other in ((before.low, after.low), (before.high, after.high)):
        if one is None or other is None:
            if one is not other:
                return True
            continue
        gap = abs(one - other) % WEEKS_OF_YEAR
        if min(gap, WEEKS_OF_YEAR - gap) > WEEKS_OF_NOISE:
            return True
    return False


def _causes(
    trait: Trait, before: Adopted | None, after: Adopted | None, plants: tuple[Plant, Plant]
) -> tuple[Cause, ...]:
    old, new = (_own(value) for value in (before, after))
    had, has = ({record.id: record for record in plant.records} for plant in plants)
    found = [_decided(decision) for decision in _decisions_since(trait, plants)]
    found += [_observed(seen) for seen in (_observations_since(trait, plants),) if seen]
    lost = [name for name in old if name not in new]
    words = {w.record: w.counted_as for w in after.weighed} if after is not None else {}
    voted = {study_of(had[name]) for name in old if name in had}
    fresh = [has[name] for name in new if name not in had and name in has]
    groups: list[tuple[CauseKind, list[Record], str | None]] = [
        ("added", [record for record in fresh if study_of(record) not in voted], None),
        ("more-of-study", [record for record in fresh if study_of(record) in voted], None),
        ("counts-now", [has[n] for n in new if n not in old and n in had and n in has], None),
        ("corrected", [has[n] for n in new if n in old and _told(had.get(n)) != _told(has.get(n))], None),
        ("removed", [had[n] for n in lost if n not in has and n in had], None),
    ]
    aside: dict[str | None, list[Record]] = {}
    for name in lost:
        if name in has:
            aside.setdefault(words.get(name), []).append(has[name])
    groups += [("set-aside", members, why) for why, members in aside.items()]
    found += [_cause(kind, members, why) for kind, members, why in groups if members]
    if _parent(before) != _parent(after):
        now = _parent(after)
        found.append(Cause("inherited", why=now) if now else Cause("own-now", why=_parent(before)))
    return tuple(found)


def _own(value: Adopted | None) -> dict[str, float]:
    """The plant's own records that counted, with their weights."""
    if value is None or value.inherited_from is not None:
        return {}
    return {w.record: w.weight for w in value.weighed if w.weight > 0}


def _parent(value: Adopted | None) -> str | None:
    return None if value is None else value.inherited_from


def _told(record: Record | None) -> tuple[object, ...]:
    """What a record says of its plant."""
    if record is None:
        return ()
    return tuple(getattr(record, f.name) for f in fields(record) if f.name not in ENTRY)


def _cause(kind: CauseKind, records: list[Record], why: str | None) -> Cause:
    return Cause(
        kind,
        tuple(record.iri for record in records),
        tuple(dict.fromkeys(study_of(record) for record in records)),
        tuple(dict.fromkeys(record.source for record in records)),
        why,
    )


def _decisions_since(trait: Trait, plants: tuple[Plant, Plant]) -> list[Decision]:
    """Decisions on a trait that stand in one version alone."""
    known, there = ({decision.id: decision for decision in plant.decisions} for plant in plants)
    return [
        d
        for name, d in {**known, **there}.items()
        if d.trait == trait.id and (name in known) != (name in there)
    ]


def _decided(decision: Decision) -> Cause:
    return Cause("decided", (decision.iri,), why=decision.why)


def _observations_since(trait: Trait, plants: tuple[Plant, Plant]) -> list[Observation]:
    """Observations on a trait that count in one version alone."""
    known, there = (_counting(plant) for plant in plants)
    either: Mapping[str, Observation] = {**known, **there}
    return [s for name, s in either.items() if s.trait == trait.id and (name in known) != (name in there)]


def _counting(plant: Plant) -> dict[str, Observation]:
    return {seen.id: seen for seen in in_force(plant.observations, plant.withdrawals)}


def _observed(seen: list[Observation]) -> Cause:
    return Cause("observed", tuple(one.iri for one in seen))
