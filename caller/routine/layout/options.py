"""An easier (or harder) way, as authors announce it: with its counts, in a line or with step lines below."""

from __future__ import annotations

import re
from dataclasses import dataclass
from functools import lru_cache

from caller.routine.layout.marks import plain_counts
from caller.routine.layout.numbers import NUMBER, ORDINAL, ROMAN, number_of

_DASH = r"[\-\u2010-\u2015]"
_WORDS = (
    r"(?:(?:easy|easier|simple|simpler|beginners?'?|non[\s-]?turning|no[\s-]?turn|turning|alternative|alternate|harder|advanced|styling|optional|"
    r"show-?off|posh|fancy|low\s+impact|less\s+turn(?:ing|y)?|gentler|softer|extra)\s+)*"
    r"(?:options?|alternatives?|alt\.?|variations?|easier|easy\s+out|opt\.?|non[\s-]?turners?|easy\s+way|easier\s+way|substitut(?:e|ion))"
)
_COUNTS = rf"(?P<first>\d{{1,3}})(?P<middle>(?:\s*(?:&|and|,|a)\s*\d{{0,3}}|\s\d(?=[\s:.,;)]))*)(?:\s*(?:{_DASH}|to|thru|through)\s*(?P<last>\d{{1,3}})(?P<more>(?:&\d{{0,3}})*))?"
_OPTION = re.compile(
    rf"^[*\u2605(\[~\s]*{_WORDS},?(?:\s+(?:without\s+(?:the\s+)?turn(?:s|ing)?|not\s+turning))?\s*(?:for|on|in|to|at|{_DASH})?\s*(?:(?:the\s+)?(?:section|sect?|set|s)\.?\s*(?P<section>\d{{1,2}})[\s,:]*)?"
    rf"(?:(?:the\s+)?(?:counts?|cts?\.?|steps?|beats?)\s*)?(?P<counts>{_COUNTS})\s*(?:(?:of|in)\s+(?:the\s+)?(?:(?:section|sect?|set|s)\.?\s*(?P<section2>\d{{1,2}})|(?P<nth>{ORDINAL})\s+(?:section|set|eight|8|block)))?\)?\s*(?:[:.;,=)\]]|{_DASH}+|\s|$)\s*(?P<rest>.*)$",
    re.IGNORECASE,
)
# "Option for the full turn in #2 (7,8): walk forward R, L"
_FOR_NAMED = re.compile(
    rf"^[*\u2605(\[~\s]*{_WORDS}\s+(?:for|to)\s+(?:the\s+)?[A-Za-z][^:(]{{2,50}}?(?:\bin\s+(?:\#|section|sec\.?|set|s)\s*(?P<section>\d{{1,2}}))?"
    rf"(?P<section2>(?!))?\s*\((?:counts?\s+)?(?P<counts>{_COUNTS})\)\s*[:.,]?\s*(?P<rest>.*)$",
    re.IGNORECASE,
)
# "Option for those who don't like to spin, counts 5-8: walk forward L, R, L, R"
_FOR_THOSE = re.compile(
    rf"^[*\u2605(\[~\s]*{_WORDS}\s+(?:for|if)\s+[A-Za-z][^:(\d]{{3,60}}?[,\s]\s*(?:(?:on|for)\s+)?(?:counts?|cts?\.?)\s+(?P<counts>{_COUNTS})\s*:\s*(?P<rest>.+)$",
    re.IGNORECASE,
)
# "No turn wanted in S3? 5-6 walk forward L, R"
_NO_TURN_WANTED = re.compile(
    rf"^[*\u2605(\[~\s]*(?:no\s+(?:full\s+)?(?:turns?|spins?)|not\s+turning)\b[^:?\d]{{0,30}}?(?:\bin\s+(?:section|sec\.?|set|s)\s*(?P<section>\d{{1,2}}))?\s*[?:,-]\s*(?:on\s+)?(?:counts?\s+)?(?P<counts>{_COUNTS})\s*[:.,]?\s+(?P<rest>[A-Za-z].*)$",
    re.IGNORECASE,
)
# "(If you'd rather not turn, 1 2: step right forward, touch left)"
_BARE_COUNTS = re.compile(
    rf"^[*\u2605(\[~\s]*(?!\d)[^:\d]{{3,60}},\s*(?P<counts>{_COUNTS})\s*:\s*(?P<rest>[A-Za-z].*)$", re.IGNORECASE
)
_LOOSE = re.compile(rf"^[*\u2605(\[~\s]*{_WORDS}\b\s*(?:[:.=)\]]|{_DASH}+)\s*(?P<rest>.*)$", re.IGNORECASE)
_AT_END = re.compile(
    rf"^[*\u2605(\[~\s]*{_WORDS}\s+for\s+the\s+(?:last|final)\s+(?P<n>{NUMBER})(?:\s+counts|\s+beats)?\s*[:=]\s*(?P<rest>.+)$",
    re.IGNORECASE,
)
_EASY = re.compile(
    r"^[*\u2605(\[~\s]*(?:easy|easier|simple|simpler)\s*:\s*(?P<rest>(?:counts?\s+)?\d.*)$", re.IGNORECASE
)
_COUNTED = re.compile(
    rf"^(?:(?:for\s+)?(?:counts?|cts?\.?|steps?)\s*)?(?P<counts>{_COUNTS})(?:\s*[:.)]|\s+{_DASH}|\s)\s*(?P<rest>(?!steps\b)[A-Za-z\u00bd\u00bc].*)$",
    re.IGNORECASE,
)
_BEFORE = re.compile(
    rf"^(?:counts?\s*)?(?P<counts>{_COUNTS})\s*(?:{_DASH}|:)?\s*{_WORDS}\s*[:.)]?\s*(?P<rest>.*)$", re.IGNORECASE
)
IS_OPTION = re.compile(rf"^[*\u2605(\[~\s]*{_WORDS}\b", re.IGNORECASE)


