"""The words of movements and figures as they are called, from ``words.toml``.

Conventions: words come fullest first; each of a movement's says what is done and where, each of a figure's all that is
danced in it but feet and turns.
"""

from __future__ import annotations

import re
import tomllib
from collections.abc import Mapping
from dataclasses import replace
from functools import cache, lru_cache
from importlib.resources import files
from typing import Any, NamedTuple
from unicodedata import combining, normalize

from caller.routine.facing import Turn
from caller.routine.meter import Meter
from caller.routine.named_figures import FigureCalled, OwnWords
from caller.routine.naming import turn_words
from caller.routine.parts import Routine
from caller.routine.step import Movement
from caller.routine.vocabulary import Figure, shipped

FOOT, TURN = "{foot}", "{turn}"
# Other keys of a figure than its ways.
_RULES = ("own", "meter")
# What a name may hold of its turn; a word without one of these is written short.
_TURNING, _VOWEL = re.compile(r"\bturn(ing|s)?\b ?"), re.compile(r"[aeiouy]", re.IGNORECASE)
_WORD_OR_STROKE, _PARTS = re.compile(r"[^\W\d_]+|/"), re.compile(r"\d+/\d+|[,;:.()/]")
# Movements that are nothing but their turn.
TURNS_ALONE = ("pivot", "turn")


@cache
def _table() -> dict[str, Any]:
    return tomllib.loads(files("caller.calls").joinpath("words.toml").read_text(encoding="utf-8"))


@lru_cache(maxsize=1024)
def movement_words(action: str, where: str) -> tuple[str, ...]:
    """What a movement is called, its turn apart."""
    table = _table()["movement"]
    own = f"{action} {where}".strip()
    plain = "flick" if action == "flick" and not where else own
    if plain in table:
        return tuple(table[plain])
    straight = where.removesuffix(" diagonal")
    if straight != where and f"{action} {straight}" in table:
        return tuple(table[f"{action} {straight}"])
    return (f"{action} {_WHERE.get(where, where)}".strip(),)


_WHERE = {"place": "", "beside": "together", "over": "across"}


def pattern_entries() -> list[dict[str, Any]]:
    """The patterns as they are told."""
    return list(_table()["pattern"])


class TurnWords(NamedTuple):
    """amount: "quarter"; full: "quarter left". Both empty where there is no turn."""

    full: str
    amount: str


@lru_cache(maxsize=64)
def words_of_turn(turn: Turn) -> TurnWords:
    full = turn_words(turn)
    return TurnWords(full, full.rpartition(" ")[0])


def is_turn_alone(movement: Movement) -> bool:
    return movement.action in TURNS_ALONE and bool(movement.turn)


def figure_words(
    figure: FigureCalled, heading: str, meter: Meter, sheet: str = "", own: tuple[OwnWords, ...] = ()
) -> tuple[str, ...]:
    """What a figure is called, "{foot}" where its foot stands if that is said; empty where its movements say more than
    its name. heading: of the section it stands in. sheet: all that the sheet says, as :func:`sheet_words` has it. own:
    what the teacher always says."""
    for said in own:
        if (said.figure, said.way) == (figure.name, figure.way):
            return _teachers_words(said, bool(figure.turn), meter)
    figure = _as_named(figure, sheet)
    known = shipped().figures.get(figure.name)
    named = _own_name(figure, known, heading, sheet) if known else ""
    entry: Mapping[str, Any] = _table()["figure"].get(figure.name, {})
    sheets = figure.named or bool(named)
    if known is None or (not entry and figure.named and _is_proper(known)):
        return tuple(dict.fromkeys(placed_words((named or figure.name,))))
    if not entry or (entry.get("own") and not sheets) or entry.get("meter", meter.counts) != meter.counts:
        return ()
    turned = entry.get(f"{figure.way} turned".strip()) if figure.turn else None
    words = tuple(turned or entry.get(figure.way, ()))
    base = tuple(entry.get(known.plain_way, words))[-1].replace(FOOT, "").strip() if words else ""
    if named not in ("", figure.name) and words and figure.name in words[0] and _holds_some(words, named):
        # A "basic waltz" that the sheet calls a waltz is no "basic".
        words = (words[0].replace(figure.name, named),)
    elif named and base and named not in words[0]:
        own = tuple(dict.fromkeys(one.replace(base, named).replace("step step", "step") for one in words))
        # "grapevine" holds "vine": where time is short that is the same name.
        words = tuple(dict.fromkeys((*own, words[-1]))) if base in named else own
    return placed_words(words)


