# SPDX-License-Identifier: MIT
"""Sheets as PDFs, read back by other programs: true to size, sheets that meet, any script."""

from __future__ import annotations

import re
import shutil
import subprocess
import unicodedata
from io import BytesIO

import numpy as np
import pytest
from pypdf import PdfReader
from PySide6.QtGui import QImage

from fitassist.gui.page_type import missing_letters, width_mm
from fitassist.gui.pdf_painter import pdf_bytes
from fitassist.gui.pdf_true_size import with_true_size
from fitassist.report.cover_sheet import CoverWanted, cover_pages
from fitassist.report.flow import EDGE_MM
from fitassist.report.page import Text
from fitassist.report.paper import A3, A4, LETTER, SAFE_MM
from fitassist.report.person_sheet import person_pages
from fitassist.report.ribbons import STRIP_MM, TAIL_MM, ribbon_pages, strip_pages
from fitassist.report.sheets import SHEETS, Wanted, pages_of
from fitassist.report.tiles import plan_tiles
from tests.gui.test_pdf_painter import strokes
from tests.unit.report.told import GIRTHS, a_target, some_facts, some_padding

pytestmark = pytest.mark.usefixtures("qapp")
NEEDS_POPPLER = pytest.mark.skipif(shutil.which("pdftoppm") is None, reason="needs pdftoppm")


def read_text(pages) -> str:
    """What another program copies out of a PDF, compatibility forms and spaces made plain."""
    reader = PdfReader(BytesIO(pdf_bytes(pages)))
    found = " ".join(page.extract_text() for page in reader.pages)
    return " ".join(unicodedata.normalize("NFKC", found).split())


@pytest.mark.parametrize("paper", [A4, A3, LETTER])
def test_a_ribbon_joined_from_its_sheets_is_true_within_a_thousandth(paper) -> None:
    reader = PdfReader(BytesIO(pdf_bytes(strip_pages(some_facts(), paper))))
    longest = max(GIRTHS.values()) + 2.0 * TAIL_MM
    tiling = plan_tiles(longest + 2.0, 3 * 28.0, paper)
    across: dict[int, list[float]] = {}
    for number, window in enumerate(tiling.windows_mm, start=1):
        corner = np.array(window[:2]) - SAFE_MM
        for stroke in strokes(reader, number):
            if abs(abs(stroke[1, 1] - stroke[0, 1]) - STRIP_MM) < 0.01:
                middle = stroke.mean(axis=0) + corner
                across.setdefault(round(middle[1] / 28.0), []).append(middle[0])
    for girth, xs in zip((900.0, 700.0, 950.0), (across[k] for k in sorted(across)), strict=True):
        places = sorted(xs)
        # The outline's ends lie a tail beyond the marks; a mark on two sheets is there twice.
        marks = [x for x in places if places[0] + 1.0 < x < places[-1] - 1.0]
        marks = marks or places
        inner = [x for x in marks if abs(x - min(marks)) < 0.3 or abs(x - max(marks)) < 0.3]
        assert max(inner) - min(inner) == pytest.approx(girth, rel=1e-3)
        for mark in marks:
            same = [x for x in marks if abs(x - mark) < 3.0]
            assert max(same) - min(same) <= 0.2  # neighbouring sheets agree


@NEEDS_POPPLER
def test_a_strip_drawn_by_another_program_is_as_wide_as_it_should_be(tmp_path) -> None:
    file = tmp_path / "strips.pdf"
    file.write_bytes(pdf_bytes(strip_pages(some_facts(), A4)))
    dpi = 600
    subprocess.run(
        ["pdftoppm", "-r", str(dpi), "-gray", "-png", "-f", "2", "-singlefile", file,
         tmp_path / "page"], check=True,
    )  # fmt: skip
    image = QImage(str(tmp_path / "page.png")).convertToFormat(QImage.Format.Format_Grayscale8)
    shape = (image.height(), image.bytesPerLine())
    ink = np.frombuffer(image.constBits(), np.uint8).reshape(shape)[:, : image.width()] < 128
    # Down through the first strip's tail, where nothing is written: its two long edges.
    column = round((SAFE_MM + 1.0 + TAIL_MM / 2.0) / 25.4 * dpi)
    top, bottom = SAFE_MM + 0.5, SAFE_MM + 1.0 + STRIP_MM + 2.0
    rows = np.flatnonzero(ink[: round(bottom / 25.4 * dpi), column])
    rows = rows[rows > top / 25.4 * dpi]
    breaks = np.flatnonzero(np.diff(rows) > 1)
    upper, lower = rows[: breaks[0] + 1].mean(), rows[breaks[-1] + 1 :].mean()
    assert (lower - upper) / dpi * 25.4 == pytest.approx(STRIP_MM, abs=25.4 / dpi)


