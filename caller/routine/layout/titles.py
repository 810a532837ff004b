"""Which of a sheet's first lines is the dance's name, where no line says so itself."""

from __future__ import annotations

import re
from collections.abc import Sequence

from caller.routine.layout.headings import read_heading
from caller.routine.layout.kinds import FURNITURE, GREETING, MAIL_HEAD, NOTE_START, PAGE, STEP_WORD
from caller.routine.layout.lines import unstarred

_I = re.IGNORECASE
_HEAD_LINE = re.compile(
    r"\b\d{1,3}\s*-?\s*(?:counts?|cts?|walls?|bpm)\b|^\s*(?:counts?|walls?|level|choreo\w*|devised|music|mus|trk|track|abbr\w*|song|intro|tempo|order|sequence|type|description|by|meter|time|feel|starts?|section|part|s\d|\d)\b",
    _I,
)
TITLE_KEY = re.compile(
    r"^\W*(?:title|dance(?:\s+(?:title|name))?|name(?:\s+of\s+dance)?|(?:the\s+)?(?:dance|waltz|cha\s?cha|two[\s-]step)\s+of\s+the\s+(?:month|week|quarter|term|day|evening|night)(?:\s+for\s+\w+)?|this\s+(?:week|month|quarter|term)['\u2019]s\s+(?:class\s+)?dance)\s*(?::|=|\s[-\u2013\u2014]\s)(?!\s*\d{1,3}\s*-?\s*(?:counts?|cts?|walls?|c)\b)",
    _I,
)
_STEPS_BEGIN = re.compile(r"^(?:counts?\s*)?1\s*(?:[-&,\u2013]\s*)?[2-8]\b.*[A-Za-z]", _I)
_MOST_TITLE = 70
_HOME = re.compile(
    r"home\s{2,}\S|(?:[\w\u00c0-\u017f]+(?:\s[\w\u00c0-\u017f]+)?\s{2,}){2,}(?:contact|kontakt|links?|login)\s*$", _I
)  # the way through a web site, as cells
_PAPER = re.compile(
    r"\b(?:newsletter|bulletin|gazette|club\s+news|(?:step\s*sheet|dance)\s+of\s+the\s+month|this\s+month['\u2019]?s\s+(?:class\s+)?dance|dance\s+to\s+learn)\b|\bfestival\W*(?:$|\*)|\b(?:boot\s?scooters|line\s?dancers|linedance[\s-]freunde)\b.*(?:\binc\b|stepsheet|step\s+sheet)|\binc\.$",
    _I,
)
_FACTS_NEAR = re.compile(r"\b\d{1,3}\s*-?\s*(?:counts?|cts?|walls?|bpm)\b", _I)
_FACTS = re.compile(
    r"\b\d{1,3}\s*-?\s*(?:counts?|cts?|c)\b.*\bwalls?\b|\bwalls?\b.*\b\d{1,3}\s*-?\s*counts?\b|\b\d{1,3}\s?c\b.{1,12}\b\d\s?w\b",
    _I,
)


def _above_any_title(text: str) -> bool:
    """The way through a web site; the head of a newsletter."""
    marks = len(re.findall(r"\s[\u00b7|\u2022>]\s", text))
    way = (marks > 1 and _FACTS_NEAR.search(text) is None) or _HOME.match(text) is not None
    return way or _PAPER.search(re.split(r"\s{3,}", text)[0]) is not None


def _above_the_facts(texts: Sequence[str]) -> int | None:
    """Of a mail: the line above "16 count / 4 wall"."""
    for n, text in enumerate(texts[1:], 1):
        if _NAME_AND_FACTS.match(unstarred(text)) is not None:
            return n
        above = n - 2 if n > 1 and _BY.match(unstarred(texts[n - 1])) else n - 1
        before = unstarred(texts[above])
        if (
            _FACTS.search(text)
            and len(text) < 90
            and not before[:1].islower()
            and not (_talks(before) or GREETING.match(before) or MAIL_HEAD.match(before))
        ):
            return above
    return None


_BY = re.compile(r"^\W*(?:by|choreo\w*|devised|made\s+up|written|worked\s+out|taught)\b", _I)
_WROTE = re.compile(
    r"\b(?:wrote|schrieb\b.*|skrev|a\s+\u00e9crit|schreef|scribeva)\s*:?\s*$|^-+\s*original message", _I
)
# The head of a club's paper or handout, where a name comes below it.
OF_THE_CLUB = re.compile(
    r"\b(?:clubs?|handout|hall|society|dancers|hoofers|stompers?|toe-tappers?|steppers?|improvers|beginners|class(?:es)?|newsletter|group|weekend|workshop|festival|gathering|programme|card|corner|gazette|fair|weekender|marquee|tent|(?:dance\s+)?barn|summer\s+floor|night\s+at|diary|leaflet|quarterly|from\s+(?:our|the))\b|\bno\.?\s*\d|^handout\b",
    _I,
)


def mail_begins(texts: Sequence[str]) -> int:
    """Where the mail begins that has the sheet: below the last "... wrote:", where no steps stand above it."""
    begins = max((n + 1 for n, text in enumerate(texts) if _WROTE.search(text)), default=0)
    return 0 if any(_STEPS_BEGIN.match(text) for text in texts[:begins]) else begins


