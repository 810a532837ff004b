"""A closed segment as whole specifications: what it adds to the one before, which verb it means, one for each foot.

What a segment without a verb of its own means depends on the specification before it ("walk R", then "L"). Each of the
tables below is tried in its order.
"""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import replace

from caller.routine.figures import Figure, Verb
from caller.routine.notation.spec import Spec
from caller.routine.step import Weight
from caller.routine.vocabulary import Vocabulary

_MOST_LISTED = 8  # feet of one figure
# What is meant where no foot is named: "heels out".
_OF_BOTH_FEET: dict[tuple[str, ...], str] = {
    ("heel", "out"): "heel split",
    ("heel", "in"): "heel split",
    ("heel", "beside"): "heel split",
}
_BACK_AGAIN = ((["forward"], ["back"]), (["back"], ["forward"]))
ON_THE_SPOT = frozenset(("swivel", "twist", "swivet", "applejack"))
_BARE = {"stomp": "stomp up", "stamp": "stomp up", "slide": "drag"}  # where the weight is said to stay
_OR_ELSE = {"swing": "step", "stomp": "stomp up", "stamp": "stomp up", "slide": "drag", "drag": "slide"}
_STEPPED_OUT_OF = frozenset(("kick", "hitch", "scuff", "brush", "flick", "hook"))
_ROCKED = frozenset(("rock", "lunge", "press"))


def completed(spec: Spec, last: Spec | None, vocabulary: Vocabulary) -> list[Spec]:
    """The specifications that a closed segment is; none where it only says more of the ``last`` one."""
    if last is not None:
        for absorbs in _ABSORBS:
            if (told := absorbs(last, spec)) is not None:
                return told
    if not spec.told:
        _give_verb(spec, last, vocabulary)
    for mend in _MENDS:
        mend(spec, vocabulary)
    if spec.verb is not None and spec.verb.name in ("stomp", "stamp") and spec.times == 2 and len(spec.feet) == 1:
        up = replace(spec, verb=vocabulary.verbs["stomp up"], other=None, times=1, stated=[], weight=None)
        return [up, replace(spec, times=1)]  # "stomp R twice": the first can't take the weight
    if spec.verb is not None and len(spec.feet) > 1 and not spec.listing:
        return _one_each(spec)
    return [spec]


def _one_each(spec: Spec) -> list[Spec]:
    return [spec.one_foot(n) for n in range(len(spec.feet))]


def _only_feet(spec: Spec) -> bool:
    return bool(spec.feet) and not spec.wheres and spec.turn is None


# -- what only says more of the specification before: the specifications that it adds, None where it is one of its own


def _turn_of_last(last: Spec, spec: Spec) -> list[Spec] | None:
    """ "jazz box with 1/4 turn right", once though it is told twice."""
    if not (spec.beside and spec.only_turns and last.turn in (None, spec.turn)):
        return None
    last.turn, last.way = spec.turn, spec.way or last.way
    last.stated += spec.stated
    return []


def _stepping(last: Spec, spec: Spec) -> list[Spec] | None:
    """ "shuffle 1/2 left, stepping R, L, R" """
    if last.figure is None or last.listing or not (spec.going_on and _only_feet(spec)):
        return None
    last.listing = True
    return _listed(last, spec)


def _numbered(last: Spec, spec: Spec) -> list[Spec] | None:
    """ "walk forward three steps, right, left, right"; "4 sways R, L, R, L" """
    numbered = last.verb is not None and last.times > 1 and (not last.feet or (last.numbered and len(last.feet) == 1))
    if spec.told or not numbered or not _only_feet(spec):
        return None
    last.times = 1
    if last.feet:
        spec.verb, spec.wheres = last.verb, list(last.wheres)
        return _one_each(spec)
    return _listed(last, spec)


def _way_of_figure(last: Spec, spec: Spec) -> list[Spec] | None:
    """ "rocking chair forward, back" """
    if last.figure is None or spec.told or spec.feet or spec.turn is not None or len(spec.wheres) != 1:
        return None
    return [] if spec.wheres[0] in _both_ways(last.figure) else None


def _both_ways(figure: Figure) -> set[str]:
    """Forward and back, where a figure of four or more movements goes there anyway."""
    moves = figure.ways[figure.plain_way]
    return {move.where for move in moves if move.where in ("forward", "back")} if len(moves) >= 4 else set()


def _lists_more(last: Spec, spec: Spec) -> list[Spec] | None:
    """ "shuffle R, L, R": feet that go on with the list of the figure before."""
    if spec.told or last.figure is None or not last.feet or not _only_feet(spec):
        return None
    return _listed(last, spec) if len(last.feet) + len(spec.feet) <= _MOST_LISTED else None


def _listed(last: Spec, spec: Spec) -> list[Spec]:
    last.feet += spec.feet
    last.stated += spec.stated
    return []


def _swivels_on(last: Spec, spec: Spec) -> list[Spec] | None:
    """ "swivel heels right, toes right"; "swivet right, return to centre" """
    if last.verb is None or last.verb.name not in ON_THE_SPOT:
        return None
    returns = spec.verb is not None and spec.verb.name == "recover" and spec.wheres == ["in"]
    if returns or (spec.part and not {"forward", "back", "beside"} & set(spec.wheres)):
        spec.verb = last.verb
    return None


