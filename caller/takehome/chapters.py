"""Chapters of a recording: a section of a wall each, so that a listener can go to any of them.

Conventions: times in whole milliseconds from the recording's start, the nearest to the frame; each chapter ends where
the next one starts, the last with the recording.
"""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass
from itertools import pairwise

from caller.calls.take import Take
from caller.dance.walls import Stretch, Wall

# A table of contents in ID3v2 counts its entries in one byte (ID3v2 Chapter Frame Addendum 1.0).
MOST_CHAPTERS = 255


@dataclass(frozen=True, slots=True)
class Chapter:
    title: str
    starts_ms: int
    ends_ms: int


def chapters_of(take: Take) -> tuple[Chapter, ...]:
    """The count-in, then every section, tag and ending of every wall; walls alone where that would be too many."""
    opened = [("Count-in", 0)] if take.count_in else []
    parts = list(_parts(take))
    if len(parts) + len(opened) > MOST_CHAPTERS:
        parts = [(wall_title(wall), frame) for wall, _, frame in _stretches(take) if frame == _first(take, wall)]
    return _closed([*opened, *parts], take)


def milliseconds(frame: int, rate: int) -> int:
    """The nearest, halves upward."""
    return (2_000 * frame + rate) // (2 * rate)


def wall_title(wall: Wall) -> str:
    """ "Wall 2, 3:00", "Wall 5 (part B), 9:00"."""
    part = f" (part {wall.part})" if wall.part else ""
    return f"Wall {wall.number}{part}, {wall.starts.clock}"


def stretch_title(stretch: Stretch) -> str:
    """ "1 Walks and shuffle", "section 2", "tag"."""
    if not stretch.section:
        return stretch.name
    return f"{stretch.section} {stretch.name}" if stretch.name else f"section {stretch.section}"


def _parts(take: Take) -> Iterator[tuple[str, int]]:
    for wall, stretch, frame in _stretches(take):
        name = wall_title(wall) if frame == _first(take, wall) else f"Wall {wall.number}"
        yield f"{name}: {stretch_title(stretch)}", frame


def _stretches(take: Take) -> Iterator[tuple[Wall, Stretch, int]]:
    """Each stretch of which something is danced, with the frame on which it is heard to begin."""
    for wall in take.dance.walls:
        for stretch in wall.stretches:
            if stretch.counts and stretch.at < take.end and stretch.at + stretch.counts > take.start:
                yield wall, stretch, take.timeline.frame_of(max(stretch.at, take.start))


def _first(take: Take, wall: Wall) -> int:
    return take.timeline.frame_of(max(wall.at, take.start))


def _closed(opened: list[tuple[str, int]], take: Take) -> tuple[Chapter, ...]:
    rate = take.timeline.rate
    edges = [milliseconds(frame, rate) for _, frame in opened] + [milliseconds(take.score.frames, rate)]
    return tuple(
        Chapter(title, starts, ends) for (title, _), (starts, ends) in zip(opened, pairwise(edges), strict=True)
    )
