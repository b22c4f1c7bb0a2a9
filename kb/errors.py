"""Everything that can be wrong with a question, a record or a store.

KnowledgeBaseError
├── BadQuestion            the question cannot be answered as put
│   ├── UnknownPlant       no plant of that name; the nearest names are offered
│   ├── AmbiguousPlant     the name means several plants; the choices are offered
│   ├── UnknownRecord, UnknownTrait, UnknownSource, UnknownPlace
│   └── BadParameter       a parameter is missing, malformed, out of range or not used here
├── BadRecord              a record breaks a rule of the knowledge base
│   └── Refused            a curator's write breaks one; nothing was changed
├── NotAllowed             the role, or one's own caution, forbids it
├── StaleWrite             the plant changed since it was read; both versions are shown
├── BadFile                a file cannot be read: which, where, why
├── SourceFault            an import source is missing, unreadable or not as expected
└── StoreFault             the store is missing, read-only or changed underneath us
    └── Busy               too much is under way; ask again in a moment
"""

from dataclasses import dataclass, field

MOST_NAMED = 30
"""Sources that an error names; where there are more, it leads to the list."""


class KnowledgeBaseError(Exception):
    """Base of all errors that we raise on purpose; ``str()`` is one plain sentence for a person."""


class BadQuestion(KnowledgeBaseError):
    """The question cannot be answered as it was put."""


LATIN_ENDS = ("a", "um", "us", "is", "e", "i", "ae", "ens", "ans", "or", "er", "on", "as", "es", "x")
"""How the second word of most botanical names ends."""


def other_name_hint(name: str) -> str:
    """What to try where no plant goes by this name; who typed a botanical name is not asked for one."""
    words = [word for word in name.split() if word.lower() not in {"x", "\N{MULTIPLICATION SIGN}"}]
    botanical = len(words) > 1 and all(word.isalpha() for word in words[:2])
    if botanical and words[1].islower() and words[1].endswith(LATIN_ENDS):
        return "It is not among the plants here, or stands under another name."
    return "Try fewer letters, or the botanical name."


@dataclass(eq=False)
class UnknownPlant(BadQuestion):
    """No plant goes by that name."""

    name: str
    nearest: tuple[str, ...] = ()

    def __str__(self) -> str:
        near = f" Nearest names: {', '.join(self.nearest)}."
        hint = near if self.nearest else f" {other_name_hint(self.name)}"
        return f"No plant is called '{self.name}'.{hint}"


@dataclass(frozen=True, slots=True)
class Choice:
    """One plant that a name can mean: its id, and what a person calls it.

    ``common`` is an English name that is this plant's alone, ``accepted`` its botanical name.
    """

    plant: str
    common: str | None
    accepted: str

    def __str__(self) -> str:
        return f"{self.common} ({self.accepted})" if self.common else self.accepted


@dataclass(eq=False)
class AmbiguousPlant(BadQuestion):
    """The name is used for several plants."""

    name: str
    offered: tuple[Choice, ...]

    @property
    def choices(self) -> tuple[str, ...]:
        """Ids of the plants that the name can mean."""
        return tuple(choice.plant for choice in self.offered)

    def __str__(self) -> str:
        *others, last = (str(choice) for choice in self.offered)
        return (
            f"'{self.name}' can mean several plants: {', '.join(others)} or {last}. Say which one you mean."
        )


@dataclass(eq=False)
class UnknownRecord(BadQuestion):
    """No record (or caution, or decision) has that IRI or id."""

    record: str

    def __str__(self) -> str:
        return f"There is no record '{self.record}'."


@dataclass(eq=False)
class UnknownTrait(BadQuestion):
    """No trait has that id."""

    trait: str
    nearest: tuple[str, ...] = ()

    def __str__(self) -> str:
        near = f" Nearest ids: {', '.join(self.nearest)}."
        hint = near if self.nearest else " The list of traits has them all."
        return f"There is no trait '{self.trait}'.{hint}"


