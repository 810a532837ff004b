"""Loudness as it is recorded: a whole routine with the real voice, written to a file and measured by pyloudnorm.

Outside: ITU-R BS.1770 by pyloudnorm for loudness; scipy's polyphase resampling to four times the rate for true peaks
(BS.1770 Annex 2); at least 10 LU (Torcoli et al. 2019), 20 dB for the hard of hearing (WCAG 1.4.7).
"""

from __future__ import annotations

from dataclasses import replace
from fractions import Fraction
from pathlib import Path

import numpy as np
import numpy.typing as npt
import pyloudnorm
import pytest
import soundfile
from scipy.signal import resample_poly

from caller.calls.plan import Manner
from caller.calls.score import make_take, phrases_needed
from caller.cli.sheets import load, shipped_folder
from caller.dance.unroll import unroll
from caller.rig.speech.lexicon import open_lexicon
from caller.rig.speech.voices import STANDARD, find_voice, voice_folders
from caller.sound.levels import duck_for
from caller.sound.score import RATE, Clip, Placement, Score
from caller.takehome.recording import record

pytestmark = pytest.mark.parts

Frames = npt.NDArray[np.float64]


@pytest.fixture(scope="module")
def called(speech: Path) -> Score:
    """Four walls of a shipped routine at a quick tempo."""
    dance = unroll(load(shipped_folder("routines") / "lantern-row.txt").read.routine, 4)
    voice = open_lexicon(find_voice(STANDARD, voice_folders()[:1]), speech)
    voice.prepare(phrases_needed(dance, Manner.AHEAD))
    voice.close()
    take = make_take(
        dance,
        start=Fraction(0),
        end=Fraction(dance.counts),
        tempo=Fraction(160),
        manner=Manner.AHEAD,
        lexicon=voice,
        clips=voice.clip,
        count_in=8,
    )
    return take.score


def muted(call: Placement) -> Placement:
    return replace(call, clip=Clip(f"mute {call.clip.key}", np.zeros_like(call.clip.samples)))


def recorded(score: Score, file: Path) -> Frames:
    record(score, file)
    samples, rate = soundfile.read(str(file))
    assert rate == RATE
    return np.asarray(samples)


def while_calling(heard: Frames, calls: list[Placement]) -> Frames:
    return np.concatenate([heard[call.frame : call.end] for call in calls])


@pytest.mark.parametrize("over", [10.0, 20.0])
def test_speech_stands_as_far_over_the_count_track_as_asked(called: Score, tmp_path: Path, over: float) -> None:
    score = replace(called, duck_db=duck_for(over))
    calls = [one for one in score.placements if one.kind == "call"]
    assert len(calls) > 40
    clicks = [one for one in score.placements if one.kind != "call"]
    speech = recorded(replace(score, placements=tuple(calls)), tmp_path / "speech.wav")
    count = recorded(replace(score, placements=(*clicks, *map(muted, calls))), tmp_path / "count.wav")
    meter = pyloudnorm.Meter(RATE, filter_class="DeMan")
    loud, soft = (meter.integrated_loudness(while_calling(heard, calls)) for heard in (speech, count))
    assert loud - soft >= over
    assert soft > -70  # it is still there


def test_no_true_peak_of_the_recording_passes_one_decibel_below_full_scale(called: Score, tmp_path: Path) -> None:
    for duck_db in (0.0, 10.0):
        heard = recorded(replace(called, duck_db=duck_db), tmp_path / "whole.wav")[:, 0]
        assert np.abs(resample_poly(heard, 4, 1)).max() < 10 ** (-1 / 20)
