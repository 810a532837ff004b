"""Step lines and sentences about events as authors of many schools and countries write them, told apart by hand.

Each line was written, and what it means told beside it, before it was ever read. Common practice of the floor, no
published source.
"""

from __future__ import annotations

import re

import pytest

from caller.dance.check import check, has_errors
from caller.routine.layout.counted import steps_on
from caller.routine.layout.lines import Line
from caller.routine.meter import Feel
from caller.routine.notation.passage import Context, read_passage
from caller.routine.notation.read import read_sheet
from caller.routine.parts import Routine
from caller.routine.step import Weight
from caller.routine.vocabulary import shipped

# Line, foot that bears the weight before it, counts with the foot that moves (B = none, or both), turn in eighths.
LINES = [
    ("1-2 Cross R over L. Step back L.", "L", "1R 2L", 0),
    ("3&4 Step R to R side. Close L beside R. Step R to R side.", "L", "3R 3&L 4R", 0),
    ("1&2 R. Shuffle fwd", "L", "1R 1&L 2R", 0),
    ("3&4 Step fwd R. Close L up to R. Step fwd R.", "L", "3R 3&L 4R", 0),
    ("3&4 1/2 turn R shuffling R L R", "L", "3R 3&L 4R", 4),
    ("1-2 Walk fwd R, L", "L", "1R 2L", 0),
    ("3&4 Rt shuffle fwd", "L", "3R 3&L 4R", 0),
    ("5-6 Rock fwd on L, recover on R", "R", "5L 6R", 0),
    ("7&8 L coaster", "R", "7L 7&R 8L", 0),
    ("1-2 Step R to R side, close L to R", "L", "1R 2L", 0),
    ("3&4 R side shuffle", "L", "3R 3&L 4R", 0),
    ("5-6 Back rock L, rec R", "R", "5L 6R", 0),
    ("7-8 Step L fwd, pivot ½ R", "R", "7L 8R", 4),
    ("1&2 R kick ball change", "L", "1R 1&R 2L", 0),
    ("3-4 R heel dig fwd, R hook across L shin", "L", "3R 4R", 0),
    ("5-8 R grapevine with a scuff", "L", "5R 6L 7R 8L", 0),
    ("1-4 L vine ¼ turn L, scuff R", "R", "1L 2R 3L 4R", -2),
    ("5-8 Jazz box cross (R over L, L back, R side, L over R)", "L", "5R 6L 7R 8L", 0),
    ("1-2 Stride out on the right, then the left", "L", "1R 2L", 0),
    ("3-4 Pop your right heel out in front, then put the foot down next to the left", "L", "3R 4R", 0),
    ("5-6 Rock out onto your left, and replace the weight on the right", "R", "5L 6R", 0),
    ("7&8 Left behind, right out to the side, left across in front", "R", "7L 7&R 8L", 0),
    ("1-2 Touch your right toes out to the side, bring them back beside the left", "L", "1R 2R", 0),
    ("3-4 Big step to the right, and drag the left foot in", "L", "3R 4L", 0),
    ("5-8 Walk round in a half circle to the left: R, L, R, L", "L", "5R 6L 7R 8L", -4),
    ("5-8 Walk round 3/4 to the left: R, L, R, L", "L", "5R 6L 7R 8L", -6),
    ("5-8 Walk R, L, R, L round three quarters to the right", "L", "5R 6L 7R 8L", 6),
    ("7-8 Stamp your right foot twice, no weight", "L", "7R 8R", 0),
    ("1-2 R toe strut forward", "L", "1R 2R", 0),
    ("1-4 R toe strut, L toe strut", "L", "1R 2R 3L 4L", 0),
    ("3&4 Triple step right: R-L-R", "L", "3R 3&L 4R", 0),
    ("5-6 Rock-step back on L", "R", "5L 6R", 0),
    ("1-2 Right K-kick forward, kick to side", "L", "1R 2R", 0),
    ("3&4 Sailor step R", "L", "3R 3&L 4R", 0),
    ("5&6 Sailor L w/ 1/4 turn left", "R", "5L 5&R 6L", -2),
    ("7-8 Stomp R, stomp L", "L", "7R 8L", 0),
    ("1-4 Rocking chair on R", "L", "1R 2L 3R 4L", 0),
    ("5-8 Monterey ½ turn R", "L", "5R 6R 7L 8L", 4),
    ("1-2 Step R fwd, turn 1/4 L taking weight on L", "L", "1R 2L", -2),
    ("5&6 R mambo fwd", "L", "5R 5&L 6R", 0),
    ("7&8 L mambo back", "R", "7L 7&R 8L", 0),
    ("1,2 Point R to side, hold", "L", "1R 2B", 0),
    ("5-6 Cross L over R, unwind ½ turn R (wt on L)", "R", "5L 6B", 4),
    ("1-8 Weave right 8: side, behind, side, cross, side, behind, side, touch", "L", "1R 2L 3R 4L 5R 6L 7R 8L", 0),
    ("1-2 RF step forward, LF step beside RF", "L", "1R 2L", 0),
    ("3-4 RF tap right, RF tap beside LF", "L", "3R 4R", 0),
    ("5&6 RF step right, LF close, RF step right", "L", "5R 5&L 6R", 0),
    ("7-8 LF step behind RF (lift RF), weight back on RF", "R", "7L 8R", 0),
    ("1-2 RF step forward, 1/2 turn left on both balls (weight LF)", "L", "1R 2L", -4),
    ("3-4 RF heel forward tap, RF back beside LF", "L", "3R 4R", 0),
    ("5-6 LF cross over RF, RF step back", "R", "5L 6R", 0),
    ("7-8 LF 1/4 turn left and step forward, RF brush", "R", "7L 8R", -2),
    ("1-2 RF cross behind LF, LF step left", "L", "1R 2L", 0),
    ("3&4 RF kick forward, RF ball beside LF, LF step in place", "L", "3R 3&R 4L", 0),
    ("1-2 Step RF to the R, touch LF next to RF", "L", "1R 2L", 0),
    ("3-4 Walk RF, walk LF forward", "L", "3R 4L", 0),
    ("5&6 Shuffle RF forward (R-L-R)", "L", "5R 5&L 6R", 0),
    ("7-8 Rock step LF forward, back on RF", "R", "7L 8R", 0),
    ("1&2 Triple step 1/2 turn L (L-R-L)", "R", "1L 1&R 2L", -4),
    ("3-4 Step turn 1/2 L: RF in front, 1/2 turn to the L", "L", "3R 4L", -4),
    ("5&6 Coaster step R: RF back, LF next to RF, RF in front", "L", "5R 5&L 6R", 0),
    ("7-8 Stomp LF, stomp-up RF", "R", "7L 8R", 0),
    ("1-4 Vine to the R, touch LF", "L", "1R 2L 3R 4L", 0),
    ("1-2 Right foot forward, left foot forward", "L", "1R 2L", 0),
    ("3&4 Chasse to the right R-L-R", "L", "3R 3&L 4R", 0),
    ("5-6 Rock back with the left, recover weight in the right", "R", "5L 6R", 0),
    ("7-8 Kick left in front, kick left to the side", "R", "7L 8L", 0),
    ("1-2 Step right, stomp left beside (without weight)", "L", "1R 2L", 0),
    ("3-4 Half turn left stepping right back, half turn left stepping left forward", "L", "3R 4L", -8),
    ("1-2 Step R fw, step L fw", "L", "1R 2L", 0),
    ("3-4 R point to R, R step beside L", "L", "3R 4R", 0),
    ("5-6 L rock bw, rec. fw on R", "R", "5L 6R", 0),
    ("7&8 L fw, R beside L, L fw", "R", "7L 7&R 8L", 0),
    ("1-2 ¼ L step R to R, L touch", "L", "1R 2L", -2),
    ("1-2 Cross RF over LF, point LF to L side", "L", "1R 2L", 0),
    ("3-4 Cross LF over RF, point RF to R side", "R", "3L 4R", 0),
    ("5-8 Jazz box 1/4 turn R", "L", "5R 6L 7R 8L", 2),
    ("1&2& RF heel, together, LF heel, together", "L", "1R 1&R 2L 2&L", 0),
    ("3-4 Step RF fwd, hitch LF with ½ turn R", "L", "3R 4L", 4),
    ("1. 2. Step forward on the right foot, swing left foot forward", "L", "1R 2L", 0),
    ("1-3 Waltz forward: left, right, left", "R", "1L 2R 3L", 0),
    ("4-6 Waltz back: right, left, right", "L", "4R 5L 6R", 0),
    ("1-3 Left twinkle", "R", "1L 2R 3L", 0),
    ("1-3 Step L fwd, turn ½ left stepping R back, step L beside R", "R", "1L 2R 3L", -4),
    ("4-6 Step R to side, drag L towards R over two counts", "L", "4R 5L", 0),
    ("1-4 R side tog side touch", "L", "1R 2L 3R 4L", 0),
    ("5-8 L side tog fwd hold", "R", "5L 6R 7L 8B", 0),
    ("12 R fwd L fwd", "L", "1R 2L", 0),
    ("3&4 R beh side X", "L", "3R 3&L 4R", 0),
    ("7-8 piv ½ L x1: R fwd, ½ L", "L", "7R 8L", -4),
    ("5-6 sway R L", "L", "5R 6L", 0),
    ("1-4 heel R tog heel L tog", "L", "1R 2R 3L 4L", 0),
    ("1-2 R stomp clap", "L", "1R 2B", 0),
    ("5-8 K-step first half: R fwd diag, L touch, L back, R touch", "L", "5R 6L 7L 8R", 0),
    ("1-2 ½ R stepping L back, ½ R stepping R fwd", "R", "1L 2R", 8),
    ("3&4 Shuffle ½ turn over left shoulder, R-L-R", "L", "3R 3&L 4R", -4),
    ("5-6 Step R fwd, pivot a quarter to the left", "L", "5R 6L", -2),
    ("7-8 Turn ¼ right & step R fwd, turn ¼ right & step L to side", "L", "7R 8L", 4),
    ("1&2 Chassé R with ¼ turn R on the last step", "L", "1R 1&L 2R", 2),
    ("3-4 Step L fwd, ¾ pivot R", "R", "3L 4R", 6),
    ("1-2 Rock R out to side, recover ¼ L", "L", "1R 2L", -2),
    ("1-2 Step out R, step out L", "L", "1R 2L", 0),
    ("3-4 Step in R, step in L", "L", "3R 4L", 0),
    ("&1-2 Jump feet apart R, L, clap", "L", "&R 1L 2B", 0),
    ("1-2 Skate R, skate L", "L", "1R 2L", 0),
    ("3&4 Lock step fwd R-L-R", "L", "3R 3&L 4R", 0),
    ("1-4 Step R fwd to diagonal, lock L behind R, step R fwd, brush L", "L", "1R 2L 3R 4L", 0),
    ("5-8 Heel split, heel split", "L", "5B 6B 7B 8B", 0),
    ("1-2 Dorothy would be nice: step R to R diagonal, lock L behind R", "L", "1R 2L", 0),
]
# Sentence, and its events: kind, wall, counts into it, length of a tag where it is told.
EVENTS = [
    ("In the fourth wall you stop here, after 24 counts, and begin anew", "restart 4 24"),
    ("The fourth wall has only its first 24 counts; you begin the fifth wall there.", "restart 4 24"),
    (
        "There is a gap: when you finish the 2nd wall and when you finish the 4th fill it with six extra counts",
        "tag 2 end, tag 4 end",
    ),
    ("The second wall brings you home, and there the fiddle plays six counts on its own.", "tag 2 end"),
    ("It finishes during wall 6. After S2 (16 counts) stomp R", "ending 6 16"),
    (
        "And the terminus: in wall 7 the music runs out. By count 28 you will be at the front, stomp R, stomp L.",
        "ending 7 28",
    ),
    ("Dance the tag ONCE after wall 2 and TWICE after wall 4.", "tag 2 end, tag 4 end"),
    ("Bridge (2 counts, once only, on the third wall after section II)", "tag 3 16"),
    ("Tag: at the end of wall 3, 4 counts: R rocking chair", "tag 3 end 4"),
    ("4-count tag after walls 2 and 5", "tag 2 end 4, tag 5 end 4"),
    ("On the 3rd wall dance up to count 16 and restart", "restart 3 16"),
    ("RESTART: during wall 6, after 24 counts (facing 9:00)", "restart 6 24"),
    ("Wall 4 is short: only 16 counts, then start again.", "restart 4 16"),
    ("Restart the dance in wall 2 after section 2", "restart 2 16"),
    ("There are two restarts, both after 16 counts, on walls 3 and 7.", "restart 3 16, restart 7 16"),
    ("In the 5th repetition, stop after count 8 and begin again from the top.", "restart 5 8"),
    ("The 4th time through, do the first 24 counts only, then go back to the beginning.", "restart 4 24"),
    ("BRIDGE (2 counts) end of wall 1: sway R, sway L", "tag 1 end 2"),
    ("After wall 2 and again after wall 4 add: step R, touch L, step L, touch R", "tag 2 end, tag 4 end"),
    ("Ending: wall 9, dance to count 12, then stomp R forward.", "ending 9 12"),
    ("To finish facing the front, dance 14 counts of wall 8 and pivot ½ turn.", "ending 8 14"),
    ("Tag 1 (4 counts) after wall 1; Tag 2 (8 counts) after wall 3", "tag 1 end 4, tag 3 end 8"),
    ("Wall 3 (6:00): restart after 16 counts. Wall 6 (12:00): restart after 8 counts.", "restart 3 16, restart 6 8"),
    ("On wall 5 leave out the last 8 counts and start over.", "restart 5 24"),
    ("W3 restart after 16", "restart 3 16"),
    ("Restarts: W2 & W5 @ 16c", "restart 2 16, restart 5 16"),
    ("R/S wall 4 after S2", "restart 4 16"),
    ("No tags, no restarts!", ""),
    ("One easy tag: 4 counts at the end of the second wall", "tag 2 end 4"),
    ("Neustart: In wall 3 after 16 counts begin again", "restart 3 16"),
    ("After the 3rd round, dance the tag (4 counts)", "tag 3 end 4"),
    ("In round 5 break off after 16 counts and start from the beginning", "restart 5 16"),
    ("Tag after wall 4 (facing 12 o'clock): 4 hip sways R L R L", "tag 4 end"),
    ("Restart occurs on wall 3, after count 16, facing 6 o'clock", "restart 3 16"),
    ("There is a restart during the 4th wall after the first 8 counts.", "restart 4 8"),
    ("On wall seven, dance the first two sections then restart.", "restart 7 16"),
    ("The music pauses after wall 6: hold for 4 counts, then carry on.", "tag 6 end 4"),
    ("Wall 8 ends the dance: do counts 1-16 and pose.", "ending 8 16"),
    ("When you've danced it twice there's a four count tag.", "tag 2 end 4"),
    ("Tag: (end of walls 1, 3 and 6) 4 counts", "tag 1 end 4, tag 3 end 4, tag 6 end 4"),
    ("Restart 1: wall 2 after 16 counts. Restart 2: wall 5 after 24 counts.", "restart 2 16, restart 5 24"),
    ("On the sixth wall, after count 28, restart.", "restart 6 28"),
    ("Dance 20 counts of wall 3, then restart from count 1.", "restart 3 20"),
    ("3rd wall: 16 counts then restart (now facing 3:00)", "restart 3 16"),
    ("Tag, danced once after wall 5, 2 counts: stomp R, stomp L", "tag 5 end 2"),
    ("Repeat the last 4 counts at the end of wall 3.", "tag 3 end 4"),
    ("An extra 4 counts come at the end of wall 2: rocking chair", "tag 2 end 4"),
    ("At the end of the 2nd and 4th walls dance a rocking chair.", "tag 2 end, tag 4 end"),
    ("Finish: on the last wall (wall 10) dance 16 counts and step forward with a bow.", "ending 10 16"),
    ("Restart point: wall 5 after the shuffle on 11&12", "restart 5 12"),
    ("Walls 3 & 6: dance to count 16, restart.", "restart 3 16, restart 6 16"),
    ("During the third wall you restart after the second section.", "restart 3 16"),
    ("Tag happens twice, after walls 2 and 5.", "tag 2 end, tag 5 end"),
    ("The dance ends on wall 7 after 24 counts facing 12:00.", "ending 7 24"),
]


