"""``caller pedal``: taught and tried with ports and a clock driven by hand."""

from __future__ import annotations

import tomllib
from fractions import Fraction
from pathlib import Path

import pytest

from caller.cli import command_line
from caller.cli.pedal import (
    KNOWN,
    MORE,
    MORE_ROCKED,
    MORE_SWITCH,
    NOT_LEARNT,
    PRESS,
    SKIP_SECONDS,
    UNATTENDED_SECONDS,
    WAITS_SECONDS,
    done_words,
    found,
    keep_limits,
    message_words,
    teach,
    tried,
)
from caller.cli.say import Refused
from caller.rig.pedal import MidiPedal, kept_settings
from caller.rig.pedal.port import MISSING, NONE_FOUND, MidiMissing
from caller.rig.settings import Settings, read_settings
from caller.transport.expression import Expression, Lean, Limits
from caller.transport.foot import Gesture
from caller.transport.footing import FOR_A_DANCE, FOR_A_LESSON
from caller.transport.learn import QUIET_SECONDS
from caller.transport.order import Order
from caller.transport.switch import Setting, Switch, SwitchKind
from caller.transport.unit import OTHER_PIANO_PEDALS, Stroke, Unit, Which
from tests.fakes.pedal import DOWN, UP, HandPorts

PORT = "Sole MIDI 1"
NOTE_ON, NOTE_OFF = bytes((0x90, 60, 100)), bytes((0x80, 60, 0))
OTHER_ON, OTHER_OFF = bytes((0x90, 62, 100)), bytes((0x80, 62, 0))
NOTE = Setting((Switch(SwitchKind.NOTE, 60),), latching=False)
OTHER_NOTE = Setting((Switch(SwitchKind.NOTE, 62),), latching=False)
Sent = tuple[float, bytes]


class Lesson:
    """A lesson whose foot presses at the times it is given: (seconds, message)."""

    def __init__(self, file: Path, *sent: Sent, plugged_at: float = 0.0) -> None:
        self.ports = HandPorts([])
        self.seconds = 0.0
        self.said: list[str] = []
        self.file = file
        self.sent = sorted(sent)
        self.plugged_at = plugged_at
        self.pedal = MidiPedal(lambda: self.ports)
        self.pause(0.0)

    def now(self) -> float:
        return self.seconds

    def pause(self, seconds: float) -> None:
        self.seconds += seconds
        if self.seconds >= self.plugged_at:
            self.ports.plugged[:] = [PORT]
        while self.sent and self.sent[0][0] <= self.seconds:
            at, message = self.sent.pop(0)
            self.ports.send(PORT, message, at)

    def finds(self, waits: float = UNATTENDED_SECONDS) -> list[str]:
        found(self.pedal, self.said.append, self.now, self.pause, waits)
        return self.said

    def taught(self) -> list[str]:
        self.finds()
        teach(self.pedal, self.file, self.said.append, self.now, self.pause)
        return self.said

    def tries(self, seconds: float) -> list[str]:
        self.finds()
        return list(tried(self.pedal, FOR_A_DANCE, FOR_A_LESSON, self.now, self.pause, seconds))

    @property
    def kept(self) -> Unit:
        return kept_settings(self.file)[0][PORT]


def presses(first: float, down: bytes, up: bytes, times: int = 3) -> list[Sent]:
    return [(first + n + wait, message) for n in range(times) for wait, message in ((0.0, down), (0.2, up))]


def rocked(first: float, number: int = 11) -> list[Sent]:
    """From the heel to the toe three times, in steps of 8."""
    sweep = [*range(0, 128, 8), 127]
    values = [*sweep, *reversed(sweep)] * 2 + sweep
    return [(first + n * 0.02, bytes((0xB0, number, value))) for n, value in enumerate(values)]


@pytest.fixture
def file(tmp_path: Path) -> Path:
    return tmp_path / "caller" / "pedals.json"


def test_one_pedal_is_taught_and_kept_and_the_rest_skipped(file: Path) -> None:
    lesson = Lesson(file, *presses(1, NOTE_ON, NOTE_OFF))
    said = lesson.taught()
    assert said[:3] == [f"The pedal: on {PORT}.", PRESS, "  note 60: 100"]
    assert said[-3:] == ["Learnt: note 60, springs back.", f"Kept in {file}.", MORE]
    assert lesson.kept == Unit(NOTE, None, None)
    learnt_by = 1 + 2.2 + QUIET_SECONDS
    assert lesson.seconds == pytest.approx(learnt_by + SKIP_SECONDS, abs=0.1)


