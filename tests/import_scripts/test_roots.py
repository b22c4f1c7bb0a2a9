"""The root-trait set: depths study by study, pots as floors, known wrong depths refused.

All rows are cited facts of the set unless the test says invented; what is expected stands in the
data notes (data.md).
"""

import csv
from decimal import Decimal
from pathlib import Path

import pytest

from import_scripts.registry import importers
from tests.import_scripts.stated import Stated, Written, drafts, refused

GROOT = (
    "GRooTID,source,referencesAbbreviated,references,genusTNRS,speciesTNRS,nitrogenFixationNodDB,"
    "measurementProvenance,measurementTreatments,measurementMethod,ageStand,location,soilTexture,traitName,"
    "traitValue,referencesDataset,genus,species,infraspecific,locationID\n"
)
SHORT = 15
"""Columns of a row that gives no data set, no site and no name other than the resolved one."""
SITED = 20
"""Columns of a row that names its site too."""
GENERA = (
    "familyTNRS,genusTNRS,nitrogenFixationNodDB\n"
    "Fabaceae,Trifolium,Rhizobia\nFabaceae,Gleditsia,unlikely_Rhizobia\n"
)


def groot(written: Written, *rows: str) -> Path:
    lines = []
    for row in rows:
        (cells,) = csv.reader([row])
        whole = f"{row},,{cells[4]},{cells[5]}," if len(cells) == SHORT else row
        lines.append(whole if len(cells) == SITED else f"{whole},")
    return written(
        {
            "GRooT_full_Rooting_depth_target_rows.csv": GROOT + "\n".join(lines) + "\n",
            "NodDB_genus_labels_in_GRooT.csv": GENERA,
        }
    )


def test_the_stand_that_alone_tells_two_rows_apart_is_told(written: Written, stated: Stated) -> None:
    """GRooT 21505 and 21507, beech of Schmid and Kazda: 1.0 m near Wilhelmsburg, mixed and pure stand."""
    rows = [
        f"{number},FRED,Schmid and Kazda,ref,Fagus,sylvatica,,field,,trench profile wall,,"
        f"near Wilhelmsburg,,Rooting_depth,1.0,,Fagus,sylvatica,,{stand}"
        for number, stand in ((21505, "mixed stand"), (21507, "pure stand"))
    ]
    found = drafts(stated("groot", groot(written, *rows)), "rooting-depth")

    assert ["mixed stand", "pure stand"] == [dict(depth.conditions)["site"] for depth in found]


def test_pots_are_one_floor_and_an_unpublished_plot_is_refused(written: Written, stated: Stated) -> None:
    """GRooT, white clover: pot rows of 0.600 m are one "at least"; the plot's 0.03 m is left out."""
    pots = [
        f"{n},FRED,Freschet et al 2018,ref,Trifolium,repens,Rhizobia,potted,,,,,,Rooting_depth,0.6"
        for n in (1, 2, 3)
    ]
    plot = (
        '38366,TRY_Catford_Jane,"Catford, unpublish",unpub.,Trifolium,repens,Rhizobia,field,,,,plot,,'
        "Rooting_depth,0.03"
    )
    found = stated("groot", groot(written, *pots, plot))

    (floor,) = drafts(found, "rooting-depth")
    assert (Decimal("0.6"), None, None, "floor") == (floor.low, floor.likely, floor.high, floor.number_kind)
    assert ("rows", "3") in floor.conditions
    assert "it is that of the pot" in (floor.note or "")
    assert "unpublished" in refused(found)[0]


def test_a_depth_measured_in_a_pot_is_not_called_the_pots_own(written: Written, stated: Stated) -> None:
    """GRooT 13846 and 13848 (Mokany and Ash 2008): 0.554 m fertilised, 0.452 m not; two cherries are 1 m."""
    clover = [
        f"{n},FRED,Mokany and Ash 2008,ref,Trifolium,subterraneum,Rhizobia,potted,,,,,,Rooting_depth,{depth}"
        for n, depth in ((13846, "0.554"), (13848, "0.452"))
    ]
    trees = [
        f"{n},FRED,Liese et al 2018,ref,{name},,potted,,,,,,Rooting_depth,{depth}"
        for n, name, depth in (
            (1, "Prunus,avium", "1.0"),
            (2, "Prunus,avium", "1.0"),
            (3, "Acer,pseudoplatanus", "2.1"),
        )
    ]
    found = drafts(stated("groot", groot(written, *clover, *trees)), "rooting-depth")

    assert [("0.554", "floor"), ("0.452", "floor"), ("1.0", "floor"), ("2.1", "floor")] == [
        (str(one.low), one.number_kind) for one in found
    ]
    assert all((one.note or "").startswith("measured in a pot; in open ground") for one in found)