@pytest.mark.parametrize(("line", "weight", "told", "turn"), LINES, ids=[row[0] for row in LINES])
def test_a_step_line_of_any_school(line: str, weight: str, told: str, turn: int) -> None:
    first = int(re.findall(r"\d+", told)[0])
    steps = steps_on(Line(1, 1, line), first)
    context = Context(Feel.STRAIGHT, shipped(), first_count=first)
    read = read_passage(steps, context, Weight.LEFT if weight == "L" else Weight.RIGHT)
    danced = [(s.count, s.movement.foot.value) for s in read.passage.steps if s.movement.foot is not None]
    assert danced == [(one[:-1], one[-1]) for one in told.split() if not one.endswith("B")]
    assert sum(step.movement.turn.eighths for step in read.passage.steps) == turn
    assert [f.code for f in read.findings if f.code not in ("counts-gap", "guess")] == []


WALK = "1-4  Walk R, L, R, L\n5-8  Walk R, L, R, L\n"
SHEET = (
    "Made Up\n32 counts, 4 walls\nTempo: 100\n\n"
    f"Section 1\n{WALK}Section 2\n{WALK}Section 3\n{WALK}"
    "Section 4\n1-4  Walk R, L, R, L\n5-8  Jazz box R turning 1/4 right\n\n"
)


