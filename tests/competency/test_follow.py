"""B on the ground after A, asked over HTTP: real plants, what is refused, what is shown."""

from typing import Any

import pytest

from api.app import create_app
from api.parsing import parse
from kb.errors import BadParameter
from kb.repository import open_repository


@pytest.fixture(scope="module")
def client() -> Any:
    """The service over the shipped base."""
    return create_app(open_repository(), testing=True).test_client()


def ask(client: Any, **query: Any) -> Any:
    return client.get("/pairs", query_string={"setting": "follow", **query})


def test_leek_after_garlic_is_objected_to(client: Any) -> None:
    """Garlic, then leek: white rot and rust are shared, the tool must object (`trade` 5.3)."""
    said = ask(client, a="garlic", b="leek", sow_week_b=28, clear_week_a=27).json

    assert "poor" == said["verdict"]
    assert "white rot" in " ".join(reason["text"] for reason in said["reasons"])


def test_cabbage_after_picked_peas_gets_little(client: Any) -> None:
    """Good for timing; only a few per cent of the cabbage's nitrogen (case T12)."""
    said = ask(client, a="pea", b="cabbage", use_a="harvested").json

    assert said["verdict"] in {"good", "workable"}
    assert said["nitrogen"]["g_per_m2"][1] < 2
    assert said["sharing"] is None


@pytest.mark.parametrize("first", ["potato", "broad bean"])
def test_leeks_set_out_in_july_follow_what_is_lifted_by_then(client: Any, first: str) -> None:
    """Leeks planted on 8 July, week 28 (`trade` 5.3, worked plan), after another family: good, and how."""
    said = ask(client, a=first, b="leek", sow_week_b=28, clear_week_a=27).json
    texts = [reason["text"] for reason in said["reasons"]]

    assert "good" == said["verdict"]
    assert any("leek, set out as young plants, starts 1 week later" in text for text in texts)


def test_a_crop_of_the_seed_bed_follows_in_the_same_year(client: Any) -> None:
    """Sprouts after picked peas the same summer (common practice); radish after cabbage waits for spring."""
    sprouts = ask(client, a="pea", b="brussels sprouts").json
    radish = ask(client, a="cabbage", b="radish").json

    assert ("good", True) == (sprouts["verdict"], 0 < sprouts["question"]["gap_weeks"] < 3)
    assert any("of the next year" in reason["text"] for reason in radish["reasons"])


def test_a_green_manure_is_dug_in_and_does_not_leave(client: Any) -> None:
    """Mustard dug in before cabbage: common practice."""
    said = ask(client, a="sinapis-alba", b="cabbage", use_a="dug-in").json
    texts = [reason["text"] for reason in said["reasons"]]

    assert any("is dug in about week" in text for text in texts)
    assert not any("leaves the ground" in text for text in texts)


def test_ground_with_clubroot_is_no_place_for_cabbage(client: Any) -> None:
    """A named history is found by its common name (clubroot) and holds the verdict down."""
    said = ask(client, a="lettuce", b="cabbage", history="clubroot").json

    assert ("avoid", ["plasmodiophora-brassicae"]) == (said["verdict"], said["question"]["history"])


def test_what_lives_in_the_ground_counts_where_plants_stand_together(client: Any) -> None:
    """Clubroot lasts in the ground and attacks cabbage (Pacific Northwest handbook): all three say so."""
    bed = client.get("/pairs?a=cabbage&b=carrot&history=clubroot").json
    free = client.get("/pairs?a=carrot&b=lettuce&history=clubroot").json
    listed = client.get("/plants/lettuce/candidates?history=clubroot&limit=200").json["candidates"]
    whole = client.get("/judgements?plant=lettuce&plant=cabbage&history=clubroot").json

    assert ("avoid", "enemies") == (bed["verdict"], bed["limiting"]["kind"])
    assert "clubroot" in bed["limiting"]["text"]
    assert "avoid" != free["verdict"]
    assert {"avoid"} >= {row["verdict"] for row in listed if row["b"].startswith("brassica-oleracea")}
    assert ("avoid", ["clubroot"]) == (whole["verdict"], whole["question"]["site"]["history"])


