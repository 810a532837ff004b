"""What an event's line tells of its own: its steps, or those that it puts in the place of others."""

from __future__ import annotations

import re

from caller.routine.count import read_counts
from caller.routine.layout import kinds
from caller.routine.layout.blocks import EventBlock, ReplacedLines, Role, first_count
from caller.routine.layout.change_told import ChangeTold
from caller.routine.layout.changes import replaced_by
from caller.routine.layout.counted import steps_on
from caller.routine.layout.event_steps import held, stands_first, steps_in
from caller.routine.layout.lines import Line
from caller.routine.layout.mention import CHANGE, ENDING, RESTART, TAG, Mention
from caller.routine.layout.prose import told_in_prose
from caller.routine.layout.sentences import SentenceLines
from caller.routine.layout.taken import take_again

_GOES_ON_WITH = re.compile(
    r"\W*(?:then\s+|and\s+(?:then\s+)?)?(?:continue|carry\s+on|go\s+on)\s+(?:with|from)\b", re.IGNORECASE
)
_OF_THE_DANCE = re.compile(
    r"\b(?:section|sect?|counts?)\s*\d.*\b(?:twice|again)\b|\brepeat\b.*\b(?:section|counts?|set|eight)\b",
    re.IGNORECASE,
)
_SAYS_CHANGE = re.compile(
    r"replac|instead|in place of|counts? \d|becom|swap|leave|skip|omit|drop|miss out|has no", re.IGNORECASE
)
_ON_ONE = re.compile(r"\bon\s+(?:counts?\s+|beats?\s+)?(?:1|one)\b", re.IGNORECASE)
_TWICE_OVER = re.compile(
    r"^\W*(?:dance|do|take|repeat)\s+(?:these|those|the|all|this|it)\b\s*(?:same\s+)?(?:two|four|six|eight|\d)?\s*(?:beats|counts|steps|tag|of\s+(?:it|this))?\s*(?:all\s+)?(?:twice|two\s+times|a\s+second\s+time|once\s+more|one\s+more\s+time|again)\b(?!\s*(?:from|the\s+dance))",
    re.IGNORECASE,
)
_THEN = re.compile(r"^(?:and\s+)?then\s+", re.IGNORECASE)
_MOST_BELOW = 5  # lines


def _in_sentences(text: str, line: Line) -> list[Line]:
    """ "On 1 you step left, on 2 you rock the right foot behind the left, ...": from the first sentence with counts on."""
    begins = _ON_ONE.search(text)
    return told_in_prose(text[begins.start() :], line)[0] if begins is not None else []


