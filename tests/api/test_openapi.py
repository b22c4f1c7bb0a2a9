"""The description is written by hand and held true: routes, parameters, examples and real answers."""

import json
from collections.abc import Iterator
from functools import cache
from importlib.resources import files
from typing import Any

import pytest
from flask import Flask
from flask.testing import FlaskClient
from jsonschema import Draft202012Validator, FormatChecker
from openapi_spec_validator import validate
from referencing import Registry, Resource
from referencing.jsonschema import DRAFT202012

from api.fields import FORMS, FormKind
from api.param_kinds import QuestionKind
from api.params import parameters_of
from tests.api.invented import BEAN_ID, DECIDED, HERB, HERB_ID, ROOT_ID, TREE_ID

KINDS: dict[str, QuestionKind] = {
    "/": "home",
    "/health": "health",
    "/plants": "plants",
    "/plants/{plant}": "plant",
    "/plants/{plant}/records": "records",
    "/plants/{plant}/history": "history",
    "/plants/{plant}/candidates": "candidates",
    "/plants/{plant}/under": "under",
    "/pairs": "pair",
    "/judgements": "judge",
    "/records/{record}": "record",
    "/traits": "traits",
    "/traits/{trait}": "trait",
    "/sources": "sources",
    "/worklist": "worklist",
    "/sources/{source}": "source",
    "/exports/{format}": "export",
}
"""Path -> the question of the parameter table behind it."""
OTHER_PATHS = {
    "/candidates",
    "/under",
    "/openapi.json",
    "/context.jsonld",
    "/lists",
    "/plants/{plant}/write",
    "/sign-in",
    "/sign-out",
    "/sparql",
}
WRITING: dict[str, tuple[FormKind, ...]] = {
    "/records": ("record", "caution"),
    "/decisions": ("decision", "review", "undo"),
    "/observations": ("observation",),
}
"""Paths that take a JSON body -> the forms that it may fill in."""


@cache
def description() -> Any:
    return json.loads(files("api").joinpath("openapi.json").read_bytes())


@cache
def registry() -> Registry[Any]:
    resource: Resource[Any] = Resource.from_contents(description(), default_specification=DRAFT202012)
    return Registry().with_resource("urn:openapi", resource)


def schema_faults(instance: Any, schema: dict[str, Any]) -> list[str]:
    """What is wrong with an instance, by a schema whose references point into the description."""
    text = json.dumps(schema).replace('"#/components', '"urn:openapi#/components')
    validator = Draft202012Validator(json.loads(text), registry=registry(), format_checker=FormatChecker())
    return [f"{fault.json_path}: {fault.message[:200]}" for fault in validator.iter_errors(instance)]


def resolved(node: dict[str, Any]) -> dict[str, Any]:
    """Follow one reference."""
    if "$ref" not in node:
        return node
    found: Any = description()
    for step in node["$ref"].removeprefix("#/").split("/"):
        found = found[step]
    return dict(found)


def answer_schema(path: str) -> dict[str, Any]:
    content = description()["paths"][path]["get"]["responses"]["200"]["content"]
    return dict(content["application/json"]["schema"])


def examples() -> Iterator[tuple[str, Any, dict[str, Any]]]:
    """Give (where, example, schema) of every example in the description."""
    for path, item in description()["paths"].items():
        for method, operation in item.items():
            named = path if method == "get" else f"{path} {method}"
            for media, content in operation.get("requestBody", {}).get("content", {}).items():
                if "example" in content:
                    yield f"{named} body {media}", content["example"], content["schema"]
            for status, response in operation["responses"].items():
                for media, content in resolved(response).get("content", {}).items():
                    if "example" in content:
                        yield f"{named} {status} {media}", content["example"], content["schema"]


def test_it_is_valid_openapi() -> None:
    """The description is a sound OpenAPI 3.1 document, by the validator of python-openapi."""
    assert description()["openapi"].startswith("3.1")
    validate(description())


def test_routes_equal_paths(app: Flask) -> None:
    """Nothing is served undescribed, nothing is described that is not served."""
    served = {
        str(rule).replace("<path:", "{").replace("<", "{").replace(">", "}")
        for rule in app.url_map.iter_rules()
        if rule.endpoint != "static"
    }

    assert set(description()["paths"]) == served
    assert set(KINDS) | OTHER_PATHS | set(WRITING) == served


@pytest.mark.parametrize("path", sorted(WRITING))
def test_bodies_equal_the_fields(path: str) -> None:
    """What a body may hold is what is read from it, for each form that it may fill in."""
    content = description()["paths"][path]["post"]["requestBody"]["content"]
    schemas = [resolved(schema) for schema in content["application/json"]["schema"]["anyOf"]]

    assert {"application/json"} == set(content)
    for form, schema in zip(WRITING[path], schemas, strict=True):
        assert [field.name for field in FORMS[form]] == list(schema["properties"]), form
        assert [field.name for field in FORMS[form] if field.required] == schema["required"], form
        for field in FORMS[form]:
            assert field.many == (schema["properties"][field.name]["type"] == "array"), field.name
            assert field.number == ("number" in schema["properties"][field.name]["type"]), field.name
    assert [] == schema_faults(content["application/json"]["example"], content["application/json"]["schema"])


