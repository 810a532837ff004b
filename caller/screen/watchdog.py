"""A watchdog outside the thread that draws: whoever asks to leave is gone within a second, whatever that thread does.

Conventions: seconds are ``time.monotonic``. There is one for the process, on duty while a live command runs; off duty
nothing that is told to it has any effect. It waits on a thread of its own, and, in case that one is kept from running,
on one of C's (faulthandler), which needs nobody's leave. Asking to leave is: an order of the screen's own
(``asked``), a signal that asks to end (told by the interpreter in C, before any handler runs), or a key that means it
(``pressed``), which is answered as soon as the thread that draws takes it up.
"""

from __future__ import annotations

import contextlib
import faulthandler
import os
import select
import signal
import sys
import threading
import time
from collections.abc import Callable, Iterator
from functools import cache
from typing import Any

WITHIN_SECONDS = 0.7
BARE_SECONDS = 0.95  # a busy machine's thread comes late: C has no terminal to give back, and no status but 1
ENDED_BY_SIGNAL = 128  # a shell's exit status for a signal is this and its number (POSIX)
GIVEN_UP = 1
LEAVING_KEYS = frozenset({"q", "ctrl+c", "ctrl+q"})
_SIGNALS = ("SIGTERM", "SIGHUP", "SIGINT")
# The other screen, mouse, focus and pasting reports, keys told in full, the cursor, colours (xterm's private modes; the
# kitty keyboard protocol): what a screen that is still up has switched on.
_GIVE_BACK = (
    b"\x1b[?1049l\x1b[?1000l\x1b[?1003l\x1b[?1015l\x1b[?1006l\x1b[?1004l\x1b[?2004l\x1b[?2048l\x1b[<u\x1b[?25h\x1b[0m"
)


class Patience:
    """When it is over: nothing but the rule. Any thread."""

    def __init__(self, now: Callable[[], float] = time.monotonic, within_seconds: float = WITHIN_SECONDS) -> None:
        self._now, self._within = now, within_seconds
        self.deadline: float | None = None
        self.leaving = False

    def pressed(self) -> None:
        """A key that means to leave; the one who draws has to take it up."""
        if self.deadline is None:
            self.deadline = self._now() + self._within

    def answered(self) -> None:
        """It has been taken up, and may have meant something else (a letter typed, help closed)."""
        if not self.leaving:
            self.deadline = None

    def asked(self) -> None:
        """All is to end; there is no way back."""
        self.pressed()
        self.leaving = True

    @property
    def left_seconds(self) -> float | None:
        """Until it is over; None while nobody wants to leave."""
        return None if self.deadline is None else self.deadline - self._now()


class Watchdog:
    """Ends the process by ``end`` when patience is over. end: given the exit status, doesn't return. bare: sees to it
    that the process ends a little later, should nothing of this run any more."""

    def __init__(
        self,
        end: Callable[[int], object],
        patience: Patience | None = None,
        bare: Callable[[], object] = lambda: None,
    ) -> None:
        self._bare = bare
        self._patience = patience or Patience()
        self._end = end
        self._told = threading.Condition()
        self._on_duty = False
        self._status = GIVEN_UP

    def pressed(self, answer: Callable[[Callable[[], None]], object]) -> None:
        """answer: hands a call to the thread that draws."""
        self._tell(self._patience.pressed)
        with contextlib.suppress(RuntimeError):  # it has ended already
            answer(lambda: self._tell(self._patience.answered))

    def asked(self, status: int = GIVEN_UP) -> None:
        """status: the process's, where it has to be ended. Asked again, the first stands."""
        if self._on_duty:
            self._status = self._status if self._patience.leaving else status
            self._tell(self._patience.asked)
            self._bare()

    @contextlib.contextmanager
    def on_duty(self) -> Iterator[None]:
        """Once asked to end it stays on duty beyond this: until the process has ended."""
        if self._on_duty:
            yield
            return
        self._on_duty = True
        threading.Thread(target=self._watch, name="watchdog", daemon=True).start()
        with signals_told(self.asked):
            try:
                yield
            finally:
                if not self._patience.leaving:
                    self._on_duty = False
                    self._tell(self._patience.answered)

    def _tell(self, what: Callable[[], None]) -> None:
        with self._told:
            what()
            self._told.notify()

    def _watch(self) -> None:
        with self._told:
            while self._on_duty:
                left = self._patience.left_seconds
                if left is not None and left <= 0:
                    self._end(self._status)
                    return
                self._told.wait(left)


