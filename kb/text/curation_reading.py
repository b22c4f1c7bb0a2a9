"""Reading observations, withdrawals and reviews back from a plant's file."""

from kb.model import PlantId, TraitId
from kb.namespaces import BASE
from kb.statements.curation_model import Observation, Quality, Review, Verdict, Withdrawal
from kb.text.subject_reading import SubjectReader


def read_observation(reader: SubjectReader, name: str) -> Observation:
    trait = reader.local("dwciri:measurementType", "trait")
    return Observation(
        id=name,
        plant=PlantId(reader.local("tb:aboutTaxon", "plant")),
        trait=TraitId(trait),
        low=reader.either("tb:minValue", "tb:startWeek"),
        likely=reader.either("tb:likelyValue", "tb:likelyWeek"),
        high=reader.either("tb:maxValue", "tb:endWeek"),
        concepts=reader.concepts(trait),
        verbatim=reader.one("dwc:measurementValue"),
        observer=reader.one("tb:observedBy"),
        observed_on=reader.day("tb:observedOn"),
        place=reader.one("tb:observedAt"),
        age_years=reader.decimal("tb:ageYears"),
        stock=reader.maybe("tb:stock"),
        procedure=reader.one("tb:procedure"),
        quality=reader.choice("tb:quality", "quality", Quality),
        quality_note=reader.maybe("tb:note"),
        entered_on=reader.day("tb:enteredOn"),
    )


def read_withdrawal(reader: SubjectReader, name: str) -> Withdrawal:
    return Withdrawal(
        id=name,
        plant=PlantId(reader.local("tb:aboutTaxon", "plant")),
        withdraws=reader.one("tb:withdraws").removeprefix(BASE),
        decided_by=reader.one("tb:decidedBy"),
        decided_on=reader.day("tb:decidedOn"),
        why=reader.one("rdfs:comment"),
    )


def read_review(reader: SubjectReader, name: str) -> Review:
    return Review(
        id=name,
        plant=PlantId(reader.local("tb:aboutTaxon", "plant")),
        caution=reader.local("tb:reviews", "caution"),
        verdict=reader.choice("tb:verdict", "review-verdict", Verdict),
        decided_by=reader.one("tb:decidedBy"),
        decided_on=reader.day("tb:decidedOn"),
        why=reader.one("rdfs:comment"),
    )