@pytest.mark.parametrize("path", sorted(KINDS))
def test_parameters_equal_the_table(path: str) -> None:
    """Names, ranges and requiredness are those that the parser uses."""
    described = {
        p["name"]: p for p in map(resolved, description()["paths"][path]["get"].get("parameters", []))
    }
    table = parameters_of(KINDS[path])

    assert set(table) == set(described)
    for name, parameter in table.items():
        schema = described[name]["schema"]
        expected = parameter.read.schema()
        assert (schema["items"] if parameter.many else schema) == expected, name
        required = KINDS[path] in parameter.required
        assert required == described[name].get("required", False), name


def test_there_are_examples() -> None:
    """Every JSON answer has one; otherwise the next test would check nothing."""
    shown = {where.split()[0] for where, _, _ in examples() if " 200 " in where}

    assert set(KINDS) - {"/exports/{format}"} <= shown


@pytest.mark.parametrize(("example", "schema"), [pytest.param(e, s, id=where) for where, e, s in examples()])
def test_examples_hold_to_their_schemas(example: Any, schema: dict[str, Any]) -> None:
    """An example that would be refused teaches the wrong thing."""
    assert [] == schema_faults(example, schema)


@pytest.mark.parametrize(
    ("address", "path"),
    [
        ("/", "/"),
        ("/health", "/health"),
        ("/plants", "/plants"),
        ("/plants?q=oak", "/plants"),
        (f"/plants/{TREE_ID}", "/plants/{plant}"),
        (f"/plants/{ROOT_ID}?audience=school&place=DE", "/plants/{plant}"),
        (f"/plants/{HERB_ID}/records", "/plants/{plant}/records"),
        (f"/records/{HERB.records[0].id}", "/records/{record}"),
        (f"/records/decision.{DECIDED.decisions[0].id}", "/records/{record}"),
        (f"/records/caution.{TREE_ID}.toxic.invented", "/records/{record}"),
        (f"/plants/{HERB_ID}/history", "/plants/{plant}/history"),
        (f"/plants/{HERB_ID}/history?record={HERB.records[0].id}", "/plants/{plant}/history"),
        ("/traits", "/traits"),
        ("/traits/mature-height", "/traits/{trait}"),
        ("/sources", "/sources"),
        ("/sources/invented", "/sources/{source}"),
        (f"/pairs?a={HERB_ID}&b={ROOT_ID}", "/pairs"),
        (f"/pairs?a={HERB_ID}&b={HERB_ID}", "/pairs"),
        (f"/pairs?a={ROOT_ID}&b={BEAN_ID}&share_a=0.7&sow_week_a=18&soil_ph=6&given=irrigated", "/pairs"),
        (f"/pairs?a={TREE_ID}&b={HERB_ID}&setting=under&side=S&height_m=6&place=GB", "/pairs"),
        (f"/pairs?a={BEAN_ID}&b={HERB_ID}&setting=follow", "/pairs"),
        (
            f"/pairs?a={BEAN_ID}&b={ROOT_ID}&setting=follow&sow_week_b=30&clear_week_a=27&use_a=dug-in",
            "/pairs",
        ),
        (f"/pairs?a={ROOT_ID}&b={ROOT_ID}&setting=follow&gap_years=2", "/pairs"),
        (f"/judgements?plant={HERB_ID}", "/judgements"),
        (f"/judgements?plant={HERB_ID}&plant={ROOT_ID}&plant={BEAN_ID}&soil_depth_m=0.3", "/judgements"),
        (
            f"/judgements?plant={HERB_ID}&plant={ROOT_ID}&tree={TREE_ID}&height_m=6&side=N&side=-",
            "/judgements",
        ),
        (f"/plants/{HERB_ID}/candidates", "/plants/{plant}/candidates"),
        (f"/plants/{HERB_ID}/candidates?include=cautions-only&limit=1", "/plants/{plant}/candidates"),
        (f"/plants/{TREE_ID}/under?height_m=6&years=0,10&limit=2", "/plants/{plant}/under"),
        (f"/plants/{TREE_ID}/under?side=N&exclude={ROOT_ID}&latitude=-37", "/plants/{plant}/under"),
    ],
)
def test_real_answers_hold_to_their_schemas(client: FlaskClient, address: str, path: str) -> None:
    """What is served is what is described."""
    response = client.get(address)

    assert 200 == response.status_code, response.text
    assert [] == schema_faults(response.get_json(), answer_schema(path))


@pytest.mark.parametrize(
    "address", ["/plants/nonesuch", "/plants?colour=red", "/plants/trialwort", "/plants.ttl"]
)
def test_real_problems_hold_to_their_schema(client: FlaskClient, address: str) -> None:
    """So are the errors."""
    problem = description()["components"]["schemas"]["Problem"]

    assert [] == schema_faults(client.get(address).get_json(), problem)
