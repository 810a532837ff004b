"""What sounds, and will: pieces on the speaker's stream as one immutable sequence.

Conventions: a stream frame is the speaker's, a piece frame counts from a piece's own start; the two meet in
:class:`Playing` and nowhere else. Asking changes nothing; what is over stays until it is asked to be forgotten. Pure.
"""

from __future__ import annotations

from dataclasses import dataclass
from typing import Generic, Protocol, TypeVar

from caller.sound.score import Score


class Audible(Protocol):
    """What can be heard. end_frame: where what comes next would begin."""

    @property
    def score(self) -> Score: ...

    @property
    def end_frame(self) -> int: ...


Piece = TypeVar("Piece", bound=Audible)


@dataclass(frozen=True, slots=True)
class Playing(Generic[Piece]):
    """A piece on the speaker's stream: its frame 0 is stream frame ``origin``; it is heard from stream frame ``at``
    on. number: of the start, which a piece keeps however often it is made anew."""

    piece: Piece
    origin: int
    at: int
    number: int

    def piece_frame(self, stream_frame: int) -> int:
        return stream_frame - self.origin

    @property
    def ends(self) -> int:
        """The stream frame on which what comes next would begin."""
        return self.origin + self.piece.end_frame


@dataclass(frozen=True, slots=True)
class Playout(Generic[Piece]):
    """parts: in the order in which they are heard, each until the next one is."""

    parts: tuple[Playing[Piece], ...] = ()

    def at(self, frame: int) -> Playing[Piece] | None:
        """What is heard at a stream frame; None before the first."""
        return next((part for part in reversed(self.parts) if part.at <= frame), None)

    def under_way(self, frame: int) -> Playing[Piece]:
        """What is heard at a stream frame, or will be first. Raises IndexError where there is nothing."""
        return self.at(frame) or self.parts[0]

    def since(self, frame: int) -> Playout[Piece]:
        """Without what is over at a stream frame."""
        part = self.at(frame)
        return self if part is None else Playout(self.parts[self.parts.index(part) :])

    def until(self, part: Playing[Piece]) -> Playout[Piece]:
        """Without what was to follow one of its parts."""
        return Playout(self.parts[: self.parts.index(part) + 1])

    def followed(self, part: Playing[Piece]) -> Playout[Piece]:
        return Playout((*self.parts, part))
