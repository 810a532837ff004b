"""How the renderer compares with the same clips laid over each other by pydub, a general-purpose library.

Run: ``python -m tests.bench.bench_render``. Prints ratios, each the best of some runs on either side; what they are
made of comes after them, for this machine. pydub adds whole 16-bit steps and places by the millisecond; the two results
are first held against each other, so that the same work is compared.
"""

from __future__ import annotations

import time
from collections.abc import Callable, Iterable

import numpy as np
import numpy.typing as npt
from pydub import AudioSegment

from caller.sound.clicks import ACCENT, COUNT, count_track
from caller.sound.mix import render
from caller.sound.reel import Reel, Splice, render_reel
from caller.sound.score import RATE, Clip, Placement, Score

FRAMES_A_MILLISECOND = RATE // 1_000
BLOCKS = (480, 8_193)
CALL_SECONDS = (0.4, 0.9, 1.4)


def a_class(seconds: int) -> Score:
    """A click at 120 a minute, four to a bar, and a call in every two seconds."""
    clicks = count_track((n * RATE // 2, COUNT if n % 4 else ACCENT) for n in range(2 * seconds))
    calls = [Placement(2 * n * RATE + 9 * RATE // 10, _call(n % 3), 1.0, "call") for n in range(seconds // 2)]
    return Score(tuple(sorted((*clicks, *calls), key=lambda placed: placed.frame)), seconds * RATE)


def _call(which: int) -> Clip:
    frames = round(CALL_SECONDS[which] * RATE)
    spoken = np.random.default_rng(which).normal(0, 0.1, frames).clip(-0.4, 0.4).astype(np.float32)
    return Clip(f"call {which}", spoken)


def by_us(score: Score, block: int) -> None:
    for first in range(0, score.frames, block):
        render(score, first, min(first + block, score.frames))


def by_reel(score: Score, block: int) -> None:
    reel = Reel((Splice(0, score),))
    for first in range(0, score.frames, block):
        render_reel(reel, first, min(first + block, score.frames))


def segments(score: Score) -> list[tuple[int, AudioSegment]]:
    """(place in ms, clip as pydub has it), made ready beforehand as our own clips are."""
    made = {(placed.clip.key, placed.gain): _segment(placed) for placed in score.placements}
    return [(one.frame // FRAMES_A_MILLISECOND, made[one.clip.key, one.gain]) for one in score.placements]


def _segment(placed: Placement) -> AudioSegment:
    steps = np.rint(placed.clip.samples * placed.gain * 32_768).astype(np.int16)
    return AudioSegment(steps.tobytes(), sample_width=2, frame_rate=RATE, channels=1)


def by_pydub(score: Score, clips: Iterable[tuple[int, AudioSegment]]) -> npt.NDArray[np.int16]:
    """Mono, as pydub overlays it; to stereo at the end, as ours is."""
    heard = AudioSegment.silent(1_000 * score.frames // RATE, frame_rate=RATE)
    for at_ms, clip in clips:
        heard = heard.overlay(clip, position=at_ms)
    return np.array(heard.set_channels(2).get_array_of_samples(), dtype=np.int16).reshape(-1, 2)


def best_seconds(act: Callable[[], object], runs: int = 5) -> float:
    taken = []
    for _ in range(runs):
        began = time.perf_counter()
        act()
        taken.append(time.perf_counter() - began)
    return min(taken)


def main() -> None:
    for seconds in (10, 60):
        score = a_class(seconds)
        clips = segments(score)
        apart = np.abs(np.rint(render(score, 0, score.frames) * 32_768) - by_pydub(score, clips)).max()
        if apart > 1:
            raise SystemExit(f"the two differ by {apart:.0f} steps: nothing to compare")
        theirs = best_seconds(lambda score=score, clips=clips: by_pydub(score, clips), 3)
        print(f"{seconds} s of a class; pydub's overlay takes {1_000 * theirs:.1f} ms")
        for name, act in (("score", by_us), ("reel", by_reel)):
            for block in (*BLOCKS, score.frames):
                ours = best_seconds(lambda act=act, score=score, block=block: act(score, block))
                told = f"{1_000 * ours:.1f} ms, {seconds / ours:,.0f} times real time"
                print(f"  {name} in blocks of {block}: {theirs / ours:.1f} times as quick ({told})")


if __name__ == "__main__":
    main()
