"""Cells that were found wrong when the sets were read again column by column, and what became of them.

All rows are cited facts of the sets; what each is checked against outside them stands in the test.
"""

from collections.abc import Callable
from decimal import Decimal
from pathlib import Path

import pytest

from import_scripts.base import Draft, Refused, Statement
from import_scripts.names import binomial
from import_scripts.zanne.importer import ZanneImporter

Written = Callable[..., Path]
Stated = Callable[[str, Path], list[Statement]]

BI = (
    "kew_id,taxon_name,taxon_name_binom,family,genus,mean_veg_height,max_veg_height,growth_form,life_form,"
    "L_PLANTATT,F_PLANTATT,R_PLANTATT,N_PLANTATT,L_Doring,F_Doring,R_Doring,N_Doring\n"
)
CLONAL = (
    "Species_name\twoody\tannual\tperennialnonclonal\tpolycarpic\tclonal\tPrimaryroot\tfinalCGO\tspread\t"
    "Rsprouter\n"
)


def drafts(statements: list[Statement], trait: str) -> list[Draft]:
    return [one for one in statements if isinstance(one, Draft) and one.trait == trait]


def refused(statements: list[Statement]) -> list[str]:
    return [one.reason for one in statements if isinstance(one, Refused) and not one.unmatched]


def flora(written: Written, name: str, author: str, family: str, rest: str, classes: str = "NA") -> Path:
    row = f"x,{name} {author},{name},{family},{name.split(maxsplit=1)[0]},{rest}" + f",{classes}" * 8 + "\n"
    return written({"BI_MAIN.csv": BI + row}, "latin-1")


def test_one_record_is_not_told_as_a_mean_and_a_largest(written: Written, stated: Stated) -> None:
    """BIFlora, red amaranth: 0.4 m in both columns bounds nothing (1.5-2.4 m: Jefferson Institute)."""
    rest = "0.4,0.4,Herb,therophyte"
    found = stated("biflora", flora(written, "Amaranthus cruentus", "L.", "Amaranthaceae", rest))

    (height,) = drafts(found, "mature-height")
    assert (Decimal("0.4"), None, "mean") == (height.likely, height.high, height.number_kind)


def test_the_length_of_squash_shoots_is_no_height(written: Written, stated: Stated) -> None:
    """BIFlora, squash: 6 and 10 m; FAO-56 table 12 gives 0.4 m as the height of the crop."""
    rest = "6,10,Herb,therophyte / vine"
    found = stated("biflora", flora(written, "Cucurbita maxima", "Duchesne", "Cucurbitaceae", rest))

    assert [] == drafts(found, "mature-height")
    assert [(Decimal(6), None), (None, Decimal(10))] == [(d.likely, d.high) for d in drafts(found, "reach")]


def test_woodruff_is_no_annual(written: Written, stated: Stated) -> None:
    """BIFlora calls Galium odoratum a therophyte; FloraVeg.EU and CLO-PLA have a lasting rhizome plant."""
    rest = "0.12,0.45,Herb,therophyte"
    found = stated("biflora", flora(written, "Galium odoratum", "(L.) Scop.", "Rubiaceae", rest))

    assert [] == drafts(found, "life-cycle") + drafts(found, "life-form")
    assert "no therophyte" in refused(found)[0]


def test_a_shrub_that_can_be_a_tree_is_both(written: Written, stated: Stated) -> None:
    """BIFlora, fig: growth form Shrub, life form "phanerophyte / tree"; FloraVeg.EU sets Tree and Shrub."""
    rest = "3,10,Shrub,phanerophyte / tree"
    found = stated("biflora", flora(written, "Ficus carica", "L.", "Moraceae", rest))

    (form,) = drafts(found, "growth-form")
    assert (("shrub", "tree"), "Shrub; phanerophyte / tree") == (form.concepts, form.verbatim)


def test_the_oak_is_no_shrub(written: Written, stated: Stated) -> None:
    """BIFlora calls Quercus robur a shrub; FloraVeg.EU and BROT 2.0 a tree."""
    rest = "1.03,60,Shrub,phanerophyte / tree"
    found = stated("biflora", flora(written, "Quercus robur", "L.", "Fagaceae", rest))

    assert [] == drafts(found, "growth-form")


def test_an_aggregate_of_the_flora_counts_half(written: Written, stated: Stated) -> None:
    """BIFlora, lady's mantle: the column aggregate names 16 species; 0.05 m is the height of none."""
    rest = "0.05,0.05,Herb,hemicryptophyte"
    found = stated("biflora", flora(written, "Alchemilla vulgaris", "L.", "Rosaceae", rest, "7"))

    assert [] == drafts(found, "mature-height")
    assert {(("scope", "group"),)} == {d.conditions for d in drafts(found, "light-indicator-1-9")}
    assert () == drafts(found, "family")[0].conditions


