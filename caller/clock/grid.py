"""Where the counts of a recording are: the grid that it is danced on.

Conventions: times in seconds from the recording's beginning, exact (``Fraction``); counts as ``Fraction``, count 1 of
the music being 0; tempo in counts a minute. A grid is even, told by tempo and the time of count 1 alone, or it has the
time of each beat, since its tempo wavers. Between two beats counts run evenly; before the first and after the last they
go on at the tempo of the whole. Everything that corrects a grid makes another.
"""

from __future__ import annotations

from bisect import bisect_left, bisect_right
from collections.abc import Sequence
from dataclasses import dataclass, replace
from fractions import Fraction
from itertools import pairwise
from statistics import median

MINUTE = 60
HALF = Fraction(1, 2)
# Beats nearer to even ones than this are told as even: nobody hears it, and nothing need be bent.
EVEN_SECONDS = Fraction(2, 1000)
# Nearer to a beat that is tapped than this (a share of it), one that was there before gives way.
CROWDED = Fraction(6, 10)
BREAK, SLOWING = "break", "slowing"
UNSURE_BELOW, TOLD_SURE = 45, 100


@dataclass(frozen=True, slots=True)
class GridMark:
    """A stretch that the teacher has said something of. kind: ``BREAK`` (the band rests; counts go on evenly) or
    ``SLOWING`` (the beats are where they are played)."""

    kind: str
    first: Fraction
    last: Fraction


