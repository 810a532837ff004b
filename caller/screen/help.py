"""Help: what each order does where the class stands, one row an order, with what gives it on keys and pedal."""

from __future__ import annotations

import re

from rich.cells import cell_len

from caller.screen.own_orders import OWN_ORDERS
from caller.screen.words import key_word
from caller.transport.context import OrderContext
from caller.transport.footing import Footing
from caller.transport.order import ORDERS, OrderEntry
from caller.transport.respond import respond

# Holds the words of one key together while lines are made.
_JOINED = "\N{NO-BREAK SPACE}"
HEADINGS = ("Order", "Keys", "Pedal", "What it does")


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
    return keys or (f"/{entry.example}" if entry.example else "-").replace(" ", _JOINED)


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
