# SPDX-License-Identifier: MIT
"""Collect every sentence into a template, bring the catalogues up to date, and compile them.

Run ``python packaging/make_catalogue.py`` after sentences changed: it writes the template
``build/fitassist.pot`` and renews each ``resources/languages/CODE/fitassist.po`` and ``.mo``.
``--check`` changes nothing and says what is missing or stale; ``--new CODE`` begins a new tongue.
Sentences come from the source and from the files of ``resources`` whose words are shown.
"""

from __future__ import annotations

import io
import json
import sys
from collections.abc import Iterator
from datetime import UTC, datetime
from pathlib import Path
from typing import Any

from babel.messages.catalog import Catalog
from babel.messages.extract import extract_from_file
from babel.messages.mofile import write_mo
from babel.messages.pofile import read_po, write_po

ROOT = Path(__file__).resolve().parent.parent
LANGUAGES = ROOT / "resources" / "languages"
DOMAIN = "fitassist"
KEYWORDS: dict[str, Any] = {"_": None, "N_": None, "ngettext": (1, 2)}
# Words of files that are shown: which file, and under which names they stand in it.
DATA = {
    "measurements.json": ("label", "how"),
    "materials.json": ("name",),
}
HEADER = "# Sentences of Fitassist. SPDX-License-Identifier: MIT"
# Lines of the head that say nothing here, or would change without a sentence changing.
LEFT_OUT = ('"Report-Msgid', '"Last-Translator', '"Language-Team', '"Generated-By', '"Project-Id')
TEMPLATE = ROOT / "build" / f"{DOMAIN}.pot"
NO_DATE = datetime(2000, 1, 1, tzinfo=UTC)  # so that nothing changes but sentences


def words_of_data(value: Any, names: tuple[str, ...]) -> Iterator[str]:
    """Give the texts that stand under certain names, and labels by kind of body."""
    if isinstance(value, dict):
        for name, inner in value.items():
            if name in names and isinstance(inner, str):
                yield inner
            elif name == "label_by_kind":
                yield from inner.values()
            else:
                yield from words_of_data(inner, names)
    elif isinstance(value, list):
        for inner in value:
            yield from words_of_data(inner, names)


def template() -> Catalog:
    """Return all sentences there are now, in a steady order and without a date."""
    found = Catalog(
        header_comment=HEADER,
        project="Fitassist",
        creation_date=NO_DATE,
        revision_date=NO_DATE,
        charset="utf-8",
    )
    for path in sorted((ROOT / "fitassist").rglob("*.py")):
        place = path.relative_to(ROOT).as_posix()
        for _line, message, comments, context in extract_from_file("python", path, KEYWORDS):
            if message and (message if isinstance(message, str) else message[0]).strip():
                flags = {"python-brace-format"} if "{" in str(message) else set()
                found.add(message, locations=[(place, None)], flags=flags,
                          auto_comments=comments, context=context)  # fmt: skip
    for name, keys in DATA.items():
        content = json.loads((ROOT / "resources" / name).read_text(encoding="utf-8"))
        for text in words_of_data(content, keys):
            found.add(text, locations=[(f"resources/{name}", None)])
    for path in sorted((ROOT / "resources" / "forms").glob("*.json")):
        name = json.loads(path.read_text(encoding="utf-8"))["name"]
        found.add(name, locations=[(path.relative_to(ROOT).as_posix(), None)])
    return found


def as_text(catalogue: Catalog) -> str:
    """Return a catalogue as it is kept: sorted, no line numbers, nothing obsolete."""
    out = io.BytesIO()
    write_po(out, catalogue, sort_output=True, ignore_obsolete=True, width=100)
    lines = out.getvalue().decode("utf-8").splitlines(keepends=True)
    return "".join(line for line in lines if not line.startswith(LEFT_OUT))


def read_catalogue(path: Path) -> Catalog:
    """Read a catalogue of one tongue."""
    with path.open("rb") as file:
        return read_po(file, locale=path.parent.name, domain=DOMAIN)


