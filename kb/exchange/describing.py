"""What every export says of itself: what it is, its version, rights, and the credits it must carry on."""

from datetime import date

from kb.mixture.counting import so_many
from kb.model import Source
from kb.snapshot import Snapshot

TITLE = "traitbed: cited traits of temperate edible plants and their neighbours"
FIRST_DAY = date(1980, 1, 1)
"""What a data set without any dated entry is dated (the first day that a zip entry can carry)."""
WHAT_IT_IS = """
Each record is one statement by one source about one trait of one plant, with the printed words, the place
in the source and how it was read. Sources disagree; nothing is averaged here, and the values that the
program adopts from the records are computed, not part of this file.

A record whose basis is 'recalled' or 'common-practice' has no citation behind it and says so. No caution on
record is not the same as safe: nothing here identifies a plant or says that one may be eaten; local rules
and poison centres come first.
"""
RIGHTS = """
The records are single facts, each cited to the source it was read from, and each source keeps its own
licence, named beside every record. Whoever passes the data on keeps citation, licence and credit line with
each record.

Sources of tier A may be passed on as a whole under their licence. Of sources of tier B single facts are
cited here; their tables as a whole are their publishers': ask there before taking more.

What the traitbed contributors added (selection, conversion, identifiers, texts) is under the MIT License,
https://spdx.org/licenses/MIT.
"""


def paragraphs(text: str) -> list[str]:
    """The paragraphs of a text that is wrapped for reading in the code."""
    return [" ".join(part.split()) for part in text.strip().split("\n\n")]


def newest_entry(snapshot: Snapshot) -> date:
    """The day of the newest record, caution, decision or statement."""
    days = [FIRST_DAY]
    for plant in snapshot.plants.values():
        days += [record.entered_on for record in plant.records]
        days += [caution.entered_on for caution in plant.cautions]
        days += [decision.decided_on for decision in plant.decisions]
    days += [said.entered_on for said in snapshot.statements()]
    return max(days)


def what_it_is(snapshot: Snapshot) -> list[str]:
    """The data set in a few sentences, its version and counts first."""
    plants = snapshot.plants.values()
    records = sum(len(plant.records) for plant in plants)
    cautions = sum(len(plant.cautions) for plant in plants)
    counted = (
        f"Data set version {snapshot.version}: {so_many(len(plants), 'plant')}, "
        f"{so_many(records, 'trait record')}, {so_many(cautions, 'caution')}, "
        f"{so_many(len(snapshot.statements()), 'statement')} on pests, diseases and what plants give off, "
        f"from {so_many(len(snapshot.sources), 'source')}."
    )
    return [counted, *paragraphs(WHAT_IT_IS)]


def rights() -> list[str]:
    """Under what terms the data may be used."""
    return paragraphs(RIGHTS)


def credit_lines(snapshot: Snapshot) -> list[str]:
    """One line a source: what to credit, and under which licence it stands."""
    return [credit_line(source) for source in snapshot.sources.values()]


def credit_line(source: Source) -> str:
    licence = f"{source.licence} ({source.licence_iri})" if source.licence_iri else source.licence
    return f"{source.key}: {source.credit.rstrip('.')}. Licence: {licence}. Tier {source.tier}."
