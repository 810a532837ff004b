"""Playbooks for a class: order in, effect out, on a speaker, a pedal and a voice driven by hand."""

from __future__ import annotations

from fractions import Fraction
from itertools import pairwise

import numpy as np
import pytest

from caller.sound.score import RATE
from caller.transport.foot import Gesture
from caller.transport.order import Order
from caller.transport.state import State
from caller.transport.unit import Stroke
from tests.session.classroom import COUNT, Class, KnownVoice, NoVoice, Prepared, looked


@pytest.fixture
def room() -> Class:
    room = Class()
    looked(room.session)
    return room


LATE = "The voice is still getting ready: until it is, calls are shown, not said."


def test_the_count_track_does_not_wait_for_the_voice() -> None:
    room = Class(prepared=Prepared(done=False))
    view = looked(room.session)
    assert (view.state, view.voice) == (State.READY, "getting ready, 3 of 10")
    view = room.order(Order.GO)
    assert view.state is State.COUNT_IN
    assert view.answers == ("Begins.", LATE)


def test_a_start_before_all_is_ready_shows_that_it_comes_and_how_the_voice_is() -> None:
    room = Class(prepared=Prepared(done=False))
    room.session.obey(Order.GO)  # before time has moved anything on
    view = room.session.view(0.0)
    assert (view.state, view.starts) == (State.GETTING_READY, True)
    assert view.answers == ("Starts by itself as soon as it can.", LATE)
    view = looked(room.session)
    assert (view.state, view.starts) == (State.COUNT_IN, False)


@pytest.mark.parametrize("room", [Class(prepared=Prepared(done=False, made=1)), Class(voice=NoVoice()), Class()])
def test_a_voice_that_is_there_or_never_will_be_is_not_waited_for(room: Class) -> None:
    looked(room.session)
    assert LATE not in room.order(Order.GO).notices


def test_how_much_of_the_voice_is_ready_is_told_while_it_is_known() -> None:
    room = Class(prepared=Prepared(done=False, progress=(4, 4)))
    assert looked(room.session).voice == "getting ready"


def called(room: Class) -> set[str]:
    """The words of the calls in what was last put on the air."""
    score = room.speaker.asked[-1].score
    assert score is not None
    return {placed.clip.key.split(" @ ")[0] for placed in score.placements if placed.kind == "call"}


def test_it_begins_with_what_is_said_first_and_calls_more_as_more_is_ready() -> None:
    """A call that isn't ready is shown, never late: it is called from the next time on."""
    mute = ("walk, walk", "walk", "touch")
    voice = KnownVoice(mute=mute)
    room = Class(voice=voice, prepared=Prepared(done=False, made=1))
    assert room.order(Order.GO).state is State.COUNT_IN
    assert not called(room) & set(mute)
    view = room.danced(3)
    assert view.voice == "getting ready, 3 of 10"
    voice.mute = frozenset()
    room.danced(1)
    assert not called(room) & set(mute)  # nobody has said that there is more
    room.prepared.made = 2
    room.danced(1)
    assert "walk, walk" in called(room)
    assert len(room.speaker.asked) == 2


def test_what_can_not_be_called_is_told_once_the_voice_is_whole() -> None:
    voice = KnownVoice(mute=("walk, walk", "walk"))
    room = Class(voice=voice, prepared=Prepared(done=False, made=1))
    view = looked(room.session)
    assert (view.state, view.cannot, view.fastest) == (State.READY, (), None)
    voice.mute = frozenset()
    room.prepared.made, room.prepared.done = 1, True
    view = looked(room.session)
    assert view.cannot == ()
    assert view.fastest is not None


def test_it_waits_for_the_order_to_start(room: Class) -> None:
    assert room.danced(4).state is State.READY
    assert not room.speaker.asked


