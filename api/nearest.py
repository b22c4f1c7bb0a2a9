"""The names nearest to one that was not found."""

from collections.abc import Iterable


def nearest(word: str, known: Iterable[str], *, count: int = 3) -> tuple[str, ...]:
    """Up to ``count`` of ``known`` that a slip of the hand could have turned into ``word``.

    >>> nearest("soil_deep_m", ["soil_ph", "soil_depth_m", "latitude"], count=1)
    ('soil_depth_m',)
    """
    from difflib import get_close_matches  # noqa: PLC0415 - only where something went wrong

    return tuple(get_close_matches(word[:200], list(known), n=count, cutoff=0.6))
