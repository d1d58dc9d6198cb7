# SPDX-License-Identifier: MIT
"""What happened to one person's record: past facts, never changed, never deleted.

A record is the list of these. Undo appends; it removes nothing.
"""

from __future__ import annotations

from typing import Annotated, Literal

from pydantic import Field, TypeAdapter

from fitassist.domain.body import Body, Kind, Preferences
from fitassist.domain.form import Form
from fitassist.domain.lines import What
from fitassist.domain.model import Model
from fitassist.domain.shaping import Shaping
from fitassist.domain.steps import Instruction

HowTaken = Literal["helped", "alone", "card", "clothed"]


class PersonNamed(Model):
    """The person's name as the user writes it."""

    kind: Literal["person_named"] = "person_named"
    name: str


class NotesChanged(Model):
    """Free notes."""

    kind: Literal["notes_changed"] = "notes_changed"
    text: str


class BodyDescribed(Model):
    """A body of this person was added or described anew."""

    kind: Literal["body_described"] = "body_described"
    body_id: str
    name: str
    body_kind: Kind = "woman"
    undergarment: str = ""
    depth: Literal["quick", "good", "full"] = "quick"


class MeasurementTaken(Model):
    """One reading on the body."""

    kind: Literal["measurement_taken"] = "measurement_taken"
    body_id: str
    measurement: str  # key of the catalogue
    mm: float = Field(gt=0)
    text: str = ""  # as typed
    how: HowTaken = "helped"


class MeasurementWithdrawn(Model):
    """An earlier reading on the body does not count; it stays in the record."""

    kind: Literal["measurement_withdrawn"] = "measurement_withdrawn"
    taken_seq: int


class MeasurementKept(Model):
    """A question about plausible readings was answered with keep."""

    kind: Literal["measurement_kept"] = "measurement_kept"
    body_id: str
    question: str  # code and readings asked about, so that it is asked once


class FittingStarted(Model):
    """A fitting of one body on one form began; both as they were then."""

    kind: Literal["fitting_started"] = "fitting_started"
    fitting_id: str
    body_id: str = ""
    form_id: str = ""  # of the form in the library, to keep there where its dials end
    body: Body
    form: Form
    preferences: Preferences = Preferences()
    shaping: Shaping = Shaping()


class FittingEvent(Model):
    """Shared by what happens during a fitting; the fitting is the last one started."""


class Advised(FittingEvent):
    """An instruction was shown; reopening shows it again."""

    kind: Literal["advised"] = "advised"
    instruction: Instruction


class PlanAdopted(FittingEvent):
    """Where the dials are to stand before the tape is wanted again."""

    kind: Literal["plan_adopted"] = "plan_adopted"
    numbers: dict[str, float]
    why: str = ""


class DialsSet(FittingEvent):
    """Dials now stand at these numbers."""

    kind: Literal["dials_set"] = "dials_set"
    to: int | None = None  # id of the instruction answered; None: volunteered
    numbers: dict[str, float]
    stopped: tuple[str, ...] = ()  # would not go further this way
    stuck: tuple[str, ...] = ()  # will not turn: left out of plans until freed


class DialFreed(FittingEvent):
    """A stuck dial turns again."""

    kind: Literal["dial_freed"] = "dial_freed"
    dial: str


class FormRead(FittingEvent):
    """One wrap of the tape on the form."""

    kind: Literal["form_read"] = "form_read"
    to: int | None = None
    line: str
    what: What = What.GIRTH
    mm: float
    text: str = ""
    ribbon: Literal["", "apart", "overlap"] = ""


class QuestionAnswered(FittingEvent):
    """A question of the program was answered."""

    kind: Literal["question_answered"] = "question_answered"
    to: int
    code: str
    about: int | None = None
    choice: str


class CheckDone(FittingEvent):
    """A plain step is done."""

    kind: Literal["check_done"] = "check_done"
    to: int
    code: str


class Skipped(FittingEvent):
    """An instruction was passed over."""

    kind: Literal["skipped"] = "skipped"
    to: int


class Undone(FittingEvent):
    """The event of that number does not count. For a set, the dials are turned back first."""

    kind: Literal["undone"] = "undone"
    undone_seq: int


class FittingLeft(FittingEvent):
    """The user ended the fitting."""

    kind: Literal["fitting_left"] = "fitting_left"


Event = Annotated[
    PersonNamed
    | NotesChanged
    | BodyDescribed
    | MeasurementTaken
    | MeasurementWithdrawn
    | MeasurementKept
    | FittingStarted
    | Advised
    | PlanAdopted
    | DialsSet
    | DialFreed
    | FormRead
    | QuestionAnswered
    | CheckDone
    | Skipped
    | Undone
    | FittingLeft,
    Field(discriminator="kind"),
]


class Recorded(Model):
    """An event with its place in the record and when it was written (UTC, ISO 8601)."""

    seq: int = Field(ge=1)
    at: str = ""
    event: Event


EVENT_ADAPTER: TypeAdapter[Event] = TypeAdapter(Event)
