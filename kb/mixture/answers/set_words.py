"""The single things said of a planting, each with the records it rests on."""

from collections.abc import Sequence
from dataclasses import replace

import numpy as np

from kb.mixture.answers.course_words import year_before
from kb.mixture.answers.explain import (
    LIKE_KINDS,
    all_like_first,
    capital,
    opened,
    other_condition,
    verdict_sentence,
)
from kb.mixture.answers.reasons import cropped, grams, last_is
from kb.mixture.answers.sureness_words import sureness_sentence
from kb.mixture.counting import listed
from kb.mixture.judging.bonds import Bond
from kb.mixture.judging.findings import Held, Two
from kb.mixture.judging.gets import BANDS_M, Shares
from kb.mixture.judging.lent_words import lent_reason
from kb.mixture.judging.merits import alike
from kb.mixture.judging.planting import Stand
from kb.mixture.judging.unknowns import settled
from kb.mixture.limits import records_of
from kb.mixture.profile import Profile
from kb.mixture.relatedness import ENEMY_WEIGHT, Kinship
from kb.mixture.results import Kind, Limiting, Reason, Sureness
from kb.mixture.sharing.asked_beneath import less_in_shade
from kb.mixture.sharing.light_words import WORTH_SAYING, light_lost, percent
from kb.mixture.sharing.nitrogen import WORTH_NAMING_G_M2, leads

MOST_REASONS = 3
MOST_CULPRITS = 3
MOST_KIN = 6
"""Kinsfolk that are named; the rest are a number."""
PART_OF_BLAME = 0.2
"""A neighbour is named where at least this much of the loss is its doing."""
KIN_WORDS: dict[Kinship, str] = {
    "genus": "are of one genus and likely to share pests and diseases.",
    "family": "are of one family and may share pests and diseases.",
    "unknown": "are taken as related, for a family is not on record: they may share pests and diseases.",
    "none": "may share pests and diseases, as any two plants.",
    "species": "are of one species.",
}
ALONE = "One kind of plant: nothing gained or lost; keep to its own spacing."


def limiting(stand: Stand, shares: Shares, held: Held) -> Limiting | None:
    """The one thing that holds the planting back most; None where nothing does."""
    if held.holding:
        limit = held.holding[0]
        return Limiting(limit.kind, limit.of, limit.text, limit.records)
    return felt_by(stand, shares, worst_place(stand))


def worst_place(stand: Stand) -> int:
    """Who feels most; the ids decide between equals, so that order does not."""
    felt = stand.judged.eased_each
    return max(range(len(felt)), key=lambda i: (round(float(felt[i]), 9), stand.profiles[i].id))


def felt_by(stand: Stand, shares: Shares, place: int) -> Limiting | None:
    """What costs one plant most, and whose doing it is; None where it is not worth a word."""
    felt, judged = stand.judged.felt, stand.judged
    parts: dict[Kind, float] = {
        "roots": float(felt.roots[0, place]),
        "light": float(felt.light[0, place]),
        "enemies": ENEMY_WEIGHT * float(judged.shared[place]),
    }
    kind = max(parts, key=lambda name: parts[name])
    if parts[kind] < WORTH_SAYING:
        return None
    say = {"roots": _roots, "light": _light, "enemies": _enemies}[kind]
    return say(stand, shares, place)


def _roots(stand: Stand, shares: Shares, place: int) -> Limiting:
    plant, felt = stand.profiles[place], stand.judged.felt.by_roots
    water = float(felt.water[0, place]) >= float(felt.nitrate[0, place])
    others = [stand.profiles[j] for j in _culprits(shares.pressed[place])]
    names = [other.name for other in others]
    less = _less_in_shade(stand, place) if water else ""
    text = (
        f"{plant.name} goes without {percent(float(felt.roots[0, place]))} of the "
        f"{'water' if water else 'nitrogen'} it would find in a bed of its own{less}: {listed(names)} "
        f"root{'s' if len(names) == 1 else ''} in the same ground in the same weeks"
        f"{_over(stand, place, shares)}."
    )
    records = records_of(*(p.root_records for p in (plant, *others)))
    return Limiting("roots", plant.id, text, records)


def _less_in_shade(stand: Stand, place: int) -> str:
    """Beneath a tree, on the one ground where it stands: that it needs less there; nothing of the tree."""
    here = [ground for ground in stand.grounds if place in ground.members and ground.members[0] != place]
    return less_in_shade(stand.subjects[place].likely, here[0].spot.place) if here else ""


def _over(stand: Stand, place: int, shares: Shares) -> str:
    doers = [stand.subjects[j].likely for j in _culprits(shares.pressed[place])]
    return year_before(stand.subjects[place].likely, doers)


