"""Lexemes to specifications, one segment after another; a segment runs from one separator to the next.

Which foot or way left and right mean is told apart in :mod:`sides`.
"""

from __future__ import annotations

from collections.abc import Callable, Sequence
from typing import cast

from caller.routine.figures import Figure, Verb
from caller.routine.notation.directions import goes_with
from caller.routine.notation.lexeme import Kind, Lexeme
from caller.routine.notation.pairs import join_verbs, says_hips
from caller.routine.notation.segments import ON_THE_SPOT, completed
from caller.routine.notation.sides import Around, tell
from caller.routine.notation.spec import Reading, Spec, Trouble
from caller.routine.notation.stated import Stated
from caller.routine.step import Foot, Weight
from caller.routine.vocabulary import Vocabulary

_MOST_TIMES = 16
_JOINING = ("and", "&", "+", "/")
_THIRD_PERSON = frozenset(
    ("steps", "touches", "crosses", "closes", "points", "kicks", "taps", "moves", "locks", "slides")
)
_PARTS = frozenset(("heel", "heels", "toe", "toes", "knee", "hip", "hips"))
# Verbs that a heel or a toe behind the foot makes another movement of: "touch R heel" is a heel.
_TOLD_BY_PART = frozenset(("cross", "place", "touch", "heel", "point", "step", "swivel", "fan", "grind"))


def read_specs(lexemes: Sequence[Lexeme], vocabulary: Vocabulary) -> Reading:
    """The specifications of one description. Never raises: what can't be read is among the troubles."""
    return _Grammar(vocabulary).read(lexemes)


