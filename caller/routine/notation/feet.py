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
from caller.routine.notation.turning import goes_forward, turned_against, unwound_to
from caller.routine.step import Foot, Movement, Weight

UNREAD = Movement("unread")
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
_TURNED_AWAY = frozenset(("pivot turn", "chase turn", "paddle turn", "two paddles", "four paddles"))
_TURNED_TO = frozenset(
    (
        "sailor step",
        "sailor cross",
        "jazz box",
        "jazz box cross",
        "jazz box touch",
        "short jazz box",
        "vine",
        "chasse",
        "sailor heel",
        "sailor touch",
        "rolling vine",
        "coaster step",
    )
)


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
    """What a line tells once feet are settled. stated: (index of the movement it stands after, what, column). guesses:
    what was taken for granted, with columns."""

    movements: list[Movement] = field(default_factory=list)
    columns: list[int] = field(default_factory=list)
    named: list[Named] = field(default_factory=list)
    stated: list[tuple[int, Stated, int]] = field(default_factory=list)
    troubles: list[Trouble] = field(default_factory=list)
    guesses: list[tuple[int, str]] = field(default_factory=list)
    weight: Weight | None = None
    before: Movement | None = None  # the first of them

    def last(self) -> Movement | None:
        return self.movements[-1] if self.movements else self.before


def settle(fitted: list[tuple[Spec, Fit]], weight: Weight | None, before: Movement | None = None) -> Told:
    """Movements with their feet, starting with the weight there; the weight after them is in the result. before: the
    movement that stands before them."""
    told = Told(weight=weight, before=before)
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


_Group = tuple[Figure, str, Foot, Turn]


def _spec_movements(spec: Spec, one: Fit, told: Told) -> Iterator[tuple[list[Movement], _Group | None]]:
    where = combined(spec.wheres)
    if spec.figure is not None and spec.figure.or_verb and spec.feet:
        spec = replace(spec, feet=list(spec.feet))  # one of them may be the way of its turn
    turn = _turn_of(spec, told)
    if where is None:
        _trouble(spec, told, f"{' '.join(spec.wheres)!r} is two directions at once; say one")
    if _pivots(spec, one, told):
        spec = replace(spec, verb=PIVOT)
    elif one.other and spec.other is not None:
        if not (spec.feet and spec.verb is not None and spec.verb.name == "turn"):
            told.guesses.append((spec.column, _other_told(spec)))
        spec = replace(spec, verb=spec.other)
    for time in range(spec.times):
        if where is None or turn is None:
            yield _unread(spec), None
        elif spec.figure is not None:
            yield _figure_movements(spec, where, turn, told, again=time > 0)
        else:
            yield [_verb_movement(spec, where, turn if time == 0 else NO_TURN, told, again=time > 0)], None


def _each_foot(spec: Spec, one: Fit, told: Told) -> Iterator[tuple[list[Movement], _Group | None]]:
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


def _unread(spec: Spec, turn: Turn = NO_TURN) -> list[Movement]:
    """As many marks as movements are asked for."""
    marks = [UNREAD] * (len(spec.figure.each) if spec.figure is not None else 1)
    return [replace(UNREAD, turn=turn), *marks[1:]]


def _turn_of(spec: Spec, told: Told) -> Turn | None:
    """The turn asked for; None (and a trouble) where it isn't said how far or which way."""
    figure, verb = spec.figure, spec.verb
    if spec.turn is None:
        if figure is not None and figure.needs_turn:
            _trouble(spec, told, f"how far does the {figure.name} turn? Say, for one, 'turning 1/4 left'")
            return None
        if verb is not None and verb.turns:
            _trouble(spec, told, f"how far does the {verb.name} turn, and which way? Say '{verb.name} 1/4 left'")
            return None
        return NO_TURN
    way = spec.way or (_way_of(spec, figure, told) if figure is not None else None)
    if way is None:
        way = _usual_way(spec, told)
        if way is None:
            _trouble(spec, told, "which way does it turn, left or right?")
            return None
        told.guesses.append((spec.column, f"which way it turns is not said; taken as {way.word}: write '{way.word}'"))
    return Turn(spec.turn if way is Foot.RIGHT else -spec.turn)


