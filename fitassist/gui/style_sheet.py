# SPDX-License-Identifier: MIT
"""What Qt is told of a look: its palette and one style sheet, made from the colours by role."""

from __future__ import annotations

from string import Template

from PySide6.QtGui import QColor, QPalette

from fitassist.gui.measures import HALF, HEADING_PT, LABEL_PT, STEP, TARGET, TEXT_PT
from fitassist.gui.palettes import Palette, blend


def qt_palette(colours: Palette) -> QPalette:
    """Return the Qt palette, for everything the style sheet does not name."""
    role = QPalette.ColorRole
    made = QPalette()
    for which, colour in (
        (role.Window, colours.page),
        (role.WindowText, colours.ink),
        (role.Base, colours.card),
        (role.AlternateBase, blend(colours.card, colours.fine, 0.08)),
        (role.Text, colours.ink),
        (role.PlaceholderText, colours.quiet),
        (role.Button, colours.card),
        (role.ButtonText, colours.ink),
        (role.BrightText, colours.card),
        (role.Highlight, colours.thread),
        (role.HighlightedText, colours.card),
        (role.Accent, colours.thread),
        (role.Link, colours.thread),
        (role.LinkVisited, colours.thread),
        (role.ToolTipBase, colours.card),
        (role.ToolTipText, colours.ink),
        (role.Light, colours.card),
        (role.Midlight, blend(colours.page, colours.fine, 0.3)),
        (role.Mid, colours.fine),
        (role.Dark, colours.fine),
        (role.Shadow, colours.fine),
    ):
        made.setColor(which, QColor(colour))
    for which in (role.WindowText, role.Text, role.ButtonText):
        made.setColor(QPalette.ColorGroup.Disabled, which, QColor(colours.quiet))
    return made


def style_sheet(colours: Palette, font_scale: float) -> str:
    """Return the style sheet of a palette at a font scale."""
    return Template(_SHEET).substitute(
        page=colours.page,
        card=colours.card,
        ink=colours.ink,
        quiet=colours.quiet,
        thread=colours.thread,
        fine=colours.fine,
        hover=blend(colours.card, colours.thread, 0.10),
        pressed=blend(colours.card, colours.thread, 0.20),
        soft=blend(colours.page, colours.thread, 0.12),
        primary_hover=blend(colours.thread, colours.ink, 0.25),
        hair=colours.fine if colours.is_strong else blend(colours.page, colours.fine, 0.45),
        label_pt=f"{LABEL_PT * font_scale:.2f}",
        heading_pt=f"{HEADING_PT * font_scale:.2f}",
        title_pt=f"{TEXT_PT * font_scale:.2f}",
        inside=TARGET - 2 * HALF - 2,
        half=HALF,
        step=STEP,
    )


