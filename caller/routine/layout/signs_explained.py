"""Signs of an author's own at a step line's end, and the lines that explain them: "(*)", "[R]", "{END}", "\u00a7", "<1>", "++".

A sign is one where a line that begins with it tells of an event and another line ends with it: both get one of the
marks that are read elsewhere, so that the event stands where its sign does. Any other bracket stays as it is.
"""

from __future__ import annotations

import re
from collections.abc import Iterator, Sequence
from dataclasses import replace

from caller.routine.count import read_counts
from caller.routine.layout.headings import read_heading
from caller.routine.layout.lines import Line
from caller.routine.layout.numbers import ORDINAL

_INNER = r"(?:[^\w\s()\[\]{}<>]{1,3}|[A-Z]{1,3}\d?|[Ee]nd|END(?:ING)?|TAG\d?|[Tt]ag|[a-z]|\d)"
# Bare signs; those that are read as marks already, and "-", "." or "," which end many a line, are none.
_BARE = r"(?:[\u00a7~\u00b6\u00a4%$@+!\u00b0\u00ac\u25ca\u2666\u2663\u2660\u00b5]{1,3}|[\u00b9\u00b2\u00b3]|\*{1,3}[RTBE]\d?(?![\w*])|\*[RTBE]\d?\*|[RTBE]\d)"
_SIGN = rf"(?:\[\s?{_INNER}\s?\]|\(\s?{_INNER}\s?\)|\{{\s?{_INNER}\s?\}}|<\s?{_INNER}\s?>|{_BARE})"
_EXPLAINS = re.compile(rf"^(?P<sign>{_SIGN})\s*(?:(?:=+>?|:|[\u2010-\u2015-]|means)\s*)?(?P<says>[^\s=:].*)$")
_FACING = r"(?P<behind>\s*\(?(?:1[0-2]|[369])[:.]00\)?)?"
_BORNE = re.compile(rf"(?:(?<=\s)|(?<=[a-z)])(?=[\[({{<]))(?P<sign>{_SIGN}){_FACING}\s*[.]?$")
_OF_WALL = re.compile(
    rf"\b(?:walls?|rounds?)\b|\bW\d|\b{ORDINAL}\s+(?:time|round|turn)\b|\b(?:each|every)\s+time\b", re.IGNORECASE
)
_OF_EVENT = re.compile(
    r"\b(?:tags?|bridges?|re-?\s?starts?|rst|endings?|finish|finale|final|step\s+change|(?:start|begin)\s+(?:again|over|from))\b",
    re.IGNORECASE,
)
_KIND = r"(?:tags?|bridges?|re-?\s?starts?|endings?|finale?|finish|the\s+end|end|step\s+changes?|changes?)"
_MEANS = re.compile(
    rf"(?P<sign>{_SIGN})\s*(?:=|:|[\u2010-\u2015-]|means|is)?\s*(?:an?\s+|the\s+)?(?P<kind>{_KIND})\b", re.IGNORECASE
)
_LABEL = re.compile(
    r"^\W*(?:signs?|symbols?|marks?|key|legend)(?:\s+(?:used|in\s+(?:this|the)\s+sheet))?\s*[:=\u2010-\u2015-]*\s*",
    re.IGNORECASE,
)
_BY_LETTER = {
    "r": "Restart",
    "t": "Tag",
    "b": "Bridge",
    "e": "Ending",
    "end": "Ending",
    "rs": "Restart",
    "rst": "Restart",
    "tag": "Tag",
    "ending": "Ending",
    "res": "Restart",
}
_NAMED_FIRST = re.compile(
    r"^\W*(?:\w+[\s-]+){0,3}?(?:tags?|bridges?|re-?\s?starts?|rst|endings?|finish|finale|final|change)\b", re.IGNORECASE
)
_PUTS_IN = re.compile(r"\b(?:add|extra|put\s+in|insert|once\s+more|(?:repeat|dance|do)\s+the\s+last\b)", re.IGNORECASE)
_LETTERS = re.compile(r"[A-Za-z]+")
# Marks that are read at a step line's end and at the beginning of what explains them, the least usual first.
_MARKS = ("****", "***", "**", "*", "\u2020", "\u2021", "^")
_DIGIT = re.compile(r"\W?\d\W?")
_MOST_NUMBERED = 3  # lines that end with one number in brackets; more of them are counts
_ENDED = (".", "!", "?", ":", ",")


def signs_explained(lines: Sequence[Line]) -> list[Line]:
    """The lines with such signs as marks that are read; without any they come back as they are."""
    explaining = [line.text for line in lines if _explains(line) is not None]
    borne = {
        sign for line in lines if (sign := _borne(line)) and any(True for x in explaining for _ in _places(x, sign))
    }
    taken = [sign for sign in dict.fromkeys(sorted(borne)) if not _counts_things(sign, lines)]
    marks = [mark for mark in _MARKS if not any(_has(line.text, mark) for line in lines)]
    if not taken or len(taken) > len(marks):
        return list(lines)
    as_marks = dict(zip(taken, marks, strict=False))
    kinds = dict(_meanings(lines, as_marks))
    return [told for line in lines for told in _told(line, as_marks, kinds)]


