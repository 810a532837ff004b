"""Lexemes to specifications, one segment after another; a segment runs from one separator to the next.

Which foot or way left and right mean is told apart in :mod:`sides`, what a verb or a figure begins in :mod:`verbs`.
"""

from __future__ import annotations

from collections.abc import Callable, Sequence
from typing import cast

from caller.routine.figures import Verb
from caller.routine.notation.directions import goes_with
from caller.routine.notation.lexeme import Lexeme, LexemeKind
from caller.routine.notation.open_segment import OpenSegment
from caller.routine.notation.segments import ON_THE_SPOT
from caller.routine.notation.sides import Around, tell
from caller.routine.notation.spec import Reading, Spec, Trouble
from caller.routine.notation.stated import Stated
from caller.routine.notation.verbs import take_figure, take_verb
from caller.routine.step import Foot, Weight
from caller.routine.vocabulary import Vocabulary

_MOST_TIMES = 16
_JOINING = ("and", "&", "+", "/")


def read_specs(lexemes: Sequence[Lexeme], vocabulary: Vocabulary) -> Reading:
    """The specifications of one description. Never raises: what can't be read is among the troubles."""
    segment = OpenSegment(vocabulary)
    telling = [x for x in lexemes if x.kind is not LexemeKind.NOISE]
    for n, lexeme in enumerate(telling):
        segment.following = telling[n + 1] if n + 1 < len(telling) else None
        if segment.joined and lexeme.kind is not LexemeKind.DASH:
            segment.joined = False
            _after_dash(segment, lexeme)
        _TAKES[lexeme.kind](segment, lexeme)
        segment.previous = lexeme
    segment.close()
    return segment.out


# -- segments


def _separator(segment: OpenSegment, lexeme: Lexeme) -> None:
    spec = segment.spec
    if lexeme.text == ":" and spec is not None and spec.feet and not (spec.told or spec.wheres):
        return  # "RF: step forward"
    segment.close()
    if lexeme.text == ":" and not segment.out.labelled:
        segment.out.labelled = len(segment.out.specs)
    segment.joining = lexeme.text in _JOINING


def _with(segment: OpenSegment, lexeme: Lexeme) -> None:
    segment.close()
    segment.open(lexeme).beside = True


def _dash(segment: OpenSegment, lexeme: Lexeme) -> None:
    segment.joined = True


def _after_dash(segment: OpenSegment, lexeme: Lexeme) -> None:
    """A dash joins feet in a list ("R-L-R") and otherwise divides ("behind-side-cross")."""
    moves = lexeme.kind in (LexemeKind.VERB, LexemeKind.FIGURE, LexemeKind.WHERE)
    moves = moves and not (lexeme.kind is LexemeKind.VERB and cast(Verb, lexeme.value).name == "turn")
    if moves and segment.spec is not None and (segment.spec.told or segment.spec.wheres):
        segment.close()


# -- directions, feet, turns


def _where(segment: OpenSegment, lexeme: Lexeme) -> None:
    where = str(lexeme.value)
    spec = segment.open(lexeme)
    segment.after_to = segment.after_turn_word = False
    if where == "front":
        verb = spec.verb.name if spec.verb else ""
        where = "forward" if verb and verb not in ("cross", "step") else "over"
    if where in ("in", "place") and spec.verb is not None and spec.verb.name in ON_THE_SPOT and spec.feet:
        segment.close()  # "twist heels R, L, centre"
        spec = segment.open(lexeme)
    if spec.wheres and not spec.told and not goes_with(spec.wheres[-1], where):
        segment.close()
        spec = segment.open(lexeme)
    spec.wheres.append(where)


def _feet(segment: OpenSegment, lexeme: Lexeme) -> None:
    feet = cast(tuple[Foot, ...], lexeme.value)
    spec = segment.open(lexeme)
    around = Around(
        spec,
        feet[0],
        segment.previous,
        segment.following,
        segment.after_to,
        segment.after_turn_word,
        segment.pending_turn,
    )
    segment.after_to = segment.after_turn_word = False
    if len(feet) > 1:
        spec.feet += feet
        return
    past = spec.past
    turned = tell(around)
    segment.past_said = spec.past is not past
    segment.pending_turn = segment.pending_turn and not turned


def _list(segment: OpenSegment, lexeme: Lexeme) -> None:
    """ "(R, L, R)" behind a figure or a verb: whose feet they are."""
    feet = cast(tuple[Foot, ...], lexeme.value)
    spec = segment.spoken_of()
    if spec is None:
        return
    if spec.figure is not None:
        if not spec.listing:
            spec.listing = True
            spec.feet += feet
    elif segment.spec is spec and not spec.feet and _takes_list(spec):
        spec.feet += feet
        spec.times = 1


