"""Commands that judge: pair, candidates, under."""

from collections.abc import Sequence

import click

from api.cli.asking import question_command
from api.cli.listed import CHECK_FIRST, verdict_word, why
from api.cli.output import (
    GOES_WITHOUT,
    SET_AGAINST,
    Answer,
    cautions,
    first_cautions,
    full_name,
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
from api.pages.judged_words import MOST_IDLE, beside_numbers, changing, idle, idle_words, worth_naming
from api.pages.row_words import ALIKE, LIFTED_ALIKE, held_alike, lifted_alike
from api.pages.telling import unsaid
from api.pages.words import THIN, about, rule_alone, trait_words, tree_metres, upfirst
from kb.mixture.answers.follow_words import BETTER
from kb.mixture.answers.sureness_words import ALL_AGREE, CHANGES_MOST, RULE, TRIALS
from kb.mixture.counting import so_many

SORTED_BY = "Lists are sorted by a cautious reading of the score: doubt pulls it down, never up."
MONTHS = ("Jan", "Feb", "Mar", "Apr", "May", "Jun", "Jul", "Aug", "Sep", "Oct", "Nov", "Dec")
BESIDE = {"follow": "{a}, then {b}", "under": "{b} under {a}"}
"""How two stand to each other, where it is not side by side."""
STANDS = {"lone": "alone", "row": "in a row", "closed": "among others, crowns touching"}
SIDES = "NESW"
WHY = "What it brings, what limits, what would change it"
MOST_CONDITIONS = 8
"""Conditions that each change the verdict, as far as they are shown; JSON holds all."""
SUMMER = {True: (11, 0, 1), False: (5, 6, 7)}
"""Months (0-11) of most light, by whether the site is south of the equator."""


def sureness_words(sureness: Answer, answer: Answer) -> str:
    """How sure, and what to look up to be surer, as far as the saying before it has not said so."""
    alone, saying = rule_alone(sureness), str(answer.get("saying", ""))
    said = ["A rule decides, which the numbers do not move."] if alone and RULE not in saying else []
    if TRIALS not in saying and not alone:
        agreed = about(sureness["share_of_draws"]).replace(THIN, " ")
        said.append(
            "With the numbers that are in doubt moved within their ranges, many times over, "
            f"{agreed} of the tries gave the same word."
        )
    moves = sureness["deciding_trait"] and not alone and sureness["word"] != "sure"
    if moves and CHANGES_MOST not in saying and sureness["share_of_draws"] < ALL_AGREE:
        plant = name_of(answer, sureness["of"])
        trait = trait_words(sureness["deciding_trait"])
        said.append(f"Checking the {trait} of {plant} would change the answer most.")
    return " ".join(said)


def condition_words(condition: Answer) -> str:
    """What would change the verdict, and to what."""
    met, unmet = verdict_word(condition["verdict_if_met"]), verdict_word(condition["verdict_if_unmet"])
    said = {True: "As asked, it is so.", False: "As asked, it is not so.", None: ""}[condition["met"]]
    how = f" (--given {condition['given']})" if condition["given"] and condition["met"] is None else ""
    text = str(condition["text"]).rstrip(".")
    if met == unmet:
        told = f"also: {text}. Alone this does not change the verdict."
    elif text.startswith(CHECK_FIRST):
        told = f"{text}. If that is no trouble: {met}; if it is: {unmet}."
    elif text.startswith(BETTER):
        told = f"{text}: {met}."
    else:
        told = f"{text}: {met}; otherwise {unmet}."
    return f"{told}{how} {said}".rstrip()


def show_conditions(conditions: Sequence[Answer], *, said: str = "") -> None:
    """What would change it, one by one; then the first of what changes nothing by itself.

    ``said`` is what limits, which stands above and is not repeated.
    """
    if not conditions:
        return
    heading("What would change it")
    conditions = [{**c, "text": unsaid(str(c["text"]), [said] if said else [])} for c in conditions]
    deciding, others = changing(conditions), idle(conditions)
    if len(others) == 1:
        deciding, others = [*deciding, *others], []
    for condition in deciding[:MOST_CONDITIONS]:
        item(condition_words(condition))
    if len(deciding) > MOST_CONDITIONS:
        item(f"and {len(deciding) - MOST_CONDITIONS} more, with --json")
    left = idle_words(others)
    if left:
        item("No one of these alone changes the verdict:")
    for words in left[:MOST_IDLE]:
        item(words, indent=3)
    if len(left) > MOST_IDLE:
        item(f"and {len(left) - MOST_IDLE} more, with --json", indent=3)


def show_pair(answer: Answer) -> None:
    """Cautions, the saying, what would change it, then the numbers and their evidence."""
    rest = first_cautions(answer)
    a, b = answer["a"], answer["b"]
    title = BESIDE.get(answer["question"].get("setting", "bed"), "{a} with {b}")
    both = title.format(a=full_name(answer, a), b=full_name(answer, b))
    heading(f"{both}: {verdict_word(answer['verdict'])}")
    if answer["saying"]:
        paragraph(answer["saying"])
    if told := sureness_words(answer["sureness"], answer):
        paragraph(told)
    show_conditions(answer["conditions"], said=str((answer["limiting"] or {}).get("text", "")))
    _losses(answer)
    gains = [benefit["text"] for benefit in answer["benefits"]]
    reasons(answer["benefits"], "What they gain")
    gift = answer["nitrogen"]
    # Of a pair the gain above says it; of what comes after, only its share of what the second takes up.
    if gift and worth_naming(gift) and answer["question"].get("setting") == "follow":
        low, high = gift["g_per_m2"]
        giver, taker = name_of(answer, gift["from"]), name_of(answer, gift["to"])
        item(f"{giver} leaves {taker} {low:.1f} to {high:.1f} g/m2 of nitrogen {gift['when']}")
    reasons([reason for reason in answer["reasons"] if reason["text"] not in gains])
    notes(answer["notes"])
    more_cautions(answer, rest)
    _question(answer)


def _losses(answer: Answer) -> None:
    heading(GOES_WITHOUT)
    rows = [
        (name_of(answer, plant), *(percent(loss[cause]) for cause in ("roots", "light", "enemies", "all")))
        for plant, loss in answer["loss"].items()
    ]
    sides = [(cause, "right") for cause in ("Roots", "Light", "Enemies", "Together")]
    table([("Plant", "left"), *sides], rows)
    if answer["question"].get("setting") != "follow":
        paragraph(SET_AGAINST)
    if beside := beside_numbers(answer):
        paragraph(beside)
    score = answer["score"]
    together = answer["sharing"]
    same = (
        ""
        if together is None
        else f"{percent(together)} of what they use they want at the same depth in the same weeks. "
    )
    paragraph(f"{same}Score {score_words(score)}, for sorting only.")
    if answer["suppressed_note"]:
        paragraph(upfirst(str(answer["suppressed_note"])))


def _question(answer: Answer) -> None:
    question = answer["question"]
    heading("As understood")
    paragraph(site_line(question))
    if question.get("setting") == "bed":
        shares = f"{percent(question['share_a'])} and {percent(question['share_b'])} of the ground"
        paragraph(f"In one bed: {shares}.")
    elif question.get("setting") == "hedge":
        shares = f"{percent(question['share_a'])} and {percent(question['share_b'])} of its length"
        paragraph(f"In one row of hedge{kept_words(question)}: {shares}.")
    elif question.get("setting") == "under":
        side = f", {question['side']} side" if question["side"] else ""
        paragraph(f"Under the tree, {question['distance_m']:g} m from its trunk{side}.")
        paragraph(tree_words(question["tree"]))
    elif question.get("setting") == "follow":
        paragraph(_one_after_other(question))
    if grown := _grown(question):
        paragraph(f"{grown[0].upper()}{grown[1:]}.")
    if question.get("given"):
        paragraph(f"You will provide: {', '.join(question['given'])}.")
    paragraph(f"Data set {answer['dataset_version']}. Each [id] opens with: traitbed records --record ID")


def _grown(question: Answer) -> str:
    """When each was said to be sown and how old it is; of a follow-on that is told with its dates."""
    if question.get("setting") == "follow":
        return ""
    said = [
        f"the {which} {words(question[field])}"
        for end, which in (("a", "first"), ("b", "second"))
        for field, words in ((f"sow_week_{end}", sown_words), (f"age_{end}_years", age_words))
        if question.get(field) is not None
    ]
    return ", ".join(said)


def sown_words(week: float) -> str:
    return f"sown in week {week}"


def age_words(years: float) -> str:
    return f"{so_many(years, 'year')} old"


def kept_words(question: Answer) -> str:
    """How high a hedge is kept."""
    return "" if question["height_m"] is None else f", kept {question['height_m']:g} m high"


def _one_after_other(question: Answer) -> str:
    """When the first leaves and the second starts, and what becomes of the first."""
    clear, start, years = question["clear_week_a"], question["sow_week_b"], question["gap_years"]
    said = [f"One after the other: the first is {question['use_a'].replace('-', ' ')}"]
    if question["use_a"] != "harvested" and clear is not None and years is None:
        said[0] += f" about week {clear:.0f}"
        clear = None
    if question["sow_week_a"] is not None:
        said.append(f"it is {sown_words(question['sow_week_a'])}")
    if question["age_a_years"] is not None:
        said.append(f"it stood for {so_many(question['age_a_years'], 'year')}")
    if years is not None:
        said.append(f"{so_many(years, 'year')} between them")
    else:
        said += [f"cleared about week {clear:.0f}"] if clear is not None else []
        said += [f"the second starts about week {start:.0f}"] if start is not None else []
    if question["history"]:
        said.append(f"known in this ground: {', '.join(question['history'])}")
    return f"{'; '.join(said)}."


def tree_words(tree: Answer) -> str:
    age = f", {so_many(tree['age_years'], 'year')} after planting" if tree["age_years"] is not None else ""
    return (
        f"The tree: {tree_metres(tree, 'height_m')} m high, crown {tree_metres(tree, 'crown_radius_m', 2)} m "
        f"wide, leaves from {tree_metres(tree, 'crown_base_m')} m up, leaf area index "
        f"{tree['leaf_area_index']:g} (m2 of leaf over each m2 of ground), stands "
        f"{STANDS[tree['stand']]}{age}."
    )


def show_candidates(answer: Answer) -> None:
    cautions(answer, whole_for=answer["plant"])
    heading(f"What goes well with {full_name(answer, answer['plant'])}")
    for reason in answer["reasons"]:
        paragraph(upfirst(reason["text"]))
    alike = held_alike(answer["candidates"], answer["plant"])
    if alike:
        paragraph(ALIKE.format(alike))
    lift = lifted_alike(answer["candidates"])
    if lift:
        paragraph(LIFTED_ALIKE.format(lift.rstrip(".")))
    rows = [
        (
            name_of(answer, row["b"]),
            verdict_word(row["verdict"]),
            score_words(row["score"]),
            row["sureness"]["word"],
            why(row, alike, lift),
        )
        for row in answer["candidates"]
    ]
    columns = ["Plant", "Verdict", "Score", "How sure", WHY]
    table([(title, "left") for title in columns], rows)
    paragraph(f"{len(rows)} of {so_many(answer['total'], 'plant')}, best first. {SORTED_BY}")
    if answer["next"]:
        paragraph(f"More: add --after {answer['next']}")
    notes(answer["notes"])
    _question(answer)


def show_under(answer: Answer) -> None:
    """Cautions, light and root draw by place, then the plants ring by ring."""
    cautions(answer, whole_for=answer["tree"]["id"])
    heading(f"Under {full_name(answer, answer['tree']['id'])}")
    paragraph(tree_words(answer["tree"]))
    alike = held_alike([row for ring in answer["rings"] for row in ring["plants"]], answer["tree"]["id"])
    if alike:
        paragraph(ALIKE.format(alike))
    for year in dict.fromkeys(ring["year"] for ring in answer["rings"]):
        rings = [ring for ring in answer["rings"] if ring["year"] == year]
        when = "now" if year == 0 else f"in {so_many(year, 'year')}"
        size = next((s for s in answer["later"] if s["year"] == year and year), None)
        grown = f" ({size['height_m']:.1f} m high, crown {2 * size['crown_radius_m']:.1f} m)" if size else ""
        heading(f"Light {when}{grown}, % of open ground by month; root draw, mean under the crown = 100")
        _light(rings)
        for name in dict.fromkeys(ring["ring"] for ring in rings):
            _plants([ring for ring in rings if ring["ring"] == name], answer, when, alike)
    paragraph(
        "Light % is that of the three brightest months. Until: the year from now in which it no longer "
        "fits where it stands; - where it fits for 30 years. Each place shows the best of "
        f"{so_many(max((ring['total'] for ring in answer['rings']), default=0), 'plant')}."
    )
    reasons(answer["reasons"], "What the tree rests on")
    notes(answer["notes"])
    _question(answer)


def _light(rings: Sequence[Answer]) -> None:
    """One line a place; a ring is named on its first line."""
    click.echo(f"{'':23}{''.join(f'{month:>4}' for month in MONTHS)}  Roots")
    named = ""
    for ring in rings:
        place = "" if ring["ring"] == named else f"{ring['ring']} {ring['from_m']:.1f}-{ring['to_m']:.1f} m"
        named = str(ring["ring"])
        light = "".join(f"{100 * share:4.0f}" for share in ring["light"])
        click.echo(f"{place:21}{ring['side'] or '':2}{light}  {100 * ring['root_draw']:5.0f}")


def _plants(rings: Sequence[Answer], answer: Answer, when: str, alike: str | None) -> None:
    """One line per plant and verdict in a ring; the sides on which it holds beside it."""
    months = SUMMER[answer["question"]["site"]["latitude"] < 0]
    lines: dict[tuple[str, str], list[tuple[Answer, Answer]]] = {}
    for ring in rings:
        for row in ring["plants"]:
            lines.setdefault((row["b"], row["verdict"]), []).append((ring, row))
    heading(f"{rings[0]['ring'].capitalize()}, {rings[0]['from_m']:.1f} to {rings[0]['to_m']:.1f} m, {when}")
    lift = lifted_alike([row for ring in rings for row in ring["plants"]])
    if lift:
        paragraph(LIFTED_ALIKE.format(lift.rstrip(".")))
    rows = []
    for (plant, verdict), places in lines.items():
        sides = sorted((ring["side"] or "" for ring, _ in places), key=SIDES.find)
        light = [sum(ring["light"][m] for m in months) / len(months) for ring, _ in places]
        stops = sorted({row["stops_fitting_year"] for _, row in places} - {None})
        rows.append(
            (
                name_of(answer, plant),
                "all" if len(sides) == len(SIDES) else " ".join(sides),
                verdict_word(verdict),
                _span(light),
                f"year {stops[0]:g}" if stops else "-",
                why(places[0][1], alike, lift),
            )
        )
    columns = ("Plant", "Side", "Verdict", "Light %", "Until", WHY)
    table([(title, "left") for title in columns], rows)


def _span(shares: Sequence[float]) -> str:
    low, high = round(100 * min(shares)), round(100 * max(shares))
    return f"{low}" if low == high else f"{low}-{high}"


COMMANDS: dict[str, click.Command] = {
    "pair": question_command(
        "pair",
        "pair",
        arguments=("a", "b"),
        show=show_pair,
        help_text=(
            "Do these two fit: in one bed, B under the tree A (--setting under), or B on the ground after A "
            "(--setting follow)?\n\n"
            "Answers with cautions, a verdict, what limits, what would change it, and the records behind it."
        ),
    ),
    "candidates": question_command(
        "candidates",
        "candidates",
        arguments=("plant",),
        show=show_candidates,
        help_text="What goes well with this plant: ranked, with what limits each.",
    ),
    "under": question_command(
        "under",
        "under",
        arguments=("plant",),
        show=show_under,
        help_text=(
            "What fits under or near this tree: light by month, the tree's root draw, and plants, by ring "
            "and side, now and in later years.\n\nWhat is not measured is taken from the tree's records "
            "and said so."
        ),
    ),
}
