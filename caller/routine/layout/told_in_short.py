"""A line of the head that tells in short what the dance has besides its walls: "2 tags (W1, W3), 1 restart (W5) and an
ending". Each of them becomes a line of its own, so that no wall is taken for another's.
"""

from __future__ import annotations

import re
from collections.abc import Iterator
from dataclasses import replace

from caller.routine.count import read_counts
from caller.routine.layout.headings import read_heading
from caller.routine.layout.lines import Line
from caller.routine.layout.numbers import NUMBER, ORDINAL, number_of

_DASH = r"[\-\u2010-\u2015]"
_LABEL = re.compile(
    r"^[\s*!>\u2022]*(?:(?:n\.?b\.?|(?:please\s+)?note|info|extras|tags?\s*(?:/|&|and|,|\+)\s*re-?starts?(?:\s*(?:/|&|and|,|\+)\s*endings?)?|re-?starts?\s*(?:/|&|and)\s*tags?)\s*(?::|"
    rf"{_DASH}|=)\s*|(?:there\s+(?:is|are)|there['\u2019]s|has|with|contains|and)\s+)*",
    re.IGNORECASE,
)
_WALL = rf"(?:w(?:alls?)?\.?\s*(?:no\.?\s*|#\s*)?(?:\d{{1,2}}|{NUMBER})|(?:the\s+)?{ORDINAL}\s+wall)\b"
_MORE = rf"(?:\s*(?:,\s*(?:and|&)\s+|,|&|\+|/|and\b)\s*(?:{_WALL}|(?:the\s+)?{ORDINAL}\s+wall\b|\d{{1,2}}\b(?!\s*(?:x\b|counts?|cts?|c\b|beats?|\d|{_DASH}\s?(?:counts?|cts?|c\b|beats?)|tags?|re-?starts?|rst|endings?|bridges?|short|easy|step))))*"
_CHANGE = r"(?:\s*[,(]?\s*(?:both\s+|each\s+)?(?:with|w/)\s+(?:an?\s+)?(?:small\s+|slight\s+|little\s+)?(?:steps?\s+changes?|changes?\s+of\s+steps?|changed\s+steps?)\)?)"
_ITEM = re.compile(
    rf"(?P<many>(?:an?|one|two|three|four|the|\d)\s+(?:x\s+)?|\d\s?x\s+)?(?P<long>\(?\d{{1,2}}\s?-?\s?(?:counts?|cts?|beats?|c)\)?\s+)?(?:easy\s+|short\s+|small\s+|little\s+)?"
    r"(?P<kind>tags?|bridges?|re-?starts?|r[s/]ts?|endings?|(?:step\s+changes?|changes?\s+of\s+steps?))\b"
    rf"(?P<behind>\s*\(\d{{1,2}}\s?-?\s?(?:counts?|cts?|beats?|c)\))?(?P<times>\s*(?:[,(]\s*)?(?:danced\s+|done\s+)?(?:[x\u00d7]\s?\d|\d\s?[x\u00d7]|once|twice|(?:two|three|four|\d)\s+times)\)?)?"
    rf"(?P<changed>{_CHANGE})?"
    rf"(?P<walls>\s*(?:[,:(\[]|{_DASH}|@|=)?\s*(?:(?:at\s+(?:the\s+)?)?end(?:\s+of)?\s+|after\s+|aft\.?\s+|on\s+|in\s+|during\s+|of\s+|for\s+|both\s+)*{_WALL}{_MORE}(?:\s+only)?\s*[)\]]?)?"
    rf"(?P<late>{_CHANGE})?",
    re.IGNORECASE,
)
_BETWEEN = re.compile(rf"\s*(?:[,;/+&.|]|{_DASH}|\b(?:and|plus|with)\b)+\s*(?:(?:and|plus|also)\s+)*", re.IGNORECASE)
_REST = " \t.*!"
_NUMBERS = re.compile(rf"\d{{1,2}}|\b{ORDINAL}\b|\b{NUMBER}\b", re.IGNORECASE)
_COUNT_ONE = re.compile(r"\W*1(?!\d)")
_COUNTS = re.compile(r"\d+")
_KINDS = {"t": "Tag", "b": "Bridge", "r": "Restart", "e": "Ending", "s": "Step change", "c": "Step change"}
_NAMES_SEVERAL = re.compile(r"\b(?:tag|bridge|re-?start|rst|r/t|ending|change)", re.IGNORECASE)
_MANY = {"two": 2, "three": 3, "four": 4} | {str(n): n for n in range(1, 10)}
_TELLS_CHANGE = re.compile(r"\b(?:replac|instead|chang|swap|becom|in\s+place\s+of)", re.IGNORECASE)
_NAME_ALONE = re.compile(r"^\W*(?:re-?starts?|tags?|bridges?|endings?)\s*:?$", re.IGNORECASE)
_SO_MANY = re.compile(
    r"^(?:(?P<none>none|no|0|-|\u2013)|(?P<many>[1-4]|one|two|three))(?P<rest>(?:\s*[,(].*)?)$", re.IGNORECASE
)
_NEAR_TOP = 30  # lines
_LONGEST = 160  # characters


