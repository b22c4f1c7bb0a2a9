"""``dataclasses.replace`` in half its time, for what every answer alters."""

from collections.abc import Callable, Hashable, Iterable
from dataclasses import fields
from functools import cache
from operator import attrgetter
from typing import Any, TypeVar, cast

Thing = TypeVar("Thing")


def altered(thing: Thing, **changes: object) -> Thing:
    """The same but for these fields, of a dataclass that is made of all of its fields in their order.

    >>> from dataclasses import make_dataclass
    >>> altered(make_dataclass("Two", ["one", "other"])(1, 2), other=3)
    Two(one=1, other=3)
    """
    kind: Any = type(thing)
    places, values_of = _fields_of(kind)
    values = list(values_of(thing))
    for name, value in changes.items():
        values[places[name]] = value
    found: Thing = kind(*values)
    return found


@cache
def _fields_of(kind: Hashable) -> tuple[dict[str, int], Callable[[object], Iterable[object]]]:
    names = tuple(one.name for one in fields(cast("type[Any]", kind)))
    return {name: place for place, name in enumerate(names)}, attrgetter(*names)
