"""What a session is handed, and what it shows.

Conventions: protocols say what is asked of each part, so that every one has a double that is driven by hand. All are
called from the session's thread, and none of them may wait.
"""

from __future__ import annotations

from collections.abc import Callable, Iterable, Iterator
from dataclasses import dataclass
from fractions import Fraction
from typing import Protocol

from caller.calls.glance import Glance
from caller.calls.music import Song
from caller.calls.plan import Lexicon, Manner
from caller.clock.timeline import HeardTimeline
from caller.dance.walls import Dance
from caller.routine.facing import NO_TURN, Facing, Turn
from caller.routine.step import Foot
from caller.session.waking import Moment
from caller.sound.score import Clip
from caller.sound.speaker import Speaker
from caller.transport.context import OrderContext
from caller.transport.expression import Lean
from caller.transport.footing import FOR_A_DANCE, Footing
from caller.transport.levels import Levels
from caller.transport.order import Amounts, Order
from caller.transport.state import GoOn, State
from caller.transport.unit import Footwork


class SpeakingVoice(Lexicon, Protocol):
    """What speaks: measured lengths, and the sound itself. why: one sentence where it is silent, else "".
    note: one sentence where another voice stands in for it, else ""."""

    why: str

    @property
    def note(self) -> str: ...

    def clip(self, words: str, speed: float) -> Clip | None: ...

    def close(self) -> None:
        """Gives up what is still being made ready."""
        ...


class Preparation(Protocol):
    """The voice being made ready elsewhere, batch by batch: the first is what is said first. None of it waits."""

    @property
    def done(self) -> bool:
        """All of it is ready."""
        ...

    @property
    def batches(self) -> int:
        """How many batches are ready."""
        ...

    @property
    def progress(self) -> tuple[int, int]: ...

    def also(self, phrases: Iterable[tuple[str, float]]) -> None:
        """These too, as soon as can be; those that are ready or asked for already cost nothing."""
        ...


class Pedal(Protocol):
    """says: one short sentence on how it is."""

    @property
    def says(self) -> str: ...

    def poll(self, now: float) -> Footwork: ...

    def close(self) -> None: ...


class Music(Protocol):
    """A recording to dance to, of which versions at other tempos are made elsewhere. song: with the versions there are
    by now, None until it has been read. ready: there is nothing more to wait for before the start. says: one short
    phrase on how it is, "" where all is well. None of it waits."""

    @property
    def song(self) -> Song | None: ...

    @property
    def ready(self) -> bool: ...

    @property
    def says(self) -> str: ...

    def want(self, tempo: Fraction, at_seconds: Fraction = Fraction(0)) -> None:
        """A version at that tempo next, if there is none, and of it first what is heard from that time of the recording
        on; those asked for before and not begun are dropped for it."""
        ...

    def close(self) -> None:
        """Gives up what is still being made."""
        ...


class BeatOut(Protocol):
    """What goes on with the beat elsewhere: lights, players."""

    def follow(self, beat: HeardTimeline | None) -> None: ...

    def close(self) -> None: ...


# Until a build has been timed, what one is taken to need.
FIRST_BUILD_SECONDS = 0.15
# What shows stands until the next look, a twentieth of a second: half of that ahead it is as often early as late; and
# painting it takes some 20 ms (ITU-R BT.1359-1: noticed from 45 ms of sound before picture, 125 ms after).
AHEAD_SECONDS = 0.045


def wanted_seconds(build_seconds: float) -> float:
    """How long the next build is given, by what one has taken."""
    return 1.5 * build_seconds + 0.02


def no_offset(device: str) -> float:
    return 0.0


@dataclass(frozen=True, slots=True)
class Desk:
    """All that a session is handed. now: ``time.perf_counter``'s clock, in seconds. offset_ms: how much later than
    told a device of that name is heard, in milliseconds (what goes by radio is). go_on: from where, after a pause.
    beat_out: told at each look what is danced, None where nobody follows. footing: what the pedal's gestures order;
    in_lessons: in a lesson, None = the same. turn_music: told the title of each routine before it is made ready, where
    each has music of its own.
    through_sleep: seconds of a clock that goes on while the machine sleeps; None = ``now`` does. music: what is danced
    to, None where the count track is all."""

    speaker: Speaker
    voice: SpeakingVoice
    preparing: Preparation
    pedal: Pedal
    now: Callable[[], float]
    offset_ms: Callable[[str], float] = no_offset
    go_on: GoOn = GoOn.BAR
    beat_out: BeatOut | None = None
    footing: Footing = FOR_A_DANCE
    through_sleep: Callable[[], float] | None = None
    music: Music | None = None
    in_lessons: Footing | None = None
    turn_music: Callable[[str], None] | None = None

    def footing_for(self, lesson: bool) -> Footing:
        return self.footing if self.in_lessons is None or not lesson else self.in_lessons

    def moment(self, now: float) -> Moment:
        """How far the sound has come by then."""
        return Moment(self.speaker.heard(), now, now if self.through_sleep is None else self.through_sleep())

    def done_by_foot(self, now: float, footing: Footing) -> Iterator[tuple[Order, Amounts]]:
        """What the pedal orders: by its gestures, and by the share of the full tempo that it leans to."""
        for done in self.pedal.poll(now):
            if isinstance(done, Lean):
                yield Order.SHARE, (done.share,)
            for order in footing.orders(done):
                yield order, ()


