"""PDF files with a text layer: signs with their boxes, by PDFium, to cells on a page.

PDFium was taken for its speed and its wheels (one for each platform, any Python): on pages printed by LibreOffice and
Chromium it gives the boxes of all signs in 10 ms, a pure-Python reader the words in 150 to 200 ms; the words are the
same. The order of what a file draws says little of how it is read, so lines are laid anew from the boxes (``pages``).
"""

from __future__ import annotations

import math
from collections import Counter
from collections.abc import Iterator
from dataclasses import dataclass
from typing import TYPE_CHECKING

from caller.intake.found import MOST_PAGES, MOST_TEXT, SheetText, UnreadableFile, clean, joined
from caller.intake.kinds import FileKind
from caller.intake.pages import Cell, CellRow, Page, page_lines

if TYPE_CHECKING:
    import pypdfium2

_NEXT_CELL = 1.0  # a gap so wide, in heights of a line, parts two cells
_NEXT_WORD = 0.1
_SAME_LINE = 0.35
_LEAST_SIGNS = 25  # fewer in a whole file are a stamp on a scan
_SCAN = (
    "this PDF is a scan, pictures without text; have its text recognised (OCR) by a scanning program, or type the sheet"
)
_CODED = "this PDF doesn't say what its letters are; print it to PDF again from where it came, or type the sheet"


@dataclass(frozen=True, slots=True)
class _Sign:
    """One sign: which one of the file, its left, right, and middle of its line from the top of the page, and its line's
    height, in points. The letters of a ligature are signs that stand at one place."""

    text: str
    index: int
    x0: float
    x1: float
    y: float
    size: float


@dataclass(frozen=True, slots=True)
class _Box:
    """One sign as it stands in the file, from the lower left, in points. quarter: how often it is turned by a quarter;
    -1 where it stands aslant."""

    text: str
    index: int
    left: float
    bottom: float
    right: float
    top: float
    quarter: int


def read_pdf(raw: bytes) -> SheetText:
    import pypdfium2

    try:
        document = pypdfium2.PdfDocument(raw)
        if len(document) > MOST_PAGES:
            raise UnreadableFile(
                f"this PDF has {len(document)} pages; a step sheet has one to four, so save those for themselves"
            )
        pages = [_page(page) for page in document]
    except pypdfium2.PdfiumError as error:
        locked = "password" in str(error).lower()
        raise UnreadableFile(
            "this PDF is locked with a password; save it without one"
            if locked
            else "this PDF is damaged; print it to PDF again from where it came"
        ) from None
    signs = sum(len(cell.text.replace(" ", "")) for page in pages for line in page.lines for cell in line.cells)
    if signs < _LEAST_SIGNS:
        raise UnreadableFile(_SCAN)
    lines, left_out = page_lines(pages)
    if _untold("".join(lines)):
        raise UnreadableFile(_CODED)
    across = dict.fromkeys(words for page in pages for words in page.across)
    return SheetText(joined(lines), FileKind.PDF.value, (*left_out, *across))


def _untold(text: str) -> bool:
    """Whether letters have no meaning: fonts that say nothing of their signs."""
    odd = sum(not sign.isprintable() or "\ue000" <= sign <= "\uf8ff" or sign == "\ufffd" for sign in text)
    return odd > 0.2 * len(text)


def _page(page: pypdfium2.PdfPage) -> Page:
    text = page.get_textpage()
    try:
        total = text.count_chars()
        if total > MOST_TEXT:
            raise UnreadableFile(
                f"a page of this PDF holds {total:,} letters, and a sheet a few thousand; save the sheet's own pages"
            )
        width, height = page.get_size()
        if page.get_rotation() in (90, 270):
            width, height = height, width
        boxes = list(_boxes(text, total))
    finally:
        text.close()
    # What runs another way than most of the page is a mark across it, or stands in its margin.
    most = Counter(box.quarter for box in boxes).most_common(1)[0][0] if boxes else 0
    signs = [_turned(box, max(most, 0), width, height) for box in boxes if box.quarter == most]
    wide, high = (height, width) if most in (1, 3) else (width, height)
    across = _in_words([box for box in boxes if box.quarter != most])
    return Page(wide, high, list(_lines(signs)), [across] if across else [])


