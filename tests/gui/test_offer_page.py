# SPDX-License-Identifier: MIT
"""Comparing forms on offer: ranked with a reason, drawn, and the fewest that serve everybody."""

from __future__ import annotations

import itertools

import pytest
from PySide6.QtCore import Qt
from PySide6.QtWidgets import QApplication

from fitassist.choosing.candidate import Candidate, Range
from fitassist.choosing.table import read_table
from fitassist.domain.body import Body, Target
from fitassist.domain.lines import What
from fitassist.domain.units import Unit
from fitassist.errors import BadFile, StorageFailed
from fitassist.gui import theme
from fitassist.gui.offer_page import OfferPage
from fitassist.gui.offer_ports import Measured
from tests.gui.fakes import cut_off, guessing_labels, seen, show, unnamed

LEFT = Qt.MouseButton.LeftButton


def a_body(name: str, **girths: float) -> Body:
    return Body(
        name=name,
        kind="woman",
        targets=tuple(Target(line=k, value_mm=v) for k, v in girths.items()),
    )


def an_offer(name: str, bust: tuple[float, float], **rest: object) -> Candidate:
    girths = {"bust": Range(least_mm=bust[0], greatest_mm=bust[1])}
    return Candidate.model_validate({"name": name, "girths_mm": girths, **rest})


PEOPLE = {
    "1": a_body("Ana", bust=860.0),
    "2": a_body("Bea", bust=960.0),
    "3": a_body("<b>Cy</b> & Co", bust=1100.0),
}
SMALL = an_offer("Small", (840.0, 950.0), post="centre", takes_pins=True)
MIDDLE = an_offer("Middle", (940.0, 1060.0), post="offset")
LARGE = an_offer("Large", (1050.0, 1200.0), post="hanging")


class Desk:
    """People and forms in memory; can be told to refuse."""

    def __init__(self, *offers: Candidate) -> None:
        self.unit = Unit.CM
        self.kept = tuple(offers)
        self.refuses: Exception | None = None

    def measured(self) -> list[Measured]:
        return [Measured(key, body.name) for key, body in PEOPLE.items()]

    def bodies(self, person_id: str) -> list[Body]:
        if self.refuses is not None:
            raise self.refuses
        return [PEOPLE[person_id]]

    def offers(self) -> tuple[Candidate, ...]:
        return self.kept

    def keep(self, offers) -> None:
        if self.refuses is not None:
            raise self.refuses
        self.kept = tuple(offers)

    def own(self) -> tuple[Candidate, ...]:
        return ()

    def read_table(self, path: str):
        return read_table(path.encode(), self.unit)


@pytest.fixture
def page(qtbot):
    made = show(qtbot, OfferPage(Desk(SMALL, MIDDLE, LARGE)), 1366, 680)
    made.visit()
    return made


def tick(page, *ids: str) -> None:
    for one in ids:
        page.whom.tick(one)
    page.judge()


def rows(page) -> list[str]:
    return [page.list.item(i).text().replace("\u00a0", " ") for i in range(page.list.count())]


def test_who_is_ticked_decides_the_order_and_each_row_says_why(page):
    tick(page, "2")
    assert [text.split("\n")[0] for text in rows(page)] == ["1. Middle", "2. Small", "3. Large"]
    # Small: 960 - 950 = 10 mm of girth to be padded; Large: 1050 - 960 = 90 mm too large closed.
    assert "1.0 cm of girth" in rows(page)[1]
    assert "9.0 cm too large" in rows(page)[2]


def test_the_picture_has_a_range_and_a_mark_for_each_body_in_its_place(page):
    tick(page, "1", "2", "3")
    page.list.setCurrentRow(0)
    (row,) = page.result.picture.rows
    marks = {mark.target_mm: mark.outcome for mark in row.marks}
    least, greatest = row.range.least_mm, row.range.greatest_mm
    for mm, outcome in marks.items():
        assert outcome == ("too_large" if mm < least else "padded" if mm > greatest else "reached")
    places = [page.result.picture.place_px(row, mm) for mm in sorted(marks)]
    assert places == sorted(places)
    assert places[0] >= 0
    assert places[-1] <= page.result.picture.width()


