"""Vines that are grown along the ground, told by their own records, their groups or their genus."""

from kb.mixture.profile import Estimate
from kb.model import PlantId
from kb.profiles.trailing import GrownLow
from kb.repository import open_repository


def low(likely: float) -> Estimate:
    return Estimate(likely * 0.7, likely, likely * 1.4, "cited", (f"record:{likely}",))


def kin(**of: tuple[tuple[str, Estimate | None], ...]) -> GrownLow:
    return GrownLow({genus: tuple((PlantId(p), e) for p, e in each) for genus, each in of.items()})


def test_a_species_trails_as_all_its_groups_do() -> None:
    """Pumpkins and courgettes trail or stand as bushes (kitchen-garden manuals): so does their species."""
    squash = kin(squash=(("squash-one.big", low(0.4)), ("squash-one.small", low(0.3))))
    height = squash.height(PlantId("squash-one"))

    assert height is not None
    assert (0.4, "genus") == (height.likely, height.origin)
    assert {"record:0.4", "record:0.3"} == set(height.records)


def test_groups_that_disagree_leave_it_unsaid() -> None:
    """Beans are climbing or dwarf (seed catalogues): of the species either may be meant."""
    assert (
        kin(bean=(("bean-one.pole", None), ("bean-one.dwarf", low(0.4)))).height(PlantId("bean-one")) is None
    )


def test_a_plant_trails_as_all_others_of_its_genus_do_but_not_by_itself() -> None:
    """Watermelons of all kinds are field vines (vegetable handbooks)."""
    melons = kin(melon=(("melon-one", low(0.4)), ("melon-two", low(0.3))))
    mixed = kin(melon=(("melon-one", low(0.4)), ("melon-two", low(0.3)), ("melon-three", None)))

    assert melons.height(PlantId("melon-three")) is not None
    assert mixed.height(PlantId("melon-one")) is None
    assert kin(melon=(("melon-one", low(0.4)),)).height(PlantId("melon-one")) is None


def test_the_squash_of_the_three_sisters_runs_over_the_ground() -> None:
    """Of the three sisters (kitchen-garden manuals) the squash covers the ground below maize."""
    profile, maize = (
        open_repository().snapshot().profile(PlantId(i)) for i in ("cucurbita-pepo", "zea-mays")
    )

    assert "none" == profile.support_mode.value
    assert profile.height_m.likely < maize.height_m.likely / 2
    assert not profile.height_m.known
