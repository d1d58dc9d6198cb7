# SPDX-License-Identifier: MIT
"""Tests of storage do not wait for the platters: no test can cut the power, only count flushes."""

from __future__ import annotations

import pytest

from fitassist.files import Disk

REAL_FSYNC = Disk.fsync


@pytest.fixture(autouse=True)
def quick_disk(monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setattr(Disk, "fsync", lambda _self, _handle: None)
