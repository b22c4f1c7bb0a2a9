"""From disagreeing records to one value: the worked examples of the data notes, and the invariants."""

from dataclasses import replace
from datetime import date
from decimal import Decimal

import pytest
from hypothesis import given
from hypothesis import strategies as st

from kb.adopt import adopt
from kb.adoption.votes import COLDEST_PLACE
from kb.adoption.windows import circular_mean, weeks_apart
from kb.model import Decision, Record, SourceKey
from tests.kb.adopting import DEEPEST, EFFECTIVE, PLANT, a_record, a_trait, adopted, depth, floor


def test_white_clover_pots_never_become_a_depth() -> None:
    """36 pot records of one study are one "at least 0.60 m" (GRooT, Freschet et al.; data notes 2)."""
    value = adopted(DEEPEST, *(floor(n, "0.600", "pot study") for n in range(36)))

    assert (0.6, None, None) == (value.low, value.likely, value.high)
    assert "low" == value.confidence
    assert sum(w.weight for w in value.weighed) == pytest.approx(0.6, abs=0.02)


def test_apple_one_study_has_one_vote() -> None:
    """Sweet 1933 left 1.524, 1.8288 and 3.048 m, Sprackling & Read 1979 left 3.3528 m: two votes."""
    value = adopted(
        DEEPEST,
        depth(1, "1.524", "Sweet 1933"),
        depth(2, "1.8288", "Sweet 1933"),
        depth(3, "3.048", "Sweet 1933"),
        depth(4, "3.3528", "Sprackling & Read 1979"),
    )
    sweet = (1.524 * 1.8288 * 3.048) ** (1 / 3)

    assert (sweet * 3.3528) ** 0.5 == pytest.approx(value.likely)
    assert "medium" == value.confidence
    assert pytest.approx(1 / 3, abs=0.001) == value.weighed[0].weight


def test_the_deepest_root_printed_as_a_maximum_is_a_depth() -> None:
    """Roots "to 3.5 m" name the deepest root (FAO crop information, safflower); a bound of the effective."""
    most = a_record(1, DEEPEST, high=Decimal("3.5"), number_kind="maximum", conditions=())
    bound = a_record(1, EFFECTIVE, high=Decimal("3.5"), number_kind="maximum", conditions=())

    assert 3.5 == pytest.approx(adopted(DEEPEST, most).likely)
    assert adopt(PLANT, EFFECTIVE, [bound], []) is None


def test_walnut_observation_and_handbook_range_stay_two_traits() -> None:
    """Observed 4.7 m (hybrid walnuts, Germon et al. 2016); irrigation range 1.7-2.4 m (FAO-56 table 22)."""
    deepest = adopted(DEEPEST, depth(1, "4.7", "Germon et al 2016"))
    effective = adopted(
        EFFECTIVE,
        a_record(2, EFFECTIVE, low=Decimal("1.7"), high=Decimal("2.4"), number_kind="range", conditions=()),
    )

    assert 4.7 == pytest.approx(deepest.likely)
    assert (1.7 * 2.4) ** 0.5 == pytest.approx(effective.likely)
    assert "low" == deepest.confidence == effective.confidence


def test_cabbage_floor_deeper_than_the_depths_pulls_the_estimate_up() -> None:
    """Zr 0.5-0.8 m (FAO-56) and "> 1.0 m" by minirhizotron (Thorup-Kristensen 2001): between, wide."""
    zr = a_record(
        1,
        EFFECTIVE,
        low=Decimal("0.5"),
        high=Decimal("0.8"),
        number_kind="range",
        conditions=(("study", "FAO"),),
    )
    alone = adopted(EFFECTIVE, zr)
    both = adopted(
        EFFECTIVE,
        zr,
        a_record(2, EFFECTIVE, low=Decimal("1.0"), number_kind="floor", conditions=(("study", "TK 2001"),)),
    )

    assert alone.likely is not None
    assert both.likely is not None
    assert alone.high is not None
    assert both.high is not None
    assert alone.likely < both.likely
    assert both.high > 1.0


def test_a_cited_record_outranks_memory() -> None:
    """Common practice and memory count only where nothing is cited, and are shown with weight 0."""
    value = adopted(
        EFFECTIVE,
        a_record(1, EFFECTIVE, likely=Decimal("0.5"), conditions=()),
        a_record(2, EFFECTIVE, likely=Decimal("3.0"), basis="recalled", conditions=()),
    )

    assert 0.5 == pytest.approx(value.likely)
    assert [0.0] == [w.weight for w in value.weighed if w.record.endswith(".2")]


