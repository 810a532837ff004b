"""The head of the screen: what is danced, where in it and how late it is, and the wall. Pure."""

from __future__ import annotations

from typing import TYPE_CHECKING

from caller.screen.plain_text import plain_text, plain_title
from caller.screen.words import section_words, wall_words
from caller.transport.state import State

if TYPE_CHECKING:  # what is only named here would be slow to bring in before the first paint
    from caller.calls.glance import Glance
    from caller.session import View

COUNT_IN = "count-in"


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


def wall_wordings(view: View, glance: Glance) -> tuple[str, ...]:
    """The wall, longest first. While it is counted in, that: its numbers look as the dance's do; in a loop, which never
    comes to another wall, how often it has come round."""
    if view.state is State.COUNT_IN:
        return (COUNT_IN,)
    if view.time_round:
        return f"Loop, time {view.time_round}", f"Time {view.time_round}"
    return wall_words(glance), f"Wall {glance.wall}"
