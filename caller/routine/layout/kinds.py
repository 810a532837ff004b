"""Patterns that tell one kind of line from another."""

from __future__ import annotations

import re
from difflib import get_close_matches

from caller.routine.layout.numbers import ORDINAL

_I = re.IGNORECASE
_DASH = r"[\-\u2010-\u2015]"

FURNITURE = re.compile(
    r"\bhttps?://|\bwww\.|\b[\w.+-]{1,64}@[\w-]{1,64}\.\w|\u00a9|\(c\)\s*\d{4}|^\W*\(c\)\s+[A-Z]|\bcopyright\b|\ball rights reserved\b|^\W*page\s+\d+(?:\s*(?:of|/)\s*\d+)?\W*$|^\W*\d+\s*(?:of|/)\s*\d+\W*$|^\W*p(?:g|age)?\.?\s*\d+\W*$"
    r"|^\d+\s+(?:comments?|replies|views|likes|shares)\W*$|^next\s+(?:month|week)\b|^(?:printed|downloaded|last\s+(?:updated|revised|edited)|revised|updated|version|rev\.?|date\s+created|contact|e-?mail|website|phone|tel)\b\s*[:.\d]",
    _I,
)
# One of these stands in any line that the pattern finds; each is looked for in lower case.
FURNITURE_WORDS = (
    "http",
    "www.",
    "@",
    "\u00a9",
    "(c)",
    "copyright",
    "rights",
    "page",
    "pg",
    "printed",
    "download",
    "updated",
    "revised",
    "version",
    "rev",
    "last ",
    "date",
    "contact",
    "mail",
    "website",
    "phone",
    "tel",
    "next",
    "comment",
    "repl",
    "view",
    "like",
    "share",
)
EVENT_WORDS = (
    "tag",
    "bridge",
    "start",
    "change",
    "ending",
    "finale",
    "finish",
    "replace",
    "instead",
    "wall",
    "extra",
    "additional",
    "break",
    "leave",
    "stop ",
    "beginning",
    "top",
    "bonus",
    "begin",
    "to end",
    "end ",
)
PAGE = re.compile(r"^\W*(?:page\s+)?\d+\s*(?:(?:of|/)\s*\d+)?\W*$", _I)
MAIL_HEAD = re.compile(
    r"^(?:from|to|cc|bcc|sent|date|subject|re|fwd?|reply-to|on\s.+\swrote)\s*:|^on\b.+\bwrote:?$|^-+\s*original message",
    _I,
)
GREETING = re.compile(
    r"^(?:hi|hello|dear|hey|hiya|hallo|good\s+(?:morning|evening|afternoon)|greetings|howdy|thanks|thank\s+you|cheers|regards|best\s+wishes|love|kind\s+regards|see\s+you|here(?:'s|\s+is|\s+are|\s+it)|as\s+promised|sorry|hope|ok|okay|attached|below\s+is)\b",
    _I,
)
AGAIN = re.compile(
    r"^(?:\W*)(?:repeat|rpt|same\s+as|as)\s+(?:the\s+)?(?:section|sect?|set|s|steps?|counts?|above|first|last|previous|part|\d)",
    _I,
)
NO_HEADING = re.compile(
    r"(?<!^[IVX])(?<!^[IVX]{2})(?<!^[IVX]{3})(?<!^[IVX]{4})(?<!^[A-L])(?<!^\d)(?<!\bw)(?<!\bopt)[.!?]\s+\w|\b(?:https?|www)\b|^[(\[](?!.{1,3}[)\]]).*[)\]]$|^(?:notes?|hint|tip|n\.?b\.?|styling|option|easier|alternative|tag|restart|bridge|ending|repeat|begin|start|music|choreo)\b|^\*",
    _I,
)
ASIDE_LINE = re.compile(
    r"^[(\[][^()\[\]]*[)\]][\s.]*$|^(?:notes?|hint|tip|n\.?b\.?|styling|style)\b|^now\s+(?:for|to)\s+the\s+(?:\w+\s+)?(?:things?|extras?|bits?|surprises?)\b",
    _I,
)
NOTE_START = re.compile(
    r"^(?:\w+['\u2019]s\s+)?(?:notes?|hint|tip|n\.?b\.?|remember|styling(?:\s+notes?)?|teaching\s+(?:notes?|points?))\s*[:\u2010-\u2015-]\s*",
    _I,
)
NOTE_KEY = re.compile(r"^notes?\s*:\s+", _I)
EVENT_WORD = re.compile(
    r"\b(?:tags?|bridges?|re-?\s?starts?|endings?|walls?\s*\d|\d(?:st|nd|rd|th)\s+wall|step\s+change)\b|\bw\d", _I
)
STRONG_EVENT = re.compile(
    rf"^[*\u2605\s(\[]*(?:\d{{1,2}}\s*{_DASH}?\s*(?:counts?|cts?)\s+)?(?:easy\s+|short\s+|optional\s+|big\s+)?(?:(?:tag|bridge|re-?\s?start|step[\s-]+change|change|ending|finish(?:ing)?|finale|end(?=\s*[(:]))s?(?:\s*/\s*(?:tag|bridge|restart)s?)?)\b(?!\s+(?:of\s+)?weight|\s+feet)"
    r"|^\W*how\s+(?:it|we)\s+(?:all\s+)?(?:finish|end)(?:es|s)?\s*[:.\u2013-]"
    rf"|^[*\u2605\s(\[#]*(?:\d|one|two|three)\s+(?:easy\s+|short\s+)?(?:tags?|restarts?|bridges?)\b|^[*\u2605\s]*(?:on|during|in|at|after|wall)\b.*\bwalls?\b.*\b(?:tag|restart|bridge|replace|instead|change)",
    _I,
)
EVENT_LINE = re.compile(
    r"^[*\u2605\s(\[]*(?:and\s+|then\s+)*(?:(?:the\s+)?(?:big\s+|optional\s+)?(?:tag|bridge|re-?\s?start|ending|finish(?:ing)?|finale|step\s+change)s?\b|to\s+(?:end|finish)\b|end\s+(?:the|of)\s+(?:the\s+)?dance\b|at\s+(?:the\s+)?end\s+of\s+(?:the\s+)?(?:dance|song|music|track)\b)",
    _I,
)
CLOSING = re.compile(
    r"^(?:[(\[*~\s]|\d{1,3}[\])]\s+|\d{1,3}\s+(?:counts|beats)\s+(?=(?-i:REPEAT|START|BEGIN))|(?:1[0-2]|[369])(?::00|\s?o['\u2019]?\s?clock)[\])]?\s*[-\u2013\u2014:,]*\s*)*(?:repeat(?:\s*\([^()\d]*\)|\s*,?\s*(?:&|and)\s+\D*|\s+(?:the\s+)?(?:dance|routine|pattern|all|sequence|again|to\s+the\s+end|and\b.*|until\b.*|from\s+(?:the\s+)?(?:top|beginning|start).*|\s*facing\b(?!.*\bwall\s*\d).*))?|(?:start|begin)\s+(?:the\s+(?:dance|routine)\s+)?(?:again|over|from\s+the\s+(?:top|beginning))(?!.*\b(?:wall|after|here)\b).*"
    r"|re-?\s?start\s+the\s+(?:dance|routine)\b(?!.*\b(?:walls?|after|here|counts?|facing)\b).*|(?:enjoy|have fun|happy dancing|keep smiling|smile)\b.*)[\s.!)\]*~]*$",
    _I,
)
EVENT_ASIDE = re.compile(
    r"\s*(?:\*+\s*)?[(\[<{]\s*\**(?P<inner>[^()\[\]<>{}]*\b(?:restarts?|re-starts?|tags?|bridges?|endings?|step\s+change)\b[^()\[\]<>{}]*(?:\([^()]*\)[^()\[\]<>{}]*)?)\**\s*[)\]>}]\s*\**",
    _I,
)
# "[wall 4: full turn left, stepping L, R, L, in place of the drag]": of that wall, whatever it tells
WALL_ASIDE = re.compile(
    r"\s*[(\[<{]\s*\**(?P<inner>(?:(?:on|in|during)\s+)?(?:the\s+)?(?:(?:walls?|w)\s*\d[\d\s,&+w]*(?:and\s+\d+)?|\d{1,2}(?:st|nd|rd|th)(?:\s*(?:&|and|,)\s*\d{1,2}(?:st|nd|rd|th))*\s+walls?)(?:\s+only)?\s*[:,\u2010-\u2015-][^()\[\]<>{}]{4,}(?:[(\[][^()\[\]]{1,12}[)\]][^()\[\]<>{}]*)?)\**\s*[)\]>}]",
    _I,
)
EVENT_TAIL = re.compile(
    rf"\s*(?:\*+|#+\s|\u2605|\s{_DASH}+\s|\s{{2,}}(?=(?:re-?start|tag|bridge|ending)s?\b)|[.;:]\s+(?=(?:then\s+)?(?:re-?start|tag|bridge|ending)s?\b)|<+|!{{2,}}\s|/{{2,}}\s|>{{2,}}\s|\s{{2,}}(?=(?:(?:on|in|during)\s+)?(?:the\s+)?(?:walls?\s*\d|\d(?:st|nd|rd|th)\s+walls?)\b)|[\u2190\u25c4\u25c0]|,\s+(?=then\s+restart|restart)|\s+(?=(?-i:Step)\s+change\s*(?:&|and|\+|/)\s*re-?start)|\s+(?=(?-i:RESTART|TAG|BRIDGE)\b)|\s+(?=re-?start\s+here\b)|\s+(?=(?-i:In|On)\s+wall\s+\d+,?\s+(?:you\s+)?(?:re-?start|start|begin)))\s*(?P<inner>(?:\S+\s+){{0,5}}?(?:restarts?|re-starts?|tags?|bridges?|endings?|see\s+(?:below|note|above)|(?:on\s+)?wall\s*\d)\b.*)$",
    _I,
)
AND_RESTART = re.compile(
    r"[,;]?\s+(?:and|then|&)\s+(?:then\s+)?(?P<inner>(?:re-?\s?start|start\s+(?:again|over|wall|the\s+dance)|begin\s+(?:again|wall|the\s+dance))\b.*)$",
    _I,
)
# "[#] Restart here", "*** Restart": the mark that the place in the steps bears.
MARK_FIRST = re.compile(r"^[\[(]?(?P<mark>[*\u2605#\u2020\u2021^]+)[\])]?")
MARK = re.compile(r"\s*[(\[]?(?P<mark>\*{1,4}(?:[RT]\d?\*{1,4})?|#{1,3}|\u2020|\u2021|\u2605|\^)[)\]]?\s*$")
FACT_TOO = re.compile(
    r"\bintro(?:duction)?\s*:\s*\d|\bdance\s+(?:starts?|begins?)\s+after\s+\d|\b(?:counts?|walls?)\b.*[,/|].*\b(?:beginner|improver|intermediate|advanced)|\bbpm\b",
    _I,
)
STEP_WORD = re.compile(
    r"\b(?:steps?|walks?|rocks?|recover|cross|shuffle|chass[e\u00e9]|touch|tap|point|kicks?|heels?|toes?|stomps?|vine|grapevine|coaster|sailor|pivot|turn|sway|bump|hips?|jazz|box|weave|lock|mambo|scuff|hitch|brush|stamp|together|triple|side|close|hold|flick|hook|sweep|drag|slide|swivels?|twist|jump|hop|monterey|paddle|unwind|basic|twinkle|behind|skate|run|rumba|rocking|strut|ball|clap|lunge|press|back|fwd|forward|repeat)\b",
    _I,
)
STEP_VERB = re.compile(
    r"^\W*(?:step|walk|rock|cross|touch|tap|kick|stomp|r\b|l\b|right|left|recover|turn|point|hold|side|back|fwd|forward)\b",
    _I,
)
HEAD_FACT = re.compile(r"^\W*\d{1,3}\s*(?:-\s*|\u2013)?(?:counts?|cts?|beats?|c|walls?|w|bpm)\b(?!\s*[:.]\s*\d)", _I)
TOLD_STEPS = re.compile(
    r"[:;=]\s+|\bwall\s+\d+,?\s+(?=(?:sway|step|rock|stomp|hip|walk|cross|touch|bump)\b)|\.\s+(?=[A-Z])|,\s+(?=(?:sways?|step|rock|stomp|hips?|walk|cross|touch|bump|R|L|right|left|side)\b)|\s[-\u2013\u2014]+\s+|\)\s+|,\s+(?:dance|do|add)\s+|[.;,]\s+(?:and|now)\s+(?=(?:just\s+)?(?:steps?|stomp|cross|rock|walk|touch|point|turn|big|sway|kick|unwind)\b)|,?\s+(?:and\s+)?then\s+(?:for\s+\w+\s+(?:more\s+)?(?:counts?|beats?),?\s+)?(?=[a-z\d])|\bfinish(?:\s+(?:with|by))?\s+(?=[a-z])|\b(?:dance|do|add|adding|with|just)\s+(?:the\s+following\s*[:-]?\s*)?(?=[A-Za-z\d])",
    _I,
)
REPLACED = re.compile(
    r"^(?:part\s+(?P<part>[A-Za-z])[\s,]+)?(?:section|sect?|set|s)\.?\s*(?P<number>\d{1,2})[\s,:]+(?=(?:counts?\s+)?[\d&])",
    _I,
)
# "16 counts, to the cross, and then ...", where a sentence goes on; "48  Repeat dance in new direction".
SO_MANY = re.compile(
    r"\d{1,2}(?:[&-]\d{1,2})?\s+of\s+(?:the\s+)?(?:\w+\s+)?(?:section|set|eight)\b|\d{1,3}\s+counts\b(?!\s*[:=])|\+\s*\d{1,2}\s+counts\b|\d{1,3}[\s-]+count\s+(?:tag|bridge|intro|ending|wall)\b|\W?\d{1,3}\s+(?:counts?|beats?)\s*[.:,]\s*(?:repeat|start|begin)\b|\W?\d{1,3}\W?(?:\s+[\u2010-\u2015-])?\s+(?:repeat|start|begin)\s+(?:the\s+)?(?:whole\s+)?(?:dance|again)\b|\W?\d{1,3}\W?\s+repeat(?:\s+facing\b.*)?\W*$",
    _I,
)
# "dance as far as the Behind Side Cross", "after the kick out out": a place told by what is danced there.
BY_NAME = re.compile(
    r"\b(?:after|following|as\s+far\s+as|up\s+to(?:\s+and\s+including)?|through|to\s+the\s+end\s+of|when|once|finish|danced?|do|done|and)\s+(?:just\s+|only\s+)?(?:the|your|our|that|those|this|these)\s+(?P<name>[A-Za-z][\w'/&\u00bc-\u00be\u2010\u2011 -]{2,40}?)(?=\s*(?:[.,;:()!]|$|\band\b|\bthen\b|\b(?:is|are|have|has|comes?|gets?|add|insert|do|put|only)\b))",
    _I,
)
# What comes behind is where the dance goes on.
GOES_BACK = re.compile(
    r"\b(?:(?:go|straight|right|jump)\s+(?:straight\s+)?back\s+to|(?:re-?\s?start|start\s+(?:again|over)|begin\s+again)\s+(?:with|from|at))\b",
    _I,
)
# A paragraph that is a section: "Coaster, two pivots (25-32). Right coaster ...", "Counts 1 to 8. Side ...", "First eight. ...".
TOLD_SECTION = re.compile(
    rf"^(?:(?P<name>(?-i:[A-Z])[^.:(]{{2,90}}?)\s*\((?=(?:counts?\s+)?(?:1\s*(?:{_DASH}|to)\s*[468]|\d{{1,3}}\s*(?:{_DASH}|to)\s*\d{{2,3}})\))(?:counts?\s+)?(?P<from>\d{{1,3}})\s*(?:{_DASH}|to)\s*(?P<to>\d{{1,3}})\)"
    rf"|counts?\s+(?P<low>\d{{1,3}})\s*(?:{_DASH}|to)\s*(?P<high>\d{{1,3}})(?=\.)"
    rf"|(?:the\s+)?(?:{ORDINAL}|last)\s+(?:eight|8|six|6|section|set)(?:\s*\([^()]*\)|,\s*[^.:(]{{2,40}})?)\s*(?:[.:]\s+(?=(?-i:[A-Z][a-z]|A\s).*[a-z])|:\s+(?=[a-z]))",
    _I,
)
ORDER_KEY = re.compile(
    rf"^\W*(?:we\s+dance\s+(?:it|them)\s+(?:in\s+this\s+order|like\s+this|so)(?=\s*:)|(?:here\s+is\s+|here['\u2019]s\s+)?how\s+it\s+(?:goes|runs|is\s+danced)|(?:dance\s+|running\s+)?(?:order|s[e\u00e9]quence|phrasing|phrased)(?:\s+of\s+(?:the\s+)?(?:dance|parts))?)\s*(?:[:=]|{_DASH}|(?=\sA\b))",
    _I,
)
LATE_KEY = re.compile(
    r"^\W*(?:music|song|track|tempo|bpm|choreo\w*(?:\s+(?:by|to))?|intro|level|counts?|walls?)\s*[:.]", _I
)
OF_MUSIC = re.compile(r"\bbpm\b|\bintro\b", _I)
# "replace counts 22-24 with:", and on the next line what with.
TO_BE_TOLD = re.compile(
    r"\b(?:replace|chang|substitut|modif)\w*\b.*(?:\b(?:with|to|by)\s*:|\bwith|\s[\u2010-\u2015-]|\b(?:steps?|counts?)\s*:)$",
    _I,
)
PART_LINE = re.compile(
    r"^(?:part|section)\s+[\"'\u201c]?[A-D]\b[\"'\u201d]?(?:\s*[:(,\u2013\u2014-].*|\s*\d.*|\s*)$|^[A-D]\s*[:(]", _I
)
PART_LENGTH = re.compile(
    r"\b(?:part\s+)?(?P<part>[A-H])\s*(?:=|:|is|has|-|\u2013|\()?\s*(?P<n>\d{1,3})\s*(?:counts?|cts?|c)\b|\b(?P<p2>[A-H])\s*=\s*(?P<n2>\d{1,3})\b",
    _I,
)
SHORT = re.compile(
    r"\b(?P<part>[A-H])\s?(?:[-\u2013]|\*|['\u2019]|minus|\(?short\)?)\s*(?:=|:|is|means|are|\()\s*(?:dance\s+)?(?:[A-H]\s+)?(?:only\s+|just\s+)?(?:the\s+)?(?:first\s+|counts?\s+1\s?[-\u2013]\s?|(?:up\s+)?to\s+(?:count\s+)?)?(?P<n>\d{1,3})\b",
    _I,
)
MORE_THAN_FACTS = re.compile(r"[a-z]{4,}.*[a-z]{4,}.*[a-z]{4,}.*[a-z]{4,}", _I)
_ADVICE = re.compile(
    r"^\W*(?:keep|don['\u2019]?t|do not|try|remember|make\s+sure|use|smile|relax|think|bad\s+\w+|careful|watch|mind|let|feel|no\s+\w+|always|never|style|styling)\b",
    _I,
)
_KEYED = re.compile(r"^(?P<key>[A-Za-z]{4,12}):\s*\S")


