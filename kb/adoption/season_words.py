"""Words of a season ("Early Spring") in place of dates: whose spring is not said.

The bloom periods of the United States' plant characteristics are of the whole country and of plants there:
at 51 degrees north rapeseed does not flower in March nor lucerne from then on. A word is no date, so months,
days and the class of a flora decide before it, and where it stands alone it stands with wide doubt.
"""

import re
from collections.abc import Sequence

from kb.adoption.votes import Vote
from kb.model import Record, Weighed

FLOWERING = "flowering-window"
SEASON = re.compile(r"\b(spring|summer|autumn|fall|winter)\b", re.IGNORECASE)
DATE = re.compile(
    r"\d|\b(jan|feb|mar|apr|may|june?|july?|aug|sept?|oct|nov|dec)(\b|[a-z]*ber\b)", re.IGNORECASE
)
MONTH = re.compile(r"\b(january|february|march|april|august)\b", re.IGNORECASE)
DATED = "not counted: a word of a season, and months, days or a class of a flora are on record"


def names_a_season(record: Record) -> bool:
    """Whether a record of flowering prints a season's name, and neither a month nor a day."""
    said = record.verbatim
    if record.trait != FLOWERING or SEASON.search(said) is None:
        return False
    return DATE.search(said) is None and MONTH.search(said) is None


def silent(votes: Sequence[Vote]) -> tuple[Weighed, ...]:
    """How the words of seasons are shown beside dates."""
    return tuple(Weighed(vote.record.id, 0.0, DATED) for vote in votes)