@pytest.mark.parametrize(
    ("row", "anchor"),
    [
        ("Avena sativa L.\t0\t0\t0\t0\t1\t0\t9\t0.5\t0", "therophyte in BIFlora and FloraVeg.EU"),
        ("Lolium multiflorum Lam.\t0\t0\t0\t0\t1\t0\t10\t6\t0", "therophyte in BIFlora"),
        ("Chenopodium bonus-henricus L.\t0\t1\t0\t0\t0\t1\t\t\t1", "Tyler 2021, longevity 4"),
        ("Vicia sativa agg.\t0\t0\t1\t1\t0\t1\t\t\t0", "Tyler 2021, longevity 1"),
    ],
)
def test_a_life_span_that_all_others_contradict_is_refused(
    written: Written, stated: Stated, row: str, anchor: str
) -> None:
    """CLO-PLA against the set named as anchor: neither cycle nor organ nor reach is taken."""
    found = stated("clopla", written({"CLO-PLA-traits.txt": CLONAL + row + "\n"}, "cp1250"))

    assert anchor
    assert {"root-form"} >= {str(d.trait) for d in found if isinstance(d, Draft)}
    assert ["leave it out"] == [one.mend for one in found if isinstance(one, Refused)]


def test_the_shorter_of_two_life_spans_says_so(written: Written, stated: Stated) -> None:
    """CLO-PLA, metadata 2.1: of two possibilities the shorter life span was selected."""
    row = "Beta vulgaris L.\t0\t1\t0\t0\t0\t\t\t\t0\n"
    (cycle,) = drafts(stated("clopla", written({"CLO-PLA-traits.txt": CLONAL + row}, "cp1250")), "life-cycle")

    assert (("annual",), "where two life spans were reported the set gives the shorter") == (
        cycle.concepts,
        cycle.note,
    )


def test_the_mark_of_a_woody_plant_is_found_where_the_record_says(written: Written, stated: Stated) -> None:
    """CLO-PLA, alpine currant: the mark is in the column woody, before the column annual."""
    row = "Ribes alpinum L.\t1\t0\t0\t0\t0\t\t\t\t0\n"
    found = stated("clopla", written({"CLO-PLA-traits.txt": CLONAL + row}, "cp1250"))

    (cycle,) = drafts(found, "life-cycle")
    assert (("perennial",), "marked: woody") == (cycle.concepts, cycle.verbatim)
    assert "CLO-PLA-traits.txt, Ribes alpinum L., columns woody and following" == cycle.locator


def test_how_each_table_of_one_set_was_read_is_told() -> None:
    """Zanne et al.: three tables are read, and the words for exposure to freezing had been left out."""
    (source,) = ZanneImporter().sources(Path())

    assert all(words in source.how_read for words in ("leaf habit", "woodiness", "exposure to freezing"))


def test_canes_do_not_climb(written: Written, stated: Stated) -> None:
    """Taseski marks raspberry C, climber; floras call its canes erect or arching."""
    table = "Species,NFC,Legume,Data_fixing,Source,Source2\nElaeagnus umbellata,Yes,No,Yes,Manual,x\n"
    forms = "sp,support,woodiness\nRubus idaeus,C,W\nVitis vinifera,C,W\n"
    found = stated("nfix", written({"Werner_NFix.csv": table, "growth_form.csv": forms}))

    assert ["vitis-vinifera"] == [d.plant for d in drafts(found, "growth-form")]


def test_bamboos_are_no_shrubs(written: Written, stated: Stated) -> None:
    """FloraVeg.EU sets Shrub for bamboos; they are grasses (Poaceae in every list of families)."""
    head = (
        "SeqID,FloraVeg.Taxon,Phanerophyte,Tree,Shrub,Woody liana,Chamaephyte,Semi-shrub,Dwarf shrub,"
        "Hemicryptophyte,Geophyte,Hydrophyte,Therophyte,Epiphyte,Herbaceous liana\n"
    )
    folder = written(
        {
            "Life_form_target_rows.csv": head + "1,Phyllostachys nigra,1,0,1" + ",0" * 10 + "\n",
            "Lososova2023_target_rows.csv": "SeqID,Taxon,Plant height (m)\n1,Cucurbita maxima,3.725\n",
            "Tichy2023_partial_target_rows.csv": (
                "accepted_taxa,original_taxa_Tichy2022,Ellenberg.Light_Tichy2022,Ellenberg.Moisture_Tichy2022,"
                "Ellenberg.Reaction_Tichy2022,Ellenberg.Nutrients_Tichy2022\nx,Rosa,1,1,1,1\n"
            ),
        }
    )
    found = stated("floraveg", folder)

    assert [] == drafts(found, "growth-form")
    assert [("phanerophyte",)] == [d.concepts for d in drafts(found, "life-form")]
    assert [Decimal("3.725")] == [d.likely for d in drafts(found, "reach")]


