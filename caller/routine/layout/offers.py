"""An easier way offered in a sentence of the author's own, on counts that it names.

A sentence is one by what it has, wherever each stands: words that offer, counts, and steps before or behind them. How
far the steps go can't be told by words alone, so every way of taking them is given, the most likely first; the first
that can be danced on those counts is the option.
"""

from __future__ import annotations

import itertools
import re
from dataclasses import dataclass

from caller.routine.layout.clauses import step_run
from caller.routine.layout.counted import steps_on
from caller.routine.layout.kinds import STEP_WORD, steps_told
from caller.routine.layout.lines import Line
from caller.routine.layout.marks import DASH
from caller.routine.layout.numbers import ORDINAL, number_of

_MOST_TEXT = 400  # characters
_LEAST_ALONE = 2  # numbers, where no "on" or "count" stands before them
_RANGE = 2  # numbers: first and last
LAST = -1  # the section's number, of "the last section"

# Said of a wall, a tag or a place where the dance is cut, it is an event; or it is told to be as it was.
_OF_AN_EVENT = re.compile(r"\b(?:walls?|tags?|bridges?|re-?starts?|ending|finale|bpm|music|track)\b", re.IGNORECASE)
_OFFERS = re.compile(
    r"\?\s|\b(?:if|instead|rather|prefer\w*|easy|easier|simpler|gentler|options?|optional|alternatives?|alternatively|version|without|no[\s-](?:turn|spin)\w*"
    r"|non[\s-]?turn\w*|(?:can|may|could|might)\s+(?:also\s+)?(?:be|do|dance|just|simply|swap)|for\s+(?:any(?:one|body)|those|them|people|dancers)|(?:anyone|those)\s+(?:who|with))\b",
    re.IGNORECASE,
)
_COUNTS = re.compile(
    rf"(?<![\w/:.,\u00bc-\u00be-])(?P<key>(?:(?:on|for|counts?|cts?\.?|beats?)\s+){{0,3}})(?P<counts>\d{{1,2}}(?:\s?(?:{DASH}|[,&]|to\b|and\b|thru\b)\s?&?\s?\d{{1,2}}|\s\d(?=[\s.,:;)]|$)){{0,8}}\s?&?)"
    r"(?![\d/]|:\d|\s*(?:o['\u2019]?\s?clock|counts?\b|cts\b|beats?\b|times\b|x\b|st\b|nd\b|rd\b|th\b))",
    re.IGNORECASE,
)
_RANGED = re.compile(rf"\d\s?(?:{DASH}|to\b|thru\b)", re.IGNORECASE)
_SECTION = re.compile(
    rf"\b(?:of|in|from)?\s*(?:the\s+)?(?:(?:section|sect?\.?|set|part|block|s)\s?(?P<number>\d{{1,2}})\b|(?-i:(?P<part>[A-H]))(?P<of_part>\d)\b|(?:(?P<nth>{ORDINAL})|(?P<last>last|final))\s+(?:section|set|eight|8|block|part)\b)",
    re.IGNORECASE,
)
_BEFORE_STEPS = re.compile(
    r"(?:[\s:;,)\]\u2010-\u2015-]|(?:can|may|could|might)\s+(?:also\s+)?be\b|(?:done|danced|taken)(?:\s+(?:as|with))?\b|(?:is|are|becomes?)\b|(?:you|they|we|also|can|may|could|might)\b"
    r"|(?:just|simply|only|do|dance|try|take|use|make|with|as|an?|the|for|instead|then|without\s+(?:the\s+)?turn(?:s|ing)?|no\s+turns?|plain|ordinary|normal)\b(?![-/])"
    r"|\((?:no|without|non)\b[^()]{0,30}\))+",
    re.IGNORECASE,
)
_PAST_STEPS = re.compile(
    r"[\s,;.]*\b(?:instead|again|if|does\s+(?:the\s+job|just)|do\s+just|will\s+do|is\s+(?:fine|ok|just)|works|as\s+well|still|you(?:['\u2019]re|\s+are)|no\s+turn|not\s+turning|facing\s+front)\b",
    re.IGNORECASE,
)
_TALK_ENDS = re.compile(r"[?:]\s+|\b(?:just|simply|do|dance|let\s+them)\s+", re.IGNORECASE)
_ROLLING = re.compile(r"^rolling\s+", re.IGNORECASE)
_COLON_BEHIND = re.compile(r"[^.:,;]{0,24}:\s")
_SENTENCE_ENDS = re.compile(r"[.!?]\s+(?=[A-Z])")
_BRACKETS = re.compile(r"\(([^()]*)\)")
_OWN_COUNTS = re.compile(r"\s*(?P<counts>\d{1,2}[\d\s&,\u2010-\u2015-]{0,20})\s*(?:$|:\s*)")


@dataclass(frozen=True, slots=True)
class Offer:
    """first, last: its counts as written; section: that it names, 0 = none, LAST = the last one; ways: of taking its
    steps, each of them step lines, the most likely first; part: of the section, where "A2" names it."""

    first: int
    last: int
    section: int
    ways: tuple[list[Line], ...]
    part: str = ""


