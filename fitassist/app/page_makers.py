# SPDX-License-Identifier: MIT
"""How each page is made on its first visit, and whom it tells what."""

from __future__ import annotations

from collections.abc import Callable
from typing import TYPE_CHECKING

from PySide6.QtWidgets import QWidget

from fitassist.app.beside import tie_beside
from fitassist.app.people_desk import people_desk
from fitassist.gui.people_page import PeoplePage
from fitassist.gui.person_page import PersonPage

if TYPE_CHECKING:
    from fitassist.app.workroom import Workroom
    from fitassist.domain.form import Form
    from fitassist.domain.taught import Taught
    from fitassist.gui.form_page import FormPage


def page_factories(room: Workroom) -> dict[str, Callable[[], QWidget]]:
    """Return what makes each page, by its place."""
    return {
        "people": lambda: _people(room),
        "measurements": lambda: _measurements(room),
        "shape": lambda: _shape(room),
        "form": lambda: _form(room),
        "fitting": lambda: _fitting(room),
        "padding": lambda: _padding(room),
        "sheets": lambda: _sheets(room),
        "settings": lambda: _settings(room),
        "help": room.make_help,
    }


def _people(room: Workroom) -> QWidget:
    page = PeoplePage(people_desk(room))
    page.open_asked.connect(room.open_person)
    page.create_asked.connect(room.create_person)
    return page


def _measurements(room: Workroom) -> QWidget:
    page = PersonPage(room.catalogue, room.settings.units)
    page.body_chosen.connect(room.on_body)
    page.person_changed.connect(room.on_person)
    page.next_asked.connect(lambda: room.window.go_to("form"))
    page.people_asked.connect(lambda: room.window.go_to("people"))
    page.failed.connect(room.on_failed)
    page.show_record(room.record)
    return page


def _shape(room: Workroom) -> QWidget:
    # Brings numpy.
    from fitassist.app.shape_desk import ShapeDesk
    from fitassist.gui.shape_page import ShapePage

    page = ShapePage(room.settings.units)
    ShapeDesk(room, page)
    return page


def _form(room: Workroom) -> QWidget:
    from fitassist.gui.form_page import FormPage

    page = FormPage(room.own, room.ready, room.settings.units, teach=_taught)
    page.start_asked.connect(room.on_start_asked)
    page.form_chosen.connect(room.on_form)
    page.choose_asked.connect(lambda: _choose(room, page))
    page.describe_asked.connect(lambda: _describe(room, page))
    page.lessons_asked.connect(lambda: _describe(room, page, only_lessons=True))
    page.failed.connect(room.on_failed)
    if page.form is not None:
        room.on_form(page.form_id, page.form)
    room.show_body_on(page)
    return page


def _choose(room: Workroom, page: FormPage) -> None:
    """Show the forms on offer in the place of one's own."""
    from fitassist.app.offer_desk import OfferDesk
    from fitassist.domain.units import Unit
    from fitassist.gui.offer_page import OfferPage

    offers = page.findChild(OfferPage)
    if offers is None:
        desk = OfferDesk(
            room.profile, room.library, room.catalogue, lambda: Unit(room.settings.units)
        )
        offers = OfferPage(desk)
        offers.left.connect(lambda: page.show_instead(None))
    page.show_instead(offers)
    offers.visit()


def _describe(room: Workroom, page: FormPage, only_lessons: bool = False) -> None:
    """Ask about the form on the page, one question at a time."""
    # Brings numpy.
    from fitassist.gui.describing_view import DescribingView
    from fitassist.planning.calibrating import next_lesson

    if page.form is None:
        return

    def shown() -> Form:
        assert page.form is not None  # no other can be chosen while it is described
        return page.form

    view = DescribingView(shown, room.settings.units, page.keep, next_lesson)

    def leave() -> None:
        page.show_instead(None)
        view.deleteLater()

    view.left.connect(leave)
    if only_lessons:
        view.go_to_lessons()
    page.show_instead(view)
    view.setFocus()


def _taught(form: Form) -> Taught:
    # Brings numpy; asked for only once the fold is opened.
    from fitassist.planning.teaching import taught

    return taught(form)


def _fitting(room: Workroom) -> QWidget:
    # Only now pyqtgraph and numpy are needed.
    from fitassist.gui.fitting_page import FittingPage

    page = FittingPage(room.room.bridge, room.settings.units)
    page.form_asked.connect(lambda: room.window.go_to("form"))
    page.new_asked.connect(lambda: room.window.go_to("form"))
    page.padding_asked.connect(lambda: room.window.go_to("padding"))
    tie_beside(page, room.window, room.kept)
    return page


def _padding(room: Workroom) -> QWidget:
    from fitassist.app.padding_room import padding_page

    return padding_page(room)


def _sheets(room: Workroom) -> QWidget:
    # Brings numpy, shapely and scipy.
    from fitassist.app.sheet_source import RoomSheets
    from fitassist.gui.sheets_page import SheetsPage

    page = SheetsPage(RoomSheets(room), room.settings.units)
    page.choices.keep_to_paper(room.settings.paper)
    page.choices.paper_chosen.connect(lambda paper: room.kept.note(paper=paper))
    page.people_asked.connect(lambda: room.window.go_to("people"))
    return page


def _settings(room: Workroom) -> QWidget:
    from fitassist.app.languages import name_of, offered
    from fitassist.gui.settings_page import SettingsPage

    page = SettingsPage(room.settings, [(code, name_of(code)) for code in offered()])
    page.changed.connect(room.on_settings)
    return page
