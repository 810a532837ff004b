"""The front-of-class screen.

Conventions: the session is asked for a view twenty times a second; positions are never counted in ticks.
Everything here runs on the one thread that called :func:`run_screen_with`.
"""

from __future__ import annotations

import time
from collections.abc import Callable, Iterable
from pathlib import Path
from typing import TYPE_CHECKING, ClassVar

from textual import events
from textual.app import ComposeResult
from textual.binding import BindingType

from caller.screen.bindings import BINDINGS, HELP_PAGES
from caller.screen.looks import INKS, Look
from caller.screen.opening import SessionLoader
from caller.screen.own_orders import OwnOrder
from caller.screen.pace import Pace
from caller.screen.splash import Splash
from caller.screen.terminal import FullScreen, run_on_terminal
from caller.transport.leaving import LEAVING, ends_the_class
from caller.transport.order import Order
from caller.transport.state import UNDER_WAY

if TYPE_CHECKING:  # what is only named here, or not needed before the first paint, would be slow to bring in
    from caller.screen.board import Board
    from caller.screen.room import Room
    from caller.screen.typed_line import TypedLine
    from caller.screen.watch import Watch
    from caller.screen.widgets import HelpPages
    from caller.session import Live

LOOKS_A_SECOND = 20
# A foot is heeded sooner than what it does has to show.
LISTENS_A_SECOND = 100
AWAY = "This window is not in front: keys and key pedals don't arrive. Click on it."


