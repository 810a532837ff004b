"""Pages of a class book, made by hand and at random."""

from __future__ import annotations

from datetime import UTC, datetime, timedelta
from fractions import Fraction

from hypothesis import strategies as st

from caller.book.entries import STANDINGS, WAYS, Mark, Note, Pages, Taught

START = datetime(2026, 3, 31, 18, 45, tzinfo=UTC)
PAGES = Pages(
    ("Beginners", "Tuesday"),
    (
        Taught("Tuesday", START, "Lantern Row", "walkthrough", "section 1", 2, 30, Fraction(54), Fraction(108)),
        Taught("Tuesday", START + timedelta(minutes=9), "Lantern Row", "drill", "tag", 0, 0, Fraction(265, 2)),
    ),
    (
        Note("Tuesday", START, "Lantern Row", 'mind the "and", then, stop\nsecond line'),
        Note("Tuesday", START, "", "née"),
    ),
    (Mark("Tuesday", START + timedelta(minutes=9), "Lantern Row", "shaky"),),
)

NAMES = st.sampled_from(("Tuesday", "Beginners", 'Née, "B"', "=1+1"))
INSTANTS = st.integers(0, 10_000_000).map(lambda seconds: START + timedelta(seconds=seconds))
# All that can be written in UTF-8; a lone carriage return or NUL is no text that a teacher types.
WORDS = st.text(st.characters(exclude_categories=["Cs"], exclude_characters="\x00"), max_size=20)
TEMPOS = st.none() | st.fractions(20, 400, max_denominator=12)


@st.composite
def pages(draw: st.DrawFn) -> Pages:
    taught = draw(
        st.lists(
            st.builds(
                Taught, NAMES, INSTANTS, WORDS, st.sampled_from(WAYS), WORDS, st.integers(0, 40), st.integers(0, 40),
                TEMPOS, TEMPOS, st.booleans(), st.integers(1, 40),
            ),
            max_size=4,
        )
    )  # fmt: skip
    notes = draw(st.lists(st.builds(Note, NAMES, INSTANTS, WORDS, WORDS), max_size=3))
    marks = draw(st.lists(st.builds(Mark, NAMES, INSTANTS, WORDS, st.sampled_from(STANDINGS)), max_size=3))
    named = {entry.class_name for entry in (*taught, *notes, *marks)} | set(draw(st.lists(NAMES, max_size=2)))
    return Pages(tuple(sorted(named)), tuple(taught), tuple(notes), tuple(marks))
