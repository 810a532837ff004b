"""The call plan: for each cue a wording, a speed and a starting frame, or nothing.

Sought is the plan that is worth most. Its worth is the sum, over the cues, of

- ``worth x (100 - lost) / 100`` for a cue that is said, less 2 for each tenth of a second (begun ones counted whole)
  that it starts before its wished moment, 1 for each that it starts after it. A step's is the last half beat on which
  it is over in time; a notice's and a wall's ``lead_counts`` before what it speaks of. A step is worth 70, a warning
  100, a reminder 55, a wall 35, a word on the count 40, a number counted 20, one of the count-in 40. Lost are, in per
  cent, what each of its wordings loses, 4 or 10 by less breath, 20 or 45 by being hurried, 6 and more by beginning
  further ahead than a step should (see :mod:`caller.calls.weigh`);
- minus 10 ** 8 for a step unsaid, so that all are said if any plan allows it, twice that for a number of the count-in,
  a tenth for a word between two counts; minus 10 ** 5 for a step at the utmost pace; minus 120 for a wall that goes
  unannounced, 300 for a reminder;
- minus 10 ** 13 for a warning that comes late, minus 10 ** 16 for one that is lost.

It holds that

- no two calls overlap, and a breath lies between them: 0.35 s, or 0.2 or 0.1 where time is short;
- a call ahead is over ``margin_seconds`` before its due frame and starts within its window (2.1 counts ahead, 3.1 in
  threes, or, where its words are longer than that, just so soon that they are whole; 14 counts for announcements); a
  call in parts is over so before each part's movement; a call on the beat has its stressed syllable on its count;
- a count-in's numbers are all said or none of them;
- cues keep the order in which they are wished;
- that a wall is the last, where there was no room for it at its start, is said within it, if that costs no other call
  and no class is under way (several plans would come late);
- a must cue is said in time if any plan allows it, else as shortly and as little late as can be, and reported.

The plan is the optimum of that, not a greedy guess: :func:`caller.calls.optimum.best_plan`.
"""

from __future__ import annotations

from collections.abc import Callable, Iterable, Sequence
from dataclasses import replace
from fractions import Fraction
from itertools import pairwise

from caller.calls.cues import cues_for
from caller.calls.last_wall import is_better, told_later
from caller.calls.optimum import Chosen, best_plan
from caller.calls.parted import offsets_of
from caller.calls.plan import Call, CallKind, CallPlan, Cue, Dropped, Fading, Lexicon, Manner
from caller.calls.sayings import ON_BEAT_BREATH_SECONDS, SPEEDS
from caller.calls.weigh import MISSED_BETWEEN, STEP_SECONDS, Ways, ways_of
from caller.clock.timeline import Timeline
from caller.dance.walls import Dance

MARGIN_SECONDS = 0.15
SLOWEST, FASTEST = 40, 260


def plan_calls(
    cues: Sequence[Cue],
    timeline: Timeline,
    lexicon: Lexicon,
    manner: Manner,
    *,
    margin_seconds: float = MARGIN_SECONDS,
    from_frame: int = 0,
    free: int | None = None,
) -> CallPlan:
    """The best plan for ``cues`` (in the order they are wished), nothing starting before ``from_frame``. free: the
    frame at which what is said already is over; None where nothing has been said."""

    def planned(wanted: Sequence[Cue], uncounted: list[Dropped]) -> CallPlan:
        return _planned(wanted, uncounted, timeline, lexicon, manner, margin_seconds, from_frame, free)

    wanted, uncounted = _counted(cues, timeline, lexicon)
    plan = planned(wanted, [*uncounted])
    if _breaks_off(plan):
        wanted, uncounted = _uncounted(cues, _GAVE_WAY)
        plan = planned(wanted, [*uncounted])
    if free is not None:  # a class is under way, and a plan made over and over would come late
        return plan
    others = (planned(later, [*uncounted]) for later in told_later(wanted, plan))
    return next((other for other in others if is_better(other, plan)), plan)


