# SPDX-License-Identifier: MIT
"""PDFs read back by pypdf and drawn by poppler: true to size, sheets that meet, words that copy."""

from __future__ import annotations

import shutil
import subprocess
import unicodedata
from collections.abc import Iterator
from io import BytesIO

import numpy as np
import pytest
from pypdf import PdfReader
from pypdf.generic import ContentStream
from PySide6.QtGui import QImage, QPageSize

from fitassist.gui.pdf_painter import pdf_bytes
from fitassist.padding.plan import plan_padding
from fitassist.padding.surface import Section
from fitassist.report.page import Line, Page, Polygon, Text
from fitassist.report.paper import A3, A4, LETTER, SAFE_MM
from fitassist.report.templates import check_squares, template_pages
from fitassist.report.tiles import plan_tiles, tile
from tests.unit.padding.shells import ellipse

MM_PER_POINT = 25.4 / 72.0  # PDF: 72 points to the inch (ISO 32000-1, 8.3.2.3)
POINT_MM = 0.2  # QPdfWriter rounds page sizes to whole points: at most half a point each way

pytestmark = pytest.mark.usefixtures("qapp")


def strokes(reader: PdfReader, number: int) -> Iterator[np.ndarray]:
    """Every straight stroke of a page as (2, 2), mm from its top left corner."""
    page = reader.pages[number]
    height = float(page.mediabox.height)
    matrix, kept = np.eye(3), []
    at = np.zeros(2)
    for operands, operator in ContentStream(page.get_contents(), reader).operations:
        numbers = [float(n) for n in operands] if operator in {b"cm", b"m", b"l"} else []
        if operator == b"q":
            kept.append(matrix)
        elif operator == b"Q":
            matrix = kept.pop()
        elif operator == b"cm":
            a, b, c, d, e, f = numbers
            matrix = np.array([[a, b, 0], [c, d, 0], [e, f, 1]]) @ matrix
        elif operator in {b"m", b"l"}:
            x, y, _one = np.array([*numbers, 1.0]) @ matrix
            point = np.array([x, height - y]) * MM_PER_POINT
            if operator == b"l":
                yield np.array([at, point])
            at = point


def read(pages: list[Page]) -> PdfReader:
    return PdfReader(BytesIO(pdf_bytes(pages, "templates")))


@pytest.mark.parametrize(
    ("paper", "known"),
    [
        (A4, QPageSize.PageSizeId.A4),
        (A3, QPageSize.PageSizeId.A3),
        (LETTER, QPageSize.PageSizeId.Letter),
    ],
)
def test_paper_is_as_large_as_the_toolkits_own_list_says(paper, known) -> None:
    size = QPageSize(known).size(QPageSize.Unit.Millimeter)
    assert (paper.width_mm, paper.height_mm) == pytest.approx((size.width(), size.height()))
    (page,) = read([check_squares(paper)]).pages
    assert float(page.mediabox.width) * MM_PER_POINT == pytest.approx(paper.width_mm, abs=POINT_MM)
    assert float(page.mediabox.height) * MM_PER_POINT == pytest.approx(
        paper.height_mm, abs=POINT_MM
    )


def test_each_page_has_its_own_size() -> None:
    pages = [
        Page(w, h, (Line((20, 20), (30, 20)),)) for w, h in ((210, 297), (610, 1300), (300, 90))
    ]
    for drawn, page in zip(read(pages).pages, pages, strict=True):
        box = drawn.mediabox
        got = np.array([float(box.width), float(box.height)]) * MM_PER_POINT
        assert got == pytest.approx([page.width_mm, page.height_mm], abs=POINT_MM)


def test_the_test_squares_are_true_within_a_thousandth() -> None:
    reader = read([check_squares(A4)])
    lengths = [np.linalg.norm(stroke[1] - stroke[0]) for stroke in strokes(reader, 0)]
    for side in (100.0, 101.6):
        assert sum(abs(length - side) <= 0.001 * side for length in lengths) >= 3


