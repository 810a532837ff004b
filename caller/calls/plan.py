"""Values of the call plan.

Conventions: frames are on the take's own axis; ``due`` is the frame by which a call must have been heard (calling
ahead) or the frame its stressed syllable falls on (calling on the count).
"""

from __future__ import annotations

from dataclasses import dataclass
from enum import Enum
from fractions import Fraction
from functools import cached_property
from typing import NamedTuple, Protocol

# A wording that loses so much, in per cent, leaves out what the class has not been told.
UNTOLD = 160


class Manner(Enum):
    AHEAD = "ahead"
    ON_COUNT = "on-count"
    COUNTS = "counts"
    PROMPTS = "prompts"
    QUIET = "quiet"


class Fading(Enum):
    """How much is called as a section comes round again: all of it, less from time to time, or soon very little."""

    ALL = "all"
    USUAL = "usual"
    LESS = "less"


class CountIn(Enum):
    """How the count-in ends: in numbers to its last count, or with the first call in the place of its last numbers. By
    the sheet's level: numbers up to beginner level, and where no level is told."""

    LEVEL = "level"
    NUMBERS = "numbers"
    CALL = "call"


class CallKind(Enum):
    STEP = "step"
    COUNT = "count"
    WALL = "wall"
    TAG = "tag"
    RESTART = "restart"
    CHANGE = "change"
    ENDING = "ending"
    COUNT_IN = "count-in"


@dataclass(frozen=True, slots=True)
class Utterance:
    """Words as rendered at one speed. Lengths in frames; ``beat`` = frames from its start to the moment heard as its
    beat (the perceptual centre of its first stressed syllable)."""

    words: str
    speed: float
    frames: int
    beat: int


class Part(NamedTuple):
    """Words, and how many counts after the first of what they are said with."""

    words: str
    after: Fraction


class Lexicon(Protocol):
    """What the voice can say, with measured lengths. None = the voice can't say it (or there is no voice)."""

    def utterance(self, words: str, speed: float) -> Utterance | None: ...


@dataclass(frozen=True, slots=True)
class Cue:
    """Something that wants to be said.

    at: the count (absolute) at which what it speaks of begins. wordings: fullest first. lost: per cent of its worth
    that it loses by each wording, ``UNTOLD`` or more where it leaves out what has to be heard; empty: by their order.
    must: never dropped. wall: its wall's number; count: as shown ("3&").
    lead_counts: how far ahead it is wished, 0 = on its beat. ahead_counts: how far ahead it may begin at most.
    heard_counts: how far ahead it must have been heard (0 = just before ``at``).
    """

    kind: CallKind
    wall: int
    at: Fraction
    count: str
    wordings: tuple[str, ...]
    must: bool = False
    lead_counts: Fraction = Fraction(2)
    ahead_counts: Fraction = Fraction(4)
    heard_counts: Fraction = Fraction(0)
    lost: tuple[int, ...] = ()
    in_parts: tuple[tuple[tuple[Part, ...], int], ...] = ()
    steps: bool = False

    @property
    def on_beat(self) -> bool:
        return self.lead_counts == 0


@dataclass(frozen=True, slots=True)
class Call:
    """A cue as it will be said. follows: of a part after the first, the count of the first."""

    cue: Cue
    utterance: Utterance
    starts: int
    due: int
    follows: Fraction | None = None

    @property
    def ends(self) -> int:
        return self.starts + self.utterance.frames

    @property
    def of_steps(self) -> bool:
        """Whether it is a step's call, or the notice at a place that is one call with its first step."""
        return self.cue.kind is CallKind.STEP or self.cue.steps


@dataclass(frozen=True, slots=True)
class Dropped:
    """A cue that is not said, and why. cannot: it must be said and can't be in time; it is then said as well as it can
    be (and stands among the calls too), unless the voice has no words for it."""

    cue: Cue
    why: str
    cannot: bool = False


@dataclass(frozen=True)
class CallPlan:
    """calls: in order of time, none overlapping. dropped: in the order they would have been said."""

    manner: Manner
    margin_seconds: float
    calls: tuple[Call, ...]
    dropped: tuple[Dropped, ...]

    @cached_property
    def of_steps(self) -> tuple[tuple[Call, ...], tuple[Fraction, ...]]:
        """The calls that call steps, in the order of what they are called for, and those counts."""
        calls = tuple(sorted((call for call in self.calls if call.of_steps), key=lambda call: call.cue.at))
        return calls, tuple(call.cue.at for call in calls)
