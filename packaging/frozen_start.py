# SPDX-License-Identifier: MIT
"""Where the frozen program begins; the same as ``python -m fitassist``."""

import sys

from fitassist.app import main

if __name__ == "__main__":
    sys.exit(main())
