"""The rules of calling counted over every sheet that is accepted, with the standard voice, and a plan's cost.

Run: ``python -m tests.bench.bench_calls [TEMPO ...]``. TEMPO: counts a minute, or "own" for each sheet's (100 where it
tells none); all of "own", 80, 120 and 140 where none is given. First walls; notices over all walls. The sheets: those
shipped, both halves of the corpus, and the strangers' that are not refused. Last: how fast the shipped may be called.
"""

from __future__ import annotations

import sys
import time
from collections.abc import Iterator
from fractions import Fraction
from pathlib import Path

from caller.calls.plan import Manner
from caller.calls.planning import highest_tempo
from caller.calls.score import make_take
from caller.dance.unroll import unroll
from caller.dance.walls import Dance
from caller.routine.notation.read import read_bytes
from tests.bench.lengths import Lengths, called_from_the_top
from tests.calls.counted import Broken, broken
from tests.corpus.held_against import accepted
from tests.corpus.sheets import sheet_text, sound_sheets

ROUTINES = Path(__file__).parents[2] / "routines"
USUAL_TEMPO = 100
OWN, TEMPOS = "own", ("own", "80", "120", "140")


def dances() -> Iterator[tuple[str, Dance]]:
    """Each by a name for its sheet."""
    for path in sorted(ROUTINES.glob("*.txt")):
        yield path.stem, unroll(read_bytes(path.read_bytes()).routine)
    for half, name in sound_sheets():
        yield f"{half}/{name}", unroll(read_bytes(sheet_text(half, name).encode()).routine)
    for name, sheet in accepted():
        yield name, unroll(sheet.routine)


def counted(name: str, dance: Dance, tempo: str, voice: Lengths) -> Broken:
    """What one sheet's calls break at a tempo, each sentence with the sheet's name."""
    own = Fraction(dance.routine.header.tempo or USUAL_TEMPO)
    take = make_take(
        dance,
        start=Fraction(0),
        end=Fraction(dance.counts),
        tempo=own if tempo == OWN else Fraction(tempo),
        manner=Manner.AHEAD,
        lexicon=voice,
        clips=voice.clip,
        count_in=_clicked(dance),
    )
    found = broken(take)
    for rule, sentences in vars(found).items():
        setattr(found, rule, [f"{name}: {sentence}" for sentence in sentences])
    return found


def main(tempos: tuple[str, ...]) -> None:
    every = dict(dances())
    voice = Lengths()
    voice.measure({phrase for dance in every.values() for phrase in called_from_the_top(dance)})
    table: dict[str, dict[str, int]] = {}
    for tempo in tempos:
        total, begun = Broken(), time.process_time()
        for name, dance in every.items():
            total.add(counted(name, dance, tempo, voice))
        spent = (time.process_time() - begun) / len(every)
        table[tempo] = total.counts()
        print(f"{len(every)} sheets at {tempo}, {spent * 1e3:.0f} ms each, counting included")
        for rule, sentences in vars(total).items():
            print("\n".join([f"{rule.replace('_', ' ')}: {len(sentences)}", *(f"  {one}" for one in sentences)]))
    print(f"\n{'':16}" + "".join(f"{tempo:>6}" for tempo in tempos))
    for rule in Broken().counts():
        print(f"{rule.replace('_', ' '):16}" + "".join(f"{table[tempo][rule]:6}" for tempo in tempos))
    for dance in list(every.values())[: len(list(ROUTINES.glob("*.txt")))]:
        top = highest_tempo(dance, Manner.AHEAD, voice, count_in=_clicked(dance))
        print(f"{dance.routine.header.title}: every step is called up to {top}")


def _clicked(dance: Dance) -> int:
    return 2 * dance.routine.header.meter.counts


if __name__ == "__main__":
    main(tuple(sys.argv[1:]) or TEMPOS)