def test_a_decision_outranks_the_median() -> None:
    """A curator's decision sets the adopted value, however many records disagree."""
    records = [depth(n, "1.0", f"study {n}") for n in range(5)] + [depth(9, "3.0", "study 9")]
    decision = Decision(
        id="inventa-prima.rooting-depth.1",
        plant=PLANT.id,
        trait=DEEPEST.id,
        decided_by="a curator (invented)",
        decided_on=date(2026, 11, 25),
        why="The others stopped at a pan.",
        weighed=((records[-1].id, "preferred"),),
    )

    value = adopted(DEEPEST, *records, decisions=(decision,))

    assert 3.0 == pytest.approx(value.likely)
    assert "decision" == value.rule
    assert len(records) == len(value.weighed)


def test_a_rejected_record_is_shown_but_does_not_count() -> None:
    """Nothing is erased: the rejected record stays in the list with weight 0."""
    value = adopted(DEEPEST, depth(1, "1.0", "a"), replace(depth(2, "9.0", "b"), standing="rejected"))

    assert 1.0 == pytest.approx(value.likely)
    assert [(0.0, "rejected")] == [(w.weight, w.counted_as) for w in value.weighed if w.record.endswith(".2")]


def test_depths_a_factor_three_apart_are_contested() -> None:
    """Arbutus unedo 3.5 m and 0.3 m: both kept, contested (BROT A07155, GRooTID 21943)."""
    value = adopted(DEEPEST, depth(1, "3.5", "BROT"), depth(2, "0.3", "GRooT"))

    assert "contested" == value.confidence
    assert 2 == sum(w.weight > 0 for w in value.weighed)


def test_elaeagnus_commutata_the_test_stands_and_both_are_shown() -> None:
    """Fixing: one list says no, the nodulation list says yes; equal votes are contested."""
    trait = a_trait("nitrogen-fixation", "majority")
    value = adopted(
        trait,
        a_record(
            1, trait, concepts=("fixes",), number_kind="class", source=SourceKey("nodulation"), conditions=()
        ),
        a_record(
            2,
            trait,
            concepts=("does-not-fix",),
            number_kind="class",
            source=SourceKey("flora"),
            conditions=(),
        ),
    )

    assert "contested" == value.confidence
    assert 2 == len(value.weighed)


def test_the_largest_record_is_an_upper_bound() -> None:
    """Quercus robur: mean 1.03 m mixes saplings, largest 60 m (BIFlora); neither is its height."""
    trait = a_trait("mature-height", "mature-size")
    tree = replace(
        PLANT,
        records=(a_record(0, a_trait("growth-form", "majority"), concepts=("tree",), number_kind="class"),),
    )
    mean = a_record(1, trait, likely=Decimal("1.03"), number_kind="mean", conditions=())
    largest = a_record(2, trait, high=Decimal(60), number_kind="maximum", conditions=())

    value = adopt(tree, trait, (mean, largest), ())

    assert value is not None
    assert value.likely is not None
    assert 20 < value.likely < 60
    assert value.high is not None
    assert value.high <= 60


def test_light_class_is_read_by_its_wording() -> None:
    """Class 8 is "rarely < 40 %" relative light (Ellenberg et al., wording in the scheme table)."""
    trait = a_trait("light-to-survive", "indicator-to-share")
    indicator = a_trait("light-indicator-1-9", "class-median")
    value = adopted(trait, a_record(1, indicator, likely=Decimal(8), number_kind="class", conditions=()))

    assert 0.40 == value.likely
    assert value.low is not None
    assert value.high is not None
    assert value.low < 0.4 < value.high


@pytest.mark.parametrize(
    ("step", "low", "high"),
    [("1", 0.5, 0.65), ("2", 0.25, 0.5), ("3", 0.1, 0.25), ("4", 0.05, 0.1), ("5", 0.02, 0.05)],
)
def test_shade_tolerance_is_read_by_its_classes(step: str, low: float, high: float) -> None:
    """Woody shade tolerance 1-5: over 50, 25-50, 10-25, 5-10, 2-5 % of light (from memory, `trade` 3.2)."""
    trait = a_trait("light-to-survive", "indicator-to-share")
    scale = a_trait("shade-tolerance-1-5", "weighted-interval")
    value = adopted(trait, a_record(1, scale, likely=Decimal(step), number_kind="mean", conditions=()))

    assert (low, high) == (value.low, value.high)
    assert value.likely is not None
    assert low < value.likely < high


