"""What is said beside the verdict on shared enemies and emissions: where recorded, what only named."""

from collections.abc import Sequence

from kb.mixture.enemies import SharedAgent
from kb.mixture.findings import Findings, Two
from kb.mixture.reasons import listed

MOST_NAMED = 5
"""So many agents that do not count are named; the rest are a number."""
LAW = "Law may forbid one of the two near the other: the cautions of each say where that is on record."


def harm_notes(findings: Findings) -> tuple[str, ...]:
    """Notes of a pair that change no verdict and no sureness."""
    enemies = findings.harm.enemies
    if enemies is None or findings.kin.kinship == "species":
        return ()
    notes = list(agent_notes(enemies.agents, findings.place.site.place))
    if enemies.borrowed and findings.kin.kinship == "none":
        notes.append(no_list(findings.two))
    return (*notes, *(found.text for found in findings.harm.emissions if found.ceiling is None))


def agent_notes(agents: Sequence[SharedAgent], place: str | None) -> tuple[str, ...]:
    """Where shared agents are recorded, which are only named, and whether a law may matter."""
    notes = (_where(agents, place), _only_named(agents), _law(agents))
    return tuple(note for note in notes if note)


def no_list(two: Two) -> str:
    """Whose lists are missing, and what stands in."""
    return no_list_of(borrowers(two))


def borrowers(two: Two) -> list[str]:
    """The names of those of the two whose lists are missing."""
    enemies = two.harm.enemies
    names = [two.named(plant).name for plant in enemies.borrowed] if enemies else []
    return list(dict.fromkeys(names))


def no_list_of(names: Sequence[str]) -> str:
    """One line for all whose lists are missing."""
    who = listed(list(names)) if names else ""
    return (
        f"No list of pests and diseases is on record for {who}: what is on record for the nearest relatives "
        "stands in."
    )


def _where(agents: Sequence[SharedAgent], place: str | None) -> str | None:
    """Where the agents that matter are recorded; whether they occur at the site is not computed."""
    weighty = [a for a in agents if (a.v > 0 or a.ceiling is not None) and not a.recorded_here]
    if not weighty:
        return None
    said = [f"{a.name} ({'; '.join(a.regions) or 'place not printed'})" for a in weighty[:MOST_NAMED]]
    here = f"in {place}" if place else "where you are"
    return f"Recorded elsewhere, and taken to be {here} too: {listed(said)}."


def _only_named(agents: Sequence[SharedAgent]) -> str | None:
    """Agents of both that hold and weigh nothing: soil dwellers, harmless guests, nematodes."""
    rest = [agent for agent in agents if agent.v == 0 and agent.ceiling is None]
    named = [agent.name for agent in rest if not agent.nematode]
    return only_named(named, sum(agent.nematode for agent in rest))


def only_named(named: Sequence[str], worms: int) -> str | None:
    """What both are hosts of and what is not judged: the names, and so many further kinds of nematode."""
    words = list(named[:MOST_NAMED])
    if len(named) > MOST_NAMED:
        words.append(f"{len(named) - MOST_NAMED} more")
    if worms:
        words.append(f"{worms} kind{'s' if worms > 1 else ''} of nematode")
    if not words:
        return None
    return f"Also on the lists of both, and not judged (keep them out of one rotation): {listed(words)}."


def _law(agents: Sequence[SharedAgent]) -> str | None:
    return LAW if any(agent.hard and agent.mode == "alternate" for agent in agents) else None
