"""The orders there are, and how each is given: keys, typed words and forms are views of this table, and pedals are
mapped to it. What an order does, and says, where the class stands is the table of :mod:`caller.transport.table`.
"""

from __future__ import annotations

import re
from collections.abc import Callable, Sequence
from dataclasses import dataclass
from enum import Enum
from fractions import Fraction

from caller.transport.expression import LEAST_PERCENT, MOST_PERCENT

# What an order may carry besides: a tempo, a share, counts, a number of a section.
Amounts = tuple[Fraction, ...]


class Order(Enum):
    GO = "go"  # of a key or a foot: start, pause, go on, whichever comes next
    GO_ON = "go-on"
    PAUSE = "pause"
    STOP_AT_EIGHT = "stop-at-eight"
    SLOWER = "slower"
    FASTER = "faster"
    HALF = "half"
    TAP_TEMPO = "tap-tempo"
    TEMPO = "tempo"
    SHARE = "share"
    SLOW_ON = "slow-on"
    SLOW_OFF = "slow-off"
    SECTION_AGAIN = "section-again"
    WALL_AGAIN = "wall-again"
    LAST_FOUR = "last-four"
    LAST_EIGHT = "last-eight"
    LAST_COUNTS = "last-counts"
    SAY_AGAIN = "say-again"
    SAY_FIGURE = "say-figure"
    PREVIOUS = "previous"
    NEXT = "next"
    WAIT = "wait"
    LOOP = "loop"
    LOOP_FROM = "loop-from"
    LOOP_TO = "loop-to"
    LOOP_COUNTS = "loop-counts"
    LOOP_WALL = "loop-wall"
    SECTION = "section"
    TO_WALL = "to-wall"
    STAGE = "stage"
    WELL = "well"
    TOP = "top"
    SO_FAR = "so-far"
    NEXT_ITEM = "next-item"
    ITEM = "item"
    CUT = "cut"
    PUT_BACK = "put-back"
    REQUEST = "request"
    LEARNT = "learnt"
    SHAKY = "shaky"
    NOT_DONE = "not-done"
    MANNER = "manner"
    EASIER = "easier"
    BOTH_WAYS = "both-ways"
    CHANGE_OVER = "change-over"
    MUTE = "mute"
    COUNT_SOFTER = "count-softer"
    COUNT_LOUDER = "count-louder"
    CALLS_SOFTER = "calls-softer"
    CALLS_LOUDER = "calls-louder"
    MUSIC_SOFTER = "music-softer"
    MUSIC_LOUDER = "music-louder"
    HELP = "help"
    STOP_OR_LEAVE = "stop-or-leave"  # of a key: what sounds is only stopped
    QUIT = "quit"


@dataclass(frozen=True, slots=True)
class OrderEntry:
    """keys: Textual's key names of small letters, the first shown in help; a capital letter is the same. typed: what is
    typed, the first shown. form: of an order that carries amounts, a pattern whose groups are those; example: a line of
    that form."""

    order: Order
    keys: tuple[str, ...] = ()
    typed: tuple[str, ...] = ()
    form: str = ""
    example: str = ""


