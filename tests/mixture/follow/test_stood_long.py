"""How long a lasting first plant has stood, in what it leaves on the ground (`interface.md`: age_a_years)."""

import pytest

from kb.mixture.answers.succession import judge_follow
from kb.mixture.follow.grown_after import FollowOn, nitrogen_left
from kb.mixture.results import PairAnswer
from kb.mixture.site import REFERENCE_SITE
from tests.mixture.base import base, shipped

LEY, POTATO = "lolium-perenne", "solanum-tuberosum"


def after(first: str, then: str, years: float | None, **asked: object) -> PairAnswer:
    """The second on the ground of the first, which stood for so many years."""
    said = FollowOn(age_a_years=years, clear_week_a=48, use_a="dug-in", **asked)  # type: ignore[arg-type]
    return judge_follow(shipped(first), shipped(then), REFERENCE_SITE, said, book=base().enemy_book, draws=0)


@pytest.mark.parametrize("years", [None, 4.0, 15.0])
def test_potatoes_after_a_ley_meet_wireworms(years: float | None) -> None:
    """AHDB Potatoes 2011: particularly at risk after grass; Teagasc: most in grass that has stood longest."""
    answer = after(LEY, POTATO, years)

    assert answer.verdict == "poor"
    assert "wireworms" in answer.saying
    assert {"clean-ground"} <= {c.given for c in answer.conditions if c.verdict_if_met == "good"}


def test_grass_of_one_year_has_built_up_little() -> None:
    """Wireworms live three to four years (Teagasc, Potatoes: Pests); the step is judgement."""
    answer = after(LEY, POTATO, 1.0)

    assert answer.verdict == "workable"
    assert "did not stand long enough" in answer.saying


def test_potatoes_wait_for_years_after_a_ley() -> None:
    """OK-Net Arable: until the third or fourth year; whole years of rotation end what makes it poor."""
    soon, later = after(LEY, POTATO, 4.0), after(LEY, POTATO, 4.0, gap_years=3.0)

    assert "third or fourth year" in soon.saying
    assert (soon.verdict, later.verdict) == ("poor", "workable")


def test_a_pea_is_no_crop_for_wireworms() -> None:
    """OK-Net Arable: few wireworms were seen in rotations with peas."""
    assert after(LEY, "pisum-sativum", 4.0).verdict == "good"


def test_a_young_fixer_leaves_less_nitrogen_than_one_that_is_grown() -> None:
    """It holds as much less as it is not grown up (`growth`); an annual has no such years."""
    lucerne, vetch = shipped("medicago-sativa"), shipped("vicia-villosa")
    left = [nitrogen_left(lucerne, "dug-in", years)[1] for years in (0.3, 1.0, None)]

    assert left == sorted(left)
    assert left[0] < 0.8 * left[2]
    assert nitrogen_left(vetch, "dug-in", 0.3) == nitrogen_left(vetch, "dug-in")


def test_the_stand_is_said_and_its_turf() -> None:
    """That turf feeds what follows is common practice; it is said, not reckoned."""
    notes = " ".join(after(LEY, POTATO, 4.0).notes)

    assert "stood for 4 years" in notes
    assert "Turf that is dug in leaves nitrogen" in notes
    assert "stood" not in " ".join(after(LEY, POTATO, None).notes).replace("longer it stood", "")
