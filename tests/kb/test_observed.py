"""One's own observations: the arithmetic written out, the kind always behind the place, harm at once.

The weight w = n / (n + tau) is the credibility of n observations (H. Buhlmann, Experience rating and
credibility, ASTIN Bulletin 4, 1967, pp. 199-207: Z = n / (n + k)); tau = 4 site-years lies in the range
of `trade` section 9.10 (3 to 5). The figures below are worked by hand from that formula.
"""

import math
from dataclasses import replace
from datetime import date
from decimal import Decimal

import pytest
from hypothesis import given
from hypothesis import strategies as st

from kb.adoption.observed import LocalEstimate, Seen, bend
from kb.errors import UnknownPlace
from kb.mixture.bodies.growth import size_share
from kb.model import Adopted, Plant, PlantId, SourceKey, TraitId
from kb.snapshot import Snapshot
from kb.statements.curation_model import Observation, Quality, Withdrawal
from kb.vocabulary_store import load_vocabulary
from tests.api.invented import SOURCE, concept, number

VOCABULARY = load_vocabulary()
PLANT_ID = PlantId("inventa-mensa")


def seen(
    value: str,
    *,
    trait: str = "reach",
    year: int = 2026,
    place: str = "home",
    quality: Quality = "measured",
    serial: int = 1,
) -> Observation:
    """Give an invented observation; a comma parts a window's weeks."""
    low, _, high = value.partition(",")
    return Observation(
        id=f"{PLANT_ID}.{trait}.anyone.{serial}",
        plant=PLANT_ID,
        trait=TraitId(trait),
        low=Decimal(low) if high else None,
        likely=None if high else Decimal(low),
        high=Decimal(high) if high else None,
        concepts=(),
        verbatim=value,
        observer="anyone",
        observed_on=date(year, 7, 1),
        place=place,
        age_years=None,
        stock=None,
        procedure="invented",
        quality=quality,
        quality_note=None,
        entered_on=date(2026, 11, 26),
    )


def named(value: str, trait: str, years: int) -> tuple[Observation, ...]:
    """Give an invented observation of a named value in each of some years."""
    base = replace(seen("1", trait=trait), likely=None, concepts=(value,))
    return tuple(replace(base, id=f"{base.id}{n}", observed_on=date(2000 + n, 7, 1)) for n in range(years))


def plant(*observations: Observation, withdrawals: tuple[Withdrawal, ...] = ()) -> Plant:
    """Give an invented plant whose reach one source puts at 6 m, between 4 and 9."""
    records = (
        number(PLANT_ID, "reach", "4", "6", "9"),
        number(PLANT_ID, "mature-height", None, "5", None, kind="single"),
        number(PLANT_ID, "flowering-window", "52", None, "3"),
        number(PLANT_ID, "soil-reaction", "5.5", None, "7"),
        concept(PLANT_ID, "growth-form", "tree"),
        concept(PLANT_ID, "spread", "clump"),
        concept(PLANT_ID, "leaf-retention", "deciduous"),
    )
    return Plant(
        id=PLANT_ID,
        scientific_name="Inventa mensa",
        authority=None,
        rank="species",
        according_to=SourceKey("invented"),
        parent=None,
        groups=("herb",),
        records=records,
        observations=observations,
        withdrawals=withdrawals,
    )


def judged(one: Plant, trait: str = "reach") -> tuple[Adopted | None, tuple[LocalEstimate, ...]]:
    """Adopt the plant's value of a trait and the estimates for its places."""
    snapshot = Snapshot("test", {PLANT_ID: one}, {SOURCE.key: SOURCE})
    local = tuple(here for here in snapshot.local(PLANT_ID) if here.trait == trait)
    return snapshot.adopted(PLANT_ID).get(TraitId(trait)), local


def test_the_worked_example() -> None:
    """4 m measured in two years against 6 m (4 to 9) on record.

    Place: n = 2, w = 2/(2+4) = 1/3; 6^(2/3) * 4^(1/3) = 5.2415. The interval shrinks by sqrt(1 - 1/3) =
    0.8165 on the log scale: low 5.2415 * (4/6)^0.8165 = 3.7642, high 5.2415 * (9/6)^0.8165 = 7.2985.
    Kind: n = 1/3, w = (1/3)/(1/3 + 4) = 1/13; 6^(12/13) * 4^(1/13) = 5.8158.
    """
    kind, local = judged(plant(seen("4", year=2025), seen("4", year=2026, serial=2)))

    assert kind is not None
    assert kind.bent is not None
    (here,) = local
    assert (2.0, pytest.approx(1 / 3), pytest.approx(4.0)) == (here.site_years, here.weight, here.seen)
    assert [3.7642, 5.2415, 7.2985] == [
        pytest.approx(v, abs=5e-4) for v in (here.low, here.likely, here.high)
    ]
    assert pytest.approx(1 / 13) == kind.bent.weight
    assert pytest.approx(5.8158, abs=5e-4) == kind.likely
    assert (4.0, 6.0, 9.0) == (kind.bent.low, kind.bent.likely, kind.bent.high)
    assert "bent by own observations (2 site-years, weight 0.077)" in kind.rule


