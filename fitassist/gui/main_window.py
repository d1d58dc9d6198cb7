# SPDX-License-Identifier: MIT
"""The frame: where one can go, who and which form it is about, and one strip for what went wrong.

Pages are made by a factory when first visited and then kept, so that plots live on and starting
needs no numerics. The window knows no page's inside.
"""

from __future__ import annotations

from collections.abc import Callable, Mapping

from PySide6.QtCore import QRect, QSize, Qt, Signal
from PySide6.QtGui import (
    QCloseEvent,
    QGuiApplication,
    QKeyEvent,
    QKeySequence,
    QResizeEvent,
    QShortcut,
)
from PySide6.QtWidgets import (
    QAbstractButton,
    QButtonGroup,
    QFrame,
    QHBoxLayout,
    QLabel,
    QMainWindow,
    QPushButton,
    QSizePolicy,
    QStackedWidget,
    QStyle,
    QVBoxLayout,
    QWidget,
)

from fitassist.gui import theme
from fitassist.gui.fields import button, plain_label
from fitassist.gui.flow import FlowLayout
from fitassist.gui.page_stack import PagesArea
from fitassist.settings import Window
from fitassist.wording.pages import say

PLACES = (
    "people", "measurements", "shape", "form", "fitting", "padding", "sheets", "settings", "help",
)  # fmt: skip
LEAST_WIDTH = 720
LEAST_HEIGHT = 480
# A window that would cover so much of a screen as it stands fills it at the first start.
MOST_OF_SCREEN = 0.7
_TITLE_HEIGHT = QStyle.PixelMetric.PM_TitleBarHeight

PageFactory = Callable[[], QWidget]


class MessageStrip(QFrame):
    """One slim line for what the whole window should know, with the ways out as buttons."""

    def __init__(self, parent: QWidget | None = None) -> None:
        super().__init__(parent)
        self.setProperty("role", "strip")
        self._text = plain_label(wraps=True)
        self._buttons: list[QPushButton] = []
        self._row = QHBoxLayout(self)
        self._row.setContentsMargins(theme.MARGIN, theme.HALF, theme.MARGIN, theme.HALF)
        self._row.setSpacing(theme.STEP)
        self._row.addWidget(self._text, 1)
        self.hide()

    def show_message(self, text: str, ways: Mapping[str, Callable[[], object]]) -> None:
        """Say something and offer ways out, by the words on their buttons."""
        for old in self._buttons:
            self._row.removeWidget(old)
            old.deleteLater()
        self._buttons = []
        self._text.setText(text)
        self.setAccessibleName(text)
        for words, act in ways.items():
            made = button(words, "link")
            made.clicked.connect(lambda _on=False, act=act: act())
            self._row.addWidget(made)
            self._buttons.append(made)
        self.setVisible(bool(text))

    def text(self) -> str:
        """Return what is said, or an empty text."""
        return self._text.text() if not self.isHidden() else ""

    def ways(self) -> tuple[QPushButton, ...]:
        """Return the ways out."""
        return tuple(self._buttons)


class NameLabel(QLabel):
    """A name, shortened at its end where there is no room for all of it."""

    def __init__(self, role: str) -> None:
        super().__init__()
        self.setTextFormat(Qt.TextFormat.PlainText)
        self.setProperty("role", role)
        self.setSizePolicy(QSizePolicy.Policy.Ignored, QSizePolicy.Policy.Preferred)
        self.setAlignment(Qt.AlignmentFlag.AlignRight | Qt.AlignmentFlag.AlignVCenter)
        self._name = ""

    def show_name(self, name: str) -> None:
        """Show a name, as much of it as there is room for."""
        self._name = name
        self.setAccessibleName(name)
        self._shorten()

    def resizeEvent(self, event: QResizeEvent) -> None:
        """Shorten anew."""
        super().resizeEvent(event)
        self._shorten()

    def _shorten(self) -> None:
        metrics = self.fontMetrics()
        self.setText(metrics.elidedText(self._name, Qt.TextElideMode.ElideRight, self.width()))


