"""What is said of what is poor or to avoid: no false promise, no comfort, no doubt of what is certain."""

from dataclasses import replace

from kb.mixture.answers.explain import ALL_OF_IT, NOTHING_AGAINST, opened, verdict_sentence
from kb.mixture.answers.pair import judge_pair
from kb.mixture.judging.findings import Held
from kb.mixture.judging.unknowns import stand_ins
from kb.mixture.limits import Limit
from kb.mixture.profile import Span
from kb.mixture.results import Reason, Sureness
from kb.mixture.site import REFERENCE_SITE
from tests.mixture.judged import bed
from tests.mixture.profiles import BULB, TAPROOT, lasting
from tests.mixture.real import pairs, shipped

WET = replace(REFERENCE_SITE, moisture=9.0)
FENCED = Limit("spread", "b", "A over-runs B.", (), "avoid", lift="A is fenced", given="barrier")
APART = Limit("water", "b", "No ground suits both.", (), "avoid", lift="each stands in ground of its own")
DROWNED = Limit("water", "b", "The ground here is wetter than B bears.", (), "avoid")


def held(*limits: Limit) -> Held:
    return Held(verdict="avoid", eased=0.1, limits=limits, again={}, one_kind=False)


def test_a_way_out_is_named_only_where_it_leads_out() -> None:
    """Lavender at a pond margin drowns whether or not the mint beside it is fenced (common practice)."""
    assert "avoid, unless A is fenced; then good." == verdict_sentence(held(FENCED))
    assert "avoid: two things stand against it." == verdict_sentence(held(FENCED, DROWNED))
    both = verdict_sentence(held(FENCED, APART))
    assert f"avoid, unless {ALL_OF_IT}: A is fenced and each stands in ground of its own; then good." == both


def test_a_word_that_few_tries_gave_may_be() -> None:
    """Weather forecasts (common practice): what is less likely than not is said to be possible."""
    few = Sureness("unsure", 0.45, None, None, others=("good",))

    assert "may have to be avoided, unless" in verdict_sentence(held(FENCED), few)
    assert "may be poor." == verdict_sentence(replace(held(), verdict="poor", eased=0.5), few)
    assert "poor." == verdict_sentence(
        replace(held(), verdict="poor", eased=0.5), replace(few, share_of_draws=0.5)
    )
    rather = replace(few, share_of_draws=0.3, commonest=0.7)
    told = verdict_sentence(replace(held(), verdict="poor", eased=0.5), rather)
    assert "may be poor, in more of the trials good." == told
    undrawn = Sureness("unsure", 0.0, None, None)
    assert "poor." == verdict_sentence(replace(held(), verdict="poor", eased=0.5), undrawn)


def test_no_merit_is_said_in_the_saying_of_a_poor_or_forbidden_pair() -> None:
    """A verdict and what follows it agree (common practice of reports); the gains stand in their own list."""
    book, seen = shipped()[1], 0
    for a, b, site, arrangement in pairs(seed=5, count=120):
        answer = judge_pair(a, b, site, arrangement, draws=0, book=book)
        if answer.verdict in {"poor", "avoid"}:
            assert not any(gain.text.casefold() in answer.saying.casefold() for gain in answer.benefits)
            seen += bool(answer.benefits)
    assert seen


def test_what_is_missing_makes_nothing_forbidden_less_sure() -> None:
    """A cherry drowns in wet ground, whatever is on record of its roots (orchard handbooks)."""
    dry = lasting("dry", moisture=Span(2.0, 5.0, "cited", ("record:dry",)))
    other = lasting(
        "other", moisture=Span(6.0, 10.0, "cited"), root_d95_m=replace(BULB.root_d95_m, origin="form")
    )
    answer = bed(dry, other, WET)

    assert ("avoid", "sure") == (answer.verdict, answer.sureness.word)
    assert "not on record" not in answer.saying


def test_on_ground_that_suits_the_one_the_other_cannot_stand() -> None:
    """On a wet margin it is the plant of dry ground that goes (common practice), on a dry bank the other."""
    dry = lasting("dry", moisture=Span(2.0, 4.0, "cited"))
    wet = lasting("wet", moisture=Span(7.0, 10.0, "cited"))
    for moisture, goes in ((8.0, "dry"), (3.0, "wet")):
        answer = bed(dry, wet, replace(WET, moisture=moisture))
        assert answer.limiting is not None
        assert goes == answer.limiting.of
        assert all("no ground suits both" not in r.text or answer.limiting.of == goes for r in answer.reasons)


def test_a_record_that_is_cited_is_not_said_to_be_missing() -> None:
    """Say what was read and what was made of it (common practice of reports)."""
    wider = replace(TAPROOT, soil_ph=Span(5.2, 7.9, "assumed", ("record:ph",)))
    bare = replace(TAPROOT, soil_ph=Span(5.2, 7.9, "assumed"))
    notes, without = (" ".join(stand_ins((plant,))) for plant in (wider, bare))

    assert "taken wider than it says, since it tells no limit of what the crop bears: soil reaction" in notes
    assert "soil reaction" not in notes.partition("Usual values")[0].partition("Not on record")[2]
    assert "soil reaction" in without.partition("Not on record")[2]


def test_a_good_answer_without_a_merit_says_that_nothing_stands_against_it() -> None:
    """That two share nearly all of their root depth is no reason for a good word (common practice)."""
    good = replace(held(), verdict="good", eased=0.05)
    merit = Reason("season", "They grow apart.", ())
    shared = Reason("roots", "They share nearly all of their root depth.", ())

    assert [NOTHING_AGAINST] == opened(good, None, None, shared)
    assert [merit.text] == opened(good, None, merit, merit)
