# SPDX-License-Identifier: MIT
"""One page of help as it is read: a title, paragraphs, and the drawings that show the same."""

from __future__ import annotations

from PySide6.QtCore import QEvent, QSize, Qt
from PySide6.QtWidgets import QSizePolicy, QVBoxLayout, QWidget

from fitassist.gui import theme
from fitassist.gui.drawings import DrawingView
from fitassist.gui.fields import plain_label
from fitassist.gui.flow import FlowLayout
from fitassist.gui.folds import clear_layout, show_all
from fitassist.wording.help_search import heading
from fitassist.wording.help_topic import Topic
from fitassist.wording.language import capital

PICTURE_HIGH = 210
WIDTH = 640


class HelpDrawing(DrawingView):
    """A drawing of a fixed height beside a text."""

    def __init__(self, high: int, description: str) -> None:
        super().__init__("", None, description)
        self._high = high
        self.setSizePolicy(QSizePolicy.Policy.Fixed, QSizePolicy.Policy.Fixed)

    def sizeHint(self) -> QSize:
        """Return the drawing's proportions at its height."""
        usual = super().sizeHint()
        return QSize(round(usual.width() * self._high / usual.height()), self._high)

    def minimumSizeHint(self) -> QSize:
        """Return the same."""
        return self.sizeHint()


def _place_said(drawing: str) -> str:
    """Return the place of padding a drawing shows, in words; empty if it shows none."""
    if not drawing.startswith("pad_"):
        return ""
    from fitassist.wording.padding_step_words import pair_text
    from fitassist.wording.padding_words import strip_text

    place = drawing.removeprefix("pad_")
    is_strip = place.startswith("strip_")
    return capital(strip_text(place.removeprefix("strip_")) if is_strip else pair_text(place))


class TopicView(QWidget):
    """Shows a page of help.

    Parameters
    ----------
    picture_high
        How high its drawings are, in pixels.
    """

    def __init__(self, picture_high: int = PICTURE_HIGH, parent: QWidget | None = None) -> None:
        super().__init__(parent)
        self._high = picture_high
        self._topic: Topic | None = None
        self._heading = plain_label(role="heading", wraps=True)
        self._paragraphs = QVBoxLayout()
        self._paragraphs.setSpacing(theme.STEP)
        self._pictures = FlowLayout(gap=theme.MARGIN, line_gap=theme.STEP)
        column = QVBoxLayout(self)
        column.setContentsMargins(0, 0, 0, 0)
        column.setSpacing(theme.STEP * 2)
        column.addWidget(self._heading)
        column.addLayout(self._paragraphs)
        column.addLayout(self._pictures)
        column.addStretch(1)

    def show_topic(self, topic: Topic) -> None:
        """Show a page of help."""
        self._topic = topic
        self._heading.setText(heading(topic))
        self.setAccessibleName(heading(topic))
        self.setAccessibleDescription(topic.text)
        clear_layout(self._paragraphs)
        clear_layout(self._pictures)
        for paragraph in topic.text.split("\n\n"):
            label = plain_label(paragraph, wraps=True)
            label.setTextInteractionFlags(Qt.TextInteractionFlag.TextSelectableByMouse)
            label.setFocusPolicy(Qt.FocusPolicy.NoFocus)
            self._paragraphs.addWidget(label)
        for picture in topic.pictures:
            said = _place_said(picture.drawing) or heading(topic)
            view = HelpDrawing(self._high, said)
            view.show_drawing(picture.drawing, said, picture.lit)
            self._pictures.addWidget(view)
        show_all(self._paragraphs)
        show_all(self._pictures)

    @property
    def topic(self) -> Topic | None:
        """What is shown."""
        return self._topic

    def changeEvent(self, event: QEvent) -> None:
        """Draw in the colours of the look that came."""
        super().changeEvent(event)
        if event.type() == QEvent.Type.PaletteChange:
            self.update()
