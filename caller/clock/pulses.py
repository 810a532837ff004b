"""MIDI clock for lights and players: which message is due with which pulse.

Conventions: a count is a quarter note; 24 pulses a quarter, numbered from the dance's first step (pulse 0), those of
the count-in negative; song positions are sixteenths, six pulses each (MIDI 1.0 Detailed Specification: system real
time, and song position pointer; second hand). Frames are a timeline's. Pure: nothing here sends.
"""

from __future__ import annotations

from fractions import Fraction
from math import ceil

from caller.clock.timeline import Timeline

PULSES_A_COUNT, PULSES_A_SIXTEENTH = 24, 6
CLOCK, START, CONTINUE, STOP = (bytes((status,)) for status in (0xF8, 0xFA, 0xFB, 0xFC))
FURTHEST_SIXTEENTH = (1 << 14) - 1

_SONG_POSITION = 0xF2


def frame_of_pulse(timeline: Timeline, pulse: int) -> int:
    return timeline.frame_of(Fraction(pulse, PULSES_A_COUNT))


def pulse_from(timeline: Timeline, frame: int) -> int:
    """The first pulse that falls on a frame or after it."""
    pulse = ceil(timeline.count_at(frame) * PULSES_A_COUNT)
    # The count at a frame is exact, the frame of a count is rounded: the pulse before may round up to this frame.
    return pulse - 1 if frame_of_pulse(timeline, pulse - 1) >= frame else pulse


def song_position(pulse: int) -> bytes:
    """Where in the song, in whole sixteenths; beyond what can be said, the furthest that can."""
    sixteenth = min(max(pulse // PULSES_A_SIXTEENTH, 0), FURTHEST_SIXTEENTH)
    return bytes((_SONG_POSITION, sixteenth & 0x7F, sixteenth >> 7))


def sets_off(pulse: int, first: int, running: bool) -> bool:
    """Whether whoever follows is set going with this pulse: with the first step's, or, where that was missed, with the
    next that a song position can name."""
    return not running and pulse >= first and (pulse == first or pulse % PULSES_A_SIXTEENTH == 0)


def sent_with(pulse: int, first: int, running: bool) -> tuple[bytes, ...]:
    """All that is sent with a pulse. first: that of the first step danced; running: whoever follows has been set
    going."""
    if not sets_off(pulse, first, running):
        return (CLOCK,)
    return (START, CLOCK) if pulse == 0 else (song_position(pulse), CONTINUE, CLOCK)
