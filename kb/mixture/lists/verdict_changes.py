"""Which verdicts differ between two versions of what is known, over real pairs, and what did it.

Both versions are judged by the same code, at the same site, with the likely values; only the profiles
and the lists of enemies differ. What did it is found by putting one part of one plant back to what it
was: if the old word returns, that part did it; if no part alone brings it back, a part counts that
alone gives the new word.
"""

from collections.abc import Callable, Iterable, Iterator, Mapping, Sequence
from dataclasses import dataclass, replace

import numpy as np

from kb.mixture.answers.pair import judge, judge_pair, prepare, prepare_first
from kb.mixture.enemies.enemy_book import EnemyBook
from kb.mixture.limits import HOLDS_BACK
from kb.mixture.lists.worth import SEED, arrangement_of, overhead, partners
from kb.mixture.profile import Profile
from kb.mixture.relatedness import same_species
from kb.mixture.results import Limiting, PairAnswer, Verdict
from kb.mixture.sharing.place import place_for
from kb.mixture.site import Setting, Site
from kb.mixture.stress import verdict_of

ENEMIES = "enemies"
PARTS: dict[str, tuple[str, ...]] = {
    "family": ("family", "kin_exceptions"),
    "kind": ("growth_form", "life_cycle", "picked", "covers"),
    "roots": ("root_form", "root_d50_m", "root_d95_m", "root_spread_80_m", "root_length_km_m2"),
    "size": (
        "height_m",
        "crown_width_m",
        "crown_base_m",
        "on_a_stem",
        "grown_height_m",
        "height_gain_m",
        "reach_m",
        "sole_spacing_m",
    ),
    "leaf": ("leaf_area_index", "extinction"),
    "season": (
        "activity",
        "leaf",
        "sowings",
        "cover_days",
        "cycle_days",
        "raising",
        "stores_in",
        "warmth_c",
        "warmth_grows_c",
        "heat_to_harvest",
        "temperate_climate",
        "ripe_seed",
    ),
    "light": ("light_to_survive", "light_to_crop_zero", "light_to_crop_full", "most_light"),
    "nitrogen": ("nitrogen_fixing", "fixing_partner", "nitrogen_demand_g_m2", "nitrogen_fixed_g_m2"),
    "water": ("water_use",),
    "ph": ("soil_ph", "reaction_class"),
    "moisture": ("moisture",),
    "spread": ("spread", "travels_by"),
    "support": ("support_mode",),
    "digging": ("dug_depth_m",),
    "winter": ("tender", "hardiness_c", "winters", "tropical_climate"),
    "flowers": ("flowers",),
}
"""Parts of a profile that change together, and the fields of each (a test holds them complete)."""
NEAR_SCORE = 5.0
"""A word that changed with fewer points of the score than this was near the edge before: judgement."""

Progress = Callable[[int, int], None]


@dataclass(frozen=True, slots=True, eq=False)
class Known:
    """One version: the profile of each plant by id, and the list of enemies."""

    profiles: Mapping[str, Profile]
    book: EnemyBook | None = None


@dataclass(frozen=True, slots=True)
class DidIt:
    """What changed a verdict: a part of one plant (`PARTS`), or ``enemies`` (then ``plant`` is None).

    ``records`` are those that it rests on now and did not before; where there are none, those that it no
    longer rests on; else all of them. With none at all a stand-in moved, of the genus or the form.
    """

    plant: str | None
    part: str
    records: tuple[str, ...]


@dataclass(frozen=True, slots=True)
class VerdictChange:
    """One pair whose word changed. ``setting`` is ``bed`` or ``under`` (B under A, a grown tree).

    ``did_it`` is empty where only several parts together explain it; with ``needed`` each of them is
    needed, else each alone would do. ``near`` where the score moved little, so that it was close to the
    edge already.
    """

    a: str
    b: str
    setting: Setting
    before: Verdict
    after: Verdict
    limiting: Limiting | None
    limited: Limiting | None
    sureness: str
    near: bool
    did_it: tuple[DidIt, ...]
    needed: bool

    @property
    def worse(self) -> bool:
        return HOLDS_BACK[self.after] < HOLDS_BACK[self.before]


@dataclass(frozen=True, slots=True)
class VerdictChanges:
    """All pairs tried: how many went from which word to which, and each that changed, worse first."""

    tried: int
    counts: Mapping[tuple[Verdict, Verdict], int]
    changed: tuple[VerdictChange, ...]


