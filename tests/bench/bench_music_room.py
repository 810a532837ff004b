"""What the child that works on a recording takes, in memory at most and in time: by what it does, and by how long.

    python -m tests.bench.bench_music_room               3:30, 12 and 20 minutes, stereo at 44.1 kHz
    python -m tests.bench.bench_music_room MINUTES ...

A recording that is met for the first time is read and its beats are found; one whose tempo wavers is evened once; a new
tempo is heard when its excerpt is there, and goes on when the whole is: told is when each is, how much of that a
plain stretch of the whole takes (one process, one go), and how much of the excerpt is yet to be played when the whole
is there, which must never be none. The baseline is the plain way, in a child of its own: the whole file read
(soundfile) and resampled (soxr). An hour's file is to be refused in one sentence, without anything of it being read.
Memory is measured as Linux tells it.
"""

from __future__ import annotations

import json
import subprocess
import sys
import tempfile
import time
from collections.abc import Callable
from concurrent.futures import ThreadPoolExecutor
from fractions import Fraction
from pathlib import Path
from typing import Any

import numpy as np
import soundfile

from caller.children.starting import python
from caller.rig.music.excerpt import EXCERPT_FRAMES
from caller.rig.music.workshop import EXCERPT_BEFORE_SECONDS, Workshop
from caller.sound.score import RATE, Samples
from tests.fakes.songs import tune

MEASURED = """
import resource, subprocess, sys, time
began = time.perf_counter()
child = subprocess.Popen(sys.argv[1:], stdin=subprocess.PIPE, stdout=subprocess.PIPE, stderr=subprocess.DEVNULL)
printed = child.stdout.read()
child.wait()
used = resource.getrusage(resource.RUSAGE_CHILDREN)
sys.stdout.buffer.write(printed)
print()
print(time.perf_counter() - began, used.ru_utime + used.ru_stime, used.ru_maxrss / 1024)
"""
FILE_RATE, TEMPO, FIRST = 44_100, 104, 0.5
PLAIN = """
import sys, soundfile, soxr
sound, rate = soundfile.read(sys.argv[1], dtype="float32", always_2d=True)
print(len(soxr.resample(sound, rate, 48_000, quality="VHQ")))
"""
AT_ONE_GO = """
import sys, fractions, numpy
from caller.rig.music.stretch import stretched
numpy.save(sys.argv[1] + ".plain.npy", stretched(numpy.load(sys.argv[1]), fractions.Fraction(sys.argv[2])))
"""


def main() -> None:
    told = [float(word) for word in sys.argv[1:]] or [3.5, 12.0, 20.0]
    with tempfile.TemporaryDirectory() as folder:
        for minutes in told:
            _of(minutes, Path(folder))
        hour = Path(folder) / "hour.flac"
        _write(hour, 60)
        seconds, core, most, said = _run(python("caller.rig.music.child", "read", str(hour), folder))
        print(f"an hour: {most:.0f} MB, {_times(seconds, core)}: {said.get('fault')}")


