"""A release note out of the answer on changes: the same blocks as readable text and as Markdown."""

import re
from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from typing import Any, Literal

from api.answers.change_words import count_words
from kb.mixture.counting import so_many
from kb.namespaces import BASE
from kb.versions.changes import CAUTION_EVENTS

Answer = dict[str, Any]
BlockKind = Literal["title", "heading", "plant", "paragraph", "item", "table"]
RECORDS_SHOWN = 3
NOTHING = "Nothing changed."
NO_PROOF = "A warning that is gone, or was never written, is no proof that a plant is safe."
MARKS: dict[BlockKind, str] = {
    "title": "# ",
    "heading": "## ",
    "plant": "### ",
    "paragraph": "",
    "item": "- ",
}
VERDICT_ORDER = ("good", "workable", "poor", "avoid", "like")
_SPECIAL = re.compile(r"([\\`*_<>\[\]|#])")


@dataclass(frozen=True, slots=True)
class Block:
    """One piece of the note; a table has ``columns`` and ``rows``."""

    kind: BlockKind
    text: str = ""
    columns: tuple[str, ...] = ()
    rows: tuple[tuple[str, ...], ...] = ()


def note_of(answer: Answer, *, brief: bool = False) -> tuple[Block, ...]:
    """The whole note; ``brief`` leaves out what changed plant by plant."""
    return tuple(_blocks(answer, brief=brief))


def markdown(blocks: Sequence[Block]) -> str:
    """The note as Markdown; nothing that a record says is taken for markup."""
    parts: list[str] = []
    for at, block in enumerate(blocks):
        in_list = at > 0 and block.kind == blocks[at - 1].kind == "item"
        parts.append("" if at == 0 else "\n" if in_list else "\n\n")
        parts.append(_marked(block))
    return "".join(parts) + "\n"


def _marked(block: Block) -> str:
    if block.kind == "table":
        rows = (block.columns, ("---",) * len(block.columns), *(tuple(map(_escaped, r)) for r in block.rows))
        return "\n".join(f"| {' | '.join(row)} |" for row in rows)
    return MARKS[block.kind] + _escaped(block.text)


def _escaped(text: str) -> str:
    return _SPECIAL.sub(r"\\\1", text)


def _blocks(answer: Answer, *, brief: bool) -> Iterator[Block]:
    old, new = answer["versions"]["old"], answer["versions"]["new"]
    yield Block("title", "What changed in the knowledge base")
    yield Block(
        "paragraph",
        " ".join(
            f"{which}: {one['name']} ({one['how']}, version {one['dataset_version']}, "
            f"{so_many(one['plants'], 'plant')})."
            for which, one in (("Old", old), ("New", new))
        ),
    )
    yield from _left_out(answer)
    if not answer["changed"]:
        yield Block("paragraph", NOTHING)
        return
    yield from _cautions(answer)
    yield Block("heading", "In short")
    yield from (Block("item", line) for line in _in_short(answer))
    yield from _verdicts(answer)
    yield from _fates(answer)
    if not brief:
        yield from _plants(answer)
    yield Block("heading", "How this was judged")
    yield from (Block("item", note) for note in answer["notes"])


def _left_out(answer: Answer) -> Iterator[Block]:
    if not answer["left_out"]:
        return
    yield Block("heading", "Left out of both versions, because it is broken in one")
    for one in answer["left_out"]:
        line = f", line {one['line']}" if one["line"] else ""
        plant = f" Nothing is said here about {one['plant']}." if one["plant"] else ""
        yield Block("item", f"{one['side'].capitalize()}: {one['file']}{line}: {one['detail']}{plant}")
    yield Block("paragraph", "Mend these files and compare again ('traitbed check FOLDER' says how).")


def _cautions(answer: Answer) -> Iterator[Block]:
    yield Block("heading", "Warnings")
    told = sorted(answer["cautions"], key=lambda one: CAUTION_EVENTS.index(one["event"]) > 1)
    if not told:
        yield Block("paragraph", f"No warning came or went. {NO_PROOF}")
        return
    yield Block("paragraph", f"{_warnings_in_short(answer)} {NO_PROOF}")
    plant = None
    for one in told:
        if one["plant"] != plant:
            plant = one["plant"]
            yield Block("plant", _name(answer, plant))
        yield Block("item", f"{one['text']}{_records([one['id']])}")


