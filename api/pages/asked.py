"""The question as understood, in words, with every default that was filled in."""

from collections.abc import Callable, Iterator, Mapping, Sequence
from typing import Any

from api.pages.words import SIDE, latitude, metres, plain, scientific, trimmed, week, yearly_date
from kb.mixture.counting import so_many

HIDDEN = frozenset(
    {"kind", "name", "description", "after", "include", "exclude", "wet_year", "dry_year", "plants"}
)
LABELS: Mapping[str, str] = {
    "a": "First plant",
    "b": "Second plant",
    "age_a_years": "Age of the first plant",
    "age_b_years": "Age of the second plant",
    "age_years": "Age of the tree",
    "audience": "Who will be near",
    "clear_week_a": "Week in which the first is cleared",
    "crown_base_m": "Lowest leaves of the tree",
    "crown_radius_m": "Radius of the crown",
    "distance_m": "Distance from the trunk",
    "mean": "Scarcity of water in each month from January, %",
    "share_a_from": "Ground of the first plant, how come by",
    "share_b_from": "Ground of the second plant, how come by",
    "soil_texture": "Texture of the soil",
    "spacing_a_from": "Spacing of the first plant, how come by",
    "spacing_b_from": "Spacing of the second plant, how come by",
    "wet_months": "Months of rain",
    "winter_min_c": "Lowest temperature of a usual winter",
    "first_frost": "First autumn frost, mean date",
    "frost_sd_days": "Spread of the frost dates",
    "gap_weeks": "Weeks between the two",
    "gap_years": "Years between the two",
    "given": "What you will provide",
    "group": "Only these kinds of plants",
    "height_m": "Height of the tree, or of the hedge",
    "history": "Pests and diseases known in this ground",
    "last_frost": "Last spring frost, mean date",
    "leaf_area_index": "Leaf area over ground area",
    "limit": "At most so many in one place",
    "moisture": "Soil moisture, 1 (dry) to 12 (under water)",
    "observed_at": "As you observed plants at",
    "open_light": "Light before the planting itself",
    "place": "Country, for laws",
    "q": "Words",
    "share_a": "Ground of the first plant",
    "share_b": "Ground of the second plant",
    "soil_depth_m": "Soil that roots can use",
    "soil_ph": "pH of the soil",
    "sow_week_a": "Week in which the first is sown",
    "sow_week_b": "Week in which the second is sown",
    "spacing_a_m": "Spacing of the first plant",
    "spacing_b_m": "Spacing of the second plant",
    "stand": "The tree stands",
    "tree": "Tree overhead",
    "use_a": "What becomes of the first",
    "years": "Years from now",
}


def _metres(value: float) -> str:
    return f"{metres(value)} m"


def _share(value: float) -> str:
    return f"{round(100 * value)} %"


def _side(value: str) -> str:
    return SIDE.get(value, value)


def _of_years(value: float) -> str:
    return so_many(round(value, 1), "year")


def _of_weeks(value: float) -> str:
    return so_many(round(value, 0), "week")


def _of_days(value: float) -> str:
    return so_many(round(value, 0), "day")


SETTINGS: Mapping[str, str] = {
    "bed": "together in one bed",
    "hedge": "together in one row of hedge",
    "under": "the second under the first",
    "follow": "the second after the first",
}


PLANTINGS: Mapping[str, str] = {**SETTINGS, "under": "on the ground under a tree"}
"""The same of a whole planting."""


def _shares(values: Sequence[float]) -> str:
    return ", ".join(str(round(100 * value)) for value in values)


def _setting(value: str) -> str:
    return SETTINGS.get(value, plain(value))


def _frost(value: str) -> str:
    return yearly_date(value) if value.startswith("--") else plain(value)


def _of_degrees(value: float) -> str:
    return f"{value:.0f} °C".replace("-", "−")


