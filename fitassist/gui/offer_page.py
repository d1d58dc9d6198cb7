# SPDX-License-Identifier: MIT
"""Forms on offer beside each other: for whom, which is best and why, and the fewest for all."""

from __future__ import annotations

from collections.abc import Sequence

from PySide6.QtCore import QRect, QSize, Qt, QTimer, Signal
from PySide6.QtGui import QKeyEvent, QKeySequence, QResizeEvent, QShortcut
from PySide6.QtWidgets import (
    QFileDialog,
    QHBoxLayout,
    QListWidget,
    QListWidgetItem,
    QStackedWidget,
    QVBoxLayout,
    QWidget,
)

from fitassist.choosing.candidate import Candidate
from fitassist.choosing.covering import fewest
from fitassist.choosing.judging import Judged, ranked
from fitassist.domain.body import Body
from fitassist.domain.units import AnyUnit
from fitassist.errors import FitError
from fitassist.gui import theme
from fitassist.gui.answer_panel import leaves
from fitassist.gui.fields import button, plain_label
from fitassist.gui.folds import scrolling
from fitassist.gui.offer_editor import OfferEditor
from fitassist.gui.offer_ports import OfferDesk
from fitassist.gui.offer_result import OfferResult
from fitassist.gui.offer_whom import OfferWhom
from fitassist.wording.language import capital
from fitassist.wording.lengths import kept_together
from fitassist.wording.offer_words import (
    brought_in_text,
    complaint_text,
    cover_text,
    name_of,
    reason_of,
    say,
    served_text,
)
from fitassist.wording.sentences import sentence

WHOM_WIDTH = 250
LIST_LEAST = 300
MOST_TOLD = 40  # cells that could not be understood; the rest are counted
MOST_COVERED = 40  # forms; beyond them the fewest could take longer than anybody waits
JUDGE_MS = 120  # a few ticks one after the other are judged once


class _OfferList(QListWidget):
    """Rows as high as their words need at the width there is."""

    def __init__(self) -> None:
        super().__init__()
        self.setAccessibleName(say("offers"))
        self.setWordWrap(True)
        self.setSpacing(2)
        self.setMinimumWidth(LIST_LEAST)
        self.setHorizontalScrollBarPolicy(Qt.ScrollBarPolicy.ScrollBarAlwaysOff)

    def fit_rows(self) -> None:
        """Give each row the height of its words; Qt leaves the padding out of its own account."""
        width = self.viewport().width() - 6 * theme.STEP
        for row in range(self.count()):
            item = self.item(row)
            if item is not None and width > 0:
                room = QRect(0, 0, width, 10_000)
                words = int(Qt.TextFlag.TextWordWrap)
                high = self.fontMetrics().boundingRect(room, words, item.text()).height()
                item.setSizeHint(QSize(0, high + 2 * theme.STEP))

    def resizeEvent(self, event: QResizeEvent) -> None:
        """Fit the rows to another width."""
        super().resizeEvent(event)
        if event.size().width() != event.oldSize().width():
            self.fit_rows()


