# SPDX-License-Identifier: MIT
"""Many people: ``python -m tests.bench.people [--people 5000]``.

* from the click on the place to its first painted rows, with the index kept, against reading the
  index alone;
* a key in the search, to the repainted list, against the same;
* all records read because the index is gone.

Machines differ and are shared, so the ratios are what is worth keeping.
"""

from __future__ import annotations

import argparse
import os
import statistics
import tempfile
import time
from collections.abc import Callable
from pathlib import Path

os.environ.setdefault("QT_QPA_PLATFORM", "offscreen")

from PySide6.QtWidgets import QApplication

from fitassist.app.start import make_workroom, tear_down
from fitassist.domain.measurements import load_catalogue
from fitassist.files import Disk, resources_dir
from fitassist.session.events import BodyDescribed, MeasurementTaken, PersonTagged
from fitassist.storage.index import read_index
from fitassist.storage.library import Library

REPEATS = 7
FIRST = ("Ada", "Bela", "Cora", "Dario", "Emre", "Fenja", "Gita", "Hanno", "Ilse", "Jun")
LAST = ("Abel", "Brook", "Carrow", "Dorn", "Ekker", "Fjord", "Gall", "Heath", "Irwin", "Joss")


class _QuickDisk(Disk):
    """Does not wait for the platters while the people are made."""

    def fsync(self, handle: int) -> None:
        pass


def make_people(folder: Path, count: int) -> None:
    """Keep so many invented people with a dozen readings each."""
    catalogue = load_catalogue(resources_dir() / "measurements.json")
    measured = catalogue.at_depth("good")
    numbers = iter(range(10**9))
    library = Library(
        folder, lambda: "2026-03-04T09:00:00+00:00", lambda: f"{next(numbers):016x}", _QuickDisk()
    )
    for n in range(count):
        events = [
            PersonTagged(tags=(f"group {n % 7}",)),
            BodyDescribed(body_id="body-1", name="Everyday", depth="good"),
            *(
                MeasurementTaken(
                    body_id="body-1", measurement=one.key, mm=one.least_mm + n % 90 + 1
                )
                for one in measured
            ),
        ]
        name = f"{FIRST[n % 10]} {LAST[n // 10 % 10]} {n}"
        library.create_person(name, events).close()


def timed(act: Callable[[], object]) -> float:
    """Return how long something takes, in ms."""
    began = time.perf_counter()
    act()
    return (time.perf_counter() - began) * 1000


def main() -> None:
    """Measure, and print a table."""
    parser = argparse.ArgumentParser()
    parser.add_argument("--people", type=int, default=5000)
    count = parser.parse_args().people
    with tempfile.TemporaryDirectory() as name:
        folder = Path(name)
        make_people(folder, count)
        time.sleep(2.5)  # what was written in the moment of the index is read again
        library = Library(folder, lambda: "")
        whole = timed(library.people)
        library.keep_index()
        print(f"people                                   {count}")
        print(f"all records read, no index          {whole:10.0f} ms")
        bare = statistics.median(timed(lambda: read_index(folder)) for _ in range(REPEATS))
        print(f"the index read alone                {bare:10.1f} ms")
        app = QApplication([])
        click, keys = [], []
        for _ in range(REPEATS):
            room = make_workroom(app, folder)
            room.window.resize(1366, 768)
            room.window.go_to("settings")
            room.window.show()
            app.processEvents()

            room.library.listing()  # as the program does once its first page is painted

            def visit(room: object = room) -> None:
                room.window.go_to("people")  # type: ignore[attr-defined]
                app.processEvents()  # paints

            click.append(timed(visit))
            page = room.window.page("people")
            assert page.list_view.model().rowCount() == count  # type: ignore[attr-defined]
            for text in ("g", "gi", "git", "gita", "gita h"):

                def key(text: str = text, page: object = page) -> None:
                    page.search.setText(text)  # type: ignore[attr-defined]
                    app.processEvents()

                keys.append(timed(key))
            tear_down(app, room)
        for what, found in (("click to first rows painted", click), ("a key in the search", keys)):
            middle, worst = statistics.median(found), max(found)
            print(f"{what:35} {middle:10.1f} ms (worst {worst:.1f}), {middle / bare:.1f} of it")


if __name__ == "__main__":
    main()
