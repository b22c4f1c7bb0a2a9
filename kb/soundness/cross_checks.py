"""The questions of ``shapes/checks`` and ``shapes/reports``, asked of all triples at once.

Rules that join records are slow inside SHACL, so they are plain queries: a row of a check is a
violation, a row of a report is news for a curator. The comment lines at the head of a file say
what it asks and how to mend what it finds.
"""

from collections.abc import Iterator
from dataclasses import dataclass
from functools import cache
from importlib.resources import files
from typing import cast

from pyoxigraph import Literal, NamedNode, QuerySolutions, Store

SUFFIX = "-violation"


@dataclass(frozen=True, slots=True)
class Query:
    """One query file: its name, what it asks, how to mend, its text."""

    name: str
    question: str
    mend: str
    text: str


@dataclass(frozen=True, slots=True)
class Row:
    """One answer: the IRI it is about, and the detail."""

    query: Query
    subject: str
    detail: str


@cache
def queries(room: str) -> tuple[Query, ...]:
    """All queries of ``checks`` or ``reports``, by name."""
    folder = files("shapes") / room
    found = sorted(
        (entry.name, entry.read_text(encoding="utf-8"))
        for entry in folder.iterdir()
        if entry.name.endswith(".rq")
    )
    return tuple(
        Query(name.removesuffix(".rq"), _head(text, "Question"), _head(text, "Mend"), text)
        for name, text in found
    )


def _head(text: str, key: str) -> str:
    lead = f"# {key}: "
    return next((line.removeprefix(lead) for line in text.splitlines() if line.startswith(lead)), "")


def ask(store: Store, room: str) -> Iterator[tuple[Query, tuple[Row, ...]]]:
    """Every query of a room with its rows."""
    for query in queries(room):
        # the store runs read-only queries of our own, without values from outside
        solutions = cast("QuerySolutions", store.query(query.text))
        rows = []
        for solution in solutions:
            subject, detail = solution["subject"], solution["detail"]
            rows.append(
                Row(
                    query,
                    subject.value if isinstance(subject, NamedNode) else str(subject),
                    detail.value if isinstance(detail, Literal) else "",
                )
            )
        yield query, tuple(rows)