_SHEET = """
QMainWindow, QDialog, QWidget[role="page"] { background: $page; }
QLabel { background: transparent; color: $ink; }
QLabel[role="heading"] { font-size: ${heading_pt}pt; font-weight: 600; }
QLabel[role="title"] { font-size: ${title_pt}pt; font-weight: 600; }
QLabel[role="label"] { font-size: ${label_pt}pt; color: $quiet; }
QLabel[role="quiet"] { color: $quiet; }
QLabel[role="error"] { font-size: ${label_pt}pt; color: $ink; }
QLabel[role="note"] { font-size: ${label_pt}pt; color: $quiet; }
QFrame[role="card"] { background: $card; border: 1px solid $hair; border-radius: ${half}px; }
QFrame[role="ask"] { background: $card; border: 1px solid $hair; border-left: 4px solid $thread;
  border-radius: 2px; }
QFrame[role="strip"] { background: $card; border: none; border-bottom: 1px solid $fine; }
QFrame[role="bar"] { background: $page; border: none; border-bottom: 1px solid $hair; }
QLineEdit, QPlainTextEdit { background: $card; color: $ink; border: 1px solid $fine;
  border-radius: ${half}px; padding: ${half}px ${step}px;
  selection-background-color: $thread; selection-color: $card; placeholder-text-color: $quiet; }
QLineEdit { min-height: ${inside}px; }
QLineEdit:focus, QPlainTextEdit:focus { border: 2px solid $thread; padding: 3px 7px; }
QLineEdit[readOnly="true"], QLineEdit:disabled { background: $page; color: $quiet; }
QPushButton { background: $card; color: $ink; border: 1px solid $fine; border-radius: ${half}px;
  padding: ${half}px 15px; min-height: ${inside}px; }
QPushButton:hover { background: $hover; }
QPushButton:pressed { background: $pressed; }
QPushButton:focus { border: 2px solid $thread; padding: 3px 14px; outline: none; }
QPushButton:disabled { color: $quiet; border-color: $hair; background: $page; }
QPushButton:checked { background: $pressed; border: 2px solid $thread; padding: 3px 14px; }
QPushButton[role="primary"] { background: $thread; color: $card; border: 1px solid $thread;
  font-weight: 600; }
QPushButton[role="primary"]:hover { background: $primary_hover; }
QPushButton[role="primary"]:focus { border: 2px solid $ink; }
QPushButton[role="primary"]:disabled { background: $page; color: $quiet; border-color: $hair; }
QPushButton[role="link"] { background: transparent; border: 1px solid transparent; color: $thread;
  padding: ${half}px ${step}px ${half}px 2px; text-align: left; }
QPushButton[role="link"]:hover { background: $hover; }
QPushButton[role="link"]:focus { border: 2px solid $thread; padding: 3px 7px 3px 1px; }
QPushButton[role="link"]:disabled { color: $quiet; }
QPushButton[role="fold"], QPushButton[role="fold"]:checked { background: transparent;
  border: 1px solid transparent; color: $ink; padding: ${half}px ${step}px ${half}px 2px;
  text-align: left; font-weight: 600; }
QPushButton[role="fold"]:hover { background: $hover; }
QPushButton[role="fold"]:focus { border: 2px solid $thread; padding: 3px 7px 3px 1px; }
QPushButton[role="begin"] { text-align: left; padding: ${half}px ${step}px; }
QPushButton[role="begin"]:focus { padding: 3px 7px; }
QPushButton[role="place"] { background: transparent; border: none; border-radius: 0;
  border-bottom: 3px solid transparent; padding: ${half}px 12px; color: $quiet; }
QPushButton[role="place"]:hover { color: $ink; border-bottom-color: $hair; }
QPushButton[role="place"]:checked { background: transparent; color: $ink; padding: ${half}px 12px;
  border: none; border-bottom: 3px solid $thread; }
QPushButton[role="place"]:focus { background: $soft; }
QPushButton[role="choice"] { border-radius: 0; margin-left: -1px; }
QPushButton[role="choice"][end="first"] { margin-left: 0; }
QListView { background: $card; color: $ink; border: 1px solid $hair; border-radius: ${half}px;
  outline: none; }
QListView:focus { border: 2px solid $thread; }
QListView::item { min-height: ${inside}px; padding: ${half}px ${step}px; }
QListView::item:hover { background: $hover; }
QListView::item:selected { background: $pressed; color: $ink; border-left: 3px solid $thread; }
QTableView { background: $card; color: $ink; border: 1px solid $hair; border-radius: ${half}px;
  outline: none; gridline-color: $hair; }
QTableView:focus { border: 2px solid $thread; }
QTableView::item { padding: 0 ${step}px; }
QTableView::item:selected { background: $pressed; color: $ink; }
QHeaderView::section { background: $page; color: $quiet; border: none;
  border-bottom: 1px solid $fine; padding: ${half}px ${step}px; }
QListView::item:disabled { background: transparent; color: $quiet; }
QScrollArea, QScrollArea > QWidget > QWidget[role="page"] { background: $page; border: none; }
QCheckBox { background: transparent; color: $ink; spacing: ${step}px; min-height: 36px; }
QCheckBox::indicator, QListView::indicator { width: 10px; height: 10px; padding: 3px;
  border: 1px solid $fine; border-radius: 3px; background: $card; }
QCheckBox::indicator:checked, QListView::indicator:checked { background: $thread;
  background-clip: content; background-origin: content; border: 1px solid $thread; }
QCheckBox::indicator:focus { border: 2px solid $thread; padding: 2px; }
QCheckBox:focus { color: $thread; }
QRadioButton { background: transparent; color: $ink; spacing: ${step}px; min-height: 24px; }
QRadioButton:disabled { color: $quiet; }
QRadioButton:focus { color: $thread; }
QRadioButton::indicator { width: 14px; height: 14px; border-radius: 8px; border: 1px solid $fine;
  background: $card; }
QRadioButton::indicator:checked { width: 6px; height: 6px; border: 5px solid $thread; }
QRadioButton::indicator:disabled { background: $page; }
QScrollBar:vertical { background: transparent; width: 14px; margin: 0; }
QScrollBar:horizontal { background: transparent; height: 14px; margin: 0; }
QScrollBar::handle { background: $fine; border-radius: 3px; margin: 4px; }
QScrollBar::handle:vertical { min-height: 40px; }
QScrollBar::handle:horizontal { min-width: 40px; }
QScrollBar::add-line, QScrollBar::sub-line { width: 0; height: 0; }
QScrollBar::add-page, QScrollBar::sub-page { background: transparent; }
QToolTip { background: $card; color: $ink; border: 1px solid $fine; padding: ${half}px; }
"""
