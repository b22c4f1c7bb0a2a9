"""Does B do well on the ground after A: the answer in the shape of a pair.

K is the near-limit of the season lost and of what kin leave in the ground; named enemies hold the
verdict down as they do side by side; nitrogen left by a fixer eases it. A loses nothing by what
comes after it. How sure: the dates of both and the first frost are moved within their doubt.
"""

from dataclasses import replace
from typing import Literal

import numpy as np

from kb.mixture.answers import follow_words as words
from kb.mixture.enemies.enemy_book import EnemyBook
from kb.mixture.follow.follow_findings import Follow
from kb.mixture.follow.follow_ground import ground_limits, ground_notes
from kb.mixture.follow.follow_season import Season, week_of
from kb.mixture.follow.green_manure import still_rots
from kb.mixture.follow.grown_after import (
    FollowOn,
    Timing,
    following_crop,
    kin_share,
    nitrogen_left,
    timing,
)
from kb.mixture.follow.leftover import Ground, leftovers, waiting
from kb.mixture.judging.site_rules import rule_limits
from kb.mixture.limits import HOLDS_BACK, Limit, ceiling_of, hardest_first
from kb.mixture.profile import Profile
from kb.mixture.relatedness import relation
from kb.mixture.results import Loss, PairAnswer, Score, Sureness, Verdict
from kb.mixture.season import DAYS_PER_WEEK, FloatArray
from kb.mixture.site import Site
from kb.mixture.stress import near_limit, score_of, verdict_steps
from kb.mixture.uncertainty import DRAWS, EDGE_OF_INTERVAL, standard_normals
from kb.mixture.weeks.as_grown import as_sown, growth_by_week, waits_days
from kb.mixture.weeks.hot_weeks import warm_note
from kb.mixture.weeks.sowing import sowing_note, sowings_note
from kb.mixture.weeks.winter import winter_limits

SureWord = Literal["sure", "fairly sure", "unsure"]
SURE, FAIRLY_SURE = 0.85, 0.65
MOVES_IT = 0.01
"""Least spread of K over the draws for which a date is worth checking."""

ONE_AFTER_THE_OTHER = (
    "One grows after the other, so it is not asked which of the two keeps less of its yield."
)


def judge_follow(
    a: Profile,
    b: Profile,
    site: Site,
    asked: FollowOn,
    *,
    book: EnemyBook | None = None,
    draws: int = DRAWS,
) -> PairAnswer:
    """Whether B does well where A grew before, and why."""
    a = as_sown(a, site, asked.sow_week_a)
    b = following_crop(a, b, site, asked)
    found = _find(a, b, site, asked, book)
    verdict = found.word()
    stress = found.stress(found.time.lost, found.shared, ceiling_of(found.limits))
    drawn = found.stress(_lost_in_draws(found, site, draws), found.shared, ceiling_of(found.limits))
    sureness = _sureness(found, verdict, drawn)
    felt = float(near_limit(np.array([found.time.lost]), np.zeros(1), found.shared)[0])
    likely, low, high = float(score_of(stress)[0]), *np.percentile(score_of(drawn), [10, 90])
    limiting = words.limiting_of(found, verdict)
    reasons = words.reasons_of(found)
    waits = [
        _find(a, b, site, replace(asked, gap_years=years, gap_weeks=None, sow_week_b=None), book)
        for years in found.rotations
    ]
    conditions = words.conditions_of(found, waits)
    gift = words.gift_of(found)
    benefits = () if gift is None else (words.nitrogen_reason(found),)
    twin = f"{b.id}#2" if a.id == b.id else b.id
    return PairAnswer(
        a=a.id,
        b=b.id,
        verdict=verdict,
        conditions=conditions,
        limiting=limiting,
        sharing=0.0,
        loss={a.id: Loss(0.0, 0.0, 0.0, 0.0), twin: Loss(0.0, 0.0, found.shared, felt)},
        suppressed=None,
        suppressed_note=ONE_AFTER_THE_OTHER,
        benefits=benefits,
        nitrogen=gift,
        score=Score(likely, min(likely, float(low)), max(likely, float(high))),
        sureness=sureness,
        reasons=reasons[:3],
        notes=(*ground_notes(a, b, site), *words.notes_of(found, book), *_seasons(found, site)),
        saying=words.saying_of(verdict, limiting, conditions, reasons, sureness),
    )


