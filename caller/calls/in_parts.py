"""The forms of a call that come in parts, each over before its own movement."""

from __future__ import annotations

from collections.abc import Iterator, Sequence

from caller.calls.at_once import ending_of, named, needs_recover, sided_once
from caller.calls.called import Called
from caller.calls.chain import MovementWords, PlacedMovement, joined, pieces_of
from caller.calls.losses import (
    AT_ONCE,
    IN_PARTS,
    LATE_COUNTS,
    NO_FOOT_SWAPPED,
    SHORTER,
    TIMES,
    TURN_ALONE,
    WHAT_AGAIN,
)
from caller.calls.plan import Part
from caller.calls.spelling import spoken
from caller.calls.words import words_of_turn
from caller.routine.facing import NO_TURN


def forms_in_parts(called: Called) -> Iterator[tuple[tuple[Part, ...], int]]:
    """The same in parts, each over before its own movement."""
    if called.names:
        yield from _figure_in_parts(called)
    else:
        yield from _chain_in_parts(called)


def _figure_in_parts(called: Called) -> Iterator[tuple[tuple[Part, ...], int]]:
    """A figure, and how it ends; a figure, and how far it turns late in it; or a figure, and "again"."""
    times = f" {TIMES[called.times]}" if called.times > 1 else ""
    end = called.placed[-called.ends].offset if called.ends else AT_ONCE
    ending = (Part(spoken(ending_of(called) + times), end),) if called.ends else ()
    for words, lost in named(called, called.names):
        said = spoken(words)
        if called.ends:
            yield (Part(said, AT_ONCE), *ending), lost + IN_PARTS
        elif called.times > 1:
            yield from _again(called, (Part(said, AT_ONCE),), lost + IN_PARTS + SHORTER, "")
    late = [one.offset for one in called.placed if one.movement.turn]
    if called.turn and len(late) == 1 and late[0] >= LATE_COUNTS and not times:
        turn = words_of_turn(called.turn)
        for words, lost in named(called._replace(turn=NO_TURN), called.names[-1:]):
            for told, less in ((turn.full, 0), (turn.amount, called.unsided)):
                parts = (Part(spoken(words), AT_ONCE), Part(told, late[0]))
                yield (*parts, *ending), lost + less + IN_PARTS * (len(ending) + 2)


def _again(called: Called, parts: tuple[Part, ...], lost: int, first: str) -> Iterator[tuple[tuple[Part, ...], int]]:
    """With "again" before each further time; first: the word of what is danced again, where that might mean several
    things: "swivel again"."""
    times = [called.length * n for n in range(1, called.times)]
    if first:
        yield (*parts, *(Part(f"{first} again", after) for after in times)), lost
    yield (*parts, *(Part("again", after) for after in times)), lost + (WHAT_AGAIN if first else 0)


def _chain_in_parts(called: Called) -> Iterator[tuple[tuple[Part, ...], int]]:
    every = pieces_of(called.placed, upbeat=called.upbeat)
    pieces = [piece for piece in every if not piece.understood or needs_recover(called)]
    unsided = called.unsided
    once = sided_once(pieces)
    ways = (("short", 0), ("once", SHORTER), ("curt", TURN_ALONE), ("unsided", unsided), ("brief", unsided + SHORTER))
    for words, less in ways:
        if words != "short" and not any(one.movement.turn for one in called.placed):
            continue
        for cuts in _partings(called.placed, pieces):
            own = once if words == "once" else pieces
            runs = [list(own[a:b]) for a, b in zip((0, *cuts), (*cuts, len(own)), strict=True)]
            # "quarter" alone is no step.
            runs = [[run[0]._replace(brief=run[0].unsided, curt=run[0].short), *run[1:]] for run in runs]
            said = [spoken(joined(run, "short" if words == "once" else words, tight=True)) for run in runs]
            offsets = [AT_ONCE, *(called.placed[run[0].movement].offset for run in runs[1:])]
            lost = IN_PARTS * len(cuts) + SHORTER + less
            parts = tuple(Part(one, after) for one, after in zip(said, offsets, strict=True))
            for told, less_foot in _footed(called, parts):
                if called.times == 1:
                    yield told, lost + less_foot
                else:
                    # A step with its turn is one thing.
                    what = "" if any(piece.alone for piece in pieces) or len(own) == 1 else own[0].short.split()[0]
                    yield from _again(called, told, lost + less_foot + IN_PARTS, what)


def _footed(called: Called, parts: tuple[Part, ...]) -> Iterator[tuple[tuple[Part, ...], int]]:
    """With the foot in the first of them too, where it is another than that of the call before."""
    if not called.swaps:
        yield parts, 0
        return
    first, *rest = parts
    yield (first._replace(words=f"{called.foot} {first.words}"), *rest), 0
    yield parts, NO_FOOT_SWAPPED


def _partings(placed: Sequence[PlacedMovement], pieces: Sequence[MovementWords]) -> Iterator[tuple[int, ...]]:
    """Where a chain may be parted, once or twice, a count or more apart; and not at all."""
    yield ()
    places = [placed[piece.movement].offset for piece in pieces]
    begins = [n for n in range(1, len(pieces)) if places[n] >= 1 and not pieces[n].understood]
    for first in begins:
        yield (first,)
        yield from ((first, n) for n in begins if places[n] - places[first] >= 1)
