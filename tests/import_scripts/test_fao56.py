"""FAO-56 tables 11, 12 and 22: stages, coefficients, depths, and the values known to be wrong.

All rows are cited facts of the set unless the test says invented; what is expected stands in the
data notes (data.md).
"""

from collections.abc import Callable
from decimal import Decimal
from pathlib import Path

import pytest

from import_scripts.base import Draft, Refused, Statement
from import_scripts.registry import importers

Written = Callable[..., Path]
Stated = Callable[[str, Path], list[Statement]]


def drafts(statements: list[Statement], trait: str) -> list[Draft]:
    return [one for one in statements if isinstance(one, Draft) and one.trait == trait]


def refused(statements: list[Statement]) -> list[str]:
    return [one.reason for one in statements if isinstance(one, Refused) and not one.unmatched]


FAO = {
    "fao56_table11.csv": "Crop,Lini,Ldev,Lmid,Llate,Total,Plant Date,Region\n",
    "fao56_table12.csv": "Crop,Kcmini,Kcmmid,Kcmend,hmax\n",
    "fao56_table22.csv": "Crop,Zrmax1,Zrmax2,pbase\n",
}


def fao(written: Written, table: int, row: str) -> Path:
    """A folder with one cited row in one table; the others hold a row of a crop that is not mapped."""
    blank = {11: "sisal,1,1,1,1,4,jan,nowhere", 12: "sisal,0,0,0,", 22: "sisal,0.5,1.0,0.80"}
    return written(
        {
            f"fao56_table{n}.csv": FAO[f"fao56_table{n}.csv"] + (row if n == table else blank[n]) + "\n"
            for n in blank
        }
    )


def test_fao_roots_are_a_range_and_p_a_number(written: Written, stated: Stated) -> None:
    """FAO-56 table 22: asparagus 1.2-1.8 m, p 0.45 (checked in the transcription, data.md 6)."""
    found = stated("fao56", fao(written, 22, "asparagus,1.2,1.8,0.45"))

    (depth,) = drafts(found, "effective-rooting-depth")
    assert (Decimal("1.2"), None, Decimal("1.8"), "range") == (
        depth.low, depth.likely, depth.high, depth.number_kind,
    )  # fmt: skip
    assert ("1.2-1.8", "read-in-transcription", "fao56-t22") == (depth.verbatim, depth.basis, depth.source)
    assert Decimal("0.45") == drafts(found, "depletion-fraction")[0].likely


def test_fao_group_rows_say_so(written: Written, stated: Stated) -> None:
    """Table 22, one row for apples, cherries and pears: four plants, each with scope group."""
    found = drafts(
        stated("fao56", fao(written, 22, "apples cherries pears,1.0,2.0,0.50")), "effective-rooting-depth"
    )

    assert {"malus-domestica", "prunus-avium", "prunus-cerasus", "pyrus-communis"} == {d.plant for d in found}
    assert all(("scope", "group") in d.conditions for d in found)


def test_fao_cabbage_is_the_cabbage_and_not_the_species(written: Written, stated: Stated) -> None:
    """Table 22: cabbage 0.5-0.8 m belongs to the Capitata Group, broccoli to its own."""
    (cabbage,) = drafts(stated("fao56", fao(written, 22, "cabbage,0.5,0.8,0.45")), "effective-rooting-depth")

    assert "brassica-oleracea.capitata-group" == cabbage.plant


def test_fao_stages_make_cycle_cover_and_a_window_in_temperate_regions(
    written: Written, stated: Stated
) -> None:
    """Table 11, potato, April, Europe: 30+35+50+30 = 145 days; 65 days to full cover."""
    found = stated("fao56", fao(written, 11, "potato,30,35,50,30,145,apr,europe"))

    assert Decimal(145) == drafts(found, "cycle-length")[0].likely
    assert Decimal(65) == drafts(found, "days-to-full-cover")[0].likely
    assert "30+35+50+30 = 145" == drafts(found, "cycle-length")[0].verbatim
    (window,) = drafts(found, "growth-window")
    # 15 April is day 105, week 15.9; 145 days later is day 250, week 36.6 (counted by hand)
    assert (Decimal("15.9"), Decimal("36.6")) == (window.low, window.high)


