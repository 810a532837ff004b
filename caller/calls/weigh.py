"""What each way of saying a cue is worth, and when it may start: cues become stages of the optimum.

Conventions: worths are whole numbers, 70 = a step called in full at its wished moment. A call ahead is over ``margin``
frames before its due frame; a call on the beat starts so that its stressed syllable falls on its count.

When time is short, what gives way comes in this order: fuller words, then some of the silence around a call, then the
voice's own pace, then a turn that the dancers have heard of before, last of all the utmost pace; a step goes unsaid
only where none of it helps, and each step unsaid weighs more than all that the others could gain by it. The weights
are a judgement of ours; what they rest on: few words, about one to two beats ahead and complete before the action
begins (ROUNDALAB Reference Manual 1987), a choice among eight takes about 0.6 s (Hick 1952), speech is understood
well up to about 275 words a minute (Foulke and Sticht 1969).
"""

from __future__ import annotations

from collections.abc import Callable, Iterable, Iterator
from dataclasses import dataclass
from fractions import Fraction
from functools import cache, lru_cache
from typing import NamedTuple

from caller.calls.optimum import Option, Stage
from caller.calls.plan import Cue, Kind, Lexicon, Utterance
from caller.clock.timeline import Timeline

SPEEDS = (1.0, 1.15, 1.35)

# Time to take in a call before its margin, and how far ahead a step may be called whatever the tempo.
TAKE_IN_SECONDS = 0.6
WINDOW_SECONDS = 2.5
# Half of the silence between two calls, each side of a call: as wished, where time is short, and where it is shorter
# still. Words on the beat need hardly any.
_BREATH_SECONDS, _FAIR_BREATH_SECONDS, _SHORT_BREATH_SECONDS = 0.175, 0.1, 0.05
_ON_BEAT_BREATH_SECONDS = 0.005
# Being off the wished moment costs by whole steps.
STEP_SECONDS = 0.1
_EARLY, _LATE = 2, 1

_WORTH = {Kind.STEP: 70, Kind.WALL: 35, Kind.COUNT: 20, Kind.COUNT_IN: 7}
_WARNING, _REMINDER, _WORD = 100, 55, 40
# Per cent lost: by wording, fullest first (the last for all further ones), where a cue doesn't say; by leaving out a
# turn; by less breath; by speed.
_FEWER_WORDS = (0, 5, 10, 30)
_UNTOLD, _FAIRLY_SHORT, _SHORT_OF_BREATH = 30, 6, 16
_AT_SPEED = {1.0: 0, 1.15: 20, 1.35: 45}
_MOST_LOST = 90
# A word between two counts, in per cent of one on a count.
_OFF_BEAT = 70
# What a wall's announcement and a reminder left out weigh: some steps in one word rather than that.
_WALL_UNSAID, _REMINDER_UNSAID = -200, -300
# Each is more than all that is weighed lighter can come to together. Unsaid: a step, and a word between two counts. A
# must is said late only where it can't be in time, and lost only where not even late.
MISSED_BETWEEN, MISSED = -(10**7), -(10**8)
SAID_LATE = -(10**13)
LOST = -(10**16)


class Saying(NamedTuple):
    """One way to say a cue. lost: per cent of its worth; breath: silence each side, in seconds."""

    words: str
    speed: float
    lost: int
    breath: float


@dataclass(frozen=True, slots=True)
class Ways:
    """The ways of saying a cue: utterances[i] is said by stage.options[i]. The last option of a must cue is the late
    one (where it has any), whose index is ``late``."""

    cue: Cue
    due: int
    utterances: tuple[Utterance, ...]
    stage: Stage
    late: int | None = None


class _Window(NamedTuple):
    """Frames of a cue: its count, its due frame, the first on which it may start, the last by which it is over, its
    wished start by counts alone."""

    at: int
    due: int
    first: int
    heard: int
    lead: int


def due_frame(cue: Cue, timeline: Timeline) -> int:
    """The frame by which it must have been heard; on the beat, the frame it falls on."""
    return timeline.frame_of(cue.at - cue.heard_counts)


def breath_after(cue: Cue, rate: int) -> int:
    """The least silence, in frames, that belongs after a call of that cue."""
    return round((_ON_BEAT_BREATH_SECONDS if cue.on_beat else _SHORT_BREATH_SECONDS) * rate)


def ways_of(cues: Iterable[Cue], timeline: Timeline, lexicon: Lexicon, margin: int, from_frame: int) -> Iterator[Ways]:
    """For each cue every way to say it that the voice has, none starting before ``from_frame``. margin: frames."""
    frame_of = cache(timeline.frame_of)  # cues share most of their counts, and their wordings
    said_of = cache(lambda said: _said(said, lexicon, timeline.rate))
    for cue in cues:
        window = _window(cue, frame_of, timeline.rate, margin, from_frame)
        yield _ways(cue, said_of(sayings(cue)), window, timeline.rate)


def _said(said: tuple[Saying, ...], lexicon: Lexicon, rate: int) -> list[tuple[Utterance, int, int]]:
    """Those that the voice has: with what per cent of their worth is left, and their breath in frames."""
    return [
        (utterance, 100 - saying.lost, round(saying.breath * rate))
        for saying in said
        if (utterance := lexicon.utterance(saying.words, saying.speed)) is not None
    ]


