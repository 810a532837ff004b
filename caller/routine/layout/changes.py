"""Step changes told in a sentence: "replace counts 7&8 with walk, walk", "instead of the coaster (7&8), stomp twice"."""

from __future__ import annotations

import re
from collections.abc import Iterator
from dataclasses import replace

from caller.routine.layout.behind import on_counts
from caller.routine.layout.blocks import ReplacedLines
from caller.routine.layout.change_here import at_its_place, section_as
from caller.routine.layout.change_lasts import USUAL_LENGTHS, here_instead, last_counts, then_steps
from caller.routine.layout.change_places import named_section, plain_counts
from caller.routine.layout.change_told import RESTARTS, ChangeTold
from caller.routine.layout.change_ways import (
    COUNTS,
    HOLDS_ON,
    INSTEAD_COUNTED,
    LAST_COUNT_FIRST,
    LEAVES_OUT,
    OF_FIGURE,
    ON_LAST_COUNT,
    SECTION,
    SKIPS_COUNTS,
    TURN_ON,
    WAYS,
)
from caller.routine.layout.clauses import steps_first
from caller.routine.layout.counted import steps_on
from caller.routine.layout.kinds import STEP_WORD
from caller.routine.layout.lines import Line
from caller.routine.layout.mention import CHANGE, RESTART
from caller.routine.layout.numbers import ORDINAL, ROMAN, number_of
from caller.routine.layout.paraphrases import STARTS_OVER, said_plainly

# "up to count 6, but instead of touching left beside right on that count step left beside right"
_ON_THAT_COUNT = re.compile(
    r"\binstead\s+of\s+\w+ing\b[^,;:]*?\bon\s+(?:that|this)\s+count,?\s*(?:you\s+)?(?P<words>[A-Za-z][^.;]*)",
    re.IGNORECASE,
)
# "in place of the cross rock, turn 1/4 left stepping L forward on 7 and touch R beside L on 8"
_IN_PLACE = re.compile(
    r"\b(?:instead|in\s+place)\s+of\s+(?:the\s+)?[^,;:.]{2,40}[,;]\s*(?P<words>[^.]+)", re.IGNORECASE
)
_NOT_AS_BEFORE = re.compile(
    r",?\s*\(?\b(?:instead\s+of|rather\s+than|in\s+place\s+of|without\s+the)\s+[^,;.()]+\)?", re.IGNORECASE
)
_ON_COUNTS = re.compile(rf"\b(?:on|for|at)\s+(?:counts?|beats?|cts?\.?)\s*{COUNTS}{SECTION}\s*,?\s*", re.IGNORECASE)
_OF_FIGURE_ON = re.compile(
    rf"\bon\s+(?:counts?|beats?)\s*{COUNTS}\s+of\s+the\s+(?P<of>(?!{ORDINAL}|section|set|dance|wall|tag)[A-Za-z][\w -]{{2,30}}?)\s*[,:]\s*(?P<words>[A-Za-z][^.;]*)",
    re.IGNORECASE,
)
_NOT_THAT = re.compile(
    r"^\s*(?:don['\u2019]?t|do\s+not|instead\s+of|rather\s+than|not)\s+[^,;:.]*?(?:[,;]\s*|\bbut\s+)(?:instead\s+)?",
    re.IGNORECASE,
)
_WHERE_NOT = re.compile(r"[,\s]*\b(?:where|taking\s+weight\s+where|rather\s+than|instead)\b.*$", re.IGNORECASE)
_SPEAKS = re.compile(
    r"\b(?:don['\u2019]?t|do\s+not|without\s+the|swap|leave\s+out|replac|instead|chang|substitut|modif|(?:for\s+(?:this|these)|dance\s+on)\s+[\"'\u2018\u201c]?\d|(?:s|section|set)\s?\d\s*,?\s+(?:counts?\s+|cts\s+)?\d{1,2}\S*\s+(?:is|are|as|becomes?)\b|becom|\bof\s+(?:section|set|s)\s?\d\s*=)",
    re.IGNORECASE,
)
_SKIP = re.compile(r"\bskip\s+s\s(?P<section>\d{1,2})\b")
_INSTEAD = re.compile(
    r"\b(?:instead\b|in\s+place\s+of\b)(?:[^:.]*:(?!\d)|.*?\b(?:just\s+)?(?:do|dance|take)\b)\s*(?P<words>.+)$",
    re.IGNORECASE,
)
# "Don't do the half turn shuffle: instead step R back on count 19 and step L next to R on count 20."
_INSTEAD_STEPS = re.compile(r"\binstead,?\s+(?:you\s+|we\s+|just\s+)*(?P<words>(?!of\b)[a-z][^.;:]*)", re.IGNORECASE)
# "replace 8& with a touch of R beside L on 8"
_ON_ITS_COUNT = re.compile(r"(?P<words>[A-Za-z][^,;:]*?)\s+on\s+(?:counts?\s+)?(?P<counts>\d{1,2}&?)$", re.IGNORECASE)
_COLUMN = re.compile(r"\s{2,}[1-8](?:[&\s-]*[1-8])*\s?&?$")  # the counts, in a column behind the steps
_STEP = re.compile(r"[A-Za-z]{2}")
_NO_WORDS = re.compile(r"(?:counts?|walls?)\b|(?:with|to|by|for|as\s+follows|the\s+following)\s*:?$", re.IGNORECASE)


