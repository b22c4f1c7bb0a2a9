"""Notes of an answer in the words of a page, and forms that ask no more than their reader knows."""

from api.pages.on_page import on_page
from api.pages.planting import measure_words, under_path
from api.pages.telling import told
from api.pages.views import name_of
from api.pages.words import tree_metres
from api.render import render_page
from tests.pages import samples
from tests.pages.page import Page, said


def test_a_parameter_that_would_say_it_becomes_the_form() -> None:
    """A reader of a page looks for a form, not for winter_min_c; a word that is no parameter stays."""
    assert "Far too mild; say it in the form." == on_page("far too mild; winter_min_c says it.", "/pairs")
    assert "Who says it? The book says it." == on_page("Who says it? The book says it.", "/pairs")


def test_what_was_left_out_is_taken_in_by_a_link() -> None:
    """The link keeps the question and what was taken in before; other text is escaped."""
    path = "/plants/x/candidates?include=stocks&latitude=53"
    note = on_page("15 plants left out: <odd>; include=flowers takes them in.", path)

    assert "&lt;odd&gt;" in note
    assert '<a href="/plants/x/candidates?latitude=53&amp;include=stocks%2Cflowers">take them in</a>.' in note


def test_a_word_given_on_one_condition_is_said_once_with_the_other_word() -> None:
    """It was told as given that X, and below it again as if X: good; if not: workable."""
    condition = {
        "kind": "digging",
        "text": "the herb is lifted with care",
        "given": None,
        "met": None,
        "verdict_if_met": "good",
        "verdict_if_unmet": "workable",
    }
    answer = samples.pair_answer(
        verdict="good", saying="Good, given that the herb is lifted with care.", conditions=[condition]
    )
    first = told(answer)

    assert "Given that the herb is lifted with care; if not: workable." in [one.text for one in first.lines]
    assert () == first.conditions


def test_a_guessed_size_is_rounded_and_one_that_was_said_is_not() -> None:
    """To 0.1 m, so that a width is twice the radius that the notes name."""
    tree = {"height_m": 2.36, "crown_radius_m": 1.12, "given": ["height_m"]}

    assert ("2.36", "2.2") == (tree_metres(tree, "height_m"), tree_metres(tree, "crown_radius_m", 2))


def test_weeks_of_harvest_that_nobody_has_on_record_are_not_none() -> None:
    """Not knowing is no 0."""
    answer = samples.planting()
    bare = {**answer, "members": [{**member, "harvest": []} for member in answer["members"]]}

    assert "not on record" == dict(measure_words(bare))["Weeks of harvest"]


def test_the_front_page_asks_for_height_or_age_and_needs_neither() -> None:
    """A tree whose height nobody measured is asked for by its age."""
    page = Page.read(render_page("home", {"question": {}, "cautions": [], "reasons": [], "notes": []}))
    fields = {one.attrib["name"]: one.attrib for one in page.all("input") if "name" in one.attrib}

    assert {"height_m", "age_years"} <= set(fields)
    assert not {"height_m", "age_years"} & {name for name, field in fields.items() if "required" in field}


def test_one_after_another_offers_weeks_and_what_comes_next() -> None:
    """Several harvests from one patch are asked one after the other, each from the week it starts."""
    answer = samples.pair_answer()
    asked = {**answer["question"], "setting": "follow", "sow_week_b": 23.0}
    page = Page.read(render_page("pair", {**answer, "question": asked}, path="/pairs?a=x&b=y&setting=follow"))
    fields = [(one.attrib.get("name"), one.attrib.get("value")) for one in page.all("input")]

    assert {"sow_week_a", "clear_week_a", "sow_week_b", "gap_years"} <= {name for name, _ in fields}
    assert ("sow_week_a", "23") in fields
    assert any(said(label).startswith("And after") for label in page.all("label"))


def test_what_is_to_be_checked_is_said_once() -> None:
    """The limit stands in the verdict; the condition, and how sure it is, do not repeat it."""
    limit = samples.pair()["limiting"]["text"]
    condition = {
        "kind": "digging",
        "text": f"check first, for this is not on record: {limit.rstrip('.')}",
        "given": None,
        "met": None,
        "verdict_if_met": "workable",
        "verdict_if_unmet": "avoid",
    }
    first = told(samples.pair_answer(conditions=[condition], saying=f"Workable. {limit}"))

    assert ["check first, for this is not on record"] == [one["text"] for one in first.conditions]


def test_what_several_cautions_advise_is_said_once() -> None:
    """One line for all, before them; what only one advises stays with it."""
    answer = samples.pair_answer()
    law, own = "Check the rules there before you plant.", "Keep it behind a fence."
    spread = [
        {
            **samples.caution(plant),
            "id": f"{plant}.{number}",
            "text": f"It spreads, {number}.",
            "advice": words,
        }
        for number, (plant, words) in enumerate(((answer["a"], law), (answer["b"], law), (answer["b"], own)))
    ]
    words = said(Page.read(render_page("pair", {**answer, "cautions": spread})).root)

    assert (1, 1) == (words.count(law), words.count(own))
    assert f"Poisonous. {law}" in words
    assert words.index(law) < words.index("It spreads, 0")


def test_one_kind_beside_itself_is_called_by_its_name() -> None:
    """The second of a kind, daucus-carota#2, is no plant of another name."""
    answer = samples.pair_answer()

    assert name_of(answer, answer["a"]) == name_of(answer, f"{answer['a']}#2")


def test_what_else_fits_is_asked_of_the_same_tree() -> None:
    """The tree of a planting with what was said of it, and the site."""
    answer = samples.planting()
    tree = {"id": "inventa-arbor", "age_years": 10.0, "given": ["age_years"]}
    site = {**answer["question"]["site"], "latitude": 53.0, "given": ["latitude"]}
    asked = {**answer, "question": {**answer["question"], "tree": tree, "site": site}}

    assert "/plants/inventa-arbor/under?age_years=10.0&latitude=53.0" == under_path(asked)
    assert under_path({**asked, "question": {**asked["question"], "tree": None}}) is None
