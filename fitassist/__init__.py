# SPDX-License-Identifier: MIT
"""Fitassist: set an adjustable dress form to one real person, a step at a time."""

import os

# Its matrices are about a hundred wide: threads inside one product cost more than they save, and
# more so on a busy machine. Must be said before numpy is first imported; a wish of the user's wins.
os.environ.setdefault("OPENBLAS_NUM_THREADS", "1")

__version__ = "0.1.0"
