"""Walls told by their turn among others: "in the 4. wall", "the second time you start at 12:00", "when the fifth is over",
for :mod:`caller.routine.layout.paraphrases`."""

from __future__ import annotations

import re

from caller.routine.layout.numbers import NUMBER, ORDINAL
from caller.routine.layout.wall_phrases import said_as, with_number

_CLOCK = r"(?:(?:the\s+)?(?:front|home|back)(?:\s+wall)?|(?:1[0-2]|[369])(?:[:.]00|\s*o['\u2019]?\s?clock)(?:\s+wall)?)"
_WALL_LIST = r"walls?\s+\d{1,2}(?:\s*(?:,\s*and|,|and|&)\s*\d{1,2})*+"
_SO_FAR = r"(?:[^.;:(]|:(?=\d)){0,40}?"  # what else is said of it in its sentence
_EACH_TIME = r"(?:each|every|any|the)\s+(?:first\s+)?(?:\w+\s+){0,2}?(?:times?|wall)"


def _nth_facing(found: re.Match[str]) -> str:
    """ "2nd time you start the dance at 12:00": "the 2nd time we face 12:00", of where a wall starts."""
    return f"the {found['n']} time we face {found['at']}"


WALLS_IN_TURN = (
    # "in the 4. wall", "in the 3. and the 5. wall"
    said_as(
        r"(?:(?<=the )|(?<=in )|(?<=on )|(?<=of )|(?<=after )|(?<=during )|(?<=^)|(?<=\())(?P<a>\d{1,2})\.\s?(?:(?P<and>and|&|,|\+)\s*(?:(?:of|in|after)\s+)?(?:the\s+)?(?P<b>\d{1,2})\.\s?)?(?:walls?|round|rotation)\b(?!\s*\d)",
        lambda found: f"wall {found['a']}" if not found["b"] else f"walls {found['a']} and {found['b']}",
    ),
    # "(the very first start of all counts as the first time)"
    said_as(
        r"[(,]\s*(?:(?:with|and)\s+)?(?:the\s+|your\s+)?(?:very\s+)?(?:first|beginning|start|opening|1st)\b[^().;:]{0,40}?\b(?:counts?|counting|counted|being|is)\b[^().;:]{0,24}?\b(?:first|one|1|1st|included|too)\b(?:\s+(?:time|one))?\s*(?:\)|(?=[,.;]))",
        "",
    ),
    said_as(
        r"\((?:counting|including|incl\.?)\s+(?:the\s+)?(?:very\s+)?(?:first|beginning|start|opening)\b[^().;:]{0,30}\)",
        "",
    ),
    said_as(
        rf"\b(?:the\s+)?(?P<n>{ORDINAL})\s+time\s+(?:that\s+)?(?:you|we)\s+(?:(?:find\s+(?:yourself|yourselves|ourselves)|are|come\s+to)\s+(?=start|begin))?(?:start|begin|set\s+off)(?:ing|ning)?(?:\s+(?:the\s+(?:whole\s+)?dance|dancing|a\s+(?:new\s+)?wall|again|(?:from\s+)?(?:count\s+1|the\s+(?:top|beginning))))?+\s*+,?\s*+(?:(?:while\s+)?(?:facing|at|to|towards?|from|on|looking\s+(?:at|to))\s+)(?:the\s+(?=\d))?(?P<at>{_CLOCK})",
        _nth_facing,
    ),
    said_as(
        rf"\b(?:the\s+)?(?P<n>{ORDINAL})\s+time\s+(?:that\s+)?(?:you|we)\s+(?:finish|end|complete|come\s+to\s+the\s+end\s+of)\s+(?:(?:the\s+|a\s+)?(?:whole\s+|full\s+)?(?:wall|dance|round)\s*,?\s*)?(?:and\s+)?(?:(?:you|we)\s+)?(?:are\s+|stand\s+)?(?:facing|at|to|towards?|on|face|see|looking\s+(?:at|to))\s+(?:the\s+(?=\d))?(?P<at>{_CLOCK})",
        lambda found: f"the {found['n']} time we end at {found['at']}",
    ),
    # "each time you finish a wall at 6:00, so walls 2 and 6"
    said_as(
        rf"\b{_EACH_TIME}\s+(?:that\s+)?(?:you|we|a\s+wall)\s+(?:finish|end|complete)(?:e?s)?\b{_SO_FAR}\s*[,(]\s*(?:(?:so|that\s+is|i\.e\.|meaning|namely|which\s+is|that\s+means|in\s+other\s+words)\s*,?\s*)?(?:(?:after|at\s+the\s+end\s+of|on)\s+)?(?={_WALL_LIST})",
        "at the end of ",
    ),
    said_as(
        rf"\b{_EACH_TIME}\s+(?:that\s+)?(?:you|we|a\s+wall)\s+(?:(?:start|begin|face)s?|(?:are|is|['\u2019]re)\s+(?:at|facing|back))\b{_SO_FAR}\s*[,(]\s*(?:so|that\s+is|i\.e\.|meaning|namely|which\s+is|that\s+means)\s*,?\s*(?:on\s+|in\s+)?(?={_WALL_LIST})",
        "on ",
    ),
    # "after 4 walls, when you're back home at 12:00", "after the first four walls"
    said_as(
        rf"\b(?:after|once|when)\s+(?:the\s+(?:first\s+)?|all\s+|you(?:['\u2019]ve|\s+have)\s+(?:done|danced)\s+(?:the\s+first\s+)?)?(?P<n>{NUMBER})\s+(?:whole\s+|full\s+|complete\s+)?walls\b(?!\s+(?:are\s+)?(?:done|down|over|gone))(?:[^.;:]{{0,6}}?\bwhen\s+(?:you|we)(?:['\u2019]re|\s+are)\s+[^.;:]{{0,30}}?{_CLOCK}(?:\s+at\s+{_CLOCK})?)?",
        with_number("after wall {}"),
    ),
    # "when the fifth is over", "as soon as wall 5 is over"
    said_as(
        rf"\b(?:when|once|as\s+soon\s+as|after)\s+(?:the\s+)?(?P<n>{ORDINAL})(?:\s+(?:one|wall|time))?\s+(?:is|comes|has)\s+(?:been\s+)?(?:over|done|finished|danced|complete|through|to\s+an\s+end|ended)\b",
        with_number("after wall {}"),
    ),
    # "when you have danced round all four walls once"
    said_as(
        r"\b(?:when|once|after)\s+(?:you|we)(?:\s+have|['\u2019]ve)\s+(?:danced|been|gone|come)\s+(?:all\s+the\s+way\s+)?(?:a?round\s+)?all\s+(?P<n>two|four)\s+walls\s+once\b",
        with_number("after wall {}"),
    ),
    # "After the first restart, wall 6 is danced from 3:00": how the dance stands there, no event
    said_as(
        rf"\b(?:after|because\s+of|thanks\s+to)\s+(?:the\s+|this\s+|that\s+)?(?:{ORDINAL}\s+)?(?:re-?starts?|tags?|bridges?),?\s+(?:the\s+)?(?:wall\s+\d{{1,2}}|{ORDINAL}\s+wall)\s+(?:is\s+danced|starts?|begins?|faces?)\b[^.;]*",
        "",
    ),
    said_as(
        rf"\bthe\s+(?:{ORDINAL}\s+|last\s+)?(?:re-?start|tag|bridge)\s+(?:brings|takes|turns|gets|leaves)\s+(?:you|us|everybody|everyone|the\s+\w+)\b[^.;]*",
        "",
    ),
    # "On walls 2 and 6, the first and second time you begin at 9:00": told once more
    said_as(
        rf"(?P<walls>\b{_WALL_LIST})\s*,\s*(?:the\s+)?{ORDINAL}(?:\s+(?:and|&)\s+(?:the\s+)?{ORDINAL})?\s+times?\s+(?:that\s+)?(?:you|we)\s+(?:start|begin|are|face)\b[^.;,:]{{0,24}}?{_CLOCK}",
        lambda found: found["walls"],
    ),
    # "then off you go with wall 5", "then commence wall 5", "then wall 3"
    said_as(
        rf"[,;]?\s*\b(?:and\s+)?(?:then\s+)?(?:off\s+(?:you|we)\s+go\s+(?:with|into|on)|(?:you\s+|we\s+)?commence|start\s+after\s+it\s+the\s+dance\s+normally\s+(?:at|with|on))\s+wall\s+{NUMBER}(?=\s*(?:[.;!]|$))",
        "",
    ),
    said_as(rf",\s*(?:and\s+)?then\s+wall\s+{NUMBER}(?=\s*(?:[.;!]|$))", ""),
    said_as(r"\(\s*(?:the|that|this)\s+short\s+wall\s+(?:counts|is\s+counted)\s+as\s+(?:a\s+)?wall[^().;]{0,20}\)", ""),
    said_as(
        rf"\b(?:the\s+)?last\s+(?:time|wall)\s*(?:,|=)\s*(?:that\s+is\s+)?wall\s+(?P<n>{NUMBER})\b",
        with_number("ending wall {}"),
    ),
    # "begin the dance for the fifth time"
    said_as(
        rf"\b(?:when|once|as)\s+(?:you|we)\s+(?:begin|start)\s+the\s+dance\s+for\s+the\s+(?P<n>{ORDINAL})\s+time\b",
        with_number("wall {}"),
    ),
    # "Two walls later, in the sixth, leave the dance ..."
    said_as(
        rf"\b(?:\w+\s+walls?\s+(?:later|on|after\s+that|further(?:\s+on)?)\s*[,:(]\s*)(?:that\s+is\s+|so\s+|i\.e\.,?\s+)?(?:in|on|during)\s+(?:the\s+)?(?P<n>{ORDINAL})(?:\s+(?:wall|one))?(?=\s*[,:)])",
        with_number("on wall {}"),
    ),
    # "In the third you break off after the first 16"
    said_as(
        rf"(?<=[.;:]\s)(?:in|on|during)\s+the\s+(?P<n>{ORDINAL})(?=\s+(?:one\s+)?(?:you|we)\s+(?:break|stop|leave|restart|start|begin|dance|do|only|just)\b)",
        with_number("wall {}"),
    ),
    # "Walls four and five are whole again", "the first two walls are danced whole"
    said_as(
        rf"\b(?:walls\s+{NUMBER}(?:\s*(?:,\s*and|,|and|&|to)\s*{NUMBER})*|the\s+(?:first|next|other)\s+{NUMBER}\s+walls|the\s+(?:other|remaining)\s+walls)\s+are\s+(?:danced\s+|done\s+|all\s+|again\s+)*(?:whole|full|complete|normal|in\s+full|as\s+(?:usual|normal))(?:\s+again)?\b",
        "",
    ),
    said_as(
        r"\binstead\s+of\s+(?:at\s+|to\s+)?(?:the\s+)?(?:front|back|home|(?:1[0-2]|[369])[:.]00)(?:\s*(?:,|and|or|/)\s*(?:the\s+)?(?:front|back|home|(?:1[0-2]|[369])[:.]00))*+(?=\s*(?:[.,;:)]|$))",
        "",
    ),
    # "there is an instrumental line of eight beats": counts put in
    said_as(
        rf"\b(?:there\s+(?:is|comes)|there['\u2019]s|comes|you\s+(?:hear|get))\s+an?\s+(?:instrumental|musical|extra|spare|little|short|quiet)\s+(?:\w+\s+)?(?:line|bit|passage|break|phrase|gap|interlude|fill)\s+of\s+(?P<n>{NUMBER})\s+(?:counts|beats)\b",
        with_number("{}-count tag"),
    ),
)