def near_key(text: str) -> str:
    """What to say of a header line whose key is none that is known, but near one; "" for any other."""
    found = _KEYED.match(text)
    if found is None:
        return ""
    near = get_close_matches(
        found["key"].lower(),
        ("counts", "walls", "level", "tempo", "meter", "feel", "intro", "starts", "title", "order"),
        n=1,
        cutoff=0.75,
    )
    return (
        f"{found['key']!r} is no header line that is known; kept as a note; did you mean {near[0].capitalize()}?"
        if near
        else ""
    )


_NO_STEPS = re.compile(
    r"^(?:after|at|on|during|in|wall|walls|facing|end|you|the|each|every|both|when|danced?|then\s+restart|start|begin|restart|repeat|\d+\s*(?:counts?|cts?|c)\b|\(|wall\b|it\b|this\b|once|twice|same\s+as)",
    _I,
)
_AFTER_STEPS = re.compile(
    r"\s*(?:,|;|\.|and|&)?\s*(?:and\s+)?(?:then\s+)?(?:re-?\s?start|after\s+that\b(?!,?\s+(?:just\s+)?(?:step|stomp|rock|sway|turn|walk|cross|touch|take|big|pivot|kick))|from\s+there\b|away\s+we|start\s+(?:again|over|the|from|wall)|begin\s+(?:again|the|wall)|carry\s+(?:right\s+|straight\s+)?on|continue|go\s+on|resume|same\s+as|done\b|off\s+(?:you|we)\s+go)\b.*$",
    _I,
)


