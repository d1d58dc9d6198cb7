# SPDX-License-Identifier: MIT
"""Small real classes in place of files: a record, a library, and a disk that can be full."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

from PySide6.QtCore import Qt
from PySide6.QtGui import QAccessible
from PySide6.QtWidgets import QLabel, QPushButton, QWidget

from fitassist.domain.form import Form
from fitassist.errors import BadFile, FitError, StorageFailed
from fitassist.session.events import Event, PersonNamed, Recorded


@dataclass(frozen=True)
class FakeEntry:
    id: str
    name: str
    problem: FitError | None = None
    has_open_fitting: bool = False
    is_finished: bool = False
    tags: tuple[str, ...] = ()
    archived: bool = False
    last_measured: str = ""
    last_fitted: str = ""
    copies: tuple[str, ...] = ()
    holds: tuple[str, ...] = ()


@dataclass(frozen=True)
class FakeListing:
    people: tuple[FakeEntry, ...]
    unread: tuple[str, ...] = ()


class FakeRecord:
    """Keeps events in memory; refuses them while the disk is full."""

    def __init__(self, name: str = "Anna", person_id: str = "a") -> None:
        self.id = person_id
        self.events: tuple[Recorded, ...] = ()
        self.read_only = False
        self.disk_full = False
        self.is_closed = False
        self.append([PersonNamed(name=name)])

    def append(self, events: Sequence[Event]) -> Sequence[Recorded]:
        if self.disk_full:
            raise StorageFailed("disk_full")
        first = len(self.events) + 1
        new = tuple(Recorded(seq=first + i, event=event) for i, event in enumerate(events))
        self.events = (*self.events, *new)
        return new

    def close(self) -> None:
        self.is_closed = True


class FakeLibrary:
    """People and forms in memory."""

    def __init__(self, people: Sequence[FakeEntry] = ()) -> None:
        self.entries = list(people)
        self.kept_forms: dict[str, Form] = {}
        self.disk_full = False

    def people(self) -> Sequence[FakeEntry]:
        return tuple(self.entries)

    def listing(self) -> FakeListing:
        return FakeListing(tuple(self.entries))

    def read_on(self, _seconds: float) -> FakeListing:
        return self.listing()

    def keep_index(self) -> None:
        """Nothing is kept."""

    def reminder(self, _last_measured: str) -> str:
        return ""

    def create_person(self, name: str) -> FakeRecord:
        record = FakeRecord(name, f"p{len(self.entries)}")
        self.entries.append(FakeEntry(record.id, name))
        return record

    def open_person(
        self, person_id: str, *, read_only: bool = False, take_over: bool = False
    ) -> FakeRecord:
        found = next(e for e in self.entries if e.id == person_id)
        return FakeRecord(found.name, person_id)

    def erase_person(self, person_id: str) -> None:
        if self.disk_full:
            raise StorageFailed("write_failed")
        self.entries = [e for e in self.entries if e.id != person_id]

    def forms(self) -> Sequence[FakeEntry]:
        return tuple(FakeEntry(i, form.name) for i, form in self.kept_forms.items())

    def load_form(self, form_id: str) -> Form:
        if form_id not in self.kept_forms:
            raise BadFile("not_found", path=form_id)
        return self.kept_forms[form_id]

    def save_form(self, form_id: str, form: Form) -> str:
        if self.disk_full:
            raise StorageFailed("disk_full")
        form_id = form_id or f"form-{len(self.kept_forms)}"
        self.kept_forms[form_id] = form
        return form_id


def show(qtbot, widget: QWidget, width: int = 1366, height: int = 768) -> QWidget:
    """Show a page at a size, as the active window."""
    qtbot.addWidget(widget)
    widget.resize(width, height)
    widget.show()
    qtbot.waitExposed(widget)
    widget.activateWindow()
    qtbot.waitUntil(widget.isActiveWindow)
    return widget


def seen(widget: QWidget) -> str:
    """Return every text that can be seen, one a line."""
    return "\n".join(label.text() for label in widget.findChildren(QLabel) if label.isVisible())


def unnamed(widget: QWidget) -> list[QWidget]:
    """Return what the Tab key reaches but a screen reader could not name."""
    return [
        child
        for child in widget.findChildren(QWidget)
        if child.isVisible()
        and child.focusPolicy() & Qt.FocusPolicy.TabFocus
        and not _accessible_name(child)
    ]


def guessing_labels(widget: QWidget) -> list[QLabel]:
    """Return labels that would take a text for markup."""
    return [
        label
        for label in widget.findChildren(QLabel)
        if label.textFormat() != Qt.TextFormat.PlainText
    ]


def reached_by_tab(qtbot, widget: QWidget, most: int = 300) -> list[QWidget]:
    """Press Tab until the round is complete and return what had the focus."""
    window = widget.window()
    reached: list[QWidget] = []
    for _ in range(most):
        qtbot.keyClick(window.focusWidget() or window, Qt.Key.Key_Tab)
        now = window.focusWidget()
        if now is None or now in reached:
            break
        reached.append(now)
    return reached


def cut_off(widget: QWidget) -> list[str]:
    """Return texts of labels and buttons that got less room than they need."""
    found = []
    for label in widget.findChildren(QLabel):
        if not label.isVisible() or not label.text():
            continue
        if label.wordWrap():
            if label.height() < label.heightForWidth(label.width()):
                found.append(label.text())
        elif label.width() < label.sizeHint().width():
            found.append(label.text())
    for button in widget.findChildren(QPushButton):
        hint = button.minimumSizeHint()
        if button.isVisible() and (button.width(), button.height()) < (hint.width(), hint.height()):
            found.append(button.text())
    return found


def _accessible_name(widget: QWidget) -> str:
    said = QAccessible.queryAccessibleInterface(widget)
    return said.text(QAccessible.Text.Name) if said is not None else "no interface"
