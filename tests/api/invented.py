"""An invented planting for the tests: no plant, name, source or number here is real."""

from dataclasses import replace
from datetime import date
from decimal import Decimal

from kb.model import (
    Caution,
    CautionKind,
    CommonName,
    Decision,
    Name,
    NumberKind,
    Plant,
    PlantId,
    Record,
    Source,
    SourceKey,
    TraitId,
)

SOURCE = Source(
    key=SourceKey("invented"),
    citation="Invented for the tests; no such work exists.",
    identifier=None,
    year="1900",
    licence="invented",
    licence_iri=None,
    tier="A",
    how_read="whole",
    credit="invented",
)


def number(
    plant: str,
    trait: str,
    low: str | None,
    likely: str | None,
    high: str | None,
    kind: NumberKind = "range",
) -> Record:
    """Give an invented record of a number or a window."""
    ends = [None if value is None else Decimal(value) for value in (low, likely, high)]
    return Record(
        id=f"{plant}.{trait}.invented",
        plant=PlantId(plant),
        trait=TraitId(trait),
        low=ends[0],
        likely=ends[1],
        high=ends[2],
        concepts=(),
        number_kind=kind,
        conditions=(("study", f"{plant} trial"),),
        verbatim="-".join(value for value in (low, likely, high) if value is not None),
        name_as_printed=plant,
        source=SourceKey("invented"),
        locator="p. 1",
        basis="read-in-source",
        standing="proposed",
        entered_by="tests",
        entered_on=date(2026, 11, 25),
    )


def concept(plant: str, trait: str, value: str) -> Record:
    """Give an invented record of a named value."""
    base = number(plant, trait, None, None, None, kind="membership")
    return replace(base, concepts=(value,), verbatim=value)


def caution(plant: str, kind: CautionKind, text: str, *, place: str | None = None) -> Caution:
    """Give an invented warning."""
    return Caution(
        id=f"{plant}.{kind}.invented",
        plant=PlantId(plant),
        kind=kind,
        text=text,
        part="leaf" if kind == "toxic" else None,
        agent=None,
        group=None,
        place=place,
        as_of="1900" if place else None,
        lookalike="inventa-falsa" if kind == "lookalike" else None,
        verbatim=text,
        name_as_printed=plant,
        source=SourceKey("invented"),
        locator="p. 2",
        basis="read-in-source",
        standing="proposed",
        entered_by="tests",
        entered_on=date(2026, 11, 25),
    )


def plant(
    plant_id: str,
    name: str,
    common: str,
    records: tuple[Record, ...],
    *,
    cautions: tuple[Caution, ...] = (),
    decisions: tuple[Decision, ...] = (),
    synonyms: tuple[Name, ...] = (),
) -> Plant:
    """Give an invented plant."""
    return Plant(
        id=PlantId(plant_id),
        scientific_name=name,
        authority="Test.",
        rank="species",
        according_to=SourceKey("invented"),
        parent=None,
        groups=("herb",),
        synonyms=synonyms,
        common_names=(CommonName(common, "en"),),
        records=records,
        cautions=cautions,
        decisions=decisions,
    )


TREE_ID, HERB_ID, ROOT_ID, BEAN_ID, WEED_ID = (
    "inventa-arborea",
    "inventa-herbacea",
    "fictaria-radicosa",
    "fictaria-fabulosa",
    "inventa-falsa",
)

TREE = plant(
    TREE_ID,
    "Inventa arborea",
    "trial tree",
    (
        concept(TREE_ID, "family", "Rosaceae"),
        concept(TREE_ID, "growth-form", "tree"),
        concept(TREE_ID, "life-cycle", "perennial"),
        number(TREE_ID, "mature-height", "5", None, "7"),
        number(TREE_ID, "crown-width", "4", None, "6"),
        number(TREE_ID, "effective-rooting-depth", "1.0", None, "1.8"),
        number(TREE_ID, "growth-window", "16", None, "44"),
        number(TREE_ID, "leaf-window", "17", None, "44"),
    ),
    cautions=(caution(TREE_ID, "toxic", "Invented: the stones are bitter."),),
)
HERB = plant(
    HERB_ID,
    "Inventa herbacea",
    "trial herb",
    (
        concept(HERB_ID, "family", "Lamiaceae"),
        concept(HERB_ID, "growth-form", "herb"),
        concept(HERB_ID, "life-cycle", "perennial"),
        number(HERB_ID, "mature-height", "0.3", None, "0.5"),
        number(HERB_ID, "effective-rooting-depth", "0.3", None, "0.5"),
        number(HERB_ID, "growth-window", "12", None, "40"),
        number(HERB_ID, "light-to-survive", "0.1", "0.2", "0.3"),
    ),
    synonyms=(Name("Inventa vetusta", "Old.", "invented"),),
)
ROOT = plant(
    ROOT_ID,
    "Fictaria radicosa",
    "trialwort",
    (
        concept(ROOT_ID, "family", "Apiaceae"),
        concept(ROOT_ID, "growth-form", "herb"),
        concept(ROOT_ID, "life-cycle", "annual"),
        number(ROOT_ID, "mature-height", "0.4", None, "0.6"),
        number(ROOT_ID, "effective-rooting-depth", "0.5", None, "1.0"),
        number(ROOT_ID, "growth-window", "14", None, "38"),
        number(ROOT_ID, "harvest-disturbance", None, "0.25", None, kind="single"),
    ),
    cautions=(
        caution(ROOT_ID, "livestock", "Invented: not for horses."),
        caution(ROOT_ID, "skin", "Invented: sap and sun burn."),
        caution(ROOT_ID, "prohibited", "Invented: listed for the Union.", place="EU"),
        caution(ROOT_ID, "lookalike", "Invented: taken for inventa-falsa."),
    ),
)
BEAN = plant(
    BEAN_ID,
    "Fictaria fabulosa",
    "trialwort",
    (
        concept(BEAN_ID, "family", "Fabaceae"),
        concept(BEAN_ID, "growth-form", "herb"),
        concept(BEAN_ID, "life-cycle", "annual"),
        concept(BEAN_ID, "nitrogen-fixation", "fixes"),
        number(BEAN_ID, "mature-height", "0.5", None, "1.0"),
        number(BEAN_ID, "effective-rooting-depth", "0.5", None, "0.8"),
        number(BEAN_ID, "growth-window", "46", None, "10"),
    ),
)
WEED = plant(
    WEED_ID,
    "Inventa falsa",
    "false trial herb",
    (concept(WEED_ID, "family", "Apiaceae"),),
    cautions=(caution(WEED_ID, "toxic", "Invented: deadly."),),
)
DECIDED = replace(
    HERB,
    decisions=(
        Decision(
            id=f"{HERB_ID}.mature-height.1",
            plant=PlantId(HERB_ID),
            trait=TraitId("mature-height"),
            decided_by="a curator of the tests",
            decided_on=date(2026, 11, 25),
            why="Invented: it is the only one.",
            weighed=((f"{HERB_ID}.mature-height.invented", "preferred"),),
        ),
    ),
)
PLANTS = (TREE, DECIDED, ROOT, BEAN, WEED)
