"""What is said beside the verdict on shared enemies and emissions: where recorded, what only named."""

from kb.mixture.enemies import SharedAgent
from kb.mixture.findings import Findings, Two
from kb.mixture.reasons import listed

MOST_NAMED = 5
"""So many agents that do not count are named; the rest are a number."""
LAW = "Law may forbid one of the two near the other: the cautions of each say where that is on record."


def harm_notes(findings: Findings) -> tuple[str, ...]:
    """Notes that change no verdict and no sureness."""
    enemies = findings.harm.enemies
    if enemies is None or findings.kin.kinship == "species":
        return ()
    notes = [_where(findings), _only_named(enemies.agents), _law(enemies.agents)]
    if enemies.borrowed and findings.kin.kinship == "none":
        notes.append(no_list(findings.two))
    notes += [found.text for found in findings.harm.emissions if found.ceiling is None]
    return tuple(note for note in notes if note)


def no_list(two: Two) -> str:
    """Whose lists are missing, and what stands in."""
    enemies = two.harm.enemies
    names = [two.named(plant).name for plant in enemies.borrowed] if enemies else []
    who = listed(list(dict.fromkeys(names)))
    return (
        f"No list of pests and diseases is on record for {who}: what is on record for the nearest relatives "
        "stands in."
    )


def _where(findings: Findings) -> str | None:
    """Where the agents that matter are recorded; whether they occur at the site is not computed."""
    place = findings.place.site.place
    weighty = [a for a in _agents(findings) if (a.v > 0 or a.ceiling is not None) and not a.recorded_here]
    if not weighty:
        return None
    said = [f"{a.name} ({'; '.join(a.regions) or 'place not printed'})" for a in weighty[:MOST_NAMED]]
    here = f"in {place}" if place else "where you are"
    return f"Recorded elsewhere, and taken to be {here} too: {listed(said)}."


def _agents(findings: Findings) -> tuple[SharedAgent, ...]:
    enemies = findings.harm.enemies
    return enemies.agents if enemies is not None else ()


def _only_named(agents: tuple[SharedAgent, ...]) -> str | None:
    """Agents of both that hold and weigh nothing: soil dwellers, harmless guests, nematodes."""
    rest = [agent for agent in agents if agent.v == 0 and agent.ceiling is None]
    named = [agent.name for agent in rest if not agent.nematode]
    worms = sum(agent.nematode for agent in rest)
    words = named[:MOST_NAMED]
    if len(named) > MOST_NAMED:
        words.append(f"{len(named) - MOST_NAMED} more")
    if worms:
        words.append(f"{worms} kind{'s' if worms > 1 else ''} of nematode")
    if not words:
        return None
    return f"Also on the lists of both, and not judged (keep them out of one rotation): {listed(words)}."


def _law(agents: tuple[SharedAgent, ...]) -> str | None:
    return LAW if any(agent.hard and agent.mode == "alternate" for agent in agents) else None
