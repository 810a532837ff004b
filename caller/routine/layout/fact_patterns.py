"""Patterns of what headers say: counts, walls, level, tempo, meter, feel, introduction, starting foot."""

from __future__ import annotations

import re

from caller.routine.layout.numbers import NUMBER
from caller.routine.meter import Meter

# Keys as written, to the names of the header's fields; "" = kept as a note without a word.
KEYS = {
    **dict.fromkeys(
        (
            "title",
            "dance",
            "name",
            "dance name",
            "dance title",
            "name of dance",
            "dance of the month",
            "the dance of the month",
            "dance of the week",
            "this week's dance",
            "this month's dance",
        ),
        "title",
    ),
    **dict.fromkeys(
        (
            "devised by",
            "devised",
            "choreographed by",
            "choreographer",
            "choreographers",
            "choreography",
            "choreo",
            "choreo by",
            "choreographer(s)",
            "by",
            "author",
            "choreographie",
            "chor",
            "chor\u00e9graphe",
            "chor\u00e9graphes",
            "koreografi",
            "koreograf",
            "koreografi / choreography",
            "choreograaf",
            "step sheet by",
            "written by",
        ),
        "devised_by",
    ),
    **dict.fromkeys(
        (
            "intro",
            "start after",
            "starts after",
            "introduction",
            "lead in",
            "lead-in",
            "begin",
            "begins",
            "count in",
            "wait",
            "wait for",
            "lead",
            "in",
            "start at",
        ),
        "intro",
    ),
    **dict.fromkeys(("counts", "count", "no of counts", "number of counts", "length", "cts"), "counts"),
    **dict.fromkeys(("walls", "wall", "no of walls", "number of walls"), "walls"),
    **dict.fromkeys(("level", "difficulty", "standard", "grade"), "level"),
    **dict.fromkeys(("tempo", "bpm", "speed", "beats per minute", "beats a minute"), "tempo"),
    **dict.fromkeys(("meter", "metre", "time", "time signature"), "meter"),
    **dict.fromkeys(("feel", "rhythm"), "feel"),
    **dict.fromkeys(
        (
            "starts",
            "start",
            "start foot",
            "starting foot",
            "start on",
            "starts on",
            "lead foot",
            "leading foot",
            "foot",
        ),
        "starts",
    ),
    **dict.fromkeys(
        (
            "music",
            "song",
            "track",
            "suggested music",
            "tune",
            "songs",
            "practice music",
            "suggested song",
            "dance music",
            "music suggestion",
            "choreographed to",
            "danced to",
            "alternative music",
            "alt music",
            "teaching track",
        ),
        "music",
    ),
    **dict.fromkeys(
        (
            "order",
            "sequence",
            "s\u00e9quence",
            "phrasing",
            "phrased",
            "pattern",
            "dance order",
            "dance it",
            "order of dance",
            "sequence of dance",
            "phrase",
            "running order",
            "order of parts",
            "dance sequence",
        ),
        "order",
    ),
    **dict.fromkeys(("notes", "note"), "notes"),
    **dict.fromkeys(
        (
            "type",
            "description",
            "dance type",
            "type of dance",
            "style",
            "details",
            "info",
            "stats",
            "facts",
            "kind",
            "category",
            "motion",
            "ligne",
            "line",
            "niveau",
        ),
        "facts",
    ),
}
METERS = {"4/4": Meter(4, 4), "3/4": Meter(3, 4), "2/4": Meter(2, 4), "6/8": Meter(6, 8)}
SLOWEST, FASTEST = 30, 300  # counts a minute: beyond it a digit is missing or too many
MOST_COUNTS, MOST_INTRO, MOST_WALLS = 512, 256, 8

