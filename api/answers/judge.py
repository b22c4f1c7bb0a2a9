"""The answer to 'judge a whole planting'."""

from dataclasses import asdict
from math import sqrt

from api.answers.cautions import Reader, left_out_notes, site_work
from api.answers.evidence import rounded
from api.answers.ground import beyond_books, closest_m, share_by, share_told_by, too_close
from api.answers.ground_history import history_notes
from api.answers.knowledge import Answer
from api.answers.planted_weeks import bed_together, set_this_year
from api.answers.roots import root_profile
from api.answers.rows import (
    SHARE_DIGITS,
    all_cautions,
    condition_dict,
    limiting_dict,
    loss_dict,
    nitrogen_dict,
    reason_dict,
    score_dict,
    shown_names,
    sureness_dict,
)
from api.answers.site_rules import gate_notes, with_rules
from api.answers.site_words import site_notes
from api.answers.standing import (
    NEWLY_SOWN,
    ONE_SEASON,
    life_of,
    long_year_notes,
    of_year,
    refuse,
    tree_dict,
    tree_standing,
)
from api.answers.stocks import stock_notes, tree_named
from api.answers.tree_in_bed import SET, trees_in_bed
from api.questions import JudgeQuestion, PlacedAsked
from api.site_values import EVERY_MONTH, NO_FROST
from kb.errors import AmbiguousPlant, BadParameter, ParameterFault, UnknownPlant
from kb.mixture.answers.judgement import judge_planting
from kb.mixture.bodies.trained import on_its_frame
from kb.mixture.judging.planting import BadPlanting, Member, Overhead, Planting
from kb.mixture.profile import Profile
from kb.mixture.results import Conflict, Gap, Job, MemberAnswer, PairInSet, PlantingAnswer
from kb.mixture.site import Site
from kb.model import PlantId
from kb.snapshot import Snapshot

KEPT_NOTE = "The share of stands of their own that the ground keeps, sum of share x (1 - K); no yield."
MEASURES_NOTE = "These describe and judge nothing; compare plantings of as many plants only."


def judge_answer(snapshot: Snapshot, question: JudgeQuestion) -> Answer:
    """Whether a planting fits together: what each gets, who is squeezed out, jobs, gaps, conflicts."""
    plants, tree = _resolved(snapshot, question)
    site, said = _site(snapshot, question), question
    question, week_notes = bed_together([snapshot.profile(plant) for plant in plants], question, site)
    meant = [
        set_this_year(snapshot.profile(plant), asked.sow_week, asked.clear_week)
        for plant, asked in zip(plants, question.plants, strict=True)
    ]
    profiles = [profile for profile, _ in meant]
    reader = Reader(site.audience, site.place)
    overhead, tree_shown, assumed = _overhead(snapshot, question, tree)
    _refuse_misplaced(question, profiles)
    shares, share_notes = _shares(question, profiles)
    members = tuple(
        Member(
            profile=profile,
            share=share,
            sow_week=of_year(asked.sow_week),
            clear_week=of_year(asked.clear_week),
            age_years=asked.age_years,
            distance_m=asked.distance_m,
            side=asked.side,
            harvest=snapshot.harvest(PlantId(profile.id)),
        )
        for profile, share, asked in zip(profiles, shares, question.plants, strict=True)
    )
    planting = Planting(
        members, site, frozenset(question.given), overhead, setting=question.setting, kept_m=question.kept_m
    )
    try:
        result = judge_planting(planting, book=snapshot.enemy_book)
    except BadPlanting as fault:
        raise refuse("/plants" if question.plan else "plant", f"{fault}.") from None
    shown = [*([tree] if tree else []), *dict.fromkeys(plants)]
    row = question.setting == "hedge"
    understood = [
        _placed(asked, p, s, row=row) for asked, p, s in zip(question.plants, profiles, shares, strict=True)
    ]
    return {
        "question": {
            "kind": "judge",
            "plants": understood,
            "setting": "under" if tree else question.setting,
            **({"height_m": question.kept_m} if question.setting == "hedge" else {}),
            "tree": tree_shown,
            "site": question.site.as_dict(),
            "given": list(question.given),
        },
        "dataset_version": snapshot.version,
        "cautions": [*(site_work() if tree else []), *all_cautions(snapshot, shown, reader)],
        "names": shown_names(snapshot, shown),
        **_told(result),
        "root_profiles": {plant: root_profile(snapshot.profile(plant)) for plant in shown},
        "plan": _plan(said, plants, shares, snapshot.version),
        "reasons": [reason_dict(reason) for reason in result.reasons],
        "notes": [
            *(trees_in_bed(profiles, question.setting, how=SET) if tree is None else ()),
            *share_notes,
            *week_notes,
            *dict.fromkeys(note for _, notes in meant for note in notes),
            *long_year_notes(
                *(week for asked in question.plants for week in (asked.sow_week, asked.clear_week))
            ),
            *assumed,
            *result.notes,
            *_version_note(question, snapshot),
            *site_notes(question.site),
            *history_notes(snapshot, question.site.history, shown),
            *gate_notes(site),
            *left_out_notes(snapshot, shown, reader),
        ],
    }


