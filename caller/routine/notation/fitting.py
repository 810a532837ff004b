"""Specifications onto written counts: one movement on each, in order.

A hold fills what is left over, one lasting movement may fill a range, a turn told by itself may belong to the next
movement, and what is told beside another may share its beat, where the counts leave no beat of its own. Fittings are
given with the least of such give first; where there is none, the counts don't match.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass, replace

from caller.routine.facing import EIGHTHS
from caller.routine.figures import Figure
from caller.routine.notation.spec import Spec
from caller.routine.step import Foot, Weight
from caller.routine.vocabulary import Vocabulary

_SHARED, _MERGED, _STRETCHED, _OTHER_READING = 10.0, 10.0, 1.0, 5.0
_MERGED_ALONE = 15.0
_OTHER_VERB = 4.0
_STANDING = 20.0  # "1/4 R" on a count of its own without a step
_HIPS_WITH, _SHARED_BY_AND, _HELD, _VARIANT = 6.0, 12.0, 2.0, 3.0
_OUT_AND_BACK = 0.6
ON_BOTH = frozenset(
    ("heel split", "swivel", "twist", "bounce", "hip roll", "applejack", "fan", "swivet", "knee pop", "shimmy", "bend")
)
_OUT_AND_IN = frozenset(("heel split", "fan", "applejack", "swivet", "knee pop"))
_HIPS = frozenset(("sway", "bump", "push", "lean"))
# What may be done on the beat of the step that it is joined to by "and".
_BESIDE = frozenset(("none", "open", "stays on"))
_MOST_SPECS = 40  # more on one line, or on more counts, are fitted one to a count or not at all
_MOST_BEATS = 64
_KEPT = 4  # fittings for each number of beats used


@dataclass(frozen=True, slots=True)
class Fit:
    """How one specification takes its beats. beats: how many; moves: how many movements stand on the first of them;
    shares: on the beat of the one before; merges: its turn goes to the next, merges_back: to the one before; as_verb: a
    figure's words read as one verb; each_foot: the figure is danced once from each foot named; figure: another of the
    same name; assumed: what the fitting takes for granted that the sheet does not say."""

    beats: int
    moves: int
    shares: bool = False
    merges: bool = False
    merges_back: bool = False
    as_verb: bool = False
    each_foot: bool = False
    figure: Figure | None = None
    assumed: str = ""
    shifts: bool = False  # done on both feet, and the other one bears the weight after it
    repeats: int = 1  # a figure, over and over, as its feet are listed
    doubled: bool = False  # out and in again
    other: bool = False  # its verb is the other one that the words may mean


@dataclass(frozen=True, slots=True)
class Fitting:
    """One way to lay all specifications onto the beats, and how much give it needs."""

    give: float
    fits: tuple[Fit, ...]


def _plain(spec: Spec) -> Fit:
    """A count for each movement, or as many as it is said to last."""
    size = spec.times * (len(spec.figure.each) if spec.figure is not None else 1)
    return Fit(max(size, spec.lasts or 0) if size == 1 else size, size)


_Choices = list[tuple[float, Fit]]


def _choices(spec: Spec, before: Spec | None, last: bool, room: int, vocabulary: Vocabulary) -> _Choices:
    """The ways in which a specification may take beats, each with its give. last: none stands behind it; room: beats
    left."""
    if spec.figure is not None:
        return _figure_choices(spec, spec.figure, vocabulary)
    found: _Choices = [(_STANDING if _stands(spec, before) else 0.0, _plain(spec))]
    found += _lasting(spec, before, last, room)
    found += _other_meanings(spec, last, room)
    found += _as_figures(spec, before, vocabulary)
    if before is not None:
        found += _beside(spec, before)
    return found + _merging(spec, before, last)


def _lasting(spec: Spec, before: Spec | None, last: bool, room: int) -> _Choices:
    """Over several beats, or a hold that is none."""
    verb, found = spec.verb, list[tuple[float, Fit]]()
    assert verb is not None
    if spec.lasts and spec.times == 1:
        found.append((_STRETCHED, Fit(1, 1)))
    if verb.lasting or spec.held:
        give = 0.0 if verb.name == "hold" else _STRETCHED if verb.lasting else _HELD
        found += [(give + n / 100, Fit(spec.times + n, spec.times)) for n in range(1, room - spec.times + 1)]
    if verb.name in ("walk", "run") and not spec.feet and spec.times == 1 and spec.turn is None:  # "5-7 walk back"
        found += [(_STRETCHED + n / 100, Fit(n, n, repeats=n)) for n in range(2, room + 1)]
    if verb.name == "hold" and not last and before is not None and spec.times == 1 and spec.lasts is None:
        found.append((_SHARED_BY_AND, Fit(0, 1, shares=True)))
    return found


def _other_meanings(spec: Spec, last: bool, room: int) -> _Choices:
    """What the words leave open: the other verb, the weight after what is done on both feet."""
    found: _Choices = []
    assert spec.verb is not None
    if last and spec.verb.name in ON_BOTH and spec.weight is None and not any(x.weight for x, _ in spec.stated):
        found.append((_OTHER_VERB, replace(_plain(spec), shifts=True)))
    if spec.other is not None and spec.times == 1:
        found.append((0.0 if spec.bare else _OTHER_VERB, replace(_plain(spec), other=True)))
        if spec.other.lasting:  # "5-6 slide L up to R, weight on R"
            found += [(_OTHER_VERB + n / 100, Fit(1 + n, 1, other=True)) for n in range(1, room)]
    if spec.verb.name in _OUT_AND_IN and not spec.wheres:
        found.append((_OUT_AND_BACK, Fit(2 * spec.times, 2 * spec.times, doubled=True)))
    return found


def _as_figures(spec: Spec, before: Spec | None, vocabulary: Vocabulary) -> _Choices:
    """ "pivot 1/2 left" with the step forward before it left out; a full turn in two or three steps."""
    verb, found = spec.verb, list[tuple[float, Fit]]()
    assert verb is not None
    if verb.name == "pivot" and spec.turn is not None and not (spec.beside or spec.joined or _steps(before)):
        moves, figure = 2 * spec.times, vocabulary.figures["pivot turn"]
        found.append((_VARIANT, Fit(moves, moves, figure=figure, assumed=figure.name)))
    if verb.name == "turn" and spec.turn == EIGHTHS and not spec.beside and spec.on is None:
        for name in ("full turn in two", "full turn in three"):
            figure = vocabulary.figures[name]
            found.append((_OUT_AND_BACK, Fit(len(figure.each), len(figure.each), figure=figure)))
    return found


def _merging(spec: Spec, before: Spec | None, last: bool) -> _Choices:
    """A turn told by itself that belongs to the movement after or before it."""
    if spec.verb is None or spec.verb.name != "turn":
        return []
    found: _Choices = [(_MERGED, Fit(0, 0, merges=True))] if spec.turn is not None and not last else []
    if before is None or before.turn is not None or spec.feet:
        return found
    follows = spec.joined or spec.beside or spec.on is not None or before.figure is not None
    alone = spec.turn is not None and not spec.wheres  # "step R forward, 1/4 turn right" on one count
    if not (follows or alone):
        return found
    return [*found, (_MERGED if follows else _MERGED_ALONE, Fit(0, 0, merges_back=True))]


def _beside(spec: Spec, before: Spec) -> _Choices:
    """Told beside the movement before: on its beat."""
    verb = spec.verb
    assert verb is not None
    shared = Fit(0, spec.times, shares=True)
    if spec.beside:
        return [(_SHARED, shared)]
    if verb.name in _HIPS and before.verb is not None and (not spec.feet or spec.feet[:1] == before.feet[:1]):
        return [(_HIPS_WITH if spec.joined else _SHARED_BY_AND, shared)]
    if verb.name in ("sweep", "ronde"):  # "step back R, sweep L" on one count
        return [(_SHARED_BY_AND, shared)]
    if verb.folds and verb.name != "clap":
        return [(_SHARED_BY_AND, shared)]
    if spec.joined and verb.bears in _BESIDE and spec.times == 1:
        return [(_SHARED_BY_AND, shared)]
    return []


def _figure_choices(spec: Spec, figure: Figure, vocabulary: Vocabulary) -> _Choices:
    size = len(figure.each)
    found: _Choices = [(0.0, _plain(spec))]
    if figure.or_verb and spec.times == 1:
        found.append((_OTHER_READING, Fit(1, 1, as_verb=True)))
    feet = len(spec.feet)
    if feet > 1 and spec.times == 1 and not spec.listing and not _is_list(spec.feet, figure):
        found.append((_OTHER_READING, Fit(size * feet, size * feet, each_foot=True)))
    if feet > size and feet % size == 0 and spec.times == 1:
        found.append((_OUT_AND_BACK, Fit(feet, feet, repeats=feet // size)))
    for other, sure in vocabulary.variants.get(figure.name, ()):
        moves = len(other.each) * spec.times
        assumed = "" if sure else other.name
        found.append((0.5 if sure else _VARIANT, Fit(moves, moves, figure=other, assumed=assumed)))
    return found


def _stands(spec: Spec, before: Spec | None) -> bool:
    """ "1/4 R" on a count of its own: to do no more than turn there is rare, but after a step forward it is a pivot."""
    return spec.bare and spec.other is not None and not (before is not None and _turns_on(before, spec, None))


def _steps(spec: Spec | None) -> bool:
    return spec is not None and spec.verb is not None and spec.verb.bears == "foot"


def _is_list(feet: Sequence[Foot], figure: Figure) -> bool:
    """ "R, L, R" after a shuffle lists its steps."""
    return len(feet) >= len(figure.each) > 2


def fit(specs: Sequence[Spec], beats: int, vocabulary: Vocabulary) -> list[Fitting]:
    """The fittings of all ``specs`` onto so many beats, least give first; none where there is none."""
    plain = tuple(_plain(spec) for spec in specs)
    fits_plainly = sum(one.beats for one in plain) == beats
    if len(specs) > _MOST_SPECS or beats > _MOST_BEATS:
        return [Fitting(0.0, plain)] if fits_plainly else []
    best: dict[int, list[Fitting]] = {0: [Fitting(0.0, ())]}
    for n, spec in enumerate(specs):
        after: dict[int, list[Fitting]] = {}
        before = specs[n - 1] if n else None
        for used, ways in best.items():
            for give, choice in _choices(spec, before, n == len(specs) - 1, beats - used, vocabulary):
                if used + choice.beats <= beats:
                    at = after.setdefault(used + choice.beats, [])
                    at += [Fitting(way.give + give, (*way.fits, choice)) for way in ways]
        best = {used: sorted(ways, key=lambda way: way.give)[:_KEPT] for used, ways in after.items()}
    return best.get(beats, [])


def fits_plainly(specs: Sequence[Spec], beats: int) -> Fitting | None:
    """A count for each movement, where that is how many there are."""
    plain = tuple(_plain(spec) for spec in specs)
    return Fitting(0.0, plain) if sum(one.beats for one in plain) == beats else None


def movements_of(specs: Sequence[Spec]) -> int:
    """How many movements are told, each on a beat of its own."""
    return sum((len(s.figure.each) if s.figure else 1) * s.times for s in specs)


def merge_turns(specs: Sequence[Spec], fits: Sequence[Fit], vocabulary: Vocabulary) -> list[tuple[Spec, Fit]]:
    """Hands each merged turn to the specification after it; figures read as verbs become such. The specifications given
    stay as they are."""
    merged: list[tuple[Spec, Fit]] = []
    waiting: Spec | None = None
    for given, one in zip(specs, fits, strict=True):
        spec = given
        if one.merges:
            waiting = spec
            continue
        if one.merges_back:
            before, fitted = merged[-1]
            merged[-1] = replace(before, turn=spec.turn, way=spec.way, stated=[*before.stated, *spec.stated]), fitted
            continue
        spec = _as_fitted(spec, one, vocabulary)
        if waiting is not None:
            if spec.turn is None:
                spec = replace(spec, turn=waiting.turn, way=spec.way or waiting.way)
            waiting = None
        merged.append((spec, one))
    for n, (spec, one) in enumerate(merged[1:], 1):
        after = merged[n + 1][0] if n + 1 < len(merged) else None
        if not one.other and _turns_on(merged[n - 1][0], spec, after):
            merged[n] = replace(spec, verb=vocabulary.verbs["pivot"]), one
    return merged


def _as_fitted(spec: Spec, one: Fit, vocabulary: Vocabulary) -> Spec:
    """What a specification means where the fitting reads it otherwise than as it stands."""
    if one.as_verb and spec.figure is not None:
        return replace(spec, verb=vocabulary.verbs[spec.figure.or_verb], figure=None, feet=list(spec.feet))
    if one.figure is not None:
        wheres = [] if spec.figure is None else spec.wheres  # "full turn forward": its steps go where they must
        return replace(spec, figure=one.figure, verb=None, wheres=wheres)
    if one.repeats > 1:
        return replace(spec, times=one.repeats, feet=spec.feet[:1])
    return replace(spec, times=2 * spec.times) if one.doubled else spec


def _turns_on(before: Spec, spec: Spec, after: Spec | None) -> bool:
    """ "step R forward, turn 1/2 left": a turn on a count of its own, away from the foot stepped on, is a pivot, unless
    that foot is said to bear the weight still."""
    steps = before.verb is not None and before.verb.name in ("step", "walk") and before.wheres in ([], ["forward"])
    turns = spec.verb is not None and spec.verb.name in ("turn", "swivel") and not (spec.feet or spec.beside)
    if not (steps and turns) or before.turn is not None or spec.turn is None:
        return False
    if not before.feet:
        return spec.weight is None
    foot = before.feet[0]
    if spec.weight not in (None, Weight.on(foot.other)):
        return False
    stays = after is not None and after.feet[:1] == [foot.other]
    return spec.way in (None, foot.other) and not stays