class _Grammar:
    def __init__(self, vocabulary: Vocabulary) -> None:
        self.vocabulary = vocabulary
        self.out = Reading()
        self.spec: Spec | None = None
        self.pending_turn = False  # a fraction waits for its left or right
        self.after_to = False
        self.after_turn_word = False
        self.previous: Lexeme | None = None
        self.following: Lexeme | None = None  # the next one that is no noise
        self.joining = False  # the last separator joins ("and") rather than divides
        self.joined = False  # a dash stands between this lexeme and the one before
        self.past_said = False  # the last foot named is the one gone past

    def read(self, lexemes: Sequence[Lexeme]) -> Reading:
        telling = [x for x in lexemes if x.kind is not Kind.NOISE]
        for n, lexeme in enumerate(telling):
            self.following = telling[n + 1] if n + 1 < len(telling) else None
            if self.joined and lexeme.kind is not Kind.DASH:
                self.joined = False
                self._after_dash(lexeme)
            _TAKES[lexeme.kind](self, lexeme)
            self.previous = lexeme
        self._close()
        return self.out

    # -- segments

    def _open(self, lexeme: Lexeme) -> Spec:
        if self.spec is None:
            self.spec = Spec(lexeme.column, joined=self.joining and bool(self.out.specs))
        return self.spec

    def _close(self) -> None:
        spec, self.spec = self.spec, None
        self.pending_turn = self.after_to = self.after_turn_word = self.past_said = False
        if spec is not None and not spec.empty:
            last = self.out.specs[-1] if self.out.specs else None
            self.out.specs += completed(spec, last, self.vocabulary)

    def _separator(self, lexeme: Lexeme) -> None:
        if lexeme.text == ":" and self.spec is not None and self.spec.feet and not (self.spec.told or self.spec.wheres):
            return  # "RF: step forward"
        self._close()
        if lexeme.text == ":" and not self.out.labelled:
            self.out.labelled = len(self.out.specs)
        self.joining = lexeme.text in _JOINING

    def _with(self, lexeme: Lexeme) -> None:
        self._close()
        self._open(lexeme).beside = True

    def _dash(self, lexeme: Lexeme) -> None:
        self.joined = True

    def _after_dash(self, lexeme: Lexeme) -> None:
        """A dash joins feet in a list ("R-L-R") and otherwise divides ("behind-side-cross")."""
        moves = lexeme.kind in (Kind.VERB, Kind.FIGURE, Kind.WHERE)
        moves = moves and not (lexeme.kind is Kind.VERB and cast(Verb, lexeme.value).name == "turn")
        if moves and self.spec is not None and (self.spec.told or self.spec.wheres):
            self._close()

    # -- verbs and figures

    def _verb(self, lexeme: Lexeme) -> None:
        verb = cast(Verb, lexeme.value)
        spec = self.spec
        if verb.name == "turn":
            self._turn_word(lexeme, verb)
            return
        if verb.name == "lock" and spec is not None and not spec.told and spec.wheres and not spec.feet:
            self._close()  # "back, lock, back"
            spec = None
        if spec is None or not spec.told:
            spec = self._open(lexeme)
            spec.verb = verb
            spec.going_on = lexeme.goes_on
            spec.part = lexeme.text in _PARTS
            spec.third = lexeme.text in _THIRD_PERSON and not spec.feet
            going_on = verb.bears == "none" and (lexeme.goes_on or (verb.folds and self.joining))
            spec.beside = spec.beside or (going_on and bool(self.out.specs))
        elif spec.figure is not None:
            self._verb_after_figure(lexeme, verb, spec, spec.figure)
        elif spec.verb is not None:
            self._second_verb(lexeme, verb, spec, spec.verb)
        self.pending_turn = self.pending_turn and verb.turns
        self.after_turn_word = verb.turns and not self.pending_turn

    def _turn_word(self, lexeme: Lexeme, verb: Verb) -> None:
        self.after_turn_word = True
        spec = self.spec
        if spec is None or not (spec.told or spec.feet or spec.wheres or (spec.empty and spec.beside)):
            self._open(lexeme).verb = verb

    def _verb_after_figure(self, lexeme: Lexeme, verb: Verb, spec: Spec, figure: Figure) -> None:
        if verb.name == "step":  # "shuffle 1/2 turn left stepping R, L, R"
            spec.listing = True
        elif verb.name == "cross" and "over" in figure.ways:
            spec.wheres.append("over")
        else:
            self._close()
            self._verb(lexeme)

    def _second_verb(self, lexeme: Lexeme, verb: Verb, spec: Spec, first: Verb) -> None:
        """Two verbs in one segment: one movement where they are said so, else a new segment."""
        if self._names_a_part(lexeme, first):
            return
        if join_verbs(spec, first, verb, lexeme, self.vocabulary):
            self.after_to = self.after_to or says_hips(lexeme, verb)  # "swaying hips right"
            return
        if self.after_to and first.name in ("slide", "drag") and verb.name in ("touch", "close"):
            spec.verb = verb  # "slide L to touch beside R"
            return
        waiting = spec.turn if verb.turns and self.pending_turn and spec.way is None else None
        if waiting is not None:
            spec.turn = None  # "step 1/2 pivot L"
        self._close()
        new = self._open(lexeme)
        new.verb, new.turn = verb, waiting
        self.pending_turn = waiting is not None
        new.beside = lexeme.goes_on and verb.bears == "none"

    def _names_a_part(self, lexeme: Lexeme, first: Verb) -> bool:
        """ "touch R toe beside L heel", "hook R heel": a part of the foot that is told already."""
        if lexeme.text not in _PARTS or self.previous is None or self.previous.kind is not Kind.FEET:
            return False
        return self.past_said or first.name not in _TOLD_BY_PART

    def _figure(self, lexeme: Lexeme) -> None:
        figure = cast(Figure, lexeme.value)
        spec = self.spec
        if spec is not None and spec.figure is figure:
            return
        if spec is not None and spec.verb is not None:
            crossing = spec.verb.name == "cross" and "over" in figure.ways
            empty_step = spec.verb.name == "step" and not spec.feet and not spec.wheres
            if spec.verb.name == "cross" and figure.name == "chasse":
                figure, crossing = self.vocabulary.figures["shuffle"], True
            if crossing or spec.verb.name == "turn" or empty_step:
                spec.verb, spec.figure = None, figure
                if crossing:
                    spec.wheres.insert(0, "over")
                return
        if spec is not None and spec.told:
            self._close()
        self._open(lexeme).figure = figure

    # -- directions, feet, turns

    def _where(self, lexeme: Lexeme) -> None:
        where = str(lexeme.value)
        spec = self._open(lexeme)
        self.after_to = self.after_turn_word = False
        if where == "front":
            verb = spec.verb.name if spec.verb else ""
            where = "forward" if verb and verb not in ("cross", "step") else "over"
        if where in ("in", "place") and spec.verb is not None and spec.verb.name in ON_THE_SPOT and spec.feet:
            self._close()  # "twist heels R, L, centre"
            spec = self._open(lexeme)
        if spec.wheres and not spec.told and not goes_with(spec.wheres[-1], where):
            self._close()
            spec = self._open(lexeme)
        spec.wheres.append(where)

    def _feet(self, lexeme: Lexeme) -> None:
        feet = cast(tuple[Foot, ...], lexeme.value)
        spec = self._open(lexeme)
        around = Around(
            spec, feet[0], self.previous, self.following, self.after_to, self.after_turn_word, self.pending_turn
        )
        self.after_to = self.after_turn_word = False
        if len(feet) > 1:
            spec.feet += feet
            return
        past = spec.past
        turned = tell(around)
        self.past_said = spec.past is not past
        self.pending_turn = self.pending_turn and not turned

    def _list(self, lexeme: Lexeme) -> None:
        """ "(R, L, R)" behind a figure or a verb: whose feet they are."""
        feet = cast(tuple[Foot, ...], lexeme.value)
        spec = self._spoken_of()
        if spec is None:
            return
        if spec.figure is not None:
            if not spec.listing:
                spec.listing = True
                spec.feet += feet
        elif self.spec is spec and not spec.feet and _takes_list(spec):
            spec.feet += feet
            spec.times = 1

    def _on(self, lexeme: Lexeme) -> None:
        self._open(lexeme).on = cast(Foot, lexeme.value)

    def _lasts(self, lexeme: Lexeme) -> None:
        if (spec := self._spoken_of()) is not None:
            spec.lasts = min(cast(int, lexeme.value), _MOST_TIMES)

    def _turn(self, lexeme: Lexeme) -> None:
        spec = self._open(lexeme)
        if spec.turn is not None:
            message = f"{lexeme.text!r}: two turns on one movement; write each turn on a movement of its own"
            self.out.troubles.append(Trouble(lexeme.column, message))
            return
        spec.turn = cast(int, lexeme.value)
        self.pending_turn = spec.way is None

    def _turn_way(self, lexeme: Lexeme) -> None:
        self._open(lexeme).way = cast(Foot, lexeme.value)

    def _to(self, lexeme: Lexeme) -> None:
        self.after_to = True

    def _times(self, lexeme: Lexeme) -> None:
        number = cast(int, lexeme.value)
        spec = self.spec
        if lexeme.kind is Kind.TIMES and self.out.specs and (spec is None or spec.empty):
            spec, self.spec = self.out.specs[-1], None
        if spec is not None and spec.verb is not None and spec.verb.lasting and lexeme.kind is Kind.NUMBER:
            spec.lasts = max(1, min(number, _MOST_TIMES))  # "sway R for 2", "hold 3"
            return
        if 1 <= number <= _MOST_TIMES:
            spec = spec or self._open(lexeme)
            spec.times, spec.numbered = number, lexeme.kind is Kind.NUMBER
        else:
            message = f"{lexeme.text!r}: can't do that so many times; say 2 to {_MOST_TIMES}"
            self.out.troubles.append(Trouble(lexeme.column, message))

    # -- what stands beside the movements

    def _spoken_of(self) -> Spec | None:
        """The specification that a claim or a weight belongs to."""
        if self.spec is not None and not self.spec.empty:
            return self.spec
        return self.out.specs[-1] if self.out.specs else None

    def _claim(self, lexeme: Lexeme) -> None:
        spec = self._spoken_of()
        if not isinstance(lexeme.value, Stated):
            self._unknown(lexeme)
        elif spec is None:
            self.out.before.append((lexeme.value, lexeme.column))
        else:
            spec.stated.append((lexeme.value, lexeme.column))

    def _weight(self, lexeme: Lexeme) -> None:
        if (spec := self._spoken_of()) is None:
            return
        if lexeme.value is True:
            spec.takes = True
        else:
            spec.weight = cast(Weight, lexeme.value)

    def _no_weight(self, lexeme: Lexeme) -> None:
        if (spec := self._spoken_of()) is not None:
            spec.unweighted = True

    def _note(self, lexeme: Lexeme) -> None:
        if lexeme.value:
            self.out.notes.append(str(lexeme.value))

    def _unknown(self, lexeme: Lexeme) -> None:
        if lexeme.kind is Kind.UNKNOWN and "/" in lexeme.text[:-1]:
            message = f"{lexeme.text!r}: turns go in whole eighths, such as 1/8, 1/4, 3/8, 1/2 or 3/4"
            self.out.troubles.append(Trouble(lexeme.column, message))
        else:
            self.out.troubles.append(Trouble(lexeme.column, lexeme.text, bare=True))


