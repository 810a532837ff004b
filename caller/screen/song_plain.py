"""A recording's beat tapped, heard and corrected, by single keys or in lines that are typed.

Conventions: the loops look, say and wait; what is typed is handed in, a key or a line at a time. Times are seconds of
the recording. On a terminal each key acts at once; elsewhere each letter of a line does.
"""

from __future__ import annotations

from collections.abc import Callable, Sequence
from typing import Protocol, TextIO

LOOK_SECONDS = 0.005
DONE, KEEP, LEAVE = "done", "keep", "leave"
TAP_TOLD = f'Press Enter on each count, from count 1 on, 16 times or more; then type "{DONE}" ("{LEAVE}" leaves).'
HEAR_TOLD = """\
Clicks are laid over the counts, the first of each bar higher.
  + -  5 ms later, sooner          > <  count 1 a beat later, sooner     h  half a beat on
  * /  twice, half as many counts  c    count 1 is here                  f  the first step is here
  t    tap: Enter on each count of a stretch, then t again               u  undo
  b    a break begins, ends here   r    a slowing begins, ends here
  [ ]  10 s back, on               n    to the next place that is not sure
  k    keep it                     q    leave it as it was"""
OVER_TOLD = "The recording is over: k keeps what you have set, q leaves it as it was, [ goes 10 s back."

Typed = Callable[[], Sequence[str]]
Pause = Callable[[float], object]


class Trying(Protocol):
    """A recording that plays. fault: why it can't be heard, "" while it can."""

    @property
    def fault(self) -> str: ...

    @property
    def over(self) -> bool: ...

    def look(self) -> None: ...

    def at_seconds(self) -> float | None: ...


class Correcting(Protocol):
    """What keys do. key: one of those of HEAR_TOLD; at: where in the recording it was pressed. What has been done is
    told in a sentence."""

    @property
    def tapping(self) -> bool: ...

    def pressed(self, key: str, at: float) -> str: ...

    def tap(self, at: float) -> None: ...


def tap_in_lines(trial: Trying, out: TextIO, typed: Typed, pause: Pause) -> tuple[float, ...]:
    """The times tapped; none where it was left."""
    print(TAP_TOLD, file=out, flush=True)
    taps: list[float] = []
    while not trial.over:
        trial.look()
        for line in typed():
            word, at = line.strip().lower(), trial.at_seconds()
            if word == LEAVE:
                return ()
            if word == DONE:
                return tuple(taps)
            if at is not None and at >= 0:
                taps.append(at)
        pause(LOOK_SECONDS)
    return tuple(taps)


def hear(trial: Trying, correcting: Correcting, out: TextIO, typed: Typed, pause: Pause) -> bool:
    """Whether what was heard is to be kept."""
    print(HEAR_TOLD, file=out, flush=True)
    told = False
    while True:
        trial.look()
        if trial.over and not told:
            print(OVER_TOLD, file=out, flush=True)
        told = trial.over
        for line in typed():
            kept = _typed(line, trial, correcting, out)
            if kept is not None:
                if not kept:
                    print("Left as it was.", file=out, flush=True)
                return kept
        pause(LOOK_SECONDS)


def _typed(line: str, trial: Trying, correcting: Correcting, out: TextIO) -> bool | None:
    """Whether it is kept, or left; None where it goes on."""
    word = line.strip().lower()
    if word in (KEEP, "k", LEAVE, "q"):
        return word in (KEEP, "k")
    at = trial.at_seconds()
    if at is None:
        return None
    if correcting.tapping and not word:
        correcting.tap(at)
        return None
    for key in word or "?":
        print(correcting.pressed(key, at) or HEAR_TOLD, file=out, flush=True)
    return None
