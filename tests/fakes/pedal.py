"""MIDI ports and pedals driven by hand."""

from __future__ import annotations

from dataclasses import dataclass, field

from caller.rig.pedal.port import Message
from caller.transport.unit import Footwork, Unit, UnitState

DOWN, UP = bytes((0xB0, 64, 127)), bytes((0xB0, 64, 0))


@dataclass
class HandPort:
    """An input that the test puts messages into."""

    waiting: list[Message] = field(default_factory=list)
    closed: bool = False

    def pending(self, now: float) -> tuple[Message, ...]:
        came, self.waiting = tuple(self.waiting), []
        return came

    def close(self) -> None:
        self.closed = True


@dataclass
class HandPorts:
    """plugged: names that are there. held: names that another program holds. listened: the port that was last opened
    under each name."""

    plugged: list[str] = field(default_factory=list)
    held: set[str] = field(default_factory=set)
    listened: dict[str, HandPort] = field(default_factory=dict)
    closed: bool = False
    asked: int = 0

    def names(self) -> list[str]:
        self.asked += 1
        return list(self.plugged)

    def open(self, name: str) -> HandPort:
        if name in self.held or name not in self.plugged:
            raise OSError(f"{name} can't be opened; another program may hold it")
        self.listened[name] = HandPort()
        return self.listened[name]

    def close(self) -> None:
        self.closed = True

    def send(self, name: str, message: bytes, now: float) -> None:
        self.listened[name].waiting.append((message, now))


@dataclass
class HandPedal:
    """A unit pressed and let go by the test, at times that it says; gestures are made as for a real one."""

    says: str = "on a pedal made by hand"
    standing: UnitState = field(default_factory=lambda: UnitState.on(Unit()))
    made: Footwork = ()
    closed: bool = False

    def press(self, now: float) -> None:
        self.sends(DOWN, now)

    def release(self, now: float) -> None:
        self.sends(UP, now)

    def tap(self, now: float, seconds: float = 0.1) -> None:
        self.press(now)
        self.release(now + seconds)

    def sends(self, message: bytes, now: float) -> None:
        self.standing, made = self.standing.heard(message, now)
        self.made += made

    def poll(self, now: float) -> Footwork:
        self.standing, made = self.standing.later(now)
        told, self.made = self.made + made, ()
        return told

    def close(self) -> None:
        self.closed = True
