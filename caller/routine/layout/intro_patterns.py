"""Patterns of how long the music plays before the first step, in the ways in which headers tell it.

Groups: n counts, or k times n8 counts, or x times n.
"""

from __future__ import annotations

import re

from caller.routine.layout.numbers import NUMBER

INTRO = (
    re.compile(
        rf"\b(?:(?:dance\s+)?(?:intro(?:duction)?|counts?[\s-]?in|listen|lead[\s-]?in|wait(?:\s+out)?|(?:(?<=[|/,;\u2013-]\s)|^)int?(?=\s+\d{{1,2}}\s?(?:c|cts?)\b)|(?:(?:dance|to)\s+)?(?:start(?:s|ed)?|begins?|commence)\s+(?:dancing\s+)?(?:on\s+(?:the\s+)?(?:vocals?|lyrics?|words?)\s*[,(-]*\s*)?(?:after|at|in)|start\s+dance\s+after|after|start(?=\s*:\s*\d)|in\s*@))\s*(?:[:=]|\.+)?\s*[-\u2013(]*\s*(?:the\s+)?(?:(?:a|an|about|approx\.?|first|for|the|music|dance|start|starts|on|after|is)\s+)*(?:(?P<k>\d{{1,2}}|{NUMBER})\s*(?:[x\u00d7]|sets?\s+of|lots\s+of|times)\s*(?P<n8>\d{{1,2}}|{NUMBER})(?:'?s)?|(?P<n>\d{{1,3}}(?!\d)|{NUMBER})(?!\s*(?:x|\u00d7|bpm|b\.p\.m|sec|\"|''|walls?|st\b|nd\b|rd\b|th\b|[:/](?!\s)))(?:\s*[x\u00d7]\s*(?P<x>\d))?)",
        re.IGNORECASE,
    ),
    re.compile(
        rf"\bcount\s+(?P<k>(?!))?(?P<n>\d{{1,3}}|{NUMBER}),?\s+(?:(?:counts?|beats?)(?:\s+of\s+(?:the\s+)?\w+)?,?\s+)?(?:and|then|&)\s+(?:(?:away|off)\s+(?:we|ye|you)\s+|in\s+(?:we|you)\s+|you\s+|we\s+|to\s+)?(?:go|start|begin|off|in\b)",
        re.IGNORECASE,
    ),
    re.compile(
        rf"\bcomes?\s+in\s+(?P<k>(?!))?(?P<n>\d{{1,3}}|{NUMBER})\s+(?:counts?|beats?)\s+(?:after|from|into)\b",
        re.IGNORECASE,
    ),
    # "The band plays 24 counts before we start"
    re.compile(
        rf"\bplays?\s+(?P<k>(?!))?(?P<n>\d{{1,3}}|{NUMBER})\s+(?:counts?|beats?)\s+(?:before|then|until)\b",
        re.IGNORECASE,
    ),
    re.compile(
        r"\b(?:start|begin)(?:s|n?ing)?\s+(?P<k>(?!))?(?P<n>\d{1,3})\s+(?:counts?|beats?)\s+in(?:to)?\b", re.IGNORECASE
    ),
    re.compile(
        r"\bhold\s+(?P<k>(?!))?(?P<n>\d{1,3})\s+(?:counts?|beats?),?\s+(?=(?:and\s+|then\s+)*(?:start|begin))",
        re.IGNORECASE,
    ),
    re.compile(r"\bhold\s+off\s+(?:for\s+)?(?P<k>(?!))?(?P<n>\d{1,3})\s+(?:counts?|beats?)\b", re.IGNORECASE),
    re.compile(
        r"\b(?:(?:I|we)\s+count|count(?=\s+\d{1,2}\s+(?:from|then|before|off|in)\b))\s+(?P<k>(?!))?(?P<n>\d{1,2})\b",
        re.IGNORECASE,
    ),
    re.compile(
        rf"\b(?:(?P<k>\d{{1,2}}|{NUMBER})\s*(?:[x\u00d7]|sets?\s+of)\s*(?P<n8>\d{{1,2}}|{NUMBER})|(?P<n>\d{{1,3}}|{NUMBER}))\s*(?:-\s*|\u2013|\u2011)?\s*(?:counts?|cts?|ct|beats?|c)?\.?\s*(?:-\s*)?(?:intro(?:duction)?|lead(?:[\s-]?in)?\b|count[\s-]?in|before\s+(?:you\s+)?(?:the\s+)?(?:start|begin|vocal|danc|step)\w*|in(?=\s*[\u00b7\u2022|~/]|\s*(?:[.,;/|)]|$|from\b|on\b|and\b|then\b|with\s+(?:the\s+)?weight\b))|of\s+intro(?:duction)?|then\s+(?:the\s+)?first\s+step|wait\b|(?<=[a-z]\s)from\b|into\s+(?:the\s+)?(?:music|track|song)|(?<=[a-z]\s)of\s+(?:[a-z]+\s+){{1,3}}(?:before|then|and\s+then|until|first)\b)",
        re.IGNORECASE,
    ),
    # "START ON VOCALS (16 COUNTS IN)", "dance begins with the lyrics, 32 beats"
    re.compile(
        rf"\b(?:starts?|starting|begins?|beginning|commences?|come\s+in)\b[^.;\d]{{0,24}}\b(?:vocals?|lyrics?|words?|singing|singer|verse|voice)\b\W+(?:[a-z]+\W+){{0,2}}?(?P<k>(?!))?(?P<n>\d{{1,3}}|{NUMBER})\s*(?:-\s*)?(?:counts?|cts?|beats?|c)\b(?!\s*(?:tag|bridge|dance))",
        re.IGNORECASE,
    ),
    # "The fiddle plays alone for 48 counts, then we go"
    re.compile(
        r"\b(?:plays?|sings?|is|are|runs?|goes|alone|by\s+itself|on\s+its\s+own)\s+for\s+(?P<k>(?!))?(?P<n>\d{1,3})\s+(?:counts?|beats?)\b(?=\s*[,;]?\s*(?:and\s+)?(?:then\s+|before\s+|until\s+)(?:we|you|dancing|starting))",
        re.IGNORECASE,
    ),
    # "let 32 beats go by", "listen to sixteen counts of music", "give them two eights (16 counts)"
    re.compile(
        rf"\b(?:let|give|skip|listen|hear|allow|leave)\s+(?:[a-z]+\W+){{0,5}}?(?P<k>(?!))?(?P<n>\d{{1,3}}|{NUMBER})\s*(?:counts?|cts?|beats?)\b(?!\s*(?:tag|bridge|each))",
        re.IGNORECASE,
    ),
)
