"""Text from files made safe to show: no control, escape or bidirectional character, one line, one space between words.

Nothing that a sheet holds can then move the cursor, colour the screen, turn the reading order round or break a line.
"""

from __future__ import annotations

import re
import unicodedata
from functools import lru_cache

# Escape sequences whole, so that no "[31m" is left of them: control sequences, strings with an end, two-letter ones.
_ESCAPES = re.compile(
    r"(?:\x1b\[|\x9b)[0-?]*[ -/]*[@-~]"
    r"|(?:\x1b[PX\]^_]|[\x90\x98\x9d-\x9f])[^\x07\x1b\x9c]*(?:\x07|\x1b\\|\x9c)"
    r"|\x1b[ -/]*[0-~]?"
)
_SPACES = re.compile(r"\s+")
# Unicode general categories: control, format (all bidirectional marks are in it), line and paragraph separators.
_DROPPED = frozenset({"Cf"})
_SPACED = frozenset({"Cc", "Zl", "Zp", "Zs"})
_UNSHOWN = frozenset({"Cs", "Co", "Cn"})
_MOST_MARKS = 2
REPLACEMENT = "\N{REPLACEMENT CHARACTER}"


@lru_cache(maxsize=512)
def plain_text(text: str) -> str:
    """``text`` on one line, with what can't be shown safely taken out; what has no sign of its own becomes U+FFFD.

    No letter keeps more than two combining marks, so that none climbs over the line above.
    """
    shown: list[str] = []
    marks = 0
    for character in unicodedata.normalize("NFC", _ESCAPES.sub(" ", text)):
        category = unicodedata.category(character)
        marks = marks + 1 if category in ("Mn", "Me") else 0
        if category in _DROPPED or marks > _MOST_MARKS:
            continue
        if category in _SPACED:
            shown.append(" ")
        else:
            shown.append(REPLACEMENT if category in _UNSHOWN else character)
    return _SPACES.sub(" ", "".join(shown)).strip()
