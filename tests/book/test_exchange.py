"""Out as CSV and JSON, and in again the same; the standard library's readers are the outside party."""

from __future__ import annotations

import csv
import io
import json
from fractions import Fraction

import pytest
from hypothesis import given

from caller.book.entries import Note, Pages, Taught, missing_from
from caller.book.exchange import COLUMNS, LATER, NotABook, from_csv, from_json, to_csv, to_json
from tests.book.books import PAGES, START, pages
from tests.outside.test_documents import HOSTILE_JSON


@given(pages())
def test_whatever_goes_out_comes_in_the_same(wanted: Pages) -> None:
    """Tempos to a hundredth, and none of it is lacking in the book that it came from."""
    for again in (from_json(to_json(wanted)), from_csv(to_csv(wanted))):
        assert missing_from(wanted, again) == missing_from(again, wanted) == Pages()
        assert len(again.taught) == len(wanted.taught)
    assert to_csv(from_csv(to_csv(wanted))) == to_csv(wanted)


def test_the_csv_is_one_table_that_any_spreadsheet_reads() -> None:
    """RFC 4180: lines end in CRLF, quotes are doubled."""
    text = to_csv(PAGES)
    rows = list(csv.DictReader(io.StringIO(text, newline="")))
    assert text.splitlines()[0] == ",".join(COLUMNS)
    assert text.count("\r\n") == 1 + 2 + 2 + 2 + 1
    assert 'mind the ""and"", then, stop' in text
    assert [row["kind"] for row in rows] == ["class", "class", "taught", "taught", "note", "note", "mark"]
    assert (rows[2]["at"], rows[2]["tempo"], rows[3]["tempo"]) == ("2026-03-31T18:45:00Z", "54", "132.5")


def test_tempos_go_out_as_plain_numbers_and_fractions_come_in() -> None:
    sung = Taught("Tuesday", START, "Lantern Row", "dance", "11 walls", tempo=Fraction(567, 5), full=Fraction(340, 3))
    kept = Pages(("Tuesday",), (sung,))
    assert {key: json.loads(to_json(kept))["taught"][0][key] for key in ("tempo", "full")} == {
        "tempo": "113.4",
        "full": "113.33",
    }
    assert ",113.4,113.33," in to_csv(kept)
    assert (
        from_json(to_json(kept).replace("113.33", "340/3")) == from_csv(to_csv(kept).replace("113.33", "340/3")) == kept
    )


def test_the_json_is_one_document() -> None:
    document = json.loads(to_json(PAGES))
    assert list(document) == ["classes", "taught", "notes", "marks"]
    assert document["taught"][0] == {
        "class": "Tuesday", "at": "2026-03-31T18:45:00Z", "routine": "Lantern Row", "way": "walkthrough",
        "part": "section 1", "stage": 2, "stages": 30, "tempo": "54", "full": "108",
        "attended": "yes", "since": 1,
    }  # fmt: skip
    assert document["marks"] == [
        {"class": "Tuesday", "at": "2026-03-31T18:54:00Z", "routine": "Lantern Row", "mark": "shaky"}
    ]


def test_what_was_exported_before_there_were_marks_comes_in_as_it_was() -> None:
    before = Pages(PAGES.classes, PAGES.taught, PAGES.notes)
    document = json.loads(to_json(before))
    del document["marks"]
    for entry in document["taught"]:
        del entry["attended"], entry["since"]
    assert from_json(json.dumps(document)) == before
    rows = [row[: -len(LATER)] for row in csv.reader(io.StringIO(to_csv(before), newline=""))]
    text = io.StringIO(newline="")
    csv.writer(text).writerows(rows)
    assert from_csv(text.getvalue()) == before


def test_what_was_exported_before_stages_told_what_was_left_out_comes_in_as_it_was() -> None:
    rows = [row[:-1] for row in csv.reader(io.StringIO(to_csv(PAGES), newline=""))]
    assert rows[0][-1] == "mark"
    text = io.StringIO(newline="")
    csv.writer(text).writerows(rows)
    assert from_csv(text.getvalue()) == PAGES


