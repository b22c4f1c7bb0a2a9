"""Shared enemies and emissions in the whole answer: verdict, what lifts it, words, lists, screening."""

from dataclasses import replace
from itertools import combinations

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from api.param_kinds import GIVEN
from kb.mixture.answers.pair import judge, judge_pair, prepare, prepare_tree
from kb.mixture.enemies.allelopathy import Emitter, Evidence
from kb.mixture.enemies.enemy_book import EnemyBook
from kb.mixture.enemies.harm import ASKED, harm_between
from kb.mixture.enemies.hosts import Agent, Host
from kb.mixture.judging.asked_again import MOVES_MORE
from kb.mixture.judging.bonds import Ground as BondGround
from kb.mixture.judging.crowd import crowd_at
from kb.mixture.judging.judged import judge_set
from kb.mixture.limits import Meeting
from kb.mixture.lists.candidates import rank_candidates
from kb.mixture.lists.screening import Ground, stress_under
from kb.mixture.lists.under import plants_under
from kb.mixture.results import ORDER, PairAnswer
from kb.mixture.season import activity_by_week
from kb.mixture.sharing.felt import Spot
from kb.mixture.sharing.place import place_in_bed, place_in_ring
from kb.mixture.site import REFERENCE_SITE, Arrangement
from tests.mixture.profiles import BULB, COVER, SMALL_TREE, SMALL_TREE_HERE, SPRING_BULB, TAPROOT

HALVES = Arrangement(share_a=0.5, share_b=0.5)
PLANTS = (BULB, COVER, SMALL_TREE, SPRING_BULB, TAPROOT)


def hosts(*plants: str, **changes: object) -> tuple[Host, ...]:
    """Main hosts that an invented agent harms badly."""
    return tuple(
        replace(Host(plant, "main", "serious", records=(f"record:{plant}.enemy",)), **changes)  # type: ignore[arg-type]
        for plant in plants
    )


BLIGHT = Agent("blight", "blight", "leaf", hosts(TAPROOT.id, BULB.id, regions=("nowhere",)))
WILT = Agent("wilt", "wilt", "soil", hosts(TAPROOT.id, BULB.id))
MOTH = Agent("moth", "moth", "flying", hosts(TAPROOT.id, BULB.id))
RUST = Agent(
    "rust",
    "rust",
    "alternate",
    (
        *hosts(SMALL_TREE.id, role="alternate", apart_m=(100.0, 300.0)),
        *hosts(COVER.id, apart_m=(100.0, 300.0)),
    ),
    rust=True,
)
JUICE = Emitter(SMALL_TREE.id, "juice", 3, {BULB.id: Evidence(2, 0, "D", ("record:bulb.juice",))})


def book(*agents: Agent, emitters: tuple[Emitter, ...] = ()) -> EnemyBook:
    return EnemyBook.of(agents, [(p.id, p.genus, p.family.value) for p in PLANTS], emitters)


def pair(*agents: Agent, given: frozenset[str] = frozenset()) -> PairAnswer:
    return judge_pair(TAPROOT, BULB, REFERENCE_SITE, replace(HALVES, given=given), book=book(*agents))


def under(distance_m: float, other: object, **options: object) -> PairAnswer:
    arrangement = Arrangement("under", tree=SMALL_TREE_HERE, distance_m=distance_m)
    return judge_pair(SMALL_TREE, other, REFERENCE_SITE, arrangement, **options)  # type: ignore[arg-type]


def test_a_hard_enemy_is_the_limiting_reason_with_its_records() -> None:
    """Late blight on both: avoid, for that reason, with the statements it rests on (`trade` B16)."""
    answer = pair(BLIGHT)

    assert answer.verdict == "avoid"
    assert answer.limiting is not None
    assert answer.limiting.kind == "enemies"
    assert set(answer.limiting.records) == {f"record:{TAPROOT.id}.enemy", f"record:{BULB.id}.enemy"}
    assert "resists blight" in answer.saying
    lifted = next(c for c in answer.conditions if c.kind == "enemies")
    assert lifted.verdict_if_unmet == "avoid"
    assert lifted.verdict_if_met != "avoid"
    assert any("blight (nowhere)" in note for note in answer.notes)


def test_clean_ground_lifts_what_lives_in_it() -> None:
    """A wilt of the soil caps the pair at workable unless the ground is clean (`trade` 4.6, T02)."""
    asked, given_clean, without = pair(WILT), pair(WILT, given=frozenset({"clean-ground"})), pair()

    assert without.verdict == given_clean.verdict == "good"
    assert asked.verdict == "workable"
    condition = next(c for c in asked.conditions if c.kind == "enemies")
    assert (condition.given, condition.met, condition.verdict_if_met) == ("clean-ground", None, "good")


