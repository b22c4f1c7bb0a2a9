"""One's own observations bend the estimate for their place first and that for the kind a little.

The weight of n site-years against what the records say is w = n / (n + tau) with tau = 4 site-years
(`trade` section 9.10: 3 to 5), which is the credibility of n observations where tau is the variance
within places over that between them (Buehlmann 1967). The same model makes the interval narrower by
sqrt(1 - w). It is used twice: for a place, n counts the years seen there (several plants of one place
and year are one); for the kind, n counts the places, each by the weight it has reached (below 1). So
the kind always moves less than the place.
"""

import cmath
import math
from collections.abc import Callable, Mapping, Sequence
from dataclasses import dataclass, replace

from kb.adoption.agreement import CAUTIOUS_ORDER
from kb.adoption.votes import OWN_ROOTED
from kb.adoption.windows import YEAR_WEEKS
from kb.mixture.bodies.growth import CURVES, size_share
from kb.mixture.counting import so_many
from kb.model import Adopted, Bent, Plant, PlantId, Trait, TraitId
from kb.statements.curation_model import Observation
from kb.vocabulary_store import Vocabulary

TAU_SITE_YEARS = 4.0
ESTIMATED_COUNTS = 0.5
"""A figure judged by eye counts half a measured one (our judgement)."""
ON_A_STOCK = 1 / 3
"""A tree on a dwarfing stock speaks for its kind a third (as a record does: `kb/adoption/votes.py`)."""
YOUNGEST_SHARE = 0.3
"""A plant below this share of its final size tells nothing of it yet (our judgement)."""
SIZES = frozenset(
    {"mature-height", "crown-width", "root-spread", "rooting-depth", "effective-rooting-depth", "reach"}
)
"""Traits of full-grown plants: a growing one is read along the curve that the computation grows trees by."""
OWN_LOG_SD = 0.35
"""Spread of a size from place to place where no record gives one: half-width of an own value alone."""
LINEAR_UNITS = frozenset({"deg C", "pH"})
RATIOS = frozenset(
    {"log-normal-censored", "mature-size", "climbing-reach", "weighted-interval", "leaf-area", "root-length"}
)


@dataclass(frozen=True, slots=True)
class LocalEstimate:
    """The estimate for one place (and stock): from n site-years of one's own with weight w.

    ``seen`` is the mean of what was observed (a window: its start), in the trait's unit.
    """

    trait: TraitId
    place: str
    stock: str | None
    site_years: float
    weight: float
    seen: float | None
    low: float | None
    likely: float | None
    high: float | None
    concepts: tuple[str, ...]
    observations: tuple[str, ...]
    words: str

    def in_use(self, plant: PlantId, kind: Adopted | None) -> Adopted:
        """The estimate as the value in use at its place; ``kind`` is the value elsewhere, or None."""
        rule = f"own observations at {self.place}: {self.words}"
        ends = {"low": self.low, "likely": self.likely, "high": self.high, "concepts": self.concepts}
        if kind is None:
            return Adopted(plant=plant, trait=self.trait, confidence="low", rule=rule, **ends)  # type: ignore[arg-type]
        return replace(kind, rule=rule, **ends)  # type: ignore[arg-type]


@dataclass(frozen=True, slots=True)
class Seen:
    """One observation as it counts: its value for a full-grown plant, its weight, and what was done."""

    observation: Observation
    low: float | None
    high: float | None
    weight: float
    words: str | None


@dataclass(frozen=True, slots=True)
class SiteMean:
    """What one place says: mean of its years (each once), site-years, observations."""

    place: str
    stock: str | None
    years: float
    low: float | None
    high: float | None
    concepts: tuple[str, ...]
    seen: tuple[Seen, ...]

    @property
    def weight(self) -> float:
        return self.years / (self.years + TAU_SITE_YEARS)


def bend(
    plant: Plant, trait: Trait, before: Adopted | None, seen: Sequence[Seen]
) -> tuple[Adopted | None, tuple[LocalEstimate, ...]]:
    """The kind's value bent a little, and the estimate for each place; both name their weight."""
    sites = _sites(trait, seen)
    local = tuple(_local(trait, before, site) for site in sites)
    if before is None or not sites:
        return before, local
    counts = [site.weight * _speaks_for_kind(plant, site) for site in sites]
    weight = sum(counts) / (sum(counts) + TAU_SITE_YEARS)
    if weight <= 0:
        return before, local
    low, high = _mean_of(trait, [(s.low, s.high, c) for s, c in zip(sites, counts, strict=True)])
    ends = _blend(trait, (before.low, before.likely, before.high), (low, high), weight)
    concepts = _worst(trait, (before.concepts, *(site.concepts for site in sites)))
    if ends is None and concepts == before.concepts:
        return before, local
    ends = ends or (before.low, before.likely, before.high)
    names = tuple(one.observation.id for site in sites for one in site.seen)
    years = sum(site.years for site in sites)
    told = f"; bent by own observations ({so_many(years, 'site-year', form='.3g')}, weight {weight:.2g})"
    return (
        replace(
            before,
            low=ends[0],
            likely=ends[1],
            high=ends[2],
            concepts=concepts,
            rule=before.rule + told,
            bent=Bent(years, weight, before.low, before.likely, before.high, names),
        ),
        local,
    )


