"""The telling words of a sentence taken one by one, each by the event that it stands with."""

from __future__ import annotations

import re
from dataclasses import replace
from itertools import pairwise

from caller.routine.facing import Facing
from caller.routine.layout.clauses import step_run
from caller.routine.layout.mention import CHANGE, ENDING, RESTART, TAG, Mention
from caller.routine.layout.mention_kinds import KindTelling
from caller.routine.layout.mention_places import counts_of, section_of, walls_of
from caller.routine.layout.mention_words import (
    ANOTHER_TAG,
    BEGINS_AGAIN,
    TAG_BEFORE,
    WALL_BEGINS,
    WHEN_AGAIN,
    facing_told,
    kind_of,
    numbers_in,
)
from caller.routine.layout.numbers import number_of
from caller.routine.layout.paraphrases import STARTS_OVER
from caller.routine.layout.tokens import OUTER, TOKENS
from caller.routine.layout.wall_phrases import EACH_OWN

_EIGHT = 8
_MOST_EVENTS = 24  # that one sentence tells
_CLOCKS = re.compile(
    r"\s*(?:,|and|&|/)\s*(?:and\s+)?(?:then\s+)?(?:at\s+)?(?:1[0-2]|[1-9])(?:[:.][03]0|\s*o['\u2019]?\s?clock)|\s*(?:the\s+)?(?:first|1st)\s+time\b",
    re.IGNORECASE,
)
_LEAST_BEFORE_END = 3  # counts: fewer in an ending's sentence are those of its own steps


_STEP_TWICE = re.compile(
    r"\b(?:clap|stomp|kick|bump|tap|touch|sway|heel|toe|point|hitch|scuff|hips?|right|left|[RL]|box|chair|step|pivot|coaster|shuffle|rock)s?\s*$",
    re.IGNORECASE,
)


_MORE = re.compile(r"\s*(?:more|extra|further|longer|additional)\b", re.IGNORECASE)
_THEN_ON = re.compile(r",?\s*(?:and\s+)?then\s+(?:continue|carry|go\s+on|on\b)", re.IGNORECASE)


