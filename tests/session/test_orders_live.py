"""Playbooks of the orders that change a dance under way: where it goes, how it is called, how loud it is."""

from __future__ import annotations

from dataclasses import replace
from fractions import Fraction
from itertools import pairwise

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from caller.calls.plan import Manner
from caller.calls.take import Take
from caller.rig.clock_out import Pulses
from caller.session import View
from caller.session.standing import Paused
from caller.sound.score import RATE
from caller.transport.footing import PEDAL_ORDERS
from caller.transport.order import Order
from caller.transport.state import GoOn, State
from tests.fakes.dances import HALF_BAR, dance_of
from tests.fakes.speaker import HandSpeaker
from tests.session.classroom import COUNT, Class, Followed, looked


@pytest.fixture
def room() -> Class:
    room = Class()
    looked(room.session)
    return room


def take(room: Class) -> Take:
    return room.session.air.playout.parts[-1].piece


def place(view: View) -> tuple[int, int, int]:
    assert view.glance is not None
    return view.glance.wall, view.glance.section, view.glance.count


def running(room: Class, counts: float) -> View:
    room.order(Order.GO)
    return room.danced(8 + counts)


# -- the end of the eight


def test_a_pause_after_the_eight_dances_it_to_its_end(room: Class) -> None:
    running(room, 13.5)
    assert room.order(Order.STOP_AT_EIGHT).state is State.FINISHING
    assert take(room).end == 16
    assert room.danced(2).state is State.FINISHING
    view = room.danced(1)
    # What is shown is where everybody stands by then, and what the next eight begins with: it is danced next.
    assert (view.state, place(view)) == (State.PAUSED, (1, 3, 1))
    assert not room.speaker.advance(2 * COUNT)[RATE:].any()


def test_after_it_the_dance_goes_on_with_the_next_eight(room: Class) -> None:
    running(room, 13.5)
    room.order(Order.STOP_AT_EIGHT)
    room.danced(4)
    assert room.order(Order.GO).state is State.COUNT_IN
    assert (take(room).start, take(room).end) == (16, room.session.dance.counts)


def test_asked_twice_it_dances_on_and_no_count_is_lost_or_doubled(room: Class) -> None:
    running(room, 10.3)
    room.order(Order.STOP_AT_EIGHT)
    room.danced(1)
    assert room.order(Order.STOP_AT_EIGHT).state is State.RUNNING
    assert len(room.clicks()) == 8 + room.session.dance.counts
    assert all(later - earlier == COUNT for earlier, later in pairwise(room.clicks()))
    assert place(room.danced(8))[:2] == (1, 3)


def test_a_pause_at_once_is_still_possible_while_finishing(room: Class) -> None:
    running(room, 10)
    room.order(Order.STOP_AT_EIGHT, Order.GO)
    assert looked(room.session).state is State.PAUSED
    assert room.speaker.hushes == 1


def test_the_last_eight_ends_the_dance(room: Class) -> None:
    running(room, 1)
    room.speaker.advance((room.session.dance.counts - 4) * COUNT)
    room.order(Order.STOP_AT_EIGHT)
    assert room.danced(4).state is State.FINISHED


def test_an_eight_of_a_short_section_ends_with_it() -> None:
    """The tag after wall 1, of sixteen counts, has two."""
    room = Class(dance=dance_of(2, tags={1: HALF_BAR}))
    looked(room.session)
    running(room, 16.5)
    room.order(Order.STOP_AT_EIGHT)
    assert take(room).end == 18


# -- going on, and going elsewhere


@pytest.mark.parametrize(("go_on", "start"), [(GoOn.BAR, 44), (GoOn.SECTION, 40), (GoOn.WALL, 32)])
def test_it_goes_on_from_where_it_is_set_to(go_on: GoOn, start: int) -> None:
    room = Class(go_on=go_on)
    looked(room.session)
    running(room, 45.2)
    room.order(Order.GO)
    room.danced(1)
    room.order(Order.GO)
    assert (take(room).start, take(room).count_in) == (start, 4)


