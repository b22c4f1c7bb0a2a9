"""What is said for two that give each other nothing: ground alike, shade that suits, seasons apart."""

import re
from dataclasses import replace

from kb.mixture.answers.explain import opened
from kb.mixture.answers.pair import judge_pair
from kb.mixture.judging.findings import Held
from kb.mixture.judging.merits import alike
from kb.mixture.profile import Span
from kb.mixture.results import Limiting, Reason
from tests.mixture.profiles import BULB, TAPROOT
from tests.mixture.real import pairs, shipped

DRY, FRESH = Span(1.0, 4.0, "cited", ("dry",)), Span(3.0, 7.0, "cited", ("fresh",))


def test_plants_of_one_dry_ground_are_said_to_be_alike() -> None:
    """Thyme and sage, the dry bed of herb handbooks: both of dry ground; a plant of fresh ground is not."""
    one, other = replace(BULB, moisture=DRY), replace(TAPROOT, moisture=replace(DRY, high=4.6))
    said = alike((one, other))

    assert said is not None
    assert "want ground alike: dry" in said.text
    assert {"dry"} <= set(said.records)
    assert alike((one, replace(TAPROOT, moisture=FRESH))) is None
    assert alike((one, replace(TAPROOT, moisture=replace(DRY, origin="form")))) is None
    assert alike((one, one)) is None


def test_what_is_known_is_said_before_a_guess_of_kinship() -> None:
    """Plain writing (common practice): a fact of the ground before what kin only may share."""
    held = Held(verdict="workable", eased=0.3, limits=(), again={}, one_kind=False)
    kin, ground = Limiting("family", "a", "They are kin."), Reason("water", "They want ground alike.")

    assert opened(held, kin, ground, ground) == [ground.text, kin.text]
    assert opened(held, replace(kin, kind="roots"), ground, ground) == [kin.text, ground.text]
    assert opened(held, kin, None, ground) == [kin.text, ground.text]


def test_shade_suits_only_where_it_leaves_what_a_crop_needs() -> None:
    """Gooseberries under plums (orchard texts): both figures are said, and the first is not the smaller."""
    book, suits, apart = shipped()[1], 0, 0
    for a, b, site, arrangement in pairs(seed=31, count=90):
        answer = judge_pair(a, b, site, arrangement, draws=0, book=book)
        words = " ".join(reason.text for reason in answer.reasons)
        if found := re.search(r"suits .*: it leaves about (\d+) % .* about (\d+) % gives", words):
            assert int(found[1]) >= int(found[2])
            assert min(loss.light for loss in answer.loss.values()) < 0.05
            suits += 1
        if found := re.search(r"does about (\d+) % of its growing while", words):
            assert 50 <= int(found[1]) <= 100  # daffodils under old apples: done as the leaf closes
            apart += 1
    assert suits
    assert apart
