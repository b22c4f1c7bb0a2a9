"""The model held against measured outcomes: who is suppressed, and ranking inside a study."""

from collections.abc import Mapping, Sequence
from dataclasses import replace
from math import log
from pathlib import Path

from api.answers.knowledge import Answer
from kb.mixture.answers.pair import judge_pair
from kb.mixture.site import REFERENCE_SITE, Arrangement
from kb.mixture.trials.concordance import Concordance
from kb.mixture.trials.outcome_report import (
    DEPTH_RANKING,
    Nulls,
    PairFacts,
    SetReport,
    facts_of,
    nulls_of,
    report_on,
)
from kb.mixture.trials.outcomes import Agreement, Figure, Pair, Trial
from kb.model import PlantId
from kb.snapshot import Snapshot
from kb.trials.outcome_names import Match, match
from kb.trials.outcome_studies import COUNT, gave_constants
from kb.trials.outcome_table import OutcomeRow, read_outcomes

DIGITS = 3
SCORE_RANKING = "score of the pair answer at the reference site"
NO_RATIO = "none of its rows gives both partial LERs above 0"
NOTES = (
    "Unit: a pair in a study, the mean of its designs; intervals are 90 %, from drawing whole studies again.",
    "Baselines are measured on the very study-pairs the service judged, with heights of the managed crop.",
    "Root depths not on record count at their stand-ins in the depth baseline, never in the service.",
    "Concordance counts couples of pairs from one study by LER; p is one-sided, by shuffling inside studies.",
    "Such trials are mostly of annual crops of warm climates, densities unknown; few are of perennials.",
)


def outcomes_answer(snapshot: Snapshot, file: Path) -> Answer:
    """Predictions beside measured outcomes, for every study and for those that gave no constants.

    Raises BadFile where the table cannot be read.
    """
    rows = read_outcomes(file)
    matches = matches_of(snapshot, rows)
    held = trials_of(rows, matches)
    trials = [trial for _, trial in held]
    facts = {pair: _facts(snapshot, pair) for pair in sorted({trial.pair for trial in trials})}
    new = [trial for row, trial in held if not gave_constants(row.study, row.doi)]
    whole, fresh = report_on(trials, facts), report_on(new, facts, fitted_on=trials)
    return {
        "question": {"kind": "outcomes", "file": file.name, "rows": len(rows)},
        "dataset_version": snapshot.version,
        "cautions": [],
        "all": _set(whole),
        "new_studies": {**_set(fresh), "baselines": _baselines(fresh)},
        "baselines": _baselines(whole),
        "nulls": _nulls(nulls_of(trials, facts)),
        "not_judged": _not_judged(rows, matches, facts),
        "names": [
            {"printed": found.printed, "plant": found.plant, "how": found.how}
            for found in sorted(matches.values(), key=lambda found: found.printed)
        ],
        "reasons": [],
        "notes": [*NOTES, _about_studies(new)],
    }


def matches_of(snapshot: Snapshot, rows: Sequence[OutcomeRow]) -> dict[tuple[str, str], Match]:
    """What each scientific name with its common name means."""
    named = {name for row in rows for name in zip(row.species, row.common, strict=True)}
    return {name: match(snapshot, *name) for name in sorted(named)}


def trials_of(
    rows: Sequence[OutcomeRow], matches: Mapping[tuple[str, str], Match]
) -> list[tuple[OutcomeRow, Trial]]:
    """The rows of two known plants, each as a trial of the pair in the order of their ids."""
    found = ((row, _pair(row, matches)) for row in rows)
    return [(row, _trial(row, pair, matches)) for row, pair in found if pair is not None]


def _pair(row: OutcomeRow, matches: Mapping[tuple[str, str], Match]) -> Pair | None:
    """The two plants in the order of their ids; None where either is not known or both are one."""
    plants = [matches[name].plant for name in zip(row.species, row.common, strict=True)]
    first, second = plants
    if first is None or second is None or first == second:
        return None
    return (first, second) if first < second else (second, first)


