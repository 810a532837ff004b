"""The one table of orders: keys, pedal gestures, help and the command line are views of it."""

from __future__ import annotations

from dataclasses import dataclass
from enum import Enum


class Order(Enum):
    GO = "go"  # start, pause, go on
    SLOWER = "slower"
    FASTER = "faster"
    HALF = "half"
    SLOW_ON = "slow-on"  # while the pedal is held
    SLOW_OFF = "slow-off"
    SECTION_AGAIN = "section-again"
    TOP = "top"
    HELP = "help"
    QUIT = "quit"


@dataclass(frozen=True, slots=True)
class OrderEntry:
    """keys: Textual's key names, the first shown in help. gesture: "tap", "hold", "release" or "". typed: what is typed in
    plain mode."""

    order: Order
    title: str
    keys: tuple[str, ...]
    gesture: str
    typed: tuple[str, ...]
    tells: str
