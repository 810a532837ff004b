"""What each way of saying a cue is worth, and when it may start: cues become stages of the optimum.

Conventions: worths are whole numbers, 200 = a step called in full at its wished moment. A call ahead is over ``margin``
frames before its due frame; a call on the beat starts so that its stressed syllable falls on its count. The weights
are a judgement of ours; what they rest on: a cue is about one to two beats ahead and complete before the action
begins (ROUNDALAB Reference Manual 1987), a choice among eight takes about 0.6 s (Hick 1952), speech is understood
well up to about 275 words a minute (Foulke and Sticht 1969).
"""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass
from typing import NamedTuple

from caller.calls.optimum import Option, Stage
from caller.calls.plan import Cue, Kind, Lexicon, Utterance
from caller.clock.timeline import Timeline

SPEEDS = (1.0, 1.15, 1.35)

# Time to take in a call before its margin, and how far ahead a step may be called whatever the tempo.
TAKE_IN_SECONDS = 0.6
WINDOW_SECONDS = 2.5
# Half of the silence between two calls, each side of a call; numbers in a row need hardly any.
_BREATH_SECONDS = 0.04
_ON_BEAT_BREATH_SECONDS = 0.005
# Being off the wished moment costs by whole steps: less for being early than for being late.
STEP_SECONDS = 0.1
_EARLY, _LATE = 1, 2

_WORTH = {Kind.STEP: 200, Kind.WALL: 100, Kind.COUNT: 60, Kind.COUNT_IN: 20}
_WARNING, _REMINDER, _WORD = 300, 160, 120
# Per cent of it: by wording, fullest first (the last for all further ones); by speed; between two counts.
_FULLNESS = (100, 88, 78, 70, 65)
_AT_SPEED = {1.0: 100, 1.15: 95, 1.35: 74}
_OFF_BEAT = 70
# More than all else together can be worth: a must is said late only where it can't be in time, lost only where not
# even late.
SAID_LATE = -(10**9)
LOST = -(10**12)


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
    breath: int


def due_frame(cue: Cue, timeline: Timeline) -> int:
    """The frame by which it must have been heard; on the beat, the frame it falls on."""
    return timeline.frame_of(cue.at - cue.heard_counts)


def breath_frames(cue: Cue, rate: int) -> int:
    """The silence that belongs to a call of that cue, each side of it."""
    return round((_ON_BEAT_BREATH_SECONDS if cue.on_beat else _BREATH_SECONDS) * rate)


def ways_of(cue: Cue, timeline: Timeline, lexicon: Lexicon, margin: int, from_frame: int) -> Ways:
    """Every way to say a cue that the voice has, none starting before ``from_frame``. margin: frames."""
    said = tuple(_utterances(cue, lexicon))
    utterances = tuple(utterance for utterance, _ in said)
    window = _window(cue, timeline, margin, from_frame)
    make = _on_beat if cue.on_beat else _ahead
    options = tuple(make(window, utterance, worth, timeline.rate) for utterance, worth in said)
    if not cue.must or not said:
        return Ways(cue, window.due, utterances, Stage(options, LOST if cue.must else 0))
    shortest = min(range(len(said)), key=lambda index: said[index][0].frames)
    late = _late(options[shortest], timeline.rate)
    return Ways(cue, window.due, (*utterances, utterances[shortest]), Stage((*options, late), LOST), len(options))


def sayings(cue: Cue) -> Iterator[tuple[str, float, int]]:
    """Every (words, speed) in which a cue may be said, with the ten-thousandths of its worth. Only the last wording
    is hurried to the utmost: any other gives way to the next shorter one first."""
    for index, words in enumerate(cue.wordings):
        for speed in SPEEDS if index == len(cue.wordings) - 1 else SPEEDS[:-1]:
            yield words, speed, _FULLNESS[min(index, len(_FULLNESS) - 1)] * _AT_SPEED[speed]


def _utterances(cue: Cue, lexicon: Lexicon) -> Iterator[tuple[Utterance, int]]:
    """What the voice can say of it, each with its worth."""
    worth = _worth(cue)
    for words, speed, share in sayings(cue):
        utterance = lexicon.utterance(words, speed)
        if utterance is not None:
            yield utterance, worth * share // 10_000


def _worth(cue: Cue) -> int:
    worth = _WORTH.get(cue.kind, _WARNING if cue.must else _REMINDER)
    if cue.on_beat:
        worth = _WORD if cue.kind is Kind.STEP else worth
        worth = worth if cue.at.denominator == 1 else worth * _OFF_BEAT // 100
    return worth


def _window(cue: Cue, timeline: Timeline, margin: int, from_frame: int) -> _Window:
    at = timeline.frame_of(cue.at)
    due, breath = due_frame(cue, timeline), breath_frames(cue, timeline.rate)
    if cue.on_beat:
        return _Window(at, due, from_frame, due, at, breath)
    first = timeline.frame_of(cue.at - cue.ahead_counts)
    if cue.kind is Kind.STEP:
        first = min(first, at - round(WINDOW_SECONDS * timeline.rate))
    lead = timeline.frame_of(cue.at - cue.lead_counts)
    return _Window(at, due, max(first, from_frame), due - margin, lead, breath)


def _on_beat(window: _Window, utterance: Utterance, worth: int, rate: int) -> Option:
    start = window.at - utterance.beat
    return Option(max(start, window.first), start, start, utterance.frames, worth, 0, 0, window.breath, window.breath)


def _ahead(window: _Window, utterance: Utterance, worth: int, rate: int) -> Option:
    return Option(
        first=window.first,
        last=window.heard - utterance.frames,
        wish=min(window.lead, window.at - utterance.frames - round(TAKE_IN_SECONDS * rate)),
        frames=utterance.frames,
        worth=worth,
        early=_EARLY,
        late=_LATE,
        before=window.breath,
        after=window.breath,
    )


def _late(shortest: Option, rate: int) -> Option:
    """The last resort of a must: the shortest way, over as soon after its due frame as can be."""
    wish = shortest.last
    last = max(wish, shortest.first) + round(2 * WINDOW_SECONDS * rate)
    return Option(
        first=max(wish, shortest.first),
        last=last,
        wish=wish,
        frames=shortest.frames,
        worth=SAID_LATE,
        early=0,
        late=_LATE,
        before=shortest.before,
        after=shortest.after,
    )
