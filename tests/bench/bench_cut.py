"""How loud a pause is that cuts the sound off in mid-sample, beside a click of the count track.

``python -m tests.bench.bench_cut``: the dance is rendered with the real voice; at 2,000 places, evenly spread, what an
abrupt end adds to one that fades within 5 ms is weighted as for loudness (ITU-R BS.1770's K) and its loudest 10 ms
compared with the loudest 10 ms of the median count. Baseline: those counts.
"""

from __future__ import annotations

import json
import subprocess
import sys
import tempfile
from pathlib import Path

import numpy as np
import numpy.typing as npt
import pyloudnorm
import soundfile

PLACES, FADE_SECONDS, LOUDEST_SECONDS = 2_000, 0.005, 0.01

Floats = npt.NDArray[np.float64]


def recorded(folder: Path) -> tuple[Floats, int, list[int]]:
    """One channel of a dance, its rate, and the frames of its counts."""
    file = folder / "dance.wav"
    command = (sys.executable, "-m", "caller", "record", "Lantern Row", "--json", "-o", str(file))
    told = json.loads(subprocess.run(command, check=True, capture_output=True).stdout)
    samples, rate = soundfile.read(file)
    return samples[:, 0], rate, [onset["frame"] for onset in told["onsets"] if onset["kind"] == "count"]


def weighted(samples: Floats, rate: int) -> Floats:
    for stage in pyloudnorm.Meter(rate)._filters.values():
        samples = stage.apply_filter(samples)
    return samples


def loudest(samples: Floats, rate: int) -> float:
    """dB of the loudest LOUDEST_SECONDS, as weighted."""
    width = round(LOUDEST_SECONDS * rate)
    energy = np.convolve(weighted(samples, rate) ** 2, np.full(width, 1 / width), "valid")
    return float(10 * np.log10(energy.max() + 1e-12))


def added_by_cut(samples: Floats, rate: int, at: int) -> float:
    """dB of what cutting at a frame adds to fading from there on."""
    fade = round(FADE_SECONDS * rate)
    tail = samples[at : at + fade] * np.linspace(1, 0, fade)
    quiet = np.zeros(rate // 20)
    return loudest(np.concatenate([quiet, tail, quiet]), rate)


def main() -> None:
    with tempfile.TemporaryDirectory() as folder:
        samples, rate, counts = recorded(Path(folder))
    clicks = [loudest(samples[at : at + rate // 20], rate) for at in counts]
    count = float(np.median(clicks))
    places = np.linspace(counts[0], counts[-1], PLACES).astype(int)
    cuts = np.array([added_by_cut(samples, rate, at) for at in places])
    print(f"count: {count:.1f} dB (median of {len(clicks)}); cut: median {np.median(cuts):.1f}, worst {cuts.max():.1f}")
    print(f"cuts louder than a count: {(cuts > count).mean():.1%}; count : worst cut = {count - cuts.max():.1f} dB")


if __name__ == "__main__":
    main()
