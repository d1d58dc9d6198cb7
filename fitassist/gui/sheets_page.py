# SPDX-License-Identifier: MIT
"""Everything that can be printed: choose a sheet, look at it, save it or print it.

What the sheets tell comes from a source that ``app`` brings; the page keeps nothing of it.
"""

from __future__ import annotations

from collections.abc import Callable, Mapping
from typing import TYPE_CHECKING, Protocol

from PySide6.QtCore import QStandardPaths, Qt, Signal
from PySide6.QtGui import QFontDatabase, QHideEvent, QKeyEvent, QShowEvent
from PySide6.QtWidgets import QFileDialog, QHBoxLayout, QSplitter, QVBoxLayout, QWidget

from fitassist.errors import FitError
from fitassist.gui import theme
from fitassist.gui.behind import Behind, Watch
from fitassist.gui.fields import button, plain_label
from fitassist.gui.page_output import print_pages, write_out
from fitassist.gui.page_preview import PagePreview
from fitassist.gui.page_type import missing_letters, width_mm
from fitassist.gui.pdf_painter import pdf_bytes
from fitassist.gui.sheet_choices import SheetChoices
from fitassist.report.page import Page
from fitassist.report.sheets import NEWEST, PADDED, Wanted, pages_of, texts_of
from fitassist.report.twin import twin_json, twin_of
from fitassist.wording.sentences import sentence
from fitassist.wording.sheet_words import words

if TYPE_CHECKING:
    from fitassist.report.facts import Facts
    from fitassist.report.padding_facts import Padding


class SheetSource(Protocol):
    """Whose sheets they are."""

    def facts(self, newest: bool = False) -> Facts | None:
        """Return what is known, or None while nobody is chosen; may raise FitError."""

    def padding(self) -> Padding | None:
        """Return what is laid on the form, or None."""

    def padding_job(self) -> Callable[[Watch], object] | None:
        """Return what has to be worked out first, in a thread; None: nothing."""

    def take(self, worked_out: object) -> None:
        """Keep what the job has worked out."""

    def fronts(self) -> Mapping[str, float]:
        """Return the share of each line's girth before the plumb side line, where it is known."""