_ABSORBS: tuple[Callable[[Spec, Spec], list[Spec] | None], ...] = (
    _turn_of_last,
    _stepping,
    _numbered,
    _swivels_on,
    _way_of_figure,
    _lists_more,
)


# -- the verb that a segment without one means


def _give_verb(spec: Spec, last: Spec | None, vocabulary: Vocabulary) -> None:
    if last is not None and last.verb is not None:
        for goes_on in _GOES_ON:
            if goes_on(spec, last, last.verb, vocabulary):
                return
    spec.bare = spec.only_turns
    spec.verb = vocabulary.verbs["turn" if spec.only_turns else "step"]


def _feet_alone(spec: Spec, last: Spec, verb: Verb, vocabulary: Vocabulary) -> bool:
    """ "walk R", "L"; "full turn left R, L"; "rock back R, L" """
    if not _only_feet(spec):
        return False
    if verb.name in _ROCKED and spec.feet[0] is not (last.feet or spec.feet)[-1]:
        spec.verb = vocabulary.verbs["recover"]
        return True
    if verb.name == "turn" and last.feet:
        last.verb = verb = vocabulary.verbs["step"]
    spec.verb, spec.wheres = verb, list(last.wheres)
    return True


def _closes(spec: Spec, last: Spec, verb: Verb, vocabulary: Vocabulary) -> bool:
    """ "touch R forward, together" """
    of_both = not last.feet and {"out", "in"} & set(last.wheres)  # "heels out, together"
    if spec.wheres != ["beside"] or of_both or verb.bears != "none" or verb.footless or spec.feet:
        return False
    spec.verb, spec.other = vocabulary.verbs["step"], vocabulary.verbs["touch"]
    return True


def _rocks_back(spec: Spec, last: Spec, verb: Verb, vocabulary: Vocabulary) -> bool:
    """ "rock R forward, back on L" """
    if verb.name != "rock" or spec.turn is not None or (last.wheres[-1:], spec.wheres) not in _BACK_AGAIN:
        return False
    spec.verb, spec.wheres = vocabulary.verbs["recover"], []
    return True


def _same_again(spec: Spec, last: Spec, verb: Verb, vocabulary: Vocabulary) -> bool:
    """ "touch R forward, side": the same foot goes on; but "kick, out, out" steps out."""
    goes_on = verb.bears == "none" and not (verb.turns or verb.folds or verb.name == "hold")
    steps_out = spec.wheres == ["out"] and verb.name in _STEPPED_OUT_OF
    if spec.turn is not None or not spec.wheres or spec.feet or not goes_on or steps_out:
        return False
    spec.verb, spec.feet = verb, list(last.feet)
    return True


_GOES_ON: tuple[Callable[[Spec, Spec, Verb, Vocabulary], bool], ...] = (
    _feet_alone,
    _closes,
    _rocks_back,
    _same_again,
)


# -- what the verb means with what stands beside it


def _turn_as_steps(spec: Spec, vocabulary: Vocabulary) -> None:
    """ "full turn left travelling forward L, R, L" """
    if spec.verb is not None and spec.verb.name == "turn" and spec.feet and (spec.wheres or len(spec.feet) > 1):
        spec.verb = vocabulary.verbs["step"]


def _turn_on_a_foot(spec: Spec, vocabulary: Vocabulary) -> None:
    """ "pivot 1/2 left on ball of R": on one foot, which goes on bearing the weight."""
    if spec.on is not None and spec.verb is not None and spec.verb.name == "pivot":
        spec.verb = vocabulary.verbs["turn"]


def _both_feet(spec: Spec, vocabulary: Vocabulary) -> None:
    if spec.verb is not None and not spec.feet:
        both = _OF_BOTH_FEET.get((spec.verb.name, *spec.wheres))
        spec.verb = vocabulary.verbs[both] if both is not None else spec.verb


def _other_verb(spec: Spec, vocabulary: Vocabulary) -> None:
    """What the same words may mean, where the feet say so: a stomp without weight, a slide with it, a turn stepped."""
    told = spec.weight or next((stated.weight for stated, _ in spec.stated if stated.weight is not None), None)
    if spec.verb is None or spec.other is not None:
        return
    if told is not None:
        if spec.verb.name in _OR_ELSE and spec.feet and told is Weight.on(spec.feet[-1].other):
            spec.verb = vocabulary.verbs[_BARE.get(spec.verb.name, spec.verb.name)]
        return
    if spec.verb.name == "turn" and spec.turn is not None and len(spec.feet) <= 1:
        spec.other = vocabulary.verbs["step"]  # "1/4 turn left on R"
    elif spec.verb.name in _OR_ELSE and not spec.unweighted:
        spec.other = vocabulary.verbs[_OR_ELSE[spec.verb.name]]


_MENDS: tuple[Callable[[Spec, Vocabulary], None], ...] = (_turn_as_steps, _turn_on_a_foot, _other_verb, _both_feet)
