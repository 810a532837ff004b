"""``caller pedal``: taught and tried with ports and a clock driven by hand."""

from __future__ import annotations

from pathlib import Path

import pytest

from caller.cli.pedal import FOUND_WITHIN_SECONDS, NOT_LEARNT, lesson
from caller.cli.say import Refused
from caller.rig.pedal import Pedal, kept_settings
from caller.transport.switch import Kind, Setting, Switch
from tests.fakes.pedal import DOWN, UP, HandPorts

PORT = "Sole MIDI 1"
NOTE_ON, NOTE_OFF = bytes((0x90, 60, 100)), bytes((0x80, 60, 0))


class Lesson:
    """A lesson whose foot presses at the times it is given: (seconds, message)."""

    def __init__(self, file: Path, *sent: tuple[float, bytes], plugged: bool = True) -> None:
        self.ports = HandPorts([PORT] if plugged else [])
        self.seconds = 0.0
        self.said: list[str] = []
        self.file = file
        self.sent = sorted(sent)
        self.pedal = Pedal(lambda: self.ports)

    def now(self) -> float:
        return self.seconds

    def pause(self, seconds: float) -> None:
        self.seconds += seconds
        while self.sent and self.sent[0][0] <= self.seconds:
            at, message = self.sent.pop(0)
            self.ports.send(PORT, message, at)

    def given(self, teach: bool = True, tries: float = 2.0) -> list[str]:
        lesson(self.pedal, self.file, teach, self.said.append, self.now, self.pause, tries)
        return self.said


def presses(first: float, down: bytes, up: bytes, times: int = 3) -> list[tuple[float, bytes]]:
    return [(first + n + wait, message) for n in range(times) for wait, message in ((0.0, down), (0.2, up))]


@pytest.fixture
def file(tmp_path: Path) -> Path:
    return tmp_path / "caller" / "pedals.json"


def test_a_pedal_is_taught_kept_and_tried(file: Path) -> None:
    said = Lesson(file, *presses(1, NOTE_ON, NOTE_OFF), *presses(6, NOTE_ON, NOTE_OFF, 1)).given(tries=4)
    assert said[0] == f"The pedal is on {PORT}."
    assert "  note 60, on" in said
    assert "Learnt: note 60, springs back." in said
    assert said[-1] == "  tap: Start, pause, go on"
    kept, why = kept_settings(file)
    assert (kept, why) == ({PORT: Setting((Switch(Kind.NOTE, 60),), latching=False)}, "")


def test_a_lesson_that_fails_is_begun_anew(file: Path) -> None:
    said = Lesson(file, *presses(1, DOWN, UP, 2), *presses(6, DOWN, UP)).given()
    assert sum(sentence.startswith(NOT_LEARNT) for sentence in said) == 1
    assert "Learnt: controller 64, springs back." in said


def test_a_latching_and_an_inverted_pedal_are_told_as_such(file: Path) -> None:
    assert (
        "Learnt: controller 64, stays on until the next press." in Lesson(file, (1, DOWN), (2, UP), (3, DOWN)).given()
    )
    inverted = Lesson(file, *presses(1, UP, DOWN)).given()
    assert "Learnt: controller 64, springs back, sends off when it is pressed." in inverted


def test_what_is_kept_of_other_pedals_stays(file: Path) -> None:
    file.parent.mkdir()
    file.write_text(
        '{"Other 1": {"switches": [{"kind": "program", "number": null}], "latching": false, "inverted": false}}'
    )
    Lesson(file, *presses(1, DOWN, UP)).given()
    assert sorted(kept_settings(file)[0]) == ["Other 1", PORT]


def test_only_trying_teaches_and_keeps_nothing(file: Path) -> None:
    said = Lesson(file, *presses(0.5, DOWN, UP, 1), (1.5, DOWN), (2.2, UP)).given(teach=False, tries=3)
    assert said[-3:] == ["  tap: Start, pause, go on", "  hold: Slow down", "  release: Up to speed"]
    assert not file.exists()


def test_without_a_pedal_it_says_so_in_time(file: Path) -> None:
    alone = Lesson(file, plugged=False)
    with pytest.raises(Refused, match="no pedal to teach: none found"):
        alone.given()
    assert alone.seconds == pytest.approx(FOUND_WITHIN_SECONDS, abs=0.1)


def test_a_pedal_that_is_never_pressed_three_times_is_given_up(file: Path) -> None:
    sent = [press for n in range(6) for press in presses(1 + 5 * n, DOWN, UP, 1)]
    with pytest.raises(Refused, match="was not learnt"):
        Lesson(file, *sent).given()
    assert not file.exists()
