"""What tests of importers take from a set: what it states of a trait, and what it refuses."""

from collections.abc import Callable
from pathlib import Path

from import_scripts.base import Draft, Refused, Statement

Written = Callable[..., Path]
Stated = Callable[[str, Path], list[Statement]]


def drafts(statements: list[Statement], trait: str) -> list[Draft]:
    return [one for one in statements if isinstance(one, Draft) and one.trait == trait]


def refused(statements: list[Statement]) -> list[str]:
    return [one.reason for one in statements if isinstance(one, Refused) and not one.unmatched]
