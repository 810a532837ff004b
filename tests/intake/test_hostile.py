"""Files that are broken, or meant to do harm: one sentence, soon, and nothing else."""

from __future__ import annotations

import io
import random
import time
import zipfile

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from caller.intake.apart import read_apart
from caller.intake.found import MOST_FILE_BYTES, SheetText, UnreadableFile
from caller.intake.take import take_in
from tests.intake.files_made import FOLDER, made

DOCUMENTS = sorted(path.name for path in FOLDER.iterdir() if path.suffix in (".pdf", ".docx", ".odt", ".rtf", ".html"))
# Several times what the slowest sheet takes on a slow machine; what grows with the square of its length takes minutes.
SOON_SECONDS = 15.0


def packed(**parts: bytes) -> bytes:
    out = io.BytesIO()
    with zipfile.ZipFile(out, "w", zipfile.ZIP_DEFLATED) as file:
        for name, raw in parts.items():
            file.writestr(name.replace("__", "/") + ".xml", raw)
    return out.getvalue()


def word(body: bytes) -> bytes:
    space = b"http://schemas.openxmlformats.org/wordprocessingml/2006/main"
    return packed(word__document=b'<w:document xmlns:w="%s"><w:body>%s</w:body></w:document>' % (space, body))


def outcome(raw: bytes) -> SheetText | str:
    begun = time.process_time()
    found: SheetText | str
    try:
        found = take_in(raw)
    except UnreadableFile as fault:
        found = str(fault)
    assert time.process_time() - begun < SOON_SECONDS
    assert isinstance(found, SheetText) or (found and "\n" not in found)
    return found


ENTITIES = b"<!DOCTYPE x [<!ENTITY a 'aaaaaaaaaa'>%s]>" % b"".join(
    b"<!ENTITY %c '%s'>" % (98 + n, b"&%c;" % (97 + n) * 10) for n in range(9)
)
MAIL = b"From: a@b.c\nTo: a@b.c\nSubject: x\nMIME-Version: 1.0\n"
HOSTILE = {
    "unpacks into gigabytes": word(b"<w:p><w:r><w:t>" + b" " * 60_000_000 + b"</w:t></w:r></w:p>"),
    "entities of entities": packed(word__document=ENTITIES + b"<w><p><r><t>&j;</t></r></p></w>"),
    "a file of the machine as an entity": packed(
        word__document=b"<!DOCTYPE x [<!ENTITY a SYSTEM 'file:///etc/passwd'>]><w><p><r><t>&a;</t></r></p></w>"
    ),
    "tables in tables": word(b"<w:tbl><w:tr><w:tc>" * 5_000 + b"</w:tc></w:tr></w:tbl>" * 5_000),
    "a table of many cells": word(b"<w:tbl>" + b"<w:tr><w:tc><w:p/></w:tc></w:tr>" * 100_000 + b"</w:tbl>"),
    "a packed file of very many": packed(**{f"word__document{n}": b"<a/>" for n in range(3_000)}),
    "blocks in blocks": b"<html>" + b"<div>" * 200_000,
    "lists in lists": b"<html>" + b"<ol><li>1" * 20_000,
    "tables in tables on a page": b"<html>" + b"<table><tr><td>" * 20_000,
    "a page that never closes its tag": b"<html><p " + b"a" * 5_000_000,
    "braces": b"{\\rtf1 " + b"{" * 1_000_000,
    "groups of boxes": b"{\\rtf1 " + b"{\\*\\shptxt " * 20_000 + b"}" * 20_000,
    "hidden without end": b"{\\rtf1 " + b"{\\v x " * 200_000,
    "a mail of many parts": MAIL + b"Content-Type: multipart/mixed; boundary=x\n\n" + b"--x\n\nhi\n" * 50_000,
    "nothing but a mark": b"%PDF-1.7\n",
    "a very long line": b"1-2 Walk R, L " * 15_000,
    "zeros": bytes(1_000_000),
    "nothing": b"",
    "too large": b" x" * (MOST_FILE_BYTES // 2 + 1),
}


@pytest.mark.parametrize("raw", HOSTILE.values(), ids=HOSTILE.keys())
def test_what_is_meant_to_do_harm_ends_soon(raw: bytes) -> None:
    found = outcome(raw)
    if isinstance(found, SheetText):
        assert "root:" not in found.text
        assert len(found.text) <= 250_000


@pytest.mark.parametrize("name", DOCUMENTS)
def test_a_damaged_document_is_read_as_far_as_it_goes_or_refused(name: str) -> None:
    whole, draw = made(name), random.Random(name)
    for _ in range(40):
        raw = bytearray(whole)
        for _ in range(draw.randint(1, 30)):
            raw[draw.randrange(len(raw))] = draw.randrange(256)
        outcome(bytes(raw[: draw.randrange(len(raw))] if draw.random() < 0.5 else raw))


@settings(max_examples=200)
@given(
    st.sampled_from(
        [b"", b"%PDF-1.4\n", b"{\\rtf1", b"<html>", b"PK\x03\x04", b"From: a\nTo: b\nSubject: c\nDate: d\n\n"]
    ),
    st.binary(max_size=400),
)
def test_any_bytes_get_text_or_a_sentence(head: bytes, rest: bytes) -> None:
    found = outcome(head + rest)
    assert isinstance(found, str) or found.kind


def test_a_document_is_read_in_a_process_of_its_own_with_the_same_outcome() -> None:
    assert read_apart(made("columns.pdf")) == take_in(made("columns.pdf"))
    with pytest.raises(UnreadableFile, match="this PDF is a scan"):
        read_apart(made("scan.pdf"))


def test_a_reader_that_takes_too_long_is_given_up() -> None:
    with pytest.raises(UnreadableFile, match="given up after"):
        read_apart(made("columns.pdf"), most_seconds=0.001)
