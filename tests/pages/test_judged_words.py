"""Words beside a verdict's numbers and conditions: they must not contradict the verdict (common practice)."""

from typing import Any

import pytest

from api.pages.judged_words import beside_numbers, changing, idle, idle_words, shut_out, worth_naming

LIMITING = {"kind": "enemies", "of": "x", "text": "This ground has an invented rot.", "records": []}


def answered(verdict: str, lost: float, **changes: Any) -> dict[str, Any]:
    return {"verdict": verdict, "limiting": LIMITING, "loss": {"x": {"all": lost}}} | changes


@pytest.mark.parametrize(
    ("verdict", "lost", "said"),
    [("avoid", 0.04, True), ("poor", 0.25, True), ("avoid", 0.7, False), ("good", 0.1, False)],
)
def test_a_limit_that_rules_is_said_beside_small_losses(verdict: str, lost: float, said: bool) -> None:
    """By the bands fixed beforehand (`computation-notes` 3), 4 % is good: "avoid" comes of something else."""
    words = beside_numbers(answered(verdict, lost))

    assert said == bool(words)
    assert said == words.endswith("not in these numbers: it is said above.")


def test_a_planting_is_read_by_its_worst_member_and_like_with_like_by_none() -> None:
    """The verdict on a planting is that of the worst placed; like with like stands outside the order."""
    members = [{"loss": {"all": 0.1}}, {"loss": {"all": 0.9}}]

    assert "" == beside_numbers({"verdict": "avoid", "limiting": LIMITING, "members": members})
    assert "" != beside_numbers({"verdict": "avoid", "limiting": LIMITING, "members": members[:1]})
    assert "" == beside_numbers(answered("like", 0.1))
    assert "" == beside_numbers(answered("poor", 0.1, limiting=None))


def test_what_changes_nothing_by_itself_is_said_in_one_go() -> None:
    """Three times "avoid; otherwise avoid" tells nobody anything."""
    dry = {"text": "it stands dry", "met": None, "verdict_if_met": "avoid", "verdict_if_unmet": "avoid"}
    clean = dry | {"text": "the soil is clean.", "met": True}
    pot = dry | {"text": "it is in a pot", "verdict_if_met": "good"}

    assert [pot] == changing([dry, pot, clean])
    words = idle_words(idle([dry, pot, clean, dry]))
    assert ["it stands dry", "the soil is clean (as asked, it is so)"] == words


def test_those_whom_a_conflict_forbids_are_named() -> None:
    """Over-run by a neighbour is no want of water or light; "nobody is squeezed out" alone would hide it."""
    held = [
        {"of": "low", "holds_to": "avoid", "lifted": False},
        {"of": "low", "holds_to": "avoid", "lifted": False},
        {"of": "fenced", "holds_to": "avoid", "lifted": True},
        {"of": "worked", "holds_to": "workable", "lifted": False},
    ]

    assert ["low"] == shut_out({"conflicts": held})


def test_a_gift_of_nitrogen_is_shown_from_a_kilogram_a_hectare() -> None:
    """0.1 g/m2 is 1 kg/ha; less is below what any field trial tells apart."""
    assert [False, True] == [worth_naming({"g_per_m2": [0.0, high]}) for high in (0.09, 0.1)]
