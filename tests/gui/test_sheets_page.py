# SPDX-License-Identifier: MIT
"""The page of sheets: what is chosen is shown, saved whole or not at all, printed if possible."""

from __future__ import annotations

import json
import threading
from io import BytesIO

import pytest
from pypdf import PdfReader
from PySide6.QtCore import Qt, QThreadPool
from PySide6.QtGui import QFontDatabase
from PySide6.QtPrintSupport import QPrintDialog, QPrinter, QPrinterInfo
from PySide6.QtTest import QTest
from PySide6.QtWidgets import QFileDialog, QPushButton

from fitassist.errors import FitError, StorageFailed
from fitassist.gui.page_output import paint_on, write_out
from fitassist.gui.sheets_page import SheetsPage
from fitassist.report.facts import Facts
from fitassist.report.padding_facts import Padding
from fitassist.report.paper import A4, LETTER
from fitassist.report.sheets import SHEETS
from fitassist.report.templates import check_squares
from tests.gui.test_pdf_painter import strokes
from tests.unit.report.told import a_target, some_facts, some_padding


class Source:
    """Facts as a record would tell them."""

    def __init__(self, facts: Facts | FitError | None, padding: Padding | None = None) -> None:
        self.told, self.laid = facts, padding
        self.asked: list[bool] = []
        self.job = None

    def facts(self, newest: bool = False) -> Facts | None:
        self.asked.append(newest)
        if isinstance(self.told, FitError):
            raise self.told
        return self.told

    def padding(self) -> Padding | None:
        return self.laid

    def padding_job(self):
        return self.job

    def take(self, worked_out: object) -> None:
        self.laid, self.job = worked_out, None

    def fronts(self) -> dict[str, float]:
        return {}


@pytest.fixture
def shown(qtbot):
    def show(source: Source, unit: str = "in") -> SheetsPage:
        page = SheetsPage(source, unit)
        qtbot.addWidget(page)
        page.resize(1100, 700)
        page.show()
        return page

    return show


@pytest.fixture
def page(shown):
    facts = some_facts(more=[a_target("neck", 380.0)])
    return shown(Source(facts, some_padding()))


@pytest.fixture
def saving(monkeypatch):
    """Answer the dialog for a file with a path, and note what was offered."""
    offered: list[str] = []

    def answer(path: str) -> list[str]:
        def ask(_parent: object, _title: str, name: str, _filters: str) -> tuple[str, str]:
            offered.append(name)
            return path, ""

        monkeypatch.setattr(QFileDialog, "getSaveFileName", ask)
        return offered

    return answer


def test_every_sheet_can_be_chosen_and_its_first_page_is_shown(page) -> None:
    page.choices.cover.field("stretched").set_text("6 in")
    page.choices.hem.field("worn").set_text("16 in")
    page.choices.hem.field("waist").set_text("40 in")
    page.choices.hem.field("form_waist").set_text("41 in")
    for key in SHEETS:
        page.choices.choose(key)
        assert page.problem() == "", key
        assert page.pages
        assert page.preview.page is page.pages[0]
        assert page.preview.accessibleDescription() or key in ("strips", "templates")


def test_the_paper_goes_with_the_unit_and_can_be_changed(shown) -> None:
    inches, metric = shown(Source(some_facts()), "in"), shown(Source(some_facts()), "cm")
    assert inches.pages[0].width_mm == LETTER.width_mm
    assert metric.pages[0].width_mm == A4.width_mm
    QTest.mouseClick(
        next(b for b in inches.choices.paper.children() if getattr(b, "text", str)() == "A4"),
        Qt.MouseButton.LeftButton,
    )
    assert inches.pages[0].width_mm == A4.width_mm
    inches.set_unit("cm")
    assert inches.choices.unit == "cm"


def test_pages_can_be_turned_by_buttons_and_keys_and_the_ends_are_ends(page) -> None:
    assert len(page.pages) == 2
    assert not page.before_button.isEnabled()
    page.after_button.click()
    assert page.preview.page is page.pages[1]
    assert not page.after_button.isEnabled()
    QTest.keyClick(page, Qt.Key.Key_PageUp)
    assert page.preview.page is page.pages[0]
    page.larger_button.click()
    wide = page.preview.widget().width()
    page.larger_button.click()
    assert page.preview.widget().width() < wide


