"""What each way of saying a cue is worth, and when it may start: cues become stages of the optimum.

Conventions: worths are whole numbers, 70 = a step called in full at its wished moment. A call ahead is over ``margin``
frames before its due frame; a call on the beat starts so that its stressed syllable falls on its count. A call in parts
holds the line from its first part to its last, each over equally long before its movement, in the rhythm of the steps,
or a little sooner where the next would begin before it is over.

A call is wished on the last half beat on which it is still over in time: then it begins with the beat and its last
syllable is the upbeat of the step. When time is short, what gives way comes in this order: fuller words, then some of
the silence around a call, then the side of a turn that has been told before, then the voice's own pace, then what has
not been told yet (the side of a turn, a recover); the utmost pace is for warnings, and for a step that would go unsaid
without it. A step goes unsaid only where none of it helps, and each step unsaid weighs more
than all that the others could gain by it. The weights are a judgement of ours; what they rest on: few words, about one
to two beats ahead and complete before the action begins (ROUNDALAB Reference Manual 1987), speech is understood well up
to about 275 words a minute (Foulke and Sticht 1969).
"""

from __future__ import annotations

from collections.abc import Callable, Iterable, Iterator
from dataclasses import dataclass
from fractions import Fraction
from functools import cache
from typing import NamedTuple

from caller.calls.optimum import Choice, OptionSlot
from caller.calls.parted import SpokenPart, part_starts
from caller.calls.plan import CallKind, Cue, Lexicon
from caller.calls.sayings import MOST_LOST, ON_BEAT_BREATH_SECONDS, SHORT_BREATH_SECONDS, UTMOST, Saying, sayings
from caller.clock.timeline import Timeline

# The utmost pace is for what must be said, and for a step that would go unsaid without.
_RATHER_THAN_UNSAID = -(10**5)

# Where the words that are over in time take longer than a step may be called ahead, they begin this much sooner still.
_SLACK_SECONDS = 0.12
LATE_SECONDS = 5.0
# Where the parts of a call come close, one is over no more than so much sooner than the last.
_SOONER_SECONDS = 0.2
# Being off the wished moment costs by whole steps.
STEP_SECONDS = 0.1
_EARLY, _LATE = 2, 1

_WORTH = {CallKind.STEP: 70, CallKind.WALL: 35, CallKind.COUNT: 20, CallKind.COUNT_IN: 40}
_WARNING, _REMINDER, _WORD = 100, 55, 40
# Per cent lost by beginning further ahead than a step should, and that by the second.
_FAR_AHEAD, _FURTHER_AHEAD = 6, 40
# A word between two counts, in per cent of one on a count.
_OFF_BEAT = 70
# What a wall's announcement and a reminder left out weigh: some steps in fewer words rather than that.
_WALL_UNSAID, _REMINDER_UNSAID = -120, -300
# Each is more than all that is weighed lighter can come to together. Unsaid: a step, and a word between two counts. A
# must is said late only where it can't be in time, and lost only where not even late.
MISSED_BETWEEN, MISSED = -(10**7), -(10**8)
SAID_LATE = -(10**13)
LOST = -(10**16)


@dataclass(frozen=True, slots=True)
class Ways:
    """The ways of saying a cue: spoken[i] is said by stage.options[i]. The last option of a must cue is the late one
    (where it has any), whose index is ``late``."""

    cue: Cue
    due: int
    spoken: tuple[tuple[SpokenPart, ...], ...]
    stage: OptionSlot
    late: int | None = None


class _Window(NamedTuple):
    """Frames of a cue: its count, its due frame, the first on which it should start, the last by which it is over, its
    wished start by counts alone (None: by how long it takes), the first on which anything may. halves: the half beats
    before it must have been heard, the nearest first; none where its start is wished by counts."""

    at: int
    due: int
    first: int
    heard: int
    lead: int | None
    earliest: int
    frame_of: Callable[[Fraction], int]
    halves: tuple[int, ...] = ()


def due_frame(cue: Cue, timeline: Timeline) -> int:
    """The frame by which it must have been heard; on the beat, the frame it falls on."""
    return timeline.frame_of(cue.at - cue.heard_counts)


def breath_after(cue: Cue, rate: int) -> int:
    """The least silence, in frames, that belongs after a call of that cue."""
    return round((ON_BEAT_BREATH_SECONDS if cue.on_beat else SHORT_BREATH_SECONDS) * rate)


def ways_of(cues: Iterable[Cue], timeline: Timeline, lexicon: Lexicon, margin: int, from_frame: int) -> Iterator[Ways]:
    """For each cue every way to say it that the voice has, none starting before ``from_frame``. margin: frames."""
    frame_of = cache(timeline.frame_of)  # cues share most of their counts, and their wordings
    said_of = cache(lambda said: _said(said, lexicon, timeline.rate))
    for cue in cues:
        window = _window(cue, frame_of, timeline.rate, margin, from_frame)
        yield _ways(cue, said_of(sayings(cue)), window, timeline.rate)


class _Spoken(NamedTuple):
    """left: per cent of its worth that is left; breath: frames."""

    parts: tuple[SpokenPart, ...]
    left: int
    breath: int


def _said(said: tuple[Saying, ...], lexicon: Lexicon, rate: int) -> list[_Spoken]:
    """Those that the voice has."""
    found = []
    for saying in said:
        spoken = [(lexicon.utterance(part.words, saying.speed), part.after) for part in saying.parts]
        parts = tuple(SpokenPart(utterance, after) for utterance, after in spoken if utterance is not None)
        if len(parts) == len(spoken):
            found.append(_Spoken(parts, 100 - saying.lost, round(saying.breath * rate)))
    return found


