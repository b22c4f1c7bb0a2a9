"""One plant after another: when the ground is free, what waits in it, what the first leaves behind."""

from dataclasses import replace

import pytest
from hypothesis import given
from hypothesis import strategies as st

from kb.mixture.answers.succession import judge_follow
from kb.mixture.enemies.enemy_book import EnemyBook
from kb.mixture.enemies.hosts import Agent, Host
from kb.mixture.follow.grown_after import FollowOn, nitrogen_left, timing
from kb.mixture.profile import Profile, Span
from kb.mixture.results import ORDER, PairAnswer
from kb.mixture.site import REFERENCE_SITE, Site, Use
from tests.mixture.profiles import about, chosen, invented, season

FIRST = invented("early-crop", activity=season(12, 16, 24, 28))
THEN = invented("late-crop", activity=season(20, 26, 36, 40))
FIXER = replace(
    FIRST,
    nitrogen_fixing=chosen("yes", "record:early-crop.nitrogen-fixation"),
    nitrogen_demand_g_m2=about(18),
)
HUNGRY = replace(THEN, nitrogen_demand_g_m2=about(25))


def rot(*hosts: Profile, mode: str = "soil", years: tuple[float, float] | None = (8, 20)) -> Agent:
    """An invented rot of the soil, serious on all of these."""
    listed = tuple(Host(p.id, "main", "serious", records=(f"record:{p.id}.enemy",)) for p in hosts)
    return Agent("invented-rot", "invented rot", mode, listed, years=years)  # type: ignore[arg-type]


def book(*agents: Agent) -> EnemyBook:
    return EnemyBook.of(agents, [(p.id, p.genus, p.family.value) for p in (FIRST, THEN)])


def after(
    a: Profile = FIRST, b: Profile = THEN, held: EnemyBook | None = None, **asked: object
) -> PairAnswer:
    return judge_follow(a, b, REFERENCE_SITE, FollowOn(**asked), book=held)  # type: ignore[arg-type]


def rank(answer: PairAnswer) -> int:
    return ORDER.index(answer.verdict)


def test_a_stranger_in_good_time_is_good() -> None:
    """Another family, ground free before the second starts: good, and nothing is lost."""
    said = after(sow_week_b=30, held=book())

    assert ("good", None) == (said.verdict, said.limiting)
    assert (0.0, 0.0) == (said.loss[FIRST.id].all, said.loss[THEN.id].roots)


def test_ground_that_is_not_free_yet_is_refused_until_it_is() -> None:
    """Sown while the first still stands: poor, unless it starts after the first is cleared."""
    said = after(sow_week_b=24)

    assert ("poor", "season") == (said.verdict, said.limiting.kind if said.limiting else None)
    assert not any("keeps its season" in reason.text for reason in said.reasons)
    assert "good" == after(sow_week_b=24, clear_week_a=23).verdict


def test_a_late_start_loses_what_would_come_after_the_frost() -> None:
    """A tender crop of 20 weeks set in week 36 has six weeks to the first frost (day 288, week 42)."""
    tender = replace(THEN, tender=chosen("yes"))
    time = timing(FIRST, tender, REFERENCE_SITE, FollowOn(sow_week_b=36))

    # the first six weeks of a rise over six weeks: half the height on average, of 15 full weeks in all
    assert (6.0 * 0.5) / 15 == pytest.approx(1 - time.lost, abs=0.01)
    assert "season" == judge_follow(FIRST, tender, REFERENCE_SITE, FollowOn(sow_week_b=36)).reasons[0].kind


def test_a_hardy_crop_loses_less_than_a_tender_one() -> None:
    """Four weeks of growth after the first frost are a hardy crop's gain."""
    hardy, tender = (replace(THEN, tender=chosen(word)) for word in ("no", "yes"))
    lost = [timing(FIRST, crop, REFERENCE_SITE, FollowOn(sow_week_b=36)).lost for crop in (hardy, tender)]

    assert lost[0] < lost[1]


def test_what_is_unknown_of_frost_counts_as_tender() -> None:
    """Not knowing whether frost kills it is no good news."""
    unknown, tender = (replace(THEN, tender=chosen(word)) for word in (None, "yes"))
    lost = [timing(FIRST, crop, REFERENCE_SITE, FollowOn(sow_week_b=36)).lost for crop in (unknown, tender)]

    assert lost[0] == lost[1]


