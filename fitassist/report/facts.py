# SPDX-License-Identifier: MIT
"""What the sheets tell of one body and the form set to it, gathered from the record.

Nothing is kept here: the record is folded anew, so a sheet can say nothing the record does not.
"""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from typing import Literal

from pydantic import Field

from fitassist.domain.body import Body, Preferences, Target
from fitassist.domain.form import DialMeaning, Form
from fitassist.domain.lines import Seam, What
from fitassist.domain.measurements import Catalogue
from fitassist.domain.model import Model
from fitassist.errors import FitError
from fitassist.session.events import Advised, FittingStarted, Recorded
from fitassist.session.padding_state import PaddingState, fold_padding, without_padding
from fitassist.session.person import FittingSpan, PersonState, body_for_fitting, fold_person
from fitassist.session.state import fold, left_out
from fitassist.session.view import FittingView, LineView
from fitassist.session.viewing import preview_lines

LineEnd = Literal["within", "short", "over", "unknown"]


class LineFact(Model):
    """What one line came to, beside what was wanted. Lengths in mm."""

    line: str
    what: What = What.GIRTH
    target_mm: float
    tolerance_mm: tuple[float, float]
    now_mm: float | None = None
    spread_mm: float | None = None
    was_read: bool = False  # since the last turn; else worked out
    end: LineEnd = "unknown"


class Facts(Model):
    """One body of one person, and the form as the last fitting of that body left it."""

    person: str
    notes: str = ""
    body: Body
    form: Form | None = None  # its dials as they stand; None: nothing was fitted yet
    date: str = ""  # of the last thing that happened in the fitting, YYYY-MM-DD
    verdict: str = ""  # of an ended fitting
    lines: tuple[LineFact, ...] = ()
    stuck: tuple[str, ...] = ()
    torso_mm: float | None = None  # back neck to waist the torso was pulled to
    stand_mm: float | None = None  # shoulder above the floor
    preferences: Preferences = Field(default_factory=Preferences)

    @property
    def targets(self) -> Mapping[tuple[str, What], Target]:
        """What was measured of the body, by line and what."""
        return {(target.line, target.what): target for target in self.body.targets}

    def length_mm(self, key: str) -> float | None:
        """Return a length of the body, or None if it was not measured."""
        found = self.targets.get((key, What.LENGTH))
        return found.value_mm if found else None

    def girth_mm(self, line: str) -> float | None:
        """Return a girth of the body, or None if it was not measured."""
        found = self.targets.get((line, What.GIRTH))
        return found.value_mm if found else None


def facts_of(
    events: Sequence[Recorded], catalogue: Catalogue, body_id: str = "", newest: bool = False
) -> Facts:
    """Return the facts of a body: as it was fitted last or, without a fitting, as measured.

    Parameters
    ----------
    body_id
        Which body; empty: the one fitted last, else the first.
    newest
        Take the readings of today even where a fitting went by earlier ones.

    Raises
    ------
    FitError
        ``sheet_nobody`` without a body, ``sheet_nothing_measured`` without a reading.
    """
    person = fold_person(events)
    body_id = body_id or _likely_body(person)
    if body_id not in person.bodies:
        raise FitError("sheet_nobody")
    span = _last_span(person, body_id)
    measured = body_for_fitting(person, body_id, catalogue)
    if span is None:
        if not measured.targets:
            raise FitError("sheet_nothing_measured")
        return Facts(person=person.name, notes=person.notes, body=measured)
    facts = _fitted(person, events, span)
    return facts.model_copy(update={"body": measured}) if newest and measured.targets else facts


def last_of_body(
    events: Sequence[Recorded], body_id: str = ""
) -> tuple[FittingStarted, FittingView, PaddingState] | None:
    """Return the last fitting of a body as it stands, and what was laid since; or None."""
    person = fold_person(events)
    span = _last_span(person, body_id or _likely_body(person))
    if span is None:
        return None
    started, past = _events_of(events, span)
    state = fold(started, past)
    shown = [one.event.instruction for one in past if isinstance(one.event, Advised)]
    if not shown:
        return None
    view = FittingView(
        revision=len(past),
        instruction=shown[-1],
        lines=preview_lines(state),
        numbers=dict(state.numbers),
    )
    return started, view, fold_padding(events[span.first + 1 : span.end])


def _last_span(person: PersonState, body_id: str) -> FittingSpan | None:
    return next((span for span in reversed(person.fittings) if span.body_id == body_id), None)


def _events_of(
    events: Sequence[Recorded], span: FittingSpan
) -> tuple[FittingStarted, tuple[Recorded, ...]]:
    started = events[span.first].event
    assert isinstance(started, FittingStarted)
    return started, without_padding(events[span.first + 1 : span.end])


def _likely_body(person: PersonState) -> str:
    fitted = [span.body_id for span in person.fittings if span.body_id in person.bodies]
    return fitted[-1] if fitted else next(iter(person.bodies), "")


def _fitted(person: PersonState, events: Sequence[Recorded], span: FittingSpan) -> Facts:
    started, past = _events_of(events, span)
    state = fold(started, past)
    gone = left_out(past)
    told = [one for one in past if one.seq not in gone and not isinstance(one.event, Advised)]
    shown = [one.event.instruction for one in past if isinstance(one.event, Advised)]
    last = shown[-1] if shown else None
    body, form = started.body, started.form.at(dict(state.numbers))
    wants_torso = "torso_length" in state.checks_done and form.torso.parts != "none"
    wants_stand = bool(state.checks_done & {"shoulder_level", "waist_level"})
    torso = body.target("back_neck_to_waist", What.LENGTH) if wants_torso else None
    stand = body.target("floor_to_shoulder", What.LENGTH) if wants_stand else None
    return Facts(
        person=person.name,
        notes=person.notes,
        body=body,
        form=form,
        date=(told[-1].at if told else span.at)[:10],
        verdict=last.verdict if last is not None and last.kind == "done" else "",
        lines=tuple(_line_fact(view) for view in preview_lines(state)),
        stuck=tuple(sorted(state.stuck)),
        torso_mm=torso.value_mm if torso else form.torso.length_mm,
        stand_mm=stand.value_mm if stand else form.stand.height_mm,
        preferences=started.preferences,
    )


def _line_fact(view: LineView) -> LineFact:
    low, high = view.tolerance_mm
    end: LineEnd = "unknown"
    if view.predicted_mm is not None:
        off = view.predicted_mm - view.target_mm
        # As for padding: what lies off by less than it is known to says nothing yet.
        known = view.spread_mm or 0.0
        if low <= off <= high:
            end = "within"
        elif abs(off) > known:
            end = "short" if off < low else "over"
    return LineFact(
        line=view.line,
        what=view.what,
        target_mm=view.target_mm,
        tolerance_mm=view.tolerance_mm,
        now_mm=view.predicted_mm,
        spread_mm=view.spread_mm,
        was_read=view.read_since_turn,
        end=end,
    )


def gaps_mm(form: Form, row: str) -> dict[Seam, float] | None:
    """Return how wide each seam of a row stands open, or None where dials print plain turns.

    Where the numbers are whole girths, a seam gives its share of the girth its dial has gained
    (our model, no source).
    """
    dials = [dial for dial in form.dials if dial.row == row]
    if form.dial_meaning == DialMeaning.PLAIN_TURNS or not dials:
        return None
    share = 1.0 / len(dials) if form.dial_meaning == DialMeaning.WHOLE_GIRTH else 1.0
    return {dial.seam: (dial.number - dial.least) * share * form.unit_mm for dial in dials}
