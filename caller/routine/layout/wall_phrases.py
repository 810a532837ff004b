"""What authors say of walls in words of their own, for :mod:`caller.routine.layout.paraphrases`."""

from __future__ import annotations

import re
from collections.abc import Callable

from caller.routine.layout.numbers import NUMBER, ORDINAL, number_of
from caller.routine.rewriting import StandsFor

_TIMES = r"(?:time(?:\s+(?:through|round|around))?|round|wall|turn|go)"
_DONE = r"(?:done|over|finished|complete(?:d)?|danced|through)"
_HAVE = r"(?:(?:you|we)\s*(?:have|['\u2019]ve)?\s+)?"


def said_as(pattern: str, say: str | Callable[[re.Match[str]], str]) -> tuple[str, StandsFor]:
    """A paraphrase, and what it stands for, filled up to the same length; longer words than its own stand for nothing."""

    def told(found: re.Match[str]) -> str:
        words = say if isinstance(say, str) else say(found)
        return words.ljust(len(found[0])) if len(words) <= len(found[0]) else found[0]

    return pattern, told


def with_number(words: str) -> Callable[[re.Match[str]], str]:
    """The words with the number that the match's group ``n`` tells."""
    return lambda found: words.format(number_of(found["n"]))


def _end_kept(found: re.Match[str]) -> str:
    return "end of" if re.search(r"\bend\s+of\s*$", found[0], re.IGNORECASE) else ""


_AFTER_WALL = (
    rf"(?:after|at\s+(?:the\s+)?end\s+of|end\s+of|following)\s+(?:the\s+)?"
    rf"(?:walls?\s+(?:\d{{1,2}}|{NUMBER})|{ORDINAL}\s+(?:wall|round|time(?:\s+(?:through|round))?)|W\d)(?!\w)"
)
_TWICE = r"(?:twice|two\s+times|2\s?x)"
# "once after wall 1, twice after wall 3": each behind its wall
_ONCE_AND_TWICE = said_as(
    rf"\b(?P<once>once|one\s+time|1\s?x)\s+(?P<a>{_AFTER_WALL})(?P<mid>[^.;:]{{0,30}}?)\s(?P<twice>{_TWICE})\s+(?P<b>{_AFTER_WALL})",
    lambda found: f"{found['a']} once{found['mid']} {found['b']} twice",
)
# "At the end of wall 2 dance the tag once. At the end of wall 4 dance the tag twice (8 counts)."
_ITS_TAG = r"\s*,?\s*(?:dance|do|add)\s+(?:the|this|it)(?:\s+(?:tag|bridge))?\s+(?:only\s+)?"
_TOLD_APART = said_as(
    rf"\b(?P<a>{_AFTER_WALL}){_ITS_TAG}(?:once|one\s+time|1\s?x)\s*[.;,]\s*(?:and\s+)?(?P<b>{_AFTER_WALL}){_ITS_TAG}{_TWICE}(?:\s*\(\s*\d{{1,2}}\s*(?:counts?|beats?)\s*\))?",
    lambda found: f"tag {found['a']} once, {found['b']} twice",
)
# "at the end of wall 2, once, and at the end of wall 4, where you dance it twice (so 8 counts)"
_WHERE_TWICE = said_as(
    rf"\b(?P<a>{_AFTER_WALL})\s*,?\s*once\s*,?\s*and\s+(?P<b>{_AFTER_WALL})\s*,?\s*(?:(?:where|when|there)\s+)?(?:(?:you|we)\s+)?(?:dance|do)\s+it\s+{_TWICE}(?:\s*\(\s*(?:so\s+)?\d{{1,2}}\s*(?:counts?|beats?)\s*\))?",
    lambda found: f"{found['a']} once, {found['b']} twice",
)
EACH_OWN = re.compile(rf"{_AFTER_WALL}[^.;:]{{0,30}}?{_AFTER_WALL}\s+{_TWICE}$", re.IGNORECASE)