def test_scales_of_light_and_shade_are_weighed_and_never_turned_into_each_other() -> None:
    """Light class 3 (mostly under 5 %) and "intolerant" disagree by far: contested, and both are spanned."""
    trait = a_trait("light-to-survive", "indicator-to-share")
    light = a_record(
        1, a_trait("light-indicator-1-9", "class-median"), likely=Decimal(3), number_kind="class"
    )
    shade = a_trait("shade-tolerance-3", "majority")
    words = a_record(
        2, shade, concepts=("intolerant",), number_kind="membership", conditions=(("study", "b"),)
    )
    value = adopted(trait, light, words)

    assert "contested" == value.confidence
    assert value.low is not None
    assert value.high is not None
    assert value.low <= 0.01
    assert value.high >= 0.6


def test_a_flowering_class_is_half_months_and_yields_to_dates() -> None:
    """Class 7 is the middle of June (month 6.0), a month either way (data notes 4): 15 May to 16 July."""
    window = a_trait("flowering-window", "window-median")
    window = replace(window, kind="window")
    step = a_record(
        1, a_trait("flowering-class-1-15", "class-median"), likely=Decimal(7), number_kind="class"
    )
    dated = a_record(2, window, low=Decimal(20), high=Decimal(24), number_kind="range", conditions=())

    read = adopted(window, step)
    assert read.low == pytest.approx(1 + (136 - 1) / 7, abs=0.4)
    assert read.high == pytest.approx(1 + (197 - 1) / 7, abs=0.4)
    assert 20 == pytest.approx(adopted(window, step, dated).low, abs=0.01)


def test_spread_takes_the_worst_plausible() -> None:
    """One source says it runs, two that it stays put: it runs."""
    trait = a_trait("spread", "most-cautious")
    value = adopted(
        trait,
        *(
            a_record(n, trait, concepts=(c,), number_kind="class", conditions=(("study", str(n)),))
            for n, c in enumerate(("clump", "clump", "runs"))
        ),
    )

    assert ("runs",) == value.concepts


def test_a_window_over_new_year_keeps_its_ends() -> None:
    """Weeks 50 and 2 lie two and a half weeks apart; their mean is near the turn of the year."""
    middle = circular_mean([(50.0, 1.0), (2.0, 1.0)])

    assert weeks_apart(50, 2) < 5
    assert weeks_apart(middle, 52.5) < 1


@given(
    st.lists(st.floats(0.05, 10), min_size=1, max_size=6),
    st.lists(st.floats(0.05, 10), max_size=3),
    st.randoms(),
)
def test_the_order_of_records_does_not_matter(
    values: list[float], floors: list[float], random: object
) -> None:
    """Adoption is a function of the set of records: shuffled, it gives the same value."""
    records = [depth(n, f"{v:.3f}", f"s{n}") for n, v in enumerate(values)]
    records += [floor(100 + n, f"{v:.3f}", f"f{n}") for n, v in enumerate(floors)]
    first = adopted(DEEPEST, *records)
    random.shuffle(records)  # type: ignore[attr-defined]

    second = adopted(DEEPEST, *records)

    assert first.likely == pytest.approx(second.likely, rel=1e-6)
    assert first.low is not None
    assert first.high is not None
    assert first.likely is not None
    assert first.low <= first.likely <= first.high


@given(st.floats(0.1, 5), st.floats(0.1, 5))
def test_a_floor_never_lowers_a_depth(seen: float, limit: float) -> None:
    """A limit can only push the estimate deeper."""
    alone = adopted(DEEPEST, depth(1, f"{seen:.3f}", "a"))
    with_floor = adopted(DEEPEST, depth(1, f"{seen:.3f}", "a"), floor(2, f"{limit:.3f}", "b"))

    assert alone.likely is not None
    assert with_floor.likely is not None
    assert with_floor.likely >= alone.likely - 1e-6


def test_autumn_and_spring_sowing_are_not_averaged() -> None:
    """Wheat sown in October or in March (FAO-56 table 11 lists both): never a mean in midwinter."""
    trait = a_trait("growth-window", "window-median")
    weeks = [("41", "24"), ("12", "31"), ("13", "32")]
    value = adopted(
        trait,
        *(
            a_record(n, trait, low=Decimal(low), high=Decimal(high), conditions=())
            for n, (low, high) in enumerate(weeks)
        ),
    )

    assert value.low is not None
    assert 12 <= value.low <= 13
    assert [0.0] == [w.weight for w in value.weighed if w.record.endswith(".0")]
    assert [(41.0, 24.0)] == [
        (pytest.approx(other.low), pytest.approx(other.high)) for other in value.sowings
    ]
    assert [True] == [record.endswith(".0") for other in value.sowings for record in other.records]


