"""What is handed in to be written: the fields of each form, read strictly, for every door alike.

The command line's options, the JSON bodies and the pages' forms all become the same flat fields here.
"""

from collections.abc import Mapping
from typing import Any

from api.answers.observed import difference_dict, local_dict
from api.fields import FORMS, MAX_FIELD, MAX_PARTS, ROLES, Field, FormKind
from api.nearest import nearest
from kb.bench.draft_reading import unsafe
from kb.bench.drafts import (
    CautionDraft,
    DecisionDraft,
    ObservationDraft,
    RecordDraft,
    ReviewDraft,
    fault,
    role_of,
)
from kb.curation import Bench, Done
from kb.errors import BadParameter, ParameterFault
from kb.model import Source, SourceKey
from kb.namespaces import BASE
from kb.snapshot import Snapshot


def kind_of(resource: str, given: Mapping[str, Any]) -> FormKind:
    """Which form a body posted to ``records``, ``decisions`` or ``observations`` fills in."""
    if resource == "observations":
        return "observation"
    if resource == "records":
        return "caution" if "caution" in given else "record"
    if "undo" in given:
        return "undo"
    return "review" if "caution" in given else "decision"


def read_fields(kind: FormKind, given: Mapping[str, Any]) -> dict[str, Any]:
    """The fields of a form: texts, or lists of texts. Raises BadParameter with every fault found."""
    known = {field.name: field for field in FORMS[kind]}
    faults: list[ParameterFault] = []
    found: dict[str, Any] = {}
    for name, value in given.items():
        if name not in known:
            hint = nearest(name, known, count=1)
            meant = f"did you mean {hint[0]}? " if hint else ""
            taken = ", ".join(known)
            faults.append(ParameterFault(name[:80], f"is not known; {meant}a form '{kind}' takes {taken}."))
            continue
        if known[name].number and isinstance(value, int | float) and not isinstance(value, bool):
            value = f"{value:.12g}"  # noqa: PLW2901 - as a form would hand it in
        detail = _wrong(known[name], value)
        if detail:
            faults.append(ParameterFault(name, detail))
        elif value not in (None, "", [], ()):
            found[name] = value
    faults += [
        ParameterFault(field.name, f"is missing; give {field.help}.")
        for field in known.values()
        if field.required and field.name not in found and not any(f.parameter == field.name for f in faults)
    ]
    if faults:
        raise BadParameter(tuple(faults))
    return found


def _wrong(field: Field, value: Any) -> str | None:
    """What is wrong with one value; None where it can be taken, or was not given."""
    if value is None:
        return None
    return _wrong_list(value) if field.many else _wrong_text(value)


def _wrong_list(value: Any) -> str | None:
    if not isinstance(value, list | tuple) or len(value) > MAX_PARTS:
        return f"takes a list of at most {MAX_PARTS} texts."
    if any(not isinstance(part, str) or len(part) > MAX_FIELD for part in value):
        return f"takes texts of at most {MAX_FIELD} letters."
    return next((f"{wrong}." for part in value if (wrong := unsafe(part))), None)


def _wrong_text(value: Any) -> str | None:
    if not isinstance(value, str):
        return "takes a text; put it in quotes."
    if len(value) > MAX_FIELD:
        return f"is longer than {MAX_FIELD} letters."
    wrong = unsafe(value)
    return f"{wrong}." if wrong else None


FIELD_OF = {"thing": "undo", "weighed": ROLES[0], "conditions": "condition"}
"""What the bench calls a part of a draft -> the field in which it is handed in."""


def perform(kind: FormKind, fields: Mapping[str, Any], bench: Bench, expected: str | None) -> Done:
    """Write what a form says. Raises whatever the bench refuses with, told by the field."""
    try:
        return _performed(kind, fields, bench, expected)
    except BadParameter as bad:
        told = (ParameterFault(FIELD_OF.get(f.parameter, f.parameter), f.detail) for f in bad.faults)
        raise BadParameter(tuple(told)) from None


def _performed(kind: FormKind, fields: Mapping[str, Any], bench: Bench, expected: str | None) -> Done:
    if kind == "undo":
        return bench.undo(fields["undo"], fields["why"], expected=expected)
    if kind == "decision":
        weighed = tuple((name, role_of(role)) for role in ROLES for name in fields.get(role, ()))
        draft = DecisionDraft(fields["plant"], fields["trait"], fields["why"], weighed)
        return bench.decide(draft, expected=expected)
    if kind == "review":
        return bench.review(ReviewDraft(**fields), expected=expected)
    if kind == "observation":
        return bench.observe(ObservationDraft(**fields), expected=expected)
    plain = {name: value for name, value in fields.items() if not name.startswith("source_")}
    if kind == "caution":
        plain["kind"] = plain.pop("caution")
        return bench.add_caution(CautionDraft(**plain, new_source=_source(fields)), expected=expected)
    plain["conditions"] = tuple(_pair(text) for text in plain.pop("condition", ()))
    return bench.add_record(RecordDraft(**plain, new_source=_source(fields)), expected=expected)


def _pair(text: str) -> tuple[str, str]:
    key, equals, value = text.partition("=")
    if not equals or not key.strip() or not value.strip():
        raise BadParameter(
            (ParameterFault("condition", f"'{text[:60]}' is not key=value, such as 'stock=M9'"),)
        )
    return key.strip(), value.strip()


def _source(fields: Mapping[str, Any]) -> Source | None:
    """The source that is described along with a record, if one is."""
    given = {
        name.removeprefix("source_"): text for name, text in fields.items() if name.startswith("source_")
    }
    if not given:
        return None
    missing = [name for name in ("citation", "licence") if name not in given]
    if missing or "source" not in fields:
        lacking = "source" if not missing else f"source_{missing[0]}"
        raise BadParameter(
            (ParameterFault(lacking, "is missing; a new source has a key, a citation and a licence"),)
        )
    tier = given.get("tier", "B")
    if tier not in {"A", "B"}:
        raise fault("source_tier", f"'{tier[:20]}' is neither A nor B")
    return Source(
        key=SourceKey(fields["source"].strip()),
        citation=given["citation"].strip(),
        identifier=given.get("identifier"),
        year=given.get("year"),
        licence=given["licence"].strip(),
        licence_iri=None,
        tier="A" if tier == "A" else "B",
        how_read="the place named by each record",
        credit=given["citation"].strip(),
    )


def done_dict(snapshot: Snapshot, kind: FormKind, done: Done) -> dict[str, Any]:
    """What was written, and what it changed in the values in use."""
    return {
        "question": {"kind": kind, "plant": done.plant},
        "dataset_version": snapshot.version,
        "cautions": [],
        "plant": done.plant,
        "added": [BASE + thing for thing in done.things],
        "revision": done.revision,
        "changes": [difference_dict(snapshot, change) for change in done.differences],
        "local": [
            local_dict(snapshot, estimate)
            for estimate in snapshot.local(done.plant)
            if {f"observation.{name}" for name in estimate.observations} & set(done.things)
        ],
        "reasons": [],
        "notes": list(done.notes),
    }
