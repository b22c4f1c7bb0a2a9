"""Whole plantings over HTTP: plants side by side in the address, or a plan in JSON, strictly read."""

import json
from collections.abc import Callable
from typing import Any

import pytest
from flask.testing import FlaskClient

from tests.api.invented import BEAN_ID, HERB_ID, ROOT_ID, TREE_ID

Ask = Callable[[str], Any]
THREE = f"/judgements?plant={HERB_ID}&plant={ROOT_ID}&plant={BEAN_ID}"


def post(client: FlaskClient, plan: Any) -> Any:
    data = plan if isinstance(plan, bytes) else json.dumps(plan).encode()
    return client.post("/judgements", data=data, content_type="application/json")


def faults(client: FlaskClient, plan: Any) -> dict[str, str]:
    """Place -> what is wrong there."""
    response = post(client, plan)
    assert 400 == response.status_code, response.text
    return {
        fault.get("pointer", fault.get("parameter")): fault["detail"]
        for fault in response.get_json()["errors"]
    }


def refused(client: FlaskClient, address: str) -> dict[str, str]:
    response = client.get(address)
    assert 400 == response.status_code, response.text
    return {fault["parameter"]: fault["detail"] for fault in response.get_json()["errors"]}


def test_what_each_gets_comes_with_every_share_in_sight(ask: Ask) -> None:
    """Shares that were not given are equal parts, said in the question and in the notes."""
    answer = ask(THREE)

    assert {round(row["share"], 3) for row in answer["question"]["plants"]} == {0.333}
    assert {"equal parts"} == {row["share_from"] for row in answer["question"]["plants"]}
    assert "33 %" in answer["notes"][0]
    assert [12, 4] == [len(answer["members"][0]["light"]), len(answer["members"][0]["roots"])]
    assert answer["worst_pair"] == answer["pairs"][0]
    assert "no yield" in answer["kept"]["note"]


def test_the_plan_of_an_answer_asks_the_same_again(ask: Ask, client: FlaskClient) -> None:
    """Any answer can be rebuilt from its plan."""
    address = (
        f"{THREE}&share=0.4&share=-&share=0.2&sow_week=-&sow_week=18&sow_week=-&soil_depth_m=0.4&given=frame"
    )
    answer = ask(address)
    again = post(client, answer["plan"]).get_json()

    left_out = {"question", "notes"}
    assert {k: v for k, v in answer.items() if k not in left_out} == {
        k: v for k, v in again.items() if k not in left_out
    }


def test_a_tree_stands_over_its_planting(ask: Ask, client: FlaskClient) -> None:
    """Named in the address or in a plan, the tree is the first member; words on digging come first."""
    answer = ask(f"/judgements?plant={HERB_ID}&tree={TREE_ID}&height_m=6&distance_m=2&side=N")
    plan = {
        "plants": [{"plant": HERB_ID, "distance_m": 2, "side": "N"}],
        "tree": {"plant": TREE_ID, "height_m": 6},
    }

    assert [True, False] == [member["overhead"] for member in answer["members"]]
    assert "site-work" == answer["cautions"][0]["kind"]
    assert answer["score"] == post(client, plan).get_json()["score"]


def test_spacing_stands_for_a_share(ask: Ask) -> None:
    """Twice the distance in a stand of its own is a quarter of the ground."""
    sole = ask(f"/judgements?plant={HERB_ID}&share=1")["question"]["plants"][0]["spacing_m"]
    wide = ask(f"/judgements?plant={HERB_ID}&spacing_m={2 * sole}")["question"]["plants"][0]

    assert (0.25, "spacing") == (pytest.approx(wide["share"], abs=1e-3), wide["share_from"])


def test_order_and_naming_twice_change_nothing(ask: Ask) -> None:
    """The same plants in another order, or one in two parts, have the same verdict and score."""
    one = ask(f"/judgements?plant={HERB_ID}&plant={ROOT_ID}&share=0.5&share=0.4")
    other = ask(
        f"/judgements?plant={ROOT_ID}&plant={HERB_ID}&plant={HERB_ID}&share=0.4&share=0.25&share=0.25"
    )

    assert (one["verdict"], one["score"], one["saying"]) == (
        other["verdict"],
        other["score"],
        other["saying"],
    )


