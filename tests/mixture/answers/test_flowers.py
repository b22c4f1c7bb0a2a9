"""Flowers for insects: weeks, and what does not count."""

from dataclasses import replace

from kb.mixture.profile import Activity
from kb.mixture.season import window_by_week
from kb.mixture.site import REFERENCE_SITE
from tests.mixture.judged import bed
from tests.mixture.profiles import chosen, invented, lasting

EARLY = Activity(14, 14, 18, 18, False, 2, "cited", ("record:early.flowering-window",))
LATE = Activity(24, 24, 30, 30, False, 2, "cited", ("record:late.flowering-window",), "fixed", "fixed")
ONE, TWO = lasting("early", flowers=EARLY), lasting("late", flowers=LATE)


def told(answer):
    return [benefit for benefit in answer.benefits if "flowers" == benefit.kind]


def test_weeks_with_flowers_are_counted():
    """Weeks 14 to 17 and 24 to 29: ten with something in flower, none with both."""
    (reason,) = told(bed(ONE, TWO))

    assert "weeks 14 to 17" in reason.text
    assert "weeks 24 to 29" in reason.text
    assert "together 10 weeks with something in flower, 0 with both" in reason.text
    assert ("record:early.flowering-window", "record:late.flowering-window") == reason.records


def test_flowers_bring_no_points():
    """A reason, never a score (`computation-notes` 1.14)."""
    without = bed(replace(ONE, flowers=None), replace(TWO, flowers=None))
    having = bed(ONE, TWO)

    assert without.score == having.score
    assert without.verdict == having.verdict
    assert any("When it flowers is not on record: early, late." == note for note in without.notes)


def test_grasses_and_lifted_crops_bring_none():
    """Grass pollen travels on the wind; a carrot is lifted before it flowers: the flowers are the other's."""
    grass = replace(ONE, family=chosen("Poaceae"))
    lifted = replace(ONE, life_cycle=chosen("biennial"))
    others = "Flowers for insects: late about weeks 24 to 29"

    assert [f"{others}; early has none for them."] == [one.text for one in told(bed(grass, TWO))]
    assert [f"{others}; early is harvested before it flowers."] == [
        one.text for one in told(bed(lifted, TWO))
    ]
    assert [] == told(bed(grass, replace(lifted, id="other")))


def test_an_annual_sown_late_flowers_later():
    """The quickest annuals flower some six weeks after they are sown (common practice), never at once."""
    sown = invented("sown", flowers=replace(EARLY, start=24, full=24, decline=28, end=28))
    usual, late = (told(bed(sown, TWO, sow_week_a=week))[0].text for week in (None, 22))

    assert "sown about weeks 24 to 27" in usual
    assert "sown about weeks 28 to 31" in late


def test_flowering_moves_whole_with_the_spring():
    """Two weeks more of frost in spring: two weeks later, as long as before; summer flowers stay."""
    later = replace(REFERENCE_SITE, last_frost_day=130 + 2 * 365 / 52)
    (reason,) = told(bed(ONE, TWO, site=later))

    assert "weeks 16 to 19" in reason.text
    assert "weeks 24 to 29" in reason.text
    south = replace(REFERENCE_SITE, latitude=-51.0, last_frost_day=312.5, first_frost_day=105.5)
    assert [39, 40, 41, 42] == [int(n) for n in window_by_week(EARLY, south).nonzero()[0]]
