"""Which foot, which way: fitted specifications to movements, following the weight.

A foot that is not named is the free one, where only one can move. After a line that could not be read the weight is
unknown (None) and nothing is guessed: movements keep no foot until one is named again.
"""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import replace

from caller.routine.facing import NO_TURN, Turn
from caller.routine.figures import Figure, Verb
from caller.routine.notation.directions import combined
from caller.routine.notation.fitting import Fit
from caller.routine.notation.leads import Group, figure_movements
from caller.routine.notation.segments import ON_THE_SPOT
from caller.routine.notation.spec import Spec, Trouble
from caller.routine.notation.told import Named, Told, unread_marks
from caller.routine.notation.turning import goes_forward, turn_of, turned_against
from caller.routine.step import Foot, Movement, Weight

PIVOT = Verb("pivot", "pivot", "swap", turns=True)
# Done on both feet: which of them bears the weight after it, the words leave open.
_OPEN = frozenset(
    (
        "turn",
        "heel split",
        "swivel",
        "twist",
        "bounce",
        "hip roll",
        "applejack",
        "fan",
        "swivet",
        "knee pop",
        "shimmy",
        "body roll",
        "bend",
        "hold",
        "clap",
        "bump",
        "unwind",
        "spin",
    )
)
_WITHOUT_WEIGHT = {"stomp": "stomp up", "step": "touch"}
_PADDLES = frozenset(("paddle turn", "two paddles", "four paddles"))


def settle(
    fitted: list[tuple[Spec, Fit]],
    weight: Weight | None,
    before: Movement | None = None,
    way: Foot | None = None,
) -> Told:
    """Movements with their feet, starting with the weight there; the weight after them is in the result. before: the
    movement that stands before them; way: which way turns go that don't say it."""
    told = Told(weight=weight, before=before, way=way)
    for spec, one in fitted:
        if one.assumed and spec.figure is not None:
            told.guesses.append((spec.column, _ending_taken(spec.figure)))
        start = len(told.movements)
        for movements, named in _each_foot(spec, one, told) if one.each_foot else _spec_movements(spec, one, told):
            if named is not None:
                at = len(told.movements)
                told.named.append(Named(at, at + len(movements) - 1, *named))
            for movement in movements:
                if spec.figure is None or spec.figure.name not in _PADDLES:
                    _check_turn(spec, movement, told)
                told.movements.append(movement)
                told.columns.append(spec.column)
                told.weight = movement.weight or told.weight
        if one.shifts and len(told.movements) > start:
            _shift_weight(spec, told)
        if len(told.movements) > start:
            _close_spec(spec, told)
    _step_close_step(told)
    return told


def _ending_taken(figure: Figure) -> str:
    """What is taken for granted of a figure that has more counts than its name says."""
    usual = f"say {figure.asks}" if figure.asks else "write its movements out"
    return f"taken as {', '.join(figure.each)!r} on these counts; to be sure, {usual}"


def _check_turn(spec: Spec, movement: Movement, told: Told) -> None:
    against = turned_against(told.last(), movement)
    if against:
        told.troubles.append(Trouble(spec.column, f"{against}; change the foot or the way", "contradiction"))


def _step_close_step(told: Told) -> None:
    """ "step R, close L, step R": steps without a direction that go on past a close go forward."""
    for n in range(len(told.movements) - 2):
        first, close, last = told.movements[n : n + 3]
        bare = (first.action, first.where) == (last.action, last.where) == ("step", "")
        if bare and first.foot is last.foot and (close.action, close.where) == ("step", "beside"):
            told.movements[n] = replace(first, where="forward")
            told.movements[n + 2] = replace(last, where="forward")


def _close_spec(spec: Spec, told: Told) -> None:
    """What the sheet says of the weight, and the claims that stand after this specification."""
    last = len(told.movements) - 1
    if spec.unweighted:
        before = told.movements[last]
        told.movements[last] = replace(before, action=_WITHOUT_WEIGHT.get(before.action, before.action), weight=None)
        told.weight = _weight_before(told, last)
    foot = told.movements[last].foot
    if spec.takes and foot is not None and told.movements[last].weight is None:
        told.movements[last] = replace(told.movements[last], weight=Weight.on(foot))
        told.weight = Weight.on(foot)
    if spec.weight is not None:
        told.movements[last] = replace(told.movements[last], weight=spec.weight)
        told.weight = spec.weight
    for stated, column in spec.stated:
        # "turn 1/2 left (weight on L)": where the words leave it open, what is stated settles it.
        is_open = told.weight is Weight.BOTH or told.movements[last].action in _OPEN
        if stated.weight in (Weight.LEFT, Weight.RIGHT) and is_open:
            told.movements[last] = replace(told.movements[last], weight=stated.weight)
            told.weight = stated.weight
        told.stated.append((last, stated, column))