def _site(snapshot: Snapshot, question: JudgeQuestion) -> Site:
    """The site with its rules. Raises BadParameter, told by its place in a plan."""
    try:
        return with_rules(snapshot, question.site.site, question.site.history)
    except BadParameter as fault:
        where = "/site/" if question.plan else ""
        moved = (ParameterFault(f"{where}{one.parameter}", one.detail) for one in fault.faults)
        raise BadParameter(tuple(moved)) from None


def _unresolved(where: str, words: str, fault: UnknownPlant | AmbiguousPlant) -> ParameterFault:
    offered = fault.offered if isinstance(fault, AmbiguousPlant) else ()
    return ParameterFault(where, f"{words}{fault}", offered)


def _resolved(snapshot: Snapshot, question: JudgeQuestion) -> tuple[list[PlantId], PlantId | None]:
    """The plants meant. Raises BadParameter that names every one that is unknown or ambiguous."""
    faults: list[ParameterFault] = []

    def resolve(name: str, where: str, words: str) -> PlantId | None:
        try:
            return snapshot.resolve(name)
        except (UnknownPlant, AmbiguousPlant) as fault:
            faults.append(_unresolved(where, words, fault))
            return None

    found = []
    for i, asked in enumerate(question.plants):
        where = f"/plants/{i}/plant" if question.plan else "plant"
        found.append(resolve(asked.plant, where, "" if question.plan else f"number {i + 1}: "))
    tree = None
    if question.tree is not None:
        try:
            tree = tree_named(snapshot, question.tree, question.measure.stock)
        except (UnknownPlant, AmbiguousPlant) as fault:
            faults.append(_unresolved("/tree/plant" if question.plan else "tree", "", fault))
        except BadParameter as fault:
            where = "/tree/" if question.plan else ""
            faults += [ParameterFault(f"{where}{one.parameter}", one.detail) for one in fault.faults]
    if faults:
        raise BadParameter(tuple(faults))
    return [plant for plant in found if plant is not None], tree


def _overhead(
    snapshot: Snapshot, question: JudgeQuestion, tree: PlantId | None
) -> tuple[Overhead | None, Answer | None, tuple[str, ...]]:
    if tree is None:
        return None, None, ()
    profile = on_its_frame(snapshot.profile(tree))
    standing, assumed = tree_standing(
        profile, question.measure, parameter="/tree/plant" if question.plan else "tree"
    )
    shown = tree_dict(profile, standing, question.measure)
    notes = (*assumed, *stock_notes(snapshot, profile, question.measure))
    return Overhead(profile, standing, snapshot.harvest(tree)), shown, notes


def _fault(question: JudgeQuestion, place: int, field: str, detail: str) -> ParameterFault:
    """A fault of one plant, told by its place in the plan or in the order of the plants."""
    if question.plan:
        return ParameterFault(f"/plants/{place}/{field}", detail)
    name = "plant_age_years" if field == "age_years" else field
    return ParameterFault(name, f"of plant {place + 1}: {detail}")


