# SPDX-License-Identifier: MIT
"""Which tongue is spoken and how numbers are written: by choice, else as the system, else English.

A tongue that is not there, or a file of sentences that cannot be read, means English; nothing fails
because of words.
"""

from __future__ import annotations

import gettext
import logging
import struct
from pathlib import Path
from typing import Final, Literal

from PySide6.QtCore import QCoreApplication, QLibraryInfo, QLocale, QTranslator

from fitassist.domain.units import use_decimal_sign
from fitassist.files import resources_dir
from fitassist.wording.language import use_language

log = logging.getLogger(__name__)

ENGLISH: Final = "en"
DOMAIN: Final = "fitassist"
# Tongues whose sentences are all there; others are not offered. Tests hold each to that.
COMPLETE: Final[tuple[str, ...]] = ("de", "es", "fr")
# Qt would add a country to some.
_OWN_NAMES: Final = {"en": "English", "de": "Deutsch", "es": "Español", "fr": "Français"}


def languages_dir() -> Path:
    """Return the folder with a folder for each tongue."""
    return resources_dir() / "languages"


def offered() -> tuple[str, ...]:
    """Return the codes of the tongues that can be chosen, English first."""
    return (ENGLISH, *COMPLETE)


def name_of(code: str) -> str:
    """Return what a tongue calls itself."""
    return _OWN_NAMES.get(code, code)


def system_locale() -> QLocale:
    """Return the locale of the system, which may be plain C."""
    return QLocale.system()


def chosen(wanted: str, system: QLocale) -> QLocale:
    """Return the locale to speak in: the wanted tongue, written as usual in the system's country.

    Parameters
    ----------
    wanted
        Code of a tongue; empty: the system's. One that is not offered means English.
    system
        The system's locale.
    """
    code = wanted or _code(system)
    if code not in offered():
        return QLocale(QLocale.Language.English)
    if _code(system) == code:
        return system
    return QLocale(code)


def load_sentences(code: str, folder: Path) -> gettext.NullTranslations | None:
    """Return the sentences of a tongue, or None where there are none that can be read."""
    if code == ENGLISH:
        return None
    try:
        with (folder / code / f"{DOMAIN}.mo").open("rb") as file:
            return gettext.GNUTranslations(file)
    except (OSError, ValueError, LookupError, struct.error) as error:
        log.warning("language_not_loaded", extra={"facts": {"language": code}}, exc_info=error)
        return None


def speak(wanted: str, system: QLocale | None = None) -> str:
    """Say everything in a tongue from now on; return the code of the one that is spoken."""
    locale = chosen(wanted, system or system_locale())
    code = _code(locale)
    sentences = load_sentences(code, languages_dir())
    if sentences is None:
        locale = locale if code == ENGLISH else QLocale(QLocale.Language.English)
        code = ENGLISH
    use_language(sentences, code)
    use_decimal_sign(locale.decimalPoint())
    _translate_qt(code)
    return code


def usual_unit(system: QLocale | None = None) -> Literal["in", "cm"]:
    """Return the unit of lengths usual where the system says it is; inches where it does not."""
    locale = system or system_locale()
    if locale.language() == QLocale.Language.C:
        return "in"
    imperial = QLocale.MeasurementSystem.ImperialUSSystem
    return "in" if locale.measurementSystem() == imperial else "cm"


def _code(locale: QLocale) -> str:
    if locale.language() == QLocale.Language.C:
        return ENGLISH
    return locale.name().partition("_")[0]


def _translate_qt(code: str) -> None:
    """Have Qt's own words, such as the menus of fields, in the same tongue."""
    app = QCoreApplication.instance()
    if app is None:
        return
    old = app.findChild(QTranslator, DOMAIN)
    if old is not None:
        app.removeTranslator(old)
        old.deleteLater()
    made = QTranslator(app)
    made.setObjectName(DOMAIN)
    folder = QLibraryInfo.path(QLibraryInfo.LibraryPath.TranslationsPath)
    if code != ENGLISH and made.load(f"qtbase_{code}", folder):
        app.installTranslator(made)
