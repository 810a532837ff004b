"""What a glance tells."""

from __future__ import annotations

from fractions import Fraction

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from caller.calls.glance import Coming, Glance, glance
from caller.calls.plan import CallKind, Manner
from caller.calls.take import Take
from caller.dance.unroll import unroll
from caller.dance.walls import Dance
from caller.routine.facing import NO_TURN, Facing, Turn
from caller.routine.meter import Meter
from caller.routine.notation.read import read_bytes
from caller.routine.step import Foot
from tests.calls.takes import take_of
from tests.fakes.dances import HALF_BAR, PICK_UP, PIVOTS, STOMP, SWAYS, WALKS, WALTZ, dance_of

TAGGED = dance_of(3, tags={1: SWAYS}, restarts={2: 8}, ending=(12, STOMP))


def at(take: Take, count: Fraction | int) -> Glance:
    """The glance on the very frame on which a count falls."""
    return glance(take, take.timeline.frame_of(Fraction(count)))


def test_the_count_in_shows_the_numbers_of_the_last_bar() -> None:
    take = take_of(dance_of(1))
    assert [at(take, count).count for count in range(-8, 2)] == [1, 2, 3, 4, 5, 6, 7, 8, 1, 2]
    assert [at(take, count).counting_in for count in (-1, 0)] == [True, False]


def test_a_waltz_is_counted_in_to_six() -> None:
    take = take_of(dance_of(1, (WALTZ,), meter=Meter(3, 4)), count_in=3)
    assert [at(take, count).count for count in range(-3, 2)] == [4, 5, 6, 1, 2]
    assert [at(take, count).in_bar for count in range(-3, 3)] == [0, 1, 2, 0, 1, 2]


@pytest.mark.parametrize("tempo", [97, 110, 133])
def test_a_count_shows_from_the_frame_it_falls_on(tempo: int) -> None:
    take = take_of(dance_of(1), tempo)
    for count in range(16):
        frame = take.timeline.frame_of(Fraction(count))
        assert glance(take, frame).count == count % 8 + 1
        assert glance(take, frame - 1).count == (count - 1) % 8 + 1


def test_before_the_first_step_what_shows_is_what_is_about_to_start() -> None:
    seen = at(take_of(dance_of(2)), -4)
    assert (seen.now, seen.next) == ("walk, walk", "right triple forward")
    assert (seen.wall, seen.section, seen.section_name, seen.foot) == (1, 1, "Walks and triple", Foot.RIGHT)


def test_now_and_next_run_on_into_the_next_wall() -> None:
    take = take_of(dance_of(2))
    seen = at(take, 14)
    assert (seen.now, seen.next) == ("touch, hold", "walk, walk")


def test_nothing_is_next_past_the_end() -> None:
    seen = at(take_of(dance_of(2), end=16), 15)
    assert (seen.now, seen.next, seen.foot) == ("touch, hold", "", None)


def feet(take: Take, *counts: Fraction | int) -> list[tuple[Foot | None, bool]]:
    return [(at(take, count).foot, at(take, count).foot_next) for count in counts]


def test_the_foot_is_the_one_that_moves_on_the_count_that_shows() -> None:
    """Whoever reads "3 RIGHT" steps right on three; within a count it is the foot of its latest part."""
    take, right, left = take_of(dance_of(2)), (Foot.RIGHT, False), (Foot.LEFT, False)
    assert feet(take, 0, 1, 2, Fraction(9, 4), Fraction(5, 2), 3) == [right, left, right, right, left, right]
    for wall in take.dance.walls:
        for danced in wall.movements:
            if danced.step.movement.foot is not None:
                assert feet(take, danced.at) == [(danced.step.movement.foot, False)]


def test_where_nothing_moves_on_a_count_the_foot_is_the_next_one_and_is_said_to_be() -> None:
    take = take_of(dance_of(2))
    assert feet(take, -1, 15) == [(Foot.RIGHT, True)] * 2  # counted in; a hold, then the next wall's walk
    assert feet(take, 14)[0][1] is False, "the touch is under way"
    assert feet(take_of(dance_of(2), end=16), 15, 16) == [(None, False)] * 2


def test_the_facing_turns_on_the_count_of_the_turn() -> None:
    take = take_of(dance_of(2))
    assert at(take, 8).facing == Facing(0)
    assert at(take, 9).facing == Facing(6)
    assert (at(take, 15).wall_starts, at(take, 16).wall_starts) == (Facing(0), Facing(6))


def test_the_next_turn_and_the_counts_to_it() -> None:
    take = take_of(dance_of(2), tempo=120)
    assert (at(take, 4).next_turn, at(take, 4).next_turn_in) == (Turn(-2), 5)
    assert (at(take, 9).next_turn, at(take, 9).next_turn_in) == (Turn(-2), 16)
    assert (at(take, 26).next_turn, at(take, 26).next_turn_in) == (NO_TURN, 0)


TURNING = b"""TURNING, 8 counts, 1 wall, 100 bpm
1&2 triple half turn left R L R
3-4 step L fwd, pivot 1/2 R
5-6 step L fwd, pivot 1/2 R
7 step L fwd
8 pivot 1/2 left
"""


