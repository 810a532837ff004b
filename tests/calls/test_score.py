"""Takes: everything that sounds, on exact frames; and the same take at a new tempo."""

from __future__ import annotations

from fractions import Fraction
from itertools import pairwise

import numpy as np
import pytest
from hypothesis import example, given, settings
from hypothesis import strategies as st

from caller.calls.cues import cues_for
from caller.calls.needed import phrases_in_turn
from caller.calls.plan import CallKind, Manner
from caller.calls.score import make_take, phrases_needed, retimed
from caller.calls.take import Take
from caller.routine.meter import Meter
from caller.sound.mix import CLICK_PEAK, render
from caller.sound.score import Placement
from tests.calls.takes import RATE, as_asked, in_place, take_of
from tests.fakes.dances import HALF_BAR, STOMP, SWAYS, WALTZ, dance_of
from tests.fakes.lexicon import MeasuredVoice, Mute

TAGGED = dance_of(3, tags={1: SWAYS}, restarts={2: 8}, ending=(12, STOMP))


def clicks(take: Take) -> list[Placement]:
    return [placed for placed in take.score.placements if placed.kind == "count"]


def spoken(take: Take) -> list[Placement]:
    return [placed for placed in take.score.placements if placed.kind == "call"]


def accents(take: Take) -> list[Fraction]:
    """The counts that sound otherwise than the most do."""
    keys = [click.clip.key for click in clicks(take)]
    plain = max(set(keys), key=keys.count)
    first = take.start - take.count_in
    return [first + n for n, key in enumerate(keys) if key != plain]


def slower(take: Take, frame: int, tempo: int) -> Take:
    voice = MeasuredVoice()
    return retimed(take, frame, Fraction(tempo), voice, voice.clip)


@pytest.mark.parametrize("tempo", [88, 97, 113, 180])
def test_a_click_falls_on_every_count_and_never_drifts(tempo: int) -> None:
    take = take_of(TAGGED, tempo)
    frames = [click.frame for click in clicks(take)]
    # From arithmetic alone: count n falls n times 60 / tempo seconds after the first, rounded once.
    exact = [Fraction(60 * RATE * n, tempo) for n in range(8 + TAGGED.counts)]
    assert all(abs(frame - place) <= Fraction(1, 2) for frame, place in zip(frames, exact, strict=True))


def test_ninety_six_waltz_counts_at_198_last_as_long_as_on_ice() -> None:
    # ISU Communication 2393, timing chart: a pattern of 96 beats at 198: 28.8 to 29.4 s.
    take = take_of(dance_of(16, (WALTZ,), meter=Meter(3, 4)), 198, Manner.QUIET, count_in=0)
    assert 28.8 <= take.end_frame / RATE <= 29.4


def test_the_first_click_is_on_frame_0() -> None:
    assert clicks(take_of(TAGGED, start=8))[0].frame == 0


def test_the_first_of_each_bar_is_accented() -> None:
    assert accents(take_of(dance_of(1))) == [-8, -4, 0, 4, 8, 12]
    assert accents(take_of(dance_of(2, (WALTZ,), meter=Meter(3, 4)), count_in=6)) == [-6, -3, 0, 3, 6, 9]


def test_a_half_bar_tag_shifts_the_bars_after_it() -> None:
    take = take_of(dance_of(2, tags={1: HALF_BAR}), count_in=0)
    assert accents(take) == [0, 4, 8, 12, 16, 18, 22, 26, 30]


def test_a_take_from_the_middle_of_a_bar_is_counted_into_that_place() -> None:
    assert accents(take_of(dance_of(1), start=2, count_in=4)) == [0, 4, 8, 12]


def test_each_call_of_the_plan_sounds_where_the_plan_has_it() -> None:
    take = take_of(TAGGED)
    assert [(placed.frame, placed.end) for placed in spoken(take)] == [(c.starts, c.ends) for c in take.plan.calls]


def test_calls_are_louder_than_clicks() -> None:
    take = take_of(TAGGED)
    assert min(placed.gain for placed in spoken(take)) > max(placed.gain for placed in clicks(take))


def test_placements_are_in_order_and_within_the_score() -> None:
    take = take_of(TAGGED)
    assert all(one.frame <= following.frame for one, following in pairwise(take.score.placements))
    assert max(placed.end for placed in take.score.placements) <= take.score.frames
    assert take.end_frame <= take.score.frames


