"""What authors say of places in the dance in words of their own, for :mod:`caller.routine.layout.paraphrases`."""

from __future__ import annotations

import re

from caller.routine.layout.numbers import NUMBER, ORDINAL, ROMAN, number_of
from caller.routine.layout.section_lists import ROW as SECTIONS_IN_A_ROW
from caller.routine.layout.wall_phrases import said_as, with_number

BEATS = r"(?:counts?|beats?|cts)"
LABEL = r"(?:sections?|sect?\.?|blocks?|sets?|groups?|verses?|chapters?|S(?=\s?\d))"

_ROMAN = r"(?-i:[IVX]{1,4})"


def _sections_in_digits(found: re.Match[str]) -> str:
    """ "sections I and II" as "sections 1 and 2"."""
    return re.sub(rf"\b{_ROMAN}\b", lambda one: str(ROMAN.get(one[0].lower(), one[0])), found[0])


PLACES = (
    SECTIONS_IN_A_ROW,
    said_as(
        r"\b(?:you\s+|we\s+)?(?:do\s+not|don['\u2019]?t)\s+(?:dance|do)\s+(?:the\s+)?(?:section|set|s)\s?(?P<n>\d)\b(?!\s*counts)",
        with_number("skip s {}"),
    ),
    said_as(r"\bcts\.(?=\s+(?-i:In)\b)", "cts;"),
    # "at the end of (iv) you are looking at the front"
    said_as(
        r"\b(?:after|at\s+the\s+end\s+of|to\s+the\s+end\s+of)\s+\((?P<n>[ivx]{1,4}|[1-9])\)",
        lambda found: f"after s {ROMAN.get(found['n'].lower(), 0) or found['n']}",
    ),
    # "leave (v) out and stomp right"
    said_as(r"\bleave\s+\((?:[ivx]{1,4}|[1-9])\)\s+out\s+and\b", ""),
    # "dance it until "5-6" of this section"
    said_as(
        r"\b(?:dance|do)\s+(?:it|this\s+wall|that\s+wall)?\s*(?:until|till|up\s+to|as\s+far\s+as|to)\s+(?:counts?\s+)?[\"\u201c\u201e']?\d{1,2}\s*[\u2010-\u2015&-]\s*(?P<n>\d{1,2})[\"\u201d\u201c']?\s+of\s+(?:this|that)\s+(?:section|set|eight|block|part)\b",
        with_number("count {} of this section"),
    ),
    said_as(
        rf"\b(?:sections|sets|blocks|parts)\s+{_ROMAN}(?:\s*(?:,\s*and|,|and|&|to|-|\u2013)\s*{_ROMAN})+\b",
        _sections_in_digits,
    ),
    # "16 counts (with the & after 8)", "after section 6 (48 counts)": the place is told besides
    said_as(r"\b(?:the|its|an?)\s+(?:&|\"&\"|and)\s+(?:after|of|behind)\s+(?:count\s+)?\d{1,2}\b", ""),
    said_as(
        rf"\b(?P<place>(?:section|set|block)\s?\d)\s*\(\s*\d{{1,2}}\s*{BEATS}\s*\)(?=[^.;]*\b\d{{1,2}}\s*{BEATS}\b)",
        lambda found: found["place"],
    ),
    said_as(
        r"\b(?P<label>section|set|block)\s+(?P<n>one|two|three|four|five|six|seven|eight)\b(?!\s+(?:of|counts?|times))",
        lambda found: f"{found['label']} {number_of(found['n'])}",
    ),
    said_as(
        r"\b(?:when|once)\s+you(?:['\u2019]ve|\s+have)\s+(?:done|danced|finished)\s+S(?P<n>[1-9])\b",
        with_number("after s {}"),
    ),
    said_as(
        r"\b(?:dance|do)\s+(?:steps|counts|beats|cts)\s+1\s*(?:-|\u2013|to|thru|through)\s*(?P<n>\d{1,2})\b(?!\s*(?:of|in)\b(?!\s+it\b))",
        with_number("after {} cts"),
    ),
    said_as(
        rf"\bafter\s+{BEATS}\s+1\s*(?:-|\u2013|to)\s*(?P<n>\d{{1,2}})\b(?!\s*(?:of|in)\b)",
        with_number("after {} counts"),
    ),
    said_as(
        r"\b(?P<lead>of|after)\s+your\s+(?=(?:first|second|third|fourth|fifth|sixth|seventh|eighth|ninth|\d\w\w)\s+wall)",
        lambda found: f"{found['lead']} the ",
    ),
    said_as(rf"\bbetween\s+{BEATS}\s+(?P<n>\d{{1,2}})\s*(?:and|&)\s*\d{{1,2}}\b", with_number("after {} counts")),
    said_as(
        r"\b(?:dance\s+|do\s+)?(?:only\s+)?(?:the\s+)?first\s+(?P<n>two|three|four|five|six|[2-6])\s+(?:blocks|sections|sets|eights|groups|parts)(?:\s+only)?",
        with_number("after s {}"),
    ),
    said_as(
        r"\b(?:the\s+end\s+of|after|through|up\s+to\s+and\s+including)\s+(?:part|block|group|chapter|verse|number)\s+(?P<n>[1-9]|one|two|three|four|five|six)\b(?!\s*counts)",
        with_number("after s {}"),
    ),
    said_as(
        r"\b(?:dance|do)\s+(?:only\s+|just\s+)?(?:the\s+)?first\s+(?P<n>eight|twelve|sixteen|eighteen|twenty(?:[\s-]four)?|thirty[\s-]two|8|1[0-9]|2[0-9]|3[0-9]|4[0-9])(?:\s+only)?(?=\s*[,.;:)]|\s+(?:then|and|which|that)\b)",
        with_number("after {} counts"),
    ),
    said_as(r"\b(?:dance|do)\s+(?:only|just)\s+(?:section\s+|s)\s?(?P<n>\d)\b", with_number("after s {}")),
    said_as(r"[\"\u201c\u2018'](?=\d{1,2}&?[\"\u201d\u2019'])|(?<=\d|&)[\"\u201d\u2019](?=\s+of\b)", " "),
    said_as(rf"\b(?:dance|go|do)\s+to\s+(?=\d{{1,2}}\s?&?\s+of\s+(?:the\s+)?{LABEL}\s*\d)", "at count "),
    # "both twinkles are danced once more before section 4"
    said_as(
        r"\bbefore\s+(?:(?:you|we)\s+(?:start|begin|go\s+on\s+(?:to|with))\s+)?(?:section|sect?\.?|set|S)\s?(?P<n>[2-9])\b(?!\s*counts)",
        lambda found: f"after s {int(found['n']) - 1}",
    ),
    said_as(
        r"\bbetween\s+(?:section|sect?\.?|set|S)\s?(?P<n>[1-9])\s*(?:and|&)\s*(?:section\s|sect?\.?\s|set\s|S)?\s?[2-9]\b",
        with_number("after s {}"),
    ),
    # "as far as the first pivot (count 22 of the wall)"
    said_as(
        r"\(\s*count\s+(?P<n>\d{1,2})\s+of\s+(?:the|that|this)\s+(?:wall|dance)\s*\)", with_number("after {} counts")
    ),
    said_as(
        r"\(\s*(?:that\s+is\s+|that['\u2019]s\s+)?count\s+(?P<n>\d{1,2})\s+of\s+(?:this|that)\s+(?:section|set|eight|block|part)\s*\)",
        with_number("count {} of this section ,"),
    ),
    said_as(
        r"\bthis\s+is\s+the\s+last\s+(?:section|set|eight|block|part)\s+(?:that\s+)?(?:you|we)\s+dance\b",
        "after this section",
    ),
    # "omit the last eight counts, viz. the sways, and commence the next wall"
    said_as(
        rf"\b(?P<word>omit|leave\s+out|drop|skip)\s+the\s+(?:last|final)\s+(?P<n>{NUMBER})\s+{BEATS},?\s+(?:viz\.?|i\.e\.|namely|that\s+is),?\s[^.;:]*?(?=\band\s+(?:start|begin|commence|restart)\b)",
        lambda found: f"drop the last {number_of(found['n'])} counts ",
    ),
    said_as(rf"\bafter\s+the\s+(?P<n>{ORDINAL})\s+(?:count|beat)\b", with_number("after {} counts")),
    said_as(rf"\b(?:the\s+)?(?P<n>\d{{1,2}})\s+first\s+{BEATS}", with_number("first {} counts")),
    said_as(
        rf"\b(?:which|that|this)\s+(?:makes|is|gives|comes\s+to)\s+(?P<n>{NUMBER})\s+{BEATS}(?:\s+of\s+(?:the|that|this)\s+wall)?(?!\s+(?:of|long))",
        with_number("after {} counts"),
    ),
    said_as(rf"\byou\s+have\s+(?:then\s+)?(?:done|danced)\s+(?P<n>{NUMBER})\s+{BEATS}", with_number("after {} counts")),
    said_as(
        r"\b(?:dance|do)\s+(?:counts|beats|steps)\s+1\s*(?:to|-|\u2013)\s*(?P<n>\d)\s+of\s+(?:section\s+|S\s?)(?P<s>\d)\b",
        lambda found: f"count {found['n']} of s {found['s']}",
    ),
    said_as(
        r"\b(?:dance|do)\s+(?:only\s+|just\s+)?the\s+first\s+(?P<n>\d{1,2})\s+steps\s+of\s+it\b",
        with_number("after {} counts"),
    ),
    said_as(
        r"\b(?:that['\u2019]s|that\s+is|which\s+is)\s+count\s+(?P<n>\d{1,2})\b(?!\s+of)", with_number("after {} counts")
    ),
    said_as(
        r"\b(?:dance|do)\s+(?-i:(?P<s>[A-H]))\.?\s+only\b(?!\s+(?:as\s+far|up\s+to|to\b))",
        lambda found: f"after s {ord(found['s']) - ord('A') + 1}",
    ),
    said_as(
        r"\b(?:dance|do)\s+S1\s*,?\s*(?:and|then)\s+S2\s+(?:up\s+to|as\s+far\s+as|to)\s+(?:count\s+)?(?P<n>\d)&?(?!\d)",
        with_number("count {} of s 2"),
    ),
    said_as(
        rf"\bbetween\s+(?:the\s+)?(?P<n>{ORDINAL})\s+(?:(?:eight|section|set|8|block)\s+)?(?:and|&)\s+(?:the\s+)?{ORDINAL}\s+(?:eights?|sections?|sets?|8s?|blocks?)\b",
        with_number("after s {}"),
    ),
    said_as(
        rf"\b(?P<often>twice(?:\s+through)?|two\s+times)\s*\(\s*\d{{1,2}}\s*{BEATS}\s+(?:in\s+all|altogether|in\s+total|all\s+up)\s*\)",
        lambda found: found["often"],
    ),
    said_as(
        rf"(?:\(\s*(?P<n>\d{{1,2}})\s+{BEATS}\s+in\s+all\s*\)|(?<=[a-z],\s)(?P<m>{NUMBER})\s+{BEATS}\s+in\s+all\b)",
        lambda found: f"after {number_of(found['n'] or found['m'])} counts",
    ),
    said_as(r"\bafter\s+\(1\s?[\u2010-\u2015-]\s?(?P<n>\d{1,2})\)", with_number("@{} cts")),
    said_as(
        rf"\b(?:only|just)\s+as\s+far\s+as\s+(?:the\s+)?[^.;,:]{{2,30}},\s*(?P<n>\d{{1,2}})\s+{BEATS}\b",
        with_number("after {} counts"),
    ),
    said_as(r"\bdance\s+1\s*(?:to|-|\u2013)\s*(?P<n>\d)\s+of\s+(?:I|1|S1|A)\b(?!\w)", with_number("after {} counts")),
    said_as(
        r"\bbetween\s+(?P<n>(?-i:I{1,3}|IV|V))\s+and\s+(?-i:I{2,3}|IV|V|VI)\b",
        lambda found: f"after s {ROMAN.get(found['n'].lower(), 1)}",
    ),
    said_as(
        rf"(?<=[.;:]\s)(?P<n>{NUMBER})\s+{BEATS},?\s+and\s+(?:begin|start)\s+(?:anew|again|over|afresh)\b",
        with_number("after {} counts restart"),
    ),
    said_as(
        r"\brestarts?\s+with\s+(?:an?\s+)?(?:small\s+|slight\s+|little\s+)?(?:step\s+change|change\s+of\s+steps?)(?=\s*\()",
        "restart",
    ),
    said_as(
        r"\b(?:dance\s+|do\s+)?(?:S|section\s+|set\s+|sect?\.?\s+|block\s+)(?P<n>[1-9])\s+only\b",
        with_number("after s {}"),
    ),
    said_as(
        rf"\b(?:the\s+)?first\s+(?P<n>{NUMBER})\s+{BEATS}\s+of\s+this\s+(?:section|set|eight|block|part)\b",
        with_number("count {} of this section"),
    ),
    said_as(
        rf"\b(?:do|dance)\s+(?:only\s+)?the\s+(?P<n>{ORDINAL})\s+(?:eight|section|set|8|(?:part|piece|block)(?=\s+only))\b(?!\s+(?:twice|again))",
        with_number("after s {}"),
    ),
    said_as(
        r"\b(?-i:(?P<s>[A-H]))\s+(?:as\s+far\s+as|up\s+to|to)\s+(?:and\s+including\s+)?count\s+(?P<n>\d{1,2})\b",
        lambda found: f"count {found['n']} of s {ord(found['s']) - ord('A') + 1}",
    ),
    # "dance the counts 5-8 of S8 so:", and its steps
    said_as(
        r"\b(?:dance|do)\s+(?:the\s+)?(?:counts?|beats?|steps?)\s+(?P<n>\d{1,2}\s?(?:-|\u2013|&|to|and)\s?\d{1,2})\s+(?:of|in)\s+(?:section\s+|set\s+|S\s?)(?P<s>\d)\s+(?:so|thus|like\s+(?:this|so)|as\s+follows|this\s+way)\s*(?=:)",
        lambda found: f"replace {found['n']} of s {found['s']}",
    ),
    said_as(
        r"\b(?:you|we)(?:['\u2019]ve|\s+have)\s+(?:danced|done|finished)\s+(?:all|the\s+whole)\s+of\s+(?:wall\s+(?P<n>\d)|the\s+(?P<o>"
        + ORDINAL
        + r")(?:\s+(?:wall|round|time))?)(?!\w)",
        lambda found: f"after wall {number_of(found['n'] or found['o'])}",
    ),
    said_as(
        r"\b(?:each|every)\s+time\s+(?:that\s+)?(?:you|we)(?:['\u2019]ve|\s+have)?\s+(?:gone|been|come|got|danced)\s+(?:all\s+the\s+way\s+|right\s+)?(?:a)?round\b[^.,;:]*?\b(?:at|facing|see)\s+(?:the\s+)?(?P<side>front|back)\b(?:\s+wall)?(?:\s+again)?",
        lambda found: f"each time you come back to the {found['side']}",
    ),
    said_as(
        r"\bstraight\s+from\s+(?:the\s+)?[\w -]{2,30}?\s+on\s+(?:count\s+)?(?P<n>\d{1,2})\s+(?:in)?to\s+[^.;,]*?\bof\s+(?:the\s+next\s+wall|wall\s+\w+)",
        with_number("after {} counts restart"),
    ),
    said_as(r"(?<=\d)\s+with\s+(?:an?\s+)?step\s+change(?=\s*[),;])", ""),
    said_as(r"\bthru\b(?=\s+(?:count\s+)?\d)", "to"),
    said_as(
        r"\b(?:dance|do)\s+(?:section|set)\s+(?P<s>\d)\s+(?:as\s+far\s+as|up\s+to|to)\s+(?:and\s+including\s+)?count\s+(?P<n>\d{1,2})\b",
        lambda found: f"count {found['n']} of s {found['s']}",
    ),
    said_as(
        r"\b(?:when|once)\s+(?:you(?:['\u2019]ve|\s+have)\s+)?(?:done|danced|finished)\s+(?:sections?\s+)?(?-i:I)\s*(?:,\s*(?-i:II)\s*)?(?:and|&)\s*(?P<n>(?-i:I{2,3}|IV))\b",
        lambda found: f"after s {ROMAN.get(found['n'].lower(), 1)}",
    ),
    said_as(
        r"\b(?:then\s+)?it['\u2019]s\s+(?:then\s+)?(?:straight\s+)?back\s+to\s+the\s+(?!top|start|beginning|first)\w+\b[^.]*",
        "",
    ),
    said_as(
        r"\b(?:dance|do)\s+(?:through|to|thru|up\s+to)\s+(?:ct|cts|count)\.?\s*(?P<n>\d{1,2})\b(?!\s*(?:of|in))",
        with_number("after {} counts"),
    ),
    said_as(
        r"[.;,]?\s*\b(?:and\s+)?then\s+(?:start|begin|go\s+on|carry\s+on)\s+(?:from|with|on\s+with)\s+the\s+[\w -]{2,24}?\s+as\s+(?:usual|normal|before)\b",
        "",
    ),
    said_as(
        r"\b(?P<label>section|block|set)\s+(?P<n>(?-i:[IVX]{1,4}))\b(?!\.\w)",
        lambda found: f"{found['label']} {ROMAN.get(found['n'].lower(), 0)}",
    ),
    said_as(r"\b(?:until|till|up)\s+and\s+with\b", "up to"),
    said_as(
        rf"\b(?:count|beat)\s+(?P<c>\d{{1,2}})\s+of\s+(?:(?:part|block|group|chapter)\s+(?P<n>{NUMBER})|the\s+(?P<o>{ORDINAL})\s+(?:part|block|group|section|set|eight))",
        lambda found: f"count {found['c']} of s {number_of(found['n'] or found['o'])}",
    ),
    said_as(r"\bfinish\s+section\s+(?P<n>[1-9])\b", with_number("after s {}")),
    said_as(r"\b(?:keep\s+(?:your|the|both)\s+feet\s+(?:still|where\s+they\s+are)|don['\u2019]?t\s+move)\b", "hold"),
    said_as(
        rf"\b(?:is|are)\s+(?:a\s+)?(?:short|half|broken|shorter)(?:\s+(?:ones?|walls?))?\s*[:,]\s*(?P<n>{NUMBER})\s+{BEATS}\s+only\b",
        with_number("restart after {} counts"),
    ),
    # "do the two vines (8 beats), then stomp"
    said_as(
        rf"\b(?:do|dance)\s+(?:only\s+|just\s+)?the\s+[a-z][\w ,&-]{{2,40}}?\s*\(\s*(?P<n>\d{{1,2}})\s*{BEATS}\s*\)(?=\s*[,;.]?\s*(?:and\s+)?then\b)",
        with_number("after {} counts"),
    ),
    said_as(
        r"\bstop\s+(?:at|after|on)\s+(?:count\s+)?(?P<n>\d{1,2})\b(?=\s*[,;.]?\s*(?:and\s+|then\s+)*(?:re-?\s?start|start|begin))",
        with_number(" @{} "),
    ),
    said_as(r"\bbegin\s+(?:that|this|the)\s+wall\s+with\s+(?:section\s+|s)2\b", "skip s 1"),
)
