# SPDX-License-Identifier: MIT
"""The window with its pages, tied to the files: who is open, which form, where one is.

Pages do not know each other; what one of them tells is passed on here.
"""

from __future__ import annotations

import logging
from collections.abc import Callable
from pathlib import Path

from PySide6.QtCore import QObject
from PySide6.QtWidgets import QApplication, QWidget

from fitassist.app.first_paint import AfterFirstPaint, load_engine_behind
from fitassist.app.fitting_room import FittingRoom
from fitassist.app.forgotten import forget_in_forms
from fitassist.app.help_desk import HelpDesk
from fitassist.app.kept_form import Marks, bring_up_to_date
from fitassist.app.kept_settings import KeptSettings
from fitassist.app.own_library import OwnLibrary
from fitassist.app.page_makers import page_factories
from fitassist.domain.form import Form
from fitassist.domain.measurements import Catalogue
from fitassist.domain.shaping import Setting
from fitassist.errors import BadFile, FitError, StorageFailed
from fitassist.gui import theme
from fitassist.gui.bridge import FittingBridge
from fitassist.gui.main_window import MainWindow
from fitassist.gui.people_page import PeoplePage
from fitassist.gui.person_page import PersonPage
from fitassist.session.person import PersonState, body_for_fitting, fold_person
from fitassist.settings import Settings, Window
from fitassist.storage.library import Library
from fitassist.storage.record import Record
from fitassist.wording import pages as page_words
from fitassist.wording.people_words import held_text
from fitassist.wording.program import say
from fitassist.wording.sentences import sentence

log = logging.getLogger(__name__)

Ways = dict[str, Callable[[], object]]