def _way_of(spec: Spec, figure: Figure, told: Told) -> Foot | None:
    """Which way a figure turns where only a foot is named: "paddle left 1/4"; a monterey turns to its foot."""
    if figure.or_verb and spec.feet:
        return spec.feet.pop(0)
    if figure.by_direction and (spec.feet or spec.travel):
        return spec.feet[0] if spec.feet else spec.travel
    if figure.turns_to_lead:
        return spec.feet[0] if spec.feet else told.weight.free_foot if told.weight else None
    return None


def _usual_way(spec: Spec, told: Told) -> Foot | None:
    """The way a turn goes where the dancer can't well go the other: a pivot away from the foot stepped on, a sailor to
    the foot that goes behind."""
    free = told.weight.free_foot if told.weight else None
    if spec.figure is not None:
        lead = spec.feet[0] if spec.feet else free
        if lead is None:
            return None
        name = spec.figure.name.partition(",")[0]  # though it be cut short
        return lead.other if name in _TURNED_AWAY else lead if name in _TURNED_TO else None
    before = told.last()
    if spec.verb is not None and before is not None and before.foot is not None:
        if spec.verb.bears == "swap" and goes_forward(before):
            return before.foot.other
        if spec.verb.name == "unwind" and before.where in ("over", "behind"):
            return unwound_to(before.foot, before.where)
    return None


def _trouble(spec: Spec, told: Told, message: str) -> None:
    told.troubles.append(Trouble(spec.column, message))


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
        _ask(spec, verb.name, told)
        return None
    return free.other if verb.bears == "stays on" else free


def _ask(spec: Spec, name: str, told: Told) -> None:
    """Both feet are free: nobody can say which."""
    _trouble(spec, told, f"which foot? Both are free before this {name}; say R or L")


def _figure_movements(
    spec: Spec, where: str, turn: Turn, told: Told, again: bool
) -> tuple[list[Movement], _Group | None]:
    figure = spec.figure
    assert figure is not None
    way = _way(figure, where)
    if way is None:
        ways = ", ".join(w for w in figure.ways if w) or "only one way"
        _trouble(spec, told, f"a {figure.name} does not go {where!r} (it goes {ways})")
        return _unread(spec), None
    lead = _lead(spec, figure, told, again)
    if lead is None:
        if told.weight is Weight.BOTH:
            _ask(spec, figure.name, told)
        return _unread(spec, turn), None
    movements = list(figure.movements(way, lead, turn, where.endswith("diagonal")))
    if len(spec.feet) > 1 and not again and not _listed(spec.feet, movements):
        said = "".join(foot.value for foot in spec.feet)
        _trouble(spec, told, f"a {lead.word} {figure.name} is not danced {said}")
    return movements, (figure, way, lead, turn) if figure.counts else None  # not what is cut short


def _way(figure: Figure, where: str) -> str | None:
    """Which of the figure's ways this direction is, None where it has no such way."""
    straight = where.removesuffix("diagonal").strip()
    if straight in figure.ways:
        return straight
    if len(figure.ways) == 1 and straight:
        long = len(figure.each) >= 4 and straight in {move.where for move in figure.ways[figure.plain_way]}
        if long or straight in figure.name.split():
            return figure.plain_way
    own = figure.ways[figure.plain_way][0].where.removesuffix(" diagonal")  # "coaster step back"
    plain = straight in ("", own) or (straight == "side" and figure.by_direction)
    return figure.plain_way if plain or where == "forward diagonal" else None


def _lead(spec: Spec, figure: Figure, told: Told, again: bool) -> Foot | None:
    if again:
        return told.weight.free_foot if told.weight else None
    if spec.feet:
        return spec.feet[0]
    if spec.travel is not None and (figure.by_direction or "side" in spec.wheres):
        return spec.travel
    return told.weight.free_foot if told.weight else None


def _listed(feet: list[Foot], movements: list[Movement]) -> bool:
    """Whether these are the feet of the movements, or of each that is not the one before, or the lead and then all."""
    moved = [m.foot for m in movements if m.foot is not None]
    changing = [foot for n, foot in enumerate(moved) if n == 0 or foot is not moved[n - 1]]
    return feet in (moved[: len(feet)], changing[: len(feet)], [feet[0], *moved])
