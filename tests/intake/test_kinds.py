"""Word, OpenDocument, web and mail in their finer points, from files that are written here."""

from __future__ import annotations

import io
import zipfile
from email.message import EmailMessage

import pytest

from caller.intake.kinds import FileKind, kind_of
from caller.intake.take import take_in
from tests.intake.files_made import lines_of, made

W = "http://schemas.openxmlformats.org/wordprocessingml/2006/main"


def word(body: str, **parts: str) -> bytes:
    out = io.BytesIO()
    with zipfile.ZipFile(out, "w") as file:
        for name, xml in {"document": f"<w:document><w:body>{body}</w:body></w:document>", **parts}.items():
            file.writestr(f"word/{name}.xml", xml.replace(">", f' xmlns:w="{W}">', 1))
    return out.getvalue()


def paragraph(text: str, properties: str = "") -> str:
    return f"<w:p><w:pPr>{properties}</w:pPr><w:r><w:t>{text}</w:t></w:r></w:p>"


NUMBERING = """<w:numbering><w:abstractNum w:abstractNumId="7">
<w:lvl w:ilvl="0"><w:start w:val="1"/><w:numFmt w:val="upperRoman"/><w:lvlText w:val="Set %1:"/></w:lvl>
<w:lvl w:ilvl="1"><w:start w:val="1"/><w:numFmt w:val="decimal"/><w:lvlText w:val="%2"/></w:lvl></w:abstractNum>
<w:num w:numId="3"><w:abstractNumId w:val="7"/></w:num></w:numbering>"""


def test_words_own_numbers_are_written_as_they_are_seen_and_begin_again_below_each_heading() -> None:
    def listed(level: int) -> str:
        return f'<w:numPr><w:ilvl w:val="{level}"/><w:numId w:val="3"/></w:numPr>'

    body = "".join(
        paragraph(text, listed(level))
        for level, text in ((0, "Walks"), (1, "Walk R"), (1, "Walk L"), (0, "Rock"), (1, "Rock R forward"))
    )
    found = take_in(word(body, numbering=NUMBERING))
    assert lines_of(found.text) == ["Set I: Walks", "1 Walk R", "2 Walk L", "Set II: Rock", "1 Rock R forward"]


def test_what_was_deleted_or_hidden_in_word_is_not_there_and_what_was_inserted_is() -> None:
    body = (
        "<w:p><w:r><w:t>1-2 Walk R</w:t></w:r><w:del><w:r><w:delText>, walk R</w:delText></w:r></w:del>"
        "<w:ins><w:r><w:t>, L</w:t></w:r></w:ins><w:r><w:rPr><w:vanish/></w:rPr><w:t> secret</w:t></w:r></w:p>"
    )
    assert take_in(word(body)).text == "1-2 Walk R, L\n"


def test_a_sheet_laid_out_as_a_table_of_two_columns_is_read_column_by_column() -> None:
    left = "".join(paragraph(f"{n} Step R to side") for n in range(1, 5))
    right = "".join(paragraph(f"{n} Step L to side") for n in range(5, 9))
    found = take_in(word(f"<w:tbl><w:tr><w:tc>{left}</w:tc><w:tc>{right}</w:tc></w:tr></w:tbl>"))
    assert [line.split()[0] for line in lines_of(found.text)] == [str(n) for n in range(1, 9)]


def test_counts_in_one_cell_and_their_steps_in_the_next_are_rows() -> None:
    left = "".join(paragraph(counts) for counts in ("1-2", "3&amp;4", "5-8"))
    right = "".join(paragraph(words) for words in ("Walk R, L", "Right shuffle forward", "Vine left"))
    found = take_in(word(f"<w:tbl><w:tr><w:tc>{left}</w:tc><w:tc>{right}</w:tc></w:tr></w:tbl>"))
    assert found.text == "1-2  Walk R, L\n3&4  Right shuffle forward\n5-8  Vine left\n"


def test_a_pages_head_that_tells_of_the_dance_is_kept_and_page_numbers_are_told() -> None:
    head = f"<w:hdr>{paragraph('Lime Kiln')}{paragraph('32 counts, 4 walls')}{paragraph('Page 1')}</w:hdr>"
    foot = f"<w:ftr>{paragraph('Sheets of the hall')}</w:ftr>"
    found = take_in(word(paragraph("1-2 Walk R, L"), header1=head, footer1=foot))
    assert found.text == "Lime Kiln\n32 counts, 4 walls\n1-2 Walk R, L\n"
    assert set(found.left_out) == {"Page 1", "Sheets of the hall"}


@pytest.mark.parametrize(
    ("page", "lines"),
    [
        ("<ol start=3><li>Walk<li value=7>Rock<li>Vine</ol>", ["3. Walk", "7. Rock", "8. Vine"]),
        ("<ol type=i><li><p>Walk</p></li><li><div>Rock</div></li></ol>", ["i. Walk", "ii. Rock"]),
        ("<p>1-2 Walk<br>3-4 Rock&nbsp;&frac14; &amp; hold</p>", ["1-2 Walk", "3-4 Rock ¼ & hold"]),
        ("<pre>1-2  Walk R, L\n3-4  Rock R\n</pre>", ["1-2 Walk R, L", "3-4 Rock R"]),
        ("<p>1-2 Walk</p><p style='color:red; display: none'>gone</p><p hidden>gone</p>", ["1-2 Walk"]),
        ("<ul><li><a href=a>Home</a><li><a href=b>Sheets</a><li><a href=c>Shop</a></ul><p>1-2 Walk</p>", ["1-2 Walk"]),
        ("<dl><dt>1-2<dd>Walk R, L</dl>", ["1-2 Walk R, L"]),
        ("<dl><dt>Tag<dd>Walk R, L</dl>", ["Tag", "Walk R, L"]),
        ("<table><tr><th>1-2<td>Walk<td>12:00<tr><td colspan=3>Section 2</table>", ["1-2 Walk 12:00", "Section 2"]),
    ],
)
def test_a_page_is_read_as_a_browser_shows_it(page: str, lines: list[str]) -> None:
    assert lines_of(take_in(f"<html><body>{page}</body></html>".encode()).text) == lines