@pytest.mark.skipif(shutil.which("pdftoppm") is None, reason="needs pdftoppm")
def test_another_program_draws_the_square_of_100_mm_true_within_a_thousandth(tmp_path) -> None:
    file = tmp_path / "squares.pdf"
    file.write_bytes(pdf_bytes([check_squares(A4)]))
    dpi = 600
    subprocess.run(
        ["pdftoppm", "-r", str(dpi), "-gray", "-png", "-singlefile", file, tmp_path / "page"],
        check=True,
    )
    image = QImage(str(tmp_path / "page.png")).convertToFormat(QImage.Format.Format_Grayscale8)
    shape = (image.height(), image.bytesPerLine())
    ink = np.frombuffer(image.constBits(), np.uint8).reshape(shape)[:, : image.width()] < 128
    row = round((SAFE_MM + 20.0) / 25.4 * dpi)  # crosses the first square, above its words
    columns = np.flatnonzero(ink[row])
    breaks = np.flatnonzero(np.diff(columns) > 1)
    left = columns[: breaks[0] + 1].mean()
    right = columns[breaks[0] + 1 :].mean()
    assert (right - left) / dpi * 25.4 == pytest.approx(100.0, rel=1e-3)


def test_crosses_of_neighbouring_sheets_meet() -> None:
    tiling = plan_tiles(500.0, 700.0, A4)
    slanted = Polygon(((3.0, 5.0), (497.0, 690.0), (3.0, 690.0)))
    reader = read(tile([slanted], tiling))
    assert len(reader.pages) == len(tiling.names) > 4
    found: dict[tuple[float, float], list[np.ndarray]] = {}
    for number, window in enumerate(tiling.windows_mm):
        corner = np.array([window[0] - SAFE_MM, window[1] - SAFE_MM])
        for stroke in strokes(reader, number):
            if abs(np.linalg.norm(stroke[1] - stroke[0]) - 8.0) < 0.05:  # an arm of a cross
                middle = stroke.mean(axis=0) + corner
                near = min(tiling.crosses_mm, key=lambda c: float(np.hypot(*(middle - c))))
                found.setdefault(near, []).append(middle)
    assert set(found) == set(tiling.crosses_mm)
    for place, middles in found.items():
        assert len(middles) >= 4  # two arms on two sheets
        assert np.ptp(middles, axis=0).max() <= 0.2
        assert np.abs(np.mean(middles, axis=0) - place).max() <= 0.2


def test_words_can_be_copied_and_names_of_pieces_are_there() -> None:
    heights = (("hip", -200.0), ("waist", 0.0), ("bust", 160.0))
    parts = [Section(n, z, ellipse(140, 95), ellipse(152, 112)) for n, z in heights]
    plan = plan_padding(parts, 6.0)
    reader = read(template_pages(plan, A4))
    assert reader.metadata is not None
    assert reader.metadata.title == "templates"
    # Spaces come back as tabs; compatibility forms undo ligatures such as "fi".
    found = " ".join(page.extract_text() for page in reader.pages)
    text = " ".join(unicodedata.normalize("NFKC", found).split())
    assert "Print at 100 %, without fitting to the page." in text
    assert "100 mm" in text
    assert "layer 1 of" in text
    assert "waist" in text


def test_a_line_is_drawn_where_it_was_put_and_words_keep_their_line() -> None:
    items = (Line((20.0, 30.0), (120.0, 30.0)), Text((20.0, 40.0), "hip", 4.0, angle_deg=-90.0))
    reader = read([Page(210.0, 297.0, items)])
    (stroke,) = strokes(reader, 0)
    # The page is up to half a point taller or shorter than asked for, and y runs from its top.
    assert stroke == pytest.approx(np.array([[20.0, 30.0], [120.0, 30.0]]), abs=0.1)
    assert "hip" in reader.pages[0].extract_text()


def test_a_filled_outline_and_a_dashed_one_are_written_as_such() -> None:
    corners = ((20.0, 20.0), (60.0, 20.0), (60.0, 60.0))
    items = (Polygon(corners, grey=0.8), Polygon(corners, dash_mm=3.0, is_closed=False))
    page = read([Page(210.0, 297.0, items)]).pages[0]
    operators = [name for _o, name in ContentStream(page.get_contents(), page.pdf).operations]
    assert operators.count(b"d") >= 1
    assert {b"B", b"B*", b"f", b"f*", b"b", b"b*"} & set(operators)


def test_no_pages_make_no_document() -> None:
    with pytest.raises(ValueError, match="no pages"):
        pdf_bytes([])
