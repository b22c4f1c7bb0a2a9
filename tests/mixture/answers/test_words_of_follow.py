"""How one crop after another is put: one ladder of years, what is mild and why, a small gift last."""

from dataclasses import replace

from api.cli.judged import condition_words
from kb.mixture.answers.follow_words import AT_LEAST, BETTER
from kb.mixture.answers.pair import OTHER_MEASURE, judge_pair
from kb.mixture.enemies.enemy_book import EnemyBook
from kb.mixture.enemies.hosts import Host
from kb.mixture.profile import Profile
from kb.mixture.sharing.nitrogen import WORTH_LEADING, leads
from tests.mixture.follow.test_grown_after import FIRST, KIN, THEN, after, on, rot
from tests.mixture.profiles import about, chosen
from tests.mixture.real import pairs, shipped


def find(plant: str) -> Profile:
    return next(p for p in shipped()[0] if p.id == plant)


def test_the_years_of_kin_and_of_a_printed_rotation_are_one_ladder() -> None:
    """Tomato after potato: three years for kin, four against wilt, six against nematodes (RHS): one rule."""
    hosts = (Host(p.id, "main", "serious", gap_years=4) for p in (FIRST, KIN))
    said = after(b=KIN, gap_years=1, held=on(*hosts))
    steps = [c for c in said.conditions if "lie between" in c.text]

    assert [c.text.startswith(AT_LEAST) for c in steps] == [True, False]
    assert steps[1].text.startswith(BETTER)
    potato, tomato = (find(name) for name in ("solanum-tuberosum", "solanum-lycopersicum"))
    real = after(potato, tomato, shipped()[1], gap_years=1)
    assert "then workable, and good with 6 years." in real.saying
    told = condition_words({name: getattr(steps[1], name) for name in steps[1].__slots__})
    assert told.endswith("asks for: good.")
    assert "otherwise" not in told


def test_why_a_host_by_its_family_alone_holds_less_is_said() -> None:
    """Mustard before sprouts (green manure guides): clubroot of the family, not of mustard itself."""
    family = (Host(FIRST.id, "main", "serious", gap_years=7),)
    club = replace(rot(KIN), families=family, hosts=(Host(KIN.id, "main", "serious", gap_years=7),))
    plain = replace(rot(), hosts=tuple(Host(p.id, "main", "serious", gap_years=7) for p in (FIRST, KIN)))
    plants = [(p.id, p.genus, p.family.value) for p in (FIRST, KIN)]
    by_kin = after(b=KIN, gap_years=1, held=EnemyBook.of([club], plants))
    named = after(b=KIN, gap_years=1, held=EnemyBook.of([plain], plants))

    assert ("workable", "poor") == (by_kin.verdict, named.verdict)
    assert "hence workable and not poor" in by_kin.saying
    assert "hence" not in named.saying


def test_a_gift_of_a_few_per_cent_comes_after_what_tells_more() -> None:
    """Beans picked leave little (field guides on legumes: most of it goes with the seed): not first merit."""
    giver = replace(FIRST, nitrogen_fixing=chosen("yes"), nitrogen_demand_g_m2=about(10))
    small = after(giver, replace(THEN, nitrogen_demand_g_m2=about(200)), sow_week_b=30)
    large = after(giver, replace(THEN, nitrogen_demand_g_m2=about(1)), sow_week_b=30)

    assert ["nitrogen"] == [reason.kind for reason in small.reasons][-1:]
    assert "nitrogen" == large.reasons[0].kind
    assert not leads((0.0, 2 * WORTH_LEADING - 0.01), replace(THEN, nitrogen_demand_g_m2=about(1)))


def test_a_table_that_points_the_other_way_is_said_to() -> None:
    """Two measures of one thing are told apart (common practice of reports)."""
    book, seen = shipped()[1], 0
    for a, b, site, arrangement in pairs(seed=41, count=400):
        answer = judge_pair(a, b, site, arrangement, draws=0, book=book)
        if answer.suppressed is None:
            continue
        felt = {plant: max(loss.roots, loss.light) for plant, loss in answer.loss.items()}
        if max(felt.values()) - felt[answer.suppressed] > 0.01:
            assert answer.suppressed_note.endswith(OTHER_MEASURE)
            seen += 1
        elif felt[answer.suppressed] == max(felt.values()):
            assert OTHER_MEASURE not in answer.suppressed_note
    assert seen
