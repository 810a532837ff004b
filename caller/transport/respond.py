"""What comes of an order where the class stands, looked up in the table.

Every order has a row for every context, or this module can't be imported.
"""

from __future__ import annotations

from dataclasses import replace

from caller.transport.context import CONTEXTS, OrderContext, Response
from caller.transport.order import Order
from caller.transport.table import ROWS


def _response(context: OrderContext, order: Order) -> Response:
    row = next((row for row in ROWS if row.order is order and row.holds(context)), None)
    if row is None:
        raise LookupError(f"no row says what {order} does in {context}")
    return Response(row.effect, row.title, row.tells, row.gives or order, row.answer, row.elsewhere)


TABLE = {(context, order): _response(context, order) for context in CONTEXTS for order in Order}
_SHORT_WORDS = {4: ("four", "eight"), 3: ("three", "six"), 6: ("six", "twelve")}


def respond(context: OrderContext, order: Order) -> Response:
    """What ``order`` does in ``context``, and says."""
    found = TABLE[replace(context, short=4), order]
    counts = dict(zip(("four", "eight"), _SHORT_WORDS[context.short], strict=True))
    title, tells, answer = (words.format(**counts) for words in (found.title, found.tells, found.answer))
    return replace(found, title=title, tells=tells, answer=answer)
