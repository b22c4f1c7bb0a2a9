"""The adopted values of one plant as estimates, spans and choices, each with its origin."""

import statistics
from collections.abc import Callable, Iterable, Mapping, Sequence

from kb.adoption.season_words import FLOWERING, names_a_season
from kb.mixture.profile import Activity, Choice, Estimate, Origin, Span
from kb.model import Adopted, Basis, Record, TraitId
from kb.profiles.flowering import flowering

ORIGIN_OF_BASIS: Mapping[Basis, Origin] = {
    "common-practice": "common-practice",
    "recalled": "recalled",
}

OVER_WINTER = (0.65, 0.11)
"""Parts of its window in which a crop that stands over winter rises and declines: of autumn-sown wheat, rye,
rape, vetch and garlic (`trade` 4.5, table of dates) 0.65-0.70 and 0.08-0.12."""
WINTER_WEEKS = (48.0, 9.0)
"""December to February: too cold to grow on at the reference site."""
SPRING_GROWTH_WEEKS = 8.0
"""What is cut before has done its growing in autumn, as winter kale (judgement)."""
MIDSUMMER_WEEK = 26.0
GROWN_BY_AUTUMN_WEEK = 31.0
"""What is set by the end of July has grown up by autumn, however long it stands: winter kale (judgement)."""

FADES = "senescence-from"
"""Condition of a first leaf: the week from which its senescence was seen."""
ORIGINS_BEST_FIRST: tuple[Origin, ...] = ("cited", "common-practice", "recalled")
Values = Mapping[TraitId, Adopted]


def origin_of(adopted: Adopted, records: Mapping[str, Record]) -> Origin:
    """The best origin among the records that counted."""
    return best_origin(records[w.record] for w in adopted.weighed if w.weight > 0)


def best_origin(records: Iterable[Record]) -> Origin:
    found = {ORIGIN_OF_BASIS.get(record.basis, "cited") for record in records}
    return next((origin for origin in ORIGINS_BEST_FIRST if origin in found), "cited")


