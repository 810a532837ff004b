"""Music under a take: its counts fall on the dance's, wherever that is come in upon and however fast it is danced."""

from __future__ import annotations

from dataclasses import replace
from fractions import Fraction
from itertools import pairwise

import numpy as np
import numpy.typing as npt
import pyloudnorm
import pytest

from caller.calls.music import EDGE_FRAMES, ENDING_FRAMES, Song, SongPassage, accompanied, lead_counts, place_seconds
from caller.calls.plan import Manner
from caller.calls.score import make_take, retimed
from caller.calls.take import Take
from caller.sound.levels import LEAST_OVER_LU
from caller.sound.loudness import MUSIC_LUFS, SPEECH_LUFS, gain_to, loudest, loudness
from caller.sound.mix import render
from caller.sound.score import RATE, Clip, Placement, Score
from tests.fakes.dances import dance_of
from tests.fakes.lexicon import MeasuredVoice
from tests.fakes.songs import click, clicks_at, song_of, tune

DANCE = dance_of(6)
INTRO = 16
STRAIGHT = (SongPassage(Fraction(0), Fraction(DANCE.counts), Fraction(0)),)


def take_of(
    tempo: Fraction | int = 104,
    start: int = 0,
    end: int = DANCE.counts,
    count_in: int = 4,
    lead: Fraction = Fraction(0),
    manner: Manner = Manner.QUIET,
) -> Take:
    voice = MeasuredVoice()
    return make_take(
        DANCE,
        start=Fraction(start),
        end=Fraction(end),
        tempo=Fraction(tempo),
        manner=manner,
        lexicon=voice,
        clips=voice.clip,
        count_in=count_in,
        lead=lead,
    )


def music_of(take: Take) -> list[Placement]:
    return [placed for placed in take.score.placements if placed.kind == "music"]


def music_alone(take: Take) -> npt.NDArray[np.float32]:
    score = Score(tuple(music_of(take)), take.score.frames)
    return render(score, 0, take.score.frames)[:, 0]


def onsets(sound: npt.NDArray[np.float32]) -> list[int]:
    """Where the songs' clicks set in, by how well their shape fits there."""
    fit = np.correlate(sound, click(), "valid")
    return [n for n in np.flatnonzero(fit > 0.7 * fit.max()).tolist() if fit[n] == fit[max(n - 400, 0) : n + 400].max()]


def counts_on(take: Take, frames: list[int]) -> list[float]:
    return [float(take.timeline.count_at(frame)) for frame in frames]


@pytest.mark.parametrize("speed", [Fraction(1, 2), Fraction(3, 4), Fraction(1), Fraction(5, 4)])
def test_the_musics_counts_fall_on_the_dances_from_the_recordings_beginning_on(speed: Fraction) -> None:
    tempo = 104 * speed
    song = song_of(104, [tempo])
    lead = lead_counts(song, INTRO, 4)
    take = accompanied(take_of(tempo, lead=lead), song, STRAIGHT, INTRO, LEAST_OVER_LU)
    [placed] = music_of(take)
    assert placed.part is not None
    assert (placed.frame, placed.part.first, placed.part.fade_in) == (0, 0, 0)
    found = onsets(music_alone(take))
    # From arithmetic alone: count 1 of the music is 16 counts before the dance's first step.
    expected = [take.timeline.frame_of(Fraction(n - INTRO)) for n in range(len(found))]
    assert len(found) >= INTRO + 30
    assert max(abs(one - other) for one, other in zip(found, expected, strict=True)) <= 1
    assert next(p.frame for p in take.score.placements if p.kind == "count") == take.timeline.frame_of(Fraction(-4))


def test_come_in_upon_in_its_midst_the_music_is_where_the_dance_is() -> None:
    song = song_of(104, [104])
    take = accompanied(take_of(start=20, end=40), song, STRAIGHT, INTRO, LEAST_OVER_LU)
    [placed] = music_of(take)
    assert placed.part is not None
    seconds_in = Fraction(placed.part.first, RATE)
    # From the first click, four counts before count 21, and the moment before it that a spoken number takes.
    first = INTRO + 16 - take.lead
    assert abs(seconds_in - (song.first_seconds + Fraction(60 * first, 104))) < Fraction(1, RATE)
    assert placed.part.fade_in == EDGE_FRAMES
    assert placed.end == take.end_frame + ENDING_FRAMES