def _shift_weight(spec: Spec, told: Told) -> None:
    """Done on both feet, and then the other one bears the weight."""
    free = told.weight.free_foot if told.weight is not None else None
    if free is None:
        return
    told.movements[-1] = replace(told.movements[-1], weight=Weight.on(free))
    told.weight = Weight.on(free)
    message = f"the weight is taken to be on the {free.word} foot after it, since the other moves next"
    message += f"; write 'weight on {free.value}'"
    told.guesses.append((spec.column, message))


def _weight_before(told: Told, index: int) -> Weight | None:
    return next((m.weight for m in reversed(told.movements[:index]) if m.weight is not None), told.weight)


def _spec_movements(spec: Spec, one: Fit, told: Told) -> Iterator[tuple[list[Movement], Group | None]]:
    where = combined(spec.wheres)
    if spec.figure is not None and spec.figure.or_verb and spec.feet:
        spec = replace(spec, feet=list(spec.feet))  # one of them may be the way of its turn
    turn = turn_of(spec, told)
    if where is None:
        told.trouble(spec, f"{' '.join(spec.wheres)!r} is two directions at once; say one")
    if _pivots(spec, one, told):
        spec = replace(spec, verb=PIVOT)
    elif one.other and spec.other is not None:
        if not (spec.feet and spec.verb is not None and spec.verb.name == "turn"):
            told.guesses.append((spec.column, _other_told(spec)))
        spec = replace(spec, verb=spec.other)
    for time in range(spec.times):
        if where is None or turn is None:
            yield unread_marks(spec), None
        elif spec.figure is not None:
            yield figure_movements(spec, where, turn, told, again=time > 0)
        else:
            yield [_verb_movement(spec, where, turn if time == 0 else NO_TURN, told, again=time > 0)], None


def _each_foot(spec: Spec, one: Fit, told: Told) -> Iterator[tuple[list[Movement], Group | None]]:
    """ "toe struts R, L": the figure once from each foot."""
    spec = replace(spec, feet=list(spec.feet))
    for foot in spec.feet:
        yield from _spec_movements(replace(spec, feet=[foot]), one, told)


def _other_told(spec: Spec) -> str:
    """What the verb was taken for, since the feet around it say so."""
    assert spec.verb is not None
    assert spec.other is not None
    said = spec.verb.name if spec.verb.name != "step" else "together"
    bears = "without weight" if spec.other.bears == "none" else "with the weight onto that foot"
    sure = _SURE.get(spec.other.name, spec.other.name)
    return f"this {said} is taken as one {bears}, since the feet around it say so; write '{sure}'"


_SURE = {"slide": "step (weight on it)", "stomp up": "stomp up (no weight)"}


def _pivots(spec: Spec, one: Fit, told: Told) -> bool:
    """ "1/4 left" on a line of its own, after a step forward on the right: a pivot."""
    before = told.before
    if told.movements or before is None or before.foot is None or before.turn or one.beats == 0:
        return False
    turns = spec.verb is not None and spec.verb.name == "turn" and not spec.feet and spec.on is None
    stays = spec.weight is not None and spec.weight is Weight.on(before.foot)
    return turns and goes_forward(before) and spec.turn is not None and spec.way is before.foot.other and not stays


def _verb_movement(spec: Spec, where: str, turn: Turn, told: Told, again: bool) -> Movement:
    verb = spec.verb
    assert verb is not None
    if verb.needs_where and not where:
        where = "side"
        told.guesses.append((spec.column, f"which way the {verb.name} goes is not said; taken as to the side"))
    if where == "side" and _to_the_wrong_side(spec, verb):
        assert spec.travel is not None
        message = f"the {spec.feet[0].word} foot steps to the {spec.travel.word} side"
        message += ": cross it over or behind, or name the other"
        told.troubles.append(Trouble(spec.column, message, "contradiction"))
    if verb.name == "recover" and where in ("forward", "back"):
        where = ""  # "recover back on L"
    if verb.footless:
        if verb.name in ON_THE_SPOT and where in ("", "side") and spec.feet:
            where = spec.feet[0].word  # "swivel both heels right": the way they go, and no foot moves alone
        return verb.movement(spec.feet[0] if spec.feet and verb.bears == "both" else None, where, turn)
    named = spec.feet[0] if spec.feet and not (again and verb.free and verb.bears != "none") else None
    foot = named or _unnamed(spec, verb, where, told)
    if foot is None:
        return Movement(verb.reads, None, where or verb.where, turn, None)
    return verb.movement(foot, where, turn)


def _to_the_wrong_side(spec: Spec, verb: Verb) -> bool:
    steps = verb.reads == "step" and verb.where == "" and bool(spec.feet) and not spec.turn
    return steps and spec.travel is not None and spec.travel is not spec.feet[0] and spec.past is None


def _unnamed(spec: Spec, verb: Verb, where: str, told: Told) -> Foot | None:
    """The foot that moves though it is not named; None (and a trouble) where both could."""
    if spec.travel is not None and where == "side" and verb.bears == "foot":
        return spec.travel
    if told.weight is None:
        return None
    free = told.weight.free_foot
    if free is None:
        told.which_foot(spec, verb.name)
        return None
    return free.other if verb.bears == "stays on" else free
