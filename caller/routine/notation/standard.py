"""Movements in standard words: what the reader reads back as the same movement.

Conventions: R and L for feet, fractions of a turn in figures, "beside L" rather than "together".
"""

from __future__ import annotations

from collections.abc import Sequence
from fractions import Fraction
from functools import lru_cache

from caller.routine.facing import EIGHTHS, Turn
from caller.routine.figures import Figure, Verb
from caller.routine.step import Foot, Movement, Weight
from caller.routine.vocabulary import Vocabulary

# Directions as written; {other} is the foot gone past.
_WHERE = {
    "side": "to side",
    "beside": "beside {other}",
    "over": "over {other}",
    "behind": "behind {other}",
    "forward diagonal": "diagonally forward",
    "back diagonal": "diagonally back",
    "place": "in place",
}
# Verbs whose own direction goes without saying.
_PLAIN = frozenset(("walk", "run", "scuff", "brush", "flick", "drop"))


def turn_written(turn: Turn) -> str:
    """ "1/4 left", "1 1/4 right", "full right"; "" for no turn."""
    if not turn:
        return ""
    side = "right" if turn.eighths > 0 else "left"
    whole, rest = divmod(abs(turn.eighths), EIGHTHS)
    part = str(Fraction(rest, EIGHTHS))
    if not rest:
        return f"{'full' if whole == 1 else f'{whole * 2}/2'} {side}"
    return f"{f'{whole} ' if whole else ''}{part} {side}"


def _verb_of(action: str, vocabulary: Vocabulary) -> Verb | None:
    own = vocabulary.verbs.get(action)
    if own is not None and own.reads == action:
        return own
    return next((verb for verb in vocabulary.verbs.values() if verb.reads == action), None)


def movement_written(movement: Movement, vocabulary: Vocabulary) -> str:
    """One movement, told so that it can stand alone: "step L forward turning 1/4 left"."""
    verb = _verb_of(movement.action, vocabulary)
    if verb is None:
        return movement.action
    words = [verb.name]
    if movement.foot is not None and not verb.turns:
        words.append(movement.foot.value)
    if movement.where and not (movement.where == verb.where and verb.name in _PLAIN):
        other = movement.foot.other.value if movement.foot else ""
        where = _WHERE.get(movement.where, movement.where).format(other=other)
        words.append(where if other else where.split(" ")[0] if "{other}" in _WHERE.get(movement.where, "") else where)
    if movement.turn:
        words += [*([] if verb.turns else ["turning"]), turn_written(movement.turn)]
    natural = verb.movement(movement.foot, movement.where, movement.turn).weight
    return " ".join(words) + _weight_written(movement.weight, natural)


def _weight_written(weight: Weight | None, natural: Weight | None) -> str:
    if weight is natural:
        return ""
    if weight is None:
        return " (no weight)"
    return f", weight on {'both feet' if weight is Weight.BOTH else weight.value}"


@lru_cache(maxsize=1024)
def figure_written(figure: Figure, way: str, lead: Foot, turn: Turn) -> str:
    """ "right shuffle forward turning 1/2 left", "vine left"."""
    where = f" {'in place' if way == 'place' else way}" if way and len(figure.ways) > 1 else ""
    turning = f"{'' if figure.name.endswith('turn') else ' turning'} {turn_written(turn)}" if turn else ""
    if figure.by_direction:
        return f"{figure.name} {lead.word}{turning}"
    return f"{lead.word} {figure.name}{where}{turning}"


def movements_written(movements: Sequence[Movement], shared: Sequence[bool], vocabulary: Vocabulary) -> list[str]:
    """Movements in a row, a verb not said again where only the foot changes ("walk R", "L").

    shared: whether each falls on the beat of the one before; such a one is told "with" it.
    """
    written: list[str] = []
    for n, (movement, beside) in enumerate(zip(movements, shared, strict=True)):
        before = movements[n - 1] if n else None
        if before is not None and not beside and not shared[n - 1] and _same_verb(before, movement, vocabulary):
            assert movement.foot is not None
            written.append(movement.foot.value)
        else:
            words = movement_written(movement, vocabulary)
            written.append(f"with {words}" if beside else words)
    return written


def _same_verb(before: Movement, movement: Movement, vocabulary: Vocabulary) -> bool:
    verb = _verb_of(movement.action, vocabulary)
    if verb is None or movement.foot is None or before.foot is None or movement.turn or before.turn:
        return False
    plain = movement.where in ("", verb.where) and verb.name in (*_PLAIN, "sway", "bump", "skate", "stomp", "stamp")
    as_usual = all(m.weight is verb.movement(m.foot, m.where).weight for m in (before, movement))
    return plain and as_usual and (before.action, before.where) == (movement.action, movement.where)
