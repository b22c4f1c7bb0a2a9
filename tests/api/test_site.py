"""The site of a question over HTTP: every field acts, nonsense is refused, assumptions are said."""

import math
from collections.abc import Callable, Iterator
from typing import Any

import pytest
from flask.testing import FlaskClient

from api.answers.site_rules import with_rules
from api.places import holds_in, named_in
from api.site_asking import SITE_NAMES
from kb.mixture.site import REFERENCE_SITE, Audience, Site
from kb.model import PlantId
from kb.repository import MemoryRepository
from tests.api.invented import HERB_ID, ROOT_ID, TREE_ID

Ask = Callable[[str], Any]
PAIR = f"/pairs?a={HERB_ID}&b={ROOT_ID}"
BROWSER = {"Accept": "text/html"}


def numbers(value: Any) -> Iterator[float]:
    """Every number in an answer."""
    if isinstance(value, dict):
        for inner in value.values():
            yield from numbers(inner)
    elif isinstance(value, list):
        for inner in value:
            yield from numbers(inner)
    elif isinstance(value, float | int):
        yield float(value)


def refused(client: FlaskClient, address: str) -> dict[str, str]:
    response = client.get(address)
    assert 400 == response.status_code, response.text
    return {fault["parameter"]: fault["detail"] for fault in response.get_json()["errors"]}


@pytest.mark.parametrize(
    "site",
    [
        "latitude=90", "latitude=-90", "latitude=0", "latitude=-23.5&wet_months=11,12,1,2,3",
        "last_frost=never", "last_frost=never&first_frost=never&winter_min_c=4",
        "last_frost=every-month", "first_frost=every-month&latitude=-54",
        "latitude=16&last_frost=--03-01&first_frost=--11-01&winter_min_c=-4",
        "soil_texture=sandy-clay-loam&soil_depth_m=0.051&moisture=dry",
        "frost_sd_days=0", "winter_min_c=-60", "open_light=0.01&moisture=12",
    ],
)  # fmt: skip
def test_extreme_sites_are_answered_with_numbers(ask: Ask, site: str) -> None:
    """From pole to pole, frost-free or never free of frost: an answer whose every number is one."""
    answer = ask(f"{PAIR}&{site}")

    assert all(math.isfinite(number) for number in numbers(answer))
    told = answer["question"]["site"]
    assert 12 == len(told["scarcity_by_month"]["mean"])
    assert all(0 <= month <= 1 for course in told["scarcity_by_month"].values() for month in course)


@pytest.mark.parametrize(
    ("site", "parameter", "words"),
    [
        ("latitude=90.5", "latitude", "-90 to 90"),
        ("soil_depth_m=0", "soil_depth_m", "more than 0.05"),
        ("latitude=5&last_frost=--05-10&first_frost=--10-15", "last_frost", "winter_min_c"),
        ("last_frost=never&first_frost=--10-15", "last_frost", "the other frost date"),
        ("last_frost=never&winter_min_c=-5", "winter_min_c", "free of frost"),
        ("latitude=0&winter_min_c=-5", "winter_min_c", "between the tropics"),
        ("winter_min_c=6", "winter_min_c", "last_frost=never"),
        ("last_frost=never&frost_sd_days=8", "frost_sd_days", "leave it out"),
        ("frost_sd_days=61", "frost_sd_days", "0 to 60"),
        ("wet_months=13", "wet_months", "1 to 12"),
        ("wet_months=4,4", "wet_months", "twice"),
        ("soil_texture=gravel", "soil_texture", "loam"),
        ("moisture=damp", "moisture", "ordinary"),
        ("sow_week_a=60", "sow_week_a", "1 to 53"),
        ("share_a=0", "share_a", "0.001 to 1"),
        ("share_a=1", "share_a", "leaves no ground"),
        ("spacing_a_m=-0.3", "spacing_a_m", "more than 0"),
    ],
)
def test_nonsense_is_refused_with_what_to_give(
    client: FlaskClient, site: str, parameter: str, words: str
) -> None:
    """One fault, by name, and how to mend it."""
    assert words in refused(client, f"{PAIR}&{site}")[parameter]


@pytest.mark.parametrize(
    ("setting", "parameter"),
    [
        ("distance_m=-1", "distance_m"),
        ("distance_m=1001", "distance_m"),
        ("height_m=4&crown_base_m=5", "crown_base_m"),
    ],
)
def test_impossible_places_under_a_tree_are_refused(
    client: FlaskClient, setting: str, parameter: str
) -> None:
    """Distances below zero or beyond reach, a crown base above its top."""
    assert parameter in refused(client, f"/pairs?a={TREE_ID}&b={HERB_ID}&setting=under&{setting}")


