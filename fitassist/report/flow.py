# SPDX-License-Identifier: MIT
"""Sets headings, paragraphs, tables and drawings one below another, page after page.

How wide words are is asked of a function, because fonts belong to whoever paints.
"""

from __future__ import annotations

import math
from collections.abc import Callable, Sequence
from dataclasses import dataclass

from fitassist.report.page import Item, Line, Page, Polygon, Text, shifted
from fitassist.report.paper import A4, Paper

Measure = Callable[[str, float, bool], float]  # text, size mm, bold: width in mm

EDGE_MM = 15.0  # of a page to be read, wider than what every printer reaches
TITLE_MM, HEADING_MM, TEXT_MM, NOTE_MM = 6.5, 4.4, 3.5, 2.9
LEADING = 1.38  # from one line of text to the next, in sizes
FOOT_MM = 9.0
CELL_MM = 2.0  # between a column and the next
FINE = 0.6  # grey of fine lines
QUIET = 0.35  # grey of quiet words
LEAST_MM = 2.2  # words that are too long are set smaller, but no smaller than can be read


def roughly(text: str, size_mm: float, is_bold: bool = False) -> float:
    """Return about how wide words are where no font is at hand."""
    return (0.6 if is_bold else 0.56) * size_mm * len(text)


@dataclass(frozen=True)
class Column:
    """A column of a table: its head and its share of the width.

    Figures end at it; what is written by hand begins at a fine line.
    """

    head: str
    share: float
    is_figure: bool = False
    is_written: bool = False


@dataclass(frozen=True)
class Foot:
    """What stands below each page: words at the left, and how the page's number is said."""

    text: str
    count: Callable[[int, int], str]


