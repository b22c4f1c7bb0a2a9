"""Do these two fit: one answer, with what limits it, what lifts it and how sure it is.

The same steps serve a pair, a list of candidates and the ground under a tree: each plant is turned
into arrays once (`prepare`), then any two are judged at a place (`judge`). The likely values are
reckoned in layers of 2 cm; the draws of doubt in 15 coarser ones.

How sure: ``sure`` where at least 85 % of the draws give the same word and the root depths and seasons
of both are on record, ``fairly sure`` from 65 %, else ``unsure``; and ``unsure`` wherever a mechanism
that could matter for this pair is not computed or a deciding limit rests on a value that stands in
for a missing record.
"""

from dataclasses import dataclass
from typing import Literal

import numpy as np

from kb.mixture.conflicts import DARK_SHARE, all_limits
from kb.mixture.encounter import givings_between, meeting_at, party_at
from kb.mixture.enemy_book import EnemyBook
from kb.mixture.explain import explained
from kb.mixture.felt import Felt, Rows, feel, pair_rows
from kb.mixture.findings import Findings
from kb.mixture.harm import Harm, harm_between
from kb.mixture.limits import HOLDS_BACK, Limit, ceiling_of, hardest_first
from kb.mixture.nitrogen import Giving
from kb.mixture.place import Place, as_it_stands, open_soil, place_for, root_size
from kb.mixture.profile import Profile
from kb.mixture.relatedness import Relation, relation
from kb.mixture.results import Loss, PairAnswer, Score, Sureness, Verdict
from kb.mixture.season import FloatArray
from kb.mixture.share import sharing
from kb.mixture.site import Arrangement, Site, Tree
from kb.mixture.stress import (
    held_down,
    near_limit,
    score_of,
    verdict_of,
    verdict_steps,
    with_benefits,
)
from kb.mixture.support import SUPPORT_BENEFIT, Support
from kb.mixture.uncertainty import CHECKABLE, DRAWS
from kb.mixture.unknowns import left_out, not_on_record
from kb.mixture.variants import Variants, plant_variants, size_at
from kb.mixture.yieldloss import suppressed

SURE, FAIRLY_SURE = 0.85, 0.65
SureWord = Literal["sure", "fairly sure", "unsure"]
LEAST_SURE: dict[SureWord, int] = {"sure": 0, "fairly sure": 1, "unsure": 2}
LOW, QUARTER, HIGH = 10, 25, 90
"""Percentiles of the draws: the interval, and the one that ranks (`trade` 4.14)."""
LIKE_SCORE = 50.0
"""Like with like gains and loses nothing: it sorts in the middle."""


@dataclass(frozen=True, slots=True, eq=False)
class Subject:
    """One plant ready to be judged: its likely values in fine layers, all variants in coarse ones."""

    profile: Profile
    likely: Variants
    rows: Variants
    draws: int
    age_years: float | None = None


@dataclass(frozen=True, slots=True, eq=False)
class Judged:
    """A pair's stress before words: K' of the likely values and of the draws, limits and benefits.

    ``stress`` of the likely values, ``drawn`` and ``again`` (draws,) and ``single`` (4 x traits,) are
    K' held down by the limits; ``coarse`` is ``stress`` in the layers of the draws, ``eased`` before
    the limits; ``each`` (2,) is K of either plant.
    """

    felt: Felt
    each: FloatArray
    eased: float
    limits: tuple[Limit, ...]
    supports: tuple[Support, ...]
    givings: tuple[Giving, ...]
    kin: Relation
    harm: Harm
    stress: float
    coarse: float
    drawn: FloatArray
    again: FloatArray
    single: FloatArray

    @property
    def cautious(self) -> float:
        """The score that ranks: the lower of the likely one and the 25th percentile of the draws.

        Of the draws with stand-in root depths moved as if recorded too, so that not knowing a depth
        cannot lift it.
        """
        likely = score_of(np.array([self.stress]))
        drawn = [np.percentile(score_of(k), QUARTER) for k in (self.drawn, self.again) if k.size]
        return float(min(likely[0], *drawn, likely[0]))


def judge_pair(
    a: Profile,
    b: Profile,
    site: Site,
    arrangement: Arrangement,
    *,
    draws: int = DRAWS,
    book: EnemyBook | None = None,
) -> PairAnswer:
    """Whether two plants fit at a site, standing as the arrangement says.

    In a bed the answer is the same whichever comes first. Without a ``book`` of named enemies kinship
    stands in for them. Raises ValueError where the arrangement
    cannot be (shares above 1, a negative distance).
    """
    place = place_for(a, site, arrangement)
    first = prepare_first(a, place, arrangement, draws=draws)
    second = prepare(
        b, place, sow_week=arrangement.sow_week_b, age_years=arrangement.age_b_years, draws=draws
    )
    return answer(first, second, place, judge(first, second, place, book))


def prepare_first(a: Profile, place: Place, arrangement: Arrangement, *, draws: int) -> Subject:
    """The first plant of a pair: the tree as it stands, or a plant in a bed."""
    if place.tree is None:
        sow, age = arrangement.sow_week_a, arrangement.age_a_years
        return prepare(a, place, sow_week=sow, age_years=age, draws=draws)
    return prepare_tree(a, place.tree, place.site, place.given, draws=draws)


