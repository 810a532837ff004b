"""A dance in its song: where its walls fall, and where the music's phrases disagree."""

from __future__ import annotations

import json
from fractions import Fraction
from pathlib import Path

import numpy as np
import pytest
import soundfile

from caller.cli import main
from caller.cli.songmap import disagreements, placed
from caller.clock.grid import Grid
from caller.dance.unroll import unroll
from caller.rig.music.workshop import Again, Phrases
from caller.routine.notation.read import read_sheet
from caller.sound.score import RATE, Samples

SHEET = """Title: Chalk Line
Counts: 16
Walls: 4
Tempo: 120
Intro: 16

Section 1
1-2 Step R to right, touch L beside R
3-4 Step L to left, touch R beside L
5-6 Step R to right, touch L beside R
7-8 Step L to left, touch R beside L

Section 2
1-2 Step R forward, touch L beside R
3-4 Step L back, touch R beside L
5-6 Step R to right, touch L beside R
7-8 Turn 1/4 left and step L forward, touch R beside L
"""
TAG = """
Tag: after wall 2
1-2 Step R to right, touch L beside R
3-4 Step L to left, touch R beside L
"""


def song(phrases: list[int], tempo: int = 120) -> Samples:
    """Phrases of so many counts, each on other notes and as a bar of four begins with a lower drum."""
    draw, sounds, count = np.random.default_rng(4), [], 0
    beat = round(60 / tempo * RATE)
    time = np.arange(beat) / RATE
    for number, counts in enumerate(phrases):
        root = 220 * 2 ** ((0, 5, 10, 3, 8, 1)[number % 6] / 12)
        for n in range(counts):
            drum = (
                (0.5 if n % 4 == 0 else 0.3)
                * np.exp(-time * 20)
                * np.sin(2 * np.pi * (60 if n % 4 == 0 else 90) * time)
            )
            notes = sum(0.06 * np.sin(2 * np.pi * root * by * time) for by in (1, 1.25, 1.5))
            click = np.zeros(beat)
            click[:1500] = 0.2 * draw.uniform(-1, 1, 1500) * np.linspace(1, 0, 1500) ** 2
            sounds.append(drum + notes + click)
            count += 1
    return np.concatenate(sounds).astype(np.float32)


@pytest.fixture(autouse=True)
def own_folders(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    for name in ("XDG_CONFIG_HOME", "XDG_CACHE_HOME"):
        monkeypatch.setenv(name, str(tmp_path / name))


def test_walls_fall_where_a_wavering_grid_has_them() -> None:
    dance = unroll(read_sheet(SHEET + TAG).routine, 4)
    beats = [Fraction(n * 500 + n * n // 4, 1000) for n in range(120)]
    grid = Grid.of_beats(beats, 0)
    found = placed(dance, grid, 16)
    walls = [one for one in found if one.kind == "wall"]
    assert [one.count for one in walls] == [16, 32, 52, 68]
    assert [one.seconds for one in walls] == [beats[16], beats[32], beats[52], beats[68]]
    assert [(one.kind, one.after) for one in found if one.kind != "wall"] == [("tag", 16)]


def test_a_wall_beside_a_phrase_is_told_and_only_the_first() -> None:
    dance = unroll(read_sheet(SHEET).routine, 4)
    there = placed(dance, Grid(Fraction(120), Fraction(0)), 16)
    new = {count: 2.0 if count in (16, 32, 52, 68) else 0.0 for count in range(120)}
    [told] = disagreements(there, Phrases(new, {}), 4, 60.0)
    assert "Wall 3 starts at 0:24, but a phrase of the music begins 4 counts later" in told
    assert "(a tag of 4 counts after wall 2 would agree)" in told
    assert not list(disagreements(there, Phrases(dict.fromkeys(new, 0.0), {}), 4, 60.0))


def test_a_wall_beside_what_it_was_danced_to_before_is_told() -> None:
    dance = unroll(read_sheet(SHEET).routine, 4)
    there = placed(dance, Grid(Fraction(120), Fraction(0)), 16)
    even = dict.fromkeys(range(120), 0.0)
    again = {32: Again(0, 0.6, 0.6), 48: Again(-2, 0.66, 0.1), 64: Again(-2, 0.7, 0.1)}
    [told] = disagreements(there, Phrases(even, again), 4, 60.0)
    assert "Wall 3 starts at 0:24, but a phrase of the music begins 2 counts sooner" in told
    assert "(a wall 2 that is 2 counts shorter would agree)" in told
    unlike = {32: Again(4, 0.3, -0.1), 48: Again(4, 0.6, 0.5)}
    assert not list(disagreements(there, Phrases(even, unlike), 4, 60.0))


@pytest.mark.parametrize(("tag", "agrees"), [(TAG, True), ("", False), (TAG.replace("wall 2", "wall 3"), False)])
def test_a_tag_that_is_missing_or_a_wall_too_late_is_heard_in_the_music(
    tmp_path: Path, capsys: pytest.CaptureFixture[str], tag: str, agrees: bool
) -> None:
    (tmp_path / "line.txt").write_text(SHEET + tag)
    soundfile.write(tmp_path / "song.flac", song([16, 16, 20, 16, 16, 16]), RATE)
    assert main(["music", str(tmp_path / "song.flac"), "--tempo", "120", "--first", "0", "--exactly"]) == 0
    capsys.readouterr()
    words = ["walls", str(tmp_path / "line.txt"), "--walls", "4", "--music", str(tmp_path / "song.flac")]
    assert main([*words, "--json"]) == 0
    told = json.loads(capsys.readouterr().out)["song"]
    assert bool(told["disagrees"]) is not agrees
    if not agrees:
        assert "Wall 3 starts at 0:24, but a phrase of the music begins 4 counts later" in told["disagrees"][0]
    assert main(words) == 0
    out = capsys.readouterr().out
    assert "  0:08  wall 1" in out
    assert ("No bar or phrase of the music disagrees with where walls start." in out) is agrees


@pytest.mark.parametrize(("tag", "walls"), [(TAG, 5), ("", 5), ("\nEnding: in wall 3, after 8 counts, stomp R\n", 3)])
def test_without_a_number_it_has_as_many_walls_as_the_recording_has_room_for(
    tmp_path: Path, capsys: pytest.CaptureFixture[str], tag: str, walls: int
) -> None:
    """84 counts after the intro: five walls of 16 and a tag of 4; where the sheet says how it ends, as it says."""
    (tmp_path / "line.txt").write_text(SHEET + tag)
    file = str(tmp_path / "song.flac")
    soundfile.write(file, song([16, 16, 20, 16, 16, 16]), RATE)
    assert main(["music", file, "--tempo", "120", "--first", "0", "--exactly"]) == 0
    capsys.readouterr()
    for asked, wanted in (([], walls), (["--walls", "2"], 2)):
        assert main(["walls", str(tmp_path / "line.txt"), "--music", file, *asked, "--json"]) == 0
        assert len(json.loads(capsys.readouterr().out)["walls"]) == wanted
    record = ["record", str(tmp_path / "line.txt"), "--manner", "quiet", "--json", "-o", str(tmp_path / "run.wav")]
    assert main([*record, "--music", file]) == 0
    assert max(one["wall"] for one in json.loads(capsys.readouterr().out)["onsets"]) == walls
