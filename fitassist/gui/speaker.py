# SPDX-License-Identifier: MIT
"""A voice for the steps, where the computer has one: Qt's, the system's own command, or none.

A voice is never needed: without one the steps are silent, and the page says so once.
"""

from __future__ import annotations

import importlib
import shutil
from collections.abc import Callable
from typing import Any, Final, Protocol

from PySide6.QtCore import QObject, QProcess

# Programs that speak their arguments; "--" ends the options, so that no text can become one.
COMMANDS: Final = (("spd-say", ("--",)), ("espeak-ng", ("--",)), ("say", ("--",)))
END_MS = 200


class Speaker(Protocol):
    """Something that reads aloud."""

    @property
    def has_voice(self) -> bool:
        """Whether anything can be heard."""

    def say(self, text: str) -> None:
        """Read a text, in place of what is being read."""

    def stop(self) -> None:
        """Fall silent."""


class Silent:
    """Where the computer has no voice."""

    has_voice = False

    def say(self, text: str) -> None:
        """Say nothing."""

    def stop(self) -> None:
        """Stay silent."""


class CommandSpeaker(QObject):
    """Hands each text to a program of the system as one argument; no shell is between."""

    has_voice = True

    def __init__(self, program: str, options: tuple[str, ...], parent: QObject | None) -> None:
        super().__init__(parent)
        self._program = program
        self._options = options
        self._process: QProcess | None = None

    def command(self, text: str) -> tuple[str, list[str]]:
        """Return the program and the arguments that say a text."""
        return self._program, [*self._options, text]

    def say(self, text: str) -> None:
        """Read a text, in place of what is being read."""
        self.stop()
        program, arguments = self.command(text)
        self._process = QProcess(self)
        self._process.setStandardOutputFile(QProcess.nullDevice())
        self._process.setStandardErrorFile(QProcess.nullDevice())
        self._process.start(program, arguments)

    def stop(self) -> None:
        """Fall silent."""
        process, self._process = self._process, None
        if process is None:
            return
        if process.state() != QProcess.ProcessState.NotRunning:
            process.kill()
            process.waitForFinished(END_MS)
        process.deleteLater()


class QtSpeaker(QObject):
    """The voice of Qt, where that part of it is installed."""

    def __init__(self, engine: Any, parent: QObject | None) -> None:
        super().__init__(parent)
        self._engine = engine

    @property
    def has_voice(self) -> bool:
        """Whether the engine has not failed."""
        return str(self._engine.state()).rpartition(".")[2] != "Error"

    def say(self, text: str) -> None:
        """Read a text, in place of what is being read."""
        self._engine.stop()
        self._engine.say(text)

    def stop(self) -> None:
        """Fall silent."""
        self._engine.stop()


def make_speaker(
    parent: QObject | None = None,
    *,
    load: Callable[[str], Any] = importlib.import_module,
    find: Callable[[str], str | None] = shutil.which,
) -> Speaker:
    """Return the best voice there is, a silent one if there is none.

    Parameters
    ----------
    load, find
        How a module is imported and a program is looked for; tests bring their own.
    """
    try:
        speaker = QtSpeaker(load("PySide6.QtTextToSpeech").QTextToSpeech(parent), parent)
        if speaker.has_voice:
            return speaker
    except (ImportError, AttributeError, RuntimeError):  # not installed, or no sound on this system
        pass
    for program, options in COMMANDS:
        path = find(program)
        if path:
            return CommandSpeaker(path, options, parent)
    return Silent()
