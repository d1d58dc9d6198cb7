# SPDX-License-Identifier: MIT
"""Long use of the real window: ``python -m tests.trust.soak``.

One person is fitted over and over, changing places in between, until her record has 2,000 events;
then the list holds 5,000 records and is looked through. Memory, the time of an answer, objects of
Qt, timers and threads are taken after each fitting, always in the same place, and must not grow.
The limits are asked of this project; those marked own choice allow for a busy machine.
"""

from __future__ import annotations

import argparse
import ctypes
import gc
import os
import random
import shutil
import statistics
import sys
import tempfile
import threading
import time
from collections import Counter
from collections.abc import Callable, Sequence
from dataclasses import dataclass, field
from pathlib import Path
from typing import Any

os.environ.setdefault("QT_QPA_PLATFORM", "offscreen")

import numpy as np
from PySide6.QtCore import QCoreApplication, QEvent, QObject, QTimer
from PySide6.QtWidgets import QApplication

import fitassist.session.fitting  # noqa: F401  (loaded before anything is measured)
from fitassist.app.start import make_workroom, tear_down
from fitassist.app.workroom import Workroom
from fitassist.domain.steps import Finished
from fitassist.session import events as ev
from fitassist.storage.library import Library
from tests.virtual.cases import Case, make_case, make_second
from tests.virtual.judge import Tally
from tests.virtual.play import _answer

PLACES = ("people", "measurements", "form", "settings", "fitting")
MOST_BYTES_AN_EVENT = 1024.0  # slope of memory after the warm-up
MOST_GROWTH = 1.5  # time of an answer, last quarter against second quarter; own choice
MOST_LISTING_BYTES = 64 * 1024  # of each look through the list, after the first two; own choice
WARM_UP = 0.4  # share of the fittings: what a form learns is kept for 30 of them
BODIES = ("body-1", "body-2")


@dataclass
class Sample:
    """What was found after one fitting."""

    events: int
    memory: int  # bytes the process holds
    answer_s: list[float] = field(repr=False)
    begin_s: float
    things: dict[str, int]  # how many of each kind; empty where they were not counted


@dataclass
class Soaked:
    """All samples, and what was counted."""

    samples: list[Sample]
    counts: Counter[str]
    listing_memory: list[int] = field(default_factory=list)
    listing_s: list[float] = field(default_factory=list)

    def settled(self) -> list[Sample]:
        """Return the samples after the warm-up."""
        return self.samples[int(WARM_UP * len(self.samples)) :]

    def bytes_an_event(self) -> float:
        """Return the slope of memory over events (Theil-Sen: the median of all slopes)."""
        from scipy.stats import theilslopes

        kept = self.settled()
        return float(theilslopes([s.memory for s in kept], [s.events for s in kept])[0])

    def growth(self) -> float:
        """Return the time of an answer in the last quarter against the second."""
        quarter = len(self.samples) // 4
        parts = (self.samples[quarter : 2 * quarter], self.samples[-quarter:])
        second, last = (statistics.median(t for s in part for t in s.answer_s) for part in parts)
        return last / second

    def left_over(self) -> dict[str, int]:
        """Return by how many each kind of thing has risen since the warm-up."""
        counted = [s.things for s in self.settled() if s.things]
        if len(counted) < 2:
            return {}
        return {name: counted[-1][name] - counted[0][name] for name in counted[0]}

    def listing_bytes(self) -> float:
        """Return what each look through the list takes for good, after the first two."""
        kept = self.listing_memory[2:]
        return (kept[-1] - kept[0]) / max(len(kept) - 1, 1) if kept else 0.0

    def faults(self) -> list[str]:
        """Return what is over its limit."""
        found = []
        if self.bytes_an_event() > MOST_BYTES_AN_EVENT:
            found.append(f"memory grows by {self.bytes_an_event():.0f} bytes an event")
        if self.growth() > MOST_GROWTH:
            found.append(f"an answer takes {self.growth():.2f} times as long at the end")
        found += [f"{n} {name} left over" for name, n in self.left_over().items() if n > 0]
        if self.listing_bytes() > MOST_LISTING_BYTES:
            found.append(f"a look through the list keeps {self.listing_bytes():.0f} bytes")
        return found