def _breaks_off(plan: CallPlan) -> bool:
    """Whether of a count-in some numbers are said and others are not."""
    said, left_out = plan.calls, plan.dropped
    return any(one.cue.kind is CallKind.COUNT_IN for one in said) and any(
        one.cue.kind is CallKind.COUNT_IN for one in left_out
    )


def _planned(
    wanted: Sequence[Cue],
    uncounted: list[Dropped],
    timeline: Timeline,
    lexicon: Lexicon,
    manner: Manner,
    margin_seconds: float,
    from_frame: int,
    free: int | None,
) -> CallPlan:
    margin = round(margin_seconds * timeline.rate)
    all_ways = list(ways_of(wanted, timeline, lexicon, margin, from_frame))
    # Where nothing has been said, the first call needs no breath before it.
    quiet = min((option.first - option.before for ways in all_ways for option in ways.stage.options), default=0)
    step = round(STEP_SECONDS * timeline.rate)
    chosen, _ = best_plan([ways.stage for ways in all_ways], step, quiet if free is None else free, MISSED_BETWEEN)
    calls: list[Call] = []
    for ways, choice in zip(all_ways, chosen, strict=True):
        if choice is not None:
            calls += _calls(ways, choice, timeline)
    dropped = uncounted
    for ways, choice in zip(all_ways, chosen, strict=True):
        if choice is None:
            dropped.append(Dropped(ways.cue, _why(ways, calls, timeline.rate), cannot=ways.cue.must))
        elif choice.option == ways.late:
            late = choice.start + ways.spoken[choice.option][0].utterance.frames + margin - ways.due
            dropped.append(Dropped(ways.cue, _too_late(ways, late / timeline.rate), cannot=True))
    return CallPlan(manner, margin_seconds, tuple(calls), tuple(dropped))


def _calls(ways: Ways, choice: Chosen, timeline: Timeline) -> list[Call]:
    """A cue as it is said; each further part with its own movement's count."""
    cue = ways.cue
    parts = ways.spoken[choice.option]
    found = [Call(cue, parts[0].utterance, choice.start, ways.due)]
    offsets = offsets_of(cue, parts, timeline.frame_of, timeline.rate)
    for part, offset in zip(parts[1:], offsets[1:], strict=True):
        own = replace(
            cue,
            kind=CallKind.STEP,  # a notice is said with the first
            at=cue.at + part.after,
            count=_later_count(cue.count, part.after),
            wordings=(part.utterance.words,),
            lost=(),
            in_parts=(),
            must=False,
        )
        due = timeline.frame_of(own.at)
        found.append(Call(own, part.utterance, choice.start + offset, due, follows=cue.at))
    return found


def _later_count(count: str, after: Fraction) -> str:
    """The count's label so many whole counts later ("3&" and 2 is "5&")."""
    digits = count.rstrip("&ea")
    return f"{int(digits) + int(after)}{count[len(digits) :]}" if digits.isdigit() and after.denominator == 1 else count


_GAVE_WAY = "what comes first takes its time, and a count-in that breaks off is worse than none"
_NO_COUNT_IN = "the beat is too quick for the numbers, and a count-in that breaks off is worse than none"


def _counted(cues: Sequence[Cue], timeline: Timeline, lexicon: Lexicon) -> tuple[list[Cue], list[Dropped]]:
    """The cues with the count-in's numbers, or, where the voice can't say them one after the other, without; and those
    left out."""
    numbers = [cue for cue in cues if cue.kind is CallKind.COUNT_IN]
    said = [(cue, lexicon.utterance(cue.wordings[0], SPEEDS[-1])) for cue in numbers]
    unsaid = next((cue.wordings[0] for cue, utterance in said if utterance is None), "")
    placed = [(timeline.frame_of(cue.at) - one.beat, one.frames) for cue, one in said if one is not None]
    air = round(2 * ON_BEAT_BREATH_SECONDS * timeline.rate)
    in_turn = all(start + frames + air <= after for (start, frames), (after, _) in pairwise(placed))
    if in_turn and not unsaid:
        return list(cues), []
    why = f'the voice can\'t say "{unsaid}"' if unsaid else _NO_COUNT_IN
    return _uncounted(cues, why)


