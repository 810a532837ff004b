"""Specifications onto written counts: one movement on each, in order.

A hold fills what is left over, one lasting movement may fill a range, a turn told by itself may belong to the next
movement, and a clap or a drag told beside another may share its beat, where the counts leave no beat of its own. The
fitting with the least of such give is taken; where none fits, the counts don't match.
"""

from __future__ import annotations

from dataclasses import dataclass
from math import inf

from caller.routine.notation.spec import Spec
from caller.routine.vocabulary import Vocabulary

_SHARED, _MERGED, _STRETCHED, _OTHER_READING = 10, 10, 1, 5


@dataclass(frozen=True, slots=True)
class Fit:
    """How one specification takes its beats. beats: how many; moves: how many movements stand on the first of them;
    shares: on the beat of the one before; merges: its turn goes to the next; as_verb: a figure's words read as one
    verb."""

    beats: int
    moves: int
    shares: bool = False
    merges: bool = False
    as_verb: bool = False


def _choices(spec: Spec, last: bool, first: bool, room: int) -> list[tuple[float, Fit]]:
    if spec.figure is not None:
        size = len(spec.figure.each) * spec.times
        found: list[tuple[float, Fit]] = [(0, Fit(size, size))]
        if spec.figure.or_verb and spec.times == 1:
            found.append((_OTHER_READING, Fit(1, 1, as_verb=True)))
        return found
    verb = spec.verb
    assert verb is not None
    found = [(0, Fit(spec.times, spec.times))]
    if verb.lasting:
        give = 0.0 if verb.name == "hold" else _STRETCHED
        found += [(give + n / 100, Fit(spec.times + n, spec.times)) for n in range(1, room - spec.times + 1)]
    if verb.name == "turn" and spec.turn is not None and not last:
        found.append((_MERGED, Fit(0, 0, merges=True)))
    if not first and spec.beside:
        found.append((_SHARED, Fit(0, spec.times, shares=True)))
    return found


def fit(specs: list[Spec], beats: int) -> list[Fit] | None:
    """The fitting of least give of all ``specs`` onto so many beats, None where there is none."""
    best: dict[int, tuple[float, list[Fit]]] = {0: (0.0, [])}
    for n, spec in enumerate(specs):
        after: dict[int, tuple[float, list[Fit]]] = {}
        for used, (cost, fits) in best.items():
            for give, choice in _choices(spec, n == len(specs) - 1, n == 0, beats - used):
                total = used + choice.beats
                if total <= beats and cost + give < after.get(total, (inf, []))[0]:
                    after[total] = (cost + give, [*fits, choice])
        best = after
    return best[beats][1] if beats in best else None


def movements_of(specs: list[Spec]) -> int:
    """How many movements are told, each on a beat of its own."""
    return sum((len(s.figure.each) if s.figure else 1) * s.times for s in specs)


def merge_turns(specs: list[Spec], fits: list[Fit], vocabulary: Vocabulary) -> list[tuple[Spec, Fit]]:
    """Hands each merged turn to the specification after it; figures read as verbs become such."""
    merged: list[tuple[Spec, Fit]] = []
    waiting: Spec | None = None
    for spec, one in zip(specs, fits, strict=True):
        if one.merges:
            waiting = spec
            continue
        if one.as_verb and spec.figure is not None:
            spec.verb, spec.figure = vocabulary.verbs[spec.figure.or_verb], None
        if waiting is not None:
            if spec.turn is None:
                spec.turn, spec.way = waiting.turn, spec.way or waiting.way
            waiting = None
        merged.append((spec, one))
    return merged
