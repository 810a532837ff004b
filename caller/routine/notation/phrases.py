"""More turns of phrase, for :mod:`caller.routine.notation.dialect`: whole clauses rather than single words.

Each row is a pattern and the plain words for it. Common practice of the trade in several countries; no published
source.
"""

from __future__ import annotations

import re
from collections.abc import Callable
from itertools import pairwise

PlainWords = str | Callable[[re.Match[str]], str]
FOOT = r"(?:right|left|rf|lf|rt|lt|[rl])"
SIDE = r"(?:right|left|rt|lt|[rl])"
GROUPS = (
    r"(?:shuffles?|triples?(?:\s+step)?|chass[e\u00e9]s?|cha\s*cha(?:\s*cha)?"
    r"|coasters?(?:\s+step)?|sailors?(?:\s+step)?|polka|lock\s+step)"
)
TURN = r"(?:1/2|1/4|3/4|1/8|3/8|\u00bd|\u00bc|\u00be|\u215b|\u215c|half|quarter|full|eighth)"

_STEPS = re.compile(
    r"\b(?:step|stomp|hold|clap|touch|turn|rock|kick|hop|jump|pose|bow|repeat|again|twice|freeze|left|right)",
    re.IGNORECASE,
)
_EIGHTHS = {
    "quarter": 2,
    "1/4": 2,
    "\u00bc": 2,
    "half": 4,
    "1/2": 4,
    "\u00bd": 4,
    "three quarter": 6,
    "three quarters": 6,
    "3/4": 6,
    "\u00be": 6,
    "full": 8,
    "": 8,
}
EACH = {1: "1/8", 2: "1/4", 3: "3/8", 4: "1/2"}


