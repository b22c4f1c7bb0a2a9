"""The answer on a whole planting: what each gets, who is squeezed out, jobs, gaps, conflicts, verdict."""

from collections import Counter
from collections.abc import Iterable
from dataclasses import replace

import numpy as np

from kb.mixture.answers.course_words import cleared_in_time
from kb.mixture.answers.explain import conditions_of
from kb.mixture.answers.jobs import Work, gaps_of, jobs_of
from kb.mixture.answers.measures import measures_of
from kb.mixture.answers.pairs_in_set import MOST_PAIRED, pairs_of
from kb.mixture.answers.set_words import benefits, felt_by, limiting, reasons, saying
from kb.mixture.answers.site_notes import idle_words, plant_notes
from kb.mixture.bodies.size_doubt import moved_with, other_sizes, size_doubt
from kb.mixture.enemies.enemy_book import EnemyBook
from kb.mixture.enemies.named import ranked
from kb.mixture.judging.asked_again import verdicts_again
from kb.mixture.judging.findings import Held, Two
from kb.mixture.judging.gets import shares_of
from kb.mixture.judging.harm_notes import agent_notes, rotation_notes
from kb.mixture.judging.judged import MOST_MOVED
from kb.mixture.judging.lent_words import no_list_of
from kb.mixture.judging.planting import DRAWS_OF_MANY, MANY, Planting, Stand, members_at_distance, stand_of
from kb.mixture.judging.set_apart import setting_apart
from kb.mixture.judging.sureness import SureWord, score_interval, sureness_of
from kb.mixture.judging.unknowns import (
    IMMOBILE,
    doubts_of,
    left_out_of,
    lists_missing,
    not_computed,
    not_on_record,
    settled,
    stand_ins,
    to_check,
)
from kb.mixture.limits import ceiling_of, worst
from kb.mixture.profile import Profile
from kb.mixture.results import Condition, Conflict, Limiting, Loss, MemberAnswer, PlantingAnswer, Verdict
from kb.mixture.site import Tree
from kb.mixture.stress import near_limit, verdict_of
from kb.mixture.uncertainty import DRAWS
from kb.mixture.weeks.as_grown import growth_by_week
from kb.mixture.weeks.calendar import runs

SQUEEZED: frozenset[Verdict] = frozenset({"poor", "avoid"})
CROWDED, THIN = 1.0 + 1e-9, 0.6
"""Sums of ground shares above and below which something is said."""
FIRM_LOAD = 2.0
"""Climbers to each stalk of an annual host from which something is said (judgement)."""
MOST_CONFLICTS = 60
"""So many conflicts and conditions are told of a large planting, the hardest; the rest are a number."""
GROWS = 0.1
"""Activity from which a week is told as one of growth."""
TWO = 2
MOST_NOTES = 12
"""So many pairs of which something is not computed are named; the rest are a number."""


def judge_planting(
    planting: Planting, *, draws: int = DRAWS, book: EnemyBook | None = None
) -> PlantingAnswer:
    """Whether plants fit together at a site, standing as the planting says.

    The same in whatever order they are named, and whether or not one is named in parts. Raises
    BadPlanting where the planting cannot be.
    """
    stand = stand_of(planting, draws=draws, book=book)
    judged, shares = stand.judged, shares_of([s.likely for s in stand.subjects], stand.grounds)
    alone, free = len(stand.subjects) == 1 or judged.one_species, _word_of(stand)
    tree = None if planting.overhead is None else planting.overhead.tree
    sizes = other_sizes(tree, free)
    words = {
        name: _word_of(stand_of(_under(planting, other), draws=0, book=book)) for name, other in sizes.items()
    }
    size = size_doubt(tree, free, words)
    again = verdicts_again(stand.subjects, stand.grounds, judged, book)
    held = Held(
        verdict=free,
        eased=judged.eased,
        limits=judged.limits,
        again=again,
        one_kind=alone,
        set_apart=setting_apart(
            stand.subjects, stand.grounds, book, members_at_distance(stand, book), stand.judged.bonds
        ),
    )
    missing = _missing(stand)
    on_record = settled(judged.limits) or not_on_record(stand.profiles) is None
    doubts = doubts_of(missing, free, judged.limits)
    at_best: SureWord = "unsure" if doubts else "sure" if on_record else "fairly sure"
    sureness = sureness_of(stand.subjects, judged, free, at_best, size)
    first = None if free == "like" else limiting(stand, shares, held)
    gains = () if free == "like" else benefits(stand)
    by_felt = free not in {"like", "good"} and not held.holding
    clearing = cleared_in_time(stand, free, book) if by_felt else None
    work = Work(stand, shares)
    pairs = pairs_of(stand, book)
    return PlantingAnswer(
        verdict=free,
        saying=saying(stand, shares, held, first, gains, sureness, doubts),
        ground=sum(member.share for member in stand.members),
        kept=_kept(stand),
        members=_members(work),
        limiting=first,
        conflicts=_conflicts(held),
        conditions=() if free == "like" else _conditions(held, clearing),
        jobs=jobs_of(work),
        gaps=gaps_of(work),
        nitrogen=tuple(gift.giving.gift for gift in judged.gifts),
        benefits=gains,
        reasons=reasons(stand, shares, held, first, gains),
        pairs=pairs,
        worst_pair=pairs[0] if pairs else None,
        measures=measures_of(work),
        score=score_interval(judged, like=free == "like"),
        sureness=sureness,
        notes=tuple(
            dict.fromkeys((*(() if size is None else (size.note,)), *_notes(stand, work, missing, book)))
        ),
    )