def _events(routine: Routine) -> set[tuple[str, int, int, int]]:
    """(kind, wall, counts into it, length of a tag)."""
    found: set[tuple[str, int, int, int]] = set()
    for tag in routine.tags:
        found |= {("tag", c.wall, c.after if c.after is not None else 32, tag.passage.counts) for c in tag.cuts}
    for restart in routine.restarts:
        found |= {("restart", c.wall, c.after or 0, 0) for c in restart.cuts}
    found |= {("change", wall, 0, 0) for change in routine.changes for wall in change.walls}
    if routine.ending is not None:
        found.add(("ending", routine.ending.cut.wall, routine.ending.cut.after or 0, 0))
    return found


@pytest.mark.parametrize(("sentence", "told"), EVENTS, ids=[row[0] for row in EVENTS])
def test_a_sentence_about_an_event(sentence: str, told: str) -> None:
    read = read_sheet(f"{SHEET}{sentence}\n")
    events = _events(read.routine)
    wanted = [one.replace("end", "32", 1) if one.startswith("tag") else one for one in told.split(", ") if one]
    assert {" ".join(map(str, event[:3])) for event in events} == {" ".join(one.split()[:3]) for one in wanted}
    for kind, wall, _, counts in events:
        long = next((one.split()[3] for one in wanted if one.startswith(f"{kind} {wall} ") and one.count(" ") > 2), "")
        assert not long or counts in (0, int(long))
    assert len(read.routine.sections) == 4


