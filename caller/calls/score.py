"""Takes: a stretch of the dance with its timeline, its plan and all that sounds, on exact frames.

Conventions: frame 0 of a take is the first click of its count-in (with none, the first count), or the beginning of a
lead of music before it. The count track clicks
on every whole count and accents the first of each bar; bars are counted from each section's first count, so that a
half-bar tag shifts them. A new tempo never changes a take: it makes another on the same axis, the same until the frame
it holds from.
"""

from __future__ import annotations

from bisect import bisect_left
from collections.abc import Callable, Sequence
from dataclasses import replace
from fractions import Fraction
from math import ceil

from caller.calls.cues import cues_for, opening_for
from caller.calls.groups import groups_between
from caller.calls.last_wall import with_still_to_tell
from caller.calls.needed import phrases_needed as phrases_needed
from caller.calls.opening import lead_for
from caller.calls.places import place_in_section, wall_at, walls_between
from caller.calls.plan import Call, CallPlan, CountIn, Cue, Fading, Lexicon, Manner
from caller.calls.planning import MARGIN_SECONDS, plan_calls
from caller.calls.take import Take
from caller.calls.weigh import breath_after, due_frame
from caller.clock.timeline import Timeline
from caller.dance.walls import Dance
from caller.sound.clicks import ACCENT, COUNT, count_track, in_order, tone
from caller.sound.levels import LEAST_OVER_LU, duck_for
from caller.sound.score import RATE, Clip, Placement, Score

# Speech is as loud as it was made; the clicks have a gain of their own, below it.
CALL_GAIN = 1.0

Clips = Callable[[str, float], Clip | None]


def make_take(
    dance: Dance,
    *,
    start: Fraction,
    end: Fraction,
    tempo: Fraction,
    manner: Manner,
    lexicon: Lexicon,
    clips: Clips,
    count_in: int,
    rate: int = RATE,
    margin_seconds: float = MARGIN_SECONDS,
    over_lu: float = LEAST_OVER_LU,
    fading: Fading = Fading.USUAL,
    lead: Fraction = Fraction(0),
    how: CountIn = CountIn.LEVEL,
) -> Take:
    """The take of counts ``start`` to ``end`` (excluded) at ``tempo`` counts a minute, ``count_in`` counts clicked
    before it.

    clips: the sound of what the lexicon has measured, by words and speed. over_lu: how far calls stand over the count
    track. lead: counts before the count-in, for music; more where the call before the count-in needs it. how: the
    count-in ends. Raises ValueError for a stretch without a count, a count-in or a lead below 0 or a tempo not above 0.
    """
    if end <= start or count_in < 0 or lead < 0:
        raise ValueError(
            f"a take needs a count to dance and a count-in and a lead of 0 or more, not {start} to {end} after "
            f"{lead} and {count_in}"
        )
    opening = opening_for(dance, manner, start, end, count_in, how)
    said_first = CountIn.NUMBERS if opening is None and manner is not Manner.AHEAD else how
    header, pace = dance.routine.header, (tempo, rate)
    if manner is not Manner.QUIET:
        lead = max(lead, lead_for(opening, header, said_first, lexicon, pace, count_in, margin_seconds))
    timeline = Timeline.at_tempo(tempo, rate, start - count_in - lead)
    cues = cues_for(dance, manner, start, end, count_in, fading, how)
    plan = plan_calls(cues, timeline, lexicon, manner, margin_seconds=margin_seconds)
    score = Score((), 0, rate, duck_for(over_lu))
    groups = tuple(groups_between(dance, start, end))
    take = Take(dance, start, end, count_in, timeline, plan, score, fading, lead, how, groups)
    return _scored(take, _clicks(take, timeline, 0), clips, 0)


def retimed(
    take: Take,
    at_frame: int,
    tempo: Fraction,
    lexicon: Lexicon,
    clips: Clips,
    *,
    dance: Dance | None = None,
    manner: Manner | None = None,
    fading: Fading | None = None,
) -> Take:
    """The same take, from ``at_frame`` on at ``tempo``; with another dance of the same counts (the easier way), manner
    or fading, where given. All that began before that frame stays exactly as it was, so that what is half said is said
    to its end; the rest is planned anew, and a warning that was to come late still comes. Raises ValueError for a
    tempo not above 0."""
    timeline = take.timeline.with_tempo(at_frame, tempo)
    manner = manner or take.plan.manner
    groups = take.groups if dance is None else tuple(groups_between(dance, take.start, take.end))
    changed = replace(take, dance=dance or take.dance, timeline=timeline, fading=fading or take.fading, groups=groups)
    begun = tuple(call for call in take.plan.calls if call.starts < at_frame)
    ahead = _ahead(changed, take.plan, begun, at_frame, manner)
    plan = plan_calls(
        ahead,
        timeline,
        lexicon,
        manner,
        margin_seconds=take.plan.margin_seconds,
        from_frame=at_frame,
        free=max((call.ends + breath_after(call.cue, timeline.rate) for call in begun), default=None),
    )
    # A part that goes on with a begun call still follows it.
    heads = {call.cue: call.follows for call in take.plan.calls if call.starts >= at_frame}
    planned = tuple(replace(call, follows=call.follows or heads.get(call.cue)) for call in plan.calls)
    again = set(ahead)
    past = tuple(drop for drop in take.plan.dropped if drop.cue not in again and _is_past(drop.cue, take, at_frame))
    whole = CallPlan(manner, plan.margin_seconds, begun + planned, past + plan.dropped)
    kept = tuple(placed for placed in take.score.placements if placed.frame < at_frame)
    return _scored(replace(changed, plan=whole), (*kept, *_clicks(take, timeline, at_frame)), clips, at_frame)


