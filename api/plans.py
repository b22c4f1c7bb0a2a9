"""Plantings asked about: from parameters that run side by side, or from a plan in JSON.

A plan is one JSON object::

    {"plants": [{"plant": "maize", "share": 0.5, "sow_week": 20}, {"plant": "squash", "spacing_m": 1.2}],
     "tree": {"plant": "apple", "height_m": 4.5},
     "site": {"latitude": 51, "soil_depth_m": 0.6},
     "given": ["frame"]}

``plants`` alone is required. ``"setting": "hedge"`` sets them in one row, which is kept ``height_m``
high where that is said; a tree has its height in ``tree``. Names, units and ranges are those of the
parameters; of a plant also ``clear_week``, ``age_years``, and under a tree ``distance_m`` and ``side``.
``dataset_version`` may say
what it was judged with before. What is wrong is told by its place, as a JSON pointer (RFC 6901).
"""

import json
from collections.abc import Mapping, Sequence
from typing import Any, Literal, cast

from api.json_reading import read_json
from api.nearest import nearest
from api.param_kinds import Parameter
from api.params import PARAMETERS, parameters_of
from api.parsing import Given
from api.questions import JudgeQuestion, PlacedAsked, TreeAsked
from api.site_asking import SITE_NAMES, ask_site
from api.site_values import Months
from api.tree_asking import ask_tree
from api.values import Names, Number, Text, Value, Whole
from kb.errors import BadParameter, ParameterFault
from kb.mixture.site import Side

MOST_PLANTS = 200
MOST_BYTES = 65536
PLANT_FIELDS = {
    "plant": "plant",
    "share": "share",
    "spacing_m": "spacing_m",
    "sow_week": "sow_week",
    "clear_week": "clear_week",
    "age_years": "plant_age_years",
    "distance_m": "distance_m",
    "side": "side",
}
"""Field of a plant in a plan -> the parameter that says the same."""
TREE_FIELDS = (
    "plant",
    "stock",
    "height_m",
    "crown_radius_m",
    "crown_base_m",
    "age_years",
    "leaf_area_index",
    "stand",
)
PLAN_FIELDS = ("plants", "setting", "height_m", "tree", "site", "given", "dataset_version")


def ask_planting(given: Given) -> JudgeQuestion:
    """The planting behind parameters. Raises BadParameter."""
    rows = _rows(given)
    tree = given.text("tree")
    setting = _setting(given.text("setting"))
    faults = _wrong_ground(tree, given.text("setting"), "setting")
    faults += [
        ParameterFault(name, "acts only under a tree; name the tree (tree) or leave it out.")
        for name in TREE_FIELDS[1:]
        if tree is None and name in given and (name, setting) != ("height_m", "hedge")
    ]
    if faults:
        raise BadParameter(tuple(faults))
    hedge = setting == "hedge"
    return JudgeQuestion(
        plants=rows,
        tree=tree,
        measure=TreeAsked() if hedge else ask_tree(given),
        site=ask_site(given),
        given=given.names("given"),
        setting=setting,
        kept_m=given.number("height_m") if hedge else None,
    )


def _setting(said: str | None) -> Literal["bed", "hedge"]:
    return "hedge" if said == "hedge" else "bed"


def _wrong_ground(tree: str | None, said: str | None, where: str) -> list[ParameterFault]:
    """Where both a tree overhead and a setting in the open are named, one of them would do nothing."""
    if tree is None or said is None:
        return []
    return [ParameterFault(where, f"a {said} is judged in the open; leave out the tree, or the setting.")]


def _rows(given: Given) -> tuple[PlacedAsked, ...]:
    """One row for each plant; rows with nothing in them are left out (a form sends them)."""
    names = given.aligned("plant")
    columns: dict[str, Sequence[Value | None]] = {}
    faults: list[ParameterFault] = []
    for field, parameter in PLANT_FIELDS.items():
        values = given.aligned(parameter)
        if values and len(values) != len(names):
            faults.append(ParameterFault(parameter, _uneven(len(values), len(names))))
        columns[field] = values if len(values) == len(names) else (None,) * len(names)
    found = []
    for place in range(len(names)):
        row = {field: column[place] for field, column in columns.items()}
        if row["plant"] is not None:
            found.append(_placed(row))
        elif any(value is not None for value in row.values()):
            faults.append(
                ParameterFault("plant", f"number {place + 1} has no name; give it, or leave all out.")
            )
    if not names or (not found and not faults):
        faults.append(ParameterFault("plant", "is missing; name at least one plant."))
    if len(found) > MOST_PLANTS:
        faults.append(ParameterFault("plant", _too_many(len(found))))
    if faults:
        raise BadParameter(tuple(faults))
    return tuple(found)