ROW = "taught,Tuesday,2026-03-31T18:45:00Z,Lantern Row,{way},section 1,{stage},30,54,108,,yes,,1\r\n"


@pytest.mark.parametrize(
    ("rest", "told"),
    [
        (ROW.format(way="nap", stage=1), "line 2 can't be read: Invalid enum value 'nap'"),
        (ROW.format(way="drill", stage="x"), "line 2 can't be read"),
        ("guess,,,,,,,,,,,,,\r\n", "line 2: a line's kind is class, taught, note or mark, not 'guess'"),
        (ROW.format(way="drill", stage=1).replace("2026-03-31T18:45:00Z", "yesterday"), "yesterday"),
        (ROW.format(way="drill", stage=1).replace(",yes,", ",perhaps,"), "Invalid enum value 'perhaps'"),
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


FORMULAS = ("=1+1", "+1", "-1", "@SUM(A1)", "\t=1", "\r=1", "'=1", "''", "'quoted'", "-")


@pytest.mark.parametrize("words", FORMULAS)
def test_no_cell_is_worked_out_by_a_spreadsheet_and_all_come_back_the_same(words: str) -> None:
    """OWASP, "CSV Injection": what begins with = + - @ tab or carriage return."""
    note = Note(words, START, words, words)
    text = to_csv(Pages((words,), (), (note,)))
    for row in csv.reader(io.StringIO(text, newline="")):
        assert not any(cell.startswith(("=", "+", "-", "@", "\t", "\r")) for cell in row)
    assert from_csv(text) == Pages((words,), (), (note,))


def test_a_table_from_before_that_was_so_is_read_as_it_stands() -> None:
    text = ",".join(COLUMNS) + "\r\nclass,=1+1,,,,,,,,,\r\n"
    assert from_csv(text).classes == ("=1+1",)


HOSTILE_ROWS = {
    "tempo": ["1e4000", "nan", "-54", "0", "9" * 5000, "1/" + "9" * 300, "801"],
    "stage": ["-1", "1e9", "9" * 400, "1.5", ""],
    "at": ["0001-01-01T00:00:00Z", "9999-12-31T23:59:59Z", "2026-13-01T00:00:00Z", ""],
    "class": ["x" * 201],
    "part": ["x" * 5001],
}


@pytest.mark.parametrize(("column", "value"), [(c, v) for c, values in HOSTILE_ROWS.items() for v in values], ids=str)
def test_what_no_class_can_have_done_is_not_taken_in(column: str, value: str) -> None:
    """A tempo of 1e4000 once came in, and the book could not be read any more."""
    row = {"kind": "taught", "class": "Tuesday", "at": "2026-03-31T18:45:00Z", "routine": "Lantern Row", "way": "drill",
           "part": "section 1", "stage": "1", "stages": "30", "tempo": "54", "full": "108", "words": "",
           "attended": "yes", "mark": ""}  # fmt: skip
    out = io.StringIO(newline="")
    table = csv.DictWriter(out, COLUMNS)
    table.writeheader()
    table.writerow({**row, column: value})
    with pytest.raises(NotABook, match="line 2 can't be read"):
        from_csv(out.getvalue())
    number = value if column in ("tempo", "at", "class", "part") or not value.isdigit() else int(value[:300])
    told = {key: row[key] for key in row if key not in ("kind", "words", "mark")}
    document = {**told, "stage": 1, "stages": 30, column: number}
    with pytest.raises(NotABook):
        from_json(json.dumps({"taught": [document]}))


@pytest.mark.parametrize("kind", HOSTILE_JSON)
def test_a_hostile_file_is_told(kind: str) -> None:
    with pytest.raises(NotABook) as fault:
        from_json(HOSTILE_JSON[kind])
    assert len(str(fault.value)) < 400


def test_a_table_of_a_hostile_shape_is_told() -> None:
    head = ",".join(COLUMNS) + "\r\n"
    for rest in ("class" + "," * 100_000, '"' * 99_999, "note," + "x" * 200_000, "taught\r\n" * 3):
        with pytest.raises(NotABook):
            from_csv(head + rest)
