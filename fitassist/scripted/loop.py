# SPDX-License-Identifier: MIT
"""The loop of a scripted session: say what is open, wait for one line, take it or refuse it."""

from __future__ import annotations

import logging
from collections.abc import Iterable
from typing import Any, BinaryIO, Protocol

from fitassist.domain.answers import Answer, Done
from fitassist.domain.body import Preferences
from fitassist.domain.form import Form
from fitassist.domain.steps import Ask, Check, Finished, Instruction, Measure, Note, SetDials
from fitassist.errors import FitError
from fitassist.scripted import messages
from fitassist.scripted.answers import read_answer
from fitassist.scripted.lines import read_line, read_object, write_line
from fitassist.scripted.notes import notes_for
from fitassist.session.view import FittingView

log = logging.getLogger(__name__)


class Guided(Protocol):
    """What is needed of a fitting."""

    @property
    def instruction(self) -> Instruction:
        """What is to be done now."""

    def submit(self, answer: Answer) -> Any:
        """Take an answer, or raise FitError with nothing changed."""

    def view(self) -> FittingView:
        """Return what may be shown."""


class Loop:
    """One session over two streams.

    Parameters
    ----------
    fitting, form, preferences
        The fitting that is guided, its form and how it is judged.
    source, sink
        Lines come in here and go out there.
    verbose
        Say how every line stands before each instruction.
    """

    def __init__(
        self,
        fitting: Guided,
        form: Form,
        preferences: Preferences,
        source: BinaryIO,
        sink: BinaryIO,
        verbose: bool = False,
    ) -> None:
        self._fitting = fitting
        self._form = form
        self._preferences = preferences
        self._source = source
        self._sink = sink
        self._verbose = verbose
        self._last_id = 0
        self._wire_ids: dict[int, int] = {}  # the core's ids to ours

    def run(self) -> Finished | None:
        """Guide until the end; None if the input ended first.

        The last line, ``done``, is left to ``finish``, so that what the caller keeps is safe
        before the other side hears of it.
        """
        view = self._fitting.view()
        write_line(self._sink, messages.hello(view, self._next_id(), self._preferences))
        said: list[Note] = []  # what is said once only
        self._notes(view.first_minute, said)
        while True:
            instruction = self._fitting.instruction
            view = self._fitting.view()
            self._notes(view.notes, [])
            self._notes(notes_for(instruction, self._form, view), said)
            if isinstance(instruction, Check):
                self._check(instruction)
            else:
                if self._verbose:
                    self._state()
                if isinstance(instruction, Finished):
                    return instruction
                wire_id = self._say(instruction)
                if not self._wait(wire_id):
                    return None

    def finish(self, end: Finished) -> None:
        """Say how it ended."""
        write_line(self._sink, messages.done_message(end, self._next_id()))

    def refuse(self, error: FitError, to: int | None = None) -> None:
        """Say why something was refused."""
        write_line(self._sink, messages.error_message(error, to, self._preferences))

    def _next_id(self) -> int:
        self._last_id += 1
        return self._last_id

    def _say(self, step: SetDials | Measure | Ask) -> int:
        wire_id = self._next_id()
        match step:
            case SetDials():
                message = messages.set_message(step, wire_id, self._form, self._preferences)
            case Measure():
                message = messages.measure_message(step, wire_id, self._form, self._preferences)
            case Ask():
                message = messages.ask_message(
                    step, wire_id, self._wire_ids, self._form, self._preferences
                )
        self._wire_ids[step.id] = wire_id
        log.info("%s %s", message["kind"], wire_id)
        write_line(self._sink, message)
        return wire_id

    def _check(self, step: Check) -> None:
        """Pass a plain step on as a note; a script can do nothing about it."""
        wire_id = self._next_id()
        write_line(self._sink, messages.check_message(step, wire_id, self._form, self._preferences))
        self._fitting.submit(Done())

    def _notes(self, notes: Iterable[Note], said: list[Note]) -> None:
        for note in notes:
            if note in said:
                continue
            said.append(note)
            if note.code in messages.NOTE_CODES:
                message = messages.note_message(note, self._next_id(), self._preferences)
                write_line(self._sink, message)

    def _state(self) -> None:
        view = self._fitting.view()
        write_line(self._sink, messages.state_message(view, self._next_id(), self._preferences))

    def _wait(self, wire_id: int) -> bool:
        """Take lines until one is an answer; False if the input ended."""
        while True:
            try:
                line = read_line(self._source)
                if line is None:
                    return False
                answer = read_answer(read_object(line), wire_id)
                self._fitting.submit(answer)
            except FitError as error:
                log.info("refused: %s", error.code)  # a field may be what was typed
                self.refuse(error, wire_id)
            else:
                return True
