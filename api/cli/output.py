"""Answers as readable text: 80 columns, no meaning in colour, cautions before everything."""

import io
import textwrap
from collections import Counter
from collections.abc import Iterable, Mapping, Sequence
from typing import Any

import click
from rich.box import SIMPLE_HEAD
from rich.console import Console
from rich.table import Table
from rich.text import Text

from api.answers.cautions import ORDER
from api.cli.faults import in_options
from api.pages.caution_words import caution_text
from api.pages.words import CAUTION_KIND, plain, yearly_date
from api.site_values import EVERY_MONTH, NO_FROST
from kb.letters import visible
from kb.mixture.counting import so_many
from kb.mixture.relatedness import ENEMY_WEIGHT
from kb.namespaces import BASE

Answer = Mapping[str, Any]
WIDTH = 80
NONE_KIND = "none-on-record"
WORK_KIND = "site-work"
HEARD_FIRST = 3
"""Of so many kinds, those an audience needs first, every caution stands before the answer (judgement)."""
RECORDS_SHOWN = 3
GOES_WITHOUT = "What each goes without by roots and light, and how likely it shares enemies"
SET_AGAINST = (
    "Roots and light are set against ground of its own; enemies are not, since a plant shares all of them "
    f"with its own kind. They may not come: together counts {ENEMY_WEIGHT:g} of their chance."
)
"""Heading of the losses, and what they are losses against."""


def heading(text: str) -> None:
    """A line that begins a part of the answer; bold on a terminal, set off by a line anywhere."""
    click.echo()
    for line in textwrap.wrap(visible(text), WIDTH):
        click.secho(line, bold=True)


def paragraph(text: str, *, indent: int = 0) -> None:
    margin = " " * indent
    click.echo(_wrapped(text, margin, margin))


def item(text: str, *, indent: int = 0) -> None:
    """One entry of a list, its further lines set in."""
    margin = " " * indent
    click.echo(_wrapped(text, f"{margin} - ", f"{margin}   "))


def _wrapped(text: str, first: str, rest: str) -> str:
    """Wrapped between words; ids and addresses are kept whole, so that they can be copied."""
    return textwrap.fill(
        visible(text),
        WIDTH,
        initial_indent=first,
        subsequent_indent=rest,
        break_long_words=False,
        break_on_hyphens=False,
    )


def table(columns: Sequence[tuple[str, str]], rows: Iterable[Sequence[str]]) -> None:
    """A table of at most 80 columns; a column is (title, ``left``, ``right`` or ``whole``).

    ``whole`` cells are never broken, so that ids can be copied.
    """
    shown = Table(box=SIMPLE_HEAD, pad_edge=False, padding=(0, 1))
    for title, side in columns:
        shown.add_column(
            title,
            justify="right" if side == "right" else "left",
            no_wrap=side == "whole",
            overflow="fold",
        )
    for row in rows:
        shown.add_row(*(Text(visible(cell)) for cell in row))
    text = io.StringIO()
    Console(file=text, width=WIDTH, highlight=False, markup=False, emoji=False).print(shown)
    for line in text.getvalue().splitlines():
        if line.strip():
            click.echo(line.rstrip())


def name_of(answer: Answer, plant: str | None) -> str:
    """What a plant is called in this answer."""
    if plant is None:
        return ""
    plant_id, twin, _ = plant.partition("#")
    names = answer.get("names", {})
    found = names.get(plant_id) if isinstance(names, Mapping) else None
    if not isinstance(found, Mapping):
        return plant
    name = str(found.get("common") or found.get("accepted") or plant_id)
    return f"{name} (the other)" if twin else name


def full_name(answer: Answer, plant: str) -> str:
    """Common and scientific name."""
    found = answer.get("names", {}).get(plant) or {}
    common, accepted = found.get("common"), found.get("accepted") or plant
    return f"{common} ({accepted})" if common else str(accepted)


def short_id(record: str) -> str:
    """The id of a record, as ``traitbed records --record`` takes it."""
    return record.removeprefix(BASE).removeprefix("record.")


def evidence(records: Sequence[str]) -> str:
    """The records behind a sentence, in brackets."""
    if not records:
        return ""
    shown = ", ".join(short_id(record) for record in records[:RECORDS_SHOWN])
    more = f" and {len(records) - RECORDS_SHOWN} more" if len(records) > RECORDS_SHOWN else ""
    return f" [{shown}{more}]"


def cautions(
    answer: Answer,
    *,
    whole_for: str | None = None,
    told: Sequence[Answer] | None = None,
    title: str = "Cautions",
) -> None:
    """All cautions of the answer, or those ``told``, plant by plant; those without one are named together.

    In a list of many plants the words are given for one (``whole_for``); for the others each kind of
    caution is named, with the command that shows its words.
    """
    told = answer["cautions"] if told is None else told
    work = [c for c in told if c["kind"] == WORK_KIND]
    without = [c["plant"] for c in told if c["kind"] == NONE_KIND]
    heading(title)
    for caution in work:
        item(caution["text"])
    named: dict[str, list[str]] = {}
    whole: dict[str, list[str]] = {}
    for caution in told:
        if caution["kind"] in {WORK_KIND, NONE_KIND}:
            continue
        if whole_for in {None, caution["plant"]}:
            whole.setdefault(_caution(answer, caution), []).extend([caution["id"]] if caution["id"] else [])
        else:
            named.setdefault(caution["plant"], []).append(caution_kind(caution))
    for said, ids in whole.items():
        item(f"{said}{evidence(ids)}")
    for plant, kinds in named.items():
        said = ", ".join(dict.fromkeys(kinds))
        item(f"{name_of(answer, plant)}: {said}. Read before planting: traitbed plant {plant}")
    if without == [whole_for]:
        item(next(caution["text"] for caution in told if caution["kind"] == NONE_KIND))
    elif without:
        names = ", ".join(dict.fromkeys(name_of(answer, plant) for plant in without))
        item(f"No caution on record for {names}; that is not the same as safe.")


