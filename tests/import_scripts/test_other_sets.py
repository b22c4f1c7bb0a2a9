"""European and Swedish flora, clonal growth, leaves, city trees, models: what their rows become.

All rows are cited facts of the set unless the test says invented; what is expected stands in the
data notes (data.md).
"""

from collections.abc import Mapping
from decimal import Decimal
from pathlib import Path

from import_scripts.base import Refused
from import_scripts.clopla.importer import COLUMNS
from tests.import_scripts.stated import Stated, Written, drafts, refused

LIFE = (
    "SeqID,FloraVeg.Taxon,Phanerophyte,Tree,Shrub,Woody liana,Chamaephyte,Semi-shrub,Dwarf shrub,"
    "Hemicryptophyte,Geophyte,Hydrophyte,Therophyte,Epiphyte,Herbaceous liana\n"
)
TICHY = (
    "accepted_taxa,original_taxa_Tichy2022,Ellenberg.Light_Tichy2022,Ellenberg.Moisture_Tichy2022,"
    "Ellenberg.Nutrients_Tichy2022,Ellenberg.Reaction_Tichy2022\n"
)


def floraveg(written: Written, heights: str, indicators: str) -> Path:
    return written(
        {
            "Life_form_target_rows.csv": LIFE + "65,Acer campestre,1,1,0,0,0,0,0,0,0,0,0,0,0\n",
            "Lososova2023_target_rows.csv": "SeqID,Taxon,Plant height (m)\n" + heights,
            "Tichy2023_partial_target_rows.csv": TICHY + indicators,
        }
    )


def test_european_heights_known_wrong_are_refused_and_limits_stay_limits(
    written: Written, stated: Stated
) -> None:
    """Lososova: Calluna 12.387, H. italicum 10.036, C. pepo 5.7 m refused; ">0,3" is a floor."""
    heights = (
        "1,Calluna vulgaris,12.387\n2,Helichrysum italicum,10.036\n3,Cucurbita pepo,5.7\n"
        '4,Thymus vulgaris,">0,3"\n5,Thymus serpyllum,"<0,3"\n6,Acer campestre,15.09\n'
    )
    found = stated("floraveg", floraveg(written, heights, "Acer campestre,Acer campestre,5.7,,5.4,7.3\n"))

    assert 3 == len(refused(found))
    floor, ceiling, mean = drafts(found, "mature-height")
    assert (Decimal("0.3"), "floor") == (floor.low, floor.number_kind)
    assert (Decimal("0.3"), "ceiling") == (ceiling.high, ceiling.number_kind)
    assert (Decimal("15.09"), "mean") == (mean.likely, mean.number_kind)


def test_a_row_printed_under_another_name_is_refused(written: Written, stated: Stated) -> None:
    """Tichy: Achillea setacea filed under A. millefolium is no value of yarrow; blanks say nothing."""
    rows = "Achillea millefolium,Achillea setacea,8,3,2,8\nAcer campestre,Acer campestre,5.7,,5.4,7.3\n"
    found = stated("floraveg", floraveg(written, "6,Acer campestre,15.09\n", rows))

    assert ["is printed as Achillea setacea and filed under Achillea millefolium"] == refused(found)
    assert [] == drafts(found, "moisture-indicator-1-12")
    (light,) = drafts(found, "light-indicator-1-9")
    assert "acer-campestre" == light.plant
    assert (
        "traitA_floraveg.csv, original_taxa_Tichy2022 Acer campestre, Ellenberg.Light_Tichy2022"
        == light.locator
    )


TYLER = "Scientific_name,Family,Light,Moisture,Soil_reaction_pH,Phenology,Longevity,Nitrogen_fixation\n"


