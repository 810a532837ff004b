"""The player, on sinks driven by hand: orders in, frames and facts out."""

from __future__ import annotations

from collections.abc import Callable, Iterator

import numpy as np
import pytest

from caller.rig.stream.board import BoardReading, SharedBoard
from caller.rig.stream.player import BLOCK, RETRY_SECONDS, WRITE_LIMIT_SECONDS, Inbox, Player, SoundLost
from caller.rig.stream.wire import HushOrder, SpliceOrder
from caller.sound.reel import CROSSING_FRAMES, Reel, Splice, render_reel
from caller.sound.score import RATE
from tests.fakes.sink import HandClock, HandSink
from tests.rig.scores import steady

LATENCY = 4_800


class Patience:
    """A watch that only remembers what it was asked to expect."""

    def __init__(self) -> None:
        self.expected: list[float | None] = []

    def expect(self, within_seconds: float) -> None:
        self.expected.append(within_seconds)

    def rest(self) -> None:
        self.expected.append(None)


class Stage:
    """A player with all it needs. ``sinks`` are opened one after the other; a sentence in their place is why there is
    none. Ends once the last sink has had ``blocks`` blocks."""

    def __init__(self, board: SharedBoard, clock: HandClock) -> None:
        self.board, self.clock, self.inbox, self.watch = board, clock, Inbox(), Patience()
        self.readings: list[BoardReading] = []
        self.player = Player(RATE, board, self.inbox, self.watch, clock.now)

    def end_after(self, blocks: int, also: Callable[[int], None] = lambda number: None) -> Callable[[int], None]:
        def before(number: int) -> None:
            self.readings.append(self.board.read())
            also(number)
            if number == blocks:
                self.inbox.ended = True

        return before

    def run(self, *sinks: HandSink | str) -> None:
        coming = iter(sinks)

        def open_sink() -> HandSink:
            sink = next(coming)
            if isinstance(sink, str):
                raise SoundLost(sink)
            return sink

        def wait(seconds: float) -> None:
            self.readings.append(self.board.read())
            self.clock.wait(seconds)

        self.player.run(open_sink, wait)


@pytest.fixture
def clock() -> HandClock:
    return HandClock()


@pytest.fixture
def stage(clock: HandClock) -> Iterator[Stage]:
    board = SharedBoard.create()
    board.write(BoardReading(fault="Starting."))
    yield Stage(board, clock)
    board.discard()


def test_what_is_asked_in_time_sounds_as_the_reel_says(stage: Stage) -> None:
    first, second = steady(48_000, 1), steady(48_000, 2)

    def orders(number: int) -> None:
        if number == 20:
            stage.inbox.waiting.append(SpliceOrder(second, 300, 15_000))

    stage.inbox.waiting.append(SpliceOrder(first, 0, 960))
    sink = HandSink(stage.clock, stage.end_after(60, orders))
    stage.run(sink)
    asked = Reel((Splice(960, first, 0), Splice(15_000, second, 300)))
    np.testing.assert_array_equal(sink.sound[: 60 * BLOCK], render_reel(asked, 0, 60 * BLOCK))
    assert stage.board.read().late == 0


def test_it_tells_how_far_it_has_come_after_each_block(stage: Stage) -> None:
    sink = HandSink(stage.clock, stage.end_after(30), dry=(4, 9))
    stage.run(sink)
    told = stage.readings[20]
    assert (told.written, told.heard, told.underruns) == (20 * BLOCK, 20 * BLOCK - LATENCY, 2)
    assert told.at_seconds == pytest.approx(100 + (20 * BLOCK - LATENCY) / RATE)
    assert (told.begun, told.device, told.fault) == (True, "by hand", "")


def test_a_hush_drops_what_the_device_holds_and_says_where_it_fell_silent(stage: Stage) -> None:
    def orders(number: int) -> None:
        if number == 20:
            stage.inbox.waiting.append(HushOrder(1))

    score = steady(96_000)
    stage.inbox.waiting.append(SpliceOrder(score, 0, 0))
    sink = HandSink(stage.clock, stage.end_after(60, orders))
    stage.run(sink)
    told = stage.board.read()
    assert sink.dropped == [(21, LATENCY)]
    cut = 21 * BLOCK - LATENCY
    assert (told.hush, told.hushed_at) == (1, cut)
    assert np.array_equal(sink.heard[:cut], render_reel(Reel((Splice(0, score),)), 0, cut))
    assert not sink.heard[cut:].any(), "nothing is left to cross over from"


def test_whoever_is_muted_dances_on_in_time(stage: Stage) -> None:
    """What is asked for after a hush comes at its stream frame, and the ear is where it would be without one."""
    score = steady(480_000)

    def orders(number: int) -> None:
        if number == 20:
            stage.inbox.waiting.append(HushOrder(1))
        if number == 40:
            stage.inbox.waiting.append(SpliceOrder(score, 60 * BLOCK, 60 * BLOCK))

    stage.inbox.waiting.append(SpliceOrder(score, 0, 0))
    sink = HandSink(stage.clock, stage.end_after(90, orders))
    stage.run(sink)
    back = 60 * BLOCK + CROSSING_FRAMES
    assert np.array_equal(sink.heard[back : 70 * BLOCK], render_reel(Reel((Splice(0, score),)), back, 70 * BLOCK))
    for told in stage.readings[25:]:
        assert told.heard == round((told.at_seconds - 100) * RATE)
    heard = [told.heard for told in stage.readings]
    assert heard == sorted(heard)


