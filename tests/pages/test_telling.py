"""What a page says first: the saying in lines with their records; nothing of an answer is lost on the way."""

from collections.abc import Iterator
from typing import Any

import pytest

from api.pages import gists
from api.pages.asked import question_gist
from api.pages.cited import cited, numbers
from api.pages.telling import AGAINST, GIVES, told
from api.pages.words import halves, record_url, tidy
from api.render import render_page
from tests.pages import samples
from tests.pages.page import Page, said

Answers = dict[str, tuple[str, dict[str, Any]]]
ROOTS, SEASON = "Both root in the top 20 cm.", "They grow in different months."


def answer(**changes: Any) -> dict[str, Any]:
    """An invented pair whose saying ends as those of the model do."""
    sure = "Fairly sure: 80 % of trials with doubtful values give the same word."
    return samples.pair_answer(saying=f"Workable. {ROOTS} {SEASON} {sure}", **changes)


def test_a_saying_is_told_in_its_own_order_with_the_kinds_of_its_reasons() -> None:
    """The word alone is left to the heading, how sure to its own section; each line finds its reason."""
    first = told(answer())

    assert [(ROOTS, AGAINST), (SEASON, GIVES)] == [(line.text, line.role) for line in first.lines]
    assert first.sureness.startswith("Fairly sure: 80 %")
    assert ["Both root above 20 cm."] == [line.text for line in first.others]


def test_every_sentence_of_a_saying_is_kept() -> None:
    """A sentence that is no reason stays as it is said, and so does what follows how sure it is."""
    saying = (
        f"Workable, unless it is fed; then good. {ROOTS} Digging cuts roots. "
        "Unsure: 45 % of trials give it, the rest poor. That is said of the crown edge."
    )
    lines = [line.text for line in told(answer() | {"saying": saying, "sureness": unsure()}).lines]

    assert [
        "Unless it is fed; then good.",
        ROOTS,
        "Digging cuts roots.",
        "That is said of the crown edge.",
    ] == lines


def unsure() -> dict[str, Any]:
    return samples.pair()["sureness"] | {"word": "unsure"}


@pytest.mark.parametrize("saying", ["", "Like with like: keep to its own spacing."])
def test_the_limiting_reason_is_always_said(saying: str) -> None:
    """Where the saying does not hold it, it is added."""
    assert AGAINST in [line.role for line in told(answer() | {"saying": saying}).lines]


def test_a_condition_that_the_first_sentence_holds_is_said_once() -> None:
    """Unless the asker said whether it is so: that is told with the condition."""
    lift = {"kind": "water", "text": "it is fed", "verdict_if_met": "good", "verdict_if_unmet": "workable"}
    saying = {"saying": "Workable, unless it is fed; then good."}
    open_one, met = ({**lift, "given": None, "met": known} for known in (None, False))

    assert () == told(answer() | saying | {"conditions": [open_one]}).conditions
    assert (met,) == told(answer() | saying | {"conditions": [met]}).conditions


def records(part: Any) -> Iterator[str]:
    """Every record that is named anywhere in a part of an answer."""
    if isinstance(part, dict):
        yield from part.get("records") or ()
        for held in part.values():
            yield from records(held)
    elif isinstance(part, list):
        for one in part:
            yield from records(one)


SPOKEN = ("limiting", "benefits", "reasons", "conflicts", "jobs", "root_profiles")


@pytest.mark.parametrize("which", ["pair", "judge"])
def test_no_fact_of_a_verdict_is_lost(answers: Answers, which: str) -> None:
    """Reasons, conditions, notes, gaps and records of the JSON answer all stand on its page."""
    kind, told_of = answers[which]
    page = Page.read(render_page(kind, told_of))
    words = " ".join(page.words().replace("\N{NO-BREAK SPACE}", " ").split()).lower()
    links = {one.attrib["href"] for one in page.all("a")}
    texts = [one["text"] for part in ("benefits", "reasons", "conditions") for one in told_of[part]]
    texts += [gap["text"] for gap in told_of.get("gaps", ())] + list(told_of["notes"])
    texts += [told_of["limiting"]["text"]] if told_of["limiting"] else []

    assert texts
    assert [] == [text for text in texts if text.rstrip(".").lower() not in words]
    assert {record_url(record) for part in SPOKEN for record in records(told_of.get(part))} <= links


def test_sources_are_numbered_as_they_are_called_on() -> None:
    """The first reason's sources come first; runs of numbers are joined."""
    head = "https://w3id.org/traitbed/record.x-y.rooting-depth."
    named = [f"{head}{key}" for key in ("one", "two", "three", "four")]
    given = {"reasons": [{"records": named[:1]}, {"records": named}]}
    found = cited(given, {"two": "The second"}, {"x-y": "invented"}, [{"records": named[2:3]}])

    assert ["three", "one", "two", "four"] == [source.key for source in found]
    assert ("The second", "rooting depth of invented") == (found[2].credit, found[2].links[0].label)
    twice = cited({"reasons": [{"records": [f"{head}one.1", f"{head}one.2"]}]}, {}, {})
    assert ["rooting depth", "record 2"] == [link.label for link in twice[0].links]
    assert "1 to 4" == numbers(named, found)
    assert "1, 2, 4" == numbers([named[0], named[2], named[3]], found)
    assert "" == numbers(named, ())


def test_a_folded_line_names_what_is_in_it(answers: Answers) -> None:
    """Of each section in the answer the line has words beside its title, save a plain question's."""
    for label in ("pair", "judge", "under"):
        kind, told_of = answers[label]
        page = Page.read(render_page(kind, told_of))
        folds = [one for one in page.all("details") if "fold" in one.attrib.get("class", "").split()]
        assert len(folds) > 3
        assert [] == [said(fold[0]) for fold in folds if len(fold[0]) < 2]


def test_the_question_in_one_line_tells_what_was_said_and_counts_the_rest() -> None:
    """What was said of the site stands in it; what nobody said is counted."""
    site = samples.SITE | {"given": ["latitude"], "latitude": -37.0}
    line = question_gist({"kind": "pair", "site": site, "group": ["herb"]})

    assert "latitude 37" in line
    assert "only these kinds of plants herb" in line
    assert line.endswith("taken for granted")
    assert "" == question_gist({"kind": "plant"})


def test_a_row_of_a_list_is_cut_where_its_explanation_begins() -> None:
    """Both halves together are the sentence; one without explanation is whole."""
    text = tidy("kale goes without about 20 % of the water: apple roots in the same ground.")

    assert text == "".join(halves(text))
    assert halves(text)[0].endswith("water")
    assert ("Nothing to cut.", "") == halves("Nothing to cut.")


def test_the_lines_of_lists_and_jobs() -> None:
    """The first plants of a ring by word, jobs done and not, kinds of reasons counted."""
    rows = [{"plant": plant, "pair": {"verdict": "good"}} for plant in (samples.HERB, samples.BULB)]
    jobs = [{"words": "Harvest", "by": [1]}, {"words": "Roots deep", "by": []}]

    assert "good: invented herb, Inventia bulbus" == gists.ring_gist({"names": samples.NAMES}, {"rows": rows})
    assert "nothing on record fits" == gists.ring_gist({}, {"rows": []})
    assert "1 of 2 done; nobody on record: roots deep" == gists.job_gist(jobs)
    assert "roots (2), season" == gists.reason_kinds(["roots", "season", "roots"])
