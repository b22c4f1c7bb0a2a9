"""What a pair's answer says of shade and of shares that were not given."""

from kb.mixture.pair import judge_pair
from kb.mixture.site import REFERENCE_SITE, Arrangement
from tests.mixture.profiles import SMALL_TREE, TAPROOT, about, invented

RIVAL = invented("rival", root_d50_m=about(0.25), root_d95_m=about(0.9), height_m=about(0.4))
SUN = invented("sun", light_to_crop_zero=about(0.3), light_to_crop_full=about(0.95))


def test_without_shares_it_is_told_where_a_fuller_stand_changes_the_word():
    """Intercrops are often set near their full stands, where each feels the other more (common practice)."""

    def told(arrangement: Arrangement) -> list[str]:
        answer = judge_pair(TAPROOT, RIVAL, REFERENCE_SITE, arrangement, draws=0)
        return [note for note in answer.notes if note.startswith("With half the ground each")]

    close = told(Arrangement())
    share = next(float(word) for word in close[0].split() if word in {"0.7", "0.85"}) if close else 1.0
    fuller = judge_pair(
        TAPROOT, RIVAL, REFERENCE_SITE, Arrangement(share_a=share, share_b=share), draws=0
    ).verdict

    assert 1 == len(close)
    assert f"{fuller} if each is set at" in close[0]
    assert told(Arrangement(share_a=0.5, share_b=0.5, halves=True)) == close
    assert not told(Arrangement(share_a=0.5, share_b=0.5))


def test_shade_that_costs_something_is_always_among_the_reasons():
    """A loss in the table has its sentence: the reasons hold what tells most (common practice)."""
    answer = judge_pair(SMALL_TREE, SUN, REFERENCE_SITE, Arrangement("under", distance_m=0.8), draws=0)

    assert answer.loss[SUN.id].light >= 0.05
    assert any(reason.kind == "light" and SUN.name in reason.text for reason in answer.reasons)
