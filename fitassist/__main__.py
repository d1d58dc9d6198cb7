# SPDX-License-Identifier: MIT
"""``python -m fitassist``: the same as the command ``fitassist``."""

import sys

from fitassist.app import main

if __name__ == "__main__":
    sys.exit(main())