def test_empty_rows_of_a_form_say_nothing(ask: Ask) -> None:
    """A browser sends fields that were left empty; a row without anything in it is no plant."""
    answer = ask(f"/judgements?plant={HERB_ID}&share=&plant=&share=&plant={ROOT_ID}&share=&tree=&height_m=")

    assert [HERB_ID, ROOT_ID] == [row["plant"] for row in answer["question"]["plants"]]
    assert answer["question"]["tree"] is None


def test_a_hedge_is_asked_by_parameters_and_by_its_plan(ask: Ask, client: FlaskClient) -> None:
    """Shares of the row, its kept height; the plan that comes back asks the same again."""
    answer = ask(f"/judgements?plant={TREE_ID}&plant={HERB_ID}&setting=hedge&height_m=1.5")
    again = client.post("/judgements", json=answer["plan"]).get_json()

    assert ("hedge", 1.5) == (answer["question"]["setting"], answer["question"]["height_m"])
    assert [None, None] == [row["spacing_m"] for row in answer["question"]["plants"]]
    assert answer["verdict"] == again["verdict"]
    assert answer["members"] == again["members"]
    assert any("Kept at 1.5 m" in note for note in answer["notes"])


def test_a_plan_names_what_lives_in_its_ground(client: FlaskClient) -> None:
    """History is taken as a list; a pest that nobody knows is refused by name."""
    refused_plan = {"plants": [{"plant": ROOT_ID}], "site": {"history": ["no such rot"]}}
    answer = client.post("/judgements", json=refused_plan)

    assert (400, "no such rot") == (answer.status_code, answer.get_json()["detail"].split("'")[1])


def test_an_empty_height_of_a_hedge_is_left_out(client: FlaskClient) -> None:
    """A browser sends the field of a pair's form that nobody filled in; to a script it is a slip."""
    pair = f"/pairs?a={TREE_ID}&b={HERB_ID}&setting=hedge&height_m="
    found = [
        client.get(pair, headers={"Accept": kind}).status_code for kind in ("text/html", "application/json")
    ]

    assert [200, 400] == found


def test_an_empty_history_says_nothing(client: FlaskClient) -> None:
    """A program that always sends the list asks the same as one that leaves it out."""
    plan = {"plants": [{"plant": ROOT_ID}]}
    silent, empty = (post(client, {**plan, "site": site}).get_json() for site in ({}, {"history": []}))

    assert (silent["question"]["site"], silent["members"]) == (empty["question"]["site"], empty["members"])


@pytest.mark.parametrize(
    ("changes", "at"),
    [
        ({"height_m": 2}, "/height_m"),
        ({"setting": "hedge", "tree": TREE_ID}, "/setting"),
        ({"setting": "bed", "tree": TREE_ID}, "/setting"),
        ({"site": {"history": ["no such rot"]}}, "/site/history"),
        ({"site": {"history": [None]}}, "/site/history"),
    ],
)
def test_what_acts_on_nothing_in_a_plan_is_told_by_its_place(
    client: FlaskClient, changes: dict[str, object], at: str
) -> None:
    """A height without a hedge, a bed or hedge under a tree, an enemy that nobody knows."""
    answer = client.post("/judgements", json={"plants": [{"plant": ROOT_ID}], **changes})

    assert 400 == answer.status_code
    assert at in [one["pointer"] for one in answer.get_json()["errors"]]


def test_a_browser_gets_the_form(client: FlaskClient) -> None:
    """Without plants a browser is shown the form, and a script is told what is missing."""
    page = client.get("/judgements", headers={"Accept": "text/html"})

    assert (200, True) == (page.status_code, "Judge the planting" in page.text)
    assert "plant" in refused(client, "/judgements")