def test_go_counts_in_and_then_runs(room: Class) -> None:
    assert room.order(Order.GO).state is State.COUNT_IN
    view = room.danced(7)
    assert view.state is State.COUNT_IN
    assert view.glance is not None
    assert view.glance.counting_in
    view = room.danced(2)
    assert view.state is State.RUNNING
    assert view.glance is not None
    assert (view.glance.wall, view.glance.section, view.glance.count) == (1, 1, 1)


def test_a_pause_falls_silent_at_once_and_shows_where(room: Class) -> None:
    room.order(Order.GO)
    room.danced(8 + 13.5)
    view = room.order(Order.GO)
    assert view.state is State.PAUSED
    assert room.speaker.hushes == 1
    stopped = view.glance
    silent = room.speaker.advance(COUNT * 4)
    assert not silent[RATE // 100 :].any()
    assert looked(room.session).glance == stopped
    assert stopped is not None
    assert (stopped.section, stopped.count) == (2, 6)


def test_going_on_counts_in_one_bar_and_starts_from_the_bar(room: Class) -> None:
    room.order(Order.GO)
    room.danced(8 + 13.5)  # the sixth count of section 2
    room.order(Order.GO)
    room.danced(3)
    assert room.order(Order.GO).state is State.COUNT_IN
    take = room.session.air.playout.parts[-1].piece
    assert (take.start, take.count_in) == (Fraction(12), 4)
    view = room.danced(4.5)
    assert view.glance is not None
    assert (view.state, view.glance.section, view.glance.count) == (State.RUNNING, 2, 5)


def test_two_quick_taps_wait_for_the_silence_to_be_told(room: Class) -> None:
    room.order(Order.GO)
    room.danced(10)
    asked = len(room.speaker.asked)
    room.order(Order.GO, Order.GO)
    assert len(room.speaker.asked) == asked
    room.danced(0.2)
    assert len(room.speaker.asked) == asked + 1


@pytest.mark.parametrize("order", [Order.FASTER, Order.SLOWER, Order.HALF, Order.SLOW_ON])
def test_a_new_tempo_loses_no_count_and_doubles_none(room: Class, order: Order) -> None:
    room.order(Order.GO)
    room.danced(8 + 6.3)
    before = room.session.air.playout.parts[-1].piece
    room.order(order)
    after = room.session.air.playout.parts[-1].piece
    splice = room.session.air.playout.parts[-1].at - room.session.air.playout.parts[-1].origin
    counts_before = [before.timeline.count_at(f) for f in room.clicks()]
    assert len(room.clicks()) == 8 + room.session.dance.counts
    assert len(counts_before) == len(set(room.clicks()))
    old = [p.frame for p in before.score.placements if p.kind == "count" and p.frame < splice]
    assert [f for f in room.clicks() if f < splice] == old
    gaps = [b - a for a, b in pairwise(f for f in room.clicks() if f >= splice)]
    exact = RATE * 60 / room.session.tempo
    assert all(abs(gap - exact) <= 1 for gap in gaps)
    assert abs(after.timeline.count_at(splice) - before.timeline.count_at(splice)) < Fraction(1, 1000)


def test_a_new_tempo_makes_no_click_of_its_own(room: Class) -> None:
    """No step between samples beyond those of the material itself."""
    room.order(Order.GO)
    room.danced(8 + 6.3)
    room.order(Order.FASTER)
    room.danced(4)
    steps = np.abs(np.diff(room.speaker.sound[:, 0]))
    at = room.session.air.playout.parts[-1].at
    assert steps[at - 100 : at + 400].max() <= np.delete(steps, slice(at - 100, at + 400)).max()


def test_half_speed_goes_on_and_off(room: Class) -> None:
    room.order(Order.GO)
    room.danced(9)
    assert room.order(Order.HALF).speed == Fraction(1, 2)
    assert room.danced(4).state is State.RUNNING
    assert room.order(Order.HALF).speed == 1


def test_the_pedal_held_slows_down_and_let_go_is_up_to_speed(room: Class) -> None:
    room.order(Order.GO)
    room.danced(9)
    room.pedal.waiting.append(Stroke(Gesture.HOLD))
    assert looked(room.session).speed == Fraction(3, 4)
    room.pedal.waiting.append(Stroke(Gesture.RELEASE))
    assert looked(room.session).speed == 1
    room.pedal.waiting.append(Stroke(Gesture.TAP))
    assert looked(room.session).state is State.PAUSED


def test_again_goes_back_to_the_sections_start_counted_in(room: Class) -> None:
    room.order(Order.GO)
    room.danced(8 + 21)  # in section 3
    room.order(Order.SECTION_AGAIN)
    take = room.session.air.playout.parts[-1].piece
    assert (take.start, take.count_in) == (Fraction(16), 4)


def test_from_the_top_starts_the_whole_dance_again(room: Class) -> None:
    room.order(Order.GO)
    room.danced(30)
    assert room.order(Order.TOP).state is State.COUNT_IN
    assert room.session.air.playout.parts[-1].piece.start == 0


def test_the_dance_ends_and_go_dances_it_again(room: Class) -> None:
    room.order(Order.GO)
    view = room.danced(8 + room.session.dance.counts + 1)
    assert view.state is State.FINISHED
    assert room.order(Order.GO).state is State.COUNT_IN


def test_facing_follows_the_dance_through_tag_and_restart(room: Class) -> None:
    """The facings of the walls that follow a tag after wall 3 and a restart on wall 6, as unrolled."""
    room.order(Order.GO)
    room.danced(8)
    seen = {}
    for _ in range(room.session.dance.counts):
        view = room.danced(1)
        assert view.glance is not None
        seen.setdefault(view.glance.wall, str(view.glance.wall_starts))
    assert seen == {1: "12:00", 2: "3:00", 3: "6:00", 4: "9:00", 5: "12:00", 6: "3:00", 7: "12:00"}


def test_a_lost_sound_is_said_once_and_the_class_goes_on(room: Class) -> None:
    room.order(Order.GO)
    room.speaker.fault = "The sound device is gone."
    view = room.danced(12)
    assert view.state is State.RUNNING
    assert view.notices.count("The sound device is gone.") == 1
    assert view.sound == "The sound device is gone."


def test_a_missing_voice_is_said_and_the_count_track_goes_on() -> None:
    room = Class(voice=NoVoice())
    looked(room.session)
    room.order(Order.GO)
    view = room.danced(12)
    assert view.state is State.RUNNING
    assert "There is no speech on this machine." in view.notices
    assert room.speaker.sound.any()


def test_what_cannot_be_called_is_told_before_the_start() -> None:
    fast = Class(tempo=Fraction(400))
    assert looked(fast.session).cannot
    assert not looked(Class(tempo=Fraction(60)).session).cannot


def test_slower_while_ready_changes_what_will_be_danced(room: Class) -> None:
    view = room.order(Order.SLOWER)
    assert (view.state, view.tempo) == (State.READY, 116)
    room.order(Order.GO)
    assert room.session.air.playout.parts[-1].piece.timeline.segments[0].tempo == 116


def test_leaving_closes_everything(room: Class) -> None:
    room.order(Order.GO, Order.QUIT)
    assert room.session.left
    room.session.close()
    assert room.speaker.closed
    assert room.pedal.closed


def test_a_foot_is_heeded_between_two_looks(room: Class) -> None:
    room.order(Order.GO)
    room.danced(10)
    room.pedal.waiting.append(Stroke(Gesture.TAP))
    room.session.listen()
    assert room.speaker.hushes == 1


def test_the_highest_tempo_at_which_every_step_is_called_is_told_before_the_start(room: Class) -> None:
    fastest = looked(room.session).fastest
    assert fastest is not None
    assert not looked(Class(tempo=Fraction(fastest)).session).cannot
    room.order(Order.GO)
    assert looked(room.session).fastest is None
