# SPDX-License-Identifier: MIT
"""The view from beside the form: large enough, private when wanted, and whole fittings by keys."""

from __future__ import annotations

from collections.abc import Iterator

import pytest
from PySide6.QtCore import Qt
from PySide6.QtGui import QAccessible, QColor
from PySide6.QtWidgets import QApplication, QWidget
from pytestqt.qtbot import QtBot

from fitassist.domain.form import DialMeaning
from fitassist.domain.steps import Ask, Measure, SetDials, Turn
from fitassist.gui import theme
from fitassist.gui.beside_view import BesideView
from fitassist.gui.main_window import MainWindow
from fitassist.session.fitting import Fitting
from fitassist.settings import Settings
from fitassist.wording.beside_words import say
from fitassist.wording.private_words import private_cells
from tests.gui.fitting_bench import MOST_ANSWERS, Bench, Disk, true_girth
from tests.gui.form_of_twelve import GOAL_MM, a_body, a_form, started

SMALL_SCREEN = (1366, 768)
# 14 in across at 16 to 9 is 174.3 mm high: 24 mm of it are this share of the pixels.
SHARE = 24.0 / (14 * 25.4 * 9 / (16**2 + 9**2) ** 0.5)
PAD = Qt.KeyboardModifier.KeypadModifier
KEYS = {
    **{str(n): Qt.Key(int(Qt.Key.Key_0) + n) for n in range(10)},
    "*": Qt.Key.Key_Asterisk,
    "/": Qt.Key.Key_Slash,
    "+": Qt.Key.Key_Plus,
    "-": Qt.Key.Key_Minus,
    ".": Qt.Key.Key_Period,
    "enter": Qt.Key.Key_Enter,
}


class Pad:
    """A numeric pad, and nothing else, beside the view."""

    def __init__(self, bench: Bench) -> None:
        self.bench = bench

    @property
    def view(self) -> BesideView:
        view = self.bench.page.link.view
        assert view is not None
        return view

    def press(self, *keys: str) -> None:
        for key in keys:
            here = QApplication.focusWidget()
            assert here is self.view, "the view has lost the keys"
            self.bench.qtbot.keyClick(here, KEYS[key], PAD)

    def eighths(self, mm: float) -> None:
        """Type a length to the nearest eighth of an inch, as a pad does: 38*5."""
        whole, rest = divmod(round(mm / 25.4 * 8), 8)
        self.press(*str(whole), *(("*", str(rest)) if rest else ()), "enter")

    def answer(self) -> None:
        """Do what is asked, by keys of the pad."""
        step = self.bench.fitting.instruction
        if isinstance(step, Measure):
            self.eighths(true_girth(self.bench.fitting, step.line))
        elif isinstance(step, Ask):
            self.press("1")
        else:
            self.press("enter")


@pytest.fixture
def bench(qtbot: QtBot) -> Iterator[Bench]:
    made = Bench(qtbot, Fitting.start(a_body(), a_form()))
    made.page.resize(*SMALL_SCREEN)
    yield made
    made.page.leave_beside()


@pytest.fixture
def pad(bench: Bench) -> Pad:
    bench.key(Qt.Key.Key_F11)
    bench.qtbot.waitUntil(lambda: bench.page.link.view is not None)
    made = Pad(bench)
    bench.qtbot.waitUntil(made.view.hasFocus)
    return made


def test_a_whole_fitting_is_done_on_a_numeric_pad_alone(pad: Pad) -> None:
    for _answer in range(MOST_ANSWERS):
        if pad.bench.kind == "done":
            break
        pad.answer()
    assert pad.bench.fitting.instruction.verdict == "good_enough"  # type: ignore[union-attr]
    for line, goal in GOAL_MM.items():  # 3/8 in is the tolerance, and half an eighth of the tape
        assert true_girth(pad.bench.fitting, line) == pytest.approx(goal, abs=9.6)


def test_figures_stand_24_mm_high_on_a_14_inch_screen(pad: Pad) -> None:
    for _answer in range(MOST_ANSWERS):
        if pad.bench.kind == "done":
            break
        if not isinstance(pad.bench.fitting.instruction, Ask):
            # One pixel is a quarter of a millimetre here.
            assert pad.view.card.digit_high() >= SHARE * SMALL_SCREEN[1] - 1
            assert pad.view.card.fit().words.pointSizeF() >= 11
        pad.answer()


def test_figures_grow_with_the_setting(pad: Pad) -> None:
    before = pad.view.card.digit_high()
    pad.bench.page.link.use(Settings(beside_figure_mm=44.0))
    assert pad.view.card.least_number_px() > 1.5 * before


def test_what_is_read_from_afar_has_a_contrast_of_seven_to_one() -> None:
    for name in ("light", "dark", "contrast"):
        colours = theme.choose(name, system_dark=False, system_contrast=False)
        for ink in (colours.ink, colours.thread):
            assert theme.contrast(ink, colours.card) >= 7.0
            assert QColor(ink).isValid()


def test_dials_that_stopped_are_told_by_digits(pad: Pad) -> None:
    step = pad.bench.fitting.instruction
    assert isinstance(step, SetDials)
    pad.press("1", "1", "1", *"36", "enter")  # not all; the first; stopped; at 36
    assert any(number.endswith("stopped at 36") for number in pad.view.card.numbers())
    pad.press("enter")
    assert pad.bench.fitting.view().numbers[step.turns[0].dial] == 36.0
    assert pad.bench.fitting.view().numbers[step.turns[1].dial] == step.turns[1].number


