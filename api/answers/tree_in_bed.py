"""A tree that is asked about as one of a mixed bed: another question than what stands beneath it."""

from collections.abc import Sequence

from kb.mixture.profile import Profile

PAIR, SET = "with setting under", "named as the tree of the planting"


def tree_in_bed(plant: Profile, setting: str, *, how: str = PAIR) -> tuple[str, ...]:
    """How to ask what stands beneath or beside a tree, for a tree in a bed; ``how`` it is then named."""
    if setting != "bed" or plant.growth_form.value != "tree":
        return ()
    name = f"{plant.name[0].upper()}{plant.name[1:]}"
    over = "it stands over the others, by its height, distance and age"
    return (f"{name} is a tree, and is taken here as one of a mixed bed: {how}, {over}.",)


def trees_in_bed(plants: Sequence[Profile], setting: str, *, how: str = PAIR) -> tuple[str, ...]:
    """`tree_in_bed` of each tree among others; nothing of trees alone."""
    told = [note for plant in plants for note in tree_in_bed(plant, setting, how=how)]
    return tuple(dict.fromkeys(told)) if len(told) < len(plants) else ()
