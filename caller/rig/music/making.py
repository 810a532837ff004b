"""Music made ready in the background for the tempos at which it is danced to.

Conventions: tempo in counts a minute. One thread of its own works through what is asked for: what was asked for last
comes first, and what was asked for before and isn't made yet is dropped for it, but for the tempos that are foreseen.
Of what is asked for, the half minute around the place that is danced is there first, so that it sounds soon; the whole
is made beside it, and takes its place; a jump beyond that half minute has one of its own made first.
The properties may be read from any thread and never wait.
"""

from __future__ import annotations

import contextlib
import threading
from collections.abc import Callable, Sequence
from concurrent.futures import ThreadPoolExecutor
from dataclasses import replace
from fractions import Fraction
from typing import Protocol

from caller.calls.music import Song
from caller.clock.grid import Grid
from caller.rig.music.decode import NoMusic
from caller.rig.music.workshop import GivenUp, Recorded
from caller.sound.score import Clip
from caller.transport.tempo import HALF, HELD

END_SECONDS = 1.0
# So far into an excerpt another is begun, should it be asked for again; and beyond that, since it holds no more, even
# where the whole is under way, which has to begin anew.
AGAIN_SECONDS, HELD_SECONDS = 15, 24


class Versions(Protocol):
    """Where versions come from; see ``Workshop``."""

    def evened(self, recorded: Recorded, grid: Grid, given_up: Callable[[], bool], *, hurry: bool) -> Recorded: ...

    def version(
        self,
        recorded: Recorded,
        speed: Fraction,
        given_up: Callable[[], bool],
        *,
        hurry: bool,
        excerpt_at: Fraction | None = None,
    ) -> Clip: ...

    def excerpt(
        self, recorded: Recorded, speed: Fraction, at_seconds: Fraction, given_up: Callable[[], bool]
    ) -> Clip | None: ...

    def tidy(self) -> None: ...


def song_of(recorded: Recorded, grid: Grid) -> Song:
    """A recording without any version yet."""
    return Song(grid.tempo, grid.first_seconds, recorded.gain, recorded.loudest_lufs)


def usual_tempos(full: Fraction) -> tuple[Fraction, ...]:
    """Of a dance: full speed, with the pedal held, and half."""
    return full, full * HELD, full * HALF


class Making:
    """A song, and its versions as they come. foreseen: the tempos made before anybody asks, in that order. awaited: a
    start waits for the first of them."""

    def __init__(
        self, workshop: Versions, recorded: Recorded, grid: Grid, foreseen: Sequence[Fraction], awaited: bool = True
    ) -> None:
        self.song = song_of(recorded, grid)
        self._workshop, self._recorded, self._grid = workshop, recorded, grid
        self._foreseen = tuple(foreseen)
        self._awaited = next(iter(foreseen), None) if awaited else None
        self._wanted, self._at_seconds = self._awaited, Fraction(0)
        self._begun: dict[Fraction, Fraction] = {}  # of which there is an excerpt, from when on
        self._whole: frozenset[Fraction] = frozenset()
        self._failed: dict[Fraction, str] = {}
        self._asked = threading.Condition()
        self._closed = False
        self._thread = threading.Thread(target=self._work, name="music", daemon=True)
        self._thread.start()

    @property
    def ready(self) -> bool:
        """Whether the version that is awaited is there, or can't be made."""
        return self._awaited is None or self._awaited in self.song.versions or self._awaited in self._failed

    @property
    def says(self) -> str:
        """How the version asked for last is; "" when it is there."""
        wanted = self._wanted
        if wanted is None or wanted in self.song.versions:
            return ""
        return self._failed.get(wanted) or f"being made ready for {float(wanted):.4g}"

    def want(self, tempo: Fraction, at_seconds: Fraction = Fraction(0)) -> None:
        with self._asked:
            self._wanted, self._at_seconds = tempo, at_seconds
            self._asked.notify()

    def close(self) -> None:
        with self._asked:
            self._closed = True
            self._asked.notify()
        self._thread.join(END_SECONDS)

    def _known(self, tempo: Fraction) -> bool:
        return tempo in self._whole or tempo in self._failed

    def _next(self) -> Fraction | None:
        """What is to be made now; None where there is nothing."""
        asked = (self._wanted, *self._foreseen)
        return next((tempo for tempo in asked if tempo is not None and not self._known(tempo)), None)

    def _work(self) -> None:
        while True:
            with self._asked:
                self._asked.wait_for(lambda: self._closed or self._next() is not None)
                tempo = self._next()
            if self._closed or tempo is None:
                self._workshop.tidy()
                return
            with contextlib.suppress(GivenUp):
                self._make(tempo)

    def _make(self, tempo: Fraction) -> None:
        def given_up() -> bool:
            return self._closed or self._next() != tempo

        def elsewhere() -> bool:
            return given_up() or (tempo == self._wanted and tempo in self._begun and not self._held(HELD_SECONDS))

        hurry = not self.ready  # nobody dances yet, and the start waits
        try:
            even = self._workshop.evened(self._recorded, self._grid, given_up, hurry=hurry)

            def whole(excerpt_at: Fraction | None) -> Clip:
                speed = tempo / self.song.tempo
                return self._workshop.version(even, speed, elsewhere, hurry=hurry, excerpt_at=excerpt_at)

            self._add(tempo, self._in_turn(even, tempo, whole, given_up, hurry))
        except NoMusic as fault:
            self._failed = {**self._failed, tempo: str(fault)}
            return
        self._whole |= {tempo}

    def _in_turn(
        self,
        even: Recorded,
        tempo: Fraction,
        whole: Callable[[Fraction | None], Clip],
        given_up: Callable[[], bool],
        hurry: bool,
    ) -> Clip:
        """The whole, and before it the excerpt around the place that is danced, where the tempo is waited for: side by
        side, but where a start waits for the excerpt alone. Raises NoMusic, GivenUp."""
        if tempo != self._wanted or self._held(AGAIN_SECONDS):
            return whole(self._begun.get(tempo))
        self._begun.pop(tempo, None)
        at_seconds = self._at_seconds
        if hurry:
            self._begin(even, tempo, at_seconds, given_up)
            return whole(at_seconds)
        with ThreadPoolExecutor(1, "music whole") as aside:
            made = aside.submit(whole, at_seconds)
            self._begin(even, tempo, at_seconds, given_up)
            return made.result()

    def _begin(self, even: Recorded, tempo: Fraction, at_seconds: Fraction, given_up: Callable[[], bool]) -> None:
        clip = self._workshop.excerpt(even, tempo / self.song.tempo, at_seconds, given_up)
        if clip is not None:
            self._begun[tempo] = at_seconds
            self._add(tempo, clip)

    def _held(self, within_seconds: int) -> bool:
        """Whether the place that is danced is so far into the excerpt of the tempo wanted at most."""
        known = None if self._wanted is None else self._begun.get(self._wanted)
        return known is not None and known <= self._at_seconds <= known + within_seconds

    def _add(self, tempo: Fraction, clip: Clip) -> None:
        self.song = replace(self.song, versions={**self.song.versions, tempo: clip})