_LEADS = r"(?P<lead>after|at\s+(?:the\s+)?end\s+of|end\s+of|following)\s+"
_AND = r"\s*,?\s*(?:and|&|\+)\s*(?:again\s+)?(?:(?:after|at\s+(?:the\s+)?end\s+of|end\s+of|following)\s+)?"


def _two_walls(found: re.Match[str]) -> str:
    return f"{found['lead']} walls {number_of(found['a'])} and {number_of(found['b'])}"


def _number_behind(found: re.Match[str]) -> str:
    return f"{found['lead']} wall {found['n']}"


WALLS = (
    said_as(r"\b(?P<of>(?:of|after|during|from)\s+(?:the\s+)?)rounds?\s+(?=\d)", lambda found: f"{found['of']}wall "),
    # "when you have danced 6 walls"
    said_as(
        rf"\b(?:when|once)\s+(?:you|we)(?:\s+have|['\u2019]ve)?\s+(?:all\s+)?(?:danced|done|finished|completed)\s+(?:all\s+)?(?P<n>\d{{1,2}}|{NUMBER})\s+(?:whole\s+|full\s+)?(?:walls|rounds|times(?:\s+through)?)\b",
        with_number("after wall {}"),
    ),
    # "on walls 2 and 5 counts 15-16 become ..."
    said_as(r"(?<=\bwalls \d and \d)\s+counts(?=\s+\d{1,2}\s?[&\u2013-]\s?\d)", ",counts"),
    # "after 4 wall"
    said_as(r"\b(?P<lead>after|on|in|at|end\s+of)\s+(?:the\s+)?(?P<n>\d{1,2})\s+wall\b", _number_behind),
    # "after the 4th and after the 5th wall", "after both wall 5 and wall 7"
    said_as(
        rf"\b{_LEADS}(?:the\s+)?(?P<a>{ORDINAL})(?:\s+wall)?{_AND}(?:the\s+)?(?P<b>{ORDINAL})\s+(?:walls?|rounds?|times?(?:\s+through)?)(?!\w)",
        _two_walls,
    ),
    said_as(
        rf"\b{_LEADS}both\s+walls?\s+(?P<a>\d{{1,2}}|{NUMBER}){_AND}(?:wall\s+)?(?P<b>\d{{1,2}}|{NUMBER})(?!\w)",
        _two_walls,
    ),
    _TOLD_APART,
    _WHERE_TWICE,
    _ONCE_AND_TWICE,
    said_as(
        rf"\b(?P<twice>{_TWICE})\s+(?P<a>{_AFTER_WALL})",
        lambda found: f"{found['a']} {found['twice']}",
    ),
    said_as(
        rf"\(\s*(?:the\s+)?(?:{ORDINAL}|last)\s+(?:one\s+)?with\s+(?:an?\s+)?(?:small\s+|step\s+|slight\s+)*changes?(?:\s+of\s+steps?)?\s*\)",
        "",
    ),
    said_as(
        rf"\b(?:the\s+|for\s+the\s+)(?:first\s+{NUMBER}\s+times|{ORDINAL}\s+time)\b[^.;(]{{0,80}}?[,(\s]\s*(?:(?:which|that|this)(?:\s+is|['\u2019]s)(?:\s+to\s+say)?|i\.e\.|meaning)?\s*,?\s*(?:at\s+)?(?:the\s+)?(?:end\s+of\s+)?(?=walls?\s+\d)",
        _end_kept,
    ),
    said_as(
        rf"\bonce\s+more\s+when\s+(?:you|we)(?:['\u2019]ve|\s+have)\s+(?:finished|done|danced|completed)\s+(?:the\s+(?P<o>{ORDINAL})(?:\s+(?:wall|time|one))?|wall\s+(?P<n>\d{{1,2}}|{NUMBER}))(?!\w)",
        lambda found: f"after wall {number_of(found['n'] or found['o'])}",
    ),
    said_as(r"\b(?:every|all)\s+(?:the\s+)?other\s+walls?\s+(?:goes?|is|are|as|runs?|danced?)\b[^.;]*", ""),
    said_as(r"\bcount\s+1-2-3-4\b", ""),
    said_as(r"(?<=[.;])\s*(?:and\s+)?then\s+(?:on\s+(?:to|with)\s+|comes\s+)?wall\s+\d{1,2}\s*\.?$", ""),
    said_as(
        rf"\b(?:and\s+)?then\s+(?:continue|carry\s+on|go\s+on)\s+(?:normally\s+|as\s+usual\s+|straight\s+)?(?:with|into|on\s+to|to)\s+(?:the\s+{ORDINAL}\s+wall|wall\s+(?:\d{{1,2}}|{NUMBER}))(?!\w)",
        "",
    ),
    said_as(
        rf"(?<=[.;,])\s*(?:and\s+)?then\s+(?:the\s+{ORDINAL}\s+(?:wall|time)|wall\s+(?:\d{{1,2}}|{NUMBER}))\s+(?:begins|starts|follows|comes)\b[^.;]*",
        "",
    ),
    said_as(
        r"\bwall\s+(?P<n>\d{1,2})\s*[:,]\s*(?:do|dance)\s+the\s+ending\s+from\s+here\b",
        with_number("ending here, wall {}"),
    ),
    said_as(r"\bcts?\.(?=\s*[)\]])", "cts"),
    said_as(r"\bfor\s+the\s+(?:very\s+)?first\s+time\b", ""),
    said_as(r"\ba\s+(?:second|third)\s+time\b", "again"),
    said_as(r"\b(?:thanks\s+to|because\s+of|given|with)\s+(?:that|this|the)\s+(?:restart|tag|bridge)s?\b", ""),
    said_as(
        r"\bthe\s+first\s+(?:one\s+)?(?:is\s+|happens\s+|danced\s+|comes\s+)*(?:at|facing|to)\s+[^.;]{2,30}?\bthe\s+second\b[^.;]*",
        "",
    ),
    said_as(
        rf"\b(?:the\s+)?last\s+wall\s*[(,]\s*(?:wall\s+|number\s+)?(?P<n>{ORDINAL}|{NUMBER})(?=\s*[,)(])",
        with_number("ending wall {}"),
    ),
    said_as(rf"\b(?P<n>{ORDINAL})\s+and\s+(?:last|final)\s+wall\b", with_number("ending wall {}")),
    said_as(rf"\bafter\s+the\s+first\s+(?P<n>{NUMBER})\s+walls\b", with_number("after wall {}")),
    said_as(rf"\b(?:the\s+)?last\s+wall\s+is\s+(?:number\s+|no\.?\s*)(?P<n>{NUMBER})", with_number("end wall {}")),
    said_as(
        rf"\b{_HAVE}(?:finished|danced|done|completed|been\s+through|gone\s+through)\s+(?:(?:the\s+(?:whole\s+)?(?:dance|thing|routine))|it|everything|all\s+of\s+it)\s+for\s+the\s+(?P<n>{ORDINAL})(?:\s+time)?",
        with_number("after wall {}"),
    ),
    said_as(
        rf"\b{_HAVE}(?:done|danced|finished)\s+the\s+(?:whole\s+)?(?:dance|thing|routine)\s+(?P<n>{NUMBER})\s+times",
        with_number("after wall {}"),
    ),
    # "Wall: 4    (1 tag danced twice)", "Phrased (A 32, Tag 4) - Wall : 2": how many there are
    said_as(
        r"(?:^|(?<=[\u2013\u2014|\u00b7])|(?<=\s{2}))\s*walls?\s*:\s*\d(?=\s*(?:$|[(\u2013\u2014|\u00b7,-]|\s{2}))", ""
    ),
    # "walls 3 and 6 have no rumba box"
    said_as(
        r"\bwalls?\s+(?P<n>\d(?:\s*(?:,|and|&)\s*\d)*)\s+ha(?:s|ve)\s+no\s+(?!tags?\b|bridges?\b|re-?starts?\b|steps?\b|extra\b|ending\b|change\b|section\b|vocals?\b|singing\b|music\b|(?-i:[IVX]+\b))[a-z][\w '/-]{2,24}(?=\s*[.;,])",
        lambda found: f"change: walls {found['n']}",
    ),
    said_as(r"\bW(?P<n>\d)\s*:\s*after\s+the\s+(?:whole|full)\s+wall\b", with_number("tag after wall {}")),
    said_as(r"(?:(?:[&,]|\band)\s+(?:start|begin)|\bbefore)\s+W\d\b", ""),
    said_as(
        rf"\b(?P<n>{NUMBER})\s+(?P<what>beats|counts)\s+too\s+many\b",
        lambda found: f"{found['n']} extra {found['what']}",
    ),
    said_as(rf"\bhaving\s+(?:danced|done|finished)\s+(?P<n>{NUMBER})\s+walls\b", with_number("after wall {}")),
    said_as(
        rf"\b(?P<n>{NUMBER})\s+(?P<what>beats|counts)\s+of\s+(?:drums?|silence|music|nothing|guitar|piano)\b",
        lambda found: f"{found['n']} extra {found['what']}",
    ),
    said_as(r"\b(?:it\s+begins\s+at\s+[^.;]{1,20}\s+and\s+)?is\s+cut\s+(?:off|short)\b(?=\s+after)", "restart"),
    said_as(rf"\bwhen\s+the\s+(?P<n>{ORDINAL})\s+is\s+(?:finished|over|done|danced)\b", with_number("after wall {}")),
    said_as(r"\b(?:and\s+)?(?:you|we)\s+(?:get|do|dance)\s+(?:it|this|them)\s+twice\b(?!\s+(?:over|in))", ""),
    # "One restart on wall 4, one little tag after wall 6": one wall each
    said_as(
        r"\bwall\s+(?P<n>\d)\s*,\s+(?=(?:one|two|an?|\d)\s+(?:(?!and\b)\w+\s+)?(?:tags?|restarts?|bridges?|changes?|endings?)\b)",
        lambda found: f"wall {found['n']};",
    ),
    said_as(rf"\bon\s+the\s+(?P<n>{ORDINAL}),\s+which\s+(?:begins|starts)\b", with_number("on wall {}, begins")),
    said_as(
        rf"\b(?P<n>{NUMBER})\s+(?P<what>beats|counts)\s+to\s+(?:kill|fill|spare)\b",
        lambda found: f"{found['n']} extra {found['what']}",
    ),
    said_as(r"\band\s+then\s+it(?:['\u2019]s|\s+is)\s+wall\s+\d\b", ""),
    said_as(r"\btake\s+it\s+(?:again\s+)?from\s+the\s+(?:top|beginning)(?:\s+again)?\b", "restart"),
    # "The 6th wall begins then as usual at 3:00."
    said_as(
        rf"\b(?:the\s+{ORDINAL}\s+wall|wall\s+{NUMBER})\s+(?:then\s+)?(?:begins|starts|comes|follows)\s+[^.;]{{0,24}}?\bas\s+(?:usual|normal|always|ever)\b[^.;]*",
        "",
    ),
    said_as(
        rf"\b(?:when|once|as\s+soon\s+as)\s+(?:the\s+)?(?:wall\s+(?P<n>{NUMBER}))\s+(?:is|has\s+been|comes\s+to\s+an?\s+end|ends|finishes)(?:\s+{_DONE})?",
        with_number("after wall {}"),
    ),
    said_as(
        rf"\b(?:when|once|as\s+soon\s+as)\s+(?:the\s+)?(?P<n>{ORDINAL})\s+{_TIMES}\s+(?:is|has\s+been|comes\s+to\s+an?\s+end|ends|finishes)(?:\s+{_DONE})?",
        with_number("after wall {}"),
    ),
    said_as(
        rf"\bwall\s+(?P<n>{NUMBER})\s+(?:breaks\s+off(?:\s+early)?|is\s+(?:a\s+)?(?:short|half|broken|shorter)(?:\s+(?:one|wall))?|is\s+cut\s+short|stops\s+early|is\s+only\s+half(?:\s+a\s+wall)?)",
        with_number("restart wall {}"),
    ),
    said_as(
        rf"\bthe\s+(?P<n>{ORDINAL})\s+wall\s+(?:breaks\s+off(?:\s+early)?|is\s+(?:a\s+)?(?:short|half|broken|shorter)(?:\s+(?:one|wall))?|is\s+cut\s+short|stops\s+early|is\s+only\s+half(?:\s+a\s+wall)?)",
        with_number("restart wall {}"),
    ),
    said_as(rf"\b(?:the\s+)?last\s+wall\s+is\s+(?:the\s+)?(?:wall\s+)?(?P<n>{ORDINAL})\b", with_number("end wall {}")),
    said_as(
        rf"\b(?:when|once|as\s+soon\s+as)\s+(?:you|we)(?:['\u2019]ve|\s+have)?\s+(?:finished|danced|done|completed)\s+(?:the\s+)?(?=(?:walls?\s+\d|{ORDINAL}\s+wall)(?![^.;]*\bagain\s+(?:when|once)\b))",
        "after ",
    ),
    said_as(
        rf"\bthe\s+{ORDINAL}\s+time\s+(?:(?:that|this|it)\s+(?:leaves|brings|puts|finds|happens|is)|you(?:['\u2019]re|\s+are|\s+will\s+be|['\u2019]ll\s+be|\s+face))\b[^.;]*?(?:\bthe\s+(?:{ORDINAL}|other)\s+time\b[^.;]*|(?=[.;]|$))",
        "",
    ),
    said_as(
        rf"\b(?:ready|all\s+set|set|in\s+place)\s+(?:for|to\s+(?:start|begin|go))\s+(?:wall\s+{NUMBER}|the\s+{ORDINAL}\s+wall|again(?=\s*[.!)]|$))",
        "",
    ),
    # "The second wall brings you home to 12:00, and there ...", "when you finish the 2nd wall and when you finish the 4th"
    said_as(
        rf"\b(?:the\s+(?P<o>{ORDINAL})\s+wall|wall\s+(?P<n>{NUMBER}))\s+(?:brings|takes|gets|leaves)\s+(?:you|us)\b[^.;]{{0,40}}?,?\s*(?:and|so)?\s+(?:there|then)\b",
        lambda found: f"after wall {number_of(found['n'] or found['o'])}",
    ),
    said_as(
        rf"\bwhen\s+(?:you|we)\s+finish\s+(?:the\s+)?(?:(?P<o>{ORDINAL})\s+wall|wall\s+(?P<n>{NUMBER}))\s+and\s+(?:again\s+)?when\s+(?:you|we)\s+finish\s+(?:the\s+)?(?:(?P<p>{ORDINAL})(?:\s+wall)?|wall\s+(?P<m>{NUMBER}))",
        lambda found: f"after walls {number_of(found['n'] or found['o'])} and {number_of(found['m'] or found['p'])}",
    ),
    # "The fourth wall has only its first 24 counts"
    said_as(
        rf"\b(?:the\s+(?P<o>{ORDINAL})\s+(?:wall|time|round)|wall\s+(?P<n>{NUMBER}))\s+(?:has|is|gets)\s+(?:only|just)\s+(?:its|the)?\s*(?:first\s+)?(?P<c>{NUMBER})\s+(?:counts|beats)\b(?!\s+(?:extra|more))",
        lambda found: f"restart wall {number_of(found['n'] or found['o'])} after {number_of(found['c'])} counts",
    ),
    # "After four times you have seen all the walls. That fifth time round ..."
    said_as(
        rf"\bafter\s+{NUMBER}\s+times\s+you\s+(?:have\s+seen|are|will\s+be|face|have\s+faced)\b[^.;]*(?=[.;])",
        "",
    ),
    # "It finishes during wall 6", "in wall 7 the music runs out"
    said_as(
        rf"\bit\s+(?:all\s+)?(?:finishes|ends|stops)\s+(?:during|in|on)\s+wall\s+(?P<n>{NUMBER})",
        with_number("ending wall {}"),
    ),
    said_as(
        rf"\b(?:during|in|on)\s+wall\s+(?P<n>{NUMBER}),?\s+(?:the\s+)?(?:music|song|track|band)\s+(?:runs\s+out|ends|finishes|is\s+over)\b",
        with_number("ending wall {}"),
    ),
)