@dataclass(eq=False)
class UnknownSource(BadQuestion):
    """No source or importer has that key."""

    source: str
    known: tuple[str, ...] = ()

    def __str__(self) -> str:
        hint = f" Known: {', '.join(self.known)}." if self.known else ""
        if len(self.known) > MOST_NAMED:
            hint = " The list of sources has them all."
        return f"There is no source '{self.source}'.{hint}"


@dataclass(eq=False)
class UnknownPlace(BadQuestion):
    """Nobody observed anything at that place."""

    place: str
    known: tuple[str, ...] = ()

    def __str__(self) -> str:
        hint = f" Observed at: {', '.join(self.known[:10])}." if self.known else " This store has none yet."
        return f"Nothing was observed at '{self.place}'.{hint}"


@dataclass(eq=False)
class ParameterFault:
    """One thing wrong with one parameter, and how to mend it."""

    parameter: str
    detail: str
    offered: tuple[Choice, ...] = ()
    """Plants, where it is a name that can mean several."""


@dataclass(eq=False)
class BadParameter(BadQuestion):
    """One or more parameters cannot be used."""

    faults: tuple[ParameterFault, ...] = field(default=())

    def __str__(self) -> str:
        return " ".join(f"{fault.parameter}: {fault.detail}" for fault in self.faults)


@dataclass(eq=False)
class BadRecord(KnowledgeBaseError):
    """A record breaks a rule: which record, which property, how to mend it."""

    record: str
    path: str | None
    detail: str

    def __str__(self) -> str:
        where = f" ({self.path})" if self.path else ""
        return f"{self.record}{where}: {self.detail}"


@dataclass(eq=False)
class BadFile(KnowledgeBaseError):
    """A file cannot be read as what it should be."""

    file: str
    line: int | None
    detail: str

    def __str__(self) -> str:
        where = f"{self.file}, line {self.line}" if self.line else self.file
        return f"{where}: {self.detail}"


@dataclass(eq=False)
class SourceFault(KnowledgeBaseError):
    """An import source is missing, unreadable, or not what the importer expects."""

    source: str
    detail: str

    def __str__(self) -> str:
        return f"{self.source}: {self.detail}"


@dataclass(eq=False)
class StoreFault(KnowledgeBaseError):
    """The store cannot be used as asked."""

    store: str
    detail: str

    def __str__(self) -> str:
        return f"{self.store}: {self.detail}"


class Busy(StoreFault):
    """Too much of one kind is under way already; nothing is wrong with the question."""

    def __init__(self, what: str, retry_s: int) -> None:
        super().__init__(what, f"too much is under way already; ask again in {retry_s} seconds")
        self.retry_s = retry_s


@dataclass(eq=False)
class Refused(BadRecord):
    """What a curator wanted to write breaks a rule; nothing was changed."""


@dataclass(eq=False)
class NotAllowed(KnowledgeBaseError):
    """Who asked may not do this: wrong role, or one's own caution."""

    who: str
    detail: str

    def __str__(self) -> str:
        return f"{self.who} may not do this: {self.detail}"


@dataclass(eq=False)
class StaleWrite(KnowledgeBaseError):
    """The plant changed since it was read: both versions are here, nothing was written.

    ``stands`` and ``yours`` are Turtle texts of the user's own part of the plant; ``since`` says in
    words what happened after the revision that was read.
    """

    plant: str
    expected: str
    current: str
    since: tuple[str, ...]
    stands: str
    yours: str
    wanted: tuple[str, ...] = ()

    def __str__(self) -> str:
        happened = "; ".join(self.since) or "a file was changed without the bench"
        return (
            f"{self.plant} changed since revision {self.expected}; it is {self.current} now. Since then: "
            f"{happened}. Yours, not written: {', '.join(self.wanted) or 'nothing new'}. "
            "Read the plant again, then write with its new revision."
        )
