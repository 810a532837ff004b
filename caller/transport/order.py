"""The one table of orders: keys, typed words and help are views of it, and pedals are mapped to it."""

from __future__ import annotations

from dataclasses import dataclass
from enum import Enum


class Order(Enum):
    GO = "go"
    STOP_AT_EIGHT = "stop-at-eight"
    SLOWER = "slower"
    FASTER = "faster"
    HALF = "half"
    TAP_TEMPO = "tap-tempo"
    SLOW_ON = "slow-on"
    SLOW_OFF = "slow-off"
    SECTION_AGAIN = "section-again"
    WALL_AGAIN = "wall-again"
    PREVIOUS = "previous"
    NEXT = "next"
    LOOP = "loop"
    LOOP_FROM = "loop-from"
    LOOP_TO = "loop-to"
    TOP = "top"
    MANNER = "manner"
    EASIER = "easier"
    MUTE = "mute"
    COUNT_SOFTER = "count-softer"
    COUNT_LOUDER = "count-louder"
    CALLS_SOFTER = "calls-softer"
    CALLS_LOUDER = "calls-louder"
    MUSIC_SOFTER = "music-softer"
    MUSIC_LOUDER = "music-louder"
    HELP = "help"
    QUIT = "quit"


@dataclass(frozen=True, slots=True)
class OrderEntry:
    """keys: Textual's key names, the first shown in help. typed: what is typed in plain mode, the first shown. tells:
    one plain sentence on what it does."""

    order: Order
    title: str
    keys: tuple[str, ...]
    typed: tuple[str, ...]
    tells: str


ORDERS: tuple[OrderEntry, ...] = (
    OrderEntry(
        Order.GO,
        "Start, pause, go on",
        ("space", "enter", "pagedown"),
        ("go", "pause", "start"),
        "Starts; stops at once; goes on, counted in.",
    ),
    OrderEntry(
        Order.STOP_AT_EIGHT,
        "Pause after the eight",
        ("e",),
        ("eight", "e"),
        "Dances the eight to its end, then pauses; once more, dances on.",
    ),
    OrderEntry(
        Order.SLOWER, "Slower", ("minus", "left", "down"), ("slower", "-"), "4 counts a minute slower, at once."
    ),
    OrderEntry(
        Order.FASTER,
        "Faster",
        ("plus", "equals_sign", "right", "up"),
        ("faster", "+"),
        "4 counts a minute faster, at once.",
    ),
    OrderEntry(Order.HALF, "Half speed", ("h", "pageup"), ("half",), "Half speed; once more, full speed again."),
    OrderEntry(
        Order.TAP_TEMPO, "Tap the tempo", ("b",), ("beat", "b"), "Once on each count; from the third on it holds."
    ),
    OrderEntry(Order.SLOW_ON, "Slow down", (), ("slow",), "Three quarters of the speed while it lasts."),
    OrderEntry(Order.SLOW_OFF, "Up to speed", (), ("full",), "Back to the speed before."),
    OrderEntry(
        Order.SECTION_AGAIN,
        "Section again",
        ("a", "backspace"),
        ("again", "a"),
        "From the start of this section, counted in.",
    ),
    OrderEntry(Order.WALL_AGAIN, "Wall again", ("w",), ("wall", "w"), "From the start of this wall, counted in."),
    OrderEntry(
        Order.PREVIOUS, "Previous section", ("p",), ("previous", "back", "p"), "The section before, counted in."
    ),
    OrderEntry(Order.NEXT, "Next section", ("n",), ("next", "n"), "The section after this one, counted in."),
    OrderEntry(Order.LOOP, "Loop this section", ("l",), ("loop", "l"), "Over and over; once more, dances on after it."),
    OrderEntry(
        Order.LOOP_FROM, "Loop from here", ("left_square_bracket",), ("from",), "Marks where a loop of your own begins."
    ),
    OrderEntry(
        Order.LOOP_TO,
        "Loop to here",
        ("right_square_bracket",),
        ("to",),
        "From the mark to the end of this bar, over and over.",
    ),
    OrderEntry(Order.TOP, "From the top", ("t", "home"), ("top",), "The whole dance from its first step."),
    OrderEntry(
        Order.MANNER,
        "Way of calling",
        ("c",),
        ("manner", "calls", "c"),
        "Ahead, on the count, numbers only, prompts only, quiet: the next of them.",
    ),
    OrderEntry(Order.EASIER, "Easier way", ("o",), ("easier", "option", "o"), "The sheet's options; once more, not."),
    OrderEntry(Order.MUTE, "Mute", ("m",), ("mute", "m"), "Silence, dancing on; once more, sound again."),
    OrderEntry(Order.COUNT_SOFTER, "Count softer", ("1",), ("count softer", "1"), "The count track, by a step."),
    OrderEntry(Order.COUNT_LOUDER, "Count louder", ("2",), ("count louder", "2"), "The count track, by a step."),
    OrderEntry(Order.CALLS_SOFTER, "Calls softer", ("3",), ("calls softer", "3"), "What is spoken, by a step."),
    OrderEntry(Order.CALLS_LOUDER, "Calls louder", ("4",), ("calls louder", "4"), "What is spoken, by a step."),
    OrderEntry(Order.MUSIC_SOFTER, "Music softer", ("5",), ("music softer", "5"), "The recording, by a step."),
    OrderEntry(Order.MUSIC_LOUDER, "Music louder", ("6",), ("music louder", "6"), "The recording, by a step."),
    OrderEntry(Order.HELP, "Help", ("question_mark", "f1"), ("help", "?"), "Shows every order."),
    OrderEntry(Order.QUIT, "Leave", ("q", "ctrl+q"), ("quit", "leave", "q"), "Ends the class."),
)

_BY_KEY = {key: entry.order for entry in ORDERS for key in entry.keys}
_TYPED = {word: entry.order for entry in ORDERS for word in entry.typed}


def order_of_key(key: str) -> Order | None:
    """The order of one of Textual's key names, None where it has none."""
    return _BY_KEY.get(key)


def order_typed(line: str) -> Order | None:
    """The order of a typed line, in any case; None where it is none."""
    return _TYPED.get(line.strip().lower())
