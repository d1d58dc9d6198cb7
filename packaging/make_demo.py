#!/usr/bin/env python3
# SPDX-License-Identifier: MIT
"""Makes resources/demo: an invented theatre's workroom, with fittings really played by the engine.

Everybody and everything in it is invented. The same seed gives the same files, byte for byte.
"""

from __future__ import annotations

import itertools
import shutil
import sys
from collections import Counter
from collections.abc import Callable
from datetime import UTC, datetime, timedelta
from pathlib import Path

import numpy as np

ROOT = Path(__file__).resolve().parent.parent
sys.path.insert(0, str(ROOT))

from fitassist.app.kept_form import keep_form, last_fitting  # noqa: E402
from fitassist.domain.answers import Choose, Done, TapeReading  # noqa: E402
from fitassist.domain.body import Preferences  # noqa: E402
from fitassist.domain.form import Form  # noqa: E402
from fitassist.domain.form_file import load_form_text  # noqa: E402
from fitassist.domain.measurements import Catalogue, load_catalogue  # noqa: E402
from fitassist.domain.steps import Ask, Measure, SetDials  # noqa: E402
from fitassist.domain.units import parse_length  # noqa: E402
from fitassist.session.events import (  # noqa: E402
    BodyDescribed,
    Event,
    FittingStarted,
    MeasurementTaken,
    NotesChanged,
)
from fitassist.session.fitting import Fitting  # noqa: E402
from fitassist.session.person import body_for_fitting, fold_person  # noqa: E402
from fitassist.settings import Settings, Window, save_settings  # noqa: E402
from fitassist.storage.library import Library  # noqa: E402
from fitassist.storage.record import Record  # noqa: E402

SEED = 5
FIRST_DAY = datetime(2026, 3, 2, 9, 0, tzinfo=UTC)
HALF_WAY = "amara"
READINGS_HALF_WAY = 5
HOUSE = "Tallowmere Playhouse, a small town's theatre that exists only here"
PLAY = "The Clockmaker's Orchard"

# id, name, role, kind, undergarment, depth, readings as typed; all of it invented.
PEOPLE: tuple[tuple[str, str, str, str, str, str, dict[str, str]], ...] = (
    (
        "ingrid", "Ingrid Okoro", "Widow Marl", "woman", "long-line bra", "good",
        {
            "bust": "38 1/4", "waist": "31 1/8", "hip": "41 3/8", "back_neck_to_waist": "15 7/8",
            "upper_chest": "36 1/2", "under_bust": "33", "high_hip": "37 1/2", "neck": "14 1/2",
        },
    ),
    (
        "mateo", "Mateo Quispe Ferro", "the clockmaker", "man", "vest", "quick",
        {"bust": "39", "waist": "33 1/2", "hip": "39 3/4", "back_neck_to_waist": "17 1/2"},
    ),
    (
        "yuki", "Yuki Aranda", "the lamplighter", "woman", "", "quick",
        {"bust": "33 3/4", "waist": "27", "hip": "36 1/2"},
    ),
    (
        "farid", "Farid Novák", "the ferryman", "man", "", "quick", {},
    ),
    (
        HALF_WAY, "Amara Lindholm", "the orchard keeper", "woman", "everyday bra", "good",
        {
            "bust": "39 1/2", "waist": "33", "hip": "42 1/4", "back_neck_to_waist": "16 1/4",
            "upper_chest": "37 1/4", "under_bust": "34 1/2", "high_hip": "38 3/4", "neck": "15",
        },
    ),
)  # fmt: skip

FORMS = {
    "window": ("eight_parts_split_across", "The form by the window"),
    "stairs": ("four_parts_whole_height", "The small form on the stairs"),
}


class Clock:
    """A time that moves on by itself, so that the files do not depend on the day."""

    def __init__(self) -> None:
        self._now = FIRST_DAY

    def __call__(self) -> str:
        """Return the time, a little later each time."""
        self._now += timedelta(seconds=40)
        return self._now.isoformat(timespec="seconds")

    def next_day(self) -> None:
        """Go on the next morning."""
        self._now = (self._now + timedelta(days=1)).replace(hour=9, minute=0, second=0)


class InventedForm:
    """A form as it might be: each seam gives a share, rows pull at each other, a tape scatters."""

    def __init__(self, form: Form, rng: np.random.Generator) -> None:
        self._rng = rng
        self._form = form
        self._pull = rng.uniform(0.86, 1.02, len(form.dials))
        self._shell = {line.name: rng.normal(6.0, 4.0) for line in form.lines}

    def tape(self, line: str) -> float:
        """Wrap the tape once, mm."""
        heights = {one.name: one.height_mm or 0.0 for one in self._form.lines}
        closed = self._form.line(line)
        girth = (closed.closed_girth_mm if closed else None) or 900.0
        rows = {row.name: row.line for row in self._form.rows}
        seams = Counter(dial.row for dial in self._form.dials)
        for dial, pull in zip(self._form.dials, self._pull, strict=True):
            away = abs(heights[line] - heights[rows[dial.row]])
            share = float(np.exp(-((away / 110.0) ** 2)))
            opened_mm = (dial.number - dial.least) * self._form.unit_mm
            girth += share * pull * opened_mm / seams[dial.row]
        seen = girth + self._shell[line] + self._rng.normal(0.0, 2.0)
        return round(seen / 3.175) * 3.175  # read to an eighth of an inch

    def turn(self, numbers: dict[str, float]) -> None:
        """Turn dials to printed numbers."""
        self._form = self._form.at(numbers)


