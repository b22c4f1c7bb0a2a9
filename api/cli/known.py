"""Commands on what is known: plants, plant, records, sources, traits."""

from typing import Any

import click

from api.cli.asking import (
    JSON_OPTION,
    STORE_OPTION,
    QuestionCommand,
    ask_and_show,
    items_of,
    question_command,
)
from api.cli.output import (
    Answer,
    caution_kind,
    cautions,
    evidence,
    full_name,
    heading,
    item,
    notes,
    number,
    paragraph,
    short_id,
    table,
)
from api.params import parameters_of
from kb.errors import other_name_hint
from kb.mixture.counting import so_many

UNITS = {"class": ("class ", ""), "1-12": ("", " on the scale 1 to 12"), "pH": ("pH ", "")}
"""What stands before and after a number whose unit does not simply follow it."""


def value_words(value: Answer | None) -> str:
    """An adopted value or a record's value in words: a concept, a window, or a number with its span."""
    if value is None:
        return "not known"
    if value.get("concept"):
        return str(value["concept"])
    low, likely, high = value.get("low"), value.get("likely"), value.get("high")
    ends = [number(end) for end in (low, high) if end is not None]
    if value.get("unit") == "week":
        others = "".join(
            f"; also {_weeks(o['low'], None, o['high'])}" for o in value.get("other_sowings") or ()
        )
        return _weeks(low, likely, high) + others
    bound = {"floor": "at least ", "ceiling": "at most "}.get(str(value.get("number_kind")), "")
    if likely is None:
        if len(ends) == 1 and not bound:
            bound = "at most " if low is None else "at least "
        said = f"{bound}{' to '.join(ends)}"
    else:
        said = number(likely) + (f" ({' to '.join(ends)})" if len(set(ends)) == 2 else "")
    before, after = UNITS.get(str(value.get("unit") or ""), ("", f" {value.get('unit') or ''}"))
    return f"{before}{said}{after}".rstrip()


def _weeks(start: float | None, likely: float | None, end: float | None) -> str:
    """A window of weeks; one end may be all that is known."""
    if start is not None and end is not None:
        return f"week {start:.0f} to {end:.0f}"
    if start is not None:
        return f"from week {start:.0f}; end not known"
    if end is not None:
        return f"until week {end:.0f}; start not known"
    return f"week {number(likely)}"


def show_plants(answer: Answer) -> None:
    rows = []
    for plant in answer["plants"]:
        told = [c for c in plant["cautions"] if c["id"]]
        kinds = ", ".join(dict.fromkeys(caution_kind(c) for c in told)) or "none on record"
        rows.append((plant["id"], plant["common_name"] or "", plant["traits"]["family"] or "", kinds))
    if rows:
        table([("Plant", "whole"), ("Common name", "left"), ("Family", "left"), ("Cautions", "left")], rows)
    shown, total = len(rows), answer["total"]
    fewer = "" if total else f" {other_name_hint(answer['question']['q'] or '')}"
    paragraph(f"{shown} of {so_many(total, 'plant')}.{fewer} No caution on record is not the same as safe.")
    if answer["next"]:
        paragraph(f"More: add --after {answer['next']}")
    notes(answer["notes"])


TONGUES = {"de": "German", "es": "Spanish", "fr": "French"}


def _in_its_tongue(name: Answer) -> str:
    """A common name, with its language where that is not English and its region where it has one."""
    said = [TONGUES[name["lang"]]] if name["lang"] in TONGUES else []
    said += [name["region"]] if name["region"] else []
    return f"{name['name']} ({', '.join(said)})" if said else str(name["name"])


def show_plant(answer: Answer) -> None:
    names = answer["names"]
    common = ", ".join(dict.fromkeys(_in_its_tongue(name) for name in names["common"]))
    heading(f"{names['accepted']} {names['authority'] or ''}".strip())
    paragraph(f"Id: {answer['id']}. Common names: {common or 'none on record'}.")
    if names["synonyms"]:
        paragraph(f"Also called: {', '.join(name['name'] for name in names['synonyms'])}.")
    if answer["parent"]:
        paragraph(f"Belongs to {answer['parent']}; what it lacks is taken from there.")
    cautions({**answer, "names": {answer["id"]: {**names, "common": _first(names["common"])}}})
    heading("Values in use")
    known = [(t, v) for t, v in answer["traits"].items() if v is not None]
    rows = [(t, value_words(v), v["confidence"], str(len(v["records"]))) for t, v in known]
    table([("Trait", "whole"), ("Value", "left"), ("Confidence", "left"), ("Records", "right")], rows)
    for here in answer["local"]:
        stock = f" on {here['stock']}" if here["stock"] else ""
        item(f"{here['trait']} at {here['place']}{stock}: {value_words(here)} ({here['rule']})")
    for why in dict.fromkeys(answer["missing"].values()):
        paragraph(f"Not known ({why}): {', '.join(t for t, w in answer['missing'].items() if w == why)}.")
    paragraph(f"Sources and records: traitbed records {answer['id']}")
    notes(answer["notes"])


def _first(common: list[Answer]) -> str | None:
    return str(common[0]["name"]) if common else None


def show_records(answer: Answer) -> None:
    heading(f"Records of {full_name(answer, answer['plant'])}")
    cautions(answer)
    trait = None
    for record in answer["records"]:
        if record["trait"] != trait:
            trait = record["trait"]
            heading(str(trait))
        item(_record_line(record))
    for decision in answer["decisions"]:
        item(_decision_line(decision))
    if not answer["records"]:
        paragraph("No record.")


