"""Tolerated ranges: ends of advice, practice and where a plant is found, put together (worked by hand)."""

from decimal import Decimal

import pytest

from kb.adopt import adopt
from kb.adoption.intervals import WHERE_IT_LIVES
from tests.kb.adopting import PLANT, a_record, a_trait, adopted


def test_a_plant_bears_a_little_beyond_what_is_advised_where_it_is_found() -> None:
    """Advised pH 4-6, found at 5-7.6: it bears 4-6.4; found at 5-6.1: 4-6.1; found alone: 0.4 more."""
    trait = a_trait("soil-reaction", "tolerated-range")
    advice = a_record(0, trait, low=Decimal(4), high=Decimal(6), conditions=())
    wide, near = (
        a_record(1, trait, low=Decimal(5), high=Decimal(high), conditions=(("as", WHERE_IT_LIVES),))
        for high in ("7.6", "6.1")
    )

    assert (4.0, 6.4) == (adopted(trait, advice, wide).low, adopted(trait, advice, wide).high)
    assert (4.0, 6.1) == (adopted(trait, advice, near).low, adopted(trait, advice, near).high)
    assert (4.6, 8.0) == (adopted(trait, wide).low, adopted(trait, wide).high)


def test_where_a_plant_does_best_is_not_all_it_bears() -> None:
    """Ideal at pH 6.5-7.5 (tomato, university guide): taken to bear half a unit more; a plain range stands.

    Guides print tomato as bearing pH 5.5-6 to 7-7.5 besides (common practice of vegetable handbooks).
    """
    trait = a_trait("soil-reaction", "tolerated-range")
    ends = {"low": Decimal("6.5"), "high": Decimal("7.5")}
    ideal = adopted(trait, a_record(0, trait, **ends, conditions=(("extent", "preferred"),)))
    plain = adopted(trait, a_record(1, trait, **ends, conditions=()))

    assert (6.0, 8.0) == (ideal.low, ideal.high)
    assert (6.5, 7.5) == (plain.low, plain.high)


def test_a_range_too_narrow_for_a_limit_is_advice() -> None:
    """Peach 5.9-6.8 (a state's package of practice) is advice: half a unit more is borne, either way.

    Of the ranges of soils in which plants are found (USDA plant characteristics) the narrowest 2 of 146 are
    less than one unit wide. One of a whole unit stands as it is printed.
    """
    trait = a_trait("soil-reaction", "tolerated-range")
    narrow, whole = (
        adopted(trait, a_record(0, trait, low=Decimal("5.9"), high=Decimal(high), conditions=()))
        for high in ("6.8", "6.9")
    )

    assert (5.4, 7.3) == pytest.approx((narrow.low, narrow.high))
    assert (5.9, 6.9) == (whole.low, whole.high)


def test_a_trial_that_says_one_end_of_the_light_is_that_end() -> None:
    """Ginger of Kerala yielded no less at 0.5 of open light (theses read): so much is known, and no low end.

    A pH of which one end alone is advised stays no range.
    """
    light, ph = a_trait("light-to-crop", "tolerated-range"), a_trait("soil-reaction", "tolerated-range")

    value = adopted(light, a_record(0, light, high=Decimal("0.5"), conditions=(), number_kind="ceiling"))

    assert (None, None, 0.5, "low") == (value.low, value.likely, value.high, value.confidence)
    assert all(weighed.weight > 0 for weighed in value.weighed)
    assert adopt(PLANT, ph, (a_record(0, ph, high=Decimal(7), conditions=()),), ()) is None


def test_a_trial_that_says_one_end_leaves_the_other_to_practice() -> None:
    """Tomato as good as in the open at 0.51 (Kittas et al. 2012, abstract); practice says 0.1 to 0.7.

    By hand: the low end is practice's; the high end (0.6 x 0.51 + 0.2 x 0.7) / 0.8 = 0.5575.
    """
    trait = a_trait("light-to-crop", "tolerated-range")
    trial = a_record(0, trait, high=Decimal("0.51"), conditions=())
    practice = a_record(
        1,
        trait,
        low=Decimal("0.1"),
        high=Decimal("0.7"),
        conditions=(),
        basis="recalled",
        number_kind="range",
    )
    both = a_record(2, trait, low=Decimal("0.3"), high=Decimal("0.8"), conditions=())

    value = adopted(trait, trial, practice)

    assert (0.1, 0.5575) == (value.low, pytest.approx(value.high))
    assert "low" == value.confidence
    assert (0.3, 0.8) == (adopted(trait, both, practice).low, adopted(trait, both, practice).high)


