"""Who asks to leave is gone in time, whatever the thread that draws does."""

from __future__ import annotations

import os
import signal
import subprocess
import sys
import threading
from collections.abc import Callable

import pytest

from caller.screen.watchdog import Patience, Watchdog, signals_told


class Clock:
    seconds = 10.0

    def __call__(self) -> float:
        return self.seconds


def test_patience_begins_with_the_first_key_and_ends_when_that_is_taken_up() -> None:
    clock = Clock()
    patience = Patience(clock, 0.7)
    assert patience.left_seconds is None
    patience.pressed()
    clock.seconds += 0.5
    patience.pressed()  # again, harder
    assert patience.left_seconds == pytest.approx(0.2)
    patience.answered()  # it was a letter that was typed
    assert patience.left_seconds is None


def test_once_all_is_to_end_there_is_no_way_back_and_the_first_key_counts() -> None:
    clock = Clock()
    patience = Patience(clock, 0.7)
    patience.pressed()
    clock.seconds += 0.5
    patience.asked()
    patience.answered()
    assert patience.left_seconds == pytest.approx(0.2)
    clock.seconds += 0.3
    assert patience.left_seconds == pytest.approx(-0.1)


class Ended:
    """The end of a process, told instead of brought about."""

    def __init__(self) -> None:
        self.statuses: list[int] = []
        self.came = threading.Event()

    def __call__(self, status: int) -> None:
        self.statuses.append(status)
        self.came.set()


def unheard(call: Callable[[], None]) -> None:
    """A thread that draws and takes up nothing."""


def test_a_key_that_is_not_taken_up_ends_it() -> None:
    ended = Ended()
    dog = Watchdog(ended, Patience(within_seconds=0))
    with dog.on_duty():
        dog.pressed(unheard)
        assert ended.came.wait(10)
    assert ended.statuses == [1]


def test_a_key_that_is_taken_up_does_not() -> None:
    ended = Ended()
    patience = Patience(within_seconds=60)
    dog = Watchdog(ended, patience)
    with dog.on_duty():
        dog.pressed(lambda call: call())
        assert patience.left_seconds is None
    assert ended.statuses == []


def test_what_does_not_end_in_time_is_ended_with_the_status_asked_for() -> None:
    ended, bare = Ended(), Ended()
    dog = Watchdog(ended, Patience(within_seconds=0), bare=lambda: bare(0))
    dog.asked(5)  # off duty
    with dog.on_duty(), dog.on_duty():
        assert ended.statuses == []
        dog.asked(143)
        assert ended.came.wait(10)
    assert ended.statuses == [143]
    assert bare.statuses == [0]


def test_the_status_first_asked_for_stands() -> None:
    """A signal is answered by an order of the screen's own, which asks again."""
    ended, clock = Ended(), Clock()
    patience = Patience(clock, 0.7)
    dog = Watchdog(ended, patience)
    with dog.on_duty():
        dog.asked(129)
        clock.seconds += 1
        dog.asked(0)
        assert ended.came.wait(10)
    assert ended.statuses == [129]


HELD_UP = """
import re, signal, time
from caller.screen.watchdog import watchdog
signal.signal(signal.SIGINT, signal.default_int_handler)  # a shell has background jobs ignore it
with watchdog().on_duty():
    try:
        print("up", flush=True)
        {held}
    finally:
        time.sleep(60)
"""


@pytest.mark.skipif(sys.platform == "win32", reason="uses POSIX signals")
@pytest.mark.parametrize("held", ["re.match('(a+)+b', 'a' * 40)", "time.sleep(60)", "while True: pass"])
def test_a_signal_ends_a_process_that_is_held_up(held: str) -> None:
    """In the first the interpreter's own lock is held as well: the end then comes from C."""
    with subprocess.Popen([sys.executable, "-c", HELD_UP.format(held=held)], stdout=subprocess.PIPE) as process:
        assert process.stdout is not None
        assert process.stdout.readline() == b"up\n"
        os.kill(process.pid, signal.SIGINT)
        try:
            assert process.wait(5) in (1, 130)
        finally:
            process.kill()  # or a failure would wait for ever


@pytest.mark.skipif(sys.platform == "win32", reason="uses POSIX signals")
def test_signals_go_on_as_before_afterwards() -> None:
    told: list[int] = []
    came = threading.Event()
    before = signal.signal(signal.SIGTERM, lambda number, _: None)
    try:
        with signals_told(lambda status: (told.append(status), came.set())[0]):
            os.kill(os.getpid(), signal.SIGTERM)
            assert came.wait(10)
        assert told == [128 + signal.SIGTERM]
        assert signal.set_wakeup_fd(-1) == -1
    finally:
        signal.signal(signal.SIGTERM, before)