def _light(stand: Stand, _: Shares, place: int) -> Limiting:
    plant = stand.profiles[place]
    others = [stand.profiles[j] for j in _culprits(_leaf_above(stand, place))]
    lost = float(stand.judged.felt.light[0, place])
    what = "crop" if cropped(plant, stand.planting.setting) else "growth"
    own, names = stand.subjects[place].likely, [other.name for other in others]
    text = light_lost(own, lost, names, what, stand.planting.site.open_light)
    shading = [
        records_of(o.height_m.records, o.leaf_area_index.records, o.extinction.records, o.leaf.records)
        for o in others
    ]
    records = records_of(plant.light_to_crop_full.records, *shading, plant.activity.records)
    return Limiting("light", plant.id, text, records)


def _whom(stand: Stand, bonds: Sequence[Bond], place: int) -> str:
    """With whom one shares what counts: its kin by name, where they are all, else its neighbours."""
    sharing = [bond for bond in bonds if bond.harm.counted]
    if any(bond.kin.kinship not in {"genus", "family"} for bond in sharing):
        return "its neighbours"
    names = sorted({stand.profiles[i].name for bond in sharing for i in bond.places if i != place})
    more = len(names) - MOST_KIN
    return f"its kin here, {listed([*names[:MOST_KIN], *([f'{more} more'] if more > 0 else [])])}"


def _enemies(stand: Stand, _: Shares, place: int) -> Limiting:
    """The agents that count for one plant, or its kin where none is named."""
    plant = stand.profiles[place]
    bonds = [b for b in stand.judged.bonds if place in b.places and b.kin.kinship != "species"]
    counted = {agent.agent: agent for bond in bonds for agent in bond.harm.counted}
    if counted:
        agents = sorted(counted.values(), key=lambda agent: (-agent.v, agent.agent))[:MOST_CULPRITS]
        more = len(counted) - len(agents)
        named = listed([agent.name for agent in agents] + ([f"{more} more"] if more else []))
        what = "an enemy that does harm" if len(counted) == 1 else "pests and diseases that do harm"
        text = f"{plant.name} shares {what} with {_whom(stand, bonds, place)}: {named}."
        return Limiting("enemies", plant.id, text, records_of(*(agent.records for agent in agents)))
    kin = max(bonds, key=lambda bond: bond.harm.shared)
    other = stand.profiles[next(p for p in kin.places if p != place)]
    two = Two((plant, other), kin.kin, kin.harm, kin.meeting.setting)
    lent = lent_reason(two)
    if lent is not None:
        return Limiting("enemies", plant.id, lent.text, lent.records)
    # The same words for each of them, so that they are said once.
    if kin.kin.exception is not None:
        one, another = sorted((plant, other), key=lambda profile: profile.id)
        text = f"{one.name} and {another.name} are kin, which might share pests, but {kin.kin.exception}."
        return Limiting("family", plant.id, text, records_of(kin.kin.records))
    as_near = [bond for bond in bonds if bond.kin.kinship == kin.kin.kinship and bond.kin.exception is None]
    kinsfolk = sorted((stand.profiles[i] for i in {i for b in as_near for i in b.places}), key=lambda p: p.id)
    names = [p.name for p in dict.fromkeys(kinsfolk)]
    more = len(names) - MOST_KIN
    named = listed([*names[:MOST_KIN], *([f"{more} more"] if more > 0 else [])])
    text = f"{named} {KIN_WORDS[kin.kin.kinship]}"
    return Limiting("family", plant.id, text, records_of(*(bond.kin.records for bond in as_near)))


def _culprits(blame: np.ndarray) -> list[int]:
    """Whose doing it is: those with the most of the blame, at most three."""
    total = float(blame.sum())
    order = np.argsort(-blame, kind="stable").tolist()
    named = [i for i in order[:MOST_CULPRITS] if blame[i] > 0 and blame[i] >= PART_OF_BLAME * total]
    return named or order[:1]


def _leaf_above(stand: Stand, place: int) -> np.ndarray:
    """Leaf of each other that stands above the middle of a plant's own, in its weeks (n,)."""
    own = stand.subjects[place].likely
    middle = float(own.height[0] + own.base[0]) / 2
    blame = np.zeros(len(stand.subjects))
    together = next((g for g in stand.grounds if place in g.members), None)
    for j in together.members if together is not None else ():
        other = stand.subjects[j].likely
        top, base = float(other.height[0]), float(other.base[0])
        above = min(1.0, max(0.0, (top - max(base, middle)) / (top - base)))
        depth = float(other.extinction[0]) * (other.leaf_area[0] * own.activity[0]).sum()
        blame[j] = stand.shares[j] * above * depth if j != place else 0.0
    return blame


def benefits(stand: Stand) -> tuple[Reason, ...]:
    """What they bring each other, the best first; a gift of nitrogen that is small comes last."""
    found: list[Reason] = []
    judged = stand.judged
    for support in judged.supports:
        if support.host is not None:
            climber, host = (stand.profiles[place] for place in support.places)
            found.append(Reason("support", f"{host.name} carries {climber.name}.", support.records))
    found += _gifts(stand, leading=True)
    relief = float(judged.felt.by_roots.relief[0])
    known = all(p.root_d95_m.known and p.activity.known for p in stand.profiles)
    if relief >= WORTH_SAYING and known and len(stand.subjects) > 1:
        text = (
            f"Apart in depth or time, they together find {percent(relief)} more of the ground's water and "
            "nitrogen than each on its own."
        )
        found.append(Reason("roots", text, _root_records(stand.profiles)))
    return (*found, *_gifts(stand, leading=False))