def _in_short(answer: Answer) -> Iterator[str]:
    counts = answer["counts"]
    yield _warnings_in_short(answer)
    fates = [one["fate"] for one in answer["fates"]]
    if fates:
        words = ("added", "renamed", "gone")
        yield _sentence(*((fates.count(word), f"plant {word}", f"plants {word}") for word in words))
    yield from _values_in_short(counts)
    if counts["decisions"] or counts["decisions_gone"]:
        yield _sentence(
            (counts["decisions"], "decision taken", "decisions taken"),
            (counts["decisions_gone"], "decision no longer there", "decisions no longer there"),
        )
    if counts["searches_added"]:
        searches = _upper(count_words(counts["searches_added"], "search", "searches"))
        yield f"{searches} for warnings written down. To have found nothing is no proof of safety."
    verdicts = answer["verdicts"]
    if verdicts is not None:
        worse = sum(one["worse"] for one in verdicts["changed"])
        better = len(verdicts["changed"]) - worse
        got = f"{worse or 'none'} got worse and {better or 'none'} got better"
        yield f"Of {so_many(verdicts['tried'], 'pair')} tried, {got}."


def _warnings_in_short(answer: Answer) -> str:
    events = [one["event"] for one in answer["cautions"]]
    return _sentence(
        (events.count("retired"), "warning retired", "warnings retired"),
        (events.count("gone"), "warning gone", "warnings gone"),
        (events.count("reworded"), "warning worded anew", "warnings worded anew"),
        (events.count("added") + events.count("back"), "warning added", "warnings added"),
        none="No warning came or went",
    )


def _values_in_short(counts: dict[str, int]) -> Iterator[str]:
    yield _sentence(
        (counts["records_added"], "record added", "records added"),
        (counts["records_gone"], "record no longer there", "records no longer there"),
        none="No record came or went",
    )
    yield _sentence(
        (counts["values_new"], "value known for the first time", "values known for the first time"),
        (counts["values_gone"], "value no longer known", "values no longer known"),
        (counts["values_moved"], "value moved", "values moved"),
        (
            counts["values_in_more_or_less_doubt"],
            "value in more or less doubt",
            "values in more or less doubt",
        ),
        none="No value in use moved",
    )
    yield _sentence(
        (counts["surer"], "value surer", "values surer"),
        (counts["less_sure"], "value less sure", "values less sure"),
        none="No value is surer or less sure",
    )
    quiet = counts["values_within_noise"], counts["values_of_the_plant_above"]
    if any(quiet):
        yield (
            f"Not listed: {count_words(quiet[0], 'difference')} too small to mean anything, and "
            f"{count_words(quiet[1], 'value')} that a plant takes from the species it belongs to."
        )


def _sentence(*parts: tuple[int, str, str], none: str = "Nothing") -> str:
    said = [count_words(count, one, many) for count, one, many in parts if count]
    return f"{_upper(', '.join(said)) if said else none}."


def _verdicts(answer: Answer) -> Iterator[Block]:
    verdicts = answer["verdicts"]
    if verdicts is None:
        return
    yield Block("heading", "Verdicts that change")
    moved = [row for row in verdicts["table"] if row["from"] != row["to"]]
    same = verdicts["tried"] - sum(row["pairs"] for row in moved)
    if not moved:
        yield Block("paragraph", f"All {verdicts['tried']} pairs tried keep their word.")
        return
    yield Block("paragraph", f"{verdicts['tried']} pairs were tried. {same} keep their word.")
    order = sorted(moved, key=_worse_first)
    rows = tuple((row["from"], row["to"], str(row["pairs"])) for row in order)
    yield Block("table", columns=("Old word", "New word", "Pairs"), rows=rows)
    for worse, title in ((True, "Worse now"), (False, "Better now")):
        listed = [one for one in verdicts["changed"] if one["worse"] == worse]
        if listed:
            yield Block("plant", title)
            yield from (Block("item", _verdict(one)) for one in listed)


def _worse_first(row: Answer) -> tuple[bool, int, int]:
    was, now = (VERDICT_ORDER.index(row[end]) for end in ("from", "to"))
    worse = now > was
    return not worse, -now if worse else now, was


