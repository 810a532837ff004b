"""Step changes told in a sentence: "replace counts 7&8 with walk, walk", "instead of the coaster (7&8), stomp twice"."""

from __future__ import annotations

import re
from dataclasses import replace

from caller.routine.layout.behind import on_counts
from caller.routine.layout.blocks import ReplacedLines
from caller.routine.layout.clauses import steps_first
from caller.routine.layout.counted import steps_on
from caller.routine.layout.kinds import STEP_WORD
from caller.routine.layout.lines import Line
from caller.routine.layout.mention import CHANGE, Mention
from caller.routine.layout.mention_words import STARTS_OVER
from caller.routine.layout.numbers import ORDINAL, ROMAN, number_of
from caller.routine.layout.paraphrases import said_plainly

_DASH = r"[\-\u2010-\u2015]"
_COUNTS = rf"(?P<counts>(?<!\d[:.])\d{{1,3}}(?:\s?(?:&|and|a)\s?\d{{0,3}}|\s?{_DASH}\s?\d{{1,3}}|\s*,\s*\d{{1,3}})*)"
_SECTION = r"(?:\s*(?:,|of|in|from)?\s*(?:the\s+)?(?:section|sect?|set|s)\.?\s*(?P<section>\d{1,2}))?"
_SECTION_FIRST = r"(?:(?:the\s+)?(?:section|sect?|set|s)\.?\s*(?P<first>\d{1,2})[\s,:]*)?"
_WAYS = (
    re.compile(
        rf"\b(?:instead|in\s+place)\s+of\s+[^,:;]*?\b(?:do|dance|take|step)\s+(?P<words>.+?)\s+on\s+(?:counts?\s+)?{_COUNTS}(?P<section>(?!))?",
        re.IGNORECASE,
    ),
    re.compile(
        rf"\b(?:replac(?:e|es|ing)|chang(?:e|es|ing)|substitut(?:e|ing)|modif(?:y|ying))\s+{_SECTION_FIRST}(?:the\s+)?(?:last\s+)?(?:[a-z ]{{0,40}}?\s\(?)?(?:counts?|cts?\.?|steps?|beats?)?\s*{_COUNTS}{_SECTION}[^:;]{{0,60}}?\s*(?:\bwith\b|\bto\b|\bby\b|\bfor\b|:|=)\s*:?\s*(?P<words>.+)$",
        re.IGNORECASE,
    ),
    re.compile(
        rf"(?<![\d/])\b{_COUNTS}{_SECTION}\)?[^:;.]{{0,30}}?\b(?:(?:is|are)\s+)?(?:changed?|replaced)\s+(?:to|by|with)\s*:?\s*(?P<words>.+)$",
        re.IGNORECASE,
    ),
    re.compile(
        rf"\binstead\s+of\s+[^,:;]*?(?:counts?|cts?\.?|\()\s*{_COUNTS}\)?{_SECTION}\s*[,:;)]*\s*(?:dance|do)?\s*(?P<words>.+)$",
        re.IGNORECASE,
    ),
    re.compile(
        rf"\bdance\s+(?:counts?\s+)?{_COUNTS}{_SECTION}\s+as\s+(?:just\s+|simply\s+)?(?:an?\s+)?(?:plain\s+|simple\s+)?(?P<words>[^()]+)",
        re.IGNORECASE,
    ),
    re.compile(
        rf"\b(?:then|but)\s+(?P<words>[A-Za-z][^.;:]*?)\s+on\s+(?:counts?|beats?)\s*{_COUNTS}(?P<section>(?!))?\s*[(,]?\s*instead\b",
        re.IGNORECASE,
    ),
    re.compile(
        rf"\b(?:on|at)\s+counts?\s*{_COUNTS}{_SECTION}\s*,?\s*(?:replace|change|substitute)\s+(?:the\s+)?[^:;.\d]{{2,40}}?\s+(?:with|by|to|for)\s*:?\s*(?P<words>[^.]+)",
        re.IGNORECASE,
    ),
    re.compile(
        rf"\bon\s+counts?\s*{_COUNTS}\s*(?:of\s+(?:this|that|the\s+same)\s+(?:section|set|eight|block|part))?{_SECTION}\s*[,:]?\s*(?P<words>[A-Za-z][^.;:]*?)\s+(?:instead|in\s+place)\s+of\b",
        re.IGNORECASE,
    ),
    re.compile(
        rf"\b(?:instead|in\s+place)\s+of\s+(?:the\s+)?[^,;:.\d]{{2,40}}?\s+(?:at|on)\s+(?:counts?\s+|beats?\s+)?{_COUNTS}{_SECTION}(?:\s+of\s+(?:this|that|the\s+same)\s+(?:section|set|eight|block|part))?\s*,?\s*(?:(?:just|simply|you|we)\s+)*(?P<words>(?!(?:do|dance|take)\b)[A-Za-z][^.;]*)",
        re.IGNORECASE,
    ),
    re.compile(
        rf"\bin\s+(?:section\s+|sec\.?\s+|S)(?P<section>\d{{1,2}})\s*,?\s+on\s+(?:counts?\s+)?{_COUNTS}\s*,?\s+(?:you|we)\s+(?P<words>[^.;]+?)(?:,\s*(?:because|as|since)\b.*)?$",
        re.IGNORECASE,
    ),
    re.compile(
        rf"\bswap\s+(?:the\s+)?[^:;.\d]{{2,40}}?\s+(?:on|at|of|for)\s+(?:counts?|beats?)\s*{_COUNTS}{_SECTION}\s+(?:for|with|to)\s+(?P<words>[^.;]+)",
        re.IGNORECASE,
    ),
    re.compile(
        rf"\b(?:do\s+not|don['\u2019]?t)\s+[a-z][^,;:.\d]{{2,40}}?\s+(?:on\s+)?(?:counts?\s+)?{_COUNTS}{_SECTION}\s*[,;:]\s*(?:but\s+)?(?P<words>[A-Za-z][^.;]*)",
        re.IGNORECASE,
    ),
    re.compile(
        rf"(?:\b(?:on|at)|,)\s+counts?\s*{_COUNTS}{_SECTION}\s*[,:]?\s*(?:you\s+)?(?:(?:do\s+not|don['\u2019]?t|no|not|never)\s+[^,;:.]{{2,40}}|instead\s+of\s+\w+ing\b[^,;:.]{{0,40}})\s*[,;:]\s*(?:but\s+)?(?:instead\s+)?(?:you\s+)?(?P<words>[A-Za-z][^.;]*)",
        re.IGNORECASE,
    ),
    re.compile(
        rf"\b(?:on|for)\s+(?:counts?|cts?\.?)\s*{_COUNTS}{_SECTION}\s*[,:]?\s*(?:dance|do)\s+(?P<words>.+?)(?:\s+instead\b.*)?$",
        re.IGNORECASE,
    ),
    re.compile(
        rf"\b(?:counts?|cts?\.?|beats?)\s*{_COUNTS}{_SECTION}(?:\s+of\s+(?:this|that|the\s+same)\s+(?:section|set|eight|block|part))?\s+(?:becomes?|is\s+now|are\s+now|turns?\s+into|is|are)\s+(?:an?\s+|just\s+)?(?P<words>(?!the\s+same)[^.;]+?)(?:\s+(?:instead\s+of|rather\s+than|in\s+place\s+of)\b[^.;]*)?(?=[.;]|$)",
        re.IGNORECASE,
    ),
    re.compile(
        rf"\bthe\s+[a-z][a-z -]{{2,30}}?\s+(?:on|at)\s+(?:counts?\s+|beats?\s+)?{_COUNTS}{_SECTION}\s+(?:becomes?|is|are|turns?\s+into)\s+(?:an?\s+)?(?P<words>[^.;]+)",
        re.IGNORECASE,
    ),
    re.compile(
        rf"\b(?:put|place|take|bring)\s+(?P<words>[^.;:]+?)\s+on\s+(?:counts?|beats?)\s*{_COUNTS}{_SECTION}",
        re.IGNORECASE,
    ),
    re.compile(
        rf"\b(?:on|at)\s+(?:counts?|beats?)\s*{_COUNTS}{_SECTION}\s*,?\s*instead\s+of\s+(?:the\s+)?[^,;:.]{{2,40}}[,;]\s*(?P<words>[A-Za-z][^.;]*)",
        re.IGNORECASE,
    ),
    re.compile(
        rf"[:;,\-\u2010-\u2015](?:(?<!\d.)|(?=\s))\s*{_SECTION_FIRST}(?:counts?|cts?\.?)?\s*{_COUNTS}{_SECTION}\s*(?:[:=]|\s{_DASH}\s|\s(?:are|is|becomes?|become)\s|\s)\s*(?P<words>[A-Za-z\u00bd\u00bc].+)$",
        re.IGNORECASE,
    ),
)
# "up to count 6, but instead of touching left beside right on that count step left beside right"
_ON_THAT_COUNT = re.compile(
    r"\binstead\s+of\s+\w+ing\b[^,;:]*?\bon\s+(?:that|this)\s+count,?\s*(?:you\s+)?(?P<words>[A-Za-z][^.;]*)",
    re.IGNORECASE,
)
# "in place of the cross rock, turn 1/4 left stepping L forward on 7 and touch R beside L on 8"
_IN_PLACE = re.compile(
    r"\b(?:instead|in\s+place)\s+of\s+(?:the\s+)?[^,;:.]{2,40}[,;]\s*(?P<words>[^.]+)", re.IGNORECASE
)
# "swap the jazz box for a rocking chair", "instead of the coaster stomp twice": the counts are those of the figure.
_NAME = r"(?:the\s+|your\s+|doing\s+|dancing\s+)*(?P<of>[A-Za-z\u00bc\u00bd][\w'/&\u00bc-\u00be\u2010\u2011 -]{2,40}?)"
_NO_COUNT = r"(?!\s*(?:counts?|\d))"
_OF_FIGURE = (
    re.compile(
        rf"\b(?:swap|replac(?:e|es|ing)|chang(?:e|es|ing)|substitut(?:e|ing)|exchange|trade)\s+{_NAME}\s+(?:for|with|by|to|into)\s*:?\s*{_NO_COUNT}(?P<words>[^.;]+)",
        re.IGNORECASE,
    ),
    re.compile(
        rf"\b(?:instead|in\s+place)\s+of\s+{_NAME}(?:\s*[,:]\s*|\s+(?=(?:you|we|just|do|dance)\b))(?:(?:you|we|just|simply|do|dance)\s+)*{_NO_COUNT}(?P<words>[^.;]+)",
        re.IGNORECASE,
    ),
    re.compile(
        rf"\bthe\s+(?P<of>[A-Za-z][\w'/&\u00bc-\u00be\u2010\u2011 -]{{2,40}}?)\s+(?:becomes?|turns?\s+into|(?:is|are)\s+replaced\s+(?:by|with))\s+(?:an?\s+)?(?P<words>[^.;]+)",
        re.IGNORECASE,
    ),
    re.compile(
        rf"\b(?:do|dance|make(?:\s+it)?|it['\u2019]?s|comes?)\s+(?P<words>[^.;:]+?)\s+(?:instead|in\s+place)\s+of\s+{_NAME}(?=\s*(?:[.,;:()]|$|\band\b|\bthen\b))",
        re.IGNORECASE,
    ),
)
_LEAVES_OUT = re.compile(
    r"\b(?:leave\s+out|skip|omit|miss\s+out|drop)\s+(?:the|your)\s+(?!last\b|first\b)(?P<of>[A-Za-z][\w'/&\u00bc-\u00be\u2010\u2011 -]{2,40}?)(?=\s*(?:[.,;:()!]|$|\band\b|\bthen\b|\bgo\b))"
    r"|\bleave\s+(?:the|your)\s+(?P<of2>[A-Za-z][\w'/& -]{2,40}?)\s+(?:out|away)\b",
    re.IGNORECASE,
)
_SKIPS_COUNTS = re.compile(
    r"\b(?:leave\s+out|skip|omit|miss\s+out|drop)\s+(?:counts?\s+)?(?P<from>\d{1,2})\s*[-\u2013]\s*(?P<to>\d{1,2})\b", re.IGNORECASE
)
_NOT_AS_BEFORE = re.compile(r"\s*\(?\b(?:instead\s+of|rather\s+than)\s+[^,;.()]+\)?", re.IGNORECASE)
_ON_COUNTS = re.compile(rf"\b(?:on|for|at)\s+(?:counts?|beats?)\s*{_COUNTS}{_SECTION}\s*,?\s*", re.IGNORECASE)
_NOT_THAT = re.compile(
    r"^\s*(?:don['\u2019]?t|do\s+not|instead\s+of|rather\s+than|not)\s+[^,;:.]*?(?:[,;]\s*|\bbut\s+)(?:instead\s+)?", re.IGNORECASE
)
_WHERE_NOT = re.compile(r"[,\s]*\b(?:where|taking\s+weight\s+where|rather\s+than|instead)\b.*$", re.IGNORECASE)
_HOLDS_ON = re.compile(
    r"[^.;]*?\b(?:and|then)\s+hold\s+(?:for|on)\s+(?:counts?|beats?)\s*(?P<counts>\d(?:\s*(?:,|and|&|-|to)\s*(?:and\s+)?\d)+)", re.IGNORECASE
)
_RESTARTS = re.compile(
    r"[\s,;.&\-\u2010-\u2015]*(?:\b(?:and|then|we|you)\b\s*)*\b(?:re-?\s?start|start\s+(?:again|over|from|wall)|(?:begin|take)\s+again|facing)\b.*$|,?\s*which\b.*$|,?\s*(?:and\s+)?then\s+(?:go|carry|continue|on)\b.*$|[.;]\s*(?:now\s+)?you\b.*$",
    re.IGNORECASE,
)
_SPEAKS = re.compile(
    r"\b(?:don['\u2019]?t|do\s+not|swap|leave\s+out|replac|instead|chang|substitut|modif)", re.IGNORECASE
)
_SKIP = re.compile(r"\bskip\s+s\s(?P<section>\d{1,2})\b")
_STEP = re.compile(r"[A-Za-z]{2}")


