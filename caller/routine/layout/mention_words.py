"""Words that tell what kind of event a sentence is about, and where what it says belongs."""

from __future__ import annotations

import re
from functools import lru_cache

from caller.routine.facing import Facing
from caller.routine.layout.mention import CHANGE, ENDING, RESTART, TAG
from caller.routine.layout.numbers import NUMBER, ORDINAL, number_of
from caller.routine.layout.paraphrases import said_plainly
from caller.routine.notation.stated import facing_of

_KINDS = (
    ("extra", TAG),
    ("hold", TAG),
    ("freeze", TAG),
    ("wait", TAG),
    ("pause", TAG),
    ("put", TAG),
    ("add", TAG),
    ("insert", TAG),
    ("squeeze", TAG),
    ("slip", TAG),
    ("fit", TAG),
    ("give", TAG),
    ("bonus", TAG),
    ("additional", TAG),
    ("tag", TAG),
    ("bridge", TAG),
    ("restart", RESTART),
    ("re-start", RESTART),
    ("re start", RESTART),
    ("end", ENDING),
    ("finish", ENDING),
    ("final", ENDING),
    ("big ending", ENDING),
    ("to end", ENDING),
    ("start", RESTART),
    ("begin", RESTART),
    ("break", RESTART),
    ("leave", RESTART),
    ("stop", RESTART),
    ("go back", RESTART),
    ("back to", RESTART),
    ("from", RESTART),
)


# "instead of the cross you start again": nothing is danced in its place.
INSTEAD_OF_GOING_ON = re.compile(
    r"instead\s+of\s+(?:the\s+|going\s+|doing\s+|dancing\s+)*[\w\s/&-]{1,40}?,?\s+(?:you\s+|we\s+)?(?:just\s+|simply\s+)?(?:re-?start|start\s+(?:again|over)|begin\s+again|go\s+back)\b",
    re.IGNORECASE,
)


AND_THEN = re.compile(r"\b(?:then|and|you(?:\s+will|['\u2019]ll)?)\s+(?:just\s+)?$", re.IGNORECASE)
NEW_WALL = re.compile(r"[^.;]{0,25}\bwalls?\b", re.IGNORECASE)
# "and start again, facing 9:00", "you face 6:00 when you restart"; "wall 6 starts facing 3:00" is another place.
BEGINS_AGAIN = re.compile(
    r"(?:re-?\s?start|start(?:ing)?\s+(?:the\s+dance\s+)?(?:again|over)|begin\s+(?:the\s+dance\s+)?again)(?:(?:(?!walls?\b)[^.;:]){0,40}"
    r"|[^.;:]{0,24}[.;,]\s+(?:and\s+)?(?:you|we)(?:['\u2019](?:ll|re)|\s+(?:will|are|should))?\s+(?:now\s+|then\s+|still\s+)?(?:be\s+)?(?:back\s+)?)$",
    re.IGNORECASE,
)
WHEN_AGAIN = re.compile(r"[^.;:]{0,6}\bwhen\s+you\s+(?:re-?\s?start|(?:start|begin)\s+again)", re.IGNORECASE)
WALL_BEGINS = re.compile(
    r"(?<!re)(?<!re-)(?<!re )(?<!from the )(?<!at the )\b(?:start|begin)(?:s|ning|ing)?\b(?!\s+(?:the\s+dance\s+)?(?:again|over))[^.;,:]{0,24}$|\b(?:started|begun|began)\b[^.;,:]{0,24}$",
    re.IGNORECASE,
)


CARRIES_ON = re.compile(r"\b(?:carry|go|carries|goes)\s+on\s+$|\bcontinues?\s+$", re.IGNORECASE)
COUNTS_AT_END = re.compile(rf"(?P<n>{NUMBER})\s*(?:more\s+)?(?:counts?|beats?)\s*[:.,)]?\s*$", re.IGNORECASE)
ANOTHER_TAG = re.compile(r"\b(?:tag|bridge)s?\b", re.IGNORECASE)


def kind_of(word: str) -> str:
    low = re.sub(r"\s+", " ", word.lower()).strip()
    if low.endswith((" extra", " more", " longer", " extra music")) or re.match(r"\w+ (?:more|further) ", low):
        return TAG
    if "the last" in low:
        return ENDING
    if low.startswith(("go no", "goes no", "go again")):
        return RESTART
    if low.endswith((" here", "short", "bail out")):
        return RESTART
    if low.endswith((" ends", " finishes", " finish")):
        return ENDING
    return next((kind for start, kind in _KINDS if low.startswith(start)), CHANGE)


def numbers_in(text: str) -> tuple[int, ...]:
    return tuple(number_of(n) for n in re.findall(rf"(?:{ORDINAL}|{NUMBER}|\d+)", text, re.IGNORECASE))


def facing_told(found: re.Match[str], key: str) -> Facing | None:
    word = found[f"{key}word"] if f"{key}word" in found.re.groupindex else None
    if word:
        return Facing(0) if word.lower() in ("front", "home") else Facing(4)
    return facing_of(found[f"{key}h"], found[f"{key}m"]) if found[f"{key}h"] else None


def tag_name(found: re.Match[str]) -> str:
    if found["letter"]:
        return found["letter"].upper()
    return str(number_of(found["digits"]))


