"""A pedal's edges to gestures. Pure: every message comes with its time, and time that passes is told.

Conventions: times in seconds, on any one clock. A change that follows another within DEBOUNCE_SECONDS is the contact
bouncing, unless it still stands when they are over: nothing that lasts is lost.

A tap is a press shorter than HOLD_SECONDS, known when the foot is lifted; a longer press is a hold, from that moment
until it is lifted, and from LONG_SECONDS on a long hold besides. So a tap acts as long after the press as it lasts, at
most HOLD_SECONDS (and at least DEBOUNCE_SECONDS), and nothing ever waits for a second one: that is told as a double
tap in its place, if it was pressed within DOUBLE_SECONDS of the first one's being told, and as a tap and hold if it is
held: that becomes no long one. A program change is a tap at once. Each hold ends in one release, which tells whether it
had become more than a hold; where the pedal goes away under the foot, nobody let go of it to order anything, and it
ends as a long one does.

A latching pedal sends on and off on alternate presses: each of its edges is a tap at once, and it can't be held. Its
setting says so; else it is taken for one after LATCHED_AFTER presses of LATCHED_SECONDS or more without one tap, and
no longer once it is seen to spring back.
"""

from __future__ import annotations

from dataclasses import dataclass, replace
from enum import Enum

from caller.transport.switch import Setting, Switch, SwitchKind

HOLD_SECONDS = 0.35
LONG_SECONDS = 1.5
DOUBLE_SECONDS = 0.4
DEBOUNCE_SECONDS = 0.05
LATCHED_SECONDS = 1.0
LATCHED_AFTER = 2

_NEVER = float("-inf")


class Gesture(Enum):
    TAP = "tap"
    DOUBLE_TAP = "double tap"
    HOLD = "hold"
    LONG_HOLD = "long hold"
    RELEASE = "release"  # after a hold that did not become a long one
    LONG_RELEASE = "long release"
    TAP_AND_HOLD = "tap and hold"
    TAP_AND_RELEASE = "tap and release"  # after a tap and hold


Gestures = tuple[Gesture, ...]

# What a press that goes on becomes after what it is, and how long after it was pressed.
_HOLDS = {None: (Gesture.HOLD, HOLD_SECONDS), Gesture.HOLD: (Gesture.LONG_HOLD, LONG_SECONDS)}


_RELEASES = {
    Gesture.HOLD: Gesture.RELEASE,
    Gesture.LONG_HOLD: Gesture.LONG_RELEASE,
    Gesture.TAP_AND_HOLD: Gesture.TAP_AND_RELEASE,
}

SUSTAIN_PEDAL = Setting()


@dataclass(frozen=True, slots=True)
class FootState:
    """Where the pedal stands.

    pressed: the switch that is down, since when; bouncing is over. says: the same as the contact said last, at
    said_at. held: the hold of this press that was told last. tapped: when the last tap was told, if it was no double
    one. programmed: of the last program change. springs: seen to come up by itself (True), taken for latching (False),
    not yet known (None); long_presses: so many before the first tap.
    """

    setting: Setting = SUSTAIN_PEDAL
    pressed: Switch | None = None
    since: float = _NEVER
    says: Switch | None = None
    said_at: float = _NEVER
    held: Gesture | None = None
    tapped: float = _NEVER
    programmed: float = _NEVER
    springs: bool | None = None
    long_presses: int = 0

    @property
    def down(self) -> bool:
        return self.pressed is not None

    @property
    def latching(self) -> bool:
        return self.springs is False if self.setting.latching is None else self.setting.latching


def on_message(foot: FootState, message: bytes, now: float) -> tuple[FootState, Gestures]:
    """The foot after one message, and what it did. Survives any bytes."""
    foot, told = on_time(foot, now)
    edge = foot.setting.edge(message)
    if edge is None:
        return foot, told
    if edge.switch.kind is SwitchKind.PROGRAM:
        foot, more = _programmed(foot, now)
    elif edge.down:
        foot, more = _says(foot, foot.says or edge.switch, now)
    elif edge.switch == foot.says:
        foot, more = _says(foot, None, now)
    else:
        foot, more = _unmatched(foot, now)
    return foot, told + more


