"""Events by other names than the usual ones, and what stands with them: "Variation, walls 2 and 6", "Final - wall 8 ...", "To finish facing front (wall 9):"
and below it "Dance up to the end of section 3, then"."""

from __future__ import annotations

import re
from collections.abc import Iterator, Sequence
from dataclasses import replace

from caller.routine.count import read_counts
from caller.routine.layout.lines import Line
from caller.routine.layout.numbers import NUMBER, ORDINAL

_OF_WALL = rf"(?:(?:of|on|in|during|for|at)\s+)?(?:the\s+)?(?:walls?\s+(?:\d|{NUMBER})|W\d|{ORDINAL}\s+(?:and\s+(?:last|final)\s+)?wall)"
# "FINAL:", "Final - wall 8 ...", "Final of the 8th wall", "Outro (wall 7)", and alone above what it tells.
_NAMED = re.compile(
    rf"^(?P<before>\W{{0,4}})(?:the\s+|your\s+|big\s+|grand\s+)*(?:final|finale|outro|finito|(?<=the\s)end(?=\s*[:(\u2010-\u2015-]))(?=\s*(?:[:(\u2010-\u2015-]|,?\s+{_OF_WALL}|$))",
    re.IGNORECASE,
)
_TO_FINISH = re.compile(
    rf"^(?P<before>\W{{0,4}})to\s+(?:finish|end)(?:\s+(?:the\s+dance|facing|at|on|to|towards?|up|off|the\s+front|front|home|wall|12:00|12\s+o['\u2019]?clock))*(?=\s*[(:,\u2010-\u2015-]\s*{_OF_WALL})",
    re.IGNORECASE,
)
_VARIATION = re.compile(rf"^(?P<before>\W{{0,5}})variations?(?=\s*[,:(\u2010-\u2015-]?\s*{_OF_WALL})", re.IGNORECASE)
# "W2, short: 5-8 of section 3 = rock L forward, ..., hold. Restart at 6:00": one sentence
_SET_SO = re.compile(r"\bof\s+(?:section|set|s)\s?\d\s*=", re.IGNORECASE)
_THEN_RESTART = re.compile(r"[.;]\s+(?=(?:then\s+)?re-?start\b)", re.IGNORECASE)
# "As soon as the fifth is over sway R, L": of a wall, and then the steps
_WITHOUT_WALL = re.compile(
    rf"\b(?P<when>when|once|as\s+soon\s+as|after)\s+(?:the\s+)?(?P<nth>{ORDINAL})(?:\s+one)?(?=\s+(?:is|has\s+been|comes\s+to)\s+(?:over|done|finished|danced|complete|through|an\s+end)\b)",
    re.IGNORECASE,
)
_STEPS_RIGHT_BEHIND = re.compile(
    r"^(?P<over>\W{0,4}(?:after|at\s+the\s+end\s+of|when|once|as\s+soon\s+as)\s(?:[^.,;:]|(?<=\d)\.){1,40}?(?:\bwalls?(?:\s+\d{1,2})?|\bover|\bdone|\bfinished|\bcomplete))\s+(?=(?:sway|step|rock|stomp|bump|walk|touch|hold|repeat|add|there\s+(?:is|comes))\b)",
    re.IGNORECASE,
)
_SHORT = re.compile(  # "W2: short (16)"
    r"^(?P<before>\W{0,4})(?:W|Wall\s)(?P<n>\d{1,2})\s*[:,]\s*short(?:\s+(?:one|wall))?\s*\((?P<counts>\d{1,2})(?:\s*(?:counts|cts|c))?\)",
    re.IGNORECASE,
)
_HEADS = re.compile(rf"^\W{{0,4}}(?:ending|finish|finale)\b[^.;]{{0,80}}?\b{_OF_WALL}[^.;]{{0,40}}$", re.IGNORECASE)
# "Dance section 1, now facing 6:00, then", "Dance up to the end of Section 3 (24 counts, 9:00), then"
_PLACE_BELOW = re.compile(
    r"^(?:(?:you\s+|just\s+|only\s+)*(?:dance|do|go)\b|after\b|up\s+to\b|at\s+the\s+end\s+of\b)[^.;]{3,90}[,:(\s](?:and\s+)?(?:then|add|dance|do|instead)\W*$",
    re.IGNORECASE,
)
# "TAG: danced after walls 2 and 4", and below it "Repeat SEC 1 (6 counts), then begin the dance."
_TAG_HEADS = re.compile(r"^\W{0,4}(?:tag|bridge)\b[^.;]{0,110}$", re.IGNORECASE)
_REPEATS_BELOW = re.compile(
    r"^(?:repeat|dance|do)\s+(?:again\s+)?(?:the\s+)?(?:sect?(?:ion)?\.?\s?\d|set\s?\d|S\d|counts?\s+\d|(?:first|last)\s+\w+\s+(?:counts|beats))\b",
    re.IGNORECASE,
)
# "Where: when wall 2 is finished ...", below the steps of a tag
_MARK_BEFORE_HOUR = re.compile(  # "right to side *   3.00", of a table's cells
    r"\s(?P<mark>\*{1,4}|[#\u2020\u2021])(?P<hour>\s+\(?(?:1[0-2]|[369])[:.]00\)?)$"
)
_WHERE = re.compile(r"^(?:where|when|position)\s*:\s+(?=.*\b(?:walls?|time|round)\b)", re.IGNORECASE)
_KIND = re.compile(r"^\W{0,4}(?P<kind>tag|bridge|re-?start|ending)\b", re.IGNORECASE)
_SECTION_DANCED = re.compile(
    r"\b(?:dance|do)\s+(?:only\s+|just\s+|up\s+to\s+|all\s+of\s+)*(?:section|set|s)\s?(?P<n>\d)\b", re.IGNORECASE
)
# "the song stops after this first pivot": where the line stands
_AFTER_THIS = re.compile(
    rf"\bafter\s+(?:this|that)\s+(?:{ORDINAL}\s+|last\s+)?(?!section|set|eight|block|part|wall|point|you|the|time)[a-z][a-z-]{{2,14}}(?:\s+(?:turn|step|rock|box|chair))?(?=\s*(?:[,.;:(]|and\b|then\b|$))",
    re.IGNORECASE,
)
_ENDS = re.compile(
    r"\b(?:song|music|dance|band)\s+(?:stops|ends|finishes|is\s+over)\b|\bthe\s+end\b|\bending\b|\bfinish",
    re.IGNORECASE,
)
# "leave section 8 off and do instead:" of an ending: what is left out comes after it
_LEFT_OFF = re.compile(
    r"[;,.]?\s*\b(?:leave|skip|omit|drop)\s+(?:off\s+|out\s+)?(?:the\s+rest(?:\s+of\s+\w+(?:\s+\w+)?)?|(?:the\s+)?(?:section|set|s)\s?\d)(?:\s+(?:off|out))?\s+and\s+(?:do|dance|finish)\s+(?:this\s+)?(?:instead|like\s+this|with|so)\b",
    re.IGNORECASE,
)


