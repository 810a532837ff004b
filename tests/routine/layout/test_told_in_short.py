"""A line of the head that tells all tags, restarts and the ending in short, above what tells each in full. Common
practice, no published source.
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
32 counts, 4 walls, 118 bpm
{short}

S1
1-4 Step R forward, pivot 1/2 turn L, step R forward, pivot 1/2 turn L
5-8 Rocking chair R

S2
1-4 Vine R, touch L
5-8 Vine L, touch R

S3
1-4 Walk R, L, R, L
5-8 Rocking chair R

S4
1-4 Jazz box turning 1/4 R
5-8 Sway R, L, R, L

TAG (4 counts): end of walls 2 and 4
1-4 Sway R, L, R, L

RESTART: on wall 5, dance 16 counts and restart

ENDING: wall 9, dance 24 counts, then:
1 Stomp R forward
"""
TAGS = (
    "2 tags ({})", "1 tag, danced twice ({})", "two tags ({})", "tag x2 ({})", "4-count tag {}", "1 short tag x2 ({})",
    "2 tags - {}", "4c tag: {}", "2 tags",
)
TAG_WALLS = (
    "W2 and W4", "W2, W4", "W2 + W4", "walls 2 and 4", "walls 2 & 4", "after walls 2, 4",
    "end of wall 2 and wall 4",
)
RESTARTS = (
    "1 restart ({})", "restart {}", "one restart, {}", "1 rst ({})", "RST: {}", "restart in the 5th wall", "1 restart",
    "Restart on {}",
)
ENDINGS = ("ending", "1 ending (W9)", "an ending in wall 9", "ending: wall 9")
PARTED = (", ", "; ", " + ", " / ", " - ", " and ", ". ")
LED = ("", "* ", "NB: ", "Note: ", "Tags/Restarts: ", "There are ", "Tags and restarts: ")
# fmt: on


@settings(max_examples=60)
@given(
    st.permutations(
        [
            st.builds(str.format, st.sampled_from(TAGS), st.sampled_from(TAG_WALLS)),
            st.builds(str.format, st.sampled_from(RESTARTS), st.sampled_from(("W5", "wall 5", "w5"))),
            st.sampled_from(ENDINGS),
        ]
    ).flatmap(lambda told: st.tuples(*told)),
    st.sampled_from((1, 2, 3)),
    st.sampled_from(PARTED),
    st.sampled_from(LED),
)
@example(("tag x2 (W2, W4)", "1 rst (W5)", "ending (W9)"), 3, ", ", "")
@example(("1 tag x2 (aft W2 + W4)", "1 rst (W5)", ""), 2, ", ", "*")
@example(("4-count tag walls 2 and 4", "1 restart (W5)", ""), 2, " - ", "Tags/Restarts: ")
def test_no_wall_is_taken_for_anothers(told: tuple[str, ...], many: int, mark: str, led: str) -> None:
    short = led + mark.join(told[:many])
    sheet = read_sheet(DANCE.format(short=short))
    routine = sheet.routine
    assert [f.message for f in check(sheet) if f.severity in (Severity.ERROR, Severity.WARNING)] == [], short
    assert [cut.wall for tag in routine.tags for cut in tag.cuts] == [2, 4], short
    assert [(cut.wall, cut.after) for restart in routine.restarts for cut in restart.cuts] == [(5, 16)], short
    assert routine.ending is not None
    assert (routine.ending.cut.wall, routine.ending.cut.after) == (9, 24), short


def test_another_wall_than_the_one_below_is_told() -> None:
    found = check(read_sheet(DANCE.format(short="2 tags (W2, W4), 1 restart (W6)")))
    assert any("wall 6" in f.message or "wall 5" in f.message for f in found if f.severity is Severity.ERROR)
