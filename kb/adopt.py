"""From records that disagree to one value in use: low, likely, high, how sure, and why.

Each trait names its rule in the vocabulary (``tb:adoptionRule``). The same for all rules:

- rejected and superseded records are shown but do not count; a decision that prefers records
  makes them the only ones that count (rule "decision");
- a cited record beats common practice, which beats what is recalled from memory (except where the
  worst plausible value is adopted: there every record counts; and a record of another time of sowing a
  crop is not contradicted by a better one of this);
- weeks of a calendar that follows the rains are not those of the reference site (`kb.adoption.places`);
- one study has one vote, however many records it left;
- confidence: *high* three or more independent studies within a factor 1.5, *medium* two that
  agree within a factor 3, *contested* where the studies lie more than a factor 3 apart (or name
  different things), else *low*.
"""

from collections.abc import Mapping, Sequence
from dataclasses import dataclass, replace

from kb.adoption.agreement import adopt_concepts, adopt_most_cautious
from kb.adoption.bounded import bounded, one_ended
from kb.adoption.depth import adopt_depth
from kb.adoption.indicators import adopt_classes, adopt_light_bound, adopt_light_share
from kb.adoption.intervals import adopt_interval, adopt_tolerated, both_ends
from kb.adoption.leaf import adopt_leaf_area
from kb.adoption.observed import LocalEstimate, bend, counted
from kb.adoption.places import OF_THE_RAINS, of_the_rains
from kb.adoption.root_length import adopt_root_length
from kb.adoption.season_words import names_a_season
from kb.adoption.size import adopt_reach, adopt_size
from kb.adoption.votes import GROWN_HERE, Outcome, Vote, forms_of
from kb.adoption.windows import adopt_window, other_sowings, without_sowings
from kb.model import CITED, Adopted, Decision, DecisionRole, Plant, Record, Trait, TraitId, Weighed
from kb.profiles.defaults import TROPICAL_GROUP
from kb.statements.curation_model import in_force
from kb.vocabulary_store import Vocabulary

MOST_CAUTIOUS = "most-cautious"
"""The rule for what can do harm: every record counts, a warning from memory too."""

TOLERATED = "tolerated-range"
"""The rule for ranges: an end alone ("as good as in the open at half light") leaves the other to practice."""

AS_GROWN = "as-grown"
RULES = {
    "log-normal-censored": adopt_depth,
    "weighted-interval": adopt_interval,
    "leaf-area": adopt_leaf_area,
    "root-length": adopt_root_length,
    "mature-size": adopt_size,
    "climbing-reach": adopt_reach,
    "class-median": adopt_classes,
    "indicator-to-share": adopt_light_share,
    "indicator-to-bound": adopt_light_bound,
    TOLERATED: adopt_tolerated,
    "majority": adopt_concepts,
    AS_GROWN: adopt_concepts,
    MOST_CAUTIOUS: adopt_most_cautious,
    "window-median": adopt_window,
}
"""Rule name in the vocabulary -> the function that applies it to the votes."""

FEEDS: Mapping[TraitId, tuple[TraitId, ...]] = {
    TraitId("light-to-survive"): (
        TraitId("light-indicator-1-9"),
        TraitId("shade-tolerance-1-5"),
        TraitId("shade-tolerance-3"),
    ),
    TraitId("light-to-scorch"): (TraitId("light-indicator-1-9"),),
    TraitId("moisture"): (TraitId("moisture-indicator-1-12"),),
    TraitId("flowering-window"): (TraitId("flowering-class-1-15"),),
}
"""Traits that are read from the scales of particular authors where no record of their own is cited.

Soil reaction has none: no calibration of the reaction indicator with its coefficients was found to read
(Ertsen et al. 1998 and Schaffers and Sykora 2000 in abstract only), so that it stays a class. Exposure to
freezing feeds nothing: it is a class of climate.
"""