KEY = re.compile(
    r"^(?P<key>[A-Za-z][A-Za-z\u00c0-\u00ff ./()'&-]{0,30}?)\s*(?::|=|\s[-\u2010-\u2015](?=\s)|[\u2013\u2014])\s*(?P<value>.*)$"
)
COUPLED = re.compile(
    r"^(?P<a>counts?|walls?)\s*/\s*(?P<b>counts?|walls?)\s*[:=]\s*(?P<na>\d{1,3})\s*/\s*(?P<nb>\d{1,3})\b",
    re.IGNORECASE,
)
BY = re.compile(
    r"^(?P<key>devised(?:\s+by)?|choreo(?:graph(?:ed|y|er|ers|er\(s\)))?\.?(?:\s*(?:&|and)\s+(?:step\s*sheet|taught|danced))?(?:\s+by)?|(?:written|created|dance)\s+by|by)[\s:]+(?:[-\u2010-\u2015]\s*)?(?P<value>\S.*)$",
    re.IGNORECASE,
)
COUNTS = re.compile(
    rf"(?<![\d/:.-])\b(?P<n>\d{{1,3}}|{NUMBER})\s*(?:-\s*|\u2010|\u2011|\u2013)?\s*(?:counts?|cts?|ct|beats?|steps(?=\s*[.,;/])|temps|comptes|tellen|c)\b(?!\s*(?:intro|in\b(?!\s+\w+\s+walls?)|tag|bridge|ending|before|after|start|wait|lead|a\s+minute|a\s*$|per(?:\s+minute|\s*$)|to(?:\s+the\s+min|(?:\s+the)?\s*$)|into|from|of|vocal|hold|extra|more|each))(?!\s*:(?!\s*\d+\s*-?\s*walls?))",
    re.IGNORECASE,
)
COUNTS_AFTER = re.compile(
    r"\b(?:counts?|cts?)\s*[:=]?\s*(?P<n>\d{1,3})\b(?!\s*(?:in|intro|-?\s*walls?|\)))", re.IGNORECASE
)
WALLS = re.compile(
    rf"(?<![\d/:.-])\b(?P<n>\d{{1,3}}|{NUMBER}|single)\s*(?:-\s*|\u2010|\u2011|\u2013)?\s*(?:walls?|murs?|muren|w)\b(?!\s*:|\s*\d\b(?!\s*(?:bpm|beats?|counts?|cts?|x)\b))",
    re.IGNORECASE,
)
WALLS_AFTER = re.compile(r"(?:\bwalls?\s*(?:[:=]|\s{2,})|^walls?)\s*(?P<n>\d)\b", re.IGNORECASE)
TEMPO = re.compile(
    r"(?P<n>\d{2,3}(?:[.,]\d{1,3})?)\s*(?:-\s*)?(?:bpm|b\.\s?p\.\s?m\.?|beats\s*(?:per|/|a(?=\s)|to\s+the|in\s+the)\s*min(?:ute|\.)?|counts\s+(?:per|a)\s+min(?:ute|\.)?)|\b(?:bpm|tempo|speed)\s*(?:is|of|[:=])?\s*(?:approx\.?|about|around|ca\.?|c\.|~|\u2248)?\s*(?P<m>\d{2,3}(?:\.\d+)?)\b"
    r"|(?:\b(?:runs?|goes|plays?|ticks?\s+along|steady)\s+at|\b(?:reels?|tunes?|songs?|music|tracks?|anything|something)\s+at|\bat\s*(?=~|\u2248)|@|\b(?:slow|slowly|fast|quick|steady|brisk|lively|easy)\s*\((?=\d{2,3}\)))\s*(?:a\s+|an\s+)?(?:steady\s+|easy\s+|gentle\s+|brisk\s+)?(?:approx\.?|about|around|roughly|some|ca\.?|c\.|~|\u2248)?\s*(?P<at>\d{2,3})(?![\d:]|\s*(?:counts?\b|walls?\b|sec))",
    re.IGNORECASE,
)
METER = re.compile(r"(?<![\d/])(?P<meter>[3462]\s*/\s*[48]\b|\u00be(?=\s*time))(?:\s*time)?", re.IGNORECASE)
WALTZ = re.compile(r"\bwaltz(?:es)?\b", re.IGNORECASE)
SWING = re.compile(
    r"\b(?:swing\s+(?:feel|rhythm|time)|swung|triplet\s+feel|shuffle\s+(?:feel|rhythm|beat)|(?:east|west)\s+coast\s+swing|lindy\s+hop|swing)\b",
    re.IGNORECASE,
)
STRAIGHT = re.compile(
    r"\b(?:straight|even|cha[\s-]?cha|samba|rumba|night\s?club|nc2?s?|polka|funky?|bachata|tango|mambo|salsa|smooth|two[\s-]?step)\b",
    re.IGNORECASE,
)
LEVEL = re.compile(
    r"\b(?:(?:phrased|easy|high|low|ultra|absolute|upper|lower|advanced|beg(?:inner)?\.?|imp(?:rover)?\.?|int(?:ermediate)?\.?|smooth|basic|true)\s*(?:[-/+]\s*)?)*"
    r"(?:absolute\s+beginners?|beginners?|newcomers?|novices?|improvers?|intermediates?|advanced|experienced|expert|all\s+levels|starter|basic\s+level|begs?|imp|int|adv)\b\.?(?:\s*(?:[-/+&]|to)\s*(?:high\s+|low\s+|easy\s+)?(?:beginners?|newcomers?|novices?|improvers?|intermediates?|advanced|int|imp)\b)?(?:\s*[+])?",
    re.IGNORECASE,
)
BARE_TEMPO = re.compile(
    r"(?:[|/,;\u2022\u00b7]|\s[-\u2010-\u2015]|\s{2})\s*(?P<n>[6-9]\d|1\d\d|2[01]\d)(?=\s*(?:[|/,;.\u2022\u00b7]|\s[-\u2010-\u2015]\s|\s{2}|$))"
)
SENTENCE_END = re.compile(r"[.;!?|](?=\s|$)\s*|\s[-\u2010-\u2015]+\s+|\s{3,}")
OF_AN_EVENT = re.compile(
    r"\b(?:tags?|bridges?|re-?\s?starts?|endings?|finish|walls?\s*\d|\d(?:st|nd|rd|th)\s+wall|sections?|sets?\s+\d|chorus|again|practi[cs]e|teach\w*|slow\w*|learn\w*)\b",
    re.IGNORECASE,
)
OF_THE_MUSIC = re.compile(
    r"\b(?:intro\w*|music|track|song|vocals?|lyrics?|words|singing|singer|sings|verse|guitar|drums?|bass|beat|wait|listen|let|start\w*|begin\w*|count[\s-]?in|come\s+in|bring\s+them\s+in)\b",
    re.IGNORECASE,
)
HUNDRED = re.compile(
    r"\b(?:a|one)\s+hundred(?:\s+and\s+(?P<more>[a-z-]+))?\s+beats\s+(?:a|per|to\s+the)\s+minute", re.IGNORECASE
)
ON_COUNT = re.compile(r"\b(?:starts?|begins?)\s+on\s+(?:count|beat)\s+(?P<n>\d{1,3})\b", re.IGNORECASE)
NO_INTRO = re.compile(
    r"\b(?:no\s+intro\b|intro\s*[:=]?\s*(?:none|0\b)|straight\s+in\b(?!\s+(?:the|an?|to|from)\b))", re.IGNORECASE
)
STARTS = (
    (
        re.compile(
            r"\b(?:weight|wt)\s+(?:is\s+)?(?:starts?\s+|begins?\s+|rests?\s+)?(?:on|onto|in)\s+(?:the\s+)?(?P<f>left|right|l|r|lf|rf)\b",
            re.IGNORECASE,
        ),
        True,
    ),
    (
        re.compile(
            r"\b(?:start(?:s|ing)?|lead(?:s|ing)?|begin(?:s|ning)?|free)\s*(?:(?:with|on|foot|dance|is|the|free)\s+)*[:=]?\s*(?:the\s+)?(?P<f>left|right|l|r|lf|rf)\b(?:\s+(?:foot|lead))?",
            re.IGNORECASE,
        ),
        False,
    ),
    (re.compile(r"\b(?P<f>left|right|[LR])[\s-]+(?:foot\s+)?(?:lead|start|free)\b", re.IGNORECASE), False),
)
FOOT = re.compile(
    r"^(?:(?:on|with)\s+)?(?:the\s+)?(?P<f>r|l|right|left|rf|lf)(?:\s+foot)?(?:\s+(?:lead|first|free))?\W*$",
    re.IGNORECASE,
)
WHOLE = re.compile(
    rf"^\W*(?:approx\.?\s*|about\s+)?(?P<n>\d{{1,10}}|{NUMBER})\s*(?:-\s*)?(?:counts?|cts?|walls?|beats?|c|w)?\b",
    re.IGNORECASE,
)
BETWEEN = re.compile(r"\s*(?:[,;/|\u2022\u00b7]|\s[-\u2010-\u2015]+\s|\s{2,}|\band\b)\s*")
PARTS = re.compile(r"\b[A-H]\s*(?:=|:)\s*\d|\bpart\s+[A-H]\b", re.IGNORECASE)
# "(Cha Cha)", "-- my notes, Weds", "* Ann Other (Leeds) * Catalan style": no words of the name.
BEHIND_TITLE = re.compile(
    r"(?<=\S)\s*(?:[(\[](?=[^)\]]*\b(?:cha|phrased|notes?|samba|rumba|two[\s-]?step|nightclub|absolute|beginner|improver|intermediate|advanced|\d+\s?c|rev\.?\s?\d|version|(?:19|20)\d\d)\b|waltz[)\]])|\(\d{2,3}\s*/\s*\d\)|\*\*\s|[\u2013-]\s+as\s+we\b|(?:\s-{1,2}|\s[~\u2013\u2014])\s+(?=(?:an?\s+|my\s+|own\s+|the\s+)?(?:easy|cha|notes?|little|night-?club|nc2s|polka|waltz|phrased|samba|rumba|intermediate|improver|beginner|advanced|absolute)\b)|\s\*\s).*$",
    re.IGNORECASE,
)
CALLED = re.compile(
    r"\b(?:it(?:'s|\s+is)\s+)?(?:called|named|titled)\s+[\"\u201c'\u2018]?(?P<title>[A-Z][\w'\u2019&-]*(?:\s+(?:[A-Z][\w'\u2019&-]*|of|the|and|to|in|on|a))*)|\b(?P<caps>[A-Z]{2,}(?:\s+[A-Z'&]{2,}){1,6})\b(?=,|\s+\d+\s*count|\s*[-\u2013(])"
)
