"""What a teacher always says for a figure: the ``[[say]]`` entries of a vocabulary's text.

Conventions: a figure is named by any of its spellings, one of its ways with the direction before or behind it ("shuffle
over"). What is said for it holds for whatever is the same movements, by whichever name a sheet has it. Words that mean
other movements are refused.
"""

from __future__ import annotations

import re
from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass, replace
from difflib import get_close_matches
from typing import Any

from caller.routine.entries import TEXT, TEXTS, EntryFault, VocabularyTables, fields_of, line_of, listed
from caller.routine.figures import Figure, Move, Verb
from caller.routine.named_figures import OwnWords
from caller.routine.naming import one_word
from caller.routine.step import Foot, Movement

_FIELDS = {"name": TEXT, "words": TEXT, "each": TEXTS}
_SPEAKABLE, _LONGEST = re.compile(r"[^\W\d_]+(?:[ '’-][^\W\d_]+)*"), 40
# What movements are called on the count by where they go; elsewhere one of these would be another step.
_DIRECTIONS = ("forward", "back", "side", "behind", "out", "in")


def read_said(tables: VocabularyTables, text: str, document: Mapping[str, Any]) -> Iterator[tuple[int, str]]:
    """Takes the entries into the tables; yields each fault with its line. The figures have been read."""
    entries = document.get("say", [])
    if not listed(entries, dict):
        yield line_of(text, r"\[say\]|^say\b"), "write [[say]] with two brackets, one for each figure"
        return
    read: list[_SaidOf] = []
    for number, entry in enumerate(entries):
        try:
            read.append(_read(tables, entry))
        except EntryFault as fault:
            heads = [found.start() for found in re.finditer(r"(?m)^[ \t]*\[\[\s*say\s*\]\]", text)]
            line = text.count("\n", 0, heads[number]) + 1 if number < len(heads) else 1
            yield line, f"say {str(entry.get('name', ''))!r}: {fault}"

    for said in sorted(read, key=lambda said: -len(said.ways)):  # what is said of fewer ways goes before
        _take(tables, said)


@dataclass(frozen=True, slots=True)
class _SaidOf:
    """An entry. each: the words on the counts, by way; only: for that one way."""

    figure: Figure
    ways: tuple[str, ...]
    words: str
    each: Mapping[str, tuple[str, ...]]
    only: bool


def _read(tables: VocabularyTables, entry: Mapping[str, Any]) -> _SaidOf:
    fields_of(entry, _FIELDS)
    figure, only = _named(tables, entry["name"])
    ways = (only,) if only is not None else tuple(figure.ways)
    words, each = " ".join(entry.get("words", "").lower().split()), tuple(entry.get("each", ()))
    if not (words or each):
        raise EntryFault("it needs 'words', what is said for it, or 'each', the words on its counts")
    for one in filter(None, (words, *each)):
        if len(one) > _LONGEST or not _SPEAKABLE.fullmatch(one):
            raise EntryFault(f"{one!r} can't be said: letters and single spaces, {_LONGEST} at most")
    if words:
        _means_no_other(tables, figure, ways, words)
    if each and (len(each) != len(figure.each) or not all(each)):
        raise EntryFault(f"'each' must have one word for each of its {len(figure.each)} movements")
    on_counts = {way: _on_count(tables, figure, way, each, only is not None) for way in ways if each}
    return _SaidOf(figure, ways, words, on_counts, only is not None)


def _take(tables: VocabularyTables, said: _SaidOf) -> None:
    for way in said.ways:
        for name, own_way in _same_movements(tables, said.figure, way):
            if said.words:
                like = (said.figure.name, way)
                tables.said[name, own_way] = OwnWords(name, own_way, like, said.words, said.only)
            if on_count := said.each.get(way):
                own = tables.figures[name]
                tables.figures[name] = replace(own, own_each={**own.own_each, own_way: on_count})


def _named(tables: VocabularyTables, text: str) -> tuple[Figure, str | None]:
    """The figure that a text names, and the way, where that is said too."""
    words = _plain(tables, text)
    named = {
        _plain(tables, spelling): tables.figures[name]
        for table, spelling, name in tables.spellings
        if table == "figure"
    }
    wheres = {_plain(tables, spelling): where for table, spelling, where in tables.spellings if table == "where"}
    if words in named:
        return named[words], None
    for n in range(1, len(words)):
        for own, rest in ((words[:n], words[n:]), (words[n:], words[:n])):
            if own in named and wheres.get(rest) in named[own].ways:
                return named[own], wheres[rest]
    known = [" ".join(one) for one in named]
    near = get_close_matches(" ".join(words), known, n=3, cutoff=0.5)
    raise EntryFault("no figure is called so" + (f"; near it: {', '.join(map(repr, near))}" if near else ""))


def _plain(tables: VocabularyTables, text: str) -> tuple[str, ...]:
    return tuple(tables.words.get(word, word) for word in text.lower().split())


def _means_no_other(tables: VocabularyTables, figure: Figure, ways: Sequence[str], words: str) -> None:
    """Whether nobody would dance other steps for those words."""
    try:
        other, way = _named(tables, words)
    except EntryFault:
        return
    theirs = [_shape(moves) for name, moves in other.ways.items() if way in (None, name)]
    if other.name != figure.name and any(_shape(figure.ways[own]) not in theirs for own in ways):
        raise EntryFault(f"{words!r} is another figure, of other steps")


def _same_movements(tables: VocabularyTables, figure: Figure, way: str) -> Iterator[tuple[str, str]]:
    """All names and ways that are danced just so."""
    shape = _shape(figure.ways[way])
    for other in list(tables.figures.values()):
        if other.name == figure.name:
            yield other.name, way
        elif set(other.counts) & set(figure.counts) and other.needs_turn == figure.needs_turn:
            yield from ((other.name, name) for name, moves in other.ways.items() if _shape(moves) == shape)


def _shape(moves: Sequence[Move]) -> list[tuple[str, bool | None, str, int]]:
    return [(move.verb.reads, move.leading, move.where, move.turn) for move in moves]


def _on_count(tables: VocabularyTables, figure: Figure, way: str, each: tuple[str, ...], only: bool) -> tuple[str, ...]:
    """The words on the counts of one way: as told, but that a movement which is another one in that way keeps its own
    word."""
    own, plain = (_movements(figure, name) for name in (way, figure.plain_way))
    alike = [only or one_word(mine) == one_word(told) for mine, told in zip(own, plain, strict=True)]
    found = tuple(word if same else one_word(movement) for word, same, movement in zip(each, alike, own, strict=True))
    for number, (word, same, movement) in enumerate(zip(found, alike, own, strict=True), 1):
        if same and not _may_be(tables, word.lower(), movement):
            raise EntryFault(f"its movement {number} is {one_word(movement)!r}, and {word!r} is another one")
    return found


def _movements(figure: Figure, way: str) -> list[Movement]:
    return [move.told(Foot.RIGHT, 0) for move in figure.ways[way]]


def _may_be(tables: VocabularyTables, word: str, movement: Movement) -> bool:
    """Whether a word on the count is not the name of another movement."""
    plain = tables.words.get(word, word)
    if plain in _DIRECTIONS:
        return plain in movement.where.split() or (plain == "in" and movement.where == "beside")
    verb: Verb | None = tables.verbs.get(plain)
    if verb is None or verb.turns:
        return True
    told = verb.movement(movement.foot, movement.where)
    elsewhere = verb.where and movement.where and verb.where != movement.where
    return told.action == movement.action and not elsewhere