def replaced_by(text: str, line: Line, mention: Mention, until: int) -> list[ReplacedLines]:
    """The steps that a sentence puts in the place of others, none where it says none."""
    if (skipped := _SKIP.search(said_plainly(text))) is not None:
        left_out = Line(line.number, line.column, "1-99  left out", False)
        return [ReplacedLines(line, "", int(skipped["section"]), [left_out])]
    speaks = mention.kind == CHANGE or _SPEAKS.search(text) is not None
    for pattern in _WAYS if speaks else ():
        found = pattern.search(text, 0)
        if found is None or found.start() < mention.start - 40 or found.start() > until:
            continue
        words = _RESTARTS.sub("", _NOT_AS_BEFORE.sub("", found["words"])).strip(' .;*"\u201c\u201d')
        words = words[:-1] if words.endswith(")") and words.count(")") > words.count("(") else words
        if not words or not _STEP.search(words) or re.match(r"(?:counts?|walls?)\b", words, re.IGNORECASE):
            continue
        groups = found.groupdict()
        section = int(groups.get("section") or groups.get("first") or 0) or _named_section(text, mention)
        counted = steps_on(Line(line.number, line.column, words, False))
        if not counted and ": " in words:  # "by two steps: 7 step R forward, 8 step L beside R"
            counted = steps_on(Line(line.number, line.column, words.split(": ", 1)[1].strip(), False))
        if not counted:
            counts = _plain(found["counts"], words)
            first = re.match(r"\d+", counts)
            expected = int(first[0]) if first is not None else 0
            counted = steps_on(Line(line.number, line.column, f"{counts}  {words}", False), expected)
        return [ReplacedLines(line, "", section, counted)]
    if (last := mention.within or mention.after) and (own := _ON_THAT_COUNT.search(text)) is not None:
        words = _RESTARTS.sub("", own["words"]).strip(" ,.;")
        told = steps_on(Line(line.number, line.column, f"{last}  {words}", False))
        return [ReplacedLines(line, "", mention.section or 0, told)] if told else []
    instead = re.search(
        r"\b(?:instead\b|in\s+place\s+of\b)(?:[^:.]*:(?!\d)|.*?\b(?:just\s+)?(?:do|dance|take)\b)\s*(?P<words>.+)$",
        text,
        re.IGNORECASE,
    )
    counted = steps_on(Line(line.number, line.column, instead["words"], False)) if instead else []
    if not counted and (in_place := _IN_PLACE.search(text)) is not None:
        counted = on_counts(Line(line.number, line.column, in_place["words"], False), least=1)
    counted = [replace(x, text=_RESTARTS.sub("", x.text)) for x in counted]
    if counted:
        return [ReplacedLines(line, "", _named_section(text, mention), counted)]
    if (counts := _SKIPS_COUNTS.search(text)) is not None and STARTS_OVER.search(text) is None:
        left_out = Line(line.number, line.column, f"{counts['from']}-{counts['to']}  left out", False)
        return [ReplacedLines(line, "", mention.section or 0, [left_out])]
    if (out := _LEAVES_OUT.search(text)) is not None:
        return [ReplacedLines(line, "", _named_section(text, mention), [], (out["of"] or out["of2"]).strip(), "left out")]
    return _of_figure(text, line, mention, until) or _on_counts(text, line, mention)


