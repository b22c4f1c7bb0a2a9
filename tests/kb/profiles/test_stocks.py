"""Trees on named stocks: sizes of their own, the rest from the species, fitted and said so.

Heights: Royal Horticultural Society, page on rootstocks (M27 1.5-1.8 m, M106 3.6-5.4 m, Colt 6-8 m,
Gisela 5 3-4 m), read in a stored copy. Shares of a seedling: North Carolina State University, Apple
rootstocks, Table 1 (MM.106 80 %, M.26 50 %, seedling 100 %); NC-140 cherry trial (Gisela 5 50-55 % of
Mazzard).
"""

import pytest

from kb.model import PlantId, TraitId
from kb.profiles.stocks import ON_STOCK
from kb.repository import open_repository
from kb.snapshot import Snapshot


@pytest.fixture(scope="module")
def shipped() -> Snapshot:
    return open_repository(None).snapshot()


@pytest.mark.parametrize(
    ("tree", "low", "high"),
    [
        ("malus-domestica.on-m27", 1.5, 1.8),
        ("malus-domestica.on-mm106", 3.6, 5.4),
        ("prunus-avium.on-gisela-5", 2.0, 4.0),
    ],
)
def test_the_height_is_that_of_the_stock(shipped: Snapshot, tree: str, low: float, high: float) -> None:
    """The likely height lies in the range that the society prints (Gisela 5: or the 2-3 m of the trade)."""
    assert low <= shipped.profile(PlantId(tree)).height_m.likely <= high


def test_stocks_stand_in_the_order_of_their_vigour(shipped: Snapshot) -> None:
    """Apple from M27 to M25, plum from Pixy to Brompton, cherry from Gisela 5 to Mazzard (the trade)."""
    for species, stocks in {
        "malus-domestica": ["m27", "m9", "mm106", "m25"],
        "pyrus-communis": ["quince-c", "quince-a", "seedling"],
        "prunus-domestica": ["pixy", "st-julien-a", "brompton"],
        "prunus-avium": ["gisela-5", "colt", "mazzard"],
    }.items():
        heights = [shipped.profile(PlantId(f"{species}.on-{stock}")).height_m.likely for stock in stocks]
        assert sorted(heights) == heights


def test_vigour_is_a_share_of_the_tree_on_a_seedling(shipped: Snapshot) -> None:
    """M.26 half, Gisela 5 about half of Mazzard; the tree on a seedling is the measure."""
    for tree, low, high in (
        ("malus-domestica.on-m26", 0.4, 0.55),
        ("prunus-avium.on-gisela-5", 0.45, 0.55),
        ("malus-domestica.on-seedling", 0.8, 1.0),
    ):
        vigour = shipped.adopted(PlantId(tree))[TraitId("stock-vigour")].likely
        assert vigour is not None
        assert low <= vigour <= high


def test_what_a_stock_lacks_comes_from_the_species_and_says_so(shipped: Snapshot) -> None:
    """Family and leaf are inherited; a crown without a record is fitted to the height, not the species'."""
    tree = PlantId("malus-domestica.on-m27")
    family = shipped.adopted(tree)[TraitId("family")]
    crown = shipped.profile(tree).crown_width_m

    assert ("Rosaceae",) == family.concepts
    assert "malus-domestica" == family.inherited_from
    assert "form" == crown.origin
    assert crown.likely < 2.5


def test_every_tree_on_a_stock_has_a_size_with_a_source(shipped: Snapshot) -> None:
    """Height or vigour of its own, cited, for each; at least four stocks of each of the four fruits."""
    trees = [plant for plant in shipped.plants.values() if plant.rank == ON_STOCK]
    own = {TraitId("mature-height"), TraitId("stock-vigour")}

    assert [] == [tree.id for tree in trees if not own & {record.trait for record in tree.records}]
    fruits = ("malus-domestica", "pyrus-communis", "prunus-domestica", "prunus-avium")
    assert all(4 <= sum(tree.parent == fruit for tree in trees) for fruit in fruits)
