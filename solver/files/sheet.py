"""A table as spreadsheets save it: read in any of their dialects, written back in the same one.

Rows that nobody changed are written as they were, byte for byte.
"""

from __future__ import annotations

import codecs
import csv
import io
from collections.abc import Iterable, Iterator, Mapping, Sequence
from dataclasses import dataclass, replace
from pathlib import Path

from solver.errors import BadInput, Where
from solver.files.near_words import near_words
from solver.files.read import Version, read_bytes, version_of
from solver.printable import short

_MARKS = (
    (codecs.BOM_UTF8, "utf-8"),
    (codecs.BOM_UTF16_LE, "utf-16-le"),
    (codecs.BOM_UTF16_BE, "utf-16-be"),
)
_SEPARATORS = ",;\t"
WORKBOOK = b"PK\x03\x04"
"""How a workbook begins."""


@dataclass(frozen=True)
class Dialect:
    """How a spreadsheet wrote the table: byte-order mark, encoding, separator, line end, quotes."""

    mark: bytes = b""
    encoding: str = "utf-8"
    separator: str = ","
    newline: str = "\n"
    quote_all: bool = False


@dataclass(frozen=True)
class Record:
    """One line of the table, which quoted line breaks can make several: its cells, and its text."""

    line: int
    cells: tuple[str, ...]
    text: str

    @property
    def blank(self) -> bool:
        """Whether no cell says anything."""
        return not any(cell.strip() for cell in self.cells)


@dataclass(frozen=True)
class Sheet:
    """A table in a file: all its `records`; the one at `head` names the columns.

    `version` tells whether the file still is what was read.
    """

    path: Path
    dialect: Dialect
    records: tuple[Record, ...]
    head: int
    version: Version

    @property
    def columns(self) -> tuple[str, ...]:
        """Names of the columns, in lower case with underscores."""
        return tuple(map(_fold, self.records[self.head].cells))

    def rows(self) -> Iterator[tuple[int, dict[str, str]]]:
        """Each record below the column names that is not blank: its line, its cells by column.

        Raises:
            BadInput: a line has more cells than there are columns.
        """
        columns = self.columns
        for record in self.records[self.head + 1 :]:
            if record.blank:
                continue
            if any(cell.strip() for cell in record.cells[len(columns) :]):
                what = "the line has more cells than the first line has columns"
                remedy = "Put a number with a decimal comma in quotes, and notes with commas too."
                raise BadInput(what, where=Where(self.path, record.line), remedy=remedy)
            yield record.line, dict(zip(columns, map(str.strip, record.cells), strict=False))

    def with_cells(self, line: int, cells: Mapping[str, str]) -> Sheet:
        """The sheet with some cells of the record on `line` changed, by column.

        Raises:
            BadInput: there is no such column.
        """
        at = next(i for i, record in enumerate(self.records) if record.line == line)
        old = list(self.records[at].cells) + [""] * len(self.columns)
        for name, text in cells.items():
            old[self._column(name)] = text
        return self._with(at, old[: max(len(self.columns), len(self.records[at].cells))])

    def with_columns(self, names: Iterable[str]) -> Sheet:
        """The sheet with a column added at its end for every name that has none yet.

        The other lines stay as they are: they end before it.
        """
        missing = [name for name in dict.fromkeys(names) if name not in self.columns]
        return self._with(self.head, [*self.records[self.head].cells, *missing])

    def _with(self, at: int, cells: Sequence[str]) -> Sheet:
        """The sheet with other cells in the record at `at`, which keeps its line end."""
        old = self.records[at]
        end = old.text[len(old.text.rstrip("\r\n")) :]
        line = self._line(cells).removesuffix(self.dialect.newline) + end
        record = replace(old, cells=tuple(cells), text=line)
        return replace(self, records=(*self.records[:at], record, *self.records[at + 1 :]))

    def with_row(self, cells: Mapping[str, str]) -> Sheet:
        """The sheet with a record added at its end.

        Raises:
            BadInput: there is no such column.
        """
        new = [""] * len(self.columns)
        for name, text in cells.items():
            new[self._column(name)] = text
        *earlier, last = self.records
        if not last.text.endswith(("\n", "\r")):
            last = replace(last, text=last.text + self.dialect.newline)
        line = last.line + max(1, len(list(_lines(last.text))))
        record = Record(line, tuple(new), self._line(new))
        return replace(self, records=(*earlier, last, record))

    def without_row(self, line: int) -> Sheet:
        """The sheet without the record on `line`; the lines of those below it are as they were."""
        return replace(self, records=tuple(each for each in self.records if each.line != line))

    def _column(self, name: str) -> int:
        if name not in self.columns:
            what = f"the table has no column '{short(name)}'"
            where = Where(self.path, self.records[self.head].line)
            raise BadInput(what, where=where, remedy="Add it to the line of column names.")
        return self.columns.index(name)

    def _line(self, cells: Sequence[str]) -> str:
        out = io.StringIO(newline="")
        dialect = self.dialect
        csv.writer(
            out,
            delimiter=dialect.separator,
            lineterminator=dialect.newline,
            quoting=csv.QUOTE_ALL if dialect.quote_all else csv.QUOTE_MINIMAL,
        ).writerow(cells)
        return out.getvalue()

    def render(self) -> bytes:
        """The file's bytes.

        Raises:
            BadInput: the file's encoding has no sign for something written into it.
        """
        text = "".join(record.text for record in self.records)
        try:
            return self.dialect.mark + text.encode(self.dialect.encoding)
        except UnicodeEncodeError as error:
            what = f"'{text[error.start]}' cannot be written into this file"
            why = f"its encoding is {self.dialect.encoding}"
            remedy = "Save the table as UTF-8 first."
            raise BadInput(what, where=Where(self.path, 1), why=why, remedy=remedy) from None