SAID: Mapping[str, Callable[[Any], str]] = {
    "a": scientific,
    "age_a_years": _of_years,
    "age_b_years": _of_years,
    "age_years": _of_years,
    "b": scientific,
    "clear_week_a": week,
    "crown_base_m": _metres,
    "crown_radius_m": _metres,
    "distance_m": _metres,
    "first_frost": _frost,
    "gap_weeks": _of_weeks,
    "gap_years": _of_years,
    "frost_sd_days": _of_days,
    "height_m": _metres,
    "last_frost": _frost,
    "latitude": latitude,
    "mean": _shares,
    "open_light": _share,
    "plant": scientific,
    "setting": _setting,
    "share_a": _share,
    "share_b": _share,
    "side": _side,
    "soil_depth_m": _metres,
    "sow_week_a": week,
    "sow_week_b": week,
    "spacing_a_m": _metres,
    "spacing_b_m": _metres,
    "tree": scientific,
    "winter_min_c": _of_degrees,
}


def flat(question: Mapping[str, Any]) -> Iterator[tuple[str, Any]]:
    """The question without its nesting, in its own order."""
    for key, value, _ in _told(question):
        yield key, value


def _told(
    question: Mapping[str, Any], given: frozenset[str] | None = None
) -> Iterator[tuple[str, Any, bool]]:
    """Name, value, and whether it was said; a nested part lists in its own ``given`` what was."""
    for key, value in question.items():
        if isinstance(value, Mapping):
            if "id" in value:
                yield key, value["id"], True
            inner = {name: held for name, held in value.items() if name not in {"given", "id"}}
            yield from _told(inner, frozenset(value["given"]) if "given" in value else None)
        else:
            yield key, value, given is None or key in given


def site_words(question: Mapping[str, Any]) -> str | None:
    """Which site the answer is for."""
    site = question.get("site")
    if not isinstance(site, Mapping):
        return None
    name, description = site.get("name"), site.get("description")
    return f"{name}: {description}" if description else str(name)


ALWAYS_SAID = ("group", "setting")
"""Parts of a question that stand in its line without being marked as said or not."""


def question_gist(question: Mapping[str, Any]) -> str:
    """The question in one line: what was said of site and tree, and how much was taken for granted."""
    site = site_words(question)
    said = [] if site is None else [site]
    assumed = 0
    nested = [value for value in question.values() if isinstance(value, Mapping) and "given" in value]
    for part in (*nested, {key: question[key] for key in ALWAYS_SAID if key in question}):
        given = part.get("given", ALWAYS_SAID)
        for key, value in part.items():
            if (
                key in HIDDEN
                or key in {"id", "given"}
                or isinstance(value, Mapping)
                or value in (None, [], ())
            ):
                continue
            if key in given:
                label = LABELS.get(key, plain(key).capitalize())
                told = _said(key, value, planting=question.get("kind") == "judge")
                said.append(f"{label[:1].lower()}{label[1:]} {told}")
            else:
                assumed += 1
    return "; ".join([*said, f"{assumed} taken for granted"] if assumed else said)


def question_rows(
    question: Mapping[str, Any], names: Mapping[str, Any] | None = None
) -> list[tuple[str, str]]:
    """Label and value of everything in the question; what nobody said is marked or named at the end.

    ``names`` are those that the answer gives its plants.
    """
    rows, unsaid = [], []
    planting = question.get("kind") == "judge"
    site = site_words(question)
    for key, value, said in _told(question):
        label = LABELS.get(key, plain(key).capitalize())
        if key in HIDDEN:
            continue
        if value is None or value in ([], ()):
            unsaid.append(label[:1].lower() + label[1:])
        else:
            told = _accepted(names, value) or _said(key, value, planting=planting)
            rows.append((label, told + ("" if said else " (not said; assumed)")))
    if site:
        rows.insert(0, ("Site", site))
    return [*rows, ("Not said", ", ".join(dict.fromkeys(unsaid)))] if unsaid else rows


def _accepted(names: Mapping[str, Any] | None, value: Any) -> str | None:
    """The botanical name of a plant that the answer names; None of anything else."""
    known = names.get(value) if names is not None and isinstance(value, str) else None
    return str(known["accepted"]) if isinstance(known, Mapping) and known.get("accepted") else None


def _said(key: str, value: Any, *, planting: bool = False) -> str:
    if planting and key == "setting":
        return PLANTINGS.get(value, plain(value))
    if isinstance(value, (list, tuple)) and key not in SAID:
        return ", ".join(plain(str(part)) if not isinstance(part, int) else str(part) for part in value)
    if isinstance(value, bool):
        return "yes" if value else "no"
    say = SAID.get(key)
    if say:
        return say(value)
    return trimmed(value, 2) if isinstance(value, (int, float)) else plain(str(value))