def test_an_intro_shorter_than_the_count_in_lets_the_count_in_begin_alone() -> None:
    song = song_of(104, [104], first_seconds=Fraction(0))
    assert lead_counts(song, 2, 8) == 0
    take = accompanied(take_of(count_in=8), song, STRAIGHT, 2, LEAST_OVER_LU)
    assert music_of(take)[0].frame == take.timeline.frame_of(Fraction(-2))


def test_a_new_tempo_goes_on_at_the_same_place_of_the_music() -> None:
    song, voice = song_of(104, [104, 78]), MeasuredVoice()
    before = accompanied(take_of(), song, STRAIGHT, INTRO, LEAST_OVER_LU)
    at = before.timeline.frame_of(Fraction(20)) + 7_777
    after = retimed(before, at, Fraction(78), voice, voice.clip)
    after = accompanied(after, song, STRAIGHT, INTRO, LEAST_OVER_LU, at)
    old, new = music_of(after)
    assert (old.clip, new.clip) == (song.versions[Fraction(104)], song.versions[Fraction(78)])
    assert (old.end, new.frame) == (at + EDGE_FRAMES, at)
    later = [count for count in counts_on(after, onsets(music_alone(after))) if count > 20.5]
    np.testing.assert_allclose(later, np.round(later), atol=0.001)


def test_until_there_is_a_version_for_the_tempo_the_count_track_goes_on_alone() -> None:
    song, voice = song_of(104, [104]), MeasuredVoice()
    before = accompanied(take_of(), song, STRAIGHT, INTRO, LEAST_OVER_LU)
    at = before.timeline.frame_of(Fraction(20))
    slower = accompanied(retimed(before, at, Fraction(90), voice, voice.clip), song, STRAIGHT, INTRO, 10, at)
    assert [placed.end for placed in music_of(slower)] == [at + EDGE_FRAMES]
    late = at + 100_000
    ready = replace(song, versions=song_of(104, [90]).versions)
    joined = accompanied(slower, ready, STRAIGHT, INTRO, 10, late)
    assert [placed.frame for placed in music_of(joined)][1] == late
    assert [p for p in joined.score.placements if p.kind == "count"] == [
        p for p in slower.score.placements if p.kind == "count"
    ]
    later = counts_on(joined, [n for n in onsets(music_alone(joined)) if n > late])
    assert len(later) > 30
    np.testing.assert_allclose(later, np.round(later), atol=0.001)


def test_where_a_section_comes_again_so_does_its_music() -> None:
    eight = Fraction(8)
    passages = (
        SongPassage(Fraction(0), eight, Fraction(0)),
        *(SongPassage(n * eight, (n + 1) * eight, eight) for n in (1, 2)),
    )
    take = accompanied(take_of(end=24), song_of(104, [104]), passages, INTRO, LEAST_OVER_LU)
    first, second, third = music_of(take)
    assert first.part is not None
    assert second.part is not None
    assert third.part is not None
    assert abs(second.part.first - third.part.first) <= 1
    for one, other in pairwise((first, second, third)):
        assert one.end - other.frame == EDGE_FRAMES
    found = counts_on(take, onsets(music_alone(take)))
    np.testing.assert_allclose(found, np.round(found), atol=0.001)


