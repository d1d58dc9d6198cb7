# SPDX-License-Identifier: MIT
"""What the page of sheets says."""

from __future__ import annotations

from typing import Final

from fitassist.wording.language import N_

PAGE_OF_SHEETS: Final[dict[str, str]] = {}
