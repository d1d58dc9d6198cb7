# SPDX-License-Identifier: MIT
"""How the padding page is laid out: the step and the list above, map and details below."""

from __future__ import annotations

from collections.abc import Sequence

from PySide6.QtCore import Qt
from PySide6.QtGui import QResizeEvent
from PySide6.QtWidgets import QGridLayout, QHBoxLayout, QStackedWidget, QVBoxLayout, QWidget

from fitassist.domain.form import Form
from fitassist.domain.units import AnyUnit
from fitassist.gui import padding_pictures as pictures
from fitassist.gui import theme
from fitassist.gui.fields import ChoiceRow, button, plain_label
from fitassist.gui.folds import scrolling
from fitassist.gui.padding_bar import PaddingBar
from fitassist.gui.padding_card import PaddingCard
from fitassist.gui.padding_choices import PaddingChoices
from fitassist.gui.padding_desk import PaddingDesk
from fitassist.gui.padding_list import PaddingList, StepSeen
from fitassist.gui.padding_map import PaddingMap
from fitassist.gui.padding_notes import PaddingNotes
from fitassist.gui.padding_sections import PaddingSections
from fitassist.padding.by_eye import stacks
from fitassist.padding.contours import outline_rings
from fitassist.padding.materials import Material
from fitassist.session.padding_state import PaddingState
from fitassist.session.padding_steps import Step, sheets_to_lay
from fitassist.session.padding_work import PaddingWork, base_place
from fitassist.wording.language import capital
from fitassist.wording.lengths import say_amount, say_length
from fitassist.wording.padding_page_words import cautions, padding_percent, say
from fitassist.wording.padding_step_words import detail_of, title_of
from fitassist.wording.padding_words import by_eye_text, size_text
from fitassist.wording.sentences import sentence

TABS = ("sections", "sizes", "material", "cautions")
SIDE_SHARE, SIDE_LEAST, SIDE_MOST = 0.24, 290, 420
CELLS_FROM_PX = 270  # a lower card has no room for numbers beside a title read from two metres
MAP_SHARE = 11, 9  # of map and details, side by side


