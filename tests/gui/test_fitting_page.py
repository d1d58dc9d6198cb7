# SPDX-License-Identifier: MIT
"""A fitting page from the first instruction to the end, and what it says on the way."""

from __future__ import annotations

import subprocess
import sys
from pathlib import Path

import pytest
from PySide6.QtCore import QEvent, Qt
from PySide6.QtGui import QAccessible, QKeyEvent
from PySide6.QtWidgets import QApplication, QLabel, QWidget
from pytestqt.qtbot import QtBot

from fitassist.gui import instruction_card, theme
from fitassist.gui.bridge import FittingBridge
from fitassist.gui.fitting_page import FittingPage
from fitassist.gui.lines_table import COLUMNS
from fitassist.session.fitting import Fitting
from fitassist.wording.lengths import say_length
from tests.gui.fitting_bench import Bench, Disk, true_girth
from tests.gui.form_of_twelve import GOAL_MM, a_body, a_form, started

ROOT = Path(__file__).resolve().parent.parent.parent


@pytest.fixture
def bench(qtbot: QtBot) -> Bench:
    return Bench(qtbot, Fitting.start(a_body(), a_form()))


# -- a whole fitting ------------------------------------------------------------------------------


def test_a_whole_fitting_is_done_with_enter_and_typed_readings_alone(bench: Bench) -> None:
    bench.set_until("done")
    assert bench.fitting.instruction.verdict == "good_enough"
    for line, goal in GOAL_MM.items():
        assert true_girth(bench.fitting, line) == pytest.approx(goal, abs=9.6)
    assert bench.work.card.title_text().startswith("Good enough")
    assert [text for text in bench.work.card.numbers()] == ["● good"] * 3


def test_at_the_end_nothing_asks_for_the_tape_any_more(bench: Bench) -> None:
    bench.set_until("done")
    assert bench.work.sections.girth_texts() == ("good", "good", "good")
    assert bench.work.list.lines()[-1] == "Nothing more is asked."


def test_where_the_dials_end_the_page_leads_on_to_padding(qtbot: QtBot) -> None:
    bench = Bench(qtbot, Fitting.start(a_body(hip=1150.0), a_form()))
    bench.set_until("done")
    assert bench.fitting.instruction.verdict == "as_near_as_dials_go"
    drawn, told = bench.work.sections.girth_texts(), bench.work.card.numbers()
    assert [text == "good" for text in drawn] == ["good" in text for text in told]
    assert told[-1].startswith("pad ")
    with qtbot.waitSignal(bench.page.padding_asked, timeout=1000):
        bench.click(bench.work.bar.aside("padding"))


def test_where_all_is_good_nobody_is_sent_to_padding(bench: Bench) -> None:
    bench.set_until("done")
    assert not bench.work.bar.aside("padding").isVisible()


def test_one_enter_more_at_the_end_does_nothing(bench: Bench) -> None:
    bench.set_until("done")
    revision = bench.fitting.revision
    bench.enter()
    assert bench.fitting.revision == revision
    assert bench.work.open_panel() is None


def test_what_comes_next_is_listed_with_its_reason(bench: Bench) -> None:
    bench.set_until("set")
    lines = bench.work.list.lines()
    assert lines[0] == "Next"
    coming = bench.fitting.view().upcoming
    assert sum(text[:1].isdigit() for text in lines) == min(len(coming), 3)
    for number, one in enumerate(coming[:3], 1):
        place = next(text for text in lines if text.startswith(f"{number}  "))
        assert one.place in place
        if one.kind == "set" and len(set(one.values["numbers"].values())) == 1:
            assert place.split(" to ")[1][:2].isdigit()


def test_a_page_that_is_given_the_focus_hands_it_to_the_answer(bench: Bench) -> None:
    bench.set_until("measure")
    bench.page.setFocus(Qt.FocusReason.ShortcutFocusReason)
    assert QApplication.focusWidget() is bench.work.bar.field.line_edit


def test_leaving_early_calls_nothing_good_that_was_not_measured(bench: Bench) -> None:
    bench.set_until("measure")
    bench.click(bench.work.bar.aside("leave"))
    assert bench.work.card.title_text().startswith("Left here")
    assert not any("good" in text for text in bench.work.card.numbers())


