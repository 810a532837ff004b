"""The call plan: its laws on any dance and voice, and what a teacher would expect of it."""

from __future__ import annotations

from dataclasses import replace
from fractions import Fraction
from itertools import pairwise

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from caller.calls.cues import cues_for
from caller.calls.optimum import best_plan
from caller.calls.plan import CallKind, CallPlan, Cue, Manner, Part
from caller.calls.planning import FASTEST, highest_tempo, plan_calls
from caller.calls.weigh import LOST, MISSED, MISSED_BETWEEN, SAID_LATE, STEP_SECONDS, ways_of
from caller.clock.timeline import Timeline
from caller.dance.unroll import unroll
from caller.dance.walls import Dance
from caller.routine.meter import Meter
from caller.routine.notation.read import read_bytes
from tests.calls.outside import best_worth, lightened
from tests.calls.takes import as_asked
from tests.fakes.dances import HALF_BAR, PIVOTS, STOMP, SWAYS, WALKS, WALTZ, dance_of
from tests.fakes.lexicon import MeasuredVoice, Mute, PausingVoice

RATE = 48_000
MARGIN = 0.15
EVENTS = {CallKind.TAG, CallKind.RESTART, CallKind.CHANGE, CallKind.ENDING}


def test_what_is_left_out_weighs_more_than_a_bar_of_what_is_less_to_be_missed() -> None:
    for lighter, heavier in pairwise((MISSED_BETWEEN, MISSED, SAID_LATE, LOST)):
        assert heavier < 8 * lighter


def timeline_at(tempo: int, count_in: int = 8, rate: int = RATE) -> Timeline:
    return Timeline.at_tempo(Fraction(tempo), rate, Fraction(-count_in))


def plan_of(
    dance: Dance,
    tempo: int,
    manner: Manner = Manner.AHEAD,
    voice: MeasuredVoice | Mute | None = None,
    count_in: int = 8,
) -> CallPlan:
    cues = cues_for(dance, manner, Fraction(0), Fraction(dance.counts), count_in)
    return plan_calls(cues, timeline_at(tempo, count_in), voice or MeasuredVoice(), manner, margin_seconds=MARGIN)


def words(plan: CallPlan, *kinds: CallKind) -> list[str]:
    return [call.utterance.words for call in plan.calls if not kinds or call.cue.kind in kinds]


dances = st.sampled_from(
    [
        dance_of(3, tags={1: SWAYS, 2: HALF_BAR}),
        dance_of(3, restarts={1: 8, 2: 12}),
        dance_of(2, changes={1: 8}, ending=(8, STOMP)),
        dance_of(2, tags_inside={1: (8, HALF_BAR)}, restarts={2: 8}),
    ]
)
manners = st.sampled_from(list(Manner))
tempi = st.integers(40, 320)
voices = st.floats(0.5, 2.5).map(lambda stretch: MeasuredVoice(stretch=stretch))


@given(dances, tempi, manners, voices)
@settings(max_examples=25)
def test_no_two_calls_overlap(dance: Dance, tempo: int, manner: Manner, voice: MeasuredVoice) -> None:
    for call, following in pairwise(plan_of(dance, tempo, manner, voice).calls):
        breath = 0.01 if call.cue.on_beat and following.cue.on_beat else 0.055
        assert following.starts - call.ends >= round(breath * RATE)


@given(dances, tempi, manners, voices)
@settings(max_examples=25)
def test_a_call_ahead_is_over_before_its_margin(dance: Dance, tempo: int, manner: Manner, voice: MeasuredVoice) -> None:
    plan = plan_of(dance, tempo, manner, voice)
    late = {id(drop.cue) for drop in plan.dropped if drop.cannot}
    for call in plan.calls:
        if not call.cue.on_beat and id(call.cue) not in late:
            assert call.ends + round(MARGIN * RATE) <= call.due


@given(dances, tempi, manners, voices)
@settings(max_examples=25)
def test_a_word_on_the_count_has_its_beat_on_it(dance: Dance, tempo: int, manner: Manner, voice: MeasuredVoice) -> None:
    timeline = timeline_at(tempo)
    for call in plan_of(dance, tempo, manner, voice).calls:
        if call.cue.on_beat:
            assert call.starts + call.utterance.beat == call.due == timeline.frame_of(call.cue.at)


