"""HTML pages out of answers: ``render_page(kind, answer)``; nothing is computed here.

A page shows the JSON answer of the same question. It works without JavaScript, holds no inline
style or script, and asks nothing of any other server.
"""

from collections.abc import Callable, Mapping
from dataclasses import asdict
from datetime import UTC, date, datetime
from typing import Any
from urllib.parse import urlencode, urlsplit

from markupsafe import Markup

from api.answers.finding import SUMMARY
from api.figures.drawing import Figure
from api.pages import (
    asked,
    bench,
    cautions,
    cited,
    crediting,
    form_fields,
    mending,
    planting,
    telling,
    views,
    words,
)
from api.pages.crediting import NO_LINES, CreditLines
from api.pages.environment import environment
from api.pages.views import Answer
from kb.mixture.lists.under import AHEAD_YEARS

KINDS = (
    "home",
    "plants",
    "plant",
    "records",
    "record",
    "history",
    "sign-in",
    "write",
    "pair",
    "candidates",
    "under",
    "judge",
    "sources",
    "traits",
    "lists",
    "worklist",
    "problem",
)
MOST_TOGETHER = 20
"""Plants of a list that are offered as one bed; more are a garden, not a bed."""
TREE_FORMS = ("tree", "shrub", "climber-woody")
"""Growth forms that others can stand under; an unknown form may be one of them."""


def render_page(
    kind: str,
    answer: Mapping[str, Any],
    *,
    path: str = "/",
    today: date | None = None,
    credit_lines: CreditLines = NO_LINES,
) -> str:
    """The page of an answer, asked at ``path`` (with its query); ``credit_lines`` name its sources."""
    if kind not in KINDS:
        raise ValueError(f"No page is called '{kind}'; there are {', '.join(KINDS)}.")
    day = today or datetime.now(UTC).date()
    build = BUILDERS.get(kind)
    extra = build(answer) if build else {}
    question = answer.get("question") or {}
    shared = {
        "kind": kind,
        "answer": answer,
        "path": path,
        "credit_lines": credit_lines,
        "asked": dict(asked.flat(question)),
        "question_gist": asked.question_gist(question),
        "cited": _cited(kind, answer, credit_lines),
        "question_rows": asked.question_rows(question, answer.get("names")) if kind not in UNASKED else (),
        "json_path": None
        if kind in {"home", "problem", "lists", "sign-in", "write"} or (kind == "judge" and not question)
        else json_path(path),
        "next_path": next_path(path, answer.get("next")),
        "more_path": with_value(path, "limit", 20) if question.get("limit", 20) < 20 else None,
        "kept": views.kept_fields(path, form_fields.LIST_FIELDS),
        "kept_site": views.kept_fields(path, ("latitude", "soil_depth_m")),
        "kept_tree": views.kept_fields(path, form_fields.TREE_SIZES),
        "kept_under": views.kept_fields(path, form_fields.UNDER_FIELDS),
        "kept_season": views.kept_fields(path, form_fields.SEASON_FIELDS),
        "tree_said": dict(views.kept_fields(path, form_fields.TREE_SAID)),
        "kept_list": views.kept_fields(path, (*form_fields.LIST_FIELDS, "stand")),
        "follow_said": dict(views.kept_fields(path, form_fields.FOLLOW_FIELDS)),
        "site_said": dict(views.kept_fields(path, form_fields.SITE_FIELDS)),
        "today": f"{day.day} {words.MONTHS[day.month - 1]} {day.year}",
        "told": cautions.told(answer),
        "named": _named(kind, answer, path),
        "tree_named": _tree_named(kind, answer, path),
    }
    return environment().get_template(f"{kind}.html").render({**shared, **extra})


def _cited(kind: str, answer: Answer, lines: CreditLines) -> tuple[cited.Cited, ...]:
    """The numbered sources at the end of a page that tells a verdict in full."""
    if kind not in {"pair", "judge"} or not answer.get("verdict"):
        return ()
    named = {plant: views.name_of(answer, plant) for plant in answer["names"]}
    first = [line.reason for line in telling.told(answer).lines if line.reason]
    return cited.cited(answer, lines, named, first)


