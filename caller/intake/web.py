"""Web pages (.html): the blocks of a page as lines; what a browser doesn't show, and menus, left out."""

from __future__ import annotations

import re
from collections.abc import Callable, Iterator
from typing import TYPE_CHECKING

from caller.intake import numbering
from caller.intake.encoding import decode
from caller.intake.found import SheetText, UnreadableFile, clean, joined
from caller.intake.kinds import FileKind
from caller.intake.tables import side_by_side

if TYPE_CHECKING:
    from lxml.html import HtmlElement

_NOT_READ = (
    "script style noscript template head title meta link svg math iframe object canvas audio video button select "
    "option input textarea datalist dialog map del s rp rt"
)
_PARTED = (
    "address article blockquote body center caption dd details dir div dl dt fieldset figcaption figure form h1 h2 h3 "
    "h4 h5 h6 header hgroup hr html legend li main ol p pre section summary table tbody td tfoot th thead tr ul"
)
_UNSEEN = frozenset(_NOT_READ.split())
_ASIDE = frozenset(("nav", "footer", "aside", "menu"))  # told as left out
_BLOCKS = _ASIDE | frozenset(_PARTED.split())
_ROLES = frozenset(("navigation", "contentinfo", "banner", "search", "complementary"))
_NOT_SHOWN = re.compile(r"(?:^|;)\s*(?:display\s*:\s*none|visibility\s*:\s*(?:hidden|collapse))", re.IGNORECASE)
_CHARSET = re.compile(
    rb"<(?:meta[^<>]{0,200}?charset|\?xml[^<>]{0,100}?encoding)\s*=\s*[\"']?\s*([\w.:-]{2,30})", re.IGNORECASE
)
_XML_HEAD = re.compile(r"^\s*<\?xml[^<>]{0,300}\?>")
_COUNTS = re.compile(r"^[\d&ae,\s\u2010-\u2015-]{1,12}[:.]?$")
# What an author sets apart, and a page's menus don't say.
_OF_THE_DANCE = re.compile(
    r"\b(?:tags?|bridges?|re-?starts?)\b.*\b(?:walls?\s+\d|counts?\b|the\s+\w+\s+wall)|\b(?:walls?|wall)\s+\d.*\b(?:tags?|bridges?|re-?starts?)\b",
    re.IGNORECASE | re.DOTALL,
)
_MOST_DEEP = 150
_LEAST_MENU = 3  # links in a list that is nothing else
_TYPES: dict[str, Callable[[int], str]] = {
    "a": numbering.letters,
    "A": lambda n: numbering.letters(n).upper(),
    "i": numbering.roman,
    "I": lambda n: numbering.roman(n).upper(),
}


def read_web(raw: bytes) -> SheetText:
    from lxml import etree, html

    text, told = _decoded(raw)
    text = _XML_HEAD.sub("", text.replace("\0", ""))
    parser = html.HTMLParser(no_network=True, huge_tree=False, remove_comments=True, remove_pis=True)
    try:
        page = html.document_fromstring(text, parser=parser)
    except (etree.ParserError, etree.XMLSyntaxError, ValueError, AssertionError):
        raise UnreadableFile("this web page has no text in it; open it in a browser and print it as PDF") from None
    walk = _Walk()
    walk.block(page, 0)
    walk.end()
    left_out = tuple(dict.fromkeys(line for line in walk.aside if line))
    return SheetText(joined(walk.lines), FileKind.WEB.value, left_out, (told,) if told else ())


def _decoded(raw: bytes) -> tuple[str, str]:
    found = _CHARSET.search(raw[:4096])
    if found is not None and not raw.startswith((b"\xff\xfe", b"\xfe\xff", b"\xef\xbb\xbf")):
        name = found[1].decode("ascii").lower()
        try:
            # By the rule of browsers, what calls itself Latin-1 is Windows-1252.
            return raw.decode(
                "cp1252" if name in ("iso-8859-1", "latin1", "us-ascii", "ascii") else name, "replace"
            ), ""
        except LookupError:
            pass
    return decode(raw)


