"""What a walnut, a wormwood or a straw does to its neighbours: graded, by distance, never by a list alone."""

import pytest
from hypothesis import given
from hypothesis import strategies as st

from kb.mixture.enemies.allelopathy import (
    EVIDENCE,
    EmissionFinding,
    Emitter,
    Evidence,
    Grade,
    emission,
    nearness,
)
from tests.mixture.profiles import chosen, invented

TREE, CROP = invented("nogala"), invented("pomara")
GRADES: tuple[Grade, ...] = ("A", "B", "C", "D")


def near(crown_radii: float, evidence: Evidence | None, strength: int = 3) -> EmissionFinding:
    """An invented tree on an invented crop."""
    return of(Emitter("nogala", "an invented juice", strength, reach_m=(18, 24)), crown_radii, evidence)


def of(given_off: Emitter, crown_radii: float, evidence: Evidence | None) -> EmissionFinding:
    found = emission(TREE, CROP, crown_radii, evidence, given_off=given_off, crown_radius_m=6.0)
    assert found is not None
    return found


LISTED = Evidence(sensitive=3, tolerant=0, grade="D", records=("record:one", "record:two", "record:three"))


def test_a_plant_on_several_lists_is_not_set_under_the_crown() -> None:
    """Tomato under black walnut: avoid within 1.5 crown radii, evidence graded (`trade` 6.1 B17)."""
    found = near(0.8, LISTED)

    assert found.ceiling == "avoid"
    assert found.value == pytest.approx(0.1)  # 3 x 3 / 9 x .1 (grade D) x 1 (`trade` 4.9)
    assert "3 lists" in found.text
    assert "grade D" in found.text
    assert "18 m or more from the trunk" in (found.lift or "")
    assert "24 m" in (found.lift or "")
    assert found.records == LISTED.records


@pytest.mark.parametrize(
    ("radii", "ceiling"),
    [(0.0, "avoid"), (1.49, "avoid"), (1.5, "workable"), (2.0, "workable"), (2.99, "workable"), (3.0, None)],
)
def test_distance_lifts_it(radii: float, ceiling: str | None) -> None:
    """Hard inside 1.5 crown radii, then tried first as far as harm is reported: 18 m (`trade` 4.9)."""
    assert near(radii, LISTED).ceiling == ceiling


def test_a_single_list_reaches_two_crown_radii() -> None:
    """The effect A ends at 2 crown radii (`trade` 4.9); beyond, one list alone is no report of harm there."""
    assert near(1.99, Evidence(1, 0, "D", ("record:one",))).ceiling == "workable"
    assert near(2.0, Evidence(1, 0, "D", ("record:one",))).ceiling is None


def test_one_list_only_says_try_one_first() -> None:
    """A single list of observations is no hard conflict (`trade` 4.9: 'reported; try one first')."""
    found = near(0.5, Evidence(1, 0, "D", ("record:one",)))

    assert found.ceiling == "workable"
    assert "try one first" in found.text


def test_lists_that_disagree_hold_nothing() -> None:
    """Where one list says sensitive and another tolerant, that is said and nothing more."""
    found = near(0.5, Evidence(2, 1, "D"))

    assert found.ceiling is None
    assert "disagree" in found.text


def test_tolerant_is_no_reassurance() -> None:
    """A plant listed as tolerant gets no benefit and is told so (evidence README)."""
    found = near(0.5, Evidence(0, 2, "D", ("record:one",)))

    assert (found.value, found.ceiling) == (0.0, None)
    assert "lists are weak evidence" in found.text


def test_not_on_record_is_said() -> None:
    """A plant on no list is not called safe."""
    found = near(0.5, None)

    assert found.ceiling is None
    assert "not on record" in found.text


def test_one_trial_is_enough() -> None:
    """Hard only where the field reports it (`trade` 4.9); pots say try one first, dishes decide nothing."""
    assert near(0.5, Evidence(1, 0, "A")).hard
    pots, dishes = near(0.5, Evidence(3, 0, "B", pots=3)), near(0.5, Evidence(3, 0, "C"))

    assert pots.ceiling == "workable"
    assert "seen in pots (evidence grade B): try one first" in pots.text
    assert (dishes.ceiling, dishes.decides) == (None, False)
    assert "only with extracts in dishes (evidence grade C): that decides nothing" in dishes.text


def test_pots_do_not_outvote_lists() -> None:
    """Two lists of a plant stay a report from the field when a pot trial joins them (`trade` 4.9)."""
    assert near(0.5, Evidence(3, 0, "B", pots=1)).hard


