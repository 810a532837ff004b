"""What the forms of a call hang on, and what those at once and those in parts have in common: the names of a figure.

Conventions: ``lost`` is in per cent of a call's worth.
"""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from fractions import Fraction
from typing import NamedTuple

from caller.calls.chain import MovementWords, PlacedMovement, joined, pieces_of
from caller.calls.plan import UNTOLD
from caller.calls.words import FOOT, TURN, words_of_turn
from caller.routine.facing import Turn

# What forms lose, in per cent.
NO_FOOT, NO_FOOT_MARKED, SHORTER = 2, 20, 3
_NO_WAY, _UNSIDED = 15, 12
# The side of a turn that the class has not been told yet goes only where nothing else helps, not even a quicker voice.
_SIDE_UNTOLD = UNTOLD + 40
# "right shuffle half left" holds two sides, of which one is the foot's.
_FOOT_AND_SIDE = 3
# From the second time on the fuller words are no better than the short ones.
TOO_FULL = 10
TIMES = {2: "twice", 3: "three times", 4: "four times"}


class Called(NamedTuple):
    """What forms hang on. ends: movements after the figure. names: of the figure it is, "{foot}" where its foot stands.
    turn: the figure's. foot: of its first movement. call: quoted by the sheet. own: words of the author that nobody
    could read. times: danced so often in a row. like: it is the one before it with the other foot. marked: its foot
    must be heard. thin: the second time or later."""

    placed: tuple[PlacedMovement, ...]
    ends: int
    names: tuple[str, ...]
    turn: Turn
    foot: str
    foot_open: bool
    call: str
    own: str
    times: int
    like: bool
    marked: bool
    thin: bool
    sided: bool = False  # whether the side that it turns to has been told
    length: Fraction = Fraction(0)  # of one time, where there are more
    upbeat: bool = False  # whether it begins between two counts

    @property
    def unsided(self) -> int:
        """What leaving out the side of its turn loses."""
        return 0 if self.thin else _UNSIDED if self.sided else _SIDE_UNTOLD


class Form(NamedTuple):
    words: str
    lost: int


def named(called: Called, names: tuple[str, ...]) -> Iterator[Form]:
    turn = words_of_turn(called.turn)
    footless = NO_FOOT_MARKED if called.marked or called.foot_open else NO_FOOT
    for index, name in enumerate(names):
        travels = not name.startswith(FOOT)
        full = name.replace(FOOT, called.foot).strip()
        bare = full if travels else name.replace(FOOT, "").strip()
        fuller = (TOO_FULL if called.thin else 0) if index == 0 and len(names) > 1 else 0
        fuller += SHORTER * index
        # A figure that travels to the side that it turns to has told it.
        unsided = 0 if travels and turn.full.endswith(f" {called.foot}") else called.unsided
        told = [(turn.full, 0), (turn.amount, unsided)] if turn.full else [("", 0)]
        for turned, less in told:
            if not travels:
                footed = 0 if called.marked else TOO_FULL if called.thin else _FOOT_AND_SIDE if turned else 0
                yield Form(_turned(full, turned), fuller + less + footed)
            yield Form(_turned(bare, turned), fuller + less + (0 if travels else footless))
            if travels and not called.marked:  # the free foot goes but one way
                untold = called.unsided if turned == turn.amount != "" else less
                yield Form(_turned(name.replace(FOOT, "").strip(), turned), fuller + untold + _NO_WAY)


def _turned(name: str, turn: str) -> str:
    return name.replace(TURN, turn) if TURN in name else f"{name} {turn}".rstrip()


def ending_words(called: Called) -> str:
    """The movements after a figure."""
    return joined(pieces_of(called.placed)[-called.ends :], "short", tight=True)


def sided_once(pieces: Sequence[MovementWords]) -> Sequence[MovementWords]:
    """ "back quarter left, side quarter": where all turns go one way, the first tells which."""
    turning = [n for n, piece in enumerate(pieces) if piece.short != piece.unsided]
    ways = {pieces[n].short.rpartition(" ")[2] for n in turning}
    if len(turning) < 2 or len(ways) > 1:
        return pieces
    return [piece._replace(short=piece.unsided) if n in turning[1:] else piece for n, piece in enumerate(pieces)]


def needs_recover(called: Called) -> bool:
    """Whether a recover has to be heard: the first time, among movements that have no name together. A rock by itself
    is known by its name."""
    return not called.thin and len(called.placed) > 2
