# SPDX-License-Identifier: MIT
"""Words in other tongues: found, filled, written as usual there; and English where there are none.

Number signs and plurals are held against CLDR as packed in the library babel; Qt, whose data the
program uses, has its own copy.
"""

from __future__ import annotations

import importlib.util
import re
import sys
from pathlib import Path
from types import ModuleType

import pytest
from babel import Locale
from babel.messages.catalog import Catalog
from babel.numbers import get_decimal_symbol
from PySide6.QtCore import QLocale

from fitassist.app import languages
from fitassist.domain.units import Unit, format_length, parse_length
from fitassist.wording import language
from fitassist.wording.lengths import say_amount, say_length
from fitassist.wording.pages import say

ROOT = Path(__file__).resolve().parent.parent
LOCALES = (
    "de_DE", "de_AT", "de_CH", "es_ES", "es_MX", "es_AR", "es_US", "fr_FR", "fr_CA", "fr_CH",
    "en_US", "en_GB", "en_AU",
)  # fmt: skip
US_UNITS = {"en_US", "es_US"}  # CLDR, supplemental data: measurement system "US"


def _load_maker() -> ModuleType:
    spec = importlib.util.spec_from_file_location(
        "make_catalogue", ROOT / "packaging" / "make_catalogue.py"
    )
    assert spec is not None
    assert spec.loader is not None
    made = importlib.util.module_from_spec(spec)
    spec.loader.exec_module(made)
    return made


maker = _load_maker()
CATALOGUES = maker.catalogues()


@pytest.fixture
def spoken(qapp, tmp_path, monkeypatch):
    """Speak a tongue with a few sentences of its own; English again afterwards."""

    def make(code: str, sentences: dict[str, str]) -> None:
        made = Catalog(locale=code)
        for english, said in sentences.items():
            made.add(english, said)
        folder = tmp_path / code
        folder.mkdir(exist_ok=True)
        (folder / "fitassist.mo").write_bytes(maker.compiled(made))
        monkeypatch.setattr(languages, "COMPLETE", (*languages.COMPLETE, code))
        monkeypatch.setattr(languages, "languages_dir", lambda: tmp_path)

    yield make
    monkeypatch.undo()
    languages.speak("en", QLocale(QLocale.Language.English))


def test_a_chosen_tongue_is_spoken_and_writes_decimals_its_own_way(spoken):
    spoken("de", {"Settings": "Einstellungen", "less than {amount}": "weniger als {amount}"})
    assert languages.speak("de", QLocale("en_US")) == "de"
    assert say("place.settings") == "Einstellungen"
    assert say_length(981, "cm") == "98,1 cm"
    assert say_amount(0.2, "cm") == "weniger als 1 mm"
    assert say("place.people") == "People"  # not in the catalogue: never an empty place


def test_what_is_written_can_be_read_again(spoken):
    spoken("fr", {})
    languages.speak("fr", QLocale("fr_FR"))
    assert parse_length(format_length(981, Unit.CM), "cm").mm == pytest.approx(981)
    assert parse_length("38,6 pouces", "cm").mm == pytest.approx(38.6 * 25.4)
    assert parse_length("38 5/8 Zoll", "cm").mm == pytest.approx(38.625 * 25.4)


@pytest.mark.parametrize("name", LOCALES)
def test_the_decimal_sign_is_the_one_of_cldr(spoken, name: str):
    code = name.partition("_")[0]
    if code != "en":
        spoken(code, {})
    languages.speak("", QLocale(name))
    assert format_length(981, Unit.CM) == f"98{get_decimal_symbol(name)}1"


@pytest.mark.parametrize("name", LOCALES)
def test_inches_are_usual_where_cldr_says_so(name: str):
    assert languages.usual_unit(QLocale(name)) == ("in" if name in US_UNITS else "cm")


def test_a_system_without_a_locale_means_english_and_inches():
    assert languages.usual_unit(QLocale.c()) == "in"
    assert languages.speak("", QLocale.c()) == "en"


@pytest.mark.parametrize("wanted", ["xx", "tlh", "../../etc", "de_DE.UTF-8", "\u202e"])
def test_a_tongue_that_is_not_offered_means_english(qapp, wanted: str):
    assert languages.speak(wanted, QLocale("xx")) == "en"
    assert say("place.settings") == "Settings"
    assert format_length(981, Unit.CM) == "98.1"