def test_fao_cuts_of_a_sward_are_no_season(written: Written, stated: Stated) -> None:
    """Table 11, Idaho: 75 days to the first cut of alfalfa, 45 to the next; it grows to fall."""
    rows = (
        "alfalfa first cutting cycle,10,30,25,10,75,apr last -4oC,idaho usa\n"
        "alfalfa other cutting cycles,5,20,10,10,45,jun,idaho usa"
    )
    found = stated("fao56", fao(written, 11, rows))

    assert [] == drafts(found, "growth-window")
    assert [Decimal(75), Decimal(45)] == [one.likely for one in drafts(found, "cycle-length")]
    assert ["its days are of one cut of several: no season"] * 2 == refused(found)


def test_fao_separate_months_are_no_window(written: Written, stated: Stated) -> None:
    """Table 11, "oct jan" in an arid climate lists two dates and no temperate season."""
    found = stated("fao56", fao(written, 11, "carrots,20,30,30,20,100,oct jan,arid climate"))

    assert [] == drafts(found, "growth-window")
    assert Decimal(100) == drafts(found, "cycle-length")[0].likely


@pytest.mark.parametrize(
    ("row", "sum_of_stages"),
    [
        ("maize sweet,30,30,30,10,110,apr,idaho usa", 100),
        ("sesame,20,30,40,20,100,jun,china", 110),
        ("green gram cowpeas,20,30,30,20,110,mar,mediterranean", 100),
        ("sorghum,20,35,40,30,130,may june,usa pakistan mediterranean", 125),
        ("sorghum,20,35,45,30,140,mar apr,arid region", 130),
    ],
)
def test_fao_stages_that_miss_the_total_are_kept_and_flagged(
    written: Written, stated: Stated, row: str, sum_of_stages: int
) -> None:
    """The five rows of table 11 whose stages do not add up (data.md 5) keep their total and say so."""
    found = drafts(stated("fao56", fao(written, 11, row)), "cycle-length")

    assert all(f"add up to {sum_of_stages}, not" in (one.note or "") for one in found)
    assert found


def test_a_season_that_crosses_the_year_ends_on_its_day(written: Written, stated: Stated) -> None:
    """Table 11: 335 days from 15 October end on 15 September, week 37.7 (rounding first gave 37.8)."""
    found = stated("fao56", fao(written, 11, "winter wheat,160,75,75,25,335,oct,idaho usa"))

    (window,) = drafts(found, "growth-window")
    assert (Decimal("42.0"), Decimal("37.7")) == (window.low, window.high)


def test_fao_castor_bean_is_refused(written: Written, stated: Stated) -> None:
    """Table 12, castor bean 0.3 m high: known wrong."""
    found = stated("fao56", fao(written, 12, "castorbean ricinus,0.35,1.15,0.55,0.3"))

    assert any("castor bean" in reason for reason in refused(found))
    assert [] == drafts(found, "mature-height")


def test_fao_heights_are_heights_under_management(written: Written, stated: Stated) -> None:
    """Table 12, walnut orchard 4.5 m: the crop as managed, not the grown tree."""
    found = stated("fao56", fao(written, 12, "walnut orchard,0.50,1.10,0.65,4.5"))

    assert ("as", "managed crop") in drafts(found, "mature-height")[0].conditions
    assert Decimal("1.10") == drafts(found, "water-use")[0].likely


def test_the_transcription_file_gives_all_rows() -> None:
    """The text of pyfao56's tables.py, as installed, gives every row of the package's own tables."""
    pyfao56 = pytest.importorskip("pyfao56")
    path = Path(pyfao56.__file__).parent / "tools" / "tables.py"

    rows = list(importers()["fao56"].rows(path))

    by_table = {n: [row for row in rows if row.file == f"fao56_table{n}.csv"] for n in (11, 12, 22)}
    tables = pytest.importorskip("pyfao56.tools.tables").FAO56Tables()
    assert {11: len(tables.table11), 12: len(tables.table12), 22: len(tables.table22)} == {
        n: len(found) for n, found in by_table.items()
    }
    printed = [
        (str(crop).strip(), str(low).strip())
        for crop, low in zip(tables.table22["Crop"], tables.table22["Zrmax1"], strict=True)
    ]
    assert printed == [(row.name, row["Zrmax1"]) for row in by_table[22]]
