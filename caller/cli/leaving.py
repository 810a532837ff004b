"""Leaving a live command, whichever way it is left: by its own order, by a signal, by a fault of ours.

Conventions: a request to end (SIGTERM, SIGHUP) is raised as SystemExit in the main thread, so that the terminal is
given back and the sound is ended on the way out, as by any other exception. Faults of ours are written to a log in the
user's folder for logs, whose path is told.
"""

from __future__ import annotations

import os
import signal
import sys
import time
import traceback
from collections.abc import Iterator
from contextlib import contextmanager
from pathlib import Path
from types import FrameType

from caller.cli.say import Refused, Unwritten, warn
from caller.screen.watchdog import ENDED_BY_SIGNAL, watchdog
from caller.storage.whole import own_folder

TERMINAL_CLOSED = ENDED_BY_SIGNAL + 1  # as for SIGHUP, which comes with it
CRASH_LOG = "crash.log"


def log_file(name: str) -> Path | None:
    """A file in the user's folder for logs; None where none can be kept."""
    import platformdirs

    folder = platformdirs.user_log_path("caller")
    try:
        own_folder(folder)
    except OSError:
        return None
    return folder / name


@contextmanager
def told_where() -> Iterator[None]:
    """Signals end what runs within in an orderly way; an exception that nobody expected is logged, and the user told in
    one sentence where. Call from the main thread."""
    terminals = _terminals()
    with watchdog().on_duty():
        before = {number: signal.signal(number, _leave) for number in _signals()}
        try:
            yield
        except (Refused, Unwritten, BrokenPipeError):
            raise
        except Exception as fault:
            if _terminals() != terminals:  # it was closed: no fault of ours, and nobody to tell
                raise SystemExit(TERMINAL_CLOSED) from fault
            warn(_logged(fault))
            raise SystemExit(1) from fault
        finally:
            for number, was in before.items():
                signal.signal(number, was)


def _terminals() -> tuple[bool, ...]:
    """Which of the standard streams lead to a terminal that is there."""
    return tuple(os.isatty(one) for one in (0, 1, 2))


def _signals() -> tuple[signal.Signals, ...]:
    """Those that ask to end, but for one that the program was started to ignore (nohup)."""
    known = (getattr(signal, name) for name in ("SIGTERM", "SIGHUP") if hasattr(signal, name))
    return tuple(number for number in known if signal.getsignal(number) is not signal.SIG_IGN)


def _leave(number: int, _: FrameType | None) -> None:
    watchdog().asked(ENDED_BY_SIGNAL + number)
    raise SystemExit(ENDED_BY_SIGNAL + number)


def _logged(fault: Exception) -> str:
    what = f"{type(fault).__name__}: {fault}"
    file = log_file(CRASH_LOG)
    if file is not None:
        try:
            with file.open("a", encoding="utf-8", errors="backslashreplace") as log:
                print(time.strftime("%Y-%m-%d %H:%M:%S"), *sys.argv, file=log)
                traceback.print_exception(fault, file=log)
        except OSError:
            file = None
    where = f"details in {file}" if file else "".join(traceback.format_exception(fault))
    return f"internal error ({what}); the class was stopped; {where}"
