"""What authors say of walls, places and events in words of their own, as the words that the telling is read by.

A paraphrase takes the place of what it stands for, padded to its length, so that places in the text stay what they are.
"""

from __future__ import annotations

import re
from functools import lru_cache

from caller.routine.layout.breaking_off import BREAKING_OFF
from caller.routine.layout.change_phrases import CHANGES
from caller.routine.layout.numbers import NUMBER, ORDINAL, ROMAN, number_of
from caller.routine.layout.place_phrases import BEATS as _BEATS
from caller.routine.layout.place_phrases import LABEL as _LABEL
from caller.routine.layout.place_phrases import PLACES
from caller.routine.layout.wall_phrases import WALLS, said_as, with_number
from caller.routine.layout.walls_in_turn import WALLS_IN_TURN
from caller.routine.rewriting import Rewriting

_MOST_SAID = 1000  # characters
_FIRST = rf"(?:(?:{_LABEL}|parts?|step)\s*(?:1|one|I|A(?<![Pp]art A)(?<![Pp]arts A))|\(?1\)|(?:the\s+)?(?:first|1st)\s+(?:step|section|set|eight|8|block))(?![\w&])"
_MUSIC = r"(?:music|band|song|singer|drummer|drums?|track|fiddler?|piano|guitar|chorus|accordion|whistle|pipes|strings|banjo)"
_SAID = Rewriting(
    (
        *CHANGES,
        # -- back to the first count
        said_as(
            rf"\b(?:(?:go|goes|going|jump|straight|right|come|comes|head|directly|it['\u2019]s)\s+)*\bback\s+(?:to|into|at|on)\s+(?:the\s+)?{_FIRST}",
            "restart",
        ),
        said_as(
            r"\b(?:(?:go|goes|it['\u2019]s)\s+)?straight\s+back\s+(?:to|into)\s+(?:the|your)\s+(?!front|back|home|wall|cent)\w+",
            "restart",
        ),
        said_as(r"(?<!you )(?<!we )(?<!ready to )\bgo\s+again(?=\s*[!.]|$)", "restart"),
        said_as(rf"\b(?:it['\u2019]?s\s+)?(?:{_LABEL}|part)\s*(?:1|one|I|A(?<![Pp]art A))\s+again\b", "restart"),
        said_as(rf"\b(?:start|begin)\s+(?:again\s+)?(?:with|at|from|on)\s+{_FIRST}(?!\s*(?:of|&))", "restart"),
        *BREAKING_OFF,
        *WALLS_IN_TURN,
        *WALLS,
        *PLACES,
        # -- counts put in
        # "the band stops here. Hold still for 4 counts, then go on with section 3"
        said_as(
            rf"\b(?:the\s+)?{_MUSIC}\s+(?:stops|pauses|drops\s+out|goes\s+(?:quiet|silent))\b(?:\s+(?:here|then|there))?(?=[.;,:]\s*[^.;:]{{0,60}}\b(?:go|goes|carry|continue)\b)",
            "here",
        ),
        said_as(
            rf"\bthere\s+(?:are|is|come)\s+(?P<n>{NUMBER})\s+(?:extra|spare|free|empty|additional|more)\s+{_BEATS}\b",
            with_number("{}-count tag"),
        ),
        said_as(
            rf"\b(?P<n>{NUMBER})\s+(?P<steps>sways|bumps|stomps|hips|hip\s+bumps|walks)\s+(?:more|extra)\b(?=\s*\()",
            lambda found: f"tag, {found['steps'].rstrip('s')}",
        ),
        said_as(r"\bhold\s+(?:quite\s+|perfectly\s+)?still\b(?=\s+for)", "hold"),
        said_as(
            rf"\b(?:song|music|track)\s+(?:then\s+)?(?:only\s+)?has\s+(?:only\s+|just\s+)?(?P<n>{NUMBER})\s+(?:more\s+)?{_BEATS}\s+left\b",
            with_number("ending, {} counts"),
        ),
        said_as(
            rf"\b{_MUSIC}\s+(?:holds\s+on|lingers|carries\s+on|goes\s+on)\s+for\s+(?P<n>{NUMBER})\s+(?:more\s+|extra\s+)?{_BEATS}",
            with_number("{}-count tag"),
        ),
        said_as(
            rf"\b(?:fill|use|take|spend)\s+(?:up\s+)?(?:those|these|the|them)\s+(?:extra\s+|spare\s+)?(?P<n>{NUMBER})\s+(?:extra\s+|spare\s+)?{_BEATS}",
            with_number("{}-count tag"),
        ),
        said_as(
            rf"\b(?:there\s+(?:are|is)|there['\u2019]s)\s+(?P<n>{NUMBER})\s+(?:extra\s+|spare\s+|more\s+)?{_BEATS}\s+(?:to\s+(?:fill|spare)|left(?:\s+over)?|over)\b",
            with_number("{}-count tag"),
        ),
        said_as(
            rf"\b{_MUSIC}\s+(?:then\s+)?(?:adds|has|plays|gives|leaves|holds|takes|goes\s+on\s+for|runs\s+on\s+for|wants)\s+(?:us\s+|you\s+)?(?:room\s+for\s+)?(?:an?\s+)?(?:extra\s+|another\s+)?(?P<n>{NUMBER})\s+(?:more\s+|extra\s+|spare\s+)?{_BEATS}(?:\s+(?:extra|more|longer|to\s+fill|over))?",
            with_number("{}-count tag"),
        ),
        said_as(
            rf"\b(?:the\s+)?{_MUSIC}\s+(?:\w+\s+){{0,2}}?(?:quits(?:\s+on\s+you)?|dies|ends\s+very\s+early|stops(?:\s+itself)?|is\s+(?:all\s+)?over)\b(?!\s+(?:for|dead|on)\b|[^.!]{{0,12}}[.!]\s*(?:so\s+)?(?:on\s+wall\s+\w+\s+only,?\s+)?(?:replace|change|instead|swap)\b|\s+\w+\s+for\s+\w+\s+(?:beats|counts)|(?:\s+(?:playing|singing))?\s*[:,;]\s*(?:(?:and|so|just|you|we|simply)\s+)*+(?:leave|hold|wait|stand|freeze|skip|keep|pause)\b)",
            "ending",
        ),
        said_as(r"\bwhen\s+(?:it|the\s+(?:song|music|track))\s+fades(?:\s+(?:out|away))?\b", "ending"),
        said_as(r"\b(?:this\s+time\s+)?it['\u2019]s\s+(?:all\s+)?over\b(?!\s+to)|\bthat\s+is\s+the\s+end\b", "ending"),
        said_as(
            r"\b(?:don['\u2019]?t|do\s+not|never)\s+(?:just\s+)?(?:start|begin|restart)\s+(?:again|over)\b[^.;,]*", ""
        ),
        said_as(
            rf"\bfill\s+(?:it|the\s+(?:gap|hole|space|time))\s+(?:up\s+)?(?:with|by)\s+(?:the\s+)?(?P<n>{NUMBER})\s+(?:extra\s+|spare\s+)?{_BEATS}",
            with_number("{}-count tag"),
        ),
        said_as(
            rf"\b(?:only\s+)?(?:the\s+)?first\s+(?P<n>{NUMBER})\s+(?:{_BEATS}\s+)?of\s+(?:those|these|them)(?:\s+only)?\b",
            with_number("first {} counts of tag"),
        ),
        said_as(
            rf"\bput\s+in\s+(?P<n>{NUMBER})\s+{_BEATS}\s*(?=\()",
            with_number("{}-count tag"),
        ),
        said_as(rf"\bso\s+do\s+we,?\s+for\s+(?P<n>{NUMBER})\s+{_BEATS}", with_number("{}-count tag")),
        said_as(rf"\b(?P<n>{NUMBER})\s+slow\s+{_BEATS}", with_number("{} counts")),
        said_as(
            r"\b(?:by|on|at)\s+count\s+(?P<n>\d{1,2})\s+you\s+(?:will\s+be|are|['\u2019]ll\s+be)\b",
            with_number("after {} counts"),
        ),
        said_as(rf"(?<!first )\b(?P<n>{NUMBER})\s+{_BEATS}\s+of\s+tag\b", with_number("{}-count tag")),
        said_as(r"\bthe\s+very\s+(?=first|last)", "the "),
        said_as(r"\b(?:so\s+)?finish\s+like\s+this(?=\s*[:,])", "ending"),
        said_as(r"\b(?:dance|do)\s+(?=the\s+(?!same\b|tag\b|bridge\b)[a-z][\w -]{2,24}?\s+twice\b)", "tag"),
        said_as(
            rf"[.;,]\s*(?:(?:and|so)\s+)?(?:you|we)(?:['\u2019]ll|\s+will)?\s+(?:then\s+|now\s+|so\s+)*(?:start|begin)\s+wall\s+{NUMBER}\s+(?:facing|at|from|on)\b[^.;]*",
            ".",
        ),
        said_as(
            rf"\bhold\s+here\s+(?:for\s+)?(?P<n>{NUMBER})\s+{_BEATS}",
            lambda found: f"here hold {number_of(found['n'])} counts",
        ),
        said_as(
            rf"^\W*(?P<n>{NUMBER})\s+(?:extra\s+|more\s+)?{_BEATS}\s+(?=(?:at|after)\b[^.;:]*\bw(?:all)?\s?\d)",
            with_number("{}-count tag "),
        ),
        said_as(
            r"\bhas\s+no\s+(?:section\s+(?P<n>[1-9])|(?P<r>(?-i:I{2,3}|IV|V|VI{1,3})))\b(?![^.]*\b(?:start|begin)\s+again)",
            lambda found: f"skip s {found['n'] or ROMAN.get((found['r'] or '').lower(), 0)}",
        ),
        said_as(
            rf"(?<=\d)\s*[\u2010-\u2015:-]\s*(?P<n>[4-9]|[1-9]\d)\s*(?:{_BEATS})?\s*,?\s+(?=(?:and\s+|then\s+)*re-?\s?start\b)",
            with_number(" @{} "),
        ),
        said_as(
            rf"\b(?P<n>{NUMBER})\s+(?:extra\s+|more\s+)?{_BEATS}\s+(?:are|have|need|must)\s+(?:to\s+)?be\s+(?:added|put\s+in|danced\s+extra)\b",
            with_number("{}-count tag"),
        ),
        said_as(rf"\b(?:extra|additional)\s+(?P<n>{NUMBER})\s+{_BEATS}(?=\s*[:,(])", with_number("{}-count tag")),
        said_as(rf"\blasts\s+(?:only\s+)?(?P<n>{NUMBER})\s+{_BEATS}(?:\s+only)?\b", with_number("only {} counts")),
        said_as(r"\b(?:it|this|that)(?:\s+is|['\u2019]s)\s+not\s+an?\s+(?:re-?\s?start|tag|bridge|ending)\b", ""),
        # -- changed steps
        said_as(
            r"\bno\s+[a-z][a-z -]{2,24}?\s+on\s+(?:counts?|beats?)\s*(?P<n>\d{1,2})\s*[,:;]",
            with_number("change {} to"),
        ),
        # -- other
        said_as(r"\btrade(?=\s+the\b)", "swap"),
        said_as(
            r"\b(?:how\s+(?:it|we)\s+(?:all\s+)?(?:ends?|finish(?:es)?|stops?)|grand\s+(?:finish|finale))\s*(?=[:.\u2010-\u2015-])",
            "ending",
        ),
        said_as(
            rf"(?<!\()(?<!\(the )\b{_MUSIC}\s+(?:runs\s+out|stops|ends|finishes|fades(?:\s+out)?)\s+(?:during|in|on)\s+(?:the\s+)?(?:wall\s+)?(?P<n>{NUMBER}|{ORDINAL})(?:\s+wall)?\b",
            with_number("ending wall {}"),
        ),
    )
)


