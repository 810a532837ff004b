"""What of a programme is heard: what is under way, what follows it, and where the class stands.

Conventions: called from one thread, the session's, and nothing waits. What follows is put on the air before what is
under way is over, so that the beat goes on without a gap; what is changed holds from the soonest frame for which it
can be made in time. What comes next is the programme's concern, and how it gets to the ear that of the air.
"""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import replace
from fractions import Fraction
from typing import Generic

from caller.calls.take import Take
from caller.clock.timeline import HeardTimeline, round_half_up
from caller.session import whereabouts
from caller.session.air import Air
from caller.session.desk import FIRST_BUILD_SECONDS, Desk, wanted_seconds
from caller.session.playout import Playing, Playout
from caller.session.programme import Passed, ProgrammeEvent, Segment, ToDance
from caller.session.route import eight_end
from caller.session.showing import place_in, tempo_danced
from caller.session.standing import Finished, Paused, Preparing, Ready, Sounding, Standing, Waiting, Whole, state_of
from caller.session.studio import Studio
from caller.teaching.play import Narration, Piece
from caller.transport.levels import Levels
from caller.transport.order import Amounts, Order
from caller.transport.state import State
from caller.transport.tempo import Slowing

# What follows is put on the air so long before what plays is over.
LEAD_SECONDS = 1.0


