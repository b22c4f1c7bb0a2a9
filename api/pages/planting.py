"""From a judged planting to what its page shows. Nothing is computed here."""

from collections.abc import Mapping, Sequence
from typing import Any
from urllib.parse import urlencode

from api.figures.drawing import Figure
from api.figures.planting import Standing, Year, side_figure, years_figure
from api.pages.judged_words import harvest_weeks
from api.pages.views import Answer, name_of, root_shape, site_asked
from api.pages.words import SIDE, metres, number, percent, plant_url, upfirst, week
from kb.mixture.counting import so_many

ROWS_LEAST, ROWS_SPARE = 4, 2
ROW_FIELDS = (
    "plant",
    "share",
    "spacing_m",
    "sow_week",
    "clear_week",
    "plant_age_years",
    "distance_m",
    "side",
)
LAYERS = ("0 to 15 cm", "15 to 30 cm", "30 to 60 cm", "deeper")
MOST_PAIRS = 12
"""Pairs in the table; all are in the JSON answer."""
JOB_WORDS = {
    "nitrogen": "Fixes nitrogen",
    "ground cover": "Covers the ground",
    "support": "Carries climbers",
    "early flowers": "Flowers early",
    "mid-season flowers": "Flowers in mid-season",
    "late flowers": "Flowers late",
    "food": "Harvest",
    "deep roots": "Roots deep",
}


def under_path(answer: Answer) -> str | None:
    """What else fits under the tree of a planting: the same tree and site; None without a tree."""
    question = answer["question"]
    tree = question["tree"]
    if tree is None:
        return None
    said = {
        name: tree[name] for name in tree.get("given", ()) if name != "stock" and tree.get(name) is not None
    }
    asked = urlencode({**said, **site_asked(question["site"])})
    return f"{plant_url(tree['id'])}/under?{asked}" if asked else f"{plant_url(tree['id'])}/under"


def title(answer: Answer) -> str:
    """The plants of the planting as they were asked for, a few by name, and the tree."""
    question = answer["question"]
    names = list(dict.fromkeys(name_of(answer, row["plant"]) for row in question["plants"]))
    shown = names[:4]
    if len(names) > len(shown):
        words = f"{', '.join(shown)} and {len(names) - len(shown)} more"
    else:
        words = shown[0] if len(shown) == 1 else f"{', '.join(shown[:-1])} and {shown[-1]}"
    tree = question["tree"]
    if question["setting"] == "hedge":
        return upfirst(f"{words} in one hedge")
    return upfirst(f"{words} under {name_of(answer, tree['id'])}" if tree else words)


def form_rows(question: Mapping[str, Any]) -> list[dict[str, str]]:
    """The rows of the form: what was asked, and some that are empty."""
    rows = []
    for row in question.get("plants", ()):
        said = {field: row.get("age_years" if field == "plant_age_years" else field) for field in ROW_FIELDS}
        if row["share_from"] != "share":
            said["share"] = None
        if row["share_from"] != "spacing":
            said["spacing_m"] = None
        rows.append({field: _field(value) for field, value in said.items()})
    empty = max(ROWS_LEAST - len(rows), ROWS_SPARE)
    return [*rows, *(dict.fromkeys(ROW_FIELDS, "") for _ in range(empty))]


def _field(value: Any) -> str:
    if value is None:
        return ""
    return f"{value:.4g}" if isinstance(value, (int, float)) else str(value)


def plants_asked(answer: Answer) -> list[dict[str, str]]:
    """What was understood of each plant, in words."""
    return [
        {
            "plant": row["plant"],
            "name": upfirst(name_of(answer, row["plant"])),
            "ground": _ground(row),
            "how": "; ".join(_how(row)),
        }
        for row in answer["question"]["plants"]
    ]


def _ground(row: Mapping[str, Any]) -> str:
    """Its share, with the spacing that it means in a bed; a row has none."""
    apart = row["spacing_m"]
    words = "the row" if apart is None else f"the ground, {metres(apart)} m apart"
    silent = " (not said; equal parts)" if row["share_from"] == "equal parts" else ""
    return f"{percent(row['share'])} of {words}{silent}"


def _how(row: Mapping[str, Any]) -> list[str]:
    said = []
    if row["sow_week"]:
        said.append(f"sown in {week(row['sow_week'])}")
    if row["clear_week"]:
        said.append(f"cleared in {week(row['clear_week'])}")
    if row["age_years"] is not None:
        said.append(f"{so_many(round(row['age_years'], 1), 'year')} old")
    if row["distance_m"] is not None:
        said.append(f"{metres(row['distance_m'])} m from the trunk")
    if row["side"]:
        said.append(f"on the {SIDE[row['side']]} side")
    return said


