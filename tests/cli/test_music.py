"""``caller music``, and ``--music``: what a teacher types, and what she is told."""

from __future__ import annotations

import json
from fractions import Fraction
from pathlib import Path

import numpy as np
import pytest
import soundfile

from caller.cli import main
from caller.rig.music.grids import grids_file
from caller.rig.music.trying import Trial, tapped
from caller.screen.song_plain import hear_in_lines, tap_in_lines
from caller.sound.score import RATE, Clip
from tests.fakes.songs import tune
from tests.fakes.speaker import HandSpeaker


@pytest.fixture(autouse=True)
def own_folders(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    for name in ("XDG_CONFIG_HOME", "XDG_CACHE_HOME"):
        monkeypatch.setenv(name, str(tmp_path / name))


@pytest.fixture
def song(tmp_path: Path) -> Path:
    soundfile.write(tmp_path / "song.flac", tune(104, 40, 0.5), RATE)
    return tmp_path / "song.flac"


def test_a_recordings_beat_is_found_told_and_kept(song: Path, capsys: pytest.CaptureFixture[str]) -> None:
    assert main(["music", str(song), "--json"]) == 0
    told = json.loads(capsys.readouterr().out)
    assert (told["tempo"], told["seconds"]) == (104, 40)
    assert told["first_seconds"] == pytest.approx(0.5, abs=0.004)
    assert main(["music", str(song), "--tempo", "52", "--first", "1.654", "--exactly"]) == 0
    assert "52 counts a minute, its count 1 at 1.654 s; kept" in capsys.readouterr().out
    renamed = song.rename(song.with_name("another.flac"))
    assert main(["music", str(renamed), "--json"]) == 0
    assert json.loads(capsys.readouterr().out)["tempo"] == 52
    assert grids_file().exists()


def test_to_a_recording_whose_beat_is_not_known_the_command_is_told(
    song: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    assert main(["record", "Lantern Row", "--music", str(song), "-o", str(song.with_suffix(".wav"))]) == 1
    assert f"run 'caller music {song}' first" in capsys.readouterr().err
    assert main(["record", "Lantern Row", "--music", "no such.mp3", "-o", str(song.with_suffix(".wav"))]) == 2
    assert "there is no such file" in capsys.readouterr().err


def test_what_has_no_beat_is_told(tmp_path: Path, capsys: pytest.CaptureFixture[str]) -> None:
    hiss = np.random.default_rng(1).normal(0, 0.1, 20 * RATE).astype(np.float32)
    soundfile.write(tmp_path / "hiss.wav", hiss, RATE)
    assert main(["music", str(tmp_path / "hiss.wav")]) == 1
    assert "no steady beat is found" in capsys.readouterr().err


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


def test_clicks_are_moved_by_ear_and_kept(capsys: pytest.CaptureFixture[str]) -> None:
    import sys

    speaker, played = trial()
    moved: list[tuple[float, int]] = []

    def move(seconds: float, counts: int) -> str:
        moved.append((seconds, counts))
        return "moved"

    typist = Typist(speaker, {1.0: "++", 2.0: "-", 3.0: ">", 4.0: "what?", 5.0: "keep"})
    assert hear_in_lines(played, move, sys.stdout, typist.typed, typist.pause)
    assert moved == [(0.01, 0), (-0.005, 0), (0.0, 1)]
    left = Typist(speaker, {6.0: "leave"})
    assert not hear_in_lines(played, move, sys.stdout, left.typed, left.pause)


def test_the_clicks_that_are_laid_over_are_heard_on_the_counts_asked_for() -> None:
    from caller.clock.grid import Grid

    speaker, played = trial()
    played.look()
    speaker.advance(RATE)
    played.lay(Grid(Fraction(104), Fraction(1, 2)))
    score = speaker.asked[-1].score
    assert score is not None
    clicks = [placed.frame for placed in score.placements if placed.kind == "count"]
    assert clicks[:3] == [round((0.5 + n * 60 / 104) * RATE) for n in range(3)]
    assert speaker.asked[-1].score_frame == speaker.asked[-1].at - speaker.asked[0].at
