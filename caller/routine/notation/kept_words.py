"""The author's lines whose words a layout does not have: what it would lose.

What a line says by its form (its counts, "Section 2", "on wall 3 after 16 counts") the standard layout says in its own
words; all other words of the line must stand somewhere in it.
"""

from __future__ import annotations

import re
from collections import defaultdict
from collections.abc import Iterator, Mapping, Sequence

from caller.routine.layout.abbreviations import abbreviations, expanded
from caller.routine.layout.blocks import Role
from caller.routine.layout.lines import LINE_ENDS, physical, plain_line
from caller.routine.layout.standard_form import standard_form
from caller.routine.notation.laying import Written

_WORD = re.compile(r"[^\W\d_]+(?:['\u2019][^\W\d_]+)?")
# What headers, headings and events say in words of the layout's own, and words that carry nothing alone.
_HEADERS = (
    "title name dance dances danced line type description counts count cts ct beats beat temps comptes walls level "
    "lvl tempo speed bpm approx about ca meter time feel intro starts start begins begin music musik song track order "
    "sequence phrased phrasing parts notes note choreo devised author written by page ft foot"
)
_HEADINGS = "part section sec sect set block bar ii iii iv vi vii viii option"
_EVENTS = "tag tags restart restarts bridge change ending end finish wall facing clock o'clock you'll you're"
_SMALL = (
    "a an the this that it its it's is are be you your we us our they there here there's of in on at to and or then "
    "than from for with after before during again when as so do each every only all both once twice"
)
_NUMBERS = (
    "one two three four five six seven eight nine ten eleven twelve sixteen first second third fourth fifth sixth "
    "seventh eighth ninth tenth st nd rd th"
)
_OF_FORM = frozenset(f"{_HEADERS} {_HEADINGS} {_EVENTS} {_SMALL} {_NUMBERS}".split())
_AUTHOR = re.compile(r"chor[e\u00e9]o?gra")  # in several languages
_FEET = {"l": "left", "lf": "left", "r": "right", "rf": "right"}


def lost_lines(text: str, roles: Mapping[int, Role], written: Sequence[Written]) -> Iterator[tuple[int, str]]:
    """Lines of ``text`` that have words which none of the lines written from them has, with their numbers. A sheet that
    is in the standard layout already is written as it stands."""
    if standard_form(text) is not None:
        return
    of_line: dict[int, set[str]] = defaultdict(set)
    for one in written:
        of_line[one.source] |= set(_words(one.text))
    rows = [_words(one.text) for one in written]
    lines = list(physical(text))
    short = abbreviations(line.text for line in lines)
    for line, raw in zip(lines, LINE_ENDS.split(text), strict=True):
        role = roles.get(line.number, Role.EMPTY)
        if role is Role.EMPTY or (role is Role.NOTE and line.text.startswith("#")):
            continue
        told = expanded(line, short).text
        words = [word for word in _words(told) if word not in _OF_FORM and not _AUTHOR.match(word)]
        if words and not set(words) <= of_line[line.number] and not any(_in_order(words, row) for row in rows):
            yield line.number, plain_line(raw).strip()


def _words(text: str) -> list[str]:
    words = (word.casefold().replace("\u2019", "'") for word in _WORD.findall(text))
    return [_FEET.get(word, word) for word in words if len(word) > 1 or word in _FEET]


def _in_order(words: Sequence[str], others: Sequence[str]) -> bool:
    rest = iter(others)
    return all(word in rest for word in words)
