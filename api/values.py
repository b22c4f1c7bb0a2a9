"""How a text from a person becomes a value, or a plain sentence on what is wrong with it.

Each reader is called with the text and answers the value; it raises ``ValueError`` with a
sentence that says what is accepted. ``schema()`` is the same rule in JSON Schema words: the
OpenAPI description is checked against it.
"""

import re
from dataclasses import dataclass
from typing import Protocol

from api.nearest import nearest
from api.places import COUNTRIES
from kb.letters import holds_control

Value = float | int | str | bool | tuple[str, ...] | tuple[int, ...]
Schema = dict[str, object]

MAX_TEXT = 200
LONGEST_METAVAR = 60
"""Longer lists of words are told in the help instead, which wraps."""
"""Characters in one parameter; the longest name in use (a hybrid with its author) has about 80."""
DAYS_BEFORE_MONTH = (0, 31, 59, 90, 120, 151, 181, 212, 243, 273, 304, 334, 365)
"""Days of a common year before each month, and its end."""
MOISTURE_WORDS = {"dry": 3.0, "ordinary": 5.0, "moist": 7.0, "wet": 9.0}
"""Words for steps of the 1-12 moisture indicator scale (3 dry, 5 fresh, 7 moist, 9 wet; the step
names are recalled from Ellenberg's scale, not read again here)."""

_NUMBER = re.compile(r"[+-]?([0-9]+(\.[0-9]*)?|\.[0-9]+)([eE][+-]?[0-9]{1,3})?")
LONGEST_SHOWN = 40
"""How many characters of a number that is no use are said back."""
_MONTH_DAY = re.compile(r"--([0-9]{2})-([0-9]{2})")
_MONTH_NAMES = (
    "January", "February", "March", "April", "May", "June",
    "July", "August", "September", "October", "November", "December",
)  # fmt: skip
_IN_WORDS = re.compile(r"([0-9]{1,2}) ([A-Za-z]{3,9})")


class Reader(Protocol):
    """Reads one value; see the module."""

    def __call__(self, text: str) -> Value: ...
    def schema(self) -> Schema: ...
    @property
    def metavar(self) -> str: ...


def plain_number(text: str) -> float:
    """A finite number written with a point, without separators."""
    if "," in text and _NUMBER.fullmatch(text.replace(",", ".", 1)):
        msg = f"'{text}' has a comma; write the number with a point: {text.replace(',', '.', 1)}"
        raise ValueError(msg)
    if not _NUMBER.fullmatch(text):
        msg = f"'{text}' is not a number"
        raise ValueError(msg)
    number = float(text)
    if number in (float("inf"), float("-inf")):
        msg = f"'{text if len(text) <= LONGEST_SHOWN else text[:LONGEST_SHOWN] + '...'}' is too large"
        raise ValueError(msg)
    return number


@dataclass(frozen=True, slots=True)
class Number:
    """A number from ``low`` to ``high``; ``above`` leaves the lower end itself out."""

    low: float
    high: float
    unit: str
    above: bool = False

    def __call__(self, text: str) -> float:
        try:
            number = plain_number(text)
        except ValueError as fault:
            if "write" in str(fault):
                raise
            msg = f"{fault}: {self.words()}"
            raise ValueError(msg) from None
        if not (self.low < number or (number == self.low and not self.above)) or number > self.high:
            msg = f"{text} is out of range: {self.words()}"
            raise ValueError(msg)
        return number

    def words(self) -> str:
        span = f"more than {self.low:g}, up to" if self.above else f"{self.low:g} to"
        unit = f" ({self.unit})" if self.unit else ""
        return f"give {span} {self.high:g}{unit}"

    def schema(self) -> Schema:
        key = "exclusiveMinimum" if self.above else "minimum"
        return {"type": "number", key: self.low, "maximum": self.high}

    @property
    def metavar(self) -> str:
        return "NUMBER"


@dataclass(frozen=True, slots=True)
class Whole:
    """A whole number from ``low`` to ``high``."""

    low: int
    high: int

    def __call__(self, text: str) -> int:
        if not re.fullmatch(r"[+-]?[0-9]{1,9}", text):
            msg = f"'{text}' is not a whole number: give {self.low} to {self.high}"
            raise ValueError(msg)
        if not self.low <= int(text) <= self.high:
            msg = f"{text} is out of range: give {self.low} to {self.high}"
            raise ValueError(msg)
        return int(text)

    def schema(self) -> Schema:
        return {"type": "integer", "minimum": self.low, "maximum": self.high}

    @property
    def metavar(self) -> str:
        return "N"