def typed(mm: float) -> str:
    """Return a length as somebody would type it, in eighths of an inch."""
    whole, eighths = divmod(round(mm / 3.175), 8)
    parts = {0: "", 2: " 1/4", 4: " 1/2", 6: " 3/4"}
    return f"{whole}{parts.get(eighths, f' {eighths}/8')}"


def play(fitting: Fitting, form: InventedForm, is_enough: Callable[[Fitting], bool]) -> None:
    """Answer what a fitting asks until that is enough, or it has ended."""
    for _ in range(200):
        asked = fitting.instruction
        if asked.kind == "done" or is_enough(fitting):
            return
        if isinstance(asked, SetDials):
            form.turn({turn.dial: turn.number for turn in asked.turns})
            fitting.submit(Done())
        elif isinstance(asked, Measure):
            mm = form.tape(asked.line)
            fitting.submit(TapeReading(mm=mm, text=typed(mm)))
        elif isinstance(asked, Ask):
            fitting.submit(Choose(choice=asked.choices[0]))
        else:
            fitting.submit(Done())
    raise RuntimeError("the fitting does not end")


def half_way(fitting: Fitting) -> bool:
    """Stop in the middle: every line has been read once, and dials are to be set finely."""
    readings = fitting.view().readings
    return isinstance(fitting.instruction, SetDials) and readings >= READINGS_HALF_WAY


def measured(role: str, kind: str, under: str, depth: str, taken: dict[str, str]) -> list[Event]:
    """Return what was written down about a person before any fitting."""
    notes = NotesChanged(text=f"{role[0].upper()}{role[1:]} in {PLAY}. {HOUSE}.")
    body = {"body_id": "body-1", "name": "Everyday", "body_kind": kind, "undergarment": under}
    events: list[Event] = [notes, BodyDescribed.model_validate({**body, "depth": depth})]
    for key, text in taken.items():
        mm = parse_length(text, "in").mm
        events.append(MeasurementTaken(body_id="body-1", measurement=key, mm=mm, text=text))
    return events


def fit(
    record: Record, library: Library, catalogue: Catalogue, shell: InventedForm, *, whole: bool
) -> None:
    """Play a fitting of a record's body on the form by the window."""
    body = body_for_fitting(fold_person(record.events), "body-1", catalogue)
    started = FittingStarted(
        fitting_id=f"{record.person_id}-{len(record.events) + 1}",
        body_id="body-1",
        form_id="window",
        body=body,
        form=library.load_form("window"),
        preferences=Settings(checks=True).preferences(Preferences),
    )
    record.append([started])
    fitting = Fitting(started, record.append)
    play(fitting, shell, (lambda _fitting: False) if whole else half_way)
    keep_form(library, fitting)


def make(folder: Path) -> None:
    """Write the demonstration into a folder, in the place of what is there."""
    shutil.rmtree(folder, ignore_errors=True)
    folder.mkdir(parents=True)
    clock = Clock()
    ids = itertools.chain((person[0] for person in PEOPLE), itertools.repeat("none"))
    library = Library(folder, clock, new_id=lambda: next(ids))
    catalogue = load_catalogue(ROOT / "resources" / "measurements.json")
    for form_id, (kind, name) in FORMS.items():
        path = ROOT / "resources" / "forms" / f"{kind}.json"
        form = load_form_text(path.read_text(encoding="utf-8"))
        library.save_form(form_id, form.model_copy(update={"name": name}))
    shell = InventedForm(library.load_form("window"), np.random.default_rng(SEED))
    for person_id, name, role, kind, under, depth, taken in PEOPLE:
        clock.next_day()
        with library.create_person(name) as record:
            record.append(measured(role, kind, under, depth, taken))
            if person_id in ("ingrid", HALF_WAY):
                fit(record, library, catalogue, shell, whole=person_id != HALF_WAY)
    shutil.rmtree(folder / "people" / "backups", ignore_errors=True)
    window = Window(left=0, top=0, width=1366, height=768)
    settings = Settings(checks=True, last_person=HALF_WAY, last_page="fitting", window=window)
    save_settings(folder, settings)


def main() -> int:
    """Make the demonstration and say what is in it."""
    folder = ROOT / "resources" / "demo"
    make(folder)
    library = Library(folder, Clock())
    for person in library.people():
        with library.open_person(person.id, read_only=True) as record:
            started, past, ended = last_fitting(record.events)
        state = "no fitting" if started is None else f"{len(past)} events, ended: {ended}"
        print(f"{person.id}: {person.n_events} events; {state}")
    return 0


if __name__ == "__main__":
    sys.exit(main())
