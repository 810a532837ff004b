"""RTF documents, by the library striprtf; text boxes, and headers and footers, are taken out for it first."""

from __future__ import annotations

import re
from collections.abc import Iterator

from caller.intake.found import SheetText, UnreadableFile, clean, joined, row
from caller.intake.kinds import FileKind

_GROUP = re.compile(r"\{\\(?:\*\\)?(shptxt|header[lrf]?|footer[lrf]?)(?![a-z])")
_BRACE = re.compile(r"\\[\\{}]|[{}]")
_CELL, _CELL_END = re.compile(r"\\(?:nest)?cell(?![a-z\d])\s?"), "\x04"
_MOST_GROUPS = 500
_HIDDEN, _SHOWN = re.compile(r"\\v(?:1)?(?![a-z\d])\s?"), re.compile(r"\\(?:v0|plain)(?![a-z\d])\s?")
_FONTS = re.compile(r"\{\\fonttbl")


def read_rich_text(raw: bytes) -> SheetText:
    source = _shown(raw.decode("latin-1"))  # RTF is ASCII; its text says its own code
    source = _CELL.sub(f"{_CELL_END} ", source)
    boxes: list[str] = []
    beside: list[str] = []
    head = source[: _end(source, fonts.start())] if (fonts := _FONTS.search(source)) is not None else "{\\rtf1"
    whole = ""
    last = 0
    for start, inner, end, name in _groups(source):
        words = _plain(f"{head}{source[inner : end - 1]}}}")
        (boxes if name == "shptxt" else beside).append(words)
        # Where a box hangs is where it is read.
        whole += source[last:start]
        last = end
        if name == "shptxt":
            whole = _lifted(whole, f"\x02{len(boxes) - 1}\x03")
    # A cell's last paragraph ends with the cell.
    text = re.sub(rf"\n+{_CELL_END}", _CELL_END, _plain(whole + source[last:]))
    for number, box in enumerate(boxes):
        mark = f"\x02{number}\x03"
        text = text.replace(mark, f"\n{box}\n") if mark in text else f"{text}\n{box}"
    lines = [_row(line) for line in text.replace("\r", "\n").split("\n")]
    left_out = [clean(line) for one in beside for line in one.split("\n")]
    if not any(map(str.strip, lines)):
        raise UnreadableFile("this RTF document has no text in it; save the sheet as PDF or .docx")
    return SheetText(joined(lines), FileKind.RTF.value, tuple(dict.fromkeys(filter(None, left_out))))


def _lifted(before: str, mark: str) -> str:
    """A box's place, before the group that draws it."""
    at = before.rfind("{\\shp")
    at = at if at < 0 or before[at + 5 : at + 6] != "i" else before.rfind("{\\shp", 0, at)
    return before if at < 0 else f"{before[:at]}{mark}{before[at:]}"


def _plain(source: str) -> str:
    from striprtf.striprtf import rtf_to_text

    try:
        return str(rtf_to_text(source, errors="replace"))
    except (ValueError, IndexError, KeyError, LookupError, OverflowError, TypeError):
        raise UnreadableFile(
            "this RTF document is damaged; open it in the program that made it and save it as PDF or .docx"
        ) from None


def _row(line: str) -> str:
    return row(line.replace(_CELL_END, "\t").split("\t"))


def _groups(source: str) -> Iterator[tuple[int, int, int, str]]:
    """Groups of their own: where each begins, what it holds begins and it ends, and its name; none within another."""
    at = 0
    for _ in range(_MOST_GROUPS):
        found = _GROUP.search(source, at)
        if found is None:
            return
        end = _end(source, found.start())
        yield found.start(), found.end(), end, found[1]
        at = end


def _end(source: str, start: int, deep: int = 0) -> int:
    """Just behind the brace that closes what opens at ``start``, or what ``deep`` = 1 says is open there."""
    for found in _BRACE.finditer(source, start):
        if found.group() == "{":
            deep += 1
        elif found.group() == "}":
            deep -= 1
            if deep == 0:
                return found.end()
    return len(source)


def _shown(source: str) -> str:
    """Without text that is marked as hidden, up to where it is shown again or its group ends."""
    kept: list[str] = []
    last = 0
    for _ in range(_MOST_GROUPS):
        found = _HIDDEN.search(source, last)
        if found is None:
            break
        until = _end(source, found.end(), 1) - 1
        again = _SHOWN.search(source, found.end(), until)
        kept.append(source[last : found.start()])
        last = again.end() if again is not None else until
    return "".join((*kept, source[last:]))