def test_depths_of_another_plant_than_the_name_was_resolved_to_are_refused(
    written: Written, stated: Stated
) -> None:
    """GRooT 5933: hybrid walnuts (Germon et al. 2016); 7059: the plum of Howard 1925, resolved to almond."""
    rows = (
        (
            "5933,FRED,Germon et al 2016,ref,Juglans,regia,,field,,minirhizotron,,,,Rooting_depth,4.7,,"
            "Juglans,regia,nigra"
        ),
        "7059,FRED,Howard 1925,ref,Prunus,dulcis,,field,,trench,,Pusa,,Rooting_depth,4.7,,Prunus,communis,",
    )
    found = stated("groot", groot(written, *rows))

    assert [] == drafts(found, "rooting-depth")
    assert ["hybrids" in refused(found)[0], "plum" in refused(found)[1]] == [True, True]


def test_the_name_printed_is_the_one_the_row_was_given(written: Written, stated: Stated) -> None:
    """GRooT 1541 prints a subspecies, 3105 another name than the one it was resolved to."""
    rows = (
        (
            "1541,FRED,Chapin et al 1996,ref,Alnus,viridis,Frankia,field,,,,Alaska.,,Rooting_depth,0.4,"
            "Arctic Tundra Ecosystems,Alnus,viridis,crispa"
        ),
        (
            "3105,FRED,Daubenmire 1941,ref,Achillea,millefolium,,field,,excavation,,Wyoming,,Rooting_depth,"
            "0.16,,Achillea,subalpina,"
        ),
    )
    found = drafts(stated("groot", groot(written, *rows)), "rooting-depth")

    assert [("alnus-alnobetula", "Alnus viridis crispa"), ("achillea-millefolium", "Achillea subalpina")] == [
        (one.plant, one.name_as_printed) for one in found
    ]


def test_an_unpublished_copy_of_a_published_study_is_refused(written: Written, stated: Stated) -> None:
    """GRooT 1563 and 38513: cloudberry 0.4 m, once from Chapin et al. 1996 and once unpublished."""
    rows = (
        "1563,FRED,Chapin et al 1996,ref,Rubus,chamaemorus,,field,,,,Alaska.,,Rooting_depth,0.4",
        (
            '38513,TRY_Chapin_F. Stuart III,"Chapin, unpublish",unpub.,Rubus,chamaemorus,,field,,,,,,'
            "Rooting_depth,0.4"
        ),
    )
    found = stated("groot", groot(written, *rows))

    assert ["GRooTID 1563"] == [one.locator.split(", ")[1] for one in drafts(found, "rooting-depth")]
    assert "38513 is unpublished" in refused(found)[0]


def test_field_depths_keep_study_method_and_place(written: Written, stated: Stated) -> None:
    """GRooT 21947 (Silva and Rego 2004): hawthorn 0.73 m by excavation in Portugal."""
    row = (
        '21947,FRED,Silva and Rego 2004,ref,Crataegus,monogyna,,field,,excavation,,"Portugal, shrubland",'
        ",Rooting_depth,0.73"
    )
    (depth,) = drafts(stated("groot", groot(written, row)), "rooting-depth")

    assert (Decimal("0.73"), "single") == (depth.likely, depth.number_kind)
    assert {"study": "Silva and Rego 2004", "method": "excavation"}.items() <= dict(depth.conditions).items()
    assert "GRooTID 21947" in depth.locator


def test_depths_of_one_year_old_plants_are_floors(written: Written, stated: Stated) -> None:
    """GRooT 26606 (Xu et al. 2012, "one-year-old plants"): akebia 0.154 m is no depth of the species."""
    row = (
        "26606,FRED,Xu et al 2012,ref,Akebia,quinata,,field,,excavation,1.0,Maoxian Station,,"
        "Rooting_depth,0.15431652"
    )
    older = "1,FRED,A 2000,ref,Malus,domestica,,field,,excavation,10.0,,,Rooting_depth,1.5"
    found = drafts(stated("groot", groot(written, row, older)), "rooting-depth")

    assert [
        ("akebia-quinata", Decimal("0.15431652"), None, "floor"),
        ("malus-domestica", None, Decimal("1.5"), "single"),
    ] == [(d.plant, d.low, d.likely, d.number_kind) for d in found]
    assert "one-year-old" in (found[0].note or "")