def test_an_easier_way_lies_on_its_counts_by_its_own_rhythm() -> None:
    text = "A ROW - 8 counts, 1 wall\n\n1-4 walk fwd R, L, R, L\n5-8 walk back R, L, R, L\n\n"
    read = read_sheet(text + "Option 3-6: R coaster step, rock L fwd, recover R\n")
    told = [step.count for step in read.routine.sections[0].options[0].passage.steps]
    assert told == ["3", "3&", "4", "5", "6"]
    read = read_sheet(text + "Option 3-4: R coaster step, rock L fwd, recover R\n")
    assert not read.routine.sections[0].options
    assert [(f.place.line, f.code) for f in read.findings if "easier way" in f.message] == [(6, "unread")]


def test_one_letter_and_so_many_walls_is_a_dance_without_parts() -> None:
    text = "A ROW - 4 counts, 1 wall\n\nSection A1\n1-2 walk fwd R, L\nSection A2\n1-2 walk back R, L\n"
    read = read_sheet(text)
    assert [section.part for section in read.routine.sections] == ["", ""]
    assert not has_errors(check(read))


def test_a_turn_without_a_way_goes_as_the_lines_others_do_or_as_a_facing_says() -> None:
    head = "A ROW - 4 counts, 4 walls\n\n"
    rolling = "1-3 full turn right: R fwd turning a quarter, L back turning a half, R side turning a quarter\n"
    rolled = read_sheet(head + rolling)
    assert [step.movement.turn.eighths for step in rolled.routine.sections[0].passage.steps] == [2, 4, 2]
    faced = read_sheet(head + "1-2 step R fwd turning 1/4 (9:00), step L side\n")
    assert faced.routine.sections[0].passage.steps[0].movement.turn.eighths == -2
    asked = read_sheet(head + "1-2 step R fwd turning 1/4, step L side\n")
    assert [f.message for f in asked.findings if f.code == "unreadable"] == ["which way does it turn, left or right?"]