def _shared(eighths: int, side: str, feet: list[str]) -> str:
    """Each foot with its share of the turn, as even as eighths go; "" where a step would turn too far."""
    done = [-(-eighths * n // len(feet)) for n in range(len(feet) + 1)]
    shares = [after - before for before, after in pairwise(done)]
    if max(shares) not in EACH:
        return ""
    each = zip(feet, shares, strict=True)
    return ", ".join(f"{foot} turning {EACH[share]} {side}" if share else foot for foot, share in each)


def _round(found: re.Match[str]) -> str:
    """ "walk round in a half circle to the left, R, L, R, L": the turn shared out over the steps."""
    feet = re.findall(r"\b(?:right|left|[RL])\b", found["feet"], re.IGNORECASE)
    told = _shared(_EIGHTHS[" ".join((found["turn"] or "").lower().replace("-", " ").split())], found["side"], feet)
    return f"{found['verb']} {told}" if told else found[0]


def _without_a_cry(found: re.Match[str]) -> str:
    """ "... for three counts. Hat off!"; one that names a step stays."""
    return found[0] if _STEPS.search(found[0]) is not None else ""


def _ending_named(found: re.Match[str]) -> str:
    verb = found[2].lower().removesuffix("p") if found[2].lower() == "tapp" else found[2]
    return f"{found[1]}, {verb} {found[3]}"


def _round_in(found: re.Match[str]) -> str:
    """ "walk round in a full circle to the left in eight steps, beginning with the right": a foot for each step."""
    steps = {"four": 4, "eight": 8}.get(found["steps"].lower(), 0) or int(found["steps"])
    first = "L" if found["foot"].lower().startswith("l") else "R"
    feet = [first, "R" if first == "L" else "L"] * (steps // 2)
    told = _shared(_EIGHTHS[(found["turn"] or "").lower()], found["side"], feet)
    return f"walk {told}" if told else found[0]


_TURN = r"quarter|half|three[ -]quarters?|full|1/[24]|3/4|\u00bc|\u00bd|\u00be"

ROWS: tuple[tuple[str, PlainWords], ...] = (
    (rf"\bnxt\s+(?=(?:the\s+)?{FOOT}\b)", "next to "),
    # "... point right out to the right. You are still facing the back."
    (
        r"[.;]\s+(?:you(?:['\u2019]re|\s+are)\s+)(?:now\s+|still\s+|back\s+|again\s+)*(?:facing|looking\s+at)\s+(?:the\s+)?(?:(?P<hour>1[0-2]|[1-9])\s*(?::00|o['\u2019]?\s?clock)|(?P<side>front|back|home))(?:\s+wall)?(?:,?\s+and\b[^.;]*)?\.?\s*$",
        lambda found: f" ({found['hour'] or (6 if found['side'].lower() == 'back' else 12)}:00)",
    ),
    # "touch left beside right; do not put your weight on it"
    (
        r"[;,.]?\s*(?:\bbut\s+)?\b(?:do\s+not|don['\u2019]?t|without)\s+(?:put(?:ting)?|tak(?:e|ing))\s+(?:your\s+|any\s+|the\s+)?weight(?:\s+on(?:to)?\s+it)?\b",
        " (no weight)",
    ),
    # "step R forward 45 degrees right": where to, no turn
    (
        rf"\b(fwd|forwards?|back(?:wards?)?)\s+(?:at\s+)?45\s*(?:\u00b0|deg(?:rees?)?\.?)(?:\s*(?:to\s+(?:the\s+)?)?{SIDE}\b)?",
        r"\1 diagonal",
    ),
    # "slide left up to right and step on it"
    (
        rf"\b(?:slide|bring|draw|drag)\s+(?:the\s+)?({FOOT})\s+(?:foot\s+)?(?:up\s+)?to\s+(?:the\s+)?{FOOT}(?:\s+foot)?\s*(?:,\s*|and\s+)(?:step|put(?:ting)?\s+(?:your\s+|the\s+)?weight)\s+on\s+(?:it|{FOOT})\b",
        r"step \1 together",
    ),
    (r"\bto\s+(?:the\s+)?side\s+in\s+place\b", "in place"),
    (r"\bacross\s+in\s+front\s+of\b", "across"),
    # "... sway left, and you are ready to start over."
    (
        r"[,;.]?\s*(?:\band\s+|\bso\s+)*(?:\byou(?:['\u2019]re|\s+are)\s+)?(?:\bnow\s+)?\b(?:ready|set)\s+to\s+(?:start|begin|go|do\s+it|repeat)\b[^,;()]*$",
        "",
    ),
    (r"[,;.]?\s*\b(?:and|then)\s+(?:then\s+)?(?:start|begin)\s+(?:over|again|anew|afresh)\b[^,;()]*$", ""),
    # "a step L beside R and a touch"
    (
        r"(^|[,;]\s*|\band\s+|\bthen\s+)(?:an?|one)\s+(?=(?:big\s+|small\s+|little\s+)?(?:step|stomp|touch|tap|kick|point|scuff|hitch|brush|stamp|sway|hold|clap)\s+(?:of\s+)?(?:the\s+)?(?:right|left|[RL]F?)\b)",
        r"\1",
    ),
    (rf"\b(step|stomp|touch|tap|kick|point|scuff|stamp)\s+of\s+(?:the\s+)?({FOOT})\b", r"\1 \2"),
    # "(now on the 9 o'clock wall)"
    (
        r"[(\[](?:so\s+)?(?:you(?:['\u2019]re|\s+are)\s+)?(?:now\s+)?(?:on|at|to|looking\s+at)\s+(?:the\s+)?(1[0-2]|[1-9])(?::00|\s*o['\u2019]?\s?clock)(?:\s+wall)?[)\]]",
        r"(\1:00)",
    ),
    # "shuffle L R L turning 1/2 R, moving back"
    (
        r"(\b(?:shuffle|triple|chass[e\u00e9]|cha\s*cha)\b[^,;]*),\s*(?:moving|travell?ing|going)\s+(?:back(?:wards?)?|forwards?|fwd)\b",
        r"\1",
    ),
    # "step L to L and sway L, hold 2"
    (
        rf"\bstep\s+({FOOT})\s+(?:to\s+(?:the\s+)?(?:side|{SIDE})|side)\s+and\s+sway\s+(?:to\s+(?:the\s+)?)?{SIDE}(?=,?\s*hold)",
        r"step \1 to side swaying",
    ),
    # "right heel forward, put it back next to the left"
    (
        rf"\b(?:put|bring|set)\s+(?:it|them|that\s+foot)\s+back\s+(?:down\s+)?(?:next\s+to|beside|to)\s+(?:the\s+)?{FOOT}(?:\s+foot)?",
        "together",
    ),
    # "put it down on its ball next to the left, and change your weight onto the left"
    (
        rf"\b(?:put|bring|set)\s+(?:it|that\s+foot)\s+down\s+(?:on\s+(?:its|the)\s+ball\s+)?(?:next\s+to|beside)\s+(?:the\s+)?{FOOT}(?:\s+foot)?",
        "together",
    ),
    (
        rf"(?<=[,;])(\s*(?:and\s+)?)(?:change|shift|put)\s+(?:your\s+|the\s+)?weight\s+(?:back\s+)?(?:on)?to\s+(?:the\s+)?({FOOT})(?:\s+foot)?(?=\s*(?:[.,;(]|$))",
        r"\1step \2 in place",
    ),
    # "step the left foot forward to where you came from", "step forward with a flourish"
    (r"\s+(?:back\s+)?to\s+where\s+(?:you|it|we)\s+(?:came|started|began|were)(?:\s+from)?\b", ""),
    (
        r"\s+with\s+(?:a\s+|an\s+|some\s+)?(?:little\s+|big\s+)?(?:flourish|style|attitude|feeling|smile|swagger|bang)\b",
        "",
    ),
    (r"\(\s*(?:both|each)\s+(?:with|take|takes|taking)\s+(?:the\s+)?weight\s*\)", ""),
    # "RF hook x L shin"
    (rf"\bhook\s+(?:x|across|over|cross|in\s+front\s+of)\s+(?:the\s+)?{FOOT}\s+(?:shin|leg|knee|ankle)\b", "hook"),
    # "Step with right to the right side"
    (
        rf"\b(step|stomp|touch|tap|point|kick|rock|lunge|stamp|brush|scuff)\s+with\s+(?:the\s+|your\s+)?({FOOT})(?:\s+foot)?\s+(?=to\s+(?:the\s+)?|forward|fwd|back|across|over|behind|beside|next)",
        r"\1 \2 ",
    ),
    (
        rf"\b({FOOT})\s+(?:slide|drag|draw)s?\s+(?:up\s+)?(?:next\s+to|beside|to)\s+(?:the\s+)?{FOOT}\s*(?=\(\s*(?:wt|weight)\s+on(?:to)?\s+(?:the\s+)?\1\b)",
        r"\1 step together ",
    ),
    # "recover on the left - that's your rocking chair"
    (r"\s*[,\u2010-\u2015-]\s+that(?:['\u2019]s|\s+is)\s+(?:your|the|a|an|our)\s+[a-z -]{3,30}(?=\s*(?:[(.]|$))", ""),
    # "Step forward with right, only on the toe, then lower the right heel"
    (
        rf"\bstep\s+({FOOT})\s+(forward|fwd|back|to\s+the\s+side),?\s+(?:only\s+)?on\s+the\s+(?:toes?|ball),\s*(?:and\s+|then\s+)*(?:lower|drop)\s+the\s+(?:{FOOT}\s+)?heel",
        r"touch \1 toe \2, drop \1 heel",
    ),
    # "Rock forward on the right, back on to the left in place"
    (rf"(?<=[,;])\s*(?:back|forward|fwd)\s+on\s*to\s+(?:the\s+)?({FOOT})(?:\s+foot)?\s+in\s+place\b", r" recover \1"),
    # "Sweep R behind L turning 1/4 right and step on it"
    (
        rf"\bsweep\s+({FOOT})\s+behind\s+(?:the\s+)?{FOOT}\s+turning\s+({TURN})\s+({SIDE})\s+(?:and|&)\s+step\s+(?:on\s+it|down)",
        r"step \1 behind turning \2 \3",
    ),
    # "R rock step fwd, recover L"
    (
        rf"\b({FOOT})\s+rock[\s-]step\s+((?:to\s+(?:the\s+)?)?(?:side|fwd|forward|back|{SIDE})|over|across|behind)(?=[^,;]*,\s*(?:recover|rec\b|replace|return|back\s+on))",
        r"rock \1 \2",
    ),
    # "cross rock RF before LF"
    (rf"\bbefore\s+(?:the\s+)?({FOOT})\b(?!\s+(?:step|touch|kick))", r"over \1"),
    # "rock RF back, come back on LF"
    (rf"\bcom(?:e|es|ing)\s+back\s+(?:on(?:to)?|to)\s+(?:the\s+)?({FOOT})\b", r"recover \1"),
    # "The same again, which leaves you facing 3 o'clock"
    (
        r"[,.;]?\s*\b(?:which|this|that)\s+(?:leaves|brings|takes|puts|turns)\s+(?:you|us)\s+(?:round\s+|back\s+)?(?:facing|to|at|to\s+face)\s+(?:the\s+)?(1[0-2]|[1-9])(?::00|\s*o['\u2019]?\s?clock)(?:\s+wall)?",
        r" (\1:00)",
    ),
    (
        r"[,.;]?\s+(?:-\s+)?(?:now\s+|so\s+)?we(?:['\u2019]re|\s+are)\s+(?:now\s+)?(?:looking\s+at|facing|at)\s+(?:the\s+)?(1[0-2]|[1-9])(?::00|\s*o['\u2019]?\s?clock)(?:\s+wall)?",
        r" (\1:00)",
    ),
    # "grapevine to the right, scuffing the left"
    (
        rf"\b((?:grape)?vine\s+(?:to\s+(?:the\s+)?)?{SIDE}),?\s+(?:and\s+)?(scuff|touch|hitch|brush|kick|tapp|point|stomp)ing\s+(?:with\s+)?(?:the\s+)?({FOOT})\b",
        _ending_named,
    ),
    # "walk round in a half circle to the left: R, L, R, L", "walk a full circle left R, L, a quarter on each step"
    (
        rf"\b(?P<verb>walk|run|step|march)(?:ing|s)?\s+(?:a?round\s+)?(?:in\s+)?(?:an?\s+)?(?P<turn>quarter|half|full|1/[24]|3/4|\u00bc|\u00bd|\u00be)?\s*(?:of\s+a\s+)?(?:circle|turn\s+circle|arc)\s+(?:to\s+(?:the\s+)?|over\s+(?:the\s+|your\s+)?)?(?P<side>{SIDE})(?:\s+shoulder)?\s*[:,(]?\s*(?:stepping\s+|with\s+)?(?P<feet>(?:{SIDE}\b(?:\s*[,-]\s*|\s+)?){{2,8}})\)?(?:,?\s*(?:an?\s+)?(?:quarter|eighth|1/[48]|\u00bc|\u215b)\s+(?:turn\s+)?(?:on|with)\s+each(?:\s+step)?)?",
        _round,
    ),
    # "walk round 3/4 to the left: R, L, R, L", "walk R, L, R, L round half a turn left"
    (
        rf"\b(?P<verb>walk|run|march)(?:ing|s)?\s+a?round\s+(?:an?\s+)?(?P<turn>{_TURN})(?:\s+(?:of\s+)?(?:an?\s+)?turn)?\s+(?:to\s+(?:the\s+)?|over\s+(?:the\s+|your\s+)?)?(?P<side>{SIDE})(?:\s+shoulder)?\s*[:,(]?\s*(?:stepping\s+|with\s+|in\s+(?:three|four|six|eight|[3468])\s+steps?\s*[:,]?\s*)?(?P<feet>(?:{SIDE}\b(?:\s*[,-]\s*|\s+)?){{3,8}})\)?",
        _round,
    ),
    (
        rf"\b(?P<verb>walk|run|march)(?:ing|s)?\s+(?P<feet>(?:{SIDE}\b(?:\s*[,-]\s*|\s+)?){{3,8}})a?round\s+(?:an?\s+)?(?P<turn>{_TURN})(?:\s+(?:of\s+)?(?:an?\s+)?turn)?\s+(?:to\s+(?:the\s+)?|over\s+(?:the\s+|your\s+)?)?(?P<side>{SIDE})\b(?:\s+shoulder)?",
        _round,
    ),
    (
        rf"\b(?:walk|run|step|march)(?:ing|s)?\s+(?:a?round\s+)?(?:in\s+)?(?:an?\s+)?(?P<turn>quarter|half|full|1/[24]|3/4|\u00bc|\u00bd|\u00be)?\s*(?:circle|turn)\s+(?:to\s+(?:the\s+)?)?(?P<side>{SIDE})\s+(?:in|over|with)\s+(?P<steps>four|eight|[48])\s+steps?,?\s*(?:(?:starting|beginning|leading)\s+(?:on|with)\s+(?:the\s+)?(?P<foot>{SIDE})\b(?:\s+foot)?)(?:,?\s+(?:and|to)\s+(?:finish|end|come)\b.*)?",
        _round_in,
    ),
    # "step the left foot diagonally back to the left, home again, and touch": where the step leads
    (r",\s*(?:back\s+)?home(?:\s+again)?,\s+(?=(?:and\s+)?touch)", ", "),
    # "RF kick forward, RF ball step beside LF"
    (rf"\b({FOOT})\s+ball[\s-]step\s+(?=beside|next\s+to)", r"\1 step "),
    # "3 step turn right: R, L, R, touch L"
    (
        rf"\b(?:3|three)[\s-]step\s+turn\s+(?:to\s+(?:the\s+)?)?({SIDE})\b\s*[:,(]?\s*(?:stepping\s+)?(?:{FOOT}\s*[,-]?\s*){{3}}\)?",
        r"rolling vine \1, ",
    ),
    # "touch R toes out to the side, bring them back beside the left"
    (
        rf"\b((?:touch|tap|point)\b[^,;]*),\s*(?:and\s+|then\s+)?bring(?:ing)?\s+(?:it|them|the\s+(?:foot|toes?))\s+(?:back\s+)?(?:in\s+)?(?:beside|next\s+to|to)\s+(?:the\s+)?{FOOT}(?:\s+foot)?",
        r"\1, touch beside",
    ),
    # "RF heel forward tap, RF back beside LF"
    (rf"\b({FOOT}\s+(?:heel|toe)s?\s+(?:forward|fwd|back|to\s+(?:the\s+)?side))\s+(?:tap|touch|dig)\b", r"\1"),
    (rf"(?:^|(?<=[,;])\s*)\s*({FOOT})\s+back\s+(?=(?:beside|next\s+to)\b)", r" step \1 "),
    # "LF 1/4 turn left and step forward"
    (
        rf"\b({FOOT})(?:\s+foot)?\s+({TURN})(?:\s+turn)?\s+({SIDE})\s+(?:and|&)\s+step(?:s|ping)?\s+(side|to\s+the\s+side|fwd|forward|back)\b",
        r"turn \2 \3 step \1 \4",
    ),
    # "rock step LF forward, back on RF"
    (rf"\brock[\s-]step\s+(?={FOOT}\b[^,;]*,\s*(?:and\s+)?(?:back|recover|replace|return|in\s+place))", "rock "),
    (rf"\b({FOOT}(?:\s+foot)?)\s+in\s+front(?=,\s*(?:pivot|{TURN}|turn)\b)", r"\1 forward"),
    # "R fwd L fwd", "heel R tog heel L tog"
    (
        r"\b([RL]F?\s+(?:fwd|forward|back|side|tog|together|out|in))\s+(?=[RL]F?\s+(?:fwd|forward|back|side|tog|together|out|in|touch|kick|point|behind|over)\b)",
        r"\1, ",
    ),
    (r"\b((?:heel|toe)\s+[RL])\s+(tog(?:ether)?)\b", r"\1, \2"),
    (r"\b(tog(?:ether)?)\s+(?=(?:heel|toe|touch|point|kick|stomp)\s+[RL]\b)", r"\1, "),
    # "half turn left onto L"
    # "turn 1/2 right on L touching R beside L, weight stays on L"
    (
        rf"\b(turn(?:ing)?\s+(?:an?\s+)?{TURN}\s+(?:to\s+(?:the\s+)?)?{SIDE})\s+on\s+(?:the\s+)?{FOOT}(?:\s+foot)?,?\s+(?:and\s+)?(touch|point|hitch|hook)(?:ing)?\b",
        r"\1 \2",
    ),
    (
        rf"[,;(]\s*(?:the\s+)?weight\s+(?:stays|remains|still|is\s+still)\s+on\s+(?:the\s+)?{FOOT}(?:\s+foot)?\s*\)?(?=\s*(?:[.,;]|$))",
        "",
    ),
    # "stomp R forward and hold it till the last note dies", "arms out to the sides", "and clap on each of them"
    (r"\s*,?\s*\band\s+hold\s+(?:it|that|this|the\s+\w+)\s+(?:until|till|while)\b[^.;]*", ""),
    (r"\bhold\s+(?:it\s+)?(?:until|till|while)\s+the\b[^.;,]*", "hold"),
    (
        r"[,;]?\s*\b(?:with\s+(?:both\s+|your\s+|the\s+)?(?:(?:right|left|[RL])\s+)?|both\s+|your\s+)?(?:arms?|hands?)\s+(?:held\s+|stretched\s+)?(?:out|up|wide|open|raised|outstretched|in\s+the\s+air|high|spread|aloft)(?:\s+(?:to|at|on)\s+(?:the|both|your)\s+sides?)?(?=\s*(?:[.,;!)]|$))",
        "",
    ),
    (r"\s*,?\s*\b(?:and\s+clap|clapping)\s+on\s+each(?:\s+(?:of\s+them|count|beat|one))?\b", ""),
    (r"\s*[-\u2010-\u2015,.]\s*(?:finished|done|fin|the\s+end|ta-?dah?)[\s.!]*$", ""),
    (r"(?<=[a-zLR)])[.;]\s+(?-i:[A-Z][a-z]+(?:\s[a-z]{2,8}){0,3})!\s*$", _without_a_cry),
    # "hold and smile": nothing that the feet do
    (
        r"\bhold\s*(?:,|and|&)\s*(?:smile|pose|grin|wave|bow|nod|listen|look\s+up|breathe|curtsey)\b(?:\s+(?:at|to)\s+(?:the\s+)?\w+)?",
        "hold",
    ),
    (
        rf"\b((?:turn|pivot)\s+(?:an?\s+)?{TURN}\s+(?:to\s+the\s+)?{SIDE}|{TURN}\s+(?:turn|pivot)\s+(?:to\s+(?:the\s+)?)?{SIDE})\s+(?:on)?to\s+(?:the\s+)?({FOOT})(?:\s+foot)?(?=\s*(?:[(,.;&]|$|and\b|then\b))",
        r"\1 (weight on \2)",
    ),
    (r"\bw[./]\s*(?=\w|\u00bd|\u00bc)", "with "),
    # "1/2 R on L closing R"
    (
        rf"\b(?:turn(?:ing)?\s+)?({TURN})\s+(?:turn\s+)?({SIDE})\s+on\s+(?:the\s+)?(?:ball\s+of\s+)?{FOOT}(?:\s+foot)?,?\s+(?:bring|clos|stepp|putt)ing\s+(?:the\s+)?({FOOT})\b(?!\s+(?:fwd|forward|back|to\s+the))(?:\s+(?:next\s+to|beside|to|together)\b)?",
        r"turn \1 \2 step \3 beside",
    ),
)