def test_the_number_of_a_set_stands_large_in_the_forms_own_numbers(bench: Bench) -> None:
    bench.set_until("set")
    step = bench.fitting.instruction
    assert bench.work.card.numbers()[0].startswith(f"{step.turns[0].start:.0f} → ")
    fit = bench.work.card.fit()
    assert fit.title.pointSizeF() >= 34
    assert fit.number.pixelSize() >= 56
    assert "clockwise" not in bench.work.card.accessibleDescription()


def test_enter_held_down_answers_once(bench: Bench) -> None:
    bench.set_until("set")
    before = bench.fitting.instruction.id
    bench.enter()
    after = bench.fitting.instruction.id
    assert after > before
    held = QKeyEvent(
        QEvent.Type.KeyPress, Qt.Key.Key_Return, Qt.KeyboardModifier.NoModifier, "\r", True
    )
    QApplication.sendEvent(bench.work.bar.primary, held)
    assert bench.fitting.instruction.id == after


def test_a_double_click_answers_once(bench: Bench) -> None:
    bench.set_until("set")
    first = bench.fitting.instruction.id
    bench.click(bench.work.bar.primary)
    after = bench.fitting.instruction.id
    assert after > first
    bench.qtbot.mouseDClick(bench.work.bar.primary, Qt.MouseButton.LeftButton)
    bench.qtbot.mouseRelease(bench.work.bar.primary, Qt.MouseButton.LeftButton)
    assert bench.fitting.instruction.id == after


def test_a_click_on_what_is_only_looked_at_leaves_enter_with_the_answer(bench: Bench) -> None:
    bench.set_until("set")
    first = bench.fitting.instruction.id
    bench.click(bench.work.below.choice("lines"))
    bench.enter()
    assert bench.fitting.instruction.id > first


GETTING_READY = """
import sys
from PySide6.QtWidgets import QApplication
app = QApplication([])
from fitassist.gui.bridge import FittingBridge
from fitassist.gui.fitting_page import FittingPage
from tests.gui.form_of_twelve import started
page = FittingPage(FittingBridge(started()))
page.show()
print(page.waiting.heading(), {"numpy", "scipy", "pyqtgraph", "shapely"} & set(sys.modules))
while page.work is None:
    app.processEvents()
print(page.work.card.title_text())
page.close()
page.deleteLater()
"""


def test_the_page_opens_at_once_and_the_first_plan_follows_from_a_thread() -> None:
    child = subprocess.run(
        [sys.executable, "-c", GETTING_READY],
        capture_output=True,
        text=True,
        check=False,
        cwd=ROOT,
        timeout=60,
    )
    assert child.returncode == 0, child.stderr
    first, then = child.stdout.splitlines()
    assert first == "Getting ready… set()"
    assert any(line in then.lower() for line in ("bust", "waist", "hip"))


# -- what goes wrong ------------------------------------------------------------------------------


def test_a_full_disk_shows_a_sentence_and_keeps_what_was_typed(qtbot: QtBot) -> None:
    disk = Disk()
    fitting = Fitting(started(), disk)
    bench = Bench(qtbot, fitting)
    bench.set_until("measure")
    line, revision = fitting.instruction.line, fitting.revision
    disk.is_full = True
    bench.type("36 1/2")
    bench.enter()
    assert "disk is full" in bench.work.bar.message()
    assert bench.work.bar.field.text() == "36 1/2"
    assert fitting.revision == revision
    disk.is_full = False
    bench.enter()
    read = next(v for v in fitting.view().lines if v.line == line)
    assert read.last_read_mm == pytest.approx(36.5 * 25.4)
    assert bench.work.bar.message() == ""


def test_a_full_disk_keeps_an_open_panel_as_it_is(qtbot: QtBot) -> None:
    disk = Disk()
    bench = Bench(qtbot, Fitting(started(), disk))
    bench.click(bench.work.bar.aside("else"))
    bench.work.volunteer.field.setFocus()
    bench.type("35")
    disk.is_full = True
    bench.enter()
    assert "disk is full" in bench.work.volunteer.message()
    assert bench.work.volunteer.field.text() == "35"
    assert bench.work.open_panel() is bench.work.volunteer