def counted(
    observations: Sequence[Observation],
    adopted: Mapping[TraitId, Adopted],
    vocabulary: Vocabulary,
    *,
    tropical: bool = False,
) -> dict[TraitId, list[Seen]]:
    """The observations as they count, by trait; sizes of growing plants are read along their curve.

    ``tropical`` of a crop of the tropics, whose evergreens grow as quick as others.
    """
    found: dict[TraitId, list[Seen]] = {}
    for one in observations:
        if one.trait in vocabulary.traits:
            found.setdefault(one.trait, []).append(
                _seen(one, vocabulary.traits[one.trait], adopted, tropical=tropical)
            )
    return found


def _seen(one: Observation, trait: Trait, adopted: Mapping[TraitId, Adopted], *, tropical: bool) -> Seen:
    low, high = _ends(one, trait)
    weight = 1.0 if one.quality == "measured" else ESTIMATED_COUNTS
    if trait.id not in SIZES or one.age_years is None or low is None or high is None:
        return Seen(one, low, high, weight, None)
    form = adopted.get(TraitId("growth-form"))
    height = adopted.get(TraitId("mature-height"))
    name = form.concepts[0] if form and form.concepts and form.concepts[0] in CURVES else "herb"
    final = None if height is None or _dwarfed(one.stock) else height.likely
    leaves = adopted.get(TraitId("leaf-retention"))
    evergreen = leaves is not None and leaves.concepts == ("evergreen",) and not tropical
    share = size_share(float(one.age_years), growth_form=name, final_height_m=final, evergreen=evergreen)
    if share < YOUNGEST_SHARE:
        return Seen(one, low, high, 0.0, "too young to tell its final size")
    if share > 0.95:
        return Seen(one, low, high, weight, None)
    words = f"at {share:.0%} of its final size by age, so {low / share:.3g} {trait.unit_label} full-grown"
    return Seen(one, low / share, high / share, weight * share, words)


def _ends(one: Observation, trait: Trait) -> tuple[float | None, float | None]:
    """Lower and upper figure; one figure is both. A window's start and end stay apart."""
    if trait.kind == "window":
        return (_float(one.low), _float(one.high))
    if one.likely is not None:
        return float(one.likely), float(one.likely)
    return (_float(one.low), _float(one.high))


def _float(value: object) -> float | None:
    return None if value is None else float(str(value))


def _sites(trait: Trait, seen: Sequence[Seen]) -> tuple[SiteMean, ...]:
    """What each place (and stock) says; the plants of one place and year count once together."""
    places: dict[tuple[str, str], list[Seen]] = {}
    for one in seen:
        if one.weight > 0:
            key = (one.observation.place.casefold(), (one.observation.stock or "").casefold())
            places.setdefault(key, []).append(one)
    return tuple(_site(trait, members) for _, members in sorted(places.items()))


def _site(trait: Trait, members: Sequence[Seen]) -> SiteMean:
    by_year: dict[int, list[Seen]] = {}
    for one in members:
        by_year.setdefault(one.observation.year, []).append(one)
    rows = []
    for year in by_year.values():
        low, high = _mean_of(trait, [(one.low, one.high, one.weight) for one in year])
        rows.append((low, high, max(one.weight for one in year)))
    low, high = _mean_of(trait, rows)
    first = members[0].observation
    named = tuple(sorted({concept for one in members for concept in one.observation.concepts}))
    return SiteMean(first.place, first.stock, sum(row[2] for row in rows), low, high, named, tuple(members))


def _mean_of(
    trait: Trait, rows: Sequence[tuple[float | None, float | None, float]]
) -> tuple[float | None, float | None]:
    return (
        _mean(trait, [(low, weight) for low, _, weight in rows if low is not None]),
        _mean(trait, [(high, weight) for _, high, weight in rows if high is not None]),
    )


def _mean(trait: Trait, values: Sequence[tuple[float, float]]) -> float | None:
    total = sum(weight for _, weight in values)
    if total <= 0:
        return None
    if trait.kind == "window":
        turn = sum(weight * cmath.exp(2j * math.pi * value / YEAR_WEEKS) for value, weight in values)
        return _round_the_year(cmath.phase(turn) / (2 * math.pi) * YEAR_WEEKS)
    into, back = _scale(trait, [value for value, _ in values])
    return back(sum(into(value) * weight for value, weight in values) / total)


def _scale(
    trait: Trait, values: Sequence[float]
) -> tuple[Callable[[float], float], Callable[[float], float]]:
    """Sizes and other positive quantities are compared by their ratio, temperatures and pH by difference."""
    ratio = trait.adoption in RATIOS
    if ratio and trait.unit_label not in LINEAR_UNITS and all(value > 0 for value in values):
        return math.log, math.exp
    return float, float