def _uneven(values: int, plants: int) -> str:
    given, named = ("once" if values == 1 else f"{values} times"), ("plant" if plants == 1 else "plants")
    return (
        f"is given {given} for {plants} {named}; give it for each in their order ('-' for none), or for none."
    )


def _too_many(plants: int) -> str:
    return f"names {plants} plants; a planting has at most {MOST_PLANTS}."


def _placed(row: Mapping[str, Value | None]) -> PlacedAsked:
    def number(field: str) -> float | None:
        value = row.get(field)
        return None if value is None else float(cast("float", value))

    return PlacedAsked(
        plant=str(row["plant"]),
        share=number("share"),
        spacing_m=number("spacing_m"),
        sow_week=cast("int | None", row.get("sow_week")),
        clear_week=cast("int | None", row.get("clear_week")),
        age_years=number("age_years"),
        distance_m=number("distance_m"),
        side=cast("Side | None", row.get("side")),
    )


def read_plan(data: bytes) -> JudgeQuestion:
    """The planting behind a plan in JSON. Raises BadParameter with every fault found."""
    plan = _json(data)
    faults: list[ParameterFault] = []
    if not isinstance(plan, dict):
        raise BadParameter((ParameterFault("/", "a plan is a JSON object with 'plants'."),))
    _only(plan, PLAN_FIELDS, "", faults)
    reading = _Reading(faults)
    plants = reading.plants(plan.get("plants"))
    tree, measure = reading.tree(plan["tree"]) if "tree" in plan else (None, TreeAsked())
    site = reading.values(plan.get("site", {}), "/site", {name: name for name in SITE_NAMES})
    given = reading.given(plan.get("given", []))
    said = reading.values(
        {name: plan[name] for name in ("setting", "height_m") if name in plan},
        "",
        {"setting": "setting", "height_m": "height_m"},
    )
    named = str(said["setting"][0]) if "setting" in said else None
    setting = _setting(named)
    faults += _wrong_ground(tree, named, "/setting")
    if "height_m" in said and setting != "hedge":
        faults.append(
            ParameterFault("/height_m", "is that of a hedge (setting hedge); a tree's stands in tree.")
        )
    version = (
        reading.one(plan["dataset_version"], Text(), "/dataset_version")
        if "dataset_version" in plan
        else None
    )
    if faults:
        raise BadParameter(tuple(faults))
    try:
        where = "/site"
        asked = ask_site(Given("judge", site))
        where = "/tree"
        measured = ask_tree(Given("judge", measure)) if isinstance(measure, dict) else measure
    except BadParameter as fault:
        moved = (ParameterFault(f"{where}/{one.parameter}", one.detail) for one in fault.faults)
        raise BadParameter(tuple(moved)) from None
    return JudgeQuestion(
        plants=tuple(plants),
        tree=tree,
        measure=measured,
        site=asked,
        given=given,
        setting=setting,
        kept_m=cast("float", said["height_m"][0]) if "height_m" in said else None,
        plan=True,
        dataset_version=None if version is None else str(version),
    )


def _json(data: bytes) -> Any:
    """The JSON in these bytes, strictly read: no NaN, no name twice, not too deep."""
    if len(data) > MOST_BYTES:
        raise BadParameter(
            (ParameterFault("/", f"the plan has more than {MOST_BYTES} bytes; make it shorter."),)
        )
    try:
        return read_json(data)
    except ValueError as fault:
        raise BadParameter((ParameterFault("/", f"the plan {fault}."),)) from None


