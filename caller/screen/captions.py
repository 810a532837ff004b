"""Captions: whatever is spoken stands on the screen. What stands there anyway, as the call, the next one, the warning
or the count, is not written twice.
"""

from __future__ import annotations

import re
from typing import TYPE_CHECKING

from caller.calls.wording import spoken_number
from caller.screen.plain_text import plain_text

if TYPE_CHECKING:
    from caller.calls.glance import Glance

# How long a caption stays once its words are over: about as long as three words take to read.
LINGERS_SECONDS = 1.5
_WORD = re.compile(r"[\w'/]+")
_COUNTED = {spoken_number(number): str(number) for number in range(1, 33)}


def unshown(glance: Glance) -> str:
    """The words being spoken, "" where nothing is or all of them stand in large letters already."""
    said = _words(glance.saying)
    coming = (word for one in glance.coming[:1] for word in _words(f"{one.words} in {one.in_counts}"))
    shown = {*_words(glance.now), *_words(glance.next), *coming, str(glance.count), str(glance.count + 1)}
    return "" if set(said) <= shown else plain_text(glance.saying)


def _words(text: str) -> list[str]:
    """Words in small letters, numbers in figures."""
    return [_COUNTED.get(word, word) for word in _WORD.findall(plain_text(text).lower())]


class CaptionBoard:
    """The caption that is up: a new one at once, an old one a little longer than it is heard. Seconds must not run
    back."""

    def __init__(self) -> None:
        self._caption, self._last_said = "", 0.0

    def shown(self, caption: str, now_seconds: float) -> str:
        if caption:
            self._caption, self._last_said = caption, now_seconds
        elif now_seconds - self._last_said > LINGERS_SECONDS:
            self._caption = ""
        return self._caption