def test_a_whole_unit_is_taught_part_by_part_and_then_obeyed(file: Path) -> None:
    sent = [*presses(1, NOTE_ON, NOTE_OFF), *presses(7, OTHER_ON, OTHER_OFF), *rocked(14)]
    lesson = Lesson(file, *sent)
    said = lesson.taught()
    assert [sentence for sentence in said if sentence.startswith("Learnt")] == [
        "Learnt: note 60, springs back.",
        "Learnt: note 62, springs back.",
        "Learnt: an expression pedal, controller 11, heel 0, toe 127.",
    ]
    asked = [sentence for sentence in said if sentence in (PRESS, MORE, MORE_SWITCH, MORE_ROCKED)]
    assert asked == [PRESS, MORE, MORE_ROCKED], "nothing more is asked of a unit that has all"
    assert lesson.kept == Unit(NOTE, OTHER_NOTE, Expression(11, 0, 127))
    after = lesson.seconds
    lesson.sent = [*presses(after + 1, OTHER_ON, OTHER_OFF, 1), (after + 2, bytes((0xB0, 11, 0)))]
    assert lesson.tries(3)[-3:] == [
        "    second pedal, tap: Section again; in a lesson: Stage again",
        "  controller 11 (expression): 0",
        "    50 % of the full tempo",
    ]


def test_an_expression_pedal_alone_leaves_the_usual_switches(file: Path) -> None:
    lesson = Lesson(file, *rocked(1, 4))
    assert lesson.taught()[-1] == MORE_SWITCH
    assert lesson.kept == Unit(Unit().first, OTHER_PIANO_PEDALS, Expression(4, 0, 127))


def test_the_same_pedal_again_is_no_second_one(file: Path) -> None:
    lesson = Lesson(file, *presses(1, NOTE_ON, NOTE_OFF), *presses(7, NOTE_ON, NOTE_OFF))
    assert KNOWN in lesson.taught()
    assert lesson.kept == Unit(NOTE, None, None)


def test_a_lesson_that_fails_is_begun_anew(file: Path) -> None:
    said = Lesson(file, *presses(1, DOWN, UP, 2), *presses(6, DOWN, UP)).taught()
    assert said.count(NOT_LEARNT) == 1
    assert "Learnt: controller 64, springs back." in said


def test_a_second_pedal_that_is_not_understood_leaves_the_first(file: Path) -> None:
    failures = [press for n in range(8) for press in presses(8 + 5 * n, OTHER_ON, OTHER_OFF, 1)]
    lesson = Lesson(file, *presses(1, NOTE_ON, NOTE_OFF), *failures)
    assert lesson.taught().count(NOT_LEARNT) == 5
    assert lesson.kept == Unit(NOTE, None, None)


def test_a_latching_and_an_inverted_pedal_are_told_as_such(file: Path) -> None:
    latching = Lesson(file, (1, DOWN), (2, UP), (3, DOWN)).taught()
    assert "Learnt: controller 64, stays on until the next press." in latching
    inverted = Lesson(file, *presses(1, UP, DOWN)).taught()
    assert "Learnt: controller 64, springs back, sends off when it is pressed." in inverted


def test_what_is_kept_of_other_pedals_stays(file: Path) -> None:
    file.parent.mkdir()
    file.write_text(
        '{"Other 1": {"switches": [{"kind": "program", "number": null}], "latching": false, "inverted": false}}'
    )
    Lesson(file, *presses(1, DOWN, UP)).taught()
    assert sorted(kept_settings(file)[0]) == ["Other 1", PORT]


def test_trying_shows_what_arrives_and_what_it_orders_and_keeps_nothing(file: Path) -> None:
    taps = [(0.5, DOWN), (0.6, UP), (0.8, DOWN), (0.9, UP)]
    said = Lesson(file, *taps, (1.5, bytes((0xE0, 0, 64))), (2.5, DOWN), (4.2, UP)).tries(5)
    assert said == [
        "  controller 64 (sustain): 127",
        "  controller 64 (sustain): 0",
        "    tap: Start, pause, go on",
        "  controller 64 (sustain): 127",
        "  controller 64 (sustain): 0",
        "    double tap: Section again; in a lesson: Stage again",
        "  pitch bend: 0 64",
        "  controller 64 (sustain): 127",
        "    hold: Slow down; in a lesson: nothing",
        "    long hold: nothing; in a lesson: Wait after stages",
        "  controller 64 (sustain): 0",
        "    long release: Up to speed; in a lesson: nothing",
    ]
    assert not file.exists()


