"""What an importer cannot use it refuses with a reason: odd cells in otherwise sound rows (invented)."""

import zipfile
from collections.abc import Callable
from pathlib import Path

import pytest

from import_scripts.base import Draft, Refused, Statement
from import_scripts.registry import importers
from kb.errors import SourceFault

Written = Callable[..., Path]
Stated = Callable[[str, Path], list[Statement]]
BROT = "ID,Taxon,Trait,Data,Units,DataType,Method,SourceID,Comments\n"
FLORA = (
    "kew_id,taxon_name,taxon_name_binom,family,genus,mean_veg_height,max_veg_height,growth_form,life_form,"
    "L_PLANTATT,F_PLANTATT,R_PLANTATT,N_PLANTATT,L_Doring,F_Doring,R_Doring,N_Doring\n"
)
NONE = ",NA" * 8 + "\n"


@pytest.mark.parametrize(
    ("key", "files", "said"),
    [
        (
            "brot",
            {"BROT2_dat_target_rows.csv": BROT + "1,Acer campestre,RootDepth,40,cm,q,m,S,\n"},
            "no depth in m",
        ),
        (
            "brot",
            {"BROT2_dat_target_rows.csv": BROT + "1,Acer campestre,LeafPhenology,mossy,,q,m,S,\n"},
            "no value in our scheme",
        ),
        (
            "nfix",
            {
                "Werner_NFix.csv": "Species,Data_fixing,Source,Source2\nAlnus incana,Perhaps,a,b\n",
                "growth_form.csv": "sp,support,woodiness\nAcer campestre,F,W\n",
            },
            "neither Yes nor No",
        ),
        (
            "phenobs",
            {
                "LeafUnfolding_Senescence_GSL_target_rows.csv": "Species,Botanic_Garden,Year,LeafUnf,SenOn\n"
                "Allium ursinum,G,2020,50,150\n"
            },
            "only 1 garden-years",
        ),
        (
            "phenobs",
            {
                "LeafUnfolding_Senescence_GSL_target_rows.csv": "Species,Botanic_Garden,Year,LeafUnf,SenOn\n"
                "Vinca minor,G,2020,50,150\n"
            },
            "is evergreen",
        ),
        (
            "urban-trees",
            {
                "TS3_target_rows.csv": "ScientificName,City,Park/Street,TreeHt (m),AvgCdia (m),Leaf (m2)\n"
                "Ginkgo biloba,A,Street,9,-1,\n"
            },
            "only 1 trees",
        ),
    ],
)
def test_odd_cells_are_refused(
    written: Written, stated: Stated, key: str, files: dict[str, str], said: str
) -> None:
    """A wrong unit, an unknown word, too few observations: each names its reason."""
    reasons = [one.reason for one in stated(key, written(files)) if isinstance(one, Refused)]

    assert any(said in reason for reason in reasons)


def test_a_climber_of_the_flora_and_its_other_forms(written: Written, stated: Stated) -> None:
    """Vine makes a climber by its life form; a helophyte is said in the note; canes stay shrubs."""
    rows = (
        f"1,Humulus lupulus L.,Humulus lupulus,Cannabaceae,Humulus,NA,NA,Herb,hemicryptophyte / vine{NONE}"
        f"2,Vitis vinifera L.,Vitis vinifera,Vitaceae,Vitis,NA,NA,NA,phanerophyte / vine{NONE}"
        f"3,Rubus fruticosus L.,Rubus fruticosus,Rosaceae,Rubus,NA,NA,Shrub,phanerophyte / vine{NONE}"
        f"4,Acorus calamus L.,Acorus calamus,Acoraceae,Acorus,NA,NA,Herb,helophyte / geophyte{NONE}"
        f"5,Beta vulgaris L.,Beta vulgaris,Amaranthaceae,Beta,NA,NA,NA,NA{NONE}"
    )
    found = [
        one
        for one in stated("biflora", written({"BI_MAIN.csv": FLORA + rows}, "latin-1"))
        if isinstance(one, Draft)
    ]

    forms = {one.plant: one.concepts for one in found if one.trait == "growth-form"}
    assert {
        "humulus-lupulus": ("climber-herbaceous",),
        "vitis-vinifera": ("climber-woody",),
        "rubus-fruticosus": ("shrub",),
        "acorus-calamus": ("herb",),
    } == forms
    (reed,) = [one for one in found if one.plant == "acorus-calamus" and one.trait == "life-form"]
    assert "helophyte" in (reed.note or "")


