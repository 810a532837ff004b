"""Other shapes of what a description plainly tells: some of it taken as the name, the number or the foot of the rest.

Conventions: each shape has a cost, without unit, by how far it goes from the words.
"""

from __future__ import annotations

import re
from collections.abc import Iterator, Sequence
from dataclasses import replace
from functools import lru_cache

from caller.routine.figures import Figure
from caller.routine.notation.spec import Reading, Spec
from caller.routine.vocabulary import Vocabulary

_LABEL, _EXPLAINED, _GROUP, _LONG, _BALL, _PARTED, _ENDING = 1.0, 1.5, 1.5, 2.0, 1.5, 2.5, 0.6
_AND_LAST = re.compile(r"(?:&|\band|\+)\s*[.,;]?\s*$", re.IGNORECASE)
_AND_FIRST = re.compile(r"\s*(?:&|and\b|\+)", re.IGNORECASE)
_BIG = re.compile(r"\b(?:big|long|large|slow|slowly|huge|giant)\b", re.IGNORECASE)
_BIG_STEPS = frozenset(("step", "slide", "cross", "walk", "lunge", "press"))


def shapes(reading: Reading, text: str, vocabulary: Vocabulary) -> Iterator[tuple[float, list[Spec]]]:
    """The ways to take the specifications of a reading (one at least) otherwise, with what each costs."""
    specs = reading.specs
    if reading.labelled and not _says_more(specs[: reading.labelled], specs[reading.labelled :]):
        yield _LABEL, specs[reading.labelled :]
    for explained in _explained(specs):
        yield _EXPLAINED, explained
    last = specs[-1]
    if last.times > 1 and len(specs) > 1 and len(specs) * last.times <= 32:
        once = [*specs[:-1], replace(last, times=1)]
        yield _GROUP, once * last.times
    if _BIG.search(text):
        yield _LONG, [replace(s, held=True) if s.verb is not None and s.verb.name in _BIG_STEPS else s for s in specs]
    for balls in _with_balls(specs, text, vocabulary):
        yield _BALL, balls
    for n, spec in enumerate(specs[1:9], 1):
        figure = specs[n - 1].figure
        if figure is not None and spec.verb is not None and (cut := _cut(figure)) is not None:
            yield (
                _ENDING,
                [*specs[: n - 1], replace(specs[n - 1], figure=cut), replace(spec, beside=False), *specs[n + 1 :]],
            )
    if (parted := _parted(specs, vocabulary)) is not None:
        yield _PARTED, parted


def _says_more(label: Sequence[Spec], rest: Sequence[Spec]) -> bool:
    """Whether the words before a colon tell what the feet do, and those behind it which: "Full turn left: L, R, L"."""
    turns = any(spec.turn is not None for spec in label) and all(spec.turn is None for spec in rest)
    bare = all(s.figure is None and not s.wheres and s.verb is not None and s.verb.name == "step" for s in rest)
    return len(rest) > 1 and bare and (turns or any(spec.figure is not None for spec in label))


def _explained(specs: Sequence[Spec]) -> Iterator[list[Spec]]:
    """A figure's name with the steps that it is made of, or with its feet alone; no turn of it is lost."""
    for n, spec in enumerate(specs[:8]):
        others = [*specs[:n], *specs[n + 1 :]]
        if spec.figure is None or len(others) < len(spec.figure.each):
            continue
        if (footed := _with_its_feet(spec, specs[n + 1 :])) is not None:
            yield [*specs[:n], footed, *specs[n + 1 + len(spec.figure.each) :]]
        elif spec.turn is None or any(other.turn is not None for other in others):
            yield others


def _with_its_feet(spec: Spec, following: Sequence[Spec]) -> Spec | None:
    """ "Shuffle half turn over the left shoulder, R-L-R": the feet behind a figure are those it is danced with."""
    assert spec.figure is not None
    own = following[: len(spec.figure.each)]
    bare = all(s.verb is not None and s.verb.name == "step" and len(s.feet) == 1 and not s.wheres for s in own)
    if spec.feet or not bare or any(s.turn is not None or s.beside for s in own):
        return None
    return replace(spec, feet=[s.feet[0] for s in own], stated=[*spec.stated, *(x for s in own for x in s.stated)])


@lru_cache(maxsize=64)
def _cut(figure: Figure) -> Figure | None:
    """ "jazz box, touch": the figure without the close that it ends with, None where it ends otherwise."""
    moves = figure.ways[figure.plain_way]
    if len(moves) < 3 or moves[-1].where != "beside" or moves[-1].verb.bears != "foot":
        return None
    ways = {way: told[:-1] for way, told in figure.ways.items()}
    turns = tuple(turn for turn in figure.turns if turn < len(moves))
    return replace(
        figure, name=f"{figure.name}, cut", ways=ways, turns=turns, each=figure.each[:-1], counts=(), or_verb=""
    )


def _with_balls(specs: Sequence[Spec], text: str, vocabulary: Vocabulary) -> Iterator[list[Spec]]:
    """ "heel & heel &": the "&" is the foot coming home."""
    inner = _inner_balls(specs, vocabulary)
    ball = vocabulary.verbs["ball"]
    trailing = [Spec(specs[-1].column, verb=ball)] if _AND_LAST.search(text) else []
    leading = [Spec(specs[0].column, verb=ball)] if _AND_FIRST.match(text) else []
    if len(inner) > len(specs):
        yield inner
    if trailing:
        yield [*inner, *trailing]
    if leading:
        yield [*leading, *inner]
        yield [*leading, *specs]


def _inner_balls(specs: Sequence[Spec], vocabulary: Vocabulary) -> list[Spec]:
    shaped: list[Spec] = []
    for n, spec in enumerate(specs):
        before = specs[n - 1].verb if n else None
        if spec.joined and before is not None and before.bears == "none" and not before.footless:
            shaped.append(Spec(spec.column, verb=vocabulary.verbs["ball"], feet=list(specs[n - 1].feet[:1])))
        elif spec.joined and before is not None and before.name in ("rock", "lunge", "press"):
            shaped.append(Spec(spec.column, verb=vocabulary.verbs["recover"]))
        shaped.append(spec)
    return shaped


def _parted(specs: Sequence[Spec], vocabulary: Vocabulary) -> list[Spec] | None:
    """ "step together" on two counts."""
    shaped: list[Spec] = []
    for spec in specs:
        wheres = list(spec.wheres)
        if (
            spec.verb is not None
            and spec.verb.name in ("step", "walk")
            and wheres[-1:] == ["beside"]
            and spec.past is None
        ):
            shaped.append(replace(spec, wheres=wheres[:-1], stated=[]))
            shaped.append(Spec(spec.column, verb=vocabulary.verbs["close"], stated=spec.stated))
        elif spec.verb is not None and spec.verb.name == "step" and spec.turn and not wheres and len(spec.feet) <= 1:
            shaped.append(replace(spec, turn=None, way=None, stated=[]))  # "step half turn left"
            shaped.append(
                Spec(spec.column, verb=vocabulary.verbs["pivot"], turn=spec.turn, way=spec.way, stated=spec.stated)
            )
        else:
            shaped.append(spec)
    return shaped if len(shaped) > len(specs) else None
