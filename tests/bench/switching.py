# SPDX-License-Identifier: MIT
"""What turning a form from one person back to another costs: ``python -m tests.bench.switching``.

On a virtual form B is fitted, then A, each never seen before; what the form learned is all that is
carried over. Then B comes back: *same* in the undergarment of the first time, *other* in another.
*never* is a third person whom the form has not met. A walk is wasted where the dials could have
come from where A left them to where they ended in fewer visits to rows.
"""

from __future__ import annotations

import argparse
import time
import traceback
from concurrent.futures import ProcessPoolExecutor
from dataclasses import dataclass, replace

import numpy as np

from fitassist.domain.body import Body, Preferences, Target
from fitassist.planning.layout import Layout
from fitassist.planning.order import walks
from fitassist.planning.prior import prior_mean
from fitassist.session.events import FittingStarted
from fitassist.session.fitting import Fitting
from tests.virtual.cases import Case, make_case, make_second
from tests.virtual.judge import Outcome
from tests.virtual.play import play
from tests.virtual.recording import Numbering

# From the description of what is wanted: readings for the same undergarment, and for another.
MOST_READINGS = {"same": 2, "other": 5}
WITHIN = 0.95


@dataclass(frozen=True)
class Switch:
    """One change of person: what it cost, and the walks the straight way would have taken."""

    outcome: Outcome
    straight_walks: int

    @property
    def wasted(self) -> int:
        """Walks beyond the straight way."""
        return max(0, self.outcome.walks - self.straight_walks)


def start(case: Case, who: str, undergarment: str, number: int) -> Fitting:
    """Return a new fitting of somebody known by an id, in a named undergarment."""
    room = (-case.tolerance_mm, case.tolerance_mm)
    targets = tuple(
        Target(line=line, value_mm=girth, tolerance_mm=room)
        for line, girth in case.targets_mm.items()
    )
    started = FittingStarted(
        fitting_id=f"{who}-{number}",
        body_id="everyday",
        form_id="form",
        body=Body(name="Everyday", targets=targets, undergarment=undergarment),
        form=case.form.as_form(),
        preferences=Preferences(units="in" if case.form.options.units == "in" else "cm"),
    )
    return Fitting(started, Numbering())


def switched(case: Case, who: str, undergarment: str, number: int) -> Switch:
    """Fit somebody on the form as it stands, and keep what it learned."""
    fitting = start(case, who, undergarment, number)
    before = dict(case.form.numbers)
    outcome = play(fitting, case)
    case.form.learned = fitting.learned()
    return Switch(outcome, _straight(case, before))


def _straight(case: Case, before: dict[str, float]) -> int:
    """Count visits to rows on the best way from some numbers to where the form stands now."""
    form = case.form.as_form()
    layout = Layout.of(form, [])
    effects = prior_mean(layout, {})[: layout.girth.start].reshape(len(layout.lines), -1)
    now = np.array([before[dial] for dial in layout.dials])
    there = np.array([case.form.numbers[dial] for dial in layout.dials])
    rows = [walk.row for walk in walks(layout, effects, now, there)]
    return sum(1 for i, row in enumerate(rows) if i == 0 or rows[i - 1] != row)


def run_case(seed: int) -> dict[str, Switch]:
    """Return the changes of one form, by their kind."""
    b = make_case(seed)
    switched(b, "b", "her own", 1)
    a = make_second(b, seed)
    if a is None:
        return {}
    switched(a, "a", "his own", 1)
    found = {}
    rng = np.random.default_rng([seed, 7])
    for kind in ("same", "other"):
        form = a.form.next_person(rng)
        if kind == "same":
            form.undergarment_mm = b.form.undergarment_mm.copy()
        again = replace(b, form=form)
        found[kind] = switched(again, "b", "her own" if kind == "same" else "another", 2)
    third = make_second(a, seed + 1)
    if third is not None:
        found["never"] = switched(third, "c", "new", 1)
    return found


def _guarded(seed: int) -> dict[str, Switch] | str:
    try:
        return run_case(seed)
    except Exception:  # one broken fitting must not hide the rest
        return f"case {seed}\n{traceback.format_exc()}"


def report(kind: str, found: list[Switch]) -> str:
    """Return one line about one kind of change."""
    readings = np.array([one.outcome.readings for one in found])
    walked = np.array([one.outcome.walks for one in found])
    within = np.mean([one.outcome.within for one in found])
    most = MOST_READINGS.get(kind)
    kept = f", within {most}: {100 * np.mean(readings <= most):.1f} %" if most else ""
    return (
        f"{kind:>6} {len(found):>5}  readings {readings.mean():.2f} / {np.median(readings):.0f} / "
        f"{np.percentile(readings, 95):.0f}{kept}; walks {walked.mean():.2f} (straight "
        f"{np.mean([one.straight_walks for one in found]):.2f}, none wasted "
        f"{100 * np.mean([one.wasted == 0 for one in found]):.1f} %); turns "
        f"{np.mean([one.outcome.turns for one in found]):.1f}; truly within {100 * within:.1f} %, "
        f"worst {np.mean([one.outcome.worst_mm for one in found]):.2f} mm"
    )


def main() -> int:
    """Print the table."""
    parser = argparse.ArgumentParser(description=__doc__)
    parser.add_argument("--cases", type=int, default=100)
    parser.add_argument("--seed", type=int, default=1)
    parser.add_argument("--workers", type=int, default=2)
    asked = parser.parse_args()
    started = time.perf_counter()
    seeds = range(700_000 * asked.seed, 700_000 * asked.seed + asked.cases)
    with ProcessPoolExecutor(asked.workers) as pool:
        answers = list(pool.map(_guarded, seeds, chunksize=2))
    broken = [answer for answer in answers if isinstance(answer, str)]
    print("kind  cases  readings mean / median / 95th percentile")
    for kind in ("same", "other", "never"):
        found = [one[kind] for one in answers if not isinstance(one, str) and kind in one]
        if found:
            print(report(kind, found))
    print("\n".join(broken[:1]), f"{len(broken)} broken, {time.perf_counter() - started:.1f} s")
    return 1 if broken else 0


if __name__ == "__main__":
    raise SystemExit(main())
