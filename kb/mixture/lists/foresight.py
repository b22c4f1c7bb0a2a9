"""A whole list of plants beside one at once: a stress that no pair falls below, to leave most of them out.

Every plant of the list is one row of the same arrays, by its likely values and in the fine layers, so
that its losses by roots and by light are those of the pair judged by itself, in the same arithmetic
(`felt` knows no difference). What is not worth reckoning for a whole list is taken from its good side:

- **limits** only ever raise K' (`stress.held_in_turn` is nowhere below what it is given), so they are
  left out at first, but for the dark, which the light tells; `held_stress` adds them for one pair;
- **enemies**: kinship alone, and in a bed the book's list of every two plants side by side, are never
  above the pressure that the pair is judged with; what a plant gives off only adds to it;
- **benefits**: K' of a plant is K (1 - 0.35 B) with B clipped to 0-1. Climbing brings each of two at most
  `SUPPORT_BENEFIT` and only where one climbs; nitrogen at most what it would if all of it came in time,
  and only where one gives to the other (never both ways, as a taker fixes none); what they gain together
  is reckoned. B is the sum of these for both, so the worse K so eased is at most K' of the worse plant.

So the value is at most K' of the pair, but for the rounding of sums, for which `SLACK` is taken off.
"""

from collections.abc import Iterator, Sequence
from dataclasses import replace

import numpy as np

from kb.mixture.bodies.support import SUPPORT_BENEFIT, is_climber
from kb.mixture.enemies.enemy_book import EnemyBook
from kb.mixture.enemies.harm import harm_between, may_harm
from kb.mixture.enemies.sward import WHY, relation_in
from kb.mixture.judging.conflicts import DARK_SHARE, all_limits
from kb.mixture.judging.crowd import Grown, rows_at, traits_at, year_at
from kb.mixture.judging.encounter import meeting_at, party_at
from kb.mixture.limits import Party, holds_of
from kb.mixture.lists.screening import LIKE_STRESS
from kb.mixture.profile import Profile
from kb.mixture.relatedness import EXCEPTED, relation, same_species
from kb.mixture.season import FloatArray
from kb.mixture.sharing.felt import Felt, feel, spot_of_two
from kb.mixture.sharing.nitrogen import is_giver, most_benefit
from kb.mixture.sharing.place import Place
from kb.mixture.sharing.subject import Subject
from kb.mixture.sharing.variants import Variants
from kb.mixture.stress import BANDS, held_down, near_limit, one_in_turn, with_benefits
from kb.mixture.weeks.as_grown import as_sown

SLACK = 1e-9
"""Sums of some thousand numbers in another order differ by 1e-12 at most."""
AT_ONCE = 16
"""So many plants go through together: 2 x 16 x 110 x 52 numbers are 1.5 MB and stay near the processor."""


def least_stress(
    a: Subject,
    others: Sequence[Profile],
    place: Place,
    *,
    sow_week: float | None = None,
    age_years: float | None = None,
    book: EnemyBook | None = None,
) -> FloatArray:
    """Values (n, 2) that the likely K' of ``a`` with each of the others is never below.

    The first in any case, the second where neither carries the other.
    """
    found = np.zeros((len(others), 2))
    how = Grown(sow_week, age_years)
    for some in _in_parts(others):
        those = [as_sown(others[i], place.site, sow_week) for i in some]
        found[some] = _least(a, those, rows_at(place.site, place.fine.open, those, how), place, book)
    return found


def held_stress(
    a: Subject,
    other: Profile,
    place: Place,
    least: Sequence[float],
    *,
    sow_week: float | None = None,
    age_years: float | None = None,
    book: EnemyBook | None = None,
) -> float:
    """`least_stress` of one pair held down by its limits, the dark left out: K' is never below that either.

    Limits, like with like apart, and who carries whom come of the same rules as in `judged`, and
    `held_down` keeps order.
    """
    in_any_case, not_carried = least
    other = as_sown(other, place.site, sow_week)
    if in_any_case >= BANDS[-1][0] or same_species(a.profile, other):
        return in_any_case
    how = Grown(sow_week, age_years)
    year, traits = year_at(other, place.site, how), traits_at(other, how)
    party = Party(
        profile=other,
        height_m=float(traits.height[0]),
        d50_m=float(traits.d50[0]),
        local=1.0,
        activity=year.activity[0],
        age_years=age_years,
    )
    meeting = meeting_at(place)
    first = party_at(a.likely, place, first=True, age_years=a.age_years)
    limits, supports = all_limits(first, party, meeting, dark=(0.0, 0.0))
    if may_harm(a.profile, other, book):
        limits = (*limits, *harm_between(a.profile, other, meeting, book).limits)
    carried = any(support.host is not None for support in supports)
    stress = in_any_case if carried or not_carried >= BANDS[-1][0] else not_carried
    return one_in_turn(stress, holds_of(limits))


