"""Who keeps less of its yield. The recipe and its figures are those of `computation-notes` 2."""

from dataclasses import replace
from math import e, log

import pytest

from kb.mixture.yieldloss import advantage, suppressed
from tests.mixture.profiles import BULB, SMALL_TREE, TALL_GRASS, TAPROOT, about, chosen, invented

MIDDLING = invented("middling")


@pytest.mark.parametrize(
    ("changes", "ahead"),
    [
        # One step of each mark, in units of its spread over the 96 study-pairs: .997, .645, .396.
        ({"height_m": about(0.5 * e)}, 1 / 0.997),
        ({"cover_days": about(55 * e)}, 1 / 0.396),
        ({"family": chosen("Fabaceae")}, -1 / 0.645),
    ],
)
def test_each_mark_counts_in_units_of_its_spread(changes: dict[str, object], ahead: float) -> None:
    """Taller, slower and no legume: the plain sum of the notes, without fitting."""
    other = replace(MIDDLING, id="other", **changes)

    assert ahead == pytest.approx(advantage(other, MIDDLING))
    assert -ahead == pytest.approx(advantage(MIDDLING, other))


def test_the_quick_low_legume_is_suppressed_by_the_tall_slow_grass() -> None:
    """The loser is named, with how often such a call was right."""
    legume = invented("legume", family=chosen("Fabaceae"), height_m=about(0.5), cover_days=about(45))
    answer = suppressed(TALL_GRASS, legume)

    assert answer.plant == "legume"
    assert "about 3 in 4" in answer.note
    assert answer == suppressed(legume, TALL_GRASS)


def test_a_difference_inside_the_noise_names_nobody() -> None:
    """Two alike: null, and why."""
    twin = replace(MIDDLING, id="twin", name="twin")

    assert suppressed(MIDDLING, twin).plant is None
    assert "too alike" in suppressed(MIDDLING, twin).note
    assert log(1.0) == advantage(MIDDLING, twin)


@pytest.mark.parametrize(
    ("other", "why"),
    [
        (SMALL_TREE, "no woody plants like smalltree"),
        (replace(BULB, cover_days=None), "days to full cover of bulb"),
        (replace(BULB, height_m=about(0.4, "form")), "height of bulb"),
        (replace(BULB, family=chosen(None)), "family of bulb"),
    ],
)
def test_what_the_trials_do_not_cover_is_not_said(other: object, why: str) -> None:
    """Woody plants and missing values give null with the reason, never a guess."""
    answer = suppressed(TAPROOT, other)  # type: ignore[arg-type]

    assert answer.plant is None
    assert why in answer.note


def test_the_sum_without_cover_days_is_refused() -> None:
    """Asked directly, a missing value is an error with the plants named."""
    with pytest.raises(ValueError, match="bulb"):
        advantage(replace(BULB, cover_days=None), TAPROOT)