def catalogues() -> list[Path]:
    """Return the catalogue of each tongue there is."""
    return sorted(LANGUAGES.glob(f"*/{DOMAIN}.po"))


def compiled(catalogue: Catalog) -> bytes:
    """Return a catalogue as the program reads it; what is unsure or not said yet is left out."""
    out = io.BytesIO()
    kept = Catalog(locale=catalogue.locale, creation_date=NO_DATE, revision_date=NO_DATE)
    for message in catalogue:
        said = [message.string] if isinstance(message.string, str) else list(message.string)
        if message.id and all(said) and not message.fuzzy:
            kept.add(message.id, message.string, context=message.context)
    write_mo(out, kept)
    return out.getvalue()


def brought_up(catalogue: Catalog, sentences: Catalog) -> Catalog:
    """Return a catalogue with today's sentences; nothing is guessed from what is alike."""
    catalogue.update(sentences, no_fuzzy_matching=True)
    catalogue.revision_date = catalogue.creation_date = NO_DATE
    return catalogue


def untranslated(catalogue: Catalog, sentences: Catalog) -> tuple[list[str], list[str]]:
    """Return the sentences a tongue lacks, and those it has that are said no more."""
    wanted = {message.id if isinstance(message.id, str) else message.id[0]
              for message in sentences if message.id}  # fmt: skip
    have, filled = set(), set()
    for message in catalogue:
        if message.id:
            key = message.id if isinstance(message.id, str) else message.id[0]
            have.add(key)
            said = [message.string] if isinstance(message.string, str) else list(message.string)
            if all(said) and not message.fuzzy:
                filled.add(key)
    return sorted(wanted - filled), sorted(have - wanted)


def complaints() -> list[str]:
    """Return what is not as this program would write it, one line each."""
    sentences, said = template(), list[str]()
    for path in catalogues():
        code, catalogue = path.parent.name, read_catalogue(path)
        missing, stale = untranslated(catalogue, sentences)
        said += [f"{code}: missing: {text!r}" for text in missing]
        said += [f"{code}: said no more: {text!r}" for text in stale]
        mo = path.with_suffix(".mo")
        if not mo.exists() or mo.read_bytes() != compiled(catalogue):
            said.append(f"{code}: {mo.name} is not what {path.name} says")
    return said


def write_all() -> None:
    """Write the template, bring every catalogue up to date, and compile it."""
    sentences = template()
    TEMPLATE.parent.mkdir(parents=True, exist_ok=True)
    TEMPLATE.write_text(as_text(sentences), encoding="utf-8", newline="\n")
    for path in catalogues():
        catalogue = brought_up(read_catalogue(path), sentences)
        path.write_text(as_text(catalogue), encoding="utf-8", newline="\n")
        catalogue = read_catalogue(path)
        path.with_suffix(".mo").write_bytes(compiled(catalogue))
        missing, _stale = untranslated(catalogue, sentences)
        print(f"{path.parent.name}: {len(sentences) - len(missing)} of {len(sentences)} sentences")
    print(f"{len(sentences)} sentences in {TEMPLATE.name}")


def begin(code: str) -> None:
    """Begin the catalogue of a tongue that has none yet."""
    path = LANGUAGES / code / f"{DOMAIN}.po"
    if path.exists():
        raise SystemExit(f"{code} is there already")
    path.parent.mkdir(parents=True, exist_ok=True)
    made = Catalog(locale=code, header_comment=HEADER, creation_date=NO_DATE, revision_date=NO_DATE)
    path.write_text(as_text(made), encoding="utf-8", newline="\n")
    write_all()


def main(arguments: list[str]) -> int:
    """Do what was asked; return the exit code."""
    if arguments == ["--check"]:
        said = complaints()
        print("\n".join(said) or "all sentences are there")
        return 1 if said else 0
    if len(arguments) == 2 and arguments[0] == "--new":
        begin(arguments[1])
    elif arguments:
        print(__doc__)
        return 2
    else:
        write_all()
    return 0


if __name__ == "__main__":
    sys.exit(main(sys.argv[1:]))