def test_a_distance_beyond_the_roots_is_answered_and_said(ask: Ask) -> None:
    """Far from the trunk the tree draws nothing and shades nothing: a number, not a clip."""
    answer = ask(f"/pairs?a={TREE_ID}&b={HERB_ID}&setting=under&height_m=4&distance_m=900")

    assert 900 == answer["question"]["distance_m"]
    assert 0 == answer["loss"][HERB_ID]["roots"]


def test_what_was_assumed_of_a_site_is_said(ask: Ask) -> None:
    """Frost dates, winters and rains that nobody gave are named as assumed, each with its parameter."""
    north, tropics = (" ".join(ask(f"{PAIR}&latitude={lat}")["notes"]) for lat in (58, 8))

    assert "Frost dates were not both given" in north
    assert "rough guess" in north
    assert "winter_min_c" in north
    assert "wet_months says it" in tropics
    assert "Frost dates" not in tropics
    assert "driest year of five" in north


def test_the_question_shows_the_site_in_full(ask: Ask) -> None:
    """Every field of the interface's site group, defaults too."""
    site = ask(f"{PAIR}&soil_texture=clay&frost_sd_days=12&wet_months=12,1")["question"]["site"]

    assert set(SITE_NAMES) <= set(site)
    assert ("clay", 12.0, [1, 12], -8.0) == (
        site["soil_texture"],
        site["frost_sd_days"],
        site["wet_months"],
        site["winter_min_c"],
    )


def test_sand_is_scarcer_of_water_than_silt(ask: Ask) -> None:
    """Texture acts: the summer months of sand are scarcer, in a dry year most of all."""
    sand, silt = (
        ask(f"{PAIR}&soil_texture={texture}")["question"]["site"]["scarcity_by_month"]
        for texture in ("sand", "silt")
    )

    assert sand["mean"][6] > silt["mean"][6] + 0.05
    assert sand["dry_year"][6] > sand["mean"][6] > sand["wet_year"][6]


def test_shares_say_how_they_were_come_by(ask: Ask) -> None:
    """Given, from a spacing, what the other leaves, or half each: never silently."""
    spaced = ask(f"{PAIR}&spacing_a_m=2")["question"]
    silent = ask(PAIR)["question"]

    assert (2.0, "given") == (spaced["spacing_a_m"], spaced["spacing_a_from"])
    assert spaced["share_a_from"].startswith("spacing_a_m against the ")
    assert "not said: what A leaves" == spaced["share_b_from"]
    assert spaced["share_a"] + spaced["share_b"] == pytest.approx(1, abs=1e-3)
    assert "not said: half each" == silent["share_a_from"] == silent["share_b_from"]
    assert silent["spacing_a_m"] > 0
    assert silent["spacing_a_from"].startswith("the share, and the ")


def test_an_empty_field_of_a_page_is_not_said(client: FlaskClient) -> None:
    """A form sends its empty fields: the page leaves them out, data refuse them."""
    address = f"{PAIR}&soil_ph=&place=&wet_months="

    page = client.get(address, headers=BROWSER)
    assert 200 == page.status_code
    assert "soil_ph=&" not in page.text
    assert {"soil_ph", "place", "wet_months"} == set(refused(client, address))
    assert 400 == client.get(f"{PAIR}&share_a=", headers=BROWSER).status_code


def test_the_law_of_the_place_is_a_conflict(ask: Ask, repository: MemoryRepository) -> None:
    """A listed plant is refused where it is listed, with source; elsewhere it is not."""
    listed = [
        (plant, caution)
        for plant in repository.snapshot().plants
        for caution in repository.snapshot().cautions(plant)
        if caution.kind in {"prohibited", "invasive"} and named_in(caution.place or "")
    ]
    plant, caution = listed[0]
    (code, *_) = sorted(named_in(caution.place or ""))
    elsewhere = next(c for c in ("FR", "JP") if not holds_in(code, c))

    here = with_rules(repository.snapshot(), Site(place=code)).rules[plant]
    assert ("law", (caution.iri,)) == (here[0].kind, here[0].records)
    assert "Invented for the tests" in here[0].text
    assert plant not in with_rules(repository.snapshot(), Site(place=elsewhere)).rules
    other = HERB_ID if plant != HERB_ID else ROOT_ID
    answer = ask(f"/pairs?a={plant}&b={other}&place={code}")
    assert answer["verdict"] in {"avoid", "poor"}
    assert any("law" == condition["kind"] for condition in answer["conditions"])