class Workroom(QObject):
    """Everything that is open at one time.

    Parameters
    ----------
    profile
        The folder of records, forms and settings.
    library
        The people and forms in it.
    catalogue, ready
        What can be measured, and forms to start from.
    """

    def __init__(
        self,
        profile: Path,
        library: Library,
        settings: Settings,
        catalogue: Catalogue,
        ready: tuple[Form, ...],
        is_demo: bool = False,
    ) -> None:
        super().__init__()
        self._library = library
        self.profile = profile
        self.kept = KeptSettings(profile, settings, self._on_settings_not_kept)
        self.catalogue = catalogue
        self.ready = ready
        self._is_demo = is_demo
        self._record: Record | None = None
        self._person = PersonState()
        self._form_id = ""
        self._form_name = ""
        self._is_move_told = False
        self._body_id = ""
        self.own = OwnLibrary(library, self.let_go)
        self._marks = Marks(profile)
        self.room = FittingRoom(library, self._marks, parent=self)
        self.room.opened.connect(self._on_fitting)
        self.room.moved.connect(self.on_form_moved)
        self.room.form_not_kept.connect(self._on_form_not_kept)
        self.window = MainWindow(page_factories(self))
        self.desk = HelpDesk(self.window, self.kept)
        self.seen = AfterFirstPaint(self.window)
        self.window.restore(settings.window)
        self.window.place_changed.connect(self._on_place)
        self.window.closing.connect(self._on_closing)
        self.show_names()

    @property
    def record(self) -> Record | None:
        """The record that is open, or None."""
        return self._record

    @property
    def body_id(self) -> str:
        """The body that is worked on, or an empty text."""
        return self._body_id

    @property
    def library(self) -> Library:
        """The people and forms that are kept."""
        return self._library

    @property
    def settings(self) -> Settings:
        """The settings as they now are."""
        return self.kept.now

    def make_help(self) -> QWidget:
        """Make the page of help."""
        return self.desk.make_page()

    def _bring_forms_up(self) -> None:
        for form_id in bring_up_to_date(self._library, self._marks):
            self.on_form_moved(form_id)

    # -- starting and ending ------------------------------------------------------------------

    def begin(self) -> None:
        """Show where the user was last, as far as it can be opened."""
        self.seen.do(self._bring_forms_up)
        last, place = self.settings.last_person, self.settings.last_page
        self.seen.do(self._library.listing)  # so that the list is at hand when it is wanted
        if not self._library.has_person(last):
            is_new = self._library.is_empty() and not self._is_demo
            if not (is_new and self.desk.begin()):
                self.window.go_to("people")
            self.seen.do(load_engine_behind)
            return
        self.open_person(last)
        if self._record is None:
            self.window.go_to("people")
        elif place in ("measurements", "shape", "form", "settings"):
            self.window.go_to(place)

    def _on_closing(self, stands: Window) -> None:
        self.kept.note(window=stands)
        self._close_person()

    # -- people -------------------------------------------------------------------------------

    def open_person(self, person_id: str, read_only: bool = False, take_over: bool = False) -> None:
        """Open a record, or say why not and what can be done."""
        self._close_person()
        self.window.show_message("")
        try:
            record = self._library.open_person(person_id, read_only=read_only, take_over=take_over)
        except StorageFailed as error:
            self._refuse_opening(person_id, error)
            return
        except BadFile as error:
            self._log_failure("not_opened", error)
            self._people_page().show_failure(error)
            return
        self._use(record)
        if read_only:
            self._offer_take_over(person_id)
        else:
            self._tell_notices(record)
        if self.room.is_under_way:
            self.seen.do(lambda: self.window.go_to("fitting"))
        else:
            self.window.go_to("measurements")
            self.seen.do(load_engine_behind)

    def _refuse_opening(self, person_id: str, error: StorageFailed) -> None:
        self._log_failure("not_opened", error)
        ways: Ways = {say("look_only"): lambda: self.open_person(person_id, read_only=True)}
        if error.code == "open_elsewhere":
            ways[say("take_over")] = lambda: self.open_person(person_id, take_over=True)
        else:
            ways[page_words.say("strip.try_again")] = lambda: self.open_person(person_id)
        self.window.show_message(held_text(error), ways)
        self.window.go_to("people")

    def _offer_take_over(self, person_id: str) -> None:
        take = {say("take_over"): lambda: self.open_person(person_id, take_over=True)}
        self.window.show_message(page_words.say("strip.read_only"), take)

    def _tell_notices(self, record: Record) -> None:
        for notice in record.notices:
            log.warning("record_notice", extra={"facts": {"code": notice.code}})
            if notice.aside is not None:
                self.window.show_message(say("journal_aside", text=notice.aside.name))

    def create_person(self, name: str) -> None:
        """Begin a record and show its measurements."""
        page = self._people_page()
        try:
            record = self._library.create_person(name)
        except FitError as error:
            self._log_failure("not_created", error)
            page.show_failure(error)
            return
        self._close_person()
        page.show_created(record.id)
        self._use(record)
        self.window.go_to("measurements")

    def _use(self, record: Record) -> None:
        self._record = record
        self._person = fold_person(record.events)
        self.kept.note(last_person=record.id)
        self._measurements_page().show_record(record)
        self.room.go_on(record)
        self.show_names()

    def _close_person(self) -> None:
        """Close the record; every event is on disk whatever happens here."""
        self.room.leave()
        record, self._record = self._record, None
        self._person, self._body_id = PersonState(), ""
        if record is None:
            return
        try:
            record.close()
        except FitError as error:
            self._log_failure("not_folded", error)
        if self.window.has_page("measurements"):
            self._measurements_page().show_record(None)
        self.show_names()

    def let_go(self, person_id: str) -> None:
        """Close a record if it is the one that is open."""
        if self._record is not None and self._record.id == person_id:
            self._close_person()

    def forget(self, person_id: str) -> None:
        """Keep no trace of a person who was erased."""
        if self.settings.last_person == person_id:
            self.kept.note(last_person="")
        try:
            self._marks.take_away(person_id)
        except FitError as error:
            self._log_failure("mark_stays", error)
        for form_id in forget_in_forms(self._library, person_id):
            self.on_form_moved(form_id)

    # -- what pages tell ----------------------------------------------------------------------

    def on_person(self, state: PersonState) -> None:
        """Take note that the open person's record says more now."""
        self._person = state
        self.show_names()
        self._show_body()

    def on_body(self, body_id: str) -> None:
        """Take note of the body that is worked on."""
        self._body_id = body_id
        if self._record is not None:
            self._person = fold_person(self._record.events)
        self._show_body()

    def on_form(self, form_id: str, form: Form) -> None:
        """Take note of the form that is worked on."""
        self._form_id, self._form_name = form_id, form.name
        self.show_names()

    def on_form_moved(self, form_id: str) -> None:
        """Show a form again that was written by something else than its page."""
        page = self.window.page("form") if self.window.has_page("form") else None
        if page is not None and getattr(page, "form_id", "") == form_id:
            page.reread()  # type: ignore[attr-defined]

    def on_failed(self, error: FitError) -> None:
        """Log that something was not kept, and offer to open again where that helps."""
        self._log_failure("not_kept", error)
        record = self._record
        if record is not None and error.code in ("lock_taken", "changed_elsewhere"):
            again = {say("open_again"): lambda: self.open_person(record.id)}
            self.window.show_message(sentence(error, self.settings.units), again)

    def _on_form_not_kept(self, error: FitError | None) -> None:
        if error is None:
            self.window.show_message("")
            return
        self._log_failure("form_not_kept", error)
        text = say("form_not_kept", why=sentence(error, self.settings.units))
        self.window.show_message(text, {page_words.say("strip.try_again"): self.room.keep})

    def _on_place(self, place: str) -> None:
        self.kept.note(last_page=place)
        if place == "people":
            self._people_page().visit()

    def on_settings(self, settings: Settings) -> None:
        """Keep the settings and let every page follow them."""
        self.kept.choose(settings)
        app = QApplication.instance()
        if isinstance(app, QApplication):
            theme.apply(app, settings.theme, settings.font_scale)
        for place in ("measurements", "shape", "form", "fitting", "padding", "sheets"):
            if self.window.has_page(place):
                self.window.page(place).set_unit(settings.units)  # type: ignore[attr-defined]

    def _on_settings_not_kept(self, error: FitError) -> None:
        if self.window.has_page("settings"):
            self.window.page("settings").show_failure(sentence(error))  # type: ignore[attr-defined]

    # -- fittings -----------------------------------------------------------------------------

    def on_start_asked(self, body_id: str, form_id: str, setting: Setting) -> None:
        """Begin a fitting, asking first if one is under way."""
        if self.room.is_under_way:
            go_on: Ways = {
                say("go_on"): self._go_on_fitting,
                say("begin_anew"): lambda: self.begin_fitting(body_id, form_id, setting),
            }
            self.window.show_message(say("under_way"), go_on)
        else:
            self.begin_fitting(body_id, form_id, setting)

    def _go_on_fitting(self) -> None:
        self.window.show_message("")
        self.window.go_to("fitting")

    def begin_fitting(self, body_id: str, form_id: str, setting: Setting = "nearest_girth") -> None:
        """Begin a fitting of a body of the open person on a form."""
        self.window.show_message("")
        if self._record is None:
            return
        try:
            self.room.begin(
                self._record, self.catalogue, body_id, form_id, self.settings.preferences, setting
            )
        except FitError as error:
            self._log_failure("not_begun", error)
            self.window.show_message(sentence(error, self.settings.units))
            return
        self.window.go_to("fitting")

    def _on_fitting(self, bridge: FittingBridge | None) -> None:
        if bridge is not None:
            bridge.failed.connect(self.on_failed)
            self._is_move_told = False
            bridge.view_changed.connect(self._tell_once_moved)
        if self.window.has_page("fitting"):
            self.window.page("fitting").show_bridge(bridge)  # type: ignore[attr-defined]
        self.show_names()

    def _tell_once_moved(self) -> None:
        """At the first view of a fitting gone on with, say if the form stands elsewhere now."""
        bridge = self.room.bridge
        # One that was put away while it loaded may speak as well.
        if bridge is None or not bridge.is_ready or self._is_move_told:
            return
        self._is_move_told = True
        if self.room.is_under_way and self.room.form_was_moved():
            self.window.show_message(say("form_elsewhere"))

    # -- names --------------------------------------------------------------------------------

    def show_names(self) -> None:
        """Show who and which form it is about."""
        bridge = self.room.bridge
        form = bridge.started.form.name if bridge else self._form_name
        if self._is_demo:
            form = say("demo_with_form", form=form) if form else say("demo")
        self.window.show_names(self._person.name, form)

    def _show_body(self) -> None:
        if self.window.has_page("form"):
            self.show_body_on(self.window.page("form"))

    def show_body_on(self, page: QWidget) -> None:
        """Tell a page which body a fitting would be for."""
        body = self._person.bodies.get(self._body_id)
        is_open = self._record is not None and not self._record.read_only
        body_id = self._body_id if body is not None and body.readings and is_open else ""
        name = body.name if body is not None else ""
        targets = body_for_fitting(self._person, body_id, self.catalogue) if body_id else None
        page.show_body(body_id, self._person.name, name, targets)  # type: ignore[attr-defined]

    def _people_page(self) -> PeoplePage:
        page = self.window.page("people")
        assert isinstance(page, PeoplePage)
        return page

    def _measurements_page(self) -> PersonPage:
        page = self.window.page("measurements")
        assert isinstance(page, PersonPage)
        return page

    def _log_failure(self, what: str, error: FitError) -> None:
        log.warning(what, extra={"facts": {"code": error.code}})
