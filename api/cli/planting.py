"""The command that judges a whole planting."""

import sys
from collections.abc import Sequence
from pathlib import Path
from typing import Any

import click

from api.cli.asking import (
    JSON_OPTION,
    STORE_OPTION,
    QuestionCommand,
    answer_and_show,
    ask_and_show,
    items_of,
    options_of,
)
from api.cli.judged import MONTHS, kept_words, show_conditions, sureness_words
from api.cli.listed import verdict_word
from api.cli.output import (
    GOES_WITHOUT,
    SET_AGAINST,
    Answer,
    first_cautions,
    heading,
    item,
    more_cautions,
    name_of,
    notes,
    paragraph,
    percent,
    reasons,
    score_words,
    site_line,
    table,
)
from api.pages.judged_words import (
    beside_numbers,
    conflicts_at_once,
    harvest_weeks,
    pairs_at_once,
    shut_out,
    whys_at_once,
)
from api.pages.words import job_origin, tree_metres
from kb.errors import BadParameter, ParameterFault
from kb.mixture.counting import listed

MOST_PAIRS = 6
MOST_CONFLICTS = 10
"""Conflicts that are shown, the hardest first, as on the page; JSON holds all."""
LARGEST_READ = 1_000_000
"""Bytes of a file that is taken for a plan; a plan has far fewer, and a larger one is refused as it is."""
LAYERS = ("0-15 cm", "15-30 cm", "30-60 cm", "deeper")


def show_planting(answer: Answer) -> None:
    """Cautions, the verdict on the whole, what each gets, jobs, gaps, conflicts, pairs, evidence."""
    rest = first_cautions(answer)
    names = dict.fromkeys(name_of(answer, member["plant"]) for member in answer["members"])
    heading(f"{', '.join(names)}: {verdict_word(answer['verdict'])}")
    paragraph(answer["saying"])
    squeezed = [name_of(answer, name) for name in answer["squeezed_out"]]
    shut = [name_of(answer, plant) for plant in shut_out(answer)]
    said = f"Squeezed out by roots or shade: {', '.join(squeezed) or 'nobody'}."
    paragraph(f"{said} Shut out by a conflict: {', '.join(shut)}." if shut else said)
    if told := sureness_words(answer["sureness"], answer):
        paragraph(told)
    show_conditions(answer["conditions"])
    _members(answer)
    _light(answer)
    _layers(answer)
    _jobs(answer)
    _conflicts(answer)
    _pairs(answer)
    gains = [benefit["text"] for benefit in answer["benefits"]]
    reasons(answer["benefits"], "What they give each other")
    reasons([reason for reason in answer["reasons"] if reason["text"] not in gains])
    _measures(answer)
    notes(answer["notes"])
    more_cautions(answer, rest)
    _understood(answer["question"], answer)


def _members(answer: Answer) -> None:
    heading(GOES_WITHOUT)
    rows = []
    for member in answer["members"]:
        losses = [percent(member["loss"][cause]) for cause in ("roots", "light", "enemies", "all")]
        ground = "tree" if member["overhead"] else percent(member["share"])
        rows.append((name_of(answer, member["name"]), ground, *losses, verdict_word(member["verdict"])))
    sides = [(title, "right") for title in ("Ground", "Roots", "Light", "Enemies", "Together")]
    table([("Plant", "left"), *sides, ("Verdict", "left")], rows)
    paragraph(SET_AGAINST)
    beside = beside_numbers(answer)
    if beside:
        paragraph(beside)
    for why in whys_at_once(answer):
        if why.rstrip(".") not in beside:
            item(why)
    score, kept = answer["score"], answer["kept"]
    paragraph(
        f"The plants have {percent(answer['ground'])} of the ground and keep {percent(kept['value'])} of "
        f"stands of their own (no yield). Score {score_words(score)}, "
        f"for sorting only."
    )


def _light(answer: Answer) -> None:
    under = answer["question"].get("tree") is not None
    against = "of open light" if under else "of what it catches in a stand of its own"
    heading(f"Light at the leaf of each, % {against}, by month (- where it does not grow)")
    click.echo(f"{'':20}{''.join(f'{month:>4}' for month in MONTHS)}")
    for member in answer["members"]:
        light = "".join("   -" if share is None else f"{100 * share:4.0f}" for share in member["light"])
        click.echo(f"{name_of(answer, member['name'])[:19]:20}{light}")


def _layers(answer: Answer) -> None:
    heading("Root layers: share of its draw there > how much of that it finds")
    rows = [
        (
            name_of(answer, member["name"]),
            *(
                f"{percent(layer['wants'])} > {percent(layer['gets'])}" if layer["wants"] >= 0.005 else "-"
                for layer in member["roots"]
            ),
        )
        for member in answer["members"]
    ]
    table([("Plant", "left"), *((layer, "right") for layer in LAYERS)], rows)


def _jobs(answer: Answer) -> None:
    heading("Jobs, and who does them")
    for job in answer["jobs"]:
        doers: dict[str, list[str]] = {}  # what is said of several alike is said once
        for doer in job["by"]:
            rests = job_origin(job["job"], doer["origin"])
            known = f" ({rests})" if rests else ""
            doers.setdefault(f"{doer['text']}{known}", []).append(name_of(answer, doer["plant"]))
        by = [f"{listed(names)}: {text}" for text, names in doers.items()]
        item(f"{job['job']}: {'; '.join(by) or 'nobody on record'}")
    if answer["gaps"]:
        heading("Gaps")
        for gap in answer["gaps"]:
            unknown = ", ".join(name_of(answer, plant) for plant in gap["unknown"])
            item(gap["text"] + (f" Not on record for {unknown}." if unknown else ""))