def test_without_body_numbers_is_offered_where_it_can_be(page) -> None:
    before = [i.text for i in page.pages[0].items if hasattr(i, "text")]
    page.choices.blind.click()
    after = [i.text for i in page.pages[0].items if hasattr(i, "text")]
    assert before != after
    page.choices.choose("ribbons")
    assert not page.choices.blind.isVisible()


def test_a_sheet_is_saved_under_a_name_that_tells_nobodys(page, saving, tmp_path) -> None:
    path = tmp_path / "out.pdf"
    offered = saving(str(path))
    page.save_button.click()
    assert "Zoë" not in offered[0]
    assert offered[0].endswith("person sheet.pdf")
    reader = PdfReader(BytesIO(path.read_bytes()))
    assert len(reader.pages) == 2
    assert "Saved as out.pdf." in page.said()


def test_a_name_without_an_ending_gets_one_and_a_cancelled_dialog_saves_nothing(
    page, saving, tmp_path
) -> None:
    saving(str(tmp_path / "out"))
    page.save_button.click()
    assert (tmp_path / "out.pdf").exists()
    saving("")
    page.choices.choose("balance")
    page.save_button.click()
    assert page.said() == ""


def test_the_same_can_be_saved_as_data(page, saving, tmp_path) -> None:
    path = tmp_path / "sheet.json"
    saving(str(path))
    page.data_button.click()
    assert json.loads(path.read_text("utf-8"))["format"] == "fitassist-sheet"
    page.choices.choose("hanging")
    assert not page.data_button.isVisible()


def test_a_file_that_cannot_be_written_is_said_and_left_as_it_was(page, saving, tmp_path) -> None:
    saving(str(tmp_path / "no such folder" / "out.pdf"))
    page.save_button.click()
    assert "could not be written" in page.said()
    assert "another folder" in page.said()
    folder = tmp_path / "a folder.pdf"
    folder.mkdir()
    with pytest.raises(StorageFailed, match="sheet_not_written"):
        write_out(str(folder), b"x")
    assert folder.is_dir()


def test_no_printer_is_said(page, monkeypatch) -> None:
    monkeypatch.setattr(QPrinterInfo, "availablePrinterNames", lambda: [])
    page.print_button.click()
    assert "No printer" in page.said()


def test_printing_that_was_thought_better_of_says_nothing(page, monkeypatch) -> None:
    monkeypatch.setattr(QPrinterInfo, "availablePrinterNames", lambda: ["one"])
    monkeypatch.setattr(QPrintDialog, "exec", lambda _self: QPrintDialog.DialogCode.Rejected)
    page.print_button.click()
    assert page.said() == ""


def test_a_printer_is_given_pages_true_to_size(qapp, tmp_path) -> None:
    printer = QPrinter(QPrinter.PrinterMode.HighResolution)
    printer.setOutputFileName(str(tmp_path / "printed.pdf"))
    paint_on(printer, [check_squares(A4), check_squares(LETTER)])
    reader = PdfReader(tmp_path / "printed.pdf")
    assert len(reader.pages) == 2
    for number in (0, 1):
        lengths = [((s[1] - s[0]) ** 2).sum() ** 0.5 for s in strokes(reader, number)]
        for side in (100.0, 101.6):
            assert sum(abs(length - side) <= 0.001 * side for length in lengths) >= 3


@pytest.mark.parametrize("told", [None, FitError("sheet_nobody")])
def test_with_nobody_chosen_the_page_says_so_and_leads_to_the_people(shown, told, qtbot) -> None:
    page = shown(Source(told))
    assert "Choose a person" in page.problem()
    assert not page.save_button.isEnabled()
    with qtbot.waitSignal(page.people_asked):
        page.people_button.click()
    page.choices.choose("blank")
    assert page.pages
    assert page.problem() == ""


def test_a_sheet_without_a_fitting_or_padding_says_what_to_do_first(shown) -> None:
    page = shown(Source(some_facts(form=None)))
    assert "Begin a fitting" in page.problem()
    assert not page.people_button.isVisible()
    page.choices.choose("templates")
    assert "Plan the padding" in page.problem()
    page.choices.choose("ribbons")
    assert page.pages


