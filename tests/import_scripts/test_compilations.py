"""Published facts and cautions of our own compilation, and common practice: what becomes of a row.

Rows marked invented are; the others are rows of the compilation with the source named in them.
"""

from collections.abc import Callable
from decimal import Decimal
from pathlib import Path

import pytest

from import_scripts.base import CautionDraft, Draft, Refused, Statement
from kb.errors import SourceFault

Written = Callable[..., Path]
Stated = Callable[[str, Path], list[Statement]]
FACTS = (
    "scientific_name,trait,low,high,value,unit,number_kind,conditions,verbatim,source_key,locator,seen,"
    "confidence_note\n"
)
SOURCES = (
    "source_key,citation,doi_or_url,year,publisher,licence_if_seen,how_seen\n"
    "Full_A,An invented table,,1999,A press,,full text\n"
    "abs_b,An invented paper,10.0/x,2001,,,abstract\n"
    "copy_c,Yearly dates,,2002,,,full text of the table; second-hand copy of the yearly dates\n"
)
BLANK = "Malus domestica,stock-vigour,,,1,%,mean,,1,Full_A,p. 1,seen,\n"


@pytest.fixture
def fact(written: Written, stated: Stated) -> Callable[[str], Statement]:
    """What one row of facts becomes (in the part for herbs; the other parts hold a row of no trait)."""

    def convert(row: str) -> Statement:
        files = {}
        for part in ("rooting_herbaceous", "rooting_woody", "size_and_season"):
            files[f"{part}/facts.csv"] = FACTS + (row if part == "rooting_herbaceous" else BLANK)
            files[f"{part}/sources.csv"] = SOURCES
        return stated("published-facts", written(files))[0]

    return convert


def test_centimetres_become_metres_and_the_print_stays(fact: Callable[[str], Statement]) -> None:
    """60 cm is 0.60 m exactly; the printed words are kept as they are (invented row)."""
    found = fact("Daucus carota,rooting-depth,,,60,cm,single,name=carrot; trench,60 cm,Full_A,p. 3,seen,\n")

    assert isinstance(found, Draft)
    assert (Decimal("0.60"), "60 cm", "carrot") == (found.likely, found.verbatim, found.name_as_printed)
    assert (("method", "trench"),) == tuple(pair for pair in found.conditions if pair[0] == "method")


@pytest.mark.parametrize(
    ("row", "basis"),
    [
        ("Daucus carota,rooting-depth,,,60,cm,single,,60 cm,Full_A,p. 3,seen,\n", "read-in-source"),
        ("Daucus carota,rooting-depth,,,60,cm,single,,60 cm,abs_b,p. 3,seen,\n", "read-in-excerpt"),
        ("Daucus carota,rooting-depth,,,60,cm,single,,60 cm,copy_c,p. 3,seen,\n", "read-in-transcription"),
        ("Daucus carota,rooting-depth,,,60,cm,single,,60 cm,Full_A,p. 3,second-hand,\n", "second-hand"),
    ],
)
def test_the_basis_says_how_a_fact_was_read(fact: Callable[[str], Statement], row: str, basis: str) -> None:
    """Full text, excerpt, transcription and second-hand are told apart (interface.md, closed list)."""
    found = fact(row)

    assert isinstance(found, Draft)
    assert basis == found.basis


@pytest.mark.parametrize(
    ("trait", "kind", "low", "high", "value", "note", "expected"),
    [
        ("rooting-depth", "minimum", "70", "", "", "", ("floor", "0.70", None, None)),
        ("rooting-depth", "maximum", "", "", "100", "", ("maximum", None, "1.00", None)),
        ("rooting-depth", "maximum", "", "", "36", "young plants; x", ("floor", "0.36", None, None)),
        ("rooting-depth", "single", "", "", "80", "small plant", ("floor", "0.80", None, None)),
        (
            "rooting-depth",
            "maximum",
            "",
            "",
            "40",
            '"depth at distance, not overall"',
            ("floor", "0.40", None, None),
        ),
        (
            "root-spread",
            "single",
            "",
            "",
            "100",
            '"peak density, not farthest root"',
            ("floor", "1.00", None, None),
        ),
        (
            "effective-rooting-depth",
            "single",
            "",
            "",
            "30",
            "young planted shrubs",
            ("floor", "0.30", None, None),
        ),
        ("root-depth-50", "maximum", "", "23", "", "", ("ceiling", None, None, "0.23")),
        ("effective-rooting-depth", "range", "0", "30", "", "", ("single", None, "0.30", None)),
        ("effective-rooting-depth", "range", "60", "100", "", "", ("range", "0.60", None, "1.00")),
        ("effective-rooting-depth", "expert", "76.2", "76.2", "76.2", "", ("expert", None, "0.762", None)),
    ],
)
def test_kinds_of_depth(
    fact: Callable[[str], Statement],
    trait: str,
    kind: str,
    low: str,
    high: str,
    value: str,
    note: str,
    expected: tuple[str, str | None, str | None, str | None],
) -> None:
    """Floors, ceilings, layers from the surface and young plants keep their meaning (invented rows)."""
    found = fact(f"Daucus carota,{trait},{low},{high},{value},cm,{kind},,x,Full_A,p. 3,seen,{note}\n")

    assert isinstance(found, Draft)
    numbers = tuple(None if text is None else Decimal(text) for text in expected[1:])
    assert (expected[0], *numbers) == (found.number_kind, found.low, found.likely, found.high)


