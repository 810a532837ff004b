"""Where the sound is at the ear, at a moment after it was asked."""

from __future__ import annotations

import pytest

from caller.sound.speaker import Health, Heard

RATE = 48_000


@pytest.mark.parametrize(
    ("now", "offset_ms", "frame"),
    [(10.0, 0.0, 1_000), (10.01, 0.0, 1_480), (9.9, 0.0, 1_000), (11.0, 0.0, 5_000), (10.01, 10.0, 1_000)],
)
def test_time_goes_by_no_further_than_what_was_given_to_the_device(now: float, offset_ms: float, frame: int) -> None:
    heard = Heard(written=5_000, heard=1_000, at_seconds=10.0)
    assert heard.frame_at(now, RATE, offset_ms) == frame


def test_a_device_that_is_late_by_more_is_heard_earlier_in_the_stream() -> None:
    heard = Heard(written=90_000, heard=48_000, at_seconds=0.0)
    assert [heard.frame_at(0.0, RATE, ms) for ms in (-50.0, 0.0, 250.5)] == [50_400, 48_000, 35_976]


def test_a_hush_that_took_back_what_was_written_takes_nothing_back_at_the_ear() -> None:
    assert Heard(written=500, heard=1_000, at_seconds=0.0).frame_at(1.0, RATE) == 1_000


def test_starting_is_no_fault() -> None:
    assert Heard(0, 0, 0.0, fault="no device yet", starting=True).health is Health.STARTING
    assert Heard(0, 0, 0.0, fault="it is gone").health is Health.LOST
    assert Heard(0, 0, 0.0).health is Health.SOUNDING
