"""What a parameter is, the questions that may take one, and the closed lists of their values."""

from collections.abc import Mapping
from dataclasses import dataclass
from typing import Literal

from api.values import (
    Reader,
)

QuestionKind = Literal[
    "home",
    "health",
    "plants",
    "plant",
    "records",
    "record",
    "history",
    "pair",
    "candidates",
    "under",
    "judge",
    "sources",
    "source",
    "traits",
    "trait",
    "export",
    "worklist",
]

SettingName = Literal["bed", "hedge", "under", "follow"]
"""How two stand: in one bed, in one row, the second under the first, or on the ground after it."""
SIDE_BY_SIDE: frozenset[SettingName] = frozenset({"bed", "hedge"})
UNDER: frozenset[SettingName] = frozenset({"under"})
FOLLOW: frozenset[SettingName] = frozenset({"follow"})
TOGETHER = SIDE_BY_SIDE | UNDER
EVERY = TOGETHER | FOLLOW

Group = Literal["subject", "search", "site", "setting", "each", "tree", "listing", "export"]
GIVEN = (
    "frame",
    "barrier",
    "mown",
    "mulch",
    "irrigated",
    "fed",
    "pruned",
    "careful-lifting",
    "clean-ground",
)
GIVEN_LATER: tuple[str, ...] = ()
"""What a gardener can say will be provided (``interface.md``), and what no rule asks about yet."""
AUDIENCES = ("household", "school", "public", "livestock")

TEXTURES = (
    "sand",
    "loamy-sand",
    "sandy-loam",
    "loam",
    "silt-loam",
    "silt",
    "sandy-clay-loam",
    "clay-loam",
    "silty-clay-loam",
    "sandy-clay",
    "silty-clay",
    "clay",
)

SIDES = ("N", "E", "S", "W")
STANDS = ("lone", "row", "closed")
INCLUDE = ("cautions-only", "flowers", "stocks", "unknowns", "weeds")

GROUPS = (
    "annual-vegetable",
    "berry-shrub",
    "bulb",
    "climber",
    "field-crop",
    "flower",
    "fruit-tree",
    "ground-cover",
    "hedge-plant",
    "herb",
    "nitrogen-fixer",
    "nut-tree",
    "perennial-vegetable",
    "timber-tree",
    "tropical-crop",
    "weed",
)
"""The planting groups of the vocabulary (a test holds the two equal)."""
WORK_KINDS = ("verdicts", "contradictions", "floors", "copies", "impossible", "missing", "names")
"""The kinds of tasks of the worklist (a test holds them equal to the knowledge base's)."""

NOT_YET: Mapping[str, str] = {
    "clear_week_b": "nothing follows the second plant; clear_week_a says when the first is cleared",
}
"""Parameters that the interface names but no question uses so far, and what to do instead."""
BLANK_IS_UNSAID: frozenset[QuestionKind] = frozenset({"judge"})
"""Questions whose form has fields that may stay empty: an empty one is not said."""


@dataclass(frozen=True, slots=True)
class Parameter:
    """One parameter: its HTTP name, how it is read, and the questions that use it.

    ``many`` lets it be given several times; ``aligned`` once for each plant of a planting, in their
    order, blank or ``-`` for none. ``ticked`` is a list that the pages ask for with tick
    boxes: a browser sends one name per box ticked, and nothing where none is. ``acts_in`` are the
    settings in which it does something: elsewhere it is refused. ``required`` names the questions
    that cannot do without it.
    """

    name: str
    group: Group
    read: Reader
    help: str
    questions: frozenset[QuestionKind]
    many: bool = False
    aligned: bool = False
    ticked: bool = False
    acts_in: frozenset[SettingName] = TOGETHER
    required: frozenset[QuestionKind] = frozenset()

    @property
    def option(self) -> str:
        return "--" + self.name.replace("_", "-")


def asked_by(*questions: QuestionKind) -> frozenset[QuestionKind]:
    return frozenset(questions)


MATCHING = asked_by("pair", "candidates", "under")
ANYWHERE = MATCHING | asked_by("judge")
EXPORT_FORMS = ("csv", "dwca", "jsonld", "turtle")
