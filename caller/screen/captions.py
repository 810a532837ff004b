"""Captions: whatever is spoken stands on the screen. What stands there anyway, as the call, the next one, the warning
or the count, is not written twice.

Conventions: words are compared without regard to order, case and how numbers are written.
"""

from __future__ import annotations

import re
from dataclasses import dataclass
from typing import TYPE_CHECKING

from caller.calls.wording import spoken_number
from caller.screen.plain_text import plain_text

if TYPE_CHECKING:
    from collections.abc import Iterable

    from caller.calls.glance import Coming, Glance

# How long a caption stays once its words are over: about as long as three words take to read.
LINGERS_SECONDS = 1.5
_WORD = re.compile(r"[\w'/]+")
# What is said between two counts.
_BETWEEN = ("and", "uh", "ah")
_COUNTED = {spoken_number(number): str(number) for number in range(1, 33)}


@dataclass(frozen=True, slots=True)
class Caption:
    """words: "" = nothing is said. of_step: a step's call, which stands among the large words in a moment."""

    words: str = ""
    of_step: bool = False


NO_CAPTION = Caption()


def unshown(glance: Glance, coming: Coming | None = None) -> str:
    """The words being spoken, "" where nothing is or all of them are shown anyway. coming: the warning that is shown,
    with its counts."""
    counts = range(glance.count, glance.count + 2)
    shown = (glance.now, glance.next, coming.words if coming else "", *_number_words(coming), *map(str, counts))
    return "" if only_counts(glance.saying) or stands_in(glance.saying, shown) else plain_text(glance.saying)


def stands_in(caption: str, shown: Iterable[str]) -> bool:
    """Whether all words of a caption are among those shown."""
    return set(_words(caption)) <= {word for text in shown for word in _words(text)}


def only_counts(said: str) -> bool:
    """Whether nothing is said but the counts that are danced; so too where nothing is."""
    return all(word in _BETWEEN or word.isdigit() for word in _words(said))


def same_words(said: str, shown: str) -> bool:
    """Whether both have the same words in turn."""
    return _words(said) == _words(shown)


def _number_words(coming: Coming | None) -> tuple[str, ...]:
    """What a warning says of how far it is; words begin a little before the count that they tell of."""
    return tuple(f"in {coming.in_counts + early}" for early in (-1, 0, 1)) if coming else ()


def _words(text: str) -> list[str]:
    """Words in small letters, numbers in figures."""
    return [_COUNTED.get(word, word) for word in _WORD.findall(plain_text(text).lower())]


class CaptionBoard:
    """The caption that is up: a new one at once, an old one a little longer than it is heard, or until it stands
    elsewhere. Seconds must not run back."""

    def __init__(self) -> None:
        self._caption, self._last_said = NO_CAPTION, 0.0

    def shown(self, caption: Caption, now_seconds: float, elsewhere: Iterable[str] = ()) -> Caption:
        """elsewhere: the words that stand on the screen anyway."""
        if caption.words:
            self._caption, self._last_said = caption, now_seconds
        elif now_seconds - self._last_said > LINGERS_SECONDS or stands_in(self._caption.words, elsewhere):
            self._caption = NO_CAPTION
        return self._caption
