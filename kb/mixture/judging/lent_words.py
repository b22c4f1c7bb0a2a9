"""What is said of lists of pests and diseases that relatives lend: of whom, and with which agents."""

from collections.abc import Mapping, Sequence

from kb.mixture.counting import listed
from kb.mixture.judging.findings import Two
from kb.mixture.results import Reason

NO_LIST = "No list of pests and diseases"
LENDERS_NAMED = 3
"""Relatives that lend a list, and agents on it, by name; the rest are a number."""
WEIGHTIER = 0.04
"""What is lent is named before kinship where it adds so much to e (judgement)."""


def no_list(two: Two) -> str:
    """Whose lists are missing, whose stand in, and what these name for both."""
    return no_list_of([two], both="both")


def no_list_of(twos: Sequence[Two], *, both: str = "two of them") -> str:
    """One line for all whose lists are missing; what is lent is named with those who lend it."""
    lenders: dict[str, dict[str, None]] = {}
    agents: dict[str, dict[str, None]] = {}
    for two, loan in ((two, two.harm.loan) for two in twos):
        if loan is None:
            continue
        for plant, of in loan.lenders.items():
            lenders.setdefault(two.named(plant).name, {}).update({loan.names[p]: None for p in of})
        for agent in loan.agents:
            agents.setdefault(agent.name, {}).update({loan.names[p]: None for p in agent.of})
    stands = "; ".join(
        _stands_in(plants, of, alone=len(lenders) == len(plants)) for of, plants in _by(lenders)
    )
    # Who has an agent is said where not all who lend have it.
    lending = {name for of in lenders.values() for name in of}
    agents = {name: {} if set(of) >= lending else of for name, of in agents.items()}
    harms = f"; {_harmful(agents, both)}" if any(lenders.values()) else ""
    return f"{NO_LIST} is on record for {listed(list(lenders))}: {stands}{harms}."


def _by(lenders: Mapping[str, Mapping[str, None]]) -> list[tuple[tuple[str, ...], list[str]]]:
    """The plants that borrow from the same relatives, together."""
    found: dict[tuple[str, ...], list[str]] = {}
    for plant, of in lenders.items():
        found.setdefault(tuple(of), []).append(plant)
    return list(found.items())


def _stands_in(plants: Sequence[str], of: Sequence[str], *, alone: bool) -> str:
    whose = "" if alone else f" for {listed(list(plants))}"
    if not of:
        return f"no relative lends one{whose}, so kinship alone counts"
    return (
        f"{'that' if len(of) == 1 else 'those'} of {_some(of)} stand{'s' if len(of) == 1 else ''} in{whose}"
    )


def _harmful(agents: Mapping[str, Mapping[str, None]], both: str) -> str:
    """What the lists of the lenders name for both, each with those who have it."""
    if not agents:
        return f"nothing there harms {both}"
    named = [f"{name} (of {_some(list(of))})" if of else name for name, of in agents.items()]
    return f"harmful to {both} there: {_some(named)}"


def _some(names: Sequence[str]) -> str:
    """The first names, and how many more."""
    more = len(names) - LENDERS_NAMED
    return listed([*names[:LENDERS_NAMED], *([f"{more} more"] if more > 0 else [])])


def lent_reason(two: Two) -> Reason | None:
    """The agents that count by loan, and whose list names them; None where kinship weighs as much."""
    loan = two.harm.loan
    if loan is None or not loan.agents or two.harm.shared < two.kin.shared + WEIGHTIER:
        return None
    borrowers = [two.named(plant).name for plant in loan.lenders]
    lenders = list(dict.fromkeys(loan.names[p] for of in loan.lenders.values() for p in of))
    one, other = (profile.name for profile in two.in_order)
    said = "list" if len(lenders) == 1 else "lists"
    text = (
        f"{one} and {other} may share {_some([agent.name for agent in loan.agents])}, going by the {said} of "
        f"{_some(lenders)}: {listed(borrowers)} {'has' if len(borrowers) == 1 else 'have'} none on record."
    )
    return Reason("enemies", text, tuple(dict.fromkeys(r for agent in loan.agents for r in agent.records)))
