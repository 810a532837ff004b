"""A pedal's messages to gestures. Pure: every message comes with its time, and time that passes is told.

Conventions: times in seconds, on any one clock; messages are MIDI 1.0 bytes (status, data). A pedal is down from 64 up
(MIDI 1.0 Detailed Specification, Table 3: control change 64, 0 to 63 off, 64 to 127 on). Edges that follow a change
within DEBOUNCE_SECONDS are the contact bouncing.

A tap is a press shorter than HOLD_SECONDS, and is known when the foot is lifted; a longer one holds, from that moment
until it is lifted. So a tap acts the length of the tap after the press, and nothing ever waits for a second one. A
latching pedal sends on and off on alternate presses and can't be held: each of its edges is a tap. A program change is
a tap.
"""

from __future__ import annotations

from dataclasses import dataclass, replace
from enum import Enum

HOLD_SECONDS = 0.35
DEBOUNCE_SECONDS = 0.05
DOWN_FROM = 64
SUSTAIN = 64

_NOTE_OFF, _NOTE_ON, _CONTROL, _PROGRAM = 0x80, 0x90, 0xB0, 0xC0


class Gesture(Enum):
    TAP = "tap"
    HOLD = "hold"
    RELEASE = "release"


@dataclass(frozen=True, slots=True)
class Setting:
    """What to listen to. controller: of a control change, None = any; note: None = any; latching: see above."""

    controller: int | None = SUSTAIN
    note: int | None = None
    latching: bool = False


@dataclass(frozen=True, slots=True)
class Foot:
    """Where the pedal stands. since: of the last change, -inf before any. held: the hold has been told."""

    setting: Setting = Setting()
    down: bool = False
    since: float = float("-inf")
    held: bool = False


Gestures = tuple[Gesture, ...]


def _edge(setting: Setting, message: bytes) -> bool | None:
    """Whether a message puts the pedal down or up; None where it says nothing of it (clock, active sensing, another
    controller, bytes that are no message)."""
    if len(message) < 3 or message[1] > 127 or message[2] > 127:
        return None
    kind, number, value = message[0] & 0xF0, message[1], message[2]
    if kind == _CONTROL and setting.controller in (None, number):
        return value >= DOWN_FROM
    if kind in (_NOTE_ON, _NOTE_OFF) and setting.note in (None, number):
        return kind == _NOTE_ON and value > 0
    return None


def on_message(foot: Foot, message: bytes, now: float) -> tuple[Foot, Gestures]:
    """The foot after one message, and what it did. Survives any bytes."""
    if len(message) >= 2 and message[0] & 0xF0 == _PROGRAM and message[1] <= 127:
        bouncing = now - foot.since < DEBOUNCE_SECONDS
        return (foot, ()) if bouncing else (replace(foot, since=now), (Gesture.TAP,))
    down = _edge(foot.setting, message)
    if down is None or down is foot.down:
        return foot, ()
    if now - foot.since < DEBOUNCE_SECONDS:
        return foot, ()
    if foot.setting.latching:
        return replace(foot, down=down, since=now), (Gesture.TAP,)
    if down:
        return replace(foot, down=True, since=now, held=False), ()
    held = foot.held or now - foot.since >= HOLD_SECONDS
    told: Gestures = (Gesture.RELEASE,) if foot.held else (Gesture.HOLD, Gesture.RELEASE) if held else (Gesture.TAP,)
    return replace(foot, down=False, since=now, held=False), told


def on_time(foot: Foot, now: float) -> tuple[Foot, Gestures]:
    """The foot as time passes: a press becomes a hold."""
    if foot.down and not foot.held and not foot.setting.latching and now - foot.since >= HOLD_SECONDS:
        return replace(foot, held=True), (Gesture.HOLD,)
    return foot, ()


def lifted(foot: Foot, now: float) -> tuple[Foot, Gestures]:
    """The pedal is gone (unplugged): whatever was held is let go."""
    return replace(foot, down=False, since=now, held=False), (Gesture.RELEASE,) if foot.held else ()
