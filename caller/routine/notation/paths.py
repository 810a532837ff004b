"""Ways through a passage's lines, all that fit carried on until what comes after tells which was meant."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

from caller.routine.count import Counts
from caller.routine.layout.lines import Line
from caller.routine.notation.candidates import Effort, Plain
from caller.routine.notation.weighing import Outcome, Stance, outcomes
from caller.routine.vocabulary import Vocabulary

_MOST_PATHS = 6  # carried on at once
# What it costs to leave a line unread whose words are not all known: less than what then can't be danced after it.
_LEFT_UNREAD = 9.0


@dataclass(frozen=True, slots=True)
class Described:
    """A line of steps on its way. column: of its words; text: without the call."""

    line: Line
    counts: Counts
    text: str
    column: int
    call: str
    plain: Plain


@dataclass(frozen=True, slots=True)
class Path:
    """One way through the lines since the last that left no doubt, the latest line last."""

    cost: float
    stance: Stance
    chain: tuple[tuple[Described, Outcome], ...] = ()


def carried_on(paths: Sequence[Path], one: Described, vocabulary: Vocabulary, effort: Effort) -> list[Path]:
    """The paths over one more line, cheapest first, one for each stance after it; none where no path can read it."""
    onward: dict[object, Path] = {}
    for path in paths if not one.plain.grave else ():
        found = outcomes(one.text, one.plain, one.counts.beats, path.stance, vocabulary, effort)
        if any(outcome.candidate is not None and outcome.candidate.dropped for outcome in found):
            found.append(Outcome(_LEFT_UNREAD, Stance(None)))
        for outcome in found:
            if outcome.candidate is not None and outcome.candidate.dropped and _doubtful(outcome):
                continue
            cost = path.cost + outcome.cost
            known = onward.get(outcome.after.key)
            if known is None or cost < known.cost:
                onward[outcome.after.key] = Path(cost, outcome.after, (*path.chain, (one, outcome)))
    if not any(path.chain[-1][1].candidate is not None for path in onward.values()):
        return []
    return sorted(onward.values(), key=lambda path: path.cost)[:_MOST_PATHS]


def with_the_last_doubted(paths: list[Path]) -> list[Path]:
    """Nothing follows that could show what the last line's unknown words leave the weight on."""
    if not paths[0].chain:
        return paths
    one, outcome = paths[0].chain[-1]
    if outcome.candidate is not None and outcome.candidate.dropped and one.plain.ends_unknown:
        unread = [path for path in paths if path.chain[-1][1].candidate is None]
        return unread or paths
    return paths


def _doubtful(outcome: Outcome) -> bool:
    return outcome.conflicts > 0 or (outcome.told is not None and bool(outcome.told.troubles))