def test_ferns_have_no_flowering_class(written: Written, stated: Stated) -> None:
    """Tyler: the class 12 of the ostrich fern and 10 of the male fern are of spores; light stays."""
    rows = "Matteuccia struthiopteris (L.) Tod.,Onocleaceae,3,8,6,12,4,0\n"
    rows += "Dryopteris filix-mas (L.) Schott,Dryopteridaceae,2,5,5,10,4,0\n"
    found = stated("tyler", written({"Tyler2021_target_rows.csv": TYLER + rows}))

    assert [] == drafts(found, "flowering-class-1-15")
    assert [Decimal(3), Decimal(2)] == [d.likely for d in drafts(found, "light-indicator-1-7")]
    assert ["no flowers" in reason for reason in refused(found)] == [True, True]


def test_swedish_classes_stay_on_their_scales(written: Written, stated: Stated) -> None:
    """Tyler: light 1-7 (8 refused), flowering class of hazel 1, longevity 3 unexplained."""
    rows = "Corylus avellana L.,Betulaceae,4,5,6,1,4,0\n"
    rows += "Elaeagnus commutata Bernh. ex Rydb.,Elaeagnaceae,8,,,,3,0\n"
    found = stated("tyler", written({"Tyler2021_target_rows.csv": TYLER + rows}))

    assert [Decimal(4)] == [d.likely for d in drafts(found, "light-indicator-1-7")]
    assert Decimal(1) == drafts(found, "flowering-class-1-15")[0].likely
    assert [Decimal(6)] == [d.likely for d in drafts(found, "reaction-indicator-1-8")]
    assert [] == drafts(found, "reaction-indicator-1-9") + drafts(found, "moisture-indicator-1-12")
    assert 2 == len(refused(found))
    assert ("does-not-fix",) == drafts(found, "nitrogen-fixation")[1].concepts


def clonal_table(written: Written, *plants: Mapping[str, str]) -> Path:
    """A table as CLO-PLA prints it, of plants that tell only where they are not marked 0 or blank."""
    usual = dict.fromkeys(COLUMNS, "0") | {"finalCGO": "", "spread": ""}
    lines = ["\t".join(COLUMNS)]
    for plant in plants:
        told = usual | plant | {"Species_name": f'"""{plant["Species_name"]}"""'}
        lines.append("\t".join(told[column] for column in COLUMNS))
    return written({"CLO-PLA-traits.txt": "\n".join((*lines, ""))}, "cp1250")


def test_clonal_organs_and_an_unexplained_code(written: Written, stated: Stated) -> None:
    """CLO-PLA: Jerusalem artichoke 12 (stem tuber), ground ivy 1 (stolon); code 17 is refused."""
    found = stated(
        "clopla",
        clonal_table(
            written,
            {"Species_name": "Helianthus tuberosus L.", "clonal": "1", "finalCGO": "12", "spread": "22.0"},
            {"Species_name": "Glechoma hederacea L.", "clonal": "1", "finalCGO": "1", "spread": "50"},
            {"Species_name": "Allium vineale L.", "clonal": "1", "finalCGO": "17", "spread": "0.5"},
        ),
    )

    assert [("tuber",), ("stolon",)] == [d.concepts for d in drafts(found, "root-form")]
    assert [("tuber",)] == [d.concepts for d in drafts(found, "storage-organ")]
    assert [("slow",), ("runs",), ("clump",)] == [d.concepts for d in drafts(found, "spread")]
    assert "code 17" in refused(found)[0]


def test_small_shrubs_are_not_called_soft(written: Written, stated: Stated) -> None:
    """CLO-PLA's metadata: woody is "woody plants, excluding small shrubs"; a 0 says nothing of heather."""
    stated_all = stated(
        "clopla",
        clonal_table(
            written,
            {"Species_name": "Calluna vulgaris (L.) Hull", "polycarpic": "1", "Primaryroot": ""},
            {"Species_name": "Euonymus europaeus L.", "woody": "1", "Primaryroot": ""},
            {"Species_name": "Pisum sativum L.", "annual": "1", "Primaryroot": "1"},
        ),
    )
    found, roots = drafts(stated_all, "woodiness"), drafts(stated_all, "root-form")

    assert [("euonymus-europaeus", ("woody",)), ("pisum-sativum", ("not-woody",))] == [
        (one.plant, one.concepts) for one in found
    ]
    assert [("pisum-sativum", ("primary-root",))] == [(one.plant, one.concepts) for one in roots]


