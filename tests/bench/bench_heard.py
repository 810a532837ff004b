"""What share of the words called an offline recogniser makes out of whole recorded runs, by tempo.

Run: ``python -m tests.bench.bench_heard [TEMPO ...]`` (100 and 140 where none is given) with pocketsphinx installed.
Each shipped routine is called ahead by the standard voice over its count track and mixed by the renderer that
``caller record`` and the loudspeaker share; each call is cut out of that recording from its first frame to its last,
clicks and all, and the recogniser chooses among all calls of the routine. Words that sound alike count as the same. A
machine is no hall (see :mod:`tests.bench.bench_intelligibility`): of use is the one tempo against the other, and
the last column, the same calls without the count track.
"""

from __future__ import annotations

import sys
from collections.abc import Iterator
from dataclasses import replace
from fractions import Fraction

import numpy as np

from caller.calls.plan import Manner
from caller.calls.score import make_take, phrases_needed
from caller.calls.take import Take
from caller.cli.running import ready_voice
from caller.cli.sheets import load, shipped_folder
from caller.dance.unroll import unroll
from caller.dance.walls import Dance
from caller.sound.loudness import SPEECH_LUFS, loudness
from caller.sound.mix import render
from caller.sound.score import RATE, Samples, Score
from tests.bench.bench_intelligibility import HEARD_RATE, QUIET_LU, Ear, told
from tests.bench.maskers import pink

TEMPOS = (100, 140)
AROUND = RATE // 4


def run_of(dance: Dance, tempo: int) -> Take:
    voice = ready_voice("standard", phrases_needed(dance, Manner.AHEAD))
    return make_take(
        dance,
        start=Fraction(0),
        end=Fraction(dance.counts),
        tempo=Fraction(tempo),
        manner=Manner.AHEAD,
        lexicon=voice,
        clips=voice.clip,
        count_in=2 * dance.routine.header.meter.counts,
    )


def heard(take: Take, score: Score, ear: Ear) -> Iterator[tuple[str, Samples]]:
    """Each call that the recogniser knows, cut out of the recording, a little time round it, over faint noise."""
    import soxr

    noise = pink() * np.float32(10 ** ((SPEECH_LUFS - QUIET_LU - loudness(pink())) / 20))
    for n, call in enumerate(take.plan.calls):
        if ear.knows(call.utterance.words):
            piece = np.pad(render(score, call.starts, call.ends).mean(axis=1), AROUND)
            piece += noise[n * 1000 : n * 1000 + len(piece)]
            yield call.utterance.words, np.clip(soxr.resample(piece, RATE, HEARD_RATE), -1, 1).astype(np.float32)


def main(tempos: tuple[int, ...]) -> None:
    known = Ear(None)
    dances = [unroll(load(path).read.routine, None) for path in sorted(shipped_folder("routines").glob("*.txt"))]
    print(f"{'routine':24} tempo  calls  whole  words, %  without clicks, %")
    for tempo in tempos:
        for dance in dances:
            take = run_of(dance, tempo)
            said = {call.utterance.words for call in take.plan.calls}
            ear = Ear(sorted(words for words in said if known.knows(words)))
            calls_alone = tuple(one for one in take.score.placements if one.kind == "call")
            mixed = told(ear, heard(take, take.score, ear))
            alone = told(ear, heard(take, replace(take.score, placements=calls_alone), ear))
            told_of = f"{dance.routine.header.title[:24]:24} {tempo:5} {mixed.of:6} {mixed.right:6}"
            print(f"{told_of} {100 * mixed.words:9.1f} {100 * alone.words:18.1f}", flush=True)


if __name__ == "__main__":
    main(tuple(int(word) for word in sys.argv[1:]) or TEMPOS)
