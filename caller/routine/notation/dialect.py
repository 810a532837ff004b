"""Turns of phrase that say in more words, or in another order, what the vocabulary says plainly.

Each row is a pattern and the plain words for it; the author's own words are kept beside the steps. Common practice of
the trade in several countries, no published source.
"""

from __future__ import annotations

import re
from collections.abc import Callable
from functools import lru_cache

from caller.routine.notation.beside_steps import ROWS as _BESIDE
from caller.routine.notation.facing_clauses import facings_told
from caller.routine.notation.grinds import ROWS as _GRINDS
from caller.routine.notation.listed_feet import ROWS as _LISTED
from caller.routine.notation.phrases import FOOT as _FOOT
from caller.routine.notation.phrases import GROUPS as _GROUPS
from caller.routine.notation.phrases import ROWS as _FURTHER
from caller.routine.notation.phrases import SIDE as _SIDE
from caller.routine.notation.phrases import TURN as _TURN
from caller.routine.notation.told_twice import name_that_turns, steps_in_brackets, told_out
from caller.routine.notation.turns_over_steps import ROWS as _TURNS
from caller.routine.rewriting import Rewriting

_MOVES = r"(?:step|rock|walk|stomp|touch|tap|kick|point|brush|scuff|cross|lunge|press|run|stamp)"

_NAMED = r"(?:grapevine|vine|weave|coaster(?:\s+step)?|sailor(?:\s+step)?|jazz\s+box|lock\s+step)"


def _with_the_other(found: re.Match[str]) -> str:
    """ "R, L, R kick L": the kick is the other foot's; "L, L point left" is one foot's."""
    if found["last"][0].lower() == found["other"][0].lower():
        return found[0]
    return f"{found['list']}, {found['rest']}"


