"""Sheets made up by Hypothesis: readable ones, line by line in many spellings; and texts that are no sheets at all."""

from __future__ import annotations

from dataclasses import dataclass

from hypothesis import strategies as st


@dataclass(frozen=True)
class LineOf:
    """counts: whole counts it lasts; head: its counts from {1} on; words: with F the free foot and O the other;
    frees_other: whether it leaves the other foot free."""

    counts: int
    head: str
    words: str
    frees_other: bool


LINES = (
    LineOf(2, "{1}-{2}", "Walk {F}, {O}", False),
    LineOf(2, "{1}&{2}", "{Foot} shuffle forward", True),
    LineOf(2, "{1}&{2}", "{Foot} triple back", True),
    LineOf(2, "{1}&{2}", "step {F}, close {O}, step {F}", True),
    LineOf(2, "{1}&{2}", "shuffle {turn} turn {way} stepping {F}, {O}, {F}", True),
    LineOf(2, "{1}-{2}", "Rock {F} forward, recover {O}", False),
    LineOf(2, "{1}-{2}", "side rock {F}, recover", False),
    LineOf(2, "{1}-{2}", "Step {F} forward, pivot {turn} {way}", False),
    LineOf(2, "{1}-{2}", "Step {F} forward turning {turn} {way}, touch {O} beside {F}", True),
    LineOf(4, "{1}-{4}", "Vine {foot}, touch {O} beside {F}", True),
    LineOf(4, "{1}-{4}", "Jazz box {F} turning {turn} {way}", False),
    LineOf(4, "{1}-{4}", "{Foot} rocking chair", False),
    LineOf(2, "{1}&{2}", "{F} coaster step", True),
    LineOf(2, "{1}&{2}", "{F} sailor", True),
    LineOf(2, "{1}&{2}", "{F} kick ball change", False),
    LineOf(2, "{1}-{2}", "Sway {F}, {O}", False),
    LineOf(2, "{1}-{2}", "hip bumps {F}{O}", False),
    LineOf(4, "{1}-{4}", "Big step {F} to {foot} side, drag {O} to {F}", True),
    LineOf(4, "{1}-{4}", "Cross {F} over {O}, unwind {turn} {way}, weight on {O}", False),
    LineOf(2, "{1}-{2}", "Heel {F} forward, hook {F} over {O}", False),
    LineOf(2, "&{1}-{2}", "Step {F} out, step {O} out, hold", False),
    LineOf(2, "{1}&{2}&", "Heel {F} forward, step {F} beside {O}, heel {O} forward, step {O} beside {F}", False),
    LineOf(4, "{1}-{4}", "Monterey {turn} {foot}", False),
    LineOf(2, "{1}-{2}", "Stomp {F}, hold and clap", True),
    LineOf(1, "{1}", "Touch {F} beside {O}", False),
    LineOf(1, "{1}", "Step {F} back", True),
    LineOf(2, "{1}-{2}", "Toe strut {F} forward", True),
    LineOf(2, "{1}-{2}", "paddle {turn} {way}", False),
    LineOf(2, "{1}&{2}", "Chasse {foot}", True),
    LineOf(2, "{1}a{2}", "{F} shuffle forward", True),
    LineOf(3, "{1}-{3}", "Behind, side, cross", True),
    LineOf(3, "{1}-{3}", "{F} twinkle", True),
    LineOf(2, "{1}-{2}", "Skate {F}, {O}", False),
    LineOf(2, "{1}-{2}", "{F} forward, {O} together", False),
    LineOf(2, "{1}-{2}", "step {F} diagonally forward {foot}, scuff {O}", True),
    LineOf(1, "{1}", "stomp up {F}", False),
    LineOf(2, "{1}-{2}", "point {F} to side, flick {F} behind {O}", False),
)
_WORDS = st.sampled_from(("over the hill", "keep low", "class favourite", "count it aloud", "mind the floor"))
_CALLS = st.sampled_from(("walk, walk", "shuffle", "step it, turn it, there", "go", "and back"))


@st.composite
def step_lines(draw: st.DrawFn, free: str = "R", most: int = 5, first: int = 1) -> tuple[list[str], str, int]:
    """Step lines from count ``first`` on; the foot that is free after them, and their last count."""
    lines: list[str] = []
    at = first - 1
    for _ in range(draw(st.integers(1, most))):
        one = draw(st.sampled_from(LINES))
        lines.append(_line(draw, one, free, at))
        at += one.counts
        free = {"R": "L", "L": "R"}[free] if one.frees_other else free
    return lines, free, at


