"""The planning problem as a mixed-integer programme for an outside solver (HiGHS, by way of scipy.optimize.milp)."""

from __future__ import annotations

from collections.abc import Iterable, Sequence

import numpy as np
from scipy.optimize import LinearConstraint, milp

from caller.calls.optimum import OptionSlot
from caller.calls.weigh import LOST, MISSED, MISSED_BETWEEN, SAID_LATE


class _Programme:
    """Columns and rows as they come; everything is maximised."""

    def __init__(self) -> None:
        self.low: list[float] = []
        self.high: list[float] = []
        self.gain: list[float] = []
        self.rows: list[dict[int, float]] = []
        self.least: list[float] = []

    def column(self, low: float, high: float, gain: float = 0.0) -> int:
        self.low.append(low)
        self.high.append(high)
        self.gain.append(gain)
        return len(self.low) - 1

    def at_least(self, least: float, row: dict[int, float]) -> None:
        self.rows.append(row)
        self.least.append(least)

    def solve(self) -> float:
        matrix = np.zeros((len(self.rows), len(self.low)))
        for number, row in enumerate(self.rows):
            for column, factor in row.items():
                matrix[number, column] = factor
        found = milp(
            -np.array(self.gain),
            integrality=np.ones(len(self.low)),
            bounds=(np.array(self.low), np.array(self.high)),
            constraints=LinearConstraint(matrix, lb=np.array(self.least)) if self.rows else None,
            options={"mip_rel_gap": 0.0},
        )
        assert found.success, found.message
        return float(-found.fun)


# Weights that keep their order among few cues, and that floating point can bear.
_LIGHT = {LOST: -60_000, SAID_LATE: -15_000, MISSED: -4_000, MISSED_BETWEEN: -3_000}


def lightened(stages: Iterable[OptionSlot]) -> list[OptionSlot]:
    """The stages with what must not be weighed lightly, out of kindness to the outside solver."""
    return [
        OptionSlot(
            tuple(option._replace(worth=_LIGHT.get(option.worth, option.worth)) for option in stage.options),
            _LIGHT.get(stage.unsaid, stage.unsaid),
        )
        for stage in stages
    ]


def best_worth(stages: Sequence[OptionSlot], step: int, free: int = 0) -> int:
    """The greatest sum by the outside solver."""
    programme = _Programme()
    options = [option for stage in stages for option in stage.options]
    lowest = min([free, *(option.first for option in options)])
    horizon = max([free, *(option.last + option.frames + option.after for option in options)])
    far = 2.0 * (horizon - lowest + 1 + max([0, *(abs(option.wish) for option in options)]))
    unsaid_sum = 0
    line = programme.column(free, free)
    for stage in stages:
        unsaid_sum += stage.unsaid
        line_after = programme.column(free, horizon)
        programme.at_least(0, {line_after: 1, line: -1})
        chosen = []
        for option in stage.options:
            if option.first > option.last:
                continue
            said = programme.column(0, 1, option.worth - stage.unsaid)
            start = programme.column(option.first, option.last)
            early = programme.column(0, far, -option.early)
            late = programme.column(0, far, -option.late)
            chosen.append(said)
            # Each holds only where the option is said: elsewhere it is slack by `far`.
            programme.at_least(option.before - far, {start: 1, line: -1, said: -far})
            programme.at_least(option.frames + option.after - far, {line_after: 1, start: -1, said: -far})
            programme.at_least(option.wish - far, {early: step, start: 1, said: -far})
            programme.at_least(-option.wish - far, {late: step, start: -1, said: -far})
        programme.at_least(-1, dict.fromkeys(chosen, -1.0))
        line = line_after
    return round(programme.solve() + unsaid_sum)
