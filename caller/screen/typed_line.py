"""A line on the class screen to type an order on: a tempo, a loop, a section, or any order by its word.

Conventions: it is there only while it is typed on, and has the focus; Enter gives the order and Esc leaves it, at which
the screen takes it away. It goes whatever was typed: a line that stayed would take the keys that pause a class.
"""

from __future__ import annotations

from typing import TYPE_CHECKING

from textual.events import Key
from textual.message import Message
from textual.widgets import Input

from caller.screen.plain_lines import place_words
from caller.screen.typing import asks_where, obey_typed
from caller.transport.order import Order

if TYPE_CHECKING:  # what is only named here would be slow to bring in before the first paint
    from caller.session import Live

MOST_LETTERS = 60


class TypedLine(Input):
    """live: who obeys."""

    class Given(Message):
        """A line has been given. order: the one of the table that it was, None for none; answer: what there is to say
        of a line that is no order."""

        def __init__(self, order: Order | None, answer: str) -> None:
            super().__init__()
            self.order, self.answer = order, answer

    def __init__(self, live: Live) -> None:
        super().__init__(
            placeholder="96, loop 5 to 8, section 3, or an order; Enter gives it, Esc leaves it",
            id="line",
            max_length=MOST_LETTERS,
            select_on_focus=False,
            compact=True,
        )
        self._live, self._given = live, False

    async def take_early(self, key: Key) -> None:
        """A key that came before the line had the focus: a letter that it took itself goes no further, Enter does."""
        if key.key == "enter":
            await self.action_submit()
        elif key.is_printable and key.character:
            self.insert_text_at_cursor(key.character)

    def on_input_submitted(self, submitted: Input.Submitted) -> None:
        submitted.stop()
        if self._given:
            return
        self._given = True
        if asks_where(submitted.value):
            self.post_message(self.Given(None, self._where()))
            return
        order, answer = obey_typed(self._live, submitted.value)
        self.post_message(self.Given(order, "" if order is not None else answer))

    def _where(self) -> str:
        from caller.screen.course import course_of

        dance = self._live.dance
        return place_words(self._live.view(self._live.desk.now()), course_of(dance) if dance is not None else None)