def _round_the_year(week: float) -> float:
    return (week - 1) % YEAR_WEEKS + 1


Ends = tuple[float | None, float | None, float | None]


def _blend(trait: Trait, before: Ends, seen: tuple[float | None, float | None], weight: float) -> Ends | None:
    """Low, likely and high after ``weight`` of what was seen; None where there is nothing to blend."""
    low, likely, high = before
    if trait.kind == "window":
        moved = (_turned(low, seen[0], weight), likely, _turned(high, seen[1], weight))
        return moved if moved != before else None
    if seen[0] is None or seen[1] is None or likely is None:
        return None
    if trait.adoption == "tolerated-range":
        return _widened(before, (seen[0], seen[1]), weight)
    ends = [value for value in (low, likely, high) if value is not None]
    into, back = _scale(trait, [*ends, *(value for value in seen if value is not None)])
    middle = (1 - weight) * into(likely) + weight * (into(seen[0]) + into(seen[1])) / 2
    narrower = math.sqrt(1 - weight)
    return (
        None if low is None else back(middle - (into(likely) - into(low)) * narrower),
        back(middle),
        None if high is None else back(middle + (into(high) - into(likely)) * narrower),
    )


def _turned(before: float | None, seen: float | None, weight: float) -> float | None:
    """A week moved towards another by the shorter way round the year."""
    if before is None or seen is None:
        return before
    apart = (seen - before + YEAR_WEEKS / 2) % YEAR_WEEKS - YEAR_WEEKS / 2
    return _round_the_year(before + weight * apart)


def _widened(before: Ends, seen: tuple[float, float], weight: float) -> Ends | None:
    """A tolerated range reaches towards where the plant was seen to thrive outside it; it never shrinks."""
    low, _, high = before
    if low is None or high is None or (low <= seen[0] and seen[1] <= high):
        return None
    low += weight * min(0.0, seen[0] - low)
    high += weight * max(0.0, seen[1] - high)
    return low, (low + high) / 2, high


def _worst(trait: Trait, named: Sequence[tuple[str, ...]]) -> tuple[str, ...]:
    """Of what can do harm the worst that was seen; other named values stay as the records have them."""
    order = CAUTIOUS_ORDER.get(trait.id)
    every = {concept for concepts in named for concept in concepts}
    if order is None or not every or not every <= set(order):
        return named[0]
    return (max(every, key=order.index),)


def _speaks_for_kind(plant: Plant, site: SiteMean) -> float:
    """A dwarfing stock says less of the species than of the tree in hand."""
    return ON_A_STOCK if _dwarfed(site.stock) and plant.rank in {"species", "genus"} else 1.0


def _dwarfed(stock: str | None) -> bool:
    """Whether a stock is named that is no seedling, standard or own root."""
    return bool(stock) and not any(word in (stock or "").lower() for word in OWN_ROOTED)


def _local(trait: Trait, before: Adopted | None, site: SiteMean) -> LocalEstimate:
    names = tuple(one.observation.id for one in site.seen)
    concepts = before.concepts if before else ()
    weight = (
        site.weight if before is not None and (before.likely is not None or before.low is not None) else 1.0
    )
    if site.concepts:
        weight = site.weight
        concepts = _local_concepts(trait, concepts, site)
    ends: Ends = (before.low, before.likely, before.high) if before else (None, None, None)
    blended = _blend(trait, ends, (site.low, site.high), site.weight)
    if blended is not None:
        ends = blended
    elif site.low is not None and site.high is not None and ends[1] is None and trait.kind == "number":
        weight, ends = 1.0, _alone(trait, site.low, site.high)
    told = [f"{one.observation.verbatim}: {one.words}" for one in site.seen if one.words]
    words = (
        f"{so_many(site.years, 'site-year', form='.3g')} of your own, weight {weight:.2g} against the records"
        if (weight < 1)
        else f"{so_many(site.years, 'site-year', form='.3g')} of your own; the records give no value"
    )
    return LocalEstimate(
        trait.id, site.place, site.stock, site.years, weight, site.low, *ends, concepts, names,
        "; ".join([words, *dict.fromkeys(told)]),
    )  # fmt: skip


def _alone(trait: Trait, low: float, high: float) -> Ends:
    """An own value where the records give none, with the spread of one value from place to place."""
    into, back = _scale(trait, [low, high])
    if into is math.log:
        factor = math.exp(1.2815515655446004 * OWN_LOG_SD)
        return low / factor, back((into(low) + into(high)) / 2), high * factor
    return low, (low + high) / 2, high


def _local_concepts(trait: Trait, before: tuple[str, ...], site: SiteMean) -> tuple[str, ...]:
    """What harms counts at once; anything else when one's own site-years outweigh the records."""
    if trait.id in CAUTIOUS_ORDER:
        return _worst(trait, (before, site.concepts))
    return site.concepts if not before or site.weight > 0.5 else before