def _below_the_club(texts: Sequence[str], first: int) -> int:
    """The name's line, where the first one is the head of a club's paper and the next stands above facts or an author."""
    if OF_THE_CLUB.search(unstarred(texts[first])) is None or _FACTS.search(texts[first]):
        return first
    if first + 1 < len(texts) and (_BY.match(texts[first + 1]) or _FACTS.search(texts[first + 1])):
        return first if _FACTS_BEHIND.search(texts[first + 1]) is None else first + 1
    for n in range(first + 1, min(first + _NEAR_HEAD, len(texts) - 1)):
        text, below = unstarred(texts[n]), unstarred(texts[n + 1])
        if _NAME_ALONE.match(texts[n]) is not None and _PAPER.search(text) is None:
            return n
        plain = not (
            _talks(text) or _heads(text) or GREETING.match(text) or _FACTS.search(text) or STEP_WORD.search(text)
        )
        if plain and ((text.isupper() and _SO_LONG.search(below)) or _BY.match(below) or _FACTS.search(below)):
            return n
    return first


_POSTED = re.compile(r"^(?:posted|published|sent\s+in|uploaded|last\s+updated)\s+(?:by|on)\b", _I)
_NEAR_HEAD = 6  # lines
# '"MARMALADE TUESDAY"    taught by Ada', "ROSEHIP WALTZ  (24 counts, 4 walls)", "UNPOSTED LETTERS"
_NAME_ALONE = re.compile(
    r"^\W*[\"\u201c][A-Z][^\"\u201c\u201d]{2,48}[\"\u201d]|^(?!HANDOUT|CLUB|PAGE|NO\b|SECTION|PART|TAG|RESTART)[A-Z][A-Z'\u2019&]+(?:\s[A-Z'\u2019&]+){0,5}(?=$|\s{2,}|\s*\()"
)
_SO_LONG = re.compile(r"\bcounts?\b|\bbeats\b", _I)
_FACTS_BEHIND = re.compile(r"^(?-i:[A-Z][A-Z' &]{3,40})\s{3,}\d{1,3}\s*(?:counts?|cts?|c)\b", _I)
# "Borrowed Boots - 32ct, 2 wall, intermediate"
_NAME_AND_FACTS = re.compile(
    r"^(?!(?:absolute|high|low|easy|beginner|improver|intermediate|advanced|novice|phrased|a)\b)(?-i:[A-Z])[^\d:,]{3,40}?(?:\s+[-\u2013]|,)\s+\d{1,3}\s*-?\s*(?:counts?|cts?|c)\b.*\bwalls?\b",
    _I,
)
_BEFORE_FACTS = re.compile(
    r"\s{3,}|\s{2,}(?:-{1,2}|[~*\u2013\u2014])\s|\s\*\s|\s*\|\s*|\s*//\s*|\s+\(?\d{1,3}\s*-?\s*(?:counts?|cts?|walls?|c)\b|\s+(?:-{1,2}|[\u2013\u2014~])\s+(?=[^-\u2013\u2014]{0,40}?\b\d{1,3}\s?(?:c|cts?|counts?)\b)|\s+\(\d{2}\s*/",
    _I,
)


def _is_passed_by(raw: str, below: Sequence[str]) -> bool:
    """Comments, notes, what belongs to a mail or a page: no name of a dance."""
    text = unstarred(raw)
    if raw.startswith("#") and not re.match(r"^#{1,2}\s+\S", raw):
        return True
    if raw.startswith("# ") and any(not t.startswith("#") for t in below) and _talks(text):
        return True
    if _POSTED.match(text) is not None:
        return True
    kept_out = any(pattern.match(text) for pattern in (NOTE_START, MAIL_HEAD, GREETING, PAGE))
    return kept_out or FURNITURE.search(text) is not None


def title_line(texts: Sequence[str]) -> int | None:
    """The index of the line that is the title without saying so; None where a line says so, or none is one."""
    if any(TITLE_KEY.match(text) for text in texts):
        return None
    begins = mail_begins(texts)
    mail = begins > 0 or any(MAIL_HEAD.match(text) for text in texts)
    if mail and (named := _above_the_facts(texts[begins:])) is not None:
        return begins + named
    for n, raw in enumerate(texts):
        if n < begins:
            continue
        text = unstarred(raw)
        if _above_any_title(text):
            continue
        if read_heading(text) is not None or _STEPS_BEGIN.match(text):
            return None
        if _is_passed_by(raw, texts[n + 1 : n + 3]):
            continue
        text = _BEFORE_FACTS.split(text)[0].rstrip(" ,;") if n < 4 else text
        if text and len(text) <= _MOST_TITLE + 60 and not _talks(text) and not _heads(text):
            return _below_the_club(texts, n)
    return None


def _heads(text: str) -> bool:
    """A fact of the dance, not its name."""
    told = ":" in text[:25] or re.match(r"^\W*(?:\d|(?:by|choreo|devised|section|part)\b)", text, _I)
    return bool(told) and _HEAD_LINE.match(text) is not None


def _talks(text: str) -> bool:
    """A sentence rather than a name."""
    words = text.split()
    return (
        len(words) > 9
        or re.search(r"(?<!\bmrs)(?<!\bmr)(?<!\bdr)[.!?]\s+(?-i:[A-Z])", text, _I) is not None
        or (text.rstrip().endswith((".", ",", ";", "!")) and len(words) > 4)
        or (text.endswith(",") and len(words) <= 4)
    )