def told_one_by_one(lines: list[Line]) -> list[Line]:
    """The lines; of those before the first section, each that tells events in short in as many as it tells."""
    out: list[Line] = []
    _beside_their_names(lines)
    for n, line in enumerate(lines):
        if told := list(_told(line, lines[n + 1 :])):
            out += told
        elif (read_counts(line.text) is not None and _COUNT_ONE.match(line.text)) or read_heading(
            line.text
        ) is not None:
            return [*out, *lines[n:]]
        else:
            out.append(line)
    return out


def _beside_their_names(lines: list[Line]) -> None:
    """ "Restart", and on the next line "1, with a step change", as pages list facts: on one line."""
    for n, line in enumerate(lines[:_NEAR_TOP]):
        below = next((m for m in range(n + 1, min(n + 3, len(lines))) if lines[m].text.strip()), 0)
        if not below or _NAME_ALONE.match(line.text) is None:
            continue
        if (many := _SO_MANY.match(lines[below].text)) is not None:
            name = line.text.strip(" :")
            lines[n] = replace(line, text=" ", exact=False)
            number = "No" if many["none"] else many["many"]
            lines[below] = replace(lines[below], text=f"{number} {name}{many['rest']}", exact=False)


def _told(line: Line, further: list[Line]) -> Iterator[Line]:
    """A line for each event, none where it tells anything else, or only one and nothing that could be mistaken. That
    steps change is said again only where nothing further on says which."""
    if len(line.text) > _LONGEST or _NAMES_SEVERAL.search(line.text) is None:
        return
    label = _LABEL.match(line.text)
    at = label.end() if label is not None else 0
    items: list[re.Match[str]] = []
    while (item := _ITEM.match(line.text, at)) is not None:
        items.append(item)
        at = item.end()
        if not line.text[at:].strip(_REST):
            break
        between = _BETWEEN.match(line.text, at)
        if between is None:
            return
        at = between.end()
    if not items or line.text[items[-1].end() :].strip(_REST) or (len(items) == 1 and not _mistaken(line, items[0])):
        return
    changes = not any(_TELLS_CHANGE.search(other.text) for other in further)
    for n, item in enumerate(items):
        yield replace(
            line, text=_alone(item, changes), exact=False, source=line.source if n else line.source or line.text
        )


def _mistaken(line: Line, item: re.Match[str]) -> bool:
    """Whether an event told alone begins as a count does, or stands behind the names of others."""
    starred = line.text[: item.start()].strip() != "" and not line.text[: item.start()].strip("*\u2020\u2021^ ")
    if starred and item["many"] is None:  # a mark that stands at a step line too
        return False
    return item["many"] is not None or item.start() > 0 or len(_NAMES_SEVERAL.findall(line.text)) > 1


def _alone(item: re.Match[str], changes: bool) -> str:
    """ "1 rst (W5)": "Restart on wall 5". changes: it says where steps change as well."""
    kind = _KINDS[item["kind"][0].lower()]
    long = item["long"] or item["behind"]
    many = _MANY.get((item["many"] or "").split(" ")[0].rstrip("xX").lower(), 1)
    walls = [_wall(number) for number in _NUMBERS.findall(item["walls"] or "")]
    words = kind if walls or many < 2 else f"{many} {kind.lower()}s"
    if long:
        words += f" ({_COUNTS.findall(long)[0]} counts)"
    if walls:
        where = "after" if kind in ("Tag", "Bridge") else "on"
        named = f"{', '.join(map(str, walls[:-1]))} and {walls[-1]}" if walls[1:] else str(walls[0])
        words += f" {where} wall{'s' if walls[1:] else ''} {named}"
    return f"{words} with a step change" if changes and (item["changed"] or item["late"]) else words


def _wall(number: str) -> int:
    digits = _COUNTS.match(number)
    return int(digits[0]) if digits is not None else number_of(number)
