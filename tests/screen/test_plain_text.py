"""Text from files, made safe. The categories and bidirectional classes are Unicode's, as unicodedata has them."""

from __future__ import annotations

import unicodedata

import pytest
from hypothesis import given
from hypothesis import strategies as st

from caller.screen.plain_text import REPLACEMENT, plain_text

# Unicode's bidirectional control characters (Unicode Standard Annex 9, table of explicit formatting characters).
BIDI = {"LRE", "RLE", "LRO", "RLO", "PDF", "LRI", "RLI", "FSI", "PDI"}


@given(st.text(alphabet=st.characters(codec=None)))
def test_no_control_escape_or_bidirectional_character_is_left(text: str) -> None:
    shown = plain_text(text)
    assert not [c for c in shown if unicodedata.category(c) in ("Cc", "Cf", "Cs", "Co", "Cn", "Zl", "Zp")]
    assert not [c for c in shown if unicodedata.bidirectional(c) in BIDI]
    assert shown == " ".join(shown.split())


@given(st.text(alphabet=st.characters(codec=None)))
def test_what_is_safe_stays_as_it_is(text: str) -> None:
    assert plain_text(plain_text(text)) == plain_text(text)


@given(st.text(alphabet="abcXYZ 0189,.&/½éÑ日"))
def test_ordinary_words_are_not_touched(text: str) -> None:
    assert plain_text(text) == " ".join(text.split())


@pytest.mark.parametrize(
    ("text", "shown"),
    [
        ("walk \x1b[31mred\x1b[0m walk", "walk red walk"),
        ("a\x1b]0;a title\x07b", "a b"),
        ("a\x9b2Jb", "a b"),
        ("a\x1bcb", "a b"),
        ("\u202egnok\u202c", "gnok"),
        ("line\u2028two\r\nthree\tfour", "line two three four"),
        ("half\x90way", "half way"),
        ("\ud800", REPLACEMENT),
        ("e" + "\u0301" * 40, "é\u0301\u0301"),
        ("[b]walk[/b]", "[b]walk[/b]"),
    ],
)
def test_nasty_text_comes_out_as_words(text: str, shown: str) -> None:
    assert plain_text(text) == shown