def test_what_is_missing_for_a_cover_is_asked_for_and_refusals_are_told(page) -> None:
    page.choices.choose("cover")
    assert "not filled in" in page.problem()
    page.choices.cover.field("stretched").set_text("4 1/4")
    assert "% across" in page.problem()
    page.choices.cover.field("stretched").set_text("6")
    assert page.problem() == ""
    assert len(page.pages) == 2
    shapes = page.choices.cover.manner.findChildren(QPushButton)
    tube = next(made for made in shapes if made.text() == "Plain tube")
    QTest.mouseClick(tube, Qt.MouseButton.LeftButton)
    assert "hip" in page.problem()  # 50 % of stretch is too little without a shaped seam
    assert not page.choices.cover.ease.isVisible()


def test_ribbons_and_hems_go_by_the_newest_readings(shown) -> None:
    source = Source(some_facts())
    page = shown(source)
    for key, newest in (("ribbons", True), ("hem", True), ("balance", False)):
        page.choices.choose(key)
        assert source.asked[-1] is newest


def test_heights_typed_for_one_body_are_not_kept_for_another(shown) -> None:
    source = Source(some_facts())
    page = shown(source)
    page.choices.choose("hem")
    page.choices.hem.field("waist").set_text("40 in")
    page.refresh()
    assert page.choices.hem.field("waist").text() == "40 in"
    source.told = some_facts(name="Somebody Else")
    page.refresh()
    assert page.choices.hem.field("waist").text() == ""


def test_padding_is_worked_out_behind_the_page_and_then_shown(shown, qtbot) -> None:
    source = Source(some_facts())
    source.job = lambda _watch: some_padding()
    page = shown(source)
    assert "being worked out" in page.problem()
    assert not page.save_button.isEnabled()
    qtbot.waitUntil(lambda: bool(page.pages))
    assert page.problem() == ""
    page.choices.choose("templates")
    assert page.pages


def test_padding_that_cannot_be_worked_out_is_said(shown, qtbot) -> None:
    def refuse(_watch: object) -> object:
        raise FitError("padding_too_few_lines")

    source = Source(some_facts())
    source.job = refuse
    page = shown(source)
    qtbot.waitUntil(lambda: "being worked out" not in page.problem())
    assert page.problem()
    assert len(page.pages) == 2  # all but the padding is told
    page.choices.choose("templates")
    qtbot.waitUntil(lambda: "being worked out" not in page.problem())
    assert page.problem()
    assert not page.pages
    page.choices.choose("balance")  # needs no padding
    assert page.pages
    assert page.problem() == ""


def test_work_that_nobody_waits_for_any_more_changes_nothing(shown, qtbot) -> None:
    begun, go_on = threading.Event(), threading.Event()

    def slow(watch) -> object:
        begun.set()
        go_on.wait(5.0)
        watch(0.5)
        return some_padding()

    source = Source(some_facts())
    source.job = slow
    page = shown(source)
    assert begun.wait(5.0)
    page.choices.choose("ribbons")
    shown_pages = page.pages
    go_on.set()
    QThreadPool.globalInstance().waitForDone(5000)
    qtbot.wait(20)
    assert page.pages is shown_pages
    assert source.laid is None


def test_letters_no_font_has_are_told(shown) -> None:
    page = shown(Source(some_facts(name="Zoë \U0001e900")))  # a script few fonts hold
    if "cannot be drawn" in page.problem():
        assert "\U0001e900" in page.problem()
    assert page.pages
    plain = shown(Source(some_facts(name="Zoe")))
    assert plain.problem() == ""


def test_without_any_font_it_is_said_that_no_words_can_be_printed(shown, monkeypatch) -> None:
    monkeypatch.setattr(QFontDatabase, "families", lambda *_: [])
    assert "No font" in shown(Source(some_facts())).problem()


def test_it_is_said_that_copies_are_not_erased(page, qtbot) -> None:
    from PySide6.QtWidgets import QLabel

    said = [label.text() for label in page.findChildren(QLabel)]
    assert any("does not erase" in text for text in said)
