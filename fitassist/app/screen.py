# SPDX-License-Identifier: MIT
"""Is there a screen? Qt ends the whole process where there is none, so it is asked before Qt is."""

from __future__ import annotations

import re
import socket
import sys
from collections.abc import Mapping

from fitassist.wording.program import say

_LOCAL = re.compile(r"(?:unix)?:(\d+)(?:\.\d+)?")
_PATIENCE_S = 2.0


def screen_complaint(environ: Mapping[str, str], platform: str = sys.platform) -> str:
    """Say that there is no screen to open a window on; empty when there seems to be one."""
    if not platform.startswith("linux") or environ.get("QT_QPA_PLATFORM"):
        return ""
    if environ.get("WAYLAND_DISPLAY"):
        return ""
    display = environ.get("DISPLAY", "")
    if not display:
        return say("no_screen")
    local = _LOCAL.fullmatch(display)
    if local and not _answers(f"/tmp/.X11-unix/X{local[1]}"):
        return say("screen_silent", text=display)
    return ""


def _answers(path: str) -> bool:
    """Tell whether somebody listens where X servers do: in the file system, or in the abstract."""
    for address in (path, "\0" + path):
        with socket.socket(socket.AF_UNIX, socket.SOCK_STREAM) as line:
            line.settimeout(_PATIENCE_S)
            try:
                line.connect(address)
            except OSError:
                continue
            return True
    return False
