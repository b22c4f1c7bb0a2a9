"""Parameters: what is accepted, what is refused and in which words."""

from pathlib import Path
from typing import Any, cast

import pytest
import pytz

from api.asking import ask
from api.param_kinds import GIVEN, GIVEN_LATER, GROUPS, NOT_YET, QuestionKind
from api.params import PARAMETERS, parameters_of
from api.parsing import Given, parse
from api.places import COUNTRIES
from api.questions import CandidatesQuestion, PairQuestion, UnderQuestion
from api.values import month_day
from kb.errors import BadParameter
from kb.vocabulary_store import load_vocabulary

PAIR = [("a", "x"), ("b", "y")]


def faults(question: QuestionKind, *items: tuple[str, str]) -> dict[str, str]:
    """Give parameter -> detail of what was refused; fails where nothing was."""
    with pytest.raises(BadParameter) as caught:
        ask(parse(question, items))
    return {fault.parameter: fault.detail for fault in caught.value.faults}


@pytest.mark.parametrize(
    ("name", "text"),
    [
        ("latitude", "90.1"),
        ("latitude", "-91"),
        ("latitude", "nan"),
        ("latitude", "inf"),
        ("latitude", "1e999"),
        ("latitude", "1_0"),
        ("latitude", "٤٥"),
        ("latitude", "north"),
        ("latitude", ""),
        ("latitude", "   "),
        ("soil_depth_m", "0.05"),
        ("soil_depth_m", "5.01"),
        ("soil_depth_m", "-1"),
        ("soil_ph", "2.9"),
        ("open_light", "0"),
        ("open_light", "1.01"),
        ("share_a", "0"),
        ("share_b", "1.5"),
        ("sow_week_a", "0"),
        ("sow_week_a", "54"),
        ("sow_week_a", "12.5"),
        ("age_a_years", "-1"),
        ("last_frost", "05-10"),
        ("last_frost", "10 Mai"),
        ("last_frost", "31 April"),
        ("last_frost", "May 10"),
        ("last_frost", "--13-01"),
        ("last_frost", "--02-29"),
        ("first_frost", "--04-31"),
        ("moisture", "13"),
        ("moisture", "damp"),
        ("place", "UK"),
        ("place", "ZZ"),
        ("place", "Germany"),
        ("audience", "everyone"),
        ("given", "frame,,barrier"),
        ("given", "frame,frame"),
        ("given", "ladder"),
        ("setting", "orchard"),
    ],
)
def test_impossible_values_are_refused_by_name(name: str, text: str) -> None:
    """A value that cannot be is refused, and the fault names the parameter."""
    assert [name] == list(faults("pair", *PAIR, (name, text)))


@pytest.mark.parametrize(
    ("name", "text"),
    [
        ("height_m", "0.29"),
        ("height_m", "61"),
        ("crown_radius_m", "0"),
        ("stand", "forest"),
        ("years", "10,5"),
        ("years", "0,0"),
        ("years", "1.5"),
        ("years", "0,1,2,3,4,5,6"),
        ("side", "NE"),
        ("limit", "0"),
        ("include", "everything"),
    ],
)
def test_impossible_trees_are_refused_by_name(name: str, text: str) -> None:
    """The same holds for the tree and the list under it."""
    assert [name] == list(faults("under", ("plant", "x"), (name, text)))


def test_every_fault_is_told_at_once() -> None:
    """A person mends a question once, not once per fault."""
    told = faults("pair", ("a", "x"), ("latitude", "99"), ("soil_ph", "x"), ("colour", "red"))

    assert {"b", "latitude", "soil_ph", "colour"} == set(told)


def test_an_unknown_parameter_offers_the_nearest() -> None:
    """A slip of the hand is answered with the name that was meant, and with all that is accepted."""
    told = faults("pair", *PAIR, ("soil_deep_m", "1"))["soil_deep_m"]

    assert "did you mean soil_depth_m?" in told
    assert "latitude" in told


@pytest.mark.parametrize("name", sorted(NOT_YET))
def test_a_parameter_not_used_yet_is_refused(name: str) -> None:
    """What nothing uses yet is never accepted and ignored."""
    assert "not used yet" in faults("pair", *PAIR, (name, "1"))[name]


