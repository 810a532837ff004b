"""A programme in front of a class: its stages told, counted in and danced, hands free.

Conventions: as those of :class:`~caller.session.running.Session`, whose place a lesson can take on every screen: all is
called from one thread and nothing waits. A go that follows is put on the air before the one under way is over, so
that the beat goes on without a gap; :mod:`caller.teaching.running` says what follows.
"""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import replace
from fractions import Fraction

from caller.calls.glance import Glance, glance
from caller.calls.plan import Manner
from caller.calls.take import Take
from caller.clock.timeline import round_half_up
from caller.dance.walls import Dance, Wall
from caller.rig.clock_out import Beat
from caller.session.air import Air, Playing
from caller.session.changes import holds, told
from caller.session.desk import AHEAD_SECONDS, FIRST_BUILD_SECONDS, NO_EASIER, Desk, View, wanted_seconds
from caller.session.lesson_facts import last_words, name_after, stage_place, stage_words, told_at
from caller.session.notes import Notes, sound_words, voice_words
from caller.session.pieces import Pieces
from caller.session.route import bar_start, eight_end, section_at
from caller.session.waking import slept_words
from caller.session.wishes import DANCED, Wishes
from caller.sound.levels import LEAST_OVER_LU
from caller.teaching.play import Floors, Piece, Told
from caller.teaching.running import Outcome, Running, begin, looped, next_stage, summary_of, with_tempo
from caller.teaching.stage import Programme
from caller.transport.footing import Footing
from caller.transport.levels import Levels
from caller.transport.order import Order
from caller.transport.state import GoOn, State
from caller.transport.table import Effect
from caller.transport.taught import respond_in_lesson
from caller.transport.tempo import Pace, Taps

# What follows is put on the air so long before what plays is over.
LEAD_SECONDS = 1.0
THIS_STAGE = "stage"

_SOUNDING = (State.TELLING, *DANCED)