def member_name(answer: Answer, member: Mapping[str, Any]) -> str:
    """A plant's name; a second of its kind by its number."""
    _, again, count = str(member["name"]).partition("#")
    return upfirst(name_of(answer, member["plant"])) + (f" ({count})" if again else "")


def members(answer: Answer) -> list[dict[str, Any]]:
    """One row for each plant: its word, its losses, its light by month, its layers."""
    return [
        {
            **member,
            "title": member_name(answer, member),
            "ground": "overhead" if member["overhead"] else percent(member["share"]),
            "lit": [None if share is None else share for share in member["light"]],
        }
        for member in answer["members"]
    ]


def jobs(answer: Answer) -> list[dict[str, Any]]:
    """Jobs with those who do them, and the jobs that nobody does."""
    return [
        {
            "job": job["job"],
            "words": JOB_WORDS.get(job["job"], upfirst(job["job"])),
            "by": [{**doer, "name": upfirst(name_of(answer, doer["plant"]))} for doer in job["by"]],
        }
        for job in answer["jobs"]
    ]


def pairs(answer: Answer) -> list[dict[str, Any]]:
    """The pairs, the worst first, each with the address where it is told in full."""
    question = answer["question"]
    kept = site_asked(question["site"])
    rows = {row["plant"]: row for row in question["plants"]}
    found = []
    for pair in answer["pairs"][:MOST_PAIRS]:
        one, other = rows.get(pair["a"]), rows.get(pair["b"])
        href = None
        if question["tree"] is None and one and other:
            asked = {"a": pair["a"], "b": pair["b"], "share_a": one["share"], "share_b": other["share"]}
            weeks = {"sow_week_a": one["sow_week"], "sow_week_b": other["sow_week"]}
            given = {"given": ",".join(question["given"])} if question["given"] else {}
            if question["setting"] == "hedge":
                weeks |= {"setting": "hedge", "height_m": question["height_m"]}
            said = {name: value for name, value in weeks.items() if value}
            href = f"/pairs?{urlencode({**asked, **said, **kept, **given})}"
        names = (upfirst(name_of(answer, pair["a"])), name_of(answer, pair["b"]))
        found.append({**pair, "names": f"{names[0]} and {names[1]}", "href": href})
    return found


def profiles(answer: Answer) -> dict[str, Any]:
    """Root profiles by the names of the plants."""
    return {name_of(answer, plant): own for plant, own in answer["root_profiles"].items()}


def figures(answer: Answer) -> list[Figure]:
    """The planting from the side, and its year."""
    drawn = [member for member in answer["members"] if _standing(answer, member) is not None]
    found = [side_figure([s for member in drawn if (s := _standing(answer, member))])] if drawn else []
    flower, harvest = _windows(answer, "flowers"), _windows(answer, "harvest")
    years = [
        Year(
            member_name(answer, member),
            tuple((first, last) for first, last in member["weeks"]),
            flower.get(member["plant"], ()),
            harvest.get(member["plant"], ()),
        )
        for member in answer["members"]
    ]
    return [*found, years_figure(years)]


def _standing(answer: Answer, member: Mapping[str, Any]) -> Standing | None:
    name = member_name(answer, member)
    shape = root_shape(name, answer["root_profiles"].get(member["plant"]))
    if shape is None:
        return None
    return Standing(name, shape, member["height_m"], member["base_m"], member["share"])


def _windows(answer: Answer, what: str) -> dict[str, tuple[tuple[int, int], ...]]:
    """Weeks of flower or harvest by plant."""
    return {
        member["plant"]: tuple((first, last) for first, last in member[what])
        for member in answer["members"]
        if member[what]
    }


def measure_words(answer: Answer) -> Sequence[tuple[str, str]]:
    """The measures as label and value."""
    told = answer["measures"]
    layers = ", ".join(
        f"{words}: {percent(share)}" for words, share in zip(LAYERS, told["root_draw"], strict=True)
    )
    return (
        ("All root draw, by layer", layers),
        ("Evenness of the layers used", number(told["evenness"])),
        ("Growing weeks with half the ground under leaf", percent(told["covered"])),
        ("Weeks in flower", f"{told['weeks_in_flower']} of {told['bloom_weeks']}"),
        ("Weeks of harvest", harvest_weeks(answer)),
        ("Families, effective number", number(told["families"])),
        (
            "Variety of kinds (Rao’s Q)",
            f"{number(told['diversity'])}, at most {number(told['diversity_most'])} for so many",
        ),
    )
