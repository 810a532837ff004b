"""How the plan's optimum compares with a general-purpose solver (HiGHS by way of scipy) and grows with the dance.

Run: ``python -m tests.bench.bench_plan``. Prints ratios; what they are made of comes after them, for this machine.
"""

from __future__ import annotations

import time
from collections.abc import Callable
from dataclasses import replace
from fractions import Fraction

from caller.calls import forms, groups, sayings, words
from caller.calls.cues import cues_for
from caller.calls.glance import glance
from caller.calls.optimum import OptionSlot, best_plan
from caller.calls.plan import CallKind, Manner
from caller.calls.planning import highest_tempo, plan_calls
from caller.calls.score import make_take
from caller.calls.weigh import STEP_SECONDS, ways_of
from caller.clock.timeline import Timeline
from caller.dance.walls import Dance
from tests.calls.outside import best_worth, lightened
from tests.fakes.dances import PIVOTS, SWAYS, WALKS, dance_of
from tests.fakes.lexicon import MeasuredVoice

TEMPI = (100, 120, 180, 240)


def long_dance(walls: int) -> Dance:
    """Walls of 64 counts, seven phrases to 16 of them; a tag and a restart."""
    sections = [replace(rows, section=number) for number, rows in enumerate([WALKS, PIVOTS] * 4, 1)]
    return dance_of(walls, sections, tags={2: SWAYS} if walls > 1 else None, restarts={4: 32} if walls > 3 else None)


def best_seconds(do: Callable[[], object], times: int = 5) -> float:
    def once() -> float:
        begun = time.process_time()  # of this thread's work alone, whatever else the machine does
        do()
        return time.process_time() - begun

    return min(once() for _ in range(times))


def plan_seconds(walls: int, tempo: int, manner: Manner = Manner.AHEAD) -> float:
    dance, voice = long_dance(walls), MeasuredVoice()
    cues = cues_for(dance, manner, Fraction(0), Fraction(dance.counts), 8)
    timeline = Timeline.at_tempo(Fraction(tempo), 48_000, Fraction(-8))
    return best_seconds(lambda: plan_calls(cues, timeline, voice, manner))


def called_anew(walls: int, tempo: int) -> tuple[float, float]:
    """What a dance's cues and plan take with nothing of them worked out before, and how long it is danced; seconds."""
    dance, voice = long_dance(walls), MeasuredVoice()
    for known in (forms.forms_of, groups._names, words.movement_words, words._usual_name, sayings._ahead_sayings):
        known.cache_clear()
    timeline = Timeline.at_tempo(Fraction(tempo), 48_000, Fraction(-8))

    def call() -> object:
        cues = cues_for(dance, Manner.AHEAD, Fraction(0), Fraction(dance.counts), 8)
        return plan_calls(cues, timeline, voice, Manner.AHEAD)

    return best_seconds(call, 1), dance.counts * 60 / tempo


def small_stages(rate: int = 100) -> list[OptionSlot]:
    """Eight counts at a rate that an outside solver can bear; musts weighed lightly, as floating point asks."""
    dance = dance_of(2, (WALKS,), tags={1: SWAYS})
    every = cues_for(dance, Manner.AHEAD, Fraction(0), Fraction(10), 4)
    cues = [cue for cue in every if cue.kind is CallKind.TAG or (cue.kind is CallKind.STEP and cue.at >= 2)]
    timeline = Timeline.at_tempo(Fraction(120), rate, Fraction(-4))
    return lightened(ways.stage for ways in ways_of(cues, timeline, MeasuredVoice(rate), 15, 0))


def main() -> None:
    stages, step = small_stages(), round(STEP_SECONDS * 100)
    ours = best_seconds(lambda: best_plan(stages, step, -10))
    theirs = best_seconds(lambda: best_worth(stages, step, -10), 1)
    assert best_plan(stages, step, -10)[1] == best_worth(stages, step, -10)
    print(f"outside solver / ours, {len(stages)} cues: {theirs / ours:.0f}  ({theirs * 1e3:.0f} / {ours * 1e3:.2f} ms)")
    anew, lasts = called_anew(1, 120)
    print(f"a wall of 64 counts danced / its cues and plan, all anew: {lasts / anew:.0f}  ({anew * 1e3:.0f} ms)")
    one, ten = plan_seconds(1, 120), plan_seconds(10, 120)
    print(f"10 walls / 1 wall, 64 counts each: {ten / one:.1f}")
    for tempo in TEMPI:
        print(f"10 walls of 64 counts at {tempo}: {plan_seconds(10, tempo) * 1e3:.0f} ms")
    for manner in (Manner.ON_COUNT, Manner.COUNTS, Manner.PROMPTS):
        print(f"the same at 120, {manner.value}: {plan_seconds(10, 120, manner) * 1e3:.0f} ms")
    for walls in (4, 10):
        seconds = best_seconds(lambda walls=walls: highest_tempo(long_dance(walls), Manner.AHEAD, MeasuredVoice()), 3)
        print(f"the highest tempo, {walls} walls: {seconds * 1e3:.0f} ms")
    dance, voice = long_dance(10), MeasuredVoice()

    def make() -> object:
        return make_take(
            dance,
            start=Fraction(0),
            end=Fraction(dance.counts),
            tempo=Fraction(120),
            manner=Manner.AHEAD,
            lexicon=voice,
            clips=voice.clip,
            count_in=8,
        )

    print(f"the whole take at 120: {best_seconds(make) * 1e3:.0f} ms")
    take = make_take(
        dance,
        start=Fraction(0),
        end=Fraction(dance.counts),
        tempo=Fraction(120),
        manner=Manner.AHEAD,
        lexicon=voice,
        clips=voice.clip,
        count_in=8,
    )
    frames = range(0, take.end_frame, take.end_frame // 500)
    seconds = best_seconds(lambda: [glance(take, frame) for frame in frames]) / len(frames)
    print(f"a glance: {seconds * 1e3:.2f} ms")


if __name__ == "__main__":
    main()