def _verdict(one: Answer) -> str:
    a, b = one["names"]
    pair = f"{_upper(b)} under a grown {a}" if one["setting"] == "under" else f"{_upper(a)} with {b}"
    near = ", a near thing" if one["near"] else ""
    said = [f"{pair}: {one['before']} → {one['after']} ({one['sureness']}{near})."]
    if one["limiting"]:
        said.append(f"What limits now: {_ended(_upper(one['limiting']['text']))}")
    elif one["limited"]:
        said.append(f"What limited before: {_ended(_upper(one['limited']))}")
    if one["did_it"]:
        told = ("; and " if one["needed"] else "; or ").join(
            f"{did['text']}{_records(did['records'])}" for did in one["did_it"]
        )
        said.append(f"What did it: {told}.")
    else:
        said.append("What did it: several values together.")
    if one["warned"]:
        said.append(f"There are warnings on {' and '.join(one['warned'])}: read them first.")
    return " ".join(said)


def _fates(answer: Answer) -> Iterator[Block]:
    titles = (("gone", "No longer there"), ("renamed", "Renamed"), ("added", "Added"))
    told = [
        (title, [one for one in answer["fates"] if one["fate"] == fate])
        for fate, title in titles
        if any(one["fate"] == fate for one in answer["fates"])
    ]
    enemies = answer["enemies"]
    if told or enemies["added"] or enemies["gone"]:
        yield Block("heading", "Plants, pests and diseases that came or went")
    for title, plants in told:
        names = (f"{one['was']}, now {one['name']}" if one["was"] else one["name"] for one in plants)
        yield Block("item", f"{title}: {'; '.join(names)}.")
    for side, title in (("gone", "Pests and diseases no longer there"), ("added", "New pests and diseases")):
        if enemies[side]:
            yield Block("item", f"{title}: {', '.join(enemies[side])}.")


def _plants(answer: Answer) -> Iterator[Block]:
    told = [(one, lines) for one in answer["plants"] if (lines := list(_plant(one)))]
    if not told:
        return
    yield Block("heading", "Plant by plant")
    for one, lines in told:
        yield Block("plant", _name(answer, one["plant"]))
        yield from (Block("item", line) for line in lines)


def _plant(one: Answer) -> Iterator[str]:
    """What changed first, then what is only surer or less sure, then what is known for the first time."""
    sure: dict[tuple[str, str], list[Answer]] = {}
    fresh: dict[str, list[Answer]] = {}
    for value in one["values"]:
        if value["kind"] == "new" and value["from"]:
            fresh.setdefault(value["from"], []).append(value)
        elif value["kind"] in {"same", "noise"}:
            sure.setdefault((value["sure"], value["because"]), []).append(value)
        else:
            yield value["text"]
    for (word, because), values in sure.items():
        yield f"{_upper(word)}: {_listed(values)}{because}."
    for source, values in fresh.items():
        yield f"Now known, from {source}: {_listed(values)}."
    for title, decisions in (("Decided", one["decisions"]), ("No longer decided", one["decisions_gone"])):
        for decision in decisions:
            trait = str(decision["trait"]).replace("-", " ")
            yield f"{title}, on {trait}: {_ended(decision['why'])}{_records([decision['id']])}"
    yield from one["hosts"]


def _listed(values: Sequence[Answer]) -> str:
    """Traits with their values, such as "mature height 24 m; leaf retention (deciduous)"."""
    return "; ".join(map(_trait_value, values))


def _trait_value(value: Answer) -> str:
    if value["after"] is not None and value["after"]["concept"]:
        return f"{value['label']} ({value['said']})"
    return f"{value['label']}{':' if value['label'][-1].isdigit() else ''} {value['said']}"


def _name(answer: Answer, plant: str | None) -> str:
    return _upper(str(answer["names"].get(plant, plant)))


def _records(records: Sequence[str | None]) -> str:
    short = [record.removeprefix(BASE).removeprefix("record.") for record in records if record]
    if not short:
        return ""
    more = f" and {len(short) - RECORDS_SHOWN} more" if len(short) > RECORDS_SHOWN else ""
    return f" [{', '.join(short[:RECORDS_SHOWN])}{more}]"


def _upper(text: str) -> str:
    return text[:1].upper() + text[1:]


def _ended(text: str) -> str:
    return text if text.endswith((".", "!", "?")) else f"{text}."