@pytest.mark.parametrize(
    ("query", "parameter", "said"),
    [
        (f"plant={HERB_ID}&plant={ROOT_ID}&share=0.5", "share", "once for 2 plants"),
        (f"plant={HERB_ID}&share=2", "share", "of plant 1: 2 is out of range"),
        (f"plant={HERB_ID}&plant=inventa-herbacea2", "plant", "number 2: No plant"),
        (f"plant={HERB_ID}&sow_week=20", "sow_week", "acts only on annuals"),
        (f"plant={ROOT_ID}&plant_age_years=3", "plant_age_years", "acts only on lasting plants"),
        (f"plant={ROOT_ID}&distance_m=3", "distance_m", "acts only under a tree"),
        (f"plant={ROOT_ID}&height_m=3", "height_m", "under a tree"),
        (f"plant={ROOT_ID}&setting=hedge&spacing_m=1", "spacing_m", "give the share of the row"),
        (f"plant={ROOT_ID}&setting=hedge&tree={TREE_ID}", "setting", "judged in the open"),
        (f"plant={ROOT_ID}&setting=bed&tree={TREE_ID}&height_m=5", "setting", "judged in the open"),
        (f"plant={ROOT_ID}&crown_radius_m=2", "crown_radius_m", "under a tree (name it: tree)"),
        (f"plant={ROOT_ID}&setting=under", "setting", "is not one of bed, hedge"),
        (f"plant={ROOT_ID}&share=0.5&spacing_m=0.5", "spacing_m", "same as share"),
        (f"plant={ROOT_ID}&spacing_m=0.01", "spacing_m", "closer than a stand"),
        (f"plant={ROOT_ID}&spacing_m=1e-300", "spacing_m", "closer than a stand"),
        (f"plant={ROOT_ID}&sow_week=18&clear_week=18", "clear_week", "week in which it is sown"),
        (f"plant={ROOT_ID}&plant={HERB_ID}&share=1&share=-", "share", "leave no ground"),
        (f"plant={ROOT_ID}&plant={ROOT_ID}&share=0.8&share=0.8", "plant", "full stand"),
        (f"plant=&share=0.3&plant={ROOT_ID}&share=", "plant", "number 1 has no name"),
        ("&".join(f"plant={ROOT_ID}" for _ in range(201)), "plant", "at most 200"),
        (f"plant={ROOT_ID}&tree={HERB_ID}", "tree", "tree or shrub"),
    ],
)
def test_what_cannot_be_is_refused(client: FlaskClient, query: str, parameter: str, said: str) -> None:
    """With the parameter, the plant it is about, and how to mend it."""
    assert said in refused(client, f"/judgements?{query}")[parameter]