def test_every_word_that_can_be_given_is_asked_about_by_a_rule() -> None:
    """A promise that no rule looks at would be taken and ignored."""
    rules = "".join(
        path.read_text(encoding="utf-8")
        for path in Path(__file__).parents[2].joinpath("kb/mixture").rglob("*.py")
    )

    assert [] == [word for word in GIVEN if f'"{word}"' not in rules]
    assert [] == [word for word in GIVEN_LATER if f'"{word}"' in rules]


def test_a_parameter_of_another_question_is_refused() -> None:
    """Years belong to 'under'; a pair has no use for them."""
    assert "not used by this question" in faults("pair", *PAIR, ("years", "0,5"))["years"]


@pytest.mark.parametrize("name", ["side", "distance_m", "height_m", "stand"])
def test_tree_parameters_act_only_under_a_tree(name: str) -> None:
    """In a bed nothing has a side or a height of the tree."""
    text = {"side": "N", "stand": "lone"}.get(name, "2")

    assert "under a tree (setting=under)" in faults("pair", *PAIR, (name, text))[name]


def test_shares_act_only_in_a_bed() -> None:
    """Under a tree the ground is not shared by plan but by the tree's roots."""
    assert "acts only in a bed" in faults("pair", *PAIR, ("setting", "under"), ("share_a", "0.5"))["share_a"]


def test_given_twice_is_refused() -> None:
    """Of two values neither is silently preferred."""
    assert "given 2 times" in faults("pair", *PAIR, ("latitude", "1"), ("latitude", "2"))["latitude"]


def test_share_and_spacing_of_one_plant_contradict() -> None:
    """They say the same thing in two ways; both at once is refused."""
    told = faults("pair", *PAIR, ("share_a", "0.5"), ("spacing_a_m", "0.3"))

    assert "give one of them" in told["spacing_a_m"]


def test_crown_base_lies_below_the_top() -> None:
    """Two measures that cannot both be true are refused together."""
    told = faults("under", ("plant", "x"), ("height_m", "4"), ("crown_base_m", "4"))

    assert "below the top" in told["crown_base_m"]


def test_frost_dates_must_leave_a_summer() -> None:
    """Dates swapped by mistake are seen: midsummer would lie in the frost."""
    told = faults("pair", *PAIR, ("last_frost", "--10-15"), ("first_frost", "--05-10"))

    assert "midsummer" in " ".join(told.values())


def site_of(*items: tuple[str, str]) -> dict[str, Any]:
    question = ask(parse("pair", [*PAIR, *items]))
    return cast("PairQuestion", question).site.as_dict()


def test_no_site_is_the_reference_site_by_name() -> None:
    """The default is named and shown value by value, never silently another one (interface.md)."""
    site = site_of()

    assert "reference site" == site["name"]
    assert (51.0, "--05-10", "--10-15", []) == (
        site["latitude"],
        site["last_frost"],
        site["first_frost"],
        site["given"],
    )


def test_in_the_south_the_frosts_stand_half_a_year_on() -> None:
    """10 May + half a year is early November, 15 October mid April; 14 degrees make 56 days."""
    site = site_of(("latitude", "-37"))

    assert "--09" == site["last_frost"][:4]
    assert "--06" == site["first_frost"][:4]


def test_between_the_tropics_no_frost_is_made_up() -> None:
    """At the equator no frost date of 51 degrees stands in."""
    site = site_of(("latitude", "0"))

    assert (None, None) == (site["last_frost"], site["first_frost"])


@pytest.mark.parametrize(
    ("day", "shown"), [(1, "--01-01"), (59, "--02-28"), (60, "--03-01"), (130, "--05-10"), (365, "--12-31")]
)
def test_days_of_the_year_are_dates_of_a_common_year(day: int, shown: str) -> None:
    """Day 130 is 10 May: 31 + 28 + 31 + 30 + 10 (calendar arithmetic)."""
    assert shown == month_day(day)


def test_dates_read_back_as_they_are_written() -> None:
    """Every day of the year survives being written and read."""
    read = [
        parse("pair", [*PAIR, ("last_frost", month_day(day))]).whole("last_frost") for day in range(1, 366)
    ]

    assert list(range(1, 366)) == read


@pytest.mark.parametrize("words", ["10 May", "10 may", "--05-10"])
def test_a_yearly_date_may_be_written_as_people_write_it(words: str) -> None:
    """10 May in words is the date that ISO 8601 (2000, 5.2.1.3) writes --05-10."""
    assert 130 == parse("pair", [*PAIR, ("last_frost", words)]).whole("last_frost")


