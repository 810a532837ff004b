"""What takes seconds and holds the interpreter, in a process of its own, so that the class goes on:

    read FILE FOLDER
    stretch RECORDING SPEED OUT
    excerpt RECORDING SPEED SECONDS OUT
    even RECORDING BEATS OUT
    beats RECORDING TEMPO FIRST METER INTRO
    newness RECORDING BEATS METER STARTS

Conventions: see ``caller.children.boot`` for how it starts. The last line on stdout is JSON: what was made, or
{"fault": one sentence}. Samples are files as ``numpy.save`` writes them, moved to their place when whole: mono, shape
(n,), or stereo, shape (n, 2). SPEED: a fraction, above 1 = quicker. SECONDS: of
the recording as it is. TEMPO, FIRST, INTRO: as told, "" where nothing is.
BEATS: a file of beats in seconds, for "even" of two rows, where they are and where they are to be; it is thrown away.
STARTS: which of the beats, with commas between.
"""

from __future__ import annotations

import hashlib
import json
import sys
from collections.abc import Callable
from fractions import Fraction
from pathlib import Path

import numpy as np

from caller.rig.music.decode import NoMusic, decoded
from caller.sound.channels import one_channel
from caller.sound.evened import evened
from caller.sound.loudness import MUSIC_LUFS, programme
from caller.sound.mix import SPEECH_PEAK
from caller.sound.onsets import FPS, onsets_of
from caller.sound.phrase import beside, newness
from caller.sound.pulse import pulse_of
from caller.sound.score import RATE, Part, Samples
from caller.storage.whole import own_folder, write_whole

STRETCH_MISSING = (
    "To change the tempo of music, python-stretch is needed: pip install python-stretch (for Linux on ARM that takes a "
    "compiler)."
)

# Of an excerpt: how much of the recording it holds, and how much is stretched with it on either side and left out.
EXCERPT_FRAMES, MARGIN_FRAMES, EXCERPT_FADE = 30 * RATE, RATE // 4, RATE // 20


def read(file: str, folder: str) -> dict[str, object]:
    """Reads a recording into the folder, under the digest of its samples. gain: the factor for music; loudest_lufs:
    with it, of the fullest three seconds."""
    samples = decoded(Path(file))
    digest = hashlib.sha256(samples.tobytes()).hexdigest()[:40]
    whole, fullest = programme(samples)
    wished = 10 ** ((MUSIC_LUFS - whole) / 20)
    gain = float(min(wished, SPEECH_PEAK / np.abs(samples).max()))
    fullest += 20 * float(np.log10(gain))
    _keep(samples, Path(folder) / f"{digest}.npy")
    recorded = {"digest": digest, "gain": gain, "loudest_lufs": fullest, "seconds": len(samples) / RATE}
    return {"recorded": recorded}


def stretch(recording: str, speed: str, out: str) -> dict[str, object]:
    """Writes a recording at another speed, its pitch kept."""
    _keep(stretched(np.load(recording), Fraction(speed)), Path(out))
    return {}


def excerpt(recording: str, speed: str, seconds: str, out: str) -> dict[str, object]:
    """Writes what there is of a recording around a time, at another speed: as long as the whole, and silent where that
    isn't made yet, so that each of its frames is where it will be there."""
    samples, factor = np.load(recording, mmap_mode="r"), Fraction(speed)
    first = max(round(float(seconds) * RATE) - MARGIN_FRAMES, 0)
    last = min(first + EXCERPT_FRAMES + 2 * MARGIN_FRAMES, len(samples))
    heard = stretched(np.array(samples[first:last]), factor)  # the library takes none that is mapped
    # Where it is cut, what it was stretched with is missing.
    margin = round(MARGIN_FRAMES / factor)
    begins, ends = margin if first else 0, len(heard) - (margin if last < len(samples) else 0)
    part = Part(begins, ends, EXCERPT_FADE if first else 0, EXCERPT_FADE if last < len(samples) else 0)
    heard = part.faded(heard[begins:ends], 0)
    at = round(first / factor) + begins
    shape = (max(round(len(samples) / factor), at + len(heard)), *samples.shape[1:])

    def write(path: Path) -> None:
        kept = np.lib.format.open_memmap(path, mode="w+", dtype=np.float32, shape=shape)
        kept[at : at + len(heard)] = heard
        kept.flush()

    own_folder(Path(out).parent)
    write_whole(Path(out), write, private=True, durable=False)
    return {}


def stretched(samples: Samples, speed: Fraction) -> Samples:
    """Samples ``speed`` times as fast: frame n of them comes on frame n / speed. Raises NoMusic without
    python-stretch."""
    try:
        from python_stretch import Signalsmith
    except ImportError as fault:
        raise NoMusic(STRETCH_MISSING) from fault
    channels = np.ascontiguousarray(np.atleast_2d(samples.T))
    way = Signalsmith.Stretch(len(channels))  # seeded: the same each time
    way.preset(len(channels), RATE)
    way.setTimeFactor(float(speed))
    heard = np.asarray(way.process(channels), np.float32)
    return np.ascontiguousarray(heard[0] if samples.ndim == 1 else heard.T)


def even(recording: str, beats: str, out: str) -> dict[str, object]:
    """Writes a recording with its beats where they are to be."""
    samples, (times, places) = np.load(recording), np.load(beats)
    length = max(len(samples) + round((places[-1] - times[-1]) * RATE), 1)
    _keep(evened(samples, times, places, length), Path(out))
    Path(beats).unlink(missing_ok=True)
    return {}


def _keep(samples: Samples, path: Path) -> None:
    own_folder(path.parent)
    write_whole(path, lambda part: np.save(part, samples), private=True, durable=False)


def beats(recording: str, tempo: str, first: str, meter: str, intro: str) -> dict[str, object]:
    """Where the beats of a recording are."""
    mono = one_channel(np.load(recording))
    told = float(tempo) if tempo else None, float(first) if first else None
    pulse = pulse_of(mono, *told, int(meter), int(intro) if intro else None)
    found = {
        "beats": [round(float(at), 3) for at in pulse.beats],
        "sure": [round(100 * float(one)) for one in pulse.sure],
        "first": pulse.first,
        "tempo": pulse.tempo,
        "clear": pulse.clear,
        "on_beat": pulse.on_beat,
        "even": pulse.even,
        "first_seconds": float(pulse.beats[pulse.first]) if len(pulse.beats) else 0.0,
    }
    return {"found": found}


def new(recording: str, beats: str, meter: str, starts: str) -> dict[str, object]:
    """How much each beat begins something new; and where beside some of them what was heard from others on comes
    again."""
    samples, times = np.load(recording), np.load(beats)
    Path(beats).unlink(missing_ok=True)
    onsets, frames = onsets_of(one_channel(samples)), times * FPS
    found = newness(onsets, frames, int(meter))
    again = beside(onsets, frames, [int(start) for start in starts.split(",") if start], int(meter))
    return {"newness": [round(float(one), 3) for one in found], "beside": again}


WORK: dict[str, Callable[..., dict[str, object]]] = {
    "read": read,
    "stretch": stretch,
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