_TAKES: dict[Kind, Callable[[_Grammar, Lexeme], None]] = {
    Kind.SEPARATOR: _Grammar._separator,
    Kind.WITH: _Grammar._with,
    Kind.DASH: _Grammar._dash,
    Kind.VERB: _Grammar._verb,
    Kind.FIGURE: _Grammar._figure,
    Kind.WHERE: _Grammar._where,
    Kind.FEET: _Grammar._feet,
    Kind.TURN: _Grammar._turn,
    Kind.TURN_WAY: _Grammar._turn_way,
    Kind.NUMBER: _Grammar._times,
    Kind.TIMES: _Grammar._times,
    Kind.TO: _Grammar._to,
    Kind.CLAIM: _Grammar._claim,
    Kind.WEIGHT: _Grammar._weight,
    Kind.NO_WEIGHT: _Grammar._no_weight,
    Kind.NOTE: _Grammar._note,
    Kind.LIST: _Grammar._list,
    Kind.ON: _Grammar._on,
    Kind.LASTS: _Grammar._lasts,
    Kind.UNKNOWN: _Grammar._unknown,
}


def _takes_list(spec: Spec) -> bool:
    if spec.verb is None or spec.verb.name == "turn":
        return spec.turn is not None or spec.verb is None
    return not spec.verb.turns
