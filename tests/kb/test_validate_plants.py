"""A plant is judged before it is written: sound, or refused with what to mend."""

from dataclasses import replace
from decimal import Decimal

import pytest

from kb.model import Plant, PlantId, SourceKey, TraitId
from kb.soundness.findings import Finding, Report
from kb.soundness.shacl_engine import validate_with_pyshacl
from kb.turtle import plant_graph
from kb.validate import validate_plants
from tests.kb.invented import CAUTION, DECISION, PLANT, RECORD, SOURCE, VOCABULARY, other


def check(plant: Plant, known: tuple[PlantId, ...] = ()) -> tuple[Finding, ...]:
    """Judge one plant before it is written."""
    return validate_plants([plant], VOCABULARY, [SOURCE], known_plants=known)


def test_a_sound_plant_may_be_written() -> None:
    """No finding for a plant whose records, cautions and decisions are as they should be."""
    assert () == check(PLANT)
    assert () == check(replace(other("altera"), parent=PLANT.id), (PLANT.id,))


FAULTS: list[tuple[str, Plant, str, str | None]] = [
    ("source", replace(PLANT, records=(replace(RECORD, source=SourceKey("x")),)), "no file", "prov:"),
    ("trait", replace(PLANT, records=(replace(RECORD, trait=TraitId("root")),)), "no such trait", "dwciri:"),
    ("order", replace(PLANT, records=(replace(RECORD, low=Decimal(2)),)), "put them in order", "tb:minValue"),
    ("range", replace(PLANT, records=(replace(RECORD, high=Decimal(99)),)), "impossible", "tb:maxValue"),
    ("floor", replace(PLANT, records=(replace(RECORD, number_kind="floor"),)), "at least", None),
    (
        "locator",
        replace(PLANT, records=(replace(RECORD, locator="https://example.org/x"),)),
        "address",
        "tb:",
    ),
    ("verbatim", replace(PLANT, records=(replace(RECORD, verbatim=""),)), "exactly as the source", "dwc:"),
    ("place", replace(PLANT, cautions=(replace(CAUTION, place=None),)), "holds for a place", None),
    ("parent", replace(PLANT, parent=PlantId("inventa-absens")), "one wider plant", "tb:parentPlant"),
    ("id", replace(PLANT, records=(replace(RECORD, id="a.b.c"),), decisions=()), "name the record", None),
    (
        "weighed",
        replace(PLANT, decisions=(replace(DECISION, weighed=(("gone", "preferred"),)),)),
        "stays on file",
        "prov:entity",
    ),
]


@pytest.mark.parametrize(("plant", "words", "path"), [f[1:] for f in FAULTS], ids=[f[0] for f in FAULTS])
def test_a_faulty_plant_is_refused_with_the_remedy(plant: Plant, words: str, path: str | None) -> None:
    """Before anything is written: which record, which property, how to mend."""
    found = [finding for finding in check(plant) if words in finding.message]

    assert ["violation"] == [finding.severity for finding in found]
    assert "plants/inventa/exemplaris.ttl" == found[0].file
    assert (found[0].path or "").startswith(path or "")
    assert (found[0].path is None) == (path is None)


def test_a_listing_without_a_date_only_warns() -> None:
    """What the source does not date is kept, and said to be undated."""
    found = check(replace(PLANT, cautions=(replace(CAUTION, as_of=None),)))

    assert ["warning"] == [finding.severity for finding in found]
    assert "tb:asOf" in found[0].message


def test_several_plants_are_judged_together() -> None:
    """A parent that is written along with its child is known to it."""
    child = replace(other("altera"), parent=PLANT.id)

    assert () == validate_plants([PLANT, child], VOCABULARY, [SOURCE])
    assert ["tb:parentPlant"] == [found.path for found in validate_plants([child], VOCABULARY, [SOURCE])]


def test_the_engine_leaves_the_graph_as_it_is() -> None:
    """PySHACL works on a copy: not a triple is added to what it was given."""
    graph = plant_graph(PLANT)
    before = len(graph)

    found = validate_with_pyshacl(graph)

    assert before == len(graph)
    assert {"shape.record.source-known", "shape.caution.source-known", "shape.taxon.according-to-known"} == {
        finding.shape for finding in found
    }


def test_findings_read_as_sentences() -> None:
    """A finding without a place is still a sentence."""
    bare = Finding("violation", None, None, None, "Mend it.", "shape.x")

    assert "Mend it." == str(bare)
    assert ["mend: Mend it.", ": 1 to mend, 0 to look at again; not sound."] == Report((bare,), ()).lines()
