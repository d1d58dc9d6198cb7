# SPDX-License-Identifier: MIT
"""Where everything meets: arguments, folders, log, what went wrong, the record, the window.

Nothing is decided here that another layer could decide; this one only ties them together.
"""

from __future__ import annotations

import sys
from collections.abc import Sequence

__all__ = ["main"]


def main(argv: Sequence[str] | None = None) -> int:
    """Run the program and return its exit code.

    Parameters
    ----------
    argv
        Arguments without the program's name; None: those of this process.
    """
    arguments = list(sys.argv[1:] if argv is None else argv)
    if "--scripted" in arguments:
        from fitassist.scripted import main as scripted_main

        return scripted_main(arguments)
    from fitassist.app.start import start

    return start(arguments)
