"""The whole data set in each of its forms, a piece at a time, and one thing as linked data."""

from collections.abc import Callable, Iterator, Mapping
from dataclasses import dataclass

from api.answers.linked import jsonld
from api.answers.tables import adopted_csv, records_csv
from kb.exchange.archive import archive_pieces
from kb.exchange.graphs import about_plant, about_statement, card, turtle, whole
from kb.model import PlantId
from kb.snapshot import Snapshot

Pieces = Iterator[bytes]


@dataclass(frozen=True, slots=True)
class Export:
    """One form: its media type, the ending of its file, and how it is made."""

    media_type: str
    ending: str
    pieces: Callable[[Snapshot], Pieces]
    packed: bool = False
    """Whether it is compressed by itself."""


def _csv(snapshot: Snapshot) -> Pieces:
    return (piece.encode() for piece in records_csv(snapshot))


def _jsonld(snapshot: Snapshot) -> Pieces:
    return jsonld(whole(snapshot))


def _turtle(snapshot: Snapshot) -> Pieces:
    return (piece.encode() for piece in turtle(whole(snapshot)))


EXPORTS: Mapping[str, Export] = {
    "csv": Export("text/csv; charset=utf-8", "csv", _csv),
    "dwca": Export("application/zip", "zip", archive_pieces, packed=True),
    "jsonld": Export("application/ld+json", "jsonld", _jsonld),
    "turtle": Export("text/turtle; charset=utf-8", "ttl", _turtle),
}


def export_pieces(snapshot: Snapshot, form: str, *, adopted: bool) -> Pieces:
    """The export a piece at a time; ``adopted`` (csv only) asks for the values in use."""
    if adopted:
        return iter((adopted_csv(snapshot).encode(),))
    return EXPORTS[form].pieces(snapshot)


def plant_turtle(snapshot: Snapshot, plant: str) -> str:
    """One plant with its cautions, statements and sources."""
    return card(about_plant(snapshot, PlantId(plant)))


def plant_jsonld(snapshot: Snapshot, plant: str) -> str:
    return b"".join(jsonld((about_plant(snapshot, PlantId(plant)),))).decode()


def statement_turtle(snapshot: Snapshot, name: str) -> str:
    """One record, caution, decision or statement with its plant's names and its source."""
    return card(about_statement(snapshot, name))


def statement_jsonld(snapshot: Snapshot, name: str) -> str:
    return b"".join(jsonld((about_statement(snapshot, name),))).decode()
