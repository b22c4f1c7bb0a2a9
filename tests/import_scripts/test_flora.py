"""The British flora, nitrogen fixers and families: what their rows become.

All rows are cited facts of the set unless the test says invented; what is expected stands in the
data notes (data.md).
"""

from decimal import Decimal

import pytest

from import_scripts.biflora.importer import repaired
from tests.import_scripts.stated import Stated, Written, drafts, refused

BI = (
    "kew_id,taxon_name,taxon_name_binom,family,genus,mean_veg_height,max_veg_height,growth_form,life_form,"
    "L_PLANTATT,F_PLANTATT,R_PLANTATT,N_PLANTATT,L_Doring,F_Doring,R_Doring,N_Doring\n"
)


def test_flora_keeps_two_authors_apart(written: Written, stated: Stated) -> None:
    """BIFlora, beech: light 3 by both authors; each is a source of its own, nothing is averaged."""
    row = (
        "x,Fagus sylvatica L.,Fagus sylvatica,Fagaceae,Fagus,NA,NA,Tree,phanerophyte / tree,"
        "3,5,5,5,3,5,NA,NA\n"
    )
    found = stated("biflora", written({"BI_MAIN.csv": BI + row}, "latin-1"))

    light = drafts(found, "light-indicator-1-9")
    assert {("biflora-plantatt", Decimal(3)), ("biflora-doring", Decimal(3))} == {
        (d.source, d.likely) for d in light
    }
    assert ("perennial",) == drafts(found, "life-cycle")[0].concepts
    assert "Fagus sylvatica L." == light[0].name_as_printed


def test_flora_largest_height_is_an_upper_bound(written: Written, stated: Stated) -> None:
    """BIFlora, oak: mean 1.03 m mixes saplings, 60 m is the largest record: neither is a usual size."""
    row = (
        "x,Quercus robur L.,Quercus robur,Fagaceae,Quercus,1.03,60,Tree,phanerophyte / tree"
        + ",NA" * 8
        + "\n"
    )
    mean, largest = drafts(stated("biflora", written({"BI_MAIN.csv": BI + row}, "latin-1")), "mature-height")

    assert (Decimal("1.03"), "mean", ("age", "any")) == (mean.likely, mean.number_kind, mean.conditions[0])
    assert (None, Decimal(60), "maximum") == (largest.likely, largest.high, largest.number_kind)


def test_flora_monkey_puzzle_is_no_vine(written: Written, stated: Stated) -> None:
    """BIFlora marks Araucaria as a vine: refused, the tree stays."""
    row = (
        "x,Araucaria araucana (Molina) K.Koch,Araucaria araucana,Araucariaceae,Araucaria,NA,NA,Tree,"
        "phanerophyte / vine" + ",NA" * 8 + "\n"
    )
    found = stated("biflora", written({"BI_MAIN.csv": BI + row}, "latin-1"))

    assert ["is marked as a vine and stands by itself"] == refused(found)
    assert [("tree",)] == [d.concepts for d in drafts(found, "growth-form")]


def test_flora_wide_fern_family_is_refused(written: Written, stated: Stated) -> None:
    """BIFlora puts Dryopteris in a wide Polypodiaceae: no family for relatedness."""
    row = (
        "x,Dryopteris filix-mas (L.) Schott,Dryopteris filix-mas,Polypodiaceae,Dryopteris,NA,NA,Fern,"
        "hemicryptophyte" + ",NA" * 8 + "\n"
    )
    found = stated("biflora", written({"BI_MAIN.csv": BI + row}, "latin-1"))

    assert [] == drafts(found, "family")
    assert "takes in Dryopteridaceae" in refused(found)[0]


@pytest.mark.parametrize(
    ("printed", "read"),
    [
        ("Romero GarcÃ\x83Â\xada", "Romero García"),
        ("Kerguélen", "Kerguélen"),
        ("Ãngel", "Ãngel"),
        ("plain", "plain"),
    ],
)
def test_double_encoding_is_repaired_by_one_rule(printed: str, read: str) -> None:
    """BIFlora line of a poppy's author: UTF-8 read as Latin-1, twice. A true Ã stays."""
    assert read == repaired(printed)


def test_nodulation_is_by_species_not_by_clade(written: Written, stated: Stated) -> None:
    """Werner: Elaeagnus umbellata and Hippophae yes; Gleditsia no, though a legume in the clade."""
    table = "Species,NFC,Legume,Data_fixing,Source,Source2\n"
    rows = (
        "Elaeagnus umbellata,Yes,No,Yes,Manual,x\nHippophae rhamnoides,Yes,No,Yes,Manual,x\n"
        "Gleditsia triacanthos,Yes,Yes,No,Manual,x\nCercis siliquastrum,Yes,Yes,No,Manual,x\n"
    )
    found = stated(
        "nfix",
        written(
            {"Werner_NFix.csv": table + rows, "growth_form.csv": "sp,support,woodiness\nPisum sativum,C,H\n"}
        ),
    )

    fixing = {d.plant: d.concepts[0] for d in drafts(found, "nitrogen-fixation")}
    assert {
        "elaeagnus-umbellata": "fixes",
        "hippophae-rhamnoides": "fixes",
        "gleditsia-triacanthos": "does-not-fix",
        "cercis-siliquastrum": "does-not-fix",
    } == fixing
    assert ("climber-herbaceous",) == drafts(found, "growth-form")[0].concepts
