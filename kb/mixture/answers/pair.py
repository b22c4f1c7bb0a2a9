"""Do these two fit: one answer, with what limits it, what lifts it and how sure it is.

A pair is a planting of two: it is judged by `judged.judge_set`, and put into words here. The same
steps serve a pair, a list of candidates and the ground under a tree: each plant is turned into
arrays once (`prepare`), then any two are judged at a place (`judge`). The likely values are reckoned
in layers of 2 cm; the draws of doubt in 15 coarser ones.

How sure: as `sureness` has it; ``sure`` only where the root depths and seasons of both are on record,
and ``unsure`` wherever a mechanism that could matter for this pair is not computed or a deciding
limit rests on a value that stands in for a missing record.
"""

from collections.abc import Callable, Mapping, Sequence
from functools import partial
from types import MappingProxyType

from kb.mixture.altered import altered
from kb.mixture.answers.explain import explained
from kb.mixture.answers.usual_place import beside, nearer
from kb.mixture.bodies.size_doubt import SizeDoubt, moved_with, other_sizes, size_doubt
from kb.mixture.enemies.enemy_book import EnemyBook
from kb.mixture.ground.root_draw import wanted_alike
from kb.mixture.judging.asked_again import verdicts_again
from kb.mixture.judging.bonds import Ground
from kb.mixture.judging.findings import Findings, SetsApart, nowhere
from kb.mixture.judging.fuller import changes_at
from kb.mixture.judging.judged import Judged, judge_likely, judge_set, with_draws
from kb.mixture.judging.other_trees import findings_of, judged_beneath
from kb.mixture.judging.set_apart import pair_at_distance, setting_apart
from kb.mixture.judging.sureness import LIKE_SCORE, SureWord, score_interval, sureness_of
from kb.mixture.judging.unknowns import doubts_of, left_out, not_on_record, settled
from kb.mixture.profile import Profile
from kb.mixture.results import Loss, PairAnswer, Verdict
from kb.mixture.sharing.asked_beneath import asked_there
from kb.mixture.sharing.felt import spot_of_two
from kb.mixture.sharing.place import Place, place_for
from kb.mixture.sharing.subject import Subject, prepare, prepare_likely_tree, prepare_tree
from kb.mixture.site import Arrangement, Site, Tree
from kb.mixture.stress import verdict_of
from kb.mixture.trials.yieldloss import Suppressed, suppressed
from kb.mixture.uncertainty import DRAWS

__all__ = [
    "Judged",
    "Subject",
    "answer",
    "judge",
    "judge_first",
    "judge_further",
    "judge_pair",
    "prepare",
    "prepare_first",
    "prepare_tree",
    "rank_of",
]


NOT_ASKED: Mapping[str, Verdict] = MappingProxyType({})
OTHER_MEASURE = (
    "The losses told here point the other way: they are of roots and light in these shares alone, the trials "
    "of whole yields, whatever took them."
)


def judge_pair(
    a: Profile,
    b: Profile,
    site: Site,
    arrangement: Arrangement,
    *,
    draws: int = DRAWS,
    book: EnemyBook | None = None,
    fuller: bool = False,
    at_edge: bool = False,
) -> PairAnswer:
    """Whether two plants fit at a site, standing as the arrangement says.

    In a bed the answer is the same whichever comes first. Without a ``book`` of named enemies kinship
    stands in for them. With ``fuller`` it says too from which larger shares the word is lower, with
    ``at_edge`` another word nearer the trunk of a tree, at whose crown edge the plant was put by us. Raises
    ValueError where the arrangement cannot be (shares above 1, a negative distance).
    """
    place = place_for(a, site, arrangement)
    first = prepare_first(a, place, arrangement, draws=draws)
    second = prepare(
        b, place, sow_week=arrangement.sow_week_b, age_years=arrangement.age_b_years, draws=draws
    )
    judged = judge(first, second, place, book)
    word, tree, distance = word_of(judged), place.tree, arrangement.distance_m
    sizes = other_sizes(tree, word)
    elsewhere = [] if tree is None else [(one, moved_with(tree, one, distance)) for one in sizes.values()]
    if at_edge and tree is not None:
        elsewhere.append((tree, nearer(tree)))
    found = _found_elsewhere(a, second, site, arrangement, elsewhere, book)
    words = [there for there, _ in found]
    size = size_doubt(tree, word, dict(zip(sizes, words, strict=False)))
    other = changes_at(first, second, place, judged) if fuller else None
    told = answer(first, second, place, judged, book, size, other)
    if not (at_edge and words) or words[-1] == word:
        return told
    return beside(told, arrangement, found[-1][1]())