def _boxes(text: pypdfium2.PdfTextpage, total: int) -> Iterator[_Box]:
    """All signs that are seen, in the order in which they are drawn."""
    import pypdfium2.raw as pdfium

    page = text.raw
    for index in range(total):
        sign = _written(pdfium.FPDFText_GetUnicode(page, index), pdfium.FPDFText_IsHyphen(page, index) == 1)
        left, bottom, right, top = text.get_charbox(index, loose=True)
        if sign == " " or top <= bottom or right <= left or not all(map(math.isfinite, (left, bottom, right, top))):
            continue
        angle = pdfium.FPDFText_GetCharAngle(page, index)
        quarter = round(angle / (math.pi / 2))
        straight = abs(angle - quarter * math.pi / 2) < 0.1
        yield _Box(sign, index, left, bottom, right, top, quarter % 4 if straight else -1)


def _in_words(boxes: list[_Box]) -> str:
    """Signs in the order in which they were drawn; where one is missing between them there was a space."""
    pieces = [f"{' ' if n and box.index != boxes[n - 1].index + 1 else ''}{box.text}" for n, box in enumerate(boxes)]
    return clean("".join(pieces))


def _written(code: int, hyphen: bool) -> str:
    """A sign by its number; a hyphen at the end of a line has none of its own."""
    if code == 2 or hyphen:
        return "-"
    return chr(code) if 32 < code < 0x110000 and not chr(code).isspace() else " "


def _turned(box: _Box, quarter: int, width: float, height: float) -> _Sign:
    """quarter: how often the text is turned by a quarter on the sheet, clockwise as PDFium counts."""
    across, up = (box.left + box.right) / 2, (box.bottom + box.top) / 2
    if quarter == 1:
        return _Sign(box.text, box.index, height - box.top, height - box.bottom, width - across, box.right - box.left)
    if quarter == 2:
        return _Sign(box.text, box.index, width - box.right, width - box.left, up, box.top - box.bottom)
    if quarter == 3:
        return _Sign(box.text, box.index, box.bottom, box.top, across, box.right - box.left)
    return _Sign(box.text, box.index, box.left, box.right, height - up, box.top - box.bottom)


def _lines(signs: list[_Sign]) -> Iterator[CellRow]:
    """Signs whose middles are level, from the top down."""
    row: list[_Sign] = []
    for sign in sorted(signs, key=lambda s: (s.y, s.x0)):
        if row and sign.y - row[0].y > _SAME_LINE * max(row[0].size, sign.size):
            yield _line(row)
            row = []
        row.append(sign)
    if row:
        yield _line(row)


def _line(row: list[_Sign]) -> CellRow:
    row = sorted(row, key=lambda s: s.x0)
    cells: list[list[_Sign | None]] = []  # None: a space
    before: _Sign | None = None
    for sign in row:
        if before is not None and _drawn_again(before, sign):
            continue
        gap = sign.x0 - before.x1 if before is not None else 0.0
        if before is None or gap > _NEXT_CELL * max(sign.size, before.size):
            cells.append([])
        elif gap > _NEXT_WORD * max(sign.size, before.size):
            cells[-1].append(None)
        cells[-1].append(sign)
        before = sign
    size = sorted(s.size for s in row)[len(row) // 2]
    return CellRow(sum(s.y for s in row) / len(row), size, [_cell(cell) for cell in cells])


def _drawn_again(before: _Sign, sign: _Sign) -> bool:
    """Whether a letter was drawn twice to look bold; two of one ligature ("ff") follow each other at the very same
    place."""
    ligature = sign.index == before.index + 1 and sign.x0 == before.x0
    return sign.text == before.text and sign.x0 - before.x0 < 0.15 * sign.size and not ligature


def _cell(signs: list[_Sign | None]) -> Cell:
    text = clean("".join(" " if sign is None else sign.text for sign in signs))
    own = [sign for sign in signs if sign is not None]
    first = signs.index(None) if None in signs else len(signs)
    head = signs[first - 1]
    return Cell(own[0].x0, own[-1].x1, text, (head.x1 if head is not None else own[-1].x1) - own[0].x0)
