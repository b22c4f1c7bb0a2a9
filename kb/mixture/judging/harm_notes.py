"""What is said beside the verdict on shared enemies and emissions: where recorded, what only named."""

from collections.abc import Sequence

from kb.mixture.counting import listed, so_many
from kb.mixture.enemies.named import SharedAgent
from kb.mixture.judging.findings import Findings, Two
from kb.mixture.judging.lent_words import no_list
from kb.mixture.kept import KeptBy
from kb.mixture.profile import Profile
from kb.mixture.relatedness import species_of

MOST_NAMED = 5
"""So many agents that do not count are named; the rest are a number."""
FEW_WORMS = 2
"""So many nematodes are named; of more it says how many."""
LAW = "Law may forbid one of the two near the other: the cautions of each say where that is on record."


KEPT = 64
_NOTES: KeptBy[tuple[str, ...]] = KeptBy(KEPT)


def harm_notes(findings: Findings) -> tuple[str, ...]:
    """Notes of a pair that change no verdict and no sureness; kept by all that the two are."""
    two, place = findings.two, findings.place.site.place
    values = (two.kin, two.setting, two.beyond, place)
    return _NOTES.of((*two.same, two.harm), values, lambda: _harm_notes(two, place))


def _harm_notes(two: Two, place: str | None) -> tuple[str, ...]:
    enemies = two.harm.enemies
    if enemies is None or two.kin.kinship == "species":
        return ()
    notes = list(agent_notes(enemies.agents, place))
    if enemies.borrowed and two.kin.kinship == "none":
        notes.append(no_list(two))
    return (*notes, *(found.text for found in two.harm.emissions if found.ceiling is None))


def agent_notes(agents: Sequence[SharedAgent], place: str | None, *, who: str = "Both") -> tuple[str, ...]:
    """Where shared agents are recorded, which are only named, and whether a law may matter.

    ``who`` shares them, at the head of a sentence.
    """
    notes = (_where(agents, place), _only_named(agents, who), _law(agents))
    return tuple(note for note in notes if note)


def rotation_notes(plants: Sequence[Profile]) -> tuple[str, ...]:
    """Which crops of the year are of one family: one place in the rotation (common teaching of rotation)."""
    crops: dict[str, list[Profile]] = {}
    for plant in plants:
        if plant.annual and plant.family.value is not None:
            crops.setdefault(plant.family.value, []).append(plant)
    return tuple(
        f"{listed(list(dict.fromkeys(plant.name for plant in kin)))} are of one family ({family}): one crop "
        "in the rotation, which moves on together."
        for family, kin in sorted(crops.items())
        if len({species_of(plant) for plant in kin}) > 1
    )


def _where(agents: Sequence[SharedAgent], place: str | None) -> str | None:
    """Where the agents that matter are recorded; whether they occur at the site is not computed."""
    weighty = [a for a in agents if (a.v > 0 or a.ceiling is not None) and not a.recorded_here]
    if not weighty:
        return None
    said = [f"{a.name} ({'; '.join(a.regions) or 'place not printed'})" for a in weighty[:MOST_NAMED]]
    here = f"in {place}" if place else "where you are"
    return f"Taken to occur {here} too, though recorded elsewhere: {listed(said)}."


def _only_named(agents: Sequence[SharedAgent], who: str) -> str | None:
    """Agents of both that hold and weigh nothing: soil dwellers, harmless guests, nematodes."""
    rest = [agent for agent in agents if agent.v == 0 and agent.ceiling is None]
    named = [agent.name for agent in rest if not agent.nematode]
    return only_named(named, [agent.name for agent in rest if agent.nematode], who)


def only_named(named: Sequence[str], worms: Sequence[str], who: str = "Both") -> str | None:
    """What both are hosts of and what is not judged: names, then how many more."""
    if len(worms) > FEW_WORMS:
        words, more = list(named[:MOST_NAMED]), len(named) - MOST_NAMED
        many = [
            f"{len(worms)} {'other ' if any('nematode' in name for name in named) else ''}kinds of nematode"
        ]
    else:
        whole = [*named, *worms]
        words, more, many = whole[:MOST_NAMED], len(whole) - MOST_NAMED, []
    words += [so_many(more, "other")] if more > 0 else []
    words += many
    if not words:
        return None
    named_all = listed(words)
    return (
        f"{who} are hosts of {named_all} too: not judged here, but mind it when the ground is planted again."
    )


def _law(agents: Sequence[SharedAgent]) -> str | None:
    return LAW if any(agent.hard and agent.mode == "alternate" for agent in agents) else None
