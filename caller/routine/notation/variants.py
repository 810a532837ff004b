"""A description with what may be no steps blanked out: a name before a colon or a dash, capitals, brackets.

Conventions: columns stay where they are; each variant has a cost, without unit, by how much it passes over.
"""

from __future__ import annotations

import re
from collections.abc import Iterator

_LABEL, _DASHED, _CAPITALS, _INLINE, _INSIDE = 1.0, 2.0, 2.0, 2.0, 3.0
_ONE_MOVEMENT = 1.5
_STANCE_COST = 2.0
_TURN = re.compile(
    r"\b(?:turn|pivot|[1357]/[248]|half|quarter|full|monterey|unwind|paddle)|[\u00bc-\u00be]", re.IGNORECASE
)
_FEET_ALONE = re.compile(r"[\s.]*(?:(?:right|left|[RL])\b[\s,&.-]*){2,}", re.IGNORECASE)
_FIGURE = re.compile(
    r"\b(?:shuffle|coaster|sailor|triple|mambo|rock|vine|grapevine|weave|box|cha|chass[e\u00e9]|twinkle|lock|turn)\b",
    re.IGNORECASE,
)
_COLON = re.compile(r":(?!\d)")
# "step R forward and across L" is one movement where the counts say so.
_AND_WHERE = re.compile(
    r"\s(?:and|&)(?=\s+(?:slightly\s+)?(?:across|over|forward|fwd|back|behind|out|right|left|in front)\b)",
    re.IGNORECASE,
)
_DASH = re.compile(r"\s[-\u2010-\u2015=]+\s|(?<=[A-Za-z])[\u2013\u2014](?=\s)")
_CAPITALS_FIRST = re.compile(r"^\s*(?=[^a-z]*[A-Z]{3})(?:[A-Z0-9½¼¾&/,+.'-]+\s+)+?(?=[A-Z]?[a-z]+\b)")
_STANCE = re.compile(r"^\s*(?:with\s+)?(?:your\s+)?feet\b[^,;.]*[,;.]", re.IGNORECASE)
_BRACKETS = re.compile(r"[(\[]([^()\[\]]*[A-Za-z]{2}[^()\[\]]*)[)\]]")

# "touch L beside R (clap)": done with the step before it, where the counts leave it none of its own.
_CLAPS = re.compile(
    r"(?<=[A-Za-z])(?<!hold)(?<!hold )(\s*)\(((?:with\s+)?(?:an?\s+)?)"
    r"((?:hand\s+)?(?:clap|snap|click|slap)s?(?:\s+(?:your\s+)?(?:hands|fingers))?)\)",
    re.IGNORECASE,
)


def with_claps(text: str) -> str:
    """The text with what the hands do in brackets told beside the step before it."""
    return _CLAPS.sub(lambda found: f"{found[1]}& {' ' * len(found[2])}{found[3]}", text)


def variants(text: str) -> Iterator[tuple[float, str]]:
    """Each variant with its cost: first the text itself, at none."""
    yield 0.0, text
    if _AND_WHERE.search(text):
        yield _ONE_MOVEMENT, _AND_WHERE.sub(lambda found: " " * len(found.group()), text)
    colon = _COLON.search(text)
    if colon is not None and text[colon.end() :].strip() and _turns_as(text, colon.end()):
        yield _LABEL, _blank(text, 0, colon.end())
    dash = _DASH.search(text)
    if dash is not None:
        if _turns_as(text, dash.end()):
            yield _DASHED, _blank(text, 0, dash.end())
        yield _DASHED, text[: dash.start()]
    stance = _STANCE.match(text)
    if stance is not None and text[stance.end() :].strip():
        yield _STANCE_COST, _blank(text, 0, stance.end())
    capitals = _CAPITALS_FIRST.match(text)
    if capitals is not None:
        yield _CAPITALS, _blank(text, 0, capitals.end())
    brackets = list(_BRACKETS.finditer(text))
    if brackets:
        inline = list(text)
        for found in brackets:
            inline[found.start()] = inline[found.end() - 1] = " "
        yield _INLINE, "".join(inline)
        inside = [" "] * len(text)
        for found in brackets:
            inside[found.start(1) : found.end(1)] = found[1]
        yield _INSIDE, "".join(inside)


def _turns_as(text: str, at: int) -> bool:
    """Whether no turn is lost where only what stands from there on is read, or that is a single movement."""
    if _FEET_ALONE.fullmatch(text, at) is not None and _FIGURE.search(text, 0, at) is not None:
        return False  # "Coaster travelling back: L, R, L"
    return "," not in text[at:] or _TURN.search(text, 0, at) is None or _TURN.search(text, at) is not None


def _blank(text: str, start: int, end: int) -> str:
    return text[:start] + " " * (end - start) + text[end:]