def _found_elsewhere(
    a: Profile,
    second: Subject,
    site: Site,
    arrangement: Arrangement,
    elsewhere: Sequence[tuple[Tree, float | None]],
    book: EnemyBook | None,
) -> list[tuple[Verdict, Callable[[], Findings]]]:
    """The word under other trees than the one taken for it, or nearer its trunk, by the likely values.

    With each what was found there, for those who put it into words.
    """
    said = [(tree, distance) for tree, distance in elsewhere if distance is not None]
    some = len(said) == len(elsewhere)
    known = judged_beneath(a, second, site, arrangement, said, book) if some else [None] * len(elsewhere)
    found: list[tuple[Verdict, Callable[[], Findings]]] = []
    for (tree, distance), beneath in zip(elsewhere, known, strict=True):
        if beneath is None or distance is None:
            there = altered(arrangement, tree=tree, distance_m=distance)
            plain = found_under(a, tree, second, site, there, book)
            found.append((plain.verdict, partial(_as_found, plain)))
        else:
            there_found = partial(findings_of, beneath, a, second, site, arrangement, (tree, distance))
            found.append((beneath.word, there_found))
    return found


def _as_found(findings: Findings) -> Findings:
    return findings


def found_under(
    a: Profile, tree: Tree, second: Subject, site: Site, arrangement: Arrangement, book: EnemyBook | None
) -> Findings:
    """What is found of two beneath this tree by the likely values."""
    place = place_for(a, site, arrangement)
    first = prepare_likely_tree(a, tree, site, place.given)
    return found_of(first, second, place, judge_first(first, second, place, book))


def prepare_first(a: Profile, place: Place, arrangement: Arrangement, *, draws: int) -> Subject:
    """The first plant of a pair: the tree as it stands, or a plant in a bed."""
    if place.tree is None:
        sow, age = arrangement.sow_week_a, arrangement.age_a_years
        return prepare(a, place, sow_week=sow, age_years=age, draws=draws)
    return prepare_tree(a, place.tree, place.site, place.given, draws=draws)


def judge(a: Subject, b: Subject, place: Place, book: EnemyBook | None = None) -> Judged:
    """The stress of a pair, with its limits and benefits, for the likely values and every draw."""
    return judge_set((a, b), _ground(place), book)


def judge_first(a: Subject, b: Subject, place: Place, book: EnemyBook | None = None) -> Judged:
    """`judge` by the likely values alone."""
    return judge_likely((a, b), _ground(place), book)


def judge_further(judged: Judged, a: Subject, b: Subject, place: Place) -> Judged:
    """What `judge_first` found, with the draws of both."""
    return with_draws(judged, (a, b), _ground(place))


def _ground(place: Place) -> tuple[Ground]:
    return (Ground(spot_of_two(place), (0, 1)),)


