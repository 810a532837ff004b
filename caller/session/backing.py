"""The music under what a session lets be heard: what it is given of it, and when more of it has come.

Conventions: counts of the route; tempo in counts a minute. Called from the session's thread; nothing waits. Without
music all of it comes to nothing.
"""

from __future__ import annotations

from collections.abc import Sequence
from fractions import Fraction

from caller.calls.music import Passage, accompanied, lead_counts, place_seconds, seam
from caller.calls.take import Take
from caller.session.desk import Desk
from caller.sound.score import Clip


class Backing:
    """over_lu: how far calls stand over it."""

    def __init__(self, desk: Desk, over_lu: float) -> None:
        self._music, self._over_lu = desk.music, over_lu
        self._tempo: Fraction | None = None  # that a take was last made for
        self._clip: Clip | None = None  # the music that it was given

    @property
    def ready(self) -> bool:
        """Whether there is nothing more to wait for before the start."""
        return self._music is None or self._music.ready

    def lead(self, tempo: Fraction, count_in: int, intro: int) -> Fraction:
        """Counts of music before a count-in to the dance's first step, which comes ``intro`` counts after the music's
        first; 0 while there is none for that tempo."""
        song = self._music.song if self._music is not None else None
        if song is None or tempo not in song.versions:
            return Fraction(0)
        return lead_counts(song, intro, count_in)

    def seam(self, take: Take, frame: int, tempo: Fraction) -> int:
        """The first frame, from one on, from which a take can be danced at a tempo: with music, on a beat."""
        song = self._music.song if self._music is not None else None
        return frame if song is None else seam(take, song, frame, tempo)

    def under(
        self, take: Take, passages: Sequence[Passage], intro: int, from_frame: int = 0, ahead_frames: int = 0
    ) -> Take:
        """The take with its music from a frame on, or so long before; what there is none of yet is asked for."""
        if self._music is None or not passages:
            self._tempo = None
            return take
        self._tempo, song = take.timeline.tempo_at(max(from_frame, 0)), self._music.song
        self._clip = None if song is None else song.versions.get(self._tempo)
        if song is None:
            self._music.want(self._tempo)
            return take
        self._music.want(self._tempo, place_seconds(take, song, passages, intro, max(from_frame, 0)))
        return accompanied(take, song, passages, intro, self._over_lu, from_frame, ahead_frames)

    def come(self) -> bool:
        """Whether there is music by now that the last take lacked, or more of it: then it is to be made anew. Told
        once."""
        song = self._music.song if self._music is not None else None
        clip = None if song is None or self._tempo is None else song.versions.get(self._tempo)
        came = clip is not None and clip is not self._clip
        self._clip = clip if came else self._clip
        return came
