"""A pedal's bytes to gestures: playbooks with their times, and laws for any bytes."""

from __future__ import annotations

from itertools import pairwise

import pytest
from hypothesis import given
from hypothesis import strategies as st

from caller.transport.foot import (
    DEBOUNCE_SECONDS,
    DOUBLE_SECONDS,
    HOLD_SECONDS,
    LONG_SECONDS,
    FootState,
    Gesture,
    lifted,
    on_message,
    on_time,
)
from caller.transport.switch import Setting, Switch, SwitchKind
from tests.fakes.pedal import DOWN, UP

TAP, DOUBLE_TAP, HOLD = Gesture.TAP, Gesture.DOUBLE_TAP, Gesture.HOLD
LONG_HOLD, RELEASE, LONG_RELEASE = Gesture.LONG_HOLD, Gesture.RELEASE, Gesture.LONG_RELEASE
TAP_AND_HOLD, TAP_AND_RELEASE = Gesture.TAP_AND_HOLD, Gesture.TAP_AND_RELEASE
TICK = b""  # time passes and nothing comes
NOTE_DOWN, NOTE_UP, NOTE_SOFT = bytes((0x91, 60, 90)), bytes((0x81, 60, 0)), bytes((0x91, 60, 0))
OTHER_DOWN, OTHER_UP = bytes((0x90, 62, 90)), bytes((0x80, 62, 0))
C80_DOWN, C80_UP = bytes((0xB3, 80, 100)), bytes((0xB3, 80, 3))
PROGRAM, NEXT_PROGRAM = bytes((0xC0, 5)), bytes((0xC0, 6))
CLOCK, SENSING = b"\xf8", b"\xfe"
USUAL, LATCHING, SPRINGING = Setting(), Setting(latching=True), Setting(latching=False)
LEARNT = Setting((Switch(SwitchKind.CONTROL, 80),))
INVERTED = Setting(latching=False, inverted=True)

Timed = list[tuple[float, bytes]]


def played(messages: Timed, setting: Setting = USUAL) -> list[tuple[float, Gesture]]:
    foot, made = FootState(setting), []
    for now, message in messages:
        foot, gestures = on_time(foot, now) if message == TICK else on_message(foot, message, now)
        made += [(now, gesture) for gesture in gestures]
    return made


def ticks(*times: float) -> Timed:
    return [(time, TICK) for time in times]


LONG = (HOLD, LONG_HOLD, LONG_RELEASE)

