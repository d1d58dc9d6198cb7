# SPDX-License-Identifier: MIT
"""A form belongs to everybody: after each fitting it is kept as it stands, with what it taught.

While a fitting is open a small mark lies in the profile. If the program ends without taking it
away, the next start brings the form up to date from the record, which is always complete.
"""

from __future__ import annotations

import json
import logging
from collections.abc import Mapping
from pathlib import Path
from typing import Any, Protocol

from fitassist.domain.form import Dial, Form
from fitassist.domain.form_memory import LastFitted
from fitassist.errors import BadFile, FitError
from fitassist.files import make_folder, read_file, remove_file, replace_file
from fitassist.planning.evidence import worth_keeping
from fitassist.session.events import FittingStarted, Recorded
from fitassist.session.padding_state import without_padding
from fitassist.session.person import fold_person
from fitassist.storage.library import Library

log = logging.getLogger(__name__)

FOLDER = "under_way"
_LIMIT = 10_000  # bytes
_MET = ("stuck", "stopped_above", "stopped_below")


class Standing(Protocol):
    """A fitting, as far as its form goes."""

    @property
    def started(self) -> FittingStarted:
        """The event it began with."""

    def form_now(self) -> Form:
        """Return the form as it stands, with what it has taught."""

    @property
    def has_ended(self) -> bool:
        """Whether it has come to its end or was left."""


def last_fitting(
    events: tuple[Recorded, ...],
) -> tuple[FittingStarted | None, tuple[Recorded, ...], bool]:
    """Return the last fitting of a record, what happened in it since, and whether it has ended.

    Padding is left out: it turns no dial, and is folded on its own.
    """
    spans = fold_person(events).fittings
    if not spans:
        return None, (), False
    span = spans[-1]
    started = events[span.first].event
    assert isinstance(started, FittingStarted)
    return started, without_padding(events[span.first + 1 : span.end]), span.finished


def keep_form(library: Library, fitting: Standing, at: str = "") -> None:
    """Keep with a form where its dials stand now, for whom, and what this fitting has taught.

    What the user has changed about the form meanwhile, and what others' fittings have taught it,
    stays.

    Parameters
    ----------
    at
        When the last thing happened in it, UTC, ISO 8601; empty where that is not known.

    Raises
    ------
    FitError
        If the form is not there any more or could not be written.
    """
    started = fitting.started
    if not started.form_id:
        return
    kept, now = library.load_form(started.form_id), fitting.form_now()
    moved = kept.at(_possible(kept, now.numbers()))
    person_id = started.fitting_id.rpartition("-")[0]
    stands = LastFitted(
        fitting_id=started.fitting_id,
        person_id=person_id,
        body_id=started.body_id,
        undergarment=started.body.undergarment,
        at=at,
        finished=fitting.has_ended,
        numbers=now.numbers(),
    )
    moved = moved.model_copy(
        update={
            "learned": _merged(kept.learned, started, now.learned, at),
            "dials": _as_met(moved, started, now),
            "last_fitted": stands if person_id else kept.last_fitted,
        }
    )
    if moved != kept:
        library.save_form(started.form_id, moved)


def _as_met(kept: Form, started: FittingStarted, now: Form) -> tuple[Dial, ...]:
    """Return the dials with what this fitting met, and only that, remembered of them."""
    # Once kept, this fitting's own earlier word is what it may take back: a dial turns again.
    is_own = kept.last_fitted is not None and kept.last_fitted.fitting_id == started.fitting_id
    dials = []
    for dial in kept.dials:
        was, is_ = started.form.dial(dial.name), now.dial(dial.name)
        if was is not None and is_ is not None:
            met = {name: getattr(is_, name) for name in _MET}
            if is_own or met != {name: getattr(was, name) for name in _MET}:
                dial = dial.model_copy(update=met)
        dials.append(dial)
    return tuple(dials)


def _possible(form: Form, numbers: Mapping[str, float]) -> dict[str, float]:
    """Leave out dials that this form has no more, or that no longer go so far."""
    found = {}
    for name, number in numbers.items():
        dial = form.dial(name)
        if dial is not None and dial.least <= number <= dial.greatest:
            found[name] = number
    return found


def _merged(
    kept: Mapping[str, Any], started: FittingStarted, now: Mapping[str, Any], at: str
) -> dict[str, Any]:
    """Put this fitting's evidence, and no other's, in the place of what it said before."""
    before = started.form.learned.get("fittings", ())
    taught = now.get("fittings", ())
    others = [
        one for one in kept.get("fittings", ()) if one.get("fitting_id", "") != started.fitting_id
    ]
    own: list[dict[str, Any]] = []
    if len(taught) > len(before) or (taught and _evidence(taught[-1]) != _evidence(before[-1])):
        own = [{**taught[-1], "fitting_id": started.fitting_id, "at": at}]
    if not own and len(others) == len(kept.get("fittings", ())):
        return dict(kept)
    return {**now, **kept, "fittings": worth_keeping([*others, *own])}


def _evidence(past: Mapping[str, Any]) -> object:
    return past.get("start"), past.get("entries")


class Marks:
    """Which fittings are open just now, by the person they are of."""

    def __init__(self, profile: Path) -> None:
        self._folder = profile / FOLDER

    def put(self, person_id: str, form_id: str) -> None:
        """Note that a fitting is open; StorageFailed if that cannot be noted."""
        make_folder(self._folder)
        data = json.dumps({"person_id": person_id, "form_id": form_id}) + "\n"
        replace_file(self._path(person_id), data.encode("ascii"))

    def take_away(self, person_id: str) -> None:
        """Note that the form has been kept."""
        remove_file(self._path(person_id))

    def left(self) -> list[str]:
        """List the people whose fitting was open when the program ended."""
        if not self._folder.is_dir():
            return []
        found = []
        for path in sorted(self._folder.glob("*.json")):
            try:
                found.append(str(json.loads(read_file(path, _LIMIT)[0])["person_id"]))
            except (FitError, ValueError, TypeError, KeyError):
                log.warning("mark_unreadable")
        return found

    def _path(self, person_id: str) -> Path:
        return self._folder / f"{person_id}.json"


def bring_up_to_date(library: Library, marks: Marks) -> list[str]:
    """Keep the forms of fittings that were open when the program last ended without a close.

    Returns
    -------
    The ids of those forms.
    """
    form_ids = []
    for person_id in marks.left():
        try:
            form_ids.append(_bring_up(library, person_id))
            marks.take_away(person_id)
        except BadFile as error:
            log.warning("form_not_rebuilt", extra={"facts": {"code": error.code}})
            marks.take_away(person_id)  # erased meanwhile, or nothing anybody can rebuild from
        except FitError as error:
            log.warning("form_not_rebuilt", extra={"facts": {"code": error.code}})
    return form_ids


def _bring_up(library: Library, person_id: str) -> str:
    # The engine is heavy; it is only loaded here when a fitting was cut short.
    from fitassist.session.fitting import Fitting

    record = library.open_person(person_id, read_only=True)
    started, past, _ended = last_fitting(record.events)
    if started is None:
        return ""
    keep_form(library, Fitting(started, _unwritten, past), record.events[-1].at)
    return started.form_id


def _unwritten(events: Any) -> list[Recorded]:
    """Give numbers to events nobody needs to keep: the fitting is only looked at."""
    return [Recorded(seq=10**9 + i, event=event) for i, event in enumerate(events)]
