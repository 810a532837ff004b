"""Lines that tell of an event, over as many lines as the sentence takes, with the steps told in it."""

from __future__ import annotations

import re

from caller.routine.count import read_counts
from caller.routine.layout import kinds
from caller.routine.layout.blocks import EventBlock, Role
from caller.routine.layout.counted import steps_on
from caller.routine.layout.event_own import OwnTelling
from caller.routine.layout.event_steps import steps_in
from caller.routine.layout.headings import read_heading
from caller.routine.layout.lines import Line, unstarred
from caller.routine.layout.mention import CHANGE, ENDING, RESTART, TAG, Mention
from caller.routine.layout.mentions import mentions_in, unnamed
from caller.routine.layout.numbers import NUMBER, ORDINAL, number_of
from caller.routine.layout.sentences import ON_WALL
from caller.routine.layout.shorts import short_part

_ONCE_MORE = re.compile(
    r"\b(?:repeat|do|dance)\s+(?:(?:the|these|those)\s+)?(?:(?:last|first|final)\s+\w+(?:\s+counts|(?=\s*[(.,;]|\s*$))|counts\s+\d+|section\s+\d+)\b(?!\s+only)"
    r"|\bcounts?\s+\d{1,2}\s?[-\u2013]\s?\d{1,2}\b[^.;]*\b(?:again|(?:a\s+second|once\s+more|one\s+more)\s*time|once\s+more|twice)\b",
    re.IGNORECASE,
)
_LISTED_LETTER = re.compile(r"^\(?[a-hA-H]\)\s+")
_GOES_ON_AFTER = re.compile(
    r"\b(?:then|and|before)\s+(?:you\s+|we\s+)?(?:just\s+)?(?:continu(?:e|ing)|carry(?:ing)?\s+on|go(?:ing)?\s+on)\b|\bcontinue\s+with\s+(?:section|the)\b|\bthen\s+(?:sect?|section|s)\.?\s?\d",
    re.IGNORECASE,
)
_PLACE_ALONE = re.compile(
    rf"^(?:dance|do|after|only)\s+(?:the\s+|only\s+|to\s+|up\s+to\s+|first\s+|count\s+)*(?P<n>{NUMBER})(?:\s+counts?)?\b[^.]{{0,30}}?(?:\bthen|\badd|\band|:)?\W*$",
    re.IGNORECASE,
)
_WALL_FIRST = re.compile(
    r"\W*(?:\d[.)]?\s+)?(?:on\s+)?wall\s+\d+\s*(?:[:,\u2010-\u2015-]|after\b|from\b|at\b|dance\b|\()"
)
_TOGETHER = re.compile(r"\W*(?:and|with|then)?\W*")  # "Tag/Restart", "TAG + RESTART"
_MOST_TITLE = 6  # words
# Of one sheet, so that no text takes for ever: events, and characters in which they are looked for; the longest of the
# strangers' sheets has 4,900 in all.
_MOST_EVENTS, _MOST_LOOKED_THROUGH = 200, 30_000
_MARKED_HERE = re.compile(r"[(\[].*\bhere\b.*[)\]]$", re.IGNORECASE)  # "(bridge comes here, wall 3)": no steps below
_NTH_TIME = re.compile(rf"\bthe\s+{ORDINAL}\s+(?:wall|time|round)\b", re.IGNORECASE)


def _until(text: str, mention: Mention, following: list[Mention]) -> int:
    """Where in the text what is told of an event ends: the next one's word, unless both are named together."""
    later = [other.start for other in following if other.start > mention.start]
    if mention.kind == TAG and later and _TOGETHER.fullmatch(text[mention.end : later[0]]):
        later = later[1:]
    return min(later, default=len(text))


