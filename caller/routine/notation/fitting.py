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
    verb; each_foot: the figure is danced once from each foot named."""

    beats: int
    moves: int
    shares: bool = False
    merges: bool = False
    as_verb: bool = False
    each_foot: bool = False


def _plain(spec: Spec) -> Fit:
    """A count for each movement."""
    size = spec.times * (len(spec.figure.each) if spec.figure is not None else 1)
    return Fit(size, size)


def _choices(spec: Spec, last: bool, first: bool, room: int) -> list[tuple[float, Fit]]:
    if spec.figure is not None:
        size = len(spec.figure.each)
        found: list[tuple[float, Fit]] = [(0, _plain(spec))]
        if spec.figure.or_verb and spec.times == 1:
            found.append((_OTHER_READING, Fit(1, 1, as_verb=True)))
        if len(spec.feet) > 1 and spec.times == 1 and not spec.listing:
            size *= len(spec.feet)
            found.append((_OTHER_READING, Fit(size, size, each_foot=True)))
        return found
    verb = spec.verb
    assert verb is not None
    found = [(0, _plain(spec))]
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
    plain = [_plain(spec) for spec in specs]
    if sum(one.beats for one in plain) == beats:
        return plain  # no give at all
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
    for n, (spec, _) in enumerate(merged[1:], 1):
        after = merged[n + 1][0] if n + 1 < len(merged) else None
        if _turns_on(merged[n - 1][0], spec, after):
            spec.verb = vocabulary.verbs["pivot"]
    return merged


def _turns_on(before: Spec, spec: Spec, after: Spec | None) -> bool:
    """ "step R forward, turn 1/2 left": a turn on a count of its own, away from the foot stepped on, is a pivot, unless
    that foot is said to bear the weight still."""
    steps = before.verb is not None and before.verb.name == "step" and before.wheres in ([], ["forward"])
    turns = spec.verb is not None and spec.verb.name == "turn" and not (spec.feet or spec.beside)
    if not (steps and turns) or before.turn is not None or spec.turn is None or spec.weight is not None:
        return False
    if not before.feet:
        return True
    foot = before.feet[0]
    stays = after is not None and after.feet[:1] == [foot.other]
    return spec.way is foot.other and not stays