def _line(draw: st.DrawFn, one: LineOf, free: str, at: int) -> str:
    other = {"R": "L", "L": "R"}[free]
    feet = {"R": "right", "L": "left"}
    words = one.words.format(
        F=free,
        O=other,
        foot=feet[free],
        Foot=feet[free].capitalize(),
        turn=draw(st.sampled_from(("1/4", "1/2", "1/8", "¼", "three quarter", "full"))),
        way=draw(st.sampled_from(("left", "right"))),
    )
    head = one.head
    for n in range(1, 5):
        head = head.replace(f"{{{n}}}", str(at + n))
    facing = draw(
        st.sampled_from(("", "", "", " (9:00)", " (3 o'clock)", f" (weight on {other})", " (now facing 12:00)"))
    )
    note = draw(st.none() | _WORDS)
    call = draw(st.none() | _CALLS)
    text = f"{head}  {words}{facing}"
    text += f" ({note})" if note else ""
    text += f'  "{call}"' if call else ""
    return draw(st.sampled_from((text, text, text, text.upper() if not call else text)))


@st.composite
def readable_sheets(draw: st.DrawFn) -> str:
    """A whole sheet that reads without an unread word; whether it can be danced is another matter."""
    out = [
        "Title: Made Up",
        f"Tempo: {draw(st.sampled_from(('96', '104.5', '120')))}",
        f"Feel: {draw(st.sampled_from(('straight', 'swing')))}",
        f"Starts: {draw(st.sampled_from(('right', 'left')))}",
    ]
    out += draw(st.sampled_from(([], ["Music: a slow tune"], ["Notes: for a wet day", "Devised by: nobody"])))
    free = "R" if "right" in out[3] else "L"
    last = 0
    for number in range(1, draw(st.integers(1, 3)) + 1):
        out += draw(st.sampled_from(([], ["# a comment of ours"])))
        out.append(draw(st.sampled_from((f"Section {number}", f"S{number}: Something", f"Sec {number} - And more"))))
        begun = free
        lines, free, last = draw(step_lines(free))
        out += lines
        out += draw(st.sampled_from(([], ["(a note on its own)"])))
        if draw(st.booleans()):
            option, _, until = draw(step_lines(begun, most=2))
            if until <= last:
                out += [f"Option 1-{until}: easier", *option]
    if draw(st.booleans()):
        tag, _, _ = draw(step_lines(free, most=2))
        out += [draw(st.sampled_from(("Tag: after wall 2", "Tag B: after walls 1, 3 and 4"))), *tag]
    if draw(st.booleans()):
        out.append(f"Restart: wall 5 after {last} counts")
    if draw(st.booleans()):
        changed, _, until = draw(step_lines(free, most=1))
        if until <= last:
            out += ["Change: wall 6", *(f"S{number} {line}" for line in changed)]
    if draw(st.booleans()):
        ending, _, _ = draw(step_lines(free, most=1))
        out += ["Ending: wall 8 after 1 counts", *ending]
    return "\n".join(out) + "\n"


# -- what is no sheet

_PIECES = st.sampled_from(
    (
        "1-2",
        "3&4",
        "&1",
        "1e&a2",
        "9-1",
        "1-999",
        "Section 1",
        "Part A",
        "Order: A B Tag",
        "Tag: after wall 2",
        "Restart: wall 1 after 8 counts",
        "Option 1-4",
        "Change: wall 2",
        "S1 1-2 ",
        "Ending: wall 3",
        "repeat 1-4 leading left",
        "walk R, L",
        "shuffle forward turning 1/2 left",
        "vine",
        "(9:00)",
        '"call"',
        "1/0",
        "x99",
        "[bold]",
        "[/]",
        "\x1b[31m",
        "\u202e",
        "\ufeff",
        "½",
        "é\u0301",
        "weight on both",
        "#",
        ":",
        "Counts: 99999999999999999999",
        "Title: ",
    )
)
_SPACE = st.sampled_from((" ", "  ", "\n", "\r\n", "\t", ", ", "-", ""))


@st.composite
def odd_texts(draw: st.DrawFn) -> str:
    """Pieces of the notation thrown together, with any characters between them."""
    pieces = draw(st.lists(st.one_of(_PIECES, st.text(max_size=12)), max_size=30))
    return "".join(piece + draw(_SPACE) for piece in pieces)
