"""Paddles, sweeps and heel grinds told in many words, for :mod:`caller.routine.notation.dialect`.

Each row is a pattern and the plain words for it. Common practice of the trade in several countries; no published
source.
"""

from __future__ import annotations

from caller.routine.notation.phrases import FOOT as _FOOT
from caller.routine.notation.phrases import GROUPS as _GROUPS
from caller.routine.notation.phrases import SIDE as _SIDE
from caller.routine.notation.phrases import TURN as _TURN
from caller.routine.notation.phrases import PlainWords

ROWS: tuple[tuple[str, PlainWords], ...] = (
    # A paddle after a step taken forward is danced as a pivot: the weight goes to the other foot
    (
        rf"((?:\bstep\s+{_FOOT}|\b{_FOOT}\s+(?:forward|fwd)|\b(?:forward|fwd)\s+{_FOOT})\s*,?\s*(?:and\s+|&\s*)?)(?:push\s+turn|paddle(?:\s+turn)?)(?=\s+(?:a\s+)?{_TURN}\s+(?:turn\s+)?(?:to\s+the\s+)?{_SIDE}\b)",
        r"\1pivot",
    ),
    (r"\s{2,}0?(1[0-2]|[1-9])[.:](00|30)\s*$", r" (\1:\2)"),
    (rf"\b[RL]-?[RL]-?[RL]\s+to\s+(?:the\s+)?({_SIDE})\s+side\b", r"\1 side shuffle"),
    (rf"\s*\bbumping\s+(?:the\s+|your\s+)?hips?\s+({_SIDE})\s+twice\b", r", bump \1"),
    (
        rf"(?<!step )(?<!stepping )(?<!rock )(?<!rocking )(?<!on )(?<!on the )\bball\s+of\s+(?:the\s+)?({_FOOT})(?:\s+foot)?\b(?=\s+(?:behind|to|beside|in|next|forward|fwd|back)\b)",
        r"step \1",
    ),
    # "RF  1/4 turn left, close"; "L+R 1/2 turn left"
    (
        rf"\b([RL]F)\s+({_TURN}\s+turn\s+{_SIDE})\s*,?\s*(step|close|cross|side|back|forward|touch|point)\b",
        r"\2 stepping \1 \3",
    ),
    (rf"^\s*(?:L\s*\+\s*R|R\s*\+\s*L)F?\s+({_TURN})\s+turn\s+({_SIDE})\b", r"pivot \1 turn \2"),
    # "Shuffle with right, left, right while turning half left as you go, finishing back on R"
    (rf"\b({_GROUPS})\s+with\s+(?:the\s+)?(?={_FOOT}\b)", r"\1 "),
    (
        rf"\b({_GROUPS})((?:\s+\w+)?)\s+({_SIDE}),\s*({_SIDE}),\s*({_SIDE})\b(?!\s*(?:foot|to|side|fwd|forward|back))",
        r"\1\2 \3 \4 \5",
    ),
    (r"\bwhile\s+(?=turn)", ""),
    (r",?\s*\bas\s+you\s+(?:go|do\s+(?:so|this|it))\b", ""),
    (rf",?\s*\b(?:finishing|ending|to\s+finish)\s+(?:back\s+|forward\s+)?on\s+(?:the\s+)?{_FOOT}(?:\s+foot)?\b", ""),
    # "L fwd sweeping R to the front"
    (
        rf"\bsweep(ing)?\s+({_FOOT})(?:\s+foot)?\s+(?:a?round\s+)?to\s+(?:the\s+)?front\b",
        r"sweep\1 \2 from back to front",
    ),
    (
        rf"\bsweep(ing)?\s+({_FOOT})(?:\s+foot)?\s+(?:a?round\s+)?to\s+(?:the\s+)?back\b",
        r"sweep\1 \2 from front to back",
    ),
    (
        rf"\b({_FOOT}\s+(?:(?:forward|fwd|back|to\s+(?:the\s+)?side)|(?:behind|over|across)\s+{_FOOT}))\s+sweeping\s+(?={_FOOT}\b)",
        r"\1, sweep ",
    ),
    (
        rf"\b(?:dig|rock|step|touch|press)\s+(?:forward\s+on\s+|on\s+)?(?:the\s+)?({_FOOT})\s+heel(?:\s+(?:forward|fwd))?(?:\s+(?:with|taking)\s+weight)?(?:\s+with\s+(?:the\s+)?toes?\s+(?:turned\s+)?in)?[,.]?\s*(?:and\s+)?grind(?:ing)?\s+(?:it|(?:the\s+)?(?:heel|toes?))?(?:\s+out)?,?\s*(?:turning\s+|making\s+a\s+)?({_TURN})\s*(?:turn\s+)?({_SIDE})\s+(?:and\s+|as\s+you\s+)?step(?:ping)?\s+(?:back\s+(?:on\s+(?:the\s+)?)?{_FOOT}|{_FOOT}\s+back)",
        r"\1 heel grind turning \2 \3",
    ),
    # "R heel fwd, toes turned in (take weight)", and on the next count "grind the heel 1/4 right, L back"
    (
        rf"\b({_FOOT})\s+heel\s+(?:forward|fwd),?\s*(?:with\s+)?toes?\s+(?:turned\s+|pointing\s+)?in\b(?:\s*\((?:take|taking|with)\s+weight\))?",
        r"step \1 forward",
    ),
    (rf"\bgrind(?:ing)?\s+(?:on\s+)?(?:the\s+|your\s+|{_FOOT}\s+)?heel\s+(?=(?:a\s+)?{_TURN})", "turn "),
    (rf"\brock\s+({_FOOT})\s+cross(?:ed|ing)?\s+(over|behind|in\s+front\s+of)\b", r"cross rock \1 \2"),
    (r"\b(?:forward|fwd)\s*(?:&|and|,)?\s+out\b", "diagonally forward"),
    (
        r"\s+(?:and|&)\s+(?:stand\s+on\s+it|(?:take|put|taking|putting)\s+(?:the\s+|your\s+)?weight(?:\s+on\s+it)?)\b",
        " taking weight",
    ),
    (r",?\s*\b(?:with\s+)?(?:the\s+|your\s+)?knees?\s+(?:turned|turning|pointing)\s+(?:in|out)(?:wards?)?\b", ""),
    # "1/4 turn right with LF step to left side": turned on that step
    (
        rf"\b({_TURN}\s+turn\s+{_SIDE})\s+with\s+(?:the\s+)?(?={_FOOT}\s+(?:step|behind|cross|rock|walk|close|over|to|beside|big|long))",
        r"\1 ",
    ),
    (
        rf"\b({_FOOT})\s+(heel|toe)\s+(forward|fwd|back|side)\s*(?:&|and)\s*home\b",
        r"\1 \2 \3, step \1 beside",
    ),
    (r"\bcross-step(?=\s)", "cross"),
    (r"\bx-\s?(?:rock|rk)\b", "cross rock"),
    (r"^\s*(?:and\s+)?again(?=\s*(?:[\[(.,]|$))", "repeat"),
    (r"\.{3,}\s+[a-z][^.]*!\s*$", ""),  # "... no peeking at your feet!"
    # "Cross shuffle, left over right, L-R-L"
    (
        rf"\bcross(?:ing)?\s+(shuffle|chass[e\u00e9]|triple|cha\s*cha),\s+({_FOOT})\s+(?:over|across)\s+{_FOOT}(?:,\s*[LR]\s*-?\s*[LR]\s*-?\s*[LR])?(?=\s*$)",
        r"crossing shuffle \2",
    ),
    # "Cross LEFT foot behind RIGHT and step", "Slide R up beside L and step on it": one movement
    (
        rf"\b((?:cross|slide|draw|bring|lock|drag|move)\s+{_FOOT}(?:\s+(?:foot|up))*\s+(?:behind|over|across|beside|next\s+to|in\s+front\s+of)\s+{_FOOT}(?:\s+foot)?)\s*,?\s+(?:and|&)\s+step(?:\s+(?:down\s+)?on\s+it|\s+down)?(?=\s*(?:[.,;(]|$))",
        r"\1 taking weight",
    ),
    (r"\s*(?:&|and)\s+come\s+(?:back\s+)?to\s+(?:the\s+)?cent(?:er|re)\b", ""),
    (r",?\s*\bweight\s+(?:even|on\s+both(?:\s+feet)?|equal|in\s+the\s+middle)\b", ""),
    # "R fw sweeping L": a step that has no verb of its own
    (
        rf"^(\(?\s*)({_FOOT})\s+(forward|fwd|fw|back|bw|bwd)\s+(?=(?:while\s+|and\s+)?(?:sweeping|hitching)\b)",
        r"\1step \2 \3 ",
    ),
    # "(sweep goes on)": on a count of its own nothing new
    (r"^\(?\s*(?:the\s+)?(?:sweep|drag|slide|turn|lunge)\s+(?:goes\s+on|continues|still\s+going)\b[^()]*\)?$", "hold"),
    # "RF drag and touch beside LF": one foot's
    (
        rf"\b({_FOOT})\s+(drag|draw|slide|sweep|bring)s?\s+(?:and|&)\s+(touch|tap|close|step)(?:es|s)?\s+(?=beside\b|next\b|by\b|together\b)",
        r"\1 \2 and \3 \1 ",
    ),
    (rf",\s*{_FOOT}\s+hooked\s+(?:in\s+front|behind|over\s+{_FOOT})\b", ""),
    # "R  turn 1/2 L, stepping back": a column of feet
    (
        rf"^({_FOOT})\s+(?:turn(?:s|ing)?\s+)?({_TURN})\s+(?:turn\s+)?({_SIDE}),\s+step(?:s|ping)?\s+(?=(?:back|forward|fwd|to|side|beside|next)\b)",
        r"\2 turn \3 stepping \1 ",
    ),
    # Heel grinds written out
    (
        rf"\b(?:(?:dig|step|press|rock|place|put|touch)\b[^;:]*?\b)?({_FOOT})\s+heel\b[^:]*?\bgrind[^:]*?({_TURN})\s+(?:turn\s+)?(?:to\s+(?:the\s+)?)?({_SIDE})\b[^:]{{0,24}}?\b(?:step(?:ping)?|recover(?:ing)?)\s+(?:(?:back|weight)\s+)?(?:on(?:to)?\s+|to\s+)?(?:the\s+)?({_FOOT})\b(?:\s+back\b)?",
        r"heel grind \1 turning \2 \3, step \4 back",
    ),
    (
        rf"\b({_FOOT})\s+heel(?:\s+(?:forward|fwd))?\s*(?:,|and|&)\s*grind(?:ing)?(?:\s+it)?\s*,?\s*(?:making|turning|with)\s+(?:an?\s+)?({_TURN})\s*(?:turn\s+)?({_SIDE})\s+(?:(?:and\s+)?(?:step(?:ping)?|recover(?:ing)?)\s+)?on(?:to)?\s+(?:the\s+)?({_FOOT})\b",
        r"heel grind \1 turning \2 \3, step \4 back",
    ),
    (r",\s*grind(?:ing)?\s+(?:the\s+)?(?:heel|toes?)\s+(?:out\s+)?from\s+(?:left|right)\s+to\s+(?:left|right)\b", ""),
    (r"^\s*(?:just\s+|take\s+)?(?:two|three|four|2|3|4)\s+steps?\s*[,:]\s*", ""),
    (
        rf"\bgrind(?:ing)?\s+(?:the\s+)?heel\s+turning\s+({_TURN}\s+(?:turn\s+)?{_SIDE})\s+and\s+step(?:ping)?\s+({_FOOT})\s+back\b",
        r"\1 stepping \2 back",
    ),
    (
        rf"\bdig\s+({_FOOT})\s+heel\s+(forward|fwd)\s+with\s+(?:the\s+|your\s+)?weight\b(?:,\s*toes?\s+(?:in|out))?",
        r"step \1 \2",
    ),
)
