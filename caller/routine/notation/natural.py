"""The counts within a line that gives only its first and last: each figure by its own rhythm, each movement a count."""

from __future__ import annotations

from collections.abc import Sequence
from fractions import Fraction
from math import floor

from caller.routine.count import Counts
from caller.routine.notation.spec import Spec

LEAST_COUNTS = 6  # less is told with its own counts, and a shuffle on two of them is a slip
_PARTS = {Fraction(0): "", Fraction(1, 2): "&", Fraction(1, 4): "e", Fraction(3, 4): "a"}


def natural_counts(specs: Sequence[Spec], counts: Counts, least: int) -> str | None:
    """ "1-8  walk R, walk L, R shuffle forward, rock L, recover, L coaster" is danced on 1 2 3 & 4 5 6 7 & 8.

    None where the rhythms don't fill the counts, or the line needs none. least: counts that a line must have."""
    if len(counts.beats) < least or any(beat.part for beat in counts.beats):
        return None
    first, last = counts.beats[0].number, counts.beats[-1].number
    at, labels = first, list[str]()
    for spec in specs:
        if spec.beside or (spec.verb is not None and spec.verb.name == "turn" and not spec.feet):
            continue  # with what it is told beside
        for _ in range(spec.times):
            offsets = spec.figure.counts[0] if spec.figure is not None else (Fraction(0),)
            for offset in offsets:
                part = _PARTS.get(Fraction(offset) % 1)
                if part is None:
                    return None
                labels.append(part or str(at + floor(offset)))
            at += floor(offsets[-1]) + 1
    return " ".join(labels) if at == last + 1 and not all(label.isdigit() for label in labels) else None