@pytest.mark.parametrize(
    ("order", "start"),
    [(Order.SECTION_AGAIN, 40), (Order.NEXT, 48), (Order.PREVIOUS, 32), (Order.TOP, 0)],
)
@pytest.mark.parametrize("paused", [False, True])
def test_an_order_goes_to_its_place_counted_in(room: Class, order: Order, start: int, paused: bool) -> None:
    running(room, 45.2)
    if paused:
        room.order(Order.GO)
        room.danced(1)
    assert room.order(order).state is State.COUNT_IN
    assert take(room).start == start


@pytest.mark.parametrize(
    ("order", "amounts", "says", "start"),
    [
        (Order.WALL_AGAIN, (), "wall two, facing three o'clock.", 32),
        (Order.TO_WALL, (3,), "wall three, facing six o'clock.", 64),
    ],
)
@pytest.mark.parametrize("paused", [False, True])
def test_before_a_wall_is_counted_in_all_are_told_which_it_is_and_where_to_face(
    room: Class, order: Order, amounts: tuple[int, ...], says: str, start: int, paused: bool
) -> None:
    running(room, 45.2)
    if paused:
        room.order(Order.GO)
        room.danced(1)
    room.session.obey(order, *amounts)
    view = looked(room.session)
    assert (view.state, view.telling) == (State.TELLING, says)
    assert (says, 1.0) in room.prepared.more
    while view.state is State.TELLING:
        view = room.danced(0.5)
    assert view.state is State.COUNT_IN
    assert (take(room).start, take(room).count_in) == (start, 4)


def test_before_the_first_section_and_after_the_last_there_is_none(room: Class) -> None:
    running(room, 3)
    room.order(Order.PREVIOUS)
    assert take(room).start == 0
    room.speaker.advance((room.session.dance.counts - 8) * COUNT)
    for _ in range(3):
        room.order(Order.NEXT)
    last = room.session.dance.walls[-1].stretches[-1].at
    started = take(room).start
    assert started == last


