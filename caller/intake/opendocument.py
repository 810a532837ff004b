"""OpenDocument texts (.odt): paragraphs, tables, frames, and numbers that are made by
themselves, by the standard (OpenDocument 1.3, part 3)."""

from __future__ import annotations

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

_MOST_DEEP = 60
_MOST_REPEATED = 50  # the same cell or row again
_SKIPPED = frozenset(
    (
        "tracked-changes",
        "annotation",
        "forms",
        "sequence-decls",
        "table-of-content",
        "note-citation",
        "ruby-text",
        "desc",
        "title",
    )
)
_FORMS: dict[str, Callable[[int], str]] = {
    "a": numbering.letters,
    "A": lambda n: numbering.letters(n).upper(),
    "i": numbering.roman,
    "I": lambda n: numbering.roman(n).upper(),
    "1": str,
}


@dataclass(frozen=True, slots=True)
class _OutlineLevel:
    start: int = 1
    form: str = "1"
    before: str = ""
    after: str = ""
    levels: int = 1  # how many levels' numbers are shown
    bullet: bool = False


@dataclass(slots=True)
class _Styles:
    """lists: a list style's levels; hidden: names of styles that hide text; outline: of numbered headings."""

    lists: dict[str, dict[int, _OutlineLevel]] = field(default_factory=dict)
    hidden: set[str] = field(default_factory=set)
    of_paragraph: dict[str, str] = field(default_factory=dict)
    outline: dict[int, _OutlineLevel] = field(default_factory=dict)


def read_opendocument(raw: bytes) -> SheetText:
    packed = opened(raw)
    content = part(packed, "content.xml")
    if content is None:
        raise UnreadableFile("this OpenDocument file has no text in it; open it and save it again, or as PDF")
    named = part(packed, "styles.xml")
    styles = _Styles()
    for root in (named, content):
        if root is not None:
            _read_styles(root, styles)
    body = _first(content, "text")
    if body is None:
        raise UnreadableFile("this OpenDocument file is no text document; save the sheet as text, or as PDF")
    facts, left_out = furniture([list(_OpenDocumentReader(styles).blocks(side)) for side in _furniture(named)])
    return SheetText(joined([*facts, *_OpenDocumentReader(styles).blocks(body)]), FileKind.OPENDOCUMENT.value, left_out)


def _name(element: _Element) -> str:
    tag = element.tag
    return tag.rpartition("}")[2] if isinstance(tag, str) else ""


def _space(element: _Element) -> str:
    """ "text", "table", "draw", ...: the vocabulary that an element belongs to."""
    tag = element.tag
    return tag.partition("}")[0].rsplit(":", 2)[-2] if isinstance(tag, str) and "}" in tag else ""


def _attribute(element: _Element, name: str) -> str | None:
    return next((str(value) for key, value in element.attrib.items() if str(key).rpartition("}")[2] == name), None)


def _whole(text: str | None, otherwise: int, most: int = 9_999) -> int:
    return min(int(text), most) if text is not None and text.isdigit() and len(text) < 9 else otherwise


def _first(root: _Element, name: str) -> _Element | None:
    body = next((one for one in root if _name(one) == "body"), None)
    return None if body is None else next((one for one in body if _name(one) == name), None)


def _furniture(root: _Element | None) -> Iterator[_Element]:
    if root is not None:
        for one in root.iter():
            if _name(one) in ("header", "footer") and _space(one) == "style":
                yield one


def _read_styles(root: _Element, styles: _Styles) -> None:
    for one in root.iter():
        name = _name(one)
        if name in ("list-style", "outline-style"):
            levels = dict(_levels(one))
            if name == "outline-style":
                styles.outline = levels
            else:
                styles.lists[_attribute(one, "name") or ""] = levels
        elif name == "style":
            own = _attribute(one, "name") or ""
            listed = _attribute(one, "list-style-name")
            if listed:
                styles.of_paragraph[own] = listed
            if any(_name(child) == "text-properties" and _attribute(child, "display") == "none" for child in one):
                styles.hidden.add(own)


def _levels(owner: _Element) -> Iterator[tuple[int, _OutlineLevel]]:
    for one in owner:
        name = _name(one)
        level = _whole(_attribute(one, "level"), 1)
        if name in ("list-level-style-bullet", "list-level-style-image"):
            yield level, _OutlineLevel(bullet=True)
        elif name in ("list-level-style-number", "outline-level-style"):
            yield (
                level,
                _OutlineLevel(
                    _whole(_attribute(one, "start-value"), 1),
                    _attribute(one, "num-format") or "",
                    _attribute(one, "num-prefix") or "",
                    _attribute(one, "num-suffix") or "",
                    _whole(_attribute(one, "display-levels"), 1),
                ),
            )


