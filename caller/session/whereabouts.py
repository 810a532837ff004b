"""Where a class is in what sounds, from how it stands and what is on the air. Nothing is changed by asking.

Conventions: frames are of the stream; a place is a count of a take, or a line of a telling.
"""

from __future__ import annotations

from dataclasses import replace
from fractions import Fraction
from math import ceil

from caller.calls.take import Take
from caller.clock.timeline import HeardTimeline
from caller.session.air import Air
from caller.session.playout import Playout
from caller.session.programme import Passed, ProgrammeEvent, Segment, ToDance, ToTell
from caller.session.showing import place_in
from caller.session.standing import Paused, Sounding, Standing, Whole
from caller.teaching.play import Narration, Piece
from caller.transport.order import Amounts, Order
from caller.transport.state import GoOn
from caller.transport.tempo import Slowing


def own_playout(stands: Standing[Whole], air: Air[Piece]) -> Playout[Piece]:
    """What is under way, and what it will be once changes hold: all on one axis. Not what follows it."""
    then = isinstance(stands, Sounding) and stands.then is not None
    return Playout(air.playout.parts[:-1]) if then else air.playout


def heard_at(stands: Standing[Whole], air: Air[Piece], frame: int) -> tuple[Piece | None, int]:
    """What is heard at a frame, or is about to be, and where in it."""
    if air.waiting is not None or not air.playout.parts:
        return air.waiting, 0
    part = own_playout(stands, air).under_way(frame)
    return part.piece, part.piece_frame(frame)


def entry_at(stands: Standing[Whole], air: Air[Piece], soonest: int) -> int | None:
    """The stream frame on which another piece sets in; None for as soon as can be. While a dance sounds that is its
    next half count: there clicks may lie, and a click that came between them would strike upon one. What has not begun
    gives up its place."""
    if not isinstance(stands, Sounding) or air.waiting is not None:
        return None
    part = air.playout.at(soonest)
    if part is None:
        return air.playout.parts[0].origin if air.playout.parts else None
    if not isinstance(part.piece, Take) or soonest >= part.ends:
        return None
    timeline = part.piece.timeline
    half_counts = ceil(2 * timeline.count_at(part.piece_frame(soonest)))
    return part.origin + timeline.frame_of(Fraction(half_counts, 2))


def outcome_at(
    stands: Standing[Whole], air: Air[Piece], what: Order | Passed, amounts: Amounts, go_on: GoOn
) -> ProgrammeEvent:
    """Something that happens, with where it does."""
    piece, place = None, Fraction(0)
    if isinstance(stands, Paused):
        piece, place = stands.piece, stands.place
    elif isinstance(stands, Sounding):
        piece, frame = heard_at(stands, air, air.here)
        place = place_in(piece, frame) if piece is not None else place
    count = place if isinstance(piece, Take) else None
    line = int(place) if isinstance(piece, Narration) else None
    return ProgrammeEvent(what, count, line, amounts, go_on, isinstance(stands, Paused))


def end_of(programme: Whole, slowing: Slowing) -> Fraction:
    """The count at which what is danced is over; 0 where nothing is."""
    segment = None if programme.over or programme.waits else programme.segment(slowing)
    return segment.end if isinstance(segment, ToDance) else Fraction(0)


def stays_paused(programme: Whole, slowing: Slowing) -> bool:
    """Whether what is told now is told to a class that is paused, and stays so."""
    segment = None if programme.over or programme.waits else programme.segment(slowing)
    return isinstance(segment, ToTell) and segment.stays


def up_to_the_cut(segment: Segment, stands: Standing[Whole]) -> Segment:
    """What is to be heard, up to where it is to pause."""
    cut = stands.cut if isinstance(stands, Sounding) else None
    return replace(segment, end=cut) if cut is not None and isinstance(segment, ToDance) else segment


def beat_at(stands: Standing[Whole], air: Air[Piece], now: float, rate: float) -> HeardTimeline | None:
    """What is danced at a time, in seconds, for whoever goes on with its beat."""
    frame = air.frame(now)
    part = own_playout(stands, air).at(frame) if isinstance(stands, Sounding) else None
    if part is None or not isinstance(part.piece, Take):
        return None
    take, zero_seconds = part.piece, now - part.piece_frame(frame) / rate
    return HeardTimeline(take.timeline, zero_seconds, take.start, take.end, part.number)
