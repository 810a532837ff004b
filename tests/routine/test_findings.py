"""Every code of the check: what finds it, where, once; and a sentence that helps."""

from __future__ import annotations

import pytest

from caller.dance.check import check, has_errors
from caller.routine.findings import CODES, Severity
from caller.routine.notation.read import read_sheet
from tests.routine.writing import codes, found

HEAD = "Title: Test Piece\nCounts: 8\nWalls: 4\nLevel: improver\nTempo: 100\nStarts: right\n"
SOUND = (
    HEAD
    + """
Section 1
1-2  Walk R, L
3&4  Right shuffle forward
5-6  Step L forward, pivot 1/4 right (3:00)
7-8  Rock L forward, recover R
"""
)
# The class starts on R and ends with the weight on R: mended by a touch at the end.
SOUND = SOUND.replace("7-8  Rock L forward, recover R", "7-8  Step L forward, touch R beside L")


def test_the_sound_sheet_is_sound() -> None:
    assert found(SOUND) == []


def test_a_tag_that_is_said_to_face_where_it_does_is_sound() -> None:
    assert found(SOUND + "Tag: after wall 2, facing 6:00\n1-2 Sway R, L\n") == []


def _put(old: str, new: str) -> str:
    assert SOUND.count(old) == 1
    return SOUND.replace(old, new)


WALKS = "1-4  Walk R, L, R, L\n5-8  Walk R, L, R, L\n"
RANGES = (
    HEAD.replace("Counts: 8", "Counts: 16").replace("Walls: 4", "Walls: 1")
    + f"\nSection 1 [1-8]\n{WALKS}Section 2 [17-24]\n{WALKS}"
)

FAULTS = [
    (RANGES, "heading", 11, ["17-24", "1-8"]),
    (_put("Walk R, L", "Wobble R, L"), "guess", 9, ["wobble", "step R, step L"]),
    (_put("Right shuffle", "Right shufle"), "guess", 10, ["shufle", "shuffle"]),
    (_put("Right shuffle forward", "Right marmalade forward"), "unread", 10, ["marmalade", "as it stands"]),
    (_put("pivot 1/4 right", "pivot 1/3 right"), "unreadable", 11, ["1/3", "eighths"]),
    (_put("pivot 1/4 right (3:00)", "pivot 1/4 left"), "contradiction", 11, ["left foot", "right"]),
    (_put("Walk R, L", "Step R to left side, walk L"), "contradiction", 9, ["right foot", "left side"]),
    (_put("5-6", "6-7").replace("7-8", "8"), "counts-gap", 11, ["count 5"]),
    (_put("3&4", "2&3"), "counts-overlap", 10, ["count 2"]),
    (_put("Walk R, L", "Walk R, L, R"), "counts-mismatch", 9, ["3 movements", "2 counts"]),
    (_put("Counts: 8", "Counts: 16"), "counts-total", 2, ["16", "8"]),
    (_put("Walk R, L", "Walk R, R"), "foot-weighted", 9, ["right foot", "move the left"]),
    (_put("(3:00)", "(9:00)"), "facing", 11, ["9:00", "3:00", "half"]),
    (
        SOUND + "Tag: after wall 2, facing 9:00\n1-2 Sway R, L\n",
        "facing",
        13,
        ["to face 9:00", "faces 6:00 there"],
    ),
    (_put("(3:00)", "(3:00) (weight on L)"), "weight", 11, ["right foot", "left foot"]),
    (_put("Walls: 4", "Walls: 2"), "walls", 3, ["3:00", "4 walls"]),
    (_put("touch R beside L", "step R beside L"), "wrong-foot", 12, ["make the last step a touch", "line 12"]),
    (SOUND + "Option 5-6: easier\n5-6  Step L forward, step R beside L\n", "option", 13, ["facing 12:00", "3:00"]),
    (SOUND + "Tag: wall 2 after 12 counts\n1-2 Sway R, L\n", "event-place", 13, ["8 counts", "12"]),
    (SOUND + "Restart: wall 2 after 8 counts\n", "event-place", 13, ["ends after 8 counts anyway"]),
    (_put("Starts: right", "Starts: right\nOrder: A B"), "order", 7, ["no part A"]),
    (_put("Tempo: 100", "Tempo: 1000"), "header", 5, ["30", "300", "1000"]),
    (_put("Tempo: 100\n", ""), "header", 1, ["no tempo"]),
    (_put("Tempo", "Tempi"), "header", 5, ["Tempi", "Tempo"]),
    (_put("Level: improver", "Level: improver\nLevel: beginner"), "header", 5, ["line 4"]),
]


