"""Shipped FAO-56 records against another encoding of the same tables.

Source of the expected numbers: Allen et al. 1998, FAO Irrigation and Drainage Paper 56, tables 11, 12
and 22, as encoded in the tables of the pyfao56 package (USDA-ARS, CC0), read at test time.
"""

import re
from collections.abc import Iterator
from decimal import Decimal
from pathlib import Path
from typing import Any

import pytest
from pyfao56 import model
from pyfao56.tools.tables import FAO56Tables

from kb.ids import SourceKey
from kb.model import Record
from kb.repository import open_repository

LABEL = re.compile(r"Table (\d+), row (\d+), '(.+)'")


@pytest.fixture(scope="module")
def records() -> list[Record]:
    """Every shipped record read from FAO-56."""
    plants = open_repository().snapshot().plants.values()
    return [r for plant in plants for r in plant.records if r.source.startswith("fao56-")]


def rows(table: Any) -> dict[str, list[dict[str, str]]]:
    """The package's rows by label (labels recur: one crop, several regions)."""
    found: dict[str, list[dict[str, str]]] = {}
    for row in table.to_dict("records"):
        texts = {key: str(value).strip() for key, value in row.items()}
        found.setdefault(texts["Crop"], []).append(texts)
    return found


def labelled(records: list[Record], source: str, trait: str) -> Iterator[tuple[Record, str]]:
    """Records of one table and trait with the label their locator names."""
    for record in records:
        if record.source == source and record.trait == trait:
            found = LABEL.match(record.locator)
            assert found is not None, record.locator
            yield record, found[3]


def test_rooting_depths_are_those_of_table_22(records: list[Record]) -> None:
    """Both ends of every effective rooting depth, in metres as printed."""
    table = rows(FAO56Tables().table22)
    compared = [
        (
            record.id,
            (record.low, record.high),
            {(Decimal(r["Zrmax1"]), Decimal(r["Zrmax2"])) for r in table[label]},
        )
        for record, label in labelled(records, "fao56-t22", "effective-rooting-depth")
    ]

    assert len(compared) > 60
    assert [] == [(record, ends) for record, ends, printed in compared if ends not in printed]


def test_depletion_fractions_are_those_of_table_22(records: list[Record]) -> None:
    """Every depletion fraction p."""
    table = rows(FAO56Tables().table22)
    compared = [
        (record.id, record.likely, {Decimal(r["pbase"]) for r in table[label]})
        for record, label in labelled(records, "fao56-t22", "depletion-fraction")
    ]

    assert len(compared) > 60
    assert [] == [(record, p) for record, p, printed in compared if p not in printed]


def test_the_source_tells_for_which_water_use_the_fraction_is() -> None:
    """FAO-56, page 162, as the model of pyfao56 has it: p = pbase + 0.04 (5 - ETc)."""
    formula = re.search(
        r"io\.pbase\+0\.04\*\((\d)\.0-io\.ETc\)", Path(str(model.__file__)).read_text("utf-8")
    )
    source = open_repository().snapshot().sources[SourceKey("fao56-t22")]

    assert formula is not None
    assert f"depletion fraction at a water use of some {formula[1]} mm a day" in source.citation


def test_crop_heights_are_those_of_table_12(records: list[Record]) -> None:
    """Every managed crop height: the printed number, or the ends of a printed range."""
    table = rows(FAO56Tables().table12)
    compared = [
        (record.id, {record.low, record.likely, record.high} - {None}, {r["hmax"] for r in table[label]})
        for record, label in labelled(records, "fao56-t12", "mature-height")
    ]

    assert len(compared) > 40
    assert [] == [
        (record, values)
        for record, values, printed in compared
        if not any({Decimal(n) for n in re.findall(r"\d+(?:\.\d+)?", text)} >= values for text in printed)
    ]


def test_cycle_lengths_are_those_of_table_11(records: list[Record]) -> None:
    """Every crop cycle: the printed total of its row (five rows whose stages miss it are flagged)."""
    table = rows(FAO56Tables().table11)
    compared = [
        (record.id, record.likely, {Decimal(r["Total"]) for r in table[label] if r["Total"]})
        for record, label in labelled(records, "fao56-t11", "cycle-length")
    ]

    assert len(compared) > 100
    assert [] == [(record, days) for record, days, printed in compared if days not in printed]