UNASKED = (
    "home",
    "problem",
    "lists",
    "sources",
    "traits",
    "record",
    "history",
    "sign-in",
    "worklist",
    "write",
)
"""Pages whose question is plain from their heading."""


def json_path(path: str) -> str:
    """Where the same answer is as JSON: ``/pairs?a=…`` becomes ``/pairs.json?a=…``."""
    parts = urlsplit(path)
    base = parts.path.removesuffix(".html").rstrip("/") + ".json"
    return f"{base}?{parts.query}" if parts.query else base


def next_path(path: str, token: object) -> str | None:
    """Where the next page of a list is; a token, or a path the answer already holds."""
    if not token:
        return None
    if str(token).startswith("/"):
        return str(token)
    return with_value(path, "after", token)


def with_value(path: str, name: str, value: object) -> str:
    """The same address with one parameter set anew."""
    parts = urlsplit(path)
    kept = [pair for pair in parts.query.split("&") if pair and not pair.startswith(f"{name}=")]
    return f"{parts.path}?{'&'.join([*kept, urlencode({name: str(value)})])}"


def _named(kind: str, answer: Answer, path: str) -> list[str]:
    """What the form under an answer calls the plants that were asked about."""
    if kind == "pair":
        return views.asked_names(answer, (answer["a"], answer["b"]), path, "a", "b")
    if kind == "judge" and answer.get("verdict"):
        plants = [str(row["plant"]) for row in answer["question"]["plants"]]
        return views.asked_names(answer, plants, path, "plant")
    return []


def _tree_named(kind: str, answer: Answer, path: str) -> str:
    """What the form under a judged planting calls the tree overhead."""
    tree = (answer.get("question") or {}).get("tree") if kind == "judge" else None
    return views.asked_names(answer, (str(tree["id"]),), path, "tree")[0] if tree else ""


def _plant(answer: Answer) -> dict[str, Any]:
    name = views.plant_name(answer)
    missing: dict[str, list[str]] = {}
    for trait, value in answer["traits"].items():
        if value is None:
            missing.setdefault(answer.get("missing", {}).get(trait, "no record"), []).append(trait)
    form = answer["traits"].get("growth-form") or {}
    first = {str(trait): answer["traits"].get(trait) for trait in SUMMARY}
    ordered = {**first, **answer["traits"]}
    return {
        "title": name,
        "brief": [(trait, value) for trait, value in first.items() if value],
        "known": [(trait, value) for trait, value in ordered.items() if value],
        "missing": list(missing.items()),
        "figures": _drawn(views.plant_figures(name, answer)),
        "root_origins": views.root_origins({name: answer.get("root_profile")}),
        "offer_under": not form or any(word in TREE_FORMS for word in form["concepts"]),
    }


def _records(answer: Answer) -> dict[str, Any]:
    groups: dict[str, list[Any]] = {}
    for record in answer["records"]:
        groups.setdefault(record["trait"], []).append(record)
    plant = str(answer["plant"])
    named = {record["source"]["key"]: record["source"] for record in answer["records"]}
    return {
        "title": views.name_of(answer, plant),
        "plant_id": plant,
        "groups": list(groups.items()),
        "sources": [named[key] for key in sorted(named)],
    }


def _history(answer: Answer) -> dict[str, Any]:
    return {"title": views.name_of(answer, str(answer["plant"]))}


def _write(answer: Answer) -> dict[str, Any]:
    return {"title": views.name_of(answer, str(answer["plant"])), **bench.write_page(answer)}


def _record(answer: Answer) -> dict[str, Any]:
    return {"title": views.name_of(answer, str(answer["plant"]))}


CHANGES: Mapping[str, str] = {
    "follow": "other plants, weeks, what becomes of the first",
    "under": "other plants, the tree, your site",
}
"""What the form under a pair's answer lets one change, by setting."""