def _holds_some(words: tuple[str, ...], name: str) -> bool:
    """Whether the fullest holds the name, and a shorter one does not."""
    return name in words[0] and not all(name in one for one in words)


def _teachers_words(said: OwnWords, turned: bool, meter: Meter) -> tuple[str, ...]:
    """The teacher's words in the place of the name, fullest first, in whatever else is said of that way."""
    name, way = said.like
    entry: Mapping[str, Any] = _table()["figure"].get(name, {})
    if entry.get("meter", meter.counts) != meter.counts:
        return ()
    usual = tuple((entry.get(f"{way} turned".strip()) if turned else None) or entry.get(way, ()))
    if said.whole or not usual:
        place = f" {FOOT}" if usual and usual[0].endswith(FOOT) else ""
        where = "" if said.whole else f" {way}".rstrip()
        return placed_words((f"{said.words}{where}{place}",))
    return placed_words(tuple(dict.fromkeys(renamed(one, name, said.words) for one in usual)))


def renamed(words: str, name: str, own: str) -> str:
    """Words with the teacher's own in the place of a figure's name, or of what that is called for short; by themselves
    where it is not among them."""
    for known in (name, *_called_short(name)):
        found, often = re.subn(rf"\b{re.escape(known)}\b", own, words, count=1)
        if often:
            return found
    return f"{own} {FOOT}" if words.endswith(FOOT) else own


def _called_short(name: str) -> tuple[str, ...]:
    """What a figure is called in all its ways, the fullest first."""
    entry, known = _table()["figure"].get(name, {}), shipped().figures.get(name)
    plain = entry.get(known.plain_way, ()) if known else ()
    return tuple(words.replace(FOOT, "").strip() for words in plain if " " not in words.replace(FOOT, "").strip())


def in_own_words(text: str, own: tuple[OwnWords, ...]) -> str:
    """A text with what the teacher always says in the place of each figure that it names."""
    if not own:
        return text
    names, pattern = _own_names(own)
    return pattern.sub(lambda found: names[found[1].lower()], text)


@lru_cache(maxsize=64)
def _own_names(own: tuple[OwnWords, ...]) -> tuple[Mapping[str, str], re.Pattern[str]]:
    """What to say for each name, and what finds them, the longest first."""
    names: dict[str, str] = {}
    for said in own:
        known = shipped().figures.get(said.figure)
        spellings = _spellings(known) if known else (said.figure,)
        if said.like[0] == said.figure and not said.whole:
            names |= dict.fromkeys(spellings, said.words)
        elif known is None or len(known.ways) == 1:
            names |= dict.fromkeys(spellings, _without_foot(said))
        else:
            names |= {f"{said.way} {one}": _without_foot(said) for one in spellings}
    longest = sorted(names, key=len, reverse=True)
    return names, re.compile(rf"\b({'|'.join(map(re.escape, longest))})s?\b", re.IGNORECASE)


def _without_foot(said: OwnWords) -> str:
    words = _teachers_words(said, False, Meter()) or (said.words,)
    return words[0].replace(FOOT, "").strip()


