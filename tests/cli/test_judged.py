"""The command line that judges: cautions first, then the saying, then the numbers, 80 columns wide."""

import json

import pytest

from api.app import create_app
from api.cli.judged import condition_words, show_conditions, sureness_words, why
from api.cli.output import _caution, first_cautions, more_cautions
from kb.repository import MemoryRepository
from tests.api.invented import HERB_ID, PLANTS, ROOT_ID, SOURCE, TREE_ID
from tests.cli.conftest import Command

UNDER = ("under", "trial tree", "--height-m", "6")


def test_pair_says_cautions_then_verdict_then_evidence(traitbed: Command) -> None:
    """The order in which a person needs it."""
    out = traitbed("pair", HERB_ID, ROOT_ID).out

    order = [
        "Cautions",
        "not for horses",
        "trial herb (Inventa herbacea) with",
        "What each goes without",
        "Reasons",
    ]
    assert sorted(order, key=out.index) == order
    assert "reference site" in out


def test_cautions_of_lesser_kinds_stand_once_before_the_answer_and_in_full_below(
    capsys: pytest.CaptureFixture[str],
) -> None:
    """Every look-alike comes first (`trade` J3); of several allergies one does, and no caution is lost."""
    names = {"a": {"common": "ramsons", "accepted": "Allium ursinum"}}
    kinds = ["lookalike", "lookalike", "lookalike", "allergen", "allergen", "allergen"]
    told = [
        dict.fromkeys(("advice", "group", "place", "as_of", "lookalike", "basis"))
        | {"plant": "a", "kind": kind, "id": f"tb:{n}", "text": f"Invented caution {n}."}
        for n, kind in enumerate(kinds)
    ]
    answer = {"question": {"site": {"audience": "household"}}, "names": names, "cautions": told}

    rest = first_cautions(answer)
    before = capsys.readouterr().out
    more_cautions(answer, rest)
    below = capsys.readouterr().out

    assert [0, 1, 2, 3] == [n for n in range(6) if f"Invented caution {n}." in before]
    assert [4, 5] == [n for n in range(6) if f"Invented caution {n}." in below]
    assert "2 of ramsons (allergy)" in before


def test_under_shows_light_roots_and_plants_by_place(traitbed: Command) -> None:
    """Light by month, the root draw, and ranked plants with what limits them, ring by ring."""
    out = traitbed(*UNDER, "--years", "0,10").out

    for word in (
        "buried cables",
        "licensed arborist",
        "Jun",
        "Roots",
        "inner 0.",
        "crown edge",
        "in 10 years",
    ):
        assert word in out, word
    assert out.index("buried cables") < out.index("inner 0.")


def test_candidates_are_told_with_what_limits(traitbed: Command) -> None:
    """Ranked, with verdict, interval and sureness in words."""
    out = traitbed("candidates", HERB_ID).out

    assert "What goes well with trial herb" in out
    assert "sure" in out


@pytest.mark.parametrize(
    "arguments", [("pair", HERB_ID, ROOT_ID), UNDER, ("candidates", HERB_ID), ("plant", TREE_ID), ("plants",)]
)
def test_output_fits_80_columns_without_colour(traitbed: Command, arguments: tuple[str, ...]) -> None:
    """No line is wider, save an id that must stay whole; no escape codes in a pipe."""
    out = traitbed(*arguments).out
    wide = [line for line in out.splitlines() if len(line) > 80]

    assert all("[" in line and "." in line for line in wide), wide
    assert "\x1b" not in out


def test_json_is_the_answer_of_http(traitbed: Command) -> None:
    """Both doors lead to one answer; only the data set's name differs between the two stores."""
    client = create_app(MemoryRepository(PLANTS, (SOURCE,)), testing=True).test_client()
    http = client.get(f"/pairs?a={HERB_ID}&b={ROOT_ID}&soil_depth_m=0.5").get_json()
    said = json.loads(traitbed("pair", HERB_ID, ROOT_ID, "--soil-depth-m", "0.5", "--json").out)

    assert {**http, "dataset_version": ""} == {**said, "dataset_version": ""}