class PaddingWorkView(QWidget):
    """All parts of the page in their places; the page makes them act."""

    def __init__(self, materials: Sequence[Material], parent: QWidget | None = None) -> None:
        super().__init__(parent)
        self._work: PaddingWork | None = None
        self._unit: AnyUnit = "in"
        self.notes = PaddingNotes()
        self.card = PaddingCard()
        self.list = PaddingList()
        self.map = PaddingMap()
        self.sections = PaddingSections()
        self.sizes = plain_label(wraps=True)
        self.choices = PaddingChoices(materials)
        self.choices.tried.connect(self._on_tried)
        self.bar = PaddingBar()
        self.sheets = button(say("sheets_page"), "link")
        self.tabs = ChoiceRow(say("shown"), [(tab, say(f"tab_{tab}")) for tab in TABS])
        self.tabs.chosen.connect(self._on_tab)
        for tab in TABS:  # a click here must not take Enter away from the answer
            self.tabs.choice(tab).setFocusPolicy(Qt.FocusPolicy.TabFocus)
        self._details = QStackedWidget()
        self._lay_out()

    def _lay_out(self) -> None:
        care = plain_label("\n".join(f"·  {text}" for text in cautions()), wraps=True)
        for label in (self.sizes, care):
            label.setAlignment(Qt.AlignmentFlag.AlignTop)
        parts = (self.sections, scrolling(self.sizes), scrolling(self.choices), scrolling(care))
        for part in parts:
            self._details.addWidget(part)
        self.assumed = plain_label(say("assumed"), "note", wraps=True)
        foot = QHBoxLayout()
        foot.addWidget(self.assumed, 1)
        foot.addWidget(self.sheets)
        details = QVBoxLayout()
        details.setSpacing(theme.STEP)
        details.addWidget(self.tabs)
        details.addWidget(self._details, 1)
        details.addLayout(foot)
        below = QHBoxLayout()
        below.setSpacing(theme.MARGIN)
        below.addWidget(self.map, MAP_SHARE[0])
        below.addLayout(details, MAP_SHARE[1])
        self._grid = QGridLayout(self)
        self._grid.setContentsMargins(theme.MARGIN, theme.STEP * 2, theme.MARGIN, theme.STEP * 2)
        self._grid.setHorizontalSpacing(theme.MARGIN)
        self._grid.setVerticalSpacing(theme.STEP)
        self._grid.addWidget(self.notes, 0, 0, 1, 2)
        self._grid.addWidget(self.card, 1, 0)
        self._grid.addWidget(self.list, 1, 1)
        self._grid.addLayout(below, 2, 0, 1, 2)
        self._grid.addWidget(self.bar, 3, 0, 1, 2)
        self._grid.setColumnStretch(0, 1)
        self._grid.setRowStretch(1, 10)
        self._grid.setRowStretch(2, 13)

    def resizeEvent(self, event: QResizeEvent) -> None:
        """Give the list its share."""
        super().resizeEvent(event)
        larger = min(max(theme.scale(), 1.0), 1.4)
        side = min(max(self.width() * SIDE_SHARE, SIDE_LEAST * larger), SIDE_MOST * larger)
        self.list.setFixedWidth(round(side))

    # -- what is shown ------------------------------------------------------------------------

    def show_desk(
        self, desk: PaddingDesk, steps: Sequence[Step], step: Step | None, unit: AnyUnit
    ) -> None:
        """Show a plan, how far it has got, and what is asked for now."""
        form = desk.bridge.started.form if desk.bridge is not None else None
        is_new = desk.work is not self._work or unit != self._unit
        self._work, self._unit = desk.work, unit
        self.notes.show_desk(desk, unit)
        self.bar.set_unit(unit)
        self._show_card(desk, steps, step, form)
        self._show_list(steps, step, form)
        if is_new:
            self._show_pictures()
            self._show_sizes()
        self._show_pieces(desk.state, step)
        is_typing = self.tabs.value() == "material" and not is_new
        if not is_typing:
            self.choices.show_choice(desk.choice, unit, desk.is_read_only)
        places: tuple[str, ...] = ()
        if desk.state.has_begun and desk.work is not None:
            places = tuple(dict.fromkeys(base_place(one.place) for one in desk.state.laid))
        self.bar.show_step(
            step.kind if step is not None else "",
            step.place if step is not None else "",
            places,
            desk.can_undo,
            desk.is_read_only,
        )

    def _show_card(
        self, desk: PaddingDesk, steps: Sequence[Step], step: Step | None, form: Form | None
    ) -> None:
        work = desk.work
        is_asked = step is not None and work is not None and not work.is_empty
        self.card.show_place(step if is_asked else None)
        if work is None:
            why = sentence(desk.error, self._unit) if desk.error is not None else ""
            self.card.show_words(say("refused"), f"{why} {say('choose_other')}.")
        elif work.is_empty:
            over = bool(work.task.over)
            self.card.show_words(say("nothing"), say("nothing_why_over" if over else "nothing_why"))
        elif step is None:
            self.card.show_words(say("finished"), say("finished_why"))
        else:
            title = title_of(step.kind, step.place, step.values, form)
            number = [one.id for one in steps].index(step.id) + 1
            told = say("step_of", number=number, count=len(steps))
            said = self._detail(step, work, desk.state)
            self.card.is_words = False
            self.card.show_parts(title, title, self._cells(step, work, desk.state), said, told)

    def _detail(self, step: Step, work: PaddingWork, state: PaddingState) -> str:
        line = work.task.line(step.place)
        heights: tuple[tuple[str, float], ...] = ()
        around = 0.0
        if work.plan is not None:
            surface = work.plan.gap.surface
            heights = tuple(zip(surface.lines, surface.level_z_mm.tolist(), strict=True))
            around = surface.width_mm
        is_read = step.kind == "measure" and work.plan is not None
        return detail_of(
            step.kind,
            step.place,
            step.values,
            self._unit,
            expected_mm=work.girths(state).get(step.place) if is_read else None,
            goal_mm=line.goal_mm if line is not None else None,
            sheets=sheets_to_lay(step, work, state) if step.kind == "piece" else None,
            line_heights=heights,
            round_mm=around,
        )

    def _cells(self, step: Step, work: PaddingWork, state: PaddingState) -> list[tuple[str, str]]:
        """Return what stands largest: sheets and sizes, or what is wanted."""
        values, unit = step.values, self._unit
        if self.card.height() < CELLS_FROM_PX * max(theme.scale(), 1.0):
            return []  # the words are what must be read from afar; sizes stand in the detail
        if step.kind == "piece":
            size = size_text(values["width_mm"], values["height_mm"], unit)
            sheets = sheets_to_lay(step, work, state)
            return [(say("cell_sheets"), str(sheets)), (say("cell_size"), size)]
        if step.kind == "strip":
            size = " × ".join(say_length(values[k], unit) for k in ("length_mm", "width_mm"))
            return [(say("cell_strip"), size)]
        if step.kind == "wrap":
            return [(say("cell_times"), str(values["sheets"]))]
        if step.kind == "measure" and not values.get("early"):
            line = work.task.line(step.place)
            return [(say("cell_wanted"), say_length(line.goal_mm, unit))] if line else []
        return []

    def _show_list(self, steps: Sequence[Step], step: Step | None, form: Form | None) -> None:
        seen: list[tuple[str, StepSeen]] = []
        work = self._work
        for one in steps if work is not None and not work.is_empty else ():
            state: StepSeen = "now" if one is step else one.state
            seen.append((title_of(one.kind, one.place, one.values, form), state))
        self.list.show_steps(seen)

    def _show_sizes(self) -> None:
        work = self._work
        if work is None or work.plan is None or not work.pieces:
            self.sizes.setText(say("no_sizes"))
            return
        said = [
            capital(by_eye_text(one.place, one.sizes_mm, self._unit))
            for one in stacks(work.pieces, work.plan.feather_mm)
        ]
        told = work.plan.outcome
        before, after = (say_amount(mm, self._unit) for mm in (told.before_mm, told.after_mm))
        said.append(say("coming", before=before, after=after))
        said.append(say("distortion", percent=padding_percent(work.plan.distortion)))
        self.sizes.setText("\n".join(said))

    # -- pictures -----------------------------------------------------------------------------

    def _show_pictures(self) -> None:
        work = self._work
        there = work is not None and work.plan is not None
        for tab in ("sections", "sizes"):
            self.tabs.choice(tab).setVisible(there)
        self.map.setVisible(there)
        self.assumed.setVisible(there)
        if work is None:
            self.map.show_picture(None, "")
            self.sections.show_sections(())
            self._show_tab("material")
            return
        self._show_map(work.choice.thickness_mm)
        self.sections.show_sections(pictures.padded_sections(work, self._unit))
        if not there:
            self._show_tab("material")
        elif self.tabs.value() == "material":
            self._show_tab("sections")

    def _show_map(self, thickness_mm: float) -> None:
        assert self._work is not None
        picture = pictures.map_picture(self._work, thickness_mm)
        words = pictures.map_words(self._work, picture) if picture is not None else ""
        self.map.show_picture(picture, words)

    def _show_pieces(self, state: PaddingState, step: Step | None) -> None:
        work = self._work
        if work is None or work.plan is None:
            self.map.show_pieces((), ())
            return
        width = work.plan.gap.surface.width_mm
        lying = work.laid_now(state)
        now = step.values.get("numbers", ()) if step is not None else ()
        rings = {
            number: outline_rings(work.pieces[number].outline, width) for number in {*lying, *now}
        }
        self.map.show_pieces(
            [ring for number in lying for ring in rings[number]],
            [ring for number in now for ring in rings[number]],
        )

    def _on_tried(self, thickness_mm: float) -> None:
        """Show at once what a thickness that is only typed would come to."""
        if self._work is not None and self._work.plan is not None:
            self._show_map(thickness_mm)
            self.map.show_pieces((), ())

    def _on_tab(self, tab: str) -> None:
        self._details.setCurrentIndex(TABS.index(tab))
        if tab != "material" and self._work is not None and self._work.plan is not None:
            self._show_map(self._work.choice.thickness_mm)

    def _show_tab(self, tab: str) -> None:
        self.tabs.set_value(tab)
        self._on_tab(tab)

    def show_tab(self, tab: str) -> None:
        """Show one of the details beside the map."""
        self._show_tab(tab)
