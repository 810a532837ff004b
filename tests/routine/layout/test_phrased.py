"""Phrased dances: every way of heading a part with every way of telling the order.

Common practice of the trade, no published source.
"""

from __future__ import annotations

import pytest
from hypothesis import example, given, settings
from hypothesis import strategies as st

from caller.dance.check import check
from caller.routine.findings import Severity
from caller.routine.notation.read import read_sheet

# fmt: off
PARTS = {
    "A": ("1-4 Vine R, touch L\n5-8 Vine L, touch R", "1-4 Walk R, L, R, L\n5-8 Rocking chair R"),
    "B": ("1-4 Rocking chair R\n5-6 Stomp R, stomp L\n7-8 Hold",),
}
HEADS = (
    "PART {p} ({n} counts)", "Part {p}", "Part {p}: {n} counts", "{p} ({n})", "{p} - {n} counts", "*** Part {p} ***",
    "[PART {p}]", "{p}-PART ({n} counts)", 'Part "{p}" {n} counts', "== {p} ==", "THE {p} PART ({n})",
    "Verse = Part {p} ({n})", "PART {p}:", "~~ PART {p} ({n} counts) ~~",
)
SECTIONS = ("{p}{k}", "Section {k}", "[{a}-{b}]", "{p}{k}. Vines", "{p}{k}: Vines", "({a}-{b})", "Section {k}: Vines")
KEYS = (
    "Sequence: ", "Order of dance: ", "HOW IT RUNS:   ", "Sequence\n", "The order is: ", "The dance goes ",
    "We dance: ", "Danced in this order: ", "Pattern: ", "Sequence - ",
)
BETWEEN = (", ", " - ", "-", " / ", " \u2013 ", " > ", "; ", " + ", " \u2192 ")
TAGS = ("Tag", "TAG", "tag", "Bridge")
TWICE = ("{}, {}", "{} x2", "{}x2", "{} (x2)", "{} twice", "{} 2x")
# fmt: on


def sheet(head: str, section: str, told: str, *, at_top: bool) -> str:
    rows = ["Copper Kettle", "Phrased, 1 wall, 118 bpm", *([told, ""] if at_top else [""])]
    for part, blocks in PARTS.items():
        rows.append(head.format(p=part, n=8 * len(blocks)))
        for k, block in enumerate(blocks, 1):
            rows += [section.format(p=part, k=k, a=8 * k - 7, b=8 * k), block]
        rows.append("")
    rows += ["TAG (4 counts)", "1-4 Sway R, L, R, L", *([] if at_top else ["", told]), ""]
    return "\n".join(rows)


@settings(max_examples=80)
@given(
    st.sampled_from(HEADS),
    st.sampled_from(SECTIONS),
    st.sampled_from(KEYS),
    st.sampled_from(BETWEEN),
    st.sampled_from(TAGS),
    st.sampled_from(TWICE),
    st.booleans(),
)
@example("{p}-PART ({n} counts)", "{p}{k}", "Pattern: ", " \u2192 ", "Bridge", "{}x2", False)
def test_parts_are_danced_in_the_order_told(
    head: str, section: str, key: str, between: str, tag: str, twice: str, at_top: bool
) -> None:
    told = key + between.join((twice.replace(", ", between).format("A", "A"), tag, "B", "A", "B"))
    text = sheet(head, section, told, at_top=at_top)
    read = read_sheet(text)
    assert [item.part or "Tag" for item in read.routine.order] == ["A", "A", "Tag", "B", "A", "B"], text
    assert [section.passage.counts for section in read.routine.sections] == [8, 8, 8], text
    assert [f for f in check(read) if f.severity is Severity.ERROR or f.code == "unread"] == [], text


# The last would take for ever where each way of parting the letters was tried.
@pytest.mark.parametrize(
    "told", ["A B", "Part A is the verse, part B the chorus", "A, B and C are walls", f"{'A' * 60}!", f"{'A ' * 60}!"]
)
def test_what_only_speaks_of_parts_is_no_order(told: str) -> None:
    assert read_sheet(sheet("PART {p}", "{p}{k}", told, at_top=True)).routine.order == ()
