"""A random sample of the shipped statements, re-read by hand in the raw inputs, holds what was read.

``random_sample.csv``: 100 cited records (at most 15 of a source), 20 cited cautions and 20 host
statements, drawn with ``random.Random(20261126)`` and compared with the named row of the source file
(paths below the shared data; lines counted from 1, the header being line 1) without the importers.
The expected values are those of the source rows.

``random_sample_2.csv`` has the same columns: a second draw of the same kind on 2026-11-26, by the same seed
from the larger base of that day, then 40 more by ``random.Random(20261127)`` after what was found had been
mended, and 20 of the cautions read one by one (first seed). No web page could be opened again: records known
from a page alone were ``replaced`` by the next of the draw and stand with their verdict "not read again";
"right by our compilation" was compared with the lines typed from the source (US characteristics, soil
reaction, published facts), not with the source itself; a caution "beyond the words kept" says more than the
printed words that were kept beside it.

``random_sample_5.csv`` has them too: a third draw on 2026-11-27 from the whole base of that day, by a reader
who had entered none of it. The records whose basis is neither recalled nor common practice were put in order
of their ids and shuffled by ``random.Random(20261201)``, at most 15 of a source taken, and the first 100
read; three whose row could not be reached were ``replaced``. 84 were compared with the data file, 16 with the
page or the copied table found again by search. 15 cautions (not recalled) and 10 host statements were drawn
in the same manner; those whose page was not reached were compared with the words kept. No value, unit or
class was wrong; what else was found was ``mended`` in every place it touched.

``random_sample_6.csv`` and ``random_sample_7.csv`` are the fourth and fifth draws, of 2026-11-27, by
``random.Random(20261202)`` and ``random.Random(20261203)``, each read by one who had entered none of
it: 94 and 96 of 100 were right before mending. One value was wrong (months read as dates), one kind of number
(plants of one year), the others in the description or address of a source, or in a condition.

``random_sample_8.csv`` is the sixth, of the same day, by ``random.Random(20261204)``, read by one who had
entered none of it: 95 of 100 were right before mending, all were reached. No number was wrong; a fern had a
class of flowering, a tap root was one that its side roots outgrow, a note called a measured depth that of the
pot, one name was cut short and one address was that of an anonymous copy.

``random_sample_9.csv`` is the seventh, of the same day, by ``random.Random(20261205)``, read by one who had
entered none of it: 94 of 100 were right before mending, two pages were not reached. No number was misread:
young trees stood as a range beside grown ones, the greatest depth of a study as a single one, a name held
words of ours and the words kept were not the printed ones, and in one the words stopped before the number.

``random_sample_10.csv`` is the eighth, of the same day, by ``random.Random(20261206)``, read by one who had
entered none of it: 96 of 100 were right before mending, all were reached. No number was misread: two were of
a genus or of several plants together and did not say so, one had a name and words that the table does not
print, and the description of one source said more than its pages do.

``random_sample_11.csv`` is the ninth, of the same day, by ``random.Random(20261207)``, read by one who had
entered none of it: 97 of 100 were right before mending; one page was not reached and its record compared with
the words kept. No number was misread: the end of a season that crosses the year was a tenth of a week late by
rounding, a width was a maximum though its words set no bound, and a source lacked the year of its citation.

``random_sample_12.csv`` is the tenth, of the same day, by ``random.Random(20261208)``, read by one who had
entered none of it: 90 of 100 were right before mending, all were reached. No number was misread. Four
locators named columns that begin after the one read, three records were of a table of which the source did
not say how it was read, a place was not the printed one, one depth stood in another paragraph and its words
had lost a "may be", and of one width the words were not the printed ones and had lost "or more".

``random_sample_13.csv`` is the eleventh, of the same day, by ``random.Random(20261209)``, after every row of
the readings and of the published facts had been read by somebody else and the sets had been gone through
column by column; two readers, who had entered none of it, read a half each: 97 of 100 were right before
mending, one page was not reached. No number was misread: one place was told short, and one source had the
address of another plant's page.

``random_sample_14.csv`` is the twelfth, of the same day, by ``random.Random(20261210)``; two readers, who had
entered none of it, read a half each, each word of a description too: 86 of 100 were right before mending, all
were reached. No number was misread. Four locators cut a printed column short, three named two sections of a
page or a place told short, two depths had a method that a footnote contradicts, two life cycles rested on a
key that was not seen and did not say so; the others were a count left untold, a name put together and a card.

``random_sample_15.csv`` is the thirteenth, of the same day, by ``random.Random(20261211)``, after what the
twelfth showed had been mended; two readers, who had entered none of it, read a half each: 86 of 100 were
right before mending, all were reached. No number was misread. Nine were at fault in wording only (a name put
together, a mark or a note cut short, a place that stands three times); of the others one card had no
address, two names held more than is printed, one method and one region said more than the source, and one
height had lost a "can reach".

``random_sample_16.csv`` is the fourteenth, of the day after, by ``random.Random(20261212)``, after what the
thirteenth showed had been mended; two readers, who had entered none of it, read a half each: 93 of 100 were
right before mending, all were reached. No number, unit or class was misread. Of the seven three were at fault
in wording only (two cards and a heading not as printed); two places were told short or wider than the rows
are of, one peak was that of a dry year and did not say so, and one height had lost "depending on pruning".
An eighth was overlooked and found later: a depth of roots whose deepest row stands under an old name.

``random_sample_17.csv`` is the fifteenth, of the same day, by ``random.Random(20261213)``, after what the
fourteenth showed had been mended; two readers, who had entered none of it, read a half each: 90 of 100 were
right before mending, all were reached. No value, unit, name or locator was wrong: four conditions were told
short or too wide (a narrow species, cultivars, two kinds of stand), four cards lacked a year, a folder, a
title's end or the page's own address, and two were at fault in wording only.

``random_sample_18.csv`` is the sixteenth, of the day after, by ``random.Random(20261214)``, after what the
fifteenth showed had been mended; two readers, who had entered none of it, read a half each: 91 of 100 were
right before mending, all were reached. No value, unit or class was wrong. Two names were not as printed (a
scientific one for "apple", a gromwell without its misprint), one locator was the front page of a flora whose
treatments have their own; two conditions were told short or held a place that only the authors' address
names, and four cards named their publisher or compiler wrongly.

``random_sample_19.csv`` is the seventeenth, of the same day, by ``random.Random(20261215)``; two readers, who
had entered none of it, read a half each: 87 of 100 were right before mending, all were reached. No value,
unit or class was wrong; one name and three locators were not as printed (front pages, a section), four
conditions were told short or too wide, three cards were at fault, two in wording only.

``random_sample_20.csv`` is the eighteenth, of 2026-11-28, by ``random.Random(20261216)``, after the places of
abstracts, the locators of front pages and most cautions had been read again; two readers, who had entered
none of it, read a half each: 90 of 100 were right before mending, all were reached. No number, unit, class or
name was wrong. A treatment, a place and the kind of a yield were not told as printed, one address was the
front of a guide, four cards named two pages, no copy or no key, and two words were not as printed.

``random_sample_21.csv`` is the nineteenth, of 2026-11-28, by ``random.Random(20261217)``, read in halves as
the one before: 94 of 100 were right before mending, all were reached. No number, unit, class or name was
wrong. One locator was a name under the front page of a flora, two cards led to no copy or to a comparison of
revisions, the condition of a table's fraction was not told, and two notes made a month of a class and lost
its half.

``random_sample_22.csv`` is the twentieth, of the same day, by ``random.Random(20261218)``, after front pages,
copies and misspelt names had been read again; read in halves: 95 of 100 were right before mending, all were
reached. No number, unit, class, printed name or locator was wrong. A height of trees on seedlings stood under
a clone, told in its note alone; three cards lacked an author or a place; one word was not as printed.

``random_sample_23.csv`` is the twenty-first, of 2026-11-28, by ``random.Random(20261219)``, after the plants
and conditions of all records had been gone through (neighbouring stocks, cultivars, conditions told in notes
alone): two readers, who had entered none of it, read a half each: 96 of 100 were right before mending, all
were reached. No value, unit, class or kind of number was wrong: one name stood in another order than printed
and its locator was no address, one name had lost its middle, one record named a count of plants that was
ours, and of one card the page could not be reached.

``random_sample_24.csv`` is the twenty-second, of the same day, by ``random.Random(20261220)``, read in
halves: 88 of 100 were right before mending, one page was not reached and its record compared with the words
kept. No value, unit, class or printed name was wrong. Four locators led to a front page or to the heading
above the right one; a site, a cultivar, a preference and a count of dates were not told, two places were not
the printed ones, one card lacked its publisher and one note its second factor.

``random_sample_25.csv`` to ``random_sample_27.csv`` are the twenty-third to the twenty-fifth, of 2026-11-28,
by ``random.Random(20261221)``, ``(20261222)`` and ``(20261223)``, read in halves: 95, 94 and 91 of 100 were
right before mending, two pages of the second were not reached. No value, unit or class was wrong; five
locators led a reader astray (two of them to a column or field untold), one name held words of ours; all else
was of conditions, wording and cards.
"""

