# SPDX-License-Identifier: MIT
"""What a voice is given to read, in English and in another tongue."""

from __future__ import annotations

import gettext
from collections.abc import Iterator

import pytest

from fitassist.wording.language import use_language
from fitassist.wording.spoken_words import spoken


class Marked(gettext.NullTranslations):
    """A tongue that says everything in brackets."""

    def gettext(self, message: str) -> str:
        return f"[{message}]"


@pytest.fixture
def another_tongue() -> Iterator[None]:
    use_language(Marked(), "xx")
    yield
    use_language(None)


def test_fractions_and_units_are_said_in_words() -> None:
    assert spoken("38 5/8 in") == "thirty-eight and five eighths inches"


@pytest.mark.usefixtures("another_tongue")
def test_another_tongue_keeps_figures_for_its_voice_to_read() -> None:
    assert spoken("38 5/8 in") == "38 5/8 [inches]"
    assert spoken("1 mm, 92,7 cm") == "1 [millimetre], 92,7 [centimetres]"