@pytest.mark.parametrize(
    ("row", "kind", "numbers"),
    [
        (
            "Prunus avium,rooting-depth,1.0,1.5,,m,range,rootstock=A; young trees,x,Full_A,p. 3,seen,\n",
            "floor",
            ("1.5", None, None),
        ),
        (
            "Prunus avium,rooting-depth,2.0,2.5,,m,range,rootstock=A; old trees,x,Full_A,p. 3,seen,\n",
            "range",
            ("2.0", None, "2.5"),
        ),
        (
            (
                "Malus domestica,effective-rooting-depth,40,45,,cm,range,rootstock=M9; young trees,x,"
                "Full_A,p. 3,seen,\n"
            ),
            "range",
            ("0.4", None, "0.45"),
        ),
    ],
)
def test_what_young_trees_reach_is_a_floor(
    fact: Callable[[str], Statement],
    row: str,
    kind: str,
    numbers: tuple[str | None, ...],
) -> None:
    """Cherries in Transylvania: 1.0-1.5 m when young; how deep to water young trees on M9 stays as it is."""
    found = fact(row)

    assert isinstance(found, Draft)
    expected = tuple(None if text is None else Decimal(text) for text in numbers)
    assert (kind, *expected) == (found.number_kind, found.low, found.likely, found.high)


@pytest.mark.parametrize(
    ("trait", "conditions", "note", "group"),
    [
        ("mature-height", "name=Gooseberries and currants", "one height for the group", True),
        ("effective-rooting-depth", "name=lentil", "statement for pulses together", True),
        ("root-depth-50", "name=flax; mean over seven crops: 44 % of root volume above 20 cm", "", True),
        ("effective-rooting-depth", "name=lentil", "deepest of three", False),
    ],
)
def test_one_figure_for_several_plants_is_of_a_group(
    fact: Callable[[str], Statement], trait: str, conditions: str, note: str, group: bool
) -> None:
    """Said of several plants at once, a figure has the condition "scope" (invented rows)."""
    found = fact(f"Lens culinaris,{trait},0.2,0.4,,m,range,{conditions},x,Full_A,p. 3,seen,{note}\n")

    assert isinstance(found, Draft)
    assert group == (("scope", "group") in found.conditions)


def test_legal_sampling_depths_are_classes(fact: Callable[[str], Statement]) -> None:
    """German fertiliser ordinance 2017, annex 4, table 4: cauliflower 60 cm is a legal class."""
    found = fact(
        "Brassica oleracea,effective-rooting-depth,0,60,60,cm,class,name=Blumenkohl; Probenahmetiefe,60 cm,"
        "Full_A,Anlage 4,seen,legal soil-sampling depth for available mineral N\n"
    )

    assert isinstance(found, Draft)
    assert ("kind", "legal-class") in found.conditions
    assert ("class", Decimal("0.60")) == (found.number_kind, found.likely)
    assert "brassica-oleracea.botrytis-group" == found.plant