_NUMERAL = r"(?P<number>\d{1,2}|[IVX]{1,4}|[B-H])"
_SKIPS = re.compile(
    rf"\b(?P<verb>skip|omit|miss(?:\s+out)?|leave(?:\s+(?:out|off))?|drop|cut(?:\s+out)?|forget|jump\s+over|do\s+without)\s+(?:the\s+)?(?:whole\s+)?(?:of\s+)?"
    rf"(?:(?:{_LABEL}|parts?)\s*{_NUMERAL}(?![\w.]\w)|(?P<roman>(?-i:[IVX]{{2,4}}))\b|(?P<nth>{ORDINAL})\s+(?:section|set|eight|8|block|six|twelve))"
    r"(?!\s*counts?)(?:\s+(?:altogether|entirely|completely|out|away|off))?",
    re.IGNORECASE,
)
STARTS_OVER = re.compile(
    r"\b(?:re-?\s?start|(?:start|begin|go)\s+(?:the\s+dance\s+)?(?:again|over|anew)|(?:from|to)\s+the\s+(?:top|beginning|start))\b",
    re.IGNORECASE,
)


# "the music takes one extra breath of six counts", where a wall is over and nothing else is named.
_MUSIC_ADDS = re.compile(
    rf"\b{_MUSIC}\s+(?:(?!\bwalls?\b)[^.;:()]){{0,40}}?\b(?P<n>{NUMBER})\s+(?:more\s+|extra\s+|spare\s+)?{_BEATS}(?:\s+(?:extra|more|longer|to\s+fill|over))?(?=[^.;:]*[.;:,-])",
    re.IGNORECASE,
)
_NAMED = re.compile(
    r"\b(?:tags?|bridges?|re-?\s?starts?|endings?|finish|finale|extra\s+counts|instead|replace\w*|start\s+again|begin\s+again)\b",
    re.IGNORECASE,
)
_WALL_OVER = re.compile(
    rf"\b(?:after|end\s+of|danced|finished|completed|done)\b[^.;:]{{0,30}}?\b(?:wall|{ORDINAL})\b|\bwall\s+\w+\s+only\b|\bat\s+this\s+(?:point|spot)\b",
    re.IGNORECASE,
)