# An easier way told in a sentence: "if you would rather not spin, walk L, R on counts 3-4 instead".
_INSTEAD = re.compile(
    r"\?\s+(?:(?:then|just|simply|do|dance|take)\s+)*(?:for|on)\s+(?:counts?\s+)?\d|\b(?:instead|rather\s+not|swap|easier|without\s+the|no\s+spin|leave\s+out|giddy|dizzy|knees|(?:may|can)\s+be\s+done\s+as|for\s+those\s+with)\b",
    re.IGNORECASE,
)
_PROSE = re.compile(
    rf"^(?!\d)(?:(?:.*?\bin\s+(?:section\s+|sec\.?\s+|S)?(?P<section>[IVX]{{1,4}}|\d{{1,2}})\b\.?)?)?.*?\b(?:(?:for|on|of|swap)\s+)?(?:counts?\s+|swap\s+|replace\s+|for\s+)(?P<counts>{_COUNTS})\s*(?:[:,]|and|to|for|as|by|with|,?\s*do|dance|may|go|take|just)?\s*:?\s*(?:a\s+)?(?P<rest>.*)$",
    re.IGNORECASE,
)


# "Easier: replace 7&8 with 7-8 step left back, step right beside left"
_IN_PLACE_OF = re.compile(
    r"^(?P<head>[*\u2605(\[~\s]*(?:option|easier|easy|simpler|alternative)\b[^:\d]{0,24}:\s*)(?:replace|swap|change)\s+(?:counts?\s+)?(?P<counts>\d{1,2}(?:[&\u2013-]\d{0,2})*)\s+(?:with|for|by|to)\s+(?:(?P<own>\d{1,2}(?:[&\u2013-]\d{0,2})*):?\s+)?(?P<words>[A-Za-z].*)$",
    re.IGNORECASE,
)


# Said to those who would rather not, in words that name no counts.
EASIER = re.compile(
    r"^\W*(?:bad\s+knees|(?:do\s+you\s+get\s+|feeling\s+)?dizzy|giddy|no\s+spinners|not\s+everyone|(?:who(?:ever)?|for\s+whom|anyone\s+who|those\s+who)\s+(?:does|do|would|can|like|dislike|gets?|feels?|prefers?)\w*"
    r"|if\b.{0,60}\b(?:giddy|dizzy|too\s+(?:quick|fast|much)|(?:is\s+not|isn['\u2019]t|are\s+not|aren['\u2019]t)\s+for\s+you|is\s+hard|rather\s+not|(?:don['\u2019]?t|do\s+not)\s+(?:like|want|fancy)|can['\u2019]?t|brave))\b",
    re.IGNORECASE,
)


