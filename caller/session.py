"""A class, running: the one owner of state. Orders in; scores and facts out.

Everything here is called from one thread, the screen's, and nothing waits: the speaker, the pedal and the voice are
handed in, each by its own narrow protocol, and asked how they are at each look. Frames of the speaker's stream and
frames of a take meet in :class:`Playing` and nowhere else.
"""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass, replace
from fractions import Fraction
from typing import Protocol

from caller.calls.glance import Glance, glance
from caller.calls.plan import Kind, Lexicon, Manner
from caller.calls.score import make_take, retimed
from caller.calls.take import Take
from caller.dance.walls import Dance
from caller.rig.speaker import Speaker
from caller.rig.stream.live import STARTING
from caller.sound.score import Clip
from caller.transport.foot import Gesture
from caller.transport.order import Order, order_of_gesture
from caller.transport.state import State
from caller.transport.table import Effect, respond
from caller.transport.tempo import Pace

# A take's clicks before the first step, in bars: at the start, and when going on.
START_BARS, GO_ON_BARS = 2, 1
# Until a build has been timed, what one is taken to need.
FIRST_BUILD_SECONDS = 0.15
MOST_CANNOT = 6


class Voice(Lexicon, Protocol):
    """What speaks: measured lengths, and the sound itself. why: one sentence where it is silent, else ""."""

    why: str

    def clip(self, words: str, speed: float) -> Clip | None: ...


class Preparing(Protocol):
    """The voice being made ready beforehand, elsewhere. Neither waits."""

    @property
    def done(self) -> bool: ...

    @property
    def progress(self) -> tuple[int, int]: ...


class Pedal(Protocol):
    """says: one short sentence on how it is."""

    @property
    def says(self) -> str: ...

    def poll(self, now: float) -> tuple[Gesture, ...]: ...

    def close(self) -> None: ...


@dataclass(frozen=True, slots=True)
class Desk:
    """All that a session is handed. now: ``time.perf_counter``'s clock, in seconds."""

    speaker: Speaker
    voice: Voice
    preparing: Preparing
    pedal: Pedal
    now: Callable[[], float]


@dataclass(frozen=True, slots=True)
class View:
    """All that a screen may show at one moment; made anew for each look.

    title: the routine's, plain text. glance: None until there is something to dance. tempo: full tempo asked for, in
    counts a minute; speed: what is danced of it now, 1 or less. sound, pedal, voice: one short phrase each on how they
    are. notices: sentences said once, oldest first. cannot: what can't be called at this tempo, said before the class
    hears it.
    """

    state: State
    title: str
    glance: Glance | None
    tempo: Fraction
    speed: Fraction
    sound: str
    pedal: str
    voice: str
    notices: tuple[str, ...]
    cannot: tuple[str, ...]


@dataclass(frozen=True, slots=True)
class Playing:
    """A take on the speaker's stream: its frame 0 is stream frame ``origin``; it is heard from stream frame ``at``
    on."""

    take: Take
    origin: int
    at: int

    def take_frame(self, stream_frame: int) -> int:
        return stream_frame - self.origin