@pytest.mark.parametrize(
    ("changes", "within", "beyond"),
    [
        ({"family": FIRST.family}, "workable", "good"),
        ({"family": FIRST.family, "genus": FIRST.genus}, "poor", "good"),
    ],
    ids=["family", "genus"],
)
def test_kin_wait_three_years(changes: dict[str, object], within: str, beyond: str) -> None:
    """A family does not follow itself inside three years (`trade` 5.3, common practice)."""
    kin = replace(THEN, **changes)  # type: ignore[arg-type]

    assert within == after(b=kin, sow_week_b=30).verdict
    assert beyond == after(b=kin, gap_years=3).verdict
    conditions = after(b=kin, sow_week_b=30).conditions
    assert [("family", beyond)] == [(c.kind, c.verdict_if_met) for c in conditions]


def test_a_crop_after_itself_is_like_its_genus() -> None:
    """The same crop again is poor within three years, not silently 'like with like'."""
    assert "poor" == after(b=FIRST, clear_week_a=20, sow_week_b=30).verdict


def test_a_soil_disease_of_both_asks_for_clean_ground() -> None:
    """What lives in the soil for years holds it to workable unless the ground is known to be clean."""
    said = after(sow_week_b=30, held=book(rot(FIRST, THEN)))

    assert ("workable", "clean-ground") == (said.verdict, said.conditions[0].given)
    clean = after(sow_week_b=30, held=book(rot(FIRST, THEN)), given=frozenset({"clean-ground"}))
    assert "good" == clean.verdict


def test_years_outlive_it_only_past_the_longest_printed() -> None:
    """8 to 20 years printed: ten years between do not lift it, twenty do, and a note says so."""
    held = book(rot(FIRST, THEN))

    assert "workable" == after(gap_years=10, held=held).verdict
    gone = after(gap_years=20, held=held)
    assert ("good", True) == (gone.verdict, any("invented rot" in note for note in gone.notes))


def test_ground_known_to_have_it_is_avoided() -> None:
    """History beats the partner: the first need be no host at all."""
    said = after(sow_week_b=30, held=book(rot(THEN)), history=frozenset({"invented-rot"}))

    assert ("avoid", "enemies") == (said.verdict, said.limiting.kind if said.limiting else None)
    assert ("record:late-crop.enemy",) == (said.limiting.records if said.limiting else ())


def test_replant_trouble_needs_other_soil() -> None:
    """Two hosts of a replant trouble: poor, and fresh soil is said to lift it."""
    said = after(sow_week_b=30, held=book(rot(FIRST, THEN, mode="replant", years=None)))

    assert ("poor", True) == (said.verdict, "fresh soil" in said.conditions[0].text)


def test_picked_peas_leave_little_and_dug_in_ones_more() -> None:
    """18 g/m2 held, 0.7 from air: picked .08-.95, dug in 3.4-6.3 g/m2 (worked by hand from the shares)."""
    assert pytest.approx((18 * 0.7 * 0.02 * 0.3, 18 * 0.7 * 0.15 * 0.5)) == nitrogen_left(FIXER, "harvested")
    assert pytest.approx((18 * 0.7 * 0.9 * 0.3, 18 * 0.7 * 1.0 * 0.5)) == nitrogen_left(FIXER, "dug-in")


def test_the_share_of_the_need_is_said() -> None:
    """Picked peas give at most about 4 % of a cabbage's need, dug-in ones a quarter (`trade` T12, J20)."""
    said = after(a=FIXER, b=HUNGRY, sow_week_b=30)

    assert "0 to 4 %" in said.benefits[0].text
    assert "14 to 25 %" in after(a=FIXER, b=HUNGRY, sow_week_b=30, use_a="dug-in").benefits[0].text


def test_a_fixer_takes_no_gift() -> None:
    """What fixes for itself is not fed."""
    assert after(a=FIXER, b=replace(HUNGRY, nitrogen_fixing=chosen("yes")), sow_week_b=30).nitrogen is None


