"""How a plant spreads, by record, by its genus, or by its root form."""

from dataclasses import dataclass

from kb.mixture.bodies.pieces import RUNNING
from kb.mixture.limits import Party
from kb.mixture.profile import Profile

ROOTS = {"rhizome": "rhizomes", "stolon": "runners", "suckering": "suckering roots"}
"""The root forms that run, in words."""
RUNNING_FORMS = frozenset({"rhizome", "stolon", "suckering"})
"""Root forms that alone say that a plant runs."""
CARPET_M = 0.3
"""A plant with runners that stays under this height is a living cover below what stands above it."""


@dataclass(frozen=True, slots=True)
class Spread:
    """How a plant spreads; ``known`` False where its genus or its root form says so, in the words ``why``."""

    manner: str
    known: bool
    records: tuple[str, ...]
    why: str = ""


def manner_of(party: Party) -> Spread | None:
    """How it runs; None where it keeps to its place, or nothing says that it does not."""
    profile = party.profile
    spread = profile.spread
    if spread.value in RUNNING:
        why = "" if spread.known else "most others of its genus do so"
        return Spread(spread.value or "", spread.known, spread.records, why)
    if spread.value is None and runs(profile):
        why = f"it has {ROOTS[profile.root_form.value or '']}"
        return Spread("runs", False, profile.root_form.records, why)
    return None


def runs(profile: Profile) -> bool:
    """Whether its root form alone says that it runs."""
    return profile.root_form.value in RUNNING_FORMS