def _ways(cue: Cue, said: list[tuple[Utterance, int, int]], window: _Window, rate: int) -> Ways:
    utterances = tuple(utterance for utterance, _, _ in said)
    make, worth = _on_beat if cue.on_beat else _ahead, _worth(cue)
    options = tuple(make(window, utterance, worth * left // 100, breath, rate) for utterance, left, breath in said)
    if not cue.must or not said:
        return Ways(cue, window.due, utterances, Stage(options, _unsaid(cue) if said or cue.must else 0))
    shortest = min(range(len(said)), key=lambda index: said[index][0].frames)
    late = _late(options[shortest], rate)
    return Ways(cue, window.due, (*utterances, utterances[shortest]), Stage((*options, late), LOST), len(options))


def sayings(cue: Cue) -> tuple[Saying, ...]:
    """Every way in which a cue may be said, best first of each wording."""
    return _on_beat_sayings(cue.wordings) if cue.on_beat else _ahead_sayings(cue.wordings, cue.telling, cue.lost)


@lru_cache(maxsize=1024)
def _on_beat_sayings(wordings: tuple[str, ...]) -> tuple[Saying, ...]:
    return tuple(
        Saying(words, speed, _by_order(index) + _AT_SPEED[speed], _ON_BEAT_BREATH_SECONDS)
        for index, words in enumerate(wordings)
        for speed in SPEEDS
    )


@lru_cache(maxsize=1024)
def _ahead_sayings(wordings: tuple[str, ...], telling: int | None, lost: tuple[int, ...]) -> tuple[Saying, ...]:
    """Only the last wording that tells the turn, and the last of all, are said with a short breath or hurried: any
    other gives way to the next shorter one first."""
    told = len(wordings) if telling is None else telling
    found = []
    for index, words in enumerate(wordings):
        fewer = (lost[index] if lost else _by_order(index)) + (_UNTOLD if index >= told else 0)
        found.append(Saying(words, 1.0, min(fewer, _MOST_LOST), _BREATH_SECONDS))
        found.append(Saying(words, 1.0, min(fewer + _FAIRLY_SHORT, _MOST_LOST), _FAIR_BREATH_SECONDS))
        if index + 1 in (told, len(wordings)):
            for speed in SPEEDS:
                hurried = fewer + _SHORT_OF_BREATH + _AT_SPEED[speed]
                found.append(Saying(words, speed, min(hurried, _MOST_LOST), _SHORT_BREATH_SECONDS))
    return tuple(found)


def _by_order(index: int) -> int:
    return _FEWER_WORDS[min(index, len(_FEWER_WORDS) - 1)]


def _worth(cue: Cue) -> int:
    worth = _WORTH.get(cue.kind, _WARNING if cue.must else _REMINDER)
    if cue.on_beat:
        worth = _WORD if cue.kind is Kind.STEP else worth
        worth = worth if cue.at.denominator == 1 else worth * _OFF_BEAT // 100
    return worth


def _unsaid(cue: Cue) -> int:
    if cue.must:
        return LOST
    if cue.kind in (Kind.STEP, Kind.COUNT):
        return MISSED_BETWEEN if cue.on_beat and cue.at.denominator != 1 else MISSED
    return {Kind.COUNT_IN: 0, Kind.WALL: _WALL_UNSAID}.get(cue.kind, _REMINDER_UNSAID)


def _window(cue: Cue, frame_of: Callable[[Fraction], int], rate: int, margin: int, from_frame: int) -> _Window:
    at = frame_of(cue.at)
    if cue.on_beat:
        return _Window(at, at, from_frame, at, at)
    due = frame_of(cue.at - cue.heard_counts)
    first = frame_of(cue.at - cue.ahead_counts)
    if cue.kind is Kind.STEP:
        first = min(first, at - round(WINDOW_SECONDS * rate))
    lead = frame_of(cue.at - cue.lead_counts)
    return _Window(at, due, max(first, from_frame), due - margin, lead)


def _on_beat(window: _Window, utterance: Utterance, worth: int, breath: int, rate: int) -> Option:
    start = window.at - utterance.beat
    return Option(max(start, window.first), start, start, utterance.frames, worth, 0, 0, breath, breath)


def _ahead(window: _Window, utterance: Utterance, worth: int, breath: int, rate: int) -> Option:
    return Option(
        first=window.first,
        last=window.heard - utterance.frames,
        wish=min(window.lead, window.at - utterance.frames - round(TAKE_IN_SECONDS * rate)),
        frames=utterance.frames,
        worth=worth,
        early=_EARLY,
        late=_LATE,
        before=breath,
        after=breath,
    )


def _late(shortest: Option, rate: int) -> Option:
    """The last resort of a must: the shortest way, over as soon after its due frame as can be."""
    wish = shortest.last
    first = max(wish, shortest.first)
    return shortest._replace(
        first=first, last=first + round(2 * WINDOW_SECONDS * rate), wish=wish, worth=SAID_LATE, early=0
    )
