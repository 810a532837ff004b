"""The forms of a call that is said in parts, each over before its own movement: "step", "half right".

Conventions: ``after`` of a part is in counts after the first; what a form loses, in per cent of a call's worth.
"""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from fractions import Fraction

from caller.calls.called import SHORTER, TIMES, Called, ending_words, named, needs_recover, sided_once
from caller.calls.chain import MovementWords, PlacedMovement, joined, pieces_of
from caller.calls.plan import Part
from caller.calls.spelling import spoken
from caller.calls.words import words_of_turn
from caller.routine.facing import NO_TURN

_IN_PARTS = 5  # what each part more loses, in per cent
_AT_ONCE = Fraction(0)
# A figure's turn is called by itself where it comes so many counts after its first step.
_LATE_COUNTS = 2


def forms_in_parts(called: Called) -> Iterator[tuple[tuple[Part, ...], int]]:
    """The same in parts, each over before its own movement."""
    if called.names:
        yield from _figure_in_parts(called)
    else:
        yield from _chain_in_parts(called)


def _figure_in_parts(called: Called) -> Iterator[tuple[tuple[Part, ...], int]]:
    """A figure, and how it ends; a figure, and how far it turns late in it; or a figure, and "again"."""
    times = f" {TIMES[called.times]}" if called.times > 1 else ""
    end = called.placed[-called.ends].offset if called.ends else _AT_ONCE
    ending = (Part(spoken(ending_words(called) + times), end),) if called.ends else ()
    for words, lost in named(called, called.names):
        said = spoken(words)
        if called.ends:
            yield (Part(said, _AT_ONCE), *ending), lost + _IN_PARTS
        elif called.times > 1:
            yield _again(called, (Part(said, _AT_ONCE),)), lost + _IN_PARTS + SHORTER
    late = [one.offset for one in called.placed if one.movement.turn]
    if called.turn and len(late) == 1 and late[0] >= _LATE_COUNTS and not times:
        turn = words_of_turn(called.turn)
        for words, lost in named(called._replace(turn=NO_TURN), called.names[-1:]):
            for told, less in ((turn.full, 0), (turn.amount, called.unsided)):
                parts = (Part(spoken(words), _AT_ONCE), Part(told, late[0]))
                yield (*parts, *ending), lost + less + _IN_PARTS * (len(ending) + 2)


def _again(called: Called, parts: tuple[Part, ...]) -> tuple[Part, ...]:
    """With "again" before each further time."""
    return (*parts, *(Part("again", called.length * n) for n in range(1, called.times)))


def _chain_in_parts(called: Called) -> Iterator[tuple[tuple[Part, ...], int]]:
    every = pieces_of(called.placed, upbeat=called.upbeat)
    pieces = [piece for piece in every if not piece.understood or needs_recover(called)]
    times = f" {TIMES[called.times]}" if called.times > 1 else ""
    unsided = called.unsided
    once = sided_once(pieces)
    for words, less in (("short", 0), ("once", SHORTER), ("unsided", unsided), ("brief", unsided + SHORTER)):
        if words != "short" and not any(one.movement.turn for one in called.placed):
            continue
        for cuts in _partings(called.placed, pieces):
            own = once if words == "once" else pieces
            runs = [list(own[a:b]) for a, b in zip((0, *cuts), (*cuts, len(own)), strict=True)]
            # "quarter" alone is no step.
            runs = [[run[0]._replace(brief=run[0].unsided), *run[1:]] for run in runs]
            said = [spoken(joined(run, "short" if words == "once" else words, tight=True)) for run in runs]
            offsets = [_AT_ONCE, *(called.placed[run[0].movement].offset for run in runs[1:])]
            lost = _IN_PARTS * len(cuts) + SHORTER + less
            parts = tuple(Part(one, after) for one, after in zip(said, offsets, strict=True))
            if not times:
                yield parts, lost
            elif cuts:
                yield (*parts[:-1], Part(parts[-1].words + times, parts[-1].after)), lost
            else:
                yield _again(called, parts), lost + _IN_PARTS


def _partings(placed: Sequence[PlacedMovement], pieces: Sequence[MovementWords]) -> Iterator[tuple[int, ...]]:
    """Where a chain may be parted, once or twice, a count or more apart; and not at all."""
    yield ()
    places = [placed[piece.movement].offset for piece in pieces]
    begins = [n for n in range(1, len(pieces)) if places[n] >= 1 and not pieces[n].understood]
    for first in begins:
        yield (first,)
        yield from ((first, n) for n in begins if places[n] - places[first] >= 1)
