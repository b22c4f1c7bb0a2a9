"""Jobs in a planting and who does them, each with its evidence; and the gaps that nobody fills."""

from collections.abc import Iterator
from dataclasses import dataclass
from functools import cached_property

import numpy as np

from kb.mixture.answers.flowers import IN_FLOWER, for_insects
from kb.mixture.judging.gets import BANDS_M, Shares
from kb.mixture.judging.planting import Stand
from kb.mixture.profile import Activity, Estimate, Origin, Profile
from kb.mixture.results import Doer, Gap, Job
from kb.mixture.season import WEEKS, FloatArray, window_by_week
from kb.mixture.sharing.nitrogen import gives
from kb.mixture.uncertainty import rolled
from kb.mixture.weeks.as_grown import growth_by_week
from kb.mixture.weeks.calendar import (
    BoolArray,
    bloom_weeks,
    growing_weeks,
    in_order,
    run_words,
    runs,
)

COVERED = 0.5
"""Ground counts as covered where at least half of it lies under leaf (`trade` 5.1)."""
COVERS = 0.15
"""A plant covers ground where its leaf lies over this much of it in its best week (judgement)."""
DEEP_SHARE = 0.10
"""Of all the draw, or of one plant's, this much below 60 cm is deep rooting (`trade` 5.1)."""
FLOWER_TIMES = ("early flowers", "mid-season flowers", "late flowers")
_BEST_FIRST: tuple[Origin, ...] = ("cited", "common-practice", "recalled", "genus", "form", "assumed")


def weakest(*origins: Origin) -> Origin:
    """The origin of what rests on several values."""
    return max(origins, key=_BEST_FIRST.index)


@dataclass(frozen=True, eq=False)
class Work:
    """What is done in a planting through the year."""

    stand: Stand
    shares: Shares

    @cached_property
    def growing(self) -> BoolArray:
        return growing_weeks(self.stand.planting.site)

    @cached_property
    def bloom(self) -> BoolArray:
        return bloom_weeks(self.stand.planting.site)

    @cached_property
    def flowers(self) -> dict[int, BoolArray]:
        """Weeks in flower for insects, of each plant of which they are on record."""
        found = {}
        for place, profile in enumerate(self.stand.profiles):
            if profile.flowers is not None and for_insects(profile):
                found[place] = self._weeks(place, profile.flowers)
        return found

    @cached_property
    def harvest(self) -> dict[int, BoolArray]:
        """Weeks of harvest, of each plant of which they are on record."""
        windows = ((place, self.harvest_window(place)) for place in range(len(self.stand.profiles)))
        return {place: self._weeks(place, window) for place, window in windows if window is not None}

    def unknown(self, what: str) -> tuple[str, ...]:
        """Plants (ids) of which flowers or harvest are not on record."""
        missing = (
            profile.id
            for place, profile in enumerate(self.stand.profiles)
            if (profile.flowers if what == "flowers" else self.harvest_window(place)) is None
        )
        return tuple(dict.fromkeys(missing))

    @cached_property
    def cover(self) -> FloatArray:
        """Share of the ground under leaf of each plant by week (n, 52); a tree overhead covers none."""
        rows = []
        for place, (subject, share) in enumerate(zip(self.stand.subjects, self.stand.shares, strict=True)):
            plant = subject.likely
            shade = 1 - np.exp(-float(plant.extinction[0]) * plant.leaf_area[0])
            rows.append(share * shade if place >= self.stand.first else np.zeros(WEEKS))
        return np.stack(rows)

    @cached_property
    def covered(self) -> FloatArray:
        """Share of the ground under any leaf by week (52,): 1 - the product of what each leaves bare."""
        bare: FloatArray = np.prod(1 - self.cover, axis=0)
        return 1 - bare

    def harvest_window(self, place: int) -> Activity | None:
        """The recorded harvest of one of the subjects."""
        first = self.stand.first
        if place >= first:
            return self.stand.members[place - first].harvest
        return self.stand.planting.overhead.harvest if self.stand.planting.overhead else None

    def _weeks(self, place: int, window: Activity) -> BoolArray:
        """The weeks (52,) of a window of one of the subjects, here and as it is sown and cleared."""
        profile = self.stand.profiles[place]
        course = window_by_week(window, self.stand.planting.site)
        later = np.array([self._later(place, profile)])
        weeks: BoolArray = rolled(course, later)[0] >= IN_FLOWER
        return weeks & self._standing(place, profile)

    def _later(self, place: int, profile: Profile) -> float:
        """Weeks by which an annual is sown later than usual."""
        if place < self.stand.first or not profile.annual:
            return 0.0
        sown = self.stand.members[place - self.stand.first].sow_week
        usual = growth_by_week(profile, self.stand.planting.site)
        starts = np.flatnonzero((usual > 0) & (np.roll(usual, 1) == 0))
        if sown is None or not starts.size:
            return 0.0
        return (sown - 1 - float(starts[0]) + WEEKS / 2) % WEEKS - WEEKS / 2

    def _standing(self, place: int, profile: Profile) -> BoolArray:
        """The weeks in which it is there: up to the week in which an annual is cleared."""
        if place < self.stand.first or not profile.annual:
            return np.ones(WEEKS, dtype=bool)
        member = self.stand.members[place - self.stand.first]
        if member.clear_week is None:
            return np.ones(WEEKS, dtype=bool)
        there: BoolArray = self.stand.subjects[place].likely.activity[0] > 0
        return there