class OfferPage(QWidget):
    """Compares forms on offer for the bodies that are ticked.

    Signals
    -------
    left
        Back to one's own forms.
    """

    left = Signal()

    def __init__(self, desk: OfferDesk, parent: QWidget | None = None) -> None:
        super().__init__(parent)
        self.setProperty("role", "page")
        self.setAttribute(Qt.WidgetAttribute.WA_StyledBackground, True)
        self._desk = desk
        self._offers: list[Candidate] = []
        self._own: tuple[Candidate, ...] = ()
        self._judged: tuple[Judged, ...] = ()
        self._changed: int | None = None  # place of the form that is being changed
        self._removed: tuple[int, Candidate] | None = None
        self._later = QTimer(self)
        self._later.setSingleShot(True)
        self._later.setInterval(JUDGE_MS)
        self._later.timeout.connect(self.judge)
        self.whom = OfferWhom(desk)
        self.whom.changed.connect(self._later.start)
        self.whom.failed.connect(self._fail)
        self.result = OfferResult()
        self.editor = OfferEditor(desk.unit)
        self.editor.kept.connect(self._on_kept)
        self.editor.left.connect(self._on_left)
        self._stack = QStackedWidget()
        self._stack.addWidget(self._build_compare())
        self._stack.addWidget(self.editor)
        column = QVBoxLayout(self)
        column.setContentsMargins(*(theme.MARGIN,) * 4)
        column.setSpacing(theme.STEP)
        column.addLayout(self._top())
        column.addWidget(plain_label(say("why"), "quiet", wraps=True))
        column.addWidget(self._stack, 1)

    # -- building -----------------------------------------------------------------------------

    def _top(self) -> QHBoxLayout:
        self.back = button(say("back"), "link")
        self.back.clicked.connect(self.left)
        row = QHBoxLayout()
        row.addWidget(plain_label(say("heading"), "heading"))
        row.addStretch(1)
        row.addWidget(self.back)
        return row

    def _build_compare(self) -> QWidget:
        compare = QWidget()
        row = QHBoxLayout(compare)
        row.setContentsMargins(0, 0, 0, 0)
        row.setSpacing(theme.MARGIN)
        theme.exactly(self.whom, WHOM_WIDTH)
        row.addWidget(self.whom)
        row.addLayout(self._build_list(), 2)
        row.addWidget(scrolling(self.result), 4)
        return scrolling(compare)

    def _build_list(self) -> QVBoxLayout:
        self.list = _OfferList()
        self.list.currentRowChanged.connect(self._on_row)
        self.list.itemActivated.connect(lambda _item: self._change())
        delete = QShortcut(QKeySequence(Qt.Key.Key_Delete), self.list)
        delete.setContext(Qt.ShortcutContext.WidgetShortcut)
        delete.activated.connect(self._remove)
        self._empty = plain_label(say("none"), "quiet", wraps=True)
        self._said = plain_label(role="quiet", wraps=True)
        self.put_back = button(say("put_back"), "link")
        self.put_back.clicked.connect(self._put_back)
        self.go_on = button(say("editor.go_on"), "link")
        self.go_on.clicked.connect(lambda: self._stack.setCurrentIndex(1))
        self.add = button(say("add"), "primary")
        self.add.clicked.connect(self._begin)
        self.change = button(say("change"))
        self.change.clicked.connect(self._change)
        self.remove = button(say("remove"))
        self.remove.clicked.connect(self._remove)
        self.bring_in = button(say("bring_in"), "link")
        self.bring_in.clicked.connect(self._choose_table)
        self._cover_heading = plain_label(say("cover.heading"), "label")
        self._cover = plain_label(wraps=True)
        buttons = QHBoxLayout()
        buttons.setSpacing(theme.STEP)
        for widget in (self.add, self.change, self.remove):
            buttons.addWidget(widget)
        buttons.addStretch(1)
        column = QVBoxLayout()
        column.setSpacing(theme.STEP)
        column.addWidget(plain_label(say("offers"), "label"))
        column.addWidget(self._empty)
        column.addWidget(self.list, 1)
        column.addLayout(buttons)
        column.addWidget(self.bring_in, 0, Qt.AlignmentFlag.AlignLeft)
        column.addWidget(self._said)
        column.addWidget(self.put_back, 0, Qt.AlignmentFlag.AlignLeft)
        column.addWidget(self.go_on, 0, Qt.AlignmentFlag.AlignLeft)
        column.addWidget(self._cover_heading)
        column.addWidget(self._cover)
        return column

    # -- what is shown ------------------------------------------------------------------------

    def visit(self) -> None:
        """Read people and forms anew; what was ticked stays ticked."""
        self._tell("")
        try:
            self._offers = list(self._desk.offers())
        except FitError as error:
            self._fail(error)
        self._own = self._desk.own()
        self.whom.reload()
        self._on_left()
        self.set_unit(self._desk.unit)
        (self.whom if self._offers else self.add).setFocus(Qt.FocusReason.OtherFocusReason)

    def set_unit(self, unit: AnyUnit) -> None:
        """Say and read lengths in another unit."""
        self.editor.set_unit(unit)
        self.whom.set_unit(unit)
        self.judge()

    @property
    def judged(self) -> tuple[Judged, ...]:
        """The forms as they are ranked."""
        return self._judged

    def said(self) -> str:
        """Return what is said under the list."""
        return self._said.text()

    def cover(self) -> str:
        """Return what is said of the fewest forms."""
        return self._cover.text()

    def judge(self) -> None:
        """Rank all forms for those who are ticked."""
        self._later.stop()
        own = self._own if self.whom.with_own() else ()
        bodies = self.whom.bodies()
        # With the first body the order begins to mean something: the best is shown then.
        had_bodies = bool(self._judged and self._judged[0].bodies)
        kept = self._current_candidate() if had_bodies else None
        self._judged = ranked([*self._offers, *own], bodies, self.whom.needs())
        self.list.blockSignals(True)
        self.list.clear()
        for number, one in enumerate(self._judged, start=1):
            self.list.addItem(QListWidgetItem(self._row_text(number, one, bool(bodies))))
        self.list.blockSignals(False)
        self.list.fit_rows()
        row = next((i for i, one in enumerate(self._judged) if one.candidate is kept), 0)
        self.list.setCurrentRow(row if self._judged else -1)
        self._on_row(self.list.currentRow())
        self._empty.setVisible(not self._judged)
        self.list.setVisible(bool(self._judged))
        self._show_cover(bodies)

    def _row_text(self, number: int, one: Judged, is_for_somebody: bool) -> str:
        name = say("place", number=number, name=name_of(one.candidate, self._is_own(one.candidate)))
        if not is_for_somebody:
            return name
        many = f"{capital(served_text(one))}. " if len(one.bodies) > 1 else ""
        return kept_together(f"{name}\n{many}{reason_of(one, self._desk.unit)}")

    def _is_own(self, candidate: Candidate) -> bool:
        return any(candidate is one for one in self._own)

    def _current_candidate(self) -> Candidate | None:
        row = self.list.currentRow()
        shown = self.result.judged
        return shown.candidate if shown is not None and row >= 0 else None

    def _on_row(self, row: int) -> None:
        one = self._judged[row] if 0 <= row < len(self._judged) else None
        self.result.show_judged(one, self._desk.unit)
        is_offer = one is not None and not self._is_own(one.candidate)
        self.change.setEnabled(is_offer)
        self.remove.setEnabled(is_offer)

    def _show_cover(self, bodies: Sequence[Body]) -> None:
        able = [one for one in self._judged if one.served]
        said: tuple[str, ...] = ()
        if len(bodies) > 1 and self._judged:
            if len(able) > MOST_COVERED:
                said = (say("cover.many", most=MOST_COVERED),)
            else:
                names = [name_of(o.candidate, self._is_own(o.candidate)) for o in self._judged]
                found = fewest(self._judged)
                said = cover_text(found, names, [body.name for body in bodies])
        self._cover_heading.setVisible(bool(said))
        self._cover.setText("\n".join(said))
        self._cover.setVisible(bool(said))

    def _show_list(self) -> None:
        self._stack.setCurrentIndex(0)
        self.list.setFocus(Qt.FocusReason.OtherFocusReason)

    def _on_left(self) -> None:
        is_unfinished = self._is_entering() and self.editor.is_changed
        self._show_list()
        if is_unfinished:
            self._tell(say("editor.unfinished"))
            self.go_on.show()

    def _is_entering(self) -> bool:
        return self._stack.currentIndex() == 1

    # -- what is done -------------------------------------------------------------------------

    def _begin(self) -> None:
        self._changed = None
        self._stack.setCurrentIndex(1)
        self.editor.begin(None, self._desk.unit)

    def _change(self) -> None:
        candidate = self._current_candidate()
        place = next((i for i, one in enumerate(self._offers) if one is candidate), None)
        if place is not None:
            self._changed = place
            self._stack.setCurrentIndex(1)
            self.editor.begin(self._offers[place], self._desk.unit)

    def _on_kept(self, candidate: Candidate) -> None:
        offers = list(self._offers)
        if self._changed is None:
            offers.append(candidate)
        else:
            offers[self._changed] = candidate
        if self._keep(offers):
            self._tell("")
            self._show_list()
            self.judge()
            self._choose(candidate)

    def _remove(self) -> None:
        candidate = self._current_candidate()
        place = next((i for i, one in enumerate(self._offers) if one is candidate), None)
        if place is None or candidate is None:
            return
        if self._keep([one for one in self._offers if one is not candidate]):
            self._tell(say("removed", name=candidate.name))
            self._removed = (place, candidate)
            self.put_back.show()
            self.judge()

    def _put_back(self) -> None:
        if self._removed is None:
            return
        place, candidate = self._removed
        if self._keep([*self._offers[:place], candidate, *self._offers[place:]]):
            self._tell("")
            self.judge()
            self._choose(candidate)

    def _choose(self, candidate: Candidate) -> None:
        row = next((i for i, one in enumerate(self._judged) if one.candidate is candidate), -1)
        self.list.setCurrentRow(row)
        self.list.setFocus(Qt.FocusReason.OtherFocusReason)

    def _choose_table(self) -> None:
        path, _kind = QFileDialog.getOpenFileName(self, say("bring_in"), "", say("file_kinds"))
        if path:
            self.open_table(path)

    def open_table(self, path: str) -> None:
        """Bring in the forms of a table, and say what of it could not be understood."""
        try:
            table = self._desk.read_table(path)
        except FitError as error:
            self._fail(error)
            return
        if table.candidates and not self._keep([*self._offers, *table.candidates]):
            return
        said = [brought_in_text(len(table.candidates), table.passed_over)]
        said += map(complaint_text, table.complaints[:MOST_TOLD])
        if len(table.complaints) > MOST_TOLD:
            said.append(say("complaints.more", n=len(table.complaints) - MOST_TOLD))
        self._tell("\n".join(said))
        self.judge()

    def _keep(self, offers: list[Candidate]) -> bool:
        try:
            self._desk.keep(offers)
        except FitError as error:
            self._fail(error)
            return False
        self._offers = offers
        return True

    def _fail(self, error: FitError) -> None:
        tell = self.editor.tell if self._is_entering() else self._tell
        tell(sentence(error, self._desk.unit))

    def _tell(self, text: str) -> None:
        self._removed = None
        self.put_back.hide()
        self.go_on.hide()
        self._said.setText(text)
        self._said.setVisible(bool(text))

    def keyPressEvent(self, event: QKeyEvent) -> None:
        """Go back with Escape."""
        if not leaves(event, self.left):
            super().keyPressEvent(event)
