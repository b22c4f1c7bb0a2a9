"""A SPARQL text parsed and judged before it is run: it may read this data set and nothing else."""

from collections.abc import Callable, Iterator
from contextlib import suppress
from typing import Any

from pyparsing import ParseException, ParseResults
from rdflib.plugins.sparql.parser import parseQuery, parseUpdate
from rdflib.plugins.sparql.parserutils import CompValue

FORMS = {"SelectQuery": "select", "AskQuery": "ask", "ConstructQuery": "graph", "DescribeQuery": "graph"}
LONGEST = 20_000
"""Characters of one query."""
WORDS_OF_UPDATE = ("INSERT", "DELETE", "LOAD", "CLEAR", "DROP", "CREATE", "ADD", "MOVE", "COPY", "WITH")


class Refused(ValueError):
    """A query that is not run; ``str()`` says why and what to do."""


def judged(text: str) -> str:
    """The form of the answer: ``select``, ``ask`` or ``graph``. Raises Refused."""
    if len(text) > LONGEST:
        raise Refused(f"has {len(text):,} characters; {LONGEST:,} are the most.")
    try:
        query = _parsed(parseQuery, text)[1]
    except ParseException as fault:
        raise Refused(_why(text, fault)) from None
    if query.datasetClause:
        raise Refused("names graphs with FROM; there is one data set here: leave FROM out.")
    for part in _parts(query):
        if part.name == "ServiceGraphPattern":
            raise Refused("asks another server with SERVICE; only this data set is asked: leave SERVICE out.")
    return FORMS[query.name]


def _parsed(parse: Callable[[str], Any], text: str) -> Any:
    """What the library's parser makes of a text. Raises ParseException or Refused."""
    try:
        return parse(text)
    except ParseException:
        raise
    except RecursionError:
        raise Refused("is nested too deeply; take it apart.") from None
    except ValueError as fault:  # a character that Unicode does not have
        raise Refused(f"cannot be read ({str(fault)[:200]}).") from None


def _why(text: str, fault: ParseException) -> str:
    """What is wrong with a text that is no query; an update is told from a slip."""
    if any(word in text.upper() for word in WORDS_OF_UPDATE):
        with suppress(ParseException, Refused):  # it is no update either: the first fault is told
            _parsed(parseUpdate, text)
            return "would change the data; here it can only be read (SELECT, ASK, CONSTRUCT, DESCRIBE)."
    return (
        f"is no SPARQL 1.1 query: line {fault.lineno}, column {fault.col}, near '{fault.line.strip()[:60]}'."
    )


def _parts(node: Any) -> Iterator[CompValue]:
    """Every part of a parsed query, whatever it is nested in."""
    if isinstance(node, CompValue):
        yield node
        for value in node.values():
            yield from _parts(value)
    elif isinstance(node, ParseResults | list | tuple):
        for value in node:
            yield from _parts(value)
