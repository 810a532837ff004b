"""What a sentence says of a tag, a restart, a step change or an ending: which wall, after how many counts, how long.

Authors say it in sentences of their own, so a sentence is not matched as a whole: its telling words are found in order
(the kind, walls, counts, a section, "here", the end of the wall, a facing), and each event takes those that stand
with it. "Restart on wall 3 after 16 counts and wall 6 after 24" are two, and so are "tag after wall 2, restart in wall 5".
"""

from __future__ import annotations

import re

from caller.routine.facing import Facing
from caller.routine.layout.clauses import step_run
from caller.routine.layout.mention import CHANGE, ENDING, RESTART, TAG, Mention
from caller.routine.layout.mention_places import counts_of, section_of, walls_of
from caller.routine.layout.mention_words import (
    AND_THEN,
    ANOTHER_TAG,
    BEGINS_AGAIN,
    CARRIES_ON,
    COUNTS_AT_END,
    HAPPENS_TWICE,
    INSTEAD_OF_GOING_ON,
    NEW_WALL,
    STARTS_OVER,
    TAG_BEFORE,
    TAG_LONG,
    WALL_BEGINS,
    WHEN_AGAIN,
    facing_told,
    kind_of,
    length_told,
    numbers_in,
    plain_places,
    tag_name,
)
from caller.routine.layout.numbers import number_of
from caller.routine.layout.tokens import NAME, OUTER, TOKENS, TRIGGER


_LEAST_BEFORE_END = 3  # counts: fewer in an ending's sentence are those of its own steps
# "on wall 8 we lose the holds: 29 step R forward, 30 pivot 1/4 left": steps on their counts.
_COUNTS_LISTED = re.compile(r":\s*(?P<n>\d{1,2})\s+[a-z]+[^.;:]*,\s*\d{1,2}\s+[a-z]", re.IGNORECASE)
_LEAVES_OUT = re.compile(r"\b(?:leave\s+out|skip|omit|miss\s+out|drop)\s+(?:the|your)\s+[a-z]|\bleave\s+(?:the|your)\s+[a-z][^.,;]{2,30}\s+(?:out|away)\b|\b(?:leave\s+out|skip|omit|miss\s+out|drop)\s+(?:counts?\s+)?\d{1,2}\s*[-\u2013]\s*\d", re.IGNORECASE)


