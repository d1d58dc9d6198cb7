# SPDX-License-Identifier: MIT
"""What padding is made of, and how thick it works: measured by wraps round the form.

The thickness on a label is unloaded. Under a cover it is less, so it is measured as it will lie:
n wraps all round add 2 pi n t of girth (Steiner).
"""

from __future__ import annotations

import json
import math

from pydantic import Field, ValidationError

from fitassist.domain.model import Model
from fitassist.errors import BadFile, FitError

MOST_WRAPS = 20
LEAST_MM, MOST_MM = 0.3, 60.0  # felt to the thickest loft


class Material(Model):
    """One kind of padding as sold; ``mark`` says how sure its thickness is."""

    key: str
    name: str
    least_mm: float = Field(gt=0.0)
    most_mm: float = Field(gt=0.0)
    width_mm: float = Field(gt=0.0)
    mark: str
    note: str = ""
    is_sheet: bool = True  # else a ready-made piece: laid as it is, never cut to a plan

    @property
    def thickness_mm(self) -> float:
        """What to begin with until it was measured."""
        return (self.least_mm + self.most_mm) / 2


def read_materials(text: str | bytes) -> tuple[Material, ...]:
    """Return the materials listed in a JSON text ``{"materials": [...]}``.

    Raises
    ------
    BadFile
        ``bad_json`` or ``bad_document``.
    """
    try:
        listed = json.loads(text)["materials"]
        return tuple(Material.model_validate(one) for one in listed)
    except json.JSONDecodeError as error:
        raise BadFile("bad_json") from error
    except (ValidationError, KeyError, TypeError) as error:
        raise BadFile("bad_document") from error


def working_thickness(bare_girth_mm: float, wrapped_girth_mm: float, wraps: int) -> float:
    """Return the thickness of one sheet from the girth that wraps added.

    Raises
    ------
    FitError
        ``padding_wraps`` unless 1 to 20 wraps were laid, ``padding_wrap_girth`` when what they
        added gives no thickness a sheet can have.
    """
    if not 1 <= wraps <= MOST_WRAPS:
        raise FitError("padding_wraps", field="wraps", most=MOST_WRAPS)
    thickness = (wrapped_girth_mm - bare_girth_mm) / (2.0 * math.pi * wraps)
    if not LEAST_MM <= thickness <= MOST_MM:
        raise FitError("padding_wrap_girth", field="wrapped_girth_mm")
    return thickness
