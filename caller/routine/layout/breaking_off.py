"""How authors say that a wall is broken off: "leave the dance after ...", "go from here directly to wall 6", "one takes
again the dance at the beginning", for :mod:`caller.routine.layout.paraphrases`."""

from __future__ import annotations

from caller.routine.layout.numbers import NUMBER, ORDINAL
from caller.routine.layout.wall_phrases import said_as, with_number

_NEXT_WALL = rf"(?:the\s+)?(?:next\s+wall|wall\s+{NUMBER}|{ORDINAL}\s+(?:wall|time)|(?:beginning|start|top)\s+of\s+(?:the\s+next\s+wall|wall\s+{NUMBER}))"
_AT_ONCE = r"(?:directly|straight(?:\s+away)?|right(?:\s+away)?|at\s+once|immediately)"
_AS_EVER = r"(?:\s*,\s*(?:which|that)\s+(?:begins?|starts?)\s+[^.;]{0,40})?"

BREAKING_OFF = (
    said_as(rf"\bcommences?\s+{_NEXT_WALL}(?:\s+{_AT_ONCE})?", "restart"),
    said_as(
        r"\b(?:the\s+dance|we|you)\s+(?:begins?|starts?)\s+new\s+from\s+(?:count\s+1|the\s+(?:top|beginning|start))\b",
        "restart",
    ),
    said_as(r"\bR/S\b(?=\s*[:,-]?\s*(?:on\s+)?w)", "RST"),
    # "break off after the first 16"
    said_as(
        rf"\bafter\s+(?:only\s+|just\s+)?(?:the\s+|your\s+|its\s+)?first\s+(?P<n>{NUMBER})(?=\s*(?:[,.;:)]|$)|\s+(?:and|then|only|just|you|we|one|go|jump|leave|stop|take|start|begin|restart)\b)",
        with_number("after {} cts"),
    ),
    # "one takes again the dance at the beginning", "take up the dance again from the start"
    said_as(
        r"\b(?:(?:one|you|we)\s+)?(?:takes?|picks?|resumes?|recommences?|commences?)\s+(?:again\s+|up\s+|once\s+more\s+)*(?:the\s+(?:whole\s+)?dance\s+|it\s+)(?:up\s+)?(?:again\s+|anew\s+|afresh\s+)?(?:at|from|to)\s+(?:the\s+(?:very\s+)?)?(?:beginning|start|top|first\s+count|count\s+(?:1|one))\b",
        "start again",
    ),
    said_as(
        r"\b(?:(?:one|you|we)\s+)?(?:recommences?|commences?|resumes?|starts?|begins?)\s+(?:once\s+more|from\s+new|from\s+zero|from\s+scratch|new)\b(?!\s+(?:step|wall|music))",
        "restart",
    ),
    # "leave the dance after the rocking chair (12 counts)"
    said_as(
        r"\b(?:leave|break|stop|quit|cut|interrupt|abandon|end)\s+(?:off\s+)?(?:the\s+(?:dance|wall)|dancing)(?:\s+(?:off|short))?\s+(?=after\b|when\b|once\b|as\s+soon\b)(?=[^.;]{4,60}?\b(?:start|begin|restart|from\s+the\s+(?:top|beginning|start)))",
        "stop ",
    ),
    # "go from here directly to wall 6, which begins at 6:00 all the same"
    said_as(
        rf"\b(?:go|jump|move|pass|continue|carry\s+on|skip)\s+(?:on\s+)?(?:from\s+here\s+{_AT_ONCE}|{_AT_ONCE}\s+from\s+here|from\s+here)\s+(?:on\s+)?(?:in)?to\s+{_NEXT_WALL}{_AS_EVER}",
        "restart here",
    ),
    said_as(
        rf"\b(?:go|jump|move|pass|skip)\s+(?:on\s+)?{_AT_ONCE}\s+(?:on\s+)?(?:in)?to\s+{_NEXT_WALL}{_AS_EVER}",
        "restart",
    ),
    # "dance until the end of the second back rock (40 counts)": the place is in the brackets
    said_as(
        rf"\b(?:dance|dances|do|does|go|goes|as\s+far\s+as|until|till|up\s+to|to)\s+(?:(?:until|till|up\s+to|to|as\s+far\s+as)\s+)?(?:and\s+including\s+)?the\s+end\s+of\s+(?:the\s+)?(?:{ORDINAL}\s+)?(?!wall|tag|bridge|section|set|dance)[a-z][\w /-]{{2,30}}?\s*\((?P<n>\d{{1,2}})\s+(?:counts|beats|cts)\)",
        with_number("after {} counts"),
    ),
    # "Section 1 brings you round to 12:00; on the very next count stomp"
    said_as(
        r"\b(?:section|set|S)\s?(?P<n>[1-9])\s+(?:brings|takes|turns|carries|gets|leads)\s+(?:you|us)\b(?![^.;]{0,40}\bof\s+(?:section|set)\b)",
        with_number("after s {}"),
    ),
    # "You do both Monterey turns, so 32 counts, and find yourself at the front"
    said_as(
        rf"(?<=[,(]\s)(?:so|that\s+is|i\.e\.|makes|making)\s+(?P<n>{NUMBER})\s+(?:counts|beats)(?=\s*[,);.])",
        with_number("@{} cts"),
    ),
    said_as(
        rf"\bthe\s+(?P<n>{ORDINAL})\s+wall\s+is\s+(?:also\s+)?(?:the|your|our)\s+last(?:\s+(?:one|wall))?\b",
        with_number("ending wall {}"),
    ),
)
