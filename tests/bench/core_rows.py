# SPDX-License-Identifier: MIT
"""Rows of the speed table without a window: outlines, padding, a long record, the list of people.

Each is set against what nobody could do without: the same matrix products in numpy, the contours
alone, the JSON alone, the index alone. The least of several times counts, taken in turn, for a
shared machine only ever adds to it.
"""

from __future__ import annotations

import json
import time
from collections.abc import Callable
from pathlib import Path
from typing import Any

import numpy as np
from contourpy import FillType, contour_generator

from fitassist.app.kept_form import last_fitting
from fitassist.files import resources_dir
from fitassist.geometry.outline import torso_outlines
from fitassist.geometry.outline_readings import observations_of
from fitassist.geometry.shape_learning import load_bodies
from fitassist.geometry.shape_prior import OUTLINE_LINES, load_priors, predict
from fitassist.padding.gap import GapMap, measure_gap
from fitassist.padding.plan import Manner, feather_of, plan_padding
from fitassist.session import events as ev
from fitassist.session.fitting import Fitting
from fitassist.session.person import fold_person
from fitassist.storage.document import Document, number_events, write_document
from fitassist.storage.index import read_index
from fitassist.storage.library import Library
from fitassist.storage.record import Record
from tests.bench.outlines import BODIES, SEED, SETS, readings_of
from tests.bench.people import make_people
from tests.unit.padding.shells import shell_and_body
from tests.virtual.cases import make_case
from tests.virtual.judge import Tally
from tests.virtual.play import _answer, start_fitting

SHEET_MM = 6.0
EVENTS = 2000


def in_turn(ours: Callable[[], Any], base: Callable[[], Any], times: int) -> tuple[float, float]:
    """Return the least time of each, ms, taken in turn after one unmeasured pair."""
    found: tuple[list[float], list[float]] = ([], [])
    for k in range(times + 1):
        for one, kept in zip((ours, base), found, strict=True):
            began = time.perf_counter()
            one()
            if k:
                kept.append(1000.0 * (time.perf_counter() - began))
    return min(found[0]), min(found[1])


def told(ours: float, base: float, limit: float) -> dict[str, float]:
    """Return one row."""
    return {"ours_ms": ours, "base_ms": base, "ratio": ours / base, "limit": limit}


def outlines() -> dict[str, float]:
    """All outlines of one body against the matrix products they are made of."""
    priors = load_priors(resources_dir() / "shape" / "prior.npz")
    bodies = load_bodies(BODIES)
    readings = readings_of(bodies, 0, SETS["and breadth there"], np.random.default_rng(SEED))
    prior = priors["woman"]
    observations, _ = observations_of(readings, 3)
    rows = np.array([predict(prior, prior.mean, one)[1] for one in observations])
    mm = np.array([one.mm for one in observations])

    def products() -> None:
        covariance = prior.covariance
        for _ in range(3):
            spread = rows @ covariance @ rows.T + np.eye(len(mm))
            solved = np.linalg.solve(spread, np.column_stack((mm, rows @ covariance)))
            state = prior.mean + covariance @ rows.T @ solved[:, 0]
        after = covariance - covariance @ rows.T @ solved[:, 1:]
        for at in range(len(OUTLINE_LINES)):
            _shape = prior.base[at] + prior.effect[at] @ state
            _spread = ((prior.effect[at] @ after) * prior.effect[at]).sum(axis=1)

    return told(*in_turn(lambda: torso_outlines(prior, readings), products, 60), limit=10.0)


def contours(gap: GapMap) -> int:
    """Return how many polygons the contours of a gap are, one level a sheet."""
    wanted = gap.thickness_mm
    x = np.arange(wanted.shape[1] + 1.0)
    field = np.concatenate([wanted, wanted[:, :1]], axis=1)
    lines = contour_generator(x, gap.surface.z_mm, field, fill_type=FillType.OuterOffset)
    layers = max(1, round(float(wanted.max()) / SHEET_MM))
    levels = [(layer - 0.5) * SHEET_MM for layer in range(1, layers + 1)]
    return sum(len(lines.filled(level, np.inf)[0]) for level in levels)


def padding(manner: Manner, limit: float) -> dict[str, float]:
    """One body's padding plan against its gap and contours alone."""
    sections = shell_and_body(40)

    def ours() -> None:
        plan_padding(sections, SHEET_MM, manner=manner, ignored_mm=2.0)

    def base() -> None:
        contours(measure_gap(sections, 2.0, margin_mm=feather_of(SHEET_MM)))

    return told(*in_turn(ours, base, 5), limit=limit)


def long_record(folder: Path) -> Path:
    """Write a record of fittings one after another, each teaching the form; 2,000 events."""
    events: list[ev.Event] = [ev.PersonNamed(name="Somebody")]
    learned: dict[str, Any] = {}
    number = 0
    while len(events) < EVENTS:
        case = make_case(number % 12)
        case.form.learned = learned if number % 12 else {}
        fitting = start_fitting(case)
        while fitting.instruction.kind != "done":
            fitting.submit(_answer(fitting.instruction, case, Tally()))
        started = fitting.started.model_copy(update={"fitting_id": str(number)})
        events += [started, *(one.event for one in fitting._log)]
        learned, number = fitting.learned(), number + 1
    path = folder / "long.json"
    # Answers name their instruction by its id, so a fitting may be put behind any other.
    recorded, _ = number_events(events, 1, "2026-01-02T03:04:05Z")
    path.write_bytes(write_document(Document("long", recorded)))
    return path


def opening(folder: Path) -> dict[str, float]:
    """Open a record of 2,000 events, fold its person and go on with its last fitting."""
    path = long_record(folder)

    def ours() -> None:
        with Record.open(path, lambda: "") as record:
            fold_person(record.events)
            started, past, _over = last_fitting(record.events)
            assert started is not None
            Fitting(started, lambda _events: [], past).view()

    return told(*in_turn(ours, lambda: json.loads(path.read_bytes()), 5), limit=6.0)


def listing(folder: Path, people: int = 5000) -> dict[str, float]:
    """List people from the kept index against reading the index alone."""
    make_people(folder, people)
    first = Library(folder, lambda: "")
    first.people()
    time.sleep(2.1)  # what was written in the last two seconds is read again, by design
    first._is_index_old = True
    first.keep_index()

    def ours() -> None:
        assert len(Library(folder, lambda: "").people()) == people

    return told(*in_turn(ours, lambda: read_index(folder), 5), limit=3.0)
