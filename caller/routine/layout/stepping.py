"""Lines that tell steps: counts before, behind and among them, over one line or a paragraph."""

from __future__ import annotations

import re
from dataclasses import replace

from caller.routine.count import read_counts
from caller.routine.layout import kinds
from caller.routine.layout.abbreviations import expanded
from caller.routine.layout.blocks import Role, first_count
from caller.routine.layout.columns import called
from caller.routine.layout.counted import steps_on, with_counts
from caller.routine.layout.headings import Heading, read_unsure
from caller.routine.layout.lines import Line, unstarred
from caller.routine.layout.numbers import ROMAN
from caller.routine.layout.prose import has_counts, told_in_prose
from caller.routine.layout.told_steps import (
    BRACKETED_COUNT,
    LISTED_BEHIND,
    MOST_OF_PARAGRAPH,
    ON_COUNT,
    RANGE_LABEL,
    ToldSteps,
)

_LISTED_STEPS = re.compile(
    r"^(?:(?P<num>[ivx]{1,4}|[IVX]{1,4}|[A-L])[.)]\s+(?:(?P<name>[A-Z][A-Za-z ]{2,24})\.\s+)?(?=\d)|(?P<digits>\d{1,2})[.)]\s+(?=\d{1,2}\s?[-&,\u2013]\s?\d|[1-8]\s+[A-Z]))"
)
# "II. R forward on the diagonal, touch L to it (1-2). L back ... (3-4)."
# "1  RF beside LF", "1  R in place": a step without a verb.
_FOOT_FIRST = re.compile(
    r"^[\d&\s,-]+\s(?:(?:right|left)(?:\s+foot)?|[RL]F?)\s+(?:(?:to|in|over|across|beside|next|behind|home|fwd|back)\b|[RL]\b)"
)
_RANGE = 2  # numbers: first and last
_CLOSED = re.compile(r"\s\(\d[\d\s&,\u2013-]*\)$")  # "side L, touch R (1-2)": by its counts
_NUMERAL = re.compile(r"[ivx]{1,4}\)\s")  # "iii) 1/4 L BASIC", above counts that begin again
_FURTHER_IN = 4  # columns
_WHOLE = 6  # counts, of a section
_COUNT_IN_BRACKETS = re.compile(r"\([1-9]\s?[,)]|\(\d\d?[-\u2013&,]")
_FULL = 40  # characters, of a line that goes on below
# "Set 1: Walk forward right, left, right (1-3)", the section told in the line of its label.
_LABELLED = re.compile(
    r"^(?:section|sect?|set|block|eight)\.?\s*(?P<label>\d{1,2})\s*[:.]\s+(?=(?-i:[A-Z][a-z]|[RL]\s)[^()]*\((?:counts?\s+)?\d)",
    re.IGNORECASE,
)
_OF_THE_HEAD = re.compile(r"^(?:description|type|details?|info\w*)\s*:", re.IGNORECASE)
_GOES_ON = re.compile(r"[(&,]|(?:and|then|taking|weight|with\s+(?:the\s+|your\s+)?weight)\b|(?:left|right)$")
_FACING_IN_BRACKETS = re.compile(r"\s*\((?:1[0-2]|[1-9]):[0-5]\d\)$")


def _listed_number(listed: re.Match[str]) -> int:
    if listed.groupdict().get("digits"):
        return int(listed["digits"])
    text = listed["num"]
    return ROMAN.get(text.lower()) or ord(text.upper()) - ord("A") + 1


def _lacks_steps(text: str) -> bool:
    """ "1-4  Step right to side. Cross left behind. Step right to side.": a sentence for each count but the last."""
    counts = read_counts(text)
    sentences = [one for one in text.split(".") if kinds.STEP_WORD.search(one)]
    return counts is not None and text.rstrip().endswith(".") and 1 < len(sentences) < len(counts.beats)


def _listed(bare: str) -> re.Match[str] | None:
    """The number of a listed step line, with its counts before its steps or behind them."""
    if (found := _LISTED_STEPS.match(bare)) is not None:
        return found
    return LISTED_BEHIND.match(bare) if BRACKETED_COUNT.search(bare) is not None else None


def _one_word_of_advice(line: Line, bare: str) -> bool:
    """ "1. Keep it small", below the last steps."""
    counts = read_counts(line.text)
    return (counts is None or len(counts.beats) == 1) and kinds.STEP_WORD.search(bare) is None


