"""A loudspeaker's offset, set on a page and in lines: clicks by a loudspeaker and a clock driven by hand."""

from __future__ import annotations

from io import StringIO
from itertools import pairwise

import numpy as np
import pytest

from caller.rig.clicking import SteadyClick
from caller.rig.settings import LATEST_MS, SOONEST_MS
from caller.screen.lateness import Lateness, Offset, ms_words
from caller.screen.letters import capitals
from caller.screen.offset import AHEAD_SECONDS, OffsetPage, mark_size
from caller.screen.offset_plain import KEEP, LEAVE, MARK, MARKS, TOLD, set_in_lines
from caller.sound.score import RATE
from tests.fakes.speaker import HandSpeaker
from tests.screen.seen import lines_in, lines_of, words_in

SIZES = [(80, 24), (100, 30), (160, 45)]
NAME = "a speaker driven by hand"
STEP = 480
LATENCY = 4_800


class Set:
    """A page, and the speaker that it is set for. kept_ms: for that speaker, from before."""

    def __init__(self, kept_ms: float = 0.0, fault: str = "") -> None:
        self.speaker = HandSpeaker(latency=LATENCY, fault=fault)
        self.clicking = SteadyClick(self.speaker, self.speaker.now)
        self.kept = {NAME: kept_ms}
        self.page = OffsetPage(self.clicking, ["pulse", NAME], self.kept.__getitem__, (SOONEST_MS, LATEST_MS))

    def filled(self, seconds: float) -> list[float]:
        """The moments at which the mark fills within so many seconds."""
        began = []
        was = self.page._mark.lit
        for _ in range(round(seconds * RATE / STEP)):
            self.speaker.advance(STEP)
            self.page.look()
            if self.page._mark.lit and not was:
                began.append(self.speaker.now())
            was = self.page._mark.lit
        return began

    def heard(self) -> list[float]:
        """The moments at which a click comes out of a loudspeaker that is as late as it tells."""
        loud = np.flatnonzero(self.speaker.sound[:, 0])
        return [(int(f) + LATENCY) / RATE for f in loud[np.diff(loud, prepend=-RATE) > RATE // 4]]


@pytest.mark.parametrize("kept_ms", [0.0, SOONEST_MS, 155.0, LATEST_MS])
async def test_the_mark_is_seen_to_fill_when_a_click_is_heard(kept_ms: float) -> None:
    room = Set(kept_ms)
    async with room.page.run_test():
        filled = room.filled(4.5)
    seen = [moment + AHEAD_SECONDS for moment in filled]
    assert len(seen) >= 3
    due = [moment + kept_ms / 1000 for moment in room.heard()]
    for moment in seen[1:]:  # from where the first frame has been heard
        assert min(abs(moment - one) for one in due) <= 1.1 * STEP / RATE


async def test_keys_move_it_and_enter_keeps_it_for_that_device() -> None:
    room = Set(100.0)
    async with room.page.run_test() as pilot:
        room.filled(1)
        await pilot.pause()
        assert words_in(room.page, "#ms")[0] == capitals("+100 ms")
        await pilot.press("right", "right", "up", "shift+right", "left", "down")
        await pilot.pause()
        assert words_in(room.page, "#ms")[0] == capitals("+130 ms")
        assert f"pulse, {NAME} (in use)" in "\n".join(lines_in(room.page, "#sound"))
        await pilot.press("enter")
    assert room.page.return_value == Offset(NAME, 130.0)


async def test_a_key_moves_the_mark_as_far_as_it_says() -> None:
    room = Set()
    async with room.page.run_test() as pilot:
        before = room.filled(3)
        await pilot.press("up", "up")
        after = room.filled(3)
    assert (after[-1] - before[-1]) % 1 == pytest.approx(0.05, abs=1.1 * STEP / RATE)


@pytest.mark.parametrize(("key", "reach"), [("up", LATEST_MS), ("down", SOONEST_MS)])
async def test_it_goes_no_further_than_loudspeakers_are_late(key: str, reach: float) -> None:
    room = Set()
    async with room.page.run_test() as pilot:
        room.filled(1)
        await pilot.press(*[key] * 30, "enter")
    assert room.page.return_value == Offset(NAME, reach)


@pytest.mark.parametrize("key", ["escape", "q", "ctrl+q", "ctrl+c"])
async def test_leaving_keeps_nothing(key: str) -> None:
    room = Set()
    async with room.page.run_test() as pilot:
        room.filled(1)
        await pilot.press("up", key)
    assert room.page.return_value is None


async def test_without_sound_why_is_told_nothing_fills_and_nothing_is_kept() -> None:
    room = Set(fault="The sound device pulse is lost.")
    async with room.page.run_test() as pilot:
        assert room.filled(3) == []
        await pilot.press("up", "enter")
        await pilot.pause()
        assert room.page.is_running
        assert "The sound device pulse is lost." in "\n".join(lines_of(room.page))
        await pilot.press("escape")


async def test_another_device_has_an_offset_of_its_own() -> None:
    room = Set(40.0)
    late = Lateness(room.clicking, room.kept.__getitem__, SOONEST_MS, LATEST_MS)
    late.look()
    assert late.offset == Offset(NAME, 40.0)
    late.set(200.0)
    room.speaker.fault = "Lost."
    late.look()
    assert late.offset is None
    room.speaker.fault = ""
    late.look()
    assert late.offset == Offset(NAME, 200.0), "the same device, back: what was set in between holds"


@pytest.mark.parametrize("size", [*SIZES, (40, 12), (300, 90)])
async def test_what_flashes_is_small_and_comes_no_more_than_twice_a_second(size: tuple[int, int]) -> None:
    """WCAG 2.3.1: no more than three flashes a second, or small: a quarter of any ten degrees of sight, 21,824 of 1024
    by 768 pixels (Understanding SC 2.3.1)."""
    room = Set()
    async with room.page.run_test(size=size) as pilot:
        filled = room.filled(6)
        assert all(later - sooner >= 0.5 for sooner, later in pairwise(filled))
        shown = {}
        while len(shown) < 2:
            room.filled(0.1)
            await pilot.pause()
            shown[room.page._mark.lit] = "".join(lines_of(room.page))
    changed = sum(lit != unlit for lit, unlit in zip(shown[True], shown[False], strict=True))
    rows, cells = mark_size(*size)
    assert 0 < changed <= rows * cells
    assert changed / (size[0] * size[1]) <= 21_824 / (1024 * 768)


@pytest.mark.parametrize("size", SIZES)
async def test_the_mark_is_in_sight_as_large_as_is_small(size: tuple[int, int]) -> None:
    room = Set()
    async with room.page.run_test(size=size) as pilot:
        while not room.page._mark.lit:
            room.filled(0.1)
        await pilot.pause()
        lines = lines_in(room.page, "#mark")
    rows, cells = mark_size(*size)
    assert sum("█" * cells in line for line in lines) == rows
    assert rows >= 4


# -- in lines


def in_lines(*script: str, fault: str = "") -> tuple[Offset | None, list[str]]:
    """What is kept and what was said, each line typed half a second after the one before; then it is left."""
    room, out = Set(30.0, fault), StringIO()
    typing, waited = [*script, LEAVE], [0]

    def pause(seconds: float) -> None:
        room.speaker.advance(round(seconds * RATE))
        waited[0] += 1

    def typed() -> list[str]:
        return [typing.pop(0)] if waited[0] % 50 == 49 else []

    late = Lateness(room.clicking, room.kept.__getitem__, SOONEST_MS, LATEST_MS)
    kept = set_in_lines(late, ["pulse", NAME], out, typed, pause)
    return kept, out.getvalue().splitlines()


def test_numbers_typed_are_set_and_kept() -> None:
    kept, said = in_lines("120", "85.5", KEEP)
    assert kept == Offset(NAME, 85.5)
    assert said == [f"Sound devices: pulse, {NAME}.", TOLD, f"Heard on {NAME}: +30 ms.", "+120 ms.", "+86 ms."]


@pytest.mark.parametrize("word", ["501", "-51", "nan", "inf", "-inf", "1e9"])
def test_a_number_out_of_reach_is_refused(word: str) -> None:
    kept, said = in_lines(word, KEEP)
    assert said[-1] == "A number from -50 to 500."
    assert kept == Offset(NAME, 30.0)


def test_any_other_line_is_answered_with_what_can_be_typed() -> None:
    kept, said = in_lines("louder")
    assert kept is None
    assert said[-1] == TOLD


def test_marks_are_written_once_a_click_when_asked_for() -> None:
    _, said = in_lines(*["0"] * 4, MARKS, *["0"] * 5, MARKS, *["0"] * 4)
    on, off = said.index("Marks on."), said.index("Marks off.")
    assert said.count(MARK) == said[on:off].count(MARK) == 3


def test_without_sound_nothing_is_kept_in_lines_either() -> None:
    kept, said = in_lines(KEEP, fault="The sound is starting.")
    assert kept is None
    assert said[2:] == ["The sound is starting.", "Nothing plays yet that it could be kept for."]


@pytest.mark.parametrize(("ms", "words"), [(0, "0 ms"), (-0.2, "0 ms"), (5, "+5 ms"), (-50, "-50 ms")])
def test_an_offset_in_words(ms: float, words: str) -> None:
    assert ms_words(ms) == words
