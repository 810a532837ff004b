"""MIDI clock's pulses, beside the standard's figures and mido's own messages."""

from __future__ import annotations

from fractions import Fraction
from itertools import pairwise

import mido
import pytest
from hypothesis import given
from hypothesis import strategies as st

from caller.clock.pulses import (
    CLOCK,
    CONTINUE,
    START,
    STOP,
    frame_of_pulse,
    pulse_from,
    sent_with,
    song_position,
)
from caller.clock.timeline import Timeline

RATE = 48_000
tempos = st.fractions(40, 220, max_denominator=4)


def test_the_messages_are_those_that_mido_names() -> None:
    named = {name: mido.Message(name).bin() for name in ("clock", "start", "continue", "stop")}
    assert named == {"clock": CLOCK, "start": START, "continue": CONTINUE, "stop": STOP}


@pytest.mark.parametrize("sixteenth", [0, 1, 127, 128, 16_383])
def test_a_song_position_is_as_mido_writes_it(sixteenth: int) -> None:
    assert song_position(sixteenth * 6 + 5) == bytes(mido.Message("songpos", pos=sixteenth).bin())


def test_beyond_what_can_be_said_the_furthest_is() -> None:
    assert song_position(10**9) == bytes(mido.Message("songpos", pos=16_383).bin())


def test_at_120_pulses_are_20_833_ms_apart_and_never_drift() -> None:
    """24 a quarter: 20.833 ms at 120 (MIDI 1.0; second hand)."""
    timeline = Timeline.at_tempo(Fraction(120), RATE)
    frames = [frame_of_pulse(timeline, pulse) for pulse in range(24_001)]
    assert {later - earlier for earlier, later in pairwise(frames)} == {1000}
    assert pytest.approx(20.833, abs=0.001) == 1000 / RATE * 1000


@given(tempos, tempos, st.integers(0, 200_000), st.integers(-100_000, 400_000))
def test_the_first_pulse_from_a_frame_on_is_the_first(first: Fraction, then: Fraction, splice: int, frame: int) -> None:
    timeline = Timeline.at_tempo(first, RATE).with_tempo(splice, then)
    pulse = pulse_from(timeline, frame)
    assert frame_of_pulse(timeline, pulse - 1) < frame <= frame_of_pulse(timeline, pulse)


def test_a_start_comes_with_the_first_step_and_going_on_names_its_place() -> None:
    assert sent_with(-1, 0, False) == (CLOCK,)
    assert sent_with(0, 0, False) == (START, CLOCK)
    assert sent_with(1, 0, True) == (CLOCK,)
    assert sent_with(16 * 24, 16 * 24, False) == (bytes((0xF2, 64, 0)), CONTINUE, CLOCK)


def test_where_the_first_step_was_missed_it_starts_at_the_next_sixteenth() -> None:
    assert [sent_with(pulse, 0, False) for pulse in (97, 101)] == [(CLOCK,)] * 2
    assert sent_with(102, 0, False) == (bytes((0xF2, 17, 0)), CONTINUE, CLOCK)
