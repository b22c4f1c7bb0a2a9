"""The process that answers SPARQL: it holds the store, and gives each query to a child of its own.

A child may use so much processor time, memory and output; it opens no file and no connection, and is killed
when its time is over. So a bad query costs a child, never the store and never the service. Requests and
answers go over standard input and output, each a line of JSON and a body of the length that it names.

Run as ``python -m kb.sparql.worker``; it ends when its input is closed. It needs ``fork`` (POSIX).
"""

import json
import os
import resource
import select
import signal
import sys
import time
from collections.abc import Iterable
from dataclasses import dataclass
from pathlib import Path
from typing import IO, Any

from pyoxigraph import (
    QueryBoolean,
    QueryResultsFormat,
    QuerySolutions,
    QueryTriples,
    RdfFormat,
    Store,
    serialize,
)

from kb.sparql.judging import Refused, judged

RESULTS = {
    "json": QueryResultsFormat.JSON,
    "xml": QueryResultsFormat.XML,
    "csv": QueryResultsFormat.CSV,
    "tsv": QueryResultsFormat.TSV,
}
GRAPHS = {"turtle": RdfFormat.TURTLE, "ntriples": RdfFormat.N_TRIPLES}
CHUNK = 1 << 16


@dataclass(frozen=True, slots=True)
class Limits:
    """What one query may use: seconds of processor and of clock, bytes, rows."""

    cpu_s: int = 5
    wall_s: float = 10.0
    memory_bytes: int = 512_000_000
    output_bytes: int = 10_000_000
    rows: int = 10_000


class TooMuch(Exception):
    """An answer that is larger than is allowed."""


def load(paths: Iterable[str]) -> Store:
    """A store of all files that are sound Turtle; broken ones are left out, as a snapshot leaves them out."""
    store = Store()
    for path in paths:
        try:
            store.load(Path(path).read_bytes(), format=RdfFormat.TURTLE)
        except (SyntaxError, OSError):
            continue
    return store


def answer(store: Store, request: dict[str, Any], limits: Limits, out: IO[bytes]) -> str:
    """Write the answer to a judged query and give the form it is in. Raises Refused, TooMuch."""
    text, wanted = request["query"], request["form"]
    kind = judged(text)
    offered = GRAPHS if kind == "graph" else RESULTS
    form: str | None = next((one for one in wanted if one in offered), None)
    if form is None:
        raise Refused(
            f"gives {'a graph' if kind == 'graph' else 'a table'}, which is here as {', '.join(offered)}."
        )
    found = _run(store, text)
    if isinstance(found, QueryTriples):
        triples = []
        for triple in found:
            triples.append(triple)
            if len(triples) > limits.rows:
                raise TooMuch(f"gives more than {limits.rows:,} triples; add LIMIT and OFFSET.")
        serialize(triples, output=out, format=GRAPHS[form])
    elif isinstance(found, QueryBoolean):
        if form not in {"json", "xml"}:
            raise Refused("answers yes or no, which is here as json, xml.")
        found.serialize(output=out, format=RESULTS[form])
    else:
        for count, _ in enumerate(found, start=1):
            if count > limits.rows:
                raise TooMuch(f"gives more than {limits.rows:,} rows; add LIMIT and OFFSET.")
        again = _run(store, text)
        if isinstance(again, QuerySolutions):
            again.serialize(output=out, format=RESULTS[form])
    return form


def _run(store: Store, text: str) -> QuerySolutions | QueryBoolean | QueryTriples:
    try:
        return store.query(text)
    except (SyntaxError, ValueError) as fault:
        said = str(fault).splitlines()[0]
        if "Prefix not found" in said:
            raise Refused("uses a prefix that it does not declare; add PREFIX name: <address>.") from None
        raise Refused(f"is no SPARQL 1.1 query: {said[:160]}.") from None


