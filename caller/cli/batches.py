"""In which batches a voice is made ready: what is said first before the rest, so that a class begins soon."""

from __future__ import annotations

from collections.abc import Callable, Iterable
from typing import TYPE_CHECKING

if TYPE_CHECKING:
    from caller.rig.speech.lexicon import SilentLexicon, SpokenLexicon
    from caller.rig.speech.preparing import RenderQueue

BATCH = 40
# Of a telling, so much is made ready before it starts: meanwhile the rest can be, by a voice that takes its time too.
COVER_SECONDS = 3
Phrase = tuple[str, float]


def being_prepared(
    voice: SpokenLexicon | SilentLexicon,
    first: Iterable[Iterable[Phrase]],
    rest: Callable[[], Iterable[Phrase]],
    more_later: bool = False,
) -> RenderQueue:
    """The voice being made ready in the background, batch by batch. first: the batches of what is said first; rest:
    works out all that may be said later, which takes up to a second, and is done when those are ready. more_later: more
    may be asked to be said."""
    from caller.rig.speech.preparing import RenderQueue

    opening = [list(batch) for batch in first]
    return RenderQueue(voice, opening, lambda: in_batches(opening, rest()), more_later)


def in_batches(made: Iterable[Iterable[Phrase]], rest: Iterable[Phrase]) -> list[list[Phrase]]:
    """Phrases in the order in which they are wanted, but for those that are made already: a few seconds' work each, so
    that a class that has begun soon has more of them."""
    done = {phrase for batch in made for phrase in batch}
    left = [phrase for phrase in dict.fromkeys(rest) if phrase not in done]
    return [left[at : at + BATCH] for at in range(0, len(left), BATCH)]


def telling_in_batches(opening: Iterable[Phrase]) -> list[list[Phrase]]:
    """What is told first: as much as covers the rendering of the rest, then the rest, sentence by sentence, as each is
    put in once its batch is ready."""
    from caller.teaching.play import reading_seconds

    first, later = list[Phrase](), list[Phrase]()
    for phrase in dict.fromkeys(opening):
        covered = sum(reading_seconds(words) for words, _ in first) >= COVER_SECONDS
        (later if covered else first).append(phrase)
    return [first, *([phrase] for phrase in later)]
