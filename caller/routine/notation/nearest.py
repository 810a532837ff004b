"""The nearest known words to one that can't be read."""

from __future__ import annotations

from difflib import get_close_matches
from functools import lru_cache

from caller.routine.vocabulary import Vocabulary

_LONGEST = 40  # longer "words" have no neighbours worth the time
_NEAR = 0.72  # how alike, of 1


@lru_cache(maxsize=2048)
def nearest(word: str, vocabulary: Vocabulary, most: int = 3) -> tuple[str, ...]:
    """The known words most like this one, nearest first; none where nothing is near."""
    length = len(word)
    if length > _LONGEST:
        return ()
    # Words of too different a length can't be so alike: the ratio is 2 * matches / (both lengths).
    widest = _NEAR / (2 - _NEAR)
    worth = [known for known in vocabulary.known_words if widest <= length / len(known) <= 1 / widest]
    return tuple(get_close_matches(word.lower(), worth, n=most, cutoff=_NEAR))
