"""Counts to frames and back, exactly.

Conventions: a position in the dance is a ``Fraction`` of counts; a place in sound is an integer frame; tempo is counts
a minute as a ``Fraction``. A timeline is a value: segments, each with the frame and the count at which it begins and
the tempo that holds from there. Every frame is worked out from the origin of its segment with exact fractions and
rounded once (to the nearest, halves up), so nothing drifts however long it runs.
"""

from __future__ import annotations

from bisect import bisect_right
from dataclasses import dataclass
from fractions import Fraction
from math import floor

SECONDS_A_MINUTE = 60


def round_half_up(exact: Fraction) -> int:
    """The nearest whole number, halves upward."""
    return floor(exact + Fraction(1, 2))


@dataclass(frozen=True, slots=True)
class TempoSegment:
    """From ``frame`` (exact, where ``count`` falls) on, at ``tempo`` counts a minute."""

    frame: Fraction
    count: Fraction
    tempo: Fraction


@dataclass(frozen=True, slots=True)
class Timeline:
    """A tempo map at one frame rate (frames a second). segments: in order, one at least."""

    rate: int
    segments: tuple[TempoSegment, ...]

    @classmethod
    def at_tempo(cls, tempo: Fraction, rate: int, count: Fraction = Fraction(0), frame: int = 0) -> Timeline:
        """One tempo throughout, with ``count`` falling on ``frame``.

        Raises ValueError for a tempo or a rate not above 0.
        """
        if tempo <= 0 or rate <= 0:
            raise ValueError(f"tempo and rate must be above 0, not {tempo} and {rate}")
        return cls(rate, (TempoSegment(Fraction(frame), count, tempo),))

    def frame_of(self, count: Fraction) -> int:
        """The frame on which a count falls (before the first segment: at the first tempo)."""
        return round_half_up(self._exact_frame(count))

    def seconds_of(self, count: Fraction) -> Fraction:
        """When a count falls, in seconds from frame 0: exact, not by way of a rounded frame."""
        return self._exact_frame(count) / self.rate

    def count_at(self, frame: int) -> Fraction:
        """The exact count at a frame; inverse of :meth:`frame_of` to within half a frame."""
        segment = self._at_frame(frame)
        return segment.count + (frame - segment.frame) / self._frames_a_count(segment)

    def tempo_at(self, frame: int) -> Fraction:
        """The tempo that holds from a frame on."""
        return self._at_frame(frame).tempo

    def with_tempo(self, frame: int, tempo: Fraction) -> Timeline:
        """The same until ``frame``, from there at ``tempo``; both agree on the count at that frame.

        Tempo changes that were to come later are dropped. Raises ValueError for a tempo not above 0.
        """
        if tempo <= 0:
            raise ValueError(f"tempo must be above 0, not {tempo}")
        change = TempoSegment(Fraction(frame), self.count_at(frame), tempo)
        # Before all segments there is the first one's tempo: where nothing else is left of it, an empty one keeps it.
        kept = tuple(s for s in self.segments if s.frame < frame) or (
            TempoSegment(change.frame, change.count, self.segments[0].tempo),
        )
        return Timeline(self.rate, (*kept, change))

    def _exact_frame(self, count: Fraction) -> Fraction:
        # A count on a seam belongs to the later segment; both put it on the same frame.
        begun = bisect_right(self.segments, count, key=lambda segment: segment.count)
        segment = self.segments[max(begun - 1, 0)]
        return segment.frame + (count - segment.count) * self._frames_a_count(segment)

    def _frames_a_count(self, segment: TempoSegment) -> Fraction:
        return Fraction(SECONDS_A_MINUTE * self.rate) / segment.tempo

    def _at_frame(self, frame: int) -> TempoSegment:
        """The last segment that has begun; the first where none has."""
        begun = bisect_right(self.segments, Fraction(frame), key=lambda segment: segment.frame)
        return self.segments[max(begun - 1, 0)]


@dataclass(frozen=True, slots=True)
class HeardTimeline:
    """What is heard: a timeline whose frame 0 is heard at ``zero_seconds``; ``start`` the first count danced, ``end``
    the one after the last; ``take``: numbers the starts, so that going elsewhere is told from another tempo."""

    timeline: Timeline
    zero_seconds: float
    start: Fraction
    end: Fraction
    take: int