@pytest.mark.parametrize(
    ("plan", "pointer", "said"),
    [
        ([], "", "JSON object"),
        ({}, "/plants", "is missing; give a list of at least one plant"),
        ({"plants": []}, "/plants", "is empty; give a list of at least one plant"),
        ({"plants": "maize"}, "/plants", "is no list; give a list of at least one plant"),
        ({"plants": [{"plant": HERB_ID}] * 201}, "/plants", "at most 200"),
        ({"plants": [{}]}, "/plants/0/plant", "is missing"),
        (
            {"plants": [{"plant": HERB_ID}, {"plant": "trial herp"}]},
            "/plants/1/plant",
            "Nearest names: trial herb",
        ),
        ({"plants": [{"plant": HERB_ID, "shade": 1}]}, "/plants/0/shade", "did you mean 'share'?"),
        ({"plants": [{"plant": HERB_ID, "share": "0.5"}]}, "/plants/0/share", "must be a number"),
        ({"plants": [{"plant": HERB_ID, "share": True}]}, "/plants/0/share", "must be a number"),
        ({"plants": [{"plant": 7}]}, "/plants/0/plant", "must be a text"),
        ({"plants": [{"plant": HERB_ID, "sow_week": 20.5}]}, "/plants/0/sow_week", "not a whole number"),
        ({"plants": [{"plant": HERB_ID, "age_years": -1}]}, "/plants/0/age_years", "out of range"),
        ({"plants": [{"plant": ROOT_ID, "age_years": 2}]}, "/plants/0/age_years", "lasting plants"),
        ({"plants": [HERB_ID]}, "/plants/0", "must be an object"),
        ({"plants": [{"plant": HERB_ID}], "site": {"latitude": 91}}, "/site/latitude", "out of range"),
        (
            {"plants": [{"plant": HERB_ID}], "site": {"last_frost": "--08-30"}},
            "/site/last_frost",
            "midsummer",
        ),
        ({"plants": [{"plant": HERB_ID}], "site": []}, "/site", "must be an object"),
        ({"plants": [{"plant": HERB_ID}], "tree": {"height_m": 4}}, "/tree/plant", "name the tree"),
        (
            {"plants": [{"plant": HERB_ID}], "tree": {"plant": TREE_ID, "height_m": 4, "crown_base_m": 5}},
            "/tree/crown_base_m",
            "below the top",
        ),
        ({"plants": [{"plant": HERB_ID}], "given": "frame"}, "/given", "list of words"),
        ({"plants": [{"plant": HERB_ID}], "given": ["fram"]}, "/given", "did you mean frame"),
        ({"plants": [{"plant": HERB_ID}], "plan": 1}, "/plan", "did you mean 'plants'?"),
        (b"{", "", "not JSON"),
        (b"\xff\xfe", "", "not UTF-8"),
        (b'{"plants": [], "plants": []}', "", "twice"),
        (b'{"plants": [{"plant": "x", "share": NaN}]}', "", "NaN"),
        (b"[" * 60000, "", "too deep"),
    ],
)
def test_bad_plans_are_refused_by_their_place(
    client: FlaskClient, plan: Any, pointer: str, said: str
) -> None:
    """A plan is read strictly: every fault is told by a JSON pointer (RFC 6901), and how to mend it."""
    assert said in faults(client, plan)[pointer]


def test_a_plan_of_an_older_data_set_says_so(client: FlaskClient) -> None:
    """The version in a plan is compared, not ignored."""
    notes = post(client, {"plants": [{"plant": HERB_ID}], "dataset_version": "older"}).get_json()["notes"]

    assert any("data set older" in note for note in notes)


def test_only_json_is_taken(client: FlaskClient) -> None:
    """A body that does not say it is JSON, or is too large, is refused; so is another method."""
    assert 415 == client.post("/judgements", data=b"plants").status_code
    assert 413 == post(client, b" " * 70_000).status_code
    assert 405 == client.put("/judgements").status_code
    assert "no-store" == post(client, {"plants": [{"plant": HERB_ID}]}).headers["Cache-Control"]


def test_nothing_is_asked_beside_a_plan(client: FlaskClient) -> None:
    """The interface: a parameter that is not used is refused, never accepted and ignored."""
    response = client.post("/judgements?latitude=40", json={"plants": [{"plant": HERB_ID}]})

    assert 400 == response.status_code
    assert "latitude" == response.get_json()["errors"][0]["parameter"]


def test_a_packed_body_is_refused(client: FlaskClient) -> None:
    """RFC 9110, section 8.4: a coding that is not undone is answered with 415, not read as it is."""
    headers = {"Content-Type": "application/json", "Content-Encoding": "gzip"}

    assert 415 == client.post("/judgements", data=b"{}", headers=headers).status_code


def test_a_lasting_herb_that_is_cleared_is_a_crop_of_one_season(client: FlaskClient) -> None:
    """The week says so, and the answer says what was made of it: nothing is taken and ignored."""
    query = f"/judgements?plant={HERB_ID}&plant={ROOT_ID}&sow_week=16&sow_week=-&clear_week=36&clear_week=-"
    answer = client.get(query)

    assert 200 == answer.status_code
    assert any("is judged as a crop of one season" in note for note in answer.get_json()["notes"])


def test_a_spacing_that_means_no_share_is_told(client: FlaskClient) -> None:
    """Flax is drilled closer than the guess at its stand: nothing of what was given is dropped unsaid."""
    answer = client.get(f"/judgements?plant={ROOT_ID}&plant={HERB_ID}&spacing_m=0.1&spacing_m=").get_json()

    assert "equal parts" == answer["question"]["plants"][0]["share_from"]
    assert any("says nothing of its share" in note for note in answer["notes"])