def _on_counts(text: str, line: Line, mention: Mention) -> list[ReplacedLines]:
    """ "On count 5 step L beside R": the steps that stand right behind counts."""
    lines: list[Line] = []
    for found in _ON_COUNTS.finditer(text):
        behind = _NOT_THAT.sub("", text[found.end() :])
        words = _RESTARTS.sub("", _WHERE_NOT.sub("", steps_first(behind))).strip(" ,.;")
        if not words:
            continue
        counts = _plain(found["counts"], words)
        lines += steps_on(Line(line.number, line.column, f"{counts}  {words}", False), int(re.findall(r"\d+", counts)[0]))
        lines += _held_after(text[found.end() :], line)
        section = int(found["section"] or 0)
        return [ReplacedLines(line, "", section or _named_section(text, mention), lines)] if lines else []
    return []


def _held_after(text: str, line: Line) -> list[Line]:
    """ "..., and then hold for counts 6, 7 and 8"."""
    held = _HOLDS_ON.match(text)
    numbers = re.findall(r"\d+", held["counts"]) if held is not None else []
    return [Line(line.number, line.column, f"{numbers[0]}-{numbers[-1]}  hold", False)] if len(numbers) > 1 else []


def _of_figure(text: str, line: Line, mention: Mention, until: int) -> list[ReplacedLines]:
    """What is danced in the place of a figure that is only named."""
    for pattern in _OF_FIGURE:
        found = pattern.search(text)
        if found is None or not mention.start - 40 <= found.start() <= until:
            continue
        words = _RESTARTS.sub("", found["words"]).strip(' .,;*"\u201c\u201d')
        if STEP_WORD.search(words):
            return [ReplacedLines(line, "", _named_section(text, mention), [], found["of"].strip(), words)]
    return []


