"""Movements written out, recognised as figures, and grouped into phrases to call.

The longest figure wins, from left to right. A figure written with a turn is recognised however the turn is spread over
its movements, as long as all goes the same way round.
"""

from __future__ import annotations

from collections import defaultdict
from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from fractions import Fraction
from functools import lru_cache

from caller.routine.facing import Turn
from caller.routine.figures import Figure, Move
from caller.routine.named_figures import FigureCalled, FigureWords
from caller.routine.naming import (
    counted_word,
    figure_name,
    figure_wordings,
    movement_name,
    one_word,
    short_words,
    way_home,
)
from caller.routine.passages import Phrase, Step
from caller.routine.step import Foot, Movement
from caller.routine.vocabulary import Vocabulary


@dataclass(frozen=True, slots=True)
class FigureForm:
    """A figure in one way, on one foot, with the turns that belong to it anyway."""

    figure: Figure
    way: str
    lead: Foot
    turns: tuple[int, ...]

    def turn_beyond(self, steps: Sequence[Step]) -> Turn | None:
        """The turn written on it, None where the steps turn in a way that it does not."""
        beyond = [step.movement.turn.eighths - own for step, own in zip(steps, self.turns, strict=True)]
        if any(self.turns):
            return Turn(0) if not any(beyond) else None
        total = sum(beyond)
        if self.figure.needs_turn:
            places = {t - 1 for t in self.figure.turns}
            if total == 0 or any(turn and n not in places for n, turn in enumerate(beyond)):
                return None
        return Turn(total) if all(turn == 0 or (turn > 0) == (total > 0) for turn in beyond) else None


@dataclass(frozen=True, slots=True)
class Found:
    """A figure found at steps first to last."""

    first: int
    last: int
    figure: Figure
    way: str
    lead: Foot
    turn: Turn


def _shape(movement: Movement) -> str:
    """What has to be alike for two movements to be the same one, but for turns and diagonals."""
    where = movement.where
    if where.endswith("diagonal"):
        where = where.removesuffix(" diagonal")
    foot = movement.foot.value if movement.foot else ""
    return f"{movement.action} {foot} {where} {movement.weight.value if movement.weight else ''}"


_Forms = Mapping[str, list[tuple[list[str], FigureForm]]]


@lru_cache(maxsize=4)
def _forms(vocabulary: Vocabulary) -> _Forms:
    """Every figure, way and foot by the shape of its first movement, longest first."""
    forms: dict[str, list[tuple[list[str], FigureForm]]] = defaultdict(list)
    for figure in vocabulary.figures.values():
        if not figure.recognise:
            continue
        for way in figure.ways:
            for lead in Foot:
                movements = figure.movements(way, lead)
                shapes = [_shape(m) for m in movements]
                form = FigureForm(figure, way, lead, tuple(m.turn.eighths for m in movements))
                forms[shapes[0]].append((shapes, form))
    for entries in forms.values():
        entries.sort(key=lambda entry: -len(entry[0]))
    return forms


def _on_its_counts(figure: Figure, run: Sequence[Step]) -> bool:
    """Whether the steps fall as one of the figure's count patterns has them."""
    offsets = tuple(step.at - run[0].at for step in run)
    return offsets in figure.counts or tuple(_straightened(o) for o in offsets) in figure.counts


def _straightened(offset: Fraction) -> Fraction:
    """A swung "&" as it is written straight."""
    rest = offset % 1
    return offset - rest + Fraction(1, 2) if rest in (Fraction(1, 3), Fraction(2, 3), Fraction(3, 4)) else offset


def find_figure(
    steps: Sequence[Step], first: int, limit: int, vocabulary: Vocabulary, lines: Sequence[int]
) -> Found | None:
    """The longest figure that begins at step ``first`` and ends before ``limit``. It takes part of one line, or whole
    lines."""
    shapes = [_shape(step.movement) for step in steps[first:limit]]
    return _find(steps, shapes, first, _forms(vocabulary), lines)


def _find(
    steps: Sequence[Step], shapes: list[str], first: int, forms: _Forms, lines: Sequence[int], begun: int | None = None
) -> Found | None:
    """shapes: of the steps from ``begun`` (None: from ``first``) to the limit."""
    at = first - (first if begun is None else begun)
    for wanted, form in forms.get(shapes[at], ()):
        last = first + len(wanted) - 1
        if shapes[at : at + len(wanted)] != wanted or not _keeps_lines(lines, first, last):
            continue
        run = steps[first : last + 1]
        turn = form.turn_beyond(run)
        if turn is not None and _on_its_counts(form.figure, run):
            return Found(first, last, form.figure, form.way, form.lead, turn)
    return None


def _keeps_lines(lines: Sequence[int], first: int, last: int) -> bool:
    """A figure on several lines begins where one begins and ends where one ends: else it would break up others."""
    begins = first == 0 or lines[first - 1] != lines[first]
    ends = last == len(lines) - 1 or lines[last + 1] != lines[last]
    return lines[first] == lines[last] or (begins and ends)


