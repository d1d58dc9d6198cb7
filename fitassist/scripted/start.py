# SPDX-License-Identifier: MIT
"""Start and end of a scripted session: arguments, files, record, what was learned, exit code."""

from __future__ import annotations

import argparse
import json
import logging
import os
import sys
from collections.abc import Callable, Sequence
from contextlib import ExitStack
from dataclasses import dataclass
from datetime import UTC, datetime
from pathlib import Path
from typing import Any, BinaryIO, TypeVar

from fitassist.domain.body import Body, Preferences
from fitassist.domain.body_file import load_body_text, refuse_tolerance
from fitassist.domain.form import Form
from fitassist.domain.form_file import MAX_BYTES, MAX_NAME, build, form_to_json, load_form_text
from fitassist.domain.shaping import Shaping
from fitassist.errors import BadFile, FitError, StorageFailed
from fitassist.files import read_file, replace_file
from fitassist.scripted.lines import write_line
from fitassist.scripted.loop import Loop
from fitassist.scripted.messages import error_message
from fitassist.scripted.shaped import shaping_asked
from fitassist.session.events import FittingStarted, PersonNamed, Recorded
from fitassist.session.fitting import Fitting
from fitassist.storage.record import Record

log = logging.getLogger(__name__)
T = TypeVar("T")

DONE, BAD_FILES, INPUT_ENDED = 0, 2, 3


@dataclass(frozen=True)
class _Given:
    """What a session is about, read and understood."""

    form: Form
    body: Body
    preferences: Preferences
    shaping: Shaping


def main(
    argv: Sequence[str] | None = None,
    source: BinaryIO | None = None,
    sink: BinaryIO | None = None,
) -> int:
    """Run one scripted session and return the exit code.

    Parameters
    ----------
    argv
        Arguments without the program's name; None: those of this process.
    source, sink
        Where lines come from and go to; None: standard input and output.
    """
    asked = _arguments().parse_args(argv)
    logging.basicConfig(
        stream=sys.stderr,
        level=logging.INFO if asked.verbose else logging.WARNING,
        format="%(levelname)s %(name)s: %(message)s",
    )
    source, sink = source or sys.stdin.buffer, sink or sys.stdout.buffer
    preferences = Preferences()
    try:
        with ExitStack() as stack:
            try:
                given = _read(asked)
                preferences = given.preferences
                fitting = _fitting(given, asked.person, stack)
            except FitError as error:
                return _refuse(sink, error, preferences)
            loop = Loop(fitting, given.form, preferences, source, sink, asked.verbose)
            return _guide(loop, fitting, asked.learned_out)
    except (BrokenPipeError, KeyboardInterrupt):
        log.info("the other side has gone; everything answered is kept")
        if sink is sys.stdout.buffer:
            # What Python still holds back would fail again, louder, as it ends.
            os.dup2(os.open(os.devnull, os.O_WRONLY), sys.stdout.fileno())
        return INPUT_ENDED


def _arguments() -> argparse.ArgumentParser:
    parser = argparse.ArgumentParser(
        prog="fitassist --scripted", description="Guide a fitting over standard input and output."
    )
    parser.add_argument("--scripted", action="store_true", help=argparse.SUPPRESS)
    parser.add_argument("--form", type=Path, required=True, help="the form as it stands now")
    parser.add_argument("--body", type=Path, required=True, help="the body it is to become")
    parser.add_argument("--person", type=Path, help="keep the record in this file, and go on in it")
    parser.add_argument("--learned-out", type=Path, help="write the form as it stands at the end")
    parser.add_argument("--verbose", action="store_true", help="say how every line stands")
    return parser


