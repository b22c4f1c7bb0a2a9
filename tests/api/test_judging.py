"""Answers that judge: cautions first, every default visible, every reason open to the record."""

from collections.abc import Callable, Iterator
from dataclasses import replace
from decimal import Decimal
from typing import Any

import pytest
from flask.testing import FlaskClient

from api.app import create_app
from kb.model import Plant
from kb.repository import MemoryRepository, open_repository
from tests.api.invented import BEAN_ID, HERB, HERB_ID, ROOT, ROOT_ID, TREE, TREE_ID, WEED_ID

Ask = Callable[[str], Any]
PAIR = f"/pairs?a={HERB_ID}&b={ROOT_ID}"
UNDER = f"/plants/{TREE_ID}/under?height_m=6"


def with_depth(plant: Plant, low: str, high: str) -> Plant:
    """Give the plant with another invented rooting depth."""
    records = tuple(
        replace(r, low=Decimal(low), high=Decimal(high), verbatim=f"{low}-{high}")
        if r.trait == "effective-rooting-depth"
        else r
        for r in plant.records
    )
    return replace(plant, records=records)


def record_iris(node: Any) -> Iterator[str]:
    """Give every record IRI anywhere in an answer's reasons, limits and benefits."""
    if isinstance(node, dict):
        if "text" in node and isinstance(node.get("records"), list):
            yield from node["records"]
        for value in node.values():
            yield from record_iris(value)
    elif isinstance(node, list):
        for value in node:
            yield from record_iris(value)


def test_cautions_stand_before_the_verdict(ask: Ask) -> None:
    """In the JSON too, what can hurt comes before what is useful; both plants have a word."""
    answer = ask(PAIR)
    keys = list(answer)

    assert keys.index("cautions") < keys.index("verdict")
    assert {HERB_ID, ROOT_ID} == {caution["plant"] for caution in answer["cautions"]}
    assert "none-on-record" in {c["kind"] for c in answer["cautions"] if c["plant"] == HERB_ID}


def test_a_pair_shows_every_default(ask: Ask) -> None:
    """No site and no shares given: the reference site by name, half the ground each, both said."""
    question = ask(PAIR)["question"]

    assert "reference site" == question["site"]["name"]
    assert (0.5, 0.5, "bed") == (question["share_a"], question["share_b"], question["setting"])
    assert any("half each" in note for note in ask(PAIR)["notes"])


def test_the_rest_of_the_ground_is_the_other_plants(ask: Ask) -> None:
    """One share given: the other plant has what is left, and that is said."""
    answer = ask(f"{PAIR}&share_a=0.7")

    assert 0.3 == answer["question"]["share_b"]
    assert any("what A leaves" in note for note in answer["notes"])


@pytest.mark.parametrize(
    ("share", "told"), [("0.8", "come to 1.60, more than the ground"), ("0.2", "as bare")]
)
def test_a_pair_says_what_its_shares_leave_as_a_planting_does(
    ask: Ask, client: FlaskClient, share: str, told: str
) -> None:
    """Shares above the ground or below it are said, in a pair in the words of a planting of two (issue 5)."""
    pair = ask(f"{PAIR}&share_a={share}&share_b={share}")["notes"]
    asked = [("plant", HERB_ID), ("plant", ROOT_ID), ("share", share), ("share", share)]
    planting = client.get("/judgements", query_string=asked).get_json()["notes"]

    assert [note for note in planting if told in note] == [note for note in pair if told in note] != []


def test_no_ground_left_is_refused(client: FlaskClient) -> None:
    """All the ground for one needs a word on the other."""
    assert "share_b" in client.get(f"{PAIR}&share_a=1").get_json()["detail"]


def test_spacing_is_a_share_of_the_ground(ask: Ask, client: FlaskClient) -> None:
    """Share = plants per m2 x (own spacing)2 (computation-notes 3): twice the spacing, a quarter."""
    near = ask(f"{PAIR}&spacing_a_m=4&spacing_b_m=4")["question"]
    far = ask(f"{PAIR}&spacing_a_m=8&spacing_b_m=4")["question"]
    refused = client.get(f"{PAIR}&spacing_a_m=0.01")

    assert far["share_a"] == pytest.approx(near["share_a"] / 4, abs=0.001)
    assert 400 == refused.status_code == client.get(f"{PAIR}&spacing_a_m=1e-300").status_code
    assert "closer than a stand" in refused.get_json()["detail"]