def _gifts(stand: Stand, *, leading: bool) -> list[Reason]:
    """Gifts of nitrogen that are worth naming: those that lead, or those that are a small part of a need."""
    found = []
    for gift in stand.judged.gifts:
        giver, taker = stand.profiles[gift.giver], stand.profiles[gift.taker]
        low, high = gift.giving.gift.g_per_m2
        if high >= WORTH_NAMING_G_M2 and leads((low, high), taker) == leading:
            text = f"{giver.name} gives {taker.name} {grams(low, high)} of nitrogen: {gift.giving.gift.when}."
            found.append(Reason("nitrogen", text, gift.giving.records))
    return found


def layers(stand: Stand, shares: Shares) -> Reason:
    """Where in the soil they draw."""
    draw = shares.draw_by_layer()
    text = (
        f"Of all they draw, {percent(float(draw[0]))} comes from the top {round(100 * BANDS_M[1])} cm and "
        f"{percent(float(draw[-1]))} from below {round(100 * BANDS_M[-1])} cm."
    )
    return Reason("roots", text, _root_records(stand.profiles))


def little_shared(stand: Stand) -> Reason | None:
    """Said where the plants share too little for it to matter."""
    judged = stand.judged
    if len(stand.subjects) < 2 or judged.one_species:
        return None
    felt = np.maximum(judged.felt.roots[0], judged.felt.light[0])
    if float(felt.max()) >= WORTH_SAYING:
        return None
    text = (
        "They share too little ground, depth and time for it to matter: none goes without as much as "
        f"{round(100 * WORTH_SAYING)} % of its water, nitrogen or light."
    )
    return Reason("roots", text, _root_records(stand.profiles))


def _root_records(profiles: tuple[Profile, ...]) -> tuple[str, ...]:
    return records_of(*(p.root_records for p in profiles))


def reasons(
    stand: Stand, shares: Shares, held: Held, first: Limiting | None, gains: tuple[Reason, ...]
) -> tuple[Reason, ...]:
    """At most three: what limits, the best they bring each other, and what else tells most.

    The shade that costs a plant most is always among them where it is worth a word.
    """
    if held.verdict == "like":
        return (Reason("family", _of_one_kind(stand), ()),)
    wanted = [None if first is None else Reason(first.kind, first.text, first.records)]
    wanted += [Reason(limit.kind, limit.text, limit.records) for limit in held.holding[:1]]
    felt = felt_by(stand, shares, worst_place(stand))
    wanted += [*gains[:1], little_shared(stand) or (None if gains else alike(stand.profiles))]
    wanted += [None if felt is None else Reason(felt.kind, felt.text, felt.records), layers(stand, shares)]
    said = {reason.text: reason for reason in reversed(wanted) if reason is not None}
    kept = tuple(reversed(said.values()))[:MOST_REASONS]
    shade = _shade(stand, shares)
    if shade is None or any(one.text == shade.text for one in kept):
        return kept
    return last_is(shade, kept, MOST_REASONS)


def _shade(stand: Stand, shares: Shares) -> Reason | None:
    """What costs the plant most that loses most by shade; None where that is not worth a word."""
    lost = stand.judged.felt.light[0]
    worst_off = max(range(len(lost)), key=lambda i: (round(float(lost[i]), 9), stand.profiles[i].id))
    if float(lost[worst_off]) < WORTH_SAYING:
        return None
    found = _light(stand, shares, worst_off)
    return Reason("light", found.text, found.records)


def _of_one_kind(stand: Stand) -> str:
    """Plants of one species: one kind, or several (cabbage and cauliflower)."""
    return LIKE_KINDS if len({profile.id for profile in stand.profiles}) > 1 else ALONE


def saying(
    stand: Stand,
    shares: Shares,
    held: Held,
    first: Limiting | None,
    gains: tuple[Reason, ...],
    sureness: Sureness,
    missing: tuple[str, ...],
) -> str:
    """The answer in at most five plain sentences."""
    if held.verdict == "like":
        return _of_one_kind(stand)
    sentences = [verdict_sentence(held, sureness)]
    small = _gifts(stand, leading=False)
    best = next((gain for gain in gains if gain not in small), None)
    merit = best or little_shared(stand) or alike(stand.profiles)
    names = [profile.name for profile in stand.profiles]
    if first is not None and held.holding:
        first = replace(first, text=all_like_first(held.holding, names))
    # What stands in the way is not softened by where the others root.
    sentences += opened(held, first, merit, merit or (None if held.holding else layers(stand, shares)))
    other = other_condition(held, names)
    if other is not None and other not in sentences:
        sentences.append(other)
    certain = settled(held.limits)
    sentences.append(sureness_sentence(sureness, missing, stand.profiles, certain=certain))
    return " ".join(capital(sentence) for sentence in sentences)
