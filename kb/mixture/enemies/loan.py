"""What stands in for the missing lists of pests and diseases of two plants."""

from collections.abc import Mapping
from dataclasses import dataclass


@dataclass(frozen=True, slots=True)
class Lent:
    """An agent that is counted by loan: ``of`` are the lenders that have it.

    ``v`` is its weight over all who lend, 0-1.
    """

    agent: str
    name: str
    of: tuple[str, ...]
    v: float
    records: tuple[str, ...]


@dataclass(frozen=True, slots=True)
class Loan:
    """What stands in for the missing lists of two plants.

    ``lenders`` are the relatives of each plant without a list (by its id), none where nobody can lend;
    ``agents`` what is counted by loan, the weightiest first; ``names`` of the lenders by id.
    """

    lenders: Mapping[str, tuple[str, ...]]
    agents: tuple[Lent, ...]
    names: Mapping[str, str]
