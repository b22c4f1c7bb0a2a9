"""Numbers and lists in words: a number and what it counts, several words as one phrase."""

from collections.abc import Sequence


def so_many(number: float, one: str, many: str | None = None, *, form: str = "g") -> str:
    """A number with its noun: one year, several years; ``many`` where an s alone does not make the plural.

    >>> so_many(1, "year"), so_many(1.5, "year"), so_many(0, "study", "studies")
    ('1 year', '1.5 years', '0 studies')
    """
    said = f"{number:{form}}"
    return f"{said} {one if said == '1' else many or one + 's'}"


def listed(words: Sequence[str]) -> str:
    """Several words as one phrase.

    >>> listed(["a"]), listed(["a", "b", "c"])
    ('a', 'a, b and c')
    """
    return words[0] if len(words) == 1 else f"{', '.join(words[:-1])} and {words[-1]}"
