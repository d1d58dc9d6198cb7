# SPDX-License-Identifier: MIT
"""Makes the project's own Python environment, .venv, and keeps it up to date.

Standard library only, since it runs before anything is installed. The stamp in .venv holds what
the environment was made from; when that changes, the project is installed again.
"""

from __future__ import annotations

import hashlib
import json
import os
import subprocess
import sys
import venv
from pathlib import Path
from typing import Any

ROOT = Path(__file__).resolve().parent.parent
OLDEST_PYTHON = (3, 11)
NETWORK_SIGNS = (
    "Failed to establish a new connection",
    "Temporary failure in name resolution",
    "Name or service not known",
    "Network is unreachable",
    "Connection refused",
    "ConnectTimeoutError",
    "NewConnectionError",
    "NameResolutionError",
    "Read timed out",
    "Connection aborted",
    "ProxyError",
    "SSLError",
)
NO_VERSION_SIGNS = ("No matching distribution found", "ResolutionImpossible")


class SetUpError(Exception):
    """The environment cannot be made; the text says what is wrong and what mends it."""


def environment_python(root: Path) -> Path:
    """Tell where the Python of the environment lies."""
    if os.name == "nt":
        return root / ".venv" / "Scripts" / "python.exe"
    return root / ".venv" / "bin" / "python"


def python_complaint(version: tuple[int, int] = sys.version_info[:2]) -> str:
    """Say that this Python is too old; empty when it is not."""
    if version >= OLDEST_PYTHON:
        return ""
    return (
        f"Fitassist needs Python 3.11 or newer; this is Python {version[0]}.{version[1]}.\n"
        "Debian 12, Ubuntu 24.04 and later bring one: apt-get install python3\n"
        "Elsewhere install a newer Python beside this one and start this script with it."
    )


def missing_venv_packages() -> list[str]:
    """Name the package Debian splits off Python for making environments, if it is missing."""
    try:
        import ensurepip  # noqa: F401
    except ImportError:
        return [f"python{sys.version_info[0]}.{sys.version_info[1]}-venv"]
    return []


def venv_package_complaint() -> str:
    """Say that this Python cannot make environments (Debian splits that off); empty if it can."""
    packages = missing_venv_packages()
    if packages:
        sudo = "" if hasattr(os, "geteuid") and os.geteuid() == 0 else "sudo "
        return (
            "This Python cannot make an environment of its own: its venv part is not installed.\n"
            "This command brings it:\n"
            f"  {sudo}apt-get update && {sudo}apt-get install -y {packages[0]}"
        )
    return ""


def fingerprint(root: Path) -> str:
    """Hash what decides the contents of the environment: the declared needs and tested versions."""
    digest = hashlib.sha256()
    for name in ("pyproject.toml", "packaging/constraints.txt"):
        digest.update((root / name).read_bytes())
        digest.update(b"\0")
    return digest.hexdigest()


def read_stamp(root: Path) -> dict[str, Any]:
    """Read what the environment was last made from; empty when nothing or nonsense is there."""
    try:
        stamp = json.loads((root / ".venv" / "fitassist-stamp.json").read_text(encoding="utf-8"))
    except (OSError, ValueError):
        return {}
    return stamp if isinstance(stamp, dict) else {}


def write_stamp(root: Path, stamp: dict[str, Any]) -> None:
    """Note what the environment has just been made from."""
    path = root / ".venv" / "fitassist-stamp.json"
    path.write_text(json.dumps(stamp, indent=1), encoding="utf-8")


def wanted_stamp(root: Path, with_tests: bool, old: dict[str, Any]) -> dict[str, Any]:
    """Say what the environment must be made from; a test extra once there is kept.

    Parameters
    ----------
    root
        The project's folder; an environment that was moved along is installed again.
    with_tests
        Whether the tools of the tests are wanted.
    old
        The stamp of the last installation.
    """
    return {
        "fingerprint": fingerprint(root),
        "root": str(root),
        "tests": bool(with_tests or old.get("tests")),
    }


def is_usable(python: Path) -> bool:
    """Tell whether the environment's Python starts, is new enough and has pip."""
    if not python.exists():
        return False
    check = f"import sys, pip; sys.exit(sys.version_info < {OLDEST_PYTHON!r})"
    found = subprocess.run([str(python), "-c", check], capture_output=True, check=False)
    return found.returncode == 0


def folder_complaint(root: Path, error: Exception) -> str:
    """Say that the environment's folder could not be written."""
    return (
        f"The environment {root / '.venv'} could not be made: {error}.\n"
        "Check that this folder may be written to and that the disk has 700 MB free."
    )


