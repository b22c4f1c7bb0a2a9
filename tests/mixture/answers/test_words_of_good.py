"""What a good answer opens with, and words said where they change nothing (common practice of reports)."""

import re
from dataclasses import replace

from kb.mixture.answers.pair import judge_pair
from kb.mixture.answers.site_notes import idle_words
from kb.mixture.answers.sureness_words import sureness_sentence
from kb.mixture.judging.unknowns import stand_ins
from kb.mixture.results import Sureness
from kb.mixture.site import REFERENCE_SITE
from kb.mixture.weeks.sowing import sowings_note
from tests.mixture.judged import bed, under
from tests.mixture.profiles import BULB, TAPROOT
from tests.mixture.real import pairs, shipped


def test_a_word_that_changes_nothing_is_said_to_change_nothing() -> None:
    """Common practice: what was taken and had no effect is reported back (mulch with no tree)."""
    answer = bed(BULB, TAPROOT, given=frozenset({"mulch"}))

    assert any("changes nothing here: mulch" in note for note in answer.notes)
    assert () == idle_words(frozenset({"irrigated", "mown"}), ())


def test_less_than_half_of_the_draws_say_what_the_rest_say() -> None:
    """Weather forecasts (common practice): a third of a chance is told with what the rest may bring."""
    third = Sureness("unsure", 0.35, None, None, others=("good", "poor"))

    assert (
        "35 % of trials with doubtful values give the same word, the rest good or poor"
        in sureness_sentence(third, (), (BULB, TAPROOT))
    )
    most = sureness_sentence(replace(third, commonest=0.5), (), (BULB, TAPROOT))
    assert "give the same word, the rest good (50 %) or poor" in most
    assert "the rest" not in sureness_sentence(replace(third, share_of_draws=0.7), (), (BULB, TAPROOT))


def test_a_condition_has_its_reason() -> None:
    """Plain writing (common practice): what is asked of a reader is told with why."""
    book, seen = shipped()[1], 0
    for a, b, site, arrangement in pairs(seed=7, count=80):
        answer = judge_pair(a, b, site, arrangement, draws=0, book=book)
        whys = [note for note in answer.notes if "hence the condition that" in note]
        seen += bool(whys)
        assert not any(reason.text in why for reason in answer.reasons for why in whys)
    assert seen


def test_a_good_answer_opens_with_what_makes_it_good() -> None:
    """Plain writing (common practice): the sentence after a verdict supports it, a loss comes after."""
    book, seen = shipped()[1], 0
    for a, b, site, arrangement in pairs(seed=21, count=60):
        answer = judge_pair(a, b, site, arrangement, draws=0, book=book)
        if (
            answer.verdict == "good"
            and answer.limiting is not None
            and "goes without" in answer.limiting.text
        ):
            after = answer.saying.partition(". ")[2].casefold()
            assert not after.startswith(answer.limiting.text.casefold())
            seen += 1
    assert seen


def test_what_is_not_on_record_stands_in_one_note() -> None:
    """Plain writing (common practice): what is said of several is said once, with each one's own part."""
    one, other = (replace(p, height_m=replace(p.height_m, origin="form")) for p in (BULB, TAPROOT))
    notes = stand_ins((one, other))

    assert [f"for {BULB.name}: height" in notes[0], f"for {TAPROOT.name}: height" in notes[0]] == [True, True]
    assert sum("Usual values" in note for note in notes) == 1
    assert "their kinds" in notes[0]


def test_times_of_sowing_that_fall_into_one_week_are_told_as_one() -> None:
    """'From about week 50; it is also sown from week 50' contradicts itself (plain writing)."""
    kinds = [plant for plant in shipped()[0] if plant.annual and plant.sowings]
    for site in (replace(REFERENCE_SITE, latitude=38.0), REFERENCE_SITE):
        for plant in kinds:
            weeks = re.findall(r"week (\d+)", sowings_note(plant, site) or "")
            assert len(weeks) == len(set(weeks)), (plant.id, weeks)


def test_what_stands_beyond_a_tree_is_said_to_stand_beyond_it() -> None:
    """Where neither roots nor shade reach nothing is shared, whatever the depths (common practice)."""
    far, near = under(BULB, distance_m=500), under(BULB, distance_m=1.2)

    assert far.saying.startswith("Good. Bulb stands beyond the roots and the shade of smalltree.")
    assert not any("root depth" in reason.text for reason in far.reasons)
    assert "beyond" not in near.saying
