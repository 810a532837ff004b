"""What a lesson lets be heard: tellings and goes, made with the desk's voice.

Conventions: a whole go is kept until another stage, speed, manner or way of dancing asks for another. Called from the
session's thread; making a go takes some tens of milliseconds.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import replace
from fractions import Fraction

from caller.calls.score import retimed
from caller.calls.take import Take
from caller.dance.walls import Dance
from caller.session.desk import Desk
from caller.teaching.play import Floors, Piece, Told, take_of_stage, told
from caller.teaching.running import Running, begin

_MOST_KEPT = 4


class Pieces:
    """floors: the dance as it is, and the easier way. over_lu: how far calls stand over the count track."""

    def __init__(self, desk: Desk, floors: Floors, over_lu: float) -> None:
        self._desk, self._floors, self._over_lu = desk, floors, over_lu
        self._kept: dict[object, Take] = {}

    def dance(self, running: Running) -> Dance:
        """What is danced in a stage; the dance as it is when all is over."""
        return self._floors.plain if running.over else self._floors.of_stage(running.stage)

    def of(self, running: Running, tempo: Fraction) -> Piece:
        """What is heard now: what the stage says first, else its next go, at that tempo."""
        stage = running.stage
        if not running.announced and (running.says or not stage.danced):
            return self.told(running.says, Fraction(0) if stage.danced else stage.pause_seconds)
        return self.go(running, tempo)

    def told(self, sentences: Sequence[str], pause: Fraction = Fraction(0)) -> Told:
        voice = self._desk.voice
        return told(sentences, voice, voice.clip, pause=pause, rate=self._desk.speaker.rate)

    def go(self, running: Running, tempo: Fraction) -> Take:
        """The stage's next go, whole."""
        key = (running.stage, tempo)
        if key not in self._kept:
            kept = list(self._kept.items())[1 - _MOST_KEPT :]
            self._kept = dict([*kept, (key, self._take(running, tempo))])
        return self._kept[key]

    def rest(self, running: Running, tempo: Fraction, start: Fraction) -> Take:
        """What is left of a go from a count on, counted in by a bar."""
        bar = self.dance(running).routine.header.meter.counts
        return self._take(running, tempo, start, bar)

    def renewed(self, take: Take, frame: int, running: Running, tempo: Fraction, end: Fraction) -> Take:
        """A go as it is to be from a frame of it on."""
        asked = replace(take, dance=self.dance(running), end=end)
        voice, manner = self._desk.voice, running.stage.manners[0]
        return retimed(asked, frame, tempo, voice, voice.clip, manner=manner)

    def shown(self, running: Running, tempo: Fraction) -> Take | None:
        """The go that shows while there is none: the stage's own, or the next that is danced; None without any."""
        stages = running.programme.stages
        if not running.over and running.stage.danced:
            return self.go(running, tempo)
        index = next((n for n in range(running.index, len(stages)) if stages[n].danced), None)
        if index is None:
            return None
        later = begin(running.programme, index)
        return self.go(later, later.tempo)

    def _take(
        self, running: Running, tempo: Fraction, start: Fraction | None = None, count_in: int | None = None
    ) -> Take:
        voice, rate = self._desk.voice, self._desk.speaker.rate
        return take_of_stage(
            running,
            self._floors,
            voice,
            voice.clip,
            start=start,
            count_in=count_in,
            tempo=tempo,
            rate=rate,
            over_lu=self._over_lu,
        )
