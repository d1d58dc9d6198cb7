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


Carrier = Literal["", "form", "slip_on"]
"""What padding is laid on: the shell itself or a slip-on; empty: there is none."""


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
    padding_worn: Carrier = ""  # what the form still wears of the fitting before
    padding_kept: Carrier = ""  # what this body's padding of an earlier fitting is kept on


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


class PersonTagged(Model):
    """The words the user sorts this person by; they take the place of earlier ones."""

    kind: Literal["person_tagged"] = "person_tagged"
    tags: tuple[str, ...] = ()


class PersonArchived(Model):
    """The person was put away from the daily list, or brought back."""

    kind: Literal["person_archived"] = "person_archived"
    archived: bool = True


class MeasurementBrought(Model):
    """One reading that came from elsewhere: a table, or another record of the same person."""

    kind: Literal["measurement_brought"] = "measurement_brought"
    body_id: str
    measurement: str
    mm: float = Field(gt=0)
    text: str = ""
    how: HowTaken = "card"
    taken_on: str = ""  # YYYY-MM-DD where the user said so, else empty
    counts: bool = True  # False: told of the past, shown in the history only


class MeasuringBegan(Model):
    """A body is measured anew: earlier readings become history once their line is read again."""

    kind: Literal["measuring_began"] = "measuring_began"
    body_id: str
    after_seq: int = 0  # readings up to this one are the earlier ones; 0: all before this event
    measurements: tuple[str, ...] = ()  # only these; none named: all


class RecordTakenIn(Model):
    """The events just before this one came from another record, renumbered."""

    kind: Literal["record_taken_in"] = "record_taken_in"
    person_id: str  # of the other record; empty for a copy of this one
    first_seq: int
    why: Literal["merge", "conflict"] = "merge"


class RecordGivenOver(Model):
    """Another record holds all of this one; it is kept until the user confirms."""

    kind: Literal["record_given_over"] = "record_given_over"
    into: str = ""  # id of the other record; empty: taken back


class PaddingEvent(FittingEvent):
    """Shared by what is laid on the form once its dials are done; no dial and no reading of it."""


class PaddingChosen(PaddingEvent):
    """What padding is made of from now on, how it is shaped and where it is laid."""

    kind: Literal["padding_chosen"] = "padding_chosen"
    material: str = ""  # key of the list of materials; empty: one of the user's own
    thickness_mm: float = Field(gt=0)  # of one sheet, as it works under the cover
    manner: Literal["tidy", "free", "by_eye"] = "tidy"
    carrier: Literal["form", "slip_on"] = "form"


class WrapMeasured(PaddingEvent):
    """Sheets were wrapped all round the form to learn how thick one works."""

    kind: Literal["wrap_measured"] = "wrap_measured"
    material: str = ""
    wraps: int = Field(ge=1)
    bare_mm: float = Field(gt=0)
    wrapped_mm: float = Field(gt=0)


class PieceLaid(PaddingEvent):
    """One piece, of one sheet or several, lies on the form."""

    kind: Literal["piece_laid"] = "piece_laid"
    step: str
    place: str
    sheets: int = Field(default=1, ge=1)
    width_mm: float = Field(default=0.0, ge=0)
    height_mm: float = Field(default=0.0, ge=0)


class LayerChanged(PaddingEvent):
    """One layer was taken out from underneath, or put in there."""

    kind: Literal["layer_changed"] = "layer_changed"
    step: str
    place: str
    layers: Literal[-1, 1]


class PaddedRead(PaddingEvent):
    """One wrap of the tape round the form with what lies on it by then."""

    kind: Literal["padded_read"] = "padded_read"
    step: str = ""
    line: str
    mm: float = Field(gt=0)
    text: str = ""


class PaddingLooked(PaddingEvent):
    """Seen from the side, beside the person or a mirror, a place looks wrong."""

    kind: Literal["padding_looked"] = "padding_looked"
    place: str
    looks: Literal["too_full", "too_flat", "ridge"]


class PaddingStepDone(PaddingEvent):
    """A plain step of padding is done, or was passed over."""

    kind: Literal["padding_step_done"] = "padding_step_done"
    step: str
    skipped: bool = False


class StandingOutAccepted(PaddingEvent):
    """The form stays larger than the body at a line; that is known and left."""

    kind: Literal["standing_out_accepted"] = "standing_out_accepted"
    line: str


class ProofAnswered(PaddingEvent):
    """What a woven garment known to fit says of the padded form."""

    kind: Literal["proof_answered"] = "proof_answered"
    question: str
    answer: str


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
    | FittingLeft
    | PersonTagged
    | PersonArchived
    | MeasurementBrought
    | MeasuringBegan
    | RecordTakenIn
    | RecordGivenOver
    | PaddingChosen
    | WrapMeasured
    | PieceLaid
    | LayerChanged
    | PaddedRead
    | PaddingLooked
    | PaddingStepDone
    | StandingOutAccepted
    | ProofAnswered,
    Field(discriminator="kind"),
]


class Recorded(Model):
    """An event with its place in the record and when it was written (UTC, ISO 8601)."""

    seq: int = Field(ge=1)
    at: str = ""
    event: Event


# What version 1 of the document did not know; see storage.migrations.
SINCE_VERSION_2 = (
    PaddingEvent,
    PersonTagged,
    PersonArchived,
    MeasurementBrought,
    MeasuringBegan,
    RecordTakenIn,
    RecordGivenOver,
    PaddingEvent,
)

EVENT_ADAPTER: TypeAdapter[Event] = TypeAdapter(Event)
