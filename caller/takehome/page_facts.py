"""What the page to print says of the dance as a whole: its facts, each once, and how far the recordings go."""

from __future__ import annotations

import re
from collections.abc import Iterator, Sequence
from fractions import Fraction

from caller.dance.unroll import unroll, usual_walls
from caller.dance.walls import Dance
from caller.routine.meter import Feel

# What parts the facts of a line.
_PARTS = re.compile(r"\s*[/|,;·•*]\s*|\s+[-–]\s+|(?<!no)\.\s+", re.IGNORECASE)
# How many tags and restarts there are: each has a box of its own.
_EVENTS = re.compile(
    r"(?:\d+|no|one|two|three|four) (?:tag|restart|ending|step change)"
    r"|(?:no\.?|number) of (?:tag|restart|ending|step change)s?\W+\w+"
)
_INTRO = re.compile(r"(\d+)[- ]count intro")
# What stands over the columns of a sheet.
_COLUMNS = re.compile(r"(?:steps?|counts?|beats?|footwork|direction|description|\W)+", re.IGNORECASE)


def facts_of(dance: Dance) -> Iterator[str]:
    """What the head of the sheet says, each once."""
    header = dance.routine.header
    yield f"{header.counts or dance.routine.counts} counts"
    if header.walls:
        yield f"{header.walls} wall{'' if header.walls == 1 else 's'}"
    if header.level:
        yield header.level
    if header.tempo:
        tempo = header.tempo
        yield f"{tempo if tempo.denominator == 1 else float(tempo)} counts a minute"
    yield f"{header.meter}{', swing' if header.feel is Feel.SWING else ''}"
    if header.starts:
        yield f"starts {header.starts.word}"
    if header.intro and not _tells_intro(header.music, header.intro):
        yield f"intro {header.intro} counts"
    if header.music:
        yield header.music
    if header.devised_by:
        yield f"devised by {header.devised_by}"


def length_of(dance: Dance) -> str:
    """How far the recordings go, and why no further."""
    routine, many = dance.routine, len(dance.walls)
    once, walls = routine.header.walls or 4, f"{many} wall{'' if many == 1 else 's'}"
    if dance.ended:
        return f"The recordings have {walls}, {'the whole order once' if routine.order else 'to the ending'}."
    if many != len(unroll(routine).walls):
        return f"The recordings have {walls}, as was asked for."
    why = "each once, and on past the last tag, restart or change" if usual_walls(routine) > once else "each once"
    return f"The recordings have {walls}: {why}. To a song the dance goes on."


def said_already(note: str, facts: Sequence[str], tempo: Fraction | None) -> bool:
    """Whether all that a note says stands among the facts ("32 counts / 4 walls / Beginner"), or over columns."""
    if _COLUMNS.fullmatch(note):
        return True
    there = {said for fact in facts for said in (_plain(fact), *_said(fact))}
    there |= {_plain(f"{float(tempo):g} bpm")} if tempo else set()
    parts = _said(note.strip(" ."))
    return bool(parts) and all(part in there or _EVENTS.fullmatch(part) for part in parts)


def _tells_intro(music: str, intro: object) -> bool:
    return re.search(rf"\b{intro}\b[\s-]+count\S*\s+intro|\bintro\W+{intro}\b", music, re.IGNORECASE) is not None


def _said(line: str) -> list[str]:
    """The facts of a line, as they are compared."""
    return [_INTRO.sub(r"intro \1 count", _plain(part)) for part in _PARTS.split(line) if part]


def _plain(words: str) -> str:
    """As facts are compared: "4 walls" and "4 wall" are one."""
    return " ".join(word.removesuffix("s") for word in words.casefold().removesuffix(" line dance").split())