def test_a_herb_reaches_a_crown_radius_or_so() -> None:
    """Without a printed reach harm ends at 2 crown radii, field trial or not (`trade` 4.9)."""
    herb = Emitter("nogala", "leaf washings", 2)

    assert of(herb, 1.49, Evidence(1, 0, "A")).ceiling == "avoid"
    assert of(herb, 1.99, Evidence(1, 0, "A")).ceiling == "workable"
    assert of(herb, 2.0, Evidence(1, 0, "A")).ceiling is None
    assert "12 m or more from nogala" in (of(herb, 0.0, Evidence(1, 0, "A")).lift or "")


def test_plants_that_a_trial_does_not_name_are_tried_first() -> None:
    """Funke 1943: eighteen species were injured, one is named; the others count as a single list would."""
    hedge = Emitter("nogala", "leaf washings", 2, reach_m=(1, 1), others=Evidence(1, 0, "A", ("record:all",)))
    unnamed, dishes = of(hedge, 0.0, None), of(hedge, 0.0, Evidence(0, 1, "C"))

    assert (unnamed.ceiling, dishes.ceiling) == ("workable", "workable")
    assert unnamed.records == ("record:all",)
    assert "not on record, but harm to several other plants" in unnamed.text
    assert "measured in the field" in unnamed.text
    assert unnamed.value == near(0.0, Evidence(1, 0, "D"), 2).value
    assert of(hedge, 0.0, Evidence(0, 1, "A")).ceiling is None
    tree = emission(TREE, invented("nucara", growth_form=chosen("tree")), 0.0, None, given_off=hedge)
    assert tree is not None
    assert tree.ceiling is None  # herbs were sown; a tree beside the hedge is another matter


def test_residues_are_said_and_decide_nothing_side_by_side() -> None:
    """Rye dug in four weeks before thinned lucerne (Adhikari 2018); rye beside lucerne is another matter."""
    straw = Emitter("nogala", "straw", 2, acts_through="residues")
    found = of(straw, 0.0, Evidence(1, 0, "A"))

    assert (found.ceiling, found.value, found.decides) == (None, 0.0, False)
    assert "measured in the field" in found.text
    assert "side by side it decides nothing" in found.text
    assert emission(TREE, CROP, 0.0, None, given_off=straw) is None


def test_an_emission_known_from_dishes_alone_says_nothing_of_other_plants() -> None:
    """Extracts in dishes decide nothing (`trade` 3.2): no "not on record" hangs on them."""
    dish = Emitter("nogala", "juice", 1, {"other": Evidence(2, 0, "C")})

    assert emission(TREE, CROP, 0.0, None, given_off=dish) is None


EVIDENCES = st.builds(Evidence, st.integers(0, 4), st.integers(0, 3), st.sampled_from(GRADES))
RADII = st.floats(0, 5)


@given(EVIDENCES, RADII, RADII, st.integers(0, 3))
def test_distance_never_raises_it(evidence: Evidence, one: float, other: float, strength: int) -> None:
    """Further from the trunk is never worse; the effect stays between 0 and 1 and ends at 2 radii."""
    close, far = (near(radii, evidence, strength) for radii in sorted((one, other)))

    assert 0 <= far.value <= close.value <= 1
    assert close.hard or not far.hard
    assert nearness(2.0) == 0.0


@given(EVIDENCES, RADII)
def test_better_evidence_never_lowers_it(evidence: Evidence, radii: float) -> None:
    """With the same lists, a better grade never gives a smaller effect."""
    by_grade = [
        near(radii, Evidence(evidence.sensitive, evidence.tolerant, grade)).value
        for grade in sorted(GRADES, key=EVIDENCE.__getitem__)
    ]

    assert by_grade == sorted(by_grade)


@given(st.integers(0, 4), RADII)
def test_one_more_list_never_lowers_it(lists: int, radii: float) -> None:
    """One more source that reports harm never makes the plant look safer."""
    assert near(radii, Evidence(lists + 1, 0, "D")).value >= near(radii, Evidence(lists, 0, "D")).value


def test_a_group_is_looked_up_by_its_species() -> None:
    """What is on record for a species holds for its groups, unless a group has its own."""
    own = Evidence(0, 1, "D")
    emitter = Emitter("nogala", "juice", 3, {"pomara": LISTED, "pomara.red-group": own})

    assert emitter.on("pomara.red-group") is own
    assert emitter.on("pomara.blue-group") is LISTED
    assert emitter.on("other") is None