def on_time(foot: FootState, now: float) -> tuple[FootState, Gestures]:
    """The foot as time passes: bouncing is over, a press becomes a hold, a hold a long one."""
    foot, told = _settled(foot, now)
    while (due := _hold_due(foot, now)) is not None:
        foot, told = replace(foot, held=due, tapped=_NEVER), (*told, due)
    return foot, told


def lifted(foot: FootState) -> tuple[FootState, Gestures]:
    """The pedal is gone (unplugged): whatever was held is let go. What is known of it is kept."""
    gone = FootState(foot.setting, springs=foot.springs, long_presses=foot.long_presses)
    return gone, (Gesture.LONG_RELEASE,) if foot.held else ()


def _hold_due(foot: FootState, now: float) -> Gesture | None:
    """The next hold of the press under way, where its time has come."""
    after = _HOLDS.get(foot.held) if foot.down and not foot.latching else None
    if after is None or now - foot.since < after[1]:
        return None
    return Gesture.TAP_AND_HOLD if after[0] is Gesture.HOLD and _follows_a_tap(foot, foot.since) else after[0]


def _follows_a_tap(foot: FootState, pressed: float) -> bool:
    return 0 <= pressed - foot.tapped <= DOUBLE_SECONDS


def _tap(foot: FootState, pressed: float, now: float) -> tuple[FootState, Gestures]:
    """A tap told now, whose press was at ``pressed``: a second one soon after a first is a double one."""
    if _follows_a_tap(foot, pressed):
        return replace(foot, tapped=_NEVER), (Gesture.DOUBLE_TAP,)
    return replace(foot, tapped=now), (Gesture.TAP,)


def _programmed(foot: FootState, now: float) -> tuple[FootState, Gestures]:
    if now - foot.programmed < DEBOUNCE_SECONDS:
        return foot, ()
    return _tap(replace(foot, programmed=now), now, now)


def _unmatched(foot: FootState, now: float) -> tuple[FootState, Gestures]:
    """An "up" with no "down" before it: the first press of a latching pedal that stood on; else nothing."""
    if foot.latching and foot.since == _NEVER:
        return _tap(replace(foot, since=now), now, now)
    return foot, ()


def _says(foot: FootState, switch: Switch | None, now: float) -> tuple[FootState, Gestures]:
    if switch == foot.says:
        return foot, ()
    return _settled(replace(foot, says=switch, said_at=now), now)


def _settled(foot: FootState, now: float) -> tuple[FootState, Gestures]:
    """Takes what the contact says for true once bouncing is over: from when it was said, or from then."""
    if foot.says == foot.pressed or now - foot.since < DEBOUNCE_SECONDS:
        return foot, ()
    at = max(foot.said_at, foot.since + DEBOUNCE_SECONDS)
    return _up(foot, at) if foot.down else _down(foot, at)


def _down(foot: FootState, at: float) -> tuple[FootState, Gestures]:
    down = replace(foot, pressed=foot.says, since=at, held=None)
    return _tap(down, at, at) if foot.latching else (down, ())


def _up(foot: FootState, at: float) -> tuple[FootState, Gestures]:
    seconds = at - foot.since
    up = replace(foot, pressed=None, since=at, held=None)
    if foot.setting.latching or (foot.latching and seconds >= HOLD_SECONDS):
        return _tap(up, at, at)
    if foot.latching:  # it springs back after all; its tap was told when it went down
        return replace(up, springs=True), ()
    if foot.held is None:
        return _tap(replace(up, springs=True), foot.since, at)
    return _after_a_hold(replace(up, tapped=_NEVER), seconds), (_RELEASES[foot.held],)


def _after_a_hold(foot: FootState, seconds: float) -> FootState:
    if foot.springs or seconds < LATCHED_SECONDS:
        return foot
    long_presses = foot.long_presses + 1
    return replace(foot, long_presses=long_presses, springs=False if long_presses >= LATCHED_AFTER else None)
