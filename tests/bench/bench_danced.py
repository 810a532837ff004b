"""How far the count track is from the beats of songs that waver, as a class hears both.

    python -m tests.bench.bench_danced

Songs rendered by fluidsynth with known beats (:mod:`tests.bench.scored_songs`) go the whole way from a file to what is
danced to: read, beats found, evened out, slowed down. Around each known beat the sound of the song is then looked for,
by what begins in it (twelve bands, a millisecond apart), near the count that it belongs to: told is how far off it is
there, and how far from where the notes are heard (:func:`heard_after_ms`: the beats that are known are those at which
notes are asked for). Where that isn't found clearly (slowed down, soft sounds are smeared), a beat is left out: n of
all.
"""

from __future__ import annotations

import tempfile
from fractions import Fraction
from pathlib import Path

import numpy as np
import numpy.typing as npt
import soundfile

from caller.clock.grid import Grid
from caller.rig.music.workshop import Workshop
from caller.sound.channels import one_channel
from caller.sound.score import RATE, Samples
from tests.bench.scored_songs import Setting, heard_after_ms, scored

SONGS = (
    Setting("first", "rock", 108, wave=0.03, seconds=120),
    Setting("second", "swing", 112, wander=0.03, font="tim", seconds=120),
    Setting("third", "country", 104, wave=0.01, wander=0.01, seconds=120),
    Setting("fourth", "disco", 122, wave=0.04, font="tim", seconds=120),
    Setting("third", "folk", 96, wave=0.02, break_bars=2, seconds=120),
)
SPEEDS = (Fraction(1), Fraction(6, 5), Fraction(3, 4), Fraction(1, 2))
HOP, WINDOW, BANDS, RISE_MS = RATE // 1000, 512, 14, 8
BEFORE_MS, AFTER_MS, REACH_MS = 60, 80, 100
CLEAR = 0.5

Curves = npt.NDArray[np.float32]


def begins(samples: Samples) -> Curves:
    """What begins in each band, a millisecond apart, shape (ms, bands)."""
    count = (len(samples) - WINDOW) // HOP
    edges = np.unique(np.geomspace(2, WINDOW // 2, BANDS).astype(int))
    powers = np.empty((count, len(edges) - 1), np.float32)
    views = np.lib.stride_tricks.sliding_window_view(samples, WINDOW)[::HOP]
    for first in range(0, count, 4096):
        piece = views[first : min(first + 4096, count)] * np.hanning(WINDOW).astype(np.float32)
        powers[first : first + len(piece)] = np.add.reduceat(np.abs(np.fft.rfft(piece)) ** 2, edges[:-1], axis=1)
    level = np.log(powers + 1e-3)
    return np.pad(np.maximum(level[RISE_MS:] - level[:-RISE_MS], 0), ((RISE_MS, 0), (0, 0)))


def off_ms(song: Curves, version: Curves, beats: npt.NDArray[np.float64], places: npt.NDArray[np.float64]) -> list[int]:
    """beats: in the song; places: of the counts that belong to them, in the version; ms."""
    found = []
    for beat, place in zip(np.round(beats).astype(int), np.round(places).astype(int), strict=True):
        if beat < BEFORE_MS or place < BEFORE_MS + REACH_MS:
            continue
        pattern = song[beat - BEFORE_MS : beat + AFTER_MS]
        around = version[place - BEFORE_MS - REACH_MS : place + AFTER_MS + REACH_MS]
        if len(pattern) < BEFORE_MS + AFTER_MS or len(around) < BEFORE_MS + AFTER_MS + 2 * REACH_MS:
            continue
        fits = [_alike(pattern, around[by : by + len(pattern)]) for by in range(2 * REACH_MS + 1)]
        if max(fits) > CLEAR:
            found.append(int(np.argmax(fits)) - REACH_MS)
    return found


def _alike(one: Curves, other: Curves) -> float:
    one, other = one - one.mean(axis=0), other - other.mean(axis=0)
    return float((one * other).sum() / np.sqrt((one**2).sum() * (other**2).sum() + 1e-9))


def main() -> None:
    with tempfile.TemporaryDirectory() as folder:
        for number, setting in enumerate(SONGS):
            song = scored(setting, 700 + number)
            path = Path(folder) / f"{number}.flac"
            soundfile.write(path, song.samples, RATE)
            shop = Workshop(Path(folder) / "kept")
            recorded = shop.read(path)
            tempo = Fraction(setting.tempo)
            grid = shop.beats(recorded, tempo, None, song.meter, 4 * song.meter).grid
            even = shop.evened(recorded, grid)
            later = heard_after_ms(setting.style, setting.font)
            print(
                f"{setting.name}: {len(song.beats)} beats, wavering by {float(grid.wavers):.1%}, its notes heard "
                f"{later:.1f} ms after them"
            )
            for speed in SPEEDS:
                clip = shop.version(even, speed * tempo / grid.tempo)
                danced = begins(one_channel(np.asarray(clip.samples)))
                places = _places(grid, song.beats, speed * tempo)
                found = off_ms(begins(song.samples), danced, 1000 * song.beats, places)
                off, heard = np.abs(found), np.abs(np.array(found) + later / float(speed))
                print(
                    f"  at {float(speed):4.0%}: off {np.median(off):4.1f} ms by the middle, 95 % within "
                    f"{np.percentile(off, 95):4.1f}, most {off.max():3d}; off what is heard {np.median(heard):4.1f}, "
                    f"95 % within {np.percentile(heard, 95):4.1f}  (n {len(off)})",
                    flush=True,
                )


def _places(grid: Grid, beats: npt.NDArray[np.float64], tempo: Fraction) -> npt.NDArray[np.float64]:
    """Where the counts are that beats belong to, in a version at a tempo, ms."""
    counts = np.array([round(grid.count_at(Fraction(float(at)))) for at in beats])
    first = float(grid.first_seconds * grid.tempo / tempo)
    return np.asarray(1000 * (first + counts * 60 / float(tempo)))


if __name__ == "__main__":
    main()
