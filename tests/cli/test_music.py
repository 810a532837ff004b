"""``caller music``, and ``--music``: what a teacher types, and what she is told."""

from __future__ import annotations

import io
import json
from fractions import Fraction
from pathlib import Path

import numpy as np
import pytest
import soundfile

from caller.cli import main
from caller.clock.grid import Grid
from caller.rig.music.correcting import Correction
from caller.rig.music.grids import grids_file
from caller.rig.music.trying import Trial, tapped
from caller.screen.song_plain import hear, tap_in_lines
from caller.sound.score import RATE, Clip
from tests.fakes.kept_speech import with_speech
from tests.fakes.songs import click_song, tune
from tests.fakes.speaker import HandSpeaker


@pytest.fixture(autouse=True)
def own_folders(tmp_path: Path, speech: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    for name in ("XDG_CONFIG_HOME", "XDG_CACHE_HOME"):
        monkeypatch.setenv(name, str(tmp_path / name))
    with_speech(tmp_path / "XDG_CACHE_HOME", speech)


@pytest.fixture
def song(tmp_path: Path) -> Path:
    soundfile.write(tmp_path / "song.flac", tune(104, 40, 0.5), RATE)
    return tmp_path / "song.flac"


def test_a_recordings_beat_is_found_told_and_kept(song: Path, capsys: pytest.CaptureFixture[str]) -> None:
    assert main(["music", str(song), "--json"]) == 0
    told = json.loads(capsys.readouterr().out)
    assert (told["tempo"], told["seconds"]) == (104, 40)
    counts = (told["first_seconds"] - 0.5) * 104 / 60
    assert counts == pytest.approx(4 * round(counts / 4), abs=0.01)  # the first of a bar
    assert told["even"]
    assert len(told["beats"]) == len(told["sure"])
    assert main(["music", str(song), "--tempo", "52", "--first", "1.654", "--exactly"]) == 0
    assert "52 counts a minute, its count 1 at 1.654 s; kept" in capsys.readouterr().out
    renamed = song.rename(song.with_name("another.flac"))
    assert main(["music", str(renamed), "--json"]) == 0
    assert json.loads(capsys.readouterr().out)["tempo"] == 52
    assert grids_file().exists()


def test_the_beat_of_a_recording_that_is_not_known_is_found_for_the_routine(
    song: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    words = ["record", "Lantern Row", "--walls", "1", "--manner", "quiet", "--tempo", "104"]
    assert main([*words, "--music", str(song), "-o", str(song.with_suffix(".wav"))]) == 0
    capsys.readouterr()
    assert main(["music", str(song), "--json"]) == 0
    assert json.loads(capsys.readouterr().out)["tempo"] == 104


def test_what_is_no_recording_is_told(song: Path, capsys: pytest.CaptureFixture[str]) -> None:
    assert main(["record", "Lantern Row", "--music", "no such.mp3", "-o", str(song.with_suffix(".wav"))]) == 2
    assert "there is no such file" in capsys.readouterr().err


def test_what_has_no_beat_is_told(tmp_path: Path, capsys: pytest.CaptureFixture[str]) -> None:
    hiss = np.random.default_rng(1).normal(0, 0.1, 20 * RATE).astype(np.float32)
    soundfile.write(tmp_path / "hiss.wav", hiss, RATE)
    assert main(["music", str(tmp_path / "hiss.wav")]) == 1
    assert "no steady beat is found" in capsys.readouterr().err
    # What the sentence offers leads on.
    assert main(["music", str(tmp_path / "hiss.wav"), "--tempo", "97", "--first", "1.25"]) == 0
    told = capsys.readouterr()
    assert "its counts are exactly where they are told" in told.err
    assert "97 counts a minute, its count 1 at 1.250 s; kept" in told.out


def test_a_recording_with_a_channel_the_wrong_way_round_is_heard(
    tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    song = tune(104, 40, 0.5)
    soundfile.write(tmp_path / "turned.wav", np.stack([song, -song], 1), RATE)
    assert main(["music", str(tmp_path / "turned.wav"), "--json"]) == 0
    assert json.loads(capsys.readouterr().out)["tempo"] == 104


def test_a_run_is_recorded_with_its_music_from_the_beginning_on(song: Path, capsys: pytest.CaptureFixture[str]) -> None:
    main(["music", str(song), "--tempo", "104", "--first", "0.5", "--exactly"])
    capsys.readouterr()
    out = song.with_suffix(".wav")
    words = ["record", "Lantern Row", "--music", str(song), "--tempo", "104", "--walls", "1", "--manner", "quiet"]
    assert main([*words, "-o", str(out), "--json"]) == 0
    onsets = json.loads(capsys.readouterr().out)["onsets"]
    heard, _ = soundfile.read(out)
    # Lantern Row says an intro of 16 counts; what comes before the music's count 1 is heard too.
    assert onsets[0]["frame"] == pytest.approx((0.5 + 16 * 60 / 104) * RATE, abs=1)
    # The tune begins with its bar, and nothing else sounds until the count-in.
    plain, tune_first = heard[: 4 * RATE, 0], tune(104, 40, 0.5)[: 4 * RATE]
    assert np.corrcoef(plain, tune_first)[0, 1] > 0.999


class Typist:
    """Types a line when the sound has come so far."""

    def __init__(self, speaker: HandSpeaker, lines: dict[float, str]) -> None:
        self._speaker, self._lines = speaker, dict(lines)

    def typed(self) -> list[str]:
        due = [at for at in self._lines if at <= self._speaker.now()]
        return [self._lines.pop(at) for at in due]

    def pause(self, seconds: float) -> None:
        self._speaker.advance(round(seconds * RATE))


def trial() -> tuple[HandSpeaker, Trial]:
    speaker = HandSpeaker()
    return speaker, Trial(speaker, Clip("song", tune(104, 20, 0.5)), 0.5, speaker.now)


def test_taps_tell_roughly_where_the_counts_are(capsys: pytest.CaptureFixture[str]) -> None:
    import sys

    speaker, played = trial()
    taps = {1.0 + 0.6 * n + 0.02 * (n % 3): "" for n in range(12)}
    typist = Typist(speaker, {**taps, 9.0: "done"})
    times = tap_in_lines(played, sys.stdout, typist.typed, typist.pause)
    assert len(times) == 12
    rough = tapped(times)
    assert rough is not None
    assert rough[0] == pytest.approx(100, rel=0.05)
    assert rough[1] == pytest.approx(1.0, abs=0.06)
    assert tapped(times[:4]) is None
    assert "Press Enter on each count" in capsys.readouterr().out


def test_a_key_each_corrects_the_grid(capsys: pytest.CaptureFixture[str]) -> None:
    import sys

    speaker, played = trial()
    first, apart = Fraction(1, 2), Fraction(60, 104)
    correction = Correction(played, Grid(Fraction(104), first), intro=16)
    keys = {1.0: "+", 1.5: "+", 2.0: "-", 3.0: ">", 4.0: "what?", 5.0: "h", 5.5: "u", 6.0: "k"}
    typist = Typist(speaker, keys)
    assert hear(played, correction, sys.stdout, typist.typed, typist.pause)
    # Two of 5 ms later, one sooner, a count on; the letters of "what?" include h and t, which taps and is let be.
    told = capsys.readouterr().out
    assert "half a beat on" in told
    assert "5 ms later: count 1 at 0.510 s, 104 counts a minute." in told
    assert "Count 1 a beat later: count 1 at 1.082 s" in told
    assert "Undone (half a beat on): " in told
    moved = first + Fraction(5, 1000) + apart
    assert correction.grid.first_seconds in (moved, moved + apart / 2)


def test_the_first_step_is_put_only_where_the_recording_has_the_intro_before_it() -> None:
    speaker, played = trial()
    beats = [Fraction(n, 2) + Fraction(1, 2) for n in range(38)]
    correction, out = Correction(played, Grid.of_beats(beats, 2), intro=16), io.StringIO()
    typist = Typist(speaker, {5.0: "f", 10.0: "f", 11.0: "k"})
    assert hear(played, correction, out, typist.typed, typist.pause)
    assert "The first step can't be at 0:0" in out.getvalue()
    assert "16 counts before it, the recording 9" in out.getvalue()
    assert "The first step at 0:" in out.getvalue()
    assert correction.grid.first_seconds == pytest.approx(2.0, abs=0.3)


def test_what_was_corrected_is_still_to_be_kept_when_the_recording_is_over() -> None:
    speaker, played = trial()
    correction, out = Correction(played, Grid(Fraction(104), Fraction(1, 2))), io.StringIO()
    typist = Typist(speaker, {3.0: ">", 21.0: "[", 22.0: "k"})
    assert hear(played, correction, out, typist.typed, typist.pause)
    assert "The recording is over: k keeps what you have set" in out.getvalue()
    assert "At 0:11." in out.getvalue()
    assert correction.grid.first_seconds > 1
    speaker, played = trial()
    typist = Typist(speaker, {3.0: ">", 21.0: "q"})
    assert not hear(played, Correction(played, Grid(Fraction(104), Fraction(1, 2))), out, typist.typed, typist.pause)
    assert out.getvalue().endswith("Left as it was.\n")


def test_a_stretch_is_tapped_and_a_break_marked() -> None:
    speaker, played = trial()
    beats = [Fraction(n, 2) + Fraction(1, 2) for n in range(38)]
    correction = Correction(played, Grid.of_beats(beats, 0, [30] * 38))
    taps = {4.2 + 0.5 * n: "" for n in range(6)}
    out = io.StringIO()
    typist = Typist(speaker, {4.0: "t", **taps, 7.0: "t", 10.05: "b", 12.05: "b", 13.0: "k"})
    assert hear(played, correction, out, typist.typed, typist.pause)
    grid = correction.grid
    tapped = [float(at) for at in grid.beats if 4.1 < at < 6.9]
    assert len(tapped) == 6
    # What is heard comes some steps of 5 ms after what is played; taps are taken for 30 ms early.
    assert tapped[0] == pytest.approx(4.23, abs=0.05)
    assert np.diff(tapped) == pytest.approx(0.5, abs=0.01)
    assert grid.beats[-1] == beats[-1]
    assert [mark.kind for mark in grid.marks] == ["break"]
    assert not any(first < 11 < last for first, last in grid.unsure(4))


def test_without_keeping_the_grid_is_left() -> None:
    speaker, played = trial()
    correction = Correction(played, Grid(Fraction(104), Fraction(1, 2)))
    typist = Typist(speaker, {1.0: "]", 2.0: "q"})
    assert not hear(played, correction, io.StringIO(), typist.typed, typist.pause)
    place = played.at_seconds()
    assert place is not None
    assert place > 11  # ten seconds on


def test_the_clicks_that_are_laid_over_are_heard_on_the_counts_asked_for() -> None:
    speaker, played = trial()
    played.look()
    speaker.advance(RATE)
    played.lay(Grid(Fraction(104), Fraction(1, 2)))
    score = speaker.asked[-1].score
    assert score is not None
    clicks = [placed.frame for placed in score.placements if placed.kind == "count"]
    assert clicks[:3] == [round((0.5 + n * 60 / 104) * RATE) for n in range(3)]
    assert speaker.asked[-1].score_frame == speaker.asked[-1].at - speaker.asked[0].at


HALF_COUNT = 60 / 104 / 2


def between_counts(tmp_path: Path) -> Path:
    """A song at 104 whose clicks lie half-way between its counts, so that they are told apart from the count track's;
    its count 1, at half a second, kept."""
    path = tmp_path / "between.flac"
    soundfile.write(path, click_song(104, 60, 0.5 + HALF_COUNT), RATE)
    assert main(["music", str(path), "--tempo", "104", "--first", "0.5", "--exactly"]) == 0
    return path


def set_in(sound: np.ndarray, apart_seconds: float) -> np.ndarray:
    """Where anything sets in, seconds, to a millisecond: the middle of each rise of its energy, the loudest within a
    quarter of what they are apart."""
    loud = np.sqrt((sound[: len(sound) // 48 * 48].reshape(-1, 48) ** 2).mean(axis=1))
    rise = np.maximum(np.diff(loud, prepend=0.0), 0)
    reach = round(apart_seconds * 250)
    peaks = [n for n in np.flatnonzero(rise > 0.1 * rise.max()) if rise[n] == rise[max(n - reach, 0) : n + reach].max()]
    return np.array(peaks) / 1000


def test_a_drill_is_recorded_on_its_own_span_of_the_song_over_and_over_at_half_speed(
    tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    song, out = between_counts(tmp_path), tmp_path / "drill.wav"
    words = ["drill", "Lantern Row", "--section", "2", "--times", "3", "--tempo", "104", "--speed", "50%"]
    assert main([*words, "--manner", "quiet", "--music", str(song), "--record", str(out)]) == 0
    capsys.readouterr()
    heard, rate = soundfile.read(out)
    assert (rate, heard.shape[1]) == (RATE, 2)
    # Three goes of eight counts, a bar counted in before each, after the words on how all stand.
    found = set_in(heard[:, 0], 2 * HALF_COUNT)
    uneven = np.flatnonzero(np.abs(np.diff(found) - 2 * HALF_COUNT) > 0.006)
    goes = sorted((run for run in np.split(found, uneven + 1)), key=len)[-3:]
    # Each count and the song's click after it, all evenly apart: none twice, none left out.
    assert min(map(len, goes)) >= 2 * 8


def test_what_is_taken_home_has_the_song_only_where_that_is_asked_for_with_a_caution(
    tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    song, folder = between_counts(tmp_path), tmp_path / "home"
    words = ["takehome", "Lantern Row", "--walls", "1", "--tempo", "104", "--kind", "flac", "--cores", "1"]
    assert main([*words, "-o", str(folder), "--music", str(song)]) == 0
    assert "needs a licence" in capsys.readouterr().err
    for speed, name in ((1, "full"), (0.75, "three-quarters"), (0.5, "half")):
        heard, _ = soundfile.read(folder / f"lantern-row-{name}-counts.flac")
        # From the song's count 1 on; count track and song together from the count-in, 8 counts before the first step.
        begins = (0.5 + 8 * 2 * HALF_COUNT) / speed
        both = heard[round(begins * RATE) - RATE // 20 :, 0]
        found = set_in(both, HALF_COUNT / speed)[:60]
        assert np.abs(np.diff(found) - HALF_COUNT / speed).max() < 0.008
        assert found[0] == pytest.approx(0.05, abs=0.01)
    assert main([*words, "-o", str(tmp_path / "plain")]) == 0
    assert "licence" not in capsys.readouterr().err
    assert soundfile.info(tmp_path / "plain" / "lantern-row-half-counts.flac").channels == 1
    assert main(["takehome", "--all", "-o", str(tmp_path / "all"), "--music", str(song)]) == 2


def test_a_class_goes_on_by_the_count_track_where_its_recording_can_not_be_danced_to(
    tmp_path: Path, capsys: pytest.CaptureFixture[str], monkeypatch: pytest.MonkeyPatch
) -> None:
    hiss = np.random.default_rng(1).normal(0, 0.1, 20 * RATE).astype(np.float32)
    soundfile.write(tmp_path / "hiss.wav", hiss, RATE)
    for command in (["dance", "Lantern Row"], ["drill", "Lantern Row", "--section", "1"]):
        monkeypatch.setattr("sys.stdin", io.StringIO("q\n"))
        words = [*command, "--plain", "--sound", "none", "--pedal", "none", "--music"]
        assert main([*words, str(tmp_path / "hiss.wav")]) == 0
        assert "the count track goes on alone" in capsys.readouterr().err
        assert main([*words, str(tmp_path / "no such.wav")]) == 2
