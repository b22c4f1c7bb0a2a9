"""The works behind the compiled facts, one source each, from the compilation's own source lists."""

from pathlib import Path

from import_scripts.base import Row
from import_scripts.tables import csv_rows, locate
from kb.errors import SourceFault
from kb.model import Basis, Source, SourceKey

COLUMNS = ("source_key", "citation", "doi_or_url", "year", "publisher", "licence_if_seen", "how_seen")
SAME = {"az-mg": "arizona-mg-t107"}
"""Two keys of the compilation that name one page: one source, so that it has one vote."""
NO_YEAR = frozenset({"", "n.d.", "nd"})


def key_of(printed: str) -> SourceKey:
    """``Arizona_MG`` -> ``arizona-mg``; the two keys of one work become one."""
    key = printed.strip().lower().replace("_", "-")
    return SourceKey(SAME.get(key, key))


def rows_by_key(folder: Path) -> dict[SourceKey, Row]:
    """The source rows of one part of the compilation, by key."""
    found: dict[SourceKey, Row] = {}
    for row in csv_rows(locate(folder, "sources.csv"), COLUMNS, name="source_key"):
        found.setdefault(key_of(row["source_key"]), row)
    return found


def source_of(key: SourceKey, row: Row) -> Source:
    """The source that a row of the list describes."""
    publisher = row["publisher"]
    citation = row["citation"]
    if publisher and publisher not in citation:
        citation = f"{citation}. {publisher}"
    year = row["year"]
    return Source(
        key=key,
        citation=citation,
        identifier=row["doi_or_url"] or None,
        year=None if year in NO_YEAR else year,
        licence=row["licence_if_seen"] or "not stated where it was read; single facts are cited",
        licence_iri=None,
        tier="B",
        how_read=row["how_seen"] or "not said",
        credit=citation,
    )


def basis_of(row: Row, sources: dict[SourceKey, Row]) -> Basis:
    """How a fact was read: second-hand, an excerpt, a transcription or the source itself.

    Raises SourceFault where the fact cites a source that the list lacks.
    """
    key = key_of(row["source_key"])
    if key not in sources:
        raise SourceFault(
            row.file, f"line {row.number} cites '{row['source_key']}', which sources.csv lacks; add it there"
        )
    how = sources[key]["how_seen"].lower()
    if row["seen"] == "second-hand" or how.startswith("second-hand"):
        return "second-hand"
    if "second-hand copy" in how or "open data file" in how:
        return "read-in-transcription"
    return "read-in-source" if how.startswith("full text") else "read-in-excerpt"