PLAYBOOKS = [
    ("a tap, known when the foot is lifted", USUAL, [(1, DOWN), (1.2, UP)], [(1.2, TAP)]),
    ("a hold, known while it lasts", USUAL, [(1, DOWN), *ticks(1.3, 1.4, 2), (2.4, UP)], [(1.4, HOLD), (2.4, RELEASE)]),
    ("a long hold, known while it lasts", USUAL, [(1, DOWN), *ticks(1.3, 1.4, 2.4, 2.5, 2.6), (5, UP)],
        [(1.4, HOLD), (2.5, LONG_HOLD), (5, LONG_RELEASE)]),
    ("a hold that nobody looked at meanwhile", USUAL, [(1, DOWN), (2, UP)], [(2, HOLD), (2, RELEASE)]),
    ("a long hold that nobody looked at meanwhile", USUAL, [(1, DOWN), (5, UP)], [(5, g) for g in LONG]),
    ("a first hold, a second one, a tap", USUAL,
        [(1, DOWN), (1.9, UP), (3, DOWN), (3.9, UP), (5, DOWN), (5.1, UP)],
        [(1.9, HOLD), (1.9, RELEASE), (3.9, HOLD), (3.9, RELEASE), (5.1, TAP)]),
    ("a value said again", USUAL, [(1, DOWN), (1.1, DOWN), (1.2, DOWN), (1.3, UP), (1.4, UP)], [(1.3, TAP)]),
    ("stuck down", USUAL, [(1, DOWN), *ticks(*range(2, 50))], [(2, HOLD), (3, LONG_HOLD)]),

    ("two taps", USUAL, [(1, DOWN), (1.1, UP), (1.6, DOWN), (1.7, UP)], [(1.1, TAP), (1.7, TAP)]),
    ("a double tap: the first one acts at once", USUAL, [(1, DOWN), (1.1, UP), *ticks(1.2), (1.3, DOWN), (1.4, UP)],
        [(1.1, TAP), (1.4, DOUBLE_TAP)]),
    ("a third one soon after begins anew", USUAL,
        [(t, m) for n in range(4) for t, m in ((1 + n / 4, DOWN), (1.1 + n / 4, UP))],
        [(1.1, TAP), (1.35, DOUBLE_TAP), (1.6, TAP), (1.85, DOUBLE_TAP)]),
    ("a slow second tap is a double one if it was pressed in time", USUAL,
        [(1, DOWN), (1.3, UP), (1.69, DOWN), (2.02, UP)], [(1.3, TAP), (2.02, DOUBLE_TAP)]),
    ("a tap, then held: a tap and hold, which becomes no long one", USUAL,
        [(1, DOWN), (1.1, UP), (1.2, DOWN), *ticks(1.6, 3), (3.8, UP)],
        [(1.1, TAP), (1.6, Gesture.TAP_AND_HOLD), (3.8, Gesture.TAP_AND_RELEASE)]),
    ("a tap, held for a moment, a tap", USUAL,
        [(1, DOWN), (1.1, UP), (1.16, DOWN), (1.52, UP), (1.58, DOWN), (1.7, UP)],
        [(1.1, TAP), (1.52, Gesture.TAP_AND_HOLD), (1.52, Gesture.TAP_AND_RELEASE), (1.7, TAP)]),

    ("bouncing on the way down", USUAL, [(1, DOWN), (1.01, UP), (1.02, DOWN), (1.2, UP)], [(1.2, TAP)]),
    ("bouncing on the way up", USUAL, [(1, DOWN), (1.2, UP), (1.21, DOWN), (1.22, UP), *ticks(1.3, 9)], [(1.2, TAP)]),
    ("a tap shorter than bouncing is one tap, not a hold", USUAL, [(1, DOWN), (1.001, UP), *ticks(1.02, 1.06, 9)],
        [(1.06, TAP)]),
    ("the same, looked at late", USUAL, [(1, DOWN), (1.001, UP), *ticks(9)], [(9, TAP)]),
    ("down again at once, and held", USUAL, [(1, DOWN), (1.2, UP), (1.22, DOWN), *ticks(1.3, 1.5, 1.7), (2, UP)],
        [(1.2, TAP), (1.7, Gesture.TAP_AND_HOLD), (2, Gesture.TAP_AND_RELEASE)]),
    ("a tap, and a while later held: a hold", USUAL, [(1, DOWN), (1.1, UP), (1.6, DOWN), *ticks(2), (2.2, UP)],
        [(1.1, TAP), (2, HOLD), (2.2, RELEASE)]),

    ("a press that bounces is as old as its bouncing's end, however late it is looked at", USUAL,
        [(1, DOWN), (1.2, UP), (1.22, DOWN), *ticks(1.4, 1.59, 1.61), (1.8, UP)],
        [(1.2, TAP), (1.61, Gesture.TAP_AND_HOLD), (1.8, Gesture.TAP_AND_RELEASE)]),

    ("latching: each edge at once", LATCHING, [(1, DOWN), *ticks(2), (3, UP), (4, DOWN)],
        [(1, TAP), (3, TAP), (4, TAP)]),
    ("latching: two presses in quick turn", LATCHING, [(1, DOWN), (1.2, UP), *ticks(9)], [(1, TAP), (1.2, DOUBLE_TAP)]),
    ("latching: it stood on before", LATCHING, [(1, UP), (3, DOWN)], [(1, TAP), (3, TAP)]),
    ("latching: it stood on before, twice", LATCHING, [(1, UP), (1.3, DOWN)], [(1, TAP), (1.3, DOUBLE_TAP)]),
    ("latching: an up alone is a press once", LATCHING, [(1, UP), (3, UP), (5, DOWN), (7, UP), (9, UP)],
        [(1, TAP), (5, TAP), (7, TAP)]),
    ("latching: bouncing", LATCHING, [(1, DOWN), (1.01, UP), (1.02, DOWN), (3, UP)], [(1, TAP), (3, TAP)]),
    ("latching is found out after two long presses without a tap", USUAL,
        [(1, DOWN), (3, UP), (5, DOWN), (7, UP), (9, DOWN), (11, UP), (13, DOWN)],
        [*((3, g) for g in LONG), *((7, g) for g in LONG), (9, TAP), (11, TAP), (13, TAP)]),
    ("what springs back after all is not latching", USUAL,
        [(1, DOWN), (3, UP), (5, DOWN), (7, UP), (9, DOWN), (9.2, UP), *ticks(9.4), (11, DOWN), (12.1, UP)],
        [*((3, g) for g in LONG), *((7, g) for g in LONG), (9, TAP), (12.1, HOLD), (12.1, RELEASE)]),
    ("one tap, and holds are holds for good", USUAL,
        [(1, DOWN), (1.1, UP), (2, DOWN), (3.2, UP), (5, DOWN), (6.2, UP), (8, DOWN), (9.2, UP)],
        [(1.1, TAP), *((at, g) for at in (3.2, 6.2, 9.2) for g in (HOLD, RELEASE))]),
    ("known to spring back, however it is held", SPRINGING,
        [(1, DOWN), (3, UP), (5, DOWN), (7, UP), (8, DOWN), (10, UP)], [(at, g) for at in (3, 7, 10) for g in LONG]),

    ("a note", USUAL, [(1, NOTE_DOWN), (1.2, NOTE_UP)], [(1.2, TAP)]),
    ("a note let go by velocity 0", USUAL, [(1, NOTE_DOWN), (1.2, NOTE_SOFT)], [(1.2, TAP)]),
    ("two notes at a time are one foot", USUAL,
        [(1, NOTE_DOWN), (1.1, OTHER_DOWN), (1.2, OTHER_UP), *ticks(1.5), (2, NOTE_UP)], [(1.5, HOLD), (2, RELEASE)]),
    ("from one switch straight to the next", USUAL,
        [(1, NOTE_DOWN), (1.2, NOTE_UP), (1.21, OTHER_DOWN), (1.4, OTHER_UP)], [(1.2, TAP), (1.4, DOUBLE_TAP)]),
    ("a program change, each time", USUAL, [(1, PROGRAM), (2, PROGRAM), (3, NEXT_PROGRAM)],
        [(1, TAP), (2, TAP), (3, TAP)]),
    ("a program change that comes twice", USUAL, [(1, PROGRAM), (1.01, PROGRAM)], [(1, TAP)]),
    ("two program changes in quick turn", USUAL, [(1, PROGRAM), (1.3, NEXT_PROGRAM), (1.5, PROGRAM)],
        [(1, TAP), (1.3, DOUBLE_TAP), (1.5, TAP)]),
    ("another controller", USUAL, [(1, C80_DOWN), (1.2, C80_UP)], []),
    ("a controller that was learnt", LEARNT, [(1, C80_DOWN), (1.2, C80_UP)], [(1.2, TAP)]),
    ("once one is learnt, the usual ones are not listened to", LEARNT,
        [(1, DOWN), (1.2, UP), (2, PROGRAM), (3, NOTE_DOWN)], []),
    ("inverted: a tap", INVERTED, [(1, UP), (1.2, DOWN)], [(1.2, TAP)]),
    ("inverted: a hold", INVERTED, [(1, UP), *ticks(1.5), (2, DOWN)], [(1.5, HOLD), (2, RELEASE)]),
    ("clock and sensing in between", USUAL, [(1, DOWN), (1.05, CLOCK), (1.1, SENSING), (1.2, UP)], [(1.2, TAP)]),
    ("an up that no down came before", USUAL, [(1, UP), (2, NOTE_UP), *ticks(3)], []),
]  # fmt: skip