def test_the_published_zip_is_read_like_the_extract(written: Written, stated: Stated, tmp_path: Path) -> None:
    """The whole root-trait table in its zip: other traits are passed over, genera give partners."""
    header = (
        "GRooTID,source,referencesAbbreviated,references,genusTNRS,speciesTNRS,nitrogenFixationNodDB,"
        "measurementProvenance,measurementTreatments,measurementMethod,ageStand,locationID,location,"
        "soilTexture,traitName,traitValue,referencesDataset,genus,species,infraspecific\n"
    )
    alder = "FRED,A 2000,ref,Alnus,incana,Frankia,field,,trench,,,Here,loam"
    rows = (
        f"1,{alder},Rooting_depth,1.5,,Alnus,incana,\n"
        f"2,{alder},Root_N_concentration,9,,Alnus,incana,\n"
        f"3,{alder},Rooting_depth,deep,,Alnus,incana,\n"
    )
    path = tmp_path / "GRooTFullVersion.zip"
    with zipfile.ZipFile(path, "w") as archive:
        archive.writestr("GRooTFullVersion.csv", header + rows)

    found = stated("groot", tmp_path)

    depths = [one for one in found if isinstance(one, Draft) and one.trait == "rooting-depth"]
    partners = [one for one in found if isinstance(one, Draft) and one.trait == "fixing-partner"]
    assert ["1.5"] == [one.verbatim for one in depths]
    assert {("frankia",)} == {one.concepts for one in partners}
    assert any("'deep' is no depth" in one.reason for one in found if isinstance(one, Refused))


def test_a_zip_with_two_tables_is_another_file(tmp_path: Path) -> None:
    """The published zip holds one table; anything else is refused whole."""
    with zipfile.ZipFile(tmp_path / "GRooTFullVersion.zip", "w") as archive:
        archive.writestr("a.csv", "x\n")
        archive.writestr("b.csv", "x\n")

    with pytest.raises(SourceFault, match="must hold one table"):
        list(importers()["groot"].rows(tmp_path))


def test_the_transcription_must_hold_the_tables(tmp_path: Path) -> None:
    """A Python file without the tables is another file; its code is never run."""
    (tmp_path / "tables.py").write_text("raise SystemExit(99)")

    with pytest.raises(SourceFault, match="holds no table 11"):
        list(importers()["fao56"].rows(tmp_path))


CAUTIONS = (
    "scientific_name,trait,low,high,value,unit,number_kind,conditions,verbatim,source_key,locator,seen,"
    "confidence_note\n"
)
SOURCES = (
    "source_key,citation,doi_or_url,year,publisher,licence_if_seen,how_seen\n"
    "a,An invented list,,n.d.,,,excerpt\n"
)


@pytest.mark.parametrize(
    ("row", "said"),
    [
        ("Allium cepa,caution-livestock,0.5,,toxic dose,percent,minimum,,x,a,p,seen,\n", "from 0.5 percent"),
        ("Allium cepa,caution-livestock,,5,toxic dose,g,maximum,,x,a,p,seen,\n", "up to 5 g"),
        ("Allium cepa,caution-livestock,1,3,toxic dose,g,range,,x,a,p,seen,\n", "1 to 3 g"),
        ("Allium cepa,caution-livestock,2,2,toxic dose,g,single,,x,a,p,seen,\n", "toxic dose, 2 g"),
        (
            "Allium cepa,caution-livestock,,,toxic dose,,expert,raw only,x,a,p,seen,\n",
            "toxic dose. Raw only.",
        ),
    ],
)
def test_amounts_in_cautions_are_said(written: Written, stated: Stated, row: str, said: str) -> None:
    """A dose is printed with its side (from, up to, between), and loose remarks stay in the text."""
    (caution,) = stated("cautions", written({"cautions.csv": CAUTIONS + row, "sources.csv": SOURCES}))

    assert said in getattr(caution, "text", "")


def test_a_law_without_a_date_says_so_and_an_unknown_kind_is_refused(
    written: Written, stated: Stated
) -> None:
    """Law holds for its date; a kind of caution that the model lacks is refused by name."""
    rows = (
        "Acer platanoides,caution-prohibited,,,sale prohibited,,list-membership,place=X,x,a,p,seen,\n"
        "Acer platanoides,caution-boring,,,x,,expert,,x,a,p,seen,\n"
    )
    law, odd = stated("cautions", written({"cautions.csv": CAUTIONS + rows, "sources.csv": SOURCES}))

    assert "date not printed" == getattr(law, "as_of", None)
    assert isinstance(odd, Refused)
    assert "caution-boring" in odd.reason
