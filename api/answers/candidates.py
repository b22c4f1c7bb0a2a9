"""The answer to 'what would go well with this plant': ranked, a page at a time."""

import threading
from collections import OrderedDict
from collections.abc import Callable, Sequence
from dataclasses import replace
from weakref import WeakKeyDictionary

from api.answers.cautions import Reader, left_out_notes, plant_cautions
from api.answers.ground_history import history_notes
from api.answers.knowledge import Answer
from api.answers.planted_weeks import listed_together, set_this_year
from api.answers.rows import all_cautions, pair_row, shared_notes, shown_names
from api.answers.site_rules import gate_notes, with_rules
from api.answers.site_words import site_notes
from api.answers.standing import stand
from api.answers.stocks import stock_notes, tree_named
from api.answers.tree_in_bed import tree_in_bed
from api.paging import digest, part_of
from api.questions import CandidatesQuestion, Leaving, SettingAsked
from kb.mixture.bodies.support import SHORT_REACH_M, is_climber, sprawls
from kb.mixture.bodies.trained import on_its_frame
from kb.mixture.counting import so_many
from kb.mixture.lists.candidates import rank_candidates
from kb.mixture.profile import Profile
from kb.mixture.results import PairAnswer
from kb.model import PlantId, TraitId
from kb.profiles.stocks import ON_STOCK
from kb.snapshot import Snapshot

NOT_GROWTH = {TraitId("family"), TraitId("light-indicator-1-9")}
KEPT_RANKINGS = 8


def others_for(
    snapshot: Snapshot, subject: PlantId, leaving: Leaving, *, hedge: bool = False
) -> tuple[tuple[Profile, ...], tuple[str, ...]]:
    """The plants to rank against one, and notes on those left out. Raises for unknown names.

    Of a row of ``hedge`` those that are no woody plants are left out, but where their group is asked for.
    """
    excluded = {snapshot.resolve(name) for name in leaving.exclude}
    if snapshot.plants[subject].rank == ON_STOCK:
        excluded.add(snapshot.plants[subject].parent or subject)
    profiles: list[Profile] = []
    out = dict.fromkeys(_LEFT_OUT, 0)
    soft = 0
    for plant_id, plant in snapshot.plants.items():
        if plant_id == subject or plant_id in excluded:
            continue
        if leaving.group and not set(leaving.group) & set(plant.groups):
            continue
        why = _why_left_out(snapshot, plant_id, asked_groups=leaving.group)
        if why is None or why in leaving.include:
            profile = snapshot.profile(plant_id)
            if hedge and not leaving.group and not (profile.woody or HEDGE_PLANT in plant.groups):
                soft += 1
                continue
            profiles.append(profile)
        else:
            out[why] += 1
    notes = [
        f"{so_many(count, 'plant')} left out: {_LEFT_OUT[why]}; include={why} takes them in."
        for why, count in out.items()
        if count
    ]
    if soft:
        notes.append(
            f"{so_many(soft, 'plant')} left out: a row of hedge is of woody plants; a group that is asked "
            "for takes its own in."
        )
    return tuple(profiles), tuple(notes)


FLOWER, HEDGE_PLANT, WEED = "flower", "hedge-plant", "weed"
_LEFT_OUT = {
    "cautions-only": "nothing but names and cautions is on record",
    "flowers": "they are grown for their flowers and not to eat",
    "stocks": "they are trees on named stocks, and their species stands for them",
    "unknowns": "roots, height and season are all unknown",
    "weeds": "they are weeds that come by themselves, and nobody sows them",
}


def _why_left_out(snapshot: Snapshot, plant_id: PlantId, *, asked_groups: tuple[str, ...]) -> str | None:
    """Why a plant is left out of a list, as ``include`` names it; None where it is ranked.

    Flowers and weeds come in when a group of theirs is asked for; the others cannot honestly be ranked.
    """
    if snapshot.plants[plant_id].rank == ON_STOCK:
        return "stocks"
    if not asked_groups and snapshot.plants[plant_id].groups == (FLOWER,):
        return "flowers"
    if not asked_groups and WEED in snapshot.plants[plant_id].groups:
        return "weeds"
    if not set(snapshot.adopted(plant_id)) - NOT_GROWTH:
        return "cautions-only"
    profile = snapshot.profile(plant_id)
    known = profile.root_d95_m.known or profile.height_m.known or profile.activity.known
    return None if known else "unknowns"


