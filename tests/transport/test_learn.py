"""Learning a pedal: what three presses of each kind of pedal tell."""

from __future__ import annotations

import pytest
from hypothesis import given
from hypothesis import strategies as st

from caller.transport.foot import Foot, Gesture, on_message
from caller.transport.learn import PRESSES, QUIET_SECONDS, Lesson, learnt
from caller.transport.switch import Kind, Setting, Switch
from tests.fakes.pedal import DOWN, UP
from tests.transport.test_foot import CLOCK, NOTE_DOWN, NOTE_UP, PROGRAM, SENSING, Timed

ON, OFF = bytes((0xB2, 80, 127)), bytes((0xB2, 80, 0))
C80 = Switch(Kind.CONTROL, 80)


def lesson(timed: Timed) -> Lesson:
    learning = Lesson()
    for now, message in timed:
        learning = learning.after(message, now)
    return learning


def presses(down: bytes, up: bytes, seconds: float = 0.2) -> Timed:
    return [(n + wait, message) for n in range(PRESSES) for wait, message in ((0, down), (seconds, up))]


def programs(*numbers: int) -> Timed:
    return [(float(n), bytes((0xC0, number))) for n, number in enumerate(numbers)]


BOUNCED = [
    (n + wait, m)
    for n in range(3)
    for wait, m in ((0, ON), (0.01, OFF), (0.02, ON), (0.3, OFF), (0.31, ON), (0.32, OFF))
]

LESSONS = [
    ("springs back", presses(ON, OFF), Setting((C80,), latching=False)),
    ("pressed slowly", presses(ON, OFF, 0.8), Setting((C80,), latching=False)),
    ("latches", [(0, ON), (1, OFF), (2, ON)], Setting((C80,), latching=True)),
    ("latches, on at first", [(0, OFF), (0.3, ON), (0.6, OFF)], Setting((C80,), latching=True)),
    ("inverted", presses(OFF, ON), Setting((C80,), latching=False, inverted=True)),
    ("a note", presses(NOTE_DOWN, NOTE_UP), Setting((Switch(Kind.NOTE, 60),), latching=False)),
    ("one program", programs(5, 5, 5), Setting((Switch(Kind.PROGRAM, 5),), latching=False)),
    ("the next program each time", programs(5, 6, 7), Setting((Switch(Kind.PROGRAM),), latching=False)),
    ("bounces", BOUNCED, Setting((C80,), latching=False)),
    ("beside a clock", [(now, m) for now, sent in presses(ON, OFF) for m in (CLOCK, sent, SENSING)],
        Setting((C80,), latching=False)),
    ("a program beside a controller", sorted([*presses(ON, OFF), *programs(1, 1, 1)]), Setting((C80,), latching=False)),
    ("a latching one beside a springing one", sorted([*presses(ON, OFF), (0, DOWN), (1, UP), (2, DOWN)]),
        Setting((C80,), latching=False)),
    ("pressed twice only", presses(ON, OFF)[:4], None),
    ("pressed four times", programs(1, 2, 3, 4), None),
    ("nothing", [], None),
]  # fmt: skip


@pytest.mark.parametrize(("name", "timed", "setting"), LESSONS, ids=[row[0] for row in LESSONS])
def test_a_pedal_is_known_from_what_three_presses_send(name: str, timed: Timed, setting: Setting | None) -> None:
    assert learnt(lesson(timed)) == setting


TAUGHT = [row for row in LESSONS if row[2] is not None and not row[2].latching]


@pytest.mark.parametrize(("name", "timed", "setting"), TAUGHT, ids=[row[0] for row in TAUGHT])
def test_what_was_learnt_makes_the_same_presses_taps(name: str, timed: Timed, setting: Setting) -> None:
    foot = Foot(setting)
    made: list[Gesture] = []
    for now, message in timed:
        foot, gestures = on_message(foot, message, now)
        made += gestures
    slowly = name == "pressed slowly"
    assert made == ([Gesture.HOLD, Gesture.RELEASE] if slowly else [Gesture.TAP]) * PRESSES


def test_a_lesson_is_over_once_the_pedal_is_left_alone() -> None:
    assert not Lesson().over(100)
    learning = lesson([(1, PROGRAM)])
    assert not learning.over(1 + 0.9 * QUIET_SECONDS)
    assert learning.over(1 + QUIET_SECONDS)


@given(st.lists(st.tuples(st.floats(0, 9), st.binary(max_size=4)), max_size=40))
def test_any_bytes_are_survived_and_never_teach_a_setting_that_hears_nothing(timed: Timed) -> None:
    setting = learnt(lesson(timed))
    assert setting is None or len(setting.switches) == 1
