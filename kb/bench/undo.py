"""What takes an act back: always a further act, never a deletion."""

from dataclasses import dataclass

from kb.adopt import roles_of
from kb.bench.drafts import Curator, fault
from kb.errors import NotAllowed, UnknownRecord
from kb.model import Decision, DecisionRole, Plant
from kb.statements.curation_model import in_force, number_of


@dataclass(frozen=True, slots=True)
class Undoing:
    """Either roles for a further decision, or what a withdrawal withdraws."""

    trait: str = ""
    weighed: tuple[tuple[str, DecisionRole], ...] = ()
    withdraws: str = ""


def undone(plant: Plant, name: str, curator: Curator) -> Undoing:
    """How a thing (``record.…``, ``decision.…``, ``observation.…``, ``withdrawal.…``) is taken back.

    Raises UnknownRecord, NotAllowed (another's work without the role reviewer), or BadParameter where
    it has been taken back already or something later rests on it.
    """
    kind, _, own = name.partition(".")
    if kind == "record":
        return _record(plant, own, curator)
    if kind == "decision":
        return _decision(plant, own, curator)
    if kind in {"observation", "withdrawal"}:
        return _withdrawal(plant, name, curator)
    if kind in {"caution", "review"}:
        detail = "a caution is retired by two reviewers (traitbed decide NAME --caution ID --verdict retire)"
        raise fault("thing", f"{detail}; each reviewer takes back their own word with --verdict keep")
    raise UnknownRecord(name)


def _own_or_review(curator: Curator, author: str) -> None:
    if author != curator.handle:
        curator.must_review(f"taking back what {author} did")


def _record(plant: Plant, name: str, curator: Curator) -> Undoing:
    record = next((one for one in plant.records if one.id == name), None)
    if record is None:
        raise UnknownRecord(name)
    _own_or_review(curator, record.entered_by)
    if roles_of(plant.decisions, record.trait).get(name) == "rejected":
        raise fault("thing", f"record.{name} is rejected already; undo that decision to bring it back")
    return Undoing(record.trait, ((name, "rejected"),))


def _decision(plant: Plant, name: str, curator: Curator) -> Undoing:
    decision = next((one for one in plant.decisions if one.id == name), None)
    if decision is None:
        raise UnknownRecord(name)
    _own_or_review(curator, decision.decided_by)
    weighed = dict(decision.weighed)
    later = [
        one
        for one in plant.decisions
        if one.trait == decision.trait
        and one.order > decision.order
        and weighed.keys() & dict(one.weighed).keys()
    ]
    if later:
        names = ", ".join(f"decision.{one.id}" for one in sorted(later, key=lambda one: one.order))
        raise fault(
            "thing", f"decision.{name} has later ones resting on it; undo them first, the last first: {names}"
        )
    before = roles_of(_before(plant, decision), decision.trait)
    roles: list[tuple[str, DecisionRole]] = [(record, before.get(record, "accepted")) for record in weighed]
    return Undoing(decision.trait, tuple(roles))


def _before(plant: Plant, decision: Decision) -> list[Decision]:
    return [one for one in plant.decisions if one.order < decision.order]


def _withdrawal(plant: Plant, name: str, curator: Curator) -> Undoing:
    standing = {f"observation.{one.id}" for one in in_force(plant.observations, plant.withdrawals)}
    kind, _, own = name.partition(".")
    if kind == "observation":
        seen = next((one for one in plant.observations if one.id == own), None)
        if seen is None:
            raise UnknownRecord(own)
        if name not in standing:
            raise fault("thing", f"{name} is withdrawn already; undo the withdrawal to bring it back")
        if seen.observer != curator.handle:
            curator.must_review(f"withdrawing what {seen.observer} observed")
        return Undoing(withdraws=name)
    act = next((one for one in plant.withdrawals if one.id == own), None)
    if act is None:
        raise UnknownRecord(own)
    if any(number_of(one.id) > number_of(own) and one.withdraws == name for one in plant.withdrawals):
        raise fault("thing", f"{name} is taken back already")
    if any(
        number_of(one.id) > number_of(own) and one.withdraws == act.withdraws for one in plant.withdrawals
    ):
        raise NotAllowed(curator.handle, f"a later withdrawal of {act.withdraws} stands; undo that one")
    _own_or_review(curator, act.decided_by)
    return Undoing(withdraws=name)