def confine(limits: Limits) -> None:
    """Bind this process to its limits: processor, memory, and no new file or connection."""
    used = int(Path("/proc/self/statm").read_text().split()[0]) * resource.getpagesize()
    most = used + limits.memory_bytes
    resource.setrlimit(resource.RLIMIT_AS, (most, most))
    resource.setrlimit(resource.RLIMIT_CPU, (limits.cpu_s, limits.cpu_s))
    resource.setrlimit(resource.RLIMIT_CORE, (0, 0))
    resource.setrlimit(resource.RLIMIT_FSIZE, (0, 0))
    resource.setrlimit(resource.RLIMIT_NOFILE, (3, 3))


class _Counted:
    """A stream that refuses to grow beyond a size."""

    def __init__(self, most: int) -> None:
        self.data = bytearray()
        self.most = most

    def write(self, data: bytes) -> int:
        self.data += data
        if len(self.data) > self.most:
            raise TooMuch(f"gives more than {self.most:,} bytes; ask for less at once.")
        return len(data)

    def flush(self) -> None:
        """Nothing is held back."""


def in_child(store: Store, request: dict[str, Any], limits: Limits) -> tuple[dict[str, Any], bytes]:
    """Run one query in a child of its own and give what it said, or why it was ended."""
    reads, writes = os.pipe()
    child = os.fork()
    if child == 0:  # pragma: no cover - the child's lines are run, and end with it
        os.close(reads)
        _child(store, request, limits, writes)
    os.close(writes)
    said, in_time = _collected(reads, limits)
    os.close(reads)
    if not in_time:
        os.kill(child, signal.SIGKILL)
    _, status = os.waitpid(child, 0)
    if not in_time:
        return _fault("over", f"took more than {limits.wall_s:g} seconds; ask for less at once."), b""
    if os.WIFSIGNALED(status) or not said:
        by = os.WTERMSIG(status) if os.WIFSIGNALED(status) else 0
        what = "processor time" if by in {signal.SIGXCPU, signal.SIGKILL} else "memory"
        return _fault("over", f"took more {what} than one query may; ask for less at once."), b""
    head, _, body = said.partition(b"\n")
    return json.loads(head), body


def _fault(kind: str, detail: str) -> dict[str, Any]:
    return {"fault": kind, "detail": detail}


def _child(store: Store, request: dict[str, Any], limits: Limits, writes: int) -> None:  # pragma: no cover
    """Answer, write, end; this never returns."""
    os.dup2(writes, 1)
    try:
        confine(limits)
        out = _Counted(limits.output_bytes)
        try:
            form = answer(store, request, limits, out)  # type: ignore[arg-type]
            head: dict[str, Any] = {"form": form}
        except Refused as fault:
            head, out.data = _fault("refused", str(fault)), bytearray()
        except TooMuch as fault:
            head, out.data = _fault("over", str(fault)), bytearray()
        except MemoryError:
            head, out.data = _fault("over", "took more memory than one query may."), bytearray()
        except (RuntimeError, ValueError, OSError) as fault:  # a function that is not known, a broken pattern
            said = (str(fault).splitlines() or [""])[0][:160]
            head, out.data = _fault("refused", f"cannot be answered: {said}."), bytearray()
        _write(1, json.dumps(head).encode() + b"\n" + bytes(out.data))
    finally:
        os._exit(0)


def _write(number: int, data: bytes) -> None:
    view = memoryview(data)
    while view:
        view = view[os.write(number, view) :]


def _collected(reads: int, limits: Limits) -> tuple[bytes, bool]:
    """What the child wrote, and whether it ended in time."""
    end = time.monotonic() + limits.wall_s
    said = bytearray()
    while True:
        left = end - time.monotonic()
        if left <= 0 or not select.select([reads], [], [], left)[0]:
            return b"", False
        piece = os.read(reads, CHUNK)
        if not piece:
            return bytes(said), True
        said += piece


def main() -> None:
    """Load what the first line names, then answer until the input is closed."""
    taken, given = sys.stdin.buffer, sys.stdout.buffer
    first = json.loads(taken.readline())
    store, limits = load(first["files"]), Limits(**first.get("limits", {}))
    given.write(json.dumps({"ready": len(store)}).encode() + b"\n")
    given.flush()
    for line in taken:
        head, body = in_child(store, json.loads(line), limits)
        given.write(json.dumps({**head, "length": len(body)}).encode() + b"\n" + body)
        given.flush()


if __name__ == "__main__":
    main()