def _skipped(found: re.Match[str]) -> str:
    """ "on the 4th wall skip III": "skip s 3"."""
    word = found["number"] or found["roman"] or ""
    if found["nth"]:
        number = number_of(found["nth"])
    elif word.isdigit():
        number = int(word)
    else:
        number = ROMAN.get(word.lower(), ord(word[0].upper()) - ord("A") + 1)
    return f"skip s {number}".ljust(len(found[0]))


_NEXT_BEGINS = re.compile(
    rf"\b(?:so\s+)?(?:that\s+)?(?:the\s+)?(?:wall\s+(?P<n>\d{{1,2}})|(?P<o>{ORDINAL})\s+wall)\s+(?:will\s+|therefore\s+|then\s+|also\s+|now\s+|thus\s+|properly\s+)*(?:start|begin)s?\b(?!\s+(?:again|over))(?:[^.;!:]|:(?=\d))*",
    re.IGNORECASE,
)
_WALLS_TOLD = re.compile(
    rf"\bwalls?\s+(?:numbers?\s+|no\.?\s*)?(?:\d+\s*(?:,|and|&)\s*)*(?P<n>{NUMBER})|\b(?P<o>{ORDINAL})\s+(?:wall|time|round|rotation)",
    re.IGNORECASE,
)


def _without_next(text: str) -> str:
    """ "So wall 6 will start facing the back", told after an event of wall 5."""
    for found in reversed(list(_NEXT_BEGINS.finditer(text))):
        told = (one["n"] or one["o"] for one in _WALLS_TOLD.finditer(text[: found.start()]))
        before = {number_of(n) for n in told}
        if (number := number_of(found["n"] or found["o"])) - 1 in before and number not in before:
            text = text[: found.start()] + " " * len(found[0]) + text[found.end() :]
    return text


