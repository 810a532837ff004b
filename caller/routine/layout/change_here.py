"""Changes told right at their place, in the brackets of a step line or below it: "change these two counts to stomp,
hold", "stomp L, hold instead", "touch L beside R, hold, and restart".
"""

from __future__ import annotations

import re
from collections.abc import Iterator

from caller.routine.layout.blocks import ReplacedLines
from caller.routine.layout.change_told import RESTARTS, ChangeTold
from caller.routine.layout.counted import steps_on
from caller.routine.layout.kinds import STEP_WORD
from caller.routine.layout.lines import Line
from caller.routine.layout.numbers import NUMBER, ORDINAL, number_of

_THESE = (
    re.compile(
        rf"\b(?:chang(?:e|ed)|replac(?:e|ed)|swap|alter)\s+(?:these|those|the)\s+(?:last\s+)?(?P<many>{NUMBER})?\s*(?:counts?|beats?|steps?)\s*(?:\([\d&\s\u2013-]+\)\s*)?(?:to|with|by|for|into)\s*:?\s*(?P<words>[^.;]+)",
        re.IGNORECASE,
    ),
    re.compile(
        rf"\b(?:on|for|in)\s+(?:these|those|the)\s+(?:last\s+)?(?P<many>{NUMBER})?\s*(?:counts?|beats?)\s*,?\s*(?:\([\d&\s\u2013-]+\)\s*)?,?\s*(?:(?:instead|you|we|just|simply|do|dance)\s+)*[:,]?\s*(?=\S)(?P<words>(?!of\b|in\b)[^.;]+)",
        re.IGNORECASE,
    ),
)
_WALLS = rf"(?:(?:on|in|during|for)\s+)?(?:the\s+)?{ORDINAL}\s+wall|(?:(?:on|in|during|for)\s+)?(?:the\s+)?(?:walls?|w)\s*\d[\d\s,&+]*(?:and\s+\d+)?|(?:(?:on|in|during|for)\s+)?(?:the\s+)?\d{{1,2}}(?:st|nd|rd|th)(?:\s*(?:&|and|,)\s*\d{{1,2}}(?:st|nd|rd|th))*\s+walls?"
_ON_WALL = re.compile(rf"^[\W_]*(?:{_WALLS})(?:\s*\bonly\b)?\s*[:,\u2010-\u2015-]?\s*", re.IGNORECASE)
_NO_FIGURE = re.compile(
    r"^(?:but\s+)?(?:no|without(?:\s+the)?|not\s+the)\s+[a-z][a-z -]{2,24}[.,;:!]\s*", re.IGNORECASE
)
_INSTEAD = re.compile(
    r"^(?P<words>[^.;:]+?)(?:\s*,?\s+(?:on\s+(?:count\s+)?(?P<on>\d{1,2}&?)\s+)?)(?:here\s+)?(?:instead\b|in\s+place\b|rather\s+than\b)",
    re.IGNORECASE,
)
_BEFORE_NAME = re.compile(r"^[\W_]*(?:step\s+change|change|variation|restart)\W+", re.IGNORECASE)
_TO_RESTART = re.compile(
    r"^(?P<words>[^.;:]+?)\s*,?\s*(?:[.;]|\band\b|\bthen\b|,)\s*(?:now\s+|then\s+)?re-?start\b", re.IGNORECASE
)
_SECTION_AS = re.compile(
    r"\bdance\s+(?:section|sect?\.?|set|s)\s?(?P<section>\d{1,2})\s+(?:as|like\s+this|so)\s*:?\s+(?P<words>[^.;]+)",
    re.IGNORECASE,
)
_GOES_ON = re.compile(r"[,;]?\s*(?:and|then|and\s+then)\s+(?:go|carry|continue|keep|on|do)\b.*$", re.IGNORECASE)
_ON = re.compile(r"^(?:on|for)\s+(?:counts?\s+)?(?=\d)", re.IGNORECASE)
_COUNTS_ARE = re.compile(r"^(?P<counts>\d{1,2}(?:\s?[-\u2013&]\s?\d{1,2})?)\s+(?:is|are|becomes?)\s+", re.IGNORECASE)
_FACED = re.compile(r"^[(\[]?(?:1[0-2]|[1-9])[:.]00[)\]]?\s*[:,]?\s*")
_SO_LONG = re.compile(r"\d{1,2}\s*-?\s*(?:counts?|cts?|beats?|c)\b", re.IGNORECASE)  # of a tag, no place
_FIRST = frozenset("123456789&")  # of counts
_FOOT = re.compile(r"\b[RL]F?\b")
_PIECE = re.compile(r"\s*,\s*(?:and\s+)?|\s+and\s+(?=hold|touch|step|stomp)", re.IGNORECASE)


