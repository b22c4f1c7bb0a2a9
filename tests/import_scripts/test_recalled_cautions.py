"""Warnings recalled from memory: they warn, they never reassure, and they never pass for cited ones."""

import csv
import re
from collections import Counter
from collections.abc import Callable, Mapping
from datetime import date
from pathlib import Path

import pytest

from import_scripts.base import CautionDraft, Refused, Statement
from import_scripts.merge import merge
from import_scripts.recalled_cautions.importer import IMPORTER, WARNINGS
from import_scripts.registry import importers
from kb.model import Plant
from kb.turtle import plant_to_turtle

Written = Callable[..., Path]
Stated = Callable[[str, Path], list[Statement]]
HEADER = "plant_id,kind,part,agent,group,place,as_of,lookalike,text\n"

CALMING = (
    "safe",
    "harmless",
    "edible",
    "non-toxic",
    "nontoxic",
    "not poisonous",
    "not toxic",
    "not harmful",
    "no danger",
    "no risk",
    "low risk",
    "no harm",
    "no concern",
    "can be eaten",
    "may be eaten",
    "good to eat",
    "mild",
    "rarely",
    "innocuous",
)

MAGAZINE = [
    "Aesculus",
    "Asparagus",
    "Chelidonium",
    "Colocasia",
    "Coriaria",
    "Digitalis",
    "Echium",
    "Euonymus",
    "Ficus",
    "Gaultheria",
    "Hedera",
    "Hyacinthoides",
]
"""Genera called poisonous or irritant, A to H as far as read and as far as held here, in the list
"Potentially harmful garden plants" (amateurgardening.com/how-to/potentially-harmful-garden-plants,
read in an excerpt)."""

HEDGES = [
    "Aesculus",
    "Euonymus",
    "Ligustrum",
    "Prunus-laurocerasus",
    "Prunus-lusitanica",
    "Rhamnus",
    "Symphoricarpos",
    "Taxus",
    "Frangula",
]
"""Hedge plants that a nursery names after the list of harmful plants of its trade association
(glebefarmhedging.co.uk, page "Poisonous Plants", read in an excerpt)."""

OFFICIAL = ["Digitalis-purpurea", "Frangula-alnus", "Hedera-helix", "Phaseolus-coccineus", "Taxus-baccata"]
"""Plants of the German official list of poisonous plants (Bundesanzeiger 2000-05-06 no. 86 p. 8517),
as the published cautions of this project cite it (source giznord-list), with poison that acts on eating."""

KNOWN = [
    "galanthus-nivalis",
    "eranthis-hyemalis",
    "ficaria-verna",
    "leucojum-aestivum",
    "fritillaria-meleagris",
    "anemone-nemorosa",
    "clematis-vitalba",
    "vinca-minor",
    "asarum-europaeum",
    "cytisus-scoparius",
    "galega-officinalis",
    "wisteria-floribunda",
    "juniperus-sabina",
    "dioscorea-communis",
    "papaver-somniferum",
    "manihot-esculenta",
    "phaseolus-lunatus",
    "solanum-lycopersicum",
    "dryopteris-filix-mas",
    "eupatorium-cannabinum",
]
"""Plants that no published caution here calls poisonous; chosen from memory, not from the table."""


@pytest.fixture(scope="module")
def rows() -> list[dict[str, str]]:
    with (IMPORTER.carried / "cautions.csv").open(encoding="utf-8", newline="") as table:
        return list(csv.DictReader(table, strict=True))


@pytest.fixture
def drafts(stated: Stated) -> list[CautionDraft]:
    said = stated("recalled-cautions", IMPORTER.carried)
    assert [] == [one for one in said if isinstance(one, Refused)]
    return [one for one in said if isinstance(one, CautionDraft)]


def test_every_row_is_recalled_and_names_our_own_source(
    rows: list[dict[str, str]], drafts: list[CautionDraft]
) -> None:
    """Nothing from memory may look cited: one basis, one source that says so, one record per row."""
    assert len(rows) == len(drafts) > 0
    assert {"recalled"} == {draft.basis for draft in drafts}
    assert {WARNINGS.key} == {draft.source for draft in drafts}
    assert "memory" in WARNINGS.citation
    assert "unverified" in WARNINGS.citation


def test_no_row_reassures(rows: list[dict[str, str]]) -> None:
    """data.md, section 3: recalled is "never for a caution that reassures" (word list of this test)."""
    calming = re.compile(r"\b(?:un)?(?:" + "|".join(CALMING) + r")(?:ly|r)?\b", re.IGNORECASE)

    assert [] == [
        (row["plant_id"], found[0]) for row in rows for found in calming.finditer(" ".join(row.values()))
    ]