def read_sheet(path: Path, needed: str, known: Sequence[str]) -> Sheet:
    """Read a table that must have the column `needed`; `known` are the columns that mean something.

    Other columns are kept. UTF-8 or UTF-16 by its mark, else UTF-8, else Windows text; separated
    by commas, semicolons or tabs.

    Raises:
        BadInput: it cannot be read, is no table, or a column is missing, twice there or misspelt.
    """
    return parse_sheet(read_bytes(path), path, needed, known)


def parse_sheet(raw: bytes, path: Path, needed: str, known: Sequence[str]) -> Sheet:
    """As `read_sheet`, from bytes; `path` is named in mistakes."""
    sheet = _parsed(raw, path, needed, f"Its first line names the columns: {', '.join(known)}.")
    _check_columns(sheet, needed, known)
    return sheet


def _parsed(raw: bytes, path: Path, needed: str, remedy: str) -> Sheet:
    mark, encoding, text = decode(raw, path)
    separator = _separator(text, needed)
    records = tuple(_records(text, separator, path))
    head = next((i for i, record in enumerate(records) if not record.blank), None)
    if head is None:
        raise BadInput("the table is empty", where=Where(path, 1), remedy=remedy)
    line = records[head].text
    newline = next((end for end in ("\r\n", "\n", "\r") if line.endswith(end)), "\n")
    quoted = line.lstrip().startswith('"')
    dialect = Dialect(mark, encoding, separator, newline, quoted)
    return Sheet(path, dialect, records, head, version_of(raw))


def decode(raw: bytes, path: Path) -> tuple[bytes, str, str]:
    """The byte-order mark of a table, its encoding, and its text.

    Raises:
        BadInput: it is no text.
    """
    if raw.startswith(WORKBOOK):
        remedy = "Save the sheet as CSV under this name."
        raise BadInput("this is a workbook, not a CSV file", where=Where(path, 1), remedy=remedy)
    marks = [(mark, name) for mark, name in _MARKS if raw.startswith(mark)]
    mark, encoding = marks[0] if marks else (b"", "utf-8")
    choices = [encoding] if marks else ["utf-8", "cp1252"]
    failed = 0
    for choice in choices:
        try:
            text = raw[len(mark) :].decode(choice)
        except UnicodeDecodeError as error:
            failed = error.start
            continue
        if "\0" in text:
            failed = text.index("\0")
            break
        return mark, choice, text
    line = raw[: failed + len(mark)].count(b"\n") + 1
    remedy = "Save the sheet as CSV in UTF-8."
    raise BadInput("the file is not text", where=Where(path, line), remedy=remedy)


def _lines(text: str) -> Iterator[str]:
    return iter(io.StringIO(text, newline=""))


def _fold(name: str) -> str:
    return "_".join(name.casefold().replace("-", " ").replace("_", " ").split())


def _separator(text: str, needed: str) -> str:
    """The separator that finds the column `needed` in the first line that says something."""
    first = next((line for line in _lines(text) if line.strip(' \t\r\n,;"')), "")

    def score(separator: str) -> tuple[bool, int]:
        try:
            cells = next(csv.reader([first], delimiter=separator), [])
        except csv.Error:  # one as long as a file; its line is said when it is read
            return False, 0
        return needed in map(_fold, cells), len(cells)

    return max(_SEPARATORS, key=score)


def _records(text: str, separator: str, path: Path) -> Iterator[Record]:
    taken: list[str] = []

    def lines() -> Iterator[str]:
        for line in _lines(text):
            taken.append(line)
            yield line

    reader = csv.reader(lines(), delimiter=separator, strict=True)
    number = 1
    try:
        for cells in reader:
            yield Record(number, tuple(cells), "".join(taken))
            number += len(taken)
            taken.clear()
    except csv.Error as error:
        why = str(error)
        remedy = "A quotation mark opens and closes a cell; inside one it is doubled."
        what = "the line cannot be taken apart into cells"
        raise BadInput(what, where=Where(path, number), why=why, remedy=remedy) from None


def _check_columns(sheet: Sheet, needed: str, known: Sequence[str]) -> None:
    columns = sheet.columns
    where = Where(sheet.path, sheet.records[sheet.head].line)
    if needed not in columns:
        what = f"the table has no column '{needed}'"
        remedy = f"Its first line names the columns: {', '.join(known)}."
        raise BadInput(what, where=where, near=near_words(needed, columns), remedy=remedy)
    for name in columns:
        if name in known and columns.count(name) > 1:
            raise BadInput(f"the column '{name}' is there twice", where=where)
        missing = [word for word in known if word not in columns]
        near = near_words(name, missing, 0.75) if name and name not in known else ()
        if near:
            what = f"'{short(name)}' looks like a slip of the pen for a column"
            remedy = "Name it so, or further from it if it is a column of your own."
            raise BadInput(what, where=where, near=near[:1], remedy=remedy)
