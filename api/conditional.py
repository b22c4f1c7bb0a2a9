"""Strong ETags from data set, question, form and code; 304 where the client has the answer.

An answer is a function of the data set's version, the question, the form and the program. So its
tag is known before it is computed, and a repeated question costs no computation.
"""

import hashlib
from functools import cache
from importlib.resources import files
from importlib.resources.abc import Traversable

import orjson

from api.questions import Question

ROOMS = ("api", "kb")
SUFFIXES = (".py", ".html", ".json", ".jsonld", ".ttl", ".csv", ".rq")


@cache
def program_digest() -> str:
    """Hex digest of the program that answers: its modules, pages and vocabulary, not the plants."""
    digest = hashlib.sha256()
    for room in ROOMS:
        for file in _program_files(files(room)):
            digest.update(file.name.encode())
            digest.update(file.read_bytes())
    return digest.hexdigest()


def _program_files(folder: Traversable) -> list[Traversable]:
    found: list[Traversable] = []
    for entry in sorted(folder.iterdir(), key=lambda entry: entry.name):
        if entry.is_dir():
            if entry.name not in {"plants", "sources", "__pycache__", "static"}:
                found += _program_files(entry)
        elif entry.name.endswith(SUFFIXES):
            found.append(entry)
    return found


def tag_of(version: str, question: Question | str, form: str, *more: str) -> str:
    """The tag (without quotes) of one representation of one answer."""
    asked = (
        question.encode()
        if isinstance(question, str)
        else type(question).__name__.encode() + orjson.dumps(question, option=orjson.OPT_SORT_KEYS)
    )
    digest = hashlib.sha256()
    for part in (
        version.encode(),
        program_digest().encode(),
        form.encode(),
        asked,
        *(m.encode() for m in more),
    ):
        digest.update(len(part).to_bytes(4, "big"))
        digest.update(part)
    return digest.hexdigest()[:32]
