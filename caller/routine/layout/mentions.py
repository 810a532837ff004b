"""What a sentence says of a tag, a restart, a step change or an ending: which wall, after how many counts, how long.

Authors say it in sentences of their own, so a sentence is not matched as a whole: its telling words are found in order
(the kind, walls, counts, a section, "here", the end of the wall, a facing), and each event takes those that stand
with it. "Restart on wall 3 after 16 counts and wall 6 after 24" are two, and so are "tag after wall 2, restart in wall 5".
"""

from __future__ import annotations

import re

from caller.routine.layout.clauses import step_run
from caller.routine.layout.mention import CHANGE, TAG, Mention
from caller.routine.layout.mention_telling import MentionTelling
from caller.routine.layout.mention_words import (
    COUNTS_AT_END,
    TAG_LONG,
    length_told,
    plain_places,
)
from caller.routine.layout.numbers import NUMBER, number_of
from caller.routine.layout.paraphrases import STARTS_OVER
from caller.routine.layout.tokens import TRIGGER

# "on wall 8 we lose the holds: 29 step R forward, 30 pivot 1/4 left": steps on their counts.
_COUNTS_LISTED = re.compile(r":\s*(?P<n>\d{1,2})\s+[a-z]+[^.;:]*,\s*\d{1,2}\s+[a-z]", re.IGNORECASE)
_LEAVES_OUT = re.compile(
    r"\b(?:leave\s+out|skip|omit|miss\s+out|drop)\s+(?:the|your)\s+[a-z]|\bleave\s+(?:the|your)\s+[a-z][^.,;]{2,30}\s+(?:out|away)\b|\b(?:leave\s+out|skip|omit|miss\s+out|drop)\s+(?:counts?\s+)?\d{1,2}\s*[-\u2013]\s*\d",
    re.IGNORECASE,
)


def _told_without_a_kind(telling: MentionTelling) -> list[Mention]:
    """A wall on which steps are told on their counts, or left out: they change."""
    loose = telling.loose
    cue = _COUNTS_LISTED.search(telling.text) or _LEAVES_OUT.search(telling.text)
    if (
        cue is None
        and not telling.out
        and not loose.ends
        and (step_run(telling.text) or telling.text.rstrip().endswith(":"))
    ):
        cue = _OF_ITS_COUNTS.search(telling.text)
    if telling.out:  # "There's no restart, but on wall 4 we leave the K-step out"
        loose = Mention("", walls=telling.out[-1].walls, after=telling.out[-1].after)
    said = re.sub(r"\bno\s+(?:restarts?|tags?|bridges?)\b", "", telling.text, flags=re.IGNORECASE)
    if not loose.told or cue is None or STARTS_OVER.search(said) is not None:
        return []
    change = Mention(CHANGE, start=cue.start(), end=cue.start())
    change.take(loose)
    change.ends = False
    return [change]


# "On wall 3, counts 7-8 of section 2 become ...", "... on counts 7-8 ... instead": no word for a change, but counts of it.
_OF_ITS_COUNTS = re.compile(
    r"\bcounts?\s+\d{1,2}(?:\s?(?:[-\u2013&,]|and|to)\s?\d{0,2})*\s+(?:(?:of|in)\s+(?:section|set|sec\.?|s)\s?\d|\S.*\binstead\b|become|are\b)"
    # "On wall 4 dance the first 22 counts as always. Then no triple step, but:", and the steps below
    r"|\b\d{1,2}\s+counts\b.*\b(?:then|but)\s*(?:dance\s*|do\s*)?:\s*$"
    r"|\b(?:section|set|sect?\.?|s)\s?\d\s*,?\s+counts?\s+\d|\bvariation\b.*\bcounts?\s+\d"
    r"|\binstead\s*,?\s+on\s+(?:counts?\s+)?\d",
    re.IGNORECASE,
)
_LONG_IN_BRACKETS = re.compile(r"\(\s*(?P<n>\d{1,2})\s*(?:counts?|beats?|cts?\.?)\s*\)")
# "TAG - 8 counts - danced after wall 2 and after wall 4"
_LONG_FIRST = re.compile(
    rf"\W*(?:tag|bridge)\s*(?:\d\s*)?[\u2010-\u2015:,(-]+\s*(?P<n>{NUMBER})[\s-]*(?:counts?|beats?|cts?)\b",
    re.IGNORECASE,
)
_THAT_IS_ALL = re.compile(
    rf"\b(?:that|which|this)(?:['\u2019]s|\s+is|\s+makes)\s+(?:all\s+)?{NUMBER}\s+(?:counts?|beats?)\b", re.I
)
_OWN_WALL = re.compile(r"\bwall\s+(\d{1,2})\b", re.IGNORECASE)
_MOST_TOLD = 1200  # characters; the longest paragraph that the strangers' sheets have is under 500


def mentions_in(text: str) -> list[Mention]:
    """The events that ``text`` tells of, in order; none where it has no word for one. Far on in a text that is longer
    than any author's paragraph nothing is looked for."""
    text = text[:_MOST_TOLD]
    plain = plain_places(text)
    if TRIGGER.search(plain) is None and _OF_ITS_COUNTS.search(plain) is None:
        return []
    telling = MentionTelling(plain)
    found = telling.run()
    if all(mention.none for mention in found):
        found += _told_without_a_kind(telling)
    if [m.kind for m in found] == [TAG] and found[0].long is None and found[0].after is None:
        long = TAG_LONG.search(text)
        found[0].long = number_of(long["of"] or long["end"]) if long is not None else None
    for change in (m for m in found if m.kind == CHANGE and not m.walls and len(found) > 1):
        _take_own_wall(change, found, plain)
    tags = [m for m in found if m.kind == TAG]
    if tags and tags[0].long is None and all(m.assumed for m in tags[1:]) and (long := _LONG_FIRST.match(text)):
        tags[0].long = number_of(long["n"])
    if len(tags) == 1 and tags[0].long is None and tags[0].ends and _THAT_IS_ALL.search(text) is not None:
        tags[0].long, tags[0].after = tags[0].after, None  # "sway right, left. That's two counts", of a wall's end
    if len(tags) == 1 and tags[0].long is None:
        tags[0].long = length_told(text[tags[0].start :] if len(found) > 1 else text)
    return found


def _take_own_wall(change: Mention, found: list[Mention], text: str) -> None:
    """ "On wall 3 ... restart. On wall 6 you dance only 12 counts: instead of the shuffle ...": the wall that its own
    sentence names, where another event of the text is of that wall."""
    sentence = text[text.rfind(". ", 0, change.start) + 1 : change.start]
    named = _OWN_WALL.findall(sentence)
    others = [m for m in found if m is not change and m.walls]
    if len(named) == 1 and len(others) > 1 and any(m.walls == (int(named[0]),) for m in others):
        change.walls = (int(named[0]),)


def unnamed(text: str) -> Mention | None:
    """What stands before steps and says after which wall they are danced, without a word for it: a tag."""
    telling = MentionTelling(plain_places(text))
    telling.run()
    loose = telling.loose
    if telling.out or not loose.told or loose.every or (loose.facing_walls is not None and not loose.walls):
        return None
    loose.kind, loose.ends, loose.end = TAG, True, len(text)
    if (long := _LONG_IN_BRACKETS.search(text)) is not None and loose.after == number_of(long["n"]):
        loose.long, loose.after = loose.after, None  # "march a box (4 counts)"
    if (long := COUNTS_AT_END.search(text)) is not None:
        loose.long, loose.after = number_of(long["n"]), None
    return loose
