"""The counts of a passage as its lines write them: none missing, none twice, none backwards. A fault is told once."""

from __future__ import annotations

from fractions import Fraction

from caller.routine.count import Beat, Counts
from caller.routine.findings import Finding, Place
from caller.routine.layout.lines import Line


class Counting:
    """Which counts are taken so far. whole: the highest whole count; gaps_told: whether one is found missing."""

    def __init__(self, first_count: int, carried: bool = False) -> None:
        self.first_count = first_count
        self.carried = carried  # count 1 is danced already, by what goes over into it
        self.whole = first_count - 1
        self.gaps_told = False
        self._taken: set[tuple[int, int]] = set()  # as ratios: they hash faster than fractions
        self._highest = Fraction(first_count - 2)
        self._gap: tuple[Finding, range] | None = None  # the last gap told, and the counts it misses

    def take(self, line: Line, counts: Counts, findings: list[Finding]) -> None:
        """Takes a line's counts. Of its faults the first is added to ``findings``, and one that it explains is
        withdrawn."""
        first = ("counts-order", "these counts run backwards; write the lower one first") if counts.backward else None
        if self.carried and self.whole == self.first_count - 1 and counts.beats[0].number == self.first_count + 1:
            self.whole = self.first_count
        for beat in counts.beats:
            if beat.over:  # the first count of what comes next
                self.mark(beat.at)
                continue
            fault = self._fault(beat)
            first = first or fault
            if fault is not None and fault[0] == "counts-order" and self._not_missing(beat.number, findings):
                first = fault
            if fault is not None and fault is first:
                findings.append(line.finding(1, *fault))
                if fault[0] == "counts-gap":
                    self._gap = (findings[-1], range(self.whole + 1, beat.number))
                    self.gaps_told = True
            self.mark(beat.at)
            if fault is None:
                self._highest = beat.at
            if not beat.part and beat.number > self.whole:
                self.whole = beat.number
        if counts.backward and first is not None:
            findings.append(line.finding(1, *first))

    def mark(self, at: Fraction) -> None:
        """Something is danced there."""
        self._taken.add(at.as_integer_ratio())

    def _fault(self, beat: Beat) -> tuple[str, str] | None:
        if beat.at.as_integer_ratio() in self._taken:
            return "counts-overlap", f"count {beat.label} is danced already; number this line on from there"
        if beat.at < self._highest:
            return "counts-order", f"count {beat.label} stands after a later one; put the lines in order"
        if not beat.part and beat.number > self.whole + 1:
            missing = _span_words(self.whole + 1, beat.number - 1)
            return "counts-gap", f"nothing is danced on {missing}, before count {beat.number}; write what is, or 'hold'"
        return None

    def _not_missing(self, number: int, findings: list[Finding]) -> bool:
        """Counts that stand later are out of order, not missing: whether such a finding was withdrawn."""
        if self._gap is None or number not in self._gap[1]:
            return False
        findings.remove(self._gap[0])
        self._gap = None
        return True

    def filled(self, length: int, base: int, code: str, place: Place) -> Finding | None:
        """Whether an option or replacement fills just the counts that its heading gives."""
        until = self.first_count + length - 1
        if self.gaps_told or self.whole == until:
            return None
        wanted = f"must fill counts {self.first_count + base} to {until + base}"
        return Finding(place, code, f"the lines here {wanted}; they end on count {self.whole + base}")


def _span_words(first: int, last: int) -> str:
    return f"count {first}" if first == last else f"counts {first} to {last}"
