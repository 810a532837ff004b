"""How fast sheets are read and checked, as a ratio against a general parser that only splits the same lines.

    python -m tests.bench.bench_notation

Sheets are made of sections of the test corpus, in random order (seeded), about 40 lines each. The baseline is Lark's
LALR parser with a grammar that knows headers, headings and step lines, and splits a step line into counts, words and
call: no movement, foot or facing is understood. Times are of the process, the best of some rounds, so that what else
the machine does counts less.
"""

from __future__ import annotations

import random
import time
from collections.abc import Callable, Sequence

from caller.dance.check import check
from caller.routine.notation.candidates import plain_reading
from caller.routine.notation.read import SheetRead, read_sheet
from caller.routine.notation.words import lexed
from tests.corpus.sheets import sheet_text, sound_sheets

SHEETS = 1000
LINES = 40
ROUNDS = 5
BATCH = 20  # sheets
TARGET_MS = 5.0

GRAMMAR = r"""
start: (line? NEWLINE)*
line: header | heading | steps
header: KEY TEXT?
heading: HEADING TEXT?
steps: COUNTS WORDS CALL?
KEY.2: /(Title|Tempo|Starts):/
HEADING.3: /Section \d+:?/
COUNTS.2: /[\d&][\d&ae,–-]*\.?:?/
WORDS: /[^"“”\n]+/
CALL: /["“][^"“”\n]*["”]/
TEXT: /[^\n]+/
NEWLINE: /\r?\n/
%ignore /[ \t]+/
"""


def sections() -> list[list[str]]:
    """The step lines of each section of the corpus; sections that look back at others are left out."""
    found: list[list[str]] = []
    for half, name in sound_sheets():
        sheet = read_sheet(sheet_text(half, name))
        lines = sheet.text.splitlines()
        for section in sheet.routine.sections:
            numbers = sorted({step.place.line for step in section.passage.steps})
            text = [lines[n - 1] for n in numbers]
            runs_on = section.passage.steps[0].count not in ("1", "&", "a") or not text[0].lstrip().startswith(
                ("1", "&")
            )
            if not runs_on and not any("epeat" in line for line in text):
                found.append(text)
    return found


def make_sheet(pool: Sequence[list[str]], lines: int, chance: random.Random) -> str:
    out = ["Title: Made Up", "Tempo: 100", "Starts: right"]
    number = 0
    while len(out) < lines:
        number += 1
        out += [f"Section {number}: part {number}", *chance.choice(pool)]
    return "\n".join(out[:lines]) + "\n"


def best(*runs: Callable[[Sequence[str]], object], sheets: Sequence[str], rounds: int = ROUNDS) -> list[float]:
    """Process seconds of each run over all sheets, in batches taken turn about: each batch's fastest round counts."""
    totals = [0.0] * len(runs)
    for begin in range(0, len(sheets), BATCH):
        batch = sheets[begin : begin + BATCH]
        times = [[_timed(run, batch) for run in runs] for _ in range(rounds)]
        totals = [total + min(each) for total, each in zip(totals, zip(*times, strict=True), strict=True)]
    return totals


def _timed(run: Callable[[Sequence[str]], object], batch: Sequence[str]) -> float:
    begun = time.process_time()
    run(batch)
    return time.process_time() - begun


def read_all(batch: Sequence[str]) -> list[SheetRead]:
    """Each sheet as if it were the first: words kept from the one before are forgotten."""
    read = []
    for text in batch:
        lexed.cache_clear()
        plain_reading.cache_clear()
        read.append(read_sheet(text))
    return read


def read_again(batch: Sequence[str]) -> None:
    """As while a sheet is being written: all lines but a few have been read before."""
    for text in batch:
        read_sheet(text)


def read_and_check(batch: Sequence[str]) -> None:
    for sheet in read_all(batch):
        check(sheet)


def main() -> None:
    from lark import Lark

    chance = random.Random(8)
    pool = sections()
    sheets = [make_sheet(pool, LINES, chance) for _ in range(SHEETS)]
    parser = Lark(GRAMMAR, parser="lalr")
    reading, both, again, splitting = best(
        read_all, read_and_check, read_again, lambda batch: [parser.parse(text) for text in batch], sheets=sheets
    )
    each = 1000 / SHEETS
    print(f"{SHEETS} sheets of {LINES} lines")
    print(f"read            {reading * each:6.2f} ms a sheet (target under {TARGET_MS:g})")
    print(f"read and check  {both * each:6.2f} ms a sheet")
    print(f"read again      {again * each:6.2f} ms a sheet")
    print(f"Lark, splitting {splitting * each:6.2f} ms a sheet: reading takes {reading / splitting:.1f} times as long")
    print("lines   ms   ms for 40 lines")
    for lines in (20, 40, 80, 160, 320, 640):
        few = [make_sheet(pool, lines, chance) for _ in range(4000 // lines)]
        (seconds,) = best(read_all, sheets=few)
        print(f"{lines:5d} {seconds / len(few) * 1000:6.2f} {seconds / len(few) / lines * 40_000:6.2f}")


if __name__ == "__main__":
    main()
