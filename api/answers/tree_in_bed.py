"""A tree that is asked about as one of a mixed bed: another question than what stands beneath it."""

from collections.abc import Sequence

from kb.mixture.profile import Profile

PAIR = "what grows beneath it is another question (setting under)"
SET = "named as the tree of the planting, it stands over the others, by its height, distance and age"


def tree_in_bed(plant: Profile, setting: str, *, how: str = PAIR) -> tuple[str, ...]:
    """How to ask what stands beneath or beside a tree, for a tree in a bed; ``how`` that is done."""
    if setting != "bed" or plant.growth_form.value != "tree":
        return ()
    name = f"{plant.name[0].upper()}{plant.name[1:]}"
    return (f"{name} is a tree, and is taken here as one of a mixed bed: {how}.",)


def trees_in_bed(plants: Sequence[Profile], setting: str, *, how: str = PAIR) -> tuple[str, ...]:
    """`tree_in_bed` of each tree among others; nothing of trees alone."""
    told = [note for plant in plants for note in tree_in_bed(plant, setting, how=how)]
    return tuple(dict.fromkeys(told)) if len(told) < len(plants) else ()
