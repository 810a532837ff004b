"""What takes seconds and holds the interpreter, in a process of its own, so that the class goes on:

    python -m caller.rig.music.child read FILE FOLDER
    python -m caller.rig.music.child stretch RECORDING SPEED OUT

Conventions: the last line on stdout is JSON: what was made, or {"fault": one sentence}. Samples are files as
``numpy.save`` writes them, moved to their place when whole. SPEED: a fraction, above 1 = quicker.
"""

from __future__ import annotations

import contextlib
import hashlib
import json
import os
import sys
import tempfile
from collections.abc import Callable
from fractions import Fraction
from pathlib import Path

import numpy as np

from caller.rig.music.decode import NoMusic, decoded
from caller.sound.loudness import MUSIC_LUFS, loudest, loudness
from caller.sound.mix import SPEECH_PEAK
from caller.sound.score import RATE, Samples

STRETCH_MISSING = (
    "To change the tempo of music, python-stretch is needed: pip install python-stretch (for Linux on ARM that takes a "
    "compiler)."
)
# So that the loudspeaker's process comes first on a machine with few cores.
NICENESS = 10


def read(file: str, folder: str) -> dict[str, str | float]:
    """Reads a recording into the folder, under the digest of its samples. gain: the factor for music; loudest_lufs:
    with it, of the fullest three seconds."""
    samples = decoded(Path(file))
    digest = hashlib.sha256(samples.tobytes()).hexdigest()[:40]
    wished = 10 ** ((MUSIC_LUFS - loudness(samples)) / 20)
    gain = float(min(wished, SPEECH_PEAK / np.abs(samples).max()))
    fullest = loudest(samples) + 20 * float(np.log10(gain))
    _keep(samples, Path(folder) / f"{digest}.npy")
    return {"digest": digest, "gain": gain, "loudest_lufs": fullest, "seconds": len(samples) / RATE}


def stretch(recording: str, speed: str, out: str) -> dict[str, str | float]:
    """Writes a recording at another speed, its pitch kept."""
    _keep(stretched(np.load(recording), Fraction(speed)), Path(out))
    return {"file": out}


def stretched(samples: Samples, speed: Fraction) -> Samples:
    """Samples ``speed`` times as fast: frame n of them comes on frame n / speed. Raises NoMusic without
    python-stretch."""
    try:
        from python_stretch import Signalsmith
    except ImportError as fault:
        raise NoMusic(STRETCH_MISSING) from fault
    way = Signalsmith.Stretch(1)  # seeded: the same each time
    way.preset(1, RATE)
    way.setTimeFactor(float(speed))
    return np.ascontiguousarray(np.asarray(way.process(samples[np.newaxis, :]), np.float32)[0])


def _keep(samples: Samples, path: Path) -> None:
    path.parent.mkdir(parents=True, exist_ok=True)
    descriptor, part = tempfile.mkstemp(suffix=".part", dir=path.parent)
    try:
        with os.fdopen(descriptor, "wb") as file:
            np.save(file, samples)
        os.replace(part, path)
    finally:
        Path(part).unlink(missing_ok=True)


WORK: dict[str, Callable[..., dict[str, str | float]]] = {"read": read, "stretch": stretch}


def main(what: str, *words: str) -> None:
    with contextlib.suppress(OSError, AttributeError):
        os.nice(NICENESS)
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