_Plain = str | Callable[[re.Match[str]], str]
_ROWS: tuple[tuple[str, _Plain], ...] = (
    # "Step right with right - weight back on left"
    (r"(?<=[A-Za-z)\]])\s+[-\u2010-\u2015]\s+(?=[A-Za-z\u00bc\u00bd(])", ", "),
    (rf"\b(step|rock|stomp|touch|point)\s+(right|left)\s+with\s+(?:the\s+)?({_FOOT})\b", r"\1 \3 to \2 side"),
    (
        rf"\b({_MOVES})\s+(forward|fwd|back|backwards?|to\s+the\s+side|sideways|diagonally\s+forward)\s+with\s+(?:the\s+)?({_FOOT})\b",
        r"\1 \3 \2",
    ),
    (rf"\bweight\s+back\s+(?:on(?:to)?|to)\s+(?:the\s+)?({_FOOT})\b", r"recover \1"),
    (rf"\bput\s+(?:the\s+)?({_FOOT})(\s+foot)?\s+(next\s+to|beside)\b", r"step \1 \3"),
    (
        r"[-,]?\s*\bthat(?:['\u2019]s|\s+is)\s+(?:now\s+)?(?:facing\s+)?(1[0-2]|[1-9])\s*o['\u2019]?\s?c(?:lock)?\b",
        r" (\1:00)",
    ),
    (r"\(?\b(1[0-2]|[1-9])\s*o['\u2019]c\b(?!lock)\)?", r"(\1:00)"),
    (
        r"[,.;]?\s*\b(?:now\s+)?(?:you(?:['\u2019](?:re|ll)|\s+(?:are|will))?\s+)(?:now\s+)?(?:see|look(?:ing)?|be|at|on|facing)\s+(?:at\s+|on\s+|to\s+)?(?:the\s+)?(1[0-2]|[1-9])(?:\s*o['\u2019]?\s?c(?:lock)?|:00)\b",
        r" (\1:00)",
    ),
    # "R+L pivot 1/4 L", both feet turning
    (
        rf"\b(?:R[FH]?\s?\+\s?L[FH]?|L[FH]?\s?\+\s?R[FH]?|both\s+feet)\s+(?:make\s+(?:an?\s+)?)?(?=(?:pivot|turn|unwind|{_TURN})\b|\u00bd|\u00bc|\u00be)",
        "",
    ),
    # "step R heel forward, grind heel turning 1/4 R, step back on L"
    (
        rf"\b(?:step|rock)\s+(?:fwd\s+|forward\s+)?(?:on\s+)?(?:the\s+)?({_FOOT})\s+heel(?:\s+(?:fwd|forward))?(?:\s+with\s+(?:the\s+)?toes\s+(?:turned\s+|pointing\s+)?(?:in|out|left|right|to\s+the\s+\w+))?\s*(?:,|and|&)\s*(?:and\s+)?grind\s+(?:it|(?:the\s+)?(?:{_FOOT}\s+)?heel)\s*(?:,\s*)?(?:turning|turn|with|making)\s+(?:an?\s+)?({_TURN})(?:\s+turn)?\s+(?:to\s+the\s+)?({_SIDE})(?:\s*\([^()]*\))?\s*(?:,|&|and|(?=stepping))\s*(?:step(?:ping)?|recover(?:ing)?)\s+(?:back\s+)?(?:on(?:to)?\s+)?(?:the\s+)?({_FOOT})(?:\s+back)?",
        r"heel grind \1 turning \2 \3, step \4 back",
    ),
    # "L behind R as you sweep R"
    (
        rf"(^|[,;\d]\s*)({_FOOT})\s+(behind|over|across)(\s+{_FOOT})?\s+(as\s+you\s+sweep|while\s+sweeping|sweeping)\b",
        r"\1step \2 \3\4 \5",
    ),
    (
        rf"\b(recover(?:ing)?(?:\s+on(?:to)?)?\s+(?:the\s+)?{_FOOT})\s+(?:and\s+)?cross(?:ing|ed)\s+(?:it\s+)?(?:slightly\s+)?(?:over|in\s+front\s+of|behind)\s+(?:the\s+)?{_FOOT}",
        r"\1",
    ),
    (r"\b(?:spread|open|part)\s+(?:the\s+|both\s+)?heels(?:\s+apart)?\b", "heels out"),
    # a column of feet: "L  Turn 1/4 left, step side"
    (
        rf"^(\s*)({_FOOT})\s{{2,}}(turn\s+{_TURN}\s+{_SIDE}),?\s+step\s+(?=side|fwd|forward|back)",
        r"\1\3 step \2 ",
    ),
    (
        rf"^(?P<name>[^(),;]*\b(?:{_GROUPS}|{_NAMED})\b[^(),;]*{_TURN}[^(),;]*?)\s*\((?P<steps>[A-Za-z][^()]*(?:,[^(),]+){{2,}})\)(?P<rest>[^()]*(?:\([^()]*\))?)$",
        steps_in_brackets,
    ),
    # "vine to the left (L side, R behind, L forward turning a quarter left)"
    (rf"\b{_NAMED}\s+(?:to\s+(?:the\s+)?)?{_SIDE}\s*\((?P<steps>[^(),]+(?:,[^(),]+)+)\)", told_out),
    # "step R forward (turn 1/4 right)": a turn told nowhere else
    (
        rf"\s*[(\[]\s*(?:(?:making|make|turning|turn|with|an?)\s+)*({_TURN})\s+(?:turn\s+)?(?:to\s+(?:the\s+)?)?({_SIDE})(?:\s+turn)?\s*[)\]]",
        r" with \1 turn \2",
    ),
    (
        rf"\s*[(\[]\s*(?:(?:making|make|turning|turn|with|an?)\s+)*({_SIDE})\s+({_TURN})(?:\s+turn)?\s*[)\]]",
        r" with \2 turn \1",
    ),
    (
        rf"(^|[,;]\s*|\bwith\s+(?:an?\s+)?)(?:turn\s+)?(right|left)\s+(?!full)({_TURN})(?:\s+turn\b|(?=\s*(?:$|,)))",
        r"\1turn \3 \2",
    ),
    (r"\s*\(?\b(?:kl\.?|klokken)\s*(1[0-2]|[1-9])\b(?:[:.]00)?\)?", r" (\1:00)"),
    (r"\s*\(?\b(1[0-2]|[1-9])\s*(?:uur|uhr)\b\)?", r" (\1:00)"),
    # "3-4  RF forward (hold)"
    (r"(?<=[A-Za-z])\s*\((?:and\s+|then\s+|&\s*)?hold\)", ", hold"),
    (r"\bx-?\s?(?=shuf)", "cross "),
    (rf"\b(drag|slid|draw)ging\s+({_FOOT})\s+(?:heel|toe)s?\b", r"\1ging \2"),
    # "walk round in a full circle to your left, eight steps"
    (
        r"\b(walk(?:ing)?\b[^,;()]*\b(?:circle|round|around)\b[^,;()]*),\s*(?:in\s+)?(?:two|four|six|eight|[2468])\s+(?:steps|walks)\b",
        r"\1",
    ),
    (r"\bstand\s+still(?:\s+(?:for|on)\s+[^,;.]*)?", "hold"),
    (
        r",?\s*\b(?:and\s+)?(?:arriv|end|finish|com)(?:e|ing|es)?\s+(?:back\s+)?(?:facing|at|to)\s+(?:the\s+)?(?:front|back|home|side)(?:\s+wall)?(?=\s*(?:$|[.,;(]))",
        "",
    ),
    (
        rf"(^|[,;]\s*)({_FOOT})\s+(forward|fwd|back|side|to\s+(?:the\s+)?(?:{_SIDE}\s+)?side)\s+(?=(?:dragg|hitch|hook|flick|kick|draw|slid)ing\b)",
        r"\1step \2 \3 ",
    ),
    # "cross over left with right"
    (
        rf"\bcross(?:ing)?\s+(over|across|behind|in\s+front\s+of)\s+(?:the\s+)?({_FOOT})(?:\s+foot)?\s+(?:on|with)\s+(?:the\s+)?({_FOOT})\b",
        r"cross \3 \1 \2",
    ),
    # "R right, L behind"
    (r"(^|[,;]\s*)(R(?=F?\s+right)|L(?=F?\s+left))F?\s+(right|left)(?=\s*(?:[,;(]|$))", r"\1\2 to \3 side"),
    (r"\bcross\s*/\s*rock\b", "cross rock"),
    (r"\bcross\s*/\s*step\b", "cross"),
    # A chasse goes to the side; forward or back it is the shuffle.
    (
        r"(?<!cross )\bchass[e\u00e9]s?(?:\s+step)?(?=\s+(?:(?:right|left|[RL]{1,3})\s+)?(?:fwd|forwards?|back(?:wards?)?)\b)",
        "shuffle",
    ),
    (r"\bcross\s*/\s*(shuffle|triple|chass[e\u00e9])\b", r"cross \1"),
    (r"\bcom(?:e|es|ing)\s+back\s+(?:on|onto|on\s+to)\b", "recover onto"),
    (r"\b(vine|grapevine|shuffle|chass[e\u00e9]|weave)\s+back\s+to\s+(?:the\s+)?(left|right)\b", r"\1 to the \2"),
    (
        rf"\b(diagonally\s+(?:back|forward|fwd|{_SIDE})(?:\s+{_SIDE})?)\s*,?\s*\(?(?:back\s+)?(?:to\s+(?:the\s+)?)?(?:centre|center|home|place|middle)\b\)?",
        r"\1",
    ),
    (
        rf"\b(?:at|on)\s+(?:an?\s+)?45(?:\s*(?:deg(?:rees?)?\b\.?|\u00b0))?(?:\s+angle)?(?:\s+(?:to\s+(?:the\s+)?)?({_SIDE})\b)?",
        r"diagonally \1",
    ),
    (r"(?<=[A-Za-z)])\s+[-\u2010-\u2015]\s+(?=1/[248]\b|3/[48]\b|[\u00bc-\u00be])", ", "),
    (
        rf"\bstep\s+(?:fwd\s+|forward\s+)?on(?:to)?\s+(?:the\s+)?({_FOOT})\s+heel(?:\s+(?:fwd|forward))?,?\s+and\s+grind\s+it\s+({_TURN})\s+({_SIDE}),?\s+step\s+({_FOOT})\s+back\b",
        r"heel grind \1 turning \2 \3, step \4 back",
    ),
    (r"\brock\s*/\s*step\b", "rock"),
    (rf",?\s*\blift(?:ing)?\s+(?:the\s+)?{_FOOT}(?:\s+foot)?\s+(?:a\s+little|slightly)\b", ""),
    (rf"\bswing\s+({_FOOT})\s+(?:forward|fwd),?\s+(?:and\s+)?let(?:ting)?\s+the\s+heel\s+scuff\b", r"scuff \1"),
    (
        rf"\b(?:2|two)\s+steps\s+(forward|fwd|back)\s*[,(]\s*({_FOOT})\s*[-,]\s*({_FOOT})(?:\)|(?=\s*$))",
        r"walk \1 \2, \3",
    ),
    (rf"\b(forward|fwd|back)\s+in\s+(?:the\s+)?({_SIDE})\s+diagonal\b", r"diagonally \1 \2"),
    (r"\((1[0-2]|[1-9])\s?h(?:00)?\)", r"(\1:00)"),
    (r"\s{2,}\([A-Z]\)\s*$", ""),
    (rf"\breplace\s+(?:the\s+)?(?:wt|weight)\s+(?:back\s+)?(?:to|on(?:to)?)\s+(?:the\s+)?({_FOOT})\b", r"recover \1"),
    # "jazz box 1/4 right: R over L, L back, turn right stepping R to side"
    (
        rf"^(?=[^:]{{1,80}}:)([^:]*?)({_TURN})\s+(?:turn\s+)?({_SIDE})\s*:\s*(.*?)(?:(?<=,\s)|(?<=nd\s))turn\s+\3\s+(?=step)",
        r"\4turn \2 \3 ",
    ),
    # "RF 1/4 turn right, weight back on RF", "RF 1/4 turn left, big step side"
    (
        rf"\b({_FOOT})(?:\s+foot)?\s+({_TURN})\s+turn\s+({_SIDE}),\s*(?:weight\s+(?:back\s+)?on(?:to)?|recover)\s+(?:the\s+)?{_FOOT}(?:\s+foot)?",
        r"turn \2 \3 recover \1",
    ),
    (
        rf"\b({_FOOT})(?:\s+foot)?\s+({_TURN})(?:\s+turn)?\s+({_SIDE}),\s*((?:big\s+|small\s+|long\s+)?step|cross|touch|point|close)\s+(?=side|to|fwd|forward|back|right|left|next|beside|behind|across|over|in\b)",
        r"turn \2 \3 \4 \1 ",
    ),
    # "L behind R starting 1/2 turn left (3), finish the 1/2 stepping R next to L (&)"
    (rf"\bstarting\s+(?:an?\s+|the\s+)?({_TURN})\s+(?:turn\s+)?(?:to\s+the\s+)?({_SIDE})\b", r"turning \1 \2"),
    (rf"\b(?:finish|complet)(?:e|ing)?\s+(?:the\s+)?(?:{_TURN}\s+)?(?:turn\s+)?(?=step)", ""),
    # "step R to side bumping hips R, R again, then bump L, L"
    (
        rf"\bstep\s+({_FOOT})\s+(?:to\s+(?:the\s+)?(?:{_SIDE}\s+)?)?side,?\s+bump(?:ing)?\s+(?:the\s+)?hips?\s+({_SIDE}),?\s*(?:and\s+)?\2\b(?:\s+again)?",
        r"step \1 side, bump \2",
    ),
    (rf"\b(?:then\s+)?bump(?:ing)?\s+(?:the\s+)?(?:hips?\s+)?({_SIDE})\s*,\s*\1\b", r"bump \1, bump \1"),
    (r"\s+(1[0-2]|[1-9])\s?h(?:00)?\s*$", r" (\1:00)"),
    (
        rf",?\s+(?:end|finish|land)(?:ing)?\s+(?:with\s+)?{_FOOT}\s+(?:back|forward|fwd|behind|in\s+front)(?=\s*(?:\(|$|\s\d))",
        "",
    ),
    (r"\bin\s+(?:the\s+)?diagonal\s+(forward|fwd|back)\b", r"diagonally \1"),
    (r"\bclose\s+(?=behind\b)", ""),
    (r"\s{3,}(?:now\s+)?(?:a\s+)?(?:half|quarter|full)\s+(?:a\s+)?turn\s+from\s+where\b.*$", ""),
    (
        rf"\btriple\s+in\s+place\s+({_FOOT})[\s,]+({_FOOT})[\s,]+({_FOOT})\s+turning\b",
        r"triple step in place \1 \2 \3 turning",
    ),
    (r"\bsplit\s+(?:the\s+|both\s+)?heels(?:\s+apart)?\b", "heel split"),
    (
        rf"^(?=[^:]{{1,80}}:)(?P<name>[^:]*\b(?:{_GROUPS}|{_NAMED})\b[^:]*{_TURN}[^:]*?)\s*:\s+(?P<steps>[A-Za-z].*)$",
        name_that_turns,
    ),
    (rf"\b(rolling\s+vine\s+{_SIDE}),?\s+(?:a\s+)?full\s+turn\s+stepping\s+{_FOOT}(?:[\s,]+{_FOOT}){{2}}", r"\1"),
    (
        rf",\s*(?:the\s+)?{_FOOT}(?:\s+foot)?\s+(?:is\s+)?(?:lifted|raised)(?:\s+(?:a\s+little|slightly|up|off\s+the\s+floor))*",
        "",
    ),
    (r"\bfar\s+(?=over|across|behind)", ""),
    (r"\s+[-\u2010-\u2015]{1,2}\s*or\s+(?:just\s+|simply\s+)?(?=walk|run|vine|step|sway|shuffle)[^()]*$", ""),
    (rf"^.*\bi\.e\.,?\s+(?={_MOVES})", ""),
    (r"\b(sway|sways|step|walk)\s+with\s+(?:her|him|them|it|the\s+music)\s*:?\s*", r"\1 "),
    (r",\s*feet\s+(?:shoulder[\s-]width\s+)?apart\b\.?", ""),
    (
        r"\s*[:(\u2010-\u2015-]\s*you(?:['\u2019]re|\s+are|['\u2019]ll\s+be)\s+(?:now\s+)?back\s+(?:on|at|where|to)\b[^()\d]*\)?\s*$",
        "",
    ),
    (r"\s+[#*\u2020]+\s*(?:see\s+(?:the\s+)?(?:notes?|below|foot)\b.*)$", ""),
    (
        rf"\bturn\s+({_TURN})\s+({_SIDE})\s+on\s+(?:the\s+)?(?:ball\s+of\s+)?{_FOOT}(?:\s+foot)?,?\s+(?:bring|clos|stepp|putt)ing\s+(?:the\s+)?({_FOOT})\s+(?:next\s+to|beside|to)\b",
        r"turn \1 \2 step \3 beside",
    ),
    (rf"\b(touch|tap|point)\s+(?:the\s+)?ball\s+of\s+(?:the\s+)?({_FOOT})\b", r"\1 \2"),
    (r"\bcross-rock\b", "cross rock"),
    (r"[,.]?\s*\b(?:now\s+)?you\s+(?:now\s+)?(?:see|face|look\s+at)\s+the\s+(?:back|front|side|home|new)\s+wall\b", ""),
    (r"\s{2,}(12|3|6|9)\s*$", r" (\1:00)"),
    (rf"\b(rolling\s+vine)\s+to\s+the\s+({_SIDE})(?:[\s,]+{_FOOT}){{3}},?\s+(?:a\s+)?full\s+turn\b", r"\1 \2"),
    (
        rf"\brolling\s+full\s+turn\s+(?:to\s+(?:the\s+)?)?({_SIDE})\s*,?\s*({_FOOT}[\s,]+{_FOOT}[\s,]+{_FOOT})\b",
        r"full rolling turn \1 stepping \2",
    ),
    # "LF 1/4 L, side", "RF 1/2 R, together"
    (
        rf"\b({_FOOT})(?:\s+foot)?\s+({_TURN})\s+({_SIDE}),\s+((?:cross\s+)?(?:behind|over)|side|fwd|forward|back|tog(?:ether)?)\b",
        r"turn \2 \3 step \1 \4",
    ),
    (
        r"[,.]?\s*\b(?:now\s+)?you(?:['\u2019]ve|\s+have)\s+(?:now\s+)?(?:got|come)\s+(?:round\s+)?to\s+(1[0-2]|[1-9])(?::00|\s*o['\u2019]?\s?clock)",
        r" (\1:00)",
    ),
    (
        r"(?:(?<=[.!])|(?<=[a-z)]))\s+[A-Z][a-z][^.!]*\bif\s+you(?:['\u2019]d)?\s+(?:like|want|wish|prefer|feel\s+like\s+it)\b[.!]?\s*$",
        "",
    ),
    (r"\s*\((?:so|now|yes|that)\b[,\s][^()\d]*\)", ""),
    (r"\bto\s+(?:the\s+)?(forward|fwd|back)\s+diagonal\b", r"diagonally \1"),
    (r"[,.]?\s*\bta[\s-]?d(?:ah|a)\b!?", ""),
    (r"\bboth\s+heels\s+back\s+to\s+(?:the\s+)?(?:centre|center)\b", "heels to centre"),
    (rf"\b(forward|fwd|back)\s+(?:in|on)\s+(?:the\s+)?diagonal(?:\s+({_SIDE}))?\b", r"diagonally \1 \2"),
    (
        rf",?\s*\b(?:letting|with)\s+(?:the\s+)?({_FOOT})(?:\s+foot)?\s+(?:com(?:e|ing)|swing(?:ing)?)\s+round\b(?:\s+from\s+(?:back|front)\s+to\s+(?:back|front))?",
        "",
    ),
    (rf"\b(stomp(?:\s+up)?|stamp|touch|tap|close|step)\s+at\s+(?=(?:the\s+)?{_FOOT}\b)", r"\1 beside "),
    (r"\b(swivel|twist)\s+(?:the\s+)?(?:two|both)\s+heels\s+to\s+the\b", r"\1 heels"),
    (r"(?<!swivel )(?<!swivel both )\bheels\s+back\s+to\s+(?:the\s+)?(?:centre|center)\b", "swivel heels to centre"),
    # "walk forward R, L, R kick L"
    (
        rf"(?<!beside )(?<!over )(?<!behind )(?<!to )\b(?P<list>{_FOOT}\s*,\s*(?:{_FOOT}\s*,\s*)?(?P<last>{_FOOT}))\s+(?P<rest>(?:kick|touch|point|scuff|brush|stomp|hitch|hook|tap|close)\s+(?P<other>{_FOOT}))\b",
        _with_the_other,
    ),
    # "Quarter L with L forward"; "hinge half R stepping R to side"
    (
        rf"\b({_TURN}\s+(?:turn\s+)?{_SIDE})\s+(?:with\s+|w[./]\s*)(?=(?:the\s+)?{_FOOT}\s+(?:forward|fwd|back|to|side)\b)",
        r"\1 stepping ",
    ),
    (rf"\bhinge\s+(?:turn\s+)?(?={_TURN}\b)", ""),
    # "Monterey 1/4 R: point R, turn & close R, point L, close L" is told twice
    (
        rf"\b(monterey\s+(?:turn\s+)?{_TURN}\s+(?:turn\s+)?{_SIDE})\s*[:(,]\s*(?:point|touch)\b[^()\[\]]*?\b(?:close|together|beside)\b[^()\[\]]*?\b(?:close|together|beside)\b\s*{_FOOT}?\s*\)?",
        r"\1",
    ),
    # A column of feet: "3-4 | R L | Walk forward", "3&4 | L R L | Coaster step"
    (r"^(\s*)((?:[RL]\s?){2,4})\s+((?:walk|run|sway|stomp)s?(?:\s+(?:forward|fwd|back|in\s+place))?)\s*$", r"\1\3 \2"),
    (r"^(?:\s*[RL])(?:\s?[RL\u2010-\u2015-]){1,3}\s{2,}(?=[A-Z][a-z].*\b(?:left|right)\b)", ""),
    (r"^(\s*[RL])(?:\s?[RL]){1,3}\s{2,}(?=[A-Z][a-z])", r"\1 "),
    # "Cross before LF", "1/2 turn right on both balls, weight then RF", as on the Continent
    (rf"\bcross(es|ing)?\s+before\s+(?={_FOOT}\b)", r"cross over "),
    (
        rf"\b({_TURN})\s+(?:turn\s+)?({_SIDE})\s+on\s+both\s+balls(?:\s+of\s+(?:the\s+)?feet)?(?:,?\s*weight\s+(?:then|now|after|at\s+(?:the\s+)?end)\s+(?:on\s+)?{_FOOT})?",
        r"pivot \1 turn \2",
    ),
    (rf"\bto\s+(?:the\s+)?{_SIDE}\s+(forward|fwd|back)\s+diagonal\b", r"\1 diagonal"),
)
_PLAIN = Rewriting((*_LISTED, *_BESIDE, *_ROWS, *_GRINDS, *_TURNS, *_FURTHER))
_MOST_WORDS = 800  # characters; the longest that the strangers' sheets have is under 300


@lru_cache(maxsize=2048)  # a line is read several times over, and again for each layout that is tried for it
def plain_words(text: str) -> str:
    """The description in the vocabulary's own turns of phrase; one far longer than any step line's stays as it is."""
    return text if len(text) > _MOST_WORDS else _PLAIN(facings_told(text))