_BEGINS_WALL = re.compile(r"\b(?:begin|start)\s+wall\s+(?P<n>\d{1,2})\b", re.IGNORECASE)


def _unless_it_cuts(found: re.Match[str]) -> str:
    """ "After wall 5 ... sway right, left, begin wall 6" cuts no wall short."""
    over = rf"\b(?:after|end\s+of)\s+(?:the\s+)?wall\s+{int(found['n']) - 1}\b"
    return " " * len(found[0]) if re.search(over, found.string[: found.start()], re.IGNORECASE) else found[0]


_ONCE = re.compile(r"\bonce\s+(?:after|at)\b", re.IGNORECASE)
_TWICE_AFTER = re.compile(rf"\b(?P<twice>twice)\s+(?P<after>after\s+wall\s+{NUMBER})", re.IGNORECASE)


def _wall_before_twice(found: re.Match[str]) -> str:
    """ "Once after wall 2 and twice after wall 4": how often is told behind the wall that it is of."""
    return f"{found['after']} {found['twice']}".ljust(len(found[0]))


@lru_cache(maxsize=256)
def said_plainly(text: str) -> str:
    """The text, place for place, with its paraphrases; as it is where it is longer than any sentence."""
    if len(text) > _MOST_SAID:
        return text
    text = _BEGINS_WALL.sub(_unless_it_cuts, _without_next(text))
    if _ONCE.search(text) is not None:
        text = _TWICE_AFTER.sub(_wall_before_twice, text)
    if STARTS_OVER.search(text) is None:
        text = _SKIPS.sub(_skipped, text)
    text = _SAID(text)
    if _NAMED.search(text) is None and _WALL_OVER.search(text) is not None:
        text = _MUSIC_ADDS.sub(lambda found: f"{number_of(found['n'])}-count tag".ljust(len(found[0])), text)
    return text
