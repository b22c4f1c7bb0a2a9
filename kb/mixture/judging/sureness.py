"""How sure an answer is, by how many draws of doubt give the same word.

``sure`` from 85 %, ``fairly sure`` from 65 %, else ``unsure``; never surer than what is on record allows.
A rule (reaction, spread, digging, enemies) moves in no draw: the answer says so, and where little is on
record of what the rule rests on it is fairly sure at most. A rule that rests on a doubtful value near its
threshold is no surer than that value. Where the size of a tree known by age alone decides, it is fairly sure
at most, and that share of the draws is taken off.
"""

from collections.abc import Sequence
from itertools import product
from typing import Literal

import numpy as np

from kb.mixture.bodies.size_doubt import SizeDoubt
from kb.mixture.judging.judged import Judged
from kb.mixture.limits import HOLDS_BACK, Limit
from kb.mixture.results import ORDER, Score, Sureness, Verdict
from kb.mixture.season import FloatArray
from kb.mixture.sharing.subject import Subject
from kb.mixture.stress import score_of, verdict_of, verdict_steps
from kb.mixture.uncertainty import CHECKABLE, percentile

SURE, FAIRLY_SURE = 0.85, 0.65
NO_DOUBT = 0.975
"""A rule that applies in so many draws or more is moved by no doubtful value (shares are told to 5 %)."""
SureWord = Literal["sure", "fairly sure", "unsure"]
LEAST_SURE: dict[SureWord, int] = {"sure": 0, "fairly sure": 1, "unsure": 2}
WORTH_A_WORD = 0.05
"""Share of draws from which another word is named (judgement: the step to which numbers are told)."""
LOW, HIGH = 10, 90
"""Percentiles of the draws that make the interval (`trade` 4.14)."""
LIKE_SCORE = 50.0
"""Like with like gains and loses nothing: it sorts in the middle."""


def score_interval(judged: Judged, *, like: bool) -> Score:
    """The score with its interval."""
    if like:
        return Score(LIKE_SCORE, LIKE_SCORE, LIKE_SCORE)
    likely = float(score_of(np.array(judged.stress)))
    if not judged.drawn.size:
        return Score(likely, likely, likely)
    drawn = score_of(judged.drawn)
    return Score(likely, min(likely, percentile(drawn, LOW)), max(likely, percentile(drawn, HIGH)))


def sureness_of(
    subjects: Sequence[Subject],
    judged: Judged,
    verdict: Verdict,
    at_best: SureWord,
    size: SizeDoubt | None = None,
) -> Sureness:
    """How often the draws give the same word, at most as sure as ``at_best``."""
    if verdict == "like":
        return Sureness("sure", 1.0, None, None)
    if not judged.drawn.size:
        return Sureness("unsure", 0.0, None, None)
    steps = verdict_steps(judged.drawn)
    shares = np.bincount(steps, minlength=len(ORDER)) / len(steps)
    share = float(shares[HOLDS_BACK[verdict]])
    trait, of = _deciding(subjects, judged)
    rules = _rules(judged, verdict)
    surest = max(rules, key=lambda limit: limit.chance, default=None)
    doubted = surest is not None and surest.chance < NO_DOUBT
    if surest is not None and doubted:
        share *= surest.chance
        trait, of = surest.rests_on or (trait, of)
    share *= 1.0 - (0.0 if size is None else size.share)
    by_draws: SureWord = "sure" if share >= SURE else "fairly sure" if share >= FAIRLY_SURE else "unsure"
    thin = bool(rules) and all(limit.thin for limit in rules)
    by_record: SureWord = "fairly sure" if thin or size is not None else "sure"
    word = max(by_draws, at_best, by_record, key=LEAST_SURE.__getitem__)
    by_rule = bool(rules) and not doubted and size is None
    others = _others(shares, verdict)
    commonest = float(shares[HOLDS_BACK[others[0]]]) if others else 0.0
    if size is not None:
        others = tuple(dict.fromkeys((*others, *size.words)))
    return Sureness(word, share, trait, of, by_rule=by_rule, thin=thin, others=others, commonest=commonest)


def _others(shares: FloatArray, verdict: Verdict) -> tuple[Verdict, ...]:
    """The words of the other draws, the commonest first; those of fewer than `WORTH_A_WORD` left out.

    ``shares`` of all draws by step of `ORDER`.
    """
    share = {word: float(shares[HOLDS_BACK[word]]) for word in ORDER if word != verdict}
    named = [word for word, part in share.items() if part >= WORTH_A_WORD]
    return tuple(sorted(named, key=lambda word: -share[word]))


def _rules(judged: Judged, verdict: Verdict) -> tuple[Limit, ...]:
    """The limits that hold the verdict where it is; none where the losses alone bring it there."""
    step = HOLDS_BACK[verdict]
    if HOLDS_BACK[verdict_of(judged.eased)] <= step:
        return ()
    return tuple(limit for limit in judged.limits if HOLDS_BACK[limit.allows(lifted=limit.lifted)] <= step)


def _deciding(subjects: Sequence[Subject], judged: Judged) -> tuple[str | None, str | None]:
    """The trait, and the plant, whose move by one standard deviation moves the score most."""
    moved, still = judged.single.tolist(), judged.coarse
    pairs = zip(moved[::2], moved[1::2], strict=True)
    by = [round(max(up - still, still - up, down - still, still - down), 9) for up, down in pairs]
    most = max(by)
    if most <= 0:
        return None, None
    choices = product(judged.moved, CHECKABLE)
    equals = [
        (subjects[at].profile.id, trait)
        for move, (at, trait) in zip(by, choices, strict=True)
        if move == most
    ]
    of, trait = min(equals)
    return trait, of
