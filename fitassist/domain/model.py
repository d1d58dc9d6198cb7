# SPDX-License-Identifier: MIT
"""The one base of all frozen data: unknown fields are kept, nothing is changed in place."""

from __future__ import annotations

from pydantic import BaseModel, ConfigDict


class Model(BaseModel):
    """Frozen data read from files of any age: fields this version does not know are kept."""

    model_config = ConfigDict(
        frozen=True,
        extra="allow",
        allow_inf_nan=False,
        ser_json_inf_nan="null",
        defer_build=True,  # a validator is built when first needed, not while the window waits
    )
