"""Ranking of pairs inside one study: whether the pair that ranks higher has the higher LER.

Only couples of pairs from the same study are compared, since LER differs between studies for reasons
that no trait knows of (`data` 7). The p value is one-sided: how often a ranking shuffled within the
studies does as well.
"""

from collections.abc import Mapping, Sequence
from dataclasses import dataclass

import numpy as np
import numpy.typing as npt

from kb.mixture.season import FloatArray
from kb.mixture.trials.outcomes import SEED, Outcome, Pair

IntArray = npt.NDArray[np.intp]

PERMUTATIONS = 2000


@dataclass(frozen=True, slots=True)
class Concordance:
    """Share of ``n`` comparable couples ranked rightly, and how often chance does as well."""

    value: float | None
    n: int
    p: float | None
    n_studies: int = 0


def concordance(outcomes: Sequence[Outcome], ranking: Mapping[Pair, float]) -> Concordance:
    """Of LERs within studies; pairs without a rank, and ties of either kind, are not comparable."""
    studies = [
        (
            np.array([outcome.value for outcome in held]),
            np.array([ranking[outcome.pair] for outcome in held]),
        )
        for study in sorted({outcome.study for outcome in outcomes})
        if len(held := [o for o in outcomes if o.study == study and o.pair in ranking]) > 1
    ]
    found = [_couples(ler, rank[None, :]) for ler, rank in studies]
    right = sum(int(hits[0]) for hits, _ in found)
    n = sum(int(count[0]) for _, count in found)
    if not n:
        return Concordance(None, 0, None)
    rng = np.random.default_rng(SEED)
    shuffled = [
        _couples(ler, rng.permuted(np.tile(rank, (PERMUTATIONS, 1)), axis=1)) for ler, rank in studies
    ]
    rights, ns = (np.sum(counts, axis=0) for counts in zip(*shuffled, strict=True))
    as_good = int(((ns > 0) & (rights * n >= right * ns)).sum())
    comparable = sum(int(count[0]) > 0 for _, count in found)
    return Concordance(right / n, n, (as_good + 1) / (PERMUTATIONS + 1), comparable)


def _couples(ler: FloatArray, ranks: FloatArray) -> tuple[IntArray, IntArray]:
    """Couples of one study ranked rightly, and all that are comparable, for many rankings (m, pairs)."""
    one, other = np.triu_indices(len(ler), k=1)
    agree = np.sign(ler[one] - ler[other]) * np.sign(ranks[:, one] - ranks[:, other])
    return (agree > 0).sum(axis=1), (agree != 0).sum(axis=1)
