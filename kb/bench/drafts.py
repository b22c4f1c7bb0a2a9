"""What a curator hands in, as texts, before it is read and judged. Every field is what was written."""

from dataclasses import dataclass, field
from datetime import date
from typing import Literal, cast, get_args

from kb.errors import BadParameter, NotAllowed, ParameterFault
from kb.model import Basis, CautionKind, DecisionRole, Source

Role = Literal["author", "reviewer"]
HANDLE_WORDS = "2 to 32 small letters, digits or hyphens, beginning with a letter"


@dataclass(frozen=True, slots=True)
class Curator:
    """Who writes. ``known`` says that the store has an account of that handle."""

    handle: str
    role: Role
    known: bool = True

    def must_review(self, what: str) -> None:
        """Raises NotAllowed unless this is a reviewer."""
        if self.role != "reviewer":
            raise NotAllowed(self.handle, f"{what} takes the role reviewer; this account is an {self.role}")


@dataclass(frozen=True, slots=True)
class RecordDraft:
    """A record to be added. ``revises`` names the record that it corrects, of the same plant and trait."""

    plant: str
    trait: str
    value: str
    basis: str
    why: str
    source: str | None = None
    locator: str | None = None
    verbatim: str | None = None
    name_as_printed: str | None = None
    number_kind: str | None = None
    conditions: tuple[tuple[str, str], ...] = ()
    note: str | None = None
    revises: str | None = None
    new_source: Source | None = None


@dataclass(frozen=True, slots=True)
class CautionDraft:
    """A caution to be added."""

    plant: str
    kind: str
    text: str
    basis: str
    why: str
    source: str | None = None
    locator: str | None = None
    verbatim: str | None = None
    name_as_printed: str | None = None
    part: str | None = None
    agent: str | None = None
    group: str | None = None
    place: str | None = None
    as_of: str | None = None
    lookalike: str | None = None
    new_source: Source | None = None


@dataclass(frozen=True, slots=True)
class DecisionDraft:
    """A choice between records: which, in what role, and why."""

    plant: str
    trait: str
    why: str
    weighed: tuple[tuple[str, DecisionRole], ...] = field(default=())


@dataclass(frozen=True, slots=True)
class ReviewDraft:
    """A verdict on a caution: ``retire`` or ``keep``."""

    plant: str
    caution: str
    verdict: str
    why: str


@dataclass(frozen=True, slots=True)
class ObservationDraft:
    """Something seen or measured on one's own plant."""

    plant: str
    trait: str
    value: str
    place: str
    procedure: str
    observed_on: str
    quality: str = "measured"
    age_years: str | None = None
    stock: str | None = None
    quality_note: str | None = None


def fault(parameter: str, detail: str) -> BadParameter:
    return BadParameter((ParameterFault(parameter, detail),))


def one_of(parameter: str, given: str, allowed: object) -> str:
    """The value, if it is on a closed list. Raises BadParameter."""
    if given not in get_args(allowed):
        raise fault(parameter, f"'{given[:60]}' is none of {', '.join(get_args(allowed))}")
    return given


def basis_of(given: str) -> Basis:
    one_of("basis", given, Basis)
    return cast("Basis", given)


def caution_kind_of(given: str) -> CautionKind:
    one_of("caution", given, CautionKind)
    return cast("CautionKind", given)


def role_of(given: str) -> DecisionRole:
    one_of("weighed", given, DecisionRole)
    return cast("DecisionRole", given)


def day_of(parameter: str, given: str, today: date) -> date:
    """A day like 2026-07-01, not after today. Raises BadParameter."""
    try:
        day = date.fromisoformat(given)
    except ValueError:
        raise fault(parameter, f"'{given[:40]}' is no day like 2026-07-01") from None
    if day > today:
        raise fault(parameter, f"{given} lies ahead; only what was seen can be logged")
    return day
