"""The stock of a tree, as a parameter: the stock's records give the size (RHS page on rootstocks)."""

import pytest

from api.answers.candidates import others_for
from api.answers.stocks import stock_notes, tree_named
from api.questions import Leaving, TreeAsked
from kb.errors import BadParameter
from kb.model import PlantId
from kb.repository import open_repository

SHIPPED = open_repository(None).snapshot()


@pytest.mark.parametrize(
    ("tree", "stock", "meant"),
    [
        ("apple", "MM106", "malus-domestica.on-mm106"),
        ("apple", "mm.106", "malus-domestica.on-mm106"),
        ("pear", "quince a", "pyrus-communis.on-quince-a"),
        ("plum", "St. Julien A", "prunus-domestica.on-st-julien-a"),
        ("apple", "seedling", "malus-domestica.on-seedling"),
        ("apple", None, "malus-domestica"),
    ],
)
def test_a_stock_is_found_however_it_is_written(tree: str, stock: str | None, meant: str) -> None:
    """Points, spaces and case do not count; without a stock the species is meant."""
    assert PlantId(meant) == tree_named(SHIPPED, tree, stock)


@pytest.mark.parametrize(
    ("tree", "stock", "said"),
    [
        ("apple", "Gisela 5", "use B9, M25"),
        ("walnut", "M9", "no stock is on record"),
        ("apple on M9", "M9", "names a tree on a stock already"),
    ],
)
def test_another_stock_is_refused_with_what_there_is(tree: str, stock: str, said: str) -> None:
    """A stock that is not on record is never guessed at."""
    with pytest.raises(BadParameter, match=said):
        tree_named(SHIPPED, tree, stock)


def test_stocks_are_ranked_only_when_asked_for() -> None:
    """The species stands for its trees on stocks in a list; a tree on a stock is not set beside itself."""
    usual, notes = others_for(SHIPPED, PlantId("daucus-carota"), Leaving())
    asked, _ = others_for(SHIPPED, PlantId("malus-domestica.on-m9"), Leaving(include=("stocks",)))

    assert not any(".on-" in profile.id for profile in usual)
    assert any("include=stocks" in note for note in notes)
    assert any(".on-" in profile.id for profile in asked)
    assert "malus-domestica" not in {profile.id for profile in asked}


@pytest.mark.parametrize(
    ("tree", "asked", "told"),
    [
        ("pyrus-communis", TreeAsked(), 1),
        ("pyrus-communis", TreeAsked(height_m=5), 0),
        ("pyrus-communis.on-quince-a", TreeAsked(stock="Quince A"), 0),
        ("juglans-regia", TreeAsked(), 0),
    ],
)
def test_a_tree_sold_on_stocks_says_that_none_was_named(tree: str, asked: TreeAsked, told: int) -> None:
    """A planted pear is 3 to 6 m on Quince A (RHS page on rootstocks), wild 18 m (FloraVeg.EU heights)."""
    notes = stock_notes(SHIPPED, SHIPPED.profile(PlantId(tree)), asked)
    assert told == sum("Quince A" in note and "18 m high" in note for note in notes)
