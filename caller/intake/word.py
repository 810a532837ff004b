"""Word documents (.docx): paragraphs, tables, text boxes, and the numbers that Word makes by itself.

Read from WordprocessingML (ECMA-376, part 1, chapter 17) itself: of the libraries that give text, none keeps the words
of a numbered heading ("Section 2:"), and a text box comes twice or loses its lines.
"""

from __future__ import annotations

import re
import zipfile
from collections.abc import Callable, Iterator
from dataclasses import dataclass, field
from typing import TYPE_CHECKING

from caller.intake import numbering
from caller.intake.found import SheetText, UnreadableFile, clean, furniture, joined
from caller.intake.kinds import FileKind
from caller.intake.packed import opened, part
from caller.intake.tables import side_by_side

if TYPE_CHECKING:
    from lxml.etree import _Element

_SKIPPED = frozenset(
    ("del", "moveFrom", "pPr", "rPr", "sectPr", "instrText", "delText", "Fallback", "footnoteReference", "comment")
)
_SIGNS = {"tab": "\t", "ptab": "\t", "br": "\n", "cr": "\n", "noBreakHyphen": "-"}
_MOST_DEEP = 40  # tables within tables
_FORMATS: dict[str, Callable[[int], str]] = {
    "lowerLetter": numbering.letters,
    "upperLetter": lambda n: numbering.letters(n).upper(),
    "lowerRoman": numbering.roman,
    "upperRoman": lambda n: numbering.roman(n).upper(),
    "decimalZero": lambda n: f"{n:02}",
    "ordinal": numbering.ordinal,
    "none": lambda n: "",
}


@dataclass(frozen=True, slots=True)
class _Level:
    """One level of a numbered list. shown: "Section %1:"."""

    start: int
    form: str
    shown: str


@dataclass(slots=True)
class _Lists:
    """levels: by (list, level); abstract: which lists count together; counts: how far each level has got."""

    levels: dict[tuple[str, int], _Level] = field(default_factory=dict)
    abstract: dict[str, str] = field(default_factory=dict)
    styled: dict[str, tuple[str | None, int | None, str]] = field(default_factory=dict)
    counts: dict[tuple[str, int], int] = field(default_factory=dict)

    def label(self, number: str, level: int) -> str:
        found = self.levels.get((number, level))
        if found is None:
            return ""
        if found.form == "bullet":
            return numbering.BULLET
        owner = self.abstract.get(number, number)
        self.counts[owner, level] = self.counts.get((owner, level), found.start - 1) + 1
        for deeper in [key for key in self.counts if key[0] == owner and key[1] > level]:
            del self.counts[deeper]
        return re.sub(r"%(\d)", lambda m: self._one(number, owner, int(m[1]) - 1), found.shown)

    def _one(self, number: str, owner: str, level: int) -> str:
        found = self.levels.get((number, level))
        if found is None:
            return ""
        value = self.counts.get((owner, level), found.start)
        return _FORMATS.get(found.form, str)(value)

    def of_style(self, style: str) -> tuple[str | None, int]:
        """The list and level that a paragraph's style gives it."""
        number: str | None = None
        level: int | None = None
        for _ in range(20):
            own = self.styled.get(style)
            if own is None:
                break
            number, level = number or own[0], level if level is not None else own[1]
            style = own[2]
        return number, level or 0


def read_word(raw: bytes) -> SheetText:
    packed = opened(raw)
    names = packed.namelist()
    main = next((name for name in names if re.fullmatch(r"word/document\d*\.xml", name)), "word/document.xml")
    document = part(packed, main)
    if document is None:
        raise UnreadableFile("this Word document has no text in it; open it in Word and save it again, or as PDF")
    reader = _WordReader(_lists(packed))
    lines = list(reader.blocks(document))
    for name in ("word/footnotes.xml", "word/endnotes.xml"):
        notes = part(packed, name)
        lines += reader.blocks(notes) if notes is not None else []
    beside: list[list[str]] = []
    for name in sorted(n for n in names if re.fullmatch(r"word/(?:header|footer)\d*\.xml", n)):
        side = part(packed, name)
        beside.append(list(reader.blocks(side)) if side is not None else [])
    facts, left_out = furniture(beside)
    return SheetText(joined([*facts, *lines]), FileKind.WORD.value, left_out)


def _name(element: _Element) -> str:
    tag = element.tag
    return tag.rpartition("}")[2] if isinstance(tag, str) else ""


def _value(element: _Element | None, name: str = "val") -> str | None:
    if element is None:
        return None
    return next((str(value) for key, value in element.attrib.items() if str(key).rpartition("}")[2] == name), None)


def _child(element: _Element | None, *names: str) -> _Element | None:
    for name in names:
        if element is None:
            return None
        element = next((one for one in element if _name(one) == name), None)
    return element


def _whole(text: str | None, otherwise: int) -> int:
    return int(text) if text is not None and text.lstrip("-").isdigit() and len(text) < 6 else otherwise