def first_cautions(answer: Answer) -> list[Answer]:
    """What to read before the answer; gives the rest, for `more_cautions` after it.

    Of the kinds that the audience has to hear first everything, of the others the first of each plant.
    """
    order = ORDER[answer["question"]["site"]["audience"]]
    first: list[Answer] = []
    rest: list[Answer] = []
    seen: set[tuple[str, str]] = set()
    for caution in answer["cautions"]:
        of = (caution["plant"], caution["kind"])
        later = caution["kind"] in order[HEARD_FIRST:] and of in seen
        (rest if later else first).append(caution)
        seen.add(of)
    cautions(answer, told=first)
    counts = Counter((name_of(answer, c["plant"]), caution_kind(c)) for c in rest)
    if counts:
        said = ", ".join(f"{n} of {name} ({kind})" for (name, kind), n in counts.items())
        item(f"More cautions stand below the answer: {said}.")
    return rest


def more_cautions(answer: Answer, rest: Sequence[Answer]) -> None:
    """The cautions that `first_cautions` left for below the answer."""
    if rest:
        cautions(answer, told=rest, title="More cautions")


def caution_kind(caution: Answer) -> str:
    """What a kind of caution is called, as on the pages."""
    kind = str(caution["kind"])
    return CAUTION_KIND.get(kind, plain(kind)).lower()


def _caution(answer: Answer, caution: Answer) -> str:
    where = (
        f" ({caution['place']}{', ' + caution['as_of'] if caution['as_of'] else ''})"
        if caution["place"]
        else ""
    )
    advice = f" {caution['advice']}" if caution.get("advice") else ""
    named = "".join(
        f" {words}: {caution[part]}."
        for part, words in (("lookalike", "Looks like"), ("group", "At risk"))
        if caution.get(part) and caution[part] not in caution["text"]
    )
    advice = named + advice
    if caution.get("basis") == "recalled":
        advice += " Recalled from memory, not checked."
    of = f"{name_of(answer, caution['plant'])}, {caution_kind(caution)}{where}"
    return f"{of}: {caution_text(caution)}{advice}"


def reasons(told: Sequence[Answer], title: str = "Reasons") -> None:
    if told:
        heading(title)
        for reason in told:
            item(f"{reason['kind']}: {reason['text']}{evidence(reason['records'])}")


def notes(told: Sequence[str]) -> None:
    if told:
        heading("What was not known or was assumed")
        for note in told:
            item(in_options(note))


def percent(share: float | None) -> str:
    return "-" if share is None else f"{round(100 * share)} %"


def score_words(score: Answer) -> str:
    """A score with its range, where there is one: 97 (89 to 97)."""
    low, likely, high = (f"{score[key]:.0f}" for key in ("low", "likely", "high"))
    return likely if low == high else f"{likely} ({low} to {high})"


def number(value: float | None) -> str:
    return "" if value is None else f"{value:.3g}" if abs(value) < 1000 else f"{value:.0f}"


def _frosts(site: Answer) -> str:
    if site["last_frost"] == EVERY_MONTH:
        return "frost in every month"
    if site["last_frost"] in {None, NO_FROST}:
        return "no frost"
    spread = f", give or take {so_many(site['frost_sd_days'], 'day')}"
    return (
        f"frosts until {yearly_date(site['last_frost'])} and from {yearly_date(site['first_frost'])}{spread}"
    )


def _winters(site: Answer) -> str:
    coldest = site["winter_min_c"]
    if coldest is None:
        return "winters above freezing"
    return f"winters to {coldest:.0f} °C{'' if 'winter_min_c' in site['given'] else ' (a guess)'}"


def site_line(question: Answer) -> str:
    """The site and what follows from it, on one line."""
    site = question["site"]
    parts = [
        f"{site['name']}: latitude {site['latitude']:g}",
        _frosts(site),
        _winters(site),
        f"rain in months {', '.join(map(str, site['wet_months']))}"
        if site["wet_months"]
        else "rain all year",
        f"soil {site['soil_depth_m']:g} m deep, {site['soil_texture'].replace('-', ' ')}",
        f"pH {site['soil_ph']:g}" if site["soil_ph"] is not None else "pH not given",
        f"moisture {site['moisture']:g} of 12",
        f"open light {percent(site['open_light'])}",
    ]
    if site["place"]:
        parts.append(f"place {site['place']}")
    if site["audience"] != "household":
        parts.append(f"for {site['audience']}")
    if site["history"]:
        parts.append(f"known in this ground: {', '.join(site['history'])}")
    return "; ".join(parts) + "."
