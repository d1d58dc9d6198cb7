# SPDX-License-Identifier: MIT
"""What was asked for on the command line, or a plain sentence about what makes no sense."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from pathlib import Path

from fitassist.wording.program import say


class Refused(Exception):
    """The program does not start; the text says why and what to do."""

    def __init__(self, text: str, exit_code: int = 1) -> None:
        super().__init__(text)
        self.text = text
        self.exit_code = exit_code


@dataclass(frozen=True)
class Asked:
    """The arguments, understood."""

    is_demo: bool = False
    profile: Path | None = None
    file: Path | None = None  # a form's description to be opened
    wants_version: bool = False
    wants_usage: bool = False


def read_arguments(arguments: Sequence[str]) -> Asked:
    """Understand the arguments.

    Raises
    ------
    Refused
        With the usage, exit code 2.
    """
    rest = list(arguments)
    found: dict[str, str] = {}
    while rest:
        first = rest.pop(0)
        if not first.startswith("-") and first and Path(first).expanduser().exists():
            if "FILE" in found:
                raise _refused(say("argument_twice", text="FILE"))
            found["FILE"] = first
            continue
        name, equals, value = first.partition("=")
        if name == "-h":
            name = "--help"
        if name not in ("--demo", "--profile", "--version", "--help") or (
            equals and name != "--profile"
        ):
            raise _refused(say("argument_unknown", text=name + equals + value))
        if name in found:
            raise _refused(say("argument_twice", text=name))
        if name == "--profile" and not equals:
            value = rest.pop(0) if rest and not rest[0].startswith("--") else ""
        if name == "--profile" and not value:
            raise _refused(say("argument_no_folder"))
        found[name] = value
    if "--demo" in found and "--profile" in found:
        raise _refused(say("demo_with_profile"))
    return Asked(
        is_demo="--demo" in found,
        profile=Path(found["--profile"]).expanduser().absolute() if "--profile" in found else None,
        file=Path(found["FILE"]).expanduser().absolute() if "FILE" in found else None,
        wants_version="--version" in found,
        wants_usage="--help" in found,
    )


def _refused(text: str) -> Refused:
    return Refused(f"{text}\n{say('usage')}", exit_code=2)
