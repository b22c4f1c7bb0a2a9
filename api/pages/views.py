"""From an answer to what a page shows: names, sorted tables, figures. Nothing is computed here."""

from collections.abc import Mapping, Sequence
from typing import Any
from urllib.parse import parse_qsl, urlencode, urlsplit

from api.figures.drawing import Figure
from api.figures.loss import AFTER, BESIDE, loss_figure, loss_strip, strip
from api.figures.roots import RootShape, root_figure
from api.figures.tree import Outline, Ring, plan_figure, side_figure
from api.figures.year import Window, year_figure
from api.pages.asked import flat
from api.pages.form_fields import TREE_NAMES
from api.pages.words import ORIGIN, depth, plain, scientific, trait_words, tree_metres, upfirst
from kb.mixture.counting import so_many

Answer = Mapping[str, Any]

RINGS = ("inner", "mid", "crown edge", "outside")
SIDES = ("N", "E", "S", "W")
WINDOWS = (
    ("growth-window", "growth"),
    ("leaf-window", "leaf"),
    ("flowering-window", "flower"),
    ("harvest-window", "harvest"),
)


def name_of(answer: Answer, plant: str) -> str:
    """The common name an answer gives a plant, or its botanical name read from its id."""
    names = answer.get("names")
    found = names.get(plant, names.get(plant.partition("#")[0])) if isinstance(names, Mapping) else None
    if isinstance(found, Mapping):
        return str(found.get("common") or found.get("accepted") or scientific(plant))
    return str(found) if found else scientific(plant)


def botanical_of(answer: Answer, plant: str) -> str:
    """The accepted botanical name an answer gives a plant, or one read from its id."""
    names = answer.get("names")
    found = names.get(plant) if isinstance(names, Mapping) else None
    if isinstance(found, Mapping) and found.get("accepted"):
        return str(found["accepted"])
    return scientific(plant)


def pair_title(answer: Answer) -> str:
    """The two plants as they stand to each other: "Pea, then cabbage", "Ramsons under apple"."""
    a, b = (name_of(answer, answer[end]) for end in ("a", "b"))
    setting = answer["question"].get("setting")
    if setting == "under":
        return upfirst(f"{b} under {a}")
    if setting == "hedge":
        return upfirst(f"{a} and {b} in one hedge")
    return upfirst(f"{a}, then {b}" if setting == "follow" else f"{a} and {b}")


def asked_names(answer: Answer, plants: Sequence[str], path: str, *fields: str) -> list[str]:
    """Plants' names for a form: as the reader wrote them, or botanical names in place of ids.

    ``fields`` are the parameters that name the plants in ``path``, in the order of ``plants``.
    """
    asked = parse_qsl(urlsplit(path).query)
    typed = [value.strip() for field in fields for name, value in asked if name == field]
    typed = [value for value in typed if value and value != "-"]
    written = typed if len(typed) == len(plants) else plants
    return [
        botanical_of(answer, plant) if word == plant else word
        for plant, word in zip(plants, written, strict=True)
    ]


def root_shape(name: str, profile: Any) -> RootShape | None:
    """The root profile an answer carries: half and nearly all of the roots lie above these depths."""
    if not isinstance(profile, Mapping):
        return None
    half, most = float(profile["half_m"]["likely"]), float(profile["most_m"]["likely"])
    return RootShape(name, half, most) if 0 < half < most else None


def root_origins(profiles: Mapping[str, Any]) -> list[dict[str, Any]]:
    """Of each depth that is drawn: its span, where it comes from, and the records behind it."""
    return [
        {
            "name": upfirst(name),
            "called": name,
            "share": share,
            "depth": depth(profile[key]["likely"]),
            "low": depth(profile[key]["low"]),
            "high": depth(profile[key]["high"]),
            "origin": ORIGIN.get(profile[key]["origin"], plain(profile[key]["origin"])),
            "records": profile[key]["records"],
        }
        for name, profile in profiles.items()
        if root_shape(name, profile)
        for key, share in (("half_m", "half"), ("most_m", "nearly all (95 %)"))
    ]