class Lesson:
    """taught: told of each go that has come to its end, before anything else follows; it must not take long, and
    returns a sentence to be shown, or "".
    first_stage: where it begins, from 0. note: a sentence to be shown at the start."""

    def __init__(
        self,
        programme: Programme,
        floors: Floors,
        desk: Desk,
        levels: Levels | None = None,
        *,
        over_lu: float = LEAST_OVER_LU,
        taught: Callable[[Running], str] | None = None,
        first_stage: int = 0,
        note: str = "",
    ) -> None:
        self.desk = desk
        self.state = State.GETTING_READY
        self.left = False
        self.air: Air[Piece] = Air(desk, levels or Levels())
        self._wishes = Wishes(begin(programme, first_stage), Pace(programme.tempo))
        self._programme, self._floors = programme, floors
        self._pieces = Pieces(desk, floors, over_lu)
        self._taught = taught
        self._then: Running | None = None  # whose piece is on the air after the one under way
        self._stopped: tuple[Piece, Fraction] | None = None  # what was paused, and at which count or line
        self._cut: Fraction | None = None  # where it is to pause
        self._summed = False
        self._go_when_ready = False
        self._taps = Taps()
        self._notes = Notes(desk)
        if note:
            self._notes.say(note)
        self._build_seconds = FIRST_BUILD_SECONDS

    @property
    def running(self) -> Running:
        return self._wishes.running

    @property
    def manner(self) -> Manner:
        return self._wishes.manner

    @property
    def levels(self) -> Levels:
        return self.air.levels

    @property
    def footing(self) -> Footing:
        return self.desk.footing

    @property
    def dance(self) -> Dance:
        return self._pieces.dance(self.running)

    # -- the screen's side

    def look(self) -> View:
        """What shows now. Moves the lesson on first."""
        self.listen()
        now = self.desk.now()
        self._hear()
        self._move_on(now)
        self._notes.tell(self.air.heard)
        if self.desk.beat_out is not None:
            self.desk.beat_out.follow(self._beat(now))
        frame = self.air.frame(now + AHEAD_SECONDS)
        telling, told_next = self._telling(frame)
        return View(
            state=self.state,
            title=self._programme.title,
            glance=self._glance(frame),
            tempo=self.running.programme.tempo,
            speed=self._wishes.tempo / self.running.programme.tempo,
            sound=sound_words(self.air.heard),
            pedal=self.desk.pedal.says,
            voice=voice_words(self.desk),
            notices=self._notes.notices,
            cannot=(),
            holds=tuple(holds(self._wishes.calling, self.levels, THIS_STAGE)),
            go_on=self.desk.go_on,
            stage=stage_words(self.running),
            stage_place=stage_place(self.running),
            telling=telling,
            told_next=told_next,
            programme=self._stages_ahead(),
            until=None if self.running.over else self.running.stage.end,
        )

    def listen(self) -> None:
        """Obeys the pedal; as quick as a session's."""
        self.desk.heed(self.obey, self.at_share)

    def obey(self, order: Order) -> None:
        """Carries out one order, as far as it means something in this state."""
        if self._hear() and order is Order.GO:  # meant as a pause, or the key that woke the machine
            return
        before = self._wishes.tempo
        self._set(order)
        response = respond_in_lesson(self.state, order)
        effect = response.effect
        if effect is Effect.RETIME and self._wishes.tempo == before:
            effect = Effect.NOTHING
        was, self.state = self.state, response.state
        self._carry_out(effect, was)

    def at_tempo(self, tempo: Fraction) -> None:
        """The tempo as typed, in counts a minute: of what is danced, or of the whole programme where nothing is."""
        self._hear()
        before = self._wishes.tempo
        self._wishes = self._wishes.at_tempo(tempo, self.state)
        self._at_once(before)

    def at_share(self, share: Fraction) -> None:
        """At that share of each stage's tempo from here on, as an expression pedal has it."""
        self._hear()
        before = self._wishes.tempo
        self._wishes = self._wishes.paced(self._wishes.pace.leaning(share), self.state)
        self._at_once(before)

    def _at_once(self, before: Fraction) -> None:
        """What sounds goes on at the tempo of now, if that is another than before."""
        if self._wishes.tempo != before and self.state in _SOUNDING:
            self._renew()

    def loop(self, first: int, last: int) -> None:
        """Counts of the wall danced now, from 1 and both included, over and over, in place of the stage."""
        self._hear()
        wall = self._wall()
        if wall is None:
            self._notes.say("Nothing is danced in this stage: counts are looped in one that is.")
        elif not 1 <= first <= last <= wall.counts:
            self._notes.say(f"Counts {first} to {last} can't be looped: this wall has 1 to {wall.counts}.")
        else:
            self._begin(looped(self.running, wall.at + first - 1, wall.at + last))

    def to_section(self, number: int) -> None:
        """Says how to go about in a programme: its stages are gone to, not the dance's sections."""
        self._notes.say(f'A programme goes by stages: "{Order.NEXT.value}" and "{Order.PREVIOUS.value}".')

    def _wall(self) -> Wall | None:
        """The wall danced now, or that the stage begins with; None where nothing is danced."""
        if self.running.over or not self.running.stage.danced or self.state is State.GETTING_READY:
            return None
        stands = self._stopped or (self._place() if self.state in _SOUNDING else None)
        danced = stands is not None and isinstance(stands[0], Take)
        return self.dance.wall_at(stands[1] if stands and danced else self.running.stage.start)

    def close(self) -> None:
        """Ends the sound and lets go of the pedal; back within a second."""
        self.desk.speaker.close()
        self.desk.pedal.close()
        if self.desk.beat_out is not None:
            self.desk.beat_out.close()

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

    def _set(self, order: Order) -> None:
        before = self._wishes.calling, self.levels
        self.air.levels = self.levels.after(order)
        if order is Order.EASIER and self._floors.easier is self._floors.plain:
            self._notes.say(NO_EASIER)
        elif order is Order.TAP_TEMPO:
            self._taps = self._taps.after(self.desk.now())
            if self._taps.tempo:
                self._wishes = self._wishes.at_tempo(self._taps.tempo, self.state)
        else:
            self._wishes = self._wishes.after(order, self.state)
        for sentence in told(before, (self._wishes.calling, self.levels), THIS_STAGE):
            self._notes.say(sentence)

    # -- effects

    def _carry_out(self, effect: Effect, was: State) -> None:
        effects: dict[Effect, Callable[[], None]] = {
            Effect.WHEN_READY: self._start_when_ready,
            Effect.START: lambda: self._begin(self.running),
            Effect.HUSH: self._hush,
            Effect.RESUME: self._resume,
            Effect.AGAIN: lambda: self._again(was),
            Effect.PREVIOUS: lambda: self._begin(next_stage(self.running, Outcome.BACK)),
            Effect.NEXT: lambda: self._begin(next_stage(self.running, Outcome.ON)),
            Effect.FROM_TOP: self._from_top,
            Effect.RETIME: self._renew,
            Effect.REPLAN: self._renew,
            Effect.TO_EIGHT: lambda: self._renew(cut=True),
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

    def _from_top(self) -> None:
        self._summed = False
        self._begin(begin(with_tempo(begin(self._programme), self.running.programme.tempo).programme))

    def _again(self, was: State) -> None:
        """The telling again, where it is told; else the stage's goes."""
        stood = self._stopped[0] if self._stopped else None
        if was is State.TELLING or isinstance(stood, Told):
            self._begin(self.running)
        else:
            self._begin(next_stage(self.running, Outcome.AGAIN))

    def _hush(self) -> None:
        piece, place = self._place()
        if isinstance(piece, Take):
            self._stop()
        self._stopped, self._then, self._cut = (piece, place), None, None
        self.air.hush()

    def _stop(self) -> None:
        self._wishes = self._wishes.moved(next_stage(self.running, Outcome.PAUSED))

    def _resume(self) -> None:
        if self._stopped is None:
            return
        piece, place = self._stopped
        if isinstance(piece, Told):
            lines = [line.words for line in piece.lines[int(place) :]]
            self._start(self._pieces.told(lines, self._pause_after()))
        else:
            start = max(self._goes_on_at(place), self.running.stage.start)
            self._start(self._pieces.rest(self.running, self._wishes.tempo, start))

    def _goes_on_at(self, count: Fraction) -> Fraction:
        match self.desk.go_on:
            case GoOn.BAR:
                return bar_start(self.dance, count)
            case GoOn.SECTION:
                return section_at(self.dance, count).first
            case GoOn.WALL:
                return self.dance.wall_at(count).at

    def _pause_after(self) -> Fraction:
        """Of a telling: seconds before what follows."""
        return Fraction(0) if self.running.over or self.running.stage.danced else self.running.stage.pause_seconds

    def _run_on(self) -> None:
        self._cut = None
        self._renew()

    # -- what is heard

    def _begin(self, running: Running) -> None:
        """From here, at once."""
        self._became(running)
        if running.over:
            self._finish()
        else:
            self._start(self._pieces.of(running, self._wishes.tempo))

    def _start(self, piece: Piece) -> None:
        self._then, self._stopped, self._cut = None, None, None
        self.state = _state_of(piece)
        self.air.start(piece)

    def _finish(self) -> None:
        """The end; a practice is summed up first."""
        if self._programme.way == "practice" and not self._summed:
            self._summed = True
            self._start(self._pieces.told(summary_of(self.running)))
            return
        self._then, self._stopped, self._cut = None, None, None
        self.state = State.FINISHED
        frame = self.air.frame(self.desk.now())
        if self.air.playing and frame < self._own()[-1].ends:
            self.air.hush()

    def _became(self, running: Running) -> None:
        """Where it is from now on; a go that has come to its end is told."""
        grew = len(running.done) > len(self.running.done)
        self._wishes = self._wishes.moved(running)
        if grew and self._taught is not None and (sentence := self._taught(running)):
            self._notes.say(sentence)
        self.desk.preparing.also((words, 1.0) for words in last_words(running))

    def _move_on(self, now: float) -> None:
        self.air.carry_on()
        if self.state is State.GETTING_READY and self.desk.preparing.done:
            self.state = State.READY
            if self._go_when_ready:
                self.obey(Order.GO)
        if self.state not in _SOUNDING or self.air.waiting is not None or not self.air.playing:
            return
        frame = self.air.frame(now)
        current = self._current(frame)
        piece = current.piece
        if isinstance(piece, Take) and self.state is State.COUNT_IN:
            begun = current.piece_frame(frame) >= piece.timeline.frame_of(piece.start)
            self.state = State.RUNNING if begun else self.state
        last = self._own()[-1]
        if frame >= last.ends:
            self._pass_on(last)
        elif frame >= last.ends - LEAD_SECONDS * self.desk.speaker.rate:
            self._put_next(last)

    def _put_next(self, last: Playing[Piece]) -> None:
        """What follows, on the air at its place."""
        if self._then is not None or self._cut is not None or self.running.over:
            return
        after = next_stage(self.running, Outcome.DONE)
        if after.over or after.waiting:
            return
        stage = self.running.stage
        pause = stage.pause_seconds if after.index != self.running.index and stage.danced else Fraction(0)
        tempo = self._wishes.tempo_of(after)
        self._then = after
        self.air.follow(self._pieces.of(after, tempo), last.ends + round_half_up(pause * self.desk.speaker.rate))

    def _pass_on(self, over: Playing[Piece]) -> None:
        """What was under way is over."""
        if self._then is not None:
            after, self._then = self._then, None
            self.air.playing = self.air.playing[-1:]
            self.state = _state_of(self.air.playing[0].piece)
            self._became(after)
            return
        piece = over.piece
        if self._cut is not None and isinstance(piece, Take) and piece.end < self.running.stage.end:
            self._stopped, self._cut, self.state = (piece, piece.end), None, State.PAUSED
            self._stop()
            return
        after = next_stage(self.running, Outcome.DONE)
        if after.waiting:
            self._became(after)
            self.state = State.WAITING
        else:
            self._begin(after)

    def _renew(self, cut: bool = False) -> None:
        """What plays made anew for all that is asked now, from the soonest frame for which it can be made in time; what
        follows it is put again. cut: it ends with the eight."""
        followed, self._then = self._then is not None, None
        if (waiting := self.air.waiting) is not None:
            if isinstance(waiting, Take):
                self._cut = eight_end(self.dance, waiting.start) if cut else self._cut
                self.air.waiting = self._pieces.rest(self.running, self._wishes.tempo, waiting.start)
            return
        begun = self.desk.now()
        at = self.desk.speaker.earliest(self._build_seconds)
        self.air.playing = self.air.playing[:-1] if followed else self.air.playing
        current = self._current(at)
        frame, piece = current.piece_frame(at), current.piece
        if isinstance(piece, Told) or frame >= piece.end_frame:
            self.air.only(current)
        elif frame <= 0:
            self.air.start(self._pieces.go(self.running, self._wishes.tempo))
        else:
            end = self.running.stage.end if self._cut is None else self._cut
            if cut:
                end = self._cut = min(eight_end(self.dance, max(piece.timeline.count_at(frame), piece.start)), end)
            self.air.renew(self._pieces.renewed(piece, frame, self.running, self._wishes.tempo, end), at, current)
            self._build_seconds = wanted_seconds(self.desk.now() - begun)

    # -- facts

    def _own(self) -> tuple[Playing[Piece], ...]:
        """What is under way, and what it will be once changes hold: all on one axis. Not what follows it."""
        return self.air.playing[:-1] if self._then is not None else self.air.playing

    def _current(self, frame: int) -> Playing[Piece]:
        """What is under way at a stream frame, or will be first."""
        own = self._own()
        return ([playing for playing in own if playing.at <= frame] or list(own[:1]))[-1]

    def _place(self) -> tuple[Piece, Fraction]:
        """What is under way, and where in it: the count of a go, the line of a telling."""
        frame = self.air.frame(self.desk.now())
        current = self._current(frame)
        piece, at = (self.air.waiting, 0) if self.air.waiting else (current.piece, current.piece_frame(frame))
        if isinstance(piece, Told):
            return piece, Fraction(piece.line_at(at))
        return piece, min(max(piece.timeline.count_at(at), piece.start), piece.end - 1)

    def _glance(self, frame: int) -> Glance | None:
        if self._stopped is not None and isinstance(self._stopped[0], Take):
            take, count = self._stopped[0], self._stopped[1]
            return replace(glance(take, take.timeline.frame_of(count)), saying="", tempo=self._wishes.tempo)
        if self.state in DANCED and self.air.playing:
            current = self._current(frame)
            if isinstance(current.piece, Take):
                return glance(current.piece, current.piece_frame(frame))
        if self.state is State.GETTING_READY:
            return None
        take_shown = self._pieces.shown(self.running, self._wishes.tempo)
        return replace(glance(take_shown, 0), saying="") if take_shown else None

    def _telling(self, frame: int) -> tuple[str, str]:
        """The sentence that is told, or was when it was paused, and the one after it; while a stage waits, the name of
        the next."""
        if self.state is State.WAITING:
            return "", name_after(self.running)
        if self._stopped is not None:
            return told_at(self._stopped[0], int(self._stopped[1]))
        if self.state is State.TELLING and isinstance((current := self._current(frame)).piece, Told):
            return told_at(current.piece, current.piece.line_at(current.piece_frame(frame)))
        return "", ""

    def _stages_ahead(self) -> tuple[str, ...]:
        if self.state is not State.READY:
            return ()
        return tuple(stage.name for stage in self._programme.stages)

    def _beat(self, now: float) -> Beat | None:
        """What is danced, for whoever goes on with its beat."""
        frame = self.air.frame(now)
        if self.state not in DANCED or self._stopped is not None or not self.air.playing:
            return None
        current = self._current(frame)
        if not isinstance(current.piece, Take):
            return None
        take, zero_seconds = current.piece, now - current.piece_frame(frame) / self.desk.speaker.rate
        return Beat(take.timeline, zero_seconds, take.start, take.end, self.air.started)


def _state_of(piece: Piece) -> State:
    return State.TELLING if isinstance(piece, Told) else State.COUNT_IN
