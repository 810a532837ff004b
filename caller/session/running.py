"""The session itself: orders carried out, looks answered.

Everything here is called from one thread, the screen's, and nothing waits: the speaker, the pedal and the voice are
handed in, each by its own narrow protocol, and asked how they are at each look. What sounds is
:class:`~caller.session.air.Air`'s concern.
"""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import replace
from fractions import Fraction

from caller.calls.glance import Glance, glance
from caller.calls.plan import CountIn, Fading, Manner
from caller.calls.score import make_take, retimed
from caller.calls.take import Take
from caller.dance.walls import Dance
from caller.rig.clock_out import Beat
from caller.session.air import Air
from caller.session.backing import Backing
from caller.session.changes import Calling, holds, told
from caller.session.desk import AHEAD_SECONDS, FIRST_BUILD_SECONDS, Desk, View, wanted_seconds
from caller.session.notes import Notes, music_words, sound_words, voice_words
from caller.session.promise import Fastest, cannot
from caller.session.route import bar_start, eight_end
from caller.session.waking import slept_words
from caller.session.way import CanNot, Way
from caller.sound.levels import LEAST_OVER_LU
from caller.transport.footing import Footing
from caller.transport.levels import Levels
from caller.transport.order import Order
from caller.transport.state import GoOn, State
from caller.transport.table import Effect, respond
from caller.transport.tempo import Pace, Taps

# A take's clicks before the first step, in bars: at the start, and when going on.
START_BARS, GO_ON_BARS = 2, 1

_SOUNDING = (State.COUNT_IN, State.RUNNING, State.FINISHING)
_WAITING = (State.READY, State.FINISHED)


