"""What a class lets be heard, made of what its programme says: tellings and takes, with the desk's voice and music.

Conventions: a take is kept until another is asked for, the last few of them. Called from the session's thread; making
one takes some tens of milliseconds.
"""

from __future__ import annotations

from dataclasses import replace
from fractions import Fraction

from caller.calls.music import SEAM_FRAMES
from caller.calls.score import make_take, retimed
from caller.calls.take import Take
from caller.dance.walls import Dance
from caller.session.backing import Backing
from caller.session.desk import Desk
from caller.session.programme import Segment, ToDance, ToTell
from caller.session.promise import Fastest, cannot
from caller.session.standing import Ready
from caller.teaching.play import Narration, Piece, told

_MOST_KEPT = 4


class Studio:
    """over_lu: how far calls stand over the count track."""

    def __init__(self, desk: Desk, over_lu: float) -> None:
        self._desk, self._over_lu = desk, over_lu
        self._backing, self._fastest = Backing(desk, over_lu), Fastest()
        self._kept: list[tuple[ToDance, Take]] = []
        self._batches = 0  # of the voice, that what was made so far could hold

    def ready(self, segment: Segment) -> bool:
        """Whether there is nothing more to wait for before a start with that: a telling wants its words, and the count
        track goes on while calls are still made ready."""
        spoken = isinstance(segment, ToDance) or self._desk.preparing.batches > 0 or self._desk.preparing.done
        return spoken and self._backing.ready

    def more_came(self) -> bool:
        """Whether there is music or speech now that the last take lacked: what sounds is to be made anew. Told
        once."""
        before, self._batches = self._batches, self._desk.preparing.batches
        came = self._backing.come() or before < self._batches
        if came:
            self._kept = []
        return came

    def of(self, segment: Segment) -> Piece:
        if isinstance(segment, ToDance):
            return self.take(segment)
        voice, rate = self._desk.voice, self._desk.speaker.rate
        pause, step = segment.pause_seconds, segment.step_seconds
        return told(segment.sentences, voice, voice.clip, pause=pause, step=step, rate=rate)

    def told_on(self, telling: Narration, frame: int, segment: Segment) -> Narration:
        """A telling under way, with all that can be said by now from its frame ``frame`` on."""
        if not isinstance(segment, ToTell) or segment.sentences != tuple(line.words for line in telling.lines):
            return telling
        voice, rate = self._desk.voice, self._desk.speaker.rate
        pause, step = segment.pause_seconds, segment.step_seconds
        return told(
            segment.sentences, voice, voice.clip, pause=pause, step=step, rate=rate, before=telling, until=frame
        )

    def take(self, segment: ToDance) -> Take:
        asked = replace(segment, silence_seconds=Fraction(0))
        for kept, take in self._kept:
            if _same(kept, asked):
                return take
        take = self._made(asked)
        self._kept = [*self._kept[1 - _MOST_KEPT :], (asked, take)]
        return take

    def renewed(self, take: Take, frame: int, segment: ToDance, end: Fraction) -> Take:
        """A take as it is to be from a frame of it on, up to a count; what has begun before that stays as it was. A new
        tempo with music holds from the next beat on."""
        voice = self._desk.voice
        self._turn_to(segment.dance)
        dance = None if segment.dance is take.dance and end == take.end else segment.dance
        seam = self._backing.seam(take, frame, segment.tempo)
        made = retimed(
            replace(take, end=end), seam, segment.tempo, voice, voice.clip, dance=dance, manner=segment.manner
        )
        return self._backing.under(made, segment.passages, _intro(segment), seam, min(seam - frame, SEAM_FRAMES))

    def ready_with(self, segment: Segment, promises: bool) -> Ready:
        """What is heard at the start. promises: with what can't be called, and how fast all can, once the voice is
        whole; with no voice at all that is told once, and not for every call."""
        piece = self.of(segment)
        promises = promises and self._desk.preparing.done
        if not (promises and isinstance(piece, Take) and isinstance(segment, ToDance)) or self._desk.voice.why:
            return Ready(piece)
        fastest = self._fastest.of(segment.dance, segment.manner, self._desk.voice, segment.count_in, segment.fading)
        return Ready(piece, cannot(piece), fastest)

    def _turn_to(self, dance: Dance) -> None:
        if self._desk.turn_music is not None:
            self._desk.turn_music(dance.routine.header.title)

    def _made(self, segment: ToDance) -> Take:
        self._turn_to(segment.dance)
        voice, intro = self._desk.voice, _intro(segment)
        take = make_take(
            segment.dance,
            start=segment.start,
            end=segment.end,
            tempo=segment.tempo,
            manner=segment.manner,
            lexicon=voice,
            clips=voice.clip,
            count_in=segment.count_in,
            rate=self._desk.speaker.rate,
            over_lu=self._over_lu,
            fading=segment.fading,
            lead=self._backing.lead(segment.tempo, segment.count_in, intro) if segment.led else Fraction(0),
            how=segment.how,
        )
        return self._backing.under(take, segment.passages, intro)


def _intro(segment: ToDance) -> int:
    return segment.dance.routine.header.intro or 0


def _same(one: ToDance, other: ToDance) -> bool:
    """Whether they ask for one take: dances are told apart as they were made, since all of one is much to compare."""
    return one.dance is other.dance and replace(one, dance=other.dance) == other
