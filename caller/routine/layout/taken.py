"""A tag whose steps are those of the dance once more: "repeat the last four counts", "do the K-step of section 2 again",
"counts 25-32". Its lines are those of the sections, shifted to begin at 1."""

from __future__ import annotations

import re
from dataclasses import dataclass, replace
from itertools import chain

from caller.routine.count import read_counts
from caller.routine.layout.blocks import Blocks, EventBlock, SectionBlock, first_count
from caller.routine.layout.counted import shifted
from caller.routine.layout.lines import Line
from caller.routine.layout.mention import TAG
from caller.routine.layout.numbers import NUMBER, ORDINAL, ROMAN, number_of

_DASH = r"[\-\u2010-\u2015]"
_WORD = r"(?:section|sect?\.?|set|part|block|s)\.?"
_OF = (
    rf"(?:\s*,?\s*(?:of|in|from)\s+(?:the\s+)?(?:{_WORD}\s*(?P<sec>\d{{1,2}}|[IVX]{{1,4}}\b|[A-H]\b)"
    rf"|(?P<secn>{ORDINAL})\s+(?:section|set|eight|8|six|twelve|part|block)|(?P<secr>(?-i:[IVX]{{1,4}}|[A-H]))\b(?!\s+\w*[a-z])))?"
)
_SPANS = (
    # "do the rocking chair (1-4 of Section 2) twice"
    re.compile(
        rf"(?<=\()(?P<low>\d{{1,2}})\s*{_DASH}\s*(?P<high>\d{{1,2}})(?=\s+(?:of|in|from)\s+(?:the\s+)?(?:{_WORD}\s*\d|{ORDINAL}\s+{_WORD})){_OF}",
        re.IGNORECASE,
    ),
    # "do (33-40) a second time", of sections that have such headings
    re.compile(
        rf"(?:(?<=\bdo \()|(?<=\bdance \()|(?<=\brepeat \())(?P<low>\d{{1,2}})\s*{_DASH}\s*(?P<high>\d{{1,2}})(?=\))",
        re.IGNORECASE,
    ),
    re.compile(
        rf"\b(?:counts?|cts?\.?|beats?|steps?)\s*(?P<low>\d{{1,3}})\s*(?:{_DASH}|to|thru|through)\s*(?P<high>\d{{1,3}})(?P<above>\s+(?:above|of\s+(?:this|the\s+same|the\s+last)\s+(?:section|set|eight|block)))?{_OF}",
        re.IGNORECASE,
    ),
    re.compile(
        rf"\b(?P<end>first|last|final|opening)\s+(?P<n>{NUMBER})\s*(?:(?:counts?|cts?\b|beats?|steps?)\b|(?=[(.,;]|$)){_OF}",
        re.IGNORECASE,
    ),
    re.compile(
        r"(?<!after )(?<!after the )(?<!of the dance, )\b(?:section|sect|sec|set)s?\.?\s*(?P<one>\d{1,2}|[IVX]{1,4}\b|[A-H]\b)"
        rf"(?:\s*(?:,|&|and|\+|to|{_DASH})\s*(?:(?:section|sec|set)\s*)?(?P<two>\d{{1,2}}|[IVX]{{1,4}}\b)(?!\s*counts?))?",
        re.IGNORECASE,
    ),
    re.compile(
        r"\b(?P<this>this|the\s+same)\s+(?:whole\s+)?(?:section|set|eight|block)(?=\s+(?:again|twice|once\s+more|(?:a\s+second|one\s+more)\s+time))",
        re.IGNORECASE,
    ),
    re.compile(
        rf"\bthe\s+(?P<nth>{ORDINAL}|last|final)\s+(?:section|set|eight|8|six|6|twelve|12|block)(?!\s*counts?\s+of)\b",
        re.IGNORECASE,
    ),
)
_AGAIN = re.compile(
    r"\b(?:repeat(?:s|ed|ing)?|again(?!\s+(?:at|on|after|during|when|in)\b)|once\s+more|one\s+more\s+time|another\s+time|section\s+\d[^.;,]{0,24}\s+twice|(?:do|dance)\s+the\s+(?!same\b|tag\b|bridge\b)[a-z][\w -]{2,24}?\s+twice|a\s+second\s+time|(?:danced|done)\s+twice|re-?do|over\s+again)\b",
    re.IGNORECASE,
)
_VERB = re.compile(
    r"\b(?:do|dance|danc(?:ed|ing)|add|adding|insert|with|is|are|takes?|the\s+same\s+as|as)\b|[:=]", re.IGNORECASE
)
_GOES_ON_WITH = re.compile(
    r"\b(?:carry|go|carries|goes)\s+on\s+(?:with|from)\s+(?:the\s+)?$|\bcontinue\s+(?:with|from)\s+(?:the\s+)?$", re.I
)
_PLACED = re.compile(
    r"\b(?:after|end\s+of|at|following|before|until|to|up\s+to|within|during|between)\s+(?:the\s+)?(?:\w+\s+\w+\s+and\s+(?:the\s+)?)?$",
    re.IGNORECASE,
)
_THE_NAME = re.compile(
    r"\b(?:repeat(?:s|ing)?|re-?do|do|dance|add)\s+(?:the\s+|your\s+|those\s+|these\s+|(?P<both>both\s+(?:the\s+)?))?(?P<name>[A-Za-z][\w'/&\u00bc-\u00be -]{3,40}?)(?=\s*(?:[.,;:()]|$|\bagain\b|\bonce\s+more\b|\bof\b|\bfrom\b|\bas\b|\bthen\b|\band\b|\bx\s?\d|\btwice\b|\ba\s+second\b|\bone\s+more\b|\bonce\b|\d))",
    re.IGNORECASE,
)
# "both twinkles are danced once more"
_NAME_DANCED = re.compile(
    r"\b(?P<both>both\s+(?:the\s+)?|(?:the|that|this)\s+)(?P<name>[A-Za-z][\w'/&\u00bc-\u00be -]{3,40}?)\s+(?:are|is)\s+(?:danced|done|repeated)\b",
    re.IGNORECASE,
)