@given(dances, tempi, manners, voices)
@settings(max_examples=25)
def test_no_call_comes_long_before_its_time(dance: Dance, tempo: int, manner: Manner, voice: MeasuredVoice) -> None:
    timeline = timeline_at(tempo)
    for call in plan_of(dance, tempo, manner, voice).calls:
        earliest = timeline.frame_of(call.cue.at - max(call.cue.ahead_counts, 4))
        assert call.starts >= min(earliest, timeline.frame_of(call.cue.at) - round(2.5 * RATE))


@given(dances, tempi, manners, voices)
@settings(max_examples=25)
def test_every_cue_is_said_or_told_as_dropped(dance: Dance, tempo: int, manner: Manner, voice: MeasuredVoice) -> None:
    cues = cues_for(dance, manner, Fraction(0), Fraction(dance.counts), 8)
    plan = plan_of(dance, tempo, manner, voice)
    gone = [drop.cue for drop in plan.dropped if not drop.cannot]
    said = as_asked(plan, cues)
    assert sorted(map(cues.index, said + gone)) == list(range(len(cues)))
    assert all(drop.why for drop in plan.dropped)


@given(dances, tempi, voices)
@settings(max_examples=20)
def test_a_must_is_in_time_wherever_musts_alone_would_be(dance: Dance, tempo: int, voice: MeasuredVoice) -> None:
    # Leaving out all that may be left out gives the musts all the room there is: as many as then fit must be in time.
    cues = cues_for(dance, Manner.AHEAD, Fraction(0), Fraction(dance.counts), 8)
    alone = plan_calls(
        [cue for cue in cues if cue.must], timeline_at(tempo), voice, Manner.AHEAD, margin_seconds=MARGIN
    )
    together = plan_of(dance, tempo, voice=voice)
    assert sum(drop.cannot for drop in together.dropped) == sum(drop.cannot for drop in alone.dropped)


def test_the_outside_solver_finds_no_better_plan_for_a_wall() -> None:
    # Outside check: HiGHS on the stages that real cues make, at a coarse rate so that its whole numbers stay small.
    rate = 100
    tagged, cut = dance_of(2, (WALKS,), tags={1: SWAYS}), dance_of(2, (PIVOTS,), restarts={1: 4})
    for dance, tempo in ((tagged, 150), (tagged, 300), (cut, 150), (cut, 240)):
        every = cues_for(dance, Manner.AHEAD, Fraction(0), Fraction(10), 4)
        cues = [cue for cue in every if cue.kind in EVENTS or (cue.kind is CallKind.STEP and cue.at >= 2)]
        timeline = timeline_at(tempo, 4, rate)
        stages = [ways.stage for ways in ways_of(cues, timeline, MeasuredVoice(rate), 15, 0)]
        light = lightened(stages)
        _, total = best_plan(light, round(STEP_SECONDS * rate), -10)
        assert total == best_worth(light, round(STEP_SECONDS * rate), -10), (tempo, dance.counts)


def test_the_plan_is_the_same_whether_or_not_what_is_dear_is_looked_for_first() -> None:
    for tempo in (60, 110, 170, 240, 400):
        dance = dance_of(3, tags={1: SWAYS}, restarts={2: 8})
        cues = cues_for(dance, Manner.AHEAD, Fraction(0), Fraction(dance.counts), 8)
        stages = [ways.stage for ways in ways_of(cues, timeline_at(tempo), MeasuredVoice(), 7200, 0)]
        assert best_plan(stages, 4800, 0, MISSED_BETWEEN)[1] == best_plan(stages, 4800, 0)[1]


def test_at_an_easy_tempo_everything_is_called_in_full() -> None:
    plan = plan_of(dance_of(2, tags={1: SWAYS}), 40)
    assert {drop.cue.kind for drop in plan.dropped} <= {CallKind.COUNT_IN}
    shorter = [call.utterance.words for call in plan.calls if call.utterance.words != call.cue.wordings[0]]
    assert shorter == []


@pytest.mark.parametrize("tempo", [80, 110, 140])
def test_a_call_gives_up_words_before_it_is_hurried(tempo: int) -> None:
    for call in plan_of(dance_of(3, tags={1: SWAYS}), tempo).calls:
        if call.utterance.speed > 1 and not call.cue.on_beat:
            parts = {part.words for parts, _ in call.cue.in_parts for part in parts}
            assert call.utterance.words in {min(call.cue.wordings, key=len), *parts}


