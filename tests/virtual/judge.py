# SPDX-License-Identifier: MIT
"""Counting the work of a fitting, and judging stated chances against the truth."""

from __future__ import annotations

from collections.abc import Iterable, Mapping, Sequence
from dataclasses import dataclass, field
from itertools import pairwise

import numpy as np

BINS = (0.0, 0.1, 0.3, 0.5, 0.7, 0.9, 0.97, 1.0)


@dataclass
class Tally:
    """What a fitting cost.

    A *reading* is every wrap of the tape. A *turn* is one dial standing at another number than
    at the reading before, however many part-turns it took. A *walk* is a visit to a row in which
    something was turned; part-turns of one row in a row of visits are one walk. *Clicks* add up
    everything turned, to and fro.
    """

    readings: int = 0
    turns: int = 0
    walks: int = 0
    clicks: int = 0
    _before: dict[str, float] = field(default_factory=dict, repr=False)
    _now: dict[str, float] = field(default_factory=dict, repr=False)
    _row: str | None = field(default=None, repr=False)

    def turn(self, dial: str, start: float, number: float, step: float) -> None:
        """Count one dial turned from one number to another."""
        if abs(number - start) < 1e-9:
            return
        self._before.setdefault(dial, start)
        self._now[dial] = number
        self.clicks += round(abs(number - start) / step)
        row = dial.rpartition(".")[0]
        if row != self._row:
            self.walks += 1
            self._row = row

    def read(self) -> None:
        """Count one wrap."""
        self.settle()
        self.readings += 1

    def settle(self) -> None:
        """Close the stretch since the last reading."""
        self.turns += sum(abs(self._now[d] - self._before[d]) > 1e-9 for d in self._now)
        self._before.clear()
        self._now.clear()
        self._row = None


@dataclass(frozen=True)
class Outcome:
    """One finished fitting."""

    readings: int
    turns: int
    walks: int
    clicks: int
    within: bool  # every line truly within tolerance at the end
    worst_mm: float
    verdict: str = ""
    stated: tuple[tuple[float, bool], ...] = ()  # joint chance, truly within at that moment

    @classmethod
    def of(
        cls,
        tally: Tally,
        worst_mm: float,
        tolerance_mm: float,
        verdict: str = "",
        stated: Iterable[tuple[float, bool]] = (),
    ) -> Outcome:
        """Return the outcome of a tally that has come to its end."""
        tally.settle()
        return cls(
            tally.readings,
            tally.turns,
            tally.walks,
            tally.clicks,
            worst_mm <= tolerance_mm,
            worst_mm,
            verdict,
            tuple(stated),
        )


@dataclass(frozen=True)
class Bin:
    """Stated chances between two bounds: how many, their mean, and how often they came true."""

    low: float
    high: float
    count: int
    stated: float
    true: float


def calibration(stated: Sequence[tuple[float, bool]]) -> list[Bin]:
    """Return stated joint chances against what was true at that moment, bin by bin."""
    chances = np.array([chance for chance, _ in stated], dtype=float)
    truths = np.array([true for _, true in stated], dtype=float)
    places = np.clip(np.digitize(chances, BINS) - 1, 0, len(BINS) - 2)
    bins = []
    for i, (low, high) in enumerate(pairwise(BINS)):
        here = places == i
        count = int(here.sum())
        mean = (float(chances[here].mean()), float(truths[here].mean())) if count else (0.0, 0.0)
        bins.append(Bin(low, high, count, *mean))
    return bins


def calibration_lines(stated: Sequence[tuple[float, bool]]) -> list[str]:
    """Return the calibration as lines of text."""
    lines = [f"{'stated':>11} {'count':>6} {'mean':>6} {'true':>6} {'gap':>6}"]
    for b in calibration(stated):
        if b.count:
            lines.append(
                f"{b.low:.2f}-{b.high:.2f}".rjust(11)
                + f" {b.count:>6} {b.stated:>6.3f} {b.true:>6.3f} {b.true - b.stated:>+6.3f}"
            )
    return lines


_COLUMNS = ("readings", "turns", "walks", "clicks")


def table_lines(results: Mapping[str, Sequence[Outcome]], against: str = "a") -> list[str]:
    """Return mean / median / 95th percentile and the ratio of means, one block per method."""
    base = results.get(against)
    head = f"{'':<26}" + "".join(f"{name + ' mean/med/p95 (ratio)':>34}" for name in _COLUMNS)
    lines = [head + f"{'within':>9}{'worst mm':>10}"]
    for name, outcomes in results.items():
        if not outcomes:
            continue
        line = f"{name:<18}{len(outcomes):>6}  "
        for column in _COLUMNS:
            values = np.array([getattr(o, column) for o in outcomes], dtype=float)
            text = (
                f"{values.mean():.1f} / {np.median(values):.0f} / {np.percentile(values, 95):.0f}"
            )
            if base:
                usual = float(np.mean([getattr(o, column) for o in base]))
                text += f" ({values.mean() / usual:.2f})" if usual else " (-)"
            line += f"{text:>34}"
        within = 100.0 * float(np.mean([o.within for o in outcomes]))
        worst = float(np.mean([o.worst_mm for o in outcomes]))
        lines.append(line + f"{within:>8.1f}%{worst:>10.2f}")
    return lines
