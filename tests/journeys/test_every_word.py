# SPDX-License-Identifier: MIT
"""No visible word is written where it cannot be translated.

All sentences are put into a tongue of marks; whatever is then seen without a mark was written down
somewhere else than in the tables, or put together of parts.
"""

from __future__ import annotations

import importlib.util
import re
from pathlib import Path
from types import ModuleType

import pytest
from babel.messages.catalog import Catalog
from PySide6.QtCore import QLocale, QModelIndex
from PySide6.QtWidgets import (
    QAbstractButton,
    QComboBox,
    QLabel,
    QLineEdit,
    QListView,
    QTableView,
    QWidget,
)

from fitassist.app import languages
from tests.journeys.walking import places, settle

ROOT = Path(__file__).resolve().parent.parent.parent
MARK, END = "⟦", "⟧"
WORD = re.compile(r"[^\W\d_]{3,}")


def _load_maker() -> ModuleType:
    path = ROOT / "packaging" / "make_catalogue.py"
    spec = importlib.util.spec_from_file_location("make_catalogue", path)
    assert spec is not None
    assert spec.loader is not None
    made = importlib.util.module_from_spec(spec)
    spec.loader.exec_module(made)
    return made


@pytest.fixture
def marked(qapp, tmp_path, monkeypatch):
    """Speak the tongue of marks; English again afterwards."""
    maker = _load_maker()
    made = Catalog(locale="es")
    for message in maker.template():
        if isinstance(message.id, tuple):
            made.add(message.id, tuple(f"{MARK}{one}{END}" for one in message.id))
        elif message.id:
            made.add(message.id, f"{MARK}{message.id}{END}")
    folder = tmp_path / "languages" / "es"
    folder.mkdir(parents=True)
    (folder / "fitassist.mo").write_bytes(maker.compiled(made))
    monkeypatch.setattr(languages, "COMPLETE", ("es",))
    monkeypatch.setattr(languages, "languages_dir", lambda: folder.parent)
    monkeypatch.setattr(languages, "system_locale", lambda: QLocale("es_ES"))
    yield
    monkeypatch.undo()
    languages.speak("en", QLocale(QLocale.Language.English))


def seen(window: QWidget) -> dict[str, str]:
    """Return every text that can be seen, with the class of what shows it."""
    found: dict[str, str] = {}
    for child in window.findChildren(QWidget):
        if not child.isVisible():
            continue
        texts: list[str] = []
        if isinstance(child, QLabel | QAbstractButton):
            texts = [child.text()]
        elif isinstance(child, QLineEdit):
            texts = [child.placeholderText()]
        elif isinstance(child, QComboBox):
            texts = [child.itemText(i) for i in range(child.count())]
        elif isinstance(child, QListView | QTableView) and child.model() is not None:
            model, root = child.model(), QModelIndex()
            texts = [
                str(model.index(row, column).data() or "")
                for row in range(model.rowCount(root))
                for column in range(1 if isinstance(child, QListView) else model.columnCount(root))
            ]
        texts += [child.accessibleName(), child.toolTip()]
        for text in texts:
            found[text] = type(child).__name__
    return found


def own_words(profile: Path) -> set[str]:
    """Return the words of the demonstration's own people and forms: they are nobody's to say."""
    words: set[str] = set()
    for path in [*profile.rglob("*.json"), *(ROOT / "resources" / "forms").glob("*.json")]:
        words |= set(WORD.findall(path.read_text(encoding="utf-8")))
    return words


def outside_marks(text: str) -> str:
    """Return what of a text stands in no mark."""
    left, depth = [], 0
    for character in text:
        depth += character == MARK
        if not depth:
            left.append(character)
        depth -= character == END
    return "".join(left)


def test_no_word_that_can_be_seen_was_written_outside_the_tables(qtbot, marked, profile, open_room):
    ours = own_words(profile) | {"English", "Español", "Fitassist"}
    room = open_room(profile)
    room.window.resize(1366, 768)
    wrong: dict[str, list[str]] = {}
    for place in places(room):
        if place == "fitting":
            page = room.window.page("fitting")
            qtbot.waitUntil(lambda page=page: page.work is not None, timeout=20_000)
        settle()
        for text, kind in seen(room.window).items():
            loose = re.sub(r"\w+…", "", outside_marks(text))  # a word that was cut short
            words = [word for word in WORD.findall(loose) if word not in ours]
            if words:
                wrong.setdefault(place, []).append(f"{kind}: {text!r}")
    assert wrong == {}
    assert MARK in room.window.place_button("people").text()


def test_what_stands_in_no_mark_is_found():
    assert outside_marks(f"{MARK}said {MARK}inner{END}{END} and loose") == " and loose"
