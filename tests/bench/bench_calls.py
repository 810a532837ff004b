"""The rules of calling counted over the shipped routines and the corpus with the standard voice, and a plan's cost.

Run: ``python -m tests.bench.bench_calls [FACTOR]``. FACTOR: of each sheet's own tempo. First walls; notices over all.
"""

from __future__ import annotations

import sys
import time
from fractions import Fraction
from pathlib import Path

from caller.calls.plan import Manner
from caller.calls.planning import highest_tempo
from caller.calls.score import make_take, phrases_needed
from caller.cli.running import ready_voice
from caller.dance.unroll import unroll
from caller.dance.walls import Dance
from caller.routine.notation.read import read_bytes
from tests.calls.counted import Broken, broken
from tests.corpus.sheets import sheet_text, sound_sheets

ROUTINES = Path(__file__).parents[2] / "routines"
USUAL_TEMPO = 100


def main(factor: Fraction) -> None:
    shipped = [unroll(read_bytes(path.read_bytes()).routine) for path in sorted(ROUTINES.glob("*.txt"))]
    corpus = [unroll(read_bytes(sheet_text(*sheet).encode()).routine) for sheet in sound_sheets()]
    dances = [*shipped, *corpus]
    voice = ready_voice("standard", {phrase for dance in dances for phrase in phrases_needed(dance, Manner.AHEAD)})
    total, seconds = Broken(), 0.0
    for dance in dances:
        begun = time.process_time()
        take = make_take(
            dance,
            start=Fraction(0),
            end=Fraction(dance.counts),
            tempo=Fraction(dance.routine.header.tempo or USUAL_TEMPO) * factor,
            manner=Manner.AHEAD,
            lexicon=voice,
            clips=voice.clip,
            count_in=_clicked(dance),
        )
        seconds += time.process_time() - begun
        total.add(broken(take))
    print(f"{len(dances)} sheets at {float(factor):g} of their tempo, {seconds / len(dances) * 1e3:.0f} ms each")
    for name, found in vars(total).items():
        print(f"{name.replace('_', ' ')}: {len(found)}")
        for sentence in found:
            print(f"  {sentence}")
    for dance in shipped:
        top = highest_tempo(dance, Manner.AHEAD, voice, count_in=_clicked(dance))
        print(f"{dance.routine.header.title}: every step is called up to {top}")


def _clicked(dance: Dance) -> int:
    return 2 * dance.routine.header.meter.counts


if __name__ == "__main__":
    main(Fraction(sys.argv[1]) if len(sys.argv) > 1 else Fraction(1))
