"""Text in the codes that step sheets come in."""

from __future__ import annotations

import pytest
from hypothesis import given
from hypothesis import strategies as st

from caller.intake.encoding import decode
from caller.intake.found import UnreadableFile

SHEET = "Title: Copper Pan\nDon’t rush – keep the “vine” small…\n1-2  Walk R, L\n3&4  Chassé right\n"
FRACTIONS = "1-2  Step R forward, pivot ½ left\n3-4  Turn ¼ left, ¾ right\n"


@pytest.mark.parametrize(
    "code", ["utf-8", "utf-8-sig", "utf-16", "utf-16-le", "utf-16-be", "utf-32", "cp1252", "mac_roman"]
)
def test_a_sheet_reads_the_same_in_each_code(code: str) -> None:
    text, told = decode(SHEET.encode(code))
    assert text.removeprefix("\ufeff") == SHEET
    assert bool(told) == (code in ("cp1252", "mac_roman", "utf-16-le", "utf-16-be"))


@pytest.mark.parametrize("code", ["cp1252", "cp850", "latin-1"])
def test_fractions_of_a_turn_are_kept(code: str) -> None:
    assert decode(FRACTIONS.encode(code))[0] == FRACTIONS


@pytest.mark.parametrize("words", ["Så går vi på gulvet", "Grüne Tür, schöne Füße", "un pas chassé à côté, façon café"])
@pytest.mark.parametrize("code", ["cp1252", "mac_roman", "cp850"])
def test_letters_of_other_languages_are_told_by_where_they_stand(words: str, code: str) -> None:
    assert decode(f"Title: {words}\n1-2 Walk R, L\n".encode(code))[0].splitlines()[0] == f"Title: {words}"


@given(st.text(max_size=300))
def test_what_is_utf_8_is_read_as_such(text: str) -> None:
    raw = text.encode("utf-8", "surrogatepass")
    try:
        plain = raw.decode("utf-8")
    except UnicodeDecodeError:
        return
    if "\0" in text or raw[:2] in (b"\xff\xfe", b"\xfe\xff"):
        return
    assert decode(raw) == (plain.removeprefix("\ufeff"), "")


@given(st.binary(max_size=600))
def test_any_bytes_are_text_or_get_one_sentence(raw: bytes) -> None:
    try:
        said = decode(raw)[1]
    except UnreadableFile as fault:
        said = str(fault)
    assert "\n" not in said
