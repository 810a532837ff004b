"""The steps that an event's own sentence tells, or that nothing is danced in it."""

from __future__ import annotations

import re
from itertools import islice

from caller.routine.layout import kinds
from caller.routine.layout.clauses import step_run
from caller.routine.layout.mention import Mention
from caller.routine.layout.numbers import NUMBER

HOLDS = re.compile(r"(?:hold|wait|pause|freeze)\b", re.IGNORECASE)
# "BRIDGE (4 cts): 1,2,3,4  LF to side, sway R, L, R. Then carry on", "Tag: 1-2 step R, hold; 3-4 step L beside R, hold"
_COUNTED = re.compile(
    r":\s+(?P<words>1\s?[,\u2010-\u2015-]\s?[2-8][\d,&\s\u2010-\u2015-]*\s[A-Za-z](?:[^.;]|;(?=\s+\d))*+)"
)
_MOST_STEPS = 500  # characters of them
_MOST_TRIED = 24  # places at which a sentence's steps may begin
STANDS = re.compile(
    r"\b(?:hold|wait|pause|stay\s+(?:exactly\s+)?where|stand\s+(?:perfectly\s+)?still|freeze|keep\s+(?:(?:your|the|both)\s+feet\s+)?still|do\s+nothing|don['\u2019]?t\s+move)\b",
    re.IGNORECASE,
)


# "four slow sways \u2014 right, left, right, left, one count each"
_LISTED = re.compile(
    rf"\b{NUMBER}\s+(?:(?:slow|big|hip|little)\s+)*(?P<verb>sway|stomp|walk|bump|step)s?\s*[\u2010-\u2015:,(-]+\s*(?P<sides>(?:right|left|[RL])\b(?:[\s,]+(?:and\s+)?(?:right|left|[RL])\b)+)",
    re.IGNORECASE,
)


_EACH_BEAT = re.compile(
    r",\s+(?:one|an?)\s+\w+\s+(?:to|per|on|for)\s+(?:an?|each|every)\s+(?:beat|count)\b", re.IGNORECASE
)
# "Fill them with a sway - step R to right side and sway right, sway left - then pick up the dance"
_NAME_APART = re.compile(
    r"(?<=\bwith )an?\s+\w+\s+[-\u2010-\u2015]\s+(?=step|rock|sway|walk|touch|stomp)", re.IGNORECASE
)
_LEFT_OUT = re.compile(r"\bleave\s+\S{1,12}\s+(?:out|off)\s+and\s+", re.IGNORECASE)  # "leave (v) out and stomp right"
_TO_YOU = re.compile(r"\([^()]*\byou\b[^()]*\)", re.IGNORECASE)  # "(the sailor quarter lands you on 6:00)"
# "then continue with the locks": the dance's own
_GOES_ON_WITH = re.compile(
    r"\b(?:continue|carry\s+on|go\s+on|resume|carries\s+on|goes\s+on)\s+with\b[^.;:)]*", re.IGNORECASE
)


def steps_in(text: str, start: int, until: int) -> str:
    """The steps that a sentence tells between two places, "" where it tells none."""
    text = _NAME_APART.sub(lambda name: " " * len(name[0]), text)
    text = _GOES_ON_WITH.sub(lambda on: on[0][:4].ljust(len(on[0])), text)
    text = _EACH_BEAT.sub(lambda told: " " * len(told[0]), text)
    text = _LEFT_OUT.sub(lambda told: " " * len(told[0]), text)
    text = _TO_YOU.sub(lambda aside: " " * (len(aside[0]) - 1) + ")", text)
    if (listed := _LISTED.search(text, start, until)) is not None:
        return f"{listed['verb']} {listed['sides']}"
    if (counted := _COUNTED.search(text, start, until)) is not None:
        return counted["words"]
    told = (
        kinds.steps_told(text[found.end() : min(until, found.end() + _MOST_STEPS)])
        for found in islice(kinds.TOLD_STEPS.finditer(text, start, until), _MOST_TRIED)
    )
    first = next((words for words in told if words), "")
    run = kinds.without_what_follows(step_run(text[start:until]))
    return run if run and (not first or text.find(run[:12], start) <= text.find(first[:12], start)) else first


def held(text: str, mention: Mention) -> str:
    """What is told where nothing moves: "wait 4 beats", "stay exactly where you are"."""
    own = text[mention.start : mention.end]
    if HOLDS.match(own) is not None:
        return own
    return "hold" if mention.long is not None and STANDS.search(text) is not None else ""


def stands_first(text: str, mention: Mention, words: str) -> bool:
    """Whether the sentence says to stand still before it says anything that looks like steps."""
    stands = STANDS.search(text, mention.start)
    return mention.long is not None and stands is not None and 0 <= stands.start() < text.find(words[:12])