def _find(a: Profile, b: Profile, site: Site, asked: FollowOn, book: EnemyBook | None) -> Follow:
    time = timing(a, b, site, asked)
    ground = Ground(time.years_apart, asked.history, asked.given, asked.age_a_years)
    limits = [] if book is None else list(leftovers(a, b, ground, book))
    for plant in {a.id: a, b.id: b}.values():
        limits += [*rule_limits(plant, site), *winter_limits(plant, site)]
    limits += ground_limits(a, b, site, asked.given)
    of_ground = [limit for limit in limits if limit.apart is not None or limit.kind == "enemies"]
    if time.too_soon:
        of_ground.append(words.too_soon(a, b, time))
    rots = still_rots(a, b, asked.use_a, asked.gap_weeks if time.gap_weeks is None else time.gap_weeks)
    if rots is not None:
        of_ground.append(rots)
    limits = list(dict.fromkeys((*limits, *of_ground)))
    week_limits = _week_limits(b, site, asked, time)
    limits += week_limits
    fixer = b.nitrogen_fixing.value == "yes"
    return Follow(
        a=a,
        b=b,
        asked=asked,
        time=time,
        kin=relation(a, b),
        shared=kin_share(a, b, time.years_apart),
        limits=hardest_first(limits),
        gift_g_m2=(0.0, 0.0) if fixer else nitrogen_left(a, asked.use_a, asked.age_a_years),
        need_g_m2=b.nitrogen_demand_g_m2.likely,
        waiting=() if book is None else waiting(a, b, ground, book),
        week_limits=week_limits,
        of_ground=tuple(of_ground),
    )


def _week_limits(b: Profile, site: Site, asked: FollowOn, time: Timing) -> tuple[Limit, ...]:
    """What frost and cold hold against the week of B, as in a bed; in its own weeks, a season too short."""
    if not b.annual:
        return ()
    named = asked.sow_week_b is not None or asked.gap_weeks is not None or time.in_season
    return Season.of(b, site, 0.0, 0.0).limits(time.start_week if named else None)


def _seasons(found: Follow, site: Site) -> tuple[str, ...]:
    """Which of a crop's times of sowing is meant, and what the frosts do to weeks that nobody named."""
    asked, time = found.asked, found.time
    said_a = asked.sow_week_a is not None or asked.clear_week_a is not None
    said_b = asked.sow_week_b is not None or asked.gap_weeks is not None or time.in_season
    unsaid = [plant for plant, said in ((found.a, said_a), (found.b, said_b)) if not said]
    sowings = [sowings_note(plant, site) for plant in dict.fromkeys((found.a, found.b))]
    notes = [
        sowing_note(plant, growth_by_week(plant, site), site)
        for plant in dict.fromkeys(unsaid)
        if waits_days(plant, site) > 0
    ]
    b, start = found.b, time.start_week
    warm = None
    if said_b and b.annual and start is not None:
        sown = week_of(start - time.raised_weeks)
        warm = warm_note(b, growth_by_week(b, site, sow_week=sown), site)
    return tuple(note for note in (*sowings, *notes, warm) if note is not None)


def _lost_in_draws(found: Follow, site: Site, draws: int) -> FloatArray:
    """Season lost with the dates moved within their doubt: (draws,); the likely one alone without draws."""
    if not draws or not found.b.annual:
        return np.array([found.time.lost])
    asked = found.asked
    if found.time.in_season:  # The week that was chosen is kept, whatever the dates turn out to be.
        asked = replace(asked, sow_week_b=found.time.start_week)
    spread = (
        np.array(
            [
                found.a.activity.doubt_weeks / EDGE_OF_INTERVAL,
                found.b.activity.doubt_weeks / EDGE_OF_INTERVAL,
                site.frost_sd_days / DAYS_PER_WEEK,
            ]
        )
        * standard_normals(draws)[:, :3]
    )
    return np.array([timing(found.a, found.b, site, asked, moved=row).lost for row in spread])


def _sureness(found: Follow, verdict: Verdict, drawn: FloatArray) -> Sureness:
    share = float(np.mean(verdict_steps(drawn) == HOLDS_BACK[verdict]))
    known = found.a.family.known and found.b.family.known and found.b.activity.known
    word: SureWord = (
        "sure" if share >= SURE and known else "fairly sure" if share >= FAIRLY_SURE else "unsure"
    )
    if not known:
        return Sureness("unsure", share, "growth-window" if found.b.family.known else "family", found.b.id)
    moved = bool(np.ptp(drawn) > MOVES_IT)
    return Sureness(word, share, "growth-window" if moved else None, found.b.id if moved else None)