def test_years_between_are_those_of_the_family_and_not_of_the_disease() -> None:
    """Three years for kin (`trade` 5.3), eight to twenty printed: the answer says which is which."""
    kin = replace(THEN, family=FIRST.family)
    said = after(b=kin, sow_week_b=30, held=book(rot(FIRST, THEN)))
    alone = after(b=kin, sow_week_b=30, held=book())

    texts = {one.kind: one.text for one in said.conditions}
    assert "may still be there" in texts["family"]
    assert any("where it lasts 8 to 20 years" in reason.text for reason in said.reasons)
    assert "the last crops here stayed free of invented rot" == texts["enemies"]
    assert not any("may still be there" in one.text for one in alone.conditions)


@given(st.floats(1, 50), st.floats(0, 50))
def test_more_years_never_make_it_worse(years: float, more: float) -> None:
    """Waiting longer never lowers the verdict."""
    kin = replace(THEN, family=FIRST.family)
    held = book(rot(FIRST, THEN))
    sooner, later = (after(b=kin, held=held, gap_years=gap) for gap in (years, years + more))

    assert rank(sooner) <= rank(later)


@given(st.integers(1, 52), st.integers(1, 52), st.sampled_from(["harvested", "dug-in", "mown", "left"]))
def test_answers_are_whole_numbers_of_this_world(clear: int, start: int, use: str) -> None:
    """Any two weeks: losses and scores stay in their ranges, the first never loses anything."""
    said = after(a=FIXER, clear_week_a=clear, sow_week_b=start, use_a=use)

    assert 0 <= said.score.low <= said.score.likely <= said.score.high <= 100
    assert all(0 <= loss.all <= 1 for loss in said.loss.values())
    assert said.loss[FIXER.id].all == 0


@given(st.integers(1, 52))
def test_the_south_is_the_north_half_a_year_on(week: int) -> None:
    """The same weeks after mirrored frosts lose the same."""
    south = Site(latitude=-51.0, last_frost_day=312.5, first_frost_day=105.5)
    moved = (week + 25) % 52 + 1
    north_lost = timing(FIRST, THEN, REFERENCE_SITE, FollowOn(sow_week_b=week)).lost

    assert north_lost == pytest.approx(timing(FIRST, THEN, south, FollowOn(sow_week_b=moved)).lost, abs=1e-6)


def in_a_row(years: float) -> Agent:
    """An invented wilt that a printed rotation keeps apart on both, serious on neither."""
    listed = tuple(Host(p.id, "side", None, gap_years=years) for p in (FIRST, THEN))
    return Agent("invented-wilt", "invented wilt", "soil", listed)


def test_a_printed_rotation_holds_until_its_years_are_over() -> None:
    """Four years between crops of one row (Connecticut table, eggplant, Verticillium wilt)."""
    soon = after(sow_week_b=30, held=book(in_a_row(4)))
    later = after(gap_years=4, held=book(in_a_row(4)))

    assert ("workable", "enemies") == (soon.verdict, soon.limiting.kind if soon.limiting else None)
    assert "good" == later.verdict
    assert any("invented wilt" in note for note in later.notes)


KIN = replace(THEN, family=FIRST.family)


def on(first: Host, then: Host, plants: tuple[Profile, ...] = (FIRST, KIN), **changes: object) -> EnemyBook:
    """A book of one invented rot of the soil on these two hosts."""
    agent = replace(rot(years=None), hosts=(first, then), **changes)  # type: ignore[arg-type]
    return EnemyBook.of([agent], [(p.id, p.genus, p.family.value) for p in plants])


def test_only_the_harm_to_the_second_has_to_be_serious() -> None:
    """Lentil keeps Aphanomyces for pea (Pacific Northwest handbook: a host, pea the one that dies of it)."""
    host, hit = Host(FIRST.id, "side", None), Host(THEN.id, "main", "serious")
    pea = after(b=KIN, gap_years=1, held=on(host, hit, years=(10, None)))
    beyond = after(b=KIN, gap_years=4, held=on(host, hit, years=(10, None)))
    lentil = after(b=KIN, gap_years=4, held=on(replace(hit, plant=FIRST.id), replace(host, plant=THEN.id)))

    assert ("poor", "enemies") == (pea.verdict, pea.limiting.kind if pea.limiting else None)
    assert ("workable", "good") == (beyond.verdict, lentil.verdict)