def _as_named(figure: FigureCalled, sheet: str) -> FigureCalled:
    """The figure of the same steps that the sheet has a name for, the one of fewest ways first: a side shuffle that it
    calls a chasse is one."""
    if figure.named:
        return figure
    twin = next((one for one, _ in _twins(figure.name, figure.way) if _usual_name(one, sheet)), None)
    return replace(figure, name=twin.name) if twin is not None else figure


@lru_cache(maxsize=512)
def _twins(name: str, way: str) -> tuple[tuple[Figure, int], ...]:
    """The figures, by number of their ways, whose way of that name is the same movements and that have words here."""
    own = shipped().figures.get(name)
    if own is None or way not in own.ways:
        return ()
    moves = [(move.verb.reads, move.leading, move.where, move.turn) for move in own.ways[way]]
    called = _table()["figure"]
    found = [
        (one, len(one.ways))
        for one in shipped().figures.values()
        if one.name in called
        and way in one.ways
        and set(one.counts) & set(own.counts)
        and one.needs_turn == own.needs_turn
        and [(move.verb.reads, move.leading, move.where, move.turn) for move in one.ways[way]] == moves
    ]
    return tuple(sorted(found, key=lambda pair: pair[1])) if len(found) > 1 else ()


def sheet_words(routine: Routine) -> str:
    """All words of the sheet's headings and step lines, in the vocabulary's plain ones."""
    headings = [section.name for section in routine.sections] + [tag.name for tag in routine.tags]
    lines = [line.text for passage in routine.passages for line in passage.words]
    return " / ".join(_plain_words(text) for text in (*headings, *lines))


@lru_cache(maxsize=1024)
def _plain_words(text: str) -> str:
    """ "shuffle / step": with a stroke where something parts them, so that no name goes over it, without accents."""
    plain = shipped().plain
    bare = "".join(sign for sign in normalize("NFD", text.lower()) if not combining(sign))
    return " ".join(word if word == "/" else plain(word) for word in _WORD_OR_STROKE.findall(_PARTS.sub(" / ", bare)))


def _own_name(figure: FigureCalled, known: Figure, heading: str, sheet: str) -> str:
    """The sheet's own name, that of its section first, without the turn that is told beside it; "" where it has none
    that can be said."""
    named = figure.said or _heading_name(known, heading) or _usual_name(known, sheet)
    if any(len(word) > 1 and not _VOWEL.search(word) for word in named.split()):
        return ""
    if named.endswith("s") and named[:-1] in _spellings(known):
        named = named[:-1]
    plain = _TURNING.sub("", named).strip()
    return plain if figure.turn and plain in _spellings(known) else named


def _is_proper(figure: Figure) -> bool:
    """Whether its name is more than its movements in a row, which say as much one by one."""
    return not figure.phrase and not set(figure.name.split()) <= {word for each in figure.each for word in each.split()}


def placed_words(words: tuple[str, ...]) -> tuple[str, ...]:
    """With the place of the foot, first where they do not tell it."""
    return tuple(one if FOOT in one else f"{FOOT} {one}" for one in words)


def _heading_name(figure: Figure, heading: str) -> str:
    """The spelling of a figure that a section's heading holds, as it writes it; "" where it holds none."""
    words = _plain_words(heading)
    found = [one for one in _spellings(figure) if re.search(rf"\b{one}s?\b", words)]
    return max(found, key=len, default="")


@lru_cache(maxsize=4096)
def _usual_name(figure: Figure, sheet: str) -> str:
    """The spelling of a figure that a sheet has most often, the longest of those; "" where it has none."""
    often: dict[str, int] = {}
    left = f" {sheet} "
    for one in sorted(_spellings(figure), key=len, reverse=True):
        if often_here := left.count(f" {one} "):
            often[one] = often_here
            left = left.replace(f" {one} ", "  ")
    return max(often, key=lambda one: often[one], default="")


@lru_cache(maxsize=512)
def _spellings(figure: Figure) -> tuple[str, ...]:
    known = shipped().phrases.items()
    return tuple(" ".join(phrase) for phrase, meant in known if meant is figure)
