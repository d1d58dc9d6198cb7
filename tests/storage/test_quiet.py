# SPDX-License-Identifier: MIT
"""The collector is put off while a record is read, and stands again as it stood before."""

from __future__ import annotations

import gc

import pytest

from fitassist.storage.quiet import without_collecting


@pytest.fixture
def as_it_was():
    was_on = gc.isenabled()
    yield
    (gc.enable if was_on else gc.disable)()


@pytest.mark.usefixtures("as_it_was")
@pytest.mark.parametrize("is_on", [True, False])
def test_what_was_on_is_on_again_and_what_was_off_stays_off(is_on):
    (gc.enable if is_on else gc.disable)()
    with without_collecting():
        assert not gc.isenabled()
    assert gc.isenabled() == is_on


@pytest.mark.usefixtures("as_it_was")
def test_it_is_on_again_after_an_error():
    gc.enable()
    with pytest.raises(ZeroDivisionError), without_collecting():
        _ = 1 / 0
    assert gc.isenabled()