def test_without_a_device_the_stream_begins_by_the_clock_and_joins_when_one_comes(stage: Stage) -> None:
    score = steady(480_000)
    stage.inbox.waiting.append(SpliceOrder(score, 0, 0))
    sink = HandSink(stage.clock, stage.end_after(20), lead_frames=960)
    stage.run("No device.", "Still none.", sink)
    assert [reading.fault for reading in stage.readings[:2]] == ["No device.", "Still none."]
    joined = round(2 * RETRY_SECONDS * RATE) + 960  # what is written first is heard 960 frames later
    reel = Reel((Splice(0, score, 0),))
    np.testing.assert_array_equal(sink.sound[: 20 * BLOCK], render_reel(reel, joined, joined + 20 * BLOCK))
    assert stage.board.read().late == 0


def test_a_lost_device_comes_back_where_the_clock_has_got_to(stage: Stage) -> None:
    score = steady(480_000)
    stage.inbox.waiting.append(SpliceOrder(score, 0, 0))
    lost = HandSink(stage.clock, lost_after=50)
    sink = HandSink(stage.clock, stage.end_after(20))
    stage.run(lost, sink)
    assert lost.closed
    at_loss = stage.readings[0]
    assert at_loss.fault == "The device by hand is lost."
    assert at_loss.heard == 50 * BLOCK - LATENCY
    joined = at_loss.heard + round(RETRY_SECONDS * RATE)
    reel = Reel((Splice(0, score, 0),))
    np.testing.assert_array_equal(sink.sound[: 20 * BLOCK], render_reel(reel, joined, joined + 20 * BLOCK))
    assert stage.board.read().fault == ""


def test_a_hush_without_a_device_holds_from_where_the_clock_is(stage: Stage) -> None:
    stage.inbox.waiting.append(SpliceOrder(steady(480_000), 0, 0))
    lost = HandSink(stage.clock, lost_after=50)
    sink = HandSink(stage.clock, stage.end_after(20))
    coming: Iterator[HandSink | str] = iter([lost, "None.", sink])

    def open_sink() -> HandSink:
        got = next(coming)
        if isinstance(got, str):
            stage.inbox.waiting.append(HushOrder(1))
            raise SoundLost(got)
        return got

    stage.player.run(open_sink, stage.clock.wait)
    told = stage.board.read()
    assert told.hushed_at == 50 * BLOCK - LATENCY + round(RETRY_SECONDS * RATE)
    assert not sink.sound[4_800:].any()


def test_a_player_goes_on_where_the_last_one_ended_and_finds_nothing_late(stage: Stage) -> None:
    score = steady(480_000)
    stage.board.write(BoardReading(written=48_000, heard=43_200, at_seconds=99.0, underruns=3, late=1, begun=True))
    heir = Stage(stage.board, stage.clock)
    heir.inbox.waiting.append(SpliceOrder(score, 0, 0))
    sink = HandSink(stage.clock, heir.end_after(10))
    heir.run(sink)
    joined = 43_200 + RATE
    np.testing.assert_array_equal(
        sink.sound[: 10 * BLOCK], render_reel(Reel((Splice(0, score, 0),)), joined, joined + 10 * BLOCK)
    )
    told = heir.board.read()
    assert (told.underruns, told.late) == (3, 1)


def test_positions_never_go_back_when_a_device_returns_at_once(stage: Stage) -> None:
    lost = HandSink(stage.clock, lost_after=50)
    sink = HandSink(stage.clock, stage.end_after(5), latency_frames=0)
    coming = iter([lost, sink])
    stage.player.run(lambda: next(coming), lambda seconds: None)
    assert all(reading.written >= 50 * BLOCK for reading in stage.readings[1:])


def test_at_the_end_it_fades_and_lets_the_fade_be_heard(stage: Stage) -> None:
    stage.inbox.waiting.append(SpliceOrder(steady(480_000), 0, 0))
    sink = HandSink(stage.clock, stage.end_after(20))
    stage.run(sink)
    assert sink.closed
    assert len(sink.sound) >= 21 * BLOCK + LATENCY
    assert sink.sound[21 * BLOCK + 5].any()
    assert not sink.sound[-LATENCY + BLOCK :].any()
    assert sink.queued() == LATENCY


def test_every_write_is_watched_and_waiting_is_not(stage: Stage) -> None:
    sink = HandSink(stage.clock, stage.end_after(3))
    stage.run("No device.", sink)
    assert WRITE_LIMIT_SECONDS in stage.watch.expected
    assert stage.watch.expected[-1] is None
    assert None in stage.watch.expected[:4]