def test_at_a_teaching_tempo_a_breath_lies_between_nearly_all_calls() -> None:
    # Figures of two counts at 108, one after the other: the densest a dance for a class comes.
    calls = [call for call in plan_of(dance_of(4), 108).calls if not call.cue.on_beat]
    breaths = sorted((following.starts - call.ends) / RATE for call, following in pairwise(calls))
    assert breaths[len(breaths) // 10] >= 0.15
    assert breaths[len(breaths) // 2] >= 0.25
    assert all(call.utterance.speed == 1 for call in calls)


def test_a_step_is_never_left_out_so_that_others_can_be_fuller() -> None:
    # Whatever fits at the shortest is called: leaving nothing but steps and warnings out of account changes nothing.
    dance, voice = dance_of(3, tags={1: SWAYS}), MeasuredVoice()
    top = highest_tempo(dance, Manner.AHEAD, voice)
    assert top is not None
    for tempo in (top // 2, top - 1, top):
        assert not [d for d in plan_of(dance, tempo, voice=voice).dropped if d.cannot or d.cue.kind is CallKind.STEP]


def test_a_wall_is_announced_behind_the_last_call_of_the_wall_before() -> None:
    plan = plan_of(dance_of(2), 100)
    index = next(n for n, call in enumerate(plan.calls) if call.cue.kind is CallKind.WALL)
    # The rocking chair before it takes four counts, which is more time, but there the wall still goes on.
    assert plan.calls[index - 1].utterance.words == "touch, hold"


def test_a_step_is_called_on_the_last_half_beat_on_which_it_is_over_in_time() -> None:
    # Then its last syllable is the upbeat of the step (common practice on the floor).
    plan = plan_of(dance_of(1, (PIVOTS,)), 60)
    ahead = {
        call.utterance.words: (call.due - call.starts) / RATE for call in plan.calls if call.cue.kind is CallKind.STEP
    }
    assert (ahead["touch, hold"], ahead["right rocking chair"]) == (1.0, 1.0)


def test_words_longer_than_the_counts_ahead_begin_so_much_sooner_that_they_are_whole() -> None:
    # 1.74 s and the margin, and two counts at 150 are only 0.8 s.
    cue = Cue(CallKind.STEP, 1, Fraction(0), "1", ("right twinkle turning a quarter right",), steps=True)
    plan = plan_calls([cue], timeline_at(150), MeasuredVoice(), Manner.AHEAD, margin_seconds=MARGIN)
    [ahead] = [(call.due - call.starts) / RATE for call in plan.calls]
    assert 1.74 + MARGIN <= ahead <= 1.74 + MARGIN + 0.12 + 1e-9


def leveled(dance: Dance, level: str) -> Dance:
    return replace(dance, routine=replace(dance.routine, header=replace(dance.routine.header, level=level)))


@pytest.mark.parametrize("level", ["absolute beginner", "beginner", "", "high beginner"])
@pytest.mark.parametrize("tempo", [60, 96, 120, 140])
def test_up_to_beginner_level_every_number_of_the_count_in_is_said_on_its_count(level: str, tempo: int) -> None:
    plan = plan_of(leveled(dance_of(1), level), tempo, count_in=12)
    said = words(plan)
    assert said[1:5] == ["five", "six", "seven", "eight"]
    assert said[0].startswith("right foot")
    # The call before it is over at least a count before its first number.
    timeline = timeline_at(tempo, 12)
    assert plan.calls[0].ends <= timeline.frame_of(Fraction(-5))
    assert plan.calls[5].starts > timeline.frame_of(Fraction(-1))


def test_from_improver_on_the_first_call_stands_in_the_place_of_the_last_numbers() -> None:
    # Common practice in group fitness: the countdown drops its last numbers for the move.
    plan = plan_of(leveled(dance_of(1), "improver"), 100, count_in=12)
    said = words(plan)
    assert said[1:3] == ["five", "six"]
    assert "walk" in said[3]
    assert plan.dropped == () or {drop.cue.kind for drop in plan.dropped} == {CallKind.WALL}


def test_in_threes_beginners_are_counted_in_over_two_bars_and_others_over_one() -> None:
    waltz = dance_of(1, (WALTZ,), meter=Meter(3, 4))
    assert words(plan_of(waltz, 90, count_in=12), CallKind.COUNT_IN) == ["one", "two", "three", "four", "five", "six"]
    improver = plan_of(leveled(waltz, "improver"), 90, count_in=9)
    assert words(improver, CallKind.COUNT_IN) == ["one", "two", "three"]
    assert "twinkle" in words(improver)[-2]


@pytest.mark.parametrize("tempo", [120, 180, 200, 240, 260])
def test_a_count_in_is_never_broken_off(tempo: int) -> None:
    for level in ("beginner", "improver"):
        said = words(plan_of(leveled(dance_of(1), level), tempo, count_in=12), CallKind.COUNT_IN)
        assert said in ([], ["five", "six", "seven", "eight"] if level == "beginner" else ["five", "six"])


def test_warnings_come_ahead_and_again_right_before() -> None:
    timeline = timeline_at(110)
    warning, reminder = (c for c in plan_of(dance_of(2, tags={1: SWAYS}), 110).calls if c.cue.kind is CallKind.TAG)
    assert warning.utterance.words in warning.cue.wordings
    assert timeline.frame_of(Fraction(6)) <= warning.starts < warning.ends < timeline.frame_of(Fraction(12))
    assert reminder.utterance.words.startswith("tag")
    assert timeline.frame_of(Fraction(12)) < reminder.starts < reminder.ends < timeline.frame_of(Fraction(16))


# Half counts end the wall, and a tag comes right after them.
CROWDED = (
    "LATCH - 8 counts, 1 wall\n\n1-2 step R fwd, pivot 1/2 L\n3-4 step R fwd, pivot 1/2 L\n5-6 rock R fwd, recover\n"
    "7-8& rock back R, recover L, side R\n\nTag, 4 counts, after wall 1\n1-2 step L fwd, touch R side\n3-4 "
    "step R back, touch L\n"
)


@pytest.mark.parametrize("tempo", [90, 100, 112, 120])
def test_where_there_is_little_room_the_notice_at_the_place_keeps_its_first_movement(tempo: int) -> None:
    """In parts, or without the pause between the two; never the movement alone."""
    dance = unroll(read_bytes(CROWDED.encode()).routine)
    plan = plan_of(dance, tempo, voice=PausingVoice())
    placed = [call.utterance.words for call in plan.calls if call.cue.kind is CallKind.TAG and not call.cue.must]
    assert len(placed) == 1
    assert placed[0].replace(",", "").replace("left ", "").startswith("tag step")
    touched = next(call for call in plan.calls if call.cue.at == (9 if len(placed[0].split()) < 4 else 8))
    assert "touch" in touched.utterance.words


@pytest.mark.parametrize(
    ("second", "sooner"), [("half", 0.0), ("half left", 0.035), ("three quarters left around", None)]
)
def test_parts_that_come_close_are_over_a_little_sooner_rather_than_run_together(
    second: str, sooner: float | None
) -> None:
    """Half a second apart: "half" takes 0.3 s, "half left" 0.48, the last of them more than can be made up for."""
    voice, timeline = MeasuredVoice(mute=["all at once"]), timeline_at(120)
    cue = next(cue for cue in cues_for(dance_of(1), Manner.AHEAD, Fraction(8), Fraction(12)) if cue.steps)
    parts = (Part("step", Fraction(0)), Part(second, Fraction(1)))
    own = replace(cue, wordings=("all at once",), lost=(0,), in_parts=((parts, 0),))
    said = plan_calls([own], timeline, voice, Manner.AHEAD, margin_seconds=MARGIN).calls
    if sooner is None:
        assert said == ()
        return
    over = [call.due - call.ends for call in said]
    assert [call.utterance.words for call in said] == ["step", second]
    assert over[0] - over[1] == round(sooner * RATE)
    assert over[1] >= MARGIN * RATE


@pytest.mark.parametrize("manner", [Manner.AHEAD, Manner.ON_COUNT, Manner.PROMPTS])
@pytest.mark.parametrize("tempo", [60, 100, 140, 200])
def test_every_event_is_warned_of_in_time(manner: Manner, tempo: int) -> None:
    dance = dance_of(3, tags={1: SWAYS}, restarts={2: 8}, changes={3: 8}, ending=(12, STOMP))
    plan = plan_of(dance, tempo, manner)
    assert not any(drop.cannot for drop in plan.dropped)
    warned = {(call.cue.kind, call.cue.at) for call in plan.calls if call.cue.must}
    # The ending comes right after the change, and is announced with it.
    assert warned == {(CallKind.TAG, 16), (CallKind.RESTART, 28), (CallKind.CHANGE, 36)}
    assert (
        manner is Manner.ON_COUNT
        or tempo > 100
        or any("change" in one and "and ending" in one for one in words(plan, CallKind.CHANGE))
    )


def test_fast_numbers_are_thinned_and_the_ands_go_first() -> None:
    plan = plan_of(dance_of(1, (WALKS,)), 120, Manner.COUNTS, count_in=0)
    assert {drop.cue.wordings[0] for drop in plan.dropped} <= {"and", "one"}  # "one" would begin before the first frame
    assert {"two", "three", "four", "five", "six", "seven", "eight"} <= set(words(plan))


def test_a_warning_that_nothing_can_save_is_said_late_and_reported() -> None:
    warning = next(
        cue for cue in cues_for(dance_of(2, tags={1: SWAYS}), Manner.PROMPTS, Fraction(0), Fraction(20)) if cue.must
    )
    hurried = replace(warning, ahead_counts=Fraction(5))  # one count to say it in
    plan = plan_calls([hurried], timeline_at(240), MeasuredVoice(), Manner.PROMPTS, margin_seconds=MARGIN)
    assert [(call.utterance.words, call.utterance.speed) for call in plan.calls] == [("tag coming", 1.35)]
    assert [(drop.cue, drop.cannot) for drop in plan.dropped] == [(hurried, True)]
    assert plan.dropped[0].why == '"tag coming" can\'t be heard in time at this tempo: it comes 0.51 s too late'


def test_a_voice_without_the_words_is_named_as_the_reason() -> None:
    plan = plan_of(dance_of(2, tags={1: SWAYS}), 100, voice=Mute())
    assert plan.calls == ()
    assert all("the voice can't say" in drop.why for drop in plan.dropped)
    assert {drop.cue.kind for drop in plan.dropped if drop.cannot} == {CallKind.TAG}


def test_a_step_without_time_says_how_much_it_lacks() -> None:
    plan = plan_of(dance_of(1, (WALKS,)), 100, count_in=0)
    assert plan.dropped[0].cue.at == 0
    assert plan.dropped[0].why == "it takes 0.36 s at its shortest, and there are 0.00 s for it"


def test_nothing_starts_before_the_frame_that_is_asked_for() -> None:
    cues = cues_for(dance_of(1), Manner.AHEAD, Fraction(0), Fraction(16), 8)
    plan = plan_calls(cues, timeline_at(100), MeasuredVoice(), Manner.AHEAD, from_frame=200_000)
    assert plan.calls
    assert min(call.starts for call in plan.calls) >= 200_000


def test_the_highest_tempo_is_the_last_at_which_every_step_is_called() -> None:
    dance, voice = dance_of(1, (WALKS,)), MeasuredVoice(stretch=3.0)
    top = highest_tempo(dance, Manner.AHEAD, voice)
    assert top is not None
    assert top < FASTEST
    assert not [drop for drop in plan_of(dance, top, voice=voice).dropped if drop.cue.kind is CallKind.STEP]
    assert [drop for drop in plan_of(dance, top + 1, voice=voice).dropped if drop.cue.kind is CallKind.STEP]


def test_there_is_no_highest_tempo_for_a_voice_too_slow_for_any() -> None:
    assert highest_tempo(dance_of(1, (WALKS,)), Manner.AHEAD, MeasuredVoice(stretch=20.0)) is None


def test_steps_that_no_voice_can_say_do_not_hold_the_tempo_down() -> None:
    assert highest_tempo(dance_of(1, (WALKS,)), Manner.AHEAD, Mute()) == FASTEST


def test_a_count_in_that_has_no_room_for_all_its_numbers_has_none() -> None:
    """Rule: a count-in that breaks off is worse than none. A tag with a long first call comes two counts on."""
    text = (
        "Title: Made Up\nTempo: 96\nStarts: left\nSection 1\n1&2  Left shuffle forward\nTag B: after walls 1, 3 and 4\n"
        "1-4  Cross R over L, unwind three quarter left, weight on L\n5-6  Walk R, L\n"
    )
    plan = plan_of(unroll(read_bytes(text.encode()).routine), 129)
    assert words(plan, CallKind.COUNT_IN) == []
    assert {drop.cue.kind for drop in plan.dropped} >= {CallKind.COUNT_IN}