def test_a_ceiling_of_the_light_draws_no_mean_up_to_itself() -> None:
    """Currants: full crop from 0.35 (one trial), another says 0.65 at most: it is 0.35, not between them.

    A ceiling is a censored value (`data` section 2: "never a depth"; here never a light): it counts where
    what names a value lies above it, and where open light is told of a crop that lost in the lightest shade.
    """
    trait = a_trait("light-to-crop", "tolerated-range")
    trial = a_record(0, trait, high=Decimal("0.35"), conditions=())
    above, below, in_the_open = (
        a_record(1, trait, high=Decimal(top), number_kind="ceiling", conditions=(), source="other")
        for top in ("0.65", "0.25", "1")
    )

    values = [adopted(trait, trial, ceiling) for ceiling in (above, below, in_the_open)]

    assert [0.35, 0.3, 0.675] == pytest.approx([value.high for value in values])
    assert [0, 0.6, 0.6] == [value.weighed[-1].weight for value in values]


def test_words_for_moist_ground_are_borne_a_step_beyond() -> None:
    """Dry (2-4) and moist (5-7) ground: both bear ordinary ground, 5 of 12; numbers stay as they are."""
    trait = a_trait("moisture", "tolerated-range")

    def ends(low: int, high: int, kind: str) -> tuple[float | None, float | None]:
        value = adopted(
            trait, a_record(0, trait, low=Decimal(low), high=Decimal(high), number_kind=kind, conditions=())
        )
        return value.low, value.high

    assert (1.0, 5.0) == ends(2, 4, "class")
    assert (4.0, 8.0) == ends(5, 7, "class")
    assert (5.0, 7.0) == ends(5, 7, "range")


@pytest.mark.parametrize(
    ("trial", "expected"),
    [({"high": Decimal("0.2")}, (0.325, 0.325)), ({"low": Decimal("0.9")}, (0.8, 0.8))],
)
def test_one_end_beyond_what_practice_says_never_turns_a_range_round(
    trial: dict[str, Decimal], expected: tuple[float, float]
) -> None:
    """The trial's end counts (0.6 to 0.2) with that of practice, 0.5 to 0.7, and the other gives way.

    By hand: (0.6 x 0.2 + 0.2 x 0.7) / 0.8 = 0.325 is below 0.5; (0.6 x 0.9 + 0.2 x 0.5) / 0.8 = 0.8.
    """
    trait = a_trait("light-to-crop", "tolerated-range")
    told = {"conditions": (), "basis": "recalled", "number_kind": "range"}
    practice = a_record(1, trait, low=Decimal("0.5"), high=Decimal("0.7"), **told)

    value = adopted(trait, a_record(0, trait, conditions=(), **trial), practice)

    assert pytest.approx(expected) == (value.low, value.high)


def test_where_a_plant_is_found_does_not_stand_for_the_end_that_no_advice_gives() -> None:
    """Cited: no higher than pH 7; found at 5 to 8. Practice gives the lower end, else where it is found."""
    trait = a_trait("soil-ph", "tolerated-range")
    advice = a_record(0, trait, high=Decimal(7), conditions=())
    found = a_record(1, trait, low=Decimal(5), high=Decimal(8), conditions=(("as", WHERE_IT_LIVES),))
    told = {"conditions": (), "basis": "recalled", "number_kind": "range"}
    practice = a_record(2, trait, low=Decimal(6), high=Decimal(7), **told)

    value = adopted(trait, advice, found, practice)

    assert (5.6, 7.4) == (pytest.approx(value.low), pytest.approx(value.high))
    assert (5.0, 7.5) == (adopted(trait, advice, found).low, adopted(trait, advice, found).high)


def test_where_a_crop_does_best_is_not_the_least_warmth_it_needs() -> None:
    """Melon: months of 60 to 90 F (Knott's handbook), best from 18 to 30 °C (FAO ECOCROP).

    Where it does best stands alone.
    """
    trait = a_trait("warmth-to-crop", "tolerated-range")
    knott = a_record(0, trait, low=Decimal("15.6"), high=Decimal("32.2"), conditions=())
    best = a_record(1, trait, low=Decimal(18), high=Decimal(30), conditions=(("extent", "preferred"),))

    assert (15.6, 31.1) == (adopted(trait, knott, best).low, adopted(trait, knott, best).high)
    assert (18.0, 30.0) == (adopted(trait, best).low, adopted(trait, best).high)
