"""Signs that some authors have for the usual ones: "1~3" for counts, "\u00a7 2" for a section, "@6" for which way it faces."""

from __future__ import annotations

import re

_RANGE = re.compile(r"(?<![\w~:])(\d{1,2})(?:~|\s?[\uff5e\u301c]\s?)(\d{1,2})(?![\w~])")
_SECTION = re.compile(r"\u00a7\s*(?=\d)")
_FACES = re.compile(r"(?<=\s)@\s?(12|9|6|3)(?::00)?(?=\s*$|\s*[;/|])|\(@\s?(12|9|6|3)(?::00)?\)")
_TOTAL = re.compile(r"^\W*(?P<hour>12|9|6|3)(?::00|\s*o['\u2019]?\s?clock)\s{2,}\(\d{1,3}\)\s*$", re.IGNORECASE)
_SO_FAR = re.compile(r"^\s*\[\d{2,3}\]\s*$")  # the counts so far, alone
_SO_FAR_CLOSING = re.compile(
    r"^\s*\[\d{2,3}\]\s+(?=(?:repeat|begin|start)\s+(?:again|in|the\s+dance|over|from)\b)", re.IGNORECASE
)
_POINTED = re.compile(r"(?<![\d.,])(12|9|6|3)\.(00)(?![\d.,])")
_CLOCK_BEHIND = re.compile(r"(?<=\d\))\s{2,}(12|9|6|3)\s*o['\u2019]?\s?clock\s*$", re.IGNORECASE)
_SIGNS = "~\uff5e\u301c\u00a7@"


def usual_signs(text: str) -> str:
    """The line with the usual signs in their place; a facing on a line of its own without the counts so far."""
    if (total := _TOTAL.match(text)) is not None:
        return f"({total['hour']}:00)"
    if ".00" in text:
        text = _POINTED.sub(r"\1:\2", text)
    if "clock" in text:
        text = _CLOCK_BEHIND.sub(r"  (\1:00)", text)
    if _SO_FAR.match(text) is not None:
        return " "
    text = _SO_FAR_CLOSING.sub("", text)
    if not any(sign in text for sign in _SIGNS):
        return text
    text = _SECTION.sub("Section ", _RANGE.sub(r"\1-\2", text))
    return _FACES.sub(lambda found: f"({found[1] or found[2]}:00)", text)