def make_environment(root: Path) -> None:
    """Make .venv afresh; what an interrupted or outdated set-up left there is replaced."""
    complaint = venv_package_complaint()
    if complaint:
        raise SetUpError(complaint)
    print("Making the environment .venv ...", flush=True)
    try:
        venv.EnvBuilder(clear=True, with_pip=True, symlinks=os.name != "nt").create(root / ".venv")
    except (OSError, subprocess.CalledProcessError) as error:
        raise SetUpError(folder_complaint(root, error)) from error


def pip_command(python: Path, root: Path, with_tests: bool, with_constraints: bool) -> list[str]:
    """Write the installation command; the project itself stays editable in its folder."""
    what = f"{root}[test]" if with_tests else str(root)
    command = [str(python), "-m", "pip", "install", "--progress-bar", "off", "--editable", what]
    if with_constraints:
        command += ["--constraint", str(root / "packaging" / "constraints.txt")]
    return command


def run_pip(command: list[str], log: Path) -> tuple[bool, str]:
    """Run pip, show its main lines, keep all of them in the file `log`; return (ok, text)."""
    environ = dict(os.environ, PIP_DISABLE_PIP_VERSION_CHECK="1", PIP_NO_INPUT="1", PIP_USER="0")
    environ.setdefault("PIP_RETRIES", "2")
    environ.pop("PYTHONHOME", None)
    lines: list[str] = []
    with subprocess.Popen(
        command,
        stdout=subprocess.PIPE,
        stderr=subprocess.STDOUT,
        env=environ,
        text=True,
        errors="replace",
    ) as process:
        for line in process.stdout or ():
            lines.append(line)
            if line.startswith(("Collecting ", "Installing collected")):
                print("  " + line.split(" (from")[0].rstrip()[:100], flush=True)
    text = "".join(lines)
    log.write_text(text, encoding="utf-8")
    return process.returncode == 0, text


def pip_complaint(text: str, log: Path, again: str) -> str:
    """Turn what pip said into a sentence and the command that mends it."""
    if any(sign in text for sign in NETWORK_SIGNS):
        return (
            "The packages could not be fetched: the package index cannot be reached from here.\n"
            f"Check the network connection (and proxy, if there is one), then run again:\n  {again}"
        )
    if "No space left on device" in text:
        return f"The disk is full; 700 MB are needed. Make room, then run again:\n  {again}"
    if any(sign in text for sign in NO_VERSION_SIGNS):
        return (
            "A package has no version for this Python and system. Qt needs glibc 2.34 (Debian 12,\n"
            "Ubuntu 22.04 or later), on ARM glibc 2.39 (Debian 13, Ubuntu 24.04 or later).\n"
            f"pip's own words are in {log}"
        )
    last = "  " + "\n  ".join(text.strip().splitlines()[-8:])
    return f"The installation failed. pip's last words (all are in {log}):\n{last}"


def install(root: Path, python: Path, with_tests: bool, again: str) -> None:
    """Install the project with tested versions, or the newest allowed where those do not fit."""
    log = root / ".venv" / "install.log"
    print("Fetching what Fitassist needs (about 150 MB the first time) ...", flush=True)
    done, text = run_pip(pip_command(python, root, with_tests, True), log)
    if not done and any(sign in text for sign in NO_VERSION_SIGNS):
        is_offline = any(sign in text for sign in NETWORK_SIGNS)
        if not is_offline:
            print("The tested versions do not all fit here; trying the newest allowed ones.")
            done, text = run_pip(pip_command(python, root, with_tests, False), log)
    if not done:
        raise SetUpError(pip_complaint(text, log, again))


def ensure_environment(with_tests: bool, again: str, root: Path = ROOT) -> Path:
    """Bring .venv up to date and return its Python.

    Parameters
    ----------
    with_tests
        Whether the tools of the tests are wanted.
    again
        The command to name when something must be run again.
    root
        The project's folder.

    Raises
    ------
    SetUpError
        With a sentence for the user.
    """
    python = environment_python(root)
    usable = is_usable(python)
    old = read_stamp(root) if usable else {}
    wanted = wanted_stamp(root, with_tests, old)
    if usable and old == wanted:
        return python
    if not usable:
        make_environment(root)
    try:
        install(root, python, wanted["tests"], again)
        write_stamp(root, wanted)
    except OSError as error:
        raise SetUpError(folder_complaint(root, error)) from error
    return python