def answer(
    a: Subject,
    b: Subject,
    place: Place,
    judged: Judged,
    book: EnemyBook | None = None,
    size: SizeDoubt | None = None,
    fuller: tuple[float, Verdict] | None = None,
) -> PairAnswer:
    """The pair in words and numbers, every one of them with what it rests on; ``book`` as it was judged.

    ``size`` is what hangs on the size of a tree that is known by age alone, ``fuller`` at larger shares
    (`changes_at`); lists leave both out.
    """
    verdict = word_of(judged)
    twin = f"{b.profile.id}#2" if a.profile.id == b.profile.id else b.profile.id
    again = verdicts_again((a, b), _ground(place), judged, book)
    elsewhere = setting_apart((a, b), _ground(place), book, pair_at_distance(a, b, place, book))
    findings = found_of(a, b, place, judged, again, elsewhere)
    missing = left_out(findings)
    doubts = doubts_of(missing, verdict, judged.limits)
    on_record = settled(judged.limits) or not_on_record(findings.in_order) is None
    at_best: SureWord = "unsure" if doubts else "sure" if on_record else "fairly sure"
    sureness = sureness_of((a, b), judged, verdict, at_best, size)
    loser = suppressed(a.profile, b.profile)
    asking = asked_there((a.likely, b.likely), place)
    losses = _losses(judged, (a.profile.id, twin))
    said = explained(findings, sureness, doubts)
    return PairAnswer(
        a=a.profile.id,
        b=b.profile.id,
        verdict=verdict,
        conditions=said.conditions,
        limiting=said.limiting,
        sharing=wanted_alike(asking, (place.share_a, place.share_b), place.fine.open.scarcity),
        loss=losses,
        suppressed=None if judged.one_species else loser.plant,
        suppressed_note="" if judged.one_species else _beside_losses(loser, losses),
        benefits=said.benefits,
        best=said.best,
        nitrogen=judged.givings[0].gift if judged.givings else None,
        score=score_interval(judged, like=judged.like),
        sureness=sureness,
        reasons=said.reasons,
        notes=(*(() if size is None else (size.note,)), *place.notes, *missing, *said.notes),
        saying=said.saying,
        fuller=fuller,
    )


def found_of(
    a: Subject,
    b: Subject,
    place: Place,
    judged: Judged,
    again: Mapping[str, Verdict] = NOT_ASKED,
    set_apart: SetsApart = nowhere,
) -> Findings:
    """What was found of a pair; ``again`` on other terms and with one ``set_apart`` where that is asked."""
    return Findings(
        a=a.likely,
        b=b.likely,
        place=place,
        felt=judged.felt,
        each=(float(judged.each[0]), float(judged.each[1])),
        verdict=word_of(judged),
        eased=judged.eased,
        limits=judged.limits,
        again=again,
        one_kind=judged.one_species,
        set_apart=set_apart,
        supports=judged.supports,
        givings=judged.givings,
        kin=judged.kin,
        harm=judged.harm,
        kinds=(a.kind, b.kind),
    )


def _losses(judged: Judged, plants: tuple[str, str]) -> dict[str, Loss]:
    """Each one's loss by cause; a twin shares its enemies in a stand of its own too, so loses nothing."""
    roots, light = judged.felt.roots[0], judged.felt.light[0]
    return {
        plant: Loss(float(roots[i]), float(light[i]), float(judged.shared[i]), float(judged.each[i]))
        for i, plant in enumerate(plants)
    }


def _beside_losses(loser: Suppressed, losses: dict[str, Loss]) -> str:
    """Who keeps less by the trials; where the losses told beside it point the other way, that is said too."""
    kept = {plant: round(100 * max(loss.roots, loss.light)) for plant, loss in losses.items()}
    own = kept.get(loser.plant or "")
    if own is None or own >= max(kept.values()):
        return loser.note
    return f"{loser.note} {OTHER_MEASURE}"


def word_of(judged: Judged) -> Verdict:
    """The verdict of a pair."""
    return "like" if judged.like else verdict_of(judged.stress)


def rank_of(b: str, judged: Judged) -> tuple[bool, float, bool, float, str]:
    """What an answer sorts by, best first; ``b`` is the id of the second plant.

    To avoid last; cautious score; of equals first those with root depths on record, then the better
    low end, then the id of the second plant.
    """
    stand_in = judged.again.size > 0
    low = score_interval(judged, like=judged.like).low
    return *first_rank(judged), stand_in, -low, b


def first_rank(judged: Judged) -> tuple[bool, float]:
    """How `rank_of` begins: to avoid, then the cautious score. What draws find only lowers that score."""
    word = word_of(judged)
    cautious = LIKE_SCORE if word == "like" else judged.cautious
    return word == "avoid", -round(cautious, 9)