def _has(text: str, mark: str) -> bool:
    """Whether an author uses the mark as one."""
    return text.startswith(mark) or text.endswith(mark)


def _counts_things(sign: str, lines: Sequence[Line]) -> bool:
    """ "(1)" at the end of many lines: a count."""
    if _DIGIT.fullmatch(sign) is None:
        return False
    often = sum(bool(_DIGIT.fullmatch(found["sign"])) for line in lines if (found := _BORNE.search(line.text)))
    return often > _MOST_NUMBERED or sign[0] == "("


def _explains(line: Line) -> re.Match[str] | None:
    """ "[R] = the third time you begin ...": the sign and what it stands for, where that tells of an event."""
    label = _LABEL.match(line.text)
    found = _EXPLAINS.match(line.text[label.end() :] if label is not None else line.text)
    if found is None or found["says"].endswith(found["sign"]) or read_counts(found["says"]) is not None:
        return None  # "~~ TAG ~~", a sign drawn round a line
    return found if _OF_WALL.search(found["says"]) or _OF_EVENT.search(found["says"]) else None


def _borne(line: Line) -> str:
    """The sign at the end of a step line or a heading, "" where there is none; or one that stands alone."""
    if re.fullmatch(_SIGN, line.text) is not None:
        return line.text
    found = _BORNE.search(line.text)
    if found is None or line.text.startswith(found["sign"]):
        return ""
    if not (read_counts(line.text) is not None or read_heading(line.text[: found.start()].strip())):
        return ""
    return found["sign"]


def _meanings(lines: Sequence[Line], marks: dict[str, str]) -> Iterator[tuple[str, str]]:
    """What kind of event each sign stands for: by its letter, or by a line "Signs used: \u00a7 restart  ~ tag"."""
    for sign in marks:
        letters = _LETTERS.search(sign)
        if letters is not None and (kind := _BY_LETTER.get(letters[0].lower())):
            yield sign, kind
    for line in lines:
        if (kinds := _key(line, marks)) is not None:
            yield from kinds.items()


def _key(line: Line, marks: dict[str, str]) -> dict[str, str] | None:
    """The kinds of a line that tells nothing but what each sign is; None for any other line."""
    label = _LABEL.match(line.text)
    rest = line.text[label.end() :] if label is not None else line.text
    told = {found["sign"]: found["kind"].capitalize() for found in _MEANS.finditer(rest) if found["sign"] in marks}
    left = _MEANS.sub("", rest)
    return told if told and not re.search(r"\w", left) else None


def _told(line: Line, marks: dict[str, str], kinds: dict[str, str]) -> Iterator[Line]:
    source = line.source or line.text
    if _key(line, marks) is not None and not _OF_WALL.search(line.text):
        yield replace(line, text=" ", exact=False, source=source)
    elif line.text in marks:
        yield replace(line, text=marks[line.text], exact=False, source=source)
    elif (found := _explains(line)) is not None and found["sign"] in marks:
        for n, (sign, says) in enumerate(_each(line.text, marks)):
            kind = kinds.get(sign, "")
            if not kind and _OF_EVENT.search(says) is None and _PUTS_IN.search(says) is not None:
                kind = "Tag"
            others = {event[0][0].lower() for event in _OF_EVENT.finditer(says)} - {"s", "b", kind[:1].lower()}
            named = says if not kind or others or _NAMED_FIRST.match(says) else f"{kind}: {says}"
            ended = named if named.endswith(_ENDED) else f"{named}."
            yield replace(line, text=f"{marks[sign]} {ended}", exact=False, source=source if not n else " ")
    elif (sign := _borne(line)) in marks and (at := _BORNE.search(line.text)) is not None:
        before, behind = line.text[: at.start()].rstrip(), at["behind"] or ""
        if read_counts(line.text) is not None:
            yield replace(line, text=f"{before}{behind} {marks[sign]}", exact=False, source=source)
        else:  # above a heading's own steps
            yield replace(line, text=f"{before}{behind}", exact=False, source=source)
    else:
        yield line


def _each(text: str, marks: dict[str, str]) -> Iterator[tuple[str, str]]:
    """ "(*) restart on wall 3; (#) tag after wall 5": each sign with what is told of it."""
    starts = sorted((at, sign) for sign in marks for at in _places(text, sign))
    for n, (at, sign) in enumerate(starts):
        end = starts[n + 1][0] if n + 1 < len(starts) else len(text)
        says = text[at + len(sign) : end].strip(" ;,/|")
        yield sign, re.sub(r"^\s*(?:=+>?|:|[\u2010-\u2015-]|means\b)\s*", "", says)


def _places(text: str, sign: str) -> Iterator[int]:
    """Where a sign stands with something told behind it."""
    for found in re.finditer(
        rf"(?:^|(?<=[\s;,/|])){re.escape(sign)}(?!{re.escape(sign[-1])})(?=\s*[=:\u2010-\u2015-]?\s*\S)", text
    ):
        yield found.start()
