"""The lines of a sheet, each given its role and put where it belongs.

A line is tried as what it can be, the surest first; where two are possible, the counts that come after decide: where
they begin again, the line before them is a heading, whatever its words are. Every line of the file gets a role.
"""

from __future__ import annotations

import re
from dataclasses import replace

from caller.routine.count import read_counts
from caller.routine.findings import Finding
from caller.routine.layout import kinds
from caller.routine.layout.abbreviations import abbreviations, expanded
from caller.routine.layout.blocks import Blocks, EventBlock, OptionBlock, ReplacedLines, Role, SectionBlock, first_count, highest_count
from caller.routine.layout.changes import replaced_by
from caller.routine.layout.columns import called
from caller.routine.layout.counted import shifted, steps_on, with_counts
from caller.routine.layout.headings import Heading, read_heading, read_unsure
from caller.routine.layout.lines import MOST_LINE, Line, physical, unstarred
from caller.routine.layout.mentions import CHANGE, ENDING, RESTART, TAG, Mention, mentions_in, unnamed
from caller.routine.layout.numbers import ROMAN
from caller.routine.layout.options import Offered, read_option
from caller.routine.layout.orders import looks_like_order, read_order

# A section's number in the line of its first steps: "i.  1-3 Waltz forward".
_LISTED_STEPS = re.compile(r"^(?P<num>[ivx]{1,4}|[IVX]{1,4}|[A-H])[.)]\s+(?=\d)")
# Steps told in sentences, each with its count in brackets: "Step left (1), close (2)", below a range told in words.
_BRACKETED_COUNT = re.compile(r"\(\d{1,2}(?:\s?[&-]\s?\d{1,2}&?)*\)")
_ON_COUNT = re.compile(r"\bon\s+(?:counts?\s+)?[1-8]\b(?!\s*/)")
_RANGE_LABEL = re.compile(r"^(?:on\s+)?counts?\s+\d{1,3}\s*(?:to|-|\u2013|thru|through)\s*\d{1,3}\s*,?\s*(?P<name>[^.:(]{0,60})[.:]\s+", re.IGNORECASE)
_LOOK_AHEAD = 3  # lines in which counts may begin after a heading
_MOST_NAME = 80


def arrange(text: str) -> Blocks:
    """The blocks of a sheet's text. Never raises."""
    return _Arranging(list(physical(text))).run()


def _listed_number(text: str) -> int:
    return ROMAN.get(text.lower()) or ord(text.upper()) - ord("A") + 1