def test_a_herb_without_clonal_growth_stays_where_it_stands(written: Written, stated: Stated) -> None:
    """CLO-PLA: pea (annual), lovage (on its first root); not horseradish (root sprouts) nor ivy (woody)."""
    lasting = {"perennialnonclonal": "1", "polycarpic": "1", "Primaryroot": "1"}
    found = stated(
        "clopla",
        clonal_table(
            written,
            {"Species_name": "Pisum sativum L.", "annual": "1"},
            {"Species_name": "Levisticum officinale W. D. J. Koch", **lasting},
            {"Species_name": "Armoracia rusticana P. Gaertn.", **lasting, "Rsprouter": "1"},
            {"Species_name": "Hedera helix L.", "woody": "1"},
        ),
    )

    assert [("pisum-sativum", ("clump",)), ("levisticum-officinale", ("clump",))] == [
        (one.plant, one.concepts) for one in drafts(found, "spread")
    ]


def test_aggregates_and_nominate_subspecies_match_by_decision_alone(written: Written, stated: Stated) -> None:
    """CLO-PLA prints Galium verum only as an aggregate, 10 (rhizome): it counts half, and says so."""
    other = "Viola tricolor subsp. saxatilis (F. W. Schmidt) Arcang."
    found = stated(
        "clopla",
        clonal_table(
            written,
            {"Species_name": "Galium verum agg. ", "clonal": "1", "finalCGO": "10", "spread": "13"},
            {
                "Species_name": "Plantago major L. subsp. major ",
                "clonal": "1",
                "finalCGO": "9",
                "spread": "0.5",
            },
            {"Species_name": other, "polycarpic": "1", "Primaryroot": "1"},
        ),
    )

    roots = drafts(found, "root-form")
    assert [("galium-verum", "group"), ("plantago-major", None)] == [
        (one.plant, dict(one.conditions).get("scope")) for one in roots
    ]
    assert "aggregate" in str(roots[0].note)
    assert [other] == [one.name for one in found if isinstance(one, Refused) and one.unmatched]


def test_leaf_habit_reads_lines_that_end_with_carriage_returns(written: Written, stated: Stated) -> None:
    """Zanne: the leaf file has CR line ends; EV, D and both."""
    leaf = "Binomial,Phenology\rLaurus nobilis,EV\rMalus domestica,D\rLonicera japonica,D_EV\r"
    found = stated(
        "zanne",
        written(
            {
                "GlobalLeafPhenologyDatabase.csv": leaf,
                "GlobalWoodinessDatabase.csv": "gs,woodiness\nPisum sativum,H\n",
                "MinimumFreezingExposure.csv": "species,Freeze.tmin.lo\nAcer campestre,FreezingExposed\n",
            }
        ),
    )

    assert [("evergreen",), ("deciduous",), ("deciduous", "evergreen")] == [
        d.concepts for d in drafts(found, "leaf-retention")
    ]
    assert [("exposed",)] == [d.concepts for d in drafts(found, "freezing-exposure")]
    assert [] == drafts(found, "hardiness")


