"""A full screen on a terminal that is given back, whichever way the screen is left: by a key, a signal, a fault of
ours.

Conventions: Textual draws on ``sys.__stderr__``; the libraries of C print on descriptor 2.
"""

from __future__ import annotations

import asyncio
import os
import signal
import sys
import threading
from collections.abc import Iterator, Sequence
from contextlib import contextmanager
from pathlib import Path
from types import FrameType
from typing import Any, TypeVar

from textual.app import App
from textual.driver import Driver
from textual.events import Key
from textual.filter import LineFilter
from textual.message import Message

from caller.screen.console import FewCharacters, FewColours, few_characters
from caller.screen.watchdog import ENDED_BY_SIGNAL, LEAVING_KEYS, give_terminal_back, remember_terminal, watchdog

ENDING = tuple(getattr(signal, name) for name in ("SIGTERM", "SIGHUP") if hasattr(signal, name))

Returned = TypeVar("Returned")


class FullScreen(App[Returned]):
    """A screen that is left at once, whatever goes wrong within."""

    ENABLE_COMMAND_PALETTE = False
    TITLE = "caller"

    def get_line_filters(self) -> Sequence[LineFilter]:
        """The usual ones; on a terminal with few characters or colours, more."""
        usual = super().get_line_filters()
        if few_characters():
            return (*usual, FewCharacters(), FewColours(bright_grounds=False))
        return (*usual, FewColours(bright_grounds=True)) if self.console.color_system == "standard" else usual

    ENDS_PROGRAM = True  # whether the program is over when it is left

    def get_driver_class(self) -> type[Driver]:
        """The platform's, which tells the watchdog of a key that means to leave, from its own thread."""
        return _watched(super().get_driver_class())

    def exit(self, *words: Any, **more: Any) -> None:
        if self.ENDS_PROGRAM:
            watchdog().asked(0)
        super().exit(*words, **more)

    @property
    def fault(self) -> Exception | None:
        """What went wrong within, None while nothing has."""
        return self._exception

    def _fatal_error(self) -> None:
        """Leave at once. (Textual's own would first draw every value in sight, which takes minutes for a dance.)"""
        self._close_messages_no_wait()


def _watched(driver: type[Driver]) -> type[Driver]:
    def process_message(self: Driver, message: Message) -> None:
        if isinstance(message, Key) and message.key in LEAVING_KEYS:
            watchdog().pressed(self._loop.call_soon_threadsafe)
        driver.process_message(self, message)

    def resumed(self: Any, *told: Any) -> None:
        """Textual's own would put a second screen on the terminal, and take it for what was there before, where the
        program was stopped in any other way than by its own key (SIGSTOP)."""
        if getattr(self, "_must_signal_resume", True):
            driver._sigcont_application(self, *told)  # type: ignore[attr-defined]
        else:
            self._loop.call_soon_threadsafe(self._app.refresh)

    own: dict[str, Any] = {"process_message": process_message}
    if hasattr(driver, "_sigcont_application"):
        own["_sigcont_application"] = resumed
    return type("WatchedDriver", (driver,), own)


def run_on_terminal(screen: FullScreen[Returned], log: Path | None = None) -> Returned | None:
    """Shows it until it is left; what it returns. What sound and speech libraries print meanwhile goes to the file
    ``log`` (None: nowhere), not over the screen.

    Once the terminal is given back, raises what went wrong within, or SystemExit for a signal that asked it to end.
    Raises OSError where ``log`` can't be written.
    """
    remember_terminal()
    try:
        with own_terminal(Path(os.devnull) if log is None else log), leaving_by_signal(screen) as asked:
            returned = screen.run(mouse=False)
    finally:
        give_terminal_back()
    if screen.fault is not None:
        raise screen.fault
    if asked:
        raise SystemExit(ENDED_BY_SIGNAL + asked[0])
    return returned


@contextmanager
def leaving_by_signal(screen: App[Any]) -> Iterator[list[int]]:
    """A signal that asks to end leaves the screen as its own key does: an exception out of a signal would leave the
    terminal half given back. What is yielded holds the signals that came. Off the main thread signals are let be."""
    came: list[int] = []

    def leave(number: int, _: FrameType | None) -> None:
        came.append(number)
        watchdog().asked(ENDED_BY_SIGNAL + number)
        try:
            asyncio.get_running_loop().call_soon_threadsafe(screen.exit)
        except RuntimeError:  # before it has begun to draw, or after it has ended
            raise SystemExit(ENDED_BY_SIGNAL + number) from None

    known = [number for number in ENDING if signal.getsignal(number) is not signal.SIG_IGN]
    main = threading.current_thread() is threading.main_thread()
    before = {number: signal.signal(number, leave) for number in known if main}
    try:
        yield came
    finally:
        for number, was in before.items():
            signal.signal(number, was)


@contextmanager
def own_terminal(log: Path) -> Iterator[None]:
    """The terminal for Textual alone. Where descriptor 2 is no terminal (``2> file``), the one that descriptor 1 leads
    to."""
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