_ITS = re.compile(rf"\b{_WORD}\s*(?P<sec>\d{{1,2}})\W+(?:its|the)\s+$", re.IGNORECASE)
_OF_THE_TAG = re.compile(r"\s+of\s+(?:the\s+|this\s+)?(?:tag|bridge)\b", re.IGNORECASE)
# Where the section faces on the first wall is no word on the tag's own wall.
_FACING = re.compile(
    r"\s*[\[(]?\s*(?:(?:now\s+)?fac(?:e|es|ing)\s+)?(?:the\s+)?(?<![\d/])(?:1[0-2]|[1-9])(?::[03]0|\s?o['\u2019]?\s?clock)(?:\s+wall)?\s*[\])]?",
    re.IGNORECASE,
)


# "Fill it with section 1, but leave out the quarter turn"
_NO_TURN = re.compile(
    r"\b(?:leave\s+out|leaving\s+out|without|skip|drop|omit|minus)\s+(?:the\s+|any\s+)?(?:(?:quarter|half|full|1/4|1/2|\u00bc|\u00bd)\s+)?turns?\b",
    re.IGNORECASE,
)
_TURN = re.compile(
    r"\b(?:turn(?:ing)?\s+|make\s+|making\s+)?(?:an?\s+)?(?:1/[24]|[\u00bc\u00bd]|quarter|half)\s+(?:turn\s+)?(?:to\s+(?:the\s+)?)?(?:left|right|[LR])\b(?:\s+turn\b)?\s*",
    re.IGNORECASE,
)


@dataclass(frozen=True, slots=True)
class _Span:
    """Counts low to high, both included, of one section, or of the whole dance (None)."""

    section: SectionBlock | None
    low: int
    high: int


