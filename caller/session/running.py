"""The class itself: orders carried out, looks answered.

Conventions: everything here is called from one thread, the screen's, and nothing waits: the speaker, the pedal and the
voice are handed in, each by its own narrow protocol. Time moves the class on in :meth:`Session.tick` alone, orders in
:meth:`Session.obey` alone; :meth:`Session.view` and the properties change nothing. What is heard is
:class:`~caller.session.playback.Playback`'s concern, and what an order does in its context the table's.
"""

from __future__ import annotations

from bisect import bisect_right
from collections.abc import Callable
from fractions import Fraction
from typing import Generic

from caller.calls.plan import Manner
from caller.calls.wording import short_counts
from caller.dance.walls import Dance
from caller.session.air import Air
from caller.session.changes import holds
from caller.session.desk import AHEAD_SECONDS, Desk, View
from caller.session.notes import Notes, late_voice_words, music_words, sound_words, voice_words
from caller.session.playback import Playback
from caller.session.programme import CanNot, Passed
from caller.session.replies import AskedState, replies
from caller.session.showing import glance_of, minutes_words, telling_of, told_lines
from caller.session.standing import Preparing, Ready, Sounding, Standing, Whole, state_of
from caller.session.waking import slept_words
from caller.sound.levels import LEAST_OVER_LU
from caller.teaching.play import Piece
from caller.transport.context import Effect, OrderContext, Response
from caller.transport.footing import Footing
from caller.transport.levels import Levels
from caller.transport.order import Amounts, Order
from caller.transport.respond import respond
from caller.transport.state import State
from caller.transport.tempo import Taps


