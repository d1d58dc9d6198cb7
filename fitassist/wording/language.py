# SPDX-License-Identifier: MIT
"""Which tongue the sentences are in: gettext from the standard library, English when none is set.

Sentences are only *marked* where they are written down (``N_``) and translated when they are said
(``_``), because the tongue is not chosen yet when modules are imported.
"""

from __future__ import annotations

import gettext

from fitassist.domain.units import decimal_sign_in_use

_active: gettext.NullTranslations = gettext.NullTranslations()
_code = "en"

# Tongues whose nouns keep their capital inside a sentence.
_CAPITAL_NOUNS = ("de",)


def use_language(translations: gettext.NullTranslations | None, code: str = "en") -> None:
    """Say everything in this tongue from now on; None: English.

    Parameters
    ----------
    translations
        The sentences.
    code
        ISO 639 code of the tongue, such as ``de``.
    """
    global _active, _code
    _active = translations or gettext.NullTranslations()
    _code = code if translations is not None else "en"


def language_code() -> str:
    """Return the ISO 639 code of the tongue in use."""
    return _code


def N_(message: str) -> str:  # the usual gettext name, known to its extractor
    """Mark a sentence for translation without translating it yet."""
    return message


def _(message: str) -> str:
    """Return the sentence in the tongue in use."""
    return _active.gettext(message)


def ngettext(one: str, many: str, n: int) -> str:
    """Return the form of the sentence that fits the number n."""
    return _active.ngettext(one, many, n)


_SMALL = (
    N_("no"),
    N_("one"),
    N_("two"),
    N_("three"),
    N_("four"),
    N_("five"),
    N_("six"),
    N_("seven"),
    N_("eight"),
    N_("nine"),
    N_("ten"),
    N_("eleven"),
    N_("twelve"),
)


def count_word(n: int) -> str:
    """Return a small whole number as a word, a larger one in digits."""
    return _(_SMALL[n]) if 0 <= n < len(_SMALL) else str(n)


def clicks_text(n: int) -> str:
    """Return a number of clicks: "one click", "two clicks"."""
    return ngettext("{n} click", "{n} clicks", n).format(n=count_word(n))


def capital(text: str) -> str:
    """Return the text with its first letter large."""
    return text[:1].upper() + text[1:]


def inside(text: str) -> str:
    """Return the text as it stands inside a sentence: its first letter small.

    In a tongue that gives nouns a capital it stays as it is.
    """
    return text if _code in _CAPITAL_NOUNS else text[:1].lower() + text[1:]


def with_decimals(value: float, digits: int = 1) -> str:
    """Return a number with decimals, written with the sign that is usual here."""
    return f"{value:.{digits}f}".replace(".", decimal_sign_in_use())


def plain(value: object, longest: int = 60) -> str:
    """Return a user's own text fit to stand in a sentence: one line, printable, not too long."""
    text = "".join(c if c.isprintable() else " " for c in str(value))
    text = " ".join(text.split())
    return text if len(text) <= longest else text[: longest - 1].rstrip() + "…"