def _steps(words: str) -> bool:
    return not words.lower().startswith("see ") and any(told.search(words) for told in (STEP_WORD, _FOOT))


def _bare(words: str) -> str:
    """Without what stands round it, but with the bracket that closes "(6:00)"."""
    words = words.strip(" .,;!*]}")
    return words.rstrip(" )") if words.count(")") > words.count("(") else words


def at_its_place(said: ChangeTold) -> Iterator[list[ReplacedLines]]:
    """The steps on the last counts before the place where it is told."""
    if not said.standing:
        return
    for pattern in _THESE:
        if (found := pattern.search(said.text)) is not None and _steps(found["words"]):
            yield said.replaces(_on(said, found["words"], number_of(found["many"]) if found["many"] else 0), 0)
    yield from _after_its_wall(said)


def _after_its_wall(said: ChangeTold) -> Iterator[list[ReplacedLines]]:
    """ "Wall 5: stomp L beside R, hold instead"; in the brackets of a step line "instead" may go unsaid."""
    bare = _BEFORE_NAME.sub("", said.text)
    start = _ON_WALL.match(bare)
    if start is None:
        return
    rest = _ON.sub("", _NO_FIGURE.sub("", _FACED.sub("", bare[start.end() :])).strip(" [({"))
    rest = _COUNTS_ARE.sub(r"\g<counts>  ", rest)
    instead, restarts = _INSTEAD.match(rest), _TO_RESTART.match(rest)
    counted = (
        steps_on(said.piece(_bare(RESTARTS.sub("", _GOES_ON.sub("", rest)))))
        if rest[:1] in _FIRST and not _SO_LONG.match(rest)
        else []
    )
    if counted:
        yield said.replaces(counted, 0)
    elif instead is not None and instead["on"] and _steps(instead["words"]):
        yield said.replaces(steps_on(said.piece(f"{instead['on']}  {instead['words']}")), 0)
    elif instead is not None and _steps(instead["words"]):
        yield said.replaces(_on(said, instead["words"], 0), 0)
    elif said.bracketed and restarts is not None and _steps(restarts["words"]):
        yield said.replaces(_on(said, restarts["words"], 0), 0)


def section_as(said: ChangeTold) -> Iterator[list[ReplacedLines]]:
    """ "Dance section 6 as step, hold, hold, step, hold, hold": a step on each of its counts."""
    found = _SECTION_AS.search(said.text)
    words = _GOES_ON.sub("", found["words"]) if found is not None else ""
    many = len(_PIECE.split(words))
    if found is not None and many > 1 and STEP_WORD.search(words):
        yield said.replaces(steps_on(said.piece(f"1-{many}  {words}"), 1), int(found["section"]))


def _on(said: ChangeTold, words: str, many: int) -> list[Line]:
    """On the last so many counts, 0 = as many as there are pieces, or all of the line above."""
    words = _bare(RESTARTS.sub("", _GOES_ON.sub("", words)))
    pieces = len(_PIECE.split(words))
    lasting = said.standing - said.line_from + 1
    many = many or (pieces if 1 < pieces <= max(lasting, 2) else lasting)
    first = said.standing - many + 1
    return steps_on(said.piece(f"{first}-{said.standing}  {words}" if many > 1 else f"{first}  {words}"), first)