def take_from_dance(out: Blocks) -> None:
    """Gives the tags that say so the steps of the dance which they repeat, where nothing else tells theirs."""
    tags = [event for event in out.events if event.mention.kind == TAG]
    for tag in tags:
        told = tag.lines or tag.words or (tag.within < 0 and any(other.lines or other.words for other in tags))
        if out.sections and not told:
            further = [
                e.mention.start for e in out.events if e.heading is tag.heading and e.mention.start > tag.mention.start
            ]
            take_again(tag, tag.text[: min(further)] if further else tag.text, out.sections)


def take_again(tag: EventBlock, text: str, sections: list[SectionBlock]) -> bool:
    """Gives the tag the steps that its sentence says are danced once more; whether it says so."""
    tag.lines, length = _taken(tag, text, sections)
    if _NO_TURN.search(text) is not None:
        tag.lines = [replace(line, text=_TURN.sub("", line.text)) for line in tag.lines]
    mention = tag.mention
    if not tag.lines:
        return False
    mention.long = mention.long or (mention.after if mention.after == length and mention.ends else None)
    if _stands_behind(tag, sections):
        return True
    if mention.after == length or mention.ends or not mention.placed or mention.section is not None:
        mention.after = mention.section = mention.within = None
        mention.ends = True
    return True


def _stands_behind(tag: EventBlock, sections: list[SectionBlock]) -> bool:
    """ "... before section 4", below the steps of section 3: its place, not what is danced again."""
    at, mention = tag.within, tag.mention
    if mention.ends or mention.section is None or not 0 <= at < len(sections):
        return False
    return sections[at].number == mention.section and tag.here is not None


def _taken(tag: EventBlock, text: str, sections: list[SectionBlock]) -> tuple[list[Line], int]:
    again = _AGAIN.search(text) is not None
    if not again and not tag.mention.ends:
        return [], 0
    told = range(0)  # what tells counts that no whole lines have: its "section 2" does not stand for all of it
    for pattern in _SPANS:
        for found in pattern.finditer(text):
            before = text[: found.start()]
            placed = _PLACED.search(before) or _GOES_ON_WITH.search(before)
            if placed or not (again or _VERB.search(before)) or found.start() in told:
                continue
            if _OF_THE_TAG.match(text, found.end()) is not None:
                continue
            span = _span(found, sections, tag.within, before, _danced_before(tag, sections))
            if span is not None and (lines := _lines(span, sections, tag.heading)):
                return lines, span.high - span.low + 1
            told = range(*found.span()) if span is not None else told
    return _named(tag, text, sections) if again else ([], 0)


def _danced_before(tag: EventBlock, sections: list[SectionBlock]) -> int:
    """The counts of the wall danced before the place in the steps where the tag is told; 0 where it stands at none."""
    if tag.here is None or not tag.mention.here or tag.here[0] >= len(sections):
        return 0
    index, count = tag.here
    return sum(map(length_of, sections[:index])) + count - _base(sections[index])


def _span(found: re.Match[str], sections: list[SectionBlock], here: int, before: str, danced: int = 0) -> _Span | None:
    """The counts that are danced again; ``danced``: those of the wall before the place where it is told, 0 = none."""
    groups = found.groupdict()
    if groups.get("this"):
        own = sections[here] if -1 < here < len(sections) else None
        return _whole(own, own, sections)
    if groups.get("one"):
        one = _numbered(groups["one"], sections)
        two = _numbered(groups["two"], sections) if groups["two"] else one
        return _whole(one, two, sections)
    if groups.get("nth"):
        word = groups["nth"].lower()
        number = len(sections) if word in ("last", "final") else number_of(word)
        own = _numbered(str(number), sections)
        return _whole(own, own, sections)
    within = sections[here] if groups.get("above") and -1 < here < len(sections) else None
    if named := groups.get("sec") or groups.get("secr"):
        within = _numbered(named, sections)
    elif (its := _ITS.search(before)) is not None:  # "the rocking chair from section 2 (its first four counts)"
        within = _numbered(its["sec"], sections)
    elif groups.get("secn"):
        within = _numbered(str(number_of(groups["secn"])), sections)
    length = length_of(within) if within is not None else sum(map(length_of, sections))
    if groups.get("low"):
        low, high = int(groups["low"]), int(groups["high"])
        if within is not None and low > length:  # told as the dance counts
            within = None
            length = sum(map(length_of, sections))
    else:
        told = number_of(groups["n"])
        if within is None and groups["end"].lower() in ("last", "final") and danced:
            length = danced  # "repeat the last four counts", at the place where it stands
        low, high = (1, told) if groups["end"].lower() in ("first", "opening") else (length - told + 1, length)
    return _Span(within, low, high) if 1 <= low <= high <= length else None