def _ahead(changed: Take, was: CallPlan, begun: Sequence[Call], at_frame: int, manner: Manner) -> list[Cue]:
    """The cues still to be said: those not yet due, and of those that must be said all that were to come late or
    whose event is still ahead."""
    said = {(call.cue.kind, call.cue.at, call.cue.must) for call in begun}
    to_come = {call.cue for call in was.calls if call.starts >= at_frame}
    # What was begun in parts is said to its end.
    heads = {call.cue.at for call in begun if call.cue.in_parts}
    found = [call.cue for call in was.calls if call.starts >= at_frame and call.follows in heads]
    stretch = (changed.start, changed.end, changed.count_in)
    for cue in cues_for(changed.dance, manner, *stretch, changed.fading, changed.how):
        due = due_frame(cue, changed.timeline)
        still = cue.must and (cue in to_come or changed.timeline.frame_of(cue.at) > at_frame)
        if (cue.kind, cue.at, cue.must) not in said and (due >= at_frame or still):
            found.append(cue)
    wanted = with_still_to_tell(found, was, at_frame)
    return sorted(wanted, key=lambda cue: cue.at - cue.lead_counts) if heads or wanted != found else found


def _is_past(cue: Cue, take: Take, at_frame: int) -> bool:
    """Whether its time was over before that frame."""
    return due_frame(cue, take.timeline) < at_frame


def _clicks(take: Take, timeline: Timeline, from_frame: int) -> tuple[Placement, ...]:
    """The count track from a frame on."""
    counts = [take.start + n for n in range(-take.count_in, ceil(take.end - take.start))]
    # The earlier timeline says which counts have had their click: the two may round a count at the splice apart.
    left = counts[bisect_left(counts, from_frame, key=take.timeline.frame_of) :]
    opening = _bar_openings(take)
    beats = ((max(timeline.frame_of(n), from_frame), ACCENT if n in opening else COUNT) for n in left)
    return count_track(beats)


def _bar_openings(take: Take) -> set[Fraction]:
    """The first count of each bar; the count-in leads into the bar of the first count danced."""
    bar = take.dance.routine.header.meter.counts
    opening = set()
    for wall in walls_between(take.dance, take.start, take.end):
        for stretch in wall.stretches:
            first = int(-place_in_section(wall, stretch.at) % bar)
            opening |= {stretch.at + n for n in range(first, stretch.counts, bar)}
    place = place_in_section(wall_at(take.dance, take.start), take.start)
    led_in = {take.start - n for n in range(1, take.count_in + 1) if (place - n) % bar == 0}
    return {count for count in opening if count >= take.start} | led_in


def _scored(take: Take, placed: Sequence[Placement], clips: Clips, from_frame: int) -> Take:
    """The take with its score: what is placed already, and from a frame on what its plan says."""
    spoken = [
        Placement(call.starts, clip, CALL_GAIN, "call")
        for call in take.plan.calls
        if call.starts >= from_frame and (clip := clips(call.utterance.words, call.utterance.speed)) is not None
    ]
    placements = in_order(placed, spoken, _tones(take, from_frame))
    frames = max([take.end_frame, *(one.end for one in placements)])
    return replace(take, score=Score(placements, frames, take.timeline.rate, take.score.duck_db))


def _tones(take: Take, from_frame: int) -> list[Placement]:
    """Where a must can't be said at all, a tone at its wished moment."""
    said = {call.cue for call in take.plan.calls}
    unsaid = (drop.cue for drop in take.plan.dropped if drop.cannot and drop.cue not in said)
    frames = (take.timeline.frame_of(cue.at - cue.lead_counts) for cue in unsaid)
    return [Placement(frame, tone(), CALL_GAIN, "call") for frame in frames if frame >= from_frame]
