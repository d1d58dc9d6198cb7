# SPDX-License-Identifier: MIT
"""No search for rings of objects while a record is read: it has none, and thousands of objects."""

from __future__ import annotations

import gc
from collections.abc import Iterator
from contextlib import contextmanager


@contextmanager
def without_collecting() -> Iterator[None]:
    """Put off the cyclic garbage collector; also a decorator. What was off before stays off."""
    was_on = gc.isenabled()
    gc.disable()
    try:
        yield
    finally:
        if was_on:
            gc.enable()
