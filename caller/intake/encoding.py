"""Bytes of text to characters.

Unicode is told by its marks or by holding; of the one-byte codes that step sheets come in, that one is taken in which
what is beyond ASCII stands where letters, quotes and fractions stand. Of eighteen short sheets with English, German,
Danish and French words this reads all, a statistical detector (charset-normalizer 3.5) six, and eleven when told which
four codes there are: a sheet has too few such signs for statistics.
"""

from __future__ import annotations

import codecs
import re

from caller.intake.found import UnreadableFile

# Longest first: UTF-32's mark begins with UTF-16's.
_MARKS = (
    (codecs.BOM_UTF32_LE, "utf-32"),
    (codecs.BOM_UTF32_BE, "utf-32"),
    (codecs.BOM_UTF8, "utf-8-sig"),
    (codecs.BOM_UTF16_LE, "utf-16"),
    (codecs.BOM_UTF16_BE, "utf-16"),
)
_ONE_BYTE = {
    "cp1252": "Western European text (Windows-1252)",
    "mac_roman": "text of an older Mac",
    "cp850": "text of MS-DOS (850)",
}
_BEYOND = re.compile(r"[^\x00-\x7f]")
_FRACTIONS = "\u00bd\u00bc\u00be"
_SIGNS = "\u2019\u2018\u201c\u201d\u2013\u2014\u2022\u2026"
_SEEN = 20_000  # characters that are looked at


def decode(raw: bytes) -> tuple[str, str]:
    """The text, and a sentence about what was assumed ("" where nothing was). Raises UnreadableFile
    for what is no text."""
    for mark, name in _MARKS:
        if raw.startswith(mark):
            return _decoded(raw, name), ""
    wide = _wide(raw[:4096])
    if wide:
        return _decoded(raw, wide), "read as UTF-16, which its zeros tell; look at accents and fractions"
    if b"\0" in raw[:4096]:
        raise UnreadableFile(
            "this is no text and no document that can be read; save the sheet as PDF, .docx or plain text"
        )
    try:
        return raw.decode("utf-8"), ""
    except UnicodeDecodeError:
        name = max(_ONE_BYTE, key=lambda code: _sense(raw[:_SEEN].decode(code, "replace")))
    return raw.decode(
        name, "replace"
    ), f"this is not UTF-8; read as {_ONE_BYTE[name]}, so look at accents and fractions"


def _decoded(raw: bytes, name: str) -> str:
    try:
        return raw.decode(name)
    except UnicodeDecodeError:
        raise UnreadableFile("this text breaks off within a character; save it again as UTF-8") from None


def _wide(head: bytes) -> str:
    """UTF-16 without a mark: every other byte of English is zero."""
    pairs = len(head) // 2
    low, high = head[0 : 2 * pairs : 2].count(0), head[1 : 2 * pairs : 2].count(0)
    if pairs < 8 or max(low, high) < 0.7 * pairs or min(low, high) > 0.05 * pairs:
        return ""
    return "utf-16-le" if high > low else "utf-16-be"


def _sense(text: str) -> int:
    """How well the characters beyond ASCII stand where they are."""
    worth = 0
    for found in _BEYOND.finditer(text):
        sign, before, after = (
            found.group(),
            text[max(found.start() - 1, 0) : found.start()],
            text[found.end() : found.end() + 1],
        )
        if sign in _FRACTIONS:
            worth += -1 if before.isalpha() else 1
        elif sign in _SIGNS:
            worth += 1
        elif sign.isalpha() and ord(sign) < 0x180:
            beside = (before.isascii() and before.isalpha()) or (after.isalpha() and after.islower())
            worth += 1 if beside and not (sign.isupper() and before.islower()) else -1
        elif sign not in "\u00b0\u00a9\u00ae\u2122\u00b7\u00a3\u20ac\u00a0\u00ab\u00bb":
            worth -= 2
    return worth