@dataclass(frozen=True, slots=True)
class View:
    """All that a screen may show at one moment; made anew for each look.

    title: the routine's, plain text. glance: None until there is something to dance. tempo: full tempo asked for, in
    counts a minute; speed: what is danced of it now, 1 or less. sound, pedal, voice: one short phrase each on how they
    are. notices: sentences on what happened, oldest first; answers: those of them on the last order. cannot: what can't
    be called at this tempo, said before the class hears it. holds: short phrases on what holds besides ("muted",
    "looping section 2"). fastest: the highest tempo at which every step is called, known before the start; else None.
    go_on: from where, after a pause.

    Of a programme besides: stage: its name, and which go of how many; stage_place: "7 of 41". telling, told_next: the
    sentence told without a beat, and the one after it. programme: the names of its stages, before the start. until: the
    count of the dance at which the go is over. alone: danced in a practice, and left when it went well. Of an evening:
    item: "item 2 of 6"; plan: what is to come, a line each, while it shows; rest: "break until 20:10"; to_mark: the
    routine that the teacher may mark now, beside_to_mark: the one that was danced beside it, to be marked by its name;
    clock: the time, and until when, or how many minutes are gone and left. lines: all that is told, of which the one
    at ``line`` is now; facing, free: how everybody stands before it, or before what comes next, None where that is not
    known. by_heart: no steps are to show. both: the easier way is to show beside the steps. stood: how everybody stands
    now, where a stage is done and waits, as far as it is known. resumed: it goes on from where an evening was cut
    short. lesson: it goes by stages. whole: none of the dance was left out. beside: where the dance is that is danced
    on the same floor, "" for none. time_round: of a loop, from 1, 0 where nothing is looped. turned: how far from where
    the sheet has them everybody stands. starts: as soon as it is ready, since that was ordered."""

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
    holds: tuple[str, ...] = ()
    fastest: int | None = None
    go_on: GoOn = GoOn.BAR
    stage: str = ""
    stage_place: str = ""
    telling: str = ""
    told_next: str = ""
    programme: tuple[str, ...] = ()
    until: Fraction | None = None
    alone: bool = False
    item: str = ""
    plan: tuple[str, ...] = ()
    rest: str = ""
    to_mark: str = ""
    beside_to_mark: str = ""
    clock: str = ""
    lines: tuple[str, ...] = ()
    line: int = 0
    facing: Facing | None = None
    free: Foot | None = None
    by_heart: bool = False
    both: bool = False
    stood: tuple[Facing | None, Foot | None] = (None, None)
    lesson: bool = False
    whole: bool = True
    beside: str = ""
    resumed: bool = False
    answers: tuple[str, ...] = ()
    turned: Turn = NO_TURN
    time_round: int = 0
    starts: bool = False


class Live(Protocol):
    """A class as a screen has it. All from one thread; nothing waits. Seconds are of the desk's clock.

    dance: what is danced now; manner: how it is called.
    """

    desk: Desk

    @property
    def dance(self) -> Dance: ...

    @property
    def manner(self) -> Manner: ...

    @property
    def levels(self) -> Levels: ...

    @property
    def footing(self) -> Footing:
        """What the pedal's gestures order."""
        ...

    @property
    def context(self) -> OrderContext:
        """Where an order would be given now: what it does, and says, follows from it."""
        ...

    @property
    def requests(self) -> tuple[tuple[int, str], ...]:
        """The dances that may be asked for, each with its number."""
        ...

    @property
    def markable(self) -> tuple[str, ...]:
        """The dances that may be marked by name."""
        ...

    def tick(self, now: float) -> None:
        """Moves the class on: pedal, voice, sound, what follows."""
        ...

    def view(self, now: float) -> View:
        """What shows. Asking changes nothing."""
        ...

    def listen(self) -> None:
        """Obeys the pedal. Quick: between two ticks it may be asked as often as one likes, so that a foot needn't wait
        for the next one."""
        ...

    def obey(self, order: Order, *amounts: Fraction | int) -> None:
        """Carries out one order, with what it carries; what can't be done is said."""
        ...

    def close(self) -> None: ...