class _WordReader:
    def __init__(self, lists: _Lists) -> None:
        self._lists = lists

    def blocks(self, element: _Element, deep: int = 0) -> Iterator[str]:
        """The lines of all paragraphs and tables below an element."""
        if deep > _MOST_DEEP:
            return
        for child in element:
            name = _name(child)
            if name == "p":
                yield from self._paragraph(child, deep)
            elif name == "tbl":
                yield from self._table(child, deep)
            elif name not in _SKIPPED:
                yield from self.blocks(child, deep + 1)

    def _paragraph(self, paragraph: _Element, deep: int) -> Iterator[str]:
        boxes: list[_Element] = []
        pieces: list[str] = []
        self._inline(paragraph, pieces, boxes, 0)
        text = "".join(pieces)
        label = self._label(paragraph) if text.strip() else ""
        lines = (
            [line.replace("\t", "  ") if clean(line) else "" for line in f"{label} {text}".split("\n")]
            if label
            else text.split("\n")
        )
        yield from ("  ".join(filter(None, map(clean, line.split("\t")))) for line in lines)
        for box in boxes:
            yield from self.blocks(box, deep + 1)

    def _inline(self, element: _Element, pieces: list[str], boxes: list[_Element], deep: int) -> None:
        if deep > _MOST_DEEP:
            return
        for child in element:
            name = _name(child)
            if name == "t":
                pieces.append((child.text or "").replace("\n", " "))
            elif name in _SIGNS:
                pieces.append(_SIGNS[name])
            elif name == "txbxContent":
                boxes.append(child)
            elif name == "AlternateContent":  # the same thing twice, for newer and older programs
                choice = next((one for one in child if _name(one) == "Choice"), child)
                self._inline(choice, pieces, boxes, deep + 1)
            elif name not in _SKIPPED and not (name == "r" and _hidden(child)):
                self._inline(child, pieces, boxes, deep + 1)

    def _label(self, paragraph: _Element) -> str:
        properties = _child(paragraph, "pPr")
        own = _child(properties, "numPr")
        number = _value(_child(own, "numId"))
        level = _value(_child(own, "ilvl"))
        by_style, style_level = self._lists.of_style(_value(_child(properties, "pStyle")) or "")
        number = number if number is not None else by_style
        if number is None or number == "0":
            return ""
        return self._lists.label(number, _whole(level, style_level))

    def _table(self, table: _Element, deep: int) -> Iterator[str]:
        for line in _rows(table):
            cells = [list(self.blocks(cell, deep + 1)) for cell in _cells(line)]
            yield from side_by_side(cells)


def _rows(table: _Element) -> Iterator[_Element]:
    for child in table:
        if _name(child) == "tr":
            yield child
        elif _name(child) in ("sdt", "sdtContent", "ins", "customXml"):
            yield from _rows(child)


def _cells(line: _Element) -> Iterator[_Element]:
    for child in line:
        if _name(child) == "tc":
            yield child
        elif _name(child) in ("sdt", "sdtContent", "ins", "customXml"):
            yield from _cells(child)


def _hidden(run: _Element) -> bool:
    vanish = _child(run, "rPr", "vanish")
    return vanish is not None and _value(vanish) not in ("0", "false", "off")


def _lists(packed: zipfile.ZipFile) -> _Lists:
    """What the document says of its lists and of the styles that are lists."""
    lists = _Lists()
    styles = part(packed, "word/styles.xml")
    for style in styles if styles is not None else ():
        if _name(style) == "style":
            own = _child(style, "pPr", "numPr")
            level = _value(_child(own, "ilvl"))
            based = _value(_child(style, "basedOn")) or ""
            told = _value(_child(own, "numId")), None if level is None else _whole(level, 0), based
            lists.styled[_value(style, "styleId") or ""] = told
    root = part(packed, "word/numbering.xml")
    abstract: dict[str, dict[int, _Level]] = {}
    for one in root if root is not None else ():
        if _name(one) == "abstractNum":
            abstract[_value(one, "abstractNumId") or ""] = dict(_levels(one))
    for one in root if root is not None else ():
        if _name(one) == "num":
            number, owner = _value(one, "numId") or "", _value(_child(one, "abstractNumId")) or ""
            lists.abstract[number] = owner
            lists.levels |= {(number, level): found for level, found in abstract.get(owner, {}).items()}
            for changed in (child for child in one if _name(child) == "lvlOverride"):
                lists.levels |= {(number, level): found for level, found in _levels(changed)}
                _start_anew(lists, number, changed)
    return lists


def _start_anew(lists: _Lists, number: str, changed: _Element) -> None:
    level, start = _whole(_value(changed, "ilvl"), 0), _value(_child(changed, "startOverride"))
    found = lists.levels.get((number, level))
    if start is not None and found is not None:
        lists.levels[number, level] = _Level(_whole(start, 1), found.form, found.shown)
        lists.abstract[number] = f"{lists.abstract.get(number, '')} of {number}"  # counts for itself


def _levels(owner: _Element) -> Iterator[tuple[int, _Level]]:
    for one in owner:
        if _name(one) == "lvl":
            form = _value(_child(one, "numFmt")) or "decimal"
            shown = _value(_child(one, "lvlText")) or ""
            yield _whole(_value(one, "ilvl"), 0), _Level(_whole(_value(_child(one, "start")), 1), form, shown)