@pytest.mark.parametrize("audience", ["school", "public", "livestock"])
def test_a_stricter_gate_never_lifts_and_says_what_it_cannot_know(ask: Ask, audience: str) -> None:
    """With others near, no verdict is better than in a household, and no caution is called safe."""
    order = ["avoid", "poor", "workable", "like", "good"]
    for a, b in ((HERB_ID, ROOT_ID), (TREE_ID, HERB_ID), (TREE_ID, ROOT_ID)):
        address = f"/pairs?a={a}&b={b}"
        home, near = ask(address), ask(f"{address}&audience={audience}")
        assert order.index(near["verdict"]) <= order.index(home["verdict"])
        assert any("no caution is not the same as safe" in note for note in near["notes"])
        assert not any("stricter gate" in note for note in home["notes"])


def test_poison_closes_the_gate_of_a_school(ask: Ask) -> None:
    """A plant with a poisonous part is held back on school ground, with its caution as the record."""
    answer = ask(f"/pairs?a={TREE_ID}&b={HERB_ID}&audience=school")

    assert any(
        condition["kind"] == "site" and "adult" in condition["text"] for condition in answer["conditions"]
    )
    assert "good" != answer["verdict"]


@pytest.mark.parametrize("audience", ["school", "public", "livestock"])
def test_what_a_gate_says_means_something_cut_at_its_first_colon(
    repository: MemoryRepository, audience: Audience
) -> None:
    """Lists show what stands before the colon: more than the plant's name."""
    snapshot = repository.snapshot()
    rules = with_rules(snapshot, Site(audience=audience)).rules

    assert rules
    for plant, held in rules.items():
        name = snapshot.plants[PlantId(plant)].common_name
        for rule in held:
            assert rule.text.startswith(f"A caution on {name} ("), rule.text


def test_a_household_without_a_place_has_no_rules(repository: MemoryRepository) -> None:
    """Nothing is held against a plant where nobody said where it stands."""
    assert REFERENCE_SITE == with_rules(repository.snapshot(), REFERENCE_SITE)
    assert {} == with_rules(repository.snapshot(), REFERENCE_SITE).rules


def test_places_among_vaguer_words_are_found() -> None:
    """A warning that names a country beside regions holds in that country."""
    assert {"NZ"} == named_in("New Zealand and parts of North America")
    assert {"AU", "NZ"} == named_in("parts of Australia, New Zealand and western Europe")
    assert frozenset() == named_in("parts of western Europe")


@pytest.mark.parametrize(
    ("dates", "culprit"),
    [
        ("first_frost=--05-01", "first_frost"),
        ("first_frost=--05-01&last_frost=--05-10", "last_frost"),
        ("latitude=-40&first_frost=--11-01&last_frost=--11-10", "last_frost"),
    ],
)
def test_frosts_that_leave_out_winter_are_refused(client: FlaskClient, dates: str, culprit: str) -> None:
    """Meteorological winter: December to February in the north, June to August in the south."""
    assert "lie wholly outside winter" in refused(client, f"{PAIR}&{dates}")[culprit]


def test_frosts_of_a_few_winter_weeks_are_a_place(ask: Ask) -> None:
    """A mild coast: mean dates of first and last frost in the middle of winter."""
    site = ask(f"{PAIR}&latitude=37&first_frost=--12-20&last_frost=--01-31")["question"]["site"]

    assert ("--12-20", "--01-31") == (site["first_frost"], site["last_frost"])


@pytest.mark.parametrize(
    "address",
    [
        f"{PAIR}&sow_week_b=53",
        f"{PAIR}&setting=follow&clear_week_a=53",
        f"/judgements?plant={HERB_ID}&plant={ROOT_ID}&sow_week=-&sow_week=53",
    ],
)
def test_a_week_that_few_years_have_is_not_changed_in_silence(ask: Ask, address: str) -> None:
    """ISO 8601: a year has 52 or 53 weeks; the year that is reckoned has 52."""
    assert 1 == len([note for note in ask(address)["notes"] if "Week 53" in note])
    assert [] == [note for note in ask(address.replace("53", "52"))["notes"] if "Week 53" in note]