@dataclass(frozen=True, slots=True)
class OneOf:
    """One word of a closed list; ``later`` are words that will mean something, but not yet.

    ``instead`` are words that are said another way here, and how.
    """

    words: tuple[str, ...]
    later: tuple[str, ...] = ()
    instead: tuple[tuple[str, str], ...] = ()

    def __call__(self, text: str) -> str:
        if text in self.words:
            return text
        if text in self.later:
            msg = f"'{text}' is not used yet; give {' or '.join(self.words)}"
            raise ValueError(msg)
        for word, way in self.instead:
            if text == word:
                msg = f"'{text}' is not one of {', '.join(self.words)}: {way}"
                raise ValueError(msg)
        hint = nearest(text, self.words, count=1)
        meant = f" (did you mean {hint[0]}?)" if hint else ""
        msg = f"'{text}' is not one of {', '.join(self.words)}{meant}"
        raise ValueError(msg)

    def schema(self) -> Schema:
        return {"type": "string", "enum": list(self.words)}

    @property
    def metavar(self) -> str:
        joined = "|".join(self.words)
        return joined if len(joined) <= LONGEST_METAVAR else "WORD"


_MONTH_WORDS = "|".join(dict.fromkeys((*_MONTH_NAMES, *(name[:3] for name in _MONTH_NAMES))))
_YEARLY = f"^(--(0[1-9]|1[0-2])-(0[1-9]|[12][0-9]|3[01])|(0?[1-9]|[12][0-9]|3[01]) ({_MONTH_WORDS}))$"
"""What a yearly date looks like; the longest name of a month comes first."""


def _month_named(word: str) -> int | None:
    """The number of a month from its English name or the first three letters of it."""
    known = {name.lower(): n for n, month in enumerate(_MONTH_NAMES, 1) for name in (month, month[:3])}
    return known.get(word.lower())


@dataclass(frozen=True, slots=True)
class MonthDay:
    """A yearly date, ``10 May`` or ``--05-10``, read as day of a common year, 1-365."""

    def __call__(self, text: str) -> int:
        found, said = _MONTH_DAY.fullmatch(text), _IN_WORDS.fullmatch(text)
        if found:
            month, day = int(found[1]), int(found[2])
        elif said and (named := _month_named(said[2])):
            month, day = named, int(said[1])
        else:
            msg = f"'{text}' is not a yearly date; write it as 10 May or as --05-10"
            raise ValueError(msg)
        if not 1 <= month <= 12:
            msg = f"'{text}' has month {month}; months are 01 to 12"
            raise ValueError(msg)
        length = DAYS_BEFORE_MONTH[month] - DAYS_BEFORE_MONTH[month - 1]
        if not 1 <= day <= length:
            msg = f"'{text}': month {month:02d} has the days 01 to {length}"
            raise ValueError(msg)
        return DAYS_BEFORE_MONTH[month - 1] + day

    def schema(self) -> Schema:
        return {"type": "string", "pattern": _YEARLY}

    @property
    def metavar(self) -> str:
        return "DATE"


def month_day(day: float) -> str:
    """The yearly date of a day of the year, e.g. 130 -> ``--05-10``; parts of a day are dropped."""
    whole = (int(day) - 1) % 365 + 1
    month = next(m for m in range(1, 13) if whole <= DAYS_BEFORE_MONTH[m])
    return f"--{month:02d}-{whole - DAYS_BEFORE_MONTH[month - 1]:02d}"


@dataclass(frozen=True, slots=True)
class Moisture:
    """Soil moisture on the 1-12 scale, or one of four words."""

    def __call__(self, text: str) -> float:
        if text in MOISTURE_WORDS:
            return MOISTURE_WORDS[text]
        try:
            return Number(1, 12, "")(text)
        except ValueError as fault:
            msg = f"{fault}; or say {', '.join(MOISTURE_WORDS)}"
            raise ValueError(msg) from None

    def schema(self) -> Schema:
        number = {"type": "number", "minimum": 1, "maximum": 12}
        return {"oneOf": [number, {"type": "string", "enum": list(MOISTURE_WORDS)}]}

    @property
    def metavar(self) -> str:
        return "1-12|WORD"


