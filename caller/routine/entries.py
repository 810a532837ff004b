"""Entries of a vocabulary's text: verbs, directions and figures, held to the rules that every entry keeps.

Every text is held to the same rules (:data:`_FIGURE_RULES`); a fault names the line, the entry, what is wrong and
what is allowed.
"""

from __future__ import annotations

import re
from collections.abc import Callable, Iterable, Iterator, Mapping
from dataclasses import dataclass, field
from difflib import get_close_matches
from typing import Any

from caller.routine.count import read_counts
from caller.routine.figures import BEARS, Figure, Move, Offsets, Verb
from caller.routine.named_figures import OwnWords
from caller.routine.step import Foot, Weight

TEXT, _FLAG, TEXTS, _NUMBERS, _WAYS = (
    "a text",
    "true or false",
    "a list of texts",
    "a list of numbers",
    "a table of texts",
)
_VERB_FIELDS = {
    **dict.fromkeys(("name", "reads", "bears", "where"), TEXT),
    "also": TEXTS,
    **dict.fromkeys(("free", "footless", "lasting", "folds", "turns", "needs_where"), _FLAG),
}
_FIGURE_FIELDS = {
    **dict.fromkeys(("name", "phrase", "leads", "asks", "or_verb", "variant_of"), TEXT),
    **dict.fromkeys(("also", "counts", "each"), TEXTS),
    **dict.fromkeys(("needs_turn", "recognise", "turns_to_lead", "sure"), _FLAG),
    "turns": _NUMBERS,
    "ways": _WAYS,
}
_TABLES = frozenset(("noise", "words", "where", "verb", "figure", "say"))


@dataclass(slots=True)
class VocabularyTables:
    """What has been read so far, from all texts."""

    noise: set[str] = field(default_factory=set)
    words: dict[str, str] = field(default_factory=dict)
    wheres: set[str] = field(default_factory=set)
    verbs: dict[str, Verb] = field(default_factory=dict)
    figures: dict[str, Figure] = field(default_factory=dict)
    spellings: list[tuple[str, str, str]] = field(default_factory=list)  # table, spelling, name
    said: dict[tuple[str, str], OwnWords] = field(default_factory=dict)  # by figure and way


class EntryFault(Exception):
    """One entry's fault, before its line is known."""


def read_text(tables: VocabularyTables, text: str, document: Mapping[str, Any]) -> Iterator[tuple[int, str]]:
    for table in document:
        if table not in _TABLES:
            yield (
                line_of(text, rf"\[+{re.escape(table)}|^{re.escape(table)}\b"),
                f"{table!r}: {meant(table, _TABLES)}",
            )
    noise = document.get("noise", [])
    if listed(noise, str):
        tables.noise |= {word.lower() for word in noise}
    else:
        yield line_of(text, r"^noise\b"), "'noise' must be a list of words"
    for table in ("words", "where"):
        yield from _read_spellings(tables, text, document, table)
    for table, read in (("verb", _verb_entry), ("figure", _figure_entry)):
        entries = document.get(table, [])
        if not listed(entries, dict):
            yield line_of(text, rf"\[{table}\]"), f"write [[{table}]] with two brackets, one for each entry"
            continue
        for entry in entries:
            try:
                read(tables, entry)
            except EntryFault as fault:
                name = str(entry.get("name", ""))
                yield line_of(text, rf"name\s*=\s*[\"']{re.escape(name)}[\"']"), f"{table} {name!r}: {fault}"


def _read_spellings(
    tables: VocabularyTables, text: str, document: Mapping[str, Any], table: str
) -> Iterator[tuple[int, str]]:
    entries = document.get(table, {})
    if not isinstance(entries, dict):
        yield line_of(text, rf"^{table}\b"), f'write [{table}] as a heading, then lines such as plain = ["other"]'
        return
    for plain, others in entries.items():
        if not listed(others, str):
            yield (
                line_of(text, rf"^\s*[\"']?{re.escape(plain)}\b"),
                f"{table} {plain!r}: give a list of other spellings",
            )
        elif table == "words":
            tables.words |= {other.lower(): plain for other in others}
        else:
            tables.wheres.add(plain)
            tables.spellings += [("where", spelling, plain) for spelling in (plain, *others) if spelling.strip()]