@contextlib.contextmanager
def signals_told(asked: Callable[[int], None]) -> Iterator[None]:
    """Each signal that asks to end is told at once, by C and a thread of its own: a handler in Python runs only when
    the main thread comes to it. Off the main thread without effect."""
    if threading.current_thread() is not threading.main_thread() or sys.platform == "win32":
        yield
        return
    reading, writing = os.pipe()
    os.set_blocking(writing, False)
    wanted = {number for name in _SIGNALS if _counts(number := getattr(signal, name))}

    def listen() -> None:
        for number in _numbers(reading):
            if number in wanted:
                asked(ENDED_BY_SIGNAL + number)
        os.close(reading)

    threading.Thread(target=listen, name="signals", daemon=True).start()
    before = signal.set_wakeup_fd(writing, warn_on_full_buffer=False)
    try:
        yield
    finally:
        signal.set_wakeup_fd(before)
        os.close(writing)


def _numbers(reading: int) -> Iterator[int]:
    """Of the signals that come by a pipe, until it is closed. A terminal that is closed counts as its signal, which the
    system sends only to those it controls."""
    poll = select.poll()
    poll.register(reading, select.POLLIN)
    for terminal in (0, 1, 2) if _counts(signal.SIGHUP) else ():
        if os.isatty(terminal):
            poll.register(terminal, 0)
    while True:
        for descriptor, event in poll.poll():
            if descriptor != reading:
                poll.unregister(descriptor)
                if event & select.POLLHUP:
                    os.kill(os.getpid(), signal.SIGHUP)
            elif number := os.read(reading, 1):
                yield number[0]
            else:
                return


def _counts(number: signal.Signals) -> bool:
    """Not one that the program was started to ignore (nohup)."""
    return signal.getsignal(number) is not signal.SIG_IGN


@cache
def watchdog() -> Watchdog:
    """The process's own."""
    return Watchdog(_give_up, bare=_end_from_c)


_terminal: list[tuple[int, Any]] = []


def remember_terminal() -> None:
    """As it is before a screen is put on it, so that it can be given back by force."""
    with contextlib.suppress(Exception):
        import termios

        descriptor = next(one for one in (0, 1, 2) if os.isatty(one))
        _terminal[:] = [(os.dup(descriptor), termios.tcgetattr(descriptor))]


def give_terminal_back() -> None:
    """As it was remembered, whatever the screen has left of it."""
    for descriptor, settings in _terminal:
        with contextlib.suppress(Exception):  # it is gone
            import termios

            termios.tcsetattr(descriptor, termios.TCSANOW, settings)
        os.close(descriptor)
    _terminal.clear()


def _give_up(status: int) -> None:
    with contextlib.suppress(Exception):
        import termios

        for descriptor, settings in _terminal:
            os.set_blocking(descriptor, False)  # a terminal that takes nothing must not keep us
            with contextlib.suppress(OSError):
                os.write(descriptor, _GIVE_BACK)
            os.set_blocking(descriptor, True)  # it is shared with the shell
            termios.tcsetattr(descriptor, termios.TCSANOW, settings)
    os._exit(status)


def _end_from_c() -> None:
    faulthandler.dump_traceback_later(BARE_SECONDS, exit=True, file=_nowhere())


@cache
def _nowhere() -> Any:
    return open(os.devnull, "w")
