# SPDX-License-Identifier: MIT
"""The one fitting that is open: its bridge for the page, and its form kept as it stands."""

from __future__ import annotations

import logging
from collections.abc import Callable, Sequence

from PySide6.QtCore import QObject, QTimer, Signal

from fitassist.app.kept_form import Marks, keep_form, last_fitting
from fitassist.app.torso_shapes import outlines_of, shaping_of
from fitassist.domain.body import Preferences
from fitassist.domain.form import Form
from fitassist.domain.measurements import Catalogue
from fitassist.domain.shaping import Setting
from fitassist.errors import BadFile, FitError
from fitassist.gui.bridge import FittingBridge
from fitassist.session.changeover import kept_padding, padding_of_fitting
from fitassist.session.events import (
    Advised,
    Carrier,
    Event,
    FittingStarted,
    PlanAdopted,
    Recorded,
)
from fitassist.session.person import body_for_fitting, fold_person
from fitassist.session.view import FittingView
from fitassist.storage.library import Library
from fitassist.storage.record import Record

log = logging.getLogger(__name__)

KEEP_AFTER_MS = 150  # lets the page paint the answer first
_OURS = (Advised, PlanAdopted)  # what the program itself puts on record


class FittingRoom(QObject):
    """Begins, goes on with and leaves fittings.

    Signals
    -------
    opened
        The ``FittingBridge`` of a fitting, or None when there is none any more.
    moved
        The id of the form whose dials or teaching have just been kept.
    form_not_kept
        The ``FitError`` met while keeping the form; None when it has been kept after all.
    """

    opened = Signal(object)
    moved = Signal(str)
    form_not_kept = Signal(object)

    def __init__(self, library: Library, marks: Marks, parent: QObject | None = None) -> None:
        super().__init__(parent)
        self._library = library
        self._marks = marks
        self._record: Record | None = None
        self._bridge: FittingBridge | None = None
        self._is_over = False
        self._is_marked = False
        self._is_lost = False
        self._kept_revision = 0
        self._was_refused = False
        self._timer = QTimer(self)
        self._timer.setSingleShot(True)
        self._timer.setInterval(KEEP_AFTER_MS)
        self._timer.timeout.connect(self.keep)

    @property
    def bridge(self) -> FittingBridge | None:
        """The fitting as the page drives it, or None."""
        return self._bridge

    @property
    def form_id(self) -> str:
        """The form of the open fitting, or an empty text."""
        return self._bridge.started.form_id if self._bridge else ""

    @property
    def is_under_way(self) -> bool:
        """Whether a fitting is open that has not come to its end."""
        return self._bridge is not None and not self._is_over

    def form_was_moved(self) -> bool:
        """Tell whether somebody else has moved the form since this fitting was last seen."""
        if self._bridge is None or not self.form_id or not self._bridge.is_ready:
            return False
        try:
            kept = self._library.load_form(self.form_id).numbers()
        except FitError:
            return False
        now = self._bridge.view().numbers
        return any(abs(kept[name] - now[name]) > 1e-6 for name in now if name in kept)

    # -- beginning and going on ---------------------------------------------------------------

    def begin(
        self,
        record: Record,
        catalogue: Catalogue,
        body_id: str,
        form_id: str,
        build: Callable[[type[Preferences]], Preferences],
        setting: Setting = "nearest_girth",
    ) -> None:
        """Begin a fitting and put it on record.

        Raises
        ------
        FitError
            The body has nothing to aim at (``nothing_measured``), the form cannot be read, or
            nothing could be written; nothing has begun then.
        """
        state = fold_person(record.events)
        body = body_for_fitting(state, body_id, catalogue)
        if not body.targets:
            raise FitError("nothing_measured")
        form, preferences = self._library.load_form(form_id), build(Preferences)
        started = FittingStarted(
            fitting_id=f"{record.person_id}-{len(record.events) + 1}",
            body_id=body_id,
            form_id=form_id,
            body=body,
            form=form,
            preferences=preferences,
            shaping=shaping_of(body, form, preferences, setting),
            padding_worn=self._padding_on(form, record),
            padding_kept=kept_padding(record.events, body_id, form_id),
        )
        self.leave()
        record.append([started])
        self._open(record)

    def _padding_on(self, form: Form, record: Record) -> Carrier:
        """Return what the form still wears of the fitting it was set for last."""
        last = form.last_fitted
        if last is None:
            return ""
        if last.person_id == record.person_id:
            return padding_of_fitting(record.events, last.fitting_id)
        try:
            with self._library.open_person(last.person_id, read_only=True) as other:
                return padding_of_fitting(other.events, last.fitting_id)
        except FitError:
            return ""  # erased or unreadable: what it wore is seen on the form itself

    def go_on(self, record: Record) -> bool:
        """Open the last fitting of a record where it was left; False if there is none."""
        self.leave()
        started, _past, _ended = last_fitting(record.events)
        if started is None:
            return False
        self._open(record)
        return True

    def _open(self, record: Record) -> None:
        started, past, self._is_over = last_fitting(record.events)
        assert started is not None
        self._record = record
        self._bridge = FittingBridge(
            started, self._append, past, parent=self, outlines_of=outlines_of
        )
        self._bridge.view_changed.connect(self._on_view)
        self._bridge.failed.connect(self._on_refused)
        self.opened.emit(self._bridge)

    def _append(self, events: Sequence[Event]) -> Sequence[Recorded]:
        assert self._record is not None
        # Looking at a fitting does not move the form, an answer may; so it is marked before.
        if not self._is_marked and not all(isinstance(one, _OURS) for one in events):
            self._mark()
        return self._record.append(events)

    def _mark(self) -> None:
        if self._record is None or self._record.read_only or not self.form_id:
            return
        try:
            self._marks.put(self._record.id, self.form_id)
            self._is_marked = True
        except FitError as error:
            log.warning("no_mark", extra={"facts": {"code": error.code}})

    def _on_view(self, view: FittingView) -> None:
        self._is_over = view.instruction.kind == "done"
        if self._kept_revision == 0:
            self._kept_revision = view.revision
        elif self._kept_revision != view.revision:
            self._timer.start()

    def _on_refused(self, error: FitError) -> None:
        # Somebody else goes on with this fitting: what we know of the form is no longer true.
        self._is_lost = self._is_lost or error.code == "lock_taken"

    # -- keeping and leaving ------------------------------------------------------------------

    def keep(self) -> bool:
        """Keep the form as it stands; return whether there is nothing left to keep."""
        self._timer.stop()
        fitting = self._bridge.fitting if self._bridge else None
        if fitting is None or self._record is None or self._record.read_only or not self.form_id:
            return True
        if self._is_lost or fitting.revision == self._kept_revision:
            return True
        try:
            keep_form(self._library, fitting, self._record.events[-1].at)
        except BadFile as error:  # the form was removed: there is nothing to keep it in
            log.warning("form_gone", extra={"facts": {"code": error.code}})
            return True
        except FitError as error:
            self._was_refused = True
            self.form_not_kept.emit(error)
            return False
        self._kept_revision = fitting.revision
        if self._was_refused:
            self._was_refused = False
            self.form_not_kept.emit(None)
        self.moved.emit(self.form_id)
        return True

    def leave(self) -> None:
        """Put the fitting away; it stays in the record and can be gone on with."""
        if self._bridge is None:
            return
        if self.keep() and self._is_marked and not self._is_lost and self._record is not None:
            try:
                self._marks.take_away(self._record.id)
            except FitError as error:
                log.warning("mark_stays", extra={"facts": {"code": error.code}})
        self._timer.stop()
        bridge, self._bridge, self._record = self._bridge, None, None
        self._is_over = self._is_marked = self._is_lost = False
        self._kept_revision = 0
        self.opened.emit(None)
        bridge.deleteLater()
