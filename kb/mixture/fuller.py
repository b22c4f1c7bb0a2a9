"""Two plants each nearer to a full stand than half the ground: at which shares the word is another.

Where no shares are said, half of the ground each is taken (a replacement: each keeps half of its plants).
Many mixtures are planted nearer to two full stands on one ground (an addition), as smallholders do; then each
loses more, and a good word told of half each is no promise (common teaching of intercropping designs).
"""

from dataclasses import replace

from kb.mixture.enemy_book import EnemyBook
from kb.mixture.pair import judge_first, prepare, prepare_first, word_of
from kb.mixture.place import place_for
from kb.mixture.profile import Profile
from kb.mixture.results import ORDER, Verdict
from kb.mixture.site import Arrangement, Site

FULLER_SHARES = (0.6, 0.7, 0.8, 0.9, 1.0)
"""Shares of a full stand that each of two may have, up to two full stands on one ground."""


def changes_at(
    a: Profile, b: Profile, site: Site, arrangement: Arrangement, verdict: Verdict, book: EnemyBook | None
) -> tuple[float, Verdict] | None:
    """The least of these shares for each at which the word is lower, by the likely values; and that word.

    None where none is, and of like with like. ``verdict`` is the word of half each.
    """
    if verdict not in ORDER:
        return None
    for share in FULLER_SHARES:
        fuller = replace(arrangement, share_a=share, share_b=share)
        place = place_for(a, site, fuller)
        first = prepare_first(a, place, fuller, draws=0)
        second = prepare(b, place, sow_week=fuller.sow_week_b, age_years=fuller.age_b_years, draws=0)
        word = word_of(judge_first(first, second, place, book))
        if word in ORDER and ORDER.index(word) < ORDER.index(verdict):
            return share, word
    return None