TAG_BEFORE = re.compile(r"\b(?:tag|bridge)\W{0,3}\s*\d?\W*$", re.IGNORECASE)
# "Tag of 4 beats", "TAG TWO - end of wall 5 - 2 counts"
TAG_LONG = re.compile(
    rf"\b(?:tag|bridge)\s+of\s+(?P<of>{NUMBER})\s+(?:counts?|beats?)\b"
    rf"|[,(:\u2010-\u2015-]\s*(?P<end>{NUMBER})[\s-]*(?:counts?|beats?|cts?)\s*\)?[:.]?\s*$",
    re.IGNORECASE,
)


# "add these 4 counts", "TAG 8 counts:", "It has 8 counts", but not "after 16 counts" or "8 counts of section 2"
_LENGTH = re.compile(
    rf"(?:\b(?:add|make|insert|(?:dance|do)\s+(?:the|these)|following|these|it\s+has|takes|lasts|once\s+only,|(?:tag|bridge)\W{{0,8}}(?:of\s+)?)|[).]|:)\s*(?:(?:the\s+following|these|extra|it\s+has)\s+)*(?P<n>{NUMBER})[\s-]*(?:counts?|cts?)\b(?!\s*(?:tag|bridge|of\b|into|in\s|after|then\s+(?:re-?start|begin|start)|and\s+(?:re-?start|begin\s+again|start))|,?\s*(?:re-?start|then\s+re-?start))",
    re.IGNORECASE,
)


_OVER = re.compile(rf"\bover\s+(?P<n>{NUMBER})\s+(?:counts|beats)\b", re.IGNORECASE)  # "roll the hips over 4 counts"


# "sway R, L, R, L, and the same four sways a second time, eight counts together"
_TOGETHER = re.compile(
    rf"\b(?P<n>{NUMBER})\s+(?:counts|beats)\s+(?:together|altogether|in\s+all|in\s+total|all\s+told)\b", re.IGNORECASE
)
_TWICE = re.compile(r"\b(?:twice|(?:two|2)\s+times|2\s?x|x\s?2)\b", re.IGNORECASE)


def length_told(text: str) -> int | None:
    """The one length that a tag's sentence tells, None where it tells none, or several numbers that may be it."""
    told = {number_of(found["n"]) for found in _LENGTH.finditer(text)} or {
        number_of(found["n"]) for found in _OVER.finditer(text)
    }
    if not told and _TWICE.search(text) is None:
        told = {number_of(found["n"]) for found in _TOGETHER.finditer(text)}
    return told.pop() if len(told) == 1 else None


HAPPENS_TWICE = re.compile(
    r"\b(?:happens?|comes?|occurs?|used|danced|done|needed)\s+(?:twice|two\s+times|2\s*x)|\b(?:music|song|singer|band|track|drummer)\s+[^.;]{1,30}\btwice\b|\btwice,?\s+(?:at|after|on|once|in)\b|\btags?\s*(?::\s*(?:2\s*x|x\s*2|twice)|(?:2\s*x|x\s*2)\s*\()",
    re.IGNORECASE,
)
# "The dance starts after 24 counts": of the music, no place in a wall.
_INTRO = re.compile(
    r"(?<!re-)(?<!re )\b(?:dance\s+)?(?:starts?|begins?|start\s+(?:the\s+)?dance(?:ing)?|start\s*:)\s+(?:(?:on|with)\s+(?:the\s+)?(?:vocals?|lyrics|singing|main\s+beat)\s+)?(?:after\s+\d{1,3}\s+(?:counts?|cts|beats?)\b|\d{1,3}\s+(?:counts?|cts|beats?)\s+in\b)",
    re.IGNORECASE,
)
_WHERE = r"\s*[(\[](?:you(?:['\u2019](?:ll|re)|\s+(?:will|are))?\s+(?:be\s+)?)?(?:fac(?:es?|ing)\s+|at\s+|on\s+|see\s+|looking\s+at\s+)?(?:the\s+)?(?:\d{1,2}(?:[:.]\d\d|\s*o['\u2019]?clock)|front|back|home)(?:\s+wall)?[)\]]"
# "walls 2 (6:00) and 5 (9:00)": one list of walls.
_WALLS_WITH_FACINGS = re.compile(
    rf"\bwalls?\s+\d{{1,2}}{_WHERE}(?:\s*(?:,|and|&|,\s*and)\s*(?:wall\s+)?\d{{1,2}}{_WHERE})+", re.IGNORECASE
)
_IN_BRACKETS = re.compile(r"[(\[][^)\]]*[)\]]")


def _blank(found: re.Match[str]) -> str:
    return " " * len(found[0])


# "When you've danced it twice": after wall 2
_DANCED = re.compile(
    r"\b(?:danced|done|been\s+through|gone\s+through)\s+(?:it|the\s+(?:whole\s+)?dance|the\s+whole\s+thing|everything)\s+(?P<times>twice|once|(?:three|four|five|six|seven|3|4|5|6|7)\s+times)",
    re.IGNORECASE,
)


def _after_so_many(found: re.Match[str]) -> str:
    word = found["times"].lower().split()[0]
    wall = {"once": 1, "twice": 2}.get(word) or number_of(word)
    return f"after wall {wall}".ljust(len(found[0]))


@lru_cache(maxsize=256)
def plain_places(text: str) -> str:
    """The text, place for place, without what would be taken for a place in the dance."""
    text = said_plainly(_DANCED.sub(_after_so_many, text))
    text = _INTRO.sub(_blank, text)
    return _WALLS_WITH_FACINGS.sub(lambda walls: _IN_BRACKETS.sub(_blank, walls[0]), text)
