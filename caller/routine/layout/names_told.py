"""The dance's name where a mail, a handout or a club's paper tells it in words: "Subject: steps for Rope Walk, as
promised", "it's called BUTTON BOX", "here is Porch Swing the way I teach it", "Our dance today: Bunting"."""

from __future__ import annotations

import re
from collections.abc import Iterator, Sequence

_WORD = r"[A-Z0-9][\w'\u2019&-]*"
_SMALL = r"(?:of|the|and|to|in|on|at|an?|by|past|for|from|with|or|&|de|la|my|your|no)"
_PLAIN = rf"{_WORD}(?:\s+(?:{_SMALL}\s+){{0,3}}{_WORD}){{0,7}}"
_QUOTED = (
    r"[\"\u201c\u201e\u00bb\u00ab](?P<quoted>[A-Z0-9][^\"\u201c\u201d\u00bb\u00ab]{2,48})[\"\u201d\u201c\u00ab\u00bb]"
)
_NAME = rf"(?:{_QUOTED}|(?P<plain>(?-i:{_PLAIN})))"
_AFTER = r"(?=\s*(?:[.,;:!?()\u2010-\u2015-]|$)|\s+(?:for|the\s+way|and|but|before|so|as|on\s+paper|in\s+writing|way|it|that|which|we|I|you|because|until|,)\b)"
_LABELLED = re.compile(
    r"^\W*(?:name\s+of\s+the\s+dance|line\s+dance|(?:our|the)\s+(?:new\s+|easy\s+)?dance\s+(?:today|tonight|this\s+week)|you\s+will\s+learn|(?:this|our)\s+(?:week|month|term)['\u2019]?s?\s+(?:new\s+|easy\s+|little\s+)?(?:dance|one|sixteen|lesson)"
    r"|(?:our\s+)?dance\s+of\s+the\s+(?:month|week)|teaching\s+notes|lesson\s+notes(?:\s*,?\s*week\s+\d+)?|teacher['\u2019]?s\s+(?:crib|notes|copy))\s*(?:\.{2,}|\s{2,}|[:\u2010-\u2015-])\s*"
    rf"(?:{_QUOTED}|(?P<plain>[A-Z0-9][^:()|]{{2,48}}?))(?=\s*(?:[(|]|\s{{3,}}|$|[\"\u201d]))",
    re.IGNORECASE,
)
_SUBJECT = re.compile(r"^\W*(?:subject|betreff|objet|onderwerp|re)\s*:\s*(?P<rest>.+)$", re.IGNORECASE)
_AGAIN = re.compile(r"^(?:(?:re|fwd?|aw|wg)\s*:\s*)+", re.IGNORECASE)
_IN_SUBJECT = tuple(
    re.compile(one, re.IGNORECASE)
    for one in (
        _QUOTED,
        rf"\b(?:steps?|words|step\s*sheet|sheet|notes)\s+(?:for|of|to)\s+{_NAME}(?=\s*(?:,|[\u2010-\u2015-]\s|$))",
        rf"\b(?:dance|one|promised|promised\s+y['\u2019]all|asked\s+for)\b[^\u2010-\u2015]*?\s(?:-{{1,2}}|[\u2013\u2014])\s+{_NAME}\s*$",
        rf"^{_NAME}(?=,?\s+(?:[\u2010-\u2015-]\s+)?(?:the\s+steps|as\s+promised|step\s*sheet)|\s+[\u2010-\u2015-]+\s+(?:the\s+steps|at\s+last|as\s+promised))",
    )
)
_IN_A_SENTENCE = tuple(
    re.compile(one, re.IGNORECASE)
    for one in (
        rf"\b(?:it['\u2019]?s|it\s+is|(?:one|dance)\s+is|which\s+is|and\s+is|one)\s+(?:called|named)\s+{_NAME}{_AFTER}",
        rf"\bI\s*(?:['\u2019]m|\s+am)?\s*call(?:ing|ed)?\s+(?:it|this\s+one|this)\s+{_NAME}{_AFTER}",
        rf"\b(?:here\s+is|here['\u2019]?s|here\s+are|as\s+promised\s*,?)\s+(?:(?:the\s+)?steps?\s+(?:for|of|to)\s+)?{_NAME}{_AFTER}",
        rf"\b(?:the\s+)?steps\s+(?:for|of)\s+{_NAME}{_AFTER}",
        rf"\b(?:write|wrote|asked\s+for|asking\s+for|ask\s+for|wanted|want)\s+(?:me\s+to\s+)?(?:(?:write|put)\s+)?(?:down\s+)?{_NAME}(?=\s+(?:before|in\s+writing|on\s+paper|so|on|down|as)\b|\s*[.,!])",
        rf"^\W*{_QUOTED}\s*(?:,\s*taught|\s+(?:was|from|is|comes)\b|\s*,\s*\d|\s+[-\u2010-\u2015]\s+\d)",
    )
)
_NO_NAME = re.compile(
    r"^(?:monday|tuesday|wednesday|thursday|friday|saturday|sunday|the\s+(?:steps|dance|one|sheet)|it|its|my|i|a|an|one|wall|section|tag|restart|count|right|left|step|part|here)\b(?!\s+[A-Z])",
    re.IGNORECASE,
)
_CAPITAL = re.compile(r"\b[A-Z][A-Za-z]{2}")
_FACTS = re.compile(r"\d{1,3}\s*(?:counts?|cts?|walls?|c\b|w\b)", re.IGNORECASE)
_STEPS = re.compile(r"^\W*(?:1\s?[-&,]|(?:section|sec|set|s|part)\W?\s?1\b|count\s+1\b)", re.IGNORECASE)
_MUSIC = re.compile(r"\b(?:music|song|track|tune|by\s+the)\b[^.]*$", re.IGNORECASE)
_MOST_LINES = 25
_MOST = 40  # characters of a line that breaks off, joined to the next


def name_told(texts: Sequence[str]) -> str:
    """The name, "" where nothing says it in words. texts: the sheet's first lines."""
    head = list(_head(texts))
    for text in head:
        if (found := _LABELLED.match(text)) is not None and (name := _clean(found)):
            return name
    for text in head:
        subject = _SUBJECT.match(text)
        if subject is not None and (name := _first(_IN_SUBJECT, _AGAIN.sub("", subject["rest"]))):
            return name
    for n, text in enumerate(head):
        whole = f"{text} {head[n + 1]}" if n + 1 < len(head) else text
        if name := _first(_IN_A_SENTENCE, whole, len(text)):
            return name
    return ""


def _head(texts: Sequence[str]) -> Iterator[str]:
    for text in texts[:_MOST_LINES]:
        if _STEPS.match(text) is not None:
            return
        yield text.lstrip("> ").strip()


def _first(patterns: Sequence[re.Pattern[str]], text: str, until: int | None = None) -> str:
    """until: the name begins before this character."""
    for pattern in patterns:
        for found in pattern.finditer(text):
            group = "quoted" if found["quoted"] else "plain"
            if until is not None and found.start(group) >= until:
                continue
            if _MUSIC.search(text[: found.start(group)]) is None and (name := _clean(found)):
                return name
    return ""


def _clean(found: re.Match[str]) -> str:
    plain = found.groupdict().get("plain")
    name = (found["quoted"] or plain or "").strip(" .,;:!\"\u201c\u201d'")
    return "" if _NO_NAME.match(name) is not None or _CAPITAL.search(name) is None or _FACTS.match(name) else name
