"""The nearest known words to one that can't be read."""

from __future__ import annotations

from collections import defaultdict
from difflib import get_close_matches
from functools import lru_cache
from itertools import combinations

from caller.routine.vocabulary import Vocabulary

_LONGEST = 40  # longer "words" have no neighbours worth the time
_NEAR = 0.72  # how alike, of 1
_SHORTEST = 4  # letters of a word that may be misspelt
_TWICE_FROM = 7  # letters from which two slips are one word still
_LONGEST_MISSPELT = 14


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


@lru_cache(maxsize=2048)
def correction(word: str, vocabulary: Vocabulary) -> str:
    """The known word that this one is a slip of: a letter left out, put in, swapped or mistaken, two such in a long
    word. "" where there is none, or two as near."""
    word = word.lower()
    if not _SHORTEST <= len(word) <= _LONGEST_MISSPELT or not word.isalpha():
        return ""
    if word in vocabulary.known_words:  # known, but not where it stands
        return ""
    index = _by_deletion(vocabulary)
    most = 2 if len(word) >= _TWICE_FROM else 1
    found: dict[str, int] = {}
    for slips in range(most + 1):
        for short in _shortened(word, slips):
            for known in index.get(short, ()):
                far = _distance(word, known)
                if far <= most and far < found.get(known, 9):
                    found[known] = far
    if not found:
        return ""
    best = min(found.values())
    nearest_ones = sorted({vocabulary.plain(known) for known, far in found.items() if far == best})
    alike = [known for known in nearest_ones if known[0] == word[0]] or nearest_ones
    return alike[0] if len(alike) == 1 else ""


@lru_cache(maxsize=2)
def _by_deletion(vocabulary: Vocabulary) -> dict[str, tuple[str, ...]]:
    """Known words by what is left of them when one or two letters are taken out."""
    index: dict[str, set[str]] = defaultdict(set)
    for known in vocabulary.known_words:
        if len(known) < _SHORTEST or not known.isalpha():
            continue
        for slips in range((2 if len(known) >= _TWICE_FROM - 1 else 1) + 1):
            for short in _shortened(known, slips):
                index[short].add(known)
    return {short: tuple(sorted(words)) for short, words in index.items()}


def _shortened(word: str, letters: int) -> set[str]:
    if letters == 0:
        return {word}
    return {"".join(c for n, c in enumerate(word) if n not in out) for out in combinations(range(len(word)), letters)}


def _distance(first: str, second: str) -> int:
    """Letters put in, left out, mistaken, or two neighbours swapped (optimal string alignment)."""
    before: list[int] = []
    row = list(range(len(second) + 1))
    for n, a in enumerate(first, 1):
        older, before, row = before, row, [n]
        for m, b in enumerate(second, 1):
            best = min(before[m] + 1, row[m - 1] + 1, before[m - 1] + (a != b))
            if n > 1 and m > 1 and a == second[m - 2] and first[n - 2] == b:
                best = min(best, older[m - 2] + 1)
            row.append(best)
    return row[-1]