@pytest.mark.parametrize(("name", "setting", "messages", "made"), PLAYBOOKS, ids=[p[0] for p in PLAYBOOKS])
def test_playbook(name: str, setting: Setting, messages: Timed, made: list[tuple[float, Gesture]]) -> None:
    assert played(messages, setting) == made


@pytest.mark.parametrize("seconds", [HOLD_SECONDS, LONG_SECONDS])
def test_a_pedal_that_goes_lets_go_of_what_it_held_and_nobody_meant_anything_by_it(seconds: float) -> None:
    foot, _ = on_message(FootState(), DOWN, 0.0)
    foot, held = on_time(foot, seconds)
    foot, gone = lifted(foot)
    assert (len(held), gone, foot.down) == (1 + (seconds == LONG_SECONDS), (LONG_RELEASE,), False)
    assert lifted(foot) == (foot, ())


def test_what_was_found_out_of_a_pedal_outlasts_its_being_unplugged() -> None:
    foot = FootState()
    for now, message in ((1, DOWN), (3, UP), (5, DOWN), (7, UP)):
        foot, _ = on_message(foot, message, now)
    assert foot.latching
    assert lifted(foot)[0].latching


messages = st.one_of(
    st.binary(max_size=4),
    st.sampled_from([DOWN, UP, NOTE_DOWN, NOTE_UP, OTHER_DOWN, OTHER_UP, PROGRAM, CLOCK, SENSING, TICK]),
)
switches = st.builds(Switch, st.sampled_from(SwitchKind), st.one_of(st.none(), st.sampled_from([60, 62, 64, 5])))
settings = st.one_of(
    st.sampled_from([USUAL, LATCHING, SPRINGING, INVERTED]),
    st.builds(Setting, st.lists(switches, max_size=3).map(tuple), st.sampled_from([None, True, False]), st.booleans()),
)
gaps = st.one_of(st.floats(0, 0.1), st.floats(0.1, 2), st.floats(0.9, 5))