def _read(steps: str) -> tuple[list[str], list[int]]:
    """What each step is on, and the codes' lines of what is an error or was not read."""
    read = read_sheet(f"A ROW - 8 counts, 1 wall, 100 bpm\n\nSection 1\n{steps}\n")
    told = [step.count for section in read.routine.sections for step in section.passage.steps]
    return told, [finding.place.line for finding in check(read) if finding.code not in ("no-option", "header", "guess")]


ROW = "1-4  vine R, touch L\n"


def test_a_bracket_is_closed_on_the_next_line() -> None:
    told, bad = _read(f"{ROW}5-8  vine L, touch R (you are now looking at\n     12 o'clock)")
    assert told == list("12345678")
    assert not bad


def test_steps_go_on_below_where_counts_stand_behind_in_a_column() -> None:
    rows = (
        "Walk forward R, L                    1, 2",
        "Walk forward R, L                    3, 4",
        "Walk back R,",
        "   L                                 5, 6",
        "Walk back R, L                       7, 8",
    )
    told, bad = _read("\n".join(rows))
    assert told == list("12345678")
    assert not bad


def test_a_sign_before_a_clock_marks_a_facing() -> None:
    told, bad = _read(
        "1-4 walk R, L, R, L\n5-6 step R fwd, pivot 1/2 L \u25b26:00\n7-8 step R fwd, pivot 1/2 L \u25b212:00"
    )
    assert told == list("12345678")
    assert not bad
    _, bad = _read("1-4 walk R, L, R, L\n5-6 step R fwd, pivot 1/2 L \u25b29:00\n7-8 step R fwd, pivot 1/2 L")
    assert 5 in bad


