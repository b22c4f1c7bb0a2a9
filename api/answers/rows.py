"""A judged pair as the row that ``pair``, ``candidates`` and ``under`` share."""

from collections.abc import Iterable, Sequence

from api.answers.cautions import Reader, names_of, plant_cautions
from api.answers.knowledge import Answer
from kb.mixture.results import Condition, Limiting, Loss, NitrogenGift, PairAnswer, Reason, Score, Sureness
from kb.model import PlantId
from kb.snapshot import Snapshot

SHARE_DIGITS = 3
"""Decimals of shares: a thousandth is far below what the inputs bear."""


def reason_dict(reason: Reason) -> Answer:
    return {"kind": reason.kind, "text": reason.text, "records": list(reason.records)}


def pair_row(result: PairAnswer, cautions: Sequence[Answer]) -> Answer:
    """One judged pair, its cautions before its verdict."""
    return {
        "a": result.a,
        "b": result.b,
        "cautions": list(cautions),
        "verdict": result.verdict,
        "saying": result.saying,
        "conditions": [condition_dict(condition) for condition in result.conditions],
        "limiting": limiting_dict(result.limiting),
        "sharing": round(result.sharing, SHARE_DIGITS),
        "loss": {plant: loss_dict(loss) for plant, loss in result.loss.items()},
        "suppressed": result.suppressed,
        "suppressed_note": result.suppressed_note,
        "benefits": [reason_dict(benefit) for benefit in result.benefits],
        "best": None if result.best is None else reason_dict(result.best),
        "nitrogen": nitrogen_dict(result.nitrogen),
        "score": score_dict(result.score),
        "sureness": sureness_dict(result.sureness),
        "reasons": [reason_dict(reason) for reason in result.reasons],
        "notes": list(result.notes),
    }


def shared_notes(results: Sequence[PairAnswer]) -> list[str]:
    """The notes that every row has, so that a list says them once for all."""
    if not results:
        return []
    return [note for note in results[0].notes if all(note in result.notes for result in results)]


def condition_dict(condition: Condition) -> Answer:
    return {
        "kind": condition.kind,
        "text": condition.text,
        "given": condition.given,
        "met": condition.met,
        "verdict_if_met": condition.verdict_if_met,
        "verdict_if_unmet": condition.verdict_if_unmet,
    }


def limiting_dict(limiting: Limiting | None) -> Answer | None:
    if limiting is None:
        return None
    return {
        "kind": limiting.kind,
        "of": limiting.of,
        "text": limiting.text,
        "records": list(limiting.records),
    }


def score_dict(score: Score) -> Answer:
    return {"likely": round(score.likely, 1), "low": round(score.low, 1), "high": round(score.high, 1)}


def sureness_dict(sureness: Sureness) -> Answer:
    return {
        "word": sureness.word,
        "share_of_draws": round(sureness.share_of_draws, SHARE_DIGITS),
        "by_rule": sureness.by_rule,
        "deciding_trait": sureness.deciding_trait,
        "of": sureness.of,
    }


def loss_dict(loss: Loss) -> Answer:
    return {
        "roots": round(loss.roots, SHARE_DIGITS),
        "light": round(loss.light, SHARE_DIGITS),
        "enemies": round(loss.enemies, SHARE_DIGITS),
        "all": round(loss.all, SHARE_DIGITS),
    }


def nitrogen_dict(gift: NitrogenGift | None) -> Answer | None:
    if gift is None:
        return None
    low, high = gift.g_per_m2
    return {
        "from": gift.giver,
        "to": gift.taker,
        "g_per_m2": [round(low, 2), round(high, 2)],
        "when": gift.when,
    }


def shown_names(snapshot: Snapshot, plants: Iterable[str]) -> Answer:
    """What each plant shown is called."""
    return {
        plant: names_of(snapshot.plants[PlantId(plant)])
        for plant in dict.fromkeys(plants)
        if plant in snapshot.plants
    }


def all_cautions(snapshot: Snapshot, plants: Iterable[str], reader: Reader) -> list[Answer]:
    """The cautions of every plant shown, plant by plant; none is left without a word."""
    return [
        caution
        for plant in dict.fromkeys(plants)
        for caution in plant_cautions(snapshot, PlantId(plant), reader)
    ]
