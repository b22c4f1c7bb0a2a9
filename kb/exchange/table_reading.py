"""Tables that people bring: bytes to text to rows, with nothing guessed that is not said.

A byte order mark or valid UTF-8 decides the encoding by itself. Anything else is refused with how to
mend it, or read in the encoding that the person names; only ``decoded(..., lenient=True)`` (for lists of
names, where nothing is stored) reads Windows-1252 unasked, and says so.
"""

import codecs
import csv
import io
from collections.abc import Iterator
from dataclasses import dataclass

from kb.errors import BadFile
from kb.exchange.cells import shortened

MARKS = (
    (codecs.BOM_UTF8, "utf-8-sig"),
    (codecs.BOM_UTF16_LE, "utf-16"),
    (codecs.BOM_UTF16_BE, "utf-16"),
)
WESTERN = "windows-1252"
LONGEST_CELL = 20_000
"""Characters; the longest cell of our own export has about 600."""
DELIMITERS = ",;\t|"


@dataclass(frozen=True, slots=True)
class Decoded:
    """A text, the encoding it was read in, and whether that is only the likeliest one."""

    text: str
    encoding: str
    likely: bool = False


@dataclass(frozen=True, slots=True)
class Line:
    """One row of a table; ``number`` is the line of the file on which it begins, counted from 1."""

    number: int
    cells: tuple[str, ...]


def decoded(raw: bytes, file: str, encoding: str | None = None, *, lenient: bool = False) -> Decoded:
    """The text of a file. Raises BadFile with the line and how to mend it."""
    if encoding is not None:
        return _decoded_as(raw, file, encoding)
    marked = next((name for mark, name in MARKS if raw.startswith(mark)), None)
    if marked is not None:
        return _decoded_as(raw, file, marked)
    if b"\x00" in raw:
        mend = "save it as text in UTF-8 (an .xlsx or .ods sheet: as CSV); UTF-16 must begin with its mark"
        raise BadFile(file, None, f"holds zero bytes, so it is no text in UTF-8; {mend}.")
    try:
        return Decoded(raw.decode("utf-8"), "utf-8")
    except UnicodeDecodeError as fault:
        line = raw.count(b"\n", 0, fault.start) + 1
        if lenient:
            return _western(raw, file, line)
        around = shortened(raw[max(0, fault.start - 12) : fault.end + 12].decode(WESTERN, "replace"))
        mend = f"save it as UTF-8, or name its encoding (if '{around}' is right: --encoding {WESTERN})"
        raise BadFile(file, line, f"is not UTF-8; {mend}.") from None


def _decoded_as(raw: bytes, file: str, encoding: str) -> Decoded:
    try:
        "".encode(encoding)
    except (LookupError, ValueError):
        raise BadFile(
            file,
            None,
            f"cannot be read as '{encoding}': there is no such encoding; name utf-8, utf-16 or {WESTERN}.",
        ) from None
    try:
        text = raw.decode(encoding)
    except (UnicodeDecodeError, UnicodeError) as fault:
        start = fault.start if isinstance(fault, UnicodeDecodeError) else 0
        line = raw.count(b"\n", 0, start) + 1
        raise BadFile(file, line, f"is not {encoding}; save it as UTF-8 and bring it again.") from None
    if "\x00" in text:
        raise BadFile(file, None, f"holds zero characters when read as {encoding}; save it as UTF-8 text.")
    return Decoded(text.removeprefix("\ufeff"), encoding.removesuffix("-sig"))


def _western(raw: bytes, file: str, line: int) -> Decoded:
    try:
        return Decoded(raw.decode(WESTERN), WESTERN, likely=True)
    except UnicodeDecodeError:
        raise BadFile(
            file, line, f"is neither UTF-8, UTF-16 with its mark, nor {WESTERN}; save it as UTF-8."
        ) from None


def lines_of(text: str, file: str, delimiter: str, *, quote: str | None = '"') -> Iterator[Line]:
    """The rows of a table that are not blank. Raises BadFile where rows can no longer be told apart.

    ``quote`` None: cells are not quoted, and quotation marks are text like any other.
    """
    reader = csv.reader(
        io.StringIO(text, newline=""),
        delimiter=delimiter,
        quotechar=quote or '"',
        quoting=csv.QUOTE_MINIMAL if quote else csv.QUOTE_NONE,
        strict=True,
    )
    while True:
        begins = reader.line_num + 1
        try:
            cells = next(reader)
        except StopIteration:
            return
        except csv.Error as fault:
            raise BadFile(file, begins, _unreadable(str(fault))) from None
        if any(cell.strip() for cell in cells):
            yield Line(begins, tuple(cells))


def _unreadable(said: str) -> str:
    if "field larger" in said:
        most = csv.field_size_limit()
        return f"holds a cell of more than {most:,} characters; shorten it, or close the quotation mark."
    if "unexpected end" in said:
        return "opens a quotation mark that is never closed; close it."
    return f"cannot be read as a table ({said}); quote cells that hold quotation marks or line breaks."


def delimiter_of(header: str, wanted: str) -> str:
    """The delimiter with which the header line holds the column ``wanted``; a comma where none does."""
    for delimiter in DELIMITERS:
        try:
            cells = next(csv.reader([header], delimiter=delimiter))
        except (csv.Error, StopIteration):
            continue
        if wanted in {cell.strip() for cell in cells}:
            return delimiter
    return ","
