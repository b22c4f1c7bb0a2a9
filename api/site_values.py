"""How the words of a site become values: frost dates and their words, months, long lists of names.

Readers as in ``api.values``.
"""

from dataclasses import dataclass

from api.values import MonthDay, OneOf, Schema, Whole


@dataclass(frozen=True, slots=True)
class Named:
    """One word of a long closed list, written with hyphens or with spaces; read with hyphens."""

    words: tuple[str, ...]
    what: str

    def __call__(self, text: str) -> str:
        return OneOf(self.words)(text.strip().replace(" ", "-"))

    def schema(self) -> Schema:
        spaced = [word.replace("-", " ") for word in self.words if "-" in word]
        return {"type": "string", "enum": [*self.words, *spaced]}

    @property
    def metavar(self) -> str:
        return self.what


NO_FROST, EVERY_MONTH = "never", "every-month"
"""Words that stand for a frost date: no frost in the place, and frost in every month of it."""


@dataclass(frozen=True, slots=True)
class FrostDate:
    """A yearly date, or one of two words: ``never``, ``every-month``."""

    def __call__(self, text: str) -> int | str:
        if text in {NO_FROST, EVERY_MONTH}:
            return text
        try:
            return MonthDay()(text)
        except ValueError as fault:
            msg = f"{fault}; or say {NO_FROST} (no frost there) or {EVERY_MONTH}"
            raise ValueError(msg) from None

    def schema(self) -> Schema:
        return {"oneOf": [MonthDay().schema(), {"type": "string", "enum": [NO_FROST, EVERY_MONTH]}]}

    @property
    def metavar(self) -> str:
        return "DATE|WORD"


@dataclass(frozen=True, slots=True)
class Months:
    """Months of the year, comma-separated numbers from 1 (January) to 12, each once; read in order."""

    def __call__(self, text: str) -> tuple[int, ...]:
        months = tuple(Whole(1, 12)(month.strip()) for month in text.split(","))
        if len(set(months)) < len(months):
            msg = f"'{text}' names a month twice; give each once, e.g. 4,5,6,10,11"
            raise ValueError(msg)
        return tuple(sorted(months))

    def schema(self) -> Schema:
        month = Whole(1, 12).schema()
        return {"type": "array", "items": month, "minItems": 1, "maxItems": 12, "uniqueItems": True}

    @property
    def metavar(self) -> str:
        return "4,5,6"