def settle() -> None:
    """Let Qt delete what is to be deleted, and Python and the C library what is free."""
    for _ in range(2):
        QCoreApplication.sendPostedEvents(None, QEvent.Type.DeferredDelete)
        QCoreApplication.processEvents()
    gc.collect()
    trim = getattr(ctypes.CDLL(None), "malloc_trim", None) if sys.platform == "linux" else None
    if trim is not None:
        trim(0)


def memory() -> int:
    """Return the bytes of this process in memory."""
    pages = int(Path("/proc/self/statm").read_text().split()[1])
    return pages * os.sysconf("SC_PAGE_SIZE")


class Soak:
    """A profile of its own with one person, one form and a window on them."""

    def __init__(self, folder: Path, seed: int = 1) -> None:
        self.folder = folder
        self.counts: Counter[str] = Counter()
        self.chance = random.Random(seed)
        first, second = _two_bodies(seed)
        self.cases = dict(zip(BODIES, (first, second), strict=True))
        library = Library(folder, _clock)
        self.form_id = library.save_form("", first.form.as_form())
        with library.create_person("Somebody") as record:
            for body_id, case in self.cases.items():
                record.append(_body_events(body_id, case))
            self.person_id = record.id
        app = QApplication.instance() or QApplication([])
        assert isinstance(app, QApplication)
        self.app = app
        self.room: Workroom = make_workroom(app, folder)
        self.room.window.resize(1366, 768)
        self.room.begin()
        self.room.window.show()
        self.room.open_person(self.person_id)

    def close(self) -> None:
        """Close the window and let everything of Qt go."""
        tear_down(self.app, self.room)

    @property
    def events(self) -> int:
        """How many events the person's record has."""
        return len(self.room.record.events) if self.room.record is not None else 0

    def fitting(self, body_id: str, switches: int, count: bool) -> Sample:
        """Begin a fitting, play it to its end, change places so often; return what is there."""
        began = time.perf_counter()
        self.room.begin_fitting(body_id, self.form_id)
        self._paint()
        begin_s = time.perf_counter() - began
        bridge = self.room.room.bridge
        assert bridge is not None
        assert bridge.is_ready
        case, times = self.cases[body_id], []
        case.form._number[:] = [
            [bridge.view().numbers[f"{row}.{seam}"] for seam in ("front", "left", "back", "right")]
            for row in ("bust", "waist", "hip")
        ]
        while not isinstance(bridge.view().instruction, Finished):
            answer = _answer(bridge.view().instruction, case, Tally())
            before = self.events
            began = time.perf_counter()
            assert bridge.submit(answer)
            self._paint()
            times.append(time.perf_counter() - began)
            assert self.room.record is not None
            told = [one.event for one in self.room.record.events[before:]]
            self.counts["plans"] += sum(isinstance(one, ev.PlanAdopted) for one in told)
            self.counts["answers"] += 1
        self.counts["fittings"] += 1
        for place in (self.chance.choice(PLACES) for _ in range(switches)):
            self._go(place)
        self._go("fitting")
        settle()
        taken = memory()
        return Sample(self.events, taken, times, begin_s, self._things() if count else {})

    def _go(self, place: str) -> None:
        self.room.window.go_to(place)
        self._paint()
        self.counts["switches"] += 1

    def _paint(self) -> None:
        self.app.processEvents()
        self.room.window.grab()

    def _things(self) -> dict[str, int]:
        """Count what may be left over; not often, for looking makes objects of Python."""
        window = self.room.window
        return {
            "objects": len(window.findChildren(QObject)) + len(self.room.findChildren(QObject)),
            "widgets": len(self.app.allWidgets()),
            "timers": sum(isinstance(one, QTimer) for one in gc.get_objects()),
            "threads of Python": threading.active_count(),
        }

    def fill_list(self, records: int) -> None:
        """Put so many people beside her, all by copying one short record."""
        library = Library(self.folder, _clock)
        with library.create_person("Person 0") as record:
            record.append(_body_events("body-1", self.cases["body-1"]))
        text = record.path.read_text(encoding="utf-8")
        for number in range(1, records):
            copied = text.replace("Person 0", f"Person {number}").replace(
                record.id, f"copy{number:06}"
            )
            path = record.path.with_name(f"copy{number:06}.json")
            path.write_text(copied, encoding="utf-8")
        self.counts["records"] = records

    def read_all(self) -> None:
        """Show the list until every record of it has been read; what it keeps is then complete."""
        self._go("settings")
        self._go("people")
        page: Any = self.room.window.page("people")
        while page.is_reading:
            self.app.processEvents()

    def look_through(self) -> tuple[int, float]:
        """Show the list of people anew; return the memory after it and how long it took."""
        self._go("settings")
        began = time.perf_counter()
        self._go("people")
        took = time.perf_counter() - began
        settle()
        return memory(), took


