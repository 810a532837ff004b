"""Step changes put together: on which walls, what changes, into what, and what follows, each with each.

Common practice of the trade, no published source.
"""

from __future__ import annotations

from hypothesis import example, given, settings
from hypothesis import strategies as st

from caller.dance.check import check
from caller.routine.findings import Severity
from caller.routine.notation.read import read_sheet

# fmt: off
DANCE = """\
Copper Kettle
32 counts, 4 walls, 118 bpm, intro 16

S1 Vines
1-4 Vine R, touch L
5-8 Vine L, touch R

S2 Rocks
1-2 Rock R forward, recover L
3&4 R coaster step
5-6 Step L forward, pivot 1/2 right
7-8 Step L to side, touch R beside L

S3 Walks
1-4 Walk R, L, R, L
5-8 Jazz box turning 1/4 R

S4 Rocking chair, sways
1-4 Rocking chair R
5-8 Sway R, L, R, L

"""
WALLS = ("On walls 3 and 6", "Walls 3 and 6:", "In walls 3 and 6,", "W3 + W6:", "During walls 3 and 6,")
CHANGES = (
    "replace counts 7-8 of section 2 with: {}", "change counts 7-8 of section 2 to {}", "dance S2 counts 7-8 as: {}",
    "in section 2, counts 7-8 become: {}", "counts 7-8 of section 2 are replaced by {}", "counts 15-16 become {}",
    "change 15-16 to: {}", "dance to count 14, then replace 15-16 with: {}", "S2 7-8 is {}",
    "for the last two counts of section 2 do this instead: {}", "the last two counts of section 2 change to: {}",
    "replace the last 2 counts of section 2 with {}", "dance on '7-8' of section 2: {}",
    "swap the side touch (S2, 7-8) for {}",
    "dance the first 14 counts, then replace 7-8 of the second section with: {}",
)
STEPS = ("stomp L, hold", "step L beside R, hold", "LF stomp, hold")
RESTARTS = (
    ", then restart", " and restart", ". Then restart.", "; then start again", ". Then begin again from the top.",
)
GOES_ON = ("", ". Then carry on.", ". The rest is as usual.")
HEADS = ("", "NB: ", "* ")
# fmt: on


@settings(max_examples=80)
@given(
    st.sampled_from(WALLS),
    st.sampled_from(CHANGES),
    st.sampled_from(STEPS),
    st.sampled_from(RESTARTS + GOES_ON),
    st.sampled_from(HEADS),
)
@example("On walls 3 and 6", "dance the first 14 counts, then {}", "stomp L, hold", ", then restart", "")
@example("On walls 3 and 6", "counts 15-16 become {}", "stomp L, hold", " and restart", "")
def test_a_change_is_read_whoever_tells_it(wall: str, change: str, steps: str, follows: str, head: str) -> None:
    told = f"{head}{wall} {change.format(steps)}{follows}"
    sheet = read_sheet(f"{DANCE}{told}\n")
    routine = sheet.routine
    assert [f for f in check(sheet) if f.severity is Severity.ERROR or f.code == "unread"] == [], told
    restarts = sorted((cut.wall, cut.after) for restart in routine.restarts for cut in restart.cuts)
    assert restarts == ([(3, 16), (6, 16)] if follows in RESTARTS else []), told
    changed = {wall for one in routine.changes for wall in one.walls}
    changed |= {cut.wall for one in routine.restarts if one.replacements for cut in one.cuts}
    assert changed == {3, 6}, told