def _refuse_misplaced(question: JudgeQuestion, profiles: list[Profile]) -> None:
    """Raises BadParameter where something said of a plant would act on nothing."""
    faults = []
    for place, (asked, profile) in enumerate(zip(question.plants, profiles, strict=True)):
        said = asdict(asked)
        wrong = {
            field: f"{ONE_SEASON}; {profile.name} is {life_of(profile)}: {NEWLY_SOWN}."
            for field in ("sow_week", "clear_week")
            if not profile.annual
        }
        if profile.annual:
            wrong["age_years"] = f"acts only on lasting plants; {profile.name} is grown for one season."
        if question.tree is None:
            wrong |= dict.fromkeys(("distance_m", "side"), "acts only under a tree; name the tree.")
        if question.setting == "hedge":
            wrong["spacing_m"] = "acts only in a bed or under a tree; give the share of the row."
        if asked.share is not None:
            wrong["spacing_m"] = "says the same as share; give one of them."
        if asked.clear_week is not None and of_year(asked.clear_week) == of_year(asked.sow_week):
            wrong["clear_week"] = "is the week in which it is sown; give a later one."
        faults += [
            _fault(question, place, field, detail)
            for field, detail in wrong.items()
            if said[field] is not None
        ]
    if faults:
        raise BadParameter(tuple(faults))


def _shares(question: JudgeQuestion, profiles: list[Profile]) -> tuple[list[float], list[str]]:
    """Ground shares: as said, from the spacing, or an equal part of what the others leave."""
    found: list[float | None] = []
    faults = []
    for place, (asked, profile) in enumerate(zip(question.plants, profiles, strict=True)):
        share = asked.share
        if asked.spacing_m is not None:
            if asked.spacing_m < (closest := closest_m(profile)) * (1 - 1e-9):
                faults.append(_fault(question, place, "spacing_m", too_close(profile, closest)))
                continue
            share = share_by(asked.spacing_m, profile)
        found.append(share)
    if faults:
        raise BadParameter(tuple(faults))
    asked_and = zip(profiles, question.plants, strict=True)
    said = [note for profile, asked in asked_and if (note := beyond_books(profile, asked.spacing_m))]
    silent = [place for place, share in enumerate(found) if share is None]
    if not silent:
        return [share or 0.0 for share in found], said
    rest = 1 - sum(share for share in found if share is not None)
    if rest <= 1e-9:
        raise BadParameter(
            tuple(
                _fault(question, place, "share", "is missing, and the others leave no ground; give it.")
                for place in silent
            )
        )
    each = rest / len(silent)
    who = "each" if len(silent) == len(found) else "each of the others"
    ground = "row" if question.setting == "hedge" else "ground"
    note = (
        f"Shares of the {ground} were not all given: {100 * each:.0f} % is "
        f"taken for {who}. Shares move the verdict most."
    )
    return [each if share is None else share for share in found], [*said, note]


def _placed(asked: PlacedAsked, profile: Profile, share: float, *, row: bool) -> Answer:
    """One plant as understood; ``spacing_m`` is what its share means over the whole ground, None in a row."""
    return {
        "plant": profile.id,
        "share": rounded(share),
        "spacing_m": None if row else rounded(profile.sole_spacing_m.likely / sqrt(share)),
        "share_from": share_told_by(asked.spacing_m, asked.share, profile),
        "sow_week": asked.sow_week,
        "clear_week": asked.clear_week,
        "age_years": asked.age_years,
        "distance_m": asked.distance_m,
        "side": asked.side,
    }


def _plan(question: JudgeQuestion, plants: list[PlantId], shares: list[float], version: str) -> Answer:
    """The plan that asks the same again: what was said, plants by their ids, shares filled in."""
    rows = [
        {**{k: v for k, v in asdict(asked).items() if v is not None}, "plant": plant, "share": share}
        for asked, plant, share in zip(question.plants, plants, shares, strict=True)
    ]
    plan: Answer = {
        "plants": [{k: v for k, v in row.items() if k != "spacing_m"} for row in rows],
        "site": _plan_site(question),
        "given": list(question.given),
        "dataset_version": version,
    }
    if question.setting == "hedge":
        plan["setting"] = "hedge"
        if question.kept_m is not None:
            plan["height_m"] = question.kept_m
    if question.tree is not None:
        plan["tree"] = {"plant": question.tree, **{k: v for k, v in asdict(question.measure).items() if v}}
    return plan


