"""The timeline: exact however long it runs, one tempo's end the next one's beginning."""

from __future__ import annotations

from fractions import Fraction

import pytest
from hypothesis import given
from hypothesis import strategies as st

from caller.clock.timeline import SECONDS_A_MINUTE, Timeline, round_half_up

RATE = 48_000
RATES = st.sampled_from([8_000, 22_050, 44_100, 48_000, 96_000])
TEMPOS = st.fractions(40, 260, max_denominator=100)
COUNTS = st.fractions(-64, 4_096, max_denominator=12)
FRAMES = st.integers(-10_000_000, 100_000_000)


@st.composite
def timelines(draw: st.DrawFn) -> Timeline:
    """Up to five tempos, changed at frames in any order, the axis anywhere."""
    made = Timeline.at_tempo(draw(TEMPOS), draw(RATES), draw(COUNTS), draw(FRAMES))
    for frame, tempo in draw(st.lists(st.tuples(FRAMES, TEMPOS), max_size=4)):
        made = made.with_tempo(frame, tempo)
    return made


# ISU Communication 2393, timing chart: a pattern's beats, its beats a minute, the seconds within which it is skated.
PATTERNS = [
    (96, 198, "28.8", "29.4"),
    (64, 116, "32.5", "33.7"),
    (40, 104, "22.6", "23.5"),
    (64, 96, "39.2", "40.9"),
    (64, 120, "31.5", "32.5"),
    (20, 112, "10.5", "10.9"),
]


@pytest.mark.parametrize(("beats", "tempo", "least", "most"), PATTERNS)
def test_a_pattern_takes_as_long_as_the_timing_chart_says(beats: int, tempo: int, least: str, most: str) -> None:
    seconds = Timeline.at_tempo(Fraction(tempo), RATE).seconds_of(Fraction(beats))
    assert Fraction(least) <= seconds <= Fraction(most)


# NDCA release, 2012 rule changes, which prints bars and beats a minute side by side.
@pytest.mark.parametrize(
    ("bars", "beats_a_bar", "tempo"), [(53, 3, 159), (54, 3, 162), (30, 4, 120), (32, 4, 128)], ids=str
)
def test_bars_a_minute_and_beats_a_minute_name_the_same_tempo(bars: int, beats_a_bar: int, tempo: int) -> None:
    timeline = Timeline.at_tempo(Fraction(tempo), RATE)
    assert timeline.frame_of(Fraction(bars * beats_a_bar)) == 60 * RATE


# MIDI 1.0: 24 clocks a quarter note, 20.833 ms each at 120.
def test_a_twenty_fourth_of_a_count_at_120_is_a_midi_clock() -> None:
    timeline = Timeline.at_tempo(Fraction(120), RATE)
    assert timeline.frame_of(Fraction(1, 24)) == 1_000
    assert round(float(timeline.seconds_of(Fraction(1, 24))) * 1_000, 3) == 20.833


@pytest.mark.parametrize("tempo", [Fraction(97), Fraction(1261, 10), Fraction(251, 3)], ids=str)
def test_there_is_no_drift_over_100_000_counts(tempo: Fraction) -> None:
    timeline = Timeline.at_tempo(tempo, RATE)
    # The same in whole numbers alone: floor(x + 1/2) = (2 * numerator + denominator) // (2 * denominator).
    above, below = SECONDS_A_MINUTE * RATE * tempo.denominator, tempo.numerator
    for count in range(0, 100_001, 7):
        assert timeline.frame_of(Fraction(count)) == (2 * count * above + below) // (2 * below)


def test_adding_up_rounded_steps_would_drift() -> None:
    timeline = Timeline.at_tempo(Fraction(97), RATE)
    step = timeline.frame_of(Fraction(1))
    assert abs(timeline.frame_of(Fraction(100_000)) - 100_000 * step) > 5_000


@given(timelines(), COUNTS)
def test_a_frame_is_rounded_once_and_never_further_than_half(timeline: Timeline, count: Fraction) -> None:
    exact = timeline.seconds_of(count) * timeline.rate
    assert timeline.frame_of(count) == round_half_up(exact)
    assert abs(timeline.frame_of(count) - exact) <= Fraction(1, 2)


@given(timelines(), FRAMES)
def test_the_count_at_a_frame_falls_on_that_frame(timeline: Timeline, frame: int) -> None:
    assert timeline.frame_of(timeline.count_at(frame)) == frame