def _numbered(name: str, sections: list[SectionBlock]) -> SectionBlock | None:
    low = name.lower()
    number = int(low) if low.isdigit() else ROMAN.get(low) or ord(low[0]) - ord("a") + 1
    found = [section for section in sections if section.number == number]
    return found[0] if len(found) == 1 else None


def _whole(one: SectionBlock | None, two: SectionBlock | None, sections: list[SectionBlock]) -> _Span | None:
    if one is None or two is None:
        return None
    if one is two:
        return _Span(one, 1, length_of(one))
    first = sum(length_of(s) for s in sections[: sections.index(one)])
    last = sum(length_of(s) for s in sections[: sections.index(two) + 1])
    return _Span(None, first + 1, last) if first < last else None


def _base(section: SectionBlock) -> int:
    """What the section's own numbering has before its first count."""
    return (first_count(section.lines[0]) or 1) - 1 if section.lines else 0


def length_of(section: SectionBlock) -> int:
    ends = [counts.beats[-1].number for x in section.lines if (counts := read_counts(x.text)) is not None]
    return max(ends, default=0) - _base(section)


def _lines(span: _Span, sections: list[SectionBlock], heading: Line) -> list[Line]:
    """The step lines of just those counts; none where a line holds more than them."""
    out: list[Line] = []
    passed = 0
    covered = 0
    for section in [span.section] if span.section is not None else sections:
        before = 0
        for line in section.lines:
            counts = read_counts(line.text, previous=before)
            if counts is None:
                return []
            before = counts.beats[-1].number
            low = counts.beats[0].number - _base(section) + passed
            high = counts.beats[-1].number - _base(section) + passed
            if high < span.low or low > span.high:
                continue
            if low < span.low or high > span.high:
                return []
            by = low - span.low + 1 - counts.beats[0].number
            words = line.text[: counts.end] + _FACING.sub("", line.text[counts.end :])
            out.append(shifted(Line(heading.number, heading.column, words, False, line.text), by))
            covered = max(covered, high)
        passed += length_of(section)
    return out if covered == span.high else []


def plain_name(text: str) -> list[str]:
    """The words of a name, small and in the singular."""
    return [word.rstrip("s") for word in re.findall(r"[a-z0-9/\u00bc-\u00be]+", text.lower())]


def _twice_in(words: list[str], name: list[str]) -> bool:
    """ "Both twinkles", of a section that is "Twinkle left, twinkle right"."""
    return sum(name[n : n + len(words)] == words for n in range(len(name))) == 2


def _named(tag: EventBlock, text: str, sections: list[SectionBlock]) -> tuple[list[Line], int]:
    """ "Repeat the K-step": the one section of which that is the heading, or its first or last figure of the length told."""
    for found in chain(_THE_NAME.finditer(text), _NAME_DANCED.finditer(text)):
        words = plain_name(found["name"])
        if not words:
            continue
        for section in sections:
            name = plain_name(section.name)
            length = length_of(section)
            told = tag.mention.long or tag.mention.after or length
            if name == words or (
                (found["both"] or "").lower().startswith("both") and _twice_in(words, name) and told == length
            ):
                span = _Span(section, 1, length)
            elif name[: len(words)] == words and told <= length:
                span = _Span(section, 1, told)
            elif name[-len(words) :] == words and told < length:
                span = _Span(section, length - told + 1, length)
            else:
                continue
            if lines := _lines(span, sections, tag.heading):
                return lines, span.high - span.low + 1
    return [], 0
