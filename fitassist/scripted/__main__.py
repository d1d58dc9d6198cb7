# SPDX-License-Identifier: MIT
"""``python -m fitassist.scripted``: a scripted session without the program round it."""

import sys

from fitassist.scripted import main

if __name__ == "__main__":
    sys.exit(main())
