"""Bytes of any file to the text of a sheet: each kind by its own reader."""

from __future__ import annotations

import re

from caller.intake.encoding import decode
from caller.intake.found import MOST_FILE_BYTES, MOST_TEXT, SheetText, UnreadableFile
from caller.intake.kinds import FileKind, kind_of

_SENTENCES = {
    FileKind.OLD_WORD: "this is an old Word document (.doc); open it and save it as .docx or PDF",
    FileKind.PICTURE: "this is a picture; have its text recognised (OCR) by a scanning program, or type the sheet",
    FileKind.SOUND: "this is a recording, and no step sheet; 'caller music' finds the beat of one",
    FileKind.PACKED: "this is a packed file and no document; unpack it and give the sheet that is in it",
    FileKind.PROGRAM: "this is no document that can be read; save the sheet as PDF, .docx or plain text",
}
_BROKEN = "this file can't be read, it seems to be damaged; open it in the program that made it and save it as PDF"
_ENCRYPTED = "EncryptedPackage".encode("utf-16-le")


def take_in(raw: bytes) -> SheetText:
    """What a file holds, read here and now. Raises UnreadableFile, and nothing else, whatever the bytes are; hostile
    ones may take long, so that documents are better read by :func:`caller.intake.apart.read_apart`."""
    if len(raw) > MOST_FILE_BYTES:
        raise UnreadableFile(
            f"this file has {len(raw):,} bytes, {MOST_FILE_BYTES:,} are read; save the sheet's own pages"
        )
    if not raw.strip():
        raise UnreadableFile("this file is empty")
    try:
        return read_kind(raw, kind_of(raw))
    except UnreadableFile:
        raise
    except Exception:  # whatever a library says of a damaged file, its text can't be had
        raise UnreadableFile(_BROKEN) from None


def read_kind(raw: bytes, kind: FileKind) -> SheetText:
    if kind is FileKind.OLD_WORD and _ENCRYPTED in raw:
        raise UnreadableFile("this document is locked with a password; save it without one")
    if kind in _SENTENCES:
        raise UnreadableFile(_SENTENCES[kind])
    if kind is FileKind.TEXT:
        return read_text(raw)
    # Only what is asked for is brought in: a sheet of plain text needs none of it.
    if kind is FileKind.PDF:
        from caller.intake.pdf import read_pdf

        return read_pdf(raw)
    if kind is FileKind.WORD:
        from caller.intake.word import read_word

        return read_word(raw)
    if kind is FileKind.OPENDOCUMENT:
        from caller.intake.opendocument import read_opendocument

        return read_opendocument(raw)
    if kind is FileKind.RTF:
        from caller.intake.rich_text import read_rich_text

        return read_rich_text(raw)
    if kind is FileKind.WEB:
        from caller.intake.web import read_web

        return read_web(raw)
    from caller.intake.mail import read_mail

    return read_mail(raw, read_kind)


def read_text(raw: bytes) -> SheetText:
    """Plain text as it stands: its lines are its author's own, and keep their numbers."""
    text, told = decode(raw)
    if len(text) > MOST_TEXT:
        raise UnreadableFile(
            f"this holds {len(text):,} characters, and a step sheet has a few thousand; save the sheet for itself"
        )
    return SheetText(re.sub(r"\r\n?", "\n", text), FileKind.TEXT.value, (), (told,) if told else ())