HALF, MOST = "root-depth-50", "effective-rooting-depth"


def plant_figures(name: str, answer: Answer) -> list[Figure]:
    """What can be drawn of one plant: its roots by depth and its year."""
    traits = answer["traits"]
    own = {"half_m": traits.get(HALF), "most_m": traits.get(MOST)}
    profile = answer.get("root_profile") or (own if all(own.values()) else None)
    shape = root_shape(name, profile)
    figures = [root_figure([shape])] if shape else []
    windows = [
        Window(label, float(weeks["low"]), float(weeks["high"]))
        for trait, word in WINDOWS
        if (value := traits.get(trait))
        for label, weeks in (
            (word, value),
            *(("other sowing", other) for other in value.get("other_sowings", ())),
        )
        if weeks.get("low") is not None and weeks.get("high") is not None
    ]
    return [*figures, year_figure(windows, name)] if windows else figures


def _losses(answer: Answer) -> list[tuple[str, Mapping[str, float]]]:
    return [(upfirst(name_of(answer, plant)), loss) for plant, loss in answer["loss"].items()]


def _causes(answer: Answer) -> str:
    return AFTER if answer["question"].get("setting") == "follow" else BESIDE


def pair_strip(answer: Answer) -> Figure:
    """What each of two goes without, in small."""
    return loss_strip(_losses(answer), causes=_causes(answer))


def pair_figures(answer: Answer) -> list[Figure]:
    """The losses of both as bars; the root profiles of both side by side."""
    losses = _losses(answer)
    profiles = answer.get("root_profiles") or {}
    shapes = [root_shape(upfirst(name_of(answer, plant)), profile) for plant, profile in profiles.items()]
    roots = [shape for shape in shapes if shape]
    return [loss_figure(losses, causes=_causes(answer)), *([root_figure(roots)] if roots else [])]


def growing_season(latitude: float) -> tuple[str, tuple[int, ...]]:
    """The three months of most light, by hemisphere: words and month indices 0-11."""
    return ("June to August", (5, 6, 7)) if latitude >= 0 else ("December to February", (11, 0, 1))


def ring_rows(rings: Sequence[Mapping[str, Any]]) -> list[tuple[str, list[Mapping[str, Any]]]]:
    """The answers of one year grouped by ring from the trunk outwards, sides N E S W."""
    order = {ring: place for place, ring in enumerate(RINGS)}
    found: dict[str, list[Mapping[str, Any]]] = {}
    for row in sorted(
        rings, key=lambda row: (order.get(row["ring"], 9), SIDES.index(row.get("side") or "N"))
    ):
        found.setdefault(row["ring"], []).append(row)
    return list(found.items())


def by_year(answer: Answer) -> list[tuple[int, list[Mapping[str, Any]]]]:
    """The ring answers of each year asked for, earliest first."""
    years = sorted({row["year"] for row in answer["rings"]})
    return [(year, [row for row in answer["rings"] if row["year"] == year]) for year in years]


def merged(sides: Sequence[Mapping[str, Any]], tree: str) -> list[dict[str, Any]]:
    """One line per plant over the sides of a ring, in the order of its best place on any side."""
    plants: dict[str, dict[str, Any]] = {}
    for row in sides:
        for place, pair in enumerate(row["plants"]):
            other = pair["b"] if pair["a"] == tree else pair["a"]
            line = plants.setdefault(
                other, {"plant": other, "place": place, "sides": {}, "pair": pair, "side": row["side"]}
            )
            line["sides"][row["side"]] = pair
            if place < line["place"]:
                line.update(place=place, pair=pair, side=row["side"])
    for line in plants.values():
        verdicts = [pair["verdict"] for pair in line["sides"].values()]
        line["same"] = len(verdicts) == len(sides) > 1 and len(set(verdicts)) == 1
    return sorted(plants.values(), key=lambda line: line["place"])


