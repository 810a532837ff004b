"""The nearest known words to one that can't be read."""

from __future__ import annotations

from difflib import get_close_matches

from caller.routine.vocabulary import Vocabulary

_LONGEST = 40  # longer "words" have no neighbours worth the time


def nearest(word: str, vocabulary: Vocabulary, most: int = 3) -> list[str]:
    if len(word) > _LONGEST:
        return []
    return get_close_matches(word.lower(), vocabulary.known_words, n=most, cutoff=0.72)
