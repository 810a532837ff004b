"""Music that is made ready by hand."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass, field, replace
from fractions import Fraction

from caller.calls.music import Song


@dataclass
class HandMusic:
    """make: a song with versions at those tempos. song: what there is by now. wanted: every tempo asked for that there
    was no version for, in order; places: of each, from when on it is heard, seconds of the recording."""

    make: Callable[[list[Fraction]], Song]
    song: Song | None = None
    ready: bool = True
    says: str = ""
    wanted: list[Fraction] = field(default_factory=list)
    places: list[Fraction] = field(default_factory=list)
    closed: bool = False

    def want(self, tempo: Fraction, at_seconds: Fraction = Fraction(0)) -> None:
        if self.song is None or tempo not in self.song.versions:
            self.wanted.append(tempo)
            self.places.append(at_seconds)

    def arrive(self, *tempos: Fraction | int) -> None:
        """Versions at those tempos are there now."""
        made = self.make([Fraction(tempo) for tempo in tempos])
        versions = {**(self.song.versions if self.song is not None else {}), **made.versions}
        self.song = replace(made, versions=versions)

    def close(self) -> None:
        self.closed = True
