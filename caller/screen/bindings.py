"""The keys of the front-of-class screen.

Conventions: all are priority bindings made from the order table, so that a pedal that types Space or Enter works
whatever is shown; one that types Page Down does but for help, whose pages that turns.
"""

from __future__ import annotations

from textual.binding import Binding, BindingType

from caller.screen.own_orders import OWN_ORDERS
from caller.transport.order import ORDERS, with_capitals

# While help is open these turn its pages, by so many.
HELP_PAGES = {"pagedown": 1, "pageup": -1}
BINDINGS: list[BindingType] = [
    *(
        Binding(",".join(with_capitals(keys)), f"order('{entry.order.value}')", priority=True)
        for entry in ORDERS
        if (keys := tuple(key for key in entry.keys if key not in HELP_PAGES))
    ),
    *(
        Binding(key, f"page_or_order('{key}', '{entry.order.value}')", priority=True)
        for entry in ORDERS
        for key in entry.keys
        if key in HELP_PAGES
    ),
    *(
        Binding(",".join(with_capitals(entry.keys)), f"own_order('{entry.order.value}')", entry.title, priority=True)
        for entry in OWN_ORDERS
    ),
    Binding("escape", "close_help", "Close help", priority=True),
]