@pytest.mark.parametrize(
    ("row", "said"),
    [
        ("Malus domestica,stock-vigour,,,80,%,expert,,80,Full_A,p. 1,seen,\n", "no plant here"),
        (
            "Malus domestica,stock-vigour,,,9.6,cm2 trunk,mean,rootstock=M.9,9.6,Full_A,p,seen,\n",
            "compares with no tree on a seedling",
        ),
        ("Fagus sylvatica,crown-width,3,5,,m,range,cultivar=Invented,3-5,Full_A,p. 1,seen,\n", "a cultivar"),
        ("Medicago sativa,root-spread,,,91,cm,single,,3 ft,Full_A,p. 1,seen,diameter\n", "a diameter"),
        (
            "Zea mays,nitrogen-uptake,,,57,kg N/ha,mean,part=ears,51 lb,Full_A,p. 1,seen,\n",
            "a part of the crop",
        ),
        (
            "Bellis perennis,flowering-window,,,100,day of year,mean,,x,Full_A,p,seen,flowers in any month\n",
            "says nothing",
        ),
        (
            "Alnus incana,flowering-window,03-07,,,month-day,minimum,,7 Mar,Full_A,p. 1,seen,\n",
            "earliest date",
        ),
    ],
)
def test_facts_that_no_trait_can_hold_are_refused_with_the_reason(
    fact: Callable[[str], Statement], row: str, said: str
) -> None:
    """A refused fact stands in the report with its reason; none is bent to fit (invented rows)."""
    found = fact(row)

    assert isinstance(found, Refused)
    assert said in found.reason


@pytest.mark.parametrize(
    ("row", "low", "high"),
    [
        ("Malus sylvestris,flowering-window,,,120,day of year,mean,,x,Full_A,p,seen,\n", "18.0", None),
        (
            "Lindera benzoin,flowering-window,03,04,,month,range,,March - April,Full_A,p,seen,\n",
            "9.4",
            "18.0",
        ),
        ("Zea mays,growth-window,05-21,07-02,,month-day,range,,x,Full_A,p,seen,\n", "21.0", "27.0"),
    ],
)
def test_dates_become_weeks(fact: Callable[[str], Statement], row: str, low: str, high: str | None) -> None:
    """Week = 1 + (day of year - 1)/7: 30 April is day 120, week 18.0; 1 March is day 60 (by hand)."""
    found = fact(row)

    assert isinstance(found, Draft)
    assert Decimal(low) == found.low
    assert (Decimal(high) if high else None) == found.high


def test_nitrogen_per_hectare_becomes_grams_per_square_metre(fact: Callable[[str], Statement]) -> None:
    """270 kg/ha is 27 g/m2 (beetroot, RB209 table 6.27); the crop is the beetroot, not the species."""
    found = fact(
        "Beta vulgaris,nitrogen-uptake,,,270,kg N/ha,single,name=Beetroot; place=UK,270* kg/ha,"
        "Full_A,p. 42,seen,\n"
    )

    assert isinstance(found, Draft)
    assert (Decimal("27.0"), "beta-vulgaris.conditiva-group") == (found.likely, found.plant)


def test_a_fact_whose_source_is_not_listed_stops_the_import(fact: Callable[[str], Statement]) -> None:
    """A fact without a describable source is no fact (invented row)."""
    with pytest.raises(SourceFault, match=r"line 2 cites 'nobody'"):
        fact("Daucus carota,rooting-depth,,,60,cm,single,,60 cm,nobody,p. 3,seen,\n")


CAUTION = (
    "Robinia pseudoacacia,caution-toxic,,,severe (3 of 3 stars),,class,"
    "part=bark; place=Germany; date=2019; legal=an invented law,starke,Full_A,row 4,seen,genus wording\n"
)


def test_a_caution_keeps_part_place_date_and_words(written: Written, stated: Stated) -> None:
    """The caution says who is hurt by what, where and when, in plain words (invented row)."""
    folder = written({"cautions.csv": FACTS + CAUTION, "sources.csv": SOURCES})
    (caution,) = stated("cautions", folder)

    assert isinstance(caution, CautionDraft)
    assert ("bark", "Germany", "2019") == (caution.part, caution.place, caution.as_of)
    assert (
        "Poisonous or harmful: severe (highest of three grades). Legal text: an invented law. "
        "Note of the compiler: genus wording."
    ) == caution.text
    assert "starke" == caution.verbatim


@pytest.mark.parametrize(
    ("value", "part", "note", "text", "kept_part"),
    [
        ("seeds bitter, low risk", "seed", "printed as not toxic", "seeds bitter", "seed"),
        ("ripe pulp not toxic; new growth worst", "leaf", "genus wording", "new growth worst", "leaf"),
        ("potentially fatal", "leaves (stems non-toxic)", "", "potentially fatal", "leaves"),
        ("poisonous parts", "seeds (stones), flesh non-toxic", "", "poisonous parts", "seeds (stones)"),
        ("toxic only in large quantities", "seed", "", "toxic in large quantities", "seed"),
        ("alkaloids present, no case report", "leaf", "", "alkaloids present", "leaf"),
        ("all parts except aril", "seed", "", "all parts except aril", "seed"),
    ],
)
def test_a_caution_never_reassures(
    written: Written, stated: Stated, value: str, part: str, note: str, text: str, kept_part: str
) -> None:
    """The clause that calms is left out, the printed words stay (invented rows, shaped on the table's)."""
    cells = f'"{value}",,expert,"part={part}",as printed,Full_A,p. 1,seen,{note}'
    row = f"Malus domestica,caution-toxic,,,{cells}\n"
    (caution,) = stated("cautions", written({"cautions.csv": FACTS + row, "sources.csv": SOURCES}))

    assert isinstance(caution, CautionDraft)
    remark = " Note of the compiler: genus wording." if note == "genus wording" else ""
    assert (f"Poisonous or harmful: {text}.{remark}", kept_part) == (caution.text, caution.part)
    assert "as printed" == caution.verbatim