def test_a_dial_that_is_stuck_stays_where_it_was_with_enter_alone(pad: Pad) -> None:
    step = pad.bench.fitting.instruction
    assert isinstance(step, SetDials)
    pad.press("1", "2", "2", "enter", "enter")
    assert pad.bench.fitting.view().stuck == (step.turns[1].dial,)
    assert pad.bench.fitting.view().numbers[step.turns[1].dial] == step.turns[1].start


def test_a_ribbon_is_answered_by_plus_and_minus(pad: Pad) -> None:
    while pad.bench.kind != "measure":
        pad.answer()
    step = pad.bench.fitting.instruction
    assert isinstance(step, Measure)
    assert step.target_mm is not None
    pad.press("+", "/", "enter")
    assert pad.view.message.text(), "what cannot be understood is said"
    pad.press("-", "0", "*", "1", "enter")
    read = next(v for v in pad.bench.fitting.view().lines if v.line == step.line)
    assert read.last_read_mm == pytest.approx(step.target_mm + 25.4 / 8)
    pad.press("/")  # undo
    assert pad.bench.fitting.instruction.kind == "measure"


def test_something_else_shows_all_keys_and_takes_another_reading(pad: Pad) -> None:
    pad.press("0")
    shown = dict(pad.view.legend.keys())
    for key in ("Enter", "+", "-", "*", "/", "."):
        assert key in shown
    place = next(
        number.split()[0] for number in pad.view.card.numbers() if say("else_reading") in number
    )
    pad.press(place, "2", *"29*1", "enter")
    read = {v.line: v.last_read_mm for v in pad.bench.fitting.view().lines}
    assert read["waist"] == pytest.approx(29.125 * 25.4)


def test_escape_goes_back_one_step_and_then_leaves(pad: Pad) -> None:
    view = pad.view
    pad.press("0")
    pad.bench.qtbot.keyClick(view, Qt.Key.Key_Escape)
    assert pad.bench.page.link.view is view
    pad.bench.qtbot.keyClick(view, Qt.Key.Key_Escape)
    assert pad.bench.page.link.view is None
    assert pad.bench.work.isVisible()


def test_the_private_view_says_no_measure_of_the_body(bench: Bench) -> None:
    """No girth, and no dial number: on this form dials print whole girths."""
    bench.key(Qt.Key.Key_F9)
    pad = Pad(bench)
    girths = {str(inches) for inches in range(28, 44)}
    for _answer in range(MOST_ANSWERS):
        view, card = pad.view, pad.view.card
        said = [
            card.title_text(), *card.numbers(), card.detail_text(), card.reason_text(),
            *view.step_words(), view.progress.text(), card.accessibleName(),
            card.accessibleDescription(), view.sections.accessibleDescription(),
            *view.sections.girth_texts(), *[label for label, _number in card.cells()],
        ]  # fmt: skip
        for text in said:
            assert not girths & set(text.replace(",", " ").replace(".", " ").split()), text
        if bench.kind == "done":
            break
        pad.answer()
    assert bench.kind == "done"


def test_in_the_private_view_what_is_typed_is_hidden_but_what_is_left_is_told(
    bench: Bench,
) -> None:
    bench.key(Qt.Key.Key_F9)
    pad = Pad(bench)
    while bench.kind != "measure":
        pad.answer()
    step = bench.fitting.instruction
    assert isinstance(step, Measure)
    assert step.target_mm is not None
    whole, rest = divmod(round((step.target_mm - 3 * 25.4 / 8) / 25.4 * 8), 8)
    pad.press(*str(whole), "*", str(rest))
    assert not any(figure.isdigit() for figure in pad.view.card.numbers()[0])
    assert "3/8 in to go" in pad.view.card.detail_text()


def test_a_form_whose_numbers_are_gaps_keeps_them_in_the_private_view(qtbot: QtBot) -> None:
    form = a_form(dial_meaning=DialMeaning.SEAM_GAP)
    turn = Turn(dial="bust.left", action="open", start=35, number=36, clicks=4)
    step = SetDials(id=1, row="bust", turns=(turn,))
    assert private_cells(step, form, "in", None) == [("", "35 → 36")]
    assert private_cells(step, a_form(), "in", None) == [("open", "4 clicks")]


def test_plain_steps_name_no_length_in_the_private_view(qtbot: QtBot) -> None:
    made = Bench(qtbot, Fitting(started(), Disk()))
    made.key(Qt.Key.Key_F9)
    pad = Pad(made)
    for _step in range(12):
        if made.kind != "check":
            break
        assert "cm" not in pad.view.card.title_text()
        assert " in " not in f"{pad.view.card.title_text()} ".replace(" in the", "")
        pad.answer()
    made.page.leave_beside()


def test_the_step_is_announced_once_and_again_when_asked(
    pad: Pad, monkeypatch: pytest.MonkeyPatch
) -> None:
    told: list[str] = []
    monkeypatch.setattr(
        QAccessible,
        "updateAccessibility",
        lambda event: told.append(event.message()),
    )
    pad.press(".")
    assert len(told) == 1
    assert told[0].startswith(pad.view.card.accessibleName())
    assert QAccessible.queryAccessibleInterface(pad.view).text(QAccessible.Text.Name)


def test_the_window_gives_the_page_the_whole_screen_and_stands_as_before(qtbot: QtBot) -> None:
    window = MainWindow({"people": QWidget, "fitting": QWidget})
    qtbot.addWidget(window)
    window.show()
    window.go_to("fitting")
    before = window.standing()
    window.show_alone(True)
    assert window.isFullScreen()
    assert not window.place_button("fitting").isVisible()
    assert window.standing() == before
    window.show_alone(False)
    assert not window.isFullScreen()
    assert window.place_button("fitting").isVisible()
