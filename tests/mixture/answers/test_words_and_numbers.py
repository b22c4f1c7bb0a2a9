"""The words and the numbers never disagree: answers on plants of the shipped base, parsed and checked.

What is printed is read back with regular expressions and held against losses, score, verdict and
conditions; what a condition promises is asked again with its word given. Nothing here is taken from
the code that writes the words but the weight of enemies and the bands, which `computation-notes` 1.13
and 3 print.
"""

import random
import re
from collections.abc import Iterable
from dataclasses import replace

import pytest

from kb.mixture.answers.explain import ALL_OF_IT, BY_ITSELF, NOT_ENOUGH_ALONE
from kb.mixture.answers.judgement import judge_planting
from kb.mixture.answers.pair import judge_pair
from kb.mixture.answers.succession import judge_follow
from kb.mixture.follow.grown_after import FollowOn
from kb.mixture.results import ORDER, Condition, Limiting, Loss, PairAnswer, PlantingAnswer, Sureness, Verdict
from kb.mixture.site import REFERENCE_SITE
from tests.mixture.real import pairs, plantings, shipped

BANDS: dict[Verdict, tuple[float, float]] = {
    "good": (80, 100), "workable": (60, 80), "poor": (40, 60), "avoid": (0, 40), "like": (50, 50),
}  # fmt: skip
"""100 (1 - K') by the bands of `computation-notes` 3."""
ENEMY_WEIGHT = 0.7
"""`computation-notes` 1.13."""
HALF_STEP = 0.025 + 1e-9
"""Numbers are rounded to 5 (`trade` 4.15)."""
DRAWS = 12
PERCENT = r"(?:about (\d+) %|(hardly any)|(nearly all))"


def said_percent(pattern: str, text: str) -> float | None:
    """The share said where a pattern (its ``%s`` stands for the percentage) matches, else None."""
    found = re.search(pattern.replace("%s", PERCENT), text)
    if found is None:
        return None
    return float(found[1]) / 100 if found[1] else 0.0 if found[2] else 1.0


def check_said(limiting: Limiting, loss: Loss) -> None:
    """What the limiting reason says in numbers is what the losses of its plant say."""
    roots = said_percent(r"goes without %s of the (?:water|nitrogen)", limiting.text)
    light = said_percent(r"^Shade of .* costs .* %s of its (?:crop|growth)", limiting.text)
    if roots is not None:
        assert ("roots", pytest.approx(roots, abs=HALF_STEP)) == (limiting.kind, loss.roots)
    if light is not None:
        assert ("light", pytest.approx(light, abs=HALF_STEP)) == (limiting.kind, loss.light)
    if "not enough light to crop" in limiting.text:
        assert loss.light > 0.5


def check_opening(saying: str, verdict: Verdict, conditions: Iterable[Condition]) -> None:
    """The saying opens with the verdict; "unless" names a way that is a condition, and where it leads."""
    if verdict == "like":
        assert saying.startswith("Like with like") or "One kind of plant" in saying
        return
    said = re.sub("^may (be|have to be) ", "", saying.lower()).replace("avoided", "avoid", 1)
    assert said.startswith(verdict)
    together = re.match(rf"{verdict}, unless {ALL_OF_IT}: (.*?); then (\w+)\. ", said)
    if together is not None:
        assert ORDER.index(verdict) < ORDER.index(together[2])
        return
    leads = rf"(?:; then (?:{BY_ITSELF})?(\w+)|; {NOT_ENOUGH_ALONE})"
    plain = re.sub("^May (be|have to be) ", "", saying).replace("avoided", "avoid", 1)
    rather = r"(?:, in more of the trials \w+)?"
    unless = re.match(rf"{verdict}{rather}, unless (.*?){leads}\. ", plain, re.IGNORECASE)
    if unless is not None:
        ways = [c for c in conditions if c.text == unless[1]]
        assert ways, saying
        assert not any(way.met for way in ways)
        then = {way.verdict_if_met for way in ways}
        assert ({unless[2]} if unless[2] else {verdict}) == then
    elif verdict == "avoid":
        assert "unless" not in saying.partition(". ")[0]