def _facts(snapshot: Snapshot, pair: Pair) -> PairFacts:
    a, b = (snapshot.profile(PlantId(plant)) for plant in pair)
    facts = facts_of(a, b)
    answer = judge_pair(a, b, REFERENCE_SITE, Arrangement(), draws=0, book=snapshot.enemy_book)
    return replace(facts, rankings={**facts.rankings, SCORE_RANKING: answer.score.likely})


def _trial(row: OutcomeRow, pair: Pair, matches: Mapping[tuple[str, str], Match]) -> Trial:
    first, second = row.partial_ler
    if matches[row.species[0], row.common[0]].plant != pair[0]:
        first, second = second, first
    design = row.design.lower()
    return Trial(
        pair=pair,
        study=row.study,
        design=design if design in {"additive", "replacement"} else "other",
        log_ratio=log(first / second) if first and second else None,
        ler=row.ler,
    )


def _not_judged(
    rows: Sequence[OutcomeRow], matches: Mapping[tuple[str, str], Match], facts: Mapping[Pair, PairFacts]
) -> list[Answer]:
    """Each pair of the table that has no prediction or no measured ratio, with why and its rows."""
    by_names: dict[tuple[str, str], list[OutcomeRow]] = {}
    for row in rows:
        printed = [matches[name].printed for name in zip(row.species, row.common, strict=True)]
        by_names.setdefault((min(printed), max(printed)), []).append(row)
    told = []
    for names, held in sorted(by_names.items()):
        why = _why_not(held, matches, facts)
        if why:
            told.append({"pair": list(names), "why": why, "rows": len(held)})
    return told


def _why_not(
    held: Sequence[OutcomeRow], matches: Mapping[tuple[str, str], Match], facts: Mapping[Pair, PairFacts]
) -> str | None:
    row = held[0]
    found = [matches[name] for name in zip(row.species, row.common, strict=True)]
    unmatched = [f"{one.printed}: {one.how}" for one in found if one.plant is None]
    if unmatched:
        return " ".join(unmatched)
    pair = _pair(row, matches)
    if pair is None:
        return "both names mean the same plant"
    if not any(all(one.partial_ler) for one in held):
        return NO_RATIO
    return facts[pair].why


def _about_studies(new: Sequence[Trial]) -> str:
    count = len({trial.study for trial in new})
    told = f"{count} of its studies are" if count else "None of its studies is"
    return f"{told} outside the {COUNT} that the constants came from."


def _set(report: SetReport) -> Answer:
    return {
        **_agreement(report.main),
        "concordance": _concordance(report.concordances[DEPTH_RANKING], by=DEPTH_RANKING),
        "named": {"n": report.named.n, "right": _round(report.named.right)},
        "by_design": {design: _agreement(found) for design, found in report.by_design.items()},
        "by_marks": {marks: _agreement(found) for marks, found in report.by_marks.items()},
        "sign_by_size_of_prediction": [_round(third) for third in report.by_size],
        "other_rankings": {
            name: _concordance(found, by=name)
            for name, found in report.concordances.items()
            if name != DEPTH_RANKING
        },
    }


def _baselines(report: SetReport) -> Answer:
    return {name: _agreement(found) for name, found in report.baselines.items()}


def _agreement(found: Agreement) -> Answer:
    return {
        "n_pairs": found.n_pairs,
        "n_study_pairs": found.n_study_pairs,
        "sign": _figure(found.sign),
        "rho": _figure(found.rho),
    }


def _concordance(found: Concordance, *, by: str) -> Answer:
    return {
        "value": _round(found.value),
        "n": found.n,
        "p": _round(found.p),
        "n_studies": found.n_studies,
        "by": by,
    }


def _nulls(found: Nulls) -> Answer:
    return {
        "ler_between_studies": _round(found.ler_between_studies),
        "ratio_between_studies": _round(found.ratio_between_studies),
        "ler_above_one": _round(found.ler_above_one),
        "rho_with_ler": {name: _round(rho) for name, rho in found.rho_with_ler.items()},
    }


def _figure(found: Figure) -> Answer:
    return {"value": _round(found.value), "low": _round(found.low), "high": _round(found.high)}


def _round(value: float | None) -> float | None:
    return None if value is None else round(value, DIGITS)