def test_moisture_words_stand_for_steps_of_the_scale() -> None:
    """A word is a step, so both say the same."""
    assert site_of(("moisture", "wet")) == site_of(("moisture", "9"))


def test_country_codes_are_those_of_iso_3166() -> None:
    """The 249 codes of ISO 3166-1 as the time-zone database (through pytz) lists them, and EU."""
    assert set(pytz.country_names) | {"EU"} == set(COUNTRIES)


def test_defaults_are_visible() -> None:
    """A question without options is frozen with every default in it."""
    question = cast("UnderQuestion", ask(parse("under", [("plant", "apple")])))
    ranked = cast("CandidatesQuestion", ask(parse("candidates", [("plant", "apple")])))

    assert ((0,), 5) == (question.years, question.limit)
    # How it stands depends on what it is (a tree alone, a vine in a row): the answer shows which was taken.
    assert question.measure.stand is None
    assert ("bed", 20) == (ranked.setting.setting, ranked.page.limit)


def test_every_parameter_of_a_question_is_named_once() -> None:
    """Two rows of the table for one question and one name would hide each other."""
    pairs = [(question, p.name) for p in PARAMETERS for question in p.questions]

    assert sorted(set(pairs)) == sorted(pairs)
    assert "latitude" in parameters_of("under")


def test_absent_parameters_read_as_none() -> None:
    """What was not given is not there."""
    given = Given("pair", {})

    assert (None, None, (), ()) == (
        given.number("latitude"),
        given.text("place"),
        given.names("given"),
        given.texts("trait"),
    )


def test_the_planting_groups_are_those_of_the_vocabulary() -> None:
    """What can be asked for is what plants are sorted into."""
    assert set(GROUPS) == set(load_vocabulary().concepts["planting-group"])


def test_planting_groups_come_as_one_list_or_ticked_one_by_one() -> None:
    """A form's tick boxes send one name each (HTML standard, "constructing the entry list")."""
    start = [("plant", "x")]
    one_list = ask(parse("candidates", [*start, ("group", "herb,bulb")]))
    ticked = ask(parse("candidates", [*start, ("group", "herb"), ("group", "bulb")]))

    assert one_list == ticked
    assert ("herb", "bulb") == cast("CandidatesQuestion", ticked).leaving.group


@pytest.mark.parametrize(
    ("texts", "said"),
    [(("",), "is empty"), (("herb", ""), "is given 2 times"), (("herb", "herb"), "names something twice")],
)
def test_tick_boxes_do_not_loosen_what_is_refused(texts: tuple[str, ...], said: str) -> None:
    """An empty or repeated name is a slip, however it was sent; nothing is dropped unsaid."""
    items = [("plant", "x"), *(("group", text) for text in texts)]

    assert said in faults("under", *items)["group"]


def test_other_lists_are_given_once() -> None:
    """Only what the pages tick may come in pieces."""
    refused = faults("under", ("plant", "x"), ("given", "frame"), ("given", "mown"))

    assert "is given 2 times" in refused["given"]


def test_a_number_of_hundreds_of_digits_is_not_said_back_whole() -> None:
    """RFC 8259 sets no limit to a JSON number; what is told of one fits a line (common practice)."""
    told = faults("pair", *PAIR, ("latitude", 400 * "9"))["latitude"]

    assert "is too large" in told
    assert len(told) < 150


@pytest.mark.parametrize(
    ("question", "items", "parameter", "way"),
    [
        ("pair", (("a", "x"), ("b", "")), "b", "is empty; give the second plant."),
        ("pair", (*PAIR, ("side", "")), "side", "is empty; give a value or leave it out."),
        ("judge", (("plant", "x"), ("setting", "under")), "setting", "name the tree above (tree)"),
        ("pair", (*PAIR, ("soil_depth_m", "0")), "soil_depth_m", "give more than 0.05, up to 5 (m)"),
    ],
)
def test_a_refusal_says_what_to_give(
    question: QuestionKind, items: tuple[tuple[str, str], ...], parameter: str, way: str
) -> None:
    """What has to be said is never to be left out; a word that is said another way here says how."""
    assert way in faults(question, *items)[parameter]
