"""The end of the process: at once, and the same whatever threads still run.

The interpreter's own end would wait for pools of threads, and take its lock from threads that are inside a library of
C++: the first of those to come back for it ends the process by SIGABRT ("terminate called without an active
exception"), as a class did that was left while its voice was being rendered. What has to be closed is closed by whoever
opened it, before this.
"""

from __future__ import annotations

import contextlib
import os
import sys
from typing import NoReturn

from caller.cli import main

INTERRUPTED = 130  # a shell's exit status for Ctrl+C


def program() -> NoReturn:
    """The command ``caller``: runs what its command line says, and ends the process with its exit status."""
    try:
        status = main()
    except SystemExit as left:
        status = _status(left.code)
    except KeyboardInterrupt:
        status = INTERRUPTED
    except BaseException:
        sys.excepthook(*sys.exc_info())
        status = 1
    end(status)


def end(status: int) -> NoReturn:
    """What has been printed goes out first."""
    for stream in (sys.stdout, sys.stderr):
        # Nobody reads on, or it was closed from the start.
        with contextlib.suppress(OSError, ValueError, AttributeError):
            stream.flush()
    os._exit(status)


def _status(code: object) -> int:
    """As the interpreter takes what SystemExit carries."""
    if code is None:
        return 0
    if isinstance(code, int):
        return code & 0xFF
    print(code, file=sys.stderr)
    return 1
