"""Verbs and figures as they come: which go into the segment that is open, and which begin one of their own."""

from __future__ import annotations

from typing import cast

from caller.routine.figures import Figure, Verb
from caller.routine.notation.lexeme import Lexeme, LexemeKind
from caller.routine.notation.open_segment import OpenSegment
from caller.routine.notation.pairs import join_verbs, says_hips
from caller.routine.notation.spec import Spec

_THIRD_PERSON = frozenset(
    ("steps", "touches", "crosses", "closes", "points", "kicks", "taps", "moves", "locks", "slides")
)
_PARTS = frozenset(("heel", "heels", "toe", "toes", "knee", "hip", "hips"))
# Verbs that a heel or a toe behind the foot makes another movement of: "touch R heel" is a heel.
_TOLD_BY_PART = frozenset(("cross", "place", "touch", "heel", "point", "step", "swivel", "fan", "grind"))


def take_verb(segment: OpenSegment, lexeme: Lexeme) -> None:
    """The verb of the open segment, or beside the verb or figure that it has already; else of a new one."""
    verb = cast(Verb, lexeme.value)
    spec = segment.spec
    if verb.name == "turn":
        _turn_word(segment, lexeme, verb)
        return
    if verb.name == "lock" and spec is not None and not spec.told and spec.wheres and not spec.feet:
        segment.close()  # "back, lock, back"
        spec = None
    if spec is None or not spec.told:
        spec = segment.open(lexeme)
        spec.verb = verb
        spec.going_on = lexeme.goes_on
        spec.part = lexeme.text in _PARTS
        spec.third = lexeme.text in _THIRD_PERSON and not spec.feet
        going_on = verb.bears == "none" and (lexeme.goes_on or (verb.folds and segment.joining))
        spec.beside = spec.beside or (going_on and bool(segment.out.specs))
    elif spec.figure is not None:
        _verb_after_figure(segment, lexeme, verb, spec, spec.figure)
    elif spec.verb is not None:
        _second_verb(segment, lexeme, verb, spec, spec.verb)
    segment.pending_turn = segment.pending_turn and verb.turns
    segment.after_turn_word = verb.turns and not segment.pending_turn


def _turn_word(segment: OpenSegment, lexeme: Lexeme, verb: Verb) -> None:
    segment.after_turn_word = True
    spec = segment.spec
    if spec is None or not (spec.told or spec.feet or spec.wheres or (spec.empty and spec.beside)):
        segment.open(lexeme).verb = verb


def _verb_after_figure(segment: OpenSegment, lexeme: Lexeme, verb: Verb, spec: Spec, figure: Figure) -> None:
    if verb.name == "step":  # "shuffle 1/2 turn left stepping R, L, R"
        spec.listing = True
    elif verb.name == "cross" and "over" in figure.ways:
        spec.wheres.append("over")
    else:
        segment.close()
        take_verb(segment, lexeme)


def _second_verb(segment: OpenSegment, lexeme: Lexeme, verb: Verb, spec: Spec, first: Verb) -> None:
    """Two verbs in one segment: one movement where they are said so, else a new segment."""
    if _names_a_part(segment, lexeme, first):
        return
    if join_verbs(spec, first, verb, lexeme, segment.vocabulary):
        segment.after_to = segment.after_to or says_hips(lexeme, verb)  # "swaying hips right"
        return
    if segment.after_to and first.name in ("slide", "drag") and verb.name in ("touch", "close"):
        spec.verb = verb  # "slide L to touch beside R"
        return
    waiting = spec.turn if verb.turns and segment.pending_turn and spec.way is None else None
    if waiting is not None:
        spec.turn = None  # "step 1/2 pivot L"
    segment.close()
    new = segment.open(lexeme)
    new.verb, new.turn = verb, waiting
    segment.pending_turn = waiting is not None
    new.beside = lexeme.goes_on and verb.bears == "none"


def _names_a_part(segment: OpenSegment, lexeme: Lexeme, first: Verb) -> bool:
    """ "touch R toe beside L heel", "hook R heel": a part of the foot that is told already."""
    if lexeme.text not in _PARTS or segment.previous is None or segment.previous.kind is not LexemeKind.FEET:
        return False
    return segment.past_said or first.name not in _TOLD_BY_PART


def take_figure(segment: OpenSegment, lexeme: Lexeme) -> None:
    """The figure of the open segment, in the place of a verb that only says how it goes; else of a new one."""
    figure = cast(Figure, lexeme.value)
    spec = segment.spec
    if spec is not None and spec.figure is figure:
        return
    if spec is not None and spec.verb is not None:
        crossing = spec.verb.name == "cross" and "over" in figure.ways
        empty_step = spec.verb.name == "step" and not spec.feet and not spec.wheres
        if spec.verb.name == "cross" and figure.name == "chasse":
            figure, crossing = segment.vocabulary.figures["shuffle"], True
        if crossing or spec.verb.name == "turn" or empty_step:
            spec.verb, spec.figure = None, figure
            if crossing:
                spec.wheres.insert(0, "over")
            return
    if spec is not None and spec.told:
        segment.close()
    segment.open(lexeme).figure = figure