def test_at_a_seam_the_beat_is_struck_once_and_whole_though_the_players_are_not_even() -> None:
    draw = np.random.default_rng(5)
    jitter = draw.uniform(-0.008, 0.008, 90)
    frames = [round((0.5 + n * 60 / 104 + late) * RATE) for n, late in enumerate(jitter)]
    song = replace(song_of(104, [104]), versions={Fraction(104): Clip("played", clicks_at(frames, 55 * RATE))})
    bar = Fraction(4)
    starts = [Fraction(4 * int(n)) for n in draw.integers(0, 10, 11)]
    passages = tuple(SongPassage(n * bar, (n + 1) * bar, start) for n, start in enumerate(starts))
    take = accompanied(take_of(end=44), song, passages, INTRO, LEAST_OVER_LU)
    heard = music_alone(take)
    for n, start in enumerate(starts):
        for count in range(4):
            at = take.timeline.frame_of(n * bar + count)
            near = heard[at - RATE // 5 : at + RATE // 5]
            fit = np.correlate(near, click(), "valid")
            top = int(fit.argmax())
            # As it was played at the place that is danced there, as loud as it was, and no other beside it.
            played = round(jitter[int(start) + INTRO + count] * RATE)
            assert abs(top - RATE // 5 - played) <= 1
            assert fit[top] == pytest.approx(float(np.dot(click(), click())), rel=0.02)
            beside = np.concatenate([near[: max(top - 10, 0)], near[top + round(0.05 * RATE) :]])
            assert np.abs(beside).max() < 0.05


def test_a_song_that_is_over_before_the_dance_ends_as_it_was_recorded() -> None:
    take = accompanied(take_of(), song_of(104, [104], seconds=20), STRAIGHT, INTRO, LEAST_OVER_LU)
    [placed] = music_of(take)
    assert placed.part is not None
    assert placed.part.fade_out == 0
    assert placed.end < take.end_frame == take.score.frames


def test_music_that_was_over_before_a_new_tempo_stays_as_it_was() -> None:
    song = song_of(104, [104], seconds=20)
    before = accompanied(take_of(), song, STRAIGHT, INTRO, LEAST_OVER_LU)
    [placed] = music_of(before)
    assert music_of(accompanied(before, song, STRAIGHT, INTRO, LEAST_OVER_LU, placed.end + 1_000)) == [placed]


@pytest.mark.parametrize(("count", "danced"), [(-2, -2), (0, 0), (7, 7), (8, 16), (11, 19), (16, 16), (20, 20)])
def test_the_place_of_the_recording_is_that_of_the_passage_under_way(count: int, danced: int) -> None:
    song, eight = song_of(104, [104]), Fraction(8)
    passages = (
        SongPassage(Fraction(0), eight, Fraction(0)),
        *(SongPassage(n * eight, (n + 1) * eight, 2 * eight) for n in (1, 2)),
    )
    take = take_of(end=24)
    heard = place_seconds(take, song, passages, INTRO, take.timeline.frame_of(Fraction(count)) + 1)
    # From arithmetic alone: its count 1 is half a second in, and 16 counts before what the sheet dances first.
    assert float(heard) == pytest.approx(0.5 + (INTRO + danced) * 60 / 104, abs=2 / RATE)


def sung(tempo: int) -> Song:
    """A tune as loud as music is to be."""
    sound = tune(tempo, 90)
    gain = gain_to(sound, MUSIC_LUFS)
    return Song(
        Fraction(tempo), Fraction(1, 2), gain, loudest(sound * np.float32(gain)), {Fraction(tempo): Clip("t", sound)}
    )


@pytest.mark.parametrize("over_lu", [10.0, 14.0, 20.0])
def test_calls_stand_over_the_music_by_as_much_as_is_asked(over_lu: float) -> None:
    # At least 10 LU: Torcoli et al., JAES 67(12), 2019. 20 for the hard of hearing: WCAG 2.1, 1.4.7. Measured by
    # pyloudnorm (BS.1770), over the stretches in which something is said.
    meter = pyloudnorm.Meter(RATE, filter_class="DeMan")
    take = accompanied(take_of(manner=Manner.AHEAD), sung(104), STRAIGHT, INTRO, over_lu)
    spoken = np.zeros(take.score.frames, bool)
    for call in take.plan.calls:
        spoken[call.starts : call.ends] = True
    assert spoken.mean() > 0.2
    mute = {call: np.zeros(call.clip.frames, np.float32) for call in take.score.placements if call.kind == "call"}
    under = Score(
        tuple(replace(p, clip=Clip("mute", mute[p])) if p in mute else p for p in take.score.placements),
        take.score.frames,
        duck_db=take.score.duck_db,
    )
    heard = render(under, 0, under.frames)[spoken].astype(np.float64)
    assert meter.integrated_loudness(heard) <= SPEECH_LUFS - over_lu + 0.2


def test_music_that_nobody_speaks_over_is_as_loud_as_programmes_are() -> None:
    song = sung(104)
    take = accompanied(take_of(), song, STRAIGHT, INTRO, LEAST_OVER_LU)
    alone = Score(tuple(music_of(take)), take.end_frame)
    # EBU R 128: -23 LUFS, +-1 LU.
    meter = pyloudnorm.Meter(RATE, filter_class="DeMan")
    heard = render(alone, take.timeline.frame_of(Fraction(0)), take.end_frame).astype(np.float64)
    assert meter.integrated_loudness(heard) == pytest.approx(-23, abs=1)
    assert loudness(tune(104, 90) * np.float32(song.gain)) == pytest.approx(MUSIC_LUFS, abs=0.1)
