"""The README.txt of an archive: what a reader needs who has nothing but the files."""

import textwrap
from collections.abc import Iterable, Iterator
from typing import get_args

from kb.exchange.archive_layout import EXTENSIONS, TAXA, Layout
from kb.exchange.describing import TITLE, credit_lines, paragraphs, rights, what_it_is
from kb.model import Basis, NumberKind, Standing, Trait
from kb.namespaces import BASE
from kb.snapshot import Snapshot

WIDTH = 96
BASES = {
    "read-in-source": "read in the work itself",
    "read-in-transcription": "read in a transcription of the work",
    "read-in-excerpt": "read in an abstract or excerpt",
    "second-hand": "read in another work that cites it",
    "common-practice": "what growers commonly do; no citation",
    "recalled": "recalled from memory and not verified; no citation",
    "derived": "computed or judged from other records",
}
KINDS = {
    "single": "one observation",
    "mean": "a mean",
    "median": "a median",
    "range": "lowest and highest",
    "maximum": "the largest on record",
    "minimum": "the smallest on record",
    "class": "a class on the scale that the trait names",
    "floor": "at least this much: the true value lies above",
    "ceiling": "at most this much: the true value lies below",
    "expert": "an expert's judgement",
    "membership": "belongs to this kind",
    "model-limit": "a parameter of a crop model, not an observation",
}
STANDINGS = {
    "proposed": "entered and not yet decided on",
    "accepted": "taken by a curator's decision",
    "outweighed": "kept, but another record was preferred",
    "superseded": "kept, but replaced by a later record",
    "rejected": "kept, but found to be wrong",
}
ARCHIVE = """
This is a Darwin Core Archive (TDWG text guide): meta.xml describes the tables, eml.xml the data set. All
tables are comma-separated UTF-8 with one header line; a cell with commas, quotation marks or line breaks is
quoted. Their first column names the plant (taxonID).
"""
CELLS = f"""
An empty cell means that nothing is on record; it never means zero or no.

Several entries in one cell have | between them; a | or backslash inside an entry has a backslash before it.

measurementValue says in one text what minValue, likelyValue and maxValue (or the weeks, or concept) hold
exactly. Numbers are in measurementUnit. An end that is empty was not stated.

A window runs from startWeek to endWeek (week 1 begins on 1 January, week 2 on 8 January; decimals are parts
of a week). Where startWeek is larger than endWeek it runs over the turn of the year.

verbatim is what the source prints, nameAsPrinted the name it prints; both are left as they are.

An id in sourceKey stands in reference.csv; {BASE} and the rest of an address name a thing, they need not
open in a browser.

Row order says nothing, save that the preferred common name comes first.
"""


def readme(snapshot: Snapshot) -> str:
    """The whole text, wrapped, with what each file, column value and trait means."""
    lines = [TITLE, "=" * len(TITLE), ""]
    for paragraph in what_it_is(snapshot):
        lines += [*textwrap.wrap(paragraph, WIDTH), ""]
    lines += _heading("Rights")
    for paragraph in rights():
        lines += [*textwrap.wrap(paragraph, WIDTH), ""]
    lines += _heading("The files")
    lines += _item(*paragraphs(ARCHIVE))
    for layout in (TAXA, *EXTENSIONS):
        lines += _item(f"{layout.file}: {layout.says} Row type {layout.row_type}.")
    lines += ["", *_heading("How to read a cell"), *_cells(), ""]
    lines += _heading("Our own columns")
    for column in dict.fromkeys(c for layout in (TAXA, *EXTENSIONS) for c in _own_columns(layout)):
        lines += _item(f"{column}: {OWN[column]}")
    for title, known, listed in (
        ("basis: how a statement was read", BASES, get_args(Basis)),
        ("numberKind: what kind of number it is", KINDS, get_args(NumberKind)),
        ("standing: what became of a statement", STANDINGS, get_args(Standing)),
    ):
        lines += ["", *_heading(title)]
        for name in listed:
            lines += _item(f"{name}: {known[name]}")
    lines += ["", *_heading("Traits")]
    for trait in snapshot.vocabulary.traits.values():
        lines += _item(_trait(snapshot, trait))
    lines += ["", *_heading("Credits and licences")]
    for line in credit_lines(snapshot):
        lines += _item(line)
    return "\n".join(lines) + "\n"


def _heading(title: str) -> list[str]:
    return [title, "-" * len(title)]


def _item(text: str) -> list[str]:
    return textwrap.wrap(
        text,
        WIDTH,
        initial_indent="- ",
        subsequent_indent="  ",
        break_long_words=False,
        break_on_hyphens=False,
    )


def _cells() -> Iterator[str]:
    for text in paragraphs(CELLS):
        yield from _item(text)


def _own_columns(layout: Layout) -> Iterable[str]:
    return (column.name for column in layout.columns if column.term == BASE + column.name)