def test_no_word_but_those_that_are_asked_moves_what_two_share() -> None:
    """What is asked again with water, feeding, a frame or pruning takes what two share as it was found."""
    assert not MOVES_MORE & ASKED
    plants, known = (BULB, COVER, SMALL_TREE, SPRING_BULB, TAPROOT), book(BLIGHT, WILT, MOTH, RUST)
    for one, other in combinations(plants, 2):
        found = {
            word: harm_between(one, other, Meeting(REFERENCE_SITE, "bed", frozenset({word})), known)
            for word in (*GIVEN, "none of them")
        }
        for word in set(found) - ASKED:
            assert found["none of them"] == found[word]


def test_a_set_judged_again_with_what_it_shares_is_the_same() -> None:
    """Whether what every two share is known already or found anew."""
    place = place_in_bed(REFERENCE_SITE, HALVES)
    subjects = [prepare(plant, place, draws=0) for plant in (BULB, COVER, TAPROOT)]
    ground = (BondGround(Spot(place, (0.4, 0.3, 0.3)), (0, 1, 2)),)
    known = book(BLIGHT, WILT, MOTH)
    judged = judge_set(subjects, ground, known)
    again = judge_set(subjects, ground, known, {bond.places: bond for bond in judged.bonds})

    assert [(bond.places, bond.kin, bond.harm, bond.meeting, bond.near) for bond in judged.bonds] == [
        (bond.places, bond.kin, bond.harm, bond.meeting, bond.near) for bond in again.bonds
    ]
    assert (judged.stress, judged.limits) == (again.stress, again.limits)


def test_what_counts_is_named_and_moves_the_loss() -> None:
    """A shared moth raises the share of loss by enemies and is named with its records."""
    answer, without = pair(MOTH), pair()

    assert answer.loss[BULB.id].enemies > without.loss[BULB.id].enemies
    assert answer.score.likely < without.score.likely
    assert "moth" in next(r.text for r in answer.reasons if r.kind == "enemies")


def test_a_rust_of_tree_and_neighbour_is_lifted_by_distance() -> None:
    """An alternate host within the printed distance is hard; beyond the better distance it is gone."""
    near, between, far = (under(m, COVER, book=book(RUST)) for m in (20.0, 200.0, 300.0))

    assert near.verdict == "avoid"
    assert [c.kind for c in between.conditions if c.kind == "enemies"] == ["enemies"]
    assert between.verdict != "avoid"
    assert not [c for c in far.conditions if c.kind == "enemies"]
    assert any("Law may forbid" in note for note in near.notes)


def test_what_a_tree_gives_off_is_hard_under_its_crown_and_never_sure_by_lists() -> None:
    """A plant on several lists near an emitter: avoid there, lifted by distance, unsure (`trade` 4.9)."""
    lore = book(emitters=(JUICE,))
    radius = SMALL_TREE_HERE.crown_radius_m

    near, far = under(0.8 * radius, BULB, book=lore), under(19.0, BULB, book=lore)

    assert near.verdict == "avoid"
    assert near.limiting is not None
    assert (near.limiting.kind, near.limiting.records) == ("allelopathy", ("record:bulb.juice",))
    assert near.sureness.word == "unsure"
    assert not [c for c in far.conditions if c.kind == "allelopathy"]


def test_a_book_takes_its_mechanisms_off_the_list_of_what_is_not_computed() -> None:
    """With a book the notes say what is still left out; without one they say that enemies are."""
    with_book, without = pair(MOTH), judge_pair(TAPROOT, BULB, REFERENCE_SITE, HALVES)

    left = [n for n in with_book.notes if n.startswith("Not computed in this version")]
    assert len(left) == 1
    assert "named pests" not in left[0]
    assert "on the wind" in left[0]
    assert any("named pests and diseases, allelopathy" in note for note in without.notes)


def test_silence_of_the_book_on_what_a_plant_gives_off_is_said_to_be_no_finding() -> None:
    """Wormwood on fennel is a textbook observation: a book that lacks it must not read as "none"."""
    notes = [note for note in pair(MOTH).notes if "a plant gives off" in note]

    assert len(notes) == 1
    assert "it was not looked for" in notes[0]


def test_nothing_in_the_book_changes_nothing_but_notes() -> None:
    """An empty book and no book give the same verdict, losses and score."""
    with_book, without = pair(), judge_pair(TAPROOT, BULB, REFERENCE_SITE, HALVES)

    for name in ("verdict", "loss", "score", "sharing", "conditions", "limiting", "benefits"):
        assert getattr(with_book, name) == getattr(without, name)


