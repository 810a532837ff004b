"""A recording's beat tapped and checked in plain lines, typed one at a time.

Conventions: the loops look, say and wait; what is typed is handed in. Times are seconds of the recording.
"""

from __future__ import annotations

from collections.abc import Callable, Sequence
from typing import Protocol, TextIO

LOOK_SECONDS = 0.005
DONE, KEEP, LEAVE = "done", "keep", "leave"
NUDGE_SECONDS = 0.005
TAP_TOLD = f'Press Enter on each count, from count 1 on, 16 times or more; then type "{DONE}" ("{LEAVE}" leaves).'
HEAR_TOLD = (
    "Clicks are laid over the counts. They come too late: -, too soon: + (5 ms each); on the wrong count: "
    f'< or > (a count sooner or later). "{KEEP}" keeps it, "{LEAVE}" leaves.'
)

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


def hear_in_lines(trial: Trying, move: Callable[[float, int], str], out: TextIO, typed: Typed, pause: Pause) -> bool:
    """Whether what was heard is to be kept. move: lays the clicks so many seconds and counts later, and says where
    count 1 is then."""
    print(HEAR_TOLD, file=out, flush=True)
    moves = {"+": (NUDGE_SECONDS, 0), "-": (-NUDGE_SECONDS, 0), ">": (0.0, 1), "<": (0.0, -1)}
    while not trial.over:
        trial.look()
        for word in (line.strip().lower() for line in typed()):
            if word in (KEEP, LEAVE):
                return word == KEEP
            signs = [moves[sign] for sign in word if sign in moves]
            seconds, counts = sum(one for one, _ in signs), sum(one for _, one in signs)
            print(move(seconds, counts) if signs else HEAR_TOLD, file=out, flush=True)
        pause(LOOK_SECONDS)
    return False
