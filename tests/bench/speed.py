# SPDX-License-Identifier: MIT
"""Speed as ratios side by side in one run: ``python -m tests.bench.speed``.

* re-plan (belief, plan, order, next reading; 14 dials, 6 lines) against one
  ``scipy.optimize.lsq_linear(method="bvls")`` of 20 x 14;
* a reading, from Enter to repainted plots (true outlines in them), against the sum of its parts
  measured alone (append with fsync, re-plan, repaint);
* start of the program to its first usable paint against a bare window with one plot;
* the rows of ``core_rows``: outlines, padding, a record of 2,000 events, a list of 5,000 people.

Machines differ and are shared, so only ratios are worth keeping. A frozen program against the same
from its source is told where ``--frozen PROGRAM`` names one.
"""

from __future__ import annotations

import argparse
import datetime
import os
import platform
import statistics
import subprocess
import sys
import tempfile
import time
from pathlib import Path

os.environ.setdefault("QT_QPA_PLATFORM", "offscreen")

import numpy as np
from scipy.optimize import lsq_linear

from fitassist.domain import answers as an
from fitassist.domain.body import Body, Target
from fitassist.domain.form import Dial, Form, FormLine, Row
from fitassist.domain.lines import Seam
from fitassist.domain.steps import Measure, SetDials
from fitassist.padding.plan import Manner
from fitassist.session import events as ev
from fitassist.session.fitting import Fitting
from fitassist.storage.record import Record
from tests.bench import core_rows

BARE_WINDOW = """
import os, time
began = float(os.environ["BENCH_BEGAN"])
import pyqtgraph as pg
from PySide6.QtWidgets import QApplication, QMainWindow
app = QApplication([])
class Plot(pg.PlotWidget):
    def paintEvent(self, event):
        super().paintEvent(event)
        print(time.time() - began, flush=True)
        os._exit(0)
window = QMainWindow()
window.setCentralWidget(Plot())
window.resize(1366, 768)
window.show()
app.exec()
"""

OUR_WINDOW = """
import os, sys, time
began = float(os.environ["BENCH_BEGAN"])
from pathlib import Path
from PySide6.QtCore import QTimer
from PySide6.QtWidgets import QApplication
from fitassist.app.start import make_workroom
app = QApplication([])
room = make_workroom(app, Path(sys.argv[1]))
from fitassist.app.first_paint import AfterFirstPaint
def painted():
    print(time.time() - began, flush=True)
    os._exit(0)
AfterFirstPaint(room.window).do(painted)
room.window.resize(1366, 768)
room.window.show()
app.exec()
"""


def fourteen_dials() -> tuple[Form, Body]:
    """Return a form of 14 dials on four rows and six lines, and a body; invented numbers."""
    closed = {
        "neck": 340,
        "bust": 840,
        "under_bust": 720,
        "waist": 640,
        "high_hip": 800,
        "hip": 880,
    }
    least = {"bust": 33.0, "waist": 25.0, "hip": 35.0, "neck": 13.0}
    seams = {row: tuple(Seam) for row in ("bust", "waist", "hip")}
    dials = [
        Dial(name=f"{row}.{seam}", least=low, greatest=low + 8, click=0.25, number=low + 2)
        for row, low in least.items()
        for seam in seams.get(row, (Seam.FRONT, Seam.BACK))
    ]
    form = Form(
        name="bench",
        lines=tuple(FormLine(name=name, closed_girth_mm=float(mm)) for name, mm in closed.items()),
        rows=tuple(Row(name=row, line=row) for row in least),
        dials=tuple(dials),
    )
    targets = tuple(
        Target(line=name, value_mm=mm + 75.0, tolerance_mm=(-6.35, 6.35))
        for name, mm in closed.items()
    )
    return form, Body(name="bench", targets=targets)


def to_a_reading(fitting: Fitting) -> None:
    """Answer until the tape is asked for."""
    while not isinstance(fitting.instruction, Measure):
        now = fitting.instruction
        fitting.submit(an.Done() if isinstance(now, SetDials) else an.Choose(choice="again"))


def replan() -> dict[str, float]:
    """Time one reading's belief, plan, order and next reading against one bounded solve."""
    form, body = fourteen_dials()

    def once() -> float:
        fitting = Fitting.start(body, form)
        to_a_reading(fitting)
        mm = fitting.instruction.expect_mm or 900.0  # type: ignore[union-attr]
        began = time.perf_counter()
        fitting.submit(an.TapeReading(mm=mm + 4.0))
        return 1000 * (time.perf_counter() - began)

    rng = np.random.default_rng(0)
    a, b = rng.normal(size=(20, 14)), rng.normal(size=20)

    def solves() -> float:
        began = time.perf_counter()
        for _ in range(100):
            lsq_linear(a, b, bounds=(-0.1, 0.1), method="bvls")
        return 1000 * (time.perf_counter() - began)

    # In turn, and a hundred solves at once: a busy machine then slows both alike.
    once(), solves()
    pairs = [(once(), solves()) for _ in range(11)]
    ours, hundred = (min(pair[side] for pair in pairs) for side in (0, 1))
    return core_rows.told(ours, hundred / 100, limit=100.0)


