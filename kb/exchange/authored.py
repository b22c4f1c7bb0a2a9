"""Scientific names written with their authors, such as ``Malus domestica Borkh.``, and without."""

from collections.abc import Iterable, Mapping

from kb.model import Plant, PlantId
from kb.names import fold


def authored_names(plants: Iterable[Plant]) -> Mapping[str, frozenset[PlantId]]:
    """Each accepted name and listed synonym with the author on record, folded -> the plants it names."""
    found: dict[str, set[PlantId]] = {}
    for plant in plants:
        names = [(plant.scientific_name, plant.authority)]
        names += [(name.name, name.authority) for name in plant.synonyms]
        for name, authority in names:
            if authority:
                found.setdefault(fold(f"{name} {authority}"), set()).add(plant.id)
    return {name: frozenset(ids) for name, ids in found.items()}


def without_author(name: str, authorship: str) -> str:
    """The name without the author that is also given beside it; any other ending stays.

    >>> without_author("Malus domestica Borkh.", "Borkh.")
    'Malus domestica'
    """
    bare = name.removesuffix(authorship).strip() if authorship else name
    return bare or name
