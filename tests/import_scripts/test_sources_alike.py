"""Our own compilations and their sources: a work that two of them cite has one description.

The import that runs last would write its own otherwise: the source would change with the order of imports.
"""

from collections import defaultdict
from pathlib import Path

from import_scripts.registry import importers
from kb.model import Source, SourceKey


def test_two_compilations_describe_a_source_alike() -> None:
    """A key that several of the carried compilations list stands in each with the same card."""
    told: dict[SourceKey, set[Source]] = defaultdict(set)
    carried = {key: folder for key, one in importers().items() if (folder := getattr(one, "carried", None))}
    assert {"readings", "read-cautions", "published-facts"} <= set(carried)
    for key, folder in carried.items():
        for source in importers()[key].sources(Path(folder)):
            told[source.key].add(source)

    assert [] == sorted(key for key, cards in told.items() if len(cards) > 1)
