"""What is typed, as an order: the same words in the plain mode and on the screen's own line.

Conventions: a line is a word of the order table or one of its forms (a tempo, counts, a section); what is given is
obeyed at once. Answers are whole sentences.
"""

from __future__ import annotations

from typing import TYPE_CHECKING

from caller.screen.plain_text import plain_text
from caller.screen.words import typed_word
from caller.transport.leaving import ends_the_class
from caller.transport.order import LEAST_TYPED, Order, mark_typed, order_typed, request_typed
from caller.transport.respond import respond

if TYPE_CHECKING:  # what is only named here would be slow to bring in before the first paint
    from caller.session import Live


# No order, since nothing comes of it: what is told of where the class is.
WHERE = "where"


def asks_where(line: str) -> bool:
    """Whether it is asked where the class is."""
    return _bare(line).lower() == WHERE


def _bare(line: str) -> str:
    """Without the slash of the key that opens the screen's line: typed too, it means nothing."""
    return line.strip().lstrip("/").strip()


def obey_typed(live: Live, line: str) -> tuple[Order | None, str]:
    """Obeys a line. Returns the order that it was, leaving where it ends the class, None where it was none, and what
    there is to answer, "" for nothing. Help is not the session's: who asked shows it."""
    line = _bare(line)
    name, asked = request_typed(line, live.requests)
    mark, marked, number = mark_typed(line, live.markable)
    if mark is not None and live.markable and not number:
        return None, f'No one dance of this evening is called "{plain_text(marked)}".'
    typed = (Order.REQUEST, asked) if asked else (mark, number) if mark and number else order_typed(line)
    if typed is None and name and live.requests:
        ask = typed_word(Order.REQUEST)
        return None, f'No one dance here is called "{plain_text(name)}". Type "{ask}" for those that may be asked for.'
    if typed is None and line.isdigit():
        return (
            None,
            f"{line} is no tempo: that is counts a minute, from {LEAST_TYPED} to a fifth above the dance's own.",
        )
    if typed is None:
        unknown = f'No order is called "{plain_text(line)}". Type "{typed_word(Order.HELP)}" for all of them.'
        return None, unknown if line else ""
    order, amounts = typed
    if order is Order.HELP:
        return order, ""
    title, ends = respond(live.context, order).title, ends_the_class(order, live.context.state)
    live.obey(order, *amounts)
    return Order.QUIT if ends else order, f"Order: {title}."