def prepare_tree(
    profile: Profile, tree: Tree, site: Site, given: frozenset[str], *, draws: int = DRAWS
) -> Subject:
    """A tree as it stands at this site, in all its variants."""
    standing, size = as_it_stands(profile, tree), root_size(profile, tree)
    fine, coarse = (open_soil(site, fine=grid, irrigated="irrigated" in given) for grid in (True, False))
    likely = plant_variants(standing, site, fine, draws=0, root_size=size)
    rows = plant_variants(standing, site, coarse, draws=draws, root_size=size)
    return Subject(standing, likely, rows, draws, tree.planted_years)


def prepare(
    profile: Profile,
    place: Place,
    *,
    sow_week: float | None = None,
    age_years: float | None = None,
    draws: int = DRAWS,
) -> Subject:
    """A plant as it grows at this place's site, in all its variants.

    A sowing week moves annuals alone, so that one question can be asked of a whole list.
    """
    size, site = size_at(profile, age_years), place.site
    sow_week = sow_week if profile.annual else None
    likely = plant_variants(profile, site, place.fine.open, draws=0, sow_week=sow_week, size=size)
    rows = plant_variants(profile, site, place.coarse.open, draws=draws, sow_week=sow_week, size=size)
    return Subject(profile, likely, rows, draws, age_years)


def judge(a: Subject, b: Subject, place: Place, book: EnemyBook | None = None) -> Judged:
    """The stress of a pair, with its limits and benefits, for the likely values and every draw."""
    kin, rows = relation(a.profile, b.profile), pair_rows(0)
    felt = feel(a.likely, b.likely, rows, place, place.fine)
    harm = harm_between(a.profile, b.profile, meeting_at(place), book)
    limits, supports = ((), ()) if kin.kinship == "species" else _limits(a, b, place, felt)
    limits = hardest_first((*limits, *harm.limits))
    easing = _Easing(kin, harm, place, carried=any(support.host for support in supports), relief=_known(a, b))
    each, eased, givings = easing.apply(a.likely, b.likely, felt, rows)
    ceiling = ceiling_of(limits)
    stress = float(held_down(eased, ceiling)[0])
    coarse, drawn, single, again = _drawn(a, b, place, easing, ceiling) if a.draws else _undrawn(stress)
    return Judged(
        felt=felt,
        each=each[0],
        eased=float(eased[0]),
        limits=limits,
        supports=supports,
        givings=givings,
        kin=kin,
        harm=harm,
        stress=stress,
        coarse=float(coarse[0]),
        drawn=drawn,
        again=again,
        single=single,
    )


def _limits(
    a: Subject, b: Subject, place: Place, felt: Felt
) -> tuple[tuple[Limit, ...], tuple[Support, ...]]:
    parties = (
        party_at(a.likely, place, first=True, age_years=a.age_years),
        party_at(b.likely, place, age_years=b.age_years),
    )
    dark = (float(felt.by_light.dark[0, 0]), float(felt.by_light.dark[0, 1]))
    return all_limits(*parties, meeting_at(place), dark=dark)


def _known(a: Subject, b: Subject) -> bool:
    """Whether both root systems and both seasons are on record: else relief does not count."""
    return all(plant.profile.root_d95_m.known and plant.profile.activity.known for plant in (a, b))


def _drawn(
    a: Subject, b: Subject, place: Place, easing: "_Easing", ceiling: Verdict
) -> tuple[FloatArray, ...]:
    """K' in the coarse layers: likely, drawn, one trait at a time, drawn again."""
    rows = pair_rows(a.draws, again=(not a.profile.root_d95_m.known, not b.profile.root_d95_m.known))
    felt = feel(a.rows, b.rows, rows, place, place.coarse)
    stress = _held_by_row(easing.apply(a.rows, b.rows, felt, rows)[1], ceiling, felt)
    return tuple(np.split(stress, np.cumsum([1, a.draws, 4 * len(CHECKABLE)])))


def _undrawn(stress: float) -> tuple[FloatArray, ...]:
    return np.array([stress]), np.zeros(0), np.zeros(0), np.zeros(0)


