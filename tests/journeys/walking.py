# SPDX-License-Identifier: MIT
"""Going through every place of a window, whatever places there are, and what to look at there."""

from __future__ import annotations

from collections.abc import Iterator

from PySide6.QtCore import QPoint, QRect, Qt
from PySide6.QtGui import QAccessible
from PySide6.QtWidgets import (
    QAbstractButton,
    QAbstractScrollArea,
    QApplication,
    QComboBox,
    QLabel,
    QLineEdit,
    QScrollArea,
    QWidget,
)

from fitassist.app.workroom import Workroom
from fitassist.gui.folds import Fold
from fitassist.gui.main_window import PLACES, MainWindow

NARROW, LOW = 1366, 768  # a small laptop
MOST_TABS = 500
# Roles that say nothing to somebody who cannot see the thing.
EMPTY_ROLES = {QAccessible.Role.NoRole, QAccessible.Role.Client, QAccessible.Role.Window}


def places(room: Workroom) -> Iterator[str]:
    """Go to each place that can be visited, and give its name once it is shown."""
    for place in PLACES:
        button = room.window.place_button(place)
        if not button.isVisibleTo(room.window) or not button.isEnabled():
            continue
        room.window.go_to(place)
        QApplication.processEvents()
        assert room.window.place == place
        yield place


def unfold(window: QWidget) -> None:
    """Open everything on the page that is folded."""
    for fold in window.findChildren(Fold):
        if fold.isVisible():
            fold.set_open(True)


def settle() -> None:
    """Let layouts that follow each other come to rest."""
    for _ in range(6):
        QApplication.sendPostedEvents()
        QApplication.processEvents()


def name_of(widget: QWidget) -> str:
    """Return what a screen reader says for a widget."""
    said = QAccessible.queryAccessibleInterface(widget)
    return said.text(QAccessible.Text.Name).strip() if said is not None else ""


def focusables(window: QWidget) -> list[QWidget]:
    """Return what the Tab key may reach, as far as it is shown."""
    return [
        child
        for child in window.findChildren(QWidget)
        if child.isVisible()
        and child.isEnabled()
        and child.focusPolicy() & Qt.FocusPolicy.TabFocus
        and child.focusProxy() is None
    ]


def described(widget: QWidget) -> str:
    """Return which widget it is, for a failing test."""
    chain = []
    here: QWidget | None = widget
    while here is not None and not isinstance(here, MainWindow):
        chain.append(type(here).__name__)
        here = here.parentWidget()
    return f"{name_of(widget)!r} {' < '.join(chain[:5])}"


def unnamed(window: QWidget) -> list[str]:
    """Return what the Tab key reaches and a screen reader could not name."""
    return [described(child) for child in focusables(window) if not name_of(child)]


def without_role(window: QWidget) -> list[str]:
    """Return what has the focus but no role that says what it is."""
    found = []
    for child in focusables(window):
        said = QAccessible.queryAccessibleInterface(child)
        if said is None or said.role() in EMPTY_ROLES:
            found.append(described(child))
    return found


def wrong_state(window: QWidget) -> list[str]:
    """Return what a screen reader would tell otherwise than it is: focusable, checked, read-only.

    A label of a picture is told as a picture, so only what can be pressed or typed into is looked
    at.
    """
    found = []
    for child in focusables(window):
        said = QAccessible.queryAccessibleInterface(child)
        if said is None:
            continue
        state = said.state()
        is_right = bool(state.focusable)
        if isinstance(child, QAbstractButton) and child.isCheckable():
            is_right = is_right and bool(state.checked) == child.isChecked()
        if isinstance(child, QLineEdit):
            is_right = is_right and bool(state.readOnly) == child.isReadOnly()
        if not is_right:
            found.append(described(child))
    return found


def tab_round(qtbot, window: QWidget, *, back: bool = False) -> tuple[list[QWidget], bool]:
    """Press Tab until the round is complete; return what had the focus, and whether it closed.

    It is complete where it began; what a page shows for the field in use may change meanwhile.
    """
    key = Qt.Key.Key_Backtab if back else Qt.Key.Key_Tab
    reached: list[QWidget] = []
    start = QApplication.focusWidget()
    for _ in range(MOST_TABS):
        before = QApplication.focusWidget()
        assert before is not None, "the focus was lost"
        qtbot.keyClick(before, key)
        now = QApplication.focusWidget()
        if now is None:
            return reached, False
        if now is start:
            return [*reached, now], True
        if now in reached:  # a shorter round within: whoever came in does not get out
            return reached, False
        reached.append(now)
    return reached, False


def missed(window: QWidget, reached: list[QWidget]) -> list[str]:
    """Return what could have the focus but never had; of exclusive choices one is enough."""
    found = []
    groups = {
        button.group()
        for button in reached
        if isinstance(button, QAbstractButton) and button.group() is not None
    }
    for child in focusables(window):
        if child in reached:
            continue
        if isinstance(child, QAbstractButton) and child.group() in groups:
            continue  # the arrow keys go on from the one that has been chosen
        if isinstance(child, QAbstractScrollArea) or isinstance(child.parent(), QComboBox):
            continue
        found.append(described(child))
    return found


def cut_off(window: QWidget) -> list[str]:
    """Return texts that got less room than they need, or lie outside what can be scrolled to."""
    found = []
    for label in window.findChildren(QLabel):
        if not label.isVisible() or not label.text() or not label.pixmap().isNull():
            continue
        if _is_shortened(label):
            continue
        need = (
            label.heightForWidth(label.width()) if label.wordWrap() else label.sizeHint().height()
        )
        least = _longest_word(label) if label.wordWrap() else label.sizeHint().width()
        if label.width() < least or label.height() < need or _is_outside(label):
            found.append(f"{label.text()!r} {_sizes(label)} needs {least}x{need}")
    for button in window.findChildren(QAbstractButton):
        if not button.isVisible() or not button.text():
            continue
        hint = button.minimumSizeHint()
        small = button.width() < hint.width() or button.height() < hint.height()
        if small or _is_outside(button):
            found.append(f"{button.text()!r} {_sizes(button)} needs {hint.toTuple()}")
    for field in [*window.findChildren(QLineEdit), *window.findChildren(QComboBox)]:
        least = field.fontMetrics().height() + 4  # within the frame; icons may be smaller
        if field.isVisible() and (field.height() < least or _is_outside(field)):
            found.append(f"{described(field)} {_sizes(field)}")
    return found


def _is_shortened(label: QLabel) -> bool:
    """Whether a name was shortened on purpose; all of it is its accessible name."""
    return "…" in label.text() and label.accessibleName() not in ("", label.text())


def _longest_word(label: QLabel) -> int:
    metrics = label.fontMetrics()
    margins = label.contentsMargins()
    words = max((metrics.horizontalAdvance(word) for word in label.text().split()), default=0)
    return words + margins.left() + margins.right()


def _sizes(widget: QWidget) -> str:
    return f"has {widget.width()}x{widget.height()}"


def _is_outside(widget: QWidget) -> bool:
    """Whether a part of a widget can neither be seen nor scrolled to."""
    here: QWidget | None = widget
    while here is not None and not here.isWindow():
        above = here.parentWidget()
        if above is None:
            return False
        if isinstance(above.parentWidget(), QScrollArea):  # its viewport: the rest can be scrolled
            return not here.rect().contains(_within(widget, here))
        if not above.rect().contains(_within(widget, above)):
            return True
        here = above
    return False


def _within(widget: QWidget, above: QWidget) -> QRect:
    return QRect(widget.mapTo(above, QPoint(0, 0)), widget.size())