def test_climbing_herbs_are_no_plain_forbs(written: Written, stated: Stated) -> None:
    """BROT 2.0 knows lianas alone of climbers; cleavers climb (BIFlora: therophyte / vine)."""
    head = "ID,Taxon,Trait,Data,Units,DataType,Method,SourceID,Comments\n"
    rows = (
        "A1,Galium aparine,GrowthForm,annual forb,,x,x,Tutin1964,\n"
        "A2,Papaver rhoeas,GrowthForm,annual forb,,x,x,Tutin1964,\n"
    )
    found = stated("brot", written({"BROT2_dat_target_rows.csv": head + rows}))

    assert ["papaver-rhoeas"] == [d.plant for d in drafts(found, "growth-form")]
    assert 2 == len(drafts(found, "life-cycle"))


def test_black_bryony_is_no_evergreen(written: Written, stated: Stated) -> None:
    """Zanne calls Tamus communis evergreen; a geophyte by BIFlora and FloraVeg.EU."""
    folder = written(
        {
            "GlobalLeafPhenologyDatabase.csv": "Binomial,Phenology\rTamus communis,EV\rHedera helix,EV\r",
            "Woodiness_target_rows.csv": "gs,woodiness\nHedera helix,W\n",
            "MinimumFreezingExposure_target_rows.csv": "species,Freeze.tmin.lo\nHedera helix,x\n",
        }
    )

    assert ["hedera-helix"] == [d.plant for d in drafts(stated("zanne", folder), "leaf-retention")]


def test_a_subspecies_in_brackets_is_not_cut_off(written: Written, stated: Stated) -> None:
    """Tyler, orpine: ssp. maximum stands apart from ssp. telephium, of which the species is told."""
    assert "Hylotelephium telephium (ssp. maximum)" == binomial("Hylotelephium telephium (ssp. maximum)")

    head = "Scientific_name,Family,Light,Moisture,Soil_reaction_pH,Phenology,Longevity,Nitrogen_fixation\n"
    rows = (
        "Hylotelephium telephium (ssp. maximum),Crassulaceae,5,1,4,12,4,0\n"
        "Hylotelephium telephium ssp. telephium,Crassulaceae,5,2,5,12,4,0\n"
    )
    found = stated("tyler", written({"Tyler2021_target_rows.csv": head + rows}))

    assert [Decimal(2)] == [d.likely for d in drafts(found, "moisture-indicator-1-12-swedish")]


def test_a_model_crop_of_two_species_is_told_of_both(stated: Stated, written: Written) -> None:
    """SWAT+ has one sweetclover (clvs) for two species: neither is dropped, each counts half."""
    others = {
        "wofost/WOFOST_RDMCR.csv": "wofost_crop,RDMCR_m\nbarley,1.25\n",
        "aquacrop/aquacrop_crop_params_extract.csv": "aquacrop_name,Zmax\nMaize,2.3\n",
        "other_models/daisy_monica_max_root_depth.csv": (
            "model,path,model_crop,max_root_depth_m\ndaisy,pea.dai,pea,0.85\n"
        ),
    }
    names = "name plnt_typ gro_trig nm_fx days_mat bm_e harv_idx lai_pot frac_hu1 lai_max1 frac_hu2 lai_max2 "
    heads = names + "hu_lai_decl dlai_rate can_ht_max rt_dp_max\n"
    line = "clvs perennial temp_gro 1 0 25 0.9 4 .15 .01 .5 .95 .75 1 1.5 2.4\n"
    found = stated("crop-models", written({"swatplus/plants.plt": "plants.plt: x\n" + heads + line} | others))

    told = [d for d in drafts(found, "model-rooting-limit") if d.source == "swatplus"]
    assert {"melilotus-albus", "melilotus-officinalis"} == {d.plant for d in told}
    assert all(("scope", "group") in d.conditions for d in told)


def test_a_leaf_season_names_its_gardens(written: Written, stated: Stated) -> None:
    """PhenObs: a median over Tehran and Trondheim says so; cowberry is evergreen (USDA characteristics)."""
    head = "Species,Botanic_Garden,Year,LeafUnf,SenOn\n"
    gardens = ("Jena", "Tuebingen", "Jena", "Jena", "Jena")
    rows = "".join(
        f"{plant},{garden},{2019 + year},60,250\n"
        for plant in ("Allium ursinum", "Vaccinium vitis-idaea")
        for year, garden in enumerate(gardens)
    )
    (window,) = drafts(
        stated("phenobs", written({"LeafUnfolding_Senescence_GSL_target_rows.csv": head + rows})),
        "leaf-window",
    )

    assert ("place", "botanical gardens of Jena, Tübingen") in window.conditions