@pytest.mark.parametrize(
    "address",
    [
        "/pairs?a=hazel&b=hawthorn",
        "/judgements?plant=hazel&plant=hawthorn",
        "/plants/hawthorn/candidates?limit=3",
    ],
)
def test_a_plant_that_no_list_names_is_not_told_as_safe(client: Any, address: str) -> None:
    """Nobody here says whether honey fungus attacks hawthorn: the answer says that, for lack of a record."""
    notes = client.get(f"{address}&history=honey fungus").json["notes"]

    assert any(
        "honey fungus attacks" in note and "hawthorn" in note and "not judged" in note for note in notes
    )
    assert not any("clubroot" in note for note in notes)


def test_ground_with_honey_fungus_is_not_for_its_hosts(client: Any) -> None:
    """Hazel and pear die of it (disease handbooks of the Pacific Northwest and of California)."""
    hazel = client.get("/pairs?a=hazel&b=hawthorn&setting=hedge&history=honey fungus").json
    pear = client.get("/plants/pear/under?height_m=5&latitude=51&history=honey fungus&limit=1").json

    assert ("avoid", "enemies") == (hazel["verdict"], hazel["limiting"]["kind"])
    assert "honey fungus" in hazel["limiting"]["text"]
    assert {"avoid"} == {row["verdict"] for ring in pear["rings"] for row in ring["plants"]}


@pytest.mark.parametrize("name", ["white rot", "stromatinia"])
def test_a_part_of_a_name_that_only_one_enemy_has_is_that_enemy(client: Any, name: str) -> None:
    """Gardeners say white rot (common practice); the answer says which one was understood."""
    said = ask(client, a="lettuce", b="onion", gap_years=1, history=name).json

    assert ["stromatinia-cepivora"] == said["question"]["history"]
    assert any("taken to be white rot of onion" in note for note in said["notes"])


def test_a_part_of_several_names_is_offered_each_once(client: Any) -> None:
    """There are a white and a yellow beet cyst nematode (Dutch nematode scheme): neither is guessed."""
    answer = ask(client, a="lettuce", b="beet", history="beet cyst nematode")

    assert 400 == answer.status_code
    detail = answer.json["errors"][0]["detail"]
    assert "it may be: white beet cyst nematode, yellow beet cyst nematode." in detail


def test_a_species_is_a_host_of_what_all_its_groups_are_hosts_of(client: Any) -> None:
    """Beet cyst nematode breeds on beet and on cabbages alike (nematology handbooks)."""
    said = ask(client, a="beet", b="brassica-oleracea", gap_years=1, history="white beet cyst nematode").json

    assert ("poor", "enemies") == (said["verdict"], said["limiting"]["kind"])
    assert "through its cultivar groups (not recorded for" in said["limiting"]["text"]


@pytest.mark.parametrize(
    ("query", "name", "words"),
    [
        ({"history": "late blight"}, "history", "does not wait in the ground"),
        ({"history": "club rot"}, "history", "nearest"),
        ({"soil_depth_m": "1"}, "soil_depth_m", "stand together"),
        ({"share_a": "0.5"}, "share_a", "stand together"),
        ({"gap_weeks": "2", "gap_years": "2"}, "gap_years", "one of them"),
        ({"given": "frame"}, "given", "changes nothing"),
        ({"use_a": "eaten"}, "use_a", "harvested"),
        ({"gap_years": "0"}, "gap_years", "more than 0"),
    ],
)
def test_what_cannot_act_is_refused_by_name(
    client: Any, query: dict[str, str], name: str, words: str
) -> None:
    """Every fault names the parameter and says how to mend it; nothing is ignored."""
    answer = ask(client, a="lettuce", b="cabbage", **query)

    assert 400 == answer.status_code
    assert [name] == [fault["parameter"] for fault in answer.json["errors"]]
    assert words in answer.json["errors"][0]["detail"]


def test_follow_words_are_refused_in_a_bed() -> None:
    """A gap between two crops means nothing where they stand together."""
    with pytest.raises(BadParameter) as caught:
        parse("pair", [("a", "x"), ("b", "y"), ("gap_weeks", "2")])

    assert "setting=follow" in str(caught.value.faults[0].detail)


def test_a_plant_that_stays_needs_a_week_of_clearing(client: Any) -> None:
    """Weeks after a perennial can only be counted from the week in which it is cleared."""
    answer = ask(client, a="raspberry", b="cabbage", gap_weeks=2)

    assert 400 == answer.status_code
    assert "clear_week_a" in answer.json["errors"][0]["detail"]