class ClassScreen(FullScreen[None]):
    """A session, or one that is being opened.

    now: seconds of a clock that does not run back. look: light or dark. shown: each is given every board that shows, as
    soon as it does; it must not wait. told: sentences that come with the session, shown as the first notices.
    """

    CSS_PATH = "class_screen.tcss"
    ALLOW_SELECT = False
    VERTICAL_BREAKPOINTS = [(0, "-low"), (28, "-middle"), (44, "-tall")]  # noqa: RUF012
    HORIZONTAL_BREAKPOINTS = [(0, "-narrow"), (96, "-wide")]  # noqa: RUF012
    BINDINGS: ClassVar[list[BindingType]] = BINDINGS

    def __init__(
        self,
        session: Live | SessionLoader,
        now: Callable[[], float] = time.monotonic,
        look: Look = Look.DARK,
        shown: Iterable[Callable[[Board], None]] = (),
        told: Iterable[str] = (),
    ) -> None:
        self._look = look
        super().__init__()
        self._opening = session if isinstance(session, SessionLoader) else None
        self._session = None if isinstance(session, SessionLoader) else session
        self._splash = Splash()
        self._now, self._shown, self._told = now, tuple(shown), told
        self._pace = Pace()
        self._watch: Watch | None = None
        self._room: Room | None = None
        self._help: HelpPages | None = None
        self._board: Board | None = None
        self._line: TypedLine | None = None

    def get_theme_variable_defaults(self) -> dict[str, str]:
        return INKS[self._look]

    def compose(self) -> ComposeResult:
        """All places; while the session is being opened, one word, which is painted in a moment."""
        if self._session is None:
            yield self._splash
        else:
            yield from self._furniture()

    def _furniture(self) -> tuple[Room, HelpPages]:
        from caller.screen.room import Room
        from caller.screen.widgets import HelpPages

        self._room, self._help = Room(), HelpPages(id="help")
        return self._room, self._help

    def on_mount(self) -> None:
        self.animation_level = "none"
        self.look()
        self.set_interval(1 / LOOKS_A_SECOND, self._on_look)
        self.set_interval(1 / LISTENS_A_SECOND, self._listen)
        if self._opening is not None:
            self.call_after_refresh(self._opening.begin)

    async def _furnish(self, session: Live) -> None:
        """The session is there: all places instead of the one word, and the orders given before it came."""
        self._session = session
        for order in self._splash.early:
            session.obey(order)
        await self.mount(*self._furniture())
        await self._splash.remove()
        self._tick()

    async def look_for_session(self) -> None:
        """Whether the session that is being opened has come, or never will."""
        if self._opening is not None and self._opening.failed:
            self.exit()
        elif self._session is None and self._opening is not None and self._opening.session is not None:
            await self._furnish(self._opening.session)

    async def _on_look(self) -> None:
        await self.look_for_session()
        self._tick()

    def _tick(self) -> None:
        """Time moves the class on; keys don't, nor does showing it."""
        if self._session is not None:
            self._session.tick(self._session.desk.now())
        self.look()

    def _listen(self) -> None:
        if self._session is not None:
            self._session.listen()

    def look(self) -> None:
        """Show how things are now."""
        if self._session is None or self._room is None or not self._room.is_mounted:
            return
        if self._watch is None:
            from caller.screen.watch import Watch

            self._watch = Watch(self._session, self._now, self._told)
        board = self._watch.shown()
        if board != self._board:
            self._room.show(board)
            self._board = board
            for shown in self._shown:
                shown(board)

    def on_resize(self, _: events.Resize) -> None:
        if self._help_is_open:  # else it is laid out when it is opened
            self._lay_out_help()

    def on_app_blur(self) -> None:
        if self._room is not None:
            self._room.show_away(AWAY)

    def on_app_focus(self) -> None:
        if self._room is not None:
            self._room.show_away("")

    def action_order(self, value: str) -> None:
        """Obey a key. Help is the screen's own; while it is open, what leaves or starts closes it, or pauses too."""
        order = Order(value)
        if order is Order.HELP:
            self._turn_help_page()
        elif self._help_is_open and order in (*LEAVING, Order.GO):
            self._close_help()
            if order is Order.GO and self._under_way:  # what stands is begun by none who doesn't see it
                self._give(order)
        elif self._session is None and order not in LEAVING:
            self._splash.keep(order)
        else:
            self._give(order)

    def action_page_or_order(self, key: str, value: str) -> None:
        """Turn the page of help that is open; else an order, since pedals type these keys."""
        if self._help_is_open:
            self._turn_help_page(HELP_PAGES[key])
        else:
            self.action_order(value)

    def _give(self, order: Order) -> None:
        leaves = self._session is None or ends_the_class(order, self._session.context.state)
        if self._session is not None:
            self._session.obey(order)
        if leaves:
            self.exit()
        else:
            self.look()

    def action_own_order(self, value: str) -> None:
        """Obey one of the screen's own keys."""
        if OwnOrder(value) is OwnOrder.OTHER_LOOK:
            if self._may_change_all():
                self._look = self._look.other
                self.refresh_css(animate=False)
        elif OwnOrder(value) is OwnOrder.TYPE:
            self._open_line()
        elif self._watch is not None:
            self._watch.facing_class = not self._watch.facing_class
            self.look()

    def check_action(self, action: str, parameters: tuple[object, ...]) -> bool | None:
        """While a line is typed its keys are letters, not orders; Ctrl+Q, Ctrl+C and Esc are what they always are."""
        return not (action in ("order", "own_order", "page_or_order") and self._line is not None)

    def _open_line(self) -> None:
        """The line to type an order on."""
        from caller.screen.typed_line import TypedLine

        if self._session is not None and self._line is None:
            self._line = TypedLine(self._session)
            self.screen.mount(self._line)
            self._line.focus()

    async def on_key(self, key: events.Key) -> None:
        """A line to type on has the focus a moment after it was opened."""
        if self._line is not None:
            await self._line.take_early(key)

    async def on_typed_line_given(self, given: TypedLine.Given) -> None:
        """A line was typed, and obeyed where it was the session's."""
        await self._close_line()
        if given.answer and self._watch is not None:
            self._watch.say(given.answer)
        if given.order is Order.HELP:
            self._turn_help_page()
        elif given.order is Order.QUIT:
            self.exit()
        self.look()

    async def _close_line(self) -> None:
        line, self._line = self._line, None
        if line is not None:
            await line.remove()

    async def action_close_help(self) -> None:
        await self._close_line()
        self._close_help()

    def _close_help(self) -> None:
        if self._help is not None:
            self._help.remove_class("some")
            self._help.page = 0

    @property
    def _help_is_open(self) -> bool:
        return self._help is not None and self._help.has_class("some")

    @property
    def _under_way(self) -> bool:
        """Whether something is told or danced, which a key may stop at any time."""
        return self._session is not None and self._session.context.state in UNDER_WAY

    def _turn_help_page(self, by: int = 1) -> None:
        """Open it, or turn so many pages; after the last it is closed."""
        self._lay_out_help()
        if self._help is None or not self._may_change_all():
            return
        if not self._help.has_class("some"):
            self._help.add_class("some")
        elif by > 0 and self._help.last:
            self._close_help()
        else:
            self._help.page = max(self._help.page + by, 0)

    def _may_change_all(self) -> bool:
        """Whether all of the screen may become another now: a key that is held comes thirty times a second."""
        seconds = self._now()
        if allowed := self._pace.allows(seconds):
            self._pace.changed(seconds)
        return allowed

    def _lay_out_help(self) -> None:
        if self._help is not None and self._session is not None:
            from caller.screen.help import help_blocks

            self._help.blocks = help_blocks(self.size.width - 4, self._session.footing, self._session.context)

    async def action_quit(self) -> None:
        self.action_order(Order.QUIT.value)

    def action_help_quit(self) -> None:  # Ctrl+C leaves, as everywhere in a terminal
        self.action_order(Order.QUIT.value)


def run_screen_with(
    make_session: Callable[[], Live],
    log: Path | None = None,
    look: Look = Look.DARK,
    shown: Iterable[Callable[[Board], None]] = (),
    told: Iterable[str] = (),
) -> None:
    """Show a class until it is left: painted at once, the session made on a thread once the screen is up, and closed
    at the end. What sound and speech libraries print meanwhile goes to the file ``log`` (None: nowhere), not over the
    screen. shown, told: see :class:`ClassScreen`; told is filled while the session is made. Raises OSError where
    ``log`` can't be written, and what making the session raised, when the terminal has been given back."""
    opening = SessionLoader(make_session)
    try:
        run_on_terminal(ClassScreen(opening, look=look, shown=shown, told=told), log)
    finally:
        opening.close()