def _clock() -> str:
    return "2026-01-02T03:04:05Z"


def _two_bodies(seed: int) -> tuple[Case, Case]:
    """Return two bodies that one virtual form can become."""
    for number in range(seed * 1000, seed * 1000 + 50):
        first = make_case(number, units="in")
        second = make_second(first, number)
        if second is not None and second.targets_mm != first.targets_mm:
            return first, Case(first.form, second.targets_mm, first.tolerance_mm, first.sex, number)
    raise AssertionError("no form that two bodies share")


def _body_events(body_id: str, case: Case) -> list[ev.Event]:
    taken: list[ev.Event] = [ev.BodyDescribed(body_id=body_id, name=body_id)]
    for line, mm in case.targets_mm.items():
        taken.append(ev.MeasurementTaken(body_id=body_id, measurement=line, mm=mm))
    return taken


def run(
    folder: Path,
    events: int,
    switches: int,
    records: int,
    say: Callable[[str], Any] = lambda _text: None,
    count_each: int = 10,
) -> Soaked:
    """Use the window until all of this has happened; return what was measured."""
    soak = Soak(folder)
    soaked = Soaked([], soak.counts)
    try:
        while soak.events < events:
            # So that all switches are done by the end, whatever a fitting takes.
            share = soak.events / events
            due = max(1, round(switches * share) + 4 - soak.counts["switches"])
            body_id = BODIES[len(soaked.samples) % 2]
            is_counted = len(soaked.samples) % count_each == count_each - 1
            soaked.samples.append(soak.fitting(body_id, min(due, 20), is_counted))
            if is_counted:
                say(str(soaked.samples[-1]))
        while soak.counts["switches"] < switches:
            soak._go(soak.chance.choice(PLACES))
        if records:
            soak.fill_list(records)
            soak.read_all()
            for _ in range(8):
                there, took = soak.look_through()
                soaked.listing_memory.append(there)
                soaked.listing_s.append(took)
    finally:
        soak.close()
    soaked.counts["events"] = max(sample.events for sample in soaked.samples)
    return soaked


def main(argv: Sequence[str] | None = None) -> int:
    """Run the long form; 1 if anything grows."""
    parser = argparse.ArgumentParser(prog="python -m tests.trust.soak")
    parser.add_argument("--events", type=int, default=2000)
    parser.add_argument("--switches", type=int, default=500)
    parser.add_argument("--records", type=int, default=5000)
    asked = parser.parse_args(argv)
    folder = Path(tempfile.mkdtemp(prefix="fitassist-soak-"))
    began = time.monotonic()
    try:
        soaked = run(folder, asked.events, asked.switches, asked.records, print)
    finally:
        shutil.rmtree(folder)
    print(f"{time.monotonic() - began:.0f} s: {dict(soaked.counts)}")
    print(f"memory: {soaked.bytes_an_event():.0f} bytes an event (limit {MOST_BYTES_AN_EVENT:.0f})")
    print(f"answer, last quarter / second: {soaked.growth():.2f} (limit {MOST_GROWTH})")
    begins = np.array([s.begin_s for s in soaked.samples]).round(2)
    print(f"begin of a fitting, first and last five: {begins[:5]} {begins[-5:]} s")
    print(f"left over since the warm-up: {soaked.left_over()}")
    if soaked.listing_s:
        times = " ".join(f"{one:.2f}" for one in soaked.listing_s)
        print(f"list of people: {times} s; {soaked.listing_bytes():.0f} bytes a look")
    for fault in soaked.faults():
        print("FAULT", fault)
    return int(bool(soaked.faults()))


if __name__ == "__main__":
    sys.exit(main())