ORDERS: tuple[OrderEntry, ...] = (
    OrderEntry(Order.GO, ("space", "enter", "pagedown")),
    OrderEntry(Order.GO_ON, (), ("go", "start")),
    OrderEntry(Order.PAUSE, (), ("pause",)),
    OrderEntry(Order.STOP_AT_EIGHT, ("e",), ("eight", "e")),
    OrderEntry(Order.SLOWER, ("minus", "left", "down"), ("slower", "-")),
    OrderEntry(Order.FASTER, ("plus", "equals_sign", "right", "up"), ("faster", "+")),
    OrderEntry(Order.HALF, ("h", "pageup"), ("half",)),
    OrderEntry(Order.TAP_TEMPO, ("b",), ("beat", "b")),
    OrderEntry(Order.TEMPO, form=r"(?:tempo )?(\d{2,3}(?:\.\d{1,3})?)", example="96"),
    OrderEntry(Order.SHARE, form=r"(\d{2,3}) ?%", example="75%"),
    OrderEntry(Order.SLOW_ON, (), ("slow",)),
    OrderEntry(Order.SLOW_OFF, (), ("full",)),
    OrderEntry(Order.SECTION_AGAIN, ("a", "backspace"), ("again", "again with calls", "a")),
    OrderEntry(Order.WALL_AGAIN, ("w",), ("wall", "w")),
    OrderEntry(Order.LAST_FOUR, ("f",), ("last four", "last 4", "last three", "last 3", "f")),
    OrderEntry(Order.LAST_EIGHT, ("g",), ("last eight", "last 8", "last six", "last 6", "g")),
    OrderEntry(Order.LAST_COUNTS, form=r"last (\d{1,2}|twelve|sixteen)", example="last 12"),
    OrderEntry(Order.SAY_AGAIN, ("r",), ("say that again", "say again", "r")),
    OrderEntry(Order.SAY_FIGURE, ("k",), ("say that figure", "that figure", "k")),
    OrderEntry(Order.PREVIOUS, ("p",), ("previous", "back", "p")),
    OrderEntry(Order.NEXT, ("n",), ("next", "n")),
    OrderEntry(Order.WAIT, ("s",), ("wait", "s")),
    OrderEntry(Order.LOOP, ("l",), ("loop", "l")),
    OrderEntry(Order.LOOP_FROM, ("left_square_bracket",), ("from",)),
    OrderEntry(Order.LOOP_TO, ("right_square_bracket",), ("to",)),
    OrderEntry(Order.LOOP_COUNTS, form=r"loop (\d{1,3})(?: ?- ?| to )(\d{1,3})", example="loop 5 to 8"),
    OrderEntry(Order.LOOP_WALL, form=r"loop wall (\d{1,3})(?: ?- ?| to )(\d{1,3})", example="loop wall 5-12"),
    OrderEntry(Order.SECTION, form=r"section (\d{1,3})", example="section 3"),
    OrderEntry(Order.TO_WALL, form=r"wall (\d{1,3})", example="wall 3"),
    OrderEntry(Order.STAGE, form=r"stage (\d{1,3})", example="stage 13"),
    OrderEntry(Order.WELL, ("y",), ("that went well", "well", "y")),
    OrderEntry(Order.TOP, ("t", "home"), ("top",)),
    OrderEntry(Order.SO_FAR, ("z",), ("so far", "z")),
    OrderEntry(Order.NEXT_ITEM, ("i",), ("next item", "i")),
    OrderEntry(Order.ITEM, form=r"item (\d{1,2})", example="item 4"),
    OrderEntry(Order.CUT, ("x",), ("take out", "x")),
    OrderEntry(Order.PUT_BACK, ("u",), ("put back", "u")),
    OrderEntry(Order.REQUEST, (), ("request",), form=r"request (\d{1,3})(?: (last))?", example="request 2"),
    OrderEntry(Order.LEARNT, ("7",), ("learnt", "7")),
    OrderEntry(Order.SHAKY, ("8",), ("shaky", "8")),
    OrderEntry(Order.NOT_DONE, ("9",), ("not done", "9")),
    OrderEntry(Order.MANNER, ("c",), ("manner", "calls", "c")),
    OrderEntry(Order.EASIER, ("o",), ("easier", "option", "o")),
    OrderEntry(Order.BOTH_WAYS, ("j",), ("both ways", "half the hall", "j")),
    OrderEntry(Order.CHANGE_OVER, ("0",), ("change over", "0")),
    OrderEntry(Order.MUTE, ("m",), ("mute", "m")),
    OrderEntry(Order.COUNT_SOFTER, ("1",), ("count softer", "1")),
    OrderEntry(Order.COUNT_LOUDER, ("2",), ("count louder", "2")),
    OrderEntry(Order.CALLS_SOFTER, ("3",), ("calls softer", "3")),
    OrderEntry(Order.CALLS_LOUDER, ("4",), ("calls louder", "4")),
    OrderEntry(Order.MUSIC_SOFTER, ("5",), ("music softer", "5")),
    OrderEntry(Order.MUSIC_LOUDER, ("6",), ("music louder", "6")),
    OrderEntry(Order.HELP, ("question_mark", "f1"), ("help", "?")),
    OrderEntry(Order.STOP_OR_LEAVE, ("q",), ("stop or leave",)),
    OrderEntry(Order.QUIT, ("ctrl+q",), ("quit", "leave", "q")),
)


def with_capitals(keys: tuple[str, ...]) -> tuple[str, ...]:
    """Keys as they arrive: a letter printed on a key is the same with Shift or Caps Lock."""
    return (*keys, *(key.upper() for key in keys if len(key) == 1 and key.isalpha()))