def test_depths_above_a_water_table_are_floors(written: Written, stated: Stated) -> None:
    """GRooT 4683 (Elliott 1924, corn roots and water level in peat soil): 0.3 m is where the water stood."""
    wet = "4683,FRED,Elliott 1924,ref,Zea,mays,,field,,excavation,,peat,,Rooting_depth,0.3"
    drained = "9999,FRED,Livesley et al 2000,ref,Zea,mays,,field,,core,,,,Rooting_depth,1.6"
    found = drafts(stated("groot", groot(written, wet, drained)), "rooting-depth")

    assert [(Decimal("0.3"), None, "floor"), (None, Decimal("1.6"), "single")] == [
        (d.low, d.likely, d.number_kind) for d in found
    ]
    assert "at least so deep" in (found[0].note or "")


@pytest.mark.parametrize(
    ("groot_id", "species", "depth"),
    [("7704", "myrtillus", "0.007"), ("7719", "myrtillus", "0.007"), ("7702", "virgaurea", "0.046")],
)
def test_tundra_depths_known_wrong_are_refused(
    written: Written, stated: Stated, groot_id: str, species: str, depth: str
) -> None:
    """GRooT 7704, 7719 (bilberry 0.007 m) and 7702 (goldenrod 0.046 m): known wrong (data.md 5)."""
    genus = "Vaccinium" if species == "myrtillus" else "Solidago"
    row = (
        f"{groot_id},FRED,Jonasson,ref,{genus},{species},,field,,excavation,,Swedish Lapland,,"
        f"Rooting_depth,{depth}"
    )
    found = stated("groot", groot(written, row))

    assert [] == drafts(found, "rooting-depth")
    assert refused(found)


def test_other_tundra_depths_are_marked(written: Written, stated: Stated) -> None:
    """A depth from the tundra stays, with the climate in its conditions (invented row)."""
    row = "1,FRED,A 2000,ref,Empetrum,nigrum,,field,,excavation,,Alaska. tundra,,Rooting_depth,0.2"
    (depth,) = drafts(stated("groot", groot(written, row)), "rooting-depth")

    assert ("climate", "tundra") in depth.conditions


def test_a_data_set_of_the_tundra_marks_its_rows(written: Written, stated: Stated) -> None:
    """GRooT 8335 (Keuper 2012): Stordalen says no tundra, the data set that the row comes from does."""
    row = (
        '8335,FRED,"Keuper, 2012",ref,Empetrum,nigrum,,field,,soil cores,,"Stordalen, Sweden.",,'
        "Rooting_depth,0.15,Dynamics in Arctic Tundra Ecosystems,Empetrum,nigrum,"
    )
    (depth,) = drafts(stated("groot", groot(written, row)), "rooting-depth")

    assert ("climate", "tundra") in depth.conditions


def test_partners_hold_for_the_genus_and_unlikely_ones_are_refused(written: Written, stated: Stated) -> None:
    """NodDB: clovers have rhizobia; the label "unlikely" of honey locust names no partner."""
    found = stated("groot", groot(written, "1,FRED,A,ref,Malus,domestica,,field,,trench,,,,Rooting_depth,1"))

    partners = drafts(found, "fixing-partner")
    assert "trifolium-repens" in {d.plant for d in partners}
    assert "gleditsia-triacanthos" not in {d.plant for d in partners}
    assert all(("scope", "genus") in d.conditions for d in partners)


def test_a_file_that_is_no_zip_is_named(written: Written) -> None:
    """The published form of the root set is a zip; anything else under that name is a fault."""
    folder = written({"GRooTFullVersion.zip": "not a zip"})

    with pytest.raises(Exception, match="cannot be opened as a zip"):
        list(importers()["groot"].rows(folder))


def test_elder_stands_in_two_families(written: Written, stated: Stated) -> None:
    """Taxonlookup puts Sambucus in Adoxaceae; the flora set has Viburnaceae: both are records."""
    found = stated(
        "taxonomy", written({"plant_lookup.csv": "genus,family,apweb.family\nSambucus,Adoxaceae,Adoxaceae\n"})
    )

    assert {("Adoxaceae",)} == {d.concepts for d in drafts(found, "family")}
    assert "sambucus-nigra" in {d.plant for d in drafts(found, "family")}