@pytest.mark.parametrize(
    ("name", "cycle", "words", "sown"),
    [
        ("growth-window", "annual", "another time of sowing", 1),
        ("growth-window", "perennial", "another season than the sources counted", 0),
        ("flowering-window", "annual", "another season than the sources counted", 0),
        ("flowering-window", "perennial", "another season than the sources counted", 0),
    ],
)
def test_only_the_growth_of_a_crop_has_times_of_sowing(name: str, cycle: str, words: str, sown: int) -> None:
    """A shrub that flowers in May by one source and in autumn by others was not sown at another time."""
    trait = a_trait(name, "window-median")
    weeks = [("41", "45"), ("12", "16"), ("13", "17")]
    records = [
        a_record(n, trait, low=Decimal(low), high=Decimal(high), conditions=())
        for n, (low, high) in enumerate(weeks)
    ]
    lives = a_record(3, a_trait("life-cycle", "majority"), concepts=(cycle,), number_kind="membership")
    value = adopt(replace(PLANT, records=(*records, lives)), trait, records, ())

    assert value is not None
    assert [True] == [words in w.counted_as for w in value.weighed if w.weight == 0]
    assert sown == len(value.sowings)


def test_a_wide_word_agrees_with_the_narrower_one() -> None:
    """CLO-PLA's "primary root present" beside the tap root that Weaver (1926) dug up: one says no other."""
    trait = a_trait("root-form", "majority")

    def form(number: int, concept: str) -> Record:
        return a_record(
            number, trait, concepts=(concept,), number_kind="membership", conditions=(("study", str(number)),)
        )

    value = adopted(trait, form(1, "primary-root"), form(2, "tap"))

    assert (("tap",), "medium") == (value.concepts, value.confidence)
    assert ("primary-root",) == adopted(trait, form(1, "primary-root")).concepts
    assert "contested" == adopted(trait, form(1, "primary-root"), form(2, "surface")).confidence


def test_the_coldest_place_of_a_range_counts_only_alone() -> None:
    """A map's -41.7 degrees yields to a recalled -25 (chicory), and stands where nothing else does."""
    trait = a_trait("hardiness", "weighted-interval")
    of_map = a_record(0, trait, likely=Decimal("-41.7"), conditions=(("as", COLDEST_PLACE),))
    recalled = a_record(1, trait, likely=Decimal(-25), conditions=(), basis="recalled")

    assert -25.0 == adopted(trait, of_map, recalled).likely
    assert [0.0, 1.0] == sorted(min(1.0, w.weight * 9) for w in adopted(trait, of_map, recalled).weighed)
    assert -41.7 == adopted(trait, of_map).likely


def test_first_days_move_a_window_and_never_turn_it_round() -> None:
    """Weeks 18-22 printed, first flowers seen in weeks 16 and 17: it lasts four weeks from week 17."""
    trait = a_trait("flowering-window", "window-median")
    whole = a_record(0, trait, low=Decimal(18), high=Decimal(22), conditions=(("study", "a"),))
    first = [
        a_record(i, trait, low=Decimal(week), high=None, conditions=(("study", f"s{i}"),))
        for i, week in ((1, "16"), (2, "17"))
    ]
    value = adopted(trait, whole, *first)

    assert (17.0, 21.0) == (pytest.approx(value.low, abs=0.05), pytest.approx(value.high, abs=0.05))


@pytest.mark.parametrize(("cycle", "sowings"), [("annual", [37.0]), ("perennial", [])])
def test_a_cited_sowing_does_not_contradict_another_sowing(cycle: str, sowings: list[float]) -> None:
    """White lupin sown in September (a British trial) says nothing of the lupin of spring, from memory.

    Of a plant that lasts, which is not sown each year, the cited weeks stand alone.
    """
    trait = a_trait("growth-window", "window-median")
    autumn = a_record(1, trait, low=Decimal(37), high=Decimal(35), conditions=())
    spring = a_record(2, trait, low=Decimal(14), high=Decimal(36), conditions=(), basis="recalled")
    lives = a_record(3, a_trait("life-cycle", "majority"), concepts=(cycle,), number_kind="membership")
    value = adopt(replace(PLANT, records=(autumn, spring, lives)), trait, (autumn, spring), ())

    assert value is not None
    assert value.low == pytest.approx(14 if sowings else 37)
    assert sowings == [other.low for other in value.sowings]
    assert "low" == value.confidence