def line_of(text: str, pattern: str) -> int:
    """The line on which an entry stands; TOML's own reader does not say."""
    found = re.search(pattern, text, re.MULTILINE)
    return text.count("\n", 0, found.start()) + 1 if found else 1


def listed(value: object, kind: type) -> bool:
    return isinstance(value, list) and all(isinstance(one, kind) for one in value)


_IS: dict[str, Callable[[Any], bool]] = {
    TEXT: lambda value: isinstance(value, str),
    _FLAG: lambda value: isinstance(value, bool),
    TEXTS: lambda value: listed(value, str),
    _NUMBERS: lambda value: listed(value, int),
    _WAYS: lambda value: isinstance(value, dict) and listed(list(value.values()), str),
}


def meant(word: str, allowed: Iterable[str]) -> str:
    near = get_close_matches(word, sorted(allowed), n=1, cutoff=0.6)
    return f"not known here{f'; did you mean {near[0]!r}' if near else ''} (known: {', '.join(sorted(allowed))})"


def fields_of(entry: Mapping[str, Any], allowed: Mapping[str, str]) -> None:
    for name, value in entry.items():
        if name not in allowed:
            raise EntryFault(f"{name!r} is {meant(name, allowed)}")
        if not _IS[allowed[name]](value):
            raise EntryFault(f"{name!r} must be {allowed[name]}, not {value!r}")
    if not entry.get("name", "").strip():
        raise EntryFault("it needs a name")


def _spell(tables: VocabularyTables, table: str, entry: Mapping[str, Any]) -> None:
    names = (entry["name"], *entry.get("also", ()))
    tables.spellings += [(table, name, entry["name"]) for name in names if name.strip()]


def _verb_entry(tables: VocabularyTables, entry: Mapping[str, Any]) -> None:
    fields_of(entry, _VERB_FIELDS)
    name, bears = entry["name"], entry.get("bears", "")
    if bears not in BEARS:
        raise EntryFault(f"'bears' must be one of {', '.join(BEARS)}, not {bears!r}")
    flags = {field: entry[field] for field, kind in _VERB_FIELDS.items() if kind is _FLAG and field in entry}
    tables.verbs[name] = Verb(name, entry.get("reads", name), bears, entry.get("where", ""), **flags)
    _spell(tables, "verb", entry)


def _figure_entry(tables: VocabularyTables, entry: Mapping[str, Any]) -> None:
    fields_of(entry, _FIGURE_FIELDS)
    if not entry.get("ways"):
        raise EntryFault("it needs at least one way under [figure.ways]")
    figure = Figure(
        name=entry["name"],
        phrase=entry.get("phrase", ""),
        ways={where: _read_way(text, tables) for where, text in entry["ways"].items()},
        counts=tuple(_offsets(pattern) for pattern in entry.get("counts", ())),
        turns=tuple(entry.get("turns", ())),
        each=tuple(entry.get("each", ())),
        by_direction=entry.get("leads") == "direction",
        asks=entry.get("asks", ""),
        needs_turn=entry.get("needs_turn", False),
        recognise=entry.get("recognise", True),
        turns_to_lead=entry.get("turns_to_lead", False),
        or_verb=entry.get("or_verb", ""),
        variant_of=entry.get("variant_of", ""),
        sure=entry.get("sure", False),
    )
    for rule in _FIGURE_RULES:
        rule(figure, tables)
    tables.figures[figure.name] = figure
    _spell(tables, "figure", entry)


def _read_way(text: str, tables: VocabularyTables) -> tuple[Move, ...]:
    moves: list[Move] = []
    for part in text.split(","):
        moves.append(_read_move(part.strip(), tables, moves[-1].leading if moves else None))
    return tuple(moves)


