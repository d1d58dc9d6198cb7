# SPDX-License-Identifier: MIT
"""What a form has taught, held against forms whose gain is known because we made them up."""

from __future__ import annotations

import pytest
from scipy.integrate import quad
from scipy.stats import norm

from fitassist.domain.form import Dial, DialMeaning, Form, FormLine, KnownGirth, Row
from fitassist.errors import BadFile
from fitassist.planning.evidence import Entry, Evidence, PastFitting
from fitassist.planning.teaching import chance_off, taught

SEAMS = ("front", "left", "back", "right")
INCH_MM = 25.4  # exactly, by the international agreement of 1959


def a_form(**more: object) -> Form:
    lines = tuple(FormLine(name=n, closed_girth_mm=700.0) for n in ("waist", "hip"))
    rows = tuple(Row(name=n, line=n) for n in ("waist", "hip"))
    dials = tuple(
        Dial(name=f"{row}.{seam}", least=28, greatest=36, click=0.25, number=28)
        for row in ("waist", "hip")
        for seam in SEAMS
    )
    return Form(name="One", lines=lines, rows=rows, dials=dials, **more)


def taught_form(gain: float, repeats: int = 3, **more: object) -> Form:
    """A form whose waist gives `gain` of what it prints, read at five stands without error."""
    form = a_form(**more)
    start = form.numbers()
    fittings = []
    for month in range(1, repeats + 1):
        entries = []
        for number in (28, 30, 32, 34, 36):
            at = {f"waist.{seam}": float(number) for seam in SEAMS}
            entries.append(Entry(numbers=at))
            girth = 700.0 + gain * (number - 28) * INCH_MM
            entries.append(Entry(line="waist", mm=girth, spread_mm=2.0))
        fittings.append(
            PastFitting(start=start, at=f"2026-{month:02}-04T10:00:00Z", entries=tuple(entries))
        )
    learned = Evidence(fittings=tuple(fittings)).model_dump(mode="json")
    return form.model_copy(update={"learned": learned})


def test_a_form_without_readings_has_taught_nothing() -> None:
    assert taught(a_form()).rows == ()


@pytest.mark.parametrize("gain", [0.7, 0.9, 1.0])
def test_the_gain_of_a_row_is_found_again_from_its_readings(gain: float) -> None:
    (row,) = taught(taught_form(gain)).rows
    assert row.row == "waist"
    assert row.gain == pytest.approx(gain, abs=0.04)
    assert row.readings == 15
    assert row.last_at.startswith("2026-03-04")


@pytest.mark.parametrize(("gain", "is_off"), [(0.6, True), (0.95, False), (1.0, False)])
def test_only_a_scale_more_than_fifteen_per_cent_off_is_pointed_out(
    gain: float, is_off: bool
) -> None:
    (row,) = taught(taught_form(gain)).rows
    assert row.is_off is is_off


def test_a_form_without_a_print_tells_what_a_turn_gives_and_never_that_it_is_off() -> None:
    (row,) = taught(taught_form(0.6, dial_meaning=DialMeaning.PLAIN_TURNS)).rows
    assert not row.is_off
    # one printed unit of the made-up form gives 0.6 in all round
    assert row.turn_mm == pytest.approx(0.6 * INCH_MM, rel=0.1)


def test_girths_noted_with_the_form_count_as_readings() -> None:
    form = a_form()
    noted = KnownGirth(girth_mm=700.0, numbers=form.numbers())
    lines = tuple(line.model_copy(update={"girths": (noted,)}) for line in form.lines)
    rows = taught(form.model_copy(update={"lines": lines})).rows
    assert [(row.row, row.readings, row.last_at) for row in rows] == [
        ("waist", 1, ""),
        ("hip", 1, ""),
    ]


def test_evidence_that_cannot_be_understood_is_refused() -> None:
    with pytest.raises(BadFile) as caught:
        taught(a_form().model_copy(update={"learned": {"fittings": 7}}))
    assert caught.value.code == "bad_learned"


@pytest.mark.parametrize(("gain", "spread"), [(0.8, 0.05), (1.0, 0.1), (1.2, 0.02)])
def test_the_chance_of_being_off_is_the_integral_of_the_density(gain: float, spread: float) -> None:
    inside, _error = quad(lambda x: norm.pdf(x, gain, spread), 0.85, 1.15)
    assert chance_off(gain, spread) == pytest.approx(1 - inside, abs=1e-6)
