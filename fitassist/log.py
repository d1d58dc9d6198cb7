# SPDX-License-Identifier: MIT
"""A rotating log that can be shown to anybody: what happened where, never whose or how much.

Only the fixed words of a message are written, not what would be filled in, and of an error only its
kind, its code and the places in the program it came through.
"""

from __future__ import annotations

import logging
import os
import sys
import traceback
from io import TextIOWrapper
from logging.handlers import RotatingFileHandler
from pathlib import Path, PurePath

from fitassist.errors import FitError

FILE_NAME = "fitassist.log"
MOST_BYTES = 200_000
OLD_FILES = 2
_MOST_CAUSES = 5
_NAME = "fitassist"


class PlainFormatter(logging.Formatter):
    """Time, level, source and the fixed words of a record; ``facts`` given with it are added."""

    def __init__(self) -> None:
        super().__init__(datefmt="%Y-%m-%dT%H:%M:%S")

    def format(self, record: logging.LogRecord) -> str:
        """Return the line, and below it where an error came through."""
        # The arguments of a message may be a name or a length, so they never reach the file.
        parts = [self.formatTime(record, self.datefmt), record.levelname, record.name]
        parts.append(str(record.msg))
        facts = getattr(record, "facts", {})
        parts += [f"{key}={value}" for key, value in facts.items()]
        line = " ".join(parts)
        error = record.exc_info[1] if record.exc_info else None
        return f"{line}\n{describe_error(error)}" if error is not None else line


class OwnersHandler(RotatingFileHandler):
    """Writes files only their owner can read, whatever the system would allow others."""

    def _open(self) -> TextIOWrapper:
        def private(path: str, flags: int) -> int:
            return os.open(path, flags, 0o600)

        file = open(self.baseFilename, f"{self.mode}b", opener=private)  # noqa: SIM115
        return TextIOWrapper(file, encoding=self.encoding)


def start_log(folder: Path) -> bool:
    """Begin to log into a folder; return whether that is possible there."""
    stop_log()
    try:
        folder.mkdir(mode=0o700, exist_ok=True)
        handler = OwnersHandler(
            folder / FILE_NAME, maxBytes=MOST_BYTES, backupCount=OLD_FILES, encoding="utf-8"
        )
    except OSError:  # a log is a help, never a condition
        return False
    handler.setFormatter(PlainFormatter())
    logger = logging.getLogger(_NAME)
    logger.addHandler(handler)
    logger.setLevel(logging.INFO)
    logger.propagate = False
    return True


def stop_log() -> None:
    """Close the log file, if there is one."""
    logger = logging.getLogger(_NAME)
    for handler in [h for h in logger.handlers if isinstance(h, RotatingFileHandler)]:
        logger.removeHandler(handler)
        handler.close()
    logger.propagate = True


def describe_error(error: BaseException) -> str:
    """Return an error's kind and where it came through, with nothing it was about.

    The message of an error may quote what was typed, so it is left out.
    """
    lines: list[str] = []
    shown: BaseException | None = error
    for _ in range(_MOST_CAUSES):
        if shown is None:
            break
        code = f" {shown.code}" if isinstance(shown, FitError) else ""
        lines.append(f"{type(shown).__module__}.{type(shown).__qualname__}{code}")
        lines += [
            f"  {_short(frame.filename)}:{frame.lineno} {frame.name}"
            for frame in traceback.extract_tb(shown.__traceback__)
        ]
        shown = shown.__cause__ or shown.__context__
    return "\n".join(lines)


def _short(file: str) -> str:
    """Return the end of a path: folders above the program may hold the user's name."""
    parts = PurePath(file).parts
    for mark in ("site-packages", "fitassist"):
        if mark in parts:
            last = len(parts) - 1 - parts[::-1].index(mark)
            return "/".join(parts[last:])
    return parts[-1] if parts else file


def platform_facts() -> dict[str, str]:
    """Return what an error may depend on: the system and the version of Python."""
    return {"system": sys.platform, "python": ".".join(map(str, sys.version_info[:3]))}