def test_paused_on_the_last_count_it_stands_there_and_goes_on_from_its_bar(room: Class) -> None:
    running(room, 1)
    room.speaker.advance((room.session.dance.counts - 2) * COUNT + COUNT // 2)
    view = room.order(Order.GO)
    assert isinstance(room.session.stands, Paused)
    assert room.session.stands.place == room.session.dance.counts - 1
    assert view.glance is not None
    assert view.glance.count == 8
    room.danced(1)
    room.order(Order.GO)
    assert take(room).start == room.session.dance.counts - 4


@pytest.mark.parametrize("order", [Order.GO, Order.TOP])
def test_once_finished_it_is_danced_from_its_first_step_with_the_whole_count_in(room: Class, order: Order) -> None:
    running(room, 1)
    room.session.obey(Order.SECTION, 3)
    room.danced(5)
    room.speaker.advance(room.session.dance.counts * COUNT)
    assert looked(room.session).state is State.FINISHED
    assert room.order(order).state is State.COUNT_IN
    assert (take(room).start, take(room).count_in, take(room).end) == (0, 8, room.session.dance.counts)


# -- over and over


def test_a_loop_comes_round_without_a_break_and_calls_run_on(room: Class) -> None:
    running(room, 10.2)
    view = room.order(Order.LOOP)
    assert "looping this section" in view.holds
    view = room.danced(10)  # 20 counts: the third of the second time round
    assert place(view) == (1, 2, 5)
    assert all(later - earlier == COUNT for earlier, later in pairwise(room.clicks()))
    lead = [call for call in take(room).plan.calls if call.cue.at == 16]
    assert [call.cue.wordings[0] for call in lead] == [
        call.cue.wordings[0] for call in take(room).plan.calls if call.cue.at == 24
    ]


def test_a_loop_never_ends_by_itself(room: Class) -> None:
    running(room, 10)
    room.order(Order.LOOP)
    for _ in range(10):
        room.speaker.advance(31 * COUNT)
        assert room.danced(1).state is State.RUNNING
    assert place(looked(room.session))[:2] == (1, 2)
    assert all(abs(later - earlier - COUNT) <= 1 for earlier, later in pairwise(room.clicks()))


def test_let_go_the_dance_goes_on_after_the_section(room: Class) -> None:
    straight = room.session.dance.counts
    running(room, 10)
    room.order(Order.LOOP)
    room.danced(12)  # 22: the second time round
    room.order(Order.LOOP)
    view = room.danced(3)
    assert place(view)[:2] == (1, 3)
    assert room.session.dance.counts == straight + 8  # it came twice
    assert view.holds == ()


def test_a_loop_goes_along_to_the_next_section(room: Class) -> None:
    running(room, 10)
    room.order(Order.LOOP, Order.NEXT)
    view = room.danced(4 + 9)
    assert place(view)[:2] == (1, 3)
    assert take(room).start == 16


# -- how it is called and danced


def test_ways_of_calling_come_round_and_what_is_half_said_is_finished(room: Class) -> None:
    running(room, 10.2)
    before = take(room)
    room.order(Order.MANNER)
    at = room.session.air.playout.parts[-1].piece_frame(room.session.air.playout.parts[-1].at)
    assert take(room).plan.manner is Manner.ON_COUNT
    assert [c for c in take(room).plan.calls if c.starts < at] == [c for c in before.plan.calls if c.starts < at]
    for _ in range(4):
        room.order(Order.MANNER)
    assert room.session.manner is Manner.AHEAD
    assert looked(room.session).notices[-5:] == (
        "Calls: a word on each movement.",
        "Calls: numbers only.",
        "Calls: walls, tags and restarts only.",
        "Calls: none.",
        "Calls: each step ahead of its beat.",
    )


def test_the_easier_way_is_called_from_here_on_and_no_longer(room: Class) -> None:
    """Lantern Row's option in section 4: two quarters instead of the half."""
    running(room, 10)
    full = take(room)
    view = room.order(Order.EASIER)
    assert view.holds == ("easier way",)
    changed = [c.cue.at for c in take(room).plan.calls if c not in full.plan.calls]
    assert Fraction(24) in changed
    room.order(Order.EASIER)
    wordings = [(c.cue.at, c.cue.wordings) for c in take(room).plan.calls]
    assert wordings == [(c.cue.at, c.cue.wordings) for c in full.plan.calls]


def test_set_while_ready_it_holds_for_the_start(room: Class) -> None:
    room.order(Order.MANNER, Order.MANNER, Order.GO)
    assert take(room).plan.manner is Manner.COUNTS


# -- the tempo


def test_tapping_sets_the_tempo_from_the_third_tap_on(room: Class) -> None:
    running(room, 9)
    for tap in range(4):
        assert room.order(Order.TAP_TEMPO).tempo == (120 if tap < 2 else 100)
        room.speaker.advance(RATE * 60 // 100)
    assert take(room).timeline.tempo_at(1 << 40) == 100


def test_a_typed_tempo_holds_at_once_and_before_the_start(room: Class) -> None:
    room.session.obey(Order.TEMPO, Fraction(96))
    assert looked(room.session).tempo == 96
    room.order(Order.GO)
    assert take(room).timeline.tempo_at(0) == 96
    room.danced(12)
    room.session.obey(Order.TEMPO, Fraction(90))
    assert take(room).timeline.tempo_at(1 << 40) == 90


@pytest.mark.parametrize("asked", [145, 300, 400])
def test_a_tempo_far_above_the_dances_own_is_a_slip_and_told_how_fast_it_may_be(room: Class, asked: int) -> None:
    running(room, 9)
    room.session.obey(Order.TEMPO, Fraction(asked))
    view = looked(room.session)
    assert (view.state, view.tempo, take(room).timeline.tempo_at(1 << 40)) == (State.RUNNING, 120, 120)
    assert view.notices[-1] == f"{asked} is not taken: the tempo is 120, so up to 144 is; + goes on from there."
    room.session.obey(Order.TEMPO, Fraction(144))
    assert room.order(Order.FASTER).tempo == 148


# -- how loud


def clicks_heard(room: Class, counts: int) -> float:
    return float(np.abs(room.speaker.advance(counts * COUNT)).max())


def quiet(room: Class) -> None:
    """No calls, so that what is heard is the count track."""
    for _ in range(4):
        room.order(Order.MANNER)


def test_the_count_track_gets_louder_by_its_step_and_nothing_jumps(room: Class) -> None:
    quiet(room)
    running(room, 4.3)
    before = clicks_heard(room, 4)
    room.order(Order.COUNT_LOUDER, Order.COUNT_LOUDER)
    at = room.speaker.asked[-1].at
    room.speaker.advance(COUNT // 2)
    assert clicks_heard(room, 4) / before == pytest.approx(10 ** (4 / 20), rel=1e-3)
    steps = np.abs(np.diff(room.speaker.sound[:, 0]))
    assert steps[at - 100 : at + 400].max() <= np.delete(steps, slice(at - 100, at + 400)).max()


def test_mute_is_silence_at_once_and_the_dance_goes_on_under_it(room: Class) -> None:
    running(room, 10.2)
    room.order(Order.MUTE)
    silent = room.speaker.advance(4 * COUNT)
    assert not silent[RATE // 100 :].any()
    view = looked(room.session)
    assert (view.state, place(view), view.holds) == (State.RUNNING, (1, 2, 7), ("muted",))
    room.order(Order.MUTE)
    room.speaker.advance(COUNT)
    assert room.speaker.sound[-COUNT:].any()
    assert place(room.danced(1)) == (1, 3, 1)


def test_sound_after_muting_is_where_it_would_have_been(room: Class) -> None:
    """Beside the same class never muted, sample for sample."""
    other = Class()
    looked(other.session)
    for one in (room, other):
        running(one, 10)
    room.order(Order.MUTE)
    for one in (room, other):
        one.danced(3)
    room.order(Order.MUTE)
    for one in (room, other):
        one.danced(6)
    assert np.array_equal(room.speaker.sound[-4 * COUNT :], other.speaker.sound[-4 * COUNT :])


def test_what_is_changed_while_muted_is_heard_after_it(room: Class) -> None:
    running(room, 10)
    room.order(Order.MUTE, Order.FASTER, Order.MUTE)
    room.danced(0.2)  # the hush is told meanwhile
    assert room.speaker.asked[-1].score == take(room).score
    assert take(room).timeline.tempo_at(1 << 40) == 124


def test_a_muted_class_stays_silent_through_a_pause_and_a_jump(room: Class) -> None:
    running(room, 10)
    room.order(Order.MUTE)
    room.danced(1)
    room.order(Order.GO)
    room.danced(1)
    room.order(Order.GO)
    assert not room.speaker.advance(8 * COUNT)[RATE // 100 :].any()
    looked(room.session)
    room.order(Order.NEXT)
    assert not room.speaker.advance(8 * COUNT).any()


# -- the ear


def test_what_shows_waits_for_a_device_that_is_heard_later_than_it_tells() -> None:
    shown = {}
    for offset in (0.0, 250.0):
        room = Class(offset_ms=offset)
        looked(room.session)
        view = running(room, 10.1)
        shown[offset] = place(view)
    assert shown == {0.0: (1, 2, 3), 250.0: (1, 2, 2)}


def test_whoever_follows_the_beat_is_told_what_is_heard_and_when_it_is_left() -> None:
    room, lights = Class(), Followed()
    room.session.desk = replace(room.session.desk, beat_out=lights)
    looked(room.session)
    assert lights.beats[-1] is None
    running(room, 10.2)
    beat = lights.beats[-1]
    assert beat is not None
    assert (beat.start, beat.take) == (0, 1)
    heard = room.session.air.playout.parts[-1].origin / RATE  # the speaker by hand tells its own frames as seconds
    assert beat.zero_seconds == pytest.approx(heard, abs=1e-6)
    room.order(Order.FASTER)
    faster = lights.beats[-1]
    assert faster is not None
    assert (faster.take, faster.zero_seconds) == (1, pytest.approx(heard, abs=1e-6))
    room.order(Order.GO)
    assert lights.beats[-1] is None
    room.session.close()
    assert lights.closed


QUEUED = 4_800  # frames that a device holds, so that what shows can be ahead of what is heard


def held(room: Class, order: Order, seconds: float) -> None:
    """A key held, as a terminal sends it thirty times a second, with a look at each besides the screen's own."""
    for press in range(round(30 * seconds)):
        room.session.obey(order)
        room.session.view(room.speaker.now())
        if press % 3 != 2:
            looked(room.session)
        room.speaker.advance(RATE // 30)


@pytest.mark.parametrize("order", [Order.FASTER, Order.SLOWER, Order.HALF, Order.COUNT_LOUDER])
def test_a_key_that_is_held_stops_nobody_who_follows_the_beat(order: Order) -> None:
    room, lights = Class(HandSpeaker(latency=QUEUED)), Followed()
    room.session.desk = replace(room.session.desk, beat_out=lights)
    looked(room.session)
    running(room, 10.2)
    told = len(lights.beats)
    held(room, order, 2)
    beats, pulses = lights.beats[told:], Pulses()
    assert len(beats) == 40
    assert {beat.take for beat in beats if beat is not None} == {1}
    messages = [message for beat in beats for message in pulses.follow(beat, 0.0)]
    assert messages == [], "no stop"
    assert None not in beats


def test_asking_what_shows_changes_nothing() -> None:
    room = Class(HandSpeaker(latency=QUEUED))
    looked(room.session)
    running(room, 10.2)
    for _ in range(4):
        room.session.obey(Order.FASTER)
        room.speaker.advance(RATE // 30)
    before, stands = room.session.air.playout, room.session.stands
    views = [room.session.view(room.speaker.now() + seconds) for seconds in (0, 0.5, 600, 0)]
    assert room.session.air.frame(room.speaker.now() + 0.5) > before.parts[1].at, "some of it will be over"
    assert (room.session.air.playout, room.session.stands) == (before, stands)
    assert views[0] == views[-1]


def test_what_is_over_is_forgotten_as_time_goes_on(room: Class) -> None:
    running(room, 10.2)
    for _ in range(5):
        room.order(Order.FASTER)
        room.danced(1)
    assert len(room.session.air.playout.parts) == 1


# -- what can't be done is said


@pytest.mark.parametrize(
    ("order", "says"),
    [
        (Order.SECTION_AGAIN, "It has not begun."),
        (Order.STOP_AT_EIGHT, "Nothing is being danced now. There is no eight to end."),
        (Order.LOOP_FROM, "Nothing is being danced now. A loop is marked in what is danced."),
    ],
)
def test_before_the_start_it_says_why_it_does_nothing(room: Class, order: Order, says: str) -> None:
    view = room.order(order)
    assert (view.state, view.notices[-1]) == (State.READY, says)


def test_while_it_falls_silent_the_eight_can_still_be_asked_for(room: Class) -> None:
    running(room, 13.5)
    room.order(Order.GO, Order.GO)
    assert room.session.air.waiting is not None
    room.order(Order.STOP_AT_EIGHT)
    assert room.session.air.waiting.end == 16
    room.danced(0.2)
    assert room.session.state is State.FINISHING


def test_a_jump_leaves_the_eight_that_was_to_be_the_last(room: Class) -> None:
    running(room, 13.5)
    view = room.order(Order.STOP_AT_EIGHT, Order.NEXT)
    assert view.state is State.COUNT_IN
    assert take(room).end == room.session.dance.counts
    assert room.danced(4 + 9).state is State.RUNNING


def test_a_share_of_the_tempo_can_be_typed_as_a_pedal_leans(room: Class) -> None:
    running(room, 9)
    room.session.obey(Order.SHARE, Fraction(3, 4))
    assert take(room).timeline.tempo_at(1 << 40) == 90


def test_a_span_of_ones_own_is_marked_at_its_bars_and_comes_over_and_over(room: Class) -> None:
    room.order(Order.GO)
    room.danced(8 + 5.5)  # the second bar of section 1
    room.order(Order.LOOP_FROM)
    room.danced(5)  # the first bar of section 2
    view = room.order(Order.LOOP_TO)
    assert view.holds == ("looping 8 counts",)
    counts = [(view.glance.section, view.glance.count) for _ in range(20) if (view := room.danced(1)).glance]
    again = [(1, 5), (1, 6), (1, 7), (1, 8), (2, 1), (2, 2), (2, 3), (2, 4)]
    first = again.index(counts[0])
    assert counts == [again[(first + n) % 8] for n in range(20)]


def test_let_on_a_span_of_ones_own_goes_on_after_its_end(room: Class) -> None:
    room.order(Order.GO)
    room.danced(8 + 1.5)
    room.order(Order.LOOP_FROM, Order.LOOP_TO)
    view = room.danced(8)
    assert view.glance is not None
    assert (view.glance.section, view.glance.count) == (1, 2)
    room.order(Order.LOOP)
    view = room.danced(4)
    assert view.holds == ()
    assert view.glance is not None
    assert (view.glance.section, view.glance.count) == (1, 6)


def test_a_loop_that_ends_before_it_begins_is_told_and_nothing_changes(room: Class) -> None:
    room.order(Order.GO)
    room.danced(8 + 13)
    room.order(Order.LOOP_FROM, Order.PREVIOUS)
    room.danced(6)
    view = room.order(Order.LOOP_TO)
    assert view.holds == ()
    assert view.notices[-1] == "The loop would end before it begins: [ marks its beginning first."


def test_counts_typed_are_looped_from_the_first_of_them_on(room: Class) -> None:
    room.session.obey(Order.LOOP_COUNTS, 13, 16)
    view = room.danced(4 + 0.5)
    assert view.holds == ("looping 4 counts",)
    seen = [view.glance.count for _ in range(8) if (view := room.danced(1)).glance]
    assert seen == [6, 7, 8, 5, 6, 7, 8, 5]


def test_a_loop_that_ends_on_the_foot_it_begins_with_says_that_the_class_changes_weight(room: Class) -> None:
    """Section 1 begins with the right and ends on the left; its first four counts end on the right."""
    running(room, 2)
    for last, said in ((8, ()), (4, ("Before each time round the class changes weight.",))):
        room.session.obey(Order.LOOP_COUNTS, 1, last)
        answers = (f"{last} counts over and over.", *said, "Loop these counts.")
        assert looked(room.session).notices[-len(answers) :] == answers
    room.order(Order.LOOP)
    assert room.order(Order.LOOP).notices[-1] == "This section over and over.", "the whole of it"


def test_a_loop_says_how_often_it_has_come_round_and_whoever_leaves_it_what_is_danced_to_its_end(room: Class) -> None:
    running(room, 2)
    assert looked(room.session).time_round == 0
    room.session.obey(Order.LOOP_COUNTS, 5, 8)
    room.danced(4.5)  # the count-in, and into the first count
    rounds = [room.danced(1).time_round for _ in range(9)]
    assert rounds == [1, 1, 1, 2, 2, 2, 2, 3, 3]
    view = room.order(Order.LOOP)
    assert (view.notices[-1], view.time_round) == ("On from here once these 4 counts are over.", 0)
    assert room.order(Order.LOOP).time_round == 1
    assert room.order(Order.LOOP).notices[-1] == "On from here once this section is over."


def test_counts_are_those_of_the_section_as_the_screen_shows_them(room: Class) -> None:
    running(room, 17)  # the second count of section 3
    room.session.obey(Order.LOOP_COUNTS, 5, 8)
    assert (take(room).start, looked(room.session).holds) == (20, ("looping 4 counts",))
    room.session.obey(Order.LOOP_WALL, 5, 8)
    assert take(room).start == 4


@pytest.mark.parametrize(("order", "start"), [(Order.LAST_FOUR, 8), (Order.LAST_EIGHT, 4)])
def test_the_last_counts_are_danced_again_from_before_this_bar(room: Class, order: Order, start: int) -> None:
    running(room, 13.5)
    view = room.order(order)
    assert (view.state, take(room).start, take(room).count_in) == (State.COUNT_IN, start, 4)
    running_on = room.danced(4 + 9)
    assert running_on.state is State.RUNNING
    assert not running_on.holds


def test_asked_to_say_that_again_the_dance_tells_its_section_and_goes_on_from_the_bar(room: Class) -> None:
    running(room, 13.5)
    section = [p.wordings[0] for p in room.session.dance.walls[0].phrases if p.section == 2]
    view = room.order(Order.SAY_AGAIN)
    assert (view.state, view.telling) == (State.TELLING, section[0])
    assert view.glance is not None
    assert (view.glance.section, view.glance.at) == (2, 12)
    room.order(Order.GO)
    assert room.order(Order.GO).telling == section[0], "paused, it goes on with the sentence"
    told = {looked(room.session).telling}
    for _ in range(400):
        told.add(room.danced(0.1).telling)
        if room.session.state is State.COUNT_IN:
            break
    assert told == {*section, ""}
    assert take(room).start == 12
    assert room.danced(4 + 6).state is State.RUNNING


@pytest.mark.parametrize(("first", "last"), [(0, 4), (30, 40), (12, 5)])
def test_counts_that_are_not_in_the_wall_are_told(room: Class, first: int, last: int) -> None:
    room.session.obey(Order.LOOP_COUNTS, first, last)
    view = looked(room.session)
    assert view.state is State.READY
    assert view.notices[-1] == f"Counts {first} to {last} can't be looped: this wall has 1 to 32."


def test_a_section_typed_is_gone_to_and_one_that_is_not_there_told(room: Class) -> None:
    room.session.obey(Order.SECTION, 3)
    view = room.danced(4 + 0.5)
    assert view.glance is not None
    assert (view.glance.section, view.glance.count) == (3, 1)
    room.session.obey(Order.SECTION, 9)
    assert looked(room.session).notices[-1] == "There is no section 9 in this wall; there are 1, 2, 3, 4."


def test_a_wall_typed_is_gone_to_and_one_that_is_not_there_told(room: Class) -> None:
    room.session.obey(Order.TO_WALL, 3)
    while looked(room.session).state is not State.COUNT_IN:
        room.danced(0.1)
    view = room.danced(4 + 0.3)
    assert view.glance is not None
    assert (view.glance.wall, view.glance.section, view.glance.count) == (3, 1, 1)
    assert str(view.glance.facing) == "6:00"
    room.session.obey(Order.TO_WALL, 90)
    assert looked(room.session).notices[-1].startswith("There is no wall 90; there are 1 to ")


_MOVES = st.one_of(
    st.sampled_from(PEDAL_ORDERS),
    st.floats(0.1, 6.0),
    st.tuples(st.integers(0, 40), st.integers(0, 40)),
    st.integers(0, 6),
)
_STILL = (State.READY, State.PAUSED, State.FINISHED)


@settings(max_examples=20)
@given(st.lists(_MOVES, max_size=12))
def test_whatever_is_ordered_whenever_the_class_goes_on_and_stands_still_in_silence(
    moves: list[Order | float | tuple[int, int] | int],
) -> None:
    room = Class()
    looked(room.session)
    for move in moves:
        match move:
            case Order():
                room.order(move)
            case (int(first), int(last)):
                room.session.obey(Order.LOOP_COUNTS, first, last)
            case int():
                room.session.obey(Order.SECTION, move)
            case float():
                room.danced(move)
        view = looked(room.session)
        assert view.glance is not None
        assert view.glance.wall >= 1
    if looked(room.session).state in _STILL:
        room.danced(1)  # the last click rings out
        assert not room.speaker.advance(RATE // 5).any()


def test_a_second_pause_stays_paused_and_says_so_and_go_while_dancing_goes_on() -> None:
    room = Class()
    looked(room.session)
    room.order(Order.GO_ON)
    view = room.danced(12)
    assert view.state is State.RUNNING
    assert room.order(Order.GO_ON).notices[-1] == "It goes on already; pause stops it."
    assert room.order(Order.PAUSE).state is State.PAUSED
    view = room.order(Order.PAUSE)
    assert (view.state, view.notices[-1]) == (State.PAUSED, "It is paused already; go goes on.")
    assert room.order(Order.GO_ON).state is State.COUNT_IN


def test_what_was_jumped_over_was_not_danced_and_half_speed_twice_is_full_speed_again() -> None:
    room = Class()
    looked(room.session)
    room.order(Order.GO)
    assert room.danced(12).whole
    room.session.obey(Order.TO_WALL, 4)
    assert not looked(room.session).whole
    assert room.order(Order.HALF).notices[-1] == "Half speed: 60 counts a minute."
    assert room.order(Order.HALF).notices[-1] == "Full speed again: 120 counts a minute."