class MainWindow(QMainWindow):
    """Top bar, strip and the pages.

    Signals
    -------
    place_changed
        The place that is now shown.
    closing
        How the window stands (``settings.Window``), just before it closes.
    """

    place_changed = Signal(str)
    closing = Signal(object)

    def __init__(self, pages: Mapping[str, PageFactory], parent: QWidget | None = None) -> None:
        super().__init__(parent)
        self._factories = dict(pages)
        self._pages: dict[str, QWidget] = {}
        self._place = ""
        self._who = NameLabel("title")
        self._which = NameLabel("note")
        self._group = QButtonGroup(self)
        self._group.setExclusive(True)
        self._buttons: dict[str, QPushButton] = {}
        self.strip = MessageStrip()
        self._stack = QStackedWidget()
        centre = QWidget()
        column = QVBoxLayout(centre)
        column.setContentsMargins(0, 0, 0, 0)
        column.setSpacing(0)
        self._stood: Window | None = None  # how it stood before a page filled the screen
        self._bar = self._build_bar()
        column.addWidget(self._bar)
        column.addWidget(self.strip)
        room = QSize(LEAST_WIDTH, LEAST_HEIGHT - 2 * theme.TARGET)
        self.area = PagesArea(self._stack, room)
        column.addWidget(self.area, 1)
        self.setCentralWidget(centre)
        free = QGuiApplication.primaryScreen().availableSize()
        self.setMinimumSize(QSize(LEAST_WIDTH, LEAST_HEIGHT).boundedTo(free))
        app = QGuiApplication.instance()
        if isinstance(app, QGuiApplication):
            app.screenRemoved.connect(self._on_screen_gone, Qt.ConnectionType.QueuedConnection)
        self._add_shortcuts()
        self.show_names("", "")

    def _build_bar(self) -> QFrame:
        bar = QFrame()
        bar.setProperty("role", "bar")
        bar.setAccessibleName(say("window.places"))
        row = QHBoxLayout(bar)
        row.setContentsMargins(theme.MARGIN - 12, theme.HALF, theme.MARGIN, 0)
        row.setSpacing(0)
        places = QWidget()
        policy = QSizePolicy(QSizePolicy.Policy.Preferred, QSizePolicy.Policy.Preferred)
        policy.setHeightForWidth(True)  # at large type they go on in a second line
        places.setSizePolicy(policy)
        line = FlowLayout(places, line_gap=0)
        for place in PLACES:
            made = button(say(f"place.{place}"), "place")
            made.setCheckable(True)
            if place not in self._factories:
                made.hide()
            made.clicked.connect(lambda _on=False, place=place: self.go_to(place))
            self._group.addButton(made)
            self._buttons[place] = made
            line.addWidget(made)
        row.addWidget(places, 3)
        names = QVBoxLayout()
        names.setSpacing(0)
        for label in (self._who, self._which):
            names.addWidget(label)
        row.addSpacing(theme.MARGIN)
        row.addLayout(names, 2)
        return bar

    def _add_shortcuts(self) -> None:
        shown = [place for place in PLACES if place in self._factories]
        for number, place in enumerate(shown, 1):
            keys = QKeySequence(f"Ctrl+{number}")
            shortcut = QShortcut(keys, self)
            shortcut.activated.connect(lambda place=place: self._on_shortcut(place))
            self._buttons[place].setAccessibleDescription(
                keys.toString(QKeySequence.SequenceFormat.NativeText)
            )
        # Not every system has a usual key for it; this one then ends the program there too.
        usual = QKeySequence.keyBindings(QKeySequence.StandardKey.Quit)
        for ending in {key.toString(): key for key in (*usual, QKeySequence("Ctrl+Q"))}.values():
            QShortcut(ending, self).activated.connect(self.close)

    # -- where one is -------------------------------------------------------------------------

    @property
    def place(self) -> str:
        """The place that is shown."""
        return self._place

    def page(self, place: str) -> QWidget:
        """Return a place's page, made on the first visit and kept."""
        if place not in self._pages:
            made = self._factories[place]()
            self._pages[place] = made
            self._stack.addWidget(made)
        return self._pages[place]

    def has_page(self, place: str) -> bool:
        """Say whether a page has been made yet."""
        return place in self._pages

    def go_to(self, place: str) -> None:
        """Show a place, if it exists and can be visited now."""
        if place not in self._factories or not self._buttons[place].isEnabled():
            return
        self._stack.setCurrentWidget(self.page(place))
        here = self.focusWidget()
        if here is None or (here in self._buttons.values() and here is not self._buttons[place]):
            # Not by its button: Enter must answer the page, and not go to another place.
            self.page(place).setFocus(Qt.FocusReason.OtherFocusReason)
        self._buttons[place].setChecked(True)
        if place != self._place:
            self._place = place
            self.place_changed.emit(place)

    def allow(self, place: str, is_allowed: bool) -> None:
        """Let a place be visited, or not yet."""
        self._buttons[place].setEnabled(is_allowed)

    def place_button(self, place: str) -> QPushButton:
        """Return the button of a place."""
        return self._buttons[place]

    def _on_shortcut(self, place: str) -> None:
        self.go_to(place)
        if self._place == place:
            self.page(place).setFocus(Qt.FocusReason.ShortcutFocusReason)

    # -- what it is about ---------------------------------------------------------------------

    def show_names(self, person: str, form: str) -> None:
        """Say whose and which form's the pages are; empty texts: none chosen."""
        self._who.show_name(person or say("window.nobody"))
        self._which.show_name(form or say("window.no_form"))
        self._which.setVisible(bool(person or form))
        title = say("window.title_person", name=person) if person else say("window.title")
        self.setWindowTitle(title.replace("[*]", "[*][*]"))

    def show_message(
        self, text: str, ways: Mapping[str, Callable[[], object]] | None = None
    ) -> None:
        """Say something in the strip; an empty text puts the strip away."""
        self.strip.show_message(text, {**(ways or {}), say("strip.dismiss"): self.strip.hide})
        if not text:
            self.strip.hide()

    def show_problem(self, text: str, try_again: Callable[[], object]) -> None:
        """Say that something could not be kept, and offer to try once more."""
        self.show_message(text, {say("strip.try_again"): try_again})

    def show_read_only(self, ways: Mapping[str, Callable[[], object]] | None = None) -> None:
        """Say that nothing can be added to the open record, and offer ways out."""
        self.show_message(say("strip.read_only"), ways)

    # -- where it stands ----------------------------------------------------------------------

    def restore(self, stood: Window) -> None:
        """Stand where it stood, but always on a screen that is there, and not larger than it."""
        wanted = QRect(stood.left, stood.top, stood.width, stood.height)
        screen = QGuiApplication.screenAt(wanted.center()) or QGuiApplication.primaryScreen()
        free = screen.availableGeometry()
        if (stood.left, stood.top) == (0, 0):  # nowhere yet: at the very corner a frame has no room
            free.setHeight(free.height() - self.style().pixelMetric(_TITLE_HEIGHT))
            self.resize(wanted.size().boundedTo(free.size()).expandedTo(self.minimumSize()))
            covered = self.width() * self.height() / max(1, free.width() * free.height())
            fills = covered > MOST_OF_SCREEN and wanted.width() <= free.width()
            self._maximize(stood.maximized or fills)
            return
        wanted.setSize(wanted.size().boundedTo(free.size()).expandedTo(self.minimumSize()))
        wanted.moveLeft(min(max(wanted.left(), free.left()), free.right() + 1 - wanted.width()))
        wanted.moveTop(min(max(wanted.top(), free.top()), free.bottom() + 1 - wanted.height()))
        self.setGeometry(wanted)
        self._maximize(stood.maximized)

    def _maximize(self, is_maximized: bool) -> None:
        if is_maximized:
            self.setWindowState(self.windowState() | Qt.WindowState.WindowMaximized)

    def show_alone(self, is_alone: bool) -> None:
        """Fill the screen with the page alone, or stand again as before."""
        if is_alone == (self._stood is not None):
            return
        if is_alone:
            self._stood = self.standing()
            self._bar.hide()
            self.setGeometry(self.screen().geometry())  # where no window manager does it
            self.setWindowState(self.windowState() | Qt.WindowState.WindowFullScreen)
            return
        stood, self._stood = self._stood, None
        self._bar.show()
        self.setWindowState(self.windowState() & ~Qt.WindowState.WindowFullScreen)
        if stood is not None:
            self.restore(stood)

    def _on_screen_gone(self) -> None:
        """Come to a screen that is there: one was unplugged, maybe the one the page filled."""
        self.setMinimumSize(self.minimumSize().boundedTo(self.screen().availableSize()))
        if self._stood is not None:
            self.setGeometry(self.screen().geometry())
        else:
            self.restore(self.standing())

    def standing(self) -> Window:
        """Return how the window stands, to be kept."""
        if self._stood is not None:
            return self._stood
        box = self.normalGeometry() if self.isMaximized() else self.geometry()
        return Window(
            left=box.left(),
            top=box.top(),
            width=max(box.width(), 200),
            height=max(box.height(), 200),
            maximized=self.isMaximized(),
        )

    def keyPressEvent(self, event: QKeyEvent) -> None:
        """Enter presses the button that has the focus, as Space does; holding it presses once."""
        here = self.focusWidget()
        if event.key() in (Qt.Key.Key_Return, Qt.Key.Key_Enter) and isinstance(
            here, QAbstractButton
        ):
            event.accept()
            if not event.isAutoRepeat():
                here.click()
            return
        super().keyPressEvent(event)

    def closeEvent(self, event: QCloseEvent) -> None:
        """Tell how the window stands, then close."""
        self.closing.emit(self.standing())
        super().closeEvent(event)