class SheetsPage(QWidget):
    """The list of sheets, what each is asked for, and its pages.

    Signals
    -------
    people_asked
        Nobody is chosen, and the user wants to choose.
    """

    people_asked = Signal()

    def __init__(self, source: SheetSource, unit: str, parent: QWidget | None = None) -> None:
        super().__init__(parent)
        self.setProperty("role", "page")
        self._source = source
        self._pages: list[Page] = []
        self._number = 0
        self._facts: Facts | None = None
        self._padding: Padding | None = None
        self._fronts: Mapping[str, float] = {}
        self._whose = ""
        self._behind = Behind(self)
        self._behind.done.connect(self._on_worked_out)
        self._behind.refused.connect(self._on_not_worked_out)
        self.choices = SheetChoices(unit)
        self.choices.changed.connect(self._on_choice)
        self.preview = PagePreview()
        self._said = plain_label(role="quiet", wraps=True)
        self._problem = plain_label(role="error", wraps=True)
        self._build()
        self._show_page()

    def _build(self) -> None:
        right = QWidget()
        column = QVBoxLayout(right)
        column.setContentsMargins(theme.STEP * 2, 0, 0, 0)
        column.setSpacing(theme.STEP)
        column.addLayout(self._build_bar())
        column.addWidget(self._problem)
        self.people_button = button(words("sheets_to_people"))
        self.people_button.clicked.connect(self.people_asked)
        column.addWidget(self.people_button, 0, Qt.AlignmentFlag.AlignLeft)
        column.addWidget(self.preview, 1)
        column.addLayout(self._build_foot())
        column.addWidget(self._said)
        column.addWidget(plain_label(words("sheets_copies"), "note", wraps=True))
        split = QSplitter(Qt.Orientation.Horizontal)
        split.setChildrenCollapsible(False)
        split.setHandleWidth(theme.STEP)
        split.addWidget(self.choices)
        split.addWidget(right)
        split.setStretchFactor(0, 2)
        split.setStretchFactor(1, 3)
        outer = QVBoxLayout(self)
        outer.setContentsMargins(*(theme.MARGIN,) * 4)
        outer.setSpacing(theme.STEP * 2)
        outer.addWidget(plain_label(words("sheets_heading"), "heading"))
        outer.addWidget(split, 1)

    def _build_bar(self) -> QHBoxLayout:
        bar = QHBoxLayout()
        bar.setSpacing(theme.STEP)
        self.before_button = button("‹", name=words("sheets_before"))
        self.after_button = button("›", name=words("sheets_after"))
        self.before_button.clicked.connect(lambda: self.turn_to(self._number - 1))
        self.after_button.clicked.connect(lambda: self.turn_to(self._number + 1))
        self.larger_button = button(words("sheets_larger"))
        self.larger_button.setCheckable(True)
        self.larger_button.toggled.connect(self._on_larger)
        self._which = plain_label(role="quiet")
        bar.addWidget(self.before_button)
        bar.addWidget(self.after_button)
        bar.addWidget(self._which, 1)
        bar.addWidget(self.larger_button)
        return bar

    def _build_foot(self) -> QHBoxLayout:
        self.save_button = button(words("sheets_save"), "primary")
        self.print_button = button(words("sheets_print"))
        self.data_button = button(words("sheets_data"), "link")
        self.data_button.setToolTip(words("sheets_data_why"))
        self.data_button.setAccessibleDescription(words("sheets_data_why"))
        self.save_button.clicked.connect(self._on_save)
        self.print_button.clicked.connect(self._on_print)
        self.data_button.clicked.connect(self._on_data)
        foot = QHBoxLayout()
        foot.setSpacing(theme.STEP)
        for made in (self.save_button, self.print_button, self.data_button):
            foot.addWidget(made)
        foot.addStretch(1)
        return foot

    # -- what is shown ------------------------------------------------------------------------

    def showEvent(self, event: QShowEvent) -> None:
        """Gather what the record tells now."""
        super().showEvent(event)
        self.refresh()

    def hideEvent(self, event: QHideEvent) -> None:
        """Work nothing out while nobody looks."""
        super().hideEvent(event)
        self._behind.stop()

    def keyPressEvent(self, event: QKeyEvent) -> None:
        """Scroll the page on the screen, or turn to another."""
        steps = {Qt.Key.Key_PageDown: 1, Qt.Key.Key_PageUp: -1}
        step = steps.get(Qt.Key(event.key()))
        if step is None:
            super().keyPressEvent(event)
            return
        bar = self.preview.verticalScrollBar()
        before = bar.value()
        self.preview.scroll_by(step)
        if bar.value() == before:
            self.turn_to(self._number + step)

    def set_unit(self, unit: str) -> None:
        """Follow the unit of the settings."""
        self.choices.set_unit(unit)
        if self.isVisible():
            self.refresh()

    def refresh(self) -> None:
        """Make the chosen sheet anew from the record."""
        key = self.choices.key
        self._said.setText("")
        try:
            self._facts = self._source.facts(key in NEWEST)
            self._fronts = self._source.fronts()
            if self._must_wait():
                return
            self._padding = self._source.padding() if key in PADDED else None
        except FitError as error:
            self._facts, self._padding = None, None
            if key != "blank":
                self._refuse(error)
                return
        self._take_whose()
        self._make()

    def _must_wait(self) -> bool:
        """Begin to work padding out where that was not done yet; return whether it is begun."""
        job = self._source.padding_job() if self.choices.key in PADDED else None
        if job is None:
            self._behind.stop()
            return False
        self._behind.start(job)
        self._pages = []
        self._problem.setText(words("sheets_planning"))
        self._show_page()
        return True

    def _on_worked_out(self, worked_out: object) -> None:
        self._source.take(worked_out)
        self.refresh()

    def _on_not_worked_out(self, error: FitError) -> None:
        """Say why there is no padding; a sheet that tells of more than padding is made without."""
        if self.choices.key == "templates":
            self._refuse(error)
            return
        self._padding = None
        self._take_whose()
        self._make()
        if self._pages:
            self._problem.setText(sentence(error, self.choices.unit))  # type: ignore[arg-type]
            self._problem.show()

    def _take_whose(self) -> None:
        whose = "" if self._facts is None else f"{self._facts.person}\n{self._facts.body.name}"
        if whose != self._whose:
            self._whose = whose
            self.choices.forget_body()
        if self._facts is not None:
            self.choices.show_facts(self._facts)

    def _make(self) -> None:
        try:
            self._pages = pages_of(
                self._wanted(), self._facts, self._padding, self._fronts, width_mm
            )
        except FitError as error:
            self._refuse(error)
            return
        self._problem.setText("")
        missing = missing_letters("".join(texts_of(self._pages)))
        if not QFontDatabase.families():
            self._problem.setText(words("no_fonts"))
        elif missing:
            self._problem.setText(words("missing_letters", letters=" ".join(missing[:40])))
        self._number = min(self._number, len(self._pages) - 1)
        self._show_page()

    def _wanted(self) -> Wanted:
        return self.choices.wanted()

    def _refuse(self, error: FitError) -> None:
        self._pages = []
        self._problem.setText(sentence(error, self.choices.unit))  # type: ignore[arg-type]
        self._show_page()
        self.people_button.setVisible(error.code == "sheet_nobody")

    def _show_page(self) -> None:
        there = bool(self._pages)
        for made in (self.save_button, self.print_button, self.larger_button):
            made.setEnabled(there)
        is_person = self.choices.key == "person"
        self.data_button.setVisible(is_person)
        self.data_button.setEnabled(there)
        self.people_button.setVisible(False)
        self._problem.setVisible(bool(self._problem.text()))
        self.before_button.setEnabled(there and self._number > 0)
        self.after_button.setEnabled(there and self._number < len(self._pages) - 1)
        if not there:
            self._which.setText("")
            self.preview.show_page(None)
            return
        title = words(f"sheet_{self.choices.key}")
        told = {"title": title, "number": self._number + 1, "pages": len(self._pages)}
        self._which.setText(words("page_of", number=told["number"], pages=told["pages"]))
        self.preview.show_page(self._pages[self._number], words("sheets_preview", **told))

    @property
    def pages(self) -> list[Page]:
        """The pages of the chosen sheet; none while it cannot be made."""
        return self._pages

    def problem(self) -> str:
        """Return what is said instead of a sheet, or beside it."""
        return self._problem.text()

    def said(self) -> str:
        """Return what is said of the last thing done."""
        return self._said.text()

    def turn_to(self, number: int) -> None:
        """Show a page, the first being 0."""
        self._number = max(0, min(number, len(self._pages) - 1))
        self._show_page()

    # -- what is done -------------------------------------------------------------------------

    def _on_choice(self, is_other: bool) -> None:
        if is_other:
            self._number = 0
            self._problem.setText("")
            self.refresh()
        else:
            self._said.setText("")
            self._make()

    def _on_larger(self, is_large: bool) -> None:
        self.larger_button.setText(words("sheets_whole" if is_large else "sheets_larger"))
        self.preview.show_large(is_large)

    def _file_name(self, title: str, ending: str, filters: str) -> str:
        """Ask where to; the name offered tells nobody's name."""
        folder = QStandardPaths.writableLocation(QStandardPaths.StandardLocation.DocumentsLocation)
        offered = f"{folder}/{words(f'sheets_file_{self.choices.key}')}{ending}"
        path, _filter = QFileDialog.getSaveFileName(self, title, offered, filters)
        if path and "." not in path.replace("\\", "/").rpartition("/")[2]:
            path += ending
        return path

    def _save(self, path: str, make: Callable[[], bytes]) -> None:
        if not path:
            return
        try:
            write_out(path, make())
        except FitError as error:
            self._said.setText(sentence(error))
            return
        name = path.replace("\\", "/").rpartition("/")[2]
        self._said.setText(words("sheets_saved", name=name))

    def _on_save(self) -> None:
        path = self._file_name(words("sheets_save_title"), ".pdf", words("sheets_pdf_filter"))
        self._save(path, lambda: pdf_bytes(self._pages, words(f"sheet_{self.choices.key}")))

    def _on_data(self) -> None:
        facts = self._facts
        if facts is None:
            return
        path = self._file_name(words("sheets_data_title"), ".json", words("sheets_json_filter"))
        is_blind = self._wanted().is_blind
        self._save(path, lambda: twin_json(twin_of(facts, self._padding, self._fronts, is_blind)))

    def _on_print(self) -> None:
        try:
            done = print_pages(self._pages, self, words(f"sheet_{self.choices.key}"))
        except FitError as error:
            self._said.setText(sentence(error))
            return
        self._said.setText(words("sheets_printed") if done else "")