def offers(text: str) -> bool:
    """Whether anything in it is said as one offers something."""
    return _OFFERS.search(text) is not None


def offer_in(text: str, line: Line) -> Offer | None:
    """The easier way that a sentence offers, its step lines placed where ``line`` stands; None where it offers none."""
    if len(text) > _MOST_TEXT or not offers(text) or _OF_AN_EVENT.search(text) is not None:
        return None
    section = _SECTION.search(text)
    if section is not None:
        text = f"{text[: section.start()].rstrip()} {text[section.end() :].lstrip()}"
    marks = [m for m in _COUNTS.finditer(text) if _is_counts(m)]
    if not marks or _one_after_another(marks):
        return None
    found = marks[0]
    numbers = _numbers(found)
    first, last = numbers[0], max(numbers)
    counts = re.sub(r"\s*(?:to|thru)\s*", "-", found["counts"].strip(" ,"))
    if "?" in text[found.end() :]:
        return None  # "Can you touch on 4 without a wobble?"
    told = _steps_told(text, found)
    ways = _ways(told, first, last, counts, line) if told else []
    part = (section["part"] or "") if section is not None else ""
    return Offer(first, last, _section_named(section), tuple(ways), part) if ways else None


def _is_counts(found: re.Match[str]) -> bool:
    """Counts that run on; "on 2 and 4" are two apart, on which something is added."""
    told = found["counts"]
    if not found["key"] and len(re.findall(r"\d+|&", told)) < _LEAST_ALONE:
        return False
    numbers = _numbers(found)
    runs_on = all(after == before + 1 for before, after in itertools.pairwise(numbers))
    return runs_on or (len(numbers) == _RANGE and numbers[0] < numbers[1] and _RANGED.search(told) is not None)


def _one_after_another(marks: list[re.Match[str]]) -> bool:
    """Whether each count has steps of its own, "on 1 ... and on 2", or it is a step line: "1&2 shuffle | 3-4 rock"."""
    if len(marks) == 1:
        return False
    first, second = (_numbers(mark) for mark in marks[:2])
    return marks[0]["counts"].strip().isdigit() or (not marks[1]["key"] and second[0] == first[-1] + 1)


def _numbers(mark: re.Match[str]) -> list[int]:
    return [int(n) for n in re.findall(r"\d+", mark["counts"])]


def _section_named(found: re.Match[str] | None) -> int:
    if found is None:
        return 0
    if found["last"]:
        return LAST
    digits = found["number"] or found["of_part"]
    return int(digits) if digits else number_of(found["nth"])


def _steps_told(text: str, counts: re.Match[str]) -> str:
    """What is told before the counts ("just walk R, L on 7-8"), where that is a step and no colon stands behind them;
    or else what is told behind."""
    before = _from_first_step(_TALK_ENDS.split(text[: counts.start()])[-1])
    behind = text[counts.end() :]
    told_behind = _COLON_BEHIND.match(behind) is not None
    first = not told_behind and steps_told(_ROLLING.sub("", before))
    return before if first else _from_first_step(behind)


def _from_first_step(text: str) -> str:
    return _first_sentence(text[lead.end() :] if (lead := _BEFORE_STEPS.match(text)) is not None else text)


def _first_sentence(text: str) -> str:
    ends = _SENTENCE_ENDS.search(text)
    return (text[: ends.start()] if ends is not None else text).strip(" ,;.:!")


def _ways(words: str, first: int, last: int, counts: str, line: Line) -> list[list[Line]]:
    """The ways of taking these words as steps on these counts."""
    own = steps_on(Line(line.number, line.column, words, False)) if words[:1].isdigit() else []
    if own:
        return [own]
    past = _PAST_STEPS.search(words)
    plain = (words[: past.start()] if past is not None and past.start() else words).strip(" ,;.:")
    told: list[tuple[str, str]] = []
    for inner in _BRACKETS.findall(words):
        outside = _BRACKETS.sub("", plain).partition("(")[0].strip(" ,;.:")
        marked = _OWN_COUNTS.match(inner)
        if marked is not None:  # "left shuffle fwd (7&8: L, R, L)"
            told.append((marked["counts"].strip(), f"{outside} {inner[marked.end() :]}".strip()))
        listed = [(counts, inner), (counts, outside)]  # "a rocking chair (rock R fwd, recover L, ...)"
        told += listed if "," in inner else listed[::-1]
    told += [(counts, plain), (counts, _PAST_STEPS.split(step_run(words))[0])]
    whole = f"{first}-{last}" if last > first else str(first)
    written = [f"{own}  {steps}" for own, steps in told if STEP_WORD.search(steps) is not None]
    written += [f"{whole}  {steps}" for _, steps in told if STEP_WORD.search(steps) is not None]
    return [[Line(line.number, line.column, text, False)] for text in dict.fromkeys(written)]
