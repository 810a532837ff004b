"""Text of a sheet as it is spoken, and the words on single counts."""

from __future__ import annotations

import re

from caller.calls.wording import spoken_number

_FRACTIONS = {
    "1/8": "eighth",
    "1/4": "quarter",
    "3/8": "three eighths",
    "1/2": "half",
    "5/8": "five eighths",
    "3/4": "three quarters",
    "7/8": "seven eighths",
    "1/1": "full",
}
# What is written short.
_SHORT = {"fwd": "forward", "bk": "back", "bwd": "back", "tog": "together", "diag": "diagonal", "w": "with"}
_SHORT_WORD = re.compile(r"(?<![\w'])(fwd|bk|bwd|tog|diag|w(?=/))\b\.?/?", re.IGNORECASE)
_SIDES = {"R": "right", "L": "left"}
_TURN_AND_SIDE = re.compile(r"(.*(?:eighths?|quarters?|half|full turn)) (?:left|right)")
_SWAY = re.compile(r"sway (left|right)")
_CLOCK = re.compile(r"\b(1[0-2]|[1-9]):(00|30)\b")


def spoken(text: str) -> str:
    """The text with its fractions, clock times, numbers and signs in words: "1/4 L, 7:30" is "quarter left, half past
    seven"."""
    words = _CLOCK.sub(_clock, text)
    for written, said in _FRACTIONS.items():
        words = re.sub(rf"(?<![\d/]){written}(?![\d/])", said, words)
    words = _SHORT_WORD.sub(lambda found: f"{_SHORT[found[1].lower()]} ", words)
    words = words.replace("&", " and ").replace("+", " and ")
    words = re.sub(r"\d{1,3}", lambda found: f" {spoken_number(int(found.group()))} ", words)
    words = re.sub(r"\b[RL]\b", lambda found: _SIDES[found.group()], words)
    return re.sub(r" +(?=[,.!?]|$)", "", " ".join(words.split()))


def _clock(found: re.Match[str]) -> str:
    hour = spoken_number(int(found[1]))
    return f"half past {hour}" if found[2] == "30" else f"{hour} o'clock"


def on_count_forms(word: str) -> tuple[str, ...]:
    """What is said on the count of one movement: its word as spoken; shorter, for a turn the word without its side, and
    for a sway the side alone. Empty where there is none."""
    words = spoken(word)
    if swayed := _SWAY.fullmatch(words):
        return words, swayed[1]
    found = _TURN_AND_SIDE.fullmatch(words)
    return tuple(dict.fromkeys((words, found[1] if found else words))) if words else ()
