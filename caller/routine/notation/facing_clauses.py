"""A clause that says where a step leaves everybody: "..., which puts you on the back wall", ". You're now looking at
3 o'clock". It becomes the facing in brackets; where it names a wall without an hour (a side wall), it is left out.

Common practice of the trade; no published source.
"""

from __future__ import annotations

import re

_CUT = re.compile(
    r"\s*[,;()\[\]]\s*|\s*(?<!\d)\.\s*|\s*\.(?!\d)\s*|\s+[\u2010-\u2015-]\s+"
    r"|\s+(?=(?:and\s+)?(?:now\s+|so\s+(?:that\s+)?)*(?:you|we)(?:['\u2019](?:re|ll|ve))?\s+(?:now\s+|should\s+|will\s+|must\s+|all\s+)*(?:be\b|are\b|end|finish|face\b|have\s+(?:come|found|reached)|look\b|back\b|at\b|on\b|facing\b|looking\b)"
    r"|(?:which|that|this)\s+(?:should\s+|will\s+)?(?:puts?|leaves?|brings?|takes?|lands?|turns?|gets?)\s+(?:you|us)\b"
    r"|(?:putting|leaving|bringing|taking|landing)\s+(?:you|us)\b|(?:ending|finishing)\s+(?:up\s+)?(?:facing|looking|at|on)\b|to\s+(?:end|finish)\s+(?:up\s+)?(?:facing|looking|at|on)\b)",
    re.IGNORECASE,
)
_LEADS = (
    r"(?:(?:which|that|this|it|and|so|then|now|you|we|us|all|(?:you|we)['\u2019](?:re|ll|ve)|(?:that|it)['\u2019]s|are|is|be|will|would|should|must|have|has"
    r"|found|reached|come|comes|coming|came|end|ends|ended|ending|finish|finishes|finishing|land|lands|landing|put|puts|putting|leave|leaves|leaving"
    r"|bring|brings|bringing|take|takes|taking|get|gets|getting|fac(?:e|es|ing)|look|looks|looking|up|here|still|again|back|a?round|on|at|to|towards?|the|your)\s+)*?"
)
_HOUR = r"(?P<hour>1[0-2]|[1-9])(?P<clock>[:.](?P<minute>00|30)|\s*o['\u2019]?\s?clock)?(?P<wall>\s+wall)?"
_NAMED = r"(?P<named>front|back|home)(?:\s+(?P<sure>wall|of\s+the\s+(?:hall|room|class|floor)))?"
_UNSAID = r"(?P<unsaid>(?:(?:left|right)(?:[\s-]hand)?\s+(?:side\s+)?|side\s+|next\s+|new\s+|other\s+side\s+)wall)"
_CLAUSE = re.compile(
    rf"^(?P<lead>{_LEADS})(?:{_HOUR}|{_NAMED}|{_UNSAID})(?:\s+(?:again|now|once\s+more|still|here))*$", re.IGNORECASE
)
_PERSON = re.compile(
    r"\b(?:you|we|us|end(?:s|ing)?|finish(?:es|ing)?|land(?:s|ing)?|which|that['\u2019]s|now)\b", re.IGNORECASE
)
_FACES = re.compile(r"\b(?:fac|look)", re.IGNORECASE)
_AT = re.compile(r"\b(?:at|on|to|towards?)\s+(?:the\s+)?$", re.IGNORECASE)
_WORTH = re.compile(
    r"wall\b|clock\b|:[03]0|\b(?:you|we|us)\b|\bfac|\blook|\bhall\b|\b(?:front|back|home)\s*(?:$|[.,;)])|which\b|that['\u2019]s",
    re.IGNORECASE,
)
_CLOCK_OF = {"front": "12:00", "home": "12:00", "back": "6:00"}
_BETWEEN = " \t,;.-\u2010\u2011\u2012\u2013\u2014\u2015"
_AND_THE_HOUR = re.compile(r"\s*,\s*(?:1[0-2]|[1-9])(?::00|\s*o['\u2019]?\s?clock)")  # "the back wall, 6:00"
_STOP_WITHIN = re.compile(r"\.(?=\s*[)\]])")
_OPENED, _CLOSED = ("(", "["), (")", "]")
_LEAST = 2  # words: "12:00" by itself is read as it stands


def facings_told(text: str) -> str:
    """The text with every such clause as "(3:00)"."""
    if _WORTH.search(text) is None:
        return text
    text = _STOP_WITHIN.sub("", text)
    out: list[str] = []
    last = 0  # what is before stands in ``out``
    starts = [0]  # where the clause that ends at the next cut may begin
    for cut in [*_CUT.finditer(text), None]:
        first, end = cut.span() if cut is not None else (len(text), len(text))
        told = ((start, hour) for start in starts if start and (hour := _faced(text[start:first])) is not None)
        start, hour = next(told, (0, None))
        before = text[last:start].rstrip(_BETWEEN)
        closed = before.endswith(_OPENED) and text[first:end].strip().startswith(_CLOSED)
        if hour is not None and (closed or not _within(before)):
            out += [before[:-1].rstrip() if closed else before, f" ({hour})" if hour else ""]
            last = first + len(text[first:end].rstrip()) if closed else first
            last = again.end() if (again := _AND_THE_HOUR.match(text, last)) is not None else last
        starts = [end] if text[first:end].strip() else [*starts, end]
    return "".join([*out, text[last:]]) if out else text


def tells_facing(clause: str) -> bool:
    """Whether these words are such a clause, and nothing else."""
    return _faced(clause) is not None


def _within(text: str) -> bool:
    """Whether a bracket is open at its end: what stands in one beside other words is no clause by itself."""
    return sum(map(text.count, _OPENED)) > sum(map(text.count, _CLOSED))


def _faced(clause: str) -> str | None:
    """The hour told, "" where a wall is told that has none; None where the clause tells something else."""
    found = _CLAUSE.match(clause.strip())
    if found is None or len(clause.split()) < _LEAST:
        return None
    person, faces = _PERSON.search(found["lead"]), _FACES.search(found["lead"])
    if found["named"] is not None:
        sure = found["sure"] or person or faces
        return _CLOCK_OF[found["named"].lower()] if sure and found["lead"].strip() else None
    if found["hour"] is not None:
        sure = found["clock"] or found["wall"] or faces or (person and _AT.search(found["lead"]))
        return f"{found['hour']}:{found['minute'] or '00'}" if sure and found["lead"].strip() else None
    return ""
