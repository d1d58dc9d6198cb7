# SPDX-License-Identifier: MIT
"""Sessions told of in many tests, run once."""

from __future__ import annotations

import json
from pathlib import Path
from typing import Any

import pytest

from fitassist.domain.form_file import form_to_json
from tests.unit.scripted.partner import (
    BODY,
    OPEN,
    Partner,
    a_form,
    fitted,
    line,
    run,
)


@pytest.fixture(scope="session")
def files(tmp_path_factory: pytest.TempPathFactory) -> Path:
    folder = tmp_path_factory.mktemp("scripted")
    (folder / "form.json").write_text(json.dumps(form_to_json(a_form())), encoding="utf-8")
    (folder / "body.json").write_text(json.dumps(BODY), encoding="utf-8")
    return folder


@pytest.fixture(scope="session")
def whole(files: Path) -> tuple[int, bytes, Partner]:
    """One whole session, told of in many tests."""
    return fitted(files, "--verbose")


@pytest.fixture(scope="session")
def to_measure(files: Path) -> tuple[list[bytes], dict[str, Any]]:
    """The answers up to the first reading that is asked for, and what is asked then."""
    _code, _out, partner = fitted(files, most=12)
    first = next(i for i, one in enumerate(partner.instructions) if one["kind"] == "measure")
    so_far = [line(to=one["id"], answer="done") for one in partner.instructions[:first]]
    return so_far, partner.instructions[first]


@pytest.fixture(scope="session")
def after_first(files: Path) -> dict[str, Any]:
    """What is asked for once the first set is done."""
    return run(files, [line(to=OPEN, answer="done")])[1][-1]
