"""What the computation keeps of single plants, soils and waters, forgotten: a test begins from nothing."""

from kb.mixture.ground import water
from kb.mixture.judging import other_trees
from kb.mixture.sharing import place, subject


def forget_stands() -> None:
    """Leave no plant, tree, soil or water kept that an earlier test has reckoned."""
    for kept in (
        subject._likely,
        subject._drawn,
        subject._tree_likely,
        other_trees._ground,
        place._kept_soil,
        water._scarcity,
    ):
        kept.cache_clear()
