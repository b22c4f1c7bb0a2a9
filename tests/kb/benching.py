"""Curators, drafts and stores of invented plants, for tests of the bench."""

from dataclasses import replace
from datetime import date
from pathlib import Path

from kb.bench.drafts import Curator, DecisionDraft, ObservationDraft, RecordDraft
from kb.curation import Bench, Done
from kb.model import Plant, TraitId
from kb.repository import FilesRepository, Repository
from tests.api.invented import HERB, SOURCE

TODAY = date(2026, 11, 26)
HEIGHT = TraitId("mature-height")
PLANT_ID = HERB.id

AUTHOR, REVIEWER, SECOND = (
    Curator("curator-a", "author"),
    Curator("curator-b", "reviewer"),
    Curator("curator-c", "reviewer"),
)

BARE = replace(HERB, decisions=())


def bench(repository: Repository, who: Curator = REVIEWER) -> Bench:
    """Sit down at the bench."""
    return Bench(repository, who, TODAY)


def record(value: str = "40 cm", **more: str) -> RecordDraft:
    """Give a draft of an invented record."""
    fields = {
        "plant": str(PLANT_ID),
        "trait": "mature-height",
        "basis": "read-in-source",
        "why": "Entered from an invented book.",
        "source": "invented",
        "locator": "p. 9",
        "verbatim": value,
        "name_as_printed": "Inventa herbacea",
        **more,
    }
    return RecordDraft(value=value, **fields)  # type: ignore[arg-type]


def observation(value: str = "30 cm") -> ObservationDraft:
    """Give a draft of an invented observation."""
    return ObservationDraft(str(PLANT_ID), "mature-height", value, "home", "ruler", "2026-07-01")


def likely(repository: Repository) -> float | None:
    """Give the height in use."""
    return repository.snapshot().adopted(PLANT_ID)[HEIGHT].likely


def name(done: Done) -> str:
    """Give the one thing that an act added."""
    (thing,) = done.things
    return thing


def made(folder: Path, *plants: Plant) -> FilesRepository:
    """Fill a folder with invented plants."""
    repository = FilesRepository(None, folder)
    repository.put_source(SOURCE)
    for plant in plants:
        repository.put_plant(plant)
    return repository


def parts_of(repository: Repository) -> dict[str, object]:
    """Give every part of the plant by its local IRI."""
    plant = repository.snapshot().plants[PLANT_ID]
    kinds = ("record", "caution", "decision", "observation", "withdrawal", "review")
    return {f"{kind}.{part.id}": part for kind in kinds for part in getattr(plant, f"{kind}s")}


def prefer(thing: str) -> DecisionDraft:
    return DecisionDraft(str(PLANT_ID), "mature-height", "The only one measured.", ((thing, "preferred"),))