class OwnTelling(SentenceLines):
    def _goes_on_below(self) -> bool:
        """ "Then continue with section 3.", some lines below."""
        below = self.lines[self.at + 1 : self.at + 1 + _MOST_BELOW]
        return any(_GOES_ON_WITH.match(line.text) is not None for line in below)

    def _mid_section(self, danced: int) -> bool:
        """Whether the section's counts go on below, in the middle of an eight or six."""
        return self._next_count() == danced + 1 and all(danced % eight for eight in (6, 8))

    def _own_changes(self, event: EventBlock, text: str, mention: Mention, until: int) -> None:
        """Steps that the same line puts in the place of others; a header only announces them, but where it says so."""
        same = self.out.events[-2] if len(self.out.events) > 1 else None
        told = same is not None and same.heading is event.heading and same.replaced
        if not told and (self.out.sections or _SAYS_CHANGE.search(text) is not None):
            ways = replaced_by(self._change(event, text, mention, until))
            event.replaced += next(ways, [])
            event.otherwise = ways

    def _change(self, event: EventBlock, text: str, mention: Mention, until: int) -> ChangeTold:
        """The sentence with where it stands: below which counts, or in the brackets of a step line."""
        lines = self.out.sections[-1].lines if self.out.sections else []
        above = read_counts(lines[-1].text) if lines else None
        standing = event.here[1] if event.here is not None else 0
        low = first_count(lines[-1]) or 1 if above is not None else 0
        return ChangeTold(
            text, event.heading, mention, until, standing, low, bool(lines) and lines[-1].number == event.heading.number
        )

    def _own_steps(self, event: EventBlock, text: str, mention: Mention, until: int) -> None:
        """Steps told in the same line as the event."""
        line = event.heading
        if mention.kind in (CHANGE, RESTART):
            self._own_changes(event, text, mention, until)
            return
        if mention.kind == TAG and not self.out.sections and _OF_THE_DANCE.search(text) is not None:
            return  # what is danced once more is not read yet
        alone = mention.kind == TAG and bool(self.out.sections) and self._next_count() != 1
        if alone and take_again(event, text[:until], self.out.sections):
            return
        if mention.kind in (TAG, ENDING) and (told := _in_sentences(text[mention.end : until], line)):
            event.lines += told
            return
        placed = mention.place_end if mention.end < mention.place_end < until else mention.end
        words = steps_in(text, placed, until) or steps_in(text, mention.end, until)
        if (
            not words and mention.kind == TAG and alone
        ):  # "... stomp right, hold, stomp left, hold. That is the bridge."
            words = steps_in(text, 0, mention.start)
        if mention.kind == TAG and (not words or stands_first(text, mention, words)):
            words = held(text, mention) or words
        if not words:
            return
        counted = steps_on(Line(line.number, line.column, words, False), 1)
        if counted and first_count(counted[0]) == 1:
            event.lines += counted
        elif not self.out.sections or self._next_count() != 1:
            event.words = words

    def _after_change(self, mention: Mention) -> bool:
        """ "and restart", below a step change: on its walls, after its steps."""
        before = self.event.mention if self.event is not None else None
        if before is None or before.kind != CHANGE or not before.told or mention.kind != RESTART or mention.told:
            return False
        mention.walls, mention.every = before.walls, before.every
        if before.after is not None and mention.after is None:
            mention.after = before.after
        elif before.section is not None and not mention.placed and not self._replaces_what_follows(before):
            mention.section, mention.within = before.section, before.within
        elif not mention.placed:
            mention.ends = mention.after_change = True
        return True

    def _replaces_what_follows(self, change: Mention) -> bool:
        """ "As far as count 6 of section 4, then replace counts 7-8 with", and its steps: the place is behind those."""
        lines = [line for told in (self.event.replaced if self.event is not None else []) for line in told.lines]
        return bool(lines) and change.within is not None and first_count(lines[0]) == change.within + 1

    def _tag_words(self, line: Line, bare: str) -> Role | None:
        """Steps without counts below a tag's heading, or right below an ending's."""
        event = self.event
        bare = _THEN.sub("", bare) if event is not None and event.words.endswith(",") else bare
        if event is None or event.lines or not kinds.steps_told(bare):
            return None
        ends = event.mention.kind == ENDING and not event.words and self._end_of(event.heading) == line.number - 1
        if event.mention.kind != TAG and not ends:
            return None
        if event.words.endswith(",") and line.number - 1 not in self.empty:
            event.words = f"{event.words} {bare}"
            return Role.STEPS
        if event.words:
            return None
        event.words = bare if bare.endswith(",") else kinds.steps_told(bare)
        event.heading = event.heading if event.mention.told else line
        return Role.STEPS

    def _danced_twice(self, line: Line, bare: str) -> Role | None:
        """ "Dance these four counts twice", below the steps of a tag."""
        event = self.event
        if event is None or event.mention.kind != TAG or not event.lines or _TWICE_OVER.match(bare) is None:
            return None
        event.mention.times = max(event.mention.times, 2)
        return Role.EVENT

    def _replaced(self, line: Line, bare: str) -> Role | None:
        """ "S3 5-8 ..." below a restart or a change."""
        if self.event is None or self.event.mention.kind not in (RESTART, CHANGE):
            return None
        found = kinds.REPLACED.match(bare)
        if found is None:
            return None
        rest = bare[found.end() :]
        lines = steps_on(Line(line.number, line.column + found.end(), rest, line.exact and bare == line.text))
        if not lines:
            return None
        part, number = (found["part"] or "").upper(), int(found["number"])
        follows = bool(self.out.sections) and number == self.out.sections[-1].number + 1
        if follows and part == self.out.sections[-1].part and first_count(lines[0]) in (0, 1):
            return None  # the section after a restart that is marked at its place
        last = self.event.replaced[-1] if self.event.replaced else None
        if last is None or (last.part, last.section) != (part, number):
            last = ReplacedLines(line, part, number)
            self.event.replaced.append(last)
        last.lines += lines
        self.last_steps = last.lines
        return Role.STEPS
