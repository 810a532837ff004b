"""What is on the air: pieces of sound on the speaker's stream, where each of them is, and how loud.

Conventions: a stream frame is the speaker's, a piece frame counts from a piece's own start; the two meet in
:class:`Playing` and nowhere else. A piece crosses over from what was before it just before its first frame, so that
its first click is whole. Called from the session's thread; nothing waits.
"""

from __future__ import annotations

from dataclasses import dataclass
from typing import Generic, Protocol, TypeVar

from caller.rig.speaker import Heard
from caller.session.changes import levelled
from caller.session.desk import Desk
from caller.sound.reel import CROSSING_FRAMES
from caller.sound.score import Score
from caller.transport.levels import Levels


class Sounding(Protocol):
    """What can be heard. end_frame: where what comes next would begin."""

    @property
    def score(self) -> Score: ...

    @property
    def end_frame(self) -> int: ...


Piece = TypeVar("Piece", bound=Sounding)


@dataclass(frozen=True, slots=True)
class Playing(Generic[Piece]):
    """A piece on the speaker's stream: its frame 0 is stream frame ``origin``; it is heard from stream frame ``at``
    on."""

    piece: Piece
    origin: int
    at: int

    def piece_frame(self, stream_frame: int) -> int:
        return stream_frame - self.origin

    @property
    def ends(self) -> int:
        """The stream frame on which what comes next would begin."""
        return self.origin + self.piece.end_frame


class Air(Generic[Piece]):
    """levels: how loud, muted or not; after setting them, :meth:`level`. playing: what is heard, and what will be.
    waiting: what starts once the speaker has told where it fell silent. started: how many pieces have been."""

    def __init__(self, desk: Desk, levels: Levels) -> None:
        self.levels = levels
        self.playing: tuple[Playing[Piece], ...] = ()
        self.waiting: Piece | None = None
        self.started = 0
        self._desk = desk
        self._moment = desk.moment()
        self._still: int | None = None  # the frame at which all stood still, until the next look
        self._hushing = False
        self._resend = False  # what plays is to sound again, once that is told

    # -- where it is

    @property
    def heard(self) -> Heard:
        return self._moment.heard

    def listen(self) -> float:
        """Asks the speaker how far it has come: what all places are reckoned from.

        Returns for how many seconds all has stood still since it was last asked, the machine asleep, else 0. Until it
        is asked again the place is then where it stood still, though the stream may have gone on by the clock.
        """
        before, self._moment = self._moment, self._desk.moment()
        self._still = None
        slept = before.stood_still(self._moment, self._desk.speaker.rate)
        if slept:
            self._still = self._frame(before.heard, before.now)
        return slept

    def frame(self, now: float) -> int:
        """The stream frame at the ear: where the speaker was when it told, and the time since, never beyond what it
        was given; less by what its device is known to come later than it tells."""
        return self._frame(self.heard, now) if self._still is None else self._still

    def _frame(self, heard: Heard, now: float) -> int:
        offset_ms = self._desk.offset_ms(heard.device) if heard.device else 0.0
        return heard.frame_at(now, self._desk.speaker.rate, offset_ms)

    def at(self, stream_frame: int) -> Playing[Piece] | None:
        """The piece heard at a stream frame; those before it are let go."""
        begun = [n for n, playing in enumerate(self.playing) if playing.at <= stream_frame]
        if begun:
            self.playing = self.playing[begun[-1] :]
        return self.playing[0] if begun else None

    # -- what is heard

    def carry_on(self) -> None:
        """What a hush kept back, once that is told."""
        if self.waiting is not None:
            self.start(self.waiting)
        elif self._resend:
            self._sound()

    def start(self, piece: Piece) -> None:
        """Lets a piece be heard as soon as can be, in place of all else; after a hush, once the speaker has told where
        it fell silent."""
        if self._still_hushing():
            self.waiting = piece
            return
        at = self._desk.speaker.earliest()
        if not self.levels.muted:
            at = self._desk.speaker.splice(levelled(piece.score, self.levels), -CROSSING_FRAMES)
        self.waiting, self._resend = None, False
        self.playing = (Playing(piece, at + CROSSING_FRAMES, at),)
        self.started += 1

    def follow(self, piece: Piece, at: int) -> None:
        """Lets a piece be heard from stream frame ``at`` on, once what plays is over."""
        crosses = at - CROSSING_FRAMES
        self.playing = (*self.playing, Playing(piece, at, crosses))
        self._sound(crosses)
        self.started += 1

    def renew(self, piece: Piece, at: int, of: Playing[Piece]) -> None:
        """From stream frame ``at`` on another piece on the axis of one that plays; what was to follow it is
        dropped."""
        kept = self.playing[: self.playing.index(of) + 1]
        self.playing = (*kept, Playing(piece, of.origin, at))
        self._sound(at)

    def only(self, of: Playing[Piece]) -> None:
        """Drops what was to follow a piece that plays."""
        self.playing = self.playing[: self.playing.index(of) + 1]
        self._sound()

    def hush(self) -> None:
        """Silence at once, for good."""
        self.waiting = None
        self._silence()

    def level(self) -> None:
        """What plays, as loud as the levels say from now on."""
        if self.levels.muted:
            self._silence()
        else:
            self._sound()

    # -- the speaker's side

    def _silence(self) -> None:
        self._hushing, self._resend = True, False
        self._desk.speaker.hush()

    def _still_hushing(self) -> bool:
        self._hushing = self._hushing and self._desk.speaker.heard().hushed_at is None
        return self._hushing

    def _sound(self, since: int | None = None) -> None:
        """What plays from stream frame ``since`` on (None: from as soon as can be), as loud as asked."""
        self._resend = False
        if self.levels.muted or not self.playing:
            return
        if self._still_hushing():
            self._resend = True
            return
        soonest = self._desk.speaker.earliest() if since is None else since
        later = [playing for playing in self.playing if playing.at > soonest]
        under_way = [playing for playing in self.playing if playing.at <= soonest][-1:]
        for playing in (*under_way, *later):
            frame = max(playing.at, soonest)
            self._desk.speaker.splice(levelled(playing.piece.score, self.levels), playing.piece_frame(frame), frame)
