"""What is typed, as an order: the same words in the plain mode and on the screen's own line.

Conventions: a line is a word of the order table, a tempo, a loop of counts or a section; what is given is obeyed at
once. Answers are whole sentences.
"""

from __future__ import annotations

from typing import TYPE_CHECKING

from caller.screen.plain_text import plain_text
from caller.screen.words import entry_for, typed_word
from caller.transport.order import Order, order_typed
from caller.transport.tempo import tempo_typed
from caller.transport.typed import loop_typed, section_typed

if TYPE_CHECKING:  # what is only named here would be slow to bring in before the first paint
    from caller.session import Live

# What may be typed that is no word of the table.
TYPED_BESIDES = (
    "96: that tempo, in counts a minute.",
    "loop 5 to 12: those counts of this wall, over and over.",
    "section 3: from there, counted in.",
)


def obey_typed(live: Live, line: str) -> tuple[Order | None, str]:
    """Obeys a line. Returns the table's order that it was, if it was one, and what there is to answer, "" for nothing.
    Help is not the session's: who asked shows it."""
    order = order_typed(line)
    if order is Order.HELP:
        return order, ""
    if order is not None:
        live.obey(order)
        return order, f"Order: {entry_for(order).title}."
    if (tempo := tempo_typed(line)) is not None:
        live.at_tempo(tempo)
    elif (counts := loop_typed(line)) is not None:
        live.loop(*counts)
    elif (section := section_typed(line)) is not None:
        live.to_section(section)
    elif line.strip():
        return None, f'No order is called "{plain_text(line)}". Type "{typed_word(Order.HELP)}" for all of them.'
    return None, ""