def pairs_to_try(profiles: Sequence[Profile], count: int) -> tuple[tuple[str, str], ...]:
    """At most ``count`` pairs of ids, spread over all plants; the same every time.

    Fewer only where there are no more pairs of two species of which one may stand under the other.
    """
    each = max(1, -(-2 * count // max(1, len(profiles))))
    found = _once(profiles, partners(profiles, each))
    if len(found) < count:
        found = _once(profiles, (*partners(profiles, 2 * each), *_all_pairs(profiles)))[: max(count, 0)]
    if len(found) <= count:
        return found
    places = np.random.default_rng(SEED).choice(len(found), size=count, replace=False)
    return tuple(found[place] for place in sorted(places.tolist()))


def _all_pairs(profiles: Sequence[Profile]) -> Iterator[tuple[int, int]]:
    low = [i for i, plant in enumerate(profiles) if not overhead(plant)]
    for i, plant in enumerate(profiles):
        yield from ((i, other) for other in low if overhead(plant) or i < other)


def _once(profiles: Sequence[Profile], places: Iterable[tuple[int, int]]) -> tuple[tuple[str, str], ...]:
    """Each pair of two species once, whichever of the two came first."""
    kept: dict[frozenset[int], tuple[str, str]] = {}
    for i, j in places:
        if not same_species(profiles[i], profiles[j]):
            kept.setdefault(frozenset((i, j)), (profiles[i].id, profiles[j].id))
    return tuple(kept.values())


def verdict_changes(
    old: Known, new: Known, pairs: Sequence[tuple[str, str]], site: Site, progress: Progress | None = None
) -> VerdictChanges:
    """Judge each pair in both versions; a pair with a plant of one version alone raises KeyError."""
    counts: dict[tuple[Verdict, Verdict], int] = {}
    changed = []
    for done, (a, b) in enumerate(pairs):
        if progress is not None:
            progress(done, len(pairs))
        setting: Setting = "under" if overhead(new.profiles[a]) else "bed"
        before, after = (_word(v.profiles[a], v.profiles[b], site, v.book, setting) for v in (old, new))
        counts[before, after] = counts.get((before, after), 0) + 1
        if before != after:
            changed.append(_change(old, new, (a, b), site, setting))
    changed.sort(key=lambda c: (not c.worse, _step(c), c.a, c.b))
    return VerdictChanges(len(pairs), counts, tuple(changed))


def _step(change: VerdictChange) -> int:
    """Worst word first among the worse, best first among the better."""
    after = HOLDS_BACK[change.after]
    return after if change.worse else -after


def _word(a: Profile, b: Profile, site: Site, book: EnemyBook | None, setting: Setting) -> Verdict:
    arrangement = arrangement_of(a, under=setting == "under")
    place = place_for(a, site, arrangement)
    first = prepare_first(a, place, arrangement, draws=0)
    return verdict_of(judge(first, prepare(b, place, draws=0), place, book).stress)


def _change(old: Known, new: Known, pair: tuple[str, str], site: Site, setting: Setting) -> VerdictChange:
    was, now = (_answer(version, pair, site, setting) for version in (old, new))
    did_it, needed = _did_it(old, new, pair, site, setting)
    return VerdictChange(
        a=pair[0],
        b=pair[1],
        setting=setting,
        before=was.verdict,
        after=now.verdict,
        limiting=now.limiting,
        limited=was.limiting,
        sureness=now.sureness.word,
        near=abs(now.score.likely - was.score.likely) < NEAR_SCORE,
        did_it=did_it,
        needed=needed,
    )


def _answer(version: Known, pair: tuple[str, str], site: Site, setting: Setting) -> PairAnswer:
    a, b = (version.profiles[plant] for plant in pair)
    return judge_pair(a, b, site, arrangement_of(a, under=setting == "under"), book=version.book)


def _did_it(
    old: Known, new: Known, pair: tuple[str, str], site: Site, setting: Setting
) -> tuple[tuple[DidIt, ...], bool]:
    """The parts that bring the old word back when put back; else those that alone give the new one."""
    for whole, single in ((new, old), (old, new)):
        a, b = (single.profiles[plant] for plant in pair)
        wanted = _word(a, b, site, single.book, setting)
        found = [
            told
            for told, profiles, book in _mixed(whole, single, pair)
            if _word(*profiles, site, book, setting) == wanted
        ]
        if found:
            return tuple(_with_records(told, old, new) for told in found), whole is new
    return (), False


def _mixed(
    whole: Known, single: Known, pair: tuple[str, str]
) -> Iterator[tuple[DidIt, tuple[Profile, Profile], EnemyBook | None]]:
    """One version of the pair with one part at a time from the other version."""
    a, b = (whole.profiles[plant] for plant in pair)
    for plant, mine in zip(pair, (a, b), strict=True):
        for part, fields in PARTS.items():
            other = {name: getattr(single.profiles[plant], name) for name in fields}
            if any(getattr(mine, name) != value for name, value in other.items()):
                mixed = replace(mine, **other)
                profiles = (mixed, b) if plant == pair[0] else (a, mixed)
                yield DidIt(plant, part, ()), profiles, whole.book
    if whole.book is not None or single.book is not None:
        yield DidIt(None, ENEMIES, ()), (a, b), single.book


def _with_records(told: DidIt, old: Known, new: Known) -> DidIt:
    if told.plant is None:
        return told
    before, after = (_records(v.profiles[told.plant], told.part) for v in (old, new))
    fresh = tuple(record for record in after if record not in before)
    lost = tuple(record for record in before if record not in after)
    return replace(told, records=fresh or lost or after)


def _records(profile: Profile, part: str) -> tuple[str, ...]:
    """What a part rests on: of several sowings all; statements on kin stand in a table and are no records."""
    found: list[str] = []
    for name in PARTS[part]:
        if name == "sowings":
            for sown in profile.sowings:
                found += (*sown.activity.records, *sown.leaf.records)
        elif name != "kin_exceptions" and (value := getattr(profile, name)) is not None:
            found += value.records
    return tuple(dict.fromkeys(found))