class Session:
    """One routine in front of one class. Look at it, and give it orders."""

    def __init__(self, dance: Dance, desk: Desk, pace: Pace, manner: Manner = Manner.AHEAD) -> None:
        self.dance = dance
        self.desk = desk
        self.pace = pace
        self.manner = manner
        self.state = State.GETTING_READY
        self.left = False
        self._ready: Take | None = None  # what GO starts
        self._playing: tuple[Playing, ...] = ()  # the one heard, and those that will be
        self._waiting: Take | None = None  # starts once the speaker has told where it fell silent
        self._hushing = False
        self._go_when_ready = False
        self._stopped: Fraction | None = None  # the count at which it was paused
        self._notices: list[str] = []
        self._build_seconds = FIRST_BUILD_SECONDS
        self._heard = desk.speaker.heard()

    # -- the screen's side

    def look(self) -> View:
        """What shows now. Moves the state on first: pedal, voice, sound, the end of the dance."""
        now = self.desk.now()
        self._heard = self.desk.speaker.heard()
        for gesture in self.desk.pedal.poll(now):
            self.obey(order_of_gesture(gesture))
        self._move_on(now)
        self._tell()
        return View(
            state=self.state,
            title=self.dance.routine.header.title,
            glance=self._glance(now),
            tempo=self.pace.tempo,
            speed=self.pace.effective / self.pace.tempo,
            sound=self._heard.fault or f"on {self._heard.device}",
            pedal=self.desk.pedal.says,
            voice=self._voice(),
            notices=tuple(self._notices),
            cannot=self._cannot(),
        )

    def obey(self, order: Order) -> None:
        """Carries out one order, as far as it means something in this state."""
        response = respond(self.state, order)
        before = self.pace
        self.pace = self.pace.after(order)
        self.state = response.state
        match response.effect:
            case Effect.WHEN_READY:
                self._go_when_ready = True
            case Effect.START:
                self._start(self._ready or self._take(Fraction(0), START_BARS))
            case Effect.HUSH:
                self._hush()
            case Effect.RESUME:
                self._start(self._take(self._bar_start(self._count()), GO_ON_BARS))
            case Effect.AGAIN:
                self._start(self._take(self._section_start(self._count()), GO_ON_BARS))
            case Effect.FROM_TOP:
                self._start(self._take(Fraction(0), START_BARS))
            case Effect.RETIME if self.pace.effective != before.effective:
                self._retime()
            case Effect.LEAVE:
                self.left = True
            case _:
                pass
        if self.state in (State.READY, State.FINISHED) and self.pace.effective != before.effective:
            self._ready = self._take(Fraction(0), START_BARS)

    def close(self) -> None:
        """Ends the sound and lets go of the pedal; back within a second."""
        self.desk.speaker.close()
        self.desk.pedal.close()

    # -- state

    def _move_on(self, now: float) -> None:
        if self._waiting is not None:
            self._start(self._waiting)
        if self.state is State.GETTING_READY and self.desk.preparing.done:
            self._ready = self._take(Fraction(0), START_BARS)
            self.state = State.READY
            if self._go_when_ready:
                self.obey(Order.GO)
        playing = self._at(self._frame(now))
        if playing is None or self.state not in (State.COUNT_IN, State.RUNNING):
            return
        frame = playing.take_frame(self._frame(now))
        if frame >= playing.take.end_frame:
            self.state = State.FINISHED
            self._ready = self._take(Fraction(0), START_BARS)
        elif playing is self._playing[-1] and frame >= playing.take.timeline.frame_of(playing.take.start):
            self.state = State.RUNNING

    def _frame(self, now: float) -> int:
        """The stream frame at the ear: where the speaker was when it told, and the time since, never beyond what it
        was given."""
        since = round((now - self._heard.at_seconds) * self.desk.speaker.rate)
        return min(self._heard.heard + max(since, 0), max(self._heard.written, self._heard.heard))

    def _at(self, stream_frame: int) -> Playing | None:
        """The take heard at a stream frame; those before it are let go."""
        begun = [n for n, playing in enumerate(self._playing) if playing.at <= stream_frame]
        if begun:
            self._playing = self._playing[begun[-1] :]
        return self._playing[0] if begun else None

    def _count(self) -> Fraction:
        """The count being danced, or at which it was stopped."""
        if self._stopped is not None:
            return self._stopped
        playing = self._at(self._frame(self.desk.now())) or (self._playing[0] if self._playing else None)
        if playing is None:
            return Fraction(0)
        count = playing.take.timeline.count_at(playing.take_frame(self._frame(self.desk.now())))
        return min(max(count, playing.take.start), playing.take.end - 1)

    def _bar_start(self, count: Fraction) -> Fraction:
        """The first count of the bar that this count falls in, bars counted from the section's first."""
        begin = self._section_start(count)
        bar = self.dance.routine.header.meter.counts
        return begin + (count - begin) // bar * bar

    def _section_start(self, count: Fraction) -> Fraction:
        stretches = self.dance.wall_at(count).stretches
        return max((s.at for s in stretches if s.at <= count), default=Fraction(0))

    # -- sound

    def _take(self, start: Fraction, bars: int) -> Take:
        return make_take(
            self.dance,
            start=start,
            end=Fraction(self.dance.counts),
            tempo=self.pace.effective,
            manner=self.manner,
            lexicon=self.desk.voice,
            clips=self.desk.voice.clip,
            count_in=bars * self.dance.routine.header.meter.counts,
            rate=self.desk.speaker.rate,
        )

    def _start(self, take: Take) -> None:
        """Lets a take be heard as soon as can be; after a hush, once the speaker has told where it fell silent."""
        if self._hushing and self.desk.speaker.heard().hushed_at is None:
            self._waiting = take
            return
        at = self.desk.speaker.splice(take.score)
        self._waiting, self._hushing, self._stopped = None, False, None
        self._playing = (Playing(take, at, at),)

    def _hush(self) -> None:
        self._stopped = self._count()
        self._waiting, self._hushing = None, True
        self.desk.speaker.hush()

    def _retime(self) -> None:
        """The same take at the new tempo from the soonest frame for which it can be made in time."""
        if not self._playing:
            return
        begun = self.desk.now()
        at = self.desk.speaker.earliest(self._build_seconds)
        last = self._playing[-1]
        take = retimed(last.take, last.take_frame(at), self.pace.effective, self.desk.voice, self.desk.voice.clip)
        self.desk.speaker.splice(take.score, last.take_frame(at), at)
        self._playing = (*self._playing, Playing(take, last.origin, at))
        self._build_seconds = 1.5 * (self.desk.now() - begun) + 0.02

    # -- facts

    def _glance(self, now: float) -> Glance | None:
        if self.state in (State.GETTING_READY, State.READY) or not self._playing:
            return glance(self._ready, 0) if self._ready is not None else None
        if self._stopped is not None:
            last = self._playing[-1].take
            still = glance(last, last.timeline.frame_of(self._stopped))
            return replace(still, saying="", tempo=self.pace.effective)
        playing = self._at(self._frame(now)) or self._playing[0]
        return glance(playing.take, playing.take_frame(self._frame(now)))

    def _voice(self) -> str:
        if self.desk.voice.why:
            return self.desk.voice.why
        done, of = self.desk.preparing.progress
        return "ready" if self.desk.preparing.done else f"getting ready, {done} of {of}"

    def _cannot(self) -> tuple[str, ...]:
        """Steps and warnings that the plan before the start can't say, each once. (A count-in's last numbers give way
        to the first call as a matter of course.)"""
        if self._ready is None or self.desk.voice.why or self.state not in (State.READY, State.FINISHED):
            return ()  # with no voice at all that is told once, and not for every call
        sentences = dict.fromkeys(
            f"{d.cue.wordings[0]}: {d.why}" for d in self._ready.plan.dropped if d.cannot or d.cue.kind is Kind.STEP
        )
        listed = list(sentences)[:MOST_CANNOT]
        more = len(sentences) - len(listed)
        return (*listed, f"and {more} more: 'caller calls' lists them") if more else tuple(listed)

    def _tell(self) -> None:
        """What is missing, each sentence once."""
        fault = "" if self._heard.fault == STARTING else self._heard.fault
        missing = f"Pedal: {self.desk.pedal.says}." if self.desk.pedal.says.startswith("none") else ""
        for sentence in (fault, self.desk.voice.why, missing):
            if sentence and sentence not in self._notices:
                self._notices.append(sentence)
