"""What would go well with a plant: every other plant judged beside it, best first.

Each pair gets the full answer with its draws of doubt, since one takes about two milliseconds. The
order is by the cautious score (the lower of the likely score and the 25th percentile of the draws),
so that a plant of which little is known cannot climb; pairs to avoid come last. Of equals
those with root depths on record come first.
"""

from collections.abc import Sequence

from kb.mixture.enemy_book import EnemyBook
from kb.mixture.pair import answer, judge, prepare, prepare_first, rank_of
from kb.mixture.place import place_for
from kb.mixture.profile import Profile
from kb.mixture.results import PairAnswer
from kb.mixture.site import Arrangement, Site
from kb.mixture.uncertainty import DRAWS


def rank_candidates(
    a: Profile,
    others: Sequence[Profile],
    site: Site,
    arrangement: Arrangement,
    *,
    draws: int = DRAWS,
    book: EnemyBook | None = None,
) -> tuple[PairAnswer, ...]:
    """Answers on ``a`` with each of the others, best first; equals in the order of their ids.

    ``arrangement`` holds for every pair; in setting ``under``, ``a`` is the tree.
    """
    place = place_for(a, site, arrangement)
    first = prepare_first(a, place, arrangement, draws=draws)
    ranked = []
    for other in others:
        sow, age = arrangement.sow_week_b, arrangement.age_b_years
        second = prepare(other, place, sow_week=sow, age_years=age, draws=draws)
        judged = judge(first, second, place, book)
        result = answer(first, second, place, judged)
        ranked.append((rank_of(result, judged), result))
    ranked.sort(key=lambda row: row[0])
    return tuple(result for _, result in ranked)
