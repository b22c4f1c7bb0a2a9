"""What is said on a page is said in words: names as written, labels of the vocabulary, no ids."""

from datetime import date
from typing import Any

import pytest

from api.pages import bench, terms, views, words
from api.pages.crediting import record_label
from api.render import render_page
from kb.adopt import RULES
from kb.vocabulary_store import load_vocabulary
from tests.pages.page import Page

Answers = dict[str, tuple[str, dict[str, Any]]]


def names_in_form(answers: Answers, path: str) -> list[str]:
    kind, answer = answers["pair"]
    page = Page.read(render_page(kind, answer, path=path, today=date(2025, 6, 1)))
    return [one.attrib["value"] for one in page.all("input") if one.attrib["name"] in {"a", "b"}]


def test_a_form_keeps_the_names_as_they_were_written(answers: Answers) -> None:
    """What the reader called the plants stands in the forms again; an id is shown as a botanical name."""
    _, answer = answers["pair"]
    botanical = [views.botanical_of(answer, answer[end]) for end in ("a", "b")]

    assert ["bitter herb", "bulb"] * 2 == names_in_form(answers, "/pairs?a=bitter+herb&b=bulb")
    assert botanical * 2 == names_in_form(answers, f"/pairs?a={answer['a']}&b={answer['b']}")


@pytest.mark.parametrize(
    ("setting", "title"),
    [("bed", "Pea and cabbage"), ("follow", "Pea, then cabbage"), ("under", "Cabbage under pea")],
)
def test_a_pair_is_titled_by_how_the_two_stand(setting: str, title: str) -> None:
    """Which of the two is the tree, or comes first, is plain from the heading."""
    names = {"x": {"common": "pea"}, "y": {"common": "cabbage"}}

    assert title == views.pair_title({"a": "x", "b": "y", "names": names, "question": {"setting": setting}})


def test_every_rule_and_every_unit_has_its_words() -> None:
    """No rule of adoption is shown by its id; a unit without words is one that reads as it is."""
    units = {trait.unit_label for trait in load_vocabulary().traits.values()}

    assert set(RULES) == set(terms.RULE)
    assert {"m", "days", "pH", None, *terms.UNIT} >= {
        unit for unit in units if not str(unit).startswith("of ")
    }


def test_values_are_said_by_the_labels_of_the_vocabulary() -> None:
    """An id of a closed list is never shown where the vocabulary has a label for it."""
    assert "woody climber" == words.value_text({"concept": "climber-woody"})
    assert "kitchen or healing herb" == words.concept_words("herb", "planting-group")
    assert "herb" == words.concept_words("herb")
    assert "weeks in flower, fitter" == record_label("record.x-y.flowering-window.fitter", {})


def test_no_two_traits_give_one_word_two_labels() -> None:
    """A value may be told without its trait, since one id has one label over all traits."""
    vocabulary = load_vocabulary()
    labels: dict[str, set[str]] = {}
    for trait in vocabulary.traits:
        for name, concept in vocabulary.concepts.get(str(trait), {}).items():
            labels.setdefault(name, set()).add(concept.label)

    assert {} == {name: said for name, said in labels.items() if len(said) > 1}


def test_a_change_of_confidence_alone_says_so() -> None:
    """The history does not print one value twice: it says what else is new."""
    low, high = ({"concept": "herb", "confidence": word} for word in ("low", "high"))

    assert "the same; confidence low, now high" == bench.after_words({"before": low, "after": high})
    assert "the same, from other records" == bench.after_words({"before": low, "after": low})
    assert "herb" == bench.after_words({"before": None, "after": low})


def listed(*plants: str | None) -> str:
    """The page of a list of so many rows; a row without a plant matched nothing."""
    rows: list[dict[str, object]] = [
        {
            "row": n,
            "written": "x",
            "outcome": "matched",
            "plant": plant,
            "choices": [],
            "nearest": [],
            "why": "",
        }
        for n, plant in enumerate(plants, 1)
    ]
    counts = {"matched": 1, "ambiguous": 0, "unknown": 0}
    told = {"question": {"columns": ["1"]}, "cautions": [], "names": {}, "notes": [], "reasons": []}
    return render_page("lists", {**told, "counts": counts, "rows": rows})


def test_a_list_leads_on_to_its_plants_as_one_bed() -> None:
    """Two known plants or more of a list are offered as a planting; one alone is not."""
    assert "/judgements?plant=x-y&amp;plant=x-z" in listed("x-y", "x-z", None, "x-y")
    assert "/judgements?plant=" not in listed("x-y", None)


def test_rows_to_look_at_come_first() -> None:
    """Of a long list what is unknown or means several plants stands before what is known."""
    page = listed("x-y", None, "x-z")

    assert page.index("To look at: 1 row") < page.index("Known here: 2 rows")
    assert "To look at" not in listed("x-y", "x-z")