def test_plants_of_one_place_and_year_count_once() -> None:
    """Three rows of one bed in one summer are one site-year with their mean (geometric: 4)."""
    _, local = judged(plant(seen("2"), seen("4", serial=2), seen("8", serial=3)))

    assert (1.0, pytest.approx(4.0), pytest.approx(0.2)) == (
        local[0].site_years,
        local[0].seen,
        local[0].weight,
    )


def test_an_estimate_by_eye_counts_half() -> None:
    """N = 0.5, w = 0.5/4.5 = 1/9."""
    _, local = judged(plant(seen("4", quality="estimated")))

    assert pytest.approx(1 / 9) == local[0].weight


def test_a_growing_tree_is_read_along_its_curve() -> None:
    """4 m at 8 years is 4/s full-grown, s the share of the curve that the computation grows trees by."""
    share = size_share(8, growth_form="tree", final_height_m=5.0)
    young = replace(seen("4", trait="mature-height"), age_years=Decimal(8))

    _, local = judged(plant(young), "mature-height")

    assert pytest.approx(4 / share) == local[0].seen
    assert pytest.approx(share) == local[0].site_years
    assert "full-grown" in local[0].words


def test_a_seedling_tells_nothing_of_its_final_size() -> None:
    """A tree in its first year counts neither here nor for its kind."""
    first_year = replace(seen("0.4", trait="mature-height"), age_years=Decimal(0))
    without, _ = judged(plant(), "mature-height")

    assert (without, ()) == judged(plant(first_year), "mature-height")


def test_a_dwarfing_stock_speaks_a_third_for_its_kind() -> None:
    """N = w/3 = 1/15 of the kind, w = (1/15)/(1/15 + 4) = 1/61; in full for the place."""
    kind, local = judged(plant(replace(seen("4"), stock="M9")))

    assert kind is not None
    assert kind.bent is not None
    assert pytest.approx(1 / 61) == kind.bent.weight
    assert ("M9", pytest.approx(1 / 5)) == (local[0].stock, local[0].weight)


def test_weeks_move_by_the_shorter_way_round_the_year() -> None:
    """Flowering from week 52 on record, week 2 seen: w = 1/5 of 2.18 weeks forward, not of 50 back."""
    _, local = judged(plant(seen("2,5", trait="flowering-window")), "flowering-window")

    year = 365.25 / 7
    assert pytest.approx(52 + (2 + year - 52) / 5) == local[0].low
    assert pytest.approx(3 + 2 / 5) == local[0].high


def test_a_tolerated_range_reaches_but_never_shrinks() -> None:
    """Thriving at pH 8 widens 5.5-7 to 7 + 1/5; thriving at pH 6 changes nothing."""
    _, outside = judged(plant(seen("8", trait="soil-reaction")), "soil-reaction")
    kind, _ = judged(plant(seen("6", trait="soil-reaction")), "soil-reaction")

    assert (5.5, pytest.approx(7.2)) == (outside[0].low, outside[0].high)
    assert kind is not None
    assert (5.5, 7.0, None) == (kind.low, kind.high, kind.bent)


def test_harm_counts_at_once_and_never_reassures() -> None:
    """A plant seen to run is taken to run; one seen to stay put stays as bad as it is on record."""
    worse, local = judged(plant(*named("invades", "spread", 1)), "spread")
    runs = replace(plant(*named("clump", "spread", 30)), records=(concept(PLANT_ID, "spread", "runs"),))
    calmer, calm_here = judged(runs, "spread")

    assert worse is not None
    assert calmer is not None
    assert (("invades",), ("invades",)) == (worse.concepts, local[0].concepts)
    assert (("runs",), ("runs",)) == (calmer.concepts, calm_here[0].concepts)


def test_other_named_values_need_more_years_than_the_records_weigh() -> None:
    """Evergreen in four winters leaves the record standing; in five it is so there, not for the kind."""
    _, four = judged(plant(*named("evergreen", "leaf-retention", 4)), "leaf-retention")
    kind, five = judged(plant(*named("evergreen", "leaf-retention", 5)), "leaf-retention")

    assert kind is not None
    assert [("deciduous",), ("evergreen",)] == [four[0].concepts, five[0].concepts]
    assert ("deciduous",) == kind.concepts