def test_a_device_that_refuses_the_rate_is_told_and_the_class_goes_on_by_the_clock_until_it_takes_it(
    stage: Stage,
) -> None:
    """A card held at another rate by somebody else: PortAudio says so in words of its own, and they are passed on."""
    refused = "The sound device USB won't open (Invalid sample rate): see that nothing else holds it."
    score = steady(20 * BLOCK * 300)
    stage.inbox.waiting.append(SpliceOrder(score, 0, 0))
    told: list[BoardReading] = []

    def wait(seconds: float) -> None:
        told.append(stage.board.read())
        stage.clock.wait(seconds)

    sink = HandSink(stage.clock, stage.end_after(20))
    coming = iter([refused, refused, refused])

    def open_sink() -> HandSink:
        if (sentence := next(coming, None)) is not None:
            raise SoundLost(sentence)
        return sink

    stage.player.run(open_sink, wait)
    assert [reading.fault for reading in told] == [refused] * 3
    assert all(reading.begun for reading in told)
    joined = round(3 * RETRY_SECONDS * RATE)  # frame 0 was when it was first refused
    assert np.array_equal(sink.sound[: 20 * BLOCK], render_reel(Reel((Splice(0, score),)), joined, joined + 20 * BLOCK))
    assert stage.board.read().fault == ""


def test_an_order_that_comes_while_the_device_is_full_holds_from_the_very_next_block(stage: Stage) -> None:
    class Full(HandSink):
        """The tenth block has to wait for room; meanwhile a hush is asked for."""

        waits = 0

        def wait_for_room(self, frames: int, look: Callable[[], bool]) -> None:
            if self.waits == 10:
                assert not look()
                stage.board.ask_hush(1)
                assert look(), "it need not wait for room any longer"
            self.waits += 1

    stage.inbox.waiting.append(SpliceOrder(steady(480_000), 0, 0))
    sink = Full(stage.clock, stage.end_after(20))
    stage.run(sink)
    assert sink.dropped == [(10, LATENCY)]
    assert stage.board.read().hushed_at == 10 * BLOCK - LATENCY
    assert sink.sound[: 10 * BLOCK].any()
    assert not sink.sound[10 * BLOCK :].any()


def test_a_hush_on_the_board_holds_before_it_has_come_and_what_was_ordered_before_it_is_dropped(stage: Stage) -> None:
    late, after = steady(480_000, 2), steady(480_000, 3)

    def orders(number: int) -> None:
        match number:
            case 10:
                stage.board.ask_hush(1)
            case 14:
                stage.inbox.waiting.append(SpliceOrder(late, 0, 9_000))  # given before the hush, slow on its way
            case 20:
                stage.inbox.waiting.append(HushOrder(1))
                stage.inbox.waiting.append(SpliceOrder(after, 0, 30 * BLOCK))

    stage.inbox.waiting.append(SpliceOrder(steady(480_000), 0, 0))
    sink = HandSink(stage.clock, stage.end_after(40, orders))
    stage.run(sink)
    cut = 11 * BLOCK - LATENCY
    assert (stage.readings[12].hush, stage.readings[12].hushed_at) == (1, cut)
    assert sink.heard[:cut].any()
    assert not sink.heard[cut : 30 * BLOCK].any()
    reel = Reel((Splice(30 * BLOCK, after, 0),))
    assert np.array_equal(sink.heard[30 * BLOCK :][:BLOCK], render_reel(reel, 30 * BLOCK, 31 * BLOCK))
    told = stage.board.read()
    assert (told.hush, told.hushed_at, told.late) == (1, cut, 0)


def test_a_second_hush_seen_before_the_first_has_come_is_waited_for_too(stage: Stage) -> None:
    def orders(number: int) -> None:
        if number in (5, 6):
            stage.board.ask_hush(number - 4)
        if number == 10:
            stage.inbox.waiting.extend([HushOrder(1), SpliceOrder(steady(480_000), 0, 0), HushOrder(2)])

    sink = HandSink(stage.clock, stage.end_after(20, orders))
    stage.run(sink)
    assert not sink.sound.any()
    assert stage.board.read().hush == 2
    assert len(sink.dropped) == 2
    assert stage.board.read().hushed_at == stage.readings[7].heard


def test_a_hush_that_the_player_before_saw_is_obeyed_again_when_it_comes(stage: Stage) -> None:
    """That one ended before it was sent the order; the keeper tells its heir of the score, and then of the hush."""
    stage.board.ask_hush(1)
    stage.board.write(BoardReading(written=48_000, heard=43_200, at_seconds=99.0, hush=1, hushed_at=47_520, begun=True))
    heir = Stage(stage.board, stage.clock)
    heir.inbox.waiting.extend([SpliceOrder(steady(480_000), 0, 0), HushOrder(1)])
    sink = HandSink(stage.clock, heir.end_after(10))
    heir.run(sink)
    assert not sink.sound[BLOCK:].any()