class _Arranging:
    def __init__(self, lines: list[Line]) -> None:
        self.all = lines
        self.lines = [line for line in lines if line.text]
        self.empty = {line.number for line in lines if not line.text}
        self.out = Blocks(roles={line.number: Role.EMPTY for line in lines})
        self.part = ""
        self.option: OptionBlock | None = None
        self.event: EventBlock | None = None
        self.open_section = False
        self.last_steps: list[Line] | None = None  # the list whose last line may go on
        self.marks: dict[str, tuple[int, int]] = {}  # stars at a step line, and where that is
        self.phrased = any(looks_like_order(unstarred(x.text)) or kinds.ORDER_KEY.match(x.text) for x in self.lines[:60]) or sum(
            bool(kinds.PART_LINE.match(unstarred(x.text))) for x in self.lines
        ) >= 2
        self.at = 0
        self.low = ""  # the line, lower case
        self.shifts: dict[int, int] = {}  # counts that lists of step lines are moved on by
        self.high: dict[int, tuple[int, int]] = {}  # of lists of step lines: how many are counted, and their highest
        self.step_number = 0  # of the last line of the file that told steps
        self.told_on_steps: set[int] = set()  # lines that go on with steps told in sentences
        self.told_on: set[int] = set()  # lines that go on with an event's sentence
        self.short = abbreviations(x.text for x in self.lines)
        self.title_line = kinds.title_line([x.text for x in self.lines[:25]])

    def run(self) -> Blocks:
        for n, line in enumerate(self.lines):
            self.at = n
            if line.number in self.told_on or line.number in self.told_on_steps:
                self.out.roles[line.number] = Role.EVENT if line.number in self.told_on else Role.STEPS
                continue
            self.out.roles[line.number] = self._role(line)
        for part, told in self.out.reader.lengths.items():
            self.out.parts.setdefault(part, told)
        return self.out

    def _highest(self, lines: list[Line]) -> int:
        """The highest whole count of step lines that only ever grow in number."""
        known, high = self.high.get(id(lines), (0, 0))
        if known < len(lines):
            high = max(high, highest_count(lines[known:]))
            self.high[id(lines)] = (len(lines), high)
        return high

    @property
    def in_head(self) -> bool:
        return not self.out.sections and not self.event

    # -- the role of a line

    def _role(self, line: Line) -> Role:
        if len(line.text) > MOST_LINE:
            message = f"this line has more than {MOST_LINE:,} characters; a step line has one line's worth"
            return self._unread(line, message)
        bare = unstarred(line.text)
        self.low = bare.lower()
        for taker in (self._comment, self._furniture, self._replaced, self._heading, self._option, self._counts_told, self._counts_alone, self._event, self._steps, self._broken, self._unsure_heading):
            role = taker(line, bare)
            if role is not None:
                return role
        if self.in_head:
            return self._header(line, bare)
        return self._goes_on(line, bare) or self._tag_words(line, bare) or self._note_or_unread(line, bare)

    def _comment(self, line: Line, bare: str) -> Role | None:
        if not line.text.startswith("#"):
            return None
        if line.text.startswith("##") and kinds.STRONG_EVENT.match(bare.lstrip("# ")) or (self.out.sections and mentions_in(line.text) and any(m.told for m in mentions_in(line.text)) and not line.text[1:3].strip()[:1].islower()):
            return None
        inner = line.text.lstrip("# ").rstrip("# ")
        hashed = replace(line, text=inner, column=line.column + len(line.text) - len(line.text.lstrip("# ")))
        if inner and (read_heading(inner, self.phrased) or (self._begins_again() and len(inner) <= _MOST_NAME and not inner.endswith("."))):
            role = self._heading(hashed, inner) or self._unsure_heading(hashed, inner)
            if role is not None:
                return role
        self.out.comments.append((line.number, line.text))
        return Role.NOTE

    def _furniture(self, line: Line, bare: str) -> Role | None:
        """Page numbers, links, copyright, the head of a mail."""
        told = any(word in self.low for word in kinds.FURNITURE_WORDS) or not self.low[:1].isalpha()
        if (told and kinds.FURNITURE.search(bare) is not None) or (self.in_head and kinds.MAIL_HEAD.match(bare)):
            if not kinds.PAGE.match(bare):
                self._keep(line)
            return Role.NOTE
        return None

    # -- headings

    def _heading(self, line: Line, bare: str) -> Role | None:
        heading = read_heading(bare, self.phrased)
        if heading is None:
            return None
        if heading.said is not None and self._is_steps(line, heading):
            return None
        if self.in_head and len(list(kinds.PART_LENGTH.finditer(bare))) > 1:
            return None
        if not heading.opens:
            return self._open_part(line, heading)
        if self._only_named(heading, bare):
            return None
        self._open(line, heading)
        self._inline_steps(line, heading, bare)
        return Role.HEADING

    def _only_named(self, heading: Heading, bare: str) -> bool:
        """A section named before any steps, where no steps follow: a table of contents, or a sentence."""
        return bool(heading.name) and mentions_in(bare) != [] and not self._begins_again() and heading.said is None

    def _is_steps(self, line: Line, heading: Heading) -> bool:
        """ "[1-4] Vine right, touch": counts that the next line goes on from."""
        assert heading.said is not None
        if heading.number is not None and not (heading.said[1] - heading.said[0] < 4 and self.event is not None and self.event.mention.kind in (CHANGE, RESTART)):
            return False
        following = self._next_count()
        if heading.said[0] == self._expected() and following == heading.said[1] + 1 and heading.name:
            return not (heading.said[1] % 8 == 0 and heading.said[0] % 8 == 1)
        return heading.said[1] - heading.said[0] < 3 and following not in (1, heading.said[0])

    def _open_part(self, line: Line, heading: Heading) -> Role:
        part = heading.part or ""
        if part.isdigit() or len(part) > 1:
            if not self.phrased:
                self._open(line, replace(heading, part=None, number=None))
                return Role.HEADING
        if self.in_head and self._next_heading_is_header():
            pass
        self.part = part
        if heading.long:
            self.out.parts.setdefault(part, (heading.long, line))
        elif heading.said:
            self.out.parts.setdefault(part, (heading.said[1] - heading.said[0] + 1, line))
        self.event = self.option = None
        self.open_section = False
        self.last_steps = None
        self.part_name = heading.name
        return Role.HEADING

    def _next_heading_is_header(self) -> bool:
        return False

    def _open(self, line: Line, heading: Heading) -> SectionBlock:
        if heading.part:
            self.part = heading.part
        siblings = [s for s in self.out.sections if s.part == self.part]
        number = heading.number if heading.number is not None else len(siblings) + 1
        if any(s.number == number for s in siblings):
            if heading.said is None and heading.number is not None:
                message = f"section {number} stands on line {next(s.heading.number for s in siblings if s.number == number)} already; number this one {len(siblings) + 1}"
                self.out.findings.append(Finding(line.place, "heading", message))
            number = max(s.number for s in siblings) + 1
        block = SectionBlock(line, self.part, number, heading.name.strip(), said=heading.said, long=heading.long)
        self.out.sections.append(block)
        self.event = self.option = None
        self.open_section = True
        self.last_steps = None
        return block

    def _inline_steps(self, line: Line, heading: Heading, bare: str) -> None:
        """ "S4: 1-2 Walk R, L" and "Section 3: repeat section 1 on the opposite foot"."""
        block = self.out.sections[-1]
        if kinds.AGAIN.match(heading.name) and not self._begins_again():
            block.lines.append(Line(line.number, line.column, heading.name, False))
        elif heading.said is not None and heading.said[0] == 1 and self._next_count() == heading.said[1] + 1 and heading.name:
            block.said = None
            block.name = ""
            block.lines.append(Line(line.number, line.column, f"{heading.said[0]}-{heading.said[1]}  {heading.name}", False))
            self.last_steps = block.lines
        else:
            counted = steps_on(Line(line.number, line.column, heading.name, False), 1) if heading.name[:1].isdigit() else []
            if counted:
                block.name = ""
                self._add_steps(counted, line)

    def _unsure_heading(self, line: Line, bare: str) -> Role | None:
        """A line before counts that begin again is a heading, whatever it says."""
        if not self._begins_again(for_heading=True) or len(bare) > _MOST_NAME or kinds.NO_HEADING.search(bare):
            return None
        if self.in_head and not self._heads_first(line, bare):
            return None
        if self.event is not None and not self.event.lines and self.event.mention.kind in (TAG, ENDING) and self._next_count() == 1:
            return None  # words between a tag's heading and its steps
        unsure = read_unsure(bare) or Heading(name=bare.strip(" :-\u2013\u2014.=~"), sure=False)
        if self.event is not None and self.event.mention.kind in (TAG, ENDING) and not bare.isupper() and unsure.said is None and unsure.number is None and not line.text.rstrip().endswith(":"):
            return None
        self._open(line, unsure)
        return Role.HEADING

    def _heads_first(self, line: Line, bare: str) -> bool:
        """Whether the line right above the first steps heads them, and is no title or header."""
        if self.at == self.title_line or (not self.out.reader.header.title and self.title_line is None):
            return False
        probe = type(self.out.reader)()
        return not (probe.key(line) or probe.facts(line)) and (bare.isupper() or line.text != bare or bare.endswith(":") or read_unsure(bare) is not None)

    def _next_line(self) -> Line | None:
        """The next line that is neither empty nor a note in brackets."""
        for line in self.lines[self.at + 1 : self.at + 1 + _LOOK_AHEAD]:
            if not kinds.ASIDE_LINE.match(line.text):
                return line
        return None

    def _next_count(self) -> int | None:
        """The first count of the next line, where that is a step line."""
        line = self._next_line()
        if line is None or kinds.STRONG_EVENT.match(unstarred(line.text)) or read_option(line.text) is not None and not line.text[:1].isdigit():
            return None
        if kinds.ONLY_COUNTS.match(line.text) is not None and (alone := read_counts(f"{line.text} x")) is not None:
            return alone.beats[0].number
        steps = steps_on(line, self._counts_on())
        return first_count(steps[0]) if steps else None

    def _expected(self) -> int:
        """The whole count that would come next in the section that is open."""
        if self.event is not None and self.event.lines:
            return self._highest(self.event.lines) + 1
        return self._highest(self.out.sections[-1].lines) + 1 if self.out.sections and self.open_section else 1

    def _counts_on(self) -> int:
        """The whole count that would come next if counts ran on through all sections."""
        if self.open_section and self.out.sections and not self.out.sections[-1].lines and not (self.event and self.event.lines):
            before = [s for s in self.out.sections[:-1] if s.part == self.part and s.lines]
            return self._highest(before[-1].lines) + 1 if before else 1
        return self._expected()

    def _begins_again(self, for_heading: bool = False) -> bool:
        following = self._next_count()
        if following is None:
            return False
        expected = self._expected()
        if following == 1:
            return True
        if following == 2 and self.out.wraps and expected >= 8:
            return True
        eights = (expected - 1) % 8 == 0 or (expected - 1) % 6 == 0
        return for_heading and following == expected and expected > 1 and eights

    # -- options

    def _option(self, line: Line, bare: str) -> Role | None:
        offered = read_option(bare)
        if offered is None or not self.out.sections:
            return None if offered is None or not self.in_head else self._kept(line, Role.OPTION)
        if offered.first is None or offered.last is None:
            if offered.words and steps_on(Line(line.number, line.column, offered.words, False)):
                return None
            self._keep(line)
            return Role.OPTION
        section = self._section_for(offered)
        block = OptionBlock(line, offered.first, offered.last, offered.words)
        if offered.words:
            counts = re.sub(r"\s*(?:to|thru|through)\s*", "-", offered.counts)
            inline = Line(line.number, line.column, f"{counts}  {offered.words}", False)
            if self._option_goes_on(block):
                block.name = offered.words
            else:
                block.lines, block.told = [inline], True
        section.options.append(block)
        self.option, self.event = block, None
        return Role.OPTION

    def _section_for(self, offered: Offered) -> SectionBlock:
        own = self.out.sections[-1]
        if offered.section:
            return next((s for s in self.out.sections if s.number == offered.section and s.part == own.part), own)
        assert offered.first is not None
        for section in reversed(self.out.sections):
            numbers = [n for line in section.lines if (n := first_count(line)) is not None]
            low = section.said[0] if section.said and numbers and min(numbers) != 1 else min(numbers, default=1)
            if low <= offered.first <= self._highest(section.lines):
                return section
        passed = 0
        for section in self.out.sections:
            high = self._highest(section.lines)
            if passed < offered.first <= passed + high and passed:
                return section
            passed += high
        return own

    def _option_goes_on(self, block: OptionBlock) -> bool:
        """Whether step lines for an option stand below its heading."""
        following = self._next_count()
        return following is not None and block.first <= following <= block.last and following != self._expected()

    # -- events

    def _event(self, line: Line, bare: str) -> Role | None:
        if not any(word in self.low for word in kinds.EVENT_WORDS) and kinds.WALL.search(self.low) is None:
            return None
        found = mentions_in(bare)
        if not found and self.out.sections and kinds.WALL.search(self.low) is not None and read_counts(line.text) is None:
            tag = unnamed(bare)
            if tag is not None and self.event is not None and self.event.mention.kind == TAG and not self.event.mention.told:
                self.event.mention.walls, self.event.mention.ends = tag.walls, True
                self.event.mention.facing = self.event.mention.facing or tag.facing
                return Role.EVENT
            open_tag = self.event is not None and self.event.mention.kind == TAG and not self.event.lines
            if tag is None or (self._next_count() != 1 and not open_tag):
                return self._told_in_sentences(line, bare) if tag is not None else None
            self._add_event(line, bare, tag, len(bare), "")
            return Role.EVENT
        if not found or not self._tells_event(line, bare, found):
            return None
        bare, further = self._told_on(line, bare)
        found = mentions_in(bare) if further else found
        for number in further:
            self.told_on.add(number)
        mark = (re.match(r"^[*\u2605#\u2020\u2021^]+", line.text) or [""])[0]
        taken = False
        for n, mention in enumerate(found):
            if mention.none:
                continue
            until = found[n + 1].start if n + 1 < len(found) else len(bare)
            self._after_change(mention)
            self._add_event(line, bare, mention, until, mark)
            taken = True
        if self.in_head and not taken:
            self._keep(line)
            self.out.reader.facts(line)
            return Role.HEADER
        if self.in_head or not self.open_section:
            self.out.reader.facts(line) if kinds.FACT_TOO.search(bare) else None
        return Role.EVENT

    def _told_in_sentences(self, line: Line, bare: str) -> Role | None:
        """A wall named in one sentence, and what happens on it in the next."""
        further: list[int] = []
        for following in self.lines[self.at + 1 : self.at + 5]:
            text = unstarred(following.text)
            if following.number != line.number + len(further) + 1 or read_counts(text) is not None or read_heading(text, self.phrased):
                break
            bare = f"{bare} {text}"
            further.append(following.number)
        found = [m for m in mentions_in(bare) if m.told and m.placed and m.kind in (TAG, RESTART)]
        if not found:
            return None
        self.told_on.update(further)
        for mention in found:
            self._add_event(line, bare, mention, len(bare), "")
        return Role.EVENT

    def _told_on(self, line: Line, bare: str) -> tuple[str, list[int]]:
        """The sentence with the lines of the file that it goes on over."""
        further: list[int] = []
        for following in self.lines[self.at + 1 : self.at + 4]:
            text = unstarred(following.text)
            adjacent = following.number == line.number + len(further) + 1
            ends = bare.rstrip().endswith((":", ".", "!", ")", "*"))
            if not adjacent or (ends and not text[:1].islower()) or read_counts(text) is not None or read_heading(text, self.phrased):
                break
            if kinds.STRONG_EVENT.match(text) or read_option(text) is not None or kinds.FURNITURE.search(text) or text.startswith("#"):
                break
            bare = f"{bare} {text}"
            further.append(following.number)
        return bare, further

    def _tells_event(self, line: Line, bare: str, found: list[Mention]) -> bool:
        if bare.endswith("?"):
            return False
        if all(m.none for m in found):
            return True
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
        return kinds.EVENT_LINE.match(bare) is not None or (len(bare.split()) <= 4 and bool(strong) and not counted)

    def _add_event(self, line: Line, text: str, mention: Mention, until: int, mark: str, aside: bool = False) -> None:
        event = EventBlock(mention, line, mark=mark, within=len(self.out.sections) - 1)
        if self.out.sections and (self.open_section or aside):
            event.here = len(self.out.sections) - 1, self._highest(self.out.sections[-1].lines)
            if not mention.placed and mark in self.marks:
                event.here = self.marks[mark]
                mention.here = True
        elif mark and mark in self.marks:
            event.here = self.marks[mark]
            mention.here = mention.here or not mention.placed
        self.out.events.append(event)
        self._own_steps(event, text, mention, until)
        if mention.kind in (TAG, ENDING) and not mention.here and not aside:
            self.open_section = False
        if not aside:
            # What a header announces is told elsewhere; the steps that follow are the dance's.
            self.event, self.option = (event if self.out.sections or event.lines else None), None
            self.last_steps = event.lines if event.lines else None

    def _own_steps(self, event: EventBlock, text: str, mention: Mention, until: int) -> None:
        """Steps told in the same line as the event."""
        line = event.heading
        if mention.kind in (CHANGE, RESTART):
            same = self.out.events[-2] if len(self.out.events) > 1 else None
            if same is not None and same.heading is line and same.replaced:
                return
            event.replaced += replaced_by(text, line, mention, until)
            return
        if (again := kinds.COUNTS_OF.search(text, mention.start)) is not None and again.start() < until:
            event.lines += self._again(again, line)
            if event.lines:
                mention.after, mention.ends = None, True
                return
        words = next((w for m in kinds.TOLD_STEPS.finditer(text, mention.end, until) if (w := kinds.steps_told(text[m.end() : until]))), "")
        if not words:
            return
        counted = steps_on(Line(line.number, line.column, words, False), 1)
        if counted and first_count(counted[0]) == 1:
            event.lines += counted
        elif self._next_count() != 1:
            event.words = words

    def _again(self, found: re.Match[str], line: Line) -> list[Line]:
        """ "counts 1-4 of F": the step lines of that section once more."""
        name = found["section"]
        number = int(name) if name.isdigit() else ROMAN.get(name.lower(), ord(name[0].upper()) - ord("A") + 1)
        section = next((s for s in self.out.sections if s.number == number), None)
        low, high = int(found["first"]), int(found["last"])
        own = [x for x in section.lines if (n := first_count(x)) is not None and low <= n and highest_count([x]) <= high] if section else []
        return [shifted(Line(line.number, line.column, x.text, False), 1 - low) for x in own]

    def _after_change(self, mention: Mention) -> bool:
        """ "and restart", below a step change: on its walls, after its steps."""
        before = self.event.mention if self.event is not None else None
        if before is None or before.kind != CHANGE or not before.told or mention.kind != RESTART or mention.told:
            return False
        mention.walls, mention.every = before.walls, before.every
        if before.after is not None and mention.after is None:
            mention.after = before.after
        elif not mention.placed:
            mention.ends = True
        return True

    def _tag_words(self, line: Line, bare: str) -> Role | None:
        """Steps without counts below a tag's heading."""
        event = self.event
        if event is None or event.mention.kind != TAG or event.lines or event.words or not kinds.steps_told(bare):
            return None
        event.words = bare
        event.heading = event.heading if event.mention.told else line
        return Role.STEPS

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
        last = self.event.replaced[-1] if self.event.replaced else None
        if last is None or (last.part, last.section) != (part, number):
            last = ReplacedLines(line, part, number)
            self.event.replaced.append(last)
        last.lines += lines
        self.last_steps = last.lines
        return Role.STEPS

    # -- steps

    def _steps(self, line: Line, bare: str) -> Role | None:
        plain = line if bare == line.text or not line.text.startswith("*") else replace(line, text=bare, exact=False)
        plain, asides, mark = self._without_asides(plain)
        if self.in_head and kinds.HEAD_FACT.match(bare) is not None:
            return None
        plain = called(plain)
        if kinds.GREETING.match(bare):
            return None
        told = len(_BRACKETED_COUNT.findall(plain.text)) > 1 or (" on " in plain.text and len(_ON_COUNT.findall(plain.text)) > 1)
        steps = [] if told else steps_on(plain, self._counts_on())
        if not steps:
            steps, further = self._paragraph(plain)
            if not steps:
                steps, further = self._counted_below(plain)
            if not steps:
                return None
            self.told_on_steps.update(further)
        if (listed := _LISTED_STEPS.match(bare)) is not None and first_count(steps[0]) is not None and not bare[:1].isdigit():
            steps = steps_on(Line(line.number, line.column, bare[listed.end() :], False), 1) or steps
            self._open(line, Heading(number=_listed_number(listed["num"]) if not self.phrased else None))
        unsure = read_unsure(bare)
        if unsure is not None and self._heads(unsure):
            self._open(line, unsure)
            return Role.HEADING
        if self.in_head and not self._may_begin(steps, bare):
            return None
        self._add_steps(steps, line)
        self.step_number = line.number
        if mark and self.out.sections:
            self.marks.setdefault(mark, (len(self.out.sections) - 1, self._highest(self.out.sections[-1].lines)))
        for aside in asides:
            for mention in mentions_in(aside):
                if not mention.none and (mention.kind in (TAG, RESTART) or mention.told) and not kinds.SEE.match(aside):
                    if not self._after_change(mention) and not mention.placed:
                        mention.here = True
                    self._add_event(line, aside, mention, len(aside), "", aside=True)
        return Role.STEPS

    def _counted_below(self, line: Line) -> tuple[list[Line], list[int]]:
        """A line that breaks off, its counts at the end of the next."""
        following = self.lines[self.at + 1] if self.at + 1 < len(self.lines) else None
        if following is None or following.number != line.number + 1 or not line.text.endswith((",", ";")) or self.in_head:
            return [], []
        if read_counts(following.text) is not None or not kinds.STEP_WORD.search(line.text):
            return [], []
        steps = steps_on(Line(line.number, line.column, f"{line.text} {following.text}", False), self._counts_on())
        return steps, [following.number] if steps else []

    def _paragraph(self, line: Line) -> tuple[list[Line], list[int]]:
        """Steps told in sentences over several lines: "... on 1 and touch the left next to it on 2."."""
        bracketed = len(_BRACKETED_COUNT.findall(line.text)) > 1
        if not bracketed and (" on " not in line.text or _ON_COUNT.search(line.text) is None):
            return [], []
        alone = steps_on(line, self._counts_on()) if bracketed else []
        if alone and _BRACKETED_COUNT.search(line.text[-12:]) and not _RANGE_LABEL.match(line.text):
            return alone, []
        text, further = line.text, []
        for following in self.lines[self.at + 1 : self.at + 8]:
            if following.number != line.number + len(further) + 1 or (read_counts(following.text) is not None and not bracketed):
                break
            if _RANGE_LABEL.match(following.text) or read_heading(following.text) is not None or kinds.STRONG_EVENT.match(following.text):
                break
            text, further = f"{text} {following.text}", [*further, following.number]
        named = _RANGE_LABEL.match(text) or re.match(r"^(?P<name>[^.:(]{3,40})[.:]\s+", text)
        steps = steps_on(Line(line.number, line.column, text[named.end() :] if named else text, False))
        if not steps:
            return steps_on(line, self._counts_on()), []
        if steps and named and (named.re is _RANGE_LABEL or not kinds.STEP_WORD.search(named["name"])):
            self._open(line, Heading(name=named["name"].strip(" ,")))
        return steps, further if steps else []

    def _heads(self, unsure: Heading) -> bool:
        """Whether a line with counts at its head is the heading of what comes after it."""
        following = self._next_count()
        if following is None:
            return False
        if unsure.said is not None:
            low, high = unsure.said
            inside = following == low or (following == 1 and low != 1 and ((low - 1) % 8 == 0 or (low - 1) % 6 == 0))
            if low == 1 and following == 1:
                inside = True
            return inside and high - low >= 3
        siblings = [s for s in self.out.sections if s.part == self.part]
        wanted = siblings[-1].number + 1 if siblings else 1
        return unsure.number == wanted and following in (1, self._expected()) and following != (unsure.number or 0) + 1

    def _may_begin(self, steps: list[Line], bare: str) -> bool:
        """Whether steps may begin here without a heading: from count 1 on, in words of steps."""
        return first_count(steps[0]) in (0, 1, 2) and kinds.STEP_WORD.search(bare) is not None

    def _without_asides(self, line: Line) -> tuple[Line, list[str], str]:
        """The line without what it says of events in brackets or behind stars, and without the stars at its end."""
        asides: list[str] = []
        text = line.text
        if any(word in self.low for word in kinds.EVENT_WORDS) and kinds.EVENT_WORD.search(text):
            def keep(found: re.Match[str]) -> str:
                asides.append(found["inner"])
                return " "
            text = kinds.EVENT_ASIDE.sub(keep, text)
            trailing = kinds.EVENT_TAIL.search(text)
            if trailing is not None:
                asides.append(trailing["inner"])
                text = text[: trailing.start()]
        changing = self.event is not None and self.event.mention.kind == CHANGE
        if changing and (tail := kinds.AND_RESTART.search(text)) is not None:
            asides.append(tail["inner"])
            text = text[: tail.start()]
        mark = ""
        starred = kinds.MARK.search(text, max(0, len(text) - 12)) if text[-1:] in "*#\u2020\u2021\u2605^)]" else None
        if starred is not None:
            mark = starred["mark"]
            text = text[: starred.start()]
        text = text.rstrip()
        return (line if text == line.text else replace(line, text=text)), asides, mark

    def _counts_alone(self, line: Line, bare: str) -> Role | None:
        """Counts on a line of their own, the steps on the next."""
        following = self._next_line()
        counts = read_counts(f"{bare} x")
        if following is None or counts is None or kinds.ONLY_COUNTS.match(bare) is None or read_counts(following.text) is not None:
            return None
        if counts.beats[0].number not in (0, 1, self._expected()) or not kinds.STEP_WORD.search(following.text):
            return None
        steps = steps_on(Line(line.number, line.column, f"{bare}  {unstarred(following.text)}", False), self._expected())
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

    def _add_steps(self, steps: list[Line], line: Line) -> None:
        for step in steps:
            self._add_step(expanded(step, self.short))
        if any(b.over for s in steps if (c := read_counts(s.text)) for b in c.beats):
            self.out.wraps = True

    def _add_step(self, line: Line) -> None:
        if self.option is not None and self._in_option(self.option, line):
            if self.option.told:
                self.option.told = False
                self.option.lines.clear()
            self.option.lines.append(line)
            self.last_steps = self.option.lines
            return
        self.option = None
        if self.event is not None and not self._goes_on_with_section(line):
            self._event_step(self.event, line)
            return
        self.event = None
        if self.out.sections and self.open_section:
            line = self._going_on(line)
        if not self.out.sections or not self.open_section or self._new_eight(line):
            self._open(line, Heading())
        self.out.sections[-1].lines.append(line)
        self.last_steps = self.out.sections[-1].lines

    def _event_step(self, event: EventBlock, line: Line) -> None:
        if event.mention.kind in (TAG, ENDING):
            event.lines.append(line)
            self.last_steps = event.lines
            return
        if not event.replaced:
            event.replaced.append(ReplacedLines(line, "", event.mention.section or 0))
        told = event.replaced[-1]
        if told.lines and told.lines[0].number == event.heading.number != line.number:
            # What the sentence names is written out below it, perhaps in the counts of its section.
            first, counts = first_count(told.lines[0]) or 1, first_count(line) or 1
            if (first - 1) % 8 == (counts - 1) % 8:
                told.section = told.section or ((first - 1) // 8 + 1 if first > 8 >= counts else 0)
                told.lines.clear()
        told.lines.append(line)
        self.last_steps = event.replaced[-1].lines

    def _going_on(self, line: Line) -> Line:
        """Counts that begin again within a headed section of twelve ("1-2-3, 4-5-6, 1-2-3, 4-5-6") run on."""
        section = self.out.sections[-1]
        highest = self._highest(section.lines)
        by = self.shifts.get(id(section.lines), 0)
        if section.heading.number != (section.lines[0].number if section.lines else 0) and first_count(line) == 1 and highest % 6 == 0 and highest % 8 and first_count(section.lines[0]) == 1:
            by = highest
            self.shifts[id(section.lines)] = by
        return shifted(line, by) if by and (first_count(line) or 0) + by <= highest + 1 else line

    def _new_eight(self, line: Line) -> bool:
        """Counts that begin again without a heading, or an empty line between eights that run on."""
        lines = self.out.sections[-1].lines
        if not lines:
            return False
        first, highest = first_count(line), self._highest(lines)
        bar = 12 if self.out.reader.header.meter.counts == 3 or "meter" in self.out.reader.inferred else 8
        if first == 1 and highest % (bar // 2 if bar == 12 else bar) == 0 and first_count(lines[0]) in (1, 2):
            return True
        if first != highest + 1 or highest < 1:
            return False
        if self.out.sections[-1].said is None and self.out.sections[-1].heading.number == lines[0].number:
            return highest % bar == 0  # steps without any heading
        return (line.number - 1) in self.empty and highest % bar == 0 and highest == bar

    def _in_option(self, option: OptionBlock, line: Line) -> bool:
        """Until its counts are filled, and beyond for counts that the section has danced already: then it is too
        long."""
        first = first_count(line)
        if option.told and (first is None or not option.first <= first <= option.last or first == self._expected()):
            return False
        if first is not None and first == 1 < option.first:
            return False
        return self._highest(option.lines) < option.last or highest_count([line]) <= self._highest(self.out.sections[-1].lines) and not option.told

    def _goes_on_with_section(self, line: Line) -> bool:
        """Whether a step line after an event that stands inside a section goes on with that section."""
        assert self.event is not None
        if not self.open_section or not self.out.sections:
            return False
        highest = self._highest(self.out.sections[-1].lines)
        counts = read_counts(line.text, previous=highest)
        if counts is None:
            return False
        follows = counts.beats[0].number in (highest, highest + 1)
        if self.event.replaced or self.event.lines:
            return follows and highest > 0 and counts.beats[0].number > highest and self.event.mention.kind in (RESTART, TAG) and self.event.mention.here
        if self.event.mention.kind in (RESTART,) and counts.beats[0].number == 1 and not self.event.mention.placed:
            return False
        return follows and (self.event.mention.here or counts.beats[0].number > 1)

    # -- header, notes, what is left

    def _header(self, line: Line, bare: str) -> Role:
        reader = self.out.reader
        plain = line if bare == line.text else Line(line.number, line.column + max(0, line.text.find(bare)), bare, line.exact)
        if self.at == self.title_line:
            reader.title(plain)
            return Role.TITLE
        keyed = re.match(r"^[A-Za-z][A-Za-z ']{2,30}\s*[:=]\s*(?=\S)", bare)
        if looks_like_order(bare[keyed.end() :] if keyed else bare):
            order, findings = read_order(bare[keyed.end() :] if keyed else bare, plain.place)
            reader.order += order
            self.out.findings += findings
            return Role.HEADER
        if self._part_facts(plain):
            reader.facts(plain)
            return Role.HEADER
        if self.short and abbreviations([plain.text]):
            return self._kept(line, Role.NOTE)
        if kinds.GREETING.match(bare):
            self._keep(line)
            return Role.NOTE
        if self.title_line is None and reader.called(plain):
            reader.facts(plain)
            self._keep(line)
            return Role.TITLE
        if reader.key(plain):
            return Role.TITLE if reader.places.get("title") and reader.places["title"].line == line.number else Role.HEADER
        if reader.facts(plain):
            self._keep_rest(plain)
            return Role.HEADER
        near = kinds.near_key(plain.text)
        if near:
            self.out.findings.append(Finding(plain.place, "header", near))
        self._keep(line)
        return Role.NOTE

    def _part_facts(self, line: Line) -> bool:
        """ "Part A: 32 counts, Part B: 16 counts", "A- = first 16 counts of A"."""
        found = False
        for short in kinds.SHORT.finditer(line.text):
            self.out.shorts[short["part"].upper()] = int(short["n"])
            found = True
        if self.phrased and not found:
            told = list(kinds.PART_LENGTH.finditer(line.text))
            if told and (len(told) > 1 or kinds.PART_LENGTH.match(line.text)):
                for one in told:
                    self.out.parts.setdefault((one["part"] or one["p2"]).upper(), (int(one["n"] or one["n2"]), line))
                return len(told) > 1 or self.in_head
        return found

    def _keep_rest(self, line: Line) -> None:
        if kinds.MORE_THAN_FACTS.search(line.text):
            self.out.reader.note(line.text)

    def _broken(self, line: Line, bare: str) -> Role | None:
        """The rest of a step line, where its words leave no doubt: the one before breaks off, or this begins small."""
        if not self.last_steps or line.number - 1 in self.empty or line.number - 1 != self.step_number or bare.isupper():
            return None
        last = self.last_steps[-1].text.rstrip()
        breaks_off = last.endswith((",", "-", "&", "/", "(")) or re.search(r"\b(?:and|the|to|with|on|then|of|a|your|right|left|in|as|for|step|turn|turning|stepping|touch)$", last, re.IGNORECASE)
        return self._goes_on(line, bare) if (breaks_off and not last.endswith((" right", " left"))) or bare[:1].islower() or last.count("(") > last.count(")") else None

    def _goes_on(self, line: Line, bare: str) -> Role | None:
        """A step line that is broken over two lines of the file."""
        if not self.last_steps or (line.number - 1) in self.empty:
            return None
        last = self.last_steps[-1]
        deeper = line.column > last.column
        open_ended = last.text.rstrip().endswith((",", "-", "&", " and", " the", " to", " with", " on", " then", "/", " of", "("))
        lower = bare[:1].islower() or bare[:1] in "(&,"
        if not (open_ended or (lower and len(bare) < 120) or (deeper and kinds.STEP_WORD.search(bare) and not bare.endswith("."))):
            return None
        if kinds.NOTE_START.match(bare) or kinds.CLOSING.match(bare) or (kinds.is_prose(bare) and not open_ended):
            return None
        self.step_number = line.number
        steps = steps_on(Line(last.number, last.column, f"{last.text} {bare}", False), first_count(last) or 0)
        self.last_steps[-1:] = [expanded(step, self.short) for step in steps] or [replace(last, text=f"{last.text} {bare}", exact=False)]
        return Role.STEPS

    def _note_or_unread(self, line: Line, bare: str) -> Role:
        if self._part_facts(line):
            return Role.HEADER
        if self.short and abbreviations([bare]):
            return self._kept(line, Role.NOTE)
        if self.phrased and looks_like_order(bare) and not self.out.reader.order:
            order, findings = read_order(bare, line.place)
            self.out.reader.order += order
            self.out.findings += findings
            return Role.HEADER
        if (kinds.ORDER_KEY.match(bare) or kinds.LATE_KEY.match(bare)) and self.out.reader.key(replace(line, text=bare)):
            return Role.HEADER
        if kinds.is_prose(bare) or not kinds.STEP_WORD.search(bare):
            self._keep(line)
            return Role.NOTE
        return self._unread(line, f"this line has no counts, so nobody knows when it is danced: {bare[:60]!r}; begin it with them, such as '1-2'")

    def _unread(self, line: Line, message: str) -> Role:
        self.out.findings.append(Finding(line.place, "unread", message))
        self._keep(line)
        return Role.UNREAD

    def _kept(self, line: Line, role: Role) -> Role:
        self._keep(line)
        return role

    def _keep(self, line: Line) -> None:
        """As a note of the section that is open, or of the header."""
        text = unstarred(line.text)
        found = kinds.NOTE_START.match(text)
        text = text[found.end() :].strip() if found and found.end() < len(text) else text
        if text.startswith("(") and text.endswith(")") and text.count("(") == 1:
            text = text[1:-1].strip()
        if self.out.sections:
            self.out.sections[-1].notes.append((text, line.number))
        else:
            self.out.reader.note(text)
