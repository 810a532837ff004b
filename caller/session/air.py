"""What is on the air: the playout on the speaker's stream, where the ear is in it, and how loud it is.

Conventions: frames as in :mod:`caller.session.playout`. A piece crosses over from what was before it just before its
first frame, so that its first click is whole. Called from the session's thread; nothing waits.
"""

from __future__ import annotations

from typing import Generic

from caller.session.changes import levelled
from caller.session.desk import Desk
from caller.session.playout import Piece, Playing, Playout
from caller.sound.reel import CROSSING_FRAMES
from caller.sound.speaker import Heard
from caller.transport.levels import Levels


class Air(Generic[Piece]):
    """levels: how loud, muted or not; after setting them, :meth:`level`. playout: what is heard, and what will be.
    waiting: what starts once the speaker has told where it fell silent."""

    def __init__(self, desk: Desk, levels: Levels) -> None:
        self.levels = levels
        self.playout: Playout[Piece] = Playout()
        self.waiting: Piece | None = None
        self._starts = 0
        self._desk = desk
        self._moment = desk.moment(desk.now())
        self._still: int | None = None  # the frame at which all stood still, until the next look
        self._hushing = False
        self._resend = False  # what plays is to sound again, once that is told

    # -- where it is

    @property
    def heard(self) -> Heard:
        return self._moment.heard

    @property
    def here(self) -> int:
        """The stream frame at the ear when the speaker was last asked."""
        return self.frame(self._moment.now)

    def listen(self, now: float) -> float:
        """Asks the speaker how far it has come: what all places are reckoned from.

        Returns for how many seconds all has stood still since it was last asked, the machine asleep, else 0. Until it
        is asked again the place is then where it stood still, though the stream may have gone on by the clock.
        """
        before, self._moment = self._moment, self._desk.moment(now)
        self._still = None
        slept = before.stood_still(self._moment, self._desk.speaker.rate)
        if slept:
            self._still = self._frame(before.heard, before.now)
        return slept

    def frame(self, now: float) -> int:
        """The stream frame at the ear: where the speaker was when it told, and the time since, never beyond what it
        was given; less by the extra latency of its device."""
        return self._frame(self.heard, now) if self._still is None else self._still

    def _frame(self, heard: Heard, now: float) -> int:
        offset_ms = self._desk.offset_ms(heard.device) if heard.device else 0.0
        return heard.frame_at(now, self._desk.speaker.rate, offset_ms)

    # -- what is heard

    def carry_on(self) -> None:
        """What a hush kept back, once that is told."""
        if self.waiting is not None:
            self.start(self.waiting)
        elif self._resend:
            self._sound()

    @property
    def soonest(self) -> int:
        """The first stream frame on which a piece could set in."""
        return self._desk.speaker.earliest() + CROSSING_FRAMES

    def start(self, piece: Piece, at: int | None = None) -> None:
        """Lets a piece be heard from stream frame ``at`` on (None: as soon as can be), in place of all else; after a
        hush, once the speaker has told where it fell silent."""
        if self._still_hushing():
            self.waiting = piece
            return
        asked = None if at is None else at - CROSSING_FRAMES
        crosses = self._desk.speaker.earliest() if asked is None else asked
        if not self.levels.muted:
            crosses = self._desk.speaker.splice(levelled(piece.score, self.levels), -CROSSING_FRAMES, asked)
        self.waiting, self._resend = None, False
        self.playout = Playout((self._numbered(piece, crosses + CROSSING_FRAMES, crosses),))

    def follow(self, piece: Piece, at: int) -> None:
        """Lets a piece be heard from stream frame ``at`` on, once what plays is over."""
        crosses = at - CROSSING_FRAMES
        self.playout = self.playout.followed(self._numbered(piece, at, crosses))
        self._sound(crosses)

    def renew(self, piece: Piece, at: int, of: Playing[Piece]) -> None:
        """From stream frame ``at`` on another piece on the axis of one that plays; what was to follow it is
        dropped."""
        self.playout = self.playout.until(of).followed(Playing(piece, of.origin, at, of.number))
        self._sound(at)

    def only(self, of: Playing[Piece]) -> None:
        """Drops what was to follow a piece that plays."""
        self.playout = self.playout.until(of)
        self._sound()

    def forget(self) -> None:
        """What is over at the ear is known no longer."""
        self.playout = self.playout.since(self.here)

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

    def _numbered(self, piece: Piece, origin: int, at: int) -> Playing[Piece]:
        self._starts += 1
        return Playing(piece, origin, at, self._starts)

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
        parts = self.playout.parts
        if self.levels.muted or not parts:
            return
        if self._still_hushing():
            self._resend = True
            return
        soonest = self._desk.speaker.earliest() if since is None else since
        later = [playing for playing in parts if playing.at > soonest]
        under_way = [playing for playing in parts if playing.at <= soonest][-1:]
        for playing in (*under_way, *later):
            frame = max(playing.at, soonest)
            self._desk.speaker.splice(levelled(playing.piece.score, self.levels), playing.piece_frame(frame), frame)