class KnownValues:
    """The adopted values of one plant as estimates, spans and choices."""

    def __init__(self, adopted: Values, records: Mapping[str, Record]) -> None:
        self.adopted = adopted
        self._records = records

    def origin(self, value: Adopted) -> Origin:
        return origin_of(value, self._records)

    def estimate(
        self, trait: str, fallback: tuple[float, float, float], origin: Origin = "assumed"
    ) -> Estimate:
        value = self.adopted.get(TraitId(trait))
        if value is None or value.likely is None:
            return Estimate(*fallback, origin)
        low = value.low if value.low is not None else value.likely * 0.8
        high = value.high if value.high is not None else value.likely * 1.25
        return Estimate(low, value.likely, high, self.origin(value), value.records)

    def maybe(self, trait: str) -> Estimate | None:
        value = self.adopted.get(TraitId(trait))
        return None if value is None or value.likely is None else self.estimate(trait, (0, 0, 0))

    def end(self, trait: str, *, upper: bool, fallback: tuple[float, float, float], doubt: float) -> Estimate:
        """One end of a printed range as an estimate with its own doubt (absolute).

        It rests on the records that state this end: a trial of the one does not vouch for the other.
        """
        value = self.adopted.get(TraitId(trait))
        end = None if value is None else value.high if upper else value.low
        if value is None or end is None:
            return Estimate(*fallback, "assumed")
        told = [one for one in self.counted(trait) if (one.high if upper else one.low) is not None]
        if not told:
            return Estimate(max(0.0, end - doubt), end, end + doubt, self.origin(value), value.records)
        records = tuple(one.iri for one in told)
        return Estimate(max(0.0, end - doubt), end, end + doubt, best_origin(told), records)

    def span(self, trait: str, fallback: tuple[float, float]) -> Span:
        value = self.adopted.get(TraitId(trait))
        if value is None or value.low is None or value.high is None:
            return Span(*fallback, "assumed")
        thin = value.confidence == "low"
        return Span(value.low, value.high, self.origin(value), value.records, thin)

    def chosen(self, ids: Iterable[str]) -> list[Record]:
        """The records of these ids."""
        return [self._records[record] for record in ids]

    def inner_corners(self, low: float, high: float, records: Sequence[Record]) -> tuple[float, float]:
        """The weeks of full growth and of its decline: as recorded, else a usual part of the window.

        ``low`` and ``high`` are the window's weeks, ``records`` those that it rests on.
        """
        if len(records) == 1:
            full, decline = (records[0].condition(key) for key in ("full", "decline"))
            if full is not None and decline is not None:
                return float(full), week_of(end_of(float(decline)))
        finish = end_of(high)
        length = (finish - low) % 52
        rise, fall = (0.25, 0.2) if length < 40 else (0.15, 0.12)
        if _stands_over_winter(low, length):
            rise, fall = OVER_WINTER
        return week_of(low + rise * length), week_of(finish - fall * length)

    def managed_height(self) -> Estimate | None:
        """The lowest height (m) recorded of the crop under management, None without such a record."""
        managed = self._managed()
        if not managed:
            return None
        lowest = min(managed, key=lambda record: record.likely or 0)
        likely = float(lowest.likely or 0)
        return Estimate(likely * 0.7, likely, likely * 1.4, "cited", (lowest.iri,))

    def grown_height(self) -> Estimate | None:
        """The mean height (m) recorded of the crop under management, None without such a record."""
        managed = self._managed()
        if not managed:
            return None
        heights = [float(record.likely or 0) for record in managed]
        iris = tuple(record.iri for record in managed)
        return Estimate(min(heights), statistics.fmean(heights), max(heights), "cited", iris)

    def _managed(self) -> list[Record]:
        value = self.adopted.get(TraitId("mature-height"))
        records = [self._records[w.record] for w in value.weighed] if value is not None else []
        return [r for r in records if (r.condition("as") or "").startswith("managed") and r.likely]

    def fades(self) -> float | None:
        """The week in which the first of its leaf is on record to yellow, before which the leaf is not over.

        The first day on which it was seen on one plant of many is no end (the protocol of PhenObs, Nordt et
        al. 2021, notes the peak and the end apart).
        """
        weeks = [record.condition(FADES) for record in self.counted("leaf-window")]
        known = [float(week) for week in weeks if week is not None]
        return statistics.median(known) if known else None

    def flowers(self) -> Activity | None:
        window = self.adopted.get(TraitId("flowering-window"))
        origin: Origin = "form" if window is None else self.origin(window)
        return flowering(self.adopted, origin, dated=not self.rests_on("flowering-window", _names_no_date))

    def named(self, trait: str) -> frozenset[str]:
        """Every named value that a record which counted gives, the adopted one among them."""
        return frozenset(concept for record in self.counted(trait) for concept in record.concepts)

    def rests_on(self, trait: str, accept: Callable[[Record], bool]) -> bool:
        """Whether there is an adopted value, and every record that it rests on is accepted."""
        counted = self.counted(trait)
        return bool(counted) and all(accept(record) for record in counted)

    def counted(self, trait: str) -> list[Record]:
        """The records that the adopted value of a trait rests on."""
        value = self.adopted.get(TraitId(trait))
        return [] if value is None else [self._records[w.record] for w in value.weighed if w.weight > 0]

    def choice(self, trait: str, fallback: str | None = None, origin: Origin = "assumed") -> Choice:
        value = self.adopted.get(TraitId(trait))
        if value is None or not value.concepts:
            return Choice(fallback, origin)
        return Choice(value.concepts[0], self.origin(value), value.records)


def _names_no_date(record: Record) -> bool:
    return record.trait != FLOWERING or names_a_season(record)


def _stands_over_winter(low: float, length: float) -> bool:
    """Whether a window begins late in summer and goes on well into the next spring."""
    return (
        GROWN_BY_AUTUMN_WEEK <= low <= WINTER_WEEKS[0]
        and low + length >= 52 + WINTER_WEEKS[1] + SPRING_GROWTH_WEEKS
    )


def scaled(estimate: Estimate, factor: float) -> tuple[float, float, float]:
    return (estimate.low * factor, estimate.likely * factor, estimate.high * factor)


def end_of(week: float) -> float:
    """The moment a window ends: a whole week counts to its end, a fraction is a date already."""
    return week + 1 if abs(week - round(week)) < 1e-6 else week


def week_of(week: float) -> float:
    return (week - 1) % 52 + 1