# What the table calls an order where that is not what is typed for it: typed too, as help shows it.
_TITLES: dict[Order, tuple[str, ...]] = {
    Order.PAUSE: ("pause at once",),
    Order.STOP_AT_EIGHT: ("pause after the eight", "pause after the six"),
    Order.HALF: ("half speed",),
    Order.TAP_TEMPO: ("tap the tempo",),
    Order.SLOW_ON: ("slow down",),
    Order.SLOW_OFF: ("up to speed",),
    Order.SECTION_AGAIN: ("section again", "stage again", "item again"),
    Order.WALL_AGAIN: ("wall again",),
    Order.PREVIOUS: ("previous section", "previous stage", "last stage again", "back into the item"),
    Order.NEXT: ("next section", "next stage"),
    Order.WAIT: ("wait after stages",),
    Order.LOOP: ("loop this section", "loop this stage"),
    Order.LOOP_FROM: ("loop from here",),
    Order.LOOP_TO: ("loop to here",),
    Order.TOP: ("from the top",),
    Order.MANNER: ("way of calling",),
    Order.EASIER: ("easier way",),
}
# What needs an amount is no order without one; any other is typed by its own name too.
_COMPLETE = [entry.order for entry in ORDERS if entry.typed or not entry.form]
_TYPED = {order.value.replace("-", space): order for order in _COMPLETE for space in "- "}
_TYPED |= {word: order for order, words in _TITLES.items() for word in words}
_TYPED |= {word: entry.order for entry in ORDERS for word in entry.typed}
_FORMS = [(entry.order, re.compile(entry.form, re.IGNORECASE)) for entry in ORDERS if entry.form]
_COUNTED = {"twelve": "12", "sixteen": "16", "last": "1"}
LEAST_TYPED, MOST_TYPED = 20, 400  # counts a minute


def order_typed(line: str) -> tuple[Order, Amounts] | None:
    """The order of a typed line in any case and spacing, by a word of its own, its name or what the table calls it, and
    what it carries; None where it is none, or a tempo or a share is out of reach."""
    words = " ".join(line.split())
    if (order := _TYPED.get(words.lower())) is not None:
        return order, ()
    for order, form in _FORMS:
        if found := form.fullmatch(words):
            told = (n.lower() for n in found.groups() if n is not None)
            amounts = _within_reach(order, tuple(Fraction(_COUNTED.get(n, n)) for n in told))
            return (order, amounts) if amounts else None
    return None


_BY_NAME = re.compile(r"request (.+)", re.IGNORECASE)
_LAST = re.compile(r"(.+) last", re.IGNORECASE)


def request_typed(line: str, dances: Sequence[tuple[int, str]]) -> tuple[str, Amounts]:
    """A request by name, of dances with their numbers: the name as it was typed, and what the order carries: the number
    of the one whose title it is, or else begins, or is part of, in any case, and 1 where it is asked for as the last;
    () where that is none or several. "", () where the line is no request by name."""
    found = _BY_NAME.fullmatch(" ".join(line.split()))
    if found is None or order_typed(line) is not None:
        return "", ()
    titles = [title for _, title in dances]
    if place := _numbered(found[1], titles):
        return found[1], (Fraction(dances[place - 1][0]),)
    last = _LAST.fullmatch(found[1])
    place = _numbered(last[1], titles) if last else 0
    return found[1], (Fraction(dances[place - 1][0]), Fraction(1)) if place else ()


_MARK_BY_NAME = re.compile(r"(learnt|shaky|not done) (.+)", re.IGNORECASE)


def mark_typed(line: str, titles: Sequence[str]) -> tuple[Order | None, str, Amounts]:
    """A mark of a dance by name: the order, the name as it was typed, and the number of the one dance that is meant, as
    in :func:`request_typed`. None, "", () where the line is none."""
    found = _MARK_BY_NAME.fullmatch(" ".join(line.split()))
    if found is None:
        return None, "", ()
    number = _numbered(found[2], titles)
    return _TYPED[found[1].lower()], found[2], (Fraction(number),) if number else ()


def _numbered(words: str, titles: Sequence[str]) -> int:
    """The number of the one dance that is meant, 0 where that is none or several."""
    name = words.casefold()
    called = [title.casefold() for title in titles]
    fits: tuple[Callable[[str], bool], ...] = (name.__eq__, lambda title: title.startswith(name), lambda t: name in t)
    for fit in fits:
        numbers = [n for n, title in enumerate(called, 1) if fit(title)]
        if len(numbers) == 1:
            return numbers[0]
    return 0


def _within_reach(order: Order, amounts: Amounts) -> Amounts:
    """The amounts as the order takes them; none where they are out of reach."""
    if order is Order.TEMPO:
        return amounts if LEAST_TYPED <= amounts[0] <= MOST_TYPED else ()
    if order is Order.LAST_COUNTS:
        return amounts if amounts[0] else ()
    if order is Order.SHARE:
        return (amounts[0] / 100,) if LEAST_PERCENT <= amounts[0] <= MOST_PERCENT else ()
    return amounts
