"""Single keys of a terminal, each as it is pressed.

Conventions: a key comes as a letter; Enter and Space as "". Where there is no such terminal (a pipe, a log), lines are
taken as they are.
"""

from __future__ import annotations

from collections.abc import Callable, Iterator
from contextlib import contextmanager
from itertools import chain
from typing import TextIO

from caller.screen.plain import lines_typed, short_lines

_TAPS = "\r\n "


@contextmanager
def keys_typed(stream: TextIO, at_end: str) -> Iterator[Callable[[], list[str]]]:
    """What has been pressed since last asked. at_end: what stands for the end of what is typed."""
    try:
        import termios
        import tty
    except ImportError:  # a system without terminals of that kind
        yield lines_typed(chain(short_lines(stream), [at_end]))
        return
    if not stream.isatty():
        yield lines_typed(chain(short_lines(stream), [at_end]))
        return
    number = stream.fileno()
    before = termios.tcgetattr(number)
    try:
        tty.setcbreak(number)
        yield lambda: list(_pressed(number))
    finally:
        termios.tcsetattr(number, termios.TCSADRAIN, before)


def _pressed(number: int) -> Iterator[str]:
    import os
    import select

    while select.select([number], [], [], 0)[0]:
        read = os.read(number, 64).decode(errors="ignore")
        if not read:
            return
        yield from ("" if key in _TAPS else key for key in read)
