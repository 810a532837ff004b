"""Which foot, which way: fitted specifications to movements, following the weight.

A foot that is not named is the free one, where only one can move. After a line that could not be read the weight is
unknown (None) and nothing is guessed: movements keep no foot until one is named again.
"""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass, field, replace

from caller.routine.facing import NO_TURN, Turn
from caller.routine.figures import Figure, Verb
from caller.routine.notation.directions import combined
from caller.routine.notation.fitting import Fit
from caller.routine.notation.spec import Spec, Trouble
from caller.routine.notation.stated import Stated
from caller.routine.step import Foot, Movement, Weight

UNREAD = Movement("unread")


@dataclass(frozen=True, slots=True)
class Named:
    """A figure told by name: the movements first to last are its."""

    first: int
    last: int
    figure: Figure
    way: str
    lead: Foot
    turn: Turn


@dataclass(slots=True)
class Told:
    """What a line tells once feet are settled. stated: (index of the movement it stands after, what, column)."""

    movements: list[Movement] = field(default_factory=list)
    columns: list[int] = field(default_factory=list)
    named: list[Named] = field(default_factory=list)
    stated: list[tuple[int, Stated, int]] = field(default_factory=list)
    troubles: list[Trouble] = field(default_factory=list)
    weight: Weight | None = None


def settle(fitted: list[tuple[Spec, Fit]], weight: Weight | None) -> Told:
    """Movements with their feet, starting with the weight there; the weight after them is in the result."""
    told = Told(weight=weight)
    for spec, _ in fitted:
        start = len(told.movements)
        for movements, named in _spec_movements(spec, told):
            if named is not None:
                at = len(told.movements)
                told.named.append(Named(at, at + len(movements) - 1, *named))
            for movement in movements:
                told.movements.append(movement)
                told.columns.append(spec.column)
                told.weight = movement.weight or told.weight
        if len(told.movements) > start:
            _close_spec(spec, told)
    return told


def _close_spec(spec: Spec, told: Told) -> None:
    """What the sheet says of the weight, and the claims that stand after this specification."""
    last = len(told.movements) - 1
    if spec.unweighted:
        before = told.movements[last]
        told.movements[last] = replace(
            before, action="stomp up" if before.action == "stomp" else before.action, weight=None
        )
        told.weight = _weight_before(told, last)
    if spec.weight is not None:
        told.movements[last] = replace(told.movements[last], weight=spec.weight)
        told.weight = spec.weight
    for stated, column in spec.stated:
        if stated.weight in (Weight.LEFT, Weight.RIGHT) and told.weight is Weight.BOTH:
            told.movements[last] = replace(told.movements[last], weight=stated.weight)
            told.weight = stated.weight
        told.stated.append((last, stated, column))


def _weight_before(told: Told, index: int) -> Weight | None:
    return next((m.weight for m in reversed(told.movements[:index]) if m.weight is not None), told.weight)


_Group = tuple[Figure, str, Foot, Turn]


def _spec_movements(spec: Spec, told: Told) -> Iterator[tuple[list[Movement], _Group | None]]:
    where = combined(spec.wheres)
    if where is None:
        told.troubles.append(Trouble(spec.column, f"{' '.join(spec.wheres)!r} is two directions at once; say one"))
        yield [UNREAD], None
        return
    turn = _turn_of(spec, told)
    if turn is None:
        yield [UNREAD], None
        return
    for time in range(spec.times):
        if spec.figure is not None:
            yield _figure_movements(spec, where, turn, told, again=time > 0)
        else:
            yield [_verb_movement(spec, where, turn if time == 0 else NO_TURN, told, again=time > 0)], None


