"""The long, the short and the one-word forms of what a step is called, and everything as it is spoken.

Conventions: wordings come fullest first, the sheet's own quoted call before all. Between the full name and the name
alone stands the form that says where to and leaves the foot to the dancers, who have only one free. A form that
leaves out a turn comes after all that tell it. The short names are common practice on the floor.
"""

from __future__ import annotations

import re
from collections.abc import Iterable, Sequence
from typing import NamedTuple

from caller.calls.wording import spoken_number

# fmt: off
# A figure's name to what is called where time is short.
_SHORT_NAMES = {
    "coaster step": "coaster", "coaster cross": "coaster", "forward coaster": "coaster",
    "sailor step": "sailor", "sailor cross": "sailor",
    "behind side cross": "behind", "cross side behind": "cross",
    "mambo cross": "mambo", "running mambo": "mambo", "scissor step": "scissor", "lock step": "lock",
    "step lock": "lock", "rocking chair": "chair", "reverse rocking chair": "back chair",
    "rolling vine": "roll", "crossing weave": "weave",
    "jazz box cross": "jazz box", "jazz box touch": "jazz box", "short jazz box": "jazz box",
    "kick ball change": "kick ball", "kick ball cross": "kick ball", "kick ball touch": "kick ball",
    "ball change": "ball", "ball cross": "ball", "ball step": "ball",
    "step, pivot": "pivot", "rock, recover": "rock", "paddle turn": "paddle",
    "rumba box forward": "rumba box", "half rumba box": "half box", "half rumba box back": "back box",
    "toe strut": "strut", "heel strut": "strut", "heel switch": "switch", "toe switch": "switch",
    "heel hook": "hook", "heel jack": "jack", "step touch": "touch", "side together": "side",
    "side together side touch": "side together", "step scuff": "scuff", "step hitch": "hitch", "step kick": "kick",
    "cross point": "point", "basic waltz": "basic", "balance step": "balance", "wizard step": "wizard",
    "cross rock side": "cross rock",
}
_FRACTIONS = {
    "1/8": "eighth", "1/4": "quarter", "3/8": "three eighths", "1/2": "half", "5/8": "five eighths",
    "3/4": "three quarters", "7/8": "seven eighths", "1/1": "full",
}
# fmt: on
# Per cent of its worth that a step's call loses by each shorter form, and by one word for several movements.
_FORM_LOST, _ONE_WORD_LOST = 4, 26
# A name that the table lacks is called by no more than so many of its words.
_NAME_WORDS = 2
_SIDES = {"R": "right", "L": "left"}
_TURNING = re.compile(r"\b(?:eighths?|quarters?|half|full turn)(?= turn| left| right|,|$)")
_TURN_AND_SIDE = re.compile(r"(.*(?:eighths?|quarters?|half|full turn)) (?:left|right)")
_FOOT_FIRST = re.compile(r"(?:right|left) (.+)")
_CLOCK = re.compile(r"\b(1[0-2]|[1-9]):(00|30)\b")


class Forms(NamedTuple):
    """wordings: fullest first. lost: per cent of its worth that a call loses by each. telling: how many of them say all
    that has to be known; the rest leave out a turn."""

    wordings: tuple[str, ...]
    lost: tuple[int, ...]
    telling: int

    def shorter(self) -> Forms:
        """Without the fullest, where another tells as much."""
        if self.telling < 2:
            return self
        return Forms(self.wordings[1:], tuple(lost - self.lost[1] for lost in self.lost[1:]), self.telling - 1)


def spoken(text: str) -> str:
    """The text with its fractions, clock times, numbers and signs in words: "1/4 L, 7:30" is "quarter left, half past
    seven"."""
    words = _CLOCK.sub(_clock, text)
    for written, said in _FRACTIONS.items():
        words = re.sub(rf"(?<![\d/]){written}(?![\d/])", said, words)
    words = words.replace("&", " and ").replace("+", " and ")
    words = re.sub(r"\d{1,3}", lambda found: f" {spoken_number(int(found.group()))} ", words)
    words = re.sub(r"\b[RL]\b", lambda found: _SIDES[found.group()], words)
    return re.sub(r" +(?=[,.!?]|$)", "", " ".join(words.split()))


def _clock(found: re.Match[str]) -> str:
    hour = spoken_number(int(found[1]))
    return f"half past {hour}" if found[2] == "30" else f"{hour} o'clock"


def step_forms(wordings: Iterable[str], movements: int) -> Forms:
    """Everything a phrase of so many movements may be called: its own wordings as spoken, with the shorter forms that
    the floor knows. The last is one word, or the trade's own name that nobody shortens further ("jazz box")."""
    given = [words for words in map(spoken, wordings) if words]
    name = given[-1]
    if len(given) == 1 or not set(_words(name)) <= set(_words(given[0])):
        told, untold = [given[0]], [_piece(given[0])]  # the sheet's own call: shortened within its own words
    else:
        full = [form for index, words in enumerate(given[:-1]) for form in _forms(words, name, full=index == 0)]
        short = _SHORT_NAMES.get(name) or (_piece(name) if "," in name else " ".join(name.split()[:_NAME_WORDS]))
        turned = _turned(given[-2], name, short)
        told, untold = [*full, *turned], [short] if turned else [name, short]
    found = tuple(dict.fromkeys((*told, *untold)))
    lost = [_FORM_LOST * index for index in range(len(found))]
    if len(found) > 1 and movements > 1:
        lost[-1] = max(lost[-1], _ONE_WORD_LOST)
    return Forms(found, tuple(lost), _telling(found))


def on_count_forms(word: str) -> tuple[str, ...]:
    """What is said on the count of one movement: its word as spoken, and for a turn the word without its side. Empty
    where there is none."""
    words = spoken(word)
    found = _TURN_AND_SIDE.fullmatch(words)
    return tuple(dict.fromkeys((words, found[1] if found else words))) if words else ()


def _turned(words: str, name: str, short: str) -> list[str]:
    """The shortest form that still tells the turn of a wording that does: the one piece of it, or the short name."""
    pieces = [piece.strip() for piece in words.split(",") if _TURNING.search(piece)]
    if len(pieces) != 1 or short == name:
        return []
    return pieces if "," in name else [f"{short}, {pieces[0].removeprefix(name).strip()}"]


def _words(text: str) -> list[str]:
    return re.findall(r"[a-z]+", text)


def _piece(words: str) -> str:
    """The one piece of a call that tells most: its turn, else how it begins."""
    pieces = [piece.strip() for piece in words.split(",")]
    if len(pieces) == 1:
        first = words.split()[0]
        return words if first == "and" else first
    return next(iter([p for p in pieces if _TURNING.search(p)] + [p for p in pieces if p != "and"]), words)


def _forms(words: str, name: str, *, full: bool) -> tuple[str, ...]:
    """A wording with its foot (the fullest only) and without; "to the side" and "side"."""
    found = _FOOT_FIRST.fullmatch(words)
    if found and found[1].startswith(name):
        return (words, found[1]) if full else (found[1],)
    return words, words.replace(" to the side", " side")


def _telling(wordings: Sequence[str]) -> int:
    """How many of the wordings come no later than the last that tells the turn; all of them where none does."""
    found = [index for index, words in enumerate(wordings) if _TURNING.search(words)]
    return found[-1] + 1 if found else len(wordings)