_BEGINS_STEP = re.compile(
    r"^\W*(?:(?:an?|the)\s+(?!half|quarter|[^:]*:\s))?(?:\d\s*x\s+|\d\s+|two\s+|four\s+|slow\s+|long\s+|hip\s+)?(?:sway|step|rock|stomp|hip|bump|walk|cross|touch|tap|kick|r\b|l\b|rf\b|lf\b|right|left|side|jazz|rocking|v[\s-]?step|k[\s-]?step|vine|grapevine|shuffle|chass|pivot|turn|heel|toe|hold|clap|point|sailor|coaster|out|big|monterey|mambo|stamp|jump|unwind|box|rumba|charleston|back|forward|fwd|close|together|bal|basic|twinkle|waltz|paddle|half|quarter|full|\u00bd|\u00bc|1/[248]|a\s+[\u00bc\u00bd]|hips)",
    _I,
)


_LENGTH_BEHIND = re.compile(
    r"\s*(?:\(\d{1,2}\s+(?:counts?|beats?|cts)\)|,?\s+(?:for|over)\s+\w+\s+counts?)(?:[.!].*|,\s*(?:and\s+)?then\s+(?:carry|go|start|begin|on)\b.*)?$",
    _I,
)


def without_what_follows(words: str) -> str:
    """The steps, without their length and how the dance goes on after them."""
    words = _LENGTH_BEHIND.sub("", _AFTER_STEPS.sub("", words)).strip(" .;")
    return words[:-1] if words.endswith(")") and words.count(")") > words.count("(") else words