def under_figures(answer: Answer, tree_name: str) -> list[Figure]:
    """The tree of the first year from above and from the side, with the outlines it grows to."""
    latitude = float(dict(flat(answer["question"])).get("latitude", 51.0))
    season, months = growing_season(latitude)
    rings = [_ring(sides, months) for _, sides in ring_rows(by_year(answer)[0][1])]
    first = by_year(answer)[0][0]
    given = answer["tree"].get("given", ())
    sizes = {
        size["year"]: _outline(tree_name, {**size, "given": () if size["year"] else given})
        for size in answer["later"]
    }
    later = [sizes[year] for year in sorted(sizes) if year > first]
    return [plan_figure(sizes[first], rings, season), side_figure(sizes[first], rings, later=later)]


def light_strip(answer: Answer) -> Figure:
    """The light of the growing season by ring in the first year, the mean of all sides."""
    latitude = float(dict(flat(answer["question"])).get("latitude", 51.0))
    season, months = growing_season(latitude)
    rings = [_ring(sides, months) for _, sides in ring_rows(by_year(answer)[0][1])]
    shares = [(upfirst(ring.name), sum(ring.light.values()) / len(ring.light)) for ring in rings]
    caption = f"Light on the ground by ring, of open light in {season}; the mean of all sides."
    return strip(shares, "Light by ring", caption, ("Ring", "Light"))


def _outline(name: str, size: Mapping[str, Any]) -> Outline:
    """A tree as it is drawn, its sizes as its words say them."""
    said = (
        float(size[part]) if part in size.get("given", ()) else round(float(size[part]), 1)
        for part in ("height_m", "crown_radius_m", "crown_base_m")
    )
    return Outline(name, *said)


def _ring(sides: Sequence[Mapping[str, Any]], months: Sequence[int]) -> Ring:
    first = sides[0]
    light = {row["side"]: sum(row["light"][month] for month in months) / len(months) for row in sides}
    return Ring(first["ring"], first["from_m"], first["to_m"], first["root_draw"], light)


def trait_label(answer: Answer, trait: str) -> str:
    """What a trait is called: the vocabulary's label where the answer carries it."""
    labels = answer.get("labels")
    found = labels.get(trait) if isinstance(labels, Mapping) else None
    label = str(found or trait_words(trait))
    return label[:1].upper() + label[1:]


def plant_name(answer: Answer) -> str:
    """The heading of a plant's page: its first common name, or its botanical one."""
    common = answer["names"].get("common") or []
    name = str(common[0]["name"]) if common else str(answer["names"]["accepted"])
    return name[:1].upper() + name[1:]


def asked_plant(answer: Answer) -> str:
    """The id of the plant that a list of others is about."""
    tree = answer.get("tree")
    return str(tree["id"] if isinstance(tree, Mapping) else answer["plant"])


def tree_words(answer: Answer) -> str:
    """The tree as it was understood, in one sentence."""
    age = answer["tree"]["age_years"]
    planted = f", planted {so_many(age, 'year')} ago" if age else ""
    return f"The tree: {_size_words(answer['tree'])}{planted}."


def _size_words(size: Mapping[str, Any]) -> str:
    return (
        f"{tree_metres(size, 'height_m')} m high, crown {tree_metres(size, 'crown_radius_m', 2)} m wide, "
        f"lowest leaves at {tree_metres(size, 'crown_base_m')} m"
    )


def year_tables(answer: Answer, tree: str) -> list[dict[str, Any]]:
    """What the page shows of each year: light rows by ring, and ranked plants by ring."""
    tables: list[dict[str, Any]] = []
    sizes = {size["year"]: size for size in answer["later"]}
    for year, rows in by_year(answer):
        rings = ring_rows(rows)
        plants = [
            {
                "name": ring,
                "from_m": sides[0]["from_m"],
                "to_m": sides[0]["to_m"],
                "sides": [row["side"] for row in sides],
                "rows": merged(sides, tree),
                "total": max(row.get("total", 0) for row in sides),
            }
            for ring, sides in rings
        ]
        words = "Now" if year == 0 else f"In {so_many(year, 'year')}"
        tables.append(
            {
                "year": year,
                "words": words,
                "size": _size_words(sizes[year]),
                "as_now": bool(tables)
                and _size_words(sizes[year]) == tables[0]["size"]
                and _told(rings) == _told(tables[0]["rings"]),
                "rings": rings,
                "plants": plants,
            }
        )
    return tables


