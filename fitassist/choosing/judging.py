# SPDX-License-Identifier: MIT
"""What a candidate could do for a body, line by line, and which candidate is best for all of them.

Dials add and padding adds; nothing takes away. So a form serves a body if it is, closed, nowhere
larger and in no length longer than the body; what the dials do not reach is left to padding.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from typing import Literal

from fitassist.choosing.candidate import GIRTHS, HEIGHT, LENGTHS, Candidate, Range
from fitassist.domain.body import Body
from fitassist.domain.lines import What

Outcome = Literal["too_large", "reached", "padded", "short", "unsaid"]
SAME_MM = 1e-6  # noise of the arithmetic: equal is not larger


@dataclass(frozen=True)
class Needs:
    """What the form has to allow besides its sizes; each only where it is wanted."""

    trousers: bool = False
    pins: bool = False
    waist_shifts: bool = False
    shoes_mm: float = 0.0  # added to the height of the shoulder above the floor


@dataclass(frozen=True)
class LineJudged:
    """One line or length of one body on one candidate."""

    line: str
    is_length: bool
    target_mm: float
    range: Range | None
    outcome: Outcome
    by_mm: float = 0.0  # how much too large, to be padded, or short


@dataclass(frozen=True)
class BodyJudged:
    """One body on one candidate."""

    body: str
    lines: tuple[LineJudged, ...]
    height: LineJudged | None
    is_made_for_other: bool

    @property
    def is_served(self) -> bool:
        """Whether the form is nowhere larger than the body, as far as it is described."""
        known = any(line.outcome != "unsaid" for line in self.lines)
        return known and not any(line.outcome == "too_large" for line in self.lines)

    @property
    def padding_mm(self) -> float:
        """Girth left to padding, all lines together."""
        return sum(line.by_mm for line in self.lines if line.outcome == "padded")


@dataclass(frozen=True)
class Judged:
    """One candidate for all the bodies."""

    candidate: Candidate
    bodies: tuple[BodyJudged, ...]
    unmet: tuple[str, ...]  # needs it says no to: trousers, pins, waist_shifts
    unsaid: tuple[str, ...]  # needs it says nothing of

    @property
    def served(self) -> frozenset[int]:
        """Which of the bodies it serves, by their place."""
        if self.unmet:
            return frozenset()
        return frozenset(i for i, body in enumerate(self.bodies) if body.is_served)

    @property
    def padding_mm(self) -> float:
        """Padding left over all bodies it serves."""
        return sum(self.bodies[i].padding_mm for i in self.served)

    @property
    def worst(self) -> tuple[BodyJudged, LineJudged] | None:
        """Where it is most too large, else where most is left to padding; None: nowhere."""
        for outcome in ("too_large", "padded"):
            found = [(b, n) for b in self.bodies for n in b.lines if n.outcome == outcome]
            if found:
                return max(found, key=lambda pair: pair[1].by_mm)
        return None

    @property
    def reason(self) -> str:
        """Code of the one-line reason for its place."""
        if self.unmet:
            return f"no_{self.unmet[0]}"
        worst = self.worst
        if worst is not None and worst[1].outcome == "too_large":
            return "too_large" if len(self.bodies) == 1 else "too_large_for"
        if not self.bodies or not any(body.is_served for body in self.bodies):
            return "nothing_said"
        return "all_reached" if worst is None else "padded"


def judged(candidate: Candidate, bodies: Sequence[Body], needs: Needs | None = None) -> Judged:
    """Return what a candidate could do for each of some bodies."""
    needs = needs or Needs()
    asked = {
        "trousers": (needs.trousers, candidate.takes_trousers),
        "pins": (needs.pins, candidate.takes_pins),
        "waist_shifts": (needs.waist_shifts, candidate.waist_shifts),
    }
    return Judged(
        candidate=candidate,
        bodies=tuple(_body(candidate, body, needs) for body in bodies),
        unmet=tuple(name for name, (is_asked, has) in asked.items() if is_asked and has is False),
        unsaid=tuple(name for name, (is_asked, has) in asked.items() if is_asked and has is None),
    )


def ranked(
    candidates: Sequence[Candidate], bodies: Sequence[Body], needs: Needs | None = None
) -> tuple[Judged, ...]:
    """Return the candidates, the best first.

    The more bodies served the better; then the less too large where it is so, the less padding
    left, the more of the lines described, the needs it says nothing of, and its name.
    """
    return tuple(sorted((judged(one, bodies, needs) for one in candidates), key=_order))


def _order(one: Judged) -> tuple[object, ...]:
    lines = [line for body in one.bodies for line in body.lines]
    return (
        bool(one.unmet),
        -len(one.served),
        round(sum(line.by_mm for line in lines if line.outcome == "too_large"), 3),
        round(one.padding_mm, 3),
        round(sum(line.by_mm for line in lines if line.outcome == "short"), 3),
        sum(line.outcome == "unsaid" for line in lines),
        len(one.unsaid),
        sum(body.is_made_for_other for body in one.bodies),
        sum(body.height is not None and body.height.by_mm > 0 for body in one.bodies),
        one.candidate.name.casefold(),
    )


def _body(candidate: Candidate, body: Body, needs: Needs) -> BodyJudged:
    lines = []
    for target in body.targets:
        if target.what == What.GIRTH and target.line in GIRTHS:
            found = candidate.girths_mm.get(target.line)
            lines.append(_line(target.line, False, target.value_mm, found))
        elif target.what == What.LENGTH and target.line in LENGTHS and target.line != HEIGHT:
            found = candidate.lengths_mm.get(target.line)
            lines.append(_line(target.line, True, target.value_mm, found))
    tall = body.target(HEIGHT, What.LENGTH)
    height = None
    if tall is not None:
        said = candidate.lengths_mm.get(HEIGHT)
        height = _line(HEIGHT, True, tall.value_mm + needs.shoes_mm, said)
    other = candidate.made_for in ("woman", "man", "child") and body.kind != candidate.made_for
    return BodyJudged(body.name, tuple(lines), height, other and body.kind != "other")


def _line(line: str, is_length: bool, target_mm: float, found: Range | None) -> LineJudged:
    if found is None:
        return LineJudged(line, is_length, target_mm, None, "unsaid")
    outcome: Outcome = "reached"
    by_mm = 0.0
    if found.least_mm - target_mm > SAME_MM:
        outcome, by_mm = "too_large", found.least_mm - target_mm
    elif target_mm - found.greatest_mm > SAME_MM:
        # No padding makes a torso longer.
        outcome, by_mm = ("short" if is_length else "padded"), target_mm - found.greatest_mm
    return LineJudged(line, is_length, target_mm, found, outcome, by_mm)
