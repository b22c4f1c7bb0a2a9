"""An invented plant with a source, a record, a caution and a decision: sound in every part."""

from dataclasses import replace
from datetime import date
from decimal import Decimal

from kb.model import Caution, Decision, Plant, PlantId, Record, Source, SourceKey, TraitId
from kb.vocabulary_store import load_vocabulary

VOCABULARY = load_vocabulary()

SOURCE = Source(
    key=SourceKey("invented-book"),
    citation="An invented handbook of invented shrubs, 1901",
    identifier=None,
    year="1901",
    licence="CC0, because it is invented",
    licence_iri=None,
    tier="A",
    how_read="made up for a test",
    credit="An invented handbook",
)
RECORD = Record(
    id="inventa-exemplaris.rooting-depth.invented-book",
    plant=PlantId("inventa-exemplaris"),
    trait=TraitId("rooting-depth"),
    low=Decimal("1.2"),
    likely=None,
    high=Decimal("1.8"),
    concepts=(),
    number_kind="range",
    conditions=(("age", "10 years"),),
    verbatim="1.2-1.8 m",
    name_as_printed="Inventa exemplaris",
    source=SOURCE.key,
    locator="table 1, row 2",
    basis="read-in-source",
    standing="proposed",
    entered_by="an invented test",
    entered_on=date(2026, 11, 25),
)
CAUTION = Caution(
    id="inventa-exemplaris.prohibited.invented-book",
    plant=RECORD.plant,
    kind="prohibited",
    text="The invented shrub must not be planted.",
    part=None,
    agent=None,
    group=None,
    place="an invented country",
    as_of="2020",
    lookalike=None,
    verbatim="must not be planted",
    name_as_printed="Inventa exemplaris",
    source=SOURCE.key,
    locator="article 3",
    basis="read-in-source",
    standing="proposed",
    entered_by="an invented test",
    entered_on=date(2026, 11, 25),
)
DECISION = Decision(
    id="inventa-exemplaris.rooting-depth.1",
    plant=RECORD.plant,
    trait=RECORD.trait,
    decided_by="an invented curator",
    decided_on=date(2026, 11, 25),
    why="The only pit that reached the last root.",
    weighed=((RECORD.id, "preferred"),),
)
PLANT = Plant(
    id=RECORD.plant,
    scientific_name="Inventa exemplaris",
    authority=None,
    rank="species",
    according_to=SOURCE.key,
    parent=None,
    groups=("berry-shrub",),
    records=(RECORD,),
    cautions=(CAUTION,),
    decisions=(DECISION,),
)


def other(name: str) -> Plant:
    """Give a second invented plant without records."""
    return replace(
        PLANT,
        id=PlantId(f"inventa-{name}"),
        scientific_name=f"Inventa {name}",
        records=(),
        cautions=(),
        decisions=(),
    )