def answer(a: Subject, b: Subject, place: Place, judged: Judged) -> PairAnswer:
    """The pair in words and numbers, every one of them with what it rests on."""
    like = judged.kin.kinship == "species"
    verdict: Verdict = "like" if like else verdict_of(judged.stress)
    twin = f"{b.profile.id}#2" if a.profile.id == b.profile.id else b.profile.id
    findings = Findings(
        a=a.likely,
        b=b.likely,
        place=place,
        felt=judged.felt,
        each=(float(judged.each[0]), float(judged.each[1])),
        verdict=verdict,
        eased=judged.eased,
        limits=judged.limits,
        supports=judged.supports,
        givings=judged.givings,
        kin=judged.kin,
        harm=judged.harm,
    )
    missing = left_out(findings)
    at_best: SureWord = "unsure" if missing else "sure" if not_on_record(findings) is None else "fairly sure"
    sureness = _sureness(a, b, judged, verdict, at_best)
    loser = suppressed(a.profile, b.profile)
    use_a, use_b = place.share_a * a.likely.water[0], place.share_b * b.likely.water[0]
    said = explained(findings, sureness, missing)
    return PairAnswer(
        a=a.profile.id,
        b=b.profile.id,
        verdict=verdict,
        conditions=said.conditions,
        limiting=said.limiting,
        sharing=sharing((use_a, use_b), place.fine.open.scarcity),
        loss=_losses(judged, (a.profile.id, twin)),
        suppressed=None if like else loser.plant,
        suppressed_note="" if like else loser.note,
        benefits=said.benefits,
        nitrogen=judged.givings[0].gift if judged.givings else None,
        score=_score(judged, like=like),
        sureness=sureness,
        reasons=said.reasons,
        notes=(*place.notes, *missing, *said.notes),
        saying=said.saying,
    )


def _losses(judged: Judged, plants: tuple[str, str]) -> dict[str, Loss]:
    """Each one's loss by cause; a twin shares its enemies in a stand of its own too, so loses nothing."""
    enemies = 0.0 if judged.kin.kinship == "species" else judged.harm.shared
    roots, light = judged.felt.roots[0], judged.felt.light[0]
    return {
        plant: Loss(float(roots[i]), float(light[i]), enemies, float(judged.each[i]))
        for i, plant in enumerate(plants)
    }


def rank_of(result: PairAnswer, judged: Judged) -> tuple[bool, float, bool, float, str]:
    """What an answer sorts by, best first.

    To avoid last; cautious score; of equals first those with root depths on record, then the better
    low end, then the id of the second plant.
    """
    cautious = LIKE_SCORE if result.verdict == "like" else judged.cautious
    stand_in = judged.again.size > 0
    return result.verdict == "avoid", -round(cautious, 9), stand_in, -result.score.low, result.b


@dataclass(frozen=True, slots=True, eq=False)
class _Easing:
    """What turns losses into K', the same for every row. ``carried``: one climbs on the other."""

    kin: Relation
    harm: Harm
    place: Place
    carried: bool
    relief: bool

    def apply(
        self, a: Variants, b: Variants, felt: Felt, rows: Rows
    ) -> tuple[FloatArray, FloatArray, tuple[Giving, ...]]:
        """K of each (rows, 2), K' before limits (rows,), and the nitrogen given."""
        enemies = 0.0 if self.kin.kinship == "species" else self.harm.pressure
        each = near_limit(felt.roots, felt.light, enemies)
        givings = givings_between(a, b, felt.by_roots, self.place, rows)
        benefits = np.full(len(each), SUPPORT_BENEFIT if self.carried else 0.0)
        for gift in givings:
            benefits = benefits + gift.benefit
        if self.relief:
            benefits = benefits + felt.by_roots.relief
        return each, with_benefits(each.max(axis=1), benefits), givings


def _held_by_row(stress: FloatArray, ceiling: Verdict, many: Felt) -> FloatArray:
    """K' of each row under the limits; a row in which a plant is too dark to keep is one to avoid."""
    held = held_down(stress, ceiling)
    if ceiling == "avoid":
        return held
    dark = (many.by_light.dark > DARK_SHARE).any(axis=1)
    return np.where(dark, held_down(stress, "avoid"), held)


def _score(judged: Judged, *, like: bool) -> Score:
    if like:
        return Score(LIKE_SCORE, LIKE_SCORE, LIKE_SCORE)
    likely = float(score_of(np.array(judged.stress)))
    if not judged.drawn.size:
        return Score(likely, likely, likely)
    low, high = np.percentile(score_of(judged.drawn), [LOW, HIGH])
    return Score(likely, min(likely, float(low)), max(likely, float(high)))


def _sureness(a: Subject, b: Subject, judged: Judged, verdict: Verdict, at_best: SureWord) -> Sureness:
    if verdict == "like":
        return Sureness("sure", 1.0, None, None)
    if not judged.drawn.size:
        return Sureness("unsure", 0.0, None, None)
    share = float(np.mean(verdict_steps(judged.drawn) == HOLDS_BACK[verdict]))
    trait, of = _deciding(a, b, judged)
    by_draws: SureWord = "sure" if share >= SURE else "fairly sure" if share >= FAIRLY_SURE else "unsure"
    return Sureness(max(by_draws, at_best, key=LEAST_SURE.__getitem__), share, trait, of)


def _deciding(a: Subject, b: Subject, judged: Judged) -> tuple[str | None, str | None]:
    """The trait, and the plant, whose move by one standard deviation moves the score most."""
    moved = np.abs(judged.single - judged.coarse).reshape(2, len(CHECKABLE), 2).max(axis=2)
    choices = [
        (-round(float(moved[i, j]), 9), plant.profile.id, trait)
        for i, plant in enumerate((a, b))
        for j, trait in enumerate(CHECKABLE)
    ]
    most, of, trait = min(choices)
    return (trait, of) if most < 0 else (None, None)