def _told(rings: Sequence[tuple[str, list[Mapping[str, Any]]]]) -> list[dict[str, Any]]:
    """What the rings of a year say, without the year: light, roots, and the plants as they are ranked."""
    return [
        {name: value for name, value in row.items() if name != "year"} for _, sides in rings for row in sides
    ]


def kept_fields(path: str, names: Sequence[str]) -> list[tuple[str, str]]:
    """Names and values of the question's address that the form under its answer sends along unseen."""
    return [(name, value) for name, value in parse_qsl(urlsplit(path).query) if name in names]


def pair_path(
    answer: Answer, pair: Mapping[str, Any], side: str | None = None, ring: Mapping[str, Any] | None = None
) -> str:
    """Where one row of a ranked list is told in full: the same two, site and setting."""
    question = answer["question"]
    place = _standing_asked(question) if ring is None else {}
    if ring is not None:
        tree = {
            name: value for name, value in answer["tree"].items() if name in TREE_NAMES and value is not None
        }
        middle = round((ring["from_m"] + ring["to_m"]) / 2, 2)
        place = {"setting": "under", "distance_m": middle, **({"side": side} if side else {}), **tree}
    given = {"given": ",".join(question["given"])} if question.get("given") else {}
    said = {**site_asked(question.get("site") or {}), **place, **given}
    return f"/pairs?{urlencode({'a': pair['a'], 'b': pair['b'], **said})}"


def ring_middles(answer: Answer) -> list[tuple[str, float]]:
    """Each ring of a tree now, with the middle of it from the trunk, m."""
    rings = ring_rows(by_year(answer)[0][1])
    return [(ring, round((sides[0]["from_m"] + sides[0]["to_m"]) / 2, 2)) for ring, sides in rings]


def said_of_tree(answer: Answer) -> list[tuple[str, str]]:
    """The tree and the site of a list, for a question about one more plant beneath the same tree."""
    question = answer["question"]
    sizes = {name: value for name, value in answer["tree"].items() if name in TREE_NAMES}
    given = {"given": ",".join(question["given"])} if question.get("given") else {}
    said = {**site_asked(question.get("site") or {}), **sizes, **given}
    return [(name, str(value)) for name, value in said.items() if value is not None]


def both_with_others(answer: Answer) -> str:
    """Where the two of a bed are judged as a planting, whose form has rows for more; the site goes along."""
    plants = [("plant", answer[end]) for end in ("a", "b")]
    return f"/judgements?{urlencode([*plants, *site_asked(answer['question']['site']).items()])}"


def site_asked(site: Mapping[str, Any]) -> dict[str, Any]:
    """What was said of the site, as an address says it: lists with commas between."""
    said = {name: site[name] for name in site.get("given", ()) if site.get(name) is not None}
    return {
        name: ",".join(map(str, value)) if isinstance(value, list) else value for name, value in said.items()
    }


def _standing_asked(question: Mapping[str, Any]) -> dict[str, Any]:
    """What was said of how a plant stands with all of a list, for a question on one pair of it."""
    if question.get("setting", "bed") == "bed":
        place: dict[str, Any] = {}
    elif question["setting"] == "hedge":
        place = {"setting": "hedge", "height_m": question["height_m"]}
    else:
        tree = question.get("tree") or {}
        place = {name: tree.get(name) for name in sorted(TREE_NAMES)}
        place |= {"setting": question["setting"], "distance_m": question.get("distance_m")}
    place |= {name: question.get(name) for name in ("side", "sow_week_a", "age_a_years")}
    place |= {
        name: question[name]
        for name in ("share_a", "share_b", "spacing_a_m")
        if question.get(f"{name.removesuffix('_m')}_from") == "given"
    }
    return {name: value for name, value in place.items() if value is not None}