def _of(minutes: float, folder: Path) -> None:
    file = folder / "song.flac"
    _write(file, minutes)
    seconds, core, plain, _ = _run([sys.executable, "-c", PLAIN, str(file)])
    print(f"{minutes:g} minutes: read and resampled the plain way {plain:.0f} MB, {_times(seconds, core)}", flush=True)
    *_, said = _run(python("caller.rig.music.child", "read", str(file), str(folder)))
    recording = folder / f"{said['recorded']['digest']}.npy"
    beats = FIRST + np.arange(int(minutes * TEMPO) - 2) * 60 / TEMPO
    wavering = beats + 0.03 * np.sin(np.arange(len(beats)) / 12)
    took: dict[str, tuple[float, float]] = {}
    for words in (
        ["read", str(file), str(folder)],
        ["beats", str(recording), str(TEMPO), "", "4", "16"],
        ["even", str(recording), str(folder / "beats.npy"), str(folder / "even.npy")],
        ["newness", str(recording), str(folder / "beats.npy"), "4", "16,48,80"],
        ["excerpt", str(recording), "1/2", "60", str(folder / "part.npy")],
        ["stretch", str(recording), "3/4", str(folder / "three.npy")],
        ["stretch", str(recording), "1/2", str(folder / "half.npy")],
    ):
        np.save(folder / "beats.npy", np.stack([wavering, beats]) if words[0] == "even" else beats)
        seconds, core, most, said = _run(python("caller.rig.music.child", *words, ends_with_stdin=True))
        name = f"{words[0]} {words[2] if words[0] in ('stretch', 'excerpt') else ''}"
        fault = said.get("fault", "")
        took[words[0]] = seconds, core
        print(f"  {name:12} {most:6.0f} MB  {most / plain:.2f} of that  {_times(seconds, core)} {fault}", flush=True)
    for name, parts in (("met first", ("read", "beats")), ("new tempo", ("even", "excerpt"))):
        seconds, core = (sum(took[part][n] for part in parts) for n in (0, 1))
        print(f"  {name} ({' and '.join(parts)}): {_times(seconds, core)}", flush=True)
    for speed in (Fraction(3, 4), Fraction(1, 2)):
        plain, _, most, _ = _run([sys.executable, "-c", AT_ONE_GO, str(recording), str(float(speed))])
        print(f"  new tempo {float(speed):.0%}: at one go {plain:.1f} s, {most:.0f} MB", flush=True)
        for at in (0, int(minutes * 30), int(minutes * 60 - 50)):
            heard, whole = _new_tempo(folder / "kept", file, speed, at)
            left = (EXCERPT_FRAMES / RATE - EXCERPT_BEFORE_SECONDS) / float(speed) - (whole - heard)
            print(
                f"    from {at:4} s on: heard after {heard:.1f} s ({heard / plain:.2f} of that), whole after "
                f"{whole:.1f} ({whole / plain:.2f}), {left:.0f} s before it is needed",
                flush=True,
            )
    for made in folder.rglob("*.npy"):
        made.unlink()


def _new_tempo(folder: Path, file: Path, speed: Fraction, at: int) -> tuple[float, float]:
    """Seconds until the excerpt at a time is there, and the whole, made side by side as while a class dances."""
    shop = Workshop(folder)
    recorded, place = shop.read(file), Fraction(at)
    for made in folder.glob(f"{recorded.digest}-*.npy"):
        made.unlink()
    began = time.perf_counter()

    def there(make: Callable[[], object]) -> float:
        make()
        return time.perf_counter() - began

    with ThreadPoolExecutor(2) as both:
        whole = both.submit(there, lambda: shop.version(recorded, speed, hurry=True, excerpt_at=place))
        heard = both.submit(there, lambda: shop.excerpt(recorded, speed, place))
        return heard.result(), whole.result()


def _times(seconds: float, core: float) -> str:
    return f"{seconds:5.1f} s, {core:5.1f} of a core"


def _write(file: Path, minutes: float) -> None:
    """Both channels differ. Written minute by minute."""
    minute: Samples = tune(TEMPO, 60, FIRST)
    draw = np.random.default_rng(0)
    with soundfile.SoundFile(file, "w", FILE_RATE, 2, "PCM_16") as sound:
        for n in range(int(np.ceil(minutes))):
            one = minute + draw.normal(0, 0.003, len(minute)).astype(np.float32)
            both = np.stack([one, 0.8 * one + 0.01], 1)
            sound.write(both[: int(FILE_RATE * 60 * min(minutes - n, 1.0))][: RATE * 60])


def _run(command: list[str]) -> tuple[float, float, float, dict[str, Any]]:
    """Seconds of the clock and of a core, MB at most, and what it told. Started by a small process of its own, since
    what a process takes at most is counted from the one that it comes from."""
    done = subprocess.run(
        [sys.executable, "-I", "-c", MEASURED, *command], stdin=subprocess.DEVNULL, capture_output=True, check=True
    )
    *printed, measured = done.stdout.splitlines()
    seconds, core, most = (float(word) for word in measured.split())
    told = [json.loads(line) for line in printed if line.startswith(b"{")]
    return seconds, core, most, told[-1] if told else {}


if __name__ == "__main__":
    main()