def replaced_by(said: ChangeTold) -> Iterator[list[ReplacedLines]]:
    """The steps that a sentence puts in the place of others: each way of taking it, the likeliest first."""
    return (found for way in _READERS for found in way(said) if found)


def _section_left_out(said: ChangeTold) -> Iterator[list[ReplacedLines]]:
    skipped = _SKIP.search(said_plainly(said.text))
    if skipped is None:
        return
    yield said.replaces([said.piece("1-99  left out")], int(skipped["section"]))


def _instead_in_brackets(said: ChangeTold) -> Iterator[list[ReplacedLines]]:
    """ "Leave out the coaster, and instead of it step back on the right (31) and close the left to it (32)"."""
    found = INSTEAD_COUNTED.search(said.text)
    yield said.replaces(steps_on(said.piece(found["words"])), said.mention.section or 0) if found is not None else []


_SENTENCE_END = re.compile(r"[.;](?:\s|$)")
_SENTENCE_ON = re.compile(r"\.\s+(?:That|This|It|Now|Then|You)\b")  # "... step left in place. That is 24 counts."


def _by_its_counts(said: ChangeTold) -> Iterator[list[ReplacedLines]]:
    """ "Replace counts 7&8 with walk, walk"."""
    speaks = said.mention.kind == CHANGE or _SPEAKS.search(said.text) is not None
    for pattern in WAYS if speaks else ():
        found = pattern.search(said.text)
        if found is None or not said.begins <= found.start() <= said.until:
            continue
        words = RESTARTS.sub("", _NOT_AS_BEFORE.sub("", found["words"])).strip(' .;*"\u201c\u201d')
        words = _SENTENCE_ON.split(words)[0]
        words = _COLUMN.sub("", words)
        words = words[:-1] if words.endswith(")") and words.count(")") > words.count("(") else words
        if not words or not _STEP.search(words) or _NO_WORDS.match(words) is not None:
            continue
        groups = found.groupdict()
        section = int(groups.get("section") or groups.get("first") or 0) or named_section(said.text, said.mention)
        behind = _SENTENCE_END.split(said.text[found.start("words") :])[0]
        several = (
            on_counts(said.piece(RESTARTS.sub("", behind)), least=1)
            if found.end("words") < found.start("counts")
            else []
        )
        if len(several) > 1:  # "step left on 7 and hold on 8"
            yield said.replaces(several, section)
        if lines := _counted(said, found["counts"], words):
            yield said.replaces(lines, section)


def _counted(said: ChangeTold, told: str, words: str) -> list[Line]:
    """The steps on their own counts, where they have such, else on those that the sentence tells."""
    own = steps_on(said.piece(words))
    if not own and ": " in words:  # "by two steps: 7 step R forward, 8 step L beside R"
        own = steps_on(said.piece(words.split(": ", 1)[1].strip()))
    if own:
        return own
    if (on := _ON_ITS_COUNT.match(words)) is not None:
        return steps_on(said.piece(f"{on['counts']}  {on['words']}"))
    counts = plain_counts(told, words)
    first = re.match(r"\d+", counts)
    return steps_on(said.piece(f"{counts}  {words}"), int(first[0]) if first is not None else 0)


def _on_that_count(said: ChangeTold) -> Iterator[list[ReplacedLines]]:
    """ "Up to count 6, but instead of touching on that count step left beside right"."""
    last = said.mention.within or said.mention.after
    own = _ON_THAT_COUNT.search(said.text)
    if not last or own is None:
        return
    words = RESTARTS.sub("", own["words"]).strip(" ,.;")
    yield said.replaces(steps_on(said.piece(f"{last}  {words}")), said.mention.section or 0)


def _on_last_count(said: ChangeTold) -> Iterator[list[ReplacedLines]]:
    own = ON_LAST_COUNT.search(said.text)
    if own is not None and said.standing and STEP_WORD.search(own["words"]):
        yield said.replaces(steps_on(said.piece(f"{said.standing}  {own['words']}")), said.mention.section or 0)
    first = LAST_COUNT_FIRST.search(said.text)
    if first is None:
        return
    words = RESTARTS.sub("", _WHERE_NOT.sub("", steps_first(_NOT_THAT.sub("", first["words"])))).strip(" ,.;")
    told = (first["section"] or "").lower()
    nth = number_of(first["nth"]) if first["nth"] else 0
    section = ROMAN.get(told, 0) or int(told or 0) or nth or said.mention.section or 0
    last = said.standing or (0 if section else said.mention.after or 0)
    for count in (last,) if last else USUAL_LENGTHS:
        yield said.replaces(steps_on(said.piece(f"{count}  {words}"), count), section)


