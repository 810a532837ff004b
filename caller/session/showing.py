"""What shows of where a class stands: the dance at a glance, the sentence that is told. Pure.

Conventions: frames are of the piece that is heard, or about to be. Sentences told are as they are spoken.
"""

from __future__ import annotations

from dataclasses import replace
from fractions import Fraction

from caller.calls.glance import Glance, glance
from caller.calls.take import Take
from caller.clock.timeline import SECONDS_A_MINUTE
from caller.session.standing import Finished, Paused, Sounding, Standing, Waiting, Whole
from caller.teaching.play import Narration, Piece


def place_in(piece: Piece, frame: int) -> Fraction:
    """Where in a piece a frame of it is: the count of a take, never beyond its last; the line of a telling."""
    if isinstance(piece, Narration):
        return Fraction(piece.line_at(frame))
    return min(max(piece.timeline.count_at(frame), piece.start), piece.end - 1)


def tempo_danced(take: Take) -> Fraction:
    """The tempo at which a take was danced, in counts a minute: where it changed, its mean, to a tenth."""
    seconds = take.timeline.seconds_of(take.end) - take.timeline.seconds_of(take.start)
    mean = SECONDS_A_MINUTE * (take.end - take.start) / seconds
    at_first = take.timeline.tempo_at(take.timeline.frame_of(take.start))
    return mean if mean == at_first else Fraction(round(10 * mean), 10)


def glance_of(
    stands: Standing[Whole], piece: Piece | None, frame: int, shown: Take | None, tempo: Fraction
) -> Glance | None:
    """shown: while nothing is danced. tempo: what is asked for, where it stands still."""
    if isinstance(stands, Paused) and isinstance(stands.piece, Take):
        still = glance(stands.piece, stands.piece.timeline.frame_of(stands.place))
        return replace(still, saying="", tempo=tempo)
    if isinstance(stands, Sounding | Finished) and isinstance(piece, Take):
        return glance(piece, frame)
    return None if shown is None else replace(glance(shown, 0), saying="")


def telling_of(stands: Standing[Whole], piece: Piece | None, frame: int, after: str) -> tuple[str, str]:
    """The sentence that is told, or was when it was paused, and the one after it; while a stage waits, the name of the
    next, ``after``. "" for none."""
    match stands:
        case Waiting():
            return "", after
        case Paused(piece=Narration() as told, place=line):
            return _lines(told, int(line))
        case Sounding() if isinstance(piece, Narration):
            return _lines(piece, piece.line_at(frame))
        case _:
            return "", ""


def told_lines(stands: Standing[Whole], piece: Piece | None, frame: int) -> tuple[tuple[str, ...], int]:
    """All sentences of what is told, or was when it was paused, and which of them is; none where nothing is."""
    match stands:
        case Paused(piece=Narration() as told, place=line):
            return tuple(one.words for one in told.lines), int(line)
        case Sounding() if isinstance(piece, Narration):
            return tuple(one.words for one in piece.lines), piece.line_at(frame)
        case _:
            return (), 0


def minutes_words(gone_seconds: float, left_seconds: Fraction | None) -> str:
    """ "5 min gone, 17 left"; without what is left where that is not known."""
    left = "" if left_seconds is None else f", {round(left_seconds / 60)} left"
    return f"{int(gone_seconds // 60)} min gone{left}"


def _lines(told: Narration, line: int) -> tuple[str, str]:
    words = [one.words for one in told.lines[line : line + 2]]
    return (*words, "", "")[0], (*words, "", "")[1]
