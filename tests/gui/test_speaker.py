# SPDX-License-Identifier: MIT
"""Steps read aloud: off unless wanted, by whatever voice there is, never with a body's number."""

from __future__ import annotations

from collections.abc import Iterator

import pytest
from PySide6.QtCore import QObject, Qt
from pytestqt.qtbot import QtBot

from fitassist.domain.answers import Choose, Done
from fitassist.gui.speaker import COMMANDS, CommandSpeaker, Silent, make_speaker
from fitassist.session.fitting import Fitting
from fitassist.settings import Settings
from fitassist.wording.beside_words import say
from fitassist.wording.spoken_words import number_words, spoken
from tests.gui.fitting_bench import Bench
from tests.gui.form_of_twelve import a_body, a_form


class FakeSpeaker:
    """Remembers what it was to say."""

    has_voice = True

    def __init__(self) -> None:
        self.said: list[str] = []
        self.stopped = 0

    def say(self, text: str) -> None:
        self.said.append(text)

    def stop(self) -> None:
        self.stopped += 1


@pytest.fixture
def voice() -> FakeSpeaker:
    return FakeSpeaker()


@pytest.fixture
def bench(qtbot: QtBot, voice: FakeSpeaker, monkeypatch: pytest.MonkeyPatch) -> Iterator[Bench]:
    made = Bench(qtbot, Fitting.start(a_body(), a_form()))
    monkeypatch.setattr(made.page.link, "_make", lambda _parent: voice)
    yield made
    made.page.leave_beside()


def to_a_reading(bench: Bench) -> None:
    while bench.kind != "measure":
        step = bench.fitting.instruction
        bench.bridge.submit(Choose(choice=step.choices[0]) if step.kind == "ask" else Done())


@pytest.mark.parametrize(
    ("written", "said"),
    [
        ("38 5/8 in", "thirty-eight and five eighths inches"),
        ("37 1/2", "thirty-seven and a half"),
        ("1/2 in", "half an inch"),
        ("3/8 in to go", "three eighths of an inch to go"),
        ("98.1 cm", "ninety-eight point one centimetres"),
        ("104 cm", "one hundred and four centimetres"),
        ("9 mm", "nine millimetres"),
        ("1 in", "one inch"),
        ("37 → 37 1/4", "thirty-seven to thirty-seven and one quarter"),
        ("2 1/16 in", "two and one sixteenth inches"),
    ],
)
def test_numbers_are_read_as_people_say_them(written: str, said: str) -> None:
    assert spoken(written) == said


def test_every_whole_number_has_words_of_its_own() -> None:
    words = [number_words(n) for n in range(1000)]
    assert len(set(words)) == 1000
    assert not any(letter.isdigit() for text in words for letter in text)


def test_nothing_is_spoken_by_default(bench: Bench, voice: FakeSpeaker) -> None:
    assert Settings().speak is False
    to_a_reading(bench)
    assert voice.said == []


def test_a_step_is_read_and_an_entry_repeated(bench: Bench, voice: FakeSpeaker) -> None:
    bench.page.link.use(Settings(speak=True))
    to_a_reading(bench)
    assert voice.said[-1].startswith("Measure the ")
    bench.type("36 5/8")
    bench.enter()
    assert voice.said[-1].startswith("Taken: thirty-six and five eighths inches.")


def test_in_the_private_view_no_entry_is_repeated_and_no_girth_said(
    bench: Bench, voice: FakeSpeaker
) -> None:
    bench.page.link.use(Settings(speak=True))
    bench.page.show_beside(is_private=True)
    to_a_reading(bench)
    view = bench.page.link.view
    assert view is not None
    for key in ("3", "6", "*", "5", "enter"):
        view.flow.press(key)
    said = " ".join(voice.said)
    assert "Taken" not in said
    assert not any(f"{tens}-" in said or f"{tens} " in said for tens in ("twenty", "thirty"))


def test_say_again_reads_once_more(bench: Bench, voice: FakeSpeaker) -> None:
    bench.page.link.use(Settings(speak=True))
    bench.key(Qt.Key.Key_F11)
    before = len(voice.said)
    view = bench.page.link.view
    assert view is not None
    view.flow.press(".")
    assert voice.said[before:] == [voice.said[before - 1]]
    bench.page.leave_beside()
    assert voice.stopped == 1


def test_say_again_tells_when_steps_are_not_spoken(bench: Bench) -> None:
    bench.page.show_beside()
    view = bench.page.link.view
    assert view is not None
    view.flow.press(".")
    assert view.message.text() == say("not_aloud")


def _nothing(name: str) -> None:
    raise ImportError(name)


def test_without_a_voice_all_is_silent() -> None:
    speaker = make_speaker(load=_nothing, find=lambda _program: None)
    assert isinstance(speaker, Silent)
    assert not speaker.has_voice
    speaker.say("Measure the bust")
    speaker.stop()


@pytest.mark.parametrize("program", [name for name, _options in COMMANDS])
def test_a_text_reaches_a_program_as_one_argument_and_never_as_an_option(program: str) -> None:
    owner = QObject()
    found = make_speaker(
        owner, load=_nothing, find=lambda wanted: f"/bin/{wanted}" if wanted == program else None
    )
    assert isinstance(found, CommandSpeaker)
    name, arguments = found.command("--version; rm x $(y)")
    assert name == f"/bin/{program}"
    assert arguments == ["--", "--version; rm x $(y)"]


def test_a_program_is_started_and_stopped(qtbot: QtBot) -> None:
    owner = QObject()
    speaker = CommandSpeaker("cat", ("/dev/stdin",), owner)
    speaker.say("/dev/null")
    process = speaker._process
    assert process is not None
    assert process.waitForStarted(3000)
    speaker.stop()
    assert speaker._process is None


def test_a_program_that_is_not_there_does_no_harm(qtbot: QtBot) -> None:
    owner = QObject()
    speaker = CommandSpeaker("no-such-program-here", (), owner)
    speaker.say("Measure the bust")
    speaker.stop()


def test_the_voice_of_qt_is_used_where_it_can_be_loaded() -> None:
    told: list[str] = []

    class Engine:
        def __init__(self, _parent: object) -> None: ...
        def state(self) -> str:
            return "State.Ready"

        def say(self, text: str) -> None:
            told.append(text)

        def stop(self) -> None:
            told.append("")

    class Module:
        QTextToSpeech = Engine

    speaker = make_speaker(load=lambda _name: Module, find=lambda _program: None)
    assert speaker.has_voice
    speaker.say("Measure the bust")
    assert told == ["", "Measure the bust"]
