# SPDX-License-Identifier: MIT
"""From the command line to the open window and back, leaving nothing of Qt behind."""

from __future__ import annotations

import contextlib
import gc
import logging
import os
import sys
from collections.abc import Sequence
from datetime import UTC, datetime
from pathlib import Path
from typing import TYPE_CHECKING

from fitassist import __version__
from fitassist.app.arguments import Asked, Refused, read_arguments
from fitassist.app.screen import screen_complaint
from fitassist.demo import demo_profile
from fitassist.errors import BadFile, FitError
from fitassist.files import others_can_enter, profile_dir, resources_dir
from fitassist.log import FILE_NAME, platform_facts, start_log, stop_log
from fitassist.qt_guard import guard_qt
from fitassist.wording.language import _
from fitassist.wording.program import say
from fitassist.wording.sentences import sentence

if TYPE_CHECKING:
    from PySide6.QtWidgets import QApplication

    from fitassist.app.workroom import Workroom

log = logging.getLogger(__name__)


def start(arguments: Sequence[str]) -> int:
    """Understand the arguments, open the window, and return the exit code once it is closed."""
    try:
        asked = read_arguments(arguments)
        if asked.wants_usage:
            print(say("usage"))
            return 0
        if asked.wants_version:
            print(f"Fitassist {__version__}")
            return 0
        guard_qt()
        complaint = screen_complaint(os.environ)
        if complaint:
            raise Refused(complaint)
        with contextlib.ExitStack() as stack:
            return run_window(_profile(asked, stack), asked.is_demo, asked.file)
    except Refused as refused:
        _say_plainly(refused.text)
        return refused.exit_code


def _say_plainly(text: str) -> None:
    if sys.stderr is not None:  # there is none when started without a console
        print(text, file=sys.stderr)


def _profile(asked: Asked, stack: contextlib.ExitStack) -> Path:
    try:
        if asked.is_demo:
            return stack.enter_context(demo_profile())
        if asked.profile is not None and asked.profile.exists() and not asked.profile.is_dir():
            raise Refused(say("profile_is_file", text=asked.profile))
        folder = profile_dir(asked.profile)
        _try_writing(folder)
        return folder
    except BadFile as error:
        raise Refused(say("parts_missing", text="demo")) from error
    except FitError as error:
        place = asked.profile or error.values.get("path", "")
        raise Refused(say("profile_unusable", text=place, why=sentence(error))) from error


def _try_writing(folder: Path) -> None:
    """Find out now, not at the first answer, whether anything can be kept here."""
    from fitassist.files import remove_file, replace_file

    probe = folder / f".probe-{os.getpid()}"
    replace_file(probe, b"")
    remove_file(probe)


def run_window(profile: Path, is_demo: bool = False, file: Path | None = None) -> int:
    """Open the window on a profile folder and return the exit code once it is closed."""
    from PySide6.QtGui import QIcon
    from PySide6.QtWidgets import QApplication

    from fitassist.app.failures import Failures
    from fitassist.app.given_file import take_form
    from fitassist.app.signals import quit_on_signals

    start_log(profile / "log")
    log.info("started", extra={"facts": {"version": __version__, **platform_facts()}})
    app = QApplication.instance()
    if not isinstance(app, QApplication):
        app = QApplication(sys.argv[:1])
    app.setApplicationName("fitassist")
    app.setApplicationDisplayName("Fitassist")
    app.setDesktopFileName("fitassist")
    app.setWindowIcon(QIcon(str(resources_dir() / "icon" / "fitassist.png")))
    failures = Failures()
    failures.install()
    try:
        workroom = make_workroom(app, profile, is_demo)
        workroom.seen.do(lambda: log.info("painted"))
        workroom.begin()
        if file is not None:
            workroom.seen.do(lambda: take_form(workroom, file))
        workroom.window.show()
        with quit_on_signals(app):
            code = app.exec()
        tear_down(app, workroom)
    except Exception as error:
        if isinstance(error, Refused):
            raise
        log.error("not_started", exc_info=error)
        raise Refused(say("not_started", text=profile / "log" / FILE_NAME)) from error
    finally:
        failures.remove()
        log.info("ended")
        stop_log()
    return code


def make_workroom(app: QApplication, profile: Path, is_demo: bool = False) -> Workroom:
    """Load what the window needs and make it; nothing is open in it yet.

    Raises
    ------
    Refused
        A part of the program is missing.
    """
    from fitassist.app.languages import speak, usual_unit
    from fitassist.app.workroom import Workroom
    from fitassist.domain.measurements import load_catalogue
    from fitassist.domain.ready_forms import ready_forms
    from fitassist.gui import theme
    from fitassist.settings import FILE_NAME as SETTINGS_FILE
    from fitassist.settings import load_settings
    from fitassist.storage.library import Library

    loaded = load_settings(profile)
    settings = loaded.settings
    is_first = not (profile / SETTINGS_FILE).exists() and not loaded.problem
    if is_first:
        settings = settings.model_copy(update={"units": usual_unit()})
    speak(settings.language)
    theme.apply(app, settings.theme, settings.font_scale)
    try:
        catalogue = load_catalogue(resources_dir() / "measurements.json")
        ready = tuple(
            form.model_copy(update={"name": _(form.name)})
            for form in ready_forms(resources_dir() / "forms").values()
        )
    except BadFile as error:
        part = error.values.get("file") or error.values.get("name") or error.code
        raise Refused(say("parts_missing", text=part)) from error
    workroom = Workroom(profile, Library(profile, now), settings, catalogue, ready, is_demo)
    open_to_others = "profile_open" if is_first and others_can_enter(profile) else ""
    if loaded.problem or open_to_others:
        log.warning(loaded.problem or open_to_others)
        text = say(loaded.problem or open_to_others, text=profile)
        workroom.seen.do(lambda: workroom.window.show_message(text))  # after all else is said
    return workroom


def tear_down(app: QApplication, workroom: Workroom) -> None:
    """Let go of everything of Qt before Python ends; otherwise the process may crash then."""
    from PySide6.QtCore import QCoreApplication, QEvent, QThreadPool

    workroom.window.close()
    QThreadPool.globalInstance().waitForDone()
    workroom.window.deleteLater()
    workroom.deleteLater()
    for _round in range(2):  # what is deleted may have something to delete
        QCoreApplication.sendPostedEvents(None, QEvent.Type.DeferredDelete)
        app.processEvents()
    gc.collect()


def now() -> str:
    """Return the time, UTC, ISO 8601."""
    return datetime.now(UTC).isoformat(timespec="seconds")
