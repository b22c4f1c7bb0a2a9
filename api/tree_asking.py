"""What is asked of a tree: its measures, which have to agree with each other."""

from typing import cast

from api.parsing import Given
from api.questions import TreeAsked
from kb.errors import BadParameter, ParameterFault
from kb.mixture.site import Stand


def ask_tree(given: Given) -> TreeAsked:
    """The tree's measures; raises BadParameter where they cannot all be true."""
    tree = TreeAsked(
        height_m=given.number("height_m"),
        crown_radius_m=given.number("crown_radius_m"),
        crown_base_m=given.number("crown_base_m"),
        age_years=given.number("age_years"),
        leaf_area_index=given.number("leaf_area_index"),
        stand=cast("Stand | None", given.text("stand")),
        stock=given.text("stock"),
    )
    if tree.height_m is not None and tree.crown_base_m is not None and tree.crown_base_m >= tree.height_m:
        detail = f"the lowest leaves ({tree.crown_base_m:g} m) must be below the top ({tree.height_m:g} m)."
        raise BadParameter((ParameterFault("crown_base_m", detail),))
    return tree