def test_the_same_is_told_line_by_line_in_words(page):
    tick(page, "2")
    page.list.setCurrentRow(2)
    (table,) = page.result.tables()
    assert table.texts() == [
        ["Bust", "105.0 to 120.0 cm", "96.0 cm", "✕ 9.0 cm too large, even closed"]
    ]
    assert "Bea, Bust: ✕ 9.0 cm too large" in page.result.picture.accessibleDescription()


def test_the_fewest_forms_are_as_few_as_trying_every_set_finds(page):
    tick(page, "1", "2", "3")
    serves = [one.served for one in page.judged]
    everybody = frozenset().union(*serves)
    fewest = next(
        n
        for n in range(1, 4)
        for chosen in itertools.combinations(serves, n)
        if frozenset().union(*chosen) == everybody
    )
    assert len(page.cover().split("\n")) == fewest
    assert "<b>Cy</b> & Co" in page.cover()
    assert guessing_labels(page) == []


def test_what_it_has_to_allow_counts(page):
    tick(page, "1")
    assert rows(page)[0].startswith("1. Small")
    page.whom.boxes["trousers"].setChecked(True)
    page.judge()
    assert rows(page)[-1].startswith("3. Small")
    assert "pole stands in the middle" in rows(page)[-1]


def test_a_form_is_entered_by_keys_and_kept(qtbot, page):
    qtbot.mouseClick(page.add, LEFT)
    assert QApplication.focusWidget() is page.editor.name
    qtbot.keyClicks(page.editor.name, "Linden")
    for field, text in zip(page.editor.fields["waist"], ("64", "33 in"), strict=True):
        field.line_edit.setFocus()
        qtbot.keyClicks(field.line_edit, text)
    qtbot.mouseClick(page.editor.keep_button, LEFT)
    kept = page._desk.kept[-1]
    assert kept.name == "Linden"
    # An inch is 25.4 mm (international inch, 1959).
    assert kept.girths_mm["waist"].least_mm == pytest.approx(640.0)
    assert kept.girths_mm["waist"].greatest_mm == pytest.approx(838.2)
    assert any("Linden" in text for text in rows(page))


@pytest.mark.parametrize(
    ("closed", "opened", "word"),
    [("90", "80", "no less than closed"), ("", "80", "closed as well"), ("90 x", "", "unit")],
)
def test_a_range_that_cannot_be_is_told_where_it_was_typed(qtbot, page, closed, opened, word):
    qtbot.mouseClick(page.add, LEFT)
    page.editor.name.setText("Odd")
    fields = page.editor.fields["hip"]
    for field, text in zip(fields, (closed, opened), strict=True):
        field.set_text(text)
    qtbot.mouseClick(page.editor.keep_button, LEFT)
    assert word in fields[0].error_text() + fields[1].error_text()
    assert len(page._desk.kept) == 3


def test_a_form_without_a_name_is_not_kept(qtbot, page):
    qtbot.mouseClick(page.add, LEFT)
    qtbot.mouseClick(page.editor.keep_button, LEFT)
    assert "needs a name" in page.editor.error_text()
    qtbot.keyClick(page.editor.name, Qt.Key.Key_Escape)
    assert page.list.isVisible()
    assert page._desk.kept == (SMALL, MIDDLE, LARGE)


def test_what_was_entered_and_left_can_be_gone_on_with(qtbot, page):
    qtbot.mouseClick(page.add, LEFT)
    qtbot.keyClick(page.editor.name, Qt.Key.Key_Escape)
    assert not page.go_on.isVisible()  # nothing was entered
    page.list.setCurrentRow(1)
    qtbot.mouseClick(page.change, LEFT)
    page.editor.fields["waist"][0].set_text("70 cm")
    qtbot.keyClick(page.editor.name, Qt.Key.Key_Escape)
    assert page.said() == "What was entered is not kept yet."
    page.visit()  # away to one's own forms and back
    qtbot.mouseClick(page.go_on, LEFT)
    assert page.editor.fields["waist"][0].text() == "70 cm"
    qtbot.mouseClick(page.editor.keep_button, LEFT)
    assert [one.name for one in page._desk.kept] == ["Small", "Middle", "Large"]
    assert page._desk.kept[1].girths_mm["waist"].least_mm == 700.0
    assert not page.go_on.isVisible()


