# SPDX-License-Identifier: MIT
"""The frame goes where it is told, keeps its pages, and starts without numerics."""

from __future__ import annotations

import subprocess
import sys

import pytest
from PySide6.QtCore import Qt
from PySide6.QtGui import QGuiApplication
from PySide6.QtWidgets import QLabel, QLineEdit

from fitassist.gui import theme
from fitassist.gui.main_window import LEAST_HEIGHT, LEAST_WIDTH, PLACES, MainWindow
from fitassist.settings import Window
from fitassist.wording.pages import say
from tests.gui.fakes import guessing_labels, seen, show, unnamed

LEFT = Qt.MouseButton.LeftButton


@pytest.fixture
def made():
    return []


@pytest.fixture
def window(qtbot, made):
    def factory(place):
        def make():
            made.append(place)
            field = QLineEdit(place)
            field.setAccessibleName(place)
            return field

        return make

    return show(qtbot, MainWindow({place: factory(place) for place in PLACES}))


def test_a_page_is_made_on_the_first_visit_and_kept(qtbot, window, made):
    assert made == []
    qtbot.mouseClick(window.place_button("form"), LEFT)
    first = window.page("form")
    qtbot.mouseClick(window.place_button("people"), LEFT)
    qtbot.mouseClick(window.place_button("form"), LEFT)
    assert window.page("form") is first
    assert first.isVisible()
    assert made == ["form", "people"]


def test_each_place_has_its_key(qtbot, window):
    for number, place in enumerate(PLACES, 1):
        key = getattr(Qt.Key, f"Key_{number}")
        qtbot.keyClick(window, key, Qt.KeyboardModifier.ControlModifier)
        assert window.place == place
        assert window.page(place).hasFocus()
        assert window.place_button(place).isChecked()


def test_a_place_that_is_not_allowed_yet_is_not_visited(qtbot, window):
    window.go_to("people")
    window.allow("fitting", False)
    with qtbot.assertNotEmitted(window.place_changed):
        window.go_to("fitting")
        qtbot.mouseClick(window.place_button("fitting"), LEFT)
    assert window.place == "people"
    assert not window.has_page("fitting")


def test_whose_and_which_form_it_is_stands_in_the_bar_as_plain_text(window):
    window.show_names("<i>Anna</i> & Co", "Eight-part form")
    assert "<i>Anna</i> & Co" in seen(window)
    assert "Eight-part form" in seen(window)
    assert "<i>Anna</i>" in window.windowTitle()
    assert guessing_labels(window) == []


def test_a_very_long_name_is_shortened_and_does_not_widen_the_window(window):
    before = window.minimumSizeHint().width()
    window.show_names("Anna " * 40, "form " * 40)
    window.resize(900, 600)
    assert window.minimumSizeHint().width() == before
    shown = [label for label in window.findChildren(QLabel) if label.text().endswith("…")]
    assert len(shown) == 2


def test_the_strip_says_what_happened_and_offers_ways_out(qtbot, window):
    assert window.strip.text() == ""
    tried = []
    window.show_message("The disk is full.", {"Try again": lambda: tried.append(1)})
    assert window.strip.text() == "The disk is full."
    qtbot.mouseClick(window.strip.ways()[0], LEFT)
    assert tried == [1]
    qtbot.mouseClick(window.strip.ways()[-1], LEFT)
    assert window.strip.text() == ""
    window.show_message("Once more.")
    assert len([b for b in window.strip.ways() if b.isVisible()]) == 1


def test_a_record_for_looking_and_a_problem_have_their_own_words(qtbot, window):
    taken_over = []
    window.show_read_only({"Take over": lambda: taken_over.append(1)})
    assert window.strip.text() == say("strip.read_only")
    qtbot.mouseClick(window.strip.ways()[0], LEFT)
    assert taken_over == [1]
    window.show_problem("The disk is full.", lambda: taken_over.append(2))
    assert window.strip.ways()[0].text() == say("strip.try_again")
    qtbot.mouseClick(window.strip.ways()[0], LEFT)
    assert taken_over == [1, 2]


def test_it_stands_where_it_stood_when_that_is_on_a_screen(window):
    window.restore(Window(left=10, top=20, width=760, height=560))
    assert window.standing() == Window(left=10, top=20, width=760, height=560)


@pytest.mark.parametrize("stood", [Window(left=90_000, top=-90_000), Window(width=90_000)])
def test_it_comes_back_onto_the_screen(window, stood):
    window.restore(stood)
    free = QGuiApplication.primaryScreen().availableGeometry()
    assert free.contains(window.geometry().topLeft())
    assert window.width() <= free.width()


def test_the_first_time_its_title_bar_fits_above_it(window):
    free = QGuiApplication.primaryScreen().availableGeometry()
    window.restore(Window(width=90_000, height=90_000))
    assert LEAST_HEIGHT < window.height() < free.height()


