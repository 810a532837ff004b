"""The half minute of a version that is made before the whole: each of its frames is where it will be in the whole."""

from __future__ import annotations

from fractions import Fraction
from pathlib import Path

import numpy as np
import pytest
import soundfile

from caller.rig.music.child import excerpt
from caller.rig.music.excerpt import EXCERPT_FADE, EXCERPT_FRAMES
from caller.rig.music.stretch import MARGIN_FRAMES
from caller.rig.music.workshop import Workshop
from caller.sound.score import RATE
from tests.fakes.songs import click, click_song

TEMPO = 100


@pytest.mark.parametrize("speed", [Fraction(9, 10), Fraction(4, 5), Fraction(103, 97)])
def test_what_an_excerpt_holds_is_on_the_frames_of_the_whole(speed: Fraction, tmp_path: Path) -> None:
    song = click_song(TEMPO, 80)
    np.save(tmp_path / "song.npy", np.stack([song, 0.5 * song], 1))
    excerpt(str(tmp_path / "song.npy"), str(speed), "30", str(tmp_path / "part.npy"))
    part = np.load(tmp_path / "part.npy", mmap_mode="r")
    assert part.shape == (round(80 * RATE / speed), 2)
    first, last = (round(frame / speed) for frame in (30 * RATE, 30 * RATE + EXCERPT_FRAMES))
    assert not part[: first - 2].any()
    assert not part[last + 2 :].any()
    counts = range(30 * TEMPO // 60 + 1, 60 * TEMPO // 60 - 1)
    for at in (round((0.5 + n * 60 / TEMPO) * RATE / speed) for n in counts):
        fit = np.correlate(part[at - 480 : at + 480 + len(click()), 0], click(), "valid")
        assert abs(int(fit.argmax()) - 480) <= 0.002 * RATE
    rise = np.abs(part[first : first + EXCERPT_FADE, 0])
    assert rise.max() <= 0.6
    assert MARGIN_FRAMES > EXCERPT_FADE


def test_a_workshop_makes_none_where_the_whole_is_there_and_throws_them_away_when_it_tidies(tmp_path: Path) -> None:
    soundfile.write(tmp_path / "song.flac", click_song(TEMPO, 20), RATE)
    shop = Workshop(tmp_path / "kept")
    recorded, speed = shop.read(tmp_path / "song.flac"), Fraction(4, 5)
    part = shop.excerpt(recorded, speed, Fraction(9))
    assert part is not None
    whole = shop.version(recorded, speed)
    assert part.key != whole.key
    assert part.frames == whole.frames
    # From four seconds before on; it reaches to the song's end.
    at = slice(round(6 * RATE / speed), round(18 * RATE / speed))
    loud = [np.convolve(np.abs(clip.samples[at]), np.ones(240) / 240, "same") for clip in (part, whole)]
    assert np.corrcoef(*loud)[0, 1] > 0.95
    assert shop.excerpt(recorded, speed, Fraction(9)) is None
    assert shop.excerpt(recorded, Fraction(1, 10), Fraction(9)) is None  # a blur
    assert len(list((tmp_path / "kept").glob("*-from-*"))) == 1
    shop.tidy()
    assert not list((tmp_path / "kept").glob("*-from-*"))