def test_a_start_that_cannot_be_written_says_so_and_can_be_tried_again(qtbot: QtBot) -> None:
    disk = Disk()
    disk.is_full = True
    page = FittingPage(FittingBridge(started(), disk))
    qtbot.addWidget(page)
    page.show()
    qtbot.waitUntil(lambda: "disk is full" in page.waiting.text())
    disk.is_full = False
    page.waiting.go.click()
    qtbot.waitUntil(lambda: page.work is not None)


def test_an_empty_page_says_what_to_do_first_with_one_button(qtbot: QtBot) -> None:
    page = FittingPage()
    qtbot.addWidget(page)
    page.show()
    with qtbot.waitSignal(page.form_asked, timeout=1000):
        qtbot.mouseClick(page.waiting.go, Qt.MouseButton.LeftButton)


def test_another_fitting_takes_the_place_of_the_first(bench: Bench) -> None:
    other = Fitting.start(a_body(), a_form(name="Another form"))
    bench.page.show_bridge(FittingBridge.over(other))
    revision = bench.fitting.revision
    bench.click(bench.work.bar.aside("skip"))
    assert bench.fitting.revision == revision
    assert other.instruction.id > 1


# -- what is said besides -------------------------------------------------------------------------


def test_what_the_form_can_never_do_is_said_put_away_and_found_again(qtbot: QtBot) -> None:
    bench = Bench(qtbot, Fitting.start(a_body(waist=660.0), a_form()))
    strip = bench.work.strip
    assert strip.isVisible()
    assert "2 in larger than the body at the waist" in strip.text()
    bench.click(strip.away)
    assert not strip.isVisible()
    bench.enter()
    assert not strip.isVisible()
    bench.work.list.never_asked.emit()
    assert strip.isVisible()


def test_the_lines_say_in_words_and_shapes_how_they_stand(bench: Bench) -> None:
    bench.click(bench.work.below.choice("lines"))
    table = bench.work.lines
    assert table.cell(0, "line") == "Bust"
    assert table.cell(0, "state") == "○ not yet"
    assert table.cell(0, "to_go") == "1 1/2 in to go"
    assert table.cell(0, "target") == "36 1/2 in"
    assert table.cell(0, "read") == "none"
    assert table.cell(0, "tolerance") == "1/4 in either way"
    bench.set_until("done")
    assert table.cell(0, "state") == "● good"
    assert table.cell(0, "why").startswith("No need to measure")