GROWTH, CYCLE = TraitId("growth-window"), TraitId("life-cycle")
ONE_SEASON = frozenset({"annual", "biennial"})
"""Life cycles of what is sown and cleared within its season."""
BETTER_SOURCED = "not counted: a better-sourced record exists"
BENEATH = "beneath"
"""A condition of records that are of more than the plant: what stands under it has a share in the figure."""
OF_A_MAP = "not counted: tells of its range, another how much cold it bears"


@dataclass(frozen=True, slots=True)
class Counted:
    """The records that count, the ones that do not and why, and whether a decision chose them."""

    votes: tuple[Vote, ...]
    left_out: tuple[Weighed, ...]
    decided: bool


def adopt_all(
    plant: Plant, inherited: Mapping[TraitId, Adopted], vocabulary: Vocabulary
) -> dict[TraitId, Adopted]:
    """The adopted value of every trait of a plant; what it lacks comes from its parent, and says so."""
    by_trait: dict[TraitId, list[Record]] = {}
    for record in plant.records:
        by_trait.setdefault(record.trait, []).append(record)
    adopted: dict[TraitId, Adopted] = {}
    for trait_id, trait in vocabulary.traits.items():
        records = by_trait.get(trait_id, [])
        if trait_id in FEEDS and not any(r.basis in CITED and not names_a_season(r) for r in records):
            records = [*(r for scale in FEEDS[trait_id] for r in by_trait.get(scale, [])), *records]
        value = adopt(plant, trait, records, plant.decisions) if records else None
        if value is not None and trait_id in inherited and one_ended(value):
            value = bounded(value, inherited[trait_id], trait.adoption, plant.parent)
        if value is not None:
            adopted[trait_id] = value
        elif trait_id in inherited:
            adopted[trait_id] = replace(
                inherited[trait_id], inherited_from=inherited[trait_id].inherited_from or plant.parent
            )
    return _bent(plant, adopted, vocabulary)[0]


def local_estimates(
    plant: Plant, inherited: Mapping[TraitId, Adopted], vocabulary: Vocabulary
) -> tuple[LocalEstimate, ...]:
    """The estimate for each place where the plant was observed, trait by trait."""
    bare = adopt_all(replace(plant, observations=()), inherited, vocabulary)
    return _bent(plant, bare, vocabulary)[1]


def _bent(
    plant: Plant, adopted: dict[TraitId, Adopted], vocabulary: Vocabulary
) -> tuple[dict[TraitId, Adopted], tuple[LocalEstimate, ...]]:
    """The adopted values after one's own observations, and the estimates for their places."""
    tropical = TROPICAL_GROUP in plant.groups
    seen = counted(in_force(plant.observations, plant.withdrawals), adopted, vocabulary, tropical=tropical)
    local: list[LocalEstimate] = []
    after = dict(adopted)
    for trait_id, members in seen.items():
        value, here = bend(plant, vocabulary.traits[trait_id], adopted.get(trait_id), members)
        local += here
        if value is not None:
            after[trait_id] = value
    return after, tuple(local)


def adopt(
    plant: Plant, trait: Trait, records: Sequence[Record], decisions: Sequence[Decision]
) -> Adopted | None:
    """The adopted value of one trait, or None where no record counts.

    Every record given comes back in ``weighed`` with its weight (0 where it did not count) and the
    words for how it counted.
    """
    counted = _count(plant, trait, records, decisions)
    outcome = RULES[trait.adoption](trait, counted.votes) if counted.votes else None
    if outcome is None:
        return None
    if trait.id != GROWTH or _lasts(plant):
        outcome = without_sowings(outcome)
    return Adopted(
        plant=plant.id,
        trait=trait.id,
        low=outcome.low,
        likely=outcome.likely,
        high=outcome.high,
        concepts=outcome.concepts,
        confidence="low" if _uncited(counted.votes, outcome) else outcome.confidence,
        rule="decision" if counted.decided else outcome.rule,
        weighed=(*outcome.weighed, *counted.left_out),
        sowings=outcome.sowings,
    )