def test_without_a_voice_a_tone_stands_for_what_must_be_said() -> None:
    take = make_take(
        TAGGED,
        start=Fraction(0),
        end=Fraction(TAGGED.counts),
        tempo=Fraction(110),
        manner=Manner.AHEAD,
        lexicon=Mute(),
        clips=lambda words, speed: None,
        count_in=8,
    )
    # Eight counts ahead of the tag after 16, the restart after 28 and the ending after 40.
    assert [placed.frame for placed in spoken(take)] == [
        take.timeline.frame_of(Fraction(count)) for count in (8, 20, 32)
    ]
    assert {placed.clip.key for placed in spoken(take)} == {"tone"}
    again = retimed(take, take.timeline.frame_of(Fraction(10)), Fraction(90), Mute(), lambda words, speed: None)
    assert len(spoken(again)) == 3


def test_clicks_stay_within_their_headroom() -> None:
    loudest = max(float(np.abs(click.clip.samples).max()) * click.gain for click in clicks(take_of(TAGGED)))
    assert loudest <= CLICK_PEAK


def test_the_take_is_rendered_with_a_click_on_its_first_frame() -> None:
    # The real renderer on the real score: silence before it, sound within the first 2 ms.
    take = take_of(TAGGED)
    assert not render(take.score, -100, 0).any()
    assert render(take.score, 0, RATE // 500).any()


def test_a_voice_that_loses_its_sound_leaves_a_gap_not_a_fault() -> None:
    voice = MeasuredVoice()
    take = take_of(TAGGED)
    silent = retimed(take, -1, Fraction(110), voice, lambda words, speed: None)
    assert spoken(silent) == []
    assert len(clicks(silent)) == len(clicks(take))


@pytest.mark.parametrize(("start", "end", "count_in"), [(4, 4, 0), (8, 4, 0), (0, 4, -1)])
def test_a_take_without_a_count_is_refused(start: int, end: int, count_in: int) -> None:
    with pytest.raises(ValueError, match="a take needs"):
        take_of(TAGGED, start=start, end=end, count_in=count_in)


frames = st.integers(0, 40 * RATE)
tempi = st.integers(60, 200)


@given(frames, tempi, st.sampled_from([Manner.AHEAD, Manner.ON_COUNT, Manner.COUNTS]))
@settings(max_examples=25)
def test_at_a_new_tempo_all_that_had_begun_stays(frame: int, tempo: int, manner: Manner) -> None:
    take = take_of(TAGGED, manner=manner)
    after = slower(take, frame, tempo)

    def begun(one: Take) -> list[Placement]:
        return [placed for placed in one.score.placements if placed.frame < frame]

    def same(placed: Placement) -> tuple[int, str, float, str]:
        return placed.frame, placed.clip.key, placed.gain, placed.kind

    assert list(map(same, begun(after))) == list(map(same, begun(take)))
    assert [call for call in after.plan.calls if call.starts < frame] == [
        call for call in take.plan.calls if call.starts < frame
    ]


@given(frames, tempi)
@settings(max_examples=25)
def test_at_a_new_tempo_every_count_still_has_one_click(frame: int, tempo: int) -> None:
    take = take_of(TAGGED, manner=Manner.QUIET)
    after = slower(take, frame, tempo)
    placed = clicks(after)
    assert len(placed) == len(clicks(take))
    for number, click in enumerate(placed):
        assert abs(click.frame - after.timeline.frame_of(Fraction(number - 8))) <= 1


@given(frames, tempi)
@settings(max_examples=25)
def test_at_a_new_tempo_the_calls_keep_the_laws(frame: int, tempo: int) -> None:
    take = take_of(TAGGED)
    after = slower(take, frame, tempo)
    late = {id(drop.cue) for drop in after.plan.dropped if drop.cannot}
    for call, following in pairwise(after.plan.calls):
        assert following.starts >= call.ends + round((0.01 if following.cue.on_beat else 0.055) * RATE)
    for call in after.plan.calls:
        if call.starts >= frame and not call.cue.on_beat and id(call.cue) not in late:
            assert call.ends + round(0.15 * RATE) <= call.due


@given(frames, tempi)
@example(1_123_760, 60)  # between two parts of one call
@example(1_123_760, 124)  # the second of them has no room any more
@settings(max_examples=25)
def test_at_a_new_tempo_nothing_is_said_twice_and_nothing_is_lost_in_silence(frame: int, tempo: int) -> None:
    take = take_of(TAGGED)
    after = slower(take, frame, tempo)
    cues = cues_for(TAGGED, Manner.AHEAD, take.start, take.end, take.count_in)
    said = as_asked(after.plan, cues)
    parts = [call.cue for call in take.plan.calls if call.follows is not None]
    dropped = [drop.cue for drop in after.plan.dropped if drop.cue not in parts]
    gone = [cue for cue in in_place(dropped, cues) if cue not in said]
    assert sorted(map(cues.index, said + gone)) == list(range(len(cues)))


def test_the_same_tempo_again_changes_nothing_to_speak_of() -> None:
    take = take_of(TAGGED)
    after = slower(take, 0, 110)
    assert [(call.cue, call.starts) for call in after.plan.calls] == [
        (call.cue, call.starts) for call in take.plan.calls
    ]
    assert [click.frame for click in clicks(after)] == [click.frame for click in clicks(take)]


@pytest.mark.parametrize("manner", list(Manner))
@pytest.mark.parametrize(("start", "count_in"), [(0, 8), (8, 4), (16, 8)])
def test_a_voice_with_the_phrases_needed_is_never_asked_for_more(manner: Manner, start: int, count_in: int) -> None:
    ready = phrases_needed(TAGGED, manner)
    voice = MeasuredVoice()
    take_of(TAGGED, 170, manner, start=start, count_in=count_in, voice=voice)
    assert set(voice.said) <= ready


def test_only_the_shortest_wordings_are_hurried_and_the_shortest_that_tell_all() -> None:
    ready = phrases_needed(TAGGED, Manner.AHEAD)
    hurried = {words for words, speed in ready if speed > 1}
    assert {"walk walk", "triple", "step, quarter", "step, quarter left", "rocking chair"} <= hurried
    assert not {"walk, walk", "right walk, walk", "right triple forward", "right step, quarter left"} & hurried


def test_what_was_begun_in_parts_is_said_to_its_end_at_a_new_tempo() -> None:
    take = take_of(TAGGED, 130)
    later = next(call for call in take.plan.calls if call.follows is not None)
    head = next(call for call in take.plan.calls if call.cue.at == later.follows and not call.cue.heard_counts)
    after = slower(take, head.starts + 1, 120)
    assert [
        call.utterance.words
        for call in after.plan.calls
        if call.follows == later.follows or call.cue.at == later.cue.at
    ][:2] == [later.utterance.words] or later.utterance.words in [call.utterance.words for call in after.plan.calls]


def test_a_warning_that_was_to_come_late_still_comes_after_a_change_of_tempo() -> None:
    voice = MeasuredVoice(stretch=8.0)
    take = take_of(dance_of(3, changes={1: 8, 2: 4}, restarts={1: 12, 2: 8}), 240, Manner.PROMPTS, voice=voice)
    late = [call for call in take.plan.calls if call.cue.must and call.starts > call.due]
    assert late
    for call in late:  # at a frame when its time is over and it has not begun
        after = retimed(take, call.starts - 1, Fraction(230), voice, voice.clip)
        assert call.cue in [other.cue for other in after.plan.calls if other.starts >= call.starts - 1]


def test_at_a_new_manner_what_was_begun_stays_and_the_rest_is_called_so() -> None:
    take = take_of(TAGGED)
    voice, frame = MeasuredVoice(), take.timeline.frame_of(Fraction(16))
    after = retimed(take, frame, Fraction(110), voice, voice.clip, manner=Manner.COUNTS)
    assert {c.cue.kind for c in after.plan.calls if c.starts >= frame} == {CallKind.COUNT}
    assert after.plan.manner is Manner.COUNTS
    assert [c for c in after.plan.calls if c.starts < frame] == [c for c in take.plan.calls if c.starts < frame]


def test_the_count_in_is_counted_aloud_on_its_clicks() -> None:
    take = take_of(TAGGED, manner=Manner.COUNTS)
    on = {click.frame for click in clicks(take)}
    said = [call for call in take.plan.calls if call.cue.kind is CallKind.COUNT_IN]
    assert [call.utterance.words for call in said] == ["five", "six", "seven", "eight"]
    assert {call.starts + call.utterance.beat for call in said} <= on


@pytest.mark.parametrize("manner", list(Manner))
def test_phrases_come_once_each_in_the_order_in_which_they_are_called(manner: Manner) -> None:
    """What is called first in a take is among the first asked for, so that a class can begin with that."""
    in_turn = phrases_in_turn(TAGGED, manner)
    assert set(in_turn) == phrases_needed(TAGGED, manner)
    assert len(in_turn) == len(set(in_turn))
    until = phrases_in_turn(TAGGED, manner, Fraction(8))
    assert set(until) <= set(in_turn)
    cues = cues_for(TAGGED, manner, Fraction(0), Fraction(TAGGED.counts), 8)
    first_said = {words for cue in cues if cue.at < 8 for words in cue.wordings}
    assert {words for words, _ in until} <= first_said
    if cues:
        assert in_turn[0][0] in cues[0].wordings