def _plan_site(question: JudgeQuestion) -> Answer:
    """What was said of the site, in the words in which it is asked."""
    site, shown = question.site.site, question.site.as_dict()
    said = {name: shown[name] for name in question.site.given}
    unfrosted = EVERY_MONTH if site.frost_every_month else NO_FROST
    for name in ("last_frost", "first_frost"):
        if name in said and (said[name] is None or site.frost_every_month):
            said[name] = unfrosted
    return said


def _version_note(question: JudgeQuestion, snapshot: Snapshot) -> list[str]:
    asked = question.dataset_version
    if asked is None or asked == snapshot.version:
        return []
    return [f"The plan was made with data set {asked}; this is judged with {snapshot.version}."]


def _told(result: PlantingAnswer) -> Answer:
    """The judgement itself."""
    squeezed = [member.name for member in result.members if member.squeezed]
    return {
        "verdict": result.verdict,
        "saying": result.saying,
        "limiting": limiting_dict(result.limiting),
        "conflicts": [_conflict(conflict) for conflict in result.conflicts],
        "conditions": [condition_dict(condition) for condition in result.conditions],
        "members": [_member(member) for member in result.members],
        "squeezed_out": squeezed,
        "ground": rounded(result.ground),
        "kept": {"value": rounded(result.kept), "note": KEPT_NOTE},
        "jobs": [_job(job) for job in result.jobs],
        "gaps": [_gap(gap) for gap in result.gaps],
        "nitrogen": [nitrogen_dict(gift) for gift in result.nitrogen],
        "benefits": [reason_dict(benefit) for benefit in result.benefits],
        "worst_pair": None if result.worst_pair is None else _pair(result.worst_pair),
        "pairs": [_pair(pair) for pair in result.pairs],
        "measures": {**{k: _round(v) for k, v in asdict(result.measures).items()}, "note": MEASURES_NOTE},
        "score": score_dict(result.score),
        "sureness": sureness_dict(result.sureness),
    }


def _round(value: object) -> object:
    if isinstance(value, tuple):
        return [_round(part) for part in value]
    return round(value, SHARE_DIGITS) if isinstance(value, float) else value


def _member(member: MemberAnswer) -> Answer:
    return {
        "name": member.name,
        "plant": member.plant,
        "overhead": member.overhead,
        "share": rounded(member.share),
        "verdict": member.verdict,
        "squeezed_out": member.squeezed,
        "loss": loss_dict(member.loss),
        "why": limiting_dict(member.why),
        "height_m": rounded(member.height_m),
        "base_m": rounded(member.base_m),
        "weeks": [list(span) for span in member.weeks],
        "flowers": [list(span) for span in member.flowers],
        "harvest": [list(span) for span in member.harvest],
        "light": [_round(share) for share in member.light],
        "roots": [{k: _round(v) for k, v in asdict(layer).items()} for layer in member.layers],
    }


def _conflict(conflict: Conflict) -> Answer:
    return {
        "kind": conflict.kind,
        "of": conflict.of,
        "text": conflict.text,
        "holds_to": conflict.ceiling,
        "lift": conflict.lift,
        "given": conflict.given,
        "lifted": conflict.lifted,
        "records": list(conflict.records),
    }


def _job(job: Job) -> Answer:
    doers = [
        {"plant": d.plant, "text": d.text, "origin": d.origin, "records": list(d.records)} for d in job.by
    ]
    return {"job": job.job, "kind": job.kind, "by": doers}


def _gap(gap: Gap) -> Answer:
    weeks = [list(span) for span in gap.weeks]
    return {"kind": gap.kind, "text": gap.text, "weeks": weeks, "unknown": list(gap.unknown)}


def _pair(pair: PairInSet) -> Answer:
    return {
        "a": pair.a,
        "b": pair.b,
        "verdict": pair.verdict,
        "score": round(pair.score, 1),
        "text": pair.text,
    }