def test_a_name_spelled_otherwise_is_taken_by_decision_only(written: Written, stated: Stated) -> None:
    """Lososova prints 0.63125 m for "Rubia tinctorium", Zanne D for "Juglans ailanthifolia": both are ours.

    Another name as like ours ("Potentilla recta", a plant of its own) is nobody's.
    """
    heights = "10254,Rubia tinctorium,0.63125\n9670,Potentilla recta,0.4\n"
    found = stated("floraveg", floraveg(written, heights, "Acer campestre,Acer campestre,5.7,,5.4,7.3\n"))
    leaf = "Binomial,Phenology\rJuglans ailanthifolia,D\r"
    habit = stated(
        "zanne",
        written(
            {
                "GlobalLeafPhenologyDatabase.csv": leaf,
                "GlobalWoodinessDatabase.csv": "gs,woodiness\nPisum sativum,H\n",
                "MinimumFreezingExposure.csv": "species,Freeze.tmin.lo\nAcer campestre,FreezingExposed\n",
            }
        ),
    )

    (madder,) = drafts(found, "mature-height")
    told = (madder.plant, madder.likely, madder.name_as_printed)
    assert ("rubia-tinctorum", Decimal("0.63125"), "Rubia tinctorium") == told
    assert ["Potentilla recta"] == [one.name for one in found if isinstance(one, Refused) and one.unmatched]
    assert ["juglans-ailantifolia"] == [one.plant for one in drafts(habit, "leaf-retention")]


def test_leaf_season_is_the_median_and_leaves_impossible_ends_out(written: Written, stated: Stated) -> None:
    """Invented garden-years: medians 52.5 and 154 as weeks; senescence before unfolding gives no end."""
    header = "Species,Botanic_Garden,Year,LeafUnf,SenOn\n"
    days = [(50, 150), (52, 152), (53, 156), (55, 158), (52, 154), (53, 20)]
    rows = "".join(f"Allium ursinum,G{n},202{n},{a},{b}\n" for n, (a, b) in enumerate(days))
    found = stated("phenobs", written({"LeafUnfolding_Senescence_GSL_target_rows.csv": header + rows}))
    (window,) = drafts(found, "leaf-window")

    # day 52.5 is week 1 + 51.5/7 = 8.36; day 154 is week 22.86 (by hand)
    assert (Decimal("8.4"), None) == (window.low, window.high)
    told = {"n": "6", "n-senescence": "5", "senescence-from": "22.9"}
    assert told.items() <= dict(window.conditions).items()
    assert (window.note or "").endswith("onsets of senescence left out that come before the unfolding: 1")


def test_city_trees_leave_missing_crowns_out(written: Written, stated: Stated) -> None:
    """Twenty invented trees of 1-20 m and one crown of -1: the 95th percentile is of the measured ones.

    So are the cities and the kinds of place that are told.
    """
    header = "ScientificName,City,Park/Street,TreeHt (m),AvgCdia (m),Leaf (m2)\n"
    rows = "".join(f"Ginkgo biloba ,A,Street,{n},{n},\n" for n in range(1, 20))
    rows += "Ginkgo biloba,B,-1,20,20,\nGinkgo biloba,C,Nursery,10,-1,90\n"
    rows += "Carpinus betulus 'Fastigiata',A,Street,9,3,20\n"
    found = stated("urban-trees", written({"TS3_target_rows.csv": header + rows}))

    # linear 95th percentile of 1..20 is 1 + 0.95 * 19 = 19.05 (by hand)
    (crown,) = drafts(found, "crown-width")
    assert Decimal("19.05") == crown.likely
    assert "A / B" == dict(crown.conditions)["place"]
    assert (crown.note or "").endswith("Park/Street: Street 19, not told 1")
    assert "A / B / C" == dict(drafts(found, "mature-height")[0].conditions)["place"]
    assert ["is a cultivar, not the species"] == refused(found)
    assert [] == drafts(found, "leaf-area-index")


def test_leaf_area_is_of_the_wider_half_of_the_trees(written: Written, stated: Stated) -> None:
    """Twenty invented limes of 1-20 m, with three m2 of leaf a m2 for each metre over 10.

    The median crown is 10.5 m, so ten trees of 11-20 m count.
    """
    header = "ScientificName,City,Park/Street,TreeHt (m),AvgCdia (m),Leaf (m2)\n"
    circle = 3.14159265358979 / 4
    rows = "".join(
        f"Tilia cordata,A,{'Park' if n > 15 else 'Street'},9,{n},{n * n * circle * 3 * max(n - 10, 1):.6f}\n"
        for n in range(1, 21)
    )
    (leaf,) = drafts(
        stated("urban-trees", written({"TS3_target_rows.csv": header + rows})), "leaf-area-index"
    )

    # 3, 6 ... 30: tenth percentile 3 + 0.9 x 3, median 16.5, ninetieth 30 - 0.9 x 3 (by hand)
    assert (Decimal("5.7"), Decimal("16.5"), Decimal("27.3")) == (leaf.low, leaf.likely, leaf.high)
    assert ("n", "10") in leaf.conditions
    assert (leaf.note or "").endswith("Park/Street: Street 5, Park 5")