def _conflicts(answer: Answer) -> None:
    open_ones = conflicts_at_once(answer)
    if open_ones:
        heading("Conflicts that nothing lifts yet")
    for conflict in open_ones[:MOST_CONFLICTS]:
        lift = f" Lifted if {conflict['lift']}." if conflict["lift"] else ""
        item(f"{verdict_word(conflict['holds_to'])}: {conflict['text']}{lift}")
    if len(open_ones) > MOST_CONFLICTS:
        paragraph(f"{len(open_ones) - MOST_CONFLICTS} more with --json.")


def _pairs(answer: Answer) -> None:
    if not answer["pairs"]:
        return
    heading("The pairs in it, each without the others, the worst first")
    told = pairs_at_once(answer)
    rows = [(pair, verdict_word(verdict), text) for pair, verdict, text in told[:MOST_PAIRS]]
    table([("Pair", "left"), ("Verdict", "left"), ("What tells most", "left")], rows)
    if len(told) > MOST_PAIRS:
        paragraph(f"{len(told) - MOST_PAIRS} more with --json.")


def _measures(answer: Answer) -> None:
    told = answer["measures"]
    heading("Measures that describe and do not judge")
    draw = ", ".join(
        f"{name} {percent(share)}" for name, share in zip(LAYERS, told["root_draw"], strict=True)
    )
    item(f"all root draw: {draw}; evenness {told['evenness']:.2f}")
    item(f"half the ground under leaf in {percent(told['covered'])} of {told['growing_weeks']} growing weeks")
    item(
        f"weeks in flower {told['weeks_in_flower']} of {told['bloom_weeks']}; of harvest "
        f"{harvest_weeks(answer)}"
    )
    item(
        f"families {told['families']:.1f} (effective number); variety of kinds {told['diversity']:.2f} "
        f"(Rao's Q, at most {told['diversity_most']:.2f} for so many)"
    )


def _understood(question: Answer, answer: Answer) -> None:
    heading("As understood")
    paragraph(site_line(question))
    for row in question["plants"]:
        ground = "row" if question["setting"] == "hedge" else "ground"
        said = [f"{percent(row['share'])} of the {ground} ({row['share_from']})"]
        if row["spacing_m"] is not None:
            said.append(f"{row['spacing_m']:.2g} m apart")
        said += [
            f"{words} {row[field]}"
            for field, words in (
                ("sow_week", "sown in week"),
                ("clear_week", "cleared in week"),
                ("age_years", "age in years"),
                ("side", "on side"),
            )
            if row[field] is not None
        ]
        said += [f"{row['distance_m']:g} m from the trunk"] if row["distance_m"] is not None else []
        item(f"{name_of(answer, row['plant'])}: {', '.join(said)}")
    if question["setting"] == "hedge":
        item(f"all in one row of hedge{kept_words(question)}")
    tree = question["tree"]
    if tree:
        item(
            f"under {name_of(answer, tree['id'])}, {tree_metres(tree, 'height_m')} m high, crown "
            f"{tree_metres(tree, 'crown_radius_m', 2)} m wide"
        )
    if question["given"]:
        paragraph(f"You provide: {', '.join(question['given'])}.")


def _read(path: str) -> bytes:
    """The plan's bytes; ``-`` reads them from the input."""
    try:
        if path == "-":
            return sys.stdin.buffer.read(LARGEST_READ)
        with Path(path).open("rb") as file:
            return file.read(LARGEST_READ)
    except OSError as fault:
        detail = f"'{path}' cannot be read ({fault.strerror}); name a plan in JSON."
        raise BadParameter((ParameterFault("plan", detail),)) from None


def _judge(*, plant: Sequence[str], plan: str | None, as_json: bool, store: str | None, **given: Any) -> None:
    items = [("plant", name) for name in plant] + items_of(given)
    if plan is None:
        ask_and_show("judge", items, as_json=as_json, store=store, show=show_planting)
        return
    if items:
        detail = (
            "holds the whole question; say all of it in the plan, and give no names or options beside it."
        )
        raise BadParameter((ParameterFault("plan", detail),))
    from api.plans import read_plan  # noqa: PLC0415 - loaded when a plan is really read

    answer_and_show(read_plan(_read(plan)), as_json=as_json, store=store, show=show_planting)


COMMANDS: dict[str, click.Command] = {
    "judge": QuestionCommand(
        question="judge",
        name="judge",
        params=[
            click.Argument(["plant"], metavar="NAME...", nargs=-1),
            *options_of("judge", ("plant",)),
            click.Option(
                ["--plan"], metavar="FILE", help="A plan in JSON instead of names; - reads it from input."
            ),
            JSON_OPTION,
            STORE_OPTION,
        ],
        callback=_judge,
        help=(
            "Does a whole planting fit together: what each plant gets of light and of each root layer, who "
            "is squeezed out, which jobs are done, what is missing?\n\n"
            "Options of each plant are repeated in the order of the names: judge maize squash --share 0.5 "
            "--share 0.4 --sow-week 20 --sow-week -."
        ),
    ),
}
