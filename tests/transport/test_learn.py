"""Learning a pedal: what three presses of each kind of pedal tell."""

from __future__ import annotations

import pytest
from hypothesis import given
from hypothesis import strategies as st

from caller.transport.expression import Expression
from caller.transport.foot import FootState, Gesture, on_message
from caller.transport.learn import FINE, PRESSES, QUIET_SECONDS, SWITCHES, Learnt, Lesson, learnt
from caller.transport.switch import Setting, Switch, SwitchKind
from caller.transport.unit import Unit
from tests.fakes.pedal import DOWN, UP
from tests.transport.test_foot import CLOCK, NOTE_DOWN, NOTE_UP, PROGRAM, SENSING, Timed

ON, OFF = bytes((0xB2, 80, 127)), bytes((0xB2, 80, 0))
C80 = Switch(SwitchKind.CONTROL, 80)


def lesson(timed: Timed) -> Lesson:
    learning = Lesson()
    for now, message in timed:
        learning = learning.after(message, now)
    return learning


def presses(down: bytes, up: bytes, seconds: float = 0.2) -> Timed:
    return [(n + wait, message) for n in range(PRESSES) for wait, message in ((0, down), (seconds, up))]


def programs(*numbers: int) -> Timed:
    return [(float(n), bytes((0xC0, number))) for n, number in enumerate(numbers)]


SUSTAIN = Switch(SwitchKind.CONTROL, 64)
SWEEP = [*range(0, 128, 6), 127]


def moved(number: int, value: int) -> bytes:
    return bytes((0xB0, number, value))


def swept(number: int, values: list[int] = SWEEP) -> Timed:
    """Pressed and let go, each time through all values."""
    return [(n / 50, moved(number, value)) for n, value in enumerate([*values, *reversed(values)] * PRESSES)]


