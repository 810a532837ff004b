"""What a take-home recording costs, beside pydub's overlay of the same clips at the same places; and all cores beside
one.

Run: ``python -m tests.bench.bench_takehome``. Speech is the real voice's where there is one (made ready beforehand:
warm), else noise of the lengths that a voice has. One-core figures are of processor time, so that a busy machine
does not enter them; the ratio of all cores to one is of time on the wall. The two renderings are first held against
each other: pydub adds whole 16-bit steps, so they may differ by a step for each sound that is heard at once.
"""

from __future__ import annotations

import tempfile
import time
from collections.abc import Callable, Iterable
from fractions import Fraction
from pathlib import Path
from typing import Any

import numpy as np
import numpy.typing as npt
from pydub import AudioSegment

from caller.calls.score import phrases_needed
from caller.calls.take import Take
from caller.children.starting import cores
from caller.cli.takehome import RecordingJob, make_recording
from caller.sound.mix import render
from caller.sound.score import RATE, Placement, Score
from caller.takehome.library import each_made
from caller.takehome.packet import take_of_version, write_recording
from caller.takehome.recording import BLOCK_FRAMES
from caller.takehome.versions import VERSIONS
from tests.fakes.lexicon import MeasuredVoice
from tests.takehome.packets import ROUTINES, STEMS, shipped_dance, version

FRAMES_A_MILLISECOND = RATE // 1_000
WANTED = 200


def warm_voice(dances: Iterable[Any]) -> Any:
    """The standard voice with all phrases made; a voice of known lengths where there is none."""
    from caller.rig.speech.lexicon import open_lexicon
    from caller.rig.speech.voices import find_voice

    voice = open_lexicon(find_voice("standard"))
    voice.prepare({p for dance in dances for v in VERSIONS for p in phrases_needed(dance, v.manner)})
    voice.close()
    return MeasuredVoice() if getattr(voice, "why", "") else voice


def cpu_seconds(act: Callable[[], object], runs: int = 3) -> float:
    taken = []
    for _ in range(runs):
        began = time.process_time()
        act()
        taken.append(time.process_time() - began)
    return min(taken)


def by_us(score: Score) -> None:
    for first in range(0, score.frames, BLOCK_FRAMES):
        render(score, first, min(first + BLOCK_FRAMES, score.frames))


def segments(score: Score) -> list[tuple[int, AudioSegment]]:
    """(place in ms, clip as pydub has it). pydub places by the millisecond: what is left of a frame's place goes before
    the clip as silence, so that both put every sound on the same frame."""
    made: dict[tuple[str, float, int], AudioSegment] = {}
    for one in score.placements:
        made.setdefault((one.clip.key, one.gain, one.frame % FRAMES_A_MILLISECOND), _segment(one))
    return [
        (p.frame // FRAMES_A_MILLISECOND, made[p.clip.key, p.gain, p.frame % FRAMES_A_MILLISECOND])
        for p in score.placements
    ]


def _segment(placed: Placement) -> AudioSegment:
    before = np.zeros(placed.frame % FRAMES_A_MILLISECOND, np.int16)
    steps = np.rint(placed.clip.samples * placed.gain * 32_768).astype(np.int16)
    raw = np.concatenate([before, steps]).tobytes()
    return AudioSegment(raw, sample_width=2, frame_rate=RATE, channels=1)


def by_pydub(score: Score, clips: Iterable[tuple[int, AudioSegment]]) -> npt.NDArray[np.int16]:
    heard = AudioSegment.silent(-(-1_000 * score.frames // RATE), frame_rate=RATE)
    for at_ms, clip in clips:
        heard = heard.overlay(clip, position=at_ms)
    return np.array(heard.get_array_of_samples(), dtype=np.int16)[: score.frames]


def most_at_once(score: Score) -> int:
    edges = sorted([(p.frame, 1) for p in score.placements] + [(p.end, -1) for p in score.placements])
    return int(np.cumsum([step for _, step in edges]).max())


def compare(take: Take) -> None:
    """Render alone, beside pydub."""
    score = Score(take.score.placements, take.score.frames, take.score.rate)  # pydub knows no ducking
    clips = segments(score)
    theirs_heard = by_pydub(score, clips)
    ours_heard = np.rint(render(score, 0, score.frames)[:, 0] * 32_768)
    apart = np.abs(ours_heard - theirs_heard).max()
    if apart > most_at_once(score):
        raise SystemExit(f"the two differ by {apart:.0f} steps: nothing to compare")
    seconds = score.frames / RATE
    ours, theirs = cpu_seconds(lambda: by_us(take.score)), cpu_seconds(lambda: by_pydub(score, clips), 1)
    what = f"rendering {seconds:.0f} s, {len(score.placements)} sounds"
    print(f"{what}: {theirs / ours:.0f} times as quick as pydub's overlay")
    print(f"  {seconds / ours:,.0f} times real time on one core ({WANTED} wanted); within {apart:.0f} step of it")


def whole_recordings(voice: Any, take: Take) -> None:
    """Planned, rendered, encoded, tagged, with captions: a recording from a warm voice to its file."""
    how = version("full-called")
    tempo = take.timeline.segments[0].tempo
    seconds = take.score.frames / RATE
    plan = cpu_seconds(lambda: take_of_version(take.dance, how, tempo, voice, voice.clip))
    print(f"  planning it: {seconds / plan:,.0f} times real time")
    for kind in ("flac", "ogg", "mp3"):
        with tempfile.TemporaryDirectory() as folder:

            def write(kind: str = kind, folder: str = folder) -> None:
                for file in Path(folder).iterdir():
                    file.unlink()
                write_recording(take, how, Path(folder), kind)

            wrote = cpu_seconds(write)
            print(f"  rendered, written and tagged as {kind}: {seconds / wrote:,.0f} times real time", end="; ")
            print(f"with planning {seconds / (plan + wrote):,.0f}")


def library(kind: str) -> None:
    """Every shipped routine, all six recordings: all cores beside one."""
    taken = {}
    for workers in (1, cores()):
        with tempfile.TemporaryDirectory() as folder:
            jobs = []
            for stem in STEMS:
                own = Path(folder, stem)
                own.mkdir()
                tempo = shipped_dance(stem).routine.header.tempo or Fraction(100)
                sheet = ROUTINES / f"{stem}.txt"
                jobs += [RecordingJob(sheet, None, tempo, "standard", v.name, v.speed, own, kind) for v in VERSIONS]
            began = time.perf_counter()
            failed = [outcome.why for outcome in each_made(jobs, make_recording, workers) if outcome.made is None]
            taken[workers] = time.perf_counter() - began
            if failed:
                raise SystemExit(failed[0])
    one, every = taken[1], taken[cores()]
    what = f"the library as {kind}, {len(STEMS) * len(VERSIONS)} recordings"
    print(f"{what}: {one / every:.2f} times as quick on {cores()} cores as on one ({one:.1f} s, {every:.1f} s)")


def main() -> None:
    stem = "lantern-row"
    voice = warm_voice(shipped_dance(each) for each in STEMS)
    dance = shipped_dance(stem)
    tempo = dance.routine.header.tempo or Fraction(100)
    for name in ("full-called", "half-called"):
        compare(take_of_version(dance, version(name), tempo, voice, voice.clip))
    whole_recordings(voice, take_of_version(dance, version("full-called"), tempo, voice, voice.clip))
    for kind in ("flac", "mp3"):
        library(kind)


if __name__ == "__main__":
    main()