class _OpenDocumentReader:
    """counts: how far each list has got, by its style and level; label: what the next paragraph begins with."""

    def __init__(self, styles: _Styles) -> None:
        self._styles = styles
        self._counts: dict[tuple[str, int], int] = {}
        self._label = ""

    def blocks(self, element: _Element, deep: int = 0) -> Iterator[str]:
        if deep > _MOST_DEEP:
            return
        for child in element:
            name = _name(child)
            if name in ("p", "h") and _space(child) == "text":
                yield from self._paragraph(child, deep)
            elif name == "list":
                yield from self._list(child, "", 1, deep)
            elif name == "table" and _space(child) == "table":
                yield from self._table(child, deep)
            elif name not in _SKIPPED and _attribute(child, "display") != "none":
                yield from self.blocks(child, deep + 1)

    def _paragraph(self, paragraph: _Element, deep: int) -> Iterator[str]:
        boxes: list[_Element] = []
        pieces: list[str] = []
        if _attribute(paragraph, "style-name") not in self._styles.hidden:
            self._inline(paragraph, pieces, boxes, 0)
        text = "".join(pieces)
        label = self._label or (self._heading(paragraph) if _name(paragraph) == "h" and text.strip() else "")
        self._label = ""
        for line in (f"{label} {text}" if label else text).split("\n"):
            yield "  ".join(filter(None, map(clean, line.split("\t"))))
        for box in boxes:
            yield from self.blocks(box, deep + 1)

    def _inline(self, element: _Element, pieces: list[str], boxes: list[_Element], deep: int) -> None:
        if deep > _MOST_DEEP:
            return
        pieces.append(_flowing(element.text))
        for child in element:
            self._piece(child, pieces, boxes, deep)
            pieces.append(_flowing(child.tail))

    def _piece(self, child: _Element, pieces: list[str], boxes: list[_Element], deep: int) -> None:
        name = _name(child)
        if name == "s":
            pieces.append(" " * _whole(_attribute(child, "c"), 1, _MOST_REPEATED))
        elif name == "tab":
            pieces.append("\t")
        elif name == "line-break":
            pieces.append("\n")
        elif name in ("text-box", "note-body"):
            boxes.append(child)
        elif name in _SKIPPED or (name == "hidden-text") or _attribute(child, "style-name") in self._styles.hidden:
            return
        else:
            self._inline(child, pieces, boxes, deep + 1)

    def _heading(self, heading: _Element) -> str:
        level = _whole(_attribute(heading, "outline-level"), 1)
        found = self._styles.outline.get(level)
        return self._number("", self._styles.outline, level) if found is not None and found.form else ""

    def _list(self, element: _Element, style: str, level: int, deep: int) -> Iterator[str]:
        if deep > _MOST_DEEP:
            return
        style = _attribute(element, "style-name") or style
        goes_on = (
            _attribute(element, "continue-numbering") == "true" or _attribute(element, "continue-list") is not None
        )
        for item in element:
            if _name(item) not in ("list-item", "list-header"):
                continue
            if not goes_on:
                self._counts.pop((style, level), None)
            goes_on = True
            for child in item:
                if _name(child) == "list":
                    yield from self._list(child, style, level + 1, deep + 1)
                    continue
                if _name(item) == "list-item" and child is item[0]:
                    levels = self._styles.lists.get(style or self._style_of(child), {})
                    start = _attribute(item, "start-value")
                    if start is not None:
                        self._counts[style, level] = _whole(start, 1) - 1
                    self._label = self._number(style, levels, level) if _has_text(child) else ""
                yield from self._one(child, deep)
                self._label = ""

    def _one(self, child: _Element, deep: int) -> Iterator[str]:
        if _name(child) in ("p", "h"):
            yield from self._paragraph(child, deep)
        else:
            yield from self.blocks(child, deep + 1)

    def _style_of(self, paragraph: _Element) -> str:
        return self._styles.of_paragraph.get(_attribute(paragraph, "style-name") or "", "")

    def _number(self, style: str, levels: dict[int, _OutlineLevel], level: int) -> str:
        found = levels.get(level)
        if found is None:
            return ""
        if found.bullet:
            return numbering.BULLET
        self._counts[style, level] = self._counts.get((style, level), found.start - 1) + 1
        for deeper in [key for key in self._counts if key[0] == style and key[1] > level]:
            del self._counts[deeper]
        shown = []
        for one in range(max(1, level - found.levels + 1), level + 1):
            form = levels.get(one, _OutlineLevel()).form
            shown.append(_FORMS.get(form, str)(self._counts.get((style, one), 1)) if form else "")
        return f"{found.before}{'.'.join(filter(None, shown))}{found.after}"

    def _table(self, table: _Element, deep: int) -> Iterator[str]:
        for line in _rows(table):
            cells = [list(self.blocks(cell, deep + 1)) for cell in line if _name(cell) == "table-cell"]
            yield from side_by_side(cells)


def _rows(table: _Element) -> Iterator[_Element]:
    for child in table:
        if _name(child) == "table-row":
            yield child
        elif _name(child) in ("table-header-rows", "table-rows", "table-row-group"):
            yield from _rows(child)


def _flowing(text: str | None) -> str:
    """White space of the file itself is one space."""
    return " ".join(f"x{text}x".split())[1:-1] if text else ""


def _has_text(element: _Element) -> bool:
    return any(text.strip() for text in element.itertext())
