"""What kind of file these bytes are, told by what stands in them rather than by the file's name."""

from __future__ import annotations

import re
from enum import Enum


class FileKind(Enum):
    """value: as a person calls it."""

    TEXT = "plain text"
    PDF = "a PDF"
    WORD = "a Word document"
    OPENDOCUMENT = "an OpenDocument text"
    RTF = "an RTF document"
    WEB = "a web page"
    MAIL = "a mail"
    OLD_WORD = "an old Word document"
    PACKED = "a packed file"
    PICTURE = "a picture"
    SOUND = "a recording"
    PROGRAM = "no document"


_PICTURES = (
    b"\x89PNG",
    b"\xff\xd8\xff",
    b"GIF8",
    b"BM",
    b"II*\0",
    b"MM\0*",
    b"\0\0\0\x18ftyphei",
    b"\0\0\0\x1cftyphei",
)
_SOUNDS = (b"ID3", b"OggS", b"fLaC", b"\xff\xfb", b"\xff\xf3", b"MThd")
_WEB = re.compile(rb"<!doctype\s+html|<html[\s>]|<(?:head|body|table|div|p|h[1-6])(?:\s[^<>]*)?>", re.IGNORECASE)
_FIELD = re.compile(rb"([A-Za-z][\w-]*):(?:\s|$)")
_MAIL_HEAD = 65_536  # bytes; what signs and routes a mail is longer than most sheets
_MAIL_FIELDS = {b"from", b"subject"}
_MAIL_ONLY = {b"mime-version", b"received", b"message-id", b"return-path", b"content-type", b"to"}


def kind_of(raw: bytes) -> FileKind:
    """From the first few kilobytes, and for a packed file from the names in it."""
    head = raw[:4096]
    bare = head.lstrip(b"\xef\xbb\xbf \t\r\n")
    if b"%PDF-" in head[:1024]:
        return FileKind.PDF
    if bare.startswith(b"{\\rtf"):
        return FileKind.RTF
    if head.startswith(b"PK\x03\x04"):
        return _packed(raw)
    if head.startswith(b"\xd0\xcf\x11\xe0\xa1\xb1\x1a\xe1"):
        return FileKind.OLD_WORD
    if head.startswith(_PICTURES) or (head.startswith(b"RIFF") and head[8:12] == b"WEBP"):
        return FileKind.PICTURE
    if head.startswith(_SOUNDS) or (head.startswith(b"RIFF") and head[8:12] == b"WAVE"):
        return FileKind.SOUND
    if head.startswith((b"\x7fELF", b"MZ\x90", b"\xca\xfe\xba\xbe", b"\x1f\x8b", b"7z\xbc\xaf", b"Rar!")):
        return FileKind.PROGRAM
    return _written(raw[:_MAIL_HEAD], bare)


def _packed(raw: bytes) -> FileKind:
    if raw[30:38] == b"mimetype" and b"opendocument.text" in raw[38:120]:
        return FileKind.OPENDOCUMENT
    if b"word/document" in raw:
        return FileKind.WORD
    if b"content.xml" in raw and b"opendocument" in raw:
        return FileKind.OPENDOCUMENT
    return FileKind.PACKED


def _written(head: bytes, bare: bytes) -> FileKind:
    """Web pages and mails are text that says so at its head."""
    narrow = bare.replace(b"\0", b"")  # a page in UTF-16 too
    if narrow.startswith((b"<", b"\xff\xfe<", b"\xfe\xff<")) and _WEB.search(narrow):
        return FileKind.WEB
    lines = re.split(rb"\r?\n", head)
    fields: set[bytes] = set()
    for line in lines[1:] if lines[0].startswith(b"From ") else lines:
        if line[:1] in (b" ", b"\t"):
            continue
        field = _FIELD.match(line)
        if field is None:
            return FileKind.MAIL if not line and fields >= _MAIL_FIELDS and fields & _MAIL_ONLY else FileKind.TEXT
        fields.add(field[1].lower())
    return FileKind.TEXT
