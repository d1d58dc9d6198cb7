# SPDX-License-Identifier: MIT
"""What nobody foresaw: logged without names or lengths, said once in a window, never fatal.

Every answer is on disk before it shows, so going on is safe.
"""

from __future__ import annotations

import logging
import sys
import threading
from types import TracebackType

from PySide6.QtCore import QObject, Qt, Signal, qVersion
from PySide6.QtGui import QGuiApplication
from PySide6.QtWidgets import QApplication, QDialog, QHBoxLayout, QVBoxLayout, QWidget

from fitassist import __version__
from fitassist.gui import theme
from fitassist.gui.fields import button, plain_label
from fitassist.log import describe_error, platform_facts
from fitassist.wording.program import say

log = logging.getLogger(__name__)


class FailureDialog(QDialog):
    """Says that something went wrong and offers the details, which can be shown to anybody."""

    def __init__(self, details: str, parent: QWidget | None = None) -> None:
        super().__init__(parent)
        self.setWindowTitle(say("wrong"))
        self.setAttribute(Qt.WidgetAttribute.WA_DeleteOnClose)
        self._details = details
        self.copy_button = button(say("copy_details"))
        self.copy_button.clicked.connect(self._copy)
        self.go_on_button = button(say("wrong_go_on"), "primary")
        self.go_on_button.clicked.connect(self.accept)
        text = plain_label(say("wrong_text"), wraps=True)
        text.setMinimumWidth(theme.wide(480))
        row = QHBoxLayout()
        row.addWidget(self.copy_button)
        row.addStretch(1)
        row.addWidget(self.go_on_button)
        column = QVBoxLayout(self)
        column.setContentsMargins(*(theme.MARGIN,) * 4)
        column.setSpacing(theme.STEP * 2)
        column.addWidget(plain_label(say("wrong"), "heading"))
        column.addWidget(text)
        column.addWidget(plain_label(say("wrong_details"), "note", wraps=True))
        column.addLayout(row)
        self.go_on_button.setDefault(True)
        self.go_on_button.setFocus()

    def _copy(self) -> None:
        QGuiApplication.clipboard().setText(self._details)


class Failures(QObject):
    """Takes what no code caught, from any thread, until ``remove``."""

    _met = Signal(str)

    def __init__(self, parent: QObject | None = None) -> None:
        super().__init__(parent)
        self._dialog: FailureDialog | None = None
        self._hooks = (sys.excepthook, threading.excepthook)
        # Widgets may only be made in the thread of the window, whatever thread it went wrong in.
        self._met.connect(self._tell, Qt.ConnectionType.QueuedConnection)

    def install(self) -> None:
        """Begin to take what goes wrong; a slot of Qt reports to the same hook."""
        self._hooks = (sys.excepthook, threading.excepthook)
        sys.excepthook = self._on_exception
        threading.excepthook = self._on_thread

    def remove(self) -> None:
        """Leave it to those who took it before."""
        sys.excepthook, threading.excepthook = self._hooks

    @property
    def dialog(self) -> FailureDialog | None:
        """The window that is open about it, if any."""
        return self._dialog

    def _on_exception(
        self, kind: type[BaseException], error: BaseException, trace: TracebackType | None
    ) -> None:
        if not issubclass(kind, Exception):  # Ctrl+C and the like
            self._hooks[0](kind, error, trace)
            return
        self._note(error.with_traceback(trace))

    def _on_thread(self, met: threading.ExceptHookArgs) -> None:
        if met.exc_value is not None and isinstance(met.exc_value, Exception):
            self._note(met.exc_value)

    def _note(self, error: BaseException) -> None:
        try:
            log.error("unforeseen", exc_info=error)
            self._met.emit(details_of(error))
        except RuntimeError:  # the window has gone already
            return

    def _tell(self, details: str) -> None:
        if self._dialog is not None:  # one at a time: the first is what matters
            return
        self._dialog = FailureDialog(details, QApplication.activeWindow())
        self._dialog.finished.connect(self._on_closed)
        self._dialog.open()

    def _on_closed(self) -> None:
        self._dialog = None


def details_of(error: BaseException) -> str:
    """Return what somebody who looks into it needs to know, without names and lengths."""
    facts = {"fitassist": __version__, "qt": qVersion(), **platform_facts()}
    return " ".join(f"{k}={v}" for k, v in facts.items()) + "\n" + describe_error(error)
