"""An author's own abbreviations, told in a legend: "xf = cross in front, i.p. = in place"."""

from __future__ import annotations

import re
from collections.abc import Iterable
from dataclasses import replace

from caller.routine.layout.lines import Line

_PAIR = re.compile(
    r"(?<![\w.])(?P<short>[A-Za-z][A-Za-z./&]{0,5})\s*(?:=|\u2261)\s*(?P<long>[A-Za-z][A-Za-z \-']{1,40}?)(?=\s{2,}|\s*[,;|/()]|\.?\s*$|\s+[A-Za-z./&]{1,6}\s*=)"
)
_MOST = 60
_NEVER = frozenset(("a", "b", "c", "d", "and", "or", "to"))  # part letters and words
_KNOWN = {"r": "right", "l": "left", "rf": "right", "lf": "left"}  # read as they stand, in "LF + RF 1/4 turn R" too


def abbreviations(texts: Iterable[str]) -> dict[str, str]:
    """What the sheet's legend says that its short forms mean, lower case."""
    found: dict[str, str] = {}
    for text in texts:
        if "=" not in text and "\u2261" not in text:
            continue
        pairs = list(_PAIR.finditer(text))
        if (
            len(pairs) < 2
            and not (found and pairs)
            and not re.match(r"^(?:key|legend|abbrev|note)", text, re.IGNORECASE)
        ):
            continue
        for pair in pairs:
            short = pair["short"].lower().rstrip(".")
            known = short in _KNOWN and pair["long"].lower().startswith(_KNOWN[short])
            if len(found) < _MOST and short not in _NEVER and not known and not re.match(r"\d", pair["long"]):
                found[short] = pair["long"].strip()
    return found


def expanded(line: Line, short: dict[str, str]) -> Line:
    """The step line with the author's short forms written out."""
    if not short:
        return line
    words = "|".join(sorted((re.escape(word) for word in short), key=len, reverse=True))
    text = re.sub(
        rf"(?<![\w/&.])(?P<short>{words})(?:\.(?=\s|,|$))?(?![\w&])",
        lambda m: short[m["short"].lower()],
        line.text,
        flags=re.IGNORECASE,
    )
    return line if text == line.text else replace(line, text=text, exact=False)