def test_closer_than_the_books_is_a_whole_stand_and_told() -> None:
    """Gooseberries as cordons stand .3-.45 m apart (common practice), bushes 1.4-1.5 m: neither is refused.

    The rule books of the base print 1.36 to 1.93 m (Bailey 1911, Iowa State 1996, Kains 1935).
    """
    client = create_app(open_repository(None), testing=True).test_client()
    asked = "a=gooseberry&b=carrot&spacing_b_m=0.2"
    told = "stands closer than it does alone"
    cordon = client.get(f"/pairs?{asked}&spacing_a_m=0.35").get_json()
    bush = client.get(f"/pairs?{asked}&spacing_a_m=2").get_json()
    planting = client.get("/judgements?plant=gooseberry&plant=carrot&spacing_m=0.35&spacing_m=0.2").get_json()

    assert 1.0 == cordon["question"]["share_a"] == planting["question"]["plants"][0]["share"]
    assert [True, False] == [any(told in note for note in answer["notes"]) for answer in (cordon, bush)]
    assert any(told in note for note in planting["notes"])
    assert 400 == client.get(f"/pairs?{asked}&spacing_a_m=0.1").status_code


def test_a_sowing_week_is_for_annuals(client: FlaskClient) -> None:
    """Of a plant that stays, a week in which nobody sows it would be taken and ignored; it is refused."""
    refused = client.get(f"{PAIR}&sow_week_a=48")

    assert 400 == refused.status_code
    assert "acts only on annuals" in refused.get_json()["detail"]
    assert 200 == client.get(f"{PAIR}&sow_week_b=14").status_code


def test_what_follows_and_lasts_has_a_week_of_planting(ask: Ask, client: FlaskClient) -> None:
    """The week of the second is that of planting; of a lasting first only that of clearing says anything."""
    after = f"/pairs?a={HERB_ID}&b={TREE_ID}&setting=follow"
    planted, refused = ask(f"{after}&clear_week_a=44&sow_week_b=48"), client.get(f"{after}&sow_week_a=14")

    assert (48, 4) == (planted["question"]["sow_week_b"], planted["question"]["gap_weeks"])
    assert any("lasts for years: its week" in note for note in planted["notes"])
    assert 400 == refused.status_code
    assert "clear_week_a says when" in refused.get_json()["detail"]


def test_how_long_the_first_stood_is_taken_of_what_lasts(ask: Ask, client: FlaskClient) -> None:
    """`interface.md` has the age among the parameters of a setting; of an annual it would be ignored."""
    stood = ask(f"/pairs?a={HERB_ID}&b={ROOT_ID}&setting=follow&age_a_years=4")
    refused = [
        client.get(f"/pairs?a={a}&b={b}&setting=follow&{age}=4")
        for a, b, age in ((ROOT_ID, HERB_ID, "age_a_years"), (HERB_ID, ROOT_ID, "age_b_years"))
    ]

    assert 4 == stood["question"]["age_a_years"]
    assert any("stood for 4 years" in note for note in stood["notes"])
    assert [400, 400] == [answer.status_code for answer in refused]
    assert "grown for one season" in refused[0].get_json()["detail"]


def test_soil_and_latitude_move_the_answer(ask: Ask) -> None:
    """Shallow soil squeezes roots together; the same pair is not told the same losses."""
    deep, shallow = ask(PAIR), ask(f"{PAIR}&soil_depth_m=0.2")

    assert deep["loss"] != shallow["loss"]


@pytest.mark.parametrize("address", [PAIR, f"{PAIR}&share_a=0.6", f"/plants/{HERB_ID}/candidates", UNDER])
def test_every_record_behind_a_reason_opens(ask: Ask, address: str) -> None:
    """Evidence can be looked at: each IRI in a reason has an address."""
    iris = set(record_iris(ask(address)))

    assert iris
    for iri in iris:
        assert iri == ask(f"/records/{iri.removeprefix('https://w3id.org/traitbed/record.')}")["record"]["id"]


