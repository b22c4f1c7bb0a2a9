"""Words and numbers say the same, in few plain sentences; plants invented."""

import re
from typing import Any

import pytest
from hypothesis import given, settings

from kb.mixture.answers.explain import MAY_BE
from kb.mixture.answers.pair import judge_pair
from kb.mixture.answers.sureness_words import HALF
from kb.mixture.profile import Profile
from kb.mixture.results import PairAnswer
from kb.mixture.sharing.light_words import percent
from kb.mixture.site import REFERENCE_SITE, Arrangement, Site
from tests.mixture.profiles import (
    BULB,
    CLIMBER,
    COVER,
    SMALL_TREE,
    SMALL_TREE_HERE,
    SPRING_BULB,
    TALL_GRASS,
    TAPROOT,
    profiles,
    sites,
)


def bed(a: Profile, b: Profile, site: Site = REFERENCE_SITE, **changes: Any) -> PairAnswer:
    return judge_pair(a, b, site, Arrangement(share_a=0.5, share_b=0.5, **changes))


@given(a=profiles("aplant"), b=profiles("bplant"), site=sites())
@settings(max_examples=60, deadline=None)
def test_words_and_numbers_never_disagree(a: Profile, b: Profile, site: Site) -> None:
    """The saying opens with the verdict, which is that of the score, and prints the share of draws given.

    It may be no other word, and says "may be" only of what fewer than half of the draws gave.
    """
    answer = bed(a, b, site)
    low, high = {"good": (80, 100), "workable": (60, 80), "poor": (40, 60), "avoid": (0, 40)}[answer.verdict]

    doubtful = MAY_BE.get(answer.verdict, f"may be {answer.verdict}")
    assert answer.saying.lower().startswith((answer.verdict, doubtful))
    assert not answer.saying.lower().startswith(doubtful) or answer.sureness.share_of_draws < HALF
    assert low - 1e-6 <= answer.score.likely <= high + 1e-6
    assert answer.sureness.word in answer.saying.lower()
    printed = re.search(r"(\d+) % of trials", answer.saying)
    if printed:
        assert abs(int(printed[1]) - 100 * answer.sureness.share_of_draws) <= 2.5 + 1e-9


@given(a=profiles("aplant"), b=profiles("bplant"), site=sites())
@settings(max_examples=60, deadline=None)
def test_few_sentences_and_few_reasons(a: Profile, b: Profile, site: Site) -> None:
    """At most five sentences and three reasons; every sentence ends, none is empty or said twice."""
    answer = bed(a, b, site)
    sentences = re.split(r"(?<=\.) (?=[A-Z])", answer.saying)

    assert len(sentences) <= 5
    assert len(set(sentences)) == len(sentences)
    assert all(sentence.endswith(".") and len(sentence) > 4 for sentence in sentences)
    assert len(answer.reasons) <= 3
    assert "loves" not in answer.saying
    assert "hates" not in answer.saying


@given(a=profiles("aplant"), b=profiles("bplant"), site=sites())
@settings(max_examples=40, deadline=None)
def test_conditions_say_what_changes(a: Profile, b: Profile, site: Site) -> None:
    """Meeting a condition never makes it worse; and the verdict shown is one of its two."""
    answer = bed(a, b, site)
    words = ["avoid", "poor", "workable", "good"]
    for condition in answer.conditions:
        assert words.index(condition.verdict_if_met) >= words.index(condition.verdict_if_unmet)
        assert answer.verdict in {condition.verdict_if_met, condition.verdict_if_unmet}


@pytest.mark.parametrize(
    ("share", "said"),
    [
        (0.0, "hardly any"),
        (0.024, "hardly any"),
        (0.03, "about 5 %"),
        (0.474, "about 45 %"),
        (1.0, "nearly all"),
    ],
)
def test_numbers_in_words_are_rounded_to_five(share: float, said: str) -> None:
    """47.4 % is said as about 45: figures finer than the evidence are false."""
    assert said == percent(share)


@pytest.mark.parametrize(
    "pair", [(TAPROOT, BULB), (TALL_GRASS, TAPROOT), (TALL_GRASS, CLIMBER), (COVER, BULB)]
)
def test_reasons_rest_on_records(pair: tuple[Profile, Profile]) -> None:
    """Where the values are on record, every reason names their records."""
    answer = bed(*pair, given=frozenset({"frame"}))

    for reason in (*answer.reasons, *answer.benefits):
        assert reason.records, reason.text
        assert all(record.startswith("record:") for record in reason.records)


def test_who_is_limited_is_who_loses_most() -> None:
    """The limiting reason is about the plant with the larger loss, and names its larger cause."""
    answer = judge_pair(
        SMALL_TREE, COVER, REFERENCE_SITE, Arrangement("under", tree=SMALL_TREE_HERE, distance_m=1.2)
    )

    assert answer.limiting is not None
    worse = max(answer.loss, key=lambda plant: answer.loss[plant].all)
    loss = answer.loss[worse]
    assert worse == answer.limiting.of
    assert answer.limiting.kind == ("roots" if loss.roots >= loss.light else "light")
    assert percent(loss.roots) in answer.limiting.text


def test_good_neighbours_in_time_are_told_apart_in_time() -> None:
    """Where seasons hardly meet, that is the reason given, and it adds nothing to the score."""
    answer = judge_pair(
        SMALL_TREE, SPRING_BULB, REFERENCE_SITE, Arrangement("under", tree=SMALL_TREE_HERE, distance_m=2.0)
    )

    assert any(reason.kind == "season" and "different times" in reason.text for reason in answer.reasons)
    assert not any(benefit.kind == "season" for benefit in answer.benefits)


def test_what_is_not_known_is_named() -> None:
    """Values that stand in for missing records are listed for each plant, in plain words."""
    vague = judge_pair(TAPROOT, COVER, REFERENCE_SITE, Arrangement(share_a=0.5, share_b=0.5))

    assert any(note.startswith("Not computed in this version") for note in vague.notes)
    guessed = bed(TAPROOT, BULB)
    assert not any(note.startswith("Not on record") for note in guessed.notes)
