"""A value of which a plant itself has one end alone on record, over what it has from its species or genus.

"At least 0.76 m" of a crop says nothing against the depth of its species but where it is shallower. So the
inherited value stands, bounded: a middle with its interval as that part of it which lies beyond the limit, a
range with the end that is the plant's own, weeks of the year moved whole to the week on record.
"""

import math
from dataclasses import replace
from statistics import NormalDist

from kb.adoption.votes import Z90
from kb.adoption.windows import YEAR_WEEKS
from kb.model import Adopted, PlantId

LOW, MIDDLE, HIGH = 0.1, 0.5, 0.9
"""Shares of the doubt that lie below the low, the likely and the high value (`trade` 4.14)."""
LEAST_LEFT = 1e-6
"""A limit beyond all but so little of what is inherited contradicts it: the limit itself is left."""
WINDOW, RANGE = "window-median", "tolerated-range"


def one_ended(own: Adopted) -> bool:
    """Whether only one end of it is on record, and no value."""
    return own.likely is None and not own.concepts and (own.low is None) != (own.high is None)


def bounded(own: Adopted, above: Adopted, rule: str, parent: PlantId | None) -> Adopted:
    """The value of the parent as far as the one end of ``own`` leaves it; ``rule`` is that of the trait.

    Own as it is where the parent has nothing that could be bounded.
    """
    if rule == WINDOW:
        ends = _moved(own, above)
    elif rule == RANGE:
        ends = _end_of_its_own(own, above)
    else:
        ends = _beyond(own, above)
    if ends is None:
        return own
    low, likely, high = ends
    return replace(
        above,
        low=low,
        likely=likely,
        high=high,
        confidence="low",
        rule=f"{above.rule}; bounded by what is on record of its own",
        weighed=(*own.weighed, *above.weighed),
        inherited_from=above.inherited_from or parent,
    )


def _moved(own: Adopted, above: Adopted) -> tuple[float | None, float | None, float | None] | None:
    """Weeks as long as the parent's, from the start (or to the end) that is on record."""
    if above.low is None or above.high is None:
        return None
    length = (above.high - above.low) % YEAR_WEEKS
    if own.low is not None:
        return own.low, None, (own.low + length - 1) % YEAR_WEEKS + 1
    end = own.high or 0.0
    return (end - length - 1) % YEAR_WEEKS + 1, None, end


def _end_of_its_own(own: Adopted, above: Adopted) -> tuple[float | None, float | None, float | None] | None:
    """The range of the parent with one end of its own; an end of the parent beyond it gives way."""
    if above.low is None or above.high is None:
        return None
    low = own.low if own.low is not None else min(above.low, own.high or above.low)
    high = own.high if own.high is not None else max(above.high, low)
    return low, (low + high) / 2, high


def _beyond(own: Adopted, above: Adopted) -> tuple[float | None, float | None, float | None] | None:
    """The 10, 50 and 90 % values of what is left of the inherited doubt beyond the limit.

    The doubt is log-normal, normal where the value may be zero or below, of its own width on either side.
    """
    if above.low is None or above.likely is None or above.high is None:
        return None
    of_log = above.low > 0
    turn, back = (math.log, math.exp) if of_log else (float, float)
    limit = own.low if own.low is not None else own.high
    if limit is None or (of_log and limit <= 0):
        return None
    middle = turn(above.likely)
    below = max((middle - turn(above.low)) / Z90, 1e-9)
    over = max((turn(above.high) - middle) / Z90, 1e-9)
    normal = NormalDist()
    at = turn(limit)
    share = normal.cdf((at - middle) / (below if at < middle else over))
    first, last = (share, 1.0) if own.low is not None else (0.0, share)
    if last - first < LEAST_LEFT:
        return None

    def value(part: float) -> float:
        z = normal.inv_cdf(min(max(first + part * (last - first), 1e-9), 1 - 1e-9))
        return float(back(middle + z * (below if z < 0 else over)))

    return value(LOW), value(MIDDLE), value(HIGH)
