"""Text from outside made safe to show: no control, escape or bidirectional character.

Nothing that a sheet, a programme, a voice, the book or a file's name holds can then move the cursor, colour the screen,
turn the reading order round or break a line. Everything here takes time in proportion to the text's length, whatever it
holds: escape sequences without end, marks upon marks.
"""

from __future__ import annotations

import re
import unicodedata
from collections.abc import Callable, Iterator
from functools import lru_cache

# Escape sequences whole, so that no "[31m" is left of them: control sequences, strings with an end, two-letter ones.
# A string's search for its end stops at whatever could begin another, so that no stretch is gone through twice.
_ESCAPES = re.compile(
    r"(?:\x1b\[|\x9b)[0-?]*+[ -/]*+[@-~]"
    r"|(?:\x1b[PX\]^_]|[\x90\x98\x9d-\x9f])[^\x07\x1b\x90\x98\x9b-\x9f]*+(?:\x07|\x1b\\|\x9c)"
    r"|\x1b[ -/]*+[0-~]?"
)
_SPACES = re.compile(r"\s+")
# Unicode general categories: control, format (all bidirectional marks are in it), line and paragraph separators.
_DROPPED = frozenset({"Cf"})
_SPACED = frozenset({"Cc", "Zl", "Zp", "Zs"})
_UNSHOWN = frozenset({"Cs", "Co", "Cn"})
_MARKS = frozenset({"Mn", "Me"})
_MOST_MARKS = 2
# To put marks in their order takes time by the square of their number; before that no letter keeps more than these.
_MOST_MARKS_READ = 8
# Far longer than a sheet's longest line.
LONGEST = 5_000
LONGEST_TITLE = 100
REPLACEMENT = "\N{REPLACEMENT CHARACTER}"
CUT = "…"


@lru_cache(maxsize=512)
def plain_text(text: str) -> str:
    """``text`` on one line, with what can't be shown safely taken out; what has no sign of its own becomes U+FFFD.

    No letter keeps more than two combining marks, so that none climbs over the line above. What is far too long to be
    read is cut.
    """
    shown = "".join(_safe(_ESCAPES.sub(" ", text[: LONGEST + 1]), lambda _: " "))
    return cut(_SPACES.sub(" ", shown).strip(), LONGEST)


def plain_title(text: str) -> str:
    """The same for a title, which stands on a line with other things."""
    return cut(plain_text(text), LONGEST_TITLE)


def cut(text: str, longest: int) -> str:
    """No longer than so many characters, which is shown."""
    return text if len(text) <= longest else text[: longest - 1].rstrip() + CUT


def printable(text: str) -> str:
    """Lines as they go to a terminal: laid out as they are, of any length, with nothing in them but signs, spaces and
    line ends."""
    if text.isascii() and text.replace("\n", "").isprintable():
        return text
    return "".join(_safe(_ESCAPES.sub("", text), lambda character: character if character in "\n\t" else REPLACEMENT))


def _safe(text: str, control: Callable[[str], str]) -> Iterator[str]:
    """Sign by sign. control: what stands for a control character."""
    marks = 0
    for character in unicodedata.normalize("NFC", "".join(_few_marks(text))):
        category = unicodedata.category(character)
        marks = marks + 1 if category in _MARKS else 0
        if category in _DROPPED or marks > _MOST_MARKS:
            continue
        if category == "Cc":
            yield control(character)
        elif category in _SPACED:
            yield " "
        else:
            yield REPLACEMENT if category in _UNSHOWN else character


def _few_marks(text: str) -> Iterator[str]:
    marks = 0
    for character in text:
        marks = marks + 1 if unicodedata.combining(character) else 0
        if marks <= _MOST_MARKS_READ:
            yield character