def test_negative_latitude_is_a_value_not_an_option(traitbed: Command) -> None:
    """South is negative, and dates begin with two hyphens; both are values here."""
    said = traitbed(
        *UNDER, "--latitude", "-37", "--last-frost", "--10-15", "--first-frost", "--05-10", "--json"
    )

    assert 0 == said.code
    assert -37 == json.loads(said.out)["question"]["site"]["latitude"]


CONDITION = {"text": "it stands dry", "met": None, "given": None}


def test_a_condition_that_changes_nothing_says_so() -> None:
    """The words "avoid; otherwise avoid" tell nobody anything; a list leaves such a condition out."""
    same = {**CONDITION, "verdict_if_met": "avoid", "verdict_if_unmet": "avoid"}
    lifts = {**CONDITION, "text": "it is in a pot", "verdict_if_met": "good", "verdict_if_unmet": "avoid"}

    assert "also: it stands dry. Alone this does not change the verdict." == condition_words(same)
    assert "it is in a pot: good; otherwise avoid." == condition_words(lifts)
    assert "nothing limits; good if it is in a pot" == why(
        {"verdict": "avoid", "limiting": None, "conditions": [same, lifts]}
    )
    assert "nothing limits; given that it is in a pot" == why(
        {"verdict": "good", "limiting": None, "conditions": [lifts]}
    )
    assert "nothing limits" == why({"limiting": None, "conditions": [same]})


def test_a_caution_names_the_lookalikes_and_who_is_at_risk() -> None:
    """The names of deadly look-alikes are part of the warning, on the command line too."""
    told = {
        "plant": HERB_ID,
        "id": None,
        "kind": "lookalike",
        "text": "Invented: kinds that kill look much like it.",
        "place": None,
        "as_of": None,
        "advice": None,
        "lookalike": "Fictaria letalis",
        "group": "people",
        "basis": "recalled",
    }
    said = _caution({"names": {}}, told)

    assert "Looks like: Fictaria letalis." in said
    assert "At risk: people." in said
    assert said.endswith("Recalled from memory, not checked.")


def test_weeks_and_ages_that_were_said_are_said_again(traitbed: Command) -> None:
    """The interface: the question as understood, every part of it visible, on the command line too."""
    out = traitbed("pair", HERB_ID, ROOT_ID, "--sow-week-b", "20", "--age-a-years", "3").out

    assert "The first 3 years old, the second sown in week 20." in out


def test_where_a_rule_decides_no_number_is_to_be_checked() -> None:
    """Words and numbers agree: what moves in no draw is not said to change with a trait, and the reverse."""
    told = {
        "word": "unsure",
        "share_of_draws": 1.0,
        "by_rule": True,
        "deciding_trait": "mature-height",
        "of": "x",
    }

    alone = sureness_words(told, {"names": {}})
    moved = sureness_words({**told, "share_of_draws": 0.8}, {"names": {}})

    assert ("A rule decides" in alone, "would change the answer most" in alone) == (True, False)
    assert ("A rule decides" in moved, "would change the answer most" in moved) == (False, True)


def test_conditions_that_change_nothing_alone_are_a_short_list(capsys: pytest.CaptureFixture[str]) -> None:
    """Three are read, the others counted; what changes the verdict comes first (common practice)."""
    idle = [
        {
            "text": f"deed {n}",
            "given": None,
            "met": None,
            "verdict_if_met": "avoid",
            "verdict_if_unmet": "avoid",
        }
        for n in range(5)
    ]
    changing = idle[0] | {"text": "it is watered", "verdict_if_met": "good"}

    show_conditions([*idle, changing])

    said = capsys.readouterr().out
    assert said.index("it is watered: good; otherwise avoid") < said.index("No one of these alone")
    assert ("    - deed 2\n    - and 2 more, with --json\n") in said
    assert "deed 3" not in said