class TellingLines(OwnTelling):
    def _event(self, line: Line, bare: str) -> Role | None:
        if not any(word in self.low for word in kinds.EVENT_WORDS) and kinds.WALL.search(self.low) is None:
            return None
        if not self._may_tell(bare):
            return None
        bare = _LISTED_LETTER.sub("", bare)
        found = mentions_in(bare)
        if not found:
            return self._without_a_name(line, bare)
        if not self._tells_event(line, bare, found):
            return None
        bare, further = (bare, []) if all(m.none for m in found) else self._told_on(line, bare)
        found = mentions_in(bare) if further else found
        for number in further:
            self.told_on.add(number)
        marked = kinds.MARK_FIRST.match(line.text)
        mark = marked["mark"] if marked is not None else ""
        taken = False
        self._walls_above(line, found)
        for n, mention in enumerate(found):
            if mention.none:
                continue
            self._after_change(mention)
            aside = _MARKED_HERE.match(line.text) is not None
            self._add_event(line, bare, mention, _until(bare, mention, found[n + 1 :]), mark, aside=aside)
            taken = True
        if self.in_head and not taken:
            self._keep(line)
            self.out.reader.facts(line)
            return Role.HEADER
        if self.in_head or not self.open_section:
            self.out.reader.facts(line) if kinds.FACT_TOO.search(bare) else None
        return Role.EVENT

    def _may_tell(self, bare: str) -> bool:
        if self.in_head and self.at == self.title_line and len(bare.split()) <= _MOST_TITLE:
            return False  # "Rope Bridge Rumble"
        self.looked_through += len(bare)
        return self.looked_through <= _MOST_LOOKED_THROUGH

    def _walls_above(self, line: Line, found: list[Mention]) -> None:
        """ "Once you've done the dance twice:", and below it "Tag (6 counts): ..."."""
        before = self.lines[self.at - 1] if self.at else None
        tag = found[0] if found else None
        if before is None or tag is None or tag.kind != TAG or tag.told:
            return
        unfinished = before.text.rstrip().endswith((":", ",", "\u2026", "..."))
        adjacent = self._end_of(before) == line.number - 1 and self.out.roles[before.number] is Role.NOTE
        if not unfinished or not adjacent:
            return
        told = unnamed(unstarred(before.text))
        if told is not None:
            tag.stand_where(told)
            for number in (before.number, *self.further.get(before.number, ())):
                self.out.roles[number] = Role.EVENT

    def _placed_below(self, line: Line, bare: str) -> Role | None:
        """ "Dance 24 counts, then", below an ending or a restart that has told its wall."""
        event, told = self.event, _PLACE_ALONE.match(bare)
        if event is None or told is None or event.mention.kind not in (ENDING, RESTART) or event.mention.placed:
            return None
        if event.lines or event.replaced or line.number > event.heading.number + 2:
            return None
        event.mention.after = number_of(told["n"])
        self._keep(line)
        return Role.EVENT

    def _shortened(self, line: Line, bare: str) -> Role | None:
        return Role.HEADER if self._short_part(line, bare) else None

    def _without_a_name(self, line: Line, bare: str) -> Role | None:
        """A wall told of, and no event named in the line."""
        if self._at_end_of_wall(line):
            return self._unnamed(line, bare)
        announced = self.out.events[-1] if self.in_head and self.out.events else None
        if announced is not None and (told := unnamed(bare)) and self._lists_more(line, bare, told, announced):
            return Role.EVENT
        if self.in_head and _NTH_TIME.search(bare) is not None:
            return self._told_in_sentences(line, bare)
        return None

    def _short_part(self, line: Line, bare: str) -> bool:
        """ "The short As: leave off section A4 ...", where the order has such: its counts, and no event of its own."""
        order = self.out.reader.order
        if not any(item.short or item.counts for item in order) or read_counts(line.text) is not None:
            return False
        whole, further = self._told_on(line, bare)
        told = short_part(whole, self.out.sections)
        if told is None or not any(item.part == told[0] and (item.short or item.counts == told[1]) for item in order):
            return False
        self.out.shorts.setdefault(*told)
        self.told_on.update(further)
        self._keep(line)
        return True

    def _at_end_of_wall(self, line: Line) -> bool:
        return (
            bool(self.out.sections)
            and kinds.WALL.search(self.low) is not None
            and (read_counts(line.text) is None or kinds.SO_MANY.match(line.text) is not None)
        )

    def _unnamed(self, line: Line, bare: str) -> Role | None:
        """ "Wall 2:" or "At the end of wall 4 add": an event, or where one is danced, in a line without its name."""
        tag = unnamed(bare)
        if tag is None or bare.endswith("?"):
            return None
        if self.event is not None and self._lists_more(line, bare, tag, self.event):
            return Role.EVENT
        if self.event is not None and self.event.mention.kind == TAG and not self.event.mention.told:
            self._walls_of_tag(self.event, line, bare, tag)
            return Role.EVENT
        if kinds.ENDS_WALL.search(self.low) and steps_in(bare, tag.start, len(bare)):
            tag.end = tag.start
            self._add_event(line, bare, tag, len(bare), "")
            return Role.EVENT
        if kinds.ENDS_WALL.search(self.low) and _ONCE_MORE.search(bare) and not self._tag_without_steps():
            self._add_event(line, bare, tag, len(bare), "")  # whose steps are those of the dance
            return Role.EVENT
        if self._next_count() != 1 and not self._tag_without_steps():
            return self._told_in_sentences(line, bare)
        self._add_event(line, bare, tag, len(bare), "")
        return Role.EVENT

    def _walls_of_tag(self, event: EventBlock, line: Line, bare: str, told: Mention) -> None:
        """ "Dance it once at the end of wall 2, and twice at the end of wall 4", below a tag; of walls that are announced
        already nothing new is told."""
        announced = {n for e in self.out.events if e is not event and e.mention.kind == TAG for n in e.mention.walls}
        if event.lines and told.walls and set(told.walls) <= announced:
            return
        first, *further = [m for m in mentions_in(f"Tag: {bare}") if m.kind == TAG and m.told] or [told]
        event.mention.walls, event.mention.ends, event.mention.times = first.walls or told.walls, True, first.times
        event.mention.facing = event.mention.facing or told.facing
        for mention in further:
            self._add_event(line, bare, mention, 0, "")

    def _tag_without_steps(self) -> bool:
        return self.event is not None and self.event.mention.kind == TAG and not (self.event.lines or self.event.words)

    def _lists_more(self, line: Line, bare: str, told: Mention, listed: EventBlock) -> bool:
        """ "Restarts", and below it "Wall 2: after count 32", "Wall 5: after count 16"."""
        kind = listed.mention.kind
        if kind not in (RESTART, ENDING) or told.after is None or listed.heading.number < line.number - 3:
            return False
        if told.last_wall or _WALL_FIRST.match(self.low) is None:
            return False
        told.kind, told.ends = kind, False
        self._add_event(line, bare, told, len(bare), "")
        return True

    def _told_in_sentences(self, line: Line, bare: str) -> Role | None:
        """A wall named in one sentence, and what happens on it in the next."""
        further: list[int] = []
        end = self._end_of(line)
        for following in self.lines[self.at + 1 : self.at + 5]:
            text = unstarred(following.text)
            if (
                following.number != end + 1
                or (read_counts(text) is not None and not kinds.SO_MANY.match(text))
                or read_heading(text, self.phrased)
                or ON_WALL.match(text)
                or kinds.EVENT_LINE.match(text.lstrip("\u2192->* "))
            ):
                break
            bare = f"{bare} {text}"
            further.append(following.number)
            end = self._end_of(following)
        found = mentions_in(bare)
        changed = any(m.told and m.kind == CHANGE for m in found)
        named = kinds.BY_NAME.search(bare) is not None
        if not changed and not any(m.told and (m.placed or named) and m.kind in (TAG, RESTART) for m in found):
            return None
        self.told_on.update(further)
        for mention in found:
            self._after_change(mention)
            self._add_event(line, bare, mention, len(bare), "")
        return Role.EVENT

    def _tells_event(self, line: Line, bare: str, found: list[Mention]) -> bool:
        if bare.endswith("?"):
            return False
        if all(m.none for m in found):
            return True
        if _LISTED_LETTER.match(line.text) and any(m.told for m in found):
            return True
        if self._names_figures(bare, found):
            return False
        strong = [m for m in found if m.kind in (TAG, RESTART)]
        if kinds.CLOSING.match(bare):
            return False
        counted = read_counts(line.text) is not None and steps_on(line) != []
        if counted and not kinds.STRONG_EVENT.match(bare):
            return False
        if kinds.STRONG_EVENT.match(bare):
            return True
        if strong and any(m.told or m.placed for m in strong):
            return kinds.EVENT_WORD.search(bare) is not None or any(m.told for m in strong)
        if any(m.kind in (CHANGE, ENDING) and m.told for m in found):
            return True
        named = any(
            word in self.low for word in ("restart", "re-start", "tag", "bridge")
        )  # not "that's it, start over"
        return kinds.EVENT_LINE.match(bare) is not None or (
            len(bare.split()) <= 4 and bool(strong) and named and not counted
        )

    def _names_figures(self, bare: str, found: list[Mention]) -> bool:
        """ "Finish the cha, rock back, lock step", above steps whose counts begin again: a heading, no ending."""
        bare_ending = all(m.kind == ENDING and not (m.told or m.placed) for m in found)
        listed = bare.count(",") > 1 and kinds.STEP_WORD.search(bare) is not None
        return bare_ending and listed and self._begins_again(for_heading=True)

    def _add_event(self, line: Line, text: str, mention: Mention, until: int, mark: str, aside: bool = False) -> None:
        if len(self.out.events) >= _MOST_EVENTS:
            return
        event = EventBlock(mention, line, mark=mark, within=len(self.out.sections) - 1, text=text)
        if self.out.sections and (self.open_section or aside):
            event.here = len(self.out.sections) - 1, self._highest(self.out.sections[-1].lines)
            if mark in self.marks and not (mention.placed and (mention.after or mention.section)):
                event.here = self.marks[mark]
                mention.here = True
        elif mark and mark in self.marks:
            event.here = self.marks[mark]
            mention.here = mention.here or not mention.placed
        inside = mention.kind == TAG and not mention.placed and self.open_section and not aside
        if (
            inside
            and event.here is not None
            and (_GOES_ON_AFTER.search(text) is not None or self._goes_on_below() or self._mid_section(event.here[1]))
        ):
            mention.here = True
        self.out.events.append(event)
        self._own_steps(event, text, mention, until)
        if mention.kind in (TAG, ENDING) and not mention.here and not aside:
            self.open_section = False
        if not aside:
            # What a header announces is told elsewhere; the steps that follow are the dance's.
            self.event, self.option = (event if self.out.sections or event.lines else None), None
            self.last_steps = event.lines if event.lines else None
