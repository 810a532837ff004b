"""A grid corrected by ear, a key at a time, while its recording plays with clicks on its counts.

Conventions: times in seconds of the recording. Each key makes another grid, which is laid under what
plays, and can be undone.
"""

from __future__ import annotations

from collections.abc import Callable
from fractions import Fraction

from caller.clock.grid import BREAK, SLOWING, Grid
from caller.rig.music.trying import LEAST_STRETCH_TAPS, Trial, steadied

NUDGE = Fraction(5, 1000)
JUMP_SECONDS = 10.0
BEFORE_SECONDS = 4.0  # before a place that is not sure
MARKS = {"b": BREAK, "r": SLOWING}
MARK_WORDS = {BREAK: "A break", SLOWING: "A slowing"}
MEANS = {BREAK: "counts go on evenly", SLOWING: "counts stay where they are (t to tap them)"}


class Correction:
    """intro: counts from count 1 to the first step; meter: counts a bar."""

    def __init__(self, trial: Trial, grid: Grid, meter: int = 4, intro: int = 0) -> None:
        self._trial, self._meter, self._intro = trial, meter, intro
        self._grids = [grid]
        self._done: list[str] = []  # what made each of them but the first
        self._taps: list[float] | None = None
        self._marked: tuple[str, Fraction] | None = None
        trial.lay(grid, meter)

    @property
    def grid(self) -> Grid:
        return self._grids[-1]

    @property
    def tapping(self) -> bool:
        return self._taps is not None

    def tap(self, at: float) -> None:
        if self._taps is not None:
            self._taps.append(at)

    def pressed(self, key: str, at: float) -> str:
        here = Fraction(at).limit_denominator(10_000)
        changes: dict[str, tuple[str, Callable[[], Grid]]] = {
            "+": ("5 ms later", lambda: self.grid.nudged(NUDGE)),
            "-": ("5 ms sooner", lambda: self.grid.nudged(-NUDGE)),
            ">": ("Count 1 a beat later", lambda: self.grid.moved(1)),
            "<": ("Count 1 a beat sooner", lambda: self.grid.moved(-1)),
            "h": ("Half a beat on", self.grid.half_on),
            "*": ("Twice as many counts", self.grid.doubled),
            "/": ("Half as many counts", self.grid.halved),
            "c": ("Count 1 here", lambda: self.grid.with_first(here)),
        }
        if key in changes:
            done, change = changes[key]
            return self._change(done, change())
        others: dict[str, Callable[[], str]] = {
            "t": self._tapped,
            "u": self._undone,
            "n": lambda: self._next(here),
            "f": lambda: self._first_step(here),
        }
        if key in others:
            return others[key]()
        if key in MARKS:
            return self._mark(MARKS[key], here)
        if key in "[]":
            there = max(at + (JUMP_SECONDS if key == "]" else -JUMP_SECONDS), 0.0)
            self._trial.go_to(there)
            return f"At {clock(there)}."
        return ""

    def _change(self, done: str, grid: Grid) -> str:
        self._grids.append(grid)
        self._done.append(done)
        self._trial.lay(grid, self._meter)
        return f"{done}: {self._stands}"

    def _first_step(self, here: Fraction) -> str:
        """Count 1 so many counts before it as the sheet's intro has, where the recording has them."""
        there = self.grid.with_first(here)
        before = -int(there.count_at(there.beats[0] if there.beats else Fraction(0)))
        if before < self._intro:
            short = f"the sheet has {self._intro} counts before it, the recording {before}"
            return f"The first step can't be at {clock(here)}: {short}; press f later, or c where count 1 is."
        return self._change(f"The first step at {clock(here)}", there.moved(-self._intro))

    def _undone(self) -> str:
        if not self._done:
            return "There is nothing to undo."
        del self._grids[-1]
        undone = self._done.pop()
        self._trial.lay(self.grid, self._meter)
        return f"Undone ({undone[0].lower()}{undone[1:]}): {self._stands}"

    @property
    def _stands(self) -> str:
        return f"count 1 at {float(self.grid.first_seconds):.3f} s, {float(self.grid.tempo):.4g} counts a minute."

    def _tapped(self) -> str:
        if self._taps is None:
            self._taps = []
            return "Press Enter on each count; t when the stretch is over."
        taps, self._taps = self._taps, None
        if len(taps) < LEAST_STRETCH_TAPS:
            return f"{LEAST_STRETCH_TAPS} taps at least are needed; the counts are as they were."
        grid = self.grid.tapped([Fraction(at).limit_denominator(10_000) for at in steadied(taps)])
        return self._change(f"{len(taps)} taps from {clock(taps[0])} to {clock(taps[-1])}", grid)

    def _mark(self, kind: str, here: Fraction) -> str:
        if self._marked is None or self._marked[0] != kind:
            self._marked = kind, here
            return f"{MARK_WORDS[kind]} begins at {clock(here)}; the same key where it ends."
        first, last = sorted((self._marked[1], here))
        self._marked = None
        if first == last:
            return "It would end where it begins; the same key again, later."
        return self._change(
            f"{MARK_WORDS[kind]} from {clock(first)} to {clock(last)}, where {MEANS[kind]}",
            self.grid.marked(kind, first, last),
        )

    def _next(self, here: Fraction) -> str:
        unsure = self.grid.unsure(self._meter)
        ahead = next((first for first, _ in unsure if first > here + Fraction(BEFORE_SECONDS)), None)
        if ahead is None:
            return "No place further on is unsure."
        self._trial.go_to(max(float(ahead) - BEFORE_SECONDS, 0.0))
        return f"Not sure from {clock(ahead)} on."


def clock(seconds: Fraction | float) -> str:
    """Minutes and seconds, to a tenth: 1:04.5."""
    tenths = round(10 * float(seconds))
    return f"{tenths // 600}:{tenths % 600 / 10:04.1f}"
