# SPDX-License-Identifier: MIT
"""For whom a form is looked for: people to tick, and what the form has to allow besides."""

from __future__ import annotations

from PySide6.QtCore import Qt, Signal
from PySide6.QtWidgets import (
    QCheckBox,
    QLineEdit,
    QListWidget,
    QListWidgetItem,
    QVBoxLayout,
    QWidget,
)

from fitassist.choosing.judging import Needs
from fitassist.domain.body import Body
from fitassist.domain.units import AnyUnit
from fitassist.errors import FitError
from fitassist.gui import theme
from fitassist.gui.fields import LengthField, plain_label
from fitassist.gui.offer_ports import OfferDesk
from fitassist.wording.offer_words import say

NEEDS = ("trousers", "pins", "waist_shifts")
_ID = Qt.ItemDataRole.UserRole


class OfferWhom(QWidget):
    """The list of people, with the needs below it.

    Signals
    -------
    changed
        Somebody else is ticked, or something else is needed.
    failed
        A ``FitError`` met while reading somebody's record; they are not ticked then.
    """

    changed = Signal()
    failed = Signal(object)

    def __init__(self, desk: OfferDesk, parent: QWidget | None = None) -> None:
        super().__init__(parent)
        self._desk = desk
        self._bodies: dict[str, tuple[Body, ...]] = {}  # of those ticked, in the order of ticking
        self.search = QLineEdit()
        self.search.setPlaceholderText(say("search"))
        self.search.setAccessibleName(say("search"))
        self.search.textChanged.connect(self._filter)
        self.people = QListWidget()
        self.people.setAccessibleName(say("whom"))
        self.people.itemChanged.connect(self._on_item)
        self._none = plain_label(say("whom_none"), "quiet", wraps=True)
        self._hint = plain_label(say("nobody"), "note", wraps=True)
        self.own = QCheckBox(say("own"))
        self.own.setChecked(True)
        self.own.toggled.connect(self.changed)
        self.boxes = {name: QCheckBox(say(f"need.{name}")) for name in NEEDS}
        for box in self.boxes.values():
            box.toggled.connect(self.changed)
        self.shoes = LengthField(say("shoes"), desk.unit, commit_on_leave=True, allow_zero=True)
        self.shoes.committed.connect(lambda _length: self.changed.emit())
        self.setFocusProxy(self.people)
        self._lay_out()

    def _lay_out(self) -> None:
        column = QVBoxLayout(self)
        column.setContentsMargins(0, 0, 0, 0)
        column.setSpacing(theme.STEP)
        column.addWidget(plain_label(say("whom"), "label"))
        column.addWidget(self.search)
        column.addWidget(self._none)
        column.addWidget(self.people, 1)
        column.addWidget(self._hint)
        column.addWidget(plain_label(say("needs"), "label"))
        for box in self.boxes.values():
            column.addWidget(box)
        column.addWidget(plain_label(say("shoes"), "label"))
        column.addWidget(self.shoes)
        column.addWidget(self.own)

    def reload(self) -> None:
        """List everybody measured anew; who was ticked and is still there stays ticked."""
        people = self._desk.measured()
        there = {one.id for one in people}
        self._bodies = {key: bodies for key, bodies in self._bodies.items() if key in there}
        self.people.blockSignals(True)
        self.people.clear()
        for one in people:
            item = QListWidgetItem(one.name)
            item.setData(_ID, one.id)
            item.setFlags(item.flags() | Qt.ItemFlag.ItemIsUserCheckable)
            is_ticked = one.id in self._bodies and self._read(one.id)
            item.setCheckState(Qt.CheckState.Checked if is_ticked else Qt.CheckState.Unchecked)
            self.people.addItem(item)
        self.people.blockSignals(False)
        self._none.setVisible(not people)
        self.search.setVisible(bool(people))
        self.people.setVisible(bool(people))
        self._filter(self.search.text())
        self._hint.setVisible(bool(people) and not self._bodies)

    def bodies(self) -> tuple[Body, ...]:
        """Return the bodies of those who are ticked."""
        return tuple(body for bodies in self._bodies.values() for body in bodies)

    def needs(self) -> Needs:
        """Return what the form has to allow."""
        length = self.shoes.length()
        return Needs(
            trousers=self.boxes["trousers"].isChecked(),
            pins=self.boxes["pins"].isChecked(),
            waist_shifts=self.boxes["waist_shifts"].isChecked(),
            shoes_mm=length.mm if length is not None else 0.0,
        )

    def with_own(self) -> bool:
        """Whether one's own forms are compared too."""
        return self.own.isChecked()

    def set_unit(self, unit: AnyUnit) -> None:
        """Read bare numbers in another unit."""
        self.shoes.set_unit(unit)

    def tick(self, person_id: str, is_ticked: bool = True) -> None:
        """Tick somebody, as a click would."""
        for row in range(self.people.count()):
            item = self.people.item(row)
            if item is not None and item.data(_ID) == person_id:
                state = Qt.CheckState.Checked if is_ticked else Qt.CheckState.Unchecked
                item.setCheckState(state)

    def _on_item(self, item: QListWidgetItem) -> None:
        person_id = str(item.data(_ID))
        if item.checkState() == Qt.CheckState.Checked:
            if not self._read(person_id):
                self.people.blockSignals(True)
                item.setCheckState(Qt.CheckState.Unchecked)
                self.people.blockSignals(False)
        else:
            self._bodies.pop(person_id, None)
        self._hint.setVisible(not self._bodies)
        self.changed.emit()

    def _read(self, person_id: str) -> bool:
        try:
            self._bodies[person_id] = tuple(self._desk.bodies(person_id))
        except FitError as error:
            self._bodies.pop(person_id, None)
            self.failed.emit(error)
            return False
        return True

    def _filter(self, text: str) -> None:
        wanted = text.casefold().strip()
        for row in range(self.people.count()):
            item = self.people.item(row)
            if item is not None:
                item.setHidden(wanted not in item.text().casefold())
