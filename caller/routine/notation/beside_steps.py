"""What is told beside a step in many words (a manner, a degree, where one faces), for
:mod:`caller.routine.notation.dialect`.

Each row is a pattern and the plain words for it, tried before all others. Common practice of the trade in several
countries; no published source.
"""

from __future__ import annotations

from caller.routine.notation.phrases import FOOT as _FOOT
from caller.routine.notation.phrases import SIDE as _SIDE
from caller.routine.notation.phrases import TURN as _TURN
from caller.routine.notation.phrases import PlainWords

_CORNER = r"(?:corner|diagonal)"
_SLIGHTLY = r"(?:across|over|back|forward|fwd|out|apart|to\s+(?:the\s+)?(?:side|left|right))"

ROWS: tuple[tuple[str, PlainWords], ...] = (
    # "step R to right and slightly back", "R recover, slightly across"
    (rf"(?:,\s*|\s+and\s+|\s*&\s+)slightly\s+{_SLIGHTLY}\b(?=\s*(?:[,.;:(&]|$|\d))", ""),
    # "making 1/4 turn right to the front" faces it; "step R forward to the front" goes no other way
    (rf"({_TURN}[^,;.()]*?)\s+to\s+(?:the\s+)?front(?:\s+wall)?(?=\s*(?:[,.;:)]|$|and\b))", r"\1 (12:00)"),
    (r"\b(forward|fwd)\s+to\s+(?:the\s+)?front(?:\s+wall)?(?=\s*(?:[,.;:)]|$|and\b))", r"\1"),
    (rf"\bto\s+(?:the\s+|your\s+)?(?:{_SIDE}\s+)?front\s+(?:{_SIDE}\s+)?{_CORNER}\b", "diagonally forward"),
    (rf"\bto\s+(?:the\s+|your\s+)?(?:{_SIDE}\s+)?back\s+(?:{_SIDE}\s+)?{_CORNER}\b", "diagonally back"),
    (
        rf"\bslid(?:e|ing)\s+(?:the\s+)?({_FOOT})(?:\s+foot)?\s+(?:up\s+)?(?:and|to)\s+lock\s+(?:it\s+)?(?=behind|in)",
        r"lock \1 ",
    ),
    (rf"\block\s+step\s+({_FOOT})\s+(?=behind\b)", r"lock \1 "),
    (rf":\s*{_TURN}\s+(?:turn\s+)?on\s+(?:counts?\s+)?\d.*$", ""),
    (r"\b(?:R\s?\+\s?L|L\s?\+\s?R|RF\s?\+\s?LF|LF\s?\+\s?RF)\s+(?=swivel|twist|heels?|toes?|bounce|jump)", ""),
    (
        rf",?\s*\b(?:with\s+)?(?:upper\s+)?(?:body|chest|shoulders)\s+(?:opening|open|angled|angling|turned|turning)\s+(?:to|towards?)\s+(?:the\s+)?(?:{_SIDE}\s+)?{_CORNER}\b",
        "",
    ),
    (r",?\s*\b(?:and\s+)?straighten(?:ing)?\s+(?:up\s+)?(?:to|at)\s+(?=(?:1[0-2]|[369])[:.]00)", ", facing "),
    (
        rf"(\bdig\s+{_FOOT}\s+heel\b[^,;.]*),\s*(?:with\s+)?toes?\s+(?:pointing\s+|turned\s+)?(?:in|out|left|right)\b",
        r"\1",
    ),
    (rf"({_TURN})\s+turn\s+({_SIDE})\s+{_FOOT}\s+takes?\s+(?:the\s+)?weight\b", r"pivot \1 turn \2"),
    (r"\b(?:strike|hit|make|take)\s+(?:a|your)\s+(?:big\s+)?pose\b", "pose"),
    (
        r",?\s*\bso\s+(?:that\s+)?you(?:['\u2019]re|\s+are|\s+will\s+be)\s+(?:now\s+)?(?:looking|facing)\s+(?:(?:at|to)\s+)?(?:the\s+)?(?:back|front|side|home)(?:\s+wall)?\b",
        "",
    ),
    (r"\bball\s+rock\b", "rock"),
    (
        rf"\bwalk(?:ing)?\s+(?:round|around)\s+in\s+a\s+full\s+circle\s+to\s+the\s+({_SIDE}),?\s+((?:{_FOOT}[\s,]+)+{_FOOT}),?\s*(?:a\s+)?quarter\s+(?:of\s+a\s+)?turn\s+on\s+each\b",
        r"walk round a full turn \1 \2",
    ),
    (rf"\blet(?:ting)?\s+(?:the\s+)?({_FOOT})(?:\s+foot)?\s+drag\b", r"drag \1"),
    (rf"\b(recover(?:\s+on(?:to)?)?\s+{_FOOT})\s+crossing\s+(?:it\s+)?slightly\s+(?:in\s+front|over|across)\b", r"\1"),
    (r"^\s*rest\s*[.!]?\s*$", "hold"),
    (
        rf"\bspin(?:ning)?\s+(?={_TURN}\s+(?:turn\s+)?{_SIDE}\s+on\s+(?:the\s+)?(?:ball\s+of\s+)?(?:the\s+)?{_FOOT}\s+bringing)",
        "turn ",
    ),
    # "R fwd while L sweeps to the front"
    (rf"\s+while\s+({_FOOT})\s+(?:is\s+)?sweep(?:s|ing)?\b", r" sweeping \1"),
    (rf"\s+while\s+sweeping\s+(?={_FOOT}\b)", " sweeping "),
    (rf"\s+with\s+(?:the\s+)?({_FOOT})\s+knee\s+(?:raised|up|lifted)\b", r" hitching \1"),
    (r"\brecover\s*/\s*cross\b", "cross"),
    (r"(?<=[RL]F )recover(?:s|ing)?\s+crossing\s+(?:slightly\s+)?(?=(?:over|across|in\s+front)\b)", "cross "),
    (r",\s*[RL]F\s+(?:is\s+)?lift(?:s|ed|ing)?\s+(?:slightly|a\s+little)(?=\s*(?:[-,.;\u2013]|$))", ""),
    (r"\b(R|L|right|left)\s+(heel|toe)\s+(forward|fwd|back|side),?\s+tap\s+(?:it\s+)?twice\b", r"tap \1 \2 \3 twice"),
    (
        rf"\b{_FOOT}\s+to\s+(?:the\s+)?(?:{_SIDE}\s+)?side,?\s+sway(?:ing)?\s+(?:the\s+|your\s+)?hips?\s+(?=(?:{_SIDE})\s*,\s*(?:{_SIDE})\b)",
        "sway ",
    ),
    (r"(?<=&\s)touch\s+(heel|toe)\s+beside\s+LF\b", r"touch R \1 beside"),
    (r"(?<=&\s)touch\s+(heel|toe)\s+beside\s+RF\b", r"touch L \1 beside"),
    (r",?\s*\bback\s+(?:at|to|on)\s+(?=\(?(?:1[0-2]|[369]):00)", ", facing "),
    (r"\bstep(?:ping)?\s+(R|L|right|left)\s+heel\s+(?=(?:forward|fwd)\s*(?:[.,;]|$))", r"touch \1 heel "),
    # Where in a figure it turns, which the figure knows whatever is said
    (r"\b(on\s+(?:the\s+)?)(?:2nd|3rd|4th)(?=\s+(?:step|count|beat)s?\b)", r"\1last"),
    (r",?\s+as\s+you\s+(?:step|turn|go|do\s+(?:it|so|this|that))(?=\s*(?:[.,;:)\]]|$))", ""),
    (r"\bfront\s+diagonal\b", "forward diagonal"),
    (r"\bkicks?\s+low\s*,\s*(?=forward|fwd)", "kick "),
    (r"\b(?:leav|keep)(?:e|ing)?\s+(?:the\s+|your\s+)?weight\s+on(?:to)?\b", "weight on"),
    (r"\bweight\s+(?:staying|stays|remaining|remains|kept)\s+on\b", "weight on"),
    (r",?\s*\band\s+(?:stay|stop)\s+(?:there|here|still)\b", ""),
    (rf"(\bheel\s+grind\b[^:]*{_TURN}[^:]*{_SIDE})\s*:\s+rock\b.*$", r"\1"),
    (rf"\b180(?:\s*(?:deg(?:rees?)?\b\.?|\u00b0))?\s*(?=(?:turn|pivot|{_SIDE})\b)", "1/2 "),
    (rf"\b90(?:\s*(?:deg(?:rees?)?\b\.?|\u00b0))?\s*(?=(?:turn|pivot|{_SIDE})\b)", "1/4 "),
    (rf"\b360(?:\s*(?:deg(?:rees?)?\b\.?|\u00b0))?\s*(?=(?:turn|spin|{_SIDE})\b)", "full "),
    (r"\b(stepping|step)\s+[-\u2010-\u2015]\s+(?=(?:left|right|[RL])\b)", r"\1 "),
)
