"""Named values: what most sources say, or the most cautious of them."""

from dataclasses import replace

from kb.adoption.votes import Outcome, Vote, by_study, shared_weight
from kb.model import Confidence, Trait, Weighed

CAUTIOUS_ORDER: dict[str, tuple[str, ...]] = {
    "spread": ("clump", "slow", "runs", "invades"),
    "tender": ("hardy", "half-hardy", "frost-tender"),
}
"""From harmless to worst, for the traits that are adopted by the worst plausible value."""

NARROWER: dict[str, dict[str, tuple[str, ...]]] = {
    "root-form": {"primary-root": ("tap", "tap-then-spreading")},
    "leaf-retention": {"deciduous": ("bare-in-rains",)},
}
"""Trait -> a value that leaves open what narrower ones say: where another source names one of these, a
record of the wide value agrees with it and never outvotes it."""


def adopt_concepts(trait: Trait, votes: tuple[Vote, ...]) -> Outcome | None:
    """The value with most weight, a vote per source; all values named tie in where weights are equal."""
    votes = _narrowed(trait, votes)
    totals: dict[str, float] = {}
    for members in by_study(votes).values():
        named = {concept for vote in members for concept in vote.record.concepts}
        for concept in named:
            totals[concept] = totals.get(concept, 0.0) + max(vote.weight for vote in members) / len(named)
    if not totals:
        return None
    best = max(totals.values())
    winners = tuple(sorted(concept for concept, total in totals.items() if total >= best - 1e-9))
    weighed = tuple(_marked(w, v, winners) for w, v in zip(shared_weight(votes, "named"), votes, strict=True))
    return Outcome(
        None, None, None, _agreed(votes, winners), "most weight, a vote per source", weighed, winners[:1]
    )


def adopt_most_cautious(trait: Trait, votes: tuple[Vote, ...]) -> Outcome | None:
    """The worst value that any counted source names."""
    order = CAUTIOUS_ORDER.get(trait.id)
    named = {concept for vote in votes for concept in vote.record.concepts}
    if not named:
        return None
    worst = max(named, key=order.index) if order and named <= set(order) else max(named)
    weighed = tuple(
        _marked(w, v, (worst,)) for w, v in zip(shared_weight(votes, "named"), votes, strict=True)
    )
    return Outcome(
        None, None, None, _agreed(votes, (worst,)), "the most cautious of the sources", weighed, (worst,)
    )


def _narrowed(trait: Trait, votes: tuple[Vote, ...]) -> tuple[Vote, ...]:
    """The votes with each wide value read as the narrower ones that other votes name."""
    named = {concept for vote in votes for concept in vote.record.concepts}
    wide = {
        concept: found
        for concept, narrower in NARROWER.get(trait.id, {}).items()
        if (found := tuple(one for one in narrower if one in named))
    }
    if not wide:
        return votes
    return tuple(
        replace(vote, record=replace(vote.record, concepts=_read_as(vote.record.concepts, wide)))
        for vote in votes
    )


def _read_as(concepts: tuple[str, ...], wide: dict[str, tuple[str, ...]]) -> tuple[str, ...]:
    return tuple(dict.fromkeys(one for concept in concepts for one in wide.get(concept, (concept,))))


def _marked(weighed: Weighed, vote: Vote, winners: tuple[str, ...]) -> Weighed:
    said = "agrees" if set(vote.record.concepts) & set(winners[:1]) else "says otherwise"
    return Weighed(weighed.record, weighed.weight, f"{weighed.counted_as}; {said}")


def _agreed(votes: tuple[Vote, ...], winners: tuple[str, ...]) -> Confidence:
    studies = by_study(votes)
    saying = [{c for vote in members for c in vote.record.concepts} for members in studies.values()]
    agreeing = sum(winners[0] in said for said in saying)
    if agreeing < len(saying):
        return "contested"
    if agreeing >= 3:
        return "high"
    return "medium" if agreeing == 2 else "low"