_IN_THREE = re.compile(
    r"\b(?:coaster|shuffle|sailor|chass[e\u00e9]|triple|cha|mambo|ball|lock|polka|anchor|samba|step[\s-]step)",
    re.IGNORECASE,
)
_TWO = re.compile(r"(?P<a>\d{1,3})(?:\s+&\s+|\s+and\s+)(?P<b>\d{1,3})", re.IGNORECASE)


def _plain(counts: str, words: str) -> str:
    """ "23 and 24" as "23-24" for two movements, as "23&24" for three."""
    two = _TWO.fullmatch(counts.strip())
    few = len(re.split(r",|\band\b", words)) <= 2 and _IN_THREE.search(words) is None
    if two is not None and int(two["b"]) == int(two["a"]) + 1 and few:
        return f"{two['a']}-{two['b']}"
    return re.sub(r"\s*\band\b\s*", "&", counts)


_IN_SECTION = re.compile(r"\b(?:in|of)\s+(?:section|sect?|set|block|part|S(?=\s?\d))\.?\s*(?P<n>\d{1,2})\b", re.IGNORECASE)


def _named_section(text: str, mention: Mention) -> int:
    roman = re.search(r"\bin\s+(?:section\s+)?(?P<n>[IVX]{1,4})\b", text)
    named = re.search(rf"\b(?:in|of)\s+(?:the\s+)?(?P<n>{ORDINAL})\s+(?:section|set|eight|8|part)", text, re.IGNORECASE)
    if named is not None:
        return number_of(named["n"])
    if mention.section is None and (own := _IN_SECTION.search(text)) is not None:
        return int(own["n"])
    return mention.section or (ROMAN.get(roman["n"].lower(), 0) if roman else 0)
