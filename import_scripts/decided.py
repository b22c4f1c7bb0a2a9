"""What a decision on a printed label adds to the statements of its row."""

import re
from dataclasses import replace

from import_scripts.base import Draft, Statement
from import_scripts.names import Decision

SUBSPECIES = re.compile(r"\b(?:subsp|ssp)\. (?P<epithet>[\w-]+)")


def of_decision(one: Decision, statement: Statement) -> Statement:
    """The statement with what the label covers: an aggregate counts half (``kb.adoption.votes``).

    Where the label names a subspecies of the plant the condition ``part`` says which. The family of an
    aggregate is that of every member and is told in full.
    """
    if not isinstance(statement, Draft):
        return statement
    group = one.scope == "group" and statement.trait != "family"
    named = SUBSPECIES.search(one.label)
    conditions = dict(statement.conditions)
    conditions |= {"scope": "group"} if group else {}
    conditions |= {"part": f"subspecies {named['epithet']}"} if named else {}
    note = f"{statement.note}; {one.note}" if statement.note else one.note
    return replace(statement, conditions=tuple(sorted(conditions.items())), note=note)
