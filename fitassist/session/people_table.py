# SPDX-License-Identifier: MIT
"""A table of people as bytes from a spreadsheet: which letters, which separator, which rows.

Everything is guessed from the bytes alone and every guess can be overruled.
"""

from __future__ import annotations

import csv
import io
from collections import Counter
from collections.abc import Sequence
from typing import Final, NamedTuple

from fitassist.errors import BadFile

ENCODINGS: Final = ("utf-8", "utf-16", "cp1252")
SEPARATORS: Final = (";", ",", "\t")
MOST_BYTES: Final = 100_000_000
MOST_ROWS: Final = 200_000
MOST_COLUMNS: Final = 300
_SAMPLE_ROWS = 60
_LONGEST_CELL = 100_000  # characters; a longer one is a missing quotation mark


class Table(NamedTuple):
    """The rows of a file, each a tuple of texts; the first may name the columns."""

    rows: tuple[tuple[str, ...], ...]
    encoding: str
    separator: str

    @property
    def width(self) -> int:
        """How many columns the widest row has."""
        return max((len(row) for row in self.rows), default=0)


def read_table(data: bytes, encoding: str = "", separator: str = "") -> Table:
    """Understand the bytes of a table.

    Parameters
    ----------
    encoding, separator
        One of ``ENCODINGS`` and of ``SEPARATORS``; empty: guessed.

    Raises
    ------
    BadFile
        ``too_large``, ``table_empty``, ``table_letters`` (the letters cannot be read so),
        ``table_cut`` (a quotation mark is missing), ``table_rows`` or ``table_columns`` (too many).
    """
    if len(data) > MOST_BYTES:
        raise BadFile("too_large", size=len(data), limit=MOST_BYTES)
    encoding = encoding or guess_encoding(data)
    text = _decoded(data, encoding)
    separator = separator or guess_separator(text)
    rows = _rows(text, separator)
    if not rows:
        raise BadFile("table_empty")
    return Table(rows, encoding, separator)


def guess_encoding(data: bytes) -> str:
    """Return the encoding a text most likely has."""
    if data[:2] in (b"\xff\xfe", b"\xfe\xff") or _has_zero_every_other(data[:2000]):
        return "utf-16"
    try:
        data.decode("utf-8")
    except UnicodeDecodeError:
        return "cp1252"
    return "utf-8"


def _has_zero_every_other(data: bytes) -> bool:
    """Say whether it looks like UTF-16 without its mark: plain letters have one zero byte each."""
    if len(data) < 4:
        return False
    return max(data[0::2].count(0), data[1::2].count(0)) > len(data) // 4


def _decoded(data: bytes, encoding: str) -> str:
    if encoding == "utf-8":
        encoding = "utf-8-sig"
    elif encoding == "utf-16" and data[:2] not in (b"\xff\xfe", b"\xfe\xff"):
        low = data[1::2].count(0) >= data[0::2].count(0)
        encoding = "utf-16-le" if low else "utf-16-be"
    try:
        return data.decode(encoding)
    except UnicodeDecodeError as error:
        if encoding == "cp1252":  # five bytes are not used there, and mean nothing to anybody
            return data.decode("cp1252", "replace")
        raise BadFile("table_letters") from error


def guess_separator(text: str) -> str:
    """Return the separator by which the first rows fall most evenly into columns."""
    return max(SEPARATORS, key=lambda separator: _evenness(text, separator))


def _evenness(text: str, separator: str) -> tuple[float, int]:
    reader = csv.reader(io.StringIO(text[:200_000], newline=""), delimiter=separator)
    widths: Counter[int] = Counter()
    try:
        for row in reader:
            if row:
                widths[len(row)] += 1
            if widths.total() >= _SAMPLE_ROWS:
                break
    except csv.Error:
        return 0.0, 0
    if not widths:
        return 0.0, 0
    width, often = widths.most_common(1)[0]
    return (often / widths.total() if width > 1 else 0.0), width


def _rows(text: str, separator: str) -> tuple[tuple[str, ...], ...]:
    rows: list[tuple[str, ...]] = []
    before = csv.field_size_limit(_LONGEST_CELL)
    try:
        for row in csv.reader(io.StringIO(text, newline=""), delimiter=separator):
            if len(row) > MOST_COLUMNS:
                raise BadFile("table_columns", most=MOST_COLUMNS)
            if len(rows) >= MOST_ROWS:
                raise BadFile("table_rows", most=MOST_ROWS)
            rows.append(tuple(row))
    except csv.Error as error:
        raise BadFile("table_cut", row=len(rows) + 1) from error
    finally:
        csv.field_size_limit(before)
    while rows and not _has_text(rows[-1]):
        rows.pop()
    return tuple(rows)


def _has_text(row: Sequence[str]) -> bool:
    return any(cell.strip() for cell in row)