@pytest.mark.parametrize(
    ("text", "code", "line", "words"),
    FAULTS,
    ids=lambda part: part if isinstance(part, str) and "\n" not in part else "",
)
def test_a_fault_is_found_at_its_line_with_words_that_help(text: str, code: str, line: int, words: list[str]) -> None:
    findings = [f for f in found(text) if (f.code, f.place.line) == (code, line)]
    assert findings, found(text)
    for word in words:
        assert word in findings[0].message


def test_every_code_of_the_contract_is_found_by_some_sheet() -> None:
    seen = {code for text, *_ in FAULTS for code, _ in codes(text)}
    seen |= {f.code for f in check(read_sheet(SOUND.replace("pivot 1/4 right (3:00)", "pivot 3/4 right (9:00)")))}
    seen |= {
        f.code
        for f in check(read_sheet(SOUND.replace("7-8  Step L forward, touch R beside L", "7-8  Jump forward, hold")))
    }
    seen |= {f.code for f in check(read_sheet(SOUND.replace("1-2  Walk R, L", "2-1  Walk R, L")))}
    assert seen == set(CODES)


def test_a_big_turn_at_improver_level_wants_an_option_and_has_enough_with_one() -> None:
    big = SOUND.replace("pivot 1/4 right (3:00)", "pivot 3/4 right (9:00)")
    assert [f.code for f in check(read_sheet(big))] == ["no-option"]
    eased = big + "Option 5-6: easier\n5-6  Step L forward turning 1/4 left, step R beside L (9:00)\n"
    assert [f.code for f in check(read_sheet(eased))] == []
    advanced = big.replace("improver", "advanced")
    assert [f.code for f in check(read_sheet(advanced))] == []


def test_the_advice_on_a_big_turn_names_the_counts_that_an_option_takes() -> None:
    sheet = (
        "Title: Shelf\nLevel: improver\nStarts: left\nSection 1: One\n"
        "1-4 Walk L, R, L, touch R\n5-7 Rolling vine right\n8 Touch L beside R\n"
    )
    told = [one.message for one in check(read_sheet(sheet)) if one.code == "no-option"]
    assert len(told) == 1
    assert told[0].endswith("write an easier way without it, as 'Option 5-7: ...'")


def test_more_than_one_full_turn_in_four_counts_is_warned_of() -> None:
    text = SOUND.replace("1-2  Walk R, L", "1-2  Step R back turning 3/4 right, step L back turning 3/4 right")
    assert "caution" in {f.code for f in check(read_sheet(text))}


def test_advice_is_no_error() -> None:
    findings = check(read_sheet(SOUND.replace("pivot 1/4 right (3:00)", "pivot 3/4 right (9:00)")))
    assert {f.severity for f in findings} == {Severity.ADVICE}
    assert not has_errors(findings)


def test_ten_faults_in_one_sheet_are_ten_findings_with_line_and_column() -> None:
    lines = [f"{n}  Wobble wobble" for n in range(1, 11)]
    findings = found("Title: T\nTempo: 100\nSection 1\n" + "\n".join(lines) + "\n")
    assert [(f.code, f.place.line, f.place.column) for f in findings] == [
        ("unread", 3 + n, 4 if n < 10 else 5) for n in range(1, 11)
    ]