def test_changing_a_record_changes_the_answer(ask: Ask, repository: MemoryRepository) -> None:
    """The record named as evidence is what the answer rests on: another depth, other losses."""
    before = ask(PAIR)
    depth = next(r for r in ROOT.records if r.trait == "effective-rooting-depth")
    assert depth.iri in set(record_iris(before))

    repository.put_plant(with_depth(ROOT, "0.15", "0.2"))
    after = ask(PAIR)

    assert before["loss"] != after["loss"]
    assert before["dataset_version"] != after["dataset_version"]


def test_a_plant_with_itself_is_like_with_like(ask: Ask) -> None:
    """Nothing gained, nothing lost (interface.md)."""
    answer = ask(f"/pairs?a={HERB_ID}&b={HERB_ID}")

    assert "like" == answer["verdict"]
    assert {HERB_ID, f"{HERB_ID}#2"} == set(answer["loss"])


def test_swapping_the_plants_changes_no_number(ask: Ask) -> None:
    """The order of the names is no argument (trade J2)."""
    there, back = ask(PAIR), ask(f"/pairs?a={ROOT_ID}&b={HERB_ID}")

    assert there["loss"] == back["loss"]
    assert (there["verdict"], there["sharing"]) == (back["verdict"], back["sharing"])


def test_a_pair_under_a_tree_shows_the_tree(ask: Ask) -> None:
    """The tree as it is reckoned with, and the distance, are in the question."""
    question = ask(f"/pairs?a={TREE_ID}&b={HERB_ID}&setting=under&height_m=4&side=N")["question"]

    assert 4 == question["tree"]["height_m"]
    assert ["height_m"] == question["tree"]["given"]
    assert question["distance_m"] == pytest.approx(question["tree"]["crown_radius_m"])


@pytest.mark.parametrize(("radii", "said"), [(1, False), (2.5, False), (2.7, True), (100, True)])
def test_beyond_the_roots_of_the_tree_is_said(ask: Ask, radii: float, said: bool) -> None:
    """99 % of them lie within (ln 100)^(1/1.6) = 2.6 crown radii (computation-notes 1.1: x95 is 1.985)."""
    at = f"height_m=4&crown_radius_m=2&distance_m={2 * radii:g}"
    notes = ask(f"/pairs?a={TREE_ID}&b={HERB_ID}&setting=under&{at}")["notes"]

    assert said == any("is beyond the roots of" in note for note in notes)


@pytest.mark.parametrize(
    "address",
    [f"/pairs?a={HERB_ID}&b={TREE_ID}&setting=under", f"/plants/{HERB_ID}/under"],
)
def test_a_herb_is_no_tree(client: FlaskClient, address: str) -> None:
    """Nothing is planted under a herb; the tree has to be named."""
    response = client.get(address)

    assert 400 == response.status_code
    assert "tree or shrub" in response.get_json()["detail"]


def test_candidates_are_ranked_by_the_cautious_end(ask: Ask) -> None:
    """An unknown must not climb the list: what may be worse stands lower (trade 4.14)."""
    answer = ask(f"/plants/{HERB_ID}/candidates")
    ranked = [row["b"] for row in answer["candidates"]]

    assert {TREE_ID, ROOT_ID, BEAN_ID} == set(ranked)
    assert answer["total"] == len(ranked)
    assert all(row["cautions"] for row in answer["candidates"])


@pytest.mark.parametrize("address", [f"/plants/{HERB_ID}/candidates", UNDER])
def test_what_is_not_computed_is_said_once_for_the_list(ask: Ask, address: str) -> None:
    """A mechanism left out is named in the notes of the answer, not only in its rows (issue 3, point 5)."""
    assert any(note.startswith("Not computed") for note in ask(address)["notes"])


def test_a_plant_with_cautions_only_is_taken_in_on_request(ask: Ask) -> None:
    """A look-alike that nobody plants is no suggestion; that it was left out is said."""
    plain = ask(f"/plants/{HERB_ID}/candidates")
    asked = ask(f"/plants/{HERB_ID}/candidates?include=cautions-only")

    assert WEED_ID not in [row["b"] for row in plain["candidates"]]
    assert any("left out" in note for note in plain["notes"])
    assert WEED_ID in [row["b"] for row in asked["candidates"]]