class Rankings:
    """The last rankings of each data set, so that the next page costs nothing."""

    def __init__(self) -> None:
        self._guard = threading.Lock()
        self._held: WeakKeyDictionary[Snapshot, OrderedDict[str, Sequence[PairAnswer]]] = WeakKeyDictionary()

    def get(
        self, snapshot: Snapshot, key: str, rank: Callable[[], Sequence[PairAnswer]]
    ) -> Sequence[PairAnswer]:
        """The ranking under ``key``, made by ``rank`` where it is not held."""
        with self._guard:
            held = self._held.setdefault(snapshot, OrderedDict())
            if key in held:
                held.move_to_end(key)
                return held[key]
        ranked = rank()
        with self._guard:
            held[key] = ranked
            while len(held) > KEPT_RANKINGS:
                held.popitem(last=False)
        return ranked


_RANKINGS = Rankings()


def _of_a_climber(plant: Profile, setting: SettingAsked) -> list[Answer]:
    """That the list of an annual climber begins with its hosts, and how it is asked with poles of its own."""
    reach = plant.reach_m or plant.height_m
    tall = is_climber(plant) and plant.annual and not sprawls(plant) and reach.likely > SHORT_REACH_M
    if not tall or "frame" in setting.given or setting.setting != "bed":
        return []
    text = (
        f"{plant.name} climbs to about {reach.likely:.2g} m: first come plants that carry it, what does not "
        "is to avoid. Given a frame of its own, poles or netting, it is another list."
    )
    return [{"kind": "support", "text": text, "records": list(reach.records)}]


def candidates_answer(snapshot: Snapshot, question: CandidatesQuestion) -> Answer:
    """What would go well with a plant: ranked, with reasons, a page at a time."""
    subject = tree_named(snapshot, question.plant, question.setting.tree.stock)
    a = snapshot.profile(subject)
    site = with_rules(snapshot, question.site.site, question.site.history)
    reader = Reader(site.audience, site.place)
    others, left_out = others_for(
        snapshot, subject, question.leaving, hedge=question.setting.setting == "hedge"
    )
    setting, others, week_notes = listed_together(a, others, question.setting, site)
    a, crop_notes = set_this_year(a, setting.sow_week_a)
    if setting.setting == "under":
        a = on_its_frame(a)
    standing = stand(a, None, setting, parameter="plant")
    asked = replace(question, plant=subject, page=replace(question.page, after=None, limit=0))
    bound = digest(snapshot.version, repr(asked))
    ranked = _RANKINGS.get(
        snapshot,
        bound,
        lambda: rank_candidates(a, others, site, standing.arrangement, book=snapshot.enemy_book),
    )
    part = part_of(ranked, limit=question.page.limit, after=question.page.after, bound=bound)
    shown = [PlantId(result.b) for result in part.entries]
    return {
        "question": {
            "kind": "candidates",
            "plant": subject,
            "site": question.site.as_dict(),
            **standing.understood,
            "include": list(question.leaving.include),
            "exclude": list(question.leaving.exclude),
            "group": list(question.leaving.group),
            "limit": question.page.limit,
            "after": question.page.after,
        },
        "dataset_version": snapshot.version,
        "cautions": all_cautions(snapshot, [subject, *shown], reader),
        "names": shown_names(snapshot, [subject, *shown]),
        "plant": subject,
        "total": len(ranked),
        "candidates": [
            pair_row(result, plant_cautions(snapshot, PlantId(result.b), reader)) for result in part.entries
        ],
        "next": part.next,
        "reasons": _of_a_climber(a, setting),
        "notes": [
            *tree_in_bed(a, setting.setting),
            *shared_notes(part.entries),
            *left_out,
            *week_notes,
            *crop_notes,
            *standing.notes,
            *(stock_notes(snapshot, a, question.setting.tree) if question.setting.setting == "under" else ()),
            *site_notes(question.site),
            *history_notes(snapshot, question.site.history, [subject, *shown]),
            *gate_notes(site),
            *left_out_notes(snapshot, [subject, *shown], reader),
        ],
    }