def test_an_entry_that_cannot_be_kept_stays_and_says_why(qtbot, page):
    qtbot.mouseClick(page.add, LEFT)
    qtbot.keyClicks(page.editor.name, "Alder")
    page._desk.refuses = StorageFailed("disk_full", path="x")
    qtbot.mouseClick(page.editor.keep_button, LEFT)
    assert page.editor.isVisible()
    assert "full" in page.editor.error_text()
    assert page.editor.name.text() == "Alder"
    page._desk.refuses = None
    qtbot.mouseClick(page.editor.keep_button, LEFT)
    assert page._desk.kept[-1].name == "Alder"


def test_another_width_does_not_rank_anew(qtbot, page):
    tick(page, "1", "2", "3")
    before = page.judged
    high = page.list.item(0).sizeHint().height()
    page.resize(2400, 680)
    qtbot.waitUntil(lambda: page.list.item(0).sizeHint().height() < high, timeout=2000)
    assert page.judged is before


def test_changing_a_form_shows_what_was_entered_and_keeps_the_rest(qtbot, page):
    tick(page, "1")
    page.list.setCurrentRow(0)
    qtbot.mouseClick(page.change, LEFT)
    assert page.editor.name.text() == "Small"
    assert page.editor.pins.value() == "yes"
    page.editor.name.setText("Smaller")
    qtbot.mouseClick(page.editor.keep_button, LEFT)
    assert page._desk.kept[0] == SMALL.model_copy(update={"name": "Smaller"})


def test_a_form_removed_can_be_put_back_where_it_was(qtbot, page):
    tick(page, "2")
    page.list.setFocus()
    qtbot.keyClick(page.list, Qt.Key.Key_Delete)
    assert page._desk.kept == (SMALL, LARGE)
    qtbot.mouseClick(page.put_back, LEFT)
    assert page._desk.kept == (SMALL, MIDDLE, LARGE)


def test_a_table_brings_forms_and_tells_what_it_could_not_read(page):
    page.open_table("Name;Bust;Colour\nOak;90-110;red\nAsh;wide;\n")
    assert [one.name for one in page._desk.kept[3:]] == ["Oak", "Ash"]
    assert "2 forms were brought in" in page.said()
    assert "Colour" in page.said()
    assert "Row 3" in page.said()


def test_cells_beyond_what_can_be_read_are_counted(page):
    page.open_table("Name;Bust\n" + "".join(f"Ash {n};wide\n" for n in range(60)))
    told = page.said().splitlines()
    assert len([line for line in told if line.startswith("Row")]) == 40
    assert told[-1] == "and 20 more"


def test_a_table_that_is_none_is_refused_and_nothing_changes(page):
    page.open_table("just words")
    assert "no table of forms" in page.said()
    assert page._desk.kept == (SMALL, MIDDLE, LARGE)


def test_what_cannot_be_kept_is_told_and_the_list_stays(qtbot, page):
    page._desk.refuses = StorageFailed("disk_full", path="x")
    page.list.setCurrentRow(0)
    qtbot.mouseClick(page.remove, LEFT)
    assert page.said()
    assert len(rows(page)) == 3


def test_somebody_whose_record_cannot_be_read_is_not_ticked(page):
    page._desk.refuses = BadFile("bad_json", detail="")
    tick(page, "1")
    assert page.whom.bodies() == ()
    assert "cannot be read" in page.said()


def test_a_body_measured_in_another_way_is_compared_where_it_can_be(page):
    body = PEOPLE["1"].model_copy(
        update={"targets": (Target(line="inside_leg", what=What.LENGTH, value_mm=780.0),)}
    )
    page._desk.bodies = lambda _id: [body]
    tick(page, "1")
    assert "Nothing is said" in rows(page)[0]


@pytest.mark.parametrize(("look", "scale"), [("light", 1.0), ("dark", 1.0), ("light", 2.0)])
def test_nothing_is_cut_off_and_everything_has_a_name(qtbot, qapp, page, look, scale):
    theme.apply(qapp, look, scale)
    try:
        tick(page, "1", "2", "3")
        QApplication.processEvents()
        assert cut_off(page) == []
        assert unnamed(page) == []
        qtbot.mouseClick(page.add, LEFT)
        QApplication.processEvents()
        assert cut_off(page) == []
        assert unnamed(page) == []
    finally:
        theme.apply(qapp, "light", 1.0)


def test_another_unit_is_said_everywhere(page):
    tick(page, "2")
    page._desk.unit = Unit.IN
    page.set_unit("in")
    assert "3/8 in of girth" in rows(page)[1]
    assert "Small" in seen(page) or "Small" in " ".join(rows(page))
