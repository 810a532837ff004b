"""What each line was taken for, in a few words."""

from __future__ import annotations

from caller.routine.notation.read import read_sheet
from caller.routine.vocabulary import shipped
from caller.screen.understood import understood

SHEET = """Copper Pan
16 counts, 2 walls, improver
Tempo: 104

Section 1: There and back
1-2 Walk R, L
3&4 Right shuffle forward
5-6 Rock L forward, recover R
7&8 Left shuffle back
Note: keep it small.
Section 2: Turn
1-2 Rock R back, recover L
3-4 Step R forward, pivot 1/2 left
5-8 Vine right, touch L beside R
Option 5-8: two side steps
5-8 Step R to side, step L beside R, step R to side, touch L beside R
Tag: after wall 2
1-2 Sway L, R
Restart: wall 4 after 8 counts
"""


def _taken_for() -> dict[str, str]:
    words = understood(read_sheet(SHEET), shipped())
    return {line: words[n] for n, line in enumerate(SHEET.splitlines(), 1) if n in words}


def test_headers_tell_what_they_say() -> None:
    taken = _taken_for()
    assert taken["Copper Pan"] == "title"
    assert taken["16 counts, 2 walls, improver"] == "counts 16, walls 2, level improver"
    assert taken["Tempo: 104"] == "tempo 104"


def test_steps_are_told_in_standard_words_each_with_its_count() -> None:
    taken = _taken_for()
    assert taken["3&4 Right shuffle forward"] == "3 step R forward, 3& step L beside R, 4 step R forward"
    assert taken["3-4 Step R forward, pivot 1/2 left"] == "3 step R forward, 4 pivot 1/2 left"


def test_headings_options_and_events_tell_where_they_belong() -> None:
    taken = _taken_for()
    assert taken["Note: keep it small."] == "note"
    assert taken["Section 2: Turn"] == "section 2, 8 counts"
    assert taken["Option 5-8: two side steps"] == "easier way for counts 5-8"
    assert taken["Tag: after wall 2"] == "tag, 2 counts, after wall 2"
    assert taken["Restart: wall 4 after 8 counts"] == "restart in wall 4 after 8 counts"


def test_every_line_but_the_empty_ones_is_told() -> None:
    read = read_sheet(SHEET)
    told = understood(read, shipped())
    assert set(told) == {n for n, line in enumerate(SHEET.splitlines(), 1) if line}
    assert all(told.values())


def test_a_line_that_is_not_read_is_told_so() -> None:
    read = read_sheet(SHEET.replace("7&8 Left shuffle back", "7&8 Qqq zzz xxyy"))
    line = SHEET.splitlines().index("7&8 Left shuffle back") + 1
    assert understood(read, shipped())[line] == "NOT READ: called in these words, not checked"
