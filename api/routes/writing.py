"""The pages that write: one form at a time, without JavaScript; what was typed is never lost."""

from collections.abc import Mapping
from datetime import UTC, datetime
from typing import Any, cast
from urllib.parse import quote, urlencode

from flask import Blueprint, Response, request

from api.answers.cautions import Reader, names_of, plant_cautions
from api.answers.evidence import record_dict, weighed_by_record
from api.bench import perform, read_fields
from api.fields import FORMS, ROLES, FormKind
from api.problems import NoRevision
from api.routes.flow import repository, snapshot
from api.routes.signing import page, refused, to
from api.signing import NotSignedIn, by_session, check_form_token, form_token
from kb.bench.drafts import Curator, fault
from kb.curation import Bench
from kb.errors import KnowledgeBaseError
from kb.model import PlantId
from kb.namespaces import BASE

blueprint = Blueprint("writing", __name__)
ROLE_FIELD = "role:"
EMPTY: Mapping[str, Any] = {}


def _form(given: str) -> FormKind:
    if given not in FORMS:
        raise fault("form", f"'{given[:40]}' is none of {', '.join(FORMS)}")
    return cast("FormKind", given)


def _names(kind: FormKind) -> list[str]:
    return [field.name for field in FORMS[kind]]


@blueprint.get("/plants/<plant>/write")
def form(plant: str) -> Response:
    """One form; who is not signed in is asked to, and comes back here."""
    plant_id = snapshot().resolve(plant)
    kind = _form(request.args.get("form", "observation"))
    if unknown := [name for name in request.args if name not in {"form", *_names(kind)}]:
        raise fault(unknown[0][:80], f"is not known; this form takes {', '.join(_names(kind))}")
    try:
        curator = by_session()
    except NotSignedIn:
        here = f"/plants/{quote(plant_id)}/write?{urlencode(list(request.args.items(multi=True)))}"
        return to(f"/sign-in?{urlencode({'next': here})}")
    given = {name: value for name, value in request.args.items() if name != "form"}
    return page("write", _answer(plant_id, kind, curator, given))


@blueprint.post("/plants/<plant>/write")
def write(plant: str) -> Response:
    """Write what the form says, on the revision that it was opened at."""
    curator = by_session()
    check_form_token(request.form.get("csrf", ""))
    revision = request.form.get("revision", "")
    if not revision:
        raise NoRevision
    plant_id = snapshot().resolve(plant)
    kind = _form(request.form.get("form", ""))
    given = {name: v for name, v in request.form.items() if name not in {"csrf", "form", "revision"}}
    try:
        fields = read_fields(kind, _fields(kind, plant_id, given))
        bench = Bench(repository(), curator, datetime.now(UTC).date())
        done = perform(kind, fields, bench, revision)
    except KnowledgeBaseError as error:
        status, words, faults, more = refused(error)
        answer = _answer(plant_id, kind, curator, given)
        return page("write", {**answer, "refusal": words, "errors": faults, "stale": more}, status)
    return to(f"/plants/{quote(done.plant)}/history?{urlencode({'record': BASE + done.things[0]})}")


def _fields(kind: FormKind, plant: PlantId, given: Mapping[str, str]) -> dict[str, Any]:
    """The fields of the form as the bench reads them: roles by record, conditions line by line."""
    fields: dict[str, Any] = {
        n: v.replace("\r\n", "\n") for n, v in given.items() if not n.startswith(ROLE_FIELD)
    }
    if "condition" in fields:
        fields["condition"] = [line for line in fields["condition"].splitlines() if line.strip()]
    for name, role in given.items():
        if name.startswith(ROLE_FIELD) and role:
            fields.setdefault(role if role in ROLES else "role", []).append(name.removeprefix(ROLE_FIELD))
    if kind != "undo":
        fields["plant"] = plant
    return fields


def _answer(
    plant_id: PlantId, kind: FormKind, curator: Curator, given: Mapping[str, str]
) -> dict[str, object]:
    """What the page of a form shows: the plant, what was typed, and what there is to choose from."""
    data = snapshot()
    plant = data.plants[plant_id]
    trait = given.get("trait", "")
    weighed = weighed_by_record(data.adopted(plant_id)) if kind == "decision" else {}
    return {
        "plant": plant_id,
        "names": {plant_id: names_of(plant)},
        "cautions": plant_cautions(data, plant_id, Reader()),
        "form": kind,
        "given": dict(given),
        "revision": data.revisions.get(plant_id, ""),
        "csrf": form_token(),
        "handle": curator.handle,
        "role": curator.role,
        "traits": [(one.id, one.label) for one in data.vocabulary.traits.values()],
        "values": _values(trait),
        "records": [record_dict(data, one, weighed) for one in plant.records if one.trait == trait]
        if kind == "decision"
        else [],
        "labels": {name: one.label for name, one in data.vocabulary.traits.items()},
        "refusal": None,
        "errors": [],
        "stale": {},
    }


def _values(trait: str) -> list[tuple[str, str]]:
    """The named values of a trait, where it has a short list of them."""
    vocabulary = snapshot().vocabulary
    found = vocabulary.traits.get(cast("Any", trait))
    concepts = vocabulary.concepts.get(found.scheme or "", {}) if found else {}
    return [(one.id, one.label) for one in concepts.values()] if len(concepts) <= 30 else []