def _pair(answer: Answer) -> dict[str, Any]:
    return {
        "change_gist": CHANGES.get(
            str(answer["question"].get("setting")), "other plants, bed or hedge, your site"
        ),
        "title": views.pair_title(answer),
        "figures": _drawn(views.pair_figures(answer)),
        "strip": _drawn([views.pair_strip(answer)])[0],
        "with_others": views.both_with_others(answer),
        "spoken": telling.told(answer),
        "root_origins": views.root_origins(
            {views.name_of(answer, plant): own for plant, own in (answer.get("root_profiles") or {}).items()}
        ),
    }


def _candidates(answer: Answer) -> dict[str, Any]:
    plant = views.asked_plant(answer)
    return {"title": views.name_of(answer, plant), "plant_id": plant}


def _under(answer: Answer) -> dict[str, Any]:
    plant = views.asked_plant(answer)
    name = views.name_of(answer, plant)
    return {
        "title": name,
        "plant_id": plant,
        "tree_words": views.tree_words(answer),
        "figures": _drawn(views.under_figures(answer, words.upfirst(name))),
        "strip": _drawn([views.light_strip(answer)])[0],
        "years": views.year_tables(answer, plant),
        "look_ahead": AHEAD_YEARS[-1],
        "missed_rings": views.ring_middles(answer),
        "kept_missed": views.said_of_tree(answer),
        "months": words.MONTHS,
    }


def _judge(answer: Answer) -> dict[str, Any]:
    if not answer.get("verdict"):
        return {"rows": planting.form_rows({}), "title": "Does a whole planting fit together?"}
    return {
        "title": planting.title(answer),
        "rows": planting.form_rows(answer["question"]),
        "plants": planting.plants_asked(answer),
        "members": planting.members(answer),
        "jobs": planting.jobs(answer),
        "pairs": planting.pairs(answer),
        "under_path": planting.under_path(answer),
        "spoken": telling.told(answer),
        "figures": _drawn(planting.figures(answer)),
        "root_origins": views.root_origins(planting.profiles(answer)),
        "months": words.MONTHS,
        "layers": planting.LAYERS,
        "measure_rows": planting.measure_words(answer),
    }


def _lists(answer: Answer) -> dict[str, Any]:
    named: dict[str, list[str]] = {}
    for caution in answer["cautions"]:
        named.setdefault(caution["plant"], []).append(
            words.CAUTION_KIND.get(caution["kind"], caution["kind"]).lower()
        )
    known = list(dict.fromkeys(row["plant"] for row in answer.get("rows", ()) if row["plant"]))
    together = f"/judgements?{urlencode({'plant': known}, doseq=True)}"
    return {
        "cautioned": [(plant, ", ".join(dict.fromkeys(kinds))) for plant, kinds in named.items()],
        "planting_path": together if 2 <= len(known) <= MOST_TOGETHER else None,
    }


def _sources(answer: Answer) -> dict[str, Any]:
    letters: dict[str, list[Any]] = {}
    named = ((crediting.short(source["credit"] or source["key"]), source) for source in answer["sources"])
    for name, source in sorted(named, key=lambda pair: crediting.sort_key(pair[0])):
        letters.setdefault(crediting.sort_key(name)[:1], []).append((name, source))
    return {"letters": sorted(letters.items())}


def _worklist(answer: Answer) -> dict[str, Any]:
    sections: dict[str, list[Any]] = {}
    for task in answer["tasks"]:
        sections.setdefault(task["kind"], []).append(task)
    return {"sections": list(sections.items())}


def _problem(answer: Answer) -> dict[str, Any]:
    return {"nearest": mending.nearest_links(answer), "lead": mending.problem_words(answer)}


BUILDERS: Mapping[str, Callable[[Answer], dict[str, Any]]] = {
    "plant": _plant,
    "records": _records,
    "record": _record,
    "history": _history,
    "write": _write,
    "pair": _pair,
    "candidates": _candidates,
    "under": _under,
    "judge": _judge,
    "lists": _lists,
    "sources": _sources,
    "worklist": _worklist,
    "problem": _problem,
}


def _drawn(figures: list[Figure]) -> list[dict[str, Any]]:
    """Figures for a template; their SVG is built by us, with every text in it escaped."""
    return [{**asdict(figure), "svg": Markup(figure.svg)} for figure in figures]  # noqa: S704