def usual_names(lines: Sequence[Line]) -> list[Line]:
    """The lines, each such event by its usual name, with the place that stands on the line below it."""
    told = list(_with_places(_wheres([_named(line) for line in lines])))
    return [_standing_here(line) for line in told]


def _named(line: Line) -> Line:
    text = _MARK_BEFORE_HOUR.sub(r"\g<hour> \g<mark>", line.text)
    if text != line.text:
        line = replace(line, text=text, exact=False, source=line.source or line.text)
    text = _STEPS_RIGHT_BEHIND.sub(r"\g<over>, ", _WITHOUT_WALL.sub(r"\g<when> the \g<nth> wall", line.text))
    if text != line.text:
        return replace(line, text=text, exact=False, source=line.source or line.text)
    text = _SHORT.sub(r"Restart on wall \g<n> after \g<counts> counts", text)
    if text != line.text:
        return replace(line, text=text, exact=False, source=line.source or line.text)
    if (varied := _VARIATION.match(text)) is not None:
        text = f"{varied['before']}Change{text[varied.end() :]}"
        return replace(line, text=text, exact=False, source=line.source or line.text)
    if _SET_SO.search(text) is not None and (joined := _THEN_RESTART.sub(", and ", text)) != text:
        return replace(line, text=joined, exact=False, source=line.source or line.text)
    if (found := _NAMED.match(text) or _TO_FINISH.match(text)) is None:
        return line
    text = f"{found['before']}Ending{text[found.end() :]}"
    if (left := _LEFT_OFF.search(text)) is not None:
        text = f"{text[: left.start()]}, then{text[left.end() :]}"
    return replace(line, text=text, exact=False, source=line.source or line.text)


def _wheres(lines: Sequence[Line]) -> list[Line]:
    """Lines that tell where an event is, with the name of the one headed above them."""
    out: list[Line] = []
    kind = ""
    for line in lines:
        kind = found["kind"] if (found := _KIND.match(line.text)) is not None else kind
        where = _WHERE.match(line.text) if kind else None
        told = f"{kind.capitalize()}: {line.text[where.end() :]}" if where is not None else line.text
        out.append(line if where is None else replace(line, text=told, exact=False, source=line.source or line.text))
    return out


def _with_places(lines: Sequence[Line]) -> Iterator[Line]:
    below = ""
    for n, line in enumerate(lines):
        if below:
            yield replace(line, text=" ", exact=False)
            below = ""
            continue
        following = lines[n + 1].text if n + 1 < len(lines) else ""
        if _TAG_HEADS.match(line.text) and _REPEATS_BELOW.match(following) and read_counts(line.text) is None:
            below = following
            told = f"{line.text.rstrip(' :.,')}: {following[:1].lower()}{following[1:]}"
            yield replace(line, text=told, exact=False, source=line.source or line.text)
        elif _HEADS.match(line.text) and _PLACE_BELOW.match(following) and read_counts(line.text) is None:
            below = following
            head = line.text.rstrip(" :")
            below = _SECTION_DANCED.sub(r"after section \g<n>", below)
            yield replace(
                line, text=f"{head}: {below[:1].lower()}{below[1:]}", exact=False, source=line.source or line.text
            )
        else:
            yield line


def _standing_here(line: Line) -> Line:
    if _ENDS.search(line.text) is None or read_counts(line.text) is not None:
        return line
    text = _AFTER_THIS.sub("here", line.text)
    return line if text == line.text else replace(line, text=text, exact=False, source=line.source or line.text)
