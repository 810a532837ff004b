"""The vocabulary: verbs, directions and figures, read from ``vocabulary.toml`` and from texts of the user's own.

Conventions: words are lower case and in their plain form (:meth:`Vocabulary.plain`); a figure's movements are told
with its leading foot right. Phrases are tuples of plain words; the longest known phrase wins. Every text is held to the
same rules (:mod:`caller.routine.entries`), and all its faults come at once.
"""

from __future__ import annotations

import tomllib
from collections.abc import Mapping, Sequence
from dataclasses import dataclass, field
from functools import cache, cached_property
from importlib.resources import files

from caller.routine.entries import VocabularyTables, read_text
from caller.routine.figures import Figure, Verb
from caller.routine.named_figures import OwnWords
from caller.routine.saying import read_said

__all__ = ["Figure", "Verb", "Vocabulary", "VocabularyError", "read_vocabulary", "shipped", "shipped_text"]

_MOST_TOLD = 6


class VocabularyError(ValueError):
    """Entries that can't be used. faults: one sentence each: line, entry, what is wrong, what is allowed."""

    def __init__(self, faults: Sequence[str]) -> None:
        self.faults = tuple(faults)
        more = len(self.faults) - _MOST_TOLD
        super().__init__("; ".join(self.faults[:_MOST_TOLD]) + (f"; and {more} more" if more > 0 else ""))


@dataclass(slots=True)
class Branch:
    """Where phrases go on. value: what those mean that end here (a str is a direction)."""

    branches: dict[str, Branch] = field(default_factory=dict)
    value: Verb | Figure | str | None = None


@dataclass(frozen=True, eq=False)
class Vocabulary:
    """Known words. Two are the same only where they are one: it is a key of tables made from it."""

    noise: frozenset[str]  # words that change nothing
    words: Mapping[str, str]
    verbs: Mapping[str, Verb]
    figures: Mapping[str, Figure]
    phrases: Mapping[tuple[str, ...], Verb | Figure | str]  # a str is a direction
    own_words: tuple[OwnWords, ...] = ()

    def plain(self, word: str) -> str:
        """The plain form of a word: "fwd" is "forward"."""
        return self.words.get(word, word)

    @cached_property
    def tree(self) -> Branch:
        """The phrases word by word."""
        root = Branch()
        for phrase, value in self.phrases.items():
            branch = root
            for word in phrase:
                branch = branch.branches.setdefault(word, Branch())
            branch.value = value
        return root

    @cached_property
    def variants(self) -> Mapping[str, tuple[tuple[Figure, bool], ...]]:
        """By a figure's name: the others of its name that have another number of movements, and whether they are as
        usual."""
        found: dict[str, list[tuple[Figure, bool]]] = {}
        for figure in self.figures.values():
            if figure.variant_of:
                found.setdefault(figure.variant_of, []).append((figure, figure.sure))
        return {name: tuple(figures) for name, figures in found.items()}

    @cached_property
    def known_words(self) -> tuple[str, ...]:
        told = {word for phrase in self.phrases for word in phrase}
        return tuple(sorted(told | set(self.words) | set(self.words.values()) | self.noise))


def read_vocabulary(texts: Sequence[str]) -> Vocabulary:
    """A vocabulary from TOML texts, later ones adding to and overriding earlier ones. Raises VocabularyError with all
    that is wrong in them."""
    tables = VocabularyTables()
    faults: list[str] = []
    for text in texts:
        try:
            document = tomllib.loads(text)
        except tomllib.TOMLDecodeError as error:
            faults.append(f"this is no TOML that can be read: {error}")
            continue
        told = (*read_text(tables, text, document), *read_said(tables, text, document))
        faults += [f"line {line}: {message}" for line, message in sorted(told)]
    if faults:
        raise VocabularyError(faults)
    return _bound(tables)


def _bound(tables: VocabularyTables) -> Vocabulary:
    """Spellings in their plain words. Where two tables share one, a figure goes before a verb, a verb before a
    direction."""
    named: dict[str, Mapping[str, Verb | Figure | str]] = {
        "where": {where: where for where in tables.wheres},
        "verb": tables.verbs,
        "figure": tables.figures,
    }
    phrases: dict[tuple[str, ...], Verb | Figure | str] = {}
    for wanted in ("where", "verb", "figure"):
        for table, spelling, name in tables.spellings:
            if table == wanted:
                phrases[tuple(tables.words.get(word, word) for word in spelling.lower().split())] = named[table][name]
    own = tuple(one for one in tables.said.values() if one.words)
    return Vocabulary(frozenset(tables.noise), tables.words, tables.verbs, tables.figures, phrases, own)


def shipped_text() -> str:
    return files("caller.routine").joinpath("vocabulary.toml").read_text(encoding="utf-8")


@cache
def shipped() -> Vocabulary:
    """The vocabulary that ships with the caller."""
    return read_vocabulary([shipped_text()])
