"""How well a way to read a line fits what the sheet says: the foot named, the weight before and stated, facings stated.

A cost is a number without unit, 0 where all agrees. What is weighed here chooses between readings that the words leave
open; it never makes a fault of the author's disappear, since no reading changes what the words say.
"""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass, replace

from caller.routine.count import Beat
from caller.routine.facing import Facing
from caller.routine.notation.candidates import Candidate, Effort, Plain, candidates, leaves_open
from caller.routine.notation.feet import settle
from caller.routine.notation.fitting import Fit, Fitting, merge_turns
from caller.routine.notation.told import Told
from caller.routine.notation.turning import way_told
from caller.routine.step import Foot, Movement, Weight
from caller.routine.vocabulary import Vocabulary
from caller.routine.walk import moving_foot

_TROUBLE, _CONFLICT, _WEIGHT, _FACING, _GUESS = 30.0, 12.0, 8.0, 5.0, 1.0
SURE = 0.5  # what costs no more is taken without looking further
_MOST_TRIED = 24  # candidates of one line
_UNASKED = 2.0  # what it costs to take a way that is not said, beyond asking for it
_WIDEST = 14.0  # how much more than the best a reading may cost and still be kept for what comes after it

# Movements that are nothing without a foot: where it is not known, neither is the weight after them.
_BEARING = frozenset(
    ("step", "walk", "run", "cross", "rock", "recover", "stomp", "stamp", "lunge", "press", "slide", "skate")
) | frozenset(("push", "drop", "leap", "pivot"))


@dataclass(frozen=True, slots=True)
class Stance:
    """Where the dancer stands between two lines. facing: as far as stated facings tell it, None = unknown."""

    weight: Weight | None
    facing: Facing | None = None
    before: Movement | None = None

    @property
    def key(self) -> tuple[Weight | None, Facing | None]:
        return self.weight, self.facing


@dataclass(frozen=True, slots=True)
class Outcome:
    """A line as one reading has it. beats: of each movement; told is None where it is not read."""

    cost: float
    after: Stance
    candidate: Candidate | None = None
    told: Told | None = None
    beats: tuple[Beat, ...] = ()
    conflicts: int = 0


def outcomes(
    text: str, plain: Plain, beats: tuple[Beat, ...], stance: Stance, vocabulary: Vocabulary, effort: Effort
) -> list[Outcome]:
    """The ways to read a line from there, best first, one for each stance after it; none where none fits its counts."""
    best: dict[tuple[Weight | None, Facing | None], Outcome] = {}
    tried, way = 0, way_told(plain.reading.specs)
    for candidate in candidates(text, plain, len(beats), vocabulary, effort):
        for fitting in candidate.fittings:
            tried += 1
            read = _each_way(candidate, fitting, beats, stance, vocabulary, way)
            for one in read:
                known = best.get(one.after.key)
                if known is None or one.cost < known.cost:
                    best[one.after.key] = one
            if (one := read[0]).cost <= SURE and tried == 1 and not leaves_open(candidate.specs):
                return [one]
        lowest = min(one.cost for one in best.values())
        if lowest <= candidate.cost + SURE or tried >= _MOST_TRIED or not effort.spend(1):
            break
    found = sorted(best.values(), key=lambda one: one.cost)
    return [one for one in found if one.cost <= found[0].cost + _WIDEST]


def _each_way(
    candidate: Candidate,
    fitting: Fitting,
    beats: tuple[Beat, ...],
    stance: Stance,
    vocabulary: Vocabulary,
    way: Foot | None,
) -> list[Outcome]:
    """As the words have it; where they don't say which way it turns both ways too, which only a stated facing makes
    likelier than a question."""
    asked = _weigh(candidate, fitting, beats, stance, vocabulary, way)
    assert asked.told is not None
    wayless = sum(trouble.wayless for trouble in asked.told.troubles)
    if not wayless or stance.facing is None:
        return [asked]
    ways = [_weigh(candidate, fitting, beats, stance, vocabulary, foot) for foot in (Foot.RIGHT, Foot.LEFT)]
    return [asked, *(replace(one, cost=one.cost + (_TROUBLE - _GUESS) * wayless + _UNASKED) for one in ways)]


def _weigh(
    candidate: Candidate,
    fitting: Fitting,
    beats: tuple[Beat, ...],
    stance: Stance,
    vocabulary: Vocabulary,
    way: Foot | None,
) -> Outcome:
    fitted = merge_turns(candidate.specs, fitting.fits, vocabulary)
    told = settle(fitted, stance.weight, stance.before, way)
    conflicts = _conflicts(told.movements, stance.weight)
    facing, off = _facings(told, stance.facing)
    cost = (
        candidate.cost
        + fitting.give / 10
        + _TROUBLE * len(told.troubles)
        + _CONFLICT * conflicts
        + _GUESS * len(told.guesses)
    )
    cost += _FACING * off + _WEIGHT * _weights_off(told, stance.weight)
    after = Stance(None if conflicts or _unsure(told) else told.weight, facing, told.last())
    return Outcome(cost, after, candidate, told, tuple(_beats_of([f for _, f in fitted], beats)), conflicts)


def _conflicts(movements: Sequence[Movement], weight: Weight | None) -> int:
    """Movements of a foot that bears the weight."""
    found = 0
    for movement in movements:
        foot: Foot | None = moving_foot(movement)
        if movement.action == "unread":
            weight = None
        elif foot is not None and weight is not None and not weight.frees(foot):
            found += 1
            weight = None
        else:
            weight = movement.weight or weight
    return found


def _weights_off(told: Told, weight: Weight | None) -> int:
    """Stated weights that are not the ones danced."""
    if not told.stated:
        return 0
    return sum(1 for after, stated in _with_claims(told, weight) if stated is not None and after not in (None, stated))


def _with_claims(told: Told, weight: Weight | None) -> Iterator[tuple[Weight | None, Weight | None]]:
    stated = {index: one.weight for index, one, _ in told.stated if one.weight is not None}
    for n, movement in enumerate(told.movements):
        weight = movement.weight or weight
        yield weight, stated.get(n)


def _facings(told: Told, facing: Facing | None) -> tuple[Facing | None, int]:
    """The facing after the line, and how many of the facings stated are others than those danced."""
    if facing is None and not told.stated:
        return None, 0
    stated = {index: one.facing for index, one, _ in told.stated if one.facing is not None}
    off = 0
    for n, movement in enumerate(told.movements):
        if movement.turn and facing is not None:
            facing = facing + movement.turn
        if (said := stated.get(n)) is not None:
            off += facing is not None and facing != said
            facing = said
    return facing, off


def _unsure(told: Told) -> bool:
    return any(
        m.action == "unread" or (m.foot is None and m.weight is None and m.action in _BEARING) for m in told.movements
    )


def _beats_of(fits: Sequence[Fit], beats: tuple[Beat, ...]) -> Iterator[Beat]:
    """The beat of each movement: the first beats of its specification, or the one before where it shares."""
    at = 0
    for one in fits:
        if one.shares:
            yield from [beats[max(0, at - 1)]] * one.moves
        else:
            yield from beats[at : at + one.moves]
            at += one.beats
