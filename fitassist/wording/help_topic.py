# SPDX-License-Identifier: MIT
"""What a page of help is: a title, paragraphs of plain text, and drawings that show the same."""

from __future__ import annotations

from dataclasses import dataclass

from fitassist.wording.language import _


@dataclass(frozen=True)
class Picture:
    """A drawing, and which of its parts are drawn stronger."""

    drawing: str
    lit: frozenset[str] = frozenset()


@dataclass(frozen=True)
class Topic:
    """One page of help, in the words it was written in; ``title`` and ``text`` are said in yours.

    ``place`` is the page of the window it explains, if it explains one.
    """

    key: str
    heading: str
    paragraphs: tuple[str, ...]
    pictures: tuple[Picture, ...] = ()
    place: str = ""

    @property
    def title(self) -> str:
        """The heading in the tongue in use."""
        return _(self.heading)

    @property
    def text(self) -> str:
        """All paragraphs in the tongue in use, parted by empty lines."""
        return "\n\n".join(_(paragraph) for paragraph in self.paragraphs)


def lit(drawing: str, *parts: str) -> Picture:
    """Return a drawing with some of its parts drawn stronger."""
    return Picture(drawing, frozenset(parts))