@pytest.mark.parametrize(
    "content", [None, b"", b"not a catalogue", b"\xde\x12\x04\x95" + b"\xff" * 40]
)
def test_a_missing_or_damaged_file_of_sentences_means_english(
    spoken, tmp_path, content: bytes | None
):
    spoken("es", {"Settings": "Ajustes"})
    path = tmp_path / "es" / "fitassist.mo"
    path.unlink()
    if content is not None:
        path.write_bytes(content)
    assert languages.speak("es", QLocale("es_ES")) == "en"
    assert say("place.settings") == "Settings"
    assert format_length(981, Unit.CM) == "98.1"


def test_nouns_keep_their_capital_inside_a_sentence_only_where_that_is_usual(spoken):
    assert language.inside("Bust") == "bust"
    spoken("de", {})
    languages.speak("de", QLocale("de_DE"))
    assert language.inside("Brust") == "Brust"


# -- catalogues ------------------------------------------------------------------------------------


def test_every_sentence_of_the_program_is_found():
    found = maker.template()
    for text in ("Settings", "{n} click", "Stop at the first resistance; never force a dial."):
        assert text in found
    assert "Bust or chest" in found  # from the file of measurements
    assert found["{n} click"].pluralizable
    assert len(found) > 1000


def test_no_sentence_is_put_together_of_pieces():
    # What begins or ends with a space or a comma is a piece of something; joining words are not.
    pieces = {
        text
        for message in maker.template()
        for text in ([message.id] if isinstance(message.id, str) else message.id)
        if text and (text != text.strip() or text[0] in ",;:." or text[-1] in ",;")
    }
    assert pieces - {" and ", " to "} == set()


def test_the_check_finds_a_missing_and_a_stale_sentence():
    sentences, tongue = maker.template(), Catalog(locale="de")
    tongue.add("Settings", "Einstellungen")
    tongue.add("No longer said", "Nicht mehr gesagt")
    missing, stale = maker.untranslated(tongue, sentences)
    assert "People" in missing
    assert "Settings" not in missing
    assert stale == ["No longer said"]


def test_what_is_not_said_yet_in_a_tongue_is_said_in_english(spoken):
    spoken("fr", {"Settings": "", ("{n} click", "{n} clicks"): ("", "")})
    assert languages.speak("fr", QLocale("fr_FR")) == "fr"
    assert say("place.settings") == "Settings"
    assert language.clicks_text(2) == "two clicks"


def test_an_unsure_sentence_counts_as_missing():
    tongue = Catalog(locale="de")
    tongue.add("Settings", "Einstellungen", flags=("fuzzy",))
    assert "Settings" in maker.untranslated(tongue, maker.template())[0]


@pytest.mark.parametrize("code", languages.COMPLETE)
def test_a_tongue_that_is_offered_lacks_nothing_and_says_nothing_stale(code: str):
    catalogue = maker.read_catalogue(maker.LANGUAGES / code / "fitassist.po")
    assert maker.untranslated(catalogue, maker.template()) == ([], [])
    kept = (maker.LANGUAGES / code / "fitassist.mo").read_bytes()
    assert kept == maker.compiled(catalogue)


def _placeholders(text: str) -> set[str]:
    return set(re.findall(r"\{(\w+)\}", text))


@pytest.mark.parametrize("path", CATALOGUES, ids=lambda path: path.parent.name)
def test_every_translation_fills_what_its_sentence_fills_and_has_its_plurals(path: Path):
    catalogue = maker.read_catalogue(path)
    wrong = []
    for message in catalogue:
        if not message.id or not message.string:
            continue
        ids = [message.id] if isinstance(message.id, str) else list(message.id)
        strings = [message.string] if isinstance(message.string, str) else list(message.string)
        wanted = set().union(*map(_placeholders, ids))
        for said in strings:
            # One may be said without its number: "a click".
            extra = _placeholders(said) - wanted
            lacks = wanted - _placeholders(said) - ({"n"} if message.pluralizable else set())
            if said and (extra or lacks):
                wrong.append((ids[0], said))
    assert wrong == []
    assert catalogue.num_plurals == len(Locale(path.parent.name).plural_form.tags | {"other"}) or (
        # French and Spanish have a form for round millions in CLDR that no count here reaches.
        path.parent.name in ("fr", "es") and catalogue.num_plurals == 2
    )


def test_the_files_of_a_tongue_are_read_from_the_folder_of_resources():
    assert languages.languages_dir() == ROOT / "resources" / "languages"
    assert languages.offered()[0] == "en"
    assert sys.modules["fitassist.app.languages"] is languages