def check_sureness(saying: str, sureness: Sureness) -> None:
    """The share of draws said is that of the numbers, and the word stands before it."""
    drawn = re.search(r"(\w+(?: sure)?): (\d+) % of trials", saying)
    if drawn is not None:
        assert float(drawn[2]) / 100 == pytest.approx(sureness.share_of_draws, abs=HALF_STEP)
    assert sureness.word in saying.lower()


def check_pair(answer: PairAnswer, *, gives_off: bool) -> None:
    """One answer; where a plant gives off what harms the other, its loss is more than its parts."""
    low, high = BANDS[answer.verdict]
    assert low - 1e-9 <= answer.score.likely <= high + 1e-9
    assert answer.score.low <= answer.score.likely <= answer.score.high
    assert len(answer.reasons) <= 3
    check_opening(answer.saying, answer.verdict, answer.conditions)
    if answer.verdict == "like":
        assert (None, (), ()) == (answer.limiting, answer.conditions, answer.benefits)
        return
    check_sureness(answer.saying, answer.sureness)
    for loss in answer.loss.values():
        parts = (loss.roots**4 + loss.light**4 + (ENEMY_WEIGHT * loss.enemies) ** 4) ** 0.25
        assert loss.all >= min(1.0, parts) - 1e-9
        assert gives_off or loss.all == pytest.approx(min(1.0, parts), abs=1e-9)
    limiting = answer.limiting
    if limiting is None:
        assert answer.verdict == "good"
        return
    check_said(limiting, answer.loss[limiting.of])
    assert limiting.text[:1].upper() + limiting.text[1:] in answer.saying
    assert limiting.text in {reason.text for reason in answer.reasons}
    if re.search("goes without|of its crop|of its growth|not enough light to crop", limiting.text):
        most = max(loss.all for loss in answer.loss.values())
        assert answer.loss[limiting.of].all == pytest.approx(most, abs=1e-8)


def check_good(answer: PairAnswer | PlantingAnswer, felt: float) -> None:
    """Good stands only where what is felt, eased by at most 35 %, stays under the band of 0.2."""
    if answer.verdict == "good":
        assert felt * 0.65 < 0.2
        assert "not enough light" not in answer.saying
        assert not any(c.met is None and c.verdict_if_met != "good" for c in answer.conditions)
    elif answer.verdict != "like":
        assert answer.limiting is not None


def test_a_pair_says_what_its_numbers_say() -> None:
    """240 pairs of the shipped base, in beds and under trees, on three sites."""
    book, verdicts = shipped()[1], set()
    for a, b, site, arrangement in pairs(seed=11, count=240):
        answer = judge_pair(a, b, site, arrangement, draws=DRAWS, book=book)

        check_pair(answer, gives_off=bool(book.emits(a) or book.emits(b)))
        check_good(answer, max(loss.all for loss in answer.loss.values()))
        verdicts.add(answer.verdict)
    assert set(ORDER) <= verdicts


def test_what_a_pair_promises_is_so_when_asked_again() -> None:
    """Every condition with a word: asked with the word given, or taken back, the verdict is the promised.

    One that says it is met, or that is not met yet, promises for the state it is in what is said now.
    """
    book, asked = shipped()[1], 0
    for a, b, site, arrangement in pairs(seed=12, count=300):
        answer = judge_pair(a, b, site, arrangement, draws=0, book=book)
        for condition in (c for c in answer.conditions if c.given is not None and c.met is not False):
            word = {condition.given or ""}
            turned = replace(arrangement, given=arrangement.given ^ word)
            again = judge_pair(a, b, site, turned, draws=0, book=book).verdict
            promised = condition.verdict_if_unmet if condition.met else condition.verdict_if_met
            now = condition.verdict_if_met if condition.met else condition.verdict_if_unmet

            assert promised == again or small(condition, again), (a.id, b.id, condition)
            assert now == answer.verdict or small(condition, answer.verdict), (a.id, b.id, condition)
            asked += 1
    assert asked > 100


