"""The one table of orders: keys, pedal gestures, typed words and help are views of it."""

from __future__ import annotations

from dataclasses import dataclass
from enum import Enum

from caller.transport.foot import Gesture


class Order(Enum):
    GO = "go"
    SLOWER = "slower"
    FASTER = "faster"
    HALF = "half"
    SLOW_ON = "slow-on"
    SLOW_OFF = "slow-off"
    SECTION_AGAIN = "section-again"
    TOP = "top"
    HELP = "help"
    QUIT = "quit"


@dataclass(frozen=True, slots=True)
class OrderEntry:
    """keys: Textual's key names, the first shown in help. gesture: of the pedal, or None. typed: what is typed in plain
    mode, the first shown. tells: one plain sentence on what it does."""

    order: Order
    title: str
    keys: tuple[str, ...]
    gesture: Gesture | None
    typed: tuple[str, ...]
    tells: str


ORDERS: tuple[OrderEntry, ...] = (
    OrderEntry(
        Order.GO,
        "Start, pause, go on",
        ("space", "enter", "pagedown"),
        Gesture.TAP,
        ("go", "pause", "start"),
        "Starts; stops at once; goes on from the bar, counted in.",
    ),
    OrderEntry(
        Order.SLOWER, "Slower", ("minus", "left", "down"), None, ("slower", "-"), "4 counts a minute slower, at once."
    ),
    OrderEntry(
        Order.FASTER,
        "Faster",
        ("plus", "equals_sign", "right", "up"),
        None,
        ("faster", "+"),
        "4 counts a minute faster, at once.",
    ),
    OrderEntry(Order.HALF, "Half speed", ("h", "pageup"), None, ("half",), "Half speed; once more, full speed again."),
    OrderEntry(Order.SLOW_ON, "Slow down", (), Gesture.HOLD, ("slow",), "Three quarters of the speed while it lasts."),
    OrderEntry(Order.SLOW_OFF, "Up to speed", (), Gesture.RELEASE, ("full",), "Back to the speed before."),
    OrderEntry(
        Order.SECTION_AGAIN,
        "Section again",
        ("a", "backspace"),
        None,
        ("again", "a"),
        "From the start of this section, counted in.",
    ),
    OrderEntry(Order.TOP, "From the top", ("t", "home"), None, ("top",), "The whole dance from its first step."),
    OrderEntry(Order.HELP, "Help", ("question_mark", "f1"), None, ("help", "?"), "Shows every order."),
    OrderEntry(Order.QUIT, "Leave", ("q", "ctrl+q"), None, ("quit", "leave", "q"), "Ends the class."),
)

_BY_GESTURE = {entry.gesture: entry.order for entry in ORDERS if entry.gesture is not None}
_BY_KEY = {key: entry.order for entry in ORDERS for key in entry.keys}
_TYPED = {word: entry.order for entry in ORDERS for word in entry.typed}


def order_of_gesture(gesture: Gesture) -> Order:
    return _BY_GESTURE[gesture]


def order_of_key(key: str) -> Order | None:
    """The order of one of Textual's key names, None where it has none."""
    return _BY_KEY.get(key)


def order_typed(line: str) -> Order | None:
    """The order of a typed line, in any case; None where it is none."""
    return _TYPED.get(line.strip().lower())
