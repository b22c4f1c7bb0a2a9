"""The properties of one subject of a Turtle text, asked for by prefixed name, faults named by file."""

from collections.abc import Mapping
from datetime import date
from decimal import Decimal, InvalidOperation
from functools import cache
from typing import Any, get_args

from pyoxigraph import Literal as OxLiteral
from pyoxigraph import NamedNode, RdfFormat, parse

from kb.errors import BadFile
from kb.namespaces import BASE, PREFIXES

Node = NamedNode | OxLiteral
NODES = (NamedNode, OxLiteral)
Subjects = dict[str, dict[str, list[Node]]]


class _Expanded(dict[str, str]):
    """A prefixed name in full, made once."""

    def __missing__(self, name: str) -> str:
        prefix, _, rest = name.partition(":")
        self[name] = PREFIXES[prefix] + rest
        return self[name]


_IN_FULL = _Expanded()
_allowed = cache(get_args)


def read_subjects(text: str, file: str) -> Subjects:
    """All triples of a Turtle text by subject and predicate. Raises BadFile with the line."""
    subjects: Subjects = {}
    try:
        for quad in parse(text.encode(), format=RdfFormat.TURTLE):
            subject, held = quad.subject, quad.object
            if not isinstance(subject, NamedNode) or not isinstance(held, NODES):
                raise BadFile(file, None, "holds a node without a name; give every node an IRI of its own")
            subjects.setdefault(subject.value, {}).setdefault(quad.predicate.value, []).append(held)
    except SyntaxError as fault:
        raise BadFile(file, fault.lineno, f"is not Turtle: {fault.msg}. Mend that line.") from None
    return subjects


class SubjectReader:
    """The properties of one subject, asked for by prefixed name."""

    def __init__(self, subject: str, properties: Mapping[str, list[Node]], file: str) -> None:
        self.subject = subject
        self.properties = properties
        self.file = file

    def fail(self, detail: str) -> BadFile:
        return BadFile(self.file, None, f"{self.subject.removeprefix(BASE)}: {detail}")

    def values(self, name: str) -> list[str]:
        return [node.value for node in self.properties.get(_IN_FULL[name], ())]

    def nodes(self, name: str) -> list[Node]:
        return list(self.properties.get(_IN_FULL[name], ()))

    def maybe(self, name: str) -> str | None:
        nodes = self.properties.get(_IN_FULL[name])
        if not nodes:
            return None
        if len(nodes) > 1:
            raise self.fail(f"has {len(nodes)} values of {name}; keep one")
        return nodes[0].value

    def one(self, name: str) -> str:
        value = self.maybe(name)
        if value is None:
            raise self.fail(f"has no {name}; add it")
        return value

    def local(self, name: str, kind: str) -> str:
        value = self.one(name)
        head = f"{BASE}{kind}."
        if not value.startswith(head):
            raise self.fail(f"{name} must be a tb:{kind}.… but is {value}")
        return value.removeprefix(head)

    def choice(self, name: str, kind: str, allowed: Any) -> Any:
        value = self.local(name, kind)
        if value not in _allowed(allowed):
            raise self.fail(f"{name} '{value}' is not one of {', '.join(_allowed(allowed))}")
        return value

    def choices(self, name: str, kind: str, allowed: Any) -> list[Any]:
        """All values of a property, each one of a closed list."""
        found = [value.removeprefix(f"{BASE}{kind}.") for value in self.values(name)]
        for value in found:
            if value not in _allowed(allowed):
                raise self.fail(f"{name} '{value}' is not one of {', '.join(_allowed(allowed))}")
        return found

    def maybe_choice(self, name: str, kind: str, allowed: Any) -> Any:
        return None if self.maybe(name) is None else self.choice(name, kind, allowed)

    def decimal(self, name: str) -> Decimal | None:
        value = self.maybe(name)
        if value is None:
            return None
        try:
            number = Decimal(value)
        except InvalidOperation:
            raise self.fail(f"{name} '{value}' is not a decimal number") from None
        if not number.is_finite():
            raise self.fail(f"{name} '{value}' is not a finite number")
        return number

    def day(self, name: str) -> date:
        value = self.one(name)
        try:
            return date.fromisoformat(value)
        except ValueError:
            raise self.fail(f"{name} '{value}' is not a date like 2026-11-25") from None

    def either(self, number: str, week: str) -> Decimal | None:
        """A number, or where there is none a week."""
        value = self.decimal(number)
        return value if value is not None else self.decimal(week)

    def concepts(self, trait: str) -> tuple[str, ...]:
        """The concepts of a trait that this subject names, sorted."""
        head = f"{BASE}{trait}."
        found = self.values("dwciri:measurementValue")
        for value in found:
            if not value.startswith(head):
                raise self.fail(f"value {value} is no concept of the trait {trait}")
        return tuple(sorted(value.removeprefix(head) for value in found))
