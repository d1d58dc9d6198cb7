# SPDX-License-Identifier: MIT
"""Spoilt bytes guided by the lines they reach: ``python -m tests.fuzz.guided form -runs=200000``.

Needs Atheris (``pip install atheris``; wheels for Python 3.11 to 3.13 on Linux), which is not part
of the usual test tools. Arguments after the loader go to libFuzzer. A failing case ends the run,
and is kept as a regression of its loader.
"""

from __future__ import annotations

import sys
import tempfile
from pathlib import Path
from typing import Any


def main(argv: list[str]) -> int:
    """Fuzz one loader until libFuzzer is told to end."""
    try:
        import atheris  # type: ignore[import-not-found]
    except ImportError:
        print("Atheris is not installed: pip install atheris")
        return 2
    # What is loaded inside is watched; the numerics below are not, they would take minutes.
    with atheris.instrument_imports(include=["fitassist"]):
        from tests.fuzz import loaders
    from tests.fuzz.run import keep, try_case

    if len(argv) < 2 or argv[1] not in loaders.LOADERS:
        print("usage: python -m tests.fuzz.guided LOADER [arguments of libFuzzer]")
        print("loaders:", ", ".join(sorted(loaders.LOADERS)))
        return 2
    loader = loaders.LOADERS[argv[1]]

    def one(data: Any) -> None:
        try:
            try_case(loader, bytes(data))
        except BaseException:
            keep(argv[1], bytes(data))
            raise

    # libFuzzer ends the process itself; what it found on the way is where the next run begins.
    folder = Path(tempfile.gettempdir()) / "fitassist-guided" / argv[1]
    folder.mkdir(parents=True, exist_ok=True)
    for number, seed in enumerate(loader.seeds()):
        (folder / f"seed{number}").write_bytes(seed)
    atheris.Setup([argv[0], *argv[2:], str(folder)], one)
    atheris.Fuzz()
    return 0


if __name__ == "__main__":
    sys.exit(main(sys.argv))
