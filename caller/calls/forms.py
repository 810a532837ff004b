"""What a group of movements may be called, fullest first, and what each shorter form loses.

Conventions: every form says the first movement, each action and how far it turns; what may go is a foot or a direction
that can only be that one, a recover, the side of a turn, a pause between words. ``lost`` is in per cent of a call's
worth. A form may come in parts, each over before its own movement.
"""

from __future__ import annotations

from collections.abc import Iterable, Iterator
from dataclasses import dataclass
from functools import lru_cache

from caller.calls.at_once import forms_at_once
from caller.calls.called import Called
from caller.calls.in_parts import forms_in_parts
from caller.calls.losses import (
    PAUSE_LETTERS,
)
from caller.calls.plan import Part
from caller.calls.spelling import spoken


@dataclass(frozen=True, slots=True)
class Forms:
    """wordings: fullest first, each said at once; lost: by each. in_parts: the same in parts, with what is lost."""

    wordings: tuple[str, ...]
    lost: tuple[int, ...]
    in_parts: tuple[tuple[tuple[Part, ...], int], ...] = ()


@lru_cache(maxsize=4096)
def forms_of(called: Called) -> Forms:
    found = list(forms_at_once(called))
    best: dict[str, int] = {}
    for words, lost in found:
        said = spoken(words)
        if said and lost < best.get(said, 1000):
            best[said] = lost
    # The best first; where two are as good, the longer; none that is no shorter than a better one.
    order: list[str] = []
    for words in sorted(best, key=lambda words: (best[words], -length_said(words))):
        if not order or length_said(words) < length_said(order[-1]):
            order.append(words)
    parts = tuple(_worth_having(one for one in forms_in_parts(called) if len(one[0]) > 1)) if not called.own else ()
    return Forms(tuple(order), tuple(best[words] for words in order), parts)


def length_said(words: str) -> int:
    """About how long it takes to say, in letters."""
    return len(words) + PAUSE_LETTERS * words.count(",")


def _worth_having(parts: Iterable[tuple[tuple[Part, ...], int]]) -> Iterator[tuple[tuple[Part, ...], int]]:
    """Those, best first, that are said sooner, at the longest of their parts or at all of them, than any better one."""
    kept: list[tuple[int, int]] = []
    for one in sorted(parts, key=lambda one: one[1]):
        lengths = [length_said(part.words) for part in one[0]]
        if not any(longest <= max(lengths) and all_ <= sum(lengths) for longest, all_ in kept):
            kept.append((max(lengths), sum(lengths)))
            yield one