def _in_parts(others: Sequence[Profile]) -> Iterator[list[int]]:
    """Places in the list, annuals apart: only their roots grow through the year."""
    for annual in (True, False):
        kind = [i for i, other in enumerate(others) if other.annual == annual]
        for start in range(0, len(kind), AT_ONCE):
            yield kind[start : start + AT_ONCE]


def _least(
    a: Subject, others: Sequence[Profile], rows: Variants, place: Place, book: EnemyBook | None
) -> FloatArray:
    plant = a.profile
    facing = np.zeros(len(others), dtype=np.intp), np.arange(len(others))
    both = (_a_little_hardier(a.likely), _a_little_hardier(rows))
    felt = feel(both, facing, spot_of_two(place), place.fine)
    each = near_limit(felt.roots, felt.light, _enemies(plant, others, place, book)[:, None])
    relief = [_known(plant) and _known(other) for other in others] * felt.by_roots.relief
    worst, brought = each.max(axis=1), _most_given(both, others, felt, place) + relief
    carried = np.array([_most_carried(plant, other) for other in others])
    eased = np.stack([with_benefits(worst, brought + carried), with_benefits(worst, brought)], axis=1)
    eased = np.maximum(eased - SLACK, 0.0)
    dark = (felt.by_light.dark > DARK_SHARE).any(axis=1, keepdims=True)
    held = np.where(dark, held_down(eased, "avoid"), eased)
    # Two of a species may be like with like, with a score of its own.
    like = np.array([same_species(plant, other) for other in others])
    least: FloatArray = np.where(like[:, None], np.minimum(held, LIKE_STRESS), held)
    return least


def _a_little_hardier(plant: Variants) -> Variants:
    """Light that is only just enough must not read as too dark by a rounding."""
    return replace(plant, survive=plant.survive * (1 - SLACK))


def _enemies(plant: Profile, others: Sequence[Profile], place: Place, book: EnemyBook | None) -> FloatArray:
    """Give e (n,), or less: none within a species; with a distance between them kinship alone is sure."""
    if book is None or place.setting == "under":
        shared = np.array([relation(plant, other).shared for other in others])
    else:
        shared = book.row(plant, others)
    if "mown" in place.given:  # Kin cut green together share less than kin do elsewhere.
        cut = [relation_in(plant, other, place.setting, place.given).exception == WHY for other in others]
        shared = np.where(cut, EXCEPTED, shared)
    return np.where([same_species(plant, other) for other in others], 0.0, shared)


def _most_carried(one: Profile, other: Profile) -> float:
    return SUPPORT_BENEFIT if is_climber(one) or is_climber(other) else 0.0


def _most_given(
    both: tuple[Variants, Variants], others: Sequence[Profile], felt: Felt, place: Place
) -> FloatArray:
    """The most (n,) that nitrogen brings two, whichever gives it."""
    plant, found = both[0].profile, np.zeros(len(others))
    shares = spot_of_two(place).shares
    for i, other in enumerate(others):
        pair = (plant, other)
        fixed = (both[0].fixed[0], both[1].fixed[i])
        for giver, taker in ((0, 1), (1, 0)):
            if is_giver(pair[giver], pair[taker]):
                found[i] = most_benefit(
                    pair[giver],
                    place.given,
                    fixed=float(fixed[giver]),
                    share=shares[giver],
                    unmet=float(felt.by_roots.unmet[i, taker]),
                )
    return found


def _known(profile: Profile) -> bool:
    return profile.root_d95_m.known and profile.activity.known