def _record_line(record: Answer) -> str:
    conditions = "; ".join(f"{key} {value}" for key, value in record["conditions"].items())
    weight = "counts" if record["weight"] else "does not count"
    return (
        f"{value_words(record)} ({record['number_kind']}), printed '{record['verbatim']}'"
        f"{'; ' + conditions if conditions else ''}. {record['source']['key']}, {record['locator']}; "
        f"{record['basis']}; {weight}: {record['counted_as']}.{evidence([record['id']])}"
    )


def _decision_line(decision: Answer) -> str:
    roles = ", ".join(f"{short_id(w['record'])} {w['role']}" for w in decision["weighed"])
    return f"Decision of {decision['decided_on']} by {decision['decided_by']}: {decision['why']} ({roles})"


def show_record(answer: Answer) -> None:
    cautions(answer)
    heading(f"{answer['kind'].capitalize()} {short_id(answer['record']['id'])}")
    for name, value in answer["record"].items():
        if value is None or value in ([], {}):
            continue
        if isinstance(value, dict):
            value = "; ".join(f"{key}: {part}" for key, part in value.items() if part is not None)  # noqa: PLW2901
        elif isinstance(value, list):
            value = "; ".join(str(part) for part in value)  # noqa: PLW2901
        paragraph(f"{name}: {value}", indent=1)
    for decision in answer["decisions"]:
        item(_decision_line(decision))


def show_sources(answer: Answer) -> None:
    for source in answer["sources"]:
        heading(f"{source['key']} ({so_many(source['records'], 'record')})")
        paragraph(str(source["citation"]))
        for label, name in (("Identifier", "identifier"), ("Licence", "licence"), ("Credit", "credit")):
            if source.get(name):
                paragraph(f"{label}: {source[name]}")
        paragraph(f"How it was read: {source['how_read']}")


def show_traits(answer: Answer) -> None:
    for trait in answer["traits"]:
        unit = f", {trait['unit']}" if trait["unit"] else ""
        heading(f"{trait['id']} ({trait['kind']}{unit})")
        paragraph(f"{trait['label']}. {trait['definition']}")
        values = [value["id"] for value in trait["values"]]
        if values and len(values) <= 20:
            paragraph(f"Values: {', '.join(values)}.")
        elif values:
            paragraph(f"{so_many(len(values), 'value')}, e.g. {', '.join(values[:5])}.")


def _plants() -> click.Command:
    """``WORDS`` may be several words without quotes; they are one search."""
    base = question_command(
        "plants",
        "plants",
        arguments=("q",),
        show=show_plants,
        optional=True,
        help_text="Find plants by the words of a name, by family or by the value of a trait.",
    )

    def callback(*, as_json: bool, store: str | None, q: tuple[str, ...], **given: Any) -> None:
        items = [("q", " ".join(q))] if q else []
        ask_and_show("plants", [*items, *items_of(given)], as_json=as_json, store=store, show=show_plants)

    base.params[0] = click.Argument(["q"], metavar="WORDS", required=False, nargs=-1)
    base.callback = callback
    return base


def _records() -> click.Command:
    """Records of a plant by name, or one record by its IRI."""

    def callback(
        *,
        as_json: bool,
        store: str | None,
        plant: str | None,
        trait: tuple[str, ...],
        record: tuple[str, ...],
    ) -> None:
        if record and (plant or trait):
            msg = "--record opens one record by itself; leave out NAME and --trait."
            raise click.UsageError(msg)
        if record:
            items = items_of({"record": record})
            ask_and_show("record", items, as_json=as_json, store=store, show=show_record)
            return
        if plant is None:
            msg = "Name a plant, or one record with --record IRI."
            raise click.UsageError(msg)
        items = items_of({"plant": plant, "trait": trait})
        ask_and_show("records", items, as_json=as_json, store=store, show=show_records)

    table_ = parameters_of("records")
    return QuestionCommand(
        question="records",
        name="records",
        params=[
            click.Argument(["plant"], metavar="NAME", required=False),
            click.Option(["--trait"], multiple=True, metavar="ID", help=table_["trait"].help),
            click.Option(
                ["--record"],
                multiple=True,
                metavar="IRI",
                help="one record, caution or decision: its IRI or the id at its end",
            ),
            JSON_OPTION,
            STORE_OPTION,
        ],
        callback=callback,
        help="A plant's records with their sources and the decisions on them; or one record.",
    )


def _one_or_all(name: str, one: str, metavar: str, show: Any, help_text: str) -> click.Command:
    """A list, or one entry of it where a key is given."""
    kinds: Any = {"all": name, "one": one}

    def callback(*, as_json: bool, store: str | None, key: str | None) -> None:
        kind = kinds["all"] if key is None else kinds["one"]
        items = [] if key is None else [(one, key)]
        ask_and_show(kind, items, as_json=as_json, store=store, show=show)

    return QuestionCommand(
        question=kinds["all"],
        name=name,
        params=[click.Argument(["key"], metavar=metavar, required=False), JSON_OPTION, STORE_OPTION],
        callback=callback,
        help=help_text,
    )


COMMANDS: dict[str, click.Command] = {
    "plants": _plants(),
    "plant": question_command(
        "plant",
        "plant",
        arguments=("plant",),
        show=show_plant,
        help_text="One plant: its cautions, its names, and the value in use for each trait.",
    ),
    "records": _records(),
    "sources": _one_or_all(
        "sources", "source", "[KEY]", show_sources, "Where the facts come from: citation, licence, credit."
    ),
    "traits": _one_or_all(
        "traits", "trait", "[ID]", show_traits, "What each trait means: definition, unit, values."
    ),
}
