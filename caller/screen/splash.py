"""All that is painted before there is a class to show: one word in block letters, and that it will start where that
was ordered by then."""

from __future__ import annotations

from textual.content import Content
from textual.widget import Widget

from caller.screen.letters import fit
from caller.transport.order import Order

STARTS = "starts by itself"
_STARTING = (Order.GO, Order.GO_ON)


class Splash(Widget):
    """early: the orders given before there was a class, in turn."""

    def __init__(self) -> None:
        super().__init__(id="splash")
        self.early: list[Order] = []

    def keep(self, order: Order) -> None:
        """An order for the class to come; that it will start is shown."""
        self.early.append(order)
        self.refresh()

    def render(self) -> Content:
        width, height = self.size
        if not any(order in _STARTING for order in self.early):
            return Content("\n".join(fit("getting ready", width, height, tallest=14).lines))
        above = height * 2 // 3
        word = fit("getting ready", width, above, tallest=14)
        return Content("\n".join((*word.lines, "", *fit(STARTS, width, height - above - 1, tallest=7).lines)))
