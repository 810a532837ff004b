"""Counts to frames and back, exactly.

Conventions: a position in the dance is a ``Fraction`` of counts; a place in sound is an integer frame; tempo is
counts a minute as a ``Fraction``. A timeline is a value: segments, each with the frame and the count at which it
begins and the tempo that holds from there. Every frame is worked out from the origin of its segment with exact
fractions and rounded once (to the nearest, halves up), so nothing drifts however long it runs.
"""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass
from fractions import Fraction
from math import floor

SECONDS_A_MINUTE = 60


def round_half_up(exact: Fraction) -> int:
    """The nearest whole number, halves upward."""
    return floor(exact + Fraction(1, 2))


@dataclass(frozen=True, slots=True)
class Segment:
    """From ``frame`` (exact, where ``count`` falls) on, at ``tempo`` counts a minute."""

    frame: Fraction
    count: Fraction
    tempo: Fraction


@dataclass(frozen=True, slots=True)
class Timeline:
    """A tempo map at one frame rate (frames a second)."""

    rate: int
    segments: tuple[Segment, ...]

    @classmethod
    def at_tempo(cls, tempo: Fraction, rate: int, count: Fraction = Fraction(0), frame: int = 0) -> Timeline:
        """One tempo throughout, with ``count`` falling on ``frame``. Raises ValueError for a tempo or rate not above
        0."""
        if tempo <= 0 or rate <= 0:
            raise ValueError(f"tempo and rate must be above 0, not {tempo} and {rate}")
        return cls(rate, (Segment(Fraction(frame), count, tempo),))

    def frame_of(self, count: Fraction) -> int:
        """The frame on which a count falls (before the first segment: at the first tempo)."""
        segment = self._segment(lambda s: s.count <= count)
        return round_half_up(segment.frame + (count - segment.count) * self._frames_a_count(segment))

    def count_at(self, frame: int) -> Fraction:
        """The exact count at a frame; inverse of :meth:`frame_of` to within half a frame."""
        segment = self._segment(lambda s: s.frame <= frame)
        return segment.count + (frame - segment.frame) / self._frames_a_count(segment)

    def tempo_at(self, frame: int) -> Fraction:
        return self._segment(lambda s: s.frame <= frame).tempo

    def with_tempo(self, frame: int, tempo: Fraction) -> Timeline:
        """The same until ``frame``, from there at ``tempo``; both agree on the count at that frame."""
        if tempo <= 0:
            raise ValueError(f"tempo must be above 0, not {tempo}")
        kept = tuple(s for s in self.segments if s.frame < frame)
        return Timeline(self.rate, (*kept, Segment(Fraction(frame), self.count_at(frame), tempo)))

    def _frames_a_count(self, segment: Segment) -> Fraction:
        return Fraction(SECONDS_A_MINUTE * self.rate) / segment.tempo

    def _segment(self, begun: Callable[[Segment], bool]) -> Segment:
        """The last segment that has begun; the first where none has."""
        found = self.segments[0]
        for segment in self.segments[1:]:
            if not begun(segment):
                break
            found = segment
        return found
