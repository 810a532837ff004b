"""The front-of-class screen.

Conventions: the session is asked for a view twenty times a second; positions are never counted in ticks. All keys
are priority bindings made from the order table, so that a pedal that types Space, Enter or Page Down works whatever is
shown.
Everything here runs on the one thread that called :func:`run_screen`.
"""

from __future__ import annotations

import os
import sys
import time
from collections.abc import Callable, Iterator
from contextlib import contextmanager
from pathlib import Path
from typing import TYPE_CHECKING, ClassVar

from textual import events
from textual.app import App, ComposeResult
from textual.binding import Binding, BindingType

from caller.screen.board import Board, Large, board_of
from caller.screen.help import help_lines
from caller.screen.notices import NoticeBoard
from caller.screen.pace import Pace
from caller.screen.room import Room
from caller.screen.widgets import Page
from caller.screen.words import first_key
from caller.transport.order import ORDERS, Order

if TYPE_CHECKING:  # what is only named here would be slow to bring in before the first paint
    from caller.session import Session

LOOKS_A_SECOND = 20
AWAY = "This window is not in front: keys and key pedals don't arrive. Click on it."


class ClassScreen(App[None]):
    """now: seconds of a clock that does not run back."""

    CSS_PATH = "class_screen.tcss"
    ENABLE_COMMAND_PALETTE = False
    ALLOW_SELECT = False
    VERTICAL_BREAKPOINTS = [(0, "-low"), (28, "-middle"), (40, "-tall")]  # noqa: RUF012
    HORIZONTAL_BREAKPOINTS = [(0, "-narrow"), (96, "-wide")]  # noqa: RUF012
    BINDINGS: ClassVar[list[BindingType]] = [
        *(
            Binding(",".join(entry.keys), f"order('{entry.order.value}')", entry.title, priority=True)
            for entry in ORDERS
            if entry.keys
        ),
        Binding("escape", "close_help", "Close help", priority=True),
    ]

    def __init__(self, session: Session, now: Callable[[], float] = time.monotonic) -> None:
        super().__init__()
        self._session = session
        self._now = now
        self._pace = Pace()
        self._notices = NoticeBoard()
        self._room, self._help = Room(), Page(id="help")
        self._board: Board | None = None
        self._large: Large | None = None

    def compose(self) -> ComposeResult:
        yield self._room
        yield self._help

    def on_mount(self) -> None:
        self.animation_level = "none"
        self.look()
        self.set_interval(1 / LOOKS_A_SECOND, self.look)

    def look(self) -> None:
        """Show how things are now."""
        view, seconds = self._session.look(), self._now()
        board = board_of(view)
        if board != self._board:
            self._room.show(board)
            self._board = board
        if board.large != self._large and self._pace.allows(seconds):
            self._room.show_large(board.large)
            self._pace.changed(seconds)
            self._large = board.large
        self._room.show_notices(self._notices.shown(view.notices, seconds))

    def on_resize(self, _: events.Resize) -> None:
        self._lay_out_help()

    def on_app_blur(self) -> None:
        self._room.show_away(AWAY)

    def on_app_focus(self) -> None:
        self._room.show_away("")

    def action_order(self, value: str) -> None:
        """Obey a key. Help is the screen's own; while it is open, leaving closes it."""
        order = Order(value)
        if order is Order.HELP or (order is Order.QUIT and self._help.has_class("some")):
            self._lay_out_help()
            self._help.toggle_class("some")
            return
        self._session.obey(order)
        if order is Order.QUIT:
            self.exit()
        else:
            self.look()

    def action_close_help(self) -> None:
        self._help.remove_class("some")

    def _lay_out_help(self) -> None:
        closes = f"{first_key(Order.HELP)} or Esc closes this page; the class goes on behind it."
        self._help.lines = (*help_lines(self.size.width - 4), "", closes)

    async def action_quit(self) -> None:
        self.action_order(Order.QUIT.value)

    def action_help_quit(self) -> None:
        """Ctrl+C leaves, as everywhere in a terminal."""
        self.action_order(Order.QUIT.value)


def run_screen(session: Session, log: Path | None = None) -> None:
    """Show the class until it is left. What sound and speech libraries print meanwhile goes to the file ``log`` (None:
    nowhere), not over the screen. Raises OSError where ``log`` can't be written."""
    with own_terminal(Path(os.devnull) if log is None else log):
        ClassScreen(session).run(mouse=False)


@contextmanager
def own_terminal(log: Path) -> Iterator[None]:
    """The terminal for Textual alone: it draws on ``sys.__stderr__``, C libraries print on descriptor 2.

    Where descriptor 2 is no terminal (``2> file``), the one that descriptor 1 leads to.
    """
    before = sys.__stderr__
    sys.stderr.flush()
    kept = os.dup(2)
    terminal = os.dup(1 if os.isatty(1) and not os.isatty(2) else 2)
    try:
        with log.open("ab") as printed, open(terminal, "w", encoding="utf-8", errors="replace") as stderr:
            os.dup2(printed.fileno(), 2)
            sys.__stderr__ = stderr  # type: ignore[misc]
            yield
    finally:
        sys.__stderr__ = before  # type: ignore[misc]
        os.dup2(kept, 2)
        os.close(kept)