@pytest.mark.parametrize("code", ["utf-8", "iso-8859-1", "utf-16"])
def test_a_page_is_read_in_the_code_that_it_names(code: str) -> None:
    page = f"<html><head><meta charset='{code}'></head><body><p>1-2 Chassé ½ right</p></body></html>"
    assert take_in(page.encode(code)).text == "1-2 Chassé ½ right\n"


def pdf(drawn: str) -> bytes:
    """A page of A4 with what is drawn on it; a reader finds the objects without a table of them."""
    stream = drawn.encode()
    return b"\n".join(
        (
            b"%PDF-1.4",
            b"1 0 obj<</Type/Catalog/Pages 2 0 R>>endobj",
            b"2 0 obj<</Type/Pages/Kids[3 0 R]/Count 1>>endobj",
            b"3 0 obj<</Type/Page/Parent 2 0 R/MediaBox[0 0 595 842]/Contents 4 0 R"
            b"/Resources<</Font<</F 5 0 R>>>>>>endobj",
            b"4 0 obj<</Length %d>>stream\n%s\nendstream endobj" % (len(stream), stream),
            b"5 0 obj<</Type/Font/Subtype/Type1/BaseFont/Helvetica>>endobj",
            b"trailer<</Root 1 0 R>>\n%%EOF",
        )
    )


def test_what_is_drawn_twice_to_look_bold_comes_once() -> None:
    drawn = "".join(f"BT /F 12 Tf {72 + x} 700 Td (1-2 Walk off, 3-4 Shuffle off, 5-8 Hold) Tj ET " for x in (0, 0.4))
    assert take_in(pdf(drawn)).text == "1-2 Walk off, 3-4 Shuffle off, 5-8 Hold\n"


def test_a_mark_across_the_page_is_told_and_left_out() -> None:
    steps = "BT /F 12 Tf 72 700 Td (1-2 Walk off, 3-4 Shuffle off, 5-8 Hold) Tj ET"
    found = take_in(pdf(f"{steps} BT /F 40 Tf .7 .7 -.7 .7 150 300 Tm (DRAFT ONE) Tj ET"))
    assert found.text == "1-2 Walk off, 3-4 Shuffle off, 5-8 Hold\n"
    assert found.left_out == ("DRAFT ONE",)


def mail(body: str, **attached: bytes) -> bytes:
    message = EmailMessage()
    message["From"], message["To"], message["Subject"] = "A <a@example.org>", "b@example.org", "Tuesday's sheet"
    message.set_content(body)
    for name, raw in attached.items():
        message.add_attachment(raw, maintype="application", subtype="octet-stream", filename=name.replace("__", "."))
    return message.as_bytes()


def test_a_mail_is_what_it_says_without_its_head() -> None:
    found = take_in(mail("Copper Pan\n1-2 Chassé right\n3-4 Rock L back, recover R\n"))
    assert found.text == "Copper Pan\n1-2 Chassé right\n3-4 Rock L back, recover R\n"
    assert "Subject: Tuesday's sheet" in found.left_out


def test_a_sheet_that_is_attached_to_a_mail_is_the_sheet() -> None:
    found = take_in(mail("Here you are!", slate__docx=made("slate-yard.docx")))
    assert found.text == take_in(made("slate-yard.docx")).text
    assert found.told == ("read from slate.docx, which is attached to this mail",)


@pytest.mark.parametrize(
    ("raw", "kind"),
    [
        (b"Title: Copper Pan\nFrom: a teacher\nDate: Tuesday\n1-2 Walk R, L", FileKind.TEXT),
        (b"<< Copper Pan >>\n1-2 Walk R, L", FileKind.TEXT),
        (b"1-2 Walk R, L <p>", FileKind.TEXT),
        (b"\xef\xbb\xbf<!DOCTYPE html><p>1-2 Walk", FileKind.WEB),
        (b"\n\n%PDF-1.4 ...", FileKind.PDF),
        (b"PK\x03\x04 pictures and songs", FileKind.PACKED),
        (b"\xff\xd8\xff\xe0 JFIF", FileKind.PICTURE),
        (b"ID3\x04 a song", FileKind.SOUND),
    ],
)
def test_kinds_are_told_by_what_stands_in_a_file(raw: bytes, kind: FileKind) -> None:
    assert kind_of(raw) is kind


def test_a_web_page_saved_as_one_file_is_the_page() -> None:
    head = "From: <Saved by a browser>\r\nSubject: x\r\nMIME-Version: 1.0\r\nX-Long: " + "a" * 9_000
    parts = 'Content-Type: multipart/related; type="text/html"; boundary="b"\r\n\r\n--b\r\nContent-Type: text/html'
    found = take_in(f"{head}\r\n{parts}\r\n\r\n<html><body><p>1-2 Walk R, L</body></html>\r\n--b--\r\n".encode())
    assert found.text == "1-2 Walk R, L\n"