def test_each_row_says_whom_or_where_and_what(rows: list[dict[str, str]]) -> None:
    """A look-alike is named; a law has place and date; any other harm has a group and a part."""
    law = {"invasive", "prohibited"}

    assert [] == [row for row in rows if row["kind"] == "lookalike" and not row["lookalike"]]
    assert [] == [
        row for row in rows if row["kind"] in law and not (row["place"] and "memory" in row["as_of"])
    ]
    assert [] == [
        row for row in rows if row["kind"] in law and "check the law where you are" not in row["text"]
    ]
    assert [] == [row for row in rows if row["kind"] not in law and not (row["group"] and row["part"])]


def test_sentences_are_short(rows: list[dict[str, str]]) -> None:
    """Readers of 12 to 14 (our measure: at most 30 words from one full stop or semicolon to the next)."""
    long = [
        sentence
        for row in rows
        for sentence in re.split(r"[.;:] ?", row["text"])
        if len(sentence.split()) > 30
    ]

    assert [] == long


def test_a_row_keeps_its_place_when_others_are_added(drafts: list[CautionDraft]) -> None:
    """Each locator stands once, and none counts lines."""
    places = Counter(draft.locator for draft in drafts)

    assert [] == [place for place, times in places.items() if times > 1]
    assert not any(re.search(r"\bline \d|\brow \d", place) for place in places)


@pytest.mark.parametrize("named", sorted({*MAGAZINE, *HEDGES, *OFFICIAL, *KNOWN}))
def test_plants_that_others_call_poisonous_have_a_warning(
    named: str, drafts: list[CautionDraft], shipped_plants: tuple[Plant, ...]
) -> None:
    """Every plant here of a genus or species on the lists above is warned of (sources beside each)."""
    stem = named.lower()
    held = {plant.id for plant in shipped_plants if plant.id == stem or plant.id.startswith(f"{stem}-")}
    warned = {draft.plant for draft in drafts if draft.kind in {"toxic", "skin", "food-use"}}

    assert held
    assert set() == held - warned


def test_a_second_import_on_another_day_changes_no_byte(
    drafts: list[CautionDraft], shipped_plants: tuple[Plant, ...]
) -> None:
    """Merged twice, the files of all plants stay as they were, dates of entry included."""
    by_plant: Mapping[str, list[CautionDraft]] = {plant.id: [] for plant in shipped_plants}
    for draft in drafts:
        by_plant[draft.plant].append(draft)
    by, added = IMPORTER.key, 0
    for plant in shipped_plants:
        first = merge(plant, by_plant[plant.id], importer=by, on=date(2026, 11, 25))
        second = merge(first.plant, by_plant[plant.id], importer=by, on=date(2026, 12, 24))
        added += len(first.cautions.added)
        assert (len(by_plant[plant.id]), (), ()) == (
            second.cautions.unchanged,
            second.cautions.added,
            second.cautions.absent,
        )
        assert plant_to_turtle(first.plant) == plant_to_turtle(second.plant)

    assert len(drafts) == added


def test_the_importer_is_registered() -> None:
    """It can be run by its key, and reads a table that the project carries."""
    assert importers()["recalled-cautions"] is IMPORTER
    assert IMPORTER.carried.joinpath("cautions.csv").is_file()


@pytest.mark.parametrize(
    ("row", "reason"),
    [
        ("malus-imaginaria,toxic,seed,,people,,,,Poisonous.\n", "no plant 'malus-imaginaria'"),
        ("malus-domestica,scary,seed,,people,,,,Poisonous.\n", "'scary' is no kind"),
        ("malus-domestica,toxic,seed,,people,,,,\n", "says nothing"),
        ("malus-domestica,toxic,seed,,people,,,,The pulp is safe.\n", "'safe' reassures"),
        ("malus-domestica,toxic,seed,,people,,,,The pulp can be eaten.\n", "'can be eaten' reassures"),
        ("malus-domestica,lookalike,fruit,,people,,,,Looks like another.\n", "names no look-alike"),
        ("malus-domestica,invasive,,,,,,,Listed somewhere.\n", "a place and a date"),
    ],
)
def test_a_row_that_is_no_warning_is_refused_with_the_reason(
    written: Written, stated: Stated, row: str, reason: str
) -> None:
    """Invented rows: the reason names what is wrong, and the mending is said."""
    (found,) = stated("recalled-cautions", written({"cautions.csv": HEADER + row}))

    assert isinstance(found, Refused)
    assert reason in found.reason
    assert found.mend
    assert 2 == found.row