def test_the_half_pattern_of_a_cover_is_true_on_the_sheets_it_is_cut_into() -> None:
    facts = some_facts(more=[a_target("neck", 380.0)])
    wanted = CoverWanted(stretched_mm=150.0, manner="drafted")
    pages = cover_pages(facts, wanted, A3, "cm", width_mm)
    reader = PdfReader(BytesIO(pdf_bytes(pages)))
    lengths = [
        float(np.linalg.norm(stroke[1] - stroke[0]))
        for number in range(len(pages))
        for stroke in strokes(reader, number)
    ]
    # Its lower edge: half of 95 cm less 5 %, drawn whole and clipped at the sheet.
    assert any(length == pytest.approx(0.95 * 950.0 / 2.0, rel=1e-3) for length in lengths)


@pytest.mark.parametrize("key", [key for key in SHEETS if key not in ("cover", "hem")])
@pytest.mark.parametrize("paper", [A4, LETTER], ids=lambda paper: paper.name)
def test_words_set_with_a_real_font_stay_inside_the_edges(key, paper) -> None:
    pages = pages_of(
        Wanted(key, paper=paper, unit="in"), some_facts(), some_padding(), None, width_mm
    )
    for page in pages:
        for item in page.items:
            if isinstance(item, Text) and not item.angle_deg:
                wide = width_mm(item.text, item.size_mm, item.is_bold)
                left = item.at[0] - (wide / 2 if item.is_centred else wide * item.ends_there)
                assert left >= min(EDGE_MM, SAFE_MM) - 0.5, item.text
                assert left + wide <= page.width_mm - SAFE_MM + 0.5, item.text


def test_hostile_names_come_back_as_the_text_they_are() -> None:
    name = "<b>bold</b> & {0} %s"
    assert name in read_text(person_pages(some_facts(name=name), A4, measure=width_mm))
    assert name in read_text(ribbon_pages(some_facts(name=name), A4, measure=width_mm))


NAMES = ["Ångström Øre", "Ελένη Παππά", "Зоя Иванова", "Ğül Şen", "Nguyễn Thị"]


@pytest.mark.parametrize("name", NAMES)
def test_names_in_several_scripts_can_be_copied_out_again(name) -> None:
    if missing_letters(name):
        pytest.skip("no font here has these letters")
    told = read_text(person_pages(some_facts(name=name), A4, measure=width_mm))
    assert unicodedata.normalize("NFKC", name) in told


def test_letters_that_no_font_has_are_found_and_others_are_not() -> None:
    assert missing_letters("Zoë 27 1/8 · ×") == ""
    # A place set aside for private use (Unicode 23.5), so that no usual font draws it.
    assert missing_letters("a\U00104321b") == "\U00104321"


def test_whoever_prints_is_asked_not_to_scale() -> None:
    data = pdf_bytes(ribbon_pages(some_facts(), A4, measure=width_mm), "ribbons")
    reader = PdfReader(BytesIO(data), strict=True)
    preferences = reader.trailer["/Root"]["/ViewerPreferences"].get_object()
    assert preferences["/PrintScaling"] == "/None"
    assert reader.metadata.title == "ribbons"
    assert len(reader.pages) == 1


@pytest.mark.skipif(shutil.which("pdfinfo") is None, reason="needs pdfinfo")
def test_another_program_finds_no_fault_with_the_file(tmp_path) -> None:
    file = tmp_path / "sheet.pdf"
    pages = strip_pages(some_facts(), A4)
    file.write_bytes(pdf_bytes(pages))
    told = subprocess.run(["pdfinfo", file], capture_output=True, text=True, check=True)
    assert told.stderr == ""
    assert re.search(rf"Pages: +{len(pages)}\n", told.stdout)


@pytest.mark.parametrize("data", [b"", b"%PDF-1.4", b"trailer <<>> startxref 5 %%EOF", b"x" * 500])
def test_what_is_no_such_document_is_left_as_it_is(data) -> None:
    assert with_true_size(data) == data