class Session:
    """One routine in front of one class. Look at it, and give it orders."""

    def __init__(
        self,
        dance: Dance,
        desk: Desk,
        pace: Pace,
        manner: Manner = Manner.AHEAD,
        levels: Levels | None = None,
        *,
        fading: Fading = Fading.USUAL,
        count_in: CountIn = CountIn.LEVEL,
        over_lu: float = LEAST_OVER_LU,
        danced: Callable[[Dance, Fraction], str] | None = None,
    ) -> None:
        """fading: fewer words each time round. count_in: how it ends. over_lu: how far calls stand over the count
        track. danced: told of the dance and its tempo when it has come to its end; it must not take long, and returns
        a sentence to be shown, or ""."""
        self.desk = desk
        self.pace = pace
        self.air: Air[Take] = Air(desk, levels or Levels())
        self.state = State.GETTING_READY
        self.left = False
        self._way = Way(dance, manner)
        self._fading, self._over_lu, self._how = fading, over_lu, count_in
        self._danced = danced
        self._taps = Taps()
        self._cut: Fraction | None = None  # where it is to pause
        self._ready: Take | None = None  # what GO starts
        self._go_when_ready = False
        self._stopped: Fraction | None = None  # the count at which it was paused
        self._notes, self._fastest = Notes(desk), Fastest()
        self._backing = Backing(desk, dance.routine.header.intro or 0, over_lu)
        self._build_seconds = FIRST_BUILD_SECONDS

    @property
    def dance(self) -> Dance:
        """As it is danced: the easier way, sections over and over."""
        return self._way.dance

    @property
    def manner(self) -> Manner:
        return self._way.calling.manner

    @property
    def levels(self) -> Levels:
        return self.air.levels

    @property
    def footing(self) -> Footing:
        return self.desk.footing

    # -- the screen's side

    def look(self) -> View:
        """What shows now. Moves the state on first: pedal, voice, sound, the end of the dance."""
        self.listen()
        now = self.desk.now()
        self._hear()
        self._move_on(now)
        self._notes.tell(self.air.heard)
        if self.desk.beat_out is not None:
            self.desk.beat_out.follow(self._beat(now))
        return View(
            state=self.state,
            title=self.dance.routine.header.title,
            glance=self._glance(now + AHEAD_SECONDS),
            tempo=self.pace.tempo,
            speed=self.pace.effective / self.pace.tempo,
            sound=sound_words(self.air.heard),
            pedal=self.desk.pedal.says,
            voice=voice_words(self.desk),
            notices=self._notes.notices,
            cannot=self._cannot(),
            holds=(*holds(self._way.calling, self.levels), *music_words(self.desk)),
            fastest=self._highest() if self.state is State.READY and not self.desk.voice.why else None,
            go_on=self.desk.go_on,
        )

    def listen(self) -> None:
        """Obeys the pedal. Quick: between two looks it may be asked as often as one likes, so that a foot needn't wait
        for the next one."""
        self.desk.heed(self.obey, self.at_share)

    def obey(self, order: Order) -> None:
        """Carries out one order, as far as it means something in this state."""
        if self._hear() and order is Order.GO:  # meant as a pause, or the key that woke the machine
            return
        response = respond(self.state, order)
        before, called = self.pace, self._set(order)
        effect = response.effect
        if effect is Effect.RETIME and self.pace.effective == before.effective:
            effect = Effect.NOTHING
        self.state = response.state
        self._carry_out(effect)
        if self.state in _WAITING and (called or self.pace.effective != before.effective):
            self._ready = self._take(Fraction(0), START_BARS)

    def at_tempo(self, tempo: Fraction) -> None:
        """The tempo as typed, in counts a minute: what is danced from here on."""
        self._at_pace(self.pace.at(tempo))

    def at_share(self, share: Fraction) -> None:
        """At that share of the full tempo from here on, as an expression pedal has it."""
        self._at_pace(self.pace.leaning(share))

    def _at_pace(self, pace: Pace) -> None:
        self._hear()
        before, self.pace = self.pace, pace
        if self.pace.effective == before.effective:
            return
        if self.state in _SOUNDING:
            self._renew()
        elif self.state in _WAITING:
            self._ready = self._take(Fraction(0), START_BARS)

    def close(self) -> None:
        """Ends the sound and lets go of the pedal; back within a second."""
        self.desk.speaker.close()
        self.desk.pedal.close()
        if self.desk.beat_out is not None:
            self.desk.beat_out.close()
        if self.desk.music is not None:
            self.desk.music.close()

    def _hear(self) -> bool:
        """How far the sound has come. Where the machine has slept meanwhile, pauses where it was, and returns True."""
        slept = self.air.listen()
        if slept and self.state in _SOUNDING:
            self._notes.say(slept_words(slept))
            self.state = State.PAUSED
            self._hush()
            return True
        return False

    # -- what orders set

    def _set(self, order: Order) -> bool:
        """Tempo, levels, calling and route as the order leaves them. Returns whether another dance or other calls
        follow."""
        before = self._way.calling, self.levels
        self.pace = self.pace.after(order)
        self.air.levels = self.levels.after(order)
        if order is Order.TAP_TEMPO:
            self._taps = self._taps.after(self.desk.now())
            self.pace = self.pace.at(self._taps.tempo) if self._taps.tempo else self.pace
        sentences = tuple(self._way.after(order, None if self.state in _WAITING else self._count()))
        self._tell_of(before, *sentences)
        return self._way.calling != before[0]

    def _tell_of(self, before: tuple[Calling, Levels], *sentences: str) -> None:
        for sentence in (*sentences, *told(before, (self._way.calling, self.levels))):
            self._notes.say(sentence)

    def loop(self, first: int, last: int) -> None:
        """Counts of the wall danced now, from 1 and both included, over and over, from the first of them on."""
        before = self._way.calling, self.levels
        self._go_about(lambda: self._way.loop(self._count(), first, last))
        self._tell_of(before)

    def to_section(self, number: int) -> None:
        """To a section of the wall danced now, counted in."""
        self._go_about(lambda: self._way.section(self._count(), number))

    def _go_about(self, place: Callable[[], Fraction]) -> None:
        """To a count of the sheet's dance, if it is there."""
        if self.state is State.GETTING_READY:
            return
        try:
            count = place()
        except CanNot as fault:
            self._notes.say(str(fault))
            return
        self.state = State.COUNT_IN
        self._jump(count)

    # -- effects

    def _carry_out(self, effect: Effect) -> None:
        effects: dict[Effect, Callable[[], None]] = {
            Effect.WHEN_READY: self._start_when_ready,
            Effect.START: lambda: self._start(self._ready or self._take(Fraction(0), START_BARS)),
            Effect.HUSH: self._hush,
            Effect.RESUME: self._resume,
            Effect.AGAIN: lambda: self._go(self._way.section_start(self._count())),
            Effect.WALL: lambda: self._jump(self._way.wall(self._count()).at),
            Effect.PREVIOUS: lambda: self._jump(self._way.beside(self._count(), -1)),
            Effect.NEXT: lambda: self._jump(self._way.beside(self._count(), 1)),
            Effect.FROM_TOP: lambda: self._jump(Fraction(0), START_BARS),
            Effect.RETIME: self._renew,
            Effect.REPLAN: self._renew,
            Effect.TO_EIGHT: self._to_eight,
            Effect.RUN_ON: self._run_on,
            Effect.LEVEL: self.air.level,
            Effect.LEAVE: self._leave,
        }
        if effect in effects:
            effects[effect]()

    def _start_when_ready(self) -> None:
        self._go_when_ready = True

    def _leave(self) -> None:
        self.left = True

    def _resume(self) -> None:
        match self.desk.go_on:
            case GoOn.BAR:
                self._go(bar_start(self.dance, self._count()))
            case GoOn.SECTION:
                self._carry_out(Effect.AGAIN)
            case GoOn.WALL:
                self._carry_out(Effect.WALL)

    def _go(self, count: Fraction) -> None:
        """From a count of the route, counted in."""
        self._cut = None
        self._start(self._take(count, GO_ON_BARS))

    def _jump(self, count: Fraction, bars: int = GO_ON_BARS) -> None:
        """To a count of the sheet's dance, facing as the sheet says there; a loop goes along."""
        self._cut = None
        self._way.jump(count)
        self._start(self._take(count, bars))

    def _hush(self) -> None:
        self._stopped = self._count()
        self._cut = None
        self.air.hush()

    def _to_eight(self) -> None:
        self._renew(cut=True)

    def _run_on(self) -> None:
        self._cut = None
        self._renew()

    # -- state

    def _move_on(self, now: float) -> None:
        self.air.carry_on()
        if self.state is State.GETTING_READY and self.desk.preparing.done and self._backing.ready:
            self._ready = self._take(Fraction(0), START_BARS)
            self.state = State.READY
            if self._go_when_ready:
                self.obey(Order.GO)
        if self._backing.come():
            self._music_joins()
        at_ear = self.air.frame(now)
        playing = self.air.at(at_ear)
        if playing is None or self.state not in _SOUNDING or self.air.waiting is not None:
            return
        frame = playing.piece_frame(at_ear)
        last = self.air.playing[-1].piece
        if frame >= playing.piece.end_frame and playing.piece is last:
            self._end(last)
        elif playing.piece is last and frame >= last.timeline.frame_of(last.start):
            self.state = State.RUNNING if self.state is State.COUNT_IN else self.state
        if self._way.laid_on(self._count()):
            self._renew()

    def _music_joins(self) -> None:
        """Music for the tempo danced is there by now: it comes in at the place that is danced."""
        if self.state in _SOUNDING:
            self._renew()
        elif self.state in _WAITING:
            self._ready = self._take(Fraction(0), START_BARS)

    def _end(self, take: Take) -> None:
        if self._cut is not None and take.end < self.dance.counts:
            self._stopped, self._cut = take.end, None
            self.state = State.PAUSED
            return
        self.state, self._cut = State.FINISHED, None
        if self._danced is not None and (sentence := self._danced(self.dance, self.pace.effective)):
            self._notes.say(sentence)
        self._ready = self._take(Fraction(0), START_BARS)

    def _count(self) -> Fraction:
        """The count of the route being danced, or at which it was stopped."""
        if self._stopped is not None:
            return self._stopped
        if self.air.waiting is not None:
            return self.air.waiting.start
        frame = self.air.frame(self.desk.now())
        playing = self.air.at(frame) or next(iter(self.air.playing), None)
        if playing is None or self.state in _WAITING:
            return Fraction(0)
        take = playing.piece
        count = take.timeline.count_at(playing.piece_frame(frame))
        return min(max(count, take.start), take.end - 1)

    # -- sound

    def _take(self, start: Fraction, bars: int) -> Take:
        tempo, count_in = self.pace.effective, bars * self.dance.routine.header.meter.counts
        take = make_take(
            self.dance,
            start=start,
            end=self._take_end(),
            tempo=tempo,
            manner=self._way.calling.manner,
            lexicon=self.desk.voice,
            clips=self.desk.voice.clip,
            count_in=count_in,
            rate=self.desk.speaker.rate,
            over_lu=self._over_lu,
            fading=self._fading,
            how=self._how,
            lead=self._backing.lead(tempo, count_in) if bars == START_BARS else Fraction(0),
        )
        return self._backing.under(take, self._way.passages)

    def _take_end(self) -> Fraction:
        return Fraction(self.dance.counts) if self._cut is None else self._cut

    def _start(self, take: Take) -> None:
        self._stopped = None
        self.air.start(take)

    def _renew(self, cut: bool = False) -> None:
        """The take made anew for all that is asked now, from the soonest frame for which it can be made in time; what
        has begun before it stays as it was. cut: and it ends with the eight."""
        if (waiting := self.air.waiting) is not None:
            self._cut = eight_end(self.dance, waiting.start) if cut else self._cut
            self.air.waiting = self._take(waiting.start, GO_ON_BARS)
        if waiting is not None or not self.air.playing:
            return
        begun = self.desk.now()
        at = self.desk.speaker.earliest(self._build_seconds)
        last = self.air.playing[-1]
        frame = last.piece_frame(at)
        if cut:
            count = max(last.piece.timeline.count_at(frame), last.piece.start)
            self._cut = min(eight_end(self.dance, count), Fraction(self.dance.counts))
        asked = replace(last.piece, dance=self.dance, end=self._take_end())
        tempo, manner = self.pace.effective, self._way.calling.manner
        take = retimed(asked, frame, tempo, self.desk.voice, self.desk.voice.clip, manner=manner)
        self.air.renew(self._backing.under(take, self._way.passages, frame), at, last)
        self._build_seconds = wanted_seconds(self.desk.now() - begun)

    # -- facts

    def _glance(self, now: float) -> Glance | None:
        if self.state in (State.GETTING_READY, State.READY) or not self.air.playing:
            return glance(self._ready, 0) if self._ready is not None else None
        if self._stopped is not None:
            last = self.air.playing[-1].piece
            still = glance(last, last.timeline.frame_of(self._stopped))
            return replace(still, saying="", tempo=self.pace.effective)
        frame = self.air.frame(now)
        playing = self.air.at(frame) or self.air.playing[0]
        return glance(playing.piece, playing.piece_frame(frame))

    def _beat(self, now: float) -> Beat | None:
        """What is danced, for whoever goes on with its beat."""
        frame = self.air.frame(now)
        playing = self.air.at(frame)
        if playing is None or self.state not in _SOUNDING or self._stopped is not None:
            return None
        take, zero_seconds = playing.piece, now - playing.piece_frame(frame) / self.desk.speaker.rate
        return Beat(take.timeline, zero_seconds, take.start, take.end, self.air.started)

    def _cannot(self) -> tuple[str, ...]:
        if self._ready is None or self.desk.voice.why or self.state not in _WAITING:
            return ()  # with no voice at all that is told once, and not for every call
        return cannot(self._ready)

    def _highest(self) -> int | None:
        count_in = START_BARS * self.dance.routine.header.meter.counts
        return self._fastest.of(self.dance, self._way.calling.manner, self.desk.voice, count_in, self._fading)