def _uncited(votes: Sequence[Vote], outcome: Outcome) -> bool:
    """Whether the value rests on a record without a source."""
    counted = {weighed.record for weighed in outcome.weighed if weighed.weight > 0}
    return any(vote.tier > 0 for vote in votes if vote.record.id in counted)


def roles_of(decisions: Sequence[Decision], trait: TraitId) -> dict[str, DecisionRole]:
    """The role that each record has by the last decision on it."""
    return {
        record: role
        for decision in sorted(decisions, key=lambda decision: decision.order)
        if decision.trait == trait
        for record, role in decision.weighed
    }


def _count(plant: Plant, trait: Trait, records: Sequence[Record], decisions: Sequence[Decision]) -> Counted:
    roles = roles_of(decisions, trait.id)
    revised = {
        record.revises
        for record in records
        if record.revises is not None and _why_not(record, roles.get(record.id), revised=False) is None
    }
    preferred = {record.id for record in records if roles.get(record.id) == "preferred"}
    forms = forms_of(plant)
    votes: list[Vote] = []
    left_out: list[Weighed] = []
    as_grown = trait.adoption == AS_GROWN and any(r.condition("as") == GROWN_HERE for r in records)
    alone = any(
        r.condition(BENEATH) is None
        and r.basis in CITED
        and _why_not(r, roles.get(r.id), revised=r.id in revised) is None
        for r in records
    )
    for record in records:
        why = _why_not(record, roles.get(record.id), revised=record.id in revised)
        if why is None and alone and record.condition(BENEATH) is not None:
            why = "not counted: of the plant and of what grows beneath it together"
        if why is None and record.id not in preferred and of_the_rains(record):
            why = OF_THE_RAINS
        if why is None and as_grown and record.condition("as") != GROWN_HERE:
            why = "not counted: says how it lives wild, another record how it is grown"
        if why is None and preferred and record.id not in preferred:
            why = "outweighed by a decision"
        if why is None:
            votes.append(Vote.of(record, plant, forms))
        else:
            left_out.append(Weighed(record.id, 0.0, why))
    if trait.adoption == MOST_CAUTIOUS:
        return Counted(tuple(votes), tuple(left_out), decided=bool(preferred))
    # A limit alone ("at least 1.2") names no value, so it does not silence one from practice; nor does
    # a class of an indicator scale, which says where a plant is found and not how it is grown, nor the name
    # of a season, which is no date.
    own = [vote for vote in votes if vote.names_a_value and vote.record.trait == trait.id]
    own = [vote for vote in own if not names_a_season(vote.record)]
    tiers = {vote.tier for vote in own if trait.adoption != TOLERATED or both_ends(own, vote.tier)}
    best = min(tiers, default=2)
    beside = other_sowings(votes, best) if trait.id == GROWTH and _of_one_season(plant) else ()
    left_out += [
        Weighed(vote.record.id, 0.0, OF_A_MAP if vote.tier == 3 else BETTER_SOURCED)
        for vote in votes
        if vote.tier > best and vote not in beside
    ]
    kept = tuple(vote for vote in votes if vote.tier <= best or vote in beside)
    return Counted(kept, tuple(left_out), decided=bool(preferred))


def _of_one_season(plant: Plant) -> bool:
    """Whether some record says that the plant is grown for one season: what lasts is not sown each year."""
    return bool(_cycles(plant) & ONE_SEASON)


def _lasts(plant: Plant) -> bool:
    """Whether every record of its life says that it is grown for more than one season."""
    cycles = _cycles(plant)
    return bool(cycles) and not cycles & ONE_SEASON


def _cycles(plant: Plant) -> set[str]:
    return {cycle for record in plant.records if record.trait == CYCLE for cycle in record.concepts}


def _why_not(record: Record, role: str | None, *, revised: bool) -> str | None:
    if record.standing in {"rejected", "superseded", "outweighed"}:
        return record.standing
    if role in {"rejected", "superseded", "outweighed"}:
        return f"{role} by a decision"
    if revised:
        return "revised by a later record"
    return None