class Flow:
    """Pages being filled from the top.

    Parameters
    ----------
    paper
        A roll is cut as A4 for pages to read.
    measure
        Width of words in mm.
    """

    def __init__(self, paper: Paper, measure: Measure = roughly) -> None:
        self.paper = paper if paper.height_mm else A4
        self.measure = measure
        self._pages: list[list[Item]] = [[]]
        self.y = EDGE_MM

    @property
    def width_mm(self) -> float:
        """Between the edges."""
        return self.paper.width_mm - 2.0 * EDGE_MM

    @property
    def room_mm(self) -> float:
        """What is left of the page."""
        return self.paper.height_mm - EDGE_MM - FOOT_MM - self.y

    @property
    def page_number(self) -> int:
        """The page that is being filled, from 1."""
        return len(self._pages)

    def next_page(self) -> None:
        """Begin another page."""
        self._pages.append([])
        self.y = EDGE_MM

    def need(self, height_mm: float) -> None:
        """Begin another page unless so much is left of this one."""
        if self.room_mm < height_mm and self.y > EDGE_MM:
            self.next_page()

    def space(self, mm: float) -> None:
        """Leave a gap."""
        self.y += mm

    def add(self, *items: Item) -> None:
        """Put items on the page where they are."""
        self._pages[-1] += items

    # -- words ----------------------------------------------------------------------------------

    def title(self, text: str, aside: str = "") -> None:
        """Set the title of a sheet, and quiet words under it."""
        for line in self.wrapped(text, TITLE_MM, True):
            self.y += TITLE_MM
            self.add(Text((EDGE_MM, self.y), line, TITLE_MM, is_bold=True))
            self.y += 0.3 * TITLE_MM
        if aside:
            self.paragraph(aside, grey=QUIET)
        self.y += 2.0

    def heading(self, text: str, keep_mm: float = 20.0) -> None:
        """Set a heading that stays with so much of what follows."""
        self.need(HEADING_MM * 2.2 + keep_mm)
        self.y += HEADING_MM * 1.7
        size = self.fitted(text, self.width_mm, HEADING_MM, True)
        self.add(Text((EDGE_MM, self.y), text, size, is_bold=True))
        self.y += HEADING_MM * 0.5

    def paragraph(
        self, text: str, size_mm: float = TEXT_MM, grey: float = 0.0, indent_mm: float = 0.0
    ) -> None:
        """Set words over the width; a line of its own for each line there is."""
        for part in text.split("\n"):
            for line in self.wrapped(part, size_mm, room_mm=self.width_mm - indent_mm):
                self.need(size_mm * LEADING)
                self.y += size_mm * LEADING
                at = (EDGE_MM + indent_mm, self.y)
                self.add(Text(at, line, size_mm, grey=grey))
        self.y += 1.2

    def steps(self, texts: Sequence[str], size_mm: float = TEXT_MM) -> None:
        """Set numbered steps."""
        for number, text in enumerate(texts, start=1):
            self.need(size_mm * LEADING * 2)
            self.add(Text((EDGE_MM, self.y + size_mm * LEADING), f"{number}", size_mm))
            self.paragraph(text, size_mm, indent_mm=6.0)

    def wrapped(
        self, text: str, size_mm: float, is_bold: bool = False, room_mm: float | None = None
    ) -> list[str]:
        """Break words into lines; a word longer than a line is broken wherever it must be."""
        room = self.width_mm if room_mm is None else room_mm
        lines: list[str] = []
        line = ""
        for word in text.split():
            tried = f"{line} {word}" if line else word
            if self.measure(tried, size_mm, is_bold) <= room:
                line = tried
                continue
            if line:
                lines.append(line)
            while self.measure(word, size_mm, is_bold) > room and len(word) > 1:
                fits = len(word) - 1
                while fits > 1 and self.measure(word[:fits], size_mm, is_bold) > room:
                    fits -= 1
                lines.append(word[:fits])
                word = word[fits:]
            line = word
        return [*lines, line] if line or not lines else lines

    def fitted(self, text: str, room_mm: float, size_mm: float, is_bold: bool = False) -> float:
        """Return the size at which words fit into a width, as large as wanted at most."""
        wide = self.measure(text, size_mm, is_bold)
        return size_mm if wide <= room_mm else max(size_mm * room_mm / wide, LEAST_MM)

    # -- tables and drawings --------------------------------------------------------------------

    def table(
        self,
        columns: Sequence[Column],
        rows: Sequence[Sequence[str]],
        size_mm: float = TEXT_MM,
        row_mm: float = 0.0,
    ) -> None:
        """Set a table; its head comes again on each page.

        Parameters
        ----------
        rows
            Texts by column; an empty one leaves room to write.
        row_mm
            Least height of a row.
        """
        shares = sum(column.share for column in columns)
        widths = [column.share / shares * self.width_mm for column in columns]
        self.space(1.0)
        self._head(columns, widths, size_mm)
        for row in rows:
            cells = [
                self.wrapped(text, size_mm, room_mm=wide - CELL_MM)
                for text, wide in zip(row, widths, strict=True)
            ]
            high = max(max(map(len, cells)) * size_mm * LEADING + 1.6, row_mm)
            if self.room_mm < high:
                self.next_page()
                self._head(columns, widths, size_mm)
            high_words = max(map(len, cells)) * size_mm * LEADING + 1.6
            self._row(columns, widths, cells, size_mm, lower_mm=(high - high_words) / 2)
            self.y += high
            self._rule(FINE)
        self.y += 2.0

    def _head(self, columns: Sequence[Column], widths: Sequence[float], size_mm: float) -> None:
        cells = [
            self.wrapped(column.head, NOTE_MM, room_mm=wide - CELL_MM)
            for column, wide in zip(columns, widths, strict=True)
        ]
        high = max(map(len, cells)) * NOTE_MM * LEADING + 1.6
        self.need(high + 2.5 * size_mm)
        self._row(columns, widths, cells, NOTE_MM, QUIET)
        self.y += high
        self._rule(0.0)

    def _row(
        self,
        columns: Sequence[Column],
        widths: Sequence[float],
        cells: Sequence[Sequence[str]],
        size_mm: float,
        grey: float = 0.0,
        lower_mm: float = 0.0,
    ) -> None:
        left, top = EDGE_MM, self.y + lower_mm
        high = max(map(len, cells)) * size_mm * LEADING + 1.6 + 2.0 * lower_mm
        for column, wide, lines in zip(columns, widths, cells, strict=True):
            if column.is_written:  # a fine line before it shows where to write
                at_top, at_foot = (left - CELL_MM / 2, self.y), (left - CELL_MM / 2, self.y + high)
                self.add(Line(at_top, at_foot, 0.12, grey=FINE))
            x = left + wide - CELL_MM if column.is_figure else left
            for number, line in enumerate(lines, start=1):
                at = (x, top + 0.4 + number * size_mm * LEADING - 0.3 * size_mm)
                self.add(Text(at, line, size_mm, ends_there=column.is_figure, grey=grey))
            left += wide

    def _rule(self, grey: float) -> None:
        ends = (EDGE_MM, self.y), (EDGE_MM + self.width_mm, self.y)
        self.add(Line(*ends, width_mm=0.2 if grey == 0.0 else 0.12, grey=grey))

    def drawing(self, items: Sequence[Item], height_mm: float, x: float = 0.0) -> None:
        """Put a drawing that starts at its own (0, 0) below what there is."""
        self.need(height_mm)
        self.add(*(shifted(item, EDGE_MM + x, self.y) for item in items))
        self.y += height_mm

    # -- done -------------------------------------------------------------------------------------

    def pages(self, foot: Foot) -> list[Page]:
        """Return the pages with what stands below each of them."""
        made = []
        for number, items in enumerate(self._pages, start=1):
            y = self.paper.height_mm - EDGE_MM + 2.0
            count = foot.count(number, len(self._pages))
            room = self.width_mm - self.measure(count, NOTE_MM, False) - 2.0 * CELL_MM
            size = self.fitted(foot.text, room, NOTE_MM)
            below = (
                Text((EDGE_MM, y), foot.text, size, grey=QUIET),
                Text((EDGE_MM + self.width_mm, y), count, NOTE_MM, ends_there=True, grey=QUIET),
            )
            made.append(Page(self.paper.width_mm, self.paper.height_mm, (*items, *below)))
        return made


def circle(x: float, y: float, radius_mm: float, grey: float | None = None) -> Polygon:
    """Return a small circle as an outline of many corners."""
    turn = [2.0 * math.pi * k / 24 for k in range(24)]
    points = tuple((x + radius_mm * math.cos(t), y + radius_mm * math.sin(t)) for t in turn)
    return Polygon(points, width_mm=0.25, grey=grey)
