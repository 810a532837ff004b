"""Where the counts are, kept: written, read, and damaged by hand."""

from __future__ import annotations

from fractions import Fraction
from pathlib import Path

import pytest

from caller.clock.grid import Grid
from caller.rig.music.grids import GridsFault, grid_of, keep_grid

GRID = Grid(Fraction("104.25"), Fraction("0.5012"))


def test_what_is_kept_is_read_again_beside_the_others(tmp_path: Path) -> None:
    file = tmp_path / "music.toml"
    assert grid_of(file, "a") is None
    keep_grid(file, "a", "song.flac", GRID)
    keep_grid(file, "b", 'odd "name".mp3', Grid(Fraction(96), Fraction(0)))
    assert grid_of(file, "a") == GRID
    assert grid_of(file, "b") == Grid(Fraction(96), Fraction(0))
    keep_grid(file, "a", "song.flac", Grid(Fraction(52), Fraction(1)))
    assert grid_of(file, "a") == Grid(Fraction(52), Fraction(1))
    assert grid_of(file, "b") is not None


def test_beats_how_sure_they_are_and_marks_are_kept_to_the_millisecond(tmp_path: Path) -> None:
    file = tmp_path / "music.toml"
    beats = tuple(Fraction(n * 577 + n * n, 1000) for n in range(1, 40))
    grid = Grid.of_beats(beats, 3, [min(3 * n, 100) for n in range(39)])
    grid = grid.marked("break", beats[20], beats[24])
    keep_grid(file, "a", "song.flac", grid)
    read = grid_of(file, "a")
    assert read is not None
    assert max(abs(one - other) for one, other in zip(read.beats, grid.beats, strict=True)) <= Fraction(1, 2000)
    assert (read.first, read.sure, read.told) == (grid.first, grid.sure, True)
    assert [mark.kind for mark in read.marks] == ["break"]


@pytest.mark.parametrize(
    ("written", "words"),
    [
        ("[a\n", "mend or delete"),
        ("a = 3\n", "needs a tempo"),
        ('[a]\ntempo = "0"\nfirst_seconds = "1"\n', "needs a tempo"),
        ('[a]\ntempo = "soon"\nfirst_seconds = "1"\n', "needs a tempo"),
        ('[a]\nfirst_seconds = "1"\n', "needs a tempo"),
        ('[a]\ntempo = "99"\nfirst_seconds = "1"\nbeats = [5, 0]\n', "needs a tempo"),
        ('[a]\ntempo = "99"\nfirst_seconds = "1"\nbeats = [5, 6]\nfirst = 2\n', "needs a tempo"),
        ('[a]\ntempo = "99"\nfirst_seconds = "1"\nmarks = [["nap", "1", "2"]]\n', "needs a tempo"),
    ],
)
def test_a_slip_in_the_file_is_told(tmp_path: Path, written: str, words: str) -> None:
    file = tmp_path / "music.toml"
    file.write_text(written)
    with pytest.raises(GridsFault, match=words):
        grid_of(file, "a")


def test_a_damaged_file_is_not_written_over(tmp_path: Path) -> None:
    file = tmp_path / "music.toml"
    file.write_text("[a\n")
    with pytest.raises(GridsFault, match="damaged"):
        keep_grid(file, "b", "song.flac", GRID)
    assert file.read_text() == "[a\n"
