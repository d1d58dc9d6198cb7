#!/usr/bin/env python3
# SPDX-License-Identifier: MIT
"""Makes resources/shape/prior.npz, what is known of outlines beforehand, from bodies.npz there."""

from __future__ import annotations

import sys
from pathlib import Path

ROOT = Path(__file__).resolve().parent.parent
sys.path.insert(0, str(ROOT))

from fitassist.geometry.shape_learning import learn_priors, load_bodies  # noqa: E402
from fitassist.geometry.shape_prior import pack_priors  # noqa: E402

SHAPE = ROOT / "resources" / "shape"


def main() -> int:
    """Write the file; say how large it is."""
    content = pack_priors(learn_priors(load_bodies(SHAPE / "bodies.npz")))
    (SHAPE / "prior.npz").write_bytes(content)
    print(f"prior.npz: {len(content)} bytes")
    return 0


if __name__ == "__main__":
    sys.exit(main())