class Stepping(ToldSteps):
    def _next_is_sentence(self) -> bool:
        following = self._next_line()
        return following is not None and (following.text[:1].isupper() or _CLOSED.search(following.text) is not None)

    def _prose(self, line: Line, bare: str) -> Role | None:
        """ "First eight. Right foot to the side on 1, left behind it on 2 ...": a paragraph whose counts are whole."""
        named = kinds.TOLD_SECTION.match(bare) or RANGE_LABEL.match(bare) or _LABELLED.match(bare)
        if named is None or self._counts_below():
            return None
        if self._brackets_below(line):
            self._open(line, Heading(name=bare[named.end() :].strip(" .:")))
            return Role.HEADING
        text, name = bare[named.end() :], named.groupdict().get("name") or ""
        further: list[int] = []
        if not has_counts(text) and self._next_is_sentence():
            return None  # a heading, and its paragraph below it
        end = self._end_of(line)
        for following in self.lines[self.at + 1 : self.at + 1 + MOST_OF_PARAGRAPH]:
            if following.number != end + 1 or kinds.TOLD_SECTION.match(following.text):
                break
            text, further, end = f"{text} {following.text}", [*further, following.number], self._end_of(following)
        steps, talk = told_in_prose(text, line)
        if not steps:
            return None
        said = [int(n) for n in re.findall(r"\d+", named[0])][-2:]
        number = int(named["label"]) if named.re is _LABELLED else None
        counts = (said[0], said[1]) if len(said) == _RANGE and number is None else None
        self._open(line, Heading(number=number, name=name.strip(" ,.:"), said=counts))
        self._add_steps(steps, line)
        self.out.sections[-1].notes += [(sentence, line.number) for sentence in talk]
        self.told_on_steps.update(further)
        self.step_number = further[-1] if further else line.number
        return Role.STEPS

    def _steps(self, line: Line, bare: str) -> Role | None:
        plain = line if bare == line.text or not line.text.startswith("*") else replace(line, text=bare, exact=False)
        plain, asides, mark = self._without_asides(plain)
        if self._no_steps(bare):
            return None
        listed = _listed(bare)
        if listed is not None:
            plain = Line(line.number, line.column, bare[listed.end() :], False)
        plain = called(plain)
        steps = [] if kinds.GREETING.match(bare) or kinds.SO_MANY.match(bare) else self._told_steps(plain)
        if not steps:
            return None
        unsure = read_unsure(bare)
        if unsure is not None and self._heads(unsure):
            self._open(line, unsure)
            return Role.HEADING
        if listed is not None and first_count(steps[0]) is not None:
            self._open(line, Heading(number=None if self.phrased else _listed_number(listed)))
        if self.in_head and not self._may_begin(steps, bare):
            return None
        opens = not self.open_section or self._new_eight(steps[0])
        if self.event is None and opens and self.out.sections and _one_word_of_advice(steps[0], bare):
            return None
        self._add_steps(steps, line)
        self._offer(steps)
        self.step_number = line.number
        if mark and self.out.sections:
            self.marks.setdefault(mark, (len(self.out.sections) - 1, self._highest(self.out.sections[-1].lines)))
        for aside in asides:
            self._events_aside(line, aside)
        return Role.STEPS

    def _no_steps(self, bare: str) -> bool:
        """A line of the head, or "Start again with the big step left on 1."."""
        if self.in_head:
            return kinds.HEAD_FACT.match(bare) is not None or _OF_THE_HEAD.match(bare) is not None
        return kinds.CLOSING.match(bare) is not None

    def _told_steps(self, line: Line) -> list[Line]:
        """The steps this line tells, or it and the lines below it; what lies below is marked as taken."""
        several = len(BRACKETED_COUNT.findall(line.text)) > 1 or (
            " on " in line.text.lower() and len(ON_COUNT.findall(line.text)) > 1
        )
        several = several or kinds.TOLD_SECTION.match(line.text) is not None
        steps = [] if several else self._steps_on(line, self._counts_on())
        if steps:
            return steps
        for told in (self._told_section, self._paragraph, self._counted_below):
            steps, further = told(line)
            if steps:
                break
        self.told_on_steps.update(further)
        return steps

    def _may_begin(self, steps: list[Line], bare: str) -> bool:
        """Whether steps may begin here without a heading: from count 1 on, in words of steps."""
        told = kinds.STEP_WORD.search(bare) is not None or _FOOT_FIRST.search(steps[0].text) is not None
        return first_count(steps[0]) in (0, 1, 2) and told

    def _mark_alone(self, line: Line, bare: str) -> Role | None:
        """ "[#]", on a line of its own below the steps where something happens."""
        marked = kinds.MARK_FIRST.fullmatch(line.text)
        if marked is None or not self.out.sections:
            return None
        here = len(self.out.sections) - 1, self._highest(self.out.sections[-1].lines)
        self.marks.setdefault(marked["mark"], here)
        return Role.NOTE

    def _and_below(self, line: Line, bare: str) -> Role | None:
        """ "& step R fwd", further in below "1,2,3 Side R, behind L, turn 1/4 R": words that go on, no count of its own."""
        last = self.last_steps[-1] if self.last_steps else None
        counts = read_counts(last.text) if last is not None else None
        if last is None or counts is None or not bare.startswith("& ") or line.column < last.column + _FURTHER_IN:
            return None
        told = len(re.split(r"[,;]\s", last.text[counts.end :]))
        return self._goes_on(line, bare) if told < len(counts.beats) else None

    def _counts_alone(self, line: Line, bare: str) -> Role | None:
        """Counts on a line of their own, the steps on the next."""
        following = self._next_line()
        counts = read_counts(f"{bare} x")
        if (
            following is None
            or counts is None
            or kinds.ONLY_COUNTS.match(bare) is None
            or read_counts(following.text) is not None
            or (len(counts.beats) >= _WHOLE and _COUNT_IN_BRACKETS.search(following.text) is not None)
        ):
            return None
        if counts.beats[0].number not in (0, 1, self._expected()) or not kinds.STEP_WORD.search(following.text):
            return None
        steps = steps_on(
            Line(line.number, line.column, f"{bare}  {unstarred(following.text)}", False), self._expected()
        )
        if not steps:
            return None
        self._add_steps(steps, line)
        self.step_number = following.number
        self.told_on_steps.add(following.number)
        return Role.STEPS

    def _counts_told(self, line: Line, bare: str) -> Role | None:
        """ "[1, 2, 3&4, 5, 6, 7&8]" below a step line, or at its end: the counts of its movements."""
        if not self.last_steps or kinds.ONLY_COUNTS.match(bare) is None:
            return None
        last = self.last_steps[-1]
        told = with_counts(last, bare)
        if told is None:
            return None
        self.last_steps[-1] = told
        return Role.STEPS

    def _broken(self, line: Line, bare: str) -> Role | None:
        """The rest of a step line, where its words leave no doubt: the one before breaks off, or this begins small."""
        if (
            not self.last_steps
            or line.number - 1 in self.empty
            or line.number - 1 != self.step_number
            or bare.isupper()
            or (_NUMERAL.match(bare) is not None and self._next_count() == 1)
        ):
            return None
        last = self.last_steps[-1].text.rstrip()
        breaks_off = last.endswith((",", "-", "&", "/", "(")) or re.search(
            r"\b(?:and|the|to|with|on|then|of|a|your|right|left|in|as|for|step|turn|turning|stepping|touch)$",
            last,
            re.IGNORECASE,
        )
        return (
            self._goes_on(line, bare)
            if (breaks_off and not last.endswith((" right", " left")))
            or bare[:1].islower()
            or last.count("(") > last.count(")")
            else None
        )

    def _below_words(self, line: Line, last: Line) -> bool:
        """Whether a line stands right below the words of a step line, further in than its counts, and tells nothing else."""
        counts = read_counts(last.text)
        if ":" in line.text or kinds.WALL.search(self.low) or any(word in self.low for word in kinds.EVENT_WORDS):
            return False
        return counts is not None and counts.end > 1 and line.column == last.column + counts.end

    def _goes_on(self, line: Line, bare: str) -> Role | None:
        """A step line that is broken over two lines of the file."""
        if not self.last_steps or (line.number - 1) in self.empty:
            return None
        last = self.last_steps[-1]
        deeper = line.column > last.column
        open_ended = last.text.rstrip().endswith(
            (",", "-", "&", " and", " the", " to", " with", " on", " then", "/", " of", "(", " turning", " stepping")
        )
        lower = bare[:1].islower() or bare[:1] in "(&,"
        hangs = bare[:1].islower() and len(last.text) > _FULL and self._below_words(line, last)
        if not (
            open_ended
            or (lower and len(bare) < 120)
            or (deeper and kinds.STEP_WORD.search(bare) and (not bare.endswith(".") or _lacks_steps(last.text)))
        ):
            return None
        if not (open_ended or hangs) and not kinds.STEP_WORD.search(bare) and not _GOES_ON.match(bare):
            return None
        if (
            kinds.NOTE_START.match(bare)
            or kinds.CLOSING.match(bare)
            or (kinds.is_prose(bare) and not (open_ended or hangs))
        ):
            return None
        self.step_number = line.number
        text = f"{last.text} {bare}"
        if (faced := _FACING_IN_BRACKETS.search(last.text)) is not None:  # of a table: it ends the whole line
            text = f"{last.text[: faced.start()]} {bare} {faced[0].strip()}"
        steps = steps_on(Line(last.number, last.column, text, False), first_count(last) or 0)
        self.last_steps[-1:] = [expanded(step, self.short) for step in steps] or [replace(last, text=text, exact=False)]
        return Role.STEPS