def steps_told(words: str) -> str:
    """The steps that the rest of an event's sentence tells, "" where it goes on to tell where it is."""
    words = without_what_follows(words)
    return words if words and _BEGINS_STEP.match(words) and not _NO_STEPS.match(words) else ""


def is_prose(text: str) -> bool:
    """Whether a line is talk: a whole sentence, or what stands in brackets or behind "Note:"."""
    if NOTE_START.match(text) or ASIDE_LINE.match(text) or GREETING.match(text) or CLOSING.match(text):
        return True
    words = text.split()
    if _ADVICE.match(text):
        return True
    talk = re.search(
        r"\b(?:you|your|we|this|that|it|is|are|will|can|please|music|song|dance|class|enjoy|fun|floor|beginners?|styling|wall|walls|facing|option)\b",
        text,
        _I,
    )
    return len(words) >= 4 and talk is not None


ONLY_COUNTS = re.compile(
    r"^[\[(]?\s*(?:(?:count(?:s|ed)?|rhythm|timing)\s*(?:it|as|is)?\s*[:=]?\s*)?[\d&ae,\s\-\u2010-\u2015.]{1,}[\])]?$",
    _I,
)

SEE = re.compile(r"^\W*see\b", _I)

WALL = re.compile(r"\bwalls?\b|\brotations?\b|\bw\d|\d(?:st|nd|rd|th)\s+(?:time|round)|\btime\s+(?:you|round|through)")

ENDS_WALL = re.compile(
    r"\b(?:after|end\s+of|finish|finished|done|complete|following|between|(?:is|are|been)\s+over|have\s+danced)\b"
)
