"""Plants that run through their neighbours."""

from dataclasses import dataclass

from kb.mixture.limits import Limit, Meeting, Party, records_of
from kb.mixture.profile import Profile

OVERRUN_HEIGHT = 2.0
"""A neighbour under this many times the spreader's height is over-run (`trade` 4.13)."""
REACHES_DRAW = 0.1
"""A tree's suckers come up where its root draw is at least this (judgement)."""
RUNNING_FORMS = {"rhizome", "stolon", "suckering"}


@dataclass(frozen=True, slots=True)
class Spread:
    """How a plant spreads; ``known`` False where only its root form says so."""

    manner: str
    known: bool
    records: tuple[str, ...]


def manner_of(party: Party) -> Spread | None:
    """How it runs; None where it keeps to its place, or nothing says that it does not."""
    profile = party.profile
    if profile.spread.value in {"runs", "invades"}:
        return Spread(profile.spread.value, profile.spread.known, profile.spread.records)
    if profile.spread.value is None and runs(profile):
        return Spread("runs", False, profile.root_form.records)
    return None


def runs(profile: Profile) -> bool:
    """Whether its root form alone says that it runs."""
    return profile.root_form.value in RUNNING_FORMS


def overrun(doer: Party, sufferer: Party, meeting: Meeting) -> Limit | None:
    """Whether the doer over-runs the sufferer: an invader shuts it out, a runner makes yearly work.

    In a hedge shrubs that sucker are usual beside others: what comes up beside the row is mown (common
    practice).
    """
    spread = manner_of(doer)
    if spread is None or doer.local < REACHES_DRAW:
        return None
    low = sufferer.height_m < OVERRUN_HEIGHT * doer.height_m
    if sufferer.overhead or not (sufferer.profile.annual or low):
        return None
    runner, other = doer.profile.name, sufferer.profile.name
    records = records_of(spread.records, sufferer.profile.height_m.records)
    if meeting.setting == "hedge" and doer.profile.woody and sufferer.profile.woody:
        return Limit(
            kind="spread",
            of=sufferer.profile.id,
            text=f"{runner} suckers, and would take the row from {other} in time.",
            records=records,
            ceiling="workable",
            lift="the foot of the hedge is mown on both sides every year",
            given="mown",
            met=meeting.met("mown"),
            check=not spread.known,
        )
    if spread.manner == "invades":
        return Limit(
            kind="spread",
            of=sufferer.profile.id,
            text=f"{runner} spreads fast underground and over-runs {other}.",
            records=records,
            ceiling="avoid",
            lift=f"{runner} stands inside a barrier sunk 30 cm deep, or in a pot",
            given="barrier",
            met=meeting.met("barrier"),
            check=not spread.known,
        )
    return Limit(
        kind="spread",
        of=sufferer.profile.id,
        text=f"{runner} runs into {other}: its runners have to be cut back every year.",
        records=records,
        ceiling="workable",
        lift=f"{runner} stands inside a barrier",
        given="barrier",
        met=meeting.met("barrier"),
        check=not spread.known,
    )