def test_what_is_withdrawn_bends_nothing() -> None:
    """The value is that without the observation, to the last digit; a withdrawal taken back bends again."""
    one = seen("4")
    taken = Withdrawal(
        f"{PLANT_ID}.1", PLANT_ID, f"observation.{one.id}", "anyone", date(2026, 11, 26), "wrong tree"
    )
    back = replace(taken, id=f"{PLANT_ID}.2", withdraws=f"withdrawal.{taken.id}")

    assert judged(plant())[0] == judged(plant(one, withdrawals=(taken,)))[0]
    assert judged(plant(one)) == judged(plant(one, withdrawals=(taken, back)))


def test_without_a_record_the_place_stands_alone_and_the_kind_stays_unknown() -> None:
    """One garden makes no value for the kind."""
    bare = replace(plant(seen("4")), records=(concept(PLANT_ID, "growth-form", "tree"),))

    kind, local = judged(bare)

    assert kind is None
    assert (4.0, 1.0) == (pytest.approx(local[0].likely), local[0].weight)


@given(
    values=st.lists(
        st.tuples(st.floats(0.1, 100), st.integers(2000, 2026), st.sampled_from(["a", "b", "c"])),
        min_size=1,
        max_size=12,
    ),
    likely=st.floats(0.1, 100),
)
def test_the_kind_moves_less_than_any_garden_could_move_it(
    values: list[tuple[float, int, str]], likely: float
) -> None:
    """Every estimate lies between record and sight; the kind has less weight than one place alone."""
    before = Adopted(PLANT_ID, TraitId("reach"), likely / 2, likely, likely * 2, (), "low", "rule")
    rows = [
        Seen(replace(seen("1", year=year, place=place)), value, value, 1.0, None)
        for value, year, place in values
    ]

    after, local = bend(plant(), VOCABULARY.trait("reach"), before, rows)

    assert after is not None
    assert after.bent is not None
    ends = [likely, *(value for value, _, _ in values)]
    assert after.low is not None
    assert after.high is not None
    assert after.likely is not None
    for estimate in (*local, after):
        assert min(ends) * 0.999 <= (estimate.likely or 0) <= max(ends) * 1.001
    assert after.low <= after.likely <= after.high
    if len(local) == 1:
        assert after.bent.weight < local[0].weight
        assert abs(math.log(after.likely / likely)) <= abs(math.log((local[0].likely or 1) / likely)) + 1e-9


def test_a_question_that_names_the_place_uses_its_estimates() -> None:
    """Height 5 m on record and 3 m seen: the profile is bent a little, at home more, elsewhere refused."""
    other = replace(plant(), id=PlantId("inventa-altera"), records=())
    tall = replace(seen("3", trait="mature-height"), age_years=None)
    snapshot = Snapshot("test", {PLANT_ID: plant(tall), other.id: other}, {SOURCE.key: SOURCE})
    bare = Snapshot("test", {PLANT_ID: plant(), other.id: other}, {SOURCE.key: SOURCE})

    home = snapshot.at("Home")

    heights = [one.profile(PLANT_ID).height_m.likely for one in (bare, snapshot, home)]
    assert [5.0, pytest.approx(5 ** (1 - 1 / 21) * 3 ** (1 / 21)), pytest.approx(5**0.8 * 3**0.2)] == heights
    assert snapshot.profile(other.id) is home.profile(other.id)
    assert home is snapshot.at("home")
    assert {PLANT_ID: ("mature-height",)} == home.observed_here
    with pytest.raises(UnknownPlace, match=r"Observed at: home\."):
        snapshot.at("elsewhere")


def test_a_place_where_all_was_taken_back_is_not_offered() -> None:
    """Whoever asks for it is not told in one breath that nothing and something was observed there."""
    tall = seen("3", trait="mature-height")
    one = replace(tall, id=f"{PLANT_ID}.mature-height.curator-b.1001", place="field")
    taken = Withdrawal(
        "inventa-exemplaris.1001",
        PLANT_ID,
        f"observation.{tall.id}",
        "curator-a",
        date(2026, 11, 27),
        "Wrong.",
    )
    snapshot = Snapshot("test", {PLANT_ID: plant(tall, one, withdrawals=(taken,))}, {SOURCE.key: SOURCE})

    with pytest.raises(UnknownPlace) as refused:
        snapshot.at("home")

    assert "Nothing was observed at 'home'. Observed at: field." == str(refused.value)