def _word_of(stand: Stand) -> Verdict:
    """The verdict of a planting."""
    alone = len(stand.subjects) == 1 or stand.judged.one_species
    return "like" if alone and ceiling_of(stand.judged.limits) == "good" else verdict_of(stand.judged.stress)


def _under(planting: Planting, tree: Tree) -> Planting:
    """The same planting under a tree of another size."""
    if planting.overhead is None:
        return planting
    usual = planting.overhead.tree
    members = tuple(
        replace(member, distance_m=moved_with(usual, tree, member.distance_m)) for member in planting.members
    )
    return replace(planting, members=members, overhead=replace(planting.overhead, tree=tree))


def _conditions(held: Held, clearing: Condition | None) -> tuple[Condition, ...]:
    return (*(() if clearing is None else (clearing,)), *conditions_of(held, most=MOST_CONFLICTS))


def _kept(stand: Stand) -> float:
    """Sum of s_i (1 - K_i) over the plants, a tree overhead apart."""
    felt = stand.judged.each[stand.first :]
    return float(sum(m.share * (1 - float(k)) for m, k in zip(stand.members, felt, strict=True)))


def _members(work: Work) -> tuple[MemberAnswer, ...]:
    stand, shares = work.stand, work.shares
    judged, seen = stand.judged, Counter[str]()
    found = []
    for place, profile in enumerate(stand.profiles):
        seen[profile.id] += 1
        count = seen[profile.id]
        word = verdict_of(float(judged.eased_each[place]))
        own = [limit for limit in judged.limits if limit.of == profile.id]
        verdict, why = worst(word, ceiling_of(own)), felt_by(stand, shares, place)
        if verdict != word:
            held = next(limit for limit in own if limit.allows(lifted=limit.lifted) == verdict)
            why = Limiting(held.kind, held.of, held.text, held.records)
        taken = near_limit(judged.felt.roots[:1, place], judged.felt.light[:1, place], 0.0)
        found.append(
            MemberAnswer(
                name=profile.id if count == 1 else f"{profile.id}#{count}",
                plant=profile.id,
                share=stand.shares[place],
                overhead=place < stand.first,
                verdict=verdict,
                loss=Loss(
                    float(judged.felt.roots[0, place]),
                    float(judged.felt.light[0, place]),
                    float(judged.shared[place]),
                    float(judged.each[place]),
                ),
                light=tuple(None if month != month else float(month) for month in shares.light[place]),  # noqa: PLR0124 - NaN
                layers=shares.layers(place),
                height_m=float(stand.subjects[place].likely.height[0]),
                base_m=float(stand.subjects[place].likely.base[0]),
                weeks=runs(stand.subjects[place].likely.activity[0] >= GROWS),
                flowers=runs(work.flowers[place]) if place in work.flowers else (),
                harvest=runs(work.harvest[place]) if place in work.harvest else (),
                squeezed=verdict_of(float(taken[0])) in SQUEEZED,
                why=why,
            )
        )
    return tuple(found)


def _conflicts(held: Held) -> tuple[Conflict, ...]:
    """Limits that hold the verdict below good unless lifted, the hardest first, at most so many."""
    return tuple(
        Conflict(
            limit.kind,
            limit.of,
            limit.text,
            limit.ceiling,
            limit.lift,
            limit.given,
            limit.lifted,
            limit.records,
        )
        for limit in held.limits[:MOST_CONFLICTS]
        if limit.ceiling != "good"
    )


def _missing(stand: Stand) -> tuple[str, ...]:
    """What could matter and is not computed, or decides and is not on record."""
    found: dict[str, None] = {}
    unlisted: list[Two] = []
    for bond in stand.judged.bonds:
        if bond.kin.kinship != "species":
            one, other = (stand.profiles[place] for place in bond.places)
            two = Two((one, other), bond.kin, bond.harm, bond.meeting.setting)
            unlisted += [two] if lists_missing(two) else []
            found |= dict.fromkeys(left_out_of(two))
    if unlisted:
        found = {no_list_of(unlisted): None, **found}
    return (*found, *to_check(stand.judged.limits))