def test_without_a_pedal_it_says_so_at_once_and_waits_for_one(file: Path) -> None:
    lesson = Lesson(file, plugged_at=40)
    said = lesson.finds(WAITS_SECONDS)
    assert said == [
        f"The pedal: {NONE_FOUND}. Plugged in within {WAITS_SECONDS:g} seconds, it is found.",
        f"The pedal: on {PORT}.",
    ]
    assert lesson.seconds == pytest.approx(40, abs=1)


def test_with_nobody_at_the_keyboard_it_gives_up_within_two_seconds(file: Path) -> None:
    lesson = Lesson(file, plugged_at=40)
    with pytest.raises(Refused, match="no pedal to teach: none found"):
        lesson.finds()
    assert lesson.seconds <= UNATTENDED_SECONDS + 0.1 <= 2.1


def test_where_there_never_will_be_one_it_gives_up_at_once(file: Path) -> None:
    lesson = Lesson(file)

    def none() -> HandPorts:
        raise MidiMissing(MISSING, for_good=True)

    lesson.pedal = MidiPedal(none)
    with pytest.raises(Refused, match="MIDI support is missing"):
        lesson.finds(WAITS_SECONDS)
    assert lesson.seconds == 0


def test_a_pedal_that_is_never_pressed_three_times_is_given_up(file: Path) -> None:
    sent = [press for n in range(6) for press in presses(1 + 5 * n, DOWN, UP, 1)]
    with pytest.raises(Refused, match="was not learnt"):
        Lesson(file, *sent).taught()
    assert not file.exists()


def test_what_a_teacher_has_set_is_what_is_shown() -> None:
    footing = FOR_A_DANCE.changed({Gesture.TAP: Order.HALF, Gesture.RELEASE: Order.NEXT}, {})
    assert done_words(Stroke(Gesture.TAP), footing, footing) == "tap: Half speed"
    there, here = "Up to speed, Next section", "Up to speed, Next stage"
    assert done_words(Stroke(Gesture.RELEASE), footing, footing) == f"release: {there}; in a lesson: {here}"
    second = Stroke(Gesture.LONG_RELEASE, Which.SECOND)
    assert done_words(second, footing, footing) == "second pedal, long release: nothing"
    assert done_words(Lean(Fraction(76, 100)), footing, footing) == "76 % of the full tempo"


@pytest.mark.parametrize(
    ("message", "words"),
    [
        ("80 3c 00", "note 60 off"),
        ("91 3c 40", "note 60: 64"),
        ("a0 3c 40", "pressure on note 60: 64"),
        ("b0 01 40", "controller 1 (modulation): 64"),
        ("bf 07 40", "controller 7 (volume): 64"),
        ("b0 0b 40", "controller 11 (expression): 64"),
        ("b2 40 7f", "controller 64 (sustain): 127"),
        ("b2 42 7f", "controller 66 (sostenuto): 127"),
        ("b2 43 7f", "controller 67 (soft pedal): 127"),
        ("b2 50 00", "controller 80: 0"),
        ("c0 05", "program 5"),
        ("d0 05", "pressure: 5"),
        ("e0 01 40", "pitch bend: 1 64"),
        ("f0 7e f7", "something else: f0 7e f7"),
        ("", "something else: "),
    ],
)
def test_what_arrives_is_told_in_the_standards_words(message: str, words: str) -> None:
    """MIDI 1.0 Detailed Specification, Table 1 (status bytes) and Table 3 (controllers)."""
    assert message_words(bytes.fromhex(message)) == words


def test_limits_are_kept_beside_what_else_is_set(tmp_path: Path, capsys: pytest.CaptureFixture[str]) -> None:
    file = tmp_path / "settings.toml"
    file.write_text('[pedal]\nport = "Sole"  # mine\n')
    settings, _ = read_settings(file)
    assert keep_limits(file, settings, 60, 95) == 0
    assert read_settings(file) == (Settings(port="Sole", limits=Limits(60, 95)), ())
    assert tomllib.loads(file.read_text())["pedal"]["limits"] == [60, 95]
    assert "# mine" in file.read_text()
    assert "from 60 % of the full tempo, heel down, to 95 %, toe down" in capsys.readouterr().out


def test_limits_out_of_reach_are_refused(tmp_path: Path) -> None:
    with pytest.raises(Refused, match="not from 25 to 100 %: 10, 100"):
        keep_limits(tmp_path / "settings.toml", Settings(), 10, 100)
    assert list(tmp_path.iterdir()) == []


def test_limits_on_the_command_line_look_for_no_pedal(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setenv("XDG_CONFIG_HOME", str(tmp_path))
    asked = command_line().parse_args(["pedal", "--limits", "40", "90"])
    assert asked.run(asked) == 0
    assert read_settings(tmp_path / "caller" / "settings.toml")[0].limits == Limits(40, 90)