def test_mediterranean_heights_are_never_read(written: Written, stated: Stated) -> None:
    """BROT: heights in cm stored as m (Calluna 82.51) are not read; the strawberry tree's 3.5 m is."""
    header = "ID,Taxon,Trait,Data,Units,DataType,Method,SourceID,Comments\n"
    rows = (
        "A1,Calluna vulgaris,Height,82.51,m,quantitative,measure,X,\n"
        "A07155,Arbutus unedo,RootDepth,3.5,m,quantitative,compilation,Canadell1996,\n"
        "A14707,Thymus vulgaris,RootDepth,0.15,m,quantitative,measure,NavarroCano2017b,\n"
    )
    found = stated("brot", written({"BROT2_dat_target_rows.csv": header + rows}))

    assert [] == drafts(found, "mature-height")
    deep, small = drafts(found, "rooting-depth")
    assert (Decimal("3.5"), "single", ("study", "Canadell1996")) == (
        deep.likely,
        deep.number_kind,
        deep.conditions[1],
    )
    assert (Decimal("0.15"), "floor") == (small.low, small.number_kind)


def test_the_deepest_of_a_study_is_a_maximum(written: Written, stated: Stated) -> None:
    """BROT C08083: "maximum rooting depth" 0.59 m of thyme (Guerrero-Campo 2006)."""
    header = "ID,Taxon,Trait,Data,Units,DataType,Method,SourceID,Comments\n"
    row = (
        "C08083,Thymus vulgaris,RootDepth,0.59,m,quantitative,measure,GuerreroCampo2006,"
        "f.a. maximum rooting depth\n"
    )
    (deep,) = drafts(stated("brot", written({"BROT2_dat_target_rows.csv": header + row})), "rooting-depth")

    assert (Decimal("0.59"), "maximum") == (deep.likely, deep.number_kind)


def test_tissue_limits_are_marked_as_such(written: Written, stated: Stated) -> None:
    """GlobTherm: American chestnut LT50 -35.7 (4 tested), holm oak ct50 -8.1 °C (10), as printed."""
    header = "Genus,Species,N.1,tmin,min_metric,REF_min\n"
    rows = header + "Castanea,dentata,4.0,-35.7,LT50,Gurney\nQuercus,ilex,10.0,-8.1,ct50,Gimeno\n"
    found = drafts(stated("globtherm", written({"GlobTherm_target_rows.csv": rows})), "hardiness")

    assert [(None, Decimal("-35.7")), (None, Decimal("-8.1"))] == [(d.likely, d.high) for d in found]
    assert {"ceiling"} == {d.number_kind for d in found}
    assert [("LT50", "4"), ("ct50", "10")] == [
        (dict(d.conditions)["method"], dict(d.conditions)["n"]) for d in found
    ]
    assert [True, False] == [str(d.note).startswith("half of the tissue killed") for d in found]
    assert all("not the limit of the whole plant" in str(d.note) for d in found)


def test_a_limit_of_an_unknown_metric_is_refused(written: Written, stated: Stated) -> None:
    """A lower limit whose metric the set does not explain to us is not taken for a killing temperature."""
    rows = "Genus,Species,N.1,tmin,min_metric,REF_min\nAcca,sellowiana,5.0,-3.0,ctmin,B\n"
    assert ["the metric 'ctmin' of tmin is not known"] == refused(
        stated("globtherm", written({"GlobTherm_target_rows.csv": rows}))
    )
