"""Who keeps less of its yield. The recipe and its figures are those of `computation-notes` 2."""

from dataclasses import replace
from math import e, log

import pytest

from kb.mixture.trials.yieldloss import FITTED, advantage, fitted, suppressed
from tests.mixture.profiles import BULB, SMALL_TREE, TALL_GRASS, TAPROOT, about, chosen, invented

MIDDLING = invented("middling")


@pytest.mark.parametrize(
    ("changes", "ahead"),
    [
        # One step of each mark, in units of its spread over the 96 study-pairs: .997, .645, .396; that of
        # root depth over the 87 of tests/competency/outcomes.md.
        ({"height_m": about(0.5 * e)}, 1 / 0.997),
        ({"cover_days": about(55 * e)}, 1 / 0.396),
        ({"family": chosen("Fabaceae")}, -1 / 0.645),
        ({"root_d95_m": about(MIDDLING.root_d95_m.likely * e)}, 1 / 0.66),
        ({"root_d95_m": about(MIDDLING.root_d95_m.likely * e, "form")}, 0.0),
    ],
)
def test_each_mark_counts_in_units_of_its_spread(changes: dict[str, object], ahead: float) -> None:
    """Taller, slower, deeper, no legume: a plain sum, without fitting; a depth that stands in is no mark."""
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
        (replace(BULB, height_m=about(0.4, "form")), "height of bulb"),
        (replace(BULB, family=chosen(None)), "family of bulb"),
    ],
)
def test_what_the_trials_do_not_cover_is_not_said(other: object, why: str) -> None:
    """Woody plants and missing values give null with the reason, never a guess."""
    answer = suppressed(TAPROOT, other)  # type: ignore[arg-type]

    assert answer.plant is None
    assert why in answer.note


def test_without_cover_days_and_root_depth_height_and_legume_say_it() -> None:
    """The other two marks stand, and the note claims less and says what is missing."""
    depth = about(0.4, "form")
    bare = replace(BULB, id="bare", name="bare", cover_days=None, height_m=about(0.3), root_d95_m=depth)

    assert log(0.3 / 0.5) / 0.997 == pytest.approx(advantage(bare, MIDDLING))
    answer = suppressed(bare, MIDDLING)
    assert "bare" == answer.plant
    assert "about 2 in 3" in answer.note
    assert answer.note.endswith(
        " Days to full cover of bare and root depth of bare are not on record; height, and which is a "
        "legume, say it alone."
    )


@pytest.mark.parametrize(
    ("missing", "said"),
    [
        ({"cover_days": None}, "Days to full cover of short are not on record; height, root depth,"),
        (
            {"root_d95_m": about(0.4, "form")},
            "Root depth of short is not on record; height, days to full cover,",
        ),
    ],
)
def test_with_three_marks_it_is_right_as_often(missing: dict[str, object], said: str) -> None:
    """One mark that is not on record is named; the others were right in about 3 of 4 trials."""
    short = replace(TAPROOT, id="short", name="short", height_m=about(0.1), **missing)  # type: ignore[arg-type]
    note = suppressed(short, TALL_GRASS).note

    assert "about 3 in 4" in note
    assert note.endswith(f" {said} and which is a legume, say it alone.")


def test_the_height_of_the_managed_crop_counts() -> None:
    """A crop table's height beats a flora's: `computation-notes` 2 takes FAO-56 table 12."""
    vine = replace(MIDDLING, id="vine", height_m=about(5.0), grown_height_m=about(0.3))

    assert advantage(vine, MIDDLING) < 0
    assert "vine" == suppressed(vine, MIDDLING).plant


def test_a_shrub_grown_for_one_season_is_a_field_crop() -> None:
    """Cotton is woody by its stem and was in the trials as an annual: it is judged."""
    cotton = replace(MIDDLING, id="cotton", growth_form=chosen("subshrub"), height_m=about(1.4))

    assert "middling" == suppressed(cotton, MIDDLING).plant


def test_the_fitted_row_is_that_of_the_notes() -> None:
    """The row y = 0.05 d ln h - 0.31 d legume + 0.56 d ln(cover days), `computation-notes` 2."""
    other = replace(
        MIDDLING, id="other", height_m=about(0.5 * e), cover_days=about(55 * e), family=chosen("Fabaceae")
    )

    assert 0.05 - 0.31 + 0.56 == pytest.approx(fitted(other, MIDDLING))
    assert all(weight.low < weight.value < weight.high for weight in FITTED)


def test_the_sum_without_a_height_is_refused() -> None:
    """Asked directly, a missing value is an error with the plants named."""
    with pytest.raises(ValueError, match="bulb"):
        advantage(replace(BULB, height_m=about(0.4, "form")), TAPROOT)