def small(condition: Condition, said: Verdict) -> bool:
    """What any gardener does (sticks, lifting with care) is taken as done where nothing is said of it."""
    return condition.given in {"frame", "careful-lifting", "mulch"} and said == condition.verdict_if_met


def test_a_planting_says_what_its_numbers_say_and_keeps_its_promises() -> None:
    """60 plantings of two to five kinds: saying, members, score; and what each condition promises."""
    book, asked = shipped()[1], 0
    for planting in plantings(seed=13, count=60):
        answer = judge_planting(planting, draws=0, book=book)
        low, high = BANDS[answer.verdict]
        losses = {member.plant: member.loss for member in answer.members}

        assert low - 1e-9 <= answer.score.likely <= high + 1e-9
        assert len(answer.reasons) <= 3
        check_opening(answer.saying, answer.verdict, answer.conditions)
        check_good(answer, max(loss.all for loss in losses.values()))
        for member in answer.members:
            if member.why is not None:
                check_said(member.why, member.loss)
        if answer.limiting is not None:
            check_said(answer.limiting, losses[answer.limiting.of])
        for condition in (c for c in answer.conditions if c.given is not None and c.met is not False):
            turned = replace(planting, given=planting.given ^ {condition.given or ""})
            again = judge_planting(turned, draws=0, book=book).verdict
            promised = condition.verdict_if_unmet if condition.met else condition.verdict_if_met
            assert promised == again or small(condition, again), condition
            asked += 1
    assert asked > 20


def follow_ons(count: int) -> Iterable[tuple[PairAnswer, FollowOn, str, str]]:
    draw, (plants, book) = random.Random(14), shipped()  # noqa: S311 - a sample, no secret
    annuals = [p for p in plants if p.annual]
    for _ in range(count):
        a = draw.choice(annuals)
        kin = [p for p in annuals if p.family.value == a.family.value]
        b = draw.choice(kin) if draw.random() < 0.5 else draw.choice(annuals)
        asked = FollowOn(
            sow_week_b=draw.choice([None, None, 20.0, 28.0, 36.0]),
            given=frozenset(draw.sample(["clean-ground"], draw.randint(0, 1))),
        )
        yield judge_follow(a, b, REFERENCE_SITE, asked, book=book, draws=DRAWS), asked, a.id, b.id


def test_a_follow_on_says_what_its_numbers_say_and_keeps_its_promises() -> None:
    """120 successions: season lost as said, reasons at most three, conditions and years asked again."""
    plants, book = {p.id: p for p in shipped()[0]}, shipped()[1]
    promises = 0
    for answer, asked, a, b in follow_ons(120):
        low, high = BANDS[answer.verdict]
        loss = list(answer.loss.values())[-1]
        lost = max(0.0, loss.all**4 - (ENEMY_WEIGHT * loss.enemies) ** 4) ** 0.25
        said = re.search(r"lose about (\d+) % of its growth", " ".join(r.text for r in answer.reasons))

        assert low - 1e-9 <= answer.score.likely <= high + 1e-9
        assert len(answer.reasons) <= 3
        assert answer.saying.lower().startswith(answer.verdict)
        assert (answer.limiting is None) == (answer.verdict == "good")
        check_sureness(answer.saying, answer.sureness)
        if said is not None and loss.all < 1:
            assert float(said[1]) / 100 == pytest.approx(lost, abs=HALF_STEP)
        for condition in answer.conditions:
            if condition.given is not None:
                turned = replace(asked, given=asked.given ^ {condition.given})
            elif years := re.match(r"(?:better still, )?at least (\d+) years lie between", condition.text):
                turned = replace(asked, gap_years=float(years[1]), sow_week_b=None)
            else:
                continue
            again = judge_follow(plants[a], plants[b], REFERENCE_SITE, turned, draws=0, book=book).verdict
            assert again == (condition.verdict_if_unmet if condition.met else condition.verdict_if_met)
            promises += 1
    assert promises > 30
