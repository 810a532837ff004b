"""What half the hall dances in the place of the steps, where it comes: on the screen, and as a line. Pure."""

from __future__ import annotations

from typing import TYPE_CHECKING

from caller.screen.words import step_wordings, way_of_turns

if TYPE_CHECKING:  # what is only named here would be slow to bring in before the first paint
    from caller.screen.course import Course, EasierWay
    from caller.session import View


def easier_shown(view: View, course: Course | None) -> tuple[str, tuple[str, ...]]:
    """Its place in small letters, and its steps in wordings, longest first; "", () where none comes within a bar."""
    way = _way(view, course)
    if way is None:
        return "", ()
    turning = way_of_turns(way.words)
    where = f"half the hall, section {way.section}, easier on {_counts(way)}"
    return f"{where}, {turning}" if turning else where, step_wordings(way.words)


def easier_line(view: View, course: Course | None) -> str:
    """ "Half the hall, section 4, easier on 1 to 2: rock left forward, recover."; "" where none comes within a bar."""
    way = _way(view, course)
    return f"Half the hall, section {way.section}, easier on {_counts(way)}: {way.words}." if way else ""


def _counts(way: EasierWay) -> str:
    return str(way.first) if way.first == way.last else f"{way.first} to {way.last}"


def _way(view: View, course: Course | None) -> EasierWay | None:
    if not view.both or course is None or view.glance is None:
        return None
    return course.easier(view.glance, view.until)
