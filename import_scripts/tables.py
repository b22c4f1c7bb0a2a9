"""Reading published tables strictly: a file that is not as expected is a fault that names the line."""

import csv
from collections.abc import Iterable, Iterator, Sequence
from pathlib import Path

from import_scripts.base import Row
from kb.errors import SourceFault

LARGEST_FILE = 120_000_000
"""Bytes; the largest file of any importer (the unpacked root-trait table) is about 79 MB."""


def locate(folder: Path, name: str) -> Path:
    """The file of that name in a folder, or the file itself if that is what was named."""
    path = folder if folder.is_file() else folder / name
    if not path.is_file():
        raise SourceFault(name, f"is not in '{folder.name}'; name the folder or the file that holds it")
    return path


def read_bytes(path: Path) -> bytes:
    """The bytes of a file. Raises SourceFault where it cannot be read or is out of all proportion."""
    try:
        if path.stat().st_size > LARGEST_FILE:
            raise SourceFault(
                path.name, f"is larger than {LARGEST_FILE // 1_000_000} MB; this is another file"
            )
        return path.read_bytes()
    except OSError as fault:
        raise SourceFault(path.name, f"cannot be read: {fault.strerror}") from None


def read_text(path: Path, encoding: str = "utf-8") -> str:
    """The text of a file in the encoding that its publisher uses; another encoding is a fault."""
    return decode(read_bytes(path), path.name, encoding)


def decode(raw: bytes, name: str, encoding: str) -> str:
    """Bytes as text, strictly; the fault names the line."""
    try:
        text = raw.decode("utf-8-sig" if encoding == "utf-8" else encoding)
    except UnicodeDecodeError as fault:
        line = raw.count(b"\n", 0, fault.start) + 1
        raise SourceFault(
            name, f"line {line} is not {encoding}; fetch the file again, do not save it from a spreadsheet"
        ) from None
    if "\x00" in text:
        raise SourceFault(name, "holds zero bytes: it is not a text table; fetch the file again")
    return text


def csv_rows(
    path: Path,
    columns: Sequence[str],
    *,
    name: str | Sequence[str],
    encoding: str = "utf-8",
    delimiter: str = ",",
) -> Iterator[Row]:
    """The rows of a CSV file that must have these columns (more are welcome, order is free).

    ``name`` is the column, or the columns to join, with the name as printed. Raises SourceFault
    for missing columns, a row cut short, an open quotation mark, a wrong encoding, no rows.
    """
    text = read_text(path, encoding)
    yield from rows_of_text(text, columns, file=path.name, name=name, delimiter=delimiter)


def rows_of_text(
    text: str, columns: Sequence[str], *, file: str, name: str | Sequence[str], delimiter: str = ","
) -> Iterator[Row]:
    """``csv_rows`` for a text that is in memory already."""
    lines = text.replace("\r\n", "\n").replace("\r", "\n").removesuffix("\n").split("\n")
    reader = csv.reader((line + "\n" for line in lines), delimiter=delimiter, strict=True)
    names = (name,) if isinstance(name, str) else tuple(name)
    header: list[str] | None = None
    found = False
    try:
        for cells in reader:
            if not cells:
                continue
            if header is None:
                header = [cell.strip() for cell in cells]
                _require(header, columns, file)
                continue
            if len(cells) != len(header):
                raise SourceFault(
                    file,
                    f"line {reader.line_num} has {len(cells)} of {len(header)} cells; "
                    "the file is cut short or was edited: fetch it again",
                )
            values = dict(zip(header, cells, strict=True))
            found = True
            printed = " ".join(values[column].strip() for column in names).strip()
            yield Row(file, reader.line_num, printed, values)
    except csv.Error as fault:
        raise SourceFault(
            file, f"line {reader.line_num} cannot be read as a table ({fault}); fetch the file again"
        ) from None
    if not found:
        raise SourceFault(file, "holds no rows; fetch the file again")


def _require(header: Iterable[str], columns: Iterable[str], file: str) -> None:
    missing = [column for column in columns if column not in set(header)]
    if missing:
        raise SourceFault(
            file, f"line 1 lacks the column {', '.join(missing)}; this is another file or another version"
        )
