"""The grid of a recording: counts to times and back, corrected, and how sure it is."""

from __future__ import annotations

from fractions import Fraction

import pytest
from hypothesis import given
from hypothesis import strategies as st

from caller.clock.grid import BREAK, SLOWING, Grid

SPANS = st.lists(st.integers(300, 900), min_size=4, max_size=60)


def wavering(spans: list[int], first: int = 0) -> Grid:
    beats, at = [], Fraction(1, 2)
    for span in spans:
        beats.append(at)
        at += Fraction(span, 1000)
    return Grid.of_beats(beats, first, [100] * len(beats))


@given(SPANS, st.fractions(-20, 80, max_denominator=16))
def test_counts_and_times_are_inverses(spans: list[int], count: Fraction) -> None:
    grid = wavering(spans, 1)
    assert grid.count_at(grid.seconds_of(count)) == count
    assert grid.seconds_of(Fraction(0)) == grid.first_seconds == grid.beats[1]


@given(SPANS)
def test_doubled_then_halved_it_is_what_it_was(spans: list[int]) -> None:
    grid = wavering(spans)
    again = grid.doubled().halved()
    assert again.beats == grid.beats
    assert again.first_seconds == grid.first_seconds


@given(SPANS, st.integers(0, 3))
def test_half_a_beat_on_every_count_is_between_two(spans: list[int], first: int) -> None:
    grid = wavering(spans, first)
    moved = grid.half_on()
    assert all(one < other < two for one, other, two in zip(grid.beats, moved.beats, grid.beats[1:], strict=False))


def test_half_a_beat_on_is_what_a_person_told_and_so_is_sure() -> None:
    grid = Grid.of_beats([Fraction(n, 2) for n in range(20)], 0, [10] * 20)
    assert grid.unsure(4)
    assert not grid.half_on().unsure(4)


def test_after_the_last_beat_counts_go_on_at_the_tempo_of_the_whole() -> None:
    grid = Grid.of_beats([Fraction(0), Fraction(1, 2), Fraction(1), Fraction(8, 5)], 0)
    assert grid.seconds_of(Fraction(5, 2)) == Fraction(13, 10)  # within the last, slower one
    assert grid.seconds_of(Fraction(7, 2)) == Fraction(8, 5) + Fraction(8, 30)


def test_an_even_grid_is_told_by_tempo_and_count_1_alone() -> None:
    grid = Grid(Fraction(120), Fraction(1, 4))
    assert grid.even
    assert grid.seconds_of(Fraction(3)) == Fraction(7, 4)
    assert grid.count_at(Fraction(7, 4)) == 3
    assert grid.moved(-4).first_seconds == Fraction(1, 4)  # there is none before the recording begins
    assert grid.doubled().tempo == 240
    assert wavering([500] * 20).even
    assert wavering([500] * 20, first=2).even  # whichever beat is count 1
    assert not wavering([500] * 10 + [520] * 10).even
    assert Grid.of_beats([Fraction(0), Fraction(502, 1000), Fraction(1)], 0).even  # 2 ms off: nobody hears it
    assert not Grid.of_beats([Fraction(0), Fraction(503, 1000), Fraction(1)], 0).even
    assert wavering([500] * 20 + [520] * 20).wavers == Fraction(1, 25)


@pytest.mark.parametrize(("sheet", "expected"), [(86, 86), (172, 172), (43, 43), (100, 86), (None, 86)])
def test_half_and_double_are_taken_as_the_sheet_dances_them(sheet: int | None, expected: int) -> None:
    grid = wavering([round(60_000 / 86)] * 40)
    told = None if sheet is None else Fraction(sheet)
    assert float(grid.for_tempo(told).tempo) == pytest.approx(expected, rel=0.01)
    # What a person has set stays.
    assert grid.moved(1).for_tempo(told).tempo == grid.tempo


@pytest.mark.parametrize(("found", "expected"), [(Fraction(259, 2), 259), (Fraction(130), 130)])
def test_a_tempo_of_130_is_doubled_for_no_sheet(found: Fraction, expected: int) -> None:
    assert Grid(found, Fraction(0)).for_tempo(Fraction(240)).tempo == expected


def test_over_a_tapped_stretch_the_counts_are_where_they_were_tapped() -> None:
    grid = wavering([500] * 40)
    taps = [Fraction(41, 8) + Fraction(n, 2) for n in range(6)]
    tapped = grid.tapped(taps)
    assert set(taps) <= set(tapped.beats)
    assert min(later - sooner for sooner, later in zip(tapped.beats, tapped.beats[1:], strict=False)) > Fraction(1, 4)
    assert tapped.beats[:8] == grid.beats[:8]
    assert tapped.beats[-10:] == grid.beats[-10:]


def test_what_is_tapped_is_sure_and_an_even_recording_goes_on_after_it() -> None:
    grid = wavering([500] * 10 + [520] * 10).tapped([Fraction(3), Fraction(7, 2), Fraction(4)])
    assert grid.sure == (100,) * len(grid.beats)
    even = Grid(Fraction(120), Fraction(0)).tapped([Fraction(2), Fraction(51, 20), Fraction(31, 10)])
    assert even.beats == (*(Fraction(n, 2) for n in range(4)), 2, Fraction(51, 20), Fraction(31, 10), Fraction(7, 2))


def test_over_a_break_counts_go_on_evenly() -> None:
    beats = [*(Fraction(n, 2) for n in range(16)), Fraction(79, 10), *(Fraction(n, 2) + 10 for n in range(16))]
    grid = Grid.of_beats(beats, 0, [100] * 15 + [5, 5] + [100] * 16)
    assert grid.unsure(1)
    marked = grid.marked(BREAK, Fraction(76, 10), Fraction(99, 10))
    spans = {later - sooner for sooner, later in zip(marked.beats, marked.beats[1:], strict=False)}
    assert spans == {Fraction(1, 2)}
    assert not any(first < 9 < last for first, last in marked.unsure(1))
    slowed = grid.marked(SLOWING, Fraction(76, 10), Fraction(99, 10))
    assert slowed.beats == grid.beats


def test_places_that_are_not_sure_are_told_as_whole_bars() -> None:
    beats = [Fraction(n, 2) for n in range(33)]
    grid = Grid.of_beats(beats, 0, [100] * 8 + [20] * 8 + [90] * 17)
    assert grid.unsure(4) == ((Fraction(4), Fraction(8)),)
    assert [sure for _, _, sure in grid.bars(4)] == [100, 100, 20, 20, 90, 90, 90, 90]
    # The last bar goes to where the next one would begin.
    assert Grid.of_beats(beats[:16], 0, [100] * 16).bars(4)[-1][:2] == (6, 8)
