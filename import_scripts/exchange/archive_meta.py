"""meta.xml and eml.xml of a Darwin Core Archive (TDWG text guide), read without DTDs or entities."""

import codecs
from collections.abc import Iterator
from dataclasses import dataclass
from xml.etree.ElementTree import Element, ParseError

from defusedxml.common import DefusedXmlException
from defusedxml.ElementTree import fromstring

from import_scripts.exchange.archive_zip import StrangeZip
from kb.errors import BadFile
from kb.exchange.cells import shortened
from kb.exchange.table_reading import Line, decoded, lines_of

META = "meta.xml"
NULL = r"\N"
"""What exports of a common database write for an empty cell."""


@dataclass(frozen=True, slots=True)
class Field:
    """One column by its term; a field without ``index`` is a constant."""

    term: str
    index: int | None
    default: str


@dataclass(frozen=True, slots=True)
class Table:
    """One table as meta.xml describes it; the files, and how their rows are written."""

    row_type: str
    files: tuple[str, ...]
    encoding: str
    delimiter: str
    quote: str
    skipped: int
    id_index: int | None
    fields: tuple[Field, ...]
    core: bool

    @property
    def terms(self) -> frozenset[str]:
        return frozenset(field.term for field in self.fields)


@dataclass(frozen=True, slots=True)
class ArchiveRow:
    """One row: its place, the taxon it is about, and its cells by term."""

    file: str
    line: int
    taxon: str
    cells: dict[str, str]

    def __getitem__(self, term: str) -> str:
        return self.cells.get(term, "")


@dataclass(frozen=True, slots=True)
class Archive:
    """The tables of an archive, core first, and its metadata document where it has one."""

    tables: tuple[Table, ...]
    folder: str
    metadata: str | None

    def of(self, row_type: str) -> Table | None:
        return next((table for table in self.tables if table.row_type == row_type), None)


def xml(data: bytes, file: str) -> Element:
    """The root of an XML document. Raises BadFile for what is no XML, a DTD, or entities of its own."""
    try:
        root: Element = fromstring(data, forbid_dtd=True)
    except DefusedXmlException:
        detail = "declares a document type or entities, which are not read; take the declaration out."
        raise BadFile(file, None, detail) from None
    except ParseError as fault:
        raise BadFile(file, fault.position[0], f"is no XML ({fault.msg}); mend that line.") from None
    except (ValueError, LookupError) as fault:
        raise BadFile(file, None, f"is no XML ({shortened(str(fault))}); write it in UTF-8.") from None
    return root


def local_name(element: Element) -> str:
    return str(element.tag).rpartition("}")[2]


def read_meta(archive: StrangeZip) -> Archive:
    """What the archive holds. Raises BadFile for a description that cannot be followed."""
    found = [name for name in archive.entries if name.rpartition("/")[2] == META and name.count("/") <= 1]
    if len(found) != 1:
        raise BadFile(archive.file, None, f"holds {len(found)} files {META}; a Darwin Core Archive has one.")
    folder = found[0].removesuffix(META)
    root = xml(archive.read(found[0]), META)
    if local_name(root) != "archive":
        raise BadFile(META, None, f"begins with <{local_name(root)}>; a Darwin Core Archive has <archive>.")
    tables = [_table(part, folder, archive) for part in root if local_name(part) in {"core", "extension"}]
    if [table.core for table in tables].count(True) != 1:
        raise BadFile(META, None, "must describe exactly one core.")
    metadata = root.get("metadata")
    entry = folder + metadata if metadata else None
    return Archive(
        tuple(sorted(tables, key=lambda table: not table.core)),
        folder,
        entry if entry in archive.entries else None,
    )


def _table(part: Element, folder: str, archive: StrangeZip) -> Table:
    core = local_name(part) == "core"
    row_type = part.get("rowType") or ""
    files = [(one.text or "").strip() for group in part if local_name(group) == "files" for one in group]
    for name in files:
        if folder + name not in archive.entries:
            raise BadFile(
                META,
                None,
                f"names the file '{shortened(name)}', which is not in the archive (nothing is fetched).",
            )
    if not files:
        raise BadFile(META, None, f"names no file for {row_type}; add its <location>.")
    ids = [one for one in part if local_name(one) in {"id", "coreid"}]
    return Table(
        row_type=row_type,
        files=tuple(files),
        encoding=part.get("encoding") or "UTF-8",
        delimiter=_mark(part, "fieldsTerminatedBy", ","),
        quote=_mark(part, "fieldsEnclosedBy", '"'),
        skipped=_whole(part.get("ignoreHeaderLines") or "0", "ignoreHeaderLines"),
        id_index=_whole(ids[0].get("index") or "", "index of the id") if ids else None,
        fields=tuple(_field(one) for one in part if local_name(one) == "field"),
        core=core,
    )


def _field(part: Element) -> Field:
    index = part.get("index")
    return Field(
        part.get("term") or "",
        None if index is None else _whole(index, "index of a field"),
        part.get("default") or "",
    )


def _whole(text: str, what: str) -> int:
    if not text.isascii() or not text.isdigit() or len(text) > 4:
        raise BadFile(META, None, f"gives the {what} as '{shortened(text)}'; write a whole number.")
    return int(text)


def _mark(part: Element, name: str, default: str) -> str:
    """One character, written as itself or as a backslash escape."""
    text = part.get(name)
    if text is None:
        return default
    try:
        mark = codecs.decode(text, "unicode_escape") if text.isascii() else text
    except UnicodeDecodeError:
        mark = text
    if len(mark) > 1 or (not mark and name == "fieldsTerminatedBy"):
        raise BadFile(
            META, None, f"gives {name} as '{shortened(text)}'; only a single character is read here."
        )
    return mark


def rows_of(
    archive: StrangeZip, described: Archive, table: Table, *, nulls: bool = False
) -> Iterator[ArchiveRow]:
    """The rows of a table, constants filled in. Raises BadFile where a file cannot be read as described.

    ``nulls``: the mark by which a common database writes an empty cell is read as one.
    """
    for name in table.files:
        text = decoded(archive.read(described.folder + name), name, table.encoding).text
        for line in _lines(text, name, table):
            written = [cell.strip() for cell in line.cells]
            cells = tuple("" if nulls and cell == NULL else cell for cell in written)
            said = {field.term: _cell(cells, field) for field in table.fields if field.term}
            taxon = _at(cells, table.id_index) if table.id_index is not None else ""
            yield ArchiveRow(name, line.number, taxon, said)


def _lines(text: str, name: str, table: Table) -> Iterator[Line]:
    for place, line in enumerate(lines_of(text, name, table.delimiter, quote=table.quote or None)):
        if place >= table.skipped:
            yield line


def _at(cells: tuple[str, ...], index: int) -> str:
    return cells[index] if index < len(cells) else ""


def _cell(cells: tuple[str, ...], field: Field) -> str:
    return (_at(cells, field.index) if field.index is not None else "") or field.default
