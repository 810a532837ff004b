"""How some hands write what others write another way: clocks, degrees, bars, labels, counts behind their steps."""

from __future__ import annotations

import re

_BRACED_CLOCK = re.compile(r"\{\s?0?((?:1[0-2]|[1-9])[.:](?:00|30))\s?\}")
_BAR_LABEL = re.compile(r"^bars?\s+\d{1,2}\s*[:.]?\s*(?=\(\s*\d)", re.IGNORECASE)
_FRENCH_CLOCK = re.compile(r"\b0?(1[0-2]|[1-9])\s?h\s?(00|30)\b")
_PART_THE = re.compile(
    r"^(?:part|section|set)\s+the\s+(first|second|third|fourth|fifth|sixth|seventh|eighth)\b(?=\s*[(:])", re.IGNORECASE
)
# "OPTION without the roll: L to side, R together, L to side, R together ...... 5 6 7 8"
_OPTION_COUNTED_BEHIND = re.compile(
    r"^(?P<head>[\[(*\s]*(?:option|easier|easy)\b[^:\d]{0,40}):\s+(?P<words>[A-Za-z][^:]*?)(?:\s{2,}|\s*\.{3,}\s*)(?P<first>[1-8])(?:\s?[-&]?\s?[1-8])*\s?[-&]?\s?(?P<last>[1-8])\s*[\])]?$",
    re.IGNORECASE,
)
_NUMBERS = ("one", "two", "three", "four", "five", "six", "seven", "eight")
_BRACKETED_NUMBER = re.compile(rf"^\[({'|'.join(_NUMBERS)})\]$", re.IGNORECASE)
_NTH = ("first", "second", "third", "fourth", "fifth", "sixth", "seventh", "eighth")
_DOTTED = re.compile(r"^[1-8]&?\s\.\s[1-8]&?\s")  # "1 . 2&   step R fwd . cross L over R, side"
# "... brush right. 5 6 7 8 (9 o'clock)": the counts behind the steps, the facing behind those
_CLOCK_BEHIND_COUNTS = re.compile(
    r"(?<=[A-Za-z])(?P<end>[.;])(?P<counts>(?:\s[1-8]&?){3,8})\s*\((?P<at>1[0-2]|[1-9])(?::00|\s?o['\u2019]?\s?clock)[^()]*\)$",
    re.IGNORECASE,
)
_FACING_LAST = re.compile(
    r"[.,;]\s+(?:(?:now|home(?:\s+again)?)\s*,?\s+)*facing\s+(1[0-2]|[1-9])\s?o['\u2019]?\s?clock\s*\.?$", re.IGNORECASE
)
# "step L fwd (6) - 9 o'clock -", in a paragraph of steps that goes on
_CLOCK_APART = re.compile(
    r"(?<=[\w)])\s+[-\u2013]\s+(1[0-2]|[1-9])\s?(?:o['\u2019]?\s?clock|:00)(?:\s+[-\u2013](?=\s|$)|$)", re.IGNORECASE
)


def as_others_write(text: str) -> str:
    """A line as most sheets have it."""
    return _labels(_clocks(text)).replace("\u00ba", "\u00b0")


# "Right shuffle forward      1&2     front", in a table
_WALL_COLUMN = re.compile(r"(\s{2,}[1-8][\d&-]*)\s{2,}(front|back|home)$")
# "Point right to side, turn 1/2 right closing right to left 1-2     6:00": a column that the words have reached
_COLUMN_REACHED = re.compile(r"(?<=[a-z])\s([1-8](?:[-&][1-8])*&?)(?=\s{3,}(?:1[0-2]|[1-9]):[03]0$)")


def _clocks(text: str) -> str:
    """ "9h00", "{9.00}", "- 9 o'clock -" and "facing 9 o'clock" as "(9:00)"."""
    if "h00" in text or "h30" in text or "h 00" in text:
        text = _FRENCH_CLOCK.sub(r"\1:\2", text)
    if " - " in text or " \u2013 " in text:
        text = _CLOCK_APART.sub(r" (\1:00)", text)
    if text.endswith(")") and ("clock" in text or ":00" in text):
        text = _CLOCK_BEHIND_COUNTS.sub(r" (\g<at>:00)\g<end>\g<counts>", text)
    if "clock" in text[-8:].lower():
        text = _FACING_LAST.sub(r" (\1:00)", text)
    if text.endswith(("front", "back", "home")):
        text = _WALL_COLUMN.sub(lambda found: f"{found[1]}  ({'6:00' if found[2] == 'back' else '12:00'})", text)
    if text.endswith(("00", "30")):
        text = _COLUMN_REACHED.sub(r"  \1", text)
    return _BRACED_CLOCK.sub(r"(\1)", text) if "{" in text else text


_BRACKET_COUNT = re.compile(r"\(\d&?\)")  # "3&4  touch L heel fwd, step L next to R (&), cross R over L" has none
# "Counts 1 and 2: step right foot to the side, touch left beside it": two counts, no half between them
_TWO_COUNTS = re.compile(
    r"^(?P<label>counts?)\s+(?P<a>\d{1,2})\s+and\s+(?P<b>\d{1,2})(?=\s*:\s*[^,;]+[,;]?[^,;]*$)", re.IGNORECASE
)


def _as_a_range(found: re.Match[str]) -> str:
    return f"{found['label']} {found['a']}-{found['b']}" if int(found["b"]) == int(found["a"]) + 1 else found[0]


def _labels(text: str) -> str:
    """ "bar 3 (7 8 9)", "Part the first", "[ONE]", "OPTION: L to side, R together ... 5 6": as labels before their words."""
    if " S T A R T" in text:
        text = text.replace("R E S T A R T", "RESTART")
    if text[:3].lower() == "bar":
        text = _BAR_LABEL.sub("", text)
    if text[4:9] == " the " or text[7:12] == " the " or text[3:8] == " the ":
        text = _PART_THE.sub(lambda found: f"Section {_NTH.index(found[1].lower()) + 1}", text)
    if text[:1] in "OoEe[(*":
        text = _OPTION_COUNTED_BEHIND.sub(r"\g<head> \g<first>-\g<last>: \g<words>", text)
        text = _BRACKETED_NUMBER.sub(lambda found: f"Section {_NUMBERS.index(found[1].lower()) + 1}", text)
    if "(&)" in text and text[:1].isdigit() and _BRACKET_COUNT.search(text) is None:
        text = text.replace(" (&)", "")
    if text[:5].lower() == "count":
        text = _TWO_COUNTS.sub(_as_a_range, text)
    if text[1:2] in " &" and _DOTTED.match(text):
        text = text.replace(" . ", ", ")
    return text