def _in_their_place(said: ChangeTold) -> Iterator[list[ReplacedLines]]:
    """ "Instead: 7 step back, 8 touch"; "in place of the cross rock, turn 1/4 left on 7 and touch R beside L on 8"."""
    instead = _INSTEAD.search(said.text)
    counted = steps_on(said.piece(instead["words"])) if instead else []
    if not counted and (in_place := _IN_PLACE.search(said.text)) is not None:
        counted = on_counts(said.piece(in_place["words"]), least=1)
    if not counted and (then := _INSTEAD_STEPS.search(said.text)) is not None:
        counted = on_counts(said.piece(then["words"]), least=1)
    counted = [replace(x, text=RESTARTS.sub("", x.text)) for x in counted]
    yield said.replaces(counted, named_section(said.text, said.mention))


def _counts_left_out(said: ChangeTold) -> Iterator[list[ReplacedLines]]:
    counts = SKIPS_COUNTS.search(said.text)
    if counts is None or STARTS_OVER.search(said.text) is not None:
        return
    yield said.replaces([said.piece(f"{counts['from']}-{counts['to']}  left out")], said.mention.section or 0)


def _figure_left_out(said: ChangeTold) -> Iterator[list[ReplacedLines]]:
    out = LEAVES_OUT.search(said.text)
    if out is None or (said.mention.kind == RESTART and out.start() < said.begins and _TAG.search(said.text)):
        return  # told of the tag, two sentences before
    name = (out["of"] or out["of2"] or out["of3"]).strip()
    yield [ReplacedLines(said.line, "", named_section(said.text, said.mention), [], name, "left out")]


_TAG = re.compile(r"\b(?:tag|bridge|line\s+of|fill)\b", re.IGNORECASE)
_COUNTED_BEHIND = re.compile(r"\(\d[\d&\s,\u2013-]*\)$")  # "... for RF fwd, LF tog (7-8)"


def _of_figure(said: ChangeTold) -> Iterator[list[ReplacedLines]]:
    """What is danced in the place of a figure that is only named."""
    for pattern in OF_FIGURE:
        found = pattern.search(said.text)
        if found is None or not said.begins <= found.start() <= said.until:
            continue
        words = RESTARTS.sub("", found["words"]).strip(' .,;*"\u201c\u201d')
        if STEP_WORD.search(words):
            section = named_section(said.text, said.mention)
            own = steps_on(said.piece(words))
            own = own if len(own) > 1 or _COUNTED_BEHIND.search(words) is not None else []
            yield [ReplacedLines(said.line, "", section, own, found["of"].strip(), words)]


def _on_counts_of_figure(said: ChangeTold) -> Iterator[list[ReplacedLines]]:
    """ "On count 2 of the K-step, step L next to R rather than touching it"."""
    found = _OF_FIGURE_ON.search(said.text)
    if found is None:
        return
    words = RESTARTS.sub("", _WHERE_NOT.sub("", found["words"])).strip(" ,.;")
    lines = steps_on(
        said.piece(f"{plain_counts(found['counts'], words)}  {words}"), int(re.findall(r"\d+", found["counts"])[0])
    )
    yield [ReplacedLines(said.line, "", 0, lines, found["of"].strip())] if lines else []


def _on_counts(said: ChangeTold) -> Iterator[list[ReplacedLines]]:
    """ "On count 5 step L beside R": the steps that stand right behind counts."""
    for found in _ON_COUNTS.finditer(said.text):
        behind = said.text[found.end() :]
        words = RESTARTS.sub("", _WHERE_NOT.sub("", steps_first(_NOT_THAT.sub("", behind)))).strip(" ,.;")
        if not words:
            continue
        counts = plain_counts(found["counts"], words)
        lines = steps_on(said.piece(f"{counts}  {words}"), int(re.findall(r"\d+", counts)[0]))
        section = int(found["section"] or 0) or named_section(said.text, said.mention)
        yield said.replaces([*lines, *_held_after(behind, said)], section)


def _held_after(text: str, said: ChangeTold) -> list[Line]:
    """ "..., and then hold for counts 6, 7 and 8"."""
    held = HOLDS_ON.match(text)
    numbers = re.findall(r"\d+", held["counts"]) if held is not None else []
    return [said.piece(f"{numbers[0]}-{numbers[-1]}  hold")] if len(numbers) > 1 else []


def _turn_changed(said: ChangeTold) -> Iterator[list[ReplacedLines]]:
    found = TURN_ON.search(said.text)
    if found is None:
        return
    section = int(found["section"] or 0) or named_section(said.text, said.mention)
    words = f"{found['what']} {found['words']}"
    yield said.replaces([said.piece(f"{found['counts']}  {words}")], section)


_READERS = (
    _section_left_out,
    _instead_in_brackets,
    _turn_changed,
    _by_its_counts,
    _on_that_count,
    at_its_place,
    section_as,
    last_counts,
    here_instead,
    then_steps,
    _on_last_count,
    _in_their_place,
    _counts_left_out,
    _figure_left_out,
    _of_figure,
    _on_counts_of_figure,
    _on_counts,
)
