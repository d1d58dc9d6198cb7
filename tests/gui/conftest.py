# SPDX-License-Identifier: MIT
"""Real widgets on a screen that is not there; each test starts with the light look."""

from __future__ import annotations

import os

os.environ.setdefault("QT_QPA_PLATFORM", "offscreen")

import pytest

from fitassist.gui import theme


@pytest.fixture(autouse=True)
def _light_look(qapp):
    theme.apply(qapp, "light", 1.0)
    return qapp