@dataclass(frozen=True, slots=True)
class Grid:
    """tempo: of the whole. first_seconds: of count 1. beats: ascending, none for an even grid. first: which of them is
    count 1. sure: of each beat, per cent, where it was found and not told. told: whether a person has set it."""

    tempo: Fraction
    first_seconds: Fraction
    beats: tuple[Fraction, ...] = ()
    first: int = 0
    sure: tuple[int, ...] = ()
    marks: tuple[GridMark, ...] = ()
    told: bool = False

    @classmethod
    def of_beats(cls, beats: Sequence[Fraction], first: int, sure: Sequence[int] = ()) -> Grid:
        """Of two beats at least, in order."""
        spans = [later - sooner for sooner, later in pairwise(beats)]
        tempo = (MINUTE * len(spans) / (beats[-1] - beats[0])).limit_denominator(10_000)
        if not 0 <= first < len(beats) or min(spans) <= 0:
            raise ValueError("beats must ascend, and count 1 be one of them")
        return cls(tempo, beats[first], tuple(beats), first, tuple(sure))

    @property
    def even(self) -> bool:
        """Whether one tempo tells it all."""
        apart = MINUTE / self.tempo
        return all(
            abs(at - self.first_seconds - (n - self.first) * apart) <= EVEN_SECONDS for n, at in enumerate(self.beats)
        )

    @property
    def wavers(self) -> Fraction:
        """How much quicker its quickest eight beats are than its slowest, as a share; 0 where it is even."""
        if self.even or len(self.beats) < 18:
            return Fraction(0)
        spans = [later - sooner for sooner, later in zip(self.beats, self.beats[8:], strict=False)]
        return max(spans) / min(spans) - 1

    def seconds_of(self, count: Fraction) -> Fraction:
        """When a count falls."""
        apart = MINUTE / self.tempo
        if not self.beats:
            return self.first_seconds + count * apart
        place = count + self.first
        if place < 0:
            return self.beats[0] + place * apart
        if place >= len(self.beats) - 1:
            return self.beats[-1] + (place - len(self.beats) + 1) * apart
        whole = int(place)
        return self.beats[whole] + (place - whole) * (self.beats[whole + 1] - self.beats[whole])

    def count_at(self, seconds: Fraction) -> Fraction:
        """Inverse of :meth:`seconds_of`."""
        apart = MINUTE / self.tempo
        if not self.beats:
            return (seconds - self.first_seconds) / apart
        after = bisect_right(self.beats, seconds)
        if after == 0:
            return (seconds - self.beats[0]) / apart - self.first
        if after == len(self.beats):
            return (seconds - self.beats[-1]) / apart + len(self.beats) - 1 - self.first
        sooner, later = self.beats[after - 1], self.beats[after]
        return after - 1 + (seconds - sooner) / (later - sooner) - self.first

    # -- corrected

    def moved(self, counts: int) -> Grid:
        """Count 1 so many counts later."""
        return self.with_first(self.seconds_of(Fraction(counts)))

    def with_first(self, seconds: Fraction) -> Grid:
        """The beat next to a time is count 1."""
        count = round(self.count_at(seconds))
        if self.beats:
            first = min(max(self.first + count, 0), len(self.beats) - 1)
            return replace(self, first=first, first_seconds=self.beats[first], told=True)
        first_seconds = self.seconds_of(Fraction(count))
        # Before the recording there is no count: the first that there is, then.
        return replace(
            self, first_seconds=first_seconds % (MINUTE / self.tempo) if first_seconds < 0 else first_seconds
        )

    def nudged(self, seconds: Fraction) -> Grid:
        """All of it so much later."""
        beats = tuple(at + seconds for at in self.beats)
        first_seconds = self.first_seconds + seconds
        if not beats and first_seconds < 0:
            first_seconds %= MINUTE / self.tempo
        return replace(self, first_seconds=first_seconds, beats=beats, told=True)

    def half_on(self) -> Grid:
        """Every count where the half between it and the next was, which is told and so is sure."""
        if not self.beats:
            return self.nudged(HALF * MINUTE / self.tempo)
        beats = tuple((sooner + later) / 2 for sooner, later in pairwise(self.beats))
        return self._of(beats, min(self.first, len(beats) - 1), [TOLD_SURE for _ in beats] if self.sure else ())

    def doubled(self) -> Grid:
        """Twice as many counts."""
        if not self.beats:
            return replace(self, tempo=2 * self.tempo, told=True)
        between = [(sooner + later) / 2 for sooner, later in pairwise(self.beats)]
        beats = tuple(sorted([*self.beats, *between]))
        return self._of(beats, 2 * self.first, [one for one in self.sure for _ in range(2)][: len(beats)])

    def halved(self) -> Grid:
        """Every other count, count 1 among them."""
        if len(self.beats) < 4:
            return replace(self, tempo=self.tempo / 2, told=True)
        odd = self.first % 2
        return self._of(self.beats[odd::2], self.first // 2, self.sure[odd::2])

    def tapped(self, taps: Sequence[Fraction]) -> Grid:
        """Over the stretch of the taps, two at least and in order, the counts are where they were tapped."""
        apart = Fraction(median(later - sooner for sooner, later in pairwise(taps)))
        crowded = CROWDED * apart
        before = [at for at in self._all(taps[-1]) if at < taps[0] - crowded]
        after = [at for at in self._all(taps[-1]) if at > taps[-1] + crowded]
        beats = (*before, *taps, *after)
        sure = (*self._sure_of(before), *(100 for _ in taps), *self._sure_of(after))
        first = min(range(len(beats)), key=lambda n: abs(beats[n] - self.first_seconds))
        return self._of(beats, first, sure)

    def marked(self, kind: str, first: Fraction, last: Fraction) -> Grid:
        """A stretch marked. Over a break counts go on evenly, as many as fit at the tempo around it."""
        mark = GridMark(kind, first, last)
        others = tuple(one for one in self.marks if one.last <= first or one.first >= last)
        grid = replace(self, marks=tuple(sorted((*others, mark), key=lambda one: one.first)), told=True)
        if kind != BREAK or not self.beats:
            return grid
        before, after = bisect_right(self.beats, first) - 1, bisect_left(self.beats, last)
        if before < 0 or after >= len(self.beats):
            return grid
        around = [*self._spans(before - 8, before), *self._spans(after, after + 8)]
        gap, apart = self.beats[after] - self.beats[before], Fraction(median(around)) if around else MINUTE / self.tempo
        number = max(round(gap / apart), 1)
        filled = tuple(self.beats[before] + gap * n / number for n in range(1, number))
        beats = (*self.beats[: before + 1], *filled, *self.beats[after:])
        sure = (*self.sure[: before + 1], *(100 for _ in filled), *self.sure[after:]) if self.sure else ()
        nearest = min(range(len(beats)), key=lambda n: abs(beats[n] - self.first_seconds))
        return grid._of(beats, nearest, sure)

    def for_tempo(self, tempo: Fraction | None) -> Grid:
        """Doubled or halved, where that is what a dance of that tempo is danced on; as it is where a person set it."""
        grid = self
        if tempo is None or self.told:
            return grid
        while grid.tempo * 3 / 2 < tempo and grid.tempo < 130:
            grid = replace(grid.doubled(), told=False)
        while grid.tempo > tempo * 3 / 2 and grid.tempo > 60:
            grid = replace(grid.halved(), told=False)
        return grid

    # -- how sure it is

    def bars(self, meter: int) -> tuple[tuple[Fraction, Fraction, int], ...]:
        """From when to when each bar is, from the first whole one on, and how sure its beats are, per cent."""
        if not self.sure:
            return ()
        found = []
        for start in range(self.first % meter, len(self.beats) - meter + 1, meter):
            ends = (
                self.beats[start + meter] if start + meter < len(self.beats) else self.beats[-1] + MINUTE / self.tempo
            )
            found.append((self.beats[start], ends, round(sum(self.sure[start : start + meter]) / meter)))
        return tuple(found)

    def unsure(self, meter: int) -> tuple[tuple[Fraction, Fraction], ...]:
        """Stretches of bars that are not sure and that nobody has marked."""
        found: list[tuple[Fraction, Fraction]] = []
        for first, last, sure in self.bars(meter):
            marked = any(mark.first < last and mark.last > first for mark in self.marks)
            if sure >= UNSURE_BELOW or marked:
                continue
            if found and found[-1][1] == first:
                found[-1] = (found[-1][0], last)
            else:
                found.append((first, last))
        return tuple(found)

    def _of(self, beats: tuple[Fraction, ...], first: int, sure: Sequence[int]) -> Grid:
        made = Grid.of_beats(beats, first, sure if len(sure) == len(beats) else ())
        return replace(made, marks=self.marks, told=True)

    def _all(self, beyond: Fraction) -> Sequence[Fraction]:
        """Its beats; of an even one those that there are up to a time."""
        if self.beats:
            return self.beats
        counts = range(-int(self.first_seconds * self.tempo / MINUTE), int(self.count_at(beyond)) + 2)
        return [self.seconds_of(Fraction(count)) for count in counts]

    def _sure_of(self, beats: Sequence[Fraction]) -> tuple[int, ...]:
        known = dict(zip(self.beats, self.sure, strict=False))
        return tuple(known.get(at, 100) for at in beats)

    def _spans(self, first: int, last: int) -> list[Fraction]:
        return [later - sooner for sooner, later in pairwise(self.beats[max(first, 0) : last + 1])]
