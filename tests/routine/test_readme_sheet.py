"""The README shows how little a sheet needs: what it shows is read whole."""

from __future__ import annotations

import re
from pathlib import Path

from caller.dance.check import check
from caller.routine.notation.read import read_sheet

README = Path(__file__).parents[2] / "README.md"


def test_the_sheet_in_the_readme_is_read_whole() -> None:
    section = README.read_text(encoding="utf-8").split("## A step sheet", 1)[1]
    block = re.search(r"(?m)(?:^    .*\n|^\n)+", section.split("This is enough:", 1)[1])
    assert block is not None
    read = read_sheet("\n".join(line[4:] for line in block.group().strip("\n").split("\n")))
    assert check(read) == ()
    routine = read.routine
    assert (routine.header.title, routine.counts, routine.header.walls, routine.header.tempo) == (
        "CHALK LINE",
        16,
        1,
        96,
    )
    assert [(cut.wall, tag.passage.counts) for tag in routine.tags for cut in tag.cuts] == [(3, 4)]
