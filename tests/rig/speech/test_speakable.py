"""Nothing that reaches a synthesiser is markup."""

from __future__ import annotations

import unicodedata

import pytest
from hypothesis import given
from hypothesis import strategies as st

from caller.rig.speech.speakable import speakable

# What starts markup or orders: SSML, an XML language (W3C, XML 1.0, 2.4), with "<" and "&"; phoneme text of espeak-ng
# ("[[...]]": its docs/commands.md, "Phoneme Input") and embedded orders of macOS ("[[slnc 500]]": Apple's Speech
# Synthesis Programming Guide; second hand).
MARKUP = frozenset("<>[]{}|\\&")


@given(st.text())
def test_no_markup_and_no_control_character_gets_through(text: str) -> None:
    spoken = speakable(text)
    assert not MARKUP & set(spoken)
    assert not any(unicodedata.category(character)[0] == "C" for character in spoken)
    spoken.encode("utf-8")


@given(st.text())
def test_what_is_speakable_stays_as_it_is(text: str) -> None:
    assert speakable(speakable(text)) == speakable(text)


@given(st.from_regex(r"[a-z]{1,8}(,? [a-z]{1,8}){0,5}", fullmatch=True))
def test_plain_words_are_left_alone(words: str) -> None:
    assert speakable(words) == words


@pytest.mark.parametrize(
    ("text", "spoken"),
    [
        ("<speak>walk</speak>", "speak walk /speak"),
        ("walk [[slnc 5000]] walk", "walk slnc 5000 walk"),
        ("walk\x01200S walk", "walk 200S walk"),
        ("kick & cross", "kick and cross"),
        ("rock\n\trecover", "rock recover"),
        ("zig\u200bzag", "zig zag"),
        ("\ud800step", "step"),
        ("caf\u0065\u0301", "caf\u00e9"),
        ("half past seven, turn!", "half past seven, turn!"),
    ],
)
def test_text_comes_out_as_words(text: str, spoken: str) -> None:
    assert speakable(text) == spoken


@pytest.mark.parametrize("text", ["", "   ", "!?", "<>", "[[]]", "\x00\x01", "..."])
def test_what_has_no_letter_or_figure_can_not_be_said(text: str) -> None:
    assert speakable(text) == ""
