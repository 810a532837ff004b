"""A unit of two switches and an expression pedal: each part keeps to itself."""

from __future__ import annotations

from fractions import Fraction

from hypothesis import given
from hypothesis import strategies as st

from caller.transport.expression import Expression, Lean
from caller.transport.foot import FootState, Gesture, on_message, on_time
from caller.transport.switch import SOFT, SOSTENUTO, SUSTAIN, Setting, Switch, SwitchKind
from caller.transport.unit import Footwork, Stroke, Unit, UnitState, Which
from tests.fakes.pedal import DOWN, UP
from tests.transport.test_foot import TICK, Timed, at_times, ticks

OTHER_DOWN, OTHER_UP = bytes((0xB0, 81, 127)), bytes((0xB0, 81, 0))
UNIT = Unit(
    Setting((Switch(SwitchKind.CONTROL, 64),), latching=False),
    Setting((Switch(SwitchKind.CONTROL, 81),), latching=False),
    Expression(11, 0, 127),
)
TAP = Stroke(Gesture.TAP)
SECOND_TAP = Stroke(Gesture.TAP, Which.SECOND)


def pressed(number: int, value: int) -> bytes:
    return bytes((0xB0, number, value))


def played(timed: Timed, unit: Unit = UNIT) -> list[tuple[float, Stroke | Lean]]:
    standing, made = UnitState.on(unit), []
    for now, message in timed:
        standing, done = standing.later(now) if message == TICK else standing.heard(message, now)
        made += [(now, one) for one in done]
    return made


def test_each_gesture_carries_its_pedal() -> None:
    timed = [(1, DOWN), (1.1, UP), (2, OTHER_DOWN), (2.1, OTHER_UP), (3, OTHER_DOWN), *ticks(3.4), (4, OTHER_UP)]
    held = [Stroke(gesture, Which.SECOND) for gesture in (Gesture.HOLD, Gesture.RELEASE)]
    assert played(timed) == [(1.1, TAP), (2.1, SECOND_TAP), (3.4, held[0]), (4, held[1])]


def test_a_foot_on_either_switch_is_on_the_unit() -> None:
    for down, up in ((DOWN, UP), (OTHER_DOWN, OTHER_UP)):
        pressed_once, _ = UnitState.on(UNIT).heard(down, 1)
        assert pressed_once.down
        assert not pressed_once.heard(up, 2)[0].down
    assert not UnitState.on(Unit(UNIT.first, None)).down


def test_the_bouncing_of_one_swallows_nothing_of_the_other() -> None:
    """The second is pressed while the first still bounces."""
    timed = [(1, DOWN), (1.01, UP), (1.015, OTHER_DOWN), (1.02, DOWN), (1.2, OTHER_UP), (1.3, UP)]
    assert played(timed) == [(1.2, SECOND_TAP), (1.3, TAP)]


def test_taps_of_two_pedals_are_no_double_tap() -> None:
    timed = [(1, DOWN), (1.1, UP), (1.2, OTHER_DOWN), (1.3, OTHER_UP)]
    assert played(timed) == [(1.1, TAP), (1.3, SECOND_TAP)]


def test_the_expression_pedal_works_beside_a_switch_that_is_held() -> None:
    timed = [(1, DOWN), *ticks(1.4), (1.5, pressed(11, 127)), (1.6, pressed(11, 0)), *ticks(1.8), (2, UP)]
    assert played(timed) == [
        (1.4, Stroke(Gesture.HOLD)),
        (1.5, Lean(Fraction(1))),
        (1.8, Lean(Fraction(1, 2))),
        (2, Stroke(Gesture.RELEASE)),
    ]


def test_until_it_is_taught_a_unit_like_a_pianos_has_two_pedals() -> None:
    """MIDI 1.0 Detailed Specification, Table 3: 64 damper pedal (sustain), 66 sostenuto, 67 soft pedal."""
    assert (SUSTAIN, SOSTENUTO, SOFT) == (64, 66, 67)
    for number, tap in ((64, TAP), (66, SECOND_TAP), (67, SECOND_TAP)):
        assert played([(1, pressed(number, 127)), (1.1, pressed(number, 0))], Unit()) == [(1.1, tap)]
    assert played([(1, pressed(11, n)) for n in range(128)], Unit()) == []


def test_two_programs_are_two_pedals() -> None:
    unit = Unit(*(Setting((Switch(SwitchKind.PROGRAM, number),), latching=False) for number in (5, 6)))
    timed = [(now, bytes((0xC0, number))) for now, number in ((1, 5), (2, 6), (2.2, 6))]
    assert played(timed, unit) == [(1, TAP), (2, SECOND_TAP), (2.2, Stroke(Gesture.DOUBLE_TAP, Which.SECOND))]


def test_a_unit_that_goes_lets_go_of_both_and_keeps_the_tempo() -> None:
    standing = UnitState.on(UNIT)
    for message in (DOWN, OTHER_DOWN, pressed(11, 0)):
        standing, _ = standing.heard(message, 1.0)
    standing, _ = standing.later(2.0)
    assert standing.down
    standing, made = standing.lifted()
    assert made == (Stroke(Gesture.LONG_RELEASE), Stroke(Gesture.LONG_RELEASE, Which.SECOND))
    assert not standing.down
    assert standing.lever is not None
    assert standing.lever.share == Fraction(1, 2)


messages = st.one_of(
    st.sampled_from([DOWN, UP, OTHER_DOWN, OTHER_UP, TICK]), st.integers(0, 127).map(lambda v: pressed(11, v))
)


@given(st.lists(st.tuples(st.floats(0.001, 0.6), messages), max_size=60))
def test_each_switch_does_as_if_it_were_alone(steps: Timed) -> None:
    timed = at_times(steps)
    made = played(timed)
    assert UNIT.second is not None
    for setting, pedal in ((UNIT.first, Which.FIRST), (UNIT.second, Which.SECOND)):
        foot, alone = FootState(setting), []
        for now, message in timed:
            foot, told = on_time(foot, now) if message == TICK else on_message(foot, message, now)
            alone += [(now, Stroke(one, pedal)) for one in told]
        assert [one for one in made if isinstance(one[1], Stroke) and one[1].pedal is pedal] == alone


@given(st.lists(st.tuples(st.floats(allow_nan=True), st.binary(max_size=5)), max_size=30))
def test_any_bytes_at_any_times_are_survived(timed: Timed) -> None:
    standing = UnitState.on(UNIT)
    made: Footwork = ()
    for now, message in timed:
        standing, done = standing.heard(message, now)
        made += done
    assert all(isinstance(one, Stroke | Lean) for one in made)