class MentionTelling(KindTelling):
    """Tokens taken one by one; ``out`` holds the events so far."""

    def run(self) -> list[Mention]:
        for found in TOKENS.finditer(self.text):
            if len(self.out) > _MOST_EVENTS:
                break
            where = self.at.after, self.at.section, self.at.within, self.at.here
            self.token = found.start()
            _TAKES[next(name for name in OUTER if found[name] is not None)](self, found)
            if where != (self.at.after, self.at.section, self.at.within, self.at.here):
                self.at.place_end = found.end()
        self._happens_so_often()
        for mention in self.out:
            self._put_right(mention)
        self._twice_on_some()
        self._changes_where_it_restarts()
        first = {mention.kind: mention for mention in reversed(self.out)}
        for mention in self.out:  # "Tag: after wall 2 there is a 4 count tag"
            first[mention.kind].long = first[mention.kind].long or mention.long
        return [m for m in self.out if m is first[m.kind] or m.none or m.told or m.placed or m.first]

    def _changes_where_it_restarts(self) -> None:
        """ "Restart (wall 3): dance sections 1 and 2 but change the last two steps"."""
        for before, mention in pairwise(self.out):
            if before.kind == RESTART and mention.kind == CHANGE and not mention.told and not mention.placed:
                mention.section = before.section

    def _twice_on_some(self) -> None:
        whole = next((m for m in self.out if m.kind == TAG and set(self.twice_on) < set(m.walls)), None)
        if whole is not None and self.twice_on:
            whole.walls = tuple(wall for wall in whole.walls if wall not in self.twice_on)
            self.out.append(replace(whole, walls=self.twice_on, times=2, assumed=True))

    def _walls(self, found: re.Match[str]) -> None:
        walls = walls_of(found)
        self._new_sentence(found)
        last = self.out[-1] if self.out else None
        if last is not None and last.kind == TAG and last.told and self._restarts(found):
            self.out.append(Mention(RESTART, start=found.start(), end=found.end()))
        self._put_walls(walls)

    def _restarts(self, found: re.Match[str]) -> bool:
        """Whether a sentence that begins with this wall is of a restart: "... And in round six we begin again"."""
        last = self.out[-1]
        begins = max(self.text.rfind(mark, last.end, found.start()) for mark in (". ", "; ", "! "))
        sentence = " ".join(re.split(r"[.!](?:\s|$)", self.text[found.start() :])[:2])
        return begins > 0 and STARTS_OVER.search(sentence) is not None and ANOTHER_TAG.search(sentence) is None

    def _between(self, found: re.Match[str]) -> None:
        self._put_walls(numbers_in(found["bw"] or found["bo"]))
        self.at.ends = True

    def _before(self, found: re.Match[str]) -> None:
        self._put_walls(tuple(n - 1 for n in numbers_in(found["pw"] or found["po"])))
        self.at.ends = True

    def _new_sentence(self, found: re.Match[str]) -> None:
        """ "On wall 3 replace ... and restart. And after wall 5 ...": the restart is of the wall before."""
        last, before = (self.out[-1], self.out[-2]) if len(self.out) > 1 else (None, None)
        if last is None or before is None or (before.kind, last.kind) != (CHANGE, RESTART):
            return
        if before.walls and not last.told and re.search(r"[.!]\s", self.text[last.end : found.start()]):
            last.walls = before.walls
            further = self._again()
            further.start = further.end = found.start()

    def _end(self, found: re.Match[str]) -> None:
        self._new_sentence(found)
        at = self.at
        if re.search(r"\b(?:each|every)\s*$", found[0], re.IGNORECASE) and not at.told:
            at.every = "all"  # "at the end of each wall"
        if at.ends and re.search(r"\band\s+again\s*$", self.text[: found.start()], re.IGNORECASE):
            return
        if self.out and at.told and (at.placed or at.kind == TAG):
            further = re.match(r"\s*(?:walls?\s*)?", self.text[found.end() :])
            if further is not None:
                at = self._again()
        at.ends = True

    def _every(self, found: re.Match[str]) -> None:
        self.at.every = (found["eo"] or ("odd" if found["eother"] else "all")).lower()

    def _nthfacing(self, found: re.Match[str]) -> None:
        self.at.facing_walls, self.at.nth_facing = facing_told(found, "n"), number_of(found["nf"])
        if found["nends"] is not None:  # "the second time you finish a wall facing 12:00"
            self.at.ends_there = self.at.ends = True

    def _eachfacing(self, found: re.Match[str]) -> None:
        word, ends = found["bfword"], found["ends"] is not None
        told = facing_told(found, "g" if ends else "e") if not word else Facing(0 if word.lower() != "back" else 4)
        if self.at.walls and not word:  # "at the end of the third wall, when you face 3:00"
            self.at.facing = self.at.facing or told
            return
        self.at.facing_walls, self.at.ends_there = told, ends
        self.at.ends = self.at.ends or ends

    def _last(self, found: re.Match[str]) -> None:
        self.at.last_wall = True

    def _after(self, found: re.Match[str]) -> None:
        if found["dr"]:
            self.at.after = int(found["dr"]) - 1
            until = re.match(r"\s*\d{1,2}", self.text[found.end() - 1 :])
            if until is not None and 1 < int(found["dr"]) < int(until[0]) == _EIGHT:  # of the section it stands in
                self.at.within, self.at.here = self.at.after, True
            return
        if found["left"]:
            self.at.left_out = number_of(found["left"])
            return
        number = counts_of(found)
        at = self.at
        if at.kind == TAG and at.long is None and re.search(r"\b(?:these|those)\b", found[0], re.IGNORECASE):
            at.long = number
            return
        if self._more(found, number) or self._of_its_steps(found):
            return
        done = re.match(r"\s*(?:done|danced|in\b|of\b)", self.text[found.end() :])
        behind = self.text[found.end() : found.end() + 1]
        # "Tag (4 cts, end of wall 3)", but not "tag on wall 3 (32 counts, ...)"
        told_of = (
            found[0].startswith("(") and (at.ends or at.here) and at.told
        )  # "... after wall 2: ... hold (4 counts, weight on left)"
        long = (
            behind == ")"
            or (behind == "," and told_of)
            or (behind in (",", ":") and TAG_BEFORE.search(self.text[: found.start()]) is not None)
        )
        if found["ag"] and at.kind == TAG and not done and long:
            at.long = at.long or number
            return
        if at.kind == ENDING and (number <= _LEAST_BEFORE_END or self._long_of_ending(found)):
            return
        if (at.after is None and at.section is None and at.within is None) or (
            found["ai"] and number > (at.after or 0)
        ):
            at.after = number  # "after count 4, i.e. 12 counts in"
        elif (
            at.kind == RESTART
            and at.told
            and self.out
            and at.after is not None
            and number != at.after
            and found["after"].lower().startswith("after")
        ):
            further = self._again()
            further.after = number

    def _more(self, found: re.Match[str], number: int) -> bool:
        """Whether the counts are how long a tag is: "(4 counts more)", "Tag + restart, after count 8: sway R, L (2 counts)", "do (33-40) a second
        time, 8 counts, then continue"."""
        at = self.at
        again = found["ak"] is not None and _THEN_ON.match(self.text, found.end()) is not None
        if (again or _MORE.match(self.text, found.end()) is not None) and at.kind in (TAG, ENDING):
            at.long = at.long or number
            return True
        before = self.out[-2] if len(self.out) > 1 and at.kind == RESTART and found["ag"] else None
        if (
            before is None
            or before.kind != TAG
            or before.long is not None
            or not self.text.startswith(")", found.end())
        ):
            return False
        before.long = number
        return True

    def _of_its_steps(self, found: re.Match[str]) -> bool:
        """ "Sway to the left on count 1 and hold": a count of the tag, whose place is told."""
        on = found[0][:3].lower() == "on " and found["aa"] is not None
        return on and self.at.kind in (TAG, ENDING) and self.at.ends and self.at.told

    def _long_of_ending(self, found: re.Match[str]) -> bool:
        """ "Ending: after the rocking chair stomp R forward, hold 3 (4 counts).": whether the counts are its own."""
        rest = self.text[found.end() :].strip(" ).!*")
        return found["ag"] is not None and not rest and step_run(self.text[self.at.end : found.start()]) != ""

    def _count_in(self, found: re.Match[str]) -> None:
        for n in ("", "2", "3", "4", "5"):
            if found[f"cs{n}"]:
                self.at.section, self.at.within = number_of(found[f"cs{n}"]), number_of(found[f"ca{n}"])

    def _section(self, found: re.Match[str]) -> None:
        if self.at.section is None:
            self.at.section = section_of(found)

    def _here(self, found: re.Match[str]) -> None:
        self.at.here = True
        if found["hw"]:
            self.at.within = int(found["hw"])

    def _facing(self, found: re.Match[str]) -> None:
        before = self.text[: found.start("fh") if found["fh"] else found.start("fword")]
        sure = WALL_BEGINS.search(before) is None and (
            BEGINS_AGAIN.search(before) is not None or WHEN_AGAIN.match(self.text, found.end()) is not None
        )
        if len(self.at.walls) > 1 and _CLOCKS.match(self.text, found.end()) is not None:
            self.mixed = True  # "after walls 1, 3 and 5 (facing 9:00, 3:00 and 9:00)"
        if self.mixed or (self.at.facing is not None and (self.at.sure or not sure)):
            return
        self.at.facing, self.at.sure = facing_told(found, "f"), sure

    def _times(self, found: re.Match[str]) -> None:
        if _STEP_TWICE.search(self.text[: found.start()]) is not None:
            return
        at = self.at
        times = 3 if re.search(r"3|three", found[0]) else 2
        apart = re.search(r"\bonce\b", self.text) or EACH_OWN.search(self.text[: found.end()])
        if self.out and at.kind == TAG and (earlier := at.walls[:-1]) and apart:
            last, at.walls = at.walls[-1:], earlier  # "end of wall 2 once, end of wall 4 twice"
            at = self._again()
            at.walls, at.ends = last, True
        elif not self.out and len(at.walls) > 1 and apart:
            self.twice_on = at.walls[-1:]  # "once after wall 1 and twice after wall 3 add a 4 count tag"
            return
        self.before_walls = self.before_walls or not at.told
        at.times = times

    def _long(self, found: re.Match[str]) -> None:
        self.long = number_of(found["longn"] or found["longx"])

    def _longer(self, found: re.Match[str]) -> None:
        long = number_of(found["lgn"] or found["lgn2"] or found["lgn3"])
        if not self.out and found["lgn3"]:
            self.long = long  # "we fill it with a 4 count tag"
        elif self.at.long is None and self.at.kind in (TAG, ENDING):
            self.at.long = long

    def _first(self, found: re.Match[str]) -> None:
        if self.out and self.at.kind == TAG and self.at.told and self.at.placed:
            self._again()
        if not self.out:
            self.out.append(Mention(TAG, start=found.start(), end=found.end()))
            self.out[-1].take(self.loose)
        self.at.first = number_of(found["firstn"])

    def _none(self, found: re.Match[str]) -> None:
        for word in re.findall(r"tag|restart|bridge|ending", found["none"].lower()):
            self.out.append(Mention(kind_of(word), none=True, start=found.start(), end=found.end()))


_TAKES = {name: getattr(MentionTelling, f"_{name}") for name in OUTER}
