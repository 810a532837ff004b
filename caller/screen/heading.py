"""The two lines at the head of the screen: what is danced, and where in it and how late it is. Pure."""

from __future__ import annotations

from typing import TYPE_CHECKING

from caller.screen.plain_text import plain_text, plain_title
from caller.screen.words import section_words

if TYPE_CHECKING:  # what is only named here would be slow to bring in before the first paint
    from caller.session import View


def title_line(view: View) -> str:
    """In an evening the item's number first, since what comes last is cut off where there is no room."""
    if view.item:
        return f"{view.item.capitalize()}: {plain_title(view.title)}"
    return ", ".join(plain_title(words) for words in (view.title, view.stage_place) if words)


def section_line(view: View) -> str:
    """The time first, since what comes last is cut off where there is no room; in an evening then the stage's place,
    since the title says which item it is."""
    place = f"{view.stage_place}: " if view.item and view.stage_place else ""
    where = place + (plain_text(view.stage) or (section_words(view.glance) if view.glance else ""))
    return " · ".join(filter(None, (view.clock, where)))
