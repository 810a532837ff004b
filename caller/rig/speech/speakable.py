"""What may reach a synthesiser: plain words.

Conventions: text from a sheet is never markup. Some synthesisers take "<" as the start of SSML, "[[" as that of
phoneme codes or embedded orders, and control characters as orders of their own; none of these get through. No I/O.
"""

from __future__ import annotations

import unicodedata

# Longer than anything a teacher says in one breath; beyond it something is wrong with the sheet.
LONGEST = 300

_SPOKEN_SIGNS = {"&": " and ", "+": " plus ", "@": " at ", "%": " per cent "}
_KEPT_SIGNS = frozenset(" '’-,.!?:;/")


def speakable(text: str) -> str:
    """The text as plain words with single spaces between; "" where nothing in it can be said.

    Letters, accents and figures stay, and the signs that phrase a sentence; a few signs become words; every other
    character (brackets, backslashes, control, private and unpaired ones) becomes a space. Applying it twice
    changes nothing.
    """
    plain = "".join(_spoken(character) for character in unicodedata.normalize("NFC", text))
    words = " ".join(plain.split())
    return words if any(character.isalnum() for character in words) else ""


def _spoken(character: str) -> str:
    if character in _KEPT_SIGNS or unicodedata.category(character)[0] in "LMN":
        return character
    return _SPOKEN_SIGNS.get(character, " ")