def _takes_list(spec: Spec) -> bool:
    if spec.verb is None or spec.verb.name == "turn":
        return spec.turn is not None or spec.verb is None
    return not spec.verb.turns


def _on(segment: OpenSegment, lexeme: Lexeme) -> None:
    segment.open(lexeme).on = cast(Foot, lexeme.value)


def _lasts(segment: OpenSegment, lexeme: Lexeme) -> None:
    if (spec := segment.spoken_of()) is not None:
        spec.lasts = min(cast(int, lexeme.value), _MOST_TIMES)


def _turn(segment: OpenSegment, lexeme: Lexeme) -> None:
    spec = segment.open(lexeme)
    if spec.turn is not None:
        message = f"{lexeme.text!r}: two turns on one movement; write each turn on a movement of its own"
        segment.out.troubles.append(Trouble(lexeme.column, message))
        return
    spec.turn = cast(int, lexeme.value)
    segment.pending_turn = spec.way is None


def _turn_way(segment: OpenSegment, lexeme: Lexeme) -> None:
    segment.open(lexeme).way = cast(Foot, lexeme.value)


def _to(segment: OpenSegment, lexeme: Lexeme) -> None:
    segment.after_to = True


def _times(segment: OpenSegment, lexeme: Lexeme) -> None:
    number = cast(int, lexeme.value)
    spec = segment.spec
    if lexeme.kind is LexemeKind.TIMES and segment.out.specs and (spec is None or spec.empty):
        spec, segment.spec = segment.out.specs[-1], None
    if spec is not None and spec.verb is not None and spec.verb.lasting and lexeme.kind is LexemeKind.NUMBER:
        spec.lasts = max(1, min(number, _MOST_TIMES))  # "sway R for 2", "hold 3"
        return
    if 1 <= number <= _MOST_TIMES:
        spec = spec or segment.open(lexeme)
        spec.times, spec.numbered = number, lexeme.kind is LexemeKind.NUMBER
    else:
        message = f"{lexeme.text!r}: can't do that so many times; say 2 to {_MOST_TIMES}"
        segment.out.troubles.append(Trouble(lexeme.column, message))


# -- what stands beside the movements


def _claim(segment: OpenSegment, lexeme: Lexeme) -> None:
    spec = segment.spoken_of()
    if not isinstance(lexeme.value, Stated):
        _unknown(segment, lexeme)
    elif spec is None:
        segment.out.before.append((lexeme.value, lexeme.column))
    else:
        spec.stated.append((lexeme.value, lexeme.column))


def _weight(segment: OpenSegment, lexeme: Lexeme) -> None:
    if (spec := segment.spoken_of()) is None:
        return
    if lexeme.value is True:
        spec.takes = True
    else:
        spec.weight = cast(Weight, lexeme.value)


def _no_weight(segment: OpenSegment, lexeme: Lexeme) -> None:
    if (spec := segment.spoken_of()) is not None:
        spec.unweighted = True


def _note(segment: OpenSegment, lexeme: Lexeme) -> None:
    if lexeme.value:
        segment.out.notes.append(str(lexeme.value))


def _unknown(segment: OpenSegment, lexeme: Lexeme) -> None:
    if lexeme.kind is LexemeKind.UNKNOWN and "/" in lexeme.text[:-1]:
        message = f"{lexeme.text!r}: turns go in whole eighths, such as 1/8, 1/4, 3/8, 1/2 or 3/4"
        segment.out.troubles.append(Trouble(lexeme.column, message))
    else:
        segment.out.troubles.append(Trouble(lexeme.column, lexeme.text, bare=True))


_TAKES: dict[LexemeKind, Callable[[OpenSegment, Lexeme], None]] = {
    LexemeKind.SEPARATOR: _separator,
    LexemeKind.WITH: _with,
    LexemeKind.DASH: _dash,
    LexemeKind.VERB: take_verb,
    LexemeKind.FIGURE: take_figure,
    LexemeKind.WHERE: _where,
    LexemeKind.FEET: _feet,
    LexemeKind.TURN: _turn,
    LexemeKind.TURN_WAY: _turn_way,
    LexemeKind.NUMBER: _times,
    LexemeKind.TIMES: _times,
    LexemeKind.TO: _to,
    LexemeKind.CLAIM: _claim,
    LexemeKind.WEIGHT: _weight,
    LexemeKind.NO_WEIGHT: _no_weight,
    LexemeKind.NOTE: _note,
    LexemeKind.LIST: _list,
    LexemeKind.ON: _on,
    LexemeKind.LASTS: _lasts,
    LexemeKind.UNKNOWN: _unknown,
}