class Playback(Generic[Whole]):
    """programme: where it is in what it goes through. stands: how. slowing: what is danced of the tempo. shown: what
    shows while nothing is danced. became: told where it has come to, whenever it has, and the tempo at which a go that
    came to its end with that was danced, else None."""

    def __init__(
        self,
        programme: Whole,
        desk: Desk,
        levels: Levels,
        over_lu: float,
        became: Callable[[Whole, Fraction | None], None],
    ) -> None:
        self.programme = programme
        self.stands: Standing[Whole] = Preparing()
        self.slowing = Slowing()
        self.air: Air[Piece] = Air(desk, levels)
        self.shown: Take | None = None
        self._desk, self._studio, self._tell_of = desk, Studio(desk, over_lu), became
        self._build_seconds = FIRST_BUILD_SECONDS

    @property
    def tempo(self) -> Fraction:
        """What is danced, in counts a minute."""
        return self.programme.facts.danced_at(self.slowing)

    @property
    def state(self) -> State:
        """As of when the speaker was last asked."""
        return state_of(self.stands, *self.under_way(self.air.here))

    # -- time

    def listen(self, now: float) -> float:
        """How far the sound has come. Where the machine has slept meanwhile, pauses where it was, and returns for how
        many seconds; else 0."""
        slept = self.air.listen(now)
        if not slept or not isinstance(self.stands, Sounding):
            return 0.0
        self.hush()
        return slept

    def move_on(self) -> None:
        """What has come to pass by now: the voice, the music, the end of what is under way."""
        self.air.carry_on()
        if self._studio.more_came():
            self.renew()
        if isinstance(self.stands, Preparing) and self._studio.ready(self.programme.segment(self.slowing)):
            go = self.stands.go
            self.make_ready(at_once=go)
            if go:
                self.begin()
        if not isinstance(self.stands, Sounding) or self.air.waiting is not None or not self.air.playout.parts:
            return
        here, last = self.air.here, self._own.parts[-1]
        if here >= last.ends:
            self._pass_on(last)
        elif here >= last.ends - LEAD_SECONDS * self._desk.speaker.rate:
            self._put_next(last)
        elif self.stands.then is None:
            self.air.forget()
        self._lay_on()

    def _lay_on(self) -> None:
        """What the programme has still to lay out, as it is danced."""
        if (count := self.outcome(Passed.WENT_ON).count) is None:
            return
        laid = self.programme.after(ProgrammeEvent(Passed.WENT_ON, count))
        if laid is not self.programme:
            self.programme = laid
            self.renew()

    def _put_next(self, last: Playing[Piece]) -> None:
        """What follows, on the air at its place."""
        stands, stays = self.stands, whereabouts.stays_paused(self.programme, self.slowing)
        if stays or not isinstance(stands, Sounding) or stands.then is not None or stands.cut is not None:
            return
        after = self.programme.after(ProgrammeEvent(Passed.DONE))
        if after.over or after.waits:
            return
        segment = after.segment(self.slowing)
        self.stands = replace(stands, then=after)
        silence = round_half_up(segment.silence_seconds * self._desk.speaker.rate)
        self.air.follow(self._studio.of(segment), last.ends + silence)

    def _pass_on(self, over: Playing[Piece]) -> None:
        """What was under way is over; where that is the pause that was asked for, it stands before what follows."""
        assert isinstance(self.stands, Sounding)
        cut, then, piece = self.stands.cut, self.stands.then, over.piece
        if then is not None:
            self.stands = Sounding()
            self.air.playout = Playout(self.air.playout.parts[-1:])
            self._became(then, piece)
        elif cut is not None and isinstance(piece, Take) and piece.end < self._end:
            whole = self._studio.of(self.programme.segment(self.slowing))  # it knows what comes
            self.stands = Paused(whole, piece.end)
            self.programme = self.programme.after(ProgrammeEvent(Passed.STOPPED))
        else:
            stays = cut is not None or whereabouts.stays_paused(self.programme, self.slowing)
            self._became(after := self.programme.after(ProgrammeEvent(Passed.DONE)), piece)
            self._stand_at(after, paused=stays)

    # -- where it goes

    def begin(self) -> None:
        """The first piece, as made ready."""
        assert isinstance(self.stands, Ready)
        piece = self.stands.piece
        self._became(self.programme.after(ProgrammeEvent(Order.GO)))
        self._start(piece)

    def begin_when_ready(self) -> None:
        self.stands = Preparing(go=True)

    def go_to(self, what: Order | Passed, amounts: Amounts = ()) -> None:
        """To where an order leads, from its start."""
        self._became(self.programme.after(self.outcome(what, amounts)))
        self._stand_at(self.programme)

    def _stand_at(self, programme: Whole, paused: bool = False) -> None:
        if programme.over or programme.waits:
            self._still(Finished() if programme.over else Waiting())
            return
        piece = self._studio.of(programme.segment(self.slowing))
        if paused:
            self.stands = Paused(piece, place_in(piece, 0))
        else:
            self._start(piece)

    def _start(self, piece: Piece) -> None:
        at = whereabouts.entry_at(self.stands, self.air, self.air.soonest)
        self.stands = Sounding()
        self.air.start(piece, at)

    def _still(self, stands: Finished | Waiting) -> None:
        """Nothing more to be heard for now: what is not over yet is hushed."""
        own, self.stands = self._own.parts if isinstance(self.stands, Sounding) else (), stands
        if self.air.waiting is not None or (own and self.air.here < own[-1].ends):
            self.air.hush()

    def hush(self) -> None:
        """Silence at once, and it stands there."""
        piece, frame = self.under_way(self.air.here)
        assert piece is not None
        self.stands = Paused(piece, place_in(piece, frame))
        if isinstance(piece, Take):
            self.programme = self.programme.after(ProgrammeEvent(Passed.STOPPED))
        self.air.hush()

    def change(self, order: Order, amounts: Amounts) -> None:
        """How it is danced, called or looped from here on; to be slowed down is no clean go. Raises CanNot."""
        asked, before, outcome = self._asked, self.slowing, self.outcome(order, amounts)
        was, programme = self.programme, self.programme.after(outcome)
        self.slowing = before.after(order, amounts)
        dancing = isinstance(self.stands, Sounding) and outcome.count is not None
        slowed = dancing and self.slowing.of(Fraction(1)) < before.of(Fraction(1))
        self.programme = programme.after(ProgrammeEvent(Passed.STOPPED)) if slowed else programme
        stale = isinstance(self.stands, Sounding) and self.stands.then is not None and programme is not was
        if self._asked != asked or stale:
            self.renew()

    def time(self, seconds: Fraction) -> None:
        """It is so late by now, in seconds since the midnight before it all began."""
        timed = ProgrammeEvent(Passed.TIMED, amounts=(seconds,))
        self.programme = self.programme.after(timed)
        if isinstance(self.stands, Sounding) and self.stands.then is not None:
            self.stands = replace(self.stands, then=self.stands.then.after(timed))

    def cut_to_eight(self, cut: bool) -> None:
        """It is to pause at the end of the eight, or not."""
        assert isinstance(self.stands, Sounding)
        self.stands = replace(self.stands, cut=None)
        self.renew(cut)

    # -- what is heard

    def make_ready(self, at_once: bool = False) -> None:
        """at_once: it begins now, and what can be promised would be told too late."""
        promises = not (at_once or self.programme.facts.lesson)
        self.stands = self._studio.ready_with(self.programme.segment(self.slowing), promises)

    def _became(self, programme: Whole, over: Piece | None = None) -> None:
        """Where it is from now on. over: what has come to its end with that."""
        self.programme = programme
        self._tell_of(programme, tempo_danced(over) if isinstance(over, Take) else None)

    def renew(self, cut: bool = False) -> None:
        """What is made ready, or sounds, made anew for all that is asked now: what sounds from the soonest frame for
        which it can be made in time; what follows it is put again. cut: it ends with the eight."""
        if isinstance(self.stands, Ready):
            self.make_ready()
        if not isinstance(self.stands, Sounding):
            return
        own = self._own
        self.stands = replace(self.stands, then=None)
        if (waiting := self.air.waiting) is not None:
            if isinstance(waiting, Take):
                self._cut_at(waiting.start if cut else None)
                self.air.waiting = self._studio.of(self._to_its_end())
            return
        self._renew_playing(own, cut)

    def _renew_playing(self, own: Playout[Piece], cut: bool) -> None:
        begun, at = self._desk.now(), self._desk.speaker.earliest(self._build_seconds)
        current = own.under_way(at)
        frame, piece, self.air.playout = current.piece_frame(at), current.piece, own
        if frame >= piece.end_frame:
            if cut and isinstance(piece, Take):  # it is the last moment of what is danced
                self.stands = Sounding(piece.end)
            self.air.only(current)
            return
        if isinstance(piece, Narration):
            on = self._studio.told_on(piece, frame, self.programme.segment(self.slowing))
            self.air.only(current) if on == piece else self.air.renew(on, at, current)
            return
        self._cut_at(max(piece.timeline.count_at(frame), piece.start) if cut else None)
        segment = self._to_its_end()
        if frame <= 0:
            self.air.start(self._studio.of(segment), whereabouts.entry_at(self.stands, self.air, self.air.soonest))
        elif isinstance(segment, ToDance):
            self.air.renew(self._studio.renewed(piece, frame, segment, segment.end), at, current)
        self._build_seconds = wanted_seconds(self._desk.now() - begun)

    def _cut_at(self, count: Fraction | None) -> None:
        """Where it is to pause: the end of the eight that a count is in; None leaves it as it is."""
        if count is not None and isinstance(self.stands, Sounding):
            self.stands = replace(self.stands, cut=min(eight_end(self.programme.facts.dance, count), self._end))

    def _to_its_end(self) -> Segment:
        """What is to be heard now, up to where it is to pause."""
        return whereabouts.up_to_the_cut(self.programme.segment(self.slowing), self.stands)

    # -- where it is

    @property
    def _end(self) -> Fraction:
        return whereabouts.end_of(self.programme, self.slowing)

    @property
    def _own(self) -> Playout[Piece]:
        return whereabouts.own_playout(self.stands, self.air)

    def under_way(self, frame: int) -> tuple[Piece | None, int]:
        """What is heard at a stream frame, or is about to be, and where in it."""
        return whereabouts.heard_at(self.stands, self.air, frame)

    def outcome(self, what: Order | Passed, amounts: Amounts = ()) -> ProgrammeEvent:
        """Something that happens, with where it does."""
        return whereabouts.outcome_at(self.stands, self.air, what, amounts, self._desk.go_on)

    @property
    def _asked(self) -> tuple[object, ...]:
        """All that what sounds is made for."""
        return self.tempo, (facts := self.programme.facts).calling, id(facts.dance)

    def show(self) -> None:
        """What shows while nothing is danced."""
        dancing = isinstance(self.stands, Sounding) and isinstance(self.under_way(self.air.here)[0], Take)
        if not dancing:
            segment = None if isinstance(self.stands, Preparing) else self.programme.shown(self.slowing)
            self.shown = None if segment is None else self._studio.take(segment)

    def beat(self, now: float) -> HeardTimeline | None:
        """What is danced, for whoever goes on with its beat."""
        return whereabouts.beat_at(self.stands, self.air, now, self._desk.speaker.rate)
