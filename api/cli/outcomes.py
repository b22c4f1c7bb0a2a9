"""The command that holds the model against measured outcomes."""

import os
from pathlib import Path

import click

from api.cli.asking import JSON_OPTION, STORE_OPTION, print_json, warn_of_faults
from api.cli.output import Answer, heading, item, notes, paragraph, table
from kb.mixture.counting import so_many

OURS = "the service"


def _outcomes(*, file: str, as_json: bool, store: str | None) -> None:
    from api.answers.outcomes import outcomes_answer  # noqa: PLC0415 - loads the computation
    from kb.repository import open_repository  # noqa: PLC0415

    path = Path(file)
    if not os.path.isfile(path):  # noqa: PTH113 - False, where Path raises for a name that is too long
        raise click.BadParameter(f"there is no file '{file}'; name a CSV table of outcomes.")
    snapshot = open_repository(store).snapshot()
    warn_of_faults(len(snapshot.faults))
    answer = outcomes_answer(snapshot, path)
    if as_json:
        print_json(answer)
    else:
        show_outcomes(answer)


def show_outcomes(answer: Answer) -> None:
    """Both sets of studies, the nulls, then what could not be judged and which names were matched how."""
    _one_set("Every study", answer["all"], answer["baselines"])
    _one_set("Studies that gave no constants", answer["new_studies"], answer["new_studies"]["baselines"])
    _nulls(answer["nulls"])
    heading(f"Not judged: {so_many(len(answer['not_judged']), 'pair')}")
    for entry in answer["not_judged"]:
        item(f"{' with '.join(entry['pair'])} ({so_many(entry['rows'], 'row')}): {entry['why'].rstrip('.')}.")
    by_common = [name for name in answer["names"] if name["plant"] and name["how"] != "scientific name"]
    if by_common:
        heading("Names matched with the help of the common name")
        for name in by_common:
            item(f"{name['printed']} is {name['plant']}: {name['how']}.")
    notes(answer["notes"])
    paragraph(
        f"Data set {answer['dataset_version']}; {so_many(answer['question']['rows'], 'row')} of outcomes."
    )


def _one_set(title: str, found: Answer, baselines: Answer) -> None:
    heading(
        f"{title}: {so_many(found['n_study_pairs'], 'study-pair')} of {so_many(found['n_pairs'], 'pair')}"
    )
    if not found["n_study_pairs"]:
        paragraph("There is none to measure.")
        return
    lines = {OURS: found, **baselines}
    lines |= {f"  {design} designs": part for design, part in found["by_design"].items()}
    lines |= {f"  by {marks}": part for marks, part in found["by_marks"].items()}
    rows = [
        (name, str(part["n_study_pairs"]), _figure(part["sign"]), _figure(part["rho"]))
        for name, part in lines.items()
    ]
    columns = (("Who is suppressed, said by", "left"), ("n", "right"), ("Sign", "left"), ("rho", "left"))
    table(columns, rows)
    named = found["named"]
    if named["n"]:
        thirds = ", ".join(_number(third) for third in found["sign_by_size_of_prediction"])
        paragraph(
            f"A loser is named for {named['n']} of them, rightly in {_number(named['right'])}. By thirds of "
            f"the size of the prediction, smallest first: {thirds}."
        )
    ranked = [found["concordance"], *found["other_rankings"].values()]
    rows = [(one["by"], str(one["n"]), _number(one["value"]), _number(one["p"])) for one in ranked]
    table((("Ranks by LER inside a study", "left"), ("n", "right"), ("Right", "left"), ("p", "left")), rows)


def _nulls(found: Answer) -> None:
    heading("What such data do not show")
    item(
        f"The same pair in two studies: LER agrees at r {_number(found['ler_between_studies'])}; who is "
        f"suppressed (ln of the partial LERs' ratio) at r {_number(found['ratio_between_studies'])}."
    )
    item(f"LER is above 1 in {_number(found['ler_above_one'])} of study-pairs.")
    for name, rho in found["rho_with_ler"].items():
        item(f"Across studies, {name} and LER: rho {_number(rho)}.")


def _figure(figure: Answer) -> str:
    if figure["low"] is None:
        return _number(figure["value"])
    return f"{_number(figure['value'])} ({_number(figure['low'])} to {_number(figure['high'])})"


def _number(value: float | None) -> str:
    return "-" if value is None else f"{value:.2f}"


COMMANDS: dict[str, click.Command] = {
    "outcomes": click.Command(
        "outcomes",
        callback=_outcomes,
        params=[click.Argument(["file"], metavar="FILE"), JSON_OPTION, STORE_OPTION],
        help=(
            "The model against measured outcomes of growing two plants together.\n\n"
            "FILE is a CSV with the columns species_a, species_b, study, partial_ler_a, partial_ler_b, ler "
            "and, where known, common_a, common_b, doi, design. Prints how often the plant that keeps less "
            "of its yield was named rightly, beside plain baselines on the same pairs, once for every study "
            "and once for those that the constants did not come from."
        ),
    ),
}
