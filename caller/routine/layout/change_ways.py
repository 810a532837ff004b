"""The ways in which a sentence tells what steps change: on which counts, or in the place of which figure.

Groups: counts, section or first (the section's number), words (what is danced), of (the figure that it takes the place
of).
"""

from __future__ import annotations

import re

DASH = r"[\-\u2010-\u2015]"
COUNTS = rf"(?P<counts>(?!0)(?<!\d[:.])(?<!wall )(?<!walls )\d{{1,3}}(?!\d|[:.]\d\d)(?:\s?(?:&|a(?![a-z]))\s?\d{{0,3}}|\s?and\s?\d{{1,3}}|\s?{DASH}\s?\d{{1,3}}|\s*,\s*\d{{1,3}})*)"
SECTION = r"(?:\s*(?:,|of|in|from)?\s*(?:the\s+)?(?:section|sect?|set|s)\.?\s*(?P<section>\d{1,2}))?"
_SECTION_FIRST = r"(?:(?:the\s+)?(?:section|sect?|set|s)\.?\s*(?P<first>\d{1,2})[\s,:]*)?"
_OF_NTH = r"(?:\s+of\s+the\s+\w+\s+(?:block|section|set|eight|part))?"
_QUOTE = "['\"\u2018\u2019\u201c\u201d]?"
WAYS = (
    # "leave out the jazz box, counts 5-8 of section 4, and instead stomp L beside R"
    re.compile(
        rf"\bcounts?\s+{COUNTS}{SECTION}\s*,\s*(?:and|but)\s+(?:instead|in\s+(?:its|their)\s+place)\s*(?:of\s+(?:it|them|that)\s*)?,?\s*(?:you\s+)?(?P<words>[A-Za-z][^;]+)",
        re.IGNORECASE,
    ),
    # "just hold for counts 5-6 here instead of the kick ball change"
    re.compile(
        rf"\b(?P<words>hold)\s+(?:for|on)\s+(?:the\s+)?counts?\s+{COUNTS}{SECTION}\s*(?:here\s*)?,?\s*(?:instead|in\s+place)\b",
        re.IGNORECASE,
    ),
    # "5-8 of section 3 = rock L forward, recover onto R"
    re.compile(
        rf"\b{COUNTS}\s+(?:of|in)\s+(?:section|sect?|set|s)\.?\s*(?P<section>\d{{1,2}})\s*=+\s*(?P<words>[A-Za-z][^.;]+)",
        re.IGNORECASE,
    ),
    # "Sect. 4, counts 5-8: no jazz box, but stomp R (5), stomp L (6), hold (7), hold (8)"
    re.compile(
        rf"(?:\b(?:section|set|sect?)\.?\s?(?P<section>\d{{1,2}})\s*,?\s+)?counts?\s+{COUNTS}\s*[:,]\s*(?:no|not\s+the|not)\s+[^,;:.()]{{2,30}}[,;]\s*but\s+(?P<words>[A-Za-z][^.;]*)",
        re.IGNORECASE,
    ),
    # "dance 8& without the turn (recover R, step L to L side)"
    re.compile(
        rf"\b(?:dance|do)\s+(?:counts?\s+)?{COUNTS}{SECTION}\s+without\s+(?:the\s+|an?\s+)?[^()]{{2,30}}\((?P<words>[A-Za-z][^()]+)\)",
        re.IGNORECASE,
    ),
    re.compile(
        rf"\binstead\s*,?\s+(?:on|for|at)\s+(?:counts?\s+|beats?\s+)?{COUNTS}{SECTION}\s*,?\s*(?:you\s+|just\s+)*(?P<words>[A-Za-z][^.;]*)",
        re.IGNORECASE,
    ),
    # "S2 7-8 is stomp L, hold"; "dance S2 counts 7-8 as: stomp L, hold"; "in section 2, counts 7-8 become: stomp L, hold"
    re.compile(
        rf"\b(?:section|sect?\.?|set|s)\s?(?P<section>\d{{1,2}})\s*,?\s+(?:counts?\s+|cts\s+)?{COUNTS}\s+(?:becomes?|is|are|as|turns?\s+into)\s*:?\s+(?P<words>(?!the\s+same|replaced|changed|left)[A-Za-z][^;]+)",
        re.IGNORECASE,
    ),
    # "no swaying! 5-8 become stomp R, stomp L, hold, hold"
    re.compile(
        rf"(?<![\w/:.]){COUNTS}{SECTION}\s+(?:becomes?|turns?\s+into|(?:is|are)\s+replaced\s+(?:by|with))\s*:?\s+(?P<words>(?!the\s+same)[A-Za-z][^.;]+)",
        re.IGNORECASE,
    ),
    # "leave out the side touch on 7-8 in section 2 and stomp L, hold instead"
    re.compile(
        rf"\b(?:leave\s+out|skip|drop|omit)\s+the\s+[^,;:.\d]{{2,40}}?\s+on\s+(?:counts?\s+)?{COUNTS}{SECTION}\s*,?\s+and\s+(?:do\s+|dance\s+)?(?P<words>[A-Za-z][^;]+?)\s+instead\b",
        re.IGNORECASE,
    ),
    # "in wall 6 dance on '7-8' : step forward with RF - LF beside RF"
    re.compile(
        rf"\bdance\s+on\s+{_QUOTE}{COUNTS}{_QUOTE}{SECTION}\s*,?\s*:\s*(?P<words>[A-Za-z][^;]+)",
        re.IGNORECASE,
    ),
    re.compile(
        rf"\b(?:for|on)\s+(?:this|these)\s+{_QUOTE}{COUNTS}{_QUOTE}{SECTION}\s*[:,]\s*(?P<words>[A-Za-z][^;]+)",
        re.IGNORECASE,
    ),
    re.compile(
        rf"\b(?:instead|in\s+place)\s+of\s+[^,:;]*?\b(?:do\s+|dance\s+|take\s+|(?=step\b))(?P<words>.+?)\s+on\s+(?:counts?\s+)?{COUNTS}(?P<section>(?!))?",
        re.IGNORECASE,
    ),
    re.compile(
        rf"\b(?:replac(?:e|es|ing)|chang(?:e|es|ing)|substitut(?:e|ing)|modif(?:y|ying)|swap|exchange|trade)\s+{_SECTION_FIRST}(?:the\s+)?(?:last\s+)?(?:[a-z ]{{0,40}}?\s\(?)?(?:counts?|cts?\.?|steps?|beats?)?\s*{COUNTS}{SECTION}[^:;]{{0,60}}?\s*(?:\bwith\b|\bto\b|\bby\b|\bfor\b|(?<!\d):|:(?!\d)|=)\s*:?\s*(?P<words>.+)$",
        re.IGNORECASE,
    ),
    re.compile(
        rf"(?<![\d/])\b{COUNTS}{SECTION}\)?[^:;.]{{0,30}}?\b(?:(?:is|are)\s+)?(?:changed?|replaced)\s+(?:to|by|with)\s*:?\s*(?P<words>.+)$",
        re.IGNORECASE,
    ),
    re.compile(
        rf"\b(?:(?:instead|in\s+place)\s+of\s+(?:[^,:;]*?(?:\(?counts?|\(?cts?\.?|\(?beats?|\()|(?=\d))|in\s+place\s+of\s+(?:the\s+)?(?:counts?|cts?\.?))\s*{COUNTS}\)?{SECTION}\s*[,:;)]*\s*(?:dance|do)?\s*(?P<words>.+)$",
        re.IGNORECASE,
    ),
    re.compile(
        rf"\bdance\s+(?:counts?\s+)?{COUNTS}{SECTION}\s+as\s+(?:just\s+|simply\s+)?(?:an?\s+)?(?:plain\s+|simple\s+)?(?P<words>[^()]+)",
        re.IGNORECASE,
    ),
    re.compile(
        rf"\b(?:then|but)\s+(?P<words>[A-Za-z][^.;:]*?)\s+on\s+(?:counts?|beats?)\s*{COUNTS}(?P<section>(?!))?\s*[(,]?\s*instead\b",
        re.IGNORECASE,
    ),
    re.compile(
        rf"\b(?:on|at)\s+counts?\s*{COUNTS}{SECTION}\s*,?\s*(?:replace|change|substitute)\s+(?:the\s+)?[^:;.\d]{{2,40}}?\s+(?:with|by|to|for)\s*:?\s*(?P<words>[^.]+)",
        re.IGNORECASE,
    ),
    re.compile(
        rf"\bon\s+(?:counts?\s*)?{COUNTS}\s*(?:of\s+(?:this|that|the\s+same)\s+(?:section|set|eight|block|part))?{SECTION}\s*[,:]?\s*(?P<words>[A-Za-z][^.;:]*?)\s+(?:instead|in\s+place)\s+of\b",
        re.IGNORECASE,
    ),
    re.compile(
        rf"\b(?:instead|in\s+place)\s+of\s+(?:the\s+)?[^,;:.\d]{{2,40}}?\s+(?:at|on)\s+(?:counts?\s+|beats?\s+)?{COUNTS}{SECTION}(?:\s+of\s+(?:this|that|the\s+same)\s+(?:section|set|eight|block|part))?\s*,?\s*(?:(?:just|simply|you|we|make)\s+)*(?P<words>(?!(?:do|dance|take)\b)[A-Za-z][^.;]*)",
        re.IGNORECASE,
    ),
    re.compile(
        rf"\b{COUNTS}\s+(?:of|in)\s+(?:section\s+|s)(?P<section>\d{{1,2}})\s+(?:becomes?|is|are|turns?\s+into)\s*:?\s+(?P<words>(?!the\s+same)[A-Za-z][^.;]+)",
        re.IGNORECASE,
    ),
    re.compile(
        rf"\b(?P<words>hold)\s+(?:for\s+|on\s+|through\s+)?(?:counts?|beats?)\s*{COUNTS}{SECTION}\s*,?\s*(?:here\s+)?instead\b",
        re.IGNORECASE,
    ),
    re.compile(
        rf"\bno\s+[a-z][a-z -]{{2,24}}?\s+on\s+(?:counts?|beats?)\s*{COUNTS}{SECTION}\s*[,:;]\s*(?:but\s+|just\s+)?(?P<words>[A-Za-z][^.;]*?)(?:\s+instead\b)?(?=[.;]|$)",
        re.IGNORECASE,
    ),
    re.compile(
        rf"\bin\s+(?:section\s+|sec\.?\s+|S)(?P<section>\d{{1,2}})\s*,?\s+on\s+(?:counts?\s+)?{COUNTS}\s*,?\s+(?:you|we)\s+(?P<words>[^.;]+?)(?:,\s*(?:because|as|since)\b.*)?$",
        re.IGNORECASE,
    ),
    re.compile(
        rf"\bswap\s+(?:the\s+)?[^:;.\d]{{2,40}}?\s+(?:on|at|of|for)\s+(?:counts?|beats?)\s*{COUNTS}{SECTION}\s+(?:for|with|to)\s+(?P<words>[^.;]+)",
        re.IGNORECASE,
    ),
    re.compile(
        rf"\b(?:do\s+not|don['\u2019]?t)\s+[a-z][^,;:.\d]{{2,40}}?\s+(?:on\s+)?(?:counts?\s+)?{COUNTS}{SECTION}\s*[,;:]\s*(?:but\s+)?(?P<words>[A-Za-z][^.;]*)",
        re.IGNORECASE,
    ),
    re.compile(
        rf"(?:\b(?:on|at|in|for)|,)\s+counts?\s*{COUNTS}{SECTION}{_OF_NTH}\s*[,:]?\s*(?:you\s+)?(?:(?:do\s+not|don['\u2019]?t|no|not|never)\s+[^,;:.]{{2,40}}|instead\s+of\s+\w+ing\b[^,;:.]{{0,40}})\s*[,;:]\s*(?:but\s+)?(?:instead\s+)?(?:you\s+)?(?P<words>[A-Za-z][^.;]*)",
        re.IGNORECASE,
    ),
    re.compile(
        rf"\b(?:on|for)\s+(?:counts?|cts?\.?)\s*{COUNTS}{SECTION}\s*[,:]?\s*(?:dance|do)\s+(?P<words>.+?)(?:\s+instead\b.*)?$",
        re.IGNORECASE,
    ),
    re.compile(
        rf"\b(?:counts?|cts?\.?|beats?)\s*{COUNTS}{SECTION}(?:\s+of\s+(?:this|that|the\s+same)\s+(?:section|set|eight|block|part))?\s+(?:becomes?|is\s+now|are\s+now|turns?\s+into|is|are)\s*:?\s+(?:an?\s+|just\s+)?(?P<words>(?!the\s+same)[^.;]+?)(?:\s+(?:instead\s+of|rather\s+than|in\s+place\s+of)\b[^.;]*)?(?=[.;]|$)",
        re.IGNORECASE,
    ),
    re.compile(
        rf"\bthe\s+[a-z][a-z -]{{2,30}}?\s+(?:on|at)\s+(?:counts?\s+|beats?\s+)?{COUNTS}{SECTION}\s+(?:becomes?|is|are|turns?\s+into)\s+(?:an?\s+)?(?P<words>[^.;]+)",
        re.IGNORECASE,
    ),
    re.compile(
        rf"\b(?:put|place|take|bring)\s+(?P<words>[^.;:]+?)\s+on\s+(?:counts?|beats?)\s*{COUNTS}{SECTION}",
        re.IGNORECASE,
    ),
    re.compile(
        rf"\b(?:on|at)\s+(?:counts?|beats?)\s*{COUNTS}{SECTION}\s*,?\s*instead\s+of\s+(?:the\s+)?[^,;:.]{{2,40}}[,;]\s*(?P<words>[A-Za-z][^.;]*)",
        re.IGNORECASE,
    ),
    re.compile(
        rf"\b(?:do|dance)\s+(?P<words>(?!up\b|as\b|to\b|the\s+first|through\b|only\b|all\b)(?:(?!\b(?:do|dance|counts?)\b)[^.;:]){{1,120}}?)\s+(?:instead|in\s+place)\s+of\s+[^.;:]{{2,60}}?\s+(?:on|at)\s+(?:counts?\s+|beats?\s+)?{COUNTS}{SECTION}",
        re.IGNORECASE,
    ),
    re.compile(
        rf"\b(?:do|dance)\s+(?P<words>(?!up\b|as\b|to\b|the\s+first|through\b|only\b|all\b)(?:(?!\b(?:do|dance|counts?)\b)[^.;:]){{1,120}}?)\s+(?:on|for)\s+(?:counts?|beats?)\s*{COUNTS}{SECTION}\s*(?=[.;!]|$)",
        re.IGNORECASE,
    ),
    re.compile(
        rf"[:;,\-\u2010-\u2015](?:(?<!\d.)|(?=\s))\s*{_SECTION_FIRST}(?:counts?|cts?\.?)?\s*{COUNTS}{SECTION}\s*(?:[:=]|\s{DASH}\s|\s(?:are|is|becomes?|become)\s|\s)\s*(?P<words>[A-Za-z\u00bd\u00bc].+)$",
        re.IGNORECASE,
    ),
)
# "swap the jazz box for a rocking chair", "instead of the coaster stomp twice": the counts are those of the figure.
_NAME = r"(?:the\s+|your\s+|doing\s+|dancing\s+)*(?P<of>[A-Za-z\u00bc\u00bd][\w'/&\u00bc-\u00be\u2010\u2011 -]{2,40}?)"
_NO_COUNT = r"(?!\s*(?:counts?|\d))"
OF_FIGURE = (
    # "touch right next to left here instead of the scuff"
    re.compile(
        rf"[:,]\s*(?P<words>(?:touch|step|stomp|tap|hold|kick|point|brush|scuff|close|cross)\b[^.;:]*?)\s+(?:here\s+)?(?:instead|in\s+place)\s+of\s+{_NAME}(?=\s*(?:[.,;:()]|$|\band\b|\bthen\b))",
        re.IGNORECASE,
    ),
    re.compile(
        rf"\b(?:do|dance|make(?:\s+it)?|it['\u2019]?s|comes?)\s+(?P<words>[^.;:]+?)\s+(?:instead|in\s+place)\s+of\s+{_NAME}(?=\s*(?:[.,;:()]|$|\band\b|\bthen\b|\s[\u2013-]\s))",
        re.IGNORECASE,
    ),
    re.compile(
        rf"\b(?:swap|replac(?:e|es|ing)|chang(?:e|es|ing)|substitut(?:e|ing)|exchange|trade)\s+{_NAME}\s+(?:for|with|by|to|into)\s*:?\s*{_NO_COUNT}(?P<words>[^.;]+)",
        re.IGNORECASE,
    ),
    re.compile(
        rf"\b(?:instead|in\s+place)\s+of\s+{_NAME}(?:\s*[,:]\s*|\s+(?=(?:you|we|just|do|dance)\b))(?:(?:you|we|just|simply|do|dance)\s+)*{_NO_COUNT}(?P<words>[^.;]+)",
        re.IGNORECASE,
    ),
    re.compile(
        r"\b(?:instead|in\s+place)\s+of\s+the\s+(?P<of>(?:last|final)\s+\w+\s+counts?)\s*(?:\([^()]*\))?\s*,?\s*(?:an?\s+)?(?P<words>[^.;]+)",
        re.IGNORECASE,
    ),
    re.compile(
        r"\bthe\s+(?P<of>[A-Za-z][\w'/&\u00bc-\u00be\u2010\u2011 -]{2,40}?)\s+(?:becomes?|turns?\s+into|(?:is|are)\s+replaced\s+(?:by|with))\s+(?:an?\s+)?(?P<words>[^.;]+)",
        re.IGNORECASE,
    ),
)
# "The pivot on count 31 is a 1/2 turn left instead of 1/4", "make the pivot on count 7 a 1/2 left"
TURN_ON = re.compile(
    rf"\bthe\s+(?P<what>pivot|turn)\s+(?:turn\s+)?(?:on|at)\s+(?:counts?\s+|beats?\s+)?{COUNTS}{SECTION}\s*,?\s*(?:(?:is|becomes?|to|into|as)\s+)?(?:now\s+)?(?:an?\s+)?(?P<words>(?:\d/\d|\u00bd|\u00bc|\u00be|half|quarter|full|three[\s-]quarter)\b[^.;,]*?)(?:\s+(?:instead|rather|not)\b[^.;]*)?(?=[.;,]|$)",
    re.IGNORECASE,
)
LEAVES_OUT = re.compile(
    r"\b(?:leave\s+out|skip|omit|miss\s+out|drop)\s+(?:the|your)\s+(?!last\b|first\b)(?P<of>[A-Za-z][\w'/&\u00bc-\u00be\u2010\u2011 -]{2,40}?)(?=\s*(?:[.,;:()!]|$|\band\b|\bthen\b|\bgo\b|\b(?:completely|altogether|entirely|this\s+time|out)\b))"
    r"|\bleave\s+(?:the|your)\s+(?P<of2>[A-Za-z][\w'/& -]{2,40}?)\s+(?:out|away)\b"
    r"|\bwalls?\s+\d[^.;,]{0,12}\sha(?:s|ve)\s+no\s+(?P<of3>[A-Za-z][\w'/& -]{2,24}?)(?=\s*[.;,])",
    re.IGNORECASE,
)
SKIPS_COUNTS = re.compile(
    r"\b(?:leave\s+out|skip|omit|miss\s+out|drop)\s+(?:counts?\s+)?(?P<from>\d{1,2})\s*[-\u2013]\s*(?P<to>\d{1,2})\b",
    re.IGNORECASE,
)
# "On wall 4 you touch R beside L on that last count instead of stepping on it", right below those counts
ON_LAST_COUNT = re.compile(
    r"(?:\byou\b|\bwe\b|[:,])\s+(?P<words>[A-Za-z][^,;:.]{1,60}?)\s+on\s+(?:that|this|the)\s+(?:very\s+)?last\s+(?:count|beat)\b",
    re.IGNORECASE,
)
# "... but on the last count of section II step the right beside the left": how many counts that has, nobody has told yet.
LAST_COUNT_FIRST = re.compile(
    r"\bon\s+(?:the|that|its)\s+(?:very\s+)?(?:last|final)\s+(?:count|beat)(?:\s+of\s+(?:section|set|block|part|s)\s*(?P<section>\d|(?-i:[IVX]{1,4}))|\s+of\s+(?:it|that\s+section|the\s+(?P<nth>first|second|third|fourth|fifth|sixth|seventh|eighth|[1-8](?:st|nd|rd|th))\s+(?:eight|8|six|6|section|set|block)))?\s*,?\s*(?:you\s+|just\s+)*(?:(?:do\s+not|don['\u2019]?t)\s+\w+(?:\s+\w+){0,3}?\s*[:,;]\s*(?:but\s+)?)?(?P<words>(?!of\b)[a-z][^.;:]*)",
    re.IGNORECASE,
)
INSTEAD_COUNTED = re.compile(
    r"\binstead(?:\s+of\s+(?:it|that|this|them|(?:counts?\s+)?\d[\d&\u2013-]*))?,?\s+(?P<words>(?!of\b)[A-Za-z][^.;()]*\(\d{1,2}\)[^.;()]*\(\d{1,2}\))",
    re.IGNORECASE,
)
HOLDS_ON = re.compile(
    r"[^.;]*?\b(?:and|then)\s+hold\s+(?:for|on)\s+(?:counts?|beats?)\s*(?P<counts>\d(?:\s*(?:,|and|&|-|to)\s*(?:and\s+)?\d)+)",
    re.IGNORECASE,
)