def _notes(stand: Stand, work: Work, missing: tuple[str, ...], book: EnemyBook | None) -> Iterable[str]:
    """What was assumed or is not known."""
    yield from _ground_notes(stand)
    for ground in stand.grounds:
        yield from ground.spot.place.notes if ground.spot.place.setting != "bed" else ()
    yield from missing[:MOST_NOTES]
    if len(missing) > MOST_NOTES:
        yield f"{len(missing) - MOST_NOTES} more notes of this kind on other pairs are left out."
    yield from stand_ins(stand.profiles)
    likely = [subject.likely for subject in stand.subjects]
    yield from plant_notes(likely, stand.profiles, stand.planting.site)
    yield from idle_words(stand.planting.given, stand.judged.limits)
    yield from _no_window(work)
    yield from _loads(stand)
    yield from _cleared(stand)
    agents = {a.agent: a for b in stand.judged.bonds if b.harm.enemies for a in b.harm.enemies.agents}
    who = "Both" if len(set(stand.profiles)) == TWO else "Two or more of them"
    yield from agent_notes(ranked(agents.values()), stand.planting.site.place, who=who)
    if stand.planting.setting == "bed":
        yield from rotation_notes(stand.profiles)
    yield from (found.text for b in stand.judged.bonds for found in b.harm.emissions if found.ceiling is None)
    yield IMMOBILE
    yield not_computed(book=book is not None)


def ground_notes(ground: float) -> Iterable[str]:
    """What it means that the shares of the ground come to more than all of it, or to less."""
    if ground > CROWDED:
        yield (
            f"The ground shares come to {ground:.2f}, more than the ground: plants stand among and above "
            "each other. It is reckoned so; where they root or leaf at one height they lose by it."
        )
    if ground < THIN:
        yield f"The ground shares come to {ground:.2f}: the rest of the ground is taken as bare."


def _ground_notes(stand: Stand) -> Iterable[str]:
    yield from ground_notes(sum(member.share for member in stand.members))
    if len(stand.judged.limits) > MOST_CONFLICTS:
        yield (
            f"{len(stand.judged.limits)} things stand between these plants; the {MOST_CONFLICTS} hardest are "
            "told."
        )
    if len(stand.subjects) > MANY:
        yield (
            f"A planting of {len(stand.subjects)} kinds: judged with {DRAWS_OF_MANY} draws of doubt; pairs "
            f"are looked at among {MOST_PAIRED} of them, those that conflicts are about or that feel most."
        )
    if len(stand.subjects) > MOST_MOVED:
        yield (
            f"The trait whose checking would change most is looked for among the {MOST_MOVED} that feel most."
        )


def _no_window(work: Work) -> Iterable[str]:
    """Plants whose flowers or harvest are not on record, where no gap says so already."""
    told = {plant for gap in gaps_of(work) for plant in gap.unknown}
    names = {profile.id: profile.name for profile in work.stand.profiles}
    for said, what in (("Flowering", "flowers"), ("Harvest", "harvest")):
        missing = [names[plant] for plant in work.unknown(what) if plant not in told]
        if missing:
            yield f"{said} weeks are not on record for: {', '.join(missing)}."


def _loads(stand: Stand) -> Iterable[str]:
    """How many climbers come to each stalk of an annual host; what it bears is not on record."""
    for support in stand.judged.supports:
        climber, host = support.places
        if support.carried and not stand.profiles[host].woody and host >= stand.first:
            each = _density(stand, climber) / _density(stand, host)
            if each > FIRM_LOAD:
                names = stand.profiles[climber].name, stand.profiles[host].name
                yield (
                    f"About {each:.0f} plants of {names[0]} come to each of {names[1]}; how many one "
                    "bears is not on record."
                )


def _cleared(stand: Stand) -> Iterable[str]:
    """Clearing that comes after the end of a crop."""
    for place, member in enumerate(stand.members, start=stand.first):
        course = growth_by_week(stand.profiles[place], stand.planting.site, sow_week=member.sow_week)
        if member.clear_week is not None and np.array_equal(course, stand.subjects[place].likely.activity[0]):
            name, week = member.profile.name, member.clear_week
            yield f"{name} has ended before week {week:g}: clearing it then changes nothing."


def _density(stand: Stand, place: int) -> float:
    """Plants per m2 of the whole ground."""
    profile: Profile = stand.profiles[place]
    return stand.shares[place] / profile.sole_spacing_m.likely**2
