"""Harvests that are dug, and the roots they cut."""

import numpy as np

from kb.mixture.limits import Limit, Meeting, Party, records_of
from kb.mixture.roots import sideways_draw

DUG_M = 0.15
"""Digging this deep cuts a neighbour's feeder roots (`trade` 4.12)."""
SHALLOW_D50_M = 0.30
"""A neighbour with half its roots above this has its feeders where the spade goes."""
DENSE_DRAW, SOME_DRAW = 0.25, 0.10
"""Root draw from which digging does harm, and from which it asks for care (`computation-notes` 1.1)."""
SAID_TO_ONE_CM = 7.5
STILL_THERE = 0.1
"""Activity of a neighbour that still stands when the crop is lifted."""


def cut_roots(doer: Party, sufferer: Party, meeting: Meeting) -> Limit | None:
    """Whether lifting the doer harms the sufferer."""
    dug = doer.profile.dug_depth_m
    if dug.likely < DUG_M or doer.overhead:
        return None
    if sufferer.profile.annual:
        return _care_between_annuals(doer, sufferer, meeting)
    if sufferer.d50_m > SHALLOW_D50_M or sufferer.local < SOME_DRAW:
        return None
    return _cut(doer, sufferer, meeting)


def _cut(doer: Party, sufferer: Party, meeting: Meeting) -> Limit:
    """What digging does to a lasting neighbour with shallow roots."""
    dug = doer.profile.dug_depth_m
    records = records_of(dug.records, sufferer.profile.root_d50_m.records)
    check = not (dug.known and sufferer.profile.root_d50_m.known)
    crop, other = doer.profile.name, sufferer.profile.name
    depth_cm = _centimetres(dug.likely)
    if sufferer.local < DENSE_DRAW:
        return Limit(
            kind="digging",
            of=sufferer.profile.id,
            text=f"Lifting {crop} cuts some roots of {other}.",
            records=records,
            ceiling="workable",
            lift=f"{crop} is lifted with care, a root at a time",
            given="careful-lifting",
            met=meeting.met("careful-lifting"),
            check=check,
        )
    text = (
        f"Digging {depth_cm} cm deep for {crop} each year cuts the roots of {other}, half of which lie "
        f"above {_centimetres(sufferer.d50_m)} cm."
    )
    # A dense shallow net under a tree or shrub cannot be dug through with any care.
    liftable = not sufferer.profile.woody
    return Limit(
        kind="digging",
        of=sufferer.profile.id,
        text=text,
        records=records,
        ceiling="avoid",
        lift=f"{crop} is lifted with care, a root at a time" if liftable else _elsewhere(crop, meeting),
        given="careful-lifting" if liftable else None,
        met=meeting.met("careful-lifting") if liftable else None,
        ceiling_if_lifted="workable" if liftable else "good",
        check=check,
    )


def _centimetres(depth_m: float) -> int:
    """A depth in cm as it is said: to the nearest 5, small ones to the nearest 1."""
    exact = 100 * depth_m
    return max(1, round(exact) if exact < SAID_TO_ONE_CM else 5 * round(exact / 5))


def _elsewhere(crop: str, meeting: Meeting) -> str:
    if meeting.edge_m is None:
        return f"{crop} is grown in a bed of its own"
    x = np.linspace(0.3, 3, 271)
    beyond = float(x[int(np.argmax(sideways_draw(x) < DENSE_DRAW))]) * meeting.edge_m
    return f"{crop} is grown beyond the dense roots, about {beyond:.1f} m or more from the trunk"


def _care_between_annuals(doer: Party, sufferer: Party, meeting: Meeting) -> Limit | None:
    active = np.flatnonzero((doer.activity > 0) & (np.roll(doer.activity, -1) == 0))
    if not active.size or sufferer.activity[active[0]] < STILL_THERE:
        return None
    crop, other = doer.profile.name, sufferer.profile.name
    return Limit(
        kind="digging",
        of=sufferer.profile.id,
        text=f"{crop} is lifted while {other} still grows.",
        records=records_of(doer.profile.dug_depth_m.records),
        ceiling="workable",
        lift=f"{crop} is lifted without moving {other}",
        given="careful-lifting",
        met=meeting.met("careful-lifting"),
        small=True,
    )
