"""The answer to 'does B do well on the ground after A', in the shape of a pair."""

from api.answers.cautions import Reader, left_out_notes
from api.answers.evidence import rounded
from api.answers.ground_history import history_notes, known_enemies
from api.answers.knowledge import Answer
from api.answers.planted_weeks import set_this_year
from api.answers.rows import all_cautions, pair_row, shown_names
from api.answers.site_rules import gate_notes, with_rules
from api.answers.standing import long_year_notes, of_year, refuse, refuse_sowing, site_notes
from api.questions import PairQuestion
from kb.mixture.answers.succession import judge_follow
from kb.mixture.follow.grown_after import FollowOn, following_crop, timing
from kb.mixture.profile import Profile
from kb.mixture.weeks.as_grown import as_sown
from kb.model import PlantId
from kb.snapshot import Snapshot

CLEARED = "clear_week_a says when it leaves the ground"
HARVESTED = "What becomes of the first was not said: it is taken to be harvested."
NOT_HERE = frozenset({"sharing"})
"""Of a pair's answer, what does not exist for two that never stand together."""


def follow_answer(snapshot: Snapshot, question: PairQuestion) -> Answer:
    """Whether the second does well where the first grew."""
    a = snapshot.profile(snapshot.resolve(question.a))
    b = snapshot.profile(snapshot.resolve(question.b))
    a, notes_a = set_this_year(a, question.setting.sow_week_a)
    b, notes_b = set_this_year(b, question.setting.sow_week_b)
    asked = follow_on(snapshot, a, question)
    site = with_rules(snapshot, question.site.site)
    reader = Reader(site.audience, site.place)
    result = judge_follow(a, b, site, asked, book=snapshot.enemy_book)
    row = pair_row(result, [])
    plants = [PlantId(a.id), PlantId(b.id)]
    grown = as_sown(a, site, asked.sow_week_a)
    time = timing(grown, following_crop(grown, b, site, asked), site, asked)
    said = question.setting
    weeks = (said.sow_week_a, said.sow_week_b, said.follow.clear_week_a)
    notes = [*result.notes, *notes_a, *notes_b, *long_year_notes(*weeks)]
    if question.setting.follow.use_a is None and (result.nitrogen is not None):
        notes.append(HARVESTED)
    return {
        "question": {
            "kind": "pair",
            "a": a.id,
            "b": b.id,
            "site": question.site.as_dict(),
            "setting": "follow",
            "sow_week_a": question.setting.sow_week_a,
            "clear_week_a": None if time.clear_week is None else rounded(time.clear_week),
            "sow_week_b": None if time.start_week is None else rounded(time.start_week),
            "gap_weeks": None if time.gap_weeks is None else rounded(time.gap_weeks),
            "gap_years": asked.gap_years,
            "age_a_years": asked.age_a_years,
            "use_a": asked.use_a,
            "history": sorted(asked.history),
            "given": list(question.setting.given),
        },
        "dataset_version": snapshot.version,
        "cautions": all_cautions(snapshot, plants, reader),
        "names": shown_names(snapshot, plants),
        **{key: value for key, value in row.items() if key not in {"cautions", "reasons", "notes"}},
        **dict.fromkeys(NOT_HERE),
        "root_profiles": {},
        "reasons": row["reasons"],
        "notes": [
            *notes,
            *site_notes(question.site),
            *history_notes(snapshot, question.site.history, plants[1:]),
            *gate_notes(site),
            *left_out_notes(snapshot, plants, reader),
        ],
    }


def follow_on(snapshot: Snapshot, a: Profile, question: PairQuestion) -> FollowOn:
    """How B comes after A, checked against A. Raises BadParameter.

    The week of a lasting B is that in which it is planted; that of a lasting A lies years back.
    """
    asked = question.setting
    follow = asked.follow
    refuse_sowing(a, asked.sow_week_a, "sow_week_a", CLEARED)
    if follow.gap_weeks is not None and follow.clear_week_a is None and not a.annual:
        detail = f"needs clear_week_a too: {a.name} lasts for years and has no week of its own end."
        raise refuse("gap_weeks", detail)
    if asked.age_a_years is not None and a.annual:
        detail = f"acts only on lasting plants; {a.name} is grown for one season."
        raise refuse("age_a_years", detail)
    return FollowOn(
        sow_week_a=of_year(asked.sow_week_a),
        clear_week_a=of_year(follow.clear_week_a),
        sow_week_b=of_year(asked.sow_week_b),
        gap_weeks=follow.gap_weeks,
        gap_years=follow.gap_years,
        age_a_years=asked.age_a_years,
        use_a=follow.use_a or "harvested",
        history=known_enemies(snapshot, question.site.history),
        given=frozenset(asked.given),
    )