def test_a_turn_that_one_figure_takes_step_by_step_is_told_whole_and_two_of_them_are_two() -> None:
    take = take_of(unroll(read_bytes(TURNING).routine), tempo=120)
    quarter = Fraction(1, 4)
    seen = [(at(take, c).whole_turn.eighths, at(take, c).next_turn.eighths, at(take, c).next_turn_in) for c in (-2, 0)]
    assert seen == [(-4, -4, 2), (-4, -2, 0)], "half a turn, of which a quarter is left once the first step is taken"
    later = at(take, quarter)
    assert (later.whole_turn.eighths, later.next_turn.eighths, later.next_turn_in) == (-4, -2, 0)
    assert [at(take, c).whole_turn.eighths for c in (2, 4, 6)] == [4, 4, -4], "two pivots are not one turn"


def test_what_is_coming_is_told_nearest_first() -> None:
    take = take_of(TAGGED)
    assert at(take, 10).coming == (Coming("tag", 6, "tag, 4 counts"), Coming("wall", 10, "wall 2, 9:00"))
    assert at(take, 22).coming == (Coming("restart", 6, "restart"), Coming("wall", 6, "wall 3, 9:00"))
    assert at(take, 30).coming == (Coming("ending", 10, "ending"),)


def test_a_named_tag_shows_its_name() -> None:
    take = take_of(dance_of(1, tags_inside={1: (8, HALF_BAR)}))
    assert at(take, 4).coming[0] == Coming("tag", 4, "tag B, 2 counts")
    inside = at(take, 8)
    assert (inside.section, inside.section_name, inside.count) == (0, "Tag B", 1)


def test_in_a_drill_nothing_beyond_its_end_is_coming() -> None:
    assert at(take_of(TAGGED, start=8, end=16), 12).coming == ()


def test_a_drill_is_entered_facing_as_the_dance_faces_there() -> None:
    seen = at(take_of(dance_of(2), start=24), 22)
    assert (seen.counting_in, seen.facing, seen.section, seen.now) == (True, Facing(6), 2, "step, quarter left")


def test_a_pick_up_is_the_first_to_move() -> None:
    take = take_of(dance_of(1, (WALKS, PIVOTS, PICK_UP)), start=16)
    assert feet(take, 14, 15, Fraction(31, 2)) == [(Foot.RIGHT, True), (Foot.RIGHT, True), (Foot.RIGHT, False)]
    assert at(take, 14).now == "and, step, touch"


def test_the_words_being_spoken_show_while_they_sound() -> None:
    take = take_of(dance_of(1))
    call = take.plan.calls[3]
    assert glance(take, call.starts).saying == call.utterance.words == glance(take, call.ends - 1).saying
    assert glance(take, call.ends).saying == ""


def test_long_after_the_end_the_last_count_still_shows() -> None:
    take = take_of(dance_of(1))
    assert glance(take, take.end_frame + 10**7).count == 8


@given(st.integers(-200_000, 4_000_000), st.sampled_from([TAGGED, dance_of(1, (WALTZ,), meter=Meter(3, 4))]))
@settings(max_examples=40)
def test_any_frame_at_all_gives_a_glance(frame: int, dance: Dance) -> None:
    seen = glance(take_of(dance, manner=Manner.PROMPTS), frame)
    assert 1 <= seen.count <= 8
    assert 0 <= seen.in_bar < seen.bar
    assert 1 <= seen.wall <= seen.walls
    assert all(coming.in_counts > 0 for coming in seen.coming)


def test_the_count_of_the_dance_is_told_whole() -> None:
    take = take_of(dance_of(2))
    assert [at(take, count).at for count in (-4, 0, Fraction(5, 2), 31, 40)] == [0, 0, 2, 31, 31]


def test_what_each_call_is_said_by_is_known_as_it_is_danced() -> None:
    take = take_of(dance_of(2))
    said = {at(take, call.cue.at).said for call in take.plan.calls if call.cue.kind is CallKind.STEP}
    assert all(said)
    call = next(call for call in take.plan.calls if call.cue.kind is CallKind.STEP and call.cue.at > 0)
    seen = at(take, call.cue.at)
    assert call.utterance.words in (seen.said or "")
    speaking = glance(take, call.starts)
    assert (speaking.saying, speaking.of_step) == (call.utterance.words, True)


def test_a_step_that_is_called_with_the_notice_of_a_tag_is_told_as_said() -> None:
    take = take_of(dance_of(2, tags={1: SWAYS}))
    call = next(call for call in take.plan.calls if call.cue.kind is CallKind.TAG and call.cue.steps)
    assert at(take, call.cue.at).said == call.utterance.words
    assert call.utterance.words.startswith("tag, ")


def test_a_call_that_gives_way_is_said_by_nothing() -> None:
    take = take_of(dance_of(4), 230)
    dropped = [drop.cue.at for drop in take.plan.dropped if drop.cue.kind is CallKind.STEP]
    said = {call.cue.at for call in take.plan.calls}
    count = next(count for count in dropped if count not in said)
    assert (at(take, count).said, bool(at(take, count).now)) == ("", True)


@pytest.mark.parametrize("manner", [Manner.COUNTS, Manner.PROMPTS, Manner.QUIET])
def test_where_no_step_is_called_nothing_is_missed(manner: Manner) -> None:
    assert at(take_of(dance_of(2), manner=manner), 2).said is None
