"""An event's steps told in a sentence without counts: as many counts as they take, and what of an ending is talk."""

from __future__ import annotations

import re
from collections.abc import Callable, Iterator

from caller.routine.layout.happening import Event
from caller.routine.layout.kinds import STEP_WORD
from caller.routine.layout.lines import Line
from caller.routine.layout.numbers import NUMBER, number_of
from caller.routine.notation.passage import ReadPassage

_HELD = re.compile(
    rf"(?:just\s+|simply\s+)?(?:hold|wait|pause)\s+(?:for\s+)?(?P<n>{NUMBER})\s+(?:counts?|beats?)\b(?P<rest>.*)",
    re.IGNORECASE | re.DOTALL,
)
_ASIDE_HELD = re.compile(r"\b(?:weight|feet|foot|side)\b", re.IGNORECASE)
_MOST = 16  # counts that steps without counts may take
_THEN = re.compile(
    r"\b(?:and\s+then|then)\s+(?P<more>(?!stop|finish|end|hold\s+(?:it|that))[a-z][^!]{5,})", re.IGNORECASE
)
_SENTENCE = re.compile(r"[.!]\s+(?=[A-Z])")
_LAST_PIECE = re.compile(r"(?:,\s*(?:and\s+)?|;\s*|\s+and\s+|\s*&\s*|[.!:]\s+)(?P<last>[^,;.!:]*?[.!)\s]*)$")
_LEFT_OPEN = re.compile(r"(?:\s*,|\s+and|\s*&)+\W*$", re.IGNORECASE)  # "stomp R forward and", once the arms are off
_TALK = tuple(
    re.compile(pattern, re.IGNORECASE)
    for pattern in (
        r"(?:^|(?<=[;,(.:]))[^;,().:]*\b(?:brings?|takes?|carr(?:y|ies)|puts?|leaves?)\s+you\b[^;,().]*[;,.)]*",
        r"\b(?:on|with|at)\s+(?:the\s+)?(?:very\s+)?(?:next|last|final|first)\s+(?:count|beat|note|chord)s?(?:\s+of\s+(?:the\s+)?\w+)?",
        r"^\W*(?:and\s+)?(?:then,?\s+)?(?:in\s+place|instead)\s+of\s+[^,;]+,\s*",
        r"\bon\s+(?:count\s+)?[1-9]\b(?!\s*[&\u2013-])",
        r"(?:,\s*|\s+)(?:with\s+)?(?:your\s+|both\s+)?(?:arms?|hands?)\s+\w+(?:\s+(?:out|up|wide|high|open|you\s+please))?",
        r"\s*\b(?:as|while|till|until|when)\s+the\s+\w+.*$",
        r"\s*\band\s+(?:let|reach|bow|wave)\b.*$",
        r"\bmore\s+(?=(?:counts?|beats?)\b)",
        r"^\W*(?:(?:you|then|so|just|simply|and|with|for\s+an\s+ending|finish(?:\s+with)?|close\s+with|one\s+count\s*:)\s+)+",
    )
)


def held_for(event: Event) -> str:
    """The event's words; where nothing moves in it "hold", for as long as they tell."""
    words = event.words
    held = _HELD.fullmatch(words.strip(" .,;"))
    if held is not None and STEP_WORD.search(_ASIDE_HELD.sub("", held["rest"])) is None:  # "hold for 4 counts"
        event.long, words = event.long or number_of(held["n"]), "hold"
    elif words.strip(" .,;").lower() == "hold" and event.block is not None:
        told = _HELD.search(event.block.text)
        event.long = event.long or (number_of(told["n"]) if told is not None else None)
    return words


def on_counts(heading: Line, words: str, long: int | None, read: Callable[[Line], ReadPassage]) -> Line | None:
    """The words on as many counts as they take, or as are told; None where they can't be read."""
    lengths = [long or min(len(re.split(r"[,;]\s|\band\b", words)), _MOST)]
    fits: Line | None = None
    for counts in (*lengths, *range(1, _MOST + 1)):
        counted = Line(heading.number, heading.column, f"{f'1-{counts}' if counts > 1 else '1'}  {words}", False)
        found = read(counted)
        if found.findings or any(s.movement.action == "unread" for s in found.passage.steps):
            continue
        if counts == long or len(found.passage.steps) == counts:
            return counted
        fits = fits or counted
    return fits


def told_last(text: str) -> str:
    """What an ending's sentence tells behind "then": "..., then take a long step forward on left"."""
    found = _THEN.search(text)
    return _SENTENCE.split(found["more"])[0].strip() if found is not None else ""


def plain_ending(words: str) -> str:
    """An ending's steps without what the arms, the music and the walls do: "stomp L fwd on the next count"."""
    for pattern in _TALK:
        words = pattern.sub("", words)
    return _LEFT_OPEN.sub("", words).strip(" ,;.:!")


def without_last(words: str) -> Iterator[tuple[str, str]]:
    """The words without their last piece, without their last two, ... each with the last one taken off."""
    while (last := _LAST_PIECE.search(words)) is not None and words[: last.start()].strip():
        words = words[: last.start()]
        yield words, last["last"].strip(" .!)")