def figure_phrase(found: Found, steps: Sequence[Step], named: tuple[FigureWords, ...] = ()) -> Phrase:
    """named: the sheet's own words for it, where it has them."""
    figure, words = found.figure, each_words(found.figure, steps[found.first : found.last + 1], found.way)
    return Phrase(
        found.first,
        found.last,
        figure_name(figure, found.way, found.lead, found.turn),
        figure_wordings(figure, found.way, found.lead, found.turn),
        words if found.way in figure.own_each else _with_ways_home(words, steps, found.first),
        figures=named,
        figure=FigureCalled(figure.name, found.way, found.lead, found.turn, bool(named)),
    )


def _with_ways_home(words: tuple[str, ...], steps: Sequence[Step], first: int) -> tuple[str, ...]:
    """Words of steps from ``first`` on, with the way home from a corner, which only the steps before it tell."""
    moves = [step.movement for step in steps[: first + len(words)]]
    homes = (way_home(*moves[n - 2 : n + 1]) if n >= 2 else "" for n in range(first, len(moves)))
    return tuple(home or word for home, word in zip(homes, words, strict=True))


# Words of a figure's plain way that another way's movements don't keep.
_OF_ONE_WAY = frozenset(
    ("step", "together", "side", "back", "forward", "rock", "recover", "cross", "behind", "walk", "run")
)


def each_words(figure: Figure, steps: Sequence[Step], way: str = "") -> tuple[str, ...]:
    """A word for each step: the teacher's own, else the figure's, those of its other ways by what is danced: "cross,
    side, cross"."""
    if len(own := figure.own_each.get(way, ())) == len(steps):
        return own
    if len(figure.each) != len(steps):
        return tuple(counted_word(step.movement) for step in steps)
    moves = figure.ways.get(way, ())
    plain = way == figure.plain_way and len(moves) == len(steps)
    kept = [_as_told(move, step) for move, step in zip(moves, steps, strict=True)] if plain else []
    return tuple(
        counted_word(step.movement, word if word not in _OF_ONE_WAY or (plain and kept[n]) else "")
        for n, (word, step) in enumerate(zip(figure.each, steps, strict=True))
    )


def _as_told(move: Move, step: Step) -> bool:
    """Whether a movement goes where the figure has it."""
    told, own = move.told(Foot.RIGHT, 0), step.movement
    return (told.action, told.where) == (own.action, own.where.removesuffix(" diagonal"))


def plain_phrase(first: int, last: int, steps: Sequence[Step]) -> Phrase:
    """Steps that are no figure, called by short words made from the movements."""
    movements = [step.movement for step in steps[first : last + 1]]
    name = ", ".join(movement_name(m) for m in movements)
    short = ", ".join(short_words(m) for m in movements)
    words = ", ".join(one_word(m) for m in movements)
    wordings, each = tuple(dict.fromkeys((name, short, words))), tuple(counted_word(m) for m in movements)
    return Phrase(first, last, name, wordings, _with_ways_home(each, steps, first))


# Steps that are no figure are called together over no more than so many counts.
_TOGETHER_COUNTS = 2


def group(steps: Sequence[Step], first: int, limit: int, vocabulary: Vocabulary, lines: Sequence[int]) -> list[Phrase]:
    """Phrases for steps first to limit (excluded): figures where there are any, the rest in twos by line.

    lines: the sheet's line of each step.
    """
    phrases: list[Phrase] = []
    shapes = [_shape(step.movement) for step in steps[first:limit]]
    forms = _forms(vocabulary)
    at = loose = first  # loose: the first step that is in no figure yet
    while at < limit:
        found = _find(steps, shapes, at, forms, lines, first)
        if found is None:
            at += 1
            continue
        if _breaks_up(found, steps, _find(steps, shapes, found.last, forms, lines, first)):
            at = found.last
            continue
        phrases += _loose(steps, loose, at, lines)
        phrases.append(figure_phrase(found, steps))
        at = loose = found.last + 1
    return phrases + _loose(steps, loose, limit, lines)


def _breaks_up(found: Found, steps: Sequence[Step], other: Found | None) -> bool:
    """Whether a figure on whole counts ends with the first step of one between the counts, two counts later: "side,
    behind, side shuffle" (1-2, 3&4) is no vine. other: what begins with its last step."""
    return (
        other is not None
        and other.last > found.last + 1
        and steps[found.last + 1].at - steps[found.last].at < 1
        and (steps[found.last].at - steps[found.first].at) % 2 == 0
        and all(step.at.denominator == 1 for step in steps[found.first : found.last + 1])
    )


def _loose(steps: Sequence[Step], first: int, limit: int, lines: Sequence[int]) -> list[Phrase]:
    phrases: list[Phrase] = []
    begin = first
    for n in range(first, limit):
        if steps[n].at - steps[begin].at >= _TOGETHER_COUNTS or lines[n] != lines[begin]:
            phrases.append(plain_phrase(begin, n - 1, steps))
            begin = n
    return [*phrases, plain_phrase(begin, limit - 1, steps)] if begin < limit else phrases