@dataclass(frozen=True, slots=True)
class Country:
    """An ISO 3166-1 code of two letters, or an ISO 3166-2 code that starts with one (``US-CA``)."""

    def __call__(self, text: str) -> str:
        code = text.upper()
        country, _, part = code.partition("-")
        if country == "UK":
            msg = "'UK' is not an ISO 3166 code; write GB"
            raise ValueError(msg)
        if country not in COUNTRIES or (code != country and not re.fullmatch(r"[A-Z0-9]{1,3}", part)):
            code = "two letters, such as GB, or with those of a part, such as US-CA"
            msg = f"'{text}' is not an ISO 3166 code; write {code}"
            raise ValueError(msg)
        return code

    def schema(self) -> Schema:
        return {"type": "string", "pattern": "^[A-Za-z]{2}(-[A-Za-z0-9]{1,3})?$"}

    @property
    def metavar(self) -> str:
        return "CODE"


@dataclass(frozen=True, slots=True)
class Text:
    """Free words: a name, a search."""

    what: str = "TEXT"

    def __call__(self, text: str) -> str:
        if "\n" in text or holds_control(text):
            msg = "holds control characters; give plain words"
            raise ValueError(msg)
        if len(text) > MAX_TEXT:
            msg = f"is {len(text)} characters long; give at most {MAX_TEXT}"
            raise ValueError(msg)
        return text.strip()

    def schema(self) -> Schema:
        return {"type": "string", "minLength": 1, "maxLength": MAX_TEXT}

    @property
    def metavar(self) -> str:
        return self.what


@dataclass(frozen=True, slots=True)
class Names:
    """A comma-separated list of names, of a closed list where ``words`` says so."""

    words: tuple[str, ...] = ()
    later: tuple[str, ...] = ()
    at_most: int = 50

    def __call__(self, text: str) -> tuple[str, ...]:
        names = tuple(Text()(name) for name in text.split(","))
        if "" in names:
            msg = f"'{text}' has an empty place between its commas"
            raise ValueError(msg)
        if len(set(names)) < len(names):
            msg = f"'{text}' names something twice"
            raise ValueError(msg)
        if len(names) > self.at_most:
            msg = f"names {len(names)} things; give at most {self.at_most}"
            raise ValueError(msg)
        if self.words:
            for name in names:
                OneOf(self.words, self.later)(name)
        return names

    def schema(self) -> Schema:
        items: Schema = {"type": "string", "enum": list(self.words)} if self.words else Text().schema()
        return {"type": "array", "items": items, "minItems": 1, "uniqueItems": True}

    @property
    def metavar(self) -> str:
        return "LIST"


@dataclass(frozen=True, slots=True)
class Years:
    """Years to look ahead: comma-separated whole numbers, each once, kept in order of time."""

    high: int = 60
    at_most: int = 6

    def __call__(self, text: str) -> tuple[int, ...]:
        years = tuple(Whole(0, self.high)(year.strip()) for year in text.split(","))
        if list(years) != sorted(set(years)):
            msg = f"'{text}': give each year once, earliest first, e.g. 0,5,10"
            raise ValueError(msg)
        if len(years) > self.at_most:
            msg = f"names {len(years)} years; give at most {self.at_most}"
            raise ValueError(msg)
        return years

    def schema(self) -> Schema:
        return {
            "type": "array",
            "items": Whole(0, self.high).schema(),
            "minItems": 1,
            "maxItems": self.at_most,
            "uniqueItems": True,
        }

    @property
    def metavar(self) -> str:
        return "0,5,10"


@dataclass(frozen=True, slots=True)
class TraitFilter:
    """``ID=VALUE``: a trait and the value looked for; the answer layer knows the traits."""

    def __call__(self, text: str) -> str:
        name, equals, value = Text()(text).partition("=")
        if not (equals and name.strip() and value.strip()):
            msg = f"'{text}' is not ID=VALUE, e.g. growth-form=shrub or mature-height=0.5..2"
            raise ValueError(msg)
        return f"{name.strip()}={value.strip()}"

    def schema(self) -> Schema:
        return {"type": "string", "pattern": "^[^=]+=.+$", "maxLength": MAX_TEXT}

    @property
    def metavar(self) -> str:
        return "ID=VALUE"


@dataclass(frozen=True, slots=True)
class YesNo:
    """``true`` or ``false``."""

    def __call__(self, text: str) -> bool:
        if text not in {"true", "false"}:
            msg = f"'{text}' is neither true nor false"
            raise ValueError(msg)
        return text == "true"

    def schema(self) -> Schema:
        return {"type": "boolean"}

    @property
    def metavar(self) -> str:
        return "true|false"