OF_A_WALL = re.compile(
    r"\bwall\s+\d.*\b(?:replace|instead|becomes?|change)|\breplace\b.*\bwall\s+\d|^\W*variation\b[^.]{0,24}\b(?:wall|time\s+(?:through|round))\b"
    r"|(?:^|[:\u2010-\u2015-]\s)\W*(?:on\s+)?(?:walls?\s*|W)\d(?:\s*(?:,|&|\+|and)\s*W?\d)*\s*:.*\binstead\b"
    rf"|\b{ORDINAL}\s+(?:wall|time)\b.*\b(?:instead|start\s+again|re-?start)\b",
    re.IGNORECASE,
)


@dataclass(frozen=True, slots=True)
class Offered:
    """An option's heading. first, last: its counts as written, None where it names none (-6, 0: the last six of its section); counts: as written; section:
    that it names, 0 = none; words: what stands behind."""

    first: int | None
    last: int | None
    counts: str
    section: int
    words: str
    prose: bool = False


@lru_cache(maxsize=1024)  # a line is looked at from the one before it, and from its own place
def read_option(text: str) -> Offered | None:
    """The option that this line announces, None where it is none."""
    if OF_A_WALL.search(text) is not None:
        return None
    text = _IN_PLACE_OF.sub(lambda told: f"{told['head']}{told['own'] or told['counts']}: {told['words']}", text)
    text = _RUN.sub(lambda run: plain_counts(run[0]), text, count=1)
    found = _OPTION.match(text) or _FOR_NAMED.match(text)
    if found is not None and not re.match(r"\s*(?:counts?|walls?|times)\b", found["rest"], re.IGNORECASE):
        nth = found.groupdict().get("nth")
        return _offered(found, int(found["section"] or found["section2"] or (number_of(nth) if nth else 0)))
    found = _FOR_THOSE.match(text) or (_BARE_COUNTS.match(text) if _INSTEAD.search(text) else None)
    if found is not None:
        return _offered(found, 0)
    if (found := _NO_TURN_WANTED.match(text)) is not None:
        return _offered(found, int(found["section"] or 0))
    if (found := _AT_END.match(text)) is not None:
        return Offered(-number_of(found["n"]), 0, "", 0, found["rest"].strip())
    if (found := _LOOSE.match(text) or _EASY.match(text)) is not None:
        counted = _COUNTED.match(found["rest"])
        if counted is not None:
            return _offered(counted, 0)
        return Offered(None, None, "", 0, found["rest"].strip())
    if (found := _BEFORE.match(text)) is not None:
        return _offered(found, 0)
    if (
        (found := _PROSE.search(text)) is not None
        and _INSTEAD.search(text)
        and not re.search(r"\bwalls?\b", text, re.IGNORECASE)
    ):
        section = found["section"]
        number = int(section) if section and section.isdigit() else ROMAN.get((section or "").lower(), 0)
        rest = re.sub(r"^\s*(?:instead|just|simply)\b\s*[:,]?\s*", "", found["rest"], flags=re.IGNORECASE)
        words = re.sub(r"[\s,;.]*\b(?:instead|if\s+you|still)\b.*$", "", rest, flags=re.IGNORECASE).strip(" ,;.:")
        numbers = [int(n) for n in re.findall(r"\d+", found["counts"])]
        return Offered(numbers[0], max(numbers), found["counts"].strip(), number, words, prose=True)
    return Offered(None, None, "", 0, text) if IS_OPTION.match(text) and len(text) < 200 else None


_WHO = re.compile(
    r"^(?:for\s+)?(?:those|anyone|anybody|dancers|people|beginners)\s+who\s+[^,;:]{3,40}?,?\s+(?=(?:may\s+|can\s+|just\s+|simply\s+)*(?:step|walk|rock|shuffle|sway|touch|vine|march|do)\b)",
    re.IGNORECASE,
)


_RUN = re.compile(r"(?<![\d:])[1-8]{3,4}(?=\s*[:.](?!\d))")  # "Easier 1234:"
_NO_TURN = re.compile(
    r"^(?:without\s+(?:the\s+)?turn(?:s|ing)?|no\s+turns?|not\s+turning)\s*[:,]\s*(?:just\s+|simply\s+)?", re.IGNORECASE
)


def _offered(found: re.Match[str], section: int) -> Offered:
    numbers = [int(n) for n in re.findall(r"\d+", found["counts"])]
    rest = _NO_TURN.sub("", _WHO.sub("", found["rest"].strip().lstrip(")]").strip()))
    while rest.endswith((")", "]")) and rest.count("(") + rest.count("[") < rest.count(")") + rest.count("]"):
        rest = rest[:-1].strip()
    return Offered(numbers[0], max(numbers[-1], numbers[0]), found["counts"].strip(), section, rest)
