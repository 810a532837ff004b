"""The recordings that go home: how fast, and with or without the calls.

Conventions: speed is a share of the full tempo, exact.
"""

from __future__ import annotations

import sys
from dataclasses import dataclass
from fractions import Fraction

from caller.calls.plan import Fading, Manner


@dataclass(frozen=True, slots=True)
class Version:
    """One recording. name: part of its file's name. words: as a listener reads them."""

    name: str
    words: str
    speed: Fraction
    manner: Manner

    @property
    def fading(self) -> Fading:
        """Who practises slowly is learning still, and may have missed the class: everything is called in all walls."""
        return Fading.ALL if self.speed < 1 else Fading.USUAL

    @property
    def called(self) -> bool:
        return self.manner is not Manner.QUIET


_SPEEDS = (
    ("half", "half speed", Fraction(1, 2)),
    ("three-quarters", "three-quarter speed", Fraction(3, 4)),
    ("full", "full speed", Fraction(1)),
)
_WAYS = (("called", "called", Manner.AHEAD), ("counts", "count track only", Manner.QUIET))

# Slowest first, as they are practised.
VERSIONS = tuple(
    Version(f"{speed_name}-{way_name}", f"{speed_words}, {way_words}", speed, manner)
    for speed_name, speed_words, speed in _SPEEDS
    for way_name, way_words, manner in _WAYS
)


def file_stem(title: str) -> str:
    """A title as part of a file's name: its letters and digits in lower case, hyphens between."""
    words = "".join(c if c.isalnum() else " " for c in title.lower()).split()
    # In bytes, as file systems count them; and in signs that this one can have in a name.
    coding = sys.getfilesystemencoding()
    named = "-".join(words).encode(coding, "ignore")[:120].decode(coding, "ignore")[:60]
    return named.strip("-") or "routine"