@pytest.mark.parametrize(
    ("share", "fills"), [((0.95, 0.95), True), ((0.9, 0.6), False), ((1.5, 0.9), False)]
)
def test_at_first_a_window_that_would_cover_most_of_the_screen_fills_it(window, share, fills):
    screen = window.screen().availableGeometry()
    width, height = round(screen.width() * share[0]), round(screen.height() * share[1])
    window.restore(Window(left=0, top=0, width=width, height=height))
    assert bool(window.windowState() & Qt.WindowState.WindowMaximized) == fills


@pytest.mark.parametrize("key", [Qt.Key.Key_Return, Qt.Key.Key_Enter, Qt.Key.Key_Space])
def test_enter_presses_the_button_in_use_as_space_does(qtbot, window, key):
    window.place_button("form").setFocus()
    qtbot.keyClick(window.place_button("form"), key)
    assert window.place == "form"


def test_closing_tells_how_it_stood(qtbot, window):
    with qtbot.waitSignal(window.closing) as told:
        window.close()
    assert told.args[0] == window.standing()


def test_everything_in_the_frame_has_a_name(window):
    window.show_message("Something.", {"Try again": lambda: None})
    window.go_to("people")
    assert unnamed(window) == []


@pytest.mark.parametrize("scale", [1.0, 2.0])
def test_the_frame_fits_a_small_screen_at_any_size_of_type(qapp, window, scale):
    # 1366 x 768: the smallest screen the design was drawn for.
    theme.apply(qapp, "light", scale)
    window.show_names("Anna", "Eight-part form")
    assert window.minimumSizeHint().width() <= 1366
    assert window.minimumSizeHint().height() <= 768
    theme.apply(qapp, "light", 1.0)


def test_starting_the_frame_loads_no_numerics():
    code = (
        "import sys; import fitassist.gui.main_window, fitassist.gui.people_page;"
        "import fitassist.gui.settings_page;"
        "print([m for m in ('numpy', 'scipy', 'shapely', 'pyqtgraph') if m in sys.modules])"
    )
    told = subprocess.run(
        [sys.executable, "-c", code], capture_output=True, text=True, check=True, timeout=60
    )
    assert told.stdout.strip() == "[]"


def test_control_q_ends_the_program_wherever_one_is(qtbot, window):
    window.go_to("people")
    here = window.page("people")
    here.setFocus()
    with qtbot.waitSignal(window.closing):
        qtbot.keyClick(here, Qt.Key.Key_Q, Qt.KeyboardModifier.ControlModifier)
    assert not window.isVisible()


def test_a_place_shown_by_the_program_takes_the_keys_so_that_enter_answers_it(qtbot, window):
    window.place_button("people").setFocus()
    window.go_to("fitting")
    assert window.page("fitting").hasFocus()
    qtbot.keyClick(window.page("fitting"), Qt.Key.Key_Return)
    assert window.place == "fitting"
    # A place gone to by its own button leaves the keys there, for whoever goes on along the bar.
    window.place_button("form").setFocus()
    qtbot.keyClick(window.place_button("form"), Qt.Key.Key_Space)
    assert window.place_button("form").hasFocus()


def test_on_a_tiny_screen_a_page_can_be_scrolled_to_its_end(qtbot, window):
    window.go_to("people")
    area = window.area
    assert area.horizontalScrollBar().maximum() == area.verticalScrollBar().maximum() == 0
    window.setMinimumSize(320, 240)
    window.resize(400, 300)
    qtbot.waitUntil(lambda: area.verticalScrollBar().maximum() > 0)
    assert area.horizontalScrollBar().maximum() > 0
    assert window.page("people").width() >= LEAST_WIDTH


def test_a_window_never_needs_more_than_its_screen(qtbot, window):
    free = QGuiApplication.primaryScreen().availableSize()
    assert window.minimumWidth() <= free.width()
    assert window.minimumHeight() <= free.height()


def test_a_screen_that_is_unplugged_while_full_leaves_the_page_on_another(qtbot, qapp, window):
    window.go_to("people")
    window.show_alone(True)
    window.setGeometry(9000, 9000, 800, 600)  # where the screen was that is gone
    qapp.screenRemoved.emit(qapp.primaryScreen())
    qtbot.waitUntil(lambda: window.geometry() == window.screen().geometry())
    window.show_alone(False)
    assert window.screen().availableGeometry().intersects(window.geometry())


def test_a_screen_that_is_unplugged_leaves_the_window_where_it_can_be_seen(qtbot, qapp, window):
    window.setGeometry(9000, 9000, 800, 600)
    qapp.screenRemoved.emit(qapp.primaryScreen())
    free = window.screen().availableGeometry()
    # All but what the frame may take at an edge.
    qtbot.waitUntil(lambda: free.intersected(window.geometry()).width() > 0.9 * window.width())
    assert free.intersected(window.geometry()).height() > 0.9 * window.height()