def test_excluded_plants_stay_out(ask: Ask, client: FlaskClient) -> None:
    """By any of their names; an unknown name is an error, not a shrug."""
    answer = ask(f"/plants/{HERB_ID}/candidates?exclude=trial%20tree,{BEAN_ID}")

    assert [ROOT_ID] == [row["b"] for row in answer["candidates"]]
    assert 404 == client.get(f"/plants/{HERB_ID}/candidates?exclude=nonesuch").status_code


def test_pages_of_candidates_join(ask: Ask) -> None:
    """One by one they are the same list."""
    whole = [row["b"] for row in ask(f"/plants/{HERB_ID}/candidates")["candidates"]]
    seen: list[str] = []
    token = ""
    while True:
        answer = ask(f"/plants/{HERB_ID}/candidates?limit=1{token}")
        seen += [row["b"] for row in answer["candidates"]]
        if not answer["next"]:
            break
        token = f"&after={answer['next']}"

    assert whole == seen


def test_under_answers_by_ring_side_and_year(ask: Ask) -> None:
    """Every place has twelve months of light and the tree's root draw, now and later."""
    answer = ask(f"{UNDER}&years=0,10&limit=1")

    assert {0, 10} == {ring["year"] for ring in answer["rings"]}
    assert {"inner", "mid", "crown edge", "outside"} == {ring["ring"] for ring in answer["rings"]}
    assert all(12 == len(ring["light"]) for ring in answer["rings"])
    assert all(len(ring["plants"]) <= 1 for ring in answer["rings"])
    assert "site-work" == answer["cautions"][0]["kind"]


def test_the_tree_draws_less_outside_its_crown(ask: Ask) -> None:
    """h(x) falls with distance (computation-notes 1.1)."""
    draw = {ring["ring"]: ring["root_draw"] for ring in ask(UNDER)["rings"]}

    assert draw["inner"] > draw["crown edge"] > draw["outside"]


def test_the_north_side_of_a_tree_is_darker(ask: Ask) -> None:
    """At 51 N the sun stands in the south; at 37 S it is the other way round (astronomy)."""

    def june_or_december(query: str, month: int) -> dict[str, float]:
        rings = ask(f"{UNDER}{query}")["rings"]
        return {r["side"]: r["light"][month] for r in rings if r["ring"] == "crown edge"}

    north, south = june_or_december("", 8), june_or_december("&latitude=-37", 2)

    assert north["N"] < north["S"]
    assert south["S"] < south["N"]


def test_one_side_can_be_asked_for(ask: Ask) -> None:
    """Only that side is answered."""
    assert {"E"} == {ring["side"] for ring in ask(f"{UNDER}&side=E")["rings"]}


def test_the_words_on_digging_and_trees_are_there(ask: Ask) -> None:
    """Buried services, roots, protection, buildings: the usual words, before any merit (trade 8)."""
    words = " ".join(c["text"] for c in ask(UNDER)["cautions"] if c["kind"] == "site-work")

    for word in ("buried", "roots", "protected", "local rules", "licensed arborist"):
        assert word in words


def test_known_facts_of_another_tree_change_nothing(ask: Ask, repository: MemoryRepository) -> None:
    """A record of a plant that is not asked about moves no number of this pair."""
    before = ask(PAIR)
    repository.put_plant(with_depth(TREE, "0.2", "0.4"))

    assert before["loss"] == ask(PAIR)["loss"]
    assert HERB.id == before["a"]


def test_a_herb_that_lasts_is_sown_in_its_first_season(ask: Ask, client: FlaskClient) -> None:
    """The week is shown and its age is 0; out of its weeks, or with an age, it is refused as before."""
    answer = ask(f"/pairs?a={ROOT_ID}&b={HERB_ID}&sow_week_b=14")

    assert (14, 0) == (answer["question"]["sow_week_b"], answer["question"]["age_b_years"])
    assert any("judged in its first season, sown in week 14" in note for note in answer["notes"])
    for more in ("sow_week_b=48", "sow_week_b=14&age_b_years=2"):
        assert 400 == client.get(f"/pairs?a={ROOT_ID}&b={HERB_ID}&{more}").status_code
