"""Whatever stands in the file: findings, never an exception, nothing that a terminal could obey."""

from __future__ import annotations

import unicodedata

import pytest
from hypothesis import HealthCheck, given, settings
from hypothesis import strategies as st

from caller.dance.check import check
from caller.dance.unroll import unroll
from caller.routine.layout.lines import MOST_BYTES, MOST_LINES
from caller.routine.notation.read import SheetRead, read_bytes, read_sheet
from caller.routine.notation.write import write_sheet
from tests.routine.strategies import odd_texts, readable_sheets


def _messages(raw: bytes) -> list[str]:
    return [f.message for f in check(read_bytes(raw))]


@pytest.mark.parametrize(
    ("raw", "says"),
    [
        (b"", "there are no steps here"),
        (b"\n\n  \n", "there are no steps here"),
        (bytes(range(256)) * 4, "no text file"),
        (b"\x00" * 100, "no text file"),
        (b"Title: T\nSection 1\n1 Stra\xdfe", "not UTF-8"),
        (b"x" * (10 * 1024 * 1024), f"no more than {MOST_BYTES:,}"),
        (b"1\n" * (3 * MOST_LINES), f"more than {MOST_LINES:,} lines"),
        (b"Title: T\nTempo: 100\n1-2 " + b"walk " * 600, "characters"),
    ],
    ids=["empty", "blank", "binary", "zeros", "latin-1", "ten megabytes", "many lines", "one long line"],
)
def test_what_is_no_sheet_is_said_in_a_sentence(raw: bytes, says: str) -> None:
    assert any(says in message for message in _messages(raw))


def test_bytes_that_are_no_utf_8_are_read_as_western_text_and_a_guess_says_so() -> None:
    read = read_bytes(b"Title: Stra\xdfe\nTempo: 100\nSection 1\n1-2 Walk R, L\n")
    assert read.routine.header.title == "Straße"
    assert [f.code for f in read.findings] == ["guess"]


@pytest.mark.parametrize(
    "raw",
    [
        b"Title: T\r\nTempo: 100\r\nSection 1\r\n1-2\tWalk R, L\r\n",
        "\ufeffTitle: T\nTempo: 100\nSection 1\n1-2 Walk R, L\n".encode(),
        b"Title: T\rTempo: 100\rSection 1\r1-2 Walk R, L",
        "Title: T\nTempo: 100\nSection 1\n1–2\u00a0Walk R,\u2003L\n".encode(),
        "Title: T\nTempo: 100\nSection 1\n1-2 Walk R, L\n".encode("utf-16"),
    ],
    ids=["windows", "byte-order mark", "old mac", "wide spaces", "utf-16"],
)
def test_every_way_to_end_a_line_and_to_space_it_is_accepted(raw: bytes) -> None:
    read = read_bytes(raw)
    assert read.findings == ()
    assert [s.movement.action for s in read.routine.sections[0].passage.steps] == ["walk", "walk"]


def _shown(read: SheetRead) -> list[str]:
    """All that a screen or a voice could take from a sheet."""
    routine = read.routine
    texts = [routine.header.title, routine.header.level, routine.header.music, *routine.header.notes]
    texts += [text for _, text in routine.comments]
    texts += [f.message for f in check(read)]
    for section in routine.sections:
        texts += [section.name, *section.passage.notes]
        texts += [word for phrase in section.passage.phrases for word in (phrase.name, *phrase.wordings, *phrase.each)]
    return texts


MARKED = (
    "Title: \x1b[31mRed\x1b[0m \u202eback\u202c [bold]T[/bold]\nTempo: 100\n# \x07 bell\n"
    'Section 1: \x9b2J\n1-2 Walk R, L (\x1b]0;own\x07) "[link=x]\u200ewalk\x08"\n3-4 W\x1b[2Jobble\n'
)


def test_escapes_and_direction_marks_are_dropped_on_the_way_in() -> None:
    for text in _shown(read_sheet(MARKED)):
        assert not [c for c in text if unicodedata.category(c) in ("Cc", "Cf", "Co", "Cs")], repr(text)


def test_what_looks_like_markup_is_kept_as_the_text_it_is() -> None:
    read = read_sheet(MARKED)
    assert "[bold]T[/bold]" in read.routine.header.title
    assert "[link=x]walk" in read.routine.sections[0].passage.phrases[0].wordings[0]


@given(st.binary(max_size=400))
@settings(max_examples=200)
def test_no_bytes_raise(raw: bytes) -> None:
    check(read_bytes(raw))


@given(odd_texts())
@settings(max_examples=300, suppress_health_check=[HealthCheck.too_slow])
def test_no_text_raises_and_every_finding_has_a_place_in_it(text: str) -> None:
    read = read_sheet(text)
    lines = text.splitlines() or [""]
    for finding in check(read):
        assert 1 <= finding.place.line <= max(len(lines), text.count("\n") + text.count("\r") + 1)
        assert finding.place.column >= 1
        assert finding.message
        assert "\n" not in finding.message


@given(readable_sheets(), st.data())
@settings(max_examples=100, suppress_health_check=[HealthCheck.too_slow])
def test_a_sheet_with_a_piece_put_in_anywhere_never_raises(text: str, data: st.DataObject) -> None:
    at = data.draw(st.integers(0, len(text)))
    cut = data.draw(st.integers(0, 20))
    read = read_sheet(text[:at] + data.draw(odd_texts()) + text[at + cut :])
    check(read)
    if any(section.passage.steps for section in read.routine.sections):
        unroll(read.routine, 3)


@given(odd_texts())
@settings(max_examples=100, suppress_health_check=[HealthCheck.too_slow])
def test_writing_either_writes_or_says_that_it_cannot(text: str) -> None:
    read = read_sheet(text)
    try:
        written = write_sheet(read)
    except ValueError:
        passages = [section.passage for section in read.routine.sections]
        passages += [option.passage for section in read.routine.sections for option in section.options]
        passages += [tag.passage for tag in read.routine.tags]
        passages += [one.passage for holder in read.routine.holders for one in holder.replacements]
        passages += [read.routine.ending.passage] if read.routine.ending else []
        assert any(step.movement.action == "unread" for passage in passages for step in passage.steps)
    else:
        assert written.endswith("\n")