class _Telling:
    """Tokens taken one by one; ``out`` holds the events so far."""

    def __init__(self, text: str) -> None:
        self.text = text
        self.out: list[Mention] = []
        self.mixed = False  # walls of one event with a facing each
        self.loose = Mention("")  # what is told before any kind is
        self.long: int | None = None  # "4-count", before the word tag

    def run(self) -> list[Mention]:
        for found in TOKENS.finditer(self.text):
            where = self.at.after, self.at.section, self.at.within, self.at.here
            _TAKES[next(name for name in OUTER if found[name] is not None)](self, found)
            if where != (self.at.after, self.at.section, self.at.within, self.at.here):
                self.at.place_end = found.end()
        if HAPPENS_TWICE.search(self.text):  # "happens twice, at the end of walls 2 and 4"
            for mention in self.out:
                told = sum(len(other.walls) for other in self.out if other.kind == mention.kind)
                mention.times = 1 if told > 1 else mention.times
        for mention in self.out:
            self._put_right(mention)
        first = {mention.kind: mention for mention in reversed(self.out)}
        for mention in self.out:  # "Tag: after wall 2 there is a 4 count tag"
            first[mention.kind].long = first[mention.kind].long or mention.long
        return [m for m in self.out if m is first[m.kind] or m.none or m.told or m.placed or m.first]

    def _put_right(self, mention: Mention) -> None:
        """A length that was taken for a place; a wall's end after which something is danced, and the dance then starts
        again."""
        if mention.kind == RESTART and mention.ends and mention.told and mention.section is None and step_run(self.text):
            mention.kind, mention.long, mention.after = TAG, mention.long or mention.after, None
        if mention.kind == TAG and mention.ends and mention.long is not None and mention.after == mention.long:
            mention.after = None

    @property
    def at(self) -> Mention:
        return self.out[-1] if self.out else self.loose

    def _kind(self, found: re.Match[str]) -> None:
        if found["nextwall"] is not None:
            self._next_wall(found)
            return
        kind = kind_of(found["kind"])
        word = found["kind"].lower()
        before = self.text[: found.start()]
        if word.startswith("from") and CARRIES_ON.search(before) is not None:
            return
        if self._passing(found, word, before) or self._same_again(kind, word, found):
            if self.long is not None and self.at.kind == kind and self.at.long is None:
                self.at.long, self.long = self.long, None  # "Tag: there is a 4-count tag"
            return
        if word.startswith(("start", "begin", "back", "go ", "from")) and self._goes_on(before):
            return
        if self._counts_put_in(found, kind):
            return
        if self._takes_its_kind(kind, found):
            return
        name = ""
        if kind == TAG and (named := NAME.match(self.text, found.end())):
            name = tag_name(named)
        last = self.out[-1] if self.out else None
        mention = Mention(kind, name, start=found.start(), end=found.end())
        if last is None:
            mention.take(self.loose)
        if self.long is not None:
            mention.long, self.long = self.long, None
        self.out.append(mention)

    def _takes_its_kind(self, kind: str, found: re.Match[str]) -> bool:
        """ "... and restart. And after wall 5 there's a tag": of what kind the further wall's event is."""
        last = self.out[-1] if self.out else None
        if last is None or not last.assumed or last.kind == kind or kind not in (TAG, RESTART):
            return False
        if re.search(r"[.;!]\s", self.text[last.end : found.start()].lstrip(" .;!")) is not None:
            return False
        last.kind, last.name, last.assumed, last.end = kind, "", False, found.end()
        last.long, self.long = self.long, None
        return True

    def _passing(self, found: re.Match[str], word: str, before: str) -> bool:
        """ "... to finish with", "instead of going on": a word within a sentence that is of something else."""
        if word.startswith("finish"):
            own = re.search(r"(?:[.:;(\-]\s*|\bto\s+|\bthe\s+|\bbig\s+)$", before, re.IGNORECASE)
            return bool(before.strip()) and own is None
        if word.startswith(("hold", "wait", "pause")) and (self.out or not (self.loose.told or self.loose.ends)):
            return True
        if self.out and self.out[-1].kind == ENDING and kind_of(word) == CHANGE:
            return True
        return word.startswith("instead") and INSTEAD_OF_GOING_ON.match(self.text, found.start()) is not None

    def _counts_put_in(self, found: re.Match[str], kind: str) -> bool:
        """The length of "we put in four counts"; whether these are counts of the ending."""
        told = found["kn"] or found["kg"] or found["kx"] or found["kh"]
        if told and kind == TAG and self.out and self.out[-1].kind == ENDING:
            return True
        if told:
            self.long = number_of(told)
        return False

    def _next_wall(self, found: re.Match[str]) -> None:
        words = found["nextwall"]
        if self.out and self.out[-1].kind == ENDING and "wall" in words and words[0] in "smt":
            self._put_walls(numbers_in(words)[-1:])
        elif self.out[-1].kind == CHANGE if self.out else words.lower().startswith(("start", "begin")):
            self.out.append(Mention(RESTART, start=found.start(), end=found.end()))
            if len(self.out) == 1 and (self.loose.placed and not self.loose.ends):
                self.out[0].take(self.loose)

    def _goes_on(self, before: str) -> bool:
        """Whether "start", "begin", "go back" is the dance going on: after a tag or restart, or in a new sentence."""
        return bool(self.out) and (self.out[-1].kind in (RESTART, TAG) or re.search(r"[.!]\s*$", before) is not None)

    def _same_again(self, kind: str, word: str, found: re.Match[str]) -> bool:
        """ "Tag: ... dance the tag after wall 2": the same event told on."""
        last = self.out[-1] if self.out else None
        if last is None:
            return False
        earlier = next((m for m in self.out[:-1] if m.kind == kind and kind in (RESTART, ENDING)), None)
        if earlier is not None and (earlier.told or earlier.placed):
            self.out.remove(earlier)
            self.out.append(earlier)
            return True
        gap = self.text[last.end : found.start()]
        if kind == last.kind and not (last.told and last.placed):
            name = NAME.match(self.text, found.end()) if kind == TAG else None
            return name is None or tag_name(name) == last.name or not last.name
        if kind == last.kind == RESTART and AND_THEN.search(gap) and not NEW_WALL.match(self.text, found.end()):
            return True
        if kind == CHANGE and last.kind == CHANGE and len(gap) < 40:
            return True
        if kind == ENDING and any(m.kind == ENDING for m in self.out):
            return True
        if kind == ENDING and word.startswith(("finish", "to end", "end the")) and last.kind in (TAG, RESTART, CHANGE):
            return not re.search(r"[.;]\s*$|^\s*$", gap) and "dance" not in found["kind"].lower()
        return False

    def _again(self) -> Mention:
        """Another wall for the same kind: a further event."""
        last = self.at
        further = Mention(last.kind, last.name, long=last.long, assumed=True, start=last.end, end=last.end)
        self.out.append(further)
        return further

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

    def _put_walls(self, walls: tuple[int, ...]) -> None:
        at = self.at
        if at.told and self.out:
            if set(walls) <= set(at.walls):
                self.mixed = self.mixed or len(walls) < len(at.walls)  # what follows is told of one of them
                return
            if at.placed and not at.here:
                at = self._again()
                at.walls = walls
                return
        if at.walls and at.facing is not None:  # told of one of them
            at.facing, self.mixed = None, True
        at.walls = tuple(dict.fromkeys((*at.walls, *walls)))

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
        if self.out and at.told and (at.placed or at.kind == TAG):
            further = re.match(r"\s*(?:walls?\s*)?", self.text[found.end() :])
            if further is not None:
                at = self._again()
        at.ends = True

    def _every(self, found: re.Match[str]) -> None:
        self.at.every = (found["eo"] or ("odd" if found["eother"] else "all")).lower()

    def _eachfacing(self, found: re.Match[str]) -> None:
        word = found["bfword"]
        if self.at.walls and not word:  # "at the end of the third wall, when you face 3:00"
            self.at.facing = self.at.facing or facing_told(found, "e")
            return
        self.at.facing_walls = Facing(0 if word.lower() != "back" else 4) if word else facing_told(found, "e")

    def _last(self, found: re.Match[str]) -> None:
        self.at.last_wall = True

    def _after(self, found: re.Match[str]) -> None:
        if found["dr"]:
            self.at.after = int(found["dr"]) - 1
            return
        if found["left"]:
            self.at.left_out = number_of(found["left"])
            return
        number = counts_of(found)
        at = self.at
        if at.kind == TAG and at.long is None and re.search(r"\b(?:these|those)\b", found[0], re.IGNORECASE):
            at.long = number
            return
        done = re.match(r"\s*(?:done|danced|in\b|of\b)", self.text[found.end() :])
        behind = self.text[found.end() : found.end() + 1]
        # "Tag (4 cts, end of wall 3)", but not "tag on wall 3 (32 counts, ...)"
        long = behind == ")" or (behind == "," and TAG_BEFORE.search(self.text[: found.start()]) is not None)
        if found["ag"] and at.kind == TAG and not done and long:
            at.long = at.long or number
            return
        if at.kind == ENDING and number <= _LEAST_BEFORE_END:
            return
        if at.after is None and at.section is None and at.within is None:
            at.after = number
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
        if self.mixed or (self.at.facing is not None and (self.at.sure or not sure)):
            return
        self.at.facing, self.at.sure = facing_told(found, "f"), sure

    def _times(self, found: re.Match[str]) -> None:
        at = self.at
        times = 3 if re.search(r"3|three", found[0]) else 2
        if self.out and at.kind == TAG and (earlier := at.walls[:-1]) and re.search(r"\bonce\b", self.text):
            last, at.walls = at.walls[-1:], earlier  # "end of wall 2 once, end of wall 4 twice"
            at = self._again()
            at.walls, at.ends = last, True
        at.times = times

    def _long(self, found: re.Match[str]) -> None:
        self.long = number_of(found["longn"] or found["longx"])

    def _longer(self, found: re.Match[str]) -> None:
        if self.at.long is None and self.at.kind in (TAG, ENDING):
            self.at.long = number_of(found["lgn"] or found["lgn2"] or found["lgn3"])

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