def test_a_host_of_many_families_that_does_not_suffer_is_named_and_holds_nothing() -> None:
    """Half of all trees are on the lists of such an enemy (`trade` J14: Verticillium, 14 families)."""
    hit = Host(THEN.id, "main", "serious")
    held = on(Host(FIRST.id, "main", None), hit, (FIRST, THEN))
    said = after(gap_years=1, held=held)

    assert "good" == said.verdict
    assert any("Both are hosts of invented rot too" in note for note in said.notes)


@pytest.mark.parametrize(
    ("then", "verdicts"),
    [(THEN, ["workable", "workable", "good"]), (KIN, ["poor", "workable", "good"])],
    ids=["strangers", "kin"],
)
def test_a_gap_shorter_than_the_printed_rotation_is_worse(then: Profile, verdicts: list[str]) -> None:
    """Four years after potato for tomato and strawberry (Connecticut table, Verticillium wilt)."""
    hosts = (Host(p.id, "main", "serious", gap_years=4) for p in (FIRST, then))
    held = on(*hosts, plants=(FIRST, then))
    said = [after(b=then, gap_years=years, held=held) for years in (1, 3, 4)]

    assert verdicts == [one.verdict for one in said]
    assert "a printed rotation asks for 4 years between" in said[0].saying
    assert any("no promise" in note for note in said[2].notes)
    promised = [c.verdict_if_met for c in said[0].conditions if "4 years lie between" in c.text]
    assert ["good"] == promised


def test_nematodes_of_both_are_named_in_a_rotation() -> None:
    """Beet cyst nematodes breed on beet and on cabbage (Dutch nematode scheme): the note says which."""
    hosts = (Host(FIRST.id, "main", "serious"), Host(THEN.id, "main", "moderate"))
    said = after(gap_years=1, held=on(*hosts, (FIRST, THEN), nematode=True))

    assert "good" == said.verdict
    assert any("Both are hosts of invented rot too" in note for note in said.notes)


def test_ground_with_a_history_holds_kin_as_poor_and_named_hosts_as_avoid() -> None:
    """A host through its family may be none, so it is never forbidden outright (`computation-notes` 1.15)."""
    kin = replace(THEN, family=FIRST.family)
    club = replace(rot(FIRST), families=(Host(FIRST.id, "main", "serious"),))
    held = EnemyBook.of([club], [(p.id, p.genus, p.family.value) for p in (FIRST, kin)])
    known = frozenset({"invented-rot"})

    said = after(HUNGRY, kin, held=held, sow_week_b=30, history=known)
    named = after(HUNGRY, FIRST, held=held, history=known)

    assert ("poor", "avoid") == (said.verdict, named.verdict)
    assert "not recorded for late crop itself" in said.saying


SOUR = replace(FIRST, id="sour-crop", soil_ph=Span(4.0, 5.2, "cited"))
LIMY = replace(THEN, id="limy-crop", soil_ph=Span(6.2, 7.8, "cited"))


def test_soil_that_suits_the_first_has_to_suit_the_second() -> None:
    """Apart in reaction: poor until the soil is changed; on a site of known pH each is judged by that."""
    apart = after(SOUR, LIMY, sow_week_b=30)
    on_lime = judge_follow(
        SOUR, LIMY, replace(REFERENCE_SITE, soil_ph=7.0), FollowOn(sow_week_b=30), book=book()
    )

    assert ("poor", "ph") == (apart.verdict, apart.limiting.kind if apart.limiting else None)
    assert ["good"] == [one.verdict_if_met for one in apart.conditions if one.kind == "ph"]
    assert ("avoid", "sour-crop") == (on_lime.verdict, on_lime.limiting.of if on_lime.limiting else None)


