"""A pedal's bytes to gestures: playbooks with their times, and laws for any bytes."""

from __future__ import annotations

import pytest
from hypothesis import given
from hypothesis import strategies as st

from caller.transport.foot import DEBOUNCE_SECONDS, HOLD_SECONDS, Foot, Gesture, Setting, lifted, on_message, on_time
from tests.fakes.pedal import DOWN, UP

TAP, HOLD, RELEASE = Gesture.TAP, Gesture.HOLD, Gesture.RELEASE
TICK = b""  # time passes and nothing comes
NOTE_DOWN, NOTE_UP, NOTE_SOFT = bytes((0x91, 60, 90)), bytes((0x81, 60, 0)), bytes((0x91, 60, 0))
PROGRAM = bytes((0xC0, 5))
CLOCK, SENSING = b"\xf8", b"\xfe"
SUSTAIN, LATCHING, LEARNT, ANY = Setting(), Setting(latching=True), Setting(controller=11), Setting(controller=None)


def played(messages: list[tuple[float, bytes]], setting: Setting = SUSTAIN) -> list[tuple[float, Gesture]]:
    foot, made = Foot(setting), []
    for now, message in messages:
        foot, gestures = on_time(foot, now) if message == TICK else on_message(foot, message, now)
        made += [(now, gesture) for gesture in gestures]
    return made


PLAYBOOKS = [
    ("a tap, known when the foot is lifted", SUSTAIN, [(1, DOWN), (1.2, UP)], [(1.2, TAP)]),
    ("a hold, known while it lasts", SUSTAIN, [(1, DOWN), (1.4, TICK), (3, TICK), (5, UP)], [(1.4, HOLD), (5, RELEASE)]),  # noqa: E501
    ("a hold that nobody looked at meanwhile", SUSTAIN, [(1, DOWN), (5, UP)], [(5, HOLD), (5, RELEASE)]),
    ("two taps", SUSTAIN, [(1, DOWN), (1.1, UP), (1.3, DOWN), (1.4, UP)], [(1.1, TAP), (1.4, TAP)]),
    ("contacts that bounce", SUSTAIN, [(1, DOWN), (1.01, UP), (1.02, DOWN), (1.2, UP), (1.21, DOWN)], [(1.2, TAP)]),
    ("a value said again", SUSTAIN, [(1, DOWN), (1.1, DOWN), (1.2, DOWN), (1.3, UP), (1.4, UP)], [(1.3, TAP)]),
    ("stuck down", SUSTAIN, [(1, DOWN), *((1 + n, TICK) for n in range(1, 50))], [(2, HOLD)]),
    ("latching: each edge", LATCHING, [(1, DOWN), (2, TICK), (3, UP), (4, DOWN)], [(1, TAP), (3, TAP), (4, TAP)]),
    ("a note", SUSTAIN, [(1, NOTE_DOWN), (1.2, NOTE_UP)], [(1.2, TAP)]),
    ("a note let go by velocity 0", SUSTAIN, [(1, NOTE_DOWN), (1.2, NOTE_SOFT)], [(1.2, TAP)]),
    ("a program change", SUSTAIN, [(1, PROGRAM), (2, PROGRAM)], [(1, TAP), (2, TAP)]),
    ("another controller", SUSTAIN, [(1, bytes((0xB0, 11, 127))), (1.2, bytes((0xB0, 11, 0)))], []),
    ("a controller that was learnt", LEARNT, [(1, bytes((0xB0, 11, 127))), (1.2, bytes((0xB0, 11, 0)))], [(1.2, TAP)]),
    ("any controller", ANY, [(1, bytes((0xB3, 80, 100))), (1.2, bytes((0xB3, 80, 3)))], [(1.2, TAP)]),
    ("clock and sensing in between", SUSTAIN, [(1, DOWN), (1.05, CLOCK), (1.1, SENSING), (1.2, UP)], [(1.2, TAP)]),
]  # fmt: skip


@pytest.mark.parametrize(("name", "setting", "messages", "made"), PLAYBOOKS, ids=[p[0] for p in PLAYBOOKS])
def test_playbook(
    name: str, setting: Setting, messages: list[tuple[float, bytes]], made: list[tuple[float, Gesture]]
) -> None:
    assert played(messages, setting) == made


@pytest.mark.parametrize("value", range(128))
def test_a_pedal_is_down_from_64_up(value: int) -> None:
    """MIDI 1.0 Detailed Specification, Table 3: controller 64, 0 to 63 off, 64 to 127 on (seen in charts)."""
    foot, _ = on_message(Foot(), bytes((0xB0, 64, value)), 1.0)
    assert foot.down is (value >= 64)


def test_a_pedal_that_goes_lets_go_of_what_it_held() -> None:
    foot, _ = on_message(Foot(), DOWN, 1.0)
    foot, held = on_time(foot, 1.0 + HOLD_SECONDS)
    foot, gone = lifted(foot, 9.0)
    assert (held, gone, foot.down) == ((HOLD,), (RELEASE,), False)
    assert lifted(Foot(), 1.0)[1] == ()


messages = st.one_of(
    st.binary(max_size=4),
    st.sampled_from([DOWN, UP, NOTE_DOWN, NOTE_UP, PROGRAM, CLOCK, SENSING, TICK]),
)


@given(
    st.lists(st.tuples(st.floats(0.001, 2), messages), max_size=60),
    st.builds(Setting, st.sampled_from([None, 64, 11]), st.sampled_from([None, 60]), st.booleans()),
)
def test_any_bytes_leave_holds_and_releases_in_turn(gaps: list[tuple[float, bytes]], setting: Setting) -> None:
    now, timed = 0.0, []
    for gap, message in gaps:
        now += gap
        timed.append((now, message))
    held = [gesture for _, gesture in played(timed, setting) if gesture is not TAP]
    assert held == [HOLD, RELEASE] * (len(held) // 2) + [HOLD] * (len(held) % 2)


@given(st.lists(st.tuples(st.floats(DEBOUNCE_SECONDS * 1.01, HOLD_SECONDS * 0.99), st.booleans()), max_size=40))
def test_presses_shorter_than_a_hold_are_taps_and_nothing_else(presses: list[tuple[float, bool]]) -> None:
    now, timed = 1.0, []
    for length, _ in presses:
        timed += [(now, DOWN), (now + length, UP)]
        now += length + 1
    assert [gesture for _, gesture in played(timed)] == [TAP] * len(presses)