def test_missing_lists_are_said() -> None:
    """A plant without a list is named as such; its nearest relatives stand in."""
    answer = pair(Agent("moth", "moth", "flying", hosts(TAPROOT.id)))

    assert any(f"No list of pests and diseases is on record for {BULB.name}" in n for n in answer.notes)


AGENTS = st.lists(st.sampled_from((BLIGHT, WILT, MOTH, RUST)), unique=True)


@settings(max_examples=25, deadline=None)
@given(AGENTS)
def test_order_does_not_matter_in_a_bed(agents: list[Agent]) -> None:
    """The verdict, score and loss are the same whichever plant is named first."""
    lore = book(*agents)
    forward = judge_pair(TAPROOT, BULB, REFERENCE_SITE, HALVES, book=lore)
    backward = judge_pair(BULB, TAPROOT, REFERENCE_SITE, HALVES, book=lore)

    assert forward.verdict == backward.verdict
    assert forward.score.likely == pytest.approx(backward.score.likely)
    assert forward.conditions == backward.conditions
    assert forward.limiting == backward.limiting


@settings(max_examples=25, deadline=None)
@given(AGENTS, st.sampled_from((BLIGHT, WILT, MOTH, RUST)))
def test_one_enemy_more_never_betters_the_answer(agents: list[Agent], more: Agent) -> None:
    """Adding an agent to two plants that have lists never raises the score or the verdict."""
    known = Agent("known", "known", "stock", hosts(TAPROOT.id, BULB.id, harm=None))
    before = pair(known, *agents)
    after = pair(known, *dict.fromkeys([*agents, more]))

    assert after.score.likely <= before.score.likely + 1e-9
    assert ORDER.index(after.verdict) <= ORDER.index(before.verdict)  # type: ignore[arg-type]


def test_a_list_says_what_each_pair_says() -> None:
    """Candidates with a book are the pairs with that book, and the conflict stands last."""
    lore = book(BLIGHT, WILT)
    ranked = rank_candidates(TAPROOT, (BULB, COVER, SPRING_BULB), REFERENCE_SITE, HALVES, book=lore)

    assert ranked[-1].b == BULB.id
    for row in ranked:
        other = next(p for p in PLANTS if p.id == row.b)
        assert row == judge_pair(TAPROOT, other, REFERENCE_SITE, HALVES, book=lore)


def test_screening_under_a_tree_knows_the_book() -> None:
    """A plant that an emission rules out is not offered under the tree."""
    lore = book(RUST, emitters=(JUICE,))

    def offered(some: EnemyBook | None) -> list[tuple[str, str]]:
        rings = plants_under(
            SMALL_TREE, SMALL_TREE_HERE, (BULB, COVER, SPRING_BULB), REFERENCE_SITE, sides=("N",), book=some
        )
        return [(row.b, row.verdict) for ring in rings[:2] for row, _ in ring.plants]

    assert {verdict for plant, verdict in offered(lore) if plant in {BULB.id, COVER.id}} == {"avoid"}
    assert "avoid" not in {verdict for plant, verdict in offered(None) if plant == COVER.id}


@pytest.mark.parametrize("from_m", [1.0, 150.0])
def test_screening_agrees_with_the_pair(from_m: float) -> None:
    """The quick look under a tree reckons the same stress as each pair judged alone with the same book."""
    lore = book(
        BLIGHT, RUST, MOTH, Agent("fly", "fly", "flying", hosts(SMALL_TREE.id, BULB.id)), emitters=(JUICE,)
    )
    leaf = activity_by_week(SMALL_TREE.leaf, REFERENCE_SITE)
    place = place_in_ring(
        REFERENCE_SITE, SMALL_TREE_HERE, leaf, from_m=from_m, to_m=from_m + 1.2, given=frozenset(), side="E"
    )
    tree = prepare_tree(SMALL_TREE, SMALL_TREE_HERE, REFERENCE_SITE, place.given, draws=2)
    plants = (BULB, COVER, SPRING_BULB, TAPROOT)
    crowd = crowd_at(REFERENCE_SITE, place.coarse.open, plants)

    ground = Ground(tree.rows, crowd, place, tree.age_years, lore)

    for plant, screened in zip(plants, stress_under(tree.rows, crowd, place, ground), strict=True):
        judged = judge(tree, prepare(plant, place, draws=2), place, lore)
        assert judged.coarse == pytest.approx(screened, abs=1e-9), plant.id