def jobs_of(work: Work) -> tuple[Job, ...]:
    """Every job that is looked at, in a fixed order; those without a doer too."""
    stand = work.stand
    early, middle, late = _thirds(work.bloom)
    return (
        Job("nitrogen", "nitrogen", tuple(_fixers(stand))),
        Job("ground cover", "cover", tuple(_coverers(work))),
        Job("support", "support", tuple(_carriers(stand))),
        *(
            Job(name, "flowers", tuple(_in_window(work, "flowers", weeks)))
            for name, weeks in zip(FLOWER_TIMES, (early, middle, late), strict=True)
        ),
        Job("food", "site", tuple(_crops(work))),
        Job("deep roots", "roots", tuple(_deep(work))),
    )


def _thirds(weeks: BoolArray) -> list[BoolArray]:
    """A season cut in three of one length."""
    found = []
    for part in np.array_split(np.array(in_order(weeks)), 3):
        third = np.zeros(WEEKS, dtype=bool)
        third[part - 1] = True
        found.append(third)
    return found


def _fixers(stand: Stand) -> Iterator[Doer]:
    for subject in stand.subjects:
        fixing = subject.profile.nitrogen_fixing
        if fixing.value == "yes" and fixing.known:
            helped = [other.profile.name for other in stand.subjects if gives(subject.likely, other.likely)]
            text = "fixes nitrogen" if helped else "fixes nitrogen; nobody here takes it"
            records = (*fixing.records, *subject.profile.fixing_partner.records)
            yield Doer(subject.profile.id, text, fixing.origin, tuple(dict.fromkeys(records)))


def _coverers(work: Work) -> Iterator[Doer]:
    for profile, cover in zip(work.stand.profiles, work.cover, strict=True):
        most = float(cover.max())
        if most < COVERS:
            continue
        text = f"covers up to {round(100 * most)} % of the ground, {run_words(runs(cover >= most / 2))}"
        leaf: Estimate = profile.leaf_area_index
        records = dict.fromkeys((*leaf.records, *profile.leaf.records))
        yield Doer(profile.id, text, weakest(leaf.origin, profile.leaf.origin), tuple(records))


def _carriers(stand: Stand) -> Iterator[Doer]:
    for support in stand.judged.supports:
        if support.host is not None:
            climber, host = (stand.profiles[place] for place in support.places)
            origin = host.height_m.origin
            yield Doer(host.id, f"carries {climber.name}", origin, support.records)


def _in_window(work: Work, what: str, season: BoolArray) -> Iterator[Doer]:
    found = work.flowers if what == "flowers" else work.harvest
    for place, weeks in found.items():
        profile = work.stand.profiles[place]
        window = profile.flowers if what == "flowers" else work.harvest_window(place)
        if window is not None and (weeks & season).any():
            said = "flowers" if what == "flowers" else "harvest"
            yield Doer(profile.id, f"{said} {run_words(runs(weeks))}", window.origin, window.records)


def _crops(work: Work) -> Iterator[Doer]:
    """Who is harvested: in weeks on record, else by a record of the light in which it crops."""
    yield from _in_window(work, "harvest", np.ones(WEEKS, dtype=bool))
    for place, profile in enumerate(work.stand.profiles):
        light = profile.light_to_crop_full
        if place not in work.harvest and light.known:
            yield Doer(
                profile.id, "a crop on record; its weeks of harvest are not", light.origin, light.records
            )


def _deep(work: Work) -> Iterator[Doer]:
    for place, profile in enumerate(work.stand.profiles):
        wants = work.shares.layers(place)[-1].wants
        if wants >= DEEP_SHARE:
            text = f"{round(100 * wants)} % of its draw lies below {round(100 * BANDS_M[-1])} cm"
            depth = profile.root_d95_m
            yield Doer(profile.id, text, depth.origin, depth.records)


def gaps_of(work: Work) -> tuple[Gap, ...]:
    """What is missing: deep roots, weeks without cover, flowers or harvest, nitrogen."""
    found = [_no_depth(work), _bare(work), _none_in(work, "flowers"), _none_in(work, "harvest")]
    if not any(_fixers(work.stand)):
        found.append(Gap("nitrogen", "No plant here is on record as fixing nitrogen."))
    return tuple(gap for gap in found if gap is not None)


def _no_depth(work: Work) -> Gap | None:
    depth = work.stand.planting.site.soil_depth_m
    if depth <= BANDS_M[-1]:
        return Gap("roots", f"The soil ends at {round(100 * depth)} cm: no roots go deeper.")
    deep = float(work.shares.draw_by_layer()[-1])
    if deep >= DEEP_SHARE:
        return None
    return Gap(
        "roots",
        f"Little is drawn from below {round(100 * BANDS_M[-1])} cm: about {round(100 * deep)} % of all.",
    )


def _bare(work: Work) -> Gap | None:
    bare = work.growing & (work.covered < COVERED)
    if not bare.any():
        return None
    count = int(bare.sum())
    text = (
        f"Less than half of the ground is under leaf for {count} of {int(work.growing.sum())} growing weeks"
    )
    return Gap("cover", f"{text}: {run_words(runs(bare))}.", runs(bare))


def _none_in(work: Work, what: str) -> Gap | None:
    found, season = (work.flowers, work.bloom) if what == "flowers" else (work.harvest, work.growing)
    there = np.zeros(WEEKS, dtype=bool)
    for weeks in found.values():
        there |= weeks
    without = season & ~there
    if not without.any() or (what == "harvest" and not found and work.unknown(what)):
        return None  # no weeks of any harvest are on record: who crops says so already
    said = "in flower" if what == "flowers" else "to harvest"
    text = f"Nothing is on record as {said} in {run_words(runs(without))}."
    return Gap("flowers" if what == "flowers" else "site", text, runs(without), work.unknown(what))