class Session(Generic[Whole]):
    """One programme in front of one class.

    done: told of each go that has come to its end, before anything else follows, with the tempo it was danced at;
    ordered: of each order that was carried out; passed: at each tick, of the count that what is danced has come to, and
    its tempo. None may take long, and all return a sentence to be shown, or "". placed: where it is, at each tick.
    clock: seconds since the midnight before it begins, where the programme goes by that. over_lu: how far calls stand
    over the count track. note: a sentence shown at the start."""

    def __init__(
        self,
        programme: Whole,
        desk: Desk,
        levels: Levels | None = None,
        *,
        over_lu: float = LEAST_OVER_LU,
        done: Callable[[Whole, Fraction], str] | None = None,
        ordered: Callable[[Whole, Order], str] | None = None,
        passed: Callable[[Whole, Fraction, Fraction], str] | None = None,
        placed: Callable[[Whole, Fraction | None], None] | None = None,
        clock: Callable[[], Fraction] | None = None,
        note: str = "",
    ) -> None:
        self.desk = desk
        self.left = False
        self._notes, self._taps, self._done, self._ordered = Notes(desk), Taps(), done, ordered
        self._passed, self._placed, self._clock, self._news = passed, placed, clock, 0
        self._begun: float | None = None  # the moment, by the desk's clock
        self._playback = Playback(programme, desk, levels or Levels(), over_lu, self._came_to)
        if note:
            self._notes.say(note)

    # -- facts

    @property
    def programme(self) -> Whole:
        return self._playback.programme

    @property
    def stands(self) -> Standing[Whole]:
        return self._playback.stands

    @property
    def air(self) -> Air[Piece]:
        return self._playback.air

    @property
    def dance(self) -> Dance:
        """As it is danced: the easier way, sections over and over."""
        return self.programme.facts.dance

    @property
    def manner(self) -> Manner:
        return self.programme.facts.calling.manner

    @property
    def levels(self) -> Levels:
        return self.air.levels

    @property
    def footing(self) -> Footing:
        facts = self.programme.facts
        return self.desk.footing_for(facts.lesson and not facts.between)

    @property
    def tempo(self) -> Fraction:
        """What is danced, in counts a minute."""
        return self._playback.tempo

    @property
    def state(self) -> State:
        """As of the last tick or order."""
        return self._playback.state

    @property
    def context(self) -> OrderContext:
        facts = self.programme.facts
        short = short_counts(facts.dance.routine.header.meter)
        return OrderContext(self.state, facts.lesson, facts.danced, facts.evening, facts.between, facts.alone, short)

    @property
    def requests(self) -> tuple[tuple[int, str], ...]:
        return self.programme.facts.requests

    @property
    def markable(self) -> tuple[str, ...]:
        return self.programme.facts.markable

    def view(self, now: float) -> View:
        facts, desk, stands = self.programme.facts, self.desk, self.stands
        ahead = self._playback.under_way(self.air.frame(now + AHEAD_SECONDS))
        telling, told_next = telling_of(stands, *ahead, facts.after)
        lines, line = told_lines(stands, *ahead)
        facing, free = facts.told[line] if lines and line < len(facts.told) else facts.stands
        gone = None if self._begun is None or not facts.lesson or facts.clock else now - self._begun
        shown = glance_of(stands, *ahead, self._playback.shown, self.tempo)
        return View(
            state=state_of(stands, *self._playback.under_way(self.air.frame(now))),
            title=facts.title,
            glance=shown,
            tempo=facts.tempo,
            speed=self.tempo / facts.tempo,
            sound=sound_words(self.air.heard),
            pedal=desk.pedal.says,
            voice=voice_words(desk),
            notices=self._notes.notices,
            answers=self._notes.answers,
            turned=facts.turned,
            cannot=stands.cannot if isinstance(stands, Ready) else (),
            holds=(*filter(None, (facts.late,)), *holds(facts.calling, self.levels, facts.part), *music_words(desk)),
            fastest=stands.fastest if isinstance(stands, Ready) else None,
            go_on=desk.go_on,
            stage=facts.stage,
            stage_place=facts.place,
            telling=telling,
            told_next=told_next,
            programme=facts.stages if isinstance(stands, Ready) else (),
            until=facts.until,
            alone=facts.alone,
            item=facts.item,
            plan=facts.plan,
            rest=facts.rest,
            to_mark=facts.to_mark,
            beside_to_mark=facts.beside_to_mark,
            clock=facts.clock if gone is None else minutes_words(gone, facts.left),
            lines=lines,
            line=line,
            facing=facing,
            free=free,
            by_heart=facts.by_heart,
            both=facts.calling.both,
            stood=facts.stood,
            lesson=facts.lesson,
            whole=facts.whole,
            beside=facts.beside.words(shown.at) if facts.beside and shown else "",
            time_round=max(bisect_right(facts.rounds, shown.at), 1) if facts.rounds and shown else facts.time_round,
            resumed=facts.resumed,
            starts=isinstance(stands, Preparing) and stands.go,
        )

    # -- time

    def tick(self, now: float) -> None:
        """Pedal, voice, sound, the end of what is under way."""
        self.listen()
        self._hear(now)
        self._playback.move_on()
        if self._clock is not None:
            self._playback.time(self._clock())
            self._tell_news()
        self._notes.tell(self.air.heard)
        self._playback.show()
        if self.desk.beat_out is not None:
            self.desk.beat_out.follow(self._playback.beat(now))
        count = self._playback.outcome(Passed.WENT_ON).count
        if self._passed is not None and count is not None and (told := self._passed(self.programme, count, self.tempo)):
            self._notes.say(told)
        if self._placed is not None:
            self._placed(self.programme, count)

    def listen(self) -> None:
        """Obeys the pedal. Quick: between two ticks it may be asked as often as one likes, so that a foot needn't wait
        for the next one."""
        for order, amounts in self.desk.done_by_foot(self.desk.now(), self.footing):
            # An expression pedal orders four times a second; what it has come to shows as the tempo.
            self._obey(order, amounts, in_silence=order is Order.SHARE)

    def close(self) -> None:
        """Ends the sound and lets go of the pedal; back within a second."""
        self.desk.speaker.close()
        for part in (self.desk.pedal, self.desk.beat_out, self.desk.music):
            if part is not None:
                part.close()

    def _hear(self, now: float) -> bool:
        """How far the sound has come, and whether the machine has slept: then it is paused where it was."""
        slept = self._playback.listen(now)
        if slept:
            self._notes.say(slept_words(slept))
        return slept > 0

    def _came_to(self, programme: Whole, danced: Fraction | None) -> None:
        """What is told wherever the class has come to. danced: the tempo of a go that has come to its end."""
        if danced is not None and self._done is not None and (sentence := self._done(programme, danced)):
            self._notes.say(sentence)
        self.desk.preparing.also((words, 1.0) for words in programme.may_say())

    # -- orders

    def obey(self, order: Order, *amounts: Fraction | int) -> None:
        """Carries out one order, with what it carries; what can't be done is said, and what is done answered."""
        self._obey(order, tuple(Fraction(amount) for amount in amounts))

    def _obey(self, order: Order, amounts: Amounts, in_silence: bool = False) -> None:
        slept = self._hear(self.desk.now())
        if slept and order in (Order.GO, Order.GO_ON):  # meant as a pause, or the key that woke the machine
            return
        response, before = respond(self.context, order), self._asked
        try:
            self._carry_out(order, response, amounts)
        except CanNot as fault:
            self._notes.answer(str(fault))
        else:
            if self._begun is None and response.effect in (Effect.START, Effect.WHEN_READY):
                self._begun = self.desk.now()
            given = Order.QUIT if response.effect is Effect.LEAVE else order
            if self._ordered is not None and (kept := self._ordered(self.programme, given)):
                self._notes.say(kept)
            self._tell_news()
            if not in_silence:
                late = late_voice_words(self.desk, response.effect)
                self._notes.answer(*replies(order, response, before, self._asked), *late)
        self._playback.show()

    @property
    def _asked(self) -> AskedState:
        return AskedState(self.programme.facts, self.levels, self.tempo)

    def _tell_news(self) -> None:
        """What the programme says has come to pass, once."""
        facts = self.programme.facts
        if facts.says and facts.news != self._news:
            self._notes.say(facts.says)
        self._news = facts.news

    def _carry_out(self, order: Order, response: Response, amounts: Amounts) -> None:
        """Raises CanNot, with nothing changed."""
        if response.effect is Effect.NOTHING:
            raise CanNot(response.tells)
        play, gives = self._playback, response.gives
        effects: dict[Effect, Callable[[], None]] = {
            Effect.WHEN_READY: play.begin_when_ready,
            Effect.START: play.begin,
            Effect.HUSH: play.hush,
            Effect.RESUME: lambda: play.go_to(Passed.RESUMED),
            Effect.BEGIN: lambda: play.go_to(gives, amounts),
            Effect.CHANGE: lambda: self._change(gives, amounts),
            Effect.LEVEL: lambda: self._level(gives),
            Effect.TO_EIGHT: lambda: play.cut_to_eight(True),
            Effect.RUN_ON: lambda: play.cut_to_eight(False),
            Effect.LEAVE: self._leave,
        }
        if response.effect in effects:  # what is left is the screen's own
            effects[response.effect]()

    def _change(self, order: Order, amounts: Amounts) -> None:
        """As the order says; a tempo that is tapped, once it is known, as one that is typed."""
        if order is Order.TAP_TEMPO:
            self._taps = self._taps.after(self.desk.now())
            if self._taps.tempo is not None:
                self._playback.change(Order.TEMPO, (self._taps.tempo,))
        else:
            self._playback.change(order, amounts)

    def _level(self, order: Order) -> None:
        self.air.levels = self.levels.after(order)
        if isinstance(self.stands, Sounding):
            self.air.level()

    def _leave(self) -> None:
        self.left = True
