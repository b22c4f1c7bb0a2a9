"""SPARQL over a repository: one worker process, started when first asked and anew when the data change."""

import json
import os
import subprocess
import sys
import tempfile
import threading
from collections.abc import Sequence
from dataclasses import asdict, dataclass
from pathlib import Path
from typing import Any

import kb
from kb.errors import BadParameter, Busy, ParameterFault, StoreFault
from kb.exchange.graphs import dataset_graph, turtle, whole
from kb.repository import FilesRepository, Repository
from kb.snapshot import Snapshot
from kb.soundness.shape_library import vocabulary_rdf
from kb.sparql.worker import Limits
from kb.stores.enemy_files import ENEMIES
from kb.stores.files import PLANTS, SOURCES, turtle_files

WAIT_S = 0.2
"""How long a query waits for the one before it: a busy endpoint must not take up the service's threads."""

RETRY_S = 10


@dataclass(frozen=True, slots=True)
class Answered:
    """An answer: its form (``json``, ``turtle`` ...) and its bytes."""

    form: str
    body: bytes


class Endpoint:
    """Answers one query at a time, in a process of its own. Safe to share between threads."""

    def __init__(self, repository: Repository, limits: Limits | None = None) -> None:
        self._repository = repository
        self._limits = limits or Limits()
        self._guard = threading.Lock()
        self._process: subprocess.Popen[bytes] | None = None
        self._version: str | None = None

    def ask(self, query: str, forms: Sequence[str]) -> Answered:
        """The answer in the first of ``forms`` that fits the kind of query.

        Raises BadParameter for a query that is refused or wants too much, StoreFault where the endpoint is
        busy or cannot run.
        """
        if not self._guard.acquire(timeout=WAIT_S):
            raise Busy("SPARQL", RETRY_S)
        try:
            head, body = self._asked({"query": query, "form": list(forms)})
        except (OSError, ValueError) as fault:
            self.close()
            raise StoreFault("SPARQL", f"stopped working ({type(fault).__name__}); ask again") from None
        finally:
            self._guard.release()
        if "fault" in head:
            raise BadParameter((ParameterFault("query", head["detail"]),))
        return Answered(head["form"], body)

    def _asked(self, request: dict[str, Any]) -> tuple[dict[str, Any], bytes]:
        process = self._running(self._repository.snapshot())
        if process.stdin is None or process.stdout is None:
            raise OSError("no pipes")
        process.stdin.write(json.dumps(request).encode() + b"\n")
        process.stdin.flush()
        head = json.loads(process.stdout.readline())
        return head, process.stdout.read(head["length"])

    def _running(self, snapshot: Snapshot) -> "subprocess.Popen[bytes]":
        if self._process is not None and self._process.poll() is None and self._version == snapshot.version:
            return self._process
        self.close()
        if not sys.platform.startswith("linux"):
            raise StoreFault("SPARQL", "is answered on Linux only, where a query can be held to its limits")
        root = str(Path(kb.__file__).parents[1])
        paths = os.pathsep.join(filter(None, (root, os.environ.get("PYTHONPATH"))))
        process = subprocess.Popen(
            (sys.executable, "-m", "kb.sparql.worker"),
            stdin=subprocess.PIPE,
            stdout=subprocess.PIPE,
            stderr=subprocess.DEVNULL,
            env={**os.environ, "PYTHONPATH": paths},
        )
        self._process, self._version = process, snapshot.version
        with tempfile.TemporaryDirectory(prefix="traitbed-") as folder:
            files = files_of(self._repository, snapshot, Path(folder))
            first = {"files": [str(path) for path in files], "limits": asdict(self._limits)}
            if process.stdin is None or process.stdout is None:
                raise OSError("no pipes")
            process.stdin.write(json.dumps(first).encode() + b"\n")
            process.stdin.flush()
            json.loads(process.stdout.readline())
        return process

    def close(self) -> None:
        """End the worker; the next query starts another."""
        if self._process is not None:
            process, self._process = self._process, None
            process.kill()
            process.wait()
            for pipe in (process.stdin, process.stdout):
                if pipe is not None:
                    pipe.close()


def files_of(repository: Repository, snapshot: Snapshot, folder: Path) -> list[Path]:
    """Turtle files that hold the data set with its vocabulary and description.

    A store in files lends its own; any other is written into ``folder``.
    """
    described = folder / "described.ttl"
    if isinstance(repository, FilesRepository):
        parts = (dataset_graph(snapshot, snapshot.sources), vocabulary_rdf())
        described.write_text("".join(turtle(parts)), encoding="utf-8")
        rooms = (PLANTS, SOURCES, ENEMIES)
        lent = (path for place in repository.folders for room in rooms for path in turtle_files(place, room))
        return [described, *lent]
    described.write_text("".join(turtle(whole(snapshot))), encoding="utf-8")
    return [described]
