"""MIDI clock out, by hand: what is sent when, as what is followed changes."""

from __future__ import annotations

from dataclasses import replace
from fractions import Fraction

import pytest

from caller.clock.pulses import CLOCK, CONTINUE, START, STOP
from caller.clock.timeline import HeardTimeline, Timeline
from caller.rig.clock_out import SLIGHT_SECONDS, ClockOut, Pulses, open_clock, steadied
from tests.parts.waiting import until

RATE = 48_000
# Four counts of count-in at 120, so that the first step is two seconds after the first click.
BEAT = HeardTimeline(Timeline.at_tempo(Fraction(120), RATE, Fraction(-4)), 10.0, Fraction(0), Fraction(32), 1)


def sent_until(pulses: Pulses, seconds: float) -> list[tuple[float, bytes]]:
    sent = []
    while (due := pulses.due_seconds) <= seconds:
        sent += [(due, message) for message in pulses.next()]
    return sent


def test_pulses_run_through_the_count_in_and_the_start_comes_with_the_first_step() -> None:
    pulses = Pulses()
    assert pulses.follow(BEAT, 10.0) == ()
    sent = sent_until(pulses, 12.5)
    assert [at for at, message in sent if message == START] == [12.0]
    clocks = [at for at, message in sent if message == CLOCK]
    assert len(clocks) == 4 * 24 + 24 + 1
    assert clocks == pytest.approx([10 + n / 48 for n in range(121)], abs=1 / RATE)


def test_another_tempo_of_the_same_take_stops_nothing_and_loses_no_pulse() -> None:
    pulses = Pulses()
    pulses.follow(BEAT, 10.0)
    sent = sent_until(pulses, 13.0)
    slower = replace(BEAT, timeline=BEAT.timeline.with_tempo(3 * RATE, Fraction(60)))
    assert pulses.follow(slower, 13.0) == ()
    later = sent_until(pulses, 15.0)
    assert {message for _, message in later} == {CLOCK}
    assert len(later) == 2 * 24
    assert later[0][0] - sent[-1][0] == pytest.approx(1 / 24, abs=2 / RATE)


def test_a_pause_stops_and_going_on_names_the_place() -> None:
    pulses = Pulses()
    pulses.follow(BEAT, 10.0)
    sent_until(pulses, 13.0)
    assert pulses.follow(None, 13.0) == (STOP,)
    assert pulses.due_seconds == float("inf")
    on = HeardTimeline(Timeline.at_tempo(Fraction(120), RATE, Fraction(-4)), 20.0, Fraction(0), Fraction(32), 2)
    assert (
        pulses.follow(
            replace(on, start=Fraction(8), timeline=Timeline.at_tempo(Fraction(120), RATE, Fraction(4))), 20.0
        )
        == ()
    )
    sent = sent_until(pulses, 22.0)
    assert [message for at, message in sent if at == 22.0] == [bytes((0xF2, 32, 0)), CONTINUE, CLOCK]


def test_going_elsewhere_while_dancing_stops_first() -> None:
    pulses = Pulses()
    pulses.follow(BEAT, 10.0)
    sent_until(pulses, 13.0)
    assert pulses.follow(replace(BEAT, take=2, zero_seconds=13.0), 13.0) == (STOP,)


def test_before_the_first_step_there_is_nothing_to_stop() -> None:
    pulses = Pulses()
    pulses.follow(BEAT, 10.0)
    sent_until(pulses, 11.0)
    assert pulses.follow(None, 11.0) == ()


def test_pulses_end_with_the_dance() -> None:
    pulses = Pulses()
    pulses.follow(BEAT, 10.0)
    sent = sent_until(pulses, 1_000.0)
    assert sum(message == CLOCK for _, message in sent) == 36 * 24


def test_wavering_is_evened_out_and_a_real_shift_is_followed_at_once() -> None:
    near = steadied(BEAT, replace(BEAT, zero_seconds=10.01))
    assert near is not None
    assert near.zero_seconds == pytest.approx(10.001)
    far = replace(BEAT, zero_seconds=10.0 + 2 * SLIGHT_SECONDS)
    assert steadied(BEAT, far) == far
    assert steadied(None, BEAT) == BEAT
    assert steadied(BEAT, None) is None


class Kept:
    """An output that keeps what it is sent."""

    def __init__(self) -> None:
        self.sent: list[bytes] = []
        self.closed = False

    def send(self, message: bytes) -> None:
        self.sent.append(message)

    def close(self) -> None:
        self.closed = True


def test_closing_stops_whoever_follows_and_lets_go_of_the_port() -> None:
    import time

    kept = Kept()
    clock = ClockOut(kept)
    clock.follow(replace(BEAT, zero_seconds=time.perf_counter() - 2.5))
    until(lambda: len(kept.sent) > 12, 5, "pulses")
    clock.close()
    until(lambda: kept.closed, 5, "the end")
    assert kept.sent[-1] == STOP
    assert CONTINUE in kept.sent


def test_a_port_that_is_not_there_is_told() -> None:
    def make(wish: str) -> Kept:
        raise OSError(f"no MIDI output is called {wish!r}")

    with pytest.raises(OSError, match="called 'lights'"):
        open_clock("lights", make)
