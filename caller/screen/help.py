"""Help: first the keys by what they are for, then what each order does where the class stands, one row an order, with
all that gives it on keys and pedal.

Conventions: lines of so many cells; blocks of lines each begin on a page of their own.
"""

from __future__ import annotations

import re
from collections.abc import Iterator, Sequence

from rich.cells import cell_len

from caller.screen.own_orders import OWN_ORDERS, OwnOrder
from caller.screen.words import key_word
from caller.transport.context import OrderContext
from caller.transport.footing import Footing
from caller.transport.order import ORDERS, Order, OrderEntry
from caller.transport.respond import respond

# Holds the words of one key together while lines are made.
_JOINED = "\N{NO-BREAK SPACE}"
HEADINGS = ("Order", "Keys", "Pedal", "What it does")
# What is asked for in class, in the order in which it is; an order that has a key and stands nowhere fails in a test.
PURPOSES: tuple[tuple[str, tuple[Order | OwnOrder, ...]], ...] = (
    ("Stop and go", (Order.GO, Order.STOP_AT_EIGHT)),
    ("On and back", (Order.NEXT, Order.PREVIOUS, Order.WAIT, Order.TOP, Order.WELL)),
    ("Once more", (Order.SECTION_AGAIN, Order.WALL_AGAIN, Order.LAST_FOUR, Order.LAST_EIGHT, Order.LOOP)),
    ("", (Order.SO_FAR, Order.LOOP_FROM, Order.LOOP_TO)),
    ("Told", (Order.SAY_AGAIN, Order.SAY_FIGURE, Order.EASIER, Order.BOTH_WAYS, Order.MANNER, Order.CHANGE_OVER)),
    ("Slower and faster", (Order.SLOWER, Order.FASTER, Order.HALF, Order.TAP_TEMPO)),
    ("The evening", (Order.NEXT_ITEM, Order.CUT, Order.PUT_BACK, Order.LEARNT, Order.SHAKY, Order.NOT_DONE)),
    ("How loud", (Order.COUNT_SOFTER, Order.COUNT_LOUDER, Order.CALLS_SOFTER, Order.CALLS_LOUDER)),
    ("", (Order.MUSIC_SOFTER, Order.MUSIC_LOUDER, Order.MUTE)),
    (
        "The screen",
        (OwnOrder.OTHER_SIDE, OwnOrder.OTHER_LOOK, OwnOrder.TYPE, Order.HELP, Order.STOP_OR_LEAVE, Order.QUIT),
    ),
)
_ON = "The pages after this one: every order, with all its keys and what it does where you are."
# Narrower, keys stand one below the other.
_TWO_COLUMNS, _KEY_CELLS = 60, 7


def help_blocks(width: int, footing: Footing, context: OrderContext) -> tuple[tuple[str, ...], ...]:
    """The keys by purpose, then the table."""
    return tuple(purpose_lines(width, footing, context)), tuple(help_lines(width, footing, context))


def purpose_lines(width: int, footing: Footing, context: OrderContext) -> Iterator[str]:
    """The first key of each order that there is, what is typed, and what the pedal orders, each by its title."""
    titles = {entry.order: does.title for entry in ORDERS if not (does := respond(context, entry.order)).elsewhere}
    keyed: dict[Order | OwnOrder, str] = {
        entry.order: f"{key_word(entry.keys[0]):<{_KEY_CELLS}}{titles[entry.order]}"
        for entry in ORDERS
        if entry.keys and entry.order in titles
    }
    keyed |= {own.order: f"{key_word(own.keys[0]):<{_KEY_CELLS}}{own.title}" for own in OWN_ORDERS}
    for purpose, orders in PURPOSES:
        told = [keyed[order] for order in orders if order in keyed]
        if purpose and told:
            yield f"{purpose}:"
        yield from _in_columns(told, width)
    typed = [f"/{entry.example}" for entry in ORDERS if entry.example and entry.order in titles]
    yield from _flowing("Typed", typed, width)
    pedal = [f"{footing.words(order)}: {title}" for order, title in titles.items() if footing.words(order)]
    yield from _flowing("Pedal", pedal, width)
    yield from _wrapped(_ON, width)


def _flowing(what: str, told: Sequence[str], width: int) -> Iterator[str]:
    """One after another, each kept together."""
    lines = _wrapped(f"{what}: {' · '.join(one.replace(' ', _JOINED) for one in told)}", width)
    yield from (line.replace(_JOINED, " ") for line in lines)


def _in_columns(told: Sequence[str], width: int) -> Iterator[str]:
    across = 2 if width >= _TWO_COLUMNS else 1
    room = width // across
    for n in range(0, len(told), across):
        yield "".join(f"  {one}".ljust(room) for one in told[n : n + across]).rstrip()


def help_rows(footing: Footing, context: OrderContext) -> list[tuple[str, str, str, str]]:
    """(order, keys, pedal gestures, what it does), headings first, the screen's own last; a key or a gesture of two
    words has a no-break space. footing: the one in use; context: where the class stands."""
    rows = [HEADINGS]
    for entry in ORDERS:
        does = respond(context, entry.order)
        if does.elsewhere:
            continue
        rows.append((does.title, _keys(entry), _gestures(footing.words(entry.order)) or "-", does.tells))
    rows += [(own.title, ", ".join(map(key_word, own.keys)), "-", own.tells) for own in OWN_ORDERS]
    return rows


def _keys(entry: OrderEntry) -> str:
    """Its keys, or what is typed on the line, which / opens."""
    keys = ", ".join(key_word(key).replace(" ", _JOINED) for key in entry.keys)
    typed = next(filter(None, (entry.example, *entry.typed)), "")
    return keys or (f"/{typed}" if typed else "-").replace(" ", _JOINED)


def _gestures(words: str) -> str:
    """ "double tap; second: tap" breaks after its marks only."""
    return re.sub(r"(?<![,;:]) ", _JOINED, words)


def help_lines(width: int, footing: Footing, context: OrderContext) -> list[str]:
    """The table in ``width`` cells: four columns, each wrapped under itself, so that nothing is cut."""
    rows = help_rows(footing, context)
    first = [max(cell_len(row[column]) for row in rows) + 2 for column in range(3)]
    first[1] = min(first[1], max(16, width // 4))
    first[2] = max(cell_len(part) for row in rows for part in (*row[2].split(" "), "second: tap")) + 2
    rest = max(12, width - sum(first))
    lines: list[str] = []
    for row in rows:
        cells = [_wrapped(cell, room) for cell, room in zip(row, [*(w - 2 for w in first), rest], strict=True)]
        for line in range(max(map(len, cells))):
            parts = [cell[line] if line < len(cell) else "" for cell in cells]
            laid = "".join(part.ljust(room) for part, room in zip(parts, [*first, 0], strict=True))
            lines.append(laid.replace(_JOINED, " ").rstrip())
    return lines


def _wrapped(text: str, width: int) -> list[str]:
    lines: list[str] = []
    for word in text.split(" "):
        if lines and cell_len(lines[-1]) + 1 + cell_len(word) <= width:
            lines[-1] += " " + word
        else:
            lines.append(word)
    return lines
