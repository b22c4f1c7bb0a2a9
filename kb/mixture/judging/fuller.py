"""Two plants each on more of a full stand than half: whether the word is another.

Where no shares are said, half of the ground each is taken (a replacement: each keeps half of its plants).
Many mixtures are planted nearer to two full stands on one ground (an addition), as smallholders do; then each
loses more, and a good word told of half each is no promise (common teaching of intercropping designs).
"""

from kb.mixture.judging.bonds import Ground
from kb.mixture.judging.conflicts import DARK_SHARE
from kb.mixture.judging.judged import Judged, eased_on
from kb.mixture.limits import ceiling_of
from kb.mixture.results import ORDER, Verdict
from kb.mixture.sharing.felt import Spot
from kb.mixture.sharing.place import Place
from kb.mixture.sharing.subject import Subject
from kb.mixture.stress import held, verdict_of

FULLER_SHARES = (0.75, 1.0)
"""Shares of a full stand that each of two may have, up to two full stands on one ground."""


def changes_at(a: Subject, b: Subject, place: Place, judged: Judged) -> tuple[float, Verdict] | None:
    """The least of these shares for each at which the word is lower, by the likely values; and that word.

    ``judged`` is the pair at ``place``; None where two full stands leave its word as it is, and of like with
    like. More of both never betters a word, so the least is looked for by halving.
    """
    if judged.like:
        return None
    word = _lower((a, b), place, judged, FULLER_SHARES[-1])
    if word is None:
        return None
    same, other = -1, len(FULLER_SHARES) - 1
    while other - same > 1:
        between = (same + other) // 2
        found = _lower((a, b), place, judged, FULLER_SHARES[between])
        same, other, word = (between, other, word) if found is None else (same, between, found)
    return FULLER_SHARES[other], word


def _lower(plants: tuple[Subject, Subject], place: Place, judged: Judged, share: float) -> Verdict | None:
    """The word at this share of each, where it is lower than as judged."""
    there = Ground(Spot(place, (share, share), place.planted), (0, 1))
    eased, felt = eased_on(judged, plants, (there,))
    dark = max(felt.by_light.dark[0].tolist()) > DARK_SHARE
    word = verdict_of(held(eased, "avoid" if dark else ceiling_of(judged.limits)))
    return word if ORDER.index(word) < ORDER.index(verdict_of(judged.stress)) else None