@pytest.mark.parametrize("width", [1100, 1366, 1900])
def test_a_row_of_the_lines_is_as_high_as_its_words_and_no_higher(bench: Bench, width: int) -> None:
    bench.set_until("measure")
    bench.page.resize(width, 1000)
    QApplication.processEvents()
    table = bench.work.lines.table
    line_px, column = table.fontMetrics().lineSpacing(), COLUMNS.index("why")
    for row in range(table.rowCount()):
        wide = table.fontMetrics().horizontalAdvance(bench.work.lines.cell(row, "why"))
        lines = -(-wide // (table.columnWidth(column) - 24))  # less the padding on both sides
        assert min(lines, 4) * line_px <= table.rowHeight(row) <= (lines + 1.5) * line_px


def test_chances_are_shown_on_request_only(bench: Bench) -> None:
    bench.click(bench.work.below.choice("lines"))
    column = COLUMNS.index("chance")
    assert bench.work.lines.table.isColumnHidden(column)
    bench.work.lines.chances.click()
    assert not bench.work.lines.table.isColumnHidden(column)


def test_another_unit_is_said_everywhere_and_keeps_what_is_typed(bench: Bench) -> None:
    bench.set_until("measure")
    step = bench.fitting.instruction
    bench.type("95")
    bench.page.set_unit("cm")
    assert bench.work.card.numbers() == (say_length(step.target_mm, "cm"),)
    assert bench.work.bar.field.text() == "95"
    bench.enter()
    read = next(v for v in bench.fitting.view().lines if v.line == step.line)
    assert read.last_read_mm == pytest.approx(950.0)


def test_another_look_is_worn_at_once_by_all_parts(bench: Bench, qapp: QApplication) -> None:
    def paper(widget: QWidget) -> str:
        return widget.grab().toImage().pixelColor(3, 3).name().upper()

    bench.set_until("set")
    before = bench.work.card.fit().number.pixelSize()
    for look in (theme.DARK, theme.CONTRAST, theme.LIGHT):
        theme.apply(qapp, look.name, 1.0)
        assert paper(bench.page) == look.page
        assert paper(bench.work.card) == look.card
        assert paper(bench.work.sections._plot) == look.page
    theme.apply(qapp, "light", 1.5)
    bench.qtbot.waitUntil(lambda: bench.work.bar.primary.font().pointSizeF() > theme.TEXT_PT)
    theme.apply(qapp, "light", 1.0)
    bench.qtbot.waitUntil(lambda: bench.work.card.fit().number.pixelSize() == before)


def _name(widget: QWidget) -> str:
    interface = QAccessible.queryAccessibleInterface(widget)
    return interface.text(QAccessible.Text.Name)


@pytest.mark.parametrize("opened", ["", "exceptions", "else"])
def test_everything_that_takes_the_focus_has_a_name(bench: Bench, opened: str) -> None:
    bench.set_until("set")
    if opened:
        bench.click(bench.work.bar.aside(opened))
    found = [
        widget
        for widget in bench.page.findChildren(QWidget)
        if widget.isVisible() and widget.focusPolicy() & Qt.FocusPolicy.TabFocus
    ]
    assert len(found) > 4
    assert [repr(widget) for widget in found if not _name(widget)] == []


def test_a_change_of_instruction_is_announced(
    bench: Bench, monkeypatch: pytest.MonkeyPatch
) -> None:
    said: list[str] = []

    def note(event: object) -> None:
        said.append(event.message())  # type: ignore[attr-defined]

    bench.set_until("set")
    monkeypatch.setattr(instruction_card.QAccessible, "updateAccessibility", staticmethod(note))
    bench.enter()
    assert len(said) == 1
    assert said[0].startswith(bench.work.card.accessibleName())


SIZES = [(1366, 700), (1920, 1010), (1024, 640)]


@pytest.mark.parametrize("size", SIZES, ids=lambda s: f"{s[0]}x{s[1]}")
@pytest.mark.parametrize("kind", ["set", "measure"])
def test_nothing_is_cut_off(bench: Bench, size: tuple[int, int], kind: str) -> None:
    bench.page.resize(*size)
    bench.set_until(kind)
    bench.qtbot.waitUntil(lambda: bench.page.width() == size[0])
    assert bench.page.height() == size[1], "the page asks for more than the screen has"

    def cut_off() -> list[str]:
        found = []
        for widget in (w for w in bench.work.bar.findChildren(QWidget) if w.isVisible()):
            corner = widget.mapTo(bench.page, widget.rect().bottomRight())
            is_short = isinstance(widget, QLabel) and not widget.wordWrap()
            if not bench.page.rect().contains(corner):
                found.append(f"{widget!r} leaves the page")
            elif is_short and widget.width() < widget.sizeHint().width():
                found.append(f"{widget!r} is cut off")
        return found

    bench.qtbot.waitUntil(lambda: cut_off() == [])
    bench.click(bench.work.bar.aside("else"))
    bench.qtbot.waitUntil(lambda: cut_off() == [])
    assert (bench.page.width(), bench.page.height()) == size, "opening a panel moved the window"


def test_at_double_size_of_type_the_words_on_the_card_stay_large(bench: Bench) -> None:
    app = QApplication.instance()
    assert isinstance(app, QApplication)
    theme.apply(app, "light", 2.0)
    bench.page.resize(1366, 700)
    for _answer in range(6):
        # Half as large again as usual text, at least; the heading gives way first.
        assert bench.work.card.fit().words.pointSizeF() >= 1.5 * theme.TEXT_PT
        if bench.kind == "measure":
            bench.type(say_length(true_girth(bench.fitting, bench.fitting.instruction.line), "in"))
        bench.enter()