def _read_move(text: str, tables: VocabularyTables, previous: bool | None) -> Move:
    """ "step L beside", "pivot", "step R forward turn 2": the longest verb that the words begin with, and what
    follows."""
    words = text.split()
    names = (" ".join(words[:length]) for length in range(min(3, len(words)), 0, -1))
    verb = next((tables.verbs[name] for name in names if name in tables.verbs), None)
    if verb is None:
        raise EntryFault(f"no verb begins {text!r}")
    rest = words[len(verb.name.split()) :]
    leading = rest.pop(0) == "R" if rest and rest[0] in ("R", "L") else None
    turn = 0
    if len(rest) >= 2 and rest[-2] == "turn":
        turn = _eighths(rest[-1])
        rest = rest[:-2]
    where = " ".join(rest)
    if where and where.removesuffix(" diagonal") not in tables.wheres:
        raise EntryFault(f"{where!r} in {text!r} is no direction")
    if verb.bears == "swap" and leading is None:
        leading = not previous if previous is not None else False
    if leading is None and not verb.footless:
        raise EntryFault(f"which foot does {text!r} move, R or L?")
    return Move(verb, leading, where, turn)


def _eighths(word: str) -> int:
    if not re.fullmatch(r"-?\d{1,2}", word):
        raise EntryFault(f"a turn is a number of eighths, not {word!r}")
    return int(word)


def _offsets(pattern: str) -> Offsets:
    read = read_counts(pattern)
    if read is None:
        raise EntryFault(f"can't read the count pattern {pattern!r}")
    return tuple(beat.at - read.beats[0].at for beat in read.beats)


# -- rules that every figure keeps


def _a_word_each(figure: Figure, tables: VocabularyTables) -> None:
    if any(len(moves) != len(figure.each) for moves in figure.ways.values()):
        raise EntryFault("'each' must have one word for each of its movements")


def _a_count_each(figure: Figure, tables: VocabularyTables) -> None:
    if not figure.counts:
        raise EntryFault("'counts' must have at least one pattern, such as \"1&2\"")
    if any(len(offsets) != len(figure.each) for offsets in figure.counts):
        raise EntryFault("each pattern of 'counts' must have one count for each of its movements")


def _turns_inside(figure: Figure, tables: VocabularyTables) -> None:
    if any(not 1 <= turn <= len(figure.each) for turn in figure.turns):
        raise EntryFault(f"'turns' names movements from 1 to {len(figure.each)}")


def _verb_known(figure: Figure, tables: VocabularyTables) -> None:
    if figure.or_verb and figure.or_verb not in tables.verbs:
        raise EntryFault(f"'or_verb': there is no verb {figure.or_verb!r}")


def _variant_known(figure: Figure, tables: VocabularyTables) -> None:
    if figure.variant_of and figure.variant_of not in tables.figures:
        raise EntryFault(f"'variant_of': there is no figure {figure.variant_of!r} above it")


def _can_be_danced(figure: Figure, tables: VocabularyTables) -> None:
    """Told from the foot that it moves first, no movement asks for a foot that bears the weight."""
    for moves in figure.ways.values():
        first = next((move.leading for move in moves if move.leading is not None), True)
        weight = Weight.LEFT if first or not figure.by_direction else Weight.RIGHT
        for number, move in enumerate(moves, 1):
            movement = move.told(Foot.RIGHT, 0)
            if movement.foot is not None and move.verb.free and not weight.frees(movement.foot):
                raise EntryFault(
                    f"its movement {number} moves the {movement.foot.value} foot, which bears the weight by then"
                )
            weight = movement.weight or weight


_FIGURE_RULES: tuple[Callable[[Figure, VocabularyTables], None], ...] = (
    _a_word_each,
    _a_count_each,
    _turns_inside,
    _verb_known,
    _variant_known,
    _can_be_danced,
)
