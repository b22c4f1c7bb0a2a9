"""The ground a plant is taken to bear: where it was found, what a garden gives, what was said of the crop."""

from dataclasses import replace

import pytest

from kb.model import Record, SourceKey
from tests.kb.test_table import a_record, profile_of

DRY_PLACES = a_record("moisture-indicator-1-12", "2.0")
NARROW = replace(
    a_record("soil-reaction", ("5.0", "5.5")), conditions=(("as", "soils of its geographical range"),)
)


def test_a_crop_of_a_season_is_not_bound_to_where_it_grows_wild() -> None:
    """Crimson clover (moisture 2 of 12) is sown on ordinary garden ground (common practice)."""
    sown = profile_of(DRY_PLACES, a_record("life-cycle", None, "annual"))
    lasting = profile_of(DRY_PLACES, a_record("life-cycle", None, "perennial"))

    assert (1.0, 6.0, False) == (sown.moisture.low, sown.moisture.high, sown.moisture.known)
    assert sown.moisture.records == lasting.moisture.records != ()
    assert (4.0, True) == (lasting.moisture.high, lasting.moisture.known)


@pytest.mark.parametrize("life", ["annual", "perennial"])
def test_the_usual_garden_range_moves_no_end_that_a_record_closes(life: str) -> None:
    """Blue lupin fails on lime (handbooks of grain legumes): garden ground to pH 7.5 is no record of it.

    Where it is found is moved out once, by the doubt of one published range (`trade` 3.2: 0.4).
    """
    span = profile_of(NARROW, a_record("life-cycle", None, life)).soil_ph

    assert (pytest.approx(4.6), pytest.approx(5.9)) == (span.low, span.high)
    assert (True, True) == (span.known, span.found)


CLASS = replace(a_record("soil-reaction", ("4.5", "7.5")), number_kind="class")
GARDEN = a_record("soil-reaction", ("6.0", "8.5"), basis="recalled")


def test_the_class_of_a_flora_is_a_find_and_does_not_silence_the_garden_range() -> None:
    """Thyme grows on limestone (handbooks of herbs); a flora's "weakly acid to neutral" is where it is found.

    The garden range is drawn out towards the find by 0.4 (`trade` 3.2); alone, the class is a find.
    """
    both, alone = profile_of(CLASS, GARDEN).soil_ph, profile_of(CLASS).soil_ph

    assert (pytest.approx(5.6), pytest.approx(8.5), False) == (both.low, both.high, both.found)
    assert (pytest.approx(4.1), pytest.approx(7.9), True) == (alone.low, alone.high, alone.found)


def test_what_is_said_of_the_crop_itself_binds_it() -> None:
    """A range of practice for moisture stands as it is, whatever the life cycle."""
    stated = profile_of(a_record("moisture", ("2.0", "4.0")), a_record("life-cycle", None, "annual"))

    assert (4.0, True) == (stated.moisture.high, stated.moisture.known)


@pytest.mark.parametrize(
    ("reaction", "ends"),
    [("6", (5.5, 7.5)), ("7", (5.5, 7.8)), ("8", (5.5, 8.4)), ("9", (5.5, 9.0)), ("4", (5.1, 7.5))],
)
def test_the_usual_ph_does_not_close_before_the_ground_on_which_the_plant_is_found(
    reaction: str, ends: tuple[float, float]
) -> None:
    """Salad burnet (class 8) grows on chalk (floras); slightly alkaline soils end at 7.8, moderately at 8.4.

    Classes of reaction of the United States soil survey (NRCS 1998); strongly acid soils begin at pH 5.1.
    """
    span = profile_of(a_record("reaction-indicator-1-9", reaction)).soil_ph

    assert (*ends, False) == (span.low, span.high, span.known)


BEST = replace(a_record("soil-reaction", ("5.5", "6.5")), conditions=(("extent", "preferred"),))
BEST_OF_GENUS = replace(BEST, conditions=(("extent", "preferred"), ("scope", "group")))


def test_advice_for_a_genus_gives_way_to_where_the_plant_itself_is_found() -> None:
    """Cowslip (class 7) is a plant of limy meadows (floras); a table for gardens says "Primrose 5.5-6.5".

    Advice for the plant itself is drawn out by 0.4 alone (`FOUND_BEYOND`), and none without a class.
    """
    limy, sour = (a_record("reaction-indicator-1-9", number) for number in ("7", "3"))

    assert (5.0, 7.8) == ends_of(BEST_OF_GENUS, limy)
    assert (5.0, pytest.approx(7.4)) == ends_of(BEST, limy)
    assert (3.0, 7.0) == ends_of(BEST_OF_GENUS, sour)
    assert (5.0, 7.0) == ends_of(BEST_OF_GENUS) == ends_of(BEST)


def test_a_find_of_one_authority_counts_a_little_way() -> None:
    """Knapweed is a plant of acid ground in Germany (class 3), of all but acid in Britain (6): it bears both.

    Neutral soils end at pH 7.3 (NRCS 1998); what one authority alone says moves an end by 0.4 at most.
    """
    german, british = (
        replace(
            a_record("reaction-indicator-1-9", number),
            id=f"inventa-prima.r.{number}",
            source=SourceKey(number),
        )
        for number in ("3", "6")
    )

    assert (pytest.approx(4.6), pytest.approx(7.3)) == ends_of(BEST_OF_GENUS, german, british)


def ends_of(*records: Record) -> tuple[float, float]:
    span = profile_of(*records).soil_ph
    return span.low, span.high
