"""What a decision on a printed label adds to the statements of its row."""

from dataclasses import replace

from import_scripts.base import Draft, Statement
from import_scripts.names import Decision


def of_decision(one: Decision, statement: Statement) -> Statement:
    """The statement with what the label covers: an aggregate counts half (``kb.adoption.votes``).

    The family of an aggregate is that of every member and is told in full.
    """
    if not isinstance(statement, Draft):
        return statement
    group = one.scope == "group" and statement.trait != "family"
    conditions = dict(statement.conditions) | ({"scope": "group"} if group else {})
    note = f"{statement.note}; {one.note}" if statement.note else one.note
    return replace(statement, conditions=tuple(sorted(conditions.items())), note=note)
