"""Out as CSV and JSON, and in again the same; the standard library's readers are the outside party."""

from __future__ import annotations

import csv
import io
import json

import pytest
from hypothesis import given

from caller.book.entries import Pages
from caller.book.exchange import COLUMNS, NotABook, from_csv, from_json, to_csv, to_json
from tests.book.books import PAGES, pages


@given(pages())
def test_whatever_goes_out_comes_in_the_same(wanted: Pages) -> None:
    assert from_json(to_json(wanted)) == wanted
    assert from_csv(to_csv(wanted)) == wanted
    assert to_csv(from_csv(to_csv(wanted))) == to_csv(wanted)


def test_the_csv_is_one_table_that_any_spreadsheet_reads() -> None:
    """RFC 4180: lines end in CRLF, quotes are doubled."""
    text = to_csv(PAGES)
    rows = list(csv.DictReader(io.StringIO(text, newline="")))
    assert text.splitlines()[0] == ",".join(COLUMNS)
    assert text.count("\r\n") == 1 + 2 + 2 + 2
    assert 'mind the ""and"", then, stop' in text
    assert [row["kind"] for row in rows] == ["class", "class", "taught", "taught", "note", "note"]
    assert (rows[2]["at"], rows[2]["tempo"], rows[3]["tempo"]) == ("2026-03-31T18:45:00Z", "54", "265/2")


def test_the_json_is_one_document() -> None:
    document = json.loads(to_json(PAGES))
    assert list(document) == ["classes", "taught", "notes"]
    assert document["taught"][0] == {
        "class": "Tuesday", "at": "2026-03-31T18:45:00Z", "routine": "Lantern Row", "way": "walkthrough",
        "part": "section 1", "stage": 2, "stages": 30, "tempo": "54", "full": "108",
    }  # fmt: skip


ROW = "taught,Tuesday,2026-03-31T18:45:00Z,Lantern Row,{way},section 1,{stage},30,54,108,\r\n"


@pytest.mark.parametrize(
    ("rest", "told"),
    [
        (ROW.format(way="nap", stage=1), "line 2 can't be read: Invalid enum value 'nap'"),
        (ROW.format(way="drill", stage="x"), "line 2 can't be read"),
        ("guess,,,,,,,,,,\r\n", "line 2: a line's kind is class, taught or note, not 'guess'"),
        (ROW.format(way="drill", stage=1).replace("2026-03-31T18:45:00Z", "yesterday"), "yesterday"),
        (ROW.format(way="drill", stage=1).replace(",54,", ",1/0,"), "line 2 can't be read"),
    ],
)
def test_a_bad_line_is_told_with_its_number(rest: str, told: str) -> None:
    with pytest.raises(NotABook, match=told):
        from_csv(",".join(COLUMNS) + "\r\n" + rest)


@pytest.mark.parametrize(
    ("text", "told"),
    [("[]", "Expected `object`"), ("{", "Input data was truncated"), ('{"taught": 5}', "Expected `array`"),
     ('{"taught": [5]}', r"taught\[0\]"), ('{"notes": [{"class": "T"}]}', "missing required field `at`"),
     ('{"notes": [{"class": 5, "at": "x"}]}', r"Expected `str`, got `int` - at `\$.notes\[0\].class`")],
)  # fmt: skip
def test_what_is_no_book_is_told_in_one_sentence(text: str, told: str) -> None:
    with pytest.raises(NotABook, match=told):
        from_json(text)


def test_a_table_with_other_columns_is_refused() -> None:
    with pytest.raises(NotABook, match="its first line must name the columns"):
        from_csv("a,b\r\n1,2\r\n")
    with pytest.raises(NotABook):
        from_csv("")
