"""The telling words of a sentence about an event, as one pattern of named alternatives, and the words that give it away."""

from __future__ import annotations

import re

from caller.routine.layout.numbers import NUMBER, ORDINAL

_ONE = rf"(?:{ORDINAL}|{NUMBER})"
_LIST = rf"{_ONE}(?:\s*(?:,\s*(?:and|&)|,|&|and|\+|/|or)\s*(?:(?:of\s+)?walls?\s*|the\s+(?!one\b|two\b|first\s+\d)|of\s+the\s+)?(?!(?:one|1)\s+(?:restart|re-start|tag|bridge|ending|change)\b)#?{_ONE}(?!\s*(?:counts?|cts?\b|c\b|beats?|o['\u2019]?\s?clock)))*"
_CLOCK = r"(?P<{0}h>1[0-2]|0?[1-9])(?:[:.](?P<{0}m>[0-5]\d)|\s*o['\u2019]?\s?clock)"
_FRONT = r"(?P<{0}word>front|home|back|rear)(?:\s+wall)?"

TOKENS = re.compile(
    "|".join(
        (
            r"(?P<none>\b(?:no|without|there\s+(?:is|are)\s+no|do\s+not|don['\u2019]?t)\s+(?:tags?|restarts?|bridges?|endings?|step\s+changes?|changes?\s+of\s+steps?)"
            r"(?:\s*(?:,|/|&|and|or|nor)\s*(?:no\s+)?(?:tags?|restarts?|bridges?|endings?|step\s+changes?))*"
            r"|\b(?:tags?|restarts?|bridges?)(?:\s*(?:/|&|and)\s*(?:tags?|restarts?|bridges?))*\s*[:=]\s*(?:none|nil|yes|(?:\d|one|two|three)(?:\s+different(?:\s+ones?)?)?)(?=\s{2,}[A-Z]|\s*(?:[|;)]|$|[^\w\s(:,.]\W*$|\((?![^)]*(?:\d|walls?\b)))))",
            rf"(?P<first>\b(?:(?:the\s+)?first\s+(?P<firstn>{NUMBER})\s*(?:-?\s*)?(?:counts?|cts?|beats?)\s+of\s+(?:the\s+)?(?:tag|bridge)))",
            rf"(?P<long>\b(?P<longn>{NUMBER})\s*(?:-\s*|\u2010|\u2011|\u2013)?\s*(?:counts?|cts?|beats?|c)\.?\s?(?:-\s*)?(?=(?:easy\s+|short\s+|little\s+|extra\s+|simple\s+)?(?:tag|bridge|add-?on|ending|end\b))|\b(?P<longx>{NUMBER})\s+(?=(?:extra|additional)\s+(?:counts?|beats?)))",
            rf"(?P<kind>\b(?:(?:put|putting|add|adding|insert|squeeze|slip|fit)\s+(?:(?:in|on|these|the\s+following)\s+)?(?:an?\s+|another\s+)?(?:extra\s+)?(?P<kn>{NUMBER})[\s-]*(?:extra\s+|more\s+|slow\s+|additional\s+)*(?:counts?|beats?)(?!\s+(?:of|into|in)\s+(?:the|this|section))"
            rf"|(?:give|gives)\s+(?:me|us|it)\s+(?P<kg>{NUMBER})[\s-]*(?:extra\s+|more\s+|slow\s+)*(?:counts?|beats?)|(?P<kx>{NUMBER})\s+(?:(?:more|further)\s+(?:counts?|beats?)|(?:counts?|beats?)\s+(?:extra|more|longer))"
            r"|on\s+(?:counts?\s+)?\d{1,2}\s?[-\u2013]\s?\d{1,2}\s+(?:you|we)\s+(?=stomp|step|walk|sway|touch|hold|clap)|go(?:es)?\s+no\s+further|stops?\s+short|go\s+again\s+from|don['\u2019]?t\s+\w+\s+(?:on\s+)?(?:counts?\s+)?(?=\d)|is\s+the\s+last(?:\s+one)?(?=\s*[.,:;(]|\s+and\b)|becomes?(?=\s+(?:an?\b|(?:\w+\s+)?(?:vines?|steps?|turns?|shuffles?|walks?|rocks?|stomps?|touches)\b))|(?<!with )(?<!from )(?<!at )(?<!to )(?:counts?|beats?)\s+\d{1,2}(?:\s*(?:[-\u2013&]|to|and)\s*\d{1,2})?(?:\s+of\s+this\s+section)?(?=\s*(?:[:=]|(?:are|is|becomes?|turns?\s+into)\b(?!\s*(?:the\s+same|done|danced|over))))|(?:is|are)\s+(?=replaced\b)|swap|skip(?=\s+s\s\d)"
            rf"|(?:hold|wait|pause|freeze)\s+(?:for\s+)?(?P<kh>{NUMBER})\s+(?:counts?|beats?)|(?:an?|one|little|cheeky|smidge\s+of|bit\s+of)\s+extra(?=\s+(?:music|at|after|when|bit)\b)"
            r"|(?<!no )(?:extra|additional)\s+(?:counts?|beats?|steps?)|extras?(?=\s*[,:(.\d])|bonus(?=\s*[,:(])|in\s+place\s+of|step[\s-]+changes?|changes?\s+of\s+steps?|tag\s*/\s*bridges?|bridge\s*/\s*tags?|tags?|bridges?"
            r"|re-?\s?starts?(?:ed|ing)?|(?:start|begin)\s+from\b|(?:starts?|begins?|started)\s+(?:the\s+dance\s+)?(?:again|over|anew|afresh)(?:\s+from\s+(?:the\s+)?(?:top|beginning|start|count\s+(?:1|one)))?"
            r"|(?:break|breaks|leave|stop)(?:\s+it)?\s+(?:off\b(?!\s+(?:the\s+)?(?:sections?|counts?|parts?|s?\d|last))|(?=after|when|once|as\s+soon))|(?:start|begin|go\s+back\s+to|back\s+to|from)\s+(?:again\s+)?(?:from\s+)?(?:the\s+)?(?:top|beginning|start|(?:count|beat)\s+(?:1|one)(?!\s*[&\d-]))\b"
            r"|(?<!\()(?<!\(the )(?:dance|song|music|track)\s+(?:ends|finishes)(?=\s+(?:on|in|during|at|after|part)\b(?!\s+(?:the\s+)?(?:wall\s+)?(?:front|back|home|\d{1,2}:\d)))|(?:big\s+)?endings?(?!\s+(?:up\b|(?:on|with)\s+(?:[RL]\b|[RL]F\b|the\s+(?:left|right)|left|right|weight)))|finish(?:es|ing)?|(?:for\s+)?an?\s+(?:\w+\s+)?finish(?=\s*[(:])|(?<![a-z]\s)end(?=\s*[(:])|finale|final(?=\s*[:(])|to\s+end\b|ends?\s+the\s+dance|replac(?:e|es|ing)(?!\s+(?:weight|[RL]\b|[RL]F\b|right\b|left\b|on\b))|ends?\s+here|cut\s+short|bail\s+out|add[\s-]?on|end\s+of\s+(?:the\s+)?(?:dance|song|music)(?=\s*(?:[:(\-]|$))|instead\s+of|(?:is|are)\s+changed(?=\s+to|\s*:)|changed\s+to|instead(?=\s*:)|substitute|modif(?:y|ied|ication)|(?<!weight\s)(?<!ball\s)changes?(?!\s+(?:of\s+)?weight|\s+feet))\b|\b(?P<nextwall>(?:(?:begin|start)s?|(?:straight\s+)?into)\s+(?:with\s+)?(?:the\s+)?(?:new\s+)?(?:wall\s+(?:\d+|[a-z]+)|(?:second|third|fourth|fifth|sixth|seventh|eighth|ninth|tenth|\d{1,2}(?:nd|rd|th))\s+(?:wall|time))\b(?:\s+(?:at\s+once|from\s+there))?|wall\s+(?:no\.?\s*)?\d+\s+(?:then\s+(?:begins|starts)|follows|(?:starts|begins)\s+from)|(?:song|music|track)\s+(?:finishes|ends|stops|fades)[^.;)]{0,20}?wall\s+\d+))",
            rf"(?P<count_in>\b(?:(?:after|on|at|following|to|up\s+to|until|through|from)\s+)?counts?\s+(?P<ca>{NUMBER})(?P<caand>\s?&|&)?\s*(?:,\s*)?(?:of|in|from)\s+(?:the\s+)?(?:section|sec|sect|set|s)\.?\s*(?P<cs>{NUMBER}|\d{{1,2}})"
            rf"|\b(?:after|in|on|during|of|at)?\s*(?:section|sec|sect|set|s)\.?\s*(?P<cs2>\d{{1,2}})\b\s*[,:]?\s*(?:after|at|on|to|up\s+to)?\s*(?:counts?|cts?)\s*(?P<ca2>{NUMBER})"
            rf"|\b(?:after|following)\s+(?P<ca3>{NUMBER})\s*(?:counts?|cts?\.?)\s+(?:of|in|into)\s+(?:the\s+)?(?:section|sec|sect|set|s)\.?\s*(?P<cs3>{NUMBER}|\d{{1,2}})"
            rf"|\b(?:the\s+)?first\s+(?P<ca4>{NUMBER})\s*(?:counts?|cts?\.?)\s+of\s+(?:the\s+)?(?:section|sec|sect|set|s)\.?\s*(?P<cs4>{NUMBER}|\d{{1,2}})|\bincluding\s+(?:the\s+)?(?P<ca5>\d{{1,2}})&?\s+of\s+(?:the\s+)?(?:section|sec|sect|set|s)\.?\s*(?P<cs5>{NUMBER}|\d{{1,2}}))",
            rf"(?P<between>\bbetween\s+(?:walls?\s*(?P<bw>{_ONE})\s*(?:&|and|-)\s*(?:wall\s*)?{_ONE}|the\s+(?P<bo>{ORDINAL})\s+(?:wall\s+)?and\s+(?:the\s+)?{ORDINAL}\s+wall))",
            rf"(?P<before>\bbefore\s+(?:starting\s+|beginning\s+|(?:you|we)\s+(?:start|begin)\s+|the\s+start\s+of\s+)?(?:the\s+)?(?:wall\s*(?P<pw>{_ONE})|(?P<po>{ORDINAL})\s+wall))",
            rf"(?P<end>\b(?:(?:at|after|on|to|and\s+again\s+at)\s+)?(?:the\s+)?(?:very\s+)?end(?:s)?\s+of\s+(?:(?:the|each|every|this|that)\s+)?(?=(?:walls?|{ORDINAL}|odd|even|rotation|routine|dance|back|front|{NUMBER}\b))|\b(?:after|following|at\s+end\s+of)\s+(?:you(?:'ve|\s+have)?\s+)?(?:complet(?:e|ing|ed)|finish(?:ing|ed)?|danc(?:e|ing|ed))?\s*(?:the\s+)?(?=walls?\b|{ORDINAL}\s+(?:wall|rotation|repetition|time|sequence)|(?:every|each|all|odd|even)\s+(?:odd|even|back|front)?\s*walls?\b))",
            rf"(?P<walls>(?<!on with )\b(?:walls?|in\s+rounds?|repetitions?)\s*(?:numbers?|nos?\.?|\#)?\s*[:=]?\s*(?P<wl>{_LIST})(?![.:]\d\d)(?!\s*(?:-\s*)?(?:counts?|cts?|beats?)\b(?!\s*\d)|\s+(?:as\s+(?:usual|normal)|is\s+(?:then\s+)?(?:normal|complete|whole)|in\s+full))"
            rf"|\b(?P<wo>{ORDINAL}(?:\s*(?:,\s*(?:and|&)|,|&|and)\s*(?:of\s+|in\s+|on\s+)?(?:the\s+)?{ORDINAL})*)\s+(?:walls?|rounds?|rotations?|repetitions?|rep\b|sequences?|times?\s+(?:through|thru|round|around)|(?<!clock the first )(?<!clock the second )(?<!:00 the first )(?<!:00 the second )(?<!a second )(?<!a third )time\b(?!\s+(?:(?:that\s+)?(?:you|we)\s+(?:(?:start|begin|are|come)\s+(?:the\s+dance\s+|back\s+|round\s+)?)?)?(?:fac|see|end\s+at\s|at\s+the\s+|to\s+the\s+))|pass(?:es)?|pattern)"
            rf"|\band\s+again\s+(?:[a-z']+\s+){{0,6}}?the\s+(?P<wz>{ORDINAL})(?!\s*(?:section|set|eight|8|counts?|beats?|twelve|12|quarter|half))"
            rf"|(?<=end of the )(?P<we>{ORDINAL})(?=\s*(?:[.,;:()\u2010-\u2015-]|$|(?:and|&|you|we|there|add|dance|do|put|comes?|just|then|hold|sway|stomp)\b))"
            rf"|(?<=after the )(?P<wf>{ORDINAL})(?=\s*[.,;:)]|\s*$)"
            rf"|(?P<wd>{NUMBER})\s+walls?\s+(?:are\s+)?(?:done|down|over|gone|finished)|\bafter\s+(?P<wt>two|three|four|five|six|seven|eight|\d)\s+times\b"
            rf"|\bw(?P<ws>\d{{1,2}}(?:\s*(?:,|&|and|/)\s*w?\d{{1,2}}(?!\d|[:.]\d\d|\s*(?:c|cts?|counts?|beats?)\b))*)\b)",
            r"(?P<every>\b(?:every|each|all|on)?\s*(?:the\s+)?(?P<eo>odd|even)(?:[\s-]+numbered)?\s+walls?|\b(?:every|each)\s+(?P<eother>other|second)\s+wall|\b(?:every|each|all(?:\s+the)?)\s+(?P<eall>walls?))",
            rf"(?P<nthfacing>\bthe\s+(?P<nf>{ORDINAL})\s+time\s+(?:that\s+)?(?:you|we)\s+(?:(?:start|begin|are|come)\s+(?:the\s+dance\s+|back\s+|round\s+)?)?(?P<nends>end\s+)?(?:fac(?:e|ing)|at|to)\s+(?:the\s+)?(?:{_CLOCK.format('n')}|{_FRONT.format('n')}))",
            rf"(?P<eachfacing>\b(?:each|every|whenever|when|any)\s*(?:time|wall)?\s*(?:that\s+)?(?:you(?:'re|\s+are)?\s+)?(?:start(?:s|ing)?\s+|begin(?:s|ning)?\s+)?(?:fac(?:e|es|ing)|at|on)\s+(?:the\s+)?(?:{_CLOCK.format('e')}|{_FRONT.format('e')})"
            rf"|\b(?:each|every|whenever|when|any)\s*(?:time\s+)?(?:that\s+)?(?:you|we|a\s+wall|the\s+(?:wall|dance))(?:['\u2019](?:ve|re)|\s+(?:have|are))?\s+(?P<ends>(?:ends?|ended|finish(?:es|ed)?|come|comes|came|get|got|gone|return(?:ed)?|arrived?|back)\b(?:\s+(?:a|the)\s+(?:wall|dance))?(?:\s+(?:up|back|round|around|home|again|all|the|way))*\s+(?:fac(?:e|es|ing)|looking|at|to|on|in)\s+)(?:at\s+)?(?:the\s+)?(?:{_CLOCK.format('g')}|{_FRONT.format('g')})"
            rf"|\b(?:each|every)\s+(?P<bfword>front|back|home)\s+wall)",
            r"(?P<last>\b(?:the\s+)?(?:last|final)\s+(?:wall|rotation|time\s+(?:through|round)))",
            rf"(?P<after>\b(?:done|danced|completed|finished)\s+(?P<aq>{NUMBER})\s+(?:counts?|beats?)\b|\b(?P<as>{NUMBER})\s+(?:counts?|beats?)\s+(?:of\s+it\s+)?(?:are|have\s+been)\s+(?:done|danced|over)|\b(?:has|is|gets|have)\s+only\s+(?:its\s+|the\s+)?(?:first\s+)?(?P<at>{NUMBER})\s+(?:counts?|beats?)|\bdo\s+1\s?[-\u2013]\s?(?P<au>\d{{1,2}})|\bcount\s+(?P<am>{NUMBER})\s+(?:brings|takes|puts|leaves|gets)\s+you\b|\b(?:after|(?<!the )following|dance|danc(?:e|ed|ing)|do|only|just|complete|at|up\s+to|to|through|until|till|on)\s+(?:only\s+|just\s+|up\s+to\s+|to\s+|through\s+|the\s+|its\s+|those\s+|these\s+|all\s+|and\s+incl(?:uding\b|\.|\b)\s*)*(?:first\s+)?(?:(?:counts?|beats?|steps?|cts?\.?(?=\s\d))\s*(?P<aa>{NUMBER})(?P<aaand>\s?&)?(?!\s*{chr(45)}\s*\d|\s?&?\s*,?\s*(?:of|in)\s+(?:the\s+)?(?:section|sect?|set|s)\.?\s*\d|\s+of\s+this\b|\d)|(?P<ab>{NUMBER})(?P<aband>\s?&)?\s*(?:-\s*)?(?:counts?\b|cts?\b\.?|beats?\b|c\b)(?!\s*-?\s*(?:tag|bridge)|\s+(?:an?|per|to\s+the|in\s+the)\s+minute|\s+more\b|\s+of\s+(?:the\s+)?(?:tag|bridge)))"
            rf"|\b(?:drop|leav(?:e|ing)\s+out|skip|omit|miss\s+out|without|minus)\s+(?:the\s+)?(?:last|final)\s+(?P<left>{NUMBER})\s*(?:counts?|cts?|beats?)\b(?!\s+of\b)"
            rf"|@\s*(?P<pa>(?!(?:3|6|9|12)\b(?!\s?c))\d{{1,3}})(?!\s*(?:[:.]\d|bpm))\s?(?:counts?\b|cts?\b|c\b)?|\bafter\s+the\s+[a-z][a-z /&-]{{2,36}}?\s+(?:on|\()\s*(?:counts?\s+)?(?:\d{{1,2}}\s*(?:&|{chr(45)}|and)\s*)?(?P<pb>\d{{1,2}})\b(?!\s*(?:counts|o['\u2019]))"
            rf"|\b(?:drop|leave\s+(?:out|off)|skip|omit|miss\s+(?:out|off))\s+(?:counts?\s+)?(?P<dr>\d{{1,2}})\s*(?:to|-|\u2013)\s*\d|\bonly\s+(?:counts?\s+)?1\s*(?:to|-|\u2013)\s*(?P<al>\d{{1,2}})|\b(?:is\s+)?only\s+(?:the\s+first\s+)?(?P<aj>{NUMBER})\s+(?:of\s+(?:the|its)\s+\d+\s+)?(?:counts?\b|beats?\b)(?!\s+of\s+(?:the\s+)?(?:tag|bridge))|\b(?:dance\s+to|as\s+far\s+as|up\s+to)\s+(?:count\s+|beat\s+)?(?P<ao>\d{{1,2}})\s?&?(?=\s*(?:[.;(]|(?:,\s*|\s+)(?:and|then|so)\b))|,?\s*\bthat(?:['\u2019]s|\s+is)\s+(?P<an>{NUMBER})\s*counts?\b|[,:=]\s*(?:so\s+|only\s+)?(?P<ak>{NUMBER})\s*counts?(?=,?\s*(?:and\s+)?(?:then|re-?start|till|until|up\s+to|and\s+(?:start|begin)))|\b(?:the\s+)?first\s+(?P<ac>{NUMBER})\s*(?:counts?\b|cts?\b|beats?\b)(?!\s+of\s+(?:the\s+)?(?:tag|bridge))|\bcounts?\s+1\s*(?:-|\u2013|to|through)\s*(?P<ad>{NUMBER})|\b(?P<ae>{NUMBER})\s*(?:counts?|cts?\b|beats?)\s+(?:into|in)\b(?!\s+(?:all|total))|\bafter\s+(?P<af>\d{{1,3}})(?!\s*(?:[:.]\d|st|nd|rd|th|o['\u2019]))\b|\(\s*(?:count\s*|that(?:'s|\s+is)\s+)?(?P<ag>\d{{1,2}})\s*(?:counts?|cts?\.?|c)\b(?!\s*(?:tag|bridge))|\(\s*count\s+(?P<ah>\d{{1,2}})\s*(?:\)|,(?=\s*(?:facing|you)))|\bi\.?e\.?,?\s+(?P<ai>\d{{1,2}})\s*(?:counts?|cts?))",
            rf"(?P<section>\b(?:(?:at\s+)?(?:the\s+)?end\s+of|after|following|at)\s+(?:the\s+)?(?:section|sect|sec|set|s)\.?\s*(?P<sn>{NUMBER}|\d{{1,2}})(?!\w)|\b(?:(?:leave|leaving|miss|skip)\s+(?:out|off)|omit|skip|drop)\s+(?:sections?\s+|parts?\s+)?(?P<lo>[A-H]|\d{{1,2}})\b(?!\s*counts?)|\b(?:after|following|end\s+of)\s+(?:the\s+)?(?P<so>{ORDINAL})\s+(?:section|set|chapter|block|(?:8|eight|6|six|12|twelve|16)(?!\w))|\b(?:done|danced|finished|completed)\s+(?:the\s+)?(?:section|sect|sec|set)\.?\s*(?P<sq>{NUMBER}|\d{{1,2}})(?!\w)|\bthe\s+(?P<sp>{ORDINAL})\s+(?:section|set|chapter|six|eight|twelve)\s+(?:is\s+)?(?:done|danced|finished|over)|\b(?:after|following|end\s+of|through)\s+(?:(?:section\s+)?[IVX]+\s*(?:and|&|,)\s*)?(?:chapter\s+)?(?P<sr>[IVX]{{1,4}})\b|\b(?:do|dance)\s+(?:only\s+)?(?:[IVX]{{1,4}}\s*(?:,|and|&|{chr(45)})\s*)+(?P<srr>[IVX]{{1,4}})\b|\b(?:do|dance)\s+(?:only\s+)?(?:sect?s?|sections?|s)\.?\s*\d\s*(?:and|&|{chr(45)})\s*s?(?P<sl>\d)|\b(?:(?:at\s+)?(?:the\s+)?end\s+of|after)\s+(?P<sx>[A-H])\b(?!\s*['\u2019])|\b(?:do|dance)\s+(?:only\s+)?(?:sections?\s+|parts?\s+|blocks?\s+)?[A-H](?:\s*,\s*[A-H])*\s*(?:and|&|to|through)\s*(?P<sy>[A-H])\b|\b(?:two|2|three|3|four|4|five|5)\s+(?P<blocks>(?:blocks?|sections|sets|eights|8['\u2019]?s|sixes|6['\u2019]?s))\b|\b(?:do|dance)\s+(?:only\s+)?(?:blocks|sections|sets|parts)\s+\d\s*(?:and|&)\s*(?P<sm>\d)|\b(?:do|dance)\s+(?:only\s+)?(?:the\s+)?(?:section|sect?|set|s|part|block)\.?\s*(?P<sd>\d)(?:\s+only\b|(?=(?:\s*,)?\s+(?:which|(?:and\s+)?then|and)\b(?!\s+(?:section|sect?|set|s)\.?\s*\d)))|\bs(?:ection\s+)?(?P<se>\d)\s+only\b|[:,]\s*(?:s\d\s*,\s*)*s(?P<sz>\d)\s*,?\s+(?:and|then)\s+(?:re)?start)",
            r"(?P<here>\bhere\b|\bafter\s+this\s+(?:section|set|eight|block|part)\b|\bcounts?\s+(?P<hw>\d{1,2})\s+of\s+this\s+(?:section|set|eight|block|part)\b|\bat\s+(?:this|that)\s+(?:point|spot|place)\b|\bthis\s+point\b)",
            rf"(?P<facing>(?:\b(?:fac(?:e|es|ing)|starts?|begins?|happens?|to|at|towards?)\s*:?\s*(?:the\s+|at\s+)?|[(\[]\s*(?:fac(?:e|es|ing)\s+)?(?:the\s+)?|,\s*|(?<!left)(?<!right)(?<!\b[RL])(?<!\b[RL]F)(?<!foot)(?<!step)(?<!rock)(?<!walk)(?<!steps)(?<!walks)(?<!shuffle)\s)(?:{_CLOCK.format('f')}(?:\s+wall)?|(?:(?<=fac)(?:e|es|ing)\s+(?:the\s+)?)?{_FRONT.format('f')}\s*(?=[)\].,;]|$|and\b)))",
            r"(?P<times>\b(?:twice|(?:two|three)\s+times|[23]\s*(?:x|times)|x\s?[23]|double)\b)",
            rf"(?P<longer>\b(?:of|add|adding|plus|with|put\s+in)\s+(?:an?\s+)?(?:extra\s+|another\s+)?(?P<lgn3>{NUMBER})\s*(?:counts?|cts?)\b(?!\s+of)|[(\[]\s*(?P<lgn>{NUMBER})\s*(?:-\s*)?(?:counts?|cts?|beats?|c)\.?\s*(?:long\s*)?[)\]]|[:,\-\u2013]\s*(?P<lgn2>{NUMBER})\s*(?:counts?|cts?)(?:\s+long)?\s*(?=$|[,.:;(]))",
        )
    ),
    re.IGNORECASE,
)
# A line that may tell of an event; anything else need not be looked at.
TRIGGER = re.compile(
    r"\b(?:(?:extra|additional)\s+(?:counts?|beats?)|extras?\s*[,:(.\d]|bonus\s*[,:(]|in\s+place\s+of|tags?|bridges?|re-?\s?start\w*|step[\s-]+change|change\s+of\s+step|endings?|finale?|replace|instead\s+of|instead(?=\s*:)|(?:starts?|begins?)\s+(?:the\s+dance\s+)?(?:again|over|anew|afresh|from\s+the)|to\s+(?:end|finish)\b|finish\b|changed?\b|(?:break|leave|stop)(?:\s+it)?\s+(?:off|after|when|once|as\s+soon)\b|back\s+to\s+(?:the\s+(?:beginning|top|start)|(?:count|beat)\s+(?:1|one))\b|start\s+(?:the\s+\w+\s+)?from\b|(?:begin|start)\s+wall\b|ends?\s+here|ends?\s+the\s+dance|cut\s+short|bail\s+out|add-?on|end\s+of\s+(?:the\s+)?(?:dance|song|music)|(?:dance|song|music|track)\s+(?:ends|finishes)\b|finishing\b|(?:put|add|insert|squeeze|slip|fit|give)\w*\s+[^.;:]{0,16}(?:counts?|beats?)\b|(?:counts?|beats?)\s+(?:extra|more|longer)\b|(?:more|further)\s+(?:counts?|beats?)\b|no\s+further\b|stops?\s+short\b|go\s+again\b|is\s+the\s+last\b|on\s+(?:counts?\s+)?\d{1,2}\s?[-\u2013]\s?\d{1,2}\s+(?:you|we)\b|\bswap\b|\bskip\s+s\s\d|\bbecomes?\s+an?\b|\b(?:counts?|beats?)\s+\d{1,2}(?:\s*(?:[-\u2013&]|to|and)\s*\d{1,2})?(?:\s+of\s+this\s+section)?\s*(?::|=|\b(?:are|is|becomes?|turns?\s+into)\b)|:\s*\d{1,2}\s+[a-z]|(?:^|[.!]\s)end(?=\s*[(:])|\b(?:leave\s+out|skip|omit|miss\s+out|drop)\s+(?:(?:the|your)\s+[a-z]|(?:counts?\s+)?\d{1,2}\s*[-\u2013]\s*\d)|\bleave\s+(?:the|your)\s+[a-z][^.,;]{2,30}\s+(?:out|away)\b|\b(?:hold|wait|pause|freeze)\s+(?:for\s+)?\w+\s+(?:counts?|beats?)\b|\b(?:an?|one|little|cheeky|smidge\s+of|bit\s+of)\s+extra\s+(?:music|at|after|when|bit)\b|\bdon['\u2019]?t\s+\w+\s+(?:on\s+)?(?:counts?\s+)?\d)",
    re.IGNORECASE,
)
NAME = re.compile(
    r"\s*(?:#|no\.?\s*)?(?:[\"'\u2018\u201c(]?(?P<letter>[A-H])[\"'\u2019\u201d)]?|[\"'\u2018\u201c]?(?P<digits>\d{1,2}|(?:one|two|three)(?!,\s*\d)|ONE|TWO|THREE)[\"'\u2019\u201d]?)(?=\s*(?:[:,.(=\-\u2010-\u2015]|$)|\s+(?:after|at|on|end|during|here|wall|is|to|facing|danced|follows|happens|comes)\b)"
)

# The groups of TOKENS that are a telling each.
OUTER = (
    "none",
    "first",
    "long",
    "kind",
    "count_in",
    "between",
    "before",
    "end",
    "walls",
    "every",
    "nthfacing",
    "eachfacing",
    "last",
    "after",
    "section",
    "here",
    "facing",
    "times",
    "longer",
)
