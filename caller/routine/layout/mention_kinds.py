"""What kind of event the words of a sentence are about, one after another, and which of them go on with the one before."""

from __future__ import annotations

import re

from caller.routine.layout.clauses import step_run
from caller.routine.layout.mention import CHANGE, ENDING, RESTART, TAG, Mention
from caller.routine.layout.mention_words import (
    AND_THEN,
    CARRIES_ON,
    HAPPENS_TWICE,
    INSTEAD_OF_GOING_ON,
    NEW_WALL,
    kind_of,
    numbers_in,
    tag_name,
)
from caller.routine.layout.numbers import NUMBER, number_of
from caller.routine.layout.tokens import NAME

_FOR_SO_LONG = re.compile(rf"\bfor\s+{NUMBER}\s+(?:counts|beats)\b", re.IGNORECASE)

_ONCE = re.compile(r"\bonce\b(?!\s+(?:more|again|you|we|the|per))", re.IGNORECASE)
_SAME = re.compile(r"\b(?:same|this|that)\s*$", re.IGNORECASE)
_SAME_TAG = re.compile(r"\bthe\s+same\s+(?:tag|bridge)\s+(?:is\s+)?(?:danced\s+|done\s+)?twice\b", re.IGNORECASE)


_STARTS_THE_DANCE = re.compile(r"(?:start|begin)s?\s+the\s+(?:dance|routine)\b", re.IGNORECASE)


def _tells_steps(text: str) -> bool:
    return step_run(text) != "" or _FOR_SO_LONG.search(text) is not None


class KindTelling:
    """A sentence whose telling words are taken one by one: its events so far, and what is told before any is named."""

    def __init__(self, text: str) -> None:
        self.text = text
        self.out: list[Mention] = []
        self.mixed = False  # walls of one event with a facing each
        self.loose = Mention("")  # what is told before any kind is
        self.long: int | None = None  # "4-count", before the word tag
        self.twice_on: tuple[int, ...] = ()  # of the walls told before their event is, those on which it comes twice
        self.token = self.begun = 0  # where the token stands that is taken, and the one that the last event began with
        self.before_walls = False  # how often it happens is said before the walls are

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
        if self._passing(found, word, before) or self._same_again(kind, word, found):
            if self.long is not None and self.at.kind == kind and self.at.long is None:
                self.at.long, self.long = self.long, None  # "Tag: there is a 4-count tag"
            elif kind == TAG == self.at.kind and self.at.long is None and (put_in := found["kn"]):
                self.at.long = number_of(put_in)  # "TAG: add these 4 beats"
            return
        if word.startswith(("start", "begin", "back", "go ", "from")) and self._goes_on(before, word):
            return
        if self._counts_put_in(found, kind) or self._takes_its_kind(kind, found):
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
        if last is None or not last.assumed or last.kind == kind or kind not in (TAG, RESTART, CHANGE):
            return False
        begins = (
            last.end if kind == CHANGE else max(last.end, self.begun)
        )  # "... counts and restart. On wall 6 replace"
        if re.search(r"[.;!]\s|\)\s*[+&,]", self.text[begins : found.start()].lstrip(" .;!")) is not None:
            return False
        last.kind, last.name, last.assumed, last.end = kind, "", False, found.end()
        last.long, self.long = self.long, None
        return True

    def _passing(self, found: re.Match[str], word: str, before: str) -> bool:
        """ "... to finish with", "instead of going on": a word within a sentence that is of something else."""
        if word.startswith("from") and CARRIES_ON.search(before) is not None:
            return True
        if word.startswith("finish"):
            own = re.search(r"(?:[.:;(\-]\s*|\bto\s+|\bthe\s+|\bbig\s+)$", before, re.IGNORECASE)
            return bool(before.strip()) and own is None
        if word.startswith(("hold", "wait", "pause", "freeze")) and (
            self.out or not (self.loose.told or self.loose.ends)
        ):
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
        last = self.out[-1] if self.out else None
        if last is not None and last.kind == ENDING and "wall" in words and (words[0] in "smt" or not last.told):
            self._put_walls(numbers_in(words)[-1:])
        elif self.out[-1].kind == CHANGE if self.out else words.lower().startswith(("start", "begin")):
            self.out.append(Mention(RESTART, start=found.start(), end=found.end()))
            if len(self.out) == 1 and (self.loose.placed and not self.loose.ends):
                self.out[0].take(self.loose)

    def _goes_on(self, before: str, word: str) -> bool:
        """Whether "start", "begin", "go back" is the dance going on: after a tag or restart, or in a new sentence. After
        steps that change "Start the dance again." says where."""
        if self.out and self.out[-1].kind == CHANGE and self.out[-1].told and _STARTS_THE_DANCE.match(word):
            return False
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
        if kind == last.kind == TAG and last.assumed and _SAME.search(gap) is not None:
            return True  # "At the end of the sixth wall the same tag is danced twice."
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
        self.begun = self.token
        return further

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
        if at.ends_there:  # "each time you come back to the front, that is after walls 4 and 8"
            at.facing_walls, at.ends_there = None, False

    def _put_right(self, mention: Mention) -> None:
        """A length that was taken for a place; a wall's end after which something is danced, and the dance then starts
        again."""
        if (
            mention.kind == RESTART
            and mention.ends
            and mention.told
            and mention.section is None
            and _tells_steps(self.text)
        ):
            mention.kind, mention.long, mention.after = TAG, mention.long or mention.after, None
        if mention.kind == TAG and mention.ends and mention.long is not None and mention.after == mention.long:
            mention.after = None

    def _happens_so_often(self) -> None:
        """ "Happens twice, at the end of walls 2 and 4", "two times: after wall 2 and after wall 4": on each once."""
        twice = HAPPENS_TWICE.search(self.text)
        sure = twice is not None and _ONCE.search(self.text) is None and _SAME_TAG.search(self.text) is None
        named = [*self.out, self.loose]
        for mention in named:
            told = sum(len(other.walls) for other in named if other.kind == mention.kind)
            if sure and mention.ends_there:
                mention.often = mention.times
            if (sure and (told > 1 or mention.ends_there)) or (self.before_walls and told == mention.times):
                mention.times = 1