def _ways(cue: Cue, said: list[_Spoken], window: _Window, rate: int) -> Ways:
    worth = _worth(cue)
    made = [(one, _option(cue, one, window, worth, rate)) for one in said]
    options = tuple(option for _, option in made if option is not None)
    spoken = tuple(one.parts for one, option in made if option is not None)
    if not cue.must or not options:
        return Ways(cue, window.due, spoken, OptionSlot(options, _unsaid(cue) if options or cue.must else 0))
    shortest = min(range(len(options)), key=lambda index: options[index].frames)
    late = _late(options[shortest], rate)
    return Ways(cue, window.due, (*spoken, spoken[shortest]), OptionSlot((*options, late), LOST), len(options))


def _worth(cue: Cue) -> int:
    worth = _WORTH.get(cue.kind, _WARNING if cue.must else _REMINDER)
    if cue.on_beat:
        worth = _WORD if cue.kind is CallKind.STEP else worth
        worth = worth if cue.at.denominator == 1 else worth * _OFF_BEAT // 100
    return worth


def _unsaid(cue: Cue) -> int:
    if cue.must:
        return LOST
    if cue.kind is CallKind.COUNT_IN:
        return 2 * MISSED  # a count-in that breaks off is worse than a first call told before it and not again
    if cue.steps or cue.kind in (CallKind.STEP, CallKind.COUNT):
        return MISSED_BETWEEN if cue.on_beat and cue.at.denominator != 1 else MISSED
    return _WALL_UNSAID if cue.kind is CallKind.WALL else _REMINDER_UNSAID


def _window(cue: Cue, frame_of: Callable[[Fraction], int], rate: int, margin: int, from_frame: int) -> _Window:
    at = frame_of(cue.at)
    if cue.on_beat:
        return _Window(at, at, from_frame, at, at, from_frame, frame_of)
    heard_at = cue.at - cue.heard_counts
    due = frame_of(heard_at)
    first = frame_of(cue.at - cue.ahead_counts)
    lead = None if cue.steps else frame_of(cue.at - cue.lead_counts)
    halves = tuple(frame_of(heard_at - n) for n in _HALVES) if lead is None else ()
    return _Window(at, due, max(first, from_frame), due - margin, lead, from_frame, frame_of, halves)


def _option(cue: Cue, said: _Spoken, window: _Window, worth: int, rate: int) -> Choice | None:
    """None where its parts would run into one another."""
    first = said.parts[0].utterance
    worth = worth * said.left // 100
    if cue.steps and not cue.must and first.speed == UTMOST:
        worth += _RATHER_THAN_UNSAID
    if cue.on_beat:
        start = window.at - first.beat
        return Choice(max(start, window.first), start, start, first.frames, worth, 0, 0, said.breath, said.breath)
    starts = part_starts(cue, said.parts, window.frame_of, rate)
    offsets = [start - starts[0] for start in starts]
    lengths = [part.utterance.frames for part in said.parts]
    gaps = [later - sooner - length for sooner, later, length in zip(offsets, offsets[1:], lengths, strict=False)]
    sooner = -starts[0] - lengths[0]
    if any(gap < said.breath + round(ON_BEAT_BREATH_SECONDS * rate) for gap in gaps) or sooner > _SOONER_SECONDS * rate:
        return None
    last = window.heard - lengths[0] - sooner
    opens, worth = _opening(cue, window, last, worth, max(round(_SLACK_SECONDS * rate) - sooner, 0), rate)
    return Choice(
        first=max([opens, *_after_steps(cue, said.parts, offsets, window)]),
        last=last,
        wish=_wish(window, last),
        frames=offsets[-1] + lengths[-1],
        worth=worth,
        early=_EARLY,
        late=_LATE,
        before=said.breath,
        after=said.breath,
    )


def _after_steps(cue: Cue, parts: tuple[SpokenPart, ...], offsets: list[int], window: _Window) -> list[int]:
    """The first frame on which each later part is over less than a whole beat before its own movement: else whoever
    obeys the voice turns while the step before the turn is danced."""
    later = zip(parts[1:], offsets[1:], strict=True)
    return [window.frame_of(cue.at + part.after - 1) - offset - part.utterance.frames for part, offset in later]


def _opening(cue: Cue, window: _Window, last: int, worth: int, slack: int, rate: int) -> tuple[int, int]:
    """The first frame on which a step's call may start; words too long for the counts that it may be called ahead begin
    so much sooner, and are worth less. slack: frames by which they may begin sooner still."""
    if not cue.steps or cue.heard_counts or last - slack >= window.first:
        return window.first, worth
    sooner = Fraction(window.first - (last - slack), rate)
    lost = min(_FAR_AHEAD + round(_FURTHER_AHEAD * sooner), MOST_LOST)
    return max(last - slack, window.earliest), worth - abs(worth) * lost // 100


def _wish(window: _Window, last: int) -> int:
    """By counts where those are given; else the last half beat on which it is still over in time."""
    if window.lead is not None:
        return min(window.lead, last)
    return next((wish for wish in window.halves if wish <= last), last)


_HALVES = tuple(Fraction(n, 2) for n in range(1, 12))


def _late(shortest: Choice, rate: int) -> Choice:
    """The last resort of a must: the shortest way, over as soon after its due frame as can be."""
    wish = shortest.last
    first = max(wish, shortest.first)
    return shortest._replace(first=first, last=first + round(LATE_SECONDS * rate), wish=wish, worth=SAID_LATE, early=0)