OWN = {
    "plantingGroup": "what the plant is grown as",
    "sourceKey": "the source, see reference.csv",
    "minValue": "the lower end",
    "likelyValue": "the one value, or the likeliest",
    "maxValue": "the upper end",
    "startWeek": "first week of a window",
    "likelyWeek": "the one week of a window that states only one",
    "endWeek": "last week of a window",
    "concept": "the value where it is a kind and not a number; see Traits",
    "numberKind": "what kind of number it is, see below",
    "condition": "under what conditions it holds: key=value (method, study, place, age, stock, scope ...)",
    "locator": "page, table, row or record in the source",
    "verbatim": "the value as the source prints it",
    "nameAsPrinted": "the plant's name as the source prints it",
    "basis": "how it was read, see below",
    "standing": "what became of it, see below",
    "enteredBy": "who entered it",
    "enteredOn": "the day it was entered",
    "caution": "the caution's id",
    "cautionKind": "toxic, food-use (must be prepared), lookalike, skin, allergen, thorn, livestock, "
    "invasive, prohibited",
    "text": "the warning",
    "part": "the part of the plant",
    "agent": "the substance",
    "affectedGroup": "who is at risk",
    "place": "where it holds; in decision.csv the place of the record in the decision",
    "asOf": "the date of the law or list",
    "lookalike": "the plant it is mistaken for",
    "decision": "the decision's id",
    "decidedBy": "who decided",
    "decidedOn": "the day of the decision",
    "why": "the reason given",
    "record": "the id of the record that was weighed",
    "role": "what the decision made of it: preferred, accepted, outweighed, superseded, rejected",
    "statement": "the statement's id",
    "enemy": "the id of the pest or disease",
    "enemyName": "its name",
    "organism": "the organism behind it",
    "enemyKind": "bacterium, fungus, oomycete, protist, virus, nematode, insect, mite, complex (several)",
    "attacks": "the parts it is known by",
    "hostRole": "main, side or alternate host; resistant; non-host",
    "severity": "serious, moderate or slight, where the source says so",
    "travelsBy": "air, soil, water, vector, contact, planting-stock, seed",
    "minDistance": "metres, lower end",
    "maxDistance": "metres, upper end",
    "distanceMeaning": "what the distance is between",
    "minYears": "years, lower end",
    "maxYears": "years, upper end",
    "yearsMeaning": "survival in the ground, advised rotation, or length of its course",
    "yearsAsPrinted": "the years as the source prints them",
    "region": "where the source says it holds",
    "statementScope": "taxon: this plant is named; group: its genus or crop; family: its whole family; "
    "unnamed: it stands for plants that the source does not name",
    "enemyAsPrinted": "the enemy's name as the source prints it",
    "emission": "the id of the substance given off",
    "emissionName": "its name",
    "emitter": "the plant that gives it off",
    "strength": "how much of it, 0 to 3 (our judgement)",
    "actsThrough": "living: the standing plant; residues: what it leaves in the ground",
    "minReach": "metres from the emitter where harm is commonly reported",
    "maxReach": "metres from the emitter, the farthest that harm is reported",
    "listedAs": "sensitive or tolerant",
    "evidenceGrade": "A field, B pots or second-hand, C laboratory, D advice or a list",
    "note": "a remark by whoever entered it",
    "observation": "the observation's id",
    "trait": "the trait's id, see Traits",
    "lowEnd": "lower end, in the trait's unit; first week of a window",
    "likely": "the one value, or the likeliest",
    "highEnd": "upper end, in the trait's unit; last week of a window",
    "observer": "who saw it",
    "observedOn": "the day it was seen",
    "ageYears": "years since planting",
    "stock": "the rootstock",
    "procedure": "how it was measured",
    "quality": "measured or estimated",
    "qualityNote": "a remark on the quality",
    "withdrawal": "the withdrawal's id",
    "withdraws": "what is taken back",
    "review": "the review's id",
    "verdict": "retire or keep",
    "search": "the search's id",
    "searchedBy": "who searched",
    "searchedOn": "the day of the search",
    "queries": "what was asked, as it was sent",
    "pages": "what was opened and read",
    "outcome": "found or nothing-found",
    "creditLine": "the line of credit to carry on",
    "tier": "A: the source may be passed on whole; B: single facts are cited",
    "howRead": "how the source was read",
}
"""What each column of our own holds."""


def _trait(snapshot: Snapshot, trait: Trait) -> str:
    words = f"{trait.label} ({trait.id}): {trait.definition}"
    if trait.unit_label:
        words += f" Unit: {trait.unit_label}."
    concepts = snapshot.vocabulary.concepts.get(trait.scheme or "", {})
    if concepts and trait.id != "family":
        words += " Values: " + "; ".join(f"{c.id} = {c.definition}" for c in concepts.values())
    return words
