"""Parts of a packed document (.docx, .odt), with limits against files that unpack into far more than they hold."""

from __future__ import annotations

import io
import zipfile
import zlib
from typing import TYPE_CHECKING

from caller.intake.found import UnreadableFile

if TYPE_CHECKING:
    from lxml.etree import _Element

MOST_PART_BYTES = 8_000_000  # of one part, unpacked
MOST_PARTS = 2_000
_BROKEN = "this document is damaged; open it in the program that made it and save it again, or as PDF"
_LOCKED = "this document is locked with a password; save it without one"


def opened(raw: bytes) -> zipfile.ZipFile:
    try:
        packed = zipfile.ZipFile(io.BytesIO(raw))
    except (zipfile.BadZipFile, ValueError, OSError, NotImplementedError):
        raise UnreadableFile(_BROKEN) from None
    if len(packed.filelist) > MOST_PARTS:
        raise UnreadableFile(
            f"this document has {len(packed.filelist):,} parts; a step sheet has some twenty, so save it anew"
        )
    return packed


def part(packed: zipfile.ZipFile, name: str) -> _Element | None:
    """One part as XML, None where it isn't there. No entity is expanded, nothing outside is fetched."""
    from lxml import etree

    try:
        with packed.open(name) as file:
            raw = file.read(MOST_PART_BYTES + 1)
    except KeyError:
        return None
    except RuntimeError:  # what the standard library says of a password
        raise UnreadableFile(_LOCKED) from None
    except (zipfile.BadZipFile, zlib.error, EOFError, OSError, NotImplementedError):
        raise UnreadableFile(_BROKEN) from None
    if len(raw) > MOST_PART_BYTES:
        raise UnreadableFile("this document unpacks into far more than a step sheet holds; save the sheet's own pages")
    parser = etree.XMLParser(
        resolve_entities=False, no_network=True, load_dtd=False, huge_tree=False, remove_comments=True
    )
    try:
        return etree.fromstring(raw, parser)
    except etree.XMLSyntaxError:
        raise UnreadableFile(_BROKEN) from None
