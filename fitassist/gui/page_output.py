# SPDX-License-Identifier: MIT
"""Pages on their way out of the program: to a file the user names, or to a printer."""

from __future__ import annotations

from collections.abc import Sequence

from PySide6.QtCore import QIODevice, QMarginsF, QSaveFile, QSizeF
from PySide6.QtGui import QPageLayout, QPageSize, QPainter
from PySide6.QtWidgets import QWidget

from fitassist.errors import StorageFailed
from fitassist.gui.pdf_painter import draw_page
from fitassist.report.page import Page


def write_out(path: str, data: bytes) -> None:
    """Write a file whole or not at all.

    Raises
    ------
    StorageFailed
        ``sheet_not_written`` (values: detail).
    """
    file = QSaveFile(path)
    opened = file.open(QIODevice.OpenModeFlag.WriteOnly)
    if not (opened and file.write(data) == len(data) and file.commit()):
        why = file.errorString()
        file.cancelWriting()
        raise StorageFailed("sheet_not_written", detail=why)


def print_pages(pages: Sequence[Page], parent: QWidget, title: str) -> bool:
    """Ask for a printer and print at true size; return False if the user thought better of it.

    Raises
    ------
    StorageFailed
        ``sheet_no_printer``, ``sheet_not_printed``.
    """
    try:
        from PySide6.QtPrintSupport import QPrintDialog, QPrinter, QPrinterInfo
    except ImportError as error:  # the system has no printing at all
        raise StorageFailed("sheet_no_printer") from error
    if not QPrinterInfo.availablePrinterNames():
        raise StorageFailed("sheet_no_printer")
    printer = QPrinter(QPrinter.PrinterMode.HighResolution)
    printer.setDocName(title)
    _set_page(printer, pages[0])
    dialog = QPrintDialog(printer, parent)
    dialog.setMinMax(1, len(pages))
    dialog.setOption(QPrintDialog.PrintDialogOption.PrintPageRange)
    if dialog.exec() != QPrintDialog.DialogCode.Accepted:
        return False
    first, last = printer.fromPage() or 1, printer.toPage() or len(pages)
    paint_on(printer, pages[first - 1 : last])
    return True


def paint_on(printer: object, pages: Sequence[Page]) -> None:
    """Draw pages on a ``QPrinter``, a millimetre a millimetre.

    Raises
    ------
    StorageFailed
        ``sheet_not_printed``.
    """
    from PySide6.QtPrintSupport import QPrinter

    assert isinstance(printer, QPrinter)
    _set_page(printer, pages[0])
    painter = QPainter()
    if not painter.begin(printer):
        raise StorageFailed("sheet_not_printed")
    try:
        for number, page in enumerate(pages):
            if number:
                _set_page(printer, page)
                if not printer.newPage():
                    raise StorageFailed("sheet_not_printed")
            draw_page(painter, page, printer.resolution() / 25.4)
    finally:
        painter.end()


def _set_page(printer: object, page: Page) -> None:
    from PySide6.QtPrintSupport import QPrinter

    assert isinstance(printer, QPrinter)
    size = QPageSize(
        QSizeF(page.width_mm, page.height_mm),
        QPageSize.Unit.Millimeter,
        "",
        QPageSize.SizeMatchPolicy.FuzzyMatch,
    )
    printer.setFullPage(True)  # the origin is the paper's corner, as on the page
    layout = QPageLayout(size, QPageLayout.Orientation.Portrait, QMarginsF(0, 0, 0, 0))
    printer.setPageLayout(layout)