def test_wet_after_dry_is_a_note_where_the_ground_suits_one_of_them() -> None:
    """Two that never stand together are judged by the ground, each in its own weeks; water lifts the rest.

    Common practice: clover dug in before cabbage. Only ground that suits neither makes the two poor.
    """
    dry = replace(FIRST, id="dry-crop", moisture=Span(2.0, 5.0, "cited"))
    wet = replace(THEN, id="wet-crop", moisture=Span(6.0, 8.0, "cited"))
    wet_ground, between = (replace(REFERENCE_SITE, moisture=step) for step in (6.5, 5.5))
    asked = FollowOn(sow_week_b=30)

    fits_one = judge_follow(dry, wet, wet_ground, asked, book=book())
    fits_none = judge_follow(dry, wet, between, asked, book=book())
    watered = judge_follow(dry, wet, between, replace(asked, given=frozenset({"irrigated"})), book=book())

    assert any("wants moister ground" in note for note in fits_one.notes)
    assert ("poor", "water") == (fits_none.verdict, fits_none.limiting.kind if fits_none.limiting else None)
    assert rank(watered) > rank(fits_none)


@pytest.mark.parametrize(
    ("form", "raising", "gap_weeks", "word"),
    [
        ("graminoid", "in-place", 1.0, "workable"),
        ("graminoid", None, 2.5, "workable"),
        ("graminoid", "in-place", 3.0, "good"),
        ("graminoid", "planted-out", 1.0, "good"),
        ("herb", "in-place", 1.0, "workable"),
        ("herb", "in-place", 2.5, "good"),
    ],
)
def test_seed_waits_for_what_rots_of_a_green_manure(
    form: str, raising: str | None, gap_weeks: float, word: str
) -> None:
    """Two to three weeks between turning in and sowing, longest after grasses (common practice)."""
    cover, crop = replace(FIRST, growth_form=chosen(form)), replace(THEN, raising=chosen(raising))
    said = after(cover, crop, use_a="dug-in", clear_week_a=18, gap_weeks=gap_weeks, held=book())

    assert word == said.verdict
    assert (word == "workable") == any(
        "sown three weeks" in c.text or "two weeks" in c.text for c in said.conditions
    )
    assert "good" == after(cover, crop, clear_week_a=18, gap_weeks=gap_weeks, held=book()).verdict


def test_a_week_that_nobody_named_lies_after_the_rest() -> None:
    """Who may choose sows when the green manure has rotted (common practice)."""
    cover = replace(FIRST, growth_form=chosen("graminoid"))
    times = [
        timing(cover, THEN, REFERENCE_SITE, FollowOn(clear_week_a=22, use_a=use)).gap_weeks  # type: ignore[arg-type]
        for use in ("harvested", "dug-in")
    ]

    assert [1.0, 3.0] == times


def test_years_of_rotation_say_where_they_also_mend_the_start() -> None:
    """Two deeds with two outcomes: the years between bring the crop into its own weeks as well."""
    kin = replace(THEN, family=FIRST.family)
    late, in_time = (after(b=kin, clear_week_a=20, sow_week_b=week, held=book()) for week in (36, 22))

    said = [next(c for c in answer.conditions if c.kind == "family").text for answer in (late, in_time)]
    assert [True, False] == [", and late crop starts in its own weeks" in text for text in said]


@pytest.mark.parametrize("use", ["harvested", "mown", "left"])
def test_ground_that_is_cleared_in_a_week_is_followed_in_that_week(use: Use) -> None:
    """Soya is drilled into rye on the day it is rolled (Mischler et al. 2010, on rolled rye and soya).

    Three days to turn the ground round (`trade` 5.3) lie inside a week; a week before it still stands.
    """
    crop = replace(THEN, raising=chosen("planted-out"))
    same, before = (
        after(b=crop, clear_week_a=22, sow_week_b=week, use_a=use, held=book()) for week in (22, 21)
    )

    assert "good" == same.verdict
    assert "poor" == before.verdict
    assert any("in week 22 or later" in one.text for one in before.conditions)


@pytest.mark.parametrize(("use", "verdict"), [("harvested", "poor"), ("mown", "good")])
def test_weeks_that_are_counted_have_to_hold_the_turn(use: Use, verdict: str) -> None:
    """One day between: too little to dig over (`trade` 5.3: three days), enough to drill through stubble."""
    crop = replace(THEN, raising=chosen("planted-out"))

    assert verdict == after(b=crop, clear_week_a=22, gap_weeks=1 / 7, use_a=use, held=book()).verdict
