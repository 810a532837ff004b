"""A programme: what is taught, stage after stage, as a plain value.

Conventions: positions are counts since the dance's first step, ends excluded; a stage whose start is its end is told
and not danced, to a class that stands as before that count. speed is a share of the full tempo. Nothing here acts: a
session reads a programme, and what comes of a stage is a matter for :mod:`caller.teaching.running`.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from enum import Enum
from fractions import Fraction

from caller.calls.plan import Fading, Manner


class StageKind(Enum):
    """What a stage is in the order of teaching. WALK: its steps one after another without time. DEMONSTRATE: danced for
    the class to watch, counted, nothing called. QUICK: what has been taught so far, up to full speed."""

    INTRODUCE = "introduce"
    TELL = "tell"
    WALK = "walk"
    DEMONSTRATE = "demonstrate"
    WORDS = "words"
    OPTION = "option"
    JOIN = "join"
    ADD = "add"
    QUICK = "quick"
    WALL = "wall"
    WALLS = "walls"
    EVENT = "event"
    LADDER = "ladder"
    WHOLE = "whole"
    DRILL = "drill"
    PRACTICE = "practice"


# What is danced to the class's own music, where there is any; before that it would be in the way.
TO_MUSIC = frozenset({StageKind.QUICK, StageKind.LADDER, StageKind.WHOLE, StageKind.DRILL, StageKind.PRACTICE})


# What is walked goes by the step, not by its words: no sooner than this after the one before it. Slower than the
# slowest count that is danced (a second); common practice.
WALKED_STEP_SECONDS = Fraction(7, 4)


class MovesOn(Enum):
    """What moves a stage on to the next once it has been done so often: itself, a pause, or the pedal."""

    ITSELF = "itself"
    PAUSE = "pause"
    PEDAL = "pedal"


@dataclass(frozen=True, slots=True)
class Stage:
    """One stage.

    times: how often it is danced before it moves on; 0 = until somebody moves it on. manners: of the first go, and of
    those after it as the calls fade; the last one stays. said: sentences spoken first, without a beat; brief: how
    everybody stands has just been said, so of that the foot alone. count_in: counts clicked before each go, at its
    speed. easier: danced the easier way. creep: what the speed grows by with each clean go, up to up_to. sections:
    (part, number) of those it teaches, so that what is repeated is known. goes_back: before each go all turn back to
    where the sheet has them, also over and over: what is told of walls and tags is true there alone. beside: the
    teacher has put it in, and it is no stage of the programme. floor: counts a minute that it goes no slower than as it
    begins, at whatever full tempo; 0 = none.
    """

    name: str
    kind: StageKind
    start: Fraction = Fraction(0)
    end: Fraction = Fraction(0)
    speed: Fraction = Fraction(1)
    times: int = 1
    manners: tuple[Manner, ...] = (Manner.AHEAD,)
    said: tuple[str, ...] = ()
    count_in: int = 8
    moves_on: MovesOn = MovesOn.ITSELF
    pause_seconds: Fraction = Fraction(0)
    easier: bool = False
    creep: Fraction = Fraction(0)
    up_to: Fraction = Fraction(1)
    sections: tuple[tuple[str, int], ...] = ()
    brief: bool = False
    goes_back: bool = False
    beside: bool = False
    floor: Fraction = Fraction(0)

    def speed_at(self, full: Fraction) -> Fraction:
        """Its speed as it begins, at a full tempo in counts a minute."""
        return max(self.speed, min(self.floor / full, Fraction(1)))

    @property
    def danced(self) -> bool:
        return self.end > self.start

    @property
    def step_seconds(self) -> Fraction:
        """The least time from one of its sentences to the next."""
        return WALKED_STEP_SECONDS if self.kind is StageKind.WALK else Fraction(0)

    @property
    def to_music(self) -> bool:
        return self.danced and self.kind in TO_MUSIC

    @property
    def fading(self) -> Fading:
        """What is being learnt is called in full on whatever wall it is danced; only the dance as a whole is called
        less as it comes round."""
        return Fading.USUAL if self.kind is StageKind.WHOLE else Fading.ALL

    @property
    def led(self) -> bool:
        """Whether its music is heard from the recording's beginning, before the count-in."""
        return self.kind is StageKind.WHOLE


@dataclass(frozen=True, slots=True)
class Go:
    """One go, done to its end. index: its stage's. silent: how much was told since the teacher's last order."""

    index: int
    stage: Stage
    speed: Fraction
    manner: Manner
    clean: bool
    silent: int = 0


@dataclass(frozen=True, slots=True)
class LessonPlan:
    """title: the routine's. way: as the class book has it ("walkthrough", "drill", "practice"). tempo: the full one,
    counts a minute. walls: of the dance that the positions are in."""

    title: str
    way: str
    tempo: Fraction
    walls: int
    stages: tuple[Stage, ...]


# Stages that a class can do without: what comes of them comes again in those that follow.
_BESIDES = (
    StageKind.INTRODUCE,
    StageKind.DEMONSTRATE,
    StageKind.OPTION,
    StageKind.JOIN,
    StageKind.ADD,
    StageKind.QUICK,
)


def taught_since(stages: Sequence[Stage], first: int, there: int, since: int) -> int:
    """The stage from which none has been left out, once it is gone on at ``there`` without those from ``first`` on, or
    back; it was ``since`` before."""
    return there if any(stage.kind not in _BESIDES for stage in stages[first:there]) else min(since, there)
