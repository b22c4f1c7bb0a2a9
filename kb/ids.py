"""The kinds of ids, so that one is never taken for another."""

from typing import NewType

PlantId = NewType("PlantId", str)
TraitId = NewType("TraitId", str)
SourceKey = NewType("SourceKey", str)