def test_a_tag_is_of_the_wall_that_the_sentence_above_tells() -> None:
    talk = "There is a wait in the music once you've done the dance twice and are home at 12:"
    read = read_sheet(f"{SHEET}{talk}\nTag (4 counts): sway R, L, R, L\n")
    assert [cut.wall for tag in read.routine.tags for cut in tag.cuts] == [2]


def test_an_endings_steps_stand_right_below_it() -> None:
    read = read_sheet(
        f"{SHEET}BIG FINISH - The music runs out at the end of wall 6.\nJust add 1 more count: Stomp fwd R\n"
    )
    assert read.routine.ending is not None
    assert read.routine.ending.cut.wall == 6


@pytest.mark.parametrize(
    "line",
    [
        "The third wall is where nobody sings and there are four beats of it",
        "On wall 5 the music has its own ideas, so watch me",
    ],
)
def test_what_is_told_of_a_wall_and_not_read_is_never_lost_in_silence(line: str) -> None:
    read = read_sheet(f"{SHEET}{line}\n")
    assert any(f.code == "unread" and "this tells of wall" in f.message for f in read.findings)


@pytest.mark.parametrize(
    "line", ["Then start wall 5 at the front.", "All clock times are for the first time round", "Enjoy!"]
)
def test_a_note_in_which_nothing_happens_is_not_asked_about(line: str) -> None:
    assert not any("this tells of wall" in f.message for f in read_sheet(f"{SHEET}{line}\n").findings)


def test_a_changed_step_that_cannot_be_read_is_told() -> None:
    told = "RESTART: In the 3rd wall dance only 16 counts. In counts 7-8 of the second block don't make the turn."
    read = read_sheet(f"{SHEET}{told}\n")
    assert any("steps are told to change here" in f.message for f in read.findings)