def test_a_wrong_facing_is_told_where_it_first_goes_wrong_and_not_again() -> None:
    text = (
        "Title: T\nTempo: 100\nWalls: 4\nStarts: right\nSection 1\n"
        "1-2  Step R forward, pivot 1/4 left (3:00)\n"
        "3-4  Step R forward, pivot 1/4 left (12:00)\n"
        "5-6  Step R forward, pivot 1/4 left (9:00)\n"
    )
    assert codes(text) == [("facing", 6)]


def test_what_can_start_nowhere_is_told_at_the_step_before_and_once() -> None:
    text = SOUND.replace("touch R beside L", "step R beside L") + "Tag: after wall 2\n1-2  Sway R, L\n3-4  Walk R, L\n"
    assert codes(text) == [("wrong-foot", 12)]


def test_an_unreadable_line_hides_nothing_before_it_and_accuses_nothing_after_it() -> None:
    text = SOUND.replace("3&4  Right shuffle forward", "3&4  Right marmalade forward")
    assert codes(text) == [("unread", 10)]


def test_a_phrased_order_is_held_to_its_parts_and_tags() -> None:
    text = (
        "Title: T\nTempo: 100\nOrder: A B Tag A6 C\nStarts: right\n"
        "Part A section 1\n1-4  Walk R, L, R, L\nPart B section 1\n1-2  Walk R, L\n"
    )
    assert [(f.code, f.message.split(";")[0]) for f in found(text)] == [
        ("order", "there is no Tag below"),
        ("order", "part A has 4 counts, so A6 is not in it"),
        ("order", "there is no part C"),
    ]


def test_parts_without_an_order_are_asked_for_one() -> None:
    text = "Title: T\nTempo: 100\nStarts: right\nPart A section 1\n1-2  Walk R, L\n"
    assert codes(text) == [("order", 4)]


def test_two_events_cannot_claim_one_place() -> None:
    restart = "Restart: wall 3 after 2 counts\n"
    assert codes(SOUND + restart + restart) == [("event-place", 14)]


def test_a_restart_inside_needs_the_right_foot() -> None:
    assert codes(SOUND + "Restart: wall 3 after 4 counts\n") == [("wrong-foot", 13)]


def test_a_step_change_mends_a_restart() -> None:
    text = SOUND + "Restart: wall 3 after 4 counts\nS1 3-4  Step R forward, step L beside R\n"
    assert codes(text) == []


def test_a_tag_that_ends_on_the_wrong_foot_is_told_at_the_tag() -> None:
    assert codes(SOUND + "Tag: after wall 2\n1  Step R forward\n") == [("wrong-foot", 13)]


def test_nothing_is_found_twice() -> None:
    for text, *_ in FAULTS:
        findings = check(read_sheet(text))
        assert len({(f.code, f.place) for f in findings}) == len(findings)


def test_the_one_section_that_is_longer_than_the_others_is_told_whichever_it_is() -> None:
    for odd in range(3):
        lengths = ["1-6 Walk R, L, R, L, R, L" if n == odd else "1-4 Walk R, L, R, L" for n in range(3)]
        sections = "".join(f"Section {n}\n{steps}\n\n" for n, steps in enumerate(lengths, 1))
        read = read_sheet(f"Made Up\nCounts: 12\nWalls: 1\nTempo: 100\n\n{sections}")
        (found,) = [finding for finding in check(read) if finding.code == "counts-total"]
        assert "this section has 6 counts where the others have 4" in found.message
        assert found.place.line == 6 + 3 * odd


def test_which_foot_a_later_part_starts_on_is_told_by_the_order() -> None:
    parts = "Part A\nSection 1\n1-3 Walk R, L, R\n\nPart B\nSection 1\n1-3 Walk L, R, L\n"
    read = read_sheet(f"Made Up\nTempo: 100\nOrder: A B\n\n{parts}")
    assert not [finding for finding in check(read) if finding.severity is Severity.ERROR]
