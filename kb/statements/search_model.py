"""A search for cautions of one plant: what was asked where, when, and whether anything came of it.

A search that found nothing is a record too (`trade` 9.12): "nothing found" with its date and its
queries is not the same as "not searched yet", and neither is the same as safe.
"""

from dataclasses import dataclass
from datetime import date
from typing import Literal

from kb.ids import PlantId
from kb.namespaces import iri

Found = Literal["found", "nothing-found"]


@dataclass(frozen=True, slots=True)
class Search:
    """One dated search. ``queries`` as they were sent; ``pages`` those that were opened and read."""

    id: str
    plant: PlantId
    searched_by: str
    searched_on: date
    queries: tuple[str, ...]
    pages: tuple[str, ...]
    outcome: Found
    note: str | None = None

    @property
    def iri(self) -> str:
        return iri("search", self.id)
