"""What a MIDI input hands over, and when it came, on mido ports driven by hand."""

from __future__ import annotations

from itertools import accumulate, pairwise

import mido
import pytest
from hypothesis import given
from hypothesis import strategies as st

from caller.rig.pedal.arrivals import Arrivals
from caller.rig.pedal.port import MOST_AT_ONCE, MidoPort
from tests.fakes.pedal import DOWN, UP

CLOCK, SENSING = bytes((0xF8,)), bytes((0xFE,))
GAPS = st.lists(st.floats(0, 2), min_size=1, max_size=30)


class HandInput(mido.ports.BaseInput):  # type: ignore[misc]
    """fault: what it raises once it is asked or closed."""

    fault: OSError | None = None

    def brings(self, *messages: tuple[bytes, float]) -> None:
        self._messages.extend(mido.Message.from_bytes(content, time=gap) for content, gap in messages)

    def _receive(self, block: bool = True) -> None:
        if self.fault is not None:
            raise self.fault

    def _close(self) -> None:
        if self.fault is not None:
            raise self.fault


def test_a_press_and_its_lift_that_a_stalled_screen_finds_together_keep_their_distance() -> None:
    port = HandInput("Sole")
    heard = MidoPort(port, 10.0)
    port.brings((DOWN, 0.0))
    assert heard.pending(10.01) == ((DOWN, 10.01),)
    port.brings((UP, 0.1), (DOWN, 0.5))
    assert heard.pending(11.0) == ((UP, pytest.approx(10.11)), (DOWN, pytest.approx(10.61)))


def test_clock_and_sensing_are_left_out_but_the_time_that_they_took_is_not() -> None:
    port = HandInput("Sole")
    heard = MidoPort(port, 0.0)
    port.brings((DOWN, 0.0), (CLOCK, 0.25), (SENSING, 0.25), (UP, 0.25))
    assert heard.pending(1.0) == ((DOWN, pytest.approx(0.25)), (UP, 1.0))


def test_a_flood_does_not_hold_up_a_look_and_loses_nothing() -> None:
    port = HandInput("Sole")
    heard = MidoPort(port, 0.0)
    port.brings(*[(bytes((0xE0, 0, n % 128)), 1e-5) for n in range(MOST_AT_ONCE)], (DOWN, 0.0), (UP, 0.0))
    assert len(heard.pending(1.0)) == MOST_AT_ONCE
    assert [message for message, _ in heard.pending(1.01)] == [DOWN, UP]


def test_a_port_that_is_gone_gives_what_it_had_and_refuses_in_vain() -> None:
    port = HandInput("Sole")
    heard = MidoPort(port, 0.0)
    port.brings((DOWN, 0.0))
    port.fault = OSError("gone")
    assert heard.pending(0.5) == ((DOWN, 0.5),)
    assert heard.pending(0.6) == ()
    heard.close()
    port.fault = None


@given(GAPS, st.floats(0.001, 3))
def test_gaps_that_the_system_timed_are_kept_to_the_microsecond(gaps: list[float], look: float) -> None:
    """Looked at every ``look`` seconds, of messages that came at true times on a clock that began elsewhere."""
    true = [5.0 + at for at in accumulate(gaps)]
    arrivals = Arrivals(5.0)
    told: list[float] = []
    now = 5.0
    while len(told) < len(true):
        now += look
        met = [gap for gap, at in zip(gaps, true, strict=True) if at <= now][len(told) :]
        told += arrivals.times(met, now)
    errors = [said - at for said, at in zip(told, true, strict=True)]
    assert all(-1e-6 <= error <= look + 1e-6 for error in errors), "it came between two looks"
    assert all(after <= before + 1e-6 for before, after in pairwise(errors)), "never less exact"


@given(st.lists(st.tuples(GAPS, st.floats(0.001, 3)), max_size=8))
def test_whatever_the_system_says_of_gaps_times_lie_in_order_between_two_looks(
    looks: list[tuple[list[float], float]],
) -> None:
    arrivals, now = Arrivals(0.0), 0.0
    told: list[float] = []
    for gaps, seconds in looks:
        before, now = now, now + seconds
        times = arrivals.times(gaps, now)
        assert all(before <= at <= now for at in times)
        told += times
    assert told == sorted(told)