_TAKES = {name: getattr(_Telling, f"_{name}") for name in OUTER}


def _told_without_a_kind(telling: _Telling) -> list[Mention]:
    """A wall on which steps are told on their counts, or left out: they change."""
    loose = telling.loose
    cue = _COUNTS_LISTED.search(telling.text) or _LEAVES_OUT.search(telling.text)
    if telling.out:  # "There's no restart, but on wall 4 we leave the K-step out"
        loose = Mention("", walls=telling.out[-1].walls, after=telling.out[-1].after)
    said = re.sub(r"\bno\s+(?:restarts?|tags?|bridges?)\b", "", telling.text, flags=re.IGNORECASE)
    if not loose.told or cue is None or STARTS_OVER.search(said) is not None:
        return []
    change = Mention(CHANGE, start=cue.start(), end=cue.start())
    change.take(loose)
    change.ends = False
    return [change]


def mentions_in(text: str) -> list[Mention]:
    """The events that ``text`` tells of, in order; none where it has no word for one."""
    plain = plain_places(text)
    if TRIGGER.search(plain) is None:
        return []
    telling = _Telling(plain)
    found = telling.run()
    if all(mention.none for mention in found):
        found += _told_without_a_kind(telling)
    if [m.kind for m in found] == [TAG] and found[0].long is None and found[0].after is None:
        long = TAG_LONG.search(text)
        found[0].long = number_of(long["of"] or long["end"]) if long is not None else None
    tags = [m for m in found if m.kind == TAG]
    if len(tags) == 1 and tags[0].long is None:
        tags[0].long = length_told(text[tags[0].start :] if len(found) > 1 else text)
    return found


def unnamed(text: str) -> Mention | None:
    """What stands before steps and says after which wall they are danced, without a word for it: a tag."""
    telling = _Telling(plain_places(text))
    telling.run()
    loose = telling.loose
    if telling.out or not loose.told or loose.every or loose.facing_walls is not None:
        return None
    loose.kind, loose.ends, loose.end = TAG, True, len(text)
    if (long := COUNTS_AT_END.search(text)) is not None:
        loose.long, loose.after = number_of(long["n"]), None
    return loose
