"""The whole data set as a Darwin Core Archive (TDWG text guide): one zip of tables that explain themselves.

The same data set gives the same bytes: entries carry the day of the newest record, not of the export.
"""

import csv
import io
import zipfile
from collections.abc import Iterable, Iterator
from datetime import date
from itertools import islice
from typing import IO, Any, cast
from xml.etree import ElementTree as ET

from kb.exchange.archive_layout import EXTENSIONS, TAXA, Layout
from kb.exchange.archive_readme import readme
from kb.exchange.archive_rows import ROWS, Row
from kb.exchange.describing import TITLE, credit_lines, newest_entry, rights, what_it_is
from kb.namespaces import BASE
from kb.snapshot import Snapshot

TEXT = "http://rs.tdwg.org/dwc/text/"
EML = "https://eml.ecoinformatics.org/eml-2.2.0"
ROWS_A_PIECE = 500
PIECE_BYTES = 1 << 16
LAST_DAY = date(2107, 12, 31)
"""The last day that a zip entry can carry."""


def archive_pieces(snapshot: Snapshot) -> Iterator[bytes]:
    """The archive a piece of bytes at a time; every table has its header line even where it is empty."""
    day = newest_entry(snapshot)
    pipe = _Pieces()
    with zipfile.ZipFile(cast("IO[bytes]", pipe), "w", zipfile.ZIP_DEFLATED) as archive:
        for name, data in (
            ("README.txt", readme(snapshot).encode()),
            ("meta.xml", meta_xml()),
            ("eml.xml", eml_xml(snapshot)),
        ):
            archive.writestr(_entry(name, day), data)
        for layout in (TAXA, *EXTENSIONS):
            with archive.open(_entry(layout.file, day), "w") as table:
                for piece in _table(layout, ROWS[layout.file](snapshot)):
                    table.write(piece)
                    yield from pipe.taken(PIECE_BYTES)
    yield from pipe.taken(0)


class _Pieces(io.RawIOBase):
    """A stream for ``zipfile`` that hands on what is written to it (it cannot go back)."""

    def __init__(self) -> None:
        self._held = bytearray()

    def write(self, data: Any) -> int:
        self._held += data
        return len(data)

    def taken(self, least: int) -> Iterator[bytes]:
        """What was written since, where it is more than ``least`` bytes."""
        if len(self._held) > least:
            piece = bytes(self._held)
            self._held.clear()
            yield piece


def _entry(name: str, day: date) -> zipfile.ZipInfo:
    day = min(day, LAST_DAY)
    entry = zipfile.ZipInfo(name, (day.year, day.month, day.day, 0, 0, 0))
    entry.compress_type = zipfile.ZIP_DEFLATED
    entry.external_attr = 0o644 << 16
    return entry


def _table(layout: Layout, rows: Iterator[Row]) -> Iterator[bytes]:
    header: Iterable[Row] = (tuple(column.name for column in layout.columns),)
    while header:
        text = io.StringIO(newline="")
        csv.writer(text, lineterminator="\n").writerows(header)
        yield text.getvalue().encode()
        header = tuple(islice(rows, ROWS_A_PIECE))


def meta_xml() -> bytes:
    """The description of the tables, as the text guide has it."""
    root = ET.Element("archive", {"xmlns": TEXT, "metadata": "eml.xml"})
    for layout in (TAXA, *EXTENSIONS):
        core = layout is TAXA
        part = ET.SubElement(
            root,
            "core" if core else "extension",
            {
                "encoding": "UTF-8",
                "fieldsTerminatedBy": ",",
                "linesTerminatedBy": "\\n",
                "fieldsEnclosedBy": '"',
                "ignoreHeaderLines": "1",
                "rowType": layout.row_type,
            },
        )
        ET.SubElement(ET.SubElement(part, "files"), "location").text = layout.file
        ET.SubElement(part, "id" if core else "coreid", {"index": "0"})
        for index, column in enumerate(layout.columns):
            if index:
                ET.SubElement(part, "field", {"index": str(index), "term": column.term})
    return _document(root)


def eml_xml(snapshot: Snapshot) -> bytes:
    """What the data set is, in the Ecological Metadata Language 2.2: version, rights, credits."""
    root = ET.Element(
        "eml:eml",
        {
            "xmlns:eml": EML,
            "packageId": f"traitbed.{snapshot.version}",
            "system": BASE,
        },
    )
    dataset = ET.SubElement(root, "dataset")
    _text(dataset, "title", TITLE)
    _text(ET.SubElement(dataset, "creator"), "organizationName", "The traitbed contributors")
    _text(dataset, "pubDate", newest_entry(snapshot).isoformat())
    _text(dataset, "language", "en")
    _paragraphs(dataset, "abstract", what_it_is(snapshot))
    _paragraphs(dataset, "additionalInfo", ["Credits, one line a source:", *credit_lines(snapshot)])
    _paragraphs(dataset, "intellectualRights", rights())
    _text(ET.SubElement(dataset, "contact"), "organizationName", "The traitbed contributors")
    return _document(root)


def _text(parent: ET.Element, name: str, text: str) -> None:
    ET.SubElement(parent, name).text = text


def _paragraphs(parent: ET.Element, name: str, paragraphs: Iterable[str]) -> None:
    part = ET.SubElement(parent, name)
    for paragraph in paragraphs:
        _text(part, "para", paragraph)


def _document(root: ET.Element) -> bytes:
    ET.indent(root)
    text = ET.tostring(root, encoding="unicode")
    return f'<?xml version="1.0" encoding="UTF-8"?>\n{text}\n'.encode()
