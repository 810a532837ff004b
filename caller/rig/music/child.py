"""What takes seconds and holds the interpreter, in a process of its own, so that the class goes on:

    read FILE FOLDER
    stretch RECORDING SPEED OUT [SECONDS EXCERPT]
    pieces RECORDING SPEED OUT RUNS
    excerpt RECORDING SPEED SECONDS OUT
    even RECORDING BEATS OUT
    beats RECORDING TEMPO FIRST METER INTRO
    newness RECORDING BEATS METER STARTS

Conventions: see ``caller.children.boot`` for how it starts. The last line on stdout is JSON: what was made, or
{"fault": one sentence}. Samples are files as ``numpy.save`` writes them, moved to their place when whole: mono, shape
(n,), or stereo, shape (n, 2). SPEED: a fraction, above 1 = quicker. SECONDS: of
the recording as it is. TEMPO, FIRST, INTRO: as told, "" where nothing is.
BEATS: a file of beats in seconds, for "even" of two rows, where they are and where they are to be; it is thrown away.
RUNS: of OUT, which is there; see ``caller.rig.music.halves``. EXCERPT: what "excerpt" makes beside it, from SECONDS on.
STARTS: which of the beats, with commas between.
"""

from __future__ import annotations

import json
import os
import sys
from collections.abc import Callable, Iterable
from fractions import Fraction
from math import log10
from pathlib import Path

import numpy as np

from caller.rig.music.decode import NoMusic, decoded
from caller.rig.music.excerpt import excerpt_of
from caller.rig.music.halves import pieces, stretched_to
from caller.rig.music.kept import Keeping, blocks_of, let_go, one_channel_of
from caller.sound.channels import opposed
from caller.sound.evened import evened_into
from caller.sound.loudness import MUSIC_LUFS
from caller.sound.mix import SPEECH_PEAK
from caller.sound.onsets import FPS, onsets_of
from caller.sound.phrase import beside, newness
from caller.sound.pulse import pulse_of
from caller.sound.score import RATE, Samples
from caller.storage.whole import own_folder, write_whole


def read(file: str, folder: str) -> dict[str, object]:
    """Reads a recording into the folder, under the digest of its samples. gain: the factor for music; loudest_lufs:
    with it, of the fullest three seconds."""
    # Its digest is known once it is kept.
    passing = own_folder(Path(folder)) / f"reading-{os.getpid()}.npy"
    recorded: dict[str, object] = {}

    def keep(part: Path) -> None:
        recorded.update(decoded(Path(file), lambda blocks: _kept(blocks, part)))

    write_whole(passing, keep, private=True, durable=False)
    passing.replace(Path(folder) / f"{recorded['digest']}.npy")
    return {"recorded": recorded}


def _kept(blocks: Iterable[Samples], part: Path) -> dict[str, object]:
    with part.open("w+b") as out:
        keeping = Keeping(out)
        for block in blocks:
            keeping.add(block)
        digest, whole, fullest = keeping.done()
    gain = min(10 ** ((MUSIC_LUFS - whole) / 20), SPEECH_PEAK / keeping.peak)
    fullest += 20 * log10(gain)
    return {"digest": digest, "gain": gain, "loudest_lufs": fullest, "seconds": keeping.frames / RATE}


def stretch(recording: str, speed: str, out: str, seconds: str = "0", beside: str = "") -> dict[str, object]:
    """Writes a recording at another speed, its pitch kept."""
    taken = Path(beside) if beside else None
    _write(lambda part: stretched_to(part, Path(recording), Fraction(speed), taken, float(seconds)), Path(out))
    return {}


def excerpt(recording: str, speed: str, seconds: str, out: str) -> dict[str, object]:
    """Writes what there is of a recording around a time, at another speed."""
    samples, factor = np.load(recording, mmap_mode="r"), Fraction(speed)
    heard, at = excerpt_of(samples, factor, float(seconds))
    shape = (max(round(len(samples) / factor), at + len(heard)), *samples.shape[1:])

    def write(path: Path) -> None:
        kept = np.lib.format.open_memmap(path, mode="w+", dtype=np.float32, shape=shape)
        kept[at : at + len(heard)] = heard

    _write(write, Path(out))
    return {}


def even(recording: str, beats: str, out: str) -> dict[str, object]:
    """Writes a recording with its beats where they are to be."""
    samples, (times, places) = np.load(recording, mmap_mode="r"), np.load(beats)
    differ = samples.ndim == 2 and opposed(blocks_of(Path(recording)))
    length = max(len(samples) + round((places[-1] - times[-1]) * RATE), 1)

    def write(part: Path) -> None:
        made = np.lib.format.open_memmap(part, mode="w+", dtype=np.float32, shape=(length, *samples.shape[1:]))
        for _ in evened_into(made, samples, differ, times, places):
            let_go(samples)
            let_go(made)

    _write(write, Path(out))
    Path(beats).unlink(missing_ok=True)
    return {}


def _write(write: Callable[[Path], None], path: Path) -> None:
    own_folder(path.parent)
    write_whole(path, write, private=True, durable=False)


def beats(recording: str, tempo: str, first: str, meter: str, intro: str) -> dict[str, object]:
    """Where the beats of a recording are."""
    mono = one_channel_of(Path(recording))
    told = float(tempo) if tempo else None, float(first) if first else None
    pulse = pulse_of(mono, *told, int(meter), int(intro) if intro else None)
    found = {
        "beats": [round(float(at), 3) for at in pulse.beats],
        "sure": [round(100 * float(one)) for one in pulse.sure],
        "first": pulse.first,
        "tempo": pulse.tempo,
        "clear": pulse.clear,
        "on_beat": pulse.on_beat,
        "speech": pulse.speech,
        "even": pulse.even,
        "first_seconds": float(pulse.beats[pulse.first]) if len(pulse.beats) else 0.0,
    }
    return {"found": found}


def new(recording: str, beats: str, meter: str, starts: str) -> dict[str, object]:
    """How much each beat begins something new; and where beside some of them what was heard from others on comes
    again."""
    times = np.load(beats)
    Path(beats).unlink(missing_ok=True)
    onsets, frames = onsets_of(one_channel_of(Path(recording))), times * FPS
    found = newness(onsets, frames, int(meter))
    again = beside(onsets, frames, [int(start) for start in starts.split(",") if start], int(meter))
    return {"newness": [round(float(one), 3) for one in found], "beside": again}


WORK: dict[str, Callable[..., dict[str, object]]] = {
    "read": read,
    "stretch": stretch,
    "pieces": pieces,
    "excerpt": excerpt,
    "even": even,
    "beats": beats,
    "newness": new,
}


def main(what: str, *words: str) -> None:
    try:
        told = WORK[what](*words)
    except NoMusic as fault:
        told = {"fault": str(fault)}
    except OSError as fault:
        told = {"fault": f"The music can't be kept ({fault.strerror or fault}): make room on the disk."}
    except MemoryError:
        told = {"fault": "There is not enough memory for this music: close other programs."}
    print("\n" + json.dumps(told), flush=True)


if __name__ == "__main__":
    main(*sys.argv[1:])