@given(timelines(), COUNTS)
def test_the_count_at_a_counts_frame_is_that_count_to_half_a_frame(timeline: Timeline, count: Fraction) -> None:
    quickest = max(segment.tempo for segment in timeline.segments)
    half_a_frame = quickest / (2 * SECONDS_A_MINUTE * timeline.rate)
    assert abs(timeline.count_at(timeline.frame_of(count)) - count) <= half_a_frame


@given(timelines(), COUNTS, COUNTS)
def test_later_counts_never_fall_on_earlier_frames(timeline: Timeline, one: Fraction, other: Fraction) -> None:
    first, last = sorted((one, other))
    assert timeline.frame_of(first) <= timeline.frame_of(last)
    assert (timeline.seconds_of(first) < timeline.seconds_of(last)) == (first < last)


@given(timelines(), FRAMES, TEMPOS, FRAMES)
def test_a_tempo_change_leaves_alone_what_came_before(
    timeline: Timeline, at: int, tempo: Fraction, before: int
) -> None:
    changed = timeline.with_tempo(at, tempo)
    earlier = min(before, at - 1)
    count = timeline.count_at(earlier)
    assert changed.count_at(earlier) == count
    assert changed.frame_of(count) == earlier
    assert changed.seconds_of(count) == timeline.seconds_of(count)
    assert changed.tempo_at(earlier) == timeline.tempo_at(earlier)


@given(timelines(), FRAMES, TEMPOS, st.integers(0, 10_000_000))
def test_both_tempos_agree_at_the_moment_of_change(timeline: Timeline, at: int, tempo: Fraction, later: int) -> None:
    changed = timeline.with_tempo(at, tempo)
    assert changed.count_at(at) == timeline.count_at(at)
    assert changed.frame_of(timeline.count_at(at)) == at
    assert changed.tempo_at(at) == tempo
    # From there on by the new tempo alone: minutes gone by, times counts a minute.
    minutes = Fraction(later, timeline.rate * SECONDS_A_MINUTE)
    assert changed.count_at(at + later) - changed.count_at(at) == minutes * tempo


@given(timelines(), st.integers(0, 1_000_000), FRAMES)
def test_the_tempo_that_holds_anyway_changes_nothing(timeline: Timeline, after: int, frame: int) -> None:
    at = int(timeline.segments[-1].frame) + after
    same = timeline.with_tempo(at, timeline.tempo_at(at))
    assert same.count_at(frame) == timeline.count_at(frame)


@given(TEMPOS, TEMPOS, FRAMES)
def test_of_two_changes_at_one_frame_the_last_holds(one: Fraction, other: Fraction, at: int) -> None:
    start = Timeline.at_tempo(Fraction(120), RATE)
    assert start.with_tempo(at, one).with_tempo(at, other) == start.with_tempo(at, other)


def test_a_change_in_the_count_in_slows_only_what_follows_it() -> None:
    # Count 0 on frame 192,000 at 120: the count-in began at frame 0 with count -8.
    timeline = Timeline.at_tempo(Fraction(120), RATE, frame=192_000).with_tempo(96_000, Fraction(60))
    assert [timeline.frame_of(Fraction(count)) for count in (-8, -6, -4, -2, 0)] == [
        0,
        48_000,
        96_000,
        192_000,
        288_000,
    ]


@pytest.mark.parametrize(
    ("exact", "rounded"),
    [("1/2", 1), ("-1/2", 0), ("3/2", 2), ("-3/2", -1), ("5/2", 3), ("49/100", 0), ("51/100", 1), ("-7", -7)],
)
def test_halves_go_up(exact: str, rounded: int) -> None:
    assert round_half_up(Fraction(exact)) == rounded


@pytest.mark.parametrize(("tempo", "rate"), [(0, RATE), (-1, RATE), (120, 0)])
def test_a_tempo_or_rate_that_is_none_is_refused_by_value(tempo: int, rate: int) -> None:
    with pytest.raises(ValueError, match=f"not {tempo} and {rate}"):
        Timeline.at_tempo(Fraction(tempo), rate)


@pytest.mark.parametrize("tempo", [0, -60])
def test_a_change_to_no_tempo_is_refused_by_value(tempo: int) -> None:
    with pytest.raises(ValueError, match=f"not {tempo}$"):
        Timeline.at_tempo(Fraction(120), RATE).with_tempo(0, Fraction(tempo))