class _Walk:
    """lines: what is shown. aside: menus and the like. line: what is gathered of the line that is open."""

    def __init__(self) -> None:
        self.lines: list[str] = []
        self.aside: list[str] = []
        self._line: list[str] = []
        self._label = ""  # what the next line begins with
        self._kept = False  # white space as it stands

    def end(self) -> None:
        """The open line is whole."""
        whole = "".join(self._line)
        self._line.clear()
        if self._kept:
            self.lines += (line.replace("\t", "  ").rstrip() for line in whole.split("\n"))
        elif words := clean(whole.replace("\n", " ").replace("\r", " ")):
            self.lines.append(f"{self._label} {words}".strip())
            self._label = ""

    def block(self, element: HtmlElement, deep: int) -> None:
        if deep > _MOST_DEEP:
            return
        self._text(element.text)
        for number, child in self._numbered(element):
            if isinstance(child.tag, str):
                self._child(child, number, deep)
            self._text(child.tail)

    def _text(self, text: str | None) -> None:
        if text:
            self._line.append(text)

    def _child(self, child: HtmlElement, label: str, deep: int) -> None:
        name = child.tag.lower()
        if name in _UNSEEN or _unseen(child):
            return
        aside = name in _ASIDE or child.get("role") in _ROLES
        if (aside and not _of_the_dance(child)) or _is_furniture(child) or _is_menu(child):
            self.end()
            self.aside += _Walk.of(child, deep)
        elif name == "br":
            if self._kept:
                self._line.append("\n")
            else:
                self.end()
        elif name == "table":
            self.end()
            self._table(child, deep)
        elif name in _BLOCKS:
            self._own_block(child, name, label, deep)
        else:
            self.block(child, deep + 1)

    def _own_block(self, child: HtmlElement, name: str, label: str, deep: int) -> None:
        self.end()
        if name in ("h1", "h2", "h3", "h4", "hr", "pre") and self.lines:
            self.lines.append("")
        self._label = label or self._label
        before, self._kept = self._kept, self._kept or name == "pre"
        self.block(child, deep + 1)
        self.end()
        self._kept = before
        if name == "li":
            self._label = ""
        elif name == "dt" and self.lines and _COUNTS.match(self.lines[-1]):
            self._label = self.lines.pop()  # "<dt>1-2</dt><dd>Walk R, L</dd>"

    @staticmethod
    def of(element: HtmlElement, deep: int) -> list[str]:
        """The lines of one element for itself."""
        walk = _Walk()
        walk.block(element, deep + 1)
        walk.end()
        return walk.lines

    def _table(self, table: HtmlElement, deep: int) -> None:
        for line in _rows(table):
            if not _unseen(line):
                cells = [_Walk.of(cell, deep) for cell in line if cell.tag in ("td", "th") and not _unseen(cell)]
                self.lines += side_by_side(cells)

    def _numbered(self, element: HtmlElement) -> Iterator[tuple[str, HtmlElement]]:
        """An element's children, those of a list with what a browser writes before them."""
        listed = element.tag in ("ol", "ul")
        form = _TYPES.get(element.get("type") or "", str)
        number = _whole(element.get("start"), 1)
        for child in element:
            if not listed or child.tag != "li":
                yield "", child
            elif element.tag == "ul":
                yield numbering.BULLET, child
            else:
                number = _whole(child.get("value"), number)
                yield f"{form(number)}.", child
                number += 1


def _whole(text: str | None, otherwise: int) -> int:
    return int(text) if text is not None and text.isdigit() and len(text) < 6 else otherwise


def _rows(table: HtmlElement) -> Iterator[HtmlElement]:
    for child in table:
        if child.tag == "tr":
            yield child
        elif child.tag in ("tbody", "thead", "tfoot"):
            yield from (one for one in child if one.tag == "tr")


def _of_the_dance(part: HtmlElement) -> bool:
    """Whether an aside tells of the dance's tags and restarts."""
    return part.tag.lower() not in ("nav", "menu") and _OF_THE_DANCE.search(part.text_content()) is not None


def _unseen(element: HtmlElement) -> bool:
    if element.get("hidden") is not None or element.get("aria-hidden") == "true":
        return True
    style = element.get("style")
    return style is not None and _NOT_SHOWN.search(style) is not None


def _is_furniture(element: HtmlElement) -> bool:
    """As word processors mark what stands at the head or foot of each page."""
    return element.tag == "div" and element.get("title") in ("header", "footer")


def _is_menu(element: HtmlElement) -> bool:
    """A list of links, each entry nothing else."""
    if element.tag not in ("ul", "ol"):
        return False
    entries = [child for child in element if child.tag == "li"]
    links = [entry for entry in entries if clean(entry.text_content()) and _only_link(entry)]
    return len(links) >= _LEAST_MENU and len(links) == len(entries)


def _only_link(entry: HtmlElement) -> bool:
    linked = "".join(link.text_content() for link in entry.iter("a"))
    return clean(linked) == clean(entry.text_content())