def _read(asked: argparse.Namespace) -> _Given:
    form = _named("form", lambda: load_form_text(_text(asked.form)))
    body = _named("body", lambda: load_body_text(_text(asked.body)))
    if not body.targets:
        raise BadFile("missing_field", "body: targets")
    given = (body.model_extra or {}).get("preferences", {})
    if not isinstance(given, dict):
        raise BadFile("bad_field", "body: preferences", why="wrong_type")
    preferences = _named("body: preferences", lambda: _preferences(given))
    shaping = _named("body", lambda: shaping_asked(body, form, preferences))
    out = asked.learned_out
    if out is not None and not out.absolute().parent.is_dir():
        raise StorageFailed("folder_gone", "learned-out", path=str(out))
    return _Given(form, body, preferences, shaping)


def _preferences(given: dict[str, Any]) -> Preferences:
    found = build(Preferences, given, given)
    refuse_tolerance(found.default_tolerance_mm, "default_tolerance_mm")
    refuse_tolerance(found.padded_tolerance_mm, "padded_tolerance_mm")
    for line, sides in found.line_tolerance_mm.items():
        refuse_tolerance(sides, f"line_tolerance_mm.{line[:MAX_NAME]}")
    return found


def _named(name: str, read: Callable[[], T]) -> T:
    """Read a file, saying in an error which of the files it is."""
    try:
        return read()
    except FitError as error:
        error.field = f"{name}: {error.field}" if error.field else name
        raise


def _text(path: Path) -> str:
    data, _about = read_file(path, MAX_BYTES)
    try:
        return data.decode("utf-8")
    except UnicodeDecodeError:
        raise BadFile("bad_json", path=str(path)) from None


def _fitting(given: _Given, person: Path | None, stack: ExitStack) -> Fitting:
    """Begin a fitting, or go on with the last one of the record if it is the same."""
    if person is None:
        return Fitting.start(given.body, given.form, given.preferences, given.shaping)
    record = _named("person", lambda: _record(person, given.body))
    stack.callback(_close, record)
    started, past = _last_fitting(record.events)
    if started is None or not _same(started, given):
        count = sum(isinstance(one.event, FittingStarted) for one in record.events)
        started = FittingStarted(
            fitting_id=str(count + 1),
            body=given.body,
            form=given.form,
            preferences=given.preferences,
            shaping=given.shaping,
        )
        record.append([started])
        past = ()
    return Fitting(started, record.append, past)


def _record(path: Path, body: Body) -> Record:
    if path.exists():
        return Record.open(path, _now)
    return Record.create(path, path.stem, _now, [PersonNamed(name=body.name)])


def _now() -> str:
    return datetime.now(UTC).isoformat(timespec="seconds")


def _last_fitting(
    events: Sequence[Recorded],
) -> tuple[FittingStarted | None, Sequence[Recorded]]:
    for place in range(len(events) - 1, -1, -1):
        event = events[place].event
        if isinstance(event, FittingStarted):
            return event, events[place + 1 :]
    return None, ()


def _same(started: FittingStarted, given: _Given) -> bool:
    pairs = (
        (started.body, given.body),
        (started.form, given.form),
        (started.preferences, given.preferences),
    )
    return all(old.model_dump(mode="json") == new.model_dump(mode="json") for old, new in pairs)


def _guide(loop: Loop, fitting: Fitting, learned_out: Path | None) -> int:
    end = loop.run()
    code = DONE if end is not None else INPUT_ENDED
    if learned_out is not None:
        try:
            _write_learned(learned_out, fitting)
        except FitError as error:
            loop.refuse(error)
            code = BAD_FILES
    if end is not None:
        loop.finish(end)
    return code


def _write_learned(path: Path, fitting: Fitting) -> None:
    """Write the form as it stands now, with what this fitting taught about it."""
    text = json.dumps(
        form_to_json(fitting.form_now()), ensure_ascii=False, allow_nan=False, indent=2
    )
    replace_file(path, (text + "\n").encode("utf-8"))


def _refuse(sink: BinaryIO, error: FitError, preferences: Preferences) -> int:
    log.warning("refused: %s", error.code)  # its values are what somebody typed
    write_line(sink, error_message(error, None, preferences))
    return BAD_FILES


def _close(record: Record) -> None:
    try:
        record.close()
    except StorageFailed as error:  # every event is in the journal all the same
        log.warning("not folded: %s", error.code)
