# SPDX-License-Identifier: MIT
"""Ctrl+C and the end of the desktop session close the window as its own button would."""

from __future__ import annotations

import signal
import socket
from collections.abc import Iterator
from contextlib import contextmanager

from PySide6.QtCore import QCoreApplication, QSocketNotifier

SIGNALS = (signal.SIGINT, signal.SIGTERM)


@contextmanager
def quit_on_signals(app: QCoreApplication) -> Iterator[None]:
    """Let signals end the event loop; without this, Python hears them only after the next click."""
    here, there = socket.socketpair()
    for end in (here, there):
        end.setblocking(False)
    # Waking Qt through a socket lets the interpreter run the handler.
    notifier = QSocketNotifier(here.fileno(), QSocketNotifier.Type.Read)
    notifier.activated.connect(lambda: here.recv(64))
    before = [signal.signal(number, lambda _number, _frame: app.quit()) for number in SIGNALS]
    waking = signal.set_wakeup_fd(there.fileno(), warn_on_full_buffer=False)
    try:
        yield
    finally:
        signal.set_wakeup_fd(waking)
        for number, handler in zip(SIGNALS, before, strict=True):
            signal.signal(number, handler)
        notifier.setEnabled(False)
        notifier.deleteLater()
        here.close()
        there.close()
