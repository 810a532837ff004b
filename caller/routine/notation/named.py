"""A figure of the dance found by what an author calls it: "instead of the jazz box", "after the second K-step".

Conventions: counts are those of the section, from 1, both ends included.
"""

from __future__ import annotations

import math
import re
from collections.abc import Iterator
from dataclasses import dataclass

from caller.routine.layout.numbers import ORDINAL, number_of
from caller.routine.notation.sections import Laid
from caller.routine.passages import Passage, Phrase

_SMALL = frozenset(
    [
        "the",
        "a",
        "an",
        "your",
        "that",
        "this",
        "those",
        "these",
        "first",
        "second",
        "third",
        "fourth",
        "last",
        "final",
        "step",
        "turn",
    ]
)
_SAME = {"chasse": "shuffle", "chass\u00e9": "shuffle", "triple": "shuffle", "grapevine": "vine", "1/2": "half"}
_SAME |= {"1/4": "quarter", "\u00bd": "half", "\u00bc": "quarter", "l": "left", "r": "right", "fwd": "forward"}
_SO_MANY = {"two": 2, "both": 2, "three": 3, "four": 4}
_WHICH = re.compile(rf"^\W*(?:the\s+)?(?P<n>{ORDINAL}|last|final)\b", re.IGNORECASE)


@dataclass(frozen=True, slots=True)
class FigureSpan:
    """Counts first to last of the section of this index."""

    index: int
    first: int
    last: int


def _words(text: str) -> frozenset[str]:
    plain = [word.rstrip("s") for word in re.findall(r"[a-z\u00e90-9/\u00bc-\u00be]+", text.lower())]
    return frozenset(_SAME.get(word, word) for word in plain) - _SMALL


def figure_named(laid: Laid, name: str, near: int | None = None, within: int = -1) -> FigureSpan | None:
    """The one figure that ``name`` is for, None where there is none or several are equally likely. near: counts into
    the wall that it ends or begins closest to; within: the index of the section that is spoken of, -1 = none."""
    wanted = _words(name)
    if not wanted:
        return None
    headed = [n for n, section in enumerate(laid.sections) if wanted == _words(section.name)]
    if len(headed) == 1:
        return FigureSpan(headed[0], 1, laid.sections[headed[0]].passage.counts)
    for spans_of in (_figures, _lines):
        found = [
            FigureSpan(index, first, last)
            for index, section in enumerate(laid.sections)
            for first, last, words in spans_of(section.passage)
            if wanted <= words
        ]
        if found:
            return _meant(laid, name, found, near, within) or _several(laid, name, wanted)
    return _several(laid, name, wanted)


def _several(laid: Laid, name: str, wanted: frozenset[str]) -> FigureSpan | None:
    """The last of "the two vines"; "the vines", all of them where they stand together."""
    told = next((n for word, n in _SO_MANY.items() if word in wanted), 0)
    one = wanted - _SO_MANY.keys()
    found = [
        FigureSpan(index, first, last)
        for index, section in enumerate(laid.sections)
        for first, last, words in _figures(section.passage)
        if one and one <= words
    ]
    if told:
        return found[-1] if len(found) == told else None
    several = len(found) > 1 and name.rstrip().endswith("s") and len({span.index for span in found}) == 1
    return FigureSpan(found[0].index, found[0].first, found[-1].last) if several else None


def _meant(laid: Laid, name: str, found: list[FigureSpan], near: int | None, within: int) -> FigureSpan | None:
    if near is not None:
        before = laid.counts_before
        return min(found, key=lambda s: min(abs(before(s.index) + n - near) for n in (s.first - 1, s.last)))
    here = [span for span in found if span.index == within]
    if (which := _WHICH.match(name)) is not None:
        among = here if len(here) > 1 else found
        nth = number_of(which["n"]) if which["n"].lower() not in ("last", "final") else len(among)
        return among[nth - 1] if 0 < nth <= len(among) else None
    if len(found) == 1:
        return found[0]
    return here[0] if len(here) == 1 else None


def _figures(passage: Passage) -> Iterator[tuple[int, int, frozenset[str]]]:
    for phrase in passage.phrases:
        yield (*_counts(passage, phrase.first, phrase.last), _words(_named(phrase)))


def _named(phrase: Phrase) -> str:
    return f"{phrase.name} {phrase.figure.said}" if phrase.figure is not None else phrase.name


def _lines(passage: Passage) -> Iterator[tuple[int, int, frozenset[str]]]:
    for told in passage.words:
        yield (*_counts(passage, told.first, told.last), _words(told.text))


def _counts(passage: Passage, first: int, last: int) -> tuple[int, int]:
    """The whole counts of the steps of these indices: what is held after them is theirs."""
    steps = passage.steps
    following = steps[last + 1] if last + 1 < len(steps) else None
    if following is not None and following.movement.weight is None and following.at - steps[last].at <= 1:
        last += 1  # the touch that closes it
    ends = steps[last + 1].at if last + 1 < len(steps) else passage.counts
    return math.floor(steps[first].at) + 1, max(math.floor(steps[first].at) + 1, math.ceil(ends))