def rocked(number: int, values: list[int] = SWEEP) -> Timed:
    """From the heel to the toe, where it is left."""
    path = [*values, *reversed(values)] * (PRESSES - 1) + values
    return [(n / 50, moved(number, value)) for n, value in enumerate(path)]


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
    ("a note", presses(NOTE_DOWN, NOTE_UP), Setting((Switch(SwitchKind.NOTE, 60),), latching=False)),
    ("one program", programs(5, 5, 5), Setting((Switch(SwitchKind.PROGRAM, 5),), latching=False)),
    ("the next program each time", programs(5, 6, 7), Setting((Switch(SwitchKind.PROGRAM),), latching=False)),
    ("bounces", BOUNCED, Setting((C80,), latching=False)),
    ("beside a clock", [(now, m) for now, sent in presses(ON, OFF) for m in (CLOCK, sent, SENSING)],
        Setting((C80,), latching=False)),
    ("a program beside a controller", sorted([*presses(ON, OFF), *programs(1, 1, 1)]), Setting((C80,), latching=False)),
    ("a latching one beside a springing one", sorted([*presses(ON, OFF), (0, DOWN), (1, UP), (2, DOWN)]),
        Setting((C80,), latching=False)),
    ("many values on the way, as a sustain pedal that can be half down", swept(64),
        Setting((SUSTAIN,), latching=False)),
    ("the same, sending less as it is pressed", swept(64, [127 - value for value in SWEEP]),
        Setting((SUSTAIN,), latching=False, inverted=True)),
    ("rocked", rocked(11), Expression(11, 0, 127)),
    ("rocked, sending less towards the toe", rocked(4, [127 - value for value in SWEEP]), Expression(4, 127, 0)),
    ("rocked, not to its ends", rocked(11, [max(20, min(value, 100)) for value in SWEEP]), Expression(11, 20, 100)),
    ("rocked, in coarse and fine halves", [(now + n / 1000, message)
        for now, sent in rocked(11) for n, message in enumerate((sent, bytes((0xB0, 43, 37 * sent[2] % 128))))],
        Expression(11, 0, 127)),
    ("the longer way of two", sorted([*rocked(1, [value // 3 for value in SWEEP]), *rocked(11)]),
        Expression(11, 0, 127)),
    ("a switch beside one that is rocked", sorted([*presses(ON, OFF), *rocked(11)]), Setting((C80,), latching=False)),
    ("a switch beside one that wavers",
        sorted([*presses(ON, OFF), *((n / 50, moved(11, 60 + n % 3)) for n in range(99))]),
        Setting((C80,), latching=False)),
    ("moved a little", [(n / 50, moved(11, 60 + n % 20)) for n in range(99)], None),
    ("pressed twice only", presses(ON, OFF)[:4], None),
    ("pressed four times", programs(1, 2, 3, 4), None),
    ("nothing", [], None),
]  # fmt: skip


@pytest.mark.parametrize(("name", "timed", "setting"), LESSONS, ids=[row[0] for row in LESSONS])
def test_a_pedal_is_known_from_what_three_presses_send(
    name: str, timed: Timed, setting: Setting | Expression | None
) -> None:
    assert learnt(lesson(timed)) == setting


def test_which_controllers_are_switches_and_which_are_fine_halves_is_the_standards() -> None:
    """MIDI 1.0 Detailed Specification, Table 3: 64 to 69 are pedals and switches that are on or off; 32 to 63 are the
    least significant bytes of 0 to 31."""
    assert [*SWITCHES] == [64, 65, 66, 67, 68, 69]
    assert (FINE.start, FINE.stop) == (32, 64)
    assert all(learnt(lesson(rocked(number))) == Expression(number, 0, 127) for number in (1, 2, 4, 7, 11, 70, 85))
    assert all(learnt(lesson(rocked(number))) is None for number in FINE)


TAUGHT = [row for row in LESSONS if isinstance(row[2], Setting) and not row[2].latching]


SLOW = {
    "pressed slowly",
    "many values on the way, as a sustain pedal that can be half down",
    "the same, sending less as it is pressed",
}


@pytest.mark.parametrize(("name", "timed", "setting"), TAUGHT, ids=[row[0] for row in TAUGHT])
def test_what_was_learnt_makes_the_same_presses_taps(name: str, timed: Timed, setting: Setting) -> None:
    foot = FootState(setting)
    made: list[Gesture] = []
    for now, message in timed:
        foot, gestures = on_message(foot, message, now)
        made += gestures
    held = [gesture for gesture in made if gesture not in (Gesture.TAP, Gesture.DOUBLE_TAP)]
    assert held == ([Gesture.HOLD, Gesture.RELEASE] * PRESSES if name in SLOW else [])
    assert len(made) == len(held) or len(made) == PRESSES


def test_a_lesson_is_over_once_the_pedal_is_left_alone() -> None:
    assert not Lesson().over(100)
    learning = lesson([(1, PROGRAM)])
    assert not learning.over(1 + 0.9 * QUIET_SECONDS)
    assert learning.over(1 + QUIET_SECONDS)


@given(st.lists(st.tuples(st.floats(0, 9), st.binary(max_size=4)), max_size=40))
def test_any_bytes_are_survived_and_never_teach_a_setting_that_hears_nothing(timed: Timed) -> None:
    part = learnt(lesson(timed))
    assert part is None or isinstance(part, Expression) or len(part.switches) == 1


FIRST, SECOND = Setting((C80,)), Setting((Switch(SwitchKind.CONTROL, 81),))


def test_a_unit_is_put_together_part_by_part() -> None:
    so_far = Learnt()
    for part in (FIRST, SECOND, Expression(11, 0, 127)):
        assert not so_far.whole
        after = so_far.with_part(part)
        assert after is not None
        so_far = after
    assert so_far.whole
    assert so_far.unit == Unit(FIRST, SECOND, Expression(11, 0, 127))


@pytest.mark.parametrize(
    ("so_far", "part"),
    [
        (Learnt(FIRST), Setting((C80,), inverted=True)),
        (Learnt(FIRST, SECOND), SECOND),
        (Learnt(FIRST, SECOND), Setting((Switch(SwitchKind.CONTROL, 82),))),
        (Learnt(Setting((Switch(SwitchKind.PROGRAM),))), Setting((Switch(SwitchKind.PROGRAM, 5),))),
        (Learnt(FIRST, None, Expression(11, 0, 127)), Expression(4, 0, 127)),
    ],
)
def test_what_is_known_already_or_has_no_place_left_is_no_new_part(so_far: Learnt, part: Setting | Expression) -> None:
    assert so_far.with_part(part) is None
