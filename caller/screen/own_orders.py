"""The screen's own orders: what changes only how things are shown, never the class.

Conventions: a table as that of the transport; keys are Textual's names. The tests see to it that no key is in both.
"""

from __future__ import annotations

from dataclasses import dataclass
from enum import Enum


class OwnOrder(Enum):
    OTHER_SIDE = "other-side"
    OTHER_LOOK = "other-look"
    TYPE = "type"


@dataclass(frozen=True, slots=True)
class OwnEntry:
    order: OwnOrder
    title: str
    keys: tuple[str, ...]
    tells: str


OWN_ORDERS = (
    OwnEntry(
        OwnOrder.OTHER_SIDE,
        "Other side",
        ("v",),
        "Dial and feet as seen by a teacher who faces the class; once more, by the dancers.",
    ),
    OwnEntry(
        OwnOrder.OTHER_LOOK,
        "Light or dark",
        ("d",),
        "Dark letters on light for a bright room; once more, light on dark.",
    ),
    OwnEntry(
        OwnOrder.TYPE,
        "Type an order",
        ("slash",),
        "On a line: a tempo (96), a loop (loop 5 to 8), a section (section 3), any order by its word; Enter gives it.",
    ),
)
