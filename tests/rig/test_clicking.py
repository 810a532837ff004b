"""A steady click, on a loudspeaker driven by hand: on the stream each second, and told when it is heard."""

from __future__ import annotations

from dataclasses import replace

import numpy as np
import pytest

from caller.rig.clicking import CLICK_SECONDS, SteadyClick
from caller.rig.settings import LATEST_MS, SOONEST_MS
from caller.rig.speaker import SilentSpeaker
from caller.sound.score import RATE
from caller.sound.speaker import Heard
from tests.fakes.sink import HandClock
from tests.fakes.speaker import HandSpeaker

STEP = 48  # a millisecond
LATENCY = 7_200


def clicks_in(speaker: HandSpeaker) -> list[int]:
    """Stream frames on which a click begins."""
    loud = np.flatnonzero(speaker.sound[:, 0])
    return [int(frame) for frame in loud[np.diff(loud, prepend=-RATE) > RATE // 4]]


def looked_at(clicking: SteadyClick, speaker: HandSpeaker, seconds: float, offset_ms: float) -> list[float]:
    """The moments, to a millisecond, at which a click is told to be heard."""
    told: list[float] = []
    before = None
    for _ in range(round(seconds * RATE / STEP)):
        speaker.advance(STEP)
        clicking.look()
        since = clicking.since_click(offset_ms)
        if since is not None and (before is None or since < before):
            told.append(speaker.now())
        before = since
    return told


@pytest.mark.parametrize("offset_ms", [0, SOONEST_MS, 180, LATEST_MS])
def test_a_click_is_told_when_its_frame_is_heard_and_the_offset_later(offset_ms: float) -> None:
    speaker = HandSpeaker(latency=LATENCY)
    told = looked_at(SteadyClick(speaker, speaker.now), speaker, 4.5, offset_ms)
    heard = [(frame + LATENCY) / RATE + offset_ms / 1000 for frame in clicks_in(speaker)]
    assert len(told) >= 3
    for moment, due in zip(told[1:], heard[1:], strict=False):  # from where the first frame has been heard
        assert abs(moment - due) < 1.1 * STEP / RATE


def test_clicks_come_each_second_and_go_on_when_a_score_is_over() -> None:
    speaker = HandSpeaker()
    clicking = SteadyClick(speaker, speaker.now, clicks=3)
    looked_at(clicking, speaker, 10, 0)
    clicks = clicks_in(speaker)
    assert len(clicks) == 10
    assert set(np.diff(clicks)) == {round(CLICK_SECONDS * RATE)}
    assert len(speaker.asked) == 4


def test_no_offset_can_be_taken_for_another_clicks() -> None:
    assert LATEST_MS - SOONEST_MS < 1000 * CLICK_SECONDS


def test_without_a_device_nothing_clicks_and_why_is_told() -> None:
    clock = HandClock()
    clicking = SteadyClick(SilentSpeaker("No card.", now=clock.now), clock.now)
    for _ in range(300):
        clock.wait(0.01)
        clicking.look()
    assert clicking.since_click(0) is None
    assert (clicking.device, clicking.fault) == ("", "No card.")


def test_a_device_that_is_lost_and_comes_back_clicks_on_where_it_would_have() -> None:
    speaker = HandSpeaker()
    clicking = SteadyClick(speaker, speaker.now)
    looked_at(clicking, speaker, 2.3, 0)
    speaker.fault = "Lost."
    assert looked_at(clicking, speaker, 2, 0) == []
    assert clicking.fault == "Lost."
    speaker.fault = ""
    told = looked_at(clicking, speaker, 2, 0)
    began = clicks_in(speaker)[0] / RATE
    assert [round((moment - began) % CLICK_SECONDS, 2) % CLICK_SECONDS for moment in told[-2:]] == [0, 0]


def test_the_ear_is_never_told_to_be_ahead_of_what_the_device_was_given() -> None:
    heard = Heard(written=9_600, heard=4_800, at_seconds=1.0)
    assert heard.frame_at(1.05, RATE) == 7_200
    assert heard.frame_at(0.9, RATE) == 4_800
    assert heard.frame_at(5.0, RATE) == 9_600
    assert heard.frame_at(1.05, RATE, offset_ms=50) == 4_800
    assert replace(heard, heard=12_000).frame_at(5.0, RATE) == 12_000
