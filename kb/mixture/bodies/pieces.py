"""What grows again from the pieces that a fork leaves in the ground, and ground that is forked every year.

Rhizomes, tubers and roots that sucker, cut and dragged about, make a plant of every piece, so that tillage
spreads what creeps instead of killing it (Liebman, Mohler & Staver 2001, Ecological Management of
Agricultural Weeds, ch. 4, on wandering perennials). So digging through them does them no harm, and does harm
to the crop that is dug.
"""

from kb.mixture.profile import Profile

DUG_M = 0.15
"""Digging this deep cuts a neighbour's feeder roots (`trade` 4.12)."""
PIECES = frozenset({"rhizome", "tuber", "suckering"})
"""Organs every piece of which grows again; runners above ground and bulbs are another matter."""
MANNERS = ("runs", "invades")
RUNNING = frozenset(MANNERS)
"""Classes of spread of a plant that comes up among its neighbours, the harder one last."""


def grows_from_pieces(plant: Profile) -> bool:
    """Whether it is on record to be a lasting herb that creeps in the ground, by what grows from pieces."""
    organ, spread = plant.travels_by, plant.spread
    creeps = spread.known and spread.value in RUNNING
    return creeps and organ.known and organ.value in PIECES and not (plant.annual or plant.woody)


def is_forked(crop: Profile) -> bool:
    """Whether it is a crop of one season for which the ground is dug as deep as roots of others lie."""
    return crop.annual and crop.dug_depth_m.likely >= DUG_M