def reading_to_repaint(folder: Path) -> dict[str, float]:
    """Time a reading from submit to repainted page against its parts measured alone."""
    import pyqtgraph  # noqa: F401  (loaded before anything is timed)
    from PySide6.QtWidgets import QApplication

    from fitassist.app.torso_shapes import outlines_of
    from fitassist.gui.bridge import FittingBridge
    from fitassist.gui.fitting_page import FittingPage

    app = QApplication.instance() or QApplication([])
    form, body = fourteen_dials()
    started = ev.FittingStarted(fitting_id="bench", body=body, form=form)

    def a_record(name: str) -> Record:
        return Record.create(folder / name, "bench", lambda: "2026-01-01T00:00:00Z")

    append, plan, paint, whole = [], [], [], []
    for k in range(9):
        record = a_record(f"whole{k}.json")
        fitting = Fitting(started, record.append)
        to_a_reading(fitting)
        page = FittingPage()
        bridge = FittingBridge.over(fitting, outlines_of=outlines_of)
        page.resize(1366, 700)
        page.show_bridge(bridge)
        page.show()
        app.processEvents()
        began = time.perf_counter()
        bridge.submit(an.TapeReading(mm=(fitting.instruction.expect_mm or 900.0) + 4.0))
        app.processEvents()
        page.repaint()
        whole.append(1000 * (time.perf_counter() - began))
        began = time.perf_counter()
        page.show_view(fitting.view())
        app.processEvents()
        page.repaint()
        paint.append(1000 * (time.perf_counter() - began))
        alone = Fitting.start(body, form)
        to_a_reading(alone)
        began = time.perf_counter()
        alone.submit(an.TapeReading(mm=(alone.instruction.expect_mm or 900.0) + 4.0))
        plan.append(1000 * (time.perf_counter() - began))
        began = time.perf_counter()
        record.append([ev.FormRead(line="bust", mm=900.0)])
        append.append(1000 * (time.perf_counter() - began))
        page.close()
        page.deleteLater()
        record.close()
    parts = sum(statistics.median(x) for x in (append, plan, paint))
    return core_rows.told(statistics.median(whole), parts, limit=1.5)


def start_up(folder: Path) -> dict[str, float]:
    """Time process start to first paint, ours and a bare window taken in turn."""
    times: dict[str, list[float]] = {"ours": [], "bare": []}
    for k in range(8):
        for name, code in (("ours", OUR_WINDOW), ("bare", BARE_WINDOW)):
            env = {**os.environ, "BENCH_BEGAN": repr(time.time())}
            out = subprocess.run(
                [sys.executable, "-c", code, str(folder)],
                env=env,
                capture_output=True,
                text=True,
                check=False,
            )
            if k:  # the first pair warms the disk cache
                times[name].append(1000 * float(out.stdout.split()[0]))
    return core_rows.told(min(times["ours"]), min(times["bare"]), limit=1.3)


def frozen(program: Path) -> dict[str, float]:
    """Time the frozen program's version line against the same from the source."""

    def timed(*command: str) -> float:
        began = time.perf_counter()
        subprocess.run(command, check=True, capture_output=True)
        return 1000 * (time.perf_counter() - began)

    source = (sys.executable, "-m", "fitassist", "--version")
    pairs = [(timed(str(program), "--version"), timed(*source)) for _ in range(6)][1:]
    ours, base = (min(pair[side] for pair in pairs) for side in (0, 1))
    return core_rows.told(ours, base, limit=1.5)


def processor() -> str:
    """Return what the system calls its processor."""
    about = Path("/proc/cpuinfo")
    if about.exists():
        names = [one for one in about.read_text().splitlines() if one.startswith("model name")]
        if names:
            return names[0].partition(":")[2].strip()
    return platform.processor() or platform.machine()


def rows(asked: argparse.Namespace) -> dict[str, dict[str, float]]:
    """Return all rows asked for by name."""
    with tempfile.TemporaryDirectory() as name:
        folder = Path(name)
        made = {
            "start / bare window": lambda: start_up(folder / "profile"),
            "reading to repaint / its parts": lambda: reading_to_repaint(folder),
            "re-plan / lsq_linear": replan,
            "outlines / their products": core_rows.outlines,
            "free padding / gap and contours": lambda: core_rows.padding(Manner.FREE, 20.0),
            "tidy padding / gap and contours": lambda: core_rows.padding(Manner.TIDY, 150.0),
            "open 2,000 events / their JSON": lambda: core_rows.opening(folder),
            "list 5,000 people / their index": lambda: core_rows.listing(folder / "people"),
        }
        if asked.frozen is not None:
            made["frozen / source"] = lambda: frozen(asked.frozen)
        return {what: make() for what, make in made.items() if asked.only in what}


def main() -> int:
    """Print the ratios; 1 if one is over its limit."""
    parser = argparse.ArgumentParser(prog="python -m tests.bench.speed")
    parser.add_argument("--only", default="", help="rows with this in their names")
    parser.add_argument("--frozen", type=Path, help="the frozen program, to time it as well")
    found = rows(parser.parse_args())
    today = datetime.date.today()
    print(f"{processor()}, {os.cpu_count()} cores, Python {platform.python_version()}, {today}\n")
    print("| ours / against | ours ms | against ms | ratio | limit | of the limit |")
    print("|---|---|---|---|---|---|")
    over = 0
    for what, one in found.items():
        over += one["ratio"] > one["limit"]
        share = 100.0 * one["ratio"] / one["limit"]
        times = f"{one['ours_ms']:.2f} | {one['base_ms']:.3f}"
        print(f"| {what} | {times} | {one['ratio']:.2f} | {one['limit']:.1f} | {share:.0f} % |")
    return int(over > 0)


if __name__ == "__main__":
    sys.exit(main())