@pytest.mark.parametrize(
    ("words", "shares"),
    [
        ("Walk round 3/4 to the left: R, L, R, L", (-2, -1, -2, -1)),
        ("Walk around 3/4 over left shoulder stepping R, L, R, L", (-2, -1, -2, -1)),
        ("Walk round in a 3/4 circle right R, L, R, L", (2, 1, 2, 1)),
        ("Walk R, L, R, L round a full turn right", (2, 2, 2, 2)),
        ("Walk round a quarter turn left R, L, R, L", (-1, 0, -1, 0)),
    ],
)
def test_a_turn_walked_round_is_shared_out_over_its_steps(words: str, shares: tuple[int, ...]) -> None:
    sheet = read_sheet(f"ROUND - 4 counts, 4 walls, 100 bpm\n\n1-4 {words}\n")
    (section,) = sheet.routine.sections
    assert tuple(step.movement.turn.eighths for step in section.passage.steps) == shares


BLOCK = "Easier options\nSection 1, counts 1-2: touch R heel forward, touch R beside L\nSection 2, counts 5-8: hold\n"


def test_a_block_of_easier_options_at_the_foot_is_each_of_its_section() -> None:
    read = read_sheet(f"{SHEET}{BLOCK}")
    told = [(s.number, o.first, o.last) for s in read.routine.sections for o in s.options]
    assert told == [(1, 1, 2), (2, 5, 8)]
    assert len(read.routine.sections) == 4


def test_an_easier_way_is_danced_the_same_to_the_other_side() -> None:
    text = "A ROW - 8 counts, 1 wall\n\nSection 1\n1-8 vine R, touch L, vine L, touch R\n"
    read = read_sheet(f"{text}Easier: 1-4 a side, together, side, touch, and the same to the left on 5-8\n")
    (option,) = read.routine.sections[0].options
    feet = [step.movement.foot.value for step in option.passage.steps if step.movement.foot]
    assert (option.first, option.last, "".join(feet)) == (1, 8, "RLRLLRLR")


@pytest.mark.parametrize(
    ("told", "counts"),
    [
        ("step R fwd and strike a pose", 2),
        ("stomp L fwd on the next count", 1),
        ("take one big step fwd on R with arms out", 1),
        ("turn 1/4 right stepping R to the side, and hold on to your hat", 1),
    ],
)
def test_an_ending_is_danced_as_far_as_it_can_be_read(told: str, counts: int) -> None:
    read = read_sheet(f"{SHEET}ENDING: Wall 9 starts at the front. Dance the first 16 counts, then {told}\n")
    assert read.routine.ending is not None
    assert read.routine.ending.passage.counts == counts
    lost = [f.message for f in read.findings if f.code == "guess"]
    assert bool(lost) is ("hat" in told)


def test_an_ending_that_cannot_be_read_is_told() -> None:
    read = read_sheet(f"{SHEET}ENDING: Wall 9. Dance the first 16 counts, then twirl your partner\n")
    assert any("in this ending can't be read" in f.message for f in read.findings)


@pytest.mark.parametrize(
    ("line", "counts", "turn"),
    [
        ("1-2 step R forward making 1/4 turn right to the front, stomp L beside", 2, 2),
        ("1-2 step R to right front corner, touch L beside", 2, 0),
        ("1-2 step R to right and slightly back, cross L over R", 2, 0),
        ("1-2 Point R to side, spin 1/2 R on ball of L bringing R next to L", 2, 4),
        ("1-2 RF step fwd, lock step LF behind RF", 2, 0),
    ],
)
def test_what_stands_beside_a_step_is_no_step(line: str, counts: int, turn: int) -> None:
    read = read_passage([Line(1, 1, line)], Context(Feel.STRAIGHT, shipped()), Weight.LEFT)
    assert len(read.passage.steps) == counts
    assert sum(step.movement.turn.eighths for step in read.passage.steps) == turn
    assert "forward" not in [s.movement.where for s in read.passage.steps if "back" in line]


def test_an_ending_that_the_head_announces_is_danced_as_it_is_told_below() -> None:
    head = SHEET.replace("Tempo: 100\n", "Tempo: 100\nOne tag (after wall 3), one ending (wall 8)\n")
    told = "ENDING: Wall 8 starts at 9:00. Dance the first 16 counts, then turn 1/4 right stepping R forward.\n"
    read = read_sheet(f"{head}TAG: after wall 3, sway R, L, R, L\n{told}")
    assert read.routine.ending is not None
    assert (read.routine.ending.cut.wall, read.routine.ending.cut.after) == (8, 16)
    assert [step.movement.turn.eighths for step in read.routine.ending.passage.steps] == [2]
