"""What the page of the traits says of rules and units, in words."""

from collections.abc import Mapping

RULE: Mapping[str, str] = {
    "log-normal-censored": "the middle of the studies on a scale of ratios, one vote each; a depth at "
    "which a pot or core ended counts as “at least”",
    "weighted-interval": "the weighted middle of the studies, one vote each",
    "leaf-area": "the weighted middle of the studies, one vote each; the greatest of a season counts as four "
    "fifths of it",
    "root-length": "the weighted middle of the studies, one vote each; a study that measured wheat too "
    "counts in proportion to its wheat",
    "mature-size": "the weighted middle of the studies, one vote each; of trees, surveys of open-grown ones "
    "first, then studies that give both height and crown; the largest found bounds it",
    "climbing-reach": "the weighted middle of the studies, one vote each; a share of “up to 9 m” alone",
    "class-median": "the weighted middle class of the authorities",
    "indicator-to-share": "read from the words of the light or shade class",
    "indicator-to-bound": "the shares recorded, else read from the words of the light class",
    "tolerated-range": "the ranges of practice, widened by the indicator class",
    "majority": "the word with most weight, one vote for each source",
    "as-grown": "the word with most weight among sources on garden or field plants; a flora on wild ones "
    "counts where there is no other",
    "most-cautious": "the most cautious word that any record gives",
    "window-median": "the middle week of the studies for the beginning and for the end",
}
"""How one value comes out of many records, by the rule that a trait names (``kb.adopt``)."""
UNIT: Mapping[str, str] = {
    "1-12": "a step on the scale from 1 to 12",
    "1-5": "a step on the scale from 1 to 5",
    "class": "a class on the scale that the name gives",
    "deg C": "°C",
    "degree days": "degree-days",
    "g/m2": "g/m²",
    "km/m2": "km of roots under each m² of ground",
    "m2/m2": "m² of leaf for each m² of ground",
    "per leaf area index": "for each m² of leaf over a m² of ground",
    "share": "a share, 0 to 1",
    "share of available water": "a share of the available water, 0 to 1",
    "share of open light": "a share of open light, 0 to 1",
    "week": "week of the year",
}