def _uncounted(cues: Sequence[Cue], why: str) -> tuple[list[Cue], list[Dropped]]:
    """The cues without the count-in's numbers, and those left out."""
    numbers = [Dropped(cue, why) for cue in cues if cue.kind is CallKind.COUNT_IN]
    return [cue for cue in cues if cue.kind is not CallKind.COUNT_IN], numbers


def _too_late(ways: Ways, seconds: float) -> str:
    words = ways.spoken[-1][0].utterance.words
    return f'"{words}" can\'t be heard in time at this tempo: it comes {max(seconds, 0.01):.2f} s too late'


def _why(ways: Ways, calls: Sequence[Call], rate: int) -> str:
    """Why a cue is not said: the voice, the time there is for it, or what it gave way to."""
    options = ways.stage.options
    if not options:
        return f'the voice can\'t say "{ways.cue.wordings[0]}"'
    shortest = min(options, key=lambda option: option.frames)
    if all(option.first > option.last for option in options):
        room = max(shortest.last + shortest.frames - shortest.first, 0)
        return f"it takes {shortest.frames / rate:.2f} s at its shortest, and there are {room / rate:.2f} s for it"
    # The calls in its way are those that overlap the frames it could have had; name the nearest to its beat.
    opens, closes = shortest.first, shortest.last + shortest.frames
    in_the_way = [call for call in calls if call.starts < closes and call.ends > opens]
    return f'it gave way to "{in_the_way[-1].utterance.words}"' if in_the_way else "there was no room for it"


def highest_tempo(
    dance: Dance,
    manner: Manner,
    lexicon: Lexicon,
    *,
    start: Fraction | None = None,
    end: Fraction | None = None,
    count_in: int = 8,
    rate: int = 48_000,
    margin_seconds: float = MARGIN_SECONDS,
    fading: Fading = Fading.USUAL,
) -> int | None:
    """The highest whole tempo (counts a minute, 40 to 260) at which every step is called and every must in time, with
    one count a minute more failing; None where even the slowest is too fast. Cues that the voice can't say at all
    don't count.
    """
    from_count = Fraction(0) if start is None else start
    cues = cues_for(dance, manner, from_count, Fraction(dance.counts) if end is None else end, count_in, fading)
    wanted = [
        cue
        for cue in cues
        if (cue.must or cue.kind is CallKind.COUNT or (_says_step(cue) and not cue.heard_counts))
        and any(lexicon.utterance(words, 1.0) for words in cue.wordings)
    ]
    margin = round(margin_seconds * rate)

    def all_said(tempo: int) -> bool:
        timeline = Timeline.at_tempo(Fraction(tempo), rate, from_count - count_in)
        return _fits(ways_of(wanted, timeline, lexicon, margin, 0))

    return _highest(all_said, SLOWEST, FASTEST)


def _says_step(cue: Cue) -> bool:
    return cue.steps or cue.kind is CallKind.STEP


def _fits(all_ways: Iterable[Ways]) -> bool:
    """Whether all can be said in time, one after the other: what is over soonest is best for the rest."""
    free = -(1 << 62)
    for ways in all_ways:
        in_time = ways.stage.options[: ways.late]
        starts = ((max(option.first, free + option.before), option) for option in in_time)
        ends = [start + option.frames + option.after for start, option in starts if start <= option.last]
        if not ends:
            return False
        free = min(ends)
    return True


def _highest(holds: Callable[[int], bool], lowest: int, highest: int) -> int | None:
    """By halves: a number that holds while the next doesn't (or the highest, where that holds)."""
    if not holds(lowest):
        return None
    if holds(highest):
        return highest
    while highest - lowest > 1:
        middle = (lowest + highest) // 2
        lowest, highest = (middle, highest) if holds(middle) else (lowest, middle)
    return lowest
