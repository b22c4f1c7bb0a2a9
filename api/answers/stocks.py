"""The tree on the stock that was named: a level of its own below the species."""

from api.answers.standing import refuse
from api.questions import TreeAsked
from kb.mixture.profile import Profile
from kb.model import Plant, PlantId
from kb.names import fold
from kb.profiles.stocks import ON_STOCK
from kb.snapshot import Snapshot


def tree_named(snapshot: Snapshot, name: str, stock: str | None) -> PlantId:
    """The plant of that name, on the stock where one is named ("MM106", "quince a").

    Raises UnknownPlant or AmbiguousPlant for the name, BadParameter for a stock that is not on
    record for this plant.
    """
    tree = snapshot.resolve(name)
    if stock is None:
        return tree
    if snapshot.plants[tree].rank == ON_STOCK:
        raise refuse("stock", f"'{name}' names a tree on a stock already; leave one of the two out.")
    known = _stocks(snapshot, tree)
    found = [plant_id for plant_id, words in known.items() if _plain(words) == _plain(stock)]
    if found:
        return found[0]
    if not known:
        raise refuse("stock", f"no stock is on record for {tree}; give height_m and crown_radius_m instead.")
    raise refuse("stock", f"'{stock}' is not on record for {tree}; use {', '.join(sorted(known.values()))}.")


def stock_notes(snapshot: Snapshot, tree: Profile, asked: TreeAsked) -> list[str]:
    """That a tree which is sold on stocks was sized as the species, and which stocks would size it.

    A planted fruit tree is as large as its stock makes it, a half or a third of the tree on a seedling
    (``trade`` 3.2, row Stock); nothing is said where the tree was measured or its stock named.
    """
    stocks = sorted(_stocks(snapshot, PlantId(tree.id)).values())
    if not stocks or asked.stock is not None or asked.height_m is not None:
        return []
    taken = f"{tree.name} is taken as its species grows, {tree.height_m.likely:.0f} m high when full-grown"
    return [f"No stock was named: {taken}. Name its stock for the size it will have: {', '.join(stocks)}."]


def _stocks(snapshot: Snapshot, tree: PlantId) -> dict[PlantId, str]:
    """The stocks on record for this tree, by the id of the tree on it; looked for once in a version."""
    kept: dict[PlantId, str] = snapshot.told.of(
        (),
        ("stocks", tree),
        lambda: {
            plant.id: _stock_of(plant) for plant in snapshot.plants.values() if _is_on_stock(plant, tree)
        },
    )
    return kept


def _is_on_stock(plant: Plant, tree: PlantId) -> bool:
    return plant.rank == ON_STOCK and plant.parent == tree


def _stock_of(plant: Plant) -> str:
    """The stock as written in the accepted name: ``Malus domestica on MM106`` -> ``MM106``."""
    return plant.scientific_name.partition(" on ")[2].removeprefix("a ")


def _plain(stock: str) -> str:
    """Points, spaces and hyphens are written in and left out at will: ``MM.106`` is ``MM106``."""
    return fold(stock).replace(" ", "")
