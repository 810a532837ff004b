"""What a class goes through, as pure functions: a protocol, which the whole dance and a taught programme keep.

Conventions: a programme is a frozen value that says where the class is in it; what happens makes another. Counts are of
the dance that is danced, tempo in counts a minute. Nothing here sounds or knows a clock: a session asks what is to be
heard, lets it be heard, and tells what came of it.
"""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass
from enum import Enum
from fractions import Fraction
from typing import Protocol, Self

from caller.calls.music import SongPassage
from caller.calls.plan import CountIn, Fading, Manner
from caller.dance.walls import Dance
from caller.routine.facing import NO_TURN, Facing, Turn
from caller.routine.step import Foot
from caller.session.beside import Beside
from caller.session.changes import Calling
from caller.transport.order import Amounts, Order
from caller.transport.state import GoOn
from caller.transport.tempo import Slowing, floor_of


class CanNot(Exception):
    """What was asked for isn't there: one sentence that says what is."""


class Passed(Enum):
    """What comes to pass without an order of its own. DONE: what was heard came to its end. TIMED: it is
    so late by now, in seconds since the midnight before it all began. STOPPED: half-way, or
    slowed down. RESUMED: from where it stands. WENT_ON: some more of it has been danced."""

    DONE = "done"
    TIMED = "timed"
    STOPPED = "stopped"
    RESUMED = "resumed"
    WENT_ON = "went-on"


@dataclass(frozen=True, slots=True)
class ProgrammeEvent:
    """what: has happened, or is ordered. count: of the dance, where it is under way or stands; None where nothing is
    danced. line: of a telling that is under way or stands, among its sentences; else None. amounts: what the order
    carries. go_on: from where it is resumed. stopped: the class stands there, paused."""

    what: Order | Passed
    count: Fraction | None = None
    line: int | None = None
    amounts: Amounts = ()
    go_on: GoOn = GoOn.BAR
    stopped: bool = False


@dataclass(frozen=True, slots=True)
class ToDance:
    """A stretch to be danced: counts ``start`` to ``end`` (excluded), ``count_in`` clicked before it.

    passages: where in a recording it is danced. led: the recording is heard from its beginning, before the count-in.
    silence_seconds: before it, where it follows another by itself. how: the count-in ends.
    """

    dance: Dance
    start: Fraction
    end: Fraction
    tempo: Fraction
    manner: Manner
    count_in: int
    passages: tuple[SongPassage, ...]
    fading: Fading = Fading.USUAL
    led: bool = False
    silence_seconds: Fraction = Fraction(0)
    how: CountIn = CountIn.LEVEL


@dataclass(frozen=True, slots=True)
class ToTell:
    """Sentences without a beat. pause_seconds: after the last of them; step_seconds: at least, from one to the next.
    stays: the class is paused, and is so again after them."""

    sentences: tuple[str, ...]
    pause_seconds: Fraction = Fraction(0)
    silence_seconds: Fraction = Fraction(0)
    step_seconds: Fraction = Fraction(0)
    stays: bool = False


Segment = ToDance | ToTell


@dataclass(frozen=True, slots=True)
class ProgrammeFacts:
    """What there is to know of where the class is.

    dance: what is danced. tempo: the full one; speed: the programme's own share of it now. danced: what is under way or
    next is danced, not only told. stages: their names, () for a dance. stage, place: the name, and "7 of 41". after:
    the next stage's name. until: the count at which the go is over, None where that is the dance's own end.
    alone: danced in a practice, and left when it went well. stands: how everybody stands before what is told,
    or comes next: the way they face and the free foot, each None where that is not known; stood: the same now, where
    a stage is done and waits; told: the same as each of the sentences is said, where that is known. by_heart: danced by
    the counts alone, so no steps are to show. left: seconds that all of it still takes, None where that is not known.

    Of an evening: item: "item 2 of 6"; between: it waits between two. plan: what is to come, a line each, while it
    shows. rest: "break until 20:10". to_mark: the routine that the teacher may mark, "" for none; beside_to_mark:
    what was danced beside it; markable: all that may be marked by name. clock: the time, and
    until when; late: how late it is, and what might be done. says: a sentence on what has come to pass; news: how many
    of them there have been. resumed: it stands where it was cut short. requests: the dances that may be
    asked for, each with its number.
    beside: what is danced on the same floor. rounds: counts of the dance at which a loop comes round, the first time
    among them; time_round: of a stage that is looped, from 1, else 0. whole: none of the dance was left out. turned:
    how far from where the sheet has them everybody stands.
    """

    title: str
    dance: Dance
    tempo: Fraction
    calling: Calling
    speed: Fraction = Fraction(1)
    lesson: bool = False
    danced: bool = True
    whole: bool = True
    stages: tuple[str, ...] = ()
    stage: str = ""
    place: str = ""
    after: str = ""
    until: Fraction | None = None
    alone: bool = False
    stands: tuple[Facing | None, Foot | None] = (None, None)
    stood: tuple[Facing | None, Foot | None] = (None, None)
    told: tuple[tuple[Facing | None, Foot | None], ...] = ()
    by_heart: bool = False
    left: Fraction | None = None
    evening: bool = False
    between: bool = False
    item: str = ""
    plan: tuple[str, ...] = ()
    rest: str = ""
    to_mark: str = ""
    beside_to_mark: str = ""
    clock: str = ""
    late: str = ""
    says: str = ""
    news: int = 0
    resumed: bool = False
    requests: tuple[tuple[int, str], ...] = ()
    markable: tuple[str, ...] = ()
    beside: Beside | None = None
    turned: Turn = NO_TURN
    rounds: tuple[Fraction, ...] = ()
    time_round: int = 0

    def danced_at(self, slowing: Slowing) -> Fraction:
        """Counts a minute of what is danced."""
        return slowing.of(self.tempo * self.speed, floor_of(self.dance.routine.header.meter.counts))

    @property
    def part(self) -> str:
        """What is looped."""
        return "stage" if self.lesson else "section"


class Programme(Protocol):
    """Where a class is in what it goes through. Frozen; nothing waits."""

    @property
    def over(self) -> bool:
        """All of it is done."""
        ...

    @property
    def waits(self) -> bool:
        """A stage is done, and the teacher moves it on."""
        ...

    @property
    def facts(self) -> ProgrammeFacts: ...

    def segment(self, slowing: Slowing) -> Segment:
        """What is to be heard now. Raises ValueError where all is over."""
        ...

    def shown(self, slowing: Slowing) -> ToDance | None:
        """What is danced now or next, for the screen to show while it isn't; None where nothing is."""
        ...

    def after(self, outcome: ProgrammeEvent) -> Self:
        """What comes of an outcome; itself where nothing does. Raises CanNot for an order that can't be obeyed."""
        ...

    def may_say(self) -> Iterable[str]:
        """Sentences that were not known beforehand and may be told soon."""
        ...