def _turn_of(spec: Spec, told: Told) -> Turn | None:
    if spec.turn is None:
        if spec.figure is not None and spec.figure.needs_turn:
            told.troubles.append(
                Trouble(spec.column, f"how far does the {spec.figure.name} turn? Say, for one, 'turning 1/4 left'")
            )
            return None
        if spec.verb is not None and spec.verb.turns:
            told.troubles.append(
                Trouble(
                    spec.column,
                    f"how far does the {spec.verb.name} turn, and which way? Say, for one, '{spec.verb.name} 1/4 left'",
                )
            )
            return None
        return NO_TURN
    way = spec.way
    if way is None and spec.figure is not None and spec.figure.name == "monterey":
        way = spec.feet[0] if spec.feet else told.weight.free_foot if told.weight else None
    if way is None:
        told.troubles.append(Trouble(spec.column, "which way does it turn, left or right?"))
        return None
    return Turn(spec.turn if way is Foot.RIGHT else -spec.turn)


def _verb_movement(spec: Spec, where: str, turn: Turn, told: Told, again: bool) -> Movement:
    verb = spec.verb
    assert verb is not None
    if verb.needs_where and not where:
        told.troubles.append(Trouble(spec.column, f"{verb.name} which way: forward, back or to the side?"))
        return replace(UNREAD, turn=turn)
    if verb.footless:
        foot = spec.feet[0] if spec.feet and verb.bears == "both" else None
        return verb.movement(foot, where, turn)
    named = spec.feet[0] if spec.feet and not (again and verb.free and verb.bears != "none") else None
    foot = named or _unnamed(spec, verb, where, told)
    if foot is None:
        return Movement(verb.reads, None, where or verb.where, turn, None)
    return verb.movement(foot, where, turn)


def _unnamed(spec: Spec, verb: Verb, where: str, told: Told) -> Foot | None:
    """The foot that moves though it is not named; None (and a trouble) where both could."""
    if spec.travel is not None and where == "side" and verb.bears == "foot":
        return spec.travel
    if told.weight is None:
        return None
    free = told.weight.free_foot
    if free is None:
        _ask(spec, verb.name, told)
        return None
    return free.other if verb.bears == "stays on" else free


def _ask(spec: Spec, name: str, told: Told) -> None:
    """Both feet are free: nobody can say which."""
    told.troubles.append(Trouble(spec.column, f"which foot? Both are free before this {name}; say R or L"))


def _figure_movements(
    spec: Spec, where: str, turn: Turn, told: Told, again: bool
) -> tuple[list[Movement], _Group | None]:
    figure = spec.figure
    assert figure is not None
    diagonal = where.endswith("diagonal")
    base = where.removesuffix("diagonal").strip()
    if base == "forward" and diagonal and base not in figure.ways:
        base = ""
    way = (
        base
        if base in figure.ways
        else figure.plain_way
        if not base or (base == "side" and figure.by_direction)
        else None
    )
    if way is None:
        ways = ", ".join(w for w in figure.ways if w) or "only one way"
        told.troubles.append(Trouble(spec.column, f"a {figure.name} does not go {base!r} (it goes {ways})"))
        return [UNREAD], None
    lead = _lead(spec, figure, told, again)
    if lead is None:
        if told.weight is Weight.BOTH:
            _ask(spec, figure.name, told)
        return [replace(UNREAD, turn=turn)], None
    movements = list(figure.movements(way, lead, turn, diagonal))
    if len(spec.feet) > 1 and not again and not _listed(spec.feet, movements):
        said = "".join(foot.value for foot in spec.feet)
        told.troubles.append(Trouble(spec.column, f"a {lead.word} {figure.name} is not danced {said}"))
    return movements, (figure, way, lead, turn)


def _lead(spec: Spec, figure: Figure, told: Told, again: bool) -> Foot | None:
    if again:
        return told.weight.free_foot if told.weight else None
    if spec.feet:
        return spec.feet[0]
    if spec.travel is not None and (figure.by_direction or "side" in spec.wheres):
        return spec.travel
    return told.weight.free_foot if told.weight else None


def _listed(feet: list[Foot], movements: list[Movement]) -> bool:
    moved = [m.foot for m in movements if m.foot is not None]
    return feet == moved[: len(feet)]
