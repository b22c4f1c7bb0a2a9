"""Coverage counts each taxon once, with its best basis; what does not count is left out (invented plants)."""

from dataclasses import replace
from datetime import date
from decimal import Decimal

import pytest

from kb.gaps.coverage import Bases
from kb.gaps.coverage_report import Coverage, coverage_of
from kb.gaps.coverage_targets import depth_counts
from kb.model import Basis, Decision, NumberKind, Plant, PlantId, Record, TraitId
from kb.repository import MemoryRepository, open_repository
from kb.snapshot import Snapshot
from tests.kb.invented import PLANT, RECORD, SOURCE

HEIGHT = TraitId("mature-height")
DEPTH = TraitId("rooting-depth")


def a_record(number: int, trait: str, basis: Basis = "read-in-source", **changes: object) -> Record:
    """A record of the invented plant, sound enough to be counted."""
    fields: dict[str, object] = {
        "id": f"inventa-exemplaris.{trait}.invented-book.{number}",
        "trait": TraitId(trait),
        "basis": basis,
        "low": None,
        "likely": Decimal(1),
        "high": None,
        "number_kind": "single",
        "conditions": (),
    }
    return replace(RECORD, **(fields | changes))  # type: ignore[arg-type]


def planted(*records: Record, **changes: object) -> Plant:
    """The invented plant with these records and nothing else."""
    fields: dict[str, object] = {"records": records, "cautions": (), "decisions": (), "groups": ("herb",)}
    return replace(PLANT, **(fields | changes))  # type: ignore[arg-type]


def snapshot_of(*plants: Plant) -> Snapshot:
    return MemoryRepository(plants, (SOURCE,)).snapshot()


def column(plant: Plant, trait: TraitId = HEIGHT, *others: Plant) -> str | None:
    """The column in which a plant is counted."""
    best = Bases(snapshot_of(plant, *others)).best(plant, trait)
    return None if best is None else best.column


@pytest.mark.parametrize(
    ("bases", "expected"),
    [
        (("recalled", "read-in-source"), "cited"),
        (("recalled", "read-in-transcription"), "cited"),
        (("common-practice", "read-in-excerpt"), "excerpt"),
        (("second-hand", "recalled"), "second_hand"),
        (("recalled", "common-practice"), "common_practice"),
        (("recalled",), "recalled"),
        (("derived",), "derived"),
        ((), None),
    ],
)
def test_a_taxon_counts_with_its_best_basis(bases: tuple[Basis, ...], expected: str | None) -> None:
    """Read before excerpt before second-hand before practice before memory before derived."""
    records = [a_record(n, "mature-height", basis) for n, basis in enumerate(bases)]

    assert expected == column(planted(*records))


def test_rejected_records_never_count() -> None:
    """Neither by their standing nor by a decision."""
    wrong = a_record(1, "mature-height", standing="rejected")
    judged = a_record(2, "mature-height")
    decision = Decision(
        id="inventa-exemplaris.mature-height.1",
        plant=PLANT.id,
        trait=HEIGHT,
        decided_by="an invented test",
        decided_on=date(2026, 11, 26),
        why="An invented reason.",
        weighed=((judged.id, "rejected"),),
    )

    assert column(planted(wrong)) is None
    assert column(planted(judged, decisions=(decision,))) is None
    assert "cited" == column(planted(judged))


def test_what_a_group_of_cultivars_lacks_it_has_from_its_species() -> None:
    """Counted, and said to be inherited; its own record comes first."""
    species = planted(a_record(1, "mature-height"))
    group = planted(id=PlantId("inventa-exemplaris.odd-group"), rank="cultivarGroup", parent=PLANT.id)
    found = coverage_of(snapshot_of(species, group))

    assert (2, 2, 1) == (
        found.taxa,
        found.traits["mature-height"].with_source,
        found.traits["mature-height"].inherited,
    )


def test_a_scale_counts_for_the_trait_that_it_feeds() -> None:
    """A light class stands for the light to survive, a reaction class for the soil reaction; both say so."""
    light = a_record(1, "light-indicator-1-9", number_kind="class")
    reaction = a_record(2, "reaction-indicator-1-9", number_kind="class")
    found = coverage_of(snapshot_of(planted(light, reaction)))

    for trait in ("light-to-survive", "soil-reaction"):
        assert (1, 1) == (found.traits[trait].with_source, found.traits[trait].fed)
    assert 0 == found.traits["hardiness"].with_source


def test_exposure_to_freezing_is_no_hardiness() -> None:
    """The climate of a range never becomes degrees (data.md, trap of Zanne 2014)."""
    exposed = a_record(1, "freezing-exposure", likely=None, concepts=("exposed",), number_kind="membership")
    snapshot = snapshot_of(planted(exposed))

    assert TraitId("hardiness") not in snapshot.adopted(PLANT.id)
    assert column(planted(exposed), TraitId("hardiness")) is None


@pytest.mark.parametrize(
    ("kind", "conditions", "expected"),
    [
        ("single", (), True),
        ("range", (), True),
        ("maximum", (), True),
        ("floor", (), False),
        ("ceiling", (), False),
        ("minimum", (), False),
        ("model-limit", (), False),
        ("class", (("kind", "legal-class"),), False),
    ],
)
def test_floors_legal_classes_and_model_limits_are_no_depths(
    kind: NumberKind, conditions: tuple[tuple[str, str], ...], expected: bool
) -> None:
    """Issue 4, point 1: they do not count towards the 200 taxa with a depth."""
    assert expected is depth_counts(planted(a_record(1, DEPTH, number_kind=kind, conditions=conditions)))


def test_a_recalled_depth_does_not_count() -> None:
    """Only a depth with a source does."""
    assert not depth_counts(planted(a_record(1, DEPTH, "recalled")))


@pytest.fixture(scope="module")
def shipped() -> Coverage:
    return coverage_of(open_repository(None).snapshot())


def test_every_taxon_stands_in_one_column(shipped: Coverage) -> None:
    """The columns of a trait add up to the taxa, in all and in each group."""
    for counted in shipped.traits.values():
        assert shipped.taxa == sum(counted.columns.values())
    for group, traits in shipped.groups.items():
        assert {shipped.group_sizes[group]} == {sum(c.columns.values()) for c in traits.values()}


def test_targets_say_what_is_missing(shipped: Coverage) -> None:
    """Met or short by how many, as the numbers say."""
    for target in shipped.targets:
        assert target.have <= target.of
        assert max(0, target.wanted - target.have) == target.short_by
    rows = {target.name: target for target in shipped.targets}
    assert rows["family"].wanted == shipped.taxa
    assert rows["rooting depth (effective or deepest)"].wanted == 200


def test_the_readable_table_and_the_answer_for_machines_agree(shipped: Coverage) -> None:
    """Same traits, same numbers, flags for small groups and for what is mostly recalled."""
    text, answer = "\n".join(shipped.lines()), shipped.as_dict()

    assert {"taxa", "by_group", "traits"} <= set(answer)
    columns = {"cited", "excerpt", "second_hand", "common_practice", "recalled", "derived", "missing"}
    for trait, counted in answer["traits"].items():
        assert columns <= set(counted)
        assert f"\n{trait} " in text
    assert all(f"{group} *" in text for group in answer["small_groups"])
    assert all(trait in text for trait in answer["recalled_over_limit"])