@pytest.mark.parametrize("value", ["range not of concern", "removed from playground ban, no severe case"])
def test_a_statement_that_only_reassures_is_no_caution(written: Written, stated: Stated, value: str) -> None:
    """None on record is not safety, and no record may say so (invented rows)."""
    row = f'Malus domestica,caution-toxic,,,"{value}",,expert,part=seed,x,Full_A,p. 1,seen,\n'
    (refused,) = stated("cautions", written({"cautions.csv": FACTS + row, "sources.csv": SOURCES}))

    assert isinstance(refused, Refused)
    assert "reassures" in refused.reason


def test_creeping_stems_are_no_roots(fact: Callable[[str], Statement]) -> None:
    """A depth of rhizomes is refused; suckers that are printed as rhizomes are rhizomes (invented rows)."""
    depth = fact("Daucus carota,rooting-depth,,,38,cm,maximum,RHIZOME depth,x,Full_A,p. 3,seen,\n")
    form = fact("Daucus carota,root-form,,,suckering,,single,,running rhizomes,Full_A,p. 3,seen,\n")

    assert isinstance(depth, Refused)
    assert isinstance(form, Draft)
    assert ("rhizome",) == form.concepts


@pytest.mark.parametrize(
    ("value", "concepts"),
    [
        ("taproot with side roots", ("tap",)),
        ("taproot with horizontal secondary roots", ("spreading", "tap")),
    ],
)
def test_side_roots_of_a_tap_root_do_not_take_over(
    fact: Callable[[str], Statement], value: str, concepts: tuple[str, ...]
) -> None:
    """Zeneli and Kola (walnut): "taproot penetrating to 3.7 m deep and many lateral roots" is a tap root."""
    form = fact(f"Juglans regia,root-form,,,{value},,single,,taproot,Full_A,Abstract,seen,\n")

    assert isinstance(form, Draft)
    assert concepts == form.concepts
    assert isinstance(
        fact("Juglans regia,root-form,,,tap-then-spreading,,single,,taproot,Full_A,Abstract,seen,\n"), Refused
    )


def test_a_lookalike_names_what_it_is_taken_for(written: Written, stated: Stated) -> None:
    """The other plant stands in its own field, so that it can be shown first."""
    row = "Allium ursinum,caution-lookalike,,,Convallaria majalis,,list-membership,,x,Full_A,p. 1,seen,\n"
    (caution,) = stated("cautions", written({"cautions.csv": FACTS + row, "sources.csv": SOURCES}))

    assert isinstance(caution, CautionDraft)
    assert "Convallaria majalis" == caution.lookalike


def test_common_practice_may_not_pretend_to_be_cited(written: Written, stated: Stated) -> None:
    """Only common practice and recollection: a row that claims a source is refused (invented rows)."""
    header = "plant,trait,low,likely,high,concept,number_kind,conditions,basis,words,note\n"
    rows = (
        "malus-domestica,sole-spacing,,4.5,,,expert,,common-practice,Apple: 4.5 m apart,\n"
        "malus-domestica,sole-spacing,,4.5,,,expert,,read-in-source,Apple: 4.5 m apart,\n"
        "malus-domestica,sole-spacing,,4.5,,,guess,,recalled,Apple: 4.5 m apart,\n"
        "malus-imaginaria,sole-spacing,,4.5,,,expert,,recalled,Apple: 4.5 m apart,\n"
    )
    kept, claimed, kind, stranger = stated("common-practice", written({"records.csv": header + rows}))

    assert isinstance(kept, Draft)
    assert ("common-practice", "trade-notes", "Apple") == (kept.basis, kept.source, kept.name_as_printed)
    assert isinstance(claimed, Refused)
    assert "is not for this table" in claimed.reason
    assert isinstance(kind, Refused)
    assert isinstance(stranger, Refused)
    assert stranger.unmatched
