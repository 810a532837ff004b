"""Where a wall starts again that no count is told for: the one place that agrees with all else that is said of it.

"Dance it as far as the touch that closes Section 3, leave the Monterey and the jazz box out, and go straight back to
the top. You will be looking at 3 o'clock." The places that a sentence hints at are weighed by the foot that is free
there and by the facing told; where one alone agrees, it is taken.
"""

from __future__ import annotations

import re
from collections.abc import Iterator, Sequence

from caller.routine.facing import FRONT, Facing
from caller.routine.layout.happening import Event, Happening, facings_told
from caller.routine.layout.numbers import NUMBER, ORDINAL, number_of
from caller.routine.notation.named import figure_named
from caller.routine.notation.sections import Laid
from caller.routine.parts import Restart
from caller.routine.walk import can_move

_LABEL = r"(?:section|sect?\.?|set|block|part|eight|S(?=\s?\d))"
_SECTION = re.compile(rf"\b(?:{_LABEL}\s?(?P<n>{NUMBER})|(?P<nth>{ORDINAL}|last|final)\s+{_LABEL})\b", re.IGNORECASE)
_LETTERED = re.compile(r"\b(?:half|end|rest|start|beginning)\s+of\s+(?P<letter>[A-H])\b")
_COUNT = re.compile(
    r"\b(?:on|to|at|count|beat|counts|beats)\s+(?P<n>\d{1,2})\b(?!\s*(?:o['\u2019]?\s?clock|:|counts))", re.IGNORECASE
)
_BEGINS = re.compile(r"\b(?:begin|start|set)s?\b[^.;:]{0,24}$", re.IGNORECASE)  # where the wall does
_LEAVES_OUT = re.compile(
    r"\b(?:leave|leaving|skip|drop|omit|miss|cut|without)\s+(?:off|out|away)?\s*(?:the\s+|your\s+)?(?P<names>[A-Za-z\u00bc\u00bd][^.;:]{2,60}?)(?=\s*(?:[.,;:()!]|$|\bout\b|\boff\b|\baltogether\b|\band\s+(?:start|begin|go|restart)))",
    re.IGNORECASE,
)
_HALF = re.compile(r"\bhalf\s+(?:of\s+)?(?:the|a)\s+(?:dance|wall)\b", re.IGNORECASE)
_GOES_TO = re.compile(r"\b(?:to|from|with|into)\s+(?:the\s+)?$", re.IGNORECASE)  # "it's back to section 1"
_AND = re.compile(r"\s*(?:,|\band\b|&)\s*(?:the\s+|your\s+)?", re.IGNORECASE)


def likely_place(event: Event, happening: Happening, laid: Laid, restarts: Sequence[Restart]) -> int | None:
    """Counts into the wall after which it starts again; None where no place, or more than one, agrees."""
    text = event.block.text if event.block is not None else ""
    faced = _facings(text) | ({happening.facing} if happening.facing is not None and happening.sure else set())
    turned = _start(laid, happening.wall, restarts)
    for places in (_half(text, laid), _before_left_out(text, laid), _ends_named(text, laid), _counts_named(text, laid)):
        agree = {
            at
            for at in places
            if 0 < at < laid.counts and _free(laid, at) and (not faced or turned + laid.turned(at) in faced)
        }
        if len(agree) == 1:
            return agree.pop()
    return None


def _facings(text: str) -> set[Facing]:
    return {facing for at, facing in facings_told(text) if _BEGINS.search(text[:at]) is None}


def _start(laid: Laid, wall: int, restarts: Sequence[Restart]) -> Facing:
    """Where a wall starts, the walls before it cut as they are."""
    cuts = {cut.wall: cut.after for one in restarts for cut in one.cuts}
    facing = FRONT
    for n in range(1, wall):
        facing = facing + laid.turned(cuts.get(n))
    return facing


def _free(laid: Laid, after: int) -> bool:
    """Whether the dance can be begun there with its first step."""
    first = next((step.movement for section in laid.sections for step in section.passage.steps), None)
    return first is None or can_move(first, laid.weight_at(after))


def _half(text: str, laid: Laid) -> Iterator[int]:
    """ "Only half the dance gets danced"."""
    if _HALF.search(text) is not None and laid.counts % 2 == 0:
        yield laid.counts // 2


def _before_left_out(text: str, laid: Laid) -> Iterator[int]:
    """Before what is left out, where that is all of the rest."""
    for found in _LEAVES_OUT.finditer(text):
        name = _AND.split(found["names"])[0]
        if (section := _SECTION.search(name)) is not None:
            index = _index(section, laid)
            if index is not None:
                yield laid.counts_before(index)
        elif (span := figure_named(laid, name, within=len(laid.sections) - 1) or figure_named(laid, name)) is not None:
            yield laid.counts_before(span.index) + span.first - 1


def _ends_named(text: str, laid: Laid) -> Iterator[int]:
    for found in _SECTION.finditer(text):
        if (index := _index(found, laid)) is not None and _GOES_TO.search(text[: found.start()]) is None:
            yield laid.counts_before(index + 1)
    for found in _LETTERED.finditer(text):
        if (index := ord(found["letter"]) - ord("A")) < len(laid.sections):
            yield laid.counts_before(index + 1)


def _counts_named(text: str, laid: Laid) -> Iterator[int]:
    yield from (int(found["n"]) for found in _COUNT.finditer(text))


def _index(found: re.Match[str], laid: Laid) -> int | None:
    if (found["nth"] or "").lower() in ("last", "final"):
        return len(laid.sections) - 1
    number = number_of(found["n"] or found["nth"])
    return next((n for n, section in enumerate(laid.sections) if section.number == number), None)
