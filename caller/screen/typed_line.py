"""A line on the class screen to type an order on: a tempo, a loop, a section, or any order by its word.

Conventions: it is there only while it is typed on, and has the focus; Enter gives the order and Esc leaves it, at which
the screen takes it away, so that keys are orders again whatever was typed. What is no order is answered among the
notices.
"""

from __future__ import annotations

from typing import TYPE_CHECKING

from textual.message import Message
from textual.widgets import Input

from caller.screen.typing import obey_typed
from caller.transport.order import Order

if TYPE_CHECKING:  # what is only named here would be slow to bring in before the first paint
    from caller.session import Live

MOST_LETTERS = 60


class TypedLine(Input):
    """live: who obeys."""

    class Given(Message):
        """A line has been given. order: the one that it was, None where it was none."""

        def __init__(self, order: Order | None) -> None:
            super().__init__()
            self.order = order

    def __init__(self, live: Live) -> None:
        super().__init__(
            placeholder="96, loop 5 to 8, section 3, or an order; Enter gives it, Esc leaves it",
            id="line",
            max_length=MOST_LETTERS,
            select_on_focus=False,
            compact=True,
        )
        self._live = live

    def on_input_submitted(self, submitted: Input.Submitted) -> None:
        submitted.stop()
        order, answer = obey_typed(self._live, submitted.value)
        if order is None and answer:
            self._live.say(answer)
        self.post_message(self.Given(order))