import csv
from collections.abc import Mapping
from decimal import Decimal
from pathlib import Path

import pytest

from kb.model import Caution, Record
from kb.repository import open_repository
from kb.statements.enemy_model import HostStatement

SAMPLES = {
    "random_sample.csv": (100, 20, 20, 0),
    "random_sample_2.csv": (140, 20, 0, 2),
    "random_sample_5.csv": (100, 15, 10, 3),
    "random_sample_6.csv": (100, 0, 0, 0),
    "random_sample_7.csv": (100, 0, 0, 0),
    "random_sample_8.csv": (100, 0, 0, 0),
    "random_sample_9.csv": (100, 0, 0, 0),
    "random_sample_10.csv": (100, 0, 0, 0),
    "random_sample_11.csv": (100, 0, 0, 0),
    "random_sample_12.csv": (100, 0, 0, 0),
    "random_sample_13.csv": (100, 0, 0, 0),
    "random_sample_14.csv": (100, 0, 0, 0),
    "random_sample_15.csv": (100, 0, 0, 0),
    "random_sample_16.csv": (100, 0, 0, 0),
    "random_sample_17.csv": (100, 0, 0, 0),
    "random_sample_18.csv": (100, 0, 0, 0),
    "random_sample_19.csv": (100, 0, 0, 0),
    "random_sample_20.csv": (100, 0, 0, 0),
    "random_sample_21.csv": (100, 0, 0, 0),
    "random_sample_22.csv": (100, 0, 0, 0),
    "random_sample_23.csv": (100, 0, 0, 0),
    "random_sample_24.csv": (100, 0, 0, 0),
    "random_sample_25.csv": (100, 0, 0, 0),
    "random_sample_26.csv": (100, 0, 0, 0),
    "random_sample_27.csv": (100, 0, 0, 0),
}
"""Each with how many of its rows are of each of `KINDS`."""
KINDS = ("record", "caution", "host statement", "replaced")
REMOVED = "wrong, removed"
NOT_READ = "not read again"


