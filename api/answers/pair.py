"""The answer to 'do these two fit'."""

from api.answers.cautions import Reader, left_out_notes
from api.answers.ground import HALF_EACH
from api.answers.ground_history import history_notes
from api.answers.knowledge import Answer
from api.answers.planted_weeks import first_seasons, planted_together, set_this_year
from api.answers.roots import root_profile
from api.answers.rows import all_cautions, pair_row, shown_names
from api.answers.site_rules import gate_notes, with_rules
from api.answers.site_words import site_notes
from api.answers.standing import stand
from api.answers.stocks import stock_notes, tree_named
from api.answers.tree_in_bed import trees_in_bed
from api.questions import PairQuestion
from kb.mixture.answers.pair import judge_pair
from kb.mixture.bodies.trained import on_its_frame
from kb.model import PlantId
from kb.snapshot import Snapshot

WEEKS = ("sow_week_a", "sow_week_b")

FULLER = {0.75: "three quarters of a full stand", 1.0: "a full stand"}
"""Shares of a full stand in words (`kb.mixture.judging.fuller.FULLER_SHARES`)."""


def pair_answer(snapshot: Snapshot, question: PairQuestion) -> Answer:
    """Whether two plants fit, and why."""
    if question.setting.setting == "follow":
        from api.answers.follow import follow_answer  # noqa: PLC0415 - only where one follows another

        return follow_answer(snapshot, question)
    a = snapshot.profile(tree_named(snapshot, question.a, question.setting.tree.stock))
    b = snapshot.profile(snapshot.resolve(question.b))
    site = with_rules(snapshot, question.site.site, question.site.history)
    reader = Reader(site.audience, site.place)
    asked, notes_weeks = planted_together(a, b, question.setting, site)
    a, notes_a = set_this_year(a, asked.sow_week_a)
    b, notes_b = set_this_year(b, asked.sow_week_b)
    if asked.setting == "under":
        a = on_its_frame(a)
    (a, first_a), (b, first_b), asked = first_seasons(a, b, said := asked, site)
    standing = stand(a, b, asked, parameter="a")
    halves = question.setting.setting == "bed" and standing.understood.get("share_a_from") == HALF_EACH
    where, edge, book = standing.arrangement, standing.at_edge, snapshot.enemy_book
    result = judge_pair(a, b, site, where, book=book, fuller=halves, at_edge=edge)
    row = pair_row(result, [])
    plants = [PlantId(a.id), PlantId(b.id)]
    notes = [*result.notes, *notes_weeks, *notes_a, *notes_b]
    notes += [*first_a, *first_b, *standing.notes, *site_notes(question.site)]
    if question.setting.setting == "under":
        notes += stock_notes(snapshot, a, question.setting.tree)
    if result.fuller is not None:
        share, word = result.fuller
        notes.append(
            f"{result.verdict.capitalize()} holds with half of a full stand of each; planted closer, with "
            f"{FULLER[share]} of each, it is {word}."
        )
    notes += history_notes(snapshot, question.site.history, plants)
    return {
        "question": {
            "kind": "pair",
            "a": a.id,
            "b": b.id,
            "site": question.site.as_dict(),
            **standing.understood,
            **{week: getattr(said, week) for week in WEEKS if week in standing.understood},
        },
        "dataset_version": snapshot.version,
        "cautions": all_cautions(snapshot, plants, reader),
        "names": shown_names(snapshot, plants),
        **{key: value for key, value in row.items() if key not in {"cautions", "reasons", "notes"}},
        "saying": " ".join((result.saying, *trees_in_bed((a, b), asked.setting))),
        "root_profiles": {plant.id: root_profile(plant) for plant in (a, b)},
        "reasons": row["reasons"],
        "notes": [*notes, *gate_notes(site), *left_out_notes(snapshot, plants, reader)],
    }