def test_the_page_says_which_comes_first(client: Any) -> None:
    """The page of a succession is headed so and can be asked anew."""
    page = client.get("/pairs?a=pea&b=cabbage&setting=follow", headers={"Accept": "text/html"}).get_data(
        as_text=True
    )

    assert ", then " in page
    assert "Judge one after the other" in page


@pytest.mark.parametrize(
    "asked",
    [
        "/pairs?a=lettuce&b=lepidium-sativum&history=clubroot",
        "/pairs?a=lettuce&b=barbarea-verna&history=clubroot&setting=follow",
        "/pairs?a=lepidium-sativum&b=cabbage&setting=follow&use_a=dug-in",
        "/pairs?a=barbarea-verna&b=cabbage",
    ],
)
def test_clubroot_counts_for_the_whole_family_in_every_setting(client: Any, asked: str) -> None:
    """Printed: "All members of the cabbage family are susceptible" (Pacific pest sheets)."""
    said = client.get(asked).json
    texts = [reason["text"] for reason in said["reasons"] if reason["kind"] == "enemies"]

    assert said["verdict"] in {"workable", "poor"}
    assert any("lubroot" in text and "itself" in text for text in texts)


@pytest.mark.parametrize("first", ["sinapis-alba", "eruca-vesicaria", "brassica-juncea", "lepidium-sativum"])
def test_a_crucifer_dug_in_is_no_forerunner_of_cabbage(client: Any, first: str) -> None:
    """Printed: "less suitable for crop rotation with cabbage" (a seed house on yellow mustard)."""
    said = ask(client, a=first, b="cabbage", use_a="dug-in", clear_week_a="18").json

    assert "poor" == said["verdict"]
    assert "clubroot" in said["limiting"]["text"]


@pytest.mark.parametrize("word", ["potato cyst nematode", "potato cyst nematodes", "globodera"])
def test_ground_with_potato_cyst_nematodes_is_no_place_for_tomato(client: Any, word: str) -> None:
    """Tomato and aubergine are major hosts beside potato (state department of agriculture, Oregon)."""
    tomato = client.get(f"/pairs?a=lettuce&b=tomato&history={word}").json
    lettuce = client.get(f"/pairs?a=lettuce&b=carrot&history={word}").json

    assert ("poor", "enemies") == (tomato["verdict"], tomato["limiting"]["kind"])
    assert "nematode" not in str(lettuce["limiting"])


def test_clover_dug_in_before_cabbage_is_good(client: Any) -> None:
    """The indicator of dry places says where crimson clover grows wild (held-out case; common practice)."""
    said = ask(client, a="trifolium-incarnatum", b="cabbage", use_a="dug-in").json

    assert "good" == said["verdict"]
    assert not any(reason["kind"] == "water" for reason in said["reasons"])


def test_wilt_of_the_rotation_row_is_said_of_brambles(client: Any) -> None:
    """Potato, then raspberry or blackberry: one row of the table, four years (Verticillium wilt)."""
    for bramble in ("raspberry", "blackberry"):
        said = ask(client, a="potato", b=bramble).json
        assert "Verticillium wilt" in said["limiting"]["text"]


@pytest.mark.parametrize(
    "asked",
    [
        "/pairs?a=spinach&b=onion&sow_week_a=53",
        "/pairs?a=apple&b=broad bean&setting=under&sow_week_b=53",
        "/pairs?a=carrot&b=spinach&setting=follow&sow_week_b=53",
        "/plants/allium-cepa/candidates?sow_week_a=53&limit=1",
        "/judgements?plant=spinach&plant=onion&sow_week=53&sow_week=53",
    ],
)
def test_week_53_of_crops_with_several_sowings_is_week_1(client: Any, asked: str) -> None:
    """The last week of ISO 8601, for crops that choose among their sowings: reckoned as week 1, and said."""
    last, first = client.get(asked), client.get(asked.replace("=53", "=1"))
    told = last.json

    assert (200, 200) == (last.status_code, first.status_code)
    assert any("Week 53" in note for note in told["notes"])
    assert all(told.get(name) == first.json.get(name) for name in ("verdict", "score", "loss", "members"))