def rows_of(name: str) -> list[dict[str, str]]:
    with Path(__file__).with_name(name).open(encoding="utf-8", newline="") as table:
        return list(csv.DictReader(table))


@pytest.fixture(scope="module")
def sample() -> list[dict[str, str]]:
    return [row for name in SAMPLES for row in rows_of(name)]


@pytest.fixture(scope="module")
def shipped() -> Mapping[str, Record | Caution | HostStatement]:
    snapshot = open_repository(None).snapshot()
    found: dict[str, Record | Caution | HostStatement] = {}
    for plant in snapshot.plants.values():
        found.update({record.id: record for record in plant.records})
        found.update({caution.id: caution for caution in plant.cautions})
    for thing in snapshot.enemies.values():
        found.update({said.id: said for said in thing.statements if isinstance(said, HostStatement)})
    return found


def said(statement: Record | Caution | HostStatement) -> tuple[Decimal | str | None, ...]:
    if isinstance(statement, Record):
        numbers = (statement.low, statement.likely, statement.high)
        return (statement.plant, *numbers, ";".join(statement.concepts))
    if isinstance(statement, Caution):
        return (statement.plant, None, None, None, statement.kind)
    words = [statement.role, *([statement.severity] if statement.severity else [])]
    return (statement.plant, None, None, None, ";".join(words))


@pytest.mark.parametrize(("name", "counts"), SAMPLES.items())
def test_the_sample_is_whole(name: str, counts: tuple[int, ...]) -> None:
    """Nothing was left out of a sample after it was drawn, and each row says where it was read."""
    rows = rows_of(name)
    kinds = [row["kind"] for row in rows]

    assert counts == tuple(kinds.count(kind) for kind in KINDS)
    assert [] == [row["record"] for row in rows if not (row["source_file"] and row["row"])]
    assert len(rows) == len({row["record"] for row in rows})


def test_audited_statements_still_say_what_their_rows_say(
    sample: list[dict[str, str]], shipped: Mapping[str, Record | Caution | HostStatement]
) -> None:
    """Plant, numbers and words of each statement that was found right or was mended."""
    expected = {
        row["record"]: (
            row["plant"],
            *(Decimal(row[end]) if row[end] else None for end in ("low", "likely", "high")),
            row["says"],
        )
        for row in sample
        if row["verdict"] not in {REMOVED, NOT_READ}
    }

    assert expected == {name: said(shipped[name]) for name in expected if name in shipped}


def test_what_is_not_plainly_right_says_what_was_found(sample: list[dict[str, str]]) -> None:
    """A reader learns from the row itself why its verdict is not "right"."""
    assert [] == [r["record"] for r in sample if not r["verdict"].startswith("right") and not r["finding"]]


def test_what_was_found_wrong_is_gone(
    sample: list[dict[str, str]], shipped: Mapping[str, Record | Caution | HostStatement]
) -> None:
    """A statement found wrong may not come back with the next import."""
    assert [] == [r["record"] for r in sample if r["verdict"] == REMOVED and r["record"] in shipped]