def _only(held: Mapping[str, Any], known: Sequence[str], at: str, faults: list[ParameterFault]) -> None:
    """A fault for every name that means nothing here."""
    for name in held:
        if name not in known:
            hint = nearest(name, known, count=1)
            meant = f"did you mean '{hint[0]}'? " if hint else ""
            pointer = f"{at}/{name[:80].replace('~', '~0').replace('/', '~1')}"
            faults.append(ParameterFault(pointer, f"is not known; {meant}accepted: {', '.join(known)}."))


class _Reading:
    """Reads the parts of a plan and collects what is wrong with them."""

    def __init__(self, faults: list[ParameterFault]) -> None:
        self._faults = faults
        self._table = parameters_of("judge")

    def plants(self, held: Any) -> list[PlacedAsked]:
        if not isinstance(held, list) or not held:
            wrong = "is missing" if held is None else "is empty" if held == [] else "is no list"
            self._fault("/plants", f"{wrong}; give a list of at least one plant.")
            return []
        if len(held) > MOST_PLANTS:
            self._fault("/plants", _too_many(len(held)))
            return []
        return [placed for i, one in enumerate(held) if (placed := self._plant(one, f"/plants/{i}"))]

    def _plant(self, held: Any, at: str) -> PlacedAsked | None:
        before = len(self._faults)
        values = self.values(held, at, PLANT_FIELDS)
        if len(self._faults) > before:
            return None
        if "plant" not in values:
            self._fault(f"{at}/plant", "is missing; name the plant.")
            return None
        return _placed({field: value[0] for field, value in values.items()})

    def tree(self, held: Any) -> tuple[str | None, dict[str, tuple[Value, ...]]]:
        """Name and measures of the tree; a text alone is its name."""
        values = self.values(
            {"plant": held} if isinstance(held, str) else held, "/tree", {name: name for name in TREE_FIELDS}
        )
        if "plant" not in values:
            self._fault("/tree/plant", "is missing; name the tree.")
            return None, {}
        return str(values.pop("plant")[0]), values

    def values(self, held: Any, at: str, fields: Mapping[str, str]) -> dict[str, tuple[Value, ...]]:
        """The values of an object, by field."""
        if not isinstance(held, dict):
            self._fault(at, f"must be an object with {', '.join(fields)}.")
            return {}
        _only(held, tuple(fields), at, self._faults)
        found: dict[str, tuple[Value, ...]] = {}
        for field, parameter in fields.items():
            if field in held and held[field] is not None:
                value = self.one(held[field], self._parameter(parameter).read, f"{at}/{field}")
                if value is not None:
                    found[field] = (value,)
        return found

    def given(self, held: Any) -> tuple[str, ...]:
        if not isinstance(held, list) or not all(isinstance(word, str) for word in held):
            self._fault("/given", "must be a list of words.")
            return ()
        if not held:
            return ()
        value = self.one(",".join(held), self._parameter("given").read, "/given")
        return cast("tuple[str, ...]", value or ())

    def one(self, held: Any, read: Any, at: str) -> Value | None:
        """One value by the rule of its parameter."""
        if isinstance(read, Months) and isinstance(held, list):
            held = ",".join(json.dumps(part) for part in held)
        if isinstance(read, Names) and isinstance(held, list):
            if not held:
                return None
            if not all(isinstance(name, str) for name in held):
                self._fault(at, "must be a list of names, each a text.")
                return None
            held = ",".join(held)
        numeric = isinstance(read, Number | Whole)
        is_number = isinstance(held, int | float) and not isinstance(held, bool)
        if numeric and not is_number:
            self._fault(at, f"must be a number, not {json.dumps(held)[:40]}.")
            return None
        if not numeric and not isinstance(held, str) and not (is_number and at == "/site/moisture"):
            self._fault(at, f"must be a text, not {json.dumps(held)[:40]}.")
            return None
        try:
            text = held if isinstance(held, str) else json.dumps(held)
            if not text.strip():
                raise ValueError("is empty; give a value or leave it out")  # noqa: TRY301
            return cast("Value", read(text))
        except ValueError as fault:
            self._fault(at, f"{fault}.")
            return None

    def _parameter(self, name: str) -> Parameter:
        return self._table.get(name) or next(p for p in PARAMETERS if p.name == name)

    def _fault(self, at: str, detail: str) -> None:
        self._faults.append(ParameterFault(at, detail))