def at_times(steps: Timed) -> Timed:
    now, timed = 0.0, []
    for gap, message in steps:
        now += gap
        timed.append((now, message))
    return timed


@given(st.lists(st.tuples(gaps, messages), max_size=60), settings)
def test_any_bytes_give_every_hold_one_release_that_tells_how_long_it_was(steps: Timed, setting: Setting) -> None:
    ended: list[list[Gesture]] = [[]]
    for gesture in [gesture for _, gesture in played(at_times(steps), setting) if gesture not in (TAP, DOUBLE_TAP)]:
        ended[-1].append(gesture)
        if gesture in (RELEASE, LONG_RELEASE, TAP_AND_RELEASE):
            ended.append([])
    *whole, under_way = ended
    assert all(
        one in ([HOLD, RELEASE], [HOLD, LONG_HOLD, LONG_RELEASE], [TAP_AND_HOLD, TAP_AND_RELEASE]) for one in whole
    )
    assert under_way in ([], [HOLD], [HOLD, LONG_HOLD], [TAP_AND_HOLD])


@given(st.lists(st.tuples(gaps, messages), max_size=60), settings)
def test_any_bytes_give_no_double_tap_but_right_after_a_tap(steps: Timed, setting: Setting) -> None:
    made = [gesture for _, gesture in played(at_times(steps), setting)]
    assert all(before is TAP for before, gesture in pairwise([HOLD, *made]) if gesture is DOUBLE_TAP)


@given(st.lists(st.tuples(st.floats(allow_nan=True), st.binary(max_size=6)), max_size=30), settings)
def test_any_bytes_at_any_times_are_survived(timed: Timed, setting: Setting) -> None:
    """Even times that run back: a gesture is made or not, nothing is raised."""
    assert all(isinstance(gesture, Gesture) for _, gesture in played(timed, setting))


short = st.floats(0, HOLD_SECONDS * 0.99)
apart = st.one_of(st.floats(DEBOUNCE_SECONDS * 2, DOUBLE_SECONDS * 0.9), st.floats(DOUBLE_SECONDS * 1.1, 2))


@given(st.lists(st.tuples(short, apart), max_size=40), st.floats(0.02, 0.2))
def test_a_press_shorter_than_a_hold_is_one_tap_told_in_time(presses: list[tuple[float, float]], look: float) -> None:
    """However short, however seldom it is looked at; a tap is told once lifted, and past bouncing, at the next look,
    whether or not another follows: so never later than its press and a hold's time. Every second one that is pressed
    soon after a single one is double."""
    now, told_at, timed, latest, expected = 1.0, 0.0, [], [], []
    for length, pause in presses:
        lifted_at = now + max(length, DEBOUNCE_SECONDS)
        timed += [(now, DOWN), (now + length, UP)]
        double = bool(expected) and expected[-1] is TAP and now - told_at <= DOUBLE_SECONDS
        expected.append(DOUBLE_TAP if double else TAP)
        told_at = lifted_at
        latest.append(lifted_at + look)
        now = lifted_at + pause
    timed = sorted([*timed, *ticks(*(n * look for n in range(int((now + 1) / look))))], key=lambda one: one[0])
    made = played(timed)
    assert [gesture for _, gesture in made] == expected
    assert all(at <= last + 1e-9 for (at, _), last in zip(made, latest, strict=True))


@given(st.lists(st.floats(0.001, 0.012), min_size=0, max_size=3), st.floats(0.06, 0.3), st.floats(0.5, 1.5))
def test_a_contact_that_bounces_makes_no_gesture_of_its_own(bounces: list[float], tap: float, pause: float) -> None:
    """As contacts do: each change is followed, within the debouncing time, by others, the last of them as the first."""

    def changed(at: float, to: bytes, back: bytes) -> Timed:
        made: Timed = [(at, to)]
        for bounce in bounces:
            made += [(made[-1][0] + bounce / 2, back), (made[-1][0] + bounce, to)]
        return made

    timed = [*changed(1, DOWN, UP), *changed(1 + tap, UP, DOWN), *changed(1 + tap + pause, DOWN, UP)]
    timed += ticks(1 + tap + pause + 0.4)
    assert [gesture for _, gesture in played(timed)] == [TAP, HOLD]
