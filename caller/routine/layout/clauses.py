"""The steps in a sentence of talk: the clauses that tell what the feet do, one after another.

A sentence about an event tells where it is, what is danced, and how it goes on, in any order; its clauses that begin
with a step, but for words of going on ("and then just"), are what is danced.
"""

from __future__ import annotations

import re
from collections.abc import Iterator

_SEPARATOR = re.compile(
    r"[.;:!=](?=\s|$)|,\s+(?:and\s+)?(?:then\s+)?|\s+and\s+then\s+|\s+then\s+|\s+(?:and|&)\s+(?=(?:start|begin|re-?start|carry|continue|go\s+on|off)\b)|\s[\u2013\u2014-]+\s+|\s*->\s*|\s*[()]\s*",
    re.IGNORECASE,
)
_STEP = (
    r"(?:(?:hip|slow|big|long|small|two|four|three|one|\d\s*x|\d|single|double|side|forward|back|fwd|cross(?:ing)?|right|left|[RL]F?|quick|gentle|little|nice)[\s-]+)*"
    r"(?:step|stomp|stamp|sway|rock|walk|cross|touch|tap|kick|point|heel|toe|dig|bump|hip|clap|hold|wait|pause|freeze|scuff|brush|hitch|hook|flick|jazz\s+box|v[\s-]step|k[\s-]step|box|vine"
    r"|grapevine|shuffle|chass[e\u00e9]|triple|coaster|sailor|mambo|pivot|turn|unwind|monterey|paddle|rocking|march|slide|drag|close|together|run|skate|lunge|press|charleston|rumba|basic|balance|twinkle|tog|rec"
    r"|waltz|swivel|twist|roll|jump|hop|lock|out|in\b|bounce|drop|strut|back|forward|fwd|side|recover|replace(?=\s+(?:[RL]|right|left|weight))|\u00bd|\u00bc|1/[248]|half|quarter|full)"
)
_BEGINS = re.compile(
    rf"^\W*(?:after\s+the\s+(?:whole|full)\s+wall\s+)?(?:(?:stand|stay)\s+(?:still|(?:right\s+)?where\s+you\s+are|on\s+the\s+spot)\s+and\s+)?(?:(?:and|then|just|simply|you|we|do|dance|add|make|with|by|an?|the|finish(?:ing)?|so|now|quickly|slowly|here|only|after\s+(?:that|which)|it['\u2019]s|extra|please|hip|your|of)\s+)*(?:(?:after|for)\s+\w+\s+(?:counts?|beats?),?\s+)?(?P<step>(?:[RL]F?\b\s+|right\b\s+|left\b\s+)?{_STEP}|(?:[RL]F?|right|left)\s+(?:to|across|over|behind|beside|next|(?:foot\s+)?home))(?:s|es|ed|ing)?\b",
    re.IGNORECASE,
)
# "fill them with sways - right, left": the talk before it is no matter.
_AFTER_TRIGGER = re.compile(
    rf"\b(?:with|add|adding|do|dance|just|by|for|put\s+in|give\s+(?:us|me)|change\s+to|changed\s+to)\s+(?:(?:an?|the|in)\s+)?(?P<step>(?:[RL]F?\b\s+|right\b\s+|left\b\s+)?{_STEP})(?:s|es|ed|ing)?\b(?!\s+(?:counts?|beats?))",
    re.IGNORECASE,
)
_FOOT_ALONE = re.compile(
    r"^\W*(?:and\s+)?(?:(?:left|right|[RL]F?)(?:(?:\s+|\s*(?:and|&)\s*)(?:left|right|[RL]F?))*|again|twice|hold)(?:\s+(?:for|over|in)\s+\w+\s+(?:extra\s+|more\s+|slow\s+)?(?:counts?|beats?))?\W*$",
    re.IGNORECASE,
)
# "stomp R forward to face the front": where the step leads, no talk of the dance.
_TO_FACE = re.compile(
    r"(?:,?\s+facing\s+(?:the\s+front|12(?::00|\s?o['\u2019]?clock))|\s+to\s+(?:face|end\s+(?:up\s+)?(?:facing|at)|finish\s+(?:facing|at|to)|be\s+(?:facing|at))\s+(?:the\s+)?(?:front|back|home|starting))(?:\s+wall)?(?=\s*[.,;!)]|\s*$)",
    re.IGNORECASE,
)
_SHORT_ASIDE = 30  # characters of "(weight on left)", among steps
_MOST_BEFORE = 16  # characters of "you just", before the first step
_FOOT_THEN = re.compile(
    r"^\W*(?:and\s+)?(?P<foot>left|right|[RL]F?)\b(?=\s+(?:after|at|on|during|in|then|before|and|when|once)\b)",
    re.IGNORECASE,
)
_COUNTS = re.compile(r"[\s\d&,\u2010-\u2015-]+")
_TALK = re.compile(
    r"\b(?:walls?|restart|re-start|begins?|starts?|music|song|facing|front|tag|bridge|usual|normal|continue|carry|before|go\s+again|you\s+(?:are|will|now|face)|you['\u2019]re\s+(?:at|facing|looking|back|on|now|in)|again\s+from|dance\s+(?:to|as|until|up|on)|section|counts?\s+\d)\b",
    re.IGNORECASE,
)


def _clauses(text: str) -> Iterator[tuple[int, int]]:
    start = 0
    for mark in _SEPARATOR.finditer(text):
        yield start, mark.start()
        start = mark.end()
    yield start, len(text)


def steps_first(text: str) -> str:
    """The steps that the text begins with, "" where it begins with something else."""
    run = step_run(text, longest=False)
    return run if run and text.find(run[:8]) <= _MOST_BEFORE else ""


def _of_steps(found: re.Match[str] | None) -> bool:
    return found is not None and _TALK.search(found.string, found.start("step")) is None


def step_run(text: str, *, longest: bool = True) -> str:
    """The longest run of clauses that tell steps (or the first), "" where none does."""
    whole, text = text, _TO_FACE.sub(lambda told: " " * len(told[0]), text)
    runs: list[tuple[int, int, int]] = []  # how many clauses, from, to
    going = False
    for start, end in _clauses(text):
        clause = text[start:end]
        begins = next(
            (found for found in (_BEGINS.match(clause), _AFTER_TRIGGER.search(clause)) if _of_steps(found)), None
        )
        if not clause.strip() or _COUNTS.fullmatch(clause) is not None:
            if going:
                runs[-1] = runs[-1][0], runs[-1][1], end
            continue
        alone = going and _FOOT_ALONE.match(clause) is not None
        if begins is None and not alone:
            last_foot = _FOOT_THEN.match(clause) if going else None
            if last_foot is not None:
                runs[-1] = runs[-1][0] + 1, runs[-1][1], start + last_foot.end("foot")
            aside = text[:start].rstrip()[-1:] == "(" and end - start <= _SHORT_ASIDE
            going = going and aside
            continue
        first = start + begins.start("step") if begins is not None else start
        if going:
            count, begun, _ = runs[-1]
            runs[-1] = count + 1, begun, end
        else:
            runs.append((1, first, end))
        going = True
    if not runs:
        return ""
    _, first, last = max(runs, key=lambda run: (run[0], -run[1])) if longest else runs[0]
    return _balanced(whole[first:last].strip(" ,;.-"))


def _balanced(words: str) -> str:
    """Without a bracket that is not closed or not opened."""
    if words.count("(") > words.count(")"):
        words = f"{words})" if words.rfind("(") > words.rfind(")") else words
    return words.rstrip(")") if words.count(")") > words.count("(") else words
