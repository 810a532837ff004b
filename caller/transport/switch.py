"""What a pedal sends: MIDI bytes to edges of a switch. Pure; survives any bytes.

Conventions: a message is whole, its status byte first (running status undone); channels don't matter. A controller is
down from 64 up (MIDI 1.0 Detailed Specification, Table 3: control change 64, 0 to 63 off, 64 to 127 on); a note is down
from its note-on to its note-off, and a note-on of velocity 0 is one; a program change comes once a press and is never
lifted.
"""

from __future__ import annotations

from dataclasses import dataclass
from enum import Enum

DOWN_FROM = 64
# Controllers of the same table.
SUSTAIN, SOSTENUTO, SOFT = 64, 66, 67

_NOTE_OFF, _NOTE_ON, _CONTROL, _PROGRAM = 0x80, 0x90, 0xB0, 0xC0
_LENGTHS = {_NOTE_OFF: 3, _NOTE_ON: 3, _CONTROL: 3, _PROGRAM: 2}


class SwitchKind(Enum):
    CONTROL = "control"
    NOTE = "note"
    PROGRAM = "program"


_KINDS = {
    _NOTE_OFF: SwitchKind.NOTE,
    _NOTE_ON: SwitchKind.NOTE,
    _CONTROL: SwitchKind.CONTROL,
    _PROGRAM: SwitchKind.PROGRAM,
}


@dataclass(frozen=True, slots=True)
class Switch:
    """One switch of a pedal. number: of the controller, note or program; None stands for any."""

    kind: SwitchKind
    number: int | None = None

    def covers(self, other: Switch) -> bool:
        return self.kind is other.kind and self.number in (None, other.number)


@dataclass(frozen=True, slots=True)
class Edge:
    """A switch went down or up."""

    switch: Switch
    down: bool


USUAL = (Switch(SwitchKind.CONTROL, SUSTAIN), Switch(SwitchKind.NOTE), Switch(SwitchKind.PROGRAM))


@dataclass(frozen=True, slots=True)
class Setting:
    """What to listen to, and how it behaves.

    latching: it stays on until the next press (None: found out as it is used). inverted: it sends "up" when pressed.
    """

    switches: tuple[Switch, ...] = USUAL
    latching: bool | None = None
    inverted: bool = False

    def hears(self, switch: Switch) -> bool:
        return any(wanted.covers(switch) for wanted in self.switches)

    def edge(self, message: bytes) -> Edge | None:
        """The edge as the foot made it; None for what is not listened to."""
        edge = edge_of(message)
        if edge is None or not self.hears(edge.switch):
            return None
        return Edge(edge.switch, not edge.down) if self.inverted else edge


def edge_of(message: bytes) -> Edge | None:
    """None where a message is no switch's: clock, active sensing, bends, bytes that are no message."""
    status = message[0] & 0xF0 if message else 0
    if len(message) != _LENGTHS.get(status) or any(byte > 127 for byte in message[1:]):
        return None
    return Edge(Switch(_KINDS[status], message[1]), _down(status, message))


def controlled(message: bytes, number: int) -> int | None:
    """The value that a controller is set to, 0 to 127; None where the message does no such thing."""
    if edge_of(message) is None or message[0] & 0xF0 != _CONTROL or message[1] != number:
        return None
    return message[2]


def _down(status: int, message: bytes) -> bool:
    if status == _CONTROL:
        return message[2] >= DOWN_FROM
    return status == _PROGRAM or (status == _NOTE_ON and message[2] > 0)
